"""Arrays are cut into blocks by how many numbers each point of them takes: corners times columns."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from plain import plain

from fits.features.feature import State
from fits.questions.boxes import Boxes
from fits.questions.odds import odds
from fits.questions.rows import judge_rows, mains_of
from fits.questions.scan import Scan
from fits.questions.targets import target_of

STATES = (State("shop"), State("cold", -30.0, -30.0), State("pressed", 20.0, 20.0, 5.0))
ASKED = {"gap_at_least": "0.001", "gap_at_most": "0.2", "push_at_least": "0.01 N"}


@pytest.fixture
def widths(monkeypatch) -> Any:
    def of(module: str) -> list[tuple[int, int]]:
        seen: list[tuple[int, int]] = []

        def blocks(count: int, width: int):
            seen.append((count, width))
            yield slice(0, count)

        monkeypatch.setattr(f"fits.questions.{module}.blocks", blocks)
        return seen

    return of


def test_boxes(widths):
    """Hole, shaft and pressure twice each, three leans; three states and as made."""
    seen = widths("boxes")
    sizes = {"seat.hole": np.array([20.0, 20.01, 20.02])}
    Boxes(plain(*STATES, **ASKED), ["seat.hole"]).worst(sizes, sizes)
    assert seen == [(3, 24 * 4)]


def test_rows(widths):
    seen = widths("rows")
    part = plain(*STATES, **ASKED)
    sizes = {"hole": np.array([20.0, 20.01])}
    judge_rows(part, "seat", 2, sizes, sizes, mains_of(part.features["seat"], part.columns("seat")))
    assert seen == [(2, 24 * 4)]
    seen.clear()
    alone = plain(State("shop"), hole="20", shaft="19.94", gap_at_least="0.001")
    judge_rows(alone, "seat", 2, sizes, sizes, ())
    assert seen == [(2, 2)]


def test_odds(widths):
    """Hole and shaft are drawn, pressure and lean make the corners."""
    seen = widths("odds")
    odds(plain(*STATES, **ASKED), samples=1024)
    assert seen == [(64, 6 * 4)] * 16
    seen.clear()
    odds(plain(State("shop"), gap_at_least="0.06"), samples=1024)
    assert seen == [(64, 2)] * 16


def test_scans_take_eight_columns_for_granted(widths):
    seen = widths("scan")
    part = plain(*STATES, **ASKED)
    scan = Scan(part, target_of(part, "seat.shaft"))
    scan.held(np.array([19.9, 19.91, 19.92]), scan.all)
    # Hole and pressure twice, three leans.
    assert seen == [(3, 12 * 8)]
    seen.clear()
    exact = plain(State("shop"), hole="20", gap_at_least="0.01")
    alone = Scan(exact, target_of(exact, "seat.shaft"))
    alone.all = {"seat": {}}
    alone.held(np.array([19.9, 19.91]), alone.all)
    assert seen == [(2, 8)]
