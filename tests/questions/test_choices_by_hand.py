"""Both members at once, classes, tools and rings that fit: windows, rooms, orders and splits by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import glands
import numpy as np
import pytest
from plain import GIVEN, Plain, plain

from fits.errors import InputError
from fits.features.beside import Thumb
from fits.features.feature import State
from fits.features.fields import Length, Size, Spread, SurfaceRef, Undecided
from fits.features.offer import Offer
from fits.features.part import Part
from fits.questions import choose as choosing
from fits.questions import fit_window as fitting
from fits.questions import from_drawer as drawers
from fits.questions import options as ringing
from fits.questions.answer import FAIL, NOT_COVERED, PASS
from fits.questions.check import check
from fits.questions.choose import choose, too_wide
from fits.questions.fit_window import ADVICE, _splits, fit_window, passes
from fits.questions.from_drawer import Held, _against, _at_the_edge, _open, from_drawer, with_facts
from fits.questions.targets import target_of, with_field
from fits.questions.window import Edge, Interval, RuleRange, Window
from fits.sizes import classes
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size

SHOP, COLD = State("shop"), State("cold", -30.0, -30.0)
ASKED = {"gap_at_least": "0.04", "gap_at_most": "0.08"}
# How far inside an end of a window is found, and two of them.
END = 1.01e-4


def near(value: float, by: float = END):
    return pytest.approx(value, abs=by)


# Both members at once

def test_the_window_of_a_gap():
    """Hole exact at the middle of 20.000 to 20.030; of 0.040 to 0.080 form takes 2 (1 + 2) um, the gauge 4 x 1.5."""
    found = fit_window(plain(SHOP, form_hole="0.001", form_shaft="0.002", gauge_uncertainty="0.0015", **ASKED), "seat")
    assert (found.feature, found.fit, found.at) == ("seat", "clearance", pytest.approx(20.015))
    assert (found.low, found.high) == (near(0.04), near(0.08))
    assert found.low >= 0.04 - 1e-9
    assert found.high <= 0.08 + 1e-9
    assert (found.form, found.gauge) == (pytest.approx(0.006), pytest.approx(0.006))
    assert found.left == pytest.approx(found.high - found.low - 0.012)
    assert fit_window(plain(SHOP, hole="20 H7", **ASKED), "seat").at == 20.0
    assert fit_window(plain(SHOP, hole=Undecided(), **ASKED), "seat").at == pytest.approx(19.945)


def test_how_the_tolerances_could_share_it():
    """0.040 of gap: 20.000 to 20.020 and 19.940 to 19.960; the shaft's 10 um leave 30, 19.990 to 20.020; the hole's 30 leave 10, 19.950 to 19.960."""
    found = fit_window(plain(SHOP, **ASKED), "seat")
    ends = [(split.how, split.hole.lower, split.hole.upper, split.shaft.lower, split.shaft.upper) for split in found.splits]
    twice = 2.5e-4
    assert ends == [
        ("equal tolerances", pytest.approx(20.0), near(20.02), near(19.94, twice), near(19.96, twice)),
        ("the shaft keeps its limits", near(19.99, twice), near(20.02, twice), 19.94, 19.95),
        ("the hole keeps its limits", 20.0, 20.03, near(19.95, twice), near(19.96, twice))]
    for split in found.splits:
        assert split.hole.lower - split.shaft.upper >= 0.04 - 1e-9
        assert split.hole.upper - split.shaft.lower <= 0.08 + 1e-9
        assert (split.hole.side, split.shaft.side) == ("hole", "shaft")
    first = found.splits[0]
    assert first.hole.tolerance == pytest.approx(found.left / 2.0)
    assert (first.hole.sources, found.splits[1].shaft.sources[0].evidence) == ((ADVICE,), "typed")
    assert (first.hole.basic, first.shaft.basic) == (20.0, pytest.approx((first.shaft.lower + first.shaft.upper) / 2.0))


def test_a_press_counts_the_other_way():
    from joints import metal, press_part

    steel = metal(2e5, 0.3, least=1e4)
    part = press_part(hole="20 H7", shaft="20.050/20.040", hub_outside="40", hub_material=steel, shaft_material=steel, interference_at_least=0.02)
    found = fit_window(part, "joint")
    assert (found.fit, found.low) == ("interference", near(0.02))
    keeps = next(one for one in found.splits if one.how == "the shaft keeps its limits")
    assert (keeps.hole.upper + keeps.hole.lower) / 2.0 == near(20.045 - (found.low + found.high) / 2.0)
    assert found.splits[0].shaft.lower - found.splits[0].hole.upper >= 0.02 - 1e-9


def test_what_eats_the_whole_window():
    gone = fit_window(plain(SHOP, form_hole="0.0201", **ASKED), "seat")
    assert (gone.left < 0.0, gone.splits) == (True, ())
    assert gone.notes == ("form error and gauge uncertainty eat the whole window",)
    some = fit_window(plain(SHOP, form_hole="0.0199", hole="20", shaft="19.945", **ASKED), "seat")
    assert some.left > 0.0
    assert some.notes == ()
    none = fit_window(plain(SHOP, gap_at_least="0.08", gap_at_most="0.04"), "seat")
    assert (none.low, none.high, none.left, none.splits, none.notes) == (0.0, 0.0, 0.0, (), ())


def test_a_member_that_is_wider_than_what_is_left():
    """0.040 less the edges' 0.2 um: a hole of 0.0401 is wider, one of 0.0396 isn't, and an exact one never."""
    for width, wide in ((0.0401, True), (0.0396, False), (0.0, False)):
        found = fit_window(plain(SHOP, hole=Limits(20.0, 20.0 + width, None, "hole"), **ASKED), "seat")
        said = [note for note in found.notes if note.startswith("the hole's own tolerance is wider than what is left of the window")]
        assert bool(said) is wide
        assert ("the hole keeps its limits" in [one.how for one in found.splits]) is (width == 0.0396)


def test_a_member_that_leaves_nothing_to_the_other():
    """The shaft's own 0.010 of 0.010: no hole is of one size alone."""
    part = plain(SHOP, shaft="19.950/19.940", **ASKED)
    found = fit_window(part, "seat")
    width = part.features["seat"].shaft.tolerance
    assert "the shaft keeps its limits" in [one.how for one in _splits(part, found._replace(left=width + 1e-6))]
    assert "the shaft keeps its limits" not in [one.how for one in _splits(part, found._replace(left=width))]


def test_a_split_is_shrunk_a_hundredth_at_each_end_up_to_twelve_times(monkeypatch):
    tried: list[tuple[float, float, float, float]] = []
    part = plain(SHOP, **ASKED)
    found = fit_window(part, "seat")
    monkeypatch.setattr(fitting, "passes", lambda part, name, hole, shaft: tried.append((hole.lower, hole.upper, shaft.lower, shaft.upper)))
    hole, shaft = Limits(20.0, 20.02, 20.0, "hole", sources=(ADVICE,)), Limits(19.94, 19.95, None, "shaft")
    assert list(fitting._proved(part, found, "x", hole, shaft)) == []
    assert len(tried) == 12
    assert tried[0] == (20.0, 20.02, 19.94, 19.95)
    assert tried[1] == (pytest.approx(20.0002), pytest.approx(20.0198), 19.94, 19.95)
    assert tried[2] == (pytest.approx(20.0002 + 0.000196), pytest.approx(20.0198 - 0.000196), 19.94, 19.95)


def test_a_whole_part_passes_with_both_members():
    part = plain(SHOP, **ASKED)
    assert passes(part, "seat", parse_size("20.02/20.00", side="hole"), parse_size("19.96/19.94", side="shaft"))
    assert not passes(part, "seat", parse_size("20.03/20.00", side="hole"), parse_size("19.96/19.94", side="shaft"))


def test_the_rule_of_thumb(monkeypatch):
    """0.003 a diameter of 20.015 is 0.0600; 0.005 is 0.1001, too much in the shop and not in the cold, which takes 0.050."""
    found = []
    for share, part in ((0.003, plain(SHOP, **ASKED)), (0.005, plain(SHOP, COLD, gap_at_least="0.04", gap_at_most="0.08")), (0.0001, plain(SHOP, COLD, **ASKED))):
        monkeypatch.setattr(Plain, "thumb", Thumb(share, "a thumb's width", GIVEN))
        found.append(fit_window(part, "seat").notes[-1])
    begins = "rule of thumb, a thumb's width (a sum made up for tests): "
    assert found == [f"{begins}0.0600 mm, lies inside the window", f"{begins}0.1001 mm, is not held: most gap fails in shop",
                     f"{begins}0.0020 mm, is not held: never binds fails in cold; least gap fails in shop, cold"]
    monkeypatch.setattr(Plain, "thumb", Thumb(0.003, "a thumb's width", GIVEN))
    assert fit_window(plain(SHOP, grade=None, push_at_least="9 N", **ASKED), "seat").notes[-1] == f"{begins}0.0600 mm, is not held: pushes not covered in shop"


# Classes

def test_classes_whose_zones_lie_inside():
    """Of 0.040 to 0.080 a gauge of 1 um takes 2 at each end; the room is what is left to there."""
    part = plain(SHOP, gauge_uncertainty="0.001", hole="20 H7", shaft="20 f7", gap_at_least="0.02", gap_at_most="0.08")
    found = choose(part, "seat")
    inside = found.window
    assert 1 < len(found.found) <= 12
    for one in found.found:
        gaps = one.hole.lower - one.shaft.upper, one.hole.upper - one.shaft.lower
        assert one.low_room == pytest.approx(gaps[0] - inside.low - 0.002)
        assert one.high_room == pytest.approx(inside.high - 0.002 - gaps[1])
        assert min(one.low_room, one.high_room) >= 0.0
        assert one.name == classes.pair_name(one.hole, one.shaft)
    widths = [round(one.hole.tolerance + one.shaft.tolerance, 6) for one in found.found]
    assert widths == sorted(widths, reverse=True)
    # All there are, by hand: every pair at 20 mm held against the two ends.
    every = [(hole, shaft) for hole, shaft in classes.pairs(20.0, "mm") if hole.lower - shaft.upper >= inside.low + 0.002 and hole.upper - shaft.lower <= inside.high - 0.002]
    best = sorted(every, key=lambda pair: (-round(pair[0].tolerance + pair[1].tolerance, 6), -(classes.usual(pair[0]) + classes.usual(pair[1])), classes.pair_name(*pair)))
    assert [one.name for one in found.found] == [classes.pair_name(*pair) for pair in best[:12]]
    frame = found.frame()
    assert frame.iloc[0].to_list() == [found.found[0].name, found.found[0].hole.lower, found.found[0].hole.upper, found.found[0].shaft.lower, found.found[0].shaft.upper]


def test_of_a_wide_window_twelve_are_shown():
    assert len(choose(plain(SHOP, hole="20 H7", gap_at_most="0.5", gap_at_least="0.001"), "seat").found) == 12
    assert len(choose(plain(SHOP, gap_at_most="0.5", gap_at_least="0.001"), "seat", hole="20 H7").found) == 12


def test_where_nothing_is_left_nothing_is_chosen():
    assert choose(plain(SHOP, gap_at_least="0.08", gap_at_most="0.04"), "seat").found == ()
    gone = choose(plain(SHOP, form_hole="0.021", **ASKED), "seat")
    assert (gone.found, gone.notes) == ((), ("form error and gauge uncertainty eat the whole window",))


@pytest.mark.parametrize(("side", "fixed"), [("hole", "20.030/20.000"), ("shaft", "19.950/19.940")])
def test_classes_of_one_side_about_the_other(side: str, fixed: str):
    """Gap 0.010 to 0.200: about the hole a shaft of 19.830 to 19.990, about the shaft a hole of 19.960 to 20.140."""
    part = plain(SHOP, hole="20.030/20.000", gap_at_least="0.01", gap_at_most="0.2")
    found = choose(part, "seat", **{side: fixed})
    (interval,) = found.window.intervals
    assert (interval.low.at, interval.high.at) == ((near(19.83), near(19.99)) if side == "hole" else (near(19.96), near(20.14)))
    zones = [one.shaft if side == "hole" else one.hole for one in found.found]
    kept = [one.hole if side == "hole" else one.shaft for one in found.found]
    assert all((zone.lower, zone.upper) == tuple(reversed([float(text) for text in fixed.split("/")])) for zone in kept)
    for one, zone in zip(found.found, zones):
        assert (one.low_room, one.high_room) == (pytest.approx(zone.lower - interval.low.at), pytest.approx(interval.high.at - zone.upper))
        assert one.name == zone.text
    every = [zone for zone in classes.zones(classes.basic_size(part.features["seat"].hole, "mm"), "shaft" if side == "hole" else "hole", "mm") if zone.lower >= interval.low.at and zone.upper <= interval.high.at]
    ranked = sorted(every, key=lambda zone: (-zone.tolerance, not classes.usual(zone)))
    assert [zone.text for zone in zones] == [zone.text for zone in ranked[:12]]


def test_a_hole_on_a_surface_leaves_the_shaft_to_choose():
    below = plain(**ASKED).features["seat"]
    above = plain(hole=SurfaceRef("below", "bore"), gap_at_least="0.01", gap_at_most="0.2").features["seat"]
    part = Part("test", {"below": below, "above": above}, (SHOP,))
    found = choose(part, "above")
    assert found.found
    assert all(one.hole == SurfaceRef("below", "bore") for one in found.found)
    # The basic size is that of what is cut below.
    assert choosing._basic(part, "above", "mm") == 20.0
    assert choosing._basic(plain(hole=Undecided(), shaft="19.95 ±0.01"), "seat", "mm") == 19.95
    frame = found.frame()
    assert frame["hole_min"].isna().all()
    assert frame["shaft_max"].iloc[0] == found.found[0].shaft.upper
    other = Part("test", {"below": below, "above": plain(hole="20.1", shaft=SurfaceRef("below", "bore"), gap_at_least="0.01", gap_at_most="0.3").features["seat"]}, (SHOP,))
    assert all(one.shaft == SurfaceRef("below", "bore") for one in choose(other, "above").found)
    assert choosing._basic(other, "above", "mm") == 20.0


def test_what_can_be_fixed():
    part = plain(SHOP, **ASKED)
    assert (choosing.fixed(part, "seat", "H7", "hole", "mm").lower, choosing.fixed(part, "seat", "H7", "hole", "mm").upper) == (20.0, 20.021)
    assert choosing.fixed(part, "seat", "20.01/20.00", "hole", "mm").upper == 20.01
    assert choosing.fixed(part, "seat", "7", "hole", "mm").upper == 7.0
    with pytest.raises(InputError) as raised:
        choosing.fixed(part, "seat", "x..", "shaft", "mm")
    assert raised.value.faults[0].key == "--shaft"
    with pytest.raises(InputError, match="fix the hole or the shaft, not both"):
        choose(part, "seat", hole="H7", shaft="f7")
    with pytest.raises(InputError) as raised:
        choose(glands.part("face"), "seal", shaft="12")
    assert raised.value.faults[0].key == "--shaft"
    with pytest.raises(InputError) as raised:
        choose(glands.part("face"), "seal", hole="12")
    assert raised.value.faults[0].key == "--hole"


def test_a_side_that_is_too_wide_by_itself():
    """0.040 to 0.080 about a hole of 0.050 leave no shaft; about its middle they do. One of 0.030 isn't what closes it."""
    part = plain(SHOP, hole="20.050/20.000", **ASKED)
    wide = part.features["seat"].hole
    (note,) = too_wide(part, "seat", "shaft", wide)
    assert note.startswith("the hole's own tolerance closes the window")
    assert "again with them as the hole's limits" in note
    (note,) = too_wide(plain(SHOP, shaft="19.990/19.940", **ASKED), "seat", "hole", parse_size("19.990/19.940", side="shaft"))
    assert note.startswith("the shaft's own tolerance closes the window")
    assert too_wide(part, "seat", "shaft", Limits(20.0, 20.0, 20.0)) == ()
    assert too_wide(part, "seat", "shaft", SurfaceRef("a", "b")) == ()
    none = plain(SHOP, hole="20.050/20.000", gap_at_least="0.08", gap_at_most="0.04")
    assert too_wide(none, "seat", "shaft", wide) == ()


def test_doubts_of_a_class_are_said_once():
    doubtful = replace(parse_size("20 H7", side="hole"), sources=(GIVEN._replace(doubt="a slip?"), GIVEN))
    plain_ = parse_size("20 f7", side="shaft")
    one = choosing.Choice("20 H7/f7", doubtful, plain_, 0.0, 0.0)
    assert choosing._doubts([one, one, one._replace(name="x", hole=SurfaceRef("a", "b"))]) == ["20 H7/f7: doubtful: a slip?"]


def test_order_of_classes():
    """The drawing's own system first, then the widest, then the most usual."""
    hole, odd, shaft = (parse_size(text, side=side) for text, side in (("20 H7", "hole"), ("20 G7", "hole"), ("20 f7", "shaft")))
    assert choosing._rank(hole, shaft, "mm") == (False, -0.042, -2, "20 H7/f7")
    assert choosing._rank(odd, shaft, "mm") == (False, -0.042, -classes.usual(odd) - 1, "20 G7/f7")
    assert choosing._rank(hole, shaft, "in")[0] is True
    assert choosing._rank_one(hole, "mm") == (False, pytest.approx(-0.021), False)
    assert choosing._rank_one(parse_size("20 C11", side="hole"), "mm")[2] is True


# Tools

def offer(low: float, high: float, *, proven: bool = True) -> Offer:
    return Offer("reamer", {"hole": Limits(low, high, low, "hole")}, low, high, "as trials say", proven)


def windowed(*spans: tuple[float, float], rules: tuple[RuleRange, ...] = ()) -> Window:
    part = plain(SHOP, **ASKED)
    return Window(target_of(part, "seat.hole"), tuple(Interval(Edge(low, ""), Edge(high, "")) for low, high in spans), rules)


@pytest.mark.parametrize(("low", "high", "proven", "verdict", "room"), [
    (20.0, 20.02, True, PASS, (0.0, 0.0)), (20.005, 20.011, True, PASS, (0.005, 0.009)), (20.005, 20.011, False, NOT_COVERED, (0.005, 0.009)),
    (19.99, 20.01, True, FAIL, (-0.01, 0.01)), (19.99, 20.01, False, NOT_COVERED, (-0.01, 0.01)), (20.015, 20.03, False, NOT_COVERED, (0.015, -0.01)),
    # All of it outside: it touches at most the end.
    (19.98, 19.99, False, FAIL, (-0.02, 0.03)), (20.03, 20.05, False, FAIL, (0.03, -0.03)),
])
def test_a_tool_against_a_window(low: float, high: float, proven: bool, verdict: str, room: tuple[float, float]):
    held = _against(windowed((20.0, 20.02)), offer(low, high, proven=proven), (0.04, 0.05))
    assert (held.verdict, held.room) == (verdict, (pytest.approx(room[0], abs=1e-12), pytest.approx(room[1], abs=1e-12)))
    assert (held.name, held.low, held.high, held.remark, held.fit) == ("reamer", low, high, "as trials say", (0.04, 0.05))


def test_a_tool_that_just_touches_a_window_does_not_reach_it():
    one = windowed((20.0, 20.25))
    assert _against(one, offer(19.75, 20.0, proven=False), None).verdict == FAIL
    assert _against(one, offer(20.25, 20.5, proven=False), None).verdict == FAIL
    assert _against(one, offer(19.75, 20.125, proven=False), None).verdict == NOT_COVERED


def span(*intervals: tuple[float, float], why: str = "") -> RuleRange:
    return RuleRange("seat", "r", "shop", intervals, why)


@pytest.mark.parametrize(("rules", "proven", "verdict"), [
    ((span((20.0, 20.02)), span(why="grade not given")), True, NOT_COVERED), ((span((20.0, 20.02)),), True, FAIL),
    ((span((20.005, 20.02)), span(why="grade not given")), True, FAIL), ((span((20.0, 20.009)), span(why="grade not given")), True, FAIL),
    # Not proven: some of 20.002 to 20.010 may come out inside.
    ((span((20.005, 20.009)), span(why="grade not given")), False, NOT_COVERED), ((span((20.011, 20.02)), span(why="grade not given")), False, FAIL),
    ((span((20.0, 20.001)), span(why="grade not given")), False, FAIL), ((span((19.0, 19.5), (20.002, 20.010)), span(why="x"), span(why="y")), True, NOT_COVERED),
])
def test_a_window_that_only_what_is_missing_closes(rules: tuple[RuleRange, ...], proven: bool, verdict: str):
    one = offer(20.002, 20.010, proven=proven)
    assert _open(windowed(rules=rules), one) is (verdict == NOT_COVERED)
    assert _against(windowed(rules=rules), one, None).verdict == verdict


def test_within_what_an_edge_is_found_to_the_check_decides():
    """Gap of at least 0.040 and shafts to 19.950: 19.990 holds. A window found from 19.99008 leaves it 0.08 um short."""
    part = plain(SHOP, **ASKED)
    for low, found_low, proven, expected in ((19.99, 19.99008, True, PASS), (19.99, 19.99008, False, NOT_COVERED), (19.99, 19.99011, True, FAIL), (19.98995, 19.99, True, FAIL)):
        tool = offer(low, 20.01, proven=proven)
        one = windowed((found_low, 20.02))
        held = _at_the_edge(part, "seat", "hole", one, _against(one, tool, None)._replace(verdict=FAIL), tool)
        assert held.verdict == expected, (low, found_low)
        if expected != FAIL:
            assert held.room == (0.0, pytest.approx(0.01))
    inside = Held("reamer", FAIL, 20.0, 20.01, "", (0.0, 0.01))
    assert _at_the_edge(part, "seat", "hole", windowed((20.0, 20.02)), inside, offer(20.0, 20.01)) is inside
    nowhere = inside._replace(room=None)
    assert _at_the_edge(part, "seat", "hole", windowed(), nowhere, offer(20.0, 20.01)) is nowhere


def drawer_of(monkeypatch, *offers: Offer, facts: dict | None = None) -> SimpleNamespace:
    monkeypatch.setattr(Size, "offers", lambda self, name, feature, drawer: offers if self.side == "hole" else ())
    monkeypatch.setattr(Size, "to_buy", lambda self, name, feature, low, high: f"one from {low:.3f} to {high:.3f}")
    return SimpleNamespace(facts=facts or {}, place="drawer")


def test_the_drawer_s_holes_against_the_window(monkeypatch):
    """Shafts of 19.940 to 19.950 and 0.040 to 0.080: a hole of 19.990 to 20.020. The most room comes first."""
    box = drawer_of(monkeypatch, offer(19.98, 20.0), offer(19.995, 20.003), offer(20.0, 20.01), offer(20.0, 20.01, proven=False))
    found = from_drawer(plain(SHOP, **ASKED), "seat", box)
    (hole,) = found.fields
    assert [(one.low, one.verdict) for one in hole.held] == [(20.0, PASS), (19.995, PASS), (20.0, NOT_COVERED), (19.98, FAIL)]
    assert hole.held[0].room == (near(0.01), near(0.01))
    # Least of the smallest hole with the largest shaft, most of the largest with the smallest.
    assert hole.held[1].fit == (pytest.approx(0.045), pytest.approx(0.063))
    assert (found.verdict, hole.to_buy, found.fit, found.notes) == (PASS, "", "clearance", (drawers.TRIAL,))
    bad = from_drawer(plain(SHOP, **ASKED), "seat", drawer_of(monkeypatch, offer(19.98, 20.0)))
    assert (bad.verdict, bad.fields[0].to_buy) == (FAIL, "one from 19.990 to 20.020")
    none = from_drawer(plain(SHOP, **ASKED), "seat", drawer_of(monkeypatch))
    assert (none.verdict, none.fields[0].to_buy, none.notes) == (FAIL, "one from 19.990 to 20.020", ())
    closed = from_drawer(plain(SHOP, shaft="19.99/19.94", **ASKED), "seat", drawer_of(monkeypatch, offer(20.0, 20.01)))
    assert (closed.verdict, closed.fields[0].to_buy, closed.fields[0].held[0].room) == (FAIL, "", None)
    assert closed.notes[1].startswith("the shaft's own tolerance closes the window")
    unsure = from_drawer(plain(SHOP, **ASKED), "seat", drawer_of(monkeypatch, offer(20.0, 20.01, proven=False), offer(19.0, 19.1)))
    assert (unsure.verdict, unsure.fields[0].to_buy) == (NOT_COVERED, "")


def test_a_press_fit_counts_the_other_way(monkeypatch):
    from joints import metal, press_part

    steel = metal(2e5, 0.3, least=1e4)
    part = press_part(hole="20 H7", shaft="20.050/20.040", hub_outside="40", hub_material=steel, shaft_material=steel, interference_at_least=0.02)
    found = from_drawer(part, "joint", drawer_of(monkeypatch, offer(20.0, 20.01)))
    assert found.fields[0].held[0].fit == (pytest.approx(0.03), pytest.approx(0.05))


def test_what_the_drawer_knows_is_filled_in_where_nothing_was_given():
    box = SimpleNamespace(facts={"outside": 44.0, "length": 12.0, "no_such": 1.0}, place="d")
    changed = with_facts(plain(length="13"), "seat", box).features["seat"]
    assert (changed.outside.upper, changed.length.upper) == (44.0, 13.0)
    assert list(drawers.alone(Part("t", {"a": plain().features["seat"], "b": plain().features["seat"]}), "b").features) == ["b"]


# Rings

def test_limits_are_rounded_into_the_window_to_a_micrometre():
    assert ringing._rounded(10.0001, 10.0349) == (pytest.approx(10.001), pytest.approx(10.034))
    assert ringing._rounded(10.001, 10.034) == (pytest.approx(10.001), pytest.approx(10.034))
    assert ringing._rounded(10.001 + 0.9e-9, 10.034 - 0.9e-9) == (pytest.approx(10.001), pytest.approx(10.034))
    assert ringing._rounded(10.001 + 2e-9, 10.034 - 2e-9) == (pytest.approx(10.002), pytest.approx(10.033))
    assert ringing._middle((1.0, 4.0)).tolist() == [[2.5]]
    made = ringing._limits(1.0, 2.0, Size("x", side="shaft"))
    assert (made.lower, made.upper, made.basic, made.side) == (1.0, 2.0, None, "shaft")
    assert ringing._limits(1.0, 2.0, Length("x")).side == ""
    assert ringing.Sized("x", 1.0, 1.5).room == 0.5
    assert [ringing.Sized("x", low, high).room for low, high in ((None, 1.0), (1.0, None))] == [math.inf, math.inf]


def test_how_well_rules_hold_at_nominal_sizes():
    """At how many points all hold; else below 0 by the number of points for each rule in the way."""
    part = plain(SHOP, hole="20", **ASKED)
    target = target_of(part, "seat.shaft")
    points = ringing.points_of(target)
    good = sum(0.04 - 1e-9 <= 20.0 - one <= 0.08 + 1e-9 for one in points)
    assert good > 3
    assert ringing._held_at_nominal(part, "seat", target) == good
    bad = plain(SHOP, hole="20", gap_at_least="0.08", gap_at_most="0.04", push_at_least="1e9 N")
    target = target_of(bad, "seat.shaft")
    points = ringing.points_of(target)
    one_gap = sum((20.0 - one >= 0.08 - 1e-9) != (0.0 < 20.0 - one <= 0.04 + 1e-9) for one in points)
    assert ringing._held_at_nominal(bad, "seat", target) == one_gap - 2 * len(points)
    exact = plain(SHOP, hole="20", shaft="19.94", grade="1 to 3", push_at_least="12.5 N")
    # Grade 2 in the middle, leaning 4/3: 200 gap + 4/3 of 12.5 holds from a gap of 0.0558.
    shafts = target_of(exact, "seat.shaft")
    assert ringing._held_at_nominal(exact, "seat", shafts) == sum(200.0 * (20.0 - one) + 4.0 / 3.0 >= 12.5 for one in ringing.points_of(shafts))


def test_what_is_said_of_rings():
    def notes(fitting: int, found: int, tried: int, nearest: bool) -> tuple[str, ...]:
        one = (1.0, "the ring", plain())
        return ringing._notes([one] * fitting, [ringing.Option("r", ())] * found, [one] * tried, windowed() if nearest else None)

    assert notes(20, 8, 30, False) == ("12 more hold at nominal sizes",)
    assert notes(9, 8, 30, False) == ("1 more hold at nominal sizes",)
    assert notes(8, 8, 30, False) == ()
    assert notes(5, 3, 30, False) == ("2 more hold at nominal sizes, but not over their tolerances",)
    assert notes(0, 0, 0, False) == ("none of the table can be put in at all",)
    assert notes(0, 0, 3, True) == ("the nearest is the ring; why it does not hold stands below",)


def test_a_split_s_numbers_are_numbers():
    found = fit_window(plain(SHOP, **ASKED), "seat")
    assert np.isfinite([found.low, found.high, found.left]).all()
    assert check(with_field(plain(SHOP, **ASKED), "seat", "shaft", found.splits[2].shaft)).verdict == PASS
    assert fitting._most(plain(form_hole="0.001 to 0.003").features["seat"], "form_hole") == 0.003
    assert fitting._most(plain().features["seat"], "no_such") == 0.0
    assert fitting._without_form(plain(form_hole="0.001"), "seat").features["seat"].form_hole == Spread(0.0, 0.0)
