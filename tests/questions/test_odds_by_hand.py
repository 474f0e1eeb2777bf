"""Odds piece by piece: how numbers are placed, counted, what a share's interval is, what brings a margin's scatter."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from plain import plain

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions import odds as asked
from fits.questions.along import along, flat
from fits.questions.answer import FAIL, NOT_COVERED, PASS
from fits.questions.evaluate import evaluate
from fits.questions.odds import (
    _apart,
    _at_worst,
    _Count,
    _per_scramble,
    _ranks,
    first_order,
    odds,
    over_limits_of,
    placed,
    scattering,
    shares,
)
from fits.questions.scattered import Odds, Share
from fits.sizes.limits import Limits
from fits.sizes.scatter import Between, Scatter, parse_scatter

SHOP, HOT, OVEN = State("shop"), State("hot", 120.0, 60.0, 5.0), State("oven", 600.0, 600.0)
# Gap 0.050 to 0.090: hole 20.000 to 20.030, shaft 19.940 to 19.950.
ASKED = {"gap_at_least": "0.06", "gap_at_most": "0.085"}


def spread(part: Part, **texts: str) -> Part:
    ends = {"hole": Between(20.0, 20.03), "shaft": Between(19.94, 19.95), "outside": Between(40.0, 42.0), "grade": Between(2.0, 2.0, "number")}
    return replace(part, spreads={f"seat.{name}": parse_scatter(text, ends[name]) for name, text in texts.items()})


# Samples

def test_a_power_of_two_for_each_of_sixteen_scrambles():
    for samples, each in ((16, 64), (17, 64), (1024, 64), (1025, 128), (2048, 128), (2049, 256), (65_536, 4096), (1 << 28, 1 << 24)):
        assert _per_scramble(samples) == each
    for samples in (15, 0, (1 << 28) + 1):
        with pytest.raises(InputError, match=f'samples: "{samples}": from 16 to 268435456 parts can be drawn'):
            _per_scramble(samples)


def test_points_lie_in_the_middle_of_their_steps():
    """Numbers of 30 binary digits and half a step more: never 0, never 1; every sixteenth of the axis alike."""
    blocks = list(_ranks(3, 64, 5))
    assert [one.shape for one in blocks] == [(64, 3)] * 16
    for one in blocks:
        steps = one * 2.0**31
        assert (steps == np.floor(steps)).all()
        assert (np.floor(steps) % 2 == 1).all()
        assert ((one > 0.0) & (one < 1.0)).all()
        assert [np.bincount((one[:, at] * 16).astype(int), minlength=16).tolist() for at in range(3)] == [[4] * 16] * 3
    assert all(not np.array_equal(blocks[0], other) for other in blocks[1:])
    assert np.array_equal(blocks[3], list(_ranks(3, 64, 5))[3])
    assert not np.array_equal(blocks[3], list(_ranks(3, 64, 6))[3])


def test_ranks_become_numbers():
    ranks = np.array([0.1, 0.3, 0.74, 0.76, 0.99])
    measured = Scatter("measured", "", 1.0, 9.0, measured=(9.0, 1.0, 4.0, 2.0))
    assert placed(measured, ranks).tolist() == [1.0, 2.0, 4.0, 9.0, 9.0]
    assert placed(Scatter("uniform", "", 3.0, 5.0), ranks) == pytest.approx([3.2, 3.6, 4.48, 4.52, 4.98])
    bell = NormalDist(7.0, 0.5)
    free = Scatter("normal", "", 6.0, 7.5, middle=7.0, sigma=0.5, ends=False)
    assert placed(free, ranks) == pytest.approx([bell.inv_cdf(one) for one in ranks])
    # Sorted out at both limits: the rest of the bell is all there is.
    low, high = bell.cdf(6.0), bell.cdf(7.5)
    assert placed(replace(free, ends=True), ranks) == pytest.approx([bell.inv_cdf(low + one * (high - low)) for one in ranks])


def test_what_is_drawn():
    """Sizes with a tolerance that a rule depends on, and what a spread is said of; a size on a surface goes with what it stands on."""
    part = plain(outside="41 ±1", length="12 ±0.2", core="10", **ASKED)
    drawn = scattering(part)
    assert [(one.key, one.said, one.kind, one.scatter.form, one.scatter.low, one.scatter.high) for one in drawn] == [
        ("seat.hole", False, "length", "uniform", 20.0, 20.03), ("seat.shaft", False, "length", "uniform", 19.94, 19.95)]
    told = scattering(spread(part, outside="uniform 39 to 40", grade="normal sigma 0.1 at 2.0"))
    assert [(one.key, one.said) for one in told] == [("seat.hole", False), ("seat.shaft", False), ("seat.outside", True), ("seat.grade", True)]
    assert (told[2].scatter.low, told[2].scatter.high) == (39.0, 40.0)
    below, above = plain(**ASKED).features["seat"], plain(hole=SurfaceRef("below", "bore"), **ASKED).features["seat"]
    assert [one.key for one in scattering(Part("test", {"below": below, "above": above}))] == ["below.hole", "below.shaft", "above.shaft"]
    bore = Limits(20.0, 20.03, None, "hole", name="bore")
    twice = Part("test", {"a": plain(hole=bore, **ASKED).features["seat"], "b": plain(hole=bore, **ASKED).features["seat"]})
    assert [one.key for one in scattering(twice)] == ["sizes.bore", "a.shaft", "b.shaft"]
    # A range that is no size does not scatter by itself.
    assert [one.key for one in scattering(plain(grade="1.8 to 2.2", push_at_least="9 N"))] == ["seat.hole", "seat.shaft"]
    with pytest.raises(InputError, match="nothing scatters"):
        scattering(plain(hole="20", shaft="19.94", outside="41 ±1", **ASKED))


def test_nothing_said_is_uniform_between_the_ends():
    found = over_limits_of((4.0, 9.0, 2.0))
    assert (found.form, found.low, found.high) == ("uniform", 2.0, 9.0)


# Counting

def test_what_fails_counts_as_that_whatever_is_not_known():
    count = _Count()
    count.add(3, np.array([True, False, False, True, False]), np.array([True, True, False, False, False]), 5)
    count.add(3, np.array([False]), np.array([True]), 5)
    count.add(7, np.array([False]), np.array([False]), 5)
    assert count.failing.tolist() == [0, 0, 0, 2] + [0] * 12
    assert count.passing.tolist() == [0, 0, 0, 2, 0, 0, 0, 5] + [0] * 8


def test_the_interval_of_a_share_by_students_t():
    """Eight scrambles of 30 and eight of 34 in 64: sd 2.0656/64; t(0.975, 15) = 2.13145 of any table, over 4."""
    counts = np.array([30, 34] * 8)
    found = shares(counts, 64)
    sd = math.sqrt(16 * 4.0 / 15.0) / 64.0
    exact = NormalDist().inv_cdf(0.975) * math.sqrt(0.25 / 1024)
    # The binomial one is the wider here; with a hundred times the points it is the narrower.
    assert found.share == 0.5
    assert found.high - 0.5 == pytest.approx(exact, rel=0.02)
    many = shares(counts * 100, 6400)
    assert many.high - 0.5 == pytest.approx(2.13145 * sd / 4.0, rel=1e-5)
    assert 0.5 - many.low == pytest.approx(2.13145 * sd / 4.0, rel=1e-5)


def test_the_exact_interval_of_a_share():
    """Clopper and Pearson: 5 % of a binomial lies outside, half on either side. 1 of 1024 and 1023 of 1024."""
    one = np.array([1] + [0] * 15)

    def at_most(k: int, n: int, p: float) -> float:
        return sum(math.comb(n, each) * p**each * (1 - p) ** (n - each) for each in range(k + 1))

    few = shares(one, 64)
    assert at_most(1, 1024, few.high) == pytest.approx(0.025, rel=1e-6)
    assert few.low == 0.0
    most = shares(64 - one, 64)
    assert (most.low, most.high) == (pytest.approx(1.0 - few.high), 1.0)
    middle = shares(np.array([20] * 16), 64)
    assert at_most(320, 1024, middle.high) == pytest.approx(0.025, rel=1e-6)
    assert 1.0 - at_most(319, 1024, middle.low) == pytest.approx(0.025, rel=1e-6)
    assert shares(np.zeros(16, dtype=int), 64) == Share(0.0, 0.0, pytest.approx(1.0 - 0.025 ** (1.0 / 1024)))


def share_of_variance(ranks: list[float], margin: list[float], strata: int) -> float:
    """What lies between the means of strata, less what chance leaves there (one-way analysis of variance)."""
    groups: dict[int, list[float]] = {}
    for rank, one in zip(ranks, margin):
        groups.setdefault(int(rank * strata), []).append(one)
    mean = sum(margin) / len(margin)
    total = sum((one - mean) ** 2 for one in margin)
    between = sum(len(group) * (sum(group) / len(group) - mean) ** 2 for group in groups.values())
    within = (total - between) / max(len(margin) - strata, 1)
    return min(max((between - (strata - 1) * within) / total, 0.0), 1.0)


@pytest.mark.parametrize(("count", "strata"), [(20, 2), (47, 2), (48, 3), (64, 4), (511, 31), (512, 32), (2000, 32)])
def test_how_much_of_a_margin_one_dimension_brings(count: int, strata: int):
    random = np.random.default_rng(count)
    ranks, other = random.random(count), random.random(count)
    margin = np.sqrt(ranks) + 0.3 * other + 5.0
    assert first_order(ranks, margin) == pytest.approx(share_of_variance(ranks.tolist(), margin.tolist(), strata), rel=1e-9)
    assert 0.0 <= first_order(other, np.where(ranks > 0.5, 1.0, 0.0)) <= 1.0
    # A step at the middle is all that brings it: all of it, and never more.
    assert first_order((np.arange(64) + 0.5) / 64, np.where(np.arange(64) < 32, 1.0, 2.0)) == 1.0


def test_a_dimension_without_effect_brings_none():
    ranks = np.array([0.1, 0.6] * 32)
    assert first_order(ranks, np.repeat([1.0, 2.0], 32)) == 0.0


# Along the lead

def test_one_rule_at_each_point():
    """Holes of 19.99, 20.02 and 20.05 with shafts of 19.940 and 19.950; cold takes 0.050 in the second state."""
    part = plain(SHOP, State("cold", -30.0, -30.0), gap_at_least="0.01", gap_at_most="0.1")
    lead = np.array([19.99, 20.02, 20.05]).reshape(-1, 1, 1)
    rules = {one.name: one for one in type(part.features["seat"]).rules}
    found = evaluate(part, "seat", given={"seat.hole": lead})
    least = along(rules["least gap"], found)
    assert least.fails.tolist() == [True, False, False]
    assert least.unknown.tolist() == [False, False, False]
    assert least.margin == pytest.approx([-0.02, 0.01, 0.04])
    assert least.columns.tolist() == [0, 1]
    most = along(rules["most gap"], found)
    assert most.fails.tolist() == [False, False, True]
    assert most.margin == pytest.approx([0.05, 0.02, -0.01])


def test_on_its_limit_and_beside_it_along_the_lead():
    part = plain(hole="20", shaft="19.94", gap_at_least="0.01")
    rules = {one.name: one for one in type(part.features["seat"]).rules}
    evaluation = evaluate(part, "seat", values=["gap"], corners={})

    def at(name: str, *gaps: float):
        gap = np.array(gaps).reshape(-1, 1, 1) * np.ones(2)
        return along(rules[name], evaluation._replace(numbers={"gap": gap}))

    assert at("least gap", 0.01, 0.01 - 0.9e-9, 0.01 - 1.1e-9).fails.tolist() == [False, False, True]
    assert at("never binds", 0.0, 0.9e-9, 1.1e-9, -1.0).fails.tolist() == [True, True, False, True]
    nan = at("least gap", 0.5, np.nan, 0.001)
    assert (nan.fails.tolist(), nan.unknown.tolist()) == ([False, False, True], [False, True, False])
    assert nan.margin == pytest.approx([0.49, np.inf, -0.009])
    bound = at("never binds", np.nan, 0.0, 0.5)
    assert (bound.fails.tolist(), bound.unknown.tolist()) == ([False, True, False], [True, False, False])


def test_what_fails_is_not_unknown_as_well():
    """At 600 degC nothing is known; in the shop 0.090 is more than 0.085, so that it fails whatever the rest is."""
    part = plain(SHOP, OVEN, gap_at_most="0.085")
    rule = next(one for one in type(part.features["seat"]).rules if one.name == "most gap")
    lead = np.array([20.02, 20.05]).reshape(-1, 1, 1)
    found = along(rule, evaluate(part, "seat", given={"seat.hole": lead}))
    assert (found.fails.tolist(), found.unknown.tolist()) == ([False, True], [True, False])
    assert found.margin == pytest.approx([0.005, -0.025])


def test_corners_and_columns_side_by_side():
    array = np.arange(12.0).reshape(2, 2, 3)
    assert flat(array, np.array([0, 2])).tolist() == [[0.0, 2.0, 3.0, 5.0], [6.0, 8.0, 9.0, 11.0]]
    assert flat(array, np.array([0, 1, 2])).shape == (2, 6)
    assert flat(array[0], np.array([1])).tolist() == [[1.0, 4.0]]
    assert flat(array[0, 0], np.array([1])).tolist() == [[1.0]]


# Parts that can't be

def test_parts_that_cannot_be_made():
    """A hole must stay below its outside of 20.05, a size above 0; of what isn't drawn the nearer limit counts."""
    part = plain(outside="20.5 ±0.2", core="5", **ASKED)
    hole, shaft = np.array([20.29, 20.3, 20.31, 0.0, -1.0]), np.array([19.94, 5.0, 5.001, 19.94, 19.94])
    assert _apart(part, "seat", {"seat.hole": hole, "seat.shaft": shaft}, 5).tolist() == [False, True, True, True, True]
    assert _apart(part, "seat", {"seat.shaft": np.array([5.0, 5.1])}, 2).tolist() == [True, False]
    outside = np.array([20.03, 20.031])
    assert _apart(part, "seat", {"seat.outside": outside}, 2).tolist() == [True, False]
    both = _apart(part, "seat", {"seat.hole": np.array([20.0, 20.2, 20.1]), "seat.outside": np.array([20.1, 20.1, 20.1])}, 3)
    assert both.tolist() == [False, True, True]
    assert _apart(part, "seat", {}, 2).tolist() == [False, False]
    small = plain(length="0.5 ±0.4", **ASKED)
    drawn = {"seat.length": np.array([1.5, 1.0, 0.5, 1e-9, 0.0, -0.5])}
    assert _apart(small, "seat", drawn, 6).tolist() == [False, False, False, False, True, True]


# Whole

def rule(found: Odds, name: str):
    return next(one for one in found.rules if one.rule == name)


def test_odds_of_a_uniform_gap():
    """Hole less shaft of 30 and 10 um: a trapezium from 0.050 to 0.090; 1/6 lies below 0.060, 1/24 above 0.085."""
    told: list[float] = []
    found = odds(plain(**ASKED), samples=4096, told=told.append)
    assert told == [one / 16 for one in range(1, 17)]
    assert (found.samples, found.seed, found.at_worst) == (4096, 1, ())
    assert rule(found, "least gap").failing.share == pytest.approx(1.0 / 6.0, abs=3e-3)
    assert rule(found, "most gap").failing.share == pytest.approx(1.0 / 24.0, abs=3e-3)
    assert found.failing.share == pytest.approx(5.0 / 24.0, abs=4e-3)
    assert (rule(found, "never binds").failing.share, found.not_covered) == (0.0, pytest.approx(0.0, abs=1e-12))
    least = rule(found, "least gap")
    # Mean margin 0.010, sigma hypot(30, 10)/sqrt(12) um.
    assert least.capability == pytest.approx(0.01 / (3.0 * math.hypot(0.03, 0.01) / math.sqrt(12.0)), rel=0.02)
    assert least.margins is not None
    assert (len(least.margins.counts), sum(least.margins.counts)) == (30, 256)
    assert (least.margins.low, least.margins.high) == (pytest.approx(-0.01, abs=2e-3), pytest.approx(0.03, abs=2e-3))
    assert found.worst_case.verdict == FAIL
    assert found.weakest is least


def test_where_the_scatter_of_a_margin_comes_from():
    """Widths of 30 and 10 um: nine tenths of the variance and one, the greater first."""
    for hole, shaft, first in (("20.03/20", "19.95/19.94", "hole"), ("20.01/20", "19.96/19.93", "shaft")):
        found = rule(odds(plain(hole=hole, shaft=shaft, **ASKED)), "least gap").comes_from
        assert found[0][0] == f"seat.{first}"
        assert [share for _, share in found] == [pytest.approx(0.9, abs=0.01), pytest.approx(0.1, abs=0.01)]


def test_what_brings_less_than_half_a_percent_is_not_named():
    """Widths of 30 and 1.5 um: 0.25 % of the variance."""
    found = rule(odds(plain(shaft="19.9415/19.940", **ASKED), samples=65_536), "least gap")
    assert [name for name, _ in found.comes_from] == ["seat.hole"]
    # 30 and 5.5 um: 3 %.
    found = rule(odds(plain(shaft="19.9455/19.940", **ASKED), samples=65_536), "least gap")
    assert [name for name, _ in found.comes_from] == ["seat.hole", "seat.shaft"]


def test_a_margin_that_does_not_scatter_has_no_capability():
    found = odds(plain(place="5", bow_at_least=4.0, **ASKED), samples=1024)
    bends = rule(found, "bends")
    assert (bends.capability, bends.comes_from, bends.margins, bends.passing.share) == (None, (), None, 1.0)
    assert bends.worst.verdict == PASS
    assert found.weakest is rule(found, "least gap")


def test_what_is_not_covered_has_no_capability_either():
    found = odds(plain(grade=None, push_at_least="9 N", **ASKED), samples=1024)
    push = rule(found, "pushes")
    assert (push.capability, push.not_covered, push.worst.verdict) == (None, 1.0, NOT_COVERED)
    assert found.not_covered == pytest.approx(1.0 - found.failing.share)
    hot = odds(plain(SHOP, OVEN, gap_at_most="0.085"), samples=1024)
    assert rule(hot, "most gap").not_covered == pytest.approx(1.0 - rule(hot, "most gap").failing.share)


def test_what_stays_at_its_worst():
    """A range of grade, the lean and the pressure aren't drawn; the worst of them counts for every part."""
    part = plain(SHOP, HOT, grade="1.8 to 2.2", push_at_least="13 N", **ASKED)
    assert _at_worst(part, {"seat.hole", "seat.shaft"}) == ("grade of seat", "lean of seat", "pressure of part")
    assert _at_worst(part, {"seat.hole"})[0] == "shaft of seat"
    assert _at_worst(plain(**ASKED), {"seat.hole", "seat.shaft"}) == ()
    found = odds(plain(grade="1.8 to 2.2", push_at_least="13.5 N"), samples=4096)
    # 180 gap + 0 of 13.5 N: the gap is at least 0.075; of the trapezium 0.3 lies above 0.075 (by hand: (0.005^2/2 + 0.010 x 0.010)/3e-4... below).
    assert rule(found, "pushes").passing.share == pytest.approx((0.010 * 0.010 / 2 + 0.010 * 0.005) / (0.03 * 0.01), abs=4e-3)


def test_a_feature_without_a_duty_leaves_every_part_open():
    part = Part("test", {"free": plain().features["seat"], "asked": plain(**ASKED).features["seat"]})
    found = odds(part, samples=1024)
    assert found.passing.share == 0.0
    assert found.not_covered == pytest.approx(1.0 - found.failing.share)
    assert found.failing.share == pytest.approx(5.0 / 24.0, abs=0.02)


def test_parts_are_drawn_in_blocks_alike(monkeypatch):
    whole = odds(plain(**ASKED), samples=1024)
    monkeypatch.setattr(asked, "blocks", lambda count, width: (slice(at, min(at + 7, count)) for at in range(0, count, 7)))
    assert odds(plain(**ASKED), samples=1024) == whole


def test_the_weakest_rule():
    base = odds(plain(**ASKED), samples=1024)
    least, most, binds = (rule(base, name) for name in ("least gap", "most gap", "never binds"))
    none = Share(0.0, 0.0, 0.01)
    held = tuple(one._replace(failing=none, capability=cap) for one, cap in ((least, 1.2), (most, 0.9), (binds, None)))
    assert base._replace(rules=held).weakest is held[1]
    assert base._replace(rules=(*held[:1], held[2]._replace(failing=Share(0.5, 0.4, 0.6)))).weakest is held[0]
    assert base._replace(rules=()).weakest is None


def test_a_table_of_odds():
    found = odds(plain(**ASKED), samples=1024)
    frame = found.frame()
    row = frame[frame.rule == "least gap"].iloc[0]
    least = rule(found, "least gap")
    assert (row.passing, row.low, row.high, row.failing, row.not_covered, row.worst_case) == (*least.passing, least.failing.share, least.not_covered, FAIL)
