"""Glands between a bore and a member: in a piston, and around a rod."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

import numpy as np

from fits.arrays import Array
from fits.errors import Fault
from fits.features.feature import Dimension, Relation, States
from fits.features.fields import Choice, Length, Measure, MetalField, Size, Spread, SurfaceRef, levels
from fits.features.gland import loop
from fits.features.gland.declaration import FITTED_STRETCH, NONE, Cut, given, unknown
from fits.features.gland.rules import rules_of
from fits.features.gland.uses import HUB, SHAFT
from fits.features.gland.uses import Loop as Uses
from fits.features.gland.values import values_of
from fits.features.parts import metal_shares, share, under_pressure
from fits.materials.metals import Metal
from fits.mechanics import ring as equations
from fits.sizes.limits import Limits

# Three ways to say where the groove's bottom is.
BOTTOMS = ("groove_diameter", "gland_depth", "groove_depth")
# Levels kept of the seats at which the squeeze of a small ring turns: what lies between two is
# less than the rounding of the report away.
MOST_TURNS = 16
# Squeeze aimed at where a groove is still open: the middle of the duty's band.
AIM = {"static": 0.2, "reciprocating": 0.13, "rotary": 0.05}


class Radial(Cut):
    """A ring between a bore and a member in it, which can lie to one side."""

    radial: ClassVar[bool] = True
    tabled_as: ClassVar[str] = "radial"

    groove_width: Annotated[Limits, Length("width of the groove at its bottom")]
    groove_diameter: Annotated[Limits | None, Size("bottom of the groove, or a depth")] = None
    gland_depth: Annotated[Limits | None, Length("groove bottom to mating surface")] = None
    groove_depth: Annotated[Limits | None, Length("depth of the groove as cut")] = None
    runout: Annotated[
        Spread, Measure("full runout of groove to its cylinder", quantity="length", least=0.0)
    ] = NONE
    guide_clearance: Annotated[
        Spread | None, Measure("clearance of a guide that centres it", quantity="length", least=0.0)
    ] = None
    length: Annotated[Limits | None, Length("length of the part with the groove")] = None
    lead_in: Annotated[
        Spread | None, Measure("length of the lead-in chamfer", quantity="length", least=0.0)
    ] = None
    lead_in_angle: Annotated[str, Choice("its angle, degrees", options=("15", "20"))] = "15"
    shaft_material: Annotated[Metal | None, MetalField("metal of the inner part")] = None
    hub_outside: Annotated[
        Limits | None, Size("outside of the outer part, for growth under pressure", side="shaft")
    ] = None
    shaft_bore: Annotated[
        Limits | None, Size("bore of the inner part; left out: solid", side="hole", zero=True)
    ] = None

    @property
    def own_wall(self) -> bool:
        """Whether the outer part is this feature's own, not another's surface."""
        return True

    def more_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Shares of the inner metal, a wall not given, a solid member, turning points."""
        found = [*metal_shares("shaft", self.shaft_material)]
        found.append(share("speed_share", on=bool((states.speed != 0.0).any()), shared="part.speed"))
        if self.hub_outside is None:
            needed = self.own_wall and under_pressure(self, states)
            around = self.hole
            search = (around * 1.001, around * 20.0)
            found.append(unknown("hub_outside", "length", search)._replace(missing=needed))
        if self.shaft_bore is None:
            found.append(Dimension("shaft_bore", "shaft bore", "length", (0.0,), (0.0, 0.0)))
        return (*found, *self._turning(states))

    @property
    def hole(self) -> float:
        """The bore around everything, mm, to look for a wall."""
        raise NotImplementedError

    def turning_field(self) -> str:
        """The field along which the squeeze of a small ring may turn."""
        raise NotImplementedError

    def turning_levels(self, seat: Array) -> Array:
        """That field's values for a seat diameter."""
        return seat

    def _turning(self, states: States) -> list[Dimension]:
        """Further levels where the least squeeze lies inside the zone (small rings only)."""
        name = self.turning_field()
        value = getattr(self, name)
        at = levels(value)
        if len(at) < 2 or self.is_open("ring"):
            return []
        low, high = at
        # Any growth of the ring up to a few percent moves the turning point with it.
        factors = np.linspace(0.97, 1.08, 12)
        inside = np.array(levels(self.ring.inside))[:, None, None] * factors
        section = np.array(levels(self.ring.section))[None, :, None] * factors
        seats = np.concatenate([one.ravel() for one in equations.least_turning_seat(inside, section)])
        found = self.turning_levels(seats[np.isfinite(seats)])
        more = sorted({float(one) for one in found if low < one < high})
        if not more:
            return []
        kept = more[:: max(len(more) // MOST_TURNS, 1)]
        kind = "length"
        search = (0.5 * low, 2.0 * high)
        key = f"sizes.{value.name}" if value.name else ""
        return [Dimension(name, name.replace("_", " "), kind, (low, *kept, high), search, key)]

    def faults(self) -> list[Fault]:
        """One of three ways to say where the groove's bottom is."""
        found = super().faults()
        ways = [one for one in BOTTOMS if given(getattr(self, one))]
        if len(ways) != 1:
            must = "one of groove_diameter, gland_depth, groove_depth is due"
            found.append(Fault(must, ", ".join(ways), ways[1] if ways else "groove_diameter"))
        sizes = [self.size(one) for one in ("groove_width", "land", "length")]
        if all(one is not None for one in sizes):
            width, land, length = (one for one in sizes if one is not None)
            if width.upper + land.upper >= length.lower:
                must = f"groove and land are longer than the part ({length.lower:g} mm at its least)"
                found.append(Fault(must, f"{width.upper:g} + {land.upper:g} mm", "land"))
        if self.shaft_bore is not None and self.shaft_bore.upper > self.shaft_bore.lower == 0.0:
            found.append(Fault("a bore with limits is above 0; a solid part has none", key="shaft_bore"))
        return found

    def taken(self) -> list[str]:
        """Side load is counted; what wasn't given of the runout."""
        found = []
        if self.guide_clearance is None:
            found.append("the parts may lie to one side by their whole clearance: no guide is described")
        if "runout" not in self.model_fields_set:
            found.append("runout of the groove to its own cylinder taken as 0: not given")
        return found


class PistonGland(Radial):
    """A groove in a piston or plug, sealing against the bore."""

    title: ClassVar[str] = "seal groove in a piston or plug"
    form: ClassVar[str] = "piston"
    cut_as: ClassVar[Mapping[str, str]] = {**Cut.cut_as, "groove_diameter": "shaft"}
    sized_by: ClassVar = ("groove_diameter", "gland_depth", "groove_depth", "groove_width")
    _uses: ClassVar = Uses(
        depth=(
            "bore",
            "groove_diameter",
            "gland_depth",
            "groove_depth",
            "piston_diameter",
            "bore_growth",
            "shaft_modulus",
            "shaft_modulus_share",
            "shaft_bore",
            "pressure_share",
            *HUB,
            *SHAFT,
        ),
        shift=("bore", "piston_diameter", "guide_clearance", "runout"),
        seat=(
            "groove_diameter",
            "bore",
            "gland_depth",
            "piston_diameter",
            "groove_depth",
            "shaft_modulus",
            "shaft_modulus_share",
            "shaft_bore",
            "pressure_share",
            *SHAFT,
        ),
        gap=(
            "bore",
            "piston_diameter",
            "bore_growth",
            "shaft_modulus",
            "shaft_modulus_share",
            "shaft_bore",
            "pressure_share",
            *HUB,
            *SHAFT,
        ),
        growth=("bore", "hub_outside", "hub_modulus", "hub_modulus_share", "pressure_share"),
        land=("land",),
    )
    values: ClassVar = values_of(_uses, radial=True, wall=False, member="shaft")
    rules: ClassVar = rules_of(_uses, radial=True, wall=False, cut=True)
    relations: ClassVar = (
        Relation("piston_diameter", "bore", "the piston goes into the bore with clearance"),
        Relation("groove_diameter", "piston_diameter", "the groove is cut into the piston"),
        Relation("bore", "hub_outside", "the cylinder needs a wall"),
        Relation("shaft_bore", "groove_diameter", "the piston needs a wall under the groove"),
        Relation("groove_width", "length", "the groove needs land on both sides"),
    )
    example: ClassVar[str] = (
        'fits gland piston --ring AS568-214 --elastomer "NBR 70" --duty static \\\n'
        '  --medium liquid --fluid "mineral oil" --bore "31 H8" \\\n'
        '  --piston-diameter "31 f7" --groove-diameter "25.4 h9" \\\n'
        '  --groove-width "4.8 +0.2/0" --corner-radius "0.4 ±0.1" \\\n'
        '  --swell "0 to 0.05" --compression-set 0.2 --finish "0.8 um" --lead-in 4.5'
    )

    bore: Annotated[
        Limits | SurfaceRef, Size("bore it seals against, or liner.shaft_bore", side="hole", on_surface=True)
    ]
    piston_diameter: Annotated[Limits, Size("outside of the piston at the groove", side="shaft")]

    @property
    def own_wall(self) -> bool:
        """A bore of another feature breathes there."""
        return not isinstance(self.bore, SurfaceRef)

    @property
    def hole(self) -> float:
        """The bore, or where it stands on a surface the piston, mm."""
        return max(levels(self.bore) or levels(self.piston_diameter) or (1.0,))

    def loop(self, d: Mapping[str, Array], s: States, around: Any) -> loop.Loop:
        """A groove in the inner part."""
        return loop.piston(self, d, s, around)

    def turning_field(self) -> str:
        """The bottom of the groove."""
        return next((one for one in BOTTOMS if given(getattr(self, one))), "groove_diameter")

    def turning_levels(self, seat: Array) -> Array:
        """Depths for seats, where a depth was typed."""
        name = self.turning_field()
        if name == "groove_diameter":
            return seat
        over = levels(self.piston_diameter if name == "groove_depth" else self.bore) or (np.nan,)
        return np.concatenate([(one - seat) / 2.0 for one in over])

    def near(self, field: str) -> float | None:
        """Where the groove is likely to be: a squeeze in the middle of the duty's band."""
        if self.is_open("ring") or self.is_open("duty"):
            return None
        depth = self.ring.section.middle * (1.0 - AIM[self.duty])
        at = {"groove_diameter": self.hole - 2.0 * depth, "gland_depth": depth, **self.near_width()}
        if self.size("piston_diameter"):
            at["groove_depth"] = depth - (self.hole - self.piston_diameter.middle) / 2.0
        return at.get(field)

    def fit_faults(self) -> list[Fault]:
        """A ring that can't reach the groove, or stands on another feature's wall."""
        found = []
        if not self.own_wall and self.hub_outside is not None:
            found.append(
                Fault(f"the bore stands on {self.bore}: its wall is that feature's", key="hub_outside")
            )
        inside = self.ring.inside
        over = self.size("piston_diameter")
        if over is not None and inside.lower >= over.upper:
            must = f"its inside ({inside.lower:.4g} mm) is larger than the piston: it can't reach the groove"
            found.append(Fault(must, self.ring.code, "ring", hint="a smaller ring"))
        elif over is not None and over.upper > inside.upper * (1.0 + FITTED_STRETCH):
            share = (over.upper / inside.upper - 1.0) * 100.0
            must = f"it would have to be stretched by {share:.0f} % over the piston, more than 50 %"
            found.append(Fault(must, self.ring.code, "ring", hint="a larger ring"))
        for field, outside in (("groove_depth", over), ("gland_depth", self.size("bore"))):
            depth = self.size(field)
            if depth is not None and outside is not None and 2.0 * depth.upper >= outside.lower:
                must = f"so deep a groove leaves nothing of the piston, {outside.lower:g} mm at its least"
                found.append(Fault(must, f"{depth.upper:g} mm", field))
        return found


class RodGland(Radial):
    """A groove in the housing around a rod or shaft."""

    title: ClassVar[str] = "seal groove in the housing around a rod"
    form: ClassVar[str] = "rod"
    cut_as: ClassVar[Mapping[str, str]] = {**Cut.cut_as, "groove_diameter": "hole"}
    sized_by: ClassVar = ("groove_diameter", "gland_depth", "groove_depth", "groove_width")
    _uses: ClassVar = Uses(
        depth=(
            "rod",
            "groove_diameter",
            "gland_depth",
            "groove_depth",
            "housing_bore",
            "bore_growth",
            "shaft_modulus",
            "shaft_modulus_share",
            "shaft_bore",
            "pressure_share",
            *HUB,
            *SHAFT,
        ),
        shift=("rod", "housing_bore", "guide_clearance", "runout"),
        seat=("rod", "shaft_modulus", "shaft_modulus_share", "shaft_bore", "pressure_share", *SHAFT),
        wall=("groove_diameter", "rod", "gland_depth", "housing_bore", "groove_depth", "bore_growth", *HUB),
        gap=(
            "rod",
            "housing_bore",
            "bore_growth",
            "hub_outside",
            "hub_modulus",
            "hub_modulus_share",
            "shaft_modulus",
            "shaft_modulus_share",
            "shaft_bore",
            "pressure_share",
            *HUB,
            *SHAFT,
        ),
        growth=(
            "groove_diameter",
            "rod",
            "gland_depth",
            "housing_bore",
            "groove_depth",
            "hub_outside",
            "hub_modulus",
            "hub_modulus_share",
            "pressure_share",
        ),
        land=("land",),
    )
    values: ClassVar = values_of(_uses, radial=True, wall=True)
    rules: ClassVar = rules_of(_uses, radial=True, wall=True, cut=True)
    relations: ClassVar = (
        Relation("rod", "housing_bore", "the rod goes through the housing with clearance"),
        Relation("housing_bore", "groove_diameter", "the groove is cut into the housing"),
        Relation("groove_diameter", "hub_outside", "the housing needs a wall around the groove"),
        Relation("shaft_bore", "rod", "the rod needs a wall"),
        Relation("groove_width", "length", "the groove needs land on both sides"),
    )
    example: ClassVar[str] = (
        'fits gland rod --ring AS568-214 --elastomer "NBR 70" --duty reciprocating \\\n'
        '  --medium liquid --fluid "mineral oil" --rod "25.4 f7" \\\n'
        '  --housing-bore "25.4 H8" --groove-diameter "31.64 +0.04/0" \\\n'
        '  --groove-width "4.8 +0.2/0" --corner-radius "0.4 ±0.1" \\\n'
        '  --guide-clearance 0.02 --swell "0 to 0.05" --compression-set 0.2 \\\n'
        '  --finish "0.4 um" --lead-in 4.5'
    )

    rod: Annotated[Limits, Size("rod or shaft it seals on", side="shaft")]
    housing_bore: Annotated[Limits, Size("bore of the housing at the groove", side="hole")]

    @property
    def hole(self) -> float:
        """The housing's bore, mm."""
        return max(levels(self.groove_diameter) or levels(self.housing_bore) or (1.0,))

    def loop(self, d: Mapping[str, Array], s: States, around: Any) -> loop.Loop:
        """A groove in the outer part."""
        return loop.rod(self, d, s, around)

    def turning_field(self) -> str:
        """The rod: the ring lies on it."""
        return "rod"

    def near(self, field: str) -> float | None:
        """Where the groove is likely to be: a squeeze in the middle of the duty's band."""
        if self.is_open("ring") or self.is_open("duty"):
            return None
        depth = self.ring.section.middle * (1.0 - AIM[self.duty])
        rod = self.size("rod")
        if rod is None:
            return None
        at = {"groove_diameter": rod.middle + 2.0 * depth, "gland_depth": depth, **self.near_width()}
        if self.size("housing_bore"):
            at["groove_depth"] = depth - (self.housing_bore.middle - rod.middle) / 2.0
        return at.get(field)

    def fit_faults(self) -> list[Fault]:
        """A ring that can't reach the groove, or has to be stretched too far over the rod."""
        found = []
        outside = self.ring.inside.upper + 2.0 * self.ring.section.upper
        bore, rod = self.size("housing_bore"), self.size("rod")
        if bore is not None and outside <= bore.lower:
            must = f"its outside ({outside:.4g} mm) is smaller than the bore: it can't reach the groove"
            found.append(Fault(must, self.ring.code, "ring", hint="a larger ring"))
        elif rod is not None and rod.upper > self.ring.inside.upper * (1.0 + FITTED_STRETCH):
            found.append(
                Fault(
                    "it would be stretched by more than 50 % over the rod",
                    self.ring.code,
                    "ring",
                    hint="a larger ring",
                )
            )
        elif rod is not None and self.ring.inside.lower >= rod.upper + 2.0 * self.ring.section.upper:
            found.append(
                Fault("the ring lies clear of the rod", self.ring.code, "ring", hint="a smaller ring")
            )
        return found
