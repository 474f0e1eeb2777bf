"""What is held against how the groove was cut: its land, width, sides, radius and mouth."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered, States
from fits.features.gland import tabled
from fits.features.gland.loop import Around, Loop
from fits.features.parts import wall_factor
from fits.mechanics import buckling, cylinder, land

if TYPE_CHECKING:
    from fits.features.gland.declaration import Gland


# A wall or a land thinner than this is none, mm.
THIN = 1e-4
# What an inner wall must stand before it collapses, over the pressure on it (common practice).
COLLAPSE_FACTOR = 3.0


def cut(
    numbers: dict[str, Array],
    gland: Gland,
    d: Mapping[str, Array],
    s: States,
    loop: Loop,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """Add the numbers of the groove as cut, where the form has them."""
    one = np.ones((1, 1))
    if "side_angle" in d:
        section = gland.ring.section.nominal
        numbers["side_slope"] = d["side_angle"] * one
        numbers["bottom_radius"] = d["corner_radius"] * one
        numbers["radius_most"] = one * tabled.largest_radius(section)
        numbers["width_made"] = gland.width(d) * one
        backups = d["backup_rings"] * one
        widest = [tabled.largest_width(type(gland).tabled_as, n, section) for n in range(3)]
        numbers["width_most"] = np.select([backups < 0.5, backups < 1.5], widest[:2], widest[2])
    if "mouth_width" in d:
        _mouth(numbers, gland, d, s, gaps)
    if gland.radial:
        _inner_wall(numbers, gland, d, s, loop, around)
    if hasattr(gland, "land"):
        _land(numbers, gland, d, s, loop, around, gaps)


def _mouth(
    numbers: dict[str, Array], gland: Any, d: Mapping[str, Array], s: States, gaps: list[NotCovered]
) -> None:
    """A dovetail's mouth: sharp for the ring to be rolled in, with its edges broken to hold it.

    A round of radius r on an edge of (90 - a) degrees takes r (cot((90 - a)/2) - 1) of it.
    """
    section = gland.ring.section.nominal
    numbers["mouth"] = d["mouth_width"] * 1.0
    half = np.radians(90.0 - d["undercut_angle"]) / 2.0
    numbers["mouth_open"] = d["mouth_width"] + 2.0 * d["edge_radius"] * (1.0 / np.tan(half) - 1.0)
    # On its seat the ring is thinner than free.
    numbers["mouth_most"] = numbers["ring_section"][..., -1:]
    numbers["mouth_least"] = np.ones((1, 1)) * tabled.narrowest_mouth(section)
    if np.isnan(d["edge_radius"]).any():
        made = np.asarray([name == s.names[-1] for name in s.names])
        gaps.append(NotCovered("mouth_open", "edge_radius not given", made, "edge_radius"))


def _land(
    numbers: dict[str, Array],
    gland: Any,
    d: Mapping[str, Array],
    s: States,
    loop: Loop,
    around: Around,
    gaps: list[NotCovered],
) -> None:
    """The land on the low-pressure side: it carries the pressure on the whole gland depth."""
    width = gland.land_width(d)
    # Only a piston's land reaches outward of its root, the groove's bottom.
    curve = 2.0 / loop.seat if gland.form == "piston" and loop.seat is not None else 0.0
    # A groove that breaks out of the part leaves a land of nothing.
    stress = land.root_stress(
        pressure=around.pressure, height=loop.depth + loop.shift, width=np.maximum(width, THIN), curve=curve
    )
    numbers["land_stress"] = np.where(around.pressed, stress, 0.0)
    metal = around.shaft if gland.form == "piston" else around.hub
    numbers["land_allowed"] = metal.allowed / wall_factor(s)
    if np.isnan(width).any():
        gaps.append(NotCovered("land_stress", "land not given", around.pressed, "land"))


def _inner_wall(
    numbers: dict[str, Array], gland: Any, d: Mapping[str, Array], s: States, loop: Loop, around: Around
) -> None:
    """The hollow inner part, pressed from outside where the ring lies on it; a solid one bears p."""
    outside = loop.inner
    assert outside is not None
    inside = np.minimum(d["shaft_bore"], outside - THIN)
    at_bore, _ = cylinder.face_hoops(inside=inside, outside=outside, p_in=0.0, p_out=around.pressure)
    hollow = d["shaft_bore"] > 0.0
    numbers["inner_von_mises"] = np.where(hollow & around.pressed, np.abs(at_bore), 0.0)
    numbers["inner_allowed"] = around.shaft.allowed / wall_factor(s)
    metal = gland.shaft_material
    poisson = float("nan") if metal is None else float(metal.poisson)
    collapse = buckling.free_tube(inside, outside, around.shaft.modulus, poisson)
    # A solid part, and one without pressure around it, doesn't collapse.
    numbers["inner_collapse"] = np.where(hollow & around.pressed, collapse, np.inf)
    numbers["inner_needed"] = COLLAPSE_FACTOR * around.pressure
