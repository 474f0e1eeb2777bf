"""ISO 286: limits of size from a basic size, a letter and a grade.

ISO 286-1:2010 with the rules of its tables 2 to 5 (the numbers stand in
``tables/iso286``): deviations of holes of K, M, N up to grade 8 and P to ZC up to
grade 7 carry a delta, js and JS lie evenly about the basic size.
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from fits import tables
from fits.errors import Fault, InputError
from fits.sizes.limits import Limits
from fits.tables import Source

LARGEST = 3150.0
GRADES = ("01", "0", *(str(grade) for grade in range(1, 19)))
LETTERS = (*"abcdefghjkmnprstuvxyz", "cd", "ef", "fg", "js", "za", "zb", "zc")
_CLASS = re.compile(r"([A-Za-z]{1,2})(\d{1,2})")


class Row(NamedTuple):
    """One row of a table of deviations or tolerances."""

    over: float
    up_to: float
    first_grade: int
    last_grade: int
    limit: str
    value: float
    add_delta: bool
    source: Source


def parse_class(text: str, *, side: str = "") -> tuple[str, str]:
    """Letter and grade of a tolerance class such as ``H7``.

    Args:
        text: the class.
        side: "hole" or "shaft" where only one is right.

    Raises:
        InputError: no such letter or grade, or a class of the other side.

    >>> parse_class("H7")
    ('H', '7')
    """
    match = _CLASS.fullmatch(text)
    if not match or match[1].lower() not in LETTERS or match[1] not in _cases(match[1]):
        raise InputError(
            Fault(f"no tolerance class {text}", hint="holes A to ZC, shafts a to zc, such as H7 or g6")
        )
    letter, grade = match[1], match[2]
    if grade not in GRADES:
        raise InputError(Fault(f"no grade {grade}", hint="grades run from 01 to 18"))
    own = "hole" if letter.isupper() else "shaft"
    if side and side != own:
        turned = letter.lower() if own == "hole" else letter.upper()
        raise InputError(
            Fault(f"{text} is a class of {own}s, a {side} is due", hint=f"{side}s: {turned}{grade}")
        )
    return letter, grade


def _cases(letter: str) -> tuple[str, str]:
    return letter.lower(), letter.upper()


def limits(basic: float, letter: str, grade: str) -> Limits:
    """The limits of size of one tolerance class.

    Args:
        basic: basic size in mm, above 0 up to 3150.
        letter: fundamental deviation, upper case for holes.
        grade: "01", "0", "1" to "18".

    Returns:
        Limits in mm; the sources of every table row used.

    Raises:
        InputError: the standard doesn't define this class for this size.

    >>> zone = limits(25.0, "H", "7")
    >>> zone.lower, zone.upper
    (25.0, 25.021)
    """
    name = f"{letter}{grade}"
    if not 0.0 < basic <= LARGEST:
        raise InputError(Fault(f"ISO 286 covers sizes above 0 up to {LARGEST:.0f} mm"))
    if basic <= 1.0 and (GRADES.index(grade) >= GRADES.index("14") or letter in "aAbB"):
        raise InputError(Fault(f"ISO 286 doesn't define {name} for sizes up to 1 mm"))
    if basic <= 1.0 and letter == "N" and GRADES.index(grade) > GRADES.index("8"):
        raise InputError(Fault(f"ISO 286 doesn't define {name} for sizes up to 1 mm"))
    width = _tolerance(basic, grade)
    row = _deviation(basic, letter, grade, name)
    sources = [width.source, row.source]
    near = row.value
    if row.add_delta and basic > 3.0:
        delta = _delta(basic, grade, name)
        near += delta.value
        sources.append(delta.source)
    if row.limit == "half":
        lower, upper = -width.value / 2.0, width.value / 2.0
    elif row.limit in ("es", "ES"):
        lower, upper = near - width.value, near
    else:
        lower, upper = near, near + width.value
    return Limits(
        round(basic + lower / 1000.0, 7),
        round(basic + upper / 1000.0, 7),
        basic,
        "hole" if letter.isupper() else "shaft",
        f"{basic:.8g} {name}",
        sources=tuple(sources),
    )


def note(letter: str, grade: str, tolerance: float) -> str:
    """What was chosen where sources use a class in two ways, or an empty text.

    ``tolerance`` in mm. js and JS: ISO 286-1:1988 lets an odd tolerance of grades 7
    to 11 be halved to the whole um below; the exact half is taken here.

    >>> note("h", "6", 0.013)
    ''
    """
    odd = round(tolerance * 1000.0) % 2 == 1
    if letter.lower() == "js" and odd and grade in ("7", "8", "9", "10", "11"):
        return f"{letter}{grade}: exact half of the tolerance taken; some tables round it down to 1 um"
    return ""


@cache
def _rows(table: str) -> dict[str, list[Row]]:
    """Rows of one table by letter (deviations) or grade (tolerances, deltas)."""
    of = tables.load(f"iso286/{table}")
    column, what = {
        "tolerance_grades": ("tolerance", "ISO 286 tolerance grade"),
        "delta_values": ("delta", "ISO 286 delta"),
    }.get(table, ("deviation", "ISO 286 fundamental deviation"))
    found: dict[str, list[Row]] = {}
    for row in of.rows:
        first, last = row.get("from_grade") or row["grade"], row.get("to_grade") or row["grade"]
        found.setdefault(row.get("letter") or row["grade"], []).append(
            Row(
                float(row["over"]),
                float(row["up_to"]),
                GRADES.index(first),
                GRADES.index(last),
                row.get("limit", ""),
                float(row[column]),
                row.get("add_delta", "0") == "1",
                of.source(row, what),
            )
        )
    return found


def _look_up(table: str, key: str, basic: float, grade: str) -> list[Row]:
    index = GRADES.index(grade)
    return [
        row
        for row in _rows(table).get(key, [])
        if row.over < basic <= row.up_to and row.first_grade <= index <= row.last_grade
    ]


def _tolerance(basic: float, grade: str) -> Row:
    found = _look_up("tolerance_grades", grade, basic, grade)
    if not found:
        raise InputError(Fault(f"ISO 286 doesn't define grade {grade} at {basic:g} mm"))
    return found[0]


def _deviation(basic: float, letter: str, grade: str, name: str) -> Row:
    table = "hole_deviations" if letter.isupper() else "shaft_deviations"
    found = _look_up(table, letter, basic, grade)
    if not found:
        raise InputError(Fault(f"ISO 286 doesn't define {name} at {basic:g} mm"))
    # A row for one grade beats the row of the whole range (M6 at 250 to 315 mm).
    return min(found, key=lambda row: row.last_grade - row.first_grade)


def _delta(basic: float, grade: str, name: str) -> Row:
    found = _look_up("delta_values", grade, basic, grade)
    if not found:
        raise InputError(Fault(f"ISO 286 gives no delta for {name} at {basic:g} mm"))
    return found[0]
