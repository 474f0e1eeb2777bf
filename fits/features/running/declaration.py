"""The running fit: fields, values, rules and equations."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from fits.arrays import Array, Mask
from fits.errors import Fault
from fits.features import lasting
from fits.features.feature import (
    Caution,
    Dimension,
    Feature,
    Outcome,
    Relation,
    Rule,
    States,
)
from fits.features.fields import Length, Measure, MetalField, Size, Spread, SurfaceRef
from fits.features.parts import (
    PRACTICE,
    PRESSURES,
    REFUSALS,
    metal_shares,
    pressure_inside,
    pressure_share,
    share,
    typed_metals,
    under_pressure,
    warm,
)
from fits.features.value import value
from fits.materials.metals import Metal
from fits.sizes.limits import Limits
from fits.tables import Source

GEOMETRY = Source("geometry, with the thermal strain of both parts from 20 degC", "derived")
SPIN = Source("Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, rotating discs")
GROWTH = Source("Lamé, growth of a bore under pressure, ends open")
MISES = Source(
    "von Mises on Lamé's stresses; Budynas & Nisbett, Shigley's Mechanical "
    "Engineering Design, 9th ed., eq. 3-50"
)

COLLAPSE = Source("long free tube, Moser, Buried Pipe Design, p. 111; factor 2 from memory", "memory")


def _given(name: str) -> Any:
    return lambda running, states: name in running.model_fields_set


def _pressed_columns(running: Any, states: States) -> Mask:
    return states.pressure > 0.0


def _own_wall(running: Any, states: States) -> bool:
    return not isinstance(running.hole, SurfaceRef) and under_pressure(running, states)


def _own_tube(running: Any, states: States) -> bool:
    return running.hollow and not isinstance(running.shaft, SurfaceRef) and under_pressure(running, states)


NONE = Spread(0.0, 0.0)


class Running(Feature):
    """A shaft that must move in a hole in every state."""

    kind: ClassVar[str] = "running"
    title: ClassVar[str] = "running or sliding fit of a shaft in a hole"
    pair: ClassVar[tuple[str, str] | None] = ("hole", "shaft")
    by_columns: ClassVar[bool] = True
    example: ClassVar[str] = (
        'fits running --hole "12 H7" --shaft "12 f7" --hub-material 6061-T6 \\\n'
        '  --shaft-material 316 --clearance-at-least 0.005 --state "hot: 80 degC"'
    )
    values: ClassVar = (
        value(
            "clearance",
            "clearance",
            "length",
            "hole in its state - shaft in its state",
            GEOMETRY,
            (
                "hole",
                "shaft",
                "hub_strain",
                "shaft_strain",
                "hub_expansion_share",
                "shaft_expansion_share",
                "wall_growth",
                "shaft_shrinkage",
                "spin_growth",
                "hub_service",
                "shaft_service",
            ),
        ),
        value(
            "wall_growth",
            "the hole grows under pressure by",
            "length",
            "p d/E [(b^2+a^2)/(b^2-a^2) + nu]",
            GROWTH,
            ("hole", "hub_outside", "hub_modulus", "hub_modulus_share", "pressure_share"),
        ),
        value(
            "shaft_shrinkage",
            "the shaft shrinks under pressure by",
            "length",
            "p d/E [(d^2+d_bore^2)/(d^2-d_bore^2) - nu]",
            GROWTH,
            ("shaft", "shaft_bore", "shaft_modulus", "shaft_modulus_share", "pressure_share"),
            shown=False,
        ),
        value(
            "spin_growth",
            "the shaft grows with speed by",
            "length",
            "rho w^2 d/(4E) [(1-nu) c^2 + (3+nu) a^2]",
            SPIN,
            ("shaft", "shaft_bore", "shaft_modulus", "shaft_modulus_share", "shaft_density", "speed_share"),
            shown=False,
        ),
        value(
            "wall_von_mises",
            "wall von Mises",
            "pressure",
            "sqrt(3) p b^2/(b^2-a^2) with s_z = 0: sqrt(s_t^2 - s_t s_r + s_r^2)",
            MISES,
            ("hole", "hub_outside", "pressure_share"),
        ),
        value(
            "wall_allowed",
            "allowed stress of the wall",
            "pressure",
            "least yield over 1.5 working, 1.0 proof, and over safety_yield",
            PRACTICE,
            ("hub_yield", "safety_yield", "hub_service"),
            shown=False,
        ),
        value(
            "shaft_pressure",
            "pressure outside the hollow shaft",
            "pressure",
            "typed, none in its bore",
            PRACTICE,
            ("pressure_share",),
            shown=False,
        ),
        value(
            "tube_von_mises",
            "hollow shaft von Mises",
            "pressure",
            "2 p d^2/(d^2-d_bore^2) at its bore",
            MISES,
            ("shaft", "shaft_bore", "pressure_share"),
        ),
        value(
            "tube_allowed",
            "allowed stress of the hollow shaft",
            "pressure",
            "least yield over 1.5 working, 1.0 proof, and over safety_yield",
            PRACTICE,
            ("shaft_yield", "safety_yield", "shaft_service"),
            shown=False,
        ),
        value(
            "collapse_allowed",
            "half of what collapses the hollow shaft",
            "pressure",
            "E t^3/[4 (1-nu^2) R^3]/2",
            COLLAPSE,
            ("shaft", "shaft_bore", "shaft_modulus", "shaft_modulus_share"),
        ),
        *lasting.TEMPER,
    )
    rules: ClassVar = (
        Rule(
            "never binds",
            "clearance",
            "at least",
            0.0,
            "a shaft larger than its hole in some state seizes",
            "a smaller shaft, a larger hole, or metals that grow alike",
            GEOMETRY,
            ("hole", "shaft", "hub_material", "shaft_material"),
            despite=("wall_growth", "shaft_shrinkage"),
            above=True,
        ),
        Rule(
            "least clearance",
            "clearance",
            "at least",
            "clearance_at_least",
            "less clearance than asked: film, dirt or form error may stop it",
            "a smaller shaft or a larger hole",
            GEOMETRY,
            ("hole", "shaft", "hub_material", "shaft_material"),
            despite=("wall_growth", "shaft_shrinkage"),
            asked=_given("clearance_at_least"),
            asks="clearance_at_least",
        ),
        Rule(
            "most clearance",
            "clearance",
            "at most",
            "clearance_at_most",
            "more clearance than asked: it leaks or rattles",
            "a larger shaft, a smaller hole, or a thicker wall",
            GEOMETRY,
            ("hole", "shaft", "hub_outside", "hub_material", "shaft_material"),
            despite=("shaft_density",),
            asked=_given("clearance_at_most"),
            asks="clearance_at_most",
        ),
        Rule(
            "wall stands the pressure",
            "wall_von_mises",
            "at most",
            "wall_allowed",
            "a wall that yields does not spring back",
            "a thicker wall or a metal of higher minimum yield",
            MISES,
            ("hub_outside", "hub_material"),
            applies=_pressed_columns,
            asked=_own_wall,
            asks="a state with pressure",
        ),
        Rule(
            "hollow shaft stands the pressure",
            "tube_von_mises",
            "at most",
            "tube_allowed",
            "pressure outside squeezes a hollow shaft; one that yields stays small",
            "a smaller bore, a metal of higher minimum yield, or no pressure around the shaft",
            MISES,
            ("shaft", "shaft_bore", "shaft_material"),
            applies=_pressed_columns,
            asked=_own_tube,
            asks="a state with pressure and shaft_bore",
        ),
        Rule(
            "hollow shaft can't collapse",
            "shaft_pressure",
            "at most",
            "collapse_allowed",
            "a thin tube folds in suddenly, far below its yield; factor 2 for out-of-roundness",
            "a thicker wall, or rings or a core inside",
            COLLAPSE,
            ("shaft_bore", "shaft_material"),
            applies=_pressed_columns,
            asked=_own_tube,
            asks="a state with pressure and shaft_bore",
        ),
        lasting.temper_rule(
            lambda running: running.pressed_metals, "hub_material", "shaft_material", walls=True
        ),
    )
    cautions: ClassVar = (
        *PRESSURES,
        Caution(
            "All states have one temperature for both parts: a shaft that warms faster than its "
            "hole closes the gap; add a state with hub_temperature and shaft_temperature.",
            PRACTICE,
            lambda running, states: bool(
                (states.hub_temperature == states.shaft_temperature).all()
                and (states.hub_temperature != 20.0).any()
            ),
        ),
    )
    refusals: ClassVar = REFUSALS
    charted: ClassVar[Mapping[str, tuple[str, ...]]] = {"clearance": ()}
    must_ask: ClassVar = (
        ("least clearance", "most clearance"),
        "neither clearance_at_least nor clearance_at_most is given: there is no duty to judge",
    )
    relations: ClassVar = (
        Relation("shaft_bore", "shaft", "the shaft needs a wall"),
        Relation("hole", "hub_outside", "the hub needs a wall"),
    )
    made_of: ClassVar[Mapping[str, str]] = {
        "hole": "hub_material",
        "hub_outside": "hub_material",
        "shaft": "shaft_material",
        "shaft_bore": "shaft_material",
    }

    hole: Annotated[
        Limits | SurfaceRef,
        Size("hole the shaft runs in, or a surface such as liner.shaft_bore", side="hole", on_surface=True),
    ]
    shaft: Annotated[
        Limits | SurfaceRef,
        Size("shaft, or a surface such as bush.hub_outside", side="shaft", on_surface=True),
    ]
    shaft_bore: Annotated[
        Limits | None, Size("bore of the shaft; 0 or left out: solid", side="hole", zero=True)
    ] = None
    hub_outside: Annotated[
        Limits | None, Size("outside of the hub, for growth under pressure", side="shaft")
    ] = None
    length: Annotated[Limits | None, Length("length of the guide")] = None
    hub_material: Annotated[Metal | None, MetalField("metal of the hub, temper included")] = None
    shaft_material: Annotated[Metal | None, MetalField("metal of the shaft, temper included")] = None
    clearance_at_least: Annotated[
        Spread | None, Measure("least clearance in every state", quantity="length")
    ] = None
    clearance_at_most: Annotated[
        Spread | None, Measure("most clearance in every state", quantity="length")
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
    safety_yield: Annotated[Spread, Measure("further safety factor on yield", least=1.0)] = Spread(1.0, 1.0)

    @property
    def hollow(self) -> bool:
        """Whether the shaft has a bore."""
        return self.shaft_bore is not None and self.shaft_bore.upper > 0.0

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the running fit (``equations``)."""
        from fits.features.running.equations import compute

        return compute(self, d, s)

    @property
    def pressed_metals(self) -> tuple[Metal | None, ...]:
        """The metals of its own that bear pressure: the hub, a hollow shaft."""
        hub = None if isinstance(self.hole, SurfaceRef) else self.hub_material
        return hub, self.shaft_material if self.hollow and not isinstance(self.shaft, SurfaceRef) else None

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """The share of the pressure, and of expansions that sources give differently."""
        found = []
        if self.hub_outside is None and _own_wall(self, states) and isinstance(self.hole, Limits):
            near = self.hole.upper
            search = (near * 1.001, near * 20.0)
            found.append(
                Dimension("hub_outside", "hub_outside", "length", (float("nan"),), search, missing=True)
            )
        return (
            *found,
            pressure_share(states),
            *metal_shares("hub", self.hub_material),
            *metal_shares("shaft", self.shaft_material),
            share("speed_share", on=bool((states.speed != 0.0).any()), shared="part.speed"),
        )

    def faults(self) -> list[Fault]:
        """What can't be: a wall of its own around another feature's surface."""
        found = []
        if self.hub_outside is not None and isinstance(self.hole, SurfaceRef):
            found.append(
                Fault(f"the hole stands on {self.hole}: its wall is that feature's", key="hub_outside")
            )
        if self.shaft_bore is not None and self.shaft_bore.upper > self.shaft_bore.lower == 0.0:
            found.append(Fault("a bore with limits is above 0; a solid part has none", key="shaft_bore"))
        least, most = self.clearance_at_least, self.clearance_at_most
        if isinstance(least, Spread) and isinstance(most, Spread) and least.high > most.low:
            hint = f"clearance_at_most is {most.low:g} mm"
            found.append(Fault("more than the most", f"{least.high:g} mm", "clearance_at_least", hint=hint))
        return [*found, *super().faults()]

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        found = ["sizes are free sizes at 20 degC; clearance is on the diameter"]
        if _own_wall(self, states):
            found.append("the wall breathes with open ends; factor 1.5 on yield working, 1.0 at proof")
        found += pressure_inside(states)
        found += typed_metals(self.hub_material, self.shaft_material)
        return tuple(found)

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Metals and standards of the sizes."""
        found: list[Source] = []
        for metal in (self.hub_material, self.shaft_material):
            if metal is not None:
                found += metal.sources(temperature_matters=warm(states))
        for size in (self.hole, self.shaft):
            if isinstance(size, Limits):
                found += size.sources
        return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))
