"""The reamed hole: its fields, and what it stands on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar

from fits.arrays import Array
from fits.errors import Fault
from fits.features.feature import Dimension, Feature, Outcome, States, Step
from fits.features.fields import Choice, Flag, Length, Measure, MetalField, Size, Spread
from fits.features.parts import share
from fits.features.reamed.rules import CAUTIONS, RULES
from fits.features.reamed.values import VALUES
from fits.features.tools import (
    DrillField,
    GaugeClass,
    PinField,
    ReamerField,
    Uncertainty,
    WantedHole,
    drill_size,
    drills_for,
)
from fits.materials.metals import Metal
from fits.shop import drills, gauges, reamers
from fits.shop.gauges import Gauge, Pin
from fits.shop.reamers import Band, Reamer
from fits.sizes.limits import Limits
from fits.tables import Source

REAMED_FIRST, REAMED_LAST = "reamed first", "reamed last"


def _length(help_text: str, *, least: float = 0.0) -> Measure:
    return Measure(help_text, quantity="length", least=least)


class Reamed(Feature):
    """A hole to drill, ream and prove."""

    kind: ClassVar[str] = "reamed"
    title: ClassVar[str] = "reamed hole, its drill, reamer and gauges"
    plan_title: ClassVar[str] = "To make and prove"
    example: ClassVar[str] = (
        'fits reamed --hole "10 H7" --depth 20 --material 6061-T6 --through true \\\n'
        '  --reamer "measured 10.0076" --cuts-over "0.002 to 0.006"\n'
        'fits reamed --hole "0.5005/0.5000 in" --drawer examples/drawer.toml'
    )
    values: ClassVar = VALUES
    rules: ClassVar = RULES
    cautions: ClassVar = CAUTIONS

    hole: Annotated[Limits, WantedHole("hole as the drawing wants it, such as 10 H7")]
    depth: Annotated[Limits | None, Length("depth to be reamed")] = None
    material: Annotated[Metal | None, MetalField("metal that is reamed, temper included")] = None
    through: Annotated[bool | None, Flag("whether the hole goes through")] = None
    reamer: Annotated[
        Limits | None,
        ReamerField(
            "marking (10 H7, 0.3940 in) or size (measured 10.0076)",
            hole="as_reamed",
            trials="cuts_over",
            lead="reamer_lead",
        ),
    ] = None
    cuts_over: Annotated[
        Spread | None, _length("how much larger its holes measure, by trials", least=-0.2)
    ] = None
    drill: Annotated[
        Limits | None,
        DrillField(
            "drill before it: 9.7 mm, 3/8 in, letter W, No. 7",
            hole="as_reamed",
            reamer="reamer",
            light="light",
            oversize="drill_oversize",
        ),
    ] = None
    drill_oversize: Annotated[
        Spread | None, _length("how much larger its holes measure, by trials", least=-0.2)
    ] = None
    bored_to: Annotated[
        Limits | None, Size("hole as bored or semi-finished before the reamer", side="hole")
    ] = None
    wall: Annotated[Limits | None, Length("thinnest wall around the hole")] = None
    reamer_lead: Annotated[Spread | None, _length("length at its tip that cuts below size")] = None
    runout_room: Annotated[Spread | None, _length("room below the reamed depth")] = None
    coating_hole: Annotated[Spread | None, _length("thickness of a coat in the hole")] = None
    coating_share: Annotated[
        Spread | None, Measure("share of the coat that builds up; hard coat about 0.5", least=0.0, most=1.0)
    ] = None
    closes: Annotated[Spread | None, _length("how much pressing closes the hole")] = None
    order: Annotated[
        str | None,
        Choice("against coating and pressing", options=(REAMED_FIRST, REAMED_LAST)),
    ] = None
    gauge_class: Annotated[
        str | None, GaugeClass("class of a GO plus, NO-GO minus pair made for the hole")
    ] = None
    go_pin: Annotated[
        Pin | None, PinField("pin with class and sense: 0.5000 in ZZ plus", hole="as_reamed", go=True)
    ] = None
    no_go_pin: Annotated[
        Pin | None, PinField("pin with class and sense: 0.5005 in ZZ minus", hole="as_reamed", go=False)
    ] = None
    gauge_uncertainty: Annotated[
        Spread | None, Uncertainty("uncertainty (k = 2) of the bore gauge", hole="as_reamed")
    ] = None

    @property
    def measured(self) -> bool:
        """Whether a reamer is named by its size, not by its marking alone."""
        return self.reamer is not None and not (isinstance(self.reamer, Reamer) and self.reamer.marked)

    @property
    def light(self) -> bool:
        """Whether the metal is a light one, which wants more stock."""
        return self.material is not None and self.material.family in ("aluminium", "magnesium")

    @property
    def later(self) -> tuple[float, float]:
        """How much the hole closes after reaming, least and most, mm; 0 when it is reamed last."""
        if self.order != REAMED_FIRST:
            return 0.0, 0.0
        coat, built, closes = (
            one or Spread(0.0, 0.0) for one in (self.coating_hole, self.coating_share, self.closes)
        )
        return 2.0 * coat.low * built.low + closes.low, 2.0 * coat.high * built.high + closes.high

    @property
    def as_reamed(self) -> Limits:
        """The hole's limits when the reamer leaves it, mm."""
        least, most = self.later
        if most == 0.0:
            return self.hole
        text = f"{self.hole.text}, as reamed"
        return Limits(
            self.hole.lower + most, self.hole.upper + least, None, "hole", text, sources=self.hole.sources
        )

    @property
    def band(self) -> Band:
        """The reamers to choose from, mm."""
        return reamers.band(self.as_reamed)

    @property
    def chosen_drill(self) -> Limits | None:
        """The drill named, else the one of the standard series that leaves the usual stock."""
        if self.drill is not None:
            return self.drill
        found = self.drills_for(drills.standard())
        return drill_size(found[0]) if found else None

    def drills_for(self, among: tuple[drills.Drill, ...]) -> tuple[drills.Drill, ...]:
        """Drills that leave the usual stock, the middle one first."""
        reamer = self.reamer.lower if self.reamer is not None else self.band.low
        return drills_for(reamer, among, light=self.light)

    @property
    def gauges(self) -> tuple[Gauge | None, Gauge | None]:
        """GO and NO-GO: the pins, a pair of the class, else what the 10 % rule asks for.

        None for a pin that isn't given beside the other, or whose sense isn't known.
        """
        if self.go_pin is not None or self.no_go_pin is not None:
            pins = (self.go_pin, self.no_go_pin)
            go, no_go = (one.gauge() if one is not None and one.sense else None for one in pins)
            return go, no_go
        if self.gauge_class is not None:
            return gauges.plain_pair(self.as_reamed, self.gauge_class)
        return gauges.ten_percent(self.as_reamed)

    @property
    def to_be_read(self) -> tuple[str, ...]:
        """The hole, where it closes later before or after that."""
        from fits.features.reamed.cut import names

        return names(self)

    def once_read(self, name: str) -> Feature:
        """The hole with what it measures in the place of what its tools promise."""
        from fits.features.reamed.cut import cut

        return cut(self, name)

    def compute(self, d: Mapping[str, Array], s: States, wanted: frozenset[str] | None = None) -> Outcome:
        """Every number of the reamed hole (``equations``)."""
        from fits.features.reamed.equations import compute

        return compute(self, d)

    def extra_dimensions(self, states: States) -> tuple[Dimension, ...]:
        """What isn't given: the reamer of the band, trials, depth; and shares of what is a range."""
        nothing = float("nan")
        size = self.as_reamed.upper
        found = [share("gauge_share", on=True)]
        if not self.measured:
            ends = self.band if self.reamer is None else (self.reamer.lower, self.reamer.upper)
            levels = tuple(dict.fromkeys(ends))
            found.append(
                Dimension("reamer", "reamer", "length", levels, (0.9 * size, 1.1 * size), missing=True)
            )
        found.append(share("gain_share", on=self.cuts_over is None))
        found.append(share("drilled_share", on=self.drill_oversize is None and self.bored_to is None))
        if self.cuts_over is None:
            found.append(
                Dimension("cuts_over", "it cuts over by", "length", (nothing,), (-0.05, 0.2), missing=True)
            )
        if self.drill is None and self.chosen_drill is not None:
            levels = (self.chosen_drill.lower,)
            found.append(Dimension("drill", "drill", "length", levels, (0.5 * size, size)))
        if self.drill_oversize is None and self.bored_to is None:
            search = (-0.05, 2.0)
            found.append(
                Dimension(
                    "drill_oversize", "the drill cuts over by", "length", (nothing,), search, missing=True
                )
            )
        for name, label, most in (
            ("depth", "depth", 20.0 * size),
            ("reamer_lead", "the reamer's lead", 2.0 * size),
            ("runout_room", "the room below", 4.0 * size),
        ):
            if getattr(self, name) is None:
                found.append(Dimension(name, label, "length", (nothing,), (0.0, most), missing=True))
        return tuple(found)

    def faults(self) -> list[Fault]:
        """What can't be: tools that don't fit in each other, half a coat, two kinds of gauges."""
        from fits.features.reamed.faults import faults

        return faults(self)

    def assumptions(self, states: States) -> tuple[str, ...]:
        """What was taken where nothing was typed."""
        found = ["sizes are at 20 degC; stock and closing are on the diameter"]
        if self.cuts_over is None:
            high = reamers.usual_gain().high
            found.append(f"expected hole: the reamer and 0 to {high:g} mm, until a trial hole is measured")
        if self.measured and self.reamer is not None and self.reamer.tolerance == 0.0:
            found.append(
                "the reamer is as measured; in doubt give its range, such as measured 10.0076 ±0.002"
            )
        if self.material is None:
            found.append("material not given: stock as for steel")
        if self.order == REAMED_FIRST and self.later[1] > 0.0:
            least, most = self.later
            found.append(
                f"reamed first: the reamed hole is larger than the drawing's by {least:g} to {most:g} mm"
            )
        return tuple(found)

    def notes(self, states: States) -> tuple[str, ...]:
        """Which gauges and which instruments would do."""
        from fits.features.reamed.plan import classes, instruments

        named = any(one is not None for one in (self.gauge_class, self.go_pin, self.no_go_pin))
        found = [f"10 % rule: {classes(self)}"] if named else []
        return (*found, *([instruments(self)] if self.gauge_uncertainty is None else []))

    def used_sources(self, states: States) -> tuple[Source, ...]:
        """Sizes, the reamer, the drill, stock and gauges."""
        found = [*self.hole.sources]
        for tool in (self.reamer, self.chosen_drill):
            found += tool.sources if tool is not None else ()
        found.append(reamers.usual_stock(self.as_reamed.upper, light=self.light).source)
        if self.cuts_over is None:
            found.append(reamers.usual_gain().source)
        found += [one.source for one in self.gauges if one is not None]
        plugs = gauges.iso_plugs(self.as_reamed)
        if plugs is not None:
            found.append(plugs.go.source)
        return tuple(dict.fromkeys(source for source in found if source.evidence != "typed"))

    def plan(self, numbers: Mapping[str, tuple[float, float]], states: States) -> tuple[Step, ...]:
        """Drill, bore or semi-finish, ream, deburr, measure, gauge."""
        from fits.features.reamed.plan import plan

        return plan(self)
