"""A short run of the fuzz: a few hundred texts for every door. ``run.py`` does the long one."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from fuzz.doors import Broken, Door, close, doors, through
from fuzz.run import cases_of, guarded, tried
from fuzz.texts import texts
from hypothesis import HealthCheck, given, settings

from fits.errors import Fault, InputError

EVERY = doors()
# Of the doors that read a file, and check the part, fewer.
FEW, MANY = 40, 150


@pytest.fixture(autouse=True, scope="module")
def folder() -> Iterator[None]:
    yield
    close()


@pytest.mark.parametrize("door", EVERY, ids=lambda door: door.name)
def test_nothing_but_the_error_tree_comes_out(door: Door):
    found: dict[str, str] = {}
    read: list[bool] = []

    @settings(max_examples=MANY if door.grammar else FEW, suppress_health_check=list(HealthCheck))
    @given(texts(door))
    def one(text: str) -> None:
        read.append(tried(door, text, found))
        assert not found, found

    with guarded():
        one()
    assert any(read)
    assert not all(read)


@pytest.mark.parametrize("door", EVERY, ids=lambda door: door.name)
def test_valid_texts_are_read(door: Door):
    assert any(through(door, seed) for seed in door.seeds)


@pytest.mark.parametrize(("raised", "found"), [
    (InputError(Fault("wrong")), []), (ValueError("x"), ["ValueError"]), (UserWarning("x"), ["UserWarning"]),
    (RecursionError(), ["RecursionError"]), (Broken("x"), ["Broken"]),
])
def test_the_fuzz_finds_what_it_looks_for(raised: Exception, found: list[str]):
    def read(_: str) -> None:
        raise raised

    kept: dict[str, str] = {}
    with guarded():
        assert tried(Door("a", read, ("",), ("",), 1), "", kept) is False
    assert [where.partition(" ")[0] for where in kept] == found


def test_a_case_that_hangs_is_broken_off():
    def read(_: str) -> None:
        while True:
            pass

    kept: dict[str, str] = {}
    with guarded():
        tried(Door("a", read, ("",), ("",), 1), "", kept)
    assert [where.partition(" ")[0] for where in kept] == ["HangError"]


def test_the_script_says_its_cases_and_its_seeds():
    script = Path(__file__).with_name("run.py")
    ran = subprocess.run([sys.executable, str(script), "--cases", "40", "--seed", "3", "--door", "ring"], capture_output=True, text=True, check=True)
    assert ran.stdout.startswith(("40 cases, seed 3", "the coverage-guided fuzzer is not installed"))
    assert "ring" in ran.stdout
    assert ran.stdout.splitlines()[-1].startswith("40 cases, 0 faults")


def test_the_grammars_share_all_cases():
    grammars = [door for door in EVERY if door.grammar]
    assert 1_000_000 <= sum(cases_of(door, 1_000_000, EVERY) for door in grammars) < 1_000_000 + len(grammars)
