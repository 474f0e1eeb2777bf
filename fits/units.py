"""Kinds of quantity and the units of the trade, as exact factors."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

_LBF = 4.4482216152605
_PSI = _LBF / 645.16
_TURN = 2.0 * math.pi


class Kind(NamedTuple):
    """A kind of quantity: what it is called, and its unit inside, in reports and on inch sheets.

    ``inch`` is (unit, factor from the inside unit, decimals more than in metric); ``decimals`` as it
    is usually shown in metric.
    """

    name: str
    inside: str
    report: str
    to_report: float
    inch: tuple[str, float, int]
    decimals: int
    examples: str


KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("length", "mm", "mm", 1.0, ("in", 1 / 25.4, 1), 4, "mm, um, in, thou"),
        Kind("roughness", "um", "um", 1.0, ("uin", 1 / 0.0254, -1), 2, "um, uin"),
        Kind("temperature", "degC", "degC", 1.0, ("degF", 1.8, 0), 0, "degC, degF, K"),
        Kind("temperature difference", "K", "K", 1.0, ("degF", 1.8, 0), 0, "K, delta_degC"),
        Kind("pressure", "MPa", "MPa", 1.0, ("psi", 1 / _PSI, -2), 1, "MPa, bar, psi, ksi, GPa"),
        Kind("force", "N", "N", 1.0, ("lbf", 1 / _LBF, 0), 0, "N, kN, lbf, kgf"),
        Kind("torque", "N*mm", "N*m", 1e-3, ("lbf*in", 1 / (_LBF * 25.4), 0), 2, "N*m, lbf*in"),
        Kind("speed", "rad/s", "rpm", 60.0 / _TURN, ("rpm", 60.0 / _TURN, 0), 0, "rpm, rad/s"),
        Kind("density", "kg/m^3", "kg/m^3", 1.0, ("kg/m^3", 1.0, 0), 0, "kg/m^3, g/cm^3"),
        Kind("expansion", "1/K", "1/K", 1.0, ("1/K", 1.0, 0), 2, "1/K, um/(m*K), 1/degF"),
        Kind("time", "s", "s", 1.0, ("s", 1.0, 0), 0, "s, min, h"),
        # Of a gas through rubber: volume at 1 bar and 0 degC.
        Kind(
            "permeability", "mm^2/(s*MPa)", "cm^2/(s*bar)", 1e-3, ("cm^2/(s*bar)", 1e-3, 0), 3, "cm^2/(s*bar)"
        ),
        Kind("flow", "mm^3/s", "cm^3/day", 86.4, ("cm^3/day", 86.4, 0), 2, "cm^3/s, cm^3/day"),
        Kind("number", "", "1", 1.0, ("1", 1.0, 0), 3, "a plain number"),
    )
}

# Unit -> (kind, factor to the inside unit, offset): exact, tested against pint.
OWN: Mapping[str, tuple[str, float, float]] = {
    "mm": ("length", 1.0, 0.0),
    "in": ("length", 25.4, 0.0),
    "thou": ("length", 0.0254, 0.0),
    "um": ("length", 1e-3, 0.0),
    "MPa": ("pressure", 1.0, 0.0),
    "psi": ("pressure", _PSI, 0.0),
    "ksi": ("pressure", 1000.0 * _PSI, 0.0),
    "GPa": ("pressure", 1000.0, 0.0),
    "bar": ("pressure", 0.1, 0.0),
    "N": ("force", 1.0, 0.0),
    "kN": ("force", 1000.0, 0.0),
    "lbf": ("force", _LBF, 0.0),
    "degC": ("temperature", 1.0, 0.0),
    "degF": ("temperature", 5.0 / 9.0, -160.0 / 9.0),
    "K": ("temperature difference", 1.0, 0.0),
    "rpm": ("speed", _TURN / 60.0, 0.0),
    "N*m": ("torque", 1000.0, 0.0),
    "1/K": ("expansion", 1.0, 0.0),
    "kg/m^3": ("density", 1.0, 0.0),
    "s": ("time", 1.0, 0.0),
    "min": ("time", 60.0, 0.0),
    "h": ("time", 3600.0, 0.0),
}
