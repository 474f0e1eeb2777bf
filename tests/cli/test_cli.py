"""The command line: statuses, streams, bad input, through the real entry point."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from fits.cli.main import COMMANDS

PUMP, SAMPLER = "examples/hand_pump.toml", "examples/water_sampler.toml"
JOINT = ["press", "--hole", "40 H7", "--shaft", "40 s6", "--hub-outside", "80", "--hub-material",
         '{youngs_modulus = "207 GPa", poisson = 0.292, yield_strength = "350 MPa"}', "--shaft-material",
         '{youngs_modulus = "207 GPa", poisson = 0.292, yield_strength = "350 MPa"}', "--roughness-hole", "0 um", "--roughness-shaft", "0 um"]


def test_statuses(fits):
    assert fits("check", PUMP).status == 0
    assert fits("check", SAMPLER).status == 1
    assert fits(*JOINT).status == 0
    assert fits("press", "--hole", "40 H7").status == 2
    assert fits("limits", "25 H7").status == 0


def test_the_real_entry_point(process):
    ran = process("check", PUMP)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("PASS: bench hand pump")
    assert process("check", SAMPLER).status == 1
    ran = process("limits", "25 H77")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == '"25 H77": no grade 77; grades run from 01 to 18\n'


def test_no_arguments_help_on_stderr(fits):
    ran = fits()
    assert (ran.status, ran.out) == (2, "")
    assert "Usage: fits" in ran.err


def test_version(fits):
    assert fits("--version").out.startswith("fits ")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example_that_runs(command: str, fits):
    import shlex

    long, short = fits(command, "--help"), fits(command, "-h")
    assert long == short
    assert long.status == 0
    lines = long.out.splitlines()
    assert len(lines) <= 76
    assert all(len(line) <= 80 for line in lines)
    text = long.out.replace("\\\n", " ")
    examples = [line.strip() for line in text.splitlines() if line.strip().startswith("fits ")]
    assert examples
    for example in examples:
        words = shlex.split(example)[1:]
        if "-o" in words:
            continue
        assert fits(*words).status in (0, 1), example


@pytest.mark.parametrize(("args", "says"), [
    (["pres"], "Did you mean 'press'?"), (["press", "--hoel", "x"], "--hole"), (["limits"], "Missing argument"),
    (["limits", "25,0 H7"], "decimal comma"), (["limits", "25 H7", "--units", "cm"], '--units: "cm": must be mm or in'),
    (["limits", "25.013"], "a size with a tolerance is due"), (["check", "none.toml"], "No such file"), (["check", "examples"], "this is a folder"),
    (["metals", "316l"], 'did you mean "316L"?'), (["limits", "25 H7", "--json", "--csv"], "--json or --csv, not both"),
    ([*JOINT, "--state", "hot"], "--state: \"hot\": a name and a colon are due"), ([*JOINT, "--state", "a: 3 degC", "--state", "a: 4 degC"], "two states of one name"),
    ([*JOINT, "--state", "p: 20 degC, proof"], "--state p.pressure: \"p: 20 degC, proof\": missing: a proof test is made at a pressure"),
    ([*JOINT, "--ends", "opne"], '--ends: "opne": must be one of open, liner, body, stuck; did you mean "open"?'),
    ([*JOINT, "--axial-load", "800"], "--axial-load: \"800\": a force needs a unit"), ([*JOINT, "--shaft-bore", "41"], "--shaft-bore: \"41 mm\": must stay below shaft"),
    ([*JOINT, "--length", "5 N"], "--length: \"5 N\": a length is due"), ([*JOINT, "--torque", "nan N*m"], "not a finite number"),
    ([*JOINT, "--hub-material", "{youngs_modulus = 3"], "not a TOML inline table"), ([*JOINT, "--hub-material", "{poisson = 0.3}"], "--hub-material.youngs_modulus: missing"),
    ([*JOINT, "--chill-to", "100 degF"], '--chill-to: "100 degF": must be at least -273.15 degC and at most 20 degC\n'), (["gland"], "gland has several forms: say which; fits gland face|piston|rod|"),
    (["start", "gland"], '"gland": it has several forms: say which; gland face or gland piston or gland rod'),
])
def test_bad_input_is_one_line_each_and_status_2(fits, args: list[str], says: str):
    ran = fits(*args)
    assert ran.status == 2
    assert ran.out == ""
    assert says in ran.err, ran.err
    assert "Traceback" not in ran.err
    assert all(line.strip() for line in ran.err.splitlines())


@pytest.mark.parametrize(("args", "behind"), [
    (["limits", "-25", "H7"], True), (["rings", "-214"], True), (["limits", "-x"], False), (["limits", "--25"], False),
])
def test_a_number_below_zero_is_no_option(fits, args: list[str], behind: bool):
    ran = fits(*args)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("No such option: -")
    assert ran.err.endswith("; a value that begins with a minus stands after --, last\n") is behind
    assert fits("limits", "--", "-25 H7").err == '"-25 H7": a size is above 0\n'


def test_all_missing_options_at_once(fits):
    ran = fits("press", "--hole", "16 H77")
    assert len(ran.err.splitlines()) == 5


def test_the_same_words_from_the_shell_and_from_a_file(fits, tmp_path: Path):
    path = tmp_path / "part.toml"
    path.write_text('[running.a]\nhole = "12 H77"\nshaft = "12 f7"\nhub_material = "6061"\n')
    from_file = [line.split(": ", 2)[2] for line in fits("check", str(path)).err.splitlines()]
    from_shell = [line.split(": ", 1)[1] for line in fits("running", "--hole", "12 H77", "--shaft", "12 f7", "--hub-material", "6061").err.splitlines()]
    assert from_file == from_shell


def test_output_to_a_file_is_complete_or_absent(fits, tmp_path: Path):
    target = tmp_path / "answer.json"
    ran = fits("check", PUMP, "--json", "-o", str(target))
    assert (ran.status, ran.out) == (0, "")
    assert json.loads(target.read_text())["verdict"] == "pass"
    ran = fits("check", PUMP, "-o", str(tmp_path / "none" / "x"))
    assert ran.status == 2
    assert "can't write the file" in ran.err
    bad = fits("check", "none.toml", "-o", str(tmp_path / "bad.json"))
    assert bad.status == 2
    assert not (tmp_path / "bad.json").exists()


def test_standard_input(process):
    ran = subprocess.run([sys.executable, "-m", "fits", "check", "-"], input='[running.a]\nhole = "12 H7"\nshaft = "12 f7"\nclearance_at_least = "0.01"\n',
                         capture_output=True, text=True, cwd=Path(__file__).parent.parent.parent, check=False)
    assert ran.returncode == 0


def test_a_closed_pipe_is_quiet_and_never_1():
    command = f"{sys.executable} -m fits metals | head -n 1; echo ${{PIPESTATUS[0]}}"
    ran = subprocess.run(["bash", "-c", command], capture_output=True, text=True, cwd=Path(__file__).parent.parent.parent, check=True)
    assert ran.stderr == ""
    assert ran.stdout.splitlines()[-1] in ("0", "141")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
@pytest.mark.parametrize("args", [["check", PUMP], ["press", "-h"], ["--version"]])
def test_a_full_disk_is_status_2(args: list[str]):
    with Path("/dev/full").open("w") as full:
        ran = subprocess.run([sys.executable, "-m", "fits", *args], stdout=full, stderr=subprocess.PIPE, text=True,
                             cwd=Path(__file__).parent.parent.parent, check=False)
    assert ran.returncode == 2
    assert ran.stderr == "the answer could not be delivered: No space left on device\n"


def test_an_unexpected_exception_is_status_2(fits, monkeypatch):
    import fits.questions.limits as module

    def broken(*args, **kwargs):
        raise ZeroDivisionError("oops")

    monkeypatch.setattr(module, "parse_size", broken)
    ran = fits("limits", "25 H7")
    assert ran.status == 2
    assert ran.err == "a fault of fits itself, please report it: ZeroDivisionError: oops\n"


def test_interrupted_is_130(fits, monkeypatch):
    import fits.questions.limits as module

    def stopped(*args, **kwargs):
        raise KeyboardInterrupt

    monkeypatch.setattr(module, "parse_size", stopped)
    assert fits("limits", "25 H7").status == 130


def test_a_small_question_imports_nothing_heavy():
    code = ("import sys; from fits.cli.main import main; status = main(sys.argv[1:]); "
            "heavy = [n for n in ('pint', 'pandas', 'scipy', 'rich.table', 'jinja2', 'mpmath', 'weasyprint', 'cairosvg') if n in sys.modules]; "
            "print(status, heavy, file=sys.stderr)")
    for args in (JOINT, ["limits", "25 H7/g6"], ["check", PUMP], ["check", PUMP, "--json"], ["check", PUMP, "--csv"],
                 ["window", PUMP, "liner.shaft"], ["choose", PUMP, "plunger"]):
        ran = subprocess.run([sys.executable, "-c", code, *args], capture_output=True, text=True, check=True,
                             cwd=Path(__file__).parent.parent.parent)
        assert ran.stderr.strip() == "0 []"


def test_limits_imports_no_numpy():
    code = "import sys; from fits.cli.main import main; main(['limits', '25 H7/g6']); print('numpy' in sys.modules, file=sys.stderr)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stderr.strip() == "False"


def test_the_tables_folder_beside_the_package_is_used_here(fits):
    ran = fits("tables", "--json")
    assert ran.json["features"]["iso286/tolerance_grades"]["values"]["rows"]["states"]["as_made"]["min"] == 404


def test_inch_notation_and_output(fits):
    ran = fits("limits", "0.5005/0.5000", "25 H7", "--units", "in")
    assert "0.50050" in ran.out
    assert "0.98508" in ran.out
    os.environ.pop("FORCE_COLOR", None)


def test_kind_of_fit_is_said(fits):
    for text, word in (("25 H7/g6", "clearance fit"), ("25 H7/k6", "transition fit"), ("25 H7/s6", "interference fit")):
        assert f"{text}: {word}" in fits("limits", text).out


def test_workings_from_the_shell(fits):
    ran = fits(*JOINT, "--workings")
    assert "Workings" in ran.out
    assert "hub_modulus" in ran.out


def test_a_stream_that_knows_no_code_page(monkeypatch):
    """Anything with ``write`` may stand for the screen."""
    import io

    from fits.cli.main import main

    screen = io.StringIO()
    monkeypatch.setattr(sys, "stdout", screen)
    assert main(["--version"]) == 0
    assert screen.getvalue().startswith("fits 0.")
