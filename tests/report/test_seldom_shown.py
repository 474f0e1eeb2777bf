"""What a report seldom has to say: each sentence from an answer that needs it."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import glands
import numpy as np
import pytest
from joints import metal, press_part

from fits.features.feature import State
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.answer import Answer
from fits.questions.check import check
from fits.questions.compare import compare
from fits.questions.drawn import with_drawings
from fits.questions.fit_window import fit_window
from fits.questions.judge import judge
from fits.questions.judgement import Mate, PartJudgement, RuleJudgement
from fits.questions.limits import limits
from fits.questions.odds import odds
from fits.questions.options import Sized
from fits.questions.pair import pair
from fits.questions.reported import reported
from fits.questions.window import At, Edge, window
from fits.report import (
    charts,
    comparison,
    data,
    joints,
    measured,
    measured_chart,
    measured_data,
    measured_screen,
    scales,
    window_chart,
    window_screen,
    windows,
)
from fits.report import odds as odds_report
from fits.report import options as options_report
from fits.report.drawing import wrap
from fits.report.notebook import html
from fits.sizes.reading import Reading

STEEL = metal(210_000.0, 0.3)
FIT = {"hole": "20 H7", "shaft": "19.98/19.967", "clearance_at_least": "0.01", "clearance_at_most": "0.06"}


def guide(**changes) -> Part:
    given = {key: value for key, value in {**FIT, **changes}.items() if value is not None}
    return Part("t", {"guide": Running(**given)}, (State("shop"),))


def joint(**changes) -> Part:
    return press_part(**{"hole": "20 H7", "shaft": "20 p6", "hub_outside": "40", "hub_material": STEEL, "shaft_material": STEEL, **changes})


def read(part: str, label: str, value: float, doubt: float = 0.0005) -> Reading:
    return Reading(part, label, value, doubt, "gauge", 20.0)


def said(one: PartJudgement) -> list[str]:
    return [f"{word}: {text}" for size in one.sizes for word, text in measured.size_lines(size, "mm")]


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


# Judged parts

def test_a_size_without_limits_is_said_to_be_exact():
    (one,) = judge(joint(hole="20.010"), [read("a", "joint.hole", 20.010)]).parts
    assert "drawing: an exact size, 20.0100 mm, without limits" in said(one)
    size = measured_data.judged_data(judge(joint(hole="20.010"), [read("a", "joint.hole", 20.010)]))["parts"][0]["sizes"][0]
    assert "margin" not in size


def test_metal_of_a_length_may_be_left_or_not():
    (one,) = judge(joint(length="30 ±0.1"), [read("a", "joint.length", 30.2)]).parts
    assert "cut: whether metal is left isn't known: this size is neither a hole nor a shaft" in said(one)


def test_form_of_the_part_file_is_charged_on_one_reading():
    judged = judge(guide(form_hole="0.004"), [read("a", "guide.hole", 20.010)])
    assert "form: 0.0040 mm of the part file is charged at both ends, one reading" in said(judged.parts[0])
    assert measured_data.judged_data(judged)["parts"][0]["sizes"][0]["form_charged"] == 0.004


def test_a_rule_without_a_margin_or_a_room_says_less():
    bare = RuleJudgement("guide", "never binds", "shop", None, "length", 4, None)
    assert measured.rule_text(bare, "mm") == "never binds (guide, shop)"
    assert measured_data._rule(bare) == {"feature": "guide", "rule": "never binds", "state": "shop"}
    part = PartJudgement("a", "accept", "inside", "pass", ())
    assert list(measured.part_lines(part, "mm")) == [("function", "every rule holds")]
    assert measured.mate_text(Mate("guide.shaft", ()), "mm") == "no guide.shaft would make every rule hold"


def test_parts_that_are_refused_say_why():
    part = Part("p", {"seal": glands.gland("face", medium="oxygen", fluid=None)}, (State("shop"),))
    judged = judge(part, [read("a", "seal.gland_depth", 2.68)])
    (one,) = judged.parts
    lines = list(measured.part_lines(one, "mm"))
    assert lines == [("refused", text) for text in check(part).features[0].refusals]
    assert "first_to_break" not in measured_data.judged_data(judged)["parts"][0]


def test_how_many_are_left_out_is_said(fits, tmp_path):
    table = tmp_path / "t.csv"
    table.write_text("part,feature.dimension,value,unit,uncertainty,instrument,temperature\nb,liner.hole,16.005,mm,0.002,bore gauge,20 degC\n"
                     "l,liner.shaft,16.055,mm,0.002,micrometer,20 degC\nc,liner.hole,big,mm,0.002,bore gauge,20 degC\n")
    for command, more in (("judge", ()), ("pair", ("--feature", "liner"))):
        ran = fits(command, "examples/hand_pump.toml", str(table), *more, "--skip-bad-rows")
        assert "\n  1 left out: a row of them is bad\n" in ran.out


# Pairs

def test_nothing_paired_has_no_table_and_no_picture():
    part = guide()
    found = pair(part, [read("h", "guide.hole", 20.010), read("s", "guide.shaft", 20.030)])
    assert found.pairs == ()
    assert list(measured_chart.of_pairing(found, "mm")) == []
    shown = measured_screen.lines(Answer("t", found.verdict, (), pairing=found), "mm")
    assert shown[0] == "0 paired, 2 left over: guide of t"
    assert not any(line.lstrip().startswith("mark") for line in shown)


def test_a_pair_that_moves_no_rule_has_no_first_to_break():
    part = guide()
    found = pair(part, [read("h", "guide.hole", 20.010), read("s", "guide.shaft", 19.975)])
    (one,) = found.pairs
    assert "first_to_break" in measured_data.pairing_data(found)["pairs"][0]
    still = found._replace(pairs=(one._replace(room=None, rule="", feature="", margin=None),))
    assert "first_to_break" not in measured_data.pairing_data(still)["pairs"][0]


# Windows

def test_form_and_gauge_take_their_share_of_a_window():
    found = fit_window(guide(form_hole="0.004", gauge_uncertainty="0.001"), "guide")
    lines = list(windows.fit_lines(found, "mm"))
    assert "form error takes 0.0080 mm of it, in full at both ends" in lines
    assert any(line.startswith("the gauge takes 0.00") and line.endswith("its uncertainty at every limit") for line in lines)


def test_an_edge_without_numbers_is_where_the_rule_is_no_longer_covered():
    edge = Edge(2.0, "", "guide", "never binds", "shop")
    assert "just beyond it the rule is not covered" in list(windows.edge_text(edge, "mm"))
    assert {"value", "limit"}.isdisjoint(windows._set_by(edge))
    assert {"value", "limit"} <= windows._set_by(edge._replace(value=1.0, limit=2.0)).keys()


def test_a_choice_at_a_corner_stands_in_words():
    assert windows.corner_text(Edge(2.0, "", "a", "b", "c", corner=(At("order", 1.0, "number", "reamed last"),)), "mm") == "at order reamed last"


def test_a_side_that_stands_on_a_surface_is_named(fits):
    (found,) = fits("choose", "examples/hand_pump.toml", "plunger", "--json").json["choices"]
    assert {one["hole"] for one in found["found"]} == {"liner.shaft_bore"}


def test_rules_that_hold_nowhere_are_said_in_csv():
    """10 N press in nothing, however short."""
    found = window(joint(press_rating=1e-6, assembly="pressed", axial_load=100.0), "joint.length")
    assert not found.intervals
    rows = {row["name"]: row for row in rows_of(data.to_csv(Answer("t", "fail", (), windows=(found,)))) if row["row"] == "rule holds"}
    assert rows["press is strong enough"]["text"] == "nowhere"
    assert rows["holds its load"]["text"] == ""


def test_a_fit_without_a_split_shows_its_window_only():
    found = fit_window(guide(gauge_uncertainty="0.02"), "guide")
    assert found.splits == ()
    lines = window_screen.lines(Answer("t", "fail", (), windows=(found,)), "mm")
    assert "form error and gauge uncertainty eat the whole window" in " ".join(" ".join(lines).split())
    assert "could be shared so" not in " ".join(lines)


def test_a_window_is_drawn_without_the_present_size_and_with_points():
    open_ = window(guide(), "guide.shaft")
    target = open_.target._replace(present=None)
    plain = window_chart.window(open_._replace(target=target), "mm")
    assert not [text for _, text in plain.notes if "as it is now" in text]
    assert [text for _, text in window_chart.window(open_, "mm").notes if "as it is now" in text]
    (first, *rest) = open_.rules
    middle = (open_.intervals[0].low.at + open_.intervals[0].high.at) / 2.0
    point = window_chart.window(open_._replace(rules=(first._replace(intervals=((middle, middle),)), *rest)), "mm")
    assert 'stroke-width="3"' in point.svg()


def test_a_window_without_ends_is_drawn_whole():
    target = window(guide(), "guide.shaft").target._replace(present=None)
    found = window(guide(), "guide.shaft")._replace(target=target, rules=(), intervals=())
    assert window_chart._ends(found, []) == (target.low, target.high)


def test_the_greatest_size_alone():
    assert options_report.text(Sized("gland_depth", None, 2.7), "mm") == "at most 2.700"
    assert options_report.text(Sized("gland_depth", 2.6, None), "mm") == "at least 2.600"
    assert options_report.text(Sized("gland_depth", 2.6, 2.7), "mm") == "2.600 to 2.700"


# Odds

def test_odds_of_what_is_not_covered_say_so_and_why():
    part = joint(friction_hold=None, axial_load=100.0, lubrication=None)
    found = odds(part, samples=2048)
    assert found.not_covered == 1.0
    text = odds_report.to_text(found, "mm")
    assert "100 % could not be judged: not covered" in " ".join(text.split())
    assert "Not covered" in text


def test_odds_with_nothing_asked_have_no_weakest_rule():
    part = Part("t", {"guide": Running(hole="20 H7", shaft="19.98/19.967")}, (State("shop"),))
    found = odds(part, samples=2048)._replace(rules=())
    assert found.weakest is None
    assert "Weakest" not in odds_report.to_text(found, "mm")
    one = next(iter(odds(guide(), samples=2048).rules))
    assert odds_report._matters(one._replace(comes_from=())) == f"Weakest: {one.rule} (guide)."
    partly = one._replace(not_covered=0.5, failing=one.failing._replace(share=0.25))
    assert odds_report._rule_row(partly)[3] == "not covered, 25.000 % fail"


# The rest

def test_time_of_a_state_is_in_the_report():
    part = joint()
    states = (State("hot", 150.0, 150.0, time=3600.0),)
    assert json.loads(data.to_json(check(replace(part, states=states))))["states"]["hot"]["time"] == {"value": 3600.0, "unit": "s"}


def test_a_list_in_a_notebook_stands_as_on_the_screen():
    assert html(Answer("nothing", "pass", ())).startswith("<pre>")
    bare = limits(["25 H7"])._replace(sources=())
    assert "Sources" not in html(bare)
    assert "Sources" in html(limits(["25 H7"]))


def test_a_pair_of_which_one_size_is_not_known_has_no_zones():
    answer = with_drawings(guide(), check(guide()))
    (feature,) = answer.features
    assert "tolerance zones" in charts.of_feature(feature, answer, "mm")[0].title
    lone = feature._replace(sizes=tuple(one for one in feature.sizes if one.name != "shaft"))
    assert not any("zones" in one.title for one in charts.of_feature(lone, answer, "mm"))


def test_limits_along_a_curve_that_are_not_known():
    """No point of a limit, and one point alone, draw no line; the first is said."""
    part = Part("t", {"joint": Press(hole="20 H7", shaft="20 p6", hub_outside="40", length="30", hub_material="1045 HR", shaft_material="1045 HR")}, (State("shop"), State("hot", 60.0, 60.0, 5.0)))
    answer = with_drawings(part, check(part))
    (feature,) = answer.features
    curve = feature.drawn.curves[0]
    bound = curve.bounds[0]
    nan = float("nan")
    none = charts.against_temperature(curve._replace(bounds=(bound._replace(limits=(nan,) * len(bound.limits)),)), feature, answer, "mm")
    assert f"{bound.rule}: its limit is not covered" in [text for _, text in none.notes]
    alone = bound._replace(limits=(*((nan,) * (len(bound.limits) - 1)), bound.limits[-1] if bound.limits[-1] == bound.limits[-1] else 5.0))
    drawn = charts.against_temperature(curve._replace(bounds=(alone,)), feature, answer, "mm")
    assert "stroke-dasharray" not in drawn.svg()


def test_words_wider_than_a_drawing_are_broken_into_letters():
    assert wrap("abc", 0.5) == ["a", "b", "c"]


def test_ticks_have_room_for_their_numbers():
    axis = scales.Axis(0.0, 100_000_000.0, 100.0, 180.0)
    told = list(scales._along(axis))
    assert 1 <= len(told) <= 3


# Two parts compared

def test_fewer_rules_asked_is_no_gain():
    before, after = guide(), guide(clearance_at_most=None)
    found = compare(*(reported(data.to_dict(check(one)), "p") for one in (before, after)))
    text = " ".join(comparison.text_of(found, "mm").split())
    assert "every rule that was asked holds after the change, but not asked any more: guide: most clearance; of 3 rules" in text
    rows = rows_of(comparison.to_csv(found))
    lost = next(row for row in rows if row["row"] == "check" and row["name"] == "most clearance")
    assert lost["verdict_after"] == ""
    assert lost["verdict_before"] == "pass"


def test_a_unit_of_no_kind_of_quantity_stands_as_it_is():
    assert comparison._number(2.5, "furlong", "in") == "2.5 furlong"


def test_inputs_that_differ_in_what_is_not_listed_are_said(tmp_path):
    one = reported(data.to_dict(check(guide())), "p")
    found = compare(one, one)._replace(unseen=True)
    assert "what was given differs in something that is not listed" in [row["text"] for row in rows_of(comparison.to_csv(found))]
    assert "what was given differs" not in comparison.to_csv(compare(one, one))


DRAWN = """name = "p"
[running.guide]
hole = "10 H7"
shaft = "9.98/9.97"
clearance_at_least = "0.02"
clearance_at_most = "0.05"
"""


def test_what_a_drawer_holds_against_a_window_as_csv(fits, tmp_path):
    """10.000 to 10.020 holds: 9.998 to 10.022 may come too small and too large."""
    part, drawer = tmp_path / "p.toml", tmp_path / "d.toml"
    part.write_text(DRAWN)
    drawer.write_text('[[reamer]]\nmeasured = "10 mm"\ncuts_over = "-2 um to 22 um"\n')
    rows = rows_of(fits("choose", str(part), "guide", "--drawer", str(drawer), "--csv").out)
    offer = next(row for row in rows if row["row"] == "drawer hole")
    assert "may come 0.0020 mm too small" in offer["text"]
    assert "may come 0.0020 mm too large" in offer["text"]
    assert [row for row in rows if row["row"] == "notes"]
    assert [row for row in rows if row["row"] == "window"]


def test_heat_of_a_table_is_in_degrees_fahrenheit_on_an_inch_sheet():
    """150 degC is 302 degF; a difference takes 1.8 only."""
    assert joints._shown(np.array([150.0]), "temperature", "in").tolist() == pytest.approx([302.0])
    assert joints._shown(np.array([150.0]), "temperature", "mm").tolist() == [150.0]
    assert joints._shown(np.array([50.0]), "temperature difference", "in").tolist() == pytest.approx([90.0])
