"""ISO 286: published limits in one call, exact to the printed 0.1 um."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from fits import tables

_TEXT = Path(__file__).with_name("iso286_published_limits.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(_TEXT.splitlines()))


def test_all_published_limits_in_one_call(fits):
    ran = fits("limits", *(row["designation"] for row in ROWS), "--json")
    assert ran.status == 0
    wrong = []
    features = ran.json["features"]
    for row in ROWS:
        values = features[row["designation"]]["values"]
        side = "hole" if "hole" in values else "shaft"
        deviation = values[f"{side}_deviation"]["states"]["as_made"]
        got = [round(deviation[end] * 1000.0, 4) for end in ("min", "max")]
        if got != [float(row["lower_um"]), float(row["upper_um"])]:
            wrong.append((row["designation"], got))
    assert len(ROWS) == 278
    assert not wrong


# ISO 286-2:1988/Cor.1:2006, as reprinted at 1library.net (y82v060y): the four corrected limits.
CORRIGENDUM = [("335 A13", "ES", 2090.0), ("100 E8", "ES", 126.0), ("25 R10", "ES", -28.0), ("300 f9", "ei", -186.0)]


@pytest.mark.parametrize(("designation", "limit", "printed"), CORRIGENDUM)
def test_corrigendum(fits, designation: str, limit: str, printed: float):
    values = fits("limits", designation, "--json").json["features"][designation]["values"]
    name = "hole_deviation" if limit == "ES" else "shaft_deviation"
    end = "max" if limit == "ES" else "min"
    assert values[name]["states"]["as_made"][end] * 1000.0 == pytest.approx(printed, abs=1e-6)


def test_every_published_limit_has_a_source():
    assert all(row["source"] and row["address"] for row in ROWS)


def test_tables_are_whole():
    counts = {name: len(tables.load(f"iso286/{name}").rows) for name in (
        "tolerance_grades", "delta_values")}
    assert counts == {"tolerance_grades": 404, "delta_values": 78}
