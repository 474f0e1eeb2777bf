"""The numbers of a reamed hole, all at 20 degC."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered, Outcome
from fits.shop import drills, gauges, reamers

if TYPE_CHECKING:
    from fits.features.reamed.cut import CutHole
    from fits.features.reamed.declaration import Reamed

# Beyond these a reamed hole's size isn't known from its reamer (common practice).
DEEPEST, THINNEST = 5.0, 0.1
ALWAYS = np.ones(1, dtype=bool)


def compute(reamed: Reamed, d: Mapping[str, Array]) -> Outcome:
    """Every number of a reamed hole; see :meth:`Feature.compute`."""
    gaps: list[NotCovered] = []
    numbers: dict[str, Array] = {}
    _hole(numbers, reamed, d, gaps)
    _before(numbers, reamed, d, gaps)
    _reach(numbers, reamed, d, gaps)
    finished(numbers, reamed, d, gaps)
    _gauges(numbers, reamed, d, gaps)
    return Outcome(numbers, tuple(gaps))


def _fixed(number: float) -> Array:
    return np.array([[number]])


def _hole(numbers: dict[str, Array], reamed: Reamed, d: Mapping[str, Array], gaps: list[NotCovered]) -> None:
    """The reamer, the band it is chosen from, and the hole it should cut."""
    band, hole = reamed.band, reamed.as_reamed
    gain = reamers.usual_gain()
    usual = gain.low + d["gain_share"] * (gain.high - gain.low)
    numbers["reamer"] = d["reamer"]
    numbers["hole"] = d["reamer"] + (usual if reamed.cuts_over is None else d["cuts_over"])
    numbers["cut_hole"] = d["reamer"] + d["cuts_over"]
    numbers["reamer_from"], numbers["reamer_to"] = _fixed(band.low), _fixed(band.high)
    numbers["ream_from"], numbers["ream_to"] = _fixed(hole.lower), _fixed(hole.upper)
    numbers["hole_from"], numbers["hole_to"] = _fixed(reamed.hole.lower), _fixed(reamed.hole.upper)
    if not reamed.measured:
        reason = (
            "no reamer is named: the band to choose from is shown"
            if reamed.reamer is None
            else f"only the marking is known, {reamed.reamer.text}: measure it over its margins"
        )
        gaps.append(NotCovered("reamer", reason, ALWAYS))
        gaps += [NotCovered(end, reason, ALWAYS, "reamer") for end in ("reamer_from", "reamer_to")]
    if reamed.cuts_over is None:
        reason = "how much it cuts over isn't known (cuts_over): likely, but cut a trial hole"
        gaps.append(NotCovered("cuts_over", reason, ALWAYS, "cuts_over"))


def _before(
    numbers: dict[str, Array], reamed: Reamed, d: Mapping[str, Array], gaps: list[NotCovered]
) -> None:
    """The hole before the reamer and the stock it leaves."""
    drill = reamed.chosen_drill
    numbers["drill"] = d["drill"] if drill is not None else _fixed(float("nan"))
    numbers["stock_limit"] = _fixed(reamers.most_stock(reamed.as_reamed.upper).high)
    if drill is None:
        reason = "no drill of the standard series is near: bore it, and give bored_to"
        gaps.append(NotCovered("drill", reason, ALWAYS))
    if reamed.bored_to is not None:
        numbers["reaming_stock"] = numbers["clean_up"] = d["reamer"] - d["bored_to"]
        return
    numbers["clean_up"] = numbers["reamer"] - numbers["drill"] - d["drill_oversize"]
    if reamed.drill_oversize is not None:
        numbers["reaming_stock"] = numbers["clean_up"]
        return
    reason = "how much the drill cuts over isn't known (drill_oversize): drill a trial hole"
    gaps.append(NotCovered("drill_oversize", reason, ALWAYS, "drill_oversize"))
    usual = drills.drilled(drill.lower) if drill is not None else None
    if usual is None:
        numbers["reaming_stock"] = numbers["reamer"] - numbers["drill"]
        return
    over = usual.low + d["drilled_share"] * (usual.high - usual.low)
    numbers["reaming_stock"] = numbers["reamer"] - numbers["drill"] - over


def _reach(numbers: dict[str, Array], reamed: Reamed, d: Mapping[str, Array], gaps: list[NotCovered]) -> None:
    """Depth and wall in diameters, the lead and its room. Out of reach is not covered, no fail."""
    size = reamed.as_reamed.lower
    depth = d["depth"] / size
    numbers["depth_in_diameters"] = np.where(depth <= DEEPEST * (1.0 + 1e-9), depth, np.nan)
    if reamed.depth is None:
        gaps.append(NotCovered("depth", "depth not given", ALWAYS, "depth"))
    elif np.isnan(numbers["depth_in_diameters"]).any():
        reason = f"deeper than {DEEPEST:g} diameters: how far a reamer wanders is not covered"
        gaps.append(NotCovered("depth_in_diameters", reason, np.isnan(numbers["depth_in_diameters"])))
    if reamed.wall is not None:
        wall = d["wall"] / size
        numbers["wall_in_diameters"] = np.where(wall >= THINNEST * (1.0 - 1e-9), wall, np.nan)
        if np.isnan(numbers["wall_in_diameters"]).any():
            reason = "a wall thinner than a tenth of the hole: what it springs is not covered"
            gaps.append(NotCovered("wall_in_diameters", reason, np.isnan(numbers["wall_in_diameters"])))
    numbers["lead"], numbers["room"] = d["reamer_lead"], d["runout_room"]
    if reamed.through is None:
        gaps.append(NotCovered("lead", "through or blind isn't said", ALWAYS))
    for name, words in (("reamer_lead", "the reamer's lead"), ("runout_room", "the room below")):
        if getattr(reamed, name) is None:
            gaps.append(NotCovered(name, f"{words} isn't given ({name})", ALWAYS, name))


def finished(
    numbers: dict[str, Array], reamed: Reamed | CutHole, d: Mapping[str, Array], gaps: list[NotCovered]
) -> None:
    """The hole after coating and pressing, where they come after the reamer."""
    if reamed.coating_hole is None and reamed.closes is None:
        return
    final = numbers["cut_hole"]
    if reamed.order != "reamed last":
        if reamed.coating_hole is not None:
            final = final - 2.0 * d["coating_hole"] * d["coating_share"]
        if reamed.closes is not None:
            final = final - d["closes"]
    numbers["final_hole"] = final
    if reamed.order is None:
        numbers["final_hole"] = np.full_like(final, np.nan)
        reason = "the order of work isn't given: reamed before or after coating and pressing?"
        gaps.append(NotCovered("order", reason, ALWAYS))


def _gauges(
    numbers: dict[str, Array], reamed: Reamed, d: Mapping[str, Array], gaps: list[NotCovered]
) -> None:
    """GO and NO-GO, what they eat, what is sure to pass, and what an instrument can prove."""
    hole = reamed.as_reamed
    nothing = float("nan")
    pair = reamed.gauges
    for name, of, pin, word in zip(
        ("go", "no_go"), pair, (reamed.go_pin, reamed.no_go_pin), ("GO", "NO-GO"), strict=True
    ):
        low, high = (of.low, of.high) if of is not None else (nothing, nothing)
        numbers[name] = low + d["gauge_share"] * (high - low)
        if of is None:
            reason = (
                f"no {word} pin is given"
                if pin is None
                else f"the sense of the {word} pin {pin.text} isn't known, plus or minus"
            )
            gaps.append(NotCovered(f"{name}_pin", reason, ALWAYS))
    go_most = pair[0].high if pair[0] is not None else nothing
    no_go_least = pair[1].low if pair[1] is not None else nothing
    numbers["sure_pass"] = _fixed(no_go_least - go_most)
    numbers["go_share"] = _fixed((go_most - hole.lower) / hole.tolerance)
    numbers["no_go_share"] = _fixed((hole.upper - no_go_least) / hole.tolerance)
    plugs = gauges.iso_plugs(hole)
    if plugs is not None:
        for name, gauge in (("iso_go", plugs.go), ("iso_no_go", plugs.no_go)):
            numbers[name] = gauge.low + d["gauge_share"] * (gauge.high - gauge.low)
        numbers["iso_go_worn"] = _fixed(plugs.worn)
    if reamed.gauge_uncertainty is not None:
        numbers["provable"] = hole.tolerance - 2.0 * d["gauge_uncertainty"]
