"""Glands: the loop by hand, every state, both ends of the squeeze, gaps, refusals, never a wrong pass."""

from __future__ import annotations

from typing import Any

import mpmath
import numpy as np
import pytest
from glands import COLD, HOT, SHOP, STATES, WHOLE, gland, numbers, part
from hypothesis import given, settings
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Context, SurfaceRef
from fits.features.gland import tabled
from fits.features.kinds import KINDS, kind
from fits.features.part import Part
from fits.files import loader
from fits.materials.elastomers import elastomer
from fits.questions.check import check
from fits.questions.drawn import with_drawings
from fits.questions.evaluate import evaluate, relevant
from fits.questions.window import window
from fits.shop.rings import ring

FORMS = [name.partition(" ")[2] for name in KINDS if name.startswith("gland ")]
PSI = 0.006894757293168
EXACT: dict[str, Any] = {
    "bore": "31", "piston_diameter": "30.9", "groove_diameter": "25.4", "groove_width": "5", "corner_radius": "0.4", "swell": "0", "compression_set": "0.2",
    "hub_outside": "45",
}


def verdicts(of: Part) -> dict[str, str]:
    return {one.rule: one.verdict for one in check(of).features[0].checks}


def found(of: Part, rule: str) -> Any:
    return next(one for one in check(of).features[0].checks if one.rule == rule)


@pytest.mark.parametrize("form", FORMS)
def test_a_whole_gland_passes(form: str):
    answer = check(part(form))
    assert answer.verdict == "pass", [(c.rule, c.verdict, c.worst, c.limit) for c in answer.features[0].checks if c.verdict != "pass"]
    assert len(answer.features[0].checks) >= 12
    assert answer.features[0].plan


def spans_of(of: Part, name: str, state: str) -> tuple[float, float]:
    one = next(value for value in check(of).features[0].values if value.name == name)
    return one.states[state].least, one.states[state].greatest


# --- the loop by hand -------------------------------------------------------------------------


def test_a_piston_at_20_degrees_by_hand():
    of = part("piston", (SHOP,), **EXACT)
    low, high = numbers(of, ring_end=0.0, **{"ring.inside": 25.0, "ring.section": 3.5}), numbers(of, ring_end=1.0, **{"ring.inside": 25.0, "ring.section": 3.5})
    depth, shift = (31.0 - 25.4) / 2, 0.1 / 2
    assert low["gland_depth"] == pytest.approx(depth)
    assert low["stretch"] == pytest.approx(0.4 / 25.0)
    # 1.6 % stretch: 0.01 + 1.06 x 1.6 - 0.1 x 1.6^2 = 1.45 % lost across the squeeze.
    thin = 3.5 * (1 - 0.01450)
    assert low["ring_section"] == pytest.approx(thin, abs=1e-9)
    assert low["squeeze_depth"] == pytest.approx(thin - depth - shift)
    assert low["squeeze"] == pytest.approx((thin - depth - shift) / 3.5)
    same = mpmath.findroot(lambda d: d**2 * (25.4 + d) - 3.5**2 * 28.5, 3.5)
    assert high["squeeze_depth"] == pytest.approx(float(same) - depth + shift)
    # Near depth: the bore cancels, (30.9 - 25.4)/2.
    assert high["ring_section"] - high["squeeze_depth"] == pytest.approx((30.9 - 25.4) / 2)
    assert high["fresh_squeeze"] == pytest.approx((3.5 - depth) / 3.5)
    assert low["extrusion_gap"] == pytest.approx(0.1)


def test_fill_of_a_piston_gland_by_quadrature():
    """The ring's torus in the groove of revolution, its bottom radii and the gap above it."""
    of = part("piston", (SHOP,), **EXACT)
    got = numbers(of, **{"ring.inside": 25.0, "ring.section": 3.5})["fill"]

    def width(z: mpmath.mpf) -> mpmath.mpf:
        return 5 - 2 * (mpmath.mpf("0.4") - mpmath.sqrt(mpmath.mpf("0.4") ** 2 - (mpmath.mpf("0.4") - z) ** 2)) if z < 0.4 else mpmath.mpf(5)

    groove = mpmath.quad(lambda z: 2 * mpmath.pi * (mpmath.mpf("12.7") + z) * width(z), [0, 0.4, 2.75, 2.8])
    torus = mpmath.quad(lambda x: 2 * mpmath.pi * (mpmath.mpf("14.25") + x) * 2 * mpmath.sqrt(mpmath.mpf("1.75") ** 2 - x**2), [-1.75, 0, 1.75])
    assert got == pytest.approx(float(torus / groove), rel=1e-9)


def test_a_rod_gland_mirrors_a_piston_gland():
    """The same loop inside out: depth, shift and gap alike."""
    of = part("rod", (SHOP,), rod="25.4", housing_bore="25.5", groove_diameter="31", groove_width="5", corner_radius="0.4", swell="0")
    at = numbers(of, ring_end=0.0, **{"ring.inside": 25.0, "ring.section": 3.5})
    assert at["gland_depth"] == pytest.approx(2.8)
    assert at["ring_section"] - at["squeeze_depth"] == pytest.approx(2.8 + 0.05)
    assert at["stretch"] == pytest.approx(0.4 / 25.0)
    assert at["outside_compression"] == pytest.approx((32.0 - 31.0) / 32.0)
    assert at["extrusion_gap"] == pytest.approx(0.1)


def test_ways_to_say_the_depth_agree():
    depth = part("piston", (SHOP,), **{**EXACT, "groove_diameter": None, "gland_depth": "2.8"})
    cut = part("piston", (SHOP,), **{**EXACT, "groove_diameter": None, "groove_depth": "2.75"})
    first, second, third = (numbers(one) for one in (part("piston", (SHOP,), **EXACT), depth, cut))
    for name, value in first.items():
        assert second[name] == pytest.approx(value, nan_ok=True), name
        assert third[name] == pytest.approx(value, nan_ok=True), name


def test_ways_to_say_the_depth_of_a_rod_gland_agree():
    """The same bottom at 31.54: 0.5 (31.54 - 25.2) above the rod, 0.5 (31.54 - 25.3) cut into the bore."""
    exact = {"rod": "25.2", "housing_bore": "25.3"}
    given_ = ({"groove_diameter": "31.54"}, {"groove_diameter": None, "gland_depth": "3.17"}, {"groove_diameter": None, "groove_depth": "3.12"})
    first, *others = (numbers(part("rod", (SHOP,), **exact, **one)) for one in given_)
    assert first["gland_depth"] == pytest.approx(3.17)
    for other in others:
        for name, value in first.items():
            assert other[name] == pytest.approx(value, nan_ok=True), name


def test_a_face_takes_two_of_three_sizes():
    walls = part("face", (SHOP,), groove_outside="75.4", groove_inside="65.0", groove_width=None)
    width = part("face", (SHOP,), groove_outside="75.4", groove_width="5.2")
    for name, value in numbers(walls).items():
        assert numbers(width)[name] == pytest.approx(value, nan_ok=True), name
    with pytest.raises(InputError, match="two of groove_outside"):
        loader.feature(kind("gland face"), {**WHOLE["face"], "groove_inside": "65"}, Context())


def test_the_pressure_side_decides_the_wall():
    inside = verdicts(part("face", (SHOP,)))
    outside = verdicts(part("face", (SHOP,), pressure_side="outside", groove_outside=None, groove_inside="70.2 ±0.05"))
    assert "reaches its wall" in inside
    assert "ring sits on its seat" not in inside
    assert "ring sits on its seat" in outside
    assert "reaches its wall" not in outside


# --- states: heat, swell, set, pressure --------------------------------------------------------


def test_ring_grows_before_it_meets_its_seat():
    """Inside and section both go to temperature and swell; by hand with typed expansions."""
    metal = {"youngs_modulus": "70 GPa", "poisson": "0.33", "expansion": "20e-6 1/K", "yield_strength": "300 MPa"}
    rubber = {"based_on": "NBR 70", "expansion": "150e-6 1/K"}
    of = part("piston", (State("hot", 80.0, 80.0),), **{**EXACT, "swell": "0.06"}, elastomer=rubber, hub_material=metal, shaft_material=metal)
    at = numbers(of, "hot", ring_end=1.0, swell_share=1.0, **{"ring.inside": 25.0, "ring.section": 3.5})
    grown, hot = (1 + 150e-6 * 60) * 1.06 ** (1 / 3), 1 + 20e-6 * 60
    inside, section = 25.0 * grown, 3.5 * grown
    seat = 25.4 * hot
    assert at["stretch"] == pytest.approx((seat - inside) / inside)
    same = float(mpmath.findroot(lambda d: d**2 * (seat + d) - section**2 * (inside + section), 3.5))
    assert at["ring_section"] == pytest.approx(same)
    assert at["gland_depth"] == pytest.approx(2.8 * hot)
    assert at["squeeze"] == pytest.approx((same - (30.9 - 25.4) / 2 * hot) / section)
    fresh = numbers(of, "as_made", **{"ring.inside": 25.0, "ring.section": 3.5})
    assert fresh["fill"] * grown**3 / hot**3 == pytest.approx(at["fill"])


def test_set_is_earned_hot_and_missed_cold():
    """25 % hot, 12 % cold, set 40 %: 2 % is left, not 7 %."""
    from fits.mechanics import ring as equations

    assert pytest.approx(0.02) == 0.12 - 0.4 * 0.25
    of = part("piston", (SHOP, COLD, HOT), **{**EXACT, "compression_set": "0.4"})
    cold, hot = (numbers(of, name, ring_end=end, **{"ring.inside": 25.0, "ring.section": 3.5, "pressure_share": 0.0}) for name, end in (("cold", 0.0), ("hot", 1.0)))
    assert cold["squeeze_left"] == pytest.approx(cold["squeeze_depth"] - 0.4 * hot["squeeze_depth"])
    assert cold["squeeze_left"] < cold["squeeze_depth"] * 0.6
    assert equations.stretch(25.4, 25.0) > 0


def test_set_is_earned_swollen_and_missed_dry():
    """Whatever the others do: dry and cold and under pressure less what swollen, hot and idle earned."""
    of = part("piston", (COLD, HOT), **{**EXACT, "swell": "0.08", "compression_set": "0.3"})
    ring_ = {"ring.inside": 25.0, "ring.section": 3.5}
    cold = numbers(of, "cold", ring_end=0.0, swell_share=0.0, pressure_share=1.0, **ring_)
    hot = numbers(of, "hot", ring_end=1.0, swell_share=1.0, pressure_share=0.0, **ring_)
    exact = cold["squeeze_depth"] - 0.3 * hot["squeeze_depth"]
    assert exact - 0.01 * abs(exact) - 0.02 <= cold["squeeze_left"] <= exact + 1e-9


def test_swell_runs_from_none_to_its_most():
    """A ring that will swell has not swollen yet: the least squeeze credits nothing."""
    dry, typed, range_ = (part("piston", (SHOP,), swell=swell) for swell in ("0", "0.1", "0.04 to 0.1"))
    least = [spans_of(one, "squeeze_depth", "shop")[0] for one in (dry, typed, range_)]
    assert least[0] == least[1] == least[2]
    assert spans_of(typed, "fill", "shop") == spans_of(range_, "fill", "shop")
    shrunk = part("piston", (SHOP,), swell="-0.05 to 0")
    assert spans_of(shrunk, "squeeze_depth", "shop")[0] < least[0]


def test_a_state_of_gas_asks_for_the_finish_of_gas():
    liquid = part("piston", (HOT,), finish="0.8 um")
    gas = part("piston", (HOT._replace(medium="nitrogen"),), finish="0.8 um")
    assert verdicts(liquid)["faces are fine enough"] == "pass"
    assert verdicts(gas)["faces are fine enough"] == "fail"


def test_a_round_bottom_is_held_against_the_published_radius():
    """.139 in: .025, .030 and .031 in in three tables."""
    assert tabled.largest_radius(3.53) == pytest.approx(0.031 * 25.4)
    assert verdicts(part("piston", corner_radius="0.78"))["bottom radius leaves room"] == "pass"
    assert verdicts(part("piston", corner_radius="0.8"))["bottom radius leaves room"] == "fail"


def test_as_made_has_neither_swell_nor_set():
    of = part("piston", (HOT,), **{**EXACT, "swell": "0.1", "compression_set": "0.5"})
    fresh, never = numbers(of, "as_made"), numbers(part("piston", (HOT,), **EXACT), "as_made")
    assert fresh["squeeze"] == never["squeeze"]
    assert fresh["fill"] == never["fill"]


def test_gap_under_pressure_by_hand():
    """Bore growth (open ends), a solid member's shrinkage: 2.000 x 2.500 in of 6061, 3000 psi."""
    steel = {"youngs_modulus": "10.0e6 psi", "poisson": "0.33", "expansion": "23.6e-6 1/K", "yield_strength": "35 ksi"}
    of = part("piston", (State("working", pressure=3000 * PSI),), ring="AS568-222", bore="2.000 in", piston_diameter="1.996 in", groove_diameter="1.78 in",
              hub_outside="2.5 in", hub_material=steel, shaft_material=steel)
    gap = numbers(of, "working", pressure_share=1.0)["extrusion_gap"] / 25.4
    # p d/E [(b^2+a^2)/(b^2-a^2) + nu] = 0.0029; p d (1-nu)/E = 0.0004: 0.0073 in all.
    growth = 3000 * 2.0 / 10.0e6 * ((2.5**2 + 2.0**2) / (2.5**2 - 2.0**2) + 0.33)
    shrinkage = 3000 * 1.996 / 10.0e6 * 0.67
    assert growth == pytest.approx(0.0029, abs=5e-5)
    assert gap == pytest.approx(0.004 + growth + shrinkage, rel=1e-9)


# --- the chart -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("psi", "soft", "hard"), [
    # Seal & Design, extrusion limits: inches of diametral gap; the upper edge belongs to its band.
    (1, 0.016, 0.028), (500, 0.016, 0.028), (501, 0.010, 0.024), (1000, 0.010, 0.024), (1500, 0.006, 0.020), (2000, 0.004, 0.016), (3000, 0.002, 0.010),
])
def test_the_chart_by_bands(psi: float, soft: float, hard: float):
    # A section larger than any of the second chart's leaves the first alone above its 1500 psi.
    got = [float(tabled.largest_gap(np.array(psi * PSI - 1e-12), h, 50.0)) / 25.4 for h in (70.0, 90.0)]
    second = [0.012 if psi <= 500 else 0.008 if psi <= 1500 else 1.0, 1.0]
    assert got == pytest.approx([min(soft, second[0]), min(hard, second[1])])


@pytest.mark.parametrize(("section", "at_500", "at_1500"), [(1.78, 0.008, 0.004), (2.62, 0.009, 0.004), (3.53, 0.010, 0.006), (5.33, 0.011, 0.006), (6.99, 0.012, 0.006)])
def test_the_smaller_of_two_charts_holds(section: float, at_500: float, at_1500: float):
    """Ponn Machine by section, 70 Shore A, inches; above .139 in the other chart is smaller at 1500 psi."""
    got = [float(tabled.largest_gap(np.array(p * PSI), 70.0, section)) / 25.4 for p in (500, 1500)]
    assert got == pytest.approx([at_500, at_1500])


def test_between_two_hardnesses_the_softer_counts_and_silicone_takes_half():
    at = [float(tabled.largest_gap(np.array(10.0), h, 3.53)) for h in (70.0, 75.0, 89.0, 90.0)]
    assert at[0] == at[1] == at[2] < at[3]
    plain = numbers(part("piston", (HOT,)), "hot")["gap_allowed"]
    silicone = numbers(part("piston", (HOT,), elastomer="VMQ 70", fluid="air", medium="gas"), "hot")["gap_allowed"]
    assert silicone == pytest.approx(plain / 2.0)


@pytest.mark.parametrize(("changes", "state", "why"), [
    ({}, State("s", 20.0, 20.0, 21.0), "ends at 20.7 MPa"), ({}, State("s", 72.0, 72.0, 3.0), "ends at 71 degC"),
    ({"elastomer": "NBR 60"}, State("s", 20.0, 20.0, 3.0), "60 Shore A"), ({"elastomer": "NBR 95"}, State("s", 20.0, 20.0, 3.0), "95 Shore A"),
    ({"backup_rings": "1", "backup_thickness": "1.2", "groove_width": "6.3 ±0.05"}, State("s", 20.0, 20.0, 12.0), "with a backup ring"),
])
def test_outside_its_own_range_the_chart_says_nothing(changes: dict[str, Any], state: State, why: str):
    one = found(part("piston", (state,), **changes), "no creep into the gap")
    assert one.verdict == "not covered"
    assert why in one.why_not


@pytest.mark.parametrize("form", FORMS)
def test_pressure_needs_a_backup_ring_above_1500_psi(form: str):
    below, above = (part(form, (State("s", pressure=p * PSI),)) for p in (1499, 1501))
    assert verdicts(below)["no backup ring is needed"] == "pass"
    assert verdicts(above)["no backup ring is needed"] == "fail"


# --- never a wrong pass ----------------------------------------------------------------------------

OPTIONAL = {
    "piston": ["swell", "compression_set", "finish", "fluid", "hub_material", "shaft_material", "hub_outside", "lead_in"],
    "rod": ["swell", "compression_set", "finish", "fluid", "hub_material", "shaft_material", "hub_outside", "lead_in"],
    "face": ["swell", "compression_set", "finish", "fluid", "hub_material", "cover_gap", "bolt_preload"],
    "dovetail": ["swell", "compression_set", "finish", "fluid", "hub_material", "cover_gap", "bolt_preload"],
    "triangular": ["swell", "compression_set", "finish", "fluid", "hub_material", "cover_gap", "bolt_preload"],
}


@pytest.mark.parametrize(("form", "field"), [(form, field) for form, fields in OPTIONAL.items() for field in fields])
def test_what_is_not_given_never_passes(form: str, field: str):
    answer = check(part(form, **{field: None}))
    assert answer.verdict == "not covered"
    said = [*answer.features[0].not_covered, *(one.why_not for one in answer.features[0].checks)]
    assert any(field in text for text in said)


@pytest.mark.parametrize(("field", "says"), [
    ("compression_set", "holds if compression set is at most"), ("swell", "holds if swell is at most"), ("finish", "holds if finish is at most 0.812 um"),
    ("lead_in", "holds if lead in is at least 4.5"), ("hub_outside", "holds if hub outside is at least"),
])
def test_what_is_missing_says_what_would_do(field: str, says: str):
    answer = check(part("piston", **{field: None}))
    assert any(says in one.break_even for one in answer.features[0].checks), [one.break_even for one in answer.features[0].checks]


def test_a_break_even_holds_when_typed():
    one = found(part("piston", swell=None), "gland isn't overfilled")
    most = float(one.break_even.split("at most ")[1].split(",")[0])
    assert verdicts(part("piston", swell=f"0 to {most}"))["gland isn't overfilled"] == "pass"
    assert verdicts(part("piston", swell=f"0 to {most + 0.002}"))["gland isn't overfilled"] == "fail"


def test_rubber_that_is_not_known_in_the_fluid_is_not_covered():
    one = found(part("piston", fluid="fuel"), "rubber stands the fluid")
    assert one.verdict == "not covered"
    assert "ask the maker" in one.why_not


def test_too_hot_names_what_remains_and_gives_no_groove():
    answer = check(part("piston", (State("oven", 240.0, 240.0),), elastomer="FKM 75"))
    feature = answer.features[0]
    assert feature.verdict == "fail"
    assert any("metal ring to 750 degC (its maker's own groove)" in note for note in feature.notes)
    assert all("MPa" not in note for note in feature.notes)


def test_above_every_seal_is_not_covered():
    answer = check(part("face", (State("furnace", 900.0, 900.0),)))
    assert any("not covered" in note for note in answer.features[0].notes)


# --- refusals ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("changes", "states"), [
    ({"medium": "oxygen"}, STATES), ({"medium": "gas", "fluid": "oxygen"}, STATES), ({"medium": "gas"}, (State("s", pressure=13.8, medium="oxygen"),)),
    ({"elastomer": "EPDM 70"}, STATES), ({"fluid": "phosphate ester"}, STATES), ({"medium": "gas"}, (State("p", pressure=3.0, proof=True, medium="nitrogen"),)),
])
def test_refused_with_no_numbers(changes: dict[str, Any], states: tuple[State, ...]):
    answer = check(part("piston", states, **changes))
    feature = answer.features[0]
    assert answer.verdict == "refused"
    assert feature.refusals
    assert not feature.values
    assert not feature.checks
    assert not feature.plan
    assert not feature.published


# --- duties ----------------------------------------------------------------------------------------------


def test_a_shaft_that_turns():
    slow = part("rod", (State("s", speed=60.0),), duty="rotary", ring="AS568-214", rod="24.6 f7", housing_bore="24.6 H8", groove_diameter="31.6 +0.04/0",
                guide_clearance="0.01", swell="0")
    one = verdicts(slow)
    assert one["never stretched"] == "pass"
    assert one["rubbing speed"] == "pass"
    fast = part("rod", (State("s", speed=200.0),), duty="rotary")
    assert verdicts(fast)["rubbing speed"] == "fail"
    assert verdicts(fast)["never stretched"] == "fail"
    assert found(slow, "rubbing speed").worst == pytest.approx(60.0 * 24.6 / 2000.0, rel=1e-3)


def test_moving_is_judged_more_strictly_than_static():
    still, moving = (verdicts(part("piston", (SHOP,), duty=duty, finish="0.8 um")) for duty in ("static", "reciprocating"))
    assert still["faces are fine enough"] == "pass"
    assert moving["faces are fine enough"] == "fail"
    assert moving["most squeeze"] == "fail"


def test_depth_above_the_section_fails_and_is_no_error():
    answer = check(part("face", gland_depth="3.8"))
    assert answer.verdict == "fail"
    assert found(part("face", gland_depth="3.8"), "squeeze left").verdict == "fail"


def test_a_cover_that_bows_opens_a_gap_and_takes_squeeze():
    tight, open_ = (numbers(part("face", (HOT,), cover_gap=gap), "hot", pressure_share=1.0) for gap in ("0", "0.1"))
    assert open_["extrusion_gap"] == pytest.approx(0.1)
    assert tight["squeeze_depth"] - open_["squeeze_depth"] == pytest.approx(0.1)


def test_bolts_hold_pressure_and_ring():
    of = part("face", (HOT,))
    at = numbers(of, "hot", pressure_share=1.0)
    wall = float(np.mean([75.3, 75.5])) * (1 + 23.6e-6 * 40)
    assert at["separating_force"] == pytest.approx(np.pi / 4 * wall**2 * 3.0, rel=1e-3)
    assert at["preload_needed"] == pytest.approx(1.5 * (at["separating_force"] + at["closing_load"]))
    assert verdicts(part("face", (HOT,), bolt_preload="15 kN"))["bolts hold the cover"] == "fail"


def test_backup_rings_take_their_thickness_of_the_groove():
    plain = numbers(part("piston", (SHOP,)))["fill"]
    backed = numbers(part("piston", (SHOP,), backup_rings="2", backup_thickness="0.5", groove_width="5.8 ±0.05"))["fill"]
    assert backed == pytest.approx(plain, rel=1e-9)
    one = found(part("piston", backup_rings="1"), "gland isn't overfilled")
    assert one.verdict == "not covered"
    assert "backup_thickness" in one.why_not


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("field", ["groove_width", "mouth_width", "leg", "gland_depth", "groove_diameter", "corner_radius"])
def test_no_window_reaches_into_what_cannot_be_cut(form: str, field: str):
    """Every window is one stretch, and its ends pass a check of their own."""
    if field not in WHOLE[form]:
        return
    found_ = window(part(form), f"seal.{field}").intervals
    assert len(found_) == 1
    for end in (found_[0].low, found_[0].high):
        assert field != "mouth_width" or end.rule
        if end.rule:
            assert check(part(form, **{field: f"{end.at}"})).verdict == "pass"


@pytest.mark.parametrize("target", ["hot.temperature", "cold.temperature", "hot.pressure"])
def test_a_state_can_be_swept(target: str):
    (interval,) = window(part("piston"), target).intervals
    present = {"hot.temperature": 60.0, "cold.temperature": -15.0, "hot.pressure": 3.0}[target]
    assert interval.low.at <= present <= interval.high.at
    assert interval.low.rule or interval.high.rule


def test_a_guide_takes_the_place_of_the_piston():
    loose, guided = (numbers(part("piston", (SHOP,), **{**EXACT, "guide_clearance": c}), ring_end=0.0) for c in (None, "0.02"))
    assert guided["squeeze_depth"] - loose["squeeze_depth"] == pytest.approx((0.1 - 0.02) / 2)


def test_a_bore_of_another_feature_brings_its_growth():
    from fits.files.part import build

    data = {
        "units": "mm", "states": {"working": {"temperature": "60 degC", "pressure": "8 MPa"}},
        "press": {"liner": {"hole": "40 H7", "shaft": "40.06/40.05", "shaft_bore": "31 H8", "hub_outside": "60", "length": "50", "hub_material": "6061-T6",
                            "shaft_material": "304", "ends": "body", "roughness_hole": "2 um", "roughness_shaft": "2 um"}},
        "gland": {"seal": {"form": "piston", **{k: v for k, v in WHOLE["piston"].items() if k != "hub_outside"}, "bore": "liner.shaft_bore"}},
    }
    of = build(data)
    both = evaluate(of, "seal")
    bore = evaluate(of, "liner").numbers
    assert both.numbers["extrusion_gap"].shape[-1] == 2
    assert "bore_after" in bore or "bore_closure" in bore
    assert "wall stands the pressure" not in {one.rule for one in check(of).features[1].checks}


# --- corners: no sample beats them ----------------------------------------------------------------------


SMALL = {"ring": {"inside": "2.90 ±0.13", "section": "1.78 ±0.08"}, "bore": "6.0 +0.02/0", "piston_diameter": "5.9 ±0.01", "groove_diameter": "2.98 ±0.08",
         "groove_width": "2.6 ±0.1", "corner_radius": "0.2 ±0.05", "hub_outside": "12", "lead_in": "3", "swell": "0", "compression_set": "0"}


def worst(of: Part) -> dict[str, tuple[float, float]]:
    spans: dict[str, tuple[float, float]] = {}
    for value in check(of).features[0].values:
        for state, span in value.states.items():
            spans[f"{value.name} {state}"] = (span.least, span.greatest)
    return spans


@pytest.mark.parametrize("form", [*FORMS, "small"])
def test_no_sample_beats_the_corners(form: str):
    of = part("piston", **SMALL) if form == "small" else part(form)
    spans = worst(of)
    dimensions = relevant(of, "seal")
    random = np.random.default_rng(11)
    count = 4000
    arrays = {}
    for key, one in dimensions.items():
        low, high = min(one.levels), max(one.levels)
        draw = random.uniform(low, high, count)
        arrays[key] = np.where(random.uniform(size=count) < 0.3, random.choice([low, high], count), draw).reshape(-1, 1, 1)
    sampled = evaluate(of, "seal", given=arrays, corners={})
    for value in type(of.features["seal"]).values:
        # Permeation is a gas's.
        array = sampled.numbers.get(value.name)
        if array is None or not value.shown or array.shape[0] != count:
            continue
        for column, state in enumerate(sampled.states.names):
            key = f"{value.name} {state}"
            if key in spans and array.shape[-1] == len(sampled.states.names):
                low, high = spans[key]
                room = 1e-9 + 1e-3 * abs(high - low) * (form == "small")
                assert array[..., column].min() >= low - room, key
                assert array[..., column].max() <= high + room, key


def test_a_small_ring_has_its_least_squeeze_inside_the_zone():
    """Corners alone would miss it: the turning level is among the levels."""
    of = part("piston", (SHOP,), **SMALL)
    dimension = next(one for one in relevant(of, "seal").values() if one.name == "groove_diameter")
    assert len(dimension.levels) > 2
    ends = [numbers(of, groove_diameter=x, ring_end=0.0, **{"ring.inside": 2.9, "ring.section": 1.78})["squeeze_depth"] for x in np.linspace(2.9, 3.06, 161)]
    assert 0 < int(np.argmin(ends)) < 160
    assert worst(of)["squeeze_depth shop"][0] <= min(ends) + 1e-9


@settings(max_examples=40)
@given(st.floats(20.0, 100.0), st.floats(1.0, 6.0), st.floats(0.7, 0.95), st.floats(0.0, 0.05))
def test_more_clearance_never_leaves_more_squeeze(inside: float, section: float, share: float, clearance: float):
    def left(gap: float) -> float:
        bore = inside * 1.01 + 2 * section * share
        of = part("piston", (SHOP,), ring={"inside": f"{inside} ±0.01", "section": f"{section} ±0.01"}, bore=f"{bore}", piston_diameter=f"{bore - gap}",
                  groove_diameter=f"{inside * 1.01}", groove_width=f"{1.5 * section}", corner_radius="0.1", hub_outside=None)
        return float(evaluate(of, "seal", values=["squeeze_left"]).numbers["squeeze_left"].min())

    assert left(0.01 + clearance) <= left(0.01) + 1e-12


# --- bad input ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("form", "changes", "says"), [
    ("piston", {"ring": "AS568-285"}, 'did you mean "AS568-284"'), ("piston", {"ring": "AS568-238"}, "is larger than the piston"),
    ("piston", {"ring": "AS568-204"}, "stretched by"), ("rod", {"ring": "AS568-204"}, "smaller than the bore"),
    ("face", {"ring": "AS568-204"}, "smaller than the inner wall"), ("face", {"ring": "AS568-260"}, "larger than the groove's outer wall"),
    ("face", {"groove_width": "40"}, "wider than the part"), ("piston", {"length": "4"}, "must stay below length"),
    ("piston", {"piston_diameter": "31.2"}, "the piston goes into the bore with clearance"), ("face", {"pressure_side": None}, "missing: where the higher pressure is"),
    ("piston", {"groove_diameter": None}, "one of groove_diameter, gland_depth, groove_depth is due"), ("piston", {"gland_depth": "2.8"}, "one of groove_diameter"),
    ("face", {"duty": "rotary"}, "a gland in a face is static"), ("piston", {"backup_rings": "1.5"}, "0, 1 or 2 is due"),
    ("piston", {"fluid": "mineral oli"}, 'did you mean "mineral oil"'), ("dovetail", {"mouth_width": "3.6"}, "it won't be held"),
    ("piston", {"swell": "nan"}, "not a finite number"), ("piston", {"elastomer": "NBR"}, "material and hardness are due"),
    ("dovetail", {"groove_middle": "90"}, "can't reach the groove's middle"), ("triangular", {"spigot": "60"}, "more than 50 %"),
    ("face", {"groove_width": None}, "two of groove_outside, groove_inside, groove_width are due; one more is missing"),
    ("face", {"groove_outside": None}, "two of groove_outside, groove_inside, groove_width are due; one more is missing"),
    ("face", {"groove_outside": None, "groove_inside": "65", "groove_width": "6", "hub_outside": "76"}, "the groove reaches its outside (76 mm)"),
    ("face", {"hub_bore": "66"}, "the groove reaches its bore (66 mm)"),
    ("face", {"ring": "AS568-260", "groove_outside": None, "groove_inside": "65"}, "larger than the groove's outer wall"),
    ("piston", {"shaft_bore": "1.5/0"}, "a bore with limits is above 0; a solid part has none"),
    ("piston", {"runout": "-0.1"}, "must be at least 0"), ("piston", {"corner_radius": "2.5"}, "two of them are as wide as the groove"),
])
def test_bad_input_says_what_would_be_right(form: str, changes: dict[str, Any], says: str):
    keys = {key: value for key, value in {**WHOLE[form], **changes}.items() if value is not None}
    with pytest.raises(InputError) as error:
        loader.feature(kind(f"gland {form}"), keys, Context())
    assert says in str(error.value)


@pytest.mark.parametrize(("form", "open_too", "asked"), [
    ("piston", "ring", "groove_diameter"), ("rod", "ring", "groove_diameter"), ("piston", "piston_diameter", "groove_depth"),
    ("rod", "rod", "gland_depth"), ("rod", "housing_bore", "groove_depth"), ("face", "groove_width", "gland_depth"),
])
def test_a_second_field_left_open_is_asked_for(form: str, open_too: str, asked: str):
    changes = {open_too: "?", asked: "?"} | ({"groove_diameter": None} if asked != "groove_diameter" and form != "face" else {})
    with pytest.raises(InputError) as error:
        window(part(form, **changes), f"seal.{asked}")
    assert f"seal.{open_too}" in str(error.value)
    assert "not decided" in str(error.value)


def test_the_depth_of_a_dovetail_left_open_is_found_around_its_squeeze():
    """The window of the open depth is that of the depth given."""
    given_, left = (window(part("dovetail", gland_depth=depth), "seal.gland_depth").intervals for depth in ("2.92 ±0.025", "?"))
    assert len(given_) == len(left) == 1
    assert (left[0].low.at, left[0].high.at) == pytest.approx((given_[0].low.at, given_[0].high.at), abs=3e-4)
    assert left[0].low.at < 2.92 < left[0].high.at


def test_a_face_between_two_walls_is_cut_to_the_width_between_them():
    """75.3 +0.1/0 around 65.2 0/-0.1: the groove is 5.05 to 5.15 wide, and drawn 5.1."""
    of = part("face", (SHOP,), groove_outside="75.3 +0.1/0", groove_inside="65.2 0/-0.1", groove_width=None)
    answer = check(of)
    assert any("width 5.050 mm to 5.150 mm" in step.range for step in answer.features[0].plan)
    (figure,) = with_drawings(of, answer).features[0].drawn.figures
    x1, _, x2, _ = next(numbers_ for _, numbers_, label in figure.shapes if label == "groove width")
    assert x2 - x1 == pytest.approx(5.1)


def test_no_groove_is_drawn_where_the_bore_is_too_small():
    """The bore stands on a liner; one smaller than the groove's bottom leaves no gland."""
    def drawn(**liner: Any):
        press = kind("press")(**{"hole": "31.5", "shaft": "31.55", "shaft_bore": "31.05", "hub_outside": "60", "hub_material": "6061-T6", "shaft_material": "316", "length": "20",
                                    "roughness_hole": "1 um", "roughness_shaft": "1 um", **liner})
        of = Part("test", {"liner": press, "seal": gland("piston", bore=SurfaceRef("liner", "shaft_bore"), hub_outside=None)}, (SHOP,))
        return with_drawings(of, check(of)).features[1]

    assert drawn().drawn.figures
    small = drawn(shaft_bore="25.2")
    assert (small.verdict, small.drawn.figures) == ("fail", ())


def test_above_the_table_no_lead_in_is_told():
    """Its last row is 7.00 mm of section, 6.0 long at 15 degrees."""
    def steps(section: float) -> list[str]:
        bore = 102.0 + 1.6 * section
        of = part("piston", (SHOP,), ring={"inside": "100 ±0.5", "section": f"{section} ±0.1"}, bore=f"{bore} +0.03/0", piston_diameter=f"{bore - 0.03} 0/-0.02",
                  groove_diameter="102 ±0.02", groove_width=f"{1.2 * section}", hub_outside="150")
        answer = check(of)
        assert answer.features[0].plan
        return [step.range for step in answer.features[0].plan]

    assert any("at 15 degrees, 6.0 mm long" in one for one in steps(7.0))
    assert not any("15 degrees" in one for one in steps(8.4))


def test_a_runout_that_was_typed_is_not_said_to_be_taken():
    taken, typed = (" ".join(check(part("piston", **more)).features[0].assumptions) for more in ({}, {"runout": "0.01"}))
    assert "runout of the groove to its own cylinder taken as 0" in taken
    assert "runout" not in typed


def test_rubber_without_a_known_range_is_not_covered():
    """NR: the table gives no lowest temperature; one of a maker may lack the highest, and mineral oil gives none."""
    cold = found(part("piston", elastomer="NR 70", fluid="water"), "rubber stands the cold")
    assert cold.verdict == "not covered"
    assert "NR 70: no lowest temperature is known" in cold.why_not
    hot = part("piston", elastomer=elastomer("NBR 70")._replace(highest=None))
    for name in ("rubber stands the heat", "rubber stands the fluid"):
        assert found(hot, name).verdict == "not covered"
        assert "NBR 70: no highest temperature is known" in found(hot, name).why_not


def test_published_rows_stand_beside():
    row = check(part("piston")).features[0].published
    assert {one.value for one in row} >= {"gland_depth", "groove_width"}
    assert all(one.low <= one.high for one in row)
    assert not gland("triangular").published()


def test_every_ring_of_the_tables_can_be_asked_about():
    """From the smallest to the largest: an answer or a fault, never an exception of another kind."""
    for code in ("AS568-001", "AS568-102", "AS568-214", "AS568-395", "AS568-475", "JIS B 2401 P400"):
        one = ring(code)
        middle = one.inside.middle * 1.02
        of = part("piston", ring=code, bore=f"{middle + 1.6 * one.section.middle}", piston_diameter=f"{middle + 1.6 * one.section.middle - 0.05}",
                  groove_diameter=f"{middle}", groove_width=f"{1.45 * one.section.middle}", hub_outside=f"{2 * middle + 20}", corner_radius="0.1")
        assert check(of).verdict in ("pass", "fail", "not covered")
