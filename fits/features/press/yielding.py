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


VALUES = frozenset(
    {"permanent_loss", "plastic_depth", "plastic_share", "grip_after_yield", "capacity_after_yield"}
)


def lost(
    numbers: dict[str, Array],
    press: Press,
    joint: cylinder.Joint,
    yields: tuple[Array, Array],
    loaded: Mask,
    *,
    solve: bool,
) -> list[NotCovered]:
    """Permanent loss of interference, plastic depth and what grips afterwards, where anything yields.

    Args:
        numbers: the numbers so far; those of yielding are added.
        press: the joint.
        joint: its radii and moduli.
        yields: yield of hub and inner part, MPa.
        loaded: where there is pressure in the bore, or speed.
        solve: whether the numbers are asked for, or only where something yields.
    """
    full = numbers["interference"] + numbers["heat_gain"] - numbers["speed_loss"]
    radial = np.maximum(full, 0.0) / 2.0
    flexible = (
        joint.c / joint.e_o * (cylinder.spread(joint.c, joint.b) + joint.nu_o),
        joint.c / joint.e_i * (cylinder.spread(joint.a, joint.c) - joint.nu_i),
    )
    elastic = radial / (flexible[0] + flexible[1])
    hub_yield, inner_yield = yields
    hub = elastic * cylinder.mises_at_bore(joint.c, joint.b) > hub_yield
    limit = plastic.liner_limit(joint.a, joint.c, inner_yield) if press.hollow else inner_yield
    inner = elastic > limit
    if press.hub_material.brittle:
        hub = np.zeros_like(hub)
    if press.shaft_material.brittle:
        inner = np.zeros_like(inner)
    mises = (numbers["hub_von_mises"] > hub_yield) | (numbers["shaft_von_mises"] > inner_yield)
    anything = hub | inner | mises
    if not np.any(anything):
        return []
    # It closes and grows by more than the elastic figure, and keeps it.
    found = [
        _everywhere("bore_closure", "a part yields: how its bore moves is not covered", anything),
        _everywhere("outside_growth", "a part yields: how its outside moves is not covered", anything),
    ]
    if not solve:
        return found
    pressure, depth, share, beyond = _yielded(press, joint, radial, (hub, inner), yields, flexible)
    beyond = beyond & np.isfinite(full)
    # With bore pressure, at speed, or by a load alone the closed solution does not hold.
    under = mises & (loaded | ~(hub | inner))
    stiff = flexible[0] + flexible[1]
    # Where a state's own numbers are not known, its rules say so.
    loss = np.where((hub | inner) & np.isfinite(full), 2.0 * np.maximum(radial - pressure * stiff, 0.0), 0.0)
    depth, share = (np.where(hub | inner, one, 0.0) for one in (depth, share))
    _after(numbers, np.where(beyond | under, np.nan, loss), depth, share, stiff)
    through = "both parts yield, a solid one, or a hub all through: what is left is not covered"
    other = "yielding under pressure, load or speed: what is left is not covered"
    unknown = ((through, beyond), (other, under))
    return [
        *found,
        *(_everywhere("permanent_loss", reason, mask) for reason, mask in unknown if np.any(mask)),
    ]


def _after(numbers: dict[str, Array], loss: Array, depth: Array, share: Array, stiff: Array) -> None:
    """The most that any state loses, and what grips in each state after that."""
    numbers["permanent_loss"] = loss.max(axis=-1, keepdims=True)
    for name, one in (("plastic_depth", depth), ("plastic_share", share)):
        numbers[name] = np.where(np.isnan(loss), np.nan, one).max(axis=-1, keepdims=True)
    left = numbers["effective_interference"] - numbers["permanent_loss"]
    numbers["grip_after_yield"] = np.maximum(left, 0.0) / 2.0 / stiff


def _everywhere(about: str, reason: str, mask: Mask) -> NotCovered:
    """Yielding in one state marks them all."""
    return NotCovered(about, reason, np.broadcast_to(mask.any(axis=-1, keepdims=True), mask.shape))


def _yielded(
    press: Press,
    joint: cylinder.Joint,
    radial: Array,
    yielding: tuple[Mask, Mask],
    yields: tuple[Array, Array],
    flexible: tuple[Array, Array],
) -> tuple[Array, Array, Array, Mask]:
    """Pressure, depth and share of the section that yields, of one part; where that can't be answered."""
    hub, inner = yielding
    of_hub, of_inner = flexible
    a, c = joint.a, joint.c
    grip = _hub_grip(joint, radial, hub, yields[0], of_inner)
    if not press.hollow:
        share = _share(c, grip.radius, joint.b)
        return grip.pressure, grip.radius - c, share, np.asarray(inner | (hub & grip.beyond))
    thin = plastic.liner_grip(radial, a=a, c=c, e=joint.e_i, nu=joint.nu_i, y=yields[1], hub=of_hub)
    only_inner = inner & (thin.pressure * cylinder.mises_at_bore(joint.c, joint.b) <= yields[0])
    only_hub = hub & (grip.pressure <= plastic.liner_limit(a, c, yields[1])) & ~only_inner
    pressure = np.where(only_inner, thin.pressure, grip.pressure)
    depth = np.where(only_inner, thin.radius - a, np.where(only_hub, grip.radius - c, 0.0))
    beyond = (hub | inner) & ~only_inner & ~(only_hub & ~grip.beyond)
    share = np.where(
        only_inner, _share(a, thin.radius, c), np.where(only_hub, _share(c, grip.radius, joint.b), 0.0)
    )
    return pressure, depth, share, np.asarray(beyond)


def _share(inside: Array, yielded: Array, outside: Array) -> Array:
    """The share of a ring's section that has yielded, from its bore outwards."""
    return cylinder.ring_area(inside, yielded) / cylinder.ring_area(inside, outside)


def _hub_grip(joint: cylinder.Joint, radial: Array, hub: Mask, k: Array, of_inner: Array) -> plastic.Grip:
    """The yielding hub, solved only where the hub yields; NaN elsewhere."""
    hub = np.broadcast_to(hub, np.broadcast_shapes(hub.shape, radial.shape))
    pressure, radius = np.full(hub.shape, np.nan), np.full(hub.shape, np.nan)
    beyond = np.zeros(hub.shape, dtype=bool)
    if np.any(hub):
        some, c, b, e, yield_, inner = (
            np.broadcast_to(one, hub.shape)[hub] for one in (radial, joint.c, joint.b, joint.e_o, k, of_inner)
        )
        found = plastic.hub_grip(some, c=c, b=b, e=e, nu=joint.nu_o, k=yield_, inner=inner)
        pressure[hub], radius[hub], beyond[hub] = found
    return plastic.Grip(pressure, radius, beyond)
