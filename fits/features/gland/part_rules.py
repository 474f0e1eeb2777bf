"""Rules that only a bore with its member has, and those that only a cover has."""

from __future__ import annotations

from fits.features import lasting
from fits.features.feature import Rule
from fits.features.gland.asked import hollow, moving, own_wall, parted, pressed, pressed_metals, rotary
from fits.features.gland.sources import BY_DUTY, COLLAPSE, LANDS, MISES
from fits.features.gland.uses import Loop
from fits.features.parts import GEOMETRY, under_pressure
from fits.tables import Source

ROTARY_PRESSURE = 5.515805834535
RUBBING_SPEED = 1.016
ROTARY = Source("US Navy training manual NAVEDTRA 14105, p. 117: 200 ft/min, 50 to 800 psi")
LEAD_IN = Source("ISO 3601-2:1987, table 1, as quoted by Engineers Edge")
MOUTHS = Source("narrowest of the published dovetails for the section (table of grooves)", "derived")
WORST_GRADE = 3.0
WEAR = Source("table of elastomers: abrasion, A (1) excellent to E (5); average and better may rub")
BOLTS = Source("pi/4 D^2 p and the ring's load; factor 1.5 to 2 by practice", "practice")


def radial_rules(u: Loop) -> list[Rule]:
    """The wall, the lead-in, and a ring that rubs."""
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
            "inner wall stands the pressure",
            "inner_von_mises",
            "at most",
            "inner_allowed",
            "pressure around a hollow part presses its wall in, and the ring loses its seat",
            "a smaller bore in the inner part, or a metal of higher minimum yield",
            MISES,
            ("shaft_bore", "groove_diameter", "shaft_material"),
            asked=hollow,
            applies=pressed,
        ),
        Rule(
            "inner wall stays round",
            "inner_collapse",
            "at least",
            "inner_needed",
            "a thin tube buckles inward long before its metal yields",
            "a smaller bore in the inner part",
            COLLAPSE,
            ("shaft_bore", "groove_diameter"),
            asked=hollow,
            applies=pressed,
        ),
        lasting.temper_rule(pressed_metals, "hub_material", "shaft_material", walls=True),
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
        *_rubbing_rules(u),
    ]


def _rubbing_rules(u: Loop) -> list[Rule]:
    return [
        Rule(
            "faces keep a film",
            "finish_made",
            "at least",
            "finish_least",
            "a face polished finer holds no oil under a moving ring, which then sticks and wears",
            "a rougher finish, honed or ground",
            BY_DUTY,
            ("finish",),
            asked=moving,
        ),
        Rule(
            "rubber stands rubbing",
            "wear_grade",
            "at most",
            WORST_GRADE,
            "rubber that tears and wears easily is for a seal that doesn't move",
            "rubber of a better grade: polyurethane, nitrile",
            WEAR,
            ("elastomer",),
            asked=moving,
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


HELD = (
    Rule(
        "mouth holds the ring",
        "mouth_open",
        "at most",
        "mouth_most",
        "through a mouth as wide as its section the ring falls out",
        "a narrower mouth, edges broken less, or a thicker ring",
        GEOMETRY,
        ("mouth_width", "edge_radius", "ring"),
    ),
    Rule(
        "mouth lets the ring in",
        "mouth",
        "at least",
        "mouth_least",
        "through a narrower one the ring is cut as it is rolled in, and pinched when it is there",
        "a wider mouth",
        MOUTHS,
        ("mouth_width",),
    ),
)
LAND = Rule(
    "land stands the pressure",
    "land_stress",
    "at most",
    "land_allowed",
    "the pressure on the ring bends the land over, and the ring goes with it",
    "a groove further from the edge, or a metal of higher minimum yield",
    LANDS,
    ("land",),
    asked=under_pressure,
    applies=pressed,
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
