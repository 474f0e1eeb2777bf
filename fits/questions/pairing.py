"""What is said of holes and shafts that were paired."""

from __future__ import annotations

from typing import NamedTuple

from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED, Resting
from fits.questions.measured import Measured
from fits.questions.shown import in_notebooks
from fits.tables import Source


class Off(NamedTuple):
    """A size of a part that isn't proved to be inside its drawing: limits passed, and by how much, mm."""

    part: str
    size: Measured
    beyond: tuple[str, ...]


class Pair(NamedTuple):
    """A hole and a shaft that go together, and the mark for both.

    ``fit`` is the interference or clearance, mm, ``doubt`` what the readings leave open at
    either side; ``room`` the mm of fit to where the rule breaks that comes first, None
    where the sizes move no rule. ``outside`` is what of both is proved to be outside its
    drawing, ``unproved`` what is neither inside nor outside for certain.
    """

    hole: str
    shaft: str
    mark: str
    fit: float
    doubt: float
    room: float | None
    feature: str = ""
    rule: str = ""
    state: str = ""
    margin: float | None = None
    kind: str = "number"
    digits: int = 3
    outside: tuple[Off, ...] = ()
    unproved: tuple[Off, ...] = ()


class Left(NamedTuple):
    """A part without a mate: ``spare`` when one would hold but is taken; sizes that would pair it."""

    part: str
    member: str
    size: float
    uncertainty: float
    spare: bool
    mate: str
    wants: tuple[tuple[float, float], ...] | None


@in_notebooks
class Pairing(NamedTuple):
    """The pairs of a feature, what is left over, and what holds for all of it."""

    feature: str
    fit: str
    hole: str
    shaft: str
    pairs: tuple[Pair, ...]
    left: tuple[Left, ...]
    notes: tuple[str, ...] = ()
    not_covered: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    left_out: tuple[str, ...] = ()
    rests_on: tuple[Resting, ...] = ()

    @property
    def verdict(self) -> str:
        """Pass when every part has a mate and is inside its drawing, as ``judge`` would accept it."""
        if self.refused:
            return REFUSED
        if self.left or any(one.outside for one in self.pairs):
            return FAIL
        open_ = self.left_out or any(one.unproved for one in self.pairs)
        return NOT_COVERED if open_ else PASS
