"""An answer in a notebook: verdict, what to do, rules and values as HTML tables, without pandas."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from fits.questions.answer import Answer, FeatureAnswer
from fits.report import records, rows, terminal


def html(answer: Answer) -> str:
    """The answer as HTML; what is no list of rules and values stands as on the screen."""
    features = [] if answer.listed else [one for one in answer.features if rows.judged(one) or one.values]
    others = (*answer.windows, *answer.choices, answer.judged, answer.pairing)
    if any(others):
        return "\n".join(table_of(one) for one in others if one is not None)
    if not features or answer.drawers:
        return f"<pre>{escape(terminal.render(answer, units=answer.units))}</pre>"
    parts = []
    if any(rows.judged(one) for one in features):
        verdict, name, means = rows.headline(answer)
        parts.append(f"<p><b>{escape(verdict)}</b>: {escape(name)}; {escape(means)}</p>")
        states = [(state.name, rows.state_text(state, answer.units)) for state in answer.states]
        parts.append(_table(("state", ""), states))
    for feature in features:
        parts += _feature(feature, answer.units)
    sources = "".join(f"<li>{escape(str(source))}</li>" for source in answer.sources)
    if sources:
        parts.append(f"<details><summary>Sources</summary><ul>{sources}</ul></details>")
    return "\n".join(filter(None, parts))


def table_of(result: records.Result) -> str:
    """Any other result: what comes of it, then its rows, by the columns that any of them has."""
    found = records.records(result)
    heads = list(dict.fromkeys(key for row in found for key, cell in row.items() if cell not in ("", None)))
    cells = [[_cell(row.get(head, "")) for head in heads] for row in found]
    names = [head.replace("_", " ") for head in heads]
    return f"<p><b>{escape(records.headed(result))}</b></p>\n{_table(names, cells)}"


def _cell(value: object) -> str:
    return f"{value:.6g}" if isinstance(value, float) else "" if value is None else str(value)


def _feature(feature: FeatureAnswer, units: str) -> Iterable[str]:
    word = f": {rows.VERDICT_WORDS[feature.verdict]}" if rows.judged(feature) else ""
    yield f"<h4>{escape(feature.name)} ({escape(feature.kind)}){escape(word)}</h4>"
    told = [
        f"<li>{escape(headline)}{''.join(f'<br>{escape(w)}: {escape(text)}' for w, text in lines)}</li>"
        for headline, lines in rows.to_do(feature, units)
    ]
    if told:
        yield f"<ul>{''.join(told)}</ul>"
    yield _table(
        ("state of this feature", ""), [(one.name, rows.state_text(one, units)) for one in feature.states]
    )
    checks = [rows.check_row(one, units) for one in feature.checks]
    yield _table(
        ("verdict", "rule", "worst", "", "limit", "to spare", "in"),
        [(r.verdict, r.rule, r.worst, r.relation, r.limit, r.to_spare, r.state) for r in checks],
    )
    values = [rows.value_row(one, units) for one in feature.values]
    yield _table(
        ("value", "least", "greatest", "unit", "least in", "greatest in"),
        [(r.label, r.least, r.greatest, r.unit, r.least_in, r.greatest_in) for r in values],
    )
    sizes = [(r.label, r.text, r.mm, r.inch, r.note) for r in rows.size_rows(feature)]
    yield _table(("size at 20 degC", "as typed", "mm", "in", ""), sizes)
    yield _table((feature.plan_title,), [(rows.step_text(step),) for step in feature.plan])
    for title, texts in rows.lists(feature, units):
        items = "".join(f"<li>{escape(text)}</li>" for text in texts)
        yield f"<p>{escape(title)}</p><ul>{items}</ul>"


def _table(heads: Sequence[str], cells: Iterable[Sequence[str]]) -> str:
    """A table of text, nothing where there is no row."""
    body = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in cells)
    head = "".join(f"<th>{escape(one)}</th>" for one in heads)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>" if body else ""
