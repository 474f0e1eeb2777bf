"""What is said of measured parts and pairs: one set of words for the screen and the data."""

from __future__ import annotations

from collections.abc import Iterator

from fits import quantity
from fits.features.when import place
from fits.questions import judgement as of_part
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED, FeatureAnswer
from fits.questions.judgement import Judged, Mate, PartJudgement, RuleJudgement, SizeJudgement
from fits.questions.pairing import Left, Off, Pair
from fits.report import rows
from fits.sizes.reading import INSIDE, NO_LIMITS, OUTSIDE, UNDECIDED

FUNCTION = {
    PASS: "holds",
    FAIL: "fails",
    NOT_COVERED: "not covered",
    REFUSED: "refused",
    of_part.UNDECIDED: "undecided",
}
# The last digit of a length that is shown, mm; in inches 0.00001.
SHOWN = 1e-4
ORDER = (of_part.ACCEPT, of_part.REWORK, of_part.REJECT, of_part.UNDECIDED, REFUSED)


def length(value: float, units: str) -> str:
    """A length to 0.1 um."""
    return quantity.show(value, "length", units=units)


def _bare(value: float, units: str) -> str:
    return length(value, units).split()[0]


def spans_text(spans: tuple[tuple[float, float], ...], units: str) -> str:
    """Intervals of a size, rounded to the inside."""
    return " or ".join(
        f"{quantity.show_end(low, 'length', up=True, units=units).split()[0]} to "
        f"{quantity.show_end(high, 'length', up=False, units=units)}"
        for low, high in spans
    )


def counts(judged: Judged) -> str:
    """How many parts have which verdict."""
    return ", ".join(f"{n} {verdict}" for verdict in ORDER if (n := judged.count(verdict)))


def size_text(one: SizeJudgement, units: str) -> str:
    """A measured size with its doubt; the ends of several readings."""
    size = one.size
    unit = quantity.sheet_unit("length", units=units)
    doubt = f"±{_bare(size.uncertainty, units)} {unit}"
    if size.greatest - size.least < 1e-9:
        return f"{size.dimension.label} {_bare(size.least, units)} {doubt}"
    return f"{size.dimension.label} {_bare(size.least, units)} to {_bare(size.greatest, units)} {doubt}"


def limits_text(one: SizeJudgement, units: str) -> str:
    """The limits of the drawing, rounded to the inside as everywhere; a zone too narrow for that as it is."""
    limits = one.size.dimension.limits
    if limits.tolerance >= 2.0 * _step(units):
        return spans_text(((limits.lower, limits.upper),), units)
    return f"{_bare(limits.lower, units)} to {length(limits.upper, units)}"


_WAYS = {
    ("hole", True): "open the diameter by",
    ("shaft", True): "turn the diameter down by",
    ("hole", False): "cut it wider or deeper by",
    ("shaft", False): "cut it shorter by",
}


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
        way = _WAYS[size.dimension.side, size.dimension.across]
        yield "cut", f"{way} {amount}, to {span}, and read it again"
    elif found.verdict == OUTSIDE and not size.dimension.side:
        yield "cut", "whether metal is left isn't known: this size is neither a hole nor a shaft"
    yield from _form_lines(one, units)


def _decides(needs: float | None, units: str) -> str:
    if not needs or needs < _step(units):
        return "it sits on the limit itself: no instrument decides, a person does"
    shown = quantity.show_end(needs, "length", up=False, units=units)
    return f"an uncertainty below {shown} would decide"


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
    said = f"{one.rule} ({one.feature}, {place(one.state)})"
    if one.margin is None:
        return said
    word = "to spare" if one.margin >= 0.0 else "short"
    said += f": {rows.difference(abs(one.margin), one.kind, one.digits, units)} {word}"
    return said if one.room is None else f"{said}, {_about(abs(one.room), units)} of size"


def _about(room: float, units: str) -> str:
    """A room, which is good to its slope only, in words."""
    step = _step(units)
    return f"about {length(room, units)}" if room >= step else f"less than {length(step, units)}"


def _step(units: str) -> float:
    """The last digit of a length that is shown, mm."""
    return SHOWN if units == "mm" else SHOWN * 2.54


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
            f"{quantity.show_end(value, 'length', up=False, units=units)} ({label})"
            for label, value in one.needs.items()
        ]
        what = "what may fail; what isn't covered stays so" if one.left_open else "function"
        fine = min(one.needs.values()) >= _step(units)
        yield (
            "better",
            f"an uncertainty below {' and '.join(each)} would decide {what}"
            if fine
            else f"no instrument reads so finely that it would decide {what}: a person does",
        )
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
    return f"{one.rule} ({one.feature}, {place(one.state)})" if one.rule else "none goes with the sizes"


def off_texts(one: Pair, units: str) -> Iterator[str]:
    """What of a pair is outside its drawing, and what isn't proved inside."""
    for verdict, found in ((OUTSIDE, one.outside), (UNDECIDED, one.unproved)):
        said = [_off_text(off, units) for off in found]
        if said and verdict == OUTSIDE:
            yield f"works, but is outside its drawing: {'; '.join(said)}"
        elif said:
            yield f"works, but isn't proved inside its drawing: {'; '.join(said)}"


def _off_text(off: Off, units: str) -> str:
    size, limits = off.size, off.size.dimension.limits
    drawing = f"{_bare(limits.lower, units)} to {length(limits.upper, units)}"
    said = f"{size.dimension.label} of {off.part}"
    if not off.beyond:
        return f"{said}, drawing {drawing}"
    far = {"below": limits.lower - size.least, "above": size.greatest - limits.upper}
    by = [f"{word} by {length(far[word], units)}" for word in off.beyond]
    return f"{said} is {' and '.join(by)}, drawing {drawing}"


def left_text(one: Left, units: str) -> str:
    """A part left over, why, and what would pair it."""
    said = f"{one.part}, {one.member} {length(one.size, units)}: "
    said += "spare, its mates are taken" if one.spare else "no mate here holds with it"
    if one.wants is None:
        return said
    if not one.wants:
        return f"{said}; no {one.mate} would make every rule hold, fits judge says why"
    return f"{said}; {one.mate} of {spans_text(one.wants, units)} would pair it"
