"""Heating and cooling of a part that has one temperature throughout (lumped).

Lengths in mm, densities in kg/m^3, specific heats in J/(kg K), films in W/(m^2 K),
conductivities in W/(m K), times in s. Sources: Incropera et al., Fundamentals of Heat and
Mass Transfer, ch. 5; Holman, Heat Transfer, ch. 4; checked against six printed examples.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from fits.arrays import Array

# Above this Biot number a part is colder inside than at its face, and one temperature
# does not describe it (Incropera et al., sect. 5.2).
LARGEST_BIOT = 0.1
MM = 1e-3
_STEPS = 48
_SHARES = 33


def time_constant(depth: Array, density: float, specific_heat: float, film: float) -> Array:
    """Time in which the difference to the fluid falls to 1/e: rho c (V/A)/h.

    ``depth`` is volume over wetted area, mm.

    >>> round(float(time_constant(np.array(0.9), 8000.0, 390.0, 1000.0)), 1)
    2.8
    """
    return np.asarray(density * specific_heat * depth * MM / film)


def time_to(start: Array, end: Array, fluid: Array, constant: Array) -> Array:
    """Time from one temperature to another in a fluid, s; NaN where it is never reached.

    >>> round(float(time_to(np.array(80.0), np.array(50.0), np.array(20.0), np.array(10.0))), 2)
    6.93
    """
    share = (start - fluid) / (end - fluid)
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(share >= 1.0, constant * np.log(share), np.nan)


def biot(depth: Array, film: Array, conductivity: float) -> Array:
    """Biot number h (V/A)/k.

    >>> round(float(biot(5.0, 10.0, 167.0)), 6)
    0.000299
    """
    return np.asarray(film * depth * MM / conductivity)


def wall_depth(inside: Array, outside: Array) -> Array:
    """Volume over area of a ring wetted inside and outside; of a bar where ``inside`` is 0. Radii.

    >>> float(wall_depth(0.0, 10.0)), float(wall_depth(6.0, 10.0))
    (5.0, 2.0)
    """
    return np.where(inside > 0.0, (outside - inside) / 2.0, outside / 2.0)


def last_open(gap: Callable[[Array], Array], latest: Array) -> Array:
    """The last time at which a gap that only closes is still open, s.

    Args:
        gap: gap at a time.
        latest: a time at which it is surely closed.

    Returns:
        0 where it is closed from the start, from the side that is still open.

    >>> import numpy as np
    >>> float(last_open(lambda time: 0.03 - 0.001 * time, np.array([100.0]))[0].round(6))
    30.0
    """
    low, high = np.zeros_like(latest), latest
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        still = gap(middle) > 0.0
        low, high = np.where(still, middle, low), np.where(still, high, middle)
    return low


def closes_inside(
    gap: Callable[[Array], Array], start: Array, heat: Array, face: Array, conductivity: float
) -> tuple[Array, Array]:
    """Time until two concentric parts grip when the air between them carries the heat.

    The film is conductivity over the radial gap and grows as the gap closes:
    dx/dt = -x k A/(C g/2), x the difference of temperatures.

    Args:
        gap: diametral gap (mm) at a difference of temperatures (K), falling with it.
        start: the difference at the start, K.
        heat: C_1 C_2/(C_1 + C_2) of both parts' heat capacities per length, J/(K m).
        face: area of the interface per length, m.
        conductivity: of the air, W/(m K).

    Returns:
        Seconds, and the difference at which they grip; NaN where they never do.

    >>> import numpy as np
    >>> seconds, left = closes_inside(
    ...     lambda x: 0.001 * x - 0.02, np.array([100.0]), np.array([150.0]), np.array([0.05]), 0.026
    ... )
    >>> float(left[0].round(3))
    20.0
    """
    never = gap(np.zeros_like(start)) > 0.0
    low, high = np.zeros_like(start), start
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        still = gap(middle) > 0.0
        high, low = np.where(still, middle, high), np.where(still, low, middle)
    start = start + 0.0 * high
    share = np.linspace(0.0, 1.0, _SHARES).reshape(-1, *[1] * np.ndim(start))
    with np.errstate(invalid="ignore", divide="ignore"):
        # Even steps of log x: dt = C g/(2 k A) d(log x).
        log = np.log(high) + share * (np.log(start) - np.log(high))
        each = np.array([gap(one) for one in np.exp(log)])
        seconds = np.trapezoid(each, log, axis=0) * MM / 2.0 * heat / (conductivity * face)
    return np.where(never, np.nan, seconds), np.where(never, np.nan, high)
