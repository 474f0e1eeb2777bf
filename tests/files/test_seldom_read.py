"""What seldom stands in a file: each is read right or refused in a line."""

from __future__ import annotations

import io
from pathlib import Path
from types import SimpleNamespace

import glands
import numpy as np
import pytest
from joints import metal, press_part

from fits import tables
from fits.errors import DeliveryError, InputError
from fits.features import fields
from fits.features.feature import Feature, State, States
from fits.features.fields import SurfaceRef
from fits.features.gland.section import section as gland_section
from fits.features.press import Press
from fits.features.press.slices import _rows
from fits.features.typed_metal import faults_of, typed_metal
from fits.files import batch, samples, start, write
from fits.files.part import _ordered, line_of, part_of
from fits.files.reading_row import _unit_of
from fits.files.table import Table
from fits.shop import rings

HEAD = "part,feature.dimension,value,unit,uncertainty,instrument,temperature\n"


def table_of(tmp_path: Path, text: str, name: str = "t.csv") -> str:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8", newline="")
    return str(path)


# The command line

@pytest.mark.parametrize(("where", "raised", "status", "says"), [
    ("fits.files.part.read_part", KeyboardInterrupt, 130, ""),
    # Before a command begins.
    ("typer.core.TyperGroup.main", KeyboardInterrupt, 130, ""),
    ("fits.files.part.read_part", RecursionError, 2, "nested too deeply\n"),
])
def test_what_stops_a_command_has_its_status(fits, monkeypatch, where: str, raised: type, status: int, says: str):
    def stopped(*args: object, **more: object) -> None:
        raise raised

    monkeypatch.setattr(where, stopped)
    ran = fits("check", "examples/hand_pump.toml")
    assert (ran.status, ran.out, ran.err) == (status, "", says)


def test_judge_writes_one_form_at_a_time(fits):
    ran = fits("judge", "examples/hand_pump.toml", "examples/hand_pump.measured.csv", "--json", "--csv")
    assert (ran.status, ran.err) == (2, "--json or --csv, not both\n")


def test_skipped_rows_are_said_up_to_twenty(fits, tmp_path):
    rows = "".join(f"part {index},liner.hole,big,mm,0.002,bore gauge,20 degC\n" for index in range(30))
    good = "good,liner.hole,16.005,mm,0.002,bore gauge,20 degC\n"
    ran = fits("judge", "examples/hand_pump.toml", table_of(tmp_path, HEAD + good + rows), "--skip-bad-rows")
    lines = ran.err.splitlines()
    assert len([line for line in lines if line.endswith("is left out")]) == 20
    assert lines[-1] == "skipped: more, which are counted only"
    assert "30 left out" in ran.out


# Declarations

def test_a_kind_that_says_nothing_more_has_nothing_more():
    guide = press_part(hole="20", shaft="20.02", hub_outside="40", hub_material=metal(2e5, 0.3), shaft_material=metal(2e5, 0.3)).features["joint"]
    states = States.of([State("shop")])
    assert Feature.figures(guide, {}, states) == ()
    assert Feature.alternatives(guide, {}, frozenset(), states) == ()
    plain = fields.Flag("help")
    assert list(fields.Field.others(plain)) == []
    assert fields.Field.shown(plain) == "TEXT"
    assert fields.Field.offers(plain, "name", guide, None) == ()
    assert fields.Field.to_buy(plain, "name", guide, 1.0, 2.0) == ""


def test_the_outside_of_a_bore_that_another_feature_cuts():
    def faults(**changes) -> list[str]:
        return [one.must for one in glands.gland("piston", bore=SurfaceRef("liner", "shaft_bore"), **changes).faults()]

    assert faults() == ["the bore stands on liner.shaft_bore: its wall is that feature's"]
    assert faults(hub_outside=None) == []


def test_no_section_is_drawn_of_a_depth_that_is_not_known():
    assert gland_section(None, {"gland_depth": (1.0, 1.0)}) == ()
    assert gland_section(None, {"ring_section": (3.5, 3.6)}) == ()


def test_slices_whose_corners_differ_in_more_are_not_computed_once_for_all():
    """Two slices of two corners each; what differs between the slices beside their number forbids it."""
    number = np.array([[0.0], [1.0], [0.0], [1.0]])
    alike = {"slice": number, "a": np.array([[1.0], [1.0], [2.0], [2.0]])}
    rows = _rows(alike, 2)
    assert rows is not None
    assert [one.tolist() for one in rows] == [[0, 2], [1, 3]]
    assert _rows({**alike, "b": np.array([[1.0], [3.0], [2.0], [2.0]])}, 2) is None
    assert _rows({"slice": number[:3]}, 2) is None
    assert _rows({"slice": number[:1]}, 2) is None


def test_a_metal_may_be_typed_as_brittle():
    keys = {"youngs_modulus": "110 GPa", "poisson": "0.26", "yield_strength": "200 MPa"}
    assert typed_metal("iron", {**keys, "brittle": True}, fields.Context()).brittle
    assert not typed_metal("iron", keys, fields.Context()).brittle


def test_a_fault_of_another_sort_stands_with_its_own_words():
    error = SimpleNamespace(errors=lambda: [{"loc": ("hole",), "type": "odd", "msg": "is odd", "input": "x" * 100}])
    (fault,) = faults_of(error, Press)
    assert (fault.key, fault.must, fault.got) == ("hole", "is odd", "x" * 60)


# Part files

def test_a_table_is_due_where_a_number_stands():
    with pytest.raises(InputError) as raised:
        part_of('name = "p"\nstates = 3\n', "p.toml")
    assert "a table is due" in str(raised.value)
    assert "[states.name]" in str(raised.value)


def test_features_may_not_stand_on_each_other():
    def feature(on: str) -> SimpleNamespace:
        return SimpleNamespace(kind="press", standing_on=lambda: {"hole": SurfaceRef(on, "shaft_bore")})

    free = SimpleNamespace(kind="press", standing_on=dict)
    assert list(_ordered({"a": feature("b"), "b": free})) == ["b", "a"]
    with pytest.raises(InputError, match="features stand on each other in a circle: a, b") as raised:
        _ordered({"a": feature("b"), "b": feature("a"), "c": free})
    assert raised.value.faults[0].key == "press.a.hole"


def test_the_line_of_what_is_nowhere_is_the_first():
    assert line_of("a = 1\nb = 2\n", []) == 1
    assert line_of("a = 1\nb = 2\n", ["c"]) == 1
    assert line_of("a = 1\nb = 2\n", ["b"]) == 2


def test_states_of_a_new_part_file():
    lines = list(start._states(["shop: 20 degC", "diving: hub 4 degC, shaft 10 degC, water, 1 MPa, proof"]))
    assert lines.count("[states.shop]") == 1
    assert any(line.startswith('hub_temperature = "4 degC"') for line in lines)
    assert any(line.startswith('shaft_temperature = "10 degC"') for line in lines)
    assert any(line.startswith('medium = "water"') for line in lines)
    assert "proof = true" in lines


# Tables

def test_a_head_that_is_no_row(tmp_path):
    with pytest.raises(InputError, match="not a table"):
        Table(table_of(tmp_path, 'a,"b\n'))


@pytest.mark.parametrize(("text", "values"), [("a,b\n1,nan\n2,3\n", ["nan", "3"]), ("a,b\n1,inf\n2,3\n", ["inf", "3"])])
def test_what_pandas_would_take_for_a_number_stays_a_text(tmp_path, text: str, values: list[str]):
    table = Table(table_of(tmp_path, text))
    (block,) = table.blocks(("a", "b"))
    assert [block.text("b", row) for row in range(2)] == values
    table.close()


def test_an_empty_line_between_the_rows_of_one_column(tmp_path):
    table = Table(table_of(tmp_path, "a\n1\n\n2\n"))
    (block,) = table.blocks(("a",))
    assert [block.text("a", row) for row in range(len(block.rows))] == ["1", "2"]
    assert block.rows.tolist() == [2, 4]
    table.close()


JOINTS = "hole,shaft,hub_outside,length,hub_material,shaft_material\n" + "".join(f"16.0{index},16.1,40,30,6061-T6,316\n" for index in range(10, 15))


def test_the_memory_of_cells_does_not_grow_without_end(fits, tmp_path, monkeypatch):
    """The same answer with next to no memory of what was read."""
    path = table_of(tmp_path, JOINTS.replace(",16.1,40,", " ±0.001,16 s6,40 ±0.1,"))
    whole = fits("batch", "press", path)
    monkeypatch.setattr(batch, "MOST_KNOWN", 0)
    assert fits("batch", "press", path) == whole
    assert whole.out.count("\n") == 6


@pytest.mark.parametrize(("metal_text", "says"), [("?", "not decided yet"), ('"{youngs_modulus = 3,"', "hub_material")])
def test_a_metal_of_a_row_that_is_open_or_broken(fits, tmp_path, metal_text: str, says: str):
    ran = fits("batch", "press", table_of(tmp_path, JOINTS.replace("16.010,16.1,40,30,6061-T6", f"16.010,16.1,40,30,{metal_text}")))
    assert (ran.status, ran.out) == (2, "")
    assert "t.csv: row 2: hub_material: " in ran.err
    assert says in ran.err


def test_a_unit_of_no_number_is_taken_as_mm():
    assert _unit_of("") == "mm"
    assert _unit_of("16.005 in") == "in"
    assert _unit_of("16.005") == ""


def test_a_sample_of_a_share_may_be_anything():
    assert samples._near(0.25, samples.Between(0.0, 1.0, "number", "mm")) == 0.25


def test_a_sample_takes_one_size_a_part(tmp_path):
    head = HEAD.replace("\n", ",station\n")
    text = head + "a,liner.hole,16.005,mm,0.002,g,20 degC,top\na,liner.hole,16.006,mm,0.002,g,20 degC,bottom\n"
    with pytest.raises(InputError, match="several readings of this part"):
        samples._of_readings(table_of(tmp_path, text), "liner.hole", samples.Between(16.0, 16.011, "length", "mm"))


def test_faults_of_a_sample_end_somewhere(tmp_path):
    table = Table(table_of(tmp_path, "hole [mm]\n" + "big\n" * (samples.FAULTS + 5)))
    with pytest.raises(InputError) as raised:
        list(samples._of_column(table, ["hole"], "hole", samples.Between(16.0, 16.011, "length", "mm")))
    table.close()
    assert len(raised.value.faults) == samples.FAULTS + 1
    assert "more may follow" in str(raised.value)


# Writing

def test_without_locks_nothing_is_marked(monkeypatch):
    monkeypatch.setattr(write, "fcntl", None)
    assert write._hold(io.BytesIO()) is False


def test_no_room_for_what_is_gathered(monkeypatch):
    def full(*args: object, **more: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tempfile.TemporaryFile", full)
    with pytest.raises(DeliveryError, match="No space left on device"):
        write.gathered(["a"])


# Standards

def test_a_ring_of_a_dash_number_that_does_not_exist():
    assert rings._dash_class_b("999") is None
    assert rings._dash_class_b("214") is not None


def test_a_table_may_be_a_head_alone_and_hold_free_remarks():
    head, rows, line = tables._split_head("# table: a/b\n# anything else\n# source x: a book")
    assert head == {"table": "a/b", "source x": "a book"}
    assert (rows, line) == ([], 3)


def test_a_bought_size_in_a_table_is_another_feature_than_a_turned_one(fits, tmp_path):
    """A dowel of 6 m6 (6.004 to 6.012) and a pin turned to the same limits give the same numbers, each in its row."""
    head = "hole,shaft,hub_outside,length,hub_material,shaft_material,roughness_hole,roughness_shaft\n"
    rest = "20,12,6061-T6,316,1 um,1 um\n"
    ran = fits("batch", "press", table_of(tmp_path, f"{head}5.998/5.990,dowel 6 m6,{rest}5.998/5.990,6.012/6.004,{rest}"))
    bought, turned = (line.partition(",")[2] for line in ran.out.splitlines()[1:])
    assert ran.out.count("\n") == 3
    assert bought.replace("dowel 6 m6", "6.012/6.004") == turned
