"""All rules along one swept number: where each holds alone, edges refined together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from fits.arrays import Array, Mask
from fits.features.feature import Rule
from fits.features.part import Part
from fits.questions.evaluate import Evaluation, blocks, corners_of, count_of, key_of, relevant
from fits.questions.judging import blocking, breaking, held, margins
from fits.questions.ranges import column_name
from fits.questions.targets import Target, points_of, swept, swept_states

ZOOM = 6
Span = tuple[float, float]
# A rule, a point where it holds and one beside it where it doesn't.
Bracket = tuple[int, float, float]


class Asked(NamedTuple):
    """One rule of one feature in one of its columns."""

    feature: str
    rule: Rule
    column: int
    state: str


class Scan:
    """All rules of the features that a number touches, judged along it.

    Scanning uses only the corners that ever set a worst; an edge found with them is tried
    at all corners, and the corner that breaks it joins. A quick scan leaves that out: it
    tells which changes are worth a whole one.
    """

    def __init__(self, part: Part, target: Target, *, quick: bool = False) -> None:
        self.part, self.target, self.quick = part, target, quick
        self.all = {name: self._corners(name) for name in target.features}
        self.rules = tuple(self._asked())
        self.taken = {name: self._worst_corners(name) for name in target.features}
        self._beyond: dict[tuple[str, float], Evaluation] = {}

    def _corners(self, name: str) -> dict[str, Array]:
        found = relevant(self.part, name)
        if self.target.state:
            # A swept state may be the only one with pressure, or warm: then its share makes corners too.
            states = swept_states(self.part, name, self.target, np.array([[[self.target.far]]]))
            for dimension in self.part.features[name].dimensions(states):
                found.setdefault(key_of(name, dimension), dimension)
                if len(dimension.levels) > 1:
                    found[key_of(name, dimension)] = dimension
        return corners_of(found, [self.target.key])

    def _asked(self) -> list[Asked]:
        found = []
        probe = np.array([self.target.present if self.target.present is not None else self.target.centre])
        if self.target.state:
            # What is asked under pressure, at speed or of hot parts only is asked where it may be so.
            probe = np.maximum(probe, self.target.far)
        for name in self.target.features:
            feature = self.part.features[name]
            corners = {key: one[:1] for key, one in self.all[name].items()}
            evaluation = swept(self.part, name, self.target, probe, corners)
            values = {value.name: value for value in type(feature).values}
            for rule in type(feature).rules:
                if not rule.asked(feature, evaluation.states):
                    continue
                columns = np.atleast_2d(margins(feature, rule, evaluation).columns).any(axis=0)
                columns = columns.reshape(-1, columns.shape[-1]).any(axis=0)
                names = evaluation.states.names
                found += [
                    Asked(name, rule, int(column), column_name(values[rule.value], names, int(column)))
                    for column in np.flatnonzero(columns)
                ]
        return found

    def active(self) -> dict[str, dict[str, Array]]:
        """The corners of each feature that are scanned."""
        return self._chosen(self.taken)

    def _chosen(self, corners: dict[str, set[int]]) -> dict[str, dict[str, Array]]:
        """Corners by number, without the features of which there are none."""
        return {
            name: {key: one[sorted(chosen)] for key, one in self.all[name].items()}
            for name, chosen in corners.items()
            if chosen
        }

    def _worst_corners(self, name: str) -> set[int]:
        """The corners that are the worst of any rule at some of a few points."""
        target, feature = self.target, self.part.features[name]
        near = points_of(target)
        points = near[:: max(len(near) // (6 if self.quick else 16), 1)]
        keep: set[int] = {0}
        evaluation = swept(self.part, name, target, points, self.all[name])
        for rule in {one.rule.name: one.rule for one in self.rules if one.feature == name}.values():
            of = margins(feature, rule, evaluation).margin
            worst = np.where(np.isfinite(of), of, np.inf).argmin(axis=-2)
            keep |= set(worst.reshape(-1).tolist())
        return keep

    def held(self, points: Array, corners: dict[str, dict[str, Array]]) -> Mask:
        """Whether each rule (columns) holds at each point (rows), at some corners of some features."""
        found = np.ones((len(points), len(self.rules)), dtype=bool)
        for name, chosen in corners.items():
            mine = self._rules_of(name)
            found[:, mine] = self.held_of(name, points, mine, chosen)
        return found

    def _rules_of(self, name: str) -> list[int]:
        """The rules of one feature, by number."""
        return [index for index, one in enumerate(self.rules) if one.feature == name]

    def _along(
        self, name: str, points: Array, corners: dict[str, Array]
    ) -> Iterator[tuple[slice, Evaluation]]:
        """A feature at some corners along points, in blocks that stay in the cache."""
        for span in blocks(len(points), count_of(corners) * 8):
            yield span, swept(self.part, name, self.target, points[span], corners)

    def held_of(self, name: str, points: Array, mine: list[int], corners: dict[str, Array]) -> Mask:
        """The same for some rules of one feature."""
        feature = self.part.features[name]
        found = np.empty((len(points), len(mine)), dtype=bool)
        for span, evaluation in self._along(name, points, corners):
            shape = (len(points[span]), len(evaluation.states.names))
            judged: dict[str, Mask] = {}
            for place, index in enumerate(mine):
                rule = self.rules[index].rule
                if rule.name not in judged:
                    judged[rule.name] = np.broadcast_to(_flat(held(feature, rule, evaluation)), shape)
                found[span, place] = judged[rule.name][:, self.rules[index].column]
        return found

    def intervals(self) -> list[list[Span]]:
        """For each rule, the intervals in which it alone holds, edges refined."""
        points = points_of(self.target)
        holds = self.held(points, self.active())
        # Edges found, and points that all corners were tried at: corners that join change neither.
        known: dict[Bracket, float] = {}
        tried: set[float] = set()
        found = self._refined(points, holds, known)
        while not self.quick and any((joined := self._breaking_corners(found, known, tried)).values()):
            for name, corners in joined.items():
                self.taken[name] |= corners
            holds &= self.held(points, self._chosen(joined))
            found = self._refined(points, holds, known)
        return found

    def _refined(self, points: Array, holds: Mask, known: dict[Bracket, float]) -> list[list[Span]]:
        """The intervals with the corners taken so far; edges come from ``known``, or join it."""
        brackets: list[Bracket] = []
        places: list[list[list[int | float]]] = []
        for index in range(len(self.rules)):
            runs: list[list[int | float]] = []
            for first, last in _runs(holds[:, index]):
                ends: list[int | float] = [float(points[first]), float(points[last])]
                for side, (inside, outside) in enumerate(((first, first - 1), (last, last + 1))):
                    if 0 <= outside < len(points):
                        ends[side] = len(brackets)
                        brackets.append((index, float(points[inside]), float(points[outside])))
                runs.append(ends)
            places.append(runs)
        new = [one for one in dict.fromkeys(brackets) if one not in known]
        known.update(zip(new, self._edges(new), strict=True))
        return [
            [tuple(known[brackets[end]] if isinstance(end, int) else end for end in run) for run in runs]  # type: ignore[misc]
            for runs in places
        ]

    def _edges(self, brackets: list[Bracket]) -> list[float]:
        """Every edge of a feature at once, from the side that holds, to the target's tolerance."""
        rules = np.array([one[0] for one in brackets], dtype=int)
        inside = np.array([one[1] for one in brackets])
        outside = np.array([one[2] for one in brackets])
        tolerance = self.target.tolerance * (10.0 if self.quick else 1.0)
        active = self.active()
        for name in self.target.features:
            of_feature = np.array([self.rules[rule].feature == name for rule in rules], dtype=bool)
            while (left := np.flatnonzero(of_feature & (np.abs(outside - inside) > tolerance))).size:
                share = np.linspace(0.0, 1.0, ZOOM)[:, None]
                points = inside[left] + share * (outside[left] - inside[left])
                mine, which = np.unique(rules[left], return_inverse=True)
                # Both ends are known: one holds, the other doesn't.
                between, back = np.unique(points[1:-1], return_inverse=True)
                holds = self.held_of(name, between, mine.tolist(), active[name])[
                    back.reshape(ZOOM - 2, len(left))
                ]
                column = np.arange(len(left))
                alone = np.ones((ZOOM, len(left)), dtype=bool)
                alone[1:-1], alone[-1] = holds[:, column, which], False
                first_not = alone.argmin(axis=0)
                inside[left], outside[left] = points[first_not - 1, column], points[first_not, column]
        return [float(one) for one in inside]

    def _breaking_corners(
        self, found: list[list[Span]], known: dict[Bracket, float], tried: set[float]
    ) -> dict[str, set[int]]:
        """Every edge tried at all corners: those that break one, by feature; it leaves ``known``."""
        joined: dict[str, set[int]] = {name: set() for name in self.target.features}
        points = np.array(sorted({end for runs in found for span in runs for end in span} - tried))
        if not len(points):
            return joined
        whole = np.ones(len(points), dtype=bool)
        for name, corners in self.all.items():
            feature, taken = self.part.features[name], sorted(self.taken[name])
            for span, evaluation in self._along(name, points, corners):
                shape = (len(points[span]), count_of(corners))
                judged: dict[str, Mask] = {}
                for index in self._rules_of(name):
                    rule = self.rules[index].rule
                    if rule.name not in judged:
                        judged[rule.name] = breaking(feature, rule, evaluation)
                    broken = np.broadcast_to(judged[rule.name][..., self.rules[index].column], shape)
                    wrong = broken.any(axis=-1) & ~broken[:, taken].any(axis=-1)
                    if not wrong.any():
                        continue
                    whole[span] &= ~wrong
                    # One a point will do: what another corner adds the next round finds.
                    joined[name] |= set(broken.argmax(axis=-1)[wrong].tolist())
                    for bracket in [bracket for bracket in known if bracket[0] == index]:
                        del known[bracket]
        tried |= set(points[whole].tolist())
        return joined

    def beyond(self, rule: Asked, point: float) -> tuple[float | None, float | None, dict[str, float]]:
        """Value and limit of a rule at its worst corner at a point, and that corner."""
        feature = self.part.features[rule.feature]
        key = (rule.feature, point)
        if key not in self._beyond:
            self._beyond[key] = swept(
                self.part, rule.feature, self.target, np.array([point]), self.all[rule.feature]
            )
        evaluation = self._beyond[key]
        of = margins(feature, rule.rule, evaluation)
        flat = np.broadcast_to(of.margin, np.broadcast_shapes(of.margin.shape, of.value.shape))
        flat = flat.reshape(-1, flat.shape[-1])[:, rule.column]
        at = int(np.where(np.isfinite(flat), flat, np.inf).argmin())
        numbers = []
        for array in (of.value, of.limit):
            column = array.reshape(-1, array.shape[-1])[:, rule.column]
            number = float(column[at % len(column)])
            numbers.append(number if np.isfinite(number) else None)
        corner = {key: float(one[at % len(one), 0]) for key, one in evaluation.corners.items()}
        return numbers[0], numbers[1], corner

    def why_not_covered(self, rule: Asked) -> str:
        """Why a rule that never holds isn't covered, or an empty text when it just fails."""
        target = self.target
        # Where it holds at a point, that is a point alone: what is beside it tells.
        if target.present is not None and (here := self._lacking(rule, target.present)) is not None:
            return here
        found = (self._lacking(rule, at) for at in (target.centre, target.low, target.high))
        told = next((one for one in found if one is not None), "")
        return f"{told}; it holds at what is typed alone" if told and target.present is not None else told

    def _lacking(self, rule: Asked, at: float) -> str | None:
        """Why a rule isn't covered at a point; empty where it just fails, None where it holds."""
        feature = self.part.features[rule.feature]
        evaluation = swept(self.part, rule.feature, self.target, np.array([at]), self.active()[rule.feature])
        if not rule.rule.asked(feature, evaluation.states):
            return None
        of = margins(feature, rule.rule, evaluation)
        failing = (of.failing & np.isfinite(of.margin))[..., rule.column].any()
        reasons = [
            gap.reason
            for gap in blocking(type(feature), rule.rule, evaluation)
            if np.broadcast_to(gap.mask, np.broadcast_shapes(gap.mask.shape, of.margin.shape))[
                ..., rule.column
            ].any()
        ]
        if failing:
            return ""
        return "; ".join(dict.fromkeys(reasons)) or None


def _flat(mask: Mask) -> Mask:
    """By lead and column: a corner axis of one is dropped."""
    return mask.reshape(-1, mask.shape[-1]) if mask.ndim > 1 else mask[None, :]


def _runs(holds: Mask) -> list[tuple[int, int]]:
    """First and last index of each run of True."""
    padded = np.concatenate(([False], holds, [False]))
    turns = np.flatnonzero(padded[1:] != padded[:-1])
    return [(int(a), int(b) - 1) for a, b in zip(turns[::2], turns[1::2], strict=True)]
