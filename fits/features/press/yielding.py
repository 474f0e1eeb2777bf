"""What yielding costs a press fit: the pressure left and the interference lost for good.

Unloading and heating after yielding are elastic, so what is lost in the worst state is lost
in all of them. Holding takes the minimum yield and Tresca's lower pressure.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array, Mask
from fits.features.feature import NotCovered
from fits.mechanics import cylinder, plastic

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Dimensions = Mapping[str, Array]


def lost(
    numbers: dict[str, Array],
    press: Press,
    joint: cylinder.Joint,
    yields: tuple[Array, Array],
    loaded: Mask,
) -> list[NotCovered]:
    """Permanent loss of interference, plastic depth and what grips afterwards, where anything yields.

    Args:
        numbers: the numbers so far; those of yielding are added.
        press: the joint.
        joint: its radii and moduli.
        yields: yield of hub and inner part, MPa.
        loaded: where there is pressure in the bore, or speed.
    """
    full = numbers["interference"] + numbers["heat_gain"] - numbers["speed_loss"]
    radial = np.maximum(full, 0.0) / 2.0
    of_hub = joint.c / joint.e_o * (cylinder.spread(joint.c, joint.b) + joint.nu_o)
    of_inner = joint.c / joint.e_i * (cylinder.spread(joint.a, joint.c) - joint.nu_i)
    stiff = of_hub + of_inner
    elastic = radial / stiff
    hub_yield, inner_yield = yields
    hoop = elastic * cylinder.spread(joint.c, joint.b)
    hub = cylinder.von_mises(-elastic, hoop, 0.0 * hoop) > hub_yield
    limit = plastic.liner_limit(joint.a, joint.c, inner_yield) if press.hollow else inner_yield
    inner = elastic > limit
    if press.hub_material.brittle:
        hub = np.zeros_like(hub)
    if press.shaft_material.brittle:
        inner = np.zeros_like(inner)
    # With bore pressure, at speed, or by a load alone the closed solution does not hold.
    mises = (numbers["hub_von_mises"] > hub_yield) | (numbers["shaft_von_mises"] > inner_yield)
    under = mises & (loaded | ~(hub | inner))
    if not np.any(hub | inner | under):
        return []
    pressure, depth, beyond = _yielded(press, joint, radial, (hub, inner), yields, (of_hub, of_inner))
    # Where a state's own numbers are not known, its rules say so.
    loss = np.where((hub | inner) & np.isfinite(full), 2.0 * np.maximum(radial - pressure * stiff, 0.0), 0.0)
    loss = np.where(beyond | under, np.nan, loss)
    numbers["permanent_loss"] = loss.max(axis=-1, keepdims=True)
    depth = np.where(hub | inner, depth, 0.0)
    numbers["plastic_depth"] = np.where(np.isnan(loss), np.nan, depth).max(axis=-1, keepdims=True)
    left = numbers["effective_interference"] - numbers["permanent_loss"]
    numbers["grip_after_yield"] = np.maximum(left, 0.0) / 2.0 / stiff
    loss_of = "permanent_loss"
    anything = hub | inner | mises
    reasons = (
        (loss_of, beyond, "both parts yield, a solid one, or a hub all through: what is left is not covered"),
        (loss_of, under, "yielding under pressure, load or speed: what is left is not covered"),
        # It closes and grows by more than the elastic figure, and keeps it.
        ("bore_closure", anything, "a part yields: how its bore moves is not covered"),
        ("outside_growth", anything, "a part yields: how its outside moves is not covered"),
    )
    return [
        # Yielding in one state marks them all.
        NotCovered(about, reason, np.broadcast_to(mask.any(axis=-1, keepdims=True), mask.shape))
        for about, mask, reason in reasons
        if np.any(mask)
    ]


def _yielded(
    press: Press,
    joint: cylinder.Joint,
    radial: Array,
    yielding: tuple[Mask, Mask],
    yields: tuple[Array, Array],
    flexible: tuple[Array, Array],
) -> tuple[Array, Array, Mask]:
    """Pressure and plastic depth where one part yields; where that can't be answered."""
    hub, inner = yielding
    of_hub, of_inner = flexible
    a, c, b = joint.a, joint.c, joint.b
    grip = plastic.hub_grip(radial, c=c, b=b, e=joint.e_o, nu=joint.nu_o, k=yields[0], inner=of_inner)
    if not press.hollow:
        return grip.pressure, grip.radius - c, np.asarray(inner | (hub & grip.beyond))
    thin = plastic.liner_grip(radial, a=a, c=c, e=joint.e_i, nu=joint.nu_i, y=yields[1], hub=of_hub)
    stays = thin.pressure * cylinder.spread(c, b)
    hub_holds = cylinder.von_mises(-thin.pressure, stays, 0.0 * stays) <= yields[0]
    only_inner = inner & hub_holds
    only_hub = hub & (grip.pressure <= plastic.liner_limit(a, c, yields[1])) & ~only_inner
    pressure = np.where(only_inner, thin.pressure, grip.pressure)
    depth = np.where(only_inner, thin.radius - a, np.where(only_hub, grip.radius - c, 0.0))
    beyond = (hub | inner) & ~only_inner & ~(only_hub & ~grip.beyond)
    return pressure, depth, np.asarray(beyond)
