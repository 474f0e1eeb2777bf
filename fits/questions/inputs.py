"""What was given: sizes with their limits, the other inputs in words, a digest of it all."""

from __future__ import annotations

from dataclasses import fields as fields_of
from dataclasses import is_dataclass
from math import isfinite
from typing import Any

from fits import quantity
from fits.features.composite import Composite, label_of
from fits.features.feature import Feature, declared
from fits.features.fields import Measure, Size, Spread, SurfaceRef
from fits.features.part import Part
from fits.materials.metals import Metal
from fits.questions.answer import SizeAnswer
from fits.questions.evaluate import Evaluation
from fits.sizes.limits import Limits
from fits.tables import Source


def sizes_of(feature: Feature, evaluation: Evaluation) -> tuple[SizeAnswer, ...]:
    """The sizes of a feature in the order of its declaration, those of other features' surfaces too."""
    found = []
    for name, kind in declared(type(feature)).items():
        value = getattr(feature, name)
        side = kind.side if isinstance(kind, Size) else getattr(value, "side", "")
        if isinstance(value, SurfaceRef):
            made = evaluation.put_in[name][..., -1]
            low, high = float(made.min()), float(made.max())
            if not (isfinite(low) and isfinite(high)):
                continue  # what isn't covered has no size, and its rules say why
            found.append(SizeAnswer(name, label_of(name), str(value), low, high, side=side, on=str(value)))
        elif isinstance(value, Limits) and value.upper > 0.0:
            found.append(_size(name, value, side))
        elif isinstance(kind, Composite):
            found += [
                _size(f"{name}.{part}", size, end)
                for part, size, end in kind.sizes(value)
                if size.upper > 0.0
            ]
    return tuple(found)


def _size(name: str, of: Limits, side: str) -> SizeAnswer:
    return SizeAnswer(name, label_of(name), of.text, of.lower, of.upper, of.basic, side)


def inputs_of(feature: Feature) -> dict[str, str]:
    """What the user gave, by field, as text that reads the same whatever notation was typed."""
    kinds = declared(type(feature))
    return {
        name: _said(getattr(feature, name), kinds[name])
        for name in kinds
        if name in feature.model_fields_set and getattr(feature, name) is not None
    }


def _said(value: Any, kind: Any) -> str:
    if isinstance(value, Limits):
        return value.text or f"{value.upper:.12g}/{value.lower:.12g} mm"
    if isinstance(value, Spread) and isinstance(kind, Measure):
        written, mark = kind.written(value)
        ends = (quantity.report_value(one, kind.quantity) for one in (written.low, written.high))
        numbers = " to ".join(dict.fromkeys(f"{one:.12g}" for one in ends))
        unit = quantity.report_unit(kind.quantity)
        return numbers if unit == "1" else f"{numbers} {unit}{mark}"
    if isinstance(value, Metal):
        return f"{value.name} ({_typed(value)})" if value.typed else value.name
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple) and type(value).__str__ is object.__str__:
        return _several(value, kind)
    return str(value)


def _several(value: tuple[Any, ...], kind: Any) -> str:
    """Numbers that go together by their names, things of one sort by their number."""
    if all(isinstance(one, str) for one in value):
        return " and ".join(value)
    names = getattr(value, "_fields", ())
    if len(names) == 1:
        return _said(value[0], kind)
    said = [_said(one, kind) for one in value]
    if not names:
        return "; ".join(f"{number}: {text}" for number, text in enumerate(said, 1))
    return ", ".join(f"{name} {text}" for name, text in zip(names, said, strict=True) if text)


def _typed(metal: Metal) -> str:
    """The numbers of a typed metal, those of the table that it is based on too."""
    properties = (
        ("youngs_modulus", "pressure", metal.youngs_modulus),
        ("poisson", "number", (metal.poisson,)),
        ("yield_strength", "pressure", (metal.yield_minimum,)),
        ("ultimate_strength", "pressure", (metal.ultimate,)),
        ("expansion", "expansion", metal.expansion or (None,)),
        ("density", "density", (metal.density,)),
    )
    found = []
    for name, kind, ends in properties:
        known = dict.fromkeys(f"{quantity.report_value(one, kind):.12g}" for one in ends if one is not None)
        if known:
            unit = "" if kind == "number" else f" {quantity.report_unit(kind)}"
            found.append(f"{name} {' to '.join(known)}{unit}")
    words = [metal.family, "brittle" if metal.brittle else ""]
    return ", ".join([*found, *filter(None, words)])


def digest(part: Part) -> str:
    """SHA-256 of everything that was given, the same for the same question on any machine.

    Units that only change what is shown are left out.
    """
    import json
    from hashlib import sha256

    given = {
        "part": part.name,
        "info": dict(part.info),
        "states": {name: _plain(part.states_of(name)) for name in part.features},
        "features": {
            name: {
                "kind": one.kind,
                **{field: _plain(getattr(one, field)) for field in declared(type(one))},
            }
            for name, one in part.features.items()
        },
    }
    return sha256(json.dumps(given, sort_keys=True).encode()).hexdigest()


def _plain(value: Any) -> Any:
    """Parsed inputs as plain data without sources; a table's metal is its name, the table has a digest."""
    if isinstance(value, Source):
        return ""
    if isinstance(value, Metal) and not value.typed:
        return value.name
    if isinstance(value, float):
        return f"{value:.12g}"
    if is_dataclass(value):
        return {one.name: _plain(getattr(value, one.name)) for one in fields_of(value)}
    if hasattr(value, "_asdict"):
        return {name: _plain(one) for name, one in value._asdict().items()}
    if isinstance(value, (frozenset, set)):
        return sorted(value)
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    return value
