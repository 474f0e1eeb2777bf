"""Parts of which the same dimensions were read, judged together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

import numpy as np

from fits.arrays import Array, Index, Mask
from fits.features.part import Part
from fits.questions import judgement as say
from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED
from fits.questions.boxes import Boxes, Corners, Sizes, Worst, any_of
from fits.questions.cuts import cuts_of
from fits.questions.judgement import Cut, PartJudgement, RuleJudgement, SizeJudgement
from fits.questions.measured import Measured
from fits.sizes.reading import Guarded

# Parts whose worst corners stand for those of all while something is searched; proved at all.
PROBES = 64
HALVINGS = 14


class Group:
    """Parts of which the same dimensions were read: arrays by key, shape (parts,)."""

    def __init__(self, part: Part, sizes: list[list[Measured]]) -> None:
        self.part, self.sizes = part, sizes
        self.dimensions = [one.dimension for one in sizes[0]]
        self.keys = [one.key for one in self.dimensions]
        self.boxes = Boxes(part, self.keys)
        columns = list(zip(*sizes, strict=True))
        self.least = self._arrays(columns, "least")
        self.greatest = self._arrays(columns, "greatest")
        self.doubt = self._arrays(columns, "uncertainty")
        self.active: Corners = {}
        self.left_open: set[int] = set()

    def _arrays(self, columns: list[tuple[Measured, ...]], name: str) -> dict[str, Array]:
        return {
            key: np.array([getattr(one, name) for one in column])
            for key, column in zip(self.keys, columns, strict=True)
        }

    def box(self, rows: Index, share: Array | float = 1.0) -> tuple[Sizes, Sizes]:
        """The sizes of some parts with a share of their doubt at both ends."""
        low = {key: self.least[key][rows] - share * self.doubt[key][rows] for key in self.keys}
        high = {key: self.greatest[key][rows] + share * self.doubt[key][rows] for key in self.keys}
        return low, high

    def judged(self, names: Sequence[str]) -> Iterator[PartJudgement]:
        """The judgement of each part of the group."""
        every = np.arange(len(self.sizes))
        guards = [[say.guarded(size) for size in one] for one in self.sizes]
        if self.boxes.refused:
            for name, sizes, guarded in zip(names, self.sizes, guards, strict=True):
                kept = tuple(SizeJudgement(s, g) for s, g in zip(sizes, guarded, strict=True))
                yield PartJudgement(
                    name, REFUSED, say.drawing_of(guarded), REFUSED, kept, not_covered=self.boxes.refused
                )
            return
        worst = self.boxes.worst(*self.box(every))
        self.active = self.boxes.setting(*self.box(every[:: len(every) // PROBES + 1]))
        function = self._function(worst, every)
        rooms = self._rooms(worst)
        needs = self._needs(function)
        cuts = cuts_of(self, guards, function)
        for row, name in enumerate(names):
            yield self._one(row, name, guards[row], function[row], worst, rooms, needs[row], cuts[row])

    def _function(self, worst: tuple[Worst, ...], rows: Index) -> list[str]:
        """Function's verdict: fails only if some rule does whatever the true sizes are."""
        fails = any_of([one.fails for one in worst], len(rows))
        unknown = any_of([one.unknown for one in worst], len(rows)) | bool(self.boxes.no_duty)
        found = np.where(fails, say.UNDECIDED, np.where(unknown, NOT_COVERED, PASS)).astype(object)
        some = np.flatnonzero(fails)
        if some.size:
            found[some[self.surely_fails(rows[some], np.ones(some.size))]] = FAIL
        return [str(one) for one in found]

    def surely_fails(self, rows: Index, share: Array, *, only: Corners | None = None) -> Mask:
        """Whether some rule fails wherever in a share of the doubt the true sizes lie."""
        always = np.ones((len(self.boxes.asked), len(rows)), dtype=bool)
        for low, high in self._true(rows, share):
            for index, one in enumerate(self.boxes.worst(low, high, only=only)):
                always[index] &= one.fails
        return np.asarray(always.any(axis=0))

    def _true(self, rows: Index, share: Array) -> Iterator[tuple[Sizes, Sizes]]:
        """Where the true sizes may lie: at every end of a share of the doubt, and in the middle."""
        for signs in (*product((-1.0, 1.0), repeat=len(self.keys)), (0.0,) * len(self.keys)):
            by = {
                key: sign * share * self.doubt[key][rows] for key, sign in zip(self.keys, signs, strict=True)
            }
            yield (
                {key: self.least[key][rows] + by[key] for key in self.keys},
                {key: self.greatest[key][rows] + by[key] for key in self.keys},
            )

    def _needs(self, function: list[str]) -> list[Mapping[str, float] | None]:
        """Uncertainties at which function would be decided, for parts where it isn't.

        Less doubt decides wherever more does, so it is halved; the end is proved at all corners.
        """
        found: list[Mapping[str, float] | None] = [None] * len(function)
        rows = np.array([row for row, one in enumerate(function) if one == say.UNDECIDED], dtype=int)
        if not rows.size:
            return found
        active = self._setting_within(rows[:: len(rows) // PROBES + 1])
        low, high = np.zeros(rows.size), np.ones(rows.size)
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            decided = self._decided(rows, middle, only=active)
            low, high = np.where(decided, middle, low), np.where(decided, high, middle)
        proved = self._decided(rows, low)
        self.left_open = self._left_open(rows, low)
        for row, share, is_so in zip(rows, low, proved, strict=True):
            if is_so:
                found[row] = {one.label: float(share * self.doubt[one.key][row]) for one in self.dimensions}
        return found

    def _left_open(self, rows: Index, share: Array) -> set[int]:
        """Parts of which some rule isn't covered with a share of the doubt either, and none fails."""
        worst = self.boxes.worst(*self.box(rows, share))
        fails, unknown = (
            any_of([getattr(one, of) for one in worst], len(rows)) for of in ("fails", "unknown")
        )
        return set(rows[~fails & (unknown | bool(self.boxes.no_duty))].tolist())

    def _setting_within(self, rows: Index) -> dict[str, set[int]]:
        """The corners that set a worst for some true sizes in the doubt of some parts."""
        found = {name: set(corners) for name, corners in self.active.items()}
        for share in (1.0, 0.5):
            for moved in self._true(rows, np.full(len(rows), share)):
                for name, corners in self.boxes.setting(*moved).items():
                    found[name] |= corners
        return found

    def _decided(self, rows: Index, share: Array, *, only: Corners | None = None) -> Mask:
        """Whether function is decided with a share of each part's doubt."""
        low, high = self.box(rows, share)
        decided = ~any_of([one.fails for one in self.boxes.worst(low, high, only=only)], len(rows))
        some = np.flatnonzero(~decided)
        decided[some] = self.surely_fails(rows[some], share[some], only=only)
        return np.asarray(decided)

    def _rooms(self, worst: tuple[Worst, ...]) -> Array:
        """Each rule's margin as mm of size, shape (rules, parts); infinite where sizes don't move it."""
        slopes = self.boxes.per_mm({one.key: one.limits for one in self.dimensions})
        margin = np.array([one.margin for one in worst]).reshape(len(worst), -1)
        moves = slopes[:, None] > 0.0
        return np.asarray(np.where(moves, margin / np.where(moves, slopes[:, None], 1.0), np.inf))

    def _one(
        self,
        row: int,
        name: str,
        guarded: list[Guarded],
        function: str,
        worst: tuple[Worst, ...],
        rooms: Array,
        needs: Mapping[str, float] | None,
        cuts: list[Cut | None],
    ) -> PartJudgement:
        failing = tuple(
            self._rule(index, row, one, rooms) for index, one in enumerate(worst) if one.fails[row]
        )
        tight = int(rooms[:, row].argmin()) if len(worst) else None
        missing = [
            f"{one.feature}: {one.rule.name}"
            for one, of in zip(self.boxes.asked, worst, strict=True)
            if of.unknown[row] and not of.fails[row]
        ]
        sizes = tuple(
            SizeJudgement(size, guard, cut, say.cant_prove(size))
            for size, guard, cut in zip(self.sizes[row], guarded, cuts, strict=True)
        )
        drawing = say.drawing_of(guarded)
        return PartJudgement(
            name,
            say.verdict_of(drawing, function, sizes),
            drawing,
            function,
            sizes,
            None
            if tight is None or not np.isfinite(rooms[tight, row])
            else self._rule(tight, row, worst[tight], rooms),
            failing,
            (*self.boxes.no_duty, *missing),
            needs,
            left_open=row in self.left_open,
            notes=tuple(say.said_of(drawing, function, sizes)),
        )

    def _rule(self, index: int, row: int, of: Worst, rooms: Array) -> RuleJudgement:
        asked, value = self.boxes.asked[index], self.boxes.value(index)
        margin, room = float(of.margin[row]), float(rooms[index, row])
        return RuleJudgement(
            asked.feature,
            asked.rule.name,
            self.boxes.state(index, int(of.column[row])),
            margin if np.isfinite(margin) else None,
            value.kind,
            value.digits,
            room if np.isfinite(room) else None,
        )
