"""What the values of a press fit depend on in common, and how they are declared."""

from __future__ import annotations

from fits.features.feature import Value
from fits.features.when import EVERY
from fits.tables import Source

# The hole as it is when joined, its coat counted.
HOLE = ("hole", "coating_hole", "coating_share")
# The outside of the hub, or of the slice that is judged.
OUTSIDE = ("hub_outside", "slice", "slice_outside_share")
RADII = (*HOLE, "shaft_bore", *OUTSIDE)
LENGTH = ("length", "slice_length_share")
ELASTIC = (*RADII, "hub_modulus", "shaft_modulus", "ends", "hub_strain", "shaft_strain")
HUB_STRAIN = ("hub_strain",)
SHAFT_STRAIN = ("shaft_strain",)
SHARES = ("hub_expansion_share", "shaft_expansion_share")
SPINNING = ("speed_share", "hub_density", "shaft_density")


# What passes through both parts.
LOADS = ("axial_load", "torque", "end_thrust", *RADII)


def value(
    name: str,
    label: str,
    kind: str,
    digits: int,
    equation: str,
    source: Source,
    uses: tuple[str, ...],
    *more: str,
    shown: bool = True,
    inside: tuple[str, ...] = (),
) -> Value:
    """A value of the press fit; ``more`` are the times it has, every state when none."""
    when = more or (EVERY,)
    return Value(name, label, kind, digits, equation, source, uses, when, shown, inside)
