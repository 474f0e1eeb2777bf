"""The sheet: one page of HTML that hangs at the machine, and the same as PDF.

It loads nothing from anywhere, runs no script, and is the same bytes for the same answer.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from fits.errors import DeliveryError, Fault
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED, Answer, CheckAnswer, FeatureAnswer
from fits.report import charts, data, rows
from fits.report.drawing import SAMPLES, Drawing

if TYPE_CHECKING:
    from fits.features.beside import Step

# A page of more features than this has charts of those nearest a limit only, one of each kind.
FEW = 7
# A reason of so many letters is as short as to say where it stands.
_SHORT = 40
PAPERS = {"a4": "A4", "letter": "letter"}
# Values of attributes that HTML takes without quotes.
_BARE = re.compile(r'="([\w.#%-]+)"(?=[ >])')
# End tags that HTML lets out, an eighth of the page; with what follows them up to the next tag,
# since a cell for a reading is empty only without a line break in it.
_OPTIONAL = re.compile(r"(?:</(?:td|th|tr|thead|tbody|li|dt|dd)>\n?)+|</p>(?=\n?<p>|</div>)")


class SheetCheck(NamedTuple):
    """A rule's row on the sheet: its cells, why it is asked ("" where that was said), its source."""

    row: rows.CheckRow
    mark: str
    reason: str
    source: int


class SheetFeature(NamedTuple):
    """All that the template shows of one feature."""

    of: FeatureAnswer
    anchor: str
    verdict: str
    mark: str
    states: list[tuple[str, str]]
    to_do: list[tuple[str, list[tuple[str, str]]]]
    drawings: list[tuple[str, list[tuple[str, str]]]]
    drawn_at: list[tuple[str, str, list[str]]]
    charts_at: tuple[str, str] | None
    sizes: list[rows.SizeRow]
    given_at: str
    given: list[tuple[str, str]]
    checks: list[SheetCheck]
    why_at: list[str]
    values_title: str
    values: list[tuple[rows.ValueRow, int]]
    plan: list[tuple[Any, int]]
    lists: list[tuple[str, tuple[str, ...]]]
    lists_at: list[tuple[str, list[str]]]


def render(answer: Answer, *, units: str = "mm") -> str:
    """The page as text: verdict first, then what can hurt, then each feature, then the proof."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )
    page = environment.get_template("sheet.html").render(context(answer, units))
    # Attributes stand in double quotes, so that an apostrophe needs no escape.
    page = page.replace("&#39;", "'")
    page = "\n".join(line for line in map(str.strip, page.splitlines()) if line) + "\n"
    page = _OPTIONAL.sub("", page)
    return re.sub("<[^>]*>", lambda tag: _BARE.sub(r"=\1", tag[0]), page)


def context(answer: Answer, units: str) -> dict[str, Any]:
    """What the template loops over, all of it from the report's rows."""
    verdict, _, means = rows.headline(answer)
    numbers = {source: index for index, source in enumerate(map(str, answer.sources), 1)}
    return {
        "answer": answer,
        "verdict": verdict,
        "mark": _mark(verdict),
        "means": means,
        "units": units,
        "info": [
            (key.replace("_", " "), answer.info.get(key, "")) for key in ("revision", "date", "drawn_by")
        ],
        "states": [(one.name, rows.state_text(one, units)) for one in answer.states],
        "cautions": rows.shared(answer, "cautions"),
        "taken": _by_whose(rows.shared(answer, "assumptions")),
        "not_asked": _by_whose(rows.shared(answer, "not_asked")),
        "features": list(_features(answer, units, numbers)),
        "sources": list(numbers),
        "marked": any(check.memory for feature in answer.features for check in feature.checks),
        "proof": proof(answer, units),
    }


def _by_whose(said: list[tuple[str, str]]) -> list[tuple[str, list[str]]]:
    """Texts under whom they are said of, in the order of the first of each."""
    found: dict[str, list[str]] = {}
    for text, names in said:
        found.setdefault(names, []).append(text)
    return list(found.items())


def proof(answer: Answer, units: str) -> list[tuple[str, str]]:
    """What a rerun must show again: version, tables, digests of the inputs and of the answer."""
    from hashlib import sha256
    from importlib.metadata import version

    digest = sha256(data.to_json(answer).encode()).hexdigest()
    return [
        ("made by", f"fits {version('fits')}"),
        ("inputs, SHA-256", answer.inputs),
        (f"answer, SHA-256 of what fits check PART --units {units} --json prints", digest),
        *((f"table {name}", digest) for name, digest in rows.tables_used(answer)),
    ]


def _mark(verdict: str) -> str:
    """The class of a verdict, for its frame and colour."""
    return verdict.lower().replace(" ", "-")


class _Told(NamedTuple):
    """What was already said, so that it is said once: with the feature where it stands."""

    reasons: dict[tuple[str, str], str]
    inputs: dict[str, str]
    given: list[tuple[str, dict[str, str]]]
    steps: dict[tuple[str, str], tuple[str, int, Step]]
    drawings: dict[str, tuple[str, str]]
    lists: dict[tuple[str, tuple[str, ...]], str]
    whys: dict[str, tuple[str, str]]


def _features(answer: Answer, units: str, numbers: dict[str, int]) -> Iterator[SheetFeature]:
    told = _Told({}, {}, [], {}, {}, {}, {})
    charted = _charted(answer)
    for index, feature in enumerate(answer.features, 1):
        verdict = rows.VERDICT_WORDS[feature.verdict]
        charts_at = charted.get(feature.name)
        found = charts.of_feature(feature, answer, units, charted=charts_at is None)
        drawings, drawn_at = _drawings(feature, f"f{index}", found, told)
        checks = [_check(one, feature.name, told.reasons, units, numbers) for one in feature.checks]
        before = (told.reasons[one.rule, one.reason] for one in feature.checks)
        yield SheetFeature(
            feature,
            f"f{index}",
            verdict,
            _mark(verdict),
            [(one.name, rows.state_text(one, units)) for one in feature.states],
            _to_do(feature, units, told.whys),
            drawings,
            drawn_at,
            charts_at,
            list(rows.size_rows(feature)),
            *_given(feature, units, told),
            checks,
            [name for name in dict.fromkeys(before) if name != feature.name],
            "Values, over all states" if feature.workings else "Numbers for the bench",
            [
                (rows.value_row(one, units), numbers.get(str(one.source), 0))
                for one in (feature.values if feature.workings else rows.bench_values(feature))
            ],
            [
                (_step(one, number, feature.name, told), numbers.get(str(one.source), 0))
                for number, one in enumerate(feature.plan, 1)
            ],
            *_lists(feature, units, numbers, told.lists),
        )


def _charted(answer: Answer) -> dict[str, tuple[str, str]]:
    """Features without charts on a long page, with name and place of the one that has them."""
    if len(answer.features) <= FEW:
        return {}
    alike: dict[tuple[str, ...], list[tuple[str, FeatureAnswer]]] = {}
    for index, feature in enumerate(answer.features, 1):
        if feature.drawn is not None and (feature.drawn.curves or feature.drawn.walls):
            key = (feature.kind, *(one.name for one in feature.drawn.curves))
            alike.setdefault(key, []).append((f"f{index}", feature))
    found: dict[str, tuple[str, str]] = {}
    for features in alike.values():
        anchor, first = min(features, key=lambda one: _nearness(one[1]))
        found |= {other.name: (first.name, anchor) for _, other in features if other is not first}
    return found


def _nearness(feature: FeatureAnswer) -> tuple[int, float]:
    """How near a feature is to a limit, the nearest first: its verdict, then the least share left of one."""
    left = [one.margin / abs(one.limit) for one in feature.checks if one.margin is not None and one.limit]
    return [FAIL, NOT_COVERED, PASS, REFUSED].index(feature.verdict), min(left, default=math.inf)


def _drawings(
    feature: FeatureAnswer, anchor: str, found: Sequence[Drawing], told: _Told
) -> tuple[list[tuple[str, list[tuple[str, str]]]], list[tuple[str, str, list[str]]]]:
    """Drawings with their notes; of those that an earlier feature has line for line, where they are."""
    own, at = [], dict[tuple[str, str], list[str]]()
    for one in found:
        first = told.drawings.setdefault(f"{one.svg()}{one.notes}", (feature.name, anchor))
        if first[1] == anchor:
            notes = [(SAMPLES[sample], text) for sample, text in one.notes]
            own.append((one.svg(), notes))
        else:
            at.setdefault(first, []).append(one.title)
    return own, [(name, place, titles) for (name, place), titles in at.items()]


def _to_do(
    feature: FeatureAnswer, units: str, told: dict[str, tuple[str, str]]
) -> list[tuple[str, list[tuple[str, str]]]]:
    """What keeps a feature from passing; a reason that several share stands with the first, in ``told``."""

    def once(text: str, rule: str) -> str:
        name, first = told.setdefault(text, (feature.name, rule))
        if (name, first) == (feature.name, rule) or len(text) <= _SHORT:
            return text
        return f"as for “{first}”" + (f" of {name}" if name != feature.name else "")

    return [
        (
            headline,
            [
                (word, once(text, headline.partition(":")[0]) if word == "why" else text)
                for word, text in lines
            ],
        )
        for headline, lines in rows.to_do(feature, units)
    ]


def _step(step: Step, number: int, feature: str, told: _Told) -> Step:
    """A step; its words, where an earlier feature has them, in short, its numbers and cautions always."""
    name, first, before = told.steps.setdefault((step.do, step.tool), (feature, number, step))
    if name == feature:
        return step
    short = re.split("[,;:(]", step.do)[0].strip()
    if step == before:
        return step._replace(do=f"{short}: all as step {first} of {name}", tool="", range="", stop_if="")
    return step._replace(do=f"{short}, as step {first} of {name}", tool="")


def _lists(
    feature: FeatureAnswer, units: str, numbers: dict[str, int], told: dict[tuple[str, tuple[str, ...]], str]
) -> tuple[list[tuple[str, tuple[str, ...]]], list[tuple[str, list[str]]]]:
    """What else is said of a feature; the source of a published row by its number.

    Of lists that an earlier feature has word for word, in ``told``, whose they are.
    """
    # What a mark rests on stands among the sources of the page, each with its grade.
    own = {"Caution", "Taken", "Not asked", rows.FROM_MEMORY}
    found, at = [], dict[str, list[str]]()
    for title, texts in rows.lists(feature, units):
        if title == "Published":
            for source in {str(one.source) for one in feature.published} & set(numbers):
                texts = tuple(text.replace(f"({source})", f"[{numbers[source]}]") for text in texts)
        if title not in own:
            first = told.setdefault((title, texts), feature.name)
            if first == feature.name:
                found.append((title, texts))
            else:
                at.setdefault(first, []).append(title.lower())
    return found, list(at.items())


def _given(feature: FeatureAnswer, units: str, told: _Told) -> tuple[str, list[tuple[str, str]]]:
    """What was given; where an earlier feature has the most of it, that one and what differs."""
    found = dict(rows.given(feature, units))
    for name, before in told.given:
        other = [one for one in found.items() if before.get(one[0]) != one[1]]
        if before.keys() == found.keys() and 2 * len(other) < len(found):
            return name, other
    told.given.append((feature.name, found))
    return "", [(key, _once(text, feature.name, told.inputs)) for key, text in found.items()]


def _once(text: str, feature: str, told: dict[str, str]) -> str:
    """What was given; the numbers of a typed metal stand where they are first said, in ``told``."""
    name, numbers, _ = text.partition(" (")
    first = told.setdefault(text, feature)
    return text if first == feature or not numbers else f"{name} (as for {first})"


def _check(
    check: CheckAnswer, feature: str, said: dict[tuple[str, str], str], units: str, numbers: dict[str, int]
) -> SheetCheck:
    """A rule's row; the reason stands where it is first said, in ``said``."""
    row = _unit_once(rows.check_row(check, units))
    first = said.setdefault((check.rule, check.reason), feature) == feature
    return SheetCheck(
        row, _mark(row.verdict), check.reason if first else "", numbers.get(str(check.source), 0)
    )


def _unit_once(row: rows.CheckRow) -> rows.CheckRow:
    """A rule's row; limit and margin in the unit that stands with the worst are without it."""
    _, space, unit = row.worst.partition(" ")
    if not unit:
        return row
    end = space + unit
    return row._replace(limit=row.limit.removesuffix(end), to_spare=row.to_spare.removesuffix(end))


def to_pdf(page: str, paper: str) -> bytes:
    """The page as PDF on one of :data:`PAPERS`.

    Raises:
        DeliveryError: the library that lays out pages is not installed, or lacks its own.
    """
    try:
        from weasyprint import CSS, HTML
    except (ImportError, OSError):
        hint = 'pip install "fits[pdf]" (it needs Pango), or print the page from a browser'
        raise DeliveryError(Fault("a PDF needs WeasyPrint", hint=hint)) from None
    size = CSS(string=f"@page {{ size: {PAPERS[paper]} }}")
    written: bytes = HTML(string=page).write_pdf(stylesheets=[size])
    return written
