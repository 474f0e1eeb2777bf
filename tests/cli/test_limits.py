"""fits limits: inch classes, both systems of units, and what it costs to start."""

from __future__ import annotations

import subprocess
import sys

import pytest


def test_an_inch_class_is_shown_in_both_units(fits):
    ran = fits("limits", "1.0000 in RC4")
    assert ran.status == 0
    assert ran.out.startswith("1.0000 in RC4: clearance fit\n")
    # ANSI B4.1, RC4 over 0.71 to 1.19 in: hole +1.2/0, shaft -0.8/-1.6 thou
    (hole,) = (line.split() for line in ran.out.splitlines() if line.startswith("  hole  "))
    assert hole == ["hole", "25.4000", "25.4305", "mm", "1.00000", "1.00120", "in"]
    assert "RC4: close running fit of ANSI B4.1, basic hole" in ran.out
    assert "Sources\n  - ANSI B4.1 RC4, over 0.71 to 1.19 in: Machinery's Handbook" in ran.out


@pytest.mark.parametrize(("args", "units"), [
    (["25 H7/g6"], {"mm"}), (["25 H7/g6", "--units", "in"], {"in"}), (["25 H7/g6", "--units", "both"], {"mm", "in"}),
    (["1.0000 in RC4", "--units", "mm"], {"mm"}), (["1.0000 in RC4", "--units", "in"], {"in"}), (["25 H7/g6", "1 3/8 in FN2 hole"], {"mm", "in"}),
])
def test_units_shown(fits, args: list[str], units: set[str]):
    lines = [line for line in fits("limits", *args).out.splitlines() if line.startswith(("  hole ", "  shaft ", "  clearance "))]
    assert lines
    assert all({"mm", "in"} & set(line.split()) == units for line in lines)


def test_both_units_agree_with_each_alone(fits):
    texts = ["16 H7/s6", "25.021/25.000", "8.0000 in FN3S", "1 1/4 in ±0.002"]
    both = fits("limits", *texts, "--units", "both").out
    cells = [line.split() for line in both.splitlines() if line.endswith(" in") and line.startswith("  ")]
    assert len(cells) > 10
    for row in cells:
        low_mm, high_mm, low_in, high_in = (float(row[i]) for i in (-6, -5, -3, -2))
        assert (low_in * 25.4, high_in * 25.4) == pytest.approx((low_mm, high_mm), abs=2e-4)
    assert all(len(line) <= 80 for line in both.splitlines() if "http" not in line)


def test_data_is_the_same_whatever_is_shown(fits):
    answers = {fits("limits", "1.0000 in RC4", "25 H7", "--json", *more).out for more in ([], ["--units", "mm"], ["--units", "both"])}
    assert len(answers) == 1
    values = fits("limits", "1.0000 in RC4", "--json").json["features"]["1.0000 in RC4"]["values"]
    assert list(values) == ["hole", "hole_deviation", "shaft", "shaft_deviation", "clearance"]
    assert {one["unit"] for one in values.values()} == {"mm"}
    assert values["clearance"]["states"]["as_made"] == {"min": 0.02032, "max": 0.07112}
    assert "1.0000 in RC4,limits,value,clearance,as_made,0.02032,0.07112" in fits("limits", "1.0000 in RC4", "--csv").out


def test_bare_inch_classes_need_inches(fits):
    assert fits("limits", "1.0000 RC4", "--units", "in").status == 0
    for more in ([], ["--units", "mm"], ["--units", "both"]):
        ran = fits("limits", "1.0000 RC4", *more)
        assert (ran.status, ran.out) == (2, "")
        assert ran.err == '"1.0000 RC4": no unit, and RC4 is a class for inches; write 1.0000 in RC4 if inches are meant, else a class for mm such as 1 H7\n'


def test_basic_shaft(fits):
    out = fits("limits", "1.0000 in RC4S", "--units", "in").out
    assert "RC4S: close running fit of ANSI B4.1, basic shaft: the greatest shaft is the" in out
    (shaft,) = (line.split() for line in out.splitlines() if line.startswith("  shaft  "))
    assert shaft == ["shaft", "0.99920", "1.00000", "in"]


@pytest.mark.parametrize(("text", "says"), [
    ("8 in LC8", "doubtful: all limits from memory"), ("10 in RC4", "another printing of B4.1"), ("5 in RC6 hole", "hole upper limit from memory"),
    ("0.5 in LN1", "one grade wider"), ("14 in FN1 shaft", "1.1 thou printed here"),
])
def test_doubt_stands_beside_the_answer(fits, text: str, says: str):
    ran = fits("limits", text, "--json").json
    assert any(says in note for note in ran["features"][text]["notes"])
    assert any(says in source for source in ran["sources"])
    out = fits("limits", text).out
    assert "1 of these are from memory or doubtful" in out


@pytest.mark.parametrize(("args", "says"), [
    (["20 in RC4"], '"20 in RC4": not covered: the table of RC4 in ANSI B4.1 ends at 19.69 in; write the limits, such as 20.003/20.000 in\n'),
    (["0.2 in LT3"], "begins above 0.24 in"), (["1 in RC44"], "no inch class RC44"), (["1.375 in H7"], "write 34.925 mm H7"),
    (["25 H7", "--units", "cm"], '--units: "cm": must be mm or in, or both'), (["RC4"], "no size before RC4"),
])
def test_bad_input_is_one_line_and_status_2(process, args: list[str], says: str):
    ran = process("limits", *args)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1


def test_a_bearing_has_a_bore_and_an_outside(fits):
    """Normal class, over 30 to 50 mm: inner ring 0/-12 um, outer ring 0/-11 um (tables/bought/bearing_rings)."""
    ran = fits("limits", "bearing 40", "--json")
    values = {name: (one["states"]["as_made"]["min"], one["states"]["as_made"]["max"]) for name, one in ran.json["features"]["bearing 40"]["values"].items()}
    assert ran.status == 0
    assert values == {"bore": (39.988, 40.0), "bore_deviation": (-0.012, 0.0), "outside": (39.989, 40.0), "outside_deviation": (-0.011, 0.0)}


def test_only_limits_shows_both(fits):
    ran = fits("check", "examples/hand_pump.toml", "--units", "both")
    assert ran.status == 2
    assert ran.err == '--units: "both": must be mm or in\n'


def test_inch_classes_start_as_light_as_metric_ones():
    heavy = "('numpy', 'pandas', 'pint', 'scipy', 'rich.table')"
    code = f"import sys; from fits.cli.main import main; main(['limits', '1.0000 in RC4', '25 H7/g6']); print([n for n in {heavy} if n in sys.modules], file=sys.stderr)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stderr.strip() == "[]"
