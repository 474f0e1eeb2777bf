"""How a dimension scatters from part to part, as the shop says it.

=====================================  =====================================================
``uniform``                            anywhere between its limits, all alike
``uniform 16.004/16.000``              the same between limits of its own, or ``a to b``
``normal Cp 1.33``                     a bell in the middle of the limits, 6 sigma = T/Cp
``normal Cp 1.33 at 16.004``           the same about another middle
``normal sigma 0.002 at 16.004``       a bell of known sigma
``normal Cp 0.8, inspected``           a bell of which parts outside the limits are sorted out
``measured 16.003 16.005 16.004``      what was measured, each as likely
``measured from bores.csv``            the same, from a table (read in ``files/samples.py``)
=====================================  =====================================================
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import NamedTuple

from fits import quantity
from fits.errors import Fault, InputError, meant
from fits.sizes.notation import parse_size

FORMS = ("uniform", "normal", "measured")
_NORMAL = re.compile(
    r"(Cp|cp|CP|sigma)\s+((?:[^\s,]|(?<=\d),(?=\d))+(?:\s+(?!at\b)[A-Za-z]+)?)"
    r"(?:\s+at\s+((?:[^,]|(?<=\d),(?=\d))+?))?\s*(,\s*inspected)?"
)
# A spread whose sizes lie further from the limits than this is a slip: share of the size, and, for
# coats and runouts, which are small, mm.
_SLIP, _SLACK = 0.1, 0.5
_HINT = 'write "uniform", "normal Cp 1.33", "normal sigma 0.002 at 16.004" or "measured 16.003 16.005"'


class Between(NamedTuple):
    """The limits of a dimension in its inside unit, and what kind of quantity it is."""

    low: float
    high: float
    kind: str = "length"
    units: str = "mm"


@dataclass(frozen=True)
class Scatter:
    """How one dimension scatters, in its inside unit.

    ``low`` and ``high`` are the ends of a uniform one, of an inspected normal one, or the
    least and greatest measured; a normal one has none unless inspected (``ends`` False).
    """

    form: str
    text: str
    low: float
    high: float
    middle: float = 0.0
    sigma: float = 0.0
    ends: bool = True
    measured: tuple[float, ...] = ()


def over_limits(between: Between) -> Scatter:
    """What is taken when nothing is said: uniform over the limits.

    >>> over_limits(Between(9.99, 10.01)).low
    9.99
    """
    return Scatter("uniform", "uniform over its limits", between.low, between.high)


def parse_scatter(text: str, between: Between) -> Scatter:
    """How a dimension scatters, from its text.

    Raises:
        InputError: no such form, a number that is wrong, or no tolerance to count Cp from.

    >>> found = parse_scatter("normal Cp 1.0", Between(16.0, 16.012))
    >>> round(found.middle, 6), round(found.sigma, 6)
    (16.006, 0.002)
    >>> parse_scatter("measured 16.003, 16.005 mm", Between(16.0, 16.011)).measured
    (16.003, 16.005)
    """
    said = re.sub(r"\s+", " ", text.strip())
    form, _, rest = said.partition(" ")
    if form not in FORMS:
        hint = meant(form, FORMS) or _HINT
        raise InputError(Fault("no such way to scatter", got=text, hint=hint))
    try:
        found = {"uniform": _uniform, "normal": _normal, "measured": _measured}[form](rest.strip(), between)
    except InputError as error:
        raise InputError([replace(fault, got=text) for fault in error.faults]) from None
    return replace(found, text=said)


def _uniform(rest: str, between: Between) -> Scatter:
    if not rest:
        if between.low == between.high:
            raise InputError(
                Fault("it has no limits to scatter between", hint='write "uniform 16.004/16.000"')
            )
        return over_limits(between)
    low_text, to, high_text = rest.partition(" to ")
    if to:
        unit = quantity.split(high_text)[1]
        if unit and not quantity.split(low_text)[1]:
            low_text = f"{low_text} {unit}"
        low, high = _size(low_text, between), _size(high_text, between)
    elif between.kind == "length":
        limits = parse_size(rest, units=between.units)
        low, high = _near(limits.lower, between), _near(limits.upper, between)
    else:
        raise InputError(Fault("two ends are due", hint="write uniform a to b"))
    if not low < high:
        raise InputError(Fault("the lower end comes first, and they differ"))
    return Scatter("uniform", "", low, high)


def _normal(rest: str, between: Between) -> Scatter:
    match = _NORMAL.fullmatch(rest)
    if not match:
        raise InputError(Fault("a normal spread needs Cp or sigma", hint=_HINT))
    tolerance = between.high - between.low
    if match[1] == "sigma":
        sigma = _read(match[2], between)
    else:
        if tolerance == 0.0:
            raise InputError(Fault("it has no tolerance to count Cp from", hint="give sigma"))
        capability = quantity.read(match[2], "number")
        sigma = tolerance / (6.0 * capability) if capability > 0.0 else 0.0
    if not sigma > 0.0:
        raise InputError(Fault(f"{match[1]} must be above 0"))
    middle = _size(match[3], between) if match[3] else (between.low + between.high) / 2.0
    inspected = bool(match[4])
    if inspected and tolerance == 0.0:
        raise InputError(Fault("it has no limits to inspect by", hint="give the size limits"))
    return Scatter("normal", "", between.low, between.high, middle, sigma, ends=inspected)


def _measured(rest: str, between: Between) -> Scatter:
    numbers: list[str] = []
    unit = ""
    for piece in re.split(r"[,;]?\s+", rest) if rest else []:
        if numbers and re.match(r"[A-Za-zµμ]", piece):
            unit = f" {piece}"
            numbers[-1] += unit
        else:
            numbers.append(piece)
    # A unit at the end is that of all numbers before it that have none.
    bare = [bool(re.fullmatch(r"[+-]?[\d.]+", one)) for one in numbers]
    found = tuple(
        _size(f"{one}{unit if alone else ''}", between) for one, alone in zip(numbers, bare, strict=True)
    )
    return sample(found, "")


def sample(sizes: tuple[float, ...], text: str) -> Scatter:
    """What was measured, each size as likely.

    Raises:
        InputError: fewer than two, or all the same.

    >>> sample((16.003, 16.005, 16.004), "three bodies").high
    16.005
    """
    if len(sizes) < 2:
        raise InputError(Fault("at least two measured sizes are due", hint="measured 16.003 16.005 16.004"))
    if min(sizes) == max(sizes):
        raise InputError(Fault("all measured sizes are the same: no spread can be seen"))
    return Scatter("measured", text, min(sizes), max(sizes), measured=sizes)


def _read(text: str, between: Between) -> float:
    return quantity.read(text, between.kind, units=between.units)


def _size(text: str, between: Between) -> float:
    return _near(_read(text, between), between)


def _near(size: float, between: Between) -> float:
    slack = max(_SLIP * between.high, _SLACK)
    if between.kind == "length" and not between.low - slack <= size <= between.high + slack:
        shown = [quantity.show(one, "length", 3, units=between.units) for one in (size, *between[:2])]
        must = f"{shown[0]} is nowhere near its limits, {shown[1]} to {shown[2]}"
        raise InputError(Fault(must, hint="a slip of unit or digit?"))
    return size
