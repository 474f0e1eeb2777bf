"""The drawer: what a shop owns, read from rows of text; answers come from nothing else.

A row says what it is and has the keys of :data:`ROWS`. Sizes in a drawer always carry
their unit: it mixes inch and metric tools.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from fits import quantity
from fits.errors import Fault, InputError, meant
from fits.shop import drills, gauges, reamers
from fits.sizes.notation import is_classed

# A set with more tools than this is a slip of the step.
LARGEST_SET = 2000
# A reamer that measures further than both from its marking is a slip of a digit, mm and share.
SLIP, SLIP_SHARE = 0.05, 0.005


class Span(NamedTuple):
    """A number known as a range, in the inside unit."""

    low: float
    high: float


class OwnedReamer(NamedTuple):
    """A reamer of the drawer: its size, how it cuts over by the shop's trials, its lead, mm."""

    name: str
    size: reamers.Reamer
    cuts_over: Span | None
    lead: float | None

    @property
    def expected(self) -> Span:
        """The hole it should cut, mm: a range, no promise."""
        usual = reamers.usual_gain()
        over = self.cuts_over or Span(usual.low, usual.high)
        return Span(self.size.lower + over.low, self.size.upper + over.high)

    @property
    def proven(self) -> bool:
        """Whether its size was measured and its trials are known."""
        return not self.size.marked and self.cuts_over is not None


class OwnedDrill(NamedTuple):
    """A drill of the drawer and how it cuts over by the shop's trials, mm."""

    drill: drills.Drill
    oversize: Span | None


class Instrument(NamedTuple):
    """A bore gauge: the holes it reaches, mm, and its uncertainty (k = 2), mm."""

    name: str
    low: float
    high: float
    uncertainty: float


class Drawer(NamedTuple):
    """What the shop owns; force in N, temperature in degC, None where it isn't said."""

    reamers: tuple[OwnedReamer, ...] = ()
    drills: tuple[OwnedDrill, ...] = ()
    pins: tuple[gauges.Pin, ...] = ()
    rings: tuple[gauges.Pin, ...] = ()
    bore_gauges: tuple[Instrument, ...] = ()
    press_rating: float | None = None
    oven: float | None = None
    place: str = ""

    @property
    def facts(self) -> dict[str, float]:
        """What a field can take from it as one number, by the field's name."""
        found = {"press_rating": self.press_rating, "oven": self.oven}
        return {name: number for name, number in found.items() if number is not None}


class Row(NamedTuple):
    """One row: what it is, its keys, and where it stands."""

    what: str
    keys: Mapping[str, Any]
    place: str


# What a row may be, with its keys; those with a star must be there.
ROWS: Mapping[str, tuple[str, ...]] = {
    "reamer": ("marked", "measured", "cuts_over", "lead", "name"),
    "drill": ("size", "from", "to", "step", "series", "oversize", "name"),
    "pin": ("size", "from", "to", "step", "class*", "sense", "name"),
    "ring": ("size*", "class*", "sense", "name"),
    "bore gauge": ("from*", "to*", "uncertainty*", "name"),
    "press": ("rating*", "name"),
    "oven": ("temperature*", "name"),
}


def drawer(rows: Iterable[Row], place: str = "") -> Drawer:
    """A drawer from its rows.

    Raises:
        InputError: every fault of every row, each with its place and key.

    >>> found = drawer([Row("reamer", {"marked": "10 H7"}, "line 1")])
    >>> found.reamers[0].size.upper
    10.012
    """
    found: dict[str, list[Any]] = {what: [] for what in ROWS}
    faults: list[Fault] = []
    for row in rows:
        wrong = _keys(row)
        if wrong:
            faults += wrong
            continue
        try:
            found[row.what] += _READ[row.what]({key: str(value).strip() for key, value in row.keys.items()})
        except InputError as error:
            faults += [fault.at(place=row.place) for fault in error.faults]
    if faults:
        raise InputError(faults)
    return Drawer(
        tuple(found["reamer"]),
        tuple(found["drill"]),
        tuple(found["pin"]),
        tuple(found["ring"]),
        tuple(found["bore gauge"]),
        max(found["press"], default=None),
        max(found["oven"], default=None),
        place,
    )


def _keys(row: Row) -> list[Fault]:
    if row.what not in ROWS:
        hint = meant(row.what, ROWS) or f"rows are: {', '.join(ROWS)}"
        return [Fault("no such thing in a drawer", row.what, place=row.place, hint=hint)]
    known = [key.rstrip("*") for key in ROWS[row.what]]
    faults = [
        Fault("unknown key", key=key, place=row.place, hint=meant(key, known) or f"keys: {', '.join(known)}")
        for key in row.keys
        if key not in known
    ]
    missing = [key[:-1] for key in ROWS[row.what] if key.endswith("*") and key[:-1] not in row.keys]
    if "class" in missing:
        missing.remove("class")
        must = f"a {row.what} without its class: nobody knows what it measures"
        faults.append(Fault(must, key="class", place=row.place, hint=f"one of {', '.join(gauges.CLASSES)}"))
    faults += [Fault("missing", key=key, place=row.place) for key in missing]
    return faults


def _read(keys: Mapping[str, str], key: str, kind: str = "length", *, least: float = 0.0) -> float:
    """A quantity of a row, with its unit and above a bound.

    Raises:
        InputError: no unit, another unit, or too small.
    """
    text = keys[key]
    try:
        number, unit = quantity.split(text)
        if number is not None and not unit:
            raise InputError(Fault("a drawer mixes inch and metric: every size needs its unit", got=text))
        value = quantity.read(text, kind)
    except InputError as error:
        raise InputError([fault.at(key=key) for fault in error.faults]) from None
    if value <= least:
        raise InputError(Fault("must be above 0", got=text, key=key))
    return value


def _span(keys: Mapping[str, str], key: str) -> Span | None:
    """A range such as ``4 um to 9 um``, or one number; it may be below 0."""
    if key not in keys:
        return None
    first, to, last = keys[key].partition(" to ")
    ends = dict(enumerate((first, last if to else first)))
    if to and not quantity.split(first)[1]:
        ends[0] = f"{first} {quantity.split(last)[1]}"
    low, high = (_read({key: end}, key, least=-1.0) for end in ends.values())
    if low > high:
        raise InputError(Fault("the range is swapped", got=keys[key], key=key, hint="lower value first"))
    return Span(low, high)


def _has_unit(keys: Mapping[str, str], key: str) -> str:
    """A marking: a class, or a size with its unit."""
    text = keys[key]
    if not is_classed(text):
        _read(keys, key)
    return text


def _reamers(keys: Mapping[str, str]) -> list[OwnedReamer]:
    if "marked" not in keys and "measured" not in keys:
        raise InputError(Fault("a reamer needs what is marked on it, or what it measures", key="marked"))
    marked = _has_unit(keys, "marked") if "marked" in keys else ""
    try:
        size = reamers.parse(marked) if marked else None
        if "measured" in keys:
            if not re.search(r"[a-z\"]", keys["measured"]):
                _read(keys, "measured")
            found = reamers.parse(f"{reamers.MEASURED} {keys['measured']}")
            size = _near(size, found) if size is not None else found
    except InputError as error:
        key = "measured" if "measured" in keys else "marked"
        raise InputError([replace(f, key=key, got=keys[key]) for f in error.faults]) from None
    assert size is not None
    known = f"measured {keys['measured']}" if "measured" in keys else ""
    size_said = f"{marked} ({known})" if marked and known else marked or known
    name = ", ".join(filter(None, (size_said, keys.get("name", ""))))
    lead = _read(keys, "lead") if "lead" in keys else None
    return [OwnedReamer(name, size, _span(keys, "cuts_over"), lead)]


def _near(marked: reamers.Reamer, measured: reamers.Reamer) -> reamers.Reamer:
    """The reamer as measured; raises InputError where that is nowhere near its marking."""
    apart = max(measured.lower - marked.upper, marked.lower - measured.upper)
    if apart > max(SLIP, SLIP_SHARE * marked.upper):
        must = f"{apart:.3f} mm from what is marked"
        raise InputError(Fault(must, hint="a slip of a digit? else leave marked out"))
    return measured


def _drills(keys: Mapping[str, str]) -> list[OwnedDrill]:
    oversize = _span(keys, "oversize")
    if "series" in keys:
        if keys["series"] not in drills.SERIES:
            hint = f"one of {', '.join(drills.SERIES)}"
            raise InputError(Fault("no such series of drills", keys["series"], "series", hint=hint))
        low = _read(keys, "from") if "from" in keys else 0.0
        high = _read(keys, "to") if "to" in keys else float("inf")
        among = (one for one in drills.standard() if one.series == keys["series"])
        return [OwnedDrill(one, oversize) for one in among if low - 1e-6 <= one.size <= high + 1e-6]
    if "size" not in keys:
        return [OwnedDrill(drills.parse(text), oversize) for text in _steps(keys)]
    text = keys["size"]
    if not text.startswith(("#", "No.", "letter")):
        _read(keys, "size")
    try:
        return [OwnedDrill(drills.parse(text), oversize)]
    except InputError as error:
        raise InputError([fault.at(key="size") for fault in error.faults]) from None


def _steps(keys: Mapping[str, str]) -> list[str]:
    """The sizes of a set: from, to and step, each with its unit; decimals are counted exactly."""
    from decimal import Decimal

    missing = [key for key in ("from", "to", "step") if key not in keys]
    if missing:
        must = "a size is due, or a set by from, to and step"
        raise InputError(Fault(must, key="size" if len(missing) == 3 else missing[0]))
    for key in ("from", "to", "step"):
        _read(keys, key)
    units = {quantity.split(keys[key])[1] for key in ("from", "to", "step")}
    if len(units) > 1 or any("/" in keys[key] for key in ("from", "to", "step")):
        raise InputError(Fault("from, to and step have one unit and are decimals", keys["step"], "step"))
    unit = units.pop()
    low, high, step = (
        Decimal(keys[key].removesuffix(unit).strip().rstrip('"')) for key in ("from", "to", "step")
    )
    if low > high:
        raise InputError(Fault("from is larger than to", keys["from"], "from"))
    count = int((high - low) / step) + 1
    if count > LARGEST_SET:
        raise InputError(Fault(f"a set of {count} tools", keys["step"], "step", hint="look at the step"))
    return [f"{low + index * step} {unit}" for index in range(count)]


def _pins(keys: Mapping[str, str]) -> list[gauges.Pin]:
    if "size" in keys:
        _read(keys, "size")
    sizes = [keys["size"]] if "size" in keys else _steps(keys)
    try:
        return [gauges.pin(size, keys["class"], keys.get("sense", "")) for size in sizes]
    except InputError as error:
        key = "sense" if "sense" in str(error) else "class"
        raise InputError([fault.at(key=key) for fault in error.faults]) from None


def _bore_gauge(keys: Mapping[str, str]) -> list[Instrument]:
    low, high = _read(keys, "from"), _read(keys, "to")
    if low > high:
        raise InputError(Fault("from is larger than to", keys["from"], "from"))
    return [Instrument(keys.get("name", "bore gauge"), low, high, _read(keys, "uncertainty"))]


_READ: Mapping[str, Callable[[Mapping[str, str]], list[Any]]] = {
    "reamer": _reamers,
    "drill": _drills,
    "pin": _pins,
    "ring": _pins,
    "bore gauge": _bore_gauge,
    "press": lambda keys: [_read(keys, "rating", "force")],
    "oven": lambda keys: [_read(keys, "temperature", "temperature", least=20.0)],
}
