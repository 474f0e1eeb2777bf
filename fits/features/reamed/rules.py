"""The rules and cautions of a reamed hole."""

from __future__ import annotations

from typing import Any

from fits.features.feature import Caution, Rule, States
from fits.features.parts import GEOMETRY, PRACTICE
from fits.features.reamed.values import GUARD, PAIR
from fits.shop import gauges, reamers
from fits.tables import Source

# Least that a reamer takes off the diameter, mm.
LEAST_STOCK = 0.05
RUBS = Source("a reamer that takes less than 0.05 mm off the diameter rubs (common practice)", "practice")
_TRIAL = "cut a trial hole in the same metal, measure it at 20 degC, give hole less reamer as cuts_over"
_BAND = "take a reamer that measures inside the band, or give what trials with this one cut as cuts_over"


def _no_trials(reamed: Any, states: States) -> bool:
    return reamed.cuts_over is None


def _blind(reamed: Any, states: States) -> bool:
    return reamed.through is not True


def _gauged(reamed: Any, states: States) -> bool:
    return any(one is not None for one in (reamed.gauge_class, reamed.go_pin, reamed.no_go_pin))


def _given(name: str) -> Any:
    return lambda reamed, states: getattr(reamed, name) is not None


def _changes_later(reamed: Any, states: States) -> bool:
    return reamed.coating_hole is not None or reamed.closes is not None


RULES = (
    Rule(
        "reamer isn't too small",
        "reamer",
        "at least",
        "reamer_from",
        "a smaller one wears or springs below the hole's lower limit first",
        _BAND,
        reamers.RULE,
        ("reamer", "hole"),
        asked=_no_trials,
        asks="no cuts_over",
    ),
    Rule(
        "reamer isn't too large",
        "reamer",
        "at most",
        "reamer_to",
        "reamers cut over, seldom under: the last 15 % of the tolerance are for that",
        _BAND,
        reamers.RULE,
        ("reamer", "hole"),
        asked=_no_trials,
        asks="no cuts_over",
    ),
    Rule(
        "hole isn't too small",
        "cut_hole",
        "at least",
        "ream_from",
        "the hole that its trials promise is below the lower limit",
        _TRIAL,
        GEOMETRY,
        ("reamer", "hole"),
    ),
    Rule(
        "hole isn't too large",
        "cut_hole",
        "at most",
        "ream_to",
        "a hole cut too large can't be put back",
        _TRIAL,
        GEOMETRY,
        ("reamer", "hole"),
    ),
    Rule(
        "drilled hole cleans up",
        "clean_up",
        "at least",
        LEAST_STOCK,
        "with less the reamer rubs and hardens the hole, and the marks of the drill stay",
        "a smaller drill, or bore it before reaming (bored_to)",
        RUBS,
        ("drill", "drill_oversize", "bored_to"),
    ),
    Rule(
        "not too much stock",
        "reaming_stock",
        "at most",
        "stock_limit",
        "a reamer that must take more chatters, packs its flutes and cuts over",
        "a larger drill, or bore it before reaming (bored_to)",
        PRACTICE,
        ("drill", "bored_to"),
        despite=("reamer", "drill_oversize"),
    ),
    Rule(
        "depth is within reach",
        "depth_in_diameters",
        "at most",
        5.0,
        "a reamer follows the hole before it; deeper, it wanders and bells the mouth",
        "bore it, ream from both sides, or prove it by a trial hole of full depth",
        PRACTICE,
        ("depth",),
    ),
    Rule(
        "wall is stiff enough",
        "wall_in_diameters",
        "at least",
        0.1,
        "a thin wall gives way under the reamer and springs back: small and lobed",
        "ream before the wall is thinned, or support it from outside",
        PRACTICE,
        ("wall",),
        asked=_given("wall"),
        asks="wall",
    ),
    Rule(
        "lead clears the bottom",
        "lead",
        "at most",
        "room",
        "the lead of the reamer doesn't cut to size: it needs room below the reamed depth",
        "drill deeper, or take a bottoming reamer",
        GEOMETRY,
        ("reamer_lead", "runout_room", "through"),
        asked=_blind,
        asks="through = false",
    ),
    Rule(
        "final hole isn't too small",
        "final_hole",
        "at least",
        "hole_from",
        "a coat builds into the hole and pressing closes it",
        "ream after coating and pressing (order), mask the hole, or ream it larger by that much",
        GEOMETRY,
        ("coating_hole", "closes", "order", "reamer"),
        asked=_changes_later,
        asks="coating_hole or closes",
    ),
    Rule(
        "final hole isn't too large",
        "final_hole",
        "at most",
        "hole_to",
        "what is left after coating and pressing is above the upper limit",
        "a smaller reamer, or less coat",
        GEOMETRY,
        ("coating_hole", "closes", "order", "reamer"),
        asked=_changes_later,
        asks="coating_hole or closes",
    ),
    Rule(
        "GO passes no small hole",
        "go",
        "at least",
        "ream_from",
        "a GO gauge below the lower limit goes into holes that are too small",
        "a GO pin of plus class at the lower limit",
        PAIR,
        ("go_pin", "gauge_class"),
        asked=_gauged,
        asks="gauge_class, or go_pin and no_go_pin",
    ),
    Rule(
        "NO-GO passes no large hole",
        "no_go",
        "at most",
        "ream_to",
        "a NO-GO gauge above the upper limit stays out of holes that are too large",
        "a NO-GO pin of minus class at the upper limit",
        PAIR,
        ("no_go_pin", "gauge_class"),
        asked=_gauged,
    ),
    Rule(
        "some holes are sure to pass",
        "sure_pass",
        "at least",
        0.0,
        "with these gauges every hole may be turned away",
        "gauges of a finer class",
        PAIR,
        ("no_go_pin", "gauge_class"),
        asked=_gauged,
        above=True,
    ),
    Rule(
        "GO eats a tenth at most",
        "go_share",
        "at most",
        gauges.TENTH,
        "what the gauge takes is lost to the one who cuts: good holes are turned away",
        "a finer class, which the note below names",
        gauges.SHOP_RULE,
        ("go_pin", "gauge_class"),
        asked=_gauged,
    ),
    Rule(
        "NO-GO eats a tenth at most",
        "no_go_share",
        "at most",
        gauges.TENTH,
        "what the gauge takes is lost to the one who cuts: good holes are turned away",
        "a finer class, which the note below names",
        gauges.SHOP_RULE,
        ("no_go_pin", "gauge_class"),
        asked=_gauged,
    ),
    Rule(
        "instrument can prove it",
        "provable",
        "at least",
        0.0,
        "twice the uncertainty is as wide as the tolerance: no reading proves a hole good",
        "a better instrument: air gauge, or a bore gauge set with a ring",
        GUARD,
        ("gauge_uncertainty",),
        asked=_given("gauge_uncertainty"),
        asks="gauge_uncertainty",
        above=True,
    ),
)


def _light_and_bare(reamed: Any, states: States) -> bool:
    return reamed.light and reamed.coating_hole is None


def _no_wall(reamed: Any, states: States) -> bool:
    return reamed.wall is None


CAUTIONS = (
    Caution(
        "Stop the spindle before you gauge, wipe or clear chips; no gloves near it; never turn a reamer "
        "backwards.",
        PRACTICE,
    ),
    Caution(
        "Runout cuts over and bells the mouth: indicate the reamer at its lead, within 0.01 mm, or hold it "
        "floating.",
        PRACTICE,
    ),
    Caution(
        "Coolant is part of the size: the trial hole needs the same coolant, speed and feed as the part.",
        PRACTICE,
    ),
    Caution(
        "A hard coat closes a reamed hole by about its own thickness on the diameter: mask it, ream after, "
        "or give coating_hole, coating_share and order.",
        PRACTICE,
        _light_and_bare,
    ),
    Caution(
        "The wall around the hole isn't given: thinner than a tenth of the hole it springs, and the hole "
        "comes out small and lobed.",
        PRACTICE,
        _no_wall,
    ),
    Caution(
        "Pins and two-point gauges miss shape: GO pins miss a bent axis, NO-GO pins ovality, two points "
        "lobes. Turn the part, look along it, use three points where it matters. A class is that of a new "
        "pin: measure a worn one.",
        PRACTICE,
    ),
)
