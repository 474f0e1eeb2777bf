"""How a kind writes down a value: in every state, unless it names other times."""

from __future__ import annotations

from fits import quantity
from fits.features.feature import Value
from fits.features.when import EVERY
from fits.tables import Source


def value(
    name: str,
    label: str,
    kind: str,
    equation: str,
    source: Source,
    uses: tuple[str, ...],
    *when: str,
    digits: int | None = None,
    shown: bool = True,
    inside: tuple[str, ...] = (),
    by: str = "",
) -> Value:
    """A value (:class:`Value`), shown with the usual digits of its kind unless ``digits`` are given.

    One that is told apart ``by`` a dimension depends on it.
    """
    own = (*uses, by) if by else uses
    return Value(
        name,
        label,
        kind,
        quantity.usual(kind, digits),
        equation,
        source,
        own,
        when or (EVERY,),
        shown,
        inside,
        by,
    )
