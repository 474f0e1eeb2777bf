"""A groove with its ring to scale: free, and squeezed as it stands at 20 degC, all sizes in the middle."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians, tan
from typing import TYPE_CHECKING

from fits.features.figures import Figure

if TYPE_CHECKING:
    from fits.features.gland.declaration import Cut

Shape = tuple[str, tuple[float, ...], str]
# What is drawn of both parts beyond the groove, in sections of the ring.
BESIDE, DEEP = 0.6, 0.5


def section(gland: Cut, numbers: Mapping[str, tuple[float, float]]) -> tuple[Figure, ...]:
    """The section, or none while the ring or the groove's width is open.

    The squeezed ring is an ellipse of the area of its section on the seat, as high as the
    gland is deep; where the groove is too narrow for that, it fills the width.
    """
    width = gland.size("groove_width")
    if gland.is_open("ring") or width is None or not {"gland_depth", "ring_section"} <= set(numbers):
        return ()
    depth, seated = (sum(numbers[name]) / 2.0 for name in ("gland_depth", "ring_section"))
    if depth <= 0.0 or seated <= 0.0:
        return ()
    free, gap, half = gland.ring.section.middle, _gap(gland, depth), width.middle / 2.0
    cut = depth - gap
    mouth = half + cut * tan(radians(gland.side_angle.low))
    edge, thick = mouth + BESIDE * free, DEEP * free
    tall = min(seated, depth)
    wide = min(seated * seated / tall, 2.0 * half)
    shapes: tuple[Shape, ...] = (
        ("part", _groove(edge, mouth, half, cut, thick), "grooved part"),
        ("part", (-edge, gap, edge, gap, edge, gap + thick, -edge, gap + thick), "mating part"),
        ("ring", (0.0, tall / 2.0 - cut, wide / 2.0, tall / 2.0), "ring, squeezed"),
        ("circle", (0.0, free / 2.0 - cut, free / 2.0, free / 2.0), "ring, free"),
        ("size", (-half, -cut, half, -cut), "groove width"),
        ("size", (mouth + 0.3 * free, -cut, mouth + 0.3 * free, gap), "gland depth"),
    )
    return (Figure("groove and ring at 20 degC, middle of all limits", shapes),)


def _groove(edge: float, mouth: float, half: float, cut: float, thick: float) -> tuple[float, ...]:
    """The grooved part, its surface at 0."""
    left = (-edge, 0.0, -mouth, 0.0, -half, -cut)
    right = (half, -cut, mouth, 0.0, edge, 0.0)
    return (*left, *right, edge, -cut - thick, -edge, -cut - thick)


def _gap(gland: Cut, depth: float) -> float:
    """The gap between the two parts on one side, centred; a face has none."""
    groove = gland.size("groove_diameter")
    member = gland.size("piston_diameter") or gland.size("housing_bore")
    if not gland.radial or groove is None or member is None:
        return 0.0
    cut = abs(member.middle - groove.middle) / 2.0
    return max(depth - cut, 0.0)
