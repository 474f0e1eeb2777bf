"""Yielding rings against integration of the ring equations (``references/yielding_rings.py``)."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.mechanics import cylinder, plastic

sys.path.insert(0, str(Path(__file__).parent.parent / "references"))
from yielding_rings import hub_by_integration, liner_by_integration

LINERS = [(12.5, 25.0), (20.0, 25.0), (23.0, 25.0), (24.5, 25.0)]


@pytest.mark.parametrize(("a", "c"), LINERS)
@pytest.mark.parametrize("share", [0.05, 0.4, 0.8, 0.999])
@pytest.mark.parametrize("hub", [0.0, 3e-4])
def test_a_yielding_liner(a: float, c: float, share: float, hub: float):
    e, nu, y = 193000.0, 0.29, 205.0
    rho = a + share * (c - a)
    p, u, _ = liner_by_integration(rho, a, c, e, nu, y)
    got = plastic.liner_grip(np.array(u + hub * p), a=a, c=c, e=e, nu=nu, y=y, hub=hub)
    assert float(got.pressure) == pytest.approx(p, rel=1e-8)
    assert float(got.radius) == pytest.approx(rho, rel=1e-7)


@pytest.mark.parametrize(("c", "b"), [(25.0, 30.0), (25.0, 40.0), (25.0, 60.0)])
@pytest.mark.parametrize("share", [0.0, 0.3, 0.7, 0.95])
def test_a_yielding_hub(c: float, b: float, share: float):
    e, nu, k = 69000.0, 0.33, 241.0
    zeta = 1.0 + share * (min(b / c, 1.8) - 1.0)
    p, u = hub_by_integration(zeta, c, b, e, nu, k)
    inner = 1.1e-4
    got = plastic.hub_grip(np.array(u + inner * p), c=c, b=b, e=e, nu=nu, k=k, inner=inner)
    assert float(got.pressure) == pytest.approx(p, rel=1e-8)
    assert float(got.radius) == pytest.approx(zeta * c, rel=1e-6)
    assert not got.beyond


def test_limits_are_those_of_lame():
    a, c, b = 20.0, 25.0, 40.0
    at_bore, _ = cylinder.face_hoops(inside=a, outside=c, p_in=0.0, p_out=float(plastic.liner_limit(a, c, 205.0)))
    assert at_bore == pytest.approx(-205.0)
    p = float(plastic.hub_limit(c, b, 241.0))
    at_hole, _ = cylinder.face_hoops(inside=c, outside=b, p_in=p, p_out=0.0)
    assert at_hole + p == pytest.approx(241.0)


def test_a_liner_yielded_through_grips_no_harder():
    pressures = [float(plastic.liner_grip(np.array(delta), a=20.0, c=25.0, e=193000.0, nu=0.29, y=205.0, hub=1e-4).pressure)
                 for delta in (0.1, 0.2, 0.5)]
    assert pressures == pytest.approx([205.0 * (1.0 - 20.0 / 25.0)] * 3)


def test_a_hub_beyond_its_ceiling_says_so():
    deep = plastic.hub_grip(np.array(1.0), c=25.0, b=30.0, e=69000.0, nu=0.33, k=241.0, inner=1e-4)
    assert deep.beyond
    thick = plastic.hub_grip(np.array(1.5), c=25.0, b=100.0, e=69000.0, nu=0.33, k=241.0, inner=1e-4)
    assert thick.beyond
    assert float(deep.pressure) == pytest.approx(241.0 * math.log(30.0 / 25.0), rel=1e-6)


@given(st.floats(0.3, 0.95), st.floats(1.01, 3.0), st.floats(0.0, 2e-3))
def test_a_yielding_liner_grips_less_than_an_elastic_one_and_never_less_with_more(q: float, times: float, hub: float):
    a, c, e, nu, y = 25.0 * q, 25.0, 193000.0, 0.29, 205.0
    flexible = c / e * ((c * c + a * a) / (c * c - a * a) - nu) + hub
    first = float(plastic.liner_limit(a, c, y)) * flexible
    one, two = (plastic.liner_grip(np.array(first * by), a=a, c=c, e=e, nu=nu, y=y, hub=hub) for by in (times, times * 1.05))
    assert one.pressure <= first * times / flexible * (1.0 + 1e-9)
    assert two.pressure >= one.pressure * (1.0 - 1e-9)
