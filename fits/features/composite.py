"""A field that brings several numbers along, such as a ring its inside and its section."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from fits.features.fields import Field, Numeric
from fits.materials.metals import Metal
from fits.sizes.limits import Limits


class Composite(Field):
    """A field whose value brings numbers along: a ring its ``ring.inside``, ``ring.section``.

    ``parts`` holds the field type of each number under the name of the value's attribute;
    the value is a NamedTuple, or the field says how its numbers are read and changed.
    """

    parts: Mapping[str, Numeric] = MappingProxyType({})

    def sizes(self, value: Any) -> Iterator[tuple[str, Limits, str]]:
        """The sizes of a drawing it brings along, to be cut and measured: name, limits, side."""
        yield from ()

    def metal(self, value: Any, part: str) -> Metal | None:
        """What one of its numbers is cut in, where it says so."""
        return None

    def changed(self, value: Any, part: str, number: Any) -> Any:
        """A value with one of its numbers changed."""
        return value._replace(**{part: number})


def label_of(name: str) -> str:
    """A field's name, or that of a number it brings along, in words.

    >>> label_of("ring.inside"), label_of("hub_outside")
    ('ring inside', 'hub outside')
    """
    return name.replace("_", " ").replace(".", " ")
