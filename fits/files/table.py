"""A long table as blocks of columns: constant memory, each row with its number.

Rows are numbered as a spreadsheet shows them: the header is row 1, and empty rows count.
"""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Iterator, Sequence
from itertools import chain
from pathlib import Path
from typing import Any, NamedTuple, TextIO

import numpy as np

from fits.arrays import Array, Whole
from fits.errors import Fault, InputError

# Characters of text taken at once: some 65,000 rows of a usual table.
BLOCK = 6_000_000
# No exponents: "1E0" is a size with a tolerance class.
_PLAIN = frozenset("0123456789.+-")


class BadRow(NamedTuple):
    """A row that can't be read, with its number."""

    row: int
    faults: tuple[Fault, ...]


class Block(NamedTuple):
    """Some rows by columns: plain numbers (NaN where a cell is empty) or text.

    ``rows`` are their numbers; ``done`` is the share of the file that is read, None where
    its length isn't known.
    """

    rows: Whole
    numbers: dict[str, Array]
    texts: dict[str, Any]
    bad: list[BadRow]
    done: float | None

    def text(self, column: str, at: int) -> str:
        """A cell as text."""
        if column in self.texts:
            return str(self.texts[column][at])
        value = self.numbers[column][at]
        return "" if np.isnan(value) else np.format_float_positional(value, trim="-")


class Table:
    """A table file that is open: its header, then its blocks.

    Raises:
        InputError: no such file, an empty one, a header that is wrong.
    """

    def __init__(self, path: str) -> None:
        self.path = path
        self._file = _opened(path)
        self._size = 0 if path == "-" else Path(path).stat().st_size
        try:
            self.separator, self.header = self._head()
        except InputError:
            self.close()
            raise
        self._row = 2

    def _head(self) -> tuple[str, list[str]]:
        """The separator and the names of the columns."""
        first = self._file.readline()
        if not first.strip():
            empty = "the first row is empty" if first else "empty"
            raise InputError(Fault(f"{empty}: a header with field names is due", place=self.path))
        separator = max((",", ";", "\t"), key=first.count)
        try:
            cells = next(csv.reader(chain([first], self._file), delimiter=separator, strict=True))
        except csv.Error as error:
            raise InputError(Fault(f"not a table: {error}", place=self.place(1))) from None
        return separator, [cell.strip() for cell in cells]

    def close(self) -> None:
        """Close the file."""
        if self.path != "-":
            self._file.close()

    def blocks(self, plain: Sequence[str]) -> Iterator[Block]:
        """The rows under the header; columns ``plain`` are tried as plain numbers.

        Raises:
            InputError: a quote that is never closed.
        """
        while lines := self._file.readlines(BLOCK):
            block = self._fast(lines, plain) or self._slow(lines, plain)
            yield block

    def _done(self) -> float | None:
        if not self._size:
            return None
        return min(float(self._file.buffer.tell()) / self._size, 1.0)

    def _fast(self, lines: list[str], plain: Sequence[str]) -> Block | None:
        """A block without quotes, gaps or anything odd, by pandas; None for any other."""
        text = "".join(lines)
        cells = (len(self.header) - 1) * len(lines)
        if '"' in text or "\0" in text or text.count(self.separator) != cells:
            return None
        if not _utf8(text) or _exponents(text):
            return None
        import pandas as pd

        names = [f"c{at}" for at in range(len(self.header))]
        kinds = {
            name: float if column in plain else str for name, column in zip(names, self.header, strict=True)
        }
        head = self.separator.join(names) + "\n"
        try:
            frame = pd.read_csv(
                io.StringIO(head + text),
                sep=self.separator,
                dtype=kinds,
                index_col=False,
                keep_default_na=False,
                na_values={name: [""] for name, kind in kinds.items() if kind is float},
                quoting=csv.QUOTE_NONE,
            )
        except (ValueError, pd.errors.ParserError):
            return None
        numbers, texts = {}, {}
        for name, column in zip(names, self.header, strict=True):
            if kinds[name] is str:
                texts[column] = frame[name].to_numpy(dtype=object)
                continue
            numbers[column] = array = frame[name].to_numpy()
            # "nan" and "inf" read as numbers are faults, an empty cell is none.
            if np.isinf(array).any() or (np.isnan(array).any() and "nan" in text.lower()):
                return None
        if len(frame) != len(lines):
            return None
        self._numbers(texts, numbers, plain)
        rows = np.arange(self._row, self._row + len(lines))
        self._row += len(lines)
        return Block(rows, numbers, texts, [], self._done())

    def _slow(self, lines: list[str], plain: Sequence[str]) -> Block:
        """Any block, a row at a time, with what is wrong with each."""
        reader = csv.reader(chain(lines, self._file), delimiter=self.separator, strict=True)
        found: list[list[str]] = []
        rows: list[int] = []
        bad: list[BadRow] = []
        while reader.line_num < len(lines):
            try:
                cells = next(reader)
            except csv.Error as error:
                said = str(error).replace("unexpected end of data", "a quote is opened and never closed")
                raise InputError(Fault(f"not a table row: {said}", place=self.place(self._row))) from None
            if fault := self._wrong(cells):
                bad.append(BadRow(self._row, (fault,)))
            elif any(cell.strip() for cell in cells):
                found.append(cells)
                rows.append(self._row)
            self._row += 1
        columns = zip(*found, strict=True) if found else ([] for _ in self.header)
        texts: dict[str, Any] = {}
        for name, column in zip(self.header, columns, strict=True):
            texts[name] = np.empty(len(found), dtype=object)
            texts[name][:] = [cell.strip() for cell in column]
        numbers: dict[str, Array] = {}
        self._numbers(texts, numbers, plain)
        return Block(np.array(rows, dtype=np.int64), numbers, texts, bad, self._done())

    def _wrong(self, cells: list[str]) -> Fault | None:
        if not all(_utf8(cell) for cell in cells):
            return Fault("not UTF-8 text; save the table as UTF-8")
        if any("\0" in cell for cell in cells):
            return Fault("a zero byte; save the table as text")
        if len(cells) != len(self.header) and any(cell.strip() for cell in cells):
            hint = ""
            if self.separator == "," and len(cells) > len(self.header):
                hint = "a decimal comma? write 16.05, not 16,05"
            return Fault(f"{len(cells)} cells under a header of {len(self.header)}", hint=hint)
        return None

    def _numbers(self, texts: dict[str, Any], numbers: dict[str, Array], plain: Sequence[str]) -> None:
        """Columns that are plain numbers after all become numbers."""
        for name in [name for name in texts if name in plain]:
            array = plain_numbers(texts[name].tolist())
            if array is not None:
                numbers[name] = array
                del texts[name]

    def place(self, row: int) -> str:
        """Where a row is, for a fault."""
        return f"{self.path}: row {row}"


def plain_numbers(cells: list[str]) -> Array | None:
    """Cells as numbers, NaN for an empty one; None where any is more than a plain number.

    >>> plain_numbers(["16.05", ""]), plain_numbers(["16 H7"])
    (array([16.05,   nan]), None)
    """
    if not _PLAIN.issuperset("".join(cells)):
        return None
    try:
        found = np.array([float(cell or "nan") for cell in cells])
    except ValueError:
        return None
    return None if np.isinf(found).any() else found


def _exponents(text: str) -> bool:
    """Whether an e follows a digit or a point anywhere."""
    codes = np.frombuffer(text.encode(), dtype=np.uint8)
    after = (codes[1:] == ord("e")) | (codes[1:] == ord("E"))
    return bool((after & (codes[:-1] >= ord(".")) & (codes[:-1] <= ord("9"))).any())


def _utf8(text: str) -> bool:
    if text.isascii():
        return True
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _opened(path: str) -> TextIO:
    # Bytes that are no UTF-8 are kept, so that the row in which they stand can be said.
    how: dict[str, Any] = {"encoding": "utf-8-sig", "errors": "surrogateescape", "newline": ""}
    try:
        if path == "-":
            return io.TextIOWrapper(sys.stdin.buffer, **how)
        file: TextIO = Path(path).open(**how)  # noqa: SIM115 (the table closes it)
        return file
    except IsADirectoryError:
        raise InputError(Fault("a table is due, this is a folder", place=path)) from None
    except OSError as error:
        raise InputError(Fault(f"can't read the file: {error.strerror}", place=path)) from None
    except ValueError:
        raise InputError(Fault("no name of a file", got=path)) from None
