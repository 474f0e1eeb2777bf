"""The schema of part files: it accepts what the loader takes, and refuses what it can say of one value."""

from __future__ import annotations

import json
import shlex
import tomllib
from pathlib import Path

import jsonschema
import pytest
from bad_parts import BAD, GOOD
from hypothesis import given, settings
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.feature import declared
from fits.features.fields import Context
from fits.features.kinds import KINDS, kind
from fits.features.when import RESERVED
from fits.files.schema import schema
from fits.materials.elastomers import names as elastomers
from fits.materials.metals import names as metals

ROOT = Path(__file__).parent.parent.parent
SCHEMA = schema()
EXAMPLES = [path for path in sorted((ROOT / "examples").glob("*.toml")) if path.name != "drawer.toml"]
# What lies between several values, or is no TOML at all: the loader's to say.
BETWEEN = {
    "the limits are swapped": "two numbers of one text", "must stay below shaft": "two fields", "must stay below hub_outside": "two fields",
    "can't belong together": "two fields", "no feature linr": "a name given elsewhere", "this name stands twice": "two tables",
    "no such feature": "a name given elsewhere", "missing: outside of the hub": "one of two fields",
    "has no surface": "a name given elsewhere", "not TOML": "not TOML", "must be at least -273.15": "a number in any of several units",
}


def wrong(text: str) -> list[str]:
    """What the schema says of a part file."""
    return [error.message for error in jsonschema.Draft7Validator(SCHEMA).iter_errors(tomllib.loads(text))]


def test_it_is_a_schema():
    jsonschema.Draft7Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_it_accepts_every_example(path: Path):
    text = path.read_text(encoding="utf-8")
    assert wrong(text) == []
    # The line by which an editor finds the schema, and the schema it finds.
    assert text.splitlines()[0] == "#:schema fits.schema.json"


def test_the_schema_beside_the_examples_is_the_one_that_is_printed(fits):
    """After a change of a declaration: fits schema -o examples/fits.schema.json."""
    ran = fits("schema")
    assert ran.status == 0
    assert json.loads(ran.out) == SCHEMA
    assert (ROOT / "examples" / "fits.schema.json").read_text(encoding="utf-8") == ran.out


def test_it_accepts_the_good_file():
    assert wrong(GOOD) == []


@pytest.mark.parametrize(("old", "new", "says"), BAD)
def test_it_refuses_every_bad_file_that_one_value_makes_bad(old: str, new: str, says: str):
    text = GOOD.replace(old, new, 1)
    between = [reason for words, reason in BETWEEN.items() if words in says]
    try:
        refused = bool(wrong(text))
    except tomllib.TOMLDecodeError:
        assert between == ["not TOML"] or "stands twice" in says
        return
    assert refused is not bool(between), text


def test_it_refuses_files_without_a_feature():
    for text in ("", "# only a comment\n", "[states.a]\n", "[press]\n"):
        assert wrong(text)


def test_a_metal_of_the_file_is_a_name_and_else_only_the_tables():
    own = '[materials.bar]\nyoungs_modulus = "200 GPa"\npoisson = 0.3\n'
    text = GOOD.replace('"316"', '"bar"')
    assert wrong(text)
    assert wrong(text + own) == []
    assert wrong(text + own.replace("poisson = 0.3", ""))
    assert wrong(text + own.replace("0.3", "0.7"))


@pytest.mark.parametrize("name", KINDS)
def test_it_knows_every_field_with_its_help(name: str):
    table, _, form = name.partition(" ")
    of = SCHEMA["properties"][table]["additionalProperties"]
    if form:
        of = next(one for one in of["anyOf"] if one["properties"]["form"]["const"] == form)
    for field, mark in declared(kind(name)).items():
        assert of["properties"][field]["description"] == mark.help
    assert set(of["properties"]) - {"form"} == set(declared(kind(name)))


def field(kind_of: str, name: str, value: object) -> bool:
    """Whether the schema takes a value of a field."""
    one = SCHEMA["properties"][kind_of]["additionalProperties"]["properties"][name]
    return jsonschema.Draft7Validator({**one, "definitions": SCHEMA["definitions"]}).is_valid(value)


TAKEN = [
    ("press", "hole", "25 H7"), ("press", "hole", "25.021/25.000"), ("press", "hole", "25 +0.021/0"), ("press", "hole", "25 -0.007/-0.020"),
    ("press", "hole", "25 ±0.01"), ("press", "hole", "25 +-0.01"), ("press", "hole", "1 3/8 in"), ("press", "hole", "1.0000 in RC4"),
    ("press", "hole", "1.0000 in rc4s hole"), ("press", "hole", "25"), ("press", "hole", 25.013), ("press", "hole", "bearing 16"),
    ("press", "hole", ".5 in +.001/-0"), ("press", "hole", "⌀25 H7"), ("press", "hole", "25 mm H7"), ("press", "hole", "main bore"),
    ("press", "hole", '0.5005"/0.5000"'), ("press", "hole", "?"), ("press", "hole", [12, "mm"]), ("press", "shaft", "25 js6"), ("press", "shaft", "25 za7"),
    ("press", "shaft_bore", 0), ("press", "shaft_bore", "0"), ("press", "roughness_hole", "3 µm"), ("press", "roughness_hole", "32 uin"),
    ("press", "axial_load", "800 N"), ("press", "axial_load", "1e3 N"), ("press", "torque", "3 N m"), ("press", "torque", "3 Nm"), ("press", "torque", "5 lbf*in"),
    ("press", "friction_hold", "0.10 to 0.12"), ("press", "friction_hold", 0.1), ("press", "cracking_stress", "200 N/mm^2"), ("press", "heat_to", "150 °C"), ("press", "chill_to", "-196 °C"),
    ("press", "joining_clearance", "0.8 to 1.2 thou"), ("press", "joining_clearance", "0.02"), ("press", "hub_material", "1045 HR"),
    ("press", "hub_material", {"based_on": "316", "yield_strength": "220 MPa"}), ("press", "alternating", True), ("press", "alternating", "true"),
    ("reamed", "reamer", "measured 10.007"), ("reamed", "reamer", "10 H7"), ("reamed", "drill", "letter W"), ("reamed", "drill", "No. 7"), ("reamed", "drill", "#7"),
    ("reamed", "drill", "25/64 in"), ("reamed", "go_pin", "0.5000 in ZZ plus"), ("running", "hole", "liner.shaft_bore"), ("dowel", "pin", "dowel 6 m6"),
]
REFUSED = [
    ("press", "hole", "25 h7"), ("press", "hole", "25 H77"), ("press", "hole", "25,0 H7"), ("press", "hole", 0), ("press", "hole", -3), ("press", "hole", True),
    ("press", "hole", "25 kg"), ("press", "hole", "25 mn"), ("press", "hole", ""), ("press", "hole", "-25"), ("press", "hole", "1.0000 in RC44"), ("press", "hole", "7/9 in"),
    ("press", "shaft", "25 H7"), ("press", "axial_load", "800"), ("press", "axial_load", 800), ("press", "axial_load", "-5 N"), ("press", "axial_load", "5 MPa"),
    ("press", "friction_hold", "0.1 N"), ("press", "friction_hold", 0), ("press", "ends", "opne"), ("press", "hub_material", 3), ("press", "hub_material", {"poisson": 0.3}),
    ("press", "hub_material", {"based_on": "316", "yield": "2 MPa"}), ("press", "alternating", "yes"), ("press", "coating_share", 1.5), ("reamed", "gauge_class", "XY"),
    ("reamed", "go_pin", "0.5000 in"), ("reamed", "drill", "letter 7"), ("running", "hole", "liner.bor"), ("press", "length", "main"), ("press", "heat_to", "20 K to"),
]


@pytest.mark.parametrize(("kind_of", "name", "value"), TAKEN)
def test_it_takes(kind_of: str, name: str, value: object):
    assert field(kind_of, name, value)


@pytest.mark.parametrize(("kind_of", "name", "value"), REFUSED)
def test_it_refuses(kind_of: str, name: str, value: object):
    assert not field(kind_of, name, value)


@pytest.mark.parametrize("name", KINDS)
def test_it_takes_what_each_kind_shows_as_its_example(name: str, fits):
    ran = fits("start", *name.split())
    assert wrong(ran.out) == []


def test_its_lists_are_those_of_the_tables():
    metal = SCHEMA["definitions"]["metal"]["anyOf"]
    assert metal[0]["enum"] == metals()
    assert SCHEMA["properties"]["states"]["propertyNames"]["not"]["enum"] == sorted(RESERVED)
    assert len(elastomers()) > 3


PIECES = ["25", "0.5", ".5", "1 3/8", "7/8", "16.050", " ", "/", "+", "-", "±", "+-", "H7", "h6", "js5", "ZC8", "mm", "in", '"', "RC4", "FN2S", "um", "thou", "N",
          "MPa", "degC", "K", "N*m", "to", "0", "0.010", "1e3", "e", "x", "dowel", "m6", "bearing", "nan", ","]


@settings(max_examples=1500)
@given(st.lists(st.sampled_from(PIECES), min_size=1, max_size=6).map("".join), st.sampled_from(["hole", "shaft", "length", "axial_load", "torque", "heat_to", "coating_share"]))
def test_it_never_refuses_a_text_that_the_loader_takes(text: str, name: str):
    try:
        declared(kind("press"))[name].parse(text, Context())
    except InputError:
        return
    assert field("press", name, text), shlex.quote(text)
