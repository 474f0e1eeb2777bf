"""Values that only a bore with its member has, and those that only a cover has."""

from __future__ import annotations

from fits.features import lasting
from fits.features.feature import Value
from fits.features.gland.sources import (
    BY_DUTY,
    COLLAPSE,
    GEOMETRY_OF_RINGS,
    GROWTH,
    LANDS,
    MISES,
    RUBBER,
    TYPED,
)
from fits.features.gland.uses import Loop, value
from fits.features.when import AS_MADE, EVERY


def of_bores(u: Loop, *, wall: bool) -> list[Value]:
    """Groove diameter, growth and stress of the wall, lead-in, rubbing."""
    rubbed = u.shift[:1]
    return [
        value(
            "groove_diameter",
            "groove diameter as made",
            "length",
            "bottom of the groove",
            GEOMETRY_OF_RINGS,
            u.wall if wall else u.seat,
            (AS_MADE,),
            digits=3,
        ),
        value(
            "bore_growth",
            "the bore grows under pressure by",
            "length",
            "p d/E [(b^2+a^2)/(b^2-a^2) + nu]",
            GROWTH,
            u.growth,
            (EVERY,),
        ),
        *_wall(u),
        *_inner(u),
        *lasting.TEMPER,
        *_handling(rubbed),
    ]


def _wall(u: Loop) -> list[Value]:
    return [
        value(
            "wall_von_mises",
            "wall von Mises",
            "pressure",
            "sqrt(s_t^2 - s_t s_r + s_r^2) at the bore, ends open",
            MISES,
            u.growth,
            (EVERY,),
        ),
        value(
            "wall_allowed",
            "allowed stress of the wall",
            "pressure",
            "least yield over 1.5 working, 1.0 proof, and over safety_yield",
            MISES,
            ("hub_yield", "safety_yield", "hub_service"),
            (EVERY,),
            shown=False,
        ),
    ]


def _inner(u: Loop) -> list[Value]:
    """The wall of a hollow inner part."""
    around = ("shaft_bore", "pressure_share", *u.seat)
    return [
        value(
            "inner_von_mises",
            "inner wall von Mises",
            "pressure",
            "2 p b^2/(b^2-a^2) at its bore, pressed from outside, ends open",
            MISES,
            around,
            (EVERY,),
            shown=False,
        ),
        value(
            "inner_allowed",
            "allowed stress of the inner wall",
            "pressure",
            "least yield over 1.5 working, 1.0 proof, and over safety_yield",
            MISES,
            ("shaft_yield", "safety_yield", "shaft_service"),
            (EVERY,),
            shown=False,
        ),
        value(
            "inner_collapse",
            "pressure at which the inner wall collapses",
            "pressure",
            "E t^3/[4 (1 - nu^2) R^3]",
            COLLAPSE,
            (*around, "shaft_modulus", "shaft_modulus_share"),
            (EVERY,),
            shown=False,
        ),
        value(
            "inner_needed",
            "three times the pressure",
            "pressure",
            "3 p",
            COLLAPSE,
            ("pressure_share",),
            (EVERY,),
            shown=False,
        ),
    ]


def _handling(rubbed: tuple[str, ...]) -> list[Value]:
    return [
        value(
            "lead_in_length",
            "lead-in",
            "length",
            "typed",
            TYPED,
            ("lead_in",),
            (AS_MADE,),
            shown=False,
            digits=2,
        ),
        value(
            "lead_in_least",
            "shortest lead-in",
            "length",
            "table by section and angle",
            BY_DUTY,
            ("lead_in_angle",),
            (AS_MADE,),
            shown=False,
            digits=2,
        ),
        value(
            "rubbing_speed",
            "rubbing speed, m/s",
            "number",
            "w d/2",
            GEOMETRY_OF_RINGS,
            (*rubbed, "speed_share"),
            (EVERY,),
            shown=False,
            digits=2,
        ),
    ]


# A dovetail's own.
MOUTH = (
    value(
        "mouth",
        "width of the mouth",
        "length",
        "typed",
        TYPED,
        ("mouth_width",),
        (AS_MADE,),
        shown=False,
        digits=3,
    ),
    value(
        "mouth_open",
        "mouth between its rounded edges",
        "length",
        "mouth + 2 r (cot((90 - a)/2) - 1)",
        GEOMETRY_OF_RINGS,
        ("mouth_width", "edge_radius", "undercut_angle"),
        (AS_MADE,),
        digits=3,
    ),
    value(
        "mouth_least",
        "narrowest published mouth",
        "length",
        "table",
        BY_DUTY,
        (),
        (AS_MADE,),
        shown=False,
        digits=3,
    ),
    value(
        "mouth_most",
        "the ring's section",
        "length",
        "on its seat",
        TYPED,
        ("ring_section",),
        (AS_MADE,),
        shown=False,
        digits=3,
    ),
)


def of_lands(u: Loop, member: str) -> list[Value]:
    """Stress of the land beside the groove, and what is allowed."""
    return [
        value(
            "land_stress",
            "von Mises at the root of the land",
            "pressure",
            "bending 6 M/t^2, mean shear V/t, each wedge for itself",
            LANDS,
            (*u.land, *u.depth, *u.shift, *u.seat, *u.wall, "pressure_share"),
            (EVERY,),
        ),
        value(
            "land_allowed",
            "allowed stress of the land",
            "pressure",
            "least yield over 1.5 working, 1.0 proof, and over safety_yield",
            MISES,
            (f"{member}_yield", "safety_yield", f"{member}_service"),
            (EVERY,),
            shown=False,
        ),
    ]


def of_rubbing() -> list[Value]:
    """What only a ring that rubs is held against."""
    return [
        value("finish_least", "finest face", "roughness", "table", BY_DUTY, (), (AS_MADE,), shown=False),
        value(
            "wear_grade",
            "grade against rubbing",
            "number",
            "table",
            RUBBER,
            ("elastomer",),
            (AS_MADE,),
            shown=False,
            digits=0,
        ),
    ]


def of_covers(u: Loop) -> list[Value]:
    """The force that parts the cover and the preload against it."""
    return [
        value(
            "separating_force",
            "force that parts the cover",
            "force",
            "pi/4 D^2 p, pressure inside",
            GEOMETRY_OF_RINGS,
            (*u.sealed, "pressure_share"),
            (EVERY,),
        ),
        value(
            "preload_needed",
            "preload needed",
            "force",
            "k (pi/4 D^2 p + closing load)",
            GEOMETRY_OF_RINGS,
            ("separating_force", "closing_load", "bolt_factor"),
            (EVERY,),
        ),
        value(
            "preload",
            "preload of the bolts",
            "force",
            "typed",
            TYPED,
            ("bolt_preload",),
            (EVERY,),
            shown=False,
        ),
    ]
