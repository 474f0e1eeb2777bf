"""The section of a groove: to the sizes of the gland, the ring's area kept."""

from __future__ import annotations

import math

import glands
import pytest
from conftest import ROOT
from pages import drawn

from fits.features.feature import State
from fits.questions.check import check
from fits.questions.drawn import with_drawings


@pytest.fixture(scope="module")
def seal():
    (found,) = (one for one in drawn(str(ROOT / "examples" / "pump_plug.toml")).features if one.kind == "gland")
    return found


def test_the_groove_has_its_sizes(seal):
    (figure,) = seal.drawn.figures
    shapes = {label: (word, numbers) for word, numbers, label in figure.shapes}
    x1, y1, x2, y2 = shapes["groove width"][1]
    # 3.3 +0.1/0 in the middle of its limits.
    assert x2 - x1 == pytest.approx(3.35)
    _, low, _, high = shapes["gland depth"][1]
    # Half the difference of bore (as pressed, about 19.997) and groove 16.2 0/-0.05.
    depth = next(one for one in seal.values if one.name == "gland_depth").states
    assert min(s.least for s in depth.values()) <= high - low <= max(s.greatest for s in depth.values())
    # 16.175 in the groove, 19.92 the piston: the cut is 1.8725 deep.
    assert y1 == y2 == low == pytest.approx(-(19.92 - 16.175) / 2.0)


def test_the_ring_keeps_its_area_and_fills_the_depth(seal):
    (figure,) = seal.drawn.figures
    shapes = {label: (word, numbers) for word, numbers, label in figure.shapes}
    _, y, rx, ry = shapes["ring, squeezed"][1]
    _, low, _, high = shapes["gland depth"][1]
    assert (y - ry, y + ry) == pytest.approx((low, high))
    _, centre, free, _ = shapes["ring, free"][1]
    assert centre - free == pytest.approx(low)
    # JIS B 2401 P16: section 2.4; on its seat it is thinner by the stretch, so its area is at most the free one.
    assert free == pytest.approx(1.2)
    assert 0.9 * math.pi * free * free <= math.pi * rx * ry <= math.pi * free * free


def test_squeeze_is_drawn_against_temperature_without_rules_that_do_not_speak_there(seal):
    (curve,) = seal.drawn.curves
    assert (curve.name, curve.label) == ("squeeze", "squeeze")
    assert all(any(math.isfinite(one) for one in bound.limits) for bound in curve.bounds)


DOVETAIL = """
[gland.seal]
form = "dovetail"
ring = "AS568-232"
elastomer = "FKM 75"
duty = "static"
medium = "gas"
fluid = "air"
pressure_side = "inside"
groove_middle = "73.8 ±0.1"
gland_depth = "2.845 ±0.025"
mouth_width = "3.25 ±0.05"
undercut_angle = 24
corner_radius = "0.8 ±0.1"
"""
TRIANGULAR = """
[gland.seal]
form = "triangular"
ring = "AS568-220"
elastomer = "FKM 75"
duty = "static"
medium = "gas"
fluid = "air"
pressure_side = "inside"
spigot = "34.9 h8"
leg = "{leg} ±0.05"
"""


def shapes_of(tmp_path, text: str) -> dict[str, tuple[str, tuple[float, ...]]]:
    path = tmp_path / "part.toml"
    path.write_text(text, encoding="utf-8")
    (feature,) = drawn(str(path)).features
    (figure,) = feature.drawn.figures
    return {label: (word, numbers) for word, numbers, label in figure.shapes}


def area(numbers: tuple[float, ...]) -> float:
    """Of a polygon, by the surveyor's formula."""
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, [*points[1:], points[0]], strict=True))) / 2.0


def test_a_dovetail_has_its_mouth_its_slope_and_its_depth(tmp_path):
    shapes = shapes_of(tmp_path, DOVETAIL)
    x1, _, x2, _ = shapes["mouth, sharp corners"][1]
    assert x2 - x1 == pytest.approx(3.25)
    _, low, _, high = shapes["gland depth"][1]
    assert high - low == pytest.approx(2.845, abs=0.01)
    polygon = shapes["grooved part"][1]
    points = list(zip(polygon[::2], polygon[1::2], strict=True))
    (mouth_x, mouth_y), (bottom_x, bottom_y) = points[1], points[2]
    assert (bottom_x - mouth_x) / (bottom_y - mouth_y) == pytest.approx(math.tan(math.radians(24.0)))
    assert bottom_y == pytest.approx(-2.845)


def test_a_ring_in_a_dovetail_touches_top_and_bottom_and_stays_inside_its_sides(tmp_path):
    # With a narrow mouth the sides hold it as well.
    for mouth in ("3.25", "2.60"):
        shapes = shapes_of(tmp_path, DOVETAIL.replace("3.25", mouth))
        _, y, rx, ry = shapes["ring, squeezed"][1]
        _, low, _, high = shapes["gland depth"][1]
        assert (y - ry, y + ry) == pytest.approx((low, high))
        slope = math.tan(math.radians(24.0))
        gaps = [
            float(mouth) / 2.0 - (y + ry * math.sin(at)) * slope - rx * math.cos(at)
            for at in (math.radians(one) for one in range(-90, 91))
        ]
        assert min(gaps) >= -1e-4
        _, centre, free, _ = shapes["ring, free"][1]
        # AS568-232: section 3.53 mm (0.139 in).
        assert (free, centre - free) == (pytest.approx(3.53 / 2.0, abs=0.003), pytest.approx(-2.845))
        if min(gaps) > 0.01:
            assert math.pi * rx * ry == pytest.approx(math.pi * free * free, rel=0.03)


@pytest.mark.parametrize("leg", ["4.80", "4.40", "8.00"])
def test_a_ring_in_a_corner_keeps_its_area_and_stays_in_the_triangle(tmp_path, leg):
    shapes = shapes_of(tmp_path, TRIANGULAR.format(leg=leg))
    x1, _, x2, _ = shapes["leg"][1]
    assert x2 - x1 == pytest.approx(float(leg))
    word, polygon = shapes["ring, squeezed"]
    assert word == "squeezed"
    xs, ys = polygon[::2], polygon[1::2]
    assert (min(xs), min(ys)) == pytest.approx((0.0, 0.0), abs=1e-6)
    most = max(x + y for x, y in zip(xs, ys, strict=True))
    # In the largest corner the ring lies free of the chamfer; else it touches all three sides.
    assert most < float(leg) - 0.1 if leg == "8.00" else most == pytest.approx(float(leg))
    _, _, free, _ = shapes["ring, free"][1]
    # Chords instead of arcs, and the ring is a little thinner on its spigot.
    assert area(polygon) == pytest.approx(math.pi * free * free, rel=0.06)


def test_a_ring_too_large_for_its_corner_fills_it(tmp_path):
    shapes = shapes_of(tmp_path, TRIANGULAR.format(leg="4.00"))
    assert area(shapes["ring, squeezed"][1]) == pytest.approx(8.0)


@pytest.mark.parametrize(("form", "free"), [("piston", 3.53), ("rod", 3.53), ("face", 3.53)])
def test_a_free_ring_stands_on_the_bottom_as_a_squeezed_one_does_and_both_are_round_where_they_are_free(form: str, free: float):
    """AS568-214 and -232 are 3.53 mm thick; the free ring is a circle."""
    found = glands.part(form)
    (figure,) = with_drawings(found, check(found)).features[0].drawn.figures
    shapes = {label: (word, numbers) for word, numbers, label in figure.shapes}
    bottom = shapes["gland depth"][1][1]
    for name in ("ring, squeezed", "ring, free"):
        x, y, rx, ry = shapes[name][1]
        assert (x, y - ry) == pytest.approx((0.0, bottom))
        assert rx >= ry > 0.0
    _, _, rx, ry = shapes["ring, free"][1]
    assert rx == ry == pytest.approx(free / 2.0, abs=0.01)


def test_the_free_ring_of_a_corner_touches_both_its_walls():
    found = glands.part("triangular")
    (figure,) = with_drawings(found, check(found)).features[0].drawn.figures
    shapes = {label: (word, numbers) for word, numbers, label in figure.shapes}
    x, y, rx, ry = shapes["ring, free"][1]
    assert x == y == rx == ry == pytest.approx(3.53 / 2.0, abs=0.01)
    x1, y1, x2, y2 = shapes["leg"][1]
    assert (x1, x2) == pytest.approx((0.0, 4.80))
    assert y1 == y2 < 0.0


def test_closing_load_is_that_of_the_greatest_squeeze_around_the_middle_of_the_ring():
    """Lindley at exact sizes, 20 degC: pi D E d (1.25 S^1.5 + 50 S^6), the modulus at its upper end."""
    hot = State("hot", 60.0, 60.0)
    found = glands.part("face", (hot,))
    at = glands.numbers(found, "as_made")
    d, squeeze = found.features["seal"].ring.section.middle, at["fresh_squeeze"]
    modulus = found.features["seal"].elastomer.modulus().high
    # The groove's outside is 75.4 in the middle of its limits and 5.1 wide.
    middle = 75.4 - 5.1
    load = math.pi * modulus * d * (1.25 * squeeze**1.5 + 50.0 * squeeze**6)
    assert at["closing_load"] == pytest.approx(load * middle, rel=1e-9)
