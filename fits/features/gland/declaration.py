"""What every gland declares, whatever its form: the ring, the duty, the fluid, the cut."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from fits.arrays import Array
from fits.errors import Fault, InputError, meant
from fits.features.elastomer_field import ElastomerField
from fits.features.feature import Dimension, Feature, Outcome, Published, States, Step, declared
from fits.features.fields import (
    Choice,
    Context,
    Field,
    Flag,
    Length,
    Measure,
    MetalField,
    Size,
    Spread,
    Undecided,
    levels,
)
from fits.features.figures import Figure
from fits.features.gland.cautions import CAUTIONS, REFUSALS_OF_GLANDS
from fits.features.parts import metal_shares, pressure_share, share, typed_metals, warm
from fits.features.ring_field import RingField
from fits.materials.elastomers import Elastomer, fluids
from fits.materials.metals import Metal
from fits.shop.rings import Ring
from fits.sizes.limits import Limits
from fits.tables import Source

NONE = Spread(0.0, 0.0)
# Forty times what silicone lets through of carbon dioxide (from memory): beyond is a slip, mm^2/(s*MPa).
MOST_PERMEABLE = 1.0
# A ring stretched further than this while it is fitted is damaged (All O-Rings, seen).
FITTED_STRETCH = 0.5
# What a land is, in both grooves that have one.
LAND = "land beside the groove on the low-pressure side"
# Fluids of the table that are gases.
GAS_FLUIDS = ("air", "nitrogen", "steam", "sour gas")
# Width of a groove over the section of its ring, as the published tables have it.
USUAL_WIDTH = 1.4
# The level of ``ring_end`` for the least squeeze, and for the most.
ENDS = ("pushed away, thinned by the curve", "pushed close, thinned at equal volume")


class FluidField(Field):
    """A fluid of which something is known."""

    def parse(self, value: Any, context: Context) -> str:
        """Its family; another one is asked for, never guessed."""
        known = fluids()
        if value in known:
            return str(value)
        hint = meant(str(value), known) or f"known: {', '.join(known)}"
        raise InputError(Fault("not a fluid of the table; which family is it?", str(value), hint=hint))

    def shown(self) -> str:
        """A fluid."""
        return "FLUID"


class Gland(Feature):
    """A groove that squeezes a ring of round section; one subclass a form."""

    kind: ClassVar[str] = "gland"
    faults_see_open: ClassVar[bool] = True
    refusals: ClassVar = REFUSALS_OF_GLANDS
    cautions: ClassVar = CAUTIONS
    chosen: ClassVar[str] = "ring"
    charted: ClassVar[Mapping[str, tuple[str, ...]]] = {"squeeze": ()}
    plan_title: ClassVar[str] = "To cut and fit"
    cut_as: ClassVar[Mapping[str, str]] = {
        **dict.fromkeys(("groove_width", "gland_depth", "groove_depth", "mouth_width", "leg"), "hole"),
        **dict.fromkeys(("land", "length"), "shaft"),
    }
    # How a table of grooves calls the form, and the numbers a ring is chosen with.
    tabled_as: ClassVar[str]
    # Whether the two parts are a bore and a member that can lie to one side.
    radial: ClassVar[bool] = False

    ring: Annotated[Ring, RingField("ring: AS568-214, or {inside, section}")]
    elastomer: Annotated[Elastomer, ElastomerField("rubber and hardness, such as NBR 70")]
    duty: Annotated[str, Choice("what it must do", options=("static", "reciprocating", "rotary"))]
    medium: Annotated[str, Choice("what it seals", options=("liquid", "gas", "vacuum", "oxygen"))]
    fluid: Annotated[str | None, FluidField("family of the fluid, such as mineral oil")] = None
    swell: Annotated[
        Spread | None, Measure("most volume swell, or a range; 0.1 is 10 %", least=-0.3, most=1.0)
    ] = None
    compression_set: Annotated[
        Spread | None, Measure("set at the hottest state, share of the squeeze", least=0.0, most=1.0)
    ] = None
    finish: Annotated[
        Spread | None,
        Measure("Ra of the faces the ring touches", quantity="roughness", least=0.0, above=True),
    ] = None
    release_rated: Annotated[bool, Flag("rated for fast release of gas, or let out slowly")] = False
    permeability: Annotated[
        Spread | None,
        Measure(
            "of the rubber for the gas, in every state",
            quantity="permeability",
            least=0.0,
            most=MOST_PERMEABLE,
        ),
    ] = None
    hub_material: Annotated[Metal | None, MetalField("metal of the outer or grooved part")] = None
    safety_yield: Annotated[Spread, Measure("further safety factor on yield", least=1.0)] = Spread(1.0, 1.0)

    @property
    def moving(self) -> bool:
        """Whether the ring rubs."""
        return self.duty != "static"

    @property
    def leaks_gas(self) -> bool:
        """Whether gas goes through its rubber."""
        return self.medium in ("gas", "vacuum")

    def loop(self, d: Mapping[str, Array], s: States, around: Any) -> Any:
        """The parts around the ring in every state (``loop``)."""
        raise NotImplementedError

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the gland (``equations``)."""
        from fits.features.gland.equations import compute

        return compute(self, d, s, wanted)

    def missing(self, states: States) -> list[Dimension]:
        """Inputs not given whose break-even value is worth saying."""
        missing = []
        for name, kind, search in (
            ("swell", "number", (0.0, 1.0)),
            ("compression_set", "number", (0.0, 1.0)),
            ("finish", "roughness", (0.01, 10.0)),
            ("backup_thickness", "length", (0.01, 10.0)),
            ("lead_in", "length", (0.01, 20.0)),
            ("land", "length", (0.05, 50.0)),
            ("edge_radius", "length", (0.0, 1.0)),
            ("permeability", "permeability", (0.0, 1.0)),
        ):
            if name == "permeability" and not self.leaks_gas:
                continue
            if name in declared(type(self)) and not levels(getattr(self, name)):
                missing.append(unknown(name, kind, search))
        return missing

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Shares, the end of the squeeze, what isn't given, and turning points of the squeeze."""
        scatters = not self.is_open("elastomer") and self.elastomer.scatters
        apart = bool((states.hub_temperature != states.shaft_temperature).any())
        return (
            *self.missing(states),
            *self._in_service(),
            Dimension("ring_end", "ring", "number", (0.0, 1.0), (0.0, 1.0), words=ENDS),
            share("ring_expansion_share", on=scatters and warm(states)),
            share("ring_temperature_share", on=apart),
            pressure_share(states),
            *metal_shares("hub", self.hub_material),
            *self.more_dimensions(states),
        )

    def _in_service(self) -> list[Dimension]:
        """Of a range of sets the highest counts; swell runs from none, or shrinkage, to its most."""
        found = []
        if at := levels(self.compression_set):
            found.append(Dimension("compression_set", "compression set", "number", (max(at),), (0.0, 1.0)))
        if at := levels(self.swell):
            ends = tuple(one for one in (min(at), max(at)) if one) or (0.0,)
            ends = ends[-1:] if min(at) >= 0.0 else ends
            found.append(Dimension("swell", "swell", "number", ends, (-0.3, 1.0)))
        found.append(share("swell_share", on=self.swell is None or any(at)))
        return found

    def more_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """What only some forms have."""
        raise NotImplementedError

    def faults(self) -> list[Fault]:
        """What can't be between the fields of any gland."""
        found = super().faults()
        if not self.is_open("ring"):
            found += self.fit_faults()
        if self.medium == "liquid" and self.fluid in GAS_FLUIDS:
            found.append(Fault(f"{self.fluid} is a gas: its medium is gas", self.medium, "medium"))
        if self.duty != "static" and not self.radial:
            found.append(Fault("a gland in a face is static", self.duty, "duty", hint="static"))
        return found

    def fit_faults(self) -> list[Fault]:
        """What can't be between the ring and the groove of this form."""
        raise NotImplementedError

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        found = [
            "sizes are free sizes at 20 degC; swell and set act in every state, not as made",
            "set is earned at the deepest squeeze of all states and missed in the others",
        ]
        if warm(states) and not bool((states.hub_temperature != states.shaft_temperature).any()):
            found.append("each state has one temperature for both parts and the ring")
        if self.duty != "rotary" and bool((states.speed != 0.0).any()):
            found.append("the parts turn together: nothing rubs by turning (duty rotary asks that)")
        found += self.taken()
        return (*found, *typed_metals(self.hub_material, getattr(self, "shaft_material", None)))

    def taken(self) -> list[str]:
        """What a form takes where nothing was typed."""
        raise NotImplementedError

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Ring, rubber, limits of the duty, metals, standards of the sizes."""
        from fits.features.gland.sources import used

        return used(self, states)

    def notes(self, states: States) -> tuple[str, ...]:
        """What is made for states above this rubber's range: ranges with their sources, no groove."""
        from fits.features.gland.sources import hotter

        return hotter(self, states)

    def published(self) -> tuple[Published, ...]:
        """The rows of published groove tables beside this gland."""
        from fits.features.gland.sources import rows_beside

        return rows_beside(self)

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """How to cut and gauge the groove, and fit the ring (``plan``)."""
        from fits.features.gland.plan import plan

        return plan(self, numbers, states)

    def is_open(self, name: str) -> bool:
        """Whether a field was left open ("?")."""
        return isinstance(getattr(self, name), Undecided)

    def width(self, d: Mapping[str, Array]) -> Array:
        """Width of the groove at its bottom, mm."""
        return d["groove_width"]

    def land_width(self, d: Mapping[str, Array]) -> Array:
        """Width of the land that carries the pressure, mm; NaN where it wasn't given."""
        return d["land"]

    def thick(self, share: float) -> float | None:
        """A share of the ring's section, mm; None while the ring is open."""
        return None if self.is_open("ring") else share * self.ring.section.middle

    def size(self, name: str) -> Limits | None:
        """A size of this form, None where it isn't given, stands on a surface, or is open."""
        value = getattr(self, name, None)
        return value if isinstance(value, Limits) else None


class Cut(Gland):
    """A groove with a flat bottom: width at its bottom, side angle, bottom radius, backup rings."""

    groove_width: Annotated[Limits | None, Length("width of the groove at its bottom")] = None
    corner_radius: Annotated[Limits, Size("radius left at the groove's bottom, or 0", zero=True)]
    side_angle: Annotated[
        Spread, Measure("angle of each side, opening outward, degrees", least=0.0, most=30.0, digits=1)
    ] = NONE
    land: Annotated[Limits | None, Length(LAND)] = None
    backup_rings: Annotated[Spread, Measure("how many backup rings", digits=0, least=0.0, most=2.0)] = NONE
    backup_thickness: Annotated[
        Spread | None, Measure("thickness of each backup ring", quantity="length", least=0.0)
    ] = None

    @property
    def walls_apart(self) -> Limits:
        """The limits of its width at the bottom, mm."""
        assert self.groove_width is not None
        return self.groove_width

    def figures(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Figure, ...]:
        """The groove and its ring in section (``section``)."""
        from fits.features.gland.section import section

        return section(self, numbers)

    def near_width(self) -> dict[str, float]:
        """A width that fills the groove to about three quarters, with its backup rings."""
        wide = self.thick(USUAL_WIDTH)
        backups = max(levels(self.backup_rings), default=0.0) * max(
            levels(self.backup_thickness), default=0.0
        )
        return {} if wide is None else {"groove_width": wide + backups}

    def missing(self, states: States) -> list[Dimension]:
        """Without backup rings their thickness is no gap."""
        rest = super().missing(states)
        if max(levels(self.backup_rings), default=0.0) > 0.0:
            return rest
        return [
            one._replace(levels=(0.0,), missing=False) if one.name == "backup_thickness" else one
            for one in rest
        ]

    def faults(self) -> list[Fault]:
        """Half a backup ring, radii that meet."""
        found = super().faults()
        width, radius = self.size("groove_width"), self.size("corner_radius")
        if width is not None and radius is not None and 2.0 * radius.upper >= width.lower:
            must = f"two of them are as wide as the groove ({width.lower:g} mm at its least)"
            found.append(Fault(must, f"{radius.upper:g} mm", "corner_radius"))
        if any(one % 1.0 for one in levels(self.backup_rings)) or len(levels(self.backup_rings)) > 1:
            found.append(Fault("0, 1 or 2 is due", self.backup_rings.text, "backup_rings"))
        return found


def unknown(name: str, kind: str, search: tuple[float, float]) -> Dimension:
    """An input that wasn't given."""
    return Dimension(name, name.replace("_", " "), kind, (float("nan"),), search, missing=True)


def given(value: Any) -> bool:
    """Whether a field was given, be it open."""
    return value is not None
