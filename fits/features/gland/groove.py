"""What is held against how the groove was cut: its land, width, sides, radius and mouth."""

from __future__ import annotations

import numpy as np

from fits.features.gland import tabled
from fits.features.gland.loop import Work
from fits.features.parts import wall_factor
from fits.mechanics import buckling, cylinder, land

# A wall or a land thinner than this is none, mm.
THIN = 1e-4
# What an inner wall must stand before it collapses, over the pressure on it (common practice).
COLLAPSE_FACTOR = 3.0


def cut(w: Work) -> None:
    """Add the numbers of the groove as cut, where the form has them."""
    if "side_angle" in w.d:
        section = w.gland.ring.section.nominal
        w.numbers["side_slope"] = w.d["side_angle"]
        w.numbers["bottom_radius"] = w.d["corner_radius"]
        w.numbers["radius_most"] = np.array([[tabled.largest_radius(section)]])
        w.numbers["width_made"] = w.gland.width(w.d)
        backups = w.d["backup_rings"]
        widest = [tabled.largest_width(type(w.gland).tabled_as, n, section) for n in range(3)]
        w.numbers["width_most"] = np.select([backups < 0.5, backups < 1.5], widest[:2], widest[2])
    if "mouth_width" in w.d:
        _mouth(w)
    if w.gland.radial:
        _inner_wall(w)
    if hasattr(w.gland, "land"):
        _land(w)


def _mouth(w: Work) -> None:
    """A dovetail's mouth: sharp for the ring to be rolled in, with its edges broken to hold it.

    A round of radius r on an edge of (90 - a) degrees takes r (cot((90 - a)/2) - 1) of it.
    """
    section = w.gland.ring.section.nominal
    w.numbers["mouth"] = w.d["mouth_width"]
    half = np.radians(90.0 - w.d["undercut_angle"]) / 2.0
    w.numbers["mouth_open"] = w.d["mouth_width"] + 2.0 * w.d["edge_radius"] * (1.0 / np.tan(half) - 1.0)
    # On its seat the ring is thinner than free.
    w.numbers["mouth_most"] = w.numbers["ring_section"][..., -1:]
    w.numbers["mouth_least"] = np.array([[tabled.narrowest_mouth(section)]])
    if np.isnan(w.d["edge_radius"]).any():
        w.gap("mouth_open", "edge_radius not given", w.made, "edge_radius")


def _land(w: Work) -> None:
    """The land on the low-pressure side: it carries the pressure on the whole gland depth."""
    width = w.gland.land_width(w.d)
    # Only a piston's land reaches outward of its root, the groove's bottom.
    curve = 2.0 / w.loop.seat if w.gland.form == "piston" and w.loop.seat is not None else 0.0
    # A groove that breaks out of the part leaves a land of nothing.
    stress = land.root_stress(
        pressure=w.around.pressure,
        height=w.loop.depth + w.loop.shift,
        width=np.maximum(width, THIN),
        curve=curve,
    )
    w.numbers["land_stress"] = np.where(w.around.pressed, stress, 0.0)
    metal = w.around.shaft if w.gland.form == "piston" else w.around.hub
    w.numbers["land_allowed"] = metal.allowed / wall_factor(w.s)
    if np.isnan(width).any():
        w.gap("land_stress", "land not given", w.around.pressed, "land")


def _inner_wall(w: Work) -> None:
    """The hollow inner part, pressed from outside where the ring lies on it; a solid one bears p."""
    outside = w.loop.inner
    assert outside is not None
    inside = np.minimum(w.d["shaft_bore"], outside - THIN)
    at_bore, _ = cylinder.face_hoops(inside=inside, outside=outside, p_in=0.0, p_out=w.around.pressure)
    hollow = w.d["shaft_bore"] > 0.0
    w.numbers["inner_von_mises"] = np.where(hollow & w.around.pressed, np.abs(at_bore), 0.0)
    w.numbers["inner_allowed"] = w.around.shaft.allowed / wall_factor(w.s)
    metal = w.gland.shaft_material
    poisson = float("nan") if metal is None else float(metal.poisson)
    collapse = buckling.free_tube(inside, outside, w.around.shaft.modulus, poisson)
    # A solid part, and one without pressure around it, doesn't collapse.
    w.numbers["inner_collapse"] = np.where(hollow & w.around.pressed, collapse, np.inf)
    w.numbers["inner_needed"] = COLLAPSE_FACTOR * w.around.pressure
