"""Types of fields: what text they take, their unit and help, what else they may be.

A field type is the mark in ``Annotated[..., Size("hole", "...")]``; it parses text,
``(number, unit)`` or a number, and every question reads from it what it needs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from pydantic import GetCoreSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, core_schema

from fits import quantity
from fits.errors import Fault, InputError, meant
from fits.materials.metals import Metal, metal
from fits.quantity import usual
from fits.sizes import classes
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size

if TYPE_CHECKING:
    from fits.features.offer import Offer
    from fits.shop.drawer import Drawer

UNDECIDED = "?"
LARGEST = 1e15  # beyond this a typed number is a slip, and squares of it no longer fit a float


class Context(NamedTuple):
    """What a file or a command gives to all its fields."""

    units: str = "mm"
    metals: Mapping[str, Metal] = MappingProxyType({})
    sizes: Mapping[str, Limits] = MappingProxyType({})
    surfaces: Mapping[str, Mapping[str, str]] = MappingProxyType({})
    bare_numbers: bool = False


class SurfaceRef(NamedTuple):
    """A size that stands on a surface of another feature."""

    feature: str
    surface: str

    def __str__(self) -> str:
        return f"{self.feature}.{self.surface}"


class Spread(NamedTuple):
    """A number or a range of one, in the inside unit."""

    low: float
    high: float
    text: str = ""


class Undecided(NamedTuple):
    """A field left open ("?"), allowed only for what is being asked."""


def levels(value: Any) -> tuple[float, ...]:
    """The levels of a parsed numeric field at the corners; empty for what has none."""
    if isinstance(value, Limits):
        return tuple(dict.fromkeys((value.lower, value.upper)))
    return tuple(dict.fromkeys(value[:2])) if isinstance(value, Spread) else ()


def shared_key(value: Any) -> str:
    """The key of the shared size a field stands for, or empty."""
    return f"sizes.{value.name}" if isinstance(value, Limits) and value.name else ""


class Field:
    """Base of the field types: its help, and how text becomes its value.

    ``made`` are the types of parsed values, which pass as they are; ``inline`` shows how a
    value of several keys is written; ``tool`` marks those that a drawer can fill by itself.
    """

    side = ""  # hole or shaft, of a size that is one
    made: tuple[type, ...] = (Limits, Spread, SurfaceRef, Metal)
    inline = ""
    tool = False

    def __init__(self, help: str) -> None:
        self.help = help

    def parse(self, value: Any, context: Context) -> Any:
        """The parsed value; raises InputError."""
        raise NotImplementedError

    def others(self) -> Iterable[tuple[str, Any]]:
        """What else the field may be: names and values of a table; none where there is no table."""
        return ()

    def shown(self) -> str:
        """How the help of a command shows what the field takes."""
        return "TEXT"

    def offers(self, name: str, feature: Any, drawer: Drawer) -> tuple[Offer, ...]:
        """What this field of a feature could be from a drawer, the likeliest first."""
        return ()

    def to_buy(self, name: str, feature: Any, low: float, high: float) -> str:
        """What to buy for a field that may be from ``low`` to ``high``, mm, in words."""
        return ""

    def number(self, value: Any, part: str) -> Any:
        """One number that a value brings along; None where it has none of that name."""
        return getattr(value, part, None)

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def validate(value: Any, info: ValidationInfo) -> Any:
            context = info.context if isinstance(info.context, Context) else _LIBRARY
            if value is None or isinstance(value, (*self.made, Undecided)):
                return value
            if value == UNDECIDED:
                return Undecided()
            return self.parse(value, context)

        return core_schema.with_info_plain_validator_function(validate)


_LIBRARY = Context(bare_numbers=True)


def _text(value: Any, context: Context) -> str:
    """Text, or the text of a (number, unit) pair."""
    if isinstance(value, str):
        return value
    if isinstance(value, (tuple, list)) and len(value) == 2 and isinstance(value[1], str):
        return f"{value[0]!r} {value[1]}"
    raise InputError(Fault('text is due, such as "25 mm"', got=str(value)))


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


class Numeric(Field):
    """A field that holds a number or limits: of which quantity, shown with its usual digits or others."""

    # How its numbers count where its text may say another way: what a window of it is in.
    scale = ""

    def __init__(self, help: str, *, quantity: str = "number", digits: int | None = None) -> None:
        super().__init__(help)
        self.quantity = quantity
        self.digits = usual(quantity, digits)

    def search(self, at: tuple[float, ...]) -> tuple[float, float]:
        """The range over which a sweep may look for an answer."""
        middle = sum(at) / len(at)
        return (middle * 1e-3, middle * 1e3) if middle > 0.0 else (0.0, 0.0)

    def near(self, feature: Any) -> float | None:
        """Where a sweep should look closely, from the feature's other fields; None: it can't say."""
        return None


class Size(Numeric):
    """A size: any notation of a drawing, a shared size, or another feature's surface."""

    def __init__(self, help: str, *, side: str = "", zero: bool = False, on_surface: bool = False) -> None:
        super().__init__(help, quantity="length")
        self.side = side
        self.zero = zero
        self.on_surface = on_surface

    def parse(self, value: Any, context: Context) -> Limits | SurfaceRef:
        """Limits in mm, or the surface the field stands on."""
        if _is_number(value):
            value = repr(value)
        text = _text(value, context).strip()
        if text in context.sizes:
            return self._on_side(context.sizes[text], text)
        feature, dot, surface = text.partition(".")
        if dot and feature.isidentifier() and surface:
            return self._surface(text, feature, surface, context)
        if self.zero and text in ("0", "0.0", "0 mm", "0 in"):
            return Limits(0.0, 0.0, 0.0, self.side, text)
        if text.isidentifier() and context.sizes:
            raise InputError(Fault("no shared size of this name", got=text, hint=meant(text, context.sizes)))
        return parse_size(text, side=self.side, units=context.units)

    def _on_side(self, limits: Limits, name: str) -> Limits:
        if self.side and limits.side and limits.side != self.side:
            raise InputError(Fault(f"the shared size is a {limits.side}, a {self.side} is due", got=name))
        return replace(limits, name=name, side=self.side or limits.side)

    def _surface(self, text: str, feature: str, surface: str, context: Context) -> SurfaceRef:
        if feature == "sizes" and feature not in context.surfaces:
            raise InputError(Fault("a shared size stands by its name alone", text, hint=f'write "{surface}"'))
        if not self.on_surface:
            raise InputError(
                Fault("this field can't stand on another feature's surface", got=text, hint="give its size")
            )
        if feature not in context.surfaces:
            raise InputError(
                Fault(f"no feature {feature} in this part", got=text, hint=meant(feature, context.surfaces))
            )
        if surface not in context.surfaces[feature]:
            known = ", ".join(context.surfaces[feature]) or "none"
            raise InputError(Fault(f"{feature} has no surface {surface}", got=text, hint=f"it has: {known}"))
        side = context.surfaces[feature][surface]
        if self.side and side != self.side:
            raise InputError(Fault(f"{text} is a {side}, a {self.side} is due", got=text))
        return SurfaceRef(feature, surface)

    def classes(self, basic: float, units: str) -> Iterator[Limits]:
        """What else this size may be: the zones of its side at a basic size (mm)."""
        return classes.zones(basic, self.side, units)

    def shown(self) -> str:
        """A size."""
        return "SIZE"

    def offers(self, name: str, feature: Any, drawer: Drawer) -> tuple[Offer, ...]:
        """The holes that the drawer's reamers should cut; nothing for a shaft."""
        from fits.features.tools import holes_of

        return holes_of(name, getattr(feature, name), drawer) if self.side == "hole" else ()

    def to_buy(self, name: str, feature: Any, low: float, high: float) -> str:
        """A reamer by the rule for that hole."""
        from fits.features.tools import reamer_to_buy

        return reamer_to_buy(low, high) if self.side == "hole" else ""

    def search(self, at: tuple[float, ...]) -> tuple[float, float]:
        """Half to twice the present size; relations cut it down to what can be assembled."""
        middle = sum(at) / len(at)
        return middle * 0.5, middle * 2.0


class Length(Numeric):
    """A length, with or without tolerance."""

    def __init__(self, help: str) -> None:
        super().__init__(help, quantity="length", digits=3)

    def parse(self, value: Any, context: Context) -> Limits:
        """Limits in mm."""
        if _is_number(value):
            value = repr(value)
        return parse_size(_text(value, context), units=context.units)

    def shown(self) -> str:
        """A length."""
        return "LENGTH"


class Measure(Numeric):
    """A quantity, or a range of one written as ``0.10 to 0.15``."""

    def written(self, value: Spread) -> tuple[Spread, str]:
        """The numbers as they are written back, and what stands behind their unit."""
        return value, ""

    def __init__(
        self,
        help: str,
        *,
        quantity: str = "number",
        digits: int | None = None,
        least: float = -math.inf,
        most: float = math.inf,
        above: bool = False,
    ) -> None:
        super().__init__(help, quantity=quantity, digits=digits)
        self.least = least
        self.most = most
        self.above = above

    def parse(self, value: Any, context: Context) -> Spread:
        """The number or its range in the inside unit."""
        if _is_number(value):
            if not context.bare_numbers and self.quantity not in ("number", "length"):
                raise InputError(
                    Fault(
                        f"a {self.quantity} needs a unit",
                        got=str(value),
                        hint=f"units: {quantity.KINDS[self.quantity].examples}",
                    )
                )
            plain = context.bare_numbers or self.quantity != "length"
            number = float(value) if plain else quantity.read(repr(value), "length", units=context.units)
            return self._checked(number, number, str(value))
        text = _text(value, context)
        low_text, to, high_text = text.partition(" to ")
        if not to:
            number = quantity.read(text, self.quantity, units=context.units)
            return self._checked(number, number, text)
        unit = quantity.split(high_text)[1]
        if quantity.split(low_text)[1] == "" and unit:
            low_text = f"{low_text} {unit}"
        low = quantity.read(low_text, self.quantity, units=context.units)
        high = quantity.read(high_text, self.quantity, units=context.units)
        if low > high:
            raise InputError(Fault("the range is swapped", got=text, hint="lower value first"))
        return self._checked(low, high, text)

    def _checked(self, low: float, high: float, text: str) -> Spread:
        if not (math.isfinite(low) and math.isfinite(high)):
            raise InputError(Fault("not a finite number", got=text))
        if max(abs(low), abs(high)) > LARGEST:
            raise InputError(Fault("larger than anything a shop meets", got=text))
        if not (self.takes(low) and high <= self.most):
            least = f"{'above' if self.above else 'at least'} {self._bound(self.least)}"
            ends = [least] if math.isfinite(self.least) else []
            ends += [f"at most {self._bound(self.most)}"] if math.isfinite(self.most) else []
            raise InputError(Fault(f"must be {' and '.join(ends)}", got=text))
        return Spread(low, high, text)

    def takes(self, value: Any) -> Any:
        """Whether a number, or each of an array, lies within the bounds."""
        low = value > self.least if self.above else value >= self.least
        return low & (value <= self.most) & (abs(value) <= LARGEST)

    def _bound(self, value: float) -> str:
        unit = quantity.sheet_unit(self.quantity)
        number = f"{quantity.on_sheet(value, self.quantity):g}"
        return f"{number} {unit}" if unit else number

    def shown(self) -> str:
        """The kind of quantity."""
        return self.quantity.upper().replace(" ", "_")

    def search(self, at: tuple[float, ...]) -> tuple[float, float]:
        """A thousandth to a thousand times the present value, within its bounds."""
        low, high = super().search(at)
        if self.quantity == "temperature":
            return max(-273.15, self.least), min(1000.0, self.most)
        return max(low, self.least), min(high, self.most)


class MetalField(Field):
    """A metal of the table or of the part file."""

    inline = '{youngs_modulus = "207 GPa", poisson = 0.292}'

    def parse(self, value: Any, context: Context) -> Metal:
        """The metal."""
        if isinstance(value, Mapping):
            from fits.features.typed_metal import typed_metal

            return typed_metal("typed metal", value, context)
        if not isinstance(value, str):
            raise InputError(Fault("the name of a metal is due", got=str(value)))
        if value in context.metals:
            return context.metals[value]
        try:
            return metal(value)
        except InputError as error:
            own = meant(value, context.metals)
            raise InputError([replace(f, hint=own or f.hint) for f in error.faults]) from None

    def shown(self) -> str:
        """A metal."""
        return "METAL"


class Choice(Field):
    """One of some words."""

    def __init__(self, help: str, *, options: tuple[str, ...]) -> None:
        super().__init__(help)
        self.options = options

    def parse(self, value: Any, context: Context) -> str:
        """The word."""
        if isinstance(value, str) and value in self.options:
            return value
        hint = meant(str(value), self.options)
        raise InputError(Fault(f"must be one of {', '.join(self.options)}", got=str(value), hint=hint))

    def shown(self) -> str:
        """The words."""
        return "|".join(self.options)


class Flag(Field):
    """Yes or no."""

    def parse(self, value: Any, context: Context) -> bool:
        """The truth value."""
        if isinstance(value, bool):
            return value
        if value in ("true", "false"):
            return bool(value == "true")
        raise InputError(Fault("must be true or false", got=str(value)))

    def shown(self) -> str:
        """True or false."""
        return "true|false"
