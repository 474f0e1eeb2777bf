"""The running fit."""

from __future__ import annotations

from typing import Any

import pytest
from joints import metal

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Context, SurfaceRef
from fits.features.part import Part
from fits.features.running import Running
from fits.files import loader
from fits.questions.check import check

STEEL = metal(207000.0, 0.29, expansion=11.5e-6, name="steel")
ALUMINIUM = metal(69000.0, 0.33, expansion=23.6e-6, name="aluminium", least=240.0)


def answer(*states: State, **fields: Any):
    given = {"hole": "50 H7", "shaft": "50 f7", "hub_material": ALUMINIUM, "shaft_material": STEEL, **fields}
    return check(Part("test", {"guide": Running(**given)}, states or (State("shop"),)))


def rule(found, name: str):
    return next(one for one in found.features[0].checks if one.rule == name)


def clearance(found, state: str = "shop"):
    return next(value for value in found.features[0].values if value.name == "clearance").states[state]


def test_clearance_of_limits():
    # 50 H7/f7: 50.000/50.025 and 49.950/49.975 (ISO 286-2)
    got = clearance(answer(clearance_at_least=0.02))
    assert (got.least, got.greatest) == pytest.approx((0.025, 0.075))


def test_without_limits_there_is_no_duty():
    found = answer()
    assert found.verdict == "not covered"
    assert "no duty to judge" in found.features[0].not_covered[0]
    assert rule(found, "never binds").verdict == "pass"


def test_binding_always_fails():
    assert answer(shaft="50 p6").verdict == "fail"


def test_heat_opens_an_aluminium_bore_and_cold_closes_it():
    found = answer(State("hot", 120.0, 120.0), State("cold", -80.0, -80.0), clearance_at_least=0.0)
    shift = 50.0 * (23.6e-6 - 11.5e-6) * 100.0
    assert clearance(found, "hot").least == pytest.approx(0.025 + shift, rel=0.01)
    assert clearance(found, "cold").least == pytest.approx(0.025 - shift, rel=0.02)
    assert rule(found, "never binds").verdict == "fail"
    assert rule(found, "never binds").state == "cold"


def test_growth_under_pressure_is_inside_the_clearance():
    pressed = State("working", pressure=20.0)
    known = answer(pressed, hub_outside="80", clearance_at_most=0.2)
    grown = 20.0 * 50.025 / 69000.0 * ((80.0**2 + 50.025**2) / (80.0**2 - 50.025**2) + 0.33)
    shrunk = 20.0 * 49.95 * 0.71 / 207000.0
    assert clearance(known, "working").greatest == pytest.approx(0.075 + grown + shrunk, rel=1e-6)
    assert rule(known, "wall stands the pressure").verdict == "pass"


def test_unknown_wall_under_pressure_leaves_the_most_clearance_open():
    pressed = State("working", pressure=20.0)
    found = answer(pressed, clearance_at_least=0.01, clearance_at_most=0.2)
    assert rule(found, "most clearance").verdict == "not covered"
    assert "hub_outside not given" in rule(found, "most clearance").why_not
    assert rule(found, "least clearance").verdict == "pass"
    assert rule(answer(pressed, clearance_at_most=0.05), "most clearance").verdict == "fail"


def test_the_wall_has_a_factor_of_one_and_a_half_but_at_proof():
    limits = {
        state.name: rule(answer(state, hub_outside="80", clearance_at_least=0.0), "wall stands the pressure").limit
        for state in (State("working", pressure=20.0), State("proof", pressure=20.0, proof=True))
    }
    assert limits == {"working": pytest.approx(160.0), "proof": pytest.approx(240.0)}


def test_metals_are_needed_only_away_from_20():
    none = {"hub_material": None, "shaft_material": None}
    assert answer(clearance_at_least=0.01, **none).verdict == "pass"
    hot = answer(State("hot", 60.0, 60.0), clearance_at_least=0.01, **none)
    assert hot.verdict == "not covered"
    assert "hub_material not given" in rule(hot, "least clearance").why_not


@pytest.mark.parametrize(("fields", "key", "says"), [
    ({"shaft_bore": "1.5/0"}, "shaft_bore", "a bore with limits is above 0; a solid part has none"),
    ({"hole": SurfaceRef("liner", "shaft_bore"), "hub_outside": "80"}, "hub_outside", "the hole stands on liner.shaft_bore: its wall is that feature's"),
])
def test_what_cannot_be(fields: dict[str, Any], key: str, says: str):
    with pytest.raises(InputError) as caught:
        loader.feature(Running, {"hole": "50 H7", "shaft": "50 f7", **fields}, Context())
    assert [(fault.key, says in str(fault)) for fault in caught.value.faults] == [(key, True)]


def test_one_temperature_in_all_states_is_cautioned():
    texts = answer(State("hot", 80.0, 80.0), clearance_at_least=0.01).features[0].cautions
    assert any("warms faster" in text for text in texts)
