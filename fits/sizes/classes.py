"""The classes a size may have where one is looked for: ISO 286, and B4.1 for sizes in inches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fits.errors import InputError
from fits.sizes import ansi_b4, iso286
from fits.sizes.limits import Limits

GRADES = ("5", "6", "7", "8", "9", "10", "11")
LETTERS = (*"abcdefgh", "js", *"kmnprstuvxyz", "za", "zb", "zc")
# Classes a shop meets most, and has reamers and bar for (common practice).
USUAL = frozenset(
    {"H6", "H7", "H8", "H9", "G7", "F8", "E9", "JS7", "K7", "N7", "P7", "R7", "S7"}
    | {"h6", "h7", "h9", "g6", "f7", "e8", "d9", "js6", "k6", "m6", "n6", "p6", "r6", "s6", "u6"}
)
# Limits typed in inches stand for the nearest 1/64 in when it is this near (in).
NEAR = 0.003


def zones(basic: float, side: str, units: str) -> Iterator[Limits]:
    """Every zone of one side at a basic size (mm): inch classes first where sizes are in inches.

    >>> [zone.text for zone in zones(25.0, "hole", "mm")][0]
    '25 A5'
    """
    if units == "in":
        seen = set()
        for pair in _inch_pairs(basic):
            zone = pair[0] if side == "hole" else pair[1]
            # Many classes have the same hole.
            if (zone.lower, zone.upper) not in seen:
                seen.add((zone.lower, zone.upper))
                yield zone
    yield from _iso_zones(basic, side, units).values()


def pairs(basic: float, units: str) -> Iterator[tuple[Limits, Limits]]:
    """Every pair at a basic size (mm): inch classes, then H with every shaft, h with every hole.

    >>> hole, shaft = next(iter(pairs(25.0, "mm")))
    >>> hole.basic, shaft.basic
    (25.0, 25.0)
    """
    if units == "in":
        yield from _inch_pairs(basic)
    holes, shafts = _iso_zones(basic, "hole", units), _iso_zones(basic, "shaft", units)
    for grade in GRADES[1:5]:
        yield from ((holes[f"H{grade}"], zone) for zone in shafts.values())
    for grade in GRADES[:5]:
        for name, zone in holes.items():
            if f"h{grade}" in shafts and not name.startswith("H"):
                yield zone, shafts[f"h{grade}"]


def _inch_pairs(basic: float) -> Iterator[tuple[Limits, Limits]]:
    """Basic hole and basic shaft of every class that the size has."""
    size = _inch_size(basic)
    for name in ansi_b4.names():
        for shaft_basis in (False, True):
            try:
                hole, shaft = ansi_b4.fit(size, name, shaft_basis=shaft_basis)
            except InputError:
                continue
            # On basic shaft nothing moves where the greatest shaft is basic already.
            if not shaft_basis or hole.lower != hole.basic:
                yield hole, shaft


def _inch_size(basic: float) -> float:
    """A basic size (mm) in inches as it is written: a fraction, else four decimals."""
    size = round(basic / ansi_b4.INCH, 7)
    return size if size * 128.0 == round(size * 128.0) else round(size, 4)


def _iso_zones(basic: float, side: str, units: str) -> dict[str, Limits]:
    found = {}
    for letter in LETTERS:
        for grade in GRADES:
            name = letter.upper() if side == "hole" else letter
            try:
                zone = iso286.limits(basic, name, grade)
            except InputError:
                continue
            # Beside inches a class of ISO 286 says its unit.
            text = zone.text if units == "mm" else f"{basic:.8g} mm {name}{grade}"
            found[f"{name}{grade}"] = replace(zone, text=text)
    return found


def basic_size(size: Limits, units: str) -> float:
    """The basic size (mm) that a class is sought for: the written one, else the nearest round size.

    >>> basic_size(Limits(16.06, 16.08), "mm"), basic_size(Limits(12.7, 12.73), "in")
    (16.1, 12.7)
    """
    if size.basic is not None:
        return size.basic
    if units == "mm":
        return round(size.middle, 1)
    inches = size.middle / ansi_b4.INCH
    fraction = round(inches * 64.0) / 64.0
    return (fraction if abs(fraction - inches) <= NEAR else round(inches, 3)) * ansi_b4.INCH


def at_size(basic: float, letters: str) -> str:
    """A class written without its size, at a basic size in mm.

    >>> at_size(16.0, "H7"), at_size(25.4, "RC4")
    ('16 mm H7', '1.0000 in RC4')
    """
    if letters[:2].upper() in ansi_b4.FAMILIES:
        return f"{ansi_b4.inches(_inch_size(basic))} in {letters}"
    return f"{basic:.8g} mm {letters}"


def pair_name(hole: Limits, shaft: Limits) -> str:
    """A pair as it is written: an inch class as a whole, else both classes behind the size.

    >>> from fits.sizes.notation import parse_size
    >>> pair_name(parse_size("25 H7", side="hole"), parse_size("25 g6", side="shaft"))
    '25 H7/g6'
    """
    return hole.text if hole.text == shaft.text else f"{hole.text}/{_letters(shaft)}"


def foreign(zone: Limits, units: str) -> bool:
    """Whether a class is of the other system of units.

    >>> from fits.sizes.notation import parse_size
    >>> foreign(parse_size("25 H7"), "in"), foreign(parse_size("25 H7"), "mm")
    (True, False)
    """
    return (_letters(zone)[:2] in ansi_b4.FAMILIES) != (units == "in")


def usual(zone: Limits) -> bool:
    """Whether a shop meets this class often: of inch classes those on basic hole.

    >>> from fits.sizes.notation import parse_size
    >>> usual(parse_size("25 H7")), usual(parse_size("25 C11"))
    (True, False)
    """
    letters = _letters(zone)
    return letters in USUAL or (letters[:2] in ansi_b4.FAMILIES and not letters.endswith("S"))


def _letters(zone: Limits) -> str:
    return zone.text.rsplit(" ", 1)[-1]
