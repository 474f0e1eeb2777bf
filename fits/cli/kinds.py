"""fits press, fits running, ...: one command a kind, made from its declaration."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import replace
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from fits.cli.options import (
    SETTINGS,
    Result,
    answered,
    field_options,
    generated,
    option,
    output_options,
    parameter,
    picture_option,
    pictured,
    typed_states,
    units_of,
)
from fits.errors import Fault, InputError
from fits.features.feature import Feature, State, declared, required
from fits.features.fields import UNDECIDED, Context, Field
from fits.features.kinds import forms, kind
from fits.features.part import Part
from fits.files import loader
from fits.files.bare import units_doubt


def command(name: str) -> Callable[..., Result] | typer.Typer:
    """The command function of a kind, or the group of its forms."""
    return _group(name) if forms(name) else _command(name)


class _Forms(TyperGroup):
    """The group of a kind's forms."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        if not args and not ctx.resilient_parsing:
            hint = f"fits {ctx.info_name} {'|'.join(self.commands)}"
            raise InputError(Fault(f"{ctx.info_name} has several forms: say which", hint=hint))
        return super().parse_args(ctx, args)


def _group(name: str) -> typer.Typer:
    """A kind with several forms: one command a form."""
    first = kind(f"{name} {forms(name)[0]}")
    help_text = f"One command a form.\n\n\b\nExample:\n  {_indent(first.example)}\n"
    app = typer.Typer(
        cls=_Forms, add_completion=False, rich_markup_mode=None, context_settings=SETTINGS, help=help_text
    )
    for form in forms(name):
        of = f"{name} {form}"
        app.command(form, context_settings=SETTINGS, short_help=kind(of).title)(_command(of))
    return app


def _command(name: str) -> Callable[..., Result]:
    of = kind(name)
    state = Annotated[
        list[str] | None,
        typer.Option(
            "--state",
            help='state to survive, such as "hot: 70 degC, 16 MPa"; repeat; none: shop, 20 degC',
            metavar="STATE",
        ),
    ]
    drawn = (*_drawer(of), *output_options(), picture_option())
    parameters = [*field_options(of), parameter("state", state), *drawn]
    help_text = f"Check a {of.title}, worst case in every state.\n\n\b\nExample:\n  {_indent(of.example)}\n"

    def run(**values: Any) -> Result:
        return _run(name, values)

    return generated(run, parameters, help_text)


def _drawer(of: type[Feature]) -> list[inspect.Parameter]:
    """The option for a drawer, where some field is a tool."""
    tools = any(field.tool for field in declared(of).values())
    return (
        [option("drawer", "take tools only from what this file says the shop owns", "FILE")] if tools else []
    )


def _indent(text: str) -> str:
    return text.replace("\n", "\n  ")


def _run(name: str, values: dict[str, Any]) -> Result:
    of = kind(name)
    units = units_of(values["units"])
    given = {
        key: _value(key, values[key], field) for key, field in declared(of).items() if values[key] is not None
    }
    faults = [
        Fault("not decided yet", "?", _flag(key), hint="a part file and fits window can leave it open")
        for key, value in given.items()
        if value == UNDECIDED
    ]
    missing = [key for key in declared(of) if required(of, key) and key not in given]
    faults += [Fault(f"missing: {declared(of)[key].help}", key=_flag(key)) for key in missing]
    typed = [given, values["state"]]
    if values["units"] is None and (doubt := units_doubt([(of, given)], typed)):
        faults.append(replace(doubt, key="--units"))
    states: tuple[State, ...] = ()
    try:
        states = typed_states(values["state"])
    except InputError as error:
        faults += error.faults
    feature = None
    try:
        feature = loader.feature(of, given, Context(units=units))
    except InputError as error:
        faults += [
            Fault(fault.must, fault.got, _flag(fault.key), fault.place, fault.hint)
            for fault in error.faults
            if fault.key not in missing
        ]
    if faults or feature is None:
        raise InputError(faults)
    from fits.questions.check import check

    part = Part(of.title, {name: feature}, states, units=units, place=f"fits {name}")
    if values.get("drawer") is not None:
        from fits.cli.window import answer_from

        answer = answer_from(part, name, values["drawer"], workings=values["workings"])
    else:
        answer = check(part, workings=values["workings"])
    result = answered(
        answer, as_json=values["as_json"], as_csv=values["as_csv"], units=units, output=values["output"]
    )
    # What a drawer answers is of a part of its own, with its tools put in.
    drawn_of = None if values.get("drawer") is not None else part
    return pictured(result, drawn_of, answer, values["picture"])


def _flag(key: str) -> str:
    first, dot, rest = key.partition(".")
    return f"--{first.replace('_', '-')}{dot}{rest}"


def _value(key: str, text: str, field: Field) -> Any:
    """A TOML inline table on the shell, or a list where the field takes one, else the text."""
    listed = field.inline.startswith("[")
    if not text.lstrip().startswith(("{", "[") if listed else "{"):
        return text
    try:
        return loader.inline_table(text)
    except InputError as error:
        hint = f"write {field.inline}" if field.inline else "this field takes text"
        must = "not a TOML list of tables" if listed else "not a TOML inline table"
        raise InputError(
            [replace(fault, must=must, key=_flag(key), hint=hint) for fault in error.faults]
        ) from None
