"""One rule at each point of the lead: what fails, what isn't known, and the worst margin.

``judging.judge`` says the same of one part with words; here a point is a sample or a row of
a table, and nothing but numbers comes back.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask, Whole
from fits.features.feature import Rule
from fits.questions.evaluate import Evaluation
from fits.questions.judging import Margins, margins


class Along(NamedTuple):
    """A rule along the lead, each array of shape (points,) or (1,) where all are alike.

    Where ``fails`` it fails, whatever isn't known; where ``unknown`` it isn't covered in
    some corner or state. ``margin`` is the least that is known, inf where none is.
    """

    fails: Mask
    unknown: Mask
    margin: Array
    of: Margins
    columns: Whole


def along(rule: Rule, evaluation: Evaluation) -> Along:
    """A rule that is asked, on an evaluation whose dimensions have a lead."""
    of = margins(evaluation.feature, rule, evaluation)
    columns = np.flatnonzero(of.columns)
    margin = flat(of.margin, columns)
    least = margin.min(axis=1)
    finite: Mask = np.ones(len(margin), dtype=bool)
    # A sum is finite only where every number is, and is quicker than looking at each.
    if not np.isfinite(margin.sum()):
        finite = np.asarray(np.isfinite(margin).all(axis=1))
        least = np.where(np.isfinite(margin), margin, np.inf).min(axis=1)
    fails: Mask = np.asarray(least < -1e-9)
    if of.above and (of.limit == 0.0).any():
        # A limit of 0 to be above is not held by 0 itself.
        failing = flat(np.broadcast_to(of.failing, of.margin.shape), columns)
        fails = np.asarray((failing & np.isfinite(margin)).any(axis=1))
    blocked = np.atleast_2d(of.blocked)[:, columns].any(axis=1)
    return Along(fails, (~finite | blocked) & ~fails, least, of, columns)


def flat(array: Array, columns: Whole) -> Array:
    """An array of (*lead, corners, columns) as (points, corners * some of its columns)."""
    if array.ndim < 3:
        array = array.reshape(1, -1, array.shape[-1])
    some = array if len(columns) == array.shape[-1] else array[..., columns]
    return some.reshape(len(array), -1)
