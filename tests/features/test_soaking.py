"""How long a hub is heated: the coupling makers' rule and the lumped balance."""

from __future__ import annotations

import math
from typing import Any

import pytest
from joints import metal, press_part

from fits.features.press.soaking import at_heat, soak
from fits.materials.metals import metal as of_table
from fits.sizes.limits import Limits


def press(hub: Any, outside: float = 60.0):
    part = press_part(hole=Limits(40.0, 40.0), shaft=Limits(40.02, 40.02), hub_outside=Limits(outside, outside),
                      hub_material=hub, shaft_material=of_table("4340"), heat_to=150.0)
    return part.features["joint"]


def test_the_lumped_balance_by_hand():
    """6061-T6: 2700 x 943 x 5 mm/10 W/(m2 K) is 1273 s; ln 20 of it 63.6 min; the rule 30."""
    found = soak(press(of_table("6061-T6")), 150.0)
    assert found.minutes == pytest.approx(2700.0 * 943.0 * 0.005 / 10.0 * math.log(20.0) / 60.0)
    assert "64 min in still air" in found.how
    assert "30 min" in found.how


def test_the_lumped_balance_by_small_steps():
    hub = of_table("4340")
    temperature, seconds = 20.0, 0.0
    capacity = hub.density * 475.0 * (0.03**2 - 0.02**2) * math.pi
    while temperature < 150.0 - 0.05 * 130.0:
        temperature += 10.0 * 2.0 * math.pi * (0.03 + 0.02) * (150.0 - temperature) / capacity * 0.5
        seconds += 0.5
    assert soak(press(hub), 150.0).minutes == pytest.approx(seconds / 60.0, rel=1e-3)


@pytest.mark.parametrize(("hub", "outside", "says"), [
    (metal(207000.0, 0.3, expansion=11e-6), 60.0, "no specific heat"), (of_table("316"), 1000.0, "too thick"),
])
def test_the_rule_alone_where_the_balance_cannot_be_drawn(hub: Any, outside: float, says: str):
    """316 of 240 mm depth: Biot number 10 x 0.24/13.4 is 0.18."""
    found = soak(press(hub, outside), 150.0)
    assert found.minutes == pytest.approx(3.0 * (outside - 40.0) / 2.0)
    assert says in found.how


def test_an_oven_at_room_temperature_heats_nothing():
    """No rise to reckon with: the rule alone, 3 min for each of 10 mm."""
    found = soak(press(of_table("6061-T6")), 20.0)
    assert found == (pytest.approx(30.0), "3 min for each mm of wall: 30 min")


def test_time_at_heat_counts_for_aged_aluminium():
    assert "16 h at 200 degC" in at_heat(press(of_table("6061-T6")), 150.0)
    assert at_heat(press(of_table("6061-T6")), 90.0) == ""
    assert at_heat(press(of_table("4340")), 150.0) == ""


def test_the_plan_says_how_long(fits):
    ran = fits("press", "--hole", "40", "--shaft", "40.02", "--hub-outside", "60", "--hub-material", "6061-T6",
               "--shaft-material", "4340", "--heat-to", "150 degC", "--length", "20", "--roughness-hole", "1 um",
               "--roughness-shaft", "1 um", "--joining-clearance", "0.03", "--json")
    steps = ran.json["features"]["press"]["plan"]
    (heating,) = (one for one in steps if one["do"].startswith("heat the hub"))
    assert "150 degC, at least 64 min" in heating["range"]
    assert "all heatings together" in heating["range"]
