"""How a kind writes down a value: in every state, unless it names other times."""

from __future__ import annotations

from fits.features.feature import Value
from fits.features.when import EVERY
from fits.tables import Source


def value(
    name: str,
    label: str,
    kind: str,
    digits: int,
    equation: str,
    source: Source,
    uses: tuple[str, ...],
    *when: str,
    shown: bool = True,
    inside: tuple[str, ...] = (),
    by: str = "",
) -> Value:
    """A value (:class:`Value`); one that is told apart ``by`` a dimension depends on it."""
    own = (*uses, by) if by else uses
    return Value(name, label, kind, digits, equation, source, own, when or (EVERY,), shown, inside, by)
