"""A drawer from its file: TOML with a table a row, or CSV with a column ``what``."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from typing import Any

from fits.errors import Fault, InputError
from fits.files.part import text_of, toml_of
from fits.shop.drawer import ROWS, Drawer, Row, drawer

# Text of a drawer that no row needs.
_HEAD = ("name", "note")


def read_drawer(path: str) -> Drawer:
    """A drawer from its file; ``.csv`` is a table of rows, anything else TOML.

    Raises:
        InputError: every fault of the file, each as ``file:line: key: ...``.
    """
    text = text_of(path)
    rows = list(_csv(text, path) if path.lower().endswith(".csv") else _toml(text, path))
    if not rows:
        raise InputError(Fault("nothing in this drawer", place=path, hint="write [[reamer]]"))
    return drawer(rows, path)


def _csv(text: str, path: str) -> Iterator[Row]:
    reader = csv.DictReader(io.StringIO(text), restkey="", strict=True)
    try:
        head = reader.fieldnames or ()
    except csv.Error as error:
        raise _no_csv(error, path, 1) from None
    if "what" not in head:
        raise InputError(Fault("a column what is due", place=f"{path}:1", hint=f"one of {', '.join(ROWS)}"))
    for record in _records(reader, path):
        place = f"{path}:{reader.line_num}"
        if "" in record:
            raise InputError(Fault("more cells than columns", place=place, hint="a comma in a cell?"))
        keys = {key: value for key, value in record.items() if key != "what" and (value or "").strip()}
        yield Row((record["what"] or "").strip(), keys, place)


def _records(reader: csv.DictReader[str], path: str) -> Iterator[dict[str, Any]]:
    while True:
        line = reader.line_num + 1
        try:
            record = next(reader, None)
        except csv.Error as error:
            raise _no_csv(error, path, line) from None
        if record is None:
            return
        yield record


def _no_csv(error: csv.Error, path: str, line: int) -> InputError:
    said = str(error).partition(" - ")[0]
    return InputError(Fault(f"not CSV: {said}", place=f"{path}:{line}", hint="close every quote"))


def _toml(text: str, path: str) -> Iterator[Row]:
    data = toml_of(text, path)
    lines = _lines(text)
    for what, rows in data.items():
        if what in _HEAD:
            continue
        said = what.replace("_", " ")
        for index, keys in enumerate(rows if isinstance(rows, list) else [rows]):
            line = lines.get((what, index), 1)
            if not isinstance(keys, dict):
                known = said in ROWS
                must = f"a table is due: write [[{what}]]" if known else "no such thing in a drawer"
                hint = "" if known else f"it has {', '.join(ROWS)}; a part file comes before --drawer"
                raise InputError(Fault(must, key=what, place=f"{path}:{line}", hint=hint))
            yield Row(said, keys, f"{path}:{line}")


def _lines(text: str) -> dict[tuple[str, int], int]:
    """The line of each row's heading, by what it is and its number among its kind."""
    found: dict[tuple[str, int], int] = {}
    counts: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        if match := re.match(r"\s*\[\[?\s*([A-Za-z_]+)\s*\]", line):
            what = match[1]
            found[what, counts.get(what, 0)] = number
            counts[what] = counts.get(what, 0) + 1
    return found
