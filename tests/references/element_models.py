"""Press fits by axisymmetric finite elements (scikit-fem): a test oracle.

No equation of rings is used here, only Hooke's law in three dimensions and equilibrium. A quarter
of the section is modelled: z = 0 is the plane of symmetry (u_z = 0), the rest of both rings is
free but for the loads named. Nine-node quadrilaterals (biquadratic, `ElementQuad2`) on straight
mesh lines; both rings share the lines in z, so that nodes of the two faces lie on each other.

The interference is a jump between the faces: u_r of the hub less u_r of the inner part is
`interference` at every pair of nodes in contact. Without friction the axial displacements are left
alone; stuck faces have u_z jump by `slip` x z (0: they gripped at one temperature). The jump is
put in by elimination. Nodes whose tie would have to pull are let go, and tied again where the
faces would overlap, until nothing changes; `opened` counts those let go.

The contact pressure comes from the nodal forces the tie needs, which are spread over the face by
the face's own mass matrix; the sum of these forces is the whole force, free of that spreading.

Units: mm, MPa. Radii a (bore of the inner part), c (interface), b (outside of the hub).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve
from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, FacetBasis, LinearForm, MeshQuad

Lines = np.ndarray
Tie = tuple[np.ndarray, np.ndarray, np.ndarray]  # masters, slaves, jump


@dataclass(frozen=True)
class Ring:
    """A ring from z = 0 to `length`; ``step`` = (z, radius) gives it another outside up to that z."""

    inside: float
    outside: float
    length: float
    modulus: float
    poisson: float
    step: tuple[float, float] | None = None


@dataclass(frozen=True)
class Loads:
    """What acts besides the interference: fluid in the bore and axial pulls on the far ends, MPa."""

    bore: float = 0.0
    pull_inner: float = 0.0
    pull_hub: float = 0.0


UNLOADED = Loads()


@dataclass(frozen=True)
class Solved:
    """Pressure p at the nodes z of the contact, from z = 0 to its end; displacements at z = 0."""

    z: np.ndarray
    p: np.ndarray
    mean: float  # whole radial force over the face's area, MPa
    bore_growth: float  # radial, as the others: of the inner part's bore
    face_growth: float  # of the hub's bore
    outside_growth: float  # of the hub's outside
    opened: int  # nodes of the face not in contact

    def at(self, z: float) -> float:
        """The pressure at a mesh line, MPa."""
        (where,) = np.flatnonzero(np.isclose(self.z, z, rtol=0.0, atol=1e-9))
        return float(self.p[where])


def lines(*spans: tuple[float, float, float]) -> Lines:
    """Mesh lines of spans (from, to, longest element), one after the other."""
    parts = [np.linspace(low, high, 1 + max(1, round((high - low) / size))) for low, high, size in spans]
    return np.unique(np.round(np.concatenate(parts), 12))


def _strain(u, r):
    """Radial, axial, hoop and (engineering) shear strain."""
    return u.grad[0, 0], u.grad[1, 1], u[0] / r, u.grad[0, 1] + u.grad[1, 0]


@BilinearForm
def _stiffness(u, v, w):
    r = w.x[0]
    e, virtual = _strain(u, r), _strain(v, r)
    pressure_like = w.lam * (e[0] + e[1] + e[2])
    work = sum((pressure_like + 2.0 * w.mu * e[k]) * virtual[k] for k in range(3))
    return (work + w.mu * e[3] * virtual[3]) * r


@LinearForm
def _radial(v, w):
    return v[0] * w.x[0]


@LinearForm
def _axial(v, w):
    return v[1] * w.x[0]


@BilinearForm
def _face_mass(u, v, w):
    return u[0] * v[0] * w.x[0]


class _Body:
    """One ring meshed and assembled (per radian)."""

    def __init__(self, ring: Ring, r: Lines, z: Lines):
        mesh = MeshQuad.init_tensor(r, z)
        if ring.step is not None:
            mid_r, mid_z = mesh.p[:, mesh.t].mean(axis=1)
            upto, radius = ring.step
            beyond = mid_r > np.where(mid_z < upto, radius, ring.outside)
            mesh = mesh.remove_elements(np.flatnonzero(beyond))
        self.mesh, self.ring = mesh, ring
        self.element = ElementVector(ElementQuad2())
        self.basis = Basis(mesh, self.element, intorder=6)
        e, nu = ring.modulus, ring.poisson
        self.stiffness = _stiffness.assemble(
            self.basis, lam=e * nu / ((1.0 + nu) * (1.0 - 2.0 * nu)), mu=e / (2.0 * (1.0 + nu)))
        self.load = np.zeros(self.basis.N)

    def _facets(self, axis: int, at: float, upto: float = np.inf) -> np.ndarray:
        return self.mesh.facets_satisfying(
            lambda x: np.isclose(x[axis], at) & (x[1] < upto), boundaries_only=True)

    def push(self, form: LinearForm, axis: int, at: float, stress: float) -> None:
        """A traction on the face where the coordinate is `at`."""
        if stress:
            face = FacetBasis(self.mesh, self.element, facets=self._facets(axis, at), intorder=6)
            self.load += stress * form.assemble(face)

    def face(self, radius: float, upto: float, component: int) -> np.ndarray:
        """Unknowns of one component (0 radial, 1 axial) along a cylinder, in order of z."""
        found = self.basis.get_dofs(self._facets(0, radius, upto)).all(f"u^{component + 1}")
        return found[np.argsort(self.basis.doflocs[1, found])]

    def face_mass(self, radius: float, upto: float, unknowns: np.ndarray) -> sparse.csc_matrix:
        face = FacetBasis(self.mesh, self.element, facets=self._facets(0, radius, upto), intorder=6)
        return _face_mass.assemble(face)[unknowns][:, unknowns].tocsc()

    def held(self) -> np.ndarray:
        """Unknowns that are 0: u_z in the plane of symmetry, u_r on the axis of a solid part."""
        middle = self.basis.get_dofs(self._facets(1, 0.0)).all("u^2")
        if self.ring.inside > 0.0:
            return middle
        return np.concatenate((middle, self.face(0.0, np.inf, 0)))


def solve(
    inner: Ring, hub: Ring, *, r_inner: Lines, r_hub: Lines, z: Lines, interference: float,
    stuck: bool = False, slip: float = 0.0, loads: Loads = UNLOADED,
) -> Solved:
    """The joint on the mesh lines given; contact runs to the end of the shorter ring.

    Args:
        interference: radial, mm.
        slip: stuck faces only: jump of u_z per mm of length, hub less inner part.
    """
    contact = min(inner.length, hub.length)
    part, outer = (_Body(one, r, z[z <= one.length]) for one, r in ((inner, r_inner), (hub, r_hub)))
    part.push(_radial, 0, inner.inside, loads.bore)
    part.push(_axial, 1, inner.length, loads.pull_inner)
    outer.push(_axial, 1, hub.length, loads.pull_hub)

    first = part.basis.N
    stiffness = sparse.block_diag((part.stiffness, outer.stiffness), format="csr")
    load = np.concatenate((part.load, outer.load))
    held = np.concatenate((part.held(), first + outer.held()))
    radial = part.face(hub.inside, contact, 0), first + outer.face(hub.inside, contact, 0)
    axial = part.face(hub.inside, contact, 1), first + outer.face(hub.inside, contact, 1)
    height = part.basis.doflocs[1, radial[0]]

    closed = np.ones(height.size, dtype=bool)
    for _ in range(50):
        ties = [(radial, np.full(height.size, interference))] + ([(axial, slip * height)] if stuck else [])
        u = _tied(stiffness, load, held, [(i[closed], o[closed], by[closed]) for (i, o), by in ties])
        forces = (load - stiffness @ u)[radial[0]]  # on the inner part, inwards: pressure
        apart = u[radial[1]] - u[radial[0]] - interference
        now = np.where(closed, forces > 0.0, apart < 0.0)
        if np.array_equal(now, closed):
            break
        closed = now
    else:
        raise RuntimeError("the contact did not settle in 50 rounds")

    p = spsolve(part.face_mass(hub.inside, contact, radial[0]), forces)
    return Solved(
        z=height, p=p, mean=float(forces.sum() / (hub.inside * contact)),
        bore_growth=float(u[part.face(inner.inside, np.inf, 0)[0]]),
        face_growth=float(u[radial[1][0]]),
        outside_growth=float(u[first + outer.face(hub.step[1] if hub.step else hub.outside, np.inf, 0)[0]]),
        opened=int(np.count_nonzero(~closed)))


def _tied(stiffness: sparse.csr_matrix, load: np.ndarray, held: np.ndarray, ties: list[Tie]) -> np.ndarray:
    """Displacements with `held` at 0 and each tie's u[slave] = u[master] + jump, by elimination."""
    size = load.size
    column, jump = np.arange(size), np.zeros(size)
    for masters, slaves, by in ties:
        column[slaves] = masters
        jump[slaves] = by
    free = np.setdiff1d(np.flatnonzero(column == np.arange(size)), held)
    spread = sparse.csr_matrix((np.ones(size), (np.arange(size), column)), shape=(size, size))[:, free]
    reduced = (spread.T @ stiffness @ spread).tocsc()
    return spread @ spsolve(
        reduced, spread.T @ (load - stiffness @ jump), permc_spec="MMD_AT_PLUS_A") + jump
