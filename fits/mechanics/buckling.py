"""Thin tubes under outside pressure."""

from __future__ import annotations

import numpy as np

from fits.arrays import Array


def free_tube(inside: Array, outside: Array, e: Array, nu: float) -> Array:
    """Outside pressure at which a long, round, unsupported tube collapses, MPa.

    E t^3/[4 (1 - nu^2) R^3], t the wall, R the mean radius (Moser, Buried Pipe Design,
    p. 111); shorter tubes stand more.

    Args:
        inside: bore radius, mm.
        outside: outside radius, mm.
        e: modulus, MPa.
        nu: Poisson's ratio.

    >>> round(float(free_tube(18.985, 19.965, 193000.0, 0.29)), 1)
    6.7
    """
    share = 2.0 * (outside - inside) / (outside + inside)
    return np.asarray(e * share * share * share / (4.0 * (1.0 - nu * nu)))


def encased_tube(inside: Array, outside: Array, e: Array, nu: float) -> Array:
    """Fluid pressure behind a long, round tube, tight in a stiff hole, at which it buckles, MPa.

    E/(1 - nu^2) (t/D)^2.2, t the wall, D the outside diameter (Glock 1977, from memory).
    Any gap, and a hole that gives way, bring it down to :func:`free_tube`. It never speaks of
    the contact pressure of a press fit alone, which vanishes where the wall lifts.

    Args:
        inside: bore radius, mm.
        outside: outside radius, mm.
        e: modulus, MPa.
        nu: Poisson's ratio.

    >>> round(float(encased_tube(0.24, 0.25, 28000.0, 0.29)), 2)
    5.59
    """
    share = (outside - inside) / (2.0 * outside)
    return np.asarray(e / (1.0 - nu * nu) * share**2.2)
