"""The numbers of a gland, from its dimensions and states."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered, Outcome, States
from fits.features.gland import tabled
from fits.features.gland.allowed import allowed
from fits.features.gland.groove import cut
from fits.features.gland.loop import Around, Loop
from fits.features.parts import Material, material, wall_factor
from fits.mechanics import cylinder, ring

if TYPE_CHECKING:
    from fits.features.gland.declaration import Gland

# The air around a vacuum, MPa (standard atmosphere).
AIR = 0.101325
# A groove of less volume is none, mm^3.
NO_ROOM = 1e-3
# Silicones are torn easily and take half of the chart's gap.
SILICONES = ("VMQ", "PVMQ", "FVMQ")


def compute(gland: Gland, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
    """Every number of a gland; see :meth:`Feature.compute`."""
    factor = d["safety_yield"]
    hub = material("hub", gland.hub_material, s.hub_temperature, d, factor)
    shaft = hub
    if gland.radial:
        shaft = material("shaft", gland.shaft_material, s.shaft_temperature, d, factor)  # type: ignore[attr-defined]
    pressed = s.pressure > 0.0
    around = Around(hub, shaft, s.pressure * d["pressure_share"], pressed)
    gaps = [*_metal_gaps(gland, s, hub, shaft)]
    loop: Loop = gland.loop(d, s, around)
    numbers: dict[str, Array] = {"gland_depth": loop.depth, "fluid_pressure": around.pressure}
    _squeeze(numbers, gland, d, s, loop, gaps)
    _gap(numbers, gland, d, s, loop, around, gaps)
    allowed(numbers, gland, d, s, gaps)
    _contact(numbers, gland, d, loop, gaps)
    if gland.leaks_gas:
        _permeation(numbers, gland, d, s, loop, around, gaps)
    cut(numbers, gland, d, s, loop, around, gaps)
    if gland.radial:
        _bore(numbers, gland, d, s, loop, around, gaps)
    else:
        _cover(numbers, gland, d, loop, around, gaps)
    return Outcome(numbers, tuple(gap for gap in gaps if np.any(gap.mask)))


def _metal_gaps(gland: Gland, s: States, hub: Material, shaft: Material) -> list[NotCovered]:
    """Gaps of the metals it is made of; a modulus matters only under pressure."""
    found = []
    own = getattr(gland, "own_wall", True)
    for of in (*((hub,) if own else ()), *((shaft,) if gland.radial else ())):
        for gap in of.gaps:
            if gap.about.endswith("_modulus"):
                gap = NotCovered(gap.about, gap.reason, gap.mask & (s.pressure > 0.0))
            found.append(gap)
    return found


def _in_service(s: States) -> Array:
    """1 in every state, 0 as made: swell and set come with service."""
    service = np.ones(len(s.names))
    service[-1] = 0.0
    return service


def _known(array: Array) -> Array:
    """A number, 0 where it wasn't given (its mildest)."""
    return np.where(np.isfinite(array), array, 0.0)


def _squeeze(
    numbers: dict[str, Array],
    gland: Gland,
    d: Mapping[str, Array],
    s: States,
    loop: Loop,
    gaps: list[NotCovered],
) -> None:
    """Ring to temperature and swell, then onto its seat, then squeezed, then set."""
    service = _in_service(s)
    temperature = s.hub_temperature + d["ring_temperature_share"] * (s.shaft_temperature - s.hub_temperature)
    strain = gland.elastomer.strain_at(temperature, d["ring_expansion_share"])
    if np.isnan(strain).any():
        reason = f"{gland.elastomer.name}: no expansion is known"
        gaps.append(NotCovered("elastomer", reason, np.isnan(strain)))
    swell = _known(d["swell"])
    grown = ring.grown(strain, swell * d["swell_share"] * service)
    inside, section = d["ring.inside"] * grown, d["ring.section"] * grown
    least, most = _sections(numbers, gland, inside, section, loop, gaps)
    end = d["ring_end"]
    numbers["ring_temperature"] = temperature + 0.0 * end
    numbers["ring_section"] = least + end * (most - least)
    # Set is earned swollen and without pressure, whatever else this corner has: a section
    # grows with at most the power 3/2 of the ring on a seat that doesn't.
    swollen = ring.grown(strain, np.maximum(swell, 0.0) * service) / grown
    deepest = most * swollen * np.sqrt(swollen) - (loop.depth - loop.opened - loop.shift)
    depth = numbers["ring_section"] - loop.depth - (1.0 - 2.0 * end) * loop.shift
    numbers["squeeze_depth"] = depth
    numbers["squeeze"] = depth / section
    # Radii that meet leave no groove: then anything overfills it.
    numbers["fill"] = ring.volume(inside, section) / np.maximum(loop.volume, NO_ROOM)
    made = d["ring.section"] - loop.depth[..., -1:]
    numbers["fresh_squeeze_depth"] = made
    numbers["fresh_squeeze"] = made / d["ring.section"]
    hottest = np.zeros_like(deepest[..., :1])
    for column in range(len(s.names) - 1):
        hottest = np.maximum(hottest, deepest[..., column : column + 1])
    # A sum is NaN where a number is.
    if np.isnan(hottest.sum()):
        reason = "set: the deepest squeeze of all states isn't known"
        gaps.append(NotCovered("squeeze_left", reason, np.isnan(hottest) & (service > 0.0)))
    numbers["squeeze_left"] = depth - _known(d["compression_set"]) * hottest * service
    _asked_of_the_rubber(gland, d, service, gaps)


def _asked_of_the_rubber(
    gland: Gland, d: Mapping[str, Array], service: Array, gaps: list[NotCovered]
) -> None:
    """Swell and set that weren't typed: asked, with what tests of the family gave."""
    lasting = service > 0.0
    if "backup_rings" in d and np.isnan(d["backup_rings"] * d["backup_thickness"]).any():
        every = np.ones(len(service), dtype=bool)
        gaps.append(NotCovered("backup_thickness", "backup_thickness not given", every, "backup_thickness"))
    rubber = gland.elastomer
    if np.isnan(d["compression_set"]).any():
        tests = "; ".join(f"{_percent(one)} {one.test}" for one in rubber.sets()[:2])
        reason = f"compression_set not given{f' ({rubber.material} in tests: {tests})' if tests else ''}"
        gaps.append(NotCovered("compression_set", reason, lasting, "compression_set"))
    if np.isnan(d["swell"]).any():
        known = rubber.swell(gland.fluid) if gland.fluid else None
        seen = f" ({rubber.material}: {_percent(known)}, {known.test})" if known else ""
        gaps.append(NotCovered("swell", f"swell not given{seen}", lasting, "swell"))


def _percent(known: Any) -> str:
    low, high = 100.0 * known.low, 100.0 * known.high
    return f"{low:g} %" if low == high else f"{low:g} to {high:g} %"


def _sections(
    numbers: dict[str, Array],
    gland: Gland,
    inside: Array,
    section: Array,
    loop: Loop,
    gaps: list[NotCovered],
) -> tuple[Array, Array]:
    """The section on its seat, least and most; stretch and outside compression on the way.

    Least by the measured curve, most at constant volume; a ring loose on its seat is
    credited nothing, one pressed into its wall gets thicker. Where there is a wall its thickest
    is never below the free section: else it would jump where the ring just reaches the wall.
    """
    least = most = section
    if loop.seat is not None or loop.wall is None:
        seat = loop.seat if loop.seat is not None else loop.middle - section
        stretched = ring.stretch(seat, inside)
        numbers["stretch"] = stretched
        thinned = _thinned(section, stretched, gaps)
        least = thinned
        if loop.wall is None:
            most = ring.section_on_seat(section, inside, seat)
    if loop.wall is not None:
        pressed = ring.outside_compression(loop.wall, inside, section)
        numbers["outside_compression"] = pressed
        if loop.seat is None:
            # Blown out to its wall, a ring that doesn't reach it is stretched to it.
            numbers["stretch"] = np.maximum(-pressed, 0.0)
            least = _thinned(section, numbers["stretch"], gaps)
        thick = ring.section_in_wall(section, inside, loop.wall)
        most = np.where(pressed > 0.0, thick, most)
    elif gland.tabled_as == "face":
        numbers["outside_compression"] = np.zeros_like(section)
    return least, most


def _thinned(section: Array, stretched: Array, gaps: list[NotCovered]) -> Array:
    """The section across the squeeze by the measured curve; not covered beyond its end."""
    beyond = stretched > ring.CURVE_END
    if beyond.any():
        reason = "stretched by more than 25 %: beyond the curve of section loss"
        gaps.append(NotCovered("ring_section", reason, np.asarray(beyond)))
    return section * (1.0 - ring.loss_by_curve(stretched))


def _gap(
    numbers: dict[str, Array],
    gland: Gland,
    d: Mapping[str, Array],
    s: States,
    loop: Loop,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """The gap in the state, and what the chart allows."""
    rubber = gland.elastomer
    numbers["extrusion_gap"] = loop.gap
    allowed = tabled.largest_gap(around.pressure, rubber.hardness, gland.ring.section.nominal)
    if rubber.material in SILICONES:
        allowed = allowed / 2.0
    pressed = around.pressed
    every = np.ones(len(s.names), dtype=bool)
    why = [
        (s.pressure > tabled.chart_end(), f"the chart ends at {tabled.chart_end():.1f} MPa"),
        (numbers["ring_temperature"] > tabled.CHART_HOTTEST, "the chart ends at 71 degC (from memory)"),
        (
            every & (not tabled.SOFT <= rubber.hardness <= tabled.HARD),
            f"{rubber.hardness:g} Shore A: the chart has 70 to 90",
        ),
        (
            (d["backup_rings"] > 0.0) & every,
            "with a backup ring a larger gap is allowed, but no number was found",
        )
        if "backup_rings" in d
        else (every & False, ""),
    ]
    for where, reason in why:
        where = np.asarray(where & pressed)
        if where.any():
            gaps.append(NotCovered("gap_allowed", reason, where))
            allowed = np.where(where, np.nan, allowed)
    numbers["gap_allowed"] = allowed


def _contact(
    numbers: dict[str, Array], gland: Gland, d: Mapping[str, Array], loop: Loop, gaps: list[NotCovered]
) -> None:
    """Contact stress and closing load as made, free at the sides, modulus 30 % either way."""
    share, section = numbers["fresh_squeeze"], d["ring.section"]
    modulus = gland.elastomer.modulus()
    every = np.ones(loop.depth.shape[-1], dtype=bool)
    if modulus is None:
        numbers["peak_contact_stress"] = numbers["closing_load"] = share * np.nan
        reason = f"{gland.elastomer.name}: hardness is turned to a modulus from 30 to 80 Shore A only"
        gaps += [NotCovered(name, reason, every) for name in ("peak_contact_stress", "closing_load")]
        return
    low = ring.line_load(share, section, np.asarray(modulus.low))
    high = ring.line_load(share, section, np.asarray(modulus.high))
    numbers["peak_contact_stress"] = ring.contact(low, section, np.asarray(modulus.low))[1]
    numbers["closing_load"] = np.pi * loop.middle[..., -1:] * high
    if np.isnan(low.sum()):
        reason = "squeezed by more than 30 %: Lindley's load ends there"
        gaps += [
            NotCovered(name, reason, np.isnan(low) & every)
            for name in ("peak_contact_stress", "closing_load")
        ]


def _permeation(
    numbers: dict[str, Array],
    gland: Gland,
    d: Mapping[str, Array],
    s: States,
    loop: Loop,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """Gas that gets through the rubber itself; into a vacuum the air drives it."""
    drives = around.pressure + (AIR if gland.medium == "vacuum" else 0.0)
    lost = ring.permeation(d["permeability"], loop.middle, numbers["squeeze"], drives)
    numbers["permeation"] = lost
    if np.isnan(d["permeability"]).any():
        reason = "permeability of the rubber for the gas not given: loss by permeation unknown"
        gaps.append(NotCovered("permeation", reason, _in_service(s) > 0.0, "permeability"))


def _bore(
    numbers: dict[str, Array],
    gland: Any,
    d: Mapping[str, Array],
    s: States,
    loop: Loop,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """What only a bore and a member have: wall, lead-in, rubbing."""
    bottom = loop.wall if gland.form == "rod" else loop.seat
    assert bottom is not None
    numbers["groove_diameter"] = bottom[..., -1:]
    still = np.zeros_like(loop.depth)
    # On another feature's surface the wall is judged there.
    if loop.growth is not None and loop.stressed is not None:
        numbers["bore_growth"] = loop.growth + still
        _wall(numbers, gland, d, s, loop.stressed, around, gaps)
    one = np.ones((1, 1))
    numbers["lead_in_length"] = d["lead_in"] * one
    numbers["lead_in_least"] = one * tabled.lead_in(gland.lead_in_angle, gland.ring.section.nominal)
    made = np.zeros(len(s.names), dtype=bool)
    made[-1] = True
    if np.isnan(d["lead_in"]).any():
        gaps.append(NotCovered("lead_in_length", "lead_in not given", made, "lead_in"))
    if np.isnan(numbers["lead_in_least"]).any():
        gaps.append(NotCovered("lead_in_least", "no lead-in is printed for so thick a ring", made))
    rubbed = d["rod"] if gland.form == "rod" else d["bore"]
    numbers["rubbing_speed"] = s.speed * d["speed_share"] * rubbed / 2000.0 + still
    if gland.duty == "rotary":
        turning = np.broadcast_to(s.speed == 0.0, np.shape(s.speed))
        never = turning & (not np.any(s.speed))
        gaps.append(NotCovered("rubbing_speed", "no state says how fast it turns (500 rpm)", never))


def _wall(
    numbers: dict[str, Array],
    gland: Any,
    d: Mapping[str, Array],
    s: States,
    bore: Array,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """Stress of the wall that breathes, and what is allowed."""
    hoop, _ = cylinder.face_hoops(inside=bore, outside=d["hub_outside"], p_in=around.pressure, p_out=0.0)
    stress = cylinder.von_mises(-around.pressure, hoop, 0.0 * around.pressure)
    numbers["wall_von_mises"] = np.where(around.pressed, stress, 0.0)
    numbers["wall_allowed"] = around.hub.allowed / wall_factor(s)
    if gland.hub_outside is None:
        reason = "hub_outside not given: growth and stress of the wall under pressure unknown"
        gaps.append(NotCovered("bore_growth", f"{reason}, shown without", around.pressed, "hub_outside"))
        gaps.append(NotCovered("wall_von_mises", reason, around.pressed, "hub_outside"))


def _cover(
    numbers: dict[str, Array],
    gland: Any,
    d: Mapping[str, Array],
    loop: Loop,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """What only a cover has: the force that parts it, and the bolts' preload."""
    still = np.zeros_like(loop.depth)
    sealed = next(one for one in (loop.sealed, loop.wall, loop.middle) if one is not None)
    inside = 1.0 if gland.pressure_side == "inside" else 0.0
    numbers["separating_force"] = inside * np.pi / 4.0 * sealed * sealed * around.pressure + still
    numbers["preload_needed"] = d["bolt_factor"] * (numbers["separating_force"] + numbers["closing_load"])
    numbers["preload"] = d["bolt_preload"] + still
    if np.isnan(d["bolt_preload"]).any():
        every = np.ones(loop.depth.shape[-1], dtype=bool)
        gaps.append(NotCovered("preload", "bolt_preload not given", every, "bolt_preload"))
    if np.isnan(d["cover_gap"]).any():
        reason = "cover_gap not given: how far the cover bows under pressure isn't worked out"
        gaps.append(NotCovered("cover_gap", reason, around.pressed, "cover_gap"))
