"""Two metals in touch where it is wet: difference of their anodic indices."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from fits import tables
from fits.tables import Source

SURROUNDINGS = ("outdoor", "indoor", "controlled")


class Index(NamedTuple):
    """Anodic index against gold (V); the metal of the higher one is eaten."""

    volts: float
    source: Source


@cache
def index_of(name: str) -> Index | None:
    """The anodic index of a metal of the table, None where it has none.

    >>> index_of("6061-T6").volts
    0.9
    """
    of = tables.load("galvanic/index")
    row = of.row("name", name)
    if row is None:
        return None
    return Index(float(row["index"]), of.source(row, f"anodic index of {name}"))


@cache
def allowed(surroundings: str) -> Index:
    """The largest difference that surroundings allow (V): outdoor, indoor or controlled.

    >>> allowed("outdoor").volts < allowed("controlled").volts
    True
    """
    of = tables.load("galvanic/limits")
    row = of.row("surroundings", surroundings)
    if row is None:
        raise KeyError(surroundings)
    return Index(float(row["difference"]), of.source(row, f"galvanic limit, {row['meaning']}"))
