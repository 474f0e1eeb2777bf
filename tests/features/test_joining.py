"""Joining hot and cold: the gap, the clock, the plan, and what is refused."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest
from joints import metal, numbers, press_part

from fits.features.press import Press
from fits.materials.metals import metal as of_table
from fits.questions.check import check
from fits.questions.window import window
from fits.sizes.limits import Limits


def exact(value: float) -> Limits:
    return Limits(value, value)


LINER = {"hole": exact(12.7), "shaft": exact(12.7305), "shaft_bore": exact(11.0), "hub_outside": exact(38.1),
         "hub_material": of_table("6061-T6"), "shaft_material": of_table("316")}
INCH = ("--hole", "0.500", "--shaft", "0.5012", "--shaft-bore", "0.430", "--hub-outside", "1.5", "--length", "1.25",
        "--hub-material", "6061-T6", "--shaft-material", "316", "--units", "in", "--joining-clearance", "0.001")


def test_heat_alone_needs_more_than_the_temper_stands(fits):
    """0.500 in liner, 0.0012 in tight, 0.001 in gap by heat only: about 406 degF, over the ceiling.

    Worked by hand: 0.0022 in/0.500 in over 13.1e-6 per degF is 336 degF, from 70 degF: 406.
    """
    hand = '{based_on = "6061-T6", expansion = "13.1e-6 1/delta_degF"}'
    asked = ["--assembly", "heated", "--json"]
    data = fits("press", *INCH, *asked, "--hub-material", hand).json
    needed = data["features"]["press"]["values"]["heat_hub_to"]["states"]["assembly"]["max"] * 1.8 + 32.0
    assert needed - 68.0 == pytest.approx(406.0 - 70.0, abs=0.5)
    # By the table the metal expands more per degree the hotter it is; still over its ceiling.
    found = fits("press", *INCH, *asked).json["features"]["press"]
    assert 370.0 < found["values"]["heat_hub_to"]["states"]["assembly"]["max"] * 1.8 + 32.0 < needed
    (rule,) = (one for one in found["checks"] if one["rule"] == "hub stands the heating")
    assert rule["verdict"] == "fail"
    assert not found["plan"]


def test_heat_and_cold_together_open_the_gap(fits):
    """250 degF body (+0.0012 in) and a liner out of liquid nitrogen (-0.0014 in): gap about 0.0014 in.

    By hand from 13.1e-6 per degF and the 0.28 % contraction of 300-series stainless to 80 K.
    """
    data = fits("press", *INCH, "--heat-to", "250 degF", "--chill-to", "-196 degC", "--carry-time", "20 s", "--json").json
    found = data["features"]["press"]
    gap = found["values"]["joining_gap"]["states"]["assembly"]["min"] / 25.4
    assert gap == pytest.approx(0.0014, abs=0.00005)
    verdicts = {one["rule"]: one["verdict"] for one in found["checks"]}
    assert verdicts["goes in hot and cold"] == verdicts["hub stands the heating"] == "pass"
    assert verdicts["time to put it home"] == "pass"
    assert any("liquid nitrogen" in one for one in found["cautions"])


def test_the_gap_by_plain_coefficients():
    hub = metal(70000.0, 0.33, expansion=23e-6)
    inner = metal(200000.0, 0.29, expansion=12e-6)
    got = numbers(press_part(hole=exact(50.0), shaft=exact(50.05), shaft_bore=exact(30.0), hub_outside=exact(90.0),
                             hub_material=hub, shaft_material=inner, heat_to=120.0, chill_to=-60.0))
    assert got["joining_gap"] == pytest.approx(50.0 * (23e-6 * 100.0 + 12e-6 * 80.0) - 0.05, abs=1e-12)
    assert got["wanted_gap"] == pytest.approx(0.05)
    # Typed metals have no specific heat: no clock.
    assert np.isnan(got["seconds_in_air"])


def test_the_clock_in_air_by_small_steps():
    got = numbers(press_part(**LINER, heat_to=120.0, chill_to=-190.0))
    hub, inner = LINER["hub_material"], LINER["shaft_material"]
    hot, cold, time, step = 120.0, -190.0, 0.0, 0.01
    # rho c V/(h A) per part, walls wetted on both faces; the figures are those of tables/metals/heat.
    slow = 2700.0 * 943.0 * (19.05 - 6.35) / 2.0 * 1e-3 / 20.0
    fast = of_table("316").density * 390.0 * (6.35 - 5.5) / 2.0 * 1e-3 / 20.0
    slow *= hub.density / 2700.0
    while 12.7 * float(hub.strain_at(np.array(hot)) - inner.strain_at(np.array(cold))) > 0.0305:
        hot -= (hot - 20.0) / slow * step
        cold -= (cold - 20.0) / fast * step
        time += step
        assert time < 600.0
    assert got["seconds_in_air"] == pytest.approx(time, rel=0.005)


def test_a_clearance_never_grips_and_a_closed_gap_has_no_time():
    loose = numbers(press_part(**{**LINER, "shaft": exact(12.69)}, heat_to=100.0))
    assert np.isnan(loose["seconds_in_air"])
    tight = numbers(press_part(**{**LINER, "shaft": exact(12.8)}, heat_to=60.0))
    assert tight["joining_gap"] < 0.0
    assert tight["seconds_in_air"] == pytest.approx(0.0, abs=1e-6)
    assert tight["seconds_in_hole"] == 0.0


def test_the_clock_without_data_is_not_covered():
    fields = {**LINER, "shaft_material": of_table("347"), "heat_to": 150.0, "chill_to": 0.0,
              "carry_time": 10.0, "length": 30.0}
    (found,) = check(press_part(**fields)).features
    (rule,) = (one for one in found.checks if one.rule == "time to put it home")
    assert rule.verdict == "not covered"
    assert "no specific heat of 347 in the cold" in rule.why_not


def hot_and_cold(**more: Any) -> tuple[str, list[str]]:
    """The verdict, and the ranges of the plan's steps that heat, chill and put home."""
    fields = {"hole": exact(40.0), "shaft": exact(40.02), "shaft_bore": exact(36.0), "hub_outside": exact(44.0), "length": 20.0,
              "hub_material": of_table("6061-T6"), "shaft_material": of_table("6061-T6"), **more}
    (found,) = check(press_part(**fields)).features
    return found.verdict, [step.range for step in found.plan if step.do.startswith(("heat the hub all", "chill the inner", "try the gap"))]


def test_the_plan_says_how_long_the_gap_lasts_in_air_and_in_the_hole():
    """6061 grows by about 24e-6 1/K: 40 mm by 130 K, less 0.02 mm, leave about 0.105 mm."""
    verdict, (heat, home) = hot_and_cold(heat_to=150.0)
    assert verdict == "pass"
    assert heat.startswith("150 degC, at least ")
    told = re.fullmatch(r"gap at least (\S+) mm, (\d+) s in still air, then (\S+) s in the hole if it runs true", home)
    assert told is not None, home
    assert float(told[1]) == pytest.approx(0.105, abs=0.003)
    assert float(told[3]) < float(told[2])


def test_chilling_alone_has_no_step_at_the_oven():
    _, (chill, home) = hot_and_cold(chill_to=-100.0, shaft_material=of_table("316"))
    assert chill == "inner part at -100 degC"
    # 316 shrinks by about 15e-6 1/K: 40 mm by 120 K, less 0.02 mm.
    assert float(home.removeprefix("gap at least ").split(" ")[0]) == pytest.approx(0.052, abs=0.004)
    assert "in the hole" not in home


def test_without_a_clock_the_plan_says_the_gap_alone_and_without_a_gap_no_step():
    _, (_, home) = hot_and_cold(heat_to=150.0, hub_material=metal(70000.0, 0.33, expansion=23e-6))
    # 40 x 23e-6 x 130 less 0.02.
    assert home == "gap at least 0.100 mm"
    verdict, steps = hot_and_cold(heat_to=950.0, hub_material=of_table("316"))
    assert verdict == "not covered"
    assert [one.split(",")[0] for one in steps] == ["950 degC"]


def test_how_hot_is_answered_by_the_window():
    part = press_part(**LINER, heat_to=120.0, chill_to=-190.0, friction_hold=0.1)
    found = window(part, "joint.heat_to")
    hub = next(one for one in found.rules if one.rule == "hub stands the heating")
    assert hub.intervals[-1][1] == pytest.approx(175.0, abs=1e-3)
    goes = next(one for one in found.rules if one.rule == "goes in hot and cold")
    at = goes.intervals[0][0]
    got = numbers(press_part(**LINER, heat_to=at, chill_to=-190.0))
    assert got["joining_gap"] == pytest.approx(got["wanted_gap"], abs=1e-6)


@pytest.mark.parametrize(("more", "says"), [
    (("--chill-to", "-274 degC"), "must be at least -273.15 degC"),
    (("--heat-to", "10 degC"), "must be at least 20 degC"),
    (("--chill-to", "40 degC"), "at most 20 degC"),
    (("--carry-time", "10 s"), "needs heat_to or chill_to"),
    (("--heat-to", "150 degC", "--assembly", "pressed"), "go in at room temperature"),
    (("--heat-to", "150 degC", "--chill-to", "-50"), "needs a unit"),
])
def test_what_cannot_be(fits, more: tuple[str, ...], says: str):
    ran = fits("press", *INCH, *more)
    assert ran.status == 2
    assert says in ran.err
    assert not ran.out


def test_colder_than_the_table_is_not_covered(fits):
    ran = fits("press", *INCH, "--chill-to", "-272 degC")
    assert ran.status == 1
    assert "goes in hot and cold: not covered (assembly)" in " ".join(ran.out.split())
    assert "expansion is known from -269.15" in " ".join(ran.out.split())


def test_the_plan_has_forces_at_depth_and_stop_limits(fits):
    ran = fits("check", "examples/hand_pump.toml")
    assert ran.status == 0
    data = fits("check", "examples/hand_pump.toml", "--json").json
    steps = data["features"]["liner"]["plan"]
    (press,) = (step for step in steps if step["do"].startswith("press in"))
    most = data["features"]["liner"]["values"]["press_force"]["states"]["assembly"]["max"]
    assert f"{most:.0f} N at full depth" in press["range"]
    assert f"{most / 4.0:.0f} N at 1/4" in press["range"]
    assert press["stop_if"].startswith("the force passes")
    assert "closes by" in steps[-1]["range"]


def test_a_solid_inner_part_has_no_bore_to_finish():
    part = press_part(**{**LINER, "shaft_bore": None}, assembly="heated", heat_to=150.0)
    assert isinstance(part.features["joint"], Press)
    (found,) = check(part).features
    assert not any("bore" in step.range for step in found.plan)


@pytest.mark.parametrize(("oven", "verdict"), [("300 degF", "fail"), ("450 degF", "pass")])
def test_an_oven_must_be_hot_enough(fits, oven: str, verdict: str):
    """The same liner asks for 370 to 406 degF."""
    checks = fits("press", *INCH, "--assembly", "heated", "--oven", oven, "--json").json["features"]["press"]["checks"]
    assert {one["rule"]: one["verdict"] for one in checks}["oven is hot enough"] == verdict


def test_an_oven_is_asked_only_for_a_heated_hub(fits):
    checks = fits("press", *INCH, "--oven", "100 degF", "--json").json["features"]["press"]["checks"]
    assert "oven is hot enough" not in {one["rule"] for one in checks}


def test_a_fit_that_opens_in_the_cold_says_the_warmest_temperature_at_which_it_does():
    """The tightest corner opens colder than strain is known: then the least isn't known, not the greatest.

    By hand: 316 shrinks about 4 millionths per K more than 1045, 0.0010 mm of 8 mm are 0.00012,
    so about 29 K below 20 degC.
    """
    given = {"hole": Limits(8.0, 8.0008), "shaft": Limits(8.005, 8.0058), "hub_outside": exact(16.0), "length": "30",
             "hub_material": of_table("1045 HR"), "shaft_material": of_table("316"), "roughness_hole": "2 um", "roughness_shaft": "2 um"}
    (answer,) = check(press_part(**given)).features
    (found,) = (value for value in answer.values if value.name == "release_temperature")
    span = found.states["assembly"]
    assert span.least is None
    assert span.greatest == pytest.approx(-9.0, abs=5.0)
