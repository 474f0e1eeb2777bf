"""Joining hot or cold and coming loose: temperatures, the gap and the clock.

Temperatures at which thermal strain opens a fit are read from tables of strain; the clock
is lumped cooling (``mechanics.cooling``) with the film's high end, so that it runs short.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from math import pi
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from fits.arrays import Array, Mask, distinct
from fits.features.feature import NotCovered
from fits.features.parts import no_expansion, temperature_of
from fits.features.press import bearing
from fits.materials.metals import ROOM, Metal
from fits.materials.thermal import Heat, heat_of
from fits.mechanics import cooling, cylinder, heat
from fits.sizes.limits import Limits

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Dimensions = Mapping[str, Array]

VALUES = frozenset(
    {
        "heat_hub_to",
        "chill_shaft_to",
        "hub_heated_to",
        "wanted_gap",
        "joining_gap",
        "seconds_in_air",
        "seconds_in_hole",
    }
)
# Joining clearance over the diameter: Zwickau formula sheet 6/6 (2013), eq. 14.
JOINING = 0.001
# Film of parts carried through still air, high end (values of textbook examples: Incropera
# ex. 5.5, Holman ex. 4-1: 10 to 20), W/(m^2 K).
STILL_AIR = 20.0
# Conductivity of warm air, W/(m K) (Incropera et al., Table A.4, 350 K: from memory).
AIR = 0.030
# By so many time constants whatever closes has closed: exp(-40) of a rise is none.
SURELY = 40.0


def temperatures(numbers: dict[str, Array], press: Press, d: Dimensions) -> list[NotCovered]:
    """Hub heated or inner part chilled until it goes in with the joining clearance."""
    numbers["wanted_gap"] = d["joining_clearance"] if press.joining_clearance else JOINING * d["hole"]
    wanted = np.maximum(numbers["interference"], 0.0) + numbers["wanted_gap"]
    strain = wanted / d["hole"]
    hot = temperature_of(d["hub_expansion_share"], press.hub_material, strain)
    cold = temperature_of(d["shaft_expansion_share"], press.shaft_material, -strain)
    numbers["heat_hub_to"], numbers["chill_shaft_to"] = hot, cold
    numbers["hub_heated_to"] = hot if press.heat_to is None else d["heat_to"]
    too_hot = f"heating the hub alone does not open the fit ({no_expansion(press.hub_material)})"
    too_cold = f"chilling the inner part alone does not open the fit ({no_expansion(press.shaft_material)})"
    return [
        NotCovered("heat_hub_to", too_hot, np.isnan(hot), beyond="greatest"),
        NotCovered("chill_shaft_to", too_cold, np.isnan(cold), beyond="least"),
    ]


def spoils(press: Press) -> bool:
    """Whether heating the hub alone asks for more than its temper stands, at the tightest."""
    ceiling = bearing.ceiling(press, press.hub_material.heating_limit)
    hole, shaft = press.hole, press.shaft
    if not (isinstance(hole, Limits) and isinstance(shaft, Limits)) or np.isnan(ceiling):
        return False
    clearance = press.joining_clearance.high if press.joining_clearance else JOINING * hole.lower
    wanted = max(shaft.upper - hole.lower + _coat(press), 0.0) + clearance
    return bool(press.hub_material.strain_at(np.array([ceiling]))[0] * hole.lower < wanted)


def _coat(press: Press) -> float:
    """How much a coat closes the hole, at most, mm."""
    if press.coating_hole is None or press.coating_share is None:
        return 0.0
    return 2.0 * press.coating_hole.high * press.coating_share.high


def release(numbers: dict[str, Array], press: Press, d: Dimensions) -> list[NotCovered]:
    """The temperature of both parts at which nothing is left of the interference."""
    left = np.maximum(numbers["interference"] - numbers["roughness_loss"], 0.0) / d["hole"]
    found = np.full(np.broadcast_shapes(left.shape, d["hub_expansion_share"].shape), np.nan)
    for hub_share in _ends(press.hub_material):
        for shaft_share in _ends(press.shaft_material):
            here = _release_at(left, press, hub_share, shaft_share)
            chosen = ((d["hub_expansion_share"] > 0.5) == (hub_share > 0.5)) & (
                (d["shaft_expansion_share"] > 0.5) == (shaft_share > 0.5)
            )
            found = np.where(chosen, here, found)
    numbers["release_temperature"] = found
    reason = "release: stays tight as far as the expansion of both parts is known"
    return [NotCovered("release_temperature", reason, np.isnan(found), beyond=_beyond(found))]


def _beyond(found: Array) -> Literal["", "least", "greatest"]:
    """Which end of the temperatures isn't known: a fit that opens in the cold opens further down."""
    hot, cold = bool((found > ROOM).any()), bool((found < ROOM).any())
    if hot == cold:
        return ""
    return "greatest" if hot else "least"


def _ends(metal: Metal) -> tuple[float, ...]:
    return (0.0, 1.0) if metal.scatters else (0.0,)


def _release_at(left: Array, press: Press, hub_share: float, shaft_share: float) -> Array:
    hub_t, hub_strain = press.hub_material.strain_table(hub_share)
    shaft_t, shaft_strain = press.shaft_material.strain_table(shaft_share)
    low, high = max(hub_t[0], shaft_t[0]), min(hub_t[-1], shaft_t[-1])
    every = distinct(np.concatenate((hub_t, shaft_t)))
    every = every[(every >= low) & (every <= high)]
    opening = np.interp(every, hub_t, hub_strain) - np.interp(every, shaft_t, shaft_strain)
    warm, cold = every >= ROOM, every <= ROOM
    up = heat.first_reach(left, every[warm], opening[warm])
    down = heat.first_reach(left, every[cold][::-1], opening[cold][::-1])
    return np.where(np.isnan(up), down, up)


class _Part(NamedTuple):
    """One part while it is joined: metal, share of its expansion, heat, radii (mm)."""

    metal: Metal
    share: Array
    start: Array
    heat: Heat
    inside: Array
    outside: Array

    @property
    def specific_heat(self) -> float:
        cold = self.heat.specific_heat_cold
        return cold if cold is not None and bool(np.min(self.start) < ROOM) else self.heat.specific_heat

    @property
    def per_length(self) -> Array:
        """Heat capacity per length, J/(K m)."""
        density = np.nan if self.metal.density is None else self.metal.density
        area = pi * (self.outside - self.inside) * (self.outside + self.inside) * 1e-6
        return np.asarray(density * self.specific_heat * area)

    @property
    def in_air(self) -> Array:
        """Time constant in still air, s."""
        density = np.nan if self.metal.density is None else self.metal.density
        depth = cooling.wall_depth(self.inside, self.outside)
        return cooling.time_constant(depth, density, self.specific_heat, STILL_AIR)

    def strain(self, temperature: Array) -> Array:
        return self.metal.strain_at(temperature, self.share)


def clock(numbers: dict[str, Array], press: Press, d: Dimensions, joint: cylinder.Joint) -> list[NotCovered]:
    """The gap when the parts come together hot and cold, and how long it lasts."""
    if press.heat_to is None and press.chill_to is None:
        return []
    room = np.full_like(d["hole"], ROOM)
    hub_start = room if press.heat_to is None else d["heat_to"]
    inner_start = room if press.chill_to is None else d["chill_to"]
    unknown = _unknown(press)
    none = Heat(np.nan, None, np.nan, press.hub_material.source)
    hub_heat, inner_heat = (heat_of(m.called) or none for m in (press.hub_material, press.shaft_material))
    hub = _Part(press.hub_material, d["hub_expansion_share"], hub_start, hub_heat, joint.c, joint.b)
    inner = _Part(press.shaft_material, d["shaft_expansion_share"], inner_start, inner_heat, joint.a, joint.c)

    def gap(of_hub: Array, of_inner: Array) -> Array:
        opened = d["hole"] * (hub.strain(of_hub) - inner.strain(of_inner))
        return np.asarray(opened - numbers["interference"])

    numbers["joining_gap"] = at_first = gap(hub_start, inner_start)
    loose = np.broadcast_to(numbers["interference"] <= 0.0, at_first.shape)
    cold = np.isnan(inner.strain(inner_start)) & np.ones_like(loose)
    hot = np.isnan(hub.strain(hub_start)) & np.ones_like(loose)
    gaps = [NotCovered("joining_gap", no_expansion(hub.metal), hot)]
    gaps.append(NotCovered("joining_gap", no_expansion(inner.metal), cold))
    gaps += [NotCovered("seconds_in_air", "a clearance fit: it does not grip", loose, beyond="greatest")]
    gaps.append(replace(gaps[-1], about="seconds_in_hole"))
    if unknown:
        every = np.ones_like(at_first, dtype=bool)
        numbers["seconds_in_air"] = numbers["seconds_in_hole"] = np.full_like(at_first, np.nan)
        return [*gaps, *(NotCovered(name, unknown, every) for name in ("seconds_in_air", "seconds_in_hole"))]

    def later(time: Array) -> Array:
        return gap(
            ROOM + (hub_start - ROOM) * np.exp(-time / hub.in_air),
            ROOM + (inner_start - ROOM) * np.exp(-time / inner.in_air),
        )

    latest = SURELY * np.maximum(hub.in_air, inner.in_air)
    shape = np.broadcast_shapes(latest.shape, at_first.shape)
    open_until = cooling.last_open(later, np.broadcast_to(latest, shape))
    numbers["seconds_in_air"] = np.where(loose, np.nan, open_until)
    return [*gaps, *_inside(numbers, hub, inner, joint, gap, loose)]


def _inside(
    numbers: dict[str, Array],
    hub: _Part,
    inner: _Part,
    joint: cylinder.Joint,
    gap: Callable[[Array, Array], Array],
    loose: Mask,
) -> list[NotCovered]:
    """Seconds once the inner part is in the hole, both parts seeking one temperature."""
    of_hub, of_inner = hub.per_length, inner.per_length
    both = of_hub + of_inner
    mean = (of_hub * hub.start + of_inner * inner.start) / both
    at_first = numbers["joining_gap"]
    seconds, at = cooling.closes_inside(
        lambda x: gap(mean + x * of_inner / both, mean - x * of_hub / both),
        np.broadcast_to(hub.start - inner.start, at_first.shape),
        of_hub * of_inner / both,
        2.0 * pi * joint.c * 1e-3,
        AIR,
    )
    open_ = at_first > 0.0
    # The mean film: half of the radial gap at the start.
    film = AIR / (np.where(open_, at_first, 1.0) / 4.0 * 1e-3)
    face = 2.0 * joint.c
    wide = np.zeros_like(at_first, dtype=bool)
    for part in (hub, inner):
        depth = (part.outside - part.inside) * (part.outside + part.inside) / face
        wide = wide | (cooling.biot(depth, film, part.heat.conductivity) > cooling.LARGEST_BIOT)
    wide = wide & open_ & ~loose
    stays = np.isnan(at) & open_ & ~loose & ~wide
    numbers["seconds_in_hole"] = np.where(open_, np.where(wide | loose, np.nan, seconds), 0.0)
    numbers["seconds_in_hole"] = np.where(loose, np.nan, numbers["seconds_in_hole"])
    thick = "in the hole: a wall too thick for one temperature (Biot number above 0.1); put it home at once"
    even = "in the hole: still open when both are at one temperature"
    return [
        NotCovered("seconds_in_hole", thick, wide),
        NotCovered("seconds_in_hole", even, stays, beyond="greatest"),
    ]


def _unknown(press: Press) -> str:
    """What is missing for the clock, or an empty text."""
    for metal, chilled in ((press.hub_material, False), (press.shaft_material, press.chill_to is not None)):
        found = heat_of(metal.called)
        if found is None or metal.density is None:
            return f"clock: no specific heat, conductivity or density of {metal.name} in the table"
        if chilled and found.specific_heat_cold is None:
            return f"clock: no specific heat of {metal.name} in the cold"
    return ""
