"""The bonded slip fit: gap in every state, what the bond holds, what the data sheet must say."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from joints import metal

from fits.features.bonded import Bonded
from fits.features.feature import State
from fits.features.part import Part
from fits.materials.metals import Curve
from fits.questions.check import check
from fits.questions.evaluate import evaluate
from fits.questions.window import window
from fits.sizes.limits import Limits
from fits.tables import Source

STEEL = metal(207000.0, 0.29, expansion=11.5e-6, name="steel", least=400.0, density=7850.0)
ALUMINIUM = metal(69000.0, 0.33, expansion=23.6e-6, name="aluminium", least=240.0, density=2700.0)
SHEET = {"gap_least": 0.02, "gap_most": 0.12, "bond_shear": 8.0, "bond_heat": 150.0}
HOT = State("hot", 70.0, 70.0)


def exact(value: float) -> Limits:
    return Limits(value, value)


def bonded(*states: State, **fields: Any) -> Part:
    given = {"hole": exact(20.05), "shaft": exact(20.0), "hub_outside": exact(40.0), "length": exact(30.0),
             "hub_material": STEEL, "shaft_material": STEEL, **SHEET, **fields}
    given = {name: value for name, value in given.items() if value is not None}
    return Part("test", {"joint": Bonded(**given)}, states or (State("shop"),))


def rules(part: Part) -> dict[str, Any]:
    return {one.rule: one for one in check(part).features[0].checks}


def span(part: Part, name: str, state: str) -> tuple[float, float]:
    got = next(one for one in check(part).features[0].values if one.name == name).states[state]
    return got.least, got.greatest


def test_what_it_holds_by_hand():
    """8 MPa on pi 20 30 mm2: 15 080 N along, 150.8 N*m around; 5 kN and 50 N*m together need 2 sqrt(...)."""
    part = bonded(axial_load=5000.0, torque=50000.0)
    area = math.pi * 20.0 * 30.0
    assert span(part, "axial_capacity", "shop") == pytest.approx((8.0 * area,) * 2)
    assert span(part, "torque_capacity", "shop") == pytest.approx((8.0 * area * 10.0,) * 2)
    assert span(part, "bond_demand", "shop") == pytest.approx((2.0 * math.hypot(5000.0, 5000.0),) * 2)
    assert check(part).verdict == "pass"
    assert rules(bonded(axial_load=8000.0))["holds its load"].verdict == "fail"


def test_heat_opens_the_gap_and_cold_closes_it():
    states = (HOT, State("cold", -30.0, -30.0))
    part = bonded(*states, hub_material=ALUMINIUM)
    for state, rise in (("hot", 50.0), ("cold", -50.0)):
        assert span(part, "gap", state)[0] == pytest.approx(0.05 + 20.05 * (23.6e-6 - 11.5e-6) * rise, abs=1e-9)
    cold = rules(bonded(State("cold", -150.0, -150.0), hub_material=ALUMINIUM, hole=exact(20.03)))
    # 20 mm x 12.1e-6 x 170 K is 0.041 mm: more than the gap of 0.03.
    assert cold["never binds"].verdict == "fail"


def test_parts_of_different_growth_ask_what_the_bond_follows():
    """0.0121 mm of 0.05 across; 30/2 mm x 12.1e-6 x 50 K over half of 0.05 along: break-even values."""
    found = rules(bonded(HOT, hub_material=ALUMINIUM))
    across, along = found["bond follows the gap"], found["bond follows along the axis"]
    assert across.verdict == along.verdict == "not covered"
    assert across.worst == pytest.approx(20.05 * 12.1e-6 * 50.0 / 0.05)
    assert along.worst == pytest.approx(15.0 * 12.1e-6 * 50.0 / 0.025)
    assert "is at least 0.243" in across.break_even
    assert "is at least 0.363" in along.break_even
    assert rules(bonded(HOT, hub_material=ALUMINIUM, bond_strain=0.4))["bond follows along the axis"].verdict == "pass"
    assert rules(bonded(HOT, hub_material=ALUMINIUM, bond_strain=0.3))["bond follows along the axis"].verdict == "fail"


def test_parts_of_one_metal_ask_nothing_of_it():
    found = rules(bonded(HOT))
    assert found["bond follows the gap"].verdict == found["bond follows along the axis"].verdict == "pass"


@pytest.mark.parametrize(("missing", "rule", "says"), [
    ("gap_least", "gap at least", "at most 0.0500 mm"),
    ("gap_most", "gap at most, as made", "at least 0.0500 mm"),
    ("bond_shear", "holds its load", "at least 1.07 MPa"),
    ("bond_heat", "stands the heat", "at least 70.0 degC"),
    ("length", "holds its load", "at least 3.9789 mm"),
])
def test_what_the_data_sheet_does_not_say_is_not_covered(missing: str, rule: str, says: str):
    """1000 N x 2 over pi 20 30 is 1.061 MPa; over 8 MPa pi 20 it is 3.979 mm."""
    part = bonded(HOT, axial_load=1000.0, **{missing: None})
    found = rules(part)[rule]
    assert found.verdict == "not covered"
    assert missing in found.why_not
    assert says in found.break_even
    assert check(part).verdict == "not covered"


def test_reports_are_shown_and_judge_nothing():
    answer = check(bonded(gap_least=None, bond_heat=None))
    found = {one.rule: one for one in answer.features[0].checks}
    assert "people report 0.010 mm" in found["gap at least"].why_not
    assert "150 to 180 degC by grade" in found["stands the heat"].why_not
    assert any("common practice" in str(source) and "heat limit" in str(source) for source in answer.sources)


@pytest.mark.parametrize(("fields", "rule"), [
    ({"hole": exact(20.015)}, "gap at least"), ({"hole": exact(20.15)}, "gap at most, as made"),
    ({"bond_heat": 60.0}, "stands the heat"), ({"hole": exact(20.0)}, "never binds"),
    ({"hole": exact(19.99)}, "never binds")])
def test_rules_that_fail(fields: dict[str, Any], rule: str):
    assert rules(bonded(HOT, **fields))[rule].verdict == "fail"


def test_thrust_of_the_fluid_goes_through_the_bond_unless_said_otherwise():
    working = State("working", pressure=10.0)
    tube = {"shaft_bore": exact(14.0)}
    thrust = math.pi / 4.0 * 20.05**2 * 10.0
    assert span(bonded(working, **tube), "bond_demand", "working")[1] == pytest.approx(2.0 * thrust)
    assert span(bonded(working, **tube, ends="body"), "bond_demand", "working")[1] == 0.0
    plug = bonded(working, ends="body")
    assert span(plug, "bond_demand", "working")[1] == pytest.approx(2.0 * thrust)


def test_a_tube_stands_alone_or_is_not_covered():
    """14/20 mm at 10 MPa, Lamé: hoop 29.2, radial -10; and a wall that yields isn't promised support."""
    working = State("working", pressure=10.0)
    hoop = 10.0 * (20.0**2 + 14.0**2) / (20.0**2 - 14.0**2)
    got = rules(bonded(working, shaft_bore=exact(14.0), ends="body"))["inner part stands alone"]
    assert got.worst == pytest.approx(math.sqrt(hoop**2 + 10.0 * hoop + 100.0))
    thin = rules(bonded(working, shaft_bore=exact(19.0), ends="body"))["inner part stands alone"]
    assert thin.verdict == "pass"
    thinner = rules(bonded(working, shaft_bore=exact(19.6), ends="body"))["inner part stands alone"]
    assert thinner.verdict == "not covered"
    assert "supports it is not covered" in thinner.why_not


def test_pressure_swells_a_tube_by_lame():
    """Tube 14/20 mm, 10 MPa in its bore: 2 p a2/(c2 - a2) d/E."""
    part = bonded(State("working", pressure=10.0), shaft_bore=exact(14.0))
    grown = 20.0 * 2.0 * 10.0 * 49.0 / (51.0 * 207000.0)
    assert span(part, "gap", "working") == pytest.approx((0.05 - grown, 0.05))


def test_speed_opens_the_gap():
    part = bonded(State("fast", speed=1000.0))
    low, high = span(part, "opens_by", "fast")
    rho, nu, e = 7850.0e-12 * 1e6, 0.29, 207000.0
    hub = rho * 20.05 / 2.0 / (4.0 * e) * ((3.0 + nu) * 20.0**2 + (1.0 - nu) * 10.025**2)
    inner = rho * 10.0 / (4.0 * e) * (1.0 - nu) * 10.0**2
    assert low == pytest.approx(0.0, abs=1e-12)
    assert high == pytest.approx(2.0 * (hub - inner), rel=1e-9)


def test_alternating_load_is_not_covered():
    assert rules(bonded(alternating=True))["load does not alternate"].verdict == "not covered"


def test_the_window_of_its_gap():
    found = window(bonded(axial_load=1000.0), "joint.shaft")
    ((low, high),) = [(one.low.at, one.high.at) for one in found.intervals]
    assert 20.05 - high == pytest.approx(0.02, abs=2e-4)
    assert 20.05 - low == pytest.approx(0.12, abs=2e-4)


@pytest.mark.parametrize(("more", "says"), [
    (("--gap-least", "0.2", "--gap-most", "0.1"), "above its most"),
    (("--bond-shear", "8"), "needs a unit"), (("--ends", "stuck"), "must be one of open, liner, body"),
    (("--shaft-bore", "1.5/0"), "a bore with limits is above 0; a solid part has none"), (("--shaft-bore", "16.5"), "needs a wall"), (("--bond-heat", "150 K*m"), "unit"),
])
def test_what_cannot_be(fits, more: tuple[str, ...], says: str):
    ran = fits("bonded", "--hole", "16 H7", "--shaft", "15.95", "--hub-outside", "32", "--hub-material", "6061-T6",
               "--shaft-material", "6061-T6", *more)
    assert ran.status == 2
    assert says in ran.err
    assert not ran.out


def test_the_example_of_the_help_passes(fits):
    import shlex

    words = shlex.split(Bonded.example.replace("\\\n", " "))
    assert words[0] == "fits"
    ran = fits(*words[1:])
    assert ran.status == 0
    assert "push out a spare" in ran.out
    assert "no pressure seal certificate" in ran.out
    assert "fumes" in ran.out


def test_in_a_part_file_and_by_the_window(fits, tmp_path):
    """A bushing glued into a block of the same metal; how strong must the compound be?"""
    file = tmp_path / "block.toml"
    file.write_text('''name = "guide block, invented"
units = "in"
[states.hot]
temperature = "200 degF"
[bonded.bush]
hole = "1.002"
shaft = "1.000"
hub_outside = "2"
length = "1"
hub_material = "6061-T6"
shaft_material = "6061-T6"
torque = "100 lbf*in"
gap_least = "0.001"
gap_most = "0.005"
bond_shear = "1000 psi"
bond_heat = "300 degF"
''')
    ran = fits("check", str(file))
    assert ran.status == 0
    assert "PASS" in ran.out
    # 2 x 100 lbf*in over 0.5 in is 400 lbf on pi square inches: 127.3 psi.
    data = fits("window", str(file), "bush.bond_shear", "--json").json["windows"][0]["intervals"][0]
    # Edges are found to 1e-6 of the end of the search (1000 times what is typed), on the side that holds.
    psi = 0.006894757293168361
    assert 0.0 <= data["min"] - 400.0 / math.pi * psi <= 1e6 * psi * 1e-6


def test_what_has_no_limit_is_shown_at_its_own_worst():
    """Of a gap of 0.05 to 0.09 mm and two states the thinnest gap where it is hottest is stretched most."""
    thin = {"hole": Limits(20.0, 20.021), "shaft": Limits(19.93, 19.95), "hub_material": ALUMINIUM}
    part = bonded(State("mild", 30.0, 30.0), State("hot", 80.0, 80.0), **thin)
    one = rules(part)["bond follows the gap"]
    assert (one.verdict, one.limit, one.state) == ("not covered", None, "hot")
    assert one.worst == span(part, "bond_pull", "hot")[1]
    by_hand = 12.1e-6 * 60.0 * 19.95 / 0.05
    assert one.worst == pytest.approx(by_hand, rel=0.01)


@pytest.mark.parametrize(("pressure", "speed", "matters"), [(0.0, 0.0, False), (0.5, 0.0, True), (0.0, 0.5, True), (0.0, 1.0, True)])
@pytest.mark.parametrize("which", ["hub", "shaft"])
def test_a_modulus_that_is_not_known_matters_where_something_loads_the_walls(which: str, pressure: float, speed: float, matters: bool):
    cool = replace(STEEL, typed=frozenset(), modulus_curve=Curve((20.0, 100.0), (1.0, 0.9), 20.0, Source("x", "seen")))
    part = bonded(State("hot", 150.0, 150.0, pressure, speed), **{f"{which}_material": cool})
    gaps = [gap for gap in evaluate(part, "joint").gaps if gap.about == f"{which}_modulus"]
    assert any(bool(np.any(gap.mask)) for gap in gaps) is matters


def test_a_hub_at_rest_opens_by_nothing_beside_a_state_that_turns():
    """Speed opens the gap of a hub in the states that turn only, be its density known or not."""
    states = (State("rest"), State("slow", speed=1.0), State("fast", speed=900.0))
    hub = replace(STEEL, density=None)
    for one in (STEEL, hub):
        found = evaluate(bonded(*states, hub_material=one), "joint").numbers["opens_by"]
        columns = np.broadcast_to(found, (*found.shape[:-1], 4)).reshape(-1, 4)
        assert (columns[:, 0] == 0.0).all()
    turning = evaluate(bonded(*states), "joint").numbers["opens_by"].reshape(-1, 4).max(axis=0)
    assert turning[1] > 0.0
    assert turning[2] == pytest.approx(turning[1] * 900.0**2, rel=1e-9)
