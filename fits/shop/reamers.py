"""Reamers: which one cuts a hole, what a marking means, how large its hole comes out."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple

from fits import tables
from fits.errors import Fault, InputError
from fits.quantity import convert
from fits.sizes.limits import Limits
from fits.sizes.notation import is_classed, parse_size
from fits.tables import Source

RULE = Source(
    "reamer limits of ISO 522 and DIN 1420, as worded in a tool maker's reaming pages: upper limit of the "
    "hole less 0.15 of its tolerance, then 0.35 of it below, each rounded up to 1 um"
)
UNKNOWN = Source("no tolerance is tabled for this marking; the marked size is taken", "memory")
# No reamer is sold for a hole finer than this, mm (ISO 522 begins at grade 6: 6 um).
FINEST = 0.004
MEASURED, MARKED = "measured", "marked"


@dataclass(frozen=True)
class Reamer(Limits):
    """The size of a reamer in mm; ``marked`` when only its marking is known, not its size."""

    marked: bool = False


class Band(NamedTuple):
    """The least and the greatest size of a reamer for a hole, mm."""

    low: float
    high: float


def _up(micrometres: float) -> float:
    """Rounded up to a whole um; what is whole but for its last digit stays."""
    return math.ceil(round(micrometres, 6))


def band(hole: Limits) -> Band:
    """The limits of a reamer for a hole, by the rule of ISO 522 (whole um, inch holes too).

    Raises:
        InputError: a hole without tolerance, or one finer than any reamer is made for.

    >>> band(Limits(10.040, 10.062))
    Band(low=10.05, high=10.058)
    """
    if hole.tolerance < FINEST - 1e-9:
        must = f"a hole to ream has a tolerance of at least {FINEST:g} mm"
        raise InputError(Fault(must, got=hole.text or f"{hole.lower:g} mm", hint="grade 6 or coarser"))
    width = hole.tolerance * 1000.0
    high = hole.upper - _up(0.15 * width) / 1000.0
    return Band(round(high - _up(0.35 * width) / 1000.0, 9), round(high, 9))


def parse(text: str, *, units: str = "mm") -> Reamer:
    """A reamer from its marking or its measured size.

    ``10 H7`` is a reamer made for that hole, ``0.3940 in`` one marked so; only
    ``measured 10.0076`` is a size. A marking is never taken for a size.

    Raises:
        InputError: neither.

    >>> parse("10 H7").lower, parse("10 H7").marked
    (10.006, True)
    >>> parse("measured 10.0076").marked
    False
    """
    word, _, rest = text.strip().partition(" ")
    try:
        if word == MEASURED:
            return _reamer(parse_size(rest, units=units), text, marked=False)
        return _by_marking(text.strip() if word != MARKED else rest, text, units)
    except InputError as error:
        hint = 'write its marking, "10 H7" or "0.3940 in", or "measured 10.0076 mm"'
        raise InputError([replace(f, got=text, hint=f.hint or hint) for f in error.faults]) from None


def _by_marking(marking: str, text: str, units: str) -> Reamer:
    if is_classed(marking):
        hole = parse_size(marking, side="hole", units=units)
        low, high = band(hole)
        return _reamer(replace(hole, lower=low, upper=high, sources=(*hole.sources, RULE)), text, marked=True)
    size = parse_size(marking, units=units)
    if size.tolerance > 0.0:
        raise InputError(Fault("a reamer has one marked size", hint='a measured one: "measured 10.007 mm"'))
    if "in" not in marking and units != "in":
        return _reamer(replace(size, sources=(UNKNOWN,)), text, marked=True)
    low, high, source = _chucking(size.lower)
    both = replace(size, lower=round(size.lower + low, 9), upper=round(size.lower + high, 9))
    return _reamer(replace(both, basic=size.lower, sources=(source,)), text, marked=True)


def _reamer(size: Limits, text: str, *, marked: bool) -> Reamer:
    return Reamer(size.lower, size.upper, size.basic, text=text.strip(), sources=size.sources, marked=marked)


def _chucking(size: float) -> tuple[float, float, Source]:
    """Deviation in mm of an inch chucking or hand reamer from its marked size in mm."""
    table = tables.load("shop/chucking_reamers")
    # The rows reach from 0 to infinity, and a size is above 0.
    row = next(one for one in table.rows if float(one["over"]) < size / 25.4 <= float(one["to"] or math.inf))
    low, high = (convert(float(row[end]), "in", "length") for end in ("low", "high"))
    return low, high, table.source(row, "tolerance of inch reamers")


class Gain(NamedTuple):
    """How much larger than its reamer a hole comes out, mm, and how that is known."""

    low: float
    high: float
    source: Source


@cache
def usual_gain() -> Gain:
    """What is allowed until a trial hole is measured.

    >>> usual_gain().high
    0.012
    """
    table = tables.load("shop/reaming_gain")
    row = next(one for one in table.rows if one["hole"] == "any")
    low, high = (convert(float(row[end]), row["unit"], "length") for end in ("low", "high"))
    return Gain(low, high, table.source(row, "how much a reamer cuts over"))


class Stock(NamedTuple):
    """What is usually left on the diameter for reaming, mm."""

    low: float
    high: float
    source: Source


def usual_stock(size: float, *, light: bool) -> Stock:
    """Stock on the diameter for a reamed size in mm; half as much again in light metals.

    >>> round(usual_stock(10.0, light=True).high / usual_stock(10.0, light=False).high, 9)
    1.5
    """
    table = tables.load("shop/reaming_stock")
    rows = (row for row in table.rows if row["way"] == "hand" and row["unit"] == "mm" and not row["doubt"])
    row = next(one for one in rows if float(one["over"]) < size <= float(one["to"] or math.inf))
    factor = 1.5 if light else 1.0
    source = table.source(row, "stock for reaming")
    return Stock(factor * float(row["low"]), factor * float(row["high"]), source)


def most_stock(size: float) -> Stock:
    """The most that a reamer is asked to take, mm: 1/32 in, a small one less; or the usual's upper end.

    Of a small reamer it is twice the most that any of the sources has for its size: they differ
    by two to one.

    >>> round(most_stock(10.0).high, 3), round(most_stock(1.0).high, 3)
    (0.794, 0.406)
    """
    table = tables.load("shop/reaming_stock")
    row = next(one for one in table.rows if one["way"] == "most")
    printed = max(high for over, to, high in _printed_stock() if over < size <= to)
    most = min(convert(float(row["high"]), row["unit"], "length"), 2.0 * printed)
    return Stock(0.0, max(most, usual_stock(size, light=True).high), table.source(row, "most stock"))


@cache
def _printed_stock() -> tuple[tuple[float, float, float], ...]:
    """Over and to which size, and the most stock, of every row that has sizes, mm."""
    rows = [row for row in tables.load("shop/reaming_stock").rows if row["over"]]
    return tuple(
        (
            convert(float(row["over"]), row["unit"], "length"),
            convert(float(row["to"]), row["unit"], "length") if row["to"] else math.inf,
            convert(float(row["high"]), row["unit"], "length"),
        )
        for row in rows
    )
