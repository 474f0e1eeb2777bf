"""The rules of a press fit, its cautions and assumptions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fits.arrays import Mask
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
from fits.features.press import joining
from fits.features.press.sources import BRITTLE, CLOCK, EQUILIBRIUM, HEAT, HOLD, JOIN, MISES, PRESS, SPIN

if TYPE_CHECKING:
    from fits.features.press.declaration import Press


# Missing roughness can only lower the contact pressure: it never makes a stress worse.
_MILDER = ("roughness_loss",)


# Elements of a steel liner (25/30 mm radii) in aluminium, outside 35 or 40 to 60 mm, slices of
# 1.25 to 57.5 mm: whole force 1.002 to 1.023 of the sum, pressure beside a step up to 1.18 of
# the greatest slice's (derived).
SLICED = (
    "slices: each one by itself, forces added up; the whole is 0 to 2.5 % more than that, also to press in"
)


def asked_to_hold(press: Any, states: States) -> bool:
    """A load was typed, or fluid pushes on the inner part."""
    typed = {"axial_load", "torque"} & press.model_fields_set
    takes_thrust = press.ends in (None, "liner", "stuck") or not press.hollow
    pushed = takes_thrust and under_pressure(press, states)
    return bool(typed) or pushed


def _given(*names: str) -> Any:
    return lambda press, states: bool(set(names) & press.model_fields_set)


def _pressed_columns(press: Any, states: States) -> Mask:
    return states.pressure > 0.0


def _is_pressed(press: Any) -> bool:
    """It is pressed in cold; where nothing says so, a force can at least be calculated."""
    if press.heat_to is not None or press.chill_to is not None:
        return False
    if press.assembly is None:
        return press.friction_press is not None and (press.length is not None or bool(press.slices))
    return press.assembly in ("pressed", "pressed on oil")


RULES: tuple[Rule, ...] = (
    Rule(
        "interference is kept",
        "effective_interference",
        "at least",
        "interference_at_least",
        "what heat, speed and smoothing leave of the interference holds the parts together",
        "more interference, smoother faces, a hub metal that grows like the inner part, or a "
        "narrower range of temperature",
        GEOMETRY,
        ("hole", "shaft", "hub_material", "shaft_material", "roughness_hole", "roughness_shaft"),
        above=True,
    ),
    Rule(
        "coat is thinner than the fit",
        "coating_closes",
        "at most",
        "bare_interference",
        "a coat that closes the hole by more than the whole interference makes another fit of it",
        "mask the hole, or ream it after coating, or cut it larger by what the coat closes",
        GEOMETRY,
        ("hole", "shaft", "coating_hole"),
        asked=_given("coating_hole"),
        asks="coating_hole",
    ),
    Rule(
        "fluid can't lift it",
        "contact_with_fluid",
        "at least",
        "fluid_pressure",
        "fluid that reaches the interface lifts the inner part when its pressure is above the "
        "contact pressure; holding it is no proof of tightness",
        "more interference or a stiffer wall; a seal at the wet end helps, but this asks for the "
        "day it leaks",
        EQUILIBRIUM,
        ("hole", "shaft", "shaft_bore", "hub_outside", "shaft_material"),
        applies=_pressed_columns,
        asked=under_pressure,
        asks="a state with pressure",
    ),
    Rule(
        "holds its load",
        "axial_capacity",
        "at least",
        "slip_demand",
        "friction under the least contact pressure must carry load, torque and end thrust, times safety_slip",
        "longer engagement, more interference, or a shoulder that takes the load",
        HOLD,
        ("length", "hole", "shaft", "hub_outside", "friction_hold"),
        asked=asked_to_hold,
        asks="axial_load or torque",
    ),
    Rule(
        "hub stays elastic",
        "hub_von_mises",
        "at most",
        "hub_allowed",
        "a hub that yields keeps less contact pressure than calculated",
        "less interference, a thicker hub, or a metal of higher minimum yield",
        MISES,
        ("hole", "shaft", "hub_outside", "hub_material"),
        despite=_MILDER,
        asked=lambda press, states: not press.hub_material.brittle,
    ),
    Rule(
        "inner part stays elastic",
        "shaft_von_mises",
        "at most",
        "shaft_allowed",
        "an inner part that yields keeps less contact pressure than calculated and may come "
        "loose after one warm-up",
        "less interference, a thicker wall, or a metal of higher minimum yield",
        MISES,
        ("hole", "shaft", "shaft_bore", "shaft_material"),
        despite=_MILDER,
        asked=lambda press, states: not press.shaft_material.brittle,
    ),
    Rule(
        "brittle inner part holds",
        "shaft_tension",
        "at most",
        "shaft_brittle_allowed",
        "a brittle part breaks under tension without warning",
        "less pressure or speed, a thicker wall, or a ductile metal",
        BRITTLE,
        ("hole", "shaft", "shaft_bore", "shaft_material"),
        asked=lambda press, states: press.shaft_material.brittle,
    ),
    Rule(
        "brittle hub is not torn",
        "hub_hoop_at_hole",
        "at most",
        "hub_brittle_allowed",
        "a brittle hub breaks under tension without warning",
        "less interference, a thicker hub, or a ductile metal",
        BRITTLE,
        ("hole", "shaft", "hub_outside", "hub_material"),
        despite=_MILDER,
        asked=lambda press, states: press.hub_material.brittle,
    ),
    Rule(
        "press is strong enough",
        "press_force",
        "at most",
        "press_rating",
        "the press must finish the stroke at the greatest interference and friction",
        "a stronger press, less interference, oil, or heat the hub",
        PRESS,
        ("press_rating", "hole", "shaft", "length"),
        despite=_MILDER,
        asked=_given("press_rating"),
        asks="press_rating",
    ),
    Rule(
        "oven is hot enough",
        "heat_hub_to",
        "at most",
        "oven",
        "a hub that isn't hot enough grips before the part is home",
        "a hotter oven, chill the inner part as well (chill_to), or less interference",
        HEAT,
        ("oven", "hole", "shaft", "joining_clearance"),
        asked=lambda press, states: press.oven is not None and press.assembly == "heated",
        asks="oven and assembly = heated",
    ),
    Rule(
        "pressing can't crush it",
        "pressing_shaft",
        "at most",
        "shaft_allowed",
        "the whole press force goes through the wall of the inner part before it is home",
        "oil, less interference or length, a thicker wall, or heat the hub",
        MISES,
        ("length", "hole", "shaft", "shaft_bore", "shaft_material"),
        despite=_MILDER,
        asked=lambda press, states: _is_pressed(press) and not press.shaft_material.brittle,
        asks="assembly pressed, or friction_press and length",
    ),
    Rule(
        "pressing can't crush the hub",
        "pressing_hub",
        "at most",
        "hub_allowed",
        "the whole press force goes through the wall of the hub into its support",
        "oil, less interference or length, a thicker hub, or heat the hub",
        MISES,
        ("length", "hole", "shaft", "hub_outside", "hub_material"),
        despite=_MILDER,
        asked=lambda press, states: _is_pressed(press) and not press.hub_material.brittle,
        asks="assembly pressed, or friction_press and length",
    ),
    Rule(
        "hub stands the heating",
        "hub_heated_to",
        "at most",
        "hub_heating_limit",
        "above this temperature, or after many hours near it, the temper of the hub is at risk",
        "less interference, or heat and chill together",
        PRACTICE,
        ("hole", "shaft"),
        despite=_MILDER,
        asked=lambda press, states: press.assembly == "heated" or press.heat_to is not None,
        asks="assembly heated or heat_to",
    ),
    Rule(
        "goes in hot and cold",
        "joining_gap",
        "at least",
        "wanted_gap",
        "without the joining clearance the part touches, takes the other's temperature and grips half way",
        "heat the hub further, chill the inner part, or less interference",
        JOIN,
        ("heat_to", "chill_to", "hole", "shaft"),
        despite=_MILDER,
        asked=_given("heat_to", "chill_to"),
        asks="heat_to or chill_to",
    ),
    Rule(
        "time to put it home",
        "seconds_in_air",
        "at least",
        "carry_time",
        "the gap closes while the parts are carried from oven or bath through still air",
        "carry faster, heat or chill further, or less interference",
        CLOCK,
        ("carry_time", "heat_to", "chill_to", "hole", "shaft"),
        despite=_MILDER,
        asked=_given("carry_time"),
        asks="carry_time",
    ),
    Rule(
        "speed can't lift the hub",
        "overspeed_interference",
        "at least",
        0.0,
        "a spinning hub grows away from the inner part",
        "more interference or a lower speed",
        SPIN,
        ("hole", "shaft", "hub_outside"),
        asked=lambda press, states: bool((states.speed != 0.0).any()),
        applies=lambda press, states: states.speed != 0.0,
        above=True,
        asks="a state with speed",
    ),
    Rule(
        "bore after fitting, least",
        "fitted_bore",
        "at least",
        "bore_after_least",
        "the bore closes when the inner part is pressed in",
        "a larger bore before fitting, or finish it after fitting",
        GEOMETRY,
        ("shaft_bore", "hole", "shaft"),
        asked=_given("bore_after"),
        asks="bore_after",
    ),
    Rule(
        "bore after fitting, most",
        "fitted_bore",
        "at most",
        "bore_after_most",
        "the bore closes less when the interference is small",
        "a smaller bore before fitting, or finish it after fitting",
        GEOMETRY,
        ("shaft_bore", "hole", "shaft"),
        asked=_given("bore_after"),
        asks="bore_after",
    ),
)

CAUTIONS: tuple[Caution, ...] = (
    PRESSING._replace(applies=lambda press, states: press.assembly in (None, "pressed", "pressed on oil")),
    HOT_PARTS._replace(
        applies=lambda press, states: press.assembly in (None, "heated") or press.heat_to is not None
    ),
    COLD_PARTS._replace(
        applies=lambda press, states: press.assembly in (None, "chilled") or press.chill_to is not None
    ),
    Caution(
        "Do not heat the hub as far as the bench numbers go: at the tightest that is more than its temper "
        "stands (`fits metals` says how much); press it, or heat and chill together.",
        PRACTICE,
        lambda press, states: joining.spoils(press),
    ),
    *PRESSURES,
    Caution(
        "Rotating parts: guard them; run up in steps the first time.",
        PRACTICE,
        lambda press, states: bool((states.speed != 0.0).any()),
    ),
    Caution(
        "Beside a step of the hub, nearer than about the root of mean radius times wall, pressure and "
        "stress pass those of the slices and are not covered: round the step out, and leave a margin.",
        GEOMETRY,
        lambda press, states: bool(press.slices) and len(press.slices) > 1,
    ),
    Caution(
        "A coat roughens the face and a hard one chips at the edge: measure the hole after coating.",
        PRACTICE,
        lambda press, states: press.coating_hole is not None,
    ),
)


def _smoothing(press: Press) -> str:
    """What is lost to smoothing, by which edition."""
    faces = [one for one in (press.roughness_hole, press.roughness_shaft) if one is not None]
    by_ra = [one.text.endswith("Ra") for one in faces]
    loss = "3 (Ra_hole + Ra_shaft)" if all(by_ra) else "0.8 (Rz_hole + Rz_shaft)"
    mixed = ", an Ra as 3.75 times as much Rz" if any(by_ra) and not all(by_ra) else ""
    return (
        f"{loss} lost to smoothing for holding{mixed} (DIN 7190:2001, from memory; other editions may take "
        "another factor), nothing for strength"
    )


def assumptions(press: Press, states: States) -> tuple[str, ...]:
    """What was taken where nothing was typed."""
    given = press.model_fields_set
    found = ["sizes are free sizes at 20 degC; interference, closure and growth are on the diameter"]
    if asked_to_hold(press, states) and "safety_slip" not in given:
        found.append("safety_slip 1.5 (common practice, 1.2 to 2)")
    if "safety_yield" not in given:
        found.append("safety_yield 1: the least yield itself is the limit")
    if press.ends is None and under_pressure(press, states):
        found.append("ends not given: open, liner, body and stuck tried, the worst counts")
    if press.roughness_hole is not None and press.roughness_shaft is not None:
        found.append(_smoothing(press))
    if press.assembly is None and press.ends is None and under_pressure(press, states):
        found.append("assembly not given: where ends are stuck, the parts gripped at 20 degC")
    if press.joining_clearance is None:
        found.append("joining clearance 0.001 of the diameter")
    if (states.hub_temperature == states.shaft_temperature).all() and len(set(states.hub_temperature)) > 1:
        found.append("both parts at one temperature in every state: a fast warm-up is not covered")
    if press.heat_to is not None or press.chill_to is not None:
        found.append("clock: still air of 20 degC, film 20 W/(m2 K), the part in the middle of the hole")
    if press.slices:
        found.append(SLICED)
    if under_pressure(press, states):
        found.append("hub stays elastic: pressure counts by safety_yield alone, fluid at the hole by 1.5")
    found += pressure_inside(states)
    found += typed_metals(press.hub_material, press.shaft_material)
    return tuple(found)
