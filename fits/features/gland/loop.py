"""The loop of parts around a ring: depth, side shift, seats, gap and volume in every state.

One function a form, all to the same numbers. Sizes are free sizes at 20 degC; each part
takes its own strain, a bore grows and a member shrinks under pressure (Lamé).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from fits.arrays import Array, Mask
from fits.features.feature import NotCovered, States
from fits.features.fields import SurfaceRef
from fits.features.parts import Material
from fits.features.when import AS_MADE, EVERY
from fits.mechanics import cylinder, ring

if TYPE_CHECKING:
    from fits.features.gland.faces import DovetailGland, FaceGland, TriangularGland
    from fits.features.gland.radial import PistonGland, RodGland


class Around(NamedTuple):
    """What surrounds the groove in every state: both parts' metal, the pressure."""

    hub: Material
    shaft: Material
    pressure: Array
    pressed: Mask


class Loop(NamedTuple):
    """A gland in every state, mm: shape (*lead, corners, columns).

    ``depth`` is centred, from groove bottom to mating surface; ``shift`` what lying to one
    side adds and takes; ``gap`` is diametral. ``seat`` is the diameter the ring's inside
    lies on, ``wall`` what its outside lies against, ``middle`` the groove's own middle;
    ``opened`` is what pressure adds to the depth.
    """

    depth: Array
    shift: Array
    gap: Array
    volume: Array
    middle: Array
    opened: Array
    seat: Array | None = None
    wall: Array | None = None
    # What pressure from inside pushes a cover off by, where that is neither wall nor middle.
    sealed: Array | None = None
    growth: Array | None = None
    stressed: Array | None = None
    # The inner part as cut, where pressure around it presses it in.
    inner: Array | None = None


class Work(NamedTuple):
    """A gland while it is worked out: what it is, in every state, and what came of it so far."""

    gland: Any
    d: Mapping[str, Array]
    s: States
    around: Around
    loop: Loop
    numbers: dict[str, Array]
    gaps: list[NotCovered]

    @property
    def every(self) -> Mask:
        """Every column."""
        return np.ones(len(self.s.names), dtype=bool)

    @property
    def made(self) -> Mask:
        """The column as made."""
        return self.s.columns((AS_MADE,))

    @property
    def lasting(self) -> Mask:
        """Every state, not the column as made."""
        return self.s.columns((EVERY,))

    def gap(self, about: str, reason: str, mask: Mask, sweep: str = "") -> None:
        """Say what can't be answered (``NotCovered``)."""
        self.gaps.append(NotCovered(about, reason, mask, sweep))


def groove(d: Mapping[str, Array], hot: Array, depth: Array) -> ring.Groove:
    """The groove's section in a state; backup rings take their thickness of the width."""
    taken = d["backup_rings"] * np.where(np.isfinite(d["backup_thickness"]), d["backup_thickness"], 0.0)
    slope = np.tan(np.radians(d["side_angle"]))
    return ring.Groove((d["groove_width"] - taken) * hot, depth, slope, d["corner_radius"] * hot)


def _nu(metal: Any) -> float:
    return float("nan") if metal is None else float(metal.poisson)


def _growth(feature: Any, d: Mapping[str, Array], around: Around, bore: Array) -> Array:
    """Growth of a bore; where the wall or its metal isn't known 0, with a gap said elsewhere."""
    grown = cylinder.bore_growth(
        bore=bore,
        outside=d["hub_outside"],
        p=around.pressure,
        e=around.hub.modulus,
        nu=_nu(feature.hub_material),
    )
    return np.where(around.pressed & np.isfinite(grown), grown, 0.0)


def _shrinkage(feature: Any, d: Mapping[str, Array], around: Around, size: Array) -> Array:
    shrunk = cylinder.shaft_shrinkage(
        shaft=size,
        bore=d["shaft_bore"],
        p=around.pressure,
        e=around.shaft.modulus,
        nu=_nu(feature.shaft_material),
    )
    return np.where(around.pressed & np.isfinite(shrunk), shrunk, 0.0)


def _clearance(feature: Any, d: Mapping[str, Array], gap: Array) -> Array:
    return d["guide_clearance"] if feature.guide_clearance is not None else np.maximum(gap, 0.0)


def piston(of: PistonGland, d: Mapping[str, Array], s: States, around: Around) -> Loop:
    """A groove in the inner part; the ring's inside lies on its bottom."""
    hub, shaft = 1.0 + around.hub.strain, 1.0 + around.shaft.strain
    if isinstance(of.bore, SurfaceRef):
        bore, growth, free = d["bore"], None, d["bore"][..., -1:]
    else:
        growth, free = _growth(of, d, around, d["bore"]), d["bore"]
        bore = d["bore"] * hub + growth
    member = d["piston_diameter"]
    if of.groove_depth is not None:
        bottom = member - 2.0 * d["groove_depth"]
    elif of.gland_depth is not None:
        bottom = free - 2.0 * d["gland_depth"]
    else:
        bottom = d["groove_diameter"]
    shrunk = _shrinkage(of, d, around, bottom)
    bottom_hot = bottom * shaft - shrunk
    member_hot = member * shaft - _shrinkage(of, d, around, member)
    gap = bore - member_hot
    section = groove(d, shaft, (member_hot - bottom_hot) / 2.0)
    return Loop(
        (bore - bottom_hot) / 2.0,
        ring.side_shift(_clearance(of, d, gap), d["runout"]),
        gap,
        section.volume_on(bottom_hot, outward=1.0, gap=np.maximum(gap, 0.0)),
        (bore + bottom_hot) / 2.0,
        (shrunk + (0.0 if growth is None else growth)) / 2.0,
        seat=bottom_hot,
        growth=growth,
        stressed=None if growth is None else d["bore"],
        inner=bottom,
    )


def rod(of: RodGland, d: Mapping[str, Array], s: States, around: Around) -> Loop:
    """A groove in the outer part; the ring's outside lies against it, its inside on the rod."""
    hub, shaft = 1.0 + around.hub.strain, 1.0 + around.shaft.strain
    if of.groove_depth is not None:
        bottom = d["housing_bore"] + 2.0 * d["groove_depth"]
    elif of.gland_depth is not None:
        bottom = d["rod"] + 2.0 * d["gland_depth"]
    else:
        bottom = d["groove_diameter"]
    growth = _growth(of, d, around, bottom)
    bottom_hot = bottom * hub + growth
    bore_hot = d["housing_bore"] * hub + _growth(of, d, around, d["housing_bore"])
    shrunk = _shrinkage(of, d, around, d["rod"])
    rod_hot = d["rod"] * shaft - shrunk
    gap = bore_hot - rod_hot
    section = groove(d, hub, (bottom_hot - bore_hot) / 2.0)
    return Loop(
        (bottom_hot - rod_hot) / 2.0,
        ring.side_shift(_clearance(of, d, gap), d["runout"]),
        gap,
        section.volume_on(bottom_hot, outward=-1.0, gap=np.maximum(gap, 0.0)),
        (bottom_hot + rod_hot) / 2.0,
        (growth + shrunk) / 2.0,
        seat=rod_hot,
        wall=bottom_hot,
        growth=growth,
        stressed=bottom,
        inner=d["rod"],
    )


def _cover(d: Mapping[str, Array], around: Around) -> Array:
    """How far the cover stands off under pressure."""
    known = np.where(np.isfinite(d["cover_gap"]), d["cover_gap"], 0.0)
    return np.where(around.pressed, known * d["pressure_share"], 0.0)


def face(of: FaceGland, d: Mapping[str, Array], s: States, around: Around) -> Loop:
    """A groove in a face under a flat cover; the pressure decides the wall the ring lies on."""
    hot = 1.0 + around.hub.strain
    inside, outside, width = of.sides(d)
    depth, cover = d["gland_depth"] * hot, _cover(d, around)
    section = groove({**d, "groove_width": width}, hot, depth)
    middle = (outside + inside) / 2.0 * hot
    within = of.pressure_side == "inside"
    return Loop(
        depth + cover,
        np.zeros_like(depth),
        cover,
        # Walls that meet in the middle leave no groove.
        np.where(inside > 0.0, section.volume_in_face(middle), 0.0),
        middle,
        cover,
        seat=None if within else inside * hot,
        wall=outside * hot if within else None,
    )


def dovetail(of: DovetailGland, d: Mapping[str, Array], s: States, around: Around) -> Loop:
    """An undercut groove in a face that holds the ring by itself; its mouth is what is typed."""
    hot = 1.0 + around.hub.strain
    depth, cover = d["gland_depth"] * hot, _cover(d, around)
    slope = -np.tan(np.radians(d["undercut_angle"]))
    section = ring.Groove(
        d["mouth_width"] * hot - 2.0 * depth * slope, depth, slope, d["corner_radius"] * hot
    )
    middle = d["groove_middle"] * hot
    return Loop(
        depth + cover,
        np.zeros_like(depth),
        cover,
        section.volume_in_face(middle),
        middle,
        cover,
        # The ring is pushed out under the lip.
        sealed=middle + d["mouth_width"] * hot,
    )


def triangular(of: TriangularGland, d: Mapping[str, Array], s: States, around: Around) -> Loop:
    """A 45 degree chamfer that closes the corner of a spigot and its flange."""
    hot = 1.0 + around.hub.strain
    leg, spigot, cover = d["leg"] * hot, d["spigot"] * hot, _cover(d, around)
    depth = ring.corner_depth(leg)
    return Loop(
        depth + cover,
        np.zeros_like(depth),
        cover,
        ring.corner_volume(spigot, leg),
        spigot + 2.0 / 3.0 * leg,
        cover,
        seat=spigot,
        # A full corner loads the flange to the chamfer's end.
        sealed=spigot + 2.0 * leg,
    )
