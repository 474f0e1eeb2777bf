"""Every gathered worked example is either answered in these files or excluded with its reason."""

from __future__ import annotations

import csv
from pathlib import Path

HERE = Path(__file__).parent
ANSWERED = {
    "PF-SH-3-64": "test_shigley", "PF-SH-3-68": "test_shigley", "PF-SH-3-69": "test_shigley",
    "PF-SH-3-71": "test_shigley", "PF-SH-5-35": "test_shigley", "PF-SH-7-8": "test_shigley",
    "PF-MO-13-2b": "test_textbooks", "PF-BO-11-3a": "test_textbooks", "PF-BO-11-3b": "test_textbooks",
    "PF-BO-11-3c": "test_textbooks", "PF-BO-11-1": "test_textbooks", "PF-BO-11-4": "test_textbooks",
    "PF-BO-11-5": "test_textbooks", "PF-UG-8-2": "test_textbooks", "PF-UG-8-4": "test_textbooks",
    "PF-JU-13": "test_textbooks", "PF-BH-15": "test_textbooks", "PF-BH-14": "test_textbooks",
    "PF-SAC-5-2": "test_heat_transfer", "PF-SAC-5-4": "test_heat_transfer", "PF-SAC-5-5": "test_heat_transfer",
    "PF-HO-4-1": "test_heat_transfer", "PF-IN-5-1": "test_heat_transfer", "PF-SUK-2-9": "test_heat_transfer",
    "PF-BO-11-6": "test_textbooks", "PF-KZ-5-10a": "test_textbooks", "PF-SI-267": "test_textbooks",
    "PF-CE-4-4": "test_heat_transfer",
    "PF-JI-4-2": "test_textbooks", "PF-KW-1": "test_textbooks", "PF-FA-8-1": "test_textbooks",
}


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_each_example_is_answered_or_excluded():
    excluded = {row["id"]: row["reason"] for row in rows("press_exclusions.csv")}
    every = {row["id"] for row in rows("press_examples.csv")}
    assert every == set(ANSWERED) | set(excluded)
    assert not set(ANSWERED) & set(excluded)
    assert len(excluded) == 2
    assert all(excluded.values())


def test_the_files_named_exist():
    assert all((HERE / f"{name}.py").exists() for name in ANSWERED.values())
