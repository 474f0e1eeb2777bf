"""What each alternative to a press would need, by hand, and when it is shown."""

from __future__ import annotations

import csv
import io
import math
from typing import Any

import pytest
from joints import metal, press_part

from fits.features.beside import Alternative
from fits.features.feature import State
from fits.questions.check import check
from fits.questions.fit_window import fit_window
from fits.questions.window import window
from fits.sizes.limits import Limits

STEEL = metal(207000.0, 0.29, expansion=11.5e-6, name="steel", least=300.0)
ALUMINIUM = metal(69000.0, 0.33, expansion=23.6e-6, name="aluminium", least=240.0)
HOT = State("hot", 120.0, 120.0)


def exact(value: float) -> Limits:
    return Limits(value, value)


def part(*states: State, **fields: Any):
    given = {"hole": exact(20.0), "shaft": exact(20.01), "hub_outside": exact(60.0), "length": exact(25.0),
             "hub_material": ALUMINIUM, "shaft_material": STEEL, **fields}
    return press_part(states or (HOT,), **given)


def found(*states: State, **fields: Any) -> dict[str, Alternative]:
    return {one.name: one for one in check(part(*states, **fields)).features[0].alternatives}


def need(one: Alternative, label: str) -> float:
    (value,) = (need.value for need in one.needs if label in need.label)
    return value


def test_a_press_that_holds_has_none():
    answer = check(part(State("shop"), axial_load=100.0))
    assert answer.verdict == "pass"
    assert answer.features[0].alternatives == ()


def test_the_bond_by_hand():
    """3000 N and 40 N*m at 10 mm: 5000 N; twice that over pi 20 25 mm2; gap 20 x 12.1e-6 x 100 K."""
    bond = found(axial_load=3000.0, torque=40000.0)["bonded slip fit"]
    assert need(bond, "shear strength") == pytest.approx(2.0 * 5000.0 / (math.pi * 20.0 * 25.0))
    assert need(bond, "heat limit") == 120.0
    assert need(bond, "opens its gap") == pytest.approx(20.0 * 12.1e-6 * 100.0)
    assert need(bond, "ends slide") == pytest.approx(12.5 * 12.1e-6 * 100.0)
    assert any("data sheet" in text for text in bond.unknown)
    # The kind of its own asks for the same strength: 2 sqrt(3000^2 + 4000^2) on the same face.
    from fits.features.bonded import Bonded
    from fits.features.part import Part

    glued = Bonded(hole=exact(20.0), shaft=exact(19.999999), hub_outside=exact(60.0), length=exact(25.0),
                   hub_material=STEEL, shaft_material=STEEL, axial_load=3000.0, torque=40000.0)
    (rule,) = (one for one in check(Part("glued", {"one": glued})).features[0].checks if one.rule == "holds its load")
    assert rule.limit == pytest.approx(need(bond, "shear strength") * math.pi * 20.0 * 25.0, rel=1e-6)


def test_the_shoulder_by_hand():
    """30 kN on a ring at 240/1.5 = 160 MPa: 187.5 mm2 of a 20 mm end; height from its area."""
    step = found(axial_load=30000.0)["shoulder"]
    height = need(step, "height")
    assert math.pi * (20.0 - height) * height * 160.0 == pytest.approx(30000.0)
    flange = found(axial_load=30000.0)["flanged inner part"]
    outside = need(flange, "outside")
    assert math.pi / 4.0 * (outside**2 - 400.0) * 160.0 == pytest.approx(30000.0)
    assert math.pi * 20.01 * need(flange, "thickness") * 160.0 / math.sqrt(3.0) == pytest.approx(30000.0)
    assert need(found(axial_load=30000.0)["bolted flange or split clamp"], "preload") == pytest.approx(45000.0)


def test_a_wall_too_thin_for_the_shoulder_is_said():
    """A tube 19.6/20 mm has 12.4 mm2 of end: 2 kN at 160 MPa needs 12.5."""
    step = found(axial_load=2000.0, shaft_bore=exact(19.6), hub_outside=exact(60.0))["shoulder"]
    assert not [one for one in step.needs if "height" in one.label]
    assert any("no height is enough" in text for text in step.unknown)


def test_thrust_of_the_fluid_counts():
    """10 MPa on 20 mm pushes a plug with 3142 N."""
    step = found(State("hot", 120.0, 120.0, pressure=10.0))["shoulder"]
    assert need(step, "along the axis") == pytest.approx(math.pi / 4.0 * 400.0 * 10.0)


def test_torque_asks_for_a_key_and_no_load_for_nothing_along_the_axis():
    turned = found(torque=40000.0)
    assert need(turned["key or dowel in the joint"], "around") == pytest.approx(4000.0)
    assert "shoulder" not in turned
    assert turned["bolted flange or split clamp"].needs == ()


def test_the_sleeve_takes_the_loss_to_heat():
    assert need(found()["sleeve that grows like the inner part"], "loss to heat") == pytest.approx(0.0242)
    assert "sleeve that grows like the inner part" not in found(hub_material=STEEL, shaft=exact(19.99))


def test_a_typical_yield_bears_nothing():
    from fits.materials.metals import metal as of_table

    step = found(hub_material=of_table("7075-T6"), axial_load=3000.0)["shoulder"]
    assert not [one for one in step.needs if "height" in one.label]
    assert "least yield of 7075-T6" in step.unknown


def test_a_hot_yield_that_is_unknown_bears_nothing():
    from fits.materials.metals import metal as of_table

    metal_ = of_table("5083")
    step = found(State("hot", 60.0, 60.0), hub_material=metal_, axial_load=3000.0, shaft=exact(19.99))["shoulder"]
    assert not [one for one in step.needs if "height" in one.label]
    assert any("5083" in text for text in step.unknown)


def test_not_covered_for_holding_shows_them_too():
    open_ = part(State("shop"), axial_load=100.0, roughness_hole=None)
    answer = check(open_)
    assert answer.verdict == "not covered"
    assert {one.name for one in answer.features[0].alternatives} >= {"bonded slip fit", "shoulder"}


def test_on_the_screen_in_json_and_in_csv(fits):
    ran = fits("check", "examples/water_sampler.toml")
    assert "Instead of it, what each would need" in ran.out
    assert "bonded slip fit: shear strength when hottest" in ran.out
    data = fits("check", "examples/water_sampler.toml", "--json").json["features"]["tube"]["alternatives"]
    bond = next(one for one in data if one["name"] == "bonded slip fit")
    heat = next(one for one in bond["needs"] if one["label"].startswith("heat limit"))
    # 300 degF.
    assert heat == {"label": "heat limit of the compound", "sense": "at least", "unit": "degC",
                    "value": pytest.approx(148.889, abs=1e-3)}
    assert bond["not_covered"]
    rows = list(csv.DictReader(io.StringIO(fits("check", "examples/water_sampler.toml", "--csv").out)))
    named = [row for row in rows if row["row"] == "alternative"]
    assert {row["name"] for row in named} == {one["name"] for one in data}
    assert any(row["verdict"] == "not covered" for row in named)


def test_a_window_that_is_none_shows_them(fits):
    ran = fits("window", "examples/water_sampler.toml", "tube.shaft")
    assert ran.status == 1
    assert "Instead of it, what each would need" in ran.out
    assert fits("window", "examples/water_sampler.toml", "tube.shaft", "--json").json["windows"][0]["alternatives"]
    assert window(part(axial_load=1e6), "joint.shaft").alternatives
    assert not window(part(State("shop"), axial_load=100.0), "joint.shaft").alternatives


def test_the_rule_of_thumb_beside_the_window():
    """0.001 of 20 mm is 0.02: aluminium at 120 degC eats 0.0242, cold it holds."""
    (hot,) = [one for one in fit_window(part(), "joint").notes if one.startswith("rule of thumb")]
    assert "0.0200 mm, is not held" in hot
    assert "interference is kept fails in hot" in hot
    (cold,) = [one for one in fit_window(part(State("shop")), "joint").notes if one.startswith("rule of thumb")]
    assert "lies inside the window" in cold


def test_bearing_40_in_6061_hot(fits):
    """A 40 mm bearing in 6061 at 80 degC, N7: heat takes 0.028 mm, N7 has 0.008 to 0.033: offered instead."""
    ran = fits("press", "--hole", "40 N7", "--shaft", "bearing 40", "--shaft-bore", "34", "--hub-outside", "80",
               "--length", "12", "--hub-material", "6061-T6", "--shaft-material", "52100", "--roughness-hole", "3 um",
               "--roughness-shaft", "1 um", "--state", "hot: 80 degC", "--json")
    assert ran.status == 1
    data = {one["name"]: one for one in ran.json["features"]["press"]["alternatives"]}
    assert {"bonded slip fit", "bolted flange or split clamp", "sleeve that grows like the inner part"} <= set(data)
    (lost,) = (one["value"] for one in data["sleeve that grows like the inner part"]["needs"])
    assert lost == pytest.approx(0.0278, abs=0.0015)
