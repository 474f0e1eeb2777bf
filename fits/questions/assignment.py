"""Which goes with which: as many pairs as can be, the worst of them as good as can be, then the sum."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fits.arrays import Array, Mask, Whole, distinct
from fits.questions.telling import tell


def best(score: Array, allowed: Mask, avoid: Sequence[Whole] = ()) -> list[tuple[int, int]]:
    """Pairs of rows and columns, by row.

    Args:
        score: how good each pair is, shape (rows, columns); finite where allowed.
        allowed: which pairs may be made.
        avoid: what is better avoided in each pair, whole numbers from 0 (nothing), the gravest first.

    Returns:
        As many pairs as can be made; among those the ones with the least sum of what is
        gravest, then of what comes next; among those the ones whose least score is greatest
        (bottleneck assignment); among those the ones with the greatest sum.

    >>> best(np.array([[5.0, 4.0], [4.0, 1.0]]), np.ones((2, 2), dtype=bool))
    [(0, 1), (1, 0)]
    """
    if not allowed.any():
        return []
    worth = _worth(allowed, avoid)
    most = _most(allowed, worth)
    steps = distinct(score[allowed])
    low, high = 0, len(steps) - 1
    while low < high:
        tell()
        middle = (low + high + 1) // 2
        if _most(allowed & (score >= steps[middle]), worth) == most:
            low = middle
        else:
            high = middle - 1
    return _greatest_sum(score, allowed & (score >= steps[low]), worth)


def _worth(allowed: Mask, avoid: Sequence[Whole]) -> Array | None:
    """What a pair counts for, a whole number: one pair more outweighs all there is to avoid, and
    one of what is graver all that is less grave; None where all count alike.
    """
    cost, unit = np.zeros(allowed.shape), 1.0
    for one in reversed(avoid):
        found = np.where(allowed, one, 0)
        if np.ptp(one[allowed]):
            cost += unit * found
            unit *= float(found.max()) * min(allowed.shape) + 1.0
    return np.where(allowed, unit - cost, 0.0) if unit > 1.0 else None


def _most(allowed: Mask, worth: Array | None) -> float:
    """How many pairs can be made at once, or the most that they can be worth together."""
    if worth is not None:
        from scipy.optimize import linear_sum_assignment

        kept = np.where(allowed, worth, 0.0)
        return float(kept[linear_sum_assignment(kept, maximize=True)].sum())
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_bipartite_matching

    found = maximum_bipartite_matching(csr_array(allowed.astype(np.int8)), perm_type="column")
    return float((found >= 0).sum())


def _greatest_sum(score: Array, allowed: Mask, worth: Array | None) -> list[tuple[int, int]]:
    """The pairs of a largest matching with the greatest sum."""
    from scipy.optimize import linear_sum_assignment

    least, greatest = float(score[allowed].min()), float(score[allowed].max())
    # All scores together are less than 1: no sum of them is worth a pair, or something to avoid.
    gain = (score - least) / ((greatest - least or 1.0) * (min(score.shape) + 1))
    total = gain + (1.0 if worth is None else worth)
    rows, columns = linear_sum_assignment(np.where(allowed, total, 0.0), maximize=True)
    return [(int(i), int(j)) for i, j in zip(rows, columns, strict=True) if allowed[i, j]]
