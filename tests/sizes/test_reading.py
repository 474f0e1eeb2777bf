"""Readings: the guard band by the arithmetic of ISO 14253-1, warm readings, form, lobes."""

from __future__ import annotations

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.sizes.reading import EXACT, INSIDE, OUTSIDE, UNDECIDED, at_20, form_of, guard_band, lobes

LIMITS = (25.000, 25.021)


# ISO 14253-1: conformity proved from lower + U to upper - U, non-conformity beyond lower - U
# and upper + U, between them neither. U = 3 um, 25 H7 (0 to +21 um); by hand.
@pytest.mark.parametrize(("size", "verdict", "room", "needs"), [
    (25.010, INSIDE, 0.007, None), (25.003, INSIDE, 0.0, None), (25.018, INSIDE, 0.0, None),
    (25.002, UNDECIDED, -0.001, 0.002), (25.019, UNDECIDED, -0.001, 0.002), (25.0205, UNDECIDED, -0.0025, 0.0005),
    (25.000, UNDECIDED, -0.003, 0.0), (25.021, UNDECIDED, -0.003, 0.0),
    (25.024, UNDECIDED, -0.006, 0.003), (24.997, UNDECIDED, -0.006, 0.003), (24.999, UNDECIDED, -0.004, 0.001),
    (25.0241, OUTSIDE, -0.0061, None), (24.9969, OUTSIDE, -0.0061, None),
])
def test_guard_band_of_one_reading(size: float, verdict: str, room: float, needs: float | None):
    found = guard_band(size, size, 0.003, *LIMITS)
    assert (found.verdict, round(found.room, 9)) == (verdict, room)
    assert found.needs == (None if needs is None else pytest.approx(needs, abs=1e-9))


@pytest.mark.parametrize(("least", "greatest", "verdict", "beyond"), [
    (25.004, 25.017, INSIDE, ()), (25.002, 25.017, UNDECIDED, ()), (25.004, 25.025, OUTSIDE, ("above",)),
    (24.990, 25.010, OUTSIDE, ("below",)), (24.990, 25.030, OUTSIDE, ("below", "above")),
])
def test_every_reading_of_a_bore_counts(least: float, greatest: float, verdict: str, beyond: tuple[str, ...]):
    found = guard_band(least, greatest, 0.003, *LIMITS)
    assert (found.verdict, found.beyond) == (verdict, beyond)


def test_a_tolerance_of_twice_the_uncertainty_can_never_be_proved():
    for step in range(-50, 51):
        assert guard_band(10.0 + step * 1e-3, 10.0 + step * 1e-3, 0.0101, 9.99, 10.01).verdict != INSIDE
    assert guard_band(10.0, 10.0, 0.01, 9.99, 10.01).verdict == INSIDE


@given(st.floats(9.9, 10.1), st.floats(1e-4, 0.03), st.floats(-1.0, 1.0))
def test_whatever_the_true_size_the_verdict_is_true(size: float, doubt: float, share: float):
    found = guard_band(size, size, doubt, 9.97, 10.03)
    true = size + share * doubt
    if found.verdict == INSIDE:
        assert 9.97 - 1e-8 <= true <= 10.03 + 1e-8
    if found.verdict == OUTSIDE:
        assert not 9.97 <= true <= 10.03
    if found.verdict == UNDECIDED and found.needs:
        assert guard_band(size, size, 0.999 * found.needs, 9.97, 10.03).verdict in (INSIDE, OUTSIDE)
        assert guard_band(size, size, 1.001 * found.needs + 1e-8, 9.97, 10.03).verdict == UNDECIDED


def test_a_warm_aluminium_bore():
    # A 4.000 in bore of 6061 (13.1e-6 1/degF) read at 95 degF: 27 degF x 4 in x 13.1e-6 = 0.0014 in
    # too large by a gauge at 68 degF; half of that by a steel gauge as warm (6.4e-6 1/degF). By hand.
    away = (95.0 - 68.0) / 1.8
    cool = at_20(4.0, part_expansion=13.1e-6 * 1.8, part_temperature=20.0 + away)
    warm = at_20(4.0, part_expansion=13.1e-6 * 1.8, part_temperature=20.0 + away,
                 gauge_expansion=6.4e-6 * 1.8, gauge_temperature=20.0 + away)
    assert round(4.0 - cool, 4) == 0.0014
    assert round(4.0 - warm, 4) == 0.0007


@given(st.floats(1.0, 500.0), st.floats(-40.0, 90.0), st.floats(-40.0, 90.0), st.floats(1e-6, 3e-5), st.floats(1e-6, 3e-5))
def test_against_fifty_digits(size: float, part: float, gauge: float, alpha: float, beta: float):
    with mpmath.workdps(50):
        exact = mpmath.mpf(size) * (1 + mpmath.mpf(beta) * (mpmath.mpf(gauge) - 20)) / (1 + mpmath.mpf(alpha) * (mpmath.mpf(part) - 20))
    found = at_20(size, part_expansion=alpha, part_temperature=part, gauge_expansion=beta, gauge_temperature=gauge)
    assert found == pytest.approx(float(exact), rel=1e-14)


@given(st.floats(1.0, 500.0), st.floats(-40.0, 90.0), st.floats(1e-6, 3e-5))
def test_a_gauge_of_the_same_metal_and_warmth_reads_right(size: float, at: float, alpha: float):
    found = at_20(size, part_expansion=alpha, part_temperature=at, gauge_expansion=alpha, gauge_temperature=at)
    assert found == pytest.approx(size, rel=1e-15)


READINGS = st.dictionaries(st.tuples(st.sampled_from("abc"), st.sampled_from("xyz")), st.floats(9.0, 11.0), min_size=1)


@given(READINGS)
def test_form_against_every_two_readings(table: dict[tuple[str, str], float]):
    def widest(shared: int) -> float | None:
        pairs = [abs(u - v) for k, u in table.items() for m, v in table.items() if k != m and k[shared] == m[shared]]
        return max(pairs, default=None)

    found = form_of((station, direction, value) for (station, direction), value in table.items())
    assert (found.taper, found.ovality) == (widest(1), widest(0))


def test_what_an_instrument_cant_see():
    for name in ("outside micrometer", "digital caliper", "two-point bore gauge", "telescoping gauge"):
        assert "two points miss odd lobes" in lobes(name)
    assert "if it reads across two points" in lobes("the old gauge")
    assert "three points miss ovality" in lobes("Three-point bore gauge")
    assert lobes("roundness machine") == lobes("CMM") == ""


def test_what_sits_on_the_limit_needs_no_instrument():
    """Within a millionth of a micrometre it is the limit itself: one that is just as far off too."""
    for away in (0.0, EXACT, -EXACT):
        assert guard_band(away, away, 0.003, 0.0, 1.0).needs == 0.0
    for away in (2.0 * EXACT, -2.0 * EXACT):
        assert guard_band(away, away, 0.003, 0.0, 1.0).needs == 2.0 * EXACT
