"""What time and surroundings do to a press fit: rust, cracks, a temper that fades, a port beside it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array, Mask
from fits.features.feature import Caution, NotCovered, Rule, States
from fits.features.lasting import ASKS, CRACKS, FADES, TEMPER_LIMIT, UNKNOWN_CRACKS, fades, may_crack, stood
from fits.features.parts import GEOMETRY, PRACTICE
from fits.features.press.sources import CRACKING, GALVANIC, PORT
from fits.features.press.uses import RADII
from fits.features.value import value
from fits.features.when import AS_MADE, EVERY
from fits.materials import galvanic

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Dimensions = Mapping[str, Array]

# Taper pipe threads and their outside diameters, mm (ASME B1.20.1, table 2: from memory).
PORTS = {
    "1/16 NPT": 0.3125 * 25.4,
    "1/8 NPT": 0.405 * 25.4,
    "1/4 NPT": 0.540 * 25.4,
    "3/8 NPT": 0.675 * 25.4,
    "1/2 NPT": 0.840 * 25.4,
}
# Tension that stays is kept below this share of the stress at which cracks start.
CRACKING_SHARE = 0.5


def numbers(found: dict[str, Array], press: Press, d: Dimensions, s: States) -> list[NotCovered]:
    """What is held against time and surroundings, and what of it isn't known."""
    every = np.ones(len(s.names), dtype=bool)
    gaps = []
    if press.surroundings is not None:
        gaps += _galvanic(found, press, every)
    found["cracking_allowed"] = CRACKING_SHARE * d["cracking_stress"]
    if press.cracking_stress is None:
        name = press.hub_material.name
        reason = (
            f"{name}: {UNKNOWN_CRACKS}"
            if press.hub_material.unsaid
            else f"{name} may crack under tension that stays, and the stress at which it starts is in no "
            "table; give cracking_stress, or take another alloy or temper"
        )
        gaps.append(NotCovered("cracking_stress", reason, every, "cracking_stress"))
    for part, metal, temperature in (
        ("hub", press.hub_material, s.hub_temperature),
        ("shaft", press.shaft_material, s.shaft_temperature),
    ):
        gaps += stood(found, part, (metal,), temperature, s)
    if press.alternating:
        found["alternating_demand"] = np.full(len(s.names), np.nan)
        reason = "alternating load, bending and fretting at the ends are not covered"
        gaps.append(NotCovered("alternating_demand", reason, every))
    else:
        found["alternating_demand"] = np.zeros(len(s.names))
    if press.port is not None:
        thread = PORTS[press.port] / 2.0
        inner = d["port_distance"] - d["hole"] / 2.0 - thread
        outer = d["hub_outside"] / 2.0 - d["port_distance"] - thread
        found["port_wall"] = wall = np.minimum(inner, outer)
        # Nearer than a hole's diameter the hub is no even ring (common practice).
        reason = "so near to a port the hub is no even ring: its stress and grip are not covered"
        gaps.append(NotCovered("port_wall", reason, wall < d["hole"]))
    return gaps


def _galvanic(found: dict[str, Array], press: Press, every: Mask) -> list[NotCovered]:
    metals = (press.hub_material, press.shaft_material)
    hub, inner = (galvanic.index_of(metal.called) for metal in metals)
    apart = np.nan if hub is None or inner is None else abs(hub.volts - inner.volts)
    found["galvanic_difference"] = np.array([apart])
    found["galvanic_allowed"] = np.array([galvanic.allowed(str(press.surroundings)).volts])
    return [
        NotCovered("galvanic_difference", f"no anodic index of {metal.name} in the table", every)
        for metal in metals
        if galvanic.index_of(metal.called) is None
    ]


def _aged(part: str) -> Any:
    def asked(press: Any, states: States) -> bool:
        return fades((getattr(press, f"{part}_material"),), states)

    return asked


VALUES = (
    value(
        "galvanic_difference",
        "anodic index apart by, V",
        "number",
        "of both metals",
        GALVANIC,
        (),
        AS_MADE,
        digits=2,
    ),
    value(
        "galvanic_allowed",
        "anodic index may be apart by, V",
        "number",
        "of the surroundings",
        GALVANIC,
        (),
        AS_MADE,
        shown=False,
        digits=2,
    ),
    value(
        "cracking_allowed",
        "tension that may stay in the hub",
        "pressure",
        "cracking_stress/2",
        CRACKING,
        ("cracking_stress",),
        EVERY,
        AS_MADE,
        shown=False,
    ),
    *(
        value(
            f"{part}_{what}",
            f"{label} of the {word}",
            "temperature",
            equation,
            PRACTICE,
            (),
            shown=False,
        )
        for part, word in (("hub", "hub"), ("shaft", "inner part"))
        for what, label, equation in (
            ("temperature", "temperature", "of the state"),
            ("temper_limit", "highest temperature", TEMPER_LIMIT),
        )
    ),
    value(
        "alternating_demand",
        "must hold under alternating load",
        "force",
        "not covered",
        PRACTICE,
        (),
        shown=False,
    ),
    value(
        "port_wall",
        "wall between port and hole",
        "length",
        "lesser of port_distance - hole/2 - thread/2 and hub_outside/2 - port_distance - thread/2",
        PORT,
        ("port_distance", *RADII),
        AS_MADE,
        digits=2,
    ),
)

RULES = (
    Rule(
        "metals stand each other",
        "galvanic_difference",
        "at most",
        "galvanic_allowed",
        "where it is wet the metal of the higher anodic index is eaten at the joint",
        "metals nearer to each other, or sealant, plating or a coat that keeps the joint dry",
        GALVANIC,
        ("hub_material", "shaft_material"),
        asked=lambda press, states: press.surroundings is not None,
        asks="surroundings",
    ),
    Rule(
        "hub does not crack with time",
        "hub_hoop_at_hole",
        "at most",
        "cracking_allowed",
        CRACKS,
        "less interference, a thicker hub, or an alloy and temper that does not crack (6061-T6)",
        CRACKING,
        ("hole", "shaft", "hub_outside", "hub_material", "cracking_stress"),
        despite=("roughness_loss",),
        asked=lambda press, states: may_crack(press.hub_material) or press.cracking_stress is not None,
        asks="cracking_stress, or a hub of 7xxx-T6, 2xxx-T3, 2xxx-T4 or magnesium",
    ),
    *(
        Rule(
            f"{word} keeps its temper",
            f"{part}_temperature",
            "at most",
            f"{part}_temper_limit",
            FADES,
            "keep it cooler, a metal that stands the heat, or a shoulder that holds without grip",
            PRACTICE,
            (f"{part}_material",),
            asked=_aged(part),
            asks=ASKS,
        )
        for part, word in (("hub", "hub"), ("shaft", "inner part"))
    ),
    Rule(
        "stands alternating load",
        "axial_capacity",
        "at least",
        "alternating_demand",
        "a load that alternates works at the ends of the joint until it frets and cracks",
        "a shoulder or key for the alternating share, relieved ends, and advice from a specialist",
        PRACTICE,
        (),
        asked=lambda press, states: press.alternating,
        asks="alternating",
    ),
    Rule(
        "port leaves a wall",
        "port_wall",
        "at least",
        0.0,
        "the taper thread is widest at its mouth and cuts into the hole, or out of the hub",
        "move the port to where metal is on both sides, or take a smaller or a straight thread with its own "
        "seal",
        GEOMETRY,
        ("port_distance", "hole"),
        asked=lambda press, states: press.port is not None,
        asks="port and port_distance",
        above=True,
    ),
)

CAUTIONS = (
    Caution("Alternating load, bending and fretting at the ends are not covered.", PRACTICE),
    Caution(
        "A taper thread wedges its hole open and moves a bore beside it by an amount that is not "
        "covered: tighten the fitting before the last ream, or take a straight-thread port.",
        PRACTICE,
        lambda press, states: press.port is not None,
    ),
)
