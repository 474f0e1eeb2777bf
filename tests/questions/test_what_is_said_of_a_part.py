"""What is said of a measured part, and of a table of them: each verdict by hand."""

from __future__ import annotations

import pytest

from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED
from fits.questions.judgement import (
    ACCEPT,
    REJECT,
    REWORK,
    UNDECIDED,
    Cut,
    Judged,
    PartJudgement,
    RuleJudgement,
    SizeJudgement,
    cant_prove,
    drawing_of,
    guarded,
    metal_left,
    said_of,
    verdict_of,
)
from fits.questions.measured import Dimension, Measured
from fits.questions.pairing import Left, Off, Pair, Pairing
from fits.questions.rows import Judged as Rows
from fits.questions.rows import Main
from fits.questions.window import Edge
from fits.sizes.limits import Limits
from fits.sizes.reading import INSIDE, NO_LIMITS, OUTSIDE, Guarded, Reading
from fits.sizes.reading import UNDECIDED as OPEN

CUT = Cut(10.001, 10.004, 0.001, 0.004)


def size(value: float, doubt: float = 0.002, *, low: float = 10.0, high: float = 10.015, side: str = "hole", form: float = 0.0) -> Measured:
    of = Dimension("a.hole", "a.hole", "a", "hole", side, Limits(low, high, None, side), form, None)
    return Measured(of, value, value, doubt, 1)


def said(verdict: str, beyond: tuple[str, ...] = (), cut: Cut | None = None, side: str = "hole") -> SizeJudgement:
    return SizeJudgement(size(10.0, side=side), Guarded(verdict, 0.0, beyond=beyond), cut)


def test_a_size_without_limits_is_held_against_none():
    assert guarded(size(10.0, low=10.0, high=10.0)) == Guarded(NO_LIMITS, 0.0)
    assert guarded(size(10.007)) == Guarded(INSIDE, pytest.approx(0.005))
    assert guarded(size(9.99)).beyond == ("below",)
    assert guarded(size(10.02)).beyond == ("above",)
    assert guarded(size(10.001)).verdict == OPEN


def test_doubt_of_half_the_tolerance_leaves_nothing_that_could_be_proved():
    """0.25 mm of tolerance: +-0.125 takes it all, +-0.1249 does not; a size without tolerance has nothing to prove."""
    assert cant_prove(size(10.0, 0.125, low=10.0, high=10.25))
    assert not cant_prove(size(10.0, 0.1249, low=10.0, high=10.25))
    assert not cant_prove(size(10.0, 0.1, low=10.0, high=10.25))
    assert not cant_prove(size(10.0, 0.1, low=10.0, high=10.0))


def test_the_drawing_says_the_worst_of_all_sizes():
    def of(*verdicts: str) -> str:
        return drawing_of([Guarded(one, 0.0) for one in verdicts])

    assert of(INSIDE, OUTSIDE, OPEN) == OUTSIDE
    assert of(NO_LIMITS, INSIDE, OPEN) == OPEN
    assert of(NO_LIMITS, INSIDE) == INSIDE
    assert of(NO_LIMITS) == NO_LIMITS


@pytest.mark.parametrize(("drawing", "function", "sizes", "verdict"), [
    (INSIDE, PASS, [said(INSIDE)], ACCEPT), (NO_LIMITS, PASS, [said(NO_LIMITS)], ACCEPT), (OPEN, PASS, [said(OPEN)], UNDECIDED),
    (INSIDE, NOT_COVERED, [said(INSIDE)], UNDECIDED), (INSIDE, UNDECIDED, [said(INSIDE)], UNDECIDED),
    (INSIDE, FAIL, [said(INSIDE)], REJECT), (INSIDE, FAIL, [said(INSIDE), said(INSIDE, cut=CUT)], REWORK),
    (OUTSIDE, PASS, [said(OUTSIDE)], REJECT), (OUTSIDE, PASS, [said(OUTSIDE, cut=CUT)], REWORK),
    (OUTSIDE, FAIL, [said(OUTSIDE, cut=CUT), said(OUTSIDE)], REJECT), (OUTSIDE, FAIL, [said(OUTSIDE, cut=CUT), said(INSIDE)], REWORK),
])
def test_what_to_do_with_the_part(drawing: str, function: str, sizes: list[SizeJudgement], verdict: str):
    assert verdict_of(drawing, function, tuple(sizes)) == verdict


@pytest.mark.parametrize(("drawing", "function", "begins"), [
    (OUTSIDE, PASS, ["outside its drawing, but it works"]), (OUTSIDE, FAIL, []), (OUTSIDE, NOT_COVERED, []),
    (OPEN, PASS, ["it works either way"]), (OPEN, FAIL, []), (INSIDE, PASS, []),
    (INSIDE, FAIL, ["inside its drawing, and a rule fails all the same"]), (INSIDE, NOT_COVERED, []),
    (NO_LIMITS, PASS, ["the drawing gives no limits"]), (NO_LIMITS, FAIL, ["the drawing gives no limits"]),
])
def test_what_is_said_beside_the_verdict(drawing: str, function: str, begins: list[str]):
    notes = list(said_of(drawing, function, (said(drawing),)))
    assert len(notes) == len(begins)
    assert all(note.startswith(text) for note, text in zip(notes, begins))


def test_metal_that_is_left_and_cannot_be_used_is_said():
    """A hole is too small, or a shaft too large, where it can still be cut; a length says neither."""
    text = "metal is left, but no size inside the drawing can be reached at which every rule holds"
    for side, beyond, left in (("hole", ("below",), True), ("hole", ("above",), False), ("hole", ("below", "above"), False), ("shaft", ("above",), True),
                               ("shaft", ("below",), False), ("", (), False), ("", ("below",), False)):
        one = said(OUTSIDE, beyond, side=side)
        assert metal_left(one) is left
        assert (text in list(said_of(OUTSIDE, FAIL, (one,)))) is left
        assert text not in list(said_of(OUTSIDE, FAIL, (one._replace(cut=CUT),)))
        # Of sizes that aren't outside nothing is left to say.
        assert text not in list(said_of(INSIDE, FAIL, (one._replace(guarded=Guarded(OPEN, 0.0, beyond=beyond)),)))


@pytest.mark.parametrize(("counts", "left_out", "verdict"), [
    ({ACCEPT: 3}, 0, PASS), ({ACCEPT: 3}, 1, NOT_COVERED), ({ACCEPT: 3, UNDECIDED: 1}, 0, NOT_COVERED), ({ACCEPT: 3, REWORK: 1}, 1, FAIL),
    ({ACCEPT: 3, REJECT: 1, UNDECIDED: 2}, 0, FAIL), ({REFUSED: 1, REJECT: 2}, 0, REFUSED),
])
def test_the_verdict_of_a_table(counts: dict[str, int], left_out: int, verdict: str):
    found = Judged((), counts, left_out=left_out)
    assert found.verdict == verdict
    assert found.total == sum(counts.values())
    assert (found.count(ACCEPT), found.count("none of these")) == (counts.get(ACCEPT, 0), 0)


def a_pair(**changes) -> Pair:
    return Pair("h1", "s1", "1", 0.03, 0.002, 0.001)._replace(**changes)


@pytest.mark.parametrize(("changes", "verdict"), [
    ({}, PASS), ({"left_out": ("h3",)}, NOT_COVERED), ({"pairs": (a_pair(), a_pair(unproved=(Off("h1", size(10.0), ()),)))}, NOT_COVERED),
    ({"pairs": (a_pair(outside=(Off("h1", size(9.9), ("below",)),)), a_pair())}, FAIL), ({"left": (Left("h2", "a.hole", 10.0, 0.001, False, "a.shaft", None),)}, FAIL),
    ({"left": (Left("h2", "a.hole", 10.0, 0.001, False, "a.shaft", None),), "refused": ("oxygen",)}, REFUSED),
])
def test_the_verdict_of_a_pairing(changes: dict, verdict: str):
    given = {"pairs": (a_pair(),), "left": (), **changes}
    assert Pairing("a", "clearance", "a.hole", "a.shaft", **given).verdict == verdict


def test_what_is_not_said_of_it_is_nothing():
    """Of what moves no rule only sizes are known: a plain number, three digits, no state."""
    assert a_pair()[6:] == ("", "", "", None, "number", 3, (), ())
    assert Edge(3.0, "why")[2:] == ("", "", "", None, None, "number", 3, ())
    one = PartJudgement("a", ACCEPT, INSIDE, PASS, ())
    assert one[5:] == (None, (), (), None, False, (), (), ())
    assert Judged((), {})[2:] == ((), (), (), 0, ())
    assert size(1.0)[5:] == (None, None, 0.0, 0.0, "")
    assert SizeJudgement(size(1.0), Guarded(INSIDE, 0.0))[2:] == (None, False)
    assert Pairing("a", "clearance", "h", "s", (), ())[6:] == ((), (), (), (), (), (), ())
    assert Reading("a", "b", 1.0, 0.1, "c", 20.0)[6:] == (None, None, "", "", "")
    assert RuleJudgement("a", "b", "c", None, "number", 3, None).room is None


def test_rows_of_which_nothing_is_known_yet():
    main = Main("gap", "least")
    found = Rows.empty(3, [main])
    assert found.verdict.tolist() == [0, 0, 0]
    assert found.rule.tolist() == [-1, -1, -1]
    assert [list(one) for one in (found.state, found.note)] == [["", "", ""]] * 2
    for one in (found.worst, found.limit, found.margin, found.values[main]):
        assert [value != value for value in one] == [True] * 3
