"""Just on and just beside: shares that count, masks of one column, windows of one point, sizes of 0."""

from __future__ import annotations

import numpy as np
import pytest
from plain import GIVEN, Plain, plain

from fits.features.feature import NotCovered, State
from fits.features.fields import Measure, Spread, SurfaceRef, Undecided
from fits.features.part import Part
from fits.questions import odds as drawing
from fits.questions import options as ringing
from fits.questions.answer import Resting
from fits.questions.check import check, from_memory, rests_on
from fits.questions.evaluate import _check_reasons, _fitting, evaluate
from fits.questions.inputs import inputs_of, sizes_of
from fits.questions.mates import wanted
from fits.questions.odds import odds
from fits.questions.ranges import _near_the_ends
from fits.questions.scan import Scan
from fits.questions.sweep import edge, intervals
from fits.questions.targets import target_of
from fits.questions.window import Window, excluding, window
from fits.sizes.limits import Limits
from fits.tables import Source

SHOP, PRESSED = State("shop"), State("pressed", 20.0, 20.0, 5.0)
ASKED = {"gap_at_least": "0.04", "gap_at_most": "0.08"}


@pytest.mark.parametrize(("share", "named"), [(0.005, True), (0.00499, False)])
def test_half_a_percent_of_a_margin_is_named(monkeypatch, share: float, named: bool):
    monkeypatch.setattr(drawing, "first_order", lambda ranks, margin: share)
    found = odds(plain(SHOP, gap_at_least="0.06"), samples=1024)
    assert bool(found.rules[1].comes_from) is named


# Along one number

def test_an_edge_as_near_as_it_need_be_is_not_looked_for():
    looks: list[int] = []

    def margin(at: np.ndarray) -> np.ndarray:
        looks.append(len(at))
        return 0.4 - at

    assert edge(margin, 0.0, 1.0, 1.0) == 0.0
    assert looks == []
    assert edge(margin, 0.0, 1.0, 0.99) == pytest.approx(0.375)


@pytest.mark.parametrize("holds", [
    [1], [0], [9], [2, 3], [1, 3, 5], [0, 2, 9], [4, 5, 6], [0, 1, 2, 3, 4, 5, 6, 7, 8, 9], [8, 9], [8], [7, 8], [1, 2], [3, 7], [1, 2, 4, 5, 7, 8], [],
])
def test_every_run_of_points_is_an_interval(holds: list[int]):
    """Ten points; each that holds does so 0.3 to either side of it, or as far as the next that does."""
    def margin(at: np.ndarray) -> np.ndarray:
        inside = np.zeros(len(at), dtype=bool)
        for one in holds:
            inside |= np.abs(at - one) <= 0.3
            if one + 1 in holds:
                inside |= (at >= one) & (at <= one + 1)
        return np.where(inside, 0.0, -1.0)

    expected = []
    for one in holds:
        if one - 1 not in holds:
            last = next(end for end in range(one, 11) if end + 1 not in holds)
            expected.append((max(one - 0.3, 0.0), min(last + 0.3, 9.0)))
    found = intervals(margin, np.arange(10.0), tolerance=1e-6)
    assert [(one.low, one.high) for one in found] == [(pytest.approx(low, abs=2e-6), pytest.approx(high, abs=2e-6)) for low, high in expected]
    assert [(one.low_open, one.high_open) for one in found] == [(low == 0.0, high == 9.0) for low, high in expected]


def test_a_search_without_width_is_its_point(monkeypatch):
    part = plain(SHOP, hole="20", gap_at_least="0.04")
    target = target_of(part, "seat.shaft")._replace(low=19.95, high=19.95, centre=19.95, present=None)
    for quick in (True, False):
        assert Scan(part, target, quick=quick).intervals() == [[(19.95, 19.95)], [(19.95, 19.95)]]
    outside = target._replace(low=19.97, high=19.97, centre=19.97)
    assert Scan(part, outside).intervals() == [[(19.97, 19.97)], []]
    monkeypatch.setattr("fits.questions.mates.points_of", lambda target: np.array([19.955]))
    assert wanted(plain(SHOP, **ASKED), "seat.shaft", []) == [(19.955, 19.955)]


def test_of_three_rules_those_that_exclude_each_other_by_the_most():
    base = window(plain(SHOP, hole="20", **ASKED), "seat.shaft", ways_out=False)
    for order in ((0, 1, 2), (2, 1, 0), (1, 0, 2)):
        spans = [((3.0, 4.0), (2.0, 2.5), (0.0, 10.0))[at] for at in order]
        rules = tuple(one._replace(intervals=(span,)) for one, span in zip(base.rules, spans, strict=True))
        lower, upper = excluding(Window(base.target, (), rules))
        assert (lower.intervals, upper.intervals) == (((3.0, 4.0),), ((2.0, 2.5),))
    # Of a rule of two intervals the last counts: up to 9, so that the one up to 4 excludes.
    both = [((4.5, 10.0),), ((0.0, 1.0), (5.0, 9.0)), ((0.0, 4.0),)]
    rules = tuple(one._replace(intervals=spans) for one, spans in zip(base.rules, both, strict=True))
    lower, upper = excluding(Window(base.target, (), rules))
    assert (lower.intervals, upper.intervals) == (both[0], both[2])


# Masks

def test_masks_of_more_or_fewer_columns_than_a_number():
    wide = np.array([[True, False, False], [False, True, False], [False, False, True]])
    assert _fitting(wide, np.zeros((3, 1), dtype=bool)).tolist() == [[False], [False], [True]]
    assert _fitting(wide[2:], np.zeros((2, 1), dtype=bool)).tolist() == [[True], [True]]
    assert _fitting(wide[:2], np.zeros((4, 2, 3), dtype=bool)).tolist() == [wide[:2].tolist()] * 4


@pytest.mark.parametrize(("mask", "where"), [
    (np.array(True), ""), (np.array([True]), ""), (np.array([[True], [False]]), ""), (np.array([True, False, False]), " (shop)"), (np.array([[False, False, False], [False, True, False]]), " (pressed)"),
    (np.array([True, True, False]), " (shop, pressed)"), (np.array([True, True, True]), ""),
])
def test_in_which_states_a_gap_is(mask: np.ndarray, where: str):
    class Unsure(Plain):
        def compute(self, d, s, wanted=None):
            found = super().compute(d, s, wanted)
            return found._replace(gaps=(NotCovered("hole" if mask.ndim else "place", "not read", mask), NotCovered("length", "of no value", mask)))

    part = Part("test", {"seat": Unsure(hole="20", shaft="19.94", grade=2.0, gap_at_least="0.01")}, (SHOP, PRESSED))
    assert check(part).features[0].not_covered == (f"not read{where}",)


@pytest.mark.parametrize(("mask", "where"), [(np.array([True, False]), " (shop)"), (np.array([[False, True], [False, True]]), " (as_made)"), (np.array([[True], [False]]), "")])
def test_in_which_of_one_state_and_as_made_a_gap_is(mask: np.ndarray, where: str):
    class Unsure(Plain):
        def compute(self, d, s, wanted=None):
            return super().compute(d, s, wanted)._replace(gaps=(NotCovered("hole", "not read", mask),))

    part = Part("test", {"seat": Unsure(hole="20", shaft="19.94", grade=2.0, gap_at_least="0.01")}, (SHOP,))
    assert check(part).features[0].not_covered == (f"not read{where}",)


def test_a_nan_of_one_point_and_corner_needs_its_reason():
    evaluation = evaluate(plain(SHOP, PRESSED), "seat", values=["gap"])
    for column, fault in ((0, True), (1, True), (2, False)):
        gap = np.ones((1, 1, 3))
        gap[0, 0, column] = np.nan
        one = evaluation._replace(numbers={"gap": gap}, gaps=())
        if fault:
            with pytest.raises(RuntimeError, match="NaN without a reason"):
                _check_reasons(one, None)
        else:
            _check_reasons(one, None)


@pytest.mark.parametrize(("count", "kept"), [(32_768, None), (32_769, 128)])
def test_of_how_many_corners_those_nearest_the_ends_are_kept(count: int, kept: int | None):
    evaluation = evaluate(plain(SHOP), "seat", values=["gap"])
    rising = np.random.default_rng(2).permutation(float(count) * np.linspace(0.0, 1.0, count)).reshape(-1, 1) * np.ones(2)
    found = _near_the_ends(["x"], evaluation._replace(numbers={"x": rising}, corners={"a": np.arange(float(count)).reshape(-1, 1)}))
    assert (None if found is None else len(found["a"])) == kept


# Sources

def test_what_an_answer_rests_on():
    assert check(plain(SHOP, gap_at_least="0.01")).sources == (GIVEN,)
    memory = Source("someone said so", "memory")
    part = plain(SHOP, gap_at_least="0.01")
    assert rests_on(part, ["seat"]) == ()

    def with_rules(monkeypatch) -> None:
        monkeypatch.setattr(Plain, "rules", tuple(one._replace(source=memory) if one.name in ("least gap", "most gap") else one for one in Plain.rules))

    with pytest.MonkeyPatch.context() as patch:
        with_rules(patch)
        assert rests_on(part, ["seat"]) == (Resting("seat", "least gap", (memory,)),)
        assert check(part).sources == (GIVEN, memory)
        least = next(one for one in Plain.rules if one.name == "least gap")
        assert from_memory(part, "seat", least) == (memory,)
        assert next(one for one in check(part).features[0].checks if one.rule == "least gap").memory == (memory,)
        assert next(one for one in check(part).features[0].checks if one.rule == "never binds").memory == ()


# Sizes

def test_a_size_on_a_surface_is_that_as_it_is_made():
    """A bore that grows by 0.5 mm/MPa is shown as it is without pressure."""
    class Breathing(Plain):
        def compute(self, d, s, wanted=None):
            found = super().compute(d, s, wanted)
            if "bore" in found.numbers:
                found.numbers["bore"] = found.numbers["bore"] + 0.5 * s.pressure
            return found

    below, above = plain().features["seat"], plain(hole=SurfaceRef("below", "bore")).features["seat"]
    below = Breathing(**{name: getattr(below, name) for name in ("hole", "shaft", "grade")})
    part = Part("test", {"below": below, "above": above}, (PRESSED, PRESSED._replace(name="again")))
    (hole, _) = sizes_of(part.features["above"], evaluate(part, "above"))
    assert (hole.lower, hole.upper) == (20.0, 20.03)
    assert inputs_of(part.features["above"])["hole"] == "below.bore"


def test_a_size_of_0_is_none_and_one_of_half_a_millimetre_is():
    for core, shown in ((0.0, False), (0.5, True)):
        part = plain(core=Limits(core, core, core))
        assert ("core" in [one.name for one in sizes_of(part.features["seat"], evaluate(part, "seat"))]) is shown


# Rings

@pytest.mark.parametrize(("score", "fitting"), [(0.0, 0), (1.0, 2), (-1.0, 0)])
def test_what_holds_at_no_point_does_not_fit(monkeypatch, score: float, fitting: int):
    monkeypatch.setattr(Plain, "chosen", "grade")
    monkeypatch.setattr(Plain, "sized_by", ("shaft",))
    monkeypatch.setattr(Plain, "near", lambda self, field: 19.94)
    monkeypatch.setattr(Measure, "others", lambda self: [("a", Spread(2.0, 2.0)), ("b", Spread(3.0, 3.0))])
    monkeypatch.setattr(ringing, "_held_at_nominal", lambda part, name, target: score)
    part = plain(SHOP, hole="20", shaft=Undecided(), grade=Undecided(), **ASKED)
    assert ringing.options(part, "seat").fitting == fitting


@pytest.mark.parametrize(("middle", "apart", "scatters"), [
    # A scatter of less than 1e-12 of the margin is rounding, of a margin of nothing less than 1e-21.
    (1e-3, 1e-13, True), (1e-3, 5e-16, False), (-1e-3, 1e-13, True), (8.0, 4e-12, False), (8.0, 4e-11, True), (0.0, 1e-20, True), (0.0, 1e-22, False),
])
def test_a_margin_that_scatters_by_rounding_only_has_no_capability(middle: float, apart: float, scatters: bool):
    part = plain(SHOP, gap_at_least="0.06")
    worst = next(one for one in check(part).features[0].checks if one.rule == "least gap")
    rule = next(one for one in Plain.rules if one.name == "least gap")
    margin = middle + apart * np.array([-1.0, 1.0] * 32)
    asked = drawing._Asked("seat", rule, drawing._Count(), [margin[:40], margin[40:]])
    found = drawing._rule_odds(asked, worst, (), {}, 64)
    assert (found.capability is not None) is scatters
    if scatters:
        assert found.capability == pytest.approx(float(margin.mean()) / (3.0 * float(margin.std())))
        assert sum(found.margins.counts) == 64
