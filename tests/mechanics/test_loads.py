"""Load and torque through a section against the principal stresses of the whole tensor."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from fits.mechanics.loads import Load, Section

STRESS = st.floats(-500.0, 500.0)


@given(STRESS, STRESS, STRESS, st.floats(0.0, 5e4), st.floats(0.0, 3e5), st.floats(0.0, 9.0))
def test_against_principal_stresses(radial: float, hoop: float, axial: float, along: float, torque: float, inside: float):
    section = Section(np.array(inside), np.array(10.0))
    got = float(section.mises(*map(np.array, (radial, hoop, axial)), Load(np.array(along), np.array(torque)), np.array(10.0)))
    area = np.pi * (100.0 - inside * inside)
    shear = torque * 10.0 / (np.pi / 2.0 * (10.0**4 - inside**4))
    worst = 0.0
    for sign in (1.0, -1.0):
        tensor = np.array([[radial, 0.0, 0.0], [0.0, hoop, shear], [0.0, shear, axial + sign * along / area]])
        a, b, c = np.linalg.eigvalsh(tensor)
        worst = max(worst, np.sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2.0))
    assert abs(got - worst) <= 1e-7 * max(worst, 1.0)
