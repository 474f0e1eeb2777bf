"""Measured parts against plain sums: worst of every box, rooms, what is left to cut, what would decide, mates."""

from __future__ import annotations

import numpy as np
import pytest
from plain import Plain, plain

from fits.errors import Fault, InputError
from fits.features.feature import Refusal, State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions import judge as judging
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED
from fits.questions.boxes import Boxes, any_of
from fits.questions.explain import explain
from fits.questions.judge import Judging, judge
from fits.questions.judged_group import Group
from fits.questions.judgement import ACCEPT, REJECT, REWORK, UNDECIDED, Cut, PartJudgement
from fits.questions.mates import members, wanted
from fits.questions.measured import measured
from fits.questions.telling import telling
from fits.sizes.reading import Reading

SHOP, COLD, PRESSED, OVEN = State("shop"), State("cold", -30.0, -30.0), State("pressed", 20.0, 20.0, 5.0), State("oven", 600.0, 600.0)
# Hole 20.000 to 20.030, shaft 19.940 to 19.950: gap 0.050 to 0.090.
ASKED = {"gap_at_least": "0.04", "gap_at_most": "0.08"}


def read(value: float, doubt: float = 0.001, *, label: str = "seat.hole", who: str = "a", **more) -> Reading:
    return Reading(who, label, value, doubt, more.pop("instrument", "ring gauge"), 20.0, **more)


def one(part: Part, *readings: Reading) -> PartJudgement:
    (found,) = judge(part, readings).parts
    return found


# Boxes

def box(part: Part, low: list[float], high: list[float]) -> dict:
    boxes = Boxes(part, ["seat.hole"])
    found = boxes.worst({"seat.hole": np.array(low)}, {"seat.hole": np.array(high)})
    return {asked.rule.name: (worst, boxes) for asked, worst in zip(boxes.asked, found, strict=True)}


def test_the_worst_of_each_box():
    """Holes of 20.00 to 20.01, 20.02 to 20.05 and 19.98 to 20.06 with the drawing's shafts; cold takes 0.050."""
    found = box(plain(SHOP, COLD, gap_at_least="0.01", gap_at_most="0.1"), [20.0, 20.02, 19.98], [20.01, 20.05, 20.06])
    least, boxes = found["least gap"]
    assert least.margin == pytest.approx([-0.01, 0.01, -0.03])
    assert least.column.tolist() == [1, 1, 1]
    assert least.fails.tolist() == [True, False, True]
    most, _ = found["most gap"]
    assert most.margin == pytest.approx([0.03, -0.01, -0.02])
    assert most.column.tolist() == [0, 0, 0]
    assert most.fails.tolist() == [False, True, True]
    assert not most.unknown.any()
    corners = boxes.corners["seat"]
    # 0 stands for the least of the box, 1 for its greatest.
    for worst, hole, shaft in ((least, 0.0, 19.95), (most, 1.0, 19.94)):
        assert {(float(corners["seat.hole"][at, 0]), float(corners["seat.shaft"][at, 0])) for at in worst.corner} == {(hole, shaft)}
    assert [boxes.state(index, column) for index in (1, 2) for column in (0, 1)] == ["shop", "cold"] * 2
    assert boxes.value(1).name == "gap"
    assert boxes.holds({"seat.hole": np.array([20.02, 20.02])}, {"seat.hole": np.array([20.03, 20.05])}).tolist() == [True, False]


def test_what_is_unknown_in_a_box():
    """Nothing is known at 600 degC: most is unknown there, and fails where it fails in the shop; the least rests on the shop alone."""
    found = box(plain(SHOP, OVEN, gap_at_least="0.01", gap_at_most="0.1"), [20.0, 20.02], [20.01, 20.05])
    most, _ = found["most gap"]
    assert (most.fails.tolist(), most.unknown.tolist()) == ([False, True], [True, True])
    assert most.margin == pytest.approx([0.03, -0.01])
    only = box(plain(OVEN, gap_at_least="0.01", gap_at_most="0.1"), [20.0], [20.01])["most gap"][0]
    assert (only.margin.tolist(), only.fails.tolist(), only.unknown.tolist()) == ([np.inf], [False], [True])


def test_boxes_at_some_corners_only_and_in_blocks(monkeypatch):
    part = plain(SHOP, COLD, **ASKED)
    boxes = Boxes(part, ["seat.hole"])
    low, high = ({"seat.hole": np.linspace(at, at + 0.05, 11)} for at in (19.99, 20.0))
    whole = boxes.worst(low, high)
    setting = boxes.setting(low, high)
    assert set(setting) == {"seat"}
    assert setting["seat"] == {0, *(int(at) for each in whole for at in each.corner)}
    some = boxes.worst(low, high, only=setting)
    assert [each.margin.tolist() for each in some] == [each.margin.tolist() for each in whole]
    monkeypatch.setattr("fits.questions.boxes.blocks", lambda count, width: (slice(at, min(at + 4, count)) for at in range(0, count, 4)))
    assert all(np.array_equal(a, b) for x, y in zip(boxes.worst(low, high), whole, strict=True) for a, b in zip(x, y, strict=True))
    # At the corner of the greatest hole alone the least gap isn't seen.
    corners = boxes.corners["seat"]
    large = {at for at in range(len(corners["seat.hole"])) if corners["seat.hole"][at, 0] == 1.0}
    assert boxes.worst(low, high, only={"seat": large})[1].margin[0] == pytest.approx(whole[1].margin[0] + 0.01)


def test_how_fast_margins_go_with_a_size():
    """1 mm of gap a mm of either; 200 N of push a mm; a bow not at all; a size without tolerance is moved by 1e-4 of itself."""
    part = plain(SHOP, place="5", bow_at_least=1.0, push_at_least="9 N", **ASKED)
    boxes = Boxes(part, ["seat.hole", "seat.shaft"])
    drawing = {"seat.hole": part.features["seat"].hole, "seat.shaft": part.features["seat"].shaft}
    names = [asked.rule.name for asked in boxes.asked]
    slopes = dict(zip(names, boxes.per_mm(drawing), strict=True))
    assert slopes == {"never binds": pytest.approx(1.0), "least gap": pytest.approx(1.0), "most gap": pytest.approx(1.0), "pushes": pytest.approx(200.0), "bends": 0.0}
    exact = plain(SHOP, hole="20", push_at_least="9 N", **ASKED)
    alone = Boxes(exact, ["seat.hole"])
    assert alone.per_mm({"seat.hole": exact.features["seat"].hole}) == pytest.approx([1.0, 1.0, 1.0, 200.0])
    assert boxes.per_mm(drawing, ["seat.shaft"])[3] == pytest.approx(200.0)
    unknown = Boxes(plain(OVEN, **ASKED), ["seat.hole"])
    assert unknown.per_mm({"seat.hole": exact.features["seat"].hole}).tolist() == [0.0, 0.0, 0.0]


def test_a_slope_that_changes_is_the_steepest(monkeypatch):
    """Of two sizes that move a rule by 1 and by 3 a mm the faster counts."""
    part = plain(SHOP, **ASKED)
    boxes = Boxes(part, ["seat.hole", "seat.shaft"])
    drawing = {"seat.hole": part.features["seat"].hole, "seat.shaft": part.features["seat"].shaft}
    seen = []

    def worst(low, high, *, only=None):
        seen.append((low["seat.hole"].tolist(), low["seat.shaft"].tolist()))
        margin = 5.0 + 1.0 * low["seat.hole"] - 3.0 * low["seat.shaft"]
        return (boxes_worst(margin),) * 3

    def boxes_worst(margin):
        from fits.questions.boxes import Worst

        none = np.zeros(len(margin), dtype=int)
        return Worst(margin, none, none, none > 0, none > 0)

    monkeypatch.setattr(boxes, "worst", worst)
    assert boxes.per_mm(drawing) == pytest.approx([3.0, 3.0, 3.0])
    ((holes, shafts),) = seen
    assert holes == pytest.approx([20.0, 20.03, 20.015, 20.015])
    assert shafts == pytest.approx([19.945, 19.945, 19.94, 19.95])


def test_without_a_duty_nothing_holds():
    part = plain(SHOP)
    boxes = Boxes(part, ["seat.hole"])
    assert boxes.no_duty == ("seat: no gap is asked for",)
    sizes = {"seat.hole": np.array([20.01, 20.02])}
    assert boxes.holds(sizes, sizes).tolist() == [False, False]
    assert not boxes.worst(sizes, sizes)[0].fails.any()
    nothing = Boxes(plain(SHOP, **ASKED), ["other.hole"])
    assert (nothing.features, nothing.asked) == ((), ())
    assert nothing.holds(sizes, sizes).tolist() == [True, True]


def test_any_of_some_masks():
    assert any_of([np.array([True, False, False]), np.array([False, False, True])], 3).tolist() == [True, False, True]
    assert any_of([], 2).tolist() == [False, False]


# Verdicts of function

@pytest.mark.parametrize(("value", "doubt", "function", "room", "rule"), [
    # Of at most 0.080 with shafts from 19.940: up to 20.020; of at least 0.040 with shafts to 19.950: from 19.990.
    (20.010, 0.001, PASS, 0.009, "most gap"), (20.019, 0.001, PASS, 0.0, "most gap"), (20.0195, 0.001, UNDECIDED, -0.0005, "most gap"),
    (20.021, 0.0009, FAIL, -0.0019, "most gap"), (19.999, 0.001, PASS, 0.008, "least gap"), (19.9895, 0.001, UNDECIDED, -0.0015, "least gap"), (19.985, 0.001, FAIL, -0.006, "least gap"),
])
def test_function_of_a_hole(value: float, doubt: float, function: str, room: float, rule: str):
    found = one(plain(SHOP, **ASKED), read(value, doubt))
    assert found.function == function
    tightest = found.tightest
    assert (tightest.rule, tightest.room, tightest.margin) == (rule, pytest.approx(room, abs=1e-9), pytest.approx(room, abs=1e-9))
    assert (tightest.feature, tightest.state, tightest.kind, tightest.digits) == ("seat", "shop", "length", 4)
    assert [each.rule for each in found.failing] == ([] if function == PASS else [rule])
    assert found.needs == (None if function != UNDECIDED else {"seat.hole": pytest.approx(abs(room + doubt), abs=doubt / 2**14)})


def test_the_room_of_a_push_is_its_margin_in_mm():
    """200 x (20.009 - 19.950) = 11.8 N of 11: 0.8 N are 4 um."""
    found = one(plain(SHOP, gap_at_least="0.01", push_at_least="11 N"), read(20.010))
    assert (found.tightest.rule, found.tightest.margin, found.tightest.room) == ("pushes", pytest.approx(0.8), pytest.approx(0.004))
    assert found.tightest.kind == "force"


def test_what_isn_t_moved_by_the_size_has_no_room():
    """A bow of 4 of 3.9999 leaves less than the gap, but no size of it."""
    found = one(plain(SHOP, place="4", bow_at_least=3.9999, **ASKED), read(20.010))
    assert (found.function, found.tightest.rule, found.tightest.room) == (PASS, "most gap", pytest.approx(0.009))
    both = one(plain(OVEN, gap_at_least="0.01"), read(20.010))
    assert (both.tightest, both.function) == (None, NOT_COVERED)


def test_two_sizes_are_undecided_together_or_fail_together():
    """20.010 - 19.929 = 0.081: with doubts of 1 and 0.5 um each way 0.0795 to 0.0825. Needs by the same share of both: a third and less."""
    part = plain(SHOP, **ASKED)
    found = one(part, read(20.010, 0.001), read(19.929, 0.0005, label="seat.shaft"))
    assert found.function == UNDECIDED
    share = 0.001 / 0.0015
    assert found.needs == {"seat.hole": pytest.approx(share * 0.001, abs=2e-7), "seat.shaft": pytest.approx(share * 0.0005, abs=2e-7)}
    assert one(part, read(20.010, 0.0005), read(19.929, 0.0002, label="seat.shaft")).function == FAIL
    # Either rule fails somewhere, but none wherever the true sizes are.
    tight = one(plain(SHOP, gap_at_least="0.0801", gap_at_most="0.0802"), read(20.010, 0.001), read(19.9299, 0.0005, label="seat.shaft"))
    assert (tight.function, len(tight.failing)) == (UNDECIDED, 2)


def test_what_is_not_covered_is_named_where_it_doesn_t_fail():
    found = one(plain(SHOP, grade=None, push_at_least="9 N", **ASKED), read(20.010))
    assert (found.function, found.not_covered, found.verdict) == (NOT_COVERED, ("seat: pushes",), UNDECIDED)
    free = one(plain(SHOP), read(20.010))
    assert (free.function, free.not_covered) == (NOT_COVERED, ("seat: no gap is asked for",))
    fails = one(plain(SHOP, grade=None, push_at_least="9 N", **ASKED), read(20.0195, 0.001))
    assert (fails.function, fails.left_open) == (UNDECIDED, True)
    assert one(plain(SHOP, **ASKED), read(20.0195, 0.001)).left_open is False
    assert one(plain(SHOP, **ASKED), read(20.010, 0.001)).left_open is False


def test_true_sizes_lie_anywhere_in_the_doubt():
    readings = [read(20.010, 0.004), read(20.012, 0.004), read(19.945, 0.002, label="seat.shaft")]
    (sizes,) = measured(plain(SHOP, **ASKED), readings).values()
    group = Group(plain(SHOP, **ASKED), [[sizes["seat.hole"], sizes["seat.shaft"]]])
    moved = [(low["seat.hole"][0], high["seat.hole"][0], low["seat.shaft"][0]) for low, high in group._true(np.array([0]), np.array([0.5]))]
    assert moved == [pytest.approx(each) for each in (
        (20.008, 20.010, 19.944), (20.008, 20.010, 19.946), (20.012, 20.014, 19.944), (20.012, 20.014, 19.946), (20.010, 20.012, 19.945))]
    low, high = group.box(np.array([0]), 0.25)
    assert (low["seat.hole"][0], high["seat.hole"][0], high["seat.shaft"][0]) == (pytest.approx(20.009), pytest.approx(20.013), pytest.approx(19.9455))
    low, high = group.box(np.array([0]))
    assert (low["seat.hole"][0], high["seat.hole"][0]) == (pytest.approx(20.006), pytest.approx(20.016))


# What is left to cut

def test_a_hole_that_is_too_small_is_cut_to_where_both_drawing_and_function_hold():
    """20.000 to 20.030 less 1 um: 32 steps of 0.875 um from 20.001; function to 20.020 less the doubt: the twentieth step."""
    found = one(plain(SHOP, **ASKED), read(19.990))
    assert found.verdict == REWORK
    cut = found.sizes[0].cut
    assert cut == Cut(pytest.approx(20.001), pytest.approx(20.001 + 20 * 0.028 / 32), pytest.approx(0.011), pytest.approx(0.011 + 20 * 0.028 / 32))


def test_a_shaft_that_is_too_large_is_cut_the_other_way():
    """19.941 to 19.949 in steps of 0.25 um; gap of at most 0.0868 in 20.030 needs 19.9432 and the doubt: the thirteenth step."""
    found = one(plain(SHOP, gap_at_least="0.04", gap_at_most="0.0868"), read(19.960, label="seat.shaft"))
    assert found.verdict == REWORK
    cut = found.sizes[0].cut
    assert cut == Cut(pytest.approx(19.941 + 13 * 0.00025), pytest.approx(19.949), pytest.approx(0.011), pytest.approx(19.960 - 19.941 - 13 * 0.00025))


def test_form_that_was_not_read_is_charged_to_the_finished_size_too():
    """A band of 1 + 2 um at both limits; now is the reading itself, without its form."""
    found = one(plain(SHOP, form_hole="0.002", gap_at_least="0.04", gap_at_most="0.2"), read(19.990))
    assert found.sizes[0].cut == Cut(pytest.approx(20.003), pytest.approx(20.027), pytest.approx(0.013), pytest.approx(0.037))
    shaft = one(plain(SHOP, form_shaft="0.002", gap_at_least="0.01", gap_at_most="0.2"), read(19.960, 0.0005, label="seat.shaft"))
    assert shaft.sizes[0].cut == Cut(pytest.approx(19.9425), pytest.approx(19.9475), pytest.approx(0.0125), pytest.approx(0.0175))


def test_inside_its_drawing_a_hole_is_cut_on_from_what_it_is():
    """Inside at 20.004, but the gap of at least 0.060 needs 20.010 and the doubt: nothing below 20.004 can be reached."""
    found = one(plain(SHOP, gap_at_least="0.06", gap_at_most="0.2"), read(20.004))
    assert (found.drawing, found.function, found.verdict) == ("inside", FAIL, REWORK)
    step = (20.029 - 20.004) / 32
    first = int(np.ceil((20.011 - 20.004) / step - 1e-6))
    assert found.sizes[0].cut == Cut(pytest.approx(20.004 + first * step), pytest.approx(20.029), pytest.approx(first * step), pytest.approx(0.025))


def test_where_cutting_reaches_nothing_there_is_no_cut():
    part = plain(SHOP, **ASKED)
    # Too large already; and a length says not from which side it is cut.
    assert one(part, read(20.040)).sizes[0].cut is None
    assert one(plain(SHOP, length="12 ±0.1", **ASKED), read(20.010), read(11.0 + 0.5, label="seat.length")).sizes[1].cut is None
    # The doubt eats the tolerance: 2 x 5 of 10 um leave one size, 2 x 5.1 none.
    wide = plain(SHOP, gap_at_least="0.001", gap_at_most="0.2")
    assert one(wide, read(19.960, 0.0049, label="seat.shaft")).sizes[0].cut is not None
    eaten = one(wide, read(19.960, 0.0051, label="seat.shaft")).sizes[0]
    assert (eaten.cut, eaten.cant_prove) == (None, True)
    # 2 x 1/64 of 1/32 mm leave one size alone, exactly; nobody cuts to one, nor to one without tolerance.
    even = plain(SHOP, hole="20.03125/20.00000", gap_at_least="0.001", gap_at_most="0.2")
    assert one(even, read(19.9, 1 / 64)).sizes[0].cut is None
    assert one(even, read(19.9, 1 / 65)).sizes[0].cut is not None
    assert one(plain(SHOP, hole="20", **ASKED), read(19.9)).sizes[0].cut is None
    # A part that is as it should be needs none.
    assert one(part, read(20.010)).sizes[0].cut is None


def test_other_sizes_that_are_outside_are_taken_as_they_will_be_cut():
    """The shaft of 19.99 will be cut to 19.940 to 19.950: 20.0268 less the doubt is the 28th step; the shaft goes with any hole."""
    found = one(plain(SHOP, gap_at_least="0.04", gap_at_most="0.0868"), read(19.990), read(19.990, label="seat.shaft"))
    assert found.verdict == REWORK
    assert found.sizes[0].cut == Cut(pytest.approx(20.001), pytest.approx(20.0255), pytest.approx(0.011), pytest.approx(0.0355))
    assert found.sizes[1].cut == Cut(pytest.approx(19.941 + 13 * 0.00025), pytest.approx(19.949), pytest.approx(0.041), pytest.approx(0.049 - 13 * 0.00025))
    # A shaft that is inside stays as it was read: 19.943 to 19.945.
    inside = one(plain(SHOP, **ASKED), read(19.990), read(19.944, label="seat.shaft"))
    assert inside.sizes[0].cut.high == pytest.approx(20.001 + 24 * 0.028 / 32)
    assert inside.sizes[1].cut is None


def test_an_undecided_size_is_cut_on_too():
    """20.0005 isn't proved to be above 20.000; one cut to 20.001 is."""
    found = one(plain(SHOP, **ASKED), read(20.0005))
    assert (found.drawing, found.function, found.verdict) == ("undecided", PASS, UNDECIDED)
    assert found.sizes[0].cut == Cut(pytest.approx(20.001), pytest.approx(20.0185), pytest.approx(0.0005), pytest.approx(0.018))


# Mates

def test_mates_of_a_hole_that_is_too_large():
    """20.040 +-0.001 with a gap of 0.040 to 0.080: 19.961 to 19.999."""
    found = one(plain(SHOP, **ASKED), read(20.040))
    assert (found.verdict, found.function) == (REJECT, FAIL)
    (mate,) = found.mates
    assert mate.dimension == "seat.shaft"
    assert mate.spans == ((pytest.approx(19.961, abs=1.1e-4), pytest.approx(19.999, abs=1.1e-4)),)
    assert mate.spans[0][0] >= 19.961 - 1e-9
    assert mate.spans[0][1] <= 19.999 + 1e-9
    assert members(plain(SHOP), "seat") == ("seat.hole", "seat.shaft")
    # Both were read: there is none to look for.
    assert one(plain(SHOP, **ASKED), read(20.040), read(19.940, label="seat.shaft")).mates == ()
    assert one(plain(SHOP, **ASKED), read(20.010)).mates == ()


def test_mates_must_hold_for_all_that_stands_on_what_was_read():
    """A bore below carries two shafts, and what runs above must hold as well: it leaves 19.93 at the least."""
    below = plain(**ASKED).features["seat"]
    above = plain(hole=SurfaceRef("below", "bore"), shaft="19.93/19.92", gap_at_least="0.06", gap_at_most="0.12").features["seat"]
    part = Part("test", {"below": below, "above": above}, (SHOP,))
    from fits.questions.measured import with_sizes

    good, bad = (with_sizes(part, {"below.hole": (at, at)}) for at in (20.02, 20.05))
    assert wanted(good, "below.shaft", ["below.hole"]) == [(pytest.approx(19.94, abs=1.1e-4), pytest.approx(19.98, abs=1.1e-4))]
    # 20.05 less 19.920 is 0.130 of at most 0.120 above.
    assert wanted(bad, "below.shaft", ["below.hole"]) == []
    assert members(part, "above") == ("below.hole", "above.shaft")


# Tables

def test_the_first_that_do_not_pass_are_explained(monkeypatch):
    monkeypatch.setattr(judging, "EXPLAINED", 2)
    table = [read(at, who=f"p{index}") for index, at in enumerate((20.010, 20.040, 20.041, 20.042, 20.043))]
    found = judge(plain(SHOP, **ASKED), table)
    assert [bool(each.checks) for each in found.parts] == [False, True, True, False, False]
    assert "rules and mating sizes are worked out for the first 2; 2 more have none" in found.notes
    assert [name for name, check in found.parts[1].checks] == ["seat"]
    assert [check.rule for _, check in found.parts[1].checks] == ["most gap"]
    assert not [note for note in judge(plain(SHOP, **ASKED), table[:3]).notes if "worked out" in note]
    assert "rules and mating sizes are worked out for the first 2; 1 more have none" in judge(plain(SHOP, **ASKED), table[:4]).notes


def test_twenty_are_explained_and_two_hundred_shown_of_five_hundred_at_once():
    """The 501st is judged after the first five hundred; all but one fit."""
    part = plain(SHOP, hole="20.005", shaft="19.95", **ASKED)
    table = [read(20.010 + 1e-6 * index, label="seat.hole", who=f"p{index}") for index in range(501)]
    table[7] = table[7]._replace(value=20.04)
    told: list[float | None] = []
    judging_ = Judging(part)
    with telling(told.append):
        judging_.judged(table)
    assert [each for each in told if each is not None] == pytest.approx([500 / 501, 1.0])
    assert [each.part for each in judging_.whole().parts] == ["p7"]
    kept = Judging(part)
    kept.judged(table[:200])
    assert len(kept.whole().parts) == 200
    kept.judged(table[200:201])
    assert len(kept.whole().parts) == 1
    many = judge(part, [read(20.04, who=f"p{index}") for index in range(22)])
    assert "rules and mating sizes are worked out for the first 20; 2 more have none" in many.notes
    assert [bool(each.checks) for each in many.parts] == [True] * 20 + [False] * 2


def test_as_many_that_do_not_pass_are_kept_as_of_all(monkeypatch):
    monkeypatch.setattr(judging, "KEPT", 3)
    judging_ = Judging(plain(SHOP, **ASKED))
    judging_.judged([read(20.040 + 0.001 * index, who=f"p{index}") for index in range(5)])
    assert [each.part for each in judging_.whole().parts] == ["p0", "p1", "p2"]


def test_a_part_that_can_be_cut_is_offered_no_mate():
    found = one(plain(SHOP, gap_at_least="0.01", gap_at_most="0.2"), read(19.990))
    assert (found.verdict, found.function, found.mates) == (REWORK, PASS, ())


def test_explained_is_what_does_not_pass():
    part = plain(SHOP, grade=None, push_at_least="9 N", **ASKED)
    found = explain(part, one(part, read(20.010)))
    assert [(check.rule, check.verdict) for _, check in found.checks] == [("pushes", NOT_COVERED)]
    assert found.mates == ()
    passing = one(plain(SHOP, **ASKED), read(20.010))
    assert explain(plain(SHOP, **ASKED), passing) == passing
    # Off its drawing though it works: what would go with it is said, and no rule.
    loose = plain(SHOP, gap_at_least="0.01", gap_at_most="0.2")
    off = one(loose, read(20.040))
    assert (off.verdict, off.function, off.checks, [mate.dimension for mate in off.mates]) == (REJECT, PASS, (), ["seat.shaft"])


def test_a_long_table_is_judged_in_batches_and_few_are_kept(monkeypatch):
    monkeypatch.setattr(judging, "BATCH", 2)
    monkeypatch.setattr(judging, "KEPT", 3)
    part = plain(SHOP, **ASKED)
    table = [read(at, who=f"p{index}") for index, at in enumerate((20.010, 20.040, 20.011, 20.012, 20.041))]
    told: list[float | None] = []
    judging_ = Judging(part)
    with telling(told.append):
        found = judging_.judged(table, done=0.5)
        later = judging_.judged([read(20.013, who="q1")], done=1.0)
    assert [each.part for each in found] == ["p0", "p1", "p2", "p3", "p4"]
    assert [each.verdict for each in (*found, *later)] == [ACCEPT, REJECT, ACCEPT, ACCEPT, REJECT, ACCEPT]
    shares = [each for each in told if each is not None]
    assert shares == pytest.approx([0.5 * 2 / 5, 0.5 * 4 / 5, 0.5, 1.0])
    whole = judging_.whole()
    # Six are more than three: those that aren't accepted are shown.
    assert [each.part for each in whole.parts] == ["p1", "p4"]
    assert (whole.counts, whole.total, whole.verdict) == ({ACCEPT: 4, REJECT: 2}, 6, FAIL)
    short = Judging(part)
    short.judged(table[:3])
    assert [each.part for each in short.whole().parts] == ["p0", "p1", "p2"]
    blind = Judging(part)
    with telling(told.append):
        told.clear()
        blind.judged(table[:1], done=None)
        blind.judged(table[1:2], done=1.0)
    assert [each for each in told if each is not None] == []


def test_what_was_left_out_is_named_up_to_twelve():
    part = plain(SHOP, **ASKED)
    judging_ = Judging(part, skip=True)
    judging_.judged([read(20.010), read(30.0, who="b1", place="t:3")])
    assert [(who, [fault.place for fault in faults]) for who, faults in judging_.left_out()] == [("b1", ["t:3"])]
    judging_.leave_out([f"c{index}" for index in range(11)])
    text = "left out and not judged, a row of them is bad: b1, " + ", ".join(f"c{index}" for index in range(11))
    assert text in judging_.whole().notes
    assert (judging_.whole().left_out, judging_.whole().verdict) == (12, NOT_COVERED)
    judging_.leave_out(["d1", "d2"])
    assert f"{text} and 2 more" in judging_.whole().notes
    assert judging_.whole().left_out == 14
    with pytest.raises(InputError, match="no part is left to judge"):
        Judging(part).whole()
    with pytest.raises(InputError):
        Judging(part).judged([read(30.0)])
    assert isinstance(next(iter(judging_.left_out()))[1][0], Fault)


def test_what_is_said_of_a_table():
    part = plain(SHOP, **ASKED)
    single = "one reading of a size shows that place only, neither taper nor ovality"
    warm = "warm readings are corrected to 20 degC; their uncertainty must cover the thermometer"
    alone, several = judge(part, [read(20.010)]).notes, judge(part, [read(20.010), read(20.011)]).notes
    assert single in alone
    assert single not in several
    assert single in judge(part, [read(20.010), read(20.011), read(19.945, label="seat.shaft")]).notes
    assert warm not in alone
    gauge = read(20.010)._replace(gauge_temperature=30.0, gauge_expansion=11.5e-6)
    assert warm in judge(part, [gauge]).notes
    assert [source.text[:5] for source in judge(part, [gauge]).sources[:2]] == ["ISO 1", "ISO 1"]
    assert len(judge(part, [gauge]).sources) == len(judge(part, [read(20.010)]).sources) + 1


def test_a_refused_part_has_no_verdict_on_function(monkeypatch):
    refusal = Refusal("never", lambda plain, states: "it is refused", "ask someone", Plain.rules[0].source, lambda plain, states: True)
    monkeypatch.setattr(Plain, "refusals", (refusal,))
    found = judge(plain(SHOP, **ASKED), [read(20.010), read(20.040, who="b")])
    assert [(each.verdict, each.drawing, each.function, each.not_covered) for each in found.parts] == [
        (REFUSED, "inside", REFUSED, ("never: it is refused; ask someone",)), (REFUSED, "outside", REFUSED, ("never: it is refused; ask someone",))]
    assert found.verdict == REFUSED
    boxes = Boxes(plain(SHOP, **ASKED), ["seat.hole"])
    assert boxes.holds({"seat.hole": np.array([20.01])}, {"seat.hole": np.array([20.01])}).tolist() == [False]
