"""Tables of readings: long and wide, as they come out of spreadsheets; every fault at its row."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fits.errors import InputError
from fits.files.reading_row import Defaults
from fits.files.readings import read_readings

HEAD = "part,feature.dimension,value,unit,uncertainty,instrument,temperature"
ROW = "b1,liner.hole,16.005,mm,0.002,bore gauge,20 degC"
GOOD = f"{HEAD}\n{ROW}\n"
WIDE = """part,liner.hole [mm],liner.hub_outside [in],uncertainty [um],instrument,temperature [degC]
b1,16.005,1.2601,2,"bore gauge, old",20
b2,16.006,,2,bore gauge,35
"""


def table(tmp_path: Path, text: str | bytes, **more):
    path = tmp_path / "m.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return read_readings(str(path), **more)


def faults(tmp_path: Path, text: str | bytes) -> list[str]:
    with pytest.raises(InputError) as error:
        table(tmp_path, text)
    return [str(one).replace(str(tmp_path / "m.csv"), "m.csv") for one in error.value.faults]


def test_long(tmp_path: Path):
    (one,) = table(tmp_path, GOOD)
    assert one[:6] == ("b1", "liner.hole", 16.005, 0.002, "bore gauge", 20.0)
    assert (one.gauge_temperature, one.gauge_expansion, one.station, one.direction) == (None, None, "", "")
    assert one.place.endswith("m.csv:2")


def test_wide(tmp_path: Path):
    found = table(tmp_path, WIDE)
    assert [(one.part, one.dimension) for one in found] == [("b1", "liner.hole"), ("b1", "liner.hub_outside"), ("b2", "liner.hole")]
    assert [one.value for one in found] == [16.005, pytest.approx(1.2601 * 25.4), 16.006]
    assert {one.uncertainty for one in found} == {0.002}
    assert (found[0].instrument, found[2].temperature) == ("bore gauge, old", 35.0)


def test_wide_with_an_uncertainty_a_dimension(tmp_path: Path):
    text = "part,liner.hole [mm],liner.hole uncertainty [um],instrument,temperature\nb1,16.005,3,bore gauge,68 degF\n"
    (one,) = table(tmp_path, text)
    assert (one.uncertainty, one.temperature) == (0.003, pytest.approx(20.0))


@pytest.mark.parametrize("text", [
    b"\xef\xbb\xbf" + GOOD.encode(), GOOD.replace("\n", "\r\n"), GOOD.replace("\n", "\r"), GOOD.replace(",", ";"), f"# invented\n\n{GOOD}", f"{GOOD}\n,,,,,,\n# end, of \"it\n",
    GOOD.replace("b1", '"b1"'), GOOD.replace("16.005,mm,0.002", "16.005,mm,2 um"), GOOD.replace("16.005,mm", "16.005 mm,"), GOOD.replace("20 degC", "68 degF"),
    GOOD.replace("temperature\n", "temperature [degC]\n").replace("20 degC", "20"), GOOD.replace("16.005,mm,0.002", "16005,um,2"),
])
def test_as_spreadsheets_write_it(tmp_path: Path, text):
    (one,) = table(tmp_path, text)
    assert (one.part, one.value, one.uncertainty, one.temperature) == ("b1", pytest.approx(16.005), 0.002, pytest.approx(20.0))


def test_a_quoted_line_break_is_a_space_and_rows_keep_their_lines(tmp_path: Path):
    text = f'# invented\n{HEAD}\nb1,liner.hole,16.005,mm,0.002,"bore gauge\nwith a long arm",20 degC\nb2,liner.hole,16.0x,mm,0.002,gauge,20 degC\n'
    assert faults(tmp_path, text)[0].startswith('m.csv:5: value: "16.0x"')
    (one,) = table(tmp_path, text.replace("16.0x", "16.01").rsplit("\n", 2)[0] + "\n")
    assert one.instrument == "bore gauge with a long arm"
    assert one.place.endswith("m.csv:3")


@pytest.mark.parametrize(("old", "new", "says"), [
    (GOOD, "", "m.csv: the table is empty; write a head: part,"), (GOOD, "\n\n", "m.csv: the table is empty"),
    (ROW + "\n", "", "m.csv: no reading in this table; 0 parts can't be judged"),
    ("uncertainty,", "", "m.csv:1: missing column uncertainty; the expanded uncertainty (k = 2)"), (",temperature", "", "m.csv:1: missing column temperature"),
    ("part,", "", "m.csv:1: missing column part"), ("value,", "valu,", 'm.csv:1: "valu": unknown column; did you mean "value"?'),
    ("unit,", "unit,unit,", 'm.csv:1: "unit": this column stands twice'), (HEAD, "part,uncertainty,instrument,temperature", "m.csv:1: no column with sizes"),
    (",mm,", ",N,", 'm.csv:2: value: "16.005 N": a length is due, N is a force'), (",mm,", ",,", 'm.csv:2: unit: "16.005": a size needs a unit, it is never assumed'),
    (",mm,", ",furlong,", "m.csv:2: value: \"16.005 furlong\": unknown unit furlong"), ("16.005", "sixteen", "m.csv:2: value: \"sixteen\": no number"), ("16.005", "16.0O5", "m.csv:2: value: "),
    ("16.005", '"16,005"', 'm.csv:2: value: "16,005": decimal comma; write "16.005"'), ("16.005", "nan", "not a finite number"), ("16.005", "inf", "not a finite number"),
    ("16.005", "-16", "m.csv:2: value: \"-16\": a size is above 0"), ("16.005", "", "m.csv:2: value: nothing stands here"), ("16.005", "1 2", "two numbers where one is due"),
    ("0.002", "0", "m.csv:2: uncertainty: \"0\": must be above 0: no instrument reads without doubt"), ("0.002", "", "m.csv:2: uncertainty: asked for, never assumed; the expanded"),
    ("0.002", "-0.002", "must be above 0"), ("0.002", "little", "uncertainty: \"little\": no number"), ("0.002", "2 N", "a length is due"), ("20 degC", "", "m.csv:2: temperature: asked for, never assumed; of the part when it was read"),
    ("20 degC", "20", "m.csv:2: temperature: \"20\": a temperature needs a unit"), ("bore gauge", "", "m.csv:2: instrument: nothing stands here; what it was read with"), ("b1", "", "m.csv:2: part: nothing stands here"),
    (ROW, f"{ROW}\n{ROW}", 'm.csv:3: part: "b1": liner.hole of this part was read before, in line 2; several readings of one bore are told apart'),
    (ROW, f"{ROW},more", "m.csv:2: 8 cells where the head has 7; a comma inside a cell needs quotes"), (ROW, "b1,liner.hole", "m.csv:2: 2 cells where the head has 7"),
    ("b1", '"b1', "m.csv:2: not CSV: unexpected end of data; close every quote"),
])
def test_bad_tables(tmp_path: Path, old: str, new: str, says: str):
    found = faults(tmp_path, GOOD.replace(old, new))
    assert any(says in one for one in found), found
    assert all("\n" not in one for one in found)


@pytest.mark.parametrize(("old", "new", "says"), [
    (" [mm]", "", 'm.csv:2: liner.hole: "16.005": a size needs a unit, it is never assumed; write the head as liner.hole [mm]'),
    ("uncertainty [um],", "", "m.csv:1: missing column uncertainty"), (",2,bore", ",,bore", "m.csv:3: uncertainty: the uncertainty of liner.hole is asked for"),
    ("16.006", "x", 'm.csv:3: liner.hole: "x": no number'), ("liner.hub_outside", "hub outside", 'm.csv:1: "hub outside": unknown column'), ("liner.hub_outside [in]", "liner.hole [in]", 'm.csv:1: "liner.hole": this column stands twice'),
    ("b2", "b1", "m.csv:3: part: \"b1\": liner.hole of this part was read before, in line 2"), (",35", ",", "m.csv:3: temperature: asked for"),
])
def test_bad_wide_tables(tmp_path: Path, old: str, new: str, says: str):
    found = faults(tmp_path, WIDE.replace(old, new))
    assert any(says in one for one in found), found


def test_all_faults_of_a_table_at_once_and_no_flood(tmp_path: Path):
    found = faults(tmp_path, f"{HEAD}\nb1,liner.hole,x,mm,0,,20\nb2,liner.hole,y,mm,0.002,g,20 degC\n")
    assert [one.split(":")[1] for one in found] == ["2", "2", "2", "2", "3"]
    many = "".join(f"b{n},liner.hole,x,mm,0.002,g,20 degC\n" for n in range(1000))
    found = faults(tmp_path, f"{HEAD}\n{many}")
    assert len(found) == 21
    assert "more may follow" in found[-1]


def test_files_that_cant_be_read(tmp_path: Path):
    assert "not UTF-8 text" in faults(tmp_path, GOOD.replace("gauge", "gauge °").encode("latin-1"))[0]
    assert "not UTF-8 text" in faults(tmp_path, GOOD.encode("utf-16"))[0]
    with pytest.raises(InputError, match="this is a folder"):
        read_readings(str(tmp_path))
    with pytest.raises(InputError, match="can't read the file: No such file"):
        read_readings(str(tmp_path / "none.csv"))


def test_what_holds_for_every_row_unless_it_says_otherwise(tmp_path: Path):
    text = GOOD.replace("temperature\n", "temperature,gauge_temperature\n").replace("20 degC\n", "35 degC,\nb2,liner.hole,16.0,mm,0.002,g,35 degC,30 degC\n")
    found = table(tmp_path, text, defaults=Defaults(20.0, 11.5e-6))
    assert [one.gauge_temperature for one in found] == [20.0, 30.0]
    assert {one.gauge_expansion for one in found} == {11.5e-6}


CELLS = st.one_of(st.text(max_size=12), st.sampled_from(["16.005", "mm", "0.002", "20 degC", "liner.hole", '"', "\n", ";", "#", "\x00"]))


@settings(max_examples=200)
@given(st.lists(st.lists(CELLS, min_size=1, max_size=8), max_size=4), st.booleans())
def test_any_text_is_readings_or_faults(tmp_path_factory, rows: list[list[str]], headed: bool):
    text = "\n".join([*([HEAD] if headed else []), *(",".join(row) for row in rows)])
    path = tmp_path_factory.mktemp("any") / "m.csv"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        assert read_readings(str(path))
    except InputError as error:
        assert all("\n" not in str(one) for one in error.faults)


@pytest.mark.parametrize(("old", "new", "says"), [
    ("16.005,mm,", "0.63 in,mm,", 'm.csv:2: unit: "0.63 in": this size has several units: in, mm; write one of them'),
    ("value,", "value [mm],", ""), ("16.005,mm,", "16.005 mm,mm,", ""), ("16.005,mm,0.002", '0.63 in,"""",0.0001', ""),
    ("value,unit", "value [in],unit", 'm.csv:2: unit: "16.005": this size has several units: in, mm'),
])
def test_a_size_of_two_units_is_refused(tmp_path: Path, old: str, new: str, says: str):
    assert old in GOOD
    if says:
        assert [one.startswith(says) for one in faults(tmp_path, GOOD.replace(old, new))] == [True]
    else:
        (one,) = table(tmp_path, GOOD.replace(old, new))
        assert one.value == pytest.approx(16.005, abs=0.01)


# 0.0001 in is ±0.0025 mm: of the shaft in mm it would be nothing.
@pytest.mark.parametrize(("head", "doubt", "asked"), [
    ("uncertainty", "0.0001", True), ("uncertainty", "0.0001 in", False), ("uncertainty [in]", "0.0001", False),
])
def test_a_bare_uncertainty_of_sizes_in_several_units_is_asked(tmp_path: Path, head: str, doubt: str, asked: bool):
    text = f"part,bush.hole [in],bush.shaft [mm],instrument,temperature,{head}\nb1,1.2503,31.804,mic,20 degC,{doubt}\n"
    if asked:
        assert faults(tmp_path, text) == [
            'm.csv:2: uncertainty: "0.0001": in what unit? the sizes of this row have several: in, mm; write the head as uncertainty [mm]'
        ]
        alone = text.replace("1.2503", "")
        assert [one.uncertainty for one in table(tmp_path, alone)] == [0.0001]
        same = text.replace("31.804", "1.2504 in")
        assert [one.uncertainty for one in table(tmp_path, same)] == [pytest.approx(0.00254)] * 2
    else:
        assert [one.uncertainty for one in table(tmp_path, text)] == [pytest.approx(0.00254)] * 2


def test_an_uncertainty_of_its_own_column_is_in_the_unit_of_its_size(tmp_path: Path):
    text = "part,a.hole [in],a.hole uncertainty,a.shaft [mm],a.shaft uncertainty,instrument,temperature\nb1,1.25,0.0001,31.8,0.002,mic,20 degC\n"
    assert [one.uncertainty for one in table(tmp_path, text)] == [pytest.approx(0.00254), 0.002]
