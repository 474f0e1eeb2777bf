"""fits batch: a thousand or a million joints from a table."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Generator
from contextlib import closing
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from fits.cli.options import Result, generated, option, parameter, skip_option, typed_states, units_of
from fits.errors import Fault, InputError

if TYPE_CHECKING:
    from fits.features.feature import Feature, State
    from fits.files.batch import Joints
    from fits.questions.rows import Main

_HELP = """A thousand or a million joints from a table.

The columns of TABLE.csv are the options of the kind with _ for -: hole, shaft,
hub_material. Units stand in the header (hole [mm], axial_load [N]) or in the cells;
a cell takes what the option takes (16 H7, 16.05/16.04, 0.10 to 0.15). An empty cell is
not given. Columns part, name, id, mark and note are carried along. The answer is
a CSV: verdict, worst rule and its margin, main values. Rows are numbered as a
spreadsheet does, the header is row 1. Status 0 when every row passes.

\b
Examples:
  fits batch press examples/liners.csv
  fits batch press examples/liners.csv --state "hot: 70 degC, 8 MPa"
  fits batch press examples/liners.csv --value press_force -o answer.csv
  fits batch gland piston examples/grooves.csv
"""
MOST_FAULTS = 20


class _Asked(NamedTuple):
    """What the command line asks for."""

    kind: type[Feature]
    states: tuple[State, ...]
    units: str
    more: tuple[str, ...]
    skip: bool


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    # A kind of several forms takes a word more, so that the table is the second word or the third.
    words = [
        _argument("kind", "KIND", "press, running, gland, ..."),
        _argument("form", "FORM", "where the kind has several: piston, rod, face, ...", default=None),
        _argument("table", "TABLE.csv", "table of joints, - for standard input", default=None),
    ]
    state = Annotated[
        list[str] | None,
        typer.Option(
            "--state", help='state to survive, such as "hot: 70 degC, 16 MPa"; repeat', metavar="STATE"
        ),
    ]
    value = Annotated[
        list[str] | None,
        typer.Option("--value", help="give this value too, such as contact_pressure; repeat", metavar="NAME"),
    ]
    keep = Annotated[
        list[str] | None, typer.Option("--keep", help="carry this column along; repeat", metavar="COLUMN")
    ]
    where = Annotated[str | None, typer.Option("-o", "--output", help="write to FILE", metavar="FILE")]
    more = [
        parameter("state", state),
        parameter("value", value),
        parameter("keep", keep),
        skip_option("report bad rows and leave them out"),
        option("units", "mm or in: bare lengths, and what is shown", "mm|in"),
        parameter("output", where),
    ]
    return generated(_batch, [*words, *more], _HELP)


def _argument(name: str, metavar: str, help_text: str, **default: None) -> inspect.Parameter:
    mark = typer.Argument(metavar=metavar, help=help_text, show_default=False)
    kind = inspect.Parameter.POSITIONAL_OR_KEYWORD
    return inspect.Parameter(name, kind, annotation=Annotated[str | None, mark], **default)


def _kind_and_table(words: list[str]) -> tuple[str, str]:
    """The kind, with its form where it has several, and the table.

    Raises:
        InputError: a form or a table is missing, or a word too much.
    """
    from fits.features.kinds import forms, tables

    first, several = words[0], forms(words[0])
    count = 2 if several else 1
    if not several and first in tables() and len(words) > 2:
        raise InputError(Fault("one table at a time", words[2], "TABLE.csv"))
    if several and (len(words) < 2 or words[1] not in several):
        got = words[1] if len(words) > 2 else ""
        hint = f"fits batch {first} {'|'.join(several)} TABLE.csv"
        raise InputError(Fault(f"{first} has several forms: say which", got, "FORM", hint=hint))
    if len(words) <= count:
        raise InputError(Fault("missing: a table of joints", key="TABLE.csv", hint="- for standard input"))
    return " ".join(words[:count]), words[count]


def _batch(
    kind: str,
    form: str | None,
    table: str | None,
    *,
    state: list[str] | None,
    value: list[str] | None,
    keep: list[str] | None,
    skip_bad_rows: bool,
    units: str | None,
    output: str | None,
) -> Result:
    from fits.features.kinds import kind as kind_of
    from fits.files.batch import Batch
    from fits.files.write import gathered, write
    from fits.report import joints as report
    from fits.report.progress import Progress

    kind, table = _kind_and_table([word for word in (kind, form, table) if word is not None])
    of = kind_of(kind)
    states = typed_states(state)
    _known_values(of, value or [])
    asked = _Asked(of, states, units_of(units), tuple(value or ()), skip_bad_rows)
    counts, skipped, cautions = [0, 0, 0, 0], [0], dict[str, None]()
    batch = Batch(table, of, units=units and asked.units, keep=tuple(keep or ()), typed=state or ())
    with Progress("judging joints") as told:
        pieces = _pieces(batch, asked, (counts, skipped, cautions), told)
        with closing(pieces):
            if output:
                write(output, pieces)
                text: Any = ""
            else:
                text = gathered(pieces)
    for line in (report.summary(counts, skipped[0], kind), *(f"caution: {text}" for text in cautions)):
        print(line, file=sys.stderr)
    return Result(text, 0 if sum(counts[1:]) == 0 and not skipped[0] else 1)


def _known_values(kind: type[Feature], names: list[str]) -> None:
    from fits.errors import meant

    known = [value.name for value in kind.values]
    faults = [
        Fault(f"{kind.kind} has no such value", name, "--value", hint=meant(name, known))
        for name in names
        if name not in known
    ]
    if faults:
        raise InputError(faults)


def _pieces(
    batch: Any,
    asked: _Asked,
    gathered: tuple[list[int], list[int], dict[str, None]],
    told: Callable[[float | None], None],
) -> Generator[str]:
    """The answer as text, block by block; verdicts, bad rows and cautions are gathered."""
    from fits.report import joints as report

    counts, skipped, cautions = gathered
    mains: tuple[Main, ...] | None = None
    with closing(batch.blocks()) as blocks:
        for joints in blocks:
            _bad_rows(joints, asked.skip, skipped)
            if mains is None and joints.groups:
                mains = _mains(joints, asked)
                cautions.update(_cautions(joints, asked))
                yield report.header(asked.kind, batch.carried, mains, asked.units)
            if mains is not None:
                yield _judged(joints, asked, mains, counts)
            told(joints.done)
    if mains is None:
        raise InputError(Fault("no row can be read", place=batch.table.path))


def _bad_rows(joints: Joints, skip: bool, skipped: list[int]) -> None:
    if not joints.bad:
        return
    faults = [fault for row in joints.bad for fault in row.faults]
    if not skip:
        more = len(faults) - MOST_FAULTS
        rest = [Fault(f"and {more:,} more faults; --skip-bad-rows leaves such rows out")] if more > 0 else []
        raise InputError([*faults[:MOST_FAULTS], *rest])
    for fault in faults[: max(MOST_FAULTS - skipped[0], 0)]:
        print(f"skipped: {fault}", file=sys.stderr)
    skipped[0] += len(joints.bad)


def _mains(joints: Joints, asked: _Asked) -> tuple[Any, ...]:
    """The values of the rules that the first block asks for."""
    from fits.features.feature import States
    from fits.questions.rows import Main, mains_of

    states = States.of(asked.states)
    found = {one for group in joints.groups for one in mains_of(group.feature, states)}
    order = [Main(rule.value, end) for rule in asked.kind.rules for end in ("least", "greatest")]
    more = [Main(name, end) for name in asked.more for end in ("least", "greatest")]
    return tuple(dict.fromkeys([*(one for one in order if one in found), *more]))


def _cautions(joints: Joints, asked: _Asked) -> dict[str, None]:
    """What can hurt someone, said once for the table."""
    from fits.features.feature import States

    states = States.of(asked.states)
    features = [group.feature for group in joints.groups]
    said = [one.text for one in asked.kind.cautions if any(one.applies(of, states) for of in features)]
    return dict.fromkeys(said)


def _judged(joints: Joints, asked: _Asked, mains: tuple[Main, ...], counts: list[int]) -> str:
    """The rows of a block as text, bad ones left out."""
    import numpy as np

    from fits.features.part import Part
    from fits.questions.rows import Judged, judge_rows
    from fits.report import joints as report

    name = asked.kind.kind
    found = Judged.empty(len(joints.rows), mains)
    good = np.zeros(len(joints.rows), dtype=bool)
    for group in joints.groups:
        part = Part(asked.kind.title, {name: group.feature}, asked.states, units=asked.units)
        found.put(group.at, judge_rows(part, name, len(group.at), group.low, group.high, mains))
        good[group.at] = True
    found = found.only(good)
    for verdict, count in enumerate(np.bincount(found.verdict, minlength=len(counts)).tolist()):
        counts[verdict] += count
    carried = {name: column[good] for name, column in joints.carried.items()}
    return report.lines(asked.kind, found, joints.rows[good], carried, mains, asked.units)
