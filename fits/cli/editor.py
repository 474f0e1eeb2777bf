"""fits schema and fits start: what an editor checks a part file by, and a file to start from."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from fits.cli.options import Result, chosen, generated, output_option
from fits.errors import Fault, InputError
from fits.features.kinds import KINDS

_SCHEMA = """The JSON Schema (draft 7) of a part file, by which an editor completes and checks it.

Save it beside the part files and put "#:schema fits.schema.json" as the first line
of each: editors with a TOML plug-in read that. What depends on several values (a
bore below its outside, a name that must exist) is said when the part is checked.

\b
Examples:
  fits schema
  fits schema -o fits.schema.json
"""
_START = """A part file of a kind to start from, to standard output: it runs as it is.

Each field stands there with what it is; values are invented, and what isn't given
yet stands behind a #. So: fits start press > liner.toml && fits check liner.toml

\b
Examples:
  fits start press
  fits start press -o liner.toml
"""


def command(name: str) -> Callable[..., Result]:
    """The command function of either command."""
    if name == "schema":
        return generated(_schema, [output_option()], _SCHEMA)
    kinds = ", ".join(KINDS)
    wanted = inspect.Parameter(
        "kind",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[list[str], typer.Argument(metavar="KIND", help=kinds, autocompletion=_words)],
    )
    return generated(_start, [wanted, output_option()], _START)


def _words(ctx: typer.Context, incomplete: str) -> list[str]:
    """The first word of every kind, or the second of those that begin as typed."""
    before = list(ctx.params.get("kind") or ())
    names = [one.split() for one in KINDS]
    after = dict.fromkeys(
        one[len(before)] for one in names if one[: len(before)] == before and len(one) > len(before)
    )
    return chosen(after)(incomplete)


def _schema(*, output: str | None) -> Result:
    import json

    from fits.files.schema import schema

    text = json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"
    return Result(text.encode(), 0, output or "")


def _start(kind: list[str], *, output: str | None) -> Result:
    from fits.files.start import start

    if output and Path(output).is_file():
        hint = "give another name, or remove it first"
        raise InputError(Fault("there is such a file already", output, "-o", hint=hint))
    # A kind of several forms is two words.
    return Result(start(" ".join(kind)).encode(), 0, output or "")
