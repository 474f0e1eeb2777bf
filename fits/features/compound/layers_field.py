"""The fields of a compound: its layers from the inside out, and the order of joining."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from types import MappingProxyType
from typing import Any, NamedTuple

from fits.errors import Fault, InputError, meant
from fits.features.composite import Composite
from fits.features.fields import UNDECIDED, Context, Field, MetalField, Numeric, Size
from fits.materials.metals import Metal
from fits.sizes.limits import Limits
from fits.sizes.notation import belong

# As many layers as the declared values name.
MOST = 4
FACES = ("inside", "outside")
FINISHED = MappingProxyType({"inside": ("inside",), "outside": ("outside",), "both": FACES})
KEYS = (*FACES, "material", "finished")
_SIZES: Mapping[str, Numeric] = MappingProxyType(
    {
        "inside": Size("inside of the layer; 0 or left out in the first: solid", side="hole", zero=True),
        "outside": Size("outside of the layer", side="shaft"),
    }
)


class Layer(NamedTuple):
    """One ring: its sizes as cut, its metal, and the faces cut after it was joined."""

    inside: Limits
    outside: Limits
    material: Metal
    finished: tuple[str, ...] = ()


class Layers(NamedTuple):
    """The rings from the inside out."""

    rings: tuple[Layer, ...]


class LayersField(Composite):
    """Layers; brings ``1.inside``, ``1.outside``, ``2.inside`` ... along as numbers."""

    made = (Layers,)
    parts: Mapping[str, Numeric] = MappingProxyType(
        {f"{k}.{face}": _SIZES[face] for k in range(1, MOST + 1) for face in FACES}
    )
    inline = (
        '[{inside = "12", outside = "16 s6", material = "304"}, '
        '{inside = "16 H7", outside = "40", material = "1045 HR"}]'
    )

    def parse(self, value: Any, context: Context) -> Layers:
        """The layers of a list of mappings or of text, checked for their order."""
        if isinstance(value, str):
            value = [piece.strip() for piece in value.split(";")]
        if not isinstance(value, (list, tuple)):
            raise InputError(Fault("a list of layers is due", got=str(value), hint=f"write {self.inline}"))
        if len(value) < 2:
            hint = "write the layer around it too, from the inside out"
            raise InputError(Fault(f"a compound has at least two layers, not {len(value)}", hint=hint))
        if len(value) > MOST:
            raise InputError(Fault(f"at most {MOST} layers, not {len(value)}"))
        rings: list[Layer] = []
        faults: list[Fault] = []
        for number, keys in enumerate(value, 1):
            try:
                rings.append(_layer(keys, context, first=number == 1))
            except InputError as error:
                faults += [replace(f, key=f"{number}.{f.key}".rstrip(".")) for f in error.faults]
        if faults:
            raise InputError(faults)
        if fault := _out_of_order(rings):
            raise InputError(fault)
        return Layers(tuple(rings))

    def number(self, value: Any, part: str) -> Any:
        """The size of one face; None where there is no such layer."""
        number, _, face = part.partition(".")
        if not isinstance(value, Layers) or int(number) > len(value.rings):
            return None
        return getattr(value.rings[int(number) - 1], face)

    def sizes(self, value: Any) -> Iterator[tuple[str, Limits, str]]:
        """Both faces of every layer."""
        for part, of in self.parts.items():
            if (size := self.number(value, part)) is not None:
                yield part, size, of.side

    def metal(self, value: Any, part: str) -> Metal | None:
        """The metal of the layer."""
        metal: Metal = value.rings[int(part.partition(".")[0]) - 1].material
        return metal

    def changed(self, value: Any, part: str, number: Any) -> Layers:
        """The layers with the size of one face changed; raises InputError where they no longer fit."""
        which, _, face = part.partition(".")
        rings = list(value.rings)
        rings[int(which) - 1] = rings[int(which) - 1]._replace(**{face: number})
        if fault := _out_of_order(rings):
            raise InputError(fault)
        return Layers(tuple(rings))

    def shown(self) -> str:
        """A list of layers."""
        return "LAYERS"


def _layer(keys: Any, context: Context, *, first: bool) -> Layer:
    if isinstance(keys, Layer):
        return keys
    if isinstance(keys, str):
        pieces = [piece.strip() for piece in keys.split(",")]
        keys = dict(zip(KEYS, pieces, strict=False)) if 3 <= len(pieces) <= len(KEYS) else keys
    if not isinstance(keys, Mapping):
        hint = 'write {inside = "16 H7", outside = "40", material = "304"}, or "16 H7, 40, 304"'
        raise InputError(Fault("a layer is due", got=str(keys), hint=hint))
    faults = [
        Fault("unknown key", key=key, hint=meant(key, KEYS) or f"keys: {', '.join(KEYS)}")
        for key in keys
        if key not in KEYS
    ]
    found: dict[str, Any] = {"inside": Limits(0.0, 0.0, 0.0, "hole", "0")}
    fields: dict[str, Field] = {**_SIZES, "material": MetalField("metal of the layer, temper included")}
    for name, of in fields.items():
        if name not in keys:
            if name != "inside" or not first:
                faults.append(Fault(f"missing: {of.help.partition(';')[0]}", key=name))
        elif keys[name] == UNDECIDED:
            faults.append(Fault("one entry of a layer can't be left open", "?", name))
        elif isinstance(keys[name], of.made):
            found[name] = keys[name]
        else:
            try:
                found[name] = of.parse(keys[name], context)
            except InputError as error:
                faults += [replace(f, key=f"{name}.{f.key}".rstrip(".")) for f in error.faults]
    if "finished" in keys:
        if keys["finished"] in FINISHED:
            found["finished"] = FINISHED[keys["finished"]]
        else:
            must = f"must be one of {', '.join(FINISHED)}: the face cut after joining"
            faults.append(Fault(must, str(keys["finished"]), "finished"))
    if faults:
        raise InputError(faults)
    return Layer(**found)


def _out_of_order(rings: list[Layer]) -> Fault | None:
    """The first layer that has no wall or isn't around the one before it."""
    for number, ring in enumerate(rings, 1):
        if ring.inside.upper >= ring.outside.lower:
            sizes = f"inside {ring.inside.upper:g} mm, outside {ring.outside.lower:g} mm"
            return Fault(f"a layer needs a wall: {sizes}", key=f"{number}.inside")
    for number, (inner, outer) in enumerate(pairwise(rings), 2):
        before = f"layer {number - 1} ({inner.inside.nominal:g} to {inner.outside.nominal:g} mm)"
        here = f"layer {number} ({outer.inside.nominal:g} to {outer.outside.nominal:g} mm)"
        if outer.outside.nominal <= inner.outside.nominal:
            must = f"layers go from the inside out: {here} isn't around {before}"
            return Fault(must, key=f"{number}.outside")
        if outer.inside.lower <= 0.0:
            return Fault(
                f"only the first layer can be solid: {here} is around {before}", key=f"{number}.inside"
            )
        if apart := belong(outer.inside, inner.outside):
            return replace(apart, key=f"{number}.inside", hint=f"{here} is to hold {before}")
        if outer.inside.name and outer.inside.name == inner.outside.name:
            must = "hole and shaft are two parts: each needs its own size"
            return Fault(must, outer.inside.name, f"{number}.inside")
    return None


class Order(NamedTuple):
    """The order in which the interfaces are made: a direction, or pairs of layers."""

    text: str
    stages: tuple[tuple[int, int], ...] = ()

    def __str__(self) -> str:
        return self.text

    def interfaces(self, layers: int) -> tuple[int, ...]:
        """Interfaces (0 between layers 1 and 2) in the order of joining."""
        if self.stages:
            return tuple(inner - 1 for inner, _ in self.stages)
        every = tuple(range(layers - 1))
        return every if self.text == INSIDE_OUT else every[::-1]


INSIDE_OUT, OUTSIDE_IN = "inside out", "outside in"


class OrderField(Field):
    """From the inside out, from the outside in, or stages such as ``2-3, 1-2``."""

    made = (Order,)

    def parse(self, value: Any, context: Context) -> Order:
        """The order."""
        if value in (INSIDE_OUT, OUTSIDE_IN):
            return Order(str(value))
        stages = []
        hint = f'write "{INSIDE_OUT}", "{OUTSIDE_IN}", or stages such as "2-3, 1-2"'
        for piece in str(value).split(","):
            inner, dash, outer = (one.strip() for one in piece.partition("-"))
            if not (dash and inner.isdecimal() and outer.isdecimal() and int(outer) == int(inner) + 1):
                raise InputError(Fault("a stage joins two neighbours", got=str(value), hint=hint))
            stages.append((int(inner), int(outer)))
        return Order(str(value), tuple(stages))

    def shown(self) -> str:
        """The words, or stages."""
        return f'"{INSIDE_OUT}"|"{OUTSIDE_IN}"|"2-3, 1-2"'
