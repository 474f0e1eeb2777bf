"""What time does to light metals: a temper that fades in the heat, cracks under tension that stays."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
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
TEMPER_LIMIT = "of the metal; 100 degC beyond an hour in all"
NAMELESS = "its alloy and temper are not said (key alloy, or based_on a metal of the table)"
UNKNOWN_CRACKS = f"{NAMELESS}; some crack under tension that stays"
ASKS = "an aged aluminium part, and a state above 100 degC or with a time"
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
        "aged_temper_limit",
        "highest temperature of the aged aluminium",
        "temperature",
        TEMPER_LIMIT,
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
    temper = metal.called.rpartition("-")[2]
    if metal.family == "magnesium":
        return True
    if metal.family != "aluminium":
        return False
    return (metal.called.startswith("7") and temper.startswith("T6")) or (
        metal.called.startswith("2") and temper.startswith(("T3", "T4"))
    )


def may_crack(metal: Metal) -> bool:
    """Whether an alloy cracks so, or isn't said."""
    return metal.unsaid or cracks(metal)


def stood(
    found: dict[str, Array], part: str, metals: Iterable[Metal | None], temperature: Array, s: States
) -> list[NotCovered]:
    """Put ``temperature`` beside the highest that the aged aluminium among some metals stands, by state.

    Beyond an hour in all it is AGED_LONG_USE, which no hours harm, up to an hour the metal's own;
    between the two the hours decide, and where they weren't said it isn't known.
    """
    import numpy as np

    aged = [metal for metal in metals if metal is not None and metal.aged_aluminium]
    if not aged:
        found |= {f"{part}_temperature": temperature, f"{part}_temper_limit": np.full(1, np.inf)}
        return []
    limits = [np.nan if metal.heating_limit is None else metal.heating_limit for metal in aged]
    short = float(np.min(limits))
    cool = temperature <= AGED_LONG_USE
    # Where none is known to be aged, neither heat nor hours fail it.
    nameless = all(metal.unsaid for metal in aged) & ~cool
    unsaid = (s.time == 0.0) & ~cool & ~(temperature > short) & ~nameless
    # What it stands for long it stands for a moment.
    long = (s.time > LONG) | cool
    highest = np.where(unsaid | nameless, np.nan, np.where(long, AGED_LONG_USE, short))
    found |= {f"{part}_temperature": temperature, f"{part}_temper_limit": highest}
    named = " and ".join(dict.fromkeys(metal.name for metal in aged))
    brief = "" if np.isnan(short) else f", up to an hour {short:g} degC"
    hours = (
        f"{named}: how long it is so hot is not said: beyond an hour in all it keeps its temper to "
        f"{AGED_LONG_USE:g} degC{brief}; give the state a time, such as 500 h"
    )
    without = dict.fromkeys(metal.name for metal in aged if metal.heating_limit is None)
    unlisted = f"{' and '.join(without)}: no highest temperature in the table"
    temper = f"{named}: {NAMELESS}; an aged one keeps its temper to {AGED_LONG_USE:g} degC in long use"
    return [
        NotCovered(f"{part}_temper_limit", hours, unsaid),
        NotCovered(f"{part}_temper_limit", temper, nameless),
        NotCovered(f"{part}_temper_limit", unlisted, np.isnan(highest) & ~unsaid & ~nameless),
    ]


def temper(found: dict[str, Array], metals: Iterable[Metal | None], s: States) -> list[NotCovered]:
    """Temperature and limit of the aged aluminium among some metals, by state."""
    import numpy as np

    hotter = np.maximum(s.hub_temperature, s.shaft_temperature)
    return stood(found, "aged", metals, hotter, s)


def fades(metals: Iterable[Metal | None], states: States) -> bool:
    """Whether the temper of some metal is asked: it is aged, and hot or its hours are said."""
    hottest = max(float(states.hub_temperature.max()), float(states.shaft_temperature.max()))
    return (hottest > AGED_LONG_USE or bool((states.time > 0.0).any())) and any(
        metal is not None and metal.aged_aluminium for metal in metals
    )


def temper_rule(metals: Callable[[Any], Iterable[Metal | None]], *fields: str, walls: bool = False) -> Rule:
    """The rule that aged aluminium stays below what its temper stands; ``fields`` hold the metals.

    Of ``walls`` that only bear pressure it is asked where there is some.
    """
    return Rule(
        "aged aluminium keeps its temper",
        "aged_temperature",
        "at most",
        "aged_temper_limit",
        FADES,
        "keep it cooler, a metal that stands the heat, or a shoulder that holds without it",
        PRACTICE,
        fields,
        asked=lambda of, states: (
            fades(metals(of), states) and (not walls or bool((states.pressure > 0.0).any()))
        ),
        asks="" if walls else ASKS,
        applies=(lambda of, states: states.pressure > 0.0) if walls else None,
    )


def cracking(found: dict[str, Array], metals: Sequence[Metal], states: int) -> list[NotCovered]:
    """What is not covered of alloys in tension that stays: each by name."""
    import numpy as np

    why = "may crack under tension that stays; fits press takes cracking_stress, here it is not covered"
    of = {metal.name: f": {UNKNOWN_CRACKS}" for metal in metals if metal.unsaid}
    of |= {metal.name: f" {why}" for metal in metals if cracks(metal)}
    every = np.ones(states, dtype=bool)
    found["cracking"] = np.full(states, np.nan if of else 0.0)
    return [NotCovered("cracking", f"{name}{reason}", every) for name, reason in of.items()]


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
        asked=lambda of, states: any(may_crack(one) for one in metals(of)),
        asks="7xxx-T6, 2xxx-T3, 2xxx-T4 or magnesium in tension",
    )
