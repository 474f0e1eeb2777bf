"""What is said of two reports held against each other: to the screen, as JSON and as CSV."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from fits import quantity
from fits.features.when import place
from fits.questions.answer import FAIL, NOT_COVERED, SizeAnswer
from fits.questions.compare import (
    AS_BEFORE,
    BETTER,
    EFFECTS,
    GONE,
    LESS,
    MORE,
    NEW,
    OTHER,
    WORSE,
    Change,
    Comparison,
    FeatureChange,
    RuleChange,
    to_spare,
)
from fits.questions.reported import Amount, Check, Report
from fits.report import data, rows
from fits.report.terminal import columns, listed, wrapped

SCHEMA = "fits-compare/1"
# Decimals of a margin in metric units, by its report unit.
_DIGITS = {"mm": 4, "MPa": 1, "N": 0, "N*m": 2, "degC": 0, "K": 0, "s": 1, "rpm": 0, "um": 1, "kg/m^3": 0}
_ABSENT = "not given"
# So many of what isn't asked any more are named in the first lines.
_NAMED = 4
_MEANS = {
    WORSE: "worse",
    GONE: "not asked any more",
    LESS: "less to spare",
    OTHER: "another break-even",
    NEW: "new",
    MORE: "more to spare",
    BETTER: "better",
    AS_BEFORE: "as before",
}


def text_of(found: Comparison, units: str) -> str:
    """The comparison on a screen of 80 columns."""
    lines = [f"COMPARE: {rows.VERDICT_WORDS[found.before.worst]} -> {rows.VERDICT_WORDS[found.verdict]}"]
    lines += wrapped(_headline(found), "  ")
    lines += columns([["before", _name(found.before)], ["after", _name(found.after)]], "ll")
    lines += ["", "What changed in the inputs"]
    lines += _inputs(found, units)
    lines += ["", "What that did (what each rule has to spare, before -> after)"]
    for feature in found.features:
        lines += _feature(feature, found, units)
    cautions = [text for one in found.after.features.values() for text in one.cautions]
    lines += listed("Caution", dict.fromkeys(cautions))
    lines += ["", *wrapped("Reasons, values and sources: fits check with each of the two.", "  ")]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _name(report: Report) -> str:
    return f"{report.part}, revision {report.revision}" if report.revision else report.part


def _headline(found: Comparison) -> str:
    counts = Counter(one.effect for one in found.rules)
    said = [f"{counts[effect]} {_MEANS[effect]}" for effect in EFFECTS if counts[effect]]
    holds = "every rule that was asked holds after the change"
    if found.verdict != "pass":
        holds = "not every rule holds after the change"
    elif found.lost:
        named = ", ".join(found.lost[:_NAMED]) + (" and more" if len(found.lost) > _NAMED else "")
        holds = f"{holds}, but not asked any more: {named}"
    return f"{holds}; of {len(found.rules)} rules: {', '.join(said)}"


def _inputs(found: Comparison, units: str) -> list[str]:
    lines: list[str] = []
    for one in found.inputs:
        lines += wrapped(f"{_label(one)}: {_ends(one, units)}", "      ", "  ")
    if found.unseen:
        told = "what was given differs in something that a report doesn't list (its digest differs)"
        lines += wrapped(told, "      ", "  ")
    return lines or ["  nothing"]


def _label(one: Change) -> str:
    if one.where in ("tables", "part"):
        return f"table {one.name}" if one.where == "tables" else one.name.replace("_", " ")
    if one.name in ("state", "feature"):
        return one.where
    return f"{one.where}, {one.name.replace('_', ' ')}"


def _ends(one: Change, units: str) -> str:
    if one.where == "tables":
        return "its numbers are others (digest)"
    if isinstance(one.before, str) and isinstance(one.after, str):
        return " -> ".join(rows.given_text(text, units) for text in _apart(one.before, one.after))
    return f"{shown(one.before, units)} -> {shown(one.after, units)}"


def _apart(before: str, after: str) -> tuple[str, str]:
    """Two long texts by what differs in them: of a typed metal only the numbers that changed.

    >>> _apart("bar (poisson 0.3, density 7800 kg/m^3)", "bar (poisson 0.29, density 7800 kg/m^3)")
    ('bar (poisson 0.3)', 'bar (poisson 0.29)')
    """
    (first, _, one), (second, _, other) = (text.removesuffix(")").partition(" (") for text in (before, after))
    if first != second or not (one and other):
        return before, after
    pieces = [text.split(", ") for text in (one, other)]
    left, right = (
        ", ".join(piece for piece in these if piece not in those)
        for these, those in (pieces, reversed(pieces))
    )
    return f"{first} ({left or 'as typed'})", f"{second} ({right or 'as typed'})"


def shown(value: SizeAnswer | Amount | str | None, units: str) -> str:
    """One side of an input as text."""
    if value is None:
        return _ABSENT
    if isinstance(value, SizeAnswer):
        limits = "/".join(
            dict.fromkeys(rows.limit_text(value, upper=up, units=units) for up in (True, False))
        )
        return f"{limits} {units}" if value.text == limits else f"{value.text} ({limits} {units})"
    if isinstance(value, Amount):
        return _number(value.value, value.unit, units)
    return rows.given_text(value, units)


def _number(value: float | None, unit: str, units: str, *, difference: bool = False) -> str:
    """A number of a report with its unit, in the units asked for."""
    if value is None:
        return "-"
    kind = "temperature difference" if difference and unit == "degC" else _kind(unit)
    if kind is None:
        return f"{value:.6g} {unit}"
    inside = value / quantity.KINDS[kind].to_report
    return quantity.show(inside, kind, _DIGITS.get(unit, 3), units=units)


def _kind(unit: str) -> str | None:
    return next((name for name, of in quantity.KINDS.items() if of.report == unit), None)


def _feature(feature: FeatureChange, found: Comparison, units: str) -> list[str]:
    ends = (rows.VERDICT_WORDS[one] if one else "no such feature" for one in (feature.before, feature.after))
    lines = [f"{feature.name}: {' -> '.join(dict.fromkeys(ends))}"]
    lines += [line for text in feature.refusals for line in wrapped(text, "    ", "  ! ")]
    own = [one for one in found.rules if one.feature == feature.name]
    for effect in EFFECTS:
        cells = [[one.rule, *_margins(one, units)] for one in own if one.effect == effect]
        if cells and effect != AS_BEFORE:
            lines += [f"  {_MEANS[effect]}", *columns(cells, "lrll", "    ")]
    for one in own:
        if one.effect in (WORSE, NEW, OTHER) and one.after is not None:
            lines += _why(one.rule, one.after)
    same = sum(one.effect == AS_BEFORE for one in own)
    if same:
        lines.append(f"  {same} of {len(own)} rules as before")
    return lines


def _margins(one: RuleChange, units: str) -> tuple[str, str, str]:
    """What is to spare before and after, and the verdicts."""
    before, after = (
        _number(to_spare(side), side.unit, units, difference=True) if side else "-"
        for side in (one.before, one.after)
    )
    verdicts = [rows.VERDICT_WORDS[side.verdict] if side else "not asked" for side in (one.before, one.after)]
    return before, f"-> {after}", " -> ".join(dict.fromkeys(verdicts))


def _why(rule: str, check: Check) -> list[str]:
    """Why a rule doesn't hold after the change, and what to do."""
    if check.verdict == FAIL:
        said = [("why", check.reason), ("do", check.action)]
    elif check.verdict == NOT_COVERED:
        said = [("why", check.not_covered), ("but", check.break_even)]
    else:
        return []
    lines = wrapped(f"{rule} ({place(check.state)})", "    ", "  ! ")
    for word, text in said:
        if text:
            lines += wrapped(text, "         ", f"    {word + ':':<5}")
    return lines


def to_json(found: Comparison) -> str:
    """The comparison as JSON text, the same bytes for the same two reports."""
    plain = {
        "schema": SCHEMA,
        "verdict": found.verdict,
        "holds": found.holds,
        "before": _side(found.before),
        "after": _side(found.after),
        "inputs": [_input_data(one) for one in found.inputs],
        "inputs_differ_unlisted": found.unseen,
        "features": [_feature_data(one) for one in found.features],
        "checks": [_rule_data(one) for one in found.rules],
        "not_judged_any_more": list(found.lost),
        "cautions": list(dict.fromkeys(t for one in found.after.features.values() for t in one.cautions)),
    }
    return json.dumps(plain, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _side(report: Report) -> dict[str, Any]:
    found = {"part": report.part, "revision": report.revision, "verdict": report.worst}
    found["inputs_sha256"] = report.inputs_sha256
    return {key: value for key, value in found.items() if value}


def _input_data(one: Change) -> dict[str, Any]:
    ends = {"before": _plain(one.before), "after": _plain(one.after)}
    return {
        "where": one.where,
        "name": one.name,
        **{key: end for key, end in ends.items() if end is not None},
    }


def _plain(value: SizeAnswer | Amount | str | None) -> Any:
    if isinstance(value, SizeAnswer):
        return {"text": value.text, "min": value.lower, "max": value.upper, "unit": "mm"}
    if isinstance(value, Amount):
        return {"value": value.value, "unit": value.unit}
    return value


def _feature_data(one: FeatureChange) -> dict[str, Any]:
    found: dict[str, Any] = {"feature": one.name}
    found |= {key: end for key, end in (("before", one.before), ("after", one.after)) if end}
    return {**found, **({"refusals": list(one.refusals)} if one.refusals else {})}


def _rule_data(one: RuleChange) -> dict[str, Any]:
    found: dict[str, Any] = {"feature": one.feature, "rule": one.rule, "effect": one.effect}
    for key, side in (("before", one.before), ("after", one.after)):
        if side is not None:
            said = side.model_dump(exclude_none=True, exclude={"rule", "sense"})
            found[key] = {name: value for name, value in said.items() if value != ""}
    if one.difference is not None:
        found["margin_grew_by"] = data.rounded(one.difference)
    return found


COLUMNS = (
    "row",
    "feature",
    "name",
    "effect",
    "verdict_before",
    "verdict_after",
    "before",
    "after",
    "margin_grew_by",
    "unit",
    "text",
)


def to_csv(found: Comparison) -> str:
    """One row an input that changed, one a feature, one a rule with its margins."""
    return data.csv_text(COLUMNS, csv_rows(found))


def csv_rows(found: Comparison) -> Iterator[dict[str, Any]]:
    """What changed, as rows of the CSV."""
    yield {"row": "part", "verdict_before": found.before.worst, "verdict_after": found.verdict}
    for change in found.inputs:
        ends = {"before": shown(change.before, "mm"), "after": shown(change.after, "mm")}
        yield {"row": "input", "feature": change.where, "name": change.name, **ends}
    if found.unseen:
        yield {"row": "input", "text": "what was given differs in something that is not listed"}
    for feature in found.features:
        verdicts = {"verdict_before": feature.before or "", "verdict_after": feature.after or ""}
        yield {"row": "feature", "feature": feature.name, **verdicts, "text": "; ".join(feature.refusals)}
    for one in found.rules:
        row: dict[str, Any] = {"row": "check", "feature": one.feature, "name": one.rule, "effect": one.effect}
        for key, side in (("before", one.before), ("after", one.after)):
            if side is not None:
                row |= {f"verdict_{key}": side.verdict, "unit": side.unit}
                row[key] = "" if (spare := to_spare(side)) is None else spare
        if one.difference is not None:
            row["margin_grew_by"] = data.rounded(one.difference)
        if one.after is not None:
            said = (one.after.not_covered, one.after.break_even, one.after.reason, one.after.action)
            row["text"] = "; ".join(filter(None, said))
        yield row
    for text in dict.fromkeys(text for one in found.after.features.values() for text in one.cautions):
        yield {"row": "caution", "text": text}
