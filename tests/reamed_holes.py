"""Reamed holes for tests: a good one with everything typed, and its numbers."""

from __future__ import annotations

from typing import Any

import numpy as np

from fits.features.feature import State, States
from fits.features.fields import Context
from fits.features.part import Part
from fits.features.reamed import Reamed
from fits.features.reamed.cut import CutHole
from fits.files import loader
from fits.questions.check import check
from fits.questions.evaluate import evaluate, relevant

SHOP = States.of((State("shop"),))
# 10 H7: 10.000 to 10.015 mm.
GOOD: dict[str, Any] = {
    "hole": "10 H7", "depth": "20", "material": "6061-T6", "through": "true", "reamer": "measured 10.0076 mm", "cuts_over": "0.001 to 0.005", "drill": "9.7 mm",
    "drill_oversize": "0.02 to 0.10",
}


def made(**changes: Any) -> Reamed:
    found = loader.feature(Reamed, {key: value for key, value in {**GOOD, **changes}.items() if value is not None}, Context())
    assert isinstance(found, Reamed)
    return found


def answer(**changes: Any) -> Any:
    return check(Part("one", {"hole": made(**changes)})).features[0]


def judged(**changes: Any) -> dict[str, Any]:
    return {one.rule: one for one in answer(**changes).checks}


def numbers(of: Reamed | CutHole, **given: float) -> dict[str, float]:
    """The numbers with every dimension at its first level, or as given."""
    part = Part("one", {"hole": of})
    arrays = {key: np.array([[given.get(one.name, one.levels[0])]]) for key, one in relevant(part, "hole").items()}
    return {name: float(array.reshape(-1)[-1]) for name, array in evaluate(part, "hole", given=arrays, corners={}).numbers.items()}
