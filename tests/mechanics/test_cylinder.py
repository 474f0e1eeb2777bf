"""Equations against an independent solution at 50 digits, thin walls included; limits and shapes."""

from __future__ import annotations

import mpmath
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from references import exact_cylinder as exact

from fits.mechanics import cylinder, heat
from fits.mechanics.spin import Spin

RATIO = st.floats(0.02, 0.9)
MODULUS = st.floats(5e4, 4e5)
POISSON = st.floats(0.2, 0.4)


def oracle(function, **numbers):
    """An exact result; floats are taken at their binary value, not at their shortest text."""
    given = {k: mpmath.mpf(float(v)) if isinstance(v, (int, float)) else v for k, v in numbers.items()}
    return function(**given)


def close(got: float, expected: mpmath.mpf, scale: float = 0.0) -> bool:
    """Within 1e-12 of the exact value, or of the largest term it is the difference of."""
    with mpmath.workdps(50):
        return abs(mpmath.mpf(float(got)) - expected) <= 1e-12 * max(abs(expected), mpmath.mpf(scale))


@settings(max_examples=150)
@given(st.floats(1.0, 200.0), RATIO, RATIO, MODULUS, POISSON, MODULUS, POISSON, st.floats(1e-5, 2e-3),
       st.floats(0.0, 100.0), st.sampled_from(sorted(cylinder.ENDS)), st.floats(-2e-3, 2e-3))
def test_a_joint_at_50_digits(c, wall_i, wall_o, e_i, nu_i, e_o, nu_o, share, bore, ends, mismatch):
    a, b, delta = c * (1.0 - wall_i), c * (1.0 + wall_o), c * share
    mismatch = mismatch if ends == "stuck" else 0.0
    joint = cylinder.Joint(*(np.float64(x) for x in (a, c, b, e_i)), nu_i, np.float64(e_o), nu_o,
                           np.float64(cylinder.ENDS[ends]), np.float64(mismatch))
    contact = joint.pressure(np.float64(delta), np.float64(bore))
    axial_i, axial_o = joint.axial_stress(contact, np.float64(bore))
    found = oracle(exact.contact_pressure, a=a, c=c, b=b, E_i=e_i, nu_i=nu_i, E_o=e_o, nu_o=nu_o,
                   delta=delta, p_i=bore, ends=ends, eps_i=mismatch, eps_o=0.0)
    drive = float(abs(found["p"])) + bore + e_i * abs(mismatch)
    assert close(contact, found["p"], drive)
    assert close(axial_i, found["sigma_z_i"], 10 * drive * c / (c - a))
    assert close(axial_o, found["sigma_z_o"], 10 * drive * c / (b - c))


@pytest.mark.parametrize("wall", [1e-2, 1e-4, 1e-6, 1e-8])
def test_thin_walls_lose_no_digits(wall: float):
    c = 10.0
    a = c * (1.0 - wall)
    got = 1.0 / cylinder.compliance(a=a, c=c, b=30.0, e_i=2e5, nu_i=0.3, e_o=7e4, nu_o=0.33)
    found = oracle(exact.contact_pressure, a=a, c=c, b=30.0, E_i=2e5, nu_i=0.3, E_o=7e4, nu_o=0.33, delta=1.0)
    assert close(got, found["p"])


def test_solid_is_not_the_limit_of_a_small_bore():
    assert cylinder.hoop(inside=1e-9, outside=10.0, p_in=0.0, p_out=1.0, at=1e-9) == pytest.approx(-2.0)
    assert cylinder.hoop(inside=0.0, outside=10.0, p_in=0.0, p_out=1.0, at=10.0) == pytest.approx(-1.0)


def test_thin_ring():
    # p r/t within t/r (textbook formula of a thin ring under outside pressure)
    got = cylinder.hoop(inside=99.9, outside=100.0, p_in=0.0, p_out=1.0, at=99.95)
    assert got == pytest.approx(-99.95 / 0.1, rel=2e-3)


@given(st.floats(-300, 300), st.floats(-300, 300), st.floats(-300, 300))
def test_von_mises_is_symmetric_and_ignores_hydrostatic_stress(x, y, z):
    first = cylinder.von_mises(x, y, z)
    assert first == pytest.approx(cylinder.von_mises(z, x, y), abs=1e-9)
    assert first == pytest.approx(cylinder.von_mises(x + 50.0, y + 50.0, z + 50.0), abs=1e-9)


def test_growth_of_a_pressed_cylinder():
    # T19 of the trade's questions: 2.000 x 2.500 in 6061 at 3000 psi grows 0.0029 in.
    grown = cylinder.bore_growth(bore=2.0, outside=2.5, p=3000.0, e=10.0e6, nu=0.33)
    assert grown == pytest.approx(0.0029, abs=5e-5)


def test_shrinkage_of_a_shaft_under_pressure():
    solid = cylinder.shaft_shrinkage(shaft=50.0, bore=0.0, p=20.0, e=2e5, nu=0.3)
    assert solid == pytest.approx(20.0 * 50.0 * 0.7 / 2e5)
    assert cylinder.shaft_shrinkage(shaft=50.0, bore=30.0, p=20.0, e=2e5, nu=0.3) > solid


@settings(max_examples=60)
@given(st.floats(1.0, 100.0), RATIO, RATIO, MODULUS, POISSON, st.floats(1000.0, 9000.0), st.floats(1.0, 3000.0))
def test_spin_at_50_digits(c, wall_i, wall_o, e, nu, density, speed):
    a, b = c * (1.0 - wall_i), c * (1.0 + wall_o)
    ring = Spin(nu, density, np.float64(speed))
    metal = {"E": e, "nu": nu, "rho": density, "omega": speed}
    hub = oracle(exact.spin_growth, r_in=c, r_out=b, **metal)
    inner = oracle(exact.spin_growth, r_in=a, r_out=c, **metal)
    solid = oracle(exact.spin_growth, r_in=0.0, r_out=c, **metal)
    assert close(ring.bore_growth(np.float64(c), np.float64(b), e), hub["u_in"])
    assert close(ring.outside_growth(np.float64(a), np.float64(c), e), inner["u_out"])
    assert close(ring.outside_growth(np.float64(0.0), np.float64(c), e), solid["u_out"])


def test_shapes_broadcast():
    joint = cylinder.Joint(np.zeros((4, 1)), np.full((4, 1), 10.0), np.full((4, 1), 20.0), np.full(3, 2e5), 0.3,
                           np.full(3, 7e4), 0.33, np.zeros((4, 1)), np.zeros(3))
    assert joint.pressure(np.full((4, 1), 0.01), np.zeros(3)).shape == (4, 3)


def test_first_reach_goes_one_way():
    temperatures = np.array([20.0, 60.0, 100.0, 140.0])
    opening = np.array([0.0, 4e-4, 3e-4, 8e-4])
    assert heat.first_reach(np.array([0.0, 2e-4, 4e-4, 9e-4]), temperatures, opening).tolist()[:2] == [20.0, 40.0]
    assert np.isnan(heat.first_reach(np.array([9e-4]), temperatures, opening)[0])
