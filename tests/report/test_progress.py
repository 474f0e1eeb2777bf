"""The progress bar: after a second, on a terminal, nowhere else."""

from __future__ import annotations

import io
import subprocess
import sys

import pytest

from fits.report import progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def terminal(monkeypatch):
    """Puts a terminal in place of standard error once the test runs (pytest sets its own before)."""

    def put() -> Terminal:
        found = Terminal()
        monkeypatch.setattr(sys, "stderr", found)
        monkeypatch.setenv("TERM", "xterm")
        return found

    return put


def test_a_bar_once_it_takes_long(terminal, monkeypatch):
    monkeypatch.setattr(progress, "AFTER", -1.0)
    screen = terminal()
    with progress.Progress("drawing parts") as told:
        told(0.25)
        told(None)
        told(1.0)
    assert "drawing parts" in screen.getvalue()
    assert "25%" in screen.getvalue()


def test_nothing_within_the_first_second(terminal):
    screen = terminal()
    with progress.Progress("drawing parts") as told:
        told(0.25)
        told(1.0)
    assert screen.getvalue() == ""


def test_nothing_off_a_terminal_and_rich_stays_out():
    code = "import sys; from fits.report import progress as p; p.AFTER = -1.0\nwith p.Progress('x') as t: t(0.5)\nsys.exit('rich' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "", "")


def test_the_bar_stops_when_the_work_breaks(terminal, monkeypatch):
    monkeypatch.setattr(progress, "AFTER", -1.0)
    terminal()
    bar = progress.Progress("judging")

    def work() -> None:
        with bar as told:
            told(0.5)
            raise ValueError("broken")

    with pytest.raises(ValueError, match="broken"):
        work()
    assert not bar._bar.live.is_started
