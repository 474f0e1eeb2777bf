"""Measured parts and pairs as data: JSON, and tables a spreadsheet takes; of a long table in pieces."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from fits import quantity
from fits.questions.answer import FAIL, NOT_COVERED, PASS, Answer
from fits.questions.judgement import Judged, PartJudgement, RuleJudgement, SizeJudgement
from fits.questions.pairing import Pair, Pairing
from fits.report import data
from fits.report.data import check_data, rounded
from fits.report.measured import FUNCTION, ORDER, left_text, off_texts, part_lines, size_lines
from fits.sizes.reading import NO_LIMITS

# A table of judged parts: every number in a column of its own, mm.
JUDGED = (
    "part",
    "row",
    "name",
    "feature",
    "verdict",
    "drawing",
    "function",
    "least",
    "greatest",
    "uncertainty",
    "lower_limit",
    "upper_limit",
    "margin",
    "finish_least",
    "finish_greatest",
    "decided_below",
    "unit",
    "text",
    "source",
)
_NO_PARTS = '\n  "parts": []'


def judged_data(judged: Judged) -> dict[str, Any]:
    """The judgement as plain data, mm and report units."""
    found: dict[str, Any] = {
        "counts": {verdict: n for verdict in ORDER if (n := judged.count(verdict))},
        "parts": [_part(one) for one in judged.parts],
        "notes": list(judged.notes),
        "cautions": list(judged.cautions),
    }
    return found


def _part(one: PartJudgement) -> dict[str, Any]:
    found: dict[str, Any] = {
        "part": one.part,
        "verdict": one.verdict,
        "drawing": one.drawing,
        "function": FUNCTION[one.function],
        "sizes": [_size(size) for size in one.sizes],
    }
    if one.tightest is not None:
        found["first_to_break"] = _rule(one.tightest)
    found["failing"] = [_rule(rule) for rule in one.failing]
    found["not_covered"] = list(one.not_covered)
    if one.needs is not None:
        # Where some rule isn't covered either way, only what may fail is decided.
        name = "failing_decided_below" if one.left_open else "function_decided_below"
        found[name] = {k: rounded(v) for k, v in one.needs.items()}
    found["checks"] = [{"feature": name, **check_data(check)} for name, check in one.checks]
    found["mates"] = [_wanted(mate.dimension, mate.spans) for mate in one.mates]
    found["notes"] = list(one.notes)
    return found


def _size(one: SizeJudgement) -> dict[str, Any]:
    size, limits = one.size, one.size.dimension.limits
    found: dict[str, Any] = {
        "of": size.dimension.label,
        "unit": "mm",
        "min": rounded(size.least),
        "max": rounded(size.greatest),
        "uncertainty": rounded(size.uncertainty),
        "readings": size.readings,
        "limits": {"min": rounded(limits.lower), "max": rounded(limits.upper)},
        "drawing": one.guarded.verdict,
    }
    if one.guarded.verdict != NO_LIMITS:
        found["margin"] = rounded(one.guarded.room)
    if one.guarded.needs is not None:
        found["decided_below"] = rounded(one.guarded.needs)
    for name, value in (("taper", size.taper), ("ovality", size.ovality)):
        if value is not None:
            found[name] = rounded(value)
    if size.charged:
        found["form_charged"] = rounded(size.charged)
    if size.correction:
        found["corrected_by"] = rounded(size.correction)
    if one.cant_prove:
        found["cant_prove"] = True
    if one.cut is not None:
        found["cut"] = {
            "way": "larger" if size.dimension.side == "hole" else "smaller",
            "to": {"min": rounded(one.cut.low), "max": rounded(one.cut.high)},
            "off": {"min": rounded(one.cut.least), "max": rounded(one.cut.most)},
        }
    return found


def _rule(one: RuleJudgement) -> dict[str, Any]:
    found: dict[str, Any] = {"feature": one.feature, "rule": one.rule, "state": one.state}
    if one.margin is not None:
        found["margin"] = rounded(quantity.report_value(one.margin, one.kind))
        found["unit"] = quantity.report_unit(one.kind)
    if one.room is not None:
        found["room"] = rounded(one.room)
    return found


def _wanted(dimension: str, spans: tuple[tuple[float, float], ...]) -> dict[str, Any]:
    return {
        "of": dimension,
        "unit": "mm",
        "intervals": [[rounded(low), rounded(high)] for low, high in spans],
    }


def pairing_data(found: Pairing) -> dict[str, Any]:
    """Pairs and what is left as plain data, mm and report units."""
    return {
        "of": found.feature,
        "fit": found.fit,
        "hole": found.hole,
        "shaft": found.shaft,
        "unit": "mm",
        "pairs": [_pair(one) for one in found.pairs],
        "left": [
            {
                "part": one.part,
                "of": one.member,
                "size": rounded(one.size),
                "uncertainty": rounded(one.uncertainty),
                "spare": one.spare,
                **({} if one.wants is None else {"wants": _wanted(one.mate, one.wants)}),
            }
            for one in found.left
        ],
        "not_covered": list(found.not_covered),
        "refusals": list(found.refused),
        "notes": list(found.notes),
        "cautions": list(found.cautions),
    }


def _pair(one: Pair) -> dict[str, Any]:
    found: dict[str, Any] = {
        "mark": one.mark,
        "hole": one.hole,
        "shaft": one.shaft,
        "fit": rounded(one.fit),
        "uncertainty": rounded(one.doubt),
    }
    if one.room is not None and one.margin is not None:
        rule = RuleJudgement(one.feature, one.rule, one.state, one.margin, one.kind, one.digits, one.room)
        found["first_to_break"] = _rule(rule)
    for name, several in (("outside_drawing", one.outside), ("not_proved_inside", one.unproved)):
        if several:
            found[name] = [{"part": off.part, "of": off.size.dimension.label} for off in several]
    return found


def judged_rows(judged: Judged) -> Iterator[dict[str, Any]]:
    """The judgement as rows of the CSV report."""
    for one in judged.parts:
        yield from _part_rows(one)
    for row, texts in (("notes", judged.notes), ("cautions", judged.cautions)):
        for text in texts:
            yield {"row": row, "text": text}


def _part_rows(one: PartJudgement) -> Iterator[dict[str, Any]]:
    said = "; ".join(f"{word}: {text}" for word, text in part_lines(one, "mm"))
    verdicts = {"verdict": one.verdict, "drawing": one.drawing, "function": FUNCTION[one.function]}
    yield {"row": "judged", "name": one.part, **verdicts, "text": said}
    for size in one.sizes:
        limits, cut = size.size.dimension.limits, size.cut
        yield {
            "row": "size",
            "name": one.part,
            "feature": size.size.dimension.label,
            "verdict": size.guarded.verdict,
            "least": rounded(size.size.least),
            "greatest": rounded(size.size.greatest),
            "uncertainty": rounded(size.size.uncertainty),
            "lower_limit": rounded(limits.lower),
            "upper_limit": rounded(limits.upper),
            "margin": "" if size.guarded.verdict == NO_LIMITS else rounded(size.guarded.room),
            "finish_least": "" if cut is None else rounded(cut.low),
            "finish_greatest": "" if cut is None else rounded(cut.high),
            "decided_below": "" if size.guarded.needs is None else rounded(size.guarded.needs),
            "unit": "mm",
            "text": "; ".join(f"{word}: {text}" for word, text in size_lines(size, "mm")),
        }


def csv_parts(part: str, parts: Iterable[PartJudgement]) -> str:
    """Some judged parts as rows of the CSV report, without its head."""
    return data.csv_text(
        JUDGED, ({"part": part, **row} for one in parts for row in _part_rows(one)), head=False
    )


def json_parts(parts: Iterable[PartJudgement]) -> Iterator[str]:
    """Judged parts as they stand in the list of the JSON report, each behind a comma."""
    for one in parts:
        text = json.dumps(_part(one), indent=1, ensure_ascii=False, allow_nan=False)
        yield ",\n   " + text.replace("\n", "\n   ")


def in_pieces(answer: Answer, parts: Iterable[str], *, as_json: bool) -> Iterator[str]:
    """The report of an answer that holds no parts, around those of ``csv_parts`` or ``json_parts``."""
    if not as_json:
        head, _, tail = data.to_csv(answer).partition("\n")
        yield head + "\n"
        yield from parts
        yield tail
        return
    head, _, tail = data.to_json(answer).partition(_NO_PARTS)
    yield head + _NO_PARTS[:-1]
    comma = ","
    for piece in parts:
        yield piece.removeprefix(comma)
        comma = "" if piece else comma
    yield "\n  ]" + tail


def pairing_rows(found: Pairing) -> Iterator[dict[str, Any]]:
    """Pairs and what is left as rows of the CSV report."""
    for one in found.pairs:
        yield {
            "feature": found.feature,
            "row": "pair",
            "name": one.mark,
            "state": one.state,
            "least": rounded(one.fit - one.doubt),
            "greatest": rounded(one.fit + one.doubt),
            "margin": "" if one.room is None else rounded(one.room),
            "unit": "mm",
            "verdict": FAIL if one.outside else NOT_COVERED if one.unproved else PASS,
            "text": "; ".join(
                (f"{one.hole} with {one.shaft}; first to break: {one.rule or 'none'}", *off_texts(one, "mm"))
            ),
        }
    for left in found.left:
        yield {"feature": found.feature, "row": "left", "name": left.part, "text": left_text(left, "mm")}
    for row in ("not_covered", "refused", "notes", "cautions"):
        for text in getattr(found, row):
            yield {"feature": found.feature, "row": row, "text": text}
