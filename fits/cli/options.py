"""Options built from declarations, the block of output options, and what a command returns."""

from __future__ import annotations

import inspect
import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from fits.errors import Fault, InputError
from fits.quantity import LENGTH_UNITS

if TYPE_CHECKING:
    from fits.features.feature import Feature, State
    from fits.features.part import Part
    from fits.questions.answer import Answer

# What fits limits can show besides one system of units.
BOTH = "both"
# Set by a shell's own script when it asks how a line could go on.
COMPLETING = "_FITS_COMPLETE"
SETTINGS = {"help_option_names": ["-h", "--help"], "max_content_width": 80}


class Result(NamedTuple):
    """An answer (or its pieces), the exit status, its file ("" for stdout), and files beside it.

    Text is shown in the code page of the terminal, bytes go out as they are.
    """

    text: str | bytes | Iterable[str]
    status: int = 0
    output: str = ""
    files: tuple[tuple[str, str | bytes], ...] = ()


def parameter(name: str, annotation: Any, default: Any = None) -> inspect.Parameter:
    """One keyword parameter of a generated command."""
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=annotation)


def option(name: str, help_text: str, metavar: str) -> inspect.Parameter:
    """A text option; its text goes to the loader as it is."""
    flag = "--" + name.replace("_", "-")
    # Only a shell that asks needs the words.
    words = chosen(lambda: _words(metavar)) if COMPLETING in os.environ else None
    mark = typer.Option(flag, help=help_text, metavar=metavar, show_default=False, autocompletion=words)
    return parameter(name, Annotated[str | None, mark])


def _words(metavar: str) -> Iterable[str]:
    """The words an option takes: those of a choice, or the names of a table."""
    if "|" in metavar:
        return metavar.split("|")
    if metavar == "METAL":
        from fits.materials.metals import names

        return names()
    return ()


def chosen(words: Iterable[str] | Callable[[], Iterable[str]]) -> Callable[[str], list[str]]:
    """How a shell completes one of some words; bash is told to keep their spaces together."""

    def complete(incomplete: str) -> list[str]:
        bash = os.environ.get(COMPLETING, "").endswith("bash")
        found = [word for word in (words() if callable(words) else words) if word.startswith(incomplete)]
        return [word.replace(" ", "\\ ") for word in found] if bash else found

    return complete


def field_options(kind: type[Feature]) -> list[inspect.Parameter]:
    """One option for each declared field of a kind."""
    from fits.features.feature import declared, required

    found = []
    for name, field in declared(kind).items():
        must = "" if not required(kind, name) else " (needed)"
        found.append(option(name, field.help + must, field.shown()))
    return found


def output_options(*, both: bool = False) -> list[inspect.Parameter]:
    """The options that every command has; ``both`` where mm and in can stand side by side."""
    told = "mm or in: bare lengths, and what is shown"
    flag = Annotated[bool, typer.Option("--json", help="answer as JSON", show_default=False)]
    table = Annotated[bool, typer.Option("--csv", help="answer as CSV", show_default=False)]
    works = Annotated[
        bool,
        typer.Option("--workings", help="equation and numbers of each value", show_default=False),
    ]
    return [
        parameter("as_json", flag, False),
        parameter("as_csv", table, False),
        option("units", f"{told}; both shows both" if both else told, "mm|in|both" if both else "mm|in"),
        parameter("workings", works, False),
        output_option(),
    ]


def output_option() -> inspect.Parameter:
    """The option that sends an answer to a file."""
    where = Annotated[str | None, typer.Option("-o", "--output", help="write to FILE", metavar="FILE")]
    return parameter("output", where)


def skip_option(help_text: str) -> inspect.Parameter:
    """The option of commands that read a long table and may go on after a bad row."""
    mark = typer.Option("--skip-bad-rows", help=help_text, show_default=False)
    return parameter("skip_bad_rows", Annotated[bool, mark], False)


def picture_option() -> inspect.Parameter:
    """The option of commands whose answer can be drawn."""
    mark = typer.Option("--picture", help="draw it, to FILE.svg or FILE.png", metavar="FILE")
    return parameter("picture", Annotated[str | None, mark])


def pictured(result: Result, part: Part | None, answer: Answer, picture: str | None) -> Result:
    """A result with the drawings of its answer in a file beside it; unchanged where none is asked for.

    Raises:
        InputError: neither .svg nor .png, or nothing to draw.
    """
    if picture is None:
        return result
    from fits.report import picture as report

    report.check_name(picture)
    if part is not None and answer.features:
        from fits.questions.drawn import with_drawings

        answer = with_drawings(part, answer)
    return result._replace(files=((picture, report.render(answer, picture)),))


def generated(
    function: Callable[..., Result], parameters: list[inspect.Parameter], help_text: str
) -> Callable[..., Result]:
    """A command function with a signature made from parameters."""

    def command(*args: Any, **values: Any) -> Result:
        _spare_what_is_read(values)
        return function(*args, **values)

    command.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    command.__annotations__ = {one.name: one.annotation for one in parameters}
    command.__doc__ = help_text
    return command


def _spare_what_is_read(values: Mapping[str, Any]) -> None:
    """Refuse an answer or a picture that would be written over a file it is made from."""
    written = {"output": "-o", "picture": "--picture"}
    given = [one for name, one in values.items() if name not in written]
    texts = [text for one in given for text in (one if isinstance(one, (list, tuple)) else [one])]
    # A file of measured parts stands behind a word: "measured from FILE".
    read = [path for text in map(str, texts) if _is_file(path := Path(text.rpartition(" from ")[2]))]
    for name, flag in written.items():
        target = values.get(name)
        if target and _is_file(Path(target)) and any(Path(target).samefile(path) for path in read):
            must = "the answer would take the place of what it is made from"
            raise InputError(Fault(must, target, flag))


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # a text that is no path, too long for one
        return False


def typed_states(texts: list[str] | None) -> tuple[State, ...]:
    """The states of ``--state`` options, the shop at 20 degC when there are none.

    Raises:
        InputError: every fault of every text.
    """
    from fits.features.part import Part
    from fits.files import loader

    states, faults = [], []
    for text in texts or ():
        try:
            states.append(loader.typed_state(text))
        except InputError as error:
            faults += [replace(fault, key=f"--state {fault.key}".rstrip()) for fault in error.faults]
    names = [state.name for state in states]
    faults += [
        Fault("two states of one name", name, "--state")
        for name in dict.fromkeys(names)
        if names.count(name) > 1
    ]
    if faults:
        raise InputError(faults)
    return tuple(states) or Part.states


def units_of(text: str | None, default: str = "mm", *, both: bool = False) -> str:
    """The units asked for.

    Raises:
        InputError: neither mm nor in, nor both where that can be asked.
    """
    if text is None or (both and text == BOTH):
        return text or default
    if text not in LENGTH_UNITS:
        more = ", or both" if both else ""
        raise InputError(Fault(f"must be mm or in{more}", text, "--units"))
    return text


def answered(
    answer: Answer, *, as_json: bool, as_csv: bool, units: str, output: str | None, judged: bool = True
) -> Result:
    """An answer as the result of a command, in the form asked for."""
    import sys

    from fits.questions.answer import PASS

    if as_json and as_csv:
        raise InputError(Fault("--json or --csv, not both"))
    if as_json or as_csv:
        from fits.report import data

        # Data is UTF-8 whatever the terminal's code page is.
        text: str | bytes = (data.to_json(answer) if as_json else data.to_csv(answer)).encode()
    else:
        from fits.report import terminal

        colour = output is None and terminal.wants_colour(sys.stdout)
        text = terminal.render(answer, units=units, colour=colour)
    status = 0 if answer.verdict == PASS or not judged else 1
    return Result(text, status, output or "")
