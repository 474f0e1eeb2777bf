"""fits odds: how many of the parts that are cut will pass?"""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any

import typer

from fits.cli.options import Result, generated, output_options, parameter, picture_option, units_of
from fits.errors import Fault, InputError

if TYPE_CHECKING:
    from fits.features.part import Part

_HELP = """How many of the parts that are cut will pass?

Parts are drawn from how their sizes scatter; everything else that is known only as
a range stays at its worst. Without a spread a size is uniform over its limits. Odds
are no proof: the worst case stands beside them. Status 0 only when it holds, as in fits
check, and every part drawn does.

\b
A spread, here or in the part file under [spreads]:
  uniform                        anywhere between the limits
  normal Cp 1.33                 6 sigma = tolerance / 1.33, in the middle
  normal Cp 1.33 at 16.004       the same about another size
  normal sigma 0.002 at 16.004   a known sigma
  normal Cp 0.8, inspected       what lies outside the limits is sorted out
  measured 16.003 16.005 16.004  what was measured
  measured from bores.csv        the same from a table, a column a dimension
                                 (liner.hole [mm]), or as fits judge takes it

\b
Examples:
  fits odds examples/hand_pump.toml
  fits odds examples/hand_pump.toml --spread "liner.hole: normal Cp 1.33"
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    part = inspect.Parameter(
        "part",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[str, typer.Argument(metavar="PART", help="part file, - for standard input")],
    )
    spread = Annotated[
        list[str] | None,
        typer.Option("--spread", help='how a size scatters, "liner.hole: normal Cp 1.33"', metavar="SPREAD"),
    ]
    samples = Annotated[
        int, typer.Option("--samples", help="parts to draw, rounded up to 16 x 2^n", metavar="N")
    ]
    seed = Annotated[int, typer.Option("--seed", help="of the draw; the same repeats it", metavar="N")]
    more = [
        parameter("spread", spread),
        parameter("samples", samples, 65_536),
        parameter("seed", seed, 1),
    ]
    return generated(_odds, [part, *more, *output_options(), picture_option()], _HELP)


def _odds(
    part: str,
    *,
    spread: list[str] | None,
    samples: int,
    seed: int,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.files.part import read_part

    if as_json and as_csv:
        raise InputError(Fault("--json or --csv, not both"))
    if seed < 0:
        raise InputError(Fault("must be 0 or above", str(seed), "--seed"))
    found = read_part(part)
    shown = units_of(units, found.units)
    found = _with_spreads(replace(found, units=shown), found.units, spread or [])
    from fits.questions.odds import odds
    from fits.report import odds as report
    from fits.report.progress import Progress

    with Progress("drawing parts") as told:
        try:
            answer = odds(found, samples=samples, seed=seed, workings=workings, told=told)
        except InputError as error:
            flags = {"samples": "--samples"}
            raise InputError([replace(f, key=flags.get(f.key, f.key)) for f in error.faults]) from None
    if as_json:
        text = report.to_json(answer)
    elif as_csv:
        text = report.to_csv(answer)
    else:
        from fits.report import terminal

        text = report.to_text(answer, shown)
        if output is None and terminal.wants_colour(sys.stdout):
            text = terminal.coloured(text)
    files: tuple[tuple[str, str | bytes], ...] = ()
    if picture is not None:
        from fits.report import odds_chart
        from fits.report.picture import rendered

        files = ((picture, rendered(odds_chart.of_odds(answer, shown), picture)),)
    return Result(text, report.status(answer), output or "", files)


def _with_spreads(part: Part, units: str, texts: list[str]) -> Part:
    """The part with the spreads typed on the shell in place of its own."""
    from fits.files.spreads import scatters, typed_spread

    faults: list[Fault] = []
    typed: dict[str, Any] = {}
    for text in texts:
        try:
            name, said = typed_spread(text)
            if name in typed:
                raise InputError(Fault("the spread of this dimension stands twice", text))
            typed[name] = said
        except InputError as error:
            faults += [replace(fault, key="--spread") for fault in error.faults]
    wrong: list[Fault] = []
    found = scatters(typed, part.features, {}, units, wrong)
    faults += [replace(fault, key=f"--spread {fault.key}") for fault in wrong]
    if faults:
        raise InputError(faults)
    return replace(part, spreads={**part.spreads, **found})
