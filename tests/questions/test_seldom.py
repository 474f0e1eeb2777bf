"""What seldom happens: each way out of a question that ordinary parts don't take."""

from __future__ import annotations

import glands
import numpy as np
import pytest
from joints import metal, press_part

from fits.errors import InputError
from fits.features.feature import NotCovered, State
from fits.features.part import Part
from fits.features.running import Running
from fits.questions import ranges
from fits.questions.boxes import Boxes
from fits.questions.evaluate import evaluate
from fits.questions.judging import _by_column_lead, breaking, margins
from fits.questions.limits import limits
from fits.questions.measured import FAULTS, measured
from fits.questions.odds import SCRAMBLES, shares
from fits.questions.pair import Table, pair
from fits.questions.sweep import edge
from fits.questions.window import window
from fits.sizes.reading import Reading, at_20

STEEL = metal(210_000.0, 0.3)
GUIDE = Part("t", {"guide": Running(hole="20 H7", shaft="19.98/19.967", clearance_at_least="0.01", clearance_at_most="0.06")}, (State("shop"),))
WEAK = {
    "hole": "16 H6", "shaft": "16.060/16.050", "shaft_bore": "12 ±0.02", "hub_outside": "32 ±0.1", "length": "40", "hub_material": "6061-T6",
    "friction_hold": 0.1, "friction_press": 0.1, "roughness_hole": 0.0, "roughness_shaft": 0.0,
}


def reading(part: str, label: str, value: float, **more) -> Reading:
    return Reading(part, label, value, 0.0005, "gauge", more.pop("temperature", 20.0), **more)


# Gaps

def test_a_gap_of_one_column_is_of_the_last_and_one_of_all_columns_of_its_own():
    """Rows are leads; columns a, b and as made."""
    one = np.array([[[False], [True]], [[False], [False]]])
    assert _by_column_lead(one, 3).tolist() == [[False, False, True], [False, False, False]]
    every = np.array([[[True, False, False], [False, False, False]]])
    assert _by_column_lead(every, 3).tolist() == [[True, False, False]]
    assert _by_column_lead(np.array([True]), 3).tolist() == [False, False, True]
    assert _by_column_lead(np.array([False, True, False]), 3).tolist() == [False, True, False]


def test_a_corner_that_is_not_covered_breaks_a_rule_in_its_column_only():
    part = press_part((State("shop"), State("hot", 60.0, 60.0)), hole="20 H7", shaft="20 p6", hub_outside="40", hub_material=STEEL, shaft_material=STEEL)
    feature, evaluation = part.features["joint"], evaluate(part, "joint")
    rule = next(one for one in type(feature).rules if one.name == "interference is kept")
    columns = len(evaluation.states.names)
    corners = margins(feature, rule, evaluation).margin.shape[-2]
    assert columns == 3
    before = breaking(feature, rule, evaluation)
    mask = np.zeros((1, corners, columns), dtype=bool)
    mask[0, 2, 1] = True

    def after(gap: NotCovered) -> list:
        more = evaluation._replace(gaps=(*evaluation.gaps, gap))
        new = breaking(feature, rule, more) & ~before
        return [np.flatnonzero(new[0, :, column]).tolist() for column in range(columns)]

    assert after(NotCovered(rule.value, "not known", mask)) == [[], [2], []]
    assert after(NotCovered(rule.value, "not known as made", mask[..., 1:2])) == [[], [], [2]]


# Windows

def test_no_other_way_to_join_is_offered_for_a_pressure():
    """The press is too weak at any pressure, and other ways would not change that of the state."""
    part = press_part((State("working", 20.0, 20.0, 5.0),), hole="16 H6", shaft="16.060/16.050", hub_outside="32", hub_material="6061-T6",
                      shaft_material="1045 HR", ends="open", press_rating=10.0, assembly="pressed")
    found = window(part, "working.pressure")
    assert not found.intervals
    assert found.alternatives == ()
    assert window(part, "joint.shaft").alternatives != ()


def test_a_ring_is_no_number_to_widen_a_window_by():
    """So deep a groove squeezes nothing, whatever its width: a depth opens a window, a ring is chosen elsewhere."""
    found = window(glands.part("face", (State("shop"),), gland_depth="4.5"), "seal.groove_width")
    assert not found.intervals
    assert "ring" in next(one for one in found.rules if one.rule == "fresh squeeze, least").remedies
    assert [one.what.split()[0] for one in found.ways_out] == ["seal.gland_depth"]


def test_an_edge_whose_inside_does_not_hold_stays_where_it_is():
    assert edge(lambda at: np.full(at.shape, -1.0), 2.0, 3.0, 1e-4) == 2.0


# Ranges

def test_corners_near_the_ends_of_a_value_are_kept():
    """Of 10,000 corners those with the 8 least and greatest; a number that is alike at all corners tells nothing."""
    count = ranges.MOST_CORNERS + 1000
    order = np.random.default_rng(1).permutation(count).astype(float)
    part = press_part(hole="20", shaft="20.02", hub_outside="40", hub_material=STEEL, shaft_material=STEEL)
    evaluation = evaluate(part, "joint")
    columns = len(evaluation.states.names)
    one = order.reshape(1, count, 1) + np.zeros((1, 1, columns))
    evaluation = evaluation._replace(
        corners={"a": np.arange(count, dtype=float)[:, None]}, numbers={"moves": one, "still": np.ones((1, 1, columns))}
    )
    assert ranges._near_the_ends(["still"], evaluation) is None
    kept = ranges._near_the_ends(["still", "moves"], evaluation)
    assert kept is not None
    ends = np.sort(order[kept["a"][:, 0].astype(int)])
    near = ranges.NEAREST
    assert {*range(near), *range(count - near, count)} <= set(ends.astype(int).tolist())
    assert len(ends) <= 2 * near + 1


# Readings

def test_a_dimension_that_is_not_there_is_said_once():
    with pytest.raises(InputError) as raised:
        measured(GUIDE, [reading("a", "guide.hol", 20.0), reading("b", "guide.hol", 20.0)])
    assert len(raised.value.faults) == 1


def test_only_so_many_faults_of_a_table_are_said():
    with pytest.raises(InputError) as raised:
        measured(GUIDE, [reading(f"part {index}", "guide.hole", 30.0) for index in range(3 * FAULTS)])
    assert len(raised.value.faults) == FAULTS + 1


def test_a_part_at_20_degc_read_with_a_warm_gauge():
    """Steel at 30 degC reads short by 11.5e-6 * 10 of the size: the part itself needs no metal."""
    (found,) = measured(GUIDE, [reading("a", "guide.hole", 20.010, gauge_temperature=30.0, gauge_expansion=11.5e-6)])["a"].values()
    expected = 20.010 * (1.0 + 11.5e-6 * 10.0)
    assert (found.least + found.greatest) / 2.0 == pytest.approx(expected, abs=1e-9)
    assert at_20(20.010, part_expansion=0.0, part_temperature=20.0, gauge_expansion=11.5e-6, gauge_temperature=30.0) == pytest.approx(expected)


def test_a_gauge_at_20_degc_of_its_own_metal(fits):
    """With the gauge at 20 degC its metal says nothing: the part alone is warm."""
    def size(*more: str) -> float:
        found = fits("warm", "25.010", "--material", "6061-T6", "--part-temperature", "30 degC", "--gauge-temperature", "20 degC", *more, "--json").json
        (feature,) = found["features"].values()
        return feature["values"]["size"]["states"]["as_made"]["min"]

    assert size("--gauge-material", "316") == size()
    assert size() == pytest.approx(25.010 * (1.0 - 23.4e-6 * 10.0), abs=25.0 * 2e-6 * 10.0)


# Pairs

def test_one_dimension_can_not_be_read_of_both_kinds_of_part():
    part = press_part(hole="20 H7", shaft="20 p6", hub_outside="40 ±0.1", hub_material=STEEL, shaft_material=STEEL)
    table = [
        reading("h", "joint.hole", 20.01), reading("h", "joint.hub_outside", 40.0), reading("s", "joint.shaft", 20.03), reading("s", "joint.hub_outside", 40.0),
    ]
    with pytest.raises(InputError, match="read of a part with a hole and of one with a shaft"):
        pair(part, table)


def test_pairs_of_sizes_that_move_no_rule_have_no_room(monkeypatch):
    part = press_part(hole="20 H7", shaft="20 p6", hub_outside="40", hub_material=STEEL, shaft_material=STEEL)
    table = [reading("h", "joint.hole", 20.005), reading("s", "joint.shaft", 20.03)]
    (one,) = pair(part, table).pairs
    assert one.room is not None
    whole = Boxes.per_mm
    monkeypatch.setattr(Boxes, "per_mm", lambda self, *args: 0.0 * whole(self, *args))
    (still,) = pair(part, table).pairs
    assert still == one._replace(room=None, feature="", rule="", state="", margin=None, kind="number", digits=3)


def test_where_no_corner_sets_a_worst_every_corner_is_looked_at(monkeypatch):
    """Started with a corner that says nothing, and told of no other: the choice stays the best."""
    part = press_part(hole="20 H7", shaft="20 p6", hub_outside="40 ±0.1", shaft_bore="10 ±0.1", hub_material=STEEL, shaft_material=STEEL)
    table = [reading(f"h{i}", "joint.hole", 20.0 + 0.004 * i) for i in range(4)] + [reading(f"s{i}", "joint.shaft", 20.022 + 0.004 * i) for i in range(4)]
    whole = pair(part, table)
    assert len(whole.pairs) == 4
    assert len(next(iter(Table(part, ("joint", "joint.hole", "joint.shaft"), measured(part, table)).boxes.corners["joint"].values()))) > 1
    monkeypatch.setattr("fits.questions.boxes.Boxes.setting", lambda self, low, high: {name: {0} for name in self.corners})
    assert pair(part, table) == whole


# Limits

def test_a_class_on_an_inch_sheet_says_that_its_size_is_in_mm():
    note = "the basic size is in mm, as ISO 286 classes are"
    for text, units, said in (("25 H7", "in", True), ("25 H7", "mm", False), ("1.0000/0.9990", "in", False)):
        (feature,) = limits([text], units=units).features
        assert (note in feature.notes) == said


def test_shares_of_the_odds_stay_between_none_and_all():
    """Where all hold or none does, the exact interval of one proportion (Clopper and Pearson) is one-sided."""
    points = 1024
    total = points * SCRAMBLES
    none, every = shares(np.zeros(SCRAMBLES), points), shares(np.full(SCRAMBLES, points), points)
    assert (none.share, none.low, none.high) == (0.0, 0.0, pytest.approx(1.0 - 0.025 ** (1.0 / total)))
    assert (every.share, every.low, every.high) == (1.0, pytest.approx(0.025 ** (1.0 / total)), 1.0)
    # One scramble of sixteen far off: so wide a spread that it would reach beyond both ends.
    counts = np.array([points] + [0] * (SCRAMBLES - 1))
    wide = shares(counts, points)
    assert wide.low == 0.0
    assert wide.share == pytest.approx(1.0 / SCRAMBLES)
    assert shares(points - counts, points).high == 1.0


@pytest.mark.parametrize("given", [{"states": ()}, {"of_feature": {"guide": ()}}])
def test_a_part_without_a_state_is_refused(given):
    """What is judged nowhere would hold everywhere."""
    with pytest.raises(InputError, match="at least one state is due"):
        Part("test", dict(GUIDE.features), **given)
    assert Part("test", dict(GUIDE.features)).states == (State("shop"),)
