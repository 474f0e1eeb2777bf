"""The answer on a screen of 80 columns: verdict and what to do first, numbers after.

Numbers are never cut or wrapped; colour marks verdict words only, and only on a
terminal (``NO_COLOR``, ``FORCE_COLOR`` and ``TERM=dumb`` are honoured).
"""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, TextIO

from fits import quantity
from fits.questions.answer import Answer, FeatureAnswer
from fits.report import rows

if TYPE_CHECKING:
    from fits.features.beside import Alternative

WIDTH = 80
# The least room in which a last column of text is wrapped.
LAST = 28
# Names in a first column are wrapped while they have this much.
NAME = 24
_COLOURS = {
    "NO WINDOW": "31",
    "WINDOW": "32",
    "PASS": "32",
    "FAIL": "31",
    "NOT COVERED": "33",
    "REFUSED": "31",
    "ACCEPT": "32",
    "REWORK": "33",
    "REJECT": "31",
    "UNDECIDED": "33",
}


def wants_colour(stream: TextIO) -> bool:
    """Whether a stream takes colour."""
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR"):
        return True
    return stream.isatty() and os.environ.get("TERM", "") != "dumb"


def render(answer: Answer, *, units: str = "mm", colour: bool = False) -> str:
    """The whole report as text; units "both" shows values in mm and in, for an answer without states."""
    lines = [*_head(answer, units)]
    if answer.windows or answer.choices:
        from fits.report import window_screen

        lines += window_screen.lines(answer, units)
    if answer.drawers:
        from fits.report import drawers

        lines += drawers.lines(answer, units)
    if answer.listed:
        lines += _list_of(answer.features, units)
    if answer.judged is not None or answer.pairing is not None:
        from fits.report import measured_screen

        lines += measured_screen.lines(answer, units)
    for feature in () if answer.listed else answer.features:
        lines += [*([""] if lines else []), *_feature(feature, units)]
    resting = ((f"{one.rule} ({one.feature})", one.sources) for one in answer.rests_on)
    lines += listed("Rests on what is from memory or doubtful", rows.memory_texts(resting))
    lines += _sources(answer)
    text = "\n".join(line.rstrip() for line in lines) + "\n"
    return coloured(text) if colour else text


def coloured(text: str) -> str:
    """Verdict words in colour."""
    import re

    words = "|".join(sorted(_COLOURS, key=len, reverse=True))
    return re.sub(rf"\b({words})\b", lambda m: f"\x1b[1;{_COLOURS[m[1]]}m{m[1]}\x1b[0m", text)


def wrapped(text: str, indent: str, first: str | None = None) -> list[str]:
    """A paragraph wrapped to the width, never inside a word or a number with its unit."""
    joined = _glue(text)
    lines = textwrap.wrap(
        joined,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace("\u00a0", " ") for line in lines]


def _glue(text: str) -> str:
    """Numbers kept on one line with their units."""
    import re

    return re.sub(
        r"(\d) (mm|in|MPa|psi|N|lbf|degC|degF|K|um|uin|rpm|s|kN|N\*m|lbf\*in)\b", "\\1\u00a0\\2", text
    )


def columns(cells: Iterable[Sequence[str]], align: str, indent: str = "  ", gap: str = "  ") -> list[str]:
    """Aligned columns; ``align`` has l or r for each.

    Wider than the screen: a last column of text is wrapped where it has room, else a first one, else
    one cell a line.
    """
    table = [list(row) for row in cells]
    if not table:
        return []
    widths = [max(len(row[i]) for row in table) for i in range(len(align))]
    if _width(table, indent, gap) > WIDTH:
        left = _width([row[:-1] for row in table], indent, gap) + len(gap)
        if len(align) > 1 and align[-1] == "l" and left <= WIDTH - LAST:
            heads = columns([row[:-1] for row in table], align[:-1], indent, gap)
            return [
                line
                for head, row in zip(heads, table, strict=True)
                for line in wrapped(row[-1] or " ", " " * left, f"{head}{gap}") or [head]
            ]
        room = widths[0] - _width(table, indent, gap) + WIDTH
        if align[0] == "l" and room >= NAME:
            return _first_wrapped(table, align, room, indent, gap)
        return [
            line
            for row in table
            for line in (indent + row[0], *wrapped("  ".join(filter(None, row[1:])), indent + "    "))
        ]
    lines = []
    for row in table:
        padded = [
            cell.rjust(width) if side == "r" else cell.ljust(width)
            for cell, width, side in zip(row, widths, align, strict=True)
        ]
        lines.append(indent + gap.join(padded))
    return lines


def _first_wrapped(table: Sequence[Sequence[str]], align: str, room: int, indent: str, gap: str) -> list[str]:
    """Columns of which the first is wrapped to ``room``; the others stand on its first line."""
    heads = [textwrap.wrap(row[0], room, subsequent_indent="  ") or [""] for row in table]
    cells = [[head[0], *row[1:]] for head, row in zip(heads, table, strict=True)]
    aligned = columns(cells, align, indent, gap)
    return [
        line
        for first, head in zip(aligned, heads, strict=True)
        for line in (first, *(indent + more for more in head[1:]))
    ]


def _width(table: Sequence[Sequence[str]], indent: str = "  ", gap: str = "  ") -> int:
    """How wide aligned columns come out."""
    widest = [max(len(cell) for cell in column) for column in zip(*table, strict=True)]
    return len(indent) + sum(widest) + len(gap) * (len(widest) - 1)


def _head(answer: Answer, units: str) -> list[str]:
    verdict, name, means = rows.headline(answer)
    if not any(rows.judged(feature) for feature in answer.features):
        return []
    lines = [*wrapped(f"{verdict}: {name}", "  ", ""), *wrapped(means, "  ")]
    if len(answer.features) > 1:
        words = [[f.name, rows.VERDICT_WORDS[f.verdict]] for f in answer.features if rows.judged(f)]
        lines += columns(words, "ll", "  ")
    if answer.states:
        lines += ["", "States"]
        lines += columns([[s.name, rows.state_text(s, units)] for s in answer.states], "ll")
    return lines


def _feature(feature: FeatureAnswer, units: str) -> list[str]:
    verdict = rows.VERDICT_WORDS[feature.verdict]
    if rows.judged(feature):
        lines = [f"{feature.name} ({feature.kind}): {verdict}"]
    else:
        lines = wrapped(": ".join((feature.name, *feature.notes[:1])), "  ", "")
        feature = feature._replace(notes=feature.notes[1:])
    for headline, details in rows.to_do(feature, units):
        lines += wrapped(headline, "    ", "  ! ")
        for word, text in details:
            lines += wrapped(text, "         ", f"    {word + ':':<5}")
    if feature.states:
        lines += ["", "  States of this feature"]
        lines += columns([[s.name, rows.state_text(s, units)] for s in feature.states], "ll", "    ")
    if feature.checks:
        lines += ["", "  Rules, each at its worst"]
        lines += _checks(feature, units)
    if feature.values:
        lines += ["", "  Values, over all states"] if feature.checks else []
        lines += _values(feature, units)
    if feature.sizes and rows.judged(feature):
        lines += ["", "  Sizes at 20 degC"]
        lines += columns(_sizes(feature), "lrlrll", "    ")
    lines += listed(feature.plan_title, map(rows.step_text, feature.plan))
    lines += alternatives(feature.alternatives, units)
    for title, texts in rows.lists(feature, units):
        lines += listed(title, texts)
    return [line for index, line in enumerate(lines) if line or lines[index - 1]]


def _list_of(features: Sequence[FeatureAnswer], units: str) -> list[str]:
    """Features as rows: name, least and greatest of each value, notes in few words."""
    lines: list[str] = []
    for feature in features:
        if not feature.values:
            lines += [*wrapped(feature.name, "  ", ""), *listed("Note", feature.notes)[2:], ""]
    cells: list[list[str]] = []
    for feature in features:
        found = [rows.value_row(value, units) for value in feature.values]
        if found and not cells:
            heads = (f"{row.label}, {row.unit}" if row.unit else row.label for row in found)
            cells.append(["", *heads, ""])
        if found:
            spans = (f"{row.least} to {row.greatest}" for row in found)
            cells.append([feature.name, *spans, "; ".join(feature.notes)])
    return [*lines, *columns(cells, "l" + "r" * (len(cells[0]) - 2) + "l", "")] if cells else lines


def listed(title: str, texts: Iterable[str]) -> list[str]:
    """A titled list, nothing where there is nothing."""
    found = list(texts)
    if not found:
        return []
    lines = ["", f"  {title}"]
    for text in found:
        lines += wrapped(text, "    ", "  - ")
    return lines


def alternatives(found: Sequence[Alternative], units: str) -> list[str]:
    """Other ways to do it, side by side: what each would need and what is open of it."""
    lines = ["", "  Instead of it, what each would need (open: not covered here)"] if found else []
    for one in found:
        headline, details = rows.alternative_lines(one, units)
        lines += wrapped(headline, "    ", "  - ")
        for word, text in details:
            lines += wrapped(text, "          ", f"    {word + ':':<6}")
    return lines


def _checks(feature: FeatureAnswer, units: str) -> list[str]:
    cells, places = [], []
    for check in feature.checks:
        row = rows.check_row(check, units)
        sign = {"at least": ">=", "at most": "<=", "above": ">", "": ""}[row.relation]
        cells.append([row.verdict, row.rule, row.worst, sign, row.limit, row.state])
        places.append(", ".join(filter(None, (row.state, row.where))))
    whole = [[*cell[:-1], place] for cell, place in zip(cells, places, strict=True)]
    # Which layer it is stands with what to do as well; a narrow screen drops it here, then the mark
    # of what rests on memory, since the list below names the rules.
    bare = [[cell[0], cell[1].removesuffix(rows.MARK), *cell[2:]] for cell in cells]
    for table, gap in ((whole, "  "), (cells, "  "), (cells, " "), (bare, " ")):
        if _width(table, gap=gap) <= WIDTH:
            return columns(table, "llrlrl", gap=gap)
    return _in_two_lines(cells)


def _in_two_lines(cells: Sequence[Sequence[str]]) -> list[str]:
    """Rules whose rows are wider than the screen: verdict and rule, then the numbers below each other."""
    worst, limit = (max(len(cell[at]) for cell in cells) for at in (2, 4))
    indent, lines = " " * 15, []
    for verdict, rule, number, sign, bound, state in cells:
        numbers = f"{indent}{number:>{worst}}  {sign:2}  {bound:>{limit}}  "
        lines += wrapped(rule, indent, f"  {verdict:<11}  ")
        lines += wrapped(state, indent, numbers)
    return lines


def _values(feature: FeatureAnswer, units: str) -> list[str]:
    if units == "both":
        pairs = [[rows.value_row(value, one) for one in quantity.LENGTH_UNITS] for value in feature.values]
        return columns([_side_by_side(*pair) for pair in pairs], "lrrlrrl")
    cells = [["", "least", "greatest", "", "in"]] if feature.checks else []
    for value in feature.values:
        row = rows.value_row(value, units)
        same = row.least_in == row.greatest_in
        where = row.least_in if same else f"{row.least_in or '-'}, {row.greatest_in or '-'}"
        where = where if feature.checks else ""
        cells.append([row.label, row.least, row.greatest, row.unit, where])
    return columns(cells, "lrrll")


def _side_by_side(metric: rows.ValueRow, inch: rows.ValueRow) -> list[str]:
    return [metric.label, metric.least, metric.greatest, metric.unit, inch.least, inch.greatest, inch.unit]


def _sizes(feature: FeatureAnswer) -> list[list[str]]:
    found = []
    for row in rows.size_rows(feature):
        note = f"{row.text}, joined" if row.note else row.text
        found.append([row.label, row.mm, "mm", row.inch, "in", note])
    return found


def _sources(answer: Answer) -> list[str]:
    lines = ["", "Sources"] if answer.sources else []
    for source in answer.sources:
        lines += wrapped(str(source), "    ", "  - ")
    weak = [str(s) for s in answer.sources if s.evidence in ("memory",) or s.doubt]
    if weak:
        lines += ["", *wrapped(f"{len(weak)} of these are from memory or doubtful, and say so.", "  ")]
    return lines
