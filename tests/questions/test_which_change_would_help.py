"""No window: which changes are tried, in which order, and which of them count."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from joints import metal, press_part
from plain import plain

from fits.features.feature import State
from fits.features.fields import MetalField, Spread, Undecided
from fits.features.part import Part
from fits.materials.metals import Metal
from fits.questions import ways_out as ways
from fits.questions.targets import target_of
from fits.questions.window import window
from fits.sizes.limits import Limits

SHOP, COLD = State("shop"), State("cold", -60.0, -40.0, 8.0)


@pytest.fixture
def tried(monkeypatch) -> list[Part]:
    """What is tried, of which nothing helps."""
    found: list[Part] = []
    monkeypatch.setattr(ways, "_opens", lambda part, target: found.append(part))
    return found


def steel_part() -> Part:
    return press_part((SHOP,), hole="20 H7", shaft="20.05", hub_outside="40", hub_material=metal(7e4, 0.3, least=240.0, name="soft"), shaft_material=metal(2e5, 0.3, least=800.0))


# A window and what opens one

def spans(monkeypatch, *found: tuple[float, float], quick: bool = True, whole: bool = True) -> None:
    """Scans that find these intervals; unless ``whole`` only those that are ``quick``, or that aren't."""

    def scanned(scan: Any) -> Any:
        every = found if scan.quick == quick or whole else ()
        return SimpleNamespace(intervals=[SimpleNamespace(low=SimpleNamespace(at=low), high=SimpleNamespace(at=high)) for low, high in every])

    monkeypatch.setattr(ways, "Scan", lambda part, target, quick=False: SimpleNamespace(quick=quick))
    monkeypatch.setattr(ways, "scanned", scanned)


def test_only_a_window_that_can_be_made_counts(monkeypatch):
    """Ten times as fine as an edge is found, 1 um: of several the widest is told."""
    part = plain()
    target = target_of(part, "seat.shaft")
    for width, counts in ((0.0009, False), (0.00099, False), (0.00101, True), (0.0012, True), (0.5, True)):
        spans(monkeypatch, (19.5, 19.5 + width))
        assert ways._opens(part, target) == ((19.5, 19.5 + width) if counts else None)
    spans(monkeypatch, (0.0, 10.0 * 1e-4))
    assert ways._opens(part, target) is None
    spans(monkeypatch, (1.0, 1.2), (3.0, 3.9), (5.0, 5.3))
    assert ways._opens(part, target) == (3.0, 3.9)
    spans(monkeypatch)
    assert ways._opens(part, target) is None
    for quick in (True, False):
        spans(monkeypatch, (1.0, 2.0), quick=quick, whole=False)
        assert ways._opens(part, target) is None


def test_a_better_grade_opens_a_window():
    """Gap at most 0.080 with grade 2 pushes 16 N; of 18 N a grade of 2.5 is the first that is tried above: gap 0.072 to 0.080."""
    part = plain(hole="20", gap_at_most="0.08", push_at_least="18 N")
    found = window(part, "seat.shaft")
    assert found.intervals == ()
    (way,) = found.ways_out
    assert way.what == "seat.grade 2.50"
    assert way.interval == (pytest.approx(19.92, abs=1.1e-4), pytest.approx(19.928, abs=1.1e-4))
    assert window(part, "seat.shaft", ways_out=False).ways_out == ()
    # Where there is a window nothing is tried.
    assert window(plain(hole="20", gap_at_most="0.08", push_at_least="15 N"), "seat.shaft").ways_out == ()


def test_a_milder_state_opens_a_window():
    """0.040 to 0.080 in the shop; -30 degC takes 0.050 of it, 0.8 of that 0.040 leaves no width, 0.6 leaves 0.010."""
    part = plain(SHOP, State("cold", -30.0, -30.0), hole="20", gap_at_least="0.04", gap_at_most="0.08")
    (way,) = window(part, "seat.shaft").ways_out
    assert way.what == "cold.temperature no further than -10 degC"
    assert way.interval == (pytest.approx(19.92, abs=1.1e-4), pytest.approx(19.93, abs=1.1e-4))


# What is tried

def test_a_number_is_moved_by_the_mildest_factor_first(tried: list[Part]):
    part = plain(grade="1.8 to 2.2")
    feature = type(part.features["seat"])
    assert list(ways._numbers(part, target_of(part, "seat.shaft"), "seat", "grade", feature.model_fields["grade"].metadata[0])) == []
    middles = [2.5, 1.6, 3.0, 1.34, 4.0, 1.0, 6.0, 0.66]
    assert [one.features["seat"].grade for one in tried] == [Spread(pytest.approx(each - 0.2), pytest.approx(each + 0.2)) for each in middles]


def test_only_numbers_within_the_search_are_tried(tried: list[Part]):
    """An outside of 30 +-2 about a hole of up to 20.03: 24 +-2 and 20.1 +-2 leave no wall, as do all below."""
    part = plain(outside="30 ±2")
    kind = type(part.features["seat"]).model_fields["outside"].metadata[0]
    assert list(ways._numbers(part, target_of(part, "seat.shaft"), "seat", "outside", kind)) == []
    middles = [(one.features["seat"].outside.lower, one.features["seat"].outside.upper) for one in tried]
    assert middles == [pytest.approx((each - 2.0, each + 2.0)) for each in (37.5, 24.0, 45.0)]
    # 60 +-2 is beyond twice the present 30.
    assert all(one.features["seat"].outside.nominal == pytest.approx(each) for one, each in zip(tried, (37.5, 24.0, 45.0)))


def test_what_is_out_of_bounds_is_passed_over(tried: list[Part]):
    """22 +-0.5: 0.8 of it is less than the hole, half more is not, and twice is beyond the search."""
    part = plain(outside="22 ±0.5")
    kind = type(part.features["seat"]).model_fields["outside"].metadata[0]
    assert list(ways._numbers(part, target_of(part, "seat.shaft"), "seat", "outside", kind)) == []
    assert [one.features["seat"].outside.middle for one in tried] == pytest.approx([27.5, 33.0])


def test_an_exact_number_is_tried_up_to_both_ends_of_the_search(tried: list[Part]):
    """Twice 30 is where the search ends; 0.67 of it is 20.1, which still leaves a wall about 20.030."""
    part = plain(outside="30")
    kind = type(part.features["seat"]).model_fields["outside"].metadata[0]
    assert list(ways._numbers(part, target_of(part, "seat.shaft"), "seat", "outside", kind)) == []
    assert [one.features["seat"].outside.lower for one in tried] == pytest.approx([37.5, 24.0, 45.0, 20.1, 60.0])


def test_an_open_number_is_not_moved(tried: list[Part]):
    part = plain(grade=Undecided())
    kind = type(part.features["seat"]).model_fields["grade"].metadata[0]
    assert list(ways._numbers(part, target_of(part, "seat.shaft"), "seat", "grade", kind)) == []
    assert tried == []


def test_a_number_of_0_is_no_place_to_start_from(tried: list[Part]):
    part = plain(place="0")
    kind = type(part.features["seat"]).model_fields["place"].metadata[0]
    assert list(ways._numbers(part, target_of(part, "seat.shaft"), "seat", "place", kind)) == []
    assert tried == []


def test_the_first_that_helps_is_told_and_no_other(monkeypatch):
    part = plain()
    kind = type(part.features["seat"]).model_fields["grade"].metadata[0]
    monkeypatch.setattr(ways, "_opens", lambda part, target: (1.0, 2.0) if part.features["seat"].grade.low > 2.8 else None)
    (way,) = ways._numbers(part, target_of(part, "seat.shaft"), "seat", "grade", kind)
    assert (way.what, way.interval) == ("seat.grade 3.00", (1.0, 2.0))


def test_limits_keep_their_width_and_side():
    kind = type(plain().features["seat"]).model_fields["outside"].metadata[0]
    moved = ways._moved(Limits(29.0, 31.0, 30.0), 40.0, 1.0, kind)
    assert (moved.lower, moved.upper, moved.basic, moved.side) == (39.0, 41.0, 40.0, "shaft")
    assert ways._moved(Limits(29.0, 31.0, 30.0), 40.0, 1.0, MetalField("no size")).side == ""
    assert ways._moved(Spread(1.0, 3.0), 5.0, 1.0, kind) == Spread(4.0, 6.0)


def test_a_harder_bar_of_the_same_metal(tried: list[Part]):
    """240 MPa: a quarter more, half more, twice, three times as much."""
    part = steel_part()
    target = target_of(part, "joint.shaft")
    soft: Metal = part.features["joint"].hub_material
    assert list(ways._harder(part, target, "joint", "hub_material", soft)) == []
    assert [one.features["joint"].hub_material.yield_minimum for one in tried] == pytest.approx([300.0, 360.0, 480.0, 720.0])
    assert all("yield_strength" in one.features["joint"].hub_material.typed for one in tried)
    tried.clear()
    typical = replace(soft, yield_minimum=None, yield_typical=200.0)
    assert list(ways._harder(part, target, "joint", "hub_material", typical)) == []
    assert [one.features["joint"].hub_material.yield_minimum for one in tried] == pytest.approx([250.0, 300.0, 400.0, 600.0])
    tried.clear()
    assert list(ways._harder(part, target, "joint", "hub_material", replace(soft, yield_minimum=None))) == []
    assert tried == []


def test_the_least_yield_that_helps_is_told(monkeypatch):
    part = steel_part()
    monkeypatch.setattr(ways, "_opens", lambda part, target: (20.01, 20.03) if part.features["joint"].hub_material.yield_minimum >= 350.0 else None)
    (way,) = ways._harder(part, target_of(part, "joint.shaft"), "joint", "hub_material", part.features["joint"].hub_material)
    assert (way.what, way.interval) == ("joint.hub_material soft with a least yield of 360 MPa", (20.01, 20.03))


def test_metals_of_the_same_family_come_first_then_the_widest_window(monkeypatch):
    """Three of those that help, in this order; none that is only known as typical, nor the present one."""
    known = {name: replace(metal(7e4, 0.3, least=least, name=name), family=family) for name, family, least in (
        ("a", "aluminium", 1.0), ("b", "steel", 1.0), ("c", "steel", 1.0), ("d", "aluminium", 1.0), ("e", "aluminium", None), ("f", "steel", 1.0), ("g", "steel", 1.0))}
    widths = {"a": 0.3, "b": 0.1, "c": 0.2, "d": 0.4, "e": 0.9, "f": 0.9, "g": 0.0}
    monkeypatch.setattr(ways, "names", lambda: list(known))
    monkeypatch.setattr(ways, "metal", known.__getitem__)
    monkeypatch.setattr(ways, "_harder", lambda *of: iter(()))
    seen: list[str] = []

    def opens(part: Part, target: Any) -> tuple[float, float] | None:
        name = part.features["joint"].hub_material.name
        seen.append(name)
        return (20.0, 20.0 + widths[name]) if widths[name] else None

    monkeypatch.setattr(ways, "_opens", opens)
    part = steel_part()
    part = replace(part, features={"joint": part.features["joint"].model_copy(update={"hub_material": known["f"]})})
    found = list(ways._metals(part, target_of(part, "joint.shaft"), "joint", "hub_material"))
    assert [one.what for one in found] == ["joint.hub_material c", "joint.hub_material b", "joint.hub_material d"]
    assert [one.interval for one in found] == [(20.0, 20.2), (20.0, 20.1), (20.0, 20.4)]
    assert seen == ["a", "b", "c", "d", "g"]


def test_a_state_is_brought_nearer_to_20_degc_then_its_pressure_taken_away(tried: list[Part]):
    """-60 and -40 degC are 80 and 60 K away: 0.8, 0.6, 0.4, 0.2 and nothing of it; 8 MPa the same."""
    own = (COLD._replace(pressure=4.0), SHOP)
    part = replace(plain(SHOP, COLD), of_feature={"seat": own})
    assert list(ways._milder_states(part, target_of(part, "seat.shaft"), "cold")) == []
    assert [(one.states[1].hub_temperature, one.states[1].shaft_temperature, one.states[1].pressure) for one in tried] == [
        *(pytest.approx((20.0 - 80.0 * share, 20.0 - 60.0 * share, 8.0)) for share in (0.8, 0.6, 0.4, 0.2, 0.0)),
        *(pytest.approx((-60.0, -40.0, 8.0 * share)) for share in (0.8, 0.6, 0.4, 0.2, 0.0))]
    assert all(one.states[0] == SHOP for one in tried)
    # A feature with states of its own goes along, its other states stay.
    assert all(one.of_feature["seat"] == (one.states[1], SHOP) for one in tried)


def test_a_state_that_is_as_mild_as_can_be_or_swept_is_left_alone(tried: list[Part]):
    part = plain(SHOP, COLD)
    assert list(ways._milder_states(part, target_of(part, "cold.pressure"), "cold")) == []
    assert list(ways._milder_states(part, target_of(part, "seat.shaft"), "shop")) == []
    assert list(ways._milder_states(part, target_of(part, "seat.shaft"), "nowhere")) == []
    assert tried == []


def test_the_first_share_that_helps_is_told_of_each(monkeypatch):
    part = plain(SHOP, COLD)
    monkeypatch.setattr(ways, "_opens", lambda part, target: (1.0, 2.0) if part.states[1].hub_temperature > -20.0 or part.states[1].pressure < 4.0 else None)
    found = list(ways._milder_states(part, target_of(part, "seat.shaft"), "cold"))
    assert [one.what for one in found] == ["cold.temperature no further than -12 degC", "cold.pressure no further than 3.20 MPa"]


def test_what_is_in_the_way():
    """Rules that never hold; else the two that exclude each other; else none."""
    part = plain(SHOP, hole="20", gap_at_least="0.09", gap_at_most="0.08", push_at_least="1000000 N")
    never = window(part, "seat.shaft", ways_out=False)
    assert [one.rule for one in ways._in_the_way(never)] == ["pushes"]
    both = window(plain(SHOP, hole="20", gap_at_least="0.09", gap_at_most="0.08"), "seat.shaft", ways_out=False)
    assert [one.rule for one in ways._in_the_way(both)] == ["most gap", "least gap"]
    assert ways._in_the_way(window(plain(SHOP, gap_at_most="0.2"), "seat.shaft", ways_out=False)) == []


def test_which_fields_are_remedies():
    """Not the one that is asked for, not one that isn't given, not a member of a pair; each once."""
    part = plain(SHOP, hole="20", outside="40", gap_at_least="0.09", gap_at_most="0.08", push_at_least="500 N")
    found = window(part, "seat.shaft", ways_out=False)
    rules = list(found.rules)
    target = target_of(part, "seat.shaft")
    assert ways._remedies(part, target, rules) == [("seat", "outside"), ("seat", "grade")]
    assert ways._remedies(part, target_of(part, "seat.grade"), rules) == [("seat", "outside")]
    bare = plain(SHOP, hole="20", gap_at_least="0.09", gap_at_most="0.08", push_at_least="500 N")
    assert ways._remedies(bare, target, rules) == [("seat", "grade")]
