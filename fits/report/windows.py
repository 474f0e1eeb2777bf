"""What is said of windows and choices: one set of words for the screen and the data."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from fits import quantity
from fits.features.when import place
from fits.questions.answer import Answer
from fits.questions.choose import Choice, Choices
from fits.questions.fit_window import FitWindow
from fits.questions.options import Options
from fits.questions.window import At, Edge, RuleRange, Window, common, excluding
from fits.report import rows
from fits.report.data import alternative_data, alternative_rows, rounded
from fits.sizes.limits import Limits


def show(value: float, of: Window, units: str, *, up: bool) -> str:
    """An end of a window with its unit, rounded into the window; ``up`` for a lower end."""
    return quantity.show_end(value, of.target.kind, _digits(of), up=up, units=units)


def _digits(of: Window) -> int:
    return 4 if of.target.kind == "length" else max(of.target.digits, 1)


def span(low: float, high: float, of: Window, units: str) -> str:
    """An interval in words."""
    return f"{show(low, of, units, up=True)} to {show(high, of, units, up=False)}"


def limits_text(limits: Limits, units: str) -> str:
    """Limits as a drawing writes them, rounded to the inside (0.001 mm, 0.0001 in).

    Inch classes have limits of half a tenth; they are shown as they are.
    """
    factor, places = (1.0, 3) if units == "mm" else (1.0 / 25.4, 4)
    fine = [end * factor * 1e5 for end in (limits.lower, limits.upper)]
    if units == "in" and all(abs(end - round(end)) < 1e-4 for end in fine):
        places = 4 if all(round(end) % 10 == 0 for end in fine) else 5
    step = 10.0**places
    upper = math.floor(limits.upper * factor * step + 1e-6) / step
    lower = math.ceil(limits.lower * factor * step - 1e-6) / step
    return f"{upper:.{places}f}/{lower:.{places}f}"


def edge_text(edge: Edge, units: str) -> Iterator[str]:
    """What sets an edge, and the numbers just beyond it."""
    if not edge.rule:
        yield edge.why
        return
    yield f"set by {edge.feature}, {edge.rule}, in {place(edge.state)}"
    if edge.value is not None and edge.limit is not None:
        value = rows.number(edge.value, edge.kind, edge.digits + 1, units)
        limit = rows.number(edge.limit, edge.kind, edge.digits + 1, units)
        if value != limit:
            yield f"just beyond it {value} against {limit}"
    else:
        yield "just beyond it the rule is not covered"


def corner_text(edge: Edge, units: str) -> str:
    """The corner that sets an edge: the limits of the other dimensions that work together."""
    said = [_at(one, units) for one in edge.corner]
    return f"at {', '.join(said)}" if said else ""


def _at(one: At, units: str) -> str:
    if one.word:
        return f"{one.label} {one.word}"
    if one.kind == "number":
        return f"{one.label} {one.value:g}"
    return f"{one.label} {quantity.show(one.value, one.kind, 3, units=units)}"


def headline(found: Window, units: str) -> str:
    """The window in one line."""
    if not found.intervals:
        return f"NO WINDOW: no {found.target.said} holds in every state"
    said = " and ".join(span(one.low.at, one.high.at, found, units) for one in found.intervals)
    return f"WINDOW: {found.target.said} {said}"


def no_window(found: Window, units: str) -> Iterator[str]:
    """Why there is none: the rules that exclude each other, and by how much."""
    pair = excluding(found)
    if pair is None:
        yield found.no_window
        return
    lower, upper = pair
    apart = lower.intervals[0][0] - upper.intervals[-1][1]
    yield (
        f"{lower.rule} ({lower.feature}, {place(lower.state)}) needs at least "
        f"{show(lower.intervals[0][0], found, units, up=True)}"
    )
    yield (
        f"{upper.rule} ({upper.feature}, {place(upper.state)}) allows at most "
        f"{show(upper.intervals[-1][1], found, units, up=False)}"
    )
    yield f"they exclude each other by {_difference(apart, found, units)}"


def _difference(value: float, found: Window, units: str) -> str:
    return rows.difference(value, found.target.kind, _digits(found), units)


def ways_out(found: Window, units: str) -> Iterator[str]:
    """Single other changes that would open a window."""
    for way in found.ways_out:
        low, high = way.interval
        yield f"{way.what}: then {found.target.said} {span(low, high, found, units)}"


def rule_rows(found: Window, units: str) -> Iterator[list[str]]:
    """Each rule alone, over all its states: where it holds, and the state that sets each end."""
    groups: dict[tuple[str, str], list[RuleRange]] = {}
    for one in found.rules:
        groups.setdefault((one.feature, one.rule), []).append(one)
    for (feature, rule), ranges in groups.items():
        yield [feature, rule, _over_all(ranges, found, units)]


def _over_all(ranges: list[RuleRange], found: Window, units: str) -> str:
    never = [one for one in ranges if not one.intervals]
    if never:
        word = "not covered" if never[0].why_not else "nowhere"
        return f"{word} in {', '.join(place(one.state) for one in never)}"
    target = found.target
    shared = common([list(one.intervals) for one in ranges], target.low, target.high)
    return " and ".join(_alone(low, high, ranges, found, units) for low, high in shared) or "nowhere"


def _alone(low: float, high: float, ranges: list[RuleRange], found: Window, units: str) -> str:
    target = found.target
    said = []
    for word, at, end, index in (("from", low, target.low, 0), ("to", high, target.high, 1)):
        if at == end:
            continue
        states = [one.state for one in ranges if any(span[index] == at for span in one.intervals)]
        where = "" if states[0] == target.state else f" ({place(states[0])})"
        said.append(f"{word} {show(at, found, units, up=index == 0)}{where}")
    return (
        " ".join(said).replace("to", "up to", 1)
        if said[:1] and said[0].startswith("to")
        else (" ".join(said) or "anywhere")
    )


def fit_lines(found: FitWindow, units: str) -> Iterator[str]:
    """The window of a fit, what eats it, and what is left."""

    def length(value: float) -> str:
        return quantity.show(value, "length", units=units)

    low = quantity.show_end(found.low, "length", up=True, units=units)
    high = quantity.show_end(found.high, "length", up=False, units=units)
    yield f"{found.fit} {low} to {high} at {length(found.at)}"
    if found.form:
        yield f"form error takes {length(found.form)} of it, in full at both ends"
    if found.gauge:
        yield f"the gauge takes {length(found.gauge)}, its uncertainty at every limit"
    left = quantity.show_end(max(found.left, 0.0), "length", up=False, units=units)
    yield f"left for the two tolerances together: {left}"


def split_rows(found: FitWindow, units: str) -> Iterator[list[str]]:
    """How what is left could be shared, as limits for the drawing."""
    for one in found.splits:
        yield [
            one.how,
            f"hole {limits_text(one.hole, units)}",
            f"shaft {limits_text(one.shaft, units)}",
            units,
        ]


def choice_rows(found: Choices, units: str) -> Iterator[list[str]]:
    """Classes with the room left at both ends of the window."""
    for one in found.found:
        sizes = [limits_text(member, units) for member in _members(one) if isinstance(member, Limits)]
        room = [quantity.show(value, "length", units=units) for value in (one.low_room, one.high_room)]
        yield [one.name, *sizes, *([""] * (2 - len(sizes))), " and ".join(room)]


def _members(one: Choice) -> tuple[Any, Any]:
    return one.hole, one.shaft


def window_data(found: Window) -> dict[str, Any]:
    """A window as plain data, in report units."""
    kind = found.target.kind
    data: dict[str, Any] = {"of": found.target.label, "unit": quantity.report_unit(kind), "intervals": []}
    if found.target.scale:
        data["scale"] = found.target.scale
    for one in found.intervals:
        data["intervals"].append(
            {
                "min": _report(one.low.at, kind),
                "max": _report(one.high.at, kind),
                "min_set_by": _set_by(one.low),
                "max_set_by": _set_by(one.high),
            }
        )
    data["rules"] = [
        {
            "feature": one.feature,
            "rule": one.rule,
            "state": one.state,
            "intervals": [[_report(low, kind), _report(high, kind)] for low, high in one.intervals],
            **({"not_covered": one.why_not} if one.why_not else {}),
        }
        for one in found.rules
    ]
    if not found.intervals:
        data["no_window"] = "; ".join(no_window(found, "mm"))
    data["ways_out"] = [
        {"change": way.what, "min": _report(way.interval[0], kind), "max": _report(way.interval[1], kind)}
        for way in found.ways_out
    ]
    if found.alternatives:
        data["alternatives"] = [alternative_data(one) for one in found.alternatives]
    return data


def _report(value: float, kind: str) -> float:
    return rounded(quantity.report_value(value, kind))


def _set_by(edge: Edge) -> dict[str, Any]:
    if not edge.rule:
        return {"why": edge.why}
    found: dict[str, Any] = {"feature": edge.feature, "rule": edge.rule, "state": edge.state}
    for name, value in (("value", edge.value), ("limit", edge.limit)):
        if value is not None:
            found[name] = _report(value, edge.kind)
    found["corner"] = [
        {
            "of": one.label,
            "value": one.word or _report(one.value, one.kind),
            "unit": quantity.report_unit(one.kind),
        }
        for one in edge.corner
    ]
    return {**found, "unit": quantity.report_unit(edge.kind), "why": edge.why}


def fit_data(found: FitWindow) -> dict[str, Any]:
    """The window of a fit as plain data, mm."""
    numbers = {
        name: _report(getattr(found, name), "length") for name in ("low", "high", "form", "gauge", "left")
    }
    return {
        "of": found.feature,
        "fit": found.fit,
        "unit": "mm",
        "at": _report(found.at, "length"),
        **({"min": numbers.pop("low"), "max": numbers.pop("high")} if found.window.intervals else {}),
        **{name: numbers[name] for name in ("form", "gauge", "left")},
        "splits": [
            {"how": one.how, "hole": _limits(one.hole), "shaft": _limits(one.shaft)} for one in found.splits
        ],
        "notes": list(found.notes),
        "window": window_data(found.window),
    }


def _limits(one: Any) -> Any:
    if not isinstance(one, Limits):
        return str(one)
    return {"min": _report(one.lower, "length"), "max": _report(one.upper, "length")}


def choices_data(found: Choices) -> dict[str, Any]:
    """Choices as plain data, mm."""
    inside = found.window
    return {
        "of": found.feature,
        "found": [
            {
                "name": one.name,
                "hole": _limits(one.hole),
                "shaft": _limits(one.shaft),
                "unit": "mm",
                "room": [_report(one.low_room, "length"), _report(one.high_room, "length")],
            }
            for one in found.found
        ],
        "notes": list(found.notes),
        "window": fit_data(inside) if isinstance(inside, FitWindow) else window_data(inside),
    }


def csv_rows(answer: Answer) -> Iterator[dict[str, Any]]:
    """Windows, the rules that make them, and choices, as rows of the CSV report."""
    for one in answer.windows:
        yield from window_rows(one)
    for chosen in answer.choices:
        yield from chosen_rows(chosen)


def chosen_rows(chosen: Choices | Options) -> Iterator[dict[str, Any]]:
    """What can be chosen, and the window behind it, as rows of the CSV report."""
    if isinstance(chosen, Options):
        from fits.report import options

        yield from options.csv_rows(chosen)
        yield from window_rows(chosen.window) if chosen.window is not None else ()
        return
    for choice in chosen.found:
        text = f"room {choice.low_room:.4f} and {choice.high_room:.4f} mm"
        yield {"feature": chosen.feature, "row": "choice", "name": choice.name, "text": text}
    for note in chosen.notes:
        yield {"feature": chosen.feature, "row": "notes", "text": note}
    yield from window_rows(chosen.window)


def window_rows(found: Window | FitWindow) -> Iterator[dict[str, Any]]:
    """A window and the rules that make it as rows of the CSV report."""
    if isinstance(found, FitWindow):
        for row in split_rows(found, "mm"):
            yield {"feature": found.feature, "row": "split", "name": row[0], "text": " ".join(row[1:])}
        found = found.window
    data = window_data(found)
    head = {"name": data["of"], "unit": data["unit"]}
    for span_ in data["intervals"]:
        ends = [end.get("rule", end["why"]) for end in (span_["min_set_by"], span_["max_set_by"])]
        text = "; ".join(filter(None, (data.get("scale"), f"set by {ends[0]} and {ends[1]}")))
        yield {"row": "window", **head, "least": span_["min"], "greatest": span_["max"], "text": text}
    if not data["intervals"]:
        yield {"row": "window", **head, "text": f"none: {data['no_window']}"}
    for one in data["rules"]:
        rule = {"feature": one["feature"], "row": "rule holds", "name": one["rule"], "state": one["state"]}
        for low, high in one["intervals"]:
            yield {**rule, "unit": data["unit"], "least": low, "greatest": high}
        if not one["intervals"]:
            yield {**rule, "text": one.get("not_covered") or "nowhere"}
    for way in data["ways_out"]:
        text = f"with {way['change']}"
        yield {"row": "way out", **head, "least": way["min"], "greatest": way["max"], "text": text}
    yield from alternative_rows(data.get("alternatives", []))
