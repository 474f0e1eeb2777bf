"""What came of drawing parts: shares with their doubt, how margins scatter, what brings it."""

from __future__ import annotations

from typing import Any, NamedTuple

from fits.questions.answer import Answer, CheckAnswer
from fits.questions.shown import in_notebooks
from fits.sizes.scatter import Scatter


class Share(NamedTuple):
    """A share of the parts drawn, with its 95 % interval."""

    share: float
    low: float
    high: float


class Drawn(NamedTuple):
    """A dimension that was drawn, and how; ``said`` is False where nothing was said."""

    key: str
    label: str
    kind: str
    scatter: Scatter
    said: bool


class Scattering(NamedTuple):
    """A margin over some of the parts drawn: counts in equal steps from low to high, inside unit."""

    low: float
    high: float
    counts: tuple[int, ...]


class RuleOdds(NamedTuple):
    """One rule over the parts drawn, beside its worst case.

    ``comes_from`` is the share of the margin's variance that each dimension's spread
    alone brings, greatest first; ``capability`` the mean margin over three sigma.
    ``margins`` is how the margin scatters, None where it doesn't or isn't known.
    """

    feature: str
    rule: str
    passing: Share
    failing: Share
    not_covered: float
    worst: CheckAnswer
    capability: float | None
    comes_from: tuple[tuple[str, float], ...]
    margins: Scattering | None = None


@in_notebooks
class Odds(NamedTuple):
    """What came of drawing parts; ``worst_case`` is the whole answer of ``check``."""

    samples: int
    seed: int
    passing: Share
    failing: Share
    not_covered: float
    rules: tuple[RuleOdds, ...]
    drawn: tuple[Drawn, ...]
    at_worst: tuple[str, ...]
    worst_case: Answer

    @property
    def weakest(self) -> RuleOdds | None:
        """The rule that fails most, else the one with the least capability."""
        known = [one for one in self.rules if one.capability is not None]
        return min(known, key=lambda one: (-one.failing.share, one.capability), default=None)

    def frame(self) -> Any:
        """The rules as a pandas table: shares from 0 to 1, with their 95 % intervals."""
        import pandas as pd

        rows = [
            (one.feature, one.rule, *one.passing, one.failing.share, one.not_covered, one.worst.verdict)
            for one in self.rules
        ]
        names = ["feature", "rule", "passing", "low", "high", "failing", "not_covered", "worst_case"]
        return pd.DataFrame(rows, columns=names)
