"""What the numbers of a form depend on, and how its values are declared."""

from __future__ import annotations

from typing import NamedTuple

from fits.features import value as values
from fits.features.feature import Value
from fits.features.when import AS_MADE, EVERY
from fits.tables import Source

BOTH = (EVERY, AS_MADE)
GROWN = ("ring_expansion_share", "ring_temperature_share", "elastomer", "swell", "swell_share", "fluid")
HUB = ("hub_strain", "hub_expansion_share", "hub_service")
SHAFT = ("shaft_strain", "shaft_expansion_share", "shaft_service")
CUT = ("groove_width", "corner_radius", "side_angle", "backup_rings", "backup_thickness")


class Loop(NamedTuple):
    """The dimensions that each number of a form's loop depends on."""

    depth: tuple[str, ...]
    shift: tuple[str, ...] = ()
    seat: tuple[str, ...] = ()
    wall: tuple[str, ...] = ()
    gap: tuple[str, ...] = ()
    growth: tuple[str, ...] = ()
    volume: tuple[str, ...] = ()
    sealed: tuple[str, ...] = ()
    land: tuple[str, ...] = ()


def value(
    name: str,
    label: str,
    kind: str,
    equation: str,
    source: Source,
    uses: tuple[str, ...],
    when: tuple[str, ...] = BOTH,
    *,
    digits: int | None = None,
    shown: bool = True,
) -> Value:
    """A value of a gland, as made and in every state unless ``when`` says else."""
    return values.value(name, label, kind, equation, source, uses, *when, digits=digits, shown=shown)
