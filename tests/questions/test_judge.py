"""Measured parts: both verdicts against a check of the same sizes, cuts, mates, doubt."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from joints import metal, press_part

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Context, SurfaceRef, Undecided
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED
from fits.questions.check import check
from fits.questions.judge import EXPLAINED, judge
from fits.questions.judgement import ACCEPT, REJECT, REWORK, UNDECIDED, PartJudgement
from fits.questions.mates import wanted
from fits.questions.measured import measured, with_sizes
from fits.questions.window import window
from fits.sizes.limits import Limits
from fits.sizes.reading import Reading

STEEL, ALUMINIUM = metal(2.0e5, 0.29, expansion=11e-6, least=900.0), metal(7.0e4, 0.33, expansion=23e-6, least=240.0)
STATES = (State("shop"), State("hot", 80.0, 80.0, 5.0))
PRESS = dict(hole="20.021/20.000", shaft="20.060/20.047", shaft_bore="12 ±0.05", hub_outside="40 ±0.1", length="30",
             hub_material=ALUMINIUM, shaft_material=STEEL, ends="body", roughness_hole=2.0, roughness_shaft=2.0)


def press(states: tuple[State, ...] = STATES, **fields) -> Part:
    return press_part(states, **{**PRESS, **fields})


def running(**fields) -> Part:
    given = {"hole": "20.021/20.000", "shaft": "19.980/19.967", "clearance_at_least": 0.015, "clearance_at_most": 0.060, **fields}
    return Part("test", {"guide": Running(**given)}, (State("shop"),))


def read(label: str, value: float, doubt: float = 0.002, *, part: str = "a", **more) -> Reading:
    return Reading(part, label, value, doubt, "bore gauge", more.pop("temperature", 20.0), **more)


def one(part: Part, *readings: Reading) -> PartJudgement:
    (found,) = judge(part, readings).parts
    return found


def with_doubt(part: Part, readings: list[Reading]) -> Part:
    return with_sizes(part, {r.dimension: (r.value - r.uncertainty, r.value + r.uncertainty) for r in readings})


SIZES = st.fixed_dictionaries({"joint.hole": st.floats(19.98, 20.04), "joint.shaft": st.floats(20.02, 20.10)})


@settings(max_examples=40)
@given(SIZES, st.floats(1e-4, 0.01), st.sets(st.sampled_from(["joint.hole", "joint.shaft"]), min_size=1), st.booleans())
def test_function_passes_exactly_where_a_check_of_the_same_sizes_does(sizes, doubt, labels, known):
    part = press() if known else press(roughness_hole=None)
    readings = [read(label, sizes[label], doubt) for label in sorted(labels)]
    found = one(part, *readings)
    verdict = check(with_doubt(part, readings)).verdict
    if verdict == FAIL:
        assert found.function in (FAIL, UNDECIDED)
    else:
        assert found.function == verdict
    assert (found.verdict == ACCEPT) <= (verdict == PASS)


@settings(max_examples=25)
@given(SIZES, st.floats(1e-4, 0.02))
def test_sure_to_fail_or_undecided_against_true_sizes_in_the_doubt(sizes, doubt):
    part = press()
    readings = [read(label, value, doubt) for label, value in sizes.items()]
    found = one(part, *readings)
    verdicts = set()
    for shares in product(np.linspace(-1.0, 1.0, 5), repeat=2):
        true = {label: value + share * doubt for (label, value), share in zip(sizes.items(), shares)}
        verdicts.add(check(with_sizes(part, {key: (size, size) for key, size in true.items()})).verdict)
    if found.function == PASS:
        assert verdicts == {PASS}
    if found.function == FAIL:
        assert verdicts == {FAIL}
    if found.function == UNDECIDED:
        assert FAIL in verdicts


@settings(max_examples=25)
@given(SIZES, st.floats(1e-3, 0.02))
def test_the_better_instrument_decides_and_a_worse_one_does_not(sizes, doubt):
    part = press()
    found = one(part, *(read(label, value, doubt) for label, value in sizes.items()))
    if found.needs is None or min(found.needs.values()) < 1e-6:
        return
    share = found.needs["joint.hole"] / doubt
    better = one(part, *(read(label, value, 0.999 * share * doubt) for label, value in sizes.items()))
    worse = one(part, *(read(label, value, (1.01 * share + 1e-3) * doubt) for label, value in sizes.items()))
    assert better.function in (PASS, FAIL)
    assert worse.function == UNDECIDED


def test_the_uncertainty_that_would_decide_by_hand():
    # Clearance with the smallest shaft 19.967: 20.020 - 19.967 = 0.053 of at most 0.055; 0.002 is left.
    found = one(running(clearance_at_most=0.055), read("guide.hole", 20.020, 0.003))
    assert found.function == UNDECIDED
    assert found.needs == {"guide.hole": pytest.approx(0.002, abs=1e-6)}
    # 20.0235 is 0.0015 too large: less doubt than that proves that it fails.
    found = one(running(hole="20.052/20.000", clearance_at_most=0.055), read("guide.hole", 20.0235, 0.003))
    assert found.needs == {"guide.hole": pytest.approx(0.0015, abs=1e-6)}


@pytest.mark.parametrize(("part", "label", "size", "verdict", "drawing"), [
    (press(), "joint.hole", 20.010, ACCEPT, "inside"), (press(), "joint.hole", 20.020, UNDECIDED, "undecided"),
    (press(), "joint.hole", 19.990, REWORK, "outside"), (press(), "joint.hole", 20.030, REJECT, "outside"),
    (press(), "joint.shaft", 20.053, ACCEPT, "inside"), (press(), "joint.shaft", 20.070, REWORK, "outside"),
    (press(), "joint.shaft", 20.040, REJECT, "outside"), (press(), "joint.length", 30.0, ACCEPT, "no limits"),
    (running(), "guide.hole", 19.990, REWORK, "outside"), (running(), "guide.shaft", 19.960, REJECT, "outside"),
])
def test_hole_and_shaft_are_cut_from_opposite_sides(part: Part, label: str, size: float, verdict: str, drawing: str):
    found = one(part, read(label, size))
    assert (found.verdict, found.drawing) == (verdict, drawing)
    assert (found.sizes[0].cut is not None) == (verdict == REWORK)


@settings(max_examples=20)
@given(st.floats(19.96, 19.9979), st.floats(1e-4, 0.004), st.sampled_from([0.0, 0.5, 1.0]))
def test_what_is_cut_as_said_is_accepted_when_read_again(size: float, doubt: float, share: float):
    part = press()
    found = one(part, read("joint.hole", size, doubt))
    cut = found.sizes[0].cut
    assert cut is not None
    assert cut.low - size == pytest.approx(cut.least, abs=1e-12)
    assert cut.high - size == pytest.approx(cut.most, abs=1e-12)
    assert cut.least > 0.0 or found.verdict == UNDECIDED
    finished = cut.low + share * (cut.high - cut.low)
    assert one(part, read("joint.hole", finished, doubt)).verdict == ACCEPT


def test_a_cut_that_would_break_function_is_not_offered():
    # The drawing lets the hole grow to 20.060, but the interference asked for ends at about 20.017.
    part = press((State("shop"),), hole="20.060/20.000", interference_at_least=0.030, roughness_hole=0.0, roughness_shaft=0.0)
    found = one(part, read("joint.hole", 19.990))
    cut = found.sizes[0].cut
    assert found.verdict == REWORK
    assert cut is not None
    assert (cut.low, cut.high) == (pytest.approx(20.002), pytest.approx(20.047 - 0.030 - 0.002, abs=(20.058 - 20.002) / 32))
    assert cut.high <= 20.015 + 1e-9
    none = one(press((State("shop"),), interference_at_least=0.050, roughness_hole=0.0, roughness_shaft=0.0), read("joint.hole", 19.990))
    assert none.verdict == REJECT
    assert any("metal is left, but no size inside the drawing" in text for text in none.notes)


def test_outside_its_drawing_but_works_is_said_and_not_passed():
    found = one(running(), read("guide.hole", 20.0245))
    assert (found.verdict, found.drawing, found.function) == (REJECT, "outside", PASS)
    assert any("outside its drawing, but it works" in text for text in found.notes)


def test_inside_its_drawing_and_fails_is_not_accepted():
    found = one(running(clearance_at_most=0.035), read("guide.hole", 20.018))
    assert (found.drawing, found.function, found.verdict) == ("inside", FAIL, REJECT)
    assert any("the drawing doesn't hold" in text for text in found.notes)


def test_a_bad_instrument_cant_prove_a_narrow_tolerance():
    found = one(running(), read("guide.hole", 20.0105, 0.011))
    assert found.sizes[0].cant_prove
    assert found.verdict == UNDECIDED


def test_several_readings_charge_their_form_and_show_it():
    readings = [read("joint.hole", 20.006, station="top", direction="x"), read("joint.hole", 20.009, station="top", direction="y"),
                read("joint.hole", 20.011, station="end", direction="x")]
    found = one(press(), *readings)
    size = found.sizes[0].size
    assert (size.least, size.greatest) == (20.006, 20.011)
    assert (size.taper, size.ovality) == (pytest.approx(0.005), pytest.approx(0.003))
    alone = check(with_sizes(press(), {"joint.hole": (20.004, 20.013)}))
    tightest = found.tightest
    assert tightest is not None
    (same,) = [c for c in alone.features[0].checks if c.rule == tightest.rule]
    assert (same.margin, same.state) == (pytest.approx(tightest.margin), tightest.state)


@pytest.mark.parametrize(("label", "value", "cut"), [
    # Limits less form and doubt: 20.003 + 0.002 to 20.021 - 0.005; 19.980 - 0.006 down to 19.967 + 0.006.
    ("guide.hole", 19.990, (20.005, 20.016, 0.015, 0.026)), ("guide.hole", 20.001, (20.005, 20.016, 0.004, 0.015)),
    ("guide.shaft", 19.990, (19.973, 19.974, 0.016, 0.017)), ("guide.shaft", 19.978, (19.973, 19.974, 0.004, 0.005)),
])
def test_what_is_left_to_cut_counts_the_form_once(label: str, value: float, cut: tuple[float, ...]):
    part = running(form_hole=0.003, form_shaft=0.004, clearance_at_least=0.010, clearance_at_most=0.070)
    (size,) = one(part, read(label, value)).sizes
    assert size.cut is not None
    assert (size.cut.low, size.cut.high, size.cut.least, size.cut.most) == pytest.approx(cut, abs=1e-9)


def test_the_form_of_the_part_file_is_charged_at_both_ends_of_one_reading():
    found = one(press(form_hole=0.003), read("joint.hole", 20.010))
    size = found.sizes[0].size
    assert (size.least, size.greatest, size.charged) == (pytest.approx(20.007), pytest.approx(20.013), 0.003)
    assert found.sizes[0].guarded.room == pytest.approx(0.005)
    low = one(press(form_hole=0.003), read("joint.hole", 19.990)).sizes[0].cut
    assert low is not None
    assert low.low == pytest.approx(20.005)


def test_measured_mates_narrow_what_a_part_is_judged_with():
    """A bore too large for the drawing's smallest shaft works with the shaft it was read with."""
    part = press((State("shop"),), interference_at_least=0.030, roughness_hole=0.0, roughness_shaft=0.0)
    assert one(part, read("joint.hole", 20.020, 0.0005)).function == FAIL
    assert one(part, read("joint.hole", 20.020, 0.0005), read("joint.shaft", 20.058, 0.0005)).function == PASS


@pytest.mark.parametrize("size", [20.030, 20.060, 19.950])
def test_mates_against_the_window(size: float):
    part = with_sizes(press(), {"joint.hole": (size - 0.002, size + 0.002)})
    found = wanted(part, "joint.shaft", ["joint.hole"])
    spans = [(i.low.at, i.high.at) for i in window(part, "joint.shaft", ways_out=False).intervals]
    assert found
    assert np.allclose(found, spans, atol=2e-4)
    judged = one(press(), read("joint.hole", size))
    mates = {mate.dimension: list(mate.spans) for mate in judged.mates}
    assert mates == {} if judged.verdict == REWORK and judged.function != FAIL else mates == {"joint.shaft": found}


def test_a_missing_input_is_not_covered_with_its_break_even():
    found = one(press(roughness_hole=None), read("joint.hole", 20.010))
    assert (found.verdict, found.function) == (UNDECIDED, NOT_COVERED)
    assert any("roughness_hole not given" in check.why_not and check.break_even for _, check in found.checks)
    no_duty = one(Part("test", {"guide": Running(hole="20.021/20.000", shaft="19.980/19.967")}), read("guide.hole", 20.01))
    assert (no_duty.verdict, no_duty.function) == (UNDECIDED, NOT_COVERED)


def test_a_better_instrument_does_not_decide_what_is_not_covered():
    # 20.0105 less 19.980 is 0.0005 more than is asked: 0.0005 decides that rule. The other fit has no duty.
    duty, free = Running(hole="20.021/20.000", shaft="19.980/19.967", clearance_at_least=0.030), Running(hole="20.021/20.000", shaft="19.980/19.967")
    whole = one(Part("test", {"guide": duty}), read("guide.hole", 20.0105))
    assert (whole.function, whole.left_open) == (UNDECIDED, False)
    open_ = one(Part("test", {"guide": duty, "other": free}), read("guide.hole", 20.0105), read("other.hole", 20.010))
    assert (open_.function, open_.left_open) == (UNDECIDED, True)
    assert open_.needs is not None
    assert open_.needs["guide.hole"] == pytest.approx(0.0005, abs=2e-6)


def test_a_refused_feature_shows_no_verdict_on_function():
    judged = judge(press((State("gas", pressure=5.0, proof=True, medium="nitrogen"),)), [read("joint.hole", 20.010)])
    assert judged.verdict == REFUSED
    assert (judged.parts[0].verdict, judged.parts[0].tightest) == (REFUSED, None)


def test_what_was_not_read_is_said():
    plunger = Running(hole=SurfaceRef("joint", "shaft_bore"), shaft="11.9 -0.01/-0.02", clearance_at_least=0.001)
    other = Running(hole="8 H7", shaft="8 f7", clearance_at_least=0.001)
    part = Part("test", {**press().features, "plunger": plunger, "guide": other}, STATES)
    judged = judge(part, [read("joint.hole", 20.010)])
    assert any(text.startswith("guide: nothing of it was read") for text in judged.notes)
    assert not any(text.startswith("plunger: nothing") for text in judged.notes)
    with pytest.raises(InputError, match=r"hole stands on joint\.shaft_bore; give joint\.shaft_bore as it was read before assembly"):
        judge(part, [read("plunger.hole", 11.99)])


def test_a_shared_size_is_one_dimension():
    shared = Limits(20.0, 20.021, 20.0, "hole", "20 H7", name="bore")
    part = Part("test", {"a": Running(hole=shared, shaft="19.980/19.967", clearance_at_least=0.015),
                         "b": Running(hole=shared, shaft="19.970/19.957", clearance_at_least=0.015)})
    found = one(part, read("a.hole", 20.010))
    assert found.verdict == ACCEPT
    with pytest.raises(InputError, match=r"a\.hole is the same shared size"):
        judge(part, [read("a.hole", 20.010), read("b.hole", 20.010)])


@pytest.mark.parametrize(("label", "value", "says"), [
    ("jont.hole", 20.0, 'no such feature in this part; did you mean "joint"?'), ("joint.hol", 20.0, 'joint has no size hol; did you mean "hole"?'),
    ("joint.friction_hold", 20.0, "joint has no size friction_hold"), ("joint.thrust_diameter", 20.0, "the part file gives no thrust_diameter"),
    ("joint.hole", 20.0, "an uncertainty of more than a twentieth of the size; a slip of unit or digit?"),
    ("joint.hole", 0.787, "nowhere near its drawing, 20.000 mm to 20.021 mm; a slip of unit or digit?"), ("joint.hole", 508.0, "nowhere near its drawing"),
])
def test_readings_that_are_no_size_of_the_part(label: str, value: float, says: str):
    doubt = 2.0 if "twentieth" in says else 0.002
    with pytest.raises(InputError) as error:
        judge(press(), [read(label, value, doubt, place="m.csv:7")])
    assert says in str(error.value)
    assert str(error.value).startswith("m.csv:7: ")


def test_sizes_that_cant_be_of_one_part():
    part = press(shaft_bore="19.5 ±0.4")
    with pytest.raises(InputError, match="shaft_bore must stay below"):
        judge(part, [read("joint.shaft_bore", 20.2), read("joint.shaft", 20.05)])
    with pytest.raises(InputError, match="not decided yet"):
        judge(Part("test", {"joint": press().features["joint"].model_copy(update={"shaft": Undecided()})}), [read("joint.hole", 20.01)])


def test_warm_readings():
    part = press()
    with pytest.raises(InputError) as error:
        judge(part, [read("joint.hole", 20.020, temperature=40.0)])
    # 23e-6 x 20 K x 20 mm = 0.0092 mm; a steel gauge as warm takes 11.5e-6 of it back, 0.0046 mm. By hand.
    assert "it is 20.0108 mm if the gauge was at 20 degC, 20.0154 mm if a steel gauge was as warm" in str(error.value)
    cool = one(part, read("joint.hole", 20.020, temperature=40.0, gauge_temperature=20.0)).sizes[0].size
    assert (round(cool.least, 4), round(cool.correction, 4)) == (20.0108, -0.0092)
    with pytest.raises(InputError, match="the gauge was not at 20 degC: what does it grow by"):
        judge(part, [read("joint.hole", 20.020, temperature=40.0, gauge_temperature=40.0)])
    warm = one(part, read("joint.hole", 20.020, temperature=40.0, gauge_temperature=40.0, gauge_expansion=11.5e-6)).sizes[0].size
    assert round(warm.least, 4) == 20.0154
    with pytest.raises(InputError, match="its metal isn't known"):
        judge(running(), [read("guide.hole", 20.01, temperature=30.0, gauge_temperature=20.0)])


def test_every_kind_names_the_metals_its_sizes_are_cut_in():
    from fits.features.feature import declared
    from fits.features.fields import MetalField, Size
    from fits.features.kinds import KINDS, kind

    for name in KINDS:
        fields = declared(kind(name))
        for size, of in kind(name).made_of.items():
            assert isinstance(fields[size], Size)
            assert isinstance(fields[of], MetalField)


def test_twenty_degrees_in_any_unit_need_no_gauge():
    for at in (20.0, 293.15 - 273.15, 68.0 * 5.0 / 9.0 - 160.0 / 9.0):
        assert one(press(), read("joint.hole", 20.010, temperature=at)).sizes[0].size.correction == 0.0


def test_the_scatter_of_an_expansion_widens_the_doubt():
    scattered = replace(ALUMINIUM, expansion=(22e-6, 24e-6))
    size = one(press(hub_material=scattered), read("joint.hole", 20.020, temperature=40.0, gauge_temperature=20.0)).sizes[0].size
    assert size.uncertainty == pytest.approx(0.002 + 20.0 * 20.0 * 1e-6, rel=1e-3)


def test_a_table_of_many_parts_is_judged_as_each_alone():
    rng = np.random.default_rng(7)
    part = press()
    readings = [read("joint.hole", float(size), part=f"h{i}") for i, size in enumerate(rng.uniform(19.98, 20.04, 30))]
    readings += [read("joint.shaft", float(size), part=f"s{i}") for i, size in enumerate(rng.uniform(20.03, 20.08, 30))]
    together = judge(part, readings)
    assert [one.part for one in together.parts] == [r.part for r in readings]
    alone = [judge(part, [r]).parts[0] for r in readings]
    for many, single in zip(together.parts, alone):
        assert (many.verdict, many.drawing, many.function, many.tightest) == (single.verdict, single.drawing, single.function, single.tightest)
        cut, same = many.sizes[0].cut, single.sizes[0].cut
        assert (cut is None) == (same is None)
        if cut and same:
            assert np.allclose(cut, same, atol=1e-9)
    left = sum(one.verdict != ACCEPT for one in together.parts)
    assert left > EXPLAINED
    assert any(f"{left - EXPLAINED} more have none" in text for text in together.notes)


def test_parts_of_a_table():
    parts = measured(press(), [read("joint.hole", 20.01, part="b"), read("joint.shaft", 20.05, part="s"), read("joint.shaft_bore", 12.0, part="s")])
    assert {name: list(sizes) for name, sizes in parts.items()} == {"b": ["joint.hole"], "s": ["joint.shaft", "joint.shaft_bore"]}


def test_press_without_interference_asked_is_judged():
    found = one(Part("test", {"joint": Press(**{**PRESS, "friction_hold": 0.1, "friction_press": 0.2})}, STATES), read("joint.hole", 20.01))
    assert found.function == PASS


def test_no_mate_is_offered_that_is_not_covered_or_fails_elsewhere():
    rough = with_sizes(press(roughness_hole=None), {"joint.hole": (20.028, 20.032)})
    assert wanted(rough, "joint.shaft", ["joint.hole"]) == []
    # The liner itself fails with any body of the drawing: no plunger makes that right.
    plunger = Running(hole=SurfaceRef("joint", "shaft_bore"), shaft="11.9 ±0.01", shaft_material=STEEL, clearance_at_least=0.001)
    part = Part("test", {**press(interference_at_least=0.020).features, "plunger": plunger}, (State("shop"),))
    good, bad = (with_sizes(part, {"joint.shaft": (size, size), "joint.shaft_bore": (12.0, 12.0)}) for size in (20.055, 20.030))
    assert wanted(good, "plunger.shaft", ["joint.shaft", "joint.shaft_bore"])
    assert wanted(bad, "plunger.shaft", ["joint.shaft", "joint.shaft_bore"]) == []


@pytest.fixture
def blind(monkeypatch):
    """The search starts with one corner only; what it finds must be proved at all the same."""
    from fits.questions.boxes import Boxes

    seen: set[int] = set()
    whole = Boxes.setting

    def setting(self, low, high):
        if id(self) in seen:
            return whole(self, low, high)
        seen.add(id(self))
        return {name: {0} for name in self.features}

    monkeypatch.setattr(Boxes, "setting", setting)


def test_mates_searched_with_one_corner_end_where_the_window_does(blind):
    part = with_sizes(press(), {"joint.hole": (20.028, 20.032)})
    (span,) = wanted(part, "joint.shaft", ["joint.hole"])
    (interval,) = window(part, "joint.shaft", ways_out=False).intervals
    assert span == (pytest.approx(interval.low.at, abs=2e-4), pytest.approx(interval.high.at, abs=2e-4))


@pytest.mark.parametrize("size", [19.990, 19.980])
def test_cuts_searched_with_one_corner_are_proved_at_all(blind, size: float):
    part = press((State("shop"),), hole="20.060/20.000", shaft="20.060/20.040", interference_at_least=0.030, roughness_hole=0.0, roughness_shaft=0.0)
    cut = one(part, read("joint.hole", size)).sizes[0].cut
    assert cut is not None
    # The smallest shaft less 0.030 and the doubt: 20.008. By hand; the search has 32 steps.
    assert 20.008 - (20.058 - 20.002) / 32 <= cut.high <= 20.008 + 1e-9


def test_of_several_instruments_the_worst_counts():
    readings = [read("joint.hole", 20.006, 0.001, station="top"), read("joint.hole", 20.007, 0.003, station="end")]
    assert one(press(), *readings).sizes[0].size.uncertainty == 0.003


def test_a_warm_part_is_brought_to_20_degc_by_both_ends_of_its_expansion():
    """100.1 mm at 70 degC, 10e-6 to 12e-6 1/K, steel gauge at 20 degC: 100.1/(1 + 50 a), 100.0400 to 100.0500 mm."""
    from fits.features.typed_metal import typed_metal
    from fits.questions.warm import warm_reading

    bar = typed_metal("bar", {"youngs_modulus": "200 GPa", "poisson": 0.3, "yield_strength": "300 MPa", "expansion": "10e-6 to 12e-6 1/K"}, Context())
    (feature,) = warm_reading(100.1, bar, 70.0, gauge_temperature=20.0).features
    (span,) = next(one for one in feature.values if one.name == "size").states.values()
    assert span.least == pytest.approx(100.1 / (1.0 + 50.0 * 12e-6), abs=1e-6)
    assert span.greatest == pytest.approx(100.1 / (1.0 + 50.0 * 10e-6), abs=1e-6)
