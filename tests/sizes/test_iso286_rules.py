"""ISO 286: structural rules of the tables and of the way they are combined."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits import tables
from fits.errors import InputError
from fits.sizes import iso286
from fits.sizes.iso286 import GRADES, limits

SIZES = st.floats(1.5, 3150.0).map(lambda size: round(size, 2))
CLEAR = [*"defgh"]


def zone(size: float, letter: str, grade: str) -> tuple[float, float]:
    found = limits(size, letter, grade)
    return round((found.lower - size) * 1000, 3), round((found.upper - size) * 1000, 3)


@given(SIZES, st.sampled_from(CLEAR), st.sampled_from(["5", "6", "7", "8", "9"]))
def test_clearance_holes_mirror_shafts(size: float, letter: str, grade: str):
    low, high = zone(size, letter, grade)
    assert zone(size, letter.upper(), grade) == (-high, -low)


@given(SIZES, st.integers(6, 13))
def test_a_zone_is_as_wide_as_its_tolerance_and_grades_rise(size: float, grade: int):
    narrow, wide = zone(size, "h", str(grade)), zone(size, "h", str(grade + 1))
    assert narrow[1] == wide[1] == 0.0
    assert wide[0] < narrow[0]


@given(st.floats(3.01, 500.0).map(lambda size: round(size, 2)), st.sampled_from(["p", "r", "s", "u"]))
def test_an_interference_pair_keeps_its_fit_on_hole_and_shaft_basis(size: float, letter: str):
    # The delta rule (ISO 286-1:2010, 4.3.2.3): H7/p6 and P7/h6 have the same interference.
    hole, shaft = zone(size, letter.upper(), "7"), zone(size, "h", "6")
    basic, fit = zone(size, "H", "7"), zone(size, letter, "6")
    assert hole[0] - shaft[1] == pytest.approx(basic[0] - fit[1], abs=1e-6)
    assert hole[1] - shaft[0] == pytest.approx(basic[1] - fit[0], abs=1e-6)


@given(SIZES, st.sampled_from(GRADES))
def test_js_lies_evenly(size: float, grade: str):
    try:
        low, high = zone(size, "js", grade)
    except InputError:
        return
    assert low == -high
    assert zone(size, "JS", grade) == (low, high)


def test_m6_at_250_to_315_is_the_exception():
    assert zone(280.0, "M", "6") == (-41.0, -9.0)
    assert zone(280.0, "M", "7") == (-52.0, 0.0)


def test_js_says_which_half_was_taken():
    assert "exact half" in iso286.note("JS", "7", 0.015)
    assert iso286.note("JS", "6", 0.009) == ""
    assert iso286.note("JS", "7", 0.012) == ""


def test_ranges_leave_no_gap_and_do_not_overlap():
    for name, keys in (("tolerance_grades", ("grade",)), ("shaft_deviations", ("letter", "from_grade", "to_grade"))):
        groups: dict[tuple[str, ...], list[tuple[float, float]]] = {}
        for row in tables.load(f"iso286/{name}").rows:
            groups.setdefault(tuple(row[k] for k in keys), []).append((float(row["over"]), float(row["up_to"])))
        for spans in groups.values():
            spans.sort()
            assert all(a[1] == b[0] for a, b in itertools.pairwise(spans))


def test_delta_is_the_step_between_grades():
    tolerance = {(r["over"], r["up_to"], r["grade"]): float(r["tolerance"]) for r in tables.load("iso286/tolerance_grades").rows}
    for row in tables.load("iso286/delta_values").rows:
        if float(row["over"]) < 3:
            assert float(row["delta"]) == 0.0
            continue
        here = tolerance[row["over"], row["up_to"], row["grade"]]
        below = tolerance[row["over"], row["up_to"], GRADES[GRADES.index(row["grade"]) - 1]]
        assert float(row["delta"]) == pytest.approx(here - below)


def test_ten_times_every_five_grades():
    tolerance = {(r["over"], r["grade"]): float(r["tolerance"]) for r in tables.load("iso286/tolerance_grades").rows}
    for (over, grade), value in tolerance.items():
        if grade.isdigit() and 6 <= int(grade) <= 13 and (over, str(int(grade) + 5)) in tolerance and int(grade) >= 7:
            assert tolerance[over, str(int(grade) + 5)] == pytest.approx(10 * value, rel=0.06)


def test_doubt_of_a_row_reaches_the_answer():
    found = limits(800.0, "H", "5")
    assert any("disagree" in source.doubt for source in found.sources)


@given(st.floats(0.2, 3150.0), st.sampled_from(["H", "h", "K", "k", "P", "p", "ZC", "zc", "CD", "JS"]), st.sampled_from(GRADES))
def test_any_class_is_defined_or_refused(size: float, letter: str, grade: str):
    try:
        found = limits(size, letter, grade)
    except InputError:
        return
    assert found.lower < found.upper
