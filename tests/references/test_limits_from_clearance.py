"""Limits of one member from the other and the clearance: the window of a running fit, solved backwards."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from fits.features.part import Part
from fits.features.running import Running
from fits.questions.window import window

SHARMA = "P. C. Sharma, A Textbook of Production Engineering (companion notebook), ch. 9"


@pytest.mark.parametrize(
    ("source", "hole", "shaft", "clearance", "low", "high"),
    [
        # Nominal 50, clearance 0.05 to 0.15, hole tolerance 0.06 (1.5 times the shaft's): shaft 49.91 to 49.95.
        ("gauge design assignment 4, item 4 (derived from the question)", "50.06/50.00", "?", (0.05, 0.15), 49.91, 49.95),
        # Tolerance 0.075 on both, hole low limit 75, allowance 0.10: shaft 74.825 to 74.900.
        (f"{SHARMA}, Example 9.2, p. 377", "75.075/75.000", "?", (0.10, 0.25), 74.825, 74.900),
        # Journal on 100, tolerances 0.005 and 0.004, allowance 0.002: hole basis, then shaft basis.
        (f"{SHARMA}, journal bearing on 100, hole basis", "100.005/100.000", "?", (0.002, 0.011), 99.994, 99.998),
        (f"{SHARMA}, journal bearing on 100, shaft basis", "?", "100.000/99.996", (0.002, 0.011), 100.002, 100.007),
        # Average allowance 0.04 with 0.012 either way, hole tolerance twice the shaft's: shaft 99.964 to 99.972.
        (f"{SHARMA}, Example 9.10, p. 382", "100.016/100.000", "?", (0.028, 0.052), 99.964, 99.972),
    ],
)
def test_limits_from_the_clearance(source: str, hole: str, shaft: str, clearance, low: float, high: float):
    least, most = clearance
    part = Part(source, {"bore": Running(hole=hole, shaft=shaft, clearance_at_least=f"{least} mm", clearance_at_most=f"{most} mm")})
    found = window(part, f"bore.{'shaft' if shaft == '?' else 'hole'}", ways_out=False)
    (one,) = found.intervals
    # The window's own edges are refined to 0.1 um, from the side that holds.
    assert (one.low.at, one.high.at) == (pytest.approx(low, abs=1.1e-4), pytest.approx(high, abs=1.1e-4))
    assert low - 1e-9 <= one.low.at
    assert one.high.at <= high + 1e-9


def test_examples_of_holes_and_gauges_that_stay_out_have_a_reason():
    with (Path(__file__).parent / "hole_example_exclusions.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 3
    assert all(row["example"] and row["reason"] for row in rows)
