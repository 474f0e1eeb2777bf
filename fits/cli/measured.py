"""fits judge and fits pair: what to do with the parts that were cut and read."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from fits import quantity
from fits.cli.options import (
    Result,
    answered,
    generated,
    option,
    output_options,
    picture_option,
    pictured,
    skip_option,
    units_of,
)
from fits.errors import Fault, InputError

if TYPE_CHECKING:
    from fits.features.part import Part
    from fits.files.reading_row import Defaults
    from fits.files.readings import Block
    from fits.questions.answer import Answer
    from fits.questions.judge import Judging
    from fits.questions.judgement import Judged, PartJudgement
    from fits.questions.pairing import Pairing

MOST_FAULTS = 20

_TABLE = """\b
Readings are a CSV table with the columns part, feature.dimension (as
liner.hole), value, unit, uncertainty (k = 2), instrument, temperature; or a
row a part with a column a dimension (liner.hole [mm]). The columns station
and direction tell several readings of one bore apart; gauge_temperature and
gauge_expansion are asked for warm readings. # begins a row that is a note.
"""
_JUDGE = f"""Judge measured parts: accept, rework, reject, or measure better.

Against the drawing by the guard band of ISO 14253-1, and against function by
every rule in every state. Status 0 when all are accepted.

{_TABLE}
\b
Examples:
  fits judge examples/hand_pump.toml examples/hand_pump.measured.csv
  fits judge examples/hand_pump.toml examples/hand_pump.measured.csv --json
"""
_PAIR = f"""Pair measured holes with measured shafts.

As many pairs as hold in every state; the worst of them as far from breaking a
rule as can be, then all together. Status 0 when none is left over.

{_TABLE}
\b
Examples:
  fits pair examples/hand_pump.toml examples/hand_pump.measured.csv \\
    --feature liner
"""


def command(name: str) -> Callable[..., Result]:
    """The command function of either command."""
    arguments = [
        inspect.Parameter(
            argument,
            inspect.Parameter.POSITIONAL_OR_KEYWORD,
            annotation=Annotated[str, typer.Argument(metavar=metavar, help=text)],
        )
        for argument, metavar, text in (
            ("part", "PART", "part file, - for standard input"),
            ("table", "READINGS.csv", "table of readings, - for standard input"),
        )
    ]
    gauge = [
        option("gauge_temperature", "of the gauge, where no row says it", "TEMPERATURE"),
        option("gauge_expansion", "of the gauge, where no row says it", "EXPANSION"),
        skip_option("report bad rows and leave their parts out"),
    ]
    if name == "judge":
        return generated(_judge, [*arguments, *gauge, *output_options(), picture_option()], _JUDGE)
    feature = option("feature", "whose hole and shaft, where more than one was read", "NAME")
    return generated(_pair, [*arguments, feature, *gauge, *output_options(), picture_option()], _PAIR)


class _Asked(NamedTuple):
    """The part file, the table of readings and how they are read."""

    part: Part
    table: str
    defaults: Defaults
    units: str
    skip: bool

    def blocks(self, size: int | None = None) -> Iterator[Block]:
        """The readings; bad rows that are skipped are told."""
        from fits.files.readings import BLOCK, reading_blocks

        told = 0
        for block in reading_blocks(self.table, self.defaults, skip=self.skip, size=size or BLOCK):
            told = _tell(((one.part, one.faults) for one in block.bad), told)
            yield block

    def answer(self, found: Judged | Pairing, **held: Any) -> Answer:
        """The answer that holds what was found."""
        from fits.questions.answer import Answer

        of = self.part
        said: dict[str, Any] = {"info": of.info, "units": self.units, "rests_on": found.rests_on}
        return Answer(of.name, found.verdict, (), of.states, found.sources, **said, **held)


def _asked(
    part: str, table: str, temperature: str | None, expansion: str | None, units: str | None, *, skip: bool
) -> _Asked:
    from fits.files.part import read_part
    from fits.files.reading_row import Defaults

    if part == table == "-":
        raise InputError(Fault("only one of part file and table can come from standard input", "-"))
    found = read_part(part)
    shown = units_of(units, found.units)
    defaults = Defaults(
        _option(temperature, "temperature", "--gauge-temperature"),
        _option(expansion, "expansion", "--gauge-expansion"),
    )
    return _Asked(replace(found, units=shown), table, defaults, shown, skip)


def _tell(bad: Iterable[tuple[str, Iterable[Fault]]], told: int = 0) -> int:
    """Say on standard error which rows are skipped, the first of them; returns how many were said."""
    for name, faults in bad:
        for fault in faults:
            told += 1
            if told <= MOST_FAULTS:
                print(f"skipped: {fault}; {name} is left out", file=sys.stderr)
            elif told == MOST_FAULTS + 1:
                print("skipped: more, which are counted only", file=sys.stderr)
    return told


def _option(text: str | None, kind: str, name: str) -> float | None:
    if text is None:
        return None
    try:
        return quantity.read(text, kind)
    except InputError as error:
        raise InputError([fault.at(key=name) for fault in error.faults]) from None


def _judge(
    part: str,
    table: str,
    *,
    gauge_temperature: str | None,
    gauge_expansion: str | None,
    skip_bad_rows: bool,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.files.write import gathered
    from fits.questions.answer import PASS
    from fits.questions.judge import Judging
    from fits.questions.telling import telling
    from fits.report import measured_data as report
    from fits.report.progress import Progress

    if as_json and as_csv:
        raise InputError(Fault("--json or --csv, not both"))
    asked = _asked(part, table, gauge_temperature, gauge_expansion, units, skip=skip_bad_rows)
    with Progress("judging parts") as told, telling(told):
        judging = Judging(asked.part, skip=skip_bad_rows)
        parts = _parts(asked, judging)
        pieces: Iterable[str] = ()
        if as_json:
            pieces = gathered(text for some in parts for text in report.json_parts(some))
        elif as_csv:
            pieces = gathered(report.csv_parts(asked.part.name, some) for some in parts)
        else:
            for _ in parts:
                pass
    judged = judging.whole()
    answer = asked.answer(judged, judged=judged)
    if not (as_json or as_csv):
        result = answered(answer, as_json=False, as_csv=False, units=asked.units, output=output)
    else:
        around = answer._replace(judged=judged._replace(parts=()))
        text = report.in_pieces(around, pieces, as_json=as_json)
        result = Result(text, 0 if answer.verdict == PASS else 1, output or "")
    return pictured(result, None, answer, picture)


def _parts(asked: _Asked, judging: Judging) -> Iterator[tuple[PartJudgement, ...]]:
    """The parts of a table, block by block, with what is wrong of those left out."""
    told = 0
    for block in asked.blocks():
        judging.leave_out(dict.fromkeys(one.part for one in block.bad))
        yield judging.judged(block.readings, block.done)
        told = _tell(judging.left_out(), told)


def _pair(
    part: str,
    table: str,
    *,
    feature: str | None,
    gauge_temperature: str | None,
    gauge_expansion: str | None,
    skip_bad_rows: bool,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.questions.pair import pair
    from fits.questions.telling import telling
    from fits.report.progress import Progress

    asked = _asked(part, table, gauge_temperature, gauge_expansion, units, skip=skip_bad_rows)
    of = asked.part
    with Progress("pairing") as told, telling(told):
        (block,) = asked.blocks(sys.maxsize)
        bad: dict[str, list[Fault]] | None = {} if skip_bad_rows else None
        out = dict.fromkeys(one.part for one in block.bad)
        pairing = pair(of, block.readings, feature=feature or "", left_out=out, bad=bad)
    _tell((bad or {}).items())
    answer = asked.answer(pairing, pairing=pairing)
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=asked.units, output=output)
    return pictured(result, None, answer, picture)
