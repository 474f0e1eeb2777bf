"""What metal is left to cut: finished sizes inside the drawing at which function holds too."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array, Index, Mask
from fits.questions.answer import FAIL
from fits.questions.boxes import Corners, any_of
from fits.questions.judgement import Cut
from fits.sizes import reading as read
from fits.sizes.reading import Guarded

if TYPE_CHECKING:
    from fits.questions.judged_group import Group

POINTS = 33


def cuts_of(group: Group, guards: list[list[Guarded]], function: list[str]) -> list[list[Cut | None]]:
    """For each part and dimension of a group, what to cut, or None."""
    found: list[list[Cut | None]] = [[None] * len(group.keys) for _ in guards]
    for at in range(len(group.keys)):
        zones = {
            row: zone
            for row, guarded in enumerate(guards)
            if (zone := _zone(group, row, at, guarded, function[row])) is not None
        }
        if zones:
            rows = np.array(list(zones))
            held = _held(group, rows, at, np.array(list(zones.values())), guards)
            for row, cut in zip(zones, held, strict=True):
                found[row][at] = cut
    return found


def _zone(
    group: Group, row: int, at: int, guarded: list[Guarded], function: str
) -> tuple[float, float] | None:
    """Finished sizes inside the drawing that cutting can reach, or None where none is asked."""
    size = group.sizes[row][at]
    of = size.dimension
    outside = any(one.verdict == read.OUTSIDE for one in guarded)
    asked = guarded[at].verdict in (read.OUTSIDE, read.UNDECIDED) or (not outside and function == FAIL)
    if not asked or not of.side:
        return None
    # The finished size is read again, with the same doubt and form.
    band = size.uncertainty + size.charged
    low, high = of.limits.lower + band, of.limits.upper - band
    if of.side == "hole":
        low = max(low, size.greatest - size.charged)
    else:
        high = min(high, size.least + size.charged)
    # No one cuts to a single size.
    return (low, high) if low < high else None


def _held(group: Group, rows: Index, at: int, zones: Array, guards: list[list[Guarded]]) -> list[Cut | None]:
    """The part of each zone at which no rule fails, its ends proved at all corners."""
    points = zones[:, :1] + np.linspace(0.0, 1.0, POINTS) * (zones[:, 1:] - zones[:, :1])
    holds = _holds(group, rows, at, points, guards, group.active)
    some = np.flatnonzero(holds.any(axis=1))
    if some.size:
        ends = np.stack((holds.argmax(axis=1), POINTS - 1 - holds[:, ::-1].argmax(axis=1)), axis=1)[some]
        at_ends = np.take_along_axis(points[some], ends, axis=1)
        proved = _holds(group, rows[some], at, at_ends, guards, None).all(axis=1)
        # An end that breaks at another corner: these parts are held at every corner and point.
        wrong = some[~proved]
        if wrong.size:
            holds[wrong] = _holds(group, rows[wrong], at, points[wrong], guards, None)
    return [_cut(group, int(row), at, points[index], holds[index]) for index, row in enumerate(rows)]


def _holds(
    group: Group, rows: Index, at: int, points: Array, guards: list[list[Guarded]], only: Corners | None
) -> Mask:
    """Whether no rule fails with a dimension finished to each point, shape (rows, points)."""
    many = np.repeat(rows, points.shape[1])
    low, high = ({**sizes} for sizes in group.box(many))
    for other, of in enumerate(group.dimensions):
        # Other sizes that are outside will be cut to the drawing as well.
        cut = np.array([guards[row][other].verdict == read.OUTSIDE for row in many])
        if other != at:
            low[of.key] = np.where(cut, of.limits.lower, low[of.key])
            high[of.key] = np.where(cut, of.limits.upper, high[of.key])
    key = group.keys[at]
    band = group.doubt[key][many] + np.array([group.sizes[row][at].charged for row in many])
    low[key], high[key] = points.reshape(-1) - band, points.reshape(-1) + band
    fails = any_of([one.fails for one in group.boxes.worst(low, high, only=only)], len(many))
    return np.asarray(~fails.reshape(points.shape))


def _cut(group: Group, row: int, at: int, points: Array, holds: Mask) -> Cut | None:
    if not holds.any():
        return None
    size = group.sizes[row][at]
    # Where several readings differ, what comes off at the tightest place.
    first = int(holds.argmax())
    last = first + int(np.argmin(np.append(holds[first:], False))) - 1
    low, high = float(points[first]), float(points[last])
    if size.dimension.side == "hole":
        now = size.least + size.charged
        return Cut(low, high, max(low - now, 0.0), high - now)
    now = size.greatest - size.charged
    return Cut(low, high, max(now - high, 0.0), now - low)
