"""A metal typed by the user: numbers of a certificate, or changes to a metal of the table."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, ValidationError

from fits.errors import Fault, InputError, meant
from fits.features.fields import Choice, Context, Field, Flag, Measure, MetalField, Spread, Undecided
from fits.materials.metals import Metal
from fits.tables import Source

_FAMILIES = (
    "steel",
    "cast iron",
    "ductile iron",
    "aluminium",
    "magnesium",
    "bronze",
    "brass",
    "copper",
    "titanium",
    "nickel alloy",
)

# 6063-T5, A356-T6, 5083-H111: series, temper.
ALLOY = r"[A-Z]?[0-9]{3,4}(\.[0-9])?-[FHOTW][0-9]*"

# Beyond these a number is a slip of its unit: from plastics to tungsten carbide, to the strongest
# wire, from foam to osmium.
_SOFTEST, _STIFFEST, _STRONGEST = 300.0, 750_000.0, 6000.0
_LIGHTEST, _HEAVIEST = 100.0, 25000.0


class Alloy(Field):
    """An aluminium alloy with its temper, as the trade names it."""

    def parse(self, value: Any, context: Context) -> str:
        """The designation."""
        if isinstance(value, str) and re.fullmatch(ALLOY, value):
            return value
        raise InputError(Fault('alloy and temper are due, such as "6063-T5"', got=str(value)))

    def shown(self) -> str:
        """An alloy and its temper."""
        return "ALLOY"


class TypedMetal(BaseModel):
    """The keys of an inline metal."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    based_on: Annotated[Metal | None, MetalField("metal of the table that the rest comes from")] = None
    youngs_modulus: Annotated[
        Spread | None, Measure("Young's modulus", quantity="pressure", least=_SOFTEST, most=_STIFFEST)
    ] = None
    poisson: Annotated[Spread | None, Measure("Poisson's ratio", least=0.0, most=0.5)] = None
    yield_strength: Annotated[
        Spread | None, Measure("least yield", quantity="pressure", least=0.0, most=_STRONGEST, above=True)
    ] = None
    ultimate_strength: Annotated[
        Spread | None, Measure("least ultimate", quantity="pressure", least=0.0, most=_STRONGEST, above=True)
    ] = None
    expansion: Annotated[
        Spread | None, Measure("expansion, or a range", quantity="expansion", least=-1e-4, most=1e-3)
    ] = None
    density: Annotated[
        Spread | None, Measure("density", quantity="density", least=_LIGHTEST, most=_HEAVIEST)
    ] = None
    brittle: Annotated[bool, Flag("judged by its ultimate strength")] = False
    family: Annotated[str, Choice("family, for friction", options=_FAMILIES)] = ""
    alloy: Annotated[str, Alloy("alloy and temper of an aluminium: what heat and time do to it")] = ""


def typed_metal(name: str, keys: Mapping[str, Any], context: Context) -> Metal:
    """A metal from typed keys; what isn't typed comes from ``based_on``, or is unknown.

    A typed value holds in every state that the part names, and the report says so.

    Raises:
        InputError: an unknown key, a wrong unit, modulus or Poisson's ratio missing; the
            faults carry the key.
    """
    try:
        typed = TypedMetal.model_validate(dict(keys), context=context)
    except ValidationError as error:
        raise InputError(faults_of(error, TypedMetal)) from None
    faults = _faults(typed)
    if faults:
        raise InputError(faults)
    if typed.based_on is None:
        missing = [key for key in ("youngs_modulus", "poisson") if getattr(typed, key) is None]
        if missing:
            raise InputError([Fault("missing: a metal needs it", key=key) for key in missing])
        base = Metal(name, (0.0, 0.0), 0.0, None, None, None, None, None)
    else:
        base = typed.based_on
    return _changed(name, base, typed)


def _faults(typed: TypedMetal) -> list[Fault]:
    found = []
    for key in TypedMetal.model_fields:
        value = getattr(typed, key)
        if isinstance(value, Undecided):
            found.append(Fault("a metal's property can't be left open", "?", key))
        elif key in ("poisson", "density") and isinstance(value, Spread) and value.low != value.high:
            found.append(Fault("one number is due, not a range", value.text, key))
    # The ultimate of the metal it is based on is that of another temper: a harder one is above it.
    base = getattr(typed.based_on, "yield_minimum", None)
    least = typed.yield_strength.low if isinstance(typed.yield_strength, Spread) else base
    ultimate = typed.ultimate_strength
    if least is not None and isinstance(ultimate, Spread) and least > ultimate.low:
        must = f"above the ultimate strength, {ultimate.low:g} MPa"
        found.append(Fault(must, f"{least:g} MPa", "yield_strength"))
    family = typed.family or getattr(typed.based_on, "family", "")
    if typed.alloy and family not in ("", "aluminium"):
        found.append(Fault(f"the alloy of an aluminium, and its family is {family}", typed.alloy, "alloy"))
    if typed.family == "cast iron" and "brittle" not in typed.model_fields_set and typed.based_on is None:
        hint = "true for grey iron, false for ductile iron"
        found.append(Fault("missing: does it break where others yield?", key="brittle", hint=hint))
    return found


def _changed(name: str, base: Metal, typed: TypedMetal) -> Metal:
    given = typed.model_fields_set - {"based_on"}
    changes: dict[str, Any] = {"name": name, "typed": frozenset(given)}
    if typed.youngs_modulus is not None:
        changes["youngs_modulus"] = (typed.youngs_modulus.low, typed.youngs_modulus.high)
    if typed.poisson is not None:
        changes["poisson"] = typed.poisson.low
    if typed.yield_strength is not None:
        changes["yield_minimum"] = typed.yield_strength.low
    if typed.ultimate_strength is not None:
        changes["ultimate"] = typed.ultimate_strength.low
    if typed.expansion is not None:
        changes["expansion"] = (typed.expansion.low, typed.expansion.high)
    if typed.density is not None:
        changes["density"] = typed.density.low
    if "brittle" in given:
        changes["brittle"] = typed.brittle
    if "family" in given:
        changes["family"] = typed.family
    if typed.alloy:
        changes |= {"alloy": typed.alloy, "condition": typed.alloy.rpartition("-")[2], "family": "aluminium"}
        # What the table says of heating is of its own alloy and temper.
        changes["heating_limit"] = base.heating_limit if typed.alloy == base.alloy else None
    if typed.based_on is None:
        changes["source"] = Source(f"{name}: typed in the part", "typed")
    return replace(base, **changes)


def faults_of(error: ValidationError, model: type[BaseModel]) -> list[Fault]:
    """A pydantic error as our faults, each with the key it is about."""
    found = []
    for one in error.errors():
        key = ".".join(str(part) for part in one["loc"])
        inner = one.get("ctx", {}).get("error")
        if isinstance(inner, InputError):
            for fault in inner.faults:
                whole = f"{key}.{fault.key}" if fault.key else key
                found.append(replace(fault, key=whole))
        elif one["type"] == "missing":
            mark = _help(model, key)
            found.append(Fault(f"missing{f': {mark}' if mark else ''}", key=key))
        elif one["type"] == "extra_forbidden":
            known = list(model.model_fields)
            few = f"keys: {', '.join(known)}" if len(known) < 12 else "see the command's -h for all keys"
            hint = meant(key, known) or few
            found.append(Fault("unknown key", key=key, hint=hint))
        else:
            found.append(Fault(one["msg"], key=key, got=str(one.get("input", ""))[:60]))
    return found


def _help(model: type[BaseModel], key: str) -> str:
    info = model.model_fields.get(key)
    marks = [] if info is None else [mark for mark in info.metadata if isinstance(mark, Field)]
    return marks[0].help if marks else ""
