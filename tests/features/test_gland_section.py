"""The section of a groove: to the sizes of the gland, the ring's area kept."""

from __future__ import annotations

import math

import pytest
from conftest import ROOT
from pages import drawn


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
