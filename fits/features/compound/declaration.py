"""A compound as it is declared: layers, order of joining, what may vary, what was assumed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Annotated, ClassVar

from fits.arrays import Array
from fits.errors import Fault
from fits.features.compound import rules as about
from fits.features.compound.layers_field import (
    FACES,
    INSIDE_OUT,
    MOST,
    Layer,
    Layers,
    LayersField,
    Order,
    OrderField,
)
from fits.features.compound.values import VALUES
from fits.features.evidence import of_metal
from fits.features.feature import Dimension, Feature, Outcome, Relation, States, Step, Surface
from fits.features.fields import Choice, Length, Measure, Size, Spread, Undecided
from fits.features.parts import REFUSALS, metal_shares, pressure_share, share, warm
from fits.mechanics.cylinder import ENDS
from fits.sizes.limits import Limits
from fits.tables import Source

NONE, ONE = Spread(0.0, 0.0), Spread(1.0, 1.0)
SLIP = Spread(1.5, 1.5)
_AROUND = "a layer is around the one inside it"


class Compound(Feature):
    """Layers pressed or shrunk into each other, stage by stage."""

    kind: ClassVar[str] = "compound"
    faults_see_open: ClassVar[bool] = True
    title: ClassVar[str] = "compound of several layers fitted into each other"
    example: ClassVar[str] = (
        "fits compound --length 60 --ends open --axial-load 15kN \\\n"
        '  --layers "20 ±0.02, 26.045/26.039, 17-4PH H1150; \\\n'
        "    26 H6, 36.050/36.044, 1045 normalised; \\\n"
        '    36 H6, 60 ±0.1, 1045 normalised" \\\n'
        '  --roughness-hole "3 um" --roughness-shaft "2 um" --friction-hold 0.1 \\\n'
        '  --state "working: 20 degC, 20 MPa"'
    )
    values: ClassVar = VALUES
    rules: ClassVar = about.RULES
    cautions: ClassVar = about.CAUTIONS
    refusals: ClassVar = REFUSALS
    relations: ClassVar = (
        *(
            Relation(f"layers.{k}.inside", f"layers.{k}.outside", "a layer needs a wall")
            for k in range(1, MOST + 1)
        ),
        *(
            Relation(f"layers.{k}.{face}", f"layers.{k + 1}.{face}", _AROUND)
            for k in range(1, MOST)
            for face in FACES
        ),
    )
    wished: ClassVar[tuple[str, ...]] = ("bore_after",)
    surfaces: ClassVar = (Surface("bore", "layers.1.inside", "bore_in_state", "hole"),)

    layers: Annotated[
        Layers,
        LayersField(
            "layers from the inside out: inside, outside, material; finished where a face is cut after"
        ),
    ]
    order: Annotated[Order, OrderField("order of joining")] = Order(INSIDE_OUT)
    length: Annotated[Limits | None, Length("engaged length of every interface, less chamfers")] = None
    roughness_hole: Annotated[
        Spread | None, Measure("Rz of the holes", quantity="roughness", digits=1, least=0.0)
    ] = None
    roughness_shaft: Annotated[
        Spread | None, Measure("Rz of the outsides", quantity="roughness", digits=1, least=0.0)
    ] = None
    friction_hold: Annotated[
        Spread | None, Measure("friction that holds, or a range", least=0.0, above=True, most=1.0)
    ] = None
    axial_load: Annotated[
        Spread,
        Measure("force along the axis from the first layer to the last", quantity="force", least=0.0),
    ] = NONE
    torque: Annotated[
        Spread, Measure("torque from the first layer to the last", quantity="torque", least=0.0)
    ] = NONE
    interference_at_least: Annotated[
        Spread, Measure("interference to keep at every interface", quantity="length", least=0.0)
    ] = NONE
    ends: Annotated[
        str | None,
        Choice("what takes the end thrust of pressure in the bore", options=tuple(ENDS)),
    ] = None
    bore_after: Annotated[Limits | None, Size("bore wanted after fitting, at 20 degC", side="hole")] = None
    joining_clearance: Annotated[
        Spread | None,
        Measure("clearance for joining hot or cold", quantity="length", least=0.0, above=True),
    ] = None
    safety_yield: Annotated[Spread, Measure("safety factor on yield", least=1.0)] = ONE
    safety_slip: Annotated[Spread, Measure("safety factor on slipping", least=1.0)] = SLIP

    @property
    def rings(self) -> tuple[Layer, ...]:
        """The layers from the inside out."""
        return self.layers.rings

    @property
    def hollow(self) -> bool:
        """Whether the first layer has a bore."""
        return self.rings[0].inside.upper > 0.0

    @property
    def joints(self) -> tuple[int, ...]:
        """The interfaces in the order in which they are made."""
        return self.order.interfaces(len(self.rings))

    @property
    def finished(self) -> frozenset[tuple[int, str]]:
        """The faces that are cut after joining, by layer from 0."""
        return frozenset((k, face) for k, layer in enumerate(self.rings) for face in layer.finished)

    def faults(self) -> list[Fault]:
        """Stages that don't make every interface, faces finished too early, a bore of a solid part."""
        for key in ("layers", "order"):
            if isinstance(getattr(self, key), Undecided):
                hint = "give it; one size of a layer can be asked: layers.2.outside"
                return [Fault(f"{key} can't be left open", "?", key, hint=hint)]
        found = []
        count = len(self.rings)
        if sorted(self.joints) != list(range(count - 1)):
            pairs = " and ".join(f"{k}-{k + 1}" for k in range(1, count))
            return [Fault(f"the stages of {count} layers are {pairs}, each once", self.order.text, "order")]
        if self.hollow and self.rings[0].inside.lower <= 0.0:
            must = "a bore with limits is above 0; a solid part has none"
            found.append(Fault(must, key="layers.1.inside"))
        if self.rings[0].outside.bought in ("bearing", "bush", "tube") and not self.hollow:
            must = f"a {self.rings[0].outside.bought} is a hollow part: give its bore"
            found.append(Fault(must, key="layers.1.inside"))
        if self.bore_after is not None and not self.hollow:
            found.append(Fault("the first layer is solid: it has no bore after fitting", key="bore_after"))
        return found + self._too_early()

    def _too_early(self) -> list[Fault]:
        """Faces said to be cut after joining that are joined before their layer is in anything."""
        when = {j: at for at, j in enumerate(self.joints)}
        found = []
        for k, face in sorted(self.finished):
            own, other = (k - 1, k) if face == "inside" else (k, k - 1)
            if own not in when:
                if k == 0 and not self.hollow:
                    found.append(Fault("a solid layer has no inside", key=f"layers.{k + 1}.finished"))
            elif other not in when or when[other] > when[own]:
                must = f"layer {k + 1} is still a free part when its {face} is joined: leave finished out"
                hint = "order says what is joined first"
                found.append(Fault(must, face, f"layers.{k + 1}.finished", hint=hint))
        return found

    def has_surface(self, name: str) -> bool:
        """A solid first layer has no bore to stand on."""
        return super().has_surface(name) and self.hollow

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the compound (``equations``)."""
        from fits.features.compound.equations import compute

        return compute(self, d, s)

    def near(self, field: str) -> float | None:
        """The bore after fitting lies close to the bore before it."""
        return self.rings[0].inside.middle if field == "bore_after" else super().near(field)

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Which interface and layer, friction, shares of pressure, speed, roughness, expansion."""
        count = len(self.rings)
        pairs = tuple(f"{k}-{k + 1}" for k in range(1, count))
        found = [
            _places("interface", "layers", pairs),
            _places("layer", "layer", tuple(str(k) for k in range(1, count + 1))),
            pressure_share(states),
            share("speed_share", on=bool((states.speed != 0.0).any()), shared="part.speed"),
        ]
        for k, layer in enumerate(self.rings, 1):
            found += metal_shares(f"layer_{k}", layer.material)
        rough = self.roughness_hole is not None and self.roughness_shaft is not None
        depth = sum(one.high for one in (self.roughness_hole, self.roughness_shaft) if one is not None)
        # What one interface loses says nothing of the next.
        found += [share(f"roughness_share_{k}", on=rough and depth > 0.0) for k in range(1, count)]
        unknown = (float("nan"),)
        if not rough:
            fits = [outer.inside.lower - inner.outside.upper for inner, outer in _pairs(self.rings)]
            most = 2.0 * max(*(-one for one in fits), 1e-3)
            label = "roughness and form together cost"
            found.append(Dimension("roughness_loss", label, "length", (0.0,), (0.0, most), missing=True))
        if self.bore_after is not None:
            # What the bore is held against, not what anything is computed from.
            middle = self.bore_after.middle
            search = (middle * 0.5, middle * 2.0)
            found.append(Dimension("bore_after", "bore after", "length", (middle,), search))
        if self.length is None:
            near = self.rings[-1].inside.nominal
            search = (0.01 * near, 100.0 * near)
            found.append(Dimension("length", "length", "length", unknown, search, missing=True))
        if self.friction_hold is None:
            label = "friction hold"
            found.append(Dimension("friction_hold", label, "number", unknown, (1e-3, 1.0), missing=True))
        return tuple(found)

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        return about.assumptions(self, states)

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Metals and sizes."""
        found: list[Source] = []
        for layer in self.rings:
            found += layer.material.sources(temperature_matters=warm(states))
            found += (*layer.inside.sources, *layer.outside.sources)
        return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))

    def looked_up(self, states: States) -> Iterator[tuple[str, Source]]:
        """The metals of the layers."""
        for layer in self.rings:
            yield from of_metal("", layer.material, states)

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """How to join the layers, stage by stage."""
        from fits.features.compound.plan import plan

        return plan(self, numbers)


def _pairs(rings: tuple[Layer, ...]) -> list[tuple[Layer, Layer]]:
    return list(pairwise(rings))


def _places(name: str, label: str, words: tuple[str, ...]) -> Dimension:
    # One axis of corners serves for both: a value is asked at a layer or at an interface.
    levels = tuple(float(k) for k in range(len(words)))
    return Dimension(name, label, "number", levels, (0.0, levels[-1]), "compound.place", words=words)
