"""One rule at its worst: margins at every corner and state, verdict, break-even."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from fits import quantity
from fits.arrays import Array, Mask
from fits.features.feature import Feature, NotCovered, Rule, Value
from fits.features.part import Part
from fits.questions import answer as say
from fits.questions.answer import CheckAnswer
from fits.questions.evaluate import Evaluation, evaluate, key_of, relevant
from fits.questions.ranges import column_name, spread_out

# Digits after the point that a break-even value may have; what is smaller is 0 to any shop.
FINEST = 18
ALIKE = "1e-4"


class Margins(NamedTuple):
    """A rule's value, limit and margin at every corner and column, and where it speaks."""

    value: Array
    limit: Array
    margin: Array
    columns: Mask
    blocked: Mask
    above: bool

    @property
    def failing(self) -> Mask:
        """Where the rule fails; a value on its limit holds, but not on a limit of 0 to be above."""
        least = np.where(self.limit == 0.0, say.ON_IT, -say.ON_IT) if self.above else -say.ON_IT
        return np.asarray(self.margin < least)

    @property
    def holding(self) -> Mask:
        """Where the rule holds: finite and not failing."""
        return np.isfinite(self.margin) & ~self.failing


def margins(feature: Feature, rule: Rule, evaluation: Evaluation) -> Margins:
    """A rule on an evaluation: arrays of shape (*lead, corners, columns)."""
    kind = type(feature)
    value = next(one for one in kind.values if one.name == rule.value)
    states = evaluation.states
    # A number of the states alone (what a metal stands) has no corners of its own.
    has = np.atleast_2d(spread_out(evaluation.numbers[rule.value], states))
    limit = np.asarray(_limit(feature, rule, evaluation))
    if (limit.ndim and limit.shape[-1] == 1) or limit.ndim == 0:
        limit = np.broadcast_to(limit, np.broadcast_shapes(limit.shape, has.shape))
    margin = has - limit if rule.sense == "at least" else limit - has
    columns = states.columns(value.when)
    if rule.applies is not None:
        applies = np.asarray(rule.applies(feature, states))
        # Swept states have a corner axis of one, which a column mask has not.
        columns = columns & (applies[..., 0, :] if applies.ndim > 1 else applies)
    blocked = np.zeros(margin.shape[-1:], dtype=bool)
    for gap in blocking(kind, rule, evaluation):
        blocked = blocked | np.array(_by_column_lead(gap.mask, margin.shape[-1]))
    return Margins(has, limit, margin, columns, blocked, rule.above)


def _by_column_lead(mask: Mask, columns: int) -> Mask:
    """A gap's mask by lead and column: True where any corner is hit."""
    mask = _wide(mask, columns)
    if mask.ndim >= 3:
        return np.asarray(mask.any(axis=-2))
    return np.asarray(mask.reshape(-1, columns).any(axis=0))


def _wide(mask: Mask, columns: int) -> Mask:
    """A gap's mask in every column; what has one column only is of the last, as made or as joined."""
    wide = np.zeros((*mask.shape[:-1], columns), dtype=bool)
    wide[..., -mask.shape[-1] :] = mask
    return wide


def _limit(feature: Feature, rule: Rule, evaluation: Evaluation) -> Array | float:
    if isinstance(rule.limit, float):
        return rule.limit
    if rule.limit in evaluation.numbers:
        return evaluation.numbers[rule.limit]
    swept = evaluation.put_in.get(rule.limit)
    if swept is not None and swept.ndim > 2:
        return swept
    typed = getattr(feature, rule.limit)
    # The strict end of a typed range: a limit given as a range must hold throughout.
    return float(typed.high if rule.sense == "at least" else typed.low)


def blocking(kind: type[Feature], rule: Rule, evaluation: Evaluation) -> list[NotCovered]:
    """The gaps that keep a rule from passing."""
    found = evaluation.blocking(rule.value)
    if isinstance(rule.limit, str):
        found += evaluation.blocking(rule.limit)
    return [gap for gap in dict.fromkeys(found) if gap.about not in rule.despite]


def held(feature: Feature, rule: Rule, evaluation: Evaluation) -> Mask:
    """Whether a rule holds at every corner: by lead and column, True where it doesn't speak."""
    of = margins(feature, rule, evaluation)
    holds = of.holding
    corners = holds.all(axis=-2) if holds.ndim > 1 else holds
    return (corners & ~of.blocked) | ~of.columns


def breaking(feature: Feature, rule: Rule, evaluation: Evaluation) -> Mask:
    """Where a rule that speaks doesn't hold: by lead, corner and column."""
    of = margins(feature, rule, evaluation)
    found = ~np.broadcast_to(of.holding, of.margin.shape)
    for gap in blocking(type(feature), rule, evaluation):
        found = found | _wide(gap.mask, of.margin.shape[-1])
    columns = found.shape[-1]
    return found.reshape(-1, found.shape[-2], columns) & of.columns.reshape(-1, 1, columns)


def judge(part: Part, name: str, rule: Rule, evaluation: Evaluation) -> CheckAnswer:
    """One rule at its worst corner and state."""
    feature = part.features[name]
    value = next(one for one in type(feature).values if one.name == rule.value)
    of = margins(feature, rule, evaluation)
    flat = of.margin.reshape(-1, of.margin.shape[-1])
    finite = np.isfinite(flat)
    unknown = of.columns & (~finite.all(axis=0) | of.blocked)
    verdict, column = _worst_column(of, rule, flat, finite, unknown)
    at = int(np.argmin(np.where(finite[:, column], flat[:, column], np.inf)))
    known = bool(finite[at, column])
    if not known:
        at = _hardest(of, rule, column)
    why, even = "", ""
    if verdict == say.NOT_COVERED:
        why = _why(type(feature), rule, evaluation, column)
        even = _break_even(part, name, rule, value, evaluation, of, unknown)
    margin = flat[:, column]
    has = _at(of.value, at, column)
    limit = _at(of.limit, at, column)
    return CheckAnswer(
        rule=rule.name,
        value=rule.value,
        label=value.label,
        sense=rule.sense,
        state=column_name(value, evaluation.states.names, column),
        worst=has if np.isfinite(has) else None,
        limit=limit if np.isfinite(limit) else None,
        kind=value.kind,
        digits=value.digits,
        margin=float(flat[at, column]) if known else None,
        verdict=verdict,
        reason=rule.reason,
        action=rule.action,
        source=rule.source,
        why_not=why,
        break_even=even,
        corner={key: float(array[at % len(array), 0]) for key, array in evaluation.corners.items()},
        where="" if verdict == say.NOT_COVERED else _where(part, name, value, evaluation, margin, at),
    )


def _worst_column(of: Margins, rule: Rule, flat: Array, finite: Mask, unknown: Mask) -> tuple[str, int]:
    """The verdict over all columns, and the column of the least margin among those that make it."""
    lowest = np.where(finite, flat, np.inf).min(axis=0)
    failing = np.broadcast_to(of.failing, of.margin.shape).reshape(-1, of.margin.shape[-1])
    fails = of.columns & (failing & finite).any(axis=0)
    if fails.any():
        verdict, among = say.FAIL, fails
    elif unknown.any():
        verdict, among = say.NOT_COVERED, unknown
    else:
        verdict, among = say.PASS, of.columns
    if not among.any():
        among = of.columns.copy()
        among[-1] = True
    if not np.isfinite(lowest[among]).any():
        lowest = _strained(of, rule).min(axis=0)
    column = int(np.argmin(np.where(among, lowest, np.inf)))
    return verdict, column if among[column] else int(np.flatnonzero(among)[0])


def _where(part: Part, name: str, value: Value, evaluation: Evaluation, margin: Array, at: int) -> str:
    """The level that tells the value apart, and the choices that the worst corner needs to be the worst."""
    said = []
    # What tells the value apart may share its place with a dimension of other values.
    for key, dimension in (relevant(part, name) | relevant(part, name, [value.name])).items():
        chosen = evaluation.corners.get(key)
        if not dimension.words or chosen is None:
            continue
        level = float(chosen[at % len(chosen), 0])
        alone = dimension.name == value.by
        if not alone and len(chosen) == len(margin):
            others = margin[chosen[:, 0] != level]
            others = others[np.isfinite(others)]
            alone = bool(others.size) and bool(others.min() > margin[at] + 1e-9 * abs(margin[at]))
        if alone:
            said.append(f"{dimension.label} {dimension.said(level)}")
    return ", ".join(said)


def _hardest(of: Margins, rule: Rule, column: int) -> int:
    """The corner of the hardest limit; where no limit is known, of the worst value."""
    limit = of.limit.reshape(-1, of.limit.shape[-1])[:, column]
    sense = 1.0 if rule.sense == "at least" else -1.0
    if np.isfinite(limit).any():
        return int(np.argmax(np.where(np.isfinite(limit), sense * limit, -np.inf)))
    return int(np.argmin(_strained(of, rule)[:, column]))


def _strained(of: Margins, rule: Rule) -> Array:
    """The value, less where it is worse, by corner and column; inf where it isn't known."""
    has = np.broadcast_to(of.value, of.margin.shape).reshape(-1, of.margin.shape[-1])
    return np.where(np.isfinite(has), has if rule.sense == "at least" else -has, np.inf)


def _at(array: Array, corner: int, column: int) -> float:
    flat = array.reshape(-1, array.shape[-1])
    return float(flat[corner % len(flat), column])


def _why(kind: type[Feature], rule: Rule, evaluation: Evaluation, column: int) -> str:
    reasons = [
        gap.reason
        for gap in blocking(kind, rule, evaluation)
        if _by_column_lead(gap.mask, len(evaluation.states.names))[..., column].any()
    ]
    return "; ".join(dict.fromkeys(reasons)) or "a number it depends on is not covered"


def _break_even(
    part: Part,
    name: str,
    rule: Rule,
    value: Value,
    evaluation: Evaluation,
    of: Margins,
    unknown: Mask,
) -> str:
    """What a missing input would have to be for the rule to hold."""
    kind = type(evaluation.feature)
    missing = [gap for gap in blocking(kind, rule, evaluation) if gap.sweep]
    for gap in missing:
        said = _swept_break_even(part, name, rule, gap, unknown)
        if said:
            others = [other.about.replace("_", " ") for other in missing if other.about != gap.about]
            return said + (f", with {' and '.join(others)} at its mildest" if others else "")
    in_value = [gap for gap in evaluation.blocking(rule.value) if gap.about not in rule.despite]
    needed = of.value.reshape(-1, of.value.shape[-1])[:, unknown]
    known = np.isfinite(needed).all() and not any(gap.mask.any() for gap in in_value)
    if missing or not known or not isinstance(rule.limit, str):
        return ""
    least = rule.sense == "at most"
    limit = next((one for one in kind.values if one.name == rule.limit), None)
    label = limit.label if limit else rule.limit.replace("_", " ")
    extreme = float(needed.max() if least else needed.min())
    shown = _rounded_to_hold(extreme, value.kind, part.units, up=least)
    return f"holds if {label} is at {'least' if least else 'most'} {shown}"


def _swept_break_even(part: Part, name: str, rule: Rule, gap: NotCovered, unknown: Mask) -> str:
    from fits.questions.sweep import grid, intervals

    feature = part.features[name]
    dimension = next(one for one in relevant(part, name).values() if one.name == gap.sweep and one.missing)
    key = key_of(name, dimension)
    wanted = [rule.value, *([rule.limit] if isinstance(rule.limit, str) else [])]
    values = [one.name for one in type(feature).values if one.name in wanted]

    def margin(points: Array) -> Array:
        swept = evaluate(part, name, values=values, given={key: points.reshape(-1, 1, 1)})
        array = margins(feature, rule, swept).margin
        # A rule that the number does not touch has no lead of its own.
        array = np.broadcast_to(array, np.broadcast_shapes(array.shape, (len(points), 1, 1)))
        return np.asarray(array[..., unknown].reshape(len(points), -1).min(axis=1))

    low, high = dimension.search
    points = grid(low, high, 129)
    if not np.isfinite(margin(points)).any():
        return ""
    found = intervals(margin, points, tolerance=1e-9 * max(high - low, 1e-3))
    if not found:
        return f"no {dimension.label.removesuffix(' cost')} would make it hold"
    one = found[0]
    if one.low_open and one.high_open:
        return f"holds for any {dimension.label}"
    verb = "" if dimension.label.endswith((" by", " cost")) else "is "
    bound, end = ("at least", one.low) if one.high_open else ("at most", one.high)
    shown = _rounded_to_hold(end, dimension.kind, part.units, up=one.high_open)
    return f"holds if {dimension.label} {verb}{bound} {shown}"


def _rounded_to_hold(value: float, kind: str, units: str, *, up: bool) -> str:
    """Three significant digits down to ``FINEST``, rounded towards the side that holds as it is shown."""
    import decimal  # only where something isn't covered

    wanted = 2 - math.floor(math.log10(abs(value) or 1.0))
    places = min(max(4 if kind == "length" else 1, wanted), FINEST)
    if kind == "expansion":
        places = max(places - 6, 1)
    elif units == "in":
        places = max(places + quantity.KINDS[kind].inch[2], 0)
    # Decimal digits: 10^places is no float for a number next to 0.
    shown = decimal.Decimal(f"{quantity.on_sheet(value, kind, units=units):.12g}")
    way = decimal.ROUND_CEILING if up else decimal.ROUND_FLOOR
    step = decimal.Decimal(1).scaleb(-places)
    with decimal.localcontext(decimal.Context(prec=400)):
        near = shown.quantize(step)
        # What is round already, as far as it was searched, stays; but nothing becomes 0.
        round_already = near and abs(shown - near) <= step * decimal.Decimal(ALIKE)
        rounded = float(near if round_already else shown.quantize(step, rounding=way))
    text = quantity.number(rounded, places)
    if kind == "expansion":
        return f"{text}e-6 1/K"
    return f"{text} {quantity.sheet_unit(kind, units=units)}".rstrip()
