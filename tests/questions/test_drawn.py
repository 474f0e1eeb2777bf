"""What there is to draw agrees with what was checked."""

from __future__ import annotations

import numpy as np
import pytest
from pages import PUMP, SAMPLER, drawn

from fits.files.part import read_part
from fits.questions.check import check
from fits.questions.drawn import with_drawings


@pytest.mark.parametrize("path", [PUMP, SAMPLER])
def test_curves_hold_the_ranges_of_the_states(path):
    """At a state's temperature, the curve (its pressure from 0 to the highest) reaches as far or further."""
    answer = drawn(path)
    compared = 0
    for feature in answer.features:
        for curve in feature.drawn.curves:
            values = next(one for one in feature.values if one.name == curve.name)
            low, high = (np.array([getattr(one, end) for one in curve.ranges]) for end in ("least", "greatest"))
            for state in answer.states:
                if state.proof or state.hub_temperature != state.shaft_temperature:
                    continue
                span = values.states[state.name]
                at = [np.interp(state.hub_temperature, curve.temperatures, one) for one in (low, high)]
                room = 0.02 * (high.max() - low.min())
                assert at[0] <= span.least + room
                assert at[1] >= span.greatest - room
                if state.pressure == curve.pressure:
                    assert at == pytest.approx([span.least, span.greatest], abs=room)
                    compared += 1
    assert compared >= len(answer.features)


def test_a_curve_is_one_evaluation_of_a_part_with_that_state():
    from dataclasses import replace

    from fits.features.feature import State

    part = read_part(PUMP)
    answer = drawn(PUMP)
    for index in (0, 12, 24):
        for feature in answer.features:
            (curve,) = feature.drawn.curves
            t = curve.temperatures[index]
            one = check(replace(part, states=(State("there", t, t, curve.pressure, curve.speed),)))
            (value,) = (v for f in one.features if f.name == feature.name for v in f.values if v.name == curve.name)
            assert curve.ranges[index] == pytest.approx(value.states["there"], rel=1e-12)


def test_bounds_are_the_limits_of_the_rules():
    answer = drawn(PUMP)
    plunger = answer.features[1]
    found = {one.rule: (one.sense, set(one.limits)) for one in plunger.drawn.curves[0].bounds}
    assert found == {
        "never binds": ("at least", {0.0}), "least clearance": ("at least", {0.008}), "most clearance": ("at most", {0.12}),
    }
    liner = answer.features[0]
    (lift,) = liner.drawn.curves[0].bounds
    assert set(lift.limits) == {8.0}


@pytest.mark.parametrize("path", [PUMP, SAMPLER])
def test_walls_are_in_balance(path):
    """Hoop stress through a wall carries the pressures on it: integral s dr = p_in r_in - p_out r_out.

    Statics of half a ring; the contact pressure follows from the hub, and must serve the inner part.
    """
    answer = drawn(path)
    inner, hub = answer.features[0].drawn.walls.parts

    def carried(wall):
        r, s = np.array(wall.radii), np.array(wall.hoop)
        # Simpson's rule on the nine points.
        h = r[1] - r[0]
        return h / 3.0 * (s[0] + s[-1] + 4.0 * s[1:-1:2].sum() + 2.0 * s[2:-1:2].sum())

    contact = carried(hub) / hub.radii[0]
    assert contact > 0.0
    # Simpson's own error on 1/r^2 over a wall three times as thick as its bore is 5e-4.
    assert carried(inner) == pytest.approx(-contact * inner.radii[-1], rel=1e-3)


def test_walls_start_and_end_at_the_values_of_the_report():
    answer = drawn(PUMP)
    liner = answer.features[0]
    _, hub = liner.drawn.walls.parts
    values = {one.name: one.states for one in liner.values}
    assert hub.hoop[0] == pytest.approx(values["hub_hoop_at_hole"][liner.drawn.walls.state].greatest, rel=1e-12)
    assert hub.hoop[0] == max(span.greatest for span in values["hub_hoop_at_hole"].values())


def test_a_solid_part_has_one_stress_throughout(tmp_path):
    path = tmp_path / "solid.toml"
    path.write_text('[press.pin]\nhole = "10 H7"\nshaft = "10 s6"\nhub_outside = "30"\nhub_material = "6061-T6"\nshaft_material = "316"\n')
    inner, hub = drawn(str(path)).features[0].drawn.walls.parts
    assert inner.radii[0] == 0.0
    assert len(set(inner.hoop)) == 1
    # Lamé: a solid part under outside pressure p has hoop -p; the hub's hoop at the hole is p (b2+c2)/(b2-c2).
    b, c = hub.radii[-1], hub.radii[0]
    assert hub.hoop[0] == pytest.approx(-inner.hoop[0] * (b * b + c * c) / (b * b - c * c), rel=1e-9)


def test_check_alone_draws_nothing():
    part = read_part(PUMP)
    answer = check(part)
    assert all(one.drawn is None for one in answer.features)
    assert with_drawings(part, answer).verdict == answer.verdict
