"""Which class? Tolerance classes whose whole zones lie inside the window."""

from __future__ import annotations

from typing import Any, NamedTuple

from fits.errors import Fault, InputError
from fits.features.feature import declared
from fits.features.fields import Size, SurfaceRef
from fits.features.part import Part
from fits.questions.fit_window import FitWindow, fit_window, pair_of, passes
from fits.questions.options import Options, options
from fits.questions.shown import in_notebooks
from fits.questions.targets import with_field
from fits.questions.window import Window, window
from fits.sizes import classes
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size

SHOWN = 12


class Choice(NamedTuple):
    """A hole and a shaft whose whole zones hold, and how much room is left at both ends, mm."""

    name: str
    hole: Limits | SurfaceRef
    shaft: Limits | SurfaceRef
    low_room: float
    high_room: float


@in_notebooks
class Choices(NamedTuple):
    """What can be chosen for a feature, within which window; notes say why there is nothing."""

    feature: str
    window: FitWindow | Window
    found: tuple[Choice, ...]
    notes: tuple[str, ...] = ()

    def frame(self) -> Any:
        """The choices as a pandas table, mm."""
        import pandas as pd

        rows = [
            (one.name, *(end for member in (one.hole, one.shaft) for end in _ends(member)))
            for one in self.found
        ]
        names = ["classes", "hole_min", "hole_max", "shaft_min", "shaft_max"]
        return pd.DataFrame(rows, columns=names)


def _ends(member: Limits | SurfaceRef) -> tuple[float | None, float | None]:
    return (member.lower, member.upper) if isinstance(member, Limits) else (None, None)


def choose(
    part: Part, name: str, *, hole: str = "", shaft: str = "", drawn_in: str = ""
) -> Choices | Options:
    """Classes whose whole zones fit, widest and most usual first; for a kind that names what is chosen
    (a ring), everything of the table that holds, with limits for the sizes.

    Args:
        part: the part.
        name: the feature.
        hole: the hole as it is: a size, limits, or a class without its size; or "".
        shaft: the shaft as it is, the same.
        drawn_in: "mm" or "in", the unit of the sizes on the drawing, which says whose classes
            are offered; empty: the part's.

    Raises:
        InputError: no such pair, both sides fixed, or a fixed side that is no size.

    >>> from fits import Part, Running
    >>> plunger = Running(hole="12 H7", shaft="?", clearance_at_least="0.01", clearance_at_most="0.06")
    >>> len(choose(Part("pump", {"plunger": plunger}), "plunger", hole="12 H7").found) > 0
    True
    """
    if name in part.features and type(part.features[name]).chosen:
        if hole or shaft:
            raise InputError(
                Fault("this feature has no hole and shaft to fix", key="--hole" if hole else "--shaft")
            )
        return options(part, name)
    fields = pair_of(part, name)
    drawn_in = drawn_in or part.units
    if hole and shaft:
        raise InputError(Fault("fix the hole or the shaft, not both", key="--hole"))
    feature = part.features[name]
    for field, text, side in zip(fields, (hole, shaft), ("hole", "shaft"), strict=True):
        if text:
            part = with_field(part, name, field, fixed(part, name, text, side, drawn_in))
            return _one_side(part, name, drawn_in, free=fields[1] if side == "hole" else fields[0])
        if isinstance(getattr(feature, field), SurfaceRef):
            return _one_side(part, name, drawn_in, free=fields[1] if side == "hole" else fields[0])
    return _both(part, name, drawn_in)


def fixed(part: Part, name: str, text: str, side: str, drawn_in: str) -> Limits:
    """A side as it is: a size, limits, or a class without its size."""
    if text.isalnum() and text[0].isalpha():
        text = classes.at_size(_basic(part, name, drawn_in), text)
    try:
        return parse_size(text, side=side, units=part.units)
    except InputError as error:
        raise InputError([fault.at(key=f"--{side}") for fault in error.faults]) from None


def _basic(part: Part, name: str, drawn_in: str) -> float:
    """The basic size of a class, mm: the one on the drawing, else the nearest round size."""
    members = [getattr(part.features[name], field) for field in pair_of(part, name)]
    for value in members:
        if isinstance(value, SurfaceRef):
            below = part.features[value.feature]
            cut = next(one for one in type(below).surfaces if one.name == value.surface)
            members.insert(0, below.number(cut.dimension))
            break
    for value in members:
        if isinstance(value, Limits):
            return classes.basic_size(value, drawn_in)
    raise InputError(Fault("no size is given to choose a class for", got=name))


def _both(part: Part, name: str, drawn_in: str) -> Choices:
    found = fit_window(part, name)
    if not found.window.intervals or found.left <= 0.0:
        return Choices(name, found, (), found.notes)
    sign = 1.0 if found.fit == "interference" else -1.0
    eaten = (found.form + found.gauge) / 2.0
    low, high = found.low + eaten, found.high - eaten
    basic = _basic(part, name, drawn_in)
    inside = []
    for hole, shaft in classes.pairs(basic, drawn_in):
        ends = sorted((sign * (shaft.lower - hole.upper), sign * (shaft.upper - hole.lower)))
        if low <= ends[0] and ends[1] <= high:
            inside.append((hole, shaft, ends[0] - low, high - ends[1]))
    chosen: list[Choice] = []
    for hole, shaft, low_room, high_room in sorted(inside, key=lambda one: _rank(one[0], one[1], drawn_in)):
        if len(chosen) < SHOWN and passes(part, name, hole, shaft):
            chosen.append(Choice(classes.pair_name(hole, shaft), hole, shaft, low_room, high_room))
    return Choices(name, found, tuple(chosen), (*found.notes, *_doubts(chosen)))


def _doubts(chosen: list[Choice]) -> list[str]:
    """What speaks against the numbers of a class, beside it."""
    said = [
        f"{one.name}: doubtful: {source.doubt}"
        for one in chosen
        for member in (one.hole, one.shaft)
        if isinstance(member, Limits)
        for source in member.sources
        if source.doubt
    ]
    return list(dict.fromkeys(said))


def _rank(hole: Limits, shaft: Limits, units: str) -> tuple[bool, float, int, str]:
    """The drawing's own system of units first, then widest, then with the most usual classes."""
    usual = sum(classes.usual(zone) for zone in (hole, shaft))
    width = round(hole.tolerance + shaft.tolerance, 6)
    return (classes.foreign(hole, units), -width, -usual, classes.pair_name(hole, shaft))


def _rank_one(zone: Limits, units: str) -> tuple[bool, float, bool]:
    return (classes.foreign(zone, units), -zone.tolerance, not classes.usual(zone))


def _one_side(part: Part, name: str, drawn_in: str, *, free: str) -> Choices:
    """The other side is what it is: classes of the free one whose zones lie in its window."""
    fields = pair_of(part, name)
    found = window(part, f"{name}.{free}")
    feature = part.features[name]
    other = getattr(feature, fields[0] if free == fields[1] else fields[1])
    if not found.intervals:
        return Choices(name, found, (), too_wide(part, name, free, other))
    upper = free == fields[0]
    basic = _basic(part, name, drawn_in)
    inside = []
    size = declared(type(feature))[free]
    assert isinstance(size, Size)
    for zone in size.classes(basic, drawn_in):
        for interval in found.intervals:
            if interval.low.at <= zone.lower and zone.upper <= interval.high.at:
                inside.append((zone, zone.lower - interval.low.at, interval.high.at - zone.upper))
    ranked = []
    for zone, low_room, high_room in sorted(inside, key=lambda one: _rank_one(one[0], drawn_in)):
        hole, shaft = (zone, other) if upper else (other, zone)
        ranked.append(Choice(zone.text, hole, shaft, low_room, high_room))
    if not ranked:
        return Choices(name, found, (), ("no class lies inside the window; cut to the window's own limits",))
    return Choices(name, found, tuple(ranked[:SHOWN]), tuple(_doubts(ranked[:SHOWN])))


def too_wide(part: Part, name: str, free: str, other: object) -> tuple[str, ...]:
    """Whether the fixed side's own tolerance is what closes the window."""
    if not isinstance(other, Limits) or other.tolerance == 0.0:
        return ()
    fields = pair_of(part, name)
    held = fields[0] if free == fields[1] else fields[1]
    middle = Limits(other.middle, other.middle, other.middle, other.side)
    alone = window(with_field(part, name, held, middle), f"{name}.{free}", ways_out=False)
    if not alone.intervals:
        return ()
    return (
        f"the {held}'s own tolerance closes the window: no size can be given from its nominal. Measure the "
        "part: at both ends and the middle, at four angles each; write down the largest and smallest "
        f"diameter, and ask again with them as the {held}'s limits",
    )
