"""Does it hold? Every rule at every corner in every state, with the worst of each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from fits import quantity
from fits.arrays import Mask
from fits.errors import Fault, InputError
from fits.features.evidence import resting_on
from fits.features.feature import Feature, Rule, States, Step, Value, declared, depends_on
from fits.features.fields import Undecided
from fits.features.part import Part
from fits.features.when import AS_MADE, ASSEMBLY, at_level
from fits.questions import answer as say
from fits.questions.answer import Answer, CheckAnswer, FeatureAnswer, Range, Resting, ValueAnswer, worst
from fits.questions.evaluate import Evaluation, evaluate
from fits.questions.inputs import digest, inputs_of, sizes_of
from fits.questions.instead import instead
from fits.questions.judging import judge
from fits.questions.ranges import ranges_of, told_apart
from fits.tables import Source


def check(part: Part, *, workings: bool = False) -> Answer:
    """Check every feature of a part in every state, worst case.

    Args:
        part: the part.
        workings: add each value at the corner of its greatest, with the numbers put in.

    Raises:
        InputError: a field is still undecided ("?").

    >>> from fits import Part, Running
    >>> plunger = Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01")
    >>> check(Part("pump", {"plunger": plunger})).verdict
    'pass'
    """
    undecided(part)
    features = tuple(_feature(part, name, workings=workings) for name in part.features)
    sources: list[Source] = []
    for answered in features:
        # A refused feature has no numbers, and so no sources of any.
        if answered.verdict != say.REFUSED:
            states = part.columns(answered.name)
            sources += part.features[answered.name].used_sources(states)
    for feature_answer in features:
        sources += [one.source for one in feature_answer.alternatives]
        sources += [check.source for check in feature_answer.checks]
        sources += [value.source for value in feature_answer.values]
        sources += [step.source for step in feature_answer.plan]
        sources += [one.source for one in feature_answer.published]
    return Answer(
        part.name,
        worst([feature.verdict for feature in features]),
        features,
        part.states,
        tuple(dict.fromkeys(sources)),
        part.info,
        part.units,
        inputs=digest(part),
    )


def undecided(part: Part, *, but: tuple[str, ...] | None = None) -> None:
    """Refuse fields left open, but for the one that is being asked about."""
    faults = []
    for name, feature in part.features.items():
        for field in declared(type(feature)):
            if isinstance(getattr(feature, field), Undecided) and (name, field) != but:
                hint = f"ask for it: fits window PART {name}.{field}"
                faults.append(
                    Fault("not decided yet", "?", f"{feature.kind}.{name}.{field}", part.place, hint)
                )
    if faults:
        raise InputError(faults)


def refusals(part: Part, name: str) -> tuple[str, ...]:
    """Why a feature is refused: nothing is computed for it, whatever is asked."""
    feature, states = part.features[name], part.columns(name)
    return tuple(
        f"{one.name}: {one.reason(feature, states)}; {one.ask}"
        for one in type(feature).refusals
        if one.applies(feature, states)
    )


def _checks(part: Part, name: str, evaluation: Evaluation) -> list[CheckAnswer]:
    """Every rule that is asked, at its worst, with what it rests on from memory."""
    feature, states = part.features[name], part.columns(name)
    return [
        judge(part, name, rule, evaluation)._replace(memory=from_memory(part, name, rule))
        for rule in type(feature).rules
        if rule.asked(feature, states)
    ]


def rests_on(part: Part, names: Iterable[str]) -> tuple[Resting, ...]:
    """The rules asked of features that rest on what is from memory or doubtful."""
    found = []
    for name in names:
        feature, states = part.features[name], part.columns(name)
        for rule in type(feature).rules:
            if rule.asked(feature, states) and (sources := from_memory(part, name, rule)):
                found.append(Resting(name, rule.name, sources))
    return tuple(found)


def from_memory(part: Part, name: str, rule: Rule) -> tuple[Source, ...]:
    """What a rule rests on from memory, on surfaces of other features too."""
    feature = part.features[name]
    found = [*resting_on(feature, rule, part.columns(name))]
    needed = depends_on(type(feature), rule.value)
    for field, ref in feature.standing_on().items():
        below = part.features[ref.feature]
        value = next(one.value for one in below.surfaces if one.name == ref.surface)
        if field in needed:
            found += from_memory(part, ref.feature, rule._replace(value=value, limit=0.0))
    return tuple(dict.fromkeys(found))


def _feature(part: Part, name: str, *, workings: bool) -> FeatureAnswer:
    feature = part.features[name]
    kind = type(feature)
    states = part.columns(name)
    if texts := refusals(part, name):
        return FeatureAnswer(name, kind.kind, say.REFUSED, refusals=texts, inputs=inputs_of(feature))
    evaluation = evaluate(part, name)
    found = _checks(part, name, evaluation)
    missing = list(dict.fromkeys(_not_covered(evaluation)))
    verdicts = [one.verdict for one in found]
    if kind.must_ask and not any(one.rule in kind.must_ask[0] for one in found):
        verdicts.append(say.NOT_COVERED)
        missing.insert(0, kind.must_ask[1])
    ranges = ranges_of(part, name, evaluation)
    apart: dict[str, list[tuple[str, dict[str, Range]]]] = {}
    for value, words, found_there in told_apart(part, name, evaluation):
        apart.setdefault(value.name, []).append((words, found_there))
        ranges[at_level(value.name, words)] = found_there
    values = tuple(
        one
        for v in kind.values
        if v.shown
        for one in _answers(v, ranges.get(v.name, {}), apart.get(v.name, []))
    )
    return FeatureAnswer(
        name,
        kind.kind,
        worst(verdicts),
        values,
        tuple(found),
        cautions=tuple(c.text for c in kind.cautions if c.applies(feature, states)),
        plan_title=kind.plan_title,
        plan=() if say.FAIL in verdicts else _plan(part, feature, shop_ranges(ranges), states),
        published=feature.published(),
        not_covered=tuple(missing),
        not_asked=tuple(
            f"{rule.name} (asked by {rule.asks})"
            for rule in kind.rules
            if rule.asks and not rule.asked(feature, states)
        ),
        assumptions=feature.assumptions(states),
        notes=feature.notes(states),
        workings=_workings(evaluation) if workings else (),
        states=tuple(part.of_feature.get(name, ())),
        sizes=sizes_of(feature, evaluation),
        inputs=inputs_of(feature),
        pair=kind.pair,
        alternatives=instead(part, name, found, evaluation, ranges),
    )


def _answers(
    value: Value, ranges: Mapping[str, Range], apart: Sequence[tuple[str, Mapping[str, Range]]]
) -> Iterator[ValueAnswer]:
    """A value over all its levels, or one answer a level where they are told apart."""
    of = (value.kind, value.digits, value.equation, value.source)
    if ranges and not apart:
        yield ValueAnswer(value.name, value.label, *of, ranges)
    for words, spans in apart:
        if spans:
            yield ValueAnswer(at_level(value.name, words), f"{value.label}, {words}", *of, spans)


def _workings(evaluation: Evaluation) -> tuple[str, ...]:
    from fits.questions.workings import workings

    return workings(evaluation)


def _plan(
    part: Part, feature: Feature, numbers: Mapping[str, tuple[float, float]], states: States
) -> tuple[Step, ...]:
    """The steps, in the units that the part is shown in."""
    with quantity.shown_in(part.units):
        return feature.plan(numbers, states)


def shop_ranges(ranges: Mapping[str, Mapping[str, Range]]) -> dict[str, tuple[float, float]]:
    """The ranges of values at 20 degC, as the parts are made and put together."""
    found = {}
    for name, states in ranges.items():
        # Assembly is at 20 degC, as the parts are made.
        one = states.get(ASSEMBLY) or states.get(AS_MADE)
        if one is not None and one.least is not None and one.greatest is not None:
            found[name] = (one.least, one.greatest)
    return found


def _not_covered(evaluation: Evaluation) -> list[str]:
    """Each gap once, with the values that it takes away or that leave it out."""
    found = []
    for gap in evaluation.gaps:
        touched = [
            value.label
            for value in type(evaluation.feature).values
            if value.shown
            and value.name in evaluation.numbers
            and gap.about in depends_on(type(evaluation.feature), value.name)
        ]
        if not touched:
            continue
        where = [
            name
            for name, hit in zip(evaluation.states.names, _by_column(gap.mask, evaluation), strict=True)
            if hit
        ]
        here = "" if len(where) == len(evaluation.states.names) else f" ({', '.join(where)})"
        found.append(f"{gap.reason}{here}")
    return found


def _by_column(mask: Mask, evaluation: Evaluation) -> list[bool]:
    columns = len(evaluation.states.names)
    if mask.ndim == 0 or mask.shape[-1] == 1:
        return [bool(mask.any())] * columns
    return [bool(one) for one in np.atleast_1d(mask.reshape(-1, columns).any(axis=0))]
