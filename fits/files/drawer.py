"""A drawer from its file: TOML with a table a row, or CSV with a column ``what``."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Iterator

from fits.errors import Fault, InputError
from fits.files.part import syntax_fault, text_of
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
    reader = csv.DictReader(io.StringIO(text), restkey="")
    if "what" not in (reader.fieldnames or ()):
        raise InputError(Fault("a column what is due", place=f"{path}:1", hint=f"one of {', '.join(ROWS)}"))
    for record in reader:
        place = f"{path}:{reader.line_num}"
        if "" in record:
            raise InputError(Fault("more cells than columns", place=place, hint="a comma in a cell?"))
        keys = {key: value for key, value in record.items() if key != "what" and (value or "").strip()}
        yield Row((record["what"] or "").strip(), keys, place)


def _toml(text: str, path: str) -> Iterator[Row]:
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(syntax_fault(error, text, path)) from None
    lines = _lines(text)
    for what, rows in data.items():
        if what in _HEAD:
            continue
        said = what.replace("_", " ")
        for index, keys in enumerate(rows if isinstance(rows, list) else [rows]):
            line = lines.get((what, index), 1)
            if not isinstance(keys, dict):
                must = f"a table is due: write [[{what}]]"
                raise InputError(Fault(must, key=what, place=f"{path}:{line}"))
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
