"""fits compare: what a change did to each verdict and margin."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated

import typer

from fits.cli.options import Result, generated, output_options, units_of
from fits.errors import Fault, InputError

if TYPE_CHECKING:
    from fits.questions.reported import Report

_HELP = """What a change did: to the inputs, to each verdict, to what each rule has to spare.

A and B are part files, or reports that fits check --json wrote: so a part is held
against what was said of it a year ago. Rules are compared each at its worst.

Status 0 when every rule of B holds and none that A was judged by is missing from
it; else 1, even when nothing got worse: what failed before still fails.

\b
Examples:
  fits compare examples/hand_pump.toml examples/water_sampler.toml
  fits compare last_year.json pump.toml -o changes.txt
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    sides = [
        inspect.Parameter(
            side,
            inspect.Parameter.POSITIONAL_OR_KEYWORD,
            annotation=Annotated[str, typer.Argument(metavar=side.upper(), help=told)],
        )
        for side, told in (("a", "part file or report, before"), ("b", "part file or report, after"))
    ]
    options = [one for one in output_options() if one.name != "workings"]
    return generated(_compare, [*sides, *options], _HELP)


def _compare(a: str, b: str, *, as_json: bool, as_csv: bool, units: str | None, output: str | None) -> Result:
    if as_json and as_csv:
        raise InputError(Fault("--json or --csv, not both"))
    if a == b == "-":
        raise InputError(Fault("only one of the two can be standard input", "-"))
    sides: list[tuple[Report, str]] = []
    faults: list[Fault] = []
    for path in (a, b):
        try:
            sides.append(_side(path))
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    from fits.questions.compare import compare
    from fits.report import comparison

    (before, _), (after, own) = sides
    shown = units_of(units, own)
    found = compare(before, after)
    if as_json:
        text: str | bytes = comparison.to_json(found).encode()
    elif as_csv:
        text = comparison.to_csv(found).encode()
    else:
        from fits.report import terminal

        text = comparison.text_of(found, shown)
        if output is None and terminal.wants_colour(sys.stdout):
            text = terminal.coloured(text)
    return Result(text, 0 if found.holds else 1, output or "")


def _side(path: str) -> tuple[Report, str]:
    """A report, stored or of a part that is checked now, and the units to show it in."""
    from fits.files.part import part_of, text_of
    from fits.files.stored import is_report, report_of
    from fits.questions.reported import reported

    text = text_of(path)
    if is_report(text) or path.lower().endswith(".json"):
        return reported(report_of(text, path), path), "mm"
    from fits.questions.check import check
    from fits.report import data

    part = part_of(text, path)
    return reported(data.to_dict(check(part)), path), part.units
