"""What a kind says beside its numbers: steps of a plan, published rows, other ways to do it."""

from __future__ import annotations

from typing import NamedTuple

from fits.tables import Source


class Step(NamedTuple):
    """One step of a plan: what to do, with what, between which limits, when to stop."""

    do: str
    tool: str = ""
    range: str = ""
    stop_if: str = ""
    caution: str = ""
    source: Source = Source("common practice", "practice")


class Published(NamedTuple):
    """A published table row shown beside the computed value."""

    value: str
    low: float
    high: float
    source: Source


class Need(NamedTuple):
    """A number that an alternative would need, inside unit; ``sense`` at least, at most or none."""

    label: str
    value: float
    kind: str
    digits: int
    sense: str = ""


class Alternative(NamedTuple):
    """Another way to do the same: what it would need, what isn't known of it, how to ask for it."""

    name: str
    needs: tuple[Need, ...]
    unknown: tuple[str, ...]
    source: Source
    ask: str = ""


class Thumb(NamedTuple):
    """The trade's rule of thumb for a fit: a share of the diameter."""

    per_diameter: float
    words: str
    source: Source
