"""A report as data (``fits-report/1``), new or stored: as much of it as can be compared."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fits.errors import Fault, InputError
from fits.questions.answer import SizeAnswer, worst

Verdict = Literal["refused", "fail", "not covered", "pass"]
_DUE = "a report that fits check --json wrote is due"


class _Data(BaseModel):
    """Plain data of a report; what isn't compared is left out, what is must be as it was written."""

    model_config = ConfigDict(frozen=True, strict=True, allow_inf_nan=False, extra="ignore")


class Amount(_Data):
    """A number with its unit."""

    value: float
    unit: str


class Check(_Data):
    """One rule at its worst, in report units."""

    rule: str
    state: str
    sense: str
    unit: str
    verdict: Verdict
    worst: float | None = None
    limit: float | None = None
    margin: float | None = None
    reason: str = ""
    action: str = ""
    not_covered: str = ""
    break_even: str = ""


class Size(_Data):
    """A size of a feature, mm."""

    name: str
    text: str
    min: float
    max: float
    on: str = ""

    def answer(self) -> SizeAnswer:
        """The size as a writer shows it."""
        return SizeAnswer(self.name, self.name.replace("_", " "), self.text, self.min, self.max, on=self.on)


StateData = dict[str, Amount | bool | str]


class FeatureData(_Data):
    """One feature of a report."""

    kind: str
    verdict: Verdict
    checks: list[Check]
    refusals: list[str]
    cautions: list[str]
    not_covered: list[str]
    sizes: list[Size] = []
    inputs: dict[str, str] = {}
    states: dict[str, StateData] = {}


class Report(_Data):
    """A whole report."""

    schema_: Literal["fits-report/1"] = Field(alias="schema")
    part: str
    verdict: Verdict
    states: dict[str, StateData]
    features: dict[str, FeatureData]
    revision: str = ""
    drawn_by: str = ""
    date: str = ""
    inputs_sha256: str = ""
    tables: dict[str, str] = {}

    @property
    def worst(self) -> str:
        """The worst verdict that stands anywhere in it."""
        found = [self.verdict, *(one.verdict for one in self.features.values())]
        return worst([*found, *(check.verdict for one in self.features.values() for check in one.checks)])


def reported(data: Mapping[str, Any], place: str) -> Report:
    """A report from its data.

    Raises:
        InputError: not such a report, or one in which nothing was judged; at its key.
    """
    try:
        found = Report.model_validate(data)
    except ValidationError as error:
        one = error.errors()[0]
        key = ".".join(str(part) for part in one["loc"])
        raise InputError(Fault(f"{_DUE}: {one['msg'].lower()}", key=key, place=place)) from None
    if not any(one.checks or one.refusals or one.not_covered for one in found.features.values()):
        raise InputError(Fault(f"{_DUE}: nothing was judged in this one", place=place))
    return found
