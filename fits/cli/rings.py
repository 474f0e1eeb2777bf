"""fits rings: a ring by its code, by what was measured, by the bore or shaft it is for."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Sequence
from typing import Annotated

import typer

from fits import quantity
from fits.cli.options import Result, answered, generated, option, output_options, units_of
from fits.errors import Fault, InputError
from fits.questions.answer import NOT_COVERED, PASS, Answer, FeatureAnswer, Range, ValueAnswer
from fits.shop import ring_search, rings
from fits.shop.rings import Ring
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size
from fits.tables import Source

_HELP = """Rings: by code, by measured size, by the bore or shaft they are for.

Without anything: every ring of AS568 and JIS B 2401. ISO 3601-1 is asked by code: class A
"ISO 3601-1 214A", class B of any size "ISO 3601-1 B 25x3.5".

\b
Examples:
  fits rings AS568-214 "JIS B 2401 P22.4"
  fits rings --inside "25.0 ±0.2" --section "3.52 ±0.03"
  fits rings --bore "1.500 in" --duty moving
"""
_GROOVE = Source("bore or shaft, less or plus twice the squeezed section", "derived")


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    codes = inspect.Parameter(
        "codes",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        default=None,
        annotation=Annotated[list[str] | None, typer.Argument(metavar="CODE...", help="rings to show")],
    )
    options = [
        option("inside", 'measured inside diameter with its uncertainty: "25.0 ±0.2"', "SIZE"),
        option("section", 'measured section with its uncertainty: "3.52 ±0.03"', "SIZE"),
        option("bore", "bore that the ring seals, its groove in the piston", "SIZE"),
        option("shaft", "shaft that the ring seals, its groove in the housing", "SIZE"),
        option("duty", "does the bore or shaft move?", "static|moving"),
    ]
    return generated(_run, [codes, *options, *output_options()], _HELP)


def _run(
    codes: list[str] | None,
    *,
    inside: str | None,
    section: str | None,
    bore: str | None,
    shaft: str | None,
    duty: str | None,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
) -> Result:
    shown = units_of(units)
    _one_question(codes, inside or section, bore, shaft, duty)
    if codes:
        answer = _by_code(codes, shown)
    elif inside or section:
        answer = _by_size(_measured("inside", inside, shown), _measured("section", section, shown), shown)
    elif bore or shaft:
        answer = _by_place("bore" if bore else "shaft", bore or shaft or "", duty or "", shown)
    else:
        answer = _listed([_ring(one) for one in rings.every()], rings.every(), shown)
    return answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)


def _one_question(
    codes: list[str] | None, size: str | None, bore: str | None, shaft: str | None, duty: str | None
) -> None:
    if sum(bool(one) for one in (codes, size, bore, shaft)) > 1:
        hint = "ask for codes, for what was measured, for a bore, or for a shaft"
        raise InputError(Fault("one question at a time", hint=hint))
    if duty is not None and not (bore or shaft):
        raise InputError(Fault("duty belongs to a bore or a shaft", duty, "--duty"))
    if (bore or shaft) and duty not in ring_search.DUTIES:
        must = "missing: static or moving?" if duty is None else "must be static or moving"
        raise InputError(Fault(must, duty or "", "--duty"))


def _measured(name: str, text: str | None, units: str) -> Limits | None:
    """A measured size; what it may be off by is asked, never taken as nothing."""
    if text is None:
        return None
    found = _size(name, text, units)
    if found.tolerance == 0.0:
        hint = 'write the size and what it may be off by: "3.52 ±0.03"'
        raise InputError(Fault("how far may the measurement be off?", text, f"--{name}", hint=hint))
    return found


def _size(name: str, text: str, units: str) -> Limits:
    try:
        return parse_size(text, units=units)
    except InputError as error:
        raise InputError([fault.at(key=f"--{name}") for fault in error.faults]) from None


def _by_code(codes: Sequence[str], units: str) -> Answer:
    found: list[Ring] = []
    faults: list[Fault] = []
    for code in codes:
        try:
            found.append(rings.ring(code))
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    features = tuple(_ring(one, notes=_warnings(one, units)) for one in found)
    sources = tuple(dict.fromkeys(one.source for one in found))
    return Answer("rings", PASS, features, sources=sources, units=units)


def _warnings(of: Ring, units: str) -> tuple[str, ...]:
    """What the ring is easily taken for."""
    like = [_length(one, units) for one in ring_search.sections_like(of.section) if not _same(one, of)]
    notes = []
    if like:
        notes.append(
            f"a section of {_length(of.section.nominal, units)} is easily taken for {', '.join(like)}: their "
            "tolerances overlap, so go by the packet or the drawing, not by one measured ring"
        )
    near = ", ".join(f"{one.code} ({_nominals(one, units)})" for one in ring_search.taken_for(of))
    return (*notes, f"could be taken for {near}") if near else tuple(notes)


def _same(section: float, of: Ring) -> bool:
    return abs(section - of.section.nominal) <= ring_search.SAME


def _nominals(of: Ring, units: str) -> str:
    return f"{_length(of.inside.nominal, units)} x {_length(of.section.nominal, units)}"


def _length(value: float, units: str) -> str:
    return quantity.show(value, "length", 2, units=units)


def _by_size(inside: Limits | None, section: Limits | None, units: str) -> Answer:
    found = ring_search.measured(inside, section)
    notes = list(_of_section(section, units))
    if not found:
        near = ring_search.nearest(inside, section)
        notes.insert(0, f"nearest: {near.code} ({_nominals(near, units)})")
        none = FeatureAnswer("no ring of AS568 or JIS B 2401 has this size", "ring", NOT_COVERED)
        return Answer("rings", NOT_COVERED, (none._replace(notes=tuple(notes)),), units=units, listed=True)
    head = FeatureAnswer("what was measured", "measurement", PASS, notes=tuple(notes))
    return _listed([*([head] if notes else []), *(_ring(one) for one in found)], found, units)


def _of_section(section: Limits | None, units: str) -> list[str]:
    """What a measured section can't tell apart, and the inch name that it may be."""
    if section is None:
        return []
    notes = []
    like = [_length(one, units) for one in ring_search.sections_like(section)]
    if len(like) > 1:
        notes.append(
            f"the section may be {', '.join(like)}: the tolerances overlap, so one ring can't tell; "
            "the packet, the drawing or the groove can"
        )
    if name := ring_search.called(section):
        notes.append(f"a ring called {name[0]} in measures {_length(name[1], units)}, not {name[0]} in")
    return notes


def _by_place(place: str, text: str, duty: str, units: str) -> Answer:
    size = _size(place, text, units)
    name, of = (
        ("stretch", "inside diameter on") if place == "bore" else ("compression", "outside diameter in")
    )
    found = ring_search.suiting(size, place, duty)
    if not found:
        near, most = ring_search.nearly(size, place, duty)
        none = FeatureAnswer(
            f"no ring of AS568 or JIS B 2401 suits a {place} of {_length(size.middle, units)}, {duty}",
            "ring",
            NOT_COVERED,
            notes=(
                f"nearest: {near.ring.code} ({_nominals(near.ring, units)}), {name} {near.mean:.4f} at the "
                f"usual squeeze, where 0 to {most:.4f} is usual: less squeeze, or another {place}",
            ),
        )
        return Answer("rings", NOT_COVERED, (none,), units=units, listed=True)
    features = []
    for one in found:
        in_groove = (
            _value("groove_diameter", "groove", "length", 2, one.groove, _GROOVE),
            _value(name, name, "number", 3, one.stretched, one.source),
        )
        row = _ring(one.ring)
        features.append(row._replace(values=(*row.values[1:], *in_groove)))
    notes = (
        f"by nominal sizes at the usual squeeze; {name} is of the ring's {of} the groove",
        "a first choice: check the groove with its limits, hot and cold, before it is cut",
    )
    title = f"rings for a {place} of {_length(size.middle, units)}, {duty}, the thickest first"
    head = FeatureAnswer(title, "choice", PASS, notes=notes)
    return _listed([head, *features], [one.ring for one in found], units, (found[0].source,))


def _listed(
    features: Sequence[FeatureAnswer], of: Sequence[Ring], units: str, more: tuple[Source, ...] = ()
) -> Answer:
    plain = [one.source._replace(text=one.source.text.removeprefix(f"{one.code}: "), doubt="") for one in of]
    sources = tuple(dict.fromkeys((*more, *plain)))
    return Answer("rings", PASS, tuple(features), sources=sources, units=units, listed=True)


def _ring(of: Ring, notes: tuple[str, ...] | None = None) -> FeatureAnswer:
    values = (
        _value("inside", "inside diameter", "length", 3, (of.inside.lower, of.inside.upper), of.source),
        _value("section", "section", "length", 3, (of.section.lower, of.section.upper), of.source),
    )
    if notes is None:
        weak = ("memory" if of.source.evidence == "memory" else "", "doubtful" if of.source.doubt else "")
        notes = tuple(filter(None, weak))
    else:
        notes = (f"ring {_nominals(of, 'mm')}, {_nominals(of, 'in')}", *notes)
    return FeatureAnswer(of.code, "ring", PASS, values, notes=notes)


def _value(
    name: str, label: str, kind: str, digits: int, ends: tuple[float, float], source: Source
) -> ValueAnswer:
    return ValueAnswer(name, label, kind, digits, "", source, {"as_made": Range(*ends)})
