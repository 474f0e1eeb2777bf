"""How to make and prove a reamed hole: drill, bore, ream, deburr, measure, gauge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fits import quantity
from fits.features.feature import Step
from fits.features.tools import between, end
from fits.materials.metals import ROOM
from fits.shop import drills, gauges, reamers
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.reamed.declaration import Reamed

SHOP = Source("common practice", "practice")
# Deeper than this in diameters a drilled hole is bored straight first (common practice).
STRAIGHT = 3.0
# Of a reamer's lead, indicated (common practice), mm.
RUNOUT = 0.01


def plan(reamed: Reamed) -> tuple[Step, ...]:
    """The steps in their order."""
    steps = [_drill(reamed)] if reamed.bored_to is None else []
    steps.append(_bore(reamed))
    steps += [_trial(reamed), _ream(reamed), _deburr(reamed), _measure(reamed), _gauge(reamed)]
    return tuple(one for one in steps if one is not None)


def _length(value: float, digits: int = 3) -> str:
    return quantity.show(value, "length", digits)


def _reamer_from(reamed: Reamed) -> float:
    return reamed.reamer.lower if reamed.reamer is not None else reamed.band.low


def _drill(reamed: Reamed) -> Step | None:
    drill = reamed.chosen_drill
    if drill is None:
        return None
    stock = reamers.usual_stock(reamed.as_reamed.upper, light=reamed.light)
    said = f"drill {drill.text} ({_length(drill.lower, 4)})"
    if reamed.drill is None:
        best: dict[str, str] = {}
        for one in reamed.drills_for(drills.standard()):
            best.setdefault(one.series, one.name)
        others = [name for name in best.values() if name != drill.text]
        said += f" or {', '.join(others)}" if others else ""
    most = _length(_reamer_from(reamed) - stock.low / 2.0)
    usual = f"usual stock {quantity.span(stock.low, stock.high, 'length', 2)} on the diameter"
    return Step(
        said,
        "drill",
        usual,
        f"the drilled hole measures more than {most}: too little to clean up",
        source=stock.source,
    )


def _bore(reamed: Reamed) -> Step | None:
    if reamed.bored_to is not None:
        ends = f"{_length(reamed.bored_to.lower)} to {_length(reamed.bored_to.upper)}"
        return Step("drill under size, then bore or semi-finish", "boring head", ends, source=SHOP)
    deep = reamed.depth is not None and reamed.depth.upper > STRAIGHT * reamed.as_reamed.lower
    why = "it is deep" if deep else "its place or squareness matters"
    stock = reamers.usual_stock(reamed.as_reamed.upper, light=reamed.light)
    least, most = (_reamer_from(reamed) - one for one in (stock.high, stock.low))
    return Step(
        f"bore it true before reaming where {why}: a reamer follows the hole before it",
        "boring head",
        f"{_length(least, 2)} to {_length(most, 2)}",
        source=SHOP,
    )


def _trial(reamed: Reamed) -> Step | None:
    if reamed.cuts_over is not None:
        return None
    hole = reamed.as_reamed
    return Step(
        "cut a trial hole in the same metal and depth with the same reamer, coolant, speed and feed; measure "
        "it at 20 degC at both ends and the middle, at four angles; note hole less reamer as cuts_over",
        "reamer, bore gauge",
        f"every reading {_length(hole.lower, 4)} to {_length(hole.upper, 4)}",
        "it is outside: indicate the reamer, change coolant, speed or stock, or take another reamer",
        source=SHOP,
    )


def _ream(reamed: Reamed) -> Step:
    if reamed.reamer is None:
        band = reamed.band
        tool = f"a reamer that measures {between(band.low, band.high)}"
    else:
        tool = f"reamer {reamed.reamer.text}"
    room = "; keep its lead off the bottom" if reamed.through is False else ""
    return Step(
        f"ream in one pass, slow and wet, in and out turning forwards: {tool}{room}",
        "reamer",
        f"runout at its lead at most {_length(RUNOUT)}, or floating",
        "it squeals, chatters or packs",
        source=SHOP,
    )


def _deburr(reamed: Reamed) -> Step:
    later = "" if reamed.later[1] == 0.0 else "; then coat and press"
    return Step(f"break the edges, wash out every chip{later}", "countersink by hand", source=SHOP)


def _measure(reamed: Reamed) -> Step:
    warm = ""
    if reamed.material is not None and reamed.material.expansion is not None:
        grown = reamed.material.expansion[1] * 10.0 * reamed.hole.upper
        warm = f"; 10 K warm it reads {_length(grown, 4)} large"
    return Step(
        f"let it come to {ROOM:g} degC and measure at both ends and the middle, at four angles{warm}",
        "bore gauge set with a ring of that size",
        f"{_length(reamed.as_reamed.lower, 4)} to {_length(reamed.as_reamed.upper, 4)}",
        source=SHOP,
    )


def classes(reamed: Reamed) -> str:
    """Which gauge classes take no more than a tenth of the tolerance, in words."""
    together, each = (gauges.coarsest_class(reamed.as_reamed, share) for share in (gauges.EACH, gauges.TENTH))
    said = (
        [f"class {together} or finer takes at most 5 % of the tolerance with each gauge"] if together else []
    )
    if each and each != together:
        said.append(f"class {each} at most 10 % with each")
    return "; ".join(said) or "no class is fine enough for 10 %: prove it with a bore gauge or air gauge"


def instruments(reamed: Reamed) -> str:
    """Which usual instruments could prove the tolerance, in words."""
    tolerance = reamed.as_reamed.tolerance
    said = []
    for one in gauges.usual_instruments(reamed.as_reamed.upper):
        # Without its last binary digits: 0.008 less twice 0.004 is nothing.
        left = round(tolerance - 2.0 * one.uncertainty, 9)
        can = f"leaves {_length(left, 4)} to cut in" if left > 0.0 else "can't prove it"
        said.append(f"{one.name} (U {_length(one.uncertainty)}) {can}")
    head = f"of the tolerance of {_length(tolerance, 4)}, by usual uncertainties (from memory): "
    return head + ("; ".join(said) or "no usual instrument is tabled for this size")


def _gauge(reamed: Reamed) -> Step:
    hole = reamed.as_reamed
    go, no_go = reamed.gauges
    named = reamed.go_pin is not None or reamed.no_go_pin is not None or reamed.gauge_class is not None
    if named and go is not None and no_go is not None:
        ends = [quantity.span(one.low, one.high, "length") for one in (go, no_go)]
        said = f"GO {ends[0]}, NO-GO {ends[1]}"
    else:
        said = f"GO plug from {end(hole.lower, up=True)} up, NO-GO from {end(hole.upper, up=False)} down"
    return Step(
        f"gauge it by its own weight, dry and clean: {said}; a hole that passes is inside its limits, "
        "but for ovality, taper and lobes, which no plug shows",
        "plug or pin gauges",
        classes(reamed),
        source=gauges.TEN_PERCENT,
    )
