"""Metals by temperature: sources, ends of data, shapes."""

from __future__ import annotations

import numpy as np
import pytest

from fits.errors import InputError
from fits.materials.metals import ROOM, metal, names

WARM = np.array([20.0, 70.0, 100.0])


@pytest.mark.parametrize("name", names())
def test_every_metal_is_whole_at_room_temperature(name: str):
    of = metal(name)
    room = np.array([ROOM])
    assert of.strain_at(room) == pytest.approx(0.0, abs=1e-12)
    assert of.modulus_at(room) == pytest.approx(of.youngs_modulus[0])
    assert 0.2 < of.poisson < 0.4
    assert of.brittle or (of.yield_minimum or of.yield_typical)
    assert of.source.text


@pytest.mark.parametrize("name", names())
def test_strain_rises_and_is_continuous_at_20(name: str):
    of = metal(name)
    temperatures, strains = of.strain_table(0.0)
    assert np.all(np.diff(strains) >= -1e-7)
    near = of.strain_at(np.array([19.99, 20.0, 20.01]))
    assert np.nanmax(np.abs(near)) < 1e-6
    assert len(temperatures) == len(strains)


@pytest.mark.parametrize("name", names())
def test_nothing_is_extrapolated(name: str):
    of = metal(name)
    low, high = of.heating_range()
    assert np.isnan(of.strain_at(np.array([low - 1.0, high + 1.0]))).all()


def test_nist_contraction_to_77_k():
    # Usual total contractions from 293 K to 77 K (from memory): 6061 3890, 304 2810, OFHC
    # copper 3020, Ti-6Al-4V 1630, 718 2240 (1e-6); the fits lie within 0.75 % of them.
    at = np.array([293.0, 77.0]) - 273.15
    for name, printed in (("6061-T6", 3890), ("304", 2810), ("C11000", 3020), ("Ti-6Al-4V", 1630), ("Inconel 718", 2240)):
        warm, cold = metal(name).strain_at(at)
        assert (warm - cold) * 1e6 == pytest.approx(printed, rel=7.5e-3)


def test_contraction_of_aluminium_and_303_to_80_k():
    # NOAO instrument note SDN0013-02: 293 to 80 K, 6061 0.393 %, 303 0.282 %
    # NIST states a fit error of 4 % (6061) and 5 % (304); two sources may differ by that.
    at = np.array([80.0 - 273.15])
    assert -metal("6061-T6").strain_at(at)[0] == pytest.approx(0.00393, rel=0.04)
    assert -metal("303").strain_at(at)[0] == pytest.approx(0.00282, rel=0.05)


def test_secant_values_count_from_their_base():
    # 6061-T6: mean 23.6e-6 from 20 to 100 degC (MatWeb, glemco.com).
    assert metal("6061-T6").strain_at(np.array([100.0]))[0] == pytest.approx(23.6e-6 * 80.0)


def test_hot_yield_is_the_minimum_times_the_ratio():
    of = metal("316")
    # EN 10269: 175 MPa at 100 degC of 200 at 20 degC; ASTM minimum 205.
    assert of.yield_at(np.array([100.0]))[0] == pytest.approx(205.0 * 175.0 / 200.0)
    assert of.yield_at(np.array([-100.0]))[0] == 205.0


def test_316_is_not_316l():
    assert (metal("316").yield_minimum, metal("316L").yield_minimum) == (205.0, 170.0)


def test_no_yield_across_a_wide_gap():
    assert np.isnan(metal("321").yield_at(np.array([300.0]))).all()
    assert metal("321").yield_minimum is None


def test_a_range_of_expansion_has_two_ends():
    of = metal("304")
    assert of.scatters
    low, high = of.strain_at(np.array([100.0]), 0.0)[0], of.strain_at(np.array([100.0]), 1.0)[0]
    assert (low, high) == pytest.approx((16.0e-6 * 80.0, 17.3e-6 * 80.0))


@pytest.mark.parametrize(("name", "near"), [("6061", "6061-T6"), ("316l", "316L"), ("17-4", "17-4PH"), ("Inconnel 718", "Inconel 718")])
def test_unknown_metals_name_the_nearest(name: str, near: str):
    with pytest.raises(InputError, match=near):
        metal(name)


def test_shapes():
    of = metal("316")
    assert of.modulus_at(WARM).shape == (3,)
    assert of.strain_at(WARM.reshape(1, 3), np.array([[0.0], [1.0]])).shape == (2, 3)
    assert np.isnan(of.strain_at(np.array([np.nan, 20.0]))).tolist() == [True, False]


def test_sources_say_what_is_from_memory():
    texts = [str(source) for source in metal("17-4PH H1025").sources(temperature_matters=True)]
    assert any("memory" in text for text in texts)
