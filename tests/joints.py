"""Joints for tests: metals of plain numbers, a press evaluated at one corner."""

from __future__ import annotations

from typing import Any

import numpy as np

from fits.features.feature import State
from fits.features.part import Part
from fits.features.press import Press
from fits.materials.metals import Metal
from fits.questions.evaluate import evaluate


def metal(
    modulus: float, poisson: float, *, expansion: float = 0.0, density: float | None = None,
    least: float | None = 1e6, name: str = "test metal",
) -> Metal:
    """A typed metal: MPa, 1/K, kg/m^3."""
    typed = frozenset({"youngs_modulus", "poisson", "yield_strength", "expansion"})
    return Metal(
        name, (modulus, modulus), poisson, least, None, None, density, (expansion, expansion), typed=typed
    )


def press_part(states: tuple[State, ...] = (State("shop"),), **fields: Any) -> Part:
    """A part with one press fit; smooth faces and friction unless given."""
    given = {
        "roughness_hole": 0.0, "roughness_shaft": 0.0, "friction_hold": 0.1, "friction_press": 0.2,
        "length": 100.0, **fields,
    }
    return Part("test", {"joint": Press(**given)}, states)


def numbers(part: Part, column: int = 0) -> dict[str, float]:
    """Every number of an exact joint (one corner, full pressure) in one column."""
    found = evaluate(part, "joint", given=_full(part))
    values = {}
    for name, array in found.numbers.items():
        wide = np.broadcast_to(array, np.broadcast_shapes(array.shape, (1, len(found.states.names))))
        values[name] = float(wide.reshape(-1, wide.shape[-1])[0, column])
    return values


def _full(part: Part) -> dict[str, Any]:
    one = np.array([[[1.0]]])
    return {"part.pressure": one, "part.speed": one, "joint.friction_share": 0.0 * one,
            "joint.roughness_share": one}
