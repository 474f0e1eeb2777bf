"""One rule at its worst, by hand: on its limit and beside it, in which state, at which corner, what is said."""

from __future__ import annotations

import numpy as np
import pytest
from plain import Plain, plain

from fits.features.feature import NotCovered, Rule, State
from fits.features.fields import Spread
from fits.questions import judging
from fits.questions.answer import FAIL, NOT_COVERED, PASS, CheckAnswer
from fits.questions.check import check
from fits.questions.evaluate import Evaluation, evaluate
from fits.questions.judging import Margins, blocking, breaking, held, judge, margins

SHOP, COLD, HOT = State("shop"), State("cold", -40.0, -20.0), State("hot", 120.0, 60.0, 5.0)
RULES = {one.name: one for one in Plain.rules}


def of(margin: list, limit: float = 3.0, *, above: bool = False) -> Margins:
    found = np.array(margin)
    every = np.ones(found.shape[-1], dtype=bool)
    return Margins(found, np.full(found.shape, limit), found, every, ~every, above)


def ask(part, name: str) -> CheckAnswer:
    return next(one for feature in check(part).features for one in feature.checks if one.rule == name)


# Limits

def test_a_value_may_miss_its_limit_by_rounding_and_no_more():
    """1e-9 of the inside unit is rounding; a limit of 0 to be above must be passed by as much."""
    ends = [[-1.2e-9, -0.8e-9, 0.0, 0.8e-9, 1.2e-9, 0.5]]
    assert of(ends).failing.tolist() == [[True, False, False, False, False, False]]
    assert of(ends, above=True).failing.tolist() == [[True, False, False, False, False, False]]
    assert of(ends, 0.0, above=True).failing.tolist() == [[True, True, True, True, False, False]]
    assert of(ends, 0.0).failing.tolist() == [[True, False, False, False, False, False]]
    exactly = of([[-1e-9, 1e-9]])
    assert exactly.failing.tolist() == [[False, False]]
    assert of([[1e-9]], 0.0, above=True).failing.tolist() == [[False]]


def test_what_is_not_finite_neither_holds_nor_fails_above():
    assert of([[np.nan, np.inf, 2.0, -2.0]]).holding.tolist() == [[False, False, True, False]]


def test_the_strict_end_of_a_limit_typed_as_a_range_counts():
    part = plain(gap_at_least="0.01 to 0.03", gap_at_most="0.07 to 0.11")
    assert ask(part, "least gap").limit == pytest.approx(0.03)
    assert ask(part, "most gap").limit == pytest.approx(0.07)


def test_the_strict_end_counts_where_the_limit_makes_no_corners():
    part = plain(gap_at_least="0.01 to 0.03", gap_at_most="0.07 to 0.11")
    feature, found = part.features["seat"], evaluate(part, "seat", values=["gap"])
    assert margins(feature, RULES["least gap"], found).limit == pytest.approx(0.03)
    assert margins(feature, RULES["most gap"], found).limit == pytest.approx(0.07)


def test_the_worst_along_a_lead_too():
    """Holes of 20.010, 19.952 and 20.020: the second is the worst, in the cold, which takes 0.050 of 0.002."""
    part = plain(SHOP, COLD, SHOP._replace(name="late"))
    found = evaluate(part, "seat", given={"seat.hole": np.array([20.010, 19.952, 20.020]).reshape(-1, 1, 1)})
    one = judge(part, "seat", RULES["never binds"], found)
    assert (one.verdict, one.state, one.worst, one.margin, one.limit) == (FAIL, "cold", pytest.approx(-0.048), pytest.approx(-0.048), 0.0)
    assert one.corner["seat.shaft"] == 19.95


def test_what_is_left_is_counted_from_the_side_of_the_limit():
    """Gap 0.050 to 0.090 mm."""
    part = plain(gap_at_least="0.047", gap_at_most="0.085")
    least, most = ask(part, "least gap"), ask(part, "most gap")
    assert (least.worst, least.margin, least.verdict) == (pytest.approx(0.05), pytest.approx(0.003), PASS)
    assert (most.worst, most.margin, most.verdict) == (pytest.approx(0.09), pytest.approx(-0.005), FAIL)


def test_a_limit_may_be_swept_along_the_lead():
    part = plain(gap_at_least="0.02")
    lead = np.array([0.01, 0.06, 0.2]).reshape(-1, 1, 1)
    found = evaluate(part, "seat", values=["gap"], given={"seat.gap_at_least": lead})
    # Gap 0.05 at the least: more than the first limit, less than both others; as made the rule does not speak.
    assert held(part.features["seat"], RULES["least gap"], found).tolist() == [[True, True], [False, True], [False, True]]


def test_a_limit_that_is_a_value_of_one_column_is_spread_over_all():
    part = plain(SHOP, COLD)
    rule = Rule("beside", "gap", "at most", "fresh", "", "", Plain.rules[0].source)
    found = margins(part.features["seat"], rule, evaluate(part, "seat"))
    # Cold takes 0.050 of a gap that is 0.05 to 0.09 as it is made: 0 in the shop, 0.050 more in the cold.
    assert found.margin.shape[-1] == 3
    assert found.limit.shape == found.margin.shape
    assert found.margin[..., 0] == pytest.approx(0.0, abs=1e-12)
    assert found.margin[..., 1] == pytest.approx(0.05)


# States and corners

def test_a_rule_speaks_only_where_it_applies():
    part = plain(SHOP, COLD, HOT, push_at_most="20 N")
    one = ask(part, "no more push")
    # 200 x (0.090 + 0.070) + 3 in the hot; as cold it would be least, and it isn't asked there.
    assert (one.state, one.worst, one.margin) == ("hot", pytest.approx(35.0), pytest.approx(-15.0))
    speaks = margins(part.features["seat"], RULES["no more push"], evaluate(part, "seat")).columns
    assert speaks.tolist() == [False, False, True, False]


def test_the_worst_state_and_corner_are_named():
    """Cold: (20 - (-30)) K x 0.001 mm take 0.050 of the gap."""
    one = ask(plain(SHOP, COLD, HOT, push_at_least="0.5 N"), "pushes")
    assert (one.state, one.verdict, one.where) == ("cold", FAIL, "it leans left")
    assert one.worst == pytest.approx(0.0, abs=1e-9)
    assert one.corner == {"seat.hole": 20.0, "seat.shaft": 19.95, "seat.lean": 0.0, "part.pressure": 0.0}
    assert (one.kind, one.digits, one.sense, one.label) == ("force", 1, "at least", "push")
    most = ask(plain(SHOP, HOT, push_at_most="40 N"), "no more push")
    assert (most.where, most.corner["seat.lean"], most.corner["seat.hole"], most.corner["seat.shaft"]) == ("it leans right", 3.0, 20.03, 19.94)


def test_a_choice_that_makes_no_difference_is_not_named():
    part = plain(SHOP, gap_at_least="0.047")
    assert ask(part, "least gap").where == ""


def test_pressure_at_the_corner_of_the_least_gap():
    """Full pressure takes 2 um/MPa x 5 MPa: 0.05 + 0.070 - 0.010."""
    cool = State("pressed", 20.0, 20.0, 5.0)
    one = ask(plain(SHOP, cool, gap_at_least="0.047"), "least gap")
    assert (one.state, one.worst, one.corner["part.pressure"], one.verdict) == ("pressed", pytest.approx(0.04), 1.0, FAIL)


def test_a_column_that_fails_comes_before_one_that_is_not_known_and_that_before_one_that_holds():
    oven = State("oven", 600.0, 600.0)
    # At 600 degC nothing is known of the gap.
    open_ = ask(plain(SHOP, oven, COLD, gap_at_most="0.2"), "most gap")
    assert (open_.verdict, open_.state, open_.worst, open_.margin) == (NOT_COVERED, "oven", None, None)
    assert open_.why_not == "hotter than is known"
    assert open_.limit == pytest.approx(0.2)
    fails = ask(plain(SHOP, oven, COLD, gap_at_most="0.08"), "most gap")
    assert (fails.verdict, fails.state, fails.worst) == (FAIL, "shop", pytest.approx(0.09))


def test_of_columns_that_fail_the_least_margin_is_named():
    found = ask(plain(State("cool", 10.0, 10.0), COLD, SHOP, gap_at_least="0.07"), "least gap")
    assert (found.state, found.margin) == ("cold", pytest.approx(-0.07))


def test_hardest_limit_where_nothing_is_known():
    """Of the limits 4, 5, 3 the greatest is the hardest to be above, and the least to be below."""
    limit = np.array([[[4.0, 0.0], [5.0, 0.0], [np.nan, 0.0], [3.0, 9.0]]])
    found = Margins(limit, limit, limit * np.nan, np.ones(2, dtype=bool), np.zeros(2, dtype=bool), False)
    assert judging._hardest(found, RULES["least gap"], 0) == 1
    assert judging._hardest(found, RULES["most gap"], 0) == 3
    assert judging._hardest(found, RULES["least gap"], 1) == 3


def test_a_number_at_a_corner_of_a_lead():
    array = np.arange(12.0).reshape(2, 3, 2)
    assert judging._at(array, 4, 1) == 9.0
    assert judging._at(array[:1], 4, 0) == 2.0


# Gaps

def test_gaps_block_by_lead_and_column():
    """A gap of two leads stays apart; one without a lead is any corner's."""
    lead = np.zeros((2, 3, 2), dtype=bool)
    lead[1, 2, 0] = True
    assert judging._by_column_lead(lead, 2).tolist() == [[False, False], [True, False]]
    flat = np.zeros((3, 2), dtype=bool)
    flat[2, 1] = True
    assert judging._by_column_lead(flat, 2).tolist() == [False, True]
    four = np.zeros((2, 2, 3, 2), dtype=bool)
    four[1, 0, 1, 1] = True
    assert judging._by_column_lead(four, 2).tolist() == [[[False, False], [False, False]], [[False, True], [False, False]]]


def test_which_gaps_keep_a_rule_from_passing():
    part = plain(SHOP, State("oven", 600.0, 600.0), grade=None, gap_at_least="0.02", gap_at_most="0.2", push_at_least="1 N")
    evaluation = evaluate(part, "seat")

    def about(name: str) -> list[str]:
        return [one.about for one in blocking(Plain, RULES[name], evaluation)]

    assert about("never binds") == ["heat"]
    assert about("pushes") == ["heat", "grade"]
    # The heat can only make the least gap milder, its rule says.
    assert about("least gap") == []
    # A limit has gaps of its own, and each is said once.
    beside = Rule("beside", "push", "at least", "gap", "", "", Plain.rules[0].source)
    assert [one.about for one in blocking(Plain, beside, evaluation)] == ["heat", "grade"]
    fresh = Rule("beside", "fresh", "at least", "push", "", "", Plain.rules[0].source)
    assert [one.about for one in blocking(Plain, fresh, evaluation)] == ["heat", "grade"]


def made(part, **changes) -> Evaluation:
    return evaluate(part, "seat")._replace(**changes)


def test_a_blocked_column_is_held_by_none_of_its_corners_and_no_other_is():
    part = plain(SHOP, COLD, gap_at_least="0.001")
    evaluation = evaluate(part, "seat")
    corners = len(next(iter(evaluation.corners.values())))
    mask = np.zeros((corners, 3), dtype=bool)
    mask[5, 1] = True
    gapped = made(part, gaps=(NotCovered("hole", "not read", mask),))
    feature, rule = part.features["seat"], RULES["never binds"]
    assert held(feature, rule, evaluation).tolist() == [True, False, True]
    assert held(feature, rule, made(plain(SHOP, State("cool", 10.0, 10.0)), gaps=(NotCovered("hole", "not read", mask),))).tolist() == [True, False, True]
    broken = breaking(feature, RULES["least gap"], gapped)
    assert broken.shape == (1, corners, 3)
    assert not broken[..., 0].any()
    assert broken[0, 5, 1]
    assert not broken[..., 2].any()


def test_held_along_a_lead_by_column():
    """The hole at 19.945, 19.96 and 20.0 with shafts to 19.950: the first binds, cold takes 0.050."""
    part = plain(SHOP, COLD)
    found = evaluate(part, "seat", given={"seat.hole": np.array([19.945, 19.96, 20.01]).reshape(-1, 1, 1)})
    feature = part.features["seat"]
    assert held(feature, RULES["never binds"], found).tolist() == [[False, False, True], [True, False, True], [True, True, True]]
    assert breaking(feature, RULES["never binds"], found).any(axis=1).tolist() == [[True, True, False], [False, True, False], [False, False, False]]


def test_a_rule_that_speaks_nowhere_holds_and_names_the_last_column():
    part = plain(SHOP, COLD, push_at_most="20 N")
    one = judge(part, "seat", RULES["no more push"], evaluate(part, "seat"))
    assert (one.verdict, one.state) == (PASS, "as_made")


def test_every_reason_is_said_once_and_only_those_of_the_column():
    part = plain(SHOP, COLD, gap_at_least="0.001")
    hole = [NotCovered("hole", text, np.array([[False, at, False]])) for text, at in (("not read", True), ("not read", True), ("elsewhere", False))]
    shaft = NotCovered("shaft", "nor this", np.array([[False, True, True]]))
    evaluation = made(part, gaps=(*hole, shaft))
    one = judge(part, "seat", RULES["least gap"], evaluation)
    assert (one.verdict, one.state) == (FAIL, "cold")
    loose = judge(plain(SHOP, State("cool", 10.0, 10.0), gap_at_least="0.001"), "seat", RULES["least gap"], made(plain(SHOP, State("cool", 10.0, 10.0), gap_at_least="0.001"), gaps=(*hole, shaft)))
    assert (loose.verdict, loose.state, loose.why_not) == (NOT_COVERED, "cool", "not read; nor this")
    bare = judge(part, "seat", RULES["most gap"]._replace(limit=9.0), made(part, numbers={**evaluate(part, "seat").numbers, "gap": np.array([[1.0, np.nan, np.nan]])}))
    assert (bare.verdict, bare.why_not) == (NOT_COVERED, "a number it depends on is not covered")


def test_a_rule_speaks_in_the_columns_of_its_value():
    part = plain(SHOP, COLD)
    rule = Rule("as made", "fresh", "at least", 0.051, "", "", Plain.rules[0].source)
    evaluation = evaluate(part, "seat")
    found = margins(part.features["seat"], rule, evaluation)
    assert found.columns.tolist() == [False, False, True]
    one = judge(part, "seat", rule, evaluation)
    assert (one.verdict, one.state, one.worst, one.kind) == (FAIL, "as_made", pytest.approx(0.05), "length")
    assert judge(part, "seat", rule._replace(value="start"), evaluation).state == "assembly"


def test_gaps_along_a_lead_break_a_rule_there_only():
    """Two holes, sixteen corners, three columns: the second hole wasn't read at one corner in the cold."""
    part = plain(SHOP, COLD, gap_at_least="0.001")
    lead = np.array([20.01, 20.02]).reshape(-1, 1, 1)
    evaluation = evaluate(part, "seat", given={"seat.hole": lead})
    corners = evaluation.numbers["gap"].shape[1]
    mask = np.zeros((2, corners, 3), dtype=bool)
    mask[1, 4, 1] = True
    gapped = evaluation._replace(gaps=(NotCovered("hole", "not read", mask),))
    feature, rule = part.features["seat"], RULES["least gap"]
    assert np.argwhere(breaking(feature, rule, gapped)).tolist() == [[1, 4, 1]]
    assert held(feature, rule, gapped).tolist() == [[True, True, True], [True, False, True]]
    assert margins(feature, rule, gapped).blocked.tolist() == [[False, False, False], [False, True, False]]
    # One column only: it is that as made, of which the rule does not speak.
    last = evaluation._replace(gaps=(NotCovered("hole", "not read", mask[..., 1:2]),))
    assert not breaking(feature, rule, last).any()


def test_numbers_without_corners_are_judged_too():
    part = plain(SHOP, COLD)
    alone = made(part, numbers={"gap": np.array([0.02, -0.01, 0.5])}, gaps=())
    assert held(part.features["seat"], RULES["never binds"], alone).tolist() == [True, False, True]


def test_what_tells_a_value_apart_is_named_even_where_all_are_alike():
    part = plain(SHOP)
    evaluation = evaluate(part, "seat")
    rule = Rule("apart", "leaned", "at least", 5.0, "", "", Plain.rules[0].source)
    alike = np.full(evaluation.numbers["leaned"].shape, 4.0)
    found = judge(part, "seat", rule, evaluation._replace(numbers={**evaluation.numbers, "leaned": alike, "push": alike}))
    assert (found.verdict, found.where) == (FAIL, "it leans left")
    assert judge(part, "seat", rule._replace(value="push"), evaluation._replace(numbers={**evaluation.numbers, "push": alike})).where == ""
    # A number that is alike at all corners has no corner of its own.
    bare = evaluation._replace(numbers={**evaluation.numbers, "push": alike[:1]})
    assert judge(part, "seat", rule._replace(value="push"), bare).where == ""
    # A nan at another choice doesn't make this one the worst alone, nor keeps it from being it.
    lean = evaluation.corners["seat.lean"][:, 0]
    push = np.where(lean == 1.0, 3.0, np.where(lean == 3.0, np.nan, 3.5))[:, None] * np.ones(2)
    some = judge(part, "seat", rule._replace(value="push"), evaluation._replace(numbers={**evaluation.numbers, "push": push}))
    assert (some.where, some.corner["seat.lean"]) == ("it leans up", 1.0)
    push = np.where(lean == 1.0, 3.0, 3.0 + 0.5e-9)[:, None] * np.ones(2)
    near = judge(part, "seat", rule._replace(value="push"), evaluation._replace(numbers={**evaluation.numbers, "push": push}))
    assert near.where == ""
    push = np.where(lean == 1.0, 3.0, 3.0 + 4e-9)[:, None] * np.ones(2)
    apart = judge(part, "seat", rule._replace(value="push"), evaluation._replace(numbers={**evaluation.numbers, "push": push}))
    assert apart.where == "it leans up"


# Break-even

@pytest.mark.parametrize(("push", "rule", "says"), [
    # 100 grade 0.050 + 0 at the least, left: 5 N for each grade; 100 grade 0.090 + 3 at the most: 9 N.
    ({"push_at_least": "12.5 N"}, "pushes", "holds if grade is at least 2.5"),
    ({"push_at_least": "12.52 N"}, "pushes", "holds if grade is at least 2.51"),
    ({"push_at_most": "30 N"}, "no more push", "holds if grade is at most 3.05"),
    ({"push_at_least": "1 N"}, "pushes", "holds for any grade"),
    ({"push_at_least": "1000 N"}, "pushes", "no grade would make it hold"),
])
def test_the_break_even_of_a_missing_grade(push: dict, rule: str, says: str):
    # Heat of 10 K adds 0.010 mm, 5 MPa take as much: the greatest gap is 0.100 without, 0.090 with all of it.
    part = plain(State("working", 20.0, 20.0, 1e-9), grade=None, **push)
    one = ask(part, rule)
    assert one.verdict == NOT_COVERED
    if rule == "no more push":
        # 27 N over 9 N a grade.
        assert one.break_even == "holds if grade is at most 3.00"
        return
    assert one.break_even.rstrip("0").removesuffix(".") == says.rstrip("0").removesuffix(".")


def test_the_break_even_of_a_limit_that_is_not_known():
    """Gap 0.050 to 0.090 mm, but the push that it is held against isn't known: a limit would have to be so."""
    part = plain(grade=None)
    evaluation = evaluate(part, "seat")
    rule = Rule("beside", "gap", "at most", "push", "", "", Plain.rules[0].source)
    gaps = tuple(NotCovered(one.about, one.reason, one.mask) for one in evaluation.gaps)
    most = judge(part, "seat", rule, evaluation._replace(gaps=gaps))
    assert (most.verdict, most.break_even) == (NOT_COVERED, "holds if push is at least 0.0900 mm")
    least = judge(part, "seat", rule._replace(sense="at least"), evaluation._replace(gaps=gaps))
    assert least.break_even == "holds if push is at most 0.0500 mm"
    # What the value itself rests on isn't known either: nothing can be said.
    own = (*gaps, NotCovered("hole", "not read", np.ones((1, 2), dtype=bool)))
    assert judge(part, "seat", rule, evaluation._replace(gaps=own)).break_even == ""
    # A limit that is a number is known.
    assert judge(part, "seat", rule._replace(limit=0.01), evaluation._replace(gaps=own)).break_even == ""


@pytest.mark.parametrize(("value", "kind", "units", "up", "says"), [
    (0.0012344, "length", "mm", True, "0.00124 mm"), (0.0012344, "length", "mm", False, "0.00123 mm"),
    (123.44, "length", "mm", True, "123.4400 mm"), (3.14159, "force", "mm", True, "3.15 N"), (314.159, "force", "mm", False, "314.1 N"),
    (0.0314159, "pressure", "mm", True, "0.0315 MPa"), (25.4, "length", "in", True, "1.00000 in"), (0.254 * 0.12344, "length", "in", True, "0.00124 in"),
    (6.894757293168361, "pressure", "in", True, "1000 psi"), (11.2346e-6, "expansion", "mm", True, "11.3e-6 1/K"), (11.2346e-6, "expansion", "mm", False, "11.2e-6 1/K"),
    (1.2346e-6, "expansion", "mm", True, "1.24e-6 1/K"), (123.44e-6, "expansion", "mm", True, "123.5e-6 1/K"),
    (0.123400015, "length", "mm", True, "0.1235 mm"), (0.123400005, "length", "mm", True, "0.1234 mm"), (0.123399985, "length", "mm", False, "0.1233 mm"),
    (1e-30, "length", "mm", True, "0.000000000000000001 mm"), (12.3456e-15, "length", "mm", False, "0.0000000000000123 mm"),
    (0.0, "number", "mm", True, "0.00"), (-2.345, "number", "mm", True, "-2.34"), (-2.345, "number", "mm", False, "-2.35"),
])
def test_three_digits_rounded_to_the_side_that_holds(value: float, kind: str, units: str, up: bool, says: str):
    assert judging._rounded_to_hold(value, kind, units, up=up) == says


def test_a_spread_is_what_the_kind_was_given():
    assert plain(gap_at_least="0.01 to 0.03").features["seat"].gap_at_least == Spread(0.01, 0.03, "0.01 to 0.03")


def test_of_two_missing_inputs_one_is_sought_with_the_other_at_its_mildest():
    """Lamé: 0.05 mm on 40 in 80 of 207 GPa presses with 97.03 MPa; 45 kN on 40 x 50 then need a friction of 0.07381."""
    from joints import metal, press_part

    steel = metal(207_000.0, 0.292)
    part = press_part(hole="40", shaft="40.05", hub_outside="80", length=50, hub_material=steel, shaft_material=steel, roughness_hole=None, roughness_shaft=None,
                      friction_hold=None, axial_load=30_000.0)
    pressure = 0.05 / (40.0 / 207_000.0 * ((80.0**2 + 40.0**2) / (80.0**2 - 40.0**2) + 1.0))
    friction = 1.5 * 30_000.0 / (pressure * np.pi * 40.0 * 50.0)
    assert ask(part, "holds its load").break_even == f"holds if friction hold is at least {np.ceil(friction * 1e4) / 1e4:.4f}, with roughness loss at its mildest"
    assert ask(part, "interference is kept").break_even == "holds if roughness and form together cost at most 0.0500 mm"
