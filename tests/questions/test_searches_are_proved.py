"""What is searched with a few corners counts only as far as it holds at all of them."""

from __future__ import annotations

import numpy as np
import pytest
from plain import plain

from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions import scan as scanning
from fits.questions.boxes import Boxes
from fits.questions.judge import judge
from fits.questions.judged_group import Group
from fits.questions.judgement import UNDECIDED, Cut
from fits.questions.mates import mating, wanted
from fits.questions.measured import measured, with_sizes
from fits.questions.targets import points_of, target_of
from fits.sizes.reading import Reading

SHOP = State("shop")
# Hole 20.000 to 20.030, shaft 19.940 to 19.950.
ASKED = {"gap_at_least": "0.04", "gap_at_most": "0.08"}


def read(value: float, doubt: float = 0.001, label: str = "seat.hole") -> Reading:
    return Reading("a", label, value, doubt, "ring gauge", 20.0)


@pytest.fixture
def blind(monkeypatch) -> None:
    """No corner but the first is ever said to set a worst."""
    monkeypatch.setattr(Boxes, "setting", lambda self, low, high: {name: {0} for name in self.features})


def test_a_mate_whose_end_cannot_be_proved_is_none(blind):
    """With the smallest hole alone a shaft of 19.920 would do; with all of them none below 19.950 does."""
    assert wanted(plain(SHOP, **ASKED), "seat.shaft", []) == []
    # Only the smallest hole counts: both ends hold.
    (span,) = wanted(plain(SHOP, gap_at_least="0.04"), "seat.shaft", [])
    assert span[1] == pytest.approx(19.96, abs=1.01e-4)


def test_a_mate_is_sought_again_with_the_corners_that_break_it(monkeypatch):
    whole, calls = Boxes.setting, []

    def setting(self, low, high):
        calls.append(len(next(iter(low.values()))))
        return whole(self, low, high) if len(calls) > 1 else {name: {0} for name in self.features}

    monkeypatch.setattr(Boxes, "setting", setting)
    (span,) = wanted(plain(SHOP, **ASKED), "seat.shaft", [])
    assert span == (pytest.approx(19.95, abs=1.01e-4), pytest.approx(19.96, abs=1.01e-4))
    assert 19.95 - 1e-9 <= span[0] < span[1] <= 19.96 + 1e-9
    # First every so manieth of the points, sixteen or some more, then both ends twice.
    points = len(points_of(target_of(plain(SHOP, **ASKED), "seat.shaft")))
    assert calls == [-(-points // (points // 16)), 2, 2]


def test_an_uncertainty_that_cannot_be_proved_to_decide_is_none(monkeypatch):
    """0.0795 +-0.001 of 0.080: half of the doubt decides; sought at the wrong corner all of it would seem to."""
    part = plain(SHOP, **ASKED)
    (sure,) = judge(part, [read(20.0195)]).parts
    assert sure.needs == {"seat.hole": pytest.approx(0.0005, abs=1e-7)}
    monkeypatch.setattr(Group, "_setting_within", lambda self, rows: {"seat": {0}})
    (found,) = judge(part, [read(20.0195)]).parts
    assert (found.function, found.needs) == (UNDECIDED, None)


@pytest.mark.parametrize(("quick", "share"), [(False, 16), (True, 6)])
def test_at_how_many_points_a_scan_looks_for_the_corners_that_set_a_worst(monkeypatch, quick: bool, share: int):
    seen: list[int] = []
    whole = scanning.swept

    def swept(part, name, target, points, corners):
        seen.append(len(points))
        return whole(part, name, target, points, corners)

    monkeypatch.setattr(scanning, "swept", swept)
    target = target_of(plain(SHOP, **ASKED), "seat.shaft")
    scanning.Scan(plain(SHOP, **ASKED), target, quick=quick)
    points = len(points_of(target))
    # One point says which rules are asked.
    assert seen == [1, -(-points // (points // share))]


def test_a_cut_sought_with_one_corner_is_proved_at_all(blind):
    """The largest finished hole is 20.020 less the doubt, whatever the smallest would allow."""
    (found,) = judge(plain(SHOP, **ASKED), [read(19.990)]).parts
    assert found.sizes[0].cut == Cut(pytest.approx(20.001), pytest.approx(20.0185), pytest.approx(0.011), pytest.approx(0.0285))


def test_mates_only_of_what_is_off_or_fails():
    """What is read of a fit that fails, or is outside its drawing, wants another mate; what wasn't read of it is sought."""
    below, above = plain(**ASKED).features["seat"], plain(hole=SurfaceRef("below", "bore"), shaft="19.93/19.92", gap_at_least="0.06", gap_at_most="0.12").features["seat"]
    part = with_sizes(Part("test", {"below": below, "above": above}, (SHOP,)), {"below.hole": (20.02, 20.02)})

    def of(labels: list[str], off: list[str], failing: list[str]) -> list[str]:
        return [mate.dimension for mate in mating(part, labels, off, failing)]

    assert of(["below.hole"], ["below.hole"], []) == ["below.shaft", "above.shaft"]
    assert of(["below.hole"], [], ["above"]) == ["above.shaft"]
    assert of(["below.hole"], [], ["below"]) == ["below.shaft"]
    assert of(["below.hole"], [], []) == []
    assert of(["below.shaft"], ["below.shaft"], []) == ["below.hole"]
    assert of(["below.hole", "below.shaft"], ["below.hole"], []) == ["above.shaft"]
    assert of(["above.shaft"], [], ["above"]) == ["below.hole"]


def test_boxes_hold_where_all_rules_do():
    boxes = Boxes(plain(SHOP, **ASKED), ["seat.hole"])
    sizes = np.array([19.989, 19.991, 20.0, 20.019, 20.021])
    assert boxes.holds({"seat.hole": sizes}, {"seat.hole": sizes}).tolist() == [False, True, True, True, False]
    # At the corner of the smallest shaft the least gap isn't seen.
    assert boxes.holds({"seat.hole": sizes}, {"seat.hole": sizes}, only={"seat": {0}}).tolist() == [True, True, True, True, False]


@pytest.mark.parametrize(("count", "probed"), [(1, 1), (63, 63), (64, 32), (126, 63), (128, 43), (130, 44)])
def test_how_many_parts_stand_for_all_in_a_search(monkeypatch, count: int, probed: int):
    """At most 64: every part, every second, every third; fourteen halvings, and one look at all corners."""
    part = plain(SHOP, **ASKED)
    sizes = [[next(iter(one.values()))] for one in measured(part, [read(20.0195)._replace(part=f"p{index}") for index in range(count)]).values()]
    group = Group(part, sizes)
    seen: list[int] = []
    looks: list[bool] = []
    whole, setting, decided = Group._setting_within, Boxes.setting, Group._decided

    def of_boxes(self, low, high):
        seen.append(len(low["seat.hole"]))
        return setting(self, low, high)

    def within(self, rows):
        seen.append(len(rows))
        return whole(self, rows)

    def look(self, rows, share, *, only=None):
        looks.append(only is None)
        return decided(self, rows, share, only=only)

    monkeypatch.setattr(Boxes, "setting", of_boxes)
    monkeypatch.setattr(Group, "_setting_within", within)
    monkeypatch.setattr(Group, "_decided", look)
    found = list(group.judged([f"p{index}" for index in range(count)]))
    assert {one.function for one in found} == {UNDECIDED}
    # Of all, then of those that are undecided, which are all: at both ends and the middle of the doubt and of half of it.
    assert seen == [probed] * 8
    assert looks == [False] * 14 + [True]
