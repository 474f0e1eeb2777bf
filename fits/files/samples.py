"""A measured sample from a table: ``measured from bores.csv`` in place of the sizes themselves.

Either a plain table with a column a dimension (``liner.hole [mm]``, a row a part; an empty
cell is a part of which it wasn't read), or a table of readings as ``fits judge`` takes it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from fits import quantity
from fits.errors import Fault, InputError, meant
from fits.files.reading_row import DIMENSION
from fits.files.readings import FAULTS, LONG, MORE, read_readings
from fits.files.table import Table
from fits.sizes.reading import ROOM, SLIP, Reading
from fits.sizes.scatter import Between, Scatter, sample

_FROM = re.compile(r"measured\s+from\s+(?P<path>\S.*)")
_HEAD = re.compile(r"(?P<name>[^\[\]]*?)\s*(?:\[(?P<unit>[^\]]*)\])?")
# 20 degC typed in other units is 20 degC.
_SOAKED = 1e-6


def named_table(text: str) -> str:
    """The table that a spread names, empty where it names none.

    >>> named_table("measured from bores.csv"), named_table("measured 16.003 16.005")
    ('bores.csv', '')
    """
    match = _FROM.fullmatch(text.strip())
    return match["path"] if match else ""


def measured_from(path: str, label: str, between: Between, folder: str = "") -> Scatter:
    """The sizes of a dimension in a table, each as likely.

    Args:
        path: the table; ``-`` is standard input.
        label: the dimension, as ``liner.hole``.
        between: its limits, in whose neighbourhood a size lies.
        folder: where a path begins that isn't whole.

    Raises:
        InputError: every fault (the first 20), each with its row.
    """
    place = path if path == "-" else str(Path(folder) / path)
    table = Table(place)
    heads = [_HEAD.fullmatch(cell) for cell in table.header]
    names = [head["name"] if head else "" for head in heads]
    if table.header[0].startswith("#") or {DIMENSION, *LONG, *MORE} & set(names) - {"part"}:
        table.close()
        found = _of_readings(place, label, between)
    else:
        with closing(table):
            found = tuple(_of_column(table, names, label, between))
    return sample(found, f"measured from {path} ({len(found):,} sizes)")


def _near(size: float, between: Between) -> float:
    """The size, where it lies near its limits.

    Raises:
        InputError: it doesn't, or is none.
    """
    if between.kind != "length":
        return size
    if size <= 0.0:
        raise InputError(Fault("a size is above 0", quantity.show(size, "length", 3, units=between.units)))
    if not between.low * (1.0 - SLIP) <= size <= between.high * (1.0 + SLIP):
        shown = [quantity.show(one, "length", 3, units=between.units) for one in (size, *between[:2])]
        must = f"nowhere near its limits, {shown[1]} to {shown[2]}"
        raise InputError(Fault(must, shown[0], hint="a slip of unit or digit?"))
    return size


def _of_column(table: Table, names: list[str], label: str, between: Between) -> Iterator[float]:
    """The sizes of the column that is headed by the dimension."""
    if names.count(label) != 1:
        must = "this column stands twice" if label in names else "no column of this dimension"
        hint = meant(label, names) or f"head it {label} [{quantity.KINDS[between.kind].report}]"
        raise InputError(Fault(must, label, place=table.place(1), hint=hint))
    column = table.header[names.index(label)]
    unit = (_HEAD.fullmatch(column) or {"unit": ""})["unit"] or ""
    faults: list[Fault] = []
    for block in table.blocks(()):
        faults += [fault.at(place=table.place(bad.row)) for bad in block.bad for fault in bad.faults]
        for at, row in enumerate(block.rows):
            text = block.text(column, at).strip()
            if not text:
                continue
            try:
                yield _size(text, unit, between)
            except InputError as error:
                faults += [fault.at(key=label, place=table.place(int(row))) for fault in error.faults]
            if len(faults) >= FAULTS:
                raise InputError([*faults, Fault("more may follow; these come first", place=table.path)])
    if faults:
        raise InputError(faults)


def _size(text: str, unit: str, between: Between) -> float:
    own = quantity.split(text)[1]
    if between.kind != "number" and not own and not unit:
        hint = "in the head, as liner.hole [mm], or in the cell"
        raise InputError(Fault("a size needs a unit, it is never assumed", text, hint=hint))
    return _near(quantity.read(text if own or not unit else f"{text} {unit}", between.kind), between)


def _of_readings(path: str, label: str, between: Between) -> tuple[float, ...]:
    """The sizes of a dimension in a table of readings: one a part, read at 20 degC."""
    found: dict[str, Reading] = {}
    faults: list[Fault] = []
    for reading in read_readings(path):
        if reading.dimension != label:
            continue
        if reading.part in found:
            must = "several readings of this part: a sample takes one size a part"
            faults.append(Fault(must, reading.part, label, reading.place))
        elif abs(reading.temperature - ROOM) > _SOAKED:
            hint = "a sample takes sizes at 20 degC; fits warm corrects one"
            faults.append(Fault("read warm", reading.part, label, reading.place, hint))
        found[reading.part] = reading
        try:
            _near(reading.value, between)
        except InputError as error:
            faults += [fault.at(key=label, place=reading.place) for fault in error.faults]
    if not found:
        faults = [Fault("no reading of this dimension", label, place=path)]
    if faults:
        raise InputError(faults[:FAULTS])
    return tuple(one.value for one in found.values())
