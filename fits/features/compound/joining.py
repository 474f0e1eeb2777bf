"""Joining each stage hot or cold: how far the outer part is heated or the inner one chilled."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered
from fits.features.parts import no_expansion, temperature_of
from fits.mechanics.layers import Built

if TYPE_CHECKING:
    from fits.features.compound.declaration import Compound

    Dimensions = Mapping[str, Array]

# Joining clearance over the diameter: Zwickau formula sheet 6/6 (2013), eq. 14.
JOINING = 0.001


def parts_of(of: Compound, interface: int) -> tuple[range, range]:
    """The layers of the inner and of the outer part when an interface is made."""
    joined = set(of.joints[: of.joints.index(interface)])
    first, last = interface, interface + 1
    while first - 1 in joined:
        first -= 1
    while last in joined:
        last += 1
    return range(first, interface + 1), range(interface + 1, last + 1)


def temperatures(numbers: dict[str, Array], of: Compound, d: Dimensions, built: Built) -> list[NotCovered]:
    """Outer part heated, or inner part chilled, until each stage goes together with its clearance.

    A part of several layers of one metal grows as one piece; of different metals it doesn't.
    """
    from fits.features.compound.equations import at

    gaps: list[NotCovered] = []
    wanted: list[Array] = []
    hot: list[Array] = []
    cold: list[Array] = []
    for j, measured in enumerate(built.joining):
        hole = d[f"layers.{j + 2}.inside"]
        wanted.append(d["joining_clearance"] if of.joining_clearance is not None else JOINING * hole)
        strain = (np.maximum(2.0 * measured, 0.0) + wanted[j]) / hole
        inner, outer = parts_of(of, j)
        here = (d["interface"] > j - 0.5) & (d["interface"] < j + 0.5 if j < len(built.joining) - 1 else True)
        words = f"layers {j + 1}-{j + 2}"
        for name, what, beyond, which, side, to, wanted_strain in (
            ("heat_outer_to", "heating the outer part", "greatest", outer, j + 1, hot, strain),
            ("chill_inner_to", "chilling the inner part", "least", inner, j, cold, -strain),
        ):
            metal = of.rings[side].material
            share = d[f"layer_{side + 1}_expansion_share"]
            found = temperature_of(share, metal, wanted_strain)
            reason = f"{words}: {what} does not open the fit ({no_expansion(metal)})"
            if any(of.rings[k].material != metal for k in which):
                found = np.full_like(found, np.nan)
                reason = f"{words}: {what}, joined already of different metals, is not covered"
                beyond = ""
            to.append(found)
            gaps.append(NotCovered(name, reason, np.isnan(found) & here, beyond=beyond))  # type: ignore[arg-type]
    numbers["wanted_gap"] = at(d["interface"], wanted)
    numbers["heat_outer_to"], numbers["chill_inner_to"] = at(d["interface"], hot), at(d["interface"], cold)
    return gaps
