"""fits warm: a reading of a part that isn't at 20 degC."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import replace
from typing import Annotated, Any

import typer

from fits import quantity
from fits.cli.options import Result, answered, generated, option, output_options, units_of
from fits.errors import Fault, InputError

_HELP = """What a part read warm or cold measures at 20 degC.

Without the gauge's temperature both cases are shown, and the status is 1: ask which.

\b
Examples:
  fits warm "4.000 in" --material 6061-T6 --part-temperature "95 degF"
  fits warm 101.60 --material 6061-T6 --part-temperature "35 degC" \\
    --gauge-temperature "35 degC"
"""


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    reading = inspect.Parameter(
        "reading",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        annotation=Annotated[str, typer.Argument(metavar="READING", help="what the gauge showed")],
    )
    options = [
        option("material", "metal of the part, temper included (needed)", "METAL"),
        option("part_temperature", "of the part when it was read (needed)", "TEMPERATURE"),
        option("gauge_temperature", "of the gauge; left out: both cases", "TEMPERATURE"),
        option("gauge_material", "metal of the gauge; left out: steel", "METAL"),
    ]
    return generated(_warm, [reading, *options, *output_options()], _HELP)


def _warm(
    reading: str,
    *,
    material: str | None,
    part_temperature: str | None,
    gauge_temperature: str | None,
    gauge_material: str | None,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
) -> Result:
    from fits.files.bare import is_bare, of_inches, question
    from fits.materials.metals import metal
    from fits.questions.warm import warm_reading

    shown = units_of(units, "in" if of_inches(reading) else "mm")
    faults: list[Fault] = []
    inch = of_inches("\n".join(filter(None, (part_temperature, gauge_temperature))))
    if units is None and inch and is_bare(reading):
        faults.append(replace(question(reading, inch), key="--units"))

    def read(text: str | None, key: str, how: Callable[[str], Any], *, needed: bool = False) -> Any:
        try:
            if text is None:
                if needed:
                    raise InputError(Fault("missing", key=key))
                return None
            return how(text)
        except InputError as error:
            faults.extend(replace(fault, key=key) for fault in error.faults)

    def size(text: str) -> float:
        found = quantity.read(text, "length", units=shown)
        if found <= 0.0:
            raise InputError(Fault("a size is above 0", got=text))
        return found

    def degrees(text: str) -> float:
        return quantity.read(text, "temperature")

    what = read(reading, "READING", size)
    of = read(material, "--material", metal, needed=True)
    at = read(part_temperature, "--part-temperature", degrees, needed=True)
    gauge_at = read(gauge_temperature, "--gauge-temperature", degrees)
    gauge = read(gauge_material, "--gauge-material", metal)
    if faults:
        raise InputError(faults)
    answer = warm_reading(what, of, at, gauge=gauge, gauge_temperature=gauge_at, units=shown)
    return answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
