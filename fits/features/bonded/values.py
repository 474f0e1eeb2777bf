"""Values of a bonded slip fit: the gap in every state, what the bond holds, what it must stand."""

from __future__ import annotations

from fits.features.feature import Value
from fits.features.lasting import TEMPER
from fits.features.parts import GEOMETRY, PRACTICE
from fits.features.value import value
from fits.features.when import AS_MADE
from fits.tables import Source

HEAT = Source("thermal strain of both parts from 20 degC on the hole's diameter", "derived")
GROWTH = Source("Lamé, growth of a tube under pressure in its bore, ends open")
SPIN = Source("Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, rotating discs")
STATICS = Source("even shear over the bonded face; statics", "derived")
SLIDE = Source("free difference of length from the middle over the radial gap: an upper bound", "derived")
MISES = Source(
    "von Mises on Lamé's stresses; Budynas & Nisbett, Shigley's Mechanical "
    "Engineering Design, 9th ed., eq. 3-50"
)

_STRAINS = ("hub_strain", "shaft_strain", "hub_expansion_share", "shaft_expansion_share")
_SPIN = ("hub_density", "shaft_density", "speed_share")
_SPUN = ("hub_outside", "hub_modulus", "hub_modulus_share")
_WALL = ("shaft", "shaft_bore", "shaft_modulus", "shaft_modulus_share")


# What passes through both parts.
_LOAD = ("axial_load", "torque", "end_thrust")


VALUES: tuple[Value, ...] = (
    value("gap_as_made", "gap as made", "length", "hole - shaft", GEOMETRY, ("hole", "shaft"), AS_MADE),
    value(
        "opens_by",
        "heat and speed open the gap by",
        "length",
        "hole (strain_hub - strain_shaft) + growth of the hub's hole - growth of the inner part at speed",
        HEAT,
        ("hole", *_STRAINS, *_SPUN, *_WALL, *_SPIN, "hub_service", "shaft_service"),
    ),
    value(
        "swells_by",
        "pressure swells the inner part by",
        "length",
        "d 2 p a^2/[E (c^2-a^2)], as if the bond gave no support",
        GROWTH,
        (*_WALL, "pressure_share"),
    ),
    value(
        "gap",
        "gap in this state",
        "length",
        "gap as made + opened by - swelled by",
        HEAT,
        ("gap_as_made", "opens_by", "swells_by"),
    ),
    value(
        "bond_pull",
        "bond stretched by, of its thickness",
        "number",
        "opened by/gap as made",
        HEAT,
        ("opens_by", "gap_as_made"),
    ),
    value(
        "bond_slide",
        "bond sheared by, of its thickness",
        "number",
        "(length/2) |strain_hub - strain_shaft|/(gap as made/2)",
        SLIDE,
        ("length", "gap_as_made", *_STRAINS, "hub_service", "shaft_service"),
    ),
    value(
        "pull_allowed",
        "bond may be stretched by",
        "number",
        "typed; nothing is asked where the gap does not open",
        PRACTICE,
        ("bond_strain", "opens_by"),
        shown=False,
    ),
    value(
        "slide_allowed",
        "bond may be sheared by",
        "number",
        "typed; nothing is asked where both parts grow alike",
        PRACTICE,
        ("bond_strain", "bond_slide"),
        shown=False,
    ),
    value("least_gap", "least gap of the sheet", "length", "typed", PRACTICE, ("gap_least",), shown=False),
    value("most_gap", "most gap of the sheet", "length", "typed", PRACTICE, ("gap_most",), shown=False),
    value(
        "axial_capacity",
        "holds along the axis",
        "force",
        "shear pi d L, d of the inner part",
        STATICS,
        ("bond_shear", "shaft", "length"),
    ),
    value(
        "torque_capacity",
        "holds in torque",
        "torque",
        "shear pi d^2 L/2, d of the inner part",
        STATICS,
        ("axial_capacity", "shaft"),
    ),
    value(
        "end_thrust",
        "end thrust of the fluid",
        "force",
        "p pi d^2/4",
        STATICS,
        ("hole", "thrust_diameter", "pressure_share"),
        shown=False,
    ),
    value(
        "bond_demand",
        "must hold, with safety",
        "force",
        "safety_bond sqrt[(load + thrust)^2 + (2 torque/d)^2]",
        STATICS,
        ("axial_load", "torque", "shaft", "end_thrust", "safety_bond"),
    ),
    value("bond_temperature", "temperature of the bond", "temperature", "hotter of both", HEAT, ()),
    value(
        "heat_limit",
        "heat limit of the compound",
        "temperature",
        "typed",
        PRACTICE,
        ("bond_heat",),
        shown=False,
    ),
    value(
        "hub_von_mises",
        "hub von Mises",
        "pressure",
        "p sqrt(1 + s + s^2), s = (b^2+c^2)/(b^2-c^2)",
        MISES,
        ("hole", "hub_outside", "pressure_share", "hub_density", "speed_share", *_LOAD),
    ),
    value(
        "shaft_von_mises",
        "inner von Mises, standing alone",
        "pressure",
        "p sqrt(1 + s + s^2), s = (c^2+a^2)/(c^2-a^2)",
        MISES,
        (
            "shaft",
            "shaft_bore",
            "pressure_share",
            "shaft_allowed",
            "shaft_density",
            "speed_share",
            *_LOAD,
        ),
    ),
    *(
        value(
            f"{part}_allowed",
            f"allowed stress of the {word}",
            "pressure",
            "least yield over 1.5 working, 1.0 proof, and over safety_yield",
            PRACTICE,
            (f"{part}_yield", "safety_yield", f"{part}_service"),
            shown=False,
        )
        for part, word in (("hub", "hub"), ("shaft", "inner part"))
    ),
    value(
        "alternating_demand",
        "alternating load",
        "number",
        "none, or not covered",
        PRACTICE,
        (),
        shown=False,
        digits=0,
    ),
    *TEMPER,
)
