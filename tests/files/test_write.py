"""The one writer: complete or not there."""

from __future__ import annotations

from pathlib import Path

import pytest

from fits.errors import DeliveryError
from fits.files import write as module
from fits.files.write import SUFFIX, gathered, write


def test_writes_and_leaves_nothing_beside(tmp_path: Path):
    write(str(tmp_path / "a.json"), "é\n")
    assert (tmp_path / "a.json").read_bytes() == "é\n".encode()
    assert [path.name for path in tmp_path.iterdir()] == ["a.json"]


def test_a_table_begins_with_the_mark_by_which_spreadsheets_know_utf_8(tmp_path: Path):
    for content in ("±\n", "±\n".encode(), iter(["±", "\n"])):
        write(str(tmp_path / "a.csv"), content)
        assert (tmp_path / "a.csv").read_bytes() == b"\xef\xbb\xbf" + "±\n".encode()


def test_a_folder_that_is_not_there(tmp_path: Path):
    with pytest.raises(DeliveryError, match="can't write the file: No such file"):
        write(str(tmp_path / "none" / "a.json"), "x")


def test_a_folder_in_place_of_the_file(tmp_path: Path):
    (tmp_path / "a").mkdir()
    for folder in (str(tmp_path / "a"), "/"):
        with pytest.raises(DeliveryError, match="can't write the file: Is a directory"):
            write(folder, "x")
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_what_stood_there_stays_when_writing_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "a.json"
    path.write_text("old")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.os, "fsync", full)
    with pytest.raises(DeliveryError, match="No space left on device"):
        write(str(path), "new")
    monkeypatch.undo()
    assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["a.json"]


@pytest.mark.parametrize("error", [KeyboardInterrupt, ValueError])
def test_pieces_that_break_off_leave_what_stood_there(tmp_path: Path, error: type[BaseException]):
    def pieces():
        yield "first"
        raise error

    target = tmp_path / "out.csv"
    target.write_text("before", encoding="utf-8")
    with pytest.raises(error):
        write(str(target), pieces())
    assert [(one.name, one.read_text(encoding="utf-8")) for one in tmp_path.iterdir()] == [("out.csv", "before")]


def test_pieces_arrive_whole(tmp_path: Path):
    write(str(tmp_path / "out.txt"), iter(["a\n", "b\n"]))
    assert (tmp_path / "out.txt").read_bytes() == b"a\nb\n"
    assert "".join(gathered(iter(["a\n", "µ" * 3_000_000, "b\n"]))) == "a\n" + "µ" * 3_000_000 + "b\n"


def test_gathered_pieces_that_break_off_never_come():
    def pieces():
        yield "first"
        raise ValueError("broken")

    with pytest.raises(ValueError, match="broken"):
        gathered(pieces())


def test_what_a_killed_run_left_is_taken_away(tmp_path: Path):
    (tmp_path / f"a.csv.1{SUFFIX}").write_text("half")
    (tmp_path / f"b.csv.1{SUFFIX}").write_text("of another answer")
    with (tmp_path / f"a.csv.2{SUFFIX}").open("wb") as held:
        assert module._hold(held)
        write(str(tmp_path / "a.csv"), "x")
    names = {one.name for one in tmp_path.iterdir()}
    assert names == {"a.csv", f"a.csv.2{SUFFIX}", f"b.csv.1{SUFFIX}"}
