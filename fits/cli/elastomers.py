"""fits elastomers: what is known of a ring's rubber, and whether it stands a fluid."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from typing import Annotated

import typer

from fits.cli.options import Result, answered, generated, option, output_options, units_of
from fits.errors import Fault, InputError
from fits.materials import elastomers
from fits.materials.elastomers import Clash, Elastomer, Known, clash
from fits.questions.answer import NOT_COVERED, PASS, REFUSED, Answer, FeatureAnswer, Range, ValueAnswer, worst
from fits.tables import Source

_HELP = """Elastomers of rings: temperatures, expansion, set, and which fluid they stand.

An elastomer is material and hardness, "NBR 70". Without a name: every material.

\b
Examples:
  fits elastomers "NBR 70" "FKM 75"
  fits elastomers --fluid "mineral oil"
  fits elastomers "EPDM 70" --fluid "mineral oil"
"""
_VERDICTS = {"ok": PASS, "unknown": NOT_COVERED, "refuse": REFUSED}
_SAID = {"ok": "stands it", "unknown": "not known, ask the maker of the ring", "refuse": "refused"}


def command(name: str) -> Callable[..., Result]:
    """The command function."""
    wanted = inspect.Parameter(
        "names",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        default=None,
        annotation=Annotated[list[str] | None, typer.Argument(metavar="NAME...", help="elastomers to show")],
    )
    fluid = option("fluid", "does it stand this fluid?", "FLUID")
    return generated(_run, [wanted, fluid, *output_options()], _HELP)


def _run(
    names: list[str] | None,
    *,
    fluid: str | None,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
) -> Result:
    shown = units_of(units)
    if fluid is not None and fluid not in elastomers.fluids():
        raise InputError(Fault(clash(elastomers.elastomer("NBR 70"), fluid).reason, key="--fluid"))
    answer = _named(names, fluid, shown) if names else _every(fluid, shown)
    return answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)


def _named(names: list[str], fluid: str | None, units: str) -> Answer:
    found: list[Elastomer] = []
    faults: list[Fault] = []
    for name in names:
        try:
            found.append(elastomers.elastomer(name))
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    features = tuple(_one(of, fluid) for of in found)
    sources = [value.source for feature in features for value in feature.values]
    if fluid:
        sources += [said.source for of in found if (said := clash(of, fluid)).source is not None]
    verdict = worst([feature.verdict for feature in features])
    return Answer("elastomers", verdict, features, sources=tuple(dict.fromkeys(sources)), units=units)


def _one(of: Elastomer, fluid: str | None) -> FeatureAnswer:
    notes = [f"{of.material} of {of.hardness:g} Shore A", *_notes(of)]
    verdict = PASS
    if fluid:
        said = clash(of, fluid)
        verdict = _VERDICTS[said.verdict]
        notes.insert(1, f"{_SAID[said.verdict]}: {said.reason}{_up_to(said)}")
    return FeatureAnswer(of.name, "elastomer", verdict, tuple(_values(of)), notes=tuple(notes))


def _notes(of: Elastomer) -> Iterator[str]:
    grades = of.grades()
    if grades and of.hardness not in grades:
        yield f"rings of {of.material} are sold in {', '.join(f'{one:g}' for one in grades)} Shore A"
    unknown = [
        words
        for words, known in (("TR10", of.tr10), ("expansion", of.expansion), ("modulus", of.modulus()))
        if known is None
    ]
    if unknown:
        yield f"not known here: {', '.join(unknown)}; ask the maker's data sheet"
    yield "gas permeability: no sourced number, not covered"
    for known in of.sets():
        span = f"{known.low:.0%}" if known.low == known.high else f"{known.low:.0%} to {known.high:.0%}"
        yield f"compression set {span} {known.test}: of that test alone"
    yield "the compound on the packet decides; these are usual values of its kind"


def _values(of: Elastomer) -> Iterator[ValueAnswer]:
    if of.lowest is not None:
        yield _value("lowest", "stands, at the least", "temperature", 0, of.lowest)
    if of.highest is not None:  # pragma: no branch (every elastomer of the table has one)
        yield _value("highest", "stands, at the most", "temperature", 0, of.highest)
    if of.tr10 is not None:
        yield _value("tr10", "TR10", "temperature", 0, of.tr10)
    for moving, words in ((False, "static"), (True, "moving")):
        limit = of.cold_limit(moving=moving)
        if limit is not None:
            yield _value(f"cold_limit_{words}", f"seals down to, {words}", "temperature", 0, limit)
    if of.expansion is not None:
        yield _value("expansion", "linear expansion", "expansion", 0, of.expansion)
    if (modulus := of.modulus()) is not None:
        yield _value("modulus", "modulus from hardness", "pressure", 1, modulus)


def _value(name: str, label: str, kind: str, digits: int, known: Known) -> ValueAnswer:
    return ValueAnswer(name, label, kind, digits, "", known.source, {"as_made": Range(known.low, known.high)})


def _up_to(said: Clash) -> str:
    return "" if said.up_to is None else f", up to {said.up_to:g} degC"


def _every(fluid: str | None, units: str) -> Answer:
    """Every material in one line; with a fluid, what is known of the pair."""
    features = []
    sources: list[Source] = []
    for name in elastomers.names():
        # The hardness plays no part in what a line shows.
        of = elastomers.elastomer(f"{name} 70")
        assert of.highest is not None
        low = of.lowest.low if of.lowest is not None else None
        span = {"as_made": Range(low, of.highest.high)}
        stands = ValueAnswer("temperature", "stands", "temperature", 0, "", of.highest.source, span)
        notes = [elastomers.words(name)]
        if fluid:
            said = clash(of, fluid)
            notes = [f"{_SAID[said.verdict]}{_up_to(said)}"]
            sources += [said.source] if said.source is not None else []
        features.append(FeatureAnswer(name, "elastomer", PASS, (stands,), notes=tuple(notes)))
    return Answer(
        "elastomers", PASS, tuple(features), sources=tuple(dict.fromkeys(sources)), units=units, listed=True
    )
