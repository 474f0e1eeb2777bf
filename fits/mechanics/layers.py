"""Several concentric rings, ends free: interface pressures, and building them stage by stage.

Rings are counted from the inside out, interface j lies between ring j and ring j + 1.
Radii in mm, pressures in MPa, interferences and growths radial in mm. Everything
broadcasts and is elementwise; the tridiagonal system is solved by its recurrence.

Source: Lamé's displacements of each ring (Budynas & Nisbett, Shigley's Mechanical
Engineering Design, 9th ed., ch. 3) joined at every interface; derived, and checked against
an independent solution of every ring's constants.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask
from fits.mechanics import cylinder

INSIDE, OUTSIDE = "inside", "outside"


class Contacts(NamedTuple):
    """What acts at every interface: pressure, MPa, and the interference left there, radial mm.

    The interference left is that of the two rings under all their other pressures; below 0
    it is the gap of an open interface, whose pressure is 0.
    """

    pressures: tuple[Array, ...]
    left: tuple[Array, ...]


class Built(NamedTuple):
    """Rings as joined one after the other, radial mm.

    ``free`` are the interferences that the free parts would have, ``joining`` those that
    are measured when each interface is made; ``bore`` and ``outside`` what the innermost
    and the outermost face have grown by when all is joined.
    """

    free: tuple[Array, ...]
    joining: tuple[Array, ...]
    bore: Array
    outside: Array


class Stack(NamedTuple):
    """Rings of n + 1 radii (``radii[0]`` 0 is a solid core), n moduli and Poisson's ratios."""

    radii: tuple[Array, ...]
    moduli: tuple[Array, ...]
    poisson: tuple[float, ...]

    @property
    def interfaces(self) -> range:
        """The interfaces by number."""
        return range(len(self.moduli) - 1)

    def _own(self, j: int) -> Array:
        """Radial interference per pressure of one interface alone, mm/MPa."""
        a, c, b = self.radii[j : j + 3]
        (e_i, e_o), (nu_i, nu_o) = self.moduli[j : j + 2], self.poisson[j : j + 2]
        return cylinder.compliance(a=a, c=c, b=b, e_i=e_i, nu_i=nu_i, e_o=e_o, nu_o=nu_o)

    def _from_inside(self, j: int) -> Array:
        """How far pressure inside ring j pushes it into interface j, mm/MPa."""
        a, c = self.radii[j : j + 2]
        return np.asarray(c / self.moduli[j] * (2.0 * a * a / cylinder.ring_area(a, c)))

    def _from_outside(self, j: int) -> Array:
        """How far pressure outside ring j + 1 pushes it into interface j, mm/MPa."""
        c, b = self.radii[j + 1 : j + 3]
        return np.asarray(c / self.moduli[j + 1] * (2.0 * b * b / cylinder.ring_area(c, b)))

    def contacts(
        self,
        interference: Sequence[Array | float],
        bore: Array | float = 0.0,
        outside: Array | float = 0.0,
        made: Sequence[bool] | None = None,
    ) -> Contacts:
        """Pressure at every interface; where it would have to pull, the interface is open.

        Pressure at an interface only ever presses its neighbours closer. So the solution is
        found by closing: each round closes what its neighbours have pushed together, nothing
        opens again, and there are at most as many rounds as interfaces.

        Args:
            interference: radial, of the free parts at the state's temperature and speed.
            bore: fluid pressure in the bore; 0 for a solid core.
            outside: fluid pressure outside.
            made: which interfaces are joined already; None for all.

        >>> one = Stack((np.array(0.0), np.array(1.0), np.array(2.0)), (np.array(3.0),) * 2, (0.3, 0.3))
        >>> round(float(one.contacts([1.0]).pressures[0]), 4)
        1.125
        """
        last = self.interfaces[-1]
        inward = [self._from_inside(j) for j in self.interfaces]
        outward = [self._from_outside(j) for j in self.interfaces]
        own = [self._own(j) for j in self.interfaces]
        drive = [np.asarray(one) for one in interference]
        drive[0] = drive[0] + inward[0] * bore
        drive[last] = drive[last] + outward[last] * outside
        joined = [True] * len(drive) if made is None else list(made)
        touching = [joined[j] & (drive[j] > 0.0) for j in self.interfaces]
        for _ in self.interfaces:  # pragma: no branch (the last round closes nothing, so it ends by break)
            found = _solve(own, inward, outward, drive, touching)
            left = _left(inward, outward, drive, found)
            now = [touching[j] | (joined[j] & (left[j] > 0.0)) for j in self.interfaces]
            if all(np.array_equal(was, one) for was, one in zip(touching, now, strict=True)):
                break
            touching = now
        # An unknown number anywhere leaves every interface unknown, open ones too.
        unknown = 0.0 * (sum(drive[1:], drive[0]) + sum(own[1:], own[0]))
        return Contacts(tuple(one + unknown for one in found), tuple(one + unknown for one in left))

    def acting(self, interference: Sequence[Array]) -> tuple[Array, ...]:
        """The interference that each interface would have were it the last to be made, radial mm.

        It is above 0 where the interface holds, and the gap below 0 where it is open.
        """
        every = [True for _ in self.interfaces]
        return tuple(
            self.contacts(interference, made=[*every[:j], False, *every[j + 1 :]]).left[j]
            for j in self.interfaces
        )

    def growth(self, ring: int, p_in: Array | float, p_out: Array | float) -> tuple[Array, Array]:
        """Radial growth of a ring's inside and outside under its pressures, mm."""
        inside, outside = self.radii[ring : ring + 2]
        at_inside, at_outside = cylinder.face_hoops(inside=inside, outside=outside, p_in=p_in, p_out=p_out)
        e, nu = self.moduli[ring], self.poisson[ring]
        grown = []
        for radius, hoop, p in ((inside, at_inside, p_in), (outside, at_outside, p_out)):
            radial = np.asarray(-1.0 * p)
            strain = cylinder.face_strain(radial=radial, hoop_stress=hoop, axial=0.0 * radial, e=e, nu=nu)
            grown.append(radius * strain)
        return grown[0], grown[1]

    def between(
        self, ring: int, pressures: Sequence[Array], bore: Array | float = 0.0
    ) -> tuple[Array, Array]:
        """The pressures inside and outside a ring, MPa."""
        none = 0.0 * pressures[0]
        p_in = bore + none if ring == 0 else pressures[ring - 1]
        return np.asarray(p_in), none if ring == len(self.moduli) - 1 else pressures[ring]

    def built(
        self,
        cut: Sequence[tuple[Array, Array]],
        order: Sequence[int],
        finished: frozenset[tuple[int, str]] = frozenset(),
    ) -> Built:
        """The interferences of rings that are joined one interface after the other.

        A face that is finished has its size as fitted, when its own interface comes to be
        made; what it has grown by then is taken off to come to the free part. What is cut
        away takes its stress along, so the finished radii hold for the whole stack.

        Args:
            cut: inside and outside radius of every ring as cut.
            order: the interfaces in the order in which they are made.
            finished: (ring, "inside" or "outside") of faces cut after joining.
        """
        none = 0.0 * cut[0][1]
        free, joining = [none for _ in self.interfaces], [none for _ in self.interfaces]
        joined = [False for _ in self.interfaces]
        for j in order:
            pressures = self.contacts(free, made=joined).pressures
            _, grown = self.growth(j, *self.between(j, pressures))
            opened, _ = self.growth(j + 1, *self.between(j + 1, pressures))
            inner = cut[j][1] - (grown if (j, OUTSIDE) in finished else 0.0)
            outer = cut[j + 1][0] - (opened if (j + 1, INSIDE) in finished else 0.0)
            free[j] = inner - outer
            joining[j] = free[j] + grown - opened
            joined[j] = True
        pressures, last = self.contacts(free).pressures, len(self.moduli) - 1
        bore, _ = self.growth(0, *self.between(0, pressures))
        _, outside = self.growth(last, *self.between(last, pressures))
        return Built(tuple(free), tuple(joining), bore, outside)


def _solve(
    own: list[Array], inward: list[Array], outward: list[Array], drive: list[Array], touching: list[Mask]
) -> list[Array]:
    """Own p_j - inward p_(j-1) - outward p_(j+1) = drive where it touches, p_j = 0 elsewhere."""
    gain, base = np.zeros(()), np.zeros(())
    gains, bases = [], []
    for j in range(len(drive)):
        stiff = own[j] - inward[j] * gain
        base = np.where(touching[j], (drive[j] + inward[j] * base) / stiff, 0.0)
        gain = np.where(touching[j], outward[j] / stiff, 0.0)
        gains.append(gain)
        bases.append(base)
    found = [bases[-1]]
    for j in reversed(range(len(drive) - 1)):
        found.insert(0, bases[j] + gains[j] * found[0])
    return found


def _left(inward: list[Array], outward: list[Array], drive: list[Array], found: list[Array]) -> list[Array]:
    """The interference that the other interfaces leave to each."""
    left = []
    for j, one in enumerate(drive):
        here = one
        if j > 0:
            here = here + inward[j] * found[j - 1]
        if j < len(drive) - 1:
            here = here + outward[j] * found[j + 1]
        left.append(here)
    return left
