"""The range of a value in every state: corners, and what lies between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from fits.arrays import Array, Mask, distinct
from fits.features.feature import States, Value
from fits.features.part import Part
from fits.features.when import AS_MADE, ASSEMBLY
from fits.questions.answer import Range
from fits.questions.evaluate import Evaluation, evaluate, key_of, relevant

INSIDE_POINTS = 17
# With more corners than this, those whose values are nearest the ends are searched between.
MOST_CORNERS, NEAREST = 32768, 64


def column_name(value: Value, names: tuple[str, ...], column: int) -> str:
    """The name under which a value's column is reported."""
    if column < len(names) - 1:
        return names[column]
    return ASSEMBLY if ASSEMBLY in value.when else AS_MADE


def spread_out(array: Array, states: States) -> Array:
    """A number with all its columns; one column stands in the last place."""
    columns = len(states.names)
    if array.shape[-1] == columns:
        return array
    wide = np.full((*array.shape[:-1], columns), np.nan)
    wide[..., -1:] = array
    return wide


def ranges_of(
    part: Part, name: str, evaluation: Evaluation, fixed: Mapping[str, Array] | None = None
) -> dict[str, dict[str, Range]]:
    """Least and greatest of every value of a feature in each of its columns.

    Ends that may lie between the levels of a dimension are searched along it. A column
    that isn't covered is left out, or keeps the end that is. ``fixed`` are the dimensions
    that the evaluation holds at one level.
    """
    values = [one for one in type(evaluation.feature).values if one.name in evaluation.numbers]
    corners = {one.name: _flat(evaluation.numbers[one.name], evaluation.states) for one in values}
    ends = {one: (flat.min(axis=0), flat.max(axis=0)) for one, flat in corners.items()}
    for dimension in dict.fromkeys(inside for one in values for inside in one.inside):
        along = [one.name for one in values if dimension in one.inside]
        _inside(part, name, along, dimension, evaluation, ends, fixed or {})
    found: dict[str, dict[str, Range]] = {}
    for value in values:
        least, greatest = ends[value.name]
        spans = found.setdefault(value.name, {})
        for column in np.flatnonzero(evaluation.states.columns(value.when)):
            flat = corners[value.name][:, column]
            span = span_of(value, evaluation, flat, float(least[column]), float(greatest[column]))
            if span is not None:
                spans[column_name(value, evaluation.states.names, int(column))] = span
    return found


def told_apart(
    part: Part, name: str, evaluation: Evaluation
) -> Iterator[tuple[Value, str, dict[str, Range]]]:
    """The ranges of values that are told apart: the value, at which level in words, its ranges.

    A dimension of one level tells nothing apart.
    """
    kind = type(part.features[name])
    for by in dict.fromkeys(value.by for value in kind.values if value.by):
        values = [value for value in kind.values if value.by == by and value.name in evaluation.numbers]
        for key, dimension in relevant(part, name, [value.name for value in values]).items():
            if dimension.name != by or len(dimension.levels) < 2:
                continue
            for level in dimension.levels:
                held = _held(evaluation, values, evaluation.corners[key][:, 0] == level)
                found = ranges_of(part, name, held, {key: np.array([[level]])})
                for value in values:
                    yield value, f"{dimension.label} {dimension.said(level)}", found[value.name]


def _held(evaluation: Evaluation, values: list[Value], rows: Mask) -> Evaluation:
    """Some values of an evaluation at some of its corners."""

    def at(array: Any) -> Any:
        return array[..., rows, :] if array.ndim > 1 and array.shape[-2] == len(rows) else array

    return evaluation._replace(
        numbers={value.name: at(evaluation.numbers[value.name]) for value in values},
        gaps=tuple(replace(gap, mask=at(gap.mask)) for gap in evaluation.gaps),
        corners={key: one[rows] for key, one in evaluation.corners.items()},
    )


def _flat(array: Array, states: States) -> Array:
    wide = spread_out(array, states)
    return wide.reshape(-1, wide.shape[-1])


def span_of(
    value: Value, evaluation: Evaluation, corners: Array, least: float, greatest: float
) -> Range | None:
    """A value's range in one column, without the end that isn't covered; None where neither is."""
    finite = corners[np.isfinite(corners)]
    if finite.size == corners.size:
        return Range(least, greatest)
    beyond = {gap.beyond for gap in evaluation.blocking(value.name)}
    if finite.size == 0 or not beyond & {"least", "greatest"}:
        return None
    if "greatest" in beyond:
        return Range(float(finite.min()), None)
    return Range(None, float(finite.max()))


def _inside(
    part: Part,
    name: str,
    values: list[str],
    dimension: str,
    evaluation: Evaluation,
    ends: dict[str, tuple[Array, Array]],
    fixed: Mapping[str, Array],
) -> None:
    """Put the extremes of some values between the levels of one dimension into ``ends``."""
    key = next(
        (
            key
            for key, one in relevant(part, name).items()
            if one.name == dimension and key in evaluation.corners and key == key_of(name, one)
        ),
        None,
    )
    if key is None:
        return
    levels = distinct(evaluation.corners[key])
    low, high = levels[0], levels[-1]
    step = (high - low) / (INSIDE_POINTS - 1)
    points = np.linspace(low, high, INSIDE_POINTS)
    corners = _near_the_ends(values, evaluation)
    given = {**fixed, key: points.reshape(-1, 1, 1)}
    coarse = evaluate(part, name, values=values, given=given, corners=corners)
    for value in values:
        array = spread_out(coarse.numbers[value], coarse.states)
        flat = array.reshape(-1, array.shape[-1])
        for at, better, best in (
            (flat.argmin(axis=0), np.minimum, ends[value][0]),
            (flat.argmax(axis=0), np.maximum, ends[value][1]),
        ):
            if np.array_equal(better(best, better.reduce(flat, axis=0)), best, equal_nan=True):
                continue
            centre = points[at // array.shape[1]]
            near = np.clip(np.linspace(centre - step, centre + step, INSIDE_POINTS), low, high)
            given = {**fixed, key: near[:, None, :]}
            fine = evaluate(part, name, values=[value], given=given, corners=corners)
            better(best, better.reduce(_flat(fine.numbers[value], fine.states), axis=0), out=best)


def _near_the_ends(values: list[str], evaluation: Evaluation) -> dict[str, Array] | None:
    """The corners between which extremes are searched; None for all of them."""
    count = max(len(one) for one in evaluation.corners.values())
    if count <= MOST_CORNERS:
        return None
    keep = np.zeros(count, dtype=bool)
    for value in values:
        flat = _flat(evaluation.numbers[value], evaluation.states)
        if len(flat) == count:
            order = np.argpartition(flat, (NEAREST, -NEAREST), axis=0)
            keep[order[:NEAREST].reshape(-1)] = True
            keep[order[-NEAREST:].reshape(-1)] = True
    return {key: one[keep] for key, one in evaluation.corners.items()} if keep.any() else None
