"""The grammar of sizes, as drawings write them.

============================  =======================================
``25 H7``                     tolerance class of ISO 286
``25 H7/g6``                  hole and shaft, only where a pair is asked
``1.0000 in RC4``             inch class of ANSI B4.1: takes the side of its field, or is a pair
``1.0000 in RC4S``            the same on basic shaft; with hole or shaft behind it one side
``25.021/25.000``             limits, upper first
``25 +0.021/0``               basic size and deviations, upper first
``25 ±0.01``, ``25 +-0.01``   equal deviations
``1 3/8 in``, ``25.013``      an exact size
``dowel 6 m6``                a bought part (:mod:`fits.sizes.bought`)
============================  =======================================
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import NamedTuple

from fits import quantity
from fits.errors import Fault, InputError
from fits.sizes import ansi_b4, bought, iso286
from fits.sizes.limits import Limits
from fits.tables import Source

_TYPED = Source("typed", "typed")
_N = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_U = r"(?:\s*([A-Za-zµμ\"]+))?"
_CLASSED = re.compile(rf"({_N})\s*(mm)?\s*([A-Za-z]{{1,2}}\d{{1,3}})(?:\s*/\s*(\S+))?")
# A class of ISO 286 on a size in inches; and an inch class on a size in any unit or none.
_ISO_ON_INCHES = re.compile(r"([\d./ ]+?)\s*(?:in|inch|\")\s*([A-Za-z]{1,2}\d{1,3}(?:\s*/\s*\S+)?)")
_INCH_CLASS = re.compile(r"(.*?)\s*(RC|LC|LT|LN|FN)\s?(\d+)\s*(.*)", re.IGNORECASE)
_AFTER_CLASS = re.compile(r"(S)?\s*(hole|shaft)?", re.IGNORECASE)
# Classes set apart, or with the unit behind them: what was meant is plain.
_LOOSE = re.compile(
    rf"({_N})\s*(mm\b)?\s*([A-Za-z]{{1,2}})\s?(\d{{1,2}})(?:[ ,;/-]+([A-Za-z]{{1,2}})\s?(\d{{1,2}}))?\s*(mm)?"
)
_LIMITS = re.compile(rf"({_N}){_U}\s*/\s*({_N}){_U}")
_DEVIATIONS = re.compile(rf"(.+?)\s*([+-]\s*{_N}|\s0(?:\.0*)?){_U}\s*/\s*([+-]?\s*{_N}){_U}")
_ONE_DEVIATION = re.compile(rf"((?:[\d ]+/\d+|{_N}){_U})\s+([+-]\s*{_N}{_U})")
_EQUAL = re.compile(rf"(.+?)\s*(?:±|\+/?-)\s*({_N}){_U}")
# The sign of a diameter, and the letters that keyboards have for it.
_DIAMETER = str.maketrans("", "", "⌀Øø")
# A size beyond these is a slip of the pen, mm.
_SMALLEST, _LARGEST = 1e-6, 1e6
# Members of one fit have the same basic size; this much apart is a slip of the pen.
BELONG = 0.05


class _InchClass(NamedTuple):
    """An inch class as it was written: basic size in inches, class, form, and side if said."""

    basic: float
    name: str
    shaft_basis: bool
    side: str


def parse_size(text: str, *, side: str = "", units: str = "mm") -> Limits:
    """One size in any notation of a drawing.

    Args:
        text: the size.
        side: "hole" or "shaft" where the field says so, else empty.
        units: "mm" or "in", the unit of numbers without one.

    Returns:
        Limits in mm.

    Raises:
        InputError: what is wrong with the text, and what would be right.

    >>> parse_size("25 -0.007/-0.020").lower
    24.98
    """
    stripped = _clean(text)
    if stripped.startswith("-"):
        raise InputError(Fault("a size is above 0", got=text))
    try:
        found = _match(stripped, side, units)
    except InputError as error:
        raise InputError([replace(fault, got=text) for fault in error.faults]) from None
    _possible(found, text)
    return replace(found, text=text.strip(), side=side or found.side)


def parse_pair(text: str, *, units: str = "mm") -> tuple[Limits, Limits]:
    """Hole and shaft of a pair such as ``25 H7/g6`` or ``1.0000 in RC4``.

    ``units`` is that of an inch class without a unit: only "in" takes one.

    Raises:
        InputError: no pair, or one of its classes is not defined.

    >>> hole, shaft = parse_pair("25 H7/g6")
    >>> hole.upper, shaft.lower
    (25.021, 24.98)
    """
    cleaned = _clean(text)
    try:
        if is_inch_class(text):
            inch = _inch_class(cleaned, units)
            hole, shaft = ansi_b4.fit(inch.basic, inch.name, shaft_basis=inch.shaft_basis)
            _possible(hole, text)
            _possible(shaft, text)
            return hole, shaft
        match = _CLASSED.fullmatch(cleaned)
        if not match or not match[4]:
            raise InputError(Fault("a pair is due", hint="write it as 25 H7/g6 or 1.0000 in RC4"))
        basic = float(match[1])
        hole = iso286.limits(basic, *iso286.parse_class(match[3], side="hole"))
        shaft = iso286.limits(basic, *iso286.parse_class(match[4], side="shaft"))
        _possible(hole, text)
        _possible(shaft, text)
    except InputError as error:
        raise InputError([replace(fault, got=text) for fault in error.faults]) from None
    return hole, shaft


def is_pair(text: str) -> bool:
    """Whether a text is written as a pair: of classes, or an inch class with no side.

    >>> is_pair("25 H7/g6"), is_pair("1.0000 in RC4"), is_pair("1.0000 in RC4 shaft")
    (True, True, False)
    """
    cleaned = _clean(text)
    if inch := _INCH_CLASS.fullmatch(cleaned):
        return not inch[4].lower().endswith(("hole", "shaft"))
    match = _CLASSED.fullmatch(cleaned)
    return bool(match and match[4])


def is_inch_class(text: str) -> bool:
    """Whether a text is a size with an inch class of ANSI B4.1, right or wrong.

    >>> is_inch_class("1 3/8 in FN2"), is_inch_class("25 H7")
    (True, False)
    """
    return bool(_INCH_CLASS.fullmatch(_clean(text)))


def is_classed(text: str) -> bool:
    """Whether a text is a size with a tolerance class of ISO 286.

    >>> is_classed("25 H7"), is_classed("25.021/25.000")
    (True, False)
    """
    return bool(_CLASSED.fullmatch(_clean(text))) and not is_inch_class(text)


def belong(hole: Limits, shaft: Limits) -> Fault | None:
    """The fault of two members that can't be of one fit, or None.

    >>> belong(Limits(25.0, 25.1), Limits(24.9, 25.0)) is None
    True
    """
    apart = abs(hole.nominal - shaft.nominal)
    if apart <= BELONG * max(hole.nominal, shaft.nominal):
        return None
    return Fault(
        f"hole {hole.nominal:g} mm and shaft {shaft.nominal:g} mm can't belong together",
        hint="members of one fit have about the same size",
    )


def _possible(size: Limits, text: str) -> None:
    """Refuse limits that no part can have; NaN is none."""
    if not (size.lower >= 0.0 and size.upper > 0.0):
        raise InputError(Fault("a size is above 0", got=text))
    if not _SMALLEST <= size.upper <= _LARGEST:
        raise InputError(Fault("no size that a shop meets: 1e-6 mm to 1 km", got=text))


def _clean(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("−", "-").translate(_DIAMETER).strip())


def _match(text: str, side: str, units: str) -> Limits:
    if bought.is_bought(text):
        return bought.limits(text, side=side, units=units)
    if re.search(r"\d,\d", text):
        quantity.split(text)  # words the refusal
    if _INCH_CLASS.fullmatch(text):
        return _by_inch_class(text, side, units)
    if match := _ISO_ON_INCHES.fullmatch(text):
        raise InputError(_iso_on_inches(match[1], match[2]))
    if match := _CLASSED.fullmatch(text):
        return _by_class(match, side, units)
    if (match := _LIMITS.fullmatch(text)) and ("." in match[1] or "." in match[3]):
        return _by_limits(match, units)
    if match := _EQUAL.fullmatch(text):
        basic = quantity.read(match[1], "length", units=_of_basic(match[1], match[3], units))
        half = quantity.convert(float(match[2]), match[3] or _unit(match[1], units), "length")
        return Limits(basic - half, basic + half, basic, sources=(_TYPED,))
    if match := _DEVIATIONS.fullmatch(text):
        return _by_deviations(match, units)
    if match := _ONE_DEVIATION.fullmatch(text):
        both = f"{match[3]}/0" if match[3].startswith("+") else f"0/{match[3]}"
        raise InputError(
            Fault("one deviation where two are due", hint=f"upper first, such as {match[1]} {both}")
        )
    if match := _LOOSE.fullmatch(text):
        _refuse_loose(match)
    exact = quantity.read(text, "length", units=units)
    return Limits(exact, exact, exact, sources=(_TYPED,))


def _refuse_loose(match: re.Match[str]) -> None:
    """Refuse a class that is written as no class is, with the right way; leave what is none."""
    classes = [f"{letters}{grade}" for letters, grade in (match.group(3, 4), match.group(5, 6)) if letters]
    try:
        for one, side in zip(classes, ("hole", "shaft") if len(classes) > 1 else ("",), strict=True):
            iso286.parse_class(one, side=side)
    except InputError:
        return
    unit = " mm" if match[2] or match[7] else ""
    raise InputError(
        Fault("a class stands right behind its size", hint=f"write {match[1]}{unit} {'/'.join(classes)}")
    )


def _unit(basic: str, units: str) -> str:
    return quantity.split(basic)[1] or units


def _of_basic(basic: str, unit: str, units: str) -> str:
    """The unit that the deviations lend their basic size; um and thou are of deviations only."""
    fine = {"um": "mm", "thou": "in"}.get(quantity.split(f"1 {unit}")[1] if unit else "")
    if fine and not quantity.split(basic)[1]:
        hint = f"write {basic} {fine}"
        raise InputError(Fault(f"in {unit} stand the deviations, and the size?", hint=hint))
    return unit or units


def _by_class(match: re.Match[str], side: str, units: str) -> Limits:
    if match[4]:
        raise InputError(Fault("one size is due, not a pair", hint=f"write {match[1]} {match[3]}"))
    letter, grade = iso286.parse_class(match[3], side=side)
    if units == "in" and not match[2]:
        raise InputError(
            Fault(
                "ISO classes are for mm and this part is in inches",
                hint=f"write {match[1]} mm {match[3]} if mm are meant, else an inch class such as "
                f"{match[1]} in RC4, or the limits",
            )
        )
    return iso286.limits(float(match[1]), letter, grade)


def _inch_class(text: str, units: str) -> _InchClass:
    match = _INCH_CLASS.fullmatch(text)
    assert match is not None
    name = f"{match[2].upper()}{match[3]}"
    after = _AFTER_CLASS.fullmatch(match[4])
    if not after:
        raise InputError(
            Fault(
                f"{match[4]} stands behind {name}",
                hint=f"an inch class is hole and shaft at once; {name}S is its form on basic shaft, and "
                f"{name} hole or {name} shaft one side",
            )
        )
    number, unit = quantity.split(match[1]) if match[1] else (None, "")
    if number is None:
        raise InputError(Fault(f"no size before {name}", hint=f"write it as 1.0000 in {name}"))
    if not unit and units != "in":
        raise InputError(
            Fault(
                f"no unit, and {name} is a class for inches",
                hint=f"write {ansi_b4.inches(number)} in {name} if inches are meant, else a class for mm "
                f"such as {number:g} H7",
            )
        )
    if unit not in ("", "in"):
        inch = ansi_b4.inches(round(quantity.convert(number, unit, "length") / ansi_b4.INCH, 4))
        raise InputError(Fault(f"{name} is a class for inches", hint=f"write {inch} in {name}"))
    return _InchClass(number, name, bool(after[1]), (after[2] or "").lower())


def _by_inch_class(text: str, side: str, units: str) -> Limits:
    inch = _inch_class(text, units)
    if side and inch.side and inch.side != side:
        raise InputError(Fault(f"this is the {inch.side} of {inch.name}, a {side} is due"))
    if not (side or inch.side):
        raise InputError(
            Fault(
                f"{inch.name} is a hole and a shaft, and nothing here says which",
                hint=f"write {text} hole or {text} shaft",
            )
        )
    hole, shaft = ansi_b4.fit(inch.basic, inch.name, shaft_basis=inch.shaft_basis)
    return hole if (side or inch.side) == "hole" else shaft


def _iso_on_inches(basic: str, letters: str) -> Fault:
    size = quantity.read(f"{basic} in", "length")
    inch = ansi_b4.inches(size / ansi_b4.INCH)
    return Fault(
        "ISO classes are for mm",
        hint=f"write {size:.7g} mm {letters}, an inch class such as {inch} in RC4, or the limits in inches",
    )


def _by_limits(match: re.Match[str], units: str) -> Limits:
    unit = match[4] or match[2] or units
    upper = quantity.convert(float(match[1]), match[2] or unit, "length")
    lower = quantity.convert(float(match[3]), unit, "length")
    if lower > upper:
        raise InputError(Fault("the limits are swapped", hint=f"upper limit first: {match[3]}/{match[1]}"))
    return Limits(round(lower, 10), round(upper, 10), sources=(_TYPED,))


def _by_deviations(match: re.Match[str], units: str) -> Limits:
    first, second = (part.replace(" ", "") for part in (match[2], match[4]))
    unit = match[5] or match[3] or _unit(match[1], units)
    basic = quantity.read(match[1], "length", units=_of_basic(match[1], unit, units))
    upper = quantity.convert(float(first), match[3] or unit, "length")
    lower = quantity.convert(float(second), unit, "length")
    if lower > upper:
        raise InputError(
            Fault("the deviations are swapped", hint=f"upper deviation first: {match[1]} {second}/{first}")
        )
    return Limits(round(basic + lower, 10), round(basic + upper, 10), basic, sources=(_TYPED,))
