"""fits judge and fits pair: what to do with the parts that were cut and read."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

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
    units_of,
)
from fits.errors import Fault, InputError

if TYPE_CHECKING:
    from fits.features.part import Part
    from fits.sizes.reading import Reading

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
    ]
    if name == "judge":
        return generated(_judge, [*arguments, *gauge, *output_options(), picture_option()], _JUDGE)
    feature = option("feature", "whose hole and shaft, where more than one was read", "NAME")
    return generated(_pair, [*arguments, feature, *gauge, *output_options(), picture_option()], _PAIR)


def _read(
    part: str, table: str, temperature: str | None, expansion: str | None, units: str | None
) -> tuple[Part, tuple[Reading, ...], str]:
    from fits.files.part import read_part
    from fits.files.readings import Defaults, read_readings

    if part == table == "-":
        raise InputError(Fault("only one of part file and table can come from standard input", "-"))
    found = read_part(part)
    shown = units_of(units, found.units)
    defaults = Defaults(
        _option(temperature, "temperature", "--gauge-temperature"),
        _option(expansion, "expansion", "--gauge-expansion"),
    )
    return replace(found, units=shown), read_readings(table, defaults), shown


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
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.questions.answer import Answer
    from fits.questions.judge import judge

    found, readings, shown = _read(part, table, gauge_temperature, gauge_expansion, units)
    judged = judge(found, readings)
    answer = Answer(
        found.name,
        judged.verdict,
        (),
        found.states,
        judged.sources,
        info=found.info,
        units=shown,
        judged=judged,
    )
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
    return pictured(result, None, answer, picture)


def _pair(
    part: str,
    table: str,
    *,
    feature: str | None,
    gauge_temperature: str | None,
    gauge_expansion: str | None,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.questions.answer import Answer
    from fits.questions.pair import pair

    found, readings, shown = _read(part, table, gauge_temperature, gauge_expansion, units)
    pairing = pair(found, readings, feature=feature or "")
    answer = Answer(
        found.name,
        pairing.verdict,
        (),
        found.states,
        pairing.sources,
        info=found.info,
        units=shown,
        pairing=pairing,
    )
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
    return pictured(result, None, answer, picture)
