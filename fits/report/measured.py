"""What is said of measured parts and pairs: one set of words for the screen and the data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fits import quantity
from fits.questions import judgement as of_part
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED, FeatureAnswer
from fits.questions.judgement import Judged, Mate, PartJudgement, RuleJudgement, SizeJudgement
from fits.questions.pair import Left, Pair, Pairing
from fits.report import rows
from fits.report.data import check_data, rounded
from fits.sizes.reading import INSIDE, NO_LIMITS, OUTSIDE

FUNCTION = {
    PASS: "holds",
    FAIL: "fails",
    NOT_COVERED: "not covered",
    REFUSED: "refused",
    of_part.UNDECIDED: "undecided",
}
# The last digit of a length that is shown, mm; in inches 0.00001.
SHOWN = 1e-4
_ORDER = (of_part.ACCEPT, of_part.REWORK, of_part.REJECT, of_part.UNDECIDED, REFUSED)


def length(value: float, units: str) -> str:
    """A length to 0.1 um."""
    return quantity.show(value, "length", 4, units=units)


def _bare(value: float, units: str) -> str:
    return length(value, units).split()[0]


def spans_text(spans: tuple[tuple[float, float], ...], units: str) -> str:
    """Intervals of a size, rounded to the inside."""
    return " or ".join(
        f"{quantity.show_end(low, 'length', 4, up=True, units=units).split()[0]} to "
        f"{quantity.show_end(high, 'length', 4, up=False, units=units)}"
        for low, high in spans
    )


def counts(judged: Judged) -> str:
    """How many parts have which verdict."""
    return ", ".join(f"{n} {verdict}" for verdict in _ORDER if (n := judged.count(verdict)))


def size_text(one: SizeJudgement, units: str) -> str:
    """A measured size with its doubt; the ends of several readings."""
    size = one.size
    unit = quantity.sheet_unit("length", units=units)
    doubt = f"±{_bare(size.uncertainty, units)} {unit}"
    if size.greatest - size.least < 1e-9:
        return f"{size.dimension.label} {_bare(size.least, units)} {doubt}"
    return f"{size.dimension.label} {_bare(size.least, units)} to {_bare(size.greatest, units)} {doubt}"


def limits_text(one: SizeJudgement, units: str) -> str:
    """The limits of the drawing."""
    limits = one.size.dimension.limits
    return f"{_bare(limits.lower, units)} to {length(limits.upper, units)}"


def size_lines(one: SizeJudgement, units: str) -> Iterator[tuple[str, str]]:
    """What is said of one size: (word, text)."""
    size, found = one.size, one.guarded
    limits, drawing = size.dimension.limits, limits_text(one, units)
    if found.verdict == INSIDE:
        yield "drawing", f"inside {drawing}, {length(found.room, units)} to spare beyond its uncertainty"
    elif found.verdict == OUTSIDE:
        for word, by in (("below", limits.lower - size.least), ("above", size.greatest - limits.upper)):
            if word in found.beyond:
                yield "drawing", f"{word} {drawing} by {length(by, units)}, more than its uncertainty"
    elif found.verdict == NO_LIMITS:
        yield "drawing", f"an exact size, {length(limits.lower, units)}, without limits"
    else:
        yield "drawing", f"neither inside nor outside {drawing} for certain"
        yield "better", _decides(found.needs, units)
    if one.cant_prove:
        yield "gauge", "the tolerance is no wider than twice the uncertainty: this instrument can't prove it"
    if one.cut is not None:
        amount = spans_text(((one.cut.least, one.cut.most),), units)
        span = spans_text(((one.cut.low, one.cut.high),), units)
        way = "open the diameter by" if size.dimension.side == "hole" else "turn the diameter down by"
        yield "cut", f"{way} {amount}, to {span}, and read it again"
    elif found.verdict == OUTSIDE and not size.dimension.side:
        yield "cut", "whether metal is left isn't known: this size is neither a hole nor a shaft"
    yield from _form_lines(one, units)


def _decides(needs: float | None, units: str) -> str:
    if not needs:
        return "it sits on the limit itself: no instrument decides, a person does"
    shown = quantity.show_end(needs, "length", 4, up=False, units=units)
    return f"an uncertainty of {shown} or less would decide"


def _form_lines(one: SizeJudgement, units: str) -> Iterator[tuple[str, str]]:
    size = one.size
    if size.readings > 1:
        form = [
            f"{word} {length(value, units)}"
            for word, value in (("taper", size.taper), ("ovality", size.ovality))
            if value is not None
        ]
        unseen = [w for w, v in (("taper", size.taper), ("ovality", size.ovality)) if v is None]
        not_seen = f"; no {' or '.join(unseen)} can be seen from them" if unseen else ""
        yield "form", f"{size.readings} readings: {', '.join(form) or 'none'}{not_seen}"
    if size.charged:
        yield "form", f"{length(size.charged, units)} of the part file is charged at both ends, one reading"
    if size.correction:
        sign = "+" if size.correction > 0.0 else "-"
        yield "warm", f"corrected to 20 degC by {sign}{length(abs(size.correction), units)}"


def rule_text(one: RuleJudgement, units: str) -> str:
    """A rule at its worst with its margin, in its own unit and as mm of size."""
    said = f"{one.rule} ({one.feature}, {rows.place(one.state)})"
    if one.margin is None:
        return said
    word = "to spare" if one.margin >= 0.0 else "short"
    said += f": {rows.difference(abs(one.margin), one.kind, one.digits, units)} {word}"
    return said if one.room is None else f"{said}, {_about(abs(one.room), units)} of size"


def _about(room: float, units: str) -> str:
    """A room, which is good to its slope only, in words."""
    step = SHOWN if units == "mm" else SHOWN * 2.54
    return f"about {length(room, units)}" if room >= step else f"less than {length(step, units)}"


def part_lines(one: PartJudgement, units: str, *, brief: bool = False) -> Iterator[tuple[str, str]]:
    """What is said of a part beside its sizes: (word, text); brief where its checks follow."""
    if one.function == REFUSED:
        for text in one.not_covered:
            yield "refused", text
        return
    if one.function == PASS and one.tightest is not None:
        yield "function", f"every rule holds; first to break: {rule_text(one.tightest, units)}"
    elif one.function == PASS:
        yield "function", "every rule holds"
    word = "fails" if one.function == FAIL else "may fail, by what the doubt hides"
    for rule in one.failing:
        yield "function", f"{word}: {rule_text(rule, units)}"
    if one.not_covered and not (brief and one.checks):
        yield "function", f"not covered: {', '.join(one.not_covered)}"
    if one.needs is not None:
        each = [
            f"{quantity.show_end(value, 'length', 4, up=False, units=units)} ({label})"
            for label, value in one.needs.items()
        ]
        yield "better", f"an uncertainty of {' and '.join(each)} or less would decide function"
    for mate in one.mates:
        yield "mate", mate_text(mate, units)
    for text in one.notes:
        yield "note", text


def mate_text(mate: Mate, units: str) -> str:
    """Sizes of the other member that would hold."""
    if not mate.spans:
        return f"no {mate.dimension} would make every rule hold"
    return f"{mate.dimension} of {spans_text(mate.spans, units)} would hold with it"


def check_lines(one: PartJudgement, units: str) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """The rules that don't pass: value, limit and what to do; why some aren't covered, once."""
    why: dict[tuple[str, str], list[str]] = {}
    for feature, check in one.checks:
        if check.verdict == NOT_COVERED:
            why.setdefault((check.why_not, check.break_even), []).append(f"{feature}: {check.rule}")
            continue
        for said, lines in rows.to_do(FeatureAnswer(feature, "", check.verdict, checks=(check,)), units):
            yield f"{feature}, {said}", [line for line in lines if line[0] == "do"]
    for (reason, even), rules in why.items():
        yield f"not covered: {', '.join(rules)}", [("why", reason), *([("but", even)] if even else [])]


def pair_row(one: Pair, units: str) -> list[str]:
    """Mark, hole, shaft, fit with its doubt, room: numbers in the sheet's unit."""
    room = "-" if one.room is None else _bare(one.room, units)
    return [one.mark, one.hole, one.shaft, f"{_bare(one.fit, units)} ±{_bare(one.doubt, units)}", room]


def pair_rule(one: Pair) -> str:
    """The rule that would break first."""
    return f"{one.rule} ({one.feature}, {rows.place(one.state)})" if one.rule else "none goes with the sizes"


def left_text(one: Left, units: str) -> str:
    """A part left over, why, and what would pair it."""
    said = f"{one.part}, {one.member} {length(one.size, units)}: "
    said += "spare, its mates are taken" if one.spare else "no mate here holds with it"
    if one.wants is None:
        return said
    if not one.wants:
        return f"{said}; no {one.mate} would make every rule hold, fits judge says why"
    return f"{said}; {one.mate} of {spans_text(one.wants, units)} would pair it"


def judged_data(judged: Judged) -> dict[str, Any]:
    """The judgement as plain data, mm and report units."""
    found: dict[str, Any] = {
        "counts": {verdict: n for verdict in _ORDER if (n := judged.count(verdict))},
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
        found["function_decided_below"] = {k: rounded(v) for k, v in one.needs.items()}
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
    return found


def judged_rows(judged: Judged) -> Iterator[dict[str, Any]]:
    """The judgement as rows of the CSV report."""
    for one in judged.parts:
        said = "; ".join(f"{word}: {text}" for word, text in part_lines(one, "mm"))
        yield {"row": "judged", "name": one.part, "verdict": one.verdict, "text": said}
        for size in one.sizes:
            limits = size.size.dimension.limits
            yield {
                "row": "size",
                "name": one.part,
                "feature": size.size.dimension.label,
                "least": rounded(size.size.least),
                "greatest": rounded(size.size.greatest),
                "limit": f"{rounded(limits.lower)} to {rounded(limits.upper)}",
                "margin": "" if size.guarded.verdict == NO_LIMITS else rounded(size.guarded.room),
                "unit": "mm",
                "verdict": size.guarded.verdict,
                "text": "; ".join(f"{word}: {text}" for word, text in size_lines(size, "mm")),
            }
    for row, texts in (("notes", judged.notes), ("cautions", judged.cautions)):
        for text in texts:
            yield {"row": row, "text": text}


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
            "text": f"{one.hole} with {one.shaft}; first to break: {one.rule or 'none'}",
        }
    for left in found.left:
        yield {"feature": found.feature, "row": "left", "name": left.part, "text": left_text(left, "mm")}
    for row in ("not_covered", "refused", "notes", "cautions"):
        for text in getattr(found, row):
            yield {"feature": found.feature, "row": row, "text": text}
