"""The section of a groove, corner by corner, from sizes by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest
from glands import exact_ring, gland

# A ring of 3.6 mm, on its seat 3.4 to 3.5, in a gland 2.8 to 2.9 deep.
NUMBERS = {"gland_depth": (2.8, 2.9), "ring_section": (3.4, 3.5)}
DEPTH, SEATED, FREE = 2.85, 3.45, 3.6
RING = exact_ring(25.0, FREE)
WIDE = {"groove_width": "4.6 +0.4/0", "side_angle": "4 to 5"}


def shapes(figures: tuple[Any, ...]) -> dict[str, tuple[str, tuple[float, ...]]]:
    (figure,) = figures
    assert figure.title == "groove and ring at 20 degC, middle of all limits"
    assert len({label for _, _, label in figure.shapes}) == len(figure.shapes)
    return {label: (word, numbers) for word, numbers, label in figure.shapes}


def near(got: tuple[str, tuple[float, ...]], word: str, numbers: tuple[float, ...]) -> None:
    assert got[0] == word
    assert got[1] == pytest.approx(numbers, abs=1e-12)


@pytest.mark.parametrize(("form", "sizes", "gap", "other"), [
    # The cut is half of 30.9 - 25.4 = 2.75 deep, of 31.3 - 25.9 = 2.7: what is left of 2.85 is the gap on one side.
    ("piston", {"bore": "31.1", "piston_diameter": "30.9 ±0.02", "groove_diameter": "25.4 0/-0.1"}, 2.85 - (30.9 - 25.35) / 2.0, "mating part"),
    ("rod", {"rod": "25.6", "housing_bore": "25.9 ±0.02", "groove_diameter": "31.3 +0.04/0"}, 2.85 - (31.32 - 25.9) / 2.0, "mating part"),
    ("face", {"groove_outside": "76"}, 0.0, "mating part"),
    # More than the gland is deep: no gap is left, and nothing is drawn above the face.
    ("piston", {"bore": "31.3", "piston_diameter": "31.2", "groove_diameter": "25.4"}, 0.0, "mating part"),
    # A depth typed, no bottom: no gap is known.
    ("piston", {"bore": "31.1", "piston_diameter": "30.9", "groove_diameter": None, "gland_depth": "2.85"}, 0.0, "mating part"),
])
def test_a_plain_groove(form: str, sizes: dict[str, Any], gap: float, other: str):
    ring = RING if form != "face" else exact_ring(69.0, FREE)
    got = shapes(gland(form, ring=ring, **WIDE, **sizes).figures(NUMBERS, None))
    cut, half = DEPTH - gap, 2.4
    mouth = half + cut * math.tan(math.radians(4.0))
    edge, thick = mouth + 0.6 * FREE, 0.5 * FREE
    near(got["grooved part"], "part", (-edge, 0, -mouth, 0, -half, -cut, half, -cut, mouth, 0, edge, 0, edge, -cut - thick, -edge, -cut - thick))
    near(got[other], "part", (-edge, gap, edge, gap, edge, gap + thick, -edge, gap + thick))
    # The squeezed ring keeps its area: 3.45^2 over 2.85 wide.
    near(got["ring, squeezed"], "ring", (0, DEPTH / 2 - cut, SEATED**2 / DEPTH / 2, DEPTH / 2))
    near(got["ring, free"], "circle", (0, FREE / 2 - cut, FREE / 2, FREE / 2))
    near(got["groove width"], "size", (-half, -cut, half, -cut))
    near(got["gland depth"], "size", (mouth + 0.3 * FREE, -cut, mouth + 0.3 * FREE, gap))
    assert len(got) == 6


def test_a_ring_wider_than_its_groove_fills_it_and_one_that_is_loose_stays_round():
    narrow = shapes(gland("piston", ring=RING, groove_width="4.0").figures(NUMBERS, None))
    # 3.45^2 / 2.85 = 4.18 mm would be wider than 4.0.
    assert narrow["ring, squeezed"][1][2:] == pytest.approx((2.0, DEPTH / 2))
    loose = shapes(gland("piston", ring=RING).figures({**NUMBERS, "gland_depth": (3.6, 3.8)}, None))
    assert loose["ring, squeezed"][1][2:] == pytest.approx((SEATED / 2, SEATED / 2))
    # It lies on the bottom.
    assert loose["ring, squeezed"][1][1] == pytest.approx(SEATED / 2 + loose["grooved part"][1][5])


def test_without_depth_or_seat_nothing_is_drawn():
    of = gland("piston", ring=RING)
    assert of.figures({"gland_depth": (2.8, 2.9)}, None) == ()
    assert of.figures({"ring_section": (3.4, 3.5)}, None) == ()
    assert of.figures({**NUMBERS, "gland_depth": (-0.1, 0.1)}, None) == ()
    assert of.figures({**NUMBERS, "gland_depth": (-0.3, 0.1)}, None) == ()
    assert len(of.figures({**NUMBERS, "gland_depth": (-0.1, 0.3)}, None)) == 1


@pytest.mark.parametrize(("mouth", "depth"), [("3.0 +0.2/0", (2.9, 3.1)), ("2.4 +0.2/0", (2.9, 3.1)), ("3.0 +0.2/0", (2.7, 2.7))])
def test_an_undercut_groove(mouth: str, depth: tuple[float, float]):
    """Cut 2.9 deep at 22 to 26 degrees, 3.1 or 2.5 wide at its mouth; under pressure the cover stands off to 3.0."""
    of = gland("dovetail", ring=exact_ring(69.0, FREE), mouth_width=mouth, undercut_angle="22 to 26", gland_depth="2.9 ±0.1", groove_middle="73")
    got = shapes(of.figures({"gland_depth": depth, "ring_section": (3.4, 3.5)}, None))
    deep, cut, slope = sum(depth) / 2.0, 2.9, math.tan(math.radians(24.0))
    gap, at_mouth = max(deep - cut, 0.0), (float(mouth[:3]) + 0.1) / 2.0
    half = at_mouth + cut * slope
    edge, thick = half + 0.6 * FREE, 0.5 * FREE
    near(got["grooved part"], "part", (-edge, 0, -at_mouth, 0, -half, -cut, half, -cut, at_mouth, 0, edge, 0, edge, -cut - thick, -edge, -cut - thick))
    near(got["cover"], "part", (-edge, gap, edge, gap, edge, gap + thick, -edge, gap + thick))
    near(got["ring, free"], "circle", (0, FREE / 2 - cut, FREE / 2, FREE / 2))
    near(got["mouth, sharp corners"], "size", (-at_mouth, 0, at_mouth, 0))
    near(got["gland depth"], "size", (half + 0.3 * FREE, -cut, half + 0.3 * FREE, gap))
    word, (x, y, rx, ry) = got["ring, squeezed"]
    assert (word, x, y, ry) == ("ring", 0.0, pytest.approx(deep / 2 - cut), pytest.approx(deep / 2))
    # The widest half axis at which no point of the ellipse is outside its side, found by halving.
    low, high = 0.1, 5.0
    angles = [math.radians(one / 20.0) for one in range(-1800, 1801)]
    for _ in range(50):
        tried = (low + high) / 2.0
        inside = all(tried * math.cos(one) <= at_mouth - (y + ry * math.sin(one)) * slope for one in angles)
        low, high = (tried, high) if inside else (low, tried)
    assert rx == pytest.approx(min(low, SEATED**2 / deep / 2), rel=1e-5)


def test_a_mouth_too_narrow_for_any_ring_leaves_it_no_width():
    of = gland("dovetail", ring=exact_ring(69.0, FREE), mouth_width="0.1", undercut_angle="0", gland_depth="2.9", groove_middle="73")
    got = shapes(of.figures({"gland_depth": (2.9, 2.9), "ring_section": (3.4, 3.5)}, None))
    assert got["ring, squeezed"][1][2] == pytest.approx(0.05)
    steep = gland("dovetail", ring=exact_ring(69.0, FREE), mouth_width="0.1", undercut_angle="45", gland_depth="0.1", groove_middle="73")
    # Half 0.05 and 45 degrees: in the middle of a ring of 2.9 at 0.1 - 1.45 below the face the sides meet.
    assert shapes(steep.figures({"gland_depth": (2.9, 2.9), "ring_section": (3.4, 3.5)}, None))["ring, squeezed"][1][2] == 0.0


@pytest.mark.parametrize("leg", [4.5, 4.9, 9.0, 4.0])
def test_a_corner(leg: float):
    """Both legs, the flange and the ring: rounding the three corners by r takes 2.68683 r^2 (cot(f/2) - (pi - f)/2 of 90, 45 and 45 degrees)."""
    ring = exact_ring(34.9, FREE)
    got = shapes(gland("triangular", ring=ring, leg=f"{leg} ±0.1").figures(NUMBERS, None))
    end, thick = leg + 0.6 * FREE, 0.5 * FREE
    near(got["spigot and its flange"], "part", (-thick, end, 0, end, 0, 0, end, 0, end, -thick, -thick, -thick))
    near(got["chamfered part"], "part", (end, 0, end, end, 0, end, 0, leg, leg, 0))
    near(got["ring, free"], "circle", (FREE / 2,) * 4)
    near(got["leg"], "size", (0, -thick / 2, leg, -thick / 2))
    word, flat = got["ring, squeezed"]
    points = list(zip(flat[::2], flat[1::2]))
    assert (word, len(points)) == ("squeezed", 27)
    spare = leg * leg / 2.0 - math.pi * SEATED**2 / 4.0
    r = math.sqrt(max(spare, 0.0) / 2.68683)
    if leg == 9.0:
        # So large a corner leaves it round, against both legs.
        r = far = SEATED / 2.0
    else:
        # A circle of r against the leg and the chamfer at 45 degrees has its middle r (1 + sqrt 2) before the end of the leg.
        far = leg - r * (1.0 + math.sqrt(2.0))
        assert far >= r
    assert (spare < 0.0) == (leg == 4.0)
    middles = ((r, r), (far, r), (r, far))
    for at, ((x, y), start, stop) in enumerate(zip(middles, (180.0, 270.0, 45.0), (270.0, 405.0, 180.0))):
        expected = [math.radians(start + (stop - start) * step / 8.0) for step in range(9)]
        for (px, py), angle in zip(points[9 * at : 9 * at + 9], expected, strict=True):
            assert (px, py) == pytest.approx((x + r * math.cos(angle), y + r * math.sin(angle)), abs=1e-5)
