"""What a gland's duty, fluid and rubber allow, from the tables."""

from __future__ import annotations

from typing import Any

import numpy as np

from fits.arrays import Array
from fits.features.feature import States
from fits.features.gland import tabled
from fits.features.gland.loop import Work
from fits.features.gland.sources import SOAKING
from fits.materials.elastomers import clash
from fits.materials.elastomers import fluids as known_fluids


def _fixed(number: float) -> Array:
    return np.array([[number]])


def allowed(w: Work) -> None:
    """Add what the duty and the rubber allow, and what is held against it as typed."""
    form, duty, rubber = type(w.gland).form, w.gland.duty, w.gland.elastomer
    # A state may put gas on what else holds liquid: the finer finish of gas counts.
    medium = "gas" if w.gland.medium == "liquid" and w.s.has_gas else w.gland.medium
    section = w.gland.ring.section.nominal
    fresh = tabled.for_section("fresh squeeze", duty, form, medium, section)
    most = tabled.for_section("most squeeze", duty, form, medium, section).most
    for name, limit in (("fresh_least", fresh.least), ("fresh_most", fresh.most), ("squeeze_most", most)):
        assert limit is not None
        w.numbers[name] = _fixed(limit)
    for name, what in (("stretch_most", "stretch"), ("fill_most", "fill"), ("finish_most", "finish")):
        ends = [row.most for row in tabled.limit(what, duty, form, medium)]
        w.numbers[name] = _fixed(min((end for end in ends if end is not None), default=np.inf))
    w.numbers["finish_made"] = w.d["finish"]
    if w.gland.radial:
        _rubbed(w, form, medium)
    if np.isnan(w.d["finish"]).any():
        w.gap("finish_made", "finish not given", w.made, "finish")
    w.numbers["rubber_hottest"] = _fixed(np.nan if rubber.highest is None else rubber.highest.low)
    cold = [
        known.high for known in (rubber.lowest, rubber.cold_limit(moving=w.gland.moving)) if known is not None
    ]
    w.numbers["rubber_coldest"] = _fixed(max(cold, default=np.nan))
    for name, word in (("rubber_hottest", "highest"), ("rubber_coldest", "lowest")):
        if np.isnan(w.numbers[name]).any():
            w.gap(name, f"{rubber.name}: no {word} temperature is known", w.every)
    w.numbers["fluid_up_to"] = _fixed(_fluid_up_to(w))
    _release(w)


def _rubbed(w: Work, form: str, medium: str) -> None:
    """What a ring that rubs is held against: wear of the rubber, a face that keeps its film."""
    ends = [row.least for row in tabled.limit("finish", w.gland.duty, form, medium)]
    w.numbers["finish_least"] = _fixed(max((end for end in ends if end is not None), default=0.0))
    wear = w.gland.elastomer.wear()
    w.numbers["wear_grade"] = _fixed(np.nan if wear is None else wear.high)
    if wear is None:
        w.gap("wear_grade", f"{w.gland.elastomer.name}: no resistance to rubbing is known", w.made)
    if w.gland.duty == "reciprocating" and np.any(w.s.speed != 0.0):
        reason = (
            "a state turns, and strokes alone are judged: ask duty rotary, or give this seal a state at rest"
        )
        w.gap("wear_grade", reason, w.made)


def _release(w: Work) -> None:
    """Gas above ``SOAKING`` splits rubber by its compound and by how fast it is let out."""
    soaked = w.s.pressure > SOAKING
    w.numbers["release_most"] = np.atleast_2d(np.where(soaked, np.nan, SOAKING))
    if np.any(soaked):
        reason = (
            "above 3 MPa of gas it depends on the compound and on how fast it is let out: say release_rated "
            "once its data sheet rates it, or it is let out slowly"
        )
        w.gap("release_most", reason, np.asarray(soaked))


def fluids_of(gland: Any, states: States) -> tuple[str, ...]:
    """Every fluid that the ring meets: its own, and those of the states that say which."""
    told = [one for one in states.media if one not in ("", "oil", "gas")]
    return tuple(dict.fromkeys([*((gland.fluid,) if gland.fluid else ()), *told]))


def _fluid_up_to(w: Work) -> float:
    """The hottest the fluids may be with this rubber; NaN where that isn't known."""
    gland = w.gland
    if gland.fluid is None:
        w.gap("fluid_up_to", "fluid not given", w.every)
        return float("nan")
    hottest = gland.elastomer.highest
    ends = [None if hottest is None else hottest.low]
    for fluid in fluids_of(gland, w.s):
        if fluid != gland.fluid and fluid not in known_fluids():
            reason = f"nothing is known of {gland.elastomer.material} in {fluid}: ask the maker of the ring"
            w.gap("fluid_up_to", reason, w.every)
            return float("nan")
        found = clash(gland.elastomer, fluid)
        if found.verdict != "ok":
            w.gap("fluid_up_to", found.reason, w.every)
            return float("nan")
        if found.up_to is None and hottest is None:
            reason = f"{gland.elastomer.name}: no highest temperature is known"
            w.gap("fluid_up_to", reason, w.every)
        ends.append(found.up_to)
    return min((one for one in ends if one is not None), default=float("nan"))
