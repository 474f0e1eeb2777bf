"""A groove with its ring to scale: free, and squeezed as it stands at 20 degC, all sizes in the middle."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, radians, sin, sqrt, tan
from typing import TYPE_CHECKING

from fits.features.figures import Figure

if TYPE_CHECKING:
    from fits.features.gland.declaration import Cut
    from fits.features.gland.faces import DovetailGland, TriangularGland

Shape = tuple[str, tuple[float, ...], str]
# What is drawn of both parts beyond the groove, in sections of the ring.
BESIDE, DEEP = 0.6, 0.5
TITLE = "groove and ring at 20 degC, middle of all limits"
# Points of the round of a squeezed ring in a corner.
ROUND = 8


def section(gland: Cut, numbers: Mapping[str, tuple[float, float]]) -> tuple[Figure, ...]:
    """The section, or none where the depth isn't known or the bore is smaller than the groove's bottom.

    The squeezed ring is an ellipse of the area of its section on the seat, as high as the
    gland is deep; where the groove is too narrow for that, it fills the width.
    """
    if not {"gland_depth", "ring_section"} <= set(numbers):
        return ()
    depth, seated = _seated(numbers)
    if depth <= 0.0:
        return ()
    free, gap, half = gland.ring.section.middle, _gap(gland, depth), gland.walls_apart.middle / 2.0
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
    return (Figure(TITLE, shapes),)


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


def dovetail(gland: DovetailGland, numbers: Mapping[str, tuple[float, float]]) -> tuple[Figure, ...]:
    """The section of an undercut groove.

    The squeezed ring is an ellipse as in a plain groove, no wider than the slanted sides let it be.
    """
    (depth, seated), cut = _seated(numbers), gland.gland_depth.middle
    slope = tan(radians((gland.undercut_angle.low + gland.undercut_angle.high) / 2.0))
    free, gap = gland.ring.section.middle, max(depth - cut, 0.0)
    at_mouth = gland.mouth_width.middle / 2.0
    half = at_mouth + cut * slope
    edge, thick = half + BESIDE * free, DEEP * free
    tall = min(seated, depth)
    # An ellipse touches a line when the line's offset is the root of both half axes' shares in it.
    room = at_mouth + (cut - tall / 2.0) * slope
    wide = min(seated * seated / tall, 2.0 * sqrt(max(room * room - (tall / 2.0 * slope) ** 2, 0.0)))
    shapes: tuple[Shape, ...] = (
        ("part", _groove(edge, at_mouth, half, cut, thick), "grooved part"),
        ("part", (-edge, gap, edge, gap, edge, gap + thick, -edge, gap + thick), "cover"),
        ("ring", (0.0, tall / 2.0 - cut, wide / 2.0, tall / 2.0), "ring, squeezed"),
        ("circle", (0.0, free / 2.0 - cut, free / 2.0, free / 2.0), "ring, free"),
        ("size", (-at_mouth, 0.0, at_mouth, 0.0), "mouth, sharp corners"),
        ("size", (half + 0.3 * free, -cut, half + 0.3 * free, gap), "gland depth"),
    )
    return (Figure(TITLE, shapes),)


def triangular(gland: TriangularGland, numbers: Mapping[str, tuple[float, float]]) -> tuple[Figure, ...]:
    """The section of a chamfered corner.

    The squeezed ring fills the triangle but for corners rounded alike, its area kept.
    """
    _, seated = _seated(numbers)
    leg = gland.leg.middle
    free = gland.ring.section.middle
    beside, thick = BESIDE * free, DEEP * free
    end = leg + beside
    inner = (-thick, end, 0.0, end, 0.0, 0.0, end, 0.0, end, -thick, -thick, -thick)
    shapes: tuple[Shape, ...] = (
        ("part", inner, "spigot and its flange"),
        ("part", (end, 0.0, end, end, 0.0, end, 0.0, leg, leg, 0.0), "chamfered part"),
        ("squeezed", _in_the_corner(leg, seated), "ring, squeezed"),
        ("circle", (free / 2.0, free / 2.0, free / 2.0, free / 2.0), "ring, free"),
        ("size", (0.0, -0.5 * thick, leg, -0.5 * thick), "leg"),
    )
    return (Figure(TITLE, shapes),)


def _seated(numbers: Mapping[str, tuple[float, float]]) -> tuple[float, float]:
    """Depth of the gland and section of the ring on its seat, in the middle."""
    depth, seated = (sum(numbers[name]) / 2.0 for name in ("gland_depth", "ring_section"))
    return depth, seated


def _in_the_corner(leg: float, seated: float) -> tuple[float, ...]:
    """A right corner of two legs closed at 45 degrees, its corners rounded until a ring's area is left.

    Rounding a corner of angle f by r takes r^2 (cot(f/2) - (pi - f)/2). A ring smaller than the
    circle that touches all sides is that circle's like, lying in the right corner.
    """
    taken = sum(1.0 / tan(angle / 2.0) - (pi - angle) / 2.0 for angle in (pi / 2.0, pi / 4.0, pi / 4.0))
    spare = leg * leg / 2.0 - pi * seated * seated / 4.0
    r = sqrt(max(spare, 0.0) / taken)
    reach = leg
    if r > leg * (1.0 - sqrt(0.5)):
        r, reach = seated / 2.0, seated / (2.0 - sqrt(2.0))
    far = reach - r * (1.0 + sqrt(2.0))
    points = []
    corners = ((r, r, 1.0, 0.5), (far, r, 1.5, 0.75), (r, far, 0.25, 0.75))
    for x, y, start, turn in corners:
        for step in range(ROUND + 1):
            at = pi * (start + turn * step / ROUND)
            points += [x + r * cos(at), y + r * sin(at)]
    return tuple(points)
