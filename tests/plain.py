"""A kind of plain sums for tests: whatever a question says of it can be worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

import numpy as np

from fits.arrays import Array
from fits.features.feature import (
    Dimension,
    Feature,
    NotCovered,
    Outcome,
    Relation,
    Rule,
    State,
    States,
    Surface,
    Value,
)
from fits.features.fields import Length, Measure, Size, Spread, SurfaceRef
from fits.features.part import Part
from fits.features.parts import pressure_share
from fits.features.value import value
from fits.features.when import AS_MADE, ASSEMBLY
from fits.sizes.limits import Limits
from fits.tables import Source

GIVEN = Source("a sum made up for tests", "derived")
# What a gap grows by, mm/K from 20 degC, and what pressure takes of it, mm/MPa.
PER_K, PER_MPA = 1e-3, 2e-3


def asked(name: str) -> Any:
    return lambda plain, states: getattr(plain, name) is not None


class Plain(Feature):
    """gap = hole - shaft + 0.001 (T - 20) - 0.002 p; push = 100 grade gap + lean; bow = (place - 2)^2."""

    kind: ClassVar[str] = "plain"
    title: ClassVar[str] = "plain sums"
    pair: ClassVar[tuple[str, str] | None] = ("hole", "shaft")
    values: ClassVar[tuple[Value, ...]] = (
        value("gap", "gap", "length", "hole - shaft", GIVEN, ("hole", "shaft", "pressure_share", "heat")),
        value("push", "push", "force", "100 grade gap + lean", GIVEN, ("gap", "grade", "lean"), digits=1),
        value("leaned", "push by lean", "force", "the same", GIVEN, ("gap", "grade"), by="lean"),
        value("bow", "bow", "number", "(place - 2)^2", GIVEN, ("place",), inside=("place",)),
        value("fresh", "fresh gap", "length", "hole - shaft", GIVEN, ("hole", "shaft"), AS_MADE),
        value("start", "gap at the start", "length", "hole - shaft", GIVEN, ("hole", "shaft"), ASSEMBLY, shown=False),
        value("bore", "bore", "length", "hole", GIVEN, ("hole",)),
    )
    rules: ClassVar[tuple[Rule, ...]] = (
        Rule("never binds", "gap", "at least", 0.0, "it binds", "a smaller shaft", GIVEN, ("hole", "shaft"), above=True),
        Rule("least gap", "gap", "at least", "gap_at_least", "too tight", "a smaller shaft", GIVEN, ("shaft", "hole", "outside"),
             despite=("heat",), asked=asked("gap_at_least"), asks="gap_at_least"),
        Rule("most gap", "gap", "at most", "gap_at_most", "too loose", "a larger shaft", GIVEN, ("shaft",),
             asked=asked("gap_at_most"), asks="gap_at_most"),
        Rule("pushes", "push", "at least", "push_at_least", "too weak", "a better grade", GIVEN, ("grade",),
             asked=asked("push_at_least"), asks="push_at_least"),
        Rule("no more push", "push", "at most", "push_at_most", "too strong", "a lesser grade", GIVEN, ("grade",),
             asked=asked("push_at_most"), asks="push_at_most", applies=lambda plain, states: states.pressure > 0.0),
        Rule("bends", "bow", "at least", "bow_at_least", "too straight", "bend it", GIVEN, ("place",), asked=asked("bow_at_least"), asks="bow_at_least"),
    )
    surfaces: ClassVar[tuple[Surface, ...]] = (Surface("bore", "hole", "bore", "hole"),)
    relations: ClassVar[tuple[Relation, ...]] = (Relation("hole", "outside", "it needs a wall"), Relation("core", "shaft", "it needs a wall"))
    charted: ClassVar[Mapping[str, tuple[str, ...]]] = {"gap": ("push",)}
    must_ask: ClassVar = (("least gap", "most gap"), "no gap is asked for")

    hole: Annotated[Limits | SurfaceRef, Size("the hole", side="hole", on_surface=True)]
    shaft: Annotated[Limits | SurfaceRef, Size("the shaft", side="shaft", on_surface=True)]
    core: Annotated[Limits | None, Size("the core", side="hole")] = None
    outside: Annotated[Limits | None, Size("the outside", side="shaft")] = None
    length: Annotated[Limits | None, Length("the length")] = None
    grade: Annotated[Spread | None, Measure("push per gap", digits=2, least=0.0)] = None
    place: Annotated[Spread, Measure("where it bows")] = Spread(0.0, 0.0)
    gap_at_least: Annotated[Spread | None, Measure("least gap", quantity="length")] = None
    gap_at_most: Annotated[Spread | None, Measure("most gap", quantity="length")] = None
    push_at_least: Annotated[Spread | None, Measure("least push", quantity="force")] = None
    push_at_most: Annotated[Spread | None, Measure("most push", quantity="force")] = None
    bow_at_least: Annotated[Spread | None, Measure("least bow")] = None
    form_hole: Annotated[Spread, Measure("form of the hole", quantity="length", least=0.0)] = Spread(0.0, 0.0)
    form_shaft: Annotated[Spread, Measure("form of the shaft", quantity="length", least=0.0)] = Spread(0.0, 0.0)
    gauge_uncertainty: Annotated[Spread, Measure("doubt of the gauge", quantity="length", least=0.0)] = Spread(0.0, 0.0)

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """How it leans, in words; a grade that wasn't given; the share of the pressure."""
        lean = Dimension("lean", "it leans", "number", (0.0, 3.0, 1.0), (0.0, 3.0), words=("left", "right", "up"))
        missing = () if self.grade is not None else (Dimension("grade", "grade", "number", (float("nan"),), (0.5, 50.0), missing=True),)
        return (lean, *missing, pressure_share(states))

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """The sums of this kind."""
        heat = (s.hub_temperature + s.shaft_temperature) / 2.0 - 20.0
        unknown = s.hub_temperature > 500.0
        gap = d["hole"] - d["shaft"] + np.where(unknown, np.nan, PER_K * heat) - PER_MPA * s.pressure * d["pressure_share"]
        push = 100.0 * d["grade"] * gap + d["lean"]
        gaps = [NotCovered("heat", "hotter than is known", unknown, beyond="greatest")]
        if self.grade is None:
            gaps.append(NotCovered("grade", "grade not given", np.ones(len(s.names), dtype=bool), "grade"))
        here = (d["hole"] - d["shaft"])
        numbers = {"gap": gap, "push": push, "leaned": push, "bow": (d["place"] - 2.0) ** 2 + 0.0 * s.pressure,
                   "fresh": here, "start": here, "bore": d["hole"] + 0.0 * s.pressure}
        asked_for = {name: one for name, one in numbers.items() if wanted is None or name in wanted}
        return Outcome(asked_for, tuple(one for one in gaps if one.mask.any()))


def plain(*states: State, name: str = "seat", units: str = "mm", **fields: Any) -> Part:
    """A part of one of them; hole 20.000 to 20.030, shaft 19.940 to 19.950 unless given."""
    given = {"hole": "20.030/20.000", "shaft": "19.950/19.940", "grade": 2.0, **fields}
    given = {key: one for key, one in given.items() if one is not None}
    return Part("test", {name: Plain(**given)}, states or (State("shop"),), units=units)
