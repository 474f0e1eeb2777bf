"""Tables of measured sizes: CSV -> readings, every fault at its row.

Long: a row a reading, ``part,feature.dimension,value,unit,uncertainty,instrument,temperature``.
Wide: a row a part, a column a dimension (``liner.hole [mm]``), with the same other columns.
Both may have ``station`` and ``direction`` (several readings of one bore) and
``gauge_temperature`` and ``gauge_expansion``. Rows that begin with ``#`` are notes.

A long table comes in blocks of whole parts, so that it is never held: within a block the rows
of a part may stand anywhere, its last is known by the next part's first.
"""

from __future__ import annotations

import csv
import io
import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple, TextIO

from fits.errors import Fault, InputError, meant
from fits.files.reading_row import ASKED, DIMENSION, Column, Defaults, readings_of
from fits.sizes.reading import Reading

LONG = ("part", DIMENSION, "value", "unit", "uncertainty", "instrument", "temperature")
EVERY = ("part", *LONG[4:])
MORE = ("station", "direction", "gauge_temperature", "gauge_expansion")
FAULTS = 20
# Readings of a block; it ends with the part that fills it.
BLOCK = 8_000
_HEAD = re.compile(r"(?P<name>.*?)\s*(?:\[(?P<unit>[^\]]*)\])?")
_NAMED = re.compile(r"(?P<label>\w+(?:\.\w+)+)(?P<doubt>\s+uncertainty)?")


_NONE = Defaults()


class BadRow(NamedTuple):
    """What is wrong with a row, and the part that it is of."""

    part: str
    faults: tuple[Fault, ...]


class Block(NamedTuple):
    """Readings of whole parts; ``bad`` only where bad rows are to be skipped.

    ``done`` is the share of the table that is read, None where its length isn't known.
    """

    readings: tuple[Reading, ...]
    bad: tuple[BadRow, ...]
    done: float | None


def read_readings(path: str, defaults: Defaults = _NONE) -> tuple[Reading, ...]:
    """The readings of a whole table; ``-`` is standard input.

    Raises:
        InputError: every fault, each as ``file:line: column: ...`` (the first 20).

    >>> read_readings("examples/hand_pump.measured.csv")[0].part
    'body 1'
    """
    (block,) = reading_blocks(path, defaults, size=sys.maxsize)
    return block.readings


def reading_blocks(
    path: str, defaults: Defaults = _NONE, *, skip: bool = False, size: int = BLOCK
) -> Iterator[Block]:
    """The readings of a table, block by block; ``-`` is standard input.

    Args:
        path: the table.
        defaults: what holds for every row that doesn't say otherwise.
        skip: leave out parts of which a row is bad, instead of refusing the table.
        size: readings after which a block ends.

    Raises:
        InputError: every fault, each as ``file:line: column: ...`` (the first 20).
    """
    try:
        if path == "-":
            piped = io.TextIOWrapper(sys.stdin.buffer, encoding="utf-8-sig", newline="")
            yield from _Table(piped, path, defaults, skip=skip).blocks(size)
            return
        with Path(path).open(encoding="utf-8-sig", newline="") as file:
            yield from _Table(file, path, defaults, skip=skip).blocks(size)
    except IsADirectoryError:
        raise InputError(Fault("a table of readings is due, this is a folder", place=path)) from None
    except OSError as error:
        raise InputError(Fault(f"can't read the file: {error.strerror}", place=path)) from None
    except UnicodeDecodeError:
        raise InputError(Fault("not UTF-8 text; save the table as CSV UTF-8", place=path)) from None


class _Table:
    """A table that is being read: what was found since the last block, and parts that are gone."""

    def __init__(self, file: TextIO, path: str, defaults: Defaults, *, skip: bool) -> None:
        self.file, self.path, self.defaults, self.skip = file, path, defaults, skip
        self.length = 0 if path == "-" else Path(path).stat().st_size
        self.found: list[Reading] = []
        self.bad: list[BadRow] = []
        self.faults: list[Fault] = []
        self.seen: dict[tuple[str, ...], str] = {}
        self.here: set[str] = set()
        self.gone: set[str] = set()

    def blocks(self, size: int) -> Iterator[Block]:
        """Blocks of whole parts, the last one as it ends."""
        rows = _rows(self.file, self.path)
        first = next(rows, None)
        if first is None:
            hint = f"write a head: {','.join(LONG)}"
            raise InputError(Fault("the table is empty", place=self.path, hint=hint))
        columns = _columns(first[1], f"{self.path}:{first[0]}")
        part, nothing = "", True
        for line, cells in rows:
            now = _part_of(columns, cells)
            if now != part and len(self.found) >= size and not self.faults:
                yield self._block()
            part, nothing = now, False
            self._row(columns, cells, f"{self.path}:{line}", now)
        if self.faults:
            raise InputError(self.faults)
        if nothing:
            raise InputError(
                Fault("no reading in this table", place=self.path, hint="0 parts can't be judged")
            )
        yield self._block()

    def _row(self, columns: tuple[Column, ...], cells: list[str], place: str, part: str) -> None:
        try:
            if part in self.gone:
                must = "other readings of this part stand far above, and a long table is read in pieces"
                raise InputError(Fault(must, part, "part", hint="sort the table by part"))
            self.here.add(part)
            for reading in readings_of(columns, cells, place, self.defaults):
                _once(reading, self.seen)
                self.found.append(reading)
        except InputError as error:
            faults = tuple(fault.at(place=place) for fault in error.faults)
            if self.skip and part and part not in self.gone:
                self.bad.append(BadRow(part, faults))
                return
            self.faults += faults
            self.found.clear()
            if self.skip:
                must = "this row can't be skipped: it must be known whose it is, and all of a part's rows"
                self.faults.append(Fault(must, place=place))
            if len(self.faults) >= FAULTS:
                more = Fault("more may follow; these come first", place=self.path)
                raise InputError([*self.faults, more]) from None

    def _block(self) -> Block:
        """What was found since the last block, without the parts that have a bad row."""
        out = {one.part for one in self.bad}
        done = min(self.file.buffer.tell() / self.length, 1.0) if self.length else None
        block = Block(tuple(one for one in self.found if one.part not in out), tuple(self.bad), done)
        self.found, self.bad, self.seen = [], [], {}
        self.gone |= self.here
        self.here = set()
        return block


def _part_of(columns: tuple[Column, ...], cells: list[str]) -> str:
    """The part that a row is of; empty where nobody can know (a cell too many may stand before it)."""
    at = next(one.at for one in columns if one.name == "part")
    sure = len(cells) == len(columns) or at == 0
    return cells[at] if sure and at < len(cells) else ""


def _rows(file: TextIO, path: str) -> Iterator[tuple[int, list[str]]]:
    """Line and cells of each record that isn't blank or a note; the head's separator is taken."""
    lines = iter(file)
    notes = 0
    head = next(lines, "")
    while head and (not head.strip() or head.startswith("#")):
        notes += 1
        head = next(lines, "")
    semicolons = ";" in head and "," not in head
    reader = csv.reader(_again(head, lines), delimiter=";" if semicolons else ",", strict=True)
    last = 0
    while True:
        try:
            cells = next(reader, None)
        except csv.Error as error:
            place = f"{path}:{notes + last + 1}"
            raise InputError(Fault(f"not CSV: {error}", place=place, hint="close every quote")) from None
        if cells is None:
            return
        line, last = notes + last + 1, reader.line_num
        if any(cell.strip() for cell in cells) and not cells[0].startswith("#"):
            # A line break inside a quoted cell is a space.
            yield line, [" ".join(cell.split()) for cell in cells]


def _again(first: str, rest: Iterable[str]) -> Iterator[str]:
    if first:
        yield first
    yield from rest


def _columns(cells: list[str], place: str) -> tuple[Column, ...]:
    columns = tuple(_column(index, cell) for index, cell in enumerate(cells))
    names = [one.name for one in columns]
    long = DIMENSION in names
    wanted = LONG if long else EVERY
    faults = []
    for one in columns:
        if names.count(one.name) > 1 and names.index(one.name) == one.at:
            faults.append(Fault("this column stands twice", one.name, place=place))
        if one.name not in (*wanted, *MORE) and (long or not one.label):
            hint = meant(one.name, (*LONG, *MORE)) or "a dimension is written as liner.hole [mm]"
            faults.append(Fault("unknown column", one.name, place=place, hint=hint))
    if not long and not any(one.label and not one.doubt for one in columns):
        hint = f"a row a reading: {','.join(LONG)}; or a column a dimension, as liner.hole [mm]"
        faults.append(Fault("no column with sizes", place=place, hint=hint))
        raise InputError(faults)
    own = {one.label for one in columns if one.doubt}
    sized = {one.label for one in columns if one.label and not one.doubt}
    for name in wanted:
        # A wide table may have an uncertainty for each dimension instead of one for all.
        if name not in names and not (name == "uncertainty" and not long and sized <= own):
            faults.append(Fault(f"missing column {name}", place=place, hint=ASKED.get(name, "")))
    if faults:
        raise InputError(faults)
    return columns


def _column(index: int, cell: str) -> Column:
    match = _HEAD.fullmatch(cell)
    name, unit = (match["name"], match["unit"] or "") if match else (cell, "")
    named = _NAMED.fullmatch(name)
    if named and name != DIMENSION:
        return Column(index, name, unit, named["label"], bool(named["doubt"]))
    return Column(index, name, unit)


def _once(reading: Reading, seen: dict[tuple[str, ...], str]) -> None:
    """Refuse a reading that stands twice."""
    key = (reading.part, reading.dimension, reading.station, reading.direction)
    if key in seen:
        must = f"{reading.dimension} of this part was read before, in line {seen[key].rpartition(':')[2]}"
        hint = "several readings of one bore are told apart by the columns station and direction"
        raise InputError(Fault(must, reading.part, "part", hint=hint))
    seen[key] = reading.place
