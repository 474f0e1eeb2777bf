"""What is it at 20 degC? A part read warm or cold, by a gauge at 20 degC or as warm as it."""

from __future__ import annotations

from typing import NamedTuple

from fits.errors import Fault, InputError
from fits.materials.metals import Metal
from fits.questions.answer import NOT_COVERED, PASS, Answer, FeatureAnswer, Range, ValueAnswer
from fits.sizes.reading import ROOM, at_20
from fits.tables import Source

STEEL = (11.5e-6, 11.5e-6)
STEEL_SOURCE = Source(
    "steel gauges 11.5e-6 1/K: "
    "optomech.in/metrology/case-studies/blog/temperature-effect-dimensional-measurement"
)
EQUATION = Source(
    "reading (1 + alpha_gauge (T_gauge - 20)) / (1 + alpha_part (T_part - 20)); 20 degC is the "
    "reference of ISO 1:2016, Phillips et al., J. Res. NIST 121 (2016), doi 10.6028/jres.121.026"
)


class _Case(NamedTuple):
    name: str
    label: str
    gauge_temperature: float


def warm_reading(
    reading: float,
    material: Metal,
    temperature: float,
    *,
    gauge: Metal | None = None,
    gauge_temperature: float | None = None,
    units: str = "mm",
) -> Answer:
    """The size at 20 degC of a part read at another temperature.

    Args:
        reading: what the gauge showed, mm.
        material: the part's metal.
        temperature: of the part, degC.
        gauge: the gauge's metal; None: steel.
        gauge_temperature: degC; None: both cases are shown and neither is the answer.
        units: of the report.

    Raises:
        InputError: a temperature outside what is known of the metal.

    >>> from fits import metal
    >>> warm_reading(40.0, metal("6061-T6"), 30.0, gauge_temperature=30.0).verdict
    'pass'
    """
    part_ends = _expansion(material, temperature, "--part-temperature")
    sources = [EQUATION, *_sources(material)]
    sources += [STEEL_SOURCE] if gauge is None else _sources(gauge)
    if gauge_temperature is None:
        cases = [
            _Case("size_gauge_at_20", "at 20 degC, if the gauge was at 20 degC", ROOM),
            _Case("size_gauge_warm", "at 20 degC, if it was as warm as the part", temperature),
        ]
    else:
        cases = [_Case("size", "at 20 degC", gauge_temperature)]
    values = [_value("reading", "reading", (reading, reading))]
    for case in cases:
        low, high = (
            STEEL if gauge is None else _expansion(gauge, case.gauge_temperature, "--gauge-temperature")
        )
        sizes = [
            at_20(
                reading,
                part_expansion=of_part,
                part_temperature=temperature,
                gauge_expansion=of_gauge,
                gauge_temperature=case.gauge_temperature,
            )
            for of_part in part_ends
            for of_gauge in (low, high)
        ]
        values.append(_value(case.name, case.label, (min(sizes), max(sizes))))
        off = case.label.replace("at 20 degC", "it reads too large by", 1)
        values.append(_value(f"{case.name}_off", off, (reading - max(sizes), reading - min(sizes))))
    return _answer(values, sources, known=gauge_temperature is not None, steel=gauge is None, units=units)


def _answer(
    values: list[ValueAnswer], sources: list[Source], *, known: bool, steel: bool, units: str
) -> Answer:
    verdict = PASS if known else NOT_COVERED
    missing = (
        "the gauge's temperature isn't given (--gauge-temperature): cold, or as warm as the part? "
        "Both are shown"
    )
    notes = ["steel gauge, 11.5e-6 1/K"] if steel else []
    notes.append(
        "sizes count at 20 degC: let part and gauge lie side by side until both are there, and read again"
    )
    feature = FeatureAnswer(
        "reading",
        "warm",
        verdict,
        tuple(values),
        not_covered=() if known else (missing,),
        notes=tuple(notes),
    )
    named = tuple(dict.fromkeys(one for one in sources if one.evidence != "typed"))
    return Answer("part read away from 20 degC", verdict, (feature,), sources=named, units=units)


def _sources(metal: Metal) -> list[Source]:
    """Where a metal's expansion comes from."""
    every = metal.sources(temperature_matters=True)
    return [one for one in every if one is metal.source or " expansion of " in one.text]


def _expansion(metal: Metal, temperature: float, key: str) -> tuple[float, ...]:
    """The mean expansion from 20 degC to a temperature, least and most, 1/K."""
    import numpy as np

    if temperature == ROOM:
        return (0.0,) * 2
    at = np.array([temperature])
    strains = [float(metal.strain_at(at, share)[0]) for share in (0.0, 1.0)]
    if not np.isfinite(strains).all():
        low, high = metal.heating_range()
        must = f"{metal.name}: expansion is known from {low:g} to {high:g} degC"
        raise InputError(Fault(must, got=f"{temperature:g} degC", key=key))
    return tuple(strain / (temperature - ROOM) for strain in sorted(strains))


def _value(name: str, label: str, ends: tuple[float, float]) -> ValueAnswer:
    return ValueAnswer(name, label, "length", 4, "", EQUATION, {"as_made": Range(*ends)})
