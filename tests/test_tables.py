"""Tables: their form, their sources, and the refusal of malformed ones."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from fits import tables
from fits.errors import TableError

GOOD = """# table: a table
# publication: a book, 1st ed.
# source S1: the book, p. 1
size,value,evidence,source
mm,um,,
1,2,seen,S1
"""
ROOT = Path(__file__).parent.parent


def test_a_good_table():
    table = tables.parse(GOOD, "good")
    assert table.rows == ({"size": "1", "value": "2", "evidence": "seen", "source": "S1"},)
    assert str(table.source(table.rows[0], "size")) == "size: the book, p. 1"


@pytest.mark.parametrize(("old", "new", "says"), [
    ("# table: a table\n", "", "the head needs"), ("1,2,seen,S1", "1,2,seen", "3 cells, 4 are due"),
    ("1,2,seen,S1", "1,x,seen,S1", "a number is due"), ("1,2,seen,S1", "1,nan,seen,S1", "a number is due"),
    ("seen,S1", "guessed,S1", "evidence is one of"), ("seen,S1", "seen,S2", "no such source"),
    ("size,value", "size,size", "no column twice"), ("1,2,seen,S1\n", "", "rows are due"),
])
def test_malformed_tables_are_refused_at_their_line(old: str, new: str, says: str):
    with pytest.raises(TableError, match=says) as error:
        tables.parse(GOOD.replace(old, new), "bad")
    assert str(error.value).startswith("bad:")


def test_a_missing_table_is_refused():
    with pytest.raises(TableError, match="can't read the table"):
        tables.load("no/such")


@pytest.mark.parametrize("name", tables.names())
def test_every_row_has_its_evidence_and_source(name: str):
    table = tables.load(name)
    assert table.rows
    for row in table.rows:
        assert row["evidence"] in tables.EVIDENCE
        assert table.sources[row["source"]]
    assert set(table.sources) == {row["source"] for row in table.rows}


def test_every_table_is_listed_in_its_readme():
    text = (ROOT / "tables" / "README.md").read_text(encoding="utf-8")
    assert all(f"`{name}.csv`" in text for name in tables.names())


def test_tables_travel_inside_the_wheel(tmp_path: Path):
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT, check=True, capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        inside = archive.namelist()
        archive.extractall(tmp_path / "site")
    assert not any(name.startswith("tables/") for name in inside)
    code = "import fits, fits.tables as t; print(t.folder().name, len(t.names()), fits.limits(['25 H7']).verdict)"
    ran = subprocess.run([sys.executable, "-c", code], cwd=tmp_path / "site", check=True, capture_output=True, text=True)
    assert ran.stdout.split() == ["_tables", str(len(tables.names())), "pass"]
