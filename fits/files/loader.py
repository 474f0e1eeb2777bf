"""Mappings of text -> features and states: the same for a file, the shell and a table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, ValidationError

from fits import quantity
from fits.errors import Fault, InputError
from fits.features.feature import MEDIA, Feature, State
from fits.features.fields import Choice, Context, Flag, Measure, Spread, Undecided, levels
from fits.features.part import apart, settled
from fits.features.typed_metal import faults_of
from fits.features.when import RESERVED


def _temperature(of: str) -> Measure:
    return Measure(of, quantity="temperature", least=-273.15, most=1500.0)


class StateKeys(BaseModel):
    """The keys of a state."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    temperature: Annotated[Spread | None, _temperature("of both parts")] = None
    hub_temperature: Annotated[Spread | None, _temperature("mean of the hub's wall")] = None
    shaft_temperature: Annotated[Spread | None, _temperature("of the inner part")] = None
    pressure: Annotated[Spread | None, Measure("of the fluid, gauge", quantity="pressure", least=0.0)] = None
    speed: Annotated[Spread | None, Measure("of rotation", quantity="speed", least=0.0)] = None
    proof: Annotated[bool, Flag("a proof test")] = False
    medium: Annotated[str | None, Choice("what is under pressure", options=MEDIA)] = None
    time: Annotated[
        Spread | None, Measure("how long it lasts in all, over the life", quantity="time", least=0.0)
    ] = None


def feature(kind: type[Feature], keys: Mapping[str, Any], context: Context) -> Feature:
    """A feature from its keys, with the relations between its fields checked.

    Raises:
        InputError: every fault of its fields, else every fault of its relations; each
            with the key it is about.
    """
    try:
        found = kind.model_validate(dict(keys), context=context)
    except ValidationError as error:
        raise InputError(faults_of(error, kind)) from None
    seen = found if kind.faults_see_open else settled(found)
    faults = [*relations(found), *seen.faults()]
    if faults:
        raise InputError(faults)
    return found


def relations(of: Feature) -> list[Fault]:
    """What is wrong between the fields of a feature: what can't be assembled."""
    faults = []
    for relation in type(of).relations:
        small, large = of.number(relation.smaller), of.number(relation.larger)
        if not (levels(small) and levels(large)) or max(levels(small)) == 0.0:
            continue
        if max(levels(small)) >= min(levels(large)):
            faults.append(
                Fault(
                    f"must stay below {relation.larger} ({min(levels(large)):g} mm at its least): "
                    f"{relation.why}",
                    got=f"{max(levels(small)):g} mm",
                    key=relation.smaller,
                )
            )
    return [*faults, *apart(of)]


def state(name: str, keys: Mapping[str, Any], context: Context) -> State:
    """A state from its keys.

    Raises:
        InputError: an unknown key, a wrong unit, one temperature of two, a range.
    """
    if name in RESERVED:
        raise InputError(Fault("a reserved name; call the state something else", got=name))
    try:
        typed = StateKeys.model_validate(dict(keys), context=context)
    except ValidationError as error:
        raise InputError(faults_of(error, StateKeys)) from None
    faults = _state_faults(typed)
    if faults:
        raise InputError(faults)
    hub, shaft = typed.hub_temperature or typed.temperature, typed.shaft_temperature or typed.temperature
    assert hub is not None
    assert shaft is not None
    return State(
        name,
        hub.low,
        shaft.low,
        0.0 if typed.pressure is None else typed.pressure.low,
        0.0 if typed.speed is None else typed.speed.low,
        typed.proof,
        typed.medium or "",
        0.0 if typed.time is None else typed.time.low,
    )


def _state_faults(typed: StateKeys) -> list[Fault]:
    faults = []
    for key in type(typed).model_fields:
        value = getattr(typed, key)
        if isinstance(value, Undecided):
            hint = "write a number; fits window sweeps it all the same"
            faults.append(Fault("not decided yet", "?", key, hint=hint))
        elif isinstance(value, Spread) and value.low != value.high:
            faults.append(Fault("a state is a point; write a range as two states", value.text, key))
    parts = [key for key in ("hub_temperature", "shaft_temperature") if getattr(typed, key) is not None]
    if typed.temperature is not None and parts:
        faults.append(Fault("either temperature, or hub_temperature and shaft_temperature", key=parts[0]))
    elif typed.temperature is None and not parts:
        hint = "20 degC where the parts are as warm as the shop"
        faults.append(Fault("missing: how warm the parts are", key="temperature", hint=hint))
    elif len(parts) == 1:
        other = {"hub_temperature": "shaft_temperature"}.get(parts[0], "hub_temperature")
        faults.append(Fault("missing beside the other part's temperature", key=other))
    if typed.proof and typed.pressure is None:
        faults.append(Fault("missing: a proof test is made at a pressure", key="pressure"))
    return faults


def inline_table(text: str) -> Any:
    """What a TOML inline table says, for a field that takes one (a metal).

    Raises:
        InputError: no TOML.

    >>> inline_table('{poisson = 0.3}')
    {'poisson': 0.3}
    """
    import tomllib

    try:
        return tomllib.loads(f"value = {text}")["value"]
    except (ValueError, RecursionError):  # a number too long for Python is no TOMLDecodeError
        hint = 'write {youngs_modulus = "207 GPa", poisson = 0.292}'
        raise InputError(Fault("not a TOML inline table", text, hint=hint)) from None


def typed_state(text: str) -> State:
    """A state as the shell takes it: ``hot: 70 degC, 16 MPa``.

    Items are a temperature (``hub 70 degC`` and ``shaft 20 degC`` apart), a pressure, a
    speed, a time such as ``500 h``, a medium such as ``water``, and the word ``proof``.

    Raises:
        InputError: no name, or an item that is none of these.

    >>> typed_state("hot: 70 degC, 16 MPa").pressure
    16.0
    """
    name, colon, rest = text.partition(":")
    name = name.strip()
    if not colon or not name:
        raise InputError(Fault("a name and a colon are due", got=text, hint='write "hot: 70 degC, 16 MPa"'))
    keys: dict[str, Any] = {}
    for item in filter(None, (piece.strip() for piece in rest.split(","))):
        key, value = _state_item(item, text)
        if key in keys:
            raise InputError(Fault(f"{key} stands twice", got=text))
        keys[key] = value
    try:
        return state(name, keys, Context())
    except InputError as error:
        named = [replace(fault, key=f"{name}.{fault.key}".rstrip(".")) for fault in error.faults]
        raise InputError([replace(fault, got=fault.got or text) for fault in named]) from None


def _state_item(item: str, text: str) -> tuple[str, Any]:
    if item in ("proof", "proof test"):
        return "proof", True
    if item in MEDIA:
        return "medium", item
    which, _, rest = item.partition(" ")
    if which in ("hub", "shaft"):
        return f"{which}_temperature", rest
    for key in ("temperature", "pressure", "speed", "time"):
        try:
            quantity.read(item, key)
        except InputError:
            continue
        return key, item
    raise InputError(
        Fault(
            "neither a temperature, a pressure, a speed, a time, a medium nor the word proof",
            got=item,
            hint=_written(item),
        )
    )


def _written(item: str) -> str:
    """How a part of a state is written; pressures are gauge pressures and aren't marked so."""
    if item.endswith(("psig", "barg")):
        return f'pressures are above the air: write "{item[:-1]}"'
    return f'write "hot: 70 degC, 16 MPa"; media: {", ".join(MEDIA)}'
