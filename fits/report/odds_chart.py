"""How a rule's margin scatters over the parts drawn, against its limit and its worst case."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fits import quantity
from fits.features.when import place
from fits.questions.scattered import Odds, RuleOdds, Scattering
from fits.report import odds, rows
from fits.report.drawing import Drawing
from fits.report.scales import Plot, headed, plot, shown, titled

# A limit or a worst case further away than this many times the scatter is said, not drawn.
FAR = 2.0


def of_odds(found: Odds, units: str) -> Iterator[tuple[str, list[Drawing]]]:
    """A drawing for each rule that scatters, by feature, the weakest rule first."""
    groups: dict[str, list[tuple[RuleOdds, Scattering]]] = {}
    for one in found.rules:
        if one.margins is not None:
            groups.setdefault(one.feature, []).append((one, one.margins))
    for feature, rules in groups.items():
        rules.sort(
            key=lambda of: (-of[0].failing.share, math.inf if of[0].capability is None else of[0].capability)
        )
        yield feature, [margin(one, scattering, units) for one, scattering in rules]


def margin(one: RuleOdds, scattering: Scattering, units: str) -> Drawing:
    """The margin of one rule as a histogram; what lies left of 0 fails."""
    drawing = Drawing(f"{one.rule}: what the parts drawn have to spare")
    kind = "temperature difference" if one.worst.kind == "temperature" else one.worst.kind
    low, high = (shown(end, kind, units) for end in (scattering.low, scattering.high))
    step = (high - low) / len(scattering.counts)
    total = sum(scattering.counts)
    shares = [100.0 * count / total for count in scattering.counts]
    marks = {"dash": 0.0}
    if one.worst.margin is not None:
        marks["dots"] = shown(one.worst.margin, kind, units)
    far = FAR * (high - low)
    near = {layer: x for layer, x in marks.items() if low - far <= x <= high + far}
    ends = [low, high, *near.values()]
    pad = 0.04 * (max(ends) - min(ends))
    headed(drawing, "parts, %")
    frame = plot(
        drawing,
        [min(ends) - pad, max(ends) + pad],
        [0.0, max(shares)],
        titled("margin", kind, units),
    )
    _bars(drawing, frame, shares, low, step)
    for layer, x in near.items():
        drawing.path(layer, [(frame.x.at(x), frame.top), (frame.x.at(x), frame.y.start)])
    _notes(drawing, one, near, (kind, units), total)
    return drawing


def _bars(drawing: Drawing, frame: Plot, shares: list[float], low: float, step: float) -> None:
    zero = frame.y.at(0.0)
    for index, share in enumerate(shares):
        if share > 0.0:
            left, right = frame.x.at(low + index * step), frame.x.at(low + (index + 1) * step)
            top = min(frame.y.at(share), zero - 1.0)
            drawing.path("light", [(left, zero), (left, top), (right, top), (right, zero)], closed=True)


def _notes(drawing: Drawing, one: RuleOdds, near: dict[str, float], of: tuple[str, str], total: int) -> None:
    drawing.note(
        f"{odds.percent(one.passing.share)} % hold (95 % interval {odds.interval(one.passing)}); "
        f"drawn here: {total:,} of the parts",
        sample="light",
    )
    if "dash" in near:
        drawing.note("0, the limit of the rule; what is left of it fails", sample="dash")
    else:
        drawing.note("the limit of the rule, 0, is far off this scale")
    worst = one.worst
    if worst.margin is not None:
        said = rows.difference(worst.margin, worst.kind, worst.digits, of[1])
        text = f"worst case, {rows.VERDICT_WORDS[worst.verdict]}: margin {said} ({place(worst.state)})"
        if "dots" in near:
            drawing.note(text, sample="dots")
        else:
            drawing.note(f"{text}, far off this scale")
    if one.comes_from:
        name, share = one.comes_from[0]
        drawing.note(f"most of the scatter, {quantity.number(100.0 * share, 0)} %, comes from {name}")
