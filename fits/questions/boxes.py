"""Every rule for many parts at once, each part a box of sizes: least to greatest of each.

The sizes that were read stand along the lead, the other dimensions at their corners.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Index, Mask
from fits.features.feature import Rule, Value
from fits.features.part import Part
from fits.questions.check import refusals
from fits.questions.evaluate import blocks, corners_of, count_of, evaluate, relevant
from fits.questions.judging import margins
from fits.questions.ranges import column_name
from fits.sizes.limits import Limits

Sizes = Mapping[str, Array]
# By feature, which of its corners.
Corners = Mapping[str, Collection[int]]
# How far sizes are moved to see how a margin goes with them, where the drawing has no width.
STEP = 1e-4


class Asked(NamedTuple):
    """One rule of one feature."""

    feature: str
    rule: Rule


class Worst(NamedTuple):
    """One rule for every box: its least margin, the column and corner of that, verdicts.

    ``margin`` is infinite where nothing of it is known; ``fails`` and ``unknown`` are true
    where it fails, or isn't covered, at any corner of the box.
    """

    margin: Array
    column: Index
    corner: Index
    fails: Mask
    unknown: Mask


class Boxes:
    """The rules of all features that some dimensions touch, by key."""

    def __init__(self, part: Part, keys: Iterable[str]) -> None:
        self.part, self.keys = part, tuple(keys)
        self.features = tuple(name for name in part.features if set(self.keys) & set(relevant(part, name)))
        self.corners = {name: self._corners(name) for name in self.features}
        self.asked = tuple(
            Asked(name, rule)
            for name in self.features
            for rule in type(part.features[name]).rules
            if rule.asked(part.features[name], part.columns(name))
        )
        self.refused = tuple(dict.fromkeys(text for name in self.features for text in refusals(part, name)))
        self.no_duty = tuple(self._without_duty())

    def _corners(self, name: str) -> dict[str, Array]:
        """Corners of one feature; a size that was read is 0 at its least and 1 at its greatest."""
        found = {
            key: one._replace(levels=(0.0, 1.0)) if key in self.keys else one
            for key, one in relevant(self.part, name).items()
        }
        return corners_of(found)

    def _without_duty(self) -> Iterable[str]:
        for name in self.features:
            duty = type(self.part.features[name]).must_ask
            mine = {one.rule.name for one in self.asked if one.feature == name}
            if duty and not mine & set(duty[0]):
                yield f"{name}: {duty[1]}"

    def worst(self, low: Sizes, high: Sizes, *, only: Corners | None = None) -> tuple[Worst, ...]:
        """Each asked rule at the worst corner of every box.

        Args:
            low: least size by key, mm, shape (boxes,).
            high: greatest size by key, the same shape.
            only: by feature, the corners to look at instead of all.
        """
        count = len(next(iter(low.values())))
        found = [
            Worst(
                np.full(count, np.inf),
                np.zeros(count, dtype=int),
                np.zeros(count, dtype=int),
                np.zeros(count, dtype=bool),
                np.zeros(count, dtype=bool),
            )
            for _ in self.asked
        ]
        for name in self.features:
            corners = self.corners[name]
            if only is not None:
                chosen = sorted(only[name])
                corners = {key: one[chosen] for key, one in corners.items()}
            columns = len(self.part.states_of(name)) + 1
            for span in blocks(count, columns * count_of(corners)):
                self._block(name, corners, low, high, span, found)
        return tuple(found)

    def holds(self, low: Sizes, high: Sizes, *, only: Corners | None = None) -> Mask:
        """Whether every asked rule holds in the whole of each box."""
        worst = self.worst(low, high, only=only)
        bad = [one.fails | one.unknown for one in worst]
        count = len(next(iter(low.values())))
        if self.refused or self.no_duty:
            return np.zeros(count, dtype=bool)
        return ~np.any(bad, axis=0) if bad else np.ones(count, dtype=bool)

    def setting(self, low: Sizes, high: Sizes) -> dict[str, set[int]]:
        """By feature, the corners that are the worst of any rule in any of some boxes."""
        found: dict[str, set[int]] = {name: {0} for name in self.features}
        for asked, one in zip(self.asked, self.worst(low, high), strict=True):
            found[asked.feature] |= set(one.corner.tolist())
        return found

    def _block(
        self,
        name: str,
        corners: Mapping[str, Array],
        low: Sizes,
        high: Sizes,
        span: slice,
        found: list[Worst],
    ) -> None:
        mine = [index for index, one in enumerate(self.asked) if one.feature == name]
        rules = [self.asked[index].rule for index in mine]
        values = {one.value for one in rules} | {one.limit for one in rules if isinstance(one.limit, str)}
        given = {
            key: np.where(corners[key] > 0.5, high[key][span, None, None], low[key][span, None, None])
            for key in self.keys
            if key in corners
        }
        rest = {key: one for key, one in corners.items() if key not in given}
        evaluation = evaluate(self.part, name, values=values, given=given, corners=rest)
        count = len(range(*span.indices(len(next(iter(low.values()))))))
        for index, rule in zip(mine, rules, strict=True):
            of = margins(self.part.features[name], rule, evaluation)
            shape = (count, count_of(corners), of.margin.shape[-1])
            speaks = np.broadcast_to(_by_lead(of.columns), (count, shape[-1]))
            margin = np.broadcast_to(of.margin, shape)
            known = np.isfinite(margin) & speaks[:, None, :]
            blocked = np.broadcast_to(_by_lead(of.blocked), (count, shape[-1])) & speaks
            least = np.where(known, margin, np.inf)
            flat = least.reshape(count, -1)
            at = flat.argmin(axis=1)
            one = found[index]
            one.margin[span] = flat[np.arange(count), at]
            one.corner[span], one.column[span] = np.divmod(at, shape[-1])
            failing = np.broadcast_to(of.failing, shape) & known
            one.fails[span] = failing.any(axis=(1, 2))
            missing = (~np.isfinite(margin) & speaks[:, None, :]).any(axis=(1, 2))
            one.unknown[span] = missing | blocked.any(axis=1)

    def state(self, index: int, column: int) -> str:
        """The state of a rule's column."""
        asked = self.asked[index]
        value = self.value(index)
        names = self.part.columns(asked.feature).names
        return column_name(value, names, column)

    def value(self, index: int) -> Value:
        """The value that a rule is about."""
        asked = self.asked[index]
        kind = type(self.part.features[asked.feature])
        return next(one for one in kind.values if one.name == asked.rule.value)

    def per_mm(self, drawing: Mapping[str, Limits], along: Collection[str] | None = None) -> Array:
        """How fast each rule's margin goes with the sizes, at the most, per mm; 0: not at all.

        Taken between the limits of the drawing, one size at a time (those ``along``, all
        unless given), the others in the middle.
        """
        moved = []
        for key in self.keys if along is None else along:
            limits = drawing[key]
            half = max(limits.tolerance / 2.0, STEP * limits.middle)
            moved.append((key, half))
        ends = [(at, sign * half) for at, half in moved for sign in (-1.0, 1.0)]
        points = {
            key: np.array([drawing[key].middle + (by if key == at else 0.0) for at, by in ends])
            for key in self.keys
        }
        steps = np.array([2.0 * half for _, half in moved])
        found = np.zeros(len(self.asked))
        for index, one in enumerate(self.worst(points, points)):
            # Nothing is known of a rule at either end where it isn't covered.
            with np.errstate(invalid="ignore"):
                slopes = np.abs(one.margin[1::2] - one.margin[::2]) / steps
            slopes = slopes[np.isfinite(slopes)]
            found[index] = slopes.max() if slopes.size else 0.0
        return found


def _by_lead(mask: Mask) -> Mask:
    """A mask over the columns, or over lead and columns, with a lead axis."""
    return mask.reshape(-1, mask.shape[-1])


def any_of(masks: Sequence[Mask], count: int) -> Mask:
    """Where any of some masks is true."""
    return np.any(masks, axis=0) if masks else np.zeros(count, dtype=bool)
