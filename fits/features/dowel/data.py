"""Values, rules and cautions of a dowel joint."""

from __future__ import annotations

from typing import Any

from fits.features import lasting
from fits.features.feature import Caution, Rule, States, Value
from fits.features.parts import GEOMETRY, PRACTICE
from fits.features.value import value
from fits.features.when import AS_MADE, EVERY
from fits.materials.metals import Metal
from fits.shop import reamers
from fits.tables import Source

HEAT = Source("geometry, with the thermal strain of each part from 20 degC", "derived")
RING = Source("Lamé, ring of the least wall around a solid pin (one that doesn't give, without pin_material)")
PLACES = Source("two pins in round holes: the spacings may differ by one clearance", "derived")


def _value(
    name: str,
    label: str,
    equation: str,
    source: Source,
    uses: tuple[str, ...],
    *,
    made: bool = False,
    shown: bool = True,
) -> Value:
    times = (AS_MADE,) if made else (EVERY, AS_MADE)
    return value(name, label, "length", equation, source, uses, *times, shown=shown)


_PIN = ("pin", "pin_strain", "pin_expansion_share", "pin_service")
_TIGHT = (*_PIN, "tight_hole", "tight_strain", "tight_expansion_share", "tight_service")
_FREE = (*_PIN, "free_hole", "free_strain", "free_expansion_share", "free_service")

VALUES = (
    _value("pin", "pin", "typed or of its standard", GEOMETRY, ("pin",), made=True),
    _value(
        "tight_hole", "tight hole", "typed, or suggested for the pin", GEOMETRY, ("tight_hole",), made=True
    ),
    _value("free_hole", "free hole", "typed, or suggested for the pin", GEOMETRY, ("free_hole",), made=True),
    _value("interference", "tight by", "pin - tight hole, each in its state", HEAT, _TIGHT),
    _value("clearance", "free by", "free hole - pin, each in its state", HEAT, _FREE),
    value(
        "plate_von_mises",
        "von Mises in the tight part",
        "pressure",
        "p = tight_by/(d {[(b^2+a^2)/(b^2-a^2) + nu]/E + (1 - nu_pin)/E_pin}); sqrt(p^2 + p hoop + hoop^2)",
        RING,
        (
            "interference",
            "tight_hole",
            "wall",
            "tight_modulus",
            "tight_modulus_share",
            "pin_modulus",
            "pin_modulus_share",
        ),
        EVERY,
        AS_MADE,
    ),
    value(
        "plate_allowed",
        "least yield of the tight part",
        "pressure",
        "least yield of its metal",
        PRACTICE,
        ("tight_yield", "tight_service"),
        EVERY,
        AS_MADE,
        shown=False,
    ),
    _value(
        "tight_reamer", "reamer for the tight hole", "ISO 522 band", reamers.RULE, ("band_share",), made=True
    ),
    _value(
        "free_reamer", "reamer for the free hole", "ISO 522 band", reamers.RULE, ("band_share",), made=True
    ),
    _value(
        "mismatch",
        "the spacings may differ by",
        "spacing_error + spacing x difference of strains",
        PLACES,
        (
            "spacing",
            "spacing_error",
            "tight_strain",
            "free_strain",
            "tight_expansion_share",
            "free_expansion_share",
        ),
    ),
    _value(
        "spare",
        "what the clearance leaves of that",
        "clearance - mismatch",
        PLACES,
        ("clearance", "mismatch"),
    ),
    value(
        "trapped",
        "closed ends without a way out",
        "number",
        "0 through or vented, 1 blind and not vented",
        PRACTICE,
        ("tight_through", "vent"),
        AS_MADE,
        shown=False,
        digits=0,
    ),
    value(
        "engagement",
        "tight depth in diameters",
        "number",
        "tight_depth / nominal pin",
        PRACTICE,
        ("tight_depth",),
        AS_MADE,
        shown=False,
        digits=2,
    ),
    *lasting.TEMPER,
    *lasting.CRACKING,
)


def _not_through(dowel: Any, states: States) -> bool:
    return dowel.tight_through is not True


def _two_round(dowel: Any, states: States) -> bool:
    return dowel.second in (None, "round") and (dowel.spacing is not None or dowel.spacing_error is not None)


def _given(name: str) -> Any:
    return lambda dowel, states: getattr(dowel, name) is not None


def tight(dowel: Any) -> list[Metal]:
    """What the pin stretches."""
    return [dowel.tight_material] if dowel.tight_material is not None else []


RULES = (
    Rule(
        "pin stays tight",
        "interference",
        "at least",
        0.0,
        "a pin that loosens in some state walks out and no longer locates",
        "a smaller tight hole (an undersize reamer), or a metal that grows like the pin",
        HEAT,
        ("tight_hole", "pin", "tight_material"),
        above=True,
    ),
    Rule(
        "pin stays free",
        "clearance",
        "at least",
        0.0,
        "a pin tight in both parts can't be taken apart, and galls",
        "a larger free hole (an oversize reamer)",
        HEAT,
        ("free_hole", "pin", "free_material"),
        above=True,
    ),
    Rule(
        "tight part stays elastic",
        "plate_von_mises",
        "at most",
        "plate_allowed",
        "a wall that yields lets the pin go and bulges where the other part sits",
        "a larger tight hole, a thicker wall, or a metal of higher minimum yield",
        RING,
        ("tight_hole", "wall", "tight_material"),
    ),
    Rule(
        "both pins go in",
        "spare",
        "at least",
        0.0,
        "where the spacings of the two parts differ by more than the clearance, the second pin jams",
        "a slot for the second pin, in line with the first (second = slot), or both plates reamed in one",
        PLACES,
        ("second", "free_hole", "spacing_error"),
        asked=_two_round,
        asks="spacing and spacing_error",
    ),
    Rule(
        "air gets out",
        "trapped",
        "at most",
        0.0,
        "trapped air and oil push the pin back out, or crack the bottom of a blind hole",
        "drill a vent through, grind a flat on the pin, or make the hole go through",
        PRACTICE,
        ("vent", "tight_through"),
        asked=_not_through,
        asks="tight_through = false",
    ),
    Rule(
        "pin is held deep enough",
        "engagement",
        "at least",
        1.0,
        "a pin held over less than its diameter tilts under side load",
        "a deeper tight hole, 1.5 diameters in aluminium",
        PRACTICE,
        ("tight_depth",),
        asked=_given("tight_depth"),
        asks="tight_depth",
    ),
    lasting.temper_rule(tight, "tight_material"),
    lasting.cracking_rule(tight, "tight_material"),
)
CAUTIONS = (
    Caution(
        "Hardened pins splinter: press them with an arbor press, never hammer them bare; eye protection.",
        PRACTICE,
    ),
    Caution(
        "Stop the spindle before you gauge, wipe or clear chips; no gloves near it.",
        PRACTICE,
    ),
)
