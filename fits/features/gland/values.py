"""The values of a gland: one list for all forms, with what each form computes them from."""

from __future__ import annotations

from fits.features.feature import Value
from fits.features.gland.part_values import of_bores, of_covers, of_lands, of_rubbing
from fits.features.gland.sources import (
    BY_DUTY,
    CHART,
    CURVE,
    GEOMETRY_OF_RINGS,
    GROWTH,
    LINDLEY,
    PERMEATION,
    RELEASE,
    RUBBER,
    SHIFT,
    SWELLING,
    TYPED,
)
from fits.features.gland.uses import CUT, GROWN, Loop, value
from fits.features.when import AS_MADE, EVERY
from fits.tables import Source


def values_of(
    u: Loop, *, radial: bool, wall: bool, cut: tuple[str, ...] = CUT, member: str = "hub"
) -> tuple[Value, ...]:
    """The values of a form.

    Args:
        u: what its loop depends on.
        radial: a bore and a member, with a wall that breathes.
        wall: the ring may be pressed into a wall.
        cut: what the groove's volume depends on besides the loop.
        member: the part with the groove, whose land carries the pressure.
    """
    if radial:
        u = u._replace(volume=(*u.depth, *u.gap, *u.seat, *u.wall))
    found = [
        *_squeezes(u),
        _left(),
        *_ring(u, wall=wall, cut=cut),
        *_gaps(u, cut),
        *_limits(),
        *_contact(u),
        _permeation(u),
    ]
    found += [*of_bores(u, wall=wall), *of_rubbing()] if radial else of_covers(u)
    if u.land:
        found += of_lands(u, member)
    if cut == CUT:
        found += _cut(u)
    return tuple(found)


def _cut(u: Loop) -> list[Value]:
    """What is held against how it was cut."""
    width = tuple(one for one in (*CUT, *u.land) if one.startswith("groove"))
    lengths = (
        ("bottom_radius", "bottom radius", "typed", TYPED, ("corner_radius",)),
        ("width_made", "width of the groove", "typed, or between both walls", TYPED, width),
        ("width_most", "widest published groove", "table", BY_DUTY, ("backup_rings",)),
        ("radius_most", "largest bottom radius", "table", BY_DUTY, ()),
    )
    slope = ("side_slope", "side angle, degrees", "number", "typed", TYPED, ("side_angle",))
    return [
        value(*slope, (AS_MADE,), shown=False, digits=1),
        *(
            value(name, label, "length", equation, source, uses, (AS_MADE,), shown=False, digits=3)
            for name, label, equation, source, uses in lengths
        ),
    ]


def _squeezes(u: Loop) -> list[Value]:
    fresh = ("ring.section", *u.depth)
    return [
        value(
            "gland_depth",
            "gland depth",
            "length",
            "groove bottom to mating surface, centred",
            SHIFT,
            u.depth,
            digits=3,
        ),
        value(
            "fresh_squeeze",
            "fresh squeeze",
            "number",
            "(d - h)/d, centred, not stretched",
            SHIFT,
            fresh,
            (AS_MADE,),
        ),
        value(
            "fresh_squeeze_depth",
            "fresh squeeze in length",
            "length",
            "d - h",
            SHIFT,
            fresh,
            (AS_MADE,),
            digits=3,
        ),
        value(
            "squeeze",
            "squeeze",
            "number",
            "squeeze in length over the free section in its state",
            SHIFT,
            ("squeeze_depth", "ring.section", *GROWN),
        ),
        value(
            "squeeze_depth",
            "squeeze in length",
            "length",
            "section on its seat - (h + e) on the far side, - (h - e) on the near side",
            SHIFT,
            ("ring_section", "gland_depth", "ring_end", *u.shift, *u.gap),
            digits=3,
        ),
    ]


def _left() -> Value:
    """What set leaves of the squeeze."""
    return value(
        "squeeze_left",
        "squeeze left after set",
        "length",
        "squeeze in this state - set x deepest squeeze of all states",
        SWELLING,
        ("squeeze_depth", "compression_set"),
        (EVERY,),
        digits=3,
    )


def _ring(u: Loop, *, wall: bool, cut: tuple[str, ...]) -> list[Value]:
    own = ("ring.inside", "ring.section", *GROWN)
    found = [
        value(
            "ring_section",
            "section on its seat",
            "length",
            "least: d (1 - loss by the curve), most: d1^2 (seat + d1) = d^2 (ID + d)",
            CURVE,
            (*own, "ring_end", *u.seat, *u.wall),
            digits=3,
        ),
        value(
            "fill",
            "gland fill",
            "number",
            "pi^2/4 d^2 (ID + d), hot and swollen, over the groove's volume",
            GEOMETRY_OF_RINGS,
            (*own, *cut, *u.volume),
        ),
        value(
            "stretch",
            "stretch of its inside",
            "number",
            "(seat - ID)/ID",
            GEOMETRY_OF_RINGS,
            (*own, *u.seat),
            digits=4,
        ),
    ]
    if wall:
        found.append(
            value(
                "outside_compression",
                "compression of its outside",
                "number",
                "(OD - wall)/OD",
                GEOMETRY_OF_RINGS,
                (*own, *u.wall),
                digits=4,
            )
        )
    return found


def _gaps(u: Loop, cut: tuple[str, ...]) -> list[Value]:
    backups = tuple(one for one in cut if one == "backup_rings")
    return [
        value(
            "extrusion_gap",
            "gap the ring could creep into",
            "length",
            "bore - member in its state, all on one side",
            GROWTH,
            u.gap,
            (EVERY,),
        ),
        value(
            "gap_allowed",
            "the chart's largest gap",
            "length",
            "band of the pressure, curve of the hardness",
            CHART,
            ("elastomer", *backups, "pressure_share", "ring_temperature_share"),
            (EVERY,),
        ),
        value(
            "fluid_pressure",
            "pressure on the ring",
            "pressure",
            "typed",
            TYPED,
            ("pressure_share",),
            (EVERY,),
            shown=False,
            digits=2,
        ),
        value(
            "ring_temperature",
            "temperature of the ring",
            "temperature",
            "that of the warmer or colder part",
            TYPED,
            ("ring_temperature_share",),
            (EVERY,),
            shown=False,
        ),
    ]


def _limits() -> list[Value]:
    """What the duty and the rubber allow; constants of the tables."""
    rows: list[tuple[str, str, str, Source, tuple[str, ...]]] = [
        ("fresh_least", "least fresh squeeze of the duty", "number", BY_DUTY, ()),
        ("fresh_most", "most fresh squeeze of the duty", "number", BY_DUTY, ()),
        ("squeeze_most", "most squeeze of the duty", "number", BY_DUTY, ()),
        ("stretch_most", "most stretch of the duty", "number", BY_DUTY, ()),
        ("fill_most", "most fill of the duty", "number", BY_DUTY, ()),
        ("finish_most", "roughest face of the duty", "roughness", BY_DUTY, ()),
        ("rubber_hottest", "hottest the rubber serves", "temperature", RUBBER, ("elastomer",)),
        ("rubber_coldest", "coldest the rubber serves", "temperature", RUBBER, ("elastomer",)),
        ("fluid_up_to", "hottest with this fluid", "temperature", RUBBER, ("elastomer", "fluid")),
    ]
    found = [
        value(name, label, kind, "table", source, uses, (AS_MADE,), shown=False)
        for name, label, kind, source, uses in rows
    ]
    lets_out = ("release_most", "pressure of gas that any rubber lets out", "pressure")
    found.append(value(*lets_out, "practice", RELEASE, (), (EVERY,), shown=False))
    found.append(
        value(
            "finish_made",
            "roughness of the faces",
            "roughness",
            "typed",
            TYPED,
            ("finish",),
            (AS_MADE,),
            shown=False,
        )
    )
    return found


def _permeation(u: Loop) -> Value:
    """Only of gas and vacuum."""
    return value(
        "permeation",
        "gas lost through the rubber, about",
        "flow",
        "4 K D (1 - S)^2 p, volume at 1 bar and 0 degC",
        PERMEATION,
        ("permeability", "squeeze", "pressure_share", *u.seat, *u.wall, *u.depth, *u.sealed),
        (EVERY,),
    )


def _contact(u: Loop) -> list[Value]:
    fresh = ("fresh_squeeze", "ring.section", "elastomer")
    around = ("ring.inside", "ring.section", *u.sealed, *u.depth, *u.seat, *u.wall)
    return [
        value(
            "peak_contact_stress",
            "peak contact stress at least",
            "pressure",
            "4 F'/(pi b), modulus at its low end",
            LINDLEY,
            fresh,
            (AS_MADE,),
            digits=2,
        ),
        value(
            "closing_load",
            "load that closes the gland at most",
            "force",
            "pi D E d (1.25 S^1.5 + 50 S^6), modulus at its high end",
            LINDLEY,
            (*fresh, *around),
            (AS_MADE,),
        ),
    ]
