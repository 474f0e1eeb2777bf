"""A part: its features, the states each must survive, and what stands in its file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from fits.errors import Fault, InputError
from fits.features.feature import Dimension, Feature, State, States, declared
from fits.features.fields import Undecided
from fits.sizes.limits import Limits
from fits.sizes.notation import belong

if TYPE_CHECKING:
    from fits.sizes.scatter import Scatter


@dataclass(frozen=True)
class Part:
    """Features by name, in an order in which each comes after those it stands on.

    ``states`` are the part's own; ``of_feature`` those of each feature where it differs.
    ``info`` is text for the report (revision, drawn_by, date); ``spreads`` says how
    dimensions scatter from part to part, by key (``liner.hole``, ``sizes.bore``).
    """

    name: str
    features: Mapping[str, Feature]
    states: tuple[State, ...] = (State("shop"),)
    of_feature: Mapping[str, tuple[State, ...]] = field(default_factory=dict)
    info: Mapping[str, str] = field(default_factory=dict)
    units: str = "mm"
    place: str = ""
    spreads: Mapping[str, Scatter] = field(default_factory=dict)
    # Read again at every evaluation, and a part doesn't change: kept once found.
    _columns: dict[str, States] = field(default_factory=dict, init=False, repr=False, compare=False)
    _dimensions: dict[str, tuple[Dimension, ...]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    def __post_init__(self) -> None:
        """Refuse a part or feature without any state: what is judged nowhere would hold."""
        for states in (self.states, *self.of_feature.values()):
            if not states:
                hint = "leave states out for the shop at 20 degC, at rest"
                raise InputError(Fault("at least one state is due", "none", "states", self.place, hint))

    def states_of(self, feature: str) -> tuple[State, ...]:
        """The states a feature must survive."""
        return self.of_feature.get(feature, self.states)

    def columns(self, feature: str) -> States:
        """The states of a feature as columns of arrays, as made last."""
        if feature not in self._columns:
            self._columns[feature] = States.of(self.states_of(feature))
        return self._columns[feature]

    def dimensions(self, feature: str) -> tuple[Dimension, ...]:
        """Every number of a feature that may vary in its states."""
        if feature not in self._dimensions:
            self._dimensions[feature] = self.features[feature].dimensions(self.columns(feature))
        return self._dimensions[feature]


def apart(feature: Feature) -> list[Fault]:
    """What is wrong with the two members of a fit: sizes that can't belong together."""
    if type(feature).pair is None:
        return []
    hole, shaft = (getattr(feature, name) for name in type(feature).pair or ())
    if not (isinstance(hole, Limits) and isinstance(shaft, Limits)):
        return []
    fault = belong(hole, shaft)
    return [] if fault is None else [replace(fault, key=(type(feature).pair or ("", ""))[1])]


def settled(feature: Feature) -> Feature:
    """A feature with its fields left open ("?") as if they weren't given."""
    fields = type(feature).model_fields
    left = {
        name: fields[name].default
        for name in declared(type(feature))
        if isinstance(getattr(feature, name), Undecided) and not fields[name].is_required()
    }
    return feature.model_copy(update=left) if left else feature
