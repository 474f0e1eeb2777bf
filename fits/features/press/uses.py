"""What the values of a press fit depend on in common."""

from __future__ import annotations

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
