"""One row of a table of readings: its cells -> readings, every fault of the row at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from functools import lru_cache
from typing import NamedTuple

from fits import quantity
from fits.errors import Fault, InputError
from fits.sizes.reading import Reading

DIMENSION = "feature.dimension"
ASKED = {
    "uncertainty": "the expanded uncertainty (k = 2) of the reading, instrument, temperature and person",
    "temperature": "of the part when it was read; 20 degC where it had soaked",
    "instrument": "what it was read with, such as outside micrometer",
}


class Column(NamedTuple):
    """One column of a table: its place, name, the unit in its head, what it says of which dimension."""

    at: int
    name: str
    unit: str
    label: str = ""
    doubt: bool = False


class Defaults(NamedTuple):
    """What holds for every row that doesn't say otherwise: degC and 1/K."""

    gauge_temperature: float | None = None
    gauge_expansion: float | None = None


def readings_of(
    columns: tuple[Column, ...], cells: list[str], place: str, defaults: Defaults
) -> Iterator[Reading]:
    """The readings of one row; every fault of the row at once."""
    if len(cells) != len(columns):
        must = f"{len(cells)} cells where the head has {len(columns)}"
        raise InputError(Fault(must, hint="a comma inside a cell needs quotes"))
    of = {one.name: (cells[one.at], one.unit) for one in columns}
    faults: list[Fault] = []
    part = _word(of, "part", faults)
    instrument = _word(of, "instrument", faults)
    temperature = _asked(of, "temperature", "temperature", faults)
    gauge = _given(of, "gauge_temperature", "temperature", faults)
    expansion = _given(of, "gauge_expansion", "expansion", faults)
    made = []
    for label, value, doubt, name in _sizes(columns, of, faults):
        size = _number(*value, "length", name, faults)
        # A wrong unit of the size, which the uncertainty shares, is said once.
        uncertainty = _uncertainty(doubt if size is not None else (doubt[0], "mm"), name, faults)
        if size is not None and size <= 0.0:
            faults.append(Fault("a size is above 0", value[0], name))
        if size is not None and uncertainty is not None:
            made.append((label, size, uncertainty))
    if not made and not faults:
        faults.append(Fault("no size stands in this row", part, "part", hint="leave out what was not read"))
    # What is missing is a fault.
    if faults or temperature is None:
        raise InputError(faults)
    for label, size, uncertainty in made:
        yield Reading(
            part,
            label,
            size,
            uncertainty,
            instrument,
            temperature,
            defaults.gauge_temperature if gauge is None else gauge,
            defaults.gauge_expansion if expansion is None else expansion,
            of.get("station", ("", ""))[0],
            of.get("direction", ("", ""))[0],
            place,
        )


Cell = tuple[str, str]


def _sizes(
    columns: tuple[Column, ...], of: dict[str, Cell], faults: list[Fault]
) -> Iterator[tuple[str, Cell, Cell, str]]:
    """Dimension, its size, its uncertainty and the column of each size in a row."""
    if DIMENSION in of:
        label = _word(of, DIMENSION, faults)
        value, unit, own = of["value"][0], of["unit"][0], _unit_of(of["value"][0])
        if not (unit or own):
            faults.append(Fault("a size needs a unit, it is never assumed", value, "unit", hint="mm, in, um"))
            unit = "mm"
        if said := _several([own, of["value"][1], unit]):
            must = f"this size has several units: {', '.join(said)}"
            faults.append(Fault(must, value, "unit", hint="write one of them"))
        text, head = of["uncertainty"]
        yield label, (value, unit), (text, head or unit or own), "value"
        return
    shared: list[str] = []
    for one in columns:
        if not one.label or one.doubt or not of[one.name][0]:
            continue
        size, in_head = of[one.name]
        own = _unit_of(size)
        doubt = of.get(f"{one.label} uncertainty") or of.get("uncertainty", ("", ""))
        if not (in_head or own):
            hint = f"write the head as {one.name} [mm]"
            faults.append(Fault("a size needs a unit, it is never assumed", size, one.name, hint=hint))
            in_head = "mm"
        unit = own or in_head
        if of.get(f"{one.label} uncertainty") is None and not doubt[1] and _unit_of(doubt[0]) == "":
            shared.append(unit)
        yield one.label, (size, in_head), (doubt[0], doubt[1] or unit), one.name
    if units := _several(shared):
        must = f"in what unit? the sizes of this row have several: {', '.join(units)}"
        head = of["uncertainty"][0]
        faults.append(Fault(must, head, "uncertainty", hint="write the head as uncertainty [mm]"))


def _several(units: Iterable[str]) -> list[str]:
    """The units of length among some where they differ, one that is written in two ways once; else none."""
    written = dict.fromkeys(filter(None, units))
    if len(written) < 2:
        return []
    found: dict[float, str] = {}
    for unit in written:
        with suppress(InputError):
            found.setdefault(float(quantity.convert(1.0, unit, "length")), unit)
    return list(found.values()) if len(found) > 1 else []


@lru_cache(maxsize=65_536)
def _unit_of(text: str) -> str:
    """The unit that stands in a text, empty where there is none."""
    try:
        return quantity.split(text)[1]
    except InputError:
        return "mm"


def _word(of: dict[str, Cell], name: str, faults: list[Fault]) -> str:
    text = of[name][0]
    if not text:
        faults.append(Fault("nothing stands here", key=name, hint=ASKED.get(name, "")))
    return text


def _asked(of: dict[str, Cell], name: str, kind: str, faults: list[Fault]) -> float | None:
    if not of[name][0]:
        faults.append(Fault("asked for, never assumed", key=name, hint=ASKED[name]))
        return None
    return _number(*of[name], kind, name, faults)


def _given(of: dict[str, Cell], name: str, kind: str, faults: list[Fault]) -> float | None:
    return _number(*of[name], kind, name, faults) if of.get(name, ("", ""))[0] else None


def _uncertainty(cell: Cell, name: str, faults: list[Fault]) -> float | None:
    if not cell[0]:
        must = f"the uncertainty of {name} is asked for, never assumed" if "." in name else ""
        must = must or "asked for, never assumed"
        faults.append(Fault(must, key="uncertainty", hint=ASKED["uncertainty"]))
        return None
    found = _number(*cell, "length", "uncertainty", faults)
    if found is not None and found <= 0.0:
        faults.append(Fault("must be above 0: no instrument reads without doubt", cell[0], "uncertainty"))
        return None
    return found


def _number(text: str, unit: str, kind: str, name: str, faults: list[Fault]) -> float | None:
    try:
        return _read(text, unit, kind)
    except InputError as error:
        faults += [fault.at(key=name) for fault in error.faults]
        return None


@lru_cache(maxsize=65_536)
def _read(text: str, unit: str, kind: str) -> float:
    """A cell in the inside unit; its own unit goes before that of the head."""
    own = quantity.split(text)[1]
    return quantity.read(text if own or not unit else f"{text} {unit}", kind)
