"""Which ring is it, which ring suits: by measured size, by bore or shaft, and what it is taken for.

Measured sizes come with their uncertainty as limits. Tolerances of rings are wide: several
rings may fit one measurement, and then all are named.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from fits import tables
from fits.shop.rings import Ring, every, metric_sections
from fits.sizes.limits import Limits
from fits.tables import Source

# Nominals closer than this are one size, written in inches and in mm.
SAME = 0.011
DUTIES = ("static", "moving")


class Suiting(NamedTuple):
    """A ring for a bore or shaft by nominal sizes.

    ``groove`` is the groove's diameter (mm) at the two ends of the squeeze that is usual;
    ``stretched`` the stretch on it (bore) or the compression in it (shaft), fractions.
    """

    ring: Ring
    groove: tuple[float, float]
    stretched: tuple[float, float]
    source: Source

    @property
    def mean(self) -> float:
        """The middle of ``stretched``."""
        return sum(self.stretched) / 2.0


def overlap(one: Limits, other: Limits) -> bool:
    """Whether two ranges of size have a size in common.

    >>> overlap(Limits(3.4, 3.6), Limits(3.43, 3.63))
    True
    """
    return one.lower <= other.upper and other.lower <= one.upper


def measured(inside: Limits | None, section: Limits | None) -> tuple[Ring, ...]:
    """The rings that a measurement may be, nearest first; None for what wasn't measured.

    >>> [one.code for one in measured(Limits(24.9, 25.1), Limits(3.5, 3.56))][:1]
    ['AS568-214']
    """
    fitting = [
        one
        for one in every()
        if (inside is None or overlap(one.inside, inside))
        and (section is None or overlap(one.section, section))
    ]
    return tuple(sorted(fitting, key=lambda one: _apart(one, inside, section)))


def nearest(inside: Limits | None, section: Limits | None) -> Ring:
    """The ring whose sizes lie nearest to a measurement that fits none.

    >>> nearest(Limits(25.0, 25.0), Limits(3.53, 3.53)).code
    'AS568-214'
    """
    return min(every(), key=lambda one: _apart(one, inside, section))


def _apart(one: Ring, inside: Limits | None, section: Limits | None) -> float:
    """How far a ring's middle lies from the measured one, in tolerances."""
    pairs = ((one.inside, inside), (one.section, section))
    return sum(abs(own.middle - seen.middle) / own.tolerance for own, seen in pairs if seen is not None)


def taken_for(ring: Ring) -> tuple[Ring, ...]:
    """Rings of another section that one ring is easily taken for: both tolerances overlap.

    >>> from fits.shop.rings import ring
    >>> all(one.section != ring("AS568-214").section for one in taken_for(ring("AS568-214")))
    True
    """
    return tuple(
        one
        for one in measured(ring.inside, ring.section)
        if one.code != ring.code and abs(one.section.nominal - ring.section.nominal) > SAME
    )


def sections_like(section: Limits) -> tuple[float, ...]:
    """Nominal sections of all standards whose tolerance overlaps a section, mm.

    >>> sections_like(Limits(3.5, 3.53))
    (3.5, 3.53, 3.55)
    """
    known = [*(one.section for one in every()), *(one for one, _ in metric_sections())]
    found = {round(one.nominal, 2) for one in known if overlap(one, section)}
    return tuple(sorted(found))


def called(section: Limits) -> tuple[str, float] | None:
    """The inch name that a section seems to be, and what a ring of that name measures (mm).

    A ring called 1/8 in is .139 in thick, so a section of 1/8 in is no such ring.

    >>> name, real = called(Limits(3.15, 3.2))
    >>> name, round(real, 2)
    ('1/8', 3.53)
    """
    for row in tables.load("rings/nominal_sections").rows:
        top, bottom = row["called"].split("/")
        size = 25.4 * float(top) / float(bottom)
        if section.lower <= size <= section.upper:
            return row["called"], 25.4 * float(row["section"])
    return None


def suiting(size: Limits, place: str, duty: str) -> tuple[Suiting, ...]:
    """Rings for a bore or a shaft, by nominal sizes; thickest first, then nearest the usual.

    Args:
        size: the bore or the shaft, mm; its middle is taken.
        place: "bore" (groove in the piston) or "shaft" (groove in the housing).
        duty: "static" or "moving".

    >>> suiting(Limits(31.0, 31.0), "bore", "static")[0].ring.section.nominal > 3.0
    True
    """
    least, most = _usual(place, duty)
    middle = (least + most) / 2.0
    found = [one for one in _mounted(size, place, duty) if least <= one.mean <= most]
    return tuple(sorted(found, key=lambda one: (-one.ring.section.nominal, abs(one.mean - middle))))


def nearly(size: Limits, place: str, duty: str) -> tuple[Suiting, float]:
    """The ring that is nearest to suit where none does, and the most that is usual of what it passes.

    >>> one, most = nearly(Limits(12.7, 12.7), "shaft", "static")
    >>> one.ring.code, round(one.mean, 4), most
    ('AS568-014', 0.0304, 0.03)
    """
    least, most = _usual(place, duty)
    return min(_mounted(size, place, duty), key=lambda one: max(least - one.mean, one.mean - most)), most


def _row(place: str, duty: str) -> tuple[dict[str, str], Source]:
    of = tables.load("rings/first_choice")
    row = next(one for one in of.rows if (one["place"], one["duty"]) == (place, duty))
    return row, of.source(row, f"{place}, {duty}")


def _usual(place: str, duty: str) -> tuple[float, float]:
    row, _ = _row(place, duty)
    return float(row["least"]) / 100.0, float(row["most"]) / 100.0


def _mounted(size: Limits, place: str, duty: str) -> Iterator[Suiting]:
    """Every ring in its groove at the usual squeeze, but those that the shaft alone stretches too far."""
    row, source = _row(place, duty)
    squeeze = (float(row["squeeze_low"]) / 100.0, float(row["squeeze_high"]) / 100.0)
    # What a shaft stretches the inside by no groove takes off again: held to what a piston's may.
    largest = 1.0 + _usual("bore", duty)[1]
    for ring in every():
        if ring.code.startswith("AS568-9"):  # bosses of tube fittings have grooves of their own
            continue
        if place == "shaft" and size.middle > largest * ring.inside.nominal:
            continue
        groove = _groove(size.middle, ring, place, squeeze)
        yield Suiting(ring, groove, _stretched(ring, place, groove), source)


def _groove(size: float, ring: Ring, place: str, squeeze: tuple[float, float]) -> tuple[float, float]:
    sign = -1.0 if place == "bore" else 1.0
    first, second = (size + sign * 2.0 * ring.section.nominal * (1.0 - one) for one in squeeze)
    return min(first, second), max(first, second)


def _stretched(ring: Ring, place: str, groove: tuple[float, float]) -> tuple[float, float]:
    if place == "bore":
        inside = ring.inside.nominal
        return (groove[0] - inside) / inside, (groove[1] - inside) / inside
    return (ring.outside - groove[1]) / ring.outside, (ring.outside - groove[0]) / ring.outside
