"""What kinds have in common: a metal part in every state, shares, sources, cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from fits.arrays import Array, Mask
from fits.features.feature import GASES, Caution, Dimension, NotCovered, Refusal, States
from fits.materials.metals import ROOM, Metal
from fits.mechanics import energy
from fits.sizes.limits import Limits
from fits.tables import Source

PRACTICE = Source("common practice", "practice")
GEOMETRY = Source("geometry", "derived")


def under_pressure(feature: Any, states: States) -> bool:
    """Whether any state has pressure."""
    return bool((states.pressure > 0.0).any())


def warm(states: States) -> bool:
    """Whether any state is away from 20 degC."""
    temperatures = (states.hub_temperature, states.shaft_temperature)
    return any(bool((temperature != ROOM).any()) for temperature in temperatures)


def _gas_proof(feature: Any, states: States) -> bool:
    return any(
        bool(proof) and medium in GASES
        for proof, medium in zip(states.proof.reshape(-1), states.media, strict=True)
    )


def _stored(feature: Any, states: States) -> str:
    pressure = max(
        float(states.pressure.reshape(-1, len(states.media))[..., column].max())
        for column, medium in enumerate(states.media)
        if medium in GASES
    )
    gas, water = energy.of_gas(pressure, 1.0) / 1000.0, energy.of_water(pressure, 1.0) / 1000.0
    said = f"a litre of gas lets go {gas:.1f} kJ when it bursts, of water {water:.2f} kJ"
    return f"at {pressure:.1f} MPa {said}"


REFUSALS = (
    Refusal(
        "proof test with gas",
        _stored,
        "prove it with water or oil, bled of air, behind a barrier; a gas test is for licensed people",
        PRACTICE,
        _gas_proof,
    ),
    Refusal(
        "oxygen",
        lambda feature, states: "grease, rubber, aluminium, trapped fluid and fast filling ignite in it",
        "ask an oxygen specialist and the cleaning standards of your country",
        PRACTICE,
        lambda feature, states: "oxygen" in states.media,
    ),
)

# What can hurt someone while a joint is made, or turns; a kind may say when it applies.
PRESSING = Caution(
    "Pressing: guard the press, keep hands and face out of line with the parts, wear eye "
    "protection; stop when the force rises suddenly or the part tilts.",
    PRACTICE,
)
HOT_PARTS = Caution(
    "Hot parts: gloves, dry tools, a ventilated oven; an oil bath stays well below its flash point.",
    PRACTICE,
)
COLD_PARTS = Caution(
    "Dry ice and liquid nitrogen: ventilate (they displace oxygen), insulated gloves and "
    "face shield, never chill a sealed volume, dry off condensed air and frost.",
    PRACTICE,
)
PRESSURE = Caution(
    "Pressure: prove with liquid, not gas, behind a shield. This is a calculation, not an "
    "approval: local codes and a licensed engineer decide.",
    PRACTICE,
    under_pressure,
)


def _proof_low(feature: Any, states: States) -> bool:
    proof = states.proof & (states.pressure > 0.0)
    if not bool(proof.any()):
        return False
    return float(states.pressure[proof].max()) < float(states.pressure[~states.proof].max())


def _freezes(feature: Any, states: States) -> bool:
    import numpy as np

    cold = (states.hub_temperature < FREEZING) | (states.shaft_temperature < FREEZING)
    wet = getattr(feature, "fluid", None) == "water"
    columns = np.asarray(np.reshape(cold, (-1, len(states.media))).any(axis=0))
    return any(frozen and (wet or one == "water") for frozen, one in zip(columns, states.media, strict=True))


# Water freezes below, degC.
FREEZING = 0.0
# What is said wherever there is pressure.
PRESSURES = (
    PRESSURE,
    Caution(
        "A proof test below the working pressure proves nothing of it: codes ask for more, often 1.3 to 1.5 "
        "times as much.",
        PRACTICE,
        _proof_low,
    ),
    Caution(
        "Water freezes below 0 degC and bursts what holds it: drain it, or take what does not freeze.",
        PRACTICE,
        _freezes,
    ),
)


# Long use above this weakens an aged aluminium temper (common practice), degC.
AGED_LONG_USE = 100.0


def wall_factor(states: States) -> Array:
    """Factor on the least yield of a wall that breathes under pressure (common practice)."""
    import numpy as np

    return np.where(states.proof, 1.0, 1.5)


def share(name: str, *, on: bool, shared: str = "") -> Dimension:
    """A dimension from 0 to 1 that stands for something known only as a range."""
    levels = (0.0, 1.0) if on else (0.0,)
    return Dimension(name, name.replace("_", " "), "number", levels, (0.0, 1.0), shared)


def pressure_share(states: States) -> Dimension:
    """A state's pressure means anything from 0 to it: one share for the whole part."""
    return share("pressure_share", on=under_pressure(None, states), shared="part.pressure")


class Material(NamedTuple):
    """One part's metal in every state: arrays over the columns, and what is not covered.

    ``allowed`` is the yield over the safety factor.
    """

    modulus: Array
    strain: Array
    allowed: Array
    gaps: tuple[NotCovered, ...]


def where_loaded(of: Material, loaded: Mask) -> list[NotCovered]:
    """A material's gaps; its modulus matters only where there is pressure or speed."""
    return [
        replace(gap, mask=gap.mask & loaded) if gap.about.endswith("_modulus") else gap for gap in of.gaps
    ]


def no_expansion(metal: Metal) -> str:
    """The reason why a metal has no expansion at some temperature."""
    low, high = metal.heating_range()
    return f"{metal.name}: expansion is known from {low:g} to {high:g} degC"


def temperature_of(share: Array, metal: Metal, strain: Array) -> Array:
    """Temperature at which a metal has a strain, at the low or high end of its expansion."""
    import numpy as np

    from fits.mechanics import heat

    low = heat.temperature_at(strain, *metal.strain_table(0.0))
    if not metal.scatters:
        return low
    return np.where(share > 0.5, heat.temperature_at(strain, *metal.strain_table(1.0)), low)


def typed_metals(*metals: Metal | None) -> list[str]:
    """What the report says of metals with typed values, each once."""
    named = {metal.name: metal for metal in metals if metal is not None and metal.typed}
    return [f"{name}: typed values taken as the same in every state" for name in named]


def metal_shares(part: str, metal: Metal | None) -> list[Dimension]:
    """The dimensions of a metal known only as a range: expansion and modulus."""
    return [
        share(f"{part}_expansion_share", on=metal is not None and metal.scatters),
        share(f"{part}_modulus_share", on=metal is not None and metal.modulus_scatters),
    ]


def wanted(limits: Limits, along: Array) -> tuple[Array, Array]:
    """Least and most of a size that is only held against, mm.

    Args:
        limits: the size as typed.
        along: its dimension; sizes along a lead, shape (lead, corners, 1), stand in the limits'
            place, each at its own corners.
    """
    import numpy as np

    ends = along if along.ndim > 2 else np.array([[limits.lower], [limits.upper]])
    return ends.min(axis=-2, keepdims=True), ends.max(axis=-2, keepdims=True)


def pressure_inside(states: States) -> list[str]:
    """What the pressure of a state is taken as; nothing where there is none."""
    return ["pressure is inside; from outside it is not covered"] if (states.pressure > 0.0).any() else []


def material(
    part: str, metal: Metal | None, temperature: Array, d: Mapping[str, Array], factor: Array
) -> Material:
    """Modulus, thermal strain and allowed stress of a part.

    Args:
        part: "hub" or "shaft", the stem of the input's name.
        metal: its metal, None where the user gave none.
        temperature: degC, by column.
        d: the dimensions, among them the part's shares of expansion and modulus.
        factor: safety factor on yield.
    """
    import numpy as np

    if metal is None:
        unknown = np.full(np.shape(temperature), np.nan)
        strain = np.where(temperature == ROOM, 0.0, np.nan)
        inputs = {"modulus": unknown, "strain": strain, "yield": unknown}
        reason = f"{part}_material not given"
        gaps = [NotCovered(f"{part}_{name}", reason, np.isnan(a)) for name, a in inputs.items()]
        return Material(unknown, strain, unknown, tuple(gap for gap in gaps if gap.mask.any()))
    modulus = metal.modulus_at(temperature, d[f"{part}_modulus_share"])
    strain = metal.strain_at(temperature, d[f"{part}_expansion_share"])
    strength = metal.yield_at(temperature)
    not_there = f"{metal.name}: no %s at that temperature in the table"
    gaps = [
        NotCovered(f"{part}_modulus", not_there % "modulus", np.isnan(modulus)),
        NotCovered(f"{part}_strain", no_expansion(metal), np.isnan(strain)),
    ]
    if metal.max_service is not None:
        reason = f"{metal.name}: above its service limit of {metal.max_service:g} degC"
        gaps.append(NotCovered(f"{part}_service", reason, np.asarray(temperature > metal.max_service)))
    # An unknown hot yield is not above the cold one: it may fail a rule, never pass it.
    cold = metal.yield_at(np.full_like(temperature, ROOM))
    known = np.where(np.isnan(strength), cold, strength)
    gaps.append(NotCovered(f"{part}_yield", not_there % "yield", np.isnan(strength)))
    if metal.yield_minimum is None and metal.yield_typical is not None:
        reason = f"{metal.name}: only a typical yield is known, no minimum"
        every = np.ones(np.shape(temperature), dtype=bool)
        gaps.append(NotCovered(f"{part}_yield", reason, every))
    return Material(modulus, strain, known / factor, tuple(gap for gap in gaps if gap.mask.any()))
