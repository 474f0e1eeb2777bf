"""Patterns of texts as an editor checks them, from the same names and grades as the parsers.

In the regular expressions of JSON Schema (ECMA 262), which know no ``fullmatch`` and no flags.
A pattern may let through what its parser refuses (limits the wrong way round), never the reverse.
"""

from __future__ import annotations

import re
from functools import cache

from fits import quantity
from fits.sizes import ansi_b4, bought, iso286

NUMBER = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
_ANY_NUMBER = rf"{NUMBER}(?:[eE][+-]?[0-9]+)?"
_FRACTION = r"(?:[0-9]+\s+)?[0-9]+/(?:2|4|8|16|32|64|128)"
# A product of units is left to the parser.
_PRODUCT = (
    r"(?:1\s*/|[A-Za-zµμ°_][A-Za-z0-9µμ°_]*\s*[*/·^²³(]"
    r"|[A-Za-zµμ_]+\s+(?!to\b)[a-z]{1,6}(?![A-Za-z0-9]))[^,]*"
)
# What may name a shared size, and a feature with one of its surfaces.
_SHARED = r"[A-Za-z_\u00c0-\u024f][\w\u00c0-\u024f -]*"


def whole(*forms: str) -> str:
    """A pattern for a text that is one of some forms, with nothing but spaces around it."""
    return rf"^\s*(?:{'|'.join(forms)})\s*$"


def any_case(word: str) -> str:
    """A word in capitals or small letters.

    >>> any_case("RC4")
    '[Rr][Cc]4'
    """
    return "".join(f"[{one.upper()}{one.lower()}]" if one.isalpha() else one for one in word)


@cache
def unit(kind: str) -> str:
    """One unit of a kind of quantity, or any product of units."""
    names = (name for name in quantity.unit_names(kind) if name.replace("_", "").replace("°", "").isalpha())
    words = [re.sub("^u", "[uµμ]", name) for name in names]
    # The spelling with a quotation mark is a length's.
    marks = ['"'] if '"' in quantity.unit_names(kind) else []
    return f"(?:{'|'.join([*words, *marks, _PRODUCT])})"


def measure(kind: str, *, negative: bool, ranges: bool) -> str:
    """A quantity with its unit: a length's and a plain number's may be left out."""
    number = rf"{'[+-]?' if negative else '[+]?'}(?:{_FRACTION}|{_ANY_NUMBER})"
    if kind == "number":
        one = first = rf"{number}(?:\s*1)?"
    else:
        first = rf"{number}(?:\s*{unit(kind)})?"
        one = first if kind == "length" else rf"{number}\s*{unit(kind)}"
    return whole(one, *([rf"{first} to {one}"] if ranges else []))


def size(*, side: str = "", zero: bool = False, shared: bool = False, surfaces: tuple[str, ...] = ()) -> str:
    """A size in any notation of a drawing, on one side or either.

    Args:
        side: "hole" or "shaft", whose classes alone are right; empty for both.
        zero: whether nothing at all is a size.
        shared: whether the name of a shared size may stand here.
        surfaces: names of surfaces that it may stand on.
    """
    length = rf"(?:\s*{unit('length')})?"
    basic = rf"[⌀Øø]?\s*(?:{_FRACTION}|{_ANY_NUMBER}){length}"
    forms = [
        basic,
        rf"[⌀Øø]?\s*{NUMBER}\s*(?:mm)?\s*(?:{'|'.join(_classes(side))})",
        # Without a decimal point on either side it is a fraction.
        rf"(?=.*\.)[⌀Øø]?\s*{NUMBER}{length}\s*/\s*{NUMBER}{length}",
        rf"{basic}\s*(?:±|[+]/?[-−])\s*{NUMBER}{length}",
        rf"{basic}\s*(?:[+−-]\s*{NUMBER}|\s0(?:\.0*)?){length}\s*/\s*[+−-]?\s*{NUMBER}{length}",
        rf"[0-9./ ]+\s*{unit('length')}?\s*(?:{'|'.join(map(any_case, ansi_b4.names()))})[Ss]?"
        rf"(?:\s*(?:{any_case('hole')}|{any_case('shaft')}))?",
        rf"(?:{'|'.join(bought.WORDS)}) [^,]+",
    ]
    if zero:
        forms.append(r"0(?:\.0)?(?: mm| in)?")
    if shared:
        forms.append(_SHARED)
    if surfaces:
        forms.append(rf"[A-Za-z_]\w*\.(?:{'|'.join(surfaces)})")
    return whole(*forms)


def _classes(side: str) -> list[str]:
    grades = "|".join(sorted(iso286.GRADES, key=len, reverse=True))
    letters = [*([one.upper() for one in iso286.LETTERS] if side != "shaft" else [])]
    letters += [*(iso286.LETTERS if side != "hole" else [])]
    return [f"(?:{'|'.join(letters)})(?:{grades})"]
