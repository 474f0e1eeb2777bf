"""Entry point: commands loaded when called, exit statuses, delivery of the answer.

Status 0: every rule holds. 1: refused, failed or not covered. 2: the question was wrong
or the answer could not be delivered. 130: interrupted. 141: nobody reads on.
"""

from __future__ import annotations

import codecs
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any, TextIO

# No plugin of pydantic's is used; looking for some costs as much as a small answer.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import typer
from typer.core import TyperGroup
from typer.main import get_command

from fits.cli.options import COMPLETING, SETTINGS, Result
from fits.errors import DeliveryError, FitsError

# Command -> (module, one line of help). Modules are imported when the command is called.
COMMANDS = {
    "limits": ("fits.cli.limits", "limits of sizes and fits: ISO 286, ANSI B4.1, typed"),
    "press": ("fits.cli.kinds", "press or shrink fit of an inner part in a hub"),
    "compound": ("fits.cli.kinds", "several layers fitted into each other, a sleeve in a sleeve"),
    "running": ("fits.cli.kinds", "running or sliding fit of a shaft in a hole"),
    "reamed": ("fits.cli.kinds", "a hole to drill, ream and prove, from tables or a drawer"),
    "dowel": ("fits.cli.kinds", "a dowel pin, tight in one part and free in the other"),
    "gland": ("fits.cli.kinds", "seal groove for a ring: face, piston, rod, ..."),
    "bonded": ("fits.cli.kinds", "bonded slip fit of an inner part glued in a hub"),
    "check": ("fits.cli.check", "check every feature of a part file in every state"),
    "sheet": ("fits.cli.sheet", "a page to hang at the machine: HTML or PDF"),
    "window": ("fits.cli.window", "what values of one number would hold in every state"),
    "choose": ("fits.cli.window", "which tolerance classes hold with their whole zones"),
    "warm": ("fits.cli.warm", "what a part read warm measures at 20 degC"),
    "judge": ("fits.cli.measured", "measured parts: accept, rework, reject or measure better"),
    "pair": ("fits.cli.measured", "which measured hole goes with which measured shaft"),
    "odds": ("fits.cli.odds", "how many of the parts that are cut will pass"),
    "batch": ("fits.cli.batch", "a thousand or a million joints from a table"),
    "compare": ("fits.cli.compare", "what a change did to each verdict and margin"),
    "start": ("fits.cli.editor", "a part file of a kind to start from"),
    "schema": ("fits.cli.editor", "the schema by which an editor checks a part file"),
    "completion": ("fits.cli.completion", "what a shell needs to complete commands"),
    "metals": ("fits.cli.tables", "metals of the table, with minimum yield and source"),
    "elastomers": ("fits.cli.elastomers", "elastomers of rings, and which fluid they stand"),
    "rings": ("fits.cli.rings", "rings by code, by measured size, by bore or shaft"),
    "tables": ("fits.cli.tables", "every table with its publication and evidence"),
}
BROKEN_PIPE = 141
# What stands for letters that a terminal's code page has not.
_NEAREST = "fits-nearest"
_PLAIN = {
    "±": "+-",
    "≥": ">=",
    "≤": "<=",
    "µ": "u",
    "μ": "u",
    "×": "x",
    "–": "-",
    "—": "-",
    "−": "-",
    "²": "^2",
}


class _Group(TyperGroup):
    """The group of commands, each imported when it is called; its help needs none of their modules."""

    def __init__(self, **attrs: Any) -> None:
        super().__init__(**attrs)
        names: dict[str, Any] = dict.fromkeys(COMMANDS)
        self.commands = names

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        if cmd_name not in COMMANDS:
            return None
        made = import_module(COMMANDS[cmd_name][0]).command(cmd_name)
        if not isinstance(made, typer.Typer):
            of = typer.Typer(add_completion=False, rich_markup_mode=None)
            of.command(cmd_name, context_settings=SETTINGS)(made)
            made = of
        found = get_command(made)
        found.name = cmd_name
        return found

    def shell_complete(self, ctx: Any, incomplete: str) -> list[Any]:
        if incomplete.startswith("-"):
            return super().shell_complete(ctx, incomplete)
        from fits.cli.completion import listed

        return listed(COMMANDS, incomplete)

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in COMMANDS.items()])


_HELP = """From the duty of a feature to sizes that can be made, gauged and defended.

Limits and fits, press fits and running fits, checked worst case over every corner of
the tolerances, hot, cold and under pressure.

\b
Examples:
  fits limits "25 H7/g6" "40 P7"
  fits check examples/hand_pump.toml
  fits press -h
"""

app = typer.Typer(
    cls=_Group,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings=SETTINGS,
    help=_HELP,
    epilog="Status: 0 holds, 1 refused, failed or not covered, 2 wrong question, 130 interrupted.",
)


@app.callback(invoke_without_command=True)
def _top(version: bool = typer.Option(False, "--version", help="Show the version.")) -> Result | None:
    if version:
        from importlib.metadata import version as installed

        return Result(f"fits {installed('fits')}\n")
    return None


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and deliver its answer; returns the exit status."""
    args = list(sys.argv[1:] if argv is None else argv)
    _any_code_page()
    command = get_command(app)
    if os.environ.get(COMPLETING):
        from fits.cli import completion

        return completion.answer(command)
    if not args:
        with command.make_context("fits", ["limits"]) as context:
            return _complain(command.get_help(context))
    try:
        returned = command.main(args, prog_name="fits", standalone_mode=False)
    except FitsError as error:
        return _complain(*(str(fault) for fault in error.faults))
    except typer.TyperException as error:
        return _complain(error.format_message() + _minus(error))
    except KeyboardInterrupt:  # before or after typer's own 130
        return 130
    except SystemExit:  # typer's 1 where nobody reads on, which would read as "the answer is no"
        _silence(sys.stdout, sys.stderr)
        return BROKEN_PIPE
    except RecursionError:
        return _complain("nested too deeply")
    except OSError as error:  # of a help, which typer prints itself
        return _undelivered(error)
    except Exception as error:  # Python's own status 1 would read as "the answer is no"
        return _complain(f"a fault of fits itself, please report it: {type(error).__name__}: {error}")
    if not isinstance(returned, Result):
        return int(returned or 0)
    return _deliver(returned)


def _minus(error: typer.TyperException) -> str:
    """How a value of below zero is typed, where one was taken for an option."""
    taken = getattr(error, "option_name", "")
    return "; a value that begins with a minus stands after --, last" if taken[1:2].isdecimal() else ""


def _any_code_page() -> None:
    """Let a terminal that lacks a letter show it another way instead of failing."""
    codecs.register_error(_NEAREST, _nearest)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=_NEAREST)


def _nearest(error: UnicodeError) -> tuple[str, int]:
    """Plain letters for what a code page can't hold."""
    assert isinstance(error, UnicodeEncodeError)
    found = error.object[error.start : error.end]
    return "".join(_PLAIN.get(one) or _stripped(one) for one in found), error.end


def _stripped(letter: str) -> str:
    import unicodedata

    return unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode() or "?"


def _complain(*lines: str) -> int:
    try:
        for line in lines:
            print(line, file=sys.stderr)
    except OSError:  # nobody reads it; the status still says that the question is wrong
        _silence(sys.stderr)
    return 2


def _deliver(result: Result) -> int:
    try:
        for path, content in (*result.files, *([(result.output, result.text)] if result.output else [])):
            from fits.files.write import write

            write(path, content)
        if result.output:
            return result.status
        if isinstance(result.text, bytes):
            sys.stdout.buffer.write(result.text)
        elif isinstance(result.text, str):
            sys.stdout.write(result.text)
        else:
            # What comes in pieces is data, UTF-8 whatever the terminal's code page is.
            sys.stdout.buffer.writelines(piece.encode() for piece in result.text)
        sys.stdout.flush()
    except BrokenPipeError:
        _silence(sys.stdout)
        return BROKEN_PIPE
    except KeyboardInterrupt:
        return 130
    except DeliveryError as error:
        return _complain(*(str(fault) for fault in error.faults))
    except OSError as error:
        return _undelivered(error)
    return result.status


def _undelivered(error: OSError) -> int:
    _silence(sys.stdout)
    return _complain(f"the answer could not be delivered: {error.strerror}")


def _silence(*streams: TextIO) -> None:
    """Keep the interpreter's own last flush from failing again."""
    devnull = os.open(os.devnull, os.O_WRONLY)
    for stream in streams:
        os.dup2(devnull, stream.fileno())


def run() -> None:
    """The console script."""
    sys.exit(main())
