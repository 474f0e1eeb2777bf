"""Windows and choices on the screen: the answer first, then what sets it."""

from __future__ import annotations

from collections.abc import Iterator

from fits import quantity
from fits.questions.answer import Answer
from fits.questions.choose import Choices
from fits.questions.fit_window import FitWindow
from fits.questions.options import Options
from fits.questions.window import Window
from fits.report import options, rows, windows
from fits.report.terminal import alternatives, columns, wrapped


def lines(answer: Answer, units: str) -> list[str]:
    """All windows and choices of an answer."""
    found: list[str] = []
    for one in answer.windows:
        found += _fit(one, units) if isinstance(one, FitWindow) else list(window_lines(one, units))
    for chosen in answer.choices:
        found += options.lines(chosen, units) if isinstance(chosen, Options) else _choices(chosen, units)
        if isinstance(chosen, Options) and chosen.window is not None:
            found += ["", *window_lines(chosen.window, units)]
    found += ["", *wrapped(f"Part: {answer.part}", "  ", "  ")]
    found += columns([[s.name, rows.state_text(s, units)] for s in answer.states], "ll", "    ")
    return found


def window_lines(found: Window, units: str) -> Iterator[str]:
    """One window: its ends, what sets them, and each rule alone."""
    yield from wrapped(windows.headline(found, units), "  ", "")
    for one in found.intervals:
        for word, edge in (("from", one.low), ("to", one.high)):
            yield ""
            at = windows.show(edge.at, found, units, up=edge is one.low)
            yield f"  {word} {at}"
            for text in windows.edge_text(edge, units):
                yield from wrapped(text, "      ", "    ")
            if edge.rule:
                if corner := windows.corner_text(edge, units):
                    yield from wrapped(corner, "      ", "    ")
                yield from wrapped(edge.why, "      ", "    ")
    if not found.intervals:
        for text in windows.no_window(found, units):
            yield from wrapped(text, "    ", "  - ")
        ways = list(windows.ways_out(found, units))
        yield ""
        yield (
            "  Ways out, one change each, tried"
            if ways
            else "  No single other change that was tried opens one"
        )
        for text in ways:
            yield from wrapped(text, "    ", "  - ")
        yield from alternatives(found.alternatives, units)
    yield ""
    yield "  Each rule alone, all states, holds"
    yield from columns(windows.rule_rows(found, units), "lll", "    ")


def _fit(found: FitWindow, units: str) -> list[str]:
    if not found.window.intervals:
        notes = [line for text in found.notes for line in wrapped(text, "    ", "  ! ")]
        return [*window_lines(found.window, units), *([""] if notes else []), *notes]
    said = [f"WINDOW: {found.feature}"]
    for text in windows.fit_lines(found, units):
        said += wrapped(text, "    ", "  - ")
    for text in found.notes:
        said += wrapped(text, "    ", "  ! ")
    if found.splits:
        said += ["", "  It could be shared so (limits for the drawing, checked worst case)"]
        said += columns(windows.split_rows(found, units), "llll", "    ")
    head, *rest = window_lines(found.window, units)
    at = quantity.show(found.at, "length", units=units)
    exact = (
        f"with its mate at exactly {at}: ask for {found.window.target.label} alone for the mate as toleranced"
    )
    return [*said, "", head, *wrapped(exact, "  "), *rest]


def _choices(found: Choices, units: str) -> list[str]:
    said = []
    if found.found:
        inch = any(" in " in one.name for one in found.found)
        order = "inch classes before ISO, widest first" if inch else "widest first"
        said.append(f"CHOOSE for {found.feature}, {order}")
        said += ["", f"  class, limits in {units}, room left at both ends of the window"]
        said += columns(windows.choice_rows(found, units), "llll", "  ")
    else:
        said.append(f"NOTHING TO CHOOSE for {found.feature}")
    for text in found.notes:
        said += wrapped(text, "    ", "  ! ")
    inside = found.window
    return [
        *said,
        "",
        *(_fit(inside, units) if isinstance(inside, FitWindow) else window_lines(inside, units)),
    ]
