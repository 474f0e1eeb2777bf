"""The numbers of a gland, from its dimensions and states."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered, Outcome, States
from fits.features.gland import tabled
from fits.features.gland.allowed import allowed
from fits.features.gland.asked import pressed_metals
from fits.features.gland.groove import cut
from fits.features.gland.loop import Around, Loop, Work
from fits.features.lasting import temper
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
    loop: Loop = gland.loop(d, s, around)
    numbers = {"gland_depth": loop.depth, "fluid_pressure": around.pressure}
    w = Work(gland, d, s, around, loop, numbers, _metal_gaps(gland, s, hub, shaft))
    _squeeze(w)
    _gap(w)
    allowed(w)
    _contact(w)
    if gland.leaks_gas:
        _permeation(w)
    cut(w)
    if gland.radial:
        _bore(w)
    else:
        _cover(w)
    return Outcome(numbers, tuple(gap for gap in w.gaps if np.any(gap.mask)))


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


def _known(array: Array) -> Array:
    """A number, 0 where it wasn't given (its mildest)."""
    return np.where(np.isfinite(array), array, 0.0)


def _squeeze(w: Work) -> None:
    """Ring to temperature and swell, then onto its seat, then squeezed, then set."""
    # Swell and set come with service: 1 in every state, 0 as made.
    service = w.lasting.astype(float)
    temperature = w.s.hub_temperature + w.d["ring_temperature_share"] * (
        w.s.shaft_temperature - w.s.hub_temperature
    )
    strain = w.gland.elastomer.strain_at(temperature, w.d["ring_expansion_share"])
    if np.isnan(strain).any():
        reason = f"{w.gland.elastomer.name}: no expansion is known"
        w.gap("elastomer", reason, np.isnan(strain))
    swell = _known(w.d["swell"])
    grown = ring.grown(strain, swell * w.d["swell_share"] * service)
    inside, section = w.d["ring.inside"] * grown, w.d["ring.section"] * grown
    least, most = _sections(w, inside, section)
    end = w.d["ring_end"]
    w.numbers["ring_temperature"] = temperature
    w.numbers["ring_section"] = least + end * (most - least)
    # Set is earned swollen and without pressure, whatever else this corner has: a section
    # grows with at most the power 3/2 of the ring on a seat that doesn't.
    swollen = ring.grown(strain, np.maximum(swell, 0.0) * service) / grown
    deepest = most * swollen * np.sqrt(swollen) - (w.loop.depth - w.loop.opened - w.loop.shift)
    depth = w.numbers["ring_section"] - w.loop.depth - (1.0 - 2.0 * end) * w.loop.shift
    w.numbers["squeeze_depth"] = depth
    w.numbers["squeeze"] = depth / section
    # Radii that meet leave no groove: then anything overfills it.
    w.numbers["fill"] = ring.volume(inside, section) / np.maximum(w.loop.volume, NO_ROOM)
    made = w.d["ring.section"] - w.loop.depth[..., -1:]
    w.numbers["fresh_squeeze_depth"] = made
    w.numbers["fresh_squeeze"] = made / w.d["ring.section"]
    hottest = np.zeros_like(deepest[..., :1])
    for column in range(len(w.s.names) - 1):
        hottest = np.maximum(hottest, deepest[..., column : column + 1])
    # A sum is NaN where a number is.
    if np.isnan(hottest.sum()):
        reason = "set: the deepest squeeze of all states isn't known"
        w.gap("squeeze_left", reason, np.isnan(hottest) & w.lasting)
    w.numbers["squeeze_left"] = depth - _known(w.d["compression_set"]) * hottest * service
    _asked_of_the_rubber(w)


def _asked_of_the_rubber(w: Work) -> None:
    """Swell and set that weren't typed: asked, with what tests of the family gave."""
    if "backup_rings" in w.d and np.isnan(w.d["backup_rings"] * w.d["backup_thickness"]).any():
        w.gap("backup_thickness", "backup_thickness not given", w.every, "backup_thickness")
    rubber = w.gland.elastomer
    if np.isnan(w.d["compression_set"]).any():
        tests = "; ".join(f"{_percent(one)} {one.test}" for one in rubber.sets())
        reason = f"compression_set not given{f' ({rubber.material} in tests: {tests})' if tests else ''}"
        w.gap("compression_set", reason, w.lasting, "compression_set")
    if np.isnan(w.d["swell"]).any():
        known = rubber.swell(w.gland.fluid) if w.gland.fluid else None
        seen = f" ({rubber.material}: {_percent(known)}, {known.test})" if known else ""
        w.gap("swell", f"swell not given{seen}", w.lasting, "swell")


def _percent(known: Any) -> str:
    low, high = 100.0 * known.low, 100.0 * known.high
    return f"{low:g} %" if low == high else f"{low:g} to {high:g} %"


def _sections(w: Work, inside: Array, section: Array) -> tuple[Array, Array]:
    """The section on its seat, least and most; stretch and outside compression on the way.

    Least by the measured curve, most at constant volume; a ring loose on its seat is
    credited nothing, one pressed into its wall gets thicker. Where there is a wall its thickest
    is never below the free section: else it would jump where the ring just reaches the wall.
    """
    least = most = section
    if w.loop.seat is not None or w.loop.wall is None:
        seat = w.loop.seat if w.loop.seat is not None else w.loop.middle - section
        gone = np.asarray(seat <= 0.0)
        if gone.any():
            for name in ("stretch", "ring_section"):
                w.gap(name, "so deep a groove leaves nothing for the ring to sit on", gone)
            seat = np.where(gone, np.nan, seat)
        stretched = ring.stretch(seat, inside)
        w.numbers["stretch"] = stretched
        thinned = _thinned(w, section, stretched)
        least = thinned
        if w.loop.wall is None:
            most = ring.section_on_seat(section, inside, seat)
    if w.loop.wall is not None:
        pressed = ring.outside_compression(w.loop.wall, inside, section)
        w.numbers["outside_compression"] = pressed
        if w.loop.seat is None:
            # Blown out to its wall, a ring that doesn't reach it is stretched to it.
            w.numbers["stretch"] = np.maximum(-pressed, 0.0)
            least = _thinned(w, section, w.numbers["stretch"])
        thick = ring.section_in_wall(section, inside, w.loop.wall)
        most = np.where(pressed > 0.0, thick, most)
    elif w.gland.tabled_as == "face":
        w.numbers["outside_compression"] = np.zeros_like(section)
    return least, most


def _thinned(w: Work, section: Array, stretched: Array) -> Array:
    """The section across the squeeze by the measured curve; not covered beyond its end."""
    beyond = stretched > ring.CURVE_END
    if beyond.any():
        reason = "stretched by more than 25 %: beyond the curve of section loss"
        w.gap("ring_section", reason, np.asarray(beyond))
    return section * (1.0 - ring.loss_by_curve(stretched))


def _gap(w: Work) -> None:
    """The gap in the state, and what the chart allows."""
    rubber = w.gland.elastomer
    w.numbers["extrusion_gap"] = w.loop.gap
    most = tabled.largest_gap(w.around.pressure, rubber.hardness, w.gland.ring.section.nominal)
    if rubber.material in SILICONES:
        most = most / 2.0
    pressed = w.around.pressed
    why = [
        (w.s.pressure > tabled.chart_end(), f"the chart ends at {tabled.chart_end():.1f} MPa"),
        (w.numbers["ring_temperature"] > tabled.CHART_HOTTEST, "the chart ends at 71 degC (from memory)"),
        (
            w.every & (not tabled.SOFT <= rubber.hardness <= tabled.HARD),
            f"{rubber.hardness:g} Shore A: the chart has 70 to 90",
        ),
    ]
    if "backup_rings" in w.d:
        reason = "with a backup ring a larger gap is allowed, but no number was found"
        why.append(((w.d["backup_rings"] > 0.0) & w.every, reason))
    for where, reason in why:
        where = np.asarray(where & pressed)
        if where.any():
            w.gap("gap_allowed", reason, where)
            most = np.where(where, np.nan, most)
    w.numbers["gap_allowed"] = most


def _contact(w: Work) -> None:
    """Contact stress and closing load as made, free at the sides, modulus 30 % either way."""
    share, section = w.numbers["fresh_squeeze"], w.d["ring.section"]
    modulus = w.gland.elastomer.modulus()
    if modulus is None:
        w.numbers["peak_contact_stress"] = w.numbers["closing_load"] = share * np.nan
        reason = f"{w.gland.elastomer.name}: hardness is turned to a modulus from 30 to 80 Shore A only"
        for name in ("peak_contact_stress", "closing_load"):
            w.gap(name, reason, w.every)
        return
    low = ring.line_load(share, section, np.asarray(modulus.low))
    high = ring.line_load(share, section, np.asarray(modulus.high))
    w.numbers["peak_contact_stress"] = ring.contact(low, section, np.asarray(modulus.low))[1]
    w.numbers["closing_load"] = np.pi * w.loop.middle[..., -1:] * high
    if np.isnan(low.sum()):
        reason = "squeezed by more than 30 %: Lindley's load ends there"
        for name in ("peak_contact_stress", "closing_load"):
            w.gap(name, reason, np.isnan(low) & w.every)


def _permeation(w: Work) -> None:
    """Gas that gets through the rubber itself; into a vacuum the air drives it."""
    drives = w.around.pressure + (AIR if w.gland.medium == "vacuum" else 0.0)
    lost = ring.permeation(w.d["permeability"], w.loop.middle, w.numbers["squeeze"], drives)
    w.numbers["permeation"] = lost
    if np.isnan(w.d["permeability"]).any():
        reason = "permeability of the rubber for the gas not given: loss by permeation unknown"
        w.gap("permeation", reason, w.lasting, "permeability")


def _bore(w: Work) -> None:
    """What only a bore and a member have: wall, lead-in, rubbing."""
    bottom = w.loop.wall if w.gland.form == "rod" else w.loop.seat
    assert bottom is not None
    w.numbers["groove_diameter"] = bottom[..., -1:]
    # On another feature's surface the wall is judged there.
    if w.loop.growth is not None and w.loop.stressed is not None:
        w.numbers["bore_growth"] = w.loop.growth
        _wall(w, w.loop.stressed)
    w.gaps.extend(temper(w.numbers, pressed_metals(w.gland), w.s))
    w.numbers["lead_in_length"] = w.d["lead_in"]
    least = tabled.lead_in(w.gland.lead_in_angle, w.gland.ring.section.nominal)
    w.numbers["lead_in_least"] = np.array([[least]])
    if np.isnan(w.d["lead_in"]).any():
        w.gap("lead_in_length", "lead_in not given", w.made, "lead_in")
    if np.isnan(w.numbers["lead_in_least"]).any():
        w.gap("lead_in_least", "no lead-in is printed for so thick a ring", w.made)
    rubbed = w.d["rod"] if w.gland.form == "rod" else w.d["bore"]
    w.numbers["rubbing_speed"] = w.s.speed * w.d["speed_share"] * rubbed / 2000.0
    if w.gland.duty == "rotary":
        turning = np.broadcast_to(w.s.speed == 0.0, np.shape(w.s.speed))
        never = turning & (not np.any(w.s.speed))
        w.gap("rubbing_speed", "no state says how fast it turns (500 rpm)", never)


def _wall(w: Work, bore: Array) -> None:
    """Stress of the wall that breathes, and what is allowed."""
    hoop, _ = cylinder.face_hoops(inside=bore, outside=w.d["hub_outside"], p_in=w.around.pressure, p_out=0.0)
    stress = cylinder.von_mises(-w.around.pressure, hoop, 0.0 * w.around.pressure)
    w.numbers["wall_von_mises"] = np.where(w.around.pressed, stress, 0.0)
    w.numbers["wall_allowed"] = w.around.hub.allowed / wall_factor(w.s)
    if w.gland.hub_outside is None:
        reason = "hub_outside not given: growth and stress of the wall under pressure unknown"
        w.gap("bore_growth", f"{reason}, shown without", w.around.pressed, "hub_outside")
        w.gap("wall_von_mises", reason, w.around.pressed, "hub_outside")


def _cover(w: Work) -> None:
    """What only a cover has: the force that parts it, and the bolts' preload."""
    sealed = next(one for one in (w.loop.sealed, w.loop.wall, w.loop.middle) if one is not None)
    inside = 1.0 if w.gland.pressure_side == "inside" else 0.0
    w.numbers["separating_force"] = inside * np.pi / 4.0 * sealed * sealed * w.around.pressure
    w.numbers["preload_needed"] = w.d["bolt_factor"] * (
        w.numbers["separating_force"] + w.numbers["closing_load"]
    )
    w.numbers["preload"], _ = np.broadcast_arrays(w.d["bolt_preload"], w.around.pressure)
    if np.isnan(w.d["bolt_preload"]).any():
        w.gap("preload", "bolt_preload not given", w.every, "bolt_preload")
    if np.isnan(w.d["cover_gap"]).any():
        reason = "cover_gap not given: how far the cover bows under pressure isn't worked out"
        w.gap("cover_gap", reason, w.around.pressed, "cover_gap")
