"""Pairing: the assignment against brute force, and pairs against a check of each."""

from __future__ import annotations

from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from joints import metal, press_part

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.features.running import Running
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED
from fits.questions.assignment import best
from fits.questions.boxes import Boxes
from fits.questions.check import check
from fits.questions.measured import measured, with_sizes
from fits.questions.pair import Table, pair
from fits.questions.telling import telling
from fits.sizes.reading import Reading

STEEL, ALUMINIUM = metal(2.0e5, 0.29, expansion=11e-6, least=900.0), metal(7.0e4, 0.33, expansion=23e-6, least=240.0)
PRESS = press_part((State("shop"), State("hot", 80.0, 80.0, 5.0)), hole="20.021/20.000", shaft="20.060/20.047", shaft_bore="12 ±0.05",
                   hub_outside="40 ±0.1", length="30", hub_material=ALUMINIUM, shaft_material=STEEL, ends="body",
                   roughness_hole=2.0, roughness_shaft=2.0)
GUIDE = Part("test", {"guide": Running(hole="20.021/20.000", shaft="19.980/19.967", clearance_at_least=0.020, clearance_at_most=0.040)})


def every_matching(rows: int, columns: int):
    """All sets of pairs in which no row and no column stands twice."""
    for count in range(min(rows, columns) + 1):
        for chosen in combinations(range(rows), count):
            for targets in permutations(range(columns), count):
                yield list(zip(chosen, targets))


def value(score: np.ndarray, pairs: list[tuple[int, int]]) -> tuple[float, float, float]:
    found = [score[i, j] for i, j in pairs]
    return (len(pairs), min(found, default=np.inf), sum(found))


@settings(max_examples=60)
@given(st.integers(1, 5), st.integers(1, 5), st.randoms(use_true_random=False), st.floats(0.2, 1.0), st.booleans())
def test_assignment_against_every_matching(rows, columns, random, share, rough):
    score = np.array([[random.uniform(-1.0, 1.0) for _ in range(columns)] for _ in range(rows)])
    score = np.round(score, 1) if rough else score
    allowed = np.array([[random.random() < share for _ in range(columns)] for _ in range(rows)])
    found = best(score, allowed)
    assert all(allowed[i, j] for i, j in found)
    assert len({i for i, _ in found}) == len({j for _, j in found}) == len(found)
    every = max(value(score, m) for m in every_matching(rows, columns) if all(allowed[i, j] for i, j in m))
    assert value(score, found) == pytest.approx(every)


def test_more_pairs_come_before_better_ones():
    # Two pairs of 10, or three of 0: three.
    score = np.zeros((3, 3))
    score[0, 0] = score[1, 1] = 10.0
    allowed = np.array([[1, 1, 0], [0, 1, 1], [1, 0, 0]], dtype=bool)
    assert best(score, allowed) == [(0, 1), (1, 2), (2, 0)]


@settings(max_examples=5)
@given(st.randoms(use_true_random=False), st.integers(6, 7))
def test_assignment_of_seven_against_every_permutation(random, size):
    score = np.array([[random.uniform(0.0, 1.0) for _ in range(size)] for _ in range(size)])
    every = np.array(list(permutations(range(size))))
    picked = score[np.arange(size), every]
    least = picked.min(axis=1)
    most = picked.sum(axis=1)[least == least.max()].max()
    found = best(score, np.ones((size, size), dtype=bool))
    assert value(score, found) == pytest.approx((size, least.max(), most))


@settings(max_examples=60)
@given(st.integers(1, 5), st.integers(1, 5), st.randoms(use_true_random=False), st.floats(0.3, 1.0), st.booleans())
def test_assignment_with_what_is_better_avoided_against_every_matching(rows, columns, random, share, rough):
    score = np.array([[random.uniform(-1.0, 1.0) for _ in range(columns)] for _ in range(rows)])
    score = np.round(score, 1) if rough else score
    allowed = np.array([[random.random() < share for _ in range(columns)] for _ in range(rows)])
    grave, less = (np.array([[random.choice([0, 0, 1, most]) for _ in range(columns)] for _ in range(rows)]) for most in (1, 4))

    def worth(pairs: list[tuple[int, int]]) -> tuple[float, ...]:
        count, least, total = value(score, pairs)
        return (count, -sum(grave[i, j] for i, j in pairs), -sum(less[i, j] for i, j in pairs), least, round(total, 9))

    found = best(score, allowed, (grave, less))
    assert all(allowed[i, j] for i, j in found)
    every = max(worth(m) for m in every_matching(rows, columns) if all(allowed[i, j] for i, j in m))
    assert worth(found) == pytest.approx(every)


def against(size: float, low: float, high: float, doubt: float) -> int:
    """A size against its limits by the guard band, by hand: inside 0, undecided 1, outside 2."""
    room = min(size - low, high - size)
    return 0 if room >= doubt - 1e-9 else 2 if room < -doubt - 1e-9 else 1


def worth(room: np.ndarray, pairs: list[tuple[int, int]], holes: list[int], shafts: list[int]) -> tuple[float, ...]:
    """What a pairing is worth: pairs, the fewest with a part outside, the fewest such parts, rooms."""
    count, least, total = value(room, pairs)
    outside = sum(2 in (holes[i], shafts[j]) for i, j in pairs)
    return (count, -outside, -sum(holes[i] + shafts[j] for i, j in pairs), least, round(total, 9))


def readings(label: str, sizes, doubt: float, stem: str) -> list[Reading]:
    return [Reading(f"{stem}{i}", label, float(size), doubt, "gauge", 20.0) for i, size in enumerate(sizes)]


HOLES, SHAFTS = st.lists(st.floats(19.99, 20.05), min_size=1, max_size=4), st.lists(st.floats(20.03, 20.10), min_size=1, max_size=4)


@settings(max_examples=25)
@given(HOLES, SHAFTS, st.floats(1e-4, 4e-3))
def test_pairs_of_a_press_against_a_check_of_every_pair(holes, shafts, doubt):
    found = pair(PRESS, readings("joint.hole", holes, doubt, "h") + readings("joint.shaft", shafts, doubt, "s"))
    holds = np.array([[check(with_sizes(PRESS, {"joint.hole": (h - doubt, h + doubt), "joint.shaft": (s - doubt, s + doubt)})).verdict == PASS
                       for s in shafts] for h in holes])
    made = [(int(one.hole[1:]), int(one.shaft[1:])) for one in found.pairs]
    assert all(holds[i, j] for i, j in made)
    assert len(made) == max(len(m) for m in every_matching(len(holes), len(shafts)) if all(holds[i, j] for i, j in m))
    assert len(made) * 2 + len(found.left) == len(holes) + len(shafts)
    assert {one.part: one.spare for one in found.left} == {
        **{f"h{i}": bool(holds[i].any()) for i in range(len(holes)) if i not in [a for a, _ in made]},
        **{f"s{j}": bool(holds[:, j].any()) for j in range(len(shafts)) if j not in [b for _, b in made]}}


@settings(max_examples=25)
@given(st.lists(st.floats(20.0, 20.021), min_size=1, max_size=5), st.lists(st.floats(19.967, 19.99), min_size=1, max_size=5))
def test_pairs_of_a_running_fit_against_brute_force(holes, shafts):
    doubt = 0.001
    found = pair(GUIDE, readings("guide.hole", holes, doubt, "h") + readings("guide.shaft", shafts, doubt, "s"))
    # Room of a linear clearance, by hand: the nearer of the two limits, less both doubts.
    clearance = np.array([[h - s for s in shafts] for h in holes])
    room = np.minimum(clearance - 0.020, 0.040 - clearance) - 2.0 * doubt
    allowed = room >= -1e-9
    drawn = [against(h, 20.0, 20.021, doubt) for h in holes], [against(s, 19.967, 19.98, doubt) for s in shafts]
    every = max(worth(room, m, *drawn) for m in every_matching(len(holes), len(shafts)) if all(allowed[i, j] for i, j in m))
    made = [(int(one.hole[1:]), int(one.shaft[1:])) for one in found.pairs]
    assert worth(room, made, *drawn) == pytest.approx(every, abs=1e-8)
    for one, (i, j) in zip(found.pairs, made):
        assert {off.part for off in one.outside} == {f"{k}{n}" for k, n, of in (("h", i, drawn[0]), ("s", j, drawn[1])) if of[n] == 2}
        assert {off.part for off in one.unproved} == {f"{k}{n}" for k, n, of in (("h", i, drawn[0]), ("s", j, drawn[1])) if of[n] == 1}
    rank = max((of[n] for pair_ in made for of, n in zip(drawn, pair_)), default=0)
    assert found.verdict == (FAIL if found.left or rank == 2 else NOT_COVERED if rank else PASS)
    for one, (i, j) in zip(found.pairs, made):
        assert one.room == pytest.approx(room[i, j], abs=1e-9)
        assert (one.fit, one.doubt) == (pytest.approx(clearance[i, j]), pytest.approx(0.002))


@settings(max_examples=15)
@given(HOLES, SHAFTS)
def test_the_choice_is_the_best_at_every_corner_of_a_press(holes, shafts):
    """Found with a few corners; proved here with the rooms of all."""
    table = readings("joint.hole", holes, 5e-4, "h") + readings("joint.shaft", shafts, 5e-4, "s")
    whole = Table(PRESS, ("joint", "joint.hole", "joint.shaft"), measured(PRESS, table))
    rows, columns = (grid.reshape(-1) for grid in np.meshgrid(range(len(holes)), range(len(shafts)), indexing="ij"))
    room, allowed = (found.reshape(len(holes), -1) for found in whole._scored(*whole.box(rows, columns), None))
    drawn = [against(h, 20.0, 20.021, 5e-4) for h in holes], [against(s, 20.047, 20.060, 5e-4) for s in shafts]
    every = max(worth(room, m, *drawn) for m in every_matching(len(holes), len(shafts)) if all(allowed[i, j] for i, j in m))
    found = pair(PRESS, table)
    assert worth(room, [(int(one.hole[1:]), int(one.shaft[1:])) for one in found.pairs], *drawn) == pytest.approx(every, abs=1e-8)
    assert min((one.room for one in found.pairs), default=np.inf) == pytest.approx(every[3])


def test_a_choice_made_with_one_corner_is_proved_at_all(monkeypatch):
    table = readings("joint.hole", [20.002, 20.012, 20.030], 5e-4, "h") + readings("joint.shaft", [20.048, 20.062, 20.075], 5e-4, "s")
    found = pair(PRESS, table)
    assert found.pairs
    whole, calls = Boxes.setting, []

    def setting(self, low, high):
        calls.append(1)
        return whole(self, low, high) if len(calls) > 1 else {name: {0} for name in self.features}

    monkeypatch.setattr(Boxes, "setting", setting)
    assert pair(PRESS, table) == found
    assert len(calls) > 1


def test_the_only_right_pairing():
    # Each hole takes one shaft only: 0.030 apart, the others 0.010 further off. By hand.
    holes, shafts = [20.000, 20.010, 20.020], [19.990, 19.970, 19.980]
    found = pair(GUIDE, readings("guide.hole", holes, 0.001, "h") + readings("guide.shaft", shafts, 0.001, "s"))
    assert [(one.mark, one.hole, one.shaft) for one in found.pairs] == [("1", "h0", "s1"), ("2", "h1", "s2"), ("3", "h2", "s0")]
    # 19.990 is outside 19.967 to 19.980: it works, and judge would not accept it.
    assert (found.verdict, [bool(one.outside) for one in found.pairs]) == (FAIL, [False, False, True])
    assert all(one.room == pytest.approx(0.008) for one in found.pairs)


def test_what_is_left_over_and_what_would_pair_it():
    found = pair(GUIDE, readings("guide.hole", [20.010, 20.060], 0.001, "h") + readings("guide.shaft", [19.980], 0.001, "s"))
    assert found.verdict == FAIL
    (left,) = found.left
    assert (left.part, left.spare, left.mate) == ("h1", False, "guide.shaft")
    # 20.060 +-0.001 with 0.020 to 0.040 clearance: 20.021 to 20.039. By hand.
    assert left.wants is not None
    assert left.wants[0] == (pytest.approx(20.021, abs=2e-4), pytest.approx(20.039, abs=2e-4))
    # 19.980 is on its limit: not proved, and said.
    assert [(one.part, one.size.dimension.label) for one in found.pairs[0].unproved] == [("s0", "guide.shaft")]
    both = pair(GUIDE, readings("guide.hole", [20.010], 0.001, "h") + readings("guide.shaft", [19.980], 0.001, "s"))
    assert (both.left, both.verdict) == ((), NOT_COVERED)


def test_a_part_off_its_drawing_may_pair_and_is_named():
    found = pair(GUIDE, readings("guide.hole", [20.030], 0.001, "h") + readings("guide.shaft", [20.000], 0.001, "s"))
    assert (found.verdict, found.left) == (FAIL, ())
    assert [(one.part, one.size.dimension.label, one.beyond) for one in found.pairs[0].outside] == [("h0", "guide.hole", ("above",)), ("s0", "guide.shaft", ("above",))]
    assert any("may release a pair" in text for text in found.notes)


def test_parts_inside_their_drawings_come_first():
    # One hole, two shafts that both work: 0.027 has more room than 0.036, and is 0.008 above its limits. By hand.
    holes, shafts = readings("guide.hole", [20.015], 0.001, "h"), readings("guide.shaft", [19.988, 19.979], 0.0005, "s")
    found = pair(GUIDE, holes + shafts)
    assert [(one.shaft, one.outside) for one in found.pairs] == [("s1", ())]
    # With a hole for both, both are used: more pairs come first, and the line says so.
    more = pair(GUIDE, holes + readings("guide.hole", [20.016], 0.0005, "k") + shafts)
    assert sorted((one.shaft, bool(one.outside)) for one in more.pairs) == [("s0", True), ("s1", False)]


def test_a_table_too_large_to_weigh_is_one_clear_line():
    side = 2_001
    table = readings("guide.hole", [20.01] * side, 0.001, "h") + readings("guide.shaft", [19.975] * side, 0.001, "s")
    with pytest.raises(InputError, match=r"2,001 holes and 2,001 shafts make 4,004,001 pairs, too many; at most 4,000,000 .* pair them in lots"):
        pair(GUIDE, table)


def test_pairing_tells_how_far_it_is():
    told: list[float | None] = []
    table = readings("guide.hole", [20.002, 20.012], 0.001, "h") + readings("guide.shaft", [19.975, 19.978], 0.001, "s")
    with telling(told.append):
        found = pair(GUIDE, table)
    assert 0.9 in told
    assert None in told
    assert pair(GUIDE, table) == found
    assert len(told) == told.count(None) + 1


def test_what_else_was_read_of_a_part_goes_along():
    """A liner whose bore was read brings it; the body is paired with that bore, not with the drawing's."""
    plunger = Running(hole=SurfaceRef("joint", "shaft_bore"), shaft="11.96 ±0.001", shaft_material=STEEL, clearance_at_least=0.001)
    part = Part("test", {**PRESS.features, "plunger": plunger}, PRESS.states)
    body = readings("joint.hole", [20.010], 0.001, "h")
    liner = readings("joint.shaft", [20.053], 0.001, "s")
    assert not pair(part, body + liner).pairs
    bored = [*liner, Reading("s0", "joint.shaft_bore", 12.040, 0.001, "gauge", 20.0)]
    assert len(pair(part, body + bored).pairs) == 1


def test_a_hole_that_is_another_parts_surface():
    plunger = Running(hole=SurfaceRef("joint", "shaft_bore"), shaft="11.90 ±0.01", shaft_material=STEEL, clearance_at_least=0.001, clearance_at_most=0.2)
    part = Part("test", {**PRESS.features, "plunger": plunger}, PRESS.states)
    table = readings("joint.shaft_bore", [12.0, 12.02], 0.002, "l") + readings("plunger.shaft", [11.90, 11.92], 0.002, "p")
    found = pair(part, table)
    assert (found.feature, found.hole, found.shaft) == ("plunger", "joint.shaft_bore", "plunger.shaft")
    assert len(found.pairs) == 2
    both = [*table, *readings("joint.hole", [20.01], 0.002, "b"), *readings("joint.shaft", [20.05], 0.002, "s")]
    with pytest.raises(InputError, match="say which: --feature joint or --feature plunger"):
        pair(part, both)
    assert pair(part, both, feature="joint").feature == "joint"


def test_nothing_that_is_not_covered_is_paired():
    free = Part("test", {"guide": Running(hole="20.021/20.000", shaft="19.980/19.967")})
    table = readings("guide.hole", [20.01], 0.001, "h") + readings("guide.shaft", [19.98], 0.001, "s")
    found = pair(free, table)
    assert not found.pairs
    assert "there is no duty to judge" in found.not_covered[0]
    rough = press_part((State("shop"),), **{**{f: getattr(PRESS.features["joint"], f) for f in
                       ("hole", "shaft", "hub_outside", "hub_material", "shaft_material")}, "roughness_hole": None})
    table = readings("joint.hole", [20.01], 0.001, "h") + readings("joint.shaft", [20.05], 0.001, "s")
    found = pair(rough, table)
    assert not found.pairs
    assert "joint: interference is kept" in found.not_covered
    refused = pair(Part("test", PRESS.features, (State("o", pressure=2.0, medium="oxygen"),)), table)
    assert (refused.verdict, refused.pairs) == (REFUSED, ())


@pytest.mark.parametrize(("table", "feature", "says"), [
    (readings("guide.hole", [20.01], 0.001, "h"), "", "no readings of both holes and shafts of one feature; guide pairs guide.hole with guide.shaft"),
    (readings("guide.hole", [20.01], 0.001, "h") + readings("guide.shaft", [19.98], 0.001, "h"), "", "hole and shaft are two parts: give each its own name"),
    (readings("guide.hole", [20.01], 0.001, "h"), "gide", 'no such feature with hole and shaft; did you mean "guide"?'),
])
def test_tables_that_cant_be_paired(table, feature, says):
    with pytest.raises(InputError) as error:
        pair(GUIDE, table, feature=feature)
    assert says in str(error.value)


def test_sizes_of_two_parts_that_cant_go_together():
    thin = press_part((State("shop"),), hole="20.021/20.000", shaft="20.060/20.047", shaft_bore="19.5 ±0.1", hub_outside="40 ±0.1",
                      hub_material=ALUMINIUM, shaft_material=STEEL)
    table = [*readings("joint.hole", [19.7], 0.001, "h"), *readings("joint.shaft", [20.05], 0.001, "s"), Reading("s0", "joint.shaft_bore", 19.75, 0.001, "gauge", 20.0)]
    with pytest.raises(InputError, match=r"joint\.shaft_bore: one was read that does not stay below hole"):
        pair(thin, table)


def test_a_large_table_is_paired_in_blocks():
    rng = np.random.default_rng(3)
    table = readings("guide.hole", rng.uniform(20.0, 20.021, 300), 0.0005, "h") + readings("guide.shaft", rng.uniform(19.967, 19.98, 300), 0.0005, "s")
    found = pair(GUIDE, table)
    assert len(found.pairs) > 250
    assert len({one.hole for one in found.pairs}) == len({one.shaft for one in found.pairs}) == len(found.pairs)
    assert min(one.room for one in found.pairs) >= 0.0
    assert pair(GUIDE, table) == found


def test_scores_far_below_zero_are_paired_all_the_same():
    """Each has one mate: no sum of scores is worth leaving a pair out."""
    assert best(np.array([[-100.0, 0.0], [0.0, -99.95]]), np.eye(2, dtype=bool)) == [(0, 0), (1, 1)]
