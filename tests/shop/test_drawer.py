"""The drawer: what it may hold, and how a wrong row is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from fits.errors import InputError
from fits.files.drawer import read_drawer

ROOT = Path(__file__).parent.parent.parent


def read(tmp_path: Path, text: str, name: str = "drawer.toml"):
    path = tmp_path / name
    path.write_text(text)
    return read_drawer(str(path))


def test_the_example():
    found = read_drawer(str(ROOT / "examples" / "drawer.toml"))
    assert len(found.reamers) == 8
    assert found.press_rating == 9000.0
    assert found.oven == 230.0
    assert {one.grade for one in found.pins} == {"ZZ", "X"}
    assert len([one for one in found.drills if one.drill.series == "letter"]) == 26
    assert [one.name for one in found.bore_gauges] == ["three-point 10 to 12.5 mm", "two-point with its ring"]
    measured = found.reamers[0]
    assert measured.proven
    assert measured.expected == pytest.approx((10.009, 10.012))


def test_csv_and_toml_say_the_same(tmp_path: Path):
    toml = read(tmp_path, """
[[reamer]]
marked = "10 H7"
measured = "10.008 mm"
cuts_over = "1 um to 4 um"
[[pin]]
from = "0.250 in"
to = "0.252 in"
step = "0.001 in"
class = "ZZ"
sense = "minus"
[[bore_gauge]]
from = "10 mm"
to = "12 mm"
uncertainty = "4 um"
[press]
rating = "1 kN"
""")
    rows = "\n".join([
        "what,marked,measured,cuts_over,from,to,step,class,sense,uncertainty,rating",
        "reamer,10 H7,10.008 mm,1 um to 4 um,,,,,,,",
        "pin,,,,0.250 in,0.252 in,0.001 in,ZZ,minus,,",
        "bore gauge,,,,10 mm,12 mm,,,,4 um,",
        "press,,,,,,,,,,1 kN",
    ])
    table = read(tmp_path, rows + "\n", "drawer.csv")
    assert table._replace(place="") == toml._replace(place="")
    assert [round(one.size / 25.4, 4) for one in table.pins] == [0.250, 0.251, 0.252]


def test_decimal_steps_are_exact(tmp_path: Path):
    found = read(tmp_path, '[[drill]]\nfrom = "1.0 mm"\nto = "13.0 mm"\nstep = "0.1 mm"\n')
    assert len(found.drills) == 121
    assert found.drills[-1].drill.size == 13.0
    assert {one.drill.series for one in found.drills} == {"metric"}


@pytest.mark.parametrize(("marked", "measured", "near"), [
    # 0.05 mm or half a percent beyond the band of the marking: 10 H7 is made to 10.012/10.006.
    ("10 H7", 10.062, True), ("10 H7", 10.063, False), ("10 H7", 9.956, True), ("10 H7", 9.955, False), ("40 H7", 40.22, True), ("40 H7", 40.23, False),
])
def test_a_reamer_measures_about_what_is_marked(tmp_path: Path, marked: str, measured: float, near: bool):
    text = f'[[reamer]]\nmarked = "{marked}"\nmeasured = "{measured:.4f} mm"\n'
    if near:
        assert read(tmp_path, text).reamers[0].size.lower == pytest.approx(measured)
    else:
        with pytest.raises(InputError, match="from what is marked"):
            read(tmp_path, text)


@pytest.mark.parametrize(("text", "line", "says"), [
    ('[[reamer]]\nmarked = "0.3940"\n', 1, "every size needs its unit"),
    ('[[reamer]]\nmeasured = "10.007"\n', 1, "every size needs its unit"),
    ('[[drill]]\nsize = "9.8"\n', 1, "every size needs its unit"),
    ('[[drill]]\nsize = 9.8\n', 1, "every size needs its unit"),
    ('[[pin]]\nsize = "0.5000 in"\nsense = "plus"\n', 1, "without its class: nobody knows what it measures"),
    ('[[pin]]\nsize = "0.5000 in"\nclass = "Q"\n', 1, "no such gauge class"),
    ('[[pin]]\nsize = "0.5000 in"\nclass = "ZZ"\nsense = "up"\n', 1, "plus or minus"),
    ('[[pin]]\nclass = "ZZ"\n', 1, "a size is due, or a set by from, to and step"),
    ('[[ring]]\nsize = "0.5 in"\n', 1, "a ring without its class"),
    ('name = "x"\n\n[[reamer]]\nmarkd = "10 H7"\n', 3, 'unknown key; did you mean "marked"?'),
    ('[[reemer]]\nmarked = "10 H7"\n', 1, 'no such thing in a drawer; did you mean "reamer"?'),
    ('[[reamer]]\nlead = "2 mm"\n', 1, "what is marked on it, or what it measures"),
    ('[[reamer]]\nmarked = "10 H7"\ncuts_over = "9 um to 4 um"\n', 1, "the range is swapped"),
    ('[[reamer]]\nmarked = "10 H7"\ncuts_over = "4"\n', 1, "every size needs its unit"),
    ('[[bore_gauge]]\nfrom = "10 mm"\nto = "12 mm"\n', 1, "uncertainty: missing"),
    ('[[bore_gauge]]\nfrom = "12 mm"\nto = "10 mm"\nuncertainty = "4 um"\n', 1, "from is larger than to"),
    ('[[reamer]]\nmarked = "5/8 in"\nmeasured = "0.6302 in"\n', 1, '"0.6302 in": 0.119 mm from what is marked; a slip of a digit?'),
    ('[[reamer]]\nmarked = "10 H7"\nmeasured = "9.9 mm"\n', 1, "mm from what is marked"),
    ('[[drill]]\nfrom = "1 mm"\nto = "13 mm"\nstep = "0.001 mm"\n', 1, "a set of 12001 tools"),
    ('[[drill]]\nseries = "metrc"\n', 1, "no such series"),
    ('[press]\nrating = "9"\n', 1, "every size needs its unit"),
    ('[press]\nrating = "9 mm"\n', 1, "a force is due"),
    ('[oven]\ntemperature = "200"\n', 1, "every size needs its unit"),
    ("reamer = 3\n", 1, "write [[reamer]]"),
    ('name = "pump"\nunits = "mm"\n', 1, "units: no such thing in a drawer; it has reamer, drill, pin"),
    ("name = \"empty\"\n", 0, "nothing in this drawer"),
    ("[[reamer\n", 1, "not TOML"),
])
def test_wrong_rows_are_said_at_their_line(tmp_path: Path, text: str, line: int, says: str):
    with pytest.raises(InputError) as caught:
        read(tmp_path, text)
    assert says in str(caught.value), str(caught.value)
    assert len(caught.value.faults) == 1
    if line:
        assert f"drawer.toml:{line}:" in str(caught.value)


def test_every_wrong_row_is_said_at_once(tmp_path: Path):
    with pytest.raises(InputError) as caught:
        read(tmp_path, '[[reamer]]\nmarked = "0.3940"\n[[pin]]\nsize = "0.5 in"\n[[drill]]\nsize = "#99"\n')
    assert [fault.place.rsplit(":", 1)[1] for fault in caught.value.faults] == ["1", "3", "5"]


@pytest.mark.parametrize(("text", "says"), [
    ("size,class\n0.5 in,ZZ\n", "a column what is due"),
    ("what,size,class\npin,0.5 in,ZZ,minus,more\n", "more cells than columns"),
    ('what,size\npin,"0.5 in', "drawer.csv:2: not CSV: unexpected end of data; close every quote"), ("what,size\npin,0.5\rin\n", "drawer.csv:2: not CSV: new-line character"),
    ("what\rsize\n", "drawer.csv:1: not CSV: new-line character"),
    ("what,size,class\npin,0.5,ZZ\n", "drawer.csv:2: size: \"0.5\": a drawer mixes inch and metric"),
])
def test_wrong_csv(tmp_path: Path, text: str, says: str):
    with pytest.raises(InputError) as caught:
        read(tmp_path, text, "drawer.csv")
    assert says in str(caught.value)


def faults_of(tmp_path: Path, text: str) -> list[str]:
    with pytest.raises(InputError) as wrong:
        read(tmp_path, text)
    return [str(fault) for fault in wrong.value.faults]


@pytest.mark.parametrize(("row", "says"), [
    ('[[drill]]\nsize = "0 mm"', '"0 mm": must be above 0'),
    ('[[drill]]\nfrom = "1 mm"\nto = "0.5 in"\nstep = "0.1 mm"', "from, to and step have one unit and are decimals"),
    ('[[drill]]\nfrom = "10 mm"\nto = "1 mm"\nstep = "0.1 mm"', "from is larger than to"),
])
def test_sizes_that_a_drawer_refuses(tmp_path: Path, row: str, says: str):
    (said,) = faults_of(tmp_path, row)
    assert says in said


def test_a_range_needs_its_unit_once(tmp_path: Path):
    found = read(tmp_path, '[[reamer]]\nmarked = "10 H7"\ncuts_over = "4 to 9 um"')
    # 4 and 9 um are 0.004 and 0.009 mm.
    assert found.reamers[0].cuts_over == pytest.approx((0.004, 0.009))
