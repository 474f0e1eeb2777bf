"""What happens when fluid gets between the parts: the hub takes it, the liner stands it alone.

Fluid creeps in from an open end wherever its pressure is above the contact pressure. It then
loads the hub at the hole, and is trapped behind the inner part when the bore is let down.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array
from fits.features.feature import Caution, NotCovered, Rule, States
from fits.features.parts import GEOMETRY, PRACTICE, Material, under_pressure, wall_factor
from fits.features.press.sources import BRITTLE, BUCKLE, EQUILIBRIUM, MISES, PLASTIC, STRESS
from fits.features.press.uses import RADII
from fits.features.value import value
from fits.mechanics import buckling, cylinder, plastic

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

# Share of the buckling pressure that counts, for a wall out of round (from memory: half or less).
ROUND = 0.5
# Without roughness the fluid is taken to get in, and the liner to be loose.
_WORST = ("roughness_loss",)


def numbers(
    found: dict[str, Array],
    press: Press,
    d: Mapping[str, Array],
    joint: cylinder.Joint,
    of: tuple[Material, Material],
    s: States,
) -> list[NotCovered]:
    """Fluid behind the inner part in every state, and what hub and liner stand of it.

    Args:
        found: the numbers so far; those of a lifted joint are added.
        press: the joint.
        d: its dimensions.
        joint: its radii and moduli.
        of: hub and inner part.
        s: the states.
    """
    hub, inner = of
    rough = press.roughness_hole is None or press.roughness_shaft is None
    fluid = found["fluid_pressure"]
    found["contact_with_fluid"] = found["contact_pressure"]
    behind = np.where((found["contact_pressure"] >= fluid) & (not rough), 0.0, fluid)
    found["behind_pressure"] = behind
    found["lifted_hub_hoop"] = behind * cylinder.spread(joint.c, joint.b)
    found["lifted_hub_mises"] = behind * cylinder.mises_at_bore(joint.c, joint.b)
    found["lifted_hub_allowed"] = hub.allowed / wall_factor(s)
    gaps = [_yielded(found, d, of)]
    if press.hollow:
        gaps.append(_liner(found, press, d, joint, inner, behind))
    return gaps


def _yielded(found: dict[str, Array], d: Mapping[str, Array], of: tuple[Material, Material]) -> NotCovered:
    """Where a part yields in any state the elastic contact pressure is not there any more."""
    hub_yield, inner_yield = (part.allowed * d["safety_yield"] for part in of)
    either = (found["hub_von_mises"] > hub_yield) | (found["shaft_von_mises"] > inner_yield)
    yields = np.broadcast_to(either.any(axis=-1, keepdims=True), either.shape)
    return NotCovered(
        "contact_with_fluid", "a part yields: whether fluid gets between is not covered", yields
    )


def _liner(
    found: dict[str, Array],
    press: Press,
    d: Mapping[str, Array],
    joint: cylinder.Joint,
    inner: Material,
    behind: Array,
) -> NotCovered:
    """The liner alone against the highest pressure that was ever behind it, its bore let down."""
    most = behind.max(axis=-1, keepdims=True)
    found["trapped_pressure"] = trapped = np.broadcast_to(most, behind.shape)
    inside, outside = d["shaft_bore"] / 2.0, d["shaft"] / 2.0
    found["liner_elastic_limit"] = plastic.liner_limit(inside, outside, inner.allowed)
    found["contact_ceiling"] = inner.allowed * (outside - inside) / outside
    wall = (inside, outside, joint.e_i, joint.nu_i)
    found["free_collapse"] = free = buckling.free_tube(*wall)
    held = (found["effective_interference"] > 0.0) & (press.roughness_hole is not None)
    held = held & (press.roughness_shaft is not None)
    # A thick wall stands more alone than Glock's thin one in its hole, and no less in it.
    encased = np.maximum(buckling.encased_tube(*wall), free)
    found["liner_round_limit"] = ROUND * np.where(held, encased, free)
    # Only a hole that gives less than the liner keeps it round.
    hub_gives = joint.c / joint.e_o * (cylinder.spread(joint.c, joint.b) + joint.nu_o)
    liner_gives = joint.c / joint.e_i * (cylinder.spread(joint.a, joint.c) - joint.nu_i)
    soft = (hub_gives > liner_gives) & held & (trapped > 0.0)
    reason = "the hub gives more than the liner: when the liner buckles is not covered"
    return NotCovered("liner_round_limit", reason, soft)


_WALL = ("shaft", "shaft_bore")


def _hollow(press: Any, states: States) -> bool:
    return bool(press.hollow) and under_pressure(press, states)


VALUES = (
    value(
        "contact_with_fluid",
        "contact pressure",
        "pressure",
        "contact pressure while both parts are elastic",
        EQUILIBRIUM,
        ("contact_pressure", "hub_von_mises", "shaft_von_mises", "safety_yield"),
        shown=False,
    ),
    value(
        "behind_pressure",
        "fluid behind the inner part",
        "pressure",
        "pressure of the fluid where it is above the contact pressure, else 0",
        EQUILIBRIUM,
        ("contact_with_fluid", "fluid_pressure"),
        shown=False,
    ),
    value(
        "lifted_hub_hoop",
        "hub hoop with fluid at the hole",
        "pressure",
        "p (b^2+c^2)/(b^2-c^2), p the fluid behind the inner part",
        STRESS,
        ("behind_pressure", *RADII),
        shown=False,
    ),
    value(
        "lifted_hub_mises",
        "hub von Mises with fluid at the hole",
        "pressure",
        "p sqrt(1 + s + s^2), s = (b^2+c^2)/(b^2-c^2), p the fluid behind the inner part",
        MISES,
        ("behind_pressure", *RADII),
        shown=False,
    ),
    value(
        "lifted_hub_allowed",
        "allowed stress of the hub as a vessel",
        "pressure",
        "yield/safety_yield/1.5, at proof yield/safety_yield",
        PRACTICE,
        ("hub_allowed",),
        shown=False,
    ),
    value(
        "trapped_pressure",
        "fluid trapped behind the inner part",
        "pressure",
        "most over the states of the fluid behind it, bore let down to 0",
        EQUILIBRIUM,
        ("behind_pressure",),
        shown=False,
    ),
    value(
        "liner_elastic_limit",
        "outside pressure at which its bore yields",
        "pressure",
        "yield/safety_yield (1 - a^2/c^2)/2",
        PLASTIC,
        ("shaft_allowed", *_WALL),
        shown=False,
    ),
    value(
        "contact_ceiling",
        "contact pressure can't pass",
        "pressure",
        "yield/safety_yield (1 - a/c), the inner part yielded through",
        PLASTIC,
        ("shaft_allowed", *_WALL),
    ),
    value(
        "free_collapse",
        "loose liner collapses at",
        "pressure",
        "E t^3/[4 (1-nu^2) R^3], long and round",
        BUCKLE,
        ("shaft_modulus", *_WALL),
    ),
    value(
        "liner_round_limit",
        "outside pressure at which it may buckle",
        "pressure",
        "half of E/(1-nu^2) (t/D)^2.2 while tight and elastic, at least half of E t^3/[4 (1-nu^2) R^3]",
        BUCKLE,
        ("effective_interference", "free_collapse", "trapped_pressure", "hub_modulus", *RADII),
        shown=False,
    ),
)

RULES = (
    Rule(
        "hub stands fluid at the hole",
        "lifted_hub_mises",
        "at most",
        "lifted_hub_allowed",
        "fluid at the hole presses on the hub itself",
        "more interference so that it can't lift, or a thicker hub",
        MISES,
        ("hub_outside", "hub_material", "hole", "shaft"),
        despite=_WORST,
        asked=lambda press, states: under_pressure(press, states) and not press.hub_material.brittle,
        asks="a state with pressure",
    ),
    Rule(
        "brittle hub stands fluid at the hole",
        "lifted_hub_hoop",
        "at most",
        "hub_brittle_allowed",
        "fluid that lifts the inner part pulls a brittle hub apart",
        "more interference so that it can't lift, or a ductile metal",
        BRITTLE,
        ("hub_outside", "hub_material", "hole", "shaft"),
        despite=_WORST,
        asked=lambda press, states: under_pressure(press, states) and press.hub_material.brittle,
        asks="a state with pressure and a brittle hub",
    ),
    Rule(
        "liner stands trapped fluid",
        "trapped_pressure",
        "at most",
        "liner_elastic_limit",
        "trapped fluid presses the liner in when the bore is let down",
        "a thicker or harder wall, sealed or bonded ends, or a vent from the interface",
        PLASTIC,
        ("shaft_bore", "shaft_material", "hole", "shaft"),
        despite=_WORST,
        asked=_hollow,
        asks="a state with pressure",
    ),
    Rule(
        "liner stays round",
        "trapped_pressure",
        "at most",
        "liner_round_limit",
        "trapped fluid buckles a thin liner into its bore",
        "a thicker wall, more interference, sealed or bonded ends, or a vent from the interface",
        BUCKLE,
        ("shaft_bore", "shaft_material", "hole", "shaft"),
        despite=_WORST,
        asked=_hollow,
        asks="a state with pressure",
    ),
)

CAUTIONS = (
    Caution(
        "A press fit is no seal: seal or bond its wet end, vent the interface, let pressure down slowly.",
        GEOMETRY,
        under_pressure,
    ),
)
