"""What a missing input would have to be: over all states, of several intervals, rounded; worst of several states."""

from __future__ import annotations

import numpy as np
import pytest
from plain import GIVEN, plain

from fits.features.feature import Rule, State
from fits.questions.answer import NOT_COVERED, CheckAnswer
from fits.questions.check import check
from fits.questions.evaluate import evaluate
from fits.questions.judging import _rounded_to_hold, margins
from fits.questions.sweep import Interval

SHOP, COOL = State("shop"), State("cool", 10.0, 10.0)


def ask(part, name: str) -> CheckAnswer:
    return next(one for feature in check(part).features for one in feature.checks if one.rule == name)


def test_it_must_hold_in_every_state():
    """10 K take 0.010 of a gap of 0.050: 4 N a grade of 12.5 N."""
    for states in ((SHOP, COOL), (COOL, SHOP), (SHOP, COOL, State("warm", 30.0, 30.0))):
        one = ask(plain(*states, grade=None, push_at_least="12.5 N"), "pushes")
        assert (one.verdict, one.break_even) == (NOT_COVERED, "holds if grade is at least 3.13")


@pytest.mark.parametrize(("found", "says"), [
    ([(0.5, 3.0, True, False), (10.0, 50.0, False, True)], "holds if grade is at most 3.00"), ([(2.0, 3.0, False, False), (10.0, 50.0, False, True)], "holds if grade is at most 3.00"),
    ([(2.0, 50.0, False, True)], "holds if grade is at least 2.00"), ([(0.5, 50.0, True, True)], "holds for any grade"), ([], "no grade would make it hold"),
])
def test_the_first_interval_is_said(monkeypatch, found: list[tuple], says: str):
    monkeypatch.setattr("fits.questions.sweep.intervals", lambda margin, points, tolerance: [Interval(*one) for one in found])
    assert ask(plain(SHOP, grade=None, push_at_least="12.5 N"), "pushes").break_even == says


def test_over_which_numbers_it_is_sought(monkeypatch):
    """0.5 to 50, a hundred times as much: 129 points of equal ratios, to 1e-9 of the range."""
    seen: list[tuple[np.ndarray, float]] = []
    monkeypatch.setattr("fits.questions.sweep.intervals", lambda margin, points, tolerance: seen.append((points, tolerance)) or [])
    ask(plain(SHOP, grade=None, push_at_least="12.5 N"), "pushes")
    ((points, tolerance),) = seen
    assert (len(points), points[0], points[-1], tolerance) == (129, pytest.approx(0.5), pytest.approx(50.0), pytest.approx(49.5e-9))
    assert points[1:] / points[:-1] == pytest.approx(100.0 ** (1.0 / 128.0))


def test_of_states_that_are_not_covered_the_first_is_named():
    ovens = [State(name, at, at) for name, at in (("oven", 600.0), ("kiln", 700.0))]
    for states in ((SHOP, *ovens), (*ovens[::-1], SHOP)):
        one = ask(plain(*states, gap_at_most="0.2"), "most gap")
        assert (one.verdict, one.state) == (NOT_COVERED, next(state.name for state in states if state != SHOP))


def test_a_limit_along_a_lead_has_the_shape_of_its_margin():
    part = plain(SHOP, COOL)
    rule = Rule("beside", "gap", "at most", "fresh", "", "", GIVEN)
    found = margins(part.features["seat"], rule, evaluate(part, "seat", given={"seat.hole": np.array([20.0, 20.1]).reshape(-1, 1, 1)}))
    assert found.limit.shape == found.margin.shape == (2, found.margin.shape[1], 3)
    assert found.margin[..., 1] == pytest.approx(0.01)


@pytest.mark.parametrize(("value", "kind", "units", "up", "says"), [
    # Four decimals of a mm are five of an inch; one of MPa is none below ten psi; degrees keep one.
    (123.456789, "length", "in", True, "4.86051 in"), (0.0123, "pressure", "mm", False, "0.0123 MPa"), (1234.56, "pressure", "in", False, "179057 psi"),
    (37.77, "temperature", "mm", True, "37.8 degC"), (1.0, "number", "mm", True, "1.00"), (0.1, "number", "mm", True, "0.100"), (99.99, "number", "mm", False, "99.9"),
    (999.94, "force", "mm", False, "999.9 N"), (-0.004567, "number", "mm", True, "-0.00456"),
])
def test_how_many_digits_are_said(value: float, kind: str, units: str, up: bool, says: str):
    assert _rounded_to_hold(value, kind, units, up=up) == says
