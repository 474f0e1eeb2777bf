"""What is said, once, in words and numbers with units; every writer loops over it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from fits import quantity, tables
from fits.features.when import RESERVED, place
from fits.questions.answer import (
    FAIL,
    NOT_COVERED,
    ON_IT,
    PASS,
    REFUSED,
    Answer,
    CheckAnswer,
    FeatureAnswer,
    SizeAnswer,
    ValueAnswer,
)

if TYPE_CHECKING:
    from fits.features.beside import Alternative, Need, Published, Step
    from fits.features.feature import State
    from fits.tables import Source

VERDICT_WORDS = {PASS: "PASS", FAIL: "FAIL", NOT_COVERED: "NOT COVERED", REFUSED: "REFUSED"}
_MEANS = {
    PASS: "every rule that was asked holds in every state, worst case",
    FAIL: "at least one rule does not hold",
    NOT_COVERED: "nothing fails, but not everything could be judged",
    REFUSED: "this tool does not size it",
}
# Behind a rule that rests on what is known from memory only.
MARK = "*"
FROM_MEMORY = "* rests on what is from memory or doubtful"
# So many rules that rest on one source from memory are named; each has its mark.
_NAMED = 2
_HEAD = 40


class CheckRow(NamedTuple):
    """One rule: cells of text."""

    rule: str
    worst: str
    relation: str
    limit: str
    to_spare: str
    state: str
    verdict: str
    where: str


class ValueRow(NamedTuple):
    """One value over all its states: cells of text."""

    label: str
    least: str
    greatest: str
    unit: str
    least_in: str
    greatest_in: str


class SizeRow(NamedTuple):
    """One size: what it is, as typed, its limits on a drawing in both units, where it stands."""

    label: str
    text: str
    mm: str
    inch: str
    note: str


def headline(answer: Answer) -> tuple[str, str, str]:
    """Verdict word, name of the part, and what the verdict means."""
    revision = answer.info.get("revision", "")
    name = f"{answer.part}, revision {revision}" if revision else answer.part
    return VERDICT_WORDS[answer.verdict], name, _MEANS[answer.verdict]


def state_text(state: State, units: str) -> str:
    """What a state is: temperatures, pressure, speed."""
    if state.hub_temperature == state.shaft_temperature:
        said = [quantity.show(state.hub_temperature, "temperature", units=units)]
    else:
        hub = quantity.show(state.hub_temperature, "temperature", units=units)
        shaft = quantity.show(state.shaft_temperature, "temperature", units=units)
        said = [f"hub {hub}", f"shaft {shaft}"]
    if state.pressure:
        said.append(f"0 to {quantity.show(state.pressure, 'pressure', 2, units=units)}")
    if state.speed:
        said.append(f"0 to {quantity.show(state.speed, 'speed', units=units)}")
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


# Units that no kind of quantity has, as a plain number's label ends, and behind the number.
_OWN_UNITS = {"m/s": "m/s", "V": "V", "degrees": "deg"}


def _own_unit(check: CheckAnswer) -> str:
    """The unit that the label of a plain number ends with, or an empty text."""
    return _OWN_UNITS.get(check.label.rpartition(", ")[2], "") if check.kind == "number" else ""


def _telling(check: CheckAnswer, units: str) -> int:
    """The rule's digits; as many more as tell a number that fails from its limit, four at most."""
    digits: int = quantity.usual(check.kind, check.digits)
    if check.verdict != FAIL or check.margin is None:
        return digits
    for more in range(5):
        shown = difference(check.margin, check.kind, digits + more, units)
        if any(one in "123456789" for one in shown.partition(" ")[0]):
            return digits + more
    return digits


def check_row(check: CheckAnswer, units: str) -> CheckRow:
    """A rule at its worst; of a count that must be 0 it is said that none is allowed."""
    unit, digits = _own_unit(check), _telling(check, units)

    def cell(text: str) -> str:
        return f"{text} {unit}" if unit and text != "-" else text

    worst = cell(number(check.worst, check.kind, digits, units))
    # One that fails on its limit: 0, and it must be above.
    on_it = (check.verdict, check.limit) == (FAIL, 0.0) and (check.margin or 0.0) >= -ON_IT
    relation = "above" if on_it else check.sense
    limit = cell(number(check.limit, check.kind, digits, units))
    if (check.kind, check.digits, check.sense, check.limit) == ("number", 0, "at most", 0.0):
        relation, limit = "", "none allowed"
        worst = "none" if check.worst == 0.0 else worst
    return CheckRow(
        check.rule + (MARK if check.memory else ""),
        worst,
        relation,
        limit,
        cell(difference(check.margin, check.kind, digits, units)),
        place(check.state),
        VERDICT_WORDS[check.verdict],
        check.where,
    )


def to_do(feature: FeatureAnswer, units: str) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """What keeps a feature from passing: a headline, then (word, text) lines."""
    for check in feature.checks:
        row = check_row(check, units)
        # In brackets: after a bare number "in" would read as inches.
        place = ", ".join(filter(None, (row.state, row.where)))
        if check.verdict == FAIL:
            label = check.label.rpartition(", ")[0] if _own_unit(check) else check.label
            must = "must be " if row.relation == "above" else ""
            bound = f"{must}{row.relation} {row.limit}".strip()
            said = f"{row.rule}: {label} {row.worst} ({place}), {bound}"
            if check.margin is not None and row.relation and not must:
                short = check_row(check._replace(margin=-check.margin), units).to_spare
                said += f": {short} too {'little' if check.sense == 'at least' else 'much'}"
            yield said, [("why", check.reason), ("do", check.action)]
        elif check.verdict == NOT_COVERED:
            lines = [("why", check.why_not)]
            if check.break_even:
                lines.append(("but", check.break_even))
            yield f"{row.rule}: not covered ({place})", lines
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


def judged(feature: FeatureAnswer) -> bool:
    """Whether anything was judged of a feature, so that its verdict means something."""
    return bool(feature.checks or feature.refusals or feature.not_covered)


def step_text(step: Step) -> str:
    """One step of a plan in one line: what, with what, between which limits, when to stop."""
    stop = step.stop_if and f"stop if {step.stop_if}"
    return "; ".join(filter(None, (step.do, step.range, stop, step.caution)))


def published_text(feature: FeatureAnswer, one: Published, units: str) -> str:
    """A published row in words, under the name of the value it stands beside."""
    of = next((value for value in feature.values if value.name == one.value), None)
    label, kind, digits = (of.label, of.kind, of.digits) if of else (one.value.replace("_", " "), "length", 3)
    low, high = (quantity.show(end, kind, digits, units=units) for end in (one.low, one.high))
    said = low if low == high else f"{low} to {high}"
    return f"{label}: {said} ({one.source})"


def lists(feature: FeatureAnswer, units: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What else is said of a feature: titled lists in the order of their weight, empty ones left out."""
    for title, texts in (
        (FROM_MEMORY, tuple(memory_texts((check.rule, check.memory) for check in feature.checks))),
        ("Published", tuple(published_text(feature, one, units) for one in feature.published)),
        ("Not covered", feature.not_covered),
        ("Not asked", feature.not_asked),
        ("Taken", feature.assumptions),
        ("Note", feature.notes),
        ("Caution", feature.cautions),
        ("Workings, each value where it is greatest", feature.workings),
    ):
        if texts:
            yield title, texts


def memory_texts(rules: Iterable[tuple[str, Iterable[Source]]]) -> Iterator[str]:
    """Each source that is from memory or doubtful, with the rules that rest on it."""
    found: dict[Source, list[str]] = {}
    for name, sources in rules:
        for source in sources:
            found.setdefault(source, []).append(name)
    for source, names in found.items():
        more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED + 1 else ""
        yield f"{', '.join(names[:_NAMED] if more else names)}{more}: {_briefly(source)}"


def _briefly(source: Source) -> str:
    """The head of a source and how well it is known; the whole stands among the sources."""
    head = source.text.partition(" [")[0]
    head = head if len(head) <= _HEAD else f"{head[:_HEAD].rpartition(' ')[0]} ..."
    return str(source._replace(text=head, doubt="")) + (" (doubtful)" if source.doubt else "")


def length_text(value: float, units: str) -> str:
    """A length as a drawing writes it, without its unit: at least 3 decimals of mm, 4 of inches.

    >>> length_text(16.0, "mm"), length_text(0.0248, "mm"), length_text(25.4, "in")
    ('16.000', '0.0248', '1.0000')
    """
    least = 3 if units == "mm" else 4
    text = quantity.number(quantity.on_sheet(value, "length", units=units), least + 1)
    return text.removesuffix("0") if text.endswith("0") else text


def limit_text(size: SizeAnswer, *, upper: bool, units: str) -> str:
    """A limit of a size as a drawing writes it, rounded into the zone, with as many decimals as the other.

    >>> hole = SizeAnswer("hole", "hole", "", 18.0, 18.063)
    >>> limit_text(hole, upper=True, units="in"), limit_text(hole, upper=False, units="in")
    ('0.71114', '0.70867')
    >>> limit_text(hole, upper=True, units="mm"), limit_text(hole, upper=False, units="mm")
    ('18.063', '18.000')
    """
    value, other = (size.upper, size.lower) if upper else (size.lower, size.upper)
    places = 4 if units == "mm" else 5
    step = quantity.on_sheet(1.0, "length", units=units) * 10.0**places
    if value == other or abs(value - other) * step < 2.0:
        return length_text(value, units)
    ends = [
        quantity.show_end(end, "length", up=up, units=units).partition(" ")[0]
        for end, up in ((value, not upper), (other, upper))
    ]
    return ends[0][:-1] if all(end.endswith("0") for end in ends) else ends[0]


def size_rows(feature: FeatureAnswer) -> Iterator[SizeRow]:
    """The sizes of a feature, upper limit first as a drawing has it; one without tolerance once."""
    for size in feature.sizes:
        ends = [
            "/".join(dict.fromkeys(limit_text(size, upper=upper, units=units) for upper in (True, False)))
            for units in ("mm", "in")
        ]
        note = "as it stands when joined, 20 degC" if size.on else ""
        yield SizeRow(size.label, size.text, ends[0], ends[1], note)


def bench_values(feature: FeatureAnswer) -> list[ValueAnswer]:
    """The values that belong to no state: what is made, gauged and put together at 20 degC."""
    return [value for value in feature.values if set(value.states) <= set(RESERVED)]


def given(feature: FeatureAnswer, units: str) -> Iterator[tuple[str, str]]:
    """What was given beside the sizes: field in words, and its value."""
    sizes = {size.name for size in feature.sizes}
    for name, text in feature.inputs.items():
        if name not in sizes:
            yield name.replace("_", " "), given_text(text, units)


def given_text(text: str, units: str) -> str:
    """A quantity or a range as the report holds it, in the units asked for; any other text as it is.

    >>> given_text("88.9644323052 N", "in"), given_text("0.05 to 0.1", "in"), given_text("316", "in")
    ('20 lbf', '0.05 to 0.1', '316')
    >>> given_text("1.6002 um Ra", "in")
    '63 uin Ra'
    """
    mark = text[-3:] if text.endswith((" Ra", " Rz")) else ""
    numbers, _, unit = text.removesuffix(mark).rpartition(" ")
    kind = next((one for one in quantity.KINDS.values() if one.report == unit), None)
    if kind is None or kind.name == "expansion":
        return text
    try:
        ends = [float(one) / kind.to_report for one in numbers.split(" to ")]
    except ValueError:
        return text
    shown = (f"{quantity.on_sheet(one, kind.name, units=units):.6g}" for one in ends)
    return f"{' to '.join(shown)} {quantity.sheet_unit(kind.name, units=units)}{mark}"


def shared(answer: Answer, of: str) -> list[tuple[str, str]]:
    """Texts of all features, each once, with whom it is said of ("" where it is all of them)."""
    found: dict[str, list[FeatureAnswer]] = {}
    for feature in answer.features:
        for text in getattr(feature, of):
            found.setdefault(text, []).append(feature)
    return [(text, _whose(features, answer)) for text, features in found.items()]


def _whose(features: Sequence[FeatureAnswer], answer: Answer) -> str:
    """Features by name, or in one word where they are all of a kind."""
    if len(features) == len(answer.features):
        return ""
    kinds = {feature.kind for feature in features}
    if len(features) > 2 and len(features) == sum(one.kind in kinds for one in answer.features):
        return ", ".join(f"every {kind}" for kind in sorted(kinds))
    return ", ".join(feature.name for feature in features)


def tables_used(answer: Answer) -> list[tuple[str, str]]:
    """Name and digest of each table that a source of the answer comes from."""
    names = sorted({source.table for source in answer.sources if source.table})
    return [(name, tables.load(name).digest) for name in names]


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
