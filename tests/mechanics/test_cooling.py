"""Lumped cooling against plain integration in small steps."""

from __future__ import annotations

import numpy as np
import pytest

from fits.mechanics import cooling


def test_last_open_is_where_the_gap_closes():
    def gap(time: np.ndarray) -> np.ndarray:
        return 0.05 * np.exp(-time / 12.0) - 0.02

    found = cooling.last_open(gap, np.array([200.0]))
    assert found == pytest.approx(12.0 * np.log(2.5), rel=1e-9)
    assert cooling.last_open(lambda t: -1.0 + 0.0 * t, np.array([200.0])) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("start", "per_kelvin", "interference"), [(300.0, 2.0e-4, 0.02), (120.0, 3.0e-4, 0.03)])
def test_closes_inside_against_small_steps(start: float, per_kelvin: float, interference: float):
    heat, face, air = 900.0, 0.05, 0.03

    def gap(x: float) -> float:
        return per_kelvin * x - interference

    # Explicit steps of the heat balance, its own way: no logarithm, no root.
    x, time = start, 0.0
    while gap(x) > 1e-7:
        film = air / (gap(x) * 1e-3 / 2.0)
        step = 1e-3 * min(1.0, gap(x) / 1e-3)
        x -= film * face * x / heat * step
        time += step
    seconds, at = cooling.closes_inside(gap, np.array([start]), np.array([heat]), np.array([face]), air)
    assert seconds == pytest.approx(time, rel=0.01)
    assert at == pytest.approx(interference / per_kelvin, rel=1e-6)


def test_a_fit_that_stays_open_never_grips():
    seconds, at = cooling.closes_inside(
        lambda x: 1e-4 * x + 0.01, np.array([100.0]), np.array([900.0]), np.array([0.05]), 0.03)
    assert np.isnan(seconds).all()
    assert np.isnan(at).all()


def test_a_temperature_beyond_the_fluid_is_never_reached():
    assert np.isnan(cooling.time_to(np.array(80.0), np.array(10.0), np.array(20.0), np.array(5.0)))
