"""Text <-> numbers in the inside units. The only file that imports pint.

A quantity in text is one number and one unit: ``12 mm``, ``1 1/4 in``, ``-25 degC``.
The units of the trade are exact factors here; any other goes through pint with
``units.txt`` as the allow-list.
"""

from __future__ import annotations

import math
import re
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fits.errors import Fault, InputError, meant
from fits.units import KINDS as KINDS
from fits.units import OWN

if TYPE_CHECKING:
    from collections.abc import Iterator

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_FRACTION = re.compile(r"(?:([0-9]+)\s+)?([0-9]+)/([0-9]+)")
# A quantity is a number and a unit: longer than this it is neither (characters).
_LONGEST = 100
# The units of texts that name none.
_SHOWN: ContextVar[str] = ContextVar("shown", default="mm")
_UNIT = r"(?:1|[A-Za-z_]+(?:(?:\^|\*\*)-?[1-3])?)"
_UNIT_PRODUCT = re.compile(rf"{_UNIT}(?:\s*[*/]\s*(?:{_UNIT}|\({_UNIT}\s*\*\s*{_UNIT}\))|\s+{_UNIT})*")
_SPELLINGS = {'"': "in", "inch": "in", "°C": "degC", "°F": "degF", "C": "degC", "F": "degF"}
LENGTH_UNITS = ("mm", "in")


def _normal(unit: str) -> str:
    unit = unit.strip().replace("µ", "u").replace("μ", "u").replace("·", "*").replace("²", "^2")
    unit = unit.replace("³", "^3").replace("N m", "N*m").replace("Nm", "N*m")
    return _SPELLINGS.get(unit, unit)


def split(text: str) -> tuple[float | None, str]:
    """The number (None when there is none) and the unit of a text.

    Raises:
        InputError: decimal comma, thousands space, nan, inf, a number too large.

    >>> split("1 1/4 in")
    (1.25, 'in')
    """
    stripped = text.strip()
    _refuse_bad_numbers(text, stripped)
    fraction = _FRACTION.match(stripped)
    if fraction:
        return _fraction(text, fraction), _normal(stripped[fraction.end() :])
    number = _NUMBER.match(stripped)
    if not number:
        return None, _normal(stripped)
    value = float(number.group())
    if not math.isfinite(value):
        raise InputError(Fault("the number is too large to mean a size", got=text))
    rest = stripped[number.end() :]
    if re.match(r"\s+[+-]?[\d.]", rest) and not re.match(r"\s+1\s*/", rest):
        raise InputError(Fault("two numbers where one is due", got=text, hint="write 1000 mm, not 1 000 mm"))
    return value, _normal(rest)


def _refuse_bad_numbers(text: str, stripped: str) -> None:
    if not stripped:
        raise InputError(Fault("nothing stands here", hint="write a number and a unit"))
    if len(stripped) > _LONGEST:
        raise InputError(Fault("too long for one number and one unit", got=text))
    if re.search(r"\d,\d", stripped):
        right = re.sub(r"(\d),(\d)", r"\1.\2", stripped)
        raise InputError(Fault("decimal comma", got=text, hint=f'write "{right}"'))
    if re.match(r"[+-]?(nan|inf)", stripped, re.IGNORECASE):
        raise InputError(Fault("not a finite number", got=text))


def _fraction(text: str, match: re.Match[str]) -> float:
    whole, top, bottom = (int(part or 0) for part in match.groups())
    if bottom == 0 or bottom & (bottom - 1) or bottom > 128:
        raise InputError(Fault("an inch fraction has 2, 4, 8, 16, 32, 64 or 128 below the line", got=text))
    return whole + top / bottom


def read(text: str, kind: str, *, units: str = "mm") -> float:
    """A quantity in text as a float in the inside unit of its kind.

    Args:
        text: one number and one unit; a bare number only for a length (it takes
            ``units``) and for a plain number.
        kind: a name of :data:`KINDS`.
        units: "mm" or "in", the unit of a bare length.

    Returns:
        The number in mm, um (roughness), degC, K, MPa, N, N*mm, rad/s, kg/m^3, 1/K, s.

    Raises:
        InputError: no number, no unit, an unknown unit, or one of another kind.

    >>> read("1 1/4 in", "length")
    31.75
    >>> read("68 degF", "temperature")
    20.0
    """
    value, unit = split(text)
    wanted = KINDS[kind]
    if value is None:
        raise InputError(Fault("no number", got=text, hint=f"units: {wanted.examples}"))
    if kind == "number":
        if unit not in ("", "1"):
            raise InputError(Fault("a plain number is due, without a unit", got=text))
        return value
    if not unit:
        if kind != "length":
            raise InputError(Fault(f"{_a(kind)} needs a unit", got=text, hint=f"units: {wanted.examples}"))
        unit = units
    if "/" in text.split(unit)[0] and kind == "length" and unit != "in":
        raise InputError(Fault("a fraction is for inches", got=text, hint="write 1/2 in"))
    return convert(value, unit, kind, text=text)


def convert(value: float, unit: str, kind: str, *, text: str = "") -> float:
    """A number with its unit as a float in the inside unit of ``kind``.

    Raises:
        InputError: an unknown unit, or one of another kind.

    >>> convert(1.0, "in", "length")
    25.4
    """
    unit = _normal(unit)
    own = OWN.get(unit)
    if own is not None:
        of_kind, factor, offset = own
        if of_kind == kind:
            return _finite(value * factor + offset, text)
        if of_kind == "length" and kind == "roughness":
            return _finite(value * factor * 1000.0, text)
        if unit == "K" and kind == "temperature":
            return value - 273.15
        if of_kind != "temperature difference":
            raise InputError(_wrong_kind(text or f"{value} {unit}", unit, of_kind, kind))
    return _through_pint(value, unit, kind, text or f"{value} {unit}")


def linear(unit: str, kind: str) -> tuple[float, float]:
    """Factor and offset from a unit to the inside unit of ``kind``, for whole columns.

    Raises:
        InputError: an unknown unit, or one of another kind.

    >>> linear("in", "length")
    (25.4, 0.0)
    """
    own = OWN.get(_normal(unit))
    if own is not None and own[0] == kind:
        return own[1], own[2]
    offset = convert(0.0, unit, kind)
    return convert(1.0, unit, kind) - offset, offset


def _wrong_kind(text: str, unit: str, of_kind: str, kind: str) -> Fault:
    hint = f"units: {KINDS[kind].examples}"
    if kind == "temperature difference" and of_kind == "temperature":
        hint = "a difference is given in K or delta_degC"
    return Fault(f"{_a(kind)} is due, {unit} is {_a(of_kind)}", got=text, hint=hint)


def _a(kind: str) -> str:
    return f"an {kind}" if kind == "expansion" else f"a {kind}"


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(Path(__file__).with_name("units.txt"), cache_folder=None)


def _through_pint(value: float, unit: str, kind: str, text: str) -> float:
    # Text that is no product of units never reaches pint's own parser.
    if len(unit) > 40 or not _UNIT_PRODUCT.fullmatch(unit):
        raise InputError(_unknown(text, unit, kind))
    import pint

    registry = _registry()
    product = re.sub(r"(?<=[\w)])\s+(?=[\w(])", "*", unit).replace("^", "**")
    try:
        quantity = registry.Quantity(value, registry.parse_units(product))
    # "nan" is a number to pint, and a unit with a number in it a ValueError.
    except (pint.PintError, ValueError):
        raise InputError(_unknown(text, unit, kind)) from None
    try:
        result = float(quantity.to(KINDS[kind].inside.replace("^", "**")).magnitude)
    except pint.PintError:
        raise InputError(_wrong_kind(text, unit, "unit of another kind", kind)) from None
    return _finite(result, text)


def _finite(value: float, text: str) -> float:
    if not math.isfinite(value):
        raise InputError(Fault("the number is too large to mean anything", got=text))
    return value


def _unknown(text: str, unit: str, kind: str) -> Fault:
    names = [*OWN, "m", "cm", "uin", "kPa", "Pa", "kgf", "N*mm", "lbf*in"]
    # A unit of another kind would be refused again.
    near = meant(unit, [name for name in names if _measures(name, kind)])
    # For mn the nearest is m, for 1/F it is 1/K: others of the same kind, and not what is meant.
    sure = kind != "expansion" and (len(unit) > 2 or f'"{unit}"'.lower() in near.lower())
    hint = near if near and sure else f"units of {_a(kind)}: {KINDS[kind].examples}"
    return Fault(f"unknown unit {unit}", got=text, hint=hint)


def unit_names(kind: str) -> tuple[str, ...]:
    """Every name of one unit that :func:`read` takes for a kind, in a fixed order; products are left out.

    >>> unit_names("roughness")[:3]
    ('mm', 'in', 'thou')
    """
    names = dict.fromkeys((*OWN, *_SPELLINGS, *sorted(dir(_registry()))))
    return tuple(name for name in names if name not in ("1", "") and _measures(name, kind))


def _measures(unit: str, kind: str) -> bool:
    try:
        convert(1.0, unit, kind)
    except InputError:
        return False
    return True


def report_value(value: float, kind: str) -> float:
    """A number in the inside unit as the number that JSON and CSV carry.

    >>> report_value(1000.0, "torque")
    1.0
    """
    return value * KINDS[kind].to_report


def report_unit(kind: str) -> str:
    """The unit of :func:`report_value`; plain numbers and fractions have "1".

    >>> report_unit("torque"), report_unit("number")
    ('N*m', '1')
    """
    return KINDS[kind].report


def on_sheet(value: float, kind: str, *, units: str = "mm") -> float:
    """A number in the inside unit as the number that the screen shows in ``units``.

    >>> round(on_sheet(25.4, "length", units="in"), 9)
    1.0
    """
    of = KINDS[kind]
    if kind == "expansion":
        return value * 1e6
    if units == "mm":
        return value * of.to_report
    if kind == "temperature":
        return value * 1.8 + 32.0
    return value * of.inch[1]


def sheet_unit(kind: str, *, units: str = "mm") -> str:
    """The unit of :func:`on_sheet`, empty for a plain number.

    >>> sheet_unit("length", units="in"), sheet_unit("number")
    ('in', '')
    """
    if kind == "expansion":
        return "1e-6/K"
    unit = KINDS[kind].inch[0] if units == "in" else KINDS[kind].report
    return "" if unit == "1" else unit


def number(value: float, decimals: int) -> str:
    """A number with fixed decimals; never "-0", and never fewer than the whole number.

    >>> number(-0.00001, 3)
    '0.000'
    """
    text = f"{value:.{max(decimals, 0)}f}"
    return text.lstrip("-") if float(text) == 0.0 else text


@contextmanager
def shown_in(units: str) -> Iterator[None]:
    """Texts made inside, such as the steps of a plan, show ``units`` where none are named.

    >>> with shown_in("in"):
    ...     show(25.4, "length", 3)
    '1.0000 in'
    """
    before = _SHOWN.set(units)
    try:
        yield
    finally:
        _SHOWN.reset(before)


def usual(kind: str, decimals: int | None) -> int:
    """The decimals asked for, or the kind's usual ones.

    >>> usual("length", None), usual("length", 3)
    (4, 3)
    """
    return KINDS[kind].decimals if decimals is None else decimals


def show(value: float, kind: str, decimals: int | None = None, *, units: str | None = None) -> str:
    """A number in the inside unit as text with its unit: ``units``, or those of :func:`shown_in`.

    ``decimals`` counts in metric units, the kind's usual ones where none are given; an inch
    sheet shows as many more or fewer as keep the same resolution.

    >>> show(25.021, "length", 3)
    '25.021 mm'
    >>> show(25.4, "length", 4, units="in")
    '1.00000 in'
    """
    decimals = usual(kind, decimals)
    if kind == "expansion":
        return f"{value * 1e6:.{decimals}f}e-6 1/K"
    units = units or _SHOWN.get()
    places = decimals + (KINDS[kind].inch[2] if units == "in" else 0)
    unit = sheet_unit(kind, units=units)
    shown = number(on_sheet(value, kind, units=units), places)
    return f"{shown} {unit}" if unit else shown


def span(low: float, high: float, kind: str, decimals: int | None = None, *, units: str | None = None) -> str:
    """A range as text with its unit once, the same resolution at both ends.

    >>> span(957.2, 2065.0, "force")
    '957 to 2065 N'
    """
    ends = [show(one, kind, decimals, units=units) for one in (low, high)]
    return f"{ends[0].partition(' ')[0]} to {ends[1]}"


def show_end(value: float, kind: str, decimals: int | None = None, *, up: bool, units: str = "mm") -> str:
    """The end of a range as text, rounded into the range: ``up`` for its lower end.

    >>> show_end(16.03641, "length", up=True), show_end(16.06699, "length", up=False)
    ('16.0365 mm', '16.0669 mm')
    """
    places = max(usual(kind, decimals) + (KINDS[kind].inch[2] if units == "in" else 0), 0)
    step = 10.0**places
    scaled = on_sheet(value, kind, units=units) * step
    # A value that is round already stays, whatever its last binary digit.
    whole = math.ceil(scaled - 1e-6) if up else math.floor(scaled + 1e-6)
    unit = sheet_unit(kind, units=units)
    shown = number(whole / step, places)
    return f"{shown} {unit}" if unit else shown
