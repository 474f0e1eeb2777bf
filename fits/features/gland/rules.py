"""The rules of a gland, its refusals and cautions; one list for all forms."""

from __future__ import annotations

from fits.features.feature import Rule
from fits.features.gland.asked import (
    against_wall,
    as_made,
    no_backup,
    not_rotary,
    on_inner_wall,
    pressed,
    releases,
    rotary,
)
from fits.features.gland.part_rules import LAND, cover_rules, radial_rules
from fits.features.gland.sources import (
    BY_DUTY,
    CHART,
    GEOMETRY_OF_RINGS,
    GROWTH,
    RELEASE,
    RUBBER,
    SWELLING,
)
from fits.features.gland.uses import Loop
from fits.features.parts import under_pressure
from fits.tables import Source

BACKUP = Source("Parker O-Ring Handbook ORD 5700, section IV 4.0-4.1; SAE AS4716B abstract: 1500 psi")
LENGTH = Source("handbook floor of 0.2 mm (older editions .005 in)", "memory")
ROWS = Source("largest bottom radius of the published grooves for the section (table of grooves)")
ROWS_OF_WIDTHS = Source("widest of the published grooves for the section (table of grooves)", "derived")
SLOPE = Source("MIL-G-5514G, 3.2.6: sides slope at most 5 degrees")
BACKUP_ABOVE = 10.34213593975
LEAST_IN_LENGTH = 0.2
STEEPEST_SIDE = 5.0


def rules_of(u: Loop, *, radial: bool, wall: bool, cut: bool = False) -> tuple[Rule, ...]:
    """The rules of a form; see ``values_of`` for the arguments, ``cut`` for a flat bottom."""
    depth = tuple(one for one in u.depth if one in _SIZES)
    found = [
        *_squeeze_rules(("ring", *depth)),
        *_felt_rules(("ring", *depth)),
        *_seat_rules(u, wall=wall, radial=radial),
    ]
    found += [_fill_rule(depth, cut=cut), *_gap_rules(u, radial=radial), *_rubber_rules()]
    found += radial_rules(u) if radial else cover_rules()
    if cut:
        found += [_SIDES, _RADIUS, _WIDTH, LAND]
    return tuple(found)


# The dimensions of a loop that a person can change.
_SIZES = frozenset(
    {"bore", "piston_diameter", "groove_diameter", "gland_depth", "groove_depth", "rod", "housing_bore"}
    | {"leg", "spigot", "groove_inside", "groove_outside", "groove_middle", "groove_width"}
)


def _squeeze_rules(sizes: tuple[str, ...]) -> list[Rule]:
    return [
        Rule(
            "fresh squeeze, least",
            "fresh_squeeze",
            "at least",
            "fresh_least",
            "with less the ring does not seal until the fluid presses it on",
            "a shallower gland or a thicker ring",
            BY_DUTY,
            sizes,
        ),
        Rule(
            "fresh squeeze, most",
            "fresh_squeeze",
            "at most",
            "fresh_most",
            "with more the ring is hard to fit, takes set, and rubs when it moves",
            "a deeper gland or a thinner ring",
            BY_DUTY,
            sizes,
        ),
    ]


def _felt_rules(sizes: tuple[str, ...]) -> list[Rule]:
    return [
        Rule(
            "squeeze in length",
            "fresh_squeeze_depth",
            "at least",
            LEAST_IN_LENGTH,
            "whatever the section, a ring with less soon takes all of it as set",
            "a shallower gland or a thicker ring",
            LENGTH,
            sizes,
            asked=not_rotary,
        ),
        Rule(
            "squeeze left",
            "squeeze_left",
            "at least",
            0.0,
            "after set, cold, stretch, and with the parts pushed aside the ring must still touch",
            "a shallower gland, closer limits, less clearance or a guide, or rubber of less set",
            SWELLING,
            sizes,
            above=True,
        ),
        Rule(
            "most squeeze",
            "squeeze",
            "at most",
            "squeeze_most",
            "at 20 degC on the near side: the ring is crushed or cut, and drags when it moves",
            "a deeper gland, a thinner ring, less clearance or a guide",
            BY_DUTY,
            sizes,
            applies=as_made,
        ),
    ]


def _seat_rules(u: Loop, *, wall: bool, radial: bool) -> list[Rule]:
    found = []
    if not (wall and radial):
        found.append(
            Rule(
                "ring sits on its seat",
                "stretch",
                "at least",
                0.0,
                "a ring larger than its seat hangs, buckles and is pinched in assembly",
                "a smaller ring or a larger seat",
                GEOMETRY_OF_RINGS,
                ("ring", *u.seat[:1]),
                asked=on_inner_wall,
                applies=as_made,
            )
        )
    found.append(
        Rule(
            "stretch",
            "stretch",
            "at most",
            "stretch_most",
            "a stretched ring is thinner and ages sooner",
            "a larger ring or a smaller seat",
            BY_DUTY,
            ("ring", *u.seat[:1]),
            asked=on_inner_wall,
            applies=as_made,
        )
    )
    if radial:
        found.append(_NEVER_STRETCHED)
    if wall:
        # Around a rod the ring lies on the rod, whatever its outside does.
        ends = ("most",) if radial else ("least", "most")
        found += [_outside(u, end) for end in ends]
    return found


def _outside(u: Loop, end: str) -> Rule:
    least = end == "least"
    return Rule(
        "reaches its wall" if least else "not crowded by its wall",
        "outside_compression",
        "at least" if least else "at most",
        0.0 if least else 0.03,
        "a ring smaller than its wall is blown against it and stretched"
        if least
        else "a ring much larger than its groove buckles and is pinched",
        "a larger ring or a smaller groove" if least else "a smaller ring or a larger groove",
        BY_DUTY,
        ("ring", *u.wall[:1]),
        asked=against_wall,
        applies=as_made,
    )


_NEVER_STRETCHED = Rule(
    "never stretched",
    "stretch",
    "at most",
    0.0,
    "stretched rubber shrinks when rubbing heats it, grips, and burns",
    "a ring with its inside above the shaft, held in by its outside",
    GEOMETRY_OF_RINGS,
    ("ring",),
    asked=rotary,
)


def _fill_rule(depth: tuple[str, ...], *, cut: bool) -> Rule:
    return Rule(
        "gland isn't overfilled",
        "fill",
        "at most",
        "fill_most",
        "hot and swollen rubber that fills its groove lifts covers, creeps into the gap and tears",
        "a wider groove, or rubber that swells or grows less",
        BY_DUTY,
        (("groove_width", "ring") if cut else ("ring", *depth)),
    )


def _gap_rules(u: Loop, *, radial: bool) -> list[Rule]:
    found = [
        Rule(
            "no creep into the gap",
            "extrusion_gap",
            "at most",
            "gap_allowed",
            "pressure pushes the ring into the gap, where it is nibbled away",
            "less clearance, a thicker wall, harder rubber, or a backup ring on the low-pressure side",
            CHART,
            tuple(one for one in u.gap if one in _SIZES or one == "hub_outside"),
            asked=under_pressure,
            applies=pressed,
        ),
        Rule(
            "no backup ring is needed",
            "fluid_pressure",
            "at most",
            BACKUP_ABOVE,
            "above 1500 psi rings are given a backup ring, whatever the gap",
            "a backup ring on the low-pressure side, one on each side if pressure can reverse, "
            "in a groove as much wider",
            BACKUP,
            asked=no_backup,
            applies=pressed,
        ),
    ]
    if radial:
        found.append(
            Rule(
                "parts go together",
                "extrusion_gap",
                "at least",
                0.0,
                "the member must stay smaller than the bore in every state",
                "more clearance, or metals that grow alike",
                GROWTH,
                tuple(one for one in u.gap if one in _SIZES),
                above=True,
            )
        )
    return found


def _rubber_rules() -> list[Rule]:
    return [
        Rule(
            "rubber stands the heat",
            "ring_temperature",
            "at most",
            "rubber_hottest",
            "hotter it hardens, sets and cracks",
            "rubber of a wider range; above all rubber the plan names what remains",
            RUBBER,
        ),
        Rule(
            "rubber stands the cold",
            "ring_temperature",
            "at least",
            "rubber_coldest",
            "colder it stays as it was squeezed and no longer follows its groove",
            "rubber of a lower range, or a warmer state",
            RUBBER,
        ),
        Rule(
            "rubber stands the fluid",
            "ring_temperature",
            "at most",
            "fluid_up_to",
            "in a fluid that isn't its own, or too hot in it, rubber swells, softens or cracks",
            "rubber that stands the fluid, or a cooler state",
            RUBBER,
        ),
        Rule(
            "gas can be let out",
            "fluid_pressure",
            "at most",
            "release_most",
            "gas soaks into rubber and splits it when it is let out faster than about 1.4 MPa a minute",
            "a compound rated for it by its data sheet, or a slow vent; then say release_rated",
            RELEASE,
            asked=releases,
            applies=pressed,
        ),
        Rule(
            "faces are fine enough",
            "finish_made",
            "at most",
            "finish_most",
            "fluid leaks along the marks of the tool; moving rings are sanded away",
            "a finer finish with the lay around the groove, never across it",
            BY_DUTY,
            ("finish",),
        ),
    ]


_RADIUS = Rule(
    "bottom radius leaves room",
    "bottom_radius",
    "at most",
    "radius_most",
    "a rounder bottom crowds the ring and lifts it off the wall",
    "a tool of a smaller nose radius",
    ROWS,
    ("corner_radius",),
)
_WIDTH = Rule(
    "groove isn't too wide",
    "width_made",
    "at most",
    "width_most",
    "in a wider groove the ring rolls and is thrown about as the pressure changes",
    "a narrower groove, or backup rings that fill it",
    ROWS_OF_WIDTHS,
    ("groove_width",),
)
_SIDES = Rule(
    "groove sides are steep",
    "side_slope",
    "at most",
    STEEPEST_SIDE,
    "on a flat side the ring climbs out under pressure",
    "sides at most 5 degrees from square",
    SLOPE,
    ("side_angle",),
)
