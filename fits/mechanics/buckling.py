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
