"""README and examples: commands run, printed answers are compared."""

from __future__ import annotations

import re
import shlex

import pytest
from conftest import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def sessions() -> list[tuple[str, str]]:
    blocks = re.findall(r"```text\n\$ (fits [^\n]+)\n(.*?)```", README, re.DOTALL)
    assert len(blocks) >= 2
    return blocks


@pytest.mark.parametrize(("command", "printed"), sessions())
def test_printed_sessions(command: str, printed: str, fits):
    out = fits(*shlex.split(command)[1:]).out
    shown = printed.removesuffix("...\n")
    assert out.startswith(shown)
    assert (out == shown) is (not printed.endswith("...\n"))


def test_python_block_prints_what_it_says(capsys):
    (code,) = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    exec(compile(code, "README", "exec"), {})
    assert "It prints `fail`" in README
    assert capsys.readouterr().out == "fail\n"


def test_the_two_commands_are_there():
    assert "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/fits check examples/hand_pump.toml" in README
    assert "pip install -q -e \".[test]\" && .venv/bin/pytest" in README


def test_every_command_is_in_the_readme():
    from fits.cli.main import COMMANDS

    assert all(f"`fits {name}" in README for name in COMMANDS)


@pytest.mark.parametrize("name", ["hand_pump", "lid", "pump_plug", "water_sampler"])
def test_examples_against_the_answer_beside_them(name: str, fits):
    """Guards against unnoticed change; the numbers themselves are checked in references/."""
    expected = (ROOT / "examples" / f"{name}.answer.txt").read_text(encoding="utf-8")
    assert fits("check", f"examples/{name}.toml").out == expected


def test_public_names():
    import fits

    assert fits.__all__ == sorted(fits.__all__)
    for name in fits.__all__:
        assert getattr(fits, name) is not None
    assert set(fits.__all__) <= set(dir(fits))
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        fits.nothing  # noqa: B018
