"""How to put a press fit together: the steps, from the ranges of its values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from fits import quantity
from fits.features.feature import Step
from fits.features.press.soaking import RULE, at_heat, soak
from fits.features.press.sources import CLOCK, HEAT, PRESS
from fits.mechanics import cylinder
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Ranges = Mapping[str, tuple[float, float]]

# Lead-in of DIN 7190: at most 5 degrees, cube root of d long (mm); 2 mm/s.
LEAD_IN = Source("DIN 7190: lead-in and speed of pressing", "memory")
SPEED = 2.0
SHOP = Source("common practice", "practice")


def plan(press: Press, numbers: Ranges) -> tuple[Step, ...]:
    """How to assemble: measure, then press or join hot and cold, then measure again."""
    thermal = press.heat_to is not None or press.chill_to is not None
    steps = [_measure()]
    if press.assembly in (None, "pressed", "pressed on oil") and "press_force" in numbers and not thermal:
        steps += _pressing(press, numbers)
    if thermal:
        steps += _hot_and_cold(press, numbers)
    else:
        if press.assembly in (None, "heated") and "heat_hub_to" in numbers:
            steps.append(_heat(press, numbers["heat_hub_to"][1]))
        if press.assembly in (None, "chilled") and "chill_shaft_to" in numbers:
            steps.append(_chill(_temperature(numbers["chill_shaft_to"][0])))
    if press.hollow and "bore_closure" in numbers:
        steps.append(_finish(numbers))
    return tuple(steps)


def _temperature(value: float) -> str:
    return quantity.show(value, "temperature")


def _force(value: float) -> str:
    return quantity.show(value, "force")


def _measure() -> Step:
    return Step(
        "deburr, clean, let both parts reach one temperature, measure both along and around",
        "micrometer and bore gauge",
        "inside the limits above at 20 degC",
        "a size is outside: ask again with the measured sizes",
        source=SHOP,
    )


def _pressing(press: Press, numbers: Ranges) -> list[Step]:
    """Forces at a quarter, half and full depth, or at the end of each slice."""
    least, most = numbers["press_force"]
    by_depth = _by_slice(press) if press.slices else _by_depth(press)
    at = [f"{quantity.span(least * share, most * share, 'force')} at {word}" for share, word in by_depth]
    # What went in with less than holds it by the sums would come out with less.
    held = numbers.get("push_out_force", numbers["press_force"])[0]
    speed = f"{quantity.show(SPEED, 'length', 0)}/s"
    entry = " from slice 1 on" if press.slices else ""
    lead = quantity.show(round(press.hole.nominal ** (1.0 / 3.0), 1), "length", 1)
    return [
        Step(
            "give the part that goes in a lead-in, outside the engaged length",
            "lathe or file and stone",
            f"at most 5 degrees, about {lead} long",
            source=LEAD_IN,
        ),
        Step(
            f"press in square{entry}, in one stroke, about {speed}, and watch the force",
            "press with a gauge",
            "; ".join(at),
            f"the force passes {_force(most)}, jumps, or the part tilts; less than "
            f"{_force(min(held, least))} at full depth: too loose, press out and measure",
            source=PRESS,
        ),
    ]


def _by_depth(press: Press) -> list[tuple[float, str]]:
    """The force rises evenly with depth."""
    depth = quantity.show(press.length.lower, "length", 0) if press.length is not None else "full depth"
    return [(0.25, "1/4"), (0.5, "1/2"), (1.0, f"full depth ({depth})")]


def _by_slice(press: Press) -> list[tuple[float, str]]:
    """The share of the force once each slice is passed, from slice 1 on, by the middles of all sizes."""
    slices = press.slices or ()
    hub, inner = press.hub_material, press.shaft_material
    bore = 0.0 if press.shaft_bore is None else press.shaft_bore.middle
    stiff = cylinder.compliance(
        a=np.array(bore / 2.0),
        c=np.array(press.hole.middle / 2.0),
        b=np.array([one.outside.middle / 2.0 for one in slices]),
        e_i=np.array(inner.youngs_modulus[0]),
        nu_i=inner.poisson,
        e_o=np.array(hub.youngs_modulus[0]),
        nu_o=hub.poisson,
    )
    lengths = np.array([one.length.middle for one in slices])
    force, depth = np.cumsum(lengths / stiff), np.cumsum(lengths)
    return [
        (float(share), f"{quantity.show(float(at), 'length', 0)} (end of slice {number})")
        for number, (share, at) in enumerate(zip(force / force[-1], depth, strict=True), 1)
    ]


def _hot_and_cold(press: Press, numbers: Ranges) -> list[Step]:
    """The typed temperatures, the gap they leave and the time they leave it for."""
    steps = []
    if press.heat_to is not None:
        steps.append(
            Step(
                "heat the hub all through",
                "oven, with a thermometer on the hub",
                _soaking(press, press.heat_to.low, press.heat_to.high),
                "the thermometer on the hub, not the oven's, reads less than that: wait",
                caution="gloves, dry tools",
                source=RULE,
            )
        )
    if press.chill_to is not None:
        steps.append(_chill(_temperature(press.chill_to.high)))
    if "joining_gap" not in numbers:
        return steps
    gap = quantity.show(numbers["joining_gap"][0], "length", 3)
    air, hole = numbers.get("seconds_in_air"), numbers.get("seconds_in_hole")
    times = [f"gap at least {gap}"]
    if air is not None:
        times.append(f"{quantity.show(air[0], 'time')} in still air")
    if hole is not None:
        times.append(f"then {quantity.show(hole[0], 'time', 1)} in the hole if it runs true")
    steps.append(
        Step(
            "try the gap with a chilled or cold plug first, then drop the part home in one move and "
            "hold it against the shoulder until it grips",
            "guide or fixture",
            ", ".join(times),
            "it touches on the way: pull it out at once, or press on",
            source=CLOCK,
        )
    )
    return steps


def _soaking(press: Press, wanted: float, most: float) -> str:
    """To which temperature, how long, and what the time does to the temper at the most."""
    found = soak(press, wanted)
    said = f"{_temperature(wanted)}, at least {found.minutes:.0f} min ({found.how})"
    return "; ".join(filter(None, (said, at_heat(press, most))))


def _chill(shown: str) -> Step:
    return Step(
        "chill the inner part all through (boiling nearly stops), drop it in at once",
        "cold bath",
        f"inner part at {shown}",
        "the part grips before it is home",
        "never a sealed volume, a greased bearing or a brittle metal; ventilate",
        source=HEAT,
    )


def _heat(press: Press, wanted: float) -> Step:
    """Heat the hub, unless that would spoil its metal."""
    shown = _temperature(wanted)
    ceiling = press.hub_material.heating_limit
    if ceiling is not None and wanted > ceiling:
        limit = _temperature(ceiling)
        return Step(
            "do not join by heating alone: press, or heat and chill together (heat_to, chill_to)",
            "oven",
            f"it would need {shown}, and {press.hub_material.name} stands {limit}",
        )
    known = "" if ceiling is not None else " (ask whether its metal and temper stand that)"
    return Step(
        "heat the hub all through and drop the inner part in at once",
        "oven",
        f"hub at {_soaking(press, wanted, wanted)}, for the joining clearance{known}",
        "the part grips before it is home",
    )


def _finish(numbers: Ranges) -> Step:
    """The bore after fitting, and what it may need."""
    low, high = numbers["bore_closure"]
    fitted = numbers.get("bore_in_state")
    closes = f"it closes by {quantity.span(low, high, 'length')}"
    now = "" if fitted is None else f", to {quantity.span(*fitted, 'length', 3)}"
    return Step(
        "let it come to 20 degC and measure the bore; ream or hone it now if it must be closer",
        "bore gauge",
        closes + now,
        "it closed by more than this: look for a part out of round or out of its limits",
        source=SHOP,
    )
