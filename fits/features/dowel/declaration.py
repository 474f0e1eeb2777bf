"""The dowel joint: its fields, equations and plan."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from fits.arrays import Array, Mask
from fits.errors import Fault, InputError
from fits.features import lasting
from fits.features.dowel.data import CAUTIONS, RULES, VALUES, tight
from fits.features.feature import Dimension, Feature, NotCovered, Outcome, States, Step
from fits.features.fields import Choice, Flag, Length, Measure, MetalField, Size, Spread
from fits.features.parts import Material, material, metal_shares, share, typed_metals, warm
from fits.features.tools import between
from fits.materials.metals import Metal
from fits.mechanics import cylinder
from fits.shop import dowels, reamers
from fits.sizes.limits import Limits
from fits.sizes.notation import belong
from fits.tables import Source

PARTS = ("pin", "tight", "free")
# What matters of the metals of pin and free part: how they grow.
_GROWTH = tuple(f"{part}_{what}" for part in ("pin", "free") for what in ("strain", "service"))


class Dowel(Feature):
    """A dowel pin, tight in one part and free in the other; one of two, as a rule."""

    kind: ClassVar[str] = "dowel"
    title: ClassVar[str] = "dowel pin, tight in one part and free in the other"
    plan_title: ClassVar[str] = "To make and fit"
    example: ClassVar[str] = (
        'fits dowel --pin "6 m6" --tight-hole "6.003/5.997" \\\n'
        '  --free-hole "6.030/6.018" --tight-through true --wall 8 \\\n'
        "  --tight-material 6061-T6 --second slot"
    )
    # The tight side is the fit that is chosen and swept.
    pair: ClassVar[tuple[str, str] | None] = ("tight_hole", "pin")
    fit: ClassVar[Literal["interference", "clearance"]] = "interference"
    values: ClassVar = VALUES
    rules: ClassVar = RULES
    cautions: ClassVar = CAUTIONS

    pin: Annotated[Limits, Size("pin as bought or measured: 6 m6, 0.2503/0.2501 in", side="shaft")]
    tight_hole: Annotated[
        Limits | None, Size("hole the pin is pressed into; left out: suggested for the pin", side="hole")
    ] = None
    free_hole: Annotated[
        Limits | None, Size("hole the pin slips into; left out: suggested for the pin", side="hole")
    ] = None
    wall: Annotated[
        Limits | None, Length("thinnest wall around the tight hole, to an edge or the next hole")
    ] = None
    tight_depth: Annotated[Limits | None, Length("depth of the pin in its tight hole")] = None
    tight_through: Annotated[bool | None, Flag("whether the tight hole goes through")] = None
    vent: Annotated[bool | None, Flag("whether a vent or a flat lets the air out")] = None
    second: Annotated[
        str | None,
        Choice("free hole of the other pin", options=("round", "slot", "none")),
    ] = None
    spacing: Annotated[Limits | None, Length("distance of the two pins")] = None
    spacing_error: Annotated[
        Spread | None,
        Measure("most that the spacings of the two parts differ", quantity="length", least=0.0),
    ] = None
    pin_material: Annotated[Metal | None, MetalField("metal of the pin")] = None
    tight_material: Annotated[Metal | None, MetalField("metal of the part with the tight hole")] = None
    free_material: Annotated[Metal | None, MetalField("metal of the part with the free hole")] = None

    def hole(self, which: str) -> tuple[float, float] | None:
        """The limits of the ``tight`` or ``free`` hole in mm: typed, else suggested, else None."""
        typed = getattr(self, f"{which}_hole")
        if isinstance(typed, Limits):
            return typed.lower, typed.upper
        found = self.suggested(which)
        return (found.low, found.high) if found is not None else None

    def suggested(self, which: str) -> dowels.Suggested | None:
        """What is suggested for a hole that isn't typed."""
        if getattr(self, f"{which}_hole") is not None or not isinstance(self.pin, Limits):
            return None
        return dowels.tight_hole(self.pin) if which == "tight" else dowels.free_hole(self.pin)

    def band(self, which: str) -> reamers.Band | None:
        """The reamers to choose from for one of its holes, None where none would do."""
        ends = self.hole(which)
        try:
            return reamers.band(Limits(*ends)) if ends is not None else None
        except InputError:
            return None

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Holes that aren't typed, shares of expansions and of the reamers' band."""
        nothing = float("nan")
        found = [share("band_share", on=True)]
        for part in PARTS:
            found += metal_shares(part, getattr(self, f"{part}_material"))
        size = self.pin.upper if isinstance(self.pin, Limits) else 1.0
        for which in ("tight", "free"):
            name = f"{which}_hole"
            if getattr(self, name) is None:
                ends = self.hole(which)
                search = (0.98 * size, 1.02 * size)
                levels = ends or (nothing,)
                found.append(Dimension(name, f"{which} hole", "length", levels, search, missing=ends is None))
        searches = {"wall": (0.01 * size, 20.0 * size), "spacing": (0.0, 1000.0), "spacing_error": (0.0, 0.5)}
        for name, search in searches.items():
            if getattr(self, name) is None:
                label = name.replace("_", " ")
                found.append(Dimension(name, label, "length", (nothing,), search, missing=True))
        return tuple(found)

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the joint."""
        import numpy as np

        always = np.ones(len(s.names), dtype=bool)
        gaps: list[NotCovered] = []
        of = {part: self._material(part, d, s) for part in PARTS}
        strain = {part: one.strain for part, one in of.items()}
        gaps += of["tight"].gaps
        gaps += [gap for part in ("pin", "free") for gap in of[part].gaps if gap.about in _GROWTH]
        if self.pin_material is not None:
            gaps += [gap for gap in of["pin"].gaps if gap.about == "pin_modulus"]
        numbers = {
            "pin": d["pin"],
            "tight_hole": d["tight_hole"],
            "free_hole": d["free_hole"],
            "interference": d["pin"] * (1.0 + strain["pin"]) - d["tight_hole"] * (1.0 + strain["tight"]),
            "clearance": d["free_hole"] * (1.0 + strain["free"]) - d["pin"] * (1.0 + strain["pin"]),
        }
        for which in ("tight", "free"):
            if self.hole(which) is None:
                reason = f"no {which} hole is given, and none is suggested for this pin"
                gaps.append(NotCovered(f"{which}_hole", reason, always, f"{which}_hole"))
            band = self.band(which)
            if band is not None:
                numbers[f"{which}_reamer"] = band.low + d["band_share"] * (band.high - band.low)
        numbers |= self._plate(d, of["tight"], of["pin"], numbers["interference"])
        if self.spacing is None and self.spacing_error is None:
            return self._rest(numbers, d, s, gaps)
        apart = d["spacing"] * np.abs(strain["tight"] - strain["free"])
        numbers["mismatch"] = d["spacing_error"] + apart
        numbers["spare"] = numbers["clearance"] - numbers["mismatch"]
        for name in ("spacing", "spacing_error"):
            if getattr(self, name) is None:
                gaps.append(NotCovered(name, f"{name} not given", always, name))
        if self.second is None:
            reason = "second not given: is the other free hole round or a slot?"
            gaps.append(NotCovered("mismatch", reason, always))
        return self._rest(numbers, d, s, gaps)

    def _rest(
        self, numbers: dict[str, Array], d: Mapping[str, Array], s: States, gaps: list[NotCovered]
    ) -> Outcome:
        """Depth and air, and the gaps of all."""
        import numpy as np

        # The trade counts depth in nominal diameters.
        deep = self.tight_depth is not None
        depth = d["tight_depth"] / self.pin.nominal if deep else np.full((1, 1), np.nan)
        shut = self.tight_through is False and self.vent is False
        numbers |= {"engagement": depth, "trapped": np.array([[1.0 if shut else 0.0]])}
        gaps += self._missing(np.ones(len(s.names), dtype=bool))
        gaps += lasting.temper(numbers, tight(self), s)
        gaps += lasting.cracking(numbers, tight(self), len(s.names))
        return Outcome(numbers, tuple(gap for gap in gaps if gap.mask.any()))

    def _material(self, part: str, d: Mapping[str, Array], s: States) -> Material:
        """One of the three parts in every state; the pin has the temperature of the shaft."""
        import numpy as np

        temperature = s.shaft_temperature if part == "pin" else s.hub_temperature
        return material(part, getattr(self, f"{part}_material"), temperature, d, np.ones(1))

    def _plate(
        self, d: Mapping[str, Array], plate: Material, pin: Material, interference: Array
    ) -> dict[str, Array]:
        """Stress of the tight part as a ring of its least wall, around the pin."""
        import numpy as np

        outside = d["tight_hole"] + 2.0 * d["wall"]
        nu = self.tight_material.poisson if self.tight_material is not None else np.nan
        one = np.ones_like(interference)
        growth = cylinder.bore_growth(bore=d["tight_hole"], outside=outside, p=one, e=plate.modulus, nu=nu)
        gives = np.zeros_like(growth)
        if self.pin_material is not None:
            gives = d["tight_hole"] * (1.0 - self.pin_material.poisson) / pin.modulus
        pressure = np.maximum(interference, 0.0) / (growth + gives)
        hoop, _ = cylinder.face_hoops(inside=d["tight_hole"], outside=outside, p_in=pressure, p_out=0.0)
        stress = cylinder.von_mises(-pressure, hoop, np.zeros_like(pressure))
        return {"plate_von_mises": stress, "plate_allowed": plate.allowed}

    def _missing(self, always: Mask) -> list[NotCovered]:
        """What isn't given and can't be assumed."""
        found = []
        if self.wall is None:
            found.append(NotCovered("wall", "wall not given", always, "wall"))
        if self.tight_depth is None:
            found.append(NotCovered("engagement", "tight_depth not given", always))
        if self.tight_through is None and self.vent is not True:
            found.append(NotCovered("tight_through", "tight_through not given: through or blind?", always))
        elif self.tight_through is False and self.vent is None:
            reason = "the tight hole is blind and vent isn't given: where does the air go?"
            found.append(NotCovered("vent", reason, always))
        return found

    def faults(self) -> list[Fault]:
        """A free hole that can't belong to the pin."""
        found = super().faults()
        if isinstance(self.free_hole, Limits) and isinstance(self.pin, Limits):
            fault = belong(self.free_hole, self.pin)
            if fault is not None:
                found.append(fault.at(key="free_hole"))
        return found

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        found = [
            "sizes are free sizes at 20 degC; both pins and their holes have the same limits",
            "a ground pin in a reamed hole: nothing is taken off for smoothing, a rough hole holds less",
        ]
        for which in ("tight", "free"):
            hole = self.suggested(which)
            if hole is not None:
                found.append(
                    f"{which} hole not given: {between(hole.low, hole.high)} is suggested for the pin"
                )
        return (*found, *typed_metals(self.pin_material, self.tight_material, self.free_material))

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Sizes, suggestions and metals."""
        found: list[Source] = []
        for size in (self.pin, self.tight_hole, self.free_hole):
            found += size.sources if size is not None else ()
        for which in ("tight", "free"):
            hole = self.suggested(which)
            found += [hole.source] if hole is not None else []
        if warm(states):
            for metal in (self.pin_material, self.tight_material, self.free_material):
                found += metal.sources(temperature_matters=True) if metal is not None else ()
        return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """Ream both holes, vent, press, slip, try."""
        from fits.features.dowel.plan import plan

        return plan(self)
