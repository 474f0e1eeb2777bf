"""Concentric rings at 50 digits: a test oracle that knows nothing of fits.

Every ring has its own two constants, u(r) = A r + B/r, plane stress (ends free to slide):

    sigma_r = E/(1 - nu^2) [A (1 + nu) - B (1 - nu)/r^2]
    sigma_t = E/(1 - nu^2) [A (1 + nu) + B (1 - nu)/r^2]

2 n unknowns of n rings: sigma_r at the bore and outside as loaded, and at each interface
either (touching) equal sigma_r on both sides and u_outer - u_inner = interference, or (open)
no stress on both sides. Which interfaces touch is found by trying every combination and
keeping the one without pull at what touches and without overlap at what is open.

Signs: pressure positive, tension positive; mm, MPa; interferences radial.
"""
from itertools import product

import mpmath as mp

_exact = mp.workdps(60)


def _num(x):
    return x if isinstance(x, mp.mpf) else mp.mpf(x)


def _rows(r, e, nu):
    k = e / (1 - nu**2)
    q = 1 / r**2 if r else mp.mpf(0)
    return {
        "sr": (k * (1 + nu), -k * (1 - nu) * q),
        "st": (k * (1 + nu), k * (1 - nu) * q),
        "u": (r, r * q),
    }


@_exact
def glued(radii, moduli, poisson, interference, *, bore=0, outside=0, touching=None):
    """Constants of every ring for a given set of touching interfaces, and what follows."""
    radii, moduli, poisson = ([_num(x) for x in one] for one in (radii, moduli, poisson))
    interference = [_num(x) for x in interference]
    n = len(moduli)
    touching = [True] * (n - 1) if touching is None else touching
    m, rhs = mp.zeros(2 * n, 2 * n), mp.zeros(2 * n, 1)
    at = 0

    def equation(parts, value):
        nonlocal at
        for ring, sign, row in parts:
            m[at, 2 * ring] += sign * row[0]
            m[at, 2 * ring + 1] += sign * row[1]
        rhs[at] = value
        at += 1

    def rows(ring, r):
        return _rows(r, moduli[ring], poisson[ring])

    if radii[0] == 0:
        equation([(0, 1, (mp.mpf(0), mp.mpf(1)))], 0)
    else:
        equation([(0, 1, rows(0, radii[0])["sr"])], -_num(bore))
    for j in range(n - 1):
        r = radii[j + 1]
        if touching[j]:
            equation([(j, 1, rows(j, r)["sr"]), (j + 1, -1, rows(j + 1, r)["sr"])], 0)
            equation([(j + 1, 1, rows(j + 1, r)["u"]), (j, -1, rows(j, r)["u"])], interference[j])
        else:
            equation([(j, 1, rows(j, r)["sr"])], 0)
            equation([(j + 1, 1, rows(j + 1, r)["sr"])], 0)
    equation([(n - 1, 1, rows(n - 1, radii[n])["sr"])], -_num(outside))
    x = mp.lu_solve(m, rhs)

    def value(what, ring, r):
        row = rows(ring, r)[what]
        return row[0] * x[2 * ring] + row[1] * x[2 * ring + 1]

    return {
        "p": [-value("sr", j, radii[j + 1]) for j in range(n - 1)],
        "gap": [value("u", j + 1, radii[j + 1]) - value("u", j, radii[j + 1]) - interference[j] for j in range(n - 1)],
        "hoop_in": [value("st", k, radii[k]) if radii[k] else None for k in range(n)],
        "hoop_out": [value("st", k, radii[k + 1]) for k in range(n)],
        "u_in": [value("u", k, radii[k]) if radii[k] else mp.mpf(0) for k in range(n)],
        "u_out": [value("u", k, radii[k + 1]) for k in range(n)],
    }


@_exact
def rings(radii, moduli, poisson, interference, *, bore=0, outside=0):
    """The same with interfaces that open: no pull where they touch, no overlap where they don't."""
    slack = mp.mpf(10) ** -40
    for touching in product([True, False], repeat=len(moduli) - 1):
        found = glued(radii, moduli, poisson, interference, bore=bore, outside=outside, touching=touching)
        held = all(p >= -slack if on else gap >= -slack for on, p, gap in zip(touching, found["p"], found["gap"]))
        if held:
            return {**found, "touching": touching}
    raise ArithmeticError("no set of interfaces is in balance")
