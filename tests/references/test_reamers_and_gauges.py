"""Printed reamer limits and gauge sizes; each row of the files names its source."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from fits import tables
from fits.shop import gauges, reamers
from fits.sizes import iso286
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size

HERE = Path(__file__).parent


def printed_reamers() -> list[tuple[str, float, str, float]]:
    """Class, size, end and printed deviation: 81 numbers of two tool makers' tables."""
    lines = [line for line in (HERE / "reamer_limits.csv").read_text().splitlines() if not line.startswith("#")]
    return [
        (row["class"], float(row["to_mm"]), end, float(row[f"{end}_um"]))
        for row in csv.DictReader(lines) for end in ("low", "high") if row[f"{end}_um"]
    ]


def test_there_are_81_of_them():
    assert len(printed_reamers()) == 81


@pytest.mark.parametrize(("name", "size", "end", "printed"), printed_reamers())
def test_reamer_limits(name: str, size: float, end: str, printed: float):
    band = reamers.band(iso286.limits(size, name[0], name[1:]))
    assert round((getattr(band, end) - size) * 1000.0, 6) == printed


def test_reamer_for_10_d8():
    """Tool maker's reaming pages, "Reaming Tolerance Limits": 10 mm hole of class D8 -> 10.050 to 10.058."""
    band = reamers.band(parse_size("10 D8"))
    assert (band.low, band.high) == (10.050, 10.058)


@pytest.mark.parametrize(("hole", "go", "no_go"), [
    # threadgagecalibration.com, determining the gagemaker's tolerance, example 1
    ("0.500 ±0.001 in", (0.4990, 0.4991), (0.5009, 0.5010)),
    # northerngauge.com, technical tip on gagemaker tolerance
    ("1.000 ±0.001 in", (0.9990, 0.9991), (1.0009, 1.0010)),
])
def test_ten_percent_rule(hole: str, go: tuple[float, float], no_go: tuple[float, float]):
    found = gauges.ten_percent(parse_size(hole))
    for gauge, printed in zip(found, (go, no_go)):
        assert tuple(round(end / 25.4, 4) for end in (gauge.low, gauge.high)) == printed


def test_class_by_the_ten_percent_rule():
    """threadgagecalibration.com, example 1: 0.500 ±0.001 in asks for class Z.

    At 1.000 in the other page prints class Z too, but its Z (0.00012 in) is above the
    0.0001 in it asks for; Y is the class that fits.
    """
    assert gauges.coarsest_class(parse_size("0.500 ±0.001 in"), gauges.EACH) == "Z"
    assert gauges.coarsest_class(parse_size("1.000 ±0.001 in"), gauges.EACH) == "Y"


def test_basic_sizes_of_go_and_no_go():
    """Engineering metrology study notes, p. 64: bearing hole 38.00 to 38.70 mm."""
    go, no_go = gauges.ten_percent(parse_size("38.70/38.00"))
    assert (go.low, no_go.high) == (38.00, 38.70)


def other_printing(name: str) -> tables.Table:
    return tables.parse((HERE / f"{name}.csv").read_text(), name)


def test_gauge_classes_in_mm_are_a_second_printing():
    """The mm columns of the B89.1.5 charts, rounded there to 0.01 um."""
    metric, inch = other_printing("gauge_classes_mm").rows, tables.load("shop/gauge_classes").rows
    assert len(metric) == len(inch) == 7
    for row, ours in zip(metric, inch):
        # 0.825 in is printed as 20.96 mm.
        assert float(row["to"]) == pytest.approx(float(ours["to"]) * 25.4, abs=0.0051)
        for name in gauges.CLASSES:
            # Half a unit of the last digit: 0.005 um.
            assert float(row[name]) == pytest.approx(float(ours[name]) * 0.0254, abs=0.0051)


def test_metric_classes_are_a_twentieth_of_the_grade():
    """ANSI B4.4M-1981 (Machinery's Handbook 31st ed., p. 673, table 7): 5 % of IT11, 9, 8, 7, 6."""
    rows = other_printing("gauge_classes_b4_4m").rows
    assert len(rows) == 13
    grades = {"ZM": "11", "YM": "9", "XM": "8", "XXM": "7", "XXXM": "6"}
    for row in rows:
        size = float(row["to"])
        for name, grade in grades.items():
            hole = iso286.limits(size, "H", grade)
            ours = (gauges.ten_percent(hole)[0].high - hole.lower) * 1000.0
            # Printed to 0.1 um; the page rounds halves either way.
            assert float(row[name]) == pytest.approx(ours, abs=0.0501)


def test_plug_for_a_tolerance_of_40_um_falls_to_grade_8():
    """Worked example after IS 3455-1971: 20 mm, tolerance 40 um: z = 5, H/2 = 2 um."""
    plugs = gauges.iso_plugs(Limits(19.98, 20.02, 20.0))
    assert plugs is not None
    assert plugs.grade == "IT8"
    assert (plugs.go.low, plugs.go.high) == (19.983, 19.987)
    assert (plugs.no_go.low, plugs.no_go.high) == (20.018, 20.022)


def test_z_of_grade_13():
    """A user reading ISO 1938 table 10 (eng-tips thread 421749): 20 ±0.2 mm, z = 36 um."""
    row = next(
        one for one in tables.load("shop/plug_gauges").rows
        if one["grade"] == "IT13" and float(one["over"]) < 20.0 <= float(one["to"])
    )
    assert row["z"] == "36"


def test_plugs_follow_the_standards_own_series():
    """Structure read in IS 7876-1975 and IS 3455-1971: y = 0 from grade 9 on; H from IT2, IT3, IT5; z rises."""
    rows = tables.load("shop/plug_gauges").rows
    by_grade: dict[str, list[dict[str, str]]] = {}
    for row in rows:
        by_grade.setdefault(row["grade"], []).append(row)
    h_grade = {"IT6": "2", "IT7": "3", "IT8": "3", "IT9": "3", "IT10": "3", "IT11": "5", "IT12": "5"}
    for grade, of in by_grade.items():
        z = [float(row["z"]) for row in of]
        assert z == sorted(z)
        assert all((float(row["y"]) == 0.0) == (int(grade[2:]) >= 9) for row in of)
        for row in of:
            if row["H"]:
                width = iso286.limits(float(row["to"]), "H", h_grade[grade]).tolerance * 1000.0
                assert float(row["H"]) == pytest.approx(width), (grade, row["to"])
