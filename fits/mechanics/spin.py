"""Rotating rings, plane stress: growth and hoop stress.

Radii in mm, density in kg/m^3, speed in rad/s, moduli in MPa.
Source: Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, rotating discs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

# kg/m^3 mm^2/s^2 -> MPa: 1 kg/m^3 is 1e-12 t/mm^3.
_TO_MPA = 1e-12


def _load(density: float, speed: Array) -> Array:
    return np.asarray(density * _TO_MPA * speed * speed)


def hub_growth(*, c: Array, b: Array, e: Array, nu: float, density: float, speed: Array) -> Array:
    """Radial growth of a hub's bore: rho w^2 c/(4E) [(3+nu) b^2 + (1-nu) c^2], mm."""
    return _load(density, speed) * c / (4.0 * e) * ((3.0 + nu) * b * b + (1.0 - nu) * c * c)


def inner_growth(*, a: Array, c: Array, e: Array, nu: float, density: float, speed: Array) -> Array:
    """Radial growth of an inner part's outside: rho w^2 c/(4E) [(1-nu) c^2 + (3+nu) a^2], mm.

    a = 0 gives the solid shaft, rho w^2 c^3 (1-nu)/(4E).
    """
    return _load(density, speed) * c / (4.0 * e) * ((1.0 - nu) * c * c + (3.0 + nu) * a * a)


def hoop_at_bore(*, inside: Array, outside: Array, nu: float, density: float, speed: Array) -> Array:
    """Hoop stress at the bore of a ring: rho w^2/4 [(3+nu) r_out^2 + (1-nu) r_in^2], MPa."""
    squares = (3.0 + nu) * outside * outside + (1.0 - nu) * inside * inside
    return _load(density, speed) / 4.0 * squares


def hoop_outside(*, inside: Array, outside: Array, nu: float, density: float, speed: Array) -> Array:
    """Hoop stress at the outside of a ring: rho w^2/4 [(1-nu) r_out^2 + (3+nu) r_in^2], MPa."""
    squares = (1.0 - nu) * outside * outside + (3.0 + nu) * inside * inside
    return _load(density, speed) / 4.0 * squares


def centre_of_solid(*, c: Array, nu: float, density: float, speed: Array) -> Array:
    """Radial and hoop stress at the centre of a solid shaft: (3+nu)/8 rho w^2 c^2, MPa."""
    return _load(density, speed) * (3.0 + nu) / 8.0 * c * c
