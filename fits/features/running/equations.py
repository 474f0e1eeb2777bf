"""The numbers of a running fit, from its dimensions and states."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array
from fits.features import lasting
from fits.features.feature import NotCovered, Outcome, States
from fits.features.fields import SurfaceRef
from fits.features.parts import Material, material, wall_factor, where_loaded
from fits.mechanics import buckling, cylinder
from fits.mechanics.spin import Spin

if TYPE_CHECKING:
    from fits.features.running.declaration import Running


# Factor for out-of-roundness on the collapse of a tube (from memory: 2 or more).
COLLAPSE = 2.0


def compute(running: Running, d: Mapping[str, Array], s: States) -> Outcome:
    """Every number of a running fit; see :meth:`Feature.compute`."""
    factor = d["safety_yield"]
    hub = material("hub", running.hub_material, s.hub_temperature, d, factor)
    shaft = material("shaft", running.shaft_material, s.shaft_temperature, d, factor)
    pressure = s.pressure * d["pressure_share"]
    loaded = (s.pressure > 0.0) | (s.speed != 0.0)
    gaps: list[NotCovered] = []
    numbers: dict[str, Array] = {}
    if isinstance(running.hole, SurfaceRef):
        hole = d["hole"]
    else:
        hole = d["hole"] * (1.0 + hub.strain) + _wall(numbers, running, d, s, hub, pressure, gaps)
        gaps += where_loaded(hub, loaded)
    if isinstance(running.shaft, SurfaceRef):
        size, shrinkage, growth = d["shaft"], np.zeros_like(pressure), np.zeros_like(pressure)
        reason = "the shaft stands on a surface: how it shrinks under pressure is not covered"
        gaps.append(NotCovered("shaft_shrinkage", reason, s.pressure > 0.0))
    else:
        shrinkage = _shrinkage(running, d, s, shaft, pressure, gaps)
        growth = _spin_growth(running, d, s, shaft, gaps)
        size = d["shaft"] * (1.0 + shaft.strain) - shrinkage + growth
        gaps += where_loaded(shaft, loaded)
        if running.hollow:
            _tube(numbers, running, d, s, shaft, pressure, gaps)
    numbers |= {"shaft_shrinkage": shrinkage, "spin_growth": growth, "clearance": hole - size}
    gaps += lasting.temper(numbers, running.pressed_metals, s)
    return Outcome(numbers, tuple(gap for gap in gaps if gap.mask.any()))


def _wall(
    numbers: dict[str, Array],
    running: Running,
    d: Mapping[str, Array],
    s: States,
    hub: Material,
    pressure: Array,
    gaps: list[NotCovered],
) -> Array:
    """Growth of the hole under pressure, mm, and the stress of its wall.

    Where the wall isn't known the growth is 0 with a gap: it may only be more.
    """
    pressed = s.pressure > 0.0
    if not np.any(pressed):
        if running.hub_outside is not None:
            numbers["wall_growth"] = np.zeros_like(pressure)
            numbers["wall_von_mises"] = np.zeros_like(pressure)
            numbers["wall_allowed"] = hub.allowed / wall_factor(s)
        return np.zeros_like(pressure)
    outside = d["hub_outside"]
    nu = running.hub_material.poisson if running.hub_material else np.nan
    grown = cylinder.bore_growth(bore=d["hole"], outside=outside, p=pressure, e=hub.modulus, nu=nu)
    hoop, _ = cylinder.face_hoops(inside=d["hole"], outside=outside, p_in=pressure, p_out=0.0)
    stress = cylinder.von_mises(-pressure, hoop, np.zeros_like(pressure))
    if running.hub_outside is None:
        reason = "hub_outside not given: growth and stress of the wall under pressure unknown"
        gaps.append(NotCovered("wall_growth", f"{reason}, shown without", pressed))
        gaps.append(NotCovered("wall_von_mises", reason, pressed, "hub_outside"))
    growth = np.where(pressed & np.isfinite(grown), grown, 0.0)
    if running.hub_outside is not None:
        numbers["wall_growth"] = np.where(pressed, grown, 0.0)
    numbers["wall_von_mises"] = np.where(pressed, stress, 0.0)
    numbers["wall_allowed"] = hub.allowed / wall_factor(s)
    return growth if running.hub_outside is None else np.where(pressed, grown, 0.0)


def _shrinkage(
    running: Running,
    d: Mapping[str, Array],
    s: States,
    shaft: Material,
    pressure: Array,
    gaps: list[NotCovered],
) -> Array:
    """How much the shaft shrinks under pressure all round, mm."""
    pressed = s.pressure > 0.0
    if running.shaft_material is None:
        gaps.append(NotCovered("shaft_shrinkage", "shaft_material not given", pressed))
        return np.zeros_like(pressure)
    shrunk = cylinder.shaft_shrinkage(
        shaft=d["shaft"],
        bore=d["shaft_bore"] if running.hollow else np.zeros_like(d["shaft"]),
        p=pressure,
        e=shaft.modulus,
        nu=running.shaft_material.poisson,
    )
    return np.where(pressed, shrunk, 0.0)


def _tube(
    numbers: dict[str, Array],
    running: Running,
    d: Mapping[str, Array],
    s: States,
    shaft: Material,
    pressure: Array,
    gaps: list[NotCovered],
) -> None:
    """Stress and collapse of a hollow shaft with the pressure outside it and none in its bore."""
    inside, outside = d["shaft_bore"] / 2.0, d["shaft"] / 2.0
    none = np.zeros_like(pressure)
    hoop, _ = cylinder.face_hoops(inside=inside, outside=outside, p_in=none, p_out=pressure)
    numbers["shaft_pressure"] = pressure
    numbers["tube_von_mises"] = np.abs(hoop)
    numbers["tube_allowed"] = shaft.allowed / wall_factor(s)
    nu = running.shaft_material.poisson if running.shaft_material else np.nan
    numbers["collapse_allowed"] = buckling.free_tube(inside, outside, shaft.modulus, nu) / COLLAPSE
    for gap in shaft.gaps:
        # Elsewhere a modulus isn't asked for (where_loaded); what it gives isn't known there either.
        if gap.about == "shaft_modulus":
            gaps.append(NotCovered("collapse_allowed", gap.reason, gap.mask))
    if running.shaft_material is None:
        every = np.ones(np.shape(s.pressure), dtype=bool)
        gaps.append(NotCovered("tube_allowed", "shaft_material not given", every))
        gaps.append(NotCovered("collapse_allowed", "shaft_material not given", every))


def _spin_growth(
    running: Running, d: Mapping[str, Array], s: States, shaft: Material, gaps: list[NotCovered]
) -> Array:
    """How much the shaft grows with speed, mm; the hole is at rest."""
    turning = s.speed != 0.0
    metal = running.shaft_material
    if not np.any(turning):
        return np.zeros_like(s.speed)
    if metal is None or metal.density is None:
        reason = "shaft_material not given" if metal is None else f"{metal.name}: no density"
        gaps.append(NotCovered("shaft_density", reason, turning))
        return np.zeros_like(s.speed)
    spin = Spin(metal.poisson, metal.density, s.speed * d["speed_share"])
    inside = d["shaft_bore"] / 2.0 if running.hollow else np.zeros_like(d["shaft"])
    return np.where(turning, 2.0 * spin.outside_growth(inside, d["shaft"] / 2.0, shaft.modulus), 0.0)
