"""The range of a value in every state: corners, and what lies between them."""

from __future__ import annotations

import numpy as np

from fits.arrays import Array
from fits.features.feature import AS_MADE, ASSEMBLY, States, Value
from fits.features.part import Part
from fits.questions.answer import Range
from fits.questions.evaluate import Evaluation, evaluate, key_of, relevant

INSIDE_POINTS = 65


def column_name(value: Value, names: tuple[str, ...], column: int) -> str:
    """The name under which a value's column is reported."""
    if column < len(names) - 1:
        return names[column]
    return ASSEMBLY if ASSEMBLY in value.when else AS_MADE


def spread_out(array: Array, states: States) -> Array:
    """A number with all its columns; one column stands in the last place."""
    columns = len(states.names)
    if array.ndim == 0:
        array = array[None]
    if array.shape[-1] == columns:
        return array
    wide = np.full((*array.shape[:-1], columns), np.nan)
    wide[..., -1:] = array
    return wide


def ranges_of(part: Part, name: str, value: Value, evaluation: Evaluation) -> dict[str, Range]:
    """Least and greatest of a value in each of its columns.

    Ends that may lie inside a dimension's limits are searched along it. A column that
    isn't covered is left out, or keeps the end that is.
    """
    array = evaluation.numbers.get(value.name)
    if array is None:
        return {}
    wide = spread_out(array, evaluation.states)
    flat = wide.reshape(-1, wide.shape[-1])
    least, greatest = flat.min(axis=0), flat.max(axis=0)
    for dimension in value.inside:
        least, greatest = _inside(part, name, value, dimension, evaluation, least, greatest)
    found = {}
    for column in np.flatnonzero(evaluation.states.columns(value.when)):
        ends = _ends(value, evaluation, flat[:, column], float(least[column]), float(greatest[column]))
        if ends is not None:
            found[column_name(value, evaluation.states.names, int(column))] = ends
    return found


def _ends(
    value: Value, evaluation: Evaluation, corners: Array, least: float, greatest: float
) -> Range | None:
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
    value: Value,
    dimension: str,
    evaluation: Evaluation,
    least: Array,
    greatest: Array,
) -> tuple[Array, Array]:
    """Both ends with the extremes between the levels of one dimension added."""
    key = next(
        (
            k
            for k, d in relevant(part, name).items()
            if k in evaluation.corners and k == key_of(name, d) and d.name == dimension
        ),
        None,
    )
    if key is None:
        return least, greatest
    levels = np.unique(evaluation.corners[key])
    step = (levels[-1] - levels[0]) / (INSIDE_POINTS - 1)
    coarse = np.linspace(levels[0], levels[-1], INSIDE_POINTS).reshape(-1, 1, 1)
    array = _swept(part, name, value, key, coarse)
    corners = array.shape[1]
    flat = array.reshape(-1, array.shape[-1])
    for at, better, best in (
        (flat.argmin(axis=0), np.minimum, least),
        (flat.argmax(axis=0), np.maximum, greatest),
    ):
        centre = coarse.reshape(-1)[at // corners]
        near = np.linspace(centre - step, centre + step, INSIDE_POINTS)[:, None, :]
        fine = _swept(part, name, value, key, np.clip(near, levels[0], levels[-1]))
        better(best, better.reduce(fine.reshape(-1, fine.shape[-1]), axis=0), out=best)
    return least, greatest


def _swept(part: Part, name: str, value: Value, key: str, points: Array) -> Array:
    swept = evaluate(part, name, values=[value.name], given={key: points})
    return spread_out(swept.numbers[value.name], swept.states)
