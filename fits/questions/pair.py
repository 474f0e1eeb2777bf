"""Which goes with which: measured holes to measured shafts.

A pair may be made when every rule holds in every state with both sizes anywhere in their
doubt. Margins of different rules are compared as room: how far, in mm of fit, the sizes
are from where the first rule breaks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from fits.arrays import Array, Index, Mask, Whole
from fits.errors import Fault, InputError, meant
from fits.features.part import Part
from fits.questions.assignment import best
from fits.questions.boxes import Boxes, Corners, Sizes
from fits.questions.check import rests_on, undecided
from fits.questions.evaluate import BLOCK, count_of
from fits.questions.judgement import guarded
from fits.questions.mates import members, wanted
from fits.questions.measured import (
    Dimension,
    Measured,
    Parts,
    as_read,
    cautions_of,
    measured,
    sources_of,
    unseen,
    with_sizes,
)
from fits.questions.pairing import Left, Off, Pair, Pairing
from fits.questions.telling import tell
from fits.sizes.limits import Limits
from fits.sizes.reading import OUTSIDE, UNDECIDED, Reading

# Parts left over of which the size that would pair them is worked out one by one.
EXPLAINED = 20
PROBES = 5
# Pairs weighed at once: some minutes, and a few hundred megabytes.
MOST = 4_000_000
SCORED = 0.9


def pair(
    part: Part,
    readings: Iterable[Reading],
    *,
    feature: str = "",
    left_out: Iterable[str] = (),
    bad: dict[str, list[Fault]] | None = None,
) -> Pairing:
    """Pair measured holes with measured shafts.

    Args:
        part: the part file that they were cut to.
        readings: of the holes and of the shafts, each part under its own name.
        feature: the feature whose hole and shaft they are, where more than one could be meant.
        left_out: parts that were left out because a row of them is bad.
        bad: where parts with a reading that can't be are to be left out as well, takes what is
            wrong by part.

    Raises:
        InputError: readings that don't belong to the part, no holes or no shafts, too many.

    >>> from fits import Part, Running
    >>> from fits.sizes.reading import Reading
    >>> part = Part("pump", {"plunger": Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01")})
    >>> read = [
    ...     Reading("body 1", "plunger.hole", 12.009, 0.001, "bore gauge", 20.0),
    ...     Reading("rod 7", "plunger.shaft", 11.975, 0.001, "micrometer", 20.0),
    ... ]
    >>> [(one.hole, one.shaft) for one in pair(part, read).pairs]
    [('body 1', 'rod 7')]
    """
    undecided(part)
    readings = tuple(readings)
    parts = measured(part, readings, bad)
    out = tuple(dict.fromkeys((*left_out, *(bad or ()))))
    fit = feature_of(part, parts, feature)
    table = Table(as_read(part, {label for one in parts.values() for label in one}), fit, parts)
    return table.pairing(readings, out)


def feature_of(part: Part, parts: Parts, asked: str = "") -> tuple[str, str, str]:
    """The feature of which holes and shafts were read, and the two as they are cut.

    Raises:
        InputError: there is none, or more than one and none was asked for.
    """
    read = {label for one in parts.values() for label in one}
    pairs = {name: found for name in part.features if (found := members(part, name))}
    if asked and asked not in pairs:
        hint = meant(asked, pairs) or f"pairs: {', '.join(pairs) or 'none'}"
        raise InputError(Fault("no such feature with hole and shaft", asked, "--feature", hint=hint))
    both = [name for name, labels in pairs.items() if set(labels) <= read and asked in ("", name)]
    if len(both) == 1:
        return (both[0], *pairs[both[0]])
    if both:
        hint = f"say which: {' or '.join(f'--feature {name}' for name in both)}"
        raise InputError(Fault(f"holes and shafts of {len(both)} features were read", hint=hint))
    if not pairs:
        hint = "fits judge takes its readings, size by size"
        raise InputError(Fault("no feature of this part is a hole and a shaft to be paired", hint=hint))
    hint = "; ".join(
        f"{name} pairs {hole} with {shaft}" for name, (hole, shaft) in pairs.items() if asked in ("", name)
    )
    raise InputError(Fault("no readings of both holes and shafts of one feature", hint=hint))


class Table:
    """Holes by shafts of one feature, their sizes as arrays."""

    def __init__(self, part: Part, pair_of: tuple[str, str, str], parts: Parts) -> None:
        self.part, self.parts = part, parts
        self.name, self.hole, self.shaft = pair_of
        self.holes = [who for who, sizes in parts.items() if self.hole in sizes]
        self.shafts = [who for who, sizes in parts.items() if self.shaft in sizes]
        both = [who for who in self.holes if self.shaft in parts[who]]
        if both:
            place = parts[both[0]][self.shaft].place
            hint = "hole and shaft are two parts: give each its own name"
            raise InputError(
                Fault(f"{self.hole} and {self.shaft} were read of it", both[0], "part", place, hint)
            )
        count = len(self.holes) * len(self.shafts)
        if count > MOST:
            must = f"{len(self.holes):,} holes and {len(self.shafts):,} shafts make {count:,} pairs"
            hint = f"at most {MOST:,} can be weighed at once: pair them in lots"
            raise InputError(Fault(f"{must}, too many", hint=hint))
        self.dimensions = self._dimensions()
        self.boxes = Boxes(part, self.dimensions)
        fitted = [parts[self.holes[0]][self.hole].dimension, parts[self.shafts[0]][self.shaft].dimension]
        drawing: dict[str, Limits] = {key: one.limits for key, one in self.dimensions.items()}
        self.slopes = self.boxes.per_mm(drawing, [one.key for one in fitted])
        self.low, self.high = self._ends()
        self._related()

    def _dimensions(self) -> dict[str, Dimension]:
        """What was read of the holes' or the shafts' parts, by key; each goes with one of them."""
        found: dict[str, Dimension] = {}
        owner: dict[str, str] = {}
        for side, names in (("hole", self.holes), ("shaft", self.shafts)):
            for who in names:
                for label, one in self.parts[who].items():
                    key = one.dimension.key
                    if owner.setdefault(key, side) != side:
                        must = f"{label} was read of a part with a hole and of one with a shaft"
                        raise InputError(Fault(must, who, "part", one.place))
                    found[key] = one.dimension
        self.owner = owner
        return found

    def _ends(self) -> tuple[Sizes, Sizes]:
        """Least and greatest of every size with its doubt, by part; the drawing's where not read."""
        low: dict[str, Array] = {}
        high: dict[str, Array] = {}
        for key, of in self.dimensions.items():
            names = self.holes if self.owner[key] == "hole" else self.shafts
            sizes = [self.parts[who].get(of.label) for who in names]
            low[key] = np.array(
                [of.limits.lower if one is None else one.least - one.uncertainty for one in sizes]
            )
            high[key] = np.array(
                [of.limits.upper if one is None else one.greatest + one.uncertainty for one in sizes]
            )
        return low, high

    def _related(self) -> None:
        """Refuse sizes of two parts that can't go together in any way (a bore wider than its shaft)."""
        for name in self.boxes.features:
            for relation in type(self.part.features[name]).relations:
                keys = {of.field: key for key, of in self.dimensions.items() if of.feature == name}
                small, large = keys.get(relation.smaller), keys.get(relation.larger)
                if small and large and self.high[small].max() >= self.low[large].min():
                    must = f"one was read that does not stay below {relation.larger}: {relation.why}"
                    raise InputError(Fault(must, key=f"{name}.{relation.smaller}"))

    def box(self, rows: Index, columns: Index) -> tuple[Sizes, Sizes]:
        """The boxes of some pairs of hole (row) and shaft (column)."""
        at = {key: rows if side == "hole" else columns for key, side in self.owner.items()}
        low, high = ({key: ends[key][i] for key, i in at.items()} for ends in (self.low, self.high))
        return low, high

    def pairing(self, readings: tuple[Reading, ...], left_out: tuple[str, ...] = ()) -> Pairing:
        """The assignment, what is left, and the notes."""
        fit = type(self.part.features[self.name]).fit
        if self.boxes.refused:
            none = Pairing(self.name, fit, self.hole, self.shaft, (), (), refused=self.boxes.refused)
            return none._replace(left_out=left_out)
        chosen, allowed = self._assigned()
        pairs = self._pairs(chosen, fit)
        left = tuple(self._left(chosen, allowed))
        missing = () if allowed.any() else tuple(self._not_covered())
        notes = tuple(self._notes(readings, pairs, left, left_out))
        features = self.boxes.features
        return Pairing(
            self.name,
            fit,
            self.hole,
            self.shaft,
            pairs,
            left,
            notes,
            missing,
            cautions=cautions_of(self.part, features),
            sources=sources_of(self.part, features),
            left_out=left_out,
            rests_on=rests_on(self.part, features),
        )

    def _assigned(self) -> tuple[list[tuple[int, int]], Mask]:
        """The best pairs, proved at every corner, and which pairs could be made.

        Scored at the corners that set a worst; a chosen pair that is worse at another corner
        takes that corner in and all is scored again. Scores at fewer corners are never too
        low, so that a choice that keeps its scores at all corners is the best there is.
        """
        active = self.boxes.setting(*self.box(*self._probes()))
        avoid = self._avoid()
        while True:
            score, allowed = self._scores(active)
            chosen = best(score, allowed, avoid)
            if not chosen:
                return [], allowed
            rows, columns = (np.array(one) for one in zip(*chosen, strict=True))
            low, high = self.box(rows, columns)
            exact, holds = self._scored(low, high, None)
            same = holds & (np.abs(exact - score[rows, columns]) <= 1e-12)
            if same.all():
                return chosen, allowed
            before = {name: len(corners) for name, corners in active.items()}
            for name, corners in self.boxes.setting(low, high).items():
                active[name] |= corners
            if before == {name: len(corners) for name, corners in active.items()}:
                # A rule that isn't covered at a corner sets no worst: look at every corner.
                active = {name: set(range(count_of(self.boxes.corners[name]))) for name in active}

    def _off(self, who: str, verdict: str) -> tuple[Off, ...]:
        """The sizes of a part that have a verdict against the drawing."""
        found = [(size, guarded(size)) for size in self.parts[who].values()]
        return tuple(Off(who, size, of.beyond) for size, of in found if of.verdict == verdict)

    def _avoid(self) -> tuple[Whole, Whole]:
        """What is better avoided: a pair with a part outside its drawing; then the parts that aren't inside.

        Shape (holes, shafts); a part outside counts twice as much as one that isn't proved inside.
        """
        parts = [
            np.array(
                [2 if self._off(who, OUTSIDE) else 1 if self._off(who, UNDECIDED) else 0 for who in names]
            )
            for names in (self.holes, self.shafts)
        ]
        every = parts[0][:, None] + parts[1]
        return (np.maximum(parts[0][:, None], parts[1]) == 2).astype(int), every

    def _probes(self) -> tuple[Index, Index]:
        """Some pairs from the smallest to the largest hole and shaft."""
        ends = []
        for label, names in ((self.hole, self.holes), (self.shaft, self.shafts)):
            order = np.argsort([self.parts[who][label].least for who in names], kind="stable")
            ends.append(order[np.linspace(0, len(order) - 1, min(PROBES, len(order))).astype(int)])
        rows, columns = np.meshgrid(*ends, indexing="ij")
        return rows.reshape(-1), columns.reshape(-1)

    def _scores(self, only: Corners) -> tuple[Array, Mask]:
        """Room of every pair in mm of fit, and which hold: shape (holes, shafts), in blocks."""
        shape = (len(self.holes), len(self.shafts))
        score, allowed = np.zeros(shape[0] * shape[1]), np.zeros(shape[0] * shape[1], dtype=bool)
        for start in range(0, score.size, BLOCK):
            rows, columns = np.divmod(np.arange(start, min(start + BLOCK, score.size)), shape[1])
            low, high = self.box(rows, columns)
            score[start : start + BLOCK], allowed[start : start + BLOCK] = self._scored(low, high, only)
            # The rest is for the assignment.
            tell(SCORED * min((start + BLOCK) / score.size, 1.0))
        return score.reshape(shape), allowed.reshape(shape)

    def _scored(self, low: Sizes, high: Sizes, only: Corners | None) -> tuple[Array, Mask]:
        count = len(next(iter(low.values())))
        room = np.full(count, np.inf)
        bad = np.full(count, bool(self.boxes.no_duty))
        for slope, one in zip(self.slopes, self.boxes.worst(low, high, only=only), strict=True):
            bad |= one.fails | one.unknown
            if slope > 0.0:
                room = np.minimum(room, one.margin / slope)
        return np.where(np.isfinite(room), room, 0.0), ~bad

    def _pairs(self, chosen: list[tuple[int, int]], fit: str) -> tuple[Pair, ...]:
        if not chosen:
            return ()
        rows, columns = (np.array(one) for one in zip(*chosen, strict=True))
        worst = self.boxes.worst(*self.box(rows, columns))
        moves = self.slopes > 0.0
        rooms = np.array([one.margin for one in worst]) / np.where(moves, self.slopes, np.nan)[:, None]
        found = []
        for at, (i, j) in enumerate(chosen):
            hole, shaft = self.parts[self.holes[i]][self.hole], self.parts[self.shafts[j]][self.shaft]
            size = _middle(shaft) - _middle(hole)
            one = Pair(
                self.holes[i],
                self.shafts[j],
                str(at + 1),
                size if fit == "interference" else -size,
                _half(hole) + _half(shaft),
                None,
                outside=(*self._off(self.holes[i], OUTSIDE), *self._off(self.shafts[j], OUTSIDE)),
                unproved=(*self._off(self.holes[i], UNDECIDED), *self._off(self.shafts[j], UNDECIDED)),
            )
            if moves.any():
                index = int(np.nanargmin(rooms[:, at]))
                of, asked, value = worst[index], self.boxes.asked[index], self.boxes.value(index)
                one = one._replace(
                    room=float(rooms[index, at]),
                    feature=asked.feature,
                    rule=asked.rule.name,
                    state=self.boxes.state(index, int(of.column[at])),
                    margin=float(of.margin[at]),
                    kind=value.kind,
                    digits=value.digits,
                )
            found.append(one)
        return tuple(found)

    def _left(self, chosen: list[tuple[int, int]], allowed: Mask) -> Iterator[Left]:
        taken = ({i for i, _ in chosen}, {j for _, j in chosen})
        count = 0
        for axis, (names, own, mate) in enumerate(
            ((self.holes, self.hole, self.shaft), (self.shafts, self.shaft, self.hole))
        ):
            could = np.asarray(allowed.any(axis=1 - axis))
            for at, who in enumerate(names):
                if at in taken[axis]:
                    continue
                size = self.parts[who][own]
                wants = tuple(self._wanted(who, mate)) if count < EXPLAINED else None
                count += 1
                yield Left(who, own, _middle(size), size.uncertainty, bool(could[at]), mate, wants)

    def _wanted(self, who: str, mate: str) -> list[tuple[float, float]]:
        sizes = {
            one.dimension.key: (one.least - one.uncertainty, one.greatest + one.uncertainty)
            for one in self.parts[who].values()
        }
        return wanted(with_sizes(self.part, sizes), mate, list(self.parts[who]))

    def _not_covered(self) -> Iterator[str]:
        """Rules that aren't covered for any pair, when no pair can be made."""
        yield from self.boxes.no_duty
        rows, columns = self._probes()
        for asked, one in zip(self.boxes.asked, self.boxes.worst(*self.box(rows, columns)), strict=True):
            if one.unknown.all() and not one.fails.any():
                yield f"{asked.feature}: {asked.rule.name}"

    def _notes(
        self,
        readings: tuple[Reading, ...],
        pairs: tuple[Pair, ...],
        left: tuple[Left, ...],
        left_out: tuple[str, ...],
    ) -> Iterator[str]:
        if pairs:
            yield "put the mark on both parts of a pair, clear of the fitted faces; pair again after any cut"
        yield "a pair is made only if every rule holds in every state with all of the readings' doubt"
        yield "sizes are free sizes, read before assembly; those not read stand at the drawing's limits"
        if any(one.outside for one in pairs):
            yield (
                "whoever answers for the drawing may release a pair of which a part is outside it, this "
                "tool does not; parts inside their drawings are paired first where as many pairs come of it"
            )
        if left_out:
            yield f"left out and not paired, a row of them is bad: {', '.join(left_out)}"
        others = [who for who in self.parts if who not in {*self.holes, *self.shafts}]
        if others:
            yield f"neither {self.hole} nor {self.shaft} was read of {', '.join(others)}: left out"
        yield from unseen(dict.fromkeys(one.instrument for one in readings))
        if len(left) > EXPLAINED:
            yield f"sizes that would pair what is left are worked out for the first {EXPLAINED}"


def _middle(size: Measured) -> float:
    return (size.least + size.greatest) / 2.0


def _half(size: Measured) -> float:
    return (size.greatest - size.least) / 2.0 + size.uncertainty
