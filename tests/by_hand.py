"""Rings worked out in plain floats: Lamé's constants, von Mises, spinning rings.

Nothing of the program is used here but a metal's numbers.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import NamedTuple

from fits.materials.metals import Metal


class Ring(NamedTuple):
    """Lamé's A and B of a ring, by its radii and pressures."""

    inside: float
    outside: float
    p_in: float
    p_out: float

    def hoop(self, r: float) -> float:
        i2, o2 = self.inside**2, self.outside**2
        constant = (self.p_in * i2 - self.p_out * o2) / (o2 - i2)
        return constant + (self.p_in - self.p_out) * i2 * o2 / (o2 - i2) / r**2 if i2 else -self.p_out

    def area(self) -> float:
        return pi * (self.outside**2 - self.inside**2)

    def shear(self, torque: float, r: float) -> float:
        return torque * r / (pi / 2.0 * (self.outside**4 - self.inside**4))


def mises(radial: float, hoop: float, axial: float, shear: float = 0.0) -> float:
    """Von Mises of three principal stresses and a shear between hoop and axial."""
    squares = (radial - hoop) ** 2 + (hoop - axial) ** 2 + (axial - radial) ** 2
    return sqrt(squares / 2.0 + 3.0 * shear**2)


def worst(radial: float, hoop: float, axial: float, pull: float, shear: float) -> float:
    """The load may pull or push."""
    return max(mises(radial, hoop, axial + sign * pull, shear) for sign in (1.0, -1.0))


def spun(metal: Metal, inside: float, outside: float, speed: float) -> tuple[float, float]:
    """Hoop of a spinning ring at its bore and outside (Ugural & Fenster, ch. 8), MPa; radii in mm."""
    nu, force = metal.poisson, (metal.density or 0.0) * 1e-12 * speed**2 / 4.0
    at_bore = force * ((3.0 + nu) * outside**2 + (1.0 - nu) * inside**2)
    return at_bore, force * ((1.0 - nu) * outside**2 + (3.0 + nu) * inside**2)
