"""States a feature must survive, and all of them as columns of arrays."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fits.arrays import Array, Mask
from fits.features.when import AS_MADE, EVERY

# What a state's pressure may be of.
GASES = ("air", "nitrogen", "carbon dioxide", "gas", "oxygen")
MEDIA = ("water", "oil", *GASES)


class State(NamedTuple):
    """A point that a feature must survive: degC, MPa, rad/s. A range is two states.

    ``time`` is how long it lasts in all (s), 0 where that was not said.
    """

    name: str
    hub_temperature: float = 20.0
    shaft_temperature: float = 20.0
    pressure: float = 0.0
    speed: float = 0.0
    proof: bool = False
    medium: str = ""
    time: float = 0.0


class States(NamedTuple):
    """All states as arrays over the last axis; the last column is as made (20 degC, at rest)."""

    names: tuple[str, ...]
    hub_temperature: Array
    shaft_temperature: Array
    pressure: Array
    speed: Array
    proof: Mask
    media: tuple[str, ...]
    time: Array

    @classmethod
    def of(cls, states: Sequence[State]) -> States:
        """The columns of some states, as made last."""
        import numpy as np

        every = [*states, State(AS_MADE)]
        return cls(
            tuple(state.name for state in every),
            np.array([state.hub_temperature for state in every]),
            np.array([state.shaft_temperature for state in every]),
            np.array([state.pressure for state in every]),
            np.array([state.speed for state in every]),
            np.array([state.proof for state in every]),
            tuple(state.medium for state in every),
            np.array([state.time for state in every]),
        )

    @property
    def has_gas(self) -> bool:
        """Whether some state says that its pressure is a gas's."""
        return any(one in GASES for one in self.media)

    def columns(self, when: Sequence[str]) -> Mask:
        """Which columns a value of these times has."""
        import numpy as np

        mask = np.zeros(len(self.names), dtype=bool)
        mask[:-1] = EVERY in when
        mask[-1] = EVERY not in when or AS_MADE in when
        return mask
