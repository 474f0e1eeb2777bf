"""How to cut and gauge a groove and fit its ring: the steps, from the sizes typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from fits import quantity
from fits.features.feature import States, Step
from fits.features.gland import tabled
from fits.sizes.limits import Limits
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.gland.declaration import Gland

    Ranges = Mapping[str, tuple[float, float]]

SHOP = Source("common practice", "practice")
EDGES = Source("Apple Rubber Products, Seal Design Guide, machining page: break edges by .005 in at least")
LAY = Source(
    "Parker article on surface finish quoting ORD 5700; ERIKS handbook: turned faces seal better than milled"
)
FITTING = Source("All O-Rings: at most 50 % stretch while fitting, then let it recover")
BACKUP = Source("MIL-G-5514G, 3.4: backup rings on the low-pressure side")
# Cutters shops keep, mm: whole and half millimetres (common practice).
HALF = 0.5
# By how much edges are broken (EDGES), mm.
BROKEN = 0.13


def plan(gland: Gland, numbers: Ranges, states: States) -> tuple[Step, ...]:
    """What to cut with, which depth to set, what proves it, edges and marks, fitting."""
    steps = list(_CUTTING[gland.form](gland, numbers))
    steps += _edges(gland)
    steps += _fitting(gland)
    return tuple(steps)


def _length(value: float, digits: int = 3) -> str:
    return quantity.show(value, "length", digits)


def _limits(of: Limits) -> str:
    if of.lower == of.upper:
        return _length(of.lower)
    return f"{_length(of.lower)} to {_length(of.upper)}"


def _below(width: float) -> float:
    """The widest cutter in half millimetres that leaves something for both walls, mm."""
    steps = int((width - 0.1) / HALF)
    return steps * HALF if steps > 0 else width


def _radius(gland: Any, tool: str) -> Step:
    article = "an" if tool[0] in "aeiou" else "a"
    return Step(
        f"take {article} {tool} of the bottom's radius: sharper corners crack the part, rounder ones crowd "
        "the ring",
        tool,
        f"radius {_limits(gland.corner_radius)}",
        source=SHOP,
    )


def _piston(gland: Any, numbers: Ranges) -> list[Step]:
    return [
        _turned(gland, "grooving tool, plunged square to the axis"),
        _radius(gland, "grooving tool"),
        Step(
            "measure the diameter left at the groove's bottom, not the depth of cut: bore and piston "
            "have their own limits",
            "groove micrometer, or blade micrometer; a pin of the groove's width under a plain one",
            f"groove diameter {_range(numbers, 'groove_diameter')}",
            source=SHOP,
        ),
    ]


def _rod(gland: Any, numbers: Ranges) -> list[Step]:
    return [
        _turned(gland, "internal grooving tool, plunged square to the axis"),
        _radius(gland, "grooving tool"),
        Step(
            "measure the groove's diameter in the bore, not the depth of cut",
            "inside groove gauge, or a telescoping gauge set to a micrometer",
            f"groove diameter {_range(numbers, 'groove_diameter')}",
            source=SHOP,
        ),
    ]


def _turned(gland: Any, tool: str) -> Step:
    width = gland.groove_width
    return Step(
        f"cut with a tool narrower than the groove (for example {_length(_below(width.lower), 1)}), widen "
        "it to both walls, and take a last light cut across the bottom",
        tool,
        f"width at the bottom {_limits(width)}, proved by slip gauges or pins between the walls",
        source=SHOP,
    )


def _range(numbers: Ranges, name: str) -> str:
    low, high = numbers[name]
    return _length(low) if low == high else f"{_length(low)} to {_length(high)}"


def _face(gland: Any, numbers: Ranges) -> list[Step]:
    width = gland.walls_apart
    holding = "outer" if gland.pressure_side == "inside" else "inner"
    return [
        Step(
            f"on a mill: an end mill below the width (for example {_length(_below(width.lower), 1)}), "
            "one pass around the middle, then each wall; a lathe or boring head leaves a better face",
            "end mill, or face grooving tool",
            f"width {_limits(width)}; the {holding} wall carries the ring: bring that one to size first",
            "the tool's marks run across the groove instead of around it",
            source=LAY,
        ),
        _radius(gland, "end mill"),
        _depth(gland),
    ]


def _depth(gland: Any) -> Step:
    return Step(
        "set the depth from the face the cover lies on, after that face is finished",
        "depth micrometer at four places",
        f"depth {_limits(gland.gland_depth)}",
        "the four places differ by more than the tolerance: the face isn't flat",
        source=SHOP,
    )


def _dovetail(gland: Any, numbers: Ranges) -> list[Step]:
    angle = gland.undercut_angle.low
    return [
        Step(
            "rough a square groove narrower than the mouth to full depth",
            "end mill",
            f"below {_length(gland.mouth_width.lower)} wide",
            source=SHOP,
        ),
        Step(
            "undercut both walls; leave a place at which the cutter goes in and out",
            f"dovetail cutter of {angle:g} degrees from its axis",
            f"mouth {_limits(gland.mouth_width)} at its sharp corners, before they are rounded; prove it "
            "with two pins against the walls",
            source=SHOP,
        ),
        _radius(gland, "dovetail cutter"),
        _depth(gland),
    ]


def _triangular(gland: Any, numbers: Ranges) -> list[Step]:
    return [
        Step(
            "cut a 45 degree chamfer on the corner that faces the spigot",
            "lathe tool or countersink of 90 degrees",
            f"leg {_limits(gland.leg)}, measured along the face and along the bore",
            "the two legs differ: the angle isn't 45 degrees",
            source=SHOP,
        )
    ]


_CUTTING = {
    "piston": _piston,
    "rod": _rod,
    "face": _face,
    "dovetail": _dovetail,
    "triangular": _triangular,
}


def _edges(gland: Gland) -> list[Step]:
    rows = tabled.limit("finish", gland.duty, gland.form, gland.medium)
    most = quantity.show(min(one.most for one in rows if one.most is not None), "roughness", 1)
    steps = [
        Step(
            "break every edge the ring passes, and no further at the groove: the ring creeps into a wide one",
            "stone or fine file",
            f"{_length(BROKEN, 2)} at least",
            "a burr is felt with a fingernail",
            source=EDGES,
        ),
        Step(
            "polish what the ring touches along the groove",
            "fine cloth, wound around",
            f"Ra {most} at most; no scratch, seam or mark across the ring's line",
            source=LAY,
        ),
    ]
    if gland.radial:
        angle = gland.lead_in_angle  # type: ignore[attr-defined]
        least = float(tabled.lead_in(angle, gland.ring.section.nominal))
        if least == least:
            steps.append(
                Step(
                    "give the part the ring slides into a lead-in, its ends rounded; relieve ports it passes",
                    "lathe",
                    f"at {angle} degrees, {_length(least, 1)} long at least",
                    source=Source("ISO 3601-2:1987, table 1, as quoted by Engineers Edge"),
                )
            )
    return steps


def _fitting(gland: Gland) -> list[Step]:
    steps = [
        Step(
            "oil the ring with what the fluid and rubber allow, cover threads and edges, roll it in without "
            "twisting",
            "blunt plastic tool",
            "stretched by at most half while it passes, then left to recover",
            "the ring is nicked, twisted or was squeezed before",
            source=FITTING,
        )
    ]
    rings = getattr(gland, "backup_rings", None)
    if rings is not None and rings.high > 0.0:
        side = "on the low-pressure side" if rings.high == 1.0 else "one on each side of the ring"
        steps.append(Step(f"put the backup {'ring' if rings.high == 1.0 else 'rings'} {side}", source=BACKUP))
    return steps
