"""States as the shell takes them."""

from __future__ import annotations

import math

import pytest

from fits.errors import InputError
from fits.files.loader import typed_state


def test_states_of_the_shell():
    hot = typed_state("hot: 70 degC, 16 MPa")
    assert (hot.name, hot.hub_temperature, hot.shaft_temperature, hot.pressure) == ("hot", 70.0, 70.0, 16.0)
    start = typed_state("start up: hub 20 degC, shaft 150 degC, 600 rpm")
    assert (start.hub_temperature, start.shaft_temperature, start.speed) == (20.0, 150.0, pytest.approx(20 * math.pi))
    assert typed_state("proof: 20 degC, 3000 psi, proof").proof
    assert typed_state("bare: 20 degC").pressure == 0.0


@pytest.mark.parametrize(("text", "says"), [
    ("70 degC", "a name and a colon are due"), (": 70 degC", "a name and a colon are due"), ("hot: 70", "neither a temperature"),
    ("hot: 70 degC, 80 degC", "temperature stands twice"), ("hot: hub 70 degC", "missing beside"), ("hot:", "hot.temperature: .*missing: how warm the parts are"), ("hot: 8 MPa", "missing: how warm"), ("hot: 5 N", "neither"),
    ("hot: hub 70 degC, shaft 7 N", "a temperature is due"), ("as_made: 20 degC", "reserved"), ("hot: -3 MPa", "at least 0"),
])
def test_refused(text: str, says: str):
    with pytest.raises(InputError, match=says):
        typed_state(text)


def test_gauge_pressure_is_what_is_meant():
    with pytest.raises(InputError, match='above the air: write "150 psi"'):
        typed_state("hot: 70 degC, 150 psig")
