"""Dowel pins: the holes that are suggested for them."""

from __future__ import annotations

import re
from typing import NamedTuple

from fits import tables
from fits.quantity import convert
from fits.sizes.limits import Limits
from fits.tables import Source

# Free holes above the nominal size of the pin, in: dowels in aluminium fixtures.
FREE = (0.0005, 0.0012)
FREE_SOURCE = Source("slip side +0.0005/+0.0012 in above nominal: stgmachine.com/dowel-pin-hole-tolerances")


class Suggested(NamedTuple):
    """The limits of a hole in mm, and who suggests them."""

    low: float
    high: float
    source: Source


def tight_hole(pin: Limits) -> Suggested | None:
    """The press hole that the pin's standard suggests, None where there is none.

    A pin is known by its text, ``dowel 1/4 in`` or ``dowel 6 B18.8.5M``, of the standard series.

    >>> from fits.sizes.notation import parse_size
    >>> tight_hole(parse_size("dowel 1/4 in", side="shaft")) is None
    False
    """
    if not pin.text.startswith("dowel ") or pin.basic is None or "oversize" in pin.text:
        return None
    metric = "B18.8.5M" in pin.text
    if not metric and not re.search(r"in\b|\"", pin.text):
        return None
    table = tables.load("bought/dowels_metric" if metric else "bought/dowels_inch")
    unit, column = ("mm", "size") if metric else ("in", "nominal")
    for row in table.rows:
        size = convert(float(row[column]), unit, "length")
        if row["series"] == "standard" and row["hole_min"] and abs(size - pin.basic) < 0.003:
            low, high = (
                round(convert(float(row[end]), unit, "length"), 9) for end in ("hole_min", "hole_max")
            )
            return Suggested(low, high, table.source(row, "press hole of dowels"))
    return None


def free_hole(pin: Limits) -> Suggested | None:
    """The free hole above the nominal size of a pin, None where its nominal isn't known.

    >>> from fits.sizes.notation import parse_size
    >>> free_hole(parse_size("dowel 6 m6", side="shaft")).low > 6.0
    True
    """
    if pin.basic is None:
        return None
    low, high = (round(pin.basic + convert(end, "in", "length"), 9) for end in FREE)
    return Suggested(low, high, FREE_SOURCE)
