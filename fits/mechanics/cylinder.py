"""Thick cylinders: Lamé's equations for one ring and for a joint of two.

Radii a (bore of the inner part), c (interface), b (outside of the hub) in mm; stresses
and pressures in MPa, tension and pressure positive. Index i is the inner part, o the
hub. Everything broadcasts and is elementwise. Differences of squares are factored, so
thin walls lose no digits.

Source: Lamé; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed.,
eqs. 3-49 to 3-57 and 7-39 to 7-47; the axial terms are worked out from three-dimensional
Hooke (generalized plane strain) and checked against elements and an independent solution.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from fits.arrays import Array

# How the ends of a joint under bore pressure are held.
OPEN, LINER, BODY, STUCK = 0.0, 1.0, 2.0, 3.0
ENDS = {"open": OPEN, "liner": LINER, "body": BODY, "stuck": STUCK}


def ring_area(inside: Array, outside: Array) -> Array:
    """(outside - inside)(outside + inside), mm^2: the ring's area over pi.

    >>> float(ring_area(3.0, 5.0))
    16.0
    """
    return (outside - inside) * (outside + inside)


def spread(inside: Array, outside: Array) -> Array:
    """(outside^2 + inside^2)/(outside^2 - inside^2): hoop stress over pressure at a ring's loaded bore.

    >>> float(spread(3.0, 5.0))
    2.125
    """
    return np.asarray((outside * outside + inside * inside) / ring_area(inside, outside))


def compliance(*, a: Array, c: Array, b: Array, e_i: Array, nu_i: float, e_o: Array, nu_o: float) -> Array:
    """Radial interference per contact pressure, mm/MPa, free to slide axially.

    D = (c/E_o)[(b^2+c^2)/(b^2-c^2) + nu_o] + (c/E_i)[(c^2+a^2)/(c^2-a^2) - nu_i];
    a = 0 is a solid inner part. Shigley, 9th ed., eq. 7-39.

    >>> round(1.0 / float(compliance(a=0.0, c=1.0, b=2.0, e_i=3.0, nu_i=0.3, e_o=3.0, nu_o=0.3)), 4)
    1.125
    """
    return np.asarray(c / e_o * (spread(c, b) + nu_o) + c / e_i * (spread(a, c) - nu_i))


class Contact(NamedTuple):
    """Contact pressure = interference x ``rate`` + bore pressure x ``gain`` + ``offset``.

    ``rate`` in MPa/mm of radial interference, ``gain`` in MPa/MPa, ``offset`` in MPa from
    the heat mismatch of stuck ends.
    """

    rate: Array
    gain: Array
    offset: Array

    def at(self, interference: Array, bore: Array) -> Array:
        """The contact pressure, MPa; below 0 where the parts would have to pull."""
        return interference * self.rate + bore * self.gain + self.offset

    def lift(self, interference: Array) -> Array:
        """The bore pressure that equals the contact pressure it makes, MPa (0 for a loose fit).

        p_0/(1 - gain): above it, fluid at the interface lifts the inner part.
        """
        return np.maximum(interference * self.rate + self.offset, 0.0) / (1.0 - self.gain)


class Joint(NamedTuple):
    """A joint of two rings: radii in mm, moduli in MPa.

    ``mismatch`` is the free axial strain of the inner part less that of the hub since
    the faces gripped; it acts only where the ends are stuck.
    """

    a: Array
    c: Array
    b: Array
    e_i: Array
    nu_i: float
    e_o: Array
    nu_o: float
    ends: Array
    mismatch: Array

    def contact(self) -> Contact:
        """Contact pressure as a linear form of radial interference and bore pressure.

        p D = delta + 2 p_i a^2 c/[E_i (c^2-a^2)] - nu_i sigma_zi c/E_i + nu_o sigma_zo c/E_o,
        solved for p where the axial stresses depend on it (stuck ends).
        """
        wall = ring_area(self.a, self.c)
        bore_area = self.a * self.a
        per_stress = bore_area * self.c / (self.e_i * wall)
        stiff = compliance(
            a=self.a, c=self.c, b=self.b, e_i=self.e_i, nu_i=self.nu_i, e_o=self.e_o, nu_o=self.nu_o
        )
        drive = 2.0 * per_stress
        if np.any(self.ends == LINER):
            drive = drive - np.where(self.ends == LINER, self.nu_i * per_stress, 0.0)
        if np.any(self.ends == BODY):
            hub = self.nu_o * bore_area / self._hub_area() * self.c / self.e_o
            drive = drive + np.where(self.ends == BODY, hub, 0.0)
        if not np.any(self.ends == STUCK):
            return Contact(1.0 / stiff, drive / stiff, np.zeros_like(self.mismatch))
        k_i, k_o, mean = self._axial()
        stuck_drive = 2.0 * (1.0 - self.nu_i * self.nu_i) * bore_area * self.c / k_i + self.c * (
            self.nu_o - self.nu_i
        ) * bore_area * (1.0 - 2.0 * self.nu_i) / (k_i + k_o)
        stuck = stiff - 2.0 * self.c * self.c * self.c * mean * mean * (1.0 / k_i + 1.0 / k_o)
        here = self.ends == STUCK
        stiff = np.where(here, stuck, stiff)
        return Contact(
            1.0 / stiff,
            np.where(here, stuck_drive, drive) / stiff,
            np.where(here, self.c * mean * self.mismatch, 0.0) / stiff,
        )

    def pressure(self, interference: Array, bore: Array) -> Array:
        """Contact pressure in MPa; negative where the parts would have to pull.

        Args:
            interference: radial, mm, at the state's temperature and speed.
            bore: fluid pressure in the bore, MPa.
        """
        return self.contact().at(interference, bore)

    def _hub_area(self) -> Array:
        return ring_area(self.c, self.b)

    def _axial(self) -> tuple[Array, Array, Array]:
        """Axial stiffnesses over pi, and the mean Poisson ratio that couples them."""
        k_i = self.e_i * ring_area(self.a, self.c)
        k_o = self.e_o * self._hub_area()
        return k_i, k_o, (self.nu_i * k_o + self.nu_o * k_i) / (k_i + k_o)

    def axial_stress(self, contact: Array, bore: Array) -> tuple[Array, Array]:
        """Axial stress of the inner part and of the hub, MPa.

        Open: none. Liner: p_i a^2/(c^2-a^2) in the inner part. Body: p_i a^2/(b^2-c^2)
        in the hub. Stuck: E (e - free strain) + nu (sigma_r + sigma_theta), one common e.
        """
        thrust = bore * self.a * self.a
        inner = np.where(self.ends == LINER, thrust / ring_area(self.a, self.c), 0.0)
        hub = np.where(self.ends == BODY, thrust / self._hub_area(), 0.0)
        if not np.any(self.ends == STUCK):
            return inner, hub
        k_i, k_o, _ = self._axial()
        sum_i = 2.0 * (thrust - contact * self.c * self.c)
        sum_o = 2.0 * contact * self.c * self.c
        # Strains from the hub's free length: e_i is the inner part's own elastic strain.
        common = (thrust + k_i * self.mismatch - self.nu_i * sum_i - self.nu_o * sum_o) / (k_i + k_o)
        stuck_i = self.e_i * (common - self.mismatch) + self.nu_i * sum_i / ring_area(self.a, self.c)
        stuck_o = self.e_o * common + self.nu_o * sum_o / self._hub_area()
        stuck = self.ends == STUCK
        return np.where(stuck, stuck_i, inner), np.where(stuck, stuck_o, hub)


def face_hoops(
    *, inside: Array, outside: Array, p_in: Array | float, p_out: Array | float
) -> tuple[Array, Array]:
    """Hoop stress of a ring at its inner and its outer face, MPa.

    [p_in (r_o^2+r_i^2) - 2 p_out r_o^2]/(r_o^2-r_i^2) and
    [2 p_in r_i^2 - p_out (r_o^2+r_i^2)]/(r_o^2-r_i^2); Shigley, 9th ed., eq. 3-49 at the faces.
    A solid part (inside 0) has -p_out at its outer face; its inner value has no meaning.

    >>> [float(one) for one in face_hoops(inside=10.0, outside=50.0, p_in=300.0, p_out=0.0)]
    [325.0, 25.0]
    """
    area = ring_area(inside, outside)
    both = (outside * outside + inside * inside) / area
    at_inside = p_in * both - p_out * (2.0 * outside * outside / area)
    at_outside = p_in * (2.0 * inside * inside / area) - p_out * both
    return at_inside, at_outside


def hoop(*, inside: Array, outside: Array, p_in: Array, p_out: Array, at: Array) -> Array:
    """Hoop stress A + B/r^2 of a ring under pressure inside and outside, MPa.

    A = (p_in r_in^2 - p_out r_out^2)/(r_out^2-r_in^2), B = (p_in - p_out) r_in^2 r_out^2/(...).
    Shigley, 9th ed., eq. 3-49.

    >>> float(hoop(inside=10.0, outside=50.0, p_in=300.0, p_out=0.0, at=25.0))
    62.5
    """
    area = ring_area(inside, outside)
    a = (p_in * inside * inside - p_out * outside * outside) / area
    b = (p_in - p_out) * inside * inside / at * (outside * outside / at) / area
    return a + b


def von_mises(radial: Array, hoop_stress: Array, axial: Array) -> Array:
    """Comparison stress of three principal stresses, MPa (von Mises 1913).

    >>> float(von_mises(0.0, 100.0, 0.0))
    100.0
    """
    return np.sqrt(von_mises_square(radial, hoop_stress, axial))


def von_mises_square(radial: Array, hoop_stress: Array, axial: Array) -> Array:
    """The square of :func:`von_mises`, MPa^2.

    >>> float(von_mises_square(0.0, 30.0, 0.0))
    900.0
    """
    first = radial - hoop_stress
    second = hoop_stress - axial
    third = axial - radial
    return np.asarray((first * first + second * second + third * third) / 2.0)


def mises_at_bore(inside: Array, outside: Array) -> Array:
    """Von Mises stress at a ring's loaded bore over the pressure there, ends free.

    sqrt(1 + s + s^2), s the hoop stress over the pressure (:func:`spread`).

    >>> round(float(mises_at_bore(3.0, 5.0)), 4)
    2.7642
    """
    hoop_stress = spread(inside, outside)
    return np.asarray(np.sqrt(1.0 + hoop_stress + hoop_stress * hoop_stress))


def face_strain(*, radial: Array, hoop_stress: Array, axial: Array, e: Array, nu: float) -> Array:
    """Elastic hoop strain at a face: its diameter changes by this share (Hooke).

    >>> float(face_strain(radial=0.0, hoop_stress=100.0, axial=0.0, e=2e5, nu=0.3))
    0.0005
    """
    return (hoop_stress - nu * (radial + axial)) / e


def bore_growth(*, bore: Array, outside: Array, p: Array, e: Array, nu: float) -> Array:
    """Growth in diameter of a bore under pressure, ends open, mm.

    p d/E [(b^2+a^2)/(b^2-a^2) + nu]; Lamé.

    >>> round(float(bore_growth(bore=2.0, outside=2.5, p=1.0, e=1.0, nu=0.33)), 4)
    9.7711
    """
    square = outside * outside + bore * bore
    return p * bore / e * (square / ring_area(bore, outside) + nu)


def shaft_shrinkage(*, shaft: Array, bore: Array, p: Array, e: Array, nu: float) -> Array:
    """Loss in diameter of a shaft under pressure all round its outside, mm.

    Solid (bore 0): p d (1-nu)/E; hollow with no pressure in its bore:
    p d/E [(d^2+bore^2)/(d^2-bore^2) - nu]; Lamé.

    >>> round(float(shaft_shrinkage(shaft=10.0, bore=0.0, p=100.0, e=2e5, nu=0.3)), 6)
    0.0035
    """
    square = shaft * shaft + bore * bore
    return p * shaft / e * (square / ring_area(bore, shaft) - nu)
