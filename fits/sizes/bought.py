"""Sizes of bought parts: a nominal is no size, the usual tolerance of the trade makes it one.

===============================  ====================================================
``dowel 6 m6``                   ISO 2338, ISO 8734: the pin's class
``dowel 6 B18.8.5M``             metric pin after the American standard
``dowel 1/4 in``                 ASME B18.8.2, ``dowel 1/4 in oversize`` its other series
``bearing 40``                   normal class: outside of the outer ring, bore of the inner
``tube 1/2 in x 0.035 in``       stainless tube as drawn (ASTM A269): outside, or its bore
``bush 24``                      copper alloy bush (ISO 4379): outside, or bore as delivered
===============================  ====================================================

The side of the field, hole or shaft, says which of two diameters is meant.
"""

from __future__ import annotations

import re

from fits import quantity, tables
from fits.errors import Fault, InputError
from fits.sizes import iso286
from fits.sizes.limits import Limits
from fits.tables import Source

_N = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
WORDS = ("dowel", "bearing", "tube", "bush")
_BUSH = Source("ISO 4379:1993, table 3: outside s6, above 120 mm r6, bore E6 before fitting", "memory")
# Beyond this outside diameter a bush has the looser class (ISO 4379: from memory), mm.
_LARGE_BUSH = 120.0


def is_bought(text: str) -> bool:
    """Whether a text names a bought part.

    >>> is_bought("dowel 6 m6"), is_bought("6 m6")
    (True, False)
    """
    return text.partition(" ")[0] in WORDS


def is_bearing(text: str) -> bool:
    """Whether a text names a bearing, whose bore and outside are sizes of their own.

    >>> is_bearing("bearing 40"), is_bearing("40 m6")
    (True, False)
    """
    return text.partition(" ")[0] == "bearing"


def limits(text: str, *, side: str = "", units: str = "mm") -> Limits:
    """Limits in mm of a bought part, on the side of its field.

    Args:
        text: the part, as in the table above.
        side: "hole" or "shaft"; empty means the outside of all but nothing else to ask.
        units: the unit of a bare number.

    Raises:
        InputError: an incomplete text, a size that its table doesn't hold, a wrong side.

    >>> limits("dowel 6 m6").lower
    6.004
    """
    word, _, rest = text.partition(" ")
    if word == "dowel":
        if side == "hole":
            raise InputError(Fault("a dowel is a shaft", got=text))
        found = _dowel(text, rest.strip(), units)
    elif word == "bearing":
        found = _bearing(text, quantity.read(rest, "length", units=units), side)
    elif word == "tube":
        found = _tube(text, rest, side, units)
    else:
        found = _bush(text, quantity.read(rest, "length", units=units), side)
    return found


def _bought(word: str, low: float, high: float, nominal: float, side: str, *sources: Source) -> Limits:
    ends = (round(low, 10), round(high, 10), round(nominal, 10))
    return Limits(*ends, side=side, bought=word, sources=sources)


def _dowel(text: str, rest: str, units: str) -> Limits:
    if match := re.fullmatch(rf"({_N})\s*(?:mm)?\s*([a-z]{{1,2}}\d{{1,2}})", rest):
        found = iso286.limits(float(match[1]), *iso286.parse_class(match[2], side="shaft"))
        return _bought("dowel", found.lower, found.upper, float(match[1]), "shaft", *found.sources)
    series = "oversize" if rest.endswith("oversize") else "standard"
    size = rest.removesuffix("oversize").strip()
    if metric := re.fullmatch(rf"({_N})\s*(?:mm)?\s*B18\.8\.5M", size):
        table, at, factor = tables.load("bought/dowels_metric"), float(metric[1]), 1.0
        rows = {float(row["size"]): row for row in table.rows if row["series"] == series}
    else:
        at = quantity.read(size, "length", units=units) / 25.4
        if units != "in" and "in" not in size and '"' not in size:
            hint = "write dowel 6 m6 (ISO), dowel 6 B18.8.5M, or dowel 1/4 in"
            raise InputError(Fault("which standard's dowel?", got=text, hint=hint))
        table, factor = tables.load("bought/dowels_inch"), 25.4
        rows = {float(row["nominal"]): row for row in table.rows if row["series"] == series}
    row = next((row for nominal, row in rows.items() if abs(nominal - at) <= 1e-4), None)
    if row is None:
        sizes = ", ".join(row["size"] for row in rows.values())
        raise InputError(Fault("no such dowel in the table", got=text, hint=f"sizes: {sizes}"))
    low, high = (float(row[column]) * factor for column in ("pin_min", "pin_max"))
    return _bought("dowel", low, high, at * factor, "shaft", table.source(row, "dowel pin"))


def _bearing(text: str, size: float, side: str) -> Limits:
    if not side:
        raise InputError(
            Fault("which ring?", got=text, hint="as a shaft the outside is meant, as a hole the bore")
        )
    ring = "outer" if side == "shaft" else "inner"
    table = tables.load("bought/bearing_rings")
    rows = [row for row in table.rows if row["ring"] == ring]
    row = next((row for row in rows if float(row["over"]) < size <= float(row["to"])), None)
    if row is None:
        ends = f"over {rows[0]['over']} to {rows[-1]['to']} mm"
        hint = "write the size of the ring, such as bearing 40, not the bearing's number"
        raise InputError(Fault(f"not covered: {ring} rings of the table run {ends}", got=text, hint=hint))
    low, high = (size + float(row[column]) / 1000.0 for column in ("lower", "upper"))
    return _bought("bearing", low, high, size, side, table.source(row, f"{ring} ring, normal class"))


def _tube(text: str, rest: str, side: str, units: str) -> Limits:
    outside_text, x, wall_text = rest.partition("x")
    outside = quantity.read(outside_text, "length", units=units)
    table = tables.load("bought/tubes")
    row = next((row for row in table.rows if float(row["over"]) <= outside < float(row["below"])), None)
    if row is None or outside <= 0.0:
        raise InputError(Fault(f"not covered: tubes below {table.rows[-1]['below']} mm only", got=text))
    off, source = float(row["outside"]), table.source(row, "stainless tube as drawn")
    if not x and side == "hole":
        raise InputError(Fault("the bore of a tube needs its wall", got=text, hint=f"{text} x 0.9 mm"))
    wall, share = quantity.read(wall_text, "length", units=units) if x else 0.0, float(row["wall"])
    least = outside - off - 2.0 * wall * (1.0 + share)
    if least <= 0.0 or wall < 0.0 or (x and wall == 0.0):
        raise InputError(Fault("the wall leaves no bore, or is none", got=text))
    if side != "hole":
        return _bought("tube", outside - off, outside + off, outside, "shaft", source)
    most = outside + off - 2.0 * wall * (1.0 - share)
    return _bought("tube", least, most, outside - 2.0 * wall, "hole", source)


def _bush(text: str, size: float, side: str) -> Limits:
    letter = "E" if side == "hole" else ("s" if size <= _LARGE_BUSH else "r")
    found = iso286.limits(size, letter, "6")
    return _bought("bush", found.lower, found.upper, size, side or "shaft", _BUSH)
