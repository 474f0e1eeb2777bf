"""Bare lengths beside inches: the same question of a file, the shell and a table."""

from __future__ import annotations

from pathlib import Path

import pytest

HEAD = "name,hole{0},shaft{1},hub_material,shaft_material,clearance_at_least\n"
ROW = "guide,{0},{1},6061-T6,316L,{2}\n"


@pytest.mark.parametrize(("head", "row", "said"), [
    # The least clearance is 0.3 thou; as 0.001 mm the wish would hold.
    ((" [in]", " [in]"), ("0.5000/0.4997", "0.4994/0.4991", "0.0010"), '"clearance_at_least 0.001": missing beside hole [in]'),
    (("", ""), ("0.5000/0.4997 in", "0.4994/0.4991 in", "0.0010"), '"clearance_at_least 0.001": missing beside 0.4997 in'),
    (("", " [thou]"), ("0.5000/0.4997", "499.4/499.1", "25 um"), '"hole 0.5000/0.4997": missing beside shaft [thou]'),
])
def test_a_table_of_inches_is_asked_what_its_bare_lengths_are(fits, tmp_path: Path, head, row, said: str):
    path = tmp_path / "joints.csv"
    path.write_text(HEAD.format(*head) + ROW.format(*row), encoding="utf-8")
    ran = fits("batch", "running", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == f"{path}: --units: {said}: is it mm or inches?; units are mm or in\n"
    assert fits("batch", "running", str(path), "--units", "in").status == 1
    answer = tmp_path / "answer.csv"
    assert fits("batch", "running", str(path), "-o", str(answer)).status == 2
    assert not answer.exists()


def test_a_bare_length_in_a_later_row_is_asked_too_and_so_are_states(fits, tmp_path: Path):
    path = tmp_path / "joints.csv"
    in_inches = ROW.format("0.5000/0.4997 in", "0.4994/0.4991 in", "0.0002 in")
    path.write_text(HEAD.format("", "") + in_inches, encoding="utf-8")
    assert fits("batch", "running", str(path)).status == 0
    path.write_text(HEAD.format("", "") + in_inches + ROW.format("12 H7", "12 f7", "0.002 mm"), encoding="utf-8")
    assert fits("batch", "running", str(path)).status == 0
    path.write_text(HEAD.format("", "") + in_inches + ROW.format("12 H7", "12 f7", "0.002"), encoding="utf-8")
    assert '"clearance_at_least 0.002": missing beside 0.4997 in' in fits("batch", "running", str(path)).err
    path.write_text(HEAD.format("", "") + ROW.format("12 H7", "12 f7", "0.002"), encoding="utf-8")
    assert fits("batch", "running", str(path)).status == 0
    ran = fits("batch", "running", str(path), "--state", "hot: 100 degF")
    assert '"clearance_at_least 0.002": missing beside 100 degF' in ran.err
    assert fits("batch", "running", str(path), "--state", "hot: 100 degF", "--units", "mm").status == 0


PARTS = """
[states.hot]
temperature = "100 degF"
[press.a]
hole = "0.75 in +0.0005/0"
shaft = "0.7515 in ±0.0002"
hub_material = "6061-T6"
shaft_material = "316"
slices = [{length = "1 in", outside = "%s"}, {length = "1 in", outside = "2 in"}]
"""
LAYERS = """
[states.hot]
temperature = "100 degF"
[compound.a]
length = "2 in"
layers = %s
"""


@pytest.mark.parametrize(("text", "bare"), [
    (PARTS % "1.5", "1.5"), (PARTS % "1.5 in", ""),
    (LAYERS % '[{inside = "0.5 in", outside = "0.7515", material = "304"}, {inside = "0.75 in", outside = "1.5 in", material = "6061-T6"}]', "0.7515"),
    (LAYERS % '[{inside = "0.5 in", outside = "0.7515 in", material = "304"}, {inside = "0.75 in", outside = "1.5 in", material = "6061-T6"}]', ""),
    (LAYERS % '"0.5 in, 0.7515 in, 304; 0.75, 1.5 in, 6061-T6"', "0.75"), (LAYERS % '"0.5 in, 0.7515 in, 304; 0.75 in, 1.5 in, 6061-T6"', ""),
])
def test_lengths_of_slices_and_layers_are_asked_too_and_names_of_metals_are_not(fits, tmp_path: Path, text: str, bare: str):
    path = tmp_path / "part.toml"
    path.write_text(text, encoding="utf-8")
    ran = fits("check", str(path))
    if bare:
        assert (ran.status, ran.out) == (2, "")
        assert f'units: "{bare}": missing beside ' in ran.err
    else:
        assert ran.status in (0, 1), ran.err
