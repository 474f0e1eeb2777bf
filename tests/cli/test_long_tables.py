"""Long tables of readings: in blocks as in one piece, constant memory, bad rows, a bar on a terminal."""

from __future__ import annotations

import csv
import io
import random
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import ROOT

from fits.files import readings
from fits.files.part import read_part
from fits.files.readings import read_readings
from fits.questions import judge as judging
from fits.questions.answer import Answer
from fits.report import data

HEAD = "part,feature.dimension,value,unit,uncertainty,instrument,temperature,station,direction"
GUIDE = """name = "guide"
[running.guide]
hole = "20.021/20.000"
shaft = "19.980/19.967"
clearance_at_least = "0.010"
clearance_at_most = "0.060"
"""
WIDE = "part,guide.hole [mm],guide.shaft [mm],uncertainty [mm],instrument,temperature [degC]"


@pytest.fixture
def files(tmp_path: Path):
    """A part file and a table of readings, by path."""

    def write(*rows: str, head: str = HEAD, part: str = GUIDE) -> tuple[str, str]:
        (tmp_path / "part.toml").write_text(part, encoding="utf-8")
        (tmp_path / "m.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
        return str(tmp_path / "part.toml"), str(tmp_path / "m.csv")

    return write


def bushes(count: int, seed: int = 1) -> list[str]:
    """Bushes of which the bore was read at two stations, some outside, some undecided."""
    pick = random.Random(seed)
    found = []
    for at in range(count):
        size = pick.uniform(19.995, 20.024)
        found += [f"bush {at},guide.hole,{size + pick.uniform(0, 0.001):.4f},mm,0.0015,bore gauge,20 degC,{station},x" for station in ("top", "end")]
    return found


@pytest.mark.parametrize("form", ["--json", "--csv", None])
@pytest.mark.parametrize("count", [3, 60])
def test_blocks_make_no_difference(fits, files, monkeypatch, form: str | None, count: int):
    paths = files(*bushes(count))
    more = [form] if form else []
    whole = fits("judge", *paths, *more)
    monkeypatch.setattr(readings, "BLOCK", 7)
    cut = fits("judge", *paths, *more)
    assert (cut.status, cut.out, cut.err) == (whole.status, whole.out, whole.err)
    part, table = paths
    judged = judging.judge(of := read_part(part), read_readings(table))
    answer = Answer(of.name, judged.verdict, (), of.states, judged.sources, info=of.info, units=of.units, judged=judged)
    if form:
        assert whole.out == (data.to_json(answer) if form == "--json" else data.to_csv(answer))


def test_a_long_table_shows_what_is_not_accepted_and_counts_all(fits, files, monkeypatch):
    monkeypatch.setattr(judging, "KEPT", 15)
    paths = files(*bushes(60))
    counts = fits("judge", *paths, "--json").json["judged"]["counts"]
    ran = fits("judge", *paths)
    assert sum(counts.values()) == 60
    assert f"{counts['accept']} accept" in ran.out.splitlines()[0]
    listed = [line for line in ran.out.splitlines() if line.startswith("  bush ")]
    assert len(listed) == 15
    assert not any(line.endswith("ACCEPT") for line in listed)
    assert "of those that aren't accepted; --csv and --json hold every part" in " ".join(ran.out.split())


def test_memory_does_not_grow_with_the_table(files, tmp_path: Path):
    """Ten times as many readings take at most a quarter more memory at the peak, in a process of their own."""
    code = ("import resource, sys; from fits.cli.main import main; main(sys.argv[1:]); "
            "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)")
    peaks = []
    for count in (2_000, 20_000):
        paths = files(*bushes(count))
        ran = subprocess.run([sys.executable, "-c", code, "judge", *paths, "--csv", "-o", str(tmp_path / "a.csv")],
                             capture_output=True, text=True, check=True, cwd=ROOT)
        peaks.append(int(ran.stdout))
        rows = list(csv.DictReader(io.StringIO((tmp_path / "a.csv").read_text(encoding="utf-8-sig"))))
        assert sum(row["row"] == "judged" for row in rows) == count
    assert peaks[1] <= 1.25 * peaks[0], peaks


def test_a_part_whose_rows_stand_far_apart_is_refused_in_a_long_table_only(fits, files, tmp_path: Path, monkeypatch):
    rows = bushes(10)
    apart = [*rows[1:], rows[0]]
    assert fits("judge", *files(*apart), "--json").json["judged"]["counts"] == fits("judge", *files(*rows), "--json").json["judged"]["counts"]
    monkeypatch.setattr(readings, "BLOCK", 4)
    target = tmp_path / "answer.csv"
    ran = fits("judge", *files(*apart), "--csv", "-o", str(target))
    assert (ran.status, ran.out, target.exists()) == (2, "", False)
    assert ran.err.rstrip().endswith('m.csv:21: part: "bush 0": other readings of this part stand far above, and a long table is read in pieces; sort the table by part')
    skipped = fits("judge", *files(*apart), "--skip-bad-rows")
    assert (skipped.status, skipped.out) == (2, "")


def test_a_fault_in_a_late_block_leaves_what_stood_there(fits, files, tmp_path: Path, monkeypatch):
    monkeypatch.setattr(readings, "BLOCK", 4)
    target = tmp_path / "answer.json"
    target.write_text("before", encoding="utf-8")
    rows = bushes(20)
    ran = fits("judge", *files(*rows[:-1], rows[-1].replace(",20", ",2o", 1)), "--json", "-o", str(target))
    assert (ran.status, ran.out) == (2, "")
    assert "m.csv:41: value:" in ran.err
    assert target.read_text(encoding="utf-8") == "before"
    assert not [one for one in tmp_path.iterdir() if "fits-part" in one.name]


BAD = [
    ("bush 1,guide.hole,abc,mm,0.001,mic,20 degC,,", "value"), ("bush 1,guide.hole,20.010,mm,,mic,20 degC,,", "uncertainty"), ("bush 1,guide.hole,20.010,mm,0,mic,20 degC,,", "above 0"),
    ("bush 1,guide.hole,nan,mm,0.001,mic,20 degC,,", "value"), ("bush 1,guide.hole,20.010,N,0.001,mic,20 degC,,", "value"), ("bush 1,guide.hole,20.010,,0.001,mic,20 degC,,", "needs a unit"),
    ("bush 1,guide.hole,20.010,mm,0.001,mic,,,", "temperature"), ("bush 1,guide.hole,20.010,mm,0.001,,20 degC,,", "instrument"), ("bush 1,guide.hole,20,010,mm,0.001,mic,20 degC,,", "cells"),
    ("bush 1,guide.hol,20.010,mm,0.001,mic,20 degC,,", "guide has no size hol"), ("bush 1,guide.hole,24.010,mm,0.001,mic,20 degC,,", "nowhere near its drawing"),
    ("bush 1,guide.hole,20.010,mm,0.001,mic,35 degC,,", "can't be corrected to 20 degC"), ("bush 1,guide.hole,20.010,in,0.001,mic,20 degC,,", "nowhere near its drawing"),
]


@pytest.mark.parametrize(("row", "says"), BAD)
@pytest.mark.parametrize("command", ["judge", "pair"])
def test_a_bad_row_is_one_line_and_its_part_is_left_out_when_asked(fits, files, command: str, row: str, says: str):
    """The whole part goes: judged by fewer readings than were taken it might pass."""
    good = ["bush 0,guide.hole,20.0100,mm,0.001,mic,20 degC,,", "pin 0,guide.shaft,19.9750,mm,0.001,mic,20 degC,,"]
    other = "bush 1,guide.hole,20.0100,mm,0.001,mic,20 degC,top,x"
    paths = files(good[0], other, row, good[1])
    ran = fits(command, *paths)
    assert (ran.status, ran.out) == (2, "")
    lines = ran.err.splitlines()
    assert len(lines) == 1
    assert says in lines[0]
    assert "m.csv:4: " in lines[0]
    skipped = fits(command, *paths, "--skip-bad-rows", "--json")
    assert skipped.status == 1
    assert skipped.err.startswith(f"skipped: {lines[0]}; bush 1 is left out")
    assert skipped.json["verdict"] == "not covered"
    found = skipped.json["judged"]["parts"] if command == "judge" else skipped.json["pairing"]["pairs"]
    names = [one["part"] for one in found] if command == "judge" else [name for one in found for name in (one["hole"], one["shaft"])]
    assert names == ["bush 0", "pin 0"]
    notes = skipped.json["judged" if command == "judge" else "pairing"]["notes"]
    assert any("a row of them is bad: bush 1" in text for text in notes)
    clean = fits(command, *files(*good), "--json")
    assert (clean.status, clean.json["verdict"]) == (0, "pass")


@pytest.mark.parametrize(("row", "says"), [
    ("b1,x,,0.001,mic,20", "guide.hole"), ("b1,,,0.001,mic,20", "no size stands in this row"), ("b1,20.01,19.97,,mic,20", "uncertainty"), ("b1,20.01,19.97,0.001,mic", "5 cells where the head has 6"),
    ("b1,20.01,19.97,-0.001,mic,20", "must be above 0"), ("b0,20.01,19.97,0.001,mic,20", "was read before, in line 2"),
])
def test_bad_rows_of_a_wide_table(fits, files, row: str, says: str):
    paths = files("b0,20.0100,19.9750,0.001,mic,20", row, "b2,20.0100,19.9750,0.001,mic,20", head=WIDE)
    ran = fits("judge", *paths)
    assert (ran.status, ran.out) == (2, "")
    assert all("m.csv:3: " in line for line in ran.err.splitlines())
    assert says in ran.err
    skipped = fits("judge", *paths, "--skip-bad-rows", "--json")
    assert (skipped.status, skipped.json["judged"]["counts"]) == (1, {"accept": 1 if row.startswith("b0") else 2})


@pytest.mark.parametrize("row", [",guide.hole,20.010,mm,0.001,mic,20 degC,,", "  ,guide.hole,20.010,mm,0.001,mic,20 degC,,"])
def test_a_row_of_nobody_is_never_skipped(fits, files, row: str):
    ran = fits("judge", *files(*bushes(2), row), "--skip-bad-rows")
    assert (ran.status, ran.out) == (2, "")
    assert "m.csv:6: part: nothing stands here" in ran.err
    assert "m.csv:6: this row can't be skipped" in ran.err


@pytest.mark.parametrize("command", ["judge", "pair"])
def test_nothing_left_is_said(fits, files, command: str):
    ran = fits(command, *files("b,guide.hole,x,mm,0.001,mic,20 degC,,"), "--skip-bad-rows")
    assert (ran.status, ran.out) == (2, "")
    assert "a row of each is bad" in ran.err or "no readings of both holes and shafts" in ran.err


@pytest.mark.parametrize("command", ["judge", "pair"])
@pytest.mark.parametrize(("content", "says"), [
    (b"", "the table is empty"), (b"\xef\xbb\xbf", "the table is empty"), (b"# only a note\n", "the table is empty"), (f"{HEAD}\n".encode(), "no reading in this table"),
    (f"{HEAD}\n".replace("uncertainty,", "").encode(), "missing column uncertainty"), (f"{HEAD},value\n".encode(), "this column stands twice"), (f'{HEAD}\n"b1,guide.hole\n'.encode(), "close every quote"),
    (HEAD.encode("utf-16"), "not UTF-8"), (f"{HEAD}\nb1,guide.hole,20.01\0,mm,0.001,mic,20 degC,,\n".encode(), "m.csv:2: "), (f"{HEAD},colour\n".encode(), "unknown column"),
])
def test_tables_that_are_none(fits, files, tmp_path: Path, command: str, content: bytes, says: str):
    part, table = files()
    Path(table).write_bytes(content)
    for more in ([], ["--skip-bad-rows"]) if says != "m.csv:2: " else ([],):
        ran = fits(command, part, table, *more)
        assert (ran.status, ran.out, len(ran.err.splitlines())) == (2, "", 1), ran.err
        assert says in ran.err


@pytest.mark.parametrize("command", ["judge", "pair"])
def test_the_same_table_as_spreadsheets_write_it(fits, files, command: str):
    rows = ['"bush\n0",guide.hole,20.0100,mm,0.001,mic,20 degC,,', "pin 0,guide.shaft,19.9750,mm,0.001,mic,20 degC,,"]
    part, table = files(*rows)
    usual = fits(command, part, table, "--json")
    assert usual.status == 0
    text = "\n".join([HEAD, *rows]) + "\n"
    for content in ("\ufeff" + text, text.replace("\n", "\r\n"), text.replace(",", ";"), "\ufeff" + text.replace(",", ";").replace("\n", "\r\n"), text.rstrip("\n"), text + "\n\n"):
        Path(table).write_bytes(content.encode())
        again = fits(command, part, table, "--json")
        assert (again.status, again.out, again.err) == (usual.status, usual.out, "")


class Screen(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("words", [["judge"], ["pair"], ["window", "guide.hole"], ["window", "guide"], ["choose", "guide"]])
def test_a_bar_on_a_terminal_once_it_takes_long(fits, files, monkeypatch, words: list[str]):
    from fits.report import progress

    part, table = files("b,guide.hole,20.0100,mm,0.001,mic,20 degC,,", "p,guide.shaft,19.9750,mm,0.001,mic,20 degC,,", part=GUIDE)
    args = [words[0], part, *([table] if words[0] in ("judge", "pair") else words[1:])]
    quiet = fits(*args)
    assert quiet.err == ""
    monkeypatch.setattr(progress, "AFTER", -1.0)
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    assert fits(*args).out == quiet.out
    assert "\x1b" in screen.getvalue()
