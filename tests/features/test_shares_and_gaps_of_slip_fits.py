"""Half of a pressure is a pressure of half; what bonded, running and dowel fits lack, and what they assume."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from joints import metal

from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.compound.layers_field import Layer, Layers
from fits.features.dowel import Dowel
from fits.features.feature import Feature, State, States
from fits.features.fields import SurfaceRef, Undecided
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.evaluate import Evaluation, evaluate
from fits.sizes.limits import Limits

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=260.0, name="hub")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=410.0, name="inner")
SIZES: dict[str, Any] = {"hole": 31.08, "shaft": 31.0, "shaft_bore": 19.0, "hub_outside": 57.0, "hub_material": HUB, "shaft_material": INNER}
BOND: dict[str, Any] = {"length": 43.0, "gap_least": 0.03, "gap_most": 0.17, "bond_shear": 9.0, "bond_heat": 140.0, "bond_strain": 0.4}
LAYERS = Layers((Layer(Limits(17.0, 17.0), Limits(26.05, 26.05), INNER), Layer(Limits(26.0, 26.0), Limits(40.0, 40.0), HUB)))
MOVING = (
    State("run", 60.0, 40.0, 6.0, 400.0), State("press", 20.0, 20.0, 9.0), State("spin", 30.0, 25.0, 0.0, 700.0), State("rest"),
)  # fmt: skip


def evaluated(feature: Feature, states: tuple[State, ...] = MOVING, **shares: float) -> Evaluation:
    one = np.array([[[1.0]]])
    given = {"part.pressure": one, "part.speed": one, "compound.place": 0.0 * one, "joint.friction_share": 0.0 * one}
    return evaluate(Part("test", {"joint": feature}, states), "joint", given={**given, **{key: value * one for key, value in shares.items()}})


FEATURES: list[Feature] = [
    Press(**{**SIZES, "shaft": 31.12}, length=43.0, friction_hold=0.1, friction_press=0.2, roughness_hole=0.0, roughness_shaft=0.0, ends="liner"),
    Compound(layers=LAYERS, length=40.0, friction_hold=0.1, roughness_hole=0.0, roughness_shaft=0.0, ends="open"),
    Bonded(**SIZES, **BOND), Running(**SIZES),
]  # fmt: skip


@pytest.mark.parametrize("feature", FEATURES, ids=lambda one: one.kind)
def test_a_share_of_pressure_and_speed_is_a_state_with_that_much(feature: Feature):
    shared = evaluated(feature, **{"part.pressure": 0.3, "part.speed": 0.6}).numbers
    milder = tuple(one._replace(pressure=0.3 * one.pressure, speed=0.6 * one.speed) for one in MOVING)
    whole = evaluated(feature, milder).numbers
    assert set(shared) == set(whole)
    for name, array in whole.items():
        assert np.asarray(shared[name]) == pytest.approx(np.asarray(array), rel=1e-9, abs=1e-12, nan_ok=True), name


def masks(found: Evaluation, about: str, says: str = "") -> str:
    count = len(found.states.names)
    some = [np.broadcast_to(one.mask, (1, 1, count)).reshape(-1) for one in found.gaps if one.about == about and says in one.reason]
    return "".join(str(int(one)) for one in np.any(some, axis=0)) if some else ""


@pytest.mark.parametrize(("changes", "about", "columns"), [
    ({"hub_material": replace(HUB, density=None)}, "hub_density", "10100"), ({"shaft_material": replace(INNER, density=None)}, "shaft_density", "10100"), ({}, "hub_density", ""),
    ({"gap_least": None}, "gap_least", "11111"), ({"gap_most": None}, "gap_most", "11111"), ({"bond_shear": None}, "bond_shear", "11111"), ({"bond_heat": None}, "bond_heat", "11111"),
    ({"length": None}, "length", "11111"), ({"alternating": True}, "alternating_demand", "11111"), ({}, "gap_least", ""), ({}, "alternating_demand", ""), ({}, "length", ""),
    # A modulus matters where there is pressure or speed.
    ({"hub_material": replace(HUB, typed=frozenset({"expansion", "yield_strength"}))}, "hub_modulus", "10100"),
])  # fmt: skip
def test_what_a_bond_lacks_and_where(changes: dict[str, Any], about: str, columns: str):
    assert masks(evaluated(Bonded(**{**SIZES, **BOND, **changes})), about) == columns


def test_the_gap_of_a_state_at_rest_needs_no_density():
    found = evaluated(Bonded(**{**SIZES, **BOND, "hub_material": replace(HUB, density=None)}))
    assert np.isnan(np.ravel(found.numbers["opens_by"])).tolist() == [True, False, True, False, False]
    assert np.ravel(found.numbers["swells_by"])[2:].tolist() == [0.0, 0.0, 0.0]


def test_a_shaft_that_is_a_surface_has_its_size_from_there():
    """A bush's outside as the shaft: how it shrinks under pressure isn't known; it grows with its own feature."""
    bush = Press(**{**SIZES, "shaft": 31.12}, roughness_hole=0.0, roughness_shaft=0.0, ends="open")
    guide = Running(hole=57.2, shaft=SurfaceRef("bush", "hub_outside"), hub_outside=80.0, hub_material=HUB)
    part = Part("test", {"bush": bush, "guide": guide}, MOVING)
    one = np.array([[[1.0]]])
    found = evaluate(part, "guide", given={"part.pressure": one, "part.speed": one})
    assert masks(found, "shaft_shrinkage", "stands on a surface") == "11000"
    outside = evaluate(part, "bush", given={"part.pressure": one, "part.speed": one}).numbers["outside_in_state"]
    grown = np.ravel(found.numbers["wall_growth"])
    rises = np.array([40.0, 0.0, 10.0, 0.0, 0.0])
    assert np.ravel(found.numbers["clearance"]) == pytest.approx(57.2 * (1.0 + 23e-6 * rises) + grown - np.ravel(outside), rel=1e-9)
    assert np.ravel(found.numbers["spin_growth"]).tolist() == [0.0] * len(np.ravel(found.numbers["spin_growth"]))
    # A hole that is one has no wall of its own.
    liner = Running(hole=SurfaceRef("bush", "shaft_bore"), shaft=18.9, shaft_material=INNER)
    asked = {rule.name for rule in liner.rules if rule.asked(liner, States.of(MOVING))}
    assert asked == {"never binds"}
    assert [one.key for one in Running(hole=SurfaceRef("bush", "shaft_bore"), shaft=18.9, hub_outside=40.0).faults()] == ["hub_outside"]
    on_surface = Running(hole=40.0, shaft=SurfaceRef("bush", "hub_outside"), shaft_bore=10.0)
    assert {rule.name for rule in on_surface.rules if rule.asked(on_surface, States.of(MOVING))} == {"never binds", "wall stands the pressure"}


STILL, WET, TURNS = State("still"), State("wet", pressure=1.0), State("turns", speed=5.0)
FREE = "sizes are free sizes at 20 degC; gaps are on the diameter"
CURES = "the bond cures at 20 degC, over the whole face, and is unstressed then"
SHEAR = "bond_shear taken as the data sheet's on these metals, at this gap, aged, and at the hottest state ({} degC)"
SAFETY = "safety_bond 2 (common practice, 1.5 to 3; more where it is not tried out)"
THRUST = "ends not given: the bond takes the end thrust of the fluid"
WALLS = "walls: factor 1.5 on yield working, 1.0 at proof, and safety_yield; the inner part carries the pressure alone, the hub all of it at its hole"
INSIDE = "pressure is inside; from outside it is not covered"
TYPED = [f"{name}: typed values taken as the same in every state" for name in ("hub", "inner")]


@pytest.mark.parametrize(("changes", "states", "more"), [
    ({}, (STILL,), [SHEAR.format(20)]), ({"bond_shear": None}, (STILL,), []), ({}, (State("h", 40.0, 77.0), State("i", 66.0, 20.0)), [SHEAR.format(77)]),
    ({"bond_shear": None}, (WET,), [SAFETY, THRUST, WALLS]), ({"bond_shear": None, "ends": "liner"}, (WET,), [SAFETY, WALLS]), ({"bond_shear": None, "ends": "body"}, (WET,), [WALLS]),
    ({"bond_shear": None}, (TURNS,), [WALLS]), ({"bond_shear": None, "axial_load": 5.0}, (STILL,), [SAFETY]), ({"bond_shear": None, "axial_load": 5.0, "safety_bond": 3.0}, (STILL,), []),
    ({"bond_shear": None, "safety_bond": 2.0}, (WET,), [THRUST, WALLS]),
])  # fmt: skip
def test_what_a_bond_assumes(changes: dict[str, Any], states: tuple[State, ...], more: list[str]):
    said = Bonded(**{**SIZES, **BOND, **changes}).assumptions(States.of(states))
    assert list(said) == [FREE, CURES, *more, *[INSIDE] * (WET in states), *TYPED]


@pytest.mark.parametrize(("changes", "states", "wall"), [({}, (STILL,), False), ({}, (STILL, WET), True), ({"hole": SurfaceRef("bush", "shaft_bore")}, (WET,), False)])
def test_what_a_running_fit_assumes(changes: dict[str, Any], states: tuple[State, ...], wall: bool):
    given = {**SIZES, **changes}
    said = Running(**given).assumptions(States.of(states))
    own = ["the wall breathes with open ends; factor 1.5 on yield working, 1.0 at proof"] if wall else []
    assert list(said) == ["sizes are free sizes at 20 degC; clearance is on the diameter", *own, *[INSIDE] * (WET in states), *TYPED]


DOWEL: dict[str, Any] = {"pin": "8.012/8.004", "tight_hole": "8.001/7.993", "free_hole": "8.031/8.02", "wall": "9", "tight_depth": "11", "tight_through": True,
                         "tight_material": HUB, "free_material": HUB, "pin_material": INNER}  # fmt: skip
WARM = (State("hub", 60.0, 20.0), State("pin", 20.0, 60.0), State("still"))


@pytest.mark.parametrize(("changes", "about", "columns"), [
    # The pin has the temperature of the shaft, both plates that of the hub.
    ({"pin_material": None}, "pin_strain", "0100"), ({"tight_material": None}, "tight_strain", "1000"), ({"free_material": None}, "free_strain", "1000"),
    ({"pin_material": replace(INNER, typed=frozenset({"expansion"}))}, "pin_modulus", "0100"), ({"pin_material": None}, "pin_modulus", ""),
    ({"tight_material": replace(HUB, typed=frozenset({"expansion"}))}, "tight_modulus", "1000"), ({"free_material": replace(HUB, typed=frozenset({"expansion"}))}, "free_modulus", ""),
    ({"tight_material": None}, "tight_yield", "1111"), ({"free_material": None}, "free_yield", ""), ({"pin_material": None}, "pin_yield", ""),
    ({"wall": None}, "wall", "1111"), ({"tight_depth": None}, "engagement", "1111"), ({"spacing": "60"}, "spacing_error", "1111"), ({"spacing_error": 0.01}, "spacing", "1111"),
    ({"spacing": "60", "spacing_error": 0.01}, "mismatch", "1111"), ({"spacing": "60", "spacing_error": 0.01, "second": "round"}, "mismatch", ""), ({}, "mismatch", ""),
    ({"tight_hole": None}, "tight_hole", "1111"), ({"free_hole": None}, "free_hole", "1111"),
])  # fmt: skip
def test_what_a_dowel_lacks_and_where(changes: dict[str, Any], about: str, columns: str):
    assert masks(evaluated(Dowel(**{**DOWEL, **changes}), WARM), about) == columns


def test_a_pin_left_open_is_looked_for_about_a_millimetre():
    found = {one.name: one.search for one in Dowel(pin=Undecided()).dimensions(States.of(WARM))}
    assert found["tight_hole"] == pytest.approx((0.98, 1.02))
    assert found["wall"] == pytest.approx((0.01, 20.0))


@pytest.mark.parametrize(("changes", "rules"), [
    ({}, {"pin is held deep enough"}), ({"tight_depth": None}, set()), ({"tight_through": False}, {"pin is held deep enough", "air gets out"}),
    ({"tight_through": None}, {"pin is held deep enough", "air gets out"}), ({"spacing": "60"}, {"pin is held deep enough", "both pins go in"}),
    ({"spacing_error": 0.01}, {"pin is held deep enough", "both pins go in"}), ({"spacing": "60", "second": "round"}, {"pin is held deep enough", "both pins go in"}),
    ({"spacing": "60", "second": "slot"}, {"pin is held deep enough"}), ({"spacing": "60", "second": "none"}, {"pin is held deep enough"}),
])  # fmt: skip
def test_which_rules_a_dowel_is_asked(changes: dict[str, Any], rules: set[str]):
    of = Dowel(**{**DOWEL, **changes})
    assert {rule.name for rule in of.rules if rule.asked(of, States.of(WARM))} == rules | {"pin stays tight", "pin stays free", "tight part stays elastic"}


def test_reamers_of_a_dowel_by_their_band():
    """ISO 522: 15 % of the tolerance below the upper end, 35 % wide, whole um: 8 um give 2 and 3, 11 um 2 and 4."""
    of = Dowel(**DOWEL)
    for share in (0.0, 0.25, 1.0):
        found = evaluated(of, WARM, **{"joint.band_share": share}).numbers
        assert np.max(found["tight_reamer"]) == pytest.approx(7.996 + share * 0.003)
        assert np.max(found["free_reamer"]) == pytest.approx(8.025 + share * 0.004)
    assert of.assumptions(States.of(WARM))[0] == "sizes are free sizes at 20 degC; both pins and their holes have the same limits"
    # Only the pin of a standard has holes of its own.
    assert of.suggested("tight") is None
    standard = Dowel(pin="dowel 1/4 in")
    assert standard.hole("tight") == pytest.approx((0.2495 * 25.4, 0.25 * 25.4))
    assert len([one for one in standard.assumptions(States.of(WARM)) if "is suggested for the pin" in one]) == 2
