"""fits check: every feature of a part file in every state."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Annotated

import typer

from fits.cli.options import (
    Result,
    answered,
    generated,
    output_options,
    picture_option,
    pictured,
    units_of,
)

_HELP = """Check every feature of a part file in every state, worst case.

Status 0 when every rule that was asked holds, 1 when one fails or isn't covered.

\b
Examples:
  fits check examples/hand_pump.toml
  fits check examples/hand_pump.toml --json -o answer.json
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    part = inspect.Parameter(
        "part",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[str, typer.Argument(metavar="PART", help="part file, - for standard input")],
    )
    return generated(_check, [part, *output_options(), picture_option()], _HELP)


def _check(
    part: str,
    *,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from dataclasses import replace

    from fits.files.part import read_part
    from fits.questions.check import check

    found = read_part(part)
    shown = units_of(units, found.units)
    found = replace(found, units=shown)
    answer = check(found, workings=workings)
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
    return pictured(result, found, answer, picture)
