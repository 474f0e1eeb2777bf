"""Sizes as a drawing writes them, parts read warm, windows with two intervals: by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from joints import metal
from plain import GIVEN, Plain, plain

from fits.errors import InputError
from fits.features.beside import Thumb
from fits.features.feature import NotCovered, State
from fits.features.fields import Size
from fits.features.offer import Offer
from fits.materials.metals import metal as of_the_table
from fits.questions import choose as choosing
from fits.questions import fit_window as fitting
from fits.questions.along import along
from fits.questions.answer import NOT_COVERED, PASS
from fits.questions.choose import choose
from fits.questions.evaluate import evaluate
from fits.questions.fit_window import FitWindow, fit_window
from fits.questions.from_drawer import _against, _hole
from fits.questions.limits import limits
from fits.questions.ranges import told_apart
from fits.questions.rows import _reasons
from fits.questions.targets import target_of
from fits.questions.warm import EQUATION, STEEL_SOURCE, warm_reading
from fits.questions.window import Edge, Interval, RuleRange, Window
from fits.sizes import classes
from fits.sizes.notation import parse_size

SHOP, COLD = State("shop"), State("cold", -30.0, -30.0)
ASKED = {"gap_at_least": "0.04", "gap_at_most": "0.08"}


def notes(text: str, units: str = "mm") -> tuple[str, ...]:
    (one,) = limits([text], units=units).features
    return one.notes


def test_what_is_said_of_a_class():
    """IT7 at 25 mm is 21 um, odd, so that half of it is a choice; IT6 is 13 um and always taken exactly; IT7 at 30 to 50 is 25."""
    half = "exact half of the tolerance taken; some tables round it down to 1 um"
    assert notes("25 js7") == (f"js7: {half}",)
    assert notes("25 JS8") == (f"JS8: {half}",)
    assert notes("40 js10") == ()
    assert notes("25 js6") == ()
    assert notes("25 h7") == ()
    assert notes("25 H7/js7") == ("transition fit", f"js7: {half}")
    assert notes("25 ±0.01") == ()


def test_what_ansi_b4_calls_a_fit():
    assert notes("25 H7/g6")[:2] == ("clearance fit", "preferred fit of ANSI B4.2: sliding, hole basis; 25 mm is a size of first choice (from memory)")
    assert notes("25 H7/g5") == ("clearance fit",)
    assert "RC4: close running fit of ANSI B4.1, basic hole" in notes("1.0000 in RC4")
    assert "RC4S: close running fit of ANSI B4.1, basic shaft: the greatest shaft is the basic size" in notes("1.0000 in RC4S")
    assert notes("25 H7", "in") == ("the basic size is in mm, as ISO 286 classes are",)
    assert notes("25 H7") == ()
    assert notes("1.0/0.999", "in") == ()


def test_what_a_deviation_rests_on():
    (one,) = limits(["25 g6"]).features
    (deviation,) = (each for each in one.values if each.name == "shaft_deviation")
    (size,) = (each for each in one.values if each.name == "shaft")
    assert (deviation.label, size.label) == ("shaft deviation", "shaft")
    assert deviation.source == parse_size("25 g6", side="shaft").sources[-1] != parse_size("25 g6", side="shaft").sources[0]
    assert size.source.text == "basic size and deviation added"
    (pair,) = limits(["25 H7/g6"]).features
    assert next(each for each in pair.values if each.name == "clearance").source.text == "hole less shaft"


# Warm

def test_a_warm_reading_names_where_its_expansion_comes_from():
    for name in ("6061-T6", "316"):
        curve = of_the_table(name).expansion_curve
        assert curve is not None
        for told in (warm_reading(40.0, of_the_table(name), 30.0, gauge_temperature=20.0), warm_reading(40.0, of_the_table("C11000"), 30.0, gauge=of_the_table(name), gauge_temperature=25.0)):
            assert curve.source in told.sources


def test_what_is_said_of_a_warm_reading():
    known = warm_reading(40.0, of_the_table("6061-T6"), 30.0, gauge_temperature=20.0)
    assert [(one.name, one.label, one.digits, one.kind) for one in known.features[0].values] == [
        ("reading", "reading", 4, "length"), ("size", "at 20 degC", 4, "length"), ("size_off", "it reads too large by", 4, "length")]
    open_ = warm_reading(40.0, of_the_table("6061-T6"), 30.0)
    assert [one.label for one in open_.features[0].values] == [
        "reading", "at 20 degC, if the gauge was at 20 degC", "it reads too large by, if the gauge was at 20 degC", "at 20 degC, if it was as warm as the part",
        "it reads too large by, if it was as warm as the part"]
    assert open_.features[0].not_covered[0].startswith("the gauge's temperature isn't given")
    assert len(open_.features[0].notes) == 2


def test_what_a_warm_reading_rests_on():
    """The equation, where the part's expansion comes from, and the gauge's; what was typed is no source."""
    aluminium = of_the_table("6061-T6")
    found = warm_reading(40.0, aluminium, 30.0, gauge_temperature=20.0).sources
    assert found[0] == EQUATION
    assert found[-1] == STEEL_SOURCE
    assert all(one == aluminium.source or "expansion" in one.text for one in found[1:-1])
    assert len(found) > 2
    own = warm_reading(40.0, aluminium, 30.0, gauge=aluminium, gauge_temperature=20.0).sources
    assert own == found[:-1]
    typed = warm_reading(40.0, replace(metal(2e5, 0.3), expansion=(1e-5, 1e-5)), 30.0, gauge_temperature=20.0).sources
    assert all(one.evidence != "typed" for one in typed)
    assert (typed[0], typed[-1]) == (EQUATION, STEEL_SOURCE)


# Two windows

def windowed(*spans: tuple[float, float], field: str = "hole") -> Window:
    part = plain(SHOP, **ASKED)
    return Window(target_of(part, f"seat.{field}"), tuple(Interval(Edge(low, ""), Edge(high, "")) for low, high in spans), ())


def test_of_two_windows_the_wider_is_bought_for(monkeypatch):
    monkeypatch.setattr(Size, "offers", lambda self, name, feature, drawer: (Offer("reamer", {}, 10.0, 10.1, "", True),))
    monkeypatch.setattr(Size, "to_buy", lambda self, name, feature, low, high: f"{low} to {high}")
    part = plain(SHOP, **ASKED)
    found = _hole(part, "seat", windowed((20.0, 20.02), (20.03, 20.035)), SimpleNamespace(place="d"), ("said",))
    assert found.fields[0].to_buy == "20.0 to 20.02"
    assert found.notes[0] == "said"


def test_of_two_windows_with_the_same_room_the_first_counts():
    tool = Offer("reamer", {}, 20.005, 20.011, "", True)
    assert _against(windowed((20.0, 20.02), (20.0, 20.03)), tool, None).room == pytest.approx((0.005, 0.009))
    assert _against(windowed((20.0, 20.03), (20.0, 20.02)), tool, None).room == pytest.approx((0.005, 0.019))
    assert _against(windowed((20.004, 20.02), (20.0, 20.03)), tool, None).room == pytest.approx((0.005, 0.019))
    assert _against(windowed((20.0, 20.03), (20.004, 20.02)), tool, None).room == pytest.approx((0.005, 0.019))


def test_of_two_windows_of_a_fit_the_wider_counts(monkeypatch):
    monkeypatch.setattr(fitting, "window", lambda part, text: windowed((19.935, 19.965), (19.97, 19.975), field="shaft"))
    found = fit_window(plain(SHOP, **ASKED), "seat")
    assert (found.low, found.high) == (pytest.approx(0.05), pytest.approx(0.08))


def test_a_rule_of_thumb_at_the_very_end_of_an_interval_is_held(monkeypatch):
    """2 um a millimetre of 16 is 0.03125 less than 16.03125: binary numbers."""
    monkeypatch.setattr(Plain, "thumb", Thumb(1.0 / 512.0, "a thumb", GIVEN))
    feature = plain().features["seat"]
    for low, high, held in ((15.96875, 16.0, True), (15.0, 15.96875, True), (15.97, 16.0, False), (15.0, 15.96, False)):
        found = windowed()._replace(rules=(RuleRange("seat", "r", "shop", ((low, high),)),))
        (said,) = fitting._thumb(feature, 16.0, -1.0, found, "mm")
        assert said.endswith("lies inside the window") is held
    (other,) = fitting._thumb(feature, 16.0, 1.0, windowed()._replace(rules=(RuleRange("seat", "r", "shop", ((16.03125, 17.0),)),)), "mm")
    assert other.endswith("0.0312 mm, lies inside the window")


def test_a_member_without_a_tolerance_keeps_none():
    assert [one.how for one in fit_window(plain(SHOP, shaft="19.945", **ASKED), "seat").splits] == ["equal tolerances", "the hole keeps its limits"]
    assert [one.how for one in fit_window(plain(SHOP, hole="20.01", **ASKED), "seat").splits] == ["equal tolerances", "the shaft keeps its limits"]
    # One that is all that is left, or more, leaves nothing for the other.
    wide = fit_window(plain(SHOP, shaft="19.98/19.94", hole="20.03/20.00", **ASKED), "seat")
    assert [one.how for one in wide.splits] == ["equal tolerances", "the hole keeps its limits"]


def test_a_pair_that_fills_the_window_is_chosen(monkeypatch):
    """20 H7/f7: from the very gap it leaves at the least to the one at the most."""
    hole, shaft = next((hole, shaft) for hole, shaft in classes.pairs(20.0, "mm") if (hole.text, shaft.text) == ("20 H7", "20 f7"))
    low, high = sorted((-1.0 * (shaft.lower - hole.upper), -1.0 * (shaft.upper - hole.lower)))
    part = plain(SHOP, hole="20 H7", shaft="20 f7", gap_at_least="0.001", gap_at_most="0.5")
    whole = FitWindow("seat", "clearance", 20.0, windowed((19.0, 20.0)), low, high, 0.0, 0.0, 1.0, ())

    def names(by_low: float, by_high: float) -> list[str]:
        monkeypatch.setattr(choosing, "fit_window", lambda part, name: whole._replace(low=low + by_low, high=high + by_high))
        return [one.name for one in choose(part, "seat").found]

    assert "20 H7/f7" in names(0.0, 0.0)
    assert "20 H7/f7" not in names(1e-9, 0.0)
    assert "20 H7/f7" not in names(0.0, -1e-9)
    # Nothing is left for tolerances.
    monkeypatch.setattr(choosing, "fit_window", lambda part, name: whole._replace(left=0.0))
    assert choose(part, "seat").found == ()


# Reasons

def test_reasons_of_each_row():
    """Three rows, two corners, two states and as made: a gap of one row, one of another's corner, one where the rule doesn't speak."""
    part = plain(SHOP, COLD, gap_at_least="0.01")
    evaluation = evaluate(part, "seat", values=["gap"], corners={"seat.shaft": np.array([[19.94], [19.95]])}, given={"seat.hole": np.array([20.0, 20.1, 20.2]).reshape(-1, 1, 1)})
    masks = [np.zeros((3, 2, 3), dtype=bool) for _ in range(3)]
    masks[0][0, :, 1], masks[1][:, 1, 0], masks[2][2, 0, 2] = True, True, True
    masks[1][1] = False
    gaps = tuple(NotCovered("hole", text, mask) for text, mask in zip(("a", "b", "c"), masks, strict=True))
    evaluation = evaluation._replace(gaps=(*gaps, NotCovered("hole", "d", np.array([False, True, False]))))
    rule = next(one for one in Plain.rules if one.name == "least gap")
    one = along(rule, evaluation)
    assert _reasons(rule, one, evaluation, 3).tolist() == ["a; b; d", "d", "b; d"]
    bare = evaluation._replace(gaps=gaps[2:])
    assert _reasons(rule, one, bare, 3).tolist() == ["a number it depends on is not covered"] * 3
    flat = evaluation._replace(gaps=(NotCovered("hole", "e", np.array([[False, False, True], [False, True, False]])),))
    assert _reasons(rule, one, flat, 3).tolist() == ["e"] * 3


def test_a_choice_of_two_tells_apart(monkeypatch):
    whole = Plain.extra_dimensions
    monkeypatch.setattr(Plain, "extra_dimensions", lambda self, states: tuple(one._replace(levels=one.levels[:2], words=one.words[:2]) if one.name == "lean" else one for one in whole(self, states)))
    part = plain(SHOP)
    assert [words for one, words, _ in told_apart(part, "seat", evaluate(part, "seat")) if one.name == "leaned"] == ["it leans left", "it leans right"]


# Pairs, and warm parts

def test_limits_of_a_pair():
    """25 H7/g6 of ISO 286-2: 25.021/25.000 and 24.993/24.980."""
    (one,) = limits(["25 H7/g6"]).features
    found = {each.name: next(iter(each.states.values())) for each in one.values}
    assert found == {"hole": (25.0, 25.021), "hole_deviation": (0.0, 0.021), "shaft": (24.98, 24.993), "shaft_deviation": (-0.02, -0.007), "clearance": (0.007, 0.041)}
    assert (one.pair, [(size.name, size.lower, size.upper, size.basic, size.side) for size in one.sizes]) == (
        ("hole", "shaft"), [("hole", 25.0, 25.021, 25.0, "hole"), ("shaft", 24.98, 24.993, 25.0, "shaft")])
    assert one.notes[0] == "clearance fit"
    assert all((each.kind, each.digits) == ("length", 4) for each in one.values)
    (alone,) = limits(["25 g6"]).features
    assert (alone.pair, [each.name for each in alone.values]) == (None, ["shaft", "shaft_deviation"])
    (bare,) = limits(["25.02/25.01"]).features
    assert [each.name for each in bare.values] == ["size"]
    with pytest.raises(InputError) as raised:
        limits(["25", "25 H77", "25 H7"])
    assert [fault.got for fault in raised.value.faults] == ["25", "25 H77"]
    assert len({source.text for source in limits(["25 H7/g6"]).sources}) == len(limits(["25 H7/g6"]).sources) > 0
    assert limits(["25 ±0.01"]).sources == ()


@pytest.mark.parametrize(("reading", "temperature", "gauge", "least", "most"), [
    # reading (1 + a_g (T_g - 20)) / (1 + a (T - 20)) with 10 to 12e-6 of the bar and 11.5e-6 of steel.
    (100.0, 70.0, 20.0, 100.0 / (1 + 50 * 12e-6), 100.0 / (1 + 50 * 10e-6)), (100.0, 70.0, 50.0, 100.0 * (1 + 30 * 11.5e-6) / (1 + 50 * 12e-6), 100.0 * (1 + 30 * 11.5e-6) / (1 + 50 * 10e-6)),
    (80.0, -10.0, 20.0, 80.0 / (1 - 30 * 10e-6), 80.0 / (1 - 30 * 12e-6)), (80.0, 20.0, 30.0, 80.0 * (1 + 10 * 11.5e-6), 80.0 * (1 + 10 * 11.5e-6)),
])
def test_a_warm_part(reading: float, temperature: float, gauge: float, least: float, most: float):
    from joints import metal

    bar = replace(metal(2e5, 0.3), expansion=(10e-6, 12e-6))
    (found,) = warm_reading(reading, bar, temperature, gauge_temperature=gauge).features
    values = {one.name: one.states["as_made"] for one in found.values}
    assert values["reading"] == (reading, reading)
    assert values["size"] == (pytest.approx(least, abs=1e-10), pytest.approx(most, abs=1e-10))
    assert values["size_off"] == (pytest.approx(reading - most, abs=1e-10), pytest.approx(reading - least, abs=1e-10))
    assert (found.verdict, found.not_covered, found.notes[0]) == (PASS, (), "steel gauge, 11.5e-6 1/K")
    both = warm_reading(reading, bar, temperature)
    shown = {one.name: one.states["as_made"] for one in both.features[0].values}
    assert both.verdict == NOT_COVERED
    assert shown["size_gauge_at_20"] == (pytest.approx(min(reading / (1 + (temperature - 20) * a) for a in (10e-6, 12e-6))), pytest.approx(max(reading / (1 + (temperature - 20) * a) for a in (10e-6, 12e-6))))
    warm = [reading * (1 + 11.5e-6 * (temperature - 20)) / (1 + (temperature - 20) * a) for a in (10e-6, 12e-6)]
    assert shown["size_gauge_warm"] == (pytest.approx(min(warm), abs=1e-10), pytest.approx(max(warm), abs=1e-10))
    own = warm_reading(reading, bar, temperature, gauge=bar, gauge_temperature=20.0)
    assert own.features[0].notes[0].startswith("sizes count at 20 degC")
    assert {one.name: one.states["as_made"] for one in own.features[0].values}["size"] == (pytest.approx(reading / (1 + max((temperature - 20) * a for a in (10e-6, 12e-6)))), pytest.approx(reading / (1 + min((temperature - 20) * a for a in (10e-6, 12e-6)))))
