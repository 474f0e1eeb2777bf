"""Limits of size: what every way of writing a size on a drawing comes down to."""

from __future__ import annotations

from dataclasses import dataclass

from fits.tables import Source


@dataclass(frozen=True)
class Limits:
    """The lower and the upper limit of a size in mm, free and at 20 degC.

    ``basic`` is the size that deviations count from (None for a pair of limits),
    ``side`` is "hole", "shaft" or "" where the notation doesn't say; ``name`` is that of
    a shared size; ``bought`` says what kind of bought part it is of.
    """

    lower: float
    upper: float
    basic: float | None = None
    side: str = ""
    text: str = ""
    name: str = ""
    sources: tuple[Source, ...] = ()
    bought: str = ""

    @property
    def middle(self) -> float:
        """The size halfway between the limits, mm."""
        return (self.lower + self.upper) / 2.0

    @property
    def tolerance(self) -> float:
        """The width of the zone, mm; 0 for an exact size."""
        return self.upper - self.lower

    @property
    def nominal(self) -> float:
        """The basic size, or the middle where there is none, mm."""
        return self.middle if self.basic is None else self.basic


def clearance(hole: Limits, shaft: Limits) -> tuple[float, float]:
    """Least and most clearance in mm (diametral); interference is negative.

    >>> clearance(Limits(25.0, 25.021), Limits(24.98, 24.993))
    (0.007, 0.041)
    """
    return (round(hole.lower - shaft.upper, 12), round(hole.upper - shaft.lower, 12))


def kind_of_fit(hole: Limits, shaft: Limits) -> str:
    """Clearance, transition or interference fit, by ISO 286-1:2010, 3.3.

    >>> kind_of_fit(Limits(25.0, 25.021), Limits(24.98, 24.993))
    'clearance fit'
    """
    least, most = clearance(hole, shaft)
    if least >= 0.0:
        return "clearance fit"
    return "interference fit" if most <= 0.0 else "transition fit"
