"""Where people work: a file to start from, the schema, completion in the shells, start-up."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import ROOT

from fits.cli.main import COMMANDS
from fits.features.feature import declared
from fits.features.kinds import KINDS, kind
from fits.files.part import read_part


@pytest.mark.parametrize("name", KINDS)
def test_a_started_file_runs_as_it_is(name: str, process, tmp_path: Path):
    ran = process("start", *name.split())
    assert (ran.status, ran.err) == (0, "")
    path = tmp_path / "started.toml"
    path.write_text(ran.out, encoding="utf-8")
    checked = process("check", str(path))
    assert checked.status in (0, 1), checked.err
    assert checked.err == ""
    assert len(read_part(str(path)).features) == 1


@pytest.mark.parametrize("name", KINDS)
def test_every_field_stands_in_it_with_its_help_and_what_is_given_is_marked(name: str, fits):
    text = fits("start", *name.split()).out
    lines = text.splitlines()
    for field, mark in declared(kind(name)).items():
        at = next(i for i, line in enumerate(lines) if line.removeprefix("#").startswith(f"{field} = "))
        told = f"{lines[at - 1]} {lines[at]}"
        assert mark.help in told
        if not lines[at].startswith("#"):
            assert "invented" in told
    assert all(len(line) <= 120 for line in lines)


def test_what_is_started_is_what_the_example_says(fits):
    """The values are those that the command of the kind shows, which runs in another test."""
    text = fits("start", "running").out
    assert 'hole = "12 H7"' in text
    assert 'clearance_at_least = "0.005"' in text
    assert "[states.hot]" in text


def test_a_kind_that_is_none(fits):
    ran = fits("start", "pres")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == '"pres": unknown kind of feature; did you mean "press"?\n'
    assert fits("completion", "zhs").err == '"zhs": must be one of bash, zsh, fish; did you mean "zsh"?\n'


def test_the_script_of_each_shell(process):
    for shell, says in (("bash", "complete -o default -F _fits_completion fits"), ("zsh", "#compdef fits"), ("fish", "complete --command fits")):
        ran = process("completion", shell)
        assert (ran.status, ran.err) == (0, "")
        assert says in ran.out
        assert f"_FITS_COMPLETE=complete_{shell}" in ran.out


def asked(shell: str, words: str, **more: str) -> list[str]:
    """What a shell is told of a line, the cursor behind its last word."""
    count = len(words.split(" ")) - 1
    environment = {**os.environ, "_FITS_COMPLETE": f"complete_{shell}", "COMP_WORDS": words, "COMP_CWORD": str(count), "_TYPER_COMPLETE_ARGS": words, **more}
    ran = subprocess.run([sys.executable, "-m", "fits"], env=environment, capture_output=True, text=True, encoding="utf-8", cwd=ROOT, check=False)
    assert ran.stderr == ""
    return [line for line in ran.stdout.splitlines() if line]


@pytest.mark.parametrize(("line", "offered"), [
    ("fits pr", ["press"]), ("fits ", list(COMMANDS)), ("fits --v", ["--version"]), ("fits press --hub-o", ["--hub-outside"]),
    ("fits press --ends bo", ["body"]), ("fits press --hub-material 6061", ["6061-T6"]), ("fits press --units ", ["mm", "in"]),
    ("fits start r", ["running", "reamed"]), ("fits start gl", ["gland"]), ("fits start gland ", ["face", "piston", "rod", "dovetail", "triangular"]),
    ("fits start gland p", ["piston"]), ("fits start press ", []), ("fits judge a b --pi", ["--picture"]), ("fits completion z", ["zsh"]), ("fits check exa", []), ("fits nothing x", []),
    # A word with spaces stays one word.
    ("fits press --assembly pressed", ["pressed", "pressed\\ on\\ oil"]),
])
def test_bash_is_offered(line: str, offered: list[str]):
    assert asked("bash", line) == offered


def test_zsh_and_fish_are_offered_the_same_with_its_help():
    assert asked("zsh", "fits star") == [f'_arguments \'*: :(("start":"{COMMANDS["start"][1]}"))\'']
    assert asked("fish", "fits star", _TYPER_COMPLETE_FISH_ACTION="get-args") == [f"start\t{COMMANDS['start'][1]}"]
    assert asked("zsh", "fits check exa") == ["_files"]


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
def test_in_a_real_bash(tmp_path: Path):
    tool = tmp_path / "fits"
    tool.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m fits "$@"\n', encoding="utf-8")
    tool.chmod(0o755)
    script = f'''
PATH="{tmp_path}:$PATH"
source <(fits completion bash)
COMP_WORDS=(fits press --ends li); COMP_CWORD=3
_fits_completion fits
printf '%s\\n' "${{COMPREPLY[@]}}"
complete -p fits
'''
    ran = subprocess.run(["bash", "--norc", "-c", script], capture_output=True, text=True, cwd=ROOT, check=False, env={**os.environ, "PYTHONPATH": str(ROOT)})
    assert ran.stdout.splitlines() == ["liner", "complete -o default -F _fits_completion fits"]
    assert ran.stderr == ""


@pytest.mark.skipif(shutil.which("fish") is None, reason="needs fish")
def test_in_a_real_fish(tmp_path: Path):
    tool = tmp_path / "fits"
    tool.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m fits "$@"\n', encoding="utf-8")
    tool.chmod(0o755)
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PATH": f"{tmp_path}:{os.environ['PATH']}", "HOME": str(tmp_path)}
    script = 'fits completion fish | source; complete --do-complete "fits start gland p"; complete --do-complete "fits press --ends "'
    ran = subprocess.run(["fish", "--no-config", "-c", script], capture_output=True, text=True, cwd=ROOT, check=False, env=environment)
    assert sorted(line.partition("\t")[0] for line in ran.stdout.splitlines()) == ["body", "liner", "open", "piston", "stuck"]


@pytest.mark.skipif(shutil.which("zsh") is None, reason="needs zsh")
def test_zsh_reads_its_script(process, tmp_path: Path):
    path = tmp_path / "_fits"
    path.write_text(process("completion", "zsh").out, encoding="utf-8")
    ran = subprocess.run(["zsh", "-f", "-n", str(path)], capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


@pytest.mark.parametrize("args", [["start", "press"], ["completion", "bash"], ["check", "examples/hand_pump.toml"], ["compare", "examples/hand_pump.toml", "examples/water_sampler.toml"], ["--help"], ["--version"]], ids=" ".join)
def test_plain_commands_import_nothing_heavy(args: list[str]):
    code = (
        "import sys; from fits.cli.main import main; main(sys.argv[1:]); "
        "print(sorted({'pandas', 'scipy', 'jinja2', 'pint', 'rich', 'jsonschema'} & set(sys.modules)), file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", code, *args], capture_output=True, text=True, cwd=ROOT, check=True)
    assert ran.stderr == "[]\n"


def test_the_study_in_cells_runs(tmp_path: Path):
    """As a script, from any folder; what the library says is what the command says."""
    ran = subprocess.run([sys.executable, str(ROOT / "examples" / "pump_study.py")], capture_output=True, text=True, encoding="utf-8", cwd=tmp_path, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")
    lines = ran.stdout.splitlines()
    checked = subprocess.run([sys.executable, "-m", "fits", "check", "examples/hand_pump.toml"], capture_output=True, text=True, encoding="utf-8", cwd=ROOT, check=True).stdout
    rules = [line for line in lines if " pass " in line]
    assert len(rules) == checked.count("\n  PASS  ")
    for line in rules:
        assert re.search(rf"^  PASS  {re.escape(line[9:39].strip())}\*? ", checked, re.MULTILINE)
    assert any(line.startswith("16.060/16.050: pass; 16.070/16.060: ") for line in lines)
    assert sum("contact pressure" in line for line in lines) == 5
    text = (ROOT / "examples" / "pump_study.py").read_text(encoding="utf-8")
    assert text.startswith("# %% [markdown]")


def test_a_table_for_a_spreadsheet(process, tmp_path: Path):
    """UTF-8 with its mark, dot decimals, a unit beside every number."""
    import csv

    assert process("check", "examples/hand_pump.toml", "--csv", "-o", str(tmp_path / "pump.csv")).status == 0
    raw = (tmp_path / "pump.csv").read_bytes()
    assert raw.startswith(b"\xef\xbb\xbf")
    assert raw.removeprefix(b"\xef\xbb\xbf").decode() == process("check", "examples/hand_pump.toml", "--csv").out
    with (tmp_path / "pump.csv").open(encoding="utf-8-sig", newline="") as file:
        found = list(csv.DictReader(file))
    numbers = [(row, row[key]) for row in found for key in ("least", "greatest", "limit", "margin") if row[key]]
    assert len(numbers) > 100
    for row, text in numbers:
        assert str(float(text)) == text or "e" in text
        assert row["unit"]
    assert any("±" in row["text"] for row in found)
    # No cell that a spreadsheet would take for a formula.
    assert not [cell for row in found for cell in row.values() if cell[:1] in ("=", "@", "+")]


def test_what_no_shell_asks():
    environment = {name: value for name, value in os.environ.items() if name not in ("COMP_WORDS", "COMP_CWORD")}
    for question in ("complete_bash", "complete_ksh", "nonsense"):
        ran = subprocess.run([sys.executable, "-m", "fits"], env={**environment, "_FITS_COMPLETE": question}, capture_output=True, text=True, cwd=ROOT, check=False)
        assert (ran.returncode, ran.stdout) == (1, "")
        assert "Traceback" not in ran.stderr
    # An empty variable asks nothing: the command is answered as ever.
    ran = subprocess.run([sys.executable, "-m", "fits", "limits", "25 H77"], env={**environment, "_FITS_COMPLETE": ""}, capture_output=True, text=True, cwd=ROOT, check=False)
    assert (ran.returncode, ran.stderr) == (2, '"25 H77": no grade 77; grades run from 01 to 18\n')


def test_metals_are_offered_by_name_and_a_free_text_by_nothing():
    assert asked("bash", "fits press --hub-material 7075") == ["7075-T6"]
    assert asked("bash", "fits press --shaft 1") == []
