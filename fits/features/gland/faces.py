"""Glands under a cover: in a face, dovetailed, and at the corner of a flange."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

import numpy as np

from fits.arrays import Array
from fits.errors import Fault
from fits.features.feature import Dimension, Relation, States
from fits.features.fields import Choice, Length, Measure, Size, Spread, levels
from fits.features.figures import Figure
from fits.features.gland import loop
from fits.features.gland.declaration import FITTED_STRETCH, LAND, Cut, Gland, given, unknown
from fits.features.gland.part_rules import HELD
from fits.features.gland.part_rules import LAND as STANDS
from fits.features.gland.part_values import MOUTH
from fits.features.gland.rules import rules_of
from fits.features.gland.uses import HUB
from fits.features.gland.uses import Loop as Uses
from fits.features.gland.values import values_of
from fits.sizes.limits import Limits

# The cover of a face was given no gap: below this pressure it is taken as stiff, MPa.
COVER_STIFF_TO = 1.0
# A thousand tonnes: beyond is a slip of the pen, N.
MOST_PRELOAD = 1e7


def lesser(d: Mapping[str, Array], width: Array) -> Array:
    """A land that follows from other sizes, or the typed one where that is less, mm."""
    return np.minimum(width, d["land"]) if "land" in d else width


class Covered(Gland):
    """A groove in a face under a cover: where the pressure is, how the cover is held."""

    pressure_side: Annotated[str, Choice("where the higher pressure is", options=("inside", "outside"))]
    cover_gap: Annotated[
        Spread | None, Measure("how far the cover stands off under pressure", quantity="length", least=0.0)
    ] = None
    bolt_preload: Annotated[
        Spread | None,
        Measure("preload of all bolts together", quantity="force", least=0.0, most=MOST_PRELOAD),
    ] = None
    bolt_factor: Annotated[Spread, Measure("preload over separating force, 1.5 by practice", least=1.0)] = (
        Spread(1.5, 1.5)
    )

    def more_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """A cover gap or a preload that wasn't given."""
        high = float(states.pressure.max())
        found = []
        if not levels(self.cover_gap):
            known = high <= COVER_STIFF_TO
            cover = unknown("cover_gap", "length", (0.0, 1.0))
            found.append(cover._replace(levels=(0.0,), missing=False) if known else cover)
        if not levels(self.bolt_preload):
            found.append(unknown("bolt_preload", "force", (1.0, 1e7)))
        return tuple(found)

    @property
    def edge_given(self) -> bool:
        """Whether the edge of the face beyond the land was given."""
        edge = "hub_outside" if self.pressure_side == "inside" else "hub_bore"
        return given(getattr(self, edge, None))

    def missing(self, states: States) -> list[Dimension]:
        """Where the face's edge is given the land follows from it."""
        return [one for one in super().missing(states) if one.name != "land" or not self.edge_given]

    def taken(self) -> list[str]:
        """A cover that lies flat."""
        if levels(self.cover_gap):
            return []
        return [f"the cover lies flat on the face; above {COVER_STIFF_TO:g} MPa it isn't known and is asked"]


class FaceGland(Covered, Cut):
    """A ring in a face groove, under a flat cover."""

    title: ClassVar[str] = "seal groove in a face under a flat cover"
    form: ClassVar[str] = "face"
    tabled_as: ClassVar[str] = "face"
    sized_by: ClassVar = ("gland_depth", "groove_width")
    _uses: ClassVar = Uses(
        depth=("gland_depth", "cover_gap", "pressure_share", *HUB),
        seat=("groove_inside", "groove_outside", "groove_width", *HUB),
        wall=("groove_inside", "groove_outside", "groove_width", *HUB),
        gap=("cover_gap", "pressure_share"),
        sealed=("groove_inside", "groove_outside", "groove_width", *HUB),
        volume=("gland_depth", "groove_inside", "groove_outside", "groove_width", *HUB),
        land=("land", "groove_inside", "groove_outside", "groove_width", "hub_outside", "hub_bore"),
    )
    values: ClassVar = values_of(_uses, radial=False, wall=True)
    rules: ClassVar = rules_of(_uses, radial=False, wall=True, cut=True)
    relations: ClassVar = (
        Relation("groove_inside", "groove_outside", "the groove needs a width"),
        Relation("groove_width", "groove_outside", "the groove lies inside its outer wall"),
        Relation("groove_outside", "hub_outside", "the face needs land around the groove"),
        Relation("hub_bore", "groove_inside", "the face needs land inside the groove"),
    )
    example: ClassVar[str] = (
        'fits gland face --ring AS568-232 --elastomer "FKM 75" --duty static \\\n'
        '  --medium liquid --fluid "mineral oil" --pressure-side inside \\\n'
        '  --groove-outside "75.3 +0.2/0" --groove-width "5.1 ±0.1" \\\n'
        '  --gland-depth "2.68 ±0.04" --corner-radius "0.4 ±0.1" \\\n'
        '  --swell "0 to 0.05" --compression-set 0.2 --finish "0.8 um" \\\n'
        '  --hub-material 316 --state "hot: 60 degC"'
    )

    gland_depth: Annotated[Limits, Length("depth of the groove under the cover")]
    groove_outside: Annotated[Limits | None, Size("outer wall of the groove", side="hole")] = None
    groove_inside: Annotated[Limits | None, Size("inner wall of the groove", side="shaft")] = None
    hub_outside: Annotated[Limits | None, Size("outside of the face", side="shaft")] = None
    hub_bore: Annotated[Limits | None, Size("bore inside the face", side="hole")] = None

    def loop(self, d: Mapping[str, Array], s: States, around: Any) -> loop.Loop:
        """A groove in a face."""
        return loop.face(self, d, s, around)

    @property
    def walls_apart(self) -> Limits:
        """As typed, or what both walls leave between them."""
        if self.groove_width is not None:
            return super().walls_apart
        outer, inner = self.groove_outside, self.groove_inside
        assert isinstance(outer, Limits)
        assert isinstance(inner, Limits)
        return Limits((outer.lower - inner.upper) / 2.0, (outer.upper - inner.lower) / 2.0)

    def sides(self, d: Mapping[str, Array]) -> tuple[Array, Array, Array]:
        """Inner wall, outer wall (diameters) and width, two of them as typed, mm."""
        if self.groove_width is None:
            inside, outside = d["groove_inside"], d["groove_outside"]
            return inside, outside, (outside - inside) / 2.0
        width = d["groove_width"]
        if self.groove_outside is None:
            return d["groove_inside"], d["groove_inside"] + 2.0 * width, width
        return d["groove_outside"] - 2.0 * width, d["groove_outside"], width

    def width(self, d: Mapping[str, Array]) -> Array:
        """As typed, or between both walls."""
        return self.sides(d)[2]

    def land_width(self, d: Mapping[str, Array]) -> Array:
        """From the groove to the edge of the face that pressure pushes it to, or as typed if less."""
        if not self.edge_given:
            return d["land"]
        inside, outside, _ = self.sides(d)
        if self.pressure_side == "inside":
            return lesser(d, (d["hub_outside"] - outside) / 2.0)
        return lesser(d, (inside - d["hub_bore"]) / 2.0)

    def near(self, field: str) -> float | None:
        """A squeeze in the middle of the band, a width as usual."""
        return self.thick(0.77) if field == "gland_depth" else self.near_width().get(field)

    def faults(self) -> list[Fault]:
        """Two of three: both walls, or one and the width."""
        found = super().faults()
        typed = [
            one for one in ("groove_outside", "groove_inside", "groove_width") if given(getattr(self, one))
        ]
        if len(typed) != 2:
            many = ("none is given", "one more is missing", "", "all three are too many")[len(typed)]
            must = f"two of groove_outside, groove_inside, groove_width are due; {many}"
            found.append(Fault(must, ", ".join(typed), typed[-1] if typed else "groove_outside"))
        outer, width = self.size("groove_outside"), self.size("groove_width")
        if outer is not None and width is not None and 2.0 * width.upper >= outer.lower:
            found.append(
                Fault(
                    f"wider than the part: both sides meet inside the outer wall ({outer.lower:g} mm)",
                    f"{width.upper:g} mm",
                    "groove_width",
                )
            )
        inner, land = self.size("groove_inside"), self.size("hub_outside")
        if (
            inner is not None
            and width is not None
            and land is not None
            and inner.upper + 2.0 * width.upper >= land.lower
        ):
            found.append(
                Fault(
                    f"wider than the part: the groove reaches its outside ({land.lower:g} mm)",
                    f"{width.upper:g} mm",
                    "groove_width",
                )
            )
        hole = self.size("hub_bore")
        if (
            outer is not None
            and width is not None
            and hole is not None
            and outer.lower - 2.0 * width.upper <= hole.upper
        ):
            found.append(
                Fault(
                    f"wider than the part: the groove reaches its bore ({hole.upper:g} mm)",
                    f"{width.upper:g} mm",
                    "groove_width",
                )
            )
        return found

    def fit_faults(self) -> list[Fault]:
        """A ring that lies outside or inside of the groove."""
        walls = self._furthest_walls()
        if walls is None:
            return []
        inner, outer = walls
        inside, outside = self.ring.inside.lower, self.ring.inside.upper + 2.0 * self.ring.section.upper
        if inside >= outer:
            must = f"its inside ({inside:.4g} mm) is larger than the groove's outer wall"
            return [Fault(must, self.ring.code, "ring", hint="a smaller ring")]
        if outside <= inner:
            must = f"its outside ({outside:.4g} mm) is smaller than the inner wall: it can't reach the groove"
            return [Fault(must, self.ring.code, "ring", hint="a larger ring")]
        return []

    def _furthest_walls(self) -> tuple[float, float] | None:
        """The inner wall at its least and the outer one at its most, mm; None where one isn't known."""
        outer, inner = self.size("groove_outside"), self.size("groove_inside")
        width = self.size("groove_width")
        if outer is not None and inner is not None:
            return inner.lower, outer.upper
        if outer is not None and width is not None:
            return outer.lower - 2.0 * width.upper, outer.upper
        if inner is not None and width is not None:
            return inner.lower, inner.upper + 2.0 * width.upper
        return None


class DovetailGland(Covered):
    """A ring held by an undercut groove in a face."""

    title: ClassVar[str] = "dovetail seal groove in a face"
    form: ClassVar[str] = "dovetail"
    tabled_as: ClassVar[str] = "dovetail"
    sized_by: ClassVar = ("gland_depth",)
    _uses: ClassVar = Uses(
        depth=("gland_depth", "cover_gap", "pressure_share", *HUB),
        seat=("groove_middle", *HUB),
        gap=("cover_gap", "pressure_share"),
        sealed=("groove_middle", "mouth_width", *HUB),
        land=("land", "groove_middle", "mouth_width", "undercut_angle", "hub_outside"),
    )
    values: ClassVar = (
        *values_of(
            _uses,
            radial=False,
            wall=False,
            cut=("mouth_width", "undercut_angle", "corner_radius", "gland_depth", "groove_middle", *HUB),
        ),
        *MOUTH,
    )
    rules: ClassVar = (*rules_of(_uses, radial=False, wall=False), *HELD, STANDS)
    relations: ClassVar = (
        Relation("mouth_width", "groove_middle", "the groove goes around"),
        Relation("groove_middle", "hub_outside", "the face needs land around the groove"),
    )
    example: ClassVar[str] = (
        'fits gland dovetail --ring AS568-232 --elastomer "FKM 75" --duty static \\\n'
        "  --medium gas --fluid air --pressure-side inside --swell 0 \\\n"
        '  --groove-middle "73.8 ±0.1" --gland-depth "2.92 ±0.025" \\\n'
        '  --mouth-width "3.1 ±0.03" --undercut-angle 24 \\\n'
        '  --corner-radius "0.4 ±0.1" --edge-radius "0.15 ±0.02" \\\n'
        '  --compression-set 0.2 --finish "0.4 um"'
    )

    groove_middle: Annotated[Limits, Size("diameter of the middle of the groove")]
    gland_depth: Annotated[Limits, Length("depth of the groove under the cover")]
    mouth_width: Annotated[Limits, Length("width of the mouth at its sharp corners")]
    undercut_angle: Annotated[
        Spread, Measure("angle of each side from the axis, 24 usual", digits=1, least=0.0, most=45.0)
    ]
    corner_radius: Annotated[Limits, Size("radius left at the groove's bottom, or 0", zero=True)]
    edge_radius: Annotated[Limits | None, Size("radius on the edges of the mouth, or 0", zero=True)] = None
    land: Annotated[Limits | None, Length(LAND)] = None
    hub_outside: Annotated[Limits | None, Size("outside of the face", side="shaft")] = None

    def land_width(self, d: Mapping[str, Array]) -> Array:
        """From the bottom of the undercut to the edge of the face, or as typed if less."""
        if not self.edge_given:
            return d["land"]
        spread = _undercut(d["gland_depth"], d["undercut_angle"])
        return lesser(d, (d["hub_outside"] - d["groove_middle"] - d["mouth_width"] - spread) / 2.0)

    def loop(self, d: Mapping[str, Array], s: States, around: Any) -> loop.Loop:
        """An undercut groove."""
        return loop.dovetail(self, d, s, around)

    def near(self, field: str) -> float | None:
        """A squeeze in the middle of the band."""
        return self.thick(0.8) if field == "gland_depth" else None

    def figures(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Figure, ...]:
        """The groove and its ring in section (``section``)."""
        from fits.features.gland.section import dovetail

        return dovetail(self, numbers)

    def fit_faults(self) -> list[Fault]:
        """A ring that isn't over the groove, or falls through its mouth."""
        mouth, middle = self.size("mouth_width"), self.size("groove_middle")
        found = []
        if mouth is not None and mouth.upper >= self.ring.section.lower:
            found.append(
                Fault(
                    "as wide as the ring: it won't be held",
                    f"{mouth.upper:g} mm",
                    "mouth_width",
                    hint=f"below its section, {self.ring.section.lower:.4g} mm",
                )
            )
        if (
            middle is not None
            and not self.ring.inside.lower
            < middle.upper
            < self.ring.inside.upper + 2.0 * self.ring.section.upper
        ):
            found.append(
                Fault(
                    f"the ring can't reach the groove's middle ({middle.middle:g} mm)", self.ring.code, "ring"
                )
            )
        depth, outside = self.size("gland_depth"), self.size("hub_outside")
        if middle and mouth and depth and outside:
            spread = float(_undercut(depth.lower, self.undercut_angle.low))
            bottom = middle.lower + mouth.lower + spread
            if bottom >= outside.upper:
                must = f"the undercut, {bottom:.4g} mm at its bottom, breaks through the part's outside"
                found.append(Fault(must, f"{outside.upper:g} mm", "hub_outside"))
        return found


def _undercut(depth: Any, angle: Any) -> Any:
    """By how much the bottom of a dovetail is wider than its mouth, mm; angle of a side in degrees."""
    return 2.0 * depth * np.tan(np.radians(angle))


class TriangularGland(Covered):
    """A ring crushed into a chamfered corner; static and once only."""

    title: ClassVar[str] = "triangular seal groove at the corner of a flange"
    form: ClassVar[str] = "triangular"
    tabled_as: ClassVar[str] = "triangular"
    sized_by: ClassVar = ("leg",)
    _uses: ClassVar = Uses(
        depth=("leg", "cover_gap", "pressure_share", *HUB),
        seat=("spigot", *HUB),
        gap=("cover_gap", "pressure_share"),
        sealed=("spigot", "leg", *HUB),
    )
    values: ClassVar = values_of(_uses, radial=False, wall=False, cut=("leg", "spigot", *HUB))
    rules: ClassVar = rules_of(_uses, radial=False, wall=False)
    relations: ClassVar = (Relation("leg", "spigot", "the chamfer goes around the spigot"),)
    example: ClassVar[str] = (
        'fits gland triangular --ring AS568-220 --elastomer "FKM 75" --duty static \\\n'
        '  --medium gas --fluid air --pressure-side inside --spigot "34.9 h8" \\\n'
        '  --leg "4.80 ±0.05" --swell 0 --compression-set 0.3 --finish "0.4 um"'
    )

    spigot: Annotated[Limits, Size("diameter of the spigot at the corner", side="shaft")]
    leg: Annotated[Limits, Length("leg of the 45 degree chamfer")]

    def loop(self, d: Mapping[str, Array], s: States, around: Any) -> loop.Loop:
        """A chamfered corner."""
        return loop.triangular(self, d, s, around)

    def near(self, field: str) -> float | None:
        """A leg of 1.35 sections (from memory)."""
        return self.thick(1.35) if field == "leg" else None

    def figures(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Figure, ...]:
        """The corner and its ring in section (``section``)."""
        from fits.features.gland.section import triangular

        return triangular(self, numbers)

    def fit_faults(self) -> list[Fault]:
        """A ring that can't lie around the spigot."""
        spigot = self.size("spigot")
        if spigot is not None and spigot.upper > self.ring.inside.upper * (1.0 + FITTED_STRETCH):
            return [
                Fault(
                    "it would be stretched by more than 50 % over the spigot",
                    self.ring.code,
                    "ring",
                    hint="a larger ring",
                )
            ]
        return []
