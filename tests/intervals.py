"""Bounds of a formula over a whole box of sizes, by interval arithmetic with outward rounding.

Every operation of ``mpmath.iv`` encloses the true result, so a formula evaluated on intervals
encloses every value it takes anywhere in the box, at corners and inside. The box is split where
the bound is worst until the bound and a value that is really taken are close.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Mapping
from itertools import count
from typing import Any, NamedTuple

from mpmath import iv

iv.prec = 53
Box = Mapping[str, tuple[float, float]]
Formula = Callable[[Mapping[str, Any]], Any]


class Enclosed(NamedTuple):
    """Least and greatest of a formula in a box: proved bounds, and values that are really taken."""

    low: float
    least: float
    greatest: float
    high: float


def enclosed(formula: Formula, box: Box, *, share: float = 0.01, splits: int = 5_000) -> Enclosed:
    """The range of a formula over a box: no value anywhere in it lies outside ``low`` to ``high``.

    ``share`` is how far, of the whole range, a bound may lie from a value that is really taken.

    Raises:
        AssertionError: not that tight after some splits.
    """
    low, least = _end(formula, box, 1.0, share, splits)
    high, greatest = _end(formula, box, -1.0, share, splits)
    return Enclosed(low, least, -greatest, -high)


def _end(formula: Formula, box: Box, sign: float, share: float, splits: int) -> tuple[float, float]:
    """A proved lower bound of sign x formula, and the least that was found."""

    def at(sizes: Mapping[str, Any]) -> Any:
        return sign * formula({name: iv.mpf(size) for name, size in sizes.items()})

    middle = {name: (low + high) / 2.0 for name, (low, high) in box.items()}
    # By name, what each end does from the middle: where to look for the least, and what to split.
    along = {name: [float(at({**middle, name: end}).mid) for end in ends] for name, ends in box.items()}
    down = {name: int(one[1] < one[0]) for name, one in along.items()}
    effect = {name: float(at({**middle, name: list(ends)}).delta.b) for name, ends in box.items()}
    # From the least corner to the greatest: the range is no narrower.
    least, greatest = (at({name: ends[down[name] ^ other] for name, ends in box.items()}) for other in (0, 1))
    room = share * (float(greatest.a) - float(least.b))
    taken = float(least.b)
    order = count()
    heap = [(float(at({name: list(ends) for name, ends in box.items()}).a), next(order), dict(box))]
    for _ in range(splits):
        low, _, one = heap[0]
        if taken - low <= room:
            return low, taken
        heapq.heappop(heap)
        name = max(one, key=lambda name: effect[name] * _part(one[name], box[name]))
        start, end = one[name]
        half = (start + end) / 2.0
        for ends in ((start, half), (half, end)):
            part = {**one, name: ends}
            taken = min(taken, float(at({n: e[down[n]] for n, e in part.items()}).b))
            bound = float(at({n: list(e) for n, e in part.items()}).a)
            if bound <= taken:
                heapq.heappush(heap, (max(bound, low), next(order), part))
    raise AssertionError(f"not tight after {splits} splits: {heap[0][0]} to {taken}")


def _part(ends: tuple[float, float], of: tuple[float, float]) -> float:
    """How much is left of a side of the box."""
    return (ends[1] - ends[0]) / (of[1] - of[0]) if of[1] > of[0] else 0.0
