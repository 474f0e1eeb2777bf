"""ANSI B4: the inch classes of fit of B4.1, and what B4.2 prefers among ISO 286 in mm.

A class of B4.1 (RC4, LC2, LT3, LN1, FN5) is a hole and a shaft at once; its tables
(``tables/ansi_b4``) give both by size range on basic hole. With an S behind it (RC4S) it
stands on basic shaft: both members shifted alike until the greatest shaft is the basic
size, so that the clearance stays.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from fits import tables
from fits.errors import Fault, InputError
from fits.sizes.limits import Limits
from fits.tables import Source

INCH = 25.4
FAMILIES = ("RC", "LC", "LT", "LN", "FN")
_SHIFT = Source(
    "basic shaft: hole and shaft of the basic-hole row shifted alike until the greatest shaft is the "
    "basic size (basic shaft system, U.S. Navy draftsman course 14276, p. 3-45 "
    "[draftingmanuals.tpub.com/14276/css/14276_169.htm]; the letter S from memory)",
    "derived",
)


class Row(NamedTuple):
    """One row of the tables: a class in one size range (in), limits from the basic size (thou)."""

    over: float
    up_to: float
    hole_upper: float
    shaft_lower: float
    shaft_upper: float
    source: Source


def fit(basic: float, name: str, *, shaft_basis: bool = False) -> tuple[Limits, Limits]:
    """Hole and shaft of an inch class.

    Args:
        basic: basic size in inches, above 0 up to 19.69.
        name: the class, such as ``RC4``.
        shaft_basis: the form with an S, whose greatest shaft is the basic size.

    Returns:
        Limits of hole and shaft in mm, with the source of the row.

    Raises:
        InputError: no such class, or a size its table doesn't hold.

    >>> hole, shaft = fit(1.0, "RC4")
    >>> [round(size / INCH, 5) for size in (hole.lower, hole.upper, shaft.lower, shaft.upper)]
    [1.0, 1.0012, 0.9984, 0.9992]
    """
    row = _row(basic, name)
    shift = -row.shaft_upper if shaft_basis else 0.0
    text = f"{inches(basic)} in {name}{'S' if shaft_basis else ''}"
    sources = (_SHIFT, row.source) if shaft_basis else (row.source,)

    def member(side: str, lower: float, upper: float) -> Limits:
        ends = [round((basic + (end + shift) / 1000.0) * INCH, 9) for end in (lower, upper)]
        return Limits(ends[0], ends[1], round(basic * INCH, 9), side, text, sources=sources)

    hole = member("hole", 0.0, row.hole_upper)
    shaft = member("shaft", row.shaft_lower, row.shaft_upper)
    if min(hole.lower, shaft.lower) <= 0.0:
        raise InputError(Fault(f"{name} at {inches(basic)} in is wider than the size itself"))
    return hole, shaft


def names() -> tuple[str, ...]:
    """Every class of B4.1, in the order of its tables.

    >>> names()[:3]
    ('RC1', 'RC2', 'RC3')
    """
    return tuple(_rows())


def inches(size: float) -> str:
    """A basic size in inches as text: four decimals, or as many as a fraction needs.

    >>> inches(1.0), inches(1 / 64)
    ('1.0000', '0.015625')
    """
    text = f"{size:.8f}".rstrip("0")
    return text if len(text.partition(".")[2]) > 4 else f"{size:.4f}"


def called(name: str) -> str:
    """What the standard calls a class, such as ``close running`` for RC4.

    >>> called("RC4")
    'close running'
    """
    row = tables.load("ansi_b4/inch_classes").row("class", name)
    return row["name"] if row else ""


def preferred(basic: float, hole: str, shaft: str) -> str:
    """What B4.2 says of a pair of ISO classes and its size in mm; empty for no preferred fit.

    >>> preferred(25.0, "H7", "g6")
    'preferred fit of ANSI B4.2: sliding, hole basis; 25 mm is a size of first choice (from memory)'
    """
    fits = tables.load("ansi_b4/preferred_fits").rows
    found = [row for row in fits if row["fit"] == f"{hole}/{shaft}"]
    if not found:
        return ""
    basis = " and ".join(row["basis"] for row in found)
    sizes = tables.load("ansi_b4/preferred_sizes").rows
    size = next((row for row in sizes if float(row["size"]) == basic), None)
    if size is None:
        said = f"{basic:g} mm is none of its preferred sizes"
    else:
        mark = " (from memory)" if size["evidence"] == "memory" else ""
        said = f"{basic:g} mm is a size of {size['choice']} choice{mark}"
    return f"preferred fit of ANSI B4.2: {found[0]['name']}, {basis} basis; {said}"


@cache
def _rows() -> dict[str, list[Row]]:
    of = tables.load("ansi_b4/inch_fits")
    found: dict[str, list[Row]] = {}
    for row in of.rows:
        over, up_to, hole_upper, shaft_lower, shaft_upper = (
            float(row[key]) for key in ("over", "up_to", "hole_upper", "shaft_lower", "shaft_upper")
        )
        source = of.source(row, f"ANSI B4.1 {row['class']}, over {row['over']} to {row['up_to']} in")
        found.setdefault(row["class"], []).append(
            Row(over, up_to, hole_upper, shaft_lower, shaft_upper, source)
        )
    return found


def _row(basic: float, name: str) -> Row:
    rows = _rows().get(name)
    if rows is None:
        kin = [one for one in names() if one[:2] == name[:2]]
        hint = f"ANSI B4.1 has {kin[0]} to {kin[-1]}" if kin else f"families: {', '.join(FAMILIES)}"
        raise InputError(Fault(f"no inch class {name}", hint=hint))
    if basic <= 0.0:
        raise InputError(Fault("a size is above 0"))
    for row in rows:
        if row.over < basic <= row.up_to:
            return row
    if basic > rows[-1].up_to:
        said, hint = f"ends at {rows[-1].up_to:g} in", "write the limits, such as 20.003/20.000 in"
    else:
        said, hint = f"begins above {rows[0].over:g} in", _held(basic, name[:2])
    raise InputError(Fault(f"not covered: the table of {name} in ANSI B4.1 {said}", hint=hint))


def _held(basic: float, family: str) -> str:
    """The classes of a family that a small size has."""
    held = [name for name, rows in _rows().items() if name[:2] == family and rows[0].over < basic]
    return f"this size has {', '.join(held)}"
