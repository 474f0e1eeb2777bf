"""Time and surroundings: cracking, tempers, alternating loads, a port beside the hole."""

from __future__ import annotations

import pytest
from joints import press_part

from fits.features.feature import State
from fits.questions.check import check

SIZES = {"hole": 20.0, "shaft": 20.01, "hub_outside": 40.0, "hub_material": "6061-T6", "shaft_material": "316"}


SHOP = (State("shop"),)


def rules(states=SHOP, **fields):
    (one,) = check(press_part(states, **{**SIZES, **fields})).features
    return {rule.rule: rule for rule in one.checks}


@pytest.mark.parametrize("alloy", ["7075-T6", "2024-T3", "2024-T4"])
def test_an_alloy_that_cracks_is_not_covered_without_its_threshold(alloy: str):
    found = rules(hub_material=alloy)["hub does not crack with time"]
    assert found.verdict == "not covered"
    # Half of the threshold must reach the hoop stress: the break-even is twice it.
    number = float(found.break_even.split("at least ")[1].split()[0])
    assert number == pytest.approx(2.0 * found.worst, rel=2e-3)


def test_typed_magnesium_cracks_with_time_as_well():
    hub = {"youngs_modulus": "45 GPa", "poisson": 0.35, "yield_strength": "200 MPa", "expansion": "26e-6 1/K", "family": "magnesium"}
    assert rules(hub_material=hub)["hub does not crack with time"].verdict == "not covered"
    assert "hub does not crack with time" not in rules(hub_material={**hub, "family": "aluminium"})


def test_half_of_a_typed_threshold_is_the_limit():
    found = rules(hub_material="7075-T6", cracking_stress="300 MPa")["hub does not crack with time"]
    assert found.limit == 150.0
    assert found.verdict == "pass"
    assert "hub does not crack with time" not in rules()


def test_an_aged_temper_is_held_against_the_hours_it_spends_hot():
    hours = (State("hot", 120.0, 120.0, time=500 * 3600.0),)
    short = (State("hot", 120.0, 120.0, time=1800.0),)
    assert rules(hours)["hub keeps its temper"].verdict == "fail"
    assert rules(hours)["hub keeps its temper"].limit == 100.0
    assert rules(short)["hub keeps its temper"].limit == 175.0


def test_an_aged_temper_above_100_degc_waits_for_its_hours():
    unsaid = rules((State("hot", 120.0, 120.0),))["hub keeps its temper"]
    assert unsaid.verdict == "not covered"
    assert unsaid.why_not == (
        "6061-T6: how long it is so hot is not said: beyond an hour in all it keeps its temper to 100 degC, "
        "up to an hour 175 degC; give the state a time, such as 500 h"
    )
    # Where the hours would not help it fails, where they would not harm it isn't asked.
    found = rules((State("hot", 175.5, 175.5),))["hub keeps its temper"]
    assert (found.verdict, found.limit) == ("fail", 175.0)
    assert "hub keeps its temper" not in rules((State("warm", 100.0, 100.0),))


def test_hours_on_the_command_line(fits):
    ran = fits("press", "--hole", "20", "--shaft", "20.01", "--hub-outside", "40", "--hub-material", "6061-T6",
               "--shaft-material", "316", "--state", "hot: 120 degC, 500 h")
    assert ran.status == 1
    assert "for 500.0 h in all" in ran.out
    assert "! hub keeps its temper: temperature of the hub 120 degC (hot), at most" in ran.out


def test_an_alternating_load_is_never_passed():
    found = rules(axial_load="100 N", alternating=True)["stands alternating load"]
    assert found.verdict == "not covered"
    assert "fretting" in found.why_not
    assert "stands alternating load" not in rules(axial_load="100 N")


def test_a_taper_port_beside_a_bore_leaves_0080_in(fits):
    """A 1/4 NPT with its axis 0.600 in from a 0.500 in bore: 0.600 - 0.250 - 0.540/2 = 0.080 in at the mouth."""
    given = ["press", "--units", "in", "--hole", "0.500", "--shaft", "0.5005", "--hub-outside", "3",
             "--hub-material", "6061-T6", "--shaft-material", "316", "--port", "1/4 NPT"]
    ran = fits(*given, "--port-distance", "0.600", "--json")
    feature = ran.json["features"]["press"]
    assert feature["values"]["port_wall"]["states"]["as_made"]["min"] == pytest.approx(0.080 * 25.4)
    assert any("straight-thread" in caution for caution in feature["cautions"])
    # So near the hub is no even ring, and a port that breaks out of the hub is none.
    wall = next(one for one in feature["checks"] if one["rule"] == "port leaves a wall")
    assert wall["verdict"] == "not covered"
    assert "! port leaves a wall*: wall between port and hole" in fits(*given, "--port-distance", "1.400").out
    near = fits(*given, "--port-distance", "0.500")
    assert "! port leaves a wall" in near.out
    alone = fits(*given)
    assert alone.status == 2
    assert "a port needs its thread and its distance" in alone.err
