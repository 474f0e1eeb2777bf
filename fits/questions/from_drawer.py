"""Which of the shop's own tools? What a drawer offers for a feature, held against its rules.

A field type says what it may be from a drawer. For one side of a pair the offers are
held against the window of that side; tools of any other feature are tried, field after
field, and judged by the rules that the field could mend.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, NamedTuple

from fits.errors import Fault, InputError
from fits.features.feature import declared
from fits.features.fields import SurfaceRef, levels
from fits.features.offer import Offer
from fits.features.part import Part, settled
from fits.questions.answer import FAIL, NOT_COVERED, PASS, CheckAnswer, worst
from fits.questions.check import check
from fits.questions.choose import fixed, too_wide
from fits.questions.evaluate import evaluate
from fits.questions.fit_window import pair_of
from fits.questions.judging import judge
from fits.questions.targets import decided, with_field
from fits.questions.window import Window, window

TRIAL = "the holes are what the reamers should cut: a range, no promise; cut a trial hole before the part"
_BEST_FIRST = (PASS, NOT_COVERED, FAIL)


class Held(NamedTuple):
    """One tool held against the window or the rules: its ends, mm, and what comes of it.

    ``room`` is what it leaves at both ends of the window, negative where it reaches
    outside; ``fit`` the least and most interference or clearance; ``check`` the rule
    that decides.
    """

    name: str
    verdict: str
    low: float
    high: float
    remark: str
    room: tuple[float, float] | None = None
    fit: tuple[float, float] | None = None
    check: CheckAnswer | None = None


class OfField(NamedTuple):
    """What a drawer holds for one field, the best first, and what to buy where nothing fits."""

    field: str
    held: tuple[Held, ...]
    to_buy: str = ""


class FromDrawer(NamedTuple):
    """The answer from a drawer for one feature; ``part`` has the best tools put in."""

    feature: str
    place: str
    fields: tuple[OfField, ...]
    verdict: str
    part: Part
    window: Window | None = None
    fit: str = ""
    notes: tuple[str, ...] = ()


def from_drawer(part: Part, name: str, drawer: Any, *, shaft: str = "", drawn_in: str = "") -> FromDrawer:
    """What the shop owns for a feature.

    Args:
        part: the part.
        name: the feature.
        drawer: a drawer; fields of the feature that it knows as a number are filled in.
        shaft: of a pair, the shaft as it is: a size, limits, or a class without its size.
        drawn_in: the unit of the sizes on the drawing; empty: the part's.

    Raises:
        InputError: no such feature, or nothing of it can come from a drawer.
    """
    if name in part.features and type(part.features[name]).pair is None:
        return _tools(with_facts(part, name, drawer), name, drawer)
    hole, shaft_field = pair_of(part, name)
    if shaft:
        part = with_field(part, name, shaft_field, fixed(part, name, shaft, "shaft", drawn_in or part.units))
    value = getattr(part.features[name], hole)
    if isinstance(value, SurfaceRef):
        hint = f"ask for {value.feature}: its hole is cut there"
        raise InputError(Fault(f"its hole stands on {value}, no tool cuts it by itself", name, hint=hint))
    known = with_facts(part, name, drawer)
    found = window(known, f"{name}.{hole}")
    unasked = [one for one in found.rules if one.why_not]
    if known is not part and unasked and not found.intervals:
        # What the drawer knows may ask a rule that other missing inputs leave open.
        plain = window(part, f"{name}.{hole}")
        if not any(one.why_not for one in plain.rules):
            note = f"{unasked[0].rule} is left out: {unasked[0].why_not}"
            return _hole(part, name, plain, drawer, (note,))
    return _hole(known, name, found, drawer, ())


def with_facts(part: Part, name: str, drawer: Any) -> Part:
    """The part with fields that weren't given filled from what the drawer knows as one number."""
    feature = part.features[name]
    for field, number in drawer.facts.items():
        if field in declared(type(feature)) and getattr(feature, field) is None:
            part = with_field(part, name, field, number)
    return part


def _hole(part: Part, name: str, found: Window, drawer: Any, said: tuple[str, ...]) -> FromDrawer:
    """The holes that the drawer's reamers should cut, against the window of the hole."""
    hole, shaft = pair_of(part, name)
    kind = declared(type(part.features[name]))[hole]
    # A hole still open is looked for about the shaft.
    part = decided(part, found.target)
    feature = part.features[name]
    other = levels(getattr(feature, shaft))
    sign = 1.0 if type(feature).fit == "clearance" else -1.0
    held = []
    for offer in kind.offers(hole, feature, drawer):
        ends = sorted((sign * (offer.low - other[-1]), sign * (offer.high - other[0]))) if other else None
        one = _against(found, offer, (ends[0], ends[-1]) if ends else None)
        held.append(_at_the_edge(part, name, hole, found, one, offer))
    held.sort(key=lambda one: (_BEST_FIRST.index(one.verdict), -min(one.room or (-1.0, -1.0))))
    best = _BEST_FIRST[min((_BEST_FIRST.index(one.verdict) for one in held), default=2)]
    buy = ""
    if best == FAIL and found.intervals:
        widest = max(found.intervals, key=lambda one: one.high.at - one.low.at)
        buy = kind.to_buy(hole, feature, widest.low.at, widest.high.at)
    notes: tuple[str, ...] = (*said, TRIAL) if held else said
    if not found.intervals:
        notes += too_wide(part, name, hole, getattr(feature, shaft))
    fields = (OfField(hole, tuple(held), buy),)
    return FromDrawer(name, drawer.place, fields, best, part, found, type(feature).fit, notes)


def _against(found: Window, offer: Offer, fit: tuple[float, float] | None) -> Held:
    """One offer against the window: only one that is proven and wholly inside passes."""
    best: tuple[float, float] | None = None
    for one in found.intervals:
        room = (offer.low - one.low.at, one.high.at - offer.high)
        if best is None or min(room) > min(best):
            best = room
    if best is None:
        verdict = NOT_COVERED if _open(found, offer) else FAIL
    elif min(best) >= 0.0:
        verdict = PASS if offer.proven else NOT_COVERED
    else:
        # What isn't proven may still come out inside, if some of it reaches the window.
        touches = best[0] > offer.low - offer.high and best[1] > offer.low - offer.high
        verdict = NOT_COVERED if touches and not offer.proven else FAIL
    return Held(offer.name, verdict, offer.low, offer.high, offer.remark, best, fit)


def _open(found: Window, offer: Offer) -> bool:
    """Whether only what isn't covered closes the window: no rule is known to fail for the offer."""
    known = [one for one in found.rules if not one.why_not]
    # What isn't proven may still come out inside, if some of it reaches there.
    low, high = (offer.low, offer.high) if offer.proven else (offer.high, offer.low)
    inside = (any(least <= low and high <= most for least, most in one.intervals) for one in known)
    return len(known) < len(found.rules) and all(inside)


def _at_the_edge(part: Part, name: str, hole: str, found: Window, held: Held, offer: Offer) -> Held:
    """An offer that ends on the window's edge, which is found to 0.1 um: the check decides."""
    if held.room is None or not -found.target.tolerance <= min(held.room) < 0.0:
        return held
    ends = replace(offer.fields[hole], lower=offer.low, upper=offer.high)
    if check(with_field(part, name, hole, ends)).verdict != PASS:
        return held
    room = (max(held.room[0], 0.0), max(held.room[1], 0.0))
    return held._replace(verdict=PASS if offer.proven else NOT_COVERED, room=room)


def _tools(part: Part, name: str, drawer: Any) -> FromDrawer:
    found = []
    part = replace(part, features={**part.features, name: settled(part.features[name])})
    fields = declared(type(part.features[name]))
    for field, kind in fields.items():
        feature = part.features[name]
        if not kind.tool or getattr(feature, field) is not None:
            continue
        tried = [(_tried(part, name, field, offer), offer) for offer in kind.offers(field, feature, drawer)]
        # Offers come the likeliest first, and sorting keeps that order.
        tried.sort(key=lambda one: _BEST_FIRST.index(one[0].verdict))
        fits = bool(tried) and tried[0][0].verdict != FAIL
        nothing = float("nan")
        buy = "" if fits else kind.to_buy(field, feature, nothing, nothing)
        if not tried and not buy:
            continue
        found.append(OfField(field, tuple(held for held, _ in tried), buy))
        if fits:
            part = _put_in(part, name, tried[0][1])
    if not found:
        raise InputError(Fault("nothing of this feature comes from a drawer", name))
    verdict = check(alone(part, name)).verdict
    return FromDrawer(name, drawer.place, tuple(found), verdict, part)


def _put_in(part: Part, name: str, offer: Offer) -> Part:
    for field, value in offer.fields.items():
        part = with_field(part, name, field, value)
    return part


def _tried(part: Part, name: str, field: str, offer: Offer) -> Held:
    """An offer put in and judged by the rules that this field could mend."""
    trial = _put_in(part, name, offer)
    feature = trial.features[name]
    held = Held(offer.name, FAIL, offer.low, offer.high, offer.remark)
    if feature.faults():
        return held._replace(remark=feature.faults()[0].must)
    states = trial.columns(name)
    evaluation = evaluate(trial, name)
    checks = [
        judge(trial, name, rule, evaluation)
        for rule in type(feature).rules
        if field in rule.remedies and rule.asked(feature, states)
    ]
    verdict = worst([one.verdict for one in checks])
    decides = next((one for one in checks if one.verdict == verdict), None)
    return held._replace(verdict=verdict, check=None if verdict == PASS else decides)


def alone(part: Part, name: str) -> Part:
    """The part with one of its features only."""
    return replace(part, features={name: part.features[name]})
