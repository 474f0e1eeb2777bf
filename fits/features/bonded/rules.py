"""Rules, cautions and assumptions of a bonded slip fit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fits.features import lasting
from fits.features.bonded.values import HEAT, MISES, STATICS
from fits.features.feature import Caution, Rule, States
from fits.features.parts import GEOMETRY, PRACTICE, PRESSURES, pressure_inside, typed_metals, under_pressure
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.bonded.declaration import Bonded

SHEET = Source("data sheet of the compound, typed", "practice")


def pushed(bonded: Any, states: States) -> bool:
    """Whether fluid pushes the inner part out."""
    takes = bonded.ends in (None, "liner") or not bonded.hollow
    return takes and under_pressure(bonded, states)


def _asked_to_hold(bonded: Any, states: States) -> bool:
    return bool({"axial_load", "torque"} & bonded.model_fields_set) or pushed(bonded, states)


def _loaded(bonded: Any, states: States) -> bool:
    return under_pressure(bonded, states) or bool((states.speed != 0.0).any())


def _strained(bonded: Any, states: States) -> bool:
    """Whether anything passes through the walls."""
    return bool({"axial_load", "torque"} & bonded.model_fields_set) or _loaded(bonded, states)


RULES: tuple[Rule, ...] = (
    Rule(
        "gap at least",
        "gap_as_made",
        "at least",
        "least_gap",
        "too narrow a gap scrapes the compound off as the parts go together, and it starves",
        "a larger hole or a smaller inner part, or a compound for a narrower gap",
        SHEET,
        ("hole", "shaft", "gap_least"),
    ),
    Rule(
        "gap at most, as made",
        "gap_as_made",
        "at most",
        "most_gap",
        "a gap wider than the compound fills cures slowly, holds less, and runs out",
        "a smaller hole or a larger inner part, or a compound for a wider gap",
        SHEET,
        ("hole", "shaft", "gap_most"),
    ),
    Rule(
        "gap at most, in every state",
        "gap",
        "at most",
        "most_gap",
        "a gap that heat or speed opens pulls the bond apart",
        "metals that grow alike, or a milder state",
        HEAT,
        ("hole", "shaft", "gap_most", "hub_material", "shaft_material"),
    ),
    Rule(
        "never binds",
        "gap",
        "at least",
        0.0,
        "where the gap closes, the bond is crushed and the metals press on each other",
        "a wider gap, metals that grow alike, or a thicker inner part",
        GEOMETRY,
        ("hole", "shaft", "hub_material", "shaft_material", "shaft_bore"),
        above=True,
    ),
    Rule(
        "bond follows the gap",
        "bond_pull",
        "at most",
        "pull_allowed",
        "a hub that grows away stretches the thin bond by a large share of its thickness and tears it",
        "metals that grow alike, a milder state, or a press or clamp instead",
        HEAT,
        ("hole", "shaft", "hub_material", "shaft_material", "bond_strain"),
    ),
    Rule(
        "bond follows along the axis",
        "bond_slide",
        "at most",
        "slide_allowed",
        "parts of different growth slide along each other, most at the ends, and shear the thin bond",
        "metals that grow alike, a shorter bond, a wider gap, or a press or clamp instead",
        HEAT,
        ("length", "hole", "shaft", "hub_material", "shaft_material", "bond_strain"),
    ),
    Rule(
        "holds its load",
        "axial_capacity",
        "at least",
        "bond_demand",
        "the bond in shear must carry load, torque and end thrust, times safety_bond",
        "a longer bond, a stronger compound, or a shoulder that takes the load",
        STATICS,
        ("length", "hole", "shaft", "bond_shear"),
        asked=_asked_to_hold,
        asks="axial_load or torque",
    ),
    Rule(
        "stands the heat",
        "bond_temperature",
        "at most",
        "heat_limit",
        "above its heat limit the compound softens and then breaks down",
        "a compound of a higher limit, a milder state, or a joint without a bond",
        SHEET,
        ("bond_heat",),
    ),
    Rule(
        "hub stands the fluid",
        "hub_von_mises",
        "at most",
        "hub_allowed",
        "the bond hands the pressure on to the hub, at most all of it, at its hole",
        "a thicker hub or a metal of higher minimum yield",
        MISES,
        ("hub_outside", "hub_material", "hole"),
        asked=_strained,
        asks="a load, or a state with pressure or speed",
    ),
    Rule(
        "inner part stands alone",
        "shaft_von_mises",
        "at most",
        "shaft_allowed",
        "how far the bond supports a wall is not calculated, so it must stand the pressure alone",
        "a thicker wall or a metal of higher minimum yield",
        MISES,
        ("shaft_bore", "shaft_material"),
        asked=lambda bonded, states: bonded.hollow and _strained(bonded, states),
        asks="shaft_bore, and a load or a state with pressure or speed",
    ),
    Rule(
        "load does not alternate",
        "alternating_demand",
        "at most",
        0.0,
        "a bond creeps and tires under load that alternates or stays",
        "ask the maker of the compound, or take a shoulder, key or clamp",
        PRACTICE,
        asked=lambda bonded, states: bonded.alternating,
        asks="alternating",
    ),
    lasting.temper_rule(
        lambda bonded: (bonded.hub_material, bonded.shaft_material), "hub_material", "shaft_material"
    ),
)

CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "Compound: its safety sheet first; gloves, eye protection, fresh air; it sets fast on skin. "
        "Solvents for cleaning burn and their vapour harms: ventilate, no flame.",
        PRACTICE,
    ),
    Caution(
        "A bond is no pressure seal certificate: fluid creeps wherever it starved or let go; where "
        "a leak or a part that flies out can hurt, a shoulder or clamp must hold it too.",
        PRACTICE,
    ),
    Caution(
        "Apart again by heat (often 250 degC and more): never with a torch near oil, a sealed volume or "
        "magnesium, and the fumes of the burnt compound harm: outdoors or under suction. Such heat spoils "
        "aged aluminium, bearings and seals.",
        PRACTICE,
    ),
    *PRESSURES,
    Caution(
        "Rotating parts: guard them; run up in steps the first time.",
        PRACTICE,
        lambda bonded, states: bool((states.speed != 0.0).any()),
    ),
)


def assumptions(bonded: Bonded, states: States) -> tuple[str, ...]:
    """What was taken where nothing was typed."""
    given = bonded.model_fields_set
    hottest = max(float(states.hub_temperature.max()), float(states.shaft_temperature.max()))
    found = [
        "sizes are free sizes at 20 degC; gaps are on the diameter",
        "the bond cures at 20 degC, over the whole face, and is unstressed then",
    ]
    if bonded.bond_shear is not None:
        found.append(
            "bond_shear taken as the data sheet's on these metals, at this gap, aged, and at the "
            f"hottest state ({hottest:g} degC)"
        )
    if _asked_to_hold(bonded, states) and "safety_bond" not in given:
        found.append("safety_bond 2 (common practice, 1.5 to 3; more where it is not tried out)")
    if pushed(bonded, states) and bonded.ends is None:
        found.append("ends not given: the bond takes the end thrust of the fluid")
    if _loaded(bonded, states):
        found.append(
            "walls: factor 1.5 on yield working, 1.0 at proof, and safety_yield; the inner part carries the "
            "pressure alone, the hub all of it at its hole"
        )
    return (*found, *pressure_inside(states), *typed_metals(bonded.hub_material, bonded.shaft_material))
