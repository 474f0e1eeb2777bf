"""Corners stand for the whole box: no size between the limits gives a value outside the range told.

Of random parts of every kind, random points inside the box of their limits and on lines along one
dimension from a corner are evaluated. A value that leaves the reported range is no worst case, and
a rule whose margin is less inside than at the corners is a wrong pass.
"""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from features.test_declarations import FULL, STATES, of_kind
from hypothesis import given, settings
from hypothesis import strategies as st

from fits.arrays import Array
from fits.errors import InputError
from fits.features.feature import State, declared, required
from fits.features.fields import Context
from fits.features.part import Part
from fits.files import loader
from fits.files.part import read_part
from fits.questions.evaluate import Evaluation, corners_of, evaluate, relevant
from fits.questions.judging import margins
from fits.questions.ranges import column_name, ranges_of, spread_out
from fits.sizes.limits import Limits

ROOT = Path(__file__).parent.parent.parent
POINTS = 200
# What is searched between the corners is promised to this share of its range (DEVELOPERS.md).
SEARCHED = 0.01
# A limit that was typed as a range, no size of the part.
LIMITS = {"bore_after"}
WHEN = (
    STATES, (State("shop"),), (State("hot", 120.0, 60.0, 4.0, 300.0), State("cold", -30.0, -30.0)), (State("pressed", 20.0, 20.0, 30.0),),
    (State("fast", 40.0, 40.0, 0.0, 900.0),),
)
# Small rings turn: a larger rod makes them shallower and thins them by more.
SMALL: dict[str, dict[str, Any]] = {
    "gland rod": {"rod": "2.94 ±0.04", "housing_bore": "3.1 H8", "groove_diameter": "5.9 ±0.05", "groove_width": "2.6 +0.2/0", "corner_radius": "0.2 ±0.1"},
}


def points(part: Part, name: str, seed: int, at_corners: Evaluation) -> tuple[dict[str, Array], dict[str, Array]]:
    """Sizes inside the box by key, shape (points, 1, 1); choices and typed limits stay corners.

    A quarter lies anywhere; the rest on lines along one dimension from a corner at which some value is
    at its least or greatest.
    """
    drawn = np.random.default_rng(seed)
    dimensions = relevant(part, name)
    free = {key: one for key, one in dimensions.items() if len(one.levels) > 1 and not one.words and one.name not in LIMITS}
    found = {key: drawn.uniform(min(one.levels), max(one.levels), POINTS) for key, one in free.items()}
    if free:
        lines = 3 * POINTS // 4
        along = drawn.integers(len(free), size=lines)
        start = drawn.choice(extreme(at_corners), size=lines)
        for at, key in enumerate(free):
            found[key][:lines] = np.where(along == at, found[key][:lines], at_corners.corners[key][start, 0])
    inside = {key: one.reshape(-1, 1, 1) for key, one in found.items()}
    return inside, corners_of(dimensions, inside)


def extreme(at_corners: Evaluation) -> Array:
    """The corners at which some number is at its least or greatest in some column."""
    count = max((len(one) for one in at_corners.corners.values()), default=1)
    found = {0}
    for numbers in at_corners.numbers.values():
        flat = numbers.reshape(-1, numbers.shape[-1]) if numbers.ndim else numbers.reshape(1, 1)
        if len(flat) == count:
            found |= {*np.where(np.isfinite(flat), flat, np.inf).argmin(axis=0).tolist(), *np.where(np.isfinite(flat), flat, -np.inf).argmax(axis=0).tolist()}
    return np.array(sorted(found))


def leaving(part: Part, name: str, seed: int) -> list[tuple[str, str, float]]:
    """Values that leave their range, and rules with less margin inside than at the corners, and by how much."""
    feature = part.features[name]
    at_corners = evaluate(part, name)
    sizes, choices = points(part, name, seed, at_corners)
    inside = evaluate(part, name, given=sizes, corners=choices)
    return [*_values(part, name, at_corners, inside), *_rules(feature, at_corners, inside)]


def _values(part: Part, name: str, at_corners: Evaluation, inside: Evaluation) -> list[tuple[str, str, float]]:
    found = []
    ranges = ranges_of(part, name, at_corners)
    states = at_corners.states
    for value in type(part.features[name]).values:
        if value.name not in at_corners.numbers:
            continue
        corners, points_ = (spread_out(one.numbers[value.name], states) for one in (at_corners, inside))
        for column in np.flatnonzero(states.columns(value.when)):
            where = column_name(value, states.names, int(column))
            here = points_[..., column]
            here = here[np.isfinite(here)]
            if np.isfinite(corners[..., column]).all() and here.size < points_[..., column].size:
                found.append((value.name, where, np.inf))
            told = ranges[value.name].get(where)
            if told is None or not here.size:
                continue
            least = told.least if told.least is not None else float(here.min())
            greatest = told.greatest if told.greatest is not None else float(here.max())
            room = 1e-9 * float(np.abs(here).max()) + 1e-12 + (SEARCHED * (greatest - least) if value.inside else 0.0)
            out = max(least - float(here.min()), float(here.max()) - greatest)
            if out > room:
                found.append((value.name, where, out))
    return found


def _rules(feature: Any, at_corners: Evaluation, inside: Evaluation) -> list[tuple[str, str, float]]:
    found = []
    for rule in type(feature).rules:
        if not rule.asked(feature, at_corners.states):
            continue
        corners, within = (margins(feature, rule, one) for one in (at_corners, inside))
        for column in np.flatnonzero(corners.columns):
            worst, here = corners.margin[..., column], within.margin[..., column]
            if not np.isfinite(worst).all() or corners.blocked[..., column].any():
                continue  # not covered: no pass to be wrong
            scale = float(np.abs(corners.value[..., column]).max())
            out = float(worst.min()) - float(here.min()) if np.isfinite(here).all() else np.inf
            if out > 1e-9 * scale + 1e-12:
                found.append((rule.name, at_corners.states.names[column], out))
    return found


def random_part(name: str, draw: random.Random) -> Part | None:
    """A part of a kind: some fields left out, zones wider or narrower, some sizes others; None where it can't be."""
    kind = of_kind(name)
    keys = dict(FULL[name])
    if name in SMALL and draw.random() < 0.4:
        keys |= SMALL[name] | {"ring": {"inside": f"{draw.uniform(2.7, 3.0):.2f} ±{draw.choice((0.01, 0.1))}", "section": "1.78 ±0.01"}}
        for field in ("shaft_bore", "side_angle", "backup_rings", "backup_thickness"):
            keys.pop(field, None)
    rest = [field for field in keys if not required(kind, field) and not field.startswith(("groove", "gland", "mouth"))]
    for field in draw.sample(rest, draw.randrange(len(rest) + 1) if draw.random() < 0.6 else 0):
        keys.pop(field)
    try:
        feature = loader.feature(kind, keys, Context())
    except InputError:
        return None
    changed = {}
    for field in declared(kind):
        size = getattr(feature, field)
        if not isinstance(size, Limits) or size.lower <= 0.0 or size.bought:
            continue
        middle, half = size.middle, size.tolerance / 2.0 * draw.choice((0.3, 1.0, 1.0, 3.0))
        if kind.pair and field not in kind.pair and draw.random() < 0.5:
            middle, half = middle * draw.uniform(0.4, 1.6), half * 2.0
        changed[field] = replace(size, lower=middle - half, upper=middle + half)
    feature = feature.model_copy(update=changed)
    sizes = (getattr(feature, field) for field in changed)
    if any(size.lower <= 0.0 for size in sizes) or loader.relations(feature) or feature.faults():
        return None
    return Part("random", {"one": feature}, draw.choice(WHEN))


@pytest.mark.parametrize("name", FULL)
def test_no_size_inside_is_worse_than_what_is_told(name: str):
    seen: list[Part] = []
    # Four layers have ten thousand corners, and a press with everything given as many.
    many = {"compound": 4, "press in slices": 4, "press": 6, "gland rod": 8}.get(name, 12)

    @settings(max_examples=many)
    @given(st.integers(0, 10**6))
    def one(seed: int) -> None:
        part = None
        for more in range(20):
            if (part := random_part(name, random.Random(seed + more))) is not None:
                break
        if part is None:
            return
        seen.append(part)
        out = leaving(part, "one", seed)
        assert not out, (part.features["one"], part.states, out)

    one()
    assert len(seen) >= many // 2


@pytest.mark.parametrize(("file", "name"), [("hand_pump", "plunger"), ("hand_pump", "liner"), ("pump_plug", "seal"), ("water_sampler", ""), ("lid", "")])
def test_the_same_for_features_that_stand_on_others(file: str, name: str):
    part = read_part(str(ROOT / "examples" / f"{file}.toml"))
    for one in (name,) if name else part.features:
        assert not leaving(part, one, 7)


def test_a_bend_between_the_corners_is_found():
    """Of a soft liner in a stiff hub the closure bends: its greatest lies inside the limits of the bore, found only by a search."""
    stiff, soft = ({"youngs_modulus": f"{modulus} GPa", "poisson": "0.3", "yield_strength": "300 MPa"} for modulus in (600, 70))
    keys = {"hole": "16 H7", "shaft": "16.060/16.050", "shaft_bore": "12 ±3.5", "hub_outside": "60", "hub_material": stiff, "shaft_material": soft}
    feature = loader.feature(of_kind("press"), keys, Context())
    part = Part("bent", {"one": feature}, (State("shop"),))
    at_corners = evaluate(part, "one")
    sizes, choices = points(part, "one", 1, at_corners)
    closure = evaluate(part, "one", given=sizes, corners=choices).numbers["bore_closure"][..., 0]
    assert closure.max() > at_corners.numbers["bore_closure"][..., 0].max() * 1.001
    assert not leaving(part, "one", 1)


def test_a_ring_that_just_reaches_the_wall_around_its_rod():
    keys = {
        **FULL["gland rod"], "rod": "12.665 ±0.0027", "housing_bore": "12.7135 ±0.0405", "groove_diameter": "17.285 ±0.045", "groove_width": "3.7 ±0.3",
        "corner_radius": "0.3 ±0.299", "hub_outside": "45 ±0.6",
    }
    part = Part("rod", {"one": loader.feature(of_kind("gland rod"), keys, Context())}, (State("shop"),))
    assert not leaving(part, "one", 1)


def test_a_small_ring_on_a_rod_of_a_wide_zone():
    keys = {**FULL["gland rod"], **SMALL["gland rod"], "rod": "2.94 ±0.12", "ring": {"inside": "2.82 ±0.01", "section": "1.78 ±0.01"}}
    for field in ("shaft_bore", "side_angle", "backup_rings", "backup_thickness"):
        keys.pop(field)
    part = Part("rod", {"one": loader.feature(of_kind("gland rod"), keys, Context())}, (State("shop"),))
    assert not leaving(part, "one", 1)
