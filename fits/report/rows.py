"""What is said, once, in words and numbers with units; every writer loops over it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from fits import quantity
from fits.features.when import AS_MADE, ASSEMBLY
from fits.questions.answer import (
    FAIL,
    NOT_COVERED,
    PASS,
    REFUSED,
    Answer,
    CheckAnswer,
    FeatureAnswer,
    ValueAnswer,
)

if TYPE_CHECKING:
    from fits.features.beside import Alternative, Need
    from fits.features.feature import State

VERDICT_WORDS = {PASS: "PASS", FAIL: "FAIL", NOT_COVERED: "NOT COVERED", REFUSED: "REFUSED"}
_MEANS = {
    PASS: "every rule that was asked holds in every state, worst case",
    FAIL: "at least one rule does not hold",
    NOT_COVERED: "nothing fails, but not everything could be judged",
    REFUSED: "this tool does not size it",
}
_PLACES = {AS_MADE: "as made", ASSEMBLY: "assembly"}


class CheckRow(NamedTuple):
    """One rule: cells of text."""

    rule: str
    worst: str
    relation: str
    limit: str
    to_spare: str
    state: str
    verdict: str


class ValueRow(NamedTuple):
    """One value over all its states: cells of text."""

    label: str
    least: str
    greatest: str
    unit: str
    least_in: str
    greatest_in: str


def headline(answer: Answer) -> tuple[str, str, str]:
    """Verdict word, name of the part, and what the verdict means."""
    revision = answer.info.get("revision", "")
    name = f"{answer.part}, revision {revision}" if revision else answer.part
    return VERDICT_WORDS[answer.verdict], name, _MEANS[answer.verdict]


def place(state: str) -> str:
    """A state's name in words."""
    return _PLACES.get(state, state)


def state_text(state: State, units: str) -> str:
    """What a state is: temperatures, pressure, speed."""
    if state.hub_temperature == state.shaft_temperature:
        said = [quantity.show(state.hub_temperature, "temperature", 0, units=units)]
    else:
        hub = quantity.show(state.hub_temperature, "temperature", 0, units=units)
        shaft = quantity.show(state.shaft_temperature, "temperature", 0, units=units)
        said = [f"hub {hub}", f"shaft {shaft}"]
    if state.pressure:
        said.append(f"0 to {quantity.show(state.pressure, 'pressure', 2, units=units)}")
    if state.speed:
        said.append(f"0 to {quantity.show(state.speed, 'speed', 0, units=units)}")
    if state.time:
        said.append(f"for {quantity.show(state.time / 3600.0, 'number', 1)} h in all")
    if state.medium:
        said.append(state.medium)
    if state.proof:
        said.append("proof test")
    return ", ".join(said)


def number(value: float | None, kind: str, digits: int, units: str) -> str:
    """A number with its unit, or a dash where there is none."""
    return "-" if value is None else quantity.show(value, kind, digits, units=units)


def difference(value: float | None, kind: str, digits: int, units: str) -> str:
    """A margin with its unit; a difference of temperatures is not a temperature."""
    if kind == "temperature":
        kind = "temperature difference"
    return number(value, kind, digits, units)


def check_row(check: CheckAnswer, units: str) -> CheckRow:
    """A rule at its worst."""
    return CheckRow(
        check.rule,
        number(check.worst, check.kind, check.digits, units),
        "at least" if check.sense == "at least" else "at most",
        number(check.limit, check.kind, check.digits, units),
        difference(check.margin, check.kind, check.digits, units),
        place(check.state),
        VERDICT_WORDS[check.verdict],
    )


def to_do(feature: FeatureAnswer, units: str) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """What keeps a feature from passing: a headline, then (word, text) lines."""
    for check in feature.checks:
        row = check_row(check, units)
        if check.verdict == FAIL:
            said = f"{row.rule}: {check.label} {row.worst} in {row.state}, {row.relation} {row.limit}"
            if check.margin is not None:
                short = difference(-check.margin, check.kind, check.digits, units)
                said += f": {short} too {'little' if check.sense == 'at least' else 'much'}"
            yield said, [("why", check.reason), ("do", check.action)]
        elif check.verdict == NOT_COVERED:
            lines = [("why", check.why_not)]
            if check.break_even:
                lines.append(("but", check.break_even))
            yield f"{row.rule}: not covered in {row.state}", lines
    for text in feature.refusals:
        yield text, []


def value_row(value: ValueAnswer, units: str) -> ValueRow:
    """A value's range over all its states, and where each end lies."""
    least = [(r.least, name) for name, r in value.states.items() if r.least is not None]
    greatest = [(r.greatest, name) for name, r in value.states.items() if r.greatest is not None]
    low = min(least, default=(None, ""), key=lambda one: one[0])
    high = max(greatest, default=(None, ""), key=lambda one: one[0])
    places = value.digits + (quantity.KINDS[value.kind].inch[2] if units == "in" else 0)
    return ValueRow(
        value.label,
        _bare(low[0], value.kind, places, units),
        _bare(high[0], value.kind, places, units),
        quantity.sheet_unit(value.kind, units=units),
        place(low[1]),
        place(high[1]),
    )


def need_text(need: Need, units: str) -> str:
    """What an alternative would need, in words; a limit is rounded to its safe side."""
    if need.sense:
        up = need.sense == "at least"
        shown = quantity.show_end(need.value, need.kind, need.digits, up=up, units=units)
    else:
        shown = number(need.value, need.kind, need.digits, units)
    return " ".join(filter(None, (need.label, need.sense, shown)))


def alternative_lines(one: Alternative, units: str) -> tuple[str, list[tuple[str, str]]]:
    """An alternative with what it would need, then (word, text) lines."""
    needs = "; ".join(need_text(need, units) for need in one.needs)
    lines = [("open", text) for text in one.unknown]
    lines += [("ask", one.ask)] if one.ask else []
    return f"{one.name}: {needs}" if needs else one.name, lines


def _bare(value: float | None, kind: str, places: int, units: str) -> str:
    if value is None:
        return "-"
    return quantity.number(quantity.on_sheet(value, kind, units=units), places)
