"""All rules along one number: intervals and edges against sums worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest
from plain import plain

from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions.scan import Scan, _flat, _runs
from fits.questions.sweep import edge, grid, holding, intervals
from fits.questions.targets import decided, target_of
from fits.questions.window import Window, _fails, common, excluding, scanned, window

SHOP, COLD, HOT, PRESSED = State("shop"), State("cold", -40.0, -20.0), State("hot", 120.0, 60.0), State("pressed", 20.0, 20.0, 5.0)


def scan(part: Part, text: str, *, quick: bool = False) -> Scan:
    target = target_of(part, text)
    return Scan(decided(part, target), target, quick=quick)


def found(of: Scan) -> dict[tuple[str, str], list]:
    return {(rule.rule.name, rule.state): spans for rule, spans in zip(of.rules, of.intervals(), strict=True)}


def inside(spans: list, *exact: tuple[float, float], by: float = 1.001e-4) -> None:
    """Each end lies inside the exact one, by no more than an edge is found to."""
    assert len(spans) == len(exact)
    for (low, high), (least, most) in zip(spans, exact, strict=True):
        assert least - 1e-9 <= low <= least + by
        assert most - by <= high <= most + 1e-9


def test_runs_and_masks():
    assert _runs(np.array([False, True, True, False, True])) == [(1, 2), (4, 4)]
    assert _runs(np.array([True, False, False])) == [(0, 0)]
    assert _runs(np.array([False])) == []
    assert _flat(np.array([True, False, True])).tolist() == [[True, False, True]]
    assert _flat(np.zeros((4, 1, 3), dtype=bool)).shape == (4, 3)
    assert _flat(np.zeros((4, 3), dtype=bool)).shape == (4, 3)


def test_each_rule_in_each_state_has_its_own_interval():
    """Hole 20.000 to 20.030; gap 0.040 to 0.080; cold takes 0.050, hot adds 0.070; push 200 gap + 0 to 3 of 9 N."""
    of = scan(plain(SHOP, COLD, HOT, gap_at_least="0.04", gap_at_most="0.08", push_at_least="9 N"), "seat.shaft")
    spans = found(of)
    low, high = of.target.low, of.target.high
    assert (low, high) == (pytest.approx(20.015 * 0.95), pytest.approx(20.015 / 0.95))
    inside(spans["never binds", "shop"], (low, 20.0))
    inside(spans["never binds", "cold"], (low, 19.95))
    inside(spans["never binds", "hot"], (low, 20.07))
    inside(spans["least gap", "shop"], (low, 19.96))
    inside(spans["least gap", "cold"], (low, 19.91))
    inside(spans["most gap", "shop"], (19.95, high))
    inside(spans["most gap", "cold"], (19.9, high))
    inside(spans["most gap", "hot"], (20.02, high))
    inside(spans["pushes", "shop"], (low, 19.955))
    inside(spans["pushes", "hot"], (low, 20.025))
    assert len(spans) == 12


def test_two_intervals_of_one_rule():
    """(place - 2)^2 is 0.25 or more up to 1.5 and from 2.5."""
    of = scan(plain(SHOP, place="3", bow_at_least=0.25), "seat.place")
    assert of.target.tolerance == pytest.approx(3e-3)
    inside(found(of)["bends", "shop"], (3e-3, 1.5), (2.5, 3000.0), by=3.01e-3)
    first, second = window(plain(SHOP, place="3", bow_at_least=0.25), "seat.place").intervals
    assert (first.low.why, first.low.rule, second.high.why) == ("the end of the search", "", "the end of the search")
    assert (first.high.rule, second.low.rule) == ("bends", "bends")
    assert first.high.value == pytest.approx((first.high.at + 6e-3 - 2.0) ** 2)
    assert second.low.value == pytest.approx((second.low.at - 6e-3 - 2.0) ** 2)
    assert (first.high.limit, first.high.kind, first.high.digits, first.high.state) == (0.25, "number", 3, "shop")


def test_a_swept_temperature_by_hand():
    """Gap 0.050 to 0.090 mm in the shop and 1 um/K: 0.040 to 0.100 from 10 to 30 degC."""
    of = scan(plain(SHOP, State("oven", 60.0, 60.0), gap_at_least="0.04", gap_at_most="0.1"), "oven.temperature")
    spans = found(of)
    # An edge of a temperature is found to a millionth of 1000 degC.
    inside(spans["least gap", "oven"], (10.0, 500.0), by=1.01e-3)
    inside(spans["most gap", "oven"], (-273.15, 30.0), by=1.01e-3)
    assert spans["least gap", "shop"] == [(-273.15, 1000.0)]
    # Only the hub's: the mean counts, the shaft stays at 60.
    of = scan(plain(SHOP, State("oven", 60.0, 60.0), gap_at_least="0.04", gap_at_most="0.1"), "oven.hub_temperature")
    inside(found(of)["most gap", "oven"], (-273.15, 0.0), by=1.01e-3)


def test_a_pressure_that_is_not_there_yet_makes_its_own_corners():
    """2 um/MPa of a gap of 0.050 less 0.040: 5 MPa; the push is asked for only where there is pressure."""
    of = scan(plain(SHOP, gap_at_least="0.04", push_at_most="20 N"), "shop.pressure")
    assert (of.target.low, of.target.high) == (0.0, 10_000.0)
    assert of.all["seat"]["part.pressure"].max() == 1.0
    assert [(one.rule.name, one.state) for one in of.rules] == [("never binds", "shop"), ("least gap", "shop"), ("no more push", "shop")]
    spans = found(of)
    inside(spans["least gap", "shop"], (0.0, 5.0), by=1.001e-2)
    # 200 x 0.090 + 3 is more than 20 N wherever there is pressure, which may be none of it.
    assert spans["no more push", "shop"] == [(0.0, 0.0)]
    assert [one.state for one in scan(plain(SHOP, PRESSED, push_at_most="20 N"), "pressed.temperature").rules] == ["shop", "pressed", "pressed"]


def test_a_quick_scan_is_coarser_by_ten_and_looks_at_fewer_points():
    part = plain(SHOP, gap_at_least="0.04")
    quick = scan(part, "seat.shaft", quick=True)
    inside(found(quick)["least gap", "shop"], (quick.target.low, 19.96), by=1.001e-3)
    ends: list[int] = []
    for fast in (True, False):
        of = scan(part, "seat.shaft", quick=fast)
        seen: list[float] = []
        whole = of.held_of

        def held_of(name, points, mine, corners, seen=seen, whole=whole):
            seen.extend(points.tolist())
            return whole(name, points, mine, corners)

        of.held_of = held_of
        of.intervals()
        ends.append(len(seen))
    assert ends[0] < ends[1]


def test_how_many_looks_an_edge_of_a_scan_takes():
    """Four points between both ends of a bracket: five times as fine each look, down to 0.1 um."""
    of = scan(plain(SHOP, hole="20", gap_at_least="0.5"), "seat.shaft")
    of.rules = of.rules[1:]
    assert [one.rule.name for one in of.rules] == ["least gap"]
    looks: list[list[float]] = []
    whole = of.held_of

    def held_of(name, points, mine, corners):
        looks.append(points.tolist())
        return whole(name, points, mine, corners)

    of.held_of = held_of
    (((_, edge_),),) = of.intervals()
    assert 19.5 - 1e-4 <= edge_ <= 19.5
    below, above = max(one for one in looks[0] if one <= 19.5), min(one for one in looks[0] if one > 19.5)
    assert [len(one) for one in looks[1:]] == [4] * int(np.ceil(np.log((above - below) / 1e-4) / np.log(5.0)))
    assert looks[1] == pytest.approx([below + share * (above - below) for share in (0.2, 0.4, 0.6, 0.8)])


@pytest.mark.parametrize("text", ["seat.shaft", "seat.hole", "hot.temperature", "pressed.pressure"])
def test_a_scan_begun_with_one_corner_ends_with_the_same_edges(monkeypatch, text: str):
    part = plain(SHOP, COLD, HOT, PRESSED, hole="20.030/20.000", grade="1.8 to 2.2", gap_at_least="0.02", gap_at_most="0.18", push_at_least="2 N", push_at_most="60 N")
    whole = scan(part, text)
    before = whole.intervals()
    monkeypatch.setattr(Scan, "_worst_corners", lambda self, name: {0})
    blind = scan(part, text)
    assert blind.taken == {"seat": {0}}
    after = blind.intervals()
    assert [len(spans) for spans in after] == [len(spans) for spans in before]
    assert np.allclose(np.concatenate([np.ravel(one) for one in after]), np.concatenate([np.ravel(one) for one in before]), atol=2.0 * whole.target.tolerance)
    # It took in what broke an edge, and not everything.
    assert 1 < len(blind.taken["seat"]) < len(next(iter(blind.all["seat"].values())))
    for index, spans in enumerate(after):
        ends = np.array(sorted({end for span in spans for end in span}))
        if len(ends):
            assert blind.held(ends, blind.all)[:, index].all()


def test_corners_that_set_a_worst_are_scanned():
    """The least gap is that of the smallest hole at full pressure, the most that of the largest at none."""
    of = scan(plain(SHOP, PRESSED, gap_at_least="0.04", gap_at_most="0.08"), "seat.shaft")
    corners = of.all["seat"]
    taken = {(float(corners["seat.hole"][one, 0]), float(corners["part.pressure"][one, 0])) for one in of.taken["seat"]}
    assert {(20.0, 1.0), (20.03, 0.0)} <= taken
    assert 0 in of.taken["seat"]
    assert set(of.active()["seat"]) == {"seat.hole", "seat.lean", "part.pressure"}
    assert len(of.active()["seat"]["seat.hole"]) == len(of.taken["seat"])


def test_two_features_are_scanned_each_with_its_own_rules():
    """The hole below carries what runs in it: 20.000 to 20.030 less 0.040 to 0.080 below, 0.060 to 0.090 above."""
    below = plain(hole="20.01", shaft="19.950/19.940", gap_at_least="0.04", gap_at_most="0.08").features["seat"]
    above = plain(hole=SurfaceRef("below", "bore"), shaft="19.93/19.92", gap_at_least="0.06", gap_at_most="0.12").features["seat"]
    part = Part("test", {"below": below, "above": above}, (SHOP, COLD))
    of = scan(part, "below.hole")
    spans = {(rule.feature, rule.rule.name, rule.state): one for rule, one in zip(of.rules, of.intervals(), strict=True)}
    inside(spans["below", "least gap", "shop"], (19.99, of.target.high))
    inside(spans["below", "most gap", "shop"], (of.target.low, 20.02))
    inside(spans["above", "least gap", "shop"], (19.99, of.target.high))
    inside(spans["above", "least gap", "cold"], (20.04, of.target.high))
    inside(spans["above", "most gap", "cold"], (of.target.low, 20.09))
    shop = window(Part("test", part.features, (SHOP,)), "below.hole")
    (interval,) = shop.intervals
    assert (interval.low.at, interval.high.at) == (pytest.approx(19.99, abs=1.1e-4), pytest.approx(20.02, abs=1.1e-4))
    # The first of the rules that end it, and the numbers just beyond: 19.9898 - 19.950.
    assert (interval.low.feature, interval.low.rule) == ("below", "least gap")
    assert interval.low.value == pytest.approx(interval.low.at - 2e-4 - 19.95)


# Just beyond an edge

def test_just_beyond_an_edge_the_rule_fails_at_its_worst_corner():
    """Shaft 19.9602 in the smallest hole: 0.0398 of 0.040."""
    (one,) = window(plain(SHOP, gap_at_least="0.04", gap_at_most="0.08"), "seat.shaft").intervals
    for of, step, hole, rule, reason in ((one.high, 2e-4, 20.0, "least gap", "too tight"), (one.low, -2e-4, 20.03, "most gap", "too loose")):
        assert of.value == pytest.approx(hole - of.at - step)
        assert (of.feature, of.rule, of.state, of.limit, of.why) == ("seat", rule, "shop", 0.04 if step > 0.0 else 0.08, reason)
        assert [(each.label, each.value, each.kind) for each in of.corner] == [("hole", hole, "length")]


def test_beyond_says_value_limit_and_corner():
    part = plain(SHOP, COLD, PRESSED, gap_at_least="0.04", push_at_least="9 N")
    of = scan(part, "seat.shaft")
    rules = {(one.rule.name, one.state): one for one in of.rules}
    value, limit, corner = of.beyond(rules["least gap", "cold"], 19.9)
    assert (value, limit) == (pytest.approx(0.05), 0.04)
    assert corner["seat.hole"] == 20.0
    value, limit, corner = of.beyond(rules["pushes", "pressed"], 19.9)
    # 200 (0.100 - 0.010) + 0: full pressure, leaning left.
    assert (value, limit) == (pytest.approx(18.0), pytest.approx(9.0))
    assert (corner["seat.hole"], corner["part.pressure"], corner["seat.lean"]) == (20.0, 1.0, 0.0)
    # Nothing is known of the gap in an oven.
    hot = scan(plain(SHOP, State("oven", 600.0, 600.0), gap_at_least="0.04"), "seat.shaft")
    unknown = next(one for one in hot.rules if one.rule.name == "least gap" and one.state == "oven")
    assert hot.beyond(unknown, 19.9)[:2] == (None, 0.04)


def test_why_a_rule_is_never_covered():
    part = plain(SHOP, State("oven", 600.0, 600.0), grade=None, gap_at_most="0.04", push_at_least="9 N")
    of = scan(part, "seat.shaft")
    why = {(one.rule.name, one.state): of.why_not_covered(one) for one in of.rules}
    assert why["most gap", "oven"] == "hotter than is known"
    assert why["pushes", "oven"] == "hotter than is known; grade not given"
    assert why["pushes", "shop"] == "grade not given"
    # Where it just fails nothing is missing: 0.090 of 0.040.
    assert why["most gap", "shop"] == ""
    found = window(part, "seat.shaft", ways_out=False)
    assert found.no_window == "never binds (seat, oven) is not covered whatever seat.shaft is: hotter than is known"
    assert next(one.why_not for one in found.rules if one.rule == "pushes" and one.state == "shop") == "grade not given"


# The window

def test_intervals_that_touch_share_a_point():
    assert common([[(0.0, 2.0)], [(2.0, 5.0)]], -9.0, 9.0) == [(2.0, 2.0)]
    assert common([[(4.0, 5.0), (0.0, 2.0)], [(1.0, 4.5)]], 0.0, 9.0) == [(1.0, 2.0), (4.0, 4.5)]
    assert common([[(-3.0, 12.0)]], 0.0, 9.0) == [(0.0, 9.0)]


def test_which_side_of_a_limit_fails():
    at_least, at_most = (plain(gap_at_least="0.04", gap_at_most="0.08").features["seat"].rules[one] for one in (1, 2))
    for value, limit, low, high in ((2.0, 3.0, True, False), (3.0, 3.0, False, False), (4.0, 3.0, False, True), (None, 3.0, False, False), (3.0, None, False, False)):
        assert _fails(at_least, value, limit) is low
        assert _fails(at_most, value, limit) is high


def test_rules_that_exclude_each_other():
    """Gap of 0.090 at least and 0.080 at most: the shaft at most 19.91, and at least 19.92 with this hole."""
    none = window(plain(SHOP, COLD, hole="20", gap_at_least="0.09", gap_at_most="0.08"), "seat.shaft", ways_out=False)
    assert none.no_window == "the rules exclude each other"
    lower, upper = excluding(none)
    assert (lower.rule, lower.state, upper.rule, upper.state) == ("most gap", "shop", "least gap", "cold")
    assert lower.intervals[0][0] == pytest.approx(19.92, abs=1.1e-4)
    assert upper.intervals[-1][1] == pytest.approx(19.86, abs=1.1e-4)
    # One that never holds excludes all by itself.
    never = window(plain(SHOP, hole="20", gap_at_least="0.09", gap_at_most="0.08", push_at_least="1e9 N"), "seat.shaft", ways_out=False)
    assert excluding(never) is None
    assert never.no_window == "pushes (seat, shop) fails whatever seat.shaft is"
    # Where there is a window none excludes another, nor where two rules only touch.
    assert excluding(window(plain(SHOP, gap_at_least="0.04"), "seat.shaft")) is None
    touching = [one._replace(intervals=(span,)) for one, span in zip(none.rules, ((1.0, 3.0), (3.0, 5.0)), strict=False)]
    assert excluding(Window(none.target, (), tuple(touching))) is None
    apart = [one._replace(intervals=(span,)) for one, span in zip(none.rules, ((1.0, 3.0), (3.1, 5.0)), strict=False)]
    assert excluding(Window(none.target, (), tuple(apart))) == (apart[1], apart[0])
    # Of two intervals of one rule the last end counts.
    two = apart[0]._replace(intervals=((1.0, 2.0), (2.5, 4.0)))
    assert excluding(Window(none.target, (), (two, apart[1]))) is None


def test_a_window_is_as_a_scan_finds_it():
    part = plain(SHOP, COLD, gap_at_least="0.01", gap_at_most="0.2")
    of = scan(part, "seat.shaft")
    assert scanned(of).intervals == window(part, "seat.shaft").intervals
    assert len(scanned(of).intervals) == 1
    frame = window(part, "seat.shaft").frame()
    assert len(frame) == 6
    assert frame["max"].min() == pytest.approx(19.94, abs=1.1e-4)


# Along one number

def test_a_grid_is_even_up_to_twenty_times_and_of_equal_ratios_beyond():
    assert grid(1.0, 20.0, 3).tolist() == [1.0, 10.5, 20.0]
    assert grid(1.0, 20.25, 3).tolist() == pytest.approx([1.0, 4.5, 20.25])
    assert grid(0.0, 400.0, 3).tolist() == [0.0, 200.0, 400.0]
    assert grid(0.25, 100.0, 3).tolist() == pytest.approx([0.25, 5.0, 100.0])


def test_ends_of_the_search_are_open_and_edges_lie_inside():
    points = np.linspace(0.0, 10.0, 11)
    (low, high) = intervals(lambda at: np.abs(at - 5.0) - 2.3, points, tolerance=1e-5)
    assert (low.low, low.low_open, low.high_open) == (0.0, True, False)
    assert (high.high, high.low_open, high.high_open) == (10.0, False, True)
    assert 2.7 - 1e-5 <= low.high <= 2.7 + 1e-9
    assert 7.3 - 1e-9 <= high.low <= 7.3 + 1e-5
    (alone,) = intervals(lambda at: 0.2 - np.abs(at - 10.0), points, tolerance=1e-5)
    assert (alone.low_open, alone.high_open, alone.high) == (False, True, 10.0)
    (first,) = intervals(lambda at: 0.2 - np.abs(at), points, tolerance=1e-5)
    assert (first.low, first.low_open, first.high_open) == (0.0, True, False)
    assert first.high == pytest.approx(0.2, abs=1.1e-5)
    (every,) = intervals(lambda at: 0.0 * at, points, tolerance=1e-5)
    assert every == (0.0, 10.0, True, True)


def test_how_many_looks_an_edge_takes():
    """33 points at a time: 32 times as fine each time; from 1 to 1e-5 takes four looks, 1/32^4 is 1e-6."""
    looks: list[int] = []

    def margin(at: np.ndarray) -> np.ndarray:
        looks.append(len(at))
        return 0.4 - at

    assert edge(margin, 0.0, 1.0, 1e-5) == pytest.approx(0.4, abs=1e-5)
    assert looks == [33] * 4
    assert edge(margin, 0.0, 0.3, 1e-5) == pytest.approx(0.3, abs=1e-2)


def test_rounding_holds_and_more_does_not():
    assert holding(np.array([-1e-9, -1.01e-9, 0.0, np.inf, -np.inf, np.nan])).tolist() == [True, False, True, False, False, False]
