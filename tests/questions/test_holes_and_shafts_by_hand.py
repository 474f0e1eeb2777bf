"""Holes paired with shafts, worked out by hand: doubt, rooms, what is avoided, what is left, what is said."""

from __future__ import annotations

import glands
import numpy as np
import pytest
from plain import plain

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions import pair as pairing
from fits.questions.answer import FAIL, NOT_COVERED, PASS
from fits.questions.assignment import _worth, best
from fits.questions.measured import measured
from fits.questions.pair import Table, pair
from fits.questions.telling import telling
from fits.sizes.reading import Reading

# Gap 0.040 to 0.080 mm is asked; hole 20.000 to 20.030, shaft 19.940 to 19.950.
ASKED = {"gap_at_least": "0.04", "gap_at_most": "0.08"}


def read(who: str, value: float, doubt: float = 0.001, *, label: str = "", **more) -> Reading:
    side = label or ("seat.hole" if who[0] in "hk" else "seat.shaft")
    return Reading(who, side, value, doubt, more.pop("instrument", "ring gauge"), 20.0, **more)


def table(part: Part, *readings: Reading) -> Table:
    return Table(part, ("seat", "seat.hole", "seat.shaft"), measured(part, readings))


def test_a_pair_by_hand():
    """Gap 20.012 - 19.946 = 0.066 +-0.0025 of at most 0.080: room 0.014 - 0.0025."""
    found = pair(plain(**ASKED), [read("h1", 20.012, 0.001), read("s1", 19.946, 0.0015)])
    (one,) = found.pairs
    assert (one.hole, one.shaft, one.mark, one.feature, one.rule, one.state) == ("h1", "s1", "1", "seat", "most gap", "shop")
    assert (one.fit, one.doubt) == (pytest.approx(0.066), pytest.approx(0.0025))
    assert (one.room, one.margin) == (pytest.approx(0.0115), pytest.approx(0.0115))
    assert (one.kind, one.digits, found.verdict, found.fit) == ("length", 4, PASS, "clearance")
    # The nearer limit is the least: 0.046 less 0.040.
    (low,) = pair(plain(**ASKED), [read("h1", 20.003), read("s1", 19.945)]).pairs
    assert (low.rule, low.room) == ("least gap", pytest.approx(0.016))


def test_several_readings_of_one_size_are_its_middle_and_half_their_spread():
    """Hole 20.010 to 20.014 with 0.001, shaft 19.945 to 19.947 with 0.0005: 0.066 +- 0.003 +- 0.0015."""
    found = pair(plain(**ASKED), [read("h1", 20.010), read("h1", 20.014), read("s1", 19.945, 0.0005), read("s1", 19.947, 0.0005)])
    (one,) = found.pairs
    assert (one.fit, one.doubt, one.room) == (pytest.approx(0.066), pytest.approx(0.0045), pytest.approx(0.0095))


def test_a_press_is_counted_from_its_shaft():
    from joints import metal, press_part

    steel = metal(2e5, 0.3)
    part = press_part(hole="20 H7", shaft="20.05/20.03", hub_outside="40", hub_material=steel, shaft_material=steel)
    (one,) = pair(part, [read("h1", 20.004, label="joint.hole"), read("s1", 20.043, label="joint.shaft")]).pairs
    assert one.fit == pytest.approx(0.039)
    assert pair(part, [read("h1", 20.004, label="joint.hole"), read("s1", 20.043, label="joint.shaft")]).fit == "interference"


def test_what_was_not_read_stands_at_the_drawing():
    part = plain(outside="41.2/40.8", **ASKED)
    found = table(part, read("h1", 20.012), read("k2", 20.020, 0.002), read("k2", 41.0, 0.003, label="seat.outside"), read("s1", 19.946))
    assert found.low["seat.outside"].tolist() == pytest.approx([40.8, 40.997])
    assert found.high["seat.outside"].tolist() == pytest.approx([41.2, 41.003])
    assert found.low["seat.hole"].tolist() == pytest.approx([20.011, 20.018])
    assert found.high["seat.hole"].tolist() == pytest.approx([20.013, 20.022])
    assert found.owner == {"seat.hole": "hole", "seat.outside": "hole", "seat.shaft": "shaft"}
    low, high = found.box(np.array([1, 0]), np.array([0, 0]))
    assert low["seat.hole"].tolist() == pytest.approx([20.018, 20.011])
    assert high["seat.shaft"].tolist() == pytest.approx([19.947, 19.947])


@pytest.mark.parametrize(("core", "says"), [(19.9365, True), (19.935546875, True), (19.9355, False), (19.9, False)])
def test_sizes_of_two_parts_that_cannot_be_of_one_pair(core: float, says: bool):
    """A core of the hole's part in a shaft of 19.9375, both +-1/1024: 19.9375 - 2/1024 is where they touch."""
    part = plain(core="19.7 ±0.1", gap_at_least="0.04", gap_at_most="0.09")
    doubt = 1.0 / 1024.0
    readings = [read("h1", 20.012), read("h1", core, doubt, label="seat.core"), read("s1", 19.9375, doubt), read("s2", 19.949)]
    if says:
        with pytest.raises(InputError, match=r"seat\.core: one was read that does not stay below shaft: it needs a wall"):
            pair(part, readings)
    else:
        assert pair(part, readings).pairs


def test_the_first_part_with_both_is_named_where_it_stands():
    readings = [read("h1", 20.012), read("b7", 20.012, label="seat.hole", place="t:3"), read("b7", 19.946, label="seat.shaft", place="t:4"),
                read("b2", 20.012, label="seat.hole"), read("b2", 19.946, label="seat.shaft", place="t:9")]
    with pytest.raises(InputError) as raised:
        pair(plain(**ASKED), readings)
    (fault,) = raised.value.faults
    assert (fault.got, fault.place, fault.must) == ("b7", "t:4", "seat.hole and seat.shaft were read of it")


def test_as_many_as_can_be_weighed_are(monkeypatch):
    monkeypatch.setattr(pairing, "MOST", 4)
    four = [read("h1", 20.012), read("h2", 20.014), read("s1", 19.946), read("s2", 19.947)]
    assert len(pair(plain(**ASKED), four).pairs) == 2
    with pytest.raises(InputError, match=r"2 holes and 3 shafts make 6 pairs, too many; at most 4"):
        pair(plain(**ASKED), [*four, read("s3", 19.945)])


def test_what_is_better_avoided():
    """Outside counts 2, not proved 1; a pair is grave where either part is outside."""
    found = table(plain(**ASKED), read("h1", 20.012), read("h2", 20.0295), read("h3", 20.04), read("s1", 19.945), read("s2", 19.95), read("s3", 19.93))
    grave, every = found._avoid()
    assert grave.tolist() == [[0, 0, 1], [0, 0, 1], [1, 1, 1]]
    assert every.tolist() == [[0, 1, 2], [1, 2, 3], [2, 3, 4]]


def test_a_few_from_the_smallest_to_the_largest_are_probed():
    sizes = [20.012, 20.001, 20.016, 20.003, 20.028, 20.020, 20.007, 20.024, 20.0]
    found = table(plain(**ASKED), *(read(f"h{i}", size) for i, size in enumerate(sizes)), read("s1", 19.946), read("s2", 19.941))
    rows, columns = found._probes()
    # Nine holes in order: the first, third, fifth, seventh and last; both shafts, the smaller first.
    rising = np.argsort(sizes)[[0, 2, 4, 6, 8]]
    assert rows.tolist() == [row for row in rising for _ in range(2)]
    assert columns.tolist() == [1, 0] * 5
    few = table(plain(**ASKED), read("h1", 20.012), read("s1", 19.946))
    assert [one.tolist() for one in few._probes()] == [[0], [0]]


def test_rooms_of_every_pair_in_blocks(monkeypatch):
    """Three holes by two shafts, four at a time: gap less 0.040, or 0.080 less gap, less both doubts."""
    monkeypatch.setattr(pairing, "BLOCK", 4)
    holes, shafts = [20.003, 20.012, 20.029], [19.943, 19.9475]
    found = table(plain(**ASKED), *(read(f"h{i}", size) for i, size in enumerate(holes)), *(read(f"s{i}", size, 0.0005) for i, size in enumerate(shafts)))
    told: list[float | None] = []
    with telling(told.append):
        score, allowed = found._scores({"seat": range(len(next(iter(found.boxes.corners["seat"].values()))))})
    room = [[min(h - s - 0.04, 0.08 - h + s) - 0.0015 for s in shafts] for h in holes]
    assert score == pytest.approx(np.array(room))
    assert allowed.tolist() == [[one >= 0.0 for one in row] for row in room]
    assert allowed.tolist() == [[True, True], [True, True], [False, False]]
    assert [one for one in told if one is not None] == pytest.approx([0.9 * 4 / 6, 0.9])


def test_what_is_left_says_what_it_wants_up_to_so_many(monkeypatch):
    monkeypatch.setattr(pairing, "EXPLAINED", 2)
    part = plain(**ASKED)
    readings = [read("h1", 20.012), read("h2", 20.018, 0.002), read("h2", 20.022, 0.002), read("h3", 20.09), read("h4", 20.01), read("s1", 19.946), read("s2", 19.846)]
    found = pair(part, readings)
    # Two holes go with s1; the more room wins: 0.066 leaves 0.012, 0.064 0.014. No hole is small enough for s2.
    assert [(one.hole, one.shaft) for one in found.pairs] == [("h4", "s1")]
    assert [(one.part, one.member, one.mate, one.spare) for one in found.left] == [
        ("h1", "seat.hole", "seat.shaft", True), ("h2", "seat.hole", "seat.shaft", True), ("h3", "seat.hole", "seat.shaft", False), ("s2", "seat.shaft", "seat.hole", False)]
    assert (found.left[1].size, found.left[1].uncertainty) == (pytest.approx(20.020), 0.002)
    # 20.012 +-0.001 wants 20.013 - 0.080 to 20.011 - 0.040; 20.018 to 20.022 +-0.002 wants 19.944 to 19.976.
    assert found.left[0].wants == ((pytest.approx(19.933, abs=1.1e-4), pytest.approx(19.971, abs=1.1e-4)),)
    assert found.left[1].wants == ((pytest.approx(19.944, abs=1.1e-4), pytest.approx(19.976, abs=1.1e-4)),)
    assert [one.wants for one in found.left[2:]] == [None, None]
    assert "sizes that would pair what is left are worked out for the first 2" in found.notes
    assert found.verdict == FAIL
    monkeypatch.setattr(pairing, "EXPLAINED", 4)
    whole = pair(part, readings)
    assert whole.left[3].wants is not None
    assert not [note for note in whole.notes if "worked out" in note]


def test_twenty_of_what_is_left_are_told_what_they_want():
    holes = [read(f"h{index}", 20.012) for index in range(22)]
    found = pair(plain(**ASKED), [*holes, read("s1", 19.946)])
    assert [one.wants is not None for one in found.left] == [True] * 20 + [False]
    assert "sizes that would pair what is left are worked out for the first 20" in found.notes


def test_a_rule_that_no_size_moves_leaves_the_room_as_it_is():
    """A bow of 4 of 3.9 goes with every pair; 0.066 of at most 0.080 leaves 0.014 less both doubts."""
    (one,) = pair(plain(place="4", bow_at_least=3.9, **ASKED), [read("h1", 20.012), read("s1", 19.946)]).pairs
    assert (one.rule, one.room) == ("most gap", pytest.approx(0.012))


def notes(*more: Reading, left_out: tuple[str, ...] = (), **fields) -> tuple[str, ...]:
    return pair(plain(**{**ASKED, **fields}), [read("h1", 20.012), read("s1", 19.946), *more], left_out=left_out).notes


def test_what_is_said_of_a_pairing():
    mark, sure, free = (
        "put the mark on both parts of a pair, clear of the fitted faces; pair again after any cut",
        "a pair is made only if every rule holds in every state with all of the readings' doubt",
        "sizes are free sizes, read before assembly; those not read stand at the drawing's limits",
    )
    assert notes() == (mark, sure, free)
    assert notes(left_out=("h9", "s9")) == (mark, sure, free, "left out and not paired, a row of them is bad: h9, s9")
    assert notes(read("x1", 40.0, label="seat.outside"), read("x2", 40.0, label="seat.outside"), outside="40 ±1") == (
        mark, sure, free, "neither seat.hole nor seat.shaft was read of x1, x2: left out")
    # Nothing is marked where nothing pairs.
    assert notes(gap_at_most="0.041", gap_at_least="0.040")[:2] == (sure, free)
    assert notes(read("h2", 20.05), read("s2", 19.984))[3].startswith("whoever answers for the drawing may release a pair")
    seen = notes(read("h1", 20.013, instrument="bore gauge"), read("s1", 19.946, instrument="bore gauge"))
    assert seen[3:] == ("bore gauge: two points miss odd lobes; look with three points, in a V-block or with a ring",)


def test_a_part_left_out_is_no_pass():
    found = pair(plain(**ASKED), [read("h1", 20.012), read("s1", 19.946)], left_out=("h9",))
    assert (found.verdict, found.left_out) == (NOT_COVERED, ("h9",))


def test_which_rules_keep_every_pair_from_being_made():
    """Without a grade nothing is known of the push; a gap that fails is no reason of that sort."""
    part = plain(grade=None, push_at_least="5 N", **ASKED)
    found = pair(part, [read("h1", 20.012), read("s1", 19.946)])
    assert (found.pairs, found.not_covered) == ((), ("seat: pushes",))
    open_ = pair(plain(), [read("h1", 20.012), read("s1", 19.946)])
    assert open_.not_covered == ("seat: no gap is asked for",)
    loose = pair(plain(**ASKED), [read("h1", 20.012), read("s1", 19.846)])
    assert (loose.pairs, loose.not_covered) == ((), ())


def test_which_fit_is_meant():
    one, two = plain(**ASKED).features["seat"], plain(**ASKED).features["seat"]
    part = Part("test", {"seat": one, "other": two})
    readings = [read("h1", 20.012), read("s1", 19.946)]
    assert pair(part, readings).feature == "seat"
    with pytest.raises(InputError, match=r"no readings of both holes and shafts of one feature; other pairs other\.hole with other\.shaft"):
        pair(part, readings, feature="other")
    both = [*readings, read("h2", 20.01, label="other.hole"), read("s2", 19.946, label="other.shaft")]
    with pytest.raises(InputError, match=r"holes and shafts of 2 features were read; say which: --feature seat or --feature other"):
        pair(part, both)
    assert pair(part, both, feature="other").pairs[0].hole == "h2"
    with pytest.raises(InputError, match="pairs: none"):
        pair(Part("test", {"x": glands.gland("face")}), [read("h1", 2.65, label="x.gland_depth")], feature="qqq")


def test_a_fit_on_a_surface_is_paired_as_it_is_cut():
    below = plain(**ASKED).features["seat"]
    above = plain(hole=SurfaceRef("below", "bore"), **ASKED).features["seat"]
    part = Part("test", {"below": below, "above": above}, (State("shop"),))
    found = pair(part, [read("h1", 20.012, label="below.hole"), read("s1", 19.946, label="above.shaft")])
    assert (found.feature, found.hole, found.shaft) == ("above", "below.hole", "above.shaft")


# The assignment

def test_what_a_pair_is_worth():
    """Two things to avoid, of 0 to 1 and of 0 to 3, in two pairs: 3 x 2 + 1 = 7 is one grave one, 7 x (1 x 2 + 1) = 21 is one pair."""
    allowed = np.array([[True, True, True], [True, False, True]])
    grave, less = np.array([[0, 1, 0], [0, 9, 1]]), np.array([[3, 0, 1], [2, 9, 0]])
    assert _worth(allowed, (grave, less)).tolist() == [[21.0 - 3.0, 21.0 - 7.0, 21.0 - 1.0], [21.0 - 2.0, 0.0, 21.0 - 7.0]]
    # What is alike in every pair that may be made decides nothing.
    assert _worth(allowed, (np.full((2, 3), 2),)) is None
    assert _worth(allowed, ()) is None


def test_the_worst_pair_comes_before_the_sum():
    """3 + 3 before 9 + 2; of two ways with the same worst the greater sum."""
    every = np.ones((2, 2), dtype=bool)
    assert best(np.array([[9.0, 3.0], [3.0, 2.0]]), every) == [(0, 1), (1, 0)]
    assert best(np.array([[3.0, 4.0], [3.0, 3.0]]), every) == [(0, 1), (1, 0)]
    assert best(np.array([[5.0, 3.0], [3.0, 4.0]]), every) == [(0, 0), (1, 1)]
    assert best(np.array([[7.0, 7.0], [7.0, 7.0]]), ~every) == []
    assert sorted(best(np.array([[7.0, 7.0], [7.0, 7.0]]), every)) in ([(0, 0), (1, 1)], [(0, 1), (1, 0)])


def test_scores_far_below_0_count_as_any():
    """Two pairs of -1000 and -999.5, not one of -999; of two ways with the same worst the greater sum."""
    allowed = np.array([[True, True], [True, False]])
    assert best(np.array([[-999.0, -1000.0], [-999.5, 0.0]]), allowed) == [(0, 1), (1, 0)]
    every = np.ones((2, 2), dtype=bool)
    assert best(np.array([[-5.0, -5.0], [-2.0, -5.0]]), every) == [(0, 1), (1, 0)]
    assert best(np.array([[-5.0, -5.0], [-5.0, -2.0]]), every) == [(0, 0), (1, 1)]


def test_the_worst_pair_comes_before_the_sum_where_something_is_avoided_too():
    """Either way one pair of what is better avoided: 3 + 3 before 9 + 2."""
    every, avoid = np.ones((2, 2), dtype=bool), np.array([[1, 0], [1, 0]])
    assert best(np.array([[9.0, 3.0], [3.0, 2.0]]), every, (avoid,)) == [(0, 1), (1, 0)]
    assert best(np.array([[2.0, 3.0], [3.0, 9.0]]), every, (avoid,)) == [(0, 1), (1, 0)]


def test_every_step_of_the_search_for_the_worst_pair():
    """One row of rising scores with the best pair anywhere in it: the others may not be made."""
    for size in range(1, 9):
        for place in range(size):
            score = np.arange(float(size)).reshape(1, -1)
            assert best(score, np.ones((1, size), dtype=bool)) == [(0, size - 1)]
            allowed = np.arange(size).reshape(1, -1) <= place
            assert best(score, allowed) == [(0, place)]
            two = np.vstack([np.where(np.arange(size) == place, 5.0, 0.0), np.where(np.arange(size) == (place + 1) % size, 4.0, 0.5)])
            if size > 1:
                assert best(two, np.ones((2, size), dtype=bool)) == [(0, place), (1, (place + 1) % size)]


def test_what_is_avoided_outweighs_the_best_score():
    assert best(np.array([[10.0, 0.0]]), np.ones((1, 2), dtype=bool), (np.array([[1, 0]]),)) == [(0, 1)]
    assert best(np.array([[0.0, 10.0]]), np.ones((1, 2), dtype=bool), (np.array([[0, 1]]),)) == [(0, 0)]


def test_the_search_for_the_worst_pair_takes_the_highest_step():
    """Ten by ten with one way of ten pairs that are all 6 or more: the diagonal that is shifted by three."""
    size = 10
    score = np.random.default_rng(4).uniform(0.0, 5.0, (size, size))
    shifted = [(row, (row + 3) % size) for row in range(size)]
    for step, (row, column) in enumerate(shifted):
        score[row, column] = 6.0 + step
    assert best(score, np.ones((size, size), dtype=bool)) == shifted
    told: list[float | None] = []
    with telling(told.append):
        best(score, np.ones((size, size), dtype=bool))
    # Halving a hundred steps takes six or seven looks.
    assert len(told) in (6, 7)
