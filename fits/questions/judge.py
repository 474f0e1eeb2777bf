"""Does this part hold? Measured sizes against the drawing, and against function.

Two verdicts, kept apart. The drawing's is the guard-band rule of ISO 14253-1, size by
size. Function's is every rule in every state with the measured size and its uncertainty,
all other dimensions at their limits: the same evaluation that checks a part on paper.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from fits.errors import Fault, InputError
from fits.features.feature import Feature
from fits.features.part import Part
from fits.questions.answer import REFUSED
from fits.questions.check import rests_on, undecided
from fits.questions.judged_group import Group
from fits.questions.judgement import ACCEPT, Judged, PartJudgement
from fits.questions.measured import Parts, as_read, cautions_of, measured, sources_of, unseen
from fits.questions.telling import tell
from fits.sizes.reading import Reading
from fits.tables import Source

GUARD_BAND = Source(
    "ISO 14253-1, guard band of one expanded uncertainty (k = 2) at each limit; the 2017 edition allows less",
    "memory",
)

WARM = Source("ISO 1, sizes hold at 20 degC; thermal expansion of part and gauge", "memory")
# Parts of which rules, mates and break-even values are worked out one by one.
EXPLAINED = 20


# Parts judged at once: what stands between two looks at the clock.
BATCH = 500
# Parts of a table in blocks that are kept to be shown.
KEPT = 200
NAMED = 12


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
    judging = Judging(part)
    found = judging.judged(readings)
    return judging.whole()._replace(parts=found)


class Judging:
    """A table of measured parts that comes in blocks, and what holds for all of it so far.

    Args:
        part: the part file that they were cut to.
        skip: leave out parts with a reading that can't be, and tell of them.
    """

    def __init__(self, part: Part, *, skip: bool = False) -> None:
        undecided(part)
        self.part, self.skip = part, skip
        self._done: float | None = 0.0
        self._counts: dict[str, int] = {}
        self._kept: tuple[list[PartJudgement], list[PartJudgement]] = ([], [])
        self._touched: dict[str, Feature] = {}
        self._instruments: dict[str, None] = {}
        self._left_out: list[str] = []
        self._bad: dict[str, list[Fault]] = {}
        self._out = self._explained = 0
        self._single = self._warm = False

    def judged(self, readings: Iterable[Reading], done: float | None = 1.0) -> tuple[PartJudgement, ...]:
        """The judgement of each part of a block, of which no reading comes later.

        Args:
            readings: all readings of some parts.
            done: the share of the table that is read with them.

        Raises:
            InputError: a reading that doesn't belong to the part.
        """
        readings = tuple(readings)
        self._bad = {}
        parts = measured(self.part, readings, self._bad if self.skip else None)
        self.leave_out(self._bad)
        self._instruments |= dict.fromkeys(one.instrument for one in readings)
        names = list(parts)
        found: list[PartJudgement] = []
        for start in range(0, len(names), BATCH):
            batch = names[start : start + BATCH]
            found += self._batch({name: parts[name] for name in batch})
            self._tell(done, (start + len(batch)) / len(names))
        self._done = done
        return tuple(found)

    def _tell(self, done: float | None, share: float) -> None:
        if done is None or self._done is None:
            tell()
        else:
            tell(self._done + share * (done - self._done))

    def left_out(self) -> Iterable[tuple[str, list[Fault]]]:
        """Parts of the last block that were left out for a reading that can't be, with what is wrong."""
        return self._bad.items()

    def leave_out(self, bad: Iterable[str]) -> None:
        """Parts that are left out because a row of them is bad."""
        bad = tuple(bad)
        self._out += len(bad)
        self._left_out += bad[: NAMED - len(self._left_out)]

    def _batch(self, parts: Parts) -> list[PartJudgement]:
        groups: dict[tuple[str, ...], list[str]] = {}
        for name, sizes in parts.items():
            groups.setdefault(tuple(sizes), []).append(name)
        found: dict[str, PartJudgement] = {}
        for labels, names in groups.items():
            part = as_read(self.part, labels)
            group = Group(part, [[parts[name][label] for label in labels] for name in names])
            self._touched |= {name: part.features[name] for name in group.boxes.features}
            for name, one in zip(names, group.judged(names), strict=True):
                found[name] = one
        return [self._one(found[name]) for name in parts]

    def _one(self, one: PartJudgement) -> PartJudgement:
        """A part counted, and kept where it is to be shown; the first that don't pass are explained."""
        if one.verdict not in (ACCEPT, REFUSED):
            self._explained += 1
            if self._explained <= EXPLAINED:
                from fits.questions.explain import explain

                one = explain(self.part, one)
        self._counts[one.verdict] = self._counts.get(one.verdict, 0) + 1
        every, rest = self._kept
        if len(every) < KEPT:
            every.append(one)
        if one.verdict != ACCEPT and len(rest) < KEPT:
            rest.append(one)
        self._single |= any(size.size.readings == 1 for size in one.sizes)
        self._warm |= any(size.size.correction for size in one.sizes)
        return one

    def whole(self) -> Judged:
        """What holds for all blocks, with some of the parts: all of a short table, else the first
        that aren't accepted.

        Raises:
            InputError: no part is left.
        """
        total = sum(self._counts.values())
        if not total:
            raise InputError(Fault("no part is left to judge: a row of each is bad"))
        whole = replace(self.part, features={**self.part.features, **self._touched})
        features = [name for name in whole.features if name in self._touched]
        return Judged(
            tuple(self._kept[total > KEPT]),
            self._counts,
            tuple(self._notes()),
            cautions_of(whole, features),
            (GUARD_BAND, *((WARM,) if self._warm else ()), *sources_of(whole, features)),
            self._out,
            rests_on(whole, features),
        )

    def _notes(self) -> Iterable[str]:
        yield "guard band: the uncertainty (k = 2) at each limit, ISO 14253-1; it covers no form error"
        yield "sizes are free sizes, read before assembly; those not read stand at the drawing's limits"
        for name in self.part.features:
            if name not in self._touched:
                said = "nothing of it was read, so it is not judged here; fits check judges its drawing"
                yield f"{name}: {said}"
            elif type(self._touched[name]) is not type(self.part.features[name]):
                yield f"{name}: judged as it was cut; its tools, stock and gauges are for fits check"
        yield from unseen(self._instruments)
        if self._single:
            yield "one reading of a size shows that place only, neither taper nor ovality"
        if self._warm:
            yield "warm readings are corrected to 20 degC; their uncertainty must cover the thermometer"
        if self._out:
            more = f" and {self._out - len(self._left_out):,} more" if self._out > len(self._left_out) else ""
            yield f"left out and not judged, a row of them is bad: {', '.join(self._left_out)}{more}"
        left = self._explained - EXPLAINED
        if left > 0:
            yield f"rules and mating sizes are worked out for the first {EXPLAINED}; {left} more have none"
