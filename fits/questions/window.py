"""What would hold: the sizes, or any other number, for which every rule holds.

One number is swept with all others at their worst. Each rule in each state gives its own
intervals; what they share is the window, and the rule at each end is what sets it.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain
from typing import Any, NamedTuple

from fits.features.beside import Alternative
from fits.features.feature import Rule
from fits.features.part import Part
from fits.features.when import place
from fits.questions.check import refusals, undecided
from fits.questions.evaluate import relevant
from fits.questions.instead import without_window
from fits.questions.scan import Asked, Scan, Span
from fits.questions.shown import in_notebooks
from fits.questions.targets import Target, decided, target_of


class At(NamedTuple):
    """A dimension at the corner that sets an edge; ``word`` for one that stands for a choice."""

    label: str
    value: float
    kind: str
    word: str = ""


class Edge(NamedTuple):
    """One end of an interval: where, what sets it, and the numbers just beyond it."""

    at: float
    why: str
    feature: str = ""
    rule: str = ""
    state: str = ""
    value: float | None = None
    limit: float | None = None
    kind: str = "number"
    digits: int = 3
    corner: tuple[At, ...] = ()


class Interval(NamedTuple):
    """A stretch of the swept number in which every rule holds."""

    low: Edge
    high: Edge


class RuleRange(NamedTuple):
    """The intervals in which one rule alone holds in one state; none: it never does."""

    feature: str
    rule: str
    state: str
    intervals: tuple[Span, ...]
    why_not: str = ""
    remedies: tuple[str, ...] = ()


class WayOut(NamedTuple):
    """A single other change that opens a window, or opens it wider."""

    what: str
    interval: Span


@in_notebooks
class Window(NamedTuple):
    """The answer for one number: intervals, or why there is none."""

    target: Target
    intervals: tuple[Interval, ...]
    rules: tuple[RuleRange, ...]
    no_window: str = ""
    ways_out: tuple[WayOut, ...] = ()
    alternatives: tuple[Alternative, ...] = ()

    def frame(self) -> Any:
        """Each rule's own intervals as a pandas table, in the inside unit of the number."""
        import pandas as pd

        rows = [
            (one.feature, one.rule, one.state, low, high)
            for one in self.rules
            for low, high in (one.intervals or ((None, None),))
        ]
        return pd.DataFrame(rows, columns=["feature", "rule", "state", "min", "max"])


def window(part: Part, text: str, *, ways_out: bool = True) -> Window:
    """The intervals of one number in which every rule holds, or why there are none.

    Args:
        part: the part; the field asked about may be "?".
        text: ``feature.field`` or ``state.quantity``.
        ways_out: where there is no window, try what single other change would open one.

    Raises:
        InputError: no such number, or another field is still open.

    >>> from fits import Part, Running
    >>> part = Part("pump", {"plunger": Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01")})
    >>> found = window(part, "plunger.shaft").intervals[0]
    >>> round(found.high.at, 3)
    11.99
    """
    target = target_of(part, text)
    undecided(part, but=tuple(target.label.split(".", 1)) if target.key else None)
    whole = decided(part, target)
    # A refused feature has no window, nor has what stands on one.
    refused = dict.fromkeys(text for name in whole.features for text in refusals(whole, name))
    if refused:
        return Window(target, (), (), f"refused: {'; '.join(refused)}")
    found = scanned(Scan(whole, target))
    if ways_out and not found.intervals:
        from fits.questions.ways_out import ways_out as tried

        found = found._replace(ways_out=tried(whole, target, found))
        if target.key:
            found = found._replace(alternatives=without_window(whole, target.label.partition(".")[0]))
    return found


def scanned(scan: Scan) -> Window:
    """The window of a scan."""
    target = scan.target
    every = scan.intervals()
    ranges = tuple(
        RuleRange(
            one.feature,
            one.rule.name,
            one.state,
            tuple(found),
            "" if found else scan.why_not_covered(one),
            one.rule.remedies,
        )
        for one, found in zip(scan.rules, every, strict=True)
    )
    shared = common(every, target.low, target.high)
    intervals = tuple(
        Interval(_edge(scan, low, every, upper=False), _edge(scan, high, every, upper=True))
        for low, high in shared
    )
    no_window = "" if intervals else _conflict(target, ranges)
    return Window(target, intervals, ranges, no_window)


def common(every: list[list[Span]], low: float, high: float) -> list[Span]:
    """What lists of intervals have in common between two ends.

    >>> common([[(0.0, 2.0), (3.0, 5.0)], [(1.0, 4.0)]], 0.0, 9.0)
    [(1.0, 2.0), (3.0, 4.0)]
    """
    shared = [(low, high)]
    for found in every:
        shared = [(max(a, c), min(b, d)) for a, b in shared for c, d in found if max(a, c) <= min(b, d)]
    return sorted(shared)


def _edge(scan: Scan, at: float, every: list[list[Span]], *, upper: bool) -> Edge:
    """What sets one end of the window."""
    target = scan.target
    if at in (target.low, target.high):
        return Edge(at, target.high_why if upper else target.low_why)
    step = target.tolerance * (2.0 if upper else -2.0)
    # Where one rule fails others may stop being covered, a hair before: the one that fails is named.
    close = [
        one
        for one, found in zip(scan.rules, every, strict=True)
        if any(abs((high if upper else low) - at) <= abs(step) for low, high in found)
    ]
    just_beyond = ((one, *scan.beyond(one, at + step)) for one in close)
    first = next(just_beyond)
    failing = (one for one in chain((first,), just_beyond) if _fails(one[0].rule, *one[1:3]))
    one, value, limit, corner = next(failing, first)
    of = next(v for v in type(scan.part.features[one.feature]).values if v.name == one.rule.value)
    return Edge(
        at,
        one.rule.reason,
        one.feature,
        one.rule.name,
        one.state,
        value,
        limit,
        of.kind,
        of.digits,
        _corner(scan, one, corner),
    )


def _fails(rule: Rule, value: float | None, limit: float | None) -> bool:
    if value is None or limit is None:
        return False
    return value < limit if rule.sense == "at least" else value > limit


def _corner(scan: Scan, rule: Asked, corner: Mapping[str, float]) -> tuple[At, ...]:
    """The dimensions, at that corner, that the rule's value depends on."""
    dimensions = relevant(scan.part, rule.feature, [rule.rule.value])
    found = []
    for key, value in corner.items():
        if (one := dimensions.get(key)) is not None:
            label = one.label if one.kind == "number" else key.replace(f"{rule.feature}.", "")
            found.append(At(label, value, one.kind, one.said(value)))
    return tuple(found)


def _conflict(target: Target, ranges: tuple[RuleRange, ...]) -> str:
    """Which rules exclude each other, in words without numbers (the writer has those)."""
    for one in ranges:
        if not one.intervals and one.why_not:
            where = f"{one.rule} ({one.feature}, {place(one.state)})"
            return f"{where} is not covered whatever {target.said} is: {one.why_not}"
    for one in ranges:
        if not one.intervals:
            return f"{one.rule} ({one.feature}, {place(one.state)}) fails whatever {target.said} is"
    return "the rules exclude each other"


def excluding(found: Window) -> tuple[RuleRange, RuleRange] | None:
    """The two rules that exclude each other by the most: one asks for more, one for less."""
    ranges = [one for one in found.rules if one.intervals]
    if not ranges or found.intervals or any(not one.intervals for one in found.rules):
        return None
    lower = max(ranges, key=lambda one: one.intervals[0][0])
    upper = min(ranges, key=lambda one: one.intervals[-1][1])
    return (lower, upper) if lower.intervals[0][0] > upper.intervals[-1][1] else None
