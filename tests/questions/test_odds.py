"""Odds against exact results, against ``uncertainties``, against the worst case; seeds repeat."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.feature import State
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.files.part import build
from fits.files.spreads import scatters
from fits.questions.answer import FAIL, NOT_COVERED, PASS
from fits.questions.odds import SCRAMBLES, first_order, odds, shares
from fits.questions.scattered import Odds, RuleOdds, Share
from fits.report import odds as report

PUMP = "examples/hand_pump.toml"
STATES = (State("shop"), State("cold", -20.0, -20.0), State("hot", 70.0, 70.0, 8.0), State("proof", 20.0, 20.0, 12.0, 0.0, True))


def phi(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def running(least: float = 0.02, **spreads: str) -> Part:
    """A shaft in a hole at 20 degC: clearance is hole less shaft, 0.010 to 0.052."""
    fit = Running(hole="25.021/25.000", shaft="24.990/24.969", clearance_at_least=least, clearance_at_most=0.05)
    return spread(Part("fit", {"fit": fit}), {f"fit.{name}": text for name, text in spreads.items()})


def spread(part: Part, texts: dict[str, str]) -> Part:
    faults: list[Any] = []
    found = scatters(texts, part.features, {}, "mm", faults)
    assert not faults
    return replace(part, spreads=found)


def rule(found: Odds, name: str) -> RuleOdds:
    return next(one for one in found.rules if one.rule == name)


def holds(share: Share, exact: float) -> None:
    """The exact share lies within twice the 95 % interval (once in 1,400 it would not), which is narrow."""
    assert share.high - share.low < 0.01
    assert abs(share.share - exact) <= 2 * max(share.high - share.share, share.share - share.low)


@pytest.mark.parametrize(("hole", "shaft"), [(1.0, 1.0), (0.6, 1.33), (1.33, 0.5)])
@pytest.mark.parametrize("least", [0.02, 0.026, 0.035])
def test_a_linear_clearance_against_the_exact_normal_result(hole: float, shaft: float, least: float):
    found = odds(running(least, hole=f"normal Cp {hole}", shaft=f"normal Cp {shaft}"))
    mean, sigma = 0.031, math.hypot(0.021 / (6 * hole), 0.021 / (6 * shaft))
    exact = phi((mean - least) / sigma)
    holds(rule(found, "least clearance").passing, exact)
    holds(rule(found, "most clearance").passing, phi((0.05 - mean) / sigma))
    holds(found.passing, exact - phi((mean - 0.05) / sigma))
    assert rule(found, "least clearance").capability == pytest.approx((mean - least) / (3 * sigma), rel=2e-3)


def test_the_same_against_uncertainties():
    from uncertainties import ufloat

    found = odds(running(0.02, hole="normal Cp 0.8", shaft="normal sigma 0.005 at 24.981"))
    hole, shaft = ufloat(25.0105, 0.021 / 4.8, "hole"), ufloat(24.981, 0.005, "shaft")
    clearance = hole - shaft
    holds(rule(found, "least clearance").passing, phi((clearance.n - 0.02) / clearance.s))
    parts = {one.tag: (share / clearance.s) ** 2 for one, share in clearance.error_components().items()}
    ours = dict(rule(found, "least clearance").comes_from)
    assert ours["fit.hole"] == pytest.approx(parts["hole"], abs=0.01)
    assert ours["fit.shaft"] == pytest.approx(parts["shaft"], abs=0.01)


def test_contact_pressure_against_uncertainties():
    """A press of narrow spreads is all but linear: mean and sigma of its contact pressure agree."""
    from uncertainties import ufloat

    metal = {"youngs_modulus": "207 GPa", "poisson": 0.292, "yield_strength": "300 MPa"}
    press = Press(hole="40.025/40.000", shaft="40.060/40.044", hub_outside="80 ±0.2", length=50, hub_material=metal,
                  shaft_material=metal, roughness_hole=0.0, roughness_shaft=0.0, friction_hold=0.1, axial_load=1000.0)
    part = spread(Part("wheel", {"seat": press}), {"seat.hole": "normal Cp 1", "seat.shaft": "normal Cp 1", "seat.hub_outside": "normal Cp 1"})
    found = rule(odds(part), "holds its load")
    hole, shaft, outside = ufloat(40.0125, 0.025 / 6), ufloat(40.052, 0.016 / 6), ufloat(80.0, 0.4 / 6)
    ratio = (outside * outside + hole * hole) / (outside * outside - hole * hole)
    pressure = (shaft - hole) / (hole / 207000.0 * (ratio + 1.0))
    margin = 0.1 * pressure * math.pi * hole * 50.0 - 1.5 * 1000.0
    assert found.capability == pytest.approx(margin.n / (3 * margin.s), rel=0.01)


@pytest.mark.parametrize("least", [0.012, 0.018, 0.031, 0.045])
def test_nothing_said_is_uniform_over_the_limits(least: float):
    """The difference of two uniform sizes of equal width is a triangle."""
    found = odds(running(least))
    width, x = 0.021, least - 0.010
    exact = 1 - x * x / (2 * width * width) if x <= width else (2 * width - x) ** 2 / (2 * width * width)
    holds(rule(found, "least clearance").passing, exact)
    assert [one.said for one in found.drawn] == [False, False]


def test_inspected_parts_are_cut_at_their_limits():
    part = running(0.0105, hole="normal Cp 0.3, inspected", shaft="measured 24.990 24.9900001")
    sigma = 0.021 / 1.8
    low, high = phi(-0.0105 / sigma), phi(0.0105 / sigma)
    exact = (high - phi((25.0005 - 25.0105) / sigma)) / (high - low)
    holds(rule(odds(part), "least clearance").passing, exact)


def test_a_measured_sample_is_each_of_its_parts():
    found = odds(running(0.02, hole="measured 25.000 25.005 25.012 25.020", shaft="measured 24.985 24.990"))
    clearances = [a - b for a in (25.0, 25.005, 25.012, 25.02) for b in (24.985, 24.990)]
    exact = sum(one >= 0.02 - 1e-9 for one in clearances) / len(clearances)
    assert rule(found, "least clearance").passing.share == pytest.approx(exact, abs=2e-3)


@pytest.mark.parametrize(("hole", "shaft", "said"), [
    (4, 2, "measured: fit.hole on 4 parts, fit.shaft on 2 parts: too few to say much of the next"),
    (30, 29, "measured: fit.shaft on 29 parts: too few"), (30, 30, ""), (0, 5, "measured: fit.shaft on 5 parts: too few"),
])
def test_few_measured_parts_are_told_in_the_first_lines(hole: int, shaft: int, said: str):
    """The interval counts the draw; what it was drawn from may be three parts."""
    texts = {"hole": "measured " + " ".join(f"{25.0 + 0.0005 * i:.4f}" for i in range(hole)) if hole else "normal Cp 1",
             "shaft": "measured " + " ".join(f"{24.985 + 0.0001 * i:.4f}" for i in range(shaft))}
    text = report.headline(odds(running(0.01, **texts), samples=1024))
    assert said in text
    assert bool(said) == ("too few" in text)


def test_parts_may_scatter_beyond_their_limits():
    """A bell has tails: worst case over the limits passes, some parts that are drawn don't."""
    found = odds(running(0.01, hole="normal Cp 0.5", shaft="normal Cp 0.5"))
    assert rule(found, "least clearance").worst.verdict == PASS
    assert rule(found, "least clearance").failing.share > 0.0


def test_a_shared_size_is_drawn_once():
    """Two shafts in one hole: both rules hold together as often as the harder one alone."""
    part = build({"sizes": {"bore": "25.020/25.000"}, "running": {
        "a": {"hole": "bore", "shaft": "24.99", "clearance_at_least": "0.015"}, "b": {"hole": "bore", "shaft": "24.99", "clearance_at_least": "0.020"}}})
    found = odds(part)
    assert [one.key for one in found.drawn] == ["sizes.bore"]
    shares_of = {one.feature: one.passing.share for one in found.rules if one.rule == "least clearance"}
    assert (shares_of["a"], shares_of["b"]) == pytest.approx((0.75, 0.5), abs=1e-4)
    assert found.passing.share == shares_of["b"]


def test_a_surface_scatters_with_the_feature_it_stands_on(fits):
    found = fits("odds", PUMP, "--json").json["odds"]
    of = {(one["feature"], one["rule"]): one for one in found["rules"]}
    assert {"liner.hole", "liner.shaft", "liner.shaft_bore", "plunger.shaft"} >= set(of["plunger", "least clearance"]["comes_from"])
    assert "liner.shaft_bore" in of["plunger", "least clearance"]["comes_from"]
    assert "plunger.hole" not in [one["dimension"] for one in found["drawn"]]


def test_not_covered_stays_not_covered():
    press = Press(hole="16 H6", shaft="16.060/16.050", hub_outside="32 ±0.1", length=40, hub_material="6061-T6", shaft_material="316L")
    found = odds(Part("no roughness", {"liner": press}), samples=1024)
    kept = rule(found, "interference is kept")
    assert (kept.passing.share, kept.not_covered, kept.capability) == (0.0, 1.0, None)
    assert kept.worst.verdict == NOT_COVERED
    assert (found.passing.share, found.passing.high < 0.01) == (0.0, True)
    # Some fail another rule whatever the roughness is; the rest is not covered, none passes.
    assert found.not_covered == pytest.approx(1.0 - found.failing.share)
    assert found.not_covered > 0.5


def test_a_fit_without_duty_is_not_covered():
    found = odds(Part("fit", {"fit": Running(hole="25.021/25.000", shaft="24.990/24.969")}), samples=1024)
    assert (found.passing.share, found.not_covered) == (0.0, 1.0)


def test_a_part_that_cannot_be_assembled_fails():
    """A bore drawn larger than its outside is a failing part, not a number."""
    press = Press(hole="16.011/16.000", shaft="16.060/16.050", shaft_bore="15.0/14.0", hub_outside=32, length=40,
                  hub_material="6061-T6", shaft_material="316L", roughness_hole=0.0, roughness_shaft=0.0)
    part = spread(Part("thin", {"liner": press}), {"liner.shaft_bore": "normal sigma 0.5 at 16.0"})
    found = odds(part, samples=4096)
    assert all(one.failing.share > 0.4 for one in found.rules)
    assert found.passing.share + found.failing.share + found.not_covered == pytest.approx(1.0)


@given(
    st.floats(0.02, 0.09), st.floats(4.0, 15.0), st.floats(20.0, 40.0), st.floats(0.0, 14.0),
    st.sampled_from([None, "body", "liner", "open"]), st.floats(0.0, 3000.0),
)
def test_no_part_within_its_limits_beats_the_worst_case(over: float, bore: float, outside: float, pressure: float, ends: Any, load: float):
    press = Press(hole="16 H6", shaft=f"{16.01 + over:.4f}/{16.0 + over:.4f}", shaft_bore=f"{bore:.3f} ±0.05", hub_outside=f"{outside:.2f} ±0.1",
                  length="40 ±0.2", hub_material="6061-T6", shaft_material="304", roughness_hole=3.0, roughness_shaft=2.0, friction_hold=0.1,
                  friction_press=0.2, axial_load=load, ends=ends)
    found = odds(Part("any", {"liner": press}, (State("shop"), State("hot", 70.0, 70.0, pressure))), samples=1024)
    for one in found.rules:
        if one.worst.verdict == PASS:
            assert one.passing.share == 1.0, one
        if one.worst.verdict != FAIL:
            assert one.failing.share == 0.0, one


def test_shares_keep_a_width_where_nothing_failed():
    every = shares(np.full(SCRAMBLES, 64), 64)
    assert (every.share, every.high) == (1.0, 1.0)
    assert every.low == pytest.approx(0.025 ** (1 / (64 * SCRAMBLES)), rel=1e-6)  # Clopper and Pearson, all pass
    none = shares(np.zeros(SCRAMBLES, dtype=int), 64)
    assert (none.low, none.share) == (0.0, 0.0)
    assert none.high == pytest.approx(1 - every.low, rel=1e-6)


def test_intervals_hold_the_exact_share_as_often_as_they_say():
    """Forty seeds: a 95 % interval misses the exact share rarely."""
    part = running(0.02, hole="normal Cp 0.8", shaft="normal Cp 0.8")
    exact = phi(0.011 / math.hypot(0.021 / 4.8, 0.021 / 4.8))
    missed = 0
    for seed in range(40):
        found = rule(odds(part, samples=1024, seed=seed), "least clearance").passing
        missed += not found.low <= exact <= found.high
    assert missed <= 2


def test_first_order_of_a_known_function():
    """x + 2 y of uniform ranks: variance 1/12 and 4/12 (by hand); a dimension without effect has none."""
    ranks = np.random.default_rng(3).random((3, 65536))
    margin = ranks[0] + 2.0 * ranks[1]
    assert [first_order(one, margin) for one in ranks] == pytest.approx([0.2, 0.8, 0.0], abs=0.01)


def test_seeds_repeat_byte_for_byte(process):
    args = ("odds", PUMP, "--samples", "1024", "--json", "--spread", "liner.hole: normal Cp 1.33")
    one, other = process(*args), process(*args)
    assert one.out.encode() == other.out.encode()
    assert one.json["odds"]["seed"] == 1
    assert process(*args, "--seed", "2").out != one.out


def test_nothing_scatters():
    fit = Running(hole=25.0, shaft=24.98, clearance_at_least=0.01)
    with pytest.raises(InputError, match="nothing scatters"):
        odds(Part("exact", {"fit": fit}))


def test_states_make_no_difference_to_what_is_drawn():
    press = Press(hole="16 H6", shaft="16.060/16.050", shaft_bore="12 ±0.02", hub_outside="32 ±0.1", length="40", hub_material="6061-T6",
                  shaft_material="316L", roughness_hole=3.0, roughness_shaft=2.0, friction_hold=0.1, friction_press=0.1, axial_load=800.0, ends="body")
    part = Part("liner", {"liner": press}, STATES)
    shop = odds(replace(part, states=STATES[:1]), samples=4096)
    every = odds(part, samples=4096)
    for one in shop.rules:
        assert rule(every, one.rule).passing.share <= one.passing.share


# The command line.


def test_the_screen_says_what_odds_are_not(fits):
    ran = fits("odds", "examples/water_sampler.toml", "--samples", "1024")
    assert ran.status == 1
    assert "seed 1" in ran.out
    assert "Odds are no proof: they hold for parts that scatter as is said below. Worst case: FAIL." in " ".join(ran.out.split())
    assert "nothing said: uniform" in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())
    assert fits("odds", PUMP, "--samples", "1024").status == 0
    # Within the limits all hold; parts that scatter beyond them don't, and 0 would say that they do.
    ran = fits("odds", PUMP, "--samples", "1024", "--spread", "liner.hole: normal sigma 0.02")
    assert "Worst case: PASS" in " ".join(ran.out.split())
    assert ran.status == 1


def test_spreads_of_the_file_and_of_the_shell(fits, tmp_path):
    from pathlib import Path

    path = tmp_path / "pump.toml"
    path.write_text(Path(PUMP).read_text(encoding="utf-8") + '\n[spreads]\nliner.hole = "normal Cp 1.33"\n', encoding="utf-8")
    drawn = {one["dimension"]: one for one in fits("odds", str(path), "--json", "--samples", "1024").json["odds"]["drawn"]}
    assert drawn["liner.hole"]["sigma"] == pytest.approx(0.011 / 6 / 1.33)
    assert (drawn["liner.hole"]["said"], drawn["liner.shaft"]["said"]) == (True, False)
    typed = fits("odds", str(path), "--json", "--samples", "1024", "--spread", "liner.hole: uniform 16.002/16.001").json["odds"]
    assert {one["dimension"]: one["spread"] for one in typed["drawn"]}["liner.hole"] == "uniform 16.002/16.001"
    path.write_text(path.read_text(encoding="utf-8").replace("normal Cp 1.33", "normal Cq 1.33"), encoding="utf-8")
    ran = fits("odds", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert 'pump.toml:56: spreads.liner.hole: "normal Cq 1.33"' in ran.err


BORES = [16.003, 16.005, 16.004, 16.009]
HEAD = "part,feature.dimension,value,unit,uncertainty,instrument,temperature\n"


@pytest.mark.parametrize("content", [
    "liner.hole [mm]\n16.003\n16.005\n16.004\n16.009\n", "\ufeffpart;liner.hole [mm]\r\na;16.003\r\nb;16.005\r\nc;16.004\r\nd;16.009\r\n",
    "liner.shaft [mm],liner.hole\n16.051,16.003 mm\n,16.005 mm\n16.052,\n,16.004 mm\n,16009 um\n", '"liner.hole [mm]","note"\n16.003,"two\nlines"\n16.005,\n16.004,\n16.009,\n',
    "# invented\n" + HEAD + "".join(f"b{at},liner.hole,{size},mm,0.001,gauge,20 degC\n" for at, size in enumerate(BORES)),
])
def test_a_measured_sample_from_a_table_is_the_sample_typed(fits, tmp_path, content: str):
    (tmp_path / "bores.csv").write_bytes(content.encode())
    typed = fits("odds", PUMP, "--json", "--samples", "1024", "--spread", f"liner.hole: measured {' '.join(map(str, BORES))}").json["odds"]
    found = fits("odds", PUMP, "--json", "--samples", "1024", "--spread", f"liner.hole: measured from {tmp_path / 'bores.csv'}").json["odds"]
    said = next(one for one in found["drawn"] if one["dimension"] == "liner.hole")
    assert said["spread"] == f"measured from {tmp_path / 'bores.csv'} (4 sizes)"
    for one, other in zip(found["drawn"], typed["drawn"], strict=True):
        assert {**one, "spread": ""} == {**other, "spread": ""}
    assert {key: value for key, value in found.items() if key != "drawn"} == {key: value for key, value in typed.items() if key != "drawn"}


def test_a_name_that_no_file_can_have(fits, tmp_path):
    from pathlib import Path

    path = tmp_path / "pump.toml"
    path.write_text(Path(PUMP).read_text(encoding="utf-8") + '\n[spreads]\nliner.hole = "measured from a\\u0000.csv"\n', encoding="utf-8")
    ran = fits("odds", str(path))
    assert (ran.status, ran.out, ran.err.count("\n")) == (2, "", 1)
    assert "no name of a file" in ran.err


def test_a_table_is_looked_for_beside_the_part_file(fits, tmp_path):
    from pathlib import Path

    path = tmp_path / "pump.toml"
    path.write_text(Path(PUMP).read_text(encoding="utf-8") + '\n[spreads]\nliner.hole = "measured from bores.csv"\n', encoding="utf-8")
    (tmp_path / "bores.csv").write_text("liner.hole [mm]\n16.003\n16.0o5\n", encoding="utf-8")
    ran = fits("odds", str(path))
    assert (ran.status, ran.out, ran.err.count("\n")) == (2, "", 1)
    assert f'pump.toml:56: spreads.liner.hole: "16.0o5": in {tmp_path / "bores.csv"}: row 3: unknown unit o5' in ran.err
    (tmp_path / "bores.csv").write_text("liner.hole [mm]\n16.003\n16.005\n", encoding="utf-8")
    assert fits("odds", str(path), "--samples", "1024").status == 0


@pytest.mark.parametrize(("content", "says"), [
    ("", "empty"), ("liner.hole [mm]\n", "at least two measured sizes"), ("liner.hole [mm]\n16.003\n", "at least two measured sizes"), ("liner.hole [mm]\n16.003\n16.003\n", "all measured sizes are the same"),
    ("liner.hole\n16.003\n16.004\n", "row 2: --spread liner.hole: \"16.003\": a size needs a unit, it is never assumed"), ("liner.hole [mm]\n16.003\nnan\n16.005\n", "row 3"), ("liner.hole [mm]\n16.003\ninf\n", "row 3"),
    ("liner.hole [mm]\n16.003\nabout 16\n", "row 3"), ("liner.hole [mm]\n16.003\n-16.004\n", "a size is above 0"), ("liner.hole [N]\n16.003\n16.004\n", "a length is due"), ("liner.hole [mm]\n16.003\n0.63\n", "nowhere near its limits, 16.000 mm to 16.011 mm"),
    ("liner.hoel [mm]\n16.003\n16.004\n", "row 1: --spread liner.hole: \"liner.hole\": no column of this dimension"), ("liner.hole [mm],liner.hole [in]\n16.003,1\n", "stands twice"), ("liner.hole [mm];x\n16,003;1\n16,004;1\n", "row 2"),
    (HEAD, "no reading in this table"), (HEAD + "a,liner.shaft,16.055,mm,0.001,mic,20 degC\n", "no reading of this dimension"), (HEAD + "a,liner.hole,16.005,mm,,mic,20 degC\n", "uncertainty: asked for"),
    (HEAD + "a,liner.hole,16.005,mm,0.001,mic,35 degC\nb,liner.hole,16.004,mm,0.001,mic,20 degC\n", "read warm"), (HEAD + "a,liner.hole,15.0,mm,0.001,mic,20 degC\nb,liner.hole,16.004,mm,0.001,mic,20 degC\n", "nowhere near"),
])
def test_bad_tables_of_a_sample(fits, tmp_path, content: str, says: str):
    (tmp_path / "bores.csv").write_text(content, encoding="utf-8")
    ran = fits("odds", PUMP, "--spread", f"liner.hole: measured from {tmp_path / 'bores.csv'}")
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert all(str(tmp_path) in line or "measured sizes" in line for line in ran.err.splitlines())
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(("args", "says"), [
    (["--spread", "liner.hole: measured from none.csv"], "none.csv: "),
    (["--spread", "liner.hole"], '--spread: "liner.hole": a dimension, a colon and its spread are due'), (["--spread", "liner.hoel: uniform"], 'did you mean "hole"?'),
    (["--spread", "plunger.hole: uniform"], "it stands on liner.shaft_bore"), (["--samples", "3"], '--samples: "3": from 16 to'),
    (["--seed", "-1"], "--seed: \"-1\": must be 0 or above"), (["--json", "--csv"], "not both"), (["--samples", "many"], "--samples"),
    (["--spread", "liner.hole: uniform", "--spread", "liner.hole: uniform"], "stands twice"),
])
def test_bad_questions(fits, args: list[str], says: str):
    ran = fits("odds", PUMP, *args)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert ran.err.count("\n") == 1


def test_refused_parts_are_not_drawn(fits, tmp_path):
    path = tmp_path / "gas.toml"
    from pathlib import Path

    path.write_text(Path(PUMP).read_text(encoding="utf-8").replace("proof       = true", 'proof       = true\nmedium = "air"'), encoding="utf-8")
    ran = fits("odds", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert "refused, nothing is drawn: liner: proof test with gas" in ran.err


def test_json_and_csv(fits):
    import csv
    import io

    whole = fits("odds", PUMP, "--json", "--samples", "1024")
    assert whole.json["schema"] == "fits-report/1"
    assert whole.json["verdict"] == PASS
    assert "NaN" not in whole.out
    json.loads(whole.out)
    rows = list(csv.DictReader(io.StringIO(fits("odds", PUMP, "--csv", "--samples", "1024").out)))
    assert [row["rule"] for row in rows] == ["every rule", *(one["rule"] for one in whole.json["odds"]["rules"])]
    assert all(0.0 <= float(row["low"]) <= float(row["passing"]) <= float(row["high"]) <= 1.0 for row in rows)
