"""ANSI B4.1 classes: ranges, basic shaft, and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits import tables
from fits.errors import InputError
from fits.sizes import ansi_b4
from fits.sizes.ansi_b4 import INCH, fit, names
from fits.sizes.limits import clearance

SIZES = st.integers(1, 19690).map(lambda thou: thou / 1000.0)
ROWS = {(row["class"], row["over"], row["up_to"]): row for row in tables.load("ansi_b4/inch_fits").rows}


@given(SIZES, st.sampled_from(names()))
def test_basic_shaft_keeps_tolerances_and_clearance_and_has_a_basic_shaft(size: float, name: str):
    try:
        hole, shaft = fit(size, name)
        shifted_hole, shifted_shaft = fit(size, name, shaft_basis=True)
    except InputError as error:
        assert "not covered" in str(error) or "wider than the size itself" in str(error)
        return
    assert hole.lower == hole.basic
    assert shifted_shaft.upper == shifted_shaft.basic
    for one, other in ((hole, shifted_hole), (shaft, shifted_shaft)):
        assert one.tolerance == pytest.approx(other.tolerance, abs=1e-8)
        assert 0.0 < one.lower < one.upper
    assert clearance(hole, shaft) == pytest.approx(clearance(shifted_hole, shifted_shaft), abs=1e-8)


@given(SIZES, st.sampled_from(names()))
def test_a_size_takes_the_row_of_its_range(size: float, name: str):
    """Over its lower end, up to and including its upper end, read from the table by itself."""
    (row,) = [row for (of, over, up_to), row in ROWS.items() if of == name and float(over) < size <= float(up_to)] or [None]
    if row is None:
        with pytest.raises(InputError, match="not covered"):
            fit(size, name)
        return
    try:
        hole, shaft = fit(size, name)
    except InputError as error:
        assert "wider than the size itself" in str(error)
        assert size + float(row["shaft_lower"]) / 1000.0 <= 0.0
        return
    assert (hole.upper / INCH - size) * 1000.0 == pytest.approx(float(row["hole_upper"]), abs=1e-5)
    assert (shaft.lower / INCH - size) * 1000.0 == pytest.approx(float(row["shaft_lower"]), abs=1e-5)
    assert (shaft.upper / INCH - size) * 1000.0 == pytest.approx(float(row["shaft_upper"]), abs=1e-5)


@pytest.mark.parametrize(("size", "name", "says"), [
    (19.7, "RC4", "not covered: the table of RC4 in ANSI B4.1 ends at 19.69 in; write the limits"),
    (200.0, "FN5", "ends at 19.69 in"), (0.24, "LT3", "begins above 0.24 in; this size has LT1, LT2, LT5, LT6"),
    (0.95, "FN3", "begins above 0.95 in; this size has FN1, FN2, FN4, FN5"), (1.0, "RC10", "no inch class RC10; ANSI B4.1 has RC1 to RC9"),
    (1.0, "LC0", "ANSI B4.1 has LC1 to LC11"), (1.0, "XX1", "families: RC, LC, LT, LN, FN"), (0.0, "RC1", "above 0"), (-1.0, "RC1", "above 0"),
    (float("nan"), "RC1", "not covered"), (0.005, "LC11", "wider than the size itself"),
])
def test_refusals(size: float, name: str, says: str):
    with pytest.raises(InputError) as error:
        fit(size, name)
    assert says in str(error.value)


def test_the_ends_of_the_table_are_in_it():
    assert fit(19.69, "RC4")[0].upper == pytest.approx(19.694 * INCH)
    assert fit(0.9501, "FN3")[1].basic == pytest.approx(0.9501 * INCH)


def test_doubt_and_memory_reach_the_answer():
    hole, shaft = fit(10.0, "RC4")
    assert "another printing" in hole.sources[-1].doubt
    assert shaft.sources == hole.sources
    assert fit(8.0, "LC8")[0].sources[-1].evidence == "memory"
    assert fit(1.0, "RC4")[0].sources[-1].doubt == ""
    assert "basic shaft" in fit(1.0, "RC4", shaft_basis=True)[0].sources[0].text


def test_what_a_class_is_called():
    assert all(ansi_b4.called(name) for name in names())
    assert ansi_b4.called("FN3") == "heavy drive"
    assert ansi_b4.called("RC99") == ""
