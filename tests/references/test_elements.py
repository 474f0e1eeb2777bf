"""The press feature against finite elements of a liner in a hub.

The figures come from own axisymmetric elements, computed for this project; a second program
reproduces them in `test_element_models.py`.

Liner: steel 50/60 mm, E 205 GPa, nu 0.29; hub: aluminium 60/80 mm, E 70 GPa, nu 0.33;
diametral interference 0.060 mm. Eight-node rings, (6 + 12) x 60 elements in the half
model, unilateral contact, no friction unless said.
"""

from __future__ import annotations

import numpy as np
import pytest
from joints import metal, numbers, press_part

from fits.features.feature import State
from fits.sizes.limits import Limits

LINER = metal(205000.0, 0.29)
HUB = metal(70000.0, 0.33)


def pair(pressure: float = 0.0, ends: str = "open") -> dict[str, float]:
    return numbers(press_part(
        (State("working", pressure=pressure),), hole=Limits(60.0, 60.0), shaft=Limits(60.06, 60.06),
        shaft_bore=Limits(50.0, 50.0), hub_outside=Limits(80.0, 80.0), hub_material=HUB,
        shaft_material=LINER, ends=ends))


def test_pressure_of_equal_lengths():
    # Elements 12.28939, 12.28951, 12.28889 on three meshes; 12.28938 by Lamé.
    assert pair()["contact_pressure"] == pytest.approx(12.28938, abs=5e-6)


def test_bore_closure_and_outside_growth():
    got = pair()
    assert got["bore_closure"] / 2.0 == pytest.approx(0.00980971, abs=5e-9)
    assert got["outside_growth"] / 2.0 == pytest.approx(0.01805787, abs=5e-9)


@pytest.mark.parametrize(("pressure", "elements", "rel"), [(10.0, 15.0146, 3e-5), (50.0, 25.9138, 1e-5)])
def test_bore_pressure_open_ends(pressure: float, elements: float, rel: float):
    # The elements' own discretisation is 0.002 %.
    assert pair(pressure)["contact_pressure"] == pytest.approx(elements, rel=rel)


def test_axial_sticking():
    # 1.0890 and 1.0891 at mid-length for half lengths of 120 and 240 mm.
    ratio = pair(ends="stuck")["contact_pressure"] / pair()["contact_pressure"]
    assert ratio == pytest.approx(1.0891, abs=5e-5)


@pytest.mark.parametrize(("ends", "pressure"), [
    ("open", 25.914), ("liner", 23.938), ("body", 28.500), ("stuck", 27.042)])
def test_ends_under_50_mpa(ends: str, pressure: float):
    """Both rings' constants solved directly, not elements: 50 MPa in the bore."""
    assert pair(50.0, ends)["contact_pressure"] == pytest.approx(pressure, abs=5e-4)


def test_lift_pressure_is_where_contact_equals_fluid():
    lift = pair(0.0)["lift_pressure"]
    assert pair(lift)["contact_pressure"] == pytest.approx(lift, rel=1e-12)
    assert np.isfinite(lift)
