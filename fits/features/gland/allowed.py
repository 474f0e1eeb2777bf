"""What a gland's duty, fluid and rubber allow, from the tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from fits.arrays import Array, Mask
from fits.features.feature import GASES, NotCovered, States
from fits.features.gland import tabled
from fits.features.gland.sources import SOAKING
from fits.materials.elastomers import clash
from fits.materials.elastomers import fluids as known_fluids

if TYPE_CHECKING:
    from fits.features.gland.declaration import Gland


def allowed(
    numbers: dict[str, Array], gland: Gland, d: Mapping[str, Array], s: States, gaps: list[NotCovered]
) -> None:
    """Add what the duty and the rubber allow, and what is held against it as typed."""
    form, duty, rubber = type(gland).form, gland.duty, gland.elastomer
    # A state may put gas on what else holds liquid: the finer finish of gas counts.
    gas = gland.medium == "liquid" and any(one in GASES for one in s.media)
    medium = "gas" if gas else gland.medium
    section, one = gland.ring.section.nominal, np.ones((1, 1))
    fresh = tabled.for_section("fresh squeeze", duty, form, medium, section)
    most = tabled.for_section("most squeeze", duty, form, medium, section).most
    for name, limit in (("fresh_least", fresh.least), ("fresh_most", fresh.most), ("squeeze_most", most)):
        assert limit is not None
        numbers[name] = one * limit
    for name, what in (("stretch_most", "stretch"), ("fill_most", "fill"), ("finish_most", "finish")):
        rows = tabled.limit(what, duty, form, medium)
        numbers[name] = one * (np.inf if not rows or rows[0].most is None else rows[0].most)
    made = np.asarray([s.names[-1] == name for name in s.names])
    numbers["finish_made"] = d["finish"] * one
    if gland.radial:
        _rubbed(numbers, gland, form, medium, gaps)
    if np.isnan(d["finish"]).any():
        gaps.append(NotCovered("finish_made", "finish not given", made, "finish"))
    numbers["rubber_hottest"] = one * (np.nan if rubber.highest is None else rubber.highest.low)
    cold = [
        known.high for known in (rubber.lowest, rubber.cold_limit(moving=gland.moving)) if known is not None
    ]
    numbers["rubber_coldest"] = one * max(cold, default=np.nan)
    every = np.ones(len(s.names), dtype=bool)
    for name, word in (("rubber_hottest", "highest"), ("rubber_coldest", "lowest")):
        if np.isnan(numbers[name]).any():
            gaps.append(NotCovered(name, f"{rubber.name}: no {word} temperature is known", every))
    numbers["fluid_up_to"] = one * _fluid_up_to(gland, s, every, gaps)
    _release(numbers, gland, s, gaps)


def _rubbed(numbers: dict[str, Array], gland: Gland, form: str, medium: str, gaps: list[NotCovered]) -> None:
    """What a ring that rubs is held against: wear of the rubber, a face that keeps its film."""
    one = np.ones((1, 1))
    rows = tabled.limit("finish", gland.duty, form, medium)
    numbers["finish_least"] = one * (0.0 if rows[0].least is None else rows[0].least)
    wear = gland.elastomer.wear()
    numbers["wear_grade"] = one * (np.nan if wear is None else wear.high)
    if wear is None:
        reason = f"{gland.elastomer.name}: no resistance to rubbing is known"
        gaps.append(NotCovered("wear_grade", reason, np.ones(1, dtype=bool)))


def _release(numbers: dict[str, Array], gland: Gland, s: States, gaps: list[NotCovered]) -> None:
    """Gas above ``SOAKING`` splits rubber by its compound and by how fast it is let out."""
    soaked = s.pressure > SOAKING
    numbers["release_most"] = np.where(soaked, np.nan, SOAKING) * np.ones((1, 1))
    if np.any(soaked):
        reason = "above 3 MPa of gas it depends on the compound and on how fast it is let out: not given"
        gaps.append(NotCovered("release_most", reason, np.asarray(soaked)))


def fluids_of(gland: Any, states: States) -> tuple[str, ...]:
    """Every fluid that the ring meets: its own, and those of the states that say which."""
    told = [one for one in states.media if one not in ("", "oil", "gas")]
    return tuple(dict.fromkeys([*((gland.fluid,) if gland.fluid else ()), *told]))


def _fluid_up_to(gland: Gland, s: States, every: Mask, gaps: list[NotCovered]) -> float:
    """The hottest the fluids may be with this rubber; NaN where that isn't known."""
    if gland.fluid is None:
        gaps.append(NotCovered("fluid_up_to", "fluid not given", every))
        return float("nan")
    hottest = gland.elastomer.highest
    ends = [None if hottest is None else hottest.low]
    for fluid in fluids_of(gland, s):
        if fluid != gland.fluid and fluid not in known_fluids():
            reason = f"nothing is known of {gland.elastomer.material} in {fluid}: ask the maker of the ring"
            gaps.append(NotCovered("fluid_up_to", reason, every))
            return float("nan")
        found = clash(gland.elastomer, fluid)
        if found.verdict != "ok":
            gaps.append(NotCovered("fluid_up_to", found.reason, every))
            return float("nan")
        if found.up_to is None and hottest is None:
            reason = f"{gland.elastomer.name}: no highest temperature is known"
            gaps.append(NotCovered("fluid_up_to", reason, every))
        ends.append(found.up_to)
    return min((one for one in ends if one is not None), default=float("nan"))
