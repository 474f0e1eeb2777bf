"""Several rings: against constants of every ring at 50 digits, against two rings, and stages."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from references import exact_layers as exact

from fits.mechanics import cylinder
from fits.mechanics.layers import INSIDE, OUTSIDE, Stack

WALL = st.floats(0.03, 0.8)
MODULUS = st.floats(5e4, 4e5)
POISSON = st.floats(0.2, 0.4)
SHARE = st.floats(-1e-3, 2e-3)


def stack(radii, moduli, poisson) -> Stack:
    return Stack(tuple(np.float64(r) for r in radii), tuple(np.float64(e) for e in moduli), tuple(poisson))


@st.composite
def stacks(draw, least: int = 2, most: int = 4):
    n = draw(st.integers(least, most))
    radii = [draw(st.sampled_from([0.0, 5.0, 20.0]))]
    radii.append((radii[0] or 8.0) * (1.0 + draw(WALL)))
    for _ in range(n - 1):
        radii.append(radii[-1] * (1.0 + draw(WALL)))
    moduli = [draw(MODULUS) for _ in range(n)]
    poisson = [draw(POISSON) for _ in range(n)]
    fits = [radii[j + 1] * draw(SHARE) for j in range(n - 1)]
    return radii, moduli, poisson, fits


@settings(max_examples=150)
@given(stacks(), st.floats(0.0, 100.0), st.floats(0.0, 60.0))
def test_rings_at_50_digits(rings, bore, outside):
    radii, moduli, poisson, fits = rings
    bore = bore if radii[0] else 0.0
    one = stack(radii, moduli, poisson)
    got = one.contacts([np.float64(x) for x in fits], bore, outside)
    found = exact.rings(radii, moduli, poisson, fits, bore=bore, outside=outside)
    scale = bore + outside + max(abs(x) / r * e for x, r, e in zip(fits, radii[1:], moduli, strict=False)) + 1e-9
    for j, p in enumerate(found["p"]):
        assert abs(float(got.pressures[j]) - float(p)) <= 1e-10 * scale
        gap = float(found["gap"][j])
        if gap > 1e-9:
            assert float(got.left[j]) == pytest.approx(-gap, rel=1e-8, abs=1e-13)
            assert float(got.pressures[j]) == 0.0
    for ring in range(len(moduli)):
        grown = one.growth(ring, *_around(one, ring, got.pressures, bore, outside))
        # A solid core has no inside.
        pairs = zip(grown, (found["u_in"][ring], found["u_out"][ring]), strict=True)
        for mine, theirs in list(pairs)[0 if radii[ring] else 1:]:
            assert abs(float(mine) - float(theirs)) <= 1e-10 * scale * radii[-1] / min(moduli) * 100.0


def _around(one: Stack, ring: int, pressures, bore, outside):
    p_in, p_out = one.between(ring, pressures, bore)
    return p_in, p_out + (outside if ring == len(one.moduli) - 1 else 0.0)


@settings(max_examples=80)
@given(stacks(2, 2), st.floats(0.0, 50.0))
def test_two_rings_are_the_joint_of_two(rings, bore):
    radii, moduli, poisson, fits = rings
    bore = bore if radii[0] else 0.0
    a, c, b = (np.float64(r) for r in radii)
    joint = cylinder.Joint(a, c, b, np.float64(moduli[0]), poisson[0], np.float64(moduli[1]), poisson[1],
                           np.float64(cylinder.OPEN), np.float64(0.0))
    glued = float(joint.pressure(np.float64(fits[0]), np.float64(bore)))
    got = stack(radii, moduli, poisson).contacts([np.float64(fits[0])], bore)
    assert float(got.pressures[0]) == pytest.approx(max(glued, 0.0), rel=1e-12, abs=1e-9)


@settings(max_examples=80)
@given(WALL, WALL, st.floats(0.05, 0.95), MODULUS, POISSON, MODULUS, POISSON, st.floats(1e-5, 2e-3), st.floats(0.0, 50.0),
       st.booleans())
def test_a_dummy_interface_changes_nothing(wall_i, wall_o, share, e_i, nu_i, e_o, nu_o, fit, bore, in_hub):
    """One ring of the pair cut in two of the same metal, touching: with a fit of 0 it is one ring."""
    c = 10.0
    a, b = c / (1.0 + wall_i), c * (1.0 + wall_o)
    joint = cylinder.Joint(*(np.float64(x) for x in (a, c, b, e_i)), nu_i, np.float64(e_o), nu_o, np.float64(0.0), np.float64(0.0))
    two = float(joint.pressure(np.float64(c * fit), np.float64(bore)))
    if in_hub:
        three = stack([a, c, c + share * (b - c), b], [e_i, e_o, e_o], [nu_i, nu_o, nu_o])
        got, other = three.contacts([np.float64(c * fit), np.float64(0.0)], bore).pressures
        # Lamé's radial stress of the whole hub at the cut.
        cut = c + share * (b - c)
        assert float(other) == pytest.approx(two * c * c / (b * b - c * c) * (b * b / cut**2 - 1.0), rel=1e-9)
    else:
        three = stack([a, a + share * (c - a), c, b], [e_i, e_i, e_o], [nu_i, nu_i, nu_o])
        _, got = three.contacts([np.float64(0.0), np.float64(c * fit)], bore).pressures
    assert float(got) == pytest.approx(two, rel=1e-9)


def test_one_wall_of_three_pieces_under_bore_pressure_is_one_wall():
    three = stack([10.0, 14.0, 22.0, 30.0], [2e5] * 3, [0.3] * 3)
    got = three.contacts([np.float64(0.0)] * 2, 40.0).pressures
    for p, r in zip(got, (14.0, 22.0), strict=True):
        # Lamé: -sigma_r = p a^2/(b^2 - a^2) (b^2/r^2 - 1)
        assert float(p) == pytest.approx(40.0 * 100.0 / 800.0 * (900.0 / r**2 - 1.0), rel=1e-12)


def test_an_open_interface_is_found_from_its_neighbours():
    """A loose sleeve stays loose by itself, and is closed by a hot core that spreads the middle ring."""
    radii, moduli, poisson = [0.0, 10.0, 12.0, 30.0], [2e5] * 3, [0.3] * 3
    loose = stack(radii, moduli, poisson).contacts([np.float64(0.02), np.float64(-0.03)])
    assert float(loose.pressures[1]) == 0.0
    # The middle ring spreads by p 2 a^2/(b^2 - a^2) b/E; the gap is what is left of 0.03.
    spread = float(loose.pressures[0]) * 2.0 * 100.0 / 44.0 * 12.0 / 2e5
    assert float(loose.left[1]) == pytest.approx(spread - 0.03, rel=1e-12)
    closed = stack(radii, moduli, poisson).contacts([np.float64(0.06), np.float64(-0.03)])
    assert float(closed.pressures[1]) > 0.0


def test_corners_open_each_on_its_own():
    fits = [np.array([[0.02], [0.02], [-0.05], [-0.05]]), np.array([[0.02], [-0.02], [0.02], [-0.02]])]
    one = stack([5.0, 10.0, 15.0, 30.0], [2e5] * 3, [0.3] * 3)
    got = one.contacts(fits)
    assert [one.ravel().tolist() for one in (got.pressures[0] > 0.0, got.pressures[1] > 0.0)] == [
        [True, True, False, False], [True, False, True, False]]
    for row in range(4):
        alone = one.contacts([fit[row, 0] for fit in fits])
        for j in range(2):
            assert float(got.pressures[j][row, 0]) == float(alone.pressures[j])


def test_the_unknown_stays_unknown():
    one = Stack(tuple(np.float64(x) for x in (5.0, 10.0, 15.0, 30.0)), (np.float64(2e5), np.float64(np.nan), np.float64(2e5)), (0.3,) * 3)
    got = one.contacts([np.float64(-0.01), np.float64(-0.01)])
    assert np.isnan(got.pressures).all()
    assert np.isnan(stack([5.0, 10.0, 15.0, 30.0], [2e5] * 3, [0.3] * 3).contacts([np.float64(np.nan), np.float64(-0.01)]).pressures).all()


# Building

CUT = [(5.0, 10.02), (10.0, 15.03), (15.0, 20.04), (20.0, 30.0)]
RADII = [5.0, 10.0, 15.0, 20.0, 30.0]


def four() -> Stack:
    return stack(RADII, [2e5, 7e4, 1.1e5, 2e5], [0.3, 0.33, 0.34, 0.29])


def cut():
    return [(np.float64(a), np.float64(b)) for a, b in CUT]


def test_free_parts_give_the_same_pressures_in_any_order():
    expected = four().contacts([np.float64(0.02), np.float64(0.03), np.float64(0.04)]).pressures
    for order in itertools.permutations(range(3)):
        built = four().built(cut(), order)
        assert [float(one) for one in built.free] == pytest.approx([0.02, 0.03, 0.04])
        got = four().contacts(built.free).pressures
        assert [float(one) for one in got] == pytest.approx([float(one) for one in expected], rel=1e-12)


def test_what_is_measured_when_joining_depends_on_the_order():
    outward, inward = four().built(cut(), (0, 1, 2)), four().built(cut(), (2, 1, 0))
    assert float(outward.joining[0]) == pytest.approx(0.02)
    assert float(outward.joining[1]) > 0.03
    assert float(inward.joining[2]) == pytest.approx(0.04)
    # A bore that its outer ring has closed takes its plug with more interference.
    assert float(inward.joining[0]) > 0.02


def test_a_face_finished_after_joining_has_its_size_as_fitted():
    """The outside of ring 1 turned to 15.03 with ring 0 in it: that interface has 0.03, no more."""
    plain = four().built(cut(), (0, 1, 2))
    turned = four().built(cut(), (0, 1, 2), frozenset({(1, OUTSIDE)}))
    assert float(turned.joining[1]) == pytest.approx(0.03, rel=1e-12)
    assert float(turned.free[1]) < float(plain.free[1])
    # By the oracle: the free outside is less by what ring 0 has spread ring 1.
    first = exact.rings(RADII[:3], [2e5, 7e4], [0.3, 0.33], [0.02])
    assert float(turned.free[1]) == pytest.approx(0.03 - float(first["u_out"][1]), rel=1e-9)


def test_finished_stages_depend_on_the_order():
    inner = four().built(cut(), (0, 1, 2), frozenset({(1, OUTSIDE)}))
    # Joined last, ring 1 is already held by ring 2 when its bore is made for ring 0.
    outer = four().built(cut(), (1, 0, 2), frozenset({(1, INSIDE)}))
    p = [four().contacts(one.free).pressures for one in (inner, outer)]
    assert abs(float(p[0][0]) - float(p[1][0])) > 1e-2
    assert float(outer.joining[0]) == pytest.approx(0.02, rel=1e-12)


def test_the_grown_bore_and_outside_of_the_whole():
    built = four().built(cut(), (0, 1, 2))
    found = exact.rings(RADII, [2e5, 7e4, 1.1e5, 2e5], [0.3, 0.33, 0.34, 0.29], [0.02, 0.03, 0.04])
    # mm to the fit of 10 um: CUT is typed in decimals, the oracle takes the exact binary.
    assert float(built.bore) == pytest.approx(float(found["u_in"][0]), rel=1e-9)
    assert float(built.outside) == pytest.approx(float(found["u_out"][3]), rel=1e-9)


@settings(max_examples=80)
@given(stacks(3, 4))
def test_the_acting_interference_is_that_of_an_interface_made_last(rings):
    radii, moduli, poisson, fits = rings
    one = stack(radii, moduli, poisson)
    acting = one.acting([np.float64(x) for x in fits])
    contacts = one.contacts([np.float64(x) for x in fits])
    for j, got in enumerate(acting):
        others = exact.rings(radii, moduli, poisson, [-1.0 if k == j else x for k, x in enumerate(fits)])
        # Joined last: what the oracle's faces overlap by once the others are made.
        assert float(got) == pytest.approx(fits[j] - (float(others["gap"][j]) - 1.0), rel=1e-8, abs=1e-12)
        assert (float(contacts.pressures[j]) > 0.0) == (float(got) > 0.0)
