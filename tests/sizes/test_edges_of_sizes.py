"""Sizes on the edges of their ranges and rules: ISO 286, bought parts, notation, scatter, offered classes.

Expected limits are those printed in ISO 286-2 or in the tables' own rows, or simple sums.
"""

from __future__ import annotations

from typing import Any

import pytest

from fits.errors import InputError
from fits.sizes import ansi_b4, bought, classes, iso286, reading, scatter
from fits.sizes.limits import Limits, clearance, kind_of_fit
from fits.sizes.notation import belong, is_classed, is_pair, parse_pair, parse_size
from fits.sizes.scatter import Between, Scatter, parse_scatter

IN = 25.4


def um(found: Limits) -> tuple[float, float]:
    """Lower and upper deviation in um."""
    basic = found.basic or 0.0
    return round((found.lower - basic) * 1000.0, 4), round((found.upper - basic) * 1000.0, 4)


def refused(text: str, **more: Any) -> str:
    with pytest.raises(InputError) as caught:
        parse_size(text, **more)
    return str(caught.value)


# ISO 286: a size belongs to the range whose upper end it is (ISO 286-2, um)

@pytest.mark.parametrize(("basic", "letter", "grade", "lower", "upper"), [
    (3.0, "H", "7", 0.0, 10.0), (3.001, "H", "7", 0.0, 12.0), (30.0, "g", "6", -20.0, -7.0), (30.001, "g", "6", -25.0, -9.0),
    (50.0, "f", "7", -50.0, -25.0), (80.0, "s", "6", 59.0, 78.0), (80.1, "s", "6", 71.0, 93.0), (500.0, "H", "6", 0.0, 40.0),
    (500.1, "H", "6", 0.0, 44.0), (3150.0, "H", "7", 0.0, 210.0),
    # Delta counts above 3 mm: K7 at 3 mm 0/-10, at 10 mm +5/-10; N7 at 3 -4/-14, at 10 -4/-19; P7 -6/-16, -9/-24.
    (3.0, "K", "7", -10.0, 0.0), (10.0, "K", "7", -10.0, 5.0), (3.0, "N", "7", -14.0, -4.0), (10.0, "N", "7", -19.0, -4.0),
    (3.0, "P", "7", -16.0, -6.0), (10.0, "P", "7", -24.0, -9.0), (10.0, "M", "8", -21.0, 1.0), (10.0, "P", "8", -37.0, -15.0),
    # The exception of M6 at 250 to 315 mm: -9 and not -7 um.
    (280.0, "M", "6", -41.0, -9.0), (320.0, "M", "6", -46.0, -10.0), (250.0, "M", "6", -37.0, -8.0),
    (25.0, "js", "7", -10.5, 10.5), (25.0, "JS", "6", -6.5, 6.5), (25.0, "h", "01", -0.6, 0.0), (25.0, "H", "18", 0.0, 3300.0),
    (1.0, "h", "13", -140.0, 0.0), (1.0, "N", "8", -18.0, -4.0),
])  # fmt: skip
def test_iso_286_at_the_ends_of_its_ranges(basic: float, letter: str, grade: str, lower: float, upper: float):
    found = iso286.limits(basic, letter, grade)
    assert um(found) == (lower, upper)
    assert found.side == ("hole" if letter.isupper() else "shaft")
    assert found.text == f"{basic:g} {letter}{grade}"


@pytest.mark.parametrize(("basic", "letter", "grade", "says"), [
    (3150.001, "H", "7", "above 0 up to 3150 mm"), (0.0, "H", "7", "above 0"), (-1.0, "H", "7", "above 0"),
    (1.0, "h", "14", "doesn't define h14 for sizes up to 1 mm"), (1.0, "a", "9", "up to 1 mm"), (1.0, "B", "9", "up to 1 mm"), (1.0, "N", "9", "up to 1 mm"),
])  # fmt: skip
def test_what_iso_286_leaves_undefined(basic: float, letter: str, grade: str, says: str):
    with pytest.raises(InputError, match=says):
        iso286.limits(basic, letter, grade)


@pytest.mark.parametrize(("basic", "letter", "grade"), [(1.001, "h", "14"), (1.001, "a", "9"), (1.001, "N", "9"), (1.0, "c", "9"), (0.001, "H", "7")])
def test_what_it_defines_just_beside_that(basic: float, letter: str, grade: str):
    assert iso286.limits(basic, letter, grade).tolerance > 0.0


@pytest.mark.parametrize(("letter", "grade", "tolerance", "said"), [
    ("js", "7", 0.021, True), ("JS", "11", 0.013, True), ("js", "7", 0.022, False), ("js", "6", 0.013, False), ("js", "12", 0.021, False), ("h", "7", 0.021, False),
])  # fmt: skip
def test_a_half_micrometre_of_js_is_said(letter: str, grade: str, tolerance: float, said: bool):
    assert bool(iso286.note(letter, grade, tolerance)) is said


def test_classes_are_parsed_by_letter_and_side():
    assert iso286.parse_class("ZC11", side="hole") == ("ZC", "11")
    assert iso286.parse_class("fg01") == ("fg", "01")
    for text, side, says in (("H19", "", "no grade 19"), ("Fg7", "", "no tolerance class Fg7"), ("l7", "", "no tolerance class"), ("H7x", "", "no tolerance class"),
                             ("h7", "hole", "holes: H7"), ("JS6", "shaft", "shafts: js6")):  # fmt: skip
        with pytest.raises(InputError, match=says):
            iso286.parse_class(text, side=side)


# Limits

@pytest.mark.parametrize(("hole", "shaft", "kind", "least", "most"), [
    ((10.0, 10.02), (9.97, 10.0), "clearance fit", 0.0, 0.05), ((10.0, 10.02), (9.97, 10.0001), "transition fit", -0.0001, 0.05),
    ((10.0, 10.02), (10.02, 10.05), "interference fit", -0.05, 0.0), ((10.0, 10.02), (10.0199, 10.05), "transition fit", -0.05, 0.0001),
])  # fmt: skip
def test_kinds_of_fit_turn_where_two_limits_meet(hole: tuple[float, float], shaft: tuple[float, float], kind: str, least: float, most: float):
    assert kind_of_fit(Limits(*hole), Limits(*shaft)) == kind
    assert clearance(Limits(*hole), Limits(*shaft)) == (least, most)


def test_middle_tolerance_and_nominal():
    found = Limits(24.97, 25.01, 25.0)
    assert (found.middle, found.tolerance, found.nominal) == pytest.approx((24.99, 0.04, 25.0))
    assert Limits(24.97, 25.01).nominal == pytest.approx(24.99)


# Bought parts

@pytest.mark.parametrize(("text", "side", "lower", "upper"), [
    ("dowel 6 m6", "shaft", 6.004, 6.012), ("dowel 6 mm m6", "shaft", 6.004, 6.012), ("dowel 10 h8", "", 9.978, 10.0),
    ("dowel 6 B18.8.5M", "shaft", 6.003, 6.009), ("dowel 6 B18.8.5M oversize", "shaft", 6.025, 6.031), ("dowel 25 mm B18.8.5M", "shaft", 25.003, 25.009),
    ("dowel 5/64 in", "shaft", 0.0782 * IN, 0.0784 * IN), ("dowel 5/16 in oversize", "shaft", 0.3134 * IN, 0.3136 * IN), ("dowel 0.5 in", "", 0.5001 * IN, 0.5003 * IN),
    # Rings: over 18 to 30 mm ..., the upper end in its range.
    ("bearing 30", "shaft", 29.991, 30.0), ("bearing 30.1", "shaft", 30.089, 30.1), ("bearing 30", "hole", 29.990, 30.0), ("bearing 30.1", "hole", 30.088, 30.1),
    ("bearing 10", "hole", 9.992, 10.0), ("bearing 18", "hole", 17.992, 18.0), ("bearing 18.1", "hole", 18.09, 18.1), ("bearing 250", "shaft", 249.970, 250.0),
    ("bearing 2.6", "hole", 2.592, 2.6), ("bearing 6.1", "shaft", 6.092, 6.1),
    # Bushes: outside s6 up to 120 mm, r6 above; bore E6 (ISO 286-2: s6 at 120 +101/+79, r6 at 130 +88/+63, E6 at 20 +53/+40).
    ("bush 120", "shaft", 120.079, 120.101), ("bush 130", "shaft", 130.063, 130.088), ("bush 20", "hole", 20.040, 20.053), ("bush 120", "", 120.079, 120.101),
    # Tubes: 0.13 mm below 38.1, 15 % of the wall below 12.7, 10 % from there on.
    ("tube 12.69 x 1", "shaft", 12.56, 12.82), ("tube 12.69 x 1", "hole", 12.69 - 0.13 - 2.3, 12.69 + 0.13 - 1.7),
    ("tube 12.7 x 1", "hole", 12.7 - 0.13 - 2.2, 12.7 + 0.13 - 1.8), ("tube 38.1 x 2", "hole", 38.1 - 0.25 - 4.4, 38.1 + 0.25 - 3.6),
    ("tube 38.09", "shaft", 37.96, 38.22), ("tube 1 in x 0.065 in", "", IN - 0.13, IN + 0.13), ("tube 203.1", "", 202.34, 203.86),
])  # fmt: skip
def test_bought_sizes_at_the_ends_of_their_ranges(text: str, side: str, lower: float, upper: float):
    found = bought.limits(text, side=side)
    assert (found.lower, found.upper) == pytest.approx((lower, upper), abs=1e-9)
    assert found.bought == text.partition(" ")[0]
    assert found.side == (side or "shaft")


@pytest.mark.parametrize(("text", "nominal"), [
    ("tube 12.7 x 1", 10.7), ("bearing 30", 30.0), ("dowel 0.5 in", 12.7), ("dowel 6 B18.8.5M", 6.0), ("bush 20", 20.0), ("dowel 6 m6", 6.0),
])  # fmt: skip
def test_what_a_bought_size_is_called_after(text: str, nominal: float):
    assert bought.limits(text, side="shaft" if text.startswith("dowel") else "hole").basic == pytest.approx(nominal)


@pytest.mark.parametrize(("text", "side", "says"), [
    ("bearing 2.5", "hole", "inner rings of the table run over 2.5 to 250 mm"), ("bearing 6", "shaft", "outer rings of the table run over 6 to 250 mm"),
    ("bearing 250.1", "hole", "not covered"), ("tube 203.2", "", "tubes below 203.2 mm only"), ("tube 0", "", "not covered"),
    ("tube 10 x 4.2914", "hole", "leaves no bore"), ("tube 10 x 0", "", "leaves no bore"), ("tube 10 x -1", "", "leaves no bore"),
    ("dowel 0.2503 in", "", "no such dowel in the table; .*1/16, 5/64"), ("dowel 0.25", "", "which standard's dowel?"),
])  # fmt: skip
def test_bought_sizes_beyond_their_tables(text: str, side: str, says: str):
    with pytest.raises(InputError, match=says):
        bought.limits(text, side=side)


def test_a_tube_with_the_least_bore_has_one():
    """10 - 0.13 - 2 x 1.15 x 4.2913 mm is just above 0."""
    assert bought.limits("tube 10 x 4.2913", side="hole").lower == pytest.approx(1e-5, abs=1e-9)


def test_a_dowel_in_inches_may_leave_its_unit_out():
    assert bought.limits("dowel 0.25", units="in").upper == pytest.approx(0.2503 * IN)
    assert bought.limits("dowel 0.25005 in").upper == pytest.approx(0.2503 * IN)


# Notation

@pytest.mark.parametrize(("text", "units", "lower", "upper", "basic"), [
    ("25.021/25.000", "mm", 25.0, 25.021, None), ("25.000 / 25.000", "mm", 25.0, 25.0, None), ("1.0005/1.0000", "in", IN, 1.0005 * IN, None),
    ("25.4 mm/0.999 in", "in", 0.999 * IN, 25.4, None), ("0.5005/0.5000 in", "mm", 12.7, 0.5005 * IN, None), ("25.4 mm / 25.3", "in", 25.3, 25.4, None),
    ("25 +0.021/-0.01", "mm", 24.99, 25.021, 25.0), ("25 -0.01/-0.03", "mm", 24.97, 24.99, 25.0), ("1 in +0.002/-0.001", "mm", 0.999 * IN, 1.002 * IN, IN),
    ("25 0/-0.03", "mm", 24.97, 25.0, 25.0), ("25 +0.03/0", "mm", 25.0, 25.03, 25.0), ("25 ±0.03", "mm", 24.97, 25.03, 25.0), ("1 ±0.002 in", "mm", 0.998 * IN, 1.002 * IN, IN),
    ("1 in ±0.002", "mm", 0.998 * IN, 1.002 * IN, IN), ("25 mm +30 um/-10 um", "mm", 24.99, 25.03, 25.0), ("25 mm ±30 um", "in", 24.97, 25.03, 25.0),
    ("1 in ±2 thou", "mm", 0.998 * IN, 1.002 * IN, IN), ("3/8 in", "mm", 9.525, 9.525, 9.525), ("2", "in", 50.8, 50.8, 50.8),
    ("0.000001", "mm", 1e-6, 1e-6, 1e-6), ("1000000", "mm", 1e6, 1e6, 1e6), ("25.0 ±0", "mm", 25.0, 25.0, 25.0),
])  # fmt: skip
def test_every_way_to_write_a_size(text: str, units: str, lower: float, upper: float, basic: float | None):
    found = parse_size(text, units=units)
    assert (found.lower, found.upper) == pytest.approx((lower, upper), abs=1e-9)
    assert found.basic == (None if basic is None else pytest.approx(basic))
    assert found.text == text


@pytest.mark.parametrize(("text", "says"), [
    ("25.000/25.021", "limits are swapped; upper limit first: 25.021/25.000"), ("25 -0.03/+0.01", "deviations are swapped; upper deviation first: 25 +0.01/-0.03"),
    ("1000000.1", "1e-6 mm to 1 km"), ("9e-7", "1e-6 mm to 1 km"), ("0.01 ±0.02", "a size is above 0"), ("0 0/-0.1", "a size is above 0"), ("-25 H7", "a size is above 0"), ("-25.1/-25", "a size is above 0"), ("25 H7 g6", "behind its size; write 25 H7/g6"), ("25 H 7", "write 25 H7"), ("25 H7 mm", "write 25 mm H7"), ("25 mm s 6", "write 25 mm s6"), ("25 H 7 / g 6", "write 25 H7/g6"),
    # No class, or no pair: units are asked for.
    ("25 H 99", "unknown unit"), ("25 mm 5", "unknown unit"), ("25 in 3", "unknown unit"), ("25 h7 g6", "unknown unit"), ("25 H7 H6", "unknown unit"),
    # um and thou are of the deviations: a size of 25 um is none that was meant.
    ("25 ±10 um", "in um stand the deviations, and the size?; write 25 mm"), ("25 +30/-10 µm", "in µm stand the deviations"), ("25 +30 um/-10 um", "write 25 mm"),
    ("1.0000 +2/-1 thou", "in thou stand the deviations, and the size?; write 1.0000 in"), ("1.0000 ±2 thou", "write 1.0000 in"),
    ("1/2 in H7", "ISO classes are for mm; write 12.7 mm H7, an inch class such as 0.5000 in RC4, or the limits in inches"),
    ("0.375 in g6", "write 9.525 mm g6, an inch class such as 0.3750 in RC4"),
])  # fmt: skip
def test_how_a_size_is_not_written(text: str, says: str):
    assert says in refused(text)


def test_a_limit_of_0_is_none_but_a_lower_one():
    assert parse_size("0.02 ±0.02").lower == 0.0
    assert "above 0" in refused("0.0 ±0.0")


def test_members_of_one_fit_are_within_a_twentieth():
    assert belong(Limits(100.0, 100.0), Limits(95.0, 95.0)) is None
    assert belong(Limits(95.0, 95.0), Limits(100.0, 100.0)) is None
    fault = belong(Limits(100.0, 100.0), Limits(94.99, 94.99))
    assert fault is not None
    assert fault.must == "hole 100 mm and shaft 94.99 mm can't belong together"
    assert belong(Limits(94.99, 94.99), Limits(100.0, 100.0)) is not None


def test_pairs_and_classes_by_their_look():
    for text, pair, classed in (
        ("25 H7/g6", True, True), ("25 H7", False, True), ("1.0000 in RC4", True, False), ("1.0000 in RC4 hole", False, False), ("1 in FN2S shaft", False, False),
        ("1 in FN2S", True, False), ("25.021/25.000", False, False),
    ):  # fmt: skip
        assert (is_pair(text), is_classed(text)) == (pair, classed), text
    with pytest.raises(InputError, match="a pair is due"):
        parse_pair("25 H7")
    with pytest.raises(InputError, match="H7 is a class of holes, a shaft is due"):
        parse_pair("25 H7/H7")
    hole, shaft = parse_pair("1 in LC2S")
    # On basic shaft: the greatest shaft of LC2 is the basic size already, nothing moves.
    assert (hole.lower, shaft.upper) == (25.4, 25.4)


def test_an_inch_class_on_basic_shaft_is_shifted_whole():
    """RC4 at 1 in: hole +1.2/0, shaft -0.8/-1.6 thou; on basic shaft all up by 0.8."""
    hole, shaft = ansi_b4.fit(1.0, "RC4", shaft_basis=True)
    thou = [round((one / IN - 1.0) * 1000.0, 4) for one in (hole.lower, hole.upper, shaft.lower, shaft.upper)]
    assert thou == [0.8, 2.0, -0.8, 0.0]
    assert hole.text == shaft.text == "1.0000 in RC4S"
    assert (hole.side, shaft.side) == ("hole", "shaft")


@pytest.mark.parametrize(("size", "row"), [(0.12, 0.6), (0.1201, 0.7), (19.69, 4.0), (0.001, None)])
def test_inch_ranges_hold_their_upper_end(size: float, row: float | None):
    if row is None:
        with pytest.raises(InputError, match="wider than the size itself"):
            ansi_b4.fit(0.0007, "RC4")
        assert ansi_b4.fit(size, "RC4")[1].lower == pytest.approx(0.0003 * IN)
        return
    assert (ansi_b4.fit(size, "RC4")[0].upper / IN - size) * 1000.0 == pytest.approx(row, abs=1e-5)


@pytest.mark.parametrize(("size", "text"), [(1.0, "1.0000"), (1 / 64, "0.015625"), (0.5, "0.5000"), (0.12345, "0.12345"), (0.123449999, "0.12345"), (1 / 128, "0.0078125")])
def test_inches_as_text(size: float, text: str):
    assert ansi_b4.inches(size) == text


@pytest.mark.parametrize(("basic", "hole", "shaft", "says"), [
    (25.0, "H7", "g6", "preferred fit of ANSI B4.2: sliding, hole basis; 25 mm is a size of first choice"), (25.0, "H7", "m6", ""),
    (25.3, "H7", "g6", "25.3 mm is none of its preferred sizes"), (25.0, "H7", "h6", "hole and shaft basis"),
])  # fmt: skip
def test_preferred_fits(basic: float, hole: str, shaft: str, says: str):
    found = ansi_b4.preferred(basic, hole, shaft)
    assert says in found
    assert bool(found) is bool(says)


# Classes that are offered

@pytest.mark.parametrize(("lower", "upper", "units", "basic"), [
    (16.04, 16.08, "mm", 16.1), (16.0, 16.09, "mm", 16.0), (12.7, 12.73, "in", 12.7),
    # 0.003 in from a 1/64 is near enough, more is not: then three decimals.
    (0.5029 * IN, 0.5029 * IN, "in", 0.5 * IN), (0.5031 * IN, 0.5031 * IN, "in", 0.503 * IN), (0.4971 * IN, 0.4971 * IN, "in", 0.5 * IN), (0.4966 * IN, 0.4966 * IN, "in", 0.497 * IN),
    (0.5156 * IN, 0.5156 * IN, "in", 33 / 64 * IN),
])  # fmt: skip
def test_the_basic_size_that_typed_limits_stand_for(lower: float, upper: float, units: str, basic: float):
    assert classes.basic_size(Limits(lower, upper), units) == pytest.approx(basic, abs=1e-6)
    assert classes.basic_size(Limits(lower, upper, 7.0), units) == 7.0


def test_which_pairs_are_offered():
    """H6 to H9 with every shaft, then every hole that is no H with h5 to h9."""
    names = [classes.pair_name(*pair) for pair in classes.pairs(25.0, "mm")]
    assert len(names) == len(set(names))
    holes = {name.partition("/")[0].removeprefix("25 ") for name in names}
    shafts = {name.partition("/")[2] for name in names}
    assert {"25 H6/g5", "25 H9/d9", "25 K7/h6", "25 N9/h9", "25 C11/h5"} <= set(names)
    assert {one for one in holes if one.startswith("H")} == {"H6", "H7", "H8", "H9"}
    with_holes = {name.partition("/")[2] for name in names if not name.startswith("25 H")}
    assert with_holes == {"h5", "h6", "h7", "h8", "h9"}
    assert {f"{letter}{grade}" for letter in "hgf" for grade in (5, 6, 7, 8, 9, 10, 11) if letter == "h"} <= shafts
    # Basic hole first: H6 with all its shafts before H7.
    firsts = [names.index(f"25 H{grade}/h6") for grade in (6, 7, 8, 9)]
    assert firsts == sorted(firsts)


def test_zones_of_one_side_and_their_units():
    holes = [zone.text for zone in classes.zones(25.4, "hole", "in")]
    assert holes[0] == "1.0000 in RC1"
    assert "25.4 mm H7" in holes
    assert not [one for one in holes if one == "25.4 H7"]
    assert next(zone.text for zone in classes.zones(25.4, "shaft", "mm")) == "25.4 a5"
    shafts = [zone for zone in classes.zones(25.4, "shaft", "in") if " in " in zone.text]
    assert len({(one.lower, one.upper) for one in shafts}) == len(shafts)
    assert all(one.side == "shaft" for one in shafts)


@pytest.mark.parametrize(("text", "units", "foreign", "usual"), [
    ("25 H7", "mm", False, True), ("25 H7", "in", True, True), ("1 in RC4 hole", "in", None, None), ("25 C11", "mm", False, False), ("25 h7", "mm", False, True), ("25 u6", "mm", False, True),
    ("25 H5", "mm", False, False), ("25 S7", "mm", False, True),
])  # fmt: skip
def test_foreign_and_usual_classes(text: str, units: str, foreign: bool | None, usual: bool | None):
    zone = parse_size(text)
    if foreign is None:
        hole, _ = ansi_b4.fit(1.0, "RC4")
        shifted, _ = ansi_b4.fit(1.0, "RC4", shaft_basis=True)
        assert [classes.foreign(hole, "in"), classes.foreign(hole, "mm"), classes.usual(hole), classes.usual(shifted)] == [False, True, True, False]
        return
    assert (classes.foreign(zone, units), classes.usual(zone)) == (foreign, usual)


@pytest.mark.parametrize(("basic", "letters", "text"), [
    (16.0, "H7", "16 mm H7"), (25.4, "RC4", "1.0000 in RC4"), (IN / 128, "lc2", "0.0078125 in lc2"), (IN * 0.33335, "FN1", "0.3333 in FN1"), (IN * 0.3337, "FN1", "0.3337 in FN1"),
    (12.345678912, "H7", "12.345679 mm H7"),
])  # fmt: skip
def test_a_class_written_at_a_size(basic: float, letters: str, text: str):
    assert classes.at_size(basic, letters) in (text, text.replace("0.3333", "0.3334"))


# Readings

@pytest.mark.parametrize(("part", "gauge", "alpha", "beta"), [(35.0, 29.0, 23e-6, 11.5e-6), (-5.0, 12.0, 12e-6, 17e-6), (20.0, 35.0, 23e-6, 11e-6), (35.0, 20.0, 23e-6, 11e-6)])
def test_a_warm_reading_of_a_warm_gauge(part: float, gauge: float, alpha: float, beta: float):
    found = reading.at_20(60.0, part_expansion=alpha, part_temperature=part, gauge_expansion=beta, gauge_temperature=gauge)
    assert found == pytest.approx(60.0 * (1.0 + beta * (gauge - 20.0)) / (1.0 + alpha * (part - 20.0)), rel=1e-14)
    # A gauge of which nothing is said is at 20 degC.
    alone = reading.at_20(60.0, part_expansion=alpha, part_temperature=part, gauge_expansion=beta)
    assert alone == pytest.approx(60.0 / (1.0 + alpha * (part - 20.0)), rel=1e-14)


@pytest.mark.parametrize(("least", "greatest", "verdict", "room", "needs", "beyond"), [
    # Limits 10.000 to 10.030, uncertainty 0.004. A micrometre's billionth is its last binary digit.
    (10.004, 10.020, "inside", 0.0, None, ()), (10.004 - 5e-10, 10.02, "inside", 0.0, None, ()), (10.004 - 5e-9, 10.02, "undecided", 0.0, 0.004 - 5e-9, ()),
    (10.010, 10.026 + 5e-9, "undecided", 0.0, 0.004 - 5e-9, ()), (9.996, 10.02, "undecided", -0.008, 0.004, ()), (9.996 - 5e-9, 10.02, "outside", -0.008, None, ("below",)),
    (10.01, 10.034 + 5e-9, "outside", -0.008, None, ("above",)), (10.01, 10.034, "undecided", -0.008, 0.004, ()), (10.0, 10.02, "undecided", -0.004, 0.0, ()),
    (10.0 + 5e-10, 10.02, "undecided", -0.004, 0.0, ()), (10.0 + 5e-9, 10.02, "undecided", -0.004, 5e-9, ()), (9.9, 10.2, "outside", -0.174, None, ("below", "above")),
    (10.012, 10.023, "inside", 0.003, None, ()), (10.005, 10.024, "inside", 0.001, None, ()),
])  # fmt: skip
def test_the_guard_band_to_its_last_digit(least: float, greatest: float, verdict: str, room: float, needs: float | None, beyond: tuple[str, ...]):
    found = reading.guard_band(least, greatest, 0.004, 10.0, 10.03)
    assert (found.verdict, found.beyond) == (verdict, beyond)
    assert found.room == pytest.approx(room, abs=2e-8)
    assert found.needs == (None if needs is None else pytest.approx(needs, abs=2e-9))


def test_form_needs_two_readings_that_differ_in_one_thing():
    assert reading.form_of([("a", "x", 1.0)]) == (None, None)
    assert reading.form_of([("a", "x", 1.0), ("b", "y", 1.5)]) == (None, None)
    found = reading.form_of([("a", "x", 10.0), ("b", "x", 10.3), ("a", "y", 10.1), ("b", "y", 10.9), ("c", "y", 10.05)])
    # Along x 0.3, along y 0.85; around a 0.1, around b 0.6.
    assert found == pytest.approx((0.85, 0.6))


# Scatter

LENGTH = Between(16.0, 16.03)


@pytest.mark.parametrize(("text", "want"), [
    ("uniform", Scatter("uniform", "uniform", 16.0, 16.03)), ("uniform 16.02/16.01", Scatter("uniform", "uniform 16.02/16.01", 16.01, 16.02)),
    ("uniform 16.01 to 16.02", Scatter("uniform", "uniform 16.01 to 16.02", 16.01, 16.02)),
    ("normal Cp 2", Scatter("normal", "normal Cp 2", 16.0, 16.03, 16.015, 0.0025, False)),
    ("normal Cp 2 at 16.01", Scatter("normal", "normal Cp 2 at 16.01", 16.0, 16.03, 16.01, 0.0025, False)),
    ("normal sigma 0.004, inspected", Scatter("normal", "normal sigma 0.004, inspected", 16.0, 16.03, 16.015, 0.004, True)),
    ("measured 16.02 16.01 16.025", Scatter("measured", "measured 16.02 16.01 16.025", 16.01, 16.025, measured=(16.02, 16.01, 16.025))),
    ("measured 0.63 0.64 in", Scatter("measured", "measured 0.63 0.64 in", 0.63 * IN, 0.64 * IN, measured=(0.63 * IN, 0.64 * IN))),
    ("measured 16.01 mm 0.64 in", Scatter("measured", "measured 16.01 mm 0.64 in", 16.01, 0.64 * IN, measured=(16.01, 0.64 * IN))),
])  # fmt: skip
def test_every_part_of_a_spread(text: str, want: Scatter):
    found = parse_scatter(text, LENGTH)
    assert (found.form, found.text, found.ends) == (want.form, want.text, want.ends)
    assert (found.low, found.high, found.middle, found.sigma) == pytest.approx((want.low, want.high, want.middle, want.sigma), rel=1e-12)
    assert found.measured == pytest.approx(want.measured)


@pytest.mark.parametrize(("text", "between", "says"), [
    ("uniform", Between(16.0, 16.0), "no limits to scatter between"), ("uniform 16 to 16", LENGTH, "lower end comes first, and they differ"), ("normal Cp 1", Between(16.0, 16.0), "give sigma"),
    ("normal sigma 0.01, inspected", Between(16.0, 16.0), "no limits to inspect by"), ("normal Cp 0", LENGTH, "Cp must be above 0"), ("measured 16.01", LENGTH, "at least two"),
    ("measured 16.01 16.01", LENGTH, "no spread can be seen"), ("uniform 0.1/0.2", Between(0.1, 0.2, "number"), "two ends are due"),
])  # fmt: skip
def test_spreads_that_are_none(text: str, between: Between, says: str):
    with pytest.raises(InputError, match=says):
        parse_scatter(text, between)


def test_what_was_measured_is_told_apart_from_what_is_said():
    assert scatter.over_limits(LENGTH) == Scatter("uniform", "uniform over its limits", 16.0, 16.03)
    assert scatter.sample((3.0, 1.0, 2.0), "three") == Scatter("measured", "three", 1.0, 3.0, measured=(3.0, 1.0, 2.0))
    assert parse_scatter("normal sigma 0.01", Between(16.0, 16.0)).middle == 16.0
