"""Part files: every fault at its line, all at once; states, overrides, surfaces."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.files.part import build, line_of, read_part

ROOT = Path(__file__).parent.parent.parent
GOOD = """name = "test"
[states.shop]
temperature = "20 degC"
[states.hot]
temperature = "70 degC"
pressure = "8 MPa"

[press.liner]
hole = "16 H7"
shaft = "16.060/16.050"
shaft_bore = "12"
hub_outside = "32"
hub_material = "6061-T6"
shaft_material = "316"

[running.plunger]
hole = "liner.shaft_bore"
shaft = "11.9 -0.01/-0.02"
"""


def fault(tmp_path: Path, text: str) -> list[str]:
    path = tmp_path / "part.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as error:
        read_part(str(path))
    return [str(one).replace(str(path), "part.toml") for one in error.value.faults]


def test_a_good_file(tmp_path: Path):
    path = tmp_path / "part.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    part = read_part(str(path))
    assert list(part.features) == ["liner", "plunger"]
    assert [state.name for state in part.states] == ["shop", "hot"]


@pytest.mark.parametrize(("old", "new", "says"), [
    ('"16 H7"', '"16 H77"', 'part.toml:9: press.liner.hole: "16 H77": no grade 77; grades run from 01 to 18'),
    ('"16 H7"', '"16 h7"', "part.toml:9: press.liner.hole: \"16 h7\": h7 is a class of shafts, a hole is due"),
    ('"16 H7"', '"16 Q7"', "no tolerance class Q7"),
    ('"16.060/16.050"', '"16.050/16.060"', "part.toml:10: press.liner.shaft: \"16.050/16.060\": the limits are swapped"),
    ('"16 H7"', '"16,0 H7"', "decimal comma"),
    ('"6061-T6"', '"6061"', 'part.toml:13: press.liner.hub_material: "6061": unknown metal; did you mean "6061-T6"?'),
    ('hub_outside = "32"', 'hub_outsid = "32"', 'part.toml:12: press.liner.hub_outsid: unknown key; did you mean "hub_outside"?'),
    ('hub_outside = "32"\n', "", "part.toml:8: press.liner.hub_outside: missing: outside of the hub"),
    ('shaft_bore = "12"', 'shaft_bore = "17"', "part.toml:11: press.liner.shaft_bore: \"17 mm\": must stay below shaft"),
    ('hub_outside = "32"', 'hub_outside = "15"', "must stay below hub_outside"),
    ('"16 H7"', '"25 H7"', "can't belong together"),
    ('"8 MPa"', '"8"', "part.toml:6: states.hot.pressure: \"8\": a pressure needs a unit"),
    ('"8 MPa"', "8", "a pressure needs a unit"),
    ('"8 MPa"', '"8 N"', "a pressure is due, N is a force"),
    ('"8 MPa"', '"-8 MPa"', "must be at least 0 MPa"),
    ('"70 degC"', '"70 K to 80 K"', "a state is a point"),
    ('"70 degC"', '"nan degC"', "not a finite number"),
    ('"70 degC"', '"-300 degC"', "must be at least -273.15 degC"),
    ('"70 degC"', '"?"', "not decided yet"),
    ('pressure = "8', 'presure = "8', 'states.hot.presure: unknown key; did you mean "pressure"?'),
    ("[press.liner]", "[pres.liner]", 'pres: unknown kind of feature; did you mean "press"?'),
    ('name = "test"', 'nmae = "test"', 'part.toml:1: nmae: unknown key; did you mean "name"?'),
    ('name = "test"', "name = 7", "part.toml:1: name: \"7\": text is due"),
    ('name = "test"', 'units = "cm"', "must be mm or in"),
    ('"liner.shaft_bore"', '"linr.shaft_bore"', 'part.toml:17: running.plunger.hole: "linr.shaft_bore": no feature linr in this part'),
    ('"liner.shaft_bore"', '"liner.bore"', "liner has no surface bore"),
    ("[states.hot]", "[states.as_made]", "a reserved name"),
    ("[running.plunger]", "[running.liner]", "this name stands twice"),
    ("[running.plunger]", "[running.hot]", "this name stands twice"),
    ("[states.hot]", "[states.hot.plungr]\ntemperature = \"3 degC\"\n[states.hot]", "no such feature"),
    ('hole = "16 H7"', 'hole = "16 H7"\nhole = "16 H6"', "part.toml:10: not TOML: a key or table stands twice"),
    ('hole = "16 H7"', 'hole = "16 H7', "part.toml:9: not TOML:"),
    ('hole = "16 H7"', "hole = ", "part.toml:9: not TOML:"),
    ("[press.liner]", "[press]\nliner = 3\n[other]", "a table is due"),
    ('temperature = "70 degC"', 'hub_temperature = "70 degC"', "states.hot.shaft_temperature: missing beside"),
    ('temperature = "70 degC"', 'temperature = "70 degC"\nhub_temperature = "70 degC"', "either temperature, or"),
])
def test_a_fault_says_where_what_and_what_would_be_right(tmp_path: Path, old: str, new: str, says: str):
    assert old in GOOD
    found = fault(tmp_path, GOOD.replace(old, new, 1))
    assert any(says in line for line in found), found
    assert all("\n" not in line for line in found)


def test_all_faults_of_a_file_at_once_in_the_order_of_its_lines(tmp_path: Path):
    text = GOOD.replace('"16 H7"', '"16 H77"').replace('"8 MPa"', '"8"').replace('"316"', '"317"').replace("11.9 -0.01/-0.02", "x")
    found = fault(tmp_path, text)
    lines = [int(line.split(":")[1]) for line in found]
    assert lines == sorted(lines)
    assert len(found) == 4


@pytest.mark.parametrize(("text", "says"), [
    ("", "no feature in this part"), ("# only a comment\n", "no feature in this part"), ("[states.a]\n", "no feature in this part"),
])
def test_empty_files(tmp_path: Path, text: str, says: str):
    assert says in fault(tmp_path, text)[0]


def test_not_a_file(tmp_path: Path):
    with pytest.raises(InputError, match="this is a folder"):
        read_part(str(tmp_path))
    with pytest.raises(InputError, match="No such file"):
        read_part(str(tmp_path / "none.toml"))
    path = tmp_path / "latin.toml"
    path.write_bytes(b'name = "ok"\nx = "\xff"\n')
    with pytest.raises(InputError, match=r"latin.toml:2: not UTF-8"):
        read_part(str(path))


def test_a_circle_of_surfaces_is_refused(tmp_path: Path):
    text = """
[running.a]
hole = "12 H7"
shaft = "b.hub_outside"
[press.b]
hole = "10 H7"
shaft = "10.02/10.01"
hub_outside = "11.9"
hub_material = "316"
shaft_material = "316"
"""
    path = tmp_path / "part.toml"
    path.write_text(text, encoding="utf-8")
    assert list(read_part(str(path)).features) == ["b", "a"]


def test_states_may_differ_for_one_feature(tmp_path: Path):
    path = tmp_path / "part.toml"
    path.write_text(GOOD + '[states.hot.plunger]\nhub_temperature = "60 degC"\nshaft_temperature = "90 degC"\n', encoding="utf-8")
    part = read_part(str(path))
    assert part.states_of("liner")[1].hub_temperature == 70.0
    own = part.states_of("plunger")[1]
    assert (own.hub_temperature, own.shaft_temperature, own.pressure) == (60.0, 90.0, 8.0)


def test_shared_sizes_and_typed_metals():
    data = tomllib.loads("""
units = "in"
[sizes]
main = "0.5005/0.5000"
[materials.bar]
youngs_modulus = "28 Msi"
poisson = 0.29
yield_strength = "30 ksi"
[running.a]
hole = "main"
shaft = "0.499 ±0.0002"
shaft_material = "bar"
clearance_at_least = "0.0002"
""")
    part = build(data)
    hole = part.features["a"].hole
    assert (hole.lower, hole.name) == (12.7, "main")
    assert part.features["a"].clearance_at_least.low == pytest.approx(0.00508)
    for bad, says in (("[sizes]\nmain = 5\n", "text is due"), ("[sizes]\nmain = \"5 Q7\"\n", "sizes.main"),
                      ("[materials]\nbar = 3\n", "a table is due"), ("[materials.bar]\npoisson = 2\n", "materials.bar.poisson")):
        with pytest.raises(InputError, match=says):
            build(tomllib.loads(bad + '[running.a]\nhole = "5 H7"\nshaft = "5 f7"\n'))


def test_an_inline_metal_fault_names_its_key(tmp_path: Path):
    text = GOOD.replace('"316"', '{youngs_modulus = "193", poisson = 0.29}')
    assert any('press.liner.shaft_material.youngs_modulus: "193": a pressure needs a unit' in line for line in fault(tmp_path, text))


KEYS = st.from_regex(r"[a-z]{1,6}", fullmatch=True)


@given(st.dictionaries(KEYS, st.dictionaries(KEYS, st.one_of(st.integers(), st.text("ab \n", max_size=8), st.lists(st.integers(), max_size=3)), min_size=1, max_size=4), min_size=1, max_size=4))
def test_lines_of_keys(data):
    """The line found is the one on which a plain reader sees the key."""
    lines, places = [], {}
    for table, keys in data.items():
        lines.append(f"[{table}]")
        places[(table,)] = len(lines)
        for key, value in keys.items():
            if isinstance(value, list):
                places[(table, key)] = len(lines) + 1
                lines += [f"{key} = [", *(f"  {one}," for one in value), "]"]
            elif isinstance(value, str):
                places[(table, key)] = len(lines) + 1
                text = value.replace(" ", "_").split("\n")
                lines += (f'{key} = """' + "\n".join(text) + '"""').split("\n")
            else:
                lines.append(f"{key} = {value}")
                places[(table, key)] = len(lines)
        lines.append("# a comment")
    text = "\n".join(lines)
    for path, line in places.items():
        assert line_of(text, path) == line


@given(st.text("[]=\"'abc.\n 1#{}", max_size=60))
def test_any_text_is_a_part_or_a_refusal(text: str):
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    with pytest.raises(InputError):
        build(data)


def test_a_wrong_metal_is_said_once():
    text = (ROOT / "examples" / "hand_pump.toml").read_text(encoding="utf-8").replace("= 0.272", "= 0.6")
    with pytest.raises(InputError) as error:
        build(tomllib.loads(text))
    (fault,) = error.value.faults
    assert fault.key == "materials.liner_bar.poisson"
