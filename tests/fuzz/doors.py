"""Every door through which text comes in, and what each must do with any text.

A door takes a text and either reads it or raises an error of our own tree whose faults are one
line each. Where the tool prints what it read, the print must read back as itself. Which side,
unit or field a text is read for follows from the text, so that a case is its text and nothing else.
"""

from __future__ import annotations

import re
import tempfile
import tomllib
import zlib
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from fits import quantity
from fits.errors import FitsError, InputError
from fits.features.feature import declared
from fits.features.fields import Context
from fits.features.kinds import KINDS, kind
from fits.files import loader, spreads
from fits.files.batch import Batch
from fits.files.drawer import read_drawer
from fits.files.part import part_of, read_part
from fits.files.readings import read_readings
from fits.files.start import start
from fits.files.stored import report_of
from fits.questions.answer import SizeAnswer
from fits.questions.check import check
from fits.questions.reported import reported
from fits.report.data import to_json
from fits.report.rows import limit_text
from fits.shop import drills, gauges, reamers, rings
from fits.sizes import notation
from fits.sizes.limits import Limits
from fits.sizes.scatter import Between, parse_scatter

ROOT = Path(__file__).parent.parent.parent
EXAMPLES = ROOT / "examples"
SIDES, UNITS = ("", "hole", "shaft"), ("mm", "in")
T = TypeVar("T")


class Door(NamedTuple):
    """One door: what reads its texts, valid texts to start from, the words of its grammar.

    ``share`` is how many of all cases it gets, against the others; ``grammar`` says that it is
    one text and no file.
    """

    name: str
    read: Callable[[str], object]
    seeds: tuple[str, ...]
    words: tuple[str, ...]
    share: int
    grammar: bool = True


class Broken(AssertionError):
    """What was printed does not read back, or a refusal is no line."""


def one_of(text: str, choices: Sequence[T]) -> T:
    """A choice that follows from the text alone."""
    return choices[zlib.crc32(text.encode("utf-8", "surrogateescape")) % len(choices)]


def through(door: Door, text: str) -> bool:
    """Whether a door reads a text; it may refuse it with one line a fault, and nothing else.

    Raises:
        Broken, or anything that isn't of the error tree: a fault of the door.
    """
    try:
        door.read(text)
    except FitsError as error:
        for fault in error.faults:
            if len(str(fault).splitlines()) != 1:
                raise Broken(f"a fault is no line: {str(fault)!r}") from error
        return False
    return True


def _size(text: str) -> None:
    side, units = one_of(text, [(side, units) for side in SIDES for units in UNITS])
    notation.is_pair(text), notation.is_classed(text)
    found = notation.parse_size(text, side=side, units=units)
    again = notation.parse_size(found.text, side=found.side, units=units)
    if (again.lower, again.upper, again.basic) != (found.lower, found.upper, found.basic):
        raise Broken(f"{found.text!r} is read as {again.lower} to {again.upper}, not as itself")
    _as_printed(found)


def _as_printed(found: Limits) -> None:
    """The limits as a drawing of the report writes them lie inside the zone, and near its ends."""
    if found.lower > 1e6:
        return
    answer = SizeAnswer("size", "size", found.text, found.lower, found.upper, found.basic)
    for units, step in (("mm", 1e-4), ("in", 2.54e-4)):
        ends = [limit_text(answer, upper=upper, units=units) for upper in (True, False)]
        if float(ends[1]) == 0.0 and found.lower < step:
            continue  # less than what is shown
        text = f"{ends[0]}/{ends[1]} {units}" if ends[0] != ends[1] else f"{ends[0]} {units}"
        read = notation.parse_size(text)
        wide = found.tolerance >= 2.0 * step
        for one, end, out in ((read.upper, found.upper, 1.0), (read.lower, found.lower, -1.0)):
            if abs(one - end) > 1.001 * step or (wide and (one - end) * out > 1e-6 * step + 1e-12 * end):
                raise Broken(f"{found.lower} to {found.upper} is printed as {text}")


def _pair(text: str) -> None:
    units = one_of(text, UNITS)
    hole, shaft = notation.parse_pair(text, units=units)
    if not (0.0 <= hole.lower <= hole.upper and 0.0 <= shaft.lower <= shaft.upper):
        raise Broken(f"hole {hole.lower} to {hole.upper}, shaft {shaft.lower} to {shaft.upper}")


def _quantity(text: str) -> None:
    kind, units = one_of(text, [(kind, units) for kind in sorted(quantity.KINDS) for units in UNITS])
    if zlib.crc32(text[::-1].encode("utf-8", "surrogateescape")) % 8:
        kind = quantity.OWN.get(quantity.split(text)[1], (kind,))[0]
    value = quantity.read(text, kind, units=units)
    shown = quantity.show(value, kind, 6, units=units)
    again = quantity.read(shown, kind, units=units)
    if abs(again - value) > 1e-3 + 1e-9 * abs(value):
        raise Broken(f"{value} is printed as {shown}, read as {again}")
    exact = f"{quantity.report_value(value, kind)!r} {quantity.report_unit(kind)}"
    again = quantity.read(exact, kind)
    if abs(again - value) > 1e-9 + 1e-9 * abs(value):
        raise Broken(f"{value} is reported as {exact}, read as {again}")


def _scatter(text: str) -> None:
    between = one_of(text, [Between(16.0, 16.012), Between(16.0, 16.0), Between(0.63, 0.64, "length", "in"),
                            Between(0.1, 0.15, "number"), Between(1.0, 2.0, "force")])
    found = parse_scatter(text, between)
    if parse_scatter(found.text, between) != found:
        raise Broken(f"{found.text!r} is not read as itself")


def _spread(text: str) -> None:
    name, said = spreads.typed_spread(text)
    part_of(f'{_SMALL}[spreads]\n"{_quoted(name)}" = "{_quoted(said)}"\n', "part.toml")


def _quoted(text: str) -> str:
    return "".join(c if c not in '"\\' and c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in text)


_SMALL = '[running.a]\nhole = "12 H7"\nshaft = "12 f7"\nclearance_at_least = "0.01"\n'


def _tool(text: str) -> None:
    reader, units = one_of(text, [(one, u) for one in (reamers.parse, drills.parse, gauges.parse_pin) for u in UNITS])
    reader(text, units=units)


_FIELDS = [(name, field) for name in KINDS for field in declared(kind(name))]


def _field(text: str) -> None:
    """A text for any field of any kind, as the command line takes it; or one that begins with its name."""
    name, field = one_of(text, _FIELDS)
    named = re.match(r"(\w+(?: \w+)?)\.(\w+) = ", text)
    if named and (named[1], named[2]) in _FIELDS:
        name, field, text = named[1], named[2], text[named.end() :]
    of = declared(kind(name))[field]
    value: Any = text
    if text.lstrip().startswith(("{", "[") if of.inline.startswith("[") else "{"):
        value = loader.inline_table(text)
    of.parse(value, Context(units=one_of(text, UNITS)))


_PLACE = Path(tempfile.mkdtemp(prefix="fits-fuzz-", dir="/dev/shm" if Path("/dev/shm").is_dir() else None))


def _file(text: str, name: str) -> str:
    path = _PLACE / name
    _PLACE.mkdir(exist_ok=True)  # the file's tests may have ended once
    path.write_bytes(text.encode("utf-8", "surrogateescape"))
    return str(path)


def close() -> None:
    """Take away the folder in which texts were files."""
    import shutil

    shutil.rmtree(_PLACE, ignore_errors=True)


def _part(text: str) -> None:
    read_part(_file(text, "part.toml"))


def _checked(text: str) -> None:
    answer = check(part_of(text, "part.toml"))
    report = to_json(answer)
    if "NaN" in report or "Infinity" in report:
        raise Broken("a report with a number that is none")


def _drawer(text: str) -> None:
    read_drawer(_file(text, "drawer.toml"))


def _drawer_csv(text: str) -> None:
    read_drawer(_file(text, "drawer.csv"))


def _readings(text: str) -> None:
    read_readings(_file(text, "measured.csv"))


def _batch(text: str) -> None:
    name, units = one_of(text, [(name, units) for name in (*["press"] * 8, "running", "bonded") for units in UNITS])
    for joints in Batch(_file(text, "joints.csv"), kind(name), units=units).blocks():
        for bad in joints.bad:
            if any(len(str(fault).splitlines()) != 1 for fault in bad.faults):
                raise Broken(f"a fault is no line: {bad.faults}")


def _stored(text: str) -> None:
    reported(report_of(text, "report.json"), "report.json")


def _strings(data: Any) -> Iterator[str]:
    """Every text value of some TOML data."""
    for value in data.values() if isinstance(data, dict) else data:
        if isinstance(value, str):
            yield value
        elif isinstance(value, (dict, list)):
            yield from _strings(value)


def _parts() -> dict[str, str]:
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.toml")) if path.name != "drawer.toml"}


def _of_shell() -> Iterator[str]:
    """``kind.field = text`` for every option in the examples of the kinds."""
    import shlex

    for name in KINDS:
        words = shlex.split(kind(name).example.replace("\\\n", " "))
        for word, after in pairwise(words):
            field = word.removeprefix("--").replace("-", "_")
            if word.startswith("--") and field in declared(kind(name)):
                yield f"{name}.{field} = {after}"


def _of_part(data: dict[str, Any]) -> Iterator[str]:
    """``kind.field = text`` for every text of a feature."""
    for table, features in data.items():
        for feature in features.values() if isinstance(features, dict) else ():
            name = f"{table} {feature['form']}" if isinstance(feature, dict) and "form" in feature else table
            if name in KINDS and isinstance(feature, dict):
                yield from (f"{name}.{field} = {text}" for field, text in feature.items() if field in declared(kind(name)) and isinstance(text, str))


SIZES = (
    "25 H7", "25 mm H7", "25.021/25.000", "25 +0.021/0", "25 -0.007/-0.020", "25 ±0.01", "25 +-0.01", "1 3/8 in", "25.013",
    "1.0000 in RC4", "1.0000 in RC4S", "1 in FN2 shaft", "dowel 6 m6", "dowel 1/4 in", "dowel 6 B18.8.5M", "dowel 1/4 in oversize",
    "bearing 40", "tube 1/2 in x 0.035 in", "bush 24", "0.5005/0.5000 in", "16.060/16.050", "25 js6", "500 ZC11", "Ø12 ±0.02", "25 +0.5 thou/0",
)
SIZE_WORDS = ("H", "g", "js", "zc", "ZA", "01", "0", "18", "mm", "in", '"', "um", "thou", "+", "-", "−", "±", "+-", "/", "x", "dowel", "bearing", "tube",
              "bush", "oversize", "RC", "FN", "LT", "S", "hole", "shaft", "B18.8.5M", "Ø", "⌀", "m", "cm", ".", ",", "H7/g6", "?")
QUANTITIES = ("12 mm", "0.4724 in", "1 1/4 in", "3/8 in", '0.5"', "2 thou", "0.8 µm", "-25 degC", "68 °F", "77 K", "16 MPa", "2300 psi", "207 GPa",
              "3 bar", "5 K", "9 delta_degF", "40 lbf*in", "2 N m", "60 rpm", "7.8 g/cm^3", "12e-6 1/K", "11.7 um/(m*K)", "0.12", "2 kN", "500 h", "1 kgf")
QUANTITY_WORDS = (*quantity.OWN, "delta_degC", "uin", "kPa", "h", "min", "m", "cm", "µ", "·", "²", "^2", "**", "*", "/", "(", ")", "e", "E", "+", "-", ".", " ", "1/", "kg")
SCATTERS = ("uniform", "uniform 16.004/16.000", "uniform 16.000 to 16.004 mm", "normal Cp 1.33", "normal Cp 1.33 at 16.004", "normal sigma 0.002 at 16.004",
            "normal sigma 2 um at 16.004 mm", "normal Cp 0.8, inspected", "measured 16.003 16.005 16.004", "measured 16.003, 16.005 mm", "measured 0.10 0.12 0.11")
SCATTER_WORDS = ("uniform", "normal", "measured", "Cp", "sigma", "at", "inspected", ",", ";", "to", "/", "mm", "um", "in", "N")
STATES = ("hot: 70 degC, 16 MPa", "proof: 20 degC, 12 MPa, proof", "cold: hub -20 degC, shaft 20 degC", "run: 60 degC, 3000 rpm, 500 h", "shop: 20 degC, water",
          "gas: 20 degC, 1 MPa, nitrogen", "a:")
STATE_WORDS = (":", ",", "hub", "shaft", "degC", "MPa", "rpm", "h", "proof", "proof test", "oxygen", "water", "as_made", "assembly", "degF", "K", "to", "?")
RINGS = ("AS568-214", "ISO 3601-1 214A", "ISO 3601-1 214B", "ISO 3601-1 B 25x3.5", "JIS B 2401 P22", "JIS B 2401 P22A", "-214", "AS568-001")
RING_WORDS = ("AS568", "ISO 3601-1", "JIS B 2401", "P", "G", "V", "A", "B", "x", "-", "214", "004", "475", "901", "22", "3.53")
TOOLS = ("10 H7", "0.3940 in", "measured 10.0076", "marked 10 H7", "measured 0.3940 in", "No. 7", "#7", "letter X", "25/64 in", "9.8 mm",
         "0.5000 in ZZ minus", "0.2500 in X plus", "10 mm XX", "1/2 in ZZ")
TOOL_WORDS = ("measured", "marked", "No.", "#", "letter", "Q", "in", "mm", "ZZ", "X", "XX", "XXX", "Y", "Z", "plus", "minus", "H7", "/")
TOML_WORDS = ("[", "]", "[[", "]]", "=", '"', "'", '"""', "\n", "#", "{", "}", ",", ".", "true", "false", "1", "-1", "0.5", "nan", "inf", "1979-05-27", "07:32:00",
              "[]", "{}", '""', '"?"', "states", "sizes", "materials", "spreads", "press", "running", "compound", "gland", "form", "layers", "slices", "name", "units",
              "\\u0000", "\t", "\\")
CSV_WORDS = (",", ";", "\t", "\n", "\r\n", "\r", '"', '""', "#", "[mm]", "[in]", "[um]", "\ufeff", "\0", "part", "value", "unit", "nan", "inf", "1e5", "-", "?", "{", "}", "16 H7")


def doors() -> tuple[Door, ...]:
    """Every door, its seeds read from the examples."""
    parts = _parts()
    texts = [text for one in parts.values() for text in _strings(tomllib.loads(one))]
    drawer = (EXAMPLES / "drawer.toml").read_text(encoding="utf-8")
    in_drawer = tuple(_strings(tomllib.loads(drawer)))
    sizes = tuple(dict.fromkeys((*SIZES, *(one for one in texts if _is_size(one)))))
    fields = tuple(dict.fromkeys((*_of_shell(), *(one for part in parts.values() for one in _of_part(tomllib.loads(part))))))
    toml = tuple(parts.values())
    few = (_SMALL, _WITH_ALL, *(start(name) for name in KINDS))
    rows = tuple(f"[{one}" for one in re.split(r"^\[", drawer, flags=re.MULTILINE)[1:])
    readings = (EXAMPLES / "hand_pump.measured.csv").read_text(encoding="utf-8")
    return (
        Door("size", _size, sizes, SIZE_WORDS, 30),
        Door("pair", _pair, ("25 H7/g6", "1.0000 in RC4", "40 H7/s6", "1 3/8 in FN2", "25 mm H7 / js6", "0.5 in LC1S"), SIZE_WORDS, 8),
        Door("quantity", _quantity, QUANTITIES, QUANTITY_WORDS, 25),
        Door("scatter", _scatter, SCATTERS, SCATTER_WORDS, 8),
        Door("spread", _spread, ("a.hole: normal Cp 1.33", "a.shaft: uniform 11.98/11.97", "a.hole: measured 12.001 12.003"), SCATTER_WORDS, 1),
        Door("state", _state, STATES, STATE_WORDS, 5),
        Door("ring", rings.ring, RINGS, RING_WORDS, 5),
        Door("tool", _tool, (*TOOLS, *in_drawer), TOOL_WORDS, 6),
        Door("field", _field, fields, (*SIZE_WORDS, *QUANTITY_WORDS, *TOML_WORDS), 12),
        Door("part", _part, (*few, *toml), TOML_WORDS, 2, grammar=False),
        Door("part checked", _checked, few, TOML_WORDS, 1, grammar=False),
        Door("drawer", _drawer, (drawer, *rows), (*TOML_WORDS, *TOOL_WORDS), 2, grammar=False),
        Door("drawer csv", _drawer_csv, (_DRAWER_CSV, "what,marked,name\nreamer,10 H7,old\n", "what,size,class,sense\npin,6 mm,X,plus\n"), (*CSV_WORDS, *TOOL_WORDS), 3, grammar=False),
        Door("readings", _readings, (readings, _WIDE), CSV_WORDS, 3, grammar=False),
        Door("batch", _batch, ((EXAMPLES / "liners.csv").read_text(encoding="utf-8"), _JOINTS), CSV_WORDS, 1, grammar=False),
        Door("stored report", _stored, (_stored_report(),), ("{", "}", "[", "]", ":", ",", '"', "null", "true", "1e400", "NaN", "-Infinity", "[]", "{}"), 2, grammar=False),
    )


def _state(text: str) -> None:
    loader.typed_state(text)


def _is_size(text: str) -> bool:
    try:
        notation.parse_size(text, side="hole" if "H" in text else "")
    except InputError:
        return False
    return True


def _stored_report() -> str:
    return to_json(check(part_of(_SMALL, "part.toml")))


# Every kind of table a part file may have, small.
_WITH_ALL = """name = "small"
units = "mm"
date = 2026-01-05
[states.hot]
temperature = "70 degC"
pressure = "2 MPa"
[states.hot.fit]
hub_temperature = "60 degC"
shaft_temperature = "70 degC"
[sizes]
bore = "16 H7"
[materials.bar]
based_on = "304"
expansion = "16e-6 to 17.3e-6 1/K"
[press.fit]
hole = "bore"
shaft = "16.04/16.03"
shaft_bore = "8"
hub_outside = "32"
hub_material = "6061-T6"
shaft_material = "bar"
roughness_hole = "3 um"
roughness_shaft = "2 um"
friction_hold = "0.10 to 0.15"
[press.stepped]
hole = "20 H7"
shaft = "20.05/20.04"
slices = [{length = "20", outside = "40 ±0.1"}, {length = "15", outside = "60"}]
hub_material = {youngs_modulus = "70 GPa", poisson = 0.33, yield_strength = "200 MPa"}
shaft_material = "304"
[running.guide]
hole = "fit.shaft_bore"
shaft = "7.97 0/-0.01"
clearance_at_least = "0.005"
[compound.sleeves]
layers = [{inside = "12", outside = "16 s6", material = "304"}, {inside = "16 H7", outside = "40", material = "1045 HR"}]
order = "inside out"
[gland.seal]
form = "piston"
ring = {inside = "25 ±0.2", section = "3.5 ±0.1"}
elastomer = {based_on = "NBR 70", tr10 = "-38 degC"}
duty = "static"
medium = "liquid"
bore = "31"
piston_diameter = "30.9"
groove_diameter = "25.4 0/-0.1"
groove_width = "4.8 +0.2/0"
corner_radius = "0.3 ±0.1"
[spreads]
"fit.shaft" = "normal Cp 1.33"
[spreads.guide]
shaft = "uniform"
"""
_DRAWER_CSV = """what,marked,measured,cuts_over,size,from,to,step,class,sense,series,uncertainty,rating,temperature,oversize,name
reamer,10 H7,10.0080 mm,0.001 mm to 0.004 mm,,,,,,,,,,,,
drill,,,,,1.0 mm,13.0 mm,0.1 mm,,,,,,,0.02 mm to 0.10 mm,
drill,,,,,1/16 in,5/8 in,,,,fraction,,,,,
pin,,,,0.5000 in,,,,X,plus,,,,,,
ring,,,,0.5000 in,,,,XX,,,,,,,
bore gauge,,,,,10 mm,12.5 mm,,,,,4 um,,,,three-point
press,,,,,,,,,,,,9 kN,,,
oven,,,,,,,,,,,,,230 degC,,
"""
_WIDE = """part;guide.hole [in];guide.shaft [in];uncertainty [in];instrument;temperature [degF]
b1;0.5002;0.4992;0.0001;outside micrometer;68
b2;0.5006;;0.0001;"bore gauge, two-point";68
"""
_JOINTS = """name,hole [mm],shaft,hub_outside,hub_material,shaft_material,axial_load
a,16.003,16.031,32,6061-T6,304,800 N
b,16 H7,16.04/16.03,1 3/8 in,6061-T6,"{youngs_modulus = ""207 GPa"", poisson = 0.292}",
"""
