"""Rings by their code: AS568, ISO 3601-1 (class A and B), JIS B 2401.

Class A of ISO 3601-1 is the AS568 size in mm, rounded to 0.01; class B takes any size, with
tolerances by rule. A nominal alone is no size: every ring here has limits.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from typing import NamedTuple

from fits import tables
from fits.errors import Fault, InputError
from fits.sizes.limits import Limits
from fits.tables import Source

FORMS = 'write "AS568-214", "ISO 3601-1 B 25x3.5", "JIS B 2401 P22.4", or its inside and section'
_INCH = Decimal("25.4")
_AS568 = re.compile(r"AS ?568[A-F]?[ -]+(\d{3})", re.IGNORECASE)
_ISO_DASH = re.compile(r"ISO ?3601(?:-1)?[ -]+(\d{3})[ -]?([AB])", re.IGNORECASE)
_ISO_SIZE = re.compile(r"ISO ?3601(?:-1)?[ -]+B[ -]+(\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?)", re.IGNORECASE)
_JIS = re.compile(r"JIS(?: ?B ?2401)?[ -]+([PGV]\d+(?:\.\d+)?A?)", re.IGNORECASE)
# Sizes between which the rule of class B was checked against printed values, mm.
_CHECKED = (5.0, 640.0)


class Ring(NamedTuple):
    """A ring as it is bought, free and at 20 degC: inside diameter and section in mm."""

    code: str
    inside: Limits
    section: Limits
    source: Source

    def __str__(self) -> str:
        return self.code

    @property
    def outside(self) -> float:
        """Nominal outside diameter, mm."""
        return self.inside.nominal + 2.0 * self.section.nominal


def ring(code: str) -> Ring:
    """A ring by its code.

    Raises:
        InputError: no such code, with the nearest one; or a code without a tolerance.

    >>> found = ring("AS568-214")
    >>> round(found.inside.nominal, 2), round(found.section.nominal, 2)
    (24.99, 3.53)
    >>> ring("ISO 3601-1 B 25x3.5").section.lower
    3.4
    """
    text = " ".join(code.split())
    if match := _AS568.fullmatch(text):
        return _known(_as568, match[1], text)
    if match := _ISO_DASH.fullmatch(text):
        return _known(_class_a if match[2].upper() == "A" else _dash_class_b, match[1], text)
    if match := _ISO_SIZE.fullmatch(text):
        size = f"{match[1]}x{match[2]}"
        return _class_b(Decimal(match[1]), Decimal(match[2]), f"ISO 3601-1 B {size}")
    if match := _JIS.fullmatch(text):
        return _known(_jis, match[1].upper(), text)
    raise InputError(_unknown(text))


def _known(of: Callable[[str], Ring | None], key: str, text: str) -> Ring:
    found = of(key)
    if found is None:
        raise InputError(_unknown(text))
    return found


@cache
def every() -> tuple[Ring, ...]:
    """The rings of the tables of AS568 and JIS B 2401 that have tolerances, in their order.

    >>> every()[0].code
    'AS568-001'
    """
    dashes = (_as568(row["dash"]) for row in tables.load("rings/as568").rows)
    others = (_jis(row["code"]) for row in tables.load("rings/jis_b2401").rows if row["inside_tolerance"])
    return tuple(one for one in (*dashes, *others) if one is not None)


def metric_sections() -> tuple[tuple[Limits, Source], ...]:
    """The sections that metric rings are sold in, with the tolerance of class B, mm.

    >>> 3.55 in [section.nominal for section, _ in metric_sections()]
    True
    """
    of = tables.load("rings/iso3601_sections")
    return tuple(
        (_limits(Decimal(row["section"]), _section_tolerance(Decimal(row["section"])), ()), of.source(row))
        for row in of.rows
    )


@cache
def _as568(dash: str) -> Ring | None:
    of = tables.load("rings/as568")
    row = of.row("dash", dash)
    if row is None:
        return None
    source = of.source(row, f"AS568-{dash}")
    names = ("inside", "inside_tolerance", "section", "section_tolerance")
    inside, inside_tol, section, section_tol = (Decimal(row[name]) * _INCH for name in names)
    return _ring(f"AS568-{dash}", (inside, inside_tol), (section, section_tol), source)


@cache
def _class_a(dash: str) -> Ring | None:
    # The 900 series (tube fittings) is of AS568 alone.
    base = _as568(dash)
    if base is None or dash.startswith("9"):
        return None
    row = tables.load("rings/as568").row("dash", dash)
    assert row is not None
    names = ("inside", "inside_tolerance", "section", "section_tolerance")
    inside, inside_tol, section, section_tol = (_rounded(Decimal(row[name]) * _INCH) for name in names)
    source = _derived(base.source, f"ISO 3601-1 {dash}A, the AS568 size in mm to 0.01")
    return _ring(f"ISO 3601-1 {dash}A", (inside, inside_tol), (section, section_tol), source)


def _dash_class_b(dash: str) -> Ring | None:
    base = _class_a(dash)
    if base is None:
        return None
    inside, section = (Decimal(str(one.nominal)) for one in (base.inside, base.section))
    rule = _class_b(inside, section, f"ISO 3601-1 {dash}B")
    return rule._replace(source=_derived(base.source, f"{rule.code}: {rule.source.text}; size"))


def _derived(base: Source, what: str) -> Source:
    evidence = "memory" if base.evidence == "memory" else "derived"
    return base._replace(text=f"{what}: {base.text}", evidence=evidence)


def _class_b(inside: Decimal, section: Decimal, code: str) -> Ring:
    of = tables.load("rings/iso3601_class_b_inside")
    row = of.rows[0]
    size = float(inside)
    tolerance = float(row["factor"]) * size ** float(row["exponent"]) + float(row["constant"])
    source = of.source(row, f"{code}, tolerances by the rule of class B")
    if not _CHECKED[0] <= size <= _CHECKED[1]:
        source = source._replace(doubt=f"the rule was checked from {_CHECKED[0]:g} to {_CHECKED[1]:g} mm")
    if size <= tolerance:
        raise InputError(Fault("the inside diameter is below its own tolerance", got=code))
    try:
        section_tolerance = _section_tolerance(section)
    except ValueError as error:
        raise InputError(Fault(str(error), got=code)) from None
    return _ring(code, (inside, _rounded(Decimal(str(tolerance)))), (section, section_tolerance), source)


def _section_tolerance(section: Decimal) -> Decimal:
    bands = tables.load("rings/iso3601_class_b").rows
    for row in bands:
        first = row is bands[0] and section == Decimal(row["above"])
        if first or Decimal(row["above"]) < section <= Decimal(row["up_to"]):
            return Decimal(row["tolerance"])
    raise ValueError(f"class B has sections from {bands[0]['above']} to {bands[-1]['up_to']} mm")


@cache
def _jis(code: str) -> Ring | None:
    of = tables.load("rings/jis_b2401")
    row = of.row("code", code)
    if row is None:
        return None
    name = f"JIS B 2401 {code}"
    if not row["inside_tolerance"]:
        must = f"{row['inside']} x {row['section']} mm, but no tolerance of its inside diameter is known"
        raise InputError(Fault(must, got=name, hint="give inside and section with their tolerances"))
    names = ("inside", "inside_tolerance", "section", "section_tolerance")
    inside, inside_tol, section, section_tol = (Decimal(row[one]) for one in names)
    return _ring(name, (inside, inside_tol), (section, section_tol), of.source(row, name))


def _ring(
    code: str, inside: tuple[Decimal, Decimal], section: tuple[Decimal, Decimal], source: Source
) -> Ring:
    return Ring(code, _limits(*inside, (source,)), _limits(*section, (source,)), source)


def _limits(nominal: Decimal, tolerance: Decimal, sources: tuple[Source, ...]) -> Limits:
    low, high = float(nominal - tolerance), float(nominal + tolerance)
    return Limits(low, high, float(nominal), sources=sources)


def _rounded(number: Decimal) -> Decimal:
    return number.quantize(Decimal("0.01"), ROUND_HALF_UP)


def _unknown(text: str) -> Fault:
    near = nearest_code(text)
    return Fault("no such ring", got=text, hint=f'did you mean "{near}"?' if near else FORMS)


def nearest_code(text: str) -> str:
    """The code that a wrong one most likely means, or an empty text.

    >>> nearest_code("-214"), nearest_code("AS568-285"), nearest_code("P22")
    ('AS568-214', 'AS568-284', 'JIS B 2401 P22')
    """
    upper = text.upper()
    if sized := re.search(r"(?<![\d.])(\d+(?:\.\d+)?) ?X ?(\d+(?:\.\d+)?)$", upper):
        return f"ISO 3601-1 B {sized[1]}x{sized[2]}"
    if series := re.search(r"\b([PGV]) ?(\d+(?:\.\d+)?)(A?)$", upper):
        codes = [row["code"] for row in tables.load("rings/jis_b2401").rows]
        same = [code for code in codes if code[0] == series[1]]
        wanted = float(series[2])
        near = min(same, key=lambda code: (abs(_size(code) - wanted), code.endswith("A") != bool(series[3])))
        return f"JIS B 2401 {near}"
    if dash := re.search(r"(?:^|[ -])(\d{1,3}) ?([AB]?)X?$", upper):
        codes = [row["dash"] for row in tables.load("rings/as568").rows]
        wanted = int(dash[1])
        iso = "ISO" in upper
        same = [code for code in codes if not (iso and code[0] == "9")]
        near = min(same, key=lambda code: (int(code) // 100 != wanted // 100, abs(int(code) - wanted)))
        return f"ISO 3601-1 {near}{dash[2] or 'A'}" if iso else f"AS568-{near}"
    return ""


def _size(code: str) -> float:
    return float(code[1:].removesuffix("A"))
