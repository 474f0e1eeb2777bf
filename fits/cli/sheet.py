"""fits sheet: the page that hangs at the machine."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Annotated, Any

import typer

from fits.cli.options import Result, generated, option, parameter, units_of
from fits.errors import Fault, InputError

_HELP = """One page for a part: verdict, drawings, sizes, rules, steps, boxes for readings.

HTML in one file that loads nothing, or PDF. Status as for fits check.

\b
Examples:
  fits sheet examples/hand_pump.toml -o pump.html
  fits sheet examples/hand_pump.toml --pdf --paper letter -o pump.pdf
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    part = inspect.Parameter(
        "part",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[str, typer.Argument(metavar="PART", help="part file, - for standard input")],
    )
    pdf = Annotated[bool, typer.Option("--pdf", help="a PDF instead of HTML; needs -o", show_default=False)]
    works = Annotated[
        bool,
        typer.Option("--workings", help="with every value, its equation and numbers", show_default=False),
    ]
    where = Annotated[str | None, typer.Option("-o", "--output", help="write to FILE", metavar="FILE")]
    options = [
        parameter("pdf", pdf, False),
        option("paper", "of the PDF; else by the units", "a4|letter"),
        option("units", "mm or in: what is shown", "mm|in"),
        parameter("workings", works, False),
        parameter("output", where),
    ]
    return generated(_sheet, [part, *options], _HELP)


def _sheet(
    part: str, *, pdf: bool, paper: str | None, units: str | None, workings: bool, output: str | None
) -> Result:
    from dataclasses import replace

    from fits.files.part import read_part
    from fits.questions.answer import PASS
    from fits.questions.check import check
    from fits.questions.drawn import with_drawings
    from fits.report import sheet

    _options(pdf, paper, output, sheet.PAPERS)
    found = read_part(part)
    shown = units_of(units, found.units)
    found = replace(found, units=shown)
    answer = with_drawings(found, check(found, workings=workings))
    page = sheet.render(answer, units=shown)
    paper = paper or ("letter" if shown == "in" else "a4")
    content = sheet.to_pdf(page, paper) if pdf else page.encode()
    return Result(content, 0 if answer.verdict == PASS else 1, output or "")


def _options(pdf: bool, paper: str | None, output: str | None, papers: Any) -> None:
    """What can't be asked together, before anything is computed."""
    if paper is not None and paper not in papers:
        raise InputError(Fault("must be a4 or letter", paper, "--paper"))
    if paper is not None and not pdf:
        raise InputError(Fault("it is the paper of a PDF", paper, "--paper", hint="add --pdf"))
    if pdf and not output:
        raise InputError(Fault("a PDF goes to a file", key="--pdf", hint="add -o FILE.pdf"))
    if output and not pdf and output.lower().endswith(".pdf"):
        raise InputError(Fault("the page is HTML", output, "-o", hint="add --pdf, or name it .html"))
