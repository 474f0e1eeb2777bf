"""Rows of joints, two reports held against each other, what is drawn: worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest
from plain import GIVEN, Plain, plain

from fits.errors import InputError
from fits.features.feature import NotCovered, Refusal, Rule, State
from fits.features.part import Part
from fits.questions.along import along
from fits.questions.answer import Range, SizeAnswer
from fits.questions.check import check
from fits.questions.compare import (
    AS_BEFORE,
    BETTER,
    GONE,
    LESS,
    MORE,
    NEW,
    OTHER,
    WORSE,
    Comparison,
    FeatureChange,
    RuleChange,
    _by_name,
    _effect,
    _given,
    _inputs,
    _said,
    _states,
    compare,
    to_spare,
)
from fits.questions.drawn import _lame, _temperatures, with_drawings
from fits.questions.evaluate import evaluate
from fits.questions.reported import Amount, Check, FeatureData, Report, Size, reported
from fits.questions.rows import (
    FAIL,
    NOT_COVERED,
    PASS,
    REFUSED,
    Judged,
    Main,
    _at_corners,
    _known_columns,
    judge_rows,
    mains_of,
)

SHOP, COLD, PRESSED, OVEN = State("shop"), State("cold", -30.0, -30.0), State("pressed", 20.0, 20.0, 5.0), State("oven", 600.0, 600.0)
GAP, MOST = Main("gap", "least"), Main("gap", "greatest")


# Rows

def rows(part: Part, low: list[float], high: list[float] | None = None, mains: tuple[Main, ...] = (GAP, MOST), field: str = "hole") -> Judged:
    ends = np.array(low), np.array(high if high is not None else low)
    return judge_rows(part, "seat", len(low), {field: ends[0]}, {field: ends[1]}, mains)


def test_rows_by_hand():
    """Holes of 20.00 to 20.01, 20.02 to 20.05 and 19.985 to 19.99 with shafts of 19.940 to 19.950; cold takes 0.050."""
    found = rows(plain(SHOP, COLD, gap_at_least="-0.005", gap_at_most="0.1"), [20.0, 20.02, 19.985], [20.01, 20.05, 19.99])
    assert found.verdict.tolist() == [FAIL, FAIL, FAIL]
    assert found.values[GAP] == pytest.approx([0.0, 0.02, -0.015])
    assert found.values[MOST] == pytest.approx([0.07, 0.11, 0.05])
    # Never binds in the cold; most gap in the shop; never binds by 0.015 before the least gap by 0.010.
    assert found.rule.tolist() == [0, 2, 0]
    assert found.state.tolist() == ["cold", "shop", "cold"]
    assert found.worst == pytest.approx([0.0, 0.11, -0.015], abs=1e-12)
    assert found.limit == pytest.approx([0.0, 0.1, 0.0])
    assert found.margin == pytest.approx([0.0, -0.01, -0.015], abs=1e-12)
    assert found.note.tolist() == ["a smaller shaft", "a larger shaft", "a smaller shaft"]


def test_the_rule_nearest_its_limit_for_the_size_of_it_is_the_worst():
    """0.02 of 0.03 is nearer than 0.005 of 0.005 at least, of a length the share is never of less than 0.01."""
    found = rows(plain(SHOP, gap_at_least="0.03", gap_at_most="0.095"), [20.0], [20.03])
    # Least: 0.020/0.030; most: 0.005/0.095; never binds 0.050/0.010.
    assert (found.verdict.tolist(), found.rule.tolist(), found.note.tolist()) == ([PASS], [2], [""])
    assert (found.margin[0], found.limit[0], found.worst[0]) == (pytest.approx(0.005), pytest.approx(0.095), pytest.approx(0.09))
    near = rows(plain(SHOP, gap_at_least="0.03", gap_at_most="5"), [20.0], [20.03])
    assert near.rule.tolist() == [1]
    # Against a limit of 0.001 the margin of 0.049 counts as 4.9 of 0.01, that of 0 as 5, 0.4 of 0.49 as 0.8.
    small = rows(plain(SHOP, gap_at_least="0.001", gap_at_most="5"), [20.0], [20.03])
    assert small.rule.tolist() == [2]
    force = rows(plain(SHOP, gap_at_least="0.001", push_at_least="0.5 N"), [20.0], [20.0])
    # 9.5 N of 0.5 counts of 1 N; the gap 4.9.
    assert force.rule.tolist() == [1]
    other = rows(plain(SHOP, gap_at_least="0.001", push_at_least="3 N"), [20.0], [20.0])
    assert other.rule.tolist() == [3]


def test_what_is_not_covered_is_said_of_its_state():
    """600 degC: nothing is known of the gap there; the least gap doesn't mind, never binds and most gap do."""
    found = rows(plain(SHOP, OVEN, gap_at_least="0.01", gap_at_most="0.12"), [20.0, 20.07], [20.03, 20.07])
    assert found.verdict.tolist() == [NOT_COVERED, FAIL]
    assert found.state.tolist() == ["oven", "shop"]
    assert found.note.tolist() == ["hotter than is known", "a larger shaft"]
    assert np.isnan([found.worst[0], found.limit[0], found.margin[0]]).all()
    assert found.margin[1] == pytest.approx(-0.01)
    assert np.isnan(found.values[GAP]).all()


def test_a_row_without_grade_or_duty():
    part = plain(SHOP, grade=None, push_at_least="9 N", gap_at_least="0.01")
    found = rows(part, [20.0, 19.955], [20.03, 19.96])
    assert (found.verdict.tolist(), found.rule.tolist()) == ([NOT_COVERED, FAIL], [3, 1])
    assert found.note.tolist() == ["grade not given", "a smaller shaft"]
    free = rows(plain(SHOP), [20.0, 19.93], [20.03, 19.945])
    assert free.verdict.tolist() == [NOT_COVERED, FAIL]
    assert free.note.tolist() == ["no gap is asked for", "a smaller shaft"]


def test_rows_in_blocks_and_exact_numbers(monkeypatch):
    part = plain(SHOP, COLD, hole="20", gap_at_least="-0.005", gap_at_most="0.1")
    sizes = [19.99, 20.01, 20.03, 20.06, 20.05]
    whole = rows(part, sizes)
    assert whole.values[GAP] == pytest.approx([one - 19.95 - 0.05 for one in sizes])
    monkeypatch.setattr("fits.questions.rows.blocks", lambda count, width: (slice(at, min(at + 2, count)) for at in range(0, count, 2)))
    again = rows(part, sizes)
    assert all(np.array_equal(a, b, equal_nan=a.dtype.kind == "f") for a, b in zip(whole[:-1], again[:-1], strict=True))
    some = whole.only(np.array([False, True, False, True, True]))
    assert some.values[MOST] == pytest.approx([0.07, 0.12, 0.11])
    assert (some.rule.tolist(), some.state.tolist(), some.note.tolist()) == ([whole.rule[at] for at in (1, 3, 4)], [whole.state[at] for at in (1, 3, 4)], [whole.note[at] for at in (1, 3, 4)])
    assert (some.worst.tolist(), some.limit.tolist(), some.margin.tolist()) == tuple([array[at] for at in (1, 3, 4)] for array in (whole.worst, whole.limit, whole.margin))
    assert some.verdict.tolist() == [whole.verdict[at] for at in (1, 3, 4)]


def test_limits_at_the_corners():
    corners = np.array([[3.0], [7.0], [3.0]])
    assert _at_corners(np.array([1.0, 2.0]), np.array([4.0, 5.0]), corners)[..., 0].tolist() == [[1.0, 4.0, 1.0], [2.0, 5.0, 2.0]]
    assert _at_corners(np.array([1.0, 2.0]), np.array([4.0, 5.0]), None)[..., 0].tolist() == [[1.0], [2.0]]


def test_a_refused_row(monkeypatch):
    refusal = Refusal("never", lambda plain, states: "it is refused", "ask someone", GIVEN, lambda plain, states: True)
    monkeypatch.setattr(Plain, "refusals", (refusal,))
    found = rows(plain(SHOP, gap_at_least="0.01"), [20.0, 20.1])
    assert (found.verdict.tolist(), found.rule.tolist(), found.note.tolist()) == ([REFUSED] * 2, [-1] * 2, ["never: it is refused; ask someone"] * 2)


def test_what_a_row_shows():
    part = plain(SHOP, gap_at_most="0.1", push_at_least="9 N")
    assert mains_of(part.features["seat"], part.columns("seat")) == (GAP, MOST, Main("push", "least"))


def test_columns_in_which_a_row_is_covered():
    """Two rows, two corners, three columns of which the rule speaks in the first two."""
    part = plain(SHOP, COLD, gap_at_least="0.01")
    evaluation = evaluate(part, "seat", values=["gap"], corners={"seat.shaft": np.array([[19.94], [19.95]])}, given={"seat.hole": np.array([20.0, 20.1]).reshape(-1, 1, 1)})
    gap = evaluation.numbers["gap"].copy()
    gap[0, 1, 1] = np.nan
    mask = np.zeros((2, 1, 3), dtype=bool)
    mask[1, 0, 0] = True
    rule = next(one for one in Plain.rules if one.name == "least gap")
    one = along(rule, evaluation._replace(numbers={"gap": gap}, gaps=(NotCovered("hole", "no", mask),)))
    assert _known_columns(one, 4).tolist() == [[True, False, True, False], [False, True, False, True]]


def test_rows_judged_are_what_a_check_says():
    part = plain(SHOP, COLD, PRESSED, gap_at_least="0.002", gap_at_most="0.1", push_at_least="1 N")
    for size in (19.99, 20.01, 20.04, 20.07):
        found = rows(Part("test", {"seat": plain(hole=size, gap_at_least="0.002", gap_at_most="0.1", push_at_least="1 N").features["seat"]}, part.states), [size])
        (feature,) = check(Part("test", {"seat": plain(hole=size, gap_at_least="0.002", gap_at_most="0.1", push_at_least="1 N").features["seat"]}, part.states)).features
        one = feature.checks[found.rule[0]]
        assert one.margin == pytest.approx(found.margin[0])
        assert one.state == found.state[0]
        assert ("pass", "not covered", "fail", "refused")[found.verdict[0]] == feature.verdict


# Reports

def rule(verdict: str = "pass", margin: float | None = 0.5, *, name: str = "r", **more) -> Check:
    return Check(rule=name, state="s", sense="at least", unit=more.pop("unit", "mm"), verdict=verdict, margin=margin, **more)


@pytest.mark.parametrize(("before", "after", "effect"), [
    (None, rule(), NEW), (rule(), None, GONE), (rule(), rule("fail"), WORSE), (rule("fail"), rule(), BETTER), (rule(), rule("not covered"), WORSE),
    (rule("not covered"), rule("fail"), WORSE), (rule("fail"), rule("not covered"), BETTER), (rule("fail"), rule("refused"), WORSE),
    (rule(margin=0.5), rule(margin=0.6), MORE), (rule(margin=0.5), rule(margin=0.4), LESS), (rule(margin=0.5), rule(margin=0.5), AS_BEFORE),
    # A change of less than 1e-9 of the greatest number in them is none.
    (rule(margin=0.5, limit=2.0, worst=2.5), rule(margin=0.5 + 2e-9, worst=2.5), AS_BEFORE), (rule(margin=0.5, limit=2.0, worst=2.5), rule(margin=0.5 + 2.6e-9, worst=2.5), MORE),
    (rule(margin=0.5, limit=-4.0, worst=1.0), rule(margin=0.5 - 3.9e-9, worst=1.0), AS_BEFORE), (rule(margin=0.5, limit=1.0, worst=1.0), rule(margin=0.5 - 2.9e-9, worst=-3.0), AS_BEFORE),
    (rule(margin=0.5, limit=1.0, worst=1.0), rule(margin=0.5 - 3.1e-9, worst=-3.0), LESS),
    (rule("not covered", break_even="a"), rule("not covered", break_even="a"), AS_BEFORE), (rule("not covered", break_even="a"), rule("not covered", break_even="b"), OTHER),
    (rule(unit="mm"), rule(margin=0.7, unit="in"), AS_BEFORE), (rule(margin=None), rule(margin=0.7), AS_BEFORE), (rule(margin=0.2), rule(margin=None), AS_BEFORE),
])
def test_what_a_change_did_to_a_rule(before: Check | None, after: Check | None, effect: str):
    assert _effect(RuleChange("f", "r", before, after, "")) == effect


def test_by_how_much_a_margin_grew():
    def grew(before: Check | None, after: Check | None) -> float | None:
        return RuleChange("f", "r", before, after, "").difference

    assert grew(rule(margin=0.5), rule(margin=0.75)) == 0.25
    assert grew(rule("fail", margin=-0.5), rule(margin=0.75)) == 1.25
    for before, after in ((None, rule()), (rule(), None), (rule(), rule(unit="N")), (rule("not covered"), rule()), (rule(), rule("not covered")), (rule(margin=None), rule())):
        assert grew(before, after) is None
    assert to_spare(rule("not covered")) is None
    assert to_spare(rule("fail", margin=-0.2)) == -0.2


def feature(*checks: Check, verdict: str = "pass", **more) -> FeatureData:
    return FeatureData(kind=more.pop("kind", "press"), verdict=verdict, checks=list(checks), refusals=[], cautions=[], not_covered=[], **more)


def report(features: dict[str, FeatureData], **more) -> Report:
    return Report(schema="fits-report/1", part=more.pop("part", "p"), verdict=more.pop("verdict", "pass"), states=more.pop("states", {}), features=features, **more)


def test_rules_of_the_same_name_are_counted():
    found = _by_name(feature(rule(margin=1.0), rule(margin=2.0, name="other"), rule(margin=3.0), rule(margin=4.0)))
    assert {name: one.margin for name, one in found.items()} == {"r": 1.0, "other": 2.0, "r (2)": 3.0, "r (3)": 4.0}
    assert _by_name(None) == {}


def test_what_was_lost_and_whether_all_holds():
    old = report({"a": feature(rule(), rule(name="q")), "b": feature(rule())})
    same = compare(old, old)
    assert (same.holds, same.lost, same.verdict, same.unseen) == (True, (), "pass", False)
    fewer = compare(old, report({"a": feature(rule())}))
    assert (fewer.holds, fewer.lost) == (False, ("b", "a: q"))
    assert [(one.feature, one.rule, one.effect) for one in fewer.rules] == [("a", "q", GONE), ("b", "r", GONE), ("a", "r", AS_BEFORE)]
    assert fewer.features[1] == FeatureChange("b", "pass", None)
    worse = compare(old, report({"a": feature(rule("fail"), rule(name="q")), "b": feature(rule())}))
    assert (worse.holds, worse.verdict, worse.rules[0].effect) == (False, "fail", WORSE)
    more = compare(report({"a": feature(rule())}), old)
    assert (more.holds, [one.effect for one in more.rules]) == (True, [NEW, NEW, AS_BEFORE])
    assert isinstance(more, Comparison)


def test_inputs_that_differ_in_what_isn_t_listed():
    old, new = report({"a": feature(rule())}, inputs_sha256="1"), report({"a": feature(rule())}, inputs_sha256="2")
    assert compare(old, new).unseen is True
    assert compare(old, old).unseen is False
    assert compare(old, report({"a": feature(rule())})).unseen is False
    told = report({"a": feature(rule())}, inputs_sha256="2", revision="B")
    assert compare(old, told).unseen is False
    # A table's own numbers are no input that was given.
    tables = [report({"a": feature(rule())}, inputs_sha256=digest, tables={"t": digest}) for digest in ("1", "2")]
    found = compare(*tables)
    assert (found.unseen, [(one.where, one.name, one.before, one.after) for one in found.inputs]) == (True, [("tables", "t", "1", "2")])


def test_inputs_side_by_side():
    old = report({"a": feature(rule(), inputs={"x": "1", "y": "2"}), "b": feature(rule())}, part="p", revision="A", date="1", states={"hot": {"pressure": Amount(value=8.0, unit="MPa")}}, tables={"t": "1", "u": "1"})
    new = report({"a": feature(rule(), inputs={"x": "1", "y": "3", "z": "4"}, kind="other"), "c": feature(rule())}, part="q", revision="", date="1", states={"cold": {}}, tables={"t": "2", "w": "1"})
    assert [tuple(one) for one in _inputs(old, new)] == [
        ("part", "name", "p", "q"), ("part", "revision", "A", None), ("state hot", "state", "given", None), ("state cold", "state", None, "given"),
        ("a", "kind", "press", "other"), ("a", "y", "2", "3"), ("a", "z", None, "4"), ("b", "feature", "press", None), ("c", "feature", None, "press"), ("tables", "t", "1", "2")]


def test_a_size_is_the_same_when_its_limits_are():
    def sized(low: float, high: float, text: str, on: str = "") -> FeatureData:
        return feature(rule(), inputs={"hole": text}, sizes=[Size(name="hole", text=text, min=low, max=high, on=on)])

    assert list(_given("a", sized(1.0, 2.0, "x"), sized(1.0, 2.0, "y"))) == []
    for low, high in ((1.1, 2.0), (1.0, 2.1)):
        (one,) = _given("a", sized(1.0, 2.0, "x"), sized(low, high, "y"))
        assert (one.before, one.after) == (SizeAnswer("hole", "hole", "x", 1.0, 2.0), SizeAnswer("hole", "hole", "y", low, high))
    # One that stands on a surface is its text.
    (one,) = _given("a", sized(1.0, 2.0, "b.bore", "b.bore"), sized(1.0, 2.0, "y"))
    assert (one.before, one.after) == ("b.bore", SizeAnswer("hole", "hole", "y", 1.0, 2.0))
    assert Size(name="hub_outside", text="t", min=1.0, max=2.0, on="s").answer() == SizeAnswer("hub_outside", "hub outside", "t", 1.0, 2.0, on="s")


def test_states_side_by_side():
    old = {"hot": {"pressure": Amount(value=8.0, unit="MPa"), "proof": True}, "cold": {"medium": "oil"}}
    new = {"hot": {"pressure": Amount(value=9.0, unit="MPa"), "proof": True}, "cold": {"medium": "oil", "proof": False}}
    assert [tuple(one) for one in _states("a, ", old, new)] == [
        ("a, state hot", "pressure", Amount(value=8.0, unit="MPa"), Amount(value=9.0, unit="MPa")), ("a, state cold", "proof", None, "no")]
    assert [_said(one) for one in (True, False, "oil", None)] == ["yes", "no", "oil", None]


@pytest.mark.parametrize(("given", "holds"), [
    ({"checks": [rule().model_dump()]}, True), ({"refusals": ["x"]}, True), ({"not_covered": ["x"]}, True), ({}, False),
])
def test_a_report_in_which_something_was_judged(given: dict, holds: bool):
    one = {"kind": "press", "verdict": "pass", "checks": [], "refusals": [], "cautions": [], "not_covered": [], **given}
    data = {"schema": "fits-report/1", "part": "p", "verdict": "pass", "states": {}, "features": {"a": one}}
    if holds:
        assert reported(data, "b.json").part == "p"
        return
    with pytest.raises(InputError, match="nothing was judged in this one"):
        reported(data, "b.json")


def test_the_first_fault_of_a_report_is_named_by_its_key():
    with pytest.raises(InputError) as raised:
        reported({"schema": "fits-report/1", "part": 3, "verdict": 4, "states": {}, "features": {}}, "b.json")
    (fault,) = raised.value.faults
    assert (fault.key, fault.place) == ("part", "b.json")


# What is drawn

def drawn(part: Part):
    return with_drawings(part, check(part)).features[0].drawn


def test_temperatures_of_a_chart():
    """A tenth of the range beyond both ends, 15 K at the least, 25 points; never below -273 degC."""
    found = _temperatures([State("a", -40.0, 0.0), State("b", 20.0, 210.0)])
    assert (len(found), found[0], found[-1]) == (25, pytest.approx(-65.0), pytest.approx(235.0))
    assert np.diff(found) == pytest.approx(300.0 / 24.0)
    narrow = _temperatures([State("a", 20.0, 60.0)])
    assert (narrow[0], narrow[-1]) == (pytest.approx(5.0), pytest.approx(75.0))
    assert _temperatures([State("a", -270.0, -260.0)])[0] == -273.0


def test_a_curve_by_hand():
    """Gap 0.050 to 0.090 in the shop, 1 um/K; as much as 5 MPa takes 0.010; the proof's 9 MPa isn't of a working state."""
    part = plain(SHOP, COLD, PRESSED, State("proof", 20.0, 20.0, 9.0, proof=True), gap_at_least="0.04", push_at_least="9 N")
    (curve,) = drawn(part).curves
    assert (curve.name, curve.label, curve.kind, curve.digits, curve.pressure, curve.speed, curve.same, curve.gaps) == ("gap", "gap", "length", 4, 5.0, 0.0, ("push",), ())
    assert (curve.temperatures[0], curve.temperatures[-1], len(curve.temperatures)) == (-45.0, 35.0, 25)
    for temperature, span in zip(curve.temperatures, curve.ranges):
        assert span == (pytest.approx(0.04 + 0.001 * (temperature - 20.0)), pytest.approx(0.09 + 0.001 * (temperature - 20.0)))
    assert [(one.rule, one.sense, one.limits) for one in curve.bounds] == [
        ("never binds", "at least", (0.0,) * 25), ("least gap", "at least", (pytest.approx(0.04),) * 25), ("pushes", "at least", (pytest.approx(9.0),) * 25)]
    only = drawn(plain(State("proof", 20.0, 20.0, 9.0, proof=True), gap_at_most="0.2")).curves[0]
    assert (only.pressure, only.bounds[-1].rule, only.bounds[-1].sense) == (9.0, "most gap", "at most")


def test_the_strictest_limit_is_drawn(monkeypatch):
    """A limit that goes with the hole: of 20.000 to 20.030 the greatest to be above, the least to be below."""
    source = Plain.rules[0].source
    monkeypatch.setattr(Plain, "rules", (
        Rule("above", "gap", "at least", "bore", "", "", source), Rule("below", "gap", "at most", "bore", "", "", source),
        Rule("as made", "fresh", "at most", 3.0, "", "", source), Rule("pressed", "gap", "at most", 7.0, "", "", source, applies=lambda plain, states: states.hub_temperature > 21.0)))
    monkeypatch.setattr(Plain, "must_ask", None)
    (curve,) = drawn(plain(SHOP)).curves
    assert [(one.rule, one.limits[0], one.limits[-1]) for one in curve.bounds[:2]] == [("above", 20.03, 20.03), ("below", 20.0, 20.0)]
    pressed = next(one for one in curve.bounds if one.rule == "pressed").limits
    assert len(curve.bounds) == 3
    # Where the rule doesn't speak there is no line: from 5 to 35 degC, the thirteenth is 20.
    assert np.isnan(pressed[:13]).all()
    assert pressed[13:] == (7.0,) * 12


def test_a_limit_that_goes_with_the_temperature_is_drawn_along_it(monkeypatch):
    """Held against the gap itself: its greatest to be above, its least to be below, 1 um/K."""
    source = Plain.rules[0].source
    monkeypatch.setattr(Plain, "rules", (Rule("above", "push", "at least", "gap", "", "", source), Rule("below", "push", "at most", "gap", "", "", source)))
    monkeypatch.setattr(Plain, "must_ask", None)
    (curve,) = drawn(plain(SHOP, COLD)).curves
    above, below = curve.bounds
    for temperature, most, least in zip(curve.temperatures, above.limits, below.limits):
        assert most == pytest.approx(0.09 + 0.001 * (temperature - 20.0))
        assert least == pytest.approx(0.05 + 0.001 * (temperature - 20.0))


def test_a_curve_of_which_nothing_is_known_is_not_drawn():
    assert drawn(plain(OVEN, gap_at_least="0.01")).curves == ()
    part = plain(SHOP, OVEN, gap_at_least="0.01")
    (curve,) = drawn(part).curves
    known = [one is not None and None not in one for one in curve.ranges]
    assert curve.gaps == ("hotter than is known",)
    assert known == [temperature <= 500.0 for temperature in curve.temperatures]
    assert all(one is None or isinstance(one, Range) for one in curve.ranges)


def test_hoop_stress_through_a_wall():
    """A + B/r^2 from 2 to 6 with 10 and 2 at its faces: B = 36, A = 1; a solid part has the outer one throughout."""
    assert _lame(np.array([2.0, 3.0, 6.0]), 10.0, 2.0) == pytest.approx([10.0, 5.0, 2.0])
    assert _lame(np.array([0.0, 3.0, 6.0]), 10.0, 2.0).tolist() == [2.0, 2.0, 2.0]


def test_walls_have_nine_radii_at_the_state_of_the_greatest_tension():
    from joints import metal, press_part

    body, pin = metal(7e4, 0.3, expansion=23e-6), metal(2e5, 0.3, expansion=11e-6)
    part = press_part((State("shop"), State("cold", -40.0, -40.0), State("fast", -60.0, -60.0, 0.0, 500.0)), hole="20.01/20.00", shaft="20.06/20.05", shaft_bore="10 ±0.1", hub_outside="40 ±0.2",
                      hub_material=body, shaft_material=pin)
    walls = with_drawings(part, check(part)).features[0].drawn.walls
    # The body shrinks more in the cold; what turns isn't drawn.
    assert walls.state == "cold"
    inner, hub = walls.parts
    assert (len(inner.radii), len(hub.radii)) == (9, 9)
    # The worst corner: the smallest hole, the thinnest wall of the body.
    assert hub.radii[0] == pytest.approx(10.0, abs=1e-9)
    assert hub.radii[-1] in (pytest.approx(19.9), pytest.approx(20.1))
    assert np.diff(hub.radii) == pytest.approx((hub.radii[-1] - hub.radii[0]) / 8.0)
    assert inner.radii[-1] == hub.radii[0]
    assert inner.radii[0] in (pytest.approx(4.95), pytest.approx(5.05))
