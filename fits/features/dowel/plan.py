"""How to make and fit a dowel joint."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fits import quantity
from fits.features.feature import Step
from fits.features.parts import PRACTICE
from fits.features.tools import between

if TYPE_CHECKING:
    from fits.features.dowel.declaration import Dowel


def plan(dowel: Dowel) -> tuple[Step, ...]:
    """Ream both holes, vent, press, slip, try."""
    steps = [_ream(dowel, which) for which in ("tight", "free")]
    if dowel.second == "slot":
        do = "mill the slot for the second pin in line with the first, as wide as the free hole"
        steps.append(Step(do, "end mill", source=PRACTICE))
    if dowel.tight_through is not True:
        do = "let the air out of the blind hole: drill through small, or grind a flat on the pin"
        steps.append(Step(do, source=PRACTICE))
    hole = dowel.hole("tight")
    if hole is not None:
        low, high = (
            quantity.show(end, "length") for end in (dowel.pin.lower - hole[1], dowel.pin.upper - hole[0])
        )
        steps.append(
            Step(
                "press the pin in oiled and square, its chamfered end first",
                "arbor press",
                f"tight by {low} to {high}",
                "it goes in by hand, or tilts",
                source=PRACTICE,
            )
        )
    do = "put the other part on by hand: it slides home on both pins"
    steps.append(Step(do, "", "", "it binds: look at the spacing, not at the pins", source=PRACTICE))
    return tuple(one for one in steps if one is not None)


def _ream(dowel: Dowel, which: str) -> Step | None:
    """How one of the two holes is made."""
    hole, band = dowel.hole(which), dowel.band(which)
    if hole is None:
        return None
    tool = "bore or hone it, no reamer holds so little"
    if band is not None:
        size = "undersize" if which == "tight" else "oversize"
        tool = f"{size} reamer that measures {between(band.low, band.high)}, trial hole first"
    do = f"ream the {which} hole ({tool}; fits reamed plans it)"
    return Step(do, "reamer", between(*hole), source=PRACTICE)
