"""Dowel joints: tight one side, free the other, in every state."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.dowel import Dowel
from fits.features.feature import State, States
from fits.features.fields import Context
from fits.features.part import Part
from fits.files import loader
from fits.questions.answer import FeatureAnswer
from fits.questions.check import check

GOOD: dict[str, Any] = {
    "pin": "6 m6", "tight_hole": "6.003/5.997", "free_hole": "6.030/6.018", "tight_through": "true", "wall": "8",
    "tight_material": "6061-T6", "free_material": "6061-T6", "pin_material": "316L",
}


def of(*states: State, **changes: Any) -> FeatureAnswer:
    keys = {key: value for key, value in {**GOOD, **changes}.items() if value is not None}
    feature = loader.feature(Dowel, keys, Context())
    return check(Part("one", {"pin": feature}, states or (State("shop"),))).features[0]


def rule(answer: FeatureAnswer, name: str):
    return next(one for one in answer.checks if one.rule == name)


def span(answer: FeatureAnswer, name: str, state: str = "as_made") -> list[float]:
    found = next(one for one in answer.values if one.name == name).states[state]
    return [found.least, found.greatest]


def test_a_joint_that_holds():
    answer = of()
    assert answer.verdict == "pass"
    assert span(answer, "interference") == pytest.approx([0.001, 0.015])
    assert span(answer, "clearance") == pytest.approx([0.006, 0.026])


def test_the_inch_joint_of_the_standard():
    """ASME B18.8.2: 1/4 in pin 0.2501 to 0.2503, press hole 0.2495 to 0.2500: 0.0001 to 0.0008 in tight.

    Free +0.0005/+0.0012 in (stgmachine.com): 0.0002 to 0.0011 in free.
    """
    answer = of(pin="0.2503/0.2501 in", tight_hole="0.2500/0.2495 in", free_hole="0.2512/0.2505 in")
    assert span(answer, "interference") == pytest.approx([0.0001 * 25.4, 0.0008 * 25.4])
    assert span(answer, "clearance") == pytest.approx([0.0002 * 25.4, 0.0011 * 25.4])


def test_an_inch_reamer_spoils_a_metric_dowel():
    """A hole of 6.004 to 6.010 and a pin of 6.004 to 6.012: 8 um tight to 6 um loose."""
    answer = of(tight_hole="6.010/6.004")
    tight = rule(answer, "pin stays tight")
    assert (answer.verdict, tight.verdict) == ("fail", "fail")
    assert tight.worst == pytest.approx(-0.006)
    assert span(answer, "interference")[1] == pytest.approx(0.008)


def test_heat_loosens_a_steel_pin_in_aluminium():
    """6061 grows about 7e-6 1/K more than 316L: 0.001 mm is lost on 6 mm within about 25 K."""
    assert of(State("warm", 30.0, 30.0)).verdict == "pass"
    answer = of(State("hot", 90.0, 90.0))
    assert rule(answer, "pin stays tight").verdict == "fail"
    cold = of(State("cold", -40.0, -40.0))
    assert span(cold, "interference", "cold")[1] > span(cold, "interference")[1]


def test_the_stress_at_20_degc_counts_in_hot_states_too():
    answer = of(State("hot", 60.0, 60.0), tight_hole="5.998/5.990")
    stress = rule(answer, "tight part stays elastic")
    assert (stress.verdict, stress.state) == ("fail", "as_made")


def test_stress_of_a_thick_part():
    """Lamé, b to infinity: p = d/D/[(1+nu)/E + (1-nu_p)/E_p] and von Mises sqrt(3) p."""
    answer = of(wall="5000", tight_hole="6.000/6.000", pin="6.010/6.010")
    p = 0.010 / 6.0 / (1.33 / 68900.0 + (1.0 - 0.29) / 193000.0)
    from fits.materials.metals import metal

    pin = metal("316L")
    p = 0.010 / 6.0 / (1.33 / 68900.0 + (1.0 - pin.poisson) / pin.youngs_modulus[0])
    assert span(answer, "plate_von_mises")[1] == pytest.approx(3.0**0.5 * p, rel=1e-4)


@pytest.mark.parametrize(("changes", "name"), [
    ({"wall": None}, "tight part stays elastic"), ({"tight_material": None}, "tight part stays elastic"),
    ({"tight_material": "7075-T6"}, "tight part stays elastic"),
    ({"tight_hole": None}, "pin stays tight"), ({"tight_through": None}, "air gets out"), ({"tight_through": "false"}, "air gets out"),
    ({"spacing": "80", "second": "round"}, "both pins go in"), ({"spacing": "80", "spacing_error": "0.001"}, "both pins go in"),
])
def test_what_is_not_known_is_not_covered(changes: dict[str, Any], name: str):
    answer = of(**changes)
    assert answer.verdict == "not covered"
    assert rule(answer, name).verdict == "not covered"
    assert rule(answer, name).why_not


def test_break_evens():
    # A thin wall gives way: at a given interference it is stressed less than a thick one.
    assert rule(of(wall=None, tight_hole="5.998/5.992"), "tight part stays elastic").break_even.startswith("holds if wall is at most")
    assert rule(of(wall=None), "tight part stays elastic").break_even == "holds for any wall"
    even = rule(of(spacing="80", second="round"), "both pins go in").break_even
    assert even == "holds if spacing error is at most 0.00600 mm"


def test_a_hole_that_is_not_given_is_suggested():
    free = of(free_hole=None)
    assert span(free, "free_hole") == pytest.approx([6.0127, 6.03048])
    assert any("is suggested for the pin" in one for one in free.assumptions)
    # What suggests it is among the sources.
    keys = {key: value for key, value in GOOD.items() if key != "free_hole"}
    dowel = loader.feature(Dowel, keys, Context())
    assert isinstance(dowel, Dowel)
    suggested = dowel.suggested("free")
    assert suggested is not None
    assert suggested.source in dowel.used_sources(States.of((State("shop"),)))
    assert of(tight_hole=None).verdict == "not covered"


@pytest.mark.parametrize(("changes", "name"), [
    ({"free_hole": "6.012/6.000"}, "pin stays free"),
    ({"spacing": "80", "spacing_error": "0.007", "second": "round"}, "both pins go in"),
    ({"tight_through": "false", "vent": "false"}, "air gets out"),
    ({"tight_depth": "5.9"}, "pin is held deep enough"),
    ({"tight_hole": "5.990/5.985"}, "tight part stays elastic"),
])
def test_what_fails(changes: dict[str, Any], name: str):
    answer = of(**changes)
    assert (answer.verdict, rule(answer, name).verdict) == ("fail", "fail")


def test_a_slot_forgives_the_spacing():
    assert of(spacing="80", spacing_error="0.05", second="slot").verdict == "pass"
    assert of(tight_through="false", vent="true").verdict == "pass"


def test_two_metals_change_the_spacing():
    """80 mm of 6061 on 80 mm of 316L, 40 K warm: (23.6e-6 - 16e-6) x 40 x 80, about 0.024 mm."""
    answer = of(State("warm", 60.0, 60.0), free_material="316L", spacing="80", spacing_error="0", second="round", tight_hole="5.999/5.997")
    assert span(answer, "mismatch", "warm")[1] == pytest.approx(0.024, abs=0.003)
    assert rule(answer, "both pins go in").verdict == "fail"


@given(st.integers(1, 20), st.integers(0, 20))
def test_two_pins_go_in_when_the_rule_says_so(clearance: int, error: int):
    """Holes at 0 and 80 + e over pins at 0 and 80: is there a shift that brings both inside?"""
    c, e = clearance / 1000.0, error / 1000.0
    answer = of(pin="6.000/6.000", tight_hole="5.995/5.995", free_hole=f"{6.0 + c:.3f}/{6.0 + c:.3f}", spacing="80",
                spacing_error=f"{e} mm", second="round")
    shifts = [index * 0.0005 - 0.015 for index in range(61)]
    goes_in = any(abs(x) <= c / 2.0 + 1e-9 and abs(x + e) <= c / 2.0 + 1e-9 for x in shifts)
    assert (rule(answer, "both pins go in").verdict == "pass") == goes_in


@pytest.mark.parametrize(("changes", "says"), [
    ({"pin": "6 H7"}, "a shaft is due"), ({"tight_hole": "6 g6"}, "a hole is due"), ({"free_hole": "8 H7"}, "can't belong together"),
    ({"tight_hole": "8 H7"}, "can't belong together"), ({"second": "oval"}, "must be one of round, slot"), ({"spacing_error": "-0.1"}, "at least 0"),
])
def test_what_cannot_be(changes: dict[str, Any], says: str):
    with pytest.raises(InputError) as caught:
        of(**changes)
    assert says in str(caught.value)
    assert len(caught.value.faults) == 1


def test_the_plan():
    steps = [one.do for one in of(second="slot", tight_through="false", vent="true").plan]
    words = ["ream the tight hole (undersize reamer", "ream the free hole (oversize reamer", "mill the slot", "let the air out", "press the pin", "put the other part on"]
    assert len(steps) == len(words)
    assert all(word in step for word, step in zip(words, steps))


@pytest.mark.parametrize("size", ["1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "7/8", "1"])
def test_the_suggested_hole_of_every_inch_dowel(size: str):
    """ASME B18.8.2-2000: pins +0.0001/+0.0003, press holes 0/-0.0005 in: 0.0001 to 0.0008 in tight."""
    answer = of(pin=f"dowel {size} in", tight_hole=None, free_hole=None)
    assert [end / 25.4 for end in span(answer, "interference")] == pytest.approx([0.0001, 0.0008], abs=1e-7)
    assert [end / 25.4 for end in span(answer, "clearance")] == pytest.approx([0.0002, 0.0011], abs=1e-7)


def test_the_suggested_hole_of_a_metric_dowel():
    """ASME B18.8.5M: 6 mm pin 6.003 to 6.009, press hole 5.987 to 6.000."""
    answer = of(pin="dowel 6 B18.8.5M", tight_hole=None)
    assert span(answer, "tight_hole") == [5.987, 6.0]
    assert span(answer, "interference") == pytest.approx([0.003, 0.022])
    for text in ("dowel 1/4 in oversize", "dowel 6 m6", "dowel 1/16 in"):
        assert of(pin=text, tight_hole=None, free_hole=None, wall="8").verdict in ("not covered", "fail")
        assert rule(of(pin=text, tight_hole=None, free_hole=None), "pin stays tight").verdict == "not covered"


@pytest.mark.parametrize(("depth", "verdict"), [("6", "pass"), ("5.99", "fail")])
def test_a_pin_of_6_held_6_deep_is_held_its_diameter_deep(depth: str, verdict: str):
    """Depth counts in nominal diameters (common practice): 6 m6 is 6.004 to 6.012, and 6 mm are enough."""
    assert rule(of(tight_depth=depth), "pin is held deep enough").verdict == verdict
