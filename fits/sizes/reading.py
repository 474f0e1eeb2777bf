"""Readings: a size taken warm or cold, brought to 20 degC."""

from __future__ import annotations

ROOM = 20.0


def at_20(
    reading: float,
    *,
    part_expansion: float,
    part_temperature: float,
    gauge_expansion: float = 0.0,
    gauge_temperature: float = ROOM,
) -> float:
    """The size at 20 degC of a part that was read away from it (ISO 1: sizes are at 20 degC).

    reading (1 + alpha_gauge (T_gauge - 20)) / (1 + alpha_part (T_part - 20)): a warm part
    is larger than at 20 degC, a warm gauge reads it smaller than it is.

    Args:
        reading: what the gauge shows, any length.
        part_expansion: mean from 20 degC to the part's temperature, 1/K.
        part_temperature: degC.
        gauge_expansion: mean from 20 degC to the gauge's temperature, 1/K.
        gauge_temperature: degC.

    >>> round(at_20(100.0, part_expansion=23e-6, part_temperature=30.0), 4)
    99.977
    """
    gauge = 1.0 + gauge_expansion * (gauge_temperature - ROOM)
    return reading * gauge / (1.0 + part_expansion * (part_temperature - ROOM))
