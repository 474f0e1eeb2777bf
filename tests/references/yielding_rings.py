"""Press-fit rings that have partly yielded, solved by integrating the ring equations: a test oracle.

No closed formula for a ring is used here, neither the elastic nor the plastic one. Plane stress
(sigma_z = 0), small strains, Tresca with its associated flow rule, no hardening. The unknowns at
a radius r are sigma_r and the hoop strain e_t = u/r; with s = ln r they obey

    d sigma_r / ds = sigma_t - sigma_r          equilibrium
    d e_t / ds     = e_r - e_t                  compatibility, from u = r e_t and e_r = du/dr

and what closes them is, in each zone,

    elastic   sigma_t = E e_t + nu sigma_r,     e_r = (sigma_r - nu sigma_t)/E
    plastic   sigma_t from the active face of the yield surface, e_r from that face's normal

sigma_r and u run on through the boundary of the zones, where the elastic side just reaches yield.
The active face stays the same while the plastic zone grows, so the plastic strain keeps its
direction and the flow rule can be used for the total plastic strain. Each function checks at every
step that the stress is on the face it assumed and that the plastic strain has that face's sign.

Signs: tension positive, u outward positive; pressure and the returned displacements are positive.
Units: any consistent set, for example mm and MPa.
"""

from __future__ import annotations

import math
from collections.abc import Callable

State = tuple[float, float]  # (sigma_r, e_t)
_STEP = 2e-3  # longest step in ln r; classic Runge-Kutta leaves an error of about 1e-13
_SLACK = 1e-9  # relative rounding allowed in the checks


def _march(slope: Callable[[State], State], state: State, r0: float, r1: float) -> list[State]:
    """Every state from r0 to r1 (either direction), by the classic fourth-order Runge-Kutta rule."""
    span = math.log(r1 / r0)
    states = [state]
    if span == 0.0:
        return states
    n = max(8, math.ceil(abs(span) / _STEP))
    h = span / n

    def along(base: State, k: State, length: float) -> State:
        return base[0] + length * k[0], base[1] + length * k[1]

    for _ in range(n):
        y = states[-1]
        k1 = slope(y)
        k2 = slope(along(y, k1, h / 2))
        k3 = slope(along(y, k2, h / 2))
        k4 = slope(along(y, k3, h))
        mean = tuple((p + 2 * q + 2 * v + w) / 6 for p, q, v, w in zip(k1, k2, k3, k4))
        states.append(along(y, (mean[0], mean[1]), h))
    return states


def _elastic_slope(youngs: float, poisson: float) -> Callable[[State], State]:
    def slope(state: State) -> State:
        sr, et = state
        st = youngs * et + poisson * sr
        return st - sr, (sr - poisson * st) / youngs - et

    return slope


def hub_by_integration(
    zeta: float, c: float, b: float, youngs: float, poisson: float, k: float
) -> tuple[float, float]:
    """Hub from c to b under inside pressure, plastic from c out to zeta c.

    c, b, and the displacement are lengths; youngs, k, and the pressure are stresses; zeta runs
    from 1 (bore just yields) to b/c (yielded right through).

    Yield: sigma_t - sigma_r = k with sigma_z = 0 between them, so the plastic strain is (-1, +1, 0)
    in (r, t, z) and e_r + e_t keeps its elastic value (1 - nu)(sigma_r + sigma_t)/E.
    The elastic zone is linear: integrate inward from the free outside with any hoop strain there,
    then scale the result to reach yield at zeta c. From there integrate the plastic zone to c.

    Returns (pressure, outward radial displacement of the bore). ValueError if the hoop stress at the
    bore would be compressive (pressure above k), where another face of the yield surface is active.
    """
    if not (0 < c < b and 1 - _SLACK <= zeta <= b / c * (1 + _SLACK)):
        raise ValueError("need 0 < c < b and 1 <= zeta <= b/c")
    edge = min(max(zeta * c, c), b)
    sr, et = _march(_elastic_slope(youngs, poisson), (0.0, k / youngs), b, edge)[-1]
    scale = k / (youngs * et + poisson * sr - sr)

    def plastic(state: State) -> State:
        sr, et = state
        sum_of_strains = (1 - poisson) * (2 * sr + k) / youngs
        return k, sum_of_strains - 2 * et

    states = _march(plastic, (scale * sr, scale * et), edge, c)
    for sr, et in states:
        plastic_hoop = et - (sr + k - poisson * sr) / youngs
        if sr > _SLACK * k or sr + k < -_SLACK * k or plastic_hoop < -_SLACK * k / youngs:
            raise ValueError("the assumed face of the yield surface is not the active one")
    sr, et = states[-1]
    return -sr, et * c


def liner_by_integration(
    rho: float, a: float, c: float, youngs: float, poisson: float, y: float
) -> tuple[float, float, float]:
    """Liner from a to c under outside pressure, bore free, plastic from a out to rho.

    a, c, rho, and the displacements are lengths; youngs, y, and the pressure are stresses; rho runs
    from a (bore just yields) to c (yielded right through).

    Yield: sigma_t = -y, as sigma_z = 0 is the largest stress, sigma_t the least, and sigma_r between
    them. So the plastic strain is (0, -1, +1) in (r, t, z), and e_r stays elastic.
    sigma_r in the plastic zone follows from equilibrium alone, outward from 0 at the bore. At rho the
    elastic law then gives the hoop strain, since sigma_t = -y there too. From rho integrate outward
    through the elastic zone to c, and inward through the plastic zone to a.

    Returns (pressure, inward displacement at c, inward displacement at a). At rho = c the
    displacements are those on just yielding right through; more can follow at the same pressure.
    """
    if not (0 < a < c and a * (1 - _SLACK) <= rho <= c * (1 + _SLACK)):
        raise ValueError("need 0 < a < c and a <= rho <= c")
    rho = min(max(rho, a), c)

    def plastic(state: State) -> State:
        sr, et = state
        return -y - sr, (sr + poisson * y) / youngs - et

    sr_edge = _march(plastic, (0.0, 0.0), a, rho)[-1][0]  # the strain carried along here is not used
    edge = (sr_edge, (-y - poisson * sr_edge) / youngs)
    inner = _march(plastic, edge, rho, a)
    outer = _march(_elastic_slope(youngs, poisson), edge, rho, c)
    for sr, et in inner:
        plastic_hoop = et - (-y - poisson * sr) / youngs
        if sr > _SLACK * y or sr < -y * (1 + _SLACK) or plastic_hoop > _SLACK * y / youngs:
            raise ValueError("the assumed face of the yield surface is not the active one")
    for sr, et in outer:
        st = youngs * et + poisson * sr
        if st < -y * (1 + _SLACK) or sr > _SLACK * y or sr < st - _SLACK * y:
            raise ValueError("the elastic zone would yield")
    return -outer[-1][0], -outer[-1][1] * c, -inner[-1][1] * a
