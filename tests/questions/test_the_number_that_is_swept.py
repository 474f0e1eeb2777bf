"""Which number a question sweeps: where it looks closely, how far, at which points."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from conftest import ROOT
from plain import Plain, plain

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Measure, Size, SurfaceRef, Undecided
from fits.features.part import Part
from fits.questions.targets import Target, decided, points_of, swept, swept_states, target_of, with_field

SHOP, HOT = State("shop"), State("hot", 120.0, 60.0, 5.0, 30.0)
OPEN = Undecided()


def at(field: str, *states: State, **fields) -> Target:
    return target_of(plain(*states, **fields), f"seat.{field}")


def one(kind: str = "length", low: float = 2.0, high: float = 42.0, centre: float = 10.0, present: float | None = 11.0) -> Target:
    return Target("a.b", "a.b", kind, 3, present, low, high, "", "", centre)


def test_how_fine_an_edge_is_found():
    assert one("length").tolerance == 1e-4
    assert one("force", high=-5e3).tolerance == pytest.approx(5e-3)
    assert one("force", high=1e-12).tolerance == pytest.approx(1e-15)
    assert one("force", high=1.0).tolerance == pytest.approx(1e-6)


def test_the_present_value_is_the_middle_of_its_limits():
    assert at("hole").present == pytest.approx(20.015)
    assert at("shaft").present == pytest.approx(19.945)
    assert at("grade").present == pytest.approx(2.0)
    assert at("grade", grade="1 to 4").present == pytest.approx(2.5)
    assert at("outside").present is None


def test_it_is_looked_for_around_the_other_member():
    assert at("hole").centre == pytest.approx(19.945)
    assert at("shaft").centre == pytest.approx(20.015)
    # The other one is open: around itself.
    assert at("hole", shaft=OPEN).centre == pytest.approx(20.015)


def test_it_is_looked_for_around_itself_else_by_a_relation_else_at_one():
    assert at("grade", grade="1 to 4").centre == pytest.approx(2.5)
    # An outside twice the hole, a core half the shaft; the shaft and hole are 20.015 and 19.945 in the middle.
    assert at("outside").centre == pytest.approx(2.0 * 20.015)
    assert at("core").centre == pytest.approx(0.5 * 19.945)
    assert at("outside", outside="41 ±0.5").centre == pytest.approx(41.0)
    assert at("length").centre == 1.0
    # 1 in the unit of a report: N and mm.
    assert at("push_at_least").centre == 1.0
    assert at("place").centre == 1.0


def test_what_a_field_or_its_kind_says_is_likely_comes_before_a_relation(monkeypatch):
    monkeypatch.setattr(Plain, "near", lambda self, field: 33.0 if field == "outside" else None)
    assert at("outside").centre == 33.0
    assert at("core").centre == pytest.approx(0.5 * 19.945)
    assert at("outside", outside="41 ±0.5").centre == pytest.approx(41.0)
    monkeypatch.setattr(Measure, "near", lambda self, feature: 7.5)
    monkeypatch.setattr(Size, "near", lambda self, feature: 44.0)
    assert at("push_at_least").centre == 7.5
    # The field knows better than the kind, and a number that is given better than both, unless it is 0.
    assert at("outside").centre == 44.0
    assert at("grade", grade="1 to 4").centre == pytest.approx(2.5)
    assert at("place").centre == 7.5


def test_a_torque_is_looked_for_from_one_newton_metre():
    from joints import metal, press_part

    steel = metal(2e5, 0.3)
    part = press_part(hole="20 H7", shaft="20 p6", hub_outside="40", hub_material=steel, shaft_material=steel)
    target = target_of(part, "joint.torque")
    # N*mm inside: N*m are 1000 of them.
    assert (target.centre, target.kind, target.digits) == (1000.0, "torque", target.digits)
    assert target.low == pytest.approx(1.0)
    assert target.high == pytest.approx(1e6)


def test_a_size_is_sought_from_half_to_twice_what_it_is_cut_by_what_it_must_fit_in():
    hole = at("hole")
    # Members of one fit are within 5 % of each other: 19.945 is that of the shaft, the hole's as much more.
    assert (hole.low, hole.high) == pytest.approx((19.945 * 0.95, 19.945 / 0.95))
    assert "can't belong together" in hole.low_why
    assert "can't belong together" in hole.high_why
    wide = at("outside")
    assert (wide.high, wide.high_why) == (pytest.approx(2.0 * 2.0 * 20.015), "the end of the search")
    walled = at("hole", outside="20.6 ±0.2")
    assert walled.high == pytest.approx(20.4 - 1e-4, abs=1e-9)
    assert walled.high < 20.4 - 1e-4 + 1e-12
    assert walled.high_why == "must stay below outside"
    # What lies beyond cuts nothing.
    assert "can't belong together" in at("hole", outside="25 ±0.2").high_why
    hollow = at("shaft", core="19.3 ±0.3")
    assert (hollow.low, hollow.low_why) == (pytest.approx(19.6 + 1e-4, abs=1e-9), "must stay above core")
    assert "can't belong together" in at("shaft", core="18.9").low_why
    # A size of no pair ends with the search or a relation, whichever comes first; just at the end it is the relation.
    cored = at("core")
    assert (cored.low, cored.low_why) == (pytest.approx(19.945 / 4.0), "the end of the search")
    assert (cored.high, cored.high_why) == (pytest.approx(19.94 - 1e-4, abs=1e-9), "must stay below shaft")
    assert [at("core", core=one).high_why for one in ("9", "9.97")] == ["the end of the search", "must stay below shaft"]
    assert [at("outside", outside=one).low_why for one in ("50", "40.06")] == ["the end of the search", "must stay above hole"]
    outside = at("outside")
    assert (outside.low, outside.low_why) == (pytest.approx(20.03 + 1e-4, abs=1e-9), "must stay above hole")


def test_any_other_number_is_sought_a_thousand_times_either_way_within_its_bounds():
    grade = at("grade", grade="1 to 4")
    assert (grade.low, grade.high) == pytest.approx((2.5e-3, 2.5e3))


def test_what_is_shown_of_it():
    grade = at("grade")
    assert (grade.text, grade.label, grade.kind, grade.digits, grade.key) == ("seat.grade", "seat.grade", "number", 2, "seat.grade")
    assert (at("hole").kind, at("hole").digits) == ("length", 4)


def test_a_state_is_swept_by_both_its_temperatures_its_pressure_or_its_speed():
    part = plain(SHOP, HOT)
    heat = target_of(part, "hot.temperature")
    # Of two different temperatures that of the hub counts as the present one.
    assert (heat.low, heat.high, heat.kind, heat.present, heat.centre, heat.digits) == (-273.15, 1000.0, "temperature", 120.0, 120.0, 1)
    assert (heat.state, heat.quantity, heat.key, heat.features) == ("hot", "temperature", "", ("seat",))
    assert target_of(part, "hot.shaft_temperature").present == 60.0
    pressure = target_of(part, "hot.pressure")
    assert (pressure.low, pressure.high, pressure.kind, pressure.present) == (0.0, 5000.0, "pressure", 5.0)
    assert target_of(part, "shop.pressure").high == 10_000.0
    assert target_of(part, "hot.speed").high == 30_000.0
    assert target_of(part, "shop.speed").high == 100_000.0


@pytest.mark.parametrize(("text", "says"), [
    ("seat.hoel", 'seat has no field hoel; did you mean "hole"?'), ("sea.hole", 'no such feature or state; did you mean "seat"?'),
    ("shop.heat", "a state has no heat; quantities of a state: temperature, hub_temperature, shaft_temperature, pressure, speed"),
    ("xyz.hole", "no such feature or state; ask for one of seat., shop...."), ("seat", 'no such feature or state'), ("shop", "no such feature or state"),
])
def test_what_is_no_number_of_the_part(text: str, says: str):
    with pytest.raises(InputError) as raised:
        target_of(plain(), text)
    assert says in str(raised.value)


def stacked() -> Part:
    below, above, apart = (plain(**more).features["seat"] for more in ({"gap_at_least": "0.01"}, {"hole": SurfaceRef("below", "bore"), "gap_at_least": "0.01"}, {"gap_at_least": "0.01"}))
    third = plain(hole=SurfaceRef("below", "bore"), shaft="19.9", gap_at_least="0.01").features["seat"]
    return Part("test", {"below": below, "above": above, "apart": apart, "third": third})


def test_which_features_a_number_touches():
    """What stands on a surface goes with what is cut there; a pressure is that of the whole part."""
    part = stacked()
    assert target_of(part, "below.hole").features == ("below", "above", "third")
    assert target_of(part, "above.shaft").features == ("above",)
    assert target_of(part, "apart.hole").features == ("apart",)
    # Whatever touches the feature below touches what stands on it.
    assert target_of(part, "below.shaft").features == ("below", "above", "third")
    with pytest.raises(InputError, match=r"hole stands on below\.bore; ask for that"):
        target_of(part, "above.hole")
    assert target_of(part, "shop.pressure").features == ("below", "above", "apart", "third")


# Points

def test_points_are_close_together_near_the_centre():
    """2 to 42 about 10: 96 steps of equal ratio either side from a millionth of 32 to 32, 33 even ones, the present value."""
    target = one()
    points = points_of(target)
    ratio = 1e6 ** (1.0 / 95.0)
    offsets = [32.0e-6 * ratio**step for step in range(96)]
    expected = {10.0, 11.0, *(2.0 + 1.25 * step for step in range(33))}
    expected |= {10.0 + one for one in offsets} | {max(10.0 - one, 2.0) for one in offsets}
    rising = sorted(expected)
    distinct = [rising[0], *(b for a, b in pairwise(rising) if b - a > 1e-12)]
    assert len(points) in (len(distinct), len(distinct) + 1, len(distinct) + 2)
    assert all(np.abs(points - each).min() < 1e-9 for each in expected)
    assert all(min(abs(each - other) for other in expected) < 1e-9 for each in points)
    assert (np.diff(points) > 0.0).all()
    assert (points[0], points[-1]) == (2.0, pytest.approx(42.0))


def test_the_reach_is_the_longer_side():
    low, high = points_of(one(centre=35.0, present=None)), points_of(one(centre=5.0, present=None))
    assert np.sort(np.abs(low - 35.0))[1] == pytest.approx(33.0e-6)
    assert np.sort(np.abs(high - 5.0))[1] == pytest.approx(37.0e-6)
    assert 11.0 not in points_of(one(present=None))


def test_a_search_of_no_width_still_has_its_point():
    assert points_of(one(low=3.0, high=3.0, centre=3.0, present=None)).tolist() == [3.0]


def test_temperatures_are_evenly_spaced():
    points = points_of(one("temperature", -273.15, 1000.0, 20.0, 20.0))
    even = np.linspace(-273.15, 1000.0, 512)
    assert set(even) <= set(points)
    assert (points[0], points[-1]) == (-273.15, 1000.0)
    # Beside what is typed and beside 20 degC close together, at neither: a point alone is no window.
    for typed in (20.0, 55.0):
        points = points_of(one("temperature", -273.15, 1000.0, typed, typed))
        for at in (20.0, typed):
            assert 0.0 < np.abs(points - at).min() < 2e-3
            near = np.sort(np.abs(points - at))
            assert (near[2:40:2] <= near[:38:2] * 2.1).all()


# Sweeps

def test_a_swept_state_has_its_own_number_at_each_point_and_the_others_theirs():
    part = plain(SHOP, HOT)
    lead = np.array([1.0, 2.0, 7.0]).reshape(-1, 1, 1)
    heat = swept_states(part, "seat", target_of(part, "hot.temperature"), lead)
    assert heat.hub_temperature.tolist() == [[[20.0, one, 20.0]] for one in (1.0, 2.0, 7.0)]
    assert heat.shaft_temperature.tolist() == heat.hub_temperature.tolist()
    assert heat.pressure.tolist() == [0.0, 5.0, 0.0]
    alone = swept_states(part, "seat", target_of(part, "shop.shaft_temperature"), lead)
    assert alone.shaft_temperature.tolist() == [[[one, 60.0, 20.0]] for one in (1.0, 2.0, 7.0)]
    assert alone.hub_temperature.tolist() == [20.0, 120.0, 20.0]


def test_a_swept_field_along_the_lead():
    part = plain(SHOP, HOT, gap_at_least="0.01")
    target = target_of(part, "seat.hole")
    found = swept(part, "seat", target, np.array([20.1, 20.4]), {"seat.shaft": np.array([[19.94], [19.95]])})
    assert set(found.numbers) >= {"gap"}
    assert found.numbers["gap"][..., 0] == pytest.approx(np.array([[0.16, 0.15], [0.46, 0.45]]))


def test_only_what_the_rules_hold_is_computed():
    """Of a field the rules that are asked say what; a swept state may ask for more at some of its points."""
    part = plain(SHOP, gap_at_least="0.01")
    points, corners = np.array([20.1, 20.4]), {}
    assert set(swept(part, "seat", target_of(part, "seat.hole"), points, corners).numbers) == {"gap"}
    assert set(swept(part, "seat", target_of(part, "shop.pressure"), points, corners).numbers) == {"gap", "push", "bow"}
    pushed = plain(SHOP, gap_at_least="0.01", push_at_least="3 N")
    assert set(swept(pushed, "seat", target_of(pushed, "seat.hole"), points, corners).numbers) == {"gap", "push"}


# Fields

def test_a_field_put_in_counts_as_given_and_the_part_stays_what_it_was():
    part = plain()
    for value in ("30.1 ±0.1", 31.0):
        changed = with_field(part, "seat", "outside", value)
        assert "outside" in changed.features["seat"].model_fields_set
        assert changed.features["seat"].outside.middle in (pytest.approx(30.1), 31.0)
        assert part.features["seat"].outside is None
    force = with_field(part, "seat", "push_at_least", 12.0).features["seat"].push_at_least
    assert (force.low, force.high) == (12.0, 12.0)


def test_an_open_field_is_put_where_the_search_looks_closely():
    part = plain(shaft=OPEN)
    target = target_of(part, "seat.shaft")
    assert target.centre == pytest.approx(20.015)
    assert decided(part, target).features["seat"].shaft.lower == pytest.approx(20.015)
    known = plain()
    assert decided(known, target_of(known, "seat.shaft")) is known
    assert decided(known, target_of(known, "shop.pressure")) is known
    missing = decided(known, target_of(known, "seat.outside"))
    assert missing.features["seat"].outside.upper == pytest.approx(40.03)


def test_a_composite_number_that_is_not_there():
    import glands

    part = glands.part("face")
    assert isinstance(target_of(part, "seal.ring.section").present, float)
    with pytest.raises(InputError, match="ring is not given"):
        target_of(replace(part, features={"seal": part.features["seal"].model_copy(update={"ring": None})}), "seal.ring.section")


def test_the_kind_of_plain_sums_is_what_it_says():
    """Its hole less its shaft, by hand: the other tests rest on it."""
    assert math.isclose(plain().features["seat"].hole.upper - plain().features["seat"].shaft.lower, 0.09, abs_tol=1e-9)
    assert Plain.pair == ("hole", "shaft")


def test_a_window_of_a_roughness_says_that_it_is_rz_whatever_the_file_says(fits, tmp_path):
    """An Ra counts 3.75 times: 0.8 Rz is 3 Ra."""
    pump = (ROOT / "examples" / "hand_pump.toml").read_text(encoding="utf-8")
    path = tmp_path / "pump.toml"
    path.write_text(pump.replace('"3 um"', '"0.8 um Ra"'), encoding="utf-8")
    ran = fits("window", str(path), "liner.roughness_hole")
    assert ran.out.startswith("WINDOW: liner.roughness_hole (Rz, 3.75 times Ra) 0.1 um to ")
    found = fits("window", str(path), "liner.roughness_hole", "--json").json["windows"][0]
    assert (found["of"], found["scale"]) == ("liner.roughness_hole", "Rz, 3.75 times Ra")
    edge = found["intervals"][0]["max"]
    for share, verdict in ((0.99, "pass"), (1.01, "fail")):
        path.write_text(pump.replace('"3 um"', f'"{edge / 3.75 * share:.5f} um Ra"'), encoding="utf-8")
        assert fits("check", str(path), "--json").json["features"]["liner"]["verdict"] == verdict
    assert "Rz, 3.75 times Ra; set by" in fits("window", str(path), "liner.roughness_hole", "--csv").out
    other = fits("window", str(path), "liner.length", "--json").json["windows"][0]
    assert "scale" not in other


def test_a_wrong_number_is_answered_with_those_that_count(fits, tmp_path):
    """A hub of slices has no outside of its own to be asked for, and its thinnest is none either."""
    pump = (ROOT / "examples" / "hand_pump.toml").read_text(encoding="utf-8")
    path = tmp_path / "pump.toml"
    path.write_text(pump.replace('hub_outside     = "32 ±0.1"', 'slices = [{length = "20", outside = "32"}, {length = "20", outside = "40"}]'), encoding="utf-8")
    ran = fits("window", str(path), "liner.slices.1.length")
    assert ran.status == 2
    assert ran.err.startswith('"liner.slices.1.length": liner has no field slices.1.length; numbers of liner: hole, shaft, shaft_bore, ')
    assert "thinnest" not in ran.err
    assert 'did you mean "shaft"?' in fits("window", str(path), "liner.shfat").err
