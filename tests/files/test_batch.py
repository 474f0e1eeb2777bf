"""Tables of joints: the same verdicts and numbers as one joint at a time; bad tables."""

from __future__ import annotations

import csv
import io
import math
import random
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.cli.options import typed_states
from fits.errors import InputError
from fits.features.feature import declared
from fits.features.fields import Context, Numeric
from fits.features.kinds import KINDS, forms, kind
from fits.features.part import Part
from fits.files import batch, loader, table
from fits.files.batch import Batch
from fits.quantity import report_value
from fits.questions.answer import FAIL, NOT_COVERED, PASS
from fits.questions.check import check

HEAD = "hole [mm],shaft [mm],hub_outside [mm],hub_material,shaft_material\n"
ROW = "16.003,16.031,32,6061-T6,316L\n"
STATES = ["--state", "shop: 20 degC", "--state", "hot: 70 degC, 8 MPa", "--state", "proof: 20 degC, 12 MPa, proof"]


@pytest.fixture
def run(fits, tmp_path: Path):
    """Run ``fits batch`` on a table given as text or bytes."""

    def one(of: str, content: str | bytes, *more: str) -> Any:
        path = tmp_path / "joints.csv"
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return fits("batch", *of.split(), str(path), *more)

    return one


def rows_of(out: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(out)))


def alone(name: str, cells: dict[str, str], states: list[str]) -> Any:
    """The answer of one joint by itself, from cells that carry their units."""
    feature = loader.feature(kind(name), {key: text for key, text in cells.items() if text}, Context())
    part = Part("one", {name: feature}, typed_states([text for text in states if text != "--state"]))
    return check(part)


def agree(row: dict[str, str], answer: Any) -> None:
    """A row of a batch against the answer of ``check`` for the joint alone."""
    of = answer.features[0]
    assert row["verdict"] == of.verdict, row
    checks = {one.rule: one for one in of.checks}
    one = checks[row["worst_rule"]]
    if any(check.verdict == of.verdict for check in of.checks):
        assert one.verdict == of.verdict
    for name, number in (("margin", one.margin), ("limit", one.limit if one.margin is not None else None)):
        known = row[name] != ""
        assert known is (number is not None), (name, row, one)
        if known and number is not None:
            assert float(row[name]) == pytest.approx(report_value(number, one.kind), rel=1e-9, abs=1e-9)
    if one.margin is not None and one.verdict != FAIL:
        assert row["state"] == one.state
    for name, cell in row.items():
        value, _, end = name.partition(" ")[0].rpartition("_")
        if end not in ("least", "greatest") or not cell:
            continue
        spans = next(one for one in of.values if one.name == value).states.values() if any(one.name == value for one in of.values) else ()
        found = [getattr(span, end) for span in spans if getattr(span, end) is not None]
        if found:
            extreme = min(found) if end == "least" else max(found)
            unit_kind = next(one.kind for one in of.values if one.name == value)
            assert float(cell) == pytest.approx(report_value(extreme, unit_kind), rel=1e-9, abs=1e-9)


def joints(count: int, seed: int) -> list[dict[str, str]]:
    """Joints of every sort: exact, limits, classes, solid, inches, gaps, three metals."""
    pick = random.Random(seed)
    found = []
    for _ in range(count):
        hole = round(pick.uniform(10.0, 40.0), 3)
        over = round(hole * pick.uniform(0.0, 0.003), 4)
        shaft = pick.choice([f"{hole + over:.4f} mm", f"{hole + over + 0.01:.4f}/{hole + over:.4f}", f"{(hole + over) / 25.4:.6f} in"])
        found.append({
            "hole": pick.choice([f"{hole} mm", f"{hole + 0.011:.4f}/{hole:.4f}", f"{hole} +0.011/0"]),
            "shaft": shaft,
            "shaft_bore": pick.choice(["", "0", f"{hole * 0.5:.3f}", f"{hole * 0.6:.3f} ±0.05"]),
            "hub_outside": f"{hole * pick.uniform(1.3, 3.0):.2f}",
            "length": pick.choice(["", "40", f"{pick.uniform(10, 60):.1f} ±0.2"]),
            "hub_material": pick.choice(["6061-T6", "1045 HR", "316"]),
            "shaft_material": pick.choice(["316L", "1045 HR", "304"]),
            "friction_hold": pick.choice(["", "0.1", "0.10 to 0.15"]),
            "friction_press": pick.choice(["", "0.1", "0.2"]),
            "roughness_hole": pick.choice(["", "0 um", "3 um", "2 um"]),
            "roughness_shaft": pick.choice(["0 um", "3 um"]),
            "axial_load": pick.choice(["", "0 N", "800 N", "2 kN"]),
            "press_rating": pick.choice(["", "20 kN"]),
            "ends": pick.choice(["", "body", "liner"]),
            "heat_to": pick.choice(["", "", "150 degC", "120 degC"]),
            "bore_after": "",
        })
        if found[-1]["shaft_bore"] not in ("", "0"):
            found[-1]["bore_after"] = pick.choice(["", f"{hole * 0.5:.2f} ±0.5", f"{hole * 0.6:.2f} ±0.3"])
    return found


def as_table(found: list[dict[str, str]]) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, found[0], lineterminator="\n")
    writer.writeheader()
    writer.writerows(found)
    return out.getvalue()


@pytest.mark.parametrize("states", [[], STATES], ids=["shop", "three states"])
@pytest.mark.parametrize("seed", [1, 2])
def test_rows_agree_with_each_joint_alone(run, states: list[str], seed: int):
    found = joints(90, seed)
    ran = run("press", as_table(found), "--units", "mm", *states, "--value", "contact_pressure")
    rows = rows_of(ran.out)
    assert len(rows) == len(found)
    assert {row["verdict"] for row in rows} >= {FAIL, NOT_COVERED}
    for row, cells in zip(rows, found, strict=True):
        agree(row, alone("press", cells, states))


def test_a_group_of_numbers_agrees_too(run):
    """Many rows of one feature, where numbers only differ: computed as columns."""
    pick = np.random.default_rng(5)
    hole = np.round(pick.uniform(20, 40, 300), 3)
    shaft = np.round(hole * pick.uniform(1.0001, 1.002, 300), 4)
    lines = [f"{a},{b},{a * 0.5:.2f},{a * 2:.2f},35.5,6061-T6,304,3,2,500,0.1,0.12" for a, b in zip(hole, shaft, strict=True)]
    names = ["hole", "shaft", "shaft_bore", "hub_outside", "length", "hub_material", "shaft_material", "roughness_hole", "roughness_shaft", "axial_load", "friction_hold", "friction_press"]
    units = ["mm", "mm", "mm", "mm", "mm", "", "", "um", "um", "N", "", ""]
    head = ",".join(f"{name} [{unit}]" if unit else name for name, unit in zip(names, units, strict=True))
    rows = rows_of(run("press", "\n".join([head, *lines]) + "\n", *STATES).out)
    assert {row["verdict"] for row in rows} == {FAIL, PASS}
    for row, line in list(zip(rows, lines, strict=True))[::7]:
        cells = {name: f"{cell} {unit}".strip() for name, unit, cell in zip(names, units, line.split(","), strict=True)}
        agree(row, alone("press", cells, STATES))


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_groups_with_limits_agree_too(run, seed: int):
    """Rows alike in texts and kinds of number, every number different, limits and ranges among them."""
    pick = random.Random(seed)
    metals = pick.choice(["6061-T6", "316"]), pick.choice(["304", "316L"])
    solid, rough, ends = seed % 2 == 0, seed != 3, pick.choice(["", "body"])
    found = []
    for _ in range(25):
        hole = pick.uniform(10.0, 40.0)
        shaft = hole * (1.0 + pick.uniform(0.0003, 0.0015))
        found.append({
            "hole": f"{hole + 0.008:.4f}/{hole:.4f}", "shaft": f"{shaft + 0.006:.4f}/{shaft:.4f}", "shaft_bore": "" if solid else f"{hole * pick.uniform(0.2, 0.7):.3f} ±0.02",
            "hub_outside": f"{hole * pick.uniform(1.5, 3.0):.2f} ±0.1", "length": f"{pick.uniform(10, 60):.1f} ±0.2", "hub_material": metals[0], "shaft_material": metals[1],
            "friction_hold": f"{pick.uniform(0.05, 0.1):.3f} to {pick.uniform(0.1, 0.2):.3f}", "roughness_hole": f"{pick.uniform(0.5, 3):.1f} um" if rough else "",
            "roughness_shaft": f"{pick.uniform(0.5, 3):.1f} um", "axial_load": f"{pick.uniform(0, 900):.0f} N", "torque": f"{pick.uniform(0, 3):.2f} N*m", "ends": ends,
            "interference_at_least": f"{pick.uniform(0.0001, 0.002):.4f} to 0.003", "safety_slip": f"{pick.uniform(1.2, 2.0):.2f}", "press_rating": f"{pick.uniform(5, 60):.0f} kN",
            "friction_press": "0.2",
        })
    states = [] if solid else STATES
    rows = rows_of(run("press", as_table(found), *states, "--value", "push_out_force").out)
    assert len({row["verdict"] for row in rows}) > 1
    for row, cells in zip(rows, found, strict=True):
        agree(row, alone("press", cells, states))


def test_running_fits_of_a_table(run):
    found = [
        {"hole": f"{12 + i / 1000:.3f}/12.000", "shaft": f"{11.99 - i / 2000:.4f}", "shaft_bore": ["", "6"][i % 2], "hub_outside": ["", "20"][i // 2 % 2],
         "hub_material": ["6061-T6", "304", ""][i % 3], "shaft_material": ["303", ""][i % 2], "clearance_at_least": ["0.005", ""][i // 3 % 2],
         "clearance_at_most": ["", "0.05", "0.02"][i % 3]}
        for i in range(40)
    ]
    rows = rows_of(run("running", as_table(found), *STATES).out)
    assert {row["verdict"] for row in rows} >= {FAIL, NOT_COVERED}
    for row, cells in zip(rows, found, strict=True):
        agree(row, alone("running", cells, STATES))


def test_a_pass_is_a_pass(run):
    metal = '"{youngs_modulus = ""207 GPa"", poisson = 0.292, yield_strength = ""350 MPa""}"'
    names = "hole,shaft,hub_outside,hub_material,shaft_material,roughness_hole,roughness_shaft\n"
    ran = run("press", names + f"40 H7,40 s6,80,{metal},{metal},0 um,0 um\n")
    assert (ran.status, rows_of(ran.out)[0]["verdict"]) == (0, PASS)


@pytest.mark.parametrize("name", KINDS)
def test_kinds_by_columns_take_every_number_from_the_dimensions(name: str, run):
    """Move each numeric field of one row of two: the moved row must be that of the joint alone."""
    from features.test_declarations import FULL

    if not kind(name).by_columns:
        pytest.skip("computed a joint at a time")
    units = {"roughness": " um", "pressure": " MPa", "force": " N", "torque": " N*m", "time": " s", "temperature": " degC"}
    texts = {field: str(FULL[name][field]) for field in FULL[name]}
    if name == "press":
        # A bearing's ring is a bought size: it can't be moved, and only it has a clearance inside.
        texts = {field: text for field, text in texts.items() if field != "internal_clearance"} | {"hole": "16 H7"}
    moved = [dict(texts)]
    for field, of in declared(kind(name)).items():
        if isinstance(of, Numeric) and field in texts:
            level = getattr(kind(name)(**FULL[name]), field)
            low, high = (level.lower, level.upper) if hasattr(level, "lower") else (level.low, level.high)
            unit = units.get(of.quantity, "")
            scale = 1e-3 if of.quantity == "torque" else 1.0
            shift = 1.002 if of.quantity == "length" else 1.05
            low, high = low * shift * scale, high * shift * scale
            text = f"{low!r}{unit}" if low == high else f"{low!r}{unit} to {high!r}{unit}" if not hasattr(level, "lower") else f"{high!r}/{low!r}"
            if of.quantity != "temperature":
                moved.append({**texts, field: text})
    ran = run(name, as_table(moved), *STATES)
    rows = rows_of(ran.out)
    assert len(rows) == len(moved), ran.err
    differ = 0
    for row, cells in zip(rows, moved, strict=True):
        agree(row, alone(name, cells, STATES))
        differ += row["margin"] != rows[0]["margin"]
    assert len(rows) == len(moved) > 8


BAD = [
    ("", "joints.csv: empty: a header with field names is due"),
    ("\n" + HEAD + ROW, "the first row is empty"),
    (HEAD, "no rows under the header"),
    ("hole [mm],hub_outside [mm],hub_material,shaft_material\n", "row 1: shaft: missing column: outside of the inner part, free"),
    (HEAD.replace("hole", "hoel") + ROW, 'row 1: "hoel [mm]": no such field; did you mean "hole"?'),
    (HEAD.replace("hole [mm]", "hole [N]") + ROW, 'row 1: "hole [N]": a length is due, N is a force'),
    (HEAD.replace("hole [mm]", "hole [furlong]") + ROW, "unknown unit furlong"),
    (HEAD.replace("hub_material", "hub_material [mm]") + ROW, "this column takes no unit"),
    (HEAD.replace("hub_outside [mm]", "hole [mm]") + ROW, "row 1: hole: this column stands twice"),
    (HEAD + ROW + ROW.replace("16.031", "abc"), 'row 3: shaft: "abc": no number'),
    (HEAD + ROW + ROW.replace("16.031", "16.0 31"), "row 3: shaft: \"16.0 31\": two numbers where one is due"),
    (HEAD + ROW + ROW.replace("16.031", "nan"), 'row 3: shaft: "nan": not a finite number'),
    (HEAD + ROW + ROW.replace("16.031", "1e999"), 'row 3: shaft: "1e999": no tolerance class e999'),
    (HEAD + ROW + ROW.replace("16.031", "-16"), "row 3: shaft: "),
    (HEAD + ROW + ROW.replace("16.031", "25.0"), "row 3: shaft: hole 16.003 mm and shaft 25 mm can't belong together"),
    (HEAD + ROW + ROW.replace(",32,", ",16.02,"), 'row 3: shaft: "16.031 mm": must stay below hub_outside (16.02 mm at its least)'),
    (HEAD + ROW + ROW.replace("6061-T6", "6061-T7"), 'row 3: hub_material: "6061-T7"'),
    (HEAD + ROW + ROW.replace("16.031", "?"), 'row 3: shaft: "?": not decided yet'),
    (HEAD + ROW + ROW.replace("16.031", ""), "row 3: shaft: missing"),
    (HEAD + ROW + "16.003,16.031\n", "row 3: 2 cells under a header of 5"),
    (HEAD + ROW + "16,003,16.031,32,6061-T6,316L\n", "row 3: 6 cells under a header of 5; a decimal comma? write 16.05, not 16,05"),
    (HEAD.replace(",", ";") + ROW.replace(",", ";").replace("16.031", "16,031"), 'row 2: shaft: "16,031": decimal comma; write "16.031"'),
    (HEAD + ROW + '"16.003,16.031\n' + ROW, "row 3: not a table row: a quote is opened and never closed"),
    (HEAD.encode() + ROW.encode() + b"16.003,16.031,32,6061-T6\xb1,316L\n", "row 3: not UTF-8 text"),
    (HEAD + ROW + ROW.replace("32", "3\0"), "row 3: a zero byte"),
    ("axial_load," + HEAD + "800," + ROW, "row 1: axial_load: a force needs a unit: in the header (axial_load [N]) or the cells"),
    ("axial_load," + HEAD + "800 N," + ROW + "3 mm," + ROW, 'row 3: axial_load: "3 mm": a force is due, mm is a length'),
    ("axial_load [N]," + HEAD + "-5," + ROW, 'row 2: axial_load: "-5": must be at least 0 N'),
    ("ends," + HEAD + "opne," + ROW, 'row 2: ends: "opne": must be one of open, liner, body, stuck'),
]


@pytest.mark.parametrize(("content", "says"), BAD)
def test_a_bad_table_is_one_clear_line_and_nothing_else(run, content: str | bytes, says: str, tmp_path: Path):
    out = tmp_path / "out.csv"
    for more in ([], ["-o", str(out)]):
        ran = run("press", content, *more)
        assert (ran.status, ran.out) == (2, "")
        assert says in ran.err
        assert ran.err.count("\n") == 1
        assert "fault of fits" not in ran.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["joints.csv"]


SAME = [
    ("bom", b"\xef\xbb\xbf" + (HEAD + ROW + ROW).encode()),
    ("windows", (HEAD + ROW + ROW).replace("\n", "\r\n")),
    ("old mac", (HEAD + ROW + ROW).replace("\n", "\r")),
    ("semicolons", (HEAD + ROW + ROW).replace(",", ";")),
    ("tabs", (HEAD + ROW + ROW).replace(",", "\t")),
    ("no last line end", (HEAD + ROW + ROW).rstrip("\n")),
    ("quotes", (HEAD + ROW + ROW).replace("16.003", '"16.003"')),
    ("empty last rows", HEAD + ROW + ROW + "\n,,,,\n"),
    ("units in cells", (HEAD + ROW + ROW).replace("16.003", "16.003 mm").replace("hole [mm]", "hole")),
    ("inches", (HEAD + ROW + ROW).replace("16.003", f"{16.003 / 25.4!r}").replace("hole [mm]", "hole [in]")),
    ("micrometres", (HEAD + ROW + ROW).replace("16.003", "16003").replace("hole [mm]", "hole [um]")),
    ("spaces", (HEAD + ROW + ROW).replace("16.003", " 16.003 ")),
]


@pytest.mark.parametrize("content", [one for _, one in SAME], ids=[name for name, _ in SAME])
def test_the_same_table_however_it_is_written(run, content: str | bytes):
    want = rows_of(run("press", HEAD + ROW + ROW).out)
    got = rows_of(run("press", content).out)
    assert len(got) == len(want) == 2
    for one, other in zip(got, want, strict=True):
        assert one["verdict"] == other["verdict"]
        assert float(one["margin"]) == pytest.approx(float(other["margin"]), rel=1e-9)


def test_quoted_newlines_keep_rows_and_numbers(run):
    content = "note," + HEAD + '"first\nof two, lines",' + ROW + "plain," + ROW + "x," + ROW.replace("16.031", "abc")
    assert 'row 4: shaft: "abc"' in run("press", content).err
    ran = run("press", content, "--skip-bad-rows")
    rows = rows_of(ran.out)
    assert [row["note"] for row in rows] == ["first\nof two, lines", "plain"]
    assert [row["row"] for row in rows] == ["2", "3"]


def test_bad_rows_are_skipped_only_when_asked(run):
    content = HEAD + ROW + ROW.replace("16.031", "abc") + "1,2\n" + ROW
    assert run("press", content).status == 2
    ran = run("press", content, "--skip-bad-rows")
    assert ran.status == 1
    assert [row["row"] for row in rows_of(ran.out)] == ["2", "5"]
    assert ran.err.count("skipped: ") == 2
    assert "row 3: shaft: \"abc\": no number" in ran.err
    assert "row 4: 2 cells" in ran.err
    assert "; 2 bad rows skipped\ncaution: " in ran.err


def test_all_rows_bad(run):
    ran = run("press", HEAD + ROW.replace("16.031", "abc"), "--skip-bad-rows")
    assert (ran.status, ran.out) == (2, "")
    assert "no row can be read" in ran.err


def test_many_faults_are_cut_short(run):
    ran = run("press", HEAD + "".join(ROW.replace("16.031", f"x{i}") for i in range(100)))
    assert ran.err.count("\n") == 21
    assert "and 80 more faults" in ran.err


def test_a_fault_in_a_late_block_leaves_what_stood_there(run, tmp_path: Path, monkeypatch):
    monkeypatch.setattr(table, "BLOCK", 4000)
    out = tmp_path / "out.csv"
    out.write_text("before")
    ran = run("press", HEAD + ROW * 500 + ROW.replace("16.031", "abc"), "-o", str(out))
    assert ran.status == 2
    assert 'row 502: shaft: "abc"' in ran.err
    assert out.read_text() == "before"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["joints.csv", "out.csv"]


def test_blocks_make_no_difference(run, monkeypatch):
    content = as_table(joints(60, 3))
    whole = run("press", content).out
    monkeypatch.setattr(table, "BLOCK", 700)
    assert run("press", content).out == whole


def test_a_kind_that_is_not_by_columns_says_the_same(run, monkeypatch):
    content = as_table(joints(25, 4))
    whole = run("press", content, *STATES).out
    monkeypatch.setattr(kind("press"), "by_columns", False)
    assert run("press", content, *STATES).out == whole


def test_carried_columns_and_values(run):
    ran = run("press", "id,lot,"[:3] + "lot," + HEAD + "a,7," + ROW, "--keep", "lot", "--value", "press_force")
    row = rows_of(ran.out)[0]
    assert (row["id"], row["lot"]) == ("a", "7")
    assert "press_force_greatest [N]" in row
    assert "no such field" in run("press", "lot," + HEAD + "7," + ROW).err
    assert 'row 1: --keep: "lto": no such column; did you mean "lot"?' in run("press", "lot," + HEAD + "7," + ROW, "--keep", "lot", "--keep", "lto").err
    assert '--value: "contact_pres": press has no such value; did you mean "contact_pressure"?' in run("press", HEAD + ROW, "--value", "contact_pres").err


def test_inches(run):
    mm, inch = (rows_of(run("press", HEAD + ROW, "--units", units).out)[0] for units in ("mm", "in"))
    assert float(mm["effective_interference_least [mm]"]) == pytest.approx(25.4 * float(inch["effective_interference_least [in]"]))
    assert float(mm["hub_von_mises_greatest [MPa]"]) == pytest.approx(0.00689475729316836 * float(inch["hub_von_mises_greatest [psi]"]))


@pytest.mark.parametrize(("hole", "unit"), [
    ("16.011/16.000", "mm"), ("16 H6", "mm"), ("16 +0.011/0", "mm"), ("16.0055 ±0.0055", "mm"), ("16.011/16", "mm"), ("0.6303543307/0.6299212598", "in"),
    ("0.6299212598 +0.0004330709/0", "in"), ("16011.0/16000", "um"),
])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_size_of_any_notation_takes_the_unit_of_the_header(run, hole: str, unit: str, units: str):
    head = HEAD.replace("hole [mm]", f"hole [{unit}]")
    row = rows_of(run("press", head + ROW.replace("16.003", hole), "--units", units, "--value", "interference").out)[0]
    least, most = ("interference_least [mm]", "interference_greatest [mm]") if units == "mm" else ("interference_least [in]", "interference_greatest [in]")
    scale = 1.0 if units == "mm" else 25.4
    assert (float(row[least]) * scale, float(row[most]) * scale) == pytest.approx((0.020, 0.031), abs=1e-6)


def test_the_answer_never_takes_the_place_of_the_table(run, tmp_path: Path):
    path = tmp_path / "joints.csv"
    ran = run("press", HEAD + ROW, "-o", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert "the answer would take the place of what it is made from" in ran.err
    assert path.read_text() == HEAD + ROW


def test_refused_states(run):
    ran = run("press", HEAD + ROW, "--state", "proof: 20 degC, 5 MPa, air, proof")
    assert (ran.status, rows_of(ran.out)[0]["verdict"]) == (1, "refused")


def test_a_folder_no_file_and_no_kind(fits, tmp_path: Path):
    assert "this is a folder" in fits("batch", "press", str(tmp_path)).err
    assert "No such file" in fits("batch", "press", str(tmp_path / "none.csv")).err
    assert 'did you mean "press"?' in fits("batch", "pres", "x.csv").err


def gland_rows(form: str) -> list[dict[str, str]]:
    """A gland of a form as a row of a table, and others that differ in a number or a text."""
    from glands import WHOLE

    usual = {name: str(text) for name, text in WHOLE[form].items()}
    return [usual, usual | {"compression_set": "0.9"}, usual | {"elastomer": "NBR 70"}, usual | {"compression_set": ""}]


@pytest.mark.parametrize("form", forms("gland"))
def test_a_form_of_a_kind_by_rows_says_what_its_command_says(fits, run, form: str):
    found = gland_rows(form)
    states = ["--state", "shop: 20 degC", "--state", "work: 60 degC, 5 MPa"]
    ran = run(f"gland {form}", as_table(found), *states)
    rows = rows_of(ran.out)
    assert [row["row"] for row in rows] == ["2", "3", "4", "5"]
    assert len({row["verdict"] for row in rows}) > 1
    for row, cells in zip(rows, found, strict=True):
        agree(row, alone(f"gland {form}", cells, states))
    typed = [word for name, text in found[0].items() if text for word in (f"--{name.replace('_', '-')}", text)]
    of = fits("gland", form, *typed, *states, "--json").json["features"][f"gland {form}"]
    assert rows[0]["verdict"] == of["verdict"]
    shown = [name for name in rows[0] if name.partition(" ")[0].endswith("_least") and rows[0][name]]
    # A value of no digits to show stands in the table only.
    shown = [name for name in shown if name.partition(" ")[0].removesuffix("_least") in of["values"]]
    assert len(shown) >= 4
    for name in shown:
        spans = of["values"][name.partition(" ")[0].removesuffix("_least")]["states"].values()
        assert float(rows[0][name]) == pytest.approx(min(span["min"] for span in spans if "min" in span), rel=1e-9, abs=1e-9)


def test_glands_of_a_table_come_row_by_row_however_it_is_cut(run, monkeypatch):
    found = gland_rows("piston") * 3
    whole = run("gland piston", as_table(found))
    monkeypatch.setattr(table, "BLOCK", 400)
    assert run("gland piston", as_table(found)).out == whole.out


@pytest.mark.parametrize(("words", "says"), [
    (["gland", "x.csv"], "FORM: gland has several forms: say which; fits batch gland face|piston|rod"), (["gland"], "FORM: gland has several forms"),
    (["gland", "pistn", "x.csv"], 'FORM: "pistn": gland has several forms'), (["gland", "rod"], "TABLE.csv: missing: a table of joints"),
    (["press"], "TABLE.csv: missing: a table of joints"), (["press", "a.csv", "b.csv"], 'TABLE.csv: "b.csv": one table at a time'),
    (["gland", "rod", "none.csv"], "none.csv: can't read the file"),
])
def test_the_words_of_a_batch(fits, words: list[str], says: str):
    ran = fits("batch", *words)
    assert (ran.status, ran.out, len(ran.err.splitlines())) == (2, "", 1)
    assert says in ran.err


def test_standard_input(process):
    ran = process("batch", "press", "-", input=HEAD + ROW)
    assert ran.status == 1
    assert len(rows_of(ran.out)) == 1


@given(st.text(alphabet="0123456789.+-eE naif_/\tx", min_size=0, max_size=9))
def test_plain_numbers_are_those_of_the_parser(text: str):
    """What is taken as a plain number is one that the field's own parser reads, as the same number."""
    from fits.sizes.notation import parse_size

    found = table.plain_numbers([text])
    if found is None or math.isnan(found[0]) or found[0] <= 0.0:
        return
    assert parse_size(text).lower == found[0]


@given(st.lists(st.floats(1e-3, 1e6), min_size=1, max_size=5))
def test_the_quick_reader_reads_the_same_numbers(tmp_path_factory, numbers: list[float]):
    path = tmp_path_factory.mktemp("quick") / "t.csv"
    path.write_text("a,b\n" + "".join(f"{one!r},x\n" for one in numbers))
    found = table.Table(str(path))
    (block,) = found.blocks(["a"])
    found.close()
    np.testing.assert_allclose(block.numbers["a"], numbers, rtol=1e-15)


def test_an_interrupt_leaves_nothing(run, tmp_path: Path, monkeypatch):
    from fits.questions import rows

    def interrupted(*args: Any) -> Any:
        raise KeyboardInterrupt

    monkeypatch.setattr(rows, "judge_rows", interrupted)
    assert run("press", HEAD + ROW, "-o", str(tmp_path / "out.csv")).status == 130
    assert [path.name for path in tmp_path.iterdir()] == ["joints.csv"]


def test_a_closed_pipe_is_quiet(tmp_path: Path):
    import subprocess
    import sys

    path = tmp_path / "t.csv"
    path.write_text(HEAD + ROW * 20_000)
    command = f"{sys.executable} -m fits batch press {path} 2>{tmp_path}/err | head -1"
    ran = subprocess.run(command, shell=True, capture_output=True, text=True, check=False)
    assert ran.stdout.startswith("row,verdict,")
    assert "Error" not in (tmp_path / "err").read_text()


def test_errors_close_the_table(tmp_path: Path):
    path = tmp_path / "t.csv"
    path.write_text("nothing\n")
    with pytest.raises(InputError):
        Batch(str(path), kind("press"))


def test_the_example_and_its_answer(fits):
    """Guards against unnoticed change; the numbers are checked against one joint at a time above."""
    ran = fits("batch", "press", "examples/liners.csv", "--state", "shop: 20 degC", "--state", "working: 70 degC, 8 MPa")
    assert ran.out == Path("examples/liners.answer.csv").read_text(encoding="utf-8")
    assert ran.status == 1
    assert ran.err.startswith("5 rows judged: 2 pass, 1 not covered, 2 fail (fits press with a row's values says what would be enough)\ncaution: ")


def test_a_text_is_parsed_once_for_all_blocks(run, monkeypatch):
    rows = ROW.replace("16.003", "16.003 mm") * 40 + ROW.replace("16.003", "16.004 mm") * 40
    whole = run("press", HEAD + rows)
    parsed: list[str] = []
    own = batch._parsed
    monkeypatch.setattr(batch, "_parsed", lambda column, text, *more: parsed.append(text) or own(column, text, *more))
    monkeypatch.setattr(table, "BLOCK", 200)
    assert run("press", HEAD + rows) == whole
    assert parsed.count("16.003 mm") == parsed.count("16.004 mm") == 1
