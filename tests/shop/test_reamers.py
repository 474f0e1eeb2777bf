"""Reamers, drills and pins: what a marking means, what a rule may never do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.shop import drills, gauges, reamers
from fits.sizes.limits import Limits

HOLES = st.tuples(st.floats(1.0, 100.0), st.floats(0.005, 0.5)).map(
    lambda one: Limits(round(one[0], 3), round(one[0] + one[1], 3))
)


@given(HOLES)
def test_a_reamer_leaves_room_above_and_never_falls_below_the_hole(hole: Limits):
    band = reamers.band(hole)
    assert hole.lower - 1e-9 <= band.low < band.high < hole.upper
    # At least 15 % of the tolerance is left for cutting over, and the rounding takes 1 um at most.
    assert hole.upper - band.high >= 0.15 * hole.tolerance - 1e-9
    assert hole.upper - band.high < 0.15 * hole.tolerance + 0.001 + 1e-9


@given(HOLES, st.sampled_from(gauges.CLASSES))
def test_a_pair_of_gauges_never_passes_a_bad_hole(hole: Limits, grade: str):
    go, no_go = gauges.plain_pair(hole, grade)
    assert go.low >= hole.lower
    assert no_go.high <= hole.upper


def test_a_marking_is_no_size():
    assert reamers.parse("0.3940 in").marked
    assert reamers.parse("10 H7").marked
    assert reamers.parse("0.3940", units="in").marked
    assert not reamers.parse("measured 0.3940 in").marked


def test_inch_markings_carry_their_tolerance():
    """ASME B94.2, from memory: +0.0001/+0.0004 in to 1/4 in, +0.0001/+0.0005 to 1 in, +0.0002/+0.0006 above."""
    for text, low, high in (("1/4 in", 0.2501, 0.2504), ("1/2 in", 0.5001, 0.5005), ("1 1/4 in", 1.2502, 1.2506)):
        found = reamers.parse(text)
        assert (found.lower / 25.4, found.upper / 25.4) == pytest.approx((low, high))
        assert found.sources[0].evidence == "memory"


@pytest.mark.parametrize(("text", "says"), [
    ("10 H77", "no grade 77"), ("sharp", "no number"), ("measured", "nothing stands here"), ("10 g6", "a hole is due"),
    ("10.02/10.01", "one marked size"), ("measured -3 mm", "above 0"),
])
def test_what_is_no_reamer(text: str, says: str):
    with pytest.raises(InputError, match=says):
        reamers.parse(text)


def test_a_hole_too_fine_to_ream():
    with pytest.raises(InputError, match="tolerance of at least"):
        reamers.band(Limits(10.0, 10.003))


def test_every_drill_is_found_by_its_name_and_its_size():
    names = set()
    for one in drills.standard():
        found = drills.parse(one.name)
        assert found.size == one.size, one.name
        names.add(one.name)
    assert len(names) == 449


def test_drill_series_rise_without_gaps():
    """Numbers and letters fall and rise in step; fractions are 1/64 in apart; metric never repeats."""
    by = {series: [one for one in drills.standard() if one.series == series] for series in drills.SERIES}
    numbers = {int(one.name.removeprefix("No. ")): one.size for one in by["number"]}
    assert sorted(numbers) == list(range(1, 98))
    assert all(numbers[index] > numbers[index + 1] for index in range(1, 97))
    letters = [one.size for one in sorted(by["letter"], key=lambda one: one.name)]
    assert letters == sorted(letters)
    assert len(letters) == 26
    fractions = [one.size * 64.0 / 25.4 for one in by["fraction"]]
    assert fractions == pytest.approx(list(range(1, 97)))


def test_known_drills():
    """Read on pages (see the table): No. 7 0.2010, No. 60 0.0400 in; E is 1/4 in, No. 36 0.1065 in (from memory)."""
    for name, size in (("#7", 0.2010), ("No. 60", 0.0400), ("letter E", 0.2500), ("#36", 0.1065), ("25/64 in", 0.390625)):
        assert drills.parse(name).size / 25.4 == pytest.approx(size)


@pytest.mark.parametrize(("text", "says"), [("#98", "no such drill"), ("letter AA", "no such drill"), ("X", "no number"), ("-3 mm", "above 0")])
def test_what_is_no_drill(text: str, says: str):
    with pytest.raises(InputError, match=says):
        drills.parse(text)


def test_drilled_hole_tolerance():
    """AND10387: 0.126 to 0.250 in +0.005/-0.001, 0.251 to 0.500 in +0.006/-0.001."""
    for size, high in ((0.2500, 0.005), (0.2505, 0.006), (0.2510, 0.006), (0.5, 0.006)):
        found = drills.drilled(size * 25.4)
        assert found is not None
        assert (found.low / 25.4, found.high / 25.4) == pytest.approx((-0.001, high))
    assert drills.drilled(60.0) is None


@given(st.floats(2.0, 30.0), st.booleans())
def test_a_drill_for_reaming_leaves_stock(size: float, light: bool):
    stock = reamers.usual_stock(size, light=light)
    most = reamers.most_stock(size).high
    found = drills.for_reaming(size, stock, most, drills.standard())
    assert found
    for drill in found:
        left = size - drill.size - drills.usual_oversize().high
        assert stock.low - 1e-6 <= left <= most + 1e-6


@given(st.floats(41.0, 500.0), st.booleans())
def test_no_drill_is_suggested_that_leaves_more_than_a_reamer_takes(size: float, light: bool):
    """The series ends at 1 1/2 in."""
    stock = reamers.usual_stock(size, light=light)
    assert drills.for_reaming(size, stock, reamers.most_stock(size).high, drills.standard()) == ()


@pytest.mark.parametrize(("text", "low", "high"), [
    ("0.5000 in ZZ plus", 0.5000, 0.5002), ("0.5005 in ZZ minus", 0.5003, 0.5005), ("0.5 in X +", 0.5, 0.50004), ("0.5 in ZZ", 0.4998, 0.5002),
])
def test_pins(text: str, low: float, high: float):
    """ASME B89.1.5 to 0.825 in: ZZ 0.0002, X 0.00004 in; without its sense a pin may be either way."""
    gauge = gauges.parse_pin(text).gauge()
    assert (gauge.low / 25.4, gauge.high / 25.4) == pytest.approx((low, high))


@pytest.mark.parametrize(("text", "says"), [
    ("0.5000 in", "needs its class"), ("0.5000 in ZZ sideways", "plus or minus"), ("20 in ZZ minus", "tabled above"), ("ZZ minus", "needs its class"),
])
def test_what_is_no_pin(text: str, says: str):
    with pytest.raises(InputError, match=says):
        gauges.parse_pin(text)


def test_no_plugs_outside_their_table():
    assert gauges.iso_plugs(Limits(200.0, 200.046, 200.0)) is None
    assert gauges.iso_plugs(Limits(20.0, 20.4, 20.0)) is None
    assert gauges.iso_plugs(Limits(20.0, 20.005, 20.0)) is None


def test_a_metric_size_without_a_class_promises_nothing():
    from fits.shop import reamers

    found = reamers.parse("10 mm")
    assert (found.lower, found.upper, found.sources) == (10.0, 10.0, (reamers.UNKNOWN,))
