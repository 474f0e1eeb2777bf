"""Readings: a size taken warm, its uncertainty, the guard band, what several of them show."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

ROOM = 20.0
# A reading this far from its drawing is a slip of unit or digit, as members of one fit are.
SLIP = 0.05
INSIDE, OUTSIDE, UNDECIDED, NO_LIMITS = "inside", "outside", "undecided", "no limits"
# A size on its limit is inside it, whatever its last binary digit (mm).
EXACT = 1e-9
_THREE_POINT = ("three-point", "three point", "3-point", "3 point")
_TWO_POINT = (
    "two-point",
    "two point",
    "2-point",
    "2 point",
    "micrometer",
    "micrometre",
    "caliper",
    "snap",
    "telescop",
    "small-hole",
    "small hole",
    "bore gauge",
    "bore gage",
)
_WHOLE = ("cmm", "coordinate", "roundness", "ring gauge", "plug gauge", "air ring", "air plug")


class Reading(NamedTuple):
    """One reading as it stands in a table: mm and degC, and where it stands.

    ``uncertainty`` is the expanded one (k = 2) and covers instrument, temperature and
    person. ``gauge_temperature`` is None where it was not said; ``gauge_expansion`` in 1/K.
    """

    part: str
    dimension: str
    value: float
    uncertainty: float
    instrument: str
    temperature: float
    gauge_temperature: float | None = None
    gauge_expansion: float | None = None
    station: str = ""
    direction: str = ""
    place: str = ""


class Form(NamedTuple):
    """What several two-point readings of one bore or shaft show, as diameter, mm."""

    taper: float | None
    ovality: float | None


class Guarded(NamedTuple):
    """A size against its limits: verdict, room inside the guard band, what would decide.

    ``room`` is below 0 where conformity isn't proved. ``needs`` is the uncertainty below
    which an undecided size is decided, 0 where it sits on the limit itself. ``beyond``
    says which limits are proved to be passed.
    """

    verdict: str
    room: float
    needs: float | None = None
    beyond: tuple[str, ...] = ()


def at_20(
    reading: float,
    *,
    part_expansion: float,
    part_temperature: float,
    gauge_expansion: float = 0.0,
    gauge_temperature: float = ROOM,
) -> float:
    """The size at 20 degC of a part that was read away from it (ISO 1: sizes are at 20 degC).

    reading (1 + alpha_gauge (T_gauge - 20)) / (1 + alpha_part (T_part - 20)): a warm part
    is larger than at 20 degC, a warm gauge reads it smaller than it is.

    Args:
        reading: what the gauge shows, any length.
        part_expansion: mean from 20 degC to the part's temperature, 1/K.
        part_temperature: degC.
        gauge_expansion: mean from 20 degC to the gauge's temperature, 1/K.
        gauge_temperature: degC.

    >>> round(at_20(100.0, part_expansion=23e-6, part_temperature=30.0), 4)
    99.977
    >>> round(at_20(100.0, part_expansion=23e-6, part_temperature=30.0,
    ...             gauge_expansion=11.5e-6, gauge_temperature=30.0), 4)
    99.9885
    """
    gauge = 1.0 + gauge_expansion * (gauge_temperature - ROOM)
    return reading * gauge / (1.0 + part_expansion * (part_temperature - ROOM))


def guard_band(least: float, greatest: float, uncertainty: float, lower: float, upper: float) -> Guarded:
    """A size, or the least and greatest of several readings, against its limits, mm.

    The guard band is the expanded uncertainty U at each limit (ISO 14253-1): inside is
    proved from lower + U to upper - U, outside below lower - U or above upper + U.

    >>> guard_band(25.010, 25.010, 0.003, 25.0, 25.021).verdict
    'inside'
    >>> guard_band(25.019, 25.019, 0.003, 25.0, 25.021).verdict
    'undecided'
    >>> guard_band(25.025, 25.025, 0.003, 25.0, 25.021).beyond
    ('above',)
    """
    low, high = least - lower, upper - greatest
    room = min(low, high) - uncertainty
    if room >= -EXACT:
        return Guarded(INSIDE, max(room, 0.0))
    below, above = low < -uncertainty - EXACT, high < -uncertainty - EXACT
    if below or above:
        said = tuple(word for word, is_so in (("below", below), ("above", above)) if is_so)
        return Guarded(OUTSIDE, room, beyond=said)
    nearest = min(low, high)
    return Guarded(UNDECIDED, room, needs=abs(nearest) if abs(nearest) > EXACT else 0.0)


def form_of(readings: Iterable[tuple[str, str, float]]) -> Form:
    """Taper and ovality of readings by station and direction.

    Taper is the largest difference between stations along one direction, ovality the
    largest between directions at one station; None where the readings can't show it.

    >>> found = form_of([("top", "x", 10.002), ("top", "y", 10.001), ("end", "x", 10.006)])
    >>> round(found.taper, 3), round(found.ovality, 3)
    (0.004, 0.001)
    """
    along: dict[str, list[float]] = {}
    around: dict[str, list[float]] = {}
    for station, direction, value in readings:
        along.setdefault(direction, []).append(value)
        around.setdefault(station, []).append(value)
    return Form(_widest(along), _widest(around))


def _widest(groups: dict[str, list[float]]) -> float | None:
    return max((max(group) - min(group) for group in groups.values() if len(group) > 1), default=None)


def lobes(instrument: str) -> str:
    """What an instrument can't see of a round shape, or an empty text.

    >>> lobes("outside micrometer")
    'outside micrometer: two points miss odd lobes; look with three points, in a V-block or with a ring'
    >>> lobes("three-point micrometer")
    'three-point micrometer: three points miss ovality; read across two points as well'
    """
    name = instrument.lower()
    if any(word in name for word in _THREE_POINT):
        return f"{instrument}: three points miss ovality; read across two points as well"
    if any(word in name for word in _WHOLE):
        return ""
    how = "two points" if any(word in name for word in _TWO_POINT) else "if it reads across two points, they"
    return f"{instrument}: {how} miss odd lobes; look with three points, in a V-block or with a ring"
