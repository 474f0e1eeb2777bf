"""The field of a ring: a code of the tables, or its inside diameter and section typed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from fits.errors import Fault, InputError, meant
from fits.features.composite import Composite
from fits.features.fields import UNDECIDED, Context, Numeric, Size
from fits.shop.rings import Ring, every, ring
from fits.sizes.limits import Limits
from fits.tables import Source

_PARTS: Mapping[str, Numeric] = MappingProxyType(
    {"inside": Size("ring's inside diameter, free"), "section": Size("ring's section, free")}
)
_TYPED = Source("ring: typed", "typed")


class RingField(Composite):
    """A ring; brings ``inside`` and ``section`` along as numbers."""

    made = (Ring,)
    parts = _PARTS
    inline = '{inside = "25 ±0.2", section = "3.5 ±0.1"}'

    def parse(self, value: Any, context: Context) -> Ring:
        """The ring of a code, or of a mapping of its inside diameter and section."""
        if isinstance(value, Mapping):
            return _typed(value, context)
        if not isinstance(value, str):
            raise InputError(Fault("the code of a ring is due", got=str(value), hint=f"or {self.inline}"))
        return ring(value)

    def others(self) -> Iterable[tuple[str, Ring]]:
        """Every ring of the tables that has tolerances."""
        return ((one.code, one) for one in every())

    def shown(self) -> str:
        """A ring."""
        return "RING"


def _typed(keys: Mapping[str, Any], context: Context) -> Ring:
    faults = [Fault("unknown key", key=key, hint=meant(key, _PARTS)) for key in keys if key not in _PARTS]
    found: dict[str, Limits] = {}
    for name, of in _PARTS.items():
        if name not in keys:
            faults.append(Fault(f"missing: {of.help}", key=name))
            continue
        if keys[name] == UNDECIDED:
            faults.append(Fault("one number of a ring can't be left open", "?", name))
            continue
        try:
            found[name] = _toleranced(of.parse(keys[name], context), str(keys[name]))
        except InputError as error:
            faults += [replace(fault, key=name) for fault in error.faults]
    if faults:
        raise InputError(faults)
    code = " x ".join(one.name or one.text for one in found.values())
    return Ring(code, found["inside"], found["section"], _TYPED)


def _toleranced(size: Limits, text: str) -> Limits:
    """A nominal alone is no size of a bought ring."""
    if size.tolerance == 0.0:
        hint = 'write "25 ±0.2", or a code such as "ISO 3601-1 B 25x3.5"'
        raise InputError(Fault("a ring's size needs its tolerance, a nominal is none", got=text, hint=hint))
    return size
