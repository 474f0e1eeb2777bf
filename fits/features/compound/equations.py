"""The numbers of a compound, from its dimensions and states.

Every interface and every layer is computed in every corner; the dimensions ``interface``
and ``layer`` then say of which one a corner speaks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import pi
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from fits.arrays import Array
from fits.features import lasting
from fits.features.compound import joining
from fits.features.feature import NotCovered, Outcome, States
from fits.features.parts import Material, material, wanted
from fits.mechanics import cylinder, loads
from fits.mechanics.layers import INSIDE, Built, Stack
from fits.mechanics.spin import Spin

if TYPE_CHECKING:
    from fits.features.compound.declaration import Compound

    Dimensions = Mapping[str, Array]

# Diametral loss over the sum of both Rz, the cautious figure of DIN 7190:2001 (from memory).
SMOOTHING = 0.8


class _Whole(NamedTuple):
    """The layers as they are: rings, metals in every state, speed, pressures at every interface."""

    stack: Stack
    metals: tuple[Material, ...]
    spins: tuple[Spin, ...]
    pressures: tuple[Array, ...]
    bore: Array
    unknown: Array


def compute(of: Compound, d: Dimensions, s: States) -> Outcome:
    """Every number of a compound; see :meth:`Feature.compute`."""
    numbers: dict[str, Array] = {}
    metals, gaps = _metals(of, d, s)
    gaps += _missing(of, d, s)
    cut = [(d[f"layers.{k}.inside"] / 2.0, d[f"layers.{k}.outside"] / 2.0) for k, _ in enumerate(of.rings, 1)]
    radii = (*(inside for inside, _ in cut), cut[-1][1])
    poisson = tuple(layer.material.poisson for layer in of.rings)
    stack = Stack(radii, tuple(one.modulus for one in metals), poisson)
    at_room = Stack(radii, tuple(one.modulus[..., -1:] for one in metals), poisson)
    built = at_room.built(cut, of.joints, of.finished)
    speed = s.speed * d["speed_share"]
    spins = tuple(
        Spin(
            layer.material.poisson,
            np.nan if layer.material.density is None else layer.material.density,
            speed,
        )
        for layer in of.rings
    )
    fluid = s.pressure * d["pressure_share"]
    bore = fluid if of.hollow else np.zeros_like(fluid)
    fits = _fits(numbers, of, d, stack, metals, spins, built)
    dry = stack.contacts(fits)
    numbers["effective_interference"] = at(d["interface"], [2.0 * one for one in stack.acting(fits)])
    wet = stack.contacts(fits, bore)
    closed, unknown = _ends(of, s)
    gaps += closed
    whole = _Whole(stack, metals, spins, tuple(one + unknown for one in wet.pressures), bore, unknown)
    numbers["contact_pressure"] = at(d["interface"], whole.pressures)
    numbers["fluid_pressure"] = fluid
    _holding(numbers, d, stack, dry.pressures, whole.pressures)
    stresses = _stresses(numbers, of, d, whole)
    gaps += _contact_with_fluid(numbers, of, d, metals, stresses)
    _diameters(numbers, of, d, whole, built)
    gaps += joining.temperatures(numbers, of, d, built)
    gaps += lasting.temper(numbers, (layer.material for layer in of.rings), s)
    gaps += lasting.cracking(numbers, [layer.material for layer in of.rings[1:]], len(s.names))
    return Outcome(numbers, tuple(gap for gap in gaps if gap.mask.any()))


def at(place: Array, arrays: Sequence[Array]) -> Array:
    """The array of the layer or interface that each corner speaks of."""
    found = arrays[0]
    for k, one in enumerate(arrays[1:], 1):
        found = np.where(place > k - 0.5, one, found)
    return found


def _metals(of: Compound, d: Dimensions, s: States) -> tuple[tuple[Material, ...], list[NotCovered]]:
    """Every layer's metal in every state; a layer's own temperature is known at both ends only."""
    found, gaps = [], []
    apart = s.hub_temperature != s.shaft_temperature
    last = len(of.rings) - 1
    for k, layer in enumerate(of.rings):
        between = 0 < k < last
        hotter = np.maximum(s.hub_temperature, s.shaft_temperature)
        temperature = hotter if between else s.shaft_temperature if k == 0 else s.hub_temperature
        one = material(f"layer_{k + 1}", layer.material, temperature, d, d["safety_yield"])
        if between and np.any(apart):
            one = one._replace(strain=np.where(apart, np.nan, one.strain))
            reason = f"layer {k + 1}: its temperature between two different ones is not known"
            gaps.append(NotCovered("strain", reason, apart))
        here = (d["layer"] > k - 0.5) & (d["layer"] < k + 0.5 if k < last else True)
        for gap in one.gaps:
            about = gap.about.removeprefix(f"layer_{k + 1}_")
            if about == "yield" and layer.material.brittle:
                continue
            mask = gap.mask & here if about == "yield" else gap.mask
            gaps.append(replace(gap, about=about, reason=f"layer {k + 1}: {gap.reason}", mask=mask))
        if layer.material.brittle:
            one, more = _brittle(k, one, of, temperature)
            gaps += [replace(gap, mask=gap.mask & here) for gap in more]
        if layer.material.density is None:
            reason = f"layer {k + 1}: {layer.material.name}: no density"
            gaps.append(NotCovered("density", reason, s.speed != 0.0))
        found.append(one)
    return tuple(found), gaps


def _brittle(k: int, one: Material, of: Compound, temperature: Array) -> tuple[Material, list[NotCovered]]:
    """A brittle layer is held against half its ultimate strength, known near room temperature."""
    metal = of.rings[k].material
    ultimate = np.nan if metal.ultimate is None else metal.ultimate
    beyond = (temperature < 0.0) | (temperature > (metal.max_service or 100.0))
    if "ultimate_strength" in metal.typed:
        beyond = np.zeros_like(beyond)
    unknown = beyond | (metal.ultimate is None)
    reason = f"layer {k + 1}: {metal.name}: no ultimate strength{'' if metal.ultimate is None else ' there'}"
    return one._replace(allowed=ultimate / 2.0 + 0.0 * temperature), [NotCovered("ultimate", reason, unknown)]


def _missing(of: Compound, d: Dimensions, s: States) -> list[NotCovered]:
    """Inputs that were not given."""
    every = np.ones(len(s.names), dtype=bool)
    found = []
    rough = [name for name in ("roughness_hole", "roughness_shaft") if getattr(of, name) is None]
    if rough:
        reason = f"{' and '.join(rough)} not given (values are shown without any loss to roughness)"
        found.append(NotCovered("roughness_loss", reason, every, "roughness_loss"))
    if np.isnan(d["friction_hold"]).all():
        found.append(NotCovered("friction_hold", "friction_hold not given", every, "friction_hold"))
    if np.isnan(d["length"]).all():
        found.append(NotCovered("length", "length not given", every, "length"))
    return found


def _ends(of: Compound, s: States) -> tuple[list[NotCovered], Array]:
    """Ends that aren't open: the reason, and NaN where the numbers of open ends say nothing."""
    pressed = s.pressure > 0.0
    none = np.zeros_like(s.pressure)
    if not of.hollow:
        reason = "a solid first layer has no bore: where the pressure acts is not covered"
        return [NotCovered("ends", reason, pressed)], none
    if of.ends == "open":
        return [], none
    if of.ends is None:
        reason = (
            "ends not given: several layers are computed with open ends only, and an end thrust that "
            "a layer takes changes every contact pressure"
        )
        return [NotCovered("ends", reason, pressed)], none
    reason = f"ends {of.ends}: several layers are computed with open ends only, free to slide"
    mask = np.ones_like(pressed) if of.ends == "stuck" else pressed
    return [NotCovered("ends", reason, mask)], np.where(mask, np.nan, none)


def _fits(
    numbers: dict[str, Array],
    of: Compound,
    d: Dimensions,
    stack: Stack,
    metals: Sequence[Material],
    spins: Sequence[Spin],
    built: Built,
) -> list[Array]:
    """Radial interference of every interface as it acts, all losses taken off."""
    heat, lost, rough, fits = [], [], [], []
    given = of.roughness_hole is not None and of.roughness_shaft is not None
    for j in stack.interfaces:
        hole = d[f"layers.{j + 2}.inside"]
        heat.append(hole * (metals[j].strain - metals[j + 1].strain))
        opening = np.zeros_like(spins[j].speed)
        if np.any(spins[j].speed):
            a, c, b = stack.radii[j : j + 3]
            opening = spins[j + 1].bore_growth(c, b, stack.moduli[j + 1])
            opening = opening - spins[j].outside_growth(a, c, stack.moduli[j])
        lost.append(2.0 * opening)
        if given:
            depth = d["roughness_hole"] + d["roughness_shaft"]
            rough.append(d[f"roughness_share_{j + 1}"] * SMOOTHING * depth / 1000.0)
        else:
            rough.append(d["roughness_loss"])
        fits.append(built.free[j] + (heat[j] - lost[j] - rough[j]) / 2.0)
    numbers["interference"] = at(d["interface"], [2.0 * one for one in built.free])
    numbers["joining_interference"] = at(d["interface"], [2.0 * one for one in built.joining])
    numbers["heat_gain"] = at(d["interface"], heat)
    numbers["speed_loss"] = at(d["interface"], lost)
    numbers["roughness_loss"] = at(d["interface"], rough)
    return fits


def _holding(
    numbers: dict[str, Array], d: Dimensions, stack: Stack, dry: Sequence[Array], wet: Sequence[Array]
) -> None:
    """What every interface holds, and what it must hold: the load goes through all of them."""
    capacity, turning, demand = [], [], []
    for j in stack.interfaces:
        hole = d[f"layers.{j + 2}.inside"]
        # Pressure in the bore helps the grip and is not relied on.
        grip = np.minimum(dry[j], wet[j])
        capacity.append(d["friction_hold"] * grip * pi * hole * d["length"])
        turning.append(capacity[j] * hole / 2.0)
        around = 2.0 * d["torque"] / hole
        demand.append(d["safety_slip"] * np.sqrt(d["axial_load"] * d["axial_load"] + around * around))
    numbers["axial_capacity"] = at(d["interface"], capacity)
    numbers["torque_capacity"] = at(d["interface"], turning)
    numbers["slip_demand"] = at(d["interface"], demand)


def _stresses(numbers: dict[str, Array], of: Compound, d: Dimensions, whole: _Whole) -> list[Array]:
    """Hoop and comparison stresses of every layer; returns the comparison stresses."""
    hoops: tuple[list[Array], list[Array]] = ([], [])
    mises, tension = [], []
    load = loads.Load(d["axial_load"], d["torque"])
    for k, layer in enumerate(of.rings):
        inside, outside = whole.stack.radii[k : k + 2]
        p_in, p_out = whole.stack.between(k, whole.pressures, whole.bore)
        solid = k == 0 and not of.hollow
        at_in, at_out = cylinder.face_hoops(inside=inside, outside=outside, p_in=p_in, p_out=p_out)
        radial = -p_in
        if solid:
            at_in, radial = -p_out, -p_out
        if np.any(whole.spins[k].speed):
            spin = whole.spins[k]
            at_out = at_out + spin.hoop_outside(inside, outside)
            more = spin.centre_of_solid(outside) if solid else spin.hoop_at_bore(inside, outside)
            at_in, radial = at_in + more, radial + (more if solid else 0.0)
        section = loads.Section(inside, outside)
        none = np.zeros_like(at_in)
        one = np.maximum(
            section.mises(radial, at_in, none, load, inside),
            section.mises(-p_out, at_out, none, load, outside),
        )
        hoops[0].append(at_in)
        hoops[1].append(at_out)
        mises.append(one)
        largest = np.maximum(np.maximum(at_in, at_out), d["axial_load"] / section.area)
        tension.append(largest if layer.material.brittle else one)
    numbers["hoop_inside"], numbers["hoop_outside"] = (at(d["layer"], one) for one in hoops)
    numbers["von_mises"] = at(d["layer"], mises)
    numbers["stress"] = at(d["layer"], tension)
    numbers["allowed"] = at(d["layer"], [one.allowed for one in whole.metals])
    return tension


def _contact_with_fluid(
    numbers: dict[str, Array],
    of: Compound,
    d: Dimensions,
    metals: Sequence[Material],
    stresses: Sequence[Array],
) -> list[NotCovered]:
    """Where a layer yields in any state, the elastic contact pressure is not there any more."""
    numbers["contact_with_fluid"] = numbers["contact_pressure"]
    yields = np.zeros(1, dtype=bool)
    for one, stress, layer in zip(metals, stresses, of.rings, strict=True):
        factor = 1.0 if layer.material.brittle else d["safety_yield"]
        yields = yields | (stress > one.allowed * factor)
    every = np.broadcast_to(yields.any(axis=-1, keepdims=True), yields.shape)
    reason = "a layer yields: whether fluid gets between is not covered"
    return [NotCovered("contact_with_fluid", reason, every)]


def _diameters(numbers: dict[str, Array], of: Compound, d: Dimensions, whole: _Whole, built: Built) -> None:
    """How much the bore closes and the outside grows, and the bore in every state."""
    _, outside = _growth(whole, len(of.rings) - 1)
    numbers["outside_growth"] = 2.0 * outside
    if not of.hollow:
        return
    inside, _ = _growth(whole, 0)
    numbers["bore_closure"] = -2.0 * inside
    free = d["layers.1.inside"] - (2.0 * built.bore if (0, INSIDE) in of.finished else 0.0)
    numbers["bore_in_state"] = free * (1.0 + whole.metals[0].strain) - numbers["bore_closure"]
    numbers["fitted_bore"] = numbers["bore_in_state"][..., -1:]
    if of.bore_after is not None:
        ends = wanted(of.bore_after, d["bore_after"])
        numbers["bore_after_least"], numbers["bore_after_most"] = ends


def _growth(whole: _Whole, ring: int) -> tuple[Array, Array]:
    """Radial growth of a layer's faces under its pressures and speed, mm."""
    stack, spin = whole.stack, whole.spins[ring]
    inside, outside = stack.growth(ring, *stack.between(ring, whole.pressures, whole.bore))
    if np.any(spin.speed):
        a, b = stack.radii[ring : ring + 2]
        inside = inside + spin.bore_growth(a, b, stack.moduli[ring])
        outside = outside + spin.outside_growth(a, b, stack.moduli[ring])
    return inside, outside
