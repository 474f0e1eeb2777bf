"""The list of kinds: a new feature is one folder and one line here, a form of one a line each."""

from __future__ import annotations

from importlib import import_module

from fits.errors import Fault, InputError, meant
from fits.features.feature import Feature

KINDS = {
    "press": "fits.features.press:Press",
    "compound": "fits.features.compound:Compound",
    "running": "fits.features.running:Running",
    "reamed": "fits.features.reamed:Reamed",
    "dowel": "fits.features.dowel:Dowel",
    "gland face": "fits.features.gland:FaceGland",
    "gland piston": "fits.features.gland:PistonGland",
    "gland rod": "fits.features.gland:RodGland",
    "gland dovetail": "fits.features.gland:DovetailGland",
    "gland triangular": "fits.features.gland:TriangularGland",
    "bonded": "fits.features.bonded:Bonded",
}


def tables() -> tuple[str, ...]:
    """What a part file calls the kinds: ``[gland.seal]`` with its ``form``."""
    return tuple(dict.fromkeys(name.partition(" ")[0] for name in KINDS))


def forms(table: str) -> tuple[str, ...]:
    """The forms of a kind; none for one that has no several.

    >>> forms("press"), forms("gland")[:2]
    ((), ('face', 'piston'))
    """
    return tuple(name.partition(" ")[2] for name in KINDS if name.startswith(f"{table} "))


def kind(name: str) -> type[Feature]:
    """The declaration of a kind, imported when it is asked for.

    Raises:
        InputError: no such kind.
    """
    if several := forms(name):
        hint = " or ".join(f"{name} {form}" for form in several)
        raise InputError(Fault("it has several forms: say which", got=name, hint=hint))
    if name not in KINDS:
        hint = meant(name, KINDS) or f"kinds: {', '.join(KINDS)}"
        raise InputError(Fault("unknown kind of feature", got=name, hint=hint))
    module, _, attribute = KINDS[name].partition(":")
    found: type[Feature] = getattr(import_module(module), attribute)
    return found
