"""The land beside a groove against thin plates clamped at their root (Timoshenko and Woinowsky-Krieger,
Theory of Plates and Shells, 2nd ed., articles 15 to 17: symmetrical bending of circular plates)."""

from __future__ import annotations

import numpy as np
import pytest
import sympy as sp
from hypothesis import given
from hypothesis import strategies as st

from fits.mechanics import land


def plate_moment(root: float, free: float, p: float, nu: float = 0.3) -> float:
    """Radial moment at the clamped edge of an annular plate under even pressure, free at its other edge.

    d/dr[(1/r) d(r f)/dr] = -Q/D with slope f and Q r = p (free^2 - r^2)/2; the moment is D (f' + nu f/r).
    """
    r = sp.Symbol("r", positive=True)
    c1, c2 = sp.symbols("c1 c2")
    a, b, nu = (sp.Rational(str(one)) for one in (root, free, nu))
    inner = sp.integrate(sp.expand(p * (b**2 - r**2) / (2 * r)), r) + c1
    slope = (sp.integrate(sp.expand(inner * r), r) + c2) / r
    moment = sp.diff(slope, r) + nu * slope / r
    found = sp.solve([slope.subs(r, a), moment.subs(r, b)], [c1, c2], dict=True)[0]
    return abs(float(moment.subs(r, a).subs(found)))


@pytest.mark.parametrize(("root", "height"), [(10.0, 0.5), (10.0, 2.0), (8.0, 3.0), (30.0, 3.0)])
@pytest.mark.parametrize("outward", [1.0, -1.0])
def test_a_plate_bends_no_more_than_the_wedges(root: float, height: float, outward: float):
    p, width = 10, 0.2
    exact = 6.0 * plate_moment(root, root + outward * height, p) / width**2
    curve = max(outward, 0.0) / root
    stress = float(land.root_stress(pressure=p, height=height, width=width, curve=curve))
    # The rest is mean shear, and what the plate's hoop stress carries.
    shear = p * height * (1.0 + curve * height / 2.0) / width
    bending = np.sqrt(stress**2 - 3.0 * shear**2)
    assert exact <= bending <= exact * (1.0 + 1.6 * height / root)


def test_a_short_wall_of_a_face_groove_is_a_plain_cantilever():
    # M = p h^2/2 = 20 N, bending 6 M/t^2 = 30 MPa, shear p h/t = 10 MPa; sqrt(30^2 + 3 x 10^2).
    stress = land.root_stress(pressure=10.0, height=2.0, width=2.0)
    assert float(stress) == pytest.approx(np.sqrt(30.0**2 + 300.0), rel=1e-12)


@given(
    height=st.floats(0.2, 5.0), width=st.floats(0.1, 10.0), root=st.floats(6.0, 100.0), outward=st.sampled_from([0.0, 1.0]),
    more=st.floats(1.001, 2.0),
)
def test_a_wider_land_is_stressed_less_a_deeper_one_more(height: float, width: float, root: float, outward: float, more: float):
    def stress(height: float, width: float) -> float:
        return float(land.root_stress(pressure=5.0, height=height, width=width, curve=outward / root))

    assert stress(height, width * more) < stress(height, width)
    assert stress(height * more, width) > stress(height, width)
