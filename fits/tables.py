"""The only reader of ``tables/``.

A table is a CSV file: a head of ``#`` lines (table, publication, notes, sources by
key), a header row, a row of units, and rows that each end in an evidence grade and
the key of their source.
"""

from __future__ import annotations

import csv
import math
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NamedTuple

from fits.errors import Fault, TableError

EVIDENCE = ("seen", "derived", "memory", "practice")
_TEXT_UNITS = ("",)


class Source(NamedTuple):
    """Where a number comes from, and how well that is known.

    ``evidence`` is seen, derived, memory or practice, or "typed" for what the user
    gave; ``doubt`` is what speaks against the number, if anything does; ``table`` the
    table of ours that it was read from.
    """

    text: str
    evidence: str = "seen"
    doubt: str = ""
    table: str = ""

    def __str__(self) -> str:
        mark = {
            "memory": " (from memory)",
            "practice": " (common practice)",
            "derived": " (derived)",
        }.get(self.evidence, "")
        said = {"memory": "memory", "practice": "common practice"}.get(self.evidence)
        mark = "" if said and said in self.text else mark
        return f"{self.text}{mark}" + (f" (doubtful: {self.doubt})" if self.doubt else "")


@dataclass(frozen=True)
class Table:
    """One published table: title, publication, notes, units by column, rows of text."""

    name: str
    title: str
    publication: str
    notes: tuple[str, ...]
    units: dict[str, str]
    rows: tuple[dict[str, str], ...]
    sources: dict[str, str]
    digest: str

    def row(self, column: str, value: str) -> dict[str, str] | None:
        """The first row with a value in a column, None where there is none."""
        return next((row for row in self.rows if row[column] == value), None)

    def source(self, row: dict[str, str], what: str = "") -> Source:
        """The source of a row, headed by what it gives."""
        text = f"{what}: {self.sources[row['source']]}" if what else self.sources[row["source"]]
        return Source(text, row["evidence"], row.get("doubt", ""), self.name)


def folder() -> Path:
    """The folder of the tables: inside an installed package, else beside it.

    >>> (folder() / "metals").is_dir()
    True
    """
    package = Path(__file__).parent
    inside = package / "_tables"
    return inside if inside.is_dir() else package.parent / "tables"


def names() -> list[str]:
    """The names of all tables, as :func:`load` takes them.

    >>> "iso286/tolerance_grades" in names()
    True
    """
    root = folder()
    return sorted(path.relative_to(root).with_suffix("").as_posix() for path in root.rglob("*.csv"))


@cache
def load(name: str) -> Table:
    """Read and check one table, such as ``iso286/tolerance_grades``.

    Raises:
        TableError: the file is missing or malformed; the fault names the line.

    >>> load("rings/as568").row("dash", "214")["section"]
    '0.139'
    """
    path = folder() / f"{name}.csv"
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        raise TableError(Fault(f"can't read the table: {error.strerror}", place=str(path))) from None
    return parse(text, name)


def parse(text: str, name: str) -> Table:
    """A table from its text.

    Raises:
        TableError: no title, no units row, a ragged row, a number that is none, an
            unknown evidence grade or source key; the fault names the line.

    >>> head = ("# table: One", "# publication: none", "# source S: none")
    >>> table = parse(chr(10).join((*head, "a,evidence,source", "mm,,", "1,seen,S")), "one")
    >>> table.rows[0]["a"]
    '1'
    """
    head, lines, first = _split_head(text)
    if "table" not in head or "publication" not in head:
        raise TableError(Fault('the head needs "# table:" and "# publication:"', place=f"{name}:1"))
    records = list(csv.reader(lines))
    if len(records) < 3:
        raise TableError(Fault("header row, units row and rows are due", place=f"{name}:{first}"))
    header, units = records[0], records[1]
    if header[-2:] != ["evidence", "source"] or len(set(header)) != len(header):
        raise TableError(
            Fault("the header ends in evidence,source; no column twice", place=f"{name}:{first}")
        )
    sources = {key[7:]: value for key, value in head.items() if key.startswith("source ")}
    rows = []
    for number, record in enumerate(records[1:], first + 1):
        if len(record) != len(header):
            raise TableError(Fault(f"{len(record)} cells, {len(header)} are due", place=f"{name}:{number}"))
        if number > first + 1:
            row = dict(zip(header, record, strict=True))
            _check(row, dict(zip(header, units, strict=True)), sources, f"{name}:{number}")
            rows.append(row)
    notes = tuple(value for key, value in head.items() if key.startswith("note "))
    return Table(
        name,
        head["table"],
        head["publication"],
        notes,
        dict(zip(header, units, strict=True)),
        tuple(rows),
        sources,
        _digest(text),
    )


def _digest(text: str) -> str:
    from hashlib import sha256

    return sha256(text.encode()).hexdigest()[:12]


def _split_head(text: str) -> tuple[dict[str, str], list[str], int]:
    head: dict[str, str] = {}
    lines = text.splitlines()
    for index, line in enumerate(lines):
        if not line.startswith("#"):
            return head, lines[index:], index + 1
        match = re.fullmatch(r"# (table|publication|note|source \w+): (.+)", line)
        if match:
            key = f"note {index}" if match[1] == "note" else match[1]
            head[key] = match[2]
    return head, [], len(lines)


def _check(row: dict[str, str], units: dict[str, str], sources: dict[str, str], place: str) -> None:
    if row["evidence"] not in EVIDENCE:
        raise TableError(Fault(f"evidence is one of {', '.join(EVIDENCE)}", row["evidence"], place=place))
    if row["source"] not in sources:
        raise TableError(Fault("no such source in the head", row["source"], place=place))
    for column, unit in units.items():
        if unit in _TEXT_UNITS or row[column] == "":
            continue
        try:
            finite = math.isfinite(float(row[column]))
        except ValueError:
            finite = False
        if not finite:
            raise TableError(Fault("a number is due", row[column], key=column, place=place))
