"""Digits that are kept, sources that are named, and hints that say exactly what would be right."""

from __future__ import annotations

from typing import Any

import pytest

from fits.errors import InputError
from fits.sizes import ansi_b4, bought, classes, iso286
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_pair, parse_size
from fits.sizes.scatter import Between, Scatter, parse_scatter

IN = 25.4


@pytest.mark.parametrize(("text", "units", "lower", "upper"), [
    ("1.0000000003/1.0000000001", "mm", 1.0000000001, 1.0000000003), ("10 +0.0000000004/-0.0000000003", "mm", 9.9999999997, 10.0000000004),
])  # fmt: skip
def test_every_typed_digit_is_kept(text: str, units: str, lower: float, upper: float):
    found = parse_size(text, units=units)
    assert (found.lower, found.upper) == (lower, upper)


def test_an_iso_class_on_a_hundred_and_twenty_eighth_of_an_inch_keeps_its_digits():
    """h6 is 6 um, H6 as much above, up to 3 mm; 1/128 in is 0.1984375 mm."""
    assert (iso286.limits(0.1984375, "h", "6").lower, iso286.limits(0.1984375, "h", "6").upper) == (0.1924375, 0.1984375)
    assert iso286.limits(0.1984375, "H", "6").upper == 0.2044375


@pytest.mark.parametrize(("basic", "letter", "grade", "sources"), [
    # Tolerance and deviation, and above 3 mm a delta where the rule asks for one.
    (2.5, "K", "7", 2), (3.0, "K", "7", 2), (3.001, "K", "7", 3), (3.001, "k", "6", 2), (3.0, "P", "7", 2), (3.001, "P", "7", 3), (3.001, "P", "8", 2), (25.0, "H", "7", 2),
])  # fmt: skip
def test_a_delta_is_a_source_above_3_mm(basic: float, letter: str, grade: str, sources: int):
    found = iso286.limits(basic, letter, grade).sources
    assert len(found) == sources
    assert [one.text.startswith("ISO 286 delta") for one in found] == [False, False, True][:sources]


def test_a_dowel_of_a_class_names_both_of_its_tables():
    assert [one.text.partition(":")[0] for one in bought.limits("dowel 6 m6").sources] == [one.text.partition(":")[0] for one in iso286.limits(6.0, "m", "6").sources]
    assert [one.text.partition(":")[0] for one in bought.limits("bearing 30", side="hole").sources] == ["inner ring, normal class"]


@pytest.mark.parametrize(("letter", "tolerance", "said"), [("js", 0.501, True), ("js", 0.502, False), ("JS", 0.001, True)])
def test_odd_tolerances_of_js(letter: str, tolerance: float, said: bool):
    found = iso286.note(letter, "9", tolerance)
    assert found == (f"{letter}9: exact half of the tolerance taken; some tables round it down to 1 um" if said else "")


def hint(text: str, **more: Any) -> str:
    with pytest.raises(InputError) as caught:
        parse_size(text, **more)
    (fault,) = caught.value.faults
    return fault.hint


@pytest.mark.parametrize(("text", "units", "side", "want"), [
    ("25.000/25.021", "mm", "", "upper limit first: 25.021/25.000"), ("25 -0.03/-0.01", "mm", "", "upper deviation first: 25 -0.01/-0.03"),
    ("25 +0.01/+0.03", "mm", "", "upper deviation first: 25 +0.03/+0.01"), ("25 H7/g6", "mm", "", "write 25 H7"), ("25 mm K7 / h6", "mm", "", "write 25 K7"),
    ("25 H7", "in", "", "write 25 mm H7 if mm are meant, else an inch class such as 25 in RC4, or the limits"), ("25 RC4", "mm", "hole", "write 25.0000 in RC4 if inches are meant, else a class for mm such as 25 H7"),
    ("9.525 mm RC4", "mm", "hole", "write 0.3750 in RC4"), ("RC4", "in", "hole", "write it as 1.0000 in RC4"),
    ("1 in RC4X", "in", "hole", "an inch class is hole and shaft at once; RC4S is its form on basic shaft, and RC4 hole or RC4 shaft one side"),
    ("1 in RC4", "in", "", "write 1 in RC4 hole or 1 in RC4 shaft"), ("3/8 in H7", "mm", "", "write 9.525 mm H7, an inch class such as 0.3750 in RC4, or the limits in inches"),
    ("25 g6", "mm", "hole", "holes: G6"), ("25 Q7", "mm", "", "holes A to ZC, shafts a to zc, such as H7 or g6"), ("25 H19", "mm", "", "grades run from 01 to 18"),
    ("25 H18", "mm", "shaft", "shafts: h18"),
])  # fmt: skip
def test_a_hint_says_exactly_what_would_be_right(text: str, units: str, side: str, want: str):
    assert hint(text, units=units, side=side) == want


def test_the_other_side_of_an_inch_class_is_refused():
    for text, side, wrong in (("1 in RC4 hole", "shaft", "this is the hole of RC4, a shaft is due"), ("1 in RC4 shaft", "hole", "this is the shaft of RC4, a hole is due")):
        with pytest.raises(InputError) as caught:
            parse_size(text, side=side)
        assert caught.value.faults[0].must == wrong
    hole, shaft = ansi_b4.fit(1.0, "RC4")
    for text, side, want in (("1 in RC4 hole", "hole", hole), ("1 in RC4 hole", "", hole), ("1 in RC4 Shaft", "", shaft), ("1 in rc4", "shaft", shaft), ("1 in RC 4", "hole", hole)):
        assert parse_size(text, side=side).lower == want.lower


def test_a_pair_takes_inches_only_from_a_part_in_inches():
    hole, shaft = parse_pair("1.0000 RC4", units="in")
    assert (hole, shaft) == ansi_b4.fit(1.0, "RC4")
    with pytest.raises(InputError, match="no unit, and RC4 is a class for inches"):
        parse_pair("1.0000 RC4")
    assert parse_pair("25 mm H7/g6", units="in")[0].upper == 25.021


@pytest.mark.parametrize(("size", "name", "must", "hint_"), [
    (0.0, "RC1", "a size is above 0", ""), (-0.5, "RC1", "a size is above 0", ""), (19.691, "RC4", "not covered: the table of RC4 in ANSI B4.1 ends at 19.69 in", "write the limits, such as 20.003/20.000 in"),
    (0.1, "LT3", "not covered: the table of LT3 in ANSI B4.1 begins above 0.24 in", "this size has LT1, LT2, LT5, LT6"), (0.95, "FN3", "not covered: the table of FN3 in ANSI B4.1 begins above 0.95 in", "this size has FN1, FN2, FN4, FN5"),
    (1.0, "RC10", "no inch class RC10", "ANSI B4.1 has RC1 to RC9"), (1.0, "LN9", "no inch class LN9", "ANSI B4.1 has LN1 to LN3"),
])  # fmt: skip
def test_inch_classes_that_a_size_has(size: float, name: str, must: str, hint_: str):
    with pytest.raises(InputError) as caught:
        ansi_b4.fit(size, name)
    (fault,) = caught.value.faults
    assert (fault.must, fault.hint) == (must, hint_)


def test_inch_sizes_are_written_as_fractions_need_them():
    assert classes.at_size((3.0 + 1.0 / 64.0) * IN, "RC4") == "3.015625 in RC4"
    assert classes.at_size((3.0 + 1.0 / 256.0) * IN, "RC4") == "3.0039 in RC4"
    assert classes.at_size(0.4375 * IN, "FN1") == "0.4375 in FN1"


def test_a_class_wider_than_its_size_may_stand_on_basic_shaft():
    """RC4 at 0.0007 in has a shaft down to 0; shifted up by 0.3 thou it has one of 0.3 thou."""
    names = {classes.pair_name(*pair) for pair in classes.pairs(0.0007 * IN, "in")}
    assert "0.0007 in RC4" not in names
    assert "0.0007 in RC4S" in names


@pytest.mark.parametrize(("text", "between", "low", "high"), [
    ("uniform 16.01 to 16.02 mm", Between(16.0, 16.03, "length", "in"), 16.01, 16.02), ("uniform 0.63 in to 16.02 mm", Between(16.0, 16.03), 0.63 * IN, 16.02),
    ("uniform 0.1 to 0.2", Between(0.0, 1.0, "number"), 0.1, 0.2), ("uniform 16.02/16.01", Between(16.0, 16.03), 16.01, 16.02), ("uniform 0.631/0.63", Between(16.0, 16.03, "length", "in"), 0.63 * IN, 0.631 * IN),
])  # fmt: skip
def test_a_unit_at_the_end_is_that_of_both_ends(text: str, between: Between, low: float, high: float):
    found = parse_scatter(text, between)
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-12)


def test_a_spread_of_which_nothing_more_is_said():
    plain = Scatter("uniform", "x", 1.0, 2.0)
    assert (plain.middle, plain.sigma, plain.ends, plain.measured) == (0.0, 0.0, True, ())
    assert Between(1.0, 2.0) == (1.0, 2.0, "length", "mm")
    assert Limits(1.0, 2.0) == Limits(1.0, 2.0, None, "", "", "", (), "")


@pytest.mark.parametrize(("text", "side", "nominal"), [("tube 12.7 x 1.5", "hole", 9.7), ("tube 12.7 x 1.5", "shaft", 12.7), ("bearing 30", "shaft", 30.0)])
def test_the_nominal_of_what_is_bought(text: str, side: str, nominal: float):
    assert bought.limits(text, side=side).basic == pytest.approx(nominal, abs=1e-12)
