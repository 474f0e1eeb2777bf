"""The rules of a compound, its cautions and assumptions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fits.arrays import Mask
from fits.features import lasting
from fits.features.compound.layers_field import FACES, MOST
from fits.features.compound.sources import EQUILIBRIUM, HOLD, LAME, MISES
from fits.features.feature import Caution, Rule, States
from fits.features.parts import (
    COLD_PARTS,
    GEOMETRY,
    HOT_PARTS,
    PRACTICE,
    PRESSING,
    PRESSURES,
    pressure_inside,
    typed_metals,
    under_pressure,
)

if TYPE_CHECKING:
    from fits.features.compound.declaration import Compound
    from fits.materials.metals import Metal

_SIZES = tuple(f"layers.{k}.{face}" for k in range(1, MOST + 1) for face in FACES)


def _given(*names: str) -> Any:
    return lambda of, states: bool(set(names) & of.model_fields_set)


def _pressed_columns(of: Any, states: States) -> Mask:
    return states.pressure > 0.0


def _metals(of: Any) -> list[Metal]:
    return [layer.material for layer in of.rings]


def _around(of: Any) -> list[Metal]:
    # What is pressed in is in compression.
    return _metals(of)[1:]


RULES: tuple[Rule, ...] = (
    Rule(
        "interference is kept",
        "effective_interference",
        "at least",
        "interference_at_least",
        "what heat, speed, smoothing and the other layers leave of the interference holds the "
        "layers together",
        "more interference there, smoother faces, metals that grow alike, or a narrower range of temperature",
        LAME,
        (*_SIZES, "roughness_hole", "roughness_shaft"),
        above=True,
    ),
    Rule(
        "fluid can't lift it",
        "contact_with_fluid",
        "at least",
        "fluid_pressure",
        "fluid that reaches an interface lifts the inner layer when its pressure is above the "
        "contact pressure; holding it is no proof of tightness",
        "more interference there or a stiffer wall; a seal at the wet end helps, but this asks for the "
        "day it leaks",
        EQUILIBRIUM,
        _SIZES,
        applies=_pressed_columns,
        asked=under_pressure,
        asks="a state with pressure",
    ),
    Rule(
        "holds its load",
        "axial_capacity",
        "at least",
        "slip_demand",
        "load and torque go through every interface; friction under its least contact pressure "
        "must carry them, times safety_slip",
        "longer engagement, more interference there, or a shoulder that takes the load",
        HOLD,
        ("length", *_SIZES, "friction_hold"),
        asked=_given("axial_load", "torque"),
        asks="axial_load or torque",
    ),
    Rule(
        "layers stay elastic",
        "stress",
        "at most",
        "allowed",
        "a layer that yields keeps less contact pressure than calculated; a brittle one breaks",
        "less interference there, other walls, or a metal of higher minimum yield",
        MISES,
        _SIZES,
    ),
    Rule(
        "bore after fitting, least",
        "fitted_bore",
        "at least",
        "bore_after_least",
        "the bore closes with every layer",
        "a larger bore before fitting, or finish it after fitting",
        GEOMETRY,
        _SIZES,
        asked=_given("bore_after"),
        asks="bore_after",
    ),
    Rule(
        "bore after fitting, most",
        "fitted_bore",
        "at most",
        "bore_after_most",
        "the bore closes less when the interferences are small",
        "a smaller bore before fitting, or finish it after fitting",
        GEOMETRY,
        _SIZES,
        asked=_given("bore_after"),
        asks="bore_after",
    ),
    lasting.temper_rule(_metals, "layers"),
    lasting.cracking_rule(_around, "layers"),
)

CAUTIONS: tuple[Caution, ...] = (
    PRESSING,
    HOT_PARTS,
    COLD_PARTS,
    *PRESSURES,
    Caution(
        "Rotating parts: guard them; run up in steps the first time.",
        PRACTICE,
        lambda of, states: bool((states.speed != 0.0).any()),
    ),
)


def assumptions(of: Compound, states: States) -> tuple[str, ...]:
    """What was taken where nothing was typed."""
    given = of.model_fields_set
    found = ["sizes are free sizes at 20 degC, those of finished faces as fitted; all on the diameter"]
    if "order" not in given and len(of.rings) > 2:
        found.append("joined from the inside out")
    if {"axial_load", "torque"} & given and "safety_slip" not in given:
        found.append("safety_slip 1.5 (common practice, 1.2 to 2)")
    if "safety_yield" not in given:
        found.append("safety_yield 1: the least yield itself is the limit")
    if of.roughness_hole is not None and of.roughness_shaft is not None:
        found.append("0 to 0.8 (Rz_hole + Rz_shaft) lost to smoothing at each interface, whichever is worse")
    if of.joining_clearance is None:
        found.append("joining clearance 0.001 of the diameter")
    if (states.hub_temperature == states.shaft_temperature).all() and len(set(states.hub_temperature)) > 1:
        found.append("all layers at one temperature in every state: a fast warm-up is not covered")
    found += pressure_inside(states)
    found += typed_metals(*_metals(of))
    return tuple(found)
