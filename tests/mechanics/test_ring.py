"""Rings in grooves against quadrature, sympy, exact roots and the printed tables of the curve."""

from __future__ import annotations

import mpmath
import numpy as np
import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st

from fits.mechanics import ring

INSIDE = st.floats(1.0, 500.0)
SECTION = st.floats(0.8, 10.0)


def test_volume_of_a_ring_by_sympy():
    d, inside, r, angle = sympy.symbols("d ID r angle", positive=True)
    # Shells of the round section around the axis: the integral over the disc of 2 pi (R + r cos).
    centre = (inside + d) / 2
    whole = sympy.integrate(2 * sympy.pi * (centre + r * sympy.cos(angle)) * r, (angle, 0, 2 * sympy.pi), (r, 0, d / 2))
    ours = sympy.nsimplify(sympy.pi**2 / 4 * d**2 * (inside + d))
    assert sympy.simplify(whole - ours) == 0
    assert float(whole.subs({d: sympy.Rational(353, 100), inside: 25})) == pytest.approx(ring.volume(25.0, 3.53), rel=1e-13)


def revolved(radius_of, low: float, high: float) -> mpmath.mpf:
    """Volume between two heights of a body whose section runs from one radius to another."""
    return mpmath.quad(lambda z: mpmath.pi * radius_of(z), [low, high])


@pytest.mark.parametrize("outward", [1.0, -1.0])
@pytest.mark.parametrize(("slope", "radius"), [(0.0, 0.0), (0.0, 0.4), (0.08749, 0.0), (0.08749, 0.4)])
def test_volume_of_a_radial_groove_by_quadrature(outward: float, slope: float, radius: float):
    """Slices along the depth: the width at each depth, less what the bottom radii leave."""
    width, depth, bottom, gap = 4.8, 2.7, 50.0, 0.1
    groove = ring.Groove(*(np.float64(x) for x in (width, depth, slope, radius)))

    def across(z: mpmath.mpf) -> mpmath.mpf:
        """Open width at a height above the bottom, both corners rounded tangent to side and bottom."""
        half = mpmath.atan(slope)
        side = width + 2 * z * slope
        # The circle touches the bottom and the side: its centre lies r above the bottom.
        centre = radius * (mpmath.sec(half) - mpmath.tan(half))
        if radius and z < radius * (1 - mpmath.sin(half)):
            return width - 2 * (centre - mpmath.sqrt(radius**2 - (radius - z) ** 2))
        return side

    def shell(z: mpmath.mpf) -> mpmath.mpf:
        return 2 * mpmath.pi * (bottom / 2 + outward * z) * across(z)

    edges = [0, radius, depth] if radius else [0, depth]
    exact = mpmath.quad(shell, edges) + mpmath.quad(lambda z: 2 * mpmath.pi * (bottom / 2 + outward * z) * width, [depth, depth + gap / 2])
    got = float(groove.volume_on(np.float64(bottom), outward=outward, gap=np.float64(gap)))
    # The centroid of a corner with a sloped side is that of a square one: 1e-5 of the volume.
    assert got == pytest.approx(float(exact), rel=1e-5 if slope and radius else 1e-9)


def test_area_of_a_dovetail_by_its_outline():
    """Undercut sides: a trapezoid less two corners of an acute angle, by polygon area of many points."""
    mouth, depth, angle, radius = 2.9, 2.85, np.radians(24.0), 0.8
    slope = -np.tan(angle)
    bottom = mouth - 2.0 * depth * slope
    groove = ring.Groove(np.float64(bottom), np.float64(depth), np.float64(slope), np.float64(radius))
    # Right half, bottom at y = 0: the fillet's centre is at distance radius from bottom and side.
    corner = np.array([bottom / 2.0, 0.0])
    half = (np.pi / 2.0 - angle) / 2.0
    along = radius / np.tan(half)
    centre = np.array([corner[0] - along, radius])
    turn = np.linspace(-np.pi / 2.0, angle, 20001)
    arc = centre + radius * np.column_stack((np.cos(turn), np.sin(turn)))
    points = np.vstack(([0.0, 0.0], arc, [mouth / 2.0, depth], [0.0, depth]))
    x, y = points[:, 0], points[:, 1]
    area = abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    assert float(groove.area()) == pytest.approx(area, rel=1e-6)
    assert float(groove.volume_in_face(np.float64(60.0))) == pytest.approx(np.pi * 60.0 * area, rel=1e-6)


def test_volume_of_a_triangular_groove_by_quadrature():
    spigot, leg = 20.0, 3.0
    exact = mpmath.quad(lambda r: 2 * mpmath.pi * r * (leg - (r - spigot / 2)), [spigot / 2, spigot / 2 + leg])
    assert float(ring.corner_volume(np.float64(spigot), np.float64(leg))) == pytest.approx(float(exact), rel=1e-13)


def test_the_inscribed_circle_touches_all_three_sides():
    leg = 4.77
    r = float(ring.corner_depth(np.float64(leg))) / 2.0
    assert abs((r + r - leg) / np.sqrt(2.0)) == pytest.approx(r)


@pytest.mark.parametrize(("percent", "loss"), [
    # Curve of SAE ARP1232, table worked out by hand from its two lines (from memory).
    (1, 0.97), (2, 1.73), (3, 2.29), (5, 3.40), (10, 6.00), (25, 12.44),
])
def test_the_curve_of_section_loss(percent: float, loss: float):
    assert 100.0 * float(ring.loss_by_curve(np.float64(percent / 100.0))) == pytest.approx(loss, abs=0.005)


@pytest.mark.parametrize(("percent", "loss"), [(1, 0.47), (2, 0.94), (3, 1.40), (5, 2.29), (10, 4.44), (25, 10.13)])
def test_constant_volume_of_a_large_ring(percent: float, loss: float):
    """3.53 x 100 mm: worked out by hand from d1^2 (seat + d1) = d^2 (ID + d)."""
    thin = float(ring.section_on_seat(np.float64(3.53), np.float64(100.0), np.float64(100.0 + percent)))
    assert 100.0 * (1.0 - thin / 3.53) == pytest.approx(loss, abs=0.006)


def test_the_curve_ends_where_it_is_known_and_starts_at_nothing():
    assert float(ring.loss_by_curve(np.float64(-0.02))) == 0.0
    assert np.isnan(ring.loss_by_curve(np.float64(0.2501)))
    assert np.isfinite(ring.loss_by_curve(np.float64(0.25)))


def test_the_curve_never_turns_and_never_jumps_by_more_than_a_rounding():
    x = np.linspace(0.0001, 0.25, 5001)
    loss = ring.loss_by_curve(x)
    assert (np.diff(loss) > 0.0).all()
    assert np.diff(loss).max() < 1.1e-4


@given(INSIDE, SECTION, st.floats(-0.2, 0.25))
def test_section_on_a_seat_keeps_the_volume(inside: float, section: float, x: float):
    seat = inside * (1.0 + x)
    got = float(ring.section_on_seat(np.float64(section), np.float64(inside), np.float64(seat)))
    root = mpmath.findroot(lambda d1: d1**2 * (seat + d1) - section**2 * (inside + section), section)
    assert got == pytest.approx(float(root), rel=1e-10)


@given(st.floats(5.0, 500.0), SECTION, st.floats(-0.05, 0.1))
def test_section_in_a_wall_keeps_the_volume(inside: float, section: float, compression: float):
    wall = (inside + 2.0 * section) * (1.0 - compression)
    got = float(ring.section_in_wall(np.float64(section), np.float64(inside), np.float64(wall)))
    root = mpmath.findroot(lambda d1: d1**2 * (wall - d1) - section**2 * (inside + section), section)
    assert got == pytest.approx(float(root), rel=1e-9)


@pytest.mark.parametrize(("inside", "section"), [(2.90, 1.78), (5.0, 2.62)])
def test_squeeze_of_a_small_ring_is_least_inside_the_zone(inside: float, section: float):
    """Dense sampling of the groove diameter finds the turning point."""
    seat = np.linspace(inside * 1.0001, inside * 1.0299, 20001)
    squeeze = section * (1.0 - ring.loss_by_curve((seat - inside) / inside)) + seat / 2.0
    low = float(ring.least_turning_seat(np.float64(inside), np.float64(section))[0])
    assert seat[0] < low < seat[-1]
    assert low == pytest.approx(float(seat[squeeze.argmin()]), abs=1e-4)


def test_heat_and_swell_share_the_volume_alike():
    """Volume by both factors: strain cubed times swell."""
    f = float(ring.grown(np.float64(0.02), np.float64(0.05)))
    assert f**3 == pytest.approx(1.02**3 * 1.05, rel=1e-14)
    assert ring.volume(25.0 * f, 3.53 * f) == pytest.approx(ring.volume(25.0, 3.53) * f**3, rel=1e-14)


def test_contact_of_a_squeezed_ring():
    """Worked out by hand for d = 3.53 mm, E = 5.52 MPa: load, width and peak stress at 10 to 30 %."""
    share = np.array([0.1, 0.15, 0.2, 0.25, 0.3])
    load = ring.line_load(share, 3.53, 5.52)
    width, peak = ring.contact(load, np.float64(3.53), np.float64(5.52))
    assert load == pytest.approx(np.array([0.77, 1.43, 2.24, 3.28, 4.71]), abs=0.005)
    assert width / 3.53 == pytest.approx(np.array([0.28, 0.37, 0.47, 0.57, 0.68]), abs=0.006)
    assert peak == pytest.approx(np.array([1.01, 1.38, 1.72, 2.09, 2.50]), abs=0.006)
    # The load is the integral of an elliptic pressure over the width.
    assert load == pytest.approx(np.pi / 4.0 * peak * width, rel=1e-12)


def test_no_squeeze_no_load_and_too_much_is_not_known():
    assert float(ring.line_load(np.float64(-0.1), 3.53, 5.5)) == 0.0
    assert np.isnan(ring.line_load(np.float64(0.31), 3.53, 5.5))
    assert float(ring.contact(np.float64(0.0), np.float64(3.53), np.float64(5.5))[1]) == 0.0
