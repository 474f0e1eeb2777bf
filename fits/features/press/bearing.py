"""A bearing ring as one of the parts: what its seat takes from the bearing's clearance."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array
from fits.features.feature import Caution, Refusal, Rule, States
from fits.features.parts import GEOMETRY, PRACTICE
from fits.features.press.sources import BEARING
from fits.features.value import value
from fits.features.when import AS_MADE, EVERY

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

# A bearing is neither used nor heated above this, open ones (SKF, hot mounting), degC.
HOTTEST = 120.0


def ring(press: Any) -> str:
    """Which ring of a bearing is a part of the joint: outer, inner, or none ("")."""
    if getattr(press.shaft, "bought", "") == "bearing":
        return "outer"
    return "inner" if getattr(press.hole, "bought", "") == "bearing" else ""


def numbers(found: dict[str, Array], press: Press, d: Mapping[str, Array], s: States) -> None:
    """How far the raceway moves, and what is left of the clearance, mm on the diameter."""
    of = ring(press)
    if not of:
        return
    found["ring_temperature"] = s.shaft_temperature if of == "outer" else s.hub_temperature
    found["raceway_change"] = found["bore_closure" if of == "outer" else "outside_growth"]
    if press.internal_clearance is not None:
        found["clearance_left"] = d["internal_clearance"] - found["raceway_change"]


def _is_ring(press: Any, states: States) -> bool:
    return bool(ring(press))


VALUES = (
    value(
        "ring_temperature",
        "temperature of the bearing ring",
        "temperature",
        "of the state",
        BEARING,
        (),
        shown=False,
    ),
    value(
        "raceway_change",
        "the seat takes from the bearing's clearance",
        "length",
        "closing of the outer raceway, or growth of the inner one",
        GEOMETRY,
        ("bore_closure", "outside_growth"),
        EVERY,
        AS_MADE,
        inside=("shaft_bore", "pressure_share"),
    ),
    value(
        "clearance_left",
        "clearance left in the bearing",
        "length",
        "internal_clearance - what the seat takes",
        GEOMETRY,
        ("internal_clearance", "raceway_change"),
        EVERY,
        AS_MADE,
        inside=("shaft_bore", "pressure_share"),
    ),
)

RULES = (
    Rule(
        "bearing keeps clearance",
        "clearance_left",
        "at least",
        0.0,
        "a tight seat closes the raceway until the balls bind and the bearing runs hot",
        "less interference, or a bearing of greater internal clearance (C3)",
        GEOMETRY,
        ("hole", "shaft", "internal_clearance"),
        asked=lambda press, states: bool(ring(press)) and press.internal_clearance is not None,
        asks="a bearing ring and internal_clearance",
    ),
    Rule(
        "bearing is not overheated",
        "ring_temperature",
        "at most",
        HOTTEST,
        "above this the ring's steel grows for good, and grease, seals and cage fail earlier",
        "keep it cooler, or ask the bearing's maker for a stabilised ring",
        BEARING,
        (),
        asked=_is_ring,
        asks="a bearing ring",
    ),
)

REFUSALS = (
    Refusal(
        "chilled bearing",
        lambda press, states: (
            "rings shrink unevenly in a cold bath and balls dent the raceways; grease, seals and cage crack"
        ),
        "heat the housing instead, or the bearing by its inner ring, open to 120 degC at most, sealed to 80",
        PRACTICE,
        lambda press, states: (
            ring(press) == "outer" and (press.assembly == "chilled" or press.chill_to is not None)
        ),
    ),
)

CAUTIONS = (
    Caution(
        "A bearing is pressed by the ring that has the tight fit, never through the balls; its other "
        "ring's fit and warmth also change the clearance and are not counted.",
        PRACTICE,
        _is_ring,
    ),
)


def no_raceway(press: Any) -> str:
    """What is missing where a part bought hollow has no bore, or an empty text."""
    bought = getattr(press.shaft, "bought", "")
    if press.hollow or bought not in ("bearing", "bush", "tube"):
        return ""
    if bought == "bearing":
        return "a bearing's outer ring is a hollow part: give the diameter of its raceway"
    return f"a {bought} is a hollow part: give its bore"


def ceiling(press: Any, of_metal: float | None) -> float:
    """The highest temperature for heating the hub, degC, NaN where it isn't known."""
    if ring(press) == "inner":
        return HOTTEST if of_metal is None else min(HOTTEST, of_metal)
    return np.nan if of_metal is None else of_metal
