"""The grammar of sizes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.sizes.limits import Limits
from fits.sizes.notation import belong, is_classed, is_inch_class, is_pair, parse_pair, parse_size


@pytest.mark.parametrize(("text", "lower", "upper"), [
    ("25 H7", 25.0, 25.021), ("25H7", 25.0, 25.021), ("25 mm H7", 25.0, 25.021), ("25.021/25.000", 25.0, 25.021),
    ("25/24.9", 24.9, 25.0), ("25 +0.021/0", 25.0, 25.021), ("25 +0.021/-0.010", 24.99, 25.021),
    ("25 0/-0.013", 24.987, 25.0), ("25 -0.007/-0.020", 24.98, 24.993), ("25 ±0.01", 24.99, 25.01),
    ("25 +-0.01", 24.99, 25.01), ("25 +/-0.01", 24.99, 25.01), ("1 3/8 in", 34.925, 34.925),
    ("25.013", 25.013, 25.013), ("ø 25 H7", 25.0, 25.021), ("ø25.021/25.000", 25.0, 25.021), ("0.5005/0.5000 in", 12.7, 12.7127), ("0.5 in +0.0005/0", 12.7, 12.7127),
    ("0.5000 +0.0005/0 in", 12.7, 12.7127), ("25 −0.007/−0.020", 24.98, 24.993), ("  25   H7 ", 25.0, 25.021),
])
def test_notations(text: str, lower: float, upper: float):
    found = parse_size(text)
    assert (found.lower, found.upper) == pytest.approx((lower, upper), abs=1e-9)


@pytest.mark.parametrize(("text", "says"), [
    ("16 H77", "no grade 77; grades run from 01 to 18"), ("25 Q7", "no tolerance class Q7"),
    ("25 hH7", "no tolerance class hH7"), ("25.000/25.021", "swapped; upper limit first: 25.021/25.000"),
    ("25 -0.020/-0.007", "deviations are swapped"), ("25,5 H7", 'decimal comma; write "25.5 H7"'),
    ("25 H7/g6", "one size is due, not a pair"), ("4000 H7", "up to 3150 mm"), ("0 H7", "above 0"),
    ("0.5 H15", "sizes up to 1 mm"), ("1 A9", "sizes up to 1 mm"), ("1 N9", "sizes up to 1 mm"), ("20 t6", "doesn't define t6"),
    ("25 +0.021", "one deviation where two are due; upper first, such as 25 +0.021/0"), ("25 mm - 0.02", "such as 25 mm 0/- 0.02"), ("1 3/8 in -0.001", "such as 1 3/8 in 0/-0.001"),
    ("25 k9x", "unknown unit"), ("nan", "finite"), ("inf mm", "finite"), ("", "nothing stands here"),
    ("-5", "above 0"), ("0", "above 0"), ("banana", "no number"),
    ("25 +0.02/0 banana", "unknown unit banana"), ("5 ±10", "above 0"), ("2000000", "1e-6 mm to 1 km"), ("1e-9 mm", "1e-6 mm to 1 km"), ("9" * 60 + ".0/1", "1e-6 mm to 1 km"), ("25 K10", "doesn't define K10"),
])
def test_refusals_name_the_text(text: str, says: str):
    with pytest.raises(InputError) as error:
        parse_size(text)
    assert says in str(error.value)
    assert text in str(error.value)


def test_a_class_of_the_other_side():
    with pytest.raises(InputError, match="g6 is a class of shafts, a hole is due; holes: G6"):
        parse_size("25 g6", side="hole")
    with pytest.raises(InputError, match="H7 is a class of holes"):
        parse_size("25 H7", side="shaft")


def test_iso_classes_are_for_millimetres():
    with pytest.raises(InputError, match="ISO classes are for mm"):
        parse_size("25 H7", units="in")
    with pytest.raises(InputError, match=r"write 1\.375 mm H7 if mm are meant, else an inch class such as 1\.375 in RC4"):
        parse_size("1.375 H7", units="in")
    assert parse_size("25 mm H7", units="in").upper == 25.021


@pytest.mark.parametrize(("text", "side", "units", "lower", "upper"), [
    # limits in inches of RC4 at 1 in (+1.2/0, -0.8/-1.6 thou), FN2 at 1 3/8 (+1.0/0, +2.4/+1.8), LC2 at 1/2 (+0.7/0)
    ("1.0000 in RC4", "hole", "mm", 1.0, 1.0012), ("1.0000 in RC4", "shaft", "mm", 0.9984, 0.9992), ("1.0000 RC4", "shaft", "in", 0.9984, 0.9992),
    ("1 in RC 4", "hole", "in", 1.0, 1.0012), ("1.0000 in RC4S", "hole", "mm", 1.0008, 1.0020), ("1.0000 in RC4 S", "shaft", "mm", 0.9992, 1.0),
    ('1 3/8" FN2', "shaft", "mm", 1.3768, 1.3774), ("1 3/8 in FN2 shaft", "", "mm", 1.3768, 1.3774), (".5 in lc2 hole", "hole", "mm", 0.5, 0.5007),
])
def test_inch_classes_take_the_side_of_their_field(text: str, side: str, units: str, lower: float, upper: float):
    found = parse_size(text, side=side, units=units)
    assert (found.lower / 25.4, found.upper / 25.4) == pytest.approx((lower, upper), abs=1e-9)
    assert found.text == text
    assert found.side == (side or text.rsplit(" ", 1)[-1])


@pytest.mark.parametrize(("text", "side", "says"), [
    ("1.0000 RC4", "hole", "no unit, and RC4 is a class for inches; write 1.0000 in RC4"), ("25.4 mm RC4", "hole", "RC4 is a class for inches; write 1.0000 in RC4"),
    ("1.0000 in RC4", "", "a hole and a shaft, and nothing here says which; write 1.0000 in RC4 hole or 1.0000 in RC4 shaft"),
    ("1.0000 in RC4 hole", "shaft", "this is the hole of RC4, a shaft is due"), ("1.0000 in RC4 shaft", "hole", "this is the shaft of RC4, a hole is due"),
    ("1.0000 in RC4/LC2", "hole", "/LC2 stands behind RC4"), ("1.0000 in RC4B", "hole", "RC4S is its form on basic shaft"), ("1.0000 in RC10", "hole", "no inch class RC10; ANSI B4.1 has RC1 to RC9"),
    ("20 in RC4", "hole", "not covered: the table of RC4 in ANSI B4.1 ends at 19.69 in"), ("RC4", "hole", "no size before RC4"), ("1,5 in RC4", "hole", 'decimal comma; write "1.5 in RC4"'),
    ("0 in RC4", "hole", "above 0"), ("-1 in RC4", "hole", "above 0"), ("1/3 in RC4", "hole", "an inch fraction has"), ("1 foo RC4", "hole", "unknown unit foo"),
    ("1.375 in H7", "hole", "ISO classes are for mm; write 34.925 mm H7, an inch class such as 1.3750 in RC4, or the limits in inches"),
    ('1 3/8" g6', "shaft", "write 34.925 mm g6"), ("1 3/8 in H7/g6", "", "write 34.925 mm H7/g6"), ("1.375inH7", "hole", "ISO classes are for mm"),
])
def test_inch_classes_refuse_in_one_line(text: str, side: str, says: str):
    with pytest.raises(InputError) as error:
        parse_size(text, side=side)
    (fault,) = error.value.faults
    assert says in str(fault)
    assert str(fault).startswith(f'"{text}": ')


def test_an_inch_class_is_a_pair_by_itself():
    assert is_pair("1.0000 in RC4S")
    assert not is_pair("1.0000 in RC4 hole")
    assert is_inch_class("1.0000 RC4")
    assert not is_inch_class("25 H7")
    assert not is_classed("25 RC4")
    hole, shaft = parse_pair("1.0000 in LN1")
    assert (hole.side, shaft.side) == ("hole", "shaft")
    assert parse_pair("1.0000 LN1", units="in") == (hole, shaft)
    for text in ("1.0000 LN1", "1.0000 in LN4", "25 mm LN1", "20 in LN1", "1.0 in LN1/LN2"):
        with pytest.raises(InputError) as error:
            parse_pair(text)
        assert str(error.value).startswith(f'"{text}": ')


def test_pairs():
    hole, shaft = parse_pair("25 H7/g6")
    assert (hole.side, shaft.side) == ("hole", "shaft")
    assert is_pair("25 H7/g6")
    assert not is_pair("25 H7")
    assert is_classed("25 H7")
    for text in ("25 g6/H7", "25 H7/G6", "25 H7/", "25 H7"):
        with pytest.raises(InputError):
            parse_pair(text)


def test_members_that_cannot_belong_together():
    assert belong(Limits(25.0, 25.1), Limits(26.0, 26.1)) is None
    fault = belong(Limits(25.0, 25.1), Limits(12.0, 12.1))
    assert fault is not None
    assert "can't belong together" in str(fault)


@given(st.text(max_size=25))
def test_any_text_is_a_size_or_a_refusal(text: str):
    try:
        found = parse_size(text)
    except InputError as error:
        assert all("\n" not in str(fault).replace(text, "") for fault in error.faults)
    else:
        assert 0.0 <= found.lower <= found.upper


@given(st.floats(1.0, 500.0), st.floats(0.0, 0.5), st.floats(0.0, 0.5))
def test_deviations_add_up(basic: float, above: float, below: float):
    found = parse_size(f"{basic:.4f} +{above:.4f}/-{below:.4f}")
    assert found.upper - float(f"{basic:.4f}") == pytest.approx(float(f"{above:.4f}"), abs=1e-9)
    assert float(f"{basic:.4f}") - found.lower == pytest.approx(float(f"{below:.4f}"), abs=1e-9)


def test_a_pair_of_no_size_is_refused():
    with pytest.raises(InputError, match="a size is above 0"):
        parse_pair("0.0000000000001 H7/g6")


def test_a_long_text_takes_no_time():
    for text in ("9" * 400 + ".0/1", "9" * 20_000, "9" * 20_000 + " H", "1 ±" + "9" * 20_000, ". " * 10_000):
        with pytest.raises(InputError):
            parse_size(text)
        assert not is_classed(text)
