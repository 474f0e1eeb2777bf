"""Rules that only a bore with its member has, and those that only a cover has."""

from __future__ import annotations

from fits.features.feature import Rule
from fits.features.gland.asked import own_wall, parted, pressed, rotary
from fits.features.gland.sources import MISES
from fits.features.gland.uses import Loop
from fits.features.parts import GEOMETRY
from fits.tables import Source

ROTARY_PRESSURE = 5.515805834
RUBBING_SPEED = 1.016
ROTARY = Source("US Navy training manual NAVEDTRA 14105, p. 117: 200 ft/min, 50 to 800 psi")
LEAD_IN = Source("ISO 3601-2:1987, table 1, as quoted by Engineers Edge")
BOLTS = Source("pi/4 D^2 p and the ring's load; factor 1.5 to 2 by practice", "practice")


def radial_rules(u: Loop) -> list[Rule]:
    """The wall, the lead-in, and a shaft that turns."""
    return [
        Rule(
            "wall stands the pressure",
            "wall_von_mises",
            "at most",
            "wall_allowed",
            "a wall that yields opens the gap for good",
            "a thicker wall or a metal of higher minimum yield",
            MISES,
            ("hub_outside", "hub_material"),
            asked=own_wall,
            applies=pressed,
        ),
        Rule(
            "lead-in is long enough",
            "lead_in_length",
            "at least",
            "lead_in_least",
            "the ring is cut on an edge it has to climb",
            "a longer chamfer at 15 to 20 degrees, its ends rounded; relieve ports the ring passes",
            LEAD_IN,
            ("lead_in",),
        ),
        Rule(
            "rubbing speed",
            "rubbing_speed",
            "at most",
            RUBBING_SPEED,
            "a plain ring burns on a faster shaft",
            "a lip seal, or a slower shaft",
            ROTARY,
            u.shift[:1],
            asked=rotary,
        ),
        Rule(
            "rotary pressure",
            "fluid_pressure",
            "at most",
            ROTARY_PRESSURE,
            "pressure presses the ring on the turning shaft",
            "less pressure, or a seal made for it",
            ROTARY,
            asked=rotary,
        ),
    ]


HELD = Rule(
    "mouth holds the ring",
    "mouth",
    "at most",
    "mouth_most",
    "through a mouth as wide as its section the ring falls out",
    "a narrower mouth or a thicker ring",
    GEOMETRY,
    ("mouth_width", "ring"),
)


def cover_rules() -> list[Rule]:
    """Bolts against what parts the cover."""
    return [
        Rule(
            "bolts hold the cover",
            "preload",
            "at least",
            "preload_needed",
            "a cover that lifts opens a gap for the ring to blow into",
            "more bolts or more preload, or a smaller sealed diameter",
            BOLTS,
            ("bolt_preload",),
            asked=parted,
            applies=pressed,
        )
    ]
