"""A reading brought to 20 degC."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.sizes.reading import at_20


def test_at_20_degc_a_reading_is_the_size():
    assert at_20(25.0, part_expansion=23e-6, part_temperature=20.0) == 25.0


@given(st.floats(1.0, 500.0), st.floats(-30.0, 120.0), st.floats(5e-6, 30e-6), st.floats(5e-6, 30e-6))
def test_by_the_definition_of_expansion(size: float, temperature: float, part: float, gauge: float):
    """What a gauge of 20 degC graduations shows of a part of known size is turned back exactly."""
    warm = size * (1.0 + part * (temperature - 20.0))
    shown = warm / (1.0 + gauge * (temperature - 20.0))
    found = at_20(shown, part_expansion=part, part_temperature=temperature, gauge_expansion=gauge, gauge_temperature=temperature)
    assert found == pytest.approx(size, rel=1e-12)


def test_equal_metals_equally_warm_need_no_correction():
    found = at_20(100.0, part_expansion=11.5e-6, part_temperature=35.0, gauge_expansion=11.5e-6, gauge_temperature=35.0)
    assert found == pytest.approx(100.0, rel=1e-15)
