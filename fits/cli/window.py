"""fits window and fits choose: what would hold?"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any

import typer

from fits.cli.options import (
    Result,
    answered,
    generated,
    option,
    output_options,
    picture_option,
    pictured,
    units_of,
)
from fits.errors import Fault, InputError

if TYPE_CHECKING:
    from fits.features.part import Part
    from fits.questions.answer import Resting
    from fits.questions.fit_window import FitWindow
    from fits.questions.window import Window

_WINDOW = """What values of one number would hold in every state?

TARGET is feature.field (liner.shaft), state.quantity (working.pressure), or a
feature that is a pair (liner: the window of its fit, and how to share it). The
field asked about may be "?" in the file. Status 1 when there is no window.

\b
Examples:
  fits window examples/hand_pump.toml liner.shaft
  fits window examples/hand_pump.toml working.pressure
  fits window examples/hand_pump.toml liner
"""
_CHOOSE = """Which tolerance classes hold with their whole zones?

One side may be fixed: a class, or what a bought part measures. With a drawer: which
of the shop's own reamers, and what to buy when none fits.

\b
Examples:
  fits choose examples/hand_pump.toml liner
  fits choose examples/hand_pump.toml liner --shaft 16.060/16.050
  fits choose examples/hand_pump.toml plunger
  fits choose examples/hand_pump.toml liner --drawer examples/drawer.toml
"""


def _argument(name: str, metavar: str, help_text: str) -> inspect.Parameter:
    mark = typer.Argument(metavar=metavar, help=help_text)
    return inspect.Parameter(name, inspect.Parameter.POSITIONAL_OR_KEYWORD, annotation=Annotated[str, mark])


def command(name: str) -> Callable[..., Result]:
    """The command function of either command."""
    part = _argument("part", "PART", "part file, - for standard input")
    if name == "window":
        target = _argument("target", "TARGET", "feature.field, state.quantity or feature")
        return generated(_window, [part, target, *output_options(), picture_option()], _WINDOW)
    feature = _argument("feature", "FEATURE", "a feature with hole and shaft")
    sides = [
        option("hole", "the hole as it is: size, limits or class", "SIZE"),
        option("shaft", "the shaft as it is: size, limits or class", "SIZE"),
        option("drawer", "choose only from what this file says the shop owns", "FILE"),
    ]
    return generated(_choose, [part, feature, *sides, *output_options(), picture_option()], _CHOOSE)


def answer_from(
    part: Any, feature: str, path: str, *, shaft: str = "", drawn_in: str = "", workings: bool = False
) -> Any:
    """The answer from a drawer: its tools, and a feature of tools checked with the best of them.

    Raises:
        InputError: a faulty drawer, no such feature.
    """
    from fits.files.drawer import read_drawer
    from fits.questions.answer import Answer
    from fits.questions.check import check
    from fits.questions.from_drawer import alone, from_drawer

    found = from_drawer(part, feature, read_drawer(path), shaft=shaft, drawn_in=drawn_in)
    if found.window is not None:
        return Answer(
            part.name, found.verdict, (), part.states, info=part.info, units=part.units, drawers=(found,)
        )
    return check(alone(found.part, feature), workings=workings)._replace(drawers=(found,))


def _read(part: str, units: str | None) -> tuple[Any, str]:
    from fits.files.part import read_part

    found = read_part(part)
    return found, units_of(units, found.units)


def _window(
    part: str,
    target: str,
    *,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.questions.answer import FAIL, PASS, Answer
    from fits.questions.fit_window import fit_window
    from fits.questions.telling import telling
    from fits.questions.window import Window, window
    from fits.report.progress import Progress

    found, shown = _read(part, units)
    found = replace(found, units=shown)
    with Progress("looking along it") as told, telling(told):
        swept = window(found, target) if "." in target else fit_window(found, target)
    if isinstance(swept, Window):
        holds = bool(swept.intervals)
    else:
        holds = bool(swept.window.intervals) and swept.left > 0.0
    answer = Answer(
        found.name,
        PASS if holds else FAIL,
        (),
        found.states,
        info=found.info,
        units=shown,
        windows=(swept,),
        rests_on=_rests_on(found, swept),
    )
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
    return pictured(result, None, answer, picture)


def _rests_on(part: Part, swept: Window | FitWindow) -> tuple[Resting, ...]:
    """What the rules of a window rest on from memory."""
    from fits.questions.check import rests_on
    from fits.questions.fit_window import FitWindow
    from fits.questions.targets import decided

    target = swept.window.target if isinstance(swept, FitWindow) else swept.target
    return rests_on(decided(part, target), target.features)


def _choose(
    part: str,
    feature: str,
    *,
    hole: str | None,
    shaft: str | None,
    drawer: str | None,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
    picture: str | None,
) -> Result:
    from fits.questions.answer import FAIL, PASS, Answer
    from fits.questions.choose import Choices, choose
    from fits.questions.telling import telling
    from fits.report.progress import Progress

    found, shown = _read(part, units)
    drawn_in = found.units
    found = replace(found, units=shown)
    if drawer is not None:
        if hole is not None:
            raise InputError(Fault("the drawer chooses the hole; fix the shaft, or neither", hole, "--hole"))
        with Progress("looking in the drawer") as told, telling(told):
            answer = answer_from(found, feature, drawer, shaft=shaft or "", drawn_in=drawn_in)
        return answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
    with Progress("choosing") as told, telling(told):
        chosen = choose(found, feature, hole=hole or "", shaft=shaft or "", drawn_in=drawn_in)
    answer = Answer(
        found.name,
        PASS if chosen.found else FAIL,
        (),
        found.states,
        info=found.info,
        units=shown,
        choices=(chosen,),
        # What a chosen ring or metal rests on depends on which: fits check says it.
        rests_on=_rests_on(found, chosen.window) if isinstance(chosen, Choices) else (),
    )
    result = answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
    return pictured(result, None, answer, picture)
