"""The number that a question sweeps: a field of a feature or a quantity of a state."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from fits import quantity
from fits.arrays import Array, distinct
from fits.errors import Fault, InputError, meant
from fits.features.composite import Composite
from fits.features.feature import Feature, States, declared, field_type, numbers
from fits.features.fields import Context, Numeric, Undecided, levels
from fits.features.part import Part, apart, settled
from fits.materials.metals import ROOM
from fits.questions.evaluate import Evaluation, evaluate, key_of, relevant

STATE_KEYS = {
    "temperature": ("hub_temperature", "shaft_temperature"),
    "hub_temperature": ("hub_temperature",),
    "shaft_temperature": ("shaft_temperature",),
    "pressure": ("pressure",),
    "speed": ("speed",),
}


class Target(NamedTuple):
    """The number that is swept: a feature's dimension by key, or a quantity of a state."""

    text: str
    label: str
    kind: str
    digits: int
    present: float | None
    low: float
    high: float
    low_why: str
    high_why: str
    centre: float
    key: str = ""
    state: str = ""
    quantity: str = ""
    features: tuple[str, ...] = ()
    scale: str = ""

    @property
    def said(self) -> str:
        """The number in words: its label, and how it counts where that may be taken otherwise."""
        return f"{self.label} ({self.scale})" if self.scale else self.label

    @property
    def far(self) -> float:
        """The number of a swept state that asks most of a feature: hot, or any pressure or speed."""
        return self.high if self.kind == "temperature" else 1.0

    @property
    def tolerance(self) -> float:
        """How fine an edge is found: 0.1 um of a length, else 1e-6 of the number."""
        return 1e-4 if self.kind == "length" else 1e-6 * max(abs(self.high), 1e-9)


def target_of(part: Part, text: str) -> Target:
    """The number that ``feature.field`` or ``state.quantity`` names.

    Raises:
        InputError: no such feature, state or number; the fault suggests the nearest.
    """
    first, dot, field = text.partition(".")
    states = [state.name for state in part.states]
    if first in part.features and dot:
        return _field_target(part, first, field, text)
    if first in states and dot:
        return _state_target(part, first, field, text)
    known = [*(f"{name}." for name in part.features), *(f"{name}." for name in states)]
    hint = meant(first, [*part.features, *states]) or f"ask for one of {', '.join(known)}..."
    raise InputError(Fault("no such feature or state", got=text, hint=hint))


def _field_target(part: Part, name: str, field: str, text: str) -> Target:
    feature = part.features[name]
    numeric = numbers(type(feature))
    if field not in numeric:
        counted = {one.name for one in settled(feature).dimensions(part.columns(name))}
        asked_for = [one for one in numeric if one in counted or feature.number(one) is None]
        if field not in declared(type(feature)):
            hint = meant(field, asked_for) or f"numbers of {name}: {', '.join(asked_for)}"
            raise InputError(Fault(f"{name} has no field {field}", got=text, hint=hint))
        hint = f"numbers of {name}: {', '.join(asked_for)}"
        raise InputError(Fault(f"{field} is no number", got=text, hint=hint))
    kind = numeric[field]
    value = feature.number(field)
    whole, _, part_of = field.partition(".")
    if part_of and value is None and getattr(feature, whole) not in (None, Undecided()):
        raise InputError(Fault(f"{whole} has no {part_of}", got=text))
    if part_of and value is None:
        raise InputError(Fault(f"{whole} is not given", got=text, hint=f"give {whole}, then ask for this"))
    at = levels(value)
    if not at and not isinstance(value, Undecided) and value is not None:
        raise InputError(Fault(f"{field} stands on {value}; ask for that", got=text))
    present = sum(at) / len(at) if at else None
    centre = _centre(feature, field, present)
    states = part.columns(name)
    # Without a value it would be one if it were given.
    asked = feature if at else with_field(part, name, field, float(centre)).features[name]
    dimension = next((one for one in settled(asked).dimensions(states) if one.name == field), None)
    if dimension is None:
        raise InputError(Fault(f"{field} does not count in {name} as it is declared", got=text))
    key = key_of(name, dimension)
    low, high, low_why, high_why = _bounds(part, name, field, kind, centre)
    centre = min(max(centre, low), high)
    return Target(
        f"{name}.{field}",
        f"{name}.{field}",
        kind.quantity,
        kind.digits,
        present,
        low,
        high,
        low_why,
        high_why,
        centre,
        key=key,
        scale=kind.scale,
        features=tuple(one for one in part.features if _depends(part, one, name, key)),
    )


def _depends(part: Part, one: str, name: str, key: str) -> bool:
    return (
        one == name
        or key in relevant(part, one)
        or any(_depends(part, ref.feature, name, key) for ref in part.features[one].standing_on().values())
    )


def _centre(feature: Feature, field: str, present: float | None) -> float:
    """Where a sweep looks closely: the other member's size, the present value unless 0, or 1."""
    pair = type(feature).pair
    if pair and field in pair:
        other = levels(feature.number(pair[1 - pair.index(field)]))
        if other:
            return sum(other) / len(other)
    if present:
        return present
    kind = numbers(type(feature))[field]
    near = kind.near(feature)
    if near is not None:
        return near
    likely = feature.near(field)
    if likely is not None:
        return likely
    for relation in type(feature).relations:
        for mine, theirs, share in (
            (relation.smaller, relation.larger, 0.5),
            (relation.larger, relation.smaller, 2.0),
        ):
            size = levels(feature.number(theirs))
            if mine == field and size:
                return share * sum(size) / len(size)
    one = 1.0 / quantity.KINDS[kind.quantity].to_report
    low, high = kind.search((one,))
    return min(max(one, low), high)


def _bounds(part: Part, name: str, field: str, kind: Numeric, centre: float) -> tuple[float, float, str, str]:
    """The range of a sweep, cut by the relations between the fields and by what may be typed at all."""
    feature = part.features[name]
    low, high = kind.search((centre,))
    low_why = high_why = "the end of the search"
    for relation in type(feature).relations:
        smaller = levels(feature.number(relation.smaller))
        larger = levels(feature.number(relation.larger))
        if relation.larger == field and smaller and max(smaller) >= low:
            low, low_why = np.nextafter(max(smaller), np.inf) + 1e-4, f"must stay above {relation.smaller}"
        if relation.smaller == field and larger and min(larger) <= high:
            high, high_why = np.nextafter(min(larger), -np.inf) - 1e-4, f"must stay below {relation.larger}"
    good = next((at for at in (centre, low, high) if _fault(part, name, field, float(at)) is None), None)
    if good is not None:
        low, told = _last_typed(part, name, field, float(good), float(low))
        low_why = told or low_why
        high, told = _last_typed(part, name, field, float(good), float(high))
        high_why = told or high_why
    return float(low), float(high), low_why, high_why


def _fault(part: Part, name: str, field: str, at: float) -> str | None:
    """What a file would be told of a number, None where it may stand there."""
    try:
        changed = with_field(part, name, field, at).features[name]
    except InputError as error:
        return error.faults[0].must
    found = [*changed.faults(), *apart(changed)]
    return found[0].must if found else None


def _last_typed(part: Part, name: str, field: str, good: float, end: float) -> tuple[float, str]:
    """The number nearest to an end of the search that a file may say, and what is wrong beyond it."""
    told, bad = _fault(part, name, field, end), end
    if told is None:
        return end, ""
    while abs(bad - good) > 1e-6 * max(abs(bad), abs(good)):
        middle = (good + bad) / 2.0
        if (one := _fault(part, name, field, middle)) is None:
            good = middle
        else:
            bad, told = middle, one
    return good, told


def _state_target(part: Part, name: str, field: str, text: str) -> Target:
    if field not in STATE_KEYS:
        hint = meant(field, STATE_KEYS) or f"quantities of a state: {', '.join(STATE_KEYS)}"
        raise InputError(Fault(f"a state has no {field}", got=text, hint=hint))
    state = next(one for one in part.states if one.name == name)
    present = float(getattr(state, STATE_KEYS[field][0]))
    if "temperature" in field:
        low, high, kind = -273.15, 1000.0, "temperature"
    else:
        scale = present or {"pressure": 10.0, "speed": 100.0}[field]
        low, high, kind = 0.0, 1000.0 * scale, field
    end = "the end of the search"
    return Target(
        text,
        text,
        kind,
        1,
        present,
        low,
        high,
        end,
        end,
        present,
        state=name,
        quantity=field,
        features=tuple(part.features),
    )


def points_of(target: Target) -> Array:
    """Points to scan: close together near the centre, wider apart further off."""
    reach = max(target.high - target.centre, target.centre - target.low, 1e-9)
    hot = target.kind == "temperature"
    offsets = np.geomspace(reach * 1e-6, reach, 32 if hot else 96)
    beside = np.concatenate((-offsets, offsets))
    if hot:
        # Narrow is what holds beside the present one, or beside 20 degC; a point alone is no window.
        near, even = (target.centre + beside, ROOM + beside), 512
    else:
        exact = [one for one in (target.centre, target.present) if one is not None]
        near, even = (target.centre + beside, np.array(exact)), 33
    points = np.concatenate((*near, np.linspace(target.low, target.high, even)))
    return distinct(np.clip(points, target.low, target.high))


def swept(part: Part, name: str, target: Target, points: Array, corners: Mapping[str, Array]) -> Evaluation:
    """What the rules of a feature need, with the target's number swept along the lead."""
    lead = points.reshape(-1, 1, 1)
    feature, plain = part.features[name], part.columns(name)
    # A swept state may ask for a rule at some of its points only.
    rules = [one for one in type(feature).rules if not target.key or one.asked(feature, plain)]
    values = {one.value for one in rules} | {one.limit for one in rules if isinstance(one.limit, str)}
    if target.key:
        return evaluate(part, name, values=values, given={target.key: lead}, corners=corners)
    states = {one: swept_states(part, one, target, lead) for one in part.features}
    return evaluate(part, name, values=values, corners=corners, states=states)


def swept_states(part: Part, name: str, target: Target, lead: Array) -> States:
    """The columns of a feature with one quantity of one state swept along the lead.

    A feature that has that quantity of its own keeps it.
    """
    plain = part.columns(name)
    column = plain.names.index(target.state)
    changes: dict[str, Any] = {}
    for key in swept_keys(part, name, target):
        array = np.broadcast_to(getattr(plain, key), (len(lead), 1, len(plain.names))).copy()
        array[:, :, column] = lead[:, :, 0]
        changes[key] = array
    return plain._replace(**changes)


def swept_keys(part: Part, name: str, target: Target) -> tuple[str, ...]:
    """What a sweep of a state's quantity changes in a feature: not what it has of its own."""
    of_part, mine = (
        next(one for one in states if one.name == target.state)
        for states in (part.states, part.states_of(name))
    )
    keys = STATE_KEYS[target.quantity]
    return tuple(key for key in keys if getattr(of_part, key) == getattr(mine, key))


def with_field(part: Part, name: str, field: str, value: Any) -> Part:
    """The part with one field of one feature, or one number of it, changed; it counts as given.

    ``value`` is what the field takes: text, a number in the inside unit, a parsed value.
    """
    feature = part.features[name]
    kind = field_type(type(feature), field)
    parsed = kind.parse(value, Context(bare_numbers=True)) if isinstance(value, (str, float)) else value
    whole, _, number = field.partition(".")
    if number:
        of = declared(type(feature))[whole]
        assert isinstance(of, Composite)
        parsed = of.changed(getattr(feature, whole), number, parsed)
    changed = feature.model_copy(update={whole: parsed})
    changed.model_fields_set.add(whole)
    return replace(part, features={**part.features, name: changed})


def decided(part: Part, target: Target) -> Part:
    """The part with the field asked about put at its centre where it is open or not given.

    Everything else can then be read; the sweep replaces the number itself.
    """
    if not target.key or target.present is not None:
        return part
    name, _, field = target.label.partition(".")
    return with_field(part, name, field, float(target.centre))
