"""What is said of odds: to the screen, as JSON and as CSV."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

from fits import quantity
from fits.questions.answer import NOT_COVERED, PASS
from fits.questions.scattered import Drawn, Odds, RuleOdds, Share
from fits.report import data, rows
from fits.report.terminal import columns, listed, wrapped
from fits.sizes.scatter import Scatter

PROOF = "Odds are no proof: they hold for parts that scatter as is said below. Worst case: "


def percent(share: float, *, up: bool = False) -> str:
    """A share as percent, rounded down (or up): 100 means that every part drawn held.

    >>> percent(0.9999999), percent(1.0), percent(0.99125, up=True)
    ('99.999', '100', '99.125')
    """
    scaled = share * 1e5
    whole = math.ceil(scaled - 1e-6) if up else math.floor(scaled + 1e-6)
    if whole >= 100_000 and (up or share == 1.0):
        return "100"
    return f"{min(whole, 99_999) / 1e3:.3f}"


def interval(share: Share) -> str:
    """A 95 % interval in percent, rounded outwards.

    >>> interval(Share(1.0, 0.9999, 1.0))
    '99.990 to 100'
    """
    return f"{percent(share.low)} to {percent(share.high, up=True)}"


# A scatter of fewer measured parts than this is hardly known (common practice).
FEW = 30


def scatter_text(one: Drawn, units: str) -> str:
    """How a dimension was drawn, in words and numbers."""
    of = one.scatter

    def show(value: float) -> str:
        return quantity.show(value, one.kind, 4 if one.kind == "length" else 3, units=units)

    if of.form == "measured":
        return f"{len(of.measured)} measured, {show(of.low)} to {show(of.high)}; nothing is known beyond"
    if of.form == "normal":
        kind = "temperature difference" if one.kind == "temperature" else one.kind
        sigma = quantity.show(of.sigma, kind, 5 if one.kind == "length" else 4, units=units)
        cut = (
            f", inspected to {show(of.low)} to {show(of.high)}: {sorted_out(of)} % are scrap"
            if of.ends
            else ""
        )
        return f"{of.text}: about {show(of.middle)}, sigma {sigma}{cut}"
    said = "" if one.said else "nothing said: "
    return f"{said}uniform {show(of.low)} to {show(of.high)}"


def _few_measured(found: Odds) -> str:
    """What the interval does not count: how few parts some scatters were measured on."""
    counts = {one.label: len(one.scatter.measured) for one in found.drawn if one.scatter.form == "measured"}
    few = [f"{label} on {count} parts" for label, count in counts.items() if count < FEW]
    if not few:
        return ""
    return f"; measured: {', '.join(few)}: too few to say much of the next"


def sorted_out(of: Scatter) -> str:
    """The percent of what is cut that an inspected normal scatter sorts out, rounded up.

    >>> sorted_out(Scatter("normal", "", -3.0, 3.0, 0.0, 1.0, ends=True))
    '0.270'
    """
    from statistics import NormalDist

    # A bell has two tails: each is reckoned where it is small.
    unit = NormalDist()
    outside = unit.cdf((of.low - of.middle) / of.sigma) + unit.cdf((of.middle - of.high) / of.sigma)
    return percent(min(outside, 1.0), up=True)


def to_text(found: Odds, units: str) -> str:
    """The odds on a screen of 80 columns."""
    worst = found.worst_case
    lines = [f"ODDS: {worst.part}"]
    lines += wrapped(headline(found), "  ")
    if found.not_covered > 0.0:
        lines += wrapped(f"{percent(found.not_covered, up=True)} % could not be judged: not covered", "  ")
    lines += wrapped(PROOF + f"{rows.VERDICT_WORDS[worst.verdict]}.", "  ")
    if weakest := found.weakest:
        lines += wrapped(_matters(weakest), "  ")
        if weakest.failing.share > 0.0:
            lines += wrapped(f"do: {weakest.worst.action}", "      ", "  ")
    lines += ["", "Rules: percent of parts that hold, its 95 % interval, and the worst case"]
    lines += columns([_rule_row(one) for one in found.rules], "llrll")
    lines += ["", "The scatter comes from (share of the variance of each rule's margin)"]
    lines += columns([_source_row(one) for one in found.rules if one.comes_from], "lll")
    lines += ["", "Drawn, each dimension apart from the others"]
    for drawn in found.drawn:
        lines += wrapped(f"{drawn.label}: {scatter_text(drawn, units)}", "      ", "    ")
    if found.at_worst:
        lines += ["", "Not drawn: at its worst for every part"]
        lines += wrapped(", ".join(found.at_worst), "    ")
    resting = [(f"{one.rule} ({one.feature})", one.worst.memory) for one in found.rules]
    lines += listed(rows.FROM_MEMORY, rows.memory_texts(resting))
    lines += _missing(found)
    lines += ["", "States", *columns([[s.name, rows.state_text(s, units)] for s in worst.states], "ll")]
    for one in worst.features:
        lines += listed(f"Workings of {one.name}, each value where it is greatest", one.workings)
    lines += listed("Caution", dict.fromkeys(text for one in worst.features for text in one.cautions))
    lines += ["", *wrapped("Reasons and values: fits check with the same part.", "  ")]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def headline(found: Odds) -> str:
    """How many parts were drawn, and how many hold every rule."""
    said = (
        f"of {found.samples:,} parts drawn (seed {found.seed}) {percent(found.passing.share)} % hold every "
    )
    said += f"rule (95 % interval {interval(found.passing)})"
    if found.failing.share > 0.0:
        said += f"; {_in_a_thousand(found.failing.share)} fail"
    return said + _few_measured(found)


def _in_a_thousand(share: float) -> str:
    """A share of failing parts as the shop counts them, never rounded down.

    >>> _in_a_thousand(0.0123), _in_a_thousand(0.00001)
    ('13 in 1,000', '1 in 100,000')
    """
    if share == 1.0:
        return "all"
    if share >= 0.001:
        return f"{math.ceil(share * 1000 - 1e-9)} in 1,000"
    return f"1 in {math.floor(1.0 / share + 1e-9):,}"


def _matters(weakest: RuleOdds) -> str:
    said = f"Weakest: {weakest.rule} ({weakest.feature})"
    if not weakest.comes_from:
        return f"{said}."
    name, share = weakest.comes_from[0]
    return f"{said}; what matters most there is the spread of {name} ({share * 100:.0f} % of the scatter)."


def _rule_row(one: RuleOdds) -> list[str]:
    whole = percent(one.passing.share) if one.not_covered == 0.0 else "-"
    within = interval(one.passing)
    if one.not_covered > 0.0:
        within = "not covered"
        if one.failing.share > 0.0:
            within += f", {percent(one.failing.share)} % fail"
    mark = rows.MARK if one.worst.memory else ""
    return [one.feature, one.rule + mark, whole, within, rows.VERDICT_WORDS[one.worst.verdict]]


def _source_row(one: RuleOdds) -> list[str]:
    most = [f"{name.removeprefix(f'{one.feature}.')} {share * 100:.0f} %" for name, share in one.comes_from]
    return [one.feature, one.rule, ", ".join(most[:2])]


def _missing(found: Odds) -> list[str]:
    """Why something could not be judged, and what would make it hold."""
    texts = [
        f"{one.feature}, {one.rule}: {'; '.join(filter(None, (one.worst.why_not, one.worst.break_even)))}"
        for one in found.rules
        if one.worst.verdict == NOT_COVERED
    ]
    if not texts and found.not_covered > 0.0:
        texts = [f"{one.name}: {text}" for one in found.worst_case.features for text in one.not_covered]
    return listed("Not covered", texts)


def to_json(found: Odds) -> str:
    """The worst case as ``fits check`` gives it, and the odds beside it."""
    whole = data.to_dict(found.worst_case)
    whole["odds"] = {
        "samples": found.samples,
        "seed": found.seed,
        **_shares(found),
        "rules": [_rule_data(one) for one in found.rules],
        "drawn": [_drawn_data(one) for one in found.drawn],
        "at_worst": list(found.at_worst),
    }
    return json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _shares(of: Odds | RuleOdds) -> dict[str, Any]:
    def ends(share: Share) -> dict[str, float]:
        return {
            "share": data.rounded(share.share),
            "low": data.rounded(share.low),
            "high": data.rounded(share.high),
        }

    return {
        "passing": ends(of.passing),
        "failing": ends(of.failing),
        "not_covered": data.rounded(of.not_covered),
    }


def _rule_data(one: RuleOdds) -> dict[str, Any]:
    found = {"feature": one.feature, "rule": one.rule, **_shares(one), "worst_case": one.worst.verdict}
    if one.capability is not None:
        found["capability"] = float(f"{one.capability:.6g}")
    found["comes_from"] = {name: float(f"{share:.4g}") for name, share in one.comes_from}
    return found


def _drawn_data(one: Drawn) -> dict[str, Any]:
    of = one.scatter
    numbers = {"min": of.low, "max": of.high} if of.ends else {}
    if of.form == "normal":
        numbers |= {"middle": of.middle}
    found: dict[str, Any] = {"dimension": one.key, "spread": of.text, "said": one.said}
    found |= {name: data.rounded(quantity.report_value(value, one.kind)) for name, value in numbers.items()}
    if of.form == "normal":
        found["sigma"] = data.rounded(of.sigma * quantity.KINDS[one.kind].to_report)
    if of.measured:
        found["measured"] = [data.rounded(quantity.report_value(value, one.kind)) for value in of.measured]
    found["unit"] = quantity.report_unit(one.kind)
    return found


COLUMNS = (
    "part",
    "feature",
    "rule",
    "samples",
    "seed",
    "passing",
    "low",
    "high",
    "failing",
    "not_covered",
    "worst_case",
    "capability",
    "most_from",
    "most_share",
    "from_memory",
)


def to_csv(found: Odds) -> str:
    """One row a rule and one for all rules together; shares are from 0 to 1."""
    head = {"part": found.worst_case.part, "samples": found.samples, "seed": found.seed}
    return data.csv_text(COLUMNS, ({**head, **row} for row in csv_rows(found)))


def csv_rows(found: Odds) -> Iterator[dict[str, Any]]:
    """All rules together, then each, as rows of the CSV."""
    whole = {"rule": "every rule", "worst_case": found.worst_case.verdict}
    yield {**whole, **_flat(_shares(found))}
    for one in found.rules:
        of = _rule_data(one)
        said = ("feature", "rule", "worst_case", "capability")
        row: dict[str, Any] = {key: of[key] for key in said if key in of}
        for name, share in list(of["comes_from"].items())[:1]:
            row |= {"most_from": name, "most_share": share}
        row["from_memory"] = " | ".join(map(str, one.worst.memory))
        yield {**row, **_flat(of)}


def _flat(of: dict[str, Any]) -> dict[str, float]:
    passing = of["passing"]
    return {
        "passing": passing["share"],
        "low": passing["low"],
        "high": passing["high"],
        "failing": of["failing"]["share"],
        "not_covered": of["not_covered"],
    }


def status(found: Odds) -> int:
    """0 only where the worst case holds, and every part drawn: odds make no pass, but may take it away."""
    return 0 if found.worst_case.verdict == PASS and found.passing.share == 1.0 else 1
