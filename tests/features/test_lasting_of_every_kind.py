"""What time does to light metals, in every kind that grips or bonds them; the fluid before a glued plug."""

from __future__ import annotations

from math import sqrt

import pytest

from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.dowel import Dowel
from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.gland import PistonGland
from fits.features.lasting import cracks
from fits.features.part import Part
from fits.features.running import Running
from fits.materials.metals import metal
from fits.questions.check import check
from fits.shop.reamers import most_stock

COMPOUND = dict(length="60", ends="open", axial_load=1000.0, roughness_hole=3.0, roughness_shaft=2.0, friction_hold=0.1)
BONDED = dict(hole="30 H8", shaft="29.940/29.920", hub_outside="42 ±0.05", length="30", gap_least=0.02, gap_most=0.15, bond_shear=20.0, bond_heat=180.0)
DOWEL = dict(pin="6 m6", tight_hole="6.003/5.997", free_hole="6.030/6.018", tight_through=True, wall="8", second="slot")
HOUR = 3600.0


def compound(inner: str = "6061-T6", outer: str = "6061-T6") -> Compound:
    layers = [{"inside": "20 ±0.02", "outside": "26.045/26.039", "material": inner}, {"inside": "26 H6", "outside": "60 ±0.1", "material": outer}]
    return Compound(layers=layers, **COMPOUND)


def bonded(hub: str = "6061-T6", inner: str = "6061-T6") -> Bonded:
    return Bonded(hub_material=hub, shaft_material=inner, **BONDED)


def rules(feature, *states: State) -> dict:
    return {one.rule: one for one in check(Part("test", {"joint": feature}, states or (State("shop"),))).features[0].checks}


TEMPER = "aged aluminium keeps its temper"


@pytest.mark.parametrize("feature", [compound(), compound(inner="316"), compound(outer="316"), bonded(), bonded(inner="316"), bonded(hub="316")])
def test_an_aged_temper_is_held_to_100_degc_beyond_an_hour(feature):
    found = rules(feature, State("hot", 140.0, 140.0, time=2000.0 * HOUR))[TEMPER]
    assert (found.verdict, found.worst, found.limit) == ("fail", 140.0, 100.0)
    assert rules(feature, State("warm", 99.0, 99.0, time=2000.0 * HOUR))[TEMPER].verdict == "pass"
    # One part of two temperatures is the hotter; an hour is the heating limit's, 175 degC.
    assert rules(feature, State("apart", 20.0, 140.0, time=2.0 * HOUR))[TEMPER].worst == 140.0
    short = rules(feature, State("bake", 140.0, 140.0, time=HOUR))[TEMPER]
    assert (short.verdict, short.limit) == ("pass", 175.0)
    assert rules(feature, State("hot", 140.0, 140.0))[TEMPER].verdict == "not covered"
    assert rules(feature, State("hot", 175.5, 175.5))[TEMPER].verdict == "fail"
    assert TEMPER not in rules(feature, State("warm", 100.0, 100.0))


RUNNING = dict(hole="12 H7", shaft="12 f7", hub_outside="30 ±0.1", clearance_at_least=0.001)
PISTON = dict(ring="AS568-210", elastomer="FKM 75", duty="static", medium="liquid", corner_radius="0.2 ±0.1", bore="25 H8", piston_diameter="25 f7", groove_diameter="19.4 ±0.03", groove_width="4.9/4.8", hub_outside="60 ±0.1")


def running(hub: str = "6061-T6", inner: str = "316", **more) -> Running:
    return Running(hub_material=hub, shaft_material=inner, **RUNNING, **more)


def piston(hub: str = "6061-T6", inner: str = "316", **more) -> PistonGland:
    return PistonGland(hub_material=hub, shaft_material=inner, **PISTON, **more)


@pytest.mark.parametrize(("feature", "walled"), [
    (running(), True), (running("316", "6061-T6"), False), (running("316", "6061-T6", shaft_bore="6 ±0.1"), True), (running("316"), False),
    (piston(), True), (piston("316", "6061-T6"), False), (piston("316", "6061-T6", shaft_bore="6 ±0.1"), True), (piston("316"), False),
    (piston("316", "6061-T6", shaft_bore="0"), False),
])
def test_a_wall_under_pressure_keeps_its_temper(feature, walled: bool):
    """What bears pressure is held to the heat its metal stands; a solid inner part and a state at rest aren't."""
    assert (TEMPER in rules(feature, State("hot", 140.0, 140.0, 2.0))) is walled
    if walled:
        assert rules(feature, State("hot", 140.0, 140.0, 2.0))[TEMPER].verdict == "not covered"
        assert rules(feature, State("hot", 140.0, 140.0, 2.0, time=HOUR))[TEMPER].verdict == "pass"
        assert rules(feature, State("hot", 140.0, 140.0, 2.0, time=2.0 * HOUR))[TEMPER].verdict == "fail"
        at_rest = rules(feature, State("hot", 140.0, 140.0, time=2.0 * HOUR), State("works", 20.0, 20.0, 2.0))[TEMPER]
        assert (at_rest.verdict, at_rest.state) == ("pass", "works")
    assert TEMPER not in rules(feature, State("hot", 140.0, 140.0, time=2.0 * HOUR))
    assert TEMPER not in rules(feature, State("warm", 100.0, 100.0, 2.0))


def test_a_wall_on_another_feature_s_surface_is_judged_there():
    aged, tube = metal("6061-T6"), {"shaft_bore": "6 ±0.1"}
    in_its_bore, its_outside = {"hole": SurfaceRef("bush", "shaft_bore")}, {"shaft": SurfaceRef("bush", "hub_outside")}
    for changes, bears in (({}, (aged, aged)), (in_its_bore, (None, aged)), (its_outside, (aged, None))):
        assert Running(**{**RUNNING, **tube, **changes, "hub_material": "6061-T6", "shaft_material": "6061-T6"}).pressed_metals == bears


def test_a_dowel_in_aged_aluminium_keeps_its_grip_to_100_degc():
    feature = Dowel(tight_material="6061-T6", pin_material="52100", **DOWEL)
    assert rules(feature, State("hot", 140.0, 140.0))[TEMPER].verdict == "not covered"
    assert rules(feature, State("hot", 140.0, 140.0, time=2.0 * HOUR))[TEMPER].verdict == "fail"
    assert TEMPER not in rules(feature, State("warm", 60.0, 60.0))


def test_a_temper_without_a_heating_limit_is_not_covered_and_others_are_not_asked():
    hot = State("bake", 140.0, 140.0, time=HOUR)
    for feature in (compound(outer="2024-T4"), compound(inner="2024-T4"), bonded(hub="2024-T4")):
        found = rules(feature, hot)[TEMPER]
        assert (found.verdict, found.why_not) == ("not covered", "2024-T4: no highest temperature in the table")
        assert rules(feature, State("warm", 100.0, 100.0, time=HOUR))[TEMPER].verdict == "pass"
    assert TEMPER not in rules(compound("316", "304"), hot)


@pytest.mark.parametrize(("name", "prone"), [
    ("7075-T6", True), ("2024-T4", True), ("2024-T3", True), ("6061-T6", False), ("316", False),
])
def test_which_alloys_crack(name: str, prone: bool):
    assert cracks(metal(name)) is prone
    told = "nothing cracks with time"
    found = rules(compound(outer=name))
    assert (told in found) is prone
    # What is pressed in is in compression.
    assert told not in rules(compound(inner=name))
    in_dowel = rules(Dowel(tight_material=name, **DOWEL))
    assert (told in in_dowel) is prone
    for one in (found, in_dowel) if prone else ():
        assert one[told].verdict == "not covered"
        assert one[told].why_not.startswith(f"{name} may crack under tension that stays; fits press takes cracking_stress")
    assert told not in rules(Dowel(**DOWEL))


def test_the_fluid_before_a_glued_plug_stands_in_the_hole():
    """A solid plug leaves the fluid in the hub's hole: p in 30.033 within 31.95, its end thrust pulling or pushing."""
    feature = Bonded(hub_material="6061-T6", shaft_material="6061-T6", **{**BONDED, "hub_outside": "32 ±0.05"})
    found = rules(feature, State("h", 20.0, 20.0, 20.0))["hub stands the fluid"]
    a, b, p = 30.033 / 2.0, 31.95 / 2.0, 20.0
    hoop = p * (b * b + a * a) / (b * b - a * a)
    thrust = p * a * a / (b * b - a * a)
    exact = max(sqrt(((hoop - along) ** 2 + (along + p) ** 2 + (hoop + p) ** 2) / 2.0) for along in (thrust, -thrust))
    assert found.verdict == "fail"
    assert found.worst == pytest.approx(exact, rel=1e-9)
    assert found.worst > found.limit * 2.0


@pytest.mark.parametrize(("size", "most"), [
    # Twice the most printed: 0.008 in to 1/8 in, 0.3 mm from 5 to 6.35, 0.012 in before, 0.016 in to 1/2 in; 1/32 in at last.
    (1.0, 2 * 0.008 * 25.4), (3.0, 2 * 0.008 * 25.4), (4.0, 2 * 0.012 * 25.4), (6.0, 2 * 0.012 * 25.4), (10.0, 0.03125 * 25.4), (30.0, 0.03125 * 25.4), (60.0, 1.5),
])
def test_a_small_reamer_takes_less(size: float, most: float):
    assert most_stock(size).high == pytest.approx(most)


def test_a_low_pressure_is_asked_of_a_compound_too():
    found = rules(compound(outer="316"), State("shop"), State("low", 20.0, 20.0, 0.4))
    assert found["fluid can't lift it"].state == "low"
    assert found["fluid can't lift it"].limit == 0.4
    assert "fluid can't lift it" not in rules(compound(outer="316"))
