"""A part file to start from: every field of a kind with its help, the example's values filled in."""

from __future__ import annotations

import shlex
from collections.abc import Iterator

from fits import quantity
from fits.features.feature import Feature, declared, required
from fits.features.fields import Choice, Field, Flag, Measure
from fits.features.kinds import kind
from fits.files import loader

# How far the comments stand in, at most, and how long a line may be.
_COLUMN = 34
_WIDTH = 100


def start(name: str) -> str:
    """The text of a part file for a kind, with values of our own invention; it runs as it is.

    Raises:
        InputError: no such kind.
    """
    of = kind(name)
    table, _, form = name.partition(" ")
    values, states = _example(of)
    lines = [
        f"# {of.title}: a file to start from.",
        "# Every value in it is invented. Put in your own, then: fits check FILE",
        '# A line behind a # is not given yet; take the # away and write a value, or "?" to ask',
        "# for it with fits window. An editor checks the file by the schema of: fits schema",
        f'name  = "{of.kind}, invented"',
        'units = "mm"',
        "",
        "# States it must survive. A pressure or a speed means anything from 0 to it.",
        *_states(states),
        f"[{table}.my_{of.kind.replace(' ', '_')}]",
    ]
    if form:
        lines.append(f'form = "{form}"')
    for field_name, field in declared(of).items():
        must = " (needed)" if required(of, field_name) else ""
        value = values.get(field_name)
        if value is not None:
            lines.append(_line(f"{field_name} = {_toml(value)}", f"{field.help}{must}, invented"))
        else:
            lines.append(_line(f"#{field_name} = {_form(field)}", field.help + must))
    return "\n".join(lines) + "\n"


def _example(of: type[Feature]) -> tuple[dict[str, str], list[str]]:
    """The values and states of the first command that the kind shows as its example."""
    first = of.example.replace("\\\n", " ").splitlines()[0]
    words = shlex.split(first)
    at = next(i for i, word in enumerate(words) if word.startswith("--"))
    values: dict[str, str] = {}
    states = []
    for flag, value in zip(words[at::2], words[at + 1 :: 2], strict=True):
        if flag == "--state":
            states.append(value)
        else:
            values[flag.removeprefix("--").replace("-", "_")] = " ".join(value.split())
    return values, states


def _states(texts: list[str]) -> Iterator[str]:
    typed = [loader.typed_state(text) for text in texts]
    if all(state.name != "shop" for state in typed):
        yield "[states.shop]"
        yield _line('temperature = "20 degC"', "of both parts")
    for state in typed:
        yield f"[states.{state.name}]"
        temperatures = {
            "hub_temperature": state.hub_temperature,
            "shaft_temperature": state.shaft_temperature,
        }
        if state.hub_temperature == state.shaft_temperature:
            temperatures = {"temperature": state.hub_temperature}
        for key, at in temperatures.items():
            yield _line(f'{key} = "{at:g} degC"', "invented")
        for key, number in (("pressure", state.pressure), ("speed", state.speed), ("time", state.time)):
            if number:
                shown = quantity.report_value(number, key)
                yield _line(f'{key} = "{shown:.9g} {quantity.report_unit(key)}"', "invented")
        if state.medium:
            yield _line(f'medium = "{state.medium}"', "invented")
        if state.proof:
            yield "proof = true"
    yield ""


def _toml(value: str) -> str:
    """A value of the shell in TOML: a table as it is, a truth value, else text."""
    if value in ("true", "false") or value.startswith("{"):
        return value
    return "'" + value + "'" if '"' in value else f'"{value}"'


def _form(field: Field) -> str:
    """What a value of a field looks like, with dots where the user's own goes."""
    if isinstance(field, Choice):
        return f'"..."  # {" | ".join(field.options)}'
    if isinstance(field, Flag):
        return "...  # true | false"
    if isinstance(field, Measure) and field.quantity != "number":
        return f'"... {quantity.report_unit(field.quantity)}"'
    return '"..."'


def _line(left: str, comment: str) -> str:
    """A line with its comment behind it, or above it where there is no room."""
    code, apart, words = left.partition("  # ")
    text = f"{comment}: {words}" if apart else comment
    if len(code) <= _COLUMN and _COLUMN + len(text) + 4 <= _WIDTH:
        return f"{code:<{_COLUMN}}  # {text}"
    return f"# {text}\n{code}"
