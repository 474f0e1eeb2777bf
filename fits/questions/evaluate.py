"""One evaluation: every corner of the dimensions, every state, for any feature.

Dimensions get shape (*lead, corners, 1), states the last axis. A feature that stands on
another's surface is evaluated with it on the union of their dimensions, so that what
both depend on has one value in one corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask
from fits.features.feature import (
    Dimension,
    Feature,
    NotCovered,
    Outcome,
    States,
    depends_on,
)
from fits.features.part import Part
from fits.questions.telling import tell

# Numbers an array may have along its lead before it falls out of the cache.
BLOCK = 65_536


class Evaluation(NamedTuple):
    """Numbers of one feature, shape (*lead, corners, columns), and where they stand.

    ``corners`` holds each dimension's value at every corner by key, shape (corners, 1);
    ``put_in`` what the feature itself was given, by its own names.
    """

    feature: Feature
    states: States
    numbers: Mapping[str, Array]
    gaps: tuple[NotCovered, ...]
    corners: Mapping[str, Array]
    put_in: Mapping[str, Array]

    def blocking(self, name: str) -> list[NotCovered]:
        """The gaps that a value inherits from what it depends on."""
        needed = depends_on(type(self.feature), name)
        return [gap for gap in self.gaps if gap.about in needed]


def key_of(feature: str, dimension: Dimension) -> str:
    """The key under which a dimension is one and the same in the whole part."""
    return dimension.shared or f"{feature}.{dimension.name}"


def relevant(part: Part, name: str, values: Iterable[str] | None = None) -> dict[str, Dimension]:
    """The dimensions, by key, that some values of a feature depend on.

    ``values`` None means all of the feature's own.
    """
    feature = part.features[name]
    kind = type(feature)
    wanted = [value.name for value in kind.values] if values is None else list(values)
    needed = frozenset().union(*(depends_on(kind, value) for value in wanted))
    found = {
        key_of(name, dimension): dimension
        for dimension in part.dimensions(name)
        if dimension.name in needed or values is None
    }
    for field, ref in feature.standing_on().items():
        if field in needed or values is None:
            below = part.features[ref.feature]
            for key, dimension in relevant(part, ref.feature, [_surface_value(below, ref.surface)]).items():
                found[key] = _joined(found[key], dimension) if key in found else dimension
    return found


def _joined(one: Dimension, other: Dimension) -> Dimension:
    """One dimension of two features: the levels of both (one may be without pressure)."""
    return one._replace(levels=tuple(sorted({*one.levels, *other.levels})))


def _surface_value(feature: Feature, surface: str) -> str:
    return next(one.value for one in feature.surfaces if one.name == surface)


def corners_of(dimensions: Mapping[str, Dimension], fixed: Iterable[str] = ()) -> dict[str, Array]:
    """Every combination of the levels of the dimensions, each as shape (corners, 1).

    Dimensions with one level, and those in ``fixed``, make no corners.
    """
    free = {key: d for key, d in dimensions.items() if len(d.levels) > 1 and key not in fixed}
    grids = np.meshgrid(*(np.array(d.levels) for d in free.values()), indexing="ij")
    return {key: grid.reshape(-1, 1) for key, grid in zip(free, grids, strict=True)}


def count_of(corners: Mapping[str, Array]) -> int:
    """How many corners there are; without a dimension that varies, one.

    >>> count_of({}), count_of({"hole": np.array([[1.0], [2.0]])})
    (1, 2)
    """
    return max((len(one) for one in corners.values()), default=1)


def blocks(count: int, width: int) -> Iterator[slice]:
    """Slices of ``count`` points whose arrays of ``width`` numbers each stay in the cache.

    >>> [one.stop for one in blocks(100_000, 2)]
    [32768, 65536, 98304, 100000]
    """
    step = max(BLOCK // max(width, 1), 1)
    for start in range(0, count, step):
        yield slice(start, min(start + step, count))


def evaluate(
    part: Part,
    name: str,
    *,
    values: Iterable[str] | None = None,
    given: Mapping[str, Array] | None = None,
    corners: Mapping[str, Array] | None = None,
    states: Mapping[str, States] | None = None,
) -> Evaluation:
    """Evaluate one feature at every corner and state.

    Args:
        part: the part.
        name: the feature.
        values: the values asked for, whose dimensions make the corners; None for all.
        given: values of dimensions by key that replace their corners, shape
            (*lead, 1, 1) or any that broadcasts.
        corners: corners to use instead of all of them.
        states: columns by feature to use instead of the part's own.

    Returns:
        Numbers and gaps; a number that is NaN has a reason.

    Raises:
        RuntimeError: a number is NaN without a reason (a fault of the kind).
    """
    tell()
    given = given or {}
    if corners is None:
        corners = corners_of(relevant(part, name, values), given)
    wanted = None if values is None else frozenset(values)
    outcome, of_states, put_in = _compute(part, name, {**corners, **given}, states, wanted)
    evaluation = Evaluation(part.features[name], of_states, outcome.numbers, outcome.gaps, corners, put_in)
    _check_reasons(evaluation, values)
    return evaluation


def _compute(
    part: Part,
    name: str,
    arrays: Mapping[str, Array],
    states: Mapping[str, States] | None,
    wanted: frozenset[str] | None,
) -> tuple[Outcome, States, dict[str, Array]]:
    feature = part.features[name]
    swept = (states or {}).get(name)
    of_states = swept or part.columns(name)
    d = {
        dimension.name: arrays[key]
        if (key := key_of(name, dimension)) in arrays
        else np.array([[dimension.levels[0]]])
        for dimension in (feature.dimensions(swept) if swept else part.dimensions(name))
    }
    inherited: list[NotCovered] = []
    for field, ref in feature.standing_on().items():
        below = part.features[ref.feature]
        value = _surface_value(below, ref.surface)
        outcome, _, _ = _compute(part, ref.feature, arrays, states, frozenset((value,)))
        d[field] = outcome.numbers[value]
        needed = depends_on(type(below), value)
        inherited += [
            replace(gap, about=field, reason=f"{ref.feature}: {gap.reason}", sweep="")
            for gap in outcome.gaps
            if gap.about in needed
        ]
    outcome = feature.compute(d, of_states, wanted)
    return Outcome(outcome.numbers, (*outcome.gaps, *inherited)), of_states, d


def _check_reasons(evaluation: Evaluation, values: Iterable[str] | None) -> None:
    for value in type(evaluation.feature).values:
        array = evaluation.numbers.get(value.name)
        if array is None or (values is not None and value.name not in values):
            continue
        # A sum is NaN where a number is, and needs no array of its own.
        if not math.isnan(float(array.sum())):
            continue
        missing = np.isnan(array) & evaluation.states.columns(value.when)[-array.shape[-1] :]
        for gap in evaluation.blocking(value.name):
            if not missing.any():
                break
            missing = missing & ~_fitting(gap.mask, missing)
        if missing.any():
            raise RuntimeError(f"{value.name} of {evaluation.feature.kind} is NaN without a reason")


def _fitting(mask: Mask, like: Mask) -> Mask:
    """A gap's mask broadcast against a number of fewer columns (the last one)."""
    if mask.ndim and mask.shape[-1] not in (1, like.shape[-1]):
        mask = mask[..., -like.shape[-1] :]
    return np.broadcast_to(mask, np.broadcast_shapes(mask.shape, like.shape))
