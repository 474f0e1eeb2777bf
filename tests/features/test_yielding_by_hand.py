"""A ring that yields by the equations of Lundberg and Kollmann (Tresca, no hardening), solved by halving.

Hub: p = k [ln z + (1 - (z c/b)^2)/2], interference = k c z^2/E + p (I - c (1 - nu)/E), z the plastic
radius over c. Liner: p = Y [1 - (a/2)(1/r + r/c^2)], closing = (Y c/E)[(1 - nu)(1 - a/(2 r)) +
(1 + nu) a r/(2 c^2)] (both from memory, as the program's; checked there by integration).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import log, pi, sqrt
from typing import Any

import numpy as np
import pytest
from joints import metal, press_part

from fits.features.feature import State
from fits.questions.evaluate import Evaluation, evaluate

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=105.0, name="hub")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=900.0, name="inner")
COLD, HOT = State("cold", -30.0, -30.0), State("hot", 190.0, 190.0)
ALPHA = -11e-6
GIVEN: dict[str, Any] = {"hole": 30.0, "hub_outside": 53.0, "length": 37.0, "hub_material": HUB, "shaft_material": INNER,
                         "friction_hold": 0.13, "friction_press": 0.13, "roughness_hole": 2.0, "roughness_shaft": 3.0, "ends": "open"}  # fmt: skip
ROUGH = 0.8 * 5.0 / 1000.0
C, B, A = 15.0, 26.5, 12.0


def halved(of: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function is 0."""
    for _ in range(200):
        middle = (low + high) / 2.0
        low, high = (low, middle) if of(middle) > 0.0 else (middle, high)
    return low


def evaluated(states: tuple[State, ...] = (COLD, HOT), values: list[str] | None = None, **changes: Any) -> Evaluation:
    one = np.array([[[1.0]]])
    given = {"part.pressure": one, "part.speed": one, "joint.roughness_share": one, "joint.friction_share": one}
    return evaluate(press_part(states, **{**GIVEN, **changes}), "joint", given=given, values=values)


def at(found: Evaluation, name: str, column: int = 0) -> float:
    wide = np.ravel(found.numbers[name])
    return float(wide[column if len(wide) > 1 else 0])


def flexible(a: float) -> tuple[float, float]:
    """Growth of the hub's bore and closing of the inner part, radial per MPa."""
    return C / 71000.0 * ((B**2 + C**2) / (B**2 - C**2) + 0.33), C / 197000.0 * ((C**2 + a**2) / (C**2 - a**2) - 0.29)


def fits(column: int, shaft: float) -> float:
    """Interference that acts at -30, 190 (where nothing is left) and 20 degC, before roughness."""
    return shaft - 30.0 + 30.0 * ALPHA * (-50.0, 170.0, 0.0)[column]


@pytest.mark.parametrize("safety", [1.0, 1.4])
def test_a_hub_that_yields_on_a_bar(safety: float):
    """The worst state is the cold one: what is lost there is missing everywhere."""
    shaft = 30.06
    found = evaluated(shaft=shaft, safety_yield=safety)
    of_hub, of_inner = flexible(0.0)
    radial = fits(0, shaft) / 2.0

    def pressure(z: float) -> float:
        return 105.0 * (log(z) + (1.0 - (z * C / B) ** 2) / 2.0)

    z = halved(lambda z: 105.0 * C * z**2 / 71000.0 + pressure(z) * (of_inner - C * 0.67 / 71000.0) - radial, 1.0, B / C)
    assert 1.02 < z < 0.95 * B / C
    loss = 2.0 * (radial - pressure(z) * (of_hub + of_inner))
    assert loss > 0.0
    assert at(found, "permanent_loss") == pytest.approx(loss, rel=1e-6)
    # The least yield itself counts: a factor on it is for the rules.
    assert at(found, "plastic_depth") == pytest.approx(C * (z - 1.0), rel=1e-6)
    assert at(found, "plastic_share") == pytest.approx((z**2 - 1.0) * C**2 / (B**2 - C**2), rel=1e-6)
    for column in range(3):
        left = max(fits(column, shaft) - ROUGH - loss, 0.0)
        assert (left == 0.0) is (column == 1)
        grip = left / 2.0 / (of_hub + of_inner)
        assert at(found, "grip_after_yield", column) == pytest.approx(grip, rel=1e-6)
        assert at(found, "capacity_after_yield", column) == pytest.approx(0.13 * grip * pi * 30.0 * 37.0, rel=1e-6)


SOFT = {"hub_material": replace(HUB, yield_minimum=700.0), "shaft_material": replace(INNER, yield_minimum=200.0), "shaft_bore": 2.0 * A}


def test_a_liner_that_yields_in_its_hub():
    shaft = 30.047
    found = evaluated(shaft=shaft, **SOFT)
    of_hub, of_inner = flexible(A)
    radial = fits(0, shaft) / 2.0

    def pressure(r: float) -> float:
        return 200.0 * (1.0 - A / 2.0 * (1.0 / r + r / C**2))

    def closing(r: float) -> float:
        return 200.0 * C / 197000.0 * (0.71 * (1.0 - A / (2.0 * r)) + 1.29 * A * r / (2.0 * C**2))

    r = halved(lambda r: closing(r) + of_hub * pressure(r) - radial, A, C)
    assert A * 1.01 < r < C * 0.99
    loss = 2.0 * (radial - pressure(r) * (of_hub + of_inner))
    assert at(found, "permanent_loss") == pytest.approx(loss, rel=1e-6)
    assert at(found, "plastic_depth") == pytest.approx(r - A, rel=1e-6)
    assert at(found, "plastic_share") == pytest.approx((r**2 - A**2) / (C**2 - A**2), rel=1e-6)
    assert at(found, "grip_after_yield", 2) == pytest.approx(max(fits(2, shaft) - ROUGH - loss, 0.0) / 2.0 / (of_hub + of_inner), rel=1e-6)


def test_a_liner_that_yields_through_grips_as_it_can():
    """Y (1 - a/c) and no more, however tight: all of its wall is plastic."""
    found = evaluated(shaft=30.12, **SOFT)
    of_hub, of_inner = flexible(A)
    assert at(found, "plastic_share") == pytest.approx(1.0)
    assert at(found, "plastic_depth") == pytest.approx(C - A)
    assert at(found, "permanent_loss") == pytest.approx(fits(0, 30.12) - 2.0 * 200.0 * (1.0 - A / C) * (of_hub + of_inner), rel=1e-9)


def test_nothing_is_lost_just_below_the_yield():
    """Solid: the hub yields (von Mises) at p sqrt(1 + s + s^2) = 105; the liner (Tresca) at Y (1 - a^2/c^2)/2."""
    of_hub, of_inner = flexible(0.0)
    s = (B**2 + C**2) / (B**2 - C**2)
    edge = 2.0 * 105.0 / sqrt(1.0 + s + s * s) * (of_hub + of_inner)
    for share, yields in ((0.999, False), (1.001, True)):
        found = evaluated((State("rest"),), shaft=30.0 + share * edge, roughness_hole=0.0, roughness_shaft=0.0)
        assert ("permanent_loss" in found.numbers) is yields
    of_hub, of_inner = flexible(A)
    edge = 200.0 * (1.0 - A**2 / C**2) * (of_hub + of_inner)
    for share, yields in ((0.999, False), (1.001, True)):
        found = evaluated((State("rest"),), shaft=30.0 + share * edge, **SOFT, roughness_hole=0.0, roughness_shaft=0.0)
        assert ("permanent_loss" in found.numbers) is yields
        if yields:
            assert at(found, "plastic_depth") > 0.0


REASONS = {
    "through": "both parts yield, a solid one, or a hub all through: what is left is not covered",
    "other": "yielding under pressure, load or speed: what is left is not covered",
    "bore": "a part yields: how its bore moves is not covered",
    "outside": "a part yields: how its outside moves is not covered",
}


def said(found: Evaluation) -> set[str]:
    names = {reason: name for name, reason in REASONS.items()}
    masks = {names[one.reason]: one.mask for one in found.gaps if one.reason in names}
    # Yielding in one state marks them all.
    assert all(mask.all() for mask in masks.values())
    return set(masks)


@pytest.mark.parametrize(("changes", "want"), [
    ({"shaft": 30.01}, set()), ({"shaft": 30.06}, {"bore", "outside"}),
    # Both parts, a bar that yields, a hub yielded all through.
    ({"shaft": 30.09, "shaft_bore": 24.0, "hub_material": replace(HUB, yield_minimum=55.0), "shaft_material": replace(INNER, yield_minimum=120.0)}, {"bore", "outside", "through"}),
    ({"shaft": 30.06, "hub_material": replace(HUB, yield_minimum=900.0), "shaft_material": replace(INNER, yield_minimum=40.0)}, {"bore", "outside", "through"}),
    ({"shaft": 30.5}, {"bore", "outside", "through"}),
    # By a load alone, or with bore pressure.
    ({"shaft": 30.005, "torque": 1800000.0, "hub_material": replace(HUB, yield_minimum=60.0)}, {"bore", "outside", "other"}),
    # A brittle part doesn't yield: it is judged by its ultimate strength.
    ({"shaft": 30.06, "hub_material": replace(HUB, brittle=True, yield_minimum=None)}, set()),
], ids=range(7))  # fmt: skip
def test_what_of_yielding_is_not_covered(changes: dict[str, Any], want: set[str]):
    assert said(evaluated((State("rest"),), **changes)) == want


def test_yielding_is_not_solved_where_nobody_asks():
    found = evaluated(shaft=30.06, values=["contact_pressure"])
    assert "permanent_loss" not in found.numbers
    assert said(found) == {"bore", "outside"}


def test_a_state_whose_strain_is_unknown_loses_nothing_by_itself():
    """Beyond its expansion a state has no numbers; what the others lose is known all the same."""
    short = replace(HUB, typed=frozenset({"youngs_modulus", "poisson", "yield_strength"}), expansion_range=(-40.0, 90.0))
    known = at(evaluated((COLD, HOT), shaft=30.06, hub_material=short), "permanent_loss")
    further = evaluated((COLD, State("far", 200.0, 200.0)), shaft=30.06, hub_material=short)
    assert at(further, "permanent_loss") == pytest.approx(known, rel=1e-12)
