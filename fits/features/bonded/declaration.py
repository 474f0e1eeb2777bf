"""The bonded slip fit as it is declared: fields, what may vary, how it is put together."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar

from fits.arrays import Array
from fits.errors import Fault
from fits.features.bonded import rules as about
from fits.features.bonded.values import VALUES
from fits.features.feature import Dimension, Feature, Outcome, Relation, States, Step
from fits.features.fields import Choice, Flag, Length, Measure, MetalField, Size, Spread
from fits.features.parts import REFUSALS, metal_shares, pressure_share, share, warm
from fits.materials import bonds
from fits.materials.metals import Metal
from fits.sizes.limits import Limits
from fits.tables import Source

NONE, ONE, TWO = Spread(0.0, 0.0), Spread(1.0, 1.0), Spread(2.0, 2.0)
ENDS = ("open", "liner", "body")
# Where a break-even value of a missing input is looked for.
_SEARCH = {
    "gap_least": ("length", (1e-4, 10.0)),
    "gap_most": ("length", (1e-4, 10.0)),
    "bond_shear": ("pressure", (1e-4, 1e4)),
    "bond_heat": ("temperature", (-273.15, 1000.0)),
    "bond_strain": ("number", (1e-6, 10.0)),
}


class Bonded(Feature):
    """An inner part glued in a hub with a retaining compound."""

    kind: ClassVar[str] = "bonded"
    title: ClassVar[str] = "bonded slip fit of an inner part glued in a hub"
    pair: ClassVar[tuple[str, str] | None] = ("hole", "shaft")
    example: ClassVar[str] = (
        'fits bonded --hole "16 H7" --shaft 15.960/15.940 --shaft-bore "12 ±0.05" \\\n'
        '  --hub-outside "32 ±0.1" --length 40 --hub-material 6061-T6 \\\n'
        '  --shaft-material 6061-T6 --axial-load "800 N" --gap-least 0.02 \\\n'
        '  --gap-most 0.12 --bond-shear "8 MPa" --bond-heat "150 degC" \\\n'
        '  --state "hot: 70 degC, 8 MPa"'
    )
    values: ClassVar = VALUES
    rules: ClassVar = about.RULES
    cautions: ClassVar = about.CAUTIONS
    refusals: ClassVar = REFUSALS
    relations: ClassVar = (
        Relation("shaft_bore", "shaft", "the inner part needs a wall"),
        Relation("hole", "hub_outside", "the hub needs a wall"),
    )

    hole: Annotated[Limits, Size("hole in the hub", side="hole")]
    shaft: Annotated[Limits, Size("outside of the inner part", side="shaft")]
    shaft_bore: Annotated[
        Limits | None, Size("bore of the inner part; 0 or left out: solid", side="hole", zero=True)
    ] = None
    hub_outside: Annotated[Limits, Size("outside of the hub", side="shaft")]
    length: Annotated[Limits | None, Length("bonded length, less chamfers and end radii")] = None
    hub_material: Annotated[Metal, MetalField("metal of the hub, temper included")]
    shaft_material: Annotated[Metal, MetalField("metal of the inner part, temper included")]
    axial_load: Annotated[Spread, Measure("force along the axis to hold", quantity="force", least=0.0)] = NONE
    torque: Annotated[Spread, Measure("torque to hold", quantity="torque", least=0.0)] = NONE
    gap_least: Annotated[
        Spread | None, Measure("least gap of the compound, data sheet", quantity="length", least=0.0)
    ] = None
    gap_most: Annotated[
        Spread | None,
        Measure("most gap of the compound, data sheet", quantity="length", least=0.0, above=True),
    ] = None
    bond_shear: Annotated[
        Spread | None,
        Measure(
            "least shear strength at this gap, on these metals, in the hottest state, data sheet",
            quantity="pressure",
            least=0.0,
            most=200.0,
            above=True,
        ),
    ] = None
    bond_heat: Annotated[
        Spread | None, Measure("heat limit of the compound, data sheet", quantity="temperature", most=400.0)
    ] = None
    bond_strain: Annotated[
        Spread | None,
        Measure(
            "share of its thickness that the bond may be stretched or sheared",
            least=0.0,
            most=10.0,
            above=True,
        ),
    ] = None
    ends: Annotated[
        str | None,
        Choice("what takes the end thrust of pressure in the bore; left out: the bond", options=ENDS),
    ] = None
    thrust_diameter: Annotated[
        Limits | None, Length("diameter the end thrust acts on; left out: the hole")
    ] = None
    alternating: Annotated[bool, Flag("whether load or torque alternates")] = False
    form_hole: Annotated[
        Spread, Measure("taper and ovality of the hole, as diameter", quantity="length", least=0.0)
    ] = NONE
    form_shaft: Annotated[
        Spread, Measure("taper and ovality of the shaft, as diameter", quantity="length", least=0.0)
    ] = NONE
    gauge_uncertainty: Annotated[
        Spread,
        Measure("uncertainty (k = 2) of the gauge", quantity="length", least=0.0),
    ] = NONE
    safety_yield: Annotated[Spread, Measure("further safety factor on yield", least=1.0)] = ONE
    safety_bond: Annotated[Spread, Measure("safety factor on the bond", least=1.0)] = TWO

    @property
    def hollow(self) -> bool:
        """Whether the inner part has a bore."""
        return self.shaft_bore is not None and self.shaft_bore.upper > 0.0

    def faults(self) -> list[Fault]:
        """What can't be: a bore that may be none, a gap window the wrong way round."""
        found = []
        if self.hollow and self.shaft_bore is not None and self.shaft_bore.lower <= 0.0:
            found.append(Fault("a bore with limits is above 0; a solid part has none", key="shaft_bore"))
        least, most = self.gap_least, self.gap_most
        if isinstance(least, Spread) and isinstance(most, Spread) and least.high > most.low:
            must = "the least gap of the compound is above its most"
            found.append(Fault(must, least.text, "gap_least", hint="both are on the diameter"))
        return [*found, *super().faults()]

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the bonded fit (``equations``)."""
        from fits.features.bonded.equations import compute

        return compute(self, d, s)

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Shares of pressure, speed, expansion and modulus, and what wasn't typed."""
        found = [
            pressure_share(states),
            share("speed_share", on=bool((states.speed != 0.0).any()), shared="part.speed"),
            *metal_shares("hub", self.hub_material),
            *metal_shares("shaft", self.shaft_material),
        ]
        unknown = (float("nan"),)
        for name, (kind, search) in _SEARCH.items():
            if getattr(self, name) is None:
                label = name.replace("_", " ")
                found.append(Dimension(name, label, kind, unknown, search, missing=True))
        if self.length is None:
            near = self.hole.nominal
            search = (0.01 * near, 100.0 * near)
            found.append(Dimension("length", "length", "length", unknown, search, missing=True))
        return tuple(found)

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        return about.assumptions(self, states)

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Metals, standards of the sizes, and reports where the data sheet is missing."""
        found = [*self.hub_material.sources(temperature_matters=warm(states))]
        found += self.shaft_material.sources(temperature_matters=warm(states))
        found += [source for size in (self.hole, self.shaft) for source in size.sources]
        for name, of in (("gap_least", "least gap"), ("gap_most", "best gap"), ("bond_heat", "heat limit")):
            if getattr(self, name) is None:
                found.append(bonds.reported(of).source)
        return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """Clean, glue, cure, and push to prove it."""
        from fits.features.bonded.plan import plan

        return plan(self, states)
