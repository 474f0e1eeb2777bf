"""What changed between two reports: in the inputs, and by that in each verdict and margin."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED, SizeAnswer
from fits.questions.reported import Amount, Check, FeatureData, Report, StateData
from fits.questions.shown import in_notebooks

_WORST_FIRST = (REFUSED, FAIL, NOT_COVERED, PASS)
# Reports carry 12 significant digits: margins nearer than this, relatively, are the same.
SAME = 1e-9

WORSE, GONE, LESS, OTHER, NEW, MORE, BETTER, AS_BEFORE = (
    "worse",
    "not asked any more",
    "less margin",
    "other break-even",
    "new",
    "more margin",
    "better",
    "as before",
)
EFFECTS = (WORSE, GONE, LESS, OTHER, NEW, MORE, BETTER, AS_BEFORE)


def to_spare(check: Check) -> float | None:
    """The margin of a rule that was judged; of what isn't covered nobody knows what is to spare."""
    return None if check.verdict == NOT_COVERED else check.margin


class Change(NamedTuple):
    """One input on either side; None where it isn't given.

    ``where`` is a feature, a state, ``part`` or ``tables``.
    """

    where: str
    name: str
    before: SizeAnswer | Amount | str | None
    after: SizeAnswer | Amount | str | None


class RuleChange(NamedTuple):
    """One rule of a feature on either side; None where it wasn't asked."""

    feature: str
    rule: str
    before: Check | None
    after: Check | None
    effect: str

    @property
    def difference(self) -> float | None:
        """By how much the margin grew, in the unit of the rule; None where one side has none."""
        old, new = self.before, self.after
        if old is None or new is None or old.unit != new.unit:
            return None
        ends = to_spare(old), to_spare(new)
        return None if ends[0] is None or ends[1] is None else ends[1] - ends[0]


class FeatureChange(NamedTuple):
    """The verdict of a feature on either side; None where there is no such feature."""

    name: str
    before: str | None
    after: str | None
    refusals: tuple[str, ...] = ()


@in_notebooks
class Comparison(NamedTuple):
    """Two reports held against each other; ``unseen`` when inputs differ in what isn't listed."""

    before: Report
    after: Report
    inputs: tuple[Change, ...]
    features: tuple[FeatureChange, ...]
    rules: tuple[RuleChange, ...]
    unseen: bool

    @property
    def verdict(self) -> str:
        """The verdict after the change."""
        return self.after.worst

    @property
    def lost(self) -> tuple[str, ...]:
        """What was judged before and isn't any more: features, rules, states."""
        features = [one.name for one in self.features if one.after is None]
        rules = [
            f"{one.feature}: {one.rule}"
            for one in self.rules
            if one.effect == GONE and one.feature not in features
        ]
        return (*features, *rules, *_dropped(self.before, self.after))

    @property
    def holds(self) -> bool:
        """Whether every rule holds after the change, and none that was judged before is missing."""
        return self.verdict == PASS and not self.lost


def compare(before: Report, after: Report) -> Comparison:
    """What changed from one report to another.

    Rules are the same when feature and name are; the worst of each side is compared.
    """
    inputs = tuple(_inputs(before, after))
    told = [one for one in inputs if one.where != "tables"]
    differ = before.inputs_sha256 != after.inputs_sha256
    unseen = bool(before.inputs_sha256 and after.inputs_sha256) and differ and not told
    names = dict.fromkeys((*before.features, *after.features))
    features = []
    rules: list[RuleChange] = []
    for name in names:
        old, new = before.features.get(name), after.features.get(name)
        features.append(
            FeatureChange(
                name,
                old.verdict if old else None,
                new.verdict if new else None,
                tuple(new.refusals) if new else (),
            )
        )
        rules += _rules(name, _by_name(old), _by_name(new))
    rules.sort(key=lambda one: EFFECTS.index(one.effect))
    return Comparison(before, after, inputs, tuple(features), tuple(rules), unseen)


def _dropped(before: Report, after: Report) -> Iterator[str]:
    """States that had to be survived before and stand under no name any more."""
    sides = [("", before.states, after.states)]
    for name, new in after.features.items():
        old = before.features.get(name)
        if old is not None and (old.states or new.states):
            sides.append((f"{name}, ", old.states or before.states, new.states or after.states))
    for of, had, has in sides:
        for state, keys in had.items():
            if state not in has and keys not in has.values():
                yield f"{of}state {state}"


def _by_name(feature: FeatureData | None) -> dict[str, Check]:
    found: dict[str, Check] = {}
    seen: Counter[str] = Counter()
    for check in feature.checks if feature else ():
        seen[check.rule] += 1
        times = seen[check.rule]
        found[check.rule if times == 1 else f"{check.rule} ({times})"] = check
    return found


def _rules(feature: str, old: Mapping[str, Check], new: Mapping[str, Check]) -> Iterator[RuleChange]:
    for rule in dict.fromkeys((*old, *new)):
        before, after = old.get(rule), new.get(rule)
        one = RuleChange(feature, rule, before, after, "")
        yield one._replace(effect=_effect(one))


def _effect(one: RuleChange) -> str:
    if one.before is None:
        return NEW
    if one.after is None:
        return GONE
    better = _WORST_FIRST.index(one.after.verdict) - _WORST_FIRST.index(one.before.verdict)
    if better:
        return BETTER if better > 0 else WORSE
    difference = one.difference
    if difference is None:
        return AS_BEFORE if one.before.break_even == one.after.break_even else OTHER
    scale = max(abs(one.before.worst or 0.0), abs(one.before.limit or 0.0), abs(one.after.worst or 0.0))
    if abs(difference) <= SAME * scale:
        return AS_BEFORE
    return MORE if difference > 0.0 else LESS


def _inputs(before: Report, after: Report) -> Iterator[Change]:
    for name in ("part", "revision", "drawn_by", "date"):
        yield from _one(
            "part", "name" if name == "part" else name, getattr(before, name), getattr(after, name)
        )
    yield from _states("", before.states, after.states)
    for name in dict.fromkeys((*before.features, *after.features)):
        old, new = before.features.get(name), after.features.get(name)
        if old is None or new is None:
            yield Change(name, "feature", old.kind if old else None, new.kind if new else None)
            continue
        yield from _one(name, "kind", old.kind, new.kind)
        yield from _given(name, old, new)
        yield from _states(f"{name}, ", old.states, new.states)
    for table in before.tables:
        if table in after.tables:
            yield from _one("tables", table, before.tables[table], after.tables[table])


def _one(where: str, name: str, old: str, new: str) -> Iterator[Change]:
    if old != new:
        yield Change(where, name, old or None, new or None)


def _given(name: str, old: FeatureData, new: FeatureData) -> Iterator[Change]:
    """The fields of one feature; a size is the same when its limits are, however it is written."""
    sizes = [{one.name: one for one in side.sizes if not one.on} for side in (old, new)]
    for field in dict.fromkeys((*old.inputs, *new.inputs)):
        first, second = (one.get(field) for one in sizes)
        if first and second:
            if (first.min, first.max) != (second.min, second.max):
                yield Change(name, field, first.answer(), second.answer())
            continue
        texts = old.inputs.get(field), new.inputs.get(field)
        if texts[0] != texts[1]:
            ends = [
                size.answer() if size else text for size, text in zip((first, second), texts, strict=True)
            ]
            yield Change(name, field, ends[0], ends[1])


def _states(of: str, old: Mapping[str, StateData], new: Mapping[str, StateData]) -> Iterator[Change]:
    for state in dict.fromkeys((*old, *new)):
        where = f"{of}state {state}"
        if state not in old or state not in new:
            yield Change(where, "state", *("given" if state in side else None for side in (old, new)))
            continue
        first, second = old[state], new[state]
        for key in dict.fromkeys((*first, *second)):
            if first.get(key) != second.get(key):
                yield Change(where, key, _said(first.get(key)), _said(second.get(key)))


def _said(value: Amount | bool | str | None) -> Amount | str | None:
    return ("yes" if value else "no") if isinstance(value, bool) else value
