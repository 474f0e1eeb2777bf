"""How long a hub takes to warm through in an oven, and how long it may stay there."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from fits import quantity
from fits.features.parts import AGED_LONG_USE
from fits.materials.metals import ROOM
from fits.materials.thermal import heat_of
from fits.mechanics import cooling
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

RULE = Source("Coupling maker's fitting instructions: oven 3 min for each mm of wall")
# Film in the still air of an oven, low end (Incropera ex. 5.5, Holman ex. 4-1: 10), W/(m^2 K).
STILL_OVEN = 10.0
# Warmed through: within this share of the rise.
LEFT = 0.05


class Soak(NamedTuple):
    """Minutes to warm through, and how that was found."""

    minutes: float
    how: str


def _outside(press: Press) -> float:
    """The largest outside of the hub, mm; one of both is given."""
    thickest = press.slices.thickest if press.slices else press.hub_outside
    return press.hole.lower if thickest is None else thickest.upper


def by_rule(press: Press) -> float:
    """Minutes by the coupling makers' rule: 3 for each mm of wall, at least 1."""
    return max(1.5 * (_outside(press) - press.hole.lower), 1.0)


def soak(press: Press, wanted: float) -> Soak:
    """The longer of rule and lumped balance; the rule alone where one temperature can't describe the hub.

    Args:
        press: the joint; its hub is wetted at the hole and outside, its ends are not counted.
        wanted: what the oven is at, degC.
    """
    rule = by_rule(press)
    said = f"3 min for each mm of wall: {rule:.0f} min"
    if wanted <= ROOM:
        return Soak(rule, said)
    metal = press.hub_material
    found = heat_of(metal.called)
    if found is None or metal.density is None:
        return Soak(rule, f"{said}; no specific heat of {metal.name} to reckon it by")
    inside, outside = press.hole.lower / 2.0, _outside(press) / 2.0
    depth = cooling.wall_depth(np.array(inside), np.array(outside))
    if cooling.biot(depth, np.array(STILL_OVEN), found.conductivity) >= cooling.LARGEST_BIOT:
        return Soak(rule, f"{said}; a wall too thick to reckon with one temperature")
    constant = cooling.time_constant(depth, metal.density, found.specific_heat, STILL_OVEN)
    end = wanted - LEFT * (wanted - ROOM)
    lumped = float(cooling.time_to(np.array(ROOM), np.array(end), np.array(wanted), constant)) / 60.0
    how = f"{lumped:.0f} min in still air (film 10 W/(m2 K)) to within 5 % of the rise; {said}"
    return Soak(max(rule, lumped), how)


def at_heat(press: Press, wanted: float) -> str:
    """What the time at heat does to the temper, or an empty text."""
    if not press.hub_material.aged_aluminium or wanted <= AGED_LONG_USE:
        return ""
    shown = quantity.show(AGED_LONG_USE, "temperature")
    return (
        f"every hour above {shown} counts, all heatings together: an aged aluminium weakens with time as "
        "with heat (6061-T6 falls below its least yield after 16 h at 200 degC)"
    )
