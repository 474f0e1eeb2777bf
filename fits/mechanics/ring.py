"""Elastic rings of round section in a groove: stretch, section, squeeze, volumes, contact.

Lengths in mm, one unit throughout; shares are fractions. Everything broadcasts. A ring has
a free inside diameter ``inside`` and a free ``section``; its seat is the diameter its inside
lies on, its wall the diameter its outside lies against.

Rubber hardly changes its volume, so a stretched ring gets thinner; across the squeeze it
gets thinner still, because its inside flattens on the seat.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import NamedTuple

import numpy as np

from fits.arrays import Array

# Stretch up to which the curve of section loss is known.
CURVE_END = 0.25
# Squeeze up to which Lindley's load holds.
LINDLEY_END = 0.3
# Between the rounded corner and the sharp one, along each side, over the radius.
_CORNER_CENTROID = (5.0 / 6.0 - pi / 4.0) / (1.0 - pi / 4.0)
# Newton steps from the thin-ring start; three reach the last digit at 25 % stretch.
_STEPS = 3


def stretch(seat: Array, inside: Array) -> Array:
    """(seat - inside)/inside: below 0 the ring is loose on its seat.

    >>> stretch(51.0, 50.0)
    0.02
    """
    return (seat - inside) / inside


def outside_compression(wall: Array, inside: Array, section: Array) -> Array:
    """(ring outside - wall)/ring outside: below 0 the ring does not reach the wall.

    >>> round(outside_compression(97.0, 94.0, 3.0), 3)
    0.03
    """
    outside = inside + 2.0 * section
    return (outside - wall) / outside


def loss_by_curve(stretched: Array) -> Array:
    """Share of the section lost across the squeeze; 0 for a loose ring, NaN above 25 %.

    Percent of percent: 0.01 + 1.06 x - 0.1 x^2 up to 3 %, 0.56 + 0.59 x - 0.0046 x^2 above;
    SAE ARP1232, from memory. The two meet at 3 %.

    >>> [round(100.0 * float(loss_by_curve(np.float64(x))), 2) for x in (0.01, 0.03, 0.05, 0.25)]
    [0.97, 2.29, 3.4, 12.44]
    """
    percent = 100.0 * np.asarray(stretched)
    low = 0.01 + percent * (1.06 - 0.1 * percent)
    high = 0.56 + percent * (0.59 - 0.0046 * percent)
    lost = np.where(percent < 3.0, low, high) * 0.01
    lost = np.where(percent > 0.0, lost, 0.0)
    return np.where(np.asarray(stretched) > CURVE_END + 1e-12, np.nan, lost)


def section_on_seat(section: Array, inside: Array, seat: Array) -> Array:
    """The round section at the same volume with the inside on ``seat``: d1^2 (seat + d1) = V.

    Pappus on both sides; thicker than free where the seat is smaller than the ring.

    >>> round(100.0 * (1.0 - float(section_on_seat(3.53, 100.0, 105.0)) / 3.53), 2)
    2.29
    """
    held = section * section * (inside + section)
    thin = section * np.sqrt((inside + section) / (seat + section))
    for _ in range(_STEPS):
        square = thin * thin
        thin = thin - (square * (seat + thin) - held) / (2.0 * thin * seat + 3.0 * square)
    return np.asarray(thin)


def section_in_wall(section: Array, inside: Array, wall: Array) -> Array:
    """The same with the outside against ``wall``: d1^2 (wall - d1) = d^2 (inside + d).

    >>> round(float(section_in_wall(3.0, 94.0, 97.0)) / 3.0, 4)
    1.0161
    """
    held = section * section * (inside + section)
    thick = section * np.sqrt((inside + section) / (wall - section))
    for _ in range(_STEPS):
        square = thick * thick
        thick = thick - (square * (wall - thick) - held) / (2.0 * thick * wall - 3.0 * square)
    return np.asarray(thick)


def least_turning_seat(inside: Array, section: Array) -> tuple[Array, Array]:
    """Seats at which the squeeze of a small ring is least, one for each branch of the curve.

    A larger groove makes a piston gland shallower by half its growth and thins the ring by
    the curve's slope; where these balance, d Y'(x)/ID = 1/2, the squeeze is least inside the
    zone and not at its ends. NaN where the branch has no such point.

    >>> float(np.round(100.0 * (least_turning_seat(2.90, 1.78)[0] / 2.90 - 1.0), 2))
    1.23
    """
    slope = inside / (2.0 * section)
    low = (1.06 - slope) / 0.2
    high = (0.59 - slope) / 0.0092
    seats = []
    for percent, least, most in ((low, 0.0, 3.0), (high, 3.0, 100.0 * CURVE_END)):
        here = (percent >= least) & (percent <= most)
        seats.append(np.where(here, inside * (1.0 + 0.01 * percent), np.nan))
    return seats[0], seats[1]


def grown(strain: Array, swell: Array) -> Array:
    """Factor on the ring's inside and section: thermal strain, then volume swell shared alike.

    >>> round(float(grown(0.0288, 0.0)), 4)
    1.0288
    """
    return np.asarray((1.0 + strain) * np.cbrt(1.0 + np.asarray(swell)))


def volume(inside: Array, section: Array) -> Array:
    """Volume of the free ring, mm^3: pi^2/4 d^2 (ID + d), Pappus.

    >>> round(volume(1.0, 2.0), 3)
    29.609
    """
    return pi * pi / 4.0 * section * section * (inside + section)


class Groove(NamedTuple):
    """Section of a groove: width at its bottom, depth as cut, slope of the sides, bottom radius.

    ``slope`` is the tangent of the angle of each side, opening outward; below 0 the sides
    are undercut (a dovetail).
    """

    width: Array
    depth: Array
    slope: Array
    radius: Array

    def corners(self) -> Array:
        """Area that the two bottom radii take away: 2 r^2 (cot(t/2) - (pi - t)/2), t their angle."""
        # With the side at angle a outward, t = 90 degrees + a and cot(t/2) = sqrt(1 + s^2) - s.
        lost = np.sqrt(1.0 + self.slope * self.slope) - self.slope
        return np.asarray(2.0 * self.radius * self.radius * (lost - pi / 4.0 + np.arctan(self.slope) / 2.0))

    def area(self) -> Array:
        """W h + h^2 tan - what the bottom radii take, mm^2."""
        return np.asarray(self.depth * (self.width + self.depth * self.slope) - self.corners())

    def volume_in_face(self, mean: Array) -> Array:
        """Volume of a groove in a face around a mean diameter, mm^3 (Pappus; both sides alike)."""
        return np.asarray(pi * mean * self.area())

    def volume_on(self, bottom: Array, *, outward: float, gap: Array) -> Array:
        """Volume of a groove around a bottom diameter, with the gap above it, mm^3 (Pappus).

        Args:
            bottom: diameter of the groove's bottom.
            outward: 1.0 where the groove opens outward (in a piston), -1.0 inward.
            gap: diametral clearance between the grooved part and the one it faces.
        """
        body = self.depth * self.width * (bottom + outward * self.depth)
        sides = self.depth * self.depth * self.slope * (bottom + outward * 4.0 / 3.0 * self.depth)
        corners = self.corners() * (bottom + outward * 2.0 * _CORNER_CENTROID * self.radius)
        strip = self.width * gap / 2.0 * (bottom + outward * (2.0 * self.depth + gap / 2.0))
        return np.asarray(pi * (body + sides - corners + strip))


def corner_volume(spigot: Array, leg: Array) -> Array:
    """Volume of a triangular groove, mm^3: a right corner on a spigot, closed by 45 degrees.

    The triangle has two legs along the spigot and the flange; pi (D + 2 b/3) b^2/2, Pappus.

    >>> round(float(corner_volume(20.0, 3.0)), 2)
    311.02
    """
    return np.asarray(pi * (spigot + 2.0 / 3.0 * leg) * leg * leg / 2.0)


def corner_depth(leg: Array) -> Array:
    """Diameter of the circle that touches all three sides of a triangular groove: b (2 - sqrt 2).

    >>> round(float(corner_depth(10.0)), 3)
    5.858
    """
    return np.asarray(leg * (2.0 - sqrt(2.0)))


def side_shift(clearance: Array, runout: Array) -> Array:
    """How far the axes can lie apart: half the clearance, and half the runout (full reading).

    >>> side_shift(0.1, 0.04)
    0.07
    """
    return clearance / 2.0 + runout / 2.0


def permeation(permeability: Array, middle: Array, squeeze: Array, pressure: Array) -> Array:
    """Gas that gets through a squeezed ring, mm^3/s at 1 bar and 0 degC.

    ``4 K D (1 - S)^2 p``: the section spread to a rectangle of its own area, ``d (1 - S)``
    high, through whose width the gas goes (derived; a handbook's 0.7 for inches and psi is the
    same number, from memory).

    Args:
        permeability: of the rubber for the gas, mm^2/(s MPa).
        middle: diameter of the ring's middle, mm.
        squeeze: share of the section; below 0 taken as 0.
        pressure: that drives the gas, MPa.

    >>> round(float(permeation(1e-5, 25.4, 0.2, 3.0)) * 86.4, 3)
    0.169
    """
    left = 1.0 - np.maximum(squeeze, 0.0)
    return 4.0 * permeability * middle * left * left * pressure


def line_load(squeeze: Array, section: Array, modulus: Array) -> Array:
    """Load that squeezes the ring, N per mm of its length: E d (1.25 S^1.5 + 50 S^6).

    Lindley (1967), free at its sides, coefficients from memory; NaN above a squeeze of 30 %,
    0 without squeeze.

    >>> [round(float(line_load(s, 3.53, 5.52)), 2) for s in (0.1, 0.15, 0.2, 0.25, 0.3)]
    [0.77, 1.43, 2.24, 3.28, 4.71]
    """
    some = np.maximum(squeeze, 0.0)
    cube = some * some * some
    load = modulus * section * (1.25 * some * np.sqrt(some) + 50.0 * cube * cube)
    return np.where(some > LINDLEY_END + 1e-9, np.nan, load)


def contact(load: Array, section: Array, modulus: Array) -> tuple[Array, Array]:
    """Width (mm) and peak stress (MPa) of the contact under a line load.

    Hertz, incompressible cylinder on a rigid plane: b = d sqrt(6 phi/pi), p0 = 4 F'/(pi b),
    phi = F'/(E d).

    >>> width, peak = contact(2.241, 3.53, 5.52)
    >>> round(float(width) / 3.53, 2), round(float(peak), 2)
    (0.47, 1.72)
    """
    phi = load / (modulus * section)
    width = section * np.sqrt(6.0 / pi * phi)
    # 4 F'/(pi b) without the 0/0 of no load.
    peak = 4.0 / pi * modulus * np.sqrt(phi * pi / 6.0)
    return width, peak
