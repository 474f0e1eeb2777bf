"""How to glue a part in, and how to prove that it holds."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from fits import quantity
from fits.features.bonded.rules import pushed
from fits.features.feature import States, Step

if TYPE_CHECKING:
    from fits.features.bonded.declaration import Bonded


def plan(bonded: Bonded, states: States) -> tuple[Step, ...]:
    """Clean, glue, cure, push."""
    return (
        Step(
            "degrease both faces with a solvent that leaves nothing, until a white cloth stays white",
            "solvent of the data sheet; ventilate, no flame",
            stop_if="a face is oily, plated or anodised and the data sheet does not name it",
        ),
        Step(
            "wet both faces all round, turn the inner part once as it goes in, wipe off the rest, and "
            "do not move it again",
            range="both parts at one temperature, about 20 degC",
            stop_if="it sticks before it is home",
        ),
        Step(
            "let it cure as long as the data sheet says for this gap and metal; stainless, aluminium and "
            "cold slow it, an activator speeds it",
            stop_if="what ran out is still wet at the edge after that time",
        ),
        Step(
            "push out a spare of the same metals, gap and cure and write down its force, then push on the "
            "part itself",
            "press with a gauge, behind a guard",
            f"the part is to stand still at {_load(bonded, states)}",
            "it moves: clean it, and find out why before gluing it again",
            "a bond lets go suddenly",
        ),
    )


def _load(bonded: Bonded, states: States) -> str:
    """What it must hold along the axis, without safety."""
    load = bonded.axial_load.high
    if pushed(bonded, states):
        sealed = (bonded.thrust_diameter or bonded.hole).upper
        load += pi / 4.0 * sealed * sealed * float(states.pressure.max())
    if load == 0.0:
        return "the load it must hold"
    return quantity.show(load, "force")
