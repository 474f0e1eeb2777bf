"""Glands for tests: a whole one of each form with everything typed, and their numbers."""

from __future__ import annotations

from typing import Any

import numpy as np

from fits.features.feature import Feature, State
from fits.features.kinds import kind
from fits.features.part import Part
from fits.questions.evaluate import evaluate
from fits.shop.rings import Ring
from fits.sizes.limits import Limits
from fits.tables import Source

COMMON: dict[str, Any] = {
    "elastomer": "NBR 70", "duty": "static", "medium": "liquid", "fluid": "mineral oil", "swell": "0 to 0.05",
    "compression_set": "0.2", "finish": "0.4 um", "hub_material": "6061-T6",
}
BOTTOM: dict[str, Any] = {"groove_width": "4.8 ±0.05", "corner_radius": "0.4 ±0.1", "land": "3 ±0.1"}
RADIAL: dict[str, Any] = {**BOTTOM, "lead_in": "6", "shaft_material": "6061-T6", "hub_outside": "45 ±0.1"}
WHOLE: dict[str, dict[str, Any]] = {
    "piston": {**COMMON, **RADIAL, "ring": "AS568-214", "bore": "31 H8", "piston_diameter": "31 f7", "groove_diameter": "25.4 h9"},
    "rod": {**COMMON, **RADIAL, "ring": "AS568-214", "rod": "25.2 f7", "housing_bore": "25.2 H8", "groove_diameter": "31.54 +0.05/0"},
    "face": {
        **COMMON, **BOTTOM, "ring": "AS568-232", "pressure_side": "inside", "groove_outside": "75.3 +0.2/0", "gland_depth": "2.68 ±0.04",
        "groove_width": "5.1 ±0.1", "cover_gap": "0", "bolt_preload": "200 kN",
    },
    "dovetail": {
        **COMMON, "swell": "0", "ring": "AS568-232", "pressure_side": "inside", "groove_middle": "73.8 ±0.1", "gland_depth": "2.92 ±0.025",
        "mouth_width": "3.1 ±0.03", "undercut_angle": "24", "corner_radius": "0.4 ±0.1", "edge_radius": "0.15 ±0.02", "land": "3 ±0.1", "cover_gap": "0", "bolt_preload": "200 kN",
    },
    "triangular": {
        **COMMON, "swell": "0", "ring": "AS568-220", "pressure_side": "inside", "spigot": "34.9 h8", "leg": "4.80 ±0.05", "cover_gap": "0",
        "bolt_preload": "200 kN",
    },
}
SHOP, COLD, HOT = State("shop"), State("cold", -15.0, -15.0), State("hot", 60.0, 60.0, 3.0)
STATES = (SHOP, COLD, HOT)


def gland(form: str, **changes: Any) -> Feature:
    """A whole gland of a form; a change to None takes the field away."""
    keys = {key: value for key, value in {**WHOLE[form], **changes}.items() if value is not None}
    return kind(f"gland {form}")(**keys)


def part(form: str, states: tuple[State, ...] = STATES, **changes: Any) -> Part:
    """A part with that gland, called seal."""
    return Part("test", {"seal": gland(form, **changes)}, states)


def numbers(of: Part, column: str = "shop", **given: float) -> dict[str, float]:
    """The numbers at one point: every dimension at the middle of its levels, or as given."""
    from fits.questions.evaluate import relevant

    dimensions = relevant(of, "seal")
    arrays = {}
    for key, one in dimensions.items():
        middle = given.get(one.name, sum(one.levels) / len(one.levels))
        arrays[key] = np.array([[middle]])
    found = evaluate(of, "seal", given=arrays, corners={})
    at = found.states.names.index(column)
    values = {}
    for name, array in found.numbers.items():
        flat = array.reshape(-1, array.shape[-1])
        values[name] = float(flat[0, at if flat.shape[1] > 1 else -1])
    return values


def exact_ring(inside: float, section: float) -> Ring:
    """A ring without tolerance, as none is bought: for hand calculations."""
    return Ring("exact", Limits(inside, inside), Limits(section, section), Source("typed", "typed"))


# Every size one number, so that a hand calculation has one corner: the ring lies unstretched on its seat, or just against its wall.
EXACT: dict[str, dict[str, Any]] = {
    "piston": {"ring": exact_ring(25.0, 3.5), "bore": "31", "piston_diameter": "30.9", "groove_diameter": "25", "hub_outside": "45", "guide_clearance": "0"},
    "rod": {"ring": exact_ring(25.0, 3.5), "rod": "25", "housing_bore": "25.1", "groove_diameter": "31", "hub_outside": "45", "guide_clearance": "0"},
    "face": {"ring": exact_ring(69.0, 3.5), "groove_outside": "76", "groove_width": "5", "gland_depth": "2.8"},
    "dovetail": {"ring": exact_ring(69.0, 3.5), "groove_middle": "72.5", "gland_depth": "2.9", "mouth_width": "3.1", "edge_radius": "0.15"},
    "triangular": {"ring": exact_ring(34.9, 3.5), "spigot": "34.9", "leg": "4.8"},
}


def exact(form: str, states: tuple[State, ...] = (SHOP,), **changes: Any) -> Part:
    """A part with a gland of exact sizes: at 20 degC, no swell, no set, unless said."""
    own = {"swell": "0", "compression_set": "0", **EXACT[form]}
    if form in ("piston", "rod", "face"):
        own |= {"groove_width": "5", "corner_radius": "0.4", "land": "3"}
    if form == "dovetail":
        own |= {"corner_radius": "0.4", "land": "3"}
    return part(form, states, **{**own, **changes})


def judged(of: Part) -> dict[str, Any]:
    """Every rule of its only feature, by name."""
    from fits.questions.check import check

    return {one.rule: one for one in check(of).features[0].checks}
