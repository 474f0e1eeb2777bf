"""Intervals along one number."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.questions.sweep import edge, grid, holding, intervals


@given(st.floats(-0.9, 0.9), st.floats(0.01, 0.5))
def test_edges_are_found_from_the_side_that_holds(centre: float, half: float):
    found = intervals(lambda x: half - np.abs(x - centre), np.linspace(-2.0, 2.0, 801), tolerance=1e-7)
    assert len(found) == 1
    assert centre - half <= found[0].low + 1e-9
    assert found[0].low == pytest.approx(centre - half, abs=2e-7)
    assert found[0].high == pytest.approx(centre + half, abs=2e-7)


def test_several_intervals_and_open_ends():
    found = intervals(np.sin, np.linspace(0.1, 12.0, 200), tolerance=1e-6)
    assert len(found) == 2
    assert found[0].low_open
    assert not found[0].high_open
    assert found[0].high == pytest.approx(np.pi, abs=1e-5)


def test_nothing_holds():
    assert intervals(lambda x: -np.ones_like(x), np.linspace(0, 1, 5), tolerance=1e-6) == []
    assert intervals(lambda x: np.full_like(x, np.nan), np.linspace(0, 1, 5), tolerance=1e-6) == []


def test_a_value_on_the_limit_holds_and_nan_never_does():
    assert holding(np.array([0.0, -1e-12, -1e-6, np.nan, np.inf])).tolist() == [True, True, False, False, False]


def test_grids():
    assert np.allclose(grid(0.0, 1.0, 3), [0.0, 0.5, 1.0])
    assert np.allclose(grid(1.0, 100.0, 3), [1.0, 10.0, 100.0])


def test_an_edge_against_a_wall_of_rounding():
    assert edge(lambda x: 1.0 - x, 0.0, 2.0, 0.0) == pytest.approx(1.0, abs=1e-9)
