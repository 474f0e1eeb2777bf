"""Rotating rings, plane stress: growth and hoop stress.

Radii in mm, density in kg/m^3, speed in rad/s, moduli in MPa.
Source: Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, rotating discs.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from fits.arrays import Array

# kg/m^3 mm^2/s^2 -> MPa: 1 kg/m^3 is 1e-12 t/mm^3.
_TO_MPA = 1e-12


class Spin(NamedTuple):
    """One ring's Poisson ratio and density at a speed.

    >>> disc = Spin(0.3, 7800.0, np.array(100.0))
    >>> round(float(disc.hoop_at_bore(np.array(50.0), np.array(250.0))), 4)
    4.056
    """

    nu: float
    density: float
    speed: Array

    @property
    def _load(self) -> Array:
        # A part at rest needs no density.
        load = self.density * _TO_MPA * self.speed * self.speed
        return np.where(self.speed == 0.0, 0.0, load)

    def bore_growth(self, inside: Array, outside: Array, e: Array) -> Array:
        """Radial growth of a ring's bore: rho w^2 c/(4E) [(3+nu) b^2 + (1-nu) c^2], mm."""
        return inside / e * self.hoop_at_bore(inside, outside)

    def outside_growth(self, inside: Array, outside: Array, e: Array) -> Array:
        """Radial growth of its outside: rho w^2 c/(4E) [(1-nu) c^2 + (3+nu) a^2], mm.

        A bore of 0 gives the solid shaft, rho w^2 c^3 (1-nu)/(4E).
        """
        return outside / e * self.hoop_outside(inside, outside)

    def hoop_at_bore(self, inside: Array, outside: Array) -> Array:
        """Hoop stress at the bore: rho w^2/4 [(3+nu) r_out^2 + (1-nu) r_in^2], MPa."""
        squares = (3.0 + self.nu) * outside * outside + (1.0 - self.nu) * inside * inside
        return self._load / 4.0 * squares

    def hoop_outside(self, inside: Array, outside: Array) -> Array:
        """Hoop stress outside: rho w^2/4 [(1-nu) r_out^2 + (3+nu) r_in^2], MPa."""
        squares = (1.0 - self.nu) * outside * outside + (3.0 + self.nu) * inside * inside
        return self._load / 4.0 * squares

    def centre_of_solid(self, outside: Array) -> Array:
        """Radial and hoop stress at the centre of a solid shaft: (3+nu)/8 rho w^2 c^2, MPa."""
        return self._load * (3.0 + self.nu) / 8.0 * outside * outside
