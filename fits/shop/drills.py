"""Twist drills: the standard series by name, how large a drilled hole comes out."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from fits import quantity, tables
from fits.errors import Fault, InputError, meant
from fits.quantity import convert, read
from fits.shop.reamers import Stock
from fits.tables import Source


class Drill(NamedTuple):
    """A drill: its name in the shop, nominal diameter in mm, series and source."""

    name: str
    size: float
    series: str
    source: Source


SERIES = ("metric", "fraction", "number", "letter")
TYPED = Source("typed", "typed")


@cache
def standard() -> tuple[Drill, ...]:
    """Every drill of the standard series, by rising size.

    >>> len(standard())
    449
    """
    table = tables.load("shop/drills")
    found = (
        Drill(
            row["name"],
            round(convert(float(row["diameter"]), row["unit"], "length"), 7),
            row["series"],
            table.source(row, "drill series"),
        )
        for row in table.rows
    )
    return tuple(sorted(found, key=lambda one: one.size))


def parse(text: str, *, units: str = "mm") -> Drill:
    """A drill by its name or size: ``No. 7``, ``#7``, ``letter X``, ``25/64 in``, ``9.8 mm``.

    Raises:
        InputError: no drill of that number or letter, or no size.

    >>> parse("letter Q").size
    8.4328
    >>> parse("25/64 in").name
    '25/64 in'
    """
    said = text.strip()
    if said.startswith("#"):
        said = f"No. {said[1:].strip()}"
    if said.startswith(("No.", "letter")):
        found = next((one for one in standard() if one.name == said), None)
        if found is None:
            names = [one.name for one in standard() if one.series in ("number", "letter")]
            raise InputError(Fault("no such drill", got=text, hint=meant(said, names) or "No. 1 to No. 97"))
        return found
    size = round(read(said, "length", units=units), 7)
    if size <= 0.0:
        raise InputError(Fault("a drill is above 0", got=text))
    # 12.7 mm is in a metric set, 1/2 in among the fractions.
    inch = (quantity.split(said)[1] or units) == "in"
    same = [one for one in standard() if one.size == size]
    same.sort(key=lambda one: ((one.series == "metric") == inch, SERIES.index(one.series)))
    return same[0] if same else Drill(said, size, "", TYPED)


class Spread(NamedTuple):
    """How far a drilled hole comes out from the size of its drill, mm."""

    low: float
    high: float
    source: Source


def drilled(size: float) -> Spread | None:
    """The tolerance of a hole drilled with a drill of a size in mm, None outside the table.

    >>> drilled(9.8).low
    -0.0254
    """
    table = tables.load("shop/drilled_holes")
    inches = size / 25.4
    for row in table.rows:
        # The table steps by 0.001 in: a size between two rows takes the larger.
        if row["kind"] == "tolerance" and inches <= float(row["to"]) and inches >= 0.0135:
            low, high = (round(convert(float(row[end]), row["unit"], "length"), 9) for end in ("low", "high"))
            return Spread(low, high, table.source(row, "drilled hole"))
    return None


def usual_oversize() -> Spread:
    """What the trade allows a drill to cut over when it chooses one for reaming, mm.

    >>> usual_oversize().low >= 0.0
    True
    """
    table = tables.load("shop/drilled_holes")
    row = next(one for one in table.rows if one["kind"] == "trade rule")
    return Spread(float(row["low"]), float(row["high"]), table.source(row, "drill oversize"))


def for_reaming(reamer: float, stock: Stock, most: float, among: tuple[Drill, ...]) -> tuple[Drill, ...]:
    """Drills that leave a stock (on the diameter, mm) for a reamer, the middle one first.

    The drilled hole is taken as the drill and the trade's oversize. Where none leaves
    that stock, the nearest drill below it, if that leaves no more than ``most``.

    >>> from fits.shop.reamers import usual_stock
    >>> best = for_reaming(10.0, usual_stock(10.0, light=True), 0.8, standard())[0]
    >>> 9.5 <= best.size <= 9.8
    True
    >>> for_reaming(160.0, usual_stock(160.0, light=True), 1.5, standard())
    ()
    """
    low, high = stock.low, stock.high
    over = usual_oversize().high
    middle = reamer - over - (low + high) / 2.0
    inside = [one for one in among if low - 1e-9 <= reamer - over - one.size <= high + 1e-9]
    if inside:
        return tuple(sorted(inside, key=lambda one: (round(abs(one.size - middle), 6), one.size)))
    below = [one for one in among if high < reamer - over - one.size <= most]
    return (max(below, key=lambda one: one.size),) if below else ()
