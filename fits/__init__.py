"""fits: from the duty of a feature to sizes that can be made, gauged and defended.

>>> from fits import Part, Press, State, check
>>> press = Press(hole="40 H7", shaft="40 s6", hub_outside=80, length=50,
...               hub_material="1045 HR", shaft_material="1045 HR")
>>> check(Part(name="wheel", features={"seat": press})).verdict
'not covered'
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_PUBLIC = {
    "Answer": "fits.questions.answer",
    "Bonded": "fits.features.bonded",
    "Compound": "fits.features.compound",
    "FitsError": "fits.errors",
    "InputError": "fits.errors",
    "Part": "fits.features.part",
    "Dowel": "fits.features.dowel",
    "Press": "fits.features.press",
    "Reamed": "fits.features.reamed",
    "Running": "fits.features.running",
    "DovetailGland": "fits.features.gland",
    "FaceGland": "fits.features.gland",
    "PistonGland": "fits.features.gland",
    "RodGland": "fits.features.gland",
    "TriangularGland": "fits.features.gland",
    "State": "fits.features.feature",
    "check": "fits.questions.check",
    "choose": "fits.questions.choose",
    "fit_window": "fits.questions.fit_window",
    "judge": "fits.questions.judge",
    "limits": "fits.questions.limits",
    "metal": "fits.materials.metals",
    "odds": "fits.questions.odds",
    "pair": "fits.questions.pair",
    "read_part": "fits.files.part",
    "read_readings": "fits.files.readings",
    "warm_reading": "fits.questions.warm",
    "window": "fits.questions.window",
}
__all__ = sorted(_PUBLIC)


def __getattr__(name: str) -> Any:
    """Public names, imported when they are first used."""
    if name not in _PUBLIC:
        raise AttributeError(f"module 'fits' has no attribute '{name}'")
    return getattr(import_module(_PUBLIC[name]), name)


def __dir__() -> list[str]:
    return list(__all__)
