"""The press fit as it is declared: fields, what may vary, what was assumed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar

from pydantic import Field, ValidationInfo, field_validator

from fits.arrays import Array, Mask
from fits.errors import Fault, InputError
from fits.features.beside import Alternative, Step, Thumb
from fits.features.feature import Dimension, Feature, Outcome, Relation, States, Surface, Wall
from fits.features.fields import Choice, Flag, Length, Measure, MetalField, Numeric, Size, Spread, levels
from fits.features.parts import (
    PRACTICE,
    REFUSALS,
    metal_shares,
    pressure_share,
    share,
    under_pressure,
    warm,
)
from fits.features.press import bearing, lasting, lifted
from fits.features.press import rules as about
from fits.features.press.holding import HOLDING
from fits.features.press.slices import Slices, SlicesField, length_faults, one_outside
from fits.features.press.slices import dimensions as slice_dimensions
from fits.features.press.stresses import STRESSES
from fits.features.roughness_field import Roughness
from fits.materials import friction, galvanic, thermal
from fits.materials.metals import Metal
from fits.mechanics.cylinder import ENDS
from fits.sizes.limits import Limits
from fits.tables import Source

NONE, ONE = Spread(0.0, 0.0), Spread(1.0, 1.0)
SLIP = Spread(1.5, 1.5)


class Press(Feature):
    """An inner part pressed or shrunk into a hub."""

    kind: ClassVar[str] = "press"
    title: ClassVar[str] = "press or shrink fit of an inner part in a hub"
    pair: ClassVar[tuple[str, str] | None] = ("hole", "shaft")
    fit: ClassVar = "interference"
    by_columns: ClassVar[bool] = True
    example: ClassVar[str] = (
        'fits press --hole "16 H6" --shaft 16.030/16.024 --shaft-bore "6 ±0.05" \\\n'
        '  --hub-outside "40 ±0.1" --length 40 --hub-material 6061-T6 \\\n'
        '  --shaft-material 316L --roughness-hole "3 um" --roughness-shaft "2 um" \\\n'
        '  --ends body --state "hot: 70 degC, 4 MPa"'
    )
    values: ClassVar = (*STRESSES, *lifted.VALUES, *HOLDING, *lasting.VALUES, *bearing.VALUES)
    rules: ClassVar = (*about.RULES, *lifted.RULES, *lasting.RULES, *bearing.RULES)
    cautions: ClassVar = (*about.CAUTIONS, *lifted.CAUTIONS, *lasting.CAUTIONS, *bearing.CAUTIONS)
    refusals: ClassVar = (*REFUSALS, *bearing.REFUSALS)
    holding: ClassVar = ("interference is kept", "fluid can't lift it", "holds its load")
    thumb: ClassVar = Thumb(0.001, "0.001 of the diameter", PRACTICE)
    relations: ClassVar = (
        Relation("shaft_bore", "shaft", "the inner part needs a wall"),
        Relation("shaft_bore", "hole", "the inner part needs a wall"),
        Relation("hole", "hub_outside", "the hub needs a wall"),
        Relation("shaft", "hub_outside", "the hub needs a wall"),
        Relation("hole", "slices.thinnest", "the hub needs a wall"),
        Relation("shaft", "slices.thinnest", "the hub needs a wall"),
    )
    charted: ClassVar[Mapping[str, tuple[str, ...]]] = {"contact_pressure": ("contact_with_fluid",)}
    walls: ClassVar[tuple[Wall, ...]] = (
        Wall("inner part", "shaft_bore", "hole", "shaft_hoop_at_bore", "shaft_hoop_at_surface"),
        Wall("hub", "hole", "hub_outside", "hub_hoop_at_hole", "hub_hoop_outside"),
    )
    wished: ClassVar[tuple[str, ...]] = ("bore_after",)
    made_of: ClassVar[Mapping[str, str]] = {
        "hole": "hub_material",
        "hub_outside": "hub_material",
        "shaft": "shaft_material",
        "shaft_bore": "shaft_material",
    }
    surfaces: ClassVar = (
        Surface("shaft_bore", "shaft_bore", "bore_in_state", "hole", "it is solid"),
        Surface("hub_outside", "hub_outside", "outside_in_state", "shaft", "its slices have their own"),
    )

    hole: Annotated[Limits, Size("hole in the hub, free", side="hole")]
    shaft: Annotated[Limits, Size("outside of the inner part, free", side="shaft")]
    shaft_bore: Annotated[
        Limits | None, Size("bore of the inner part; 0 or left out: solid", side="hole", zero=True)
    ] = None
    slices: Annotated[
        Slices | None, SlicesField("instead of hub_outside: lengths and outsides along the hub")
    ] = None
    hub_outside: Annotated[
        Limits | None,
        Size("outside of the hub (needed, or slices)", side="shaft"),
        Field(validate_default=True),
    ] = None
    length: Annotated[Limits | None, Length("engaged length, less chamfers and end radii")] = None
    hub_material: Annotated[Metal, MetalField("metal of the hub, temper included")]
    shaft_material: Annotated[Metal, MetalField("metal of the inner part, temper included")]
    assembly: Annotated[str | None, Choice("how the parts are joined", options=friction.ASSEMBLIES)] = None
    lubrication: Annotated[
        str | None, Choice("how the faces are when joined", options=friction.LUBRICATIONS)
    ] = None
    friction_hold: Annotated[
        Spread | None, Measure("friction that holds, or a range", least=0.0, above=True, most=1.0)
    ] = None
    friction_press: Annotated[
        Spread | None, Measure("friction while pressing, or a range", least=0.0, above=True, most=1.0)
    ] = None
    roughness_hole: Annotated[Spread | None, Roughness("roughness of the hole: Rz, or as 0.8 um Ra")] = None
    roughness_shaft: Annotated[
        Spread | None, Roughness("roughness of the inner part: Rz, or as 0.8 um Ra")
    ] = None
    axial_load: Annotated[Spread, Measure("force along the axis to hold", quantity="force", least=0.0)] = NONE
    torque: Annotated[Spread, Measure("torque to hold", quantity="torque", least=0.0)] = NONE
    interference_at_least: Annotated[
        Spread, Measure("interference to keep in every state", quantity="length", least=0.0)
    ] = NONE
    ends: Annotated[
        str | None,
        Choice("what takes the end thrust of pressure in the bore", options=tuple(ENDS)),
    ] = None
    thrust_diameter: Annotated[
        Limits | None, Length("diameter the end thrust acts on; left out: the hole")
    ] = None
    bore_after: Annotated[Limits | None, Size("bore wanted after fitting, at 20 degC", side="hole")] = None
    press_rating: Annotated[Spread | None, Measure("what the press can do", quantity="force", least=0.0)] = (
        None
    )
    oven: Annotated[
        Spread | None,
        Measure("what the oven reaches, for a heated hub", quantity="temperature", least=20.0),
    ] = None
    joining_clearance: Annotated[
        Spread | None,
        Measure("clearance for joining hot or cold", quantity="length", least=0.0, above=True),
    ] = None
    surroundings: Annotated[
        str | None, Choice("where the joint lives, for two metals in touch", options=galvanic.SURROUNDINGS)
    ] = None
    internal_clearance: Annotated[
        Spread | None,
        Measure("clearance inside the bearing as bought", quantity="length", least=0.0),
    ] = None
    cracking_stress: Annotated[
        Spread | None,
        Measure(
            "tension at which cracks start in the hub's alloy with time",
            quantity="pressure",
            least=0.0,
            above=True,
        ),
    ] = None
    alternating: Annotated[bool, Flag("whether load or torque alternates")] = False
    port: Annotated[
        str | None, Choice("taper port in the hub beside the hole", options=tuple(lasting.PORTS))
    ] = None
    port_distance: Annotated[Limits | None, Length("from the axis of the hole to that of the port")] = None
    coating_hole: Annotated[
        Spread | None,
        Measure(
            "coat in the hole, thickness per face, put on after it was cut", quantity="length", least=0.0
        ),
    ] = None
    coating_share: Annotated[
        Spread | None, Measure("share of the coat that builds up, 0 to 1", least=0.0, most=1.0)
    ] = None
    heat_to: Annotated[
        Spread | None, Measure("hub heated to, for joining", quantity="temperature", least=20.0)
    ] = None
    chill_to: Annotated[
        Spread | None,
        Measure("inner part chilled to, for joining", quantity="temperature", least=-273.15, most=20.0),
    ] = None
    carry_time: Annotated[
        Spread | None,
        Measure("time from oven or bath to home", quantity="time", least=0.0, above=True),
    ] = None
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
    safety_yield: Annotated[Spread, Measure("safety factor on yield", least=1.0)] = ONE
    safety_slip: Annotated[Spread, Measure("safety factor on slipping", least=1.0)] = SLIP
    overspeed_factor: Annotated[Spread, Measure("overspeed over highest speed", least=1.0)] = ONE

    @field_validator("hub_outside")
    @classmethod
    def _one_outside(cls, outside: Limits | None, before: ValidationInfo) -> Limits | None:
        if "slices" in before.data and (fault := one_outside(before.data["slices"], outside)):
            raise InputError(fault)
        return outside

    @property
    def hollow(self) -> bool:
        """Whether the inner part has a bore."""
        return self.shaft_bore is not None and self.shaft_bore.upper > 0.0

    def grips_elsewhere(self, mismatch: Array) -> Mask:
        """Where stuck parts are away from a temperature of gripping that isn't known.

        A pressed joint grips at 20 degC, and so, as the report says, does one of which
        neither ends nor assembly is given. ``mismatch`` is the axial strain since 20 degC.
        """
        import numpy as np

        if self.assembly in ("pressed", "pressed on oil") or (self.assembly is None and self.ends is None):
            return np.zeros_like(mismatch, dtype=bool)
        if self.assembly is None:
            return np.asarray(mismatch != 0.0)
        return np.ones_like(mismatch, dtype=bool)

    def faults(self) -> list[Fault]:
        """What can't be: a bore that may be none, a bore to keep in a solid part."""
        found = []
        if self.hollow and self.shaft_bore is not None and self.shaft_bore.lower <= 0.0:
            found.append(Fault("a bore with limits is above 0; a solid part has none", key="shaft_bore"))
        if self.bore_after is not None and not self.hollow:
            found.append(Fault("the inner part is solid: it has no bore after fitting", key="bore_after"))
        if no_raceway := bearing.no_raceway(self):
            hint = "measure it, or take about 0.2 (4 outside + bore), from memory"
            found.append(Fault(no_raceway, key="shaft_bore", hint=hint))
        if self.internal_clearance is not None and not bearing.ring(self):
            hint = 'write hole or shaft as a bought size, such as "bearing 40"'
            found.append(Fault("no part here is a bearing ring", key="internal_clearance", hint=hint))
        found += [*super().faults(), *length_faults(self)]
        if (self.coating_hole is None) != (self.coating_share is None):
            key = "coating_share" if self.coating_share is None else "coating_hole"
            hint = "a hard coat builds up about 0.5 of its thickness, ordinary anodise about 0.33"
            found.append(Fault("a coat needs its thickness and its share that builds up", key=key, hint=hint))
        if (self.port is None) != (self.port_distance is None):
            key = "port_distance" if self.port_distance is None else "port"
            found.append(Fault("a port needs its thread and its distance", key=key))
        if self.carry_time is not None and self.heat_to is None and self.chill_to is None:
            found.append(Fault("a time to carry needs heat_to or chill_to", key="carry_time"))
        if self.assembly in ("pressed", "pressed on oil"):
            for key in ("heat_to", "chill_to"):
                if getattr(self, key) is not None:
                    hint = "give assembly heated or chilled, or leave it out"
                    found.append(
                        Fault(f"{self.assembly} parts go in at room temperature", key=key, hint=hint)
                    )
        return found

    def has_surface(self, name: str) -> bool:
        """A solid inner part has no bore to stand on, a hub in slices no single outside."""
        lacking = {"shaft_bore": not self.hollow, "hub_outside": self.slices is not None}
        return super().has_surface(name) and not lacking[name]

    def near(self, field: str) -> float | None:
        """The bore after fitting lies close to the bore before it."""
        bore = levels(self.shaft_bore) if field == "bore_after" else ()
        return sum(bore) / len(bore) if bore else super().near(field)

    def numeric_fields(self) -> Iterator[tuple[str, Numeric, Any]]:
        """Each number that was given; the slices bring their own length and outsides."""
        theirs = ("length", "hub_outside", "slices.thinnest") if self.slices else ()
        return (one for one in super().numeric_fields() if one[0] not in theirs)

    @property
    def pair_text(self) -> str:
        """The joint in words, for a reason about friction."""
        how = ", ".join(word for word in (self.assembly, self.lubrication) if word)
        families = f"{self.shaft_material.family or self.shaft_material.name} in "
        families += self.hub_material.family or self.hub_material.name
        return f"{families} ({how or 'assembly and lubrication not given'})"

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the press fit (``equations``)."""
        from fits.features.press.equations import compute

        return compute(self, d, s, wanted)

    def _friction(self) -> friction.Friction | None:
        families = self.hub_material.family, self.shaft_material.family
        if self.assembly is None or self.lubrication is None or "" in families:
            return None
        return friction.joint(*families, assembly=self.assembly, lubrication=self.lubrication)

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Friction of the table, ends, shares of pressure, speed, roughness and expansion."""
        found = [
            *self._friction_dimensions(),
            pressure_share(states),
            share("speed_share", on=bool((states.speed != 0.0).any()), shared="part.speed"),
            share("friction_share", on=self._friction_spreads()),
            *metal_shares("hub", self.hub_material),
            *metal_shares("shaft", self.shaft_material),
            *slice_dimensions(self.slices),
        ]
        rough = self.roughness_hole is not None and self.roughness_shaft is not None
        depth = sum(one.high for one in (self.roughness_hole, self.roughness_shaft) if one is not None)
        found.append(share("roughness_share", on=rough and depth > 0.0))
        if not rough:
            most = 2.0 * max(self.shaft.upper - self.hole.lower, 1e-3)
            label = "roughness and form together cost"
            found.append(Dimension("roughness_loss", label, "length", (0.0,), (0.0, most), missing=True))
        if self.length is None and not self.slices:
            near = self.hole.nominal
            search = (0.01 * near, 100.0 * near)
            found.append(Dimension("length", "length", "length", (float("nan"),), search, missing=True))
        if self.cracking_stress is None:
            unknown = (float("nan"),)
            label = "cracking stress"
            found.append(Dimension("cracking_stress", label, "pressure", unknown, (1.0, 1e4), missing=True))
        asked = tuple(ENDS) if self.ends is None else (self.ends,)
        words = asked if under_pressure(self, states) or self.ends is not None else ("open",)
        held = tuple(ENDS[word] for word in words)
        found.append(Dimension("ends", "ends", "number", held, (0.0, 3.0), words=words))
        return tuple(found)

    def _friction_spreads(self) -> bool:
        """Whether friction may be anything from holding to pressing."""
        given = (self.friction_hold, self.friction_press)
        return None in given or given[0] != given[1]

    def _friction_dimensions(self) -> list[Dimension]:
        table = self._friction()
        found = []
        ends = (float("nan"), float("nan")) if table is None else (table.low, table.high)
        for name, level in zip(("friction_hold", "friction_press"), ends, strict=True):
            if getattr(self, name) is None:
                label = name.replace("_", " ")
                missing = table is None
                found.append(Dimension(name, label, "number", (level,), (1e-3, 1.0), missing=missing))
        return found

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        return about.assumptions(self, states)

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Metals and friction."""
        found = [*self.hub_material.sources(temperature_matters=warm(states))]
        found += self.shaft_material.sources(temperature_matters=warm(states))
        found += [source for size in (self.hole, self.shaft) for source in size.sources]
        table = self._friction()
        if table is not None and (self.friction_hold is None or self.friction_press is None):
            found += table.sources
        if self.surroundings is not None:
            pair = (galvanic.index_of(metal.called) for metal in (self.hub_material, self.shaft_material))
            found += [one.source for one in pair if one is not None]
            found.append(galvanic.allowed(self.surroundings).source)
        if self.heat_to is not None or self.chill_to is not None:
            figures = (thermal.heat_of(metal.called) for metal in (self.hub_material, self.shaft_material))
            found += [one.source for one in figures if one is not None]
        return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))

    def looked_up(self, states: States) -> Iterator[tuple[str, Source]]:
        """Friction of the pair, and the galvanic index of both metals."""
        table = self._friction()
        for name in ("friction_hold", "friction_press"):
            if table is not None and getattr(self, name) is None:
                yield from ((name, source) for source in table.sources)
        if self.surroundings is not None:
            for metal in (self.hub_material, self.shaft_material):
                if (index := galvanic.index_of(metal.called)) is not None:
                    yield "galvanic_difference", index.source
            yield "galvanic_allowed", galvanic.allowed(self.surroundings).source

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """How to assemble: press, heat or chill."""
        from fits.features.press.plan import plan

        return plan(self, numbers)

    def alternatives(
        self, spans: Mapping[str, tuple[float, float]], gaps: frozenset[str], states: States
    ) -> tuple[Alternative, ...]:
        """Bonded slip fit, shoulder, flange, clamp, key, sleeve: what each would need."""
        from fits.features.press.alternatives import alternatives

        return alternatives(self, spans, gaps, states)
