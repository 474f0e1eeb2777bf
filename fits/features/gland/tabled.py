"""What the gland tables say: limits by duty, the extrusion chart, lead-in, published rows."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np

from fits import quantity, tables
from fits.arrays import Array
from fits.tables import Source

# Sections sold as one size differ by this much between inch and metric lists.
SAME_SECTION = 0.04
# Above this the chart's pressure cycles were not run, degC (from memory).
CHART_HOTTEST = 71.0
SOFT, HARD = 70.0, 90.0


class Limit(NamedTuple):
    """Least and most of a quantity for a duty, None where there is none."""

    least: float | None
    most: float | None
    source: Source


@cache
def limit(what: str, duty: str = "any", form: str = "any", medium: str = "any") -> tuple[Limit, ...]:
    """The rows that speak, the first for the smallest sections."""
    return tuple(found for _, found in _rows(what, duty, form, medium))


@cache
def _rows(what: str, duty: str, form: str, medium: str) -> tuple[tuple[float, Limit], ...]:
    of = tables.load("glands/limits")
    found = []
    for row in of.rows:
        if row["key"] != what or row["duty"] not in (duty, "any"):
            continue
        if row["form"] not in (form, "any") or row["medium"] not in (medium, "any"):
            continue
        ends = [float(row[end]) if row[end] else None for end in ("least", "most")]
        to = float(row["section_to"]) if row["section_to"] else np.inf
        found.append((_fit(row), to, Limit(ends[0], ends[1], of.source(row, what))))
    best = max((fit for fit, _, _ in found), default=0)
    return tuple((to, one) for fit, to, one in found if fit == best)


def _fit(row: dict[str, str]) -> int:
    """How closely a row says what it is for: a medium counts more than a form."""
    return 2 * (row["medium"] != "any") + (row["form"] != "any")


def for_section(what: str, duty: str, form: str, medium: str, section: float) -> Limit:
    """The row for a nominal section: the first whose sections reach up to it."""
    return next(one for to, one in _rows(what, duty, form, medium) if section <= to)


@cache
def _bands(hardness: float) -> tuple[tuple[float, float, float, float], ...]:
    """Rows of the chart for a hardness: section (0 for any), pressures above and to, gap."""
    of = tables.load("glands/extrusion")
    curve = "70" if hardness < HARD else "90"
    return tuple(
        (
            float(row["section"] or 0.0),
            _psi(row["pressure_above"]),
            _psi(row["pressure_to"]),
            float(row["gap"]),
        )
        for row in of.rows
        if row["hardness"] == curve
    )


def _psi(text: str) -> float:
    return quantity.read(f"{text} psi", "pressure")


def chart_end() -> float:
    """The highest pressure of the chart, MPa."""
    return max(to for _, _, to, _ in _bands(SOFT))


def largest_gap(pressure: Array, hardness: float, section: float) -> Array:
    """The chart's largest diametral gap, mm; NaN above its pressures.

    The band that contains the pressure, upper edge included; rows by section count for
    sections from their own up to the next, and the smaller gap holds.
    """
    found = np.full(np.shape(pressure), np.nan)
    for size, above, to, gap in sorted(_bands(hardness)):
        here = (pressure <= to) & ((pressure > above) | (above == 0.0))
        if size == 0.0:
            found = np.where(here, gap, found)
        elif size - SAME_SECTION <= section < _next(size):
            found = np.where(here, np.minimum(gap, found), found)
    return found


@cache
def _next(size: float) -> float:
    return min((one - SAME_SECTION for one, _, _, _ in _bands(SOFT) if one > size), default=np.inf)


def chart_sources() -> tuple[Source, ...]:
    """Where the chart comes from."""
    of = tables.load("glands/extrusion")
    return tuple(dict.fromkeys(of.source(row, "extrusion chart") for row in of.rows))


def lead_in(angle: str, section: float) -> float:
    """The shortest lead-in at 15 or 20 degrees for a section, mm; NaN above the table."""
    rows = tables.load("glands/lead_in").rows
    fits = (row for row in rows if section <= float(row["section_to"]) + SAME_SECTION)
    row = next(fits, None)
    return float("nan") if row is None else float(row[f"length_at_{angle}"])


def largest_radius(section: float) -> float:
    """The largest bottom radius printed for a section, mm: of the nearest one not above it."""
    rows = [
        row for row in tables.load("glands/glands").rows if row["radius_most"] and row["form"] != "dovetail"
    ]
    sizes = sorted({float(row["section"]) for row in rows})
    size = max((one for one in sizes if one <= section + SAME_SECTION), default=sizes[0])
    return max(float(row["radius_most"]) for row in rows if float(row["section"]) == size)


def largest_width(form: str, backups: int, section: float) -> float:
    """The widest groove printed for a section with 0, 1 or 2 backup rings, mm.

    Between two printed sections the wider of both in proportion; face grooves are printed
    without backup rings, so that with them the radial ones count.
    """
    column = ("width", "width1", "width2")[backups] + "_most"
    printed = [row for row in tables.load("glands/glands").rows if row[column] and row["form"] != "dovetail"]
    rows = [row for row in printed if row["form"] == form] or printed
    return section * max(_of_nearest(rows, column, section))


def narrowest_mouth(section: float) -> float:
    """The narrowest dovetail mouth printed for a section, mm, in proportion between sections."""
    rows = [row for row in tables.load("glands/glands").rows if row["form"] == "dovetail"]
    return section * min(_of_nearest(rows, "width_least", section))


def _of_nearest(rows: list[dict[str, str]], column: str, section: float) -> list[float]:
    """A column over the section, of the rows printed for it, or for its neighbours."""
    sizes = sorted({float(row["section"]) for row in rows})
    same = [one for one in sizes if abs(one - section) <= SAME_SECTION]
    below = [one for one in sizes if one < section][-1:]
    above = [one for one in sizes if one > section][:1]
    near = same or below + above
    return [float(row[column]) / float(row["section"]) for row in rows if float(row["section"]) in near]


def published(form: str, duty: str, medium: str, section: float) -> list[dict[str, str]]:
    """The groove rows of a form, duty and medium for a section, best evidence first."""
    of = tables.load("glands/glands")
    rows = [
        row
        for row in of.rows
        if row["form"] == form
        and row["duty"] == duty
        and row["medium"] in (medium, "any")
        and abs(float(row["section"]) - section) <= SAME_SECTION
    ]
    # A row for this very medium first, then one whose printed squeeze could be checked.
    return sorted(
        rows,
        key=lambda row: (
            row["evidence"] != "seen",
            bool(row["doubt"]),
            row["medium"] != medium,
            not row["squeeze_least"],
        ),
    )


def hot_seals(above: float) -> list[dict[str, str]]:
    """Seals that are said to stand more than a temperature, degC."""
    return [row for row in tables.load("glands/hot_seals").rows if float(row["hottest"]) >= above]
