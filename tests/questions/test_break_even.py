"""A break-even value as it is said: rounded to the side that holds, whatever its size."""

from __future__ import annotations

import sys
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fits import quantity
from fits.questions.judging import FINEST, _rounded_to_hold


@given(st.floats(allow_nan=False, allow_infinity=False, max_value=1e300, min_value=-1e300), st.sampled_from(list(quantity.KINDS)),
       st.sampled_from(["mm", "in"]), st.booleans())
@example(1e-308, "length", "mm", True)
@example(5e-324, "number", "in", True)
@example(sys.float_info.min, "expansion", "mm", False)
@example(1e300, "pressure", "in", False)
@example(0.4318, "length", "in", False)
def test_it_is_said_on_the_side_that_holds(value: float, kind: str, units: str, up: bool):
    text = _rounded_to_hold(value, kind, units, up=up)
    said = Fraction(text.split(" ")[0].removesuffix("e-6"))
    true = Fraction(quantity.on_sheet(value, kind, units=units))
    # What is round to a ten-thousandth of the last digit stays, as do 12 significant digits;
    # within that no side is promised.
    decimals = len(text.split(" ")[0].removesuffix("e-6").partition(".")[2])
    digit = max(abs(true) / 10**11, Fraction(1, 10**decimals) / 10**4)
    assert (said >= true - digit) if up else (said <= true + digit)
    # No further off than one in the third digit, or the last that is shown.
    assert abs(said - true) <= max(abs(true) / 10, 1), text
    assert len(text.split(" ")[0].partition(".")[2].removesuffix("e-6")) <= FINEST + 1
    if up and value > 0.0:
        assert said > 0


@pytest.mark.parametrize(("value", "up", "says"), [(0.123456, False, "0.1234 mm"), (0.123456, True, "0.1235 mm"), (12.0, True, "12.0000 mm"), (0.1 + 0.2, True, "0.3000 mm")])
def test_by_hand(value: float, up: bool, says: str):
    assert _rounded_to_hold(value, "length", "mm", up=up) == says
