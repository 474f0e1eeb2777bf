"""What are the limits of this size? Sizes as a drawing writes them, answered as data."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from fits.errors import Fault, InputError
from fits.questions.answer import PASS, Answer, FeatureAnswer, Range, SizeAnswer, ValueAnswer
from fits.sizes import ansi_b4, bought, iso286
from fits.sizes.limits import Limits, clearance, kind_of_fit
from fits.sizes.notation import is_classed, is_inch_class, is_pair, parse_pair, parse_size
from fits.tables import Source

_ADDED = Source("basic size and deviation added", "derived")
_DIFFERENCE = Source("hole less shaft", "derived")


def limits(texts: Iterable[str], *, units: str = "mm") -> Answer:
    """Limits of size, deviations and clearance of sizes and pairs, each by its text.

    ``units`` is that of bare numbers; classes of ISO 286 are in mm whatever is shown, and
    an inch class is a pair.

    Raises:
        InputError: every text that is no size, or has no tolerance.

    >>> size = limits(["25 H7"]).features[0].sizes[0]
    >>> size.lower, size.upper
    (25.0, 25.021)
    """
    features, faults = [], []
    sources: list[Source] = []
    for text in texts:
        try:
            members = _members(text, units)
        except InputError as error:
            faults += [replace(fault, got=fault.got or text) for fault in error.faults]
            continue
        said = _answer(text, members)
        if units == "in" and is_classed(text):
            said = said._replace(notes=(*said.notes, "the basic size is in mm, as ISO 286 classes are"))
        features.append(said)
        sources += [source for _, one in members for source in one.sources]
    if faults:
        raise InputError(faults)
    named = tuple(dict.fromkeys(source for source in sources if source.evidence != "typed"))
    return Answer("sizes", PASS, tuple(features), sources=named, units=units)


def _members(text: str, units: str) -> list[tuple[str, Limits]]:
    if is_pair(text):
        hole, shaft = parse_pair(text, units=units)
        return [("hole", hole), ("shaft", shaft)]
    if bought.is_bearing(text):
        sides = (("bore", "hole"), ("outside", "shaft"))
        return [(name, parse_size(text, side=side, units=units)) for name, side in sides]
    one = parse_size(text, units="mm" if is_classed(text) else units)
    if one.tolerance == 0.0:
        raise InputError(Fault("a size with a tolerance is due", got=text, hint="write 25 H7 or 25 +0.021/0"))
    return [(one.side or "size", one)]


def _answer(text: str, members: list[tuple[str, Limits]]) -> FeatureAnswer:
    values, notes = [], []
    for name, one in members:
        values.append(_value(name, name, one.lower, one.upper, _ADDED))
        if one.basic is not None:
            low, high = (round(end - one.basic, 10) for end in (one.lower, one.upper))
            source = one.sources[-1] if one.sources else _ADDED
            values.append(_value(f"{name}_deviation", f"{name} deviation", low, high, source))
        notes += _notes(one)
    fitted = members[0][0] == "hole" and len(members) == 2
    if fitted:
        hole, shaft = members[0][1], members[1][1]
        values.append(_value("clearance", "clearance", *clearance(hole, shaft), _DIFFERENCE))
        notes = [kind_of_fit(hole, shaft), *_named(text, hole, shaft), *notes]
    sizes = tuple(
        SizeAnswer(name, name, one.text, one.lower, one.upper, one.basic, one.side) for name, one in members
    )
    pair = ("hole", "shaft") if fitted else None
    said = tuple(dict.fromkeys(notes))
    return FeatureAnswer(text, "limits", PASS, tuple(values), notes=said, sizes=sizes, pair=pair)


def _named(text: str, hole: Limits, shaft: Limits) -> list[str]:
    """What ANSI B4 calls a fit: an inch class, or a preferred pair of ISO classes."""
    letters = hole.text.rsplit(" ", 1)[-1]
    if is_inch_class(text):
        name = letters.removesuffix("S")
        form = ", basic shaft: the greatest shaft is the basic size" if name != letters else ", basic hole"
        return [f"{letters}: {ansi_b4.called(name)} fit of ANSI B4.1{form}"]
    said = ansi_b4.preferred(hole.nominal, letters, shaft.text.rsplit(" ", 1)[-1])
    return [said] if said else []


def _notes(one: Limits) -> list[str]:
    notes = [f"doubtful: {source.doubt}" for source in one.sources if source.doubt]
    letters = one.text.rsplit(" ", 1)[-1]
    if letters.lower().startswith("js"):
        said = iso286.note(letters[:2], letters[2:], one.tolerance)
        notes += [said] if said else []
    return notes


def _value(name: str, label: str, low: float, high: float, source: Source) -> ValueAnswer:
    return ValueAnswer(name, label, "length", 4, "", source, {"as_made": Range(low, high)})
