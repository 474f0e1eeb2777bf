"""The tables that a gland is held against: the chart of gaps, grooves by section, rows beside, hot seals."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from glands import exact, judged, part

from fits import tables
from fits.features.feature import State
from fits.features.gland import tabled

PSI = 0.006894757293168


def test_a_band_holds_its_upper_end_and_not_its_lower():
    """Seal & Design, extrusion limits, 70 and 90 Shore A, inches; Ponn Machine for .139 in at 70."""
    from fits import quantity

    edges = [quantity.read(f"{psi} psi", "pressure") for psi in (500, 1000, 1500, 2000, 3000)]
    soft, hard = (0.016, 0.010, 0.006, 0.004, 0.002), (0.028, 0.024, 0.020, 0.016, 0.010)
    ponn = (0.010, 0.006, 0.006, 1.0, 1.0)
    for at, edge in enumerate(edges):
        above = at + 1
        for hardness, row in ((70.0, tuple(map(min, soft, ponn))), (90.0, hard)):
            assert float(tabled.largest_gap(np.array(edge), hardness, 3.53)) == pytest.approx(row[at] * 25.4)
            beyond = float(tabled.largest_gap(np.array(edge + 1e-9), hardness, 3.53))
            assert math.isnan(beyond) if above == 5 else beyond == pytest.approx(row[above] * 25.4)
    assert tabled.chart_end() == pytest.approx(3000 * PSI)
    assert float(tabled.largest_gap(np.array(0.0), 70.0, 3.53)) == pytest.approx(0.254)
    # Between 70 and 90 Shore A the softer curve; 90 itself has its own.
    assert float(tabled.largest_gap(np.array(1.0), 89.9, 3.53)) == pytest.approx(0.254)


@pytest.mark.parametrize(("section", "gap"), [
    # Ponn Machine, 70 Shore A at 500 psi, inches: .040 .050 .060 .070 .103 .139 .210 .275; a row speaks from 0.04 mm below its size up to there of the next.
    (0.97, 0.016), (0.98, 0.005), (1.016, 0.005), (1.22, 0.005), (1.24, 0.006), (1.48, 0.006), (1.49, 0.007), (1.73, 0.007), (1.74, 0.008), (2.57, 0.008), (2.58, 0.009),
    (3.48, 0.009), (3.50, 0.010), (5.28, 0.010), (5.30, 0.011), (6.94, 0.011), (6.95, 0.012), (6.985, 0.012), (40.0, 0.012),
])
def test_a_section_takes_the_row_of_its_size(section: float, gap: float):
    assert float(tabled.largest_gap(np.array(400 * PSI), 70.0, section)) == pytest.approx(gap * 25.4)


@pytest.mark.parametrize(("elastomer", "temperature", "expected"), [
    ("NBR 70", 71.0, "pass"), ("NBR 70", 71.01, "not covered"), ("NBR 69", 20.0, "not covered"), ("NBR 90", 20.0, "pass"), ("NBR 91", 20.0, "not covered"),
])
def test_the_chart_ends_at_its_temperature_and_hardness(elastomer: str, temperature: float, expected: str):
    """71 degC (from memory), 70 to 90 Shore A."""
    state = (State("s", temperature, temperature, 1.0),)
    assert judged(exact("piston", state, elastomer=elastomer))["no creep into the gap"].verdict == expected


def test_the_chart_ends_with_its_last_pressure():
    """3000 psi and .002 in for 70 Shore A."""
    from fits import quantity

    end = quantity.read("3000 psi", "pressure")
    for pressure, expected in ((end, "pass"), (end + 1e-6, "not covered")):
        assert judged(exact("dovetail", (State("s", pressure=pressure),), cover_gap="0.05"))["no creep into the gap"].verdict == expected


@pytest.mark.parametrize("rubber", ["VMQ 70", "PVMQ 70", "FVMQ 70"])
def test_every_silicone_takes_half_a_gap(rubber: str):
    """Parker O-Ring Handbook ORD 5700, section IV 4.0: half; .139 in at 500 psi .010 in."""
    state = (State("s", pressure=1.0),)
    one = judged(exact("face", state, elastomer=rubber, fluid="water", cover_gap="0.12"))["no creep into the gap"]
    assert one.limit == pytest.approx(0.005 * 25.4)
    assert judged(exact("face", state))["no creep into the gap"].limit == pytest.approx(0.010 * 25.4)


# --- rows of tables ---------------------------------------------------------------------------------


def test_the_nearest_size_below_gives_the_largest_radius():
    """Apple Rubber, inches: .210 .050, .060 .008 (shop table .016); metric lists, mm: 1.78 0.5, 2.5 0.5, 3.0 0.8, 6.0 0.8, 7.0 1.2.

    0.04 mm more is the same size: a ring of 6.985 is one of 7.0, and one of 2.97 is one of 3.0.
    """
    for section, most in ((1.778, 0.5), (1.56, 0.5), (1.55, 0.4064), (1.53, 0.4064), (5.334, 1.27), (5.30, 1.27), (5.28, 0.8), (6.985, 1.2), (6.90, 0.8), (3.2, 0.8), (2.97, 0.8), (2.95, 0.5)):
        assert tabled.largest_radius(section) == pytest.approx(most), section
    # Smaller than any: that of the smallest, a ring of 1.0 mm, 0.4.
    assert tabled.largest_radius(0.5) == pytest.approx(0.4)


def test_the_widest_groove_of_a_section_and_between_two():
    """Face 4.0: 5.5 mm, 5.0: 6.9 mm (metric lists). Between them the wider in proportion; with backup rings the radial ones count."""
    assert tabled.largest_width("face", 0, 4.0) == pytest.approx(5.5)
    assert tabled.largest_width("face", 0, 4.5) == pytest.approx(4.5 * max(5.5 / 4.0, 6.9 / 5.0))
    # .139 in: with one ring .227 in, with two .306 in at most (Apple Rubber, Seal Design Guide, table A); a face has no row of its own.
    for form in ("radial", "face"):
        assert tabled.largest_width(form, 1, 3.5306) == pytest.approx(0.227 * 25.4)
        assert tabled.largest_width(form, 2, 3.5306) == pytest.approx(0.306 * 25.4)
    # Beyond the largest and below the smallest: in proportion to it.
    assert tabled.largest_width("face", 0, 20.0) == pytest.approx(20.0 * 9.9 / 7.0)
    # .020 in: .040 in.
    assert tabled.largest_width("face", 0, 0.4) == pytest.approx(0.4 * 0.040 / 0.020)


def test_the_narrowest_mouth_between_two_sections():
    """Seal & Design: .083 in for .103 in, .113 in for .139 in, .315 in for .375 in."""
    between = 3.0 * min(0.083 / 0.103, 0.113 / 0.139)
    assert tabled.narrowest_mouth(3.0) == pytest.approx(between)
    assert tabled.narrowest_mouth(9.525) == pytest.approx(8.001)
    assert tabled.narrowest_mouth(12.0) == pytest.approx(12.0 * 8.001 / 9.525)


@pytest.mark.parametrize(("form", "backups"), [("radial", 0), ("face", 0), ("radial", 1), ("face", 2)])
def test_between_two_printed_sections_the_wider_in_proportion(form: str, backups: int):
    """Every gap between two sections of the lists, a third of the way."""
    rows = [row for row in tables.load("glands/glands").rows if row["form"] != "dovetail" and row[("width_most", "width1_most", "width2_most")[backups]]]
    rows = [row for row in rows if row["form"] == form] if backups == 0 else rows
    share: dict[float, float] = {}
    for row in rows:
        size = float(row["section"])
        share[size] = max(share.get(size, 0.0), float(row[("width_most", "width1_most", "width2_most")[backups]]) / size)
    sizes = sorted(share)
    gaps = [(low, high) for low, high in itertools.pairwise(sizes) if high - low > 0.13]
    assert len(gaps) >= 4
    for low, high in gaps:
        at = low + (high - low) / 3.0
        assert tabled.largest_width(form, backups, at) == pytest.approx(at * max(share[low], share[high]))


def test_published_rows_come_for_the_medium_first_and_checked_ones_before_doubtful_ones():
    rows = tabled.published("radial", "reciprocating", "gas", 3.53)
    assert [row["medium"] for row in rows] == ["gas", "any"]
    liquid = tabled.published("radial", "reciprocating", "liquid", 3.53)
    assert {row["medium"] for row in liquid} == {"liquid", "any"}
    ranks = [(row["evidence"] != "seen", bool(row["doubt"]), row["medium"] != "liquid", not row["squeeze_least"]) for row in liquid]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) >= 3
    # 0.04 mm either way is one size.
    assert tabled.published("radial", "static", "any", 3.57)
    assert not tabled.published("radial", "static", "any", 3.58)
    assert not tabled.published("triangular", "static", "any", 3.53)
    # Of rows alike the one whose printed squeeze could be checked: .017 in of .103 in.
    assert float(tabled.published("radial", "static", "any", 2.6162)[0]["squeeze_least"]) == pytest.approx(0.017 * 25.4)


def test_seals_that_stand_more():
    """Eurosealings: metal rings to 750 degC; a seal just as hot as its own limit stays in the list."""
    assert [float(row["hottest"]) for row in tabled.hot_seals(750.0)] == [750.0]
    assert tabled.hot_seals(750.01) == []
    assert len(tabled.hot_seals(200.0)) == 6


def test_no_notes_of_hot_seals_at_the_rubber_s_own_limit():
    from fits.questions.check import check

    at, beyond = (check(part("piston", (State("s", t, t),))).features[0].notes for t in (100.0, 100.1))
    assert not any("too hot" in one for one in at)
    assert any("too hot for NBR 70" in one for one in beyond)
    # The shaft may be the hotter one.
    assert any("too hot" in one for one in check(part("piston", (State("s", 20.0, 100.1),))).features[0].notes)


def test_grooves_that_were_seen_come_first_then_those_without_a_doubt():
    rows = tables.load("glands/glands").rows
    places = {(row["form"], row["duty"], row["medium"], float(row["section"])) for row in rows if row["medium"] != "any"}
    for form, duty, medium, section in sorted(places):
        found = tabled.published(form, duty, medium, section)
        order = [(row["evidence"] != "seen", bool(row["doubt"]), row["medium"] != medium, not row["squeeze_least"]) for row in found]
        assert order == sorted(order)
        assert found
