"""Rings that yield: contact pressure against interference beyond the elastic limit.

Plane stress, Tresca with its flow rule, no hardening, as Lundberg (1944) and Kollmann treat
press fits (both from memory); derived, and checked against integration of the ring equations.
mm, MPa; interference and displacements radial.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask
from fits.mechanics.cylinder import ring_area

_NEWTON = 6


class Grip(NamedTuple):
    """Contact pressure (MPa), radius to which the ring has yielded (mm), what can't be answered."""

    pressure: Array
    radius: Array
    beyond: Mask


def liner_limit(a: Array, c: Array, y: Array) -> Array:
    """Contact pressure at which a liner a..c begins to yield at its bore: Y (1 - a^2/c^2)/2.

    >>> float(liner_limit(6.0, 8.0, 320.0))
    70.0
    """
    return np.asarray(y * ring_area(a, c) / (c * c) / 2.0)


def liner_grip(interference: Array, *, a: Array, c: Array, e: Array, nu: float, y: Array, hub: Array) -> Grip:
    """A yielding liner in an elastic hub.

    p = Y [1 - (a/2)(1/rho + rho/c^2)] and -u(c) = (Y c/E)[(1 - nu)(1 - a/(2 rho)) +
    (1 + nu) a rho/(2 c^2)]; with the hub's u(c) = H p this is a quadratic in rho.

    Args:
        interference: radial.
        a: bore radius, above 0.
        c: radius of the interface.
        e: modulus.
        nu: Poisson's ratio.
        y: yield.
        hub: H, radial growth of the hub's bore per pressure, mm/MPa.

    Returns:
        Pressure and plastic radius where it yields; a once it has yielded through, where no
        more interference raises the pressure. NaN where it stays elastic.

    >>> import numpy as np
    >>> one = np.ones(1)
    >>> sizes = {"a": 6.0 * one, "c": 8.0 * one, "hub": 2e-4 * one}
    >>> found = liner_grip(0.0245 * one, **sizes, e=193e3 * one, nu=0.29, y=320.0 * one)
    >>> bool(70.0 < found.pressure[0] < 320.0 * (1.0 - 6.0 / 8.0)), bool(6.0 < found.radius[0] < 8.0)
    (True, True)
    """
    stiff = y * c / e
    at_rest = stiff * (1.0 - nu) + hub * y
    falling = -(stiff * (1.0 - nu) + hub * y) * a / 2.0
    rising = (stiff * (1.0 + nu) - hub * y) * a / (2.0 * c * c)
    rest = interference - at_rest
    root = np.sqrt(np.maximum(rest * rest - 4.0 * rising * falling, 0.0))
    # The root that stays accurate: rest is negative while the liner is partly elastic.
    with np.errstate(divide="ignore", invalid="ignore"):
        radius = np.where(rest <= 0.0, 2.0 * falling / (rest - root), (rest + root) / (2.0 * rising))
    through = at_rest + falling / c + rising * c
    radius = np.where(interference >= through, c, radius)
    pressure = y * (1.0 - a / 2.0 * (1.0 / radius + radius / (c * c)))
    yields = radius > a
    return Grip(np.where(yields, pressure, np.nan), np.where(yields, radius, np.nan), np.zeros_like(yields))


def hub_limit(c: Array, b: Array, k: Array) -> Array:
    """Contact pressure at which a hub c..b begins to yield at its bore: k (1 - c^2/b^2)/2.

    >>> float(hub_limit(8.0, 16.0, 240.0))
    90.0
    """
    return np.asarray(k * ring_area(c, b) / (b * b) / 2.0)


def hub_grip(interference: Array, *, c: Array, b: Array, e: Array, nu: float, k: Array, inner: Array) -> Grip:
    """A yielding hub on an elastic inner part.

    p = k [ln zeta + (1 - (zeta c/b)^2)/2], interference = k c zeta^2/E + p (I - c (1 - nu)/E),
    zeta the plastic radius over c, solved for ln zeta by Newton's rule.

    Args:
        interference: radial.
        c: radius of the interface.
        b: outside radius.
        e: modulus.
        nu: Poisson's ratio.
        k: yield.
        inner: I, radial closing of the inner part's outside per pressure, mm/MPa.

    Returns:
        Pressure and plastic radius; ``beyond`` where the hub has yielded through or p would
        pass k, the most that a thick hub carries.

    >>> import numpy as np
    >>> one = np.ones(1)
    >>> sizes = {"c": 8.0 * one, "b": 16.0 * one, "inner": 5e-5 * one}
    >>> found = hub_grip(0.06 * one, **sizes, e=69e3 * one, nu=0.33, k=240.0 * one)
    >>> bool(90.0 < found.pressure[0] < 240.0), bool(8.0 < found.radius[0] < 16.0)
    (True, True)
    """
    ratio = (c / b) * (c / b)
    more = inner - c * (1.0 - nu) / e
    last = np.log(b / c)

    def pressure_at(log: Array) -> Array:
        return np.asarray(k * (log + (1.0 - ratio * np.exp(2.0 * log)) / 2.0))

    # Exact for equal constants and a solid inner part; Newton's rule mends the rest.
    first = k * c / e + pressure_at(np.zeros_like(last)) * more
    log = np.clip(np.log(np.maximum(interference / first, 1.0)) / 2.0, 0.0, last)
    for _ in range(_NEWTON):
        square = np.exp(2.0 * log)
        off = k * c * square / e + pressure_at(log) * more - interference
        slope = 2.0 * k * c * square / e + k * (1.0 - ratio * square) * more
        log = np.clip(log - off / slope, 0.0, last)
    pressure = pressure_at(log)
    reached = k * c * np.exp(2.0 * log) / e + pressure * more
    beyond = (interference > reached * (1.0 + 1e-9)) | (pressure > k)
    return Grip(pressure, c * np.exp(log), beyond)
