"""How sizes scatter, from a part file or the shell, put to the dimensions of a part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from fits.errors import Fault, InputError, meant
from fits.features import fields
from fits.features.feature import Feature, declared
from fits.features.fields import Numeric, SurfaceRef
from fits.files.samples import measured_from, named_table
from fits.sizes.limits import Limits
from fits.sizes.scatter import Between, Scatter, parse_scatter


def typed_spread(text: str) -> tuple[str, str]:
    """Dimension and its spread as the shell takes them: ``liner.hole: normal Cp 1.33``.

    Raises:
        InputError: no colon.

    >>> typed_spread("liner.hole: normal Cp 1.33")
    ('liner.hole', 'normal Cp 1.33')
    """
    name, colon, rest = text.partition(":")
    if not colon or not name.strip() or not rest.strip():
        hint = 'write "liner.hole: normal Cp 1.33"'
        raise InputError(Fault("a dimension, a colon and its spread are due", got=text, hint=hint))
    return name.strip(), rest.strip()


def flattened(table: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    """``liner.hole`` -> text, however the file nests it."""
    for key, value in table.items():
        name = f"{above}.{key}" if above else key
        if isinstance(value, Mapping):
            yield from flattened(value, name)
        else:
            yield name, value


def scatters(
    texts: Mapping[str, Any],
    features: Mapping[str, Feature],
    sizes: Mapping[str, Limits],
    units: str,
    faults: list[Fault],
    folder: str = "",
) -> dict[str, Scatter]:
    """Spreads by the key of their dimension; what is wrong joins ``faults``.

    ``folder`` is where the path of a table begins that isn't whole.
    """
    found: dict[str, Scatter] = {}
    for name, text in texts.items():
        try:
            if not isinstance(text, str):
                raise InputError(Fault('text is due, such as "normal Cp 1.33"', got=str(text)))
            key, between = _dimension(name, features, sizes, units)
            if key in found:
                raise InputError(Fault("the spread of this dimension stands twice"))
            table = named_table(text)
            found[key] = (
                measured_from(table, name, between, folder) if table else parse_scatter(text, between)
            )
        except InputError as error:
            faults += [fault.at(key=name) for fault in error.faults]
    return found


def _dimension(
    name: str, features: Mapping[str, Feature], sizes: Mapping[str, Limits], units: str
) -> tuple[str, Between]:
    first, _, field = name.partition(".")
    if first == "sizes" and field in sizes:
        return name, Between(sizes[field].lower, sizes[field].upper, "length", units)
    if first not in features:
        near = (
            meant(first, [*features, "sizes"]) or f"write feature.dimension; features: {', '.join(features)}"
        )
        raise InputError(Fault("no such dimension", got=name, hint=near))
    feature = features[first]
    kind = declared(type(feature)).get(field)
    if not isinstance(kind, Numeric):
        numeric = [one for one, kind in declared(type(feature)).items() if isinstance(kind, Numeric)]
        raise InputError(Fault(f"{first} has no dimension {field}", got=name, hint=meant(field, numeric)))
    if field in type(feature).wished:
        raise InputError(Fault(f"{field} is wished of the joined parts: it does not scatter", got=name))
    value = getattr(feature, field)
    if isinstance(value, SurfaceRef):
        raise InputError(Fault(f"it stands on {value}: say how the sizes of that feature scatter", got=name))
    levels = fields.levels(value)
    if not levels:
        raise InputError(Fault("this dimension is not given in the part", got=name))
    return fields.shared_key(value) or name, Between(min(levels), max(levels), kind.quantity, units)
