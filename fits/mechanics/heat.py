"""Temperatures at which sizes meet: joining and release, from tables of thermal strain.

Temperatures in degC, strains counted from 20 degC.
"""

from __future__ import annotations

import numpy as np

from fits.arrays import Array


def temperature_at(strain: Array, temperatures: Array, strains: Array) -> Array:
    """The temperature at which a metal has a thermal strain, degC; NaN outside its table.

    Args:
        strain: wanted thermal strain.
        temperatures: rising temperatures of the table.
        strains: strain at each, rising.

    >>> float(temperature_at(1.2e-3, np.array([20.0, 120.0]), np.array([0.0, 1.2e-3])))
    120.0
    """
    return np.interp(strain, strains, temperatures, left=np.nan, right=np.nan)


def first_reach(wanted: Array, temperatures: Array, opening: Array) -> Array:
    """The first temperature, going away from 20 degC, at which a fit has opened by ``wanted``.

    Args:
        wanted: opening per diameter needed, 0 or more.
        temperatures: starting at 20 degC and going one way.
        opening: opening per diameter at each, 0 at the first.

    Returns:
        degC; NaN where the table ends before.

    >>> float(first_reach(np.array(5e-4), np.array([20.0, 120.0]), np.array([0.0, 1e-3])))
    70.0
    """
    reached = np.maximum.accumulate(opening)
    keep = np.concatenate(([True], np.diff(reached) > 0.0))
    return np.interp(wanted, reached[keep], temperatures[keep], right=np.nan)
