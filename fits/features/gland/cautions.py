"""What a gland refuses, and what can hurt someone."""

from __future__ import annotations

from typing import Any

from fits.features.feature import Caution, Refusal, States
from fits.features.gland.allowed import fluids_of
from fits.features.gland.sources import RUBBER, SOAKING
from fits.features.parts import PRACTICE, PRESSURES, REFUSALS
from fits.materials.elastomers import clash
from fits.tables import Source

HARD_ENOUGH = 80.0


def _oxygen(gland: Any, states: States) -> bool:
    return "oxygen" in (gland.medium, gland.fluid, *states.media)


def _clashing(gland: Any, states: States) -> list[str]:
    """The fluids that the rubber does not stand; oxygen is refused by itself."""
    met = [one for one in fluids_of(gland, states) if one != "oxygen"]
    return [one for one in met if clash(gland.elastomer, one).verdict == "refuse"]


REFUSALS_OF_GLANDS = (
    REFUSALS[0],
    Refusal(
        "oxygen",
        lambda gland, states: (
            "fast filling heats it until rubber, grease and dirt ignite, and the fire burns metal; no ring "
            "of a general table is rated for it"
        ),
        "ask an oxygen specialist and the cleaning standards of your country; no numbers are given",
        PRACTICE,
        _oxygen,
    ),
    Refusal(
        "rubber and fluid clash",
        lambda gland, states: "; ".join(
            clash(gland.elastomer, one).reason for one in _clashing(gland, states)
        ),
        "choose rubber that stands the fluid",
        RUBBER,
        lambda gland, states: bool(_clashing(gland, states)),
    ),
)


def _gas(gland: Any, states: States) -> bool:
    hard = gland.elastomer.hardness >= HARD_ENOUGH
    gas = gland.medium == "gas" or states.has_gas
    return gas and bool((states.pressure > SOAKING).any()) and not hard


def _rubs_on_aluminium(gland: Any, states: States) -> bool:
    # The bore around a piston, the rod in a housing.
    if not gland.moving:
        return False
    on = gland.hub_material if gland.form == "piston" else gland.shaft_material
    return on is not None and on.family == "aluminium"


CAUTIONS = (
    *PRESSURES,
    Caution(
        "Gas above 3 MPa soaks into the ring; let out faster than about 1.4 MPa a minute it splits rubber "
        "below 80 Shore A. Vent slowly, or take harder rubber rated for it and a small section.",
        PRACTICE,
        _gas,
    ),
    Caution(
        "Gas and vacuum: a ring lets gas through by permeation, more when warm; what is worked out from a "
        "typed permeability is an estimate, and the joint's own leaks come on top.",
        PRACTICE,
        lambda gland, states: gland.medium in ("gas", "vacuum"),
    ),
    Caution(
        "A ring that rubs in gas or water runs dry: grease it with what the rubber stands (never for "
        "oxygen), and renew the grease.",
        PRACTICE,
        lambda gland, states: gland.moving and (gland.medium != "liquid" or gland.fluid == "water"),
    ),
    Caution(
        "Bare aluminium wears under a ring that moves on it, and the wear cuts the ring: hard anodise it "
        "and polish, or sleeve it.",
        PRACTICE,
        _rubs_on_aluminium,
    ),
    Caution(
        "Vacuum: rings of 65 to 80 Shore A, kept below 120 degC, baked before use, no solvent on them.",
        Source("Industrial Heating, The ubiquitous O-ring; NASA PD-ED-1223"),
        lambda gland, states: gland.medium == "vacuum",
    ),
    Caution(
        "Range, set and swell are those of a family of rubbers: the compound's data sheet decides.",
        PRACTICE,
    ),
    Caution(
        "Crushed into its corner the ring keeps that shape: never use it twice.",
        PRACTICE,
        lambda gland, states: type(gland).tabled_as == "triangular",
    ),
    Caution(
        "A dovetail leaves little room: it is not for a wide range of heat or for rubber that swells.",
        Source("Seal & Design, dovetail groove table; Ace Seal"),
        lambda gland, states: type(gland).tabled_as == "dovetail",
    ),
)
