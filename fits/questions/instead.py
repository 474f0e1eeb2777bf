"""What would do instead where a fit can't hold: the alternatives that a kind declares."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fits.features.beside import Alternative
from fits.features.part import Part
from fits.questions.answer import FAIL, NOT_COVERED, CheckAnswer, Range
from fits.questions.evaluate import Evaluation, evaluate
from fits.questions.ranges import ranges_of


def instead(
    part: Part,
    name: str,
    checks: Sequence[CheckAnswer],
    evaluation: Evaluation,
    ranges: Mapping[str, Mapping[str, Range]],
) -> tuple[Alternative, ...]:
    """What other principles would need, where a rule fails or holding isn't covered."""
    feature = part.features[name]
    fails = any(one.verdict == FAIL for one in checks)
    open_ = any(one.verdict == NOT_COVERED and one.rule in feature.holding for one in checks)
    if not feature.holding or not (fails or open_):
        return ()
    return _asked(part, name, evaluation, ranges)


def without_window(part: Part, name: str) -> tuple[Alternative, ...]:
    """The same for a feature that has no window."""
    if not part.features[name].holding:
        return ()
    evaluation = evaluate(part, name)
    return _asked(part, name, evaluation, ranges_of(part, name, evaluation))


def _asked(
    part: Part, name: str, evaluation: Evaluation, ranges: Mapping[str, Mapping[str, Range]]
) -> tuple[Alternative, ...]:
    feature = part.features[name]
    spans, gaps = {}, set()
    for value in type(feature).values:
        if value.name not in ranges:
            continue
        found = list(ranges[value.name].values())
        least = [one.least for one in found if one.least is not None]
        greatest = [one.greatest for one in found if one.greatest is not None]
        if len(least) == len(greatest) == evaluation.states.columns(value.when).sum():
            spans[value.name] = (min(least), max(greatest))
        if evaluation.blocking(value.name):
            gaps.add(value.name)
    return feature.alternatives(spans, frozenset(gaps), part.columns(name))
