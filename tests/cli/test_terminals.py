"""The report on the terminals people have: 80 and 200 columns, a pipe, no colour, Windows code pages."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest
from conftest import ROOT

PUMP, SAMPLER = "examples/hand_pump.toml", "examples/water_sampler.toml"
COMMANDS = [
    ["check", PUMP], ["check", SAMPLER, "--workings"], ["limits", "25 ±0.1", "25 H7/g6"], ["window", PUMP, "liner"], ["choose", PUMP, "plunger"],
    ["metals"], ["tables"], ["press", "-h"], ["limits", "25 ∅7"],
]


def run(args: list[str], **environment: str) -> subprocess.CompletedProcess[bytes]:
    plain = {name: value for name, value in os.environ.items() if name not in ("FORCE_COLOR", "NO_COLOR", "COLUMNS")}
    return subprocess.run([sys.executable, "-m", "fits", *args], capture_output=True, cwd=ROOT, check=False,
                          env={**plain, "PYTHONUTF8": "0", **environment})


@pytest.mark.parametrize("args", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("coding", ["cp1252", "cp437", "cp850", "ascii"])
def test_any_code_page_shows_it(args, coding):
    if (args[-1], coding) == ("-h", "ascii"):
        pytest.skip("typer writes help to an ascii stream as UTF-8")
    wide, narrow = run(args, PYTHONIOENCODING="utf-8"), run(args, PYTHONIOENCODING=coding)
    assert narrow.returncode == wide.returncode
    for shown, whole in ((narrow.stdout, wide.stdout), (narrow.stderr, wide.stderr)):
        text = shown.decode(coding)
        assert "Traceback" not in text
        assert "Error" not in text
        # No letter became a question mark, but for one that no plain letter stands for.
        lost = text.count("?") - whole.decode("utf-8").count("?")
        assert lost == whole.decode("utf-8").count("∅")
        assert len(text.splitlines()) == len(whole.decode("utf-8").splitlines())


def test_signs_of_a_tolerance_stay_readable():
    text = run(["check", PUMP], PYTHONIOENCODING="ascii").stdout.decode("ascii")
    assert "12 +-0.02" in text
    assert "Lame" in text


@pytest.mark.parametrize("args", [["check", PUMP], ["check", SAMPLER], ["window", PUMP, "liner.shaft"]], ids=" ".join)
def test_the_same_at_80_and_200_columns_and_without_colour(args):
    """In a pipe nothing depends on the terminal: no wrap by its width, no colour."""
    plain = run(args)
    assert b"\x1b" not in plain.stdout
    for environment in ({"COLUMNS": "80"}, {"COLUMNS": "200"}, {"NO_COLOR": "1"}, {"NO_COLOR": "1", "FORCE_COLOR": "1"}, {"TERM": "dumb"}):
        assert run(args, **environment).stdout == plain.stdout
    coloured = run(args, FORCE_COLOR="1").stdout
    assert b"\x1b" in coloured


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
@pytest.mark.parametrize("columns", [80, 200])
def test_on_a_terminal_only_the_colour_is_added(columns):
    import fcntl
    import pty
    import struct
    import termios

    leader, follower = pty.openpty()
    fcntl.ioctl(follower, termios.TIOCSWINSZ, struct.pack("HHHH", 50, columns, 0, 0))
    environment = {name: value for name, value in os.environ.items() if name not in ("FORCE_COLOR", "NO_COLOR", "COLUMNS")}
    with subprocess.Popen([sys.executable, "-m", "fits", "check", PUMP], stdout=follower, cwd=ROOT, env={**environment, "TERM": "xterm"}) as ran:
        os.close(follower)
        shown = b""
        while True:
            try:
                got = os.read(leader, 65536)
            except OSError:
                break
            if not got:
                break
            shown += got
    os.close(leader)
    assert ran.returncode == 0
    plain = re.sub(rb"\x1b\[[0-9;]*m", b"", shown).replace(b"\r\n", b"\n")
    assert plain == run(["check", PUMP]).stdout
    assert b"\x1b[1;32mPASS" in shown


@pytest.mark.parametrize(("args", "coloured"), [
    (["compare", PUMP, SAMPLER], b"COMPARE: \x1b[1;32mPASS\x1b[0m -> \x1b[1;31mFAIL\x1b[0m"),
    (["odds", SAMPLER, "--samples", "64"], b"\x1b[1;33mNOT COVERED\x1b[0m"),
], ids=["compare", "odds"])
def test_colour_is_all_that_is_added(args, coloured):
    plain, shown = run(args).stdout, run(args, FORCE_COLOR="1").stdout
    assert coloured in shown
    assert re.sub(rb"\x1b\[[0-9;]*m", b"", shown) == plain
