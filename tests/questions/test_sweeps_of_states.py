"""A state that is swept asks all that the state would be asked if it were typed: its edges are tried by typing them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from glands import part as gland_part

from fits.features.bonded import Bonded
from fits.features.feature import State
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.check import check
from fits.questions.window import Window, window

ROOM = State("shop")
PISTON = {"ring": "AS568-214", "elastomer": "NBR 70", "hub_material": "316", "shaft_material": "316"}
WALLED = {"hole": "20 H7", "shaft": "20 f7", "hub_outside": "40", "hub_material": "6061-T6", "shaft_material": "6061-T6", "clearance_at_least": 0.001}
BONDED = {
    "hole": "16 H8", "shaft": "15.960/15.940", "hub_outside": "32 ±0.1", "length": "2", "gap_least": 0.02, "gap_most": 1.0, "bond_shear": 20.0, "bond_heat": 400.0,
    "bond_strain": 1.0, "axial_load": 1.0, "hub_material": "6061-T6", "shaft_material": "1045 normalised",
}
PRESS = {"hole": "16 H6", "shaft": "16.060/16.050", "shaft_bore": "12 ±0.02", "hub_outside": "32 ±0.1", "length": "40", "hub_material": "6061-T6", "shaft_material": "17-4PH H1025"}


def rules(found: Window) -> dict[str, tuple[tuple[float, float], ...]]:
    """The intervals in which each rule holds, the narrowest where several columns have one."""
    narrow: dict[str, tuple[tuple[float, float], ...]] = {}
    for one in found.rules:
        width = sum(high - low for low, high in one.intervals)
        if one.rule not in narrow or width < sum(high - low for low, high in narrow[one.rule]):
            narrow[one.rule] = one.intervals
    return narrow


def typed(part: Part, **changes: float) -> str:
    """The verdict with a state's numbers typed."""
    return check(replace(part, states=(part.states[0]._replace(**changes), *part.states[1:]))).verdict


@pytest.mark.parametrize("which", ["temperature", "hub_temperature", "shaft_temperature"])
def test_rubber_is_asked_at_the_temperature_of_either_part(which: str):
    part = gland_part("piston", (ROOM,), **PISTON)
    found = rules(window(part, f"shop.{which}", ways_out=False))
    lowest = found["rubber stands the cold"][0][0]
    keys = ("hub_temperature", "shaft_temperature") if which == "temperature" else (which,)
    (cold,) = (one for one in check(replace(part, states=(State("shop", lowest - 0.5, lowest - 0.5),))).features[0].checks if one.rule == "rubber stands the cold")
    assert (cold.verdict, cold.limit) == ("fail", pytest.approx(lowest, abs=1e-3))
    # In a hot or a cold part the ring is as hot or as cold as that one may be: never "anywhere".
    assert found["rubber stands the heat"][-1][1] < 200.0
    assert found["gland isn't overfilled"][-1][1] < 300.0
    hot = found["gland isn't overfilled"][-1][1]
    typed_hot = State("shop", **dict.fromkeys(keys, hot + 0.5))
    fill = next(one for one in check(replace(part, states=(typed_hot,))).features[0].checks if one.rule == "gland isn't overfilled")
    assert fill.verdict != "pass"


@pytest.mark.parametrize("which", ["hub_temperature", "shaft_temperature", "temperature"])
def test_a_temper_is_asked_of_either_part_that_gets_hot(which: str):
    part = Part("test", {"it": Bonded(**BONDED)}, (State("shop", 20.0, 50.0),))
    found = window(part, f"shop.{which}", ways_out=False)
    assert rules(found)["aged aluminium keeps its temper"][-1][1] == pytest.approx(100.0, abs=1e-3)
    assert found.intervals[-1][1].at <= 100.0


@pytest.mark.parametrize(("quantity", "own"), [("pressure", {"pressure": 200.0}), ("temperature", {"hub_temperature": 180.0, "shaft_temperature": 180.0})])
def test_a_feature_keeps_what_its_own_state_says(quantity: str, own: dict[str, float]):
    """What a feature has of its own is not what is swept: where that fails there is no window."""
    state = State("working", pressure=2.0)
    part = Part("test", {"a": Running(**WALLED)}, (state,), {"a": (state._replace(**own),)})
    assert check(part).verdict != "pass"
    found = window(part, f"working.{quantity}", ways_out=False)
    assert not found.intervals
    plain = window(replace(part, of_feature={}), f"working.{quantity}", ways_out=False)
    assert plain.intervals


def test_only_the_temperature_of_its_own_is_kept():
    """A hub of its own temperature is swept in the shaft alone."""
    state = State("working", 20.0, 20.0)
    part = Part("test", {"a": Running(**WALLED)}, (state,), {"a": (state._replace(hub_temperature=60.0),)})
    top = rules(window(part, "working.temperature", ways_out=False))["never binds"][-1][1]
    alone = rules(window(replace(part, states=(State("working", 60.0, 20.0),), of_feature={}), "working.shaft_temperature", ways_out=False))["never binds"][-1][1]
    assert top == pytest.approx(alone, abs=1e-6)


def test_a_hollow_shaft_at_rest_beyond_its_modulus_is_not_covered_and_no_fault():
    part = Part("test", {"a": Running(**WALLED, shaft_bore="10")}, (State("hot", 350.0, 350.0), State("working", pressure=2.0)))
    assert check(part).verdict == "not covered"
    (collapse,) = (one for one in check(part).features[0].checks if one.rule == "hollow shaft can't collapse")
    assert (collapse.verdict, collapse.state) == ("pass", "working")
    assert window(part, "hot.temperature", ways_out=False).intervals


def test_what_stands_on_a_bore_that_is_not_covered_has_no_size(fits, tmp_path):
    text = """
[press.liner]
hole = "24 H6"
shaft = "24.040/24.030"
shaft_bore = "20 ±0.02"
hub_outside = "60"
length = "40"
hub_material = "6061-T6"
shaft_material = "1045 normalised"
ends = "stuck"
assembly = "heated"
[running.plunger]
hole = "liner.shaft_bore"
shaft = "19.93 -0.1/-0.12"
clearance_at_least = "0.001 mm"
"""
    path = tmp_path / "part.toml"
    path.write_text(text, encoding="utf-8")
    found = fits("check", str(path), "--json")
    assert (found.status, found.err) == (1, "")
    assert "hole" not in found.json["features"]["plunger"]["sizes"]
    assert found.json["features"]["plunger"]["verdict"] == "not covered"
    assert fits("check", str(path)).status == 1
    assert fits("sheet", str(path), "-o", str(tmp_path / "sheet.html")).status == 1


def test_pressure_at_the_proof_alone_is_drawn_without_it(fits, tmp_path):
    lines = "\n".join(f'{key} = "{value}"' for key, value in {**PRESS, "ends": "body", "roughness_hole": "0.8 um", "roughness_shaft": "0.8 um"}.items())
    path = tmp_path / "part.toml"
    path.write_text(f'[states.proof]\ntemperature = "20 degC"\npressure = "12 MPa"\nproof = true\n[states.shop]\ntemperature = "20 degC"\n[press.liner]\n{lines}\n', encoding="utf-8")
    assert fits("sheet", str(path), "-o", str(tmp_path / "sheet.html")).status == fits("check", str(path)).status == 0


@pytest.mark.parametrize("ends", ["body", "stuck", "open"])
def test_a_pressure_swept_from_none(ends: str):
    part = Part("test", {"joint": Press(**PRESS, ends=ends)}, (ROOM,))
    found = window(part, "shop.pressure")
    assert not found.intervals
    assert found.no_window.startswith("interference is kept (joint, shop) is not covered whatever shop.pressure is")
    smooth = Part("test", {"joint": Press(**PRESS, ends="body", roughness_hole=0.0, roughness_shaft=0.0)}, (ROOM,))
    ((low, high),) = [(low.at, high.at) for low, high in window(smooth, "shop.pressure", ways_out=False).intervals]
    assert low == 0.0
    assert typed(smooth, pressure=high * (1.0 - 1e-6)) == "pass"
    assert typed(smooth, pressure=high * 1.001) != "pass"


def test_a_window_narrower_than_the_search_is_found_where_it_is():
    """Metals that grow apart on a stiff bond hold within half a degree of each other only."""
    part = Part("test", {"it": Bonded(**{**BONDED, "length": "40", "gap_most": 0.3, "bond_strain": 0.015})}, (ROOM,))
    assert check(part).verdict == "pass"
    for which in ("hub_temperature", "shaft_temperature"):
        ((low, high),) = [(low.at, high.at) for low, high in window(part, f"shop.{which}", ways_out=False).intervals]
        assert 18.0 < low < 20.0 < high < 22.0
        for inside, outside in ((low + 1e-3, low - 1e-2), (high - 1e-3, high + 1e-2)):
            assert typed(part, **{which: inside}) == "pass"
            assert typed(part, **{which: outside}) == "fail"


@pytest.mark.parametrize(("field", "most", "why"), [("form_hole", 0.021, "limits contain the form error"), ("hole", 19.95 / 0.95, "can't belong together")])
def test_a_window_ends_where_a_file_may_not_say_more(field: str, most: float, why: str):
    part = Part("test", {"a": Running(hole="20 H7", shaft="20/19.9")}, (ROOM,))
    found = window(part, f"a.{field}", ways_out=False)
    assert found.target.high == pytest.approx(most, rel=2e-3)
    assert why in found.target.high_why


@pytest.mark.parametrize("field", ["heat_to", "chill_to", "oven", "carry_time", "safety_yield", "friction_hold", "coating_share", "interference_at_least"])
def test_a_number_that_was_not_given_is_looked_for_within_its_bounds(field: str):
    from fits.errors import InputError
    from fits.questions.targets import target_of

    part = Part("test", {"joint": Press(**PRESS, assembly="heated")}, (ROOM,))
    try:
        target = target_of(part, f"joint.{field}")
    except InputError as error:
        assert "does not count" in str(error)
    else:
        assert target.low <= target.centre <= target.high


def test_what_a_file_would_be_told_of_a_number():
    from fits.questions.targets import _fault

    part = Part("test", {"joint": Press(**PRESS, friction_hold=0.1), "a": Running(hole="20 H7", shaft="20 f7")}, (ROOM,))
    assert _fault(part, "joint", "friction_hold", 0.2) is None
    assert "must be above 0" in (_fault(part, "joint", "friction_hold", 0.0) or "")
    assert "can't belong together" in (_fault(part, "a", "hole", 30.0) or "")
    assert _fault(part, "a", "hole", 20.2) is None
