"""Shared fixtures: the command line in process and as a process, a joint of plain numbers."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from hypothesis import settings

from fits.cli.main import main

# It needs the coverage-guided fuzzer, which is an extra of its own.
collect_ignore = ["fuzz/guided.py"]

settings.register_profile("default", deadline=None, max_examples=60, derandomize=True)
settings.load_profile("default")

ROOT = Path(__file__).parent.parent


class Ran(NamedTuple):
    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


@pytest.fixture
def fits(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    """Run fits in this process, from the checkout's folder."""
    monkeypatch.chdir(ROOT)
    monkeypatch.delenv("FORCE_COLOR", raising=False)

    def run(*args: str) -> Ran:
        status = main(list(args))
        captured = capsys.readouterr()
        return Ran(status, captured.out, captured.err)

    return run


@pytest.fixture
def process() -> Callable[..., Ran]:
    """Run fits through its real entry point."""

    def run(*args: str, **more: Any) -> Ran:
        done = subprocess.run(
            [sys.executable, "-m", "fits", *args],
            capture_output=True, text=True, cwd=more.pop("cwd", ROOT), check=False, encoding="utf-8", **more,
        )
        return Ran(done.returncode, done.stdout, done.stderr)

    return run
