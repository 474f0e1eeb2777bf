"""Part files: every fault at its line, all at once; states, overrides, surfaces."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from bad_parts import BAD, GOOD
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.files.part import build, line_of, read_part

ROOT = Path(__file__).parent.parent.parent


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


@pytest.mark.parametrize(("old", "new", "says"), BAD)
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
    ("", "no feature in this part"), ("# only a comment\n", "no feature in this part"), ("[states.a]\ntemperature = \"20 degC\"\n", "no feature in this part"),
])
def test_empty_files(tmp_path: Path, text: str, says: str):
    assert says in fault(tmp_path, text)[0]


@pytest.mark.parametrize(("text", "says"), [
    ("a = " + "9" * 5000, "part.toml: not TOML: a number that is too long"), ("a = " + "[" * 5000, "part.toml: not TOML: nested too deeply"),
])
def test_what_python_itself_refuses(tmp_path: Path, text: str, says: str):
    assert fault(tmp_path, text) == [says]


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


@pytest.mark.parametrize(("text", "says"), [
    ('materials.mine = "steel"\n', "materials.mine: a table is due"),
    ('states.hot = "80 degC"\n', "states.hot: a table is due"),
    ('[states.hot]\ntemperature = "80 degC"\n[states.hot.a]\ntemperature = "80 mm"\n', "states.hot.a.temperature:"),
    ('[sizes]\nbore = 12\n', 'sizes.bore: "12": text is due, such as "16 H7"'),
])
def test_what_a_part_file_refuses(fits, tmp_path, text: str, says: str):
    path = tmp_path / "part.toml"
    path.write_text(f'{text}[running.a]\nhole = "12 H7"\nshaft = "12 f7"\nclearance_at_least = "0.01"\n')
    ran = fits("check", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1


# What a user forgets must be asked: a fit that holds in the shop may be loose when hot.
@pytest.mark.parametrize("keys", ["", 'pressure = "8 MPa"', 'speed = "100 rpm"', 'time = "10 h"', "proof = true\npressure = \"9 MPa\""])
def test_a_state_says_how_warm_the_parts_are(tmp_path: Path, keys: str):
    text = GOOD + f"\n[states.forgotten]\n{keys}\n"
    (said,) = fault(tmp_path, text)
    assert "states.forgotten.temperature: missing: how warm the parts are; 20 degC where" in said
    hub = text + 'hub_temperature = "20 degC"\n'
    assert "missing beside the other part's temperature" in fault(tmp_path, hub)[0]


INCHES = """
[states.shop]
temperature = "20 degC"
[running.bush]
hole = "0.7505/0.7500"
shaft = "0.7490/0.7485"
"""


@pytest.mark.parametrize(("old", "new"), [
    ('"20 degC"', '"68 degF"'), ("[running", '[materials.bar]\nyoungs_modulus = "29e6 psi"\npoisson = 0.29\nexpansion = "1e-5 1/K"\n[running'),
    ('"0.7490/0.7485"', '"0.7490/0.7485"\nform_hole = "0.2 thou"'), ('"0.7490/0.7485"', '"0.7490 in -0.001/-0.002"'),
])
def test_an_inch_shop_is_asked_what_its_bare_lengths_are(tmp_path: Path, old: str, new: str):
    assert old in INCHES
    text = INCHES.replace(old, new)
    path = tmp_path / "part.toml"
    # psi alone is on gauges everywhere.
    if "psi" in new:
        path.write_text(text, encoding="utf-8")
        assert read_part(str(path)).units == "mm"
        return
    said = fault(tmp_path, text)[0]
    assert 'units: "0.7505/0.7500": missing beside ' in said
    assert said.endswith("is it mm or inches?; units are mm or in")
    for units in ("in", "mm") if "degF" in new else ("in",):
        path.write_text(f'units = "{units}"\n{text}', encoding="utf-8")
        assert read_part(str(path)).units == units


def test_nobody_is_asked_who_wrote_units_or_no_bare_length(tmp_path: Path):
    path = tmp_path / "part.toml"
    all_in = INCHES.replace('"20 degC"', '"68 degF"').replace('0.7500"', '0.7500 in"').replace('0.7485"', '0.7485 in"')
    for text in (INCHES, all_in, f'name = "valve of 2 in"\n{INCHES}'):
        path.write_text(text, encoding="utf-8")
        read_part(str(path))
