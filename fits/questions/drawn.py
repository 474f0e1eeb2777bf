"""What there is to draw of a feature: values against temperature, hoop stress through walls, sections.

Asked only for a sheet or a picture, after ``check``; any feature is drawn from what its
kind declares (``charted``, ``walls``, ``figures``).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from fits.arrays import Array
from fits.features.feature import Feature, Figure, Rule, State, States
from fits.features.part import Part
from fits.questions.answer import REFUSED, Answer, FeatureAnswer, Range
from fits.questions.check import shop_ranges
from fits.questions.evaluate import Evaluation, evaluate
from fits.questions.judging import margins
from fits.questions.ranges import ranges_of, span_of, spread_out

POINTS = 25
# A chart reaches this far beyond the part's states, in share of their range and at least in K.
BEYOND, LEAST = 0.1, 15.0
WALL_POINTS = 9


class Bound(NamedTuple):
    """The limit of a rule along a curve, its strictest over all corners; NaN where unknown."""

    rule: str
    sense: str
    limits: tuple[float, ...]


class Curve(NamedTuple):
    """A value's range against the temperature of both parts, with the limits it is held against.

    ``pressure`` and ``speed`` are the highest of the working states; all is computed for
    anything from 0 to them. ``gaps`` says what the curve leaves out, ``same`` names values of
    the same number that rules speak of.
    """

    name: str
    label: str
    kind: str
    digits: int
    temperatures: tuple[float, ...]
    ranges: tuple[Range | None, ...]
    bounds: tuple[Bound, ...]
    pressure: float
    speed: float
    gaps: tuple[str, ...] = ()
    same: tuple[str, ...] = ()


class WallStress(NamedTuple):
    """Hoop stress through one wall: radii in mm, stress in MPa."""

    label: str
    radii: tuple[float, ...]
    hoop: tuple[float, ...]


class Walls(NamedTuple):
    """Hoop stress through all walls of a feature, at rest, at one corner in one state."""

    state: str
    parts: tuple[WallStress, ...]


class Drawn(NamedTuple):
    """What there is to draw of one feature."""

    curves: tuple[Curve, ...] = ()
    walls: Walls | None = None
    figures: tuple[Figure, ...] = ()


def with_drawings(part: Part, answer: Answer) -> Answer:
    """An answer of ``check`` with what there is to draw of each feature; a refused one has nothing."""
    return answer._replace(
        features=tuple(
            feature if feature.verdict == REFUSED else feature._replace(drawn=_drawn(part, feature))
            for feature in answer.features
        )
    )


def _drawn(part: Part, of: FeatureAnswer) -> Drawn:
    feature = part.features[of.name]
    states = part.columns(of.name)
    asked = [rule for rule in type(feature).rules if rule.asked(feature, states)]
    curves = [_curve(part, of.name, value, asked) for value in type(feature).charted]
    figures: tuple[Figure, ...] = ()
    # Ranges of all values cost a search; they are taken only where a kind draws from them.
    if type(feature).figures is not Feature.figures:
        figures = feature.figures(shop_ranges(ranges_of(part, of.name, evaluate(part, of.name))), states)
    return Drawn(tuple(one for one in curves if one is not None), _walls(part, of.name), figures)


def _curve(part: Part, name: str, value_name: str, asked: Sequence[Rule]) -> Curve | None:
    """One value against temperature, or None where no point of it is known."""
    feature = part.features[name]
    value = next(one for one in type(feature).values if one.name == value_name)
    same = type(feature).charted[value_name]
    temperatures = _temperatures(part.states_of(name))
    working = [one for one in part.states_of(name) if not one.proof] or list(part.states_of(name))
    pressure, speed = max(one.pressure for one in working), max(one.speed for one in working)
    at = States.of([State(f"{t:g}", t, t, pressure, speed) for t in temperatures])
    # A proof's pressure isn't drawn: what is asked of it alone has no curve.
    rules = [one for one in asked if one.value in (value_name, *same) and one.asked(feature, at)]
    wanted = [value_name, *(rule.value for rule in rules)]
    names = {one.name for one in type(feature).values}
    wanted += [rule.limit for rule in rules if isinstance(rule.limit, str) and rule.limit in names]
    evaluation = evaluate(part, name, values=wanted, states=dict.fromkeys(part.features, at))
    flat = spread_out(evaluation.numbers[value_name], at).reshape(-1, len(at.names))
    ranges = tuple(
        span_of(
            value, evaluation, flat[:, column], float(flat[:, column].min()), float(flat[:, column].max())
        )
        for column in range(len(temperatures))
    )
    if not any(one is not None and None not in one for one in ranges):
        return None
    found = (_bound(feature, rule, evaluation) for rule in rules)
    bounds = tuple(one for one in found if one is not None)
    gaps = tuple(dict.fromkeys(gap.reason for gap in evaluation.blocking(value_name)))
    told = (value.label, value.kind, value.digits)
    return Curve(value_name, *told, temperatures, ranges, bounds, pressure, speed, gaps, same)


def _temperatures(states: Sequence[State]) -> tuple[float, ...]:
    """Evenly spaced, a little beyond the coldest and the hottest state."""
    every = [t for one in states for t in (one.hub_temperature, one.shaft_temperature)]
    beyond = max(BEYOND * (max(every) - min(every)), LEAST)
    low = max(min(every) - beyond, -273.0)
    return tuple(float(t) for t in np.linspace(low, max(every) + beyond, POINTS))


def _bound(feature: Feature, rule: Rule, evaluation: Evaluation) -> Bound | None:
    """A rule's limits along a curve, None where it speaks of none of these states."""
    of = margins(feature, rule, evaluation)
    if not of.columns[:-1].any():
        return None
    limit = np.broadcast_to(of.limit, of.margin.shape).reshape(-1, of.margin.shape[-1])[:, :-1]
    strictest = limit.max(axis=0) if rule.sense == "at least" else limit.min(axis=0)
    strictest = np.where(of.columns[:-1], strictest, np.nan)
    return Bound(rule.name, rule.sense, tuple(float(one) for one in strictest))


def _walls(part: Part, name: str) -> Walls | None:
    """The walls at the corner and state of the greatest tension at a face, among the states at rest."""
    walls = type(part.features[name]).walls
    if not walls:
        return None
    evaluation = evaluate(
        part, name, values=[one for wall in walls for one in (wall.at_inside, wall.at_outside)]
    )
    states = evaluation.states
    faces = [
        spread_out(evaluation.numbers[one], states)
        for wall in walls
        for one in (wall.at_inside, wall.at_outside)
        if one in evaluation.numbers
    ]
    shape = np.broadcast_shapes(*(one.shape for one in faces))
    greatest = np.maximum.reduce([np.broadcast_to(one, shape) for one in faces]).reshape(-1, shape[-1])
    known = np.isfinite(greatest) & (states.speed == 0.0)
    at = np.unravel_index(int(np.argmax(np.where(known, greatest, -np.inf))), greatest.shape)
    parts = []
    for wall in walls:

        def taken(one: str) -> float:
            array = evaluation.put_in.get(one, evaluation.numbers.get(one, np.zeros((1, 1))))
            flat = np.broadcast_to(spread_out(array, states) if array.shape[-1] > 1 else array, shape)
            return float(flat.reshape(-1, shape[-1])[at])

        inside, outside = taken(wall.inside) / 2.0, taken(wall.outside) / 2.0
        radii = np.linspace(inside, outside, WALL_POINTS)
        hoop = _lame(radii, taken(wall.at_inside), taken(wall.at_outside))
        parts.append(WallStress(wall.label, tuple(map(float, radii)), tuple(map(float, hoop))))
    state = states.names[at[1]]
    return Walls(state, tuple(parts)) if all(np.isfinite(one.hoop).all() for one in parts) else None


def _lame(radii: Array, inner: float, outer: float) -> Array:
    """Hoop stress A + B/r^2 through a wall from its values at both faces; even in a solid part.

    Lamé; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eq. 3-49.

    >>> _lame(np.array([1.0, 2.0]), 10.0, 4.0)
    array([10.,  4.])
    """
    a, b = float(radii[0]), float(radii[-1])
    if a <= 0.0:
        return np.full_like(radii, outer)
    factor = (inner - outer) / (1.0 / (a * a) - 1.0 / (b * b))
    return np.asarray(outer + factor * (1.0 / (radii * radii) - 1.0 / (b * b)))
