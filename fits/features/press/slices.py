"""A hub of several outsides along its length: each slice by the equations of two rings.

The slices stand on an axis of their own, first of all, while the numbers are computed.
Afterwards forces are sums over it, and every other number is that of the slice that the
dimension ``slice`` names, so that rules judge the worst slice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from fits.arrays import Array
from fits.errors import Fault, InputError, meant
from fits.features.composite import Composite
from fits.features.feature import Dimension, NotCovered, Outcome, States
from fits.features.fields import UNDECIDED, Context, Length, Numeric, Size
from fits.features.parts import share
from fits.sizes.limits import Limits

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Dimensions = Mapping[str, Array]

# More than a hub has; each slice costs as much as a joint.
MOST = 12
# Lengths that differ by less are one length, mm.
_SAME = 1e-6


class Slice(NamedTuple):
    """A stretch of the joint with one outside of the hub."""

    length: Limits
    outside: Limits


class Slices(tuple[Slice, ...]):
    """The slices from one end of the joint to the other; at least one."""

    __slots__ = ()

    @property
    def thinnest(self) -> Limits:
        """The least outside."""
        return min((one.outside for one in self), key=lambda outside: outside.lower)

    @property
    def thickest(self) -> Limits:
        """The greatest outside."""
        return max((one.outside for one in self), key=lambda outside: outside.upper)

    @property
    def length(self) -> Limits:
        """All lengths together."""
        lower, upper, nominal = (
            sum(getattr(one.length, end) for one in self) for end in ("lower", "upper", "nominal")
        )
        return Limits(lower, upper, nominal)


_KEYS: Mapping[str, Numeric] = MappingProxyType(
    {"length": Length("length of the slice"), "outside": Size("outside of the hub there", side="shaft")}
)


class SlicesField(Composite):
    """The slices of a hub; brings ``thinnest`` along, which must leave a wall."""

    made = (Slices,)
    parts = MappingProxyType({"thinnest": Size("outside of the thinnest slice", side="shaft")})
    inline = '[{length = "20", outside = "40 ±0.1"}, {length = "15", outside = "60"}]'

    def sizes(self, value: Any) -> Iterator[tuple[str, Limits, str]]:
        """Length and outside of every slice."""
        for number, one in enumerate(value or (), 1):
            yield f"{number}.length", one.length, ""
            yield f"{number}.outside", one.outside, "shaft"

    def parse(self, value: Any, context: Context) -> Slices:
        """The slices of a list of tables; raises InputError with the number of the slice, from 1."""
        if not isinstance(value, (list, tuple)):
            raise InputError(Fault("a list of tables is due", got=str(value), hint=f"write {self.inline}"))
        if not 1 <= len(value) <= MOST:
            hint = f"write {self.inline}"
            raise InputError(Fault(f"1 to {MOST} slices are due", got=f"{len(value)} slices", hint=hint))
        found, faults = [], []
        for number, keys in enumerate(value, 1):
            try:
                found.append(keys if isinstance(keys, Slice) else _slice(keys, context))
            except InputError as error:
                faults += [replace(one, key=f"{number}.{one.key}".rstrip(".")) for one in error.faults]
        if faults:
            raise InputError(faults)
        return Slices(found)

    def shown(self) -> str:
        """A list."""
        return "LIST"


def _slice(keys: Any, context: Context) -> Slice:
    if not isinstance(keys, Mapping):
        raise InputError(Fault("a table of length and outside is due", got=str(keys)))
    faults = [Fault("unknown key", key=key, hint=meant(key, _KEYS)) for key in keys if key not in _KEYS]
    found: dict[str, Limits] = {}
    for name, of in _KEYS.items():
        if name not in keys:
            faults.append(Fault(f"missing: {of.help}", key=name))
        elif keys[name] == UNDECIDED:
            faults.append(Fault("a slice can't be left open", "?", name))
        elif keys[name] in context.sizes:
            faults.append(Fault("a shared size can't stand in a slice; write its limits", keys[name], name))
        else:
            try:
                found[name] = of.parse(keys[name], context)
            except InputError as error:
                faults += [replace(fault, key=name) for fault in error.faults]
    if not faults and found["length"].lower <= 0.0:
        faults.append(Fault("a slice has a length above 0", str(keys["length"]), "length"))
    if faults:
        raise InputError(faults)
    return Slice(**found)


def one_outside(slices: Slices | None, outside: Limits | None) -> Fault | None:
    """The fault of a hub with no outside, or with one beside those of its slices."""
    if slices is None and outside is None:
        return Fault("missing: outside of the hub", hint="or slices, where it has several along its length")
    if slices is not None and outside is not None:
        return Fault("either hub_outside or slices: each slice has its own outside")
    return None


def length_faults(press: Press) -> Iterator[Fault]:
    """Slices that are not as long as the joint."""
    if not press.slices or not isinstance(press.length, Limits):
        return
    whole, given = press.slices.length, press.length
    apart = given.nominal - whole.nominal
    if abs(apart) > _SAME:
        word = "leave a gap of" if apart > 0.0 else "overlap by"
        hint = f"they add up to {whole.nominal:g} mm; length is {given.nominal:g} mm, or left out"
        yield Fault(f"the slices {word} {abs(apart):.6g} mm", key="slices", hint=hint)
    elif whole.lower > given.lower + _SAME or whole.upper < given.upper - _SAME:
        hint = "give the slices their tolerances, or leave length out"
        spans = f"{whole.lower:g} to {whole.upper:g} mm, length is {given.lower:g} to {given.upper:g} mm"
        yield Fault(f"the slices add up to {spans}", key="length", hint=hint)


def dimensions(slices: Slices | None) -> list[Dimension]:
    """The slice that is judged; one share moves all outsides together, one all lengths."""
    each = slices or Slices()
    count = max(len(each), 1)
    words = tuple(f"{one} of {count}" for one in range(1, count + 1))
    levels = tuple(float(one) for one in range(count))
    return [
        Dimension("slice", "slice", "number", levels, (0.0, count - 1.0), words=words),
        share("slice_outside_share", on=any(one.outside.tolerance > 0.0 for one in each)),
        share("slice_length_share", on=any(one.length.tolerance > 0.0 for one in each)),
    ]


def each_slice(
    press: Press, d: Dimensions, s: States, compute: Callable[[Dimensions, States], Outcome]
) -> Outcome:
    """The numbers of ``compute`` with the slices along a first axis, brought back to one slice.

    Args:
        press: the joint, with slices.
        d: its dimensions.
        s: the states.
        compute: the numbers of a joint whose ``hub_outside`` and ``length`` have that axis.
    """
    slices = press.slices or Slices()
    swept = (s.pressure, s.speed, s.hub_temperature, s.shaft_temperature)
    axes = max(np.ndim(one) for one in (*d.values(), *swept))
    rows = _rows(d, len(slices))
    few = d if rows is None else _taken(d, rows[0])
    outside, length = (
        _along([getattr(one, name) for one in slices], few[f"slice_{name}_share"], axes)
        for name in ("outside", "length")
    )
    outcome = compute({**few, "hub_outside": outside, "length": length}, s)
    # What the workings show of the slice.
    shown = {"hub_outside": outside, "length": length.sum(axis=0, keepdims=True)}
    here = {
        name: _of_slice(array, d["slice"], axes) if rows is None else _put_back(array, rows, axes)
        for name, array in {**outcome.numbers, **shown}.items()
    }
    gaps = []
    for gap in outcome.gaps:
        # What one slice lacks is lacking.
        mask = np.asarray(gap.mask.any(axis=0)) if gap.mask.ndim > axes else gap.mask
        mask = mask if rows is None else _put_back(mask, rows, axes)
        gaps.append(NotCovered(gap.about, gap.reason, mask, gap.sweep, gap.beyond))
    return Outcome({**here, "slice": d["slice"] + 1.0}, tuple(gaps))


def _rows(d: Dimensions, count: int) -> list[NDArray[np.intp]] | None:
    """The corners of each slice, where they differ in nothing else: computed once for all of them."""
    which = d["slice"]
    if len(which) == 1:
        return None
    rows = [np.flatnonzero(np.abs(which[:, 0] - number) < 0.5) for number in range(count)]
    if any(len(one) != len(rows[0]) for one in rows):
        return None
    for name, array in d.items():
        if name != "slice" and array.ndim > 1 and array.shape[-2] == len(which):
            first = array[..., rows[0], :]
            if not all(np.array_equal(array[..., one, :], first) for one in rows[1:]):
                return None
    return rows


def _taken(d: Dimensions, rows: NDArray[np.intp]) -> dict[str, Array]:
    """The dimensions at some of the corners."""
    corners = len(d["slice"])
    return {
        name: array[..., rows, :] if array.ndim > 1 and array.shape[-2] == corners else array
        for name, array in d.items()
    }


def _put_back(array: NDArray[Any], rows: list[NDArray[np.intp]], axes: int) -> NDArray[Any]:
    """A number at the corners of the first slice, or along all slices, at every corner."""
    along = array.ndim > axes
    if not along and (array.ndim < 2 or array.shape[-2] == 1):
        return array
    shape = array.shape[1:] if along else array.shape
    found = np.empty((*shape[:-2], len(rows) * len(rows[0]), shape[-1]), dtype=array.dtype)
    for number, one in enumerate(rows):
        found[..., one, :] = (array[number] if len(array) > 1 else array[0]) if along else array
    return found


def _along(sizes: list[Limits], share: Array, axes: int) -> Array:
    """The sizes of the slices at a share of their tolerances: slices first, then ``axes`` axes."""
    column = (len(sizes), *[1] * axes)
    lower = np.array([one.lower for one in sizes]).reshape(column)
    tolerance = np.array([one.tolerance for one in sizes]).reshape(column)
    return np.asarray(lower + share * tolerance)


def _of_slice(array: Array, which: Array, axes: int) -> Array:
    """A number of one slice; a sum has a single place along the slices."""
    if array.ndim <= axes:
        return array
    found: Array = array[0]
    for number in range(1, len(array)):
        found = np.where(which > number - 0.5, array[number], found)
    return found


def total(press: Press, each: Array) -> Array:
    """A force of the whole joint: the sum over its slices."""
    return np.asarray(each.sum(axis=0, keepdims=True)) if press.slices else each


def passing(press: Press, each: Array, of_outside: Callable[[Array], Array]) -> tuple[Array, ...]:
    """The whole press force where it enters each slice: the others at their least, at their most.

    Args:
        press: the joint.
        each: the force of each slice at this corner.
        of_outside: the force of each slice by its outside diameter; it grows with it.
    """
    if not press.slices:
        return (each,)
    ends = [_along([one.outside for one in press.slices], np.array(end), each.ndim - 1) for end in (0.0, 1.0)]
    return tuple(total(press, at_end := of_outside(end)) - at_end + each for end in ends)
