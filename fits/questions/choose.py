"""Which class? Tolerance classes of ISO 286 whose whole zones lie inside the window."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from fits.errors import Fault, InputError
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions.fit_window import FitWindow, fit_window, pair_of, passes
from fits.questions.options import Options, options
from fits.questions.targets import with_field
from fits.questions.window import Window, window
from fits.sizes import iso286
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size

GRADES = ("5", "6", "7", "8", "9", "10", "11")
LETTERS = (*"abcdefgh", "js", *"kmnprstuvxyz", "za", "zb", "zc")
# Classes a shop meets most, and has reamers and bar for (common practice).
USUAL = frozenset(
    {"H6", "H7", "H8", "H9", "G7", "F8", "E9", "JS7", "K7", "N7", "P7", "R7", "S7"}
    | {"h6", "h7", "h9", "g6", "f7", "e8", "d9", "js6", "k6", "m6", "n6", "p6", "r6", "s6", "u6"}
)
SHOWN = 12


class Choice(NamedTuple):
    """A hole and a shaft whose whole zones hold, and how much room is left at both ends, mm."""

    name: str
    hole: Limits | SurfaceRef
    shaft: Limits | SurfaceRef
    low_room: float
    high_room: float


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


def choose(part: Part, name: str, *, hole: str = "", shaft: str = "") -> Choices | Options:
    """Classes whose whole zones fit, widest and most usual first; for a kind that names what is chosen
    (a ring), everything of the table that holds, with limits for the sizes.

    Args:
        part: the part.
        name: the feature.
        hole: the hole as it is: a size, limits, or a class without its size; or "".
        shaft: the shaft as it is, the same.

    Raises:
        InputError: no such pair, both sides fixed, or a fixed side that is no size.
    """
    if name in part.features and type(part.features[name]).chosen:
        if hole or shaft:
            raise InputError(
                Fault("this feature has no hole and shaft to fix", key="--hole" if hole else "--shaft")
            )
        return options(part, name)
    fields = pair_of(part, name)
    if hole and shaft:
        raise InputError(Fault("fix the hole or the shaft, not both", key="--hole"))
    feature = part.features[name]
    for field, text, side in zip(fields, (hole, shaft), ("hole", "shaft"), strict=True):
        if text:
            part = with_field(part, name, field, _fixed(part, name, text, side))
            return _one_side(part, name, free=fields[1] if side == "hole" else fields[0])
        if isinstance(getattr(feature, field), SurfaceRef):
            return _one_side(part, name, free=fields[1] if side == "hole" else fields[0])
    return _both(part, name)


def _fixed(part: Part, name: str, text: str, side: str) -> Limits:
    if text.isalnum() and text[0].isalpha():
        text = f"{_basic(part, name):.6g} mm {text}"
    try:
        return parse_size(text, side=side, units=part.units)
    except InputError as error:
        raise InputError([fault.at(key=f"--{side}") for fault in error.faults]) from None


def _basic(part: Part, name: str) -> float:
    """The basic size of a class: the one on the drawing, else the size to 0.1 mm."""
    members = [getattr(part.features[name], field) for field in pair_of(part, name)]
    for value in members:
        if isinstance(value, SurfaceRef):
            below = part.features[value.feature]
            cut = next(one for one in type(below).surfaces if one.name == value.surface)
            members.insert(0, getattr(below, cut.dimension))
            break
    for value in members:
        if isinstance(value, Limits):
            return value.basic if value.basic is not None else round(value.middle, 1)
    raise InputError(Fault("no size is given to choose a class for", got=name))


def _both(part: Part, name: str) -> Choices:
    found = fit_window(part, name)
    if not found.window.intervals or found.left <= 0.0:
        return Choices(name, found, (), found.notes)
    sign = 1.0 if found.fit == "interference" else -1.0
    eaten = (found.form + found.gauge) / 2.0
    low, high = found.low + eaten, found.high - eaten
    basic = _basic(part, name)
    inside = []
    for hole, shaft in _pairs(basic):
        ends = sorted((sign * (shaft.lower - hole.upper), sign * (shaft.upper - hole.lower)))
        if low <= ends[0] and ends[1] <= high:
            inside.append((hole, shaft, ends[0] - low, high - ends[1]))
    chosen: list[Choice] = []
    for hole, shaft, low_room, high_room in sorted(inside, key=lambda one: _rank(one[0], one[1])):
        if len(chosen) < SHOWN and passes(part, name, hole, shaft):
            chosen.append(Choice(_name(hole, shaft), hole, shaft, low_room, high_room))
    return Choices(name, found, tuple(chosen), found.notes)


def _pairs(basic: float) -> Iterator[tuple[Limits, Limits]]:
    """Hole basis and shaft basis: H with every shaft, h with every hole."""
    holes = dict(_zones(basic, upper=True))
    shafts = dict(_zones(basic, upper=False))
    for grade in GRADES[1:5]:
        for zone in shafts.values():
            if f"H{grade}" in holes:
                yield holes[f"H{grade}"], zone
    for grade in GRADES[:5]:
        for name, zone in holes.items():
            if f"h{grade}" in shafts and not name.startswith("H"):
                yield zone, shafts[f"h{grade}"]


def _zones(basic: float, *, upper: bool) -> Iterator[tuple[str, Limits]]:
    for letter in LETTERS:
        for grade in GRADES:
            name = letter.upper() if upper else letter
            try:
                yield f"{name}{grade}", iso286.limits(basic, name, grade)
            except InputError:
                continue


def _class(zone: Limits) -> str:
    return zone.text.rsplit(" ", 1)[-1]


def _name(hole: Limits, shaft: Limits) -> str:
    return f"{hole.text}/{_class(shaft)}"


def _rank(hole: Limits, shaft: Limits) -> tuple[float, int, str]:
    """Widest first; of the same width the one with the most usual classes."""
    usual = sum(_class(zone) in USUAL for zone in (hole, shaft))
    return (-round(hole.tolerance + shaft.tolerance, 6), -usual, _name(hole, shaft))


def _rank_one(zone: Limits) -> tuple[float, bool]:
    return (-zone.tolerance, _class(zone) not in USUAL)


def _one_side(part: Part, name: str, *, free: str) -> Choices:
    """The other side is what it is: classes of the free one whose zones lie in its window."""
    fields = pair_of(part, name)
    found = window(part, f"{name}.{free}")
    feature = part.features[name]
    other = getattr(feature, fields[0] if free == fields[1] else fields[1])
    if not found.intervals:
        return Choices(name, found, (), _too_wide(part, name, free, other))
    upper = free == fields[0]
    basic = _basic(part, name)
    inside = []
    for _, zone in _zones(basic, upper=upper):
        for interval in found.intervals:
            if interval.low.at <= zone.lower and zone.upper <= interval.high.at:
                inside.append((zone, zone.lower - interval.low.at, interval.high.at - zone.upper))
    ranked = []
    for zone, low_room, high_room in sorted(inside, key=lambda one: _rank_one(one[0])):
        hole, shaft = (zone, other) if upper else (other, zone)
        ranked.append(Choice(zone.text, hole, shaft, low_room, high_room))
    notes = () if ranked else ("no class of ISO 286 lies inside the window; cut to the window's own limits",)
    return Choices(name, found, tuple(ranked[:SHOWN]), notes)


def _too_wide(part: Part, name: str, free: str, other: object) -> tuple[str, ...]:
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
