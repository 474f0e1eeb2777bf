"""Which goes with which: as many pairs as can be, the worst of them as good as can be, then the sum."""

from __future__ import annotations

import numpy as np

from fits.arrays import Array, Mask, distinct


def best(score: Array, allowed: Mask) -> list[tuple[int, int]]:
    """Pairs of rows and columns, by row.

    Args:
        score: how good each pair is, shape (rows, columns); finite where allowed.
        allowed: which pairs may be made.

    Returns:
        As many pairs as can be made; among those the ones whose least score is greatest
        (bottleneck assignment); among those the ones with the greatest sum.

    >>> best(np.array([[5.0, 4.0], [4.0, 1.0]]), np.ones((2, 2), dtype=bool))
    [(0, 1), (1, 0)]
    """
    if not allowed.any():
        return []
    count = _most(allowed)
    steps = distinct(score[allowed])
    low, high = 0, len(steps) - 1
    while low < high:
        middle = (low + high + 1) // 2
        if _most(allowed & (score >= steps[middle])) == count:
            low = middle
        else:
            high = middle - 1
    return _greatest_sum(score, allowed & (score >= steps[low]))


def _most(allowed: Mask) -> int:
    """How many pairs can be made at once."""
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_bipartite_matching

    found = maximum_bipartite_matching(csr_array(allowed.astype(np.int8)), perm_type="column")
    return int((found >= 0).sum())


def _greatest_sum(score: Array, allowed: Mask) -> list[tuple[int, int]]:
    """The pairs of a largest matching with the greatest sum."""
    from scipy.optimize import linear_sum_assignment

    least, greatest = float(score[allowed].min()), float(score[allowed].max())
    gain = score - least
    # One pair more is worth more than any sum of scores.
    one_more = (greatest - least + 1.0) * (min(score.shape) + 1)
    rows, columns = linear_sum_assignment(np.where(allowed, gain + one_more, 0.0), maximize=True)
    return [(int(i), int(j)) for i, j in zip(rows, columns, strict=True) if allowed[i, j]]
