"""Tools tried one field after the other, and everything of a table that a field could be: by hand."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from plain import Plain, plain

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Measure, Size, Spread, Undecided
from fits.features.offer import Offer
from fits.features.part import Part
from fits.questions import options as ringing
from fits.questions.answer import FAIL, NOT_COVERED, PASS
from fits.questions.from_drawer import FromDrawer, from_drawer
from fits.questions.options import Options, options

SHOP, OVEN = State("shop"), State("oven", 600.0, 600.0)
DRAWER = SimpleNamespace(facts={}, place="drawer")


@pytest.fixture
def graded(monkeypatch):
    """A kind that is no pair, whose grade comes from a drawer, or may be bought."""

    def of(part: Part, *grades: float | Spread, buy: str = "a better grade") -> FromDrawer:
        offers = tuple(Offer(f"grade {one}", {"grade": one if isinstance(one, Spread) else Spread(one, one)}, 1.0, 2.0, "as marked") for one in grades)
        monkeypatch.setattr(Plain, "pair", None)
        monkeypatch.setattr(Measure, "tool", True)
        monkeypatch.setattr(Measure, "offers", lambda self, name, feature, drawer: offers if name == "grade" else ())
        monkeypatch.setattr(Measure, "to_buy", lambda self, name, feature, low, high: buy if name == "grade" else "")
        return from_drawer(part, "seat", DRAWER)

    return of


def weak(*states: State, **more) -> Part:
    """A gap of 0.060: 6 N a grade and up to 3 more, of 13 N."""
    return plain(*states, hole="20", shaft="19.94", grade=None, gap_at_least="0.01", push_at_least="13 N", **more)


def test_the_first_tool_that_holds_is_put_in(graded):
    """6 x 2 is less than 13, 6 x 3 and 6 x 2.5 aren't; the order of those that hold stays."""
    found = graded(weak(SHOP), 2.0, 3.0, 2.5, 1.0)
    (field,) = found.fields
    assert (field.field, field.to_buy) == ("grade", "")
    assert [(one.name, one.verdict) for one in field.held] == [("grade 3.0", PASS), ("grade 2.5", PASS), ("grade 2.0", FAIL), ("grade 1.0", FAIL)]
    assert [one.check if one.check is None else one.check.rule for one in field.held] == [None, None, "pushes", "pushes"]
    assert (field.held[0].low, field.held[0].high, field.held[0].remark) == (1.0, 2.0, "as marked")
    assert found.part.features["seat"].grade == Spread(3.0, 3.0)
    assert (found.verdict, found.place, found.feature) == (PASS, "drawer", "seat")


def test_where_none_holds_one_is_to_be_bought(graded):
    found = graded(weak(SHOP), 2.0, 1.0)
    assert (found.fields[0].to_buy, found.verdict) == ("a better grade", NOT_COVERED)
    assert found.part.features["seat"].grade is None
    nothing = graded(weak(SHOP))
    assert (nothing.fields[0].held, nothing.fields[0].to_buy) == ((), "a better grade")
    with pytest.raises(InputError, match="nothing of this feature comes from a drawer"):
        graded(weak(SHOP), buy="")


def test_one_that_is_not_covered_is_better_than_one_that_fails(graded):
    """600 degC: nothing is known of the push there, but 12 N in the shop are too little."""
    found = graded(weak(SHOP, OVEN), 2.0, 3.0)
    assert [(one.name, one.verdict, one.check.state) for one in found.fields[0].held] == [("grade 3.0", NOT_COVERED, "oven"), ("grade 2.0", FAIL, "shop")]
    assert (found.fields[0].to_buy, found.verdict) == ("", NOT_COVERED)


def test_the_worst_of_the_rules_that_it_could_mend_decides(graded):
    """6 grade of at least 13 N, 6 grade + 3 of at most 20 under pressure: 3 is too strong, 2 too weak."""
    part = weak(State("pressed", 20.0, 20.0, 1e-9), push_at_most="20 N")
    found = graded(part, 3.0, 2.5, 2.0)
    assert [(one.name, one.verdict, one.check and one.check.rule) for one in found.fields[0].held] == [
        ("grade 2.5", PASS, None), ("grade 3.0", FAIL, "no more push"), ("grade 2.0", FAIL, "pushes")]


def test_what_was_given_is_not_looked_for(graded):
    with pytest.raises(InputError, match="nothing of this feature"):
        graded(plain(SHOP, gap_at_least="0.01"), 2.0)


# Everything of a table

@pytest.fixture
def table(monkeypatch):
    """A kind of which the grade is chosen and the shaft sized; it is likely to be 19.94."""

    def of(*grades: float, near: float | None = 19.94, sized: tuple[str, ...] = ("shaft",)) -> None:
        monkeypatch.setattr(Plain, "chosen", "grade")
        monkeypatch.setattr(Plain, "sized_by", sized)
        monkeypatch.setattr(Plain, "near", lambda self, field: near)
        monkeypatch.setattr(Measure, "others", lambda self: [(f"grade {one}", Spread(one, one)) for one in grades])

    return of


def asked(**more) -> Part:
    """Hole of 20, gap 0.040 to 0.080, 100 grade gap of 9 N."""
    return plain(SHOP, **{"hole": "20", "shaft": Undecided(), "grade": Undecided(), "gap_at_least": "0.04", "gap_at_most": "0.08", "push_at_least": "9 N", **more})


def test_all_that_hold_the_most_room_first(table):
    """Grade 5 holds from a gap of 0.040, grade 2 from 0.045, grade 1 from 0.090: too much; leaning it holds nominally from 0.0767."""
    table(2.0, 1.0, 5.0)
    found = options(asked(), "seat")
    assert (found.feature, found.field, found.tried, found.fitting) == ("seat", "grade", 3, 3)
    assert [one.name for one in found.found] == ["grade 5.0", "grade 2.0"]
    for one, low, high in ((found.found[0], 19.92, 19.96), (found.found[1], 19.92, 19.955)):
        (size,) = one.sizes
        assert size.field == "shaft"
        # Rounded into the window, whose ends lie 0.1 um inside.
        assert (size.low, size.high) == (pytest.approx(low, abs=1.01e-3), pytest.approx(high, abs=1.01e-3))
        assert low - 1e-9 <= size.low < size.high <= high + 1e-9
        assert size.room == pytest.approx(size.high - size.low)
    assert found.notes == ("1 more hold at nominal sizes, but not over their tolerances",)
    assert found.window is None


def test_where_nothing_holds_the_nearest_is_shown(table):
    table(0.5, 0.8, 0.1)
    found = options(asked(), "seat")
    assert (found.found, found.fitting) == ((), 0)
    # The nearest is the one with the fewest rules in the way at the most points.
    assert found.notes == ("the nearest is grade 0.8; why it does not hold stands below",)
    assert found.window is not None
    assert not found.window.intervals
    table()
    assert options(asked(), "seat") == Options("seat", "grade", 0, 0, (), ("none of the table can be put in at all",))
    for near in (None, 0.0, -1.0):
        table(2.0, near=near)
        assert options(asked(), "seat").notes == ("none of the table can be put in at all",)


def test_only_so_many_are_worked_out(table, monkeypatch):
    table(2.0, 3.0, 4.0)
    monkeypatch.setattr(ringing, "SHOWN", 2)
    found = options(asked(), "seat")
    assert len(found.found) == 2
    assert found.notes == ("1 more hold at nominal sizes",)


def test_eight_are_shown(table):
    table(*(2.0 + 0.1 * step for step in range(9)))
    found = options(asked(), "seat")
    assert (len(found.found), found.fitting, found.notes) == (8, 9, ("1 more hold at nominal sizes",))


def test_the_sizes_to_give_limits_of(table):
    """Those left open, else the first that was given."""
    table(2.0, sized=("outside", "shaft", "hole"))
    assert ringing._asked(asked().features["seat"]) == ("shaft",)
    assert ringing._asked(asked(shaft="19.94", outside=Undecided()).features["seat"]) == ("outside",)
    assert ringing._asked(asked(shaft="19.94").features["seat"]) == ("shaft",)
    assert ringing._asked(asked(shaft="19.94", outside="40").features["seat"]) == ("outside",)
    table(2.0)
    with pytest.raises(InputError, match="not decided yet"):
        options(asked(outside=Undecided()), "seat")
    likely = ringing._likely(asked(), "seat", ("shaft",))
    assert likely is not None
    assert (likely.features["seat"].shaft.lower, likely.features["seat"].shaft.upper) == (19.94, 19.94)


def test_a_size_without_two_ends_gets_a_usual_tolerance(table):
    """No rule bounds the shaft from below without a greatest gap: 4 % below the end that is set; too narrow a window is none."""
    table(2.0)
    (found,) = options(asked(gap_at_most=None), "seat").found
    (size,) = found.sizes
    assert (size.low, size.high) == (None, pytest.approx(19.955, abs=1.01e-3))
    assert ringing._sized(asked(grade=2.0, gap_at_least="0.0450", gap_at_most="0.0456"), "seat", "x", ("shaft",)) is None
    assert ringing._sized(asked(grade=2.0, gap_at_least="0.045", gap_at_most="0.044"), "seat", "x", ("shaft",)) is None
    narrow = ringing._sized(asked(grade=2.0, gap_at_least="0.0450", gap_at_most="0.0479"), "seat", "x", ("shaft",))
    assert narrow is not None
    assert isinstance(Plain.model_fields["shaft"].metadata[0], Size)
