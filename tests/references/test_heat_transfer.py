"""Lumped heating and cooling against solved examples (printed by the books' companion notebooks).

Tolerance is half a unit of the last printed digit unless a reason stands beside it.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from fits.mechanics import cooling


def seconds(start: float, end: float, fluid: float, constant: float) -> float:
    return float(cooling.time_to(*map(np.array, (start, end, fluid, constant))))


def test_sachdeva_5_2_copper_plate():
    """Sachdeva, Fundamentals of Engineering Heat and Mass Transfer, Example 5.2 p. 164: 123.43 s."""
    plate = float(cooling.time_constant(np.array(2.5), 9000.0, 380.0, 90.0))
    assert seconds(250.0, 90.0, 30.0, plate) == pytest.approx(123.43, abs=0.005)


def test_sachdeva_5_4_aluminium_sphere():
    """Example 5.4 p. 165: 1356 s for 5.5 kg."""
    radius = (5.5 / 2700.0 * 3.0 / (4.0 * math.pi)) ** (1.0 / 3.0) * 1000.0
    sphere = float(cooling.time_constant(np.array(radius / 3.0), 2700.0, 900.0, 58.0))
    assert seconds(290.0, 95.0, 15.0, sphere) == pytest.approx(1356.0, abs=0.5)


def test_sachdeva_5_5_film_from_a_time():
    """Example 5.5 p. 166: the film 77.29 W/(m2 K) cools 30 mm from 210 to 170 degC in 300 s."""
    plate = float(cooling.time_constant(np.array(15.0), 9000.0, 380.0, 77.29))
    assert seconds(210.0, 170.0, 100.0, plate) == pytest.approx(300.0, abs=0.02)


def test_holman_4_1_steel_ball():
    """Holman, Heat Transfer, Example 4-1: 5818 s, Biot number 0.0024."""
    depth = np.array(25.0 / 3.0)
    ball = float(cooling.time_constant(depth, 7800.0, 460.0, 10.0))
    assert seconds(450.0, 150.0, 100.0, ball) == pytest.approx(5818.0, abs=0.5)
    assert float(cooling.biot(depth, np.array(10.0), 35.0)) == pytest.approx(0.0024, abs=5e-5)


def test_incropera_5_1_thermocouple():
    """Incropera et al., Example 5.1 p. 261: 0.706 mm has a time constant of 1 s; 5.16 s to 199 degC."""
    depth = np.array(0.7058824 / 6.0)
    bead = float(cooling.time_constant(depth, 8500.0, 400.0, 400.0))
    assert bead == pytest.approx(1.0, abs=1e-3)
    # The notebook writes 2.30 log10 for the natural logarithm: 0.1 % less.
    assert seconds(25.0, 199.0, 200.0, bead) == pytest.approx(5.16, rel=1.5e-3)


def test_incropera_5_5_sphere_in_air():
    """Example 5.5 p. 280, first step: 93.7 s (the notebook's rounded logarithm: 0.1 % less)."""
    sphere = float(cooling.time_constant(np.array(5.0 / 3.0), 3000.0, 1000.0, 10.0))
    assert seconds(400.0, 335.0, 20.0, sphere) == pytest.approx(93.7, rel=1.5e-3)


def test_sukhatme_2_9_rod_out_of_liquid_nitrogen():
    """Sukhatme, Textbook of Heat Transfer, Example 2.9 p. 51: 1577.4 s, Biot number 6.06e-4 (on the radius)."""
    capacity = 330.0 / 9.5e-5
    rod = float(cooling.time_constant(cooling.wall_depth(np.array(0.0), np.array(10.0)), 1.0, capacity, 20.0))
    assert seconds(77.0, 283.0, 323.0, rod) == pytest.approx(1577.4, abs=0.06)
    assert float(cooling.biot(np.array(10.0), np.array(20.0), 330.0)) == pytest.approx(6.06e-4, abs=5e-7)


def test_incropera_5_5_in_water_is_not_lumped():
    """Example 5.5, second step: 6000 W/(m2 K) on 5 mm, k 20: Biot number 0.5 on r/3, above 0.1."""
    found = float(cooling.biot(np.array(5.0 / 3.0), np.array(6000.0), 20.0))
    assert found == pytest.approx(0.5)
    assert found > cooling.LARGEST_BIOT


def test_cengel_4_4_brass_plates_in_an_oven():
    """Cengel, Heat and Mass Transfer, Example 4-4: 281.4 degC after 7 min, read from charts.

    The chart gives 0.46 x 0.99 of 480 K left; half a unit of its last digit is 2.4 K.
    """
    assert float(cooling.biot(np.array(20.0), np.array(120.0), 110.0)) < cooling.LARGEST_BIOT
    plate = float(cooling.time_constant(np.array(20.0), 8530.0, 380.0, 120.0))
    reached = 500.0 - (500.0 - 20.0) * math.exp(-420.0 / plate)
    assert reached == pytest.approx(281.408, abs=2.4)
    assert seconds(20.0, reached, 500.0, plate) == pytest.approx(420.0)
