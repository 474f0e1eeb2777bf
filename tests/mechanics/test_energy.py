"""Energy set free by a burst: half a litre at 4500 psi, worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from fits.mechanics import energy

PRESSURE = 4500.0 * 0.006894757293168361


def test_half_a_litre_of_gas_and_of_water():
    """31 kJ of nitrogen, 0.11 kJ of water."""
    assert energy.of_gas(PRESSURE, 0.5) / 1000.0 == pytest.approx(31.0, abs=0.5)
    assert energy.of_water(PRESSURE, 0.5) / 1000.0 == pytest.approx(0.11, abs=0.005)


def test_gas_by_adding_up_the_work_of_small_steps():
    volumes = np.geomspace(1.0, ((PRESSURE + 0.101325) / 0.101325) ** (1 / 1.4), 20001)
    pressures = (PRESSURE + 0.101325) * volumes**-1.4
    assert energy.of_gas(PRESSURE, 1.0) == pytest.approx(np.trapezoid(pressures, volumes) * 1000.0, rel=1e-6)
