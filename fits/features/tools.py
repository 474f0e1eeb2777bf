"""Fields that are tools: reamers, drills and pins, of the tables or of a drawer."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fits import quantity
from fits.errors import Fault, InputError
from fits.features.fields import Choice, Context, Field, Measure, Size, Spread
from fits.features.offer import Offer
from fits.shop import drills, gauges, reamers
from fits.shop.drawer import Drawer, OwnedReamer, Span
from fits.shop.gauges import Pin
from fits.shop.reamers import Reamer
from fits.sizes.limits import Limits
from fits.tables import Source

# Tools further than this from the wanted size are not worth a line, as a share of it.
NEAR = 0.02
NEAREST = 8
# A ring this near to a hole sets the gauge for it, mm (common practice).
RING_NEAR = 0.5


class WantedHole(Field):
    """Limits that a hole is held against; they are no number to sweep."""

    def parse(self, value: Any, context: Context) -> Limits:
        """Limits in mm."""
        found = Size(self.help, side="hole").parse(value, context)
        assert isinstance(found, Limits)
        return found

    def shown(self) -> str:
        """A size."""
        return "SIZE"


class ReamerField(Size):
    """A reamer by its marking or its measured size.

    ``hole`` names the field it cuts, ``trials`` and ``lead`` those that a reamer of the
    drawer brings along.
    """

    tool = True

    def __init__(self, help: str, *, hole: str, trials: str, lead: str) -> None:
        super().__init__(help)
        self.hole = hole
        self.trials = trials
        self.lead = lead

    def parse(self, value: Any, context: Context) -> Reamer:
        """The reamer; a marking is never taken for a size."""
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            value = f"{reamers.MEASURED} {value!r}"
        if not isinstance(value, str):
            raise InputError(Fault('text is due, such as "10 H7" or "measured 10.007 mm"', got=str(value)))
        return reamers.parse(value, units=context.units)

    def near(self, feature: Any) -> float:
        """The hole."""
        return float(getattr(feature, self.hole).middle)

    def shown(self) -> str:
        """A reamer."""
        return "REAMER"

    def offers(self, name: str, feature: Any, drawer: Drawer) -> tuple[Offer, ...]:
        """The reamers of the drawer near the hole, with their trials and leads."""
        found = []
        for one in _near(drawer.reamers, getattr(feature, self.hole)):
            brings: dict[str, Any] = {name: one.size}
            if one.cuts_over is not None:
                brings[self.trials] = Spread(*one.cuts_over)
            if one.lead is not None:
                brings[self.lead] = Spread(one.lead, one.lead)
            found.append(Offer(one.name, brings, *one.expected, _how_known(one), one.proven))
        return tuple(found)

    def to_buy(self, name: str, feature: Any, low: float, high: float) -> str:
        """A reamer by the rule for the hole."""
        hole = getattr(feature, self.hole)
        return reamer_to_buy(hole.lower, hole.upper)


def drills_for(reamer: float, among: tuple[drills.Drill, ...], *, light: bool) -> tuple[drills.Drill, ...]:
    """Drills that leave the usual stock for a reamer in mm, the middle one first."""
    stock = reamers.usual_stock(reamer, light=light)
    return drills.for_reaming(reamer, stock, reamers.most_stock(reamer).high, among)


class DrillField(Size):
    """A drill by its name or size.

    ``reamer`` and ``hole`` name what it drills for, ``light`` says whether the metal is
    light, ``oversize`` names the field of the drill's trials.
    """

    tool = True

    def __init__(self, help: str, *, hole: str, reamer: str, light: str, oversize: str) -> None:
        super().__init__(help)
        self.hole = hole
        self.reamer = reamer
        self.light = light
        self.oversize = oversize

    def parse(self, value: Any, context: Context) -> Limits:
        """The drill's size in mm, with its name as text."""
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            value = repr(value)
        if not isinstance(value, str):
            raise InputError(Fault('text is due, such as "9.8 mm" or "letter X"', got=str(value)))
        return drill_size(drills.parse(value, units=context.units))

    def near(self, feature: Any) -> float:
        """A little below the hole."""
        return float(getattr(feature, self.hole).lower * 0.98)

    def shown(self) -> str:
        """A drill."""
        return "DRILL"

    def offers(self, name: str, feature: Any, drawer: Drawer) -> tuple[Offer, ...]:
        """The drills of the drawer below the reamer, the usual stock first."""
        owned = {one.drill.name: one for one in drawer.drills}
        among = tuple(one.drill for one in owned.values())
        found = []
        for drill in self._leaving_stock(feature, among)[:NEAREST]:
            oversize = owned[drill.name].oversize
            brings: dict[str, Any] = {name: drill_size(drill)}
            over = oversize or Span(0.0, drills.usual_oversize().high)
            if oversize is not None:
                brings[self.oversize] = Spread(*oversize)
            ends = (drill.size + over.low, drill.size + over.high)
            known = "its own trials" if oversize is not None else "drill a trial hole"
            found.append(Offer(f"drill {drill.name}", brings, *ends, known, oversize is not None))
        return tuple(found)

    def to_buy(self, name: str, feature: Any, low: float, high: float) -> str:
        """The drill of the standard series that leaves the usual stock."""
        found = self._leaving_stock(feature, drills.standard())
        return f"drill {found[0].name} ({both(found[0].size)})" if found else ""

    def _leaving_stock(self, feature: Any, among: tuple[drills.Drill, ...]) -> tuple[drills.Drill, ...]:
        reamer = getattr(feature, self.reamer) or getattr(feature, self.hole)
        return drills_for(reamer.lower, among, light=getattr(feature, self.light))


class PinField(Field):
    """A pin gauge with its class and sense for a ``hole``; ``go`` for the one that must go in."""

    made = (Pin,)
    tool = True

    def __init__(self, help: str, *, hole: str, go: bool) -> None:
        super().__init__(help)
        self.hole = hole
        self.go = go

    def parse(self, value: Any, context: Context) -> Pin:
        """The pin."""
        if not isinstance(value, str):
            raise InputError(Fault('text is due, such as "0.5000 in ZZ minus"', got=str(value)))
        return gauges.parse_pin(value, units=context.units)

    def shown(self) -> str:
        """A pin."""
        return "PIN"

    def offers(self, name: str, feature: Any, drawer: Drawer) -> tuple[Offer, ...]:
        """Pins that can't pass a bad hole first, those that take the least of the tolerance."""
        hole = getattr(feature, self.hole)
        found = []
        for pin in drawer.pins:
            gauge = pin.gauge()
            eaten = gauge.high - hole.lower if self.go else hole.upper - gauge.low
            if abs(eaten) <= hole.tolerance:
                safe = gauge.low >= hole.lower - 1e-9 if self.go else gauge.high <= hole.upper + 1e-9
                found.append((not safe, not pin.sense, abs(eaten), pin, gauge))
        found.sort(key=lambda one: one[:3])
        return tuple(
            Offer(f"pin {pin.text}", {name: pin}, gauge.low, gauge.high, "", bool(pin.sense))
            for _, _, _, pin, gauge in found[:NEAREST]
        )

    def to_buy(self, name: str, feature: Any, low: float, high: float) -> str:
        """A pin of the class by the 10 % rule at its limit."""
        hole = getattr(feature, self.hole)
        grade = gauges.coarsest_class(hole, gauges.EACH) or gauges.coarsest_class(hole, gauges.TENTH)
        if not grade:
            return "no class of pin is fine enough and made so large: take a bore gauge or air gauge"
        size, sense = (hole.lower, gauges.PLUS) if self.go else (hole.upper, gauges.MINUS)
        return f"a pin of {both(size)}, class {grade}, {sense}"


class Uncertainty(Measure):
    """The uncertainty of an instrument for a ``hole``."""

    tool = True

    def __init__(self, help: str, *, hole: str) -> None:
        super().__init__(help, quantity="length", least=0.0)
        self.hole = hole

    def offers(self, name: str, feature: Any, drawer: Drawer) -> tuple[Offer, ...]:
        """The bore gauges of the drawer that reach the hole, the surest first."""
        hole = getattr(feature, self.hole)
        reach = [one for one in drawer.bore_gauges if one.low <= hole.lower and hole.upper <= one.high]
        ring = min(drawer.rings, key=lambda one: abs(one.size - hole.middle), default=None)
        set_with = "set it with a ring or gauge blocks of the hole's size first"
        if ring is not None and abs(ring.size - hole.middle) <= RING_NEAR:
            set_with = f"set it with the ring {ring.text} first"
        return tuple(
            Offer(
                one.name,
                {name: Spread(one.uncertainty, one.uncertainty)},
                0.0,
                one.uncertainty,
                set_with,
                True,
            )
            for one in sorted(reach, key=lambda one: one.uncertainty)
        )

    def to_buy(self, name: str, feature: Any, low: float, high: float) -> str:
        """A bore gauge that leaves at least four fifths of the tolerance."""
        hole = getattr(feature, self.hole)
        tenth = gauges.TENTH * hole.tolerance
        return f"a bore gauge for {both(hole.lower)} with an uncertainty of at most {both(tenth)}"


class GaugeClass(Choice):
    """A class of plain gauges."""

    def __init__(self, help: str) -> None:
        super().__init__(help, options=gauges.CLASSES)


def drill_size(drill: drills.Drill) -> Limits:
    """A drill as a size with its name."""
    return Limits(drill.size, drill.size, drill.size, "", drill.name, sources=(drill.source,))


def both(size: float) -> str:
    """A size in mm and in."""
    return f"{quantity.show(size, 'length', units='mm')} ({quantity.show(size, 'length', units='in')})"


def between(low: float, high: float) -> str:
    """Limits in mm and in, rounded into each other, so that neither unit is wider than they are.

    >>> between(5.997, 6.003)
    '5.9970 mm (0.23611 in) to 6.0030 mm (0.23633 in)'
    """
    return f"{end(low, up=True)} to {end(high, up=False)}"


def end(limit: float, *, up: bool) -> str:
    """A limit in mm and in, rounded ``up`` or down."""
    mm, inch = (quantity.show_end(limit, "length", up=up, units=units) for units in ("mm", "in"))
    return f"{mm} ({inch})"


def _how_known(one: OwnedReamer) -> str:
    if one.proven:
        return "measured, by its own trials"
    if one.size.marked:
        return "marked only: measure it" if one.cuts_over else "marked only: measure it, cut a trial hole"
    return "measured; cut a trial hole"


def _near(owned: Iterable[OwnedReamer], wanted: Limits) -> list[OwnedReamer]:
    """The reamers nearest to a wanted hole."""
    apart = {id(one): abs(one.expected.low - wanted.middle) for one in owned}
    near = [one for one in owned if apart[id(one)] <= NEAR * wanted.middle]
    return sorted(near, key=lambda one: apart[id(one)])[:NEAREST]


def holes_of(name: str, wanted: Limits, drawer: Drawer) -> tuple[Offer, ...]:
    """The holes that the reamers of a drawer should cut, those near a wanted one."""
    found = []
    for one in _near(drawer.reamers, wanted):
        low, high = one.expected
        source = Source("expected hole of a reamer of the drawer: a range, no promise", "derived")
        hole = Limits(round(low, 9), round(high, 9), None, "hole", one.name, sources=(source,))
        found.append(Offer(one.name, {name: hole}, low, high, _how_known(one), one.proven))
    return tuple(found)


def reamer_to_buy(low: float, high: float) -> str:
    """The reamer for a hole from ``low`` to ``high``, mm, by the rule of ISO 522."""
    try:
        band = reamers.band(Limits(low, high))
    except InputError:
        return "no reamer holds so little: bore, hone or grind it"
    reamer = f"a reamer that measures {between(band.low, band.high)}, by the rule of ISO 522"
    return f"{reamer}; or bore it to {between(low, high)}"
