"""Does each of many joints hold? Rows of one feature that differ in numbers, judged together.

The verdict of a row is that of ``check`` for the joint alone; here it comes as columns.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from fits.arrays import Array, Mask, Whole
from fits.features.feature import Feature, Rule, States
from fits.features.part import Part
from fits.questions import answer as say
from fits.questions.along import Along, along, flat
from fits.questions.check import refusals
from fits.questions.evaluate import Evaluation, blocks, corners_of, count_of, evaluate, key_of, relevant
from fits.questions.judging import blocking
from fits.questions.ranges import column_name, spread_out

VERDICTS = (say.PASS, say.NOT_COVERED, say.FAIL, say.REFUSED)
PASS, NOT_COVERED, FAIL, REFUSED = range(4)
# Below this a limit is no measure of its margin, in the inside unit.
_FLOOR = {"length": 0.01, "temperature": 10.0}


class Main(NamedTuple):
    """A value that is given for every row: its name and which end of its range."""

    value: str
    end: str


class Judged(NamedTuple):
    """Rows judged, each array of shape (rows,); numbers in the inside unit, NaN where none.

    ``verdict`` is a place in ``VERDICTS``; ``rule`` the place of the worst rule among the
    kind's, -1 where there is none; ``state`` and ``note`` are text.
    """

    verdict: Whole
    rule: Whole
    state: Any
    worst: Array
    limit: Array
    margin: Array
    note: Any
    values: dict[Main, Array]

    @classmethod
    def empty(cls, rows: int, mains: Sequence[Main]) -> Judged:
        """Rows of which nothing is known yet."""

        def blank() -> Array:
            return np.full(rows, np.nan)

        texts = [np.full(rows, "", dtype=object) for _ in range(2)]
        codes = np.zeros(rows, dtype=np.int8), np.full(rows, -1, dtype=np.int16)
        return cls(
            codes[0], codes[1], texts[0], blank(), blank(), blank(), texts[1], {one: blank() for one in mains}
        )

    def put(self, at: Any, other: Judged) -> None:
        """Other rows at some places of these."""
        for mine, theirs in zip(self[:-1], other[:-1], strict=True):
            mine[at] = theirs
        for one, array in self.values.items():
            array[at] = other.values[one]

    def only(self, rows: Mask) -> Judged:
        """Some of these rows."""
        values = {one: array[rows] for one, array in self.values.items()}
        texts = self.state[rows], self.note[rows]
        numbers = self.worst[rows], self.limit[rows], self.margin[rows]
        return Judged(self.verdict[rows], self.rule[rows], texts[0], *numbers, texts[1], values)


def mains_of(feature: Feature, states: States) -> tuple[Main, ...]:
    """The values that a row shows: what its rules hold, at the end that they hold."""
    asked = [rule for rule in type(feature).rules if rule.asked(feature, states)]
    return tuple(Main(rule.value, "least" if rule.sense == "at least" else "greatest") for rule in asked)


def judge_rows(
    part: Part,
    name: str,
    rows: int,
    low: Mapping[str, Array],
    high: Mapping[str, Array],
    mains: Sequence[Main],
) -> Judged:
    """Judge rows of one feature that differ in some numeric fields.

    Args:
        part: a part with the feature as its first row declares it.
        name: the feature.
        rows: how many rows.
        low: least of each field that differs, by field, shape (rows,).
        high: greatest of the same.
        mains: the values to give for every row.
    """
    feature = part.features[name]
    states = part.columns(name)
    found = Judged.empty(rows, mains)
    if texts := refusals(part, name):
        found.verdict[:], found.note[:] = REFUSED, "; ".join(texts)
        return found
    rules = [(at, one) for at, one in enumerate(type(feature).rules) if one.asked(feature, states)]
    wanted = {one.value for _, one in rules} | {one.limit for _, one in rules if isinstance(one.limit, str)}
    wanted |= {one.value for one in mains}
    dimensions = relevant(part, name, wanted)
    corners = corners_of(dimensions)
    keys = {field: key_of(name, one) for one in dimensions.values() if (field := one.name) in low}
    width = count_of(corners) * len(states.names)
    duty = type(feature).must_ask
    nothing_asked = duty is not None and not any(one.name in duty[0] for _, one in rules)
    for span in blocks(rows, width):
        given = {
            key: _at_corners(low[field][span], high[field][span], corners.get(key))
            for field, key in keys.items()
        }
        rest = {key: one for key, one in corners.items() if key not in given}
        evaluation = evaluate(part, name, values=wanted, given=given, corners=rest)
        block = _block(evaluation, rules, span.stop - span.start, mains)
        if nothing_asked and duty is not None:
            np.maximum(block.verdict, NOT_COVERED, out=block.verdict)
            block.note[block.verdict == NOT_COVERED] = duty[1]
        found.put(span, block)
    return found


def _at_corners(low: Array, high: Array, corners: Array | None) -> Array:
    """Each row's limits at the corners, shape (rows, corners, 1); an exact number has none."""
    low, high = low.reshape(-1, 1, 1), high.reshape(-1, 1, 1)
    if corners is None:
        return low
    return np.where(corners == corners.max(), high, low)


def _block(
    evaluation: Evaluation, rules: Sequence[tuple[int, Rule]], rows: int, mains: Sequence[Main]
) -> Judged:
    found = Judged.empty(rows, mains)
    nearest = np.full(rows, np.inf)
    for at, rule in rules:
        _worst(found, nearest, at, rule, along(rule, evaluation), evaluation)
    for main in mains:
        _value(found.values[main], main, evaluation)
    return found


def _worst(found: Judged, nearest: Array, at: int, rule: Rule, one: Along, evaluation: Evaluation) -> None:
    """Put a rule in the rows where it is worse than those before it."""
    rows = len(nearest)
    verdict = np.where(one.fails, FAIL, np.where(one.unknown, NOT_COVERED, PASS))
    margin, limit = flat(one.of.margin, one.columns), flat(_broad(one.of.limit, one.of.margin), one.columns)
    among = margin if np.isfinite(margin.sum()) else np.where(np.isfinite(margin), margin, np.inf)
    if one.unknown.any():
        # What isn't covered is said of the state in which it isn't.
        hidden = _known_columns(one, margin.shape[1]) & one.unknown[:, None]
        among = np.where(hidden, np.inf, among)
        # Where nothing is known there it comes before what is hidden all the same.
        corner = np.where(hidden, np.inf, np.minimum(among, np.finfo(float).max)).argmin(axis=1)
    else:
        corner = among.argmin(axis=1)
    each = np.arange(len(margin))
    least, held = among[each, corner], limit[each % len(limit), corner]
    kind = next(value.kind for value in type(evaluation.feature).values if value.name == rule.value)
    share = np.where(np.isfinite(least), least, -np.inf) / np.maximum(np.abs(held), _FLOOR.get(kind, 1.0))
    # An unlimited limit is no reason for a NaN to win; fmin leaves the known one.
    share = np.where(np.isnan(share), np.inf, share)
    verdict, share, least, held, corner = (
        np.broadcast_to(a, (rows,)) for a in (verdict, share, least, held, corner)
    )
    worse = (verdict > found.verdict) | ((verdict == found.verdict) & (share < nearest))
    if not worse.any():
        return
    nearest[worse] = share[worse]
    found.verdict[worse], found.rule[worse] = verdict[worse], at
    known = np.isfinite(least)
    sense = 1.0 if rule.sense == "at least" else -1.0
    found.margin[worse] = np.where(known, least, np.nan)[worse]
    found.limit[worse] = np.where(known, held, np.nan)[worse]
    found.worst[worse] = np.where(known, held + sense * least, np.nan)[worse]
    value = next(value for value in type(evaluation.feature).values if value.name == rule.value)
    names = [column_name(value, evaluation.states.names, int(column)) for column in one.columns]
    found.state[worse] = np.array(names, dtype=object)[corner % len(names)][worse]
    found.note[worse] = np.where(verdict == FAIL, rule.action, "")[worse]
    lacking = worse & (verdict == NOT_COVERED)
    if lacking.any():
        found.note[lacking] = _reasons(rule, one, evaluation, rows)[lacking]


def _broad(array: Array, like: Array) -> Array:
    return np.broadcast_to(array, np.broadcast_shapes(array.shape, like.shape))


def _known_columns(one: Along, width: int) -> Mask:
    """Corners and columns, flat, of the columns in which a row is covered."""
    margin = one.of.margin if one.of.margin.ndim > 2 else one.of.margin[None]
    of_columns = np.isfinite(margin[..., one.columns]).all(axis=-2)
    known = np.atleast_2d(of_columns & ~np.atleast_2d(one.of.blocked)[:, one.columns])
    return np.tile(known, width // len(one.columns))


def _reasons(rule: Rule, one: Along, evaluation: Evaluation, rows: int) -> Any:
    """Why a rule isn't covered, for each row: the reasons of the gaps that touch it."""
    gaps = blocking(type(evaluation.feature), rule, evaluation)
    touched = np.zeros((rows, len(gaps)), dtype=bool)
    for at, gap in enumerate(gaps):
        mask = spread_out(gap.mask.astype(float), evaluation.states) == 1.0
        mask = mask.reshape((1,) * (3 - mask.ndim) + mask.shape)
        touched[:, at] = mask[..., one.columns].any(axis=(1, 2))
    found = np.empty(rows, dtype=object)
    alike, which = np.unique(touched, axis=0, return_inverse=True)
    for at, some in enumerate(alike):
        reasons = dict.fromkeys(gap.reason for gap, hit in zip(gaps, some, strict=True) if hit)
        found[which.reshape(-1) == at] = "; ".join(reasons) or "a number it depends on is not covered"
    return found


def _value(out: Array, main: Main, evaluation: Evaluation) -> None:
    array = evaluation.numbers.get(main.value)
    if array is None:
        return
    value = next(one for one in type(evaluation.feature).values if one.name == main.value)
    wide = spread_out(array, evaluation.states)
    columns = np.flatnonzero(evaluation.states.columns(value.when))
    numbers = flat(wide, columns)
    ends = numbers.min(axis=1) if main.end == "least" else numbers.max(axis=1)
    out[:] = np.where(np.isfinite(ends), ends, np.nan)
