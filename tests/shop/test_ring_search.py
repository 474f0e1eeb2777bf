"""Rings by measure, by bore and shaft; what a ring is taken for."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.shop.ring_search import (
    _mounted,
    called,
    measured,
    nearest,
    nearly,
    sections_like,
    suiting,
    taken_for,
)
from fits.shop.rings import every, ring
from fits.sizes.limits import Limits


def about(middle: float, off: float) -> Limits:
    return Limits(middle - off, middle + off, middle)


@given(st.sampled_from(every()), st.floats(0, 1), st.floats(0, 1))
def test_a_ring_within_its_limits_is_found_by_measuring_it(one, inside: float, section: float):
    sizes = [
        about(limits.lower + share * limits.tolerance, 0.01)
        for limits, share in ((one.inside, inside), (one.section, section))
    ]
    found = measured(*sizes)
    assert one in found
    assert one in measured(sizes[0], None)
    assert one in measured(None, sizes[1])


@given(st.sampled_from(every()))
def test_a_ring_outside_its_limits_is_not_found(one):
    far = Limits(one.section.upper + 0.02, one.section.upper + 0.03)
    assert one not in measured(one.inside, far)


def test_the_nearest_comes_first():
    found = measured(about(24.99, 0.05), about(3.53, 0.01))
    assert found[0].code == "AS568-214"
    assert nearest(about(300.0, 0.1), about(3.5, 0.01)).code == "AS568-278"


def test_3_53_is_taken_for_3_5():
    """The confusable metric section (frederickseal.com tips: .139 in is 3.53 mm)."""
    assert sections_like(about(3.52, 0.03)) == (3.5, 3.53, 3.55)
    assert {one.code for one in taken_for(ring("AS568-214"))} == {"JIS B 2401 P25", "JIS B 2401 P25.5"}
    assert "AS568-214" in {one.code for one in taken_for(ring("ISO 3601-1 B 25x3.5"))}


def test_a_ring_is_not_taken_for_itself_in_mm():
    assert "AS568-214" not in {one.code for one in taken_for(ring("ISO 3601-1 214A"))}


@given(st.sampled_from(every()))
def test_taking_one_for_the_other_goes_both_ways(one):
    for other in taken_for(one):
        assert one in taken_for(other)


def test_an_eighth_inch_ring_is_thicker_than_its_name():
    """frederickseal.com tips and the globaloring.com AS568 chart: a 1/8 in ring is .139 in."""
    name, real = called(about(3.175, 0.02))
    assert (name, round(real / 25.4, 3)) == ("1/8", 0.139)
    assert called(about(3.53, 0.02)) is None


# The dash tables of AS568 glands give -218 for a 1.500 in bore and -222 for a 1.500 in rod (from memory).
@pytest.mark.parametrize(("place", "code"), [("bore", "AS568-218"), ("shaft", "AS568-222")])
def test_rings_for_an_inch_and_a_half(place: str, code: str):
    assert code in {one.ring.code for one in suiting(about(38.1, 0.0), place, "static")}


@given(st.floats(5, 400), st.sampled_from(["bore", "shaft"]), st.sampled_from(["static", "moving"]))
def test_what_suits_is_squeezed_and_stretched_as_said(size: float, place: str, duty: str):
    for one in suiting(about(size, 0.0), place, duty):
        low, high = one.groove
        section = one.ring.section.nominal
        # the gland is thinner than the ring and lies on the right side
        depths = sorted(abs(size - end) / 2.0 for end in (low, high))
        assert 0.74 <= depths[0] / section <= depths[1] / section <= 0.91
        assert (high < size) == (place == "bore")
        middle = sum(one.stretched) / 2.0
        assert 0.0 <= middle <= (0.05 if (place, duty) == ("bore", "static") else 0.03)
        seat = (low + high) / 2.0
        own = one.ring.inside.nominal if place == "bore" else one.ring.outside
        assert middle == pytest.approx((seat - own) / own * (1 if place == "bore" else -1))


def test_a_ring_that_a_shaft_stretches_too_far_suits_no_groove():
    """At most 5 % at rest and 3 % moving, as in a piston's groove; AS568-314 (18.42 mm inside) on 20 mm is 8.6 %."""
    for duty, most in (("static", 0.05), ("moving", 0.03)):
        for size in (20.0, 25.4, 38.1, 50.0):
            assert all(size / one.ring.inside.nominal - 1.0 <= most for one in suiting(about(size, 0.0), "shaft", duty))
        assert "AS568-314" not in {one.ring.code for one in suiting(about(20.0, 0.0), "shaft", duty)}
    # Compression is asked of both; 0.725 in inside.
    for percent, duty, there in ((4.99, "static", True), (5.01, "static", False), (2.99, "moving", True), (3.01, "moving", False)):
        on = about(0.725 * 25.4 * (1.0 + percent / 100.0), 0.0)
        assert ("AS568-314" in {one.ring.code for one in _mounted(on, "shaft", duty)}) is there


def test_the_nearest_where_none_suits():
    """AS568-014, 0.489 x 0.070 in, on 12.7: groove 12.7 + 2 x 1.778 x 0.785, outside 0.629 in."""
    assert not suiting(about(12.7, 0.0), "shaft", "static")
    one, most = nearly(about(12.7, 0.0), "shaft", "static")
    assert (one.ring.code, most) == ("AS568-014", 0.03)
    assert one.mean == pytest.approx(1.0 - (12.7 + 2 * 1.778 * 0.785) / (0.629 * 25.4), abs=2e-4)


def test_thickest_first_and_no_boss_rings():
    found = suiting(about(38.1, 0.0), "bore", "static")
    sections = [one.ring.section.nominal for one in found]
    assert sections == sorted(sections, reverse=True)
    assert not any("AS568-9" in one.ring.code for size in range(5, 60) for one in suiting(about(size, 0.0), "shaft", "moving"))
