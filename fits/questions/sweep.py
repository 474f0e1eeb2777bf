"""Along one number: where does something hold, with edges refined.

A question gives a function of an array of points; this finds the intervals in which it
is 0 or above. It knows neither features nor rules.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask

ZOOM = 33


class Interval(NamedTuple):
    """A stretch in which the function holds; whether each end is that of the search."""

    low: float
    high: float
    low_open: bool
    high_open: bool


def grid(low: float, high: float, points: int) -> Array:
    """Points from low to high, geometric where the range spans decades."""
    if low > 0.0 and high / low > 20.0:
        return np.geomspace(low, high, points)
    return np.linspace(low, high, points)


def intervals(margin: Callable[[Array], Array], points: Array, *, tolerance: float) -> list[Interval]:
    """The intervals of ``points`` in which ``margin`` holds, edges to ``tolerance``.

    Args:
        margin: worst margin at each point; below 0 or NaN doesn't hold.
        points: rising points that are fine enough to show every interval.
        tolerance: how far an edge may lie inside the true one; the side that holds is
            reported.

    >>> found = intervals(lambda x: 1.0 - x * x, np.linspace(-3.0, 3.0, 13), tolerance=1e-6)
    >>> [(round(one.low, 4), round(one.high, 4)) for one in found]
    [(-1.0, 1.0)]
    """
    holds = holding(margin(points))
    found = []
    index = 0
    while index < len(points):
        if not holds[index]:
            index += 1
            continue
        first = index
        while index + 1 < len(points) and holds[index + 1]:
            index += 1
        last = index
        low, high = float(points[first]), float(points[last])
        if first > 0:
            low = edge(margin, low, float(points[first - 1]), tolerance)
        if last + 1 < len(points):
            high = edge(margin, high, float(points[last + 1]), tolerance)
        found.append(Interval(low, high, first == 0, last + 1 == len(points)))
        index += 1
    return found


def edge(margin: Callable[[Array], Array], inside: float, outside: float, tolerance: float) -> float:
    """The last point, from one that holds towards one that doesn't, that holds."""
    while abs(outside - inside) > tolerance:
        points = np.linspace(inside, outside, ZOOM)
        holds = holding(margin(points))
        first_not = int(np.argmin(holds)) if not holds.all() else ZOOM - 1
        if first_not == 0:
            return inside
        before = inside
        inside, outside = float(points[first_not - 1]), float(points[first_not])
        if inside == before and abs(outside - inside) <= np.spacing(abs(outside)):
            break
    return inside


def holding(margins: Array) -> Mask:
    """Which margins hold: not below 0 (but for rounding) and finite."""
    return np.isfinite(margins) & (margins >= -1e-9)
