"""Readings taken to the part: which dimension, at 20 degC, what they show of size and form."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from fits import quantity
from fits.errors import Fault, InputError, meant
from fits.features.composite import Composite
from fits.features.feature import Feature, declared, numbers
from fits.features.fields import Length, Size, Spread, SurfaceRef, shared_key
from fits.features.part import Part
from fits.materials.metals import Metal
from fits.questions.targets import with_field
from fits.sizes.limits import Limits
from fits.sizes.reading import ROOM, SLIP, Reading, at_20, form_of, lobes
from fits.tables import Source

FAULTS = 20
# Expansion of a steel gauge, 1/K (common practice), for the question only.
STEEL = 11.5e-6
# 20 degC typed in other units is 20 degC.
SOAKED = 1e-6


class Dimension(NamedTuple):
    """A dimension that is read: where it stands, its limits, and on which side metal is left.

    ``side`` is "hole" or "shaft", empty where the drawing doesn't say; ``form`` what the
    part file charges for taper and ovality; ``metal`` what it is cut in; ``across`` whether
    it is a diameter.
    """

    label: str
    key: str
    feature: str
    field: str
    side: str
    limits: Limits
    form: float
    metal: Metal | None
    across: bool = True


class Measured(NamedTuple):
    """One dimension of one part at 20 degC, mm: least and greatest over its readings.

    ``charged`` is the form error added at both ends because it was not read; taper and
    ovality are None where the readings don't show them.
    """

    dimension: Dimension
    least: float
    greatest: float
    uncertainty: float
    readings: int
    taper: float | None = None
    ovality: float | None = None
    charged: float = 0.0
    correction: float = 0.0
    place: str = ""


Parts = dict[str, dict[str, Measured]]


def measured(part: Part, readings: Iterable[Reading], bad: dict[str, list[Fault]] | None = None) -> Parts:
    """The dimensions of each part by label, from all readings.

    Args:
        part: the part file.
        readings: in any order.
        bad: where parts with a fault are to be left out, takes what is wrong by part.

    Raises:
        InputError: a dimension the part doesn't have, a size far from its drawing, a warm
            reading that can't be corrected, sizes that can't be of one part.
    """
    groups: dict[tuple[str, str], list[Reading]] = {}
    for reading in readings:
        groups.setdefault((reading.part, reading.dimension), []).append(reading)
    faults: list[Fault] = []
    known: dict[str, Dimension | InputError] = {}
    found: Parts = {}
    for (name, label), several in groups.items():
        new = label not in known
        if new:
            known[label] = _known(part, label)
        of = known[label]
        try:
            if isinstance(of, InputError):
                raise of
            one = _one(part, of, several)
            others = found.setdefault(name, {})
            _together(part, one, others)
            others[label] = one
        except InputError as error:
            key = "" if error is of else label
            placed = [fault.at(key=key, place=several[0].place) for fault in error.faults]
            if bad is not None:
                bad.setdefault(name, []).extend(placed)
            elif new or error is not of:
                # A dimension that isn't there is said once.
                faults += placed
        if len(faults) > FAULTS:
            break
    if faults:
        raise InputError(faults)
    return {name: sizes for name, sizes in found.items() if not bad or name not in bad}


def _known(part: Part, label: str) -> Dimension | InputError:
    try:
        return dimension_of(part, label)
    except InputError as error:
        return error


def as_read(part: Part, labels: Iterable[str]) -> Part:
    """The part with the features of which a size was read that they only want, as they are with it.

    Raises:
        InputError: a label leaves open what was read.
    """
    features = dict(part.features)
    for label in labels:
        name, _, field = label.partition(".")
        of = part.features.get(name)
        if of is not None and field in of.to_be_read:
            features[name] = of.once_read(field)
    return replace(part, features=features)


def dimension_of(part: Part, label: str) -> Dimension:
    """The dimension that ``feature.dimension`` names.

    Raises:
        InputError: there is none, it is no size, or it is cut as another feature's.
    """
    name, _, field = label.partition(".")
    if name not in part.features:
        hint = meant(name, part.features) or f"features: {', '.join(part.features)}"
        raise InputError(Fault("no such feature in this part", label, hint=hint))
    named = part.features[name].to_be_read
    try:
        feature = as_read(part, [label]).features[name]
    except InputError as error:
        raise InputError([replace(fault, got=label) for fault in error.faults]) from None
    if field in type(feature).wished:
        hint = "give sizes read before joining; hold what is left after it against its limits"
        raise InputError(
            Fault(f"{field} is wished of the joined parts, nothing is cut to it", label, hint=hint)
        )
    kinds = numbers(type(feature))
    sizes = [one for one, kind in kinds.items() if isinstance(kind, (Size, Length)) and _cut(feature, one)]
    if field not in sizes:
        sizes = [*named, *(one for one in sizes if feature.number(one) is not None)]
        hint = meant(field, sizes) or f"sizes of {name}: {', '.join(sizes)}"
        raise InputError(Fault(f"{name} has no size {field}", label, hint=hint))
    value = feature.number(field)
    if isinstance(value, SurfaceRef):
        hint = f"give {cut_as(part, value)} as it was read before assembly"
        raise InputError(Fault(f"{field} stands on {value}", label, hint=hint))
    if not isinstance(value, Limits) or value.upper <= 0.0:
        raise InputError(Fault(f"the part file gives no {field} for {name}", label, hint="add it there"))
    kind = kinds[field]
    form = getattr(feature, f"form_{field}", None)
    return Dimension(
        label,
        shared_key(value) or label,
        name,
        field,
        type(feature).cut_as.get(field, kind.side),
        value,
        form.high if isinstance(form, Spread) else 0.0,
        _metal(feature, field),
        isinstance(kind, Size),
    )


def _cut(feature: Feature, field: str) -> bool:
    """Whether a number is cut: what is wished or a bought ring brings along isn't, nor an absent layer."""
    if field in type(feature).wished:
        return False
    whole, _, part = field.partition(".")
    of = declared(type(feature))[whole]
    return not part or (
        isinstance(of, Composite) and part in {one for one, *_ in of.sizes(getattr(feature, whole))}
    )


def _metal(feature: Feature, field: str) -> Metal | None:
    """What a size is cut in, where the feature says so."""
    whole, _, part = field.partition(".")
    of = declared(type(feature))[whole]
    if isinstance(of, Composite):
        return of.metal(getattr(feature, whole), part)
    metal = getattr(feature, type(feature).made_of.get(field, ""), None)
    return metal if isinstance(metal, Metal) else None


def cut_as(part: Part, ref: SurfaceRef) -> str:
    """The dimension as which a surface is cut, as ``feature.dimension``."""
    below = part.features[ref.feature]
    surface = next(one for one in type(below).surfaces if one.name == ref.surface)
    return f"{ref.feature}.{surface.dimension}"


def _one(part: Part, of: Dimension, several: list[Reading]) -> Measured:
    sizes, doubts = [], []
    for reading in several:
        try:
            _near(of, reading, part.units)
            size, doubt = _at_room(part, of, reading)
        except InputError as error:
            raise InputError([fault.at(place=reading.place) for fault in error.faults]) from None
        sizes.append(size)
        doubts.append(doubt)
    least, greatest, charged = min(sizes), max(sizes), 0.0
    taper = ovality = None
    if len(several) == 1:
        charged = of.form
    else:
        taper, ovality = form_of(
            (one.station, one.direction, size) for one, size in zip(several, sizes, strict=True)
        )
    return Measured(
        of,
        least - charged,
        greatest + charged,
        max(doubts),
        len(several),
        taper,
        ovality,
        charged,
        sizes[0] - several[0].value,
        several[0].place,
    )


def _near(of: Dimension, reading: Reading, units: str) -> None:
    """Refuse a size nowhere near its drawing, and a doubt no instrument has."""
    # A small size with a wide tolerance may be far off in shares of itself.
    wide = of.limits.tolerance
    if reading.uncertainty > max(SLIP * reading.value, wide):
        got = quantity.show(reading.uncertainty, "length", 3, units=units)
        must = "an uncertainty of more than a twentieth of the size"
        raise InputError(Fault(must, got, hint="a slip of unit or digit?"))
    low = of.limits.lower - max(SLIP * of.limits.lower, wide)
    high = of.limits.upper + max(SLIP * of.limits.upper, wide)
    if low <= reading.value <= high:
        return
    shown = [
        quantity.show(one, "length", 3, units=units)
        for one in (reading.value, of.limits.lower, of.limits.upper)
    ]
    must = f"nowhere near its drawing, {shown[1]} to {shown[2]}"
    hint = "a slip of unit or digit? else it is scrap without judging: leave its rows out"
    raise InputError(Fault(must, shown[0], hint=hint))


def _at_room(part: Part, of: Dimension, reading: Reading) -> tuple[float, float]:
    """The size at 20 degC and its uncertainty, with the scatter of the part's expansion."""
    soaked = _is_room(reading.temperature)
    gauge = reading.gauge_temperature
    if gauge is None and soaked:
        gauge = ROOM
    if soaked and gauge is not None and _is_room(gauge):
        return reading.value, reading.uncertainty
    low, high = _expansion(of, reading)
    if gauge is None:
        raise InputError(_which(part, of, reading, (low + high) / 2.0))
    if not _is_room(gauge) and reading.gauge_expansion is None:
        hint = f"steel grows by about {STEEL * 1e6:g}e-6 1/K; give it as gauge_expansion"
        raise InputError(Fault("the gauge was not at 20 degC: what does it grow by?", hint=hint))
    sizes = [
        at_20(
            reading.value,
            part_expansion=expansion,
            part_temperature=reading.temperature,
            gauge_expansion=reading.gauge_expansion or 0.0,
            gauge_temperature=gauge,
        )
        for expansion in (low, high)
    ]
    return sum(sizes) / 2.0, reading.uncertainty + abs(sizes[1] - sizes[0]) / 2.0


def _is_room(temperature: float) -> bool:
    return abs(temperature - ROOM) < SOAKED


def _which(part: Part, of: Dimension, reading: Reading, expansion: float) -> Fault:
    """The question that decides how much a warm reading is off, with both answers."""

    def shown(gauge_temperature: float) -> str:
        size = at_20(
            reading.value,
            part_expansion=expansion,
            part_temperature=reading.temperature,
            gauge_expansion=STEEL,
            gauge_temperature=gauge_temperature,
        )
        return quantity.show(size, "length", units=part.units)

    warm = quantity.show(reading.temperature, "temperature", units=part.units)
    room = quantity.show(ROOM, "temperature", units=part.units)
    return Fault(
        f"read at {warm}: at what temperature was the gauge?",
        quantity.show(reading.value, "length", units=part.units),
        hint=f"it is {shown(ROOM)} if the gauge was at {room}, {shown(reading.temperature)} if a steel "
        "gauge was as warm; give gauge_temperature and, away from there, gauge_expansion",
    )


def _expansion(of: Dimension, reading: Reading) -> tuple[float, float]:
    """Mean expansion of the part from 20 degC to where it was read, low and high, 1/K."""
    away = reading.temperature - ROOM
    if _is_room(reading.temperature):
        return 0.0, 0.0
    at = np.array([reading.temperature])
    found = (float("nan"),) * 2
    if of.metal is not None:
        found = (float(of.metal.strain_at(at, 0.0)[0]) / away, float(of.metal.strain_at(at, 1.0)[0]) / away)
    if not np.isfinite(found).all():
        why = f"{of.metal.name}: no expansion there" if of.metal else "its metal isn't known"
        hint = "let it soak and read it at 20 degC"
        raise InputError(Fault(f"can't be corrected to 20 degC, {why}", hint=hint))
    return found[0], found[1]


def _together(part: Part, one: Measured, others: Mapping[str, Measured]) -> None:
    """Refuse one size read under two names, and sizes that can't be of one part."""
    for label, other in others.items():
        if other.dimension.key == one.dimension.key:
            raise InputError(Fault(f"{label} is the same shared size and was read as well"))
    feature = part.features[one.dimension.feature]
    for relation in type(feature).relations:
        if one.dimension.field not in (relation.smaller, relation.larger):
            continue
        small, large = (_span(feature, one, others, field) for field in (relation.smaller, relation.larger))
        if small and large and max(small) >= min(large):
            must = f"{relation.smaller} must stay below {relation.larger}: {relation.why}"
            got = quantity.show(one.greatest, "length", units=part.units)
            raise InputError(Fault(must, got))


def _span(
    feature: Feature, one: Measured, others: Mapping[str, Measured], field: str
) -> tuple[float, float] | None:
    label = f"{one.dimension.feature}.{field}"
    read = one if one.dimension.label == label else others.get(label)
    if read is not None:
        return read.least - read.uncertainty, read.greatest + read.uncertainty
    value = feature.number(field)
    return (value.lower, value.upper) if isinstance(value, Limits) and value.upper > 0.0 else None


def with_sizes(part: Part, sizes: Mapping[str, tuple[float, float]]) -> Part:
    """The part with measured sizes, by key, in the place of its drawing's limits."""
    for name, feature in part.features.items():
        for field in numbers(type(feature)):
            value = feature.number(field)
            key = shared_key(value) or f"{name}.{field}"
            if key in sizes and isinstance(value, Limits):
                low, high = sizes[key]
                part = with_field(part, name, field, replace(value, lower=low, upper=high))
    return part


def unseen(instruments: Iterable[str]) -> list[str]:
    """What some instruments can't see of a round shape, each once."""
    return list(dict.fromkeys(text for name in instruments if (text := lobes(name))))


def cautions_of(part: Part, features: Iterable[str]) -> tuple[str, ...]:
    """The cautions of some features, each once."""
    found = []
    for name in features:
        feature, states = part.features[name], part.columns(name)
        found += [one.text for one in type(feature).cautions if one.applies(feature, states)]
    return tuple(dict.fromkeys(found))


def sources_of(part: Part, features: Iterable[str]) -> tuple[Source, ...]:
    """What the rules of some features rest on, each once."""
    found: list[Source] = []
    for name in features:
        feature, states = part.features[name], part.columns(name)
        found += feature.used_sources(states)
        found += [rule.source for rule in type(feature).rules if rule.asked(feature, states)]
    return tuple(dict.fromkeys(found))
