"""A reamed hole once it was read: no promise of its tools any more, but a size."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Any, ClassVar

import numpy as np

from fits.arrays import Array
from fits.errors import Fault, InputError
from fits.features.feature import Feature, NotCovered, Outcome, Rule, States
from fits.features.fields import Choice, Length, Measure, MetalField, Size, Spread
from fits.features.parts import GEOMETRY
from fits.features.reamed.equations import finished
from fits.features.reamed.rules import CAUTIONS, RULES
from fits.features.reamed.values import VALUES
from fits.features.tools import WantedHole
from fits.features.value import value
from fits.materials.metals import Metal
from fits.sizes.limits import Limits
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.reamed.declaration import Reamed

REAMED_LAST = "reamed last"
# As it is read: the hole itself, or, where it closes after reaming, before or after that.
HOLE, AS_REAMED, FINISHED = "hole", "as_reamed", "finished"
_READ = (HOLE, AS_REAMED, FINISHED)
_KEPT = ("final_hole", "hole_from", "hole_to")


def _before(cut: Any, states: States) -> bool:
    return cut.as_reamed is not None


def _done(cut: Any, states: States) -> bool:
    return cut.as_reamed is None


def _of_the_hole() -> tuple[Rule, ...]:
    """The rules on the hole itself: as read, or as coat and pressing will leave it."""
    found = []
    for rule in RULES:
        if rule.value == "final_hole":
            found.append(rule._replace(asked=_before, asks="as_reamed"))
        elif rule.value == "cut_hole":
            limit = {"ream_from": "hole_from", "ream_to": "hole_to"}[str(rule.limit)]
            reason = rule.reason.replace("the hole that its trials promise is", "the hole is")
            action = (
                "ream, hone or bore it to size" if rule.sense == "at least" else "a larger mate, or a bush"
            )
            found.append(rule._replace(limit=limit, reason=reason, action=action, asked=_done))
    return tuple(found)


class CutHole(Feature):
    """A reamed hole of which the size was read; made by :meth:`Reamed.once_read` only."""

    kind: ClassVar[str] = "reamed"
    title: ClassVar[str] = "reamed hole as it was read"
    values: ClassVar = (
        value("cut_hole", "hole as it was read", "length", "read", GEOMETRY, _READ, "as_made"),
        *(one for one in VALUES if one.name in _KEPT),
    )
    rules: ClassVar = _of_the_hole()
    cautions: ClassVar = tuple(one for one in CAUTIONS if "gauge" in one.text or "coat" in one.text)
    made_of: ClassVar[Mapping[str, str]] = dict.fromkeys(_READ, "material")

    wanted: Annotated[Limits, WantedHole("hole as the drawing wants it")]
    hole: Annotated[Limits | None, Size("hole as it was read", side="hole")] = None
    as_reamed: Annotated[Limits | None, Size("hole as read before coat and pressing", side="hole")] = None
    finished: Annotated[Limits | None, Size("hole as read after coat and pressing", side="hole")] = None
    material: Annotated[Metal | None, MetalField("metal that was reamed")] = None
    wall: Annotated[Limits | None, Length("thinnest wall around the hole")] = None
    coating_hole: Annotated[Spread | None, Measure("thickness of a coat", quantity="length")] = None
    coating_share: Annotated[Spread | None, Measure("share of it that builds up")] = None
    closes: Annotated[Spread | None, Measure("how much pressing closes it", quantity="length")] = None
    order: Annotated[
        str | None, Choice("against coating and pressing", options=("reamed first", REAMED_LAST))
    ] = None

    @property
    def light(self) -> bool:
        """Whether the metal is a light one, which is often coated."""
        return self.material is not None and self.material.family in ("aluminium", "magnesium")

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """The hole as read, and as it will be."""
        gaps: list[NotCovered] = []
        numbers = {"cut_hole": d[next(name for name in _READ if getattr(self, name) is not None)]}
        numbers["hole_from"], numbers["hole_to"] = (
            np.array([[one]]) for one in (self.wanted.lower, self.wanted.upper)
        )
        if self.as_reamed is not None:
            finished(numbers, self, d, gaps)
        return Outcome(numbers, tuple(gaps))

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Where the limits come from."""
        return tuple(one for one in self.wanted.sources if one.evidence != "typed")


def names(reamed: Reamed) -> tuple[str, ...]:
    """As what the hole can be read."""
    return _READ if closes_later(reamed) else (HOLE,)


def closes_later(reamed: Reamed) -> bool:
    """Whether coat or pressing change the hole after the reamer, or may."""
    changes = reamed.coating_hole is not None or reamed.closes is not None
    return changes and reamed.order != REAMED_LAST


def cut(reamed: Reamed, name: str) -> CutHole:
    """The hole as it is once it was read.

    Raises:
        InputError: it doesn't say whether it was read before coat and pressing or after.
    """
    if name == HOLE and closes_later(reamed):
        must = "coat or pressing changes this hole after the reamer: before or after that?"
        raise InputError(Fault(must, hint="write as_reamed or finished for hole"))
    limits = reamed.as_reamed if name == AS_REAMED else reamed.hole
    same = ("material", "wall", "coating_hole", "coating_share", "closes", "order")
    fields: dict[str, Any] = {field: getattr(reamed, field) for field in same}
    fields |= {"wanted": reamed.hole, **dict.fromkeys(_READ), name: limits}
    return CutHole.model_construct(**fields)
