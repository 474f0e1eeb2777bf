"""What a feature is: declared fields, one pure function on arrays, data.

A kind declares its fields (a pydantic model), values, rules, refusals, cautions, surfaces and
relations as data, and computes its numbers. Every question loops over that and knows no kind.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, ClassVar, Literal, NamedTuple

from pydantic import BaseModel, ConfigDict

from fits.arrays import Array, Mask
from fits.errors import Fault
from fits.features import fields
from fits.features.beside import Alternative as Alternative
from fits.features.beside import Published as Published
from fits.features.beside import Step as Step
from fits.features.beside import Thumb as Thumb
from fits.features.composite import Composite, label_of
from fits.features.figures import Figure as Figure
from fits.features.figures import Wall as Wall
from fits.features.states import GASES as GASES
from fits.features.states import MEDIA as MEDIA
from fits.features.states import State as State
from fits.features.states import States as States
from fits.features.when import EVERY
from fits.sizes.limits import Limits
from fits.tables import Source

Sense = Literal["at least", "at most"]


class Value(NamedTuple):
    """One value a feature has: how it is called, shown, computed, and what it depends on.

    ``uses`` names the dimensions, inputs and values it is computed from; reasons of
    what is not covered are inherited along it. ``inside`` names dimensions along which an
    end of its range may lie between the levels; ``by`` one whose words tell ranges apart.
    """

    name: str
    label: str
    kind: str
    digits: int
    equation: str
    source: Source
    uses: tuple[str, ...]
    when: tuple[str, ...] = (EVERY,)
    shown: bool = True
    inside: tuple[str, ...] = ()
    by: str = ""


def always(feature: Any, states: States) -> bool:
    """The rule is asked of every feature."""
    return True


class Rule(NamedTuple):
    """A value held against a limit, with why and what to change.

    ``limit`` is a number or the name of a value or dimension. ``asked`` says whether
    the user's fields ask for the rule; ``applies`` in which columns it speaks.
    ``despite`` names inputs whose absence can only make the value milder, so that the
    rule may pass without them; ``above`` says that a limit of 0 itself doesn't hold;
    ``asks`` says which fields would ask for it.
    """

    name: str
    value: str
    sense: Sense
    limit: str | float
    reason: str
    action: str
    source: Source
    remedies: tuple[str, ...] = ()
    despite: tuple[str, ...] = ()
    asked: Callable[[Any, States], bool] = always
    asks: str = ""
    applies: Callable[[Any, States], Mask] | None = None
    above: bool = False


class Refusal(NamedTuple):
    """Something this tool does not size; asked before anything is computed."""

    name: str
    reason: Callable[[Any, States], str]
    ask: str
    source: Source
    applies: Callable[[Any, States], bool]


class Caution(NamedTuple):
    """What can hurt someone, said whenever it applies."""

    text: str
    source: Source
    applies: Callable[[Any, States], bool] = lambda feature, states: True


class Surface(NamedTuple):
    """A named diameter other features may stand on.

    ``dimension`` is the field it is cut as; ``value`` the number that carries its size
    in every state, mm; ``lacking`` says why a feature may be without it.
    """

    name: str
    dimension: str
    value: str
    side: str
    lacking: str = "not as it is declared"


class Relation(NamedTuple):
    """One field must stay below another, at every limit; data for loader and sweeps."""

    smaller: str
    larger: str
    why: str


@dataclass(frozen=True, eq=False)
class NotCovered:
    """What the equations or tables can't answer: about which input, why, in which columns.

    ``mask`` broadcasts against the values. ``sweep`` names the dimension that stands for
    a missing input, so that its break-even value can be found; ``beyond`` is the end of
    the range at which the values not covered lie.
    """

    about: str
    reason: str
    mask: Mask
    sweep: str = ""
    beyond: Literal["", "least", "greatest"] = ""


class Dimension(NamedTuple):
    """A number that may vary: its levels at the corners, and the range a sweep may search.

    ``shared`` is the key of a dimension used in several places (a shared size, the
    pressure of the part). ``missing`` marks one whose value was not given. ``words`` names
    the levels of one that stands for a choice.
    """

    name: str
    label: str
    kind: str
    levels: tuple[float, ...]
    search: tuple[float, float]
    shared: str = ""
    missing: bool = False
    words: tuple[str, ...] = ()

    def said(self, level: float) -> str:
        """A level in words, when it stands for a choice."""
        return self.words[self.levels.index(level)] if self.words and level in self.levels else ""


class Outcome(NamedTuple):
    """What a feature computes: numbers by name, shape (*lead, corners, columns), and gaps."""

    numbers: dict[str, Array]
    gaps: tuple[NotCovered, ...] = ()


class Feature(BaseModel):
    """Base of every kind. A subclass declares fields and the data below, and computes."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, revalidate_instances="never"
    )

    kind: ClassVar[str]
    # Which form of a kind that has several; the key ``form`` of a part file chooses it.
    form: ClassVar[str] = ""
    title: ClassVar[str]
    values: ClassVar[tuple[Value, ...]]
    rules: ClassVar[tuple[Rule, ...]]
    refusals: ClassVar[tuple[Refusal, ...]] = ()
    cautions: ClassVar[tuple[Caution, ...]] = ()
    surfaces: ClassVar[tuple[Surface, ...]] = ()
    relations: ClassVar[tuple[Relation, ...]] = ()
    # Hole and shaft fields, and what their difference is called (interference is shaft - hole).
    pair: ClassVar[tuple[str, str] | None] = None
    fit: ClassVar[Literal["interference", "clearance"]] = "clearance"
    # Whether its texts, and of each number whether it is given, 0, a range or a temperature,
    # settle everything but arithmetic on ``d``: then a table of it is computed by columns.
    by_columns: ClassVar[bool] = False
    # Rules of which at least one must be asked, and what to say when none is.
    must_ask: ClassVar[tuple[tuple[str, ...], str] | None] = None
    # Whether faults() sees a field left open ("?") as it stands, or as if it weren't given.
    faults_see_open: ClassVar[bool] = False
    # What is drawn: values against temperature, with other values that rules hold; walls' hoop stress.
    charted: ClassVar[Mapping[str, tuple[str, ...]]] = MappingProxyType({})
    walls: ClassVar[tuple[Wall, ...]] = ()
    # Dimension -> the field that names the metal it is cut in, to correct a warm reading.
    made_of: ClassVar[Mapping[str, str]] = MappingProxyType({})
    # Dimension -> which way it is cut, larger as a "hole" or smaller as a "shaft", where it is neither.
    cut_as: ClassVar[Mapping[str, str]] = MappingProxyType({})
    # Sizes wished of the joined parts: nothing is cut or read as these.
    wished: ClassVar[tuple[str, ...]] = ()
    example: ClassVar[str] = ""
    plan_title: ClassVar[str] = "To assemble"
    # What can be chosen (a ring), and the sizes to give limits of for each choice.
    chosen: ClassVar[str] = ""
    sized_by: ClassVar[tuple[str, ...]] = ()
    # Rules that, failed or not covered, ask for another principle than this kind.
    holding: ClassVar[tuple[str, ...]] = ()
    thumb: ClassVar[Thumb | None] = None

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of this feature.

        Args:
            d: dimensions by name, (*lead, corners, 1), inside units; on a surface (*lead, corners, columns).
            s: the states, last axis the columns.
            wanted: values asked for, None for all; costly numbers may be left out else.
        """
        raise NotImplementedError

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Uncertain numbers that are no fields: losses, shares, ends."""
        return ()

    def faults(self) -> list[Fault]:
        """What is wrong between the fields beyond the relations, each with its key."""
        found = []
        for name in declared(type(self)):
            size, form = getattr(self, name), getattr(self, f"form_{name}", None)
            if not (isinstance(size, Limits) and isinstance(form, fields.Spread)):
                continue
            if 0.0 < size.tolerance < form.low - 1e-9:  # as wide as the limits is inside them
                must = f"limits contain the form error: at most {size.tolerance:.4f} mm here"
                found.append(Fault(must, form.text, f"form_{name}"))
        if self.pair is None:
            return found
        hole, shaft = (getattr(self, name) for name in self.pair)
        if (key := fields.shared_key(hole)) and key == fields.shared_key(shaft):
            found.append(
                Fault("hole and shaft are two parts: each needs its own size", hole.name, self.pair[1])
            )
        return found

    @property
    def to_be_read(self) -> tuple[str, ...]:
        """Sizes that are no number of the kind, since it only wants them, but are read on the part."""
        return ()

    def once_read(self, name: str) -> Feature:
        """This feature once such a size was read: with it as a size, and the rules a finished part has.

        Raises:
            InputError: the name leaves open what was read.
        """
        raise NotImplementedError

    def has_surface(self, name: str) -> bool:
        """Whether this feature, as it is declared, has one of its kind's surfaces."""
        return any(one.name == name for one in self.surfaces)

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed, for the report."""
        return ()

    def notes(self, states: States) -> tuple[str, ...]:
        """What else the report should say of the feature."""
        return ()

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Sources of the tabled numbers this feature rests on."""
        return ()

    def looked_up(self, states: States) -> Iterator[tuple[str, Source]]:
        """Numbers looked up by several fields at once: the input or value they give, and the source."""
        return iter(())

    def published(self) -> tuple[Published, ...]:
        """Rows of published tables to show beside the computed values."""
        return ()

    def near(self, field: str) -> float | None:
        """Where an answer for a field is likely to lie, for a sweep to look closely."""
        return None

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """Steps to make or assemble the feature, from the ranges of its values."""
        return ()

    def figures(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Figure, ...]:
        """Sections of the feature to scale, from the ranges of its values."""
        return ()

    def alternatives(
        self, spans: Mapping[str, tuple[float, float]], gaps: frozenset[str], states: States
    ) -> tuple[Alternative, ...]:
        """What other principles would need.

        Args:
            spans: least and greatest over all states of every value known in all of them.
            gaps: the values of which something is not covered.
            states: the states.
        """
        return ()

    def dimensions(self, states: States) -> tuple[Dimension, ...]:
        """Every number that may vary: numeric fields as given, then the extra ones."""
        extra = self.extra_dimensions(states)
        taken = {dimension.name for dimension in extra}
        own = [
            Dimension(name, label_of(name), kind.quantity, levels, kind.search(levels), key)
            for name, kind, value in self.numeric_fields()
            if name not in taken and (levels := self._with_form(name, fields.levels(value)))
            for key in (fields.shared_key(value),)
        ]
        return (*own, *extra)

    def _with_form(self, name: str, levels: tuple[float, ...]) -> tuple[float, ...]:
        """An exact or measured size with its form error in full at both ends; limits contain theirs."""
        form = getattr(self, f"form_{name}", None)
        if len(levels) != 1 or not isinstance(form, fields.Spread) or form.high == 0.0:
            return levels
        return (levels[0] - form.high, levels[0] + form.high)

    def numeric_fields(self) -> Iterator[tuple[str, fields.Numeric, Any]]:
        """Name, field type and parsed value of each number that was given."""
        for name, kind in numbers(type(self)).items():
            if (value := self.number(name)) is not None:
                yield name, kind, value

    def number(self, name: str) -> Any:
        """The parsed value of a field, or of a composite one's part; None where not given."""
        field, _, part = name.partition(".")
        value = getattr(self, field)
        return declared(type(self))[field].number(value, part) if part else value

    def standing_on(self) -> dict[str, fields.SurfaceRef]:
        """The fields that stand on a surface of another feature."""
        return {
            name: value
            for name in declared(type(self))
            if isinstance(value := getattr(self, name), fields.SurfaceRef)
        }


@cache
def declared(kind: type[Feature]) -> dict[str, fields.Field]:
    """Field name -> field type of a kind, in the order of its declaration."""
    found: dict[str, fields.Field] = {}
    for name, info in kind.model_fields.items():
        found.update((name, mark) for mark in info.metadata if isinstance(mark, fields.Field))
    return found


@cache
def numbers(kind: type[Feature]) -> dict[str, fields.Numeric]:
    """Name -> field type of every number of a kind; those of a composite as ``ring.inside``."""
    found: dict[str, fields.Numeric] = {}
    for name, field in declared(kind).items():
        if isinstance(field, fields.Numeric):
            found[name] = field
        elif isinstance(field, Composite):
            found |= {f"{name}.{part}": of for part, of in field.parts.items()}
    return found


def field_type(kind: type[Feature], name: str) -> fields.Field:
    """The type of a field, or of one number of a composite field."""
    return numbers(kind).get(name) or declared(kind)[name]


def required(kind: type[Feature], name: str) -> bool:
    """Whether a field must be given."""
    return kind.model_fields[name].is_required()


@cache
def depends_on(kind: type[Feature], name: str) -> frozenset[str]:
    """All that a value depends on, through the values it uses, itself included.

    >>> from fits.features.running import Running
    >>> "hole" in depends_on(Running, "clearance")
    True
    """
    uses = {value.name: value.uses for value in kind.values}
    found: set[str] = set()
    waiting = [name]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += uses.get(one, ())
    return frozenset(found)
