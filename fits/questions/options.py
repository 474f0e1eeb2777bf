"""Which ring, and which groove for it? All else a field could be, with limits for the sizes.

A kind names the field to choose (``chosen``) and the sizes worth giving limits of
(``sized_by``); the field's type says what else it may be. Each candidate is tried at nominal
sizes first, since what fails there fails with tolerances; what is left gets the whole window
of the first size, its limits put in, and each open size after it its own window in turn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from fits.arrays import Array
from fits.errors import Fault, InputError
from fits.features.feature import Feature, declared
from fits.features.fields import Field, Undecided
from fits.features.part import Part
from fits.questions.answer import PASS
from fits.questions.check import check, refusals, undecided
from fits.questions.evaluate import Evaluation, relevant
from fits.questions.judging import held
from fits.questions.shown import in_notebooks
from fits.questions.targets import Target, points_of, swept, target_of, with_field
from fits.questions.window import Window, window
from fits.sizes.limits import Limits
from fits.tables import Source

SHOWN = 8
ADVICE = Source("limits worked out from the window", "derived")
# Limits on a drawing are rounded into the window by this, mm.
STEP = 0.001
# Tolerance to go on with of a size that no rule bounds on one side.
OPEN_SHARE = 0.04


class Sized(NamedTuple):
    """Limits of one size for a choice, mm, rounded into its window; None where no rule sets one."""

    field: str
    low: float | None
    high: float | None

    @property
    def room(self) -> float:
        """Between both limits, mm."""
        return float("inf") if self.low is None or self.high is None else self.high - self.low


class Option(NamedTuple):
    """One thing that holds, with limits for each size that was open."""

    name: str
    sizes: tuple[Sized, ...]


@in_notebooks
class Options(NamedTuple):
    """What a field of a feature could be; ``window`` is that of the nearest when nothing holds."""

    feature: str
    field: str
    tried: int
    fitting: int
    found: tuple[Option, ...]
    notes: tuple[str, ...] = ()
    window: Window | None = None


def options(part: Part, name: str) -> Options:
    """Everything a feature's chosen field could be that holds, the most room first.

    Args:
        part: the part; the chosen field and the sizes to be given may be "?".
        name: the feature.

    Raises:
        InputError: another field is open, or the feature has nothing to choose.
    """
    feature = part.features[name]
    kind = type(feature)
    if not kind.chosen:
        raise InputError(Fault("this feature has nothing to choose", got=name))
    if refused := refusals(part, name):
        return Options(name, kind.chosen, 0, 0, (), refused)
    sizes = _asked(feature)
    mark = declared(kind)[kind.chosen]
    candidates = list(mark.others())
    _others_decided(part, name, (kind.chosen, *sizes))
    tried = sorted(_nominally(part, name, candidates, sizes), key=lambda one: -one[0])
    fitting = [one for one in tried if one[0] > 0]
    found: list[Option] = []
    for _, label, changed in fitting:
        if len(found) < SHOWN and (option := _sized(changed, name, label, sizes)) is not None:
            found.append(option)
    found.sort(key=lambda one: -one.sizes[0].room)
    nearest = None
    if not found and tried:
        _, label, changed = tried[0]
        nearest = window(changed, f"{name}.{sizes[0]}")
    return Options(
        name,
        kind.chosen,
        len(candidates),
        len(fitting),
        tuple(found),
        _notes(fitting, found, tried, nearest),
        nearest,
    )


def _asked(feature: Feature) -> tuple[str, ...]:
    """The sizes to give limits of: those left open, else the first that was given."""
    given = [one for one in type(feature).sized_by if getattr(feature, one) is not None]
    left = [one for one in given if isinstance(getattr(feature, one), Undecided)]
    return tuple(left or given[:1])


def _others_decided(part: Part, name: str, mine: tuple[str, ...]) -> None:
    """Refuse fields left open beyond those that are asked about."""
    feature = part.features[name]
    closed = {field: None for field in mine if isinstance(getattr(feature, field), Undecided)}
    rest = feature.model_copy(update=closed)
    undecided(replace(part, features={**part.features, name: rest}))


def _opened(part: Part, name: str, field: str) -> Part:
    feature = part.features[name]
    changed = feature.model_copy(update={field: Undecided()})
    return replace(part, features={**part.features, name: changed})


def _nominally(
    part: Part, name: str, candidates: list[tuple[str, Any]], sizes: tuple[str, ...]
) -> Iterator[tuple[float, str, Part]]:
    """Each candidate that can be put in at all, with how well its rules hold at nominal sizes.

    Above 0: at how many points all hold; else below by the least number of rules that don't.
    """
    for label, value in candidates:
        changed = with_field(part, name, type(part.features[name]).chosen, value)
        likely = _likely(changed, name, sizes)
        if likely is None or likely.features[name].faults():
            continue
        target = target_of(_opened(likely, name, sizes[0]), f"{name}.{sizes[0]}")
        yield _held_at_nominal(likely, name, target), label, likely


def _likely(part: Part, name: str, sizes: tuple[str, ...]) -> Part | None:
    """Open sizes put where they are likely to be; None where there is no room for one."""
    for field in sizes:
        near = part.features[name].near(field)
        if near is None or near <= 0.0:
            return None
        part = with_field(part, name, field, Limits(near, near, near, sources=(ADVICE,)))
    return part


def _held_at_nominal(part: Part, name: str, target: Target) -> float:
    feature = part.features[name]
    states = part.columns(name)
    corners = {key: _middle(one.levels) for key, one in relevant(part, name).items() if key != target.key}
    evaluation: Evaluation = swept(part, name, target, points_of(target), corners)
    broken = [
        (~held(feature, rule, evaluation)).reshape(-1, len(states.names)).any(axis=-1)
        for rule in type(feature).rules
        if rule.asked(feature, states)
    ]
    failing = sum(one.astype(int) for one in broken) + np.zeros(1, dtype=int)
    best = int(failing.min())
    # Fewer rules in the way come first, then more room between them.
    return float(np.count_nonzero(failing == best)) - best * len(failing)


def _middle(at: tuple[float, ...]) -> Array:
    return np.array([[sum(at) / len(at)]])


def _sized(part: Part, name: str, label: str, sizes: tuple[str, ...]) -> Option | None:
    """Limits for each size in turn, each put in before the next; proved by a check."""
    found = []
    for field in sizes:
        swept_window = window(part, f"{name}.{field}", ways_out=False)
        widest = max(swept_window.intervals, key=lambda one: one.high.at - one.low.at, default=None)
        if widest is None:
            return None
        low, high = _rounded(widest.low.at, widest.high.at)
        if high <= low:
            return None
        ends = [low if widest.low.rule else None, high if widest.high.rule else None]
        found.append(Sized(field, *ends))
        mark = declared(type(part.features[name]))[field]
        part = with_field(part, name, field, _limits(*_closed(low, high, ends), mark))
    answered = next(one for one in check(part).features if one.name == name)
    return Option(label, tuple(found)) if answered.verdict == PASS else None


def _closed(low: float, high: float, ends: list[float | None]) -> tuple[float, float]:
    """Limits to go on with where no rule sets an end: a usual tolerance beside the one that is set."""
    if ends[1] is None:
        return low, min(high, low * (1.0 + OPEN_SHARE))
    return (max(low, high * (1.0 - OPEN_SHARE)) if ends[0] is None else low), high


def _limits(low: float, high: float, mark: Field) -> Limits:
    return Limits(low, high, None, mark.side, sources=(ADVICE,))


def _rounded(low: float, high: float) -> tuple[float, float]:
    """Ends rounded into the window."""
    return float(np.ceil(low / STEP - 1e-6) * STEP), float(np.floor(high / STEP + 1e-6) * STEP)


def _notes(
    fitting: list[tuple[float, str, Part]],
    found: list[Option],
    tried: list[tuple[float, str, Part]],
    nearest: Window | None,
) -> tuple[str, ...]:
    if found:
        rest = len(fitting) - len(found)
        but = "" if len(found) == SHOWN else ", but not over their tolerances"
        return (f"{rest} more hold at nominal sizes{but}",) if rest > 0 else ()
    if nearest is None:
        return ("none of the table can be put in at all",)
    return (f"the nearest is {tried[0][1]}; why it does not hold stands below",)
