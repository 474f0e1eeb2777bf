"""What can't be true of a reamed hole, said before anything is computed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from fits import quantity
from fits.errors import Fault, InputError
from fits.shop import gauges, reamers
from fits.sizes.limits import Limits

if TYPE_CHECKING:
    from fits.features.reamed.declaration import Reamed


def faults(reamed: Reamed) -> list[Fault]:
    """Every fault between the fields."""
    if not isinstance(reamed.hole, Limits):
        return [Fault("the hole that is wanted can't be left open", "?", "hole")]
    try:
        reamers.band(reamed.hole)
    except InputError as error:
        return [fault.at(key="hole") for fault in error.faults]
    found = [*_coat(reamed), *_blind(reamed), *_gauges(reamed)]
    try:
        reamers.band(reamed.as_reamed)
    except InputError:
        must = "what coat and pressing change varies by as much as the hole's tolerance"
        return [*found, Fault(must, key="order", hint="ream it last")]
    return [*found, *_tools(reamed)]


def _mm(value: float) -> str:
    return quantity.show(value, "length")


def _tools(reamed: Reamed) -> Iterator[Fault]:
    most = reamed.as_reamed.upper
    least = reamed.as_reamed.lower
    if reamed.reamer is not None:
        if reamed.reamer.lower > most:
            must = f"bigger than the hole's upper limit, {_mm(most)}: it can't cut this hole"
            yield Fault(must, reamed.reamer.text, "reamer")
            return
        if reamed.reamer.upper < 0.9 * least:
            yield Fault(f"far below the hole, {_mm(least)} at its least", reamed.reamer.text, "reamer")
            return
    size = reamed.reamer.upper if reamed.reamer is not None else most
    for key in ("drill", "bored_to"):
        before = getattr(reamed, key)
        if before is not None and before.lower >= size:
            must = f"as large as the reamer, {_mm(size)}, or larger: it leaves nothing to ream"
            yield Fault(must, before.text, key)
    if reamed.wall is not None and reamed.wall.lower <= 0.0:
        yield Fault("a wall is above 0", reamed.wall.text, "wall")


def _coat(reamed: Reamed) -> Iterator[Fault]:
    if (reamed.coating_hole is None) != (reamed.coating_share is None):
        key = "coating_share" if reamed.coating_share is None else "coating_hole"
        hint = "a hard coat builds up about 0.5 of its thickness, ordinary anodise about 0.33"
        yield Fault("a coat needs its thickness and its share that builds up", key=key, hint=hint)


def _blind(reamed: Reamed) -> Iterator[Fault]:
    lead, room = reamed.reamer_lead, reamed.runout_room
    if reamed.through is False and lead is not None and room is not None and lead.low > room.high:
        must = f"the reamer's lead is longer than the room below the reamed depth, {_mm(room.high)}"
        hint = "drill deeper, or take a bottoming reamer"
        yield Fault(must, _mm(lead.low), "reamer_lead", hint=hint)


def _gauges(reamed: Reamed) -> Iterator[Fault]:
    if reamed.gauge_class is None:
        return
    try:
        gauges.plain_pair(reamed.hole, reamed.gauge_class)
    except InputError as error:
        yield from (fault.at(key="gauge_class") for fault in error.faults)
    if reamed.go_pin is not None or reamed.no_go_pin is not None:
        yield Fault("either a class for both gauges, or pins", reamed.gauge_class, "gauge_class")
