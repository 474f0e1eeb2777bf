"""Scales of a chart: round steps, ticks, from numbers to pixels."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from fits import quantity
from fits.report.drawing import LINE, WIDTH, Drawing, width_of, wrap

TALL = 150.0


def round_step(least: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is not below ``least``.

    >>> round_step(0.013), round_step(3.0)
    (0.02, 5.0)
    """
    power = 10.0 ** math.floor(math.log10(least))
    steps = (factor * power for factor in (1.0, 2.0, 5.0, 10.0))
    return float(f"{next(step for step in steps if step >= least * (1.0 - 1e-9)):.6g}")


def ticks(low: float, high: float, most: int) -> tuple[list[float], int]:
    """Round numbers from low to high, at most so many, and the decimals that show them."""
    step = round_step((high - low) / most)
    first = math.ceil(low / step - 1e-9)
    found = [index * step for index in range(first, math.floor(high / step + 1e-9) + 1)]
    return found, max(0, -math.floor(math.log10(step) + 1e-9))


class Axis(NamedTuple):
    """A straight scale: the numbers at its ends and the pixels where they lie."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The pixel of a number."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def inside(self, value: float) -> bool:
        """Whether a number lies on the scale."""
        return self.low <= value <= self.high


def padded(values: Sequence[float], share: float = 0.06) -> tuple[float, float]:
    """Ends of a scale a little beyond some numbers; never of no length."""
    low, high = min(values), max(values)
    room = share * (high - low) or max(abs(high) * 0.05, 1e-3)
    return low - room, high + room


class Plot(NamedTuple):
    """The frame of a chart: both scales, drawn with ticks and their numbers."""

    x: Axis
    y: Axis

    @property
    def top(self) -> float:
        """The upper edge of the frame."""
        return self.y.end


def shown(value: float, kind: str, units: str) -> float:
    """A number as the sheet shows it in ``units``."""
    return quantity.on_sheet(value, kind, units=units)


def titled(label: str, kind: str, units: str) -> str:
    """What a scale measures, with its unit."""
    unit = quantity.sheet_unit(kind, units=units)
    return f"{label}, {unit}" if unit else label


def headed(drawing: Drawing, text: str) -> None:
    """What a scale measures, below what is already drawn."""
    top = drawing.height + 2.0
    for index, line in enumerate(wrap(text, WIDTH - 8.0)):
        drawing.text(4.0, top + LINE * (index + 0.5), line)


def plot(drawing: Drawing, xs: Sequence[float], ys: Sequence[float], x_title: str) -> Plot:
    """A frame with its ticks below what is already drawn, for numbers as the sheet shows them."""
    top = drawing.height + LINE / 2.0 + 1.0
    low, high = padded(ys)
    y_ticks, y_places = ticks(low, high, 4)
    texts = [quantity.number(value, y_places) for value in y_ticks]
    left = max((width_of(text) for text in texts), default=0.0) + 14.0
    y = Axis(low, high, top + TALL, top)
    x = Axis(min(xs), max(xs), left, WIDTH - 8.0)
    drawing.path("thin", [(left, top), (x.end, top), (x.end, y.start), (left, y.start)], closed=True)
    for value, text in zip(y_ticks, texts, strict=True):
        drawing.path("thin", [(left - 4.0, y.at(value)), (left, y.at(value))])
        drawing.text(left - 6.0, y.at(value), text, "end")
    across(drawing, x, y.start)
    headed(drawing, x_title)
    return Plot(x, y)


def across(drawing: Drawing, x: Axis, top: float) -> None:
    """The ticks of a horizontal scale and their numbers, below ``top``."""
    for value, text in _along(x):
        drawing.path("thin", [(x.at(value), top), (x.at(value), top + 4.0)])
        drawing.text(x.at(value), top + 8.0 + LINE / 2.0, text, "middle")


def _along(x: Axis) -> Iterator[tuple[float, str]]:
    """Ticks of a horizontal scale, as many as have room, none beyond the sheet."""
    for most in (5, 4, 3, 2):
        values, places = ticks(x.low, x.high, most)
        texts = [quantity.number(value, places) for value in values]
        widths = [width_of(text) + 6.0 for text in texts]
        gaps = [x.at(b) - x.at(a) for a, b in pairwise(values)]
        if all(gap >= width for gap, width in zip(gaps, widths[1:], strict=False)):
            break
    for value, text, width in zip(values, texts, widths, strict=True):
        if width / 2.0 <= x.at(value) <= WIDTH - width / 2.0:
            yield value, text
