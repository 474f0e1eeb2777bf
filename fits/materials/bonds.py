"""Retaining compounds: what people report of them. Reports judge nothing; data sheets do."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from fits import tables
from fits.tables import Source


class Reported(NamedTuple):
    """A range that people report: mm on the diameter, or degC."""

    low: float
    high: float
    source: Source


@cache
def reported(name: str) -> Reported:
    """What is reported: least gap, best gap or heat limit.

    >>> reported("best gap").high
    0.13
    """
    of = tables.load("bond/reported")
    row = of.row("name", name)
    if row is None:
        raise KeyError(name)
    stem = "gap" if row["gap_low"] else "heat"
    low, high = float(row[f"{stem}_low"]), float(row[f"{stem}_high"])
    return Reported(low, high, of.source(row, f"{name} of retaining compounds"))
