"""fits limits: sizes and pairs as a drawing writes them."""

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
from fits.questions.limits import limits

_HELP = """Limits of size, deviations, clearance and kind of fit.

A size is a class (25 H7), a pair (25 H7/g6), limits (25.021/25.000), deviations
(25 +0.021/0) or equal deviations (25 ±0.01); several at once.

\b
Examples:
  fits limits "25 H7/g6" "40 P7"
  fits limits "25.021/25.000" --units in
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    sizes = inspect.Parameter(
        "sizes",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[list[str], typer.Argument(metavar="SIZE...", help="sizes to answer")],
    )
    return generated(_limits, [sizes, *output_options(), picture_option()], _HELP)


def _limits(
    sizes: list[str],
    *,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    shown = units_of(units)
    answer = limits(sizes, units=shown)
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output, judged=False)
    return pictured(result, None, answer, picture)
