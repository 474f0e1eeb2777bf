"""Where the numbers of a gland come from, and the published rows beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fits.features.feature import Published, States
from fits.features.parts import under_pressure, warm
from fits.sizes.limits import Limits
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.gland.declaration import Gland

GEOMETRY_OF_RINGS = Source(
    "Pappus, and the free ring's volume kept (Apple Rubber, seal compression page)", "derived"
)
CURVE = Source("section loss by SAE ARP1232, no page seen; constant volume by Pappus", "memory")
SHIFT = Source("MIL-G-5514G, 3.6.2: squeeze after tolerances, clearance, side load, stretch and cold")
SWELLING = Source("set earned hot and missed cold; set by ASTM D395 method B (ISO 815)", "derived")
GROWTH = Source("Lamé, growth of a bore under pressure, ends open; MIL-G-5514G, 3.6.3")
CHART = Source("extrusion limits by hardness and pressure: Seal & Design; by section: Ponn Machine")
LINDLEY = Source(
    "Lindley (1967), coefficients from memory; Hertz line contact; modulus by Gent (1958), 30 % either way",
    "memory",
)
PERMEATION = Source(
    "slab of the section's own area, 4 K D (1 - S)^2 p; agrees with a handbook's 0.7 (from memory)", "derived"
)
MISES = Source("von Mises on Lamé's stresses; factor 1.5 working, 1.0 proof by practice", "practice")
COLLAPSE = Source("Moser, Buried Pipe Design, p. 111: a free tube; three times by practice", "practice")
LANDS = Source(
    "cantilever wedges, von Mises at the root (statics); factor 1.5 working, 1.0 proof by practice", "derived"
)
RUBBER = Source("table of elastomers: service range, TR10")
BY_DUTY = Source("table of gland limits, by duty, form and medium")
RELEASE = Source("gas above 3 MPa, let out fast, splits general rubber (common practice)", "practice")
# Gas above this soaks into rubber and splits it when it is let out fast, MPa (practice).
SOAKING = 3.0
TYPED = Source("typed", "typed")
# Published rows shown beside a gland.
ROWS_SHOWN = 1


def used(gland: Gland, states: States) -> tuple[Source, ...]:
    """The sources of the tabled numbers a gland rests on."""
    from fits.features.gland import tabled

    asked = ["fresh squeeze", "most squeeze", "fill", "finish", "stretch"]
    asked += ["outside compression", "squeeze in length"]
    found = [gland.ring.source, *gland.elastomer.sources()]
    for what in asked:
        found += [one.source for one in tabled.limit(what, gland.duty, type(gland).form, gland.medium)]
    if under_pressure(gland, states):
        found += tabled.chart_sources()
    for metal in (gland.hub_material, getattr(gland, "shaft_material", None)):
        if metal is not None:
            found += metal.sources(temperature_matters=warm(states))
    for name in type(gland).model_fields:
        value = getattr(gland, name)
        if isinstance(value, Limits):
            found += value.sources
    return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))


def hotter(gland: Gland, states: States) -> tuple[str, ...]:
    """What remains above the rubber's range; never a groove from nowhere."""
    from fits.features.gland import tabled

    hottest = max(float(states.hub_temperature.max()), float(states.shaft_temperature.max()))
    known = gland.elastomer.highest
    if known is None or hottest <= known.low:
        return ()
    rows = tabled.hot_seals(hottest)
    if not rows:
        return (f"{hottest:g} degC is above every seal of the table: not covered",)
    said = "; ".join(f"{row['seal']} to {row['hottest']} degC ({row['groove']})" for row in rows)
    return (f"too hot for {gland.elastomer.name}. Made for it, by their makers' ranges: {said}",)


def rows_beside(gland: Gland) -> tuple[Published, ...]:
    """The nearest published rows of the same form, duty, medium and section."""
    from fits import tables
    from fits.features.gland import tabled

    of = tables.load("glands/glands")
    backups = int(gland.backup_rings.high) if hasattr(gland, "backup_rings") else 0
    width = ("width", "width1", "width2")[backups]
    dovetail = type(gland).tabled_as == "dovetail"
    columns = (
        ("gland_depth", "depth"),
        ("mouth_width" if dovetail else "groove_width", width),
        ("corner_radius", "radius"),
        ("clearance", "clearance"),
    )
    rows = tabled.published(type(gland).tabled_as, gland.duty, gland.medium, gland.ring.section.nominal)
    found = []
    for row in [row for row in rows if row[f"{width}_most"]][:ROWS_SHOWN]:
        source = of.source(row, row["key"])
        source = source._replace(text=source.text.partition(", http")[0])
        for value, column in columns:
            if row[f"{column}_most"]:
                low = row[f"{column}_least"] or row[f"{column}_most"]
                found.append(Published(value, float(low), float(row[f"{column}_most"]), source))
    return tuple(found)
