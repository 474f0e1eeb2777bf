"""What a question returns: plain data that every writer loops over."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from fits import quantity
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.beside import Alternative, Published, Step
    from fits.features.feature import State
    from fits.questions.choose import Choices
    from fits.questions.drawn import Drawn
    from fits.questions.fit_window import FitWindow
    from fits.questions.from_drawer import FromDrawer
    from fits.questions.judgement import Judged
    from fits.questions.options import Options
    from fits.questions.pairing import Pairing
    from fits.questions.window import Window

_NOTHING: Mapping[str, str] = MappingProxyType({})
_NO_CORNER: Mapping[str, float] = MappingProxyType({})

PASS, NOT_COVERED, FAIL, REFUSED = "pass", "not covered", "fail", "refused"
# A value as near to its limit stands on it, in the inside unit: the last binary digits of a sum.
ON_IT = 1e-9
_WORST_FIRST = (REFUSED, FAIL, NOT_COVERED, PASS)


def worst(verdicts: list[str]) -> str:
    """The worst of some verdicts; pass where there are none.

    >>> worst(["pass", "not covered"])
    'not covered'
    """
    return min(verdicts, key=_WORST_FIRST.index, default=PASS)


class Range(NamedTuple):
    """Least and greatest of a value in one state, inside unit; None where there is none."""

    least: float | None
    greatest: float | None


class ValueAnswer(NamedTuple):
    """One value: its range in every state."""

    name: str
    label: str
    kind: str
    digits: int
    equation: str
    source: Source
    states: Mapping[str, Range]


class CheckAnswer(NamedTuple):
    """One rule at its worst: value, limit and margin in the inside unit.

    ``worst``, ``limit`` and ``margin`` are None where they aren't known; ``why_not`` says
    why a rule is not covered and ``break_even`` what would make it hold. ``corner`` holds
    the dimensions at the worst corner, ``where`` the choice that alone is the worst there
    ("slice 2 of 3"), or which layer or interface it is. ``memory`` are the sources it rests on
    that are known from memory only, or doubtful.
    """

    rule: str
    value: str
    label: str
    sense: str
    state: str
    worst: float | None
    limit: float | None
    kind: str
    digits: int
    margin: float | None
    verdict: str
    reason: str
    action: str
    source: Source
    why_not: str = ""
    break_even: str = ""
    corner: Mapping[str, float] = _NO_CORNER
    where: str = ""
    memory: tuple[Source, ...] = ()


class SizeAnswer(NamedTuple):
    """A size of a feature, mm, free and at 20 degC: as typed, its limits, what it counts from.

    ``side`` is hole, shaft or "" (a length); ``on`` names the surface it stands on, whose
    limits are those of 20 degC, joined: it isn't cut here.
    """

    name: str
    label: str
    text: str
    lower: float
    upper: float
    basic: float | None = None
    side: str = ""
    on: str = ""


class FeatureAnswer(NamedTuple):
    """All that is said of one feature; ``states`` are its own where they differ from the part's.

    ``inputs`` is what was given, by field; ``drawn`` what there is to draw beyond the
    sizes, where it was asked for; ``pair`` names the sizes that make the fit.
    """

    name: str
    kind: str
    verdict: str
    values: tuple[ValueAnswer, ...] = ()
    checks: tuple[CheckAnswer, ...] = ()
    refusals: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    plan: tuple[Step, ...] = ()
    plan_title: str = "To assemble"
    published: tuple[Published, ...] = ()
    not_covered: tuple[str, ...] = ()
    not_asked: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    workings: tuple[str, ...] = ()
    states: tuple[State, ...] = ()
    sizes: tuple[SizeAnswer, ...] = ()
    inputs: Mapping[str, str] = _NOTHING
    pair: tuple[str, str] | None = None
    drawn: Drawn | None = None
    alternatives: tuple[Alternative, ...] = ()


class Resting(NamedTuple):
    """A rule of a feature that rests on what is from memory or doubtful."""

    feature: str
    rule: str
    sources: tuple[Source, ...]


class Answer(NamedTuple):
    """The answer to a question about a part; ``inputs`` is the digest of all that was given.

    ``listed`` says that the features are rows of one list, each with the same values. ``rests_on``
    is of an answer without the rules themselves: what they rest on from memory.
    """

    part: str
    verdict: str
    features: tuple[FeatureAnswer, ...]
    states: tuple[State, ...] = ()
    sources: tuple[Source, ...] = ()
    info: Mapping[str, str] = _NOTHING
    units: str = "mm"
    windows: tuple[Window | FitWindow, ...] = ()
    choices: tuple[Choices | Options, ...] = ()
    drawers: tuple[FromDrawer, ...] = ()
    listed: bool = False
    judged: Judged | None = None
    pairing: Pairing | None = None
    inputs: str = ""
    rests_on: tuple[Resting, ...] = ()

    def frame(self) -> Any:
        """The values as a pandas table: one row a value and state, in report units."""
        import pandas as pd

        rows = [
            (feature.name, value.name, value.label, state, span.least, span.greatest, value.kind)
            for feature in self.features
            for value in feature.values
            for state, span in value.states.items()
        ]
        names = ["feature", "value", "label", "state", "min", "max", "kind"]
        found = pd.DataFrame(rows, columns=names)
        factor = found["kind"].map(lambda kind: quantity.report_value(1.0, kind))
        for end in ("min", "max"):
            found[end] = found[end].astype(float) * factor
        found["unit"] = found.pop("kind").map(quantity.report_unit)
        return found

    def _repr_html_(self) -> str:
        """The answer in a notebook: verdict, rules and values as tables."""
        from fits.report.notebook import html

        return html(self)
