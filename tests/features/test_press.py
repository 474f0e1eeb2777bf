"""The press fit: what moves with what, what is missing, what fails."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from joints import metal, numbers, press_part

from fits.features.feature import State
from fits.features.part import Part
from fits.features.press import Press
from fits.questions.check import check
from fits.questions.evaluate import evaluate
from fits.sizes.limits import Limits

STEEL = metal(207000.0, 0.29, expansion=11.5e-6, density=7850.0, name="steel")
ALUMINIUM = metal(69000.0, 0.33, expansion=23.6e-6, density=2700.0, name="aluminium")


def exact(value: float) -> Limits:
    return Limits(value, value)


SHOP = State("shop")


def joint(state: State = SHOP, **changes: Any) -> dict[str, float]:
    fields = {"hole": exact(30.0), "shaft": exact(30.03), "shaft_bore": exact(20.0), "hub_outside": exact(60.0),
              "hub_material": ALUMINIUM, "shaft_material": STEEL, "ends": "open", **changes}
    return numbers(press_part((state,), **fields))


def answer(*states: State, **fields: Any):
    given_ = {"hole": "16 H6", "shaft": "16.060/16.050", "shaft_bore": "12 ±0.02", "hub_outside": "32 ±0.1",
              "length": "40", "hub_material": "6061-T6", "shaft_material": STEEL, "roughness_hole": "3 um",
              "roughness_shaft": "2 um", "friction_hold": 0.1, "friction_press": 0.2, "ends": "body", **fields}
    kept = {key: value for key, value in given_.items() if value is not None}
    return check(Part("test", {"joint": Press(**kept)}, states or (State("shop"),)))


def rule(found, name: str):
    return next(one for one in found.features[0].checks if one.rule == name)


# Properties

@settings(max_examples=60)
@given(st.floats(0.001, 0.1), st.floats(1.0, 3.0))
def test_pressure_is_proportional_to_interference(fit: float, factor: float):
    one, more = joint(shaft=exact(30.0 + fit)), joint(shaft=exact(30.0 + fit * factor))
    assert more["contact_pressure"] == pytest.approx(factor * one["contact_pressure"], rel=1e-9)


@settings(max_examples=60)
@given(st.floats(0.05, 20.0))
def test_the_same_shape_at_another_scale(scale: float):
    big = joint(hole=exact(30.0 * scale), shaft=exact(30.03 * scale), shaft_bore=exact(20.0 * scale),
                hub_outside=exact(60.0 * scale), length=exact(100.0 * scale))
    one = joint()
    for name in ("contact_pressure", "hub_von_mises", "shaft_von_mises"):
        assert big[name] == pytest.approx(one[name], rel=1e-9)
    assert big["axial_capacity"] == pytest.approx(one["axial_capacity"] * scale * scale, rel=1e-9)


def test_closure_and_growth_make_up_the_interference():
    """What the hub gives and the inner part gives at the interface is the interference (Lamé)."""
    from fits.mechanics import cylinder

    got = joint()
    hub = cylinder.face_strain(radial=-got["contact_pressure"], hoop_stress=got["hub_hoop_at_hole"], axial=0.0,
                               e=69000.0, nu=0.33)
    inner = cylinder.face_strain(radial=-got["contact_pressure"], hoop_stress=got["shaft_hoop_at_surface"],
                                 axial=0.0, e=207000.0, nu=0.29)
    assert 30.0 * (hub - inner) == pytest.approx(0.03, rel=1e-9)


def test_the_wall_is_in_equilibrium():
    got = joint()
    mean = (got["hub_hoop_at_hole"] + got["hub_hoop_outside"]) / 2.0
    # The hoop force in the hub's wall carries the contact pressure on its bore.
    radii = np.linspace(15.0, 30.0, 20001)
    a = got["contact_pressure"] * 15.0**2 / (30.0**2 - 15.0**2)
    assert np.trapezoid(a + a * 30.0**2 / radii**2, radii) == pytest.approx(got["contact_pressure"] * 15.0, rel=1e-7)
    assert mean > 0.0


def test_a_solid_inner_part_is_under_even_pressure():
    got = joint(shaft_bore=None)
    assert got["shaft_hoop_at_surface"] == pytest.approx(-got["contact_pressure"])
    assert got["shaft_von_mises"] == pytest.approx(got["contact_pressure"])
    assert "bore_closure" not in got


def test_zero_bore_is_solid():
    assert joint(shaft_bore="0") == pytest.approx(joint(shaft_bore=None), nan_ok=True)


def test_a_hub_that_grows_more_loses_interference_by_heat():
    hot = joint(State("hot", 120.0, 120.0))
    assert hot["effective_interference"] == pytest.approx(0.03 + 30.0 * (11.5e-6 - 23.6e-6) * 100.0)
    cold = joint(State("cold", -60.0, -60.0))
    assert cold["contact_pressure"] > joint()["contact_pressure"]


def test_a_hot_inner_part_in_a_cold_hub_gains():
    fast = joint(State("start", 20.0, 120.0))
    assert fast["effective_interference"] == pytest.approx(0.03 + 30.0 * 11.5e-6 * 100.0)


def test_coming_loose_by_heat_is_where_nothing_is_left():
    got = joint()
    released = joint(State("loose", got["release_temperature"], got["release_temperature"]))
    assert released["effective_interference"] == pytest.approx(0.0, abs=1e-12)


def test_coming_loose_by_speed_is_where_nothing_is_left():
    got = joint()
    loose = joint(State("loose", speed=got["release_speed"]))
    assert loose["effective_interference"] == pytest.approx(0.0, abs=1e-12)


def test_joining_leaves_the_clearance():
    got = joint()
    assert 23.6e-6 * 30.0 * (got["heat_hub_to"] - 20.0) == pytest.approx(0.03 + 0.001 * 30.0)
    # the room's temperature is never the reference
    assert got["heat_hub_to"] == joint(State("hot", 90.0, 90.0))["heat_hub_to"]


def test_a_loose_fit_has_no_pressure():
    got = joint(shaft=exact(29.99))
    assert got["contact_pressure"] == 0.0
    assert got["press_force"] == 0.0
    assert got["effective_interference"] < 0.0


def test_bore_pressure_opens_the_bore_and_raises_the_contact():
    rest, pressed = joint(), joint(State("working", pressure=20.0))
    assert pressed["contact_pressure"] > rest["contact_pressure"]
    assert pressed["bore_closure"] < rest["bore_closure"]


def test_stuck_ends_feel_the_heat_along_the_axis():
    free, stuck = joint(State("hot", 70.0, 70.0)), joint(State("hot", 70.0, 70.0), ends="stuck", assembly="pressed")
    assert stuck["axial_i"] > 0.0 > stuck["axial_o"]
    assert stuck["axial_i"] * (30.0**2 - 20.0**2) == pytest.approx(-stuck["axial_o"] * (60.0**2 - 30.0**2))
    assert stuck["contact_pressure"] != pytest.approx(free["contact_pressure"], rel=1e-3)


def test_a_spinning_solid_shaft_is_highest_at_its_centre():
    got = joint(State("fast", speed=4000.0), shaft_bore=None, shaft=exact(30.0), hole=exact(30.0))
    assert got["contact_pressure"] == 0.0
    centre = (3.29 / 8.0) * 7850e-12 * 4000.0**2 * 15.0**2
    assert got["shaft_von_mises"] == pytest.approx(centre)


# What is missing is not covered, with its break-even value

def test_missing_roughness_is_not_covered_with_its_break_even():
    found = rule(answer(roughness_hole=None), "interference is kept")
    assert found.verdict == "not covered"
    assert found.why_not.startswith("roughness_hole not given")
    assert "cost at most 0.0390 mm" in found.break_even
    assert rule(answer(roughness_hole="0 um"), "interference is kept").verdict == "pass"


def test_missing_roughness_does_not_stop_a_stress_rule():
    assert rule(answer(roughness_hole=None), "hub stays elastic").verdict == "pass"


def test_break_even_of_friction_just_holds():
    found = rule(answer(friction_hold=None, axial_load="2000 N"), "holds its load")
    assert found.verdict == "not covered"
    even = float(found.break_even.split("at least ")[1])
    assert rule(answer(friction_hold=even * 1.001, axial_load="2000 N"), "holds its load").verdict == "pass"
    assert rule(answer(friction_hold=even * 0.99, axial_load="2000 N"), "holds its load").verdict == "fail"


def test_missing_length_names_the_length_that_would_hold():
    found = rule(answer(length=None, axial_load="2000 N"), "holds its load")
    assert found.verdict == "not covered"
    assert "holds if length is at least" in found.break_even


def test_a_typical_yield_never_passes_but_may_fail():
    mild = rule(answer(shaft_material="4140 QT"), "inner part stays elastic")
    assert mild.verdict == "not covered"
    assert "only a typical yield is known" in mild.why_not
    assert mild.break_even.startswith("holds if allowed stress of the inner part is at least")
    assert rule(answer(shaft_material="321"), "inner part stays elastic").verdict == "fail"


def test_heat_beyond_the_data_is_not_covered():
    found = answer(State("oven", 320.0, 320.0))
    assert rule(found, "interference is kept").verdict == "not covered"
    assert "expansion is known from" in rule(found, "interference is kept").why_not
    values = {value.name: value for value in found.features[0].values}
    assert "oven" not in values["contact_pressure"].states
    assert "as_made" in values["contact_pressure"].states


def test_a_brittle_hub_is_judged_by_tension():
    found = answer(hub_material="Grey iron class 30", hub_outside="60")
    names = [one.rule for one in found.features[0].checks]
    assert "brittle hub is not torn" in names
    assert "hub stays elastic" not in names


def test_ends_not_given_takes_the_worst_of_all():
    open_, every = (answer(State("working", pressure=8.0), ends=ends) for ends in ("open", None))
    for name in ("fluid can't lift it", "hub stays elastic"):
        assert rule(every, name).margin <= rule(open_, name).margin
    assert any("ends not given" in text for text in every.features[0].assumptions)


def test_end_thrust_counts_where_the_inner_part_takes_it():
    held = rule(answer(State("working", pressure=8.0), ends="liner"), "holds its load")
    # 1.5 x 8 MPa on the hole's area, the largest hole of its limits
    assert held.limit == pytest.approx(1.5 * 8.0 * np.pi / 4.0 * 16.011**2, rel=1e-3)


def test_fluid_above_the_contact_pressure_fails():
    assert rule(answer(State("working", pressure=80.0)), "fluid can't lift it").verdict == "fail"


def test_a_weak_press_fails():
    assert rule(answer(press_rating="5 kN"), "press is strong enough").verdict == "fail"
    assert rule(answer(press_rating="50 kN"), "press is strong enough").verdict == "pass"


def test_heating_is_held_against_the_temper():
    assert rule(answer(assembly="heated", friction_hold=0.1), "hub stands the heating").verdict == "fail"
    unknown = rule(answer(assembly="heated", hub_material="2024-T4"), "hub stands the heating")
    assert unknown.verdict == "not covered"


def test_the_bore_after_fitting_is_held_against_its_limits():
    got = {one.rule: one.verdict for one in answer(bore_after="12 +0.01/-0.1").features[0].checks}
    assert got["bore after fitting, least"] == "pass"
    assert got["bore after fitting, most"] == "pass"
    assert rule(answer(bore_after="12.1 ±0.01"), "bore after fitting, least").verdict == "fail"


def test_stuck_ends_of_a_heated_joint_are_not_covered():
    found = answer(State("hot", 70.0, 70.0, 8.0), ends="stuck", assembly="heated")
    assert "the temperature of gripping is unknown" in rule(found, "interference is kept").why_not or (
        rule(found, "hub stays elastic").verdict == "not covered")


def test_a_plan_never_heats_above_the_temper():
    texts = [step.range for step in answer(assembly=None).features[0].plan]
    assert any("6061-T6 stands 175 degC" in text for text in texts)


def test_nothing_to_hold_is_not_asked():
    found = answer()
    assert any(text.startswith("holds its load") for text in found.features[0].not_asked)


def test_a_bore_wanted_after_fitting_is_swept_like_any_size():
    part = press_part(
        hole=16.0, shaft=16.05, shaft_bore=12.0, hub_outside=32, hub_material=metal(70000.0, 0.33),
        shaft_material=metal(200000.0, 0.29), bore_after="12 ±0.5",
    )
    values = ["fitted_bore", "bore_after_least", "bore_after_most"]
    found = evaluate(part, "joint", values=values)
    assert (found.numbers["bore_after_least"].max(), found.numbers["bore_after_most"].min()) == (11.5, 12.5)
    wanted = np.array([11.9, 12.0, 12.1]).reshape(-1, 1, 1)
    found = evaluate(part, "joint", values=values, given={"joint.bore_after": wanted})
    assert np.array_equal(found.numbers["bore_after_least"], wanted)
    assert np.array_equal(found.numbers["bore_after_most"], wanted)


@pytest.mark.parametrize(("most", "said"), [("40.104", False), ("40.116", True)])
def test_a_heat_that_spoils_the_temper_is_told_beside_the_bench_numbers(most: str, said: bool):
    """6061-T6 stands 175 degC: about 24.2e-6 x 155 K x 40 mm = 0.150 mm, less 0.040 for the joining clearance."""
    shaft = f"{most}/40.080"
    found = answer(assembly="pressed", hole="40 H7", shaft=shaft, shaft_bore="20", hub_outside="90")
    texts = found.features[0].cautions
    assert any("Do not heat the hub as far as the bench numbers go" in text for text in texts) is said
    roomy = answer(assembly="pressed", hole="40 H7", shaft=shaft, shaft_bore="20", hub_outside="90", joining_clearance="0.02 to 0.025")
    # 0.116 and 0.025 are less than 0.150.
    assert not any("Do not heat" in text for text in roomy.features[0].cautions)
    # A hard coat of 20 um, half of it on the face, closes the hole by 0.020 mm.
    coated = answer(assembly="pressed", hole="40 H7", shaft=shaft, shaft_bore="20", hub_outside="90", coating_hole="0.02", coating_share="0.5")
    assert any("Do not heat" in text for text in coated.features[0].cautions)
    unknown = answer(assembly="pressed", hole="40 H7", shaft=shaft, shaft_bore="20", hub_outside="90", hub_material=metal(70000.0, 0.33, expansion=24e-6))
    assert not any("Do not heat" in text for text in unknown.features[0].cautions)
