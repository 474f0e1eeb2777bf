"""Axial load and torque through a ring section, together with its pressures."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

import numpy as np

from fits.arrays import Array
from fits.mechanics.cylinder import ring_area, von_mises_square


class Load(NamedTuple):
    """Force along the axis (N), pushed or pulled, and torque (N*mm)."""

    along: Array
    torque: Array


class Section(NamedTuple):
    """A ring of two radii, mm; ``inside`` 0 is a bar."""

    inside: Array
    outside: Array

    @property
    def area(self) -> Array:
        """mm^2."""
        return np.asarray(pi * ring_area(self.inside, self.outside))

    def shear(self, torque: Array, radius: Array) -> Array:
        """Shear stress of a torque at a radius, T r/J, MPa (Shigley, 9th ed., eq. 3-37)."""
        polar = self.area / 2.0 * (self.outside * self.outside + self.inside * self.inside)
        return np.asarray(torque * radius / polar)

    def mises(self, radial: Array, hoop: Array, axial: Array, load: Load, radius: Array) -> Array:
        """Comparison stress with a load added, whichever way it pulls, MPa.

        >>> one = Section(np.array(0.0), np.array(10.0))
        >>> zero = np.array(0.0)
        >>> load = Load(np.array(1000.0 * pi), np.array(500.0 * pi * 100.0))
        >>> round(float(one.mises(zero, zero, zero, load, np.array(10.0))), 1)
        173.5
        """
        square = von_mises_square(radial, hoop, axial)
        if np.any(load.along):
            # The worse of axial + more and axial - more.
            more = load.along / self.area
            square = square + more * (more + np.abs(2.0 * axial - radial - hoop))
        if np.any(load.torque):
            shear = self.shear(load.torque, radius)
            square = square + 3.0 * shear * shear
        return np.asarray(np.sqrt(square))
