"""fits limits: sizes and pairs as a drawing writes them."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Annotated

import typer

from fits.cli.options import (
    BOTH,
    Result,
    answered,
    generated,
    output_options,
    picture_option,
    pictured,
    units_of,
)
from fits.questions.limits import limits
from fits.sizes.notation import is_inch_class

_HELP = """Limits of size, deviations, clearance and kind of fit.

A size is a class (25 H7), a pair (25 H7/g6), an inch class of ANSI B4.1 (1.0000
in RC4, RC4S on basic shaft), limits (25.021/25.000), deviations (25 +0.021/0) or
equal deviations (25 ±0.01); several at once. Inch classes are shown in mm and in,
unless --units says otherwise.

\b
Examples:
  fits limits "25 H7/g6" "40 P7"
  fits limits "1.0000 in RC4" "1 3/8 in FN2 hole"
  fits limits "25.021/25.000" --units both
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    sizes = inspect.Parameter(
        "sizes",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[list[str], typer.Argument(metavar="SIZE...", help="sizes to answer")],
    )
    return generated(_limits, [sizes, *output_options(both=True), picture_option()], _HELP)


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
    shown = units_of(units, BOTH if any(is_inch_class(size) for size in sizes) else "mm", both=True)
    answer = limits(sizes, units="mm" if shown == BOTH else shown)
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output, judged=False)
    return pictured(result, None, answer, picture)
