"""JSON and CSV: the same answer as data.

JSON has schema ``fits-report/1``: fixed key order, 12 significant digits, never NaN.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from fits import quantity
from fits.questions.answer import Answer, CheckAnswer, FeatureAnswer, SizeAnswer, ValueAnswer
from fits.report import rows

if TYPE_CHECKING:
    from fits.features.beside import Alternative, Published, Step
    from fits.features.feature import State

SCHEMA = "fits-report/1"


def to_json(answer: Answer) -> str:
    """The answer as JSON text, the same bytes for the same question."""
    return json.dumps(to_dict(answer), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def to_dict(answer: Answer) -> dict[str, Any]:
    """The answer as plain data; units are mm, MPa, N, N*m, degC, K, 1/K, s, rpm, um, 1."""
    found: dict[str, Any] = {"schema": SCHEMA, "part": answer.part}
    found |= dict(answer.info)
    found["verdict"] = answer.verdict
    found["states"] = {state.name: _state(state) for state in answer.states}
    found["features"] = {feature.name: _feature(feature) for feature in answer.features}
    if answer.windows or answer.choices:
        from fits.questions.fit_window import FitWindow
        from fits.questions.options import Options
        from fits.report import options, windows

        found["windows"] = [
            windows.fit_data(one) if isinstance(one, FitWindow) else windows.window_data(one)
            for one in answer.windows
        ]
        found["choices"] = [
            options.data(one) if isinstance(one, Options) else windows.choices_data(one)
            for one in answer.choices
        ]
    if answer.drawers:
        from fits.report import drawers

        found["drawers"] = [drawers.data(one) for one in answer.drawers]
    if answer.judged is not None or answer.pairing is not None:
        from fits.report import measured_data

        if answer.judged is not None:
            found["judged"] = measured_data.judged_data(answer.judged)
        if answer.pairing is not None:
            found["pairing"] = measured_data.pairing_data(answer.pairing)
    if answer.rests_on:
        found["from_memory"] = [
            {"feature": one.feature, "rule": one.rule, "sources": [str(source) for source in one.sources]}
            for one in answer.rests_on
        ]
    if answer.inputs:
        found["inputs_sha256"] = answer.inputs
        found["tables"] = dict(rows.tables_used(answer))
    found["sources"] = [str(source) for source in answer.sources]
    return found


def rounded(value: float) -> float:
    """A float at 12 significant digits, so that every machine prints the same."""
    return float(f"{value:.12g}")


def _state(state: State) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if state.hub_temperature == state.shaft_temperature:
        found["temperature"] = _quantity(state.hub_temperature, "temperature")
    else:
        found["hub_temperature"] = _quantity(state.hub_temperature, "temperature")
        found["shaft_temperature"] = _quantity(state.shaft_temperature, "temperature")
    if state.pressure:
        found["pressure"] = _quantity(state.pressure, "pressure")
    if state.speed:
        found["speed"] = _quantity(state.speed, "speed")
    if state.time:
        found["time"] = _quantity(state.time, "time")
    if state.medium:
        found["medium"] = state.medium
    if state.proof:
        found["proof"] = True
    return found


def _quantity(value: float, kind: str) -> dict[str, Any]:
    return {"value": rounded(quantity.report_value(value, kind)), "unit": quantity.report_unit(kind)}


def _feature(feature: FeatureAnswer) -> dict[str, Any]:
    return {
        "kind": feature.kind,
        "verdict": feature.verdict,
        "values": {value.name: _value(value) for value in feature.values},
        "checks": [check_data(check) for check in feature.checks],
        "refusals": list(feature.refusals),
        "cautions": list(feature.cautions),
        "plan": [_step(step) for step in feature.plan],
        "published": [_published(one) for one in feature.published],
        "not_covered": list(feature.not_covered),
        "not_asked": list(feature.not_asked),
        "assumptions": list(feature.assumptions),
        "notes": list(feature.notes),
        **({"sizes": [_size(one) for one in feature.sizes]} if feature.sizes else {}),
        **({"inputs": dict(feature.inputs)} if feature.inputs else {}),
        **(
            {"alternatives": [alternative_data(one) for one in feature.alternatives]}
            if feature.alternatives
            else {}
        ),
        **({"states": {one.name: _state(one) for one in feature.states}} if feature.states else {}),
        **({"workings": list(feature.workings)} if feature.workings else {}),
    }


def _value(value: ValueAnswer) -> dict[str, Any]:
    states = {}
    for name, span in value.states.items():
        ends = {"min": span.least, "max": span.greatest}
        states[name] = {
            end: rounded(quantity.report_value(number, value.kind))
            for end, number in ends.items()
            if number is not None
        }
    return {
        "label": value.label,
        "unit": quantity.report_unit(value.kind),
        "source": str(value.source),
        "states": states,
    }


def check_data(check: CheckAnswer) -> dict[str, Any]:
    """One rule as plain data, in report units."""
    found: dict[str, Any] = {"rule": check.rule, "value": check.value, "state": check.state}
    for name in ("worst", "limit"):
        number = getattr(check, name)
        if number is not None:
            found[name] = rounded(quantity.report_value(number, check.kind))
    found["unit"] = quantity.report_unit(check.kind)
    if check.where:
        found["where"] = check.where
    found["sense"] = check.sense
    if check.margin is not None:
        found["margin"] = rounded(quantity.report_value(check.margin, check.kind))
    found["verdict"] = check.verdict
    found["reason"] = check.reason
    found["action"] = check.action
    found["source"] = str(check.source)
    if check.memory:
        found["from_memory"] = [str(one) for one in check.memory]
    if check.why_not:
        found["not_covered"] = check.why_not
    if check.break_even:
        found["break_even"] = check.break_even
    return found


def _size(size: SizeAnswer) -> dict[str, Any]:
    return {
        "name": size.name,
        "text": size.text,
        "min": rounded(size.lower),
        "max": rounded(size.upper),
        "unit": "mm",
        **({"on": size.on} if size.on else {}),
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "do": step.do,
        "tool": step.tool,
        "range": step.range,
        "stop_if": step.stop_if,
        "caution": step.caution,
        "source": str(step.source),
    }


def alternative_data(one: Alternative) -> dict[str, Any]:
    """Another way to do it as plain data: needs in report units, and what is not covered of it."""
    return {
        "name": one.name,
        "needs": [
            {
                "label": need.label,
                "sense": need.sense,
                "value": rounded(quantity.report_value(need.value, need.kind)),
                "unit": quantity.report_unit(need.kind),
            }
            for need in one.needs
        ],
        "not_covered": list(one.unknown),
        "ask": one.ask,
        "source": str(one.source),
    }


def alternative_rows(found: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Alternatives as rows of the CSV report: one a need, one for what is open."""
    for one in found:
        head = {"row": "alternative", "name": one["name"], "source": one["source"]}
        for need in one["needs"]:
            side = "greatest" if need["sense"] == "at most" else "least"
            yield {**head, side: need["value"], "unit": need["unit"], "text": need["label"]}
        for text in one["not_covered"]:
            yield {**head, "verdict": "not covered", "text": text}


def _published(one: Published) -> dict[str, Any]:
    return {"value": one.value, "min": rounded(one.low), "max": rounded(one.high), "source": str(one.source)}


COLUMNS = (
    "part",
    "feature",
    "kind",
    "row",
    "name",
    "state",
    "least",
    "greatest",
    "limit",
    "margin",
    "unit",
    "verdict",
    "text",
    "source",
)


def csv_text(columns: Iterable[str], rows: Iterable[dict[str, Any]], *, head: bool = True) -> str:
    r"""Rows as CSV, under their columns; a cell that a row doesn't have is empty.

    >>> csv_text(("row", "unit"), [{"row": "size"}])
    'row,unit\nsize,\n'
    """
    out = io.StringIO()
    writer = csv.DictWriter(out, tuple(columns), restval="", lineterminator="\n")
    if head:
        writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def to_csv(answer: Answer) -> str:
    """The answer as CSV: one row a value and state, one a check, one a caution or note."""
    return csv_text(_columns(answer), ({"part": answer.part, **row} for row in _answer_rows(answer)))


def _answer_rows(answer: Answer) -> Iterator[dict[str, Any]]:
    for feature in answer.features:
        head = {"feature": feature.name, "kind": feature.kind}
        yield from ({**head, **row} for row in _csv_rows(feature))
    if answer.windows or answer.choices:
        from fits.report import windows

        yield from windows.csv_rows(answer)
    if answer.drawers:
        from fits.report import drawers

        for one in answer.drawers:
            yield from drawers.csv_rows(one)
    if answer.judged is not None or answer.pairing is not None:
        from fits.report import measured_data

        if answer.judged is not None:
            yield from measured_data.judged_rows(answer.judged)
        if answer.pairing is not None:
            yield from measured_data.pairing_rows(answer.pairing)
    for resting in answer.rests_on:
        for source in resting.sources:
            row = {"feature": resting.feature, "row": "from memory", "name": resting.rule}
            yield {**row, "source": str(source)}
    for source in answer.sources:
        yield {"row": "source", "source": str(source)}


def _columns(answer: Answer) -> tuple[str, ...]:
    if answer.judged is None:
        return COLUMNS
    from fits.report.measured_data import JUDGED

    return JUDGED


def _csv_rows(feature: FeatureAnswer) -> Iterator[dict[str, Any]]:
    data = _feature(feature)
    for name, value in data["values"].items():
        for state, span in value["states"].items():
            yield {
                "row": "value",
                "name": name,
                "state": state,
                "least": span.get("min", ""),
                "greatest": span.get("max", ""),
                "unit": value["unit"],
                "text": value["label"],
                "source": value["source"],
            }
    for check in data["checks"]:
        said = (
            check.get("where"),
            check.get("not_covered"),
            check.get("break_even"),
            check["reason"],
            check["action"],
            f"from memory: {' | '.join(check['from_memory'])}" if "from_memory" in check else "",
        )
        yield {
            "row": "check",
            "name": check["rule"],
            "least" if check["sense"] == "at least" else "greatest": check.get("worst", ""),
            "text": "; ".join(filter(None, said)),
            **{key: check.get(key, "") for key in ("state", "limit", "margin", "unit", "verdict", "source")},
        }
    for row in ("refusals", "cautions", "not_covered", "not_asked", "assumptions", "notes"):
        for text in data[row]:
            yield {"row": row, "text": text}
    for size in data.get("sizes", ()):
        ends = {"least": size["min"], "greatest": size["max"], "unit": size["unit"]}
        yield {"row": "size", "name": size["name"], **ends, "text": size["text"]}
    for name, text in data.get("inputs", {}).items():
        yield {"row": "input", "name": name, "text": text}
    yield from alternative_rows(data.get("alternatives", []))
    for step in feature.plan:
        yield {"row": "plan", "text": rows.step_text(step), "source": str(step.source)}
