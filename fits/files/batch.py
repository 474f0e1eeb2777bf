"""A table of joints -> features: rows that differ in numbers only become one feature.

Column names are the fields of a kind, units stand in the header (``hole [mm]``) or in the
cells. Each distinct text is parsed once. What is wrong with a row is said by the same
loader as for a part file, with the row's number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from fits import quantity
from fits.arrays import Array, Mask, Whole
from fits.errors import Fault, InputError, meant
from fits.features.feature import Feature, declared, required
from fits.features.fields import UNDECIDED, Context, Field, Length, Numeric, Size, levels
from fits.files import loader
from fits.files.bare import is_bare, of_inches, question
from fits.files.table import BadRow, Block, Table
from fits.sizes import bought
from fits.sizes.limits import Limits
from fits.sizes.notation import BELONG, is_classed

# Columns that are no fields and are carried to the answer.
CARRIED = ("part", "name", "id", "mark", "note")
_HEADER = re.compile(r"([^\[\]]+?)\s*(?:\[([^\[\]]*)\])?")
_NO_UNIT = re.compile(r".*[\d.]\s*")
# What a cell is; rows of one feature have the same in every column.
ABSENT, ZERO, EXACT, RANGE, RANGE_FROM_ZERO, BOUGHT = range(6)
# Texts of cells that are remembered as read.
MOST_KNOWN = 200_000


class Column(NamedTuple):
    """A column of the table: the field it gives, None for one that is carried."""

    name: str
    field: str
    of: Field | None
    unit: str


class Group(NamedTuple):
    """Rows of a block as one feature; ``low`` and ``high`` by field where they differ, shape (rows,).

    ``at`` are their places in the block.
    """

    feature: Feature
    at: Whole
    low: dict[str, Array]
    high: dict[str, Array]


class Joints(NamedTuple):
    """A block of rows: their numbers, what is carried along, the groups, the bad rows."""

    rows: Whole
    carried: dict[str, Any]
    groups: list[Group]
    bad: list[BadRow]
    done: float | None


class Sizes(NamedTuple):
    """A numeric column parsed: least, greatest and nominal of every row, and what each is."""

    low: Array
    high: Array
    nominal: Array
    what: Whole


class Batch:
    """A table of joints of one kind.

    Args:
        path: the table.
        kind: the kind of its joints.
        units: what bare lengths are; None is mm, and asked beside inches.
        keep: columns carried along.
        typed: what was typed beside the table: the states.

    Raises:
        InputError: an empty file, an unknown or missing column, a wrong unit in the header.
    """

    def __init__(
        self,
        path: str,
        kind: type[Feature],
        *,
        units: str | None = "mm",
        keep: tuple[str, ...] = (),
        typed: Sequence[str] = (),
    ) -> None:
        self.kind, self.units = kind, units or "mm"
        self.table = Table(path)
        try:
            self.columns = self._columns((*CARRIED, *keep))
        except InputError:
            self.table.close()
            raise
        self.carried = tuple(one.name for one in self.columns if one.of is None)
        self._fields = [one for one in self.columns if one.of is not None]
        # Numbers that may differ from row to row within one feature. Temperatures look up
        # tables, and a kind that isn't computed by columns gets a feature for each row.
        self._by_row = [one for one in self._fields if kind.by_columns and _is_number(one.of)]
        # The first length without a unit, and the first sign of an inch shop; None where units are given.
        sign = next((one.name for one in self._fields if of_inches(f"0 {one.unit}")), "")
        self._doubt = [sign or of_inches("\n".join(typed)), ""] if units is None else None
        self._known: dict[tuple[str, str], tuple[float, float, float, int] | tuple[Fault, ...]] = {}

    def blocks(self) -> Iterator[Joints]:
        """The rows in blocks; no rows at all is a fault.

        Raises:
            InputError: no rows, a quote never closed, a whole column without a unit.
        """
        nothing = True
        try:
            for block in self.table.blocks([one.name for one in self._by_row]):
                nothing = nothing and not (len(block.rows) or block.bad)
                yield self._joints(block)
        finally:
            self.table.close()
        if nothing:
            raise InputError(Fault("no rows under the header", place=self.table.path))

    def _columns(self, carried: tuple[str, ...]) -> list[Column]:
        fields = declared(self.kind)
        found: list[Column] = []
        faults: list[Fault] = []
        for name in self.table.header:
            try:
                found.append(_column(name, fields, carried))
            except InputError as error:
                faults += error.faults
        names = [one.field or one.name for one in found]
        faults += [
            Fault("no such column", name, "--keep", hint=meant(name, self.table.header))
            for name in carried
            if name not in (*CARRIED, *self.table.header)
        ]
        faults += [
            Fault("this column stands twice", key=name)
            for name in dict.fromkeys(names)
            if names.count(name) > 1
        ]
        # An unknown column may be a needed one, misspelt: then that alone is said.
        if not faults:
            faults = [
                Fault(f"missing column: {fields[name].help}", key=name)
                for name in fields
                if required(self.kind, name) and name not in names
            ]
        if faults:
            raise InputError([fault.at(place=self.table.place(1)) for fault in faults])
        return found

    def _joints(self, block: Block) -> Joints:
        self._ask_units(block)
        bad = list(block.bad)
        good = np.ones(len(block.rows), dtype=bool)
        sizes: dict[str, Sizes] = {}
        for column in self._by_row:
            sizes[column.field] = self._sizes(block, column, good, bad)
        alone = good & self._doubtful(sizes)
        groups: list[Group] = []
        for at in _alike(self._codes(block, sizes), good & ~alone):
            groups += self._group(block, at, sizes, bad)
        for one in np.flatnonzero(alone):
            groups += self._group(block, np.array([one]), {}, bad)
        bad = sorted(bad, key=lambda one: one.row)
        placed = [
            BadRow(row, tuple(f.at(place=self.table.place(row)) for f in faults)) for row, faults in bad
        ]
        carried = {name: block.texts[name] for name in self.carried}
        return Joints(block.rows, carried, groups, placed, block.done)

    def _ask_units(self, block: Block) -> None:
        """Refuse a bare length in a table that has inches too, in any of its rows."""
        if self._doubt is None:
            return
        import pandas as pd

        for column in self._fields:
            of_length = isinstance(column.of, Numeric) and column.of.quantity == "length" and not column.unit
            if column.name in block.numbers:
                given = block.numbers[column.name]
                given = given[~np.isnan(given)]
                texts = [f"{given[0]:g}"] if of_length and len(given) else []
            else:
                texts = [str(text).strip() for text in pd.unique(block.texts[column.name])]
            self._doubt[0] = self._doubt[0] or of_inches("\n".join(texts))
            bare = next(filter(is_bare, texts), "") if of_length else ""
            self._doubt[1] = self._doubt[1] or (bare and f"{column.name} {bare}")
        inch, bare = self._doubt
        if inch and bare:
            raise InputError(replace(question(bare, inch), key="--units", place=self.table.path))

    def _sizes(self, block: Block, column: Column, good: Mask, bad: list[BadRow]) -> Sizes:
        """A numeric column; rows that can't be read leave ``good`` and join ``bad``."""
        if column.name in block.numbers:
            values = self._inside(column, block.numbers[column.name])
            wrong = ~np.isnan(values) & ~_allowed(column.of, values)
            if not wrong.any():
                what = np.where(np.isnan(values), ABSENT, np.where(values == 0.0, ZERO, EXACT))
                return Sizes(values, values, values, what)
        import pandas as pd

        texts = [block.text(column.name, at).strip() for at in range(len(block.rows))]
        codes, distinct = pd.factorize(np.array(texts, dtype=object))
        parsed = [self._cell(column, str(text)) for text in distinct]
        wrong_texts = np.array([not isinstance(one[-1], int) for one in parsed], dtype=bool)
        for at in np.flatnonzero(wrong_texts[codes] & good):
            bad.append(BadRow(int(block.rows[at]), parsed[codes[at]]))
            good[at] = False
        numbers = [one if isinstance(one[-1], int) else (np.nan, np.nan, np.nan, ABSENT) for one in parsed]
        low, high, nominal, what = np.array(numbers, dtype=float).reshape(-1, 4)[codes].T
        return Sizes(low, high, nominal, what.astype(np.int64))

    def _inside(self, column: Column, values: Array) -> Array:
        """Plain numbers of a column in the inside unit."""
        assert isinstance(column.of, Numeric)
        kind = column.of.quantity
        if kind == "number" or np.isnan(values).all():
            return values
        if not column.unit and kind != "length":
            header = f"{column.field} [{quantity.KINDS[kind].report}]"
            must = f"a {kind} needs a unit: in the header ({header}) or the cells"
            raise InputError(Fault(must, key=column.name, place=self.table.place(1)))
        factor, offset = quantity.linear(column.unit or self.units, kind)
        return np.asarray(values * factor + offset)

    def _cell(self, column: Column, text: str) -> tuple[float, float, float, int] | tuple[Fault, ...]:
        """One distinct text of a numeric column: least, greatest, nominal, what it is; or its faults."""
        key = (column.field, text)
        if key not in self._known:
            if len(self._known) > MOST_KNOWN:
                self._known.clear()
            try:
                self._known[key] = _parsed(column, text, self._value(column, text), self.units)
            except InputError as error:
                # What stands in the cell, without the header's unit.
                said = (replace(fault, got=text) if fault.got else fault for fault in error.faults)
                self._known[key] = tuple(fault.at(key=column.field) for fault in said)
        return self._known[key]

    def _value(self, column: Column, text: str) -> Any:
        """What the loader is given for a cell: its text, with the header's unit where it has none."""
        if text.startswith("{"):
            return loader.inline_table(text)
        if not column.unit or not _NO_UNIT.fullmatch(text):
            return text
        if isinstance(column.of, (Size, Length)) and column.unit == self.units:
            return text
        if is_classed(text):
            number, _, rest = text.partition(" ")
            return f"{number} {column.unit} {rest}"
        return f"{text} {column.unit}"

    def _doubtful(self, sizes: Mapping[str, Sizes]) -> Mask:
        """Rows whose sizes may not go together; the loader says what is wrong, or that nothing is."""
        found: Mask = np.zeros(1, dtype=bool)
        for relation in self.kind.relations:
            if relation.smaller in sizes and relation.larger in sizes:
                small, large = sizes[relation.smaller], sizes[relation.larger]
                found = found | ((small.high >= large.low) & (small.high != 0.0))
        if self.kind.pair and all(name in sizes for name in self.kind.pair):
            one, other = (sizes[name].nominal for name in self.kind.pair)
            found = found | (np.abs(one - other) > BELONG * np.maximum(one, other))
        return found

    def _codes(self, block: Block, sizes: Mapping[str, Sizes]) -> list[Whole]:
        """Numbers that are equal for rows of one feature: texts, and what each size is."""
        import pandas as pd

        found = [one.what for one in sizes.values()]
        for column in self._fields:
            if column.field not in sizes:
                found.append(pd.factorize(block.texts[column.name])[0])
        # Between two plain numbers that are equal (frictions) there is no range.
        numbers = [
            one.field for one in self._by_row if isinstance(one.of, Numeric) and one.of.quantity == "number"
        ]
        for at, name in enumerate(numbers):
            for other in numbers[at + 1 :]:
                found.append((sizes[name].low == sizes[other].low).astype(np.int64))
        return found

    def _group(self, block: Block, at: Whole, sizes: Mapping[str, Sizes], bad: list[BadRow]) -> list[Group]:
        """Some rows as one feature; where its texts are wrong all of them are bad."""
        while len(at):
            keys = {}
            try:
                for column in self._fields:
                    if text := block.text(column.name, int(at[0])).strip():
                        keys[column.field] = self._keyed(column, text)
                feature = loader.feature(self.kind, keys, Context(units=self.units))
            except InputError as error:
                of_number = any(fault.key.partition(".")[0] in sizes for fault in error.faults)
                wrong, at = (at[:1], at[1:]) if of_number else (at, at[:0])
                bad += [BadRow(int(block.rows[one]), error.faults) for one in wrong]
                continue
            low, high = {}, {}
            for name, size in sizes.items():
                lows, highs = size.low[at], size.high[at]
                if size.what[at[0]] != ABSENT and ((lows != lows[0]).any() or (highs != highs[0]).any()):
                    low[name], high[name] = lows, highs
            return [Group(feature, at, low, high)]
        return []

    def _keyed(self, column: Column, text: str) -> Any:
        if text == UNDECIDED:
            raise InputError(Fault("not decided yet", "?", column.field))
        try:
            return self._value(column, text)
        except InputError as error:
            raise InputError([fault.at(key=column.field) for fault in error.faults]) from None


def _is_number(of: Field | None) -> bool:
    return isinstance(of, Numeric) and of.quantity != "temperature"


def _column(name: str, fields: Mapping[str, Field], carried: tuple[str, ...]) -> Column:
    match = _HEADER.fullmatch(name)
    if not match:
        raise InputError(Fault("a field name is due, such as hole [mm]", name or "(empty)"))
    field, unit = match[1], (match[2] or "").strip()
    if field not in fields:
        if name in carried:
            return Column(name, "", None, "")
        hint = meant(field, fields) or f'carry it along with --keep "{name}"'
        raise InputError(Fault("no such field", name, hint=hint))
    of = fields[field]
    if unit:
        if not isinstance(of, Numeric) or of.quantity == "number":
            raise InputError(Fault("this column takes no unit", name))
        try:
            quantity.convert(1.0, unit, of.quantity)
        except InputError as error:
            raise InputError(Fault(error.faults[0].must, name, hint=error.faults[0].hint)) from None
    return Column(name, field, of, unit)


def _allowed(of: Field | None, values: Array) -> Mask:
    """Numbers that a field takes as they are; any other goes to its parser, which words the fault."""
    if isinstance(of, (Size, Length)):
        return np.asarray((values > 0.0) | ((values == 0.0) & getattr(of, "zero", False)))
    found: Mask = np.asarray(of.takes(values))  # type: ignore[union-attr]
    return found


def _parsed(column: Column, text: str, value: Any, units: str) -> tuple[float, float, float, int]:
    if not text:
        return np.nan, np.nan, np.nan, ABSENT
    if text == UNDECIDED:
        raise InputError(Fault("not decided yet", "?"))
    assert column.of is not None
    parsed = column.of.parse(value, Context(units=units))
    ends = levels(parsed)
    low, high = min(ends), max(ends)
    exact, from_zero = (EXACT, ZERO) if low == high else (RANGE, RANGE_FROM_ZERO)
    what = from_zero if low == 0.0 else exact
    # A bearing's ring is another feature than a turned part of its size.
    if isinstance(parsed, Limits) and parsed.bought:
        what += BOUGHT * (1 + bought.WORDS.index(parsed.bought))
    return low, high, parsed.nominal if isinstance(parsed, Limits) else low, what


def _alike(codes: list[Whole], good: Mask) -> Iterator[Whole]:
    """Places of the rows that have all codes in common, in the order of the table."""
    places = np.flatnonzero(good)
    if not len(places):
        return
    joined = np.zeros(len(places), dtype=np.int64)
    for code in codes:
        code = code[places]
        joined = np.unique(joined * (int(code.max()) + 2) + code, return_inverse=True)[1]
    order = np.argsort(joined, kind="stable")
    for one in np.split(order, np.flatnonzero(np.diff(joined[order])) + 1):
        yield places[one]
