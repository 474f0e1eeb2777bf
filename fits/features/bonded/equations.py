"""The numbers of a bonded slip fit, from its dimensions and states."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi
from typing import TYPE_CHECKING

import numpy as np

from fits import quantity
from fits.arrays import Array
from fits.features import lasting
from fits.features.feature import NotCovered, Outcome, States
from fits.features.parts import Material, material, wall_factor, where_loaded
from fits.materials import bonds
from fits.mechanics import cylinder, loads
from fits.mechanics.spin import Spin

if TYPE_CHECKING:
    from fits.features.bonded.declaration import Bonded

    Dimensions = Mapping[str, Array]

# A strain below this is none (the metals' own rounding).
_NONE = 1e-12


def compute(bonded: Bonded, d: Dimensions, s: States) -> Outcome:
    """Every number of a bonded slip fit; see :meth:`Feature.compute`."""
    factor = d["safety_yield"]
    hub = material("hub", bonded.hub_material, s.hub_temperature, d, factor)
    inner = material("shaft", bonded.shaft_material, s.shaft_temperature, d, factor)
    loaded = (s.pressure > 0.0) | (s.speed != 0.0)
    gaps = [*where_loaded(hub, loaded), *where_loaded(inner, loaded), *_missing(bonded, s)]
    pressure = s.pressure * d["pressure_share"]
    bore = pressure if bonded.hollow else np.zeros_like(pressure)
    spins = tuple(
        Spin(metal.poisson, np.nan if metal.density is None else metal.density, s.speed * d["speed_share"])
        for metal in (bonded.hub_material, bonded.shaft_material)
    )
    numbers = {
        "hub_allowed": hub.allowed / wall_factor(s),
        "shaft_allowed": inner.allowed / wall_factor(s),
        "bond_temperature": np.maximum(s.hub_temperature, s.shaft_temperature),
        "heat_limit": d["bond_heat"] + 0.0 * s.pressure,
        "least_gap": d["gap_least"] + 0.0 * s.pressure,
        "most_gap": d["gap_most"] + 0.0 * s.pressure,
        "alternating_demand": np.full(len(s.names), np.nan if bonded.alternating else 0.0),
    }
    _gap(numbers, bonded, d, (hub, inner), bore, spins)
    gaps += _strains(numbers, d, hub.strain - inner.strain)
    _holding(numbers, bonded, d, pressure)
    gaps += _walls(numbers, bonded, d, (pressure, bore), spins)
    gaps += lasting.temper(numbers, (bonded.hub_material, bonded.shaft_material), s)
    return Outcome(numbers, tuple(gap for gap in gaps if gap.mask.any()))


def _missing(bonded: Bonded, s: States) -> list[NotCovered]:
    """What the data sheet would say and wasn't typed, with what people report."""
    every = np.ones(len(s.names), dtype=bool)
    found = []
    for name, reason in reasons().items():
        if getattr(bonded, name) is None:
            found.append(NotCovered(name, f"{name} not given ({reason})", every, name))
    if bonded.length is None:
        found.append(NotCovered("length", "length not given", every, "length"))
    if bonded.alternating:
        reason = "load that alternates is not covered: a bond tires"
        found.append(NotCovered("alternating_demand", reason, every))
    for part, metal in (("hub", bonded.hub_material), ("shaft", bonded.shaft_material)):
        if metal.density is None:
            turning = np.broadcast_to(s.speed != 0.0, np.broadcast_shapes(s.speed.shape, every.shape))
            found.append(NotCovered(f"{part}_density", f"{metal.name}: no density", turning))
    return found


def reasons() -> dict[str, str]:
    """What is asked of the data sheet, each with what people report of it."""
    least, best, heat = (bonds.reported(name) for name in ("least gap", "best gap", "heat limit"))
    low, high = quantity.show(least.low, "length", 3), quantity.show(best.high, "length", 2)
    hot = quantity.show(heat.high, "temperature")
    return {
        "gap_least": f"data sheet of the compound; people report {low}, others less",
        "gap_most": f"data sheet of the compound; people report {best.low:.2f} to {high} as best",
        "bond_shear": "data sheet of the compound, at this gap and heat",
        "bond_heat": f"data sheet of the compound; people report {heat.low:.0f} to {hot} by grade",
    }


def _gap(
    numbers: dict[str, Array],
    bonded: Bonded,
    d: Dimensions,
    of: tuple[Material, Material],
    bore: Array,
    spins: tuple[Spin, ...],
) -> None:
    """The gap as made and in every state, mm on the diameter."""
    hub, inner = of
    of_hub, of_inner = spins
    a = d["shaft_bore"] / 2.0 if bonded.hollow else np.zeros_like(d["shaft"])
    c = d["shaft"] / 2.0
    numbers["gap_as_made"] = d["hole"] - d["shaft"]
    opens = d["hole"] * (hub.strain - inner.strain)
    if np.any(of_hub.speed):
        hub_grows = of_hub.bore_growth(d["hole"] / 2.0, d["hub_outside"] / 2.0, hub.modulus)
        apart = 2.0 * (hub_grows - of_inner.outside_growth(a, c, inner.modulus))
        opens = opens + np.where(of_hub.speed == 0.0, 0.0, apart)
    numbers["opens_by"] = opens
    swells = 2.0 * bore * a * a / (inner.modulus * cylinder.ring_area(a, c))
    numbers["swells_by"] = np.where(bore > 0.0, d["shaft"] * swells, 0.0)
    numbers["gap"] = numbers["gap_as_made"] + opens - numbers["swells_by"]


def _strains(numbers: dict[str, Array], d: Dimensions, apart: Array) -> list[NotCovered]:
    """How far the bond is stretched and sheared, of its thickness; asked only where it is."""
    wide = np.maximum(numbers["gap_as_made"], 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        pull = np.maximum(numbers["opens_by"], 0.0) / wide
        slide = d["length"] * np.abs(apart) / wide
    still = np.abs(apart) < _NONE
    no_gap = (wide == 0.0) & np.ones_like(apart, dtype=bool)
    numbers["bond_pull"] = np.where(no_gap, np.nan, pull)
    numbers["bond_slide"] = np.where(no_gap, np.nan, np.where(still, 0.0, slide))
    opening = numbers["opens_by"] > _NONE
    numbers["pull_allowed"] = np.where(opening, d["bond_strain"], 0.0)
    numbers["slide_allowed"] = np.where(still, 0.0, d["bond_strain"])
    unknown = np.isnan(d["bond_strain"])
    reason = "how far the bond follows parts of different growth (bond_strain) is not given"
    none = "no gap as made"
    return [
        NotCovered("pull_allowed", reason, opening & unknown, "bond_strain"),
        NotCovered("slide_allowed", reason, ~still & unknown, "bond_strain"),
        NotCovered("bond_pull", none, no_gap),
        NotCovered("bond_slide", none, no_gap),
    ]


def _holding(numbers: dict[str, Array], bonded: Bonded, d: Dimensions, pressure: Array) -> None:
    """What the bond holds in shear and what it must hold, N and N*mm."""
    capacity = d["bond_shear"] * pi * d["shaft"] * d["length"] + 0.0 * pressure
    numbers["axial_capacity"] = capacity
    numbers["torque_capacity"] = capacity * d["shaft"] / 2.0
    sealed = d["thrust_diameter"] if bonded.thrust_diameter is not None else d["hole"]
    takes = bonded.ends in (None, "liner") or not bonded.hollow
    numbers["end_thrust"] = pi / 4.0 * sealed * sealed * pressure * float(takes)
    along = d["axial_load"] + numbers["end_thrust"]
    around = 2.0 * d["torque"] / d["shaft"]
    numbers["bond_demand"] = d["safety_bond"] * np.sqrt(along * along + around * around)


def _walls(
    numbers: dict[str, Array],
    bonded: Bonded,
    d: Dimensions,
    pressures: tuple[Array, Array],
    spins: tuple[Spin, ...],
) -> list[NotCovered]:
    """Comparison stress of the hub with the whole pressure at its hole, and of the inner part alone.

    The fluid in front of a solid part stands in the hub's hole all the same.
    """
    at_hole, bore = pressures
    load = loads.Load(d["axial_load"] + numbers["end_thrust"], d["torque"])
    of_hub, of_inner = spins
    numbers["hub_von_mises"] = _wall(d["hole"], d["hub_outside"], at_hole, of_hub, load)
    if not bonded.hollow:
        return []
    alone = _wall(d["shaft_bore"], d["shaft"], bore, of_inner, load)
    over = alone > numbers["shaft_allowed"]
    numbers["shaft_von_mises"] = np.where(over, np.nan, alone)
    reason = "the inner part alone would yield, and how far the bond supports it is not covered"
    return [NotCovered("shaft_von_mises", reason, over)]


def _wall(inside: Array, outside: Array, pressure: Array, spin: Spin, load: loads.Load) -> Array:
    """Von Mises of a ring under pressure in its bore, spinning, with the whole load; diameters.

    The stress of the bore is taken with the shear of the outside: the worst of both.
    """
    hoop, _ = cylinder.face_hoops(inside=inside / 2.0, outside=outside / 2.0, p_in=pressure, p_out=0.0)
    if np.any(spin.speed):
        hoop = hoop + spin.hoop_at_bore(inside / 2.0, outside / 2.0)
    section = loads.Section(inside / 2.0, outside / 2.0)
    return section.mises(-pressure, hoop, np.zeros_like(pressure), load, outside / 2.0)
