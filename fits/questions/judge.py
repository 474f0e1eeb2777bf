"""Does this part hold? Measured sizes against the drawing, and against function.

Two verdicts, kept apart. The drawing's is the guard-band rule of ISO 14253-1, size by
size. Function's is every rule in every state with the measured size and its uncertainty,
all other dimensions at their limits: the same evaluation that checks a part on paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fits.features.part import Part
from fits.questions.answer import REFUSED
from fits.questions.check import undecided
from fits.questions.judged_group import Group
from fits.questions.judgement import ACCEPT, Judged, PartJudgement
from fits.questions.measured import cautions_of, measured, sources_of, unseen
from fits.sizes.reading import Reading
from fits.tables import Source

GUARD_BAND = Source(
    "ISO 14253-1, guard band of one expanded uncertainty (k = 2) at each limit; the 2017 edition allows less",
    "memory",
)

WARM = Source("ISO 1, sizes hold at 20 degC; thermal expansion of part and gauge", "memory")
# Parts of which rules, mates and break-even values are worked out one by one.
EXPLAINED = 20


def judge(part: Part, readings: Iterable[Reading]) -> Judged:
    """Judge measured parts against the drawing and against function.

    Args:
        part: the part file that they were cut to.
        readings: their readings, in any order.

    Raises:
        InputError: a reading that doesn't belong to the part, or an open field.

    >>> from fits import Part, Running
    >>> from fits.sizes.reading import Reading
    >>> part = Part("pump", {"plunger": Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01")})
    >>> read = Reading("body 1", "plunger.hole", 12.009, 0.001, "micrometer", 20.0)
    >>> judge(part, [read]).parts[0].verdict
    'accept'
    """
    undecided(part)
    readings = tuple(readings)
    parts = measured(part, readings)
    groups: dict[tuple[str, ...], list[str]] = {}
    for name, sizes in parts.items():
        groups.setdefault(tuple(sizes), []).append(name)
    found: dict[str, PartJudgement] = {}
    touched: set[str] = set()
    for labels, names in groups.items():
        group = Group(part, [[parts[name][label] for label in labels] for name in names])
        touched |= set(group.boxes.features)
        for name, one in zip(names, group.judged(names), strict=True):
            found[name] = one
    ordered = [found[name] for name in parts]
    explained = _explained(part, ordered)
    features = [name for name in part.features if name in touched]
    warm = any(size.correction for one in parts.values() for size in one.values())
    return Judged(
        explained,
        tuple(_notes(part, readings, ordered, touched)),
        cautions_of(part, features),
        (GUARD_BAND, *((WARM,) if warm else ()), *sources_of(part, features)),
    )


def _explained(part: Part, judged: list[PartJudgement]) -> tuple[PartJudgement, ...]:
    from fits.questions.explain import explain

    left = EXPLAINED
    found = []
    for one in judged:
        if one.verdict not in (ACCEPT, REFUSED) and left:
            left -= 1
            one = explain(part, one)
        found.append(one)
    return tuple(found)


def _notes(
    part: Part, readings: Sequence[Reading], judged: list[PartJudgement], touched: set[str]
) -> Iterable[str]:
    yield "guard band: the uncertainty (k = 2) at each limit, ISO 14253-1; it covers no form error"
    yield "sizes are free sizes, read before assembly; those not read stand at the drawing's limits"
    for name in part.features:
        if name not in touched:
            yield f"{name}: nothing of it was read, so it is not judged here; fits check judges its drawing"
    yield from unseen(readings)
    if any(size.size.readings == 1 for one in judged for size in one.sizes):
        yield "one reading of a size shows that place only, neither taper nor ovality"
    if any(size.size.correction for one in judged for size in one.sizes):
        yield "warm readings are corrected to 20 degC; their uncertainty must cover the thermometer"
    left = sum(one.verdict not in (ACCEPT, REFUSED) for one in judged) - EXPLAINED
    if left > 0:
        yield f"rules and mating sizes are worked out for the first {EXPLAINED}; {left} more have none"
