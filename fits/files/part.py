"""Part files: TOML -> a part, with every fault at its line."""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from fits.errors import Fault, InputError, meant
from fits.features.feature import Feature, State
from fits.features.fields import Context
from fits.features.kinds import forms, kind, tables
from fits.features.part import Part
from fits.features.typed_metal import typed_metal
from fits.files import loader
from fits.files.bare import units_doubt
from fits.materials.metals import Metal
from fits.quantity import LENGTH_UNITS
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_size

_INFO = ("revision", "drawn_by", "date")
_TABLES = ("states", "sizes", "materials", "spreads")
_TOP = ("name", "units", *_INFO, *_TABLES)


def read_part(path: str) -> Part:
    """A part from its file; ``-`` is standard input.

    Raises:
        InputError: every fault of the file, each as ``file:line: key: ...``.

    >>> from fits.tables import folder
    >>> sorted(read_part(str(folder().parent / "examples" / "hand_pump.toml")).features)
    ['liner', 'plunger']
    """
    return part_of(text_of(path), path)


def part_of(text: str, path: str) -> Part:
    """A part from the text of its file.

    Raises:
        InputError: every fault of the text, each as ``path:line: key: ...``.
    """
    data = toml_of(text, path)
    try:
        return build(data, place=path)
    except InputError as error:
        placed = [_placed(fault, text, path) for fault in error.faults]
        placed.sort(key=lambda one: one[0])
        raise InputError([fault for _, fault in placed]) from None


def text_of(path: str) -> str:
    """The text of a file, or of standard input; raises InputError."""
    try:
        raw = sys.stdin.buffer.read() if path == "-" else Path(path).read_bytes()
    except IsADirectoryError:
        raise InputError(Fault("a file is due, this is a folder", place=path)) from None
    except OSError as error:
        raise InputError(Fault(f"can't read the file: {error.strerror}", place=path)) from None
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise InputError(Fault("not UTF-8 text", place=f"{path}:{line}")) from None


def toml_of(text: str, path: str) -> dict[str, Any]:
    """The data of a TOML text; raises InputError."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(_syntax_fault(error, text, path)) from None
    except ValueError:
        raise InputError(Fault("not TOML: a number that is too long", place=path)) from None
    except RecursionError:
        raise InputError(Fault("not TOML: nested too deeply", place=path)) from None


def _syntax_fault(error: tomllib.TOMLDecodeError, text: str, path: str) -> Fault:
    """The fault of a text that is no TOML, at its line."""
    import re

    message = str(error)
    match = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)", message)
    line = match[1] if match and match[1] else str(max(len(text.splitlines()), 1))
    words = message[: match.start()] if match else message
    if "overwrite" in words or "twice" in words:
        words = "a key or table stands twice"
    return Fault(f"not TOML: {words}", place=f"{path}:{line}")


def _placed(fault: Fault, text: str, path: str) -> tuple[int, Fault]:
    line = line_of(text, fault.key.split(".")) if fault.key else 1
    return line, replace(fault, place=f"{path}:{line}")


def line_of(text: str, keys: Iterable[str]) -> int:
    """The line (from 1) of a key path, or of the nearest table above it that is there.

    Growing prefixes of the text are parsed and bisected.
    """
    path = list(keys)
    lines = text.split("\n")
    while path:
        if _holds(tomllib.loads(text), path):
            low, high = 0, len(lines)
            while high - low > 1:
                middle = (low + high) // 2
                whole, parsed = _prefix(lines, middle)
                if _holds(parsed, path):
                    high = whole
                else:
                    low = middle
            return _prefix(lines, high - 1)[0] + 1
        path.pop()
    return 1


def _prefix(lines: list[str], count: int) -> tuple[int, dict[str, Any]]:
    """The longest prefix of at most ``count`` lines that is TOML by itself."""
    for whole in range(count, 0, -1):
        try:
            return whole, tomllib.loads("\n".join(lines[:whole]))
        except tomllib.TOMLDecodeError:
            continue
    return 0, {}


def _holds(data: Any, path: list[str]) -> bool:
    for key in path:
        if isinstance(data, list) and key.isdigit() and 0 < int(key) <= len(data):
            data = data[int(key) - 1]
        elif isinstance(data, dict) and key in data:
            data = data[key]
        else:
            return False
    return True


def build(data: Mapping[str, Any], *, place: str = "") -> Part:
    """A part from the mapping of its file.

    Raises:
        InputError: every fault, each with its key path.
    """
    faults: list[Fault] = []
    _check_top(data, faults)
    units = data.get("units", "mm")
    if units not in LENGTH_UNITS:
        faults.append(Fault("must be mm or in", got=str(units), key="units"))
        units = "mm"
    metals = _metals(data, Context(units=units), faults)
    sizes = _sizes(data, units, faults)
    found = _declared(data, faults)
    surfaces = {name: {one.name: one.side for one in of.surfaces} for name, (of, _) in found.items()}
    context = Context(units=units, metals=metals, sizes=sizes, surfaces=surfaces)
    # A name or a date on top says nothing of units ("2 in valve"): what stands in tables does.
    in_tables = [value for value in data.values() if isinstance(value, Mapping)]
    if "units" not in data and (doubt := units_doubt(found.values(), in_tables)):
        faults.append(doubt)
    features: dict[str, Feature] = {}
    # A metal that is wrong itself was said; that it isn't known adds nothing.
    wrong = set(_table(data, "materials")) - set(metals)
    for name, (of, keys) in found.items():
        try:
            features[name] = loader.feature(of, keys, context)
        except InputError as error:
            rest = [f for f in error.faults if f.got not in wrong]
            faults += [replace(f, key=f"{of.kind}.{name}.{f.key}") for f in rest]
    faults += _missing_surfaces(features)
    states, of_feature = _states(data, tuple(found), context, faults)
    if not found and not faults:
        faults.append(
            Fault(
                "no feature in this part",
                hint=f"write a table such as [press.liner]; kinds: {', '.join(tables())}",
            )
        )
    wrong_spreads: list[Fault] = []
    scatters: dict[str, Any] = {}
    if "spreads" in data:
        from fits.files import spreads

        told = dict(spreads.flattened(_table(data, "spreads")))
        beside = str(Path(place).parent)
        scatters = spreads.scatters(told, features, sizes, units, wrong_spreads, beside)
    if len(features) == len(found):  # else the missing feature is the fault
        # What stands in a table of sizes has a place of its own beside the line that names it.
        told_of = [(f, f"in {f.place}: {f.must}" if f.place else f.must) for f in wrong_spreads]
        faults += [replace(f, key=f"spreads.{f.key}", must=must, place="") for f, must in told_of]
    if faults:
        raise InputError(faults)
    ordered = _ordered(features)
    info = {key: str(data[key]) for key in _INFO if key in data}
    return Part(str(data.get("name", place)), ordered, states, of_feature, info, units, place, scatters)


def _check_top(data: Mapping[str, Any], faults: list[Fault]) -> None:
    for key, value in data.items():
        if key in ("name", *_INFO) and not isinstance(value, str) and key != "date":
            faults.append(Fault("text is due", got=str(value), key=key))
        elif key == "name" and not value.strip():
            faults.append(Fault("nothing stands here", key=key, hint="what the part is called"))
        elif (key in _TABLES or key in tables()) and not isinstance(value, dict):
            faults.append(Fault("a table is due", key=key, hint=f"write [{key}.name]"))
        elif key not in _TOP and key not in tables():
            what = "unknown kind of feature" if isinstance(value, dict) else "unknown key"
            hint = meant(key, (*_TOP, *tables())) or f"kinds: {', '.join(tables())}"
            faults.append(Fault(what, key=key, hint=hint))


def _table(data: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    value = data.get(key, {})
    return value if isinstance(value, dict) else {}


def _metals(data: Mapping[str, Any], context: Context, faults: list[Fault]) -> dict[str, Metal]:
    found = {}
    for name, keys in _table(data, "materials").items():
        if not isinstance(keys, dict):
            faults.append(Fault("a table is due", key=f"materials.{name}"))
            continue
        try:
            found[name] = typed_metal(name, keys, context)
        except InputError as error:
            faults += [replace(f, key=f"materials.{name}.{f.key}") for f in error.faults]
    return found


def _sizes(data: Mapping[str, Any], units: str, faults: list[Fault]) -> dict[str, Limits]:
    found = {}
    for name, text in _table(data, "sizes").items():
        try:
            if not isinstance(text, str):
                raise InputError(Fault('text is due, such as "16 H7"', got=str(text)))
            found[name] = parse_size(text, units=units)
        except InputError as error:
            faults += [replace(f, key=f"sizes.{name}") for f in error.faults]
    return found


def _declared(
    data: Mapping[str, Any], faults: list[Fault]
) -> dict[str, tuple[type[Feature], Mapping[str, Any]]]:
    found: dict[str, tuple[type[Feature], Mapping[str, Any]]] = {}
    states = _table(data, "states")
    for name in tables():
        for feature_name, keys in _table(data, name).items():
            key = f"{name}.{feature_name}"
            if not isinstance(keys, dict):
                faults.append(Fault("a table is due", key=key, hint=f"features are written [{name}.a_name]"))
            elif feature_name in found or feature_name in states:
                faults.append(Fault("this name stands twice; names of states and features differ", key=key))
            else:
                try:
                    found[feature_name] = _formed(name, keys)
                except InputError as error:
                    faults += [replace(f, key=f"{key}.{f.key}") for f in error.faults]
    return found


def _formed(table: str, keys: Mapping[str, Any]) -> tuple[type[Feature], Mapping[str, Any]]:
    """The declaration of a kind, chosen by the key ``form`` where it has several."""
    known = forms(table)
    if not known:
        return kind(table), keys
    form = keys.get("form")
    if form not in known:
        what = "missing: the form decides what is asked" if form is None else "unknown form"
        near = meant(str(form), known) if form is not None else ""
        hint = near or f"forms: {', '.join(known)}"
        raise InputError(Fault(what, "" if form is None else str(form), "form", hint=hint))
    return kind(f"{table} {form}"), {key: value for key, value in keys.items() if key != "form"}


def _states(
    data: Mapping[str, Any], names: tuple[str, ...], context: Context, faults: list[Fault]
) -> tuple[tuple[State, ...], dict[str, tuple[State, ...]]]:
    states: list[State] = []
    overrides: dict[str, dict[str, State]] = {}
    for name, keys in _table(data, "states").items():
        if not isinstance(keys, dict):
            faults.append(Fault("a table is due", key=f"states.{name}"))
            continue
        own = {key: value for key, value in keys.items() if not isinstance(value, dict)}
        try:
            states.append(loader.state(name, own, context))
        except InputError as error:
            faults += [replace(f, key=f"states.{name}.{f.key}".rstrip(".")) for f in error.faults]
            continue
        for feature_name, changed in keys.items():
            if not isinstance(changed, dict):
                continue
            if feature_name not in names:
                hint = meant(feature_name, names)
                faults.append(Fault("no such feature", key=f"states.{name}.{feature_name}", hint=hint))
                continue
            try:
                merged = _merged(own, changed)
                overrides.setdefault(feature_name, {})[name] = loader.state(name, merged, context)
            except InputError as error:
                faults += [replace(f, key=f"states.{name}.{feature_name}.{f.key}") for f in error.faults]
    every = tuple(states) or (State("shop"),)
    of_feature = {
        feature_name: tuple(changed.get(state.name, state) for state in every)
        for feature_name, changed in overrides.items()
    }
    return every, of_feature


def _merged(own: Mapping[str, Any], changed: Mapping[str, Any]) -> dict[str, Any]:
    """A state's keys with a feature's own in their place."""
    merged = dict(own)
    parts = {"hub_temperature", "shaft_temperature"}
    if parts & set(changed) and "temperature" in merged:
        both = merged.pop("temperature")
        merged |= dict.fromkeys(sorted(parts), both)
    if "temperature" in changed:
        merged = {key: value for key, value in merged.items() if key not in parts}
    return {**merged, **changed}


def _missing_surfaces(features: Mapping[str, Feature]) -> list[Fault]:
    """Surfaces that a feature has by its kind but not as it is declared (a solid part's bore)."""
    return [
        Fault(
            f"{ref.feature} has no {ref.surface}: {surface.lacking}", str(ref), f"{one.kind}.{name}.{field}"
        )
        for name, one in features.items()
        for field, ref in one.standing_on().items()
        if ref.feature in features and not features[ref.feature].has_surface(ref.surface)
        for surface in features[ref.feature].surfaces
        if surface.name == ref.surface
    ]


def _ordered(features: Mapping[str, Feature]) -> dict[str, Feature]:
    """Each feature after those it stands on; features in a circle are refused."""
    ordered: dict[str, Feature] = {}
    waiting = dict(features)
    while waiting:
        ready = [
            name
            for name, one in waiting.items()
            if all(ref.feature in ordered for ref in one.standing_on().values())
        ]
        if not ready:
            name, one = next(iter(waiting.items()))
            field = next(iter(one.standing_on()))
            raise InputError(
                Fault(
                    f"features stand on each other in a circle: {', '.join(waiting)}",
                    key=f"{one.kind}.{name}.{field}",
                )
            )
        for name in ready:
            ordered[name] = waiting.pop(name)
    return ordered
