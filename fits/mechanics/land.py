"""The land beside a groove: a ring of metal that pressure bends over."""

from __future__ import annotations

from fits.arrays import Array


def root_stress(*, pressure: Array, height: Array, width: Array, curve: Array | float = 0.0) -> Array:
    """Von Mises stress at the root of a land that pressure loads over its whole height, MPa.

    The land is taken as wedges that bend each for itself about the root: bending ``6 M/t^2``
    and mean shear ``V/t`` with ``M = p (h^2/2 + c h^3/3)`` and ``V = p (h + c h^2/2)`` per
    length of root. Around a piston hoop stress relieves the root. Inside a housing it loads
    it, by less than the wedges narrow: there the land is taken as straight.

    Args:
        pressure: on one side of the land, MPa.
        height: from the groove's bottom to the end of the land, mm.
        width: thickness of the land at its narrowest, mm.
        curve: 1 over the root's radius, 1/mm, for a land that reaches outward (a piston's); 0
            for a straight one and one that reaches inward (a housing's).

    Source: equilibrium of a cantilever wedge (statics); von Mises. Tested against thin plates.

    >>> round(float(root_stress(pressure=10.0, height=2.0, width=2.0)), 2)
    34.64
    """
    moment = pressure * height * height * (0.5 + curve * height / 3.0)
    shear = pressure * height * (1.0 + curve * height / 2.0) / width
    bending = 6.0 * moment / (width * width)
    return (bending * bending + 3.0 * shear * shear) ** 0.5
