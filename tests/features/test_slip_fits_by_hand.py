"""Bonded, running and dowel fits against plain floats: gap, wall, bond and tube in every state."""

from __future__ import annotations

from dataclasses import replace
from math import isnan, pi, sqrt
from typing import Any

import numpy as np
import pytest
from by_hand import Ring, mises, spun, worst
from joints import metal

from fits.features.bonded import Bonded
from fits.features.dowel import Dowel
from fits.features.feature import Feature, State
from fits.features.part import Part
from fits.features.running import Running
from fits.questions.evaluate import Evaluation, evaluate

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=260.0, name="hub")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=410.0, name="inner")
# Hub, inner part, MPa, rad/s.
STATES = (
    State("hot", 74.0, 51.0, 5.0, 410.0),
    State("cold", -13.0, -4.0, 7.0, 0.0, True),
    State("spun", 33.0, 46.0, 0.0, 630.0),
    State("made", 20.0, 20.0),
)
RISES = [(one.hub_temperature - 20.0, one.shaft_temperature - 20.0) for one in STATES]


def evaluated(feature: Feature, **given: float) -> Evaluation:
    one = np.array([[[1.0]]])
    shares = {"part.pressure": one, "part.speed": one, **{f"joint.{name}": value * one for name, value in given.items()}}
    return evaluate(Part("test", {"joint": feature}, STATES), "joint", given=shares)


def at(found: Evaluation, name: str, column: int) -> float:
    wide = np.ravel(found.numbers[name])
    return float(wide[column if len(wide) > 1 else 0])


BONDED: dict[str, Any] = {
    "hole": 31.08, "shaft": 31.0, "shaft_bore": 19.0, "hub_outside": 57.0, "length": 43.0, "hub_material": HUB,
    "shaft_material": INNER, "axial_load": 700.0, "torque": 15000.0, "gap_least": 0.03, "gap_most": 0.17,
    "bond_shear": 9.0, "bond_heat": 140.0, "bond_strain": 0.4, "safety_yield": 1.15, "safety_bond": 2.2,
    "ends": "liner",
}  # fmt: skip


@pytest.mark.parametrize("column", range(4))
@pytest.mark.parametrize("changes", [
    {}, {"shaft_bore": None}, {"ends": "body"}, {"thrust_diameter": 37.0}, {"ends": None}, {"ends": "open", "shaft_bore": None},
])  # fmt: skip
def test_a_bonded_fit_by_hand(changes: dict[str, Any], column: int):
    given = {**BONDED, **changes}
    found, state = evaluated(Bonded(**given)), STATES[column]
    bore = given["shaft_bore"] or 0.0
    a, c, hole, b = bore / 2.0, 15.5, 15.54, 28.5
    warm_hub, warm_inner = RISES[column]
    p = state.pressure if bore else 0.0
    apart = 31.08 * (23e-6 * warm_hub - 12e-6 * warm_inner)
    hub_grows = hole / 71000.0 * spun(HUB, hole, b, state.speed)[0]
    inner_grows = c / 197000.0 * spun(INNER, a, c, state.speed)[1]
    opens = apart + 2.0 * (hub_grows - inner_grows)
    own = Ring(a, c, p, 0.0)
    swells = 2.0 * c / 197000.0 * own.hoop(c) if bore else 0.0
    gap = 31.08 - 31.0
    sealed = given.get("thrust_diameter") or 31.08
    takes = given["ends"] in (None, "liner") or not bore
    thrust = pi / 4.0 * sealed**2 * state.pressure if takes else 0.0
    capacity = 9.0 * pi * 31.0 * 43.0
    factor = 1.15 * (1.0 if state.proof else 1.5)
    # In front of a solid part the fluid stands in the hub's hole all the same.
    outer = Ring(hole, b, state.pressure, 0.0)
    pull = 700.0 + thrust
    hub = worst(-state.pressure, outer.hoop(hole) + spun(HUB, hole, b, state.speed)[0], 0.0, pull / outer.area(), outer.shear(15000.0, b))
    want = {
        "gap_as_made": gap, "opens_by": opens, "swells_by": swells, "gap": gap + opens - swells,
        "bond_pull": max(opens, 0.0) / gap, "bond_slide": 43.0 * abs(apart) / 31.08 / gap,
        "pull_allowed": 0.4 if opens > 1e-12 else 0.0, "slide_allowed": 0.4 if abs(apart) > 1e-12 else 0.0,
        "axial_capacity": capacity, "torque_capacity": capacity * 15.5, "end_thrust": thrust,
        "bond_demand": 2.2 * sqrt(pull**2 + (2.0 * 15000.0 / 31.0) ** 2),
        "bond_temperature": max(state.hub_temperature, state.shaft_temperature), "heat_limit": 140.0,
        "least_gap": 0.03, "most_gap": 0.17, "hub_von_mises": hub, "hub_allowed": 260.0 / factor,
        "shaft_allowed": 410.0 / factor, "alternating_demand": 0.0,
    }  # fmt: skip
    if bore:
        alone = worst(-p, own.hoop(a) + spun(INNER, a, c, state.speed)[0], 0.0, pull / own.area(), own.shear(15000.0, c))
        assert alone < want["shaft_allowed"]
        want["shaft_von_mises"] = alone
    for name, number in want.items():
        assert at(found, name, column) == pytest.approx(number, rel=1e-9, abs=1e-11), name


def test_an_inner_part_that_would_yield_alone_is_not_covered_just_beyond():
    """sigma = p 2 c^2/(c^2 - a^2) in a bore without a load, nearly: the thin wall at the limit and beside it."""
    for least, known in ((15.9, False), (16.1, True)):
        # Bore 29, outside 31: s = (c^2 + a^2)/(c^2 - a^2), von Mises p sqrt(1 + s + s^2) at 5 MPa.
        s = (15.5**2 + 14.5**2) / (15.5**2 - 14.5**2)
        alone = 5.0 * sqrt(1.0 + s + s * s)
        inner = replace(INNER, yield_minimum=alone * 1.5 * least / 16.0)
        states = (State("hot", 20.0, 20.0, 5.0),)
        part = Part("test", {"joint": Bonded(hole=31.08, shaft=31.0, shaft_bore=29.0, hub_outside=57.0, hub_material=HUB, shaft_material=inner, ends="open")}, states)
        found = evaluate(part, "joint", given={"part.pressure": np.array([[[1.0]]])})
        assert isnan(at(found, "shaft_von_mises", 0)) is not known
        said = [one.reason for one in found.gaps if one.about == "shaft_von_mises"]
        assert bool(said) is not known


def test_no_gap_as_made_is_no_bond():
    found = evaluated(Bonded(**{**BONDED, "hole": 31.0}))
    for name in ("bond_pull", "bond_slide"):
        assert np.isnan(found.numbers[name]).all()
        assert "no gap as made" in [one.reason for one in found.gaps if one.about == name]


def test_what_stretches_the_bond_is_asked_only_where_it_is_stretched():
    found = evaluated(Bonded(**{**BONDED, "bond_strain": None}))
    asked = {one.about: list(np.broadcast_to(one.mask, (1, 1, 5)).reshape(-1)) for one in found.gaps if one.sweep == "bond_strain" and one.about.endswith("allowed")}
    # It opens hot; cold it closes; spun the inner part is hotter and yet the hub grows more; shop and as made: nothing.
    assert asked["slide_allowed"] == [True, True, True, False, False]
    opens = [at(found, "opens_by", column) > 1e-12 for column in range(5)]
    assert asked["pull_allowed"] == opens
    assert opens[0]
    assert not any(opens[1::2])


RUNNING: dict[str, Any] = {
    "hole": 31.08, "shaft": 31.0, "shaft_bore": 19.0, "hub_outside": 57.0, "hub_material": HUB, "shaft_material": INNER,
    "safety_yield": 1.25,
}  # fmt: skip


@pytest.mark.parametrize("column", range(4))
@pytest.mark.parametrize("changes", [{}, {"shaft_bore": None}, {"shaft_bore": 30.0}])
def test_a_running_fit_by_hand(changes: dict[str, Any], column: int):
    given = {**RUNNING, **changes}
    found, state = evaluated(Running(**given)), STATES[column]
    a, c, hole, b = (given["shaft_bore"] or 0.0) / 2.0, 15.5, 15.54, 28.5
    warm_hub, warm_inner = RISES[column]
    p = state.pressure
    # The wall as a tube under pressure in its bore, the shaft as one with the pressure outside; ends open.
    wall, tube = Ring(hole, b, p, 0.0), Ring(a, c, 0.0, p)
    grows = 31.08 / 71000.0 * (wall.hoop(hole) + 0.33 * p)
    shrinks = -31.0 / 197000.0 * (tube.hoop(c) + 0.29 * p)
    spins = 31.0 / 197000.0 * spun(INNER, a, c, state.speed)[1]
    factor = 1.25 * (1.0 if state.proof else 1.5)
    clearance = 31.08 * (1.0 + 23e-6 * warm_hub) + grows - (31.0 * (1.0 + 12e-6 * warm_inner) - shrinks + spins)
    want = {
        "wall_growth": grows, "shaft_shrinkage": shrinks, "spin_growth": spins, "clearance": clearance,
        "wall_von_mises": mises(-p, wall.hoop(hole), 0.0), "wall_allowed": 260.0 / factor,
    }  # fmt: skip
    if a:
        thick, mean = c - a, (c + a) / 2.0
        want |= {"shaft_pressure": p, "tube_von_mises": abs(tube.hoop(a)), "tube_allowed": 410.0 / factor,
                 "collapse_allowed": 197000.0 * thick**3 / (4.0 * (1.0 - 0.29**2) * mean**3) / 2.0}  # fmt: skip
    for name, number in want.items():
        assert at(found, name, column) == pytest.approx(number, rel=1e-9, abs=1e-11), name


def test_a_running_fit_without_its_wall_says_where_that_matters():
    found = evaluated(Running(**{**RUNNING, "hub_outside": None}), hub_outside=np.nan)
    masks = {one.about: list(np.broadcast_to(one.mask, (1, 1, 5)).reshape(-1)) for one in found.gaps}
    assert masks["wall_growth"] == masks["wall_von_mises"] == [True, True, False, False, False]
    # Shown without the growth, which may only be more.
    shrinks = at(found, "shaft_shrinkage", 0)
    rest = 31.08 * (1.0 + 23e-6 * 54.0) - 31.0 * (1.0 + 12e-6 * 31.0) + shrinks - at(found, "spin_growth", 0)
    assert at(found, "clearance", 0) == pytest.approx(rest, rel=1e-9)


@pytest.mark.parametrize(("lacks", "about", "columns"), [
    ({"shaft_material": None}, "shaft_shrinkage", [True, True, False, False, False]),
    ({"shaft_material": None}, "shaft_density", [True, False, True, False, False]),
    ({"shaft_material": None}, "tube_allowed", [True] * 5),
    ({"shaft_material": None}, "collapse_allowed", [True] * 5),
    ({"shaft_material": None}, "shaft_strain", [True, True, True, False, False]),
    ({"shaft_material": replace(INNER, density=None)}, "shaft_density", [True, False, True, False, False]),
    ({"hub_material": None}, "hub_modulus", [True, True, True, False, False]),
    ({"hub_material": None}, "hub_strain", [True, True, True, False, False]),
])  # fmt: skip
def test_what_a_running_fit_lacks_and_in_which_states(lacks: dict[str, Any], about: str, columns: list[bool]):
    found = evaluated(Running(**{**RUNNING, **lacks}))
    masks = [np.broadcast_to(one.mask, (1, 1, 5)).reshape(-1) for one in found.gaps if one.about == about]
    assert list(np.any(masks, axis=0)) == columns


DOWEL: dict[str, Any] = {
    "pin": 8.012, "tight_hole": 7.997, "free_hole": 8.031, "wall": 5.5, "tight_depth": 11.0, "tight_through": False,
    "vent": False, "second": "round", "spacing": 73.0, "spacing_error": 0.006, "pin_material": INNER,
    "tight_material": HUB, "free_material": replace(INNER, name="free", expansion=(17e-6, 17e-6)),
}  # fmt: skip


@pytest.mark.parametrize("column", range(4))
@pytest.mark.parametrize("pin_known", [True, False])
def test_a_dowel_by_hand(pin_known: bool, column: int):
    given = DOWEL if pin_known else {**DOWEL, "pin_material": None}
    found = evaluated(Dowel(**given), band_share=0.3)
    warm_hub, warm_pin = RISES[column] if pin_known else (RISES[column][0], 0.0)
    pin, tight, free = 8.012 * (1.0 + 12e-6 * warm_pin), 7.997 * (1.0 + 23e-6 * warm_hub), 8.031 * (1.0 + 17e-6 * warm_hub)
    if not pin_known and STATES[column].shaft_temperature != 20.0:
        assert isnan(at(found, "interference", column))
        return
    # A ring of the least wall around the pin; a pin under even pressure gives (1 - nu) p/E.
    ring = Ring(7.997 / 2.0, 7.997 / 2.0 + 5.5, 1.0, 0.0)
    per = 7.997 / 71000.0 * (ring.hoop(7.997 / 2.0) + 0.33) + (7.997 * (1.0 - 0.29) / 197000.0 if pin_known else 0.0)
    p = max(pin - tight, 0.0) / per
    differ = 0.006 + 73.0 * abs(23e-6 - 17e-6) * abs(warm_hub)
    want = {
        "pin": 8.012, "tight_hole": 7.997, "free_hole": 8.031, "interference": pin - tight, "clearance": free - pin,
        "plate_von_mises": mises(-p, p * ring.hoop(7.997 / 2.0), 0.0), "plate_allowed": 260.0, "mismatch": differ,
        "spare": free - pin - differ, "engagement": 11.0 / 8.012, "trapped": 1.0,
    }  # fmt: skip
    for name, number in want.items():
        assert at(found, name, column) == pytest.approx(number, rel=1e-9, abs=1e-11), name


@pytest.mark.parametrize(("through", "vent", "trapped", "lacks"), [
    (True, None, 0.0, ""), (True, False, 0.0, ""), (False, True, 0.0, ""), (False, False, 1.0, ""),
    (False, None, 0.0, "vent"), (None, True, 0.0, ""), (None, False, 0.0, "tight_through"), (None, None, 0.0, "tight_through"),
])  # fmt: skip
def test_where_the_air_goes(through: bool | None, vent: bool | None, trapped: float, lacks: str):
    found = evaluated(Dowel(**{**DOWEL, "tight_through": through, "vent": vent}))
    assert at(found, "trapped", 0) == trapped
    assert [one.about for one in found.gaps] == ([lacks] if lacks else [])
