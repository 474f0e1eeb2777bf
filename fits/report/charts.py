"""The drawings of a report: tolerance zones, a value against temperature, stress through walls."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from fits import quantity
from fits.features.when import place
from fits.questions.answer import NOT_COVERED, Answer, CheckAnswer, FeatureAnswer, SizeAnswer
from fits.questions.drawn import Bound, Curve, Walls
from fits.report import rows
from fits.report.drawing import LINE, WIDTH, Drawing, simplified, spread, width_of, wrap
from fits.report.scales import TALL, Plot, headed, padded, plot, round_step, shown, titled


def drawings(answer: Answer, units: str) -> Iterator[tuple[str, list[Drawing]]]:
    """Every drawing of an answer, by feature; windows and what was read have a place of their own."""
    for feature in answer.features:
        found = of_feature(feature, answer, units)
        if found:
            yield feature.name, found
    if answer.windows or answer.choices:
        from fits.report.window_chart import of_windows

        yield from of_windows(answer, units)
    if answer.judged is not None or answer.pairing is not None:
        from fits.report import measured_chart

        if answer.judged is not None:
            yield from measured_chart.of_judged(answer.judged, units)
        if answer.pairing is not None:
            yield from measured_chart.of_pairing(answer.pairing, units)


def of_feature(feature: FeatureAnswer, answer: Answer, units: str, *, charted: bool = True) -> list[Drawing]:
    """The drawings of one feature: zones, curves and walls where ``charted``, sections."""
    found = []
    if feature.pair is not None:
        sizes = {one.name: one for one in feature.sizes}
        hole, shaft = (sizes.get(name) for name in feature.pair)
        if hole is not None and shaft is not None:
            found.append(zones(hole, shaft, units))
    if feature.drawn is None:
        return found
    if charted:
        found += [against_temperature(curve, feature, answer, units) for curve in feature.drawn.curves]
        if feature.drawn.walls is not None:
            found.append(through_walls(feature.drawn.walls, units))
    if feature.drawn.figures:
        from fits.report.section import section

        found += [section(one, units) for one in feature.drawn.figures]
    return found


_Height = Callable[[float], float]


class _Zone(NamedTuple):
    """A tolerance zone: whose, the layer it is drawn on, its box and the side of its labels."""

    size: SizeAnswer
    layer: str
    left: float
    right: float
    outward: float


def zones(hole: SizeAnswer, shaft: SizeAnswer, units: str) -> Drawing:
    """The tolerance zones of hole and shaft to scale, with least and most clearance."""
    drawing = Drawing(f"tolerance zones of {hole.label} and {shaft.label}")
    both = (
        _Zone(hole, "light", 118.0, 168.0, -1.0),
        _Zone(shaft, "dense", 192.0, 242.0, 1.0),
    )
    heads = [wrap(f"{one.size.label} {one.size.text}".strip(), WIDTH / 2.0 - 12.0) for one in both]
    for zone, lines in zip(both, heads, strict=True):
        x, anchor = (4.0, "start") if zone.outward < 0.0 else (WIDTH - 4.0, "end")
        for index, line in enumerate(lines):
            drawing.text(x, LINE * (index + 0.5), line, anchor)
    ends = [end for one in both for end in (one.size.lower, one.size.upper)]
    span = max(ends) - min(ends) or 1e-3
    basics = [
        one.size.basic
        for one in both
        if one.size.basic is not None and min(ends) - span <= one.size.basic <= max(ends) + span
    ]
    low, high = padded([*ends, *basics], 0.04)
    top = drawing.height + 6.0

    def y(size: float) -> float:
        return top + (high - size) / (high - low) * TALL

    for zone in both:
        _zone(drawing, zone, y, top, basics[:1] if zone.size.basic in basics[:1] else [], units)
    for basic in basics[:1]:
        drawing.path("dots", [(112.0, y(basic)), (248.0, y(basic))])
    _clearances(drawing, hole, shaft, y, units)
    if basics:
        drawing.note("basic size", sample="dots")
    _scale_bar(drawing, TALL / (high - low), top + TALL, units)
    return drawing


def _zone(drawing: Drawing, zone: _Zone, y: _Height, top: float, basics: Sequence[float], units: str) -> None:
    """A zone's box with its limits and basic size beside it, led to where they belong."""
    size = zone.size
    y1, y2 = y(size.upper), y(size.lower)
    if y2 - y1 < 1.5:
        y1, y2 = (y1 + y2) / 2.0 - 0.75, (y1 + y2) / 2.0 + 0.75
    box = [(zone.left, y1), (zone.right, y1), (zone.right, y2), (zone.left, y2)]
    drawing.path(zone.layer, box, closed=True)
    texts = {rows.limit_text(size, upper=True, units=units): y(size.upper)}
    texts.setdefault(rows.limit_text(size, upper=False, units=units), y(size.lower))
    for basic in basics:
        texts.setdefault(rows.length_text(basic, units), y(basic))
    starts = spread(list(texts.values()), [LINE] * len(texts), top, top + TALL)
    edge, x, anchor = (zone.left, 96.0, "end") if zone.outward < 0.0 else (zone.right, WIDTH - 96.0, "start")
    for (text, at), start in zip(texts.items(), starts, strict=True):
        middle = start + LINE / 2.0
        near = x + (3.0 if zone.outward < 0.0 else -3.0)
        drawing.path("thin", [(near, middle), (edge + zone.outward * 8.0, at), (edge, at)])
        drawing.text(x, middle, text, anchor)


def _clearances(drawing: Drawing, hole: SizeAnswer, shaft: SizeAnswer, y: _Height, units: str) -> None:
    """Least and most clearance or interference as arrows between the zones, told below."""
    least, most = hole.lower - shaft.upper, hole.upper - shaft.lower
    for x, layer, upper, lower in (
        (175.0, "dash", hole.lower, shaft.upper),
        (185.0, "line", hole.upper, shaft.lower),
    ):
        if upper != lower:
            drawing.arrow(layer, x, y(upper), x, y(lower))
    for sample, value, word, other in (("dash", least, "least", "most"), ("line", most, "most", "least")):
        fit = "clearance" if value >= 0.0 else "interference"
        which = word if value >= 0.0 else other
        text = rows.length_text(abs(round(value, 9)), units)
        drawing.note(f"{which} {fit} {text} {units}", sample=sample)


def _scale_bar(drawing: Drawing, per_mm: float, bottom: float, units: str) -> None:
    """A bar of a round length below the drawing, so that it can be measured."""
    factor = 1.0 if units == "mm" else 25.4
    length = round_step(16.0 / per_mm / factor)
    tall = length * factor * per_mm
    top = max(drawing.height, bottom) + 6.0
    ends = (top, top + tall)
    drawing.path("line", [(14.0, ends[0]), (20.0, ends[0])])
    drawing.path("line", [(17.0, ends[0]), (17.0, ends[1])])
    drawing.path("line", [(14.0, ends[1]), (20.0, ends[1])])
    places = max(0, -math.floor(math.log10(length) + 1e-9))
    drawing.text(28.0, top + tall / 2.0, f"{quantity.number(length, places)} {units}, to scale")


def against_temperature(curve: Curve, feature: FeatureAnswer, answer: Answer, units: str) -> Drawing:
    """A value's range against temperature, with its limits, the states and the least margin."""
    drawing = Drawing(f"{curve.label} against temperature")
    headed(drawing, titled(curve.label, curve.kind, units))
    points = [
        (
            shown(t, "temperature", units),
            shown(one.least, curve.kind, units),
            shown(one.greatest, curve.kind, units),
        )
        if one is not None and one.least is not None and one.greatest is not None
        else None
        for t, one in zip(curve.temperatures, curve.ranges, strict=True)
    ]
    temperatures = [shown(t, "temperature", units) for t in curve.temperatures]
    marks = _marks(curve, feature, answer, units)
    known = [y for one in points if one is not None for y in one[1:]]
    known += [y for mark in marks if mark.x is not None for y in (mark.low, mark.high)]
    near, far = _bounds(curve, known, units)
    strip = _mark_strip(drawing, marks)
    title = f"temperature, {quantity.sheet_unit('temperature', units=units)}"
    frame = plot(drawing, temperatures, known + [y for _, ys in near for y in ys if math.isfinite(y)], title)
    for known_, run in groupby(points, key=lambda one: one is not None):
        if known_:
            _band(drawing, frame, [one for one in run if one is not None])
    _draw_marks(drawing, frame, marks, strip)
    for index, (bound, ys) in enumerate(near):
        line = [
            (frame.x.at(t), frame.y.at(y)) for t, y in zip(temperatures, ys, strict=True) if math.isfinite(y)
        ]
        layer = "dash" if index % 2 == 0 else "dots"
        if len(line) > 1:
            drawing.path(layer, line)
        drawing.note(f"{bound.rule}: {bound.sense} this", sample=layer)
    for text in far:
        drawing.note(text)
    _least_margin(drawing, frame, curve, feature, marks, units)
    _held_at(drawing, curve, units)
    if marks:
        drawing.note(", ".join(mark.said for mark in marks))
    for gap in curve.gaps:
        drawing.note(f"without what is not covered: {gap}")
    return drawing


def _band(drawing: Drawing, frame: Plot, points: Sequence[tuple[float, float, float]]) -> None:
    under = simplified([(frame.x.at(t), frame.y.at(low)) for t, low, _ in points])
    over = simplified([(frame.x.at(t), frame.y.at(high)) for t, _, high in points])
    drawing.path("light", [*under, *reversed(over)], closed=True)


class _Mark(NamedTuple):
    """A state on the chart: its number, where it lies (None: two temperatures), what is said."""

    number: str
    state: str
    x: float | None
    low: float
    high: float
    said: str


def _marks(curve: Curve, feature: FeatureAnswer, answer: Answer, units: str) -> list[_Mark]:
    """The states that have this value, numbered in their order."""
    spans = next((one.states for one in feature.values if one.name == curve.name), {})
    found: list[_Mark] = []
    for state in feature.states or answer.states:
        span = spans.get(state.name)
        if span is None or span.least is None or span.greatest is None:
            continue
        both = state.hub_temperature == state.shaft_temperature
        ends = [shown(one, curve.kind, units) for one in (span.least, span.greatest)]
        number = str(len(found) + 1)
        where = "" if both else " (two temperatures, not on this scale)"
        said = f"{number} {place(state.name)}{where}"
        x = shown(state.hub_temperature, "temperature", units) if both else None
        found.append(_Mark(number, state.name, x, ends[0], ends[1], said))
    return found


def _bounds(
    curve: Curve, known: Sequence[float], units: str
) -> tuple[list[tuple[Bound, list[float]]], list[str]]:
    """Limits that fit on the scale of a value, and what is said of those that lie far off."""
    span = max(known) - min(known) or max(abs(known[0]), 1e-3)
    near, far = [], []
    for bound in curve.bounds:
        if any(_stricter(other, bound) for other in curve.bounds):
            continue
        ys = [shown(one, curve.kind, units) for one in bound.limits]
        finite = [y for y in ys if math.isfinite(y)]
        if not finite:
            far.append(f"{bound.rule}: its limit is not covered")
        elif max(known) - min(finite) > 4.0 * span or max(finite) - min(known) > 4.0 * span:
            inside = [one for one in bound.limits if math.isfinite(one)]
            strictest = max(inside) if bound.sense == "at least" else min(inside)
            text = quantity.show(strictest, curve.kind, curve.digits, units=units)
            far.append(f"{bound.rule}: {bound.sense} {text}, far off this scale")
        else:
            near.append((bound, ys))
    return near, far


def _stricter(one: Bound, other: Bound) -> bool:
    """Whether one limit is nowhere milder than another of its sense, and somewhere stricter."""
    sign = 1.0 if one.sense == "at least" else -1.0
    apart = [sign * (a - b) for a, b in zip(one.limits, other.limits, strict=True)]
    return one.sense == other.sense and all(gap >= 0.0 for gap in apart) and any(gap > 0.0 for gap in apart)


def _mark_strip(drawing: Drawing, marks: Sequence[_Mark]) -> float:
    """Room above the frame for the states' numbers; returns its middle."""
    top = drawing.height + 2.0
    if any(mark.x is not None for mark in marks):
        drawing.height = top + LINE + 4.0
    return top + LINE / 2.0


def _draw_marks(drawing: Drawing, frame: Plot, marks: Sequence[_Mark], strip: float) -> None:
    """Each state as a bar from its least to its greatest, its number above."""
    placed: dict[float, list[_Mark]] = {}
    for mark in marks:
        if mark.x is not None:
            placed.setdefault(round(frame.x.at(mark.x), 0), []).append(mark)
    texts = [",".join(mark.number for mark in here) for here in placed.values()]
    sizes = [width_of(text) + 6.0 for text in texts]
    starts = spread(list(placed), sizes, 2.0, WIDTH - 2.0)
    for (x, here), text, size, start in zip(placed.items(), texts, sizes, starts, strict=True):
        drawing.text(start + size / 2.0, strip, text, "middle")
        drawing.path("thin", [(start + size / 2.0, strip + 7.0), (x, frame.top), (x, frame.y.start)])
        for index, mark in enumerate(here):
            at = x + 4.0 * (index - (len(here) - 1) / 2.0)
            drawing.path("heavy", [(at, frame.y.at(mark.low)), (at, frame.y.at(mark.high) - 0.5)])


def _least_margin(
    drawing: Drawing, frame: Plot, curve: Curve, feature: FeatureAnswer, marks: Sequence[_Mark], units: str
) -> None:
    """The least margin of a rule on this value, as an arrow where it is least."""
    held: list[CheckAnswer] = [
        one
        for one in feature.checks
        if one.value in (curve.name, *curve.same)
        and one.worst is not None
        and one.limit is not None
        and one.margin is not None
    ]
    if not held:
        return
    worst = min(held, key=lambda one: one.margin if one.margin is not None else math.inf)
    row = rows.check_row(worst, units)
    # What isn't covered has a number with the missing input at its mildest: that is no margin.
    spare = "" if worst.verdict == NOT_COVERED else f", margin {row.to_spare}"
    drawing.note(f"{row.verdict}: {worst.rule}{spare} ({row.state})")
    if worst.verdict == NOT_COVERED:
        return
    x = next((mark.x for mark in marks if mark.state == worst.state), None)
    value, limit = (shown(float(one), curve.kind, units) for one in (worst.worst or 0.0, worst.limit or 0.0))
    if x is not None and frame.y.inside(value) and frame.y.inside(limit):
        at = frame.x.at(x) + (9.0 if frame.x.at(x) < frame.x.end - 12.0 else -9.0)
        drawing.arrow("line", at, frame.y.at(value), at, frame.y.at(limit))


def _held_at(drawing: Drawing, curve: Curve, units: str) -> None:
    said = [
        f"0 to {quantity.show(value, kind, digits, units=units)}"
        for value, kind, digits in ((curve.pressure, "pressure", 2), (curve.speed, "speed", 0))
        if value
    ]
    drawing.note(f"over all limits, {' and '.join(said) or 'at rest'}", sample="light")


def through_walls(walls: Walls, units: str) -> Drawing:
    """Hoop stress from the bore to the outside, wall by wall."""
    drawing = Drawing("hoop stress through the walls")
    headed(drawing, titled("hoop stress, tension positive", "pressure", units))
    radii = [shown(one, "length", units) for part in walls.parts for one in part.radii]
    stress = [shown(one, "pressure", units) for part in walls.parts for one in part.hoop]
    frame = plot(drawing, radii, [*stress, 0.0], titled("radius", "length", units))
    zero = frame.y.at(0.0)
    drawing.path("thin", [(frame.x.start, zero), (frame.x.end, zero)])
    for part, layer in zip(walls.parts, ("dense", "light") * len(walls.parts), strict=False):
        line = [
            (frame.x.at(shown(r, "length", units)), frame.y.at(shown(s, "pressure", units)))
            for r, s in zip(part.radii, part.hoop, strict=True)
        ]
        area = [(line[0][0], zero), *simplified(line), (line[-1][0], zero)]
        drawing.path(layer, area, closed=True)
        inside, outside = (
            quantity.show(one, "pressure", units=units) for one in (part.hoop[0], part.hoop[-1])
        )
        drawing.note(f"{part.label}: {inside} inside, {outside} outside", sample=layer)
    drawing.note(f"elastic, at rest, {place(walls.state)}, at the limits that pull hardest")
    return drawing
