"""Worst case: no sample may beat the corners; verdicts; surfaces."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.feature import State, States
from fits.features.fields import SurfaceRef, Undecided
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.answer import worst
from fits.questions.check import check
from fits.questions.evaluate import evaluate, relevant
from fits.questions.ranges import ranges_of, spread_out

STATES = (State("shop"), State("cold", -20.0, -20.0), State("hot", 70.0, 60.0, 8.0, 100.0), State("proof", 20.0, 20.0, 12.0))


@st.composite
def presses(draw):
    hole = draw(st.floats(8.0, 60.0))
    fit = draw(st.floats(1e-4, 3e-3)) * hole
    bore = draw(st.floats(0.3, 0.93)) * hole
    outside = draw(st.floats(1.15, 4.0)) * hole
    tight = draw(st.floats(1e-5, 3e-4)) * hole
    return Press(
        hole=f"{hole + tight:.4f}/{hole:.4f}", shaft=f"{hole + fit + tight:.4f}/{hole + fit:.4f}",
        shaft_bore=f"{bore:.3f} ±{0.002 * bore:.4f}", hub_outside=f"{outside:.2f} ±0.05", length="30 ±0.2",
        hub_material=draw(st.sampled_from(["6061-T6", "304", "1045 HR", "C93200"])),
        shaft_material=draw(st.sampled_from(["316", "304", "303"])),
        roughness_hole="2 um", roughness_shaft="2 um", friction_hold="0.08 to 0.12", friction_press="0.15 to 0.2",
        ends=draw(st.sampled_from(["open", "liner", "body", "stuck", None])),
    )


def sampled(part: Part, name: str, count: int, seed: int):
    """The feature at random points of its box, every dimension on its own."""
    random = np.random.default_rng(seed)
    given_ = {}
    for key, dimension in relevant(part, name).items():
        if len(dimension.levels) > 1:
            if dimension.name == "ends":
                given_[key] = random.choice(dimension.levels, size=(count, 1, 1))
            else:
                given_[key] = random.uniform(min(dimension.levels), max(dimension.levels), size=(count, 1, 1))
    return evaluate(part, name, given=given_)


@settings(max_examples=40)
@given(presses(), st.integers(0, 2**31))
def test_no_sample_beats_the_corners_of_a_press(press: Press, seed: int):
    part = Part("test", {"joint": press}, STATES)
    corners = evaluate(part, "joint")
    found = ranges_of(part, "joint", corners)
    samples = sampled(part, "joint", 400, seed)
    names = corners.states.names
    for value in type(press).values:
        if value.name not in found or value.name.endswith("_share"):
            continue
        wide = spread_out(samples.numbers[value.name], samples.states).reshape(-1, len(names))
        for state, span in found[value.name].items():
            column = names.index(state) if state in names[:-1] else len(names) - 1
            inside = wide[:, column][np.isfinite(wide[:, column])]
            slack = 1e-9 * max(abs(span.least or 0.0), abs(span.greatest or 0.0), 1e-6)
            # The least von Mises stress and closure lie inside the box; they are searched along
            # one dimension only and promised to 1 % of the range. No rule uses that end.
            below = slack + (1e-2 * abs((span.greatest or 0.0) - (span.least or 0.0)) if value.inside else 0.0)
            if inside.size and span.least is not None:
                assert inside.min() >= span.least - below, (value.name, state)
            if inside.size and span.greatest is not None:
                assert inside.max() <= span.greatest + slack, (value.name, state)


@settings(max_examples=20)
@given(presses(), st.integers(0, 2**31))
def test_no_sample_breaks_a_rule_that_passed(press: Press, seed: int):
    part = Part("test", {"joint": press}, STATES)
    answer = check(part)
    samples = sampled(part, "joint", 300, seed)
    from fits.questions.judging import margins

    for one in answer.features[0].checks:
        if one.verdict == "pass":
            rule = next(rule for rule in type(press).rules if rule.name == one.rule)
            of = margins(press, rule, samples)
            assert (of.margin[..., of.columns] >= -1e-9).all(), one.rule


def plunger(**changes) -> Part:
    liner = Press(hole="16 H6", shaft="16.060/16.050", shaft_bore="12 ±0.02", hub_outside="32 ±0.1", length="40",
                  hub_material="6061-T6", shaft_material="316L", roughness_hole="2 um", roughness_shaft="2 um", ends="body")
    return Part("pump", {"liner": liner, "plunger": Running(
        hole=SurfaceRef("liner", "shaft_bore"), shaft="11.93 -0.005/-0.015", shaft_material="316L",
        clearance_at_least=0.005, **changes)}, STATES)


def test_a_plunger_runs_in_the_bore_as_it_is_after_pressing():
    part = plunger()
    bore = evaluate(part, "liner").numbers["bore_in_state"]
    got = evaluate(part, "plunger").numbers["clearance"]
    cold = 11.925 * (1.0 + part.features["plunger"].shaft_material.strain_at(np.array([-20.0]))[0])
    assert got[:, 1].min() == pytest.approx(bore[:, 1].min() - cold, abs=1e-12)
    # the liner closes: less clearance than from the drawing's bore
    assert got[:, 0].min() < 11.98 - 11.925


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 2**31))
def test_no_sample_beats_the_corners_of_a_surface(seed: int):
    part = plunger()
    corners = evaluate(part, "plunger").numbers["clearance"]
    samples = sampled(part, "plunger", 2000, seed).numbers["clearance"].reshape(-1, len(STATES) + 1)
    assert (samples.min(axis=0) >= corners.min(axis=0) - 1e-9).all()
    assert (samples.max(axis=0) <= corners.max(axis=0) + 1e-9).all()


def test_the_pressure_of_a_state_is_one_for_the_whole_part():
    keys = set(relevant(plunger(), "plunger"))
    assert "part.pressure" in keys
    assert not any(key.endswith("pressure_share") for key in keys)


def test_a_reason_below_reaches_what_stands_on_it():
    part = plunger()
    hot = Part("pump", part.features, (State("oven", 350.0, 350.0),))
    found = check(hot).features[1].checks[0]
    assert found.verdict == "not covered"
    assert "liner: 6061-T6" in found.why_not or "liner" in found.why_not


def test_undecided_fields_are_refused():
    part = Part("test", {"guide": Running(hole="12 H7", shaft="?")})
    assert isinstance(part.features["guide"].shaft, Undecided)
    with pytest.raises(InputError, match=r'running.guide.shaft: "\?": not decided yet'):
        check(part)


def test_verdicts_worst_first():
    assert worst(["pass", "not covered", "fail"]) == "fail"
    assert worst(["fail", "refused"]) == "refused"
    assert worst([]) == "pass"


def test_a_value_on_its_limit_passes():
    found = check(Part("test", {"guide": Running(hole="12.1/12.0", shaft="11.9/11.8", clearance_at_least=0.1)}))
    assert found.verdict == "pass"
    assert found.features[0].checks[1].margin == pytest.approx(0.0, abs=1e-12)


def test_states_as_columns():
    states = States.of(STATES)
    assert states.names[-1] == "as_made"
    assert states.columns(("as_made",)).tolist() == [False] * 4 + [True]
    assert states.columns(("every state", "as_made")).all()


def test_workings_can_be_checked_by_hand():
    assert not check(plunger()).features[0].workings
    answer = check(plunger(), workings=True)
    line = next(text for text in answer.features[0].workings if text.startswith("interference"))
    assert "hole 16.00000 mm, shaft 16.06000 mm -> 0.06000 mm" in line
    assert any("contact pressure" in text and "hub_modulus" in text for text in answer.features[0].workings)


def test_a_nan_without_a_reason_is_a_fault_of_ours():
    class Broken(Running):
        def compute(self, d, s, wanted=None):
            out = super().compute(d, s, wanted)
            return out._replace(numbers={**out.numbers, "clearance": out.numbers["clearance"] * np.nan})

    with pytest.raises(RuntimeError, match="NaN without a reason"):
        check(Part("test", {"guide": Broken(hole="12 H7", shaft="12 f7")}))


def test_a_rule_that_is_not_covered_shows_its_hardest_limit(fits):
    """Without friction nothing is held that could be the worst; the demand still stands there."""
    ran = fits("press", "--hole", "16 H6", "--shaft", "16.060/16.050", "--shaft-bore", "12 ±0.05", "--hub-outside", "32",
               "--length", "40", "--hub-material", "6061-T6", "--shaft-material", "316L", "--state", "hot: 70 degC, 8 MPa", "--json")
    (rule,) = (one for one in ran.json["features"]["press"]["checks"] if one["rule"] == "holds its load")
    assert rule["verdict"] == "not covered"
    # 1.5 x 8 MPa on the 16.011 mm of the hole.
    assert rule["limit"] == pytest.approx(1.5 * 8.0 * np.pi / 4.0 * 16.011**2, rel=1e-6)


def test_a_break_even_value_too_small_for_its_decimals_is_no_crash():
    from fits.questions.judging import _rounded_to_hold

    tiny = _rounded_to_hold(2.2250738585072014e-308, "pressure", "mm", up=True)
    assert tiny.startswith("0.0")
    assert tiny.endswith(" MPa")
