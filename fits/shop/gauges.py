"""Plain gauges for holes: classes, the 10 % rule, the plugs of ISO, what a pin is worth."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from fits import tables
from fits.errors import Fault, InputError, meant
from fits.quantity import read
from fits.sizes.limits import Limits
from fits.tables import Source

# The classes are tabled above 0.010 to 12.010 in, mm here.
SMALLEST, LARGEST = 0.254, 305.054
# Finest first.
CLASSES = ("XXX", "XX", "X", "Y", "Z", "ZZ")
PLUS, MINUS = "plus", "minus"
_SENSES = {"plus": PLUS, "+": PLUS, "minus": MINUS, "-": MINUS, "go": PLUS, "no-go": MINUS}
# What the gauges may eat of the tolerance: 10 % together, half of it each.
EACH = 0.05
TENTH = 0.10
TEN_PERCENT = Source(
    "gauge makers' 10 % rule: both gauges together take at most a tenth of the work tolerance, GO from the "
    "lower limit up, NO-GO from the upper limit down"
)
SHOP_RULE = Source("a tenth of the tolerance for each gauge", "practice")


class Gauge(NamedTuple):
    """The least and the greatest size of a gauge, mm, and where that comes from."""

    low: float
    high: float
    source: Source


def class_tolerance(size: float, name: str) -> tuple[float, Source]:
    """The total tolerance in mm of a plain gauge of a class of ASME B89.1.5.

    Raises:
        InputError: no such class, or a size outside the table.

    >>> round(class_tolerance(12.7, "ZZ")[0] / 25.4, 7)
    0.0002
    """
    if name not in CLASSES:
        hint = meant(name, CLASSES) or f"classes: {', '.join(CLASSES)}"
        raise InputError(Fault("no such gauge class", got=name, hint=hint))
    table = tables.load("shop/gauge_classes")
    for row in table.rows:
        if float(row["over"]) < size / 25.4 <= float(row["to"]) + 1e-9:
            return float(row[name]) * 25.4e-6, table.source(row, "gauge class")
    raise InputError(Fault("gauge classes are tabled above 0.010 to 12.010 in", got=f"{size / 25.4:.4f} in"))


def plain_pair(hole: Limits, name: str) -> tuple[Gauge, Gauge]:
    """GO and NO-GO plain plugs of a class at the limits of a hole: GO plus, NO-GO minus.

    >>> from fits.sizes.notation import parse_size
    >>> go, no_go = plain_pair(parse_size("10 H7"), "XX")
    >>> go.low, no_go.high
    (10.0, 10.015)
    """
    go, source = class_tolerance(hole.lower, name)
    no_go, _ = class_tolerance(hole.upper, name)
    return (
        Gauge(hole.lower, round(hole.lower + go, 9), source),
        Gauge(round(hole.upper - no_go, 9), hole.upper, source),
    )


def ten_percent(hole: Limits) -> tuple[Gauge, Gauge]:
    """GO and NO-GO by the 10 % rule: a twentieth of the tolerance each, inside the limits.

    >>> go, no_go = ten_percent(Limits(9.0, 10.0))
    >>> go.high, no_go.low
    (9.05, 9.95)
    """
    each = EACH * hole.tolerance
    return (
        Gauge(hole.lower, round(hole.lower + each, 9), TEN_PERCENT),
        Gauge(round(hole.upper - each, 9), hole.upper, TEN_PERCENT),
    )


def coarsest_class(hole: Limits, share: float) -> str:
    """The coarsest class of which one gauge takes at most a share of the tolerance, or "".

    >>> coarsest_class(Limits(12.6746, 12.7254), 0.05)
    'Z'
    """
    if not SMALLEST < hole.upper <= LARGEST:
        return ""
    fitting = [
        name
        for name in CLASSES
        if class_tolerance(hole.upper, name)[0] <= share * hole.tolerance * (1.0 + 1e-6)
    ]
    return fitting[-1] if fitting else ""


class Plugs(NamedTuple):
    """GO, NO-GO and worn GO plug of ISO/R 1938, for a work grade."""

    grade: str
    go: Gauge
    no_go: Gauge
    worn: float


@cache
def _plug_rows() -> tuple[dict[str, str], ...]:
    return tables.load("shop/plug_gauges").rows


def iso_plugs(hole: Limits) -> Plugs | None:
    """Plugs by ISO/R 1938 for the grade whose tolerance the hole has, or the next finer.

    None where the table ends: below grade 6, above grade 12 or 180 mm.

    >>> iso_plugs(Limits(20.0, 20.021, 20.0)).go.low
    20.001
    """
    from fits.sizes import iso286

    size = hole.nominal
    best = None
    for row in _plug_rows():
        if not (row["H"] and float(row["over"]) < size <= float(row["to"])):
            continue
        work = iso286.limits(size, "H", row["grade"].removeprefix("IT")).tolerance
        if work <= hole.tolerance + 1e-9:
            best = row
    if best is None:
        return None
    # A hole wider than the coarsest tabled grade by more than a step has none of its own.
    if best["grade"] == "IT12" and hole.tolerance > iso286.limits(size, "H", "13").tolerance - 1e-9:
        return None
    z, y, h = (float(best[name]) / 1000.0 for name in ("z", "y", "H"))
    source = tables.load("shop/plug_gauges").source(best, f"plug gauges for {best['grade']}")
    go = hole.lower + z
    return Plugs(
        best["grade"],
        Gauge(round(go - h / 2.0, 9), round(go + h / 2.0, 9), source),
        Gauge(round(hole.upper - h / 2.0, 9), round(hole.upper + h / 2.0, 9), source),
        round(hole.lower - y, 9),
    )


class Pin(NamedTuple):
    """A pin gauge: its marked size in mm, class, and sense ("" when it isn't known)."""

    size: float
    grade: str
    sense: str
    text: str

    def __str__(self) -> str:
        return self.text

    def gauge(self) -> Gauge:
        """What it may measure: its class above or below its size, or both when the sense is unknown."""
        width, source = class_tolerance(self.size, self.grade)
        low = self.size if self.sense == PLUS else self.size - width
        high = self.size if self.sense == MINUS else self.size + width
        return Gauge(round(low, 9), round(high, 9), source)


class Usual(NamedTuple):
    """A usual instrument of a shop and its uncertainty (k = 2), mm."""

    name: str
    uncertainty: float
    source: Source


def usual_instruments(size: float) -> tuple[Usual, ...]:
    """Instruments that reach a hole of a size in mm, the surest first; orders of magnitude.

    >>> len(usual_instruments(10.0)) > 0
    True
    """
    table = tables.load("shop/measuring_uncertainty")
    found = [
        Usual(row["instrument"], float(row["uncertainty"]) / 1000.0, table.source(row, "usual uncertainty"))
        for row in table.rows
        if row["meaning"].startswith("usual") and float(row["over"]) <= size <= float(row["to"])
    ]
    return tuple(sorted(found, key=lambda one: one.uncertainty))


_PIN = re.compile(r"(?P<size>.*?[a-z\"\d])\s+(?P<grade>X{1,3}|Y|Z{1,2})(?:\s+(?P<sense>\S+))?", re.IGNORECASE)


def parse_pin(text: str, *, units: str = "mm") -> Pin:
    """A pin with its class and sense, such as ``0.5000 in ZZ minus``.

    Raises:
        InputError: no class, an unknown sense, no size.

    >>> parse_pin("0.5000 in ZZ minus").gauge().high
    12.7
    """
    match = _PIN.fullmatch(text.strip())
    if match is None:
        must = "a pin needs its class: without it nobody knows what it measures"
        raise InputError(Fault(must, got=text, hint='write "0.5000 in ZZ minus"'))
    return pin(match["size"], match["grade"], match["sense"] or "", text=text, units=units)


def pin(size: str, grade: str, sense: str, *, text: str = "", units: str = "mm") -> Pin:
    """A pin from the words for its size, class and sense.

    Raises:
        InputError: as for :func:`parse_pin`.

    >>> pin("10 mm", "XX", "+").gauge().low
    10.0
    """
    if sense and sense.lower() not in _SENSES:
        raise InputError(Fault("the sense of a pin is plus or minus", got=sense))
    found = Pin(
        read(size, "length", units=units), grade.upper(), _SENSES.get(sense.lower(), ""), text.strip()
    )
    found.gauge()
    words = " ".join(filter(None, (size.strip(), found.grade, found.sense)))
    return found._replace(text=words)
