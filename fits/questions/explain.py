"""One judged part in detail: its rules that don't pass, and mating sizes that would hold."""

from __future__ import annotations

from collections.abc import Iterator

from fits.features.part import Part
from fits.questions import judging
from fits.questions.answer import FAIL, NOT_COVERED, PASS, CheckAnswer
from fits.questions.boxes import Boxes
from fits.questions.evaluate import evaluate
from fits.questions.judgement import REJECT, Mate, PartJudgement
from fits.questions.mates import mating
from fits.questions.measured import as_read, with_sizes
from fits.sizes.reading import OUTSIDE


def explain(part: Part, judged: PartJudgement) -> PartJudgement:
    """The judgement with its rules that don't pass, and what would go with the part."""
    sizes = {
        one.size.dimension.key: (
            one.size.least - one.size.uncertainty,
            one.size.greatest + one.size.uncertainty,
        )
        for one in judged.sizes
    }
    part = as_read(part, [one.size.dimension.label for one in judged.sizes])
    with_read = with_sizes(part, sizes)
    checks: tuple[tuple[str, CheckAnswer], ...] = ()
    if judged.function != PASS:
        checks = tuple(_not_passing(with_read, tuple(sizes)))
    mates: tuple[Mate, ...] = ()
    if judged.verdict == REJECT or judged.function == FAIL:
        labels = [one.size.dimension.label for one in judged.sizes]
        off = [one.size.dimension.label for one in judged.sizes if one.guarded.verdict == OUTSIDE]
        mates = tuple(mating(with_read, labels, off, {rule.feature for rule in judged.failing}))
    return judged._replace(checks=checks, mates=mates)


def _not_passing(part: Part, keys: tuple[str, ...]) -> Iterator[tuple[str, CheckAnswer]]:
    boxes = Boxes(part, keys)
    evaluations = {name: evaluate(part, name) for name in boxes.features}
    for one in boxes.asked:
        answer = judging.judge(part, one.feature, one.rule, evaluations[one.feature])
        if answer.verdict in (FAIL, NOT_COVERED):
            yield one.feature, answer
