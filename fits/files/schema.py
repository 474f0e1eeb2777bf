"""The JSON Schema of a part file, from the declarations: an editor completes and checks by it.

It says what each value may look like. What depends on several of them (a bore below its
outside, the name of a feature, a circle) is said by the loader when the file is read.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any

from pydantic import BaseModel

from fits.features.elastomer_field import ElastomerField, TypedElastomer
from fits.features.feature import Feature
from fits.features.fields import UNDECIDED, Choice, Field, Flag, Length, Measure, MetalField, Size
from fits.features.kinds import KINDS, kind
from fits.features.ring_field import RingField
from fits.features.tools import DrillField, PinField, ReamerField, WantedHole
from fits.features.typed_metal import TypedMetal
from fits.features.when import RESERVED
from fits.files import patterns
from fits.files.loader import StateKeys
from fits.materials import elastomers, metals
from fits.quantity import LENGTH_UNITS
from fits.sizes.scatter import FORMS as SCATTERS

Schema = dict[str, Any]
# Which editors' plugins read it: draft 7 is what those for TOML know.
_DRAFT = "http://json-schema.org/draft-07/schema#"
_TEXT: Schema = {"type": "string"}
# A number and its unit as two items of a list.
_PAIR: Schema = {"type": "array", "items": [{"type": "number"}, _TEXT], "minItems": 2, "maxItems": 2}
_INFO = {
    "revision": "revision of the drawing",
    "drawn_by": "who drew it",
}


def schema() -> Schema:
    """The schema of a part file as plain data, the same each time."""
    shelf: Schema = {}
    kinds = {name: kind(name) for name in KINDS}
    tables = {table: _named(_of_table(table, kinds, shelf), table) for table in _tables(kinds)}
    return {
        "$schema": _DRAFT,
        "title": "part file of fits",
        "type": "object",
        "properties": {
            "name": {**_TEXT, "pattern": r"\S", "description": "name of the part"},
            **{key: {**_TEXT, "description": said} for key, said in _INFO.items()},
            "date": {"description": "date of the drawing"},
            "units": {"enum": list(LENGTH_UNITS), "description": "unit of bare lengths, and of the report"},
            "states": _states(shelf),
            "sizes": _sizes(),
            "materials": _named(_metal_table(shelf), "metals of the part's own, by name"),
            "spreads": _spreads(),
            **tables,
        },
        "additionalProperties": False,
        "anyOf": [
            {"required": [table], "properties": {table: {"minProperties": 1}}} for table in _tables(kinds)
        ],
        "allOf": [
            _without("materials", MetalField, kinds, lambda field: _known_metal(shelf)),
            _without("sizes", Size, kinds, lambda field: _shelved(field, _size(field, shared=False), shelf)),
        ],
        "definitions": shelf,
    }


def _tables(kinds: Iterable[str]) -> tuple[str, ...]:
    """What a part file calls the kinds: a form of one, ``kind form``, stands under its kind."""
    return tuple(dict.fromkeys(name.partition(" ")[0] for name in kinds))


def _of_table(table: str, kinds: Mapping[str, type[Feature]], shelf: Schema) -> Schema:
    found = []
    for name, of in kinds.items():
        if name.partition(" ")[0] == table:
            one = _keys(of, shelf)
            form = name.partition(" ")[2]
            if form:
                one["properties"] = {"form": {"const": form}, **one["properties"]}
                one["required"] = ["form", *one["required"]]
            found.append({"description": of.title, **one})
    return found[0] if len(found) == 1 else {"anyOf": found}


def _named(of: Schema, said: str) -> Schema:
    """A table of tables, each under a name of the user's own."""
    return {"type": "object", "description": said, "additionalProperties": of}


def _marks(model: type[BaseModel]) -> dict[str, Field]:
    return {
        name: mark
        for name, info in model.model_fields.items()
        for mark in info.metadata
        if isinstance(mark, Field)
    }


def _keys(model: type[BaseModel], shelf: Schema, *, open_too: bool = True) -> Schema:
    """The keys of a declaration; each may be left open with "?" where it may be asked for."""
    marks = _marks(model)
    properties = {}
    for name, field in marks.items():
        takes = [_shelved(field, form(field, shelf), shelf)]
        if open_too:
            takes.append({"const": UNDECIDED})
        properties[name] = {"description": field.help, "anyOf": takes}
    needed = [name for name in marks if model.model_fields[name].is_required()]
    return {"type": "object", "properties": properties, "required": needed, "additionalProperties": False}


def _shelved(field: Field, found: Schema, shelf: Schema) -> Schema:
    """A reference to a definition, which many fields share."""
    name = "word" if "|" in field.shown() else field.shown().lower()
    same = next((key for key, value in shelf.items() if value == found), None)
    if same is None:
        taken = sum(key.partition(" ")[0] == name for key in shelf)
        same = f"{name} {taken + 1}" if taken else name
        shelf[same] = found
    return {"$ref": "#/definitions/" + same.replace("~", "~0").replace("/", "~1").replace(" ", "%20")}


def form(field: Field, shelf: Schema) -> Schema:
    """What a field takes; anything, for a type that reads its text in a way of its own."""
    for known in type(field).__mro__:
        if known in _FORMS:
            # A subclass with a parser of its own may take more than its base.
            own = type(field).parse is not known.parse  # type: ignore[attr-defined]
            return {} if own else _FORMS[known](field, shelf)
    return {}


def _text_like(pattern: str) -> Schema:
    return {"type": "string", "pattern": pattern}


@cache
def _surfaces() -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.name for name in KINDS for one in kind(name).surfaces))


def _size(field: Any, *, shared: bool = True) -> Schema:
    surfaces = _surfaces() if field.on_surface else ()
    pattern = patterns.size(side=field.side, zero=field.zero, shared=shared, surfaces=surfaces)
    least = "minimum" if field.zero else "exclusiveMinimum"
    return {"anyOf": [{"type": "number", least: 0}, _PAIR, _text_like(pattern)]}


def _length(field: Any, shelf: Schema) -> Schema:
    return {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, _PAIR, _text_like(patterns.size())]}


def _measure(field: Any, shelf: Schema) -> Schema:
    return _quantity(field, ranges=True)


def _quantity(field: Any, *, ranges: bool) -> Schema:
    negative = field.least < 0.0
    pattern = patterns.measure(field.quantity, negative=negative, ranges=ranges)
    takes = [_text_like(pattern), _PAIR]
    if field.quantity in ("number", "length"):
        # Bounds of a length are in mm, and a bare one takes the file's units: only 0 is the same.
        ends: Schema = {}
        if field.quantity == "number" or field.least == 0.0:
            ends["exclusiveMinimum" if field.above else "minimum"] = field.least
        if field.quantity == "number" and field.most < math.inf:
            ends["maximum"] = field.most
        takes.append({"type": "number", **{key: end for key, end in ends.items() if math.isfinite(end)}})
    return {"anyOf": takes}


def _choice(field: Any, shelf: Schema) -> Schema:
    return {"enum": list(field.options)}


def _flag(field: Any, shelf: Schema) -> Schema:
    return {"enum": [True, False, "true", "false"]}


def _metal(field: Any, shelf: Schema) -> Schema:
    own = {**_TEXT, "minLength": 1, "description": "a metal of this file's [materials]"}
    return {"anyOf": [{"enum": metals.names()}, own, _metal_table(shelf)]}


def _known_metal(shelf: Schema) -> Schema:
    """A metal where the file has none of its own."""
    return {"anyOf": [{"enum": [*metals.names(), UNDECIDED]}, _metal_table(shelf)]}


def _metal_table(shelf: Schema) -> Schema:
    if "typed metal" not in shelf:
        shelf["typed metal"] = {}  # it may be based on a metal, which may be typed
        shelf["typed metal"] |= _keys(TypedMetal, shelf, open_too=False)
        shelf["typed metal"]["anyOf"] = [
            {"required": ["based_on"]},
            {"required": ["youngs_modulus", "poisson"]},
        ]
    return {"$ref": "#/definitions/typed%20metal"}


def _elastomer(field: Any, shelf: Schema) -> Schema:
    names = "|".join(name.replace(" ", r"\s+") for name in elastomers.names())
    text = _text_like(rf"^\s*(?:{names})\s+[0-9]+A?\s*$")
    if "typed elastomer" not in shelf:
        shelf["typed elastomer"] = {}
        shelf["typed elastomer"] |= _keys(TypedElastomer, shelf, open_too=False)
    return {"anyOf": [text, {"$ref": "#/definitions/typed%20elastomer"}]}


def _ring(field: Any, shelf: Schema) -> Schema:
    codes = (patterns.any_case(word) for word in ("AS", "ISO", "JIS"))
    properties = {
        name: {"description": part.help, "anyOf": [form(part, shelf)]} for name, part in field.parts.items()
    }
    typed = {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }
    return {"anyOf": [_text_like(patterns.whole(*(rf"{code}.*[0-9].*" for code in codes))), typed]}


def _hole(field: Any, shelf: Schema) -> Schema:
    return _size(Size(field.help, side="hole"))


def _reamer(field: Any, shelf: Schema) -> Schema:
    size = patterns.size(side="hole").removeprefix(r"^\s*").removesuffix(r"\s*$")
    return {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, _text_like(rf"^\s*(?:\w+ )?{size}\s*$")]}


def _drill(field: Any, shelf: Schema) -> Schema:
    size = patterns.size().removeprefix(r"^\s*").removesuffix(r"\s*$")
    named = patterns.whole(r"No\. ?[0-9]{1,2}", r"# ?[0-9]{1,2}", "letter [A-Z]", size)
    return {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, _text_like(named)]}


def _pin(field: Any, shelf: Schema) -> Schema:
    senses = "|".join(patterns.any_case(one) for one in ("plus", "minus", "go", "no-go"))
    return _text_like(
        rf"^\s*[0-9].*[A-Za-z\"0-9]\s+(?:[Xx]{{1,3}}|[Yy]|[Zz]{{1,2}})(?:\s+(?:[+-]|{senses}))?\s*$"
    )


_FORMS: Mapping[type, Callable[[Any, Schema], Schema]] = {
    Size: lambda field, shelf: _size(field),
    Length: _length,
    Measure: _measure,
    Choice: _choice,
    Flag: _flag,
    MetalField: _metal,
    ElastomerField: _elastomer,
    RingField: _ring,
    WantedHole: _hole,
    ReamerField: _reamer,
    DrillField: _drill,
    PinField: _pin,
}


def _without(
    table: str, field: type[Field], kinds: Mapping[str, type[Feature]], strict: Callable[[Any], Schema]
) -> Schema:
    """Where a file has no table of its own names, only the known ones are right."""
    found: dict[str, Schema] = {}
    for name, of in kinds.items():
        for key, mark in _marks(of).items():
            if type(mark) is field:
                keys = found.setdefault(name.partition(" ")[0], {})
                keys[key] = {"anyOf": [strict(mark), {"const": UNDECIDED}]}
    then = {name: {"additionalProperties": {"properties": keys}} for name, keys in found.items()}
    return {"if": {"not": {"required": [table]}}, "then": {"properties": then}}


def _states(shelf: Schema) -> Schema:
    keys = {}
    for name, field in _marks(StateKeys).items():
        point = isinstance(field, Measure)
        takes = _quantity(field, ranges=False) if point else form(field, shelf)
        keys[name] = {"description": field.help, "allOf": [_shelved(field, takes, shelf)]}
    own = {"type": "object", "properties": keys, "additionalProperties": False}
    shelf["state of one feature"] = {**own, "description": "this feature's own, in place of the part's"}
    both, parts = "temperature", ("hub_temperature", "shaft_temperature")
    state = {
        **own,
        "additionalProperties": {"$ref": "#/definitions/state%20of%20one%20feature"},
        "anyOf": [{"required": [both]}, {"required": list(parts)}],
        "dependencies": {
            parts[0]: [parts[1]],
            parts[1]: [parts[0]],
            both: {"not": {"anyOf": [{"required": [part]} for part in parts]}},
        },
    }
    told = "what the part must survive; a pressure and a speed mean anything from 0 to it"
    return {**_named(state, told), "propertyNames": {"not": {"enum": sorted(RESERVED)}}}


def _sizes() -> Schema:
    return _named(_text_like(patterns.size()), "sizes that several fields share, by name")


def _spreads() -> Schema:
    spread = _text_like(rf"^\s*(?:{'|'.join(SCATTERS)})(?:\s.*)?$")
    told = "how sizes scatter from part to part, for fits odds"
    return _named({"anyOf": [spread, {"type": "object", "additionalProperties": spread}]}, told)
