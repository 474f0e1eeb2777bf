"""Least and greatest of a value by state, level and corner; what is shown of it; workings, sums by hand."""

from __future__ import annotations

import numpy as np
import pytest
from plain import GIVEN, Plain, plain

from fits.errors import InputError
from fits.features.beside import Alternative
from fits.features.feature import Dimension, NotCovered, State, States
from fits.features.fields import SurfaceRef, Undecided
from fits.features.part import Part
from fits.features.value import value
from fits.features.when import AS_MADE, ASSEMBLY
from fits.questions import evaluate as evaluating
from fits.questions import ranges as ranging
from fits.questions.answer import (
    FAIL,
    NOT_COVERED,
    PASS,
    REFUSED,
    Answer,
    FeatureAnswer,
    Range,
    ValueAnswer,
    worst,
)
from fits.questions.check import check, refusals, shop_ranges, undecided
from fits.questions.evaluate import Evaluation, _fitting, blocks, corners_of, evaluate, key_of, relevant
from fits.questions.inputs import digest, inputs_of, sizes_of
from fits.questions.instead import instead, without_window
from fits.questions.ranges import column_name, ranges_of, span_of, spread_out, told_apart
from fits.questions.workings import workings

SHOP, COLD, PRESSED, OVEN = State("shop"), State("cold", -30.0, -30.0), State("pressed", 20.0, 20.0, 5.0), State("oven", 600.0, 600.0)


def of(part: Part) -> dict[str, dict[str, Range]]:
    return ranges_of(part, "seat", evaluate(part, "seat"))


def test_columns_are_states_and_the_last_is_as_made_or_at_assembly():
    every, made, start = (next(one for one in Plain.values if one.name == name) for name in ("gap", "fresh", "start"))
    names = ("shop", "cold", "as_made")
    assert [column_name(every, names, column) for column in range(3)] == ["shop", "cold", AS_MADE]
    assert [column_name(made, names, 2), column_name(start, names, 2), column_name(start, names, 1)] == [AS_MADE, ASSEMBLY, "cold"]


def test_one_column_stands_in_the_last_place():
    states = States.of((SHOP, COLD))
    one = spread_out(np.array([[3.0], [4.0]]), states)
    assert np.array_equal(one, [[np.nan, np.nan, 3.0], [np.nan, np.nan, 4.0]], equal_nan=True)
    whole = np.ones((2, 3))
    assert spread_out(whole, states) is whole


def test_ranges_in_every_state():
    found = of(plain(SHOP, COLD, PRESSED))
    assert found["gap"] == {"shop": (pytest.approx(0.05), pytest.approx(0.09)), "cold": (pytest.approx(0.0, abs=1e-9), pytest.approx(0.04)), "pressed": (pytest.approx(0.04), pytest.approx(0.09))}
    assert found["push"]["shop"] == (pytest.approx(10.0), pytest.approx(21.0))
    assert list(found["fresh"]) == [AS_MADE]
    assert list(found["start"]) == [ASSEMBLY]
    assert found["start"][ASSEMBLY] == (pytest.approx(0.05), pytest.approx(0.09))
    assert list(of(plain(SHOP, OVEN))["gap"]) == ["shop"]


def test_the_least_between_two_levels_is_searched_along_them():
    """(place - 2)^2 from -1 to 6: 16 at the most, 0 in between; from 3 to 6 it is 1 to 16, from -3 to 1.5 0.25 to 25."""
    assert of(plain(SHOP, place="-1 to 6"))["bow"]["shop"] == (pytest.approx(0.0, abs=1e-3), pytest.approx(16.0))
    assert of(plain(SHOP, place="3 to 6"))["bow"]["shop"] == (pytest.approx(1.0), pytest.approx(16.0))
    assert of(plain(SHOP, place="-3 to 1.5"))["bow"]["shop"] == (pytest.approx(0.25), pytest.approx(25.0))
    assert of(plain(SHOP, place="5"))["bow"]["shop"] == (9.0, 9.0)


def test_how_closely_it_is_searched():
    """Seventeen points over 7, then seventeen over two of their steps: 7/16/8 apart, so that 2 is missed by half of that at most."""
    for low in (-1.0, -1.013, -1.1, -1.234, -1.37):
        least = of(plain(SHOP, place=f"{low} to 6"))["bow"]["shop"].least
        assert least <= ((6.0 - low) / 16.0 / 8.0 / 2.0) ** 2 * (1.0 + 1e-9)
    # On a coarse point and one step beside it, at both ends of the search.
    assert of(plain(SHOP, place="2 to 9"))["bow"]["shop"].least == 0.0
    assert of(plain(SHOP, place="1.75 to 9"))["bow"]["shop"].least <= (7.25 / 256.0) ** 2


def test_the_greatest_between_two_levels_is_searched_too():
    class Humped(Plain):
        def compute(self, d, s, wanted=None):
            found = super().compute(d, s, wanted)
            if "bow" in found.numbers:
                found.numbers["bow"] = 7.0 - found.numbers["bow"]
            return found

    part = Part("test", {"seat": Humped(hole="20", shaft="19.94", grade=2.0, place="-1 to 6")})
    assert of(part)["bow"]["shop"] == (pytest.approx(-9.0), pytest.approx(7.0, abs=1e-3))


def test_ends_between_corners_that_differ():
    """A bow that moves with the hole: (place - 2 - 100 (hole - 20))^2; for holes to 20.03 the least lies at 2 and at 5."""
    class Moving(Plain):
        values = tuple(one if one.name != "bow" else value("bow", "bow", "number", "", GIVEN, ("place", "hole"), inside=("place",)) for one in Plain.values)

        def compute(self, d, s, wanted=None):
            found = super().compute(d, s, wanted)
            if "bow" in found.numbers:
                found.numbers["bow"] = (d["place"] - 2.0 - 100.0 * (d["hole"] - 20.0)) ** 2 + 3.0 * (20.03 - d["hole"]) + 0.0 * s.pressure
            return found

    part = Part("test", {"seat": Moving(hole="20.030/20.000", shaft="19.94", grade=2.0, place="-1 to 6")})
    # At 20.03: (place - 5)^2 + 0; at 20: (place - 2)^2 + 0.09, most (6 - 2)^2 + 0.09 and (-1 - 5)^2.
    assert of(part)["bow"]["shop"] == (pytest.approx(0.0, abs=1e-3), pytest.approx(36.0))


def test_a_value_that_is_not_known_at_some_corners_keeps_the_end_that_is():
    gap = next(one for one in Plain.values if one.name == "gap")
    evaluation = evaluate(plain(SHOP), "seat")

    def with_gap(beyond: str, about: str = "hole") -> Evaluation:
        return evaluation._replace(gaps=(NotCovered(about, "no", np.array([True, False]), beyond=beyond),))

    corners = np.array([2.0, np.nan, 5.0, 3.0])
    assert span_of(gap, with_gap("greatest"), corners, np.nan, np.nan) == (2.0, None)
    assert span_of(gap, with_gap("least"), corners, np.nan, np.nan) == (None, 5.0)
    assert span_of(gap, with_gap(""), corners, np.nan, np.nan) is None
    # A gap of what the value doesn't rest on says nothing of it.
    assert span_of(gap, with_gap("greatest", "place"), corners, np.nan, np.nan) is None
    assert span_of(gap, with_gap("greatest"), np.array([np.nan, np.nan]), np.nan, np.nan) is None
    assert span_of(gap, evaluation, np.array([2.0, 5.0]), 1.5, 5.5) == (1.5, 5.5)


def test_ranges_told_apart_by_a_choice():
    part = plain(SHOP, COLD)
    found = {words: spans for one, words, spans in told_apart(part, "seat", evaluate(part, "seat")) if one.name == "leaned"}
    assert list(found) == ["it leans left", "it leans right", "it leans up"]
    for words, more in (("left", 0.0), ("right", 3.0), ("up", 1.0)):
        assert found[f"it leans {words}"]["shop"] == (pytest.approx(10.0 + more), pytest.approx(18.0 + more))
        assert found[f"it leans {words}"]["cold"] == (pytest.approx(0.0 + more, abs=1e-9), pytest.approx(8.0 + more))


def test_a_choice_of_one_tells_nothing_apart(monkeypatch):
    whole = Plain.extra_dimensions
    monkeypatch.setattr(Plain, "extra_dimensions", lambda self, states: tuple(one._replace(levels=one.levels[:1], words=one.words[:1]) if one.name == "lean" else one for one in whole(self, states)))
    part = plain(SHOP)
    assert list(told_apart(part, "seat", evaluate(part, "seat"))) == []


def test_nearest_the_ends_are_searched_where_corners_are_many(monkeypatch):
    monkeypatch.setattr(ranging, "MOST_CORNERS", 5)
    monkeypatch.setattr(ranging, "NEAREST", 1)
    evaluation = evaluate(plain(SHOP), "seat")
    columns = len(evaluation.states.names)

    def kept(*numbers: float) -> list[float] | None:
        array = np.array(numbers).reshape(-1, 1) * np.ones(columns)
        corners = {"a": np.arange(float(len(numbers))).reshape(-1, 1)}
        found = ranging._near_the_ends(["x"], evaluation._replace(numbers={"x": array}, corners=corners))
        return None if found is None else found["a"][:, 0].tolist()

    assert kept(3.0, 9.0, 1.0, 5.0, 4.0) is None
    some = kept(3.0, 9.0, 1.0, 5.0, 4.0, 6.0)
    assert some is not None
    assert {1.0, 2.0} <= set(some)
    assert len(some) == 2
    assert ranging._near_the_ends(["x"], evaluation._replace(numbers={"x": np.ones((1, columns))}, corners={"a": np.zeros((6, 1))})) is None


# One evaluation

def test_corners_are_every_combination_of_levels():
    levels = {"a": (1.0, 2.0), "b": (5.0,), "c": (7.0, 8.0, 9.0), "d": (3.0, 4.0)}
    dimensions = {key: Dimension(key, key, "number", at, (0.0, 1.0)) for key, at in levels.items()}
    found = corners_of(dimensions, ["d"])
    assert {key: one.shape for key, one in found.items()} == {"a": (6, 1), "c": (6, 1)}
    assert list(zip(found["a"][:, 0], found["c"][:, 0])) == [(1.0, 7.0), (1.0, 8.0), (1.0, 9.0), (2.0, 7.0), (2.0, 8.0), (2.0, 9.0)]
    assert corners_of({"b": dimensions["b"]}) == {}


def test_blocks_stay_in_the_cache():
    assert [(one.start, one.stop) for one in blocks(65_537, 1)] == [(0, 65_536), (65_536, 65_537)]
    assert [(one.start, one.stop) for one in blocks(65_536, 1)] == [(0, 65_536)]
    assert [(one.start, one.stop) for one in blocks(7, 65_536 // 3)] == [(0, 3), (3, 6), (6, 7)]
    assert [(one.start, one.stop) for one in blocks(2, 10**9)] == [(0, 1), (1, 2)]
    assert [(one.start, one.stop) for one in blocks(5, 0)] == [(0, 5)]
    assert list(blocks(0, 3)) == []
    assert evaluating.BLOCK == 1 << 16


def test_the_dimensions_that_values_depend_on():
    part = plain(SHOP, PRESSED, outside="41 ±1", grade="1.8 to 2.2")
    assert set(relevant(part, "seat", ["gap"])) == {"seat.hole", "seat.shaft", "part.pressure"}
    assert set(relevant(part, "seat", ["push"])) == {"seat.hole", "seat.shaft", "part.pressure", "seat.grade", "seat.lean"}
    assert {"seat.outside", "seat.place", "seat.lean"} <= set(relevant(part, "seat"))
    assert key_of("seat", Dimension("a", "a", "number", (1.0,), (0.0, 1.0))) == "seat.a"
    assert key_of("seat", Dimension("a", "a", "number", (1.0,), (0.0, 1.0), shared="part.b")) == "part.b"


def stacked(*states: State) -> Part:
    below, above = plain(gap_at_least="0.01").features["seat"], plain(hole=SurfaceRef("below", "bore"), shaft="19.93/19.92", gap_at_least="0.01").features["seat"]
    return Part("test", {"below": below, "above": above}, states or (SHOP,))


def test_what_stands_on_a_surface_depends_on_what_is_below():
    part = stacked()
    assert set(relevant(part, "above", ["gap"])) == {"below.hole", "above.shaft", "part.pressure"}
    assert set(relevant(part, "above", ["place"])) == {"above.place"}
    found = evaluate(part, "above")
    assert ranges_of(part, "above", found)["gap"]["shop"] == (pytest.approx(0.07), pytest.approx(0.11))
    assert found.put_in["hole"].shape[-1] == 2


def test_a_pressure_that_only_one_of_two_has_is_swept_for_both():
    """The feature above has states of its own without pressure: the levels of both are joined."""
    base = stacked(SHOP, PRESSED)
    part = Part("test", base.features, base.states, {"above": (SHOP,)})
    assert relevant(part, "below", ["gap"])["part.pressure"].levels == (0.0, 1.0)
    joined = evaluating._joined(Dimension("a", "a", "number", (0.0,), (0.0, 1.0)), Dimension("b", "b", "number", (1.0, 0.0), (0.0, 1.0)))
    assert (joined.name, joined.levels) == ("a", (0.0, 1.0))


def test_gaps_below_are_said_above():
    found = evaluate(stacked(SHOP, OVEN), "above", values=["gap"])
    assert ("heat", "hotter than is known") in [(one.about, one.reason) for one in found.gaps]
    part = stacked(SHOP)
    below = part.features["below"]

    class Unsure(Plain):
        def compute(self, d, s, wanted=None):
            outcome = super().compute(d, s, wanted)
            return outcome._replace(gaps=(NotCovered("hole", "not read", np.array([True, False]), "hole"), NotCovered("place", "not this", np.array([True, False]))))

    unsure = Part("test", {"below": Unsure(**{name: getattr(below, name) for name in ("hole", "shaft", "grade", "gap_at_least")}), "above": part.features["above"]})
    gaps = [(one.about, one.reason, one.sweep) for one in evaluate(unsure, "above").gaps]
    assert gaps == [("hole", "below: not read", "")]


def test_a_nan_must_have_a_reason_in_its_column():
    evaluation = evaluate(plain(SHOP, COLD), "seat", values=["gap"])
    gap = evaluation.numbers["gap"].copy()
    gap[2, 1] = np.nan

    def checked(*masks: list[bool], values: list[str] | None = None) -> None:
        gaps = tuple(NotCovered("hole", "no", np.array(mask)) for mask in masks)
        evaluating._check_reasons(evaluation._replace(numbers={"gap": gap}, gaps=gaps), values)

    checked([False, True, False])
    checked([True, False, False], [False, True, False])
    checked([True, False, False], values=["push"])
    for masks in ([[True, False, True]], []):
        with pytest.raises(RuntimeError, match="gap of plain is NaN without a reason"):
            checked(*masks)
    # As made the gap has no meaning: a nan there needs no reason.
    gap[:] = 1.0
    gap[:, 2] = np.nan
    checked()


def test_a_mask_of_more_columns_is_that_of_the_last():
    assert _fitting(np.array([True, False, False]), np.zeros((4, 1), dtype=bool)).tolist() == [[False]] * 4
    assert _fitting(np.array([False, False, True]), np.zeros((4, 1), dtype=bool)).tolist() == [[True]] * 4
    assert _fitting(np.array([[True], [False]]), np.zeros((2, 3), dtype=bool)).tolist() == [[True] * 3, [False] * 3]
    assert _fitting(np.array(True), np.zeros((2, 3), dtype=bool)).all()


# The whole check

def test_verdicts_of_a_check():
    assert worst(["pass", "not covered", "refused", "fail"]) == REFUSED
    assert check(plain(SHOP, gap_at_least="0.01")).verdict == PASS
    assert check(plain(SHOP)).verdict == NOT_COVERED
    assert check(plain(SHOP)).features[0].not_covered == ("no gap is asked for",)
    assert check(plain(SHOP, gap_at_least="0.06")).verdict == FAIL


def test_what_is_shown_of_each_value():
    found = {one.name: one for one in check(plain(SHOP, COLD, gap_at_least="0.01")).features[0].values}
    assert list(found) == ["gap", "push", "leaned.it_leans_left", "leaned.it_leans_right", "leaned.it_leans_up", "bow", "fresh", "bore"]
    assert (found["push"].label, found["push"].kind, found["push"].digits) == ("push", "force", 1)
    assert found["leaned.it_leans_up"].label == "push by lean, it leans up"
    assert found["bore"].states["cold"] == (20.0, 20.03)


def test_gaps_are_said_with_their_states():
    found = check(plain(SHOP, OVEN, grade=None, gap_at_least="0.01")).features[0]
    assert found.not_covered == ("hotter than is known (oven)", "grade not given")
    assert found.not_asked == ("most gap (asked by gap_at_most)", "pushes (asked by push_at_least)", "no more push (asked by push_at_most)", "bends (asked by bow_at_least)")


def test_fields_left_open_are_said_each():
    part = Part("test", {"seat": plain(shaft=Undecided(), outside=Undecided()).features["seat"]}, place="p.toml")
    with pytest.raises(InputError) as raised:
        undecided(part)
    assert [(one.key, one.got, one.place, one.hint) for one in raised.value.faults] == [
        ("plain.seat.shaft", "?", "p.toml", "ask for it: fits window PART seat.shaft"), ("plain.seat.outside", "?", "p.toml", "ask for it: fits window PART seat.outside")]
    with pytest.raises(InputError) as raised:
        undecided(part, but=("seat", "shaft"))
    assert [one.key for one in raised.value.faults] == ["plain.seat.outside"]
    with pytest.raises(InputError):
        undecided(part, but=("other", "shaft"))
    undecided(plain(), but=None)
    assert refusals(plain(), "seat") == ()


def test_ranges_at_20_degc_are_those_of_assembly_or_as_made():
    found = shop_ranges({
        "a": {"shop": Range(1.0, 2.0), AS_MADE: Range(3.0, 4.0)}, "b": {ASSEMBLY: Range(5.0, 6.0), AS_MADE: Range(7.0, 8.0)}, "c": {"shop": Range(1.0, 2.0)},
        "d": {AS_MADE: Range(None, 2.0)}, "e": {AS_MADE: Range(1.0, None)},
    })
    assert found == {"a": (3.0, 4.0), "b": (5.0, 6.0)}


def test_workings_write_out_the_greatest():
    """100 x 2 x (20.03 - 19.94) + 3, leaning right, one digit more than is shown."""
    lines = workings(evaluate(plain(SHOP, COLD), "seat"))
    assert lines[0].startswith("gap (shop): hole - shaft; hole 20.03000 mm, shaft 19.94000 mm, pressure_share ")
    assert lines[0].split(" -> ")[1].startswith("0.09000 mm [")
    push = next(line for line in lines if line.startswith("push (shop)"))
    assert "gap 0.09000 mm, grade 2.000, lean 3 -> 21.00 N [" in push
    assert [line.split(" (")[1].split(")")[0] for line in lines] == ["shop", "shop", "shop", "shop", "as_made", "shop"]
    assert not [line for line in lines if line.startswith("gap at the start")]
    hot = workings(evaluate(plain(SHOP, State("hot", 60.0, 60.0)), "seat"))
    assert hot[0].startswith("gap (hot)")
    assert hot[0].split(" -> ")[1].startswith("0.13000 mm")
    # What isn't known in one state is written out where it is; what is known nowhere isn't.
    assert workings(evaluate(plain(OVEN, SHOP), "seat"))[0].startswith("gap (shop)")
    assert not [line for line in workings(evaluate(plain(OVEN), "seat")) if line.startswith("gap")]


def test_what_was_given_is_said_the_same_whatever_was_typed():
    part = plain(grade="1.8 to 2.2", gap_at_least="20 um", push_at_least="0.0125 kN", hole="20 H7", outside=41.5)
    assert inputs_of(part.features["seat"]) == {
        "hole": "20 H7", "shaft": "19.950/19.940", "outside": "41.5", "grade": "1.8 to 2.2", "gap_at_least": "0.02 mm", "push_at_least": "12.5 N"}
    other = plain(grade="1.8 to 2.2", gap_at_least="0.02", push_at_least="12.5 N", hole="20 H7", outside="41.5 mm")
    assert inputs_of(other.features["seat"])["gap_at_least"] == "0.02 mm"
    sizes = sizes_of(part.features["seat"], evaluate(part, "seat"))
    assert [(one.name, one.side, one.lower, one.upper, one.on) for one in sizes] == [
        ("hole", "hole", 20.0, 20.021, ""), ("shaft", "shaft", 19.94, 19.95, ""), ("outside", "shaft", 41.5, 41.5, "")]
    on = stacked()
    (hole, _) = sizes_of(on.features["above"], evaluate(on, "above"))
    assert (hole.lower, hole.upper, hole.on, hole.side) == (20.0, 20.03, "below.bore", "hole")


def test_the_digest_moves_with_each_input_and_with_no_unit():
    base = digest(plain(SHOP, gap_at_least="0.02"))
    assert len({base, digest(plain(SHOP, gap_at_least="0.021")), digest(plain(COLD, gap_at_least="0.02")), digest(plain(SHOP, gap_at_least="0.02", place="1")),
                digest(plain(SHOP._replace(proof=True), gap_at_least="0.02"))}) == 5
    assert base == digest(Part("test", plain(SHOP, gap_at_least="0.02").features, (SHOP,), units="in"))


def test_other_principles_are_asked_for_only_where_holding_fails(monkeypatch):
    """A kind that holds by its push: what it is asked with are the ranges known in every state, and what isn't covered."""
    asked: list[tuple] = []
    monkeypatch.setattr(Plain, "holding", ("pushes",))
    monkeypatch.setattr(Plain, "alternatives", lambda self, spans, gaps, states: asked.append((spans, gaps)) or ())

    def of_(part: Part) -> int:
        asked.clear()
        evaluation = evaluate(part, "seat")
        checks = check(part).features[0].checks
        asked.clear()
        instead(part, "seat", checks, evaluation, ranges_of(part, "seat", evaluation))
        return len(asked)

    assert of_(plain(SHOP, gap_at_least="0.01", push_at_least="1 N")) == 0
    assert of_(plain(SHOP, COLD, gap_at_least="0.01", push_at_least="1 N")) == 1
    ((spans, gaps),) = asked
    assert spans["gap"] == (pytest.approx(0.0, abs=1e-9), pytest.approx(0.09))
    assert gaps == frozenset()
    # Not covered, but not what it holds by.
    assert of_(plain(SHOP, OVEN, gap_at_most="0.2")) == 0
    assert of_(plain(SHOP, grade=None, gap_at_least="0.01", push_at_least="1 N")) == 1
    ((spans, gaps),) = asked
    assert "push" not in spans
    assert gaps == {"push", "leaned"}
    assert of_(plain(SHOP, OVEN, gap_at_least="0.06")) == 1
    ((spans, gaps),) = asked
    # Known in one state of two: no range.
    assert "gap" not in spans
    assert "bore" in spans
    monkeypatch.setattr(Plain, "holding", ())
    assert of_(plain(SHOP, gap_at_least="0.06")) == 0


def test_other_principles_where_there_is_no_window_and_of_what_is_known(monkeypatch):
    asked: list[tuple] = []
    way = Alternative("another way", (), (), GIVEN)
    monkeypatch.setattr(Plain, "alternatives", lambda self, spans, gaps, states: asked.append((spans, gaps)) or (way,))
    part = plain(SHOP, gap_at_least="0.06")
    assert without_window(part, "seat") == ()
    assert asked == []
    monkeypatch.setattr(Plain, "holding", ("pushes",))
    assert without_window(part, "seat") == (way,)
    assert asked.pop()[0]["push"] == (pytest.approx(10.0), pytest.approx(21.0))
    evaluation = evaluate(part, "seat")
    ranges = ranges_of(part, "seat", evaluation)
    del ranges["gap"], ranges["bow"]
    checks = check(part).features[0].checks
    asked.clear()
    assert instead(part, "seat", checks, evaluation, ranges) == (way,)
    assert set(asked[0][0]) == {"push", "leaned", "fresh", "start", "bore"}


def test_a_table_of_values_is_in_report_units():
    """N*mm inside, N*m in a report; what isn't known is no number."""
    values = (ValueAnswer("twist", "twist", "torque", 2, "", GIVEN, {"shop": Range(1500.0, 2500.0), "hot": Range(None, 3000.0)}), ValueAnswer("gap", "gap", "length", 4, "", GIVEN, {"shop": Range(0.25, 0.5)}))
    answer = Answer("p", PASS, (FeatureAnswer("seat", "plain", PASS, values),))
    assert answer.listed is False
    frame = answer.frame()
    assert list(frame.columns) == ["feature", "value", "label", "state", "min", "max", "unit"]
    assert frame["unit"].to_list() == ["N*m", "N*m", "mm"]
    assert frame["max"].to_list() == [2.5, 3.0, 0.5]
    assert frame["min"].to_list()[::2] == [1.5, 0.25]
    assert np.isnan(frame["min"][1])
