"""What time does to light metals: a temper that fades in the heat, cracks under tension that stays."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from fits.features.feature import NotCovered, Rule, States
from fits.features.parts import AGED_LONG_USE, PRACTICE
from fits.features.value import value
from fits.features.when import AS_MADE, EVERY
from fits.materials.metals import Metal

if TYPE_CHECKING:
    from fits.arrays import Array

# Beyond this a state counts as long use (common practice), s.
LONG = 3600.0
FADES = "an aged aluminium temper loses strength and grip in long use above 100 degC"
CRACKS = "tension that stays opens cracks in some alloys where it is damp, long after the fit was made"

TEMPER = (
    value(
        "aged_temperature",
        "temperature of the aged aluminium",
        "temperature",
        "of the state, the hotter part's",
        PRACTICE,
        (),
        shown=False,
    ),
    value(
        "aged_limit",
        "highest temperature of the aged aluminium",
        "temperature",
        "of the metal; 100 degC beyond an hour in all",
        PRACTICE,
        (),
        shown=False,
    ),
)
CRACKING = (
    value(
        "cracking",
        "tension of such an alloy",
        "pressure",
        "not covered",
        PRACTICE,
        (),
        EVERY,
        AS_MADE,
        shown=False,
    ),
)


def cracks(metal: Metal) -> bool:
    """Whether an alloy is known to crack under tension that stays, where it is damp."""
    temper = metal.name.rpartition("-")[2]
    if metal.family == "magnesium":
        return True
    if metal.family != "aluminium":
        return False
    return (metal.name.startswith("7") and temper.startswith("T6")) or (
        metal.name.startswith("2") and temper.startswith(("T3", "T4"))
    )


def temper(found: dict[str, Array], metals: Iterable[Metal], s: States) -> list[NotCovered]:
    """Temperature and limit of the aged aluminium among some metals, by state."""
    import numpy as np

    aged = [metal for metal in metals if metal.aged_aluminium]
    limits = [np.nan if metal.heating_limit is None else metal.heating_limit for metal in aged]
    short = float(np.min(limits)) if limits else np.nan
    found["aged_temperature"] = np.maximum(s.hub_temperature, s.shaft_temperature)
    found["aged_limit"] = np.where((s.time > LONG) & bool(aged), AGED_LONG_USE, short)
    reason = "aged aluminium: no highest temperature in the table"
    return [NotCovered("aged_limit", reason, np.isnan(found["aged_limit"]))]


def temper_rule(metals: Callable[[Any], Iterable[Metal]], *fields: str) -> Rule:
    """The rule that aged aluminium stays below what its temper stands; ``fields`` hold the metals."""
    return Rule(
        "aged aluminium keeps its temper",
        "aged_temperature",
        "at most",
        "aged_limit",
        FADES,
        "keep it cooler, a metal that stands the heat, or a shoulder that holds without it",
        PRACTICE,
        fields,
        asked=lambda of, states: (
            any(one.aged_aluminium for one in metals(of)) and bool((states.time > 0.0).any())
        ),
        asks="an aged aluminium part and the time of a state",
        applies=lambda of, states: states.time > 0.0,
    )


def cracking(found: dict[str, Array], metals: Iterable[Metal], states: int) -> list[NotCovered]:
    """What is not covered of alloys in tension that stays: each by name."""
    import numpy as np

    prone = [metal.name for metal in metals if cracks(metal)]
    every = np.ones(states, dtype=bool)
    found["cracking"] = np.full(states, np.nan if prone else 0.0)
    reason = "may crack under tension that stays; fits press takes cracking_stress, here it is not covered"
    return [NotCovered("cracking", f"{name} {reason}", every) for name in dict.fromkeys(prone)]


def cracking_rule(metals: Callable[[Any], Iterable[Metal]], *fields: str) -> Rule:
    """The rule that no alloy known to crack is left in tension."""
    return Rule(
        "nothing cracks with time",
        "cracking",
        "at most",
        0.0,
        CRACKS,
        "an alloy and temper that does not crack (6061-T6)",
        PRACTICE,
        fields,
        asked=lambda of, states: any(cracks(one) for one in metals(of)),
        asks="7xxx-T6, 2xxx-T3, 2xxx-T4 or magnesium in tension",
    )
