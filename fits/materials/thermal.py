"""How fast a metal warms and cools: specific heat and conductivity."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from fits import tables
from fits.tables import Source


class Heat(NamedTuple):
    """Specific heat (J/(kg K)) near 20 degC and as a mean down to -196 degC, conductivity (W/(m K))."""

    specific_heat: float
    specific_heat_cold: float | None
    conductivity: float
    source: Source


@cache
def heat_of(name: str) -> Heat | None:
    """The figures of a metal of the table, None where it has none.

    >>> heat_of("316").specific_heat_cold
    390.0
    """
    of = tables.load("metals/heat")
    row = of.row("name", name)
    if row is None:
        return None
    return Heat(
        float(row["specific_heat"]),
        float(row["specific_heat_cold"]) if row["specific_heat_cold"] else None,
        float(row["conductivity"]),
        of.source(row, f"specific heat and conductivity of {name}"),
    )
