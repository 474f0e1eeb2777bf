"""The numbers of a running fit, from its dimensions and states."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered, Outcome, States
from fits.features.fields import SurfaceRef
from fits.features.parts import Material, material
from fits.mechanics import cylinder

if TYPE_CHECKING:
    from fits.features.running.declaration import Running


# Factor on the least yield of a wall that breathes under pressure (common practice).
WORKING, PROOF = 1.5, 1.0


def compute(running: Running, d: Mapping[str, Array], s: States) -> Outcome:
    """Every number of a running fit; see :meth:`Feature.compute`."""
    factor = d["safety_yield"]
    hub = material("hub", running.hub_material, s.hub_temperature, d["hub_expansion_share"], factor)
    shaft = material("shaft", running.shaft_material, s.shaft_temperature, d["shaft_expansion_share"], factor)
    pressure = s.pressure * d["pressure_share"]
    gaps: list[NotCovered] = []
    if isinstance(running.hole, SurfaceRef):
        hole = d["hole"]
        growth = np.zeros_like(pressure)
    else:
        growth = _growth(running, d, s, hub, pressure, gaps)
        hole = d["hole"] * (1.0 + hub.strain) + growth
        gaps += _under_pressure(hub, s)
    if isinstance(running.shaft, SurfaceRef):
        shaft_size, shrinkage = d["shaft"], np.zeros_like(pressure)
        reason = "the shaft stands on a surface: how it shrinks under pressure is not covered"
        gaps.append(NotCovered("shaft_shrinkage", reason, s.pressure > 0.0))
    else:
        shrinkage = _shrinkage(running, d, s, shaft, pressure, gaps)
        shaft_size = d["shaft"] * (1.0 + shaft.strain) - shrinkage
        gaps += _under_pressure(shaft, s)
    numbers: dict[str, Array] = {"shaft_shrinkage": shrinkage, "clearance": hole - shaft_size}
    if running.hub_outside is not None and not isinstance(running.hole, SurfaceRef):
        hoop, _ = cylinder.face_hoops(inside=d["hole"], outside=d["hub_outside"], p_in=pressure, p_out=0.0)
        numbers["wall_von_mises"] = cylinder.von_mises(-pressure, hoop, 0.0 * pressure)
        numbers["wall_growth"] = growth
        numbers["wall_allowed"] = hub.allowed / np.where(s.proof, PROOF, WORKING)
    return Outcome(numbers, tuple(gap for gap in gaps if gap.mask.any()))


def _under_pressure(of: Material, s: States) -> list[NotCovered]:
    """A material's gaps; its modulus matters only where there is pressure."""
    return [
        replace(gap, mask=gap.mask & (s.pressure > 0.0)) if gap.about.endswith("_modulus") else gap
        for gap in of.gaps
    ]


def _growth(
    running: Running,
    d: Mapping[str, Array],
    s: States,
    hub: Material,
    pressure: Array,
    gaps: list[NotCovered],
) -> Array:
    """How much the hole grows under pressure, mm; 0 with a gap where the wall isn't known."""
    pressed = s.pressure > 0.0
    if running.hub_outside is None:
        gaps.append(
            NotCovered("wall_growth", "hub_outside not given: growth under pressure unknown", pressed)
        )
        return np.zeros_like(pressure)
    grown = cylinder.bore_growth(
        bore=d["hole"],
        outside=d["hub_outside"],
        p=pressure,
        e=hub.modulus,
        nu=running.hub_material.poisson if running.hub_material else np.nan,
    )
    return np.where(pressed, grown, 0.0)


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
    hollow = running.shaft_bore is not None and running.shaft_bore.upper > 0.0
    shrunk = cylinder.shaft_shrinkage(
        shaft=d["shaft"],
        bore=d["shaft_bore"] if hollow else np.zeros_like(d["shaft"]),
        p=pressure,
        e=shaft.modulus,
        nu=running.shaft_material.poisson,
    )
    return np.where(pressed, shrunk, 0.0)
