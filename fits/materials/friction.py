"""Friction of joints by the two families of metal, way of joining and lubrication."""

from __future__ import annotations

from typing import NamedTuple

from fits import tables
from fits.tables import Source

ASSEMBLIES = ("pressed", "heated", "chilled", "pressed on oil")
LUBRICATIONS = ("dry", "oiled", "degreased")


class Friction(NamedTuple):
    """Lowest and highest coefficient of the rows that fit, and their sources."""

    low: float
    high: float
    sources: tuple[Source, ...]


def joint(first: str, second: str, *, assembly: str, lubrication: str) -> Friction | None:
    """Friction of a joint of two families, or None where the table has no row.

    Holding takes ``low``, pressing ``high``. A chilled inner part is joined as a
    heated hub is: the faces don't slide.

    >>> joint("steel", "steel", assembly="pressed", lubrication="oiled")[:2]
    (0.06, 0.08)
    """
    of = tables.load("friction")
    joined = "heated" if assembly == "chilled" else assembly
    pair = {first, second}
    rows = [
        row
        for row in of.rows
        if {row["first"], row["second"]} == pair
        and row["assembly"] == joined
        and row["lubrication"] == lubrication
    ]
    if not rows:
        return None
    return Friction(
        min(float(row["low"]) for row in rows),
        max(float(row["high"]) for row in rows),
        tuple(of.source(row, f"friction {first} on {second}, {joined}, {lubrication}") for row in rows),
    )
