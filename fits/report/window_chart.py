"""The window of a number drawn: each rule's own stretch, and what they share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fits.questions.answer import Answer
from fits.questions.fit_window import FitWindow
from fits.questions.window import RuleRange, Window, common
from fits.report import windows
from fits.report.drawing import WIDTH, Drawing
from fits.report.scales import Axis, across, headed, padded, shown, titled

Span = tuple[float, float]
LEFT, RIGHT = 10.0, WIDTH - 10.0
STRIP = 12.0
# How short a stretch is drawn, px.
LEAST = 2.0


def of_windows(answer: Answer, units: str) -> Iterator[tuple[str, list[Drawing]]]:
    """A drawing for each window of an answer, and for the window behind each choice."""
    behind = (chosen.window for chosen in answer.choices if chosen.window is not None)
    for one in (*answer.windows, *behind):
        found = one.window if isinstance(one, FitWindow) else one
        yield found.target.said, [window(found, units)]


def window(found: Window, units: str) -> Drawing:
    """One bar a rule over a common scale, the window itself as a band through all of them."""
    drawing = Drawing(f"window of {found.target.said}")
    bars = list(_bars(found))
    low, high = _ends(found, bars)
    kind = found.target.kind
    axis = Axis(shown(low, kind, units), shown(high, kind, units), LEFT, RIGHT)

    def clipped(span: Span) -> Span:
        left, right = (min(max(axis.at(shown(end, kind, units)), LEFT), RIGHT) for end in span)
        # A single point, which a rule may hold at, is a stretch too short to be seen.
        more = max(LEAST - (right - left), 0.0) / 2.0
        return left - more, right + more

    present = found.target.present
    now = present if present is not None and low <= present <= high else None
    for label, spans in bars:
        headed(drawing, label)
        y = drawing.height + STRIP / 2.0
        for one in found.intervals:
            left, right = clipped((one.low.at, one.high.at))
            band = [
                (left, y - STRIP / 2.0),
                (right, y - STRIP / 2.0),
                (right, y + STRIP / 2.0),
                (left, y + STRIP / 2.0),
            ]
            drawing.path("light", band, closed=True)
        if now is not None:
            x = axis.at(shown(now, kind, units))
            drawing.path("line", [(x, y - STRIP / 2.0), (x, y + STRIP / 2.0)])
        drawing.path("thin", [(LEFT, y), (RIGHT, y)])
        for span in spans:
            left, right = clipped(span)
            drawing.path("heavy", [(left, y), (right, y)])
        drawing.height += STRIP / 2.0
    bottom = drawing.height + 4.0
    if now is not None:
        drawing.note("as it is now, its middle", sample="line")
    across(drawing, axis, bottom)
    headed(drawing, titled(found.target.said, found.target.kind, units))
    drawing.note(windows.headline(found, units), sample="light" if found.intervals else "")
    for text in () if found.intervals else windows.no_window(found, units):
        drawing.note(text)
    return drawing


def _bars(found: Window) -> Iterator[tuple[str, list[Span]]]:
    """Each rule over all its states: what it is called, and where it alone holds."""
    groups: dict[tuple[str, str], list[RuleRange]] = {}
    for one in found.rules:
        groups.setdefault((one.feature, one.rule), []).append(one)
    for (feature, rule), ranges in groups.items():
        spans = common([list(one.intervals) for one in ranges], found.target.low, found.target.high)
        never = [one for one in ranges if not one.intervals]
        word = "" if spans else ": not covered" if any(one.why_not for one in never) else ": nowhere"
        yield f"{rule} ({feature}){word}", spans


def _ends(found: Window, bars: Sequence[tuple[str, list[Span]]]) -> Span:
    """The stretch worth drawing: round the ends that a rule sets, and the present number."""
    target = found.target
    every = [span for _, spans in bars for span in spans]
    marks = {end for span in every for end in span} - {target.low, target.high}
    # At the end of the search a single point is a rule's own end all the same.
    marks |= {low for low, high in every if low == high}
    if target.present is not None:
        marks.add(target.present)
    if not marks:
        return target.low, target.high
    low, high = padded(sorted(marks), 0.25)
    low, high = max(low, target.low), min(high, target.high)
    return (low, high) if low < high else padded([low, high])
