"""Press-fit equations, solved independently in 50 digits: a test oracle.

Nothing here uses the usual closed press-fit formulas. Every ring is described by its own
Lame constants, and the boundary conditions are solved as a small linear system:

    u(r) = A r + B / r                       mechanical radial displacement (no thermal part)
    e_r = A - B/r^2,  e_t = A + B/r^2        mechanical strains; e_z is constant over the ring
    sigma_k = lam (e_r + e_t + e_z) + 2 mu e_k          Hooke, three-dimensional

(A, B, e_z) of a ring are three unknowns; sigma_r, sigma_t, sigma_z and u at a radius are
plain linear forms in them (see _row). A solid part has B = 0. Poisson's ratio below 0.5.

Signs: pressure positive, tension positive. Radii: a = bore of the inner part (0 = solid),
c = interface, b = outside of the hub; i = inner part, o = hub. Units: mm, MPa, N, rad/s,
kg/m^3, 1/K, degrees C. All interferences of `contact_pressure` are RADIAL; joining is
diametral. Floats are read by their shortest decimal text (0.29 means 29/100); strings, ints
and mpf are taken as they are. Results are mpf of more than 50 digits; arithmetic done on
them outside this file uses the caller's own precision.

Run the file to print its checks.
"""
from functools import partial

import mpmath as mp

_GUARD = 60  # working digits; leaves 50 good ones after the linear solve
_exact = mp.workdps(_GUARD)  # used as a decorator
ENDS = ("open", "liner", "body", "stuck")


def _num(x):
    return x if isinstance(x, mp.mpf) else mp.mpf(str(x))


def _row(what, r, E, nu):
    """Coefficients of (A, B, e_z) in a stress or in u at radius r (r may be 0 when B = 0)."""
    lam, mu2 = E * nu / ((1 + nu) * (1 - 2 * nu)), E / (1 + nu)
    q = 1 / r**2 if r else mp.mpf(0)
    return {
        "sr": (2 * lam + mu2, -mu2 * q, lam),
        "st": (2 * lam + mu2, +mu2 * q, lam),
        "sz": (2 * lam, mp.mpf(0), lam + mu2),
        "u": (r, r * q, mp.mpf(0)),
        "ez": (mp.mpf(0), mp.mpf(0), mp.mpf(1)),
    }[what]


def _dot(row, x):
    return mp.fsum(k * v for k, v in zip(row, x))


def _solve(equations):
    """equations: list of (row, right-hand side); returns the solution as a list."""
    n = len(equations)
    m, rhs = mp.matrix(n, n), mp.matrix(n, 1)
    for j, (row, value) in enumerate(equations):
        for k in range(n):
            m[j, k] = row[k]
        rhs[j] = value
    return list(mp.lu_solve(m, rhs))


def _mises(s1, s2, s3):
    return mp.sqrt(((s1 - s2) ** 2 + (s2 - s3) ** 2 + (s3 - s1) ** 2) / 2)


@_exact
def contact_pressure(*, a, c, b, E_i, nu_i, E_o, nu_o, delta, p_i=0, ends="open",
                     eps_i=0, eps_o=0, thrust=None):
    """Contact pressure and stresses of a two-part fit, with bore pressure.

    Six unknowns (A, B, e_z of both parts), six equations:
      inner part at r = a: sigma_r = -p_i  (solid: B = 0);   hub at r = b: sigma_r = 0;
      r = c: sigma_r equal in both parts;   r = c: u_o - u_i = delta;
      two axial conditions:
        open   sigma_zi = 0,                    sigma_zo = 0
        liner  sigma_zi = p_i a^2/(c^2 - a^2),  sigma_zo = 0
        body   sigma_zi = 0,                    sigma_zo = p_i a^2/(b^2 - c^2)
        stuck  e_zi + eps_i = e_zo + eps_o (one length) and
               area_i sigma_zi + area_o sigma_zo = F.
    delta is the radial interference at the state's temperature, radial thermal term included.
    eps_i, eps_o (stuck only): free axial thermal strains of the parts, counted from the
    moment of gripping. F = pi a^2 p_i unless `thrust` (N) is given, e.g. 0.

    Returns a dict: p, sigma_z_i, sigma_z_o, hoop_i_a, hoop_i_c, hoop_o_c, hoop_o_b, mises_i
    (inner face; solid: surface), mises_o (hub's inner face), u_i_a, u_i_c, u_o_c, u_o_b
    (displacements by stresses only, outwards positive; a solid part has u_i_a = 0),
    axial_strain (total, of the inner part).
    p < 0 is the linear answer of faces glued together: there is no contact then.
    """
    a, c, b, E_i, nu_i, E_o, nu_o, delta, p_i, eps_i, eps_o = map(
        _num, (a, c, b, E_i, nu_i, E_o, nu_o, delta, p_i, eps_i, eps_o))
    if not 0 <= a < c < b:
        raise ValueError("need 0 <= a < c < b")
    if ends not in ENDS:
        raise ValueError(f"ends must be one of {ENDS}")
    if a == 0 and p_i != 0:
        raise ValueError("a solid inner part has no bore pressure")
    if ends != "stuck" and (eps_i != 0 or eps_o != 0 or thrust is not None):
        raise ValueError("eps_i, eps_o and thrust belong to ends='stuck'")
    zero = (mp.mpf(0),) * 3

    inner = partial(_row, E=E_i, nu=nu_i)
    outer = partial(_row, E=E_o, nu=nu_o)

    def minus(row):
        return tuple(-k for k in row)

    area_i, area_o = mp.pi * (c**2 - a**2), mp.pi * (b**2 - c**2)
    force = mp.pi * a**2 * p_i if thrust is None else _num(thrust)
    bore = (inner("sr", a) + zero, -p_i) if a else ((0, 1, 0) + zero, 0)
    if ends == "stuck":
        axial = [
            (inner("ez", c) + minus(outer("ez", c)), eps_o - eps_i),
            (tuple(area_i * k for k in inner("sz", c))
             + tuple(area_o * k for k in outer("sz", c)), force),
        ]
    else:
        axial = [
            (inner("sz", c) + zero, force / area_i if ends == "liner" else 0),
            (zero + outer("sz", c), force / area_o if ends == "body" else 0),
        ]
    x = _solve([
        bore,
        (zero + outer("sr", b), 0),
        (inner("sr", c) + minus(outer("sr", c)), 0),
        (minus(inner("u", c)) + outer("u", c), delta),
    ] + axial)
    xi, xo = x[:3], x[3:]

    face = c if a == 0 else a  # where the inner part's von Mises stress is taken
    p = -_dot(outer("sr", c), xo)
    sz_i, sz_o = _dot(inner("sz", c), xi), _dot(outer("sz", c), xo)
    return {
        "p": p, "sigma_z_i": sz_i, "sigma_z_o": sz_o,
        "hoop_i_a": _dot(inner("st", a), xi),
        "hoop_i_c": _dot(inner("st", c), xi),
        "hoop_o_c": _dot(outer("st", c), xo),
        "hoop_o_b": _dot(outer("st", b), xo),
        "mises_i": _mises(_dot(inner("sr", face), xi), _dot(inner("st", face), xi), sz_i),
        "mises_o": _mises(-p, _dot(outer("st", c), xo), sz_o),
        "u_i_a": _dot(inner("u", a), xi),
        "u_i_c": _dot(inner("u", c), xi),
        "u_o_c": _dot(outer("u", c), xo),
        "u_o_b": _dot(outer("u", b), xo),
        "axial_strain": xi[2] + eps_i,
    }


@_exact
def lift_pressure(*, a, c, b, E_i, nu_i, E_o, nu_o, delta):
    """Bore pressure at which the contact pressure equals it, open ends, hollow inner part.

    The same six equations with the bore pressure x as a seventh unknown and
    sigma_r(c) = -x as the seventh equation.
    """
    a, c, b, E_i, nu_i, E_o, nu_o, delta = map(_num, (a, c, b, E_i, nu_i, E_o, nu_o, delta))
    if not 0 < a < c < b:
        raise ValueError("need 0 < a < c < b")
    zero, off, one = (mp.mpf(0),) * 3, (mp.mpf(0),), (mp.mpf(1),)
    i, o = (E_i, nu_i), (E_o, nu_o)
    x = _solve([
        (_row("sr", a, *i) + zero + one, 0),
        (_row("sr", c, *i) + zero + one, 0),
        (zero + _row("sr", c, *o) + one, 0),
        (zero + _row("sr", b, *o) + off, 0),
        (tuple(-k for k in _row("u", c, *i)) + _row("u", c, *o) + off, delta),
        (_row("sz", c, *i) + zero + off, 0),
        (zero + _row("sz", c, *o) + off, 0),
    ])
    return x[6]


@_exact
def pressurised_bore(*, a, b, E, nu, p, p_out=0):
    """Single thick cylinder a..b, open ends: pressure p in the bore, p_out outside.

    Three equations for (A, B, e_z): sigma_r(a) = -p, sigma_r(b) = -p_out, sigma_z = 0.
    Returns hoop, radial, mises and growth (radial, of the bore), hoop_out, growth_out.
    """
    a, b, E, nu, p, p_out = map(_num, (a, b, E, nu, p, p_out))
    x = _solve([(_row("sr", a, E, nu), -p), (_row("sr", b, E, nu), -p_out),
                (_row("sz", a, E, nu), 0)])
    at = {k: _dot(_row(k, a, E, nu), x) for k in ("sr", "st", "sz", "u")}
    return {"hoop": at["st"], "radial": at["sr"], "growth": at["u"],
            "mises": _mises(at["sr"], at["st"], at["sz"]),
            "hoop_out": _dot(_row("st", b, E, nu), x), "growth_out": _dot(_row("u", b, E, nu), x)}


@_exact
def spin_growth(*, r_in, r_out, E, nu, rho, omega):
    """One free ring or disc (r_in = 0: solid) under rotation, plane stress.

    Equilibrium d(r sigma_r)/dr - sigma_t + rho w^2 r^2 = 0 with Hooke in plane stress gives
    u'' + u'/r - u/r^2 = -K r, K = (1 - nu^2) rho w^2/E. Trying u = C r^3 gives 8 C = -K, so
    u = A r + B/r - K r^3/8. A, B from sigma_r(r_out) = 0 and sigma_r(r_in) = 0 (solid: B = 0).
    Hub: r_in = c, r_out = b, read u_in. Shaft: r_in = a or 0, r_out = c, read u_out.
    Returns u_in, u_out, hoop_in (solid: at the centre), hoop_out.
    """
    r_in, r_out, E, nu, rho, omega = map(_num, (r_in, r_out, E, nu, rho, omega))
    K = (1 - nu**2) * rho * mp.mpf("1e-12") * omega**2 / E  # kg/m^3 mm^2/s^2 = 1e-12 MPa

    def stress(r, x, sign):  # sign +1 radial: u' + nu u/r; -1 hoop: u/r + nu u'
        q = x[1] / r**2 if r else 0
        du, ur = x[0] - q - 3 * K * r**2 / 8, x[0] + q - K * r**2 / 8
        return E / (1 - nu**2) * ((du + nu * ur) if sign > 0 else (ur + nu * du))

    def free(r):  # sigma_r(r) = 0 as a row for (A, B)
        return ((1 + nu, -(1 - nu) / r**2), K * r**2 * (3 + nu) / 8)

    x = _solve([free(r_out), free(r_in) if r_in else ((0, 1), 0)])

    def u(r):
        return x[0] * r + x[1] / r - K * r**3 / 8 if r else mp.mpf(0)

    return {"u_in": u(r_in), "u_out": u(r_out),
            "hoop_in": stress(r_in, x, -1), "hoop_out": stress(r_out, x, -1)}


@_exact
def joining_temperature(*, d, U_max, alpha_i, alpha_o, S=None, T_i=20, T_ref=20):
    """Temperature of a heated hub that leaves the diametral joining clearance S (0.001 d).

    d and the diametral interference U_max are those at T_ref. The hub's bore grows by
    alpha_o d per kelvin; it must exceed U_max + S + the inner part's growth. Solved as a line
    through the clearance at two hub temperatures. (The growth of U_max itself is left out.)
    """
    d, U_max, alpha_i, alpha_o, T_i, T_ref = map(_num, (d, U_max, alpha_i, alpha_o, T_i, T_ref))
    S = d / 1000 if S is None else _num(S)

    def spare(T):  # clearance beyond S with the hub at T
        return alpha_o * d * (T - T_ref) - U_max - alpha_i * d * (T_i - T_ref) - S

    f0, f1 = spare(T_ref), spare(T_ref + 1)
    return T_ref - f0 / (f1 - f0)


if __name__ == "__main__":
    pair = dict(a=25, c=30, b=40, E_i=205000, nu_i="0.29", E_o=70000, nu_o="0.33", delta="0.03")
    print("steel liner 50/60 mm in aluminium 60/80 mm, by elements: 12.28938, 15.0143; 25.914, 23.938, 28.500, 27.042")
    for ends, p_i in [("open", 0), ("open", 10)] + [(e, 50) for e in ENDS]:
        r = contact_pressure(**pair, p_i=p_i, ends=ends)
        print(f"{ends:6} {p_i:3}", mp.nstr(r["p"], 12))
    p0, p1 = contact_pressure(**pair), contact_pressure(**pair, ends="stuck")
    print("M1b ratio (1.0891)", mp.nstr(p1["p"] / p0["p"], 9))
    print("bore in, outside out (0.00980971, 0.01805787)",
          mp.nstr(-p0["u_i_a"], 9), mp.nstr(p0["u_o_b"], 9))
    print("lift pressure, open ends", mp.nstr(lift_pressure(**pair), 12))
