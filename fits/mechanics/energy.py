"""Energy that a pressurised volume lets go when it bursts, J."""

from __future__ import annotations

AIR_PRESSURE = 0.101325
# Ratio of specific heats of air and nitrogen; bulk modulus of water, MPa (common practice).
GAMMA, WATER = 1.4, 2200.0


def of_gas(pressure: float, litres: float) -> float:
    """Isentropic expansion of a two-atom gas from a gauge pressure (MPa) to the air's.

    p V/(gamma - 1) [1 - (p_air/p)^((gamma - 1)/gamma)] (Brode's form with the expansion
    work, as pressure-test guides give it: from memory).

    >>> round(of_gas(31.03, 0.5), -2)
    31300.0
    """
    absolute = pressure + AIR_PRESSURE
    share: float = 1.0 - (AIR_PRESSURE / absolute) ** ((GAMMA - 1.0) / GAMMA)
    return absolute * 1e6 * litres * 1e-3 / (GAMMA - 1.0) * share


def of_water(pressure: float, litres: float) -> float:
    """Water compressed to a gauge pressure (MPa): p^2 V/(2 K).

    >>> round(of_water(31.03, 0.5))
    109
    """
    return pressure * pressure / (2.0 * WATER) * 1e6 * litres * 1e-3
