"""No window: which single other change would open one? Tried, not guessed.

The fields are those that the rules in the way name as remedies; a metal is tried against
the table, a number away from its present value, a state towards 20 degC or less pressure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from fits import quantity
from fits.errors import InputError
from fits.features.feature import State, field_type
from fits.features.fields import MetalField, Numeric, Spread, levels
from fits.features.part import Part
from fits.materials.metals import ROOM, Metal, metal, names
from fits.questions.scan import Scan
from fits.questions.targets import Target, target_of, with_field
from fits.questions.window import RuleRange, WayOut, Window, excluding, scanned
from fits.sizes.limits import Limits

FACTORS = (1.25, 0.8, 1.5, 0.67, 2.0, 0.5, 3.0, 0.33)
TOWARDS_ROOM = (0.8, 0.6, 0.4, 0.2, 0.0)
METALS_SHOWN = 3
# A window of a few edges' width can't be made; it opens nothing.
NARROWEST = 10.0


def ways_out(part: Part, target: Target, found: Window) -> tuple[WayOut, ...]:
    """Single changes of the part that open a window for the target, the mildest of each kind."""
    in_the_way = _in_the_way(found)
    opened: list[WayOut] = []
    for feature, field in _remedies(part, target, in_the_way):
        kind = field_type(type(part.features[feature]), field)
        if isinstance(kind, MetalField):
            opened += _metals(part, target, feature, field)
        elif isinstance(kind, Numeric):
            opened += _numbers(part, target, feature, field, kind)
    for state in dict.fromkeys(one.state for one in in_the_way):
        opened += _milder_states(part, target, state)
    return tuple(opened)


def _in_the_way(found: Window) -> list[RuleRange]:
    never = [one for one in found.rules if not one.intervals]
    pair = excluding(found)
    return never or list(pair or ())


def _remedies(part: Part, target: Target, rules: list[RuleRange]) -> list[tuple[str, str]]:
    found = [
        (one.feature, field)
        for one in rules
        for field in one.remedies
        if f"{one.feature}.{field}" != target.label and part.features[one.feature].number(field) is not None
    ]
    # A member of a pair as much larger or smaller as is tried here goes with no other one.
    pairs = {(name, field) for name, one in part.features.items() for field in type(one).pair or ()}
    return [one for one in dict.fromkeys(found) if one not in pairs]


def _opens(part: Part, target: Target) -> tuple[float, float] | None:
    """The widest interval of a changed part, or None; a quick scan first."""
    if not scanned(Scan(part, target, quick=True)).intervals:
        return None
    spans = [(one.low.at, one.high.at) for one in scanned(Scan(part, target)).intervals]
    widest = max(spans, key=lambda span: span[1] - span[0], default=(0.0, 0.0))
    return widest if widest[1] - widest[0] > NARROWEST * target.tolerance else None


def _metals(part: Part, target: Target, feature: str, field: str) -> Iterator[WayOut]:
    present: Metal = getattr(part.features[feature], field)
    yield from _harder(part, target, feature, field, present)
    opened = []
    for name in names():
        other = metal(name)
        if other.name == present.name or other.yield_minimum is None:
            continue
        span = _opens(with_field(part, feature, field, other), target)
        if span is not None:
            opened.append((other.family != present.family, span[0] - span[1], name, span))
    for _, _, name, span in sorted(opened)[:METALS_SHOWN]:
        yield WayOut(f"{feature}.{field} {name}", span)


def _harder(part: Part, target: Target, feature: str, field: str, present: Metal) -> Iterator[WayOut]:
    """The same metal with a higher least yield: what to ask of the bar."""
    least = present.yield_minimum or present.yield_typical or 0.0
    for factor in FACTORS[::2] if least else ():
        harder = replace(present, yield_minimum=least * factor, typed=present.typed | {"yield_strength"})
        span = _opens(with_field(part, feature, field, harder), target)
        if span is not None:
            shown = quantity.show(least * factor, "pressure", 0, units=part.units)
            yield WayOut(f"{feature}.{field} {present.name} with a least yield of {shown}", span)
            return


def _numbers(part: Part, target: Target, feature: str, field: str, kind: Numeric) -> Iterator[WayOut]:
    present = part.features[feature].number(field)
    middle = sum(levels(present)) / max(len(levels(present)), 1)
    if middle <= 0.0:
        return
    try:
        bounds = target_of(part, f"{feature}.{field}")
    except InputError:  # it does not count as the feature is declared
        return
    for factor in FACTORS:
        value = middle * factor
        half = (max(levels(present)) - min(levels(present))) / 2.0
        if not bounds.low <= value - half <= value + half <= bounds.high:
            continue
        try:
            changed = with_field(part, feature, field, _moved(present, value, half, kind))
            span = _opens(changed, target_of(changed, target.text))
        except InputError:  # layers that no longer go around each other
            continue
        if span is not None:
            shown = quantity.show(value, kind.quantity, kind.digits, units=part.units)
            yield WayOut(f"{feature}.{field} {shown}", span)
            return


def _moved(present: Any, value: float, half: float, kind: Numeric) -> Any:
    if isinstance(present, Limits):
        return Limits(value - half, value + half, value, kind.side, sources=present.sources)
    return Spread(value - half, value + half)


def _milder_states(part: Part, target: Target, name: str) -> Iterator[WayOut]:
    state = next((one for one in part.states if one.name == name), None)
    if state is None or target.state == name:
        return
    for what, of in (("temperature", _nearer_room), ("pressure", _less_pressure)):
        for share in TOWARDS_ROOM:
            milder = of(state, share)
            if milder == state:
                break
            states = tuple(milder if one.name == name else one for one in part.states)
            of_feature = {
                key: tuple(milder if one.name == name else one for one in own)
                for key, own in part.of_feature.items()
            }
            span = _opens(replace(part, states=states, of_feature=of_feature), target)
            if span is not None:
                shown = _shown(milder, what, part.units)
                yield WayOut(f"{name}.{what} no further than {shown}", span)
                break


def _nearer_room(state: State, share: float) -> State:
    return state._replace(
        hub_temperature=ROOM + share * (state.hub_temperature - ROOM),
        shaft_temperature=ROOM + share * (state.shaft_temperature - ROOM),
    )


def _less_pressure(state: State, share: float) -> State:
    return state._replace(pressure=share * state.pressure)


def _shown(state: State, what: str, units: str) -> str:
    if what == "pressure":
        return quantity.show(state.pressure, "pressure", 2, units=units)
    return quantity.show(state.hub_temperature, "temperature", units=units)
