"""What goes with a part as it was read: sizes of the other member at which every rule holds."""

from __future__ import annotations

from collections.abc import Collection, Iterator

import numpy as np

from fits.arrays import Array
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions.boxes import Boxes
from fits.questions.evaluate import evaluate
from fits.questions.judgement import Mate
from fits.questions.judging import held
from fits.questions.measured import cut_as
from fits.questions.sweep import intervals
from fits.questions.targets import points_of, target_of

EDGE = 1e-4


def members(part: Part, name: str) -> tuple[str, str] | None:
    """Hole and shaft of a feature as the dimensions they are cut as, or None where it is no pair."""
    feature = part.features[name]
    if type(feature).pair is None:
        return None
    found = []
    for field in type(feature).pair or ():
        value = getattr(feature, field)
        found.append(cut_as(part, value) if isinstance(value, SurfaceRef) else f"{name}.{field}")
    return found[0], found[1]


def mating(
    part: Part, labels: Collection[str], off: Collection[str], failing: Collection[str]
) -> Iterator[Mate]:
    """Sizes of other members that would hold with what was read.

    Args:
        part: the part with the sizes as they were read.
        labels: what was read.
        off: what of it is outside its drawing.
        failing: features of which a rule fails.
    """
    found = []
    for name in part.features:
        pair = members(part, name)
        for own, other in (pair, pair[::-1]) if pair else ():
            if own in labels and other not in labels and (own in off or name in failing):
                found.append(other)
    for other in dict.fromkeys(found):
        yield Mate(other, tuple(wanted(part, other, labels)))


def _holds(part: Part, name: str) -> bool:
    """Whether every rule of a feature holds at every corner."""
    feature = part.features[name]
    evaluation = evaluate(part, name)
    asked = [rule for rule in type(feature).rules if rule.asked(feature, evaluation.states)]
    return all(bool(held(feature, rule, evaluation).all()) for rule in asked)


def wanted(part: Part, label: str, read: Collection[str]) -> list[tuple[float, float]]:
    """The true sizes of a dimension for which every rule holds at every corner, mm.

    Args:
        part: the part with the sizes as they were read.
        label: the dimension that is sought.
        read: what was read; features that only these touch must hold as well.

    Searched with the corners that set a worst; an end that breaks at another corner takes
    that corner in, and the search is made again.
    """
    target = target_of(part, label)
    boxes = Boxes(part, [target.key])
    keys = [target_of(part, one).key for one in read]
    if not all(_holds(part, name) for name in Boxes(part, keys).features if name not in boxes.features):
        return []

    def sizes(points: Array) -> dict[str, Array]:
        return {target.key: points}

    points = points_of(target)
    active = boxes.setting(*([sizes(points[:: max(len(points) // 16, 1)])] * 2))
    while True:

        def margin(at: Array) -> Array:
            return np.where(boxes.holds(sizes(at), sizes(at), only=active), 0.0, -1.0)

        found = [(one.low, one.high) for one in intervals(margin, points, tolerance=EDGE)]
        ends = np.array(sorted({end for span in found for end in span}))
        holds = dict(zip(ends.tolist(), boxes.holds(sizes(ends), sizes(ends)), strict=True))
        before = {name: set(corners) for name, corners in active.items()}
        for name, corners in boxes.setting(sizes(ends), sizes(ends)).items() if len(ends) else ():
            active[name] |= corners
        if all(holds.values()) or active == before:
            return [span for span in found if holds[span[0]] and holds[span[1]]]
