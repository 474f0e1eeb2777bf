"""When a rule of a gland is asked, and in which columns it speaks."""

from __future__ import annotations

from typing import Any

from fits.arrays import Mask
from fits.features.feature import States
from fits.features.parts import under_pressure
from fits.materials.metals import Metal


def pressed(gland: Any, states: States) -> Mask:
    """Columns with pressure."""
    return states.pressure > 0.0


def as_made(gland: Any, states: States) -> Mask:
    """The column at 20 degC, before service."""
    return states.columns(("as_made",))


def no_backup(gland: Any, states: States) -> bool:
    """Pressure acts on a ring without a backup ring (some forms can't have one)."""
    rings = getattr(gland, "backup_rings", None)
    return under_pressure(gland, states) and (rings is None or bool(rings.high == 0.0))


def own_wall(gland: Any, states: States) -> bool:
    """A wall of its own breathes."""
    return bool(gland.own_wall) and under_pressure(gland, states)


def hollow(gland: Any, states: States) -> bool:
    """Pressure presses a hollow inner part together."""
    bore = gland.shaft_bore
    return bore is not None and bool(bore.upper > 0.0) and under_pressure(gland, states)


def pressed_metals(gland: Any) -> tuple[Metal | None, ...]:
    """The metals of its own that bear pressure: the outer part, a hollow inner part."""
    bore = gland.shaft_bore
    return (
        gland.hub_material if gland.own_wall else None,
        gland.shaft_material if bore is not None and bore.upper > 0.0 else None,
    )


def releases(gland: Any, states: States) -> bool:
    """Gas under pressure is let out again, and nothing says that the ring stands it."""
    gas = gland.medium == "gas" or states.has_gas
    return gas and not gland.release_rated and under_pressure(gland, states)


def rotary(gland: Any, states: States) -> bool:
    """The shaft turns."""
    return bool(gland.duty == "rotary")


def moving(gland: Any, states: States) -> bool:
    """The ring rubs."""
    return bool(gland.moving)


def not_rotary(gland: Any, states: States) -> bool:
    """The shaft does not turn."""
    return bool(gland.duty != "rotary")


def parted(gland: Any, states: States) -> bool:
    """Pressure inside pushes the cover off."""
    return gland.pressure_side == "inside" and under_pressure(gland, states)


def on_inner_wall(gland: Any, states: States) -> bool:
    """The ring lies on its inside: not in a face that is pressed outward, nor around a shaft."""
    if gland.duty == "rotary":
        return False
    return type(gland).tabled_as != "face" or bool(gland.pressure_side == "outside")


def against_wall(gland: Any, states: States) -> bool:
    """The ring lies against its outer wall."""
    return type(gland).tabled_as != "face" or bool(gland.pressure_side == "inside")
