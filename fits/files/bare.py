"""Bare lengths beside quantities of an inch shop: nobody can know whether they are mm or inches."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from fits.errors import Fault
from fits.features.composite import Composite
from fits.features.feature import Feature, declared
from fits.features.fields import Numeric

# A length without a unit, and a quantity in a unit that only inch shops use.
_BARE = re.compile(r"[\d.\s/+±-]*\d[\d.\s/+±-]*")
_OF_INCHES = re.compile(r"(?<![\w.])[\d.]+\s*(?:in|thou|uin|degF|lbf)\b")


def units_doubt(features: Iterable[tuple[type[Feature], Mapping[str, Any]]], typed: Any) -> Fault | None:
    """The question what bare lengths are, where no units are given and others are of an inch shop; or None.

    Args:
        features: kind and keys of each feature, as typed.
        typed: tables and lists of all that was typed: the features, states, metals.
    """
    bare = next((text for of, keys in features for text in _lengths(of, keys) if is_bare(text)), "")
    inch = next((found for text in _texts(typed) if (found := of_inches(text))), "")
    return question(bare, inch) if bare and inch else None


def is_bare(text: str) -> bool:
    """Whether a length has no unit.

    >>> is_bare("0.7505/0.7500"), is_bare("0.75 in"), is_bare("25 H7")
    (True, False, False)
    """
    return bool(_BARE.fullmatch(text))


def of_inches(text: str) -> str:
    """The first quantity in a unit of inch shops, or an empty text.

    >>> of_inches("hot: 100 degF, 2 MPa"), of_inches("1500 psi")
    ('100 degF', '')
    """
    found = _OF_INCHES.search(text)
    return found[0] if found else ""


def question(bare: str, inch: str) -> Fault:
    """What to ask of bare lengths beside inches."""
    return Fault(f"missing beside {inch}: is it mm or inches?", bare, "units", hint="units are mm or in")


def _lengths(of: type[Feature], keys: Mapping[str, Any]) -> Iterator[str]:
    """Every length of a feature as typed, those inside of layers, slices and rings too."""
    for name, field in declared(of).items():
        if name not in keys:
            continue
        if isinstance(field, Composite):
            yield from _inside(keys[name])
        elif isinstance(field, Numeric) and field.quantity == "length":
            yield str(keys[name])


def _inside(value: Any) -> Iterator[str]:
    if isinstance(value, Mapping):
        for key, one in value.items():
            # A metal may be named by a number.
            if key != "material":
                yield from _inside(one)
    elif isinstance(value, (list, tuple)):
        for one in value:
            yield from _inside(one)
    elif isinstance(value, str) and "," in value:
        # Layers as one text: inside, outside, metal.
        for layer in value.split(";"):
            yield from (piece.strip() for piece in layer.split(",")[:2])
    else:
        yield str(value)


def _texts(value: Any) -> Iterator[str]:
    """Every text in tables and lists."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, (list, tuple, Mapping)):
        for one in value.values() if isinstance(value, Mapping) else value:
            yield from _texts(one)
