"""What is said of a measured part: its two verdicts, what is left to cut, what would decide."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from fits.questions.answer import FAIL, NOT_COVERED, PASS, REFUSED, CheckAnswer, Resting
from fits.questions.measured import Measured
from fits.questions.shown import in_notebooks
from fits.sizes import reading as read
from fits.sizes.reading import Guarded, guard_band
from fits.tables import Source

ACCEPT, REWORK, REJECT, UNDECIDED = "accept", "rework", "reject", "undecided"


class Cut(NamedTuple):
    """What is left to cut: the finished sizes that hold, and how much comes off, mm on diameter."""

    low: float
    high: float
    least: float
    most: float


class SizeJudgement(NamedTuple):
    """One measured size against its drawing; ``cut`` where metal is left to bring it there."""

    size: Measured
    guarded: Guarded
    cut: Cut | None = None
    cant_prove: bool = False


class RuleJudgement(NamedTuple):
    """One rule at its worst for one part; ``room`` is the margin as mm of size, where it has one."""

    feature: str
    rule: str
    state: str
    margin: float | None
    kind: str
    digits: int
    room: float | None


class Mate(NamedTuple):
    """The sizes of another dimension at which every rule holds with a part as it was read, mm."""

    dimension: str
    spans: tuple[tuple[float, float], ...]


class PartJudgement(NamedTuple):
    """All that is said of one measured part.

    ``checks`` are rules that don't pass, each with its feature. ``needs`` are the
    uncertainties by dimension below which function would be decided, or, where ``left_open``,
    no rule would fail and some still not be covered. ``tightest`` is the
    rule with the least room, ``failing`` those that fail somewhere in the doubt of the
    readings. ``mates`` are sizes of the other member that would hold.
    """

    part: str
    verdict: str
    drawing: str
    function: str
    sizes: tuple[SizeJudgement, ...]
    tightest: RuleJudgement | None = None
    failing: tuple[RuleJudgement, ...] = ()
    not_covered: tuple[str, ...] = ()
    needs: Mapping[str, float] | None = None
    left_open: bool = False
    checks: tuple[tuple[str, CheckAnswer], ...] = ()
    mates: tuple[Mate, ...] = ()
    notes: tuple[str, ...] = ()


@in_notebooks
class Judged(NamedTuple):
    """The judgement of a table of parts, and what holds for all of it.

    ``counts`` are all parts by verdict. Of a table that came in blocks ``parts`` are those
    to be shown. ``left_out`` is how many parts were left out because a row of them is bad.
    """

    parts: tuple[PartJudgement, ...]
    counts: Mapping[str, int]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    left_out: int = 0
    rests_on: tuple[Resting, ...] = ()

    @property
    def verdict(self) -> str:
        """The verdict of the whole table in the words of a report."""
        if self.count(REFUSED):
            return REFUSED
        if self.count(REJECT) or self.count(REWORK):
            return FAIL
        return NOT_COVERED if self.count(UNDECIDED) or self.left_out else PASS

    @property
    def total(self) -> int:
        """How many parts were judged."""
        return sum(self.counts.values())

    def count(self, verdict: str) -> int:
        """How many parts have a verdict."""
        return self.counts.get(verdict, 0)


def guarded(size: Measured) -> Guarded:
    """A measured size against the limits of its drawing, where it has any."""
    limits = size.dimension.limits
    if limits.tolerance <= 0.0:
        return Guarded(read.NO_LIMITS, 0.0)
    return guard_band(size.least, size.greatest, size.uncertainty, limits.lower, limits.upper)


def cant_prove(size: Measured) -> bool:
    """Whether the doubt leaves no size that could be proved."""
    return 0.0 < size.dimension.limits.tolerance <= 2.0 * size.uncertainty


def drawing_of(guards: list[Guarded]) -> str:
    """The drawing's verdict over all sizes of a part: the worst."""
    found = {one.verdict for one in guards}
    return next(one for one in (read.OUTSIDE, read.UNDECIDED, read.INSIDE, read.NO_LIMITS) if one in found)


def verdict_of(drawing: str, function: str, sizes: tuple[SizeJudgement, ...]) -> str:
    """What to do with the part: both verdicts together."""
    outside = [one for one in sizes if one.guarded.verdict == read.OUTSIDE]
    if outside:
        return REWORK if all(one.cut for one in outside) else REJECT
    if function == FAIL:
        return REWORK if any(one.cut for one in sizes) else REJECT
    return ACCEPT if drawing in (read.INSIDE, read.NO_LIMITS) and function == PASS else UNDECIDED


def said_of(drawing: str, function: str, sizes: tuple[SizeJudgement, ...]) -> Iterator[str]:
    """What must be said beside the verdict, so that nothing passes or fails silently."""
    if drawing == read.OUTSIDE and function == PASS:
        yield (
            "outside its drawing, but it works: every rule holds with the size as it is; whoever "
            "answers for the drawing may release it, this tool does not"
        )
    if drawing == read.UNDECIDED and function == PASS:
        yield "it works either way: every rule holds with all of the doubt"
    if drawing == read.INSIDE and function == FAIL:
        yield "inside its drawing, and a rule fails all the same: the drawing doesn't hold, ask fits check"
    if drawing == read.NO_LIMITS:
        yield "the drawing gives no limits for what was read: judged by function alone"
    if any(one.guarded.verdict == read.OUTSIDE and one.cut is None and metal_left(one) for one in sizes):
        yield "metal is left, but no size inside the drawing can be reached at which every rule holds"


def metal_left(one: SizeJudgement) -> bool:
    """Whether the size is proved to be on the side from which it can be cut, and not on the other."""
    side = {"hole": ("below",), "shaft": ("above",)}.get(one.size.dimension.side, ())
    return bool(side) and one.guarded.beyond == side
