"""The list of kinds: a new feature is one folder and one line here."""

from __future__ import annotations

from importlib import import_module

from fits.errors import Fault, InputError, meant
from fits.features.feature import Feature

KINDS = {
    "press": "fits.features.press:Press",
    "running": "fits.features.running:Running",
    "bonded": "fits.features.bonded:Bonded",
}


def kind(name: str) -> type[Feature]:
    """The declaration of a kind, imported when it is asked for.

    Raises:
        InputError: no such kind.
    """
    if name not in KINDS:
        hint = meant(name, KINDS) or f"kinds: {', '.join(KINDS)}"
        raise InputError(Fault("unknown kind of feature", got=name, hint=hint))
    module, _, attribute = KINDS[name].partition(":")
    found: type[Feature] = getattr(import_module(module), attribute)
    return found
