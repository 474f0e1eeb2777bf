"""The worst case proved: interval arithmetic over the whole box of sizes encloses every range told.

The formulas are written here from textbooks, not taken from the package: Lamé's cylinders
(Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eqs. 3-49 to 3-51, 3-56, 3-57),
the ring's section by volume and by SAE ARP1232 (from memory), Pappus for volumes. What the package
reports from corners and interior extremes must lie inside the bounds, and reach their ends within a
stated share of the range.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from intervals import Box, Enclosed, Formula, enclosed
from mpmath import iv

from fits.features.feature import State
from fits.features.gland import PistonGland
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.check import check

# How tight the bounds are, as a share of the range; what is told must be twice as near to them.
TIGHT = 0.02
Sizes = Mapping[str, Any]

HUB = {"youngs_modulus": "70 GPa", "poisson": 0.33, "yield_strength": "240 MPa", "expansion": "23.0e-6 to 23.8e-6 1/K"}
INNER = {"youngs_modulus": "196 GPa", "poisson": 0.272, "yield_strength": "1000 MPa", "expansion": "10.8e-6 to 11.2e-6 1/K"}
E_O, NU_O, E_I, NU_I = 70000.0, 0.33, 196000.0, 0.272


def reported(feature: Any, state: State) -> dict[str, dict[str, Any]]:
    """Every value's ranges by state, as check reports them."""
    answer = check(Part("one", {"one": feature}, (state,)))
    return {value.name: dict(value.states) for value in answer.features[0].values}


def told(feature: Any, state: State, value: str, at: str = "") -> tuple[float, float]:
    one = reported(feature, state)[value][at or state.name]
    return one.least, one.greatest


def holds(found: Enclosed, least: float, greatest: float, share: float = TIGHT) -> None:
    """What is told lies inside the proved bounds and reaches them."""
    room = 2.0 * share * (found.high - found.low)
    rounding = 1e-9 * max(abs(found.low), abs(found.high))
    assert found.low - rounding <= least <= found.low + room + rounding, (found, least)
    assert found.high - room - rounding <= greatest <= found.high + rounding, (found, greatest)


def most(a: Any, b: float) -> Any:
    """max(a, b) of an interval."""
    return iv.mpf([max(a.a, b), max(a.b, b)])


def hull(a: Any, b: Any) -> Any:
    return iv.mpf([min(a.a, b.a), max(a.b, b.b)])


# --- Press ------------------------------------------------------------------------------------


def joint(i: Sizes) -> tuple[Any, Any]:
    """D of Shigley's eq. 3-56, and the share of the bore's pressure that presses the liner outward.

    Written with a quotient of squares, in which each size stands once.
    """
    c = i["hole"] / 2
    hub = 1 + 2 / ((i["outside"] / i["hole"]) ** 2 - 1)
    wall = (i["hole"] / i["bore"]) ** 2 - 1
    inner = 1 + 2 / wall
    return c * ((hub + NU_O) / E_O + (inner - NU_I) / E_I), 2 * c / (E_I * wall)


def radial(i: Sizes) -> Any:
    """Radial interference left by heat and the smoothing of the faces, mm."""
    rise = i["rise"]
    return (i["shaft"] - i["hole"] * (1 + (i["alpha_o"] - i["alpha_i"]) * rise) - i["loss"]) / 2


def contact(i: Sizes) -> Any:
    stiff, gain = joint(i)
    return most((radial(i) + i["p"] * gain) / stiff, 0.0)


def hub_mises(i: Sizes) -> Any:
    """p sqrt(3 b^4 + c^4)/(b^2 - c^2), no axial stress."""
    t = (i["hole"] / i["outside"]) ** 2
    return contact(i) * iv.sqrt(3 + t * t) / (1 - t)


def press_force(i: Sizes) -> Any:
    stiff, _ = joint(i)
    return i["mu_in"] * iv.pi * i["hole"] * i["length"] * most((i["shaft"] - i["hole"]) / 2, 0.0) / stiff


def capacity(i: Sizes) -> Any:
    """The lesser of the contact with and without bore pressure holds."""
    stiff, gain = joint(i)
    dry = most(radial(i) / stiff, 0.0)
    wet = most((radial(i) + i["p"] * gain) / stiff, 0.0)
    held = iv.mpf([min(dry.a, wet.a), min(dry.b, wet.b)])
    return i["mu"] * held * iv.pi * i["hole"] * i["length"]


def closure(i: Sizes) -> Any:
    """-a_d (hoop + nu p)/E at the liner's bore: 2 p_c c^2/(c^2-a^2) less p (c^2+a^2)/(c^2-a^2)."""
    wall = 1 - (i["bore"] / i["hole"]) ** 2
    hoop = i["p"] * (2 / wall - 1) - 2 * contact(i) / wall
    return -i["bore"] * (hoop + NU_I * i["p"]) / E_I


PRESSES: dict[str, tuple[dict[str, Any], State]] = {
    "shop": ({}, State("shop")),
    "hot under pressure": ({}, State("hot", 70.0, 70.0, 8.0)),
    "thick liner": ({"shaft_bore": "3 ±0.4"}, State("shop")),
    "loose tolerances": ({"hole": "16 H11", "shaft": "16.2 ±0.05", "shaft_bore": "15.3 ±0.2", "hub_outside": "22 ±2"}, State("hot", 60.0, 60.0, 20.0)),
    "cold": ({"shaft": "16.02 ±0.01"}, State("cold", -40.0, -40.0)),
}


def press(changes: dict[str, Any]) -> Press:
    given = {
        "hole": "16 H7", "shaft": "16.060/16.050", "shaft_bore": "12 ±0.05", "hub_outside": "32 ±0.1", "length": "40 ±0.5", "hub_material": HUB,
        "shaft_material": INNER, "friction_hold": "0.10 to 0.12", "friction_press": "0.15 to 0.20", "roughness_hole": "3 um", "roughness_shaft": "2 um",
        "ends": "open",
    }
    return Press(**{**given, **changes})


def press_box(of: Press, state: State) -> Box:
    rise = state.hub_temperature - 20.0
    return {
        "hole": (of.hole.lower, of.hole.upper), "shaft": (of.shaft.lower, of.shaft.upper), "bore": (of.shaft_bore.lower, of.shaft_bore.upper),
        "outside": (of.hub_outside.lower, of.hub_outside.upper), "length": (of.length.lower, of.length.upper), "mu": (0.10, 0.12), "mu_in": (0.15, 0.20),
        "p": (0.0, state.pressure), "rise": (rise, rise), "alpha_o": (23.0e-6, 23.8e-6), "alpha_i": (10.8e-6, 11.2e-6),
        # 0.8 of both Rz (DIN 7190:2001), or nothing of it.
        "loss": (0.0, 0.8 * 5e-3),
    }


@pytest.mark.parametrize("case", PRESSES)
@pytest.mark.parametrize(("value", "formula"), [
    ("contact_pressure", contact), ("hub_von_mises", hub_mises), ("axial_capacity", capacity), ("press_force", press_force), ("bore_closure", closure),
])
def test_every_press_in_the_box_lies_in_the_range_told(case: str, value: str, formula: Formula):
    changes, state = PRESSES[case]
    of = press(changes)
    at = "assembly" if value == "press_force" else state.name
    holds(enclosed(formula, press_box(of, state), share=TIGHT), *told(of, state, value, at))


# --- Running ----------------------------------------------------------------------------------


def clearance(i: Sizes) -> Any:
    """Hole less shaft, each with its heat; the wall breathes, the solid shaft shrinks (Lamé)."""
    spread = 1 + 2 / ((i["outside"] / i["hole"]) ** 2 - 1)
    hole = i["hole"] * (1 + i["alpha_o"] * i["rise"] + i["p"] / E_O * (spread + NU_O))
    return hole - i["shaft"] * (1 + i["alpha_i"] * i["rise"] - i["p"] * (1 - NU_I) / E_I)


@pytest.mark.parametrize("state", [State("shop"), State("hot", 90.0, 90.0, 16.0), State("cold", -30.0, -30.0), State("proof", 20.0, 20.0, 40.0, proof=True)], ids=lambda one: one.name)
@pytest.mark.parametrize("sizes", [("12 H7", "12 f7", "20 ±0.1"), ("40 H11", "40 d11", "44 ±0.8"), ("6 ±0.001", "5.99 ±0.001", "60")])
def test_every_running_fit_in_the_box_lies_in_the_range_told(sizes: tuple[str, str, str], state: State):
    of = Running(hole=sizes[0], shaft=sizes[1], hub_outside=sizes[2], hub_material=HUB, shaft_material=INNER, clearance_at_least="0.001")
    rise = state.hub_temperature - 20.0
    assert of.hub_outside is not None
    box = {
        "hole": (of.hole.lower, of.hole.upper), "shaft": (of.shaft.lower, of.shaft.upper), "outside": (of.hub_outside.lower, of.hub_outside.upper),  # type: ignore[union-attr]
        "p": (0.0, state.pressure), "rise": (rise, rise), "alpha_o": (23.0e-6, 23.8e-6), "alpha_i": (10.8e-6, 11.2e-6),
    }
    holds(enclosed(clearance, box, share=TIGHT), *told(of, state, "clearance"))


# --- Gland ------------------------------------------------------------------------------------


def grown(i: Sizes) -> Any:
    """Ring's factor: heat, then volume swell shared alike."""
    return (1 + i["alpha_r"] * i["rise"]) * iv.exp(iv.log(1 + i["swell"]) / 3)


def hot(i: Sizes) -> Any:
    return 1 + i["alpha"] * i["rise"]


def stretch(i: Sizes) -> Any:
    return i["groove"] * hot(i) / (i["inside"] * grown(i)) - 1


def curve(x: Any) -> Any:
    """Share of the section lost across the squeeze (ARP1232, from memory): two branches, none when loose."""
    percent = 100 * x
    assert percent.b <= 25
    parts = []
    if percent.a < 0:
        parts.append(iv.mpf(0))
    for low, high, of in ((0, 3, lambda y: 0.01 + 1.06 * y - 0.1 * y * y), (3, 25, lambda y: 0.56 + 0.59 * y - 0.0046 * y * y)):
        if percent.b >= low and percent.a <= high:
            ends = [iv.mpf(max(percent.a, low)), iv.mpf(min(percent.b, high))]
            # Both branches rise over their own stretch.
            parts.append(hull(of(ends[0]), of(ends[1])) / 100)
    found = parts[0]
    for part in parts[1:]:
        found = hull(found, part)
    return found


def depth(i: Sizes) -> Any:
    return (i["bore"] - i["groove"]) * hot(i) / 2


def fresh(i: Sizes) -> Any:
    return 1 - (i["bore"] - i["groove"]) / 2 / i["section"]


def shift(i: Sizes) -> Any:
    """To one side by half the clearance of the diameters, and half the runout."""
    return (i["bore"] - i["piston"]) * hot(i) / 2 + i["runout"] / 2


def pushed_away(i: Sizes) -> Any:
    """Squeeze over the free section in its state, thinned by the curve, where the gap is widest."""
    return (1 - curve(stretch(i))) - (depth(i) + shift(i)) / (i["section"] * grown(i))


def pushed_close(i: Sizes) -> Any:
    """The same on the other side, no thinner than its volume says."""
    free = i["section"] * grown(i)
    return (same_volume(free, i["inside"] * grown(i), i["groove"] * hot(i)) - (depth(i) - shift(i))) / free


def same_volume(section: Any, inside: Any, seat: Any) -> Any:
    """d1 of d1^2 (seat + d1) = d^2 (inside + d): it rises with d and inside and falls with the seat."""

    def solved(d: float, within: float, on: float) -> Any:
        held = d * d * (within + d)
        found = d
        for _ in range(8):
            found -= (found * found * (on + found) - held) / (found * (2.0 * on + 3.0 * found))
        low, high = found * (1.0 - 1e-12), found * (1.0 + 1e-12)
        # Whatever the steps did, the volume says that the root lies between.
        volume = iv.mpf(d) ** 2 * (iv.mpf(within) + d)
        assert (iv.mpf(low) ** 2 * (iv.mpf(on) + low)).b <= volume.a
        assert (iv.mpf(high) ** 2 * (iv.mpf(on) + high)).a >= volume.b
        return iv.mpf([low, high])

    return hull(solved(float(section.a), float(inside.a), float(seat.b)), solved(float(section.b), float(inside.b), float(seat.a)))


def fill(i: Sizes) -> Any:
    """Ring over groove and gap, by Pappus; two bottom radii take (1 - pi/4) r^2 each (Shapes of the corner)."""
    g = grown(i)
    ring = iv.pi ** 2 / 4 * (i["section"] * g) ** 2 * (i["inside"] + i["section"]) * g
    corner = 2 * (1 - iv.pi / 4) * i["radius"] ** 2
    # The corner's centroid lies (10 - 3 pi)/(12 - 3 pi) r from both sides.
    at = i["groove"] + 2 * (10 - 3 * iv.pi) / (12 - 3 * iv.pi) * i["radius"]
    room = iv.pi / 4 * (i["bore"] - i["groove"]) * (i["bore"] + i["groove"]) * i["width"] - iv.pi * at * corner
    return ring / (room * hot(i) ** 3)


GLANDS: dict[str, tuple[dict[str, Any], State]] = {
    "ordinary": ({}, State("shop")),
    "hot": ({}, State("hot", 70.0, 70.0)),
    "cold": ({}, State("cold", -20.0, -20.0)),
    # A larger groove thins a small ring by more than it lifts it: the least squeeze lies inside the zone.
    "small ring": ({"ring": {"inside": "2.90 ±0.10", "section": "1.78 ±0.08"}, "bore": "6.0 H8", "piston_diameter": "6.0 f7", "groove_diameter": "3.0 ±0.1",
                    "groove_width": "2.6 +0.2/0", "corner_radius": "0.2 ±0.1"}, State("shop")),
    "small ring, hot": ({"ring": {"inside": "2.62 ±0.10", "section": "1.78 ±0.08"}, "bore": "5.9 H8", "piston_diameter": "5.9 f7", "groove_diameter": "2.8 ±0.12",
                         "groove_width": "2.6 +0.2/0", "corner_radius": "0.2 ±0.1"}, State("hot", 80.0, 80.0)),
}
PLAIN = {"youngs_modulus": "200 GPa", "poisson": 0.29, "expansion": "12e-6 1/K", "yield_strength": "300 MPa"}


def gland(changes: dict[str, Any]) -> PistonGland:
    given = {
        "ring": {"inside": "24.99 ±0.25", "section": "3.53 ±0.10"}, "elastomer": {"based_on": "NBR 70", "expansion": "110e-6 to 230e-6 1/K"}, "duty": "static",
        "medium": "liquid", "fluid": "mineral oil", "bore": "31 H8", "piston_diameter": "31 f7", "groove_diameter": "25.4 h9", "groove_width": "4.8 +0.2/0",
        "corner_radius": "0.4 ±0.1", "runout": "0.02", "swell": "0 to 0.05", "compression_set": "0.2", "finish": "0.8 um", "lead_in": "4.5",
        "hub_material": PLAIN, "shaft_material": PLAIN,
    }
    return PistonGland(**{**given, **changes})


def gland_box(of: PistonGland, state: State) -> Box:
    rise = state.hub_temperature - 20.0
    sizes = {"bore": of.bore, "piston": of.piston_diameter, "groove": of.groove_diameter, "width": of.groove_width, "radius": of.corner_radius,
             "inside": of.ring.inside, "section": of.ring.section}
    box = {name: (size.lower, size.upper) for name, size in sizes.items()}  # type: ignore[union-attr]
    return {**box, "runout": (0.02, 0.02), "swell": (0.0, 0.05), "rise": (rise, rise), "alpha": (12e-6, 12e-6), "alpha_r": (110e-6, 230e-6)}


@pytest.mark.parametrize("case", GLANDS)
@pytest.mark.parametrize(("value", "formula"), [("fresh_squeeze", fresh), ("stretch", stretch), ("fill", fill)])
def test_every_gland_in_the_box_lies_in_the_range_told(case: str, value: str, formula: Formula):
    changes, state = GLANDS[case]
    of = gland(changes)
    at = "as_made" if value == "fresh_squeeze" else state.name
    holds(enclosed(formula, gland_box(of, state), share=TIGHT), *told(of, state, value, at))


@pytest.mark.parametrize("case", GLANDS)
def test_every_squeeze_in_the_box_lies_in_the_range_told(case: str):
    changes, state = GLANDS[case]
    of = gland(changes)
    away, close = (enclosed(one, gland_box(of, state), share=TIGHT) for one in (pushed_away, pushed_close))
    holds(Enclosed(away.low, away.least, close.greatest, close.high), *told(of, state, "squeeze"))


def test_the_least_squeeze_of_a_small_ring_lies_between_the_corners():
    """2.90 x 1.78 at 0 to 2.4 % stretch: least at 1.23 %, by d Y'(x)/ID = 1/2; a groove at either limit shows more."""
    of = gland({
        "ring": {"inside": "2.90 ±0.0001", "section": "1.78 ±0.0001"}, "bore": "6.0 ±0.0005", "piston_diameter": "5.99 ±0.0005", "groove_diameter": "2.97/2.90",
        "groove_width": "2.6", "corner_radius": "0.2", "swell": "0", "runout": "0",
    })
    box = {**gland_box(of, State("shop")), "swell": (0.0, 0.0), "runout": (0.0, 0.0)}
    found = enclosed(pushed_away, box, share=TIGHT)
    least, _ = told(of, State("shop"), "squeeze")
    assert found.low - 1e-9 <= least <= found.low + 2.0 * TIGHT * (found.high - found.low)
    corners = min(float(pushed_away({**box_at(box), "groove": iv.mpf(end), "bore": iv.mpf(6.0005), "piston": iv.mpf(5.9895), "inside": iv.mpf(2.9001), "section": iv.mpf(1.7799)}).a) for end in (2.90, 2.97))
    assert corners > found.least + 0.2 * (found.high - found.low)


def box_at(box: Box) -> dict[str, Any]:
    """The least of every size."""
    return {name: iv.mpf(ends[0]) for name, ends in box.items()}


# --- The bounds themselves --------------------------------------------------------------------


def test_a_range_that_is_too_narrow_is_found():
    """One end moved by 5 % of the range, or the corners of a bend without its inside, don't pass."""
    found = enclosed(clearance, {"hole": (12.0, 12.018), "shaft": (11.966, 11.984), "outside": (20.0, 20.0), "p": (0.0, 0.0), "rise": (0.0, 0.0), "alpha_o": (0.0, 0.0), "alpha_i": (0.0, 0.0)})
    holds(found, 0.016, 0.052)
    for least, greatest in ((0.0179, 0.052), (0.016, 0.0501), (0.0159, 0.052), (0.016, 0.0521)):
        with pytest.raises(AssertionError):
            holds(found, least, greatest)
    bend = enclosed(lambda i: (i["x"] - 1) ** 2, {"x": (0.0, 3.0)}, share=TIGHT)
    holds(bend, 0.0, 4.0)
    with pytest.raises(AssertionError):
        holds(bend, 1.0, 4.0)
