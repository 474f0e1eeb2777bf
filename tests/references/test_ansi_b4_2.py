"""ANSI B4.2: limits of the preferred fits, and published problems in mm, against ISO 286 of fits.

The rows are printed limits (75) or grades and deviations of Shigley's tables added up (425):
a second source for ISO 286, which fits takes from other publications.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from fits import tables

ROWS = tables.parse(Path(__file__).with_name("ansi_b4_2_limits.csv").read_text(encoding="utf-8"), "limits").rows
FITS = tables.load("ansi_b4/preferred_fits").rows
SIZES = tables.load("ansi_b4/preferred_sizes").rows


def ends(values: dict[str, Any], name: str) -> tuple[float, float]:
    states = values[name]["states"]["as_made"]
    assert values[name]["unit"] == "mm"
    return states["min"], states["max"]


def test_all_500_rows_in_one_call(fits):
    ran = fits("limits", *dict.fromkeys(f"{row['basic']} {row['fit']}" for row in ROWS), "--json")
    assert ran.status == 0
    wrong = []
    features = ran.json["features"]
    for row in ROWS:
        values = features[f"{row['basic']} {row['fit']}"]["values"]
        for name, low, high in (("hole", "hole_min", "hole_max"), ("shaft", "shaft_min", "shaft_max"), ("clearance", "fit_min", "fit_max")):
            if ends(values, name) != (float(row[low]), float(row[high])):
                wrong.append((row["basic"], row["fit"], name))
    assert len(ROWS) == 500
    assert not wrong


def test_the_rows_are_the_preferred_fits():
    assert {(row["fit"], row["basis"]) for row in ROWS} == {(row["fit"], row["basis"]) for row in FITS}
    assert len(FITS) == 20


def test_a_preferred_fit_says_so(fits):
    for row in FITS:
        text = f"20 {row['fit']}"
        (said,) = (one for one in fits("limits", text, "--json").json["features"][text]["notes"] if "preferred" in one)
        assert said.startswith(f"preferred fit of ANSI B4.2: {row['name']}, ")
        assert row["basis"] in said
    assert "preferred" not in fits("limits", "20 H7/m6").out
    notes = fits("limits", "7.5 H7/g6", "--json").json["features"]["7.5 H7/g6"]["notes"]
    assert any("7.5 mm is none of its preferred sizes" in one for one in notes)


def test_printed_sizes_of_first_choice_are_in_the_table():
    """The sizes of the seen pages of B4.2 (Table 12, of first choice only)."""
    printed = {float(row["basic"]) for row in ROWS if row["evidence"] == "seen" and row["basis"] == "hole"}
    assert printed == {float(row["size"]) for row in SIZES if row["evidence"] == "seen"}
    assert all(row["choice"] == "first" for row in SIZES if row["evidence"] == "seen")
    sizes = [float(row["size"]) for row in SIZES]
    assert sizes == sorted(set(sizes))
    assert len(sizes) == 61


# Published problems in mm: (text, what is asked, printed least, printed greatest)
WORKED = [
    # Shigley, Mechanical Engineering Design, 9th ed., Example 7-7, p. 398
    ("34 H11/c11", "hole", 34.000, 34.160), ("34 H11/c11", "shaft", 33.720, 33.880),
    # encyclopedia page on engineering fits (wap.danielthefox.com)
    ("50 H8/f7", "hole_deviation", 0.0, 0.039), ("50 H8/f7", "shaft_deviation", -0.050, -0.025), ("50 H8/f7", "clearance", 0.025, 0.089),
    # course tutorial 2 with Shigley's tables (scribd.com/document/339349599), questions 1 and 3
    ("15 H7/h6", "hole", 15.000, 15.018), ("15 H7/h6", "shaft", 14.989, 15.000),
    ("50 H7/g6", "hole", 50.000, 50.025), ("50 H7/g6", "shaft", 49.975, 49.991),
    # slideplayer.com/amp/12850412
    ("10 ±0.02", "size", 9.98, 10.02),
    # examination paper (yamol.tw item 268346), answer derived: interference 0.009 to 0.050
    ("40 H7/r6", "clearance", -0.050, -0.009),
    # askfilo.com item 3136333939343831, answer derived from Shigley's tables
    ("55 H7/p6", "hole", 55.000, 55.030), ("55 H7/p6", "shaft", 55.032, 55.051),
    # quizall.hivanix.in item 627800, tolerance 0.016 (derived)
    ("25 -0.004/-0.020", "size", 24.980, 24.996),
    # ISO 286-1:1988, worked example of the code (from memory)
    ("130 N4", "hole", 129.965, 129.977),
    # Sharma, A Textbook of Production Engineering, Example 9.5, p. 379 (tbc-python.fossee.in)
    ("30 +0.020/0", "size", 30.000, 30.020), ("30 -0.005/-0.018", "size", 29.982, 29.995),
]


@pytest.mark.parametrize(("text", "name", "least", "most"), WORKED, ids=[f"{one[0]} {one[1]}" for one in WORKED])
def test_worked_examples(fits, text: str, name: str, least: float, most: float):
    values = fits("limits", text, "--json").json["features"][text]["values"]
    assert ends(values, name) == (least, most)
