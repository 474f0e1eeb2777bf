"""What was read, drawn: sizes with their uncertainty against the drawing, pairs with their room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from fits import quantity
from fits.questions.judgement import Judged, PartJudgement, SizeJudgement
from fits.questions.pairing import Pair, Pairing
from fits.report import measured
from fits.report.drawing import WIDTH, Drawing
from fits.report.scales import Axis, across, headed, padded, shown, titled

# As many rows as can be read on one drawing; of a longer table those nearest to trouble.
MOST = 20
LEFT, RIGHT = 12.0, WIDTH - 12.0
STRIP = 12.0
# Half of the cap at the end of a doubt, px.
CAP = 3.0
# How far the scale follows a size beyond its limits, in tolerances.
BEYOND = 1.5

Span = tuple[float, float]
T = TypeVar("T")


def of_judged(judged: Judged, units: str) -> Iterator[tuple[str, list[Drawing]]]:
    """A drawing for each dimension that was read, by feature."""
    found: dict[str, dict[str, list[tuple[PartJudgement, SizeJudgement]]]] = {}
    for part in judged.parts:
        for one in part.sizes:
            of = one.size.dimension
            found.setdefault(of.feature, {}).setdefault(of.label, []).append((part, one))
    for feature, dimensions in found.items():
        yield feature, [sizes(label, read, units) for label, read in dimensions.items()]


def sizes(label: str, read: Sequence[tuple[PartJudgement, SizeJudgement]], units: str) -> Drawing:
    """Every part's size of one dimension with its doubt, over the zone of the drawing."""
    drawing = Drawing(f"{label} as read, against its drawing")
    limits = read[0][1].size.dimension.limits
    kept = _nearest(read, [one.guarded.room for _, one in read])
    spans = [_doubt(one) for _, one in kept]
    low, high = padded([limits.lower, limits.upper, *(end for span in spans for end in span)])
    if limits.tolerance > 0.0:
        low = max(low, limits.lower - BEYOND * limits.tolerance)
        high = min(high, limits.upper + BEYOND * limits.tolerance)
    axis = _axis((low, high), units)
    for (part, one), span in zip(kept, spans, strict=True):
        said = measured.size_text(one, units).removeprefix(f"{label} ")
        off = _off(span, low, high)
        headed(drawing, f"{part.part}: {said}, {one.guarded.verdict}{off}; {part.verdict.upper()}")
        y = _strip(drawing, axis, (limits.lower, limits.upper), units)
        _bar(drawing, axis, (one.size.least, one.size.greatest), span, y, units)
    _foot(drawing, axis, "size at 20 degC", units)
    zone = f"limits of the drawing, {measured.limits_text(read[0][1], units)}"
    drawing.note(zone if limits.tolerance > 0.0 else f"{zone}: an exact size", sample="light")
    drawing.note(
        "with its uncertainty (k = 2) at either side; proved where all of it is inside", sample="line"
    )
    _left_out(drawing, len(read), len(kept), "parts")
    return drawing


def of_pairing(found: Pairing, units: str) -> Iterator[tuple[str, list[Drawing]]]:
    """The pairs of a feature, where there are any."""
    if found.pairs:
        yield found.feature, [pairs(found, units)]


def pairs(found: Pairing, units: str) -> Drawing:
    """Every pair's fit with its doubt, over the stretch in which no rule breaks."""
    drawing = Drawing(f"{found.fit} of each pair, and how far it is from breaking a rule")
    kept = _nearest(found.pairs, [one.room for one in found.pairs])
    axis = _axis(padded([end for one in kept for end in (*_room(one), one.fit)]), units)
    unit = quantity.sheet_unit("length", units=units)
    for one in kept:
        fit = measured.pair_row(one, units)[3]
        first = f"; first to break: {measured.pair_rule(one)}" if one.rule else ""
        headed(drawing, f"{one.mark}: {one.hole} + {one.shaft}, {fit} {unit}{first}")
        y = _strip(drawing, axis, _room(one), units)
        span = (one.fit - one.doubt, one.fit + one.doubt)
        _bar(drawing, axis, (one.fit, one.fit), span, y, units)
    _foot(drawing, axis, found.fit, units)
    drawing.note("at least this far, about, no rule breaks; no band: no room", sample="light")
    drawing.note("the fit, with all of the readings' doubt at either side", sample="line")
    _left_out(drawing, len(found.pairs), len(kept), "pairs")
    for left in found.left[:MOST]:
        drawing.note(f"left over: {measured.left_text(left, units)}")
    _left_out(drawing, len(found.left), len(found.left[:MOST]), "left over")
    return drawing


def _nearest(of: Sequence[T], room: Iterable[float | None]) -> list[T]:
    """All of a short table in its order; of a long one those with the least room."""
    if len(of) <= MOST:
        return list(of)
    least = sorted(zip((float("inf") if one is None else one for one in room), range(len(of)), strict=True))
    return [of[at] for _, at in sorted(least[:MOST], key=lambda one: one[1])]


def _left_out(drawing: Drawing, count: int, kept: int, what: str) -> None:
    if kept < count:
        drawing.note(f"drawn: {kept} of {count:,} {what}, those with the least room")


def _doubt(one: SizeJudgement) -> Span:
    return one.size.least - one.size.uncertainty, one.size.greatest + one.size.uncertainty


def _room(one: Pair) -> Span:
    """The stretch of the fit that holds, with the doubt, which is part of it; the fit where none is known."""
    reach = one.doubt + one.room if one.room is not None else 0.0
    return one.fit - reach, one.fit + reach


def _off(span: Span, low: float, high: float) -> str:
    """What is said of a size that the scale doesn't follow."""
    if span[1] < low or span[0] > high:
        return ", off this scale " + ("to the left" if span[1] < low else "to the right")
    return ""


def _axis(ends: Span, units: str) -> Axis:
    low, high = (shown(end, "length", units) for end in ends)
    return Axis(low, high, LEFT, RIGHT)


def _at(axis: Axis, value: float, units: str) -> float:
    return min(max(axis.at(shown(value, "length", units)), LEFT), RIGHT)


def _strip(drawing: Drawing, axis: Axis, band: Span, units: str) -> float:
    """The place of one bar with the band behind it; returns its middle."""
    y = drawing.height + STRIP / 2.0
    left, right = (_at(axis, end, units) for end in band)
    if left < right:
        top, bottom = y - STRIP / 2.0, y + STRIP / 2.0
        drawing.path("light", [(left, top), (right, top), (right, bottom), (left, bottom)], closed=True)
    drawing.path("thin", [(LEFT, y), (RIGHT, y)])
    drawing.height = y + STRIP / 2.0
    return y


def _bar(drawing: Drawing, axis: Axis, size: Span, doubt: Span, y: float, units: str) -> None:
    """A size, heavy, its doubt as a line with a cap at each end that the scale holds."""
    left, right = (_at(axis, end, units) for end in doubt)
    if left < right:
        drawing.path("line", [(left, y), (right, y)])
    for x, end in zip((left, right), doubt, strict=True):
        if axis.inside(shown(end, "length", units)):
            drawing.path("line", [(x, y - CAP), (x, y + CAP)])
    least, greatest = (_at(axis, end, units) for end in size)
    if axis.inside(shown(size[0], "length", units)) or axis.inside(shown(size[1], "length", units)):
        drawing.path("heavy", [(least - 1.0, y), (max(greatest, least) + 1.0, y)])


def _foot(drawing: Drawing, axis: Axis, label: str, units: str) -> None:
    across(drawing, axis, drawing.height + 4.0)
    headed(drawing, titled(label, "length", units))
