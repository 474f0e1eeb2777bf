"""Joints of a table as CSV: a row a joint, its verdict, its worst rule, its main values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from fits import quantity
from fits.arrays import Array, Whole
from fits.features.feature import Feature
from fits.questions.rows import NOT_COVERED, VERDICTS, Judged, Main


def header(kind: type[Feature], carried: Sequence[str], mains: Sequence[Main], units: str) -> str:
    """The header row; units stand in it, but for the worst rule's, which has a column."""
    of = {value.name: value for value in kind.values}
    names = ["row", *carried, "verdict", "worst_rule", "state", "worst", "limit", "margin", "unit"]
    for one in mains:
        unit = _unit(of[one.value].kind, units)
        names.append(f"{one.value}_{one.end}" + (f" [{unit}]" if unit else ""))
    return ",".join(quoted(name) for name in [*names, "remark"]) + "\n"


def lines(
    kind: type[Feature],
    judged: Judged,
    rows: Whole,
    carried: Mapping[str, Any],
    mains: Sequence[Main],
    units: str,
) -> str:
    """The rows of a block as text, numbers at 12 significant digits, empty where there is none."""
    of = {value.name: value.kind for value in kind.values}
    kinds = [of[rule.value] for rule in kind.rules]
    worst, limit, margin = (np.full(len(rows), np.nan) for _ in range(3))
    unit = np.full(len(rows), "", dtype=object)
    for at in np.flatnonzero(np.bincount(judged.rule + 1, minlength=len(kinds) + 1)[1:]):
        here = judged.rule == at
        shown = kinds[at]
        worst[here], limit[here] = (_shown(a[here], shown, units) for a in (judged.worst, judged.limit))
        apart = "temperature difference" if shown == "temperature" else shown
        margin[here] = _shown(judged.margin[here], apart, units)
        unit[here] = _unit(shown, units) or "1"
    names = np.array([quoted(rule.name) for rule in kind.rules] + [""], dtype=object)
    columns: list[tuple[str, list[Any]]] = [("%d", rows.tolist())]
    columns += [("%s", _texts(carried[name])) for name in carried]
    columns += [("%s", np.array(VERDICTS, dtype=object)[judged.verdict].tolist())]
    columns += [("%s", names[judged.rule].tolist()), ("%s", _texts(judged.state))]
    columns += [_numbers(array) for array in (worst, limit, margin)]
    columns += [("%s", unit.tolist())]
    columns += [_numbers(_shown(judged.values[one], of[one.value], units)) for one in mains]
    columns += [("%s", _texts(judged.note))]
    row = ",".join(form for form, _ in columns) + "\n"
    return "".join(map(row.__mod__, zip(*(cells for _, cells in columns), strict=True)))


def _unit(kind: str, units: str) -> str:
    if units == "in":
        return quantity.sheet_unit(kind, units=units)
    unit = quantity.report_unit(kind)
    return "" if unit == "1" else unit


def _shown(values: Array, kind: str, units: str) -> Array:
    """Numbers in the inside unit as those of the answer's unit."""
    if units == "in" and kind == "temperature":
        return values * 1.8 + 32.0
    of = quantity.KINDS[kind]
    return values * (of.inch[1] if units == "in" else of.to_report)


def _numbers(values: Array) -> tuple[str, list[Any]]:
    missing = np.isnan(values)
    if not missing.any():
        return "%.12g", values.tolist()
    return "%s", [f"{one:.12g}" if one == one else "" for one in values.tolist()]


def _texts(values: Any) -> list[str]:
    found: list[str] = values.tolist()
    if not _odd("".join(found)):
        return found
    cells = {text: quoted(text) for text in set(found)}
    return [cells[text] for text in found]


def _odd(text: str) -> bool:
    return any(mark in text for mark in ',"\n\r')


def quoted(text: str) -> str:
    """A cell of CSV.

    >>> quoted("a, b"), quoted("a")
    ('"a, b"', 'a')
    """
    return '"' + text.replace('"', '""') + '"' if _odd(text) else text


def summary(counts: Sequence[int], skipped: int, kind: str) -> str:
    """What came of all rows, in one line."""
    said = ", ".join(f"{count:,} {word}" for word, count in zip(VERDICTS, counts, strict=True) if count)
    rows = f"{sum(counts):,} rows judged: {said}"
    if counts[NOT_COVERED]:
        rows += f" (fits {kind} with a row's values says what would be enough)"
    return f"{rows}; {skipped:,} bad rows skipped" if skipped else rows
