"""Both members at once: the window of their fit, and how the tolerances could share it.

Form error is charged in full at both ends (sizes here are single sizes, not limits that
already contain it), the gauge's uncertainty at each limit of each member (ISO 14253-1).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from fits import quantity
from fits.errors import Fault, InputError, meant
from fits.features.feature import Feature, declared, numbers
from fits.features.fields import Spread, SurfaceRef
from fits.features.part import Part
from fits.questions.answer import PASS
from fits.questions.check import check
from fits.questions.shown import in_notebooks
from fits.questions.targets import with_field
from fits.questions.window import Window, window
from fits.sizes.limits import Limits
from fits.tables import Source

ADVICE = Source("limits worked out from the window", "derived")


class Split(NamedTuple):
    """One way of sharing what is left: limits of hole and shaft, checked worst case."""

    how: str
    hole: Limits
    shaft: Limits


@in_notebooks
class FitWindow(NamedTuple):
    """The window of a fit: of the difference of the two sizes, and what eats it, mm.

    ``low`` and ``high`` are of the interference or clearance, at the size ``at``; ``left``
    is for the two tolerances together.
    """

    feature: str
    fit: str
    at: float
    window: Window
    low: float
    high: float
    form: float
    gauge: float
    left: float
    splits: tuple[Split, ...]
    notes: tuple[str, ...] = ()


def pair_of(part: Part, name: str) -> tuple[str, str]:
    """The hole and shaft fields of a feature.

    Raises:
        InputError: no such feature, or one that has no pair.
    """
    if name not in part.features:
        hint = meant(name, part.features) or f"features: {', '.join(part.features)}"
        raise InputError(Fault("no such feature", got=name, hint=hint))
    pair = type(part.features[name]).pair
    if pair is None:
        tools = any(field.tool for field in declared(type(part.features[name])).values())
        one = next(iter(numbers(type(part.features[name]))))
        hint = f"fits window asks of one number, such as {name}.{one}"
        hint = "its tools come from a drawer: fits choose ... --drawer FILE" if tools else hint
        raise InputError(Fault("this feature is no pair of a hole and a shaft", got=name, hint=hint))
    return pair


def fit_window(part: Part, name: str) -> FitWindow:
    """The window of interference or clearance of a pair, and how it could be split.

    Raises:
        InputError: no such pair, or a member that stands on a surface.

    >>> from fits import Part, Running
    >>> plunger = Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01", clearance_at_most="0.06")
    >>> round(fit_window(Part("pump", {"plunger": plunger}), "plunger").low, 3)
    0.01
    """
    hole, shaft = pair_of(part, name)
    feature = part.features[name]
    for field in (hole, shaft):
        if isinstance(getattr(feature, field), SurfaceRef):
            other = shaft if field == hole else hole
            raise InputError(
                Fault(f"its {field} is cut as another feature", got=name, hint=f"ask for {name}.{other}")
            )
    at = _basic(feature, hole, shaft)
    exact = Limits(at, at, at, "hole", sources=(ADVICE,))
    # Form is charged below, for both members at once.
    bare = with_field(_without_form(part, name), name, hole, exact)
    found = window(bare, f"{name}.{shaft}")
    sign = 1.0 if type(feature).fit == "interference" else -1.0
    form = 2.0 * (_most(feature, "form_hole") + _most(feature, "form_shaft"))
    gauge = 4.0 * _most(feature, "gauge_uncertainty")
    thumb = tuple(_thumb(feature, at, sign, found, part.units))
    if not found.intervals:
        return FitWindow(name, type(feature).fit, at, found, 0.0, 0.0, form, gauge, 0.0, (), thumb)
    widest = max(found.intervals, key=lambda one: one.high.at - one.low.at)
    ends = sorted(sign * (edge.at - at) for edge in (widest.low, widest.high))
    left = ends[1] - ends[0] - form - gauge
    answer = FitWindow(name, type(feature).fit, at, found, ends[0], ends[1], form, gauge, left, ())
    splits = tuple(_splits(part, answer)) if left > 0.0 else ()
    return answer._replace(splits=splits, notes=(*_notes(part, answer, splits), *thumb))


def _without_form(part: Part, name: str) -> Part:
    for field in ("form_hole", "form_shaft"):
        if _most(part.features[name], field) > 0.0:
            part = with_field(part, name, field, Spread(0.0, 0.0))
    return part


def _basic(feature: Feature, hole: str, shaft: str) -> float:
    for field in (hole, shaft):
        value = getattr(feature, field)
        if isinstance(value, Limits):
            return value.nominal
    raise InputError(Fault("hole or shaft must be given to know where to look", got=f"{hole}, {shaft}"))


def _most(feature: Feature, field: str) -> float:
    value = getattr(feature, field, None)
    return value.high if isinstance(value, Spread) else 0.0


def _splits(part: Part, found: FitWindow) -> Iterator[Split]:
    hole, shaft = pair_of(part, found.feature)
    feature = part.features[found.feature]
    middle = (found.low + found.high) / 2.0
    sign = 1.0 if found.fit == "interference" else -1.0
    kept = getattr(feature, hole)
    start = kept.lower if isinstance(kept, Limits) else found.at
    each = found.left / 2.0
    # Shaft middle from hole middle by the middle of the window.
    hole_middle = start + each / 2.0
    equal = (
        Limits(start, start + each, start, "hole", sources=(ADVICE,)),
        _about(hole_middle + sign * middle, each, "shaft"),
    )
    yield from _proved(part, found, "equal tolerances", *equal)
    for field, other in ((shaft, hole), (hole, shaft)):
        value = getattr(feature, field)
        if not isinstance(value, Limits) or value.tolerance == 0.0:
            continue
        rest = found.left - value.tolerance
        if rest <= 0.0:
            continue
        centre = value.middle + (-sign if field == shaft else sign) * middle
        made = _about(centre, rest, "hole" if other == hole else "shaft")
        members = (made, value) if other == hole else (value, made)
        yield from _proved(part, found, f"the {field} keeps its limits", *members)


def _about(middle: float, width: float, side: str) -> Limits:
    return Limits(middle - width / 2.0, middle + width / 2.0, middle, side, sources=(ADVICE,))


def _proved(part: Part, found: FitWindow, how: str, hole: Limits, shaft: Limits) -> Iterator[Split]:
    """The split after the worst-case check; shrunk a little where the size itself matters."""
    for _ in range(12):
        if passes(part, found.feature, hole, shaft):
            yield Split(how, hole, shaft)
            return
        hole, shaft = (_narrower(one) if one.sources == (ADVICE,) else one for one in (hole, shaft))


def _narrower(one: Limits) -> Limits:
    eaten = 0.01 * one.tolerance
    return replace(one, lower=one.lower + eaten, upper=one.upper - eaten)


def passes(part: Part, name: str, hole: Limits, shaft: Limits) -> bool:
    """Whether the whole part passes with these members."""
    fields = pair_of(part, name)
    for field, value in zip(fields, (hole, shaft), strict=True):
        part = with_field(part, name, field, value)
    return check(part).verdict == PASS


def _thumb(feature: Feature, at: float, sign: float, found: Window, units: str) -> Iterator[str]:
    """Whether the trade's rule of thumb lies in the window, and which rules exclude it."""
    thumb = type(feature).thumb
    if thumb is None or not found.rules:
        return
    value = thumb.per_diameter * at
    here = at + sign * value
    out = [one for one in found.rules if not any(low <= here <= high for low, high in one.intervals)]
    shown = quantity.show(value, "length", units=units)
    said = f"rule of thumb, {thumb.words} ({thumb.source.text}): {shown}"
    if not out:
        yield f"{said}, lies inside the window"
        return
    rules: dict[tuple[str, str], list[str]] = {}
    for one in out:
        rules.setdefault((one.rule, "not covered" if one.why_not else "fails"), []).append(one.state)
    why = "; ".join(f"{rule} {how} in {', '.join(states)}" for (rule, how), states in rules.items())
    yield f"{said}, is not held: {why}"


def _notes(part: Part, found: FitWindow, splits: tuple[Split, ...]) -> Iterator[str]:
    feature = part.features[found.feature]
    hole, shaft = pair_of(part, found.feature)
    if found.left <= 0.0:
        yield "form error and gauge uncertainty eat the whole window"
        return
    for field in (hole, shaft):
        value = getattr(feature, field)
        if isinstance(value, Limits) and value.tolerance >= found.left:
            yield (
                f"the {field}'s own tolerance is wider than what is left of the window: no size can be "
                "given from its nominal; measure the part (three stations, several angles, write down "
                "the largest and smallest diameter) and ask again with what it measures"
            )
