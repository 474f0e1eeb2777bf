"""What is only known from memory: the sources of looked-up numbers, by the input they give.

A looked-up number brings its source along (limits of a class, a metal, a rubber, a friction); a
rule rests on every source among what its value and its limit depend on.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fits.features.composite import Composite
from fits.features.feature import Feature, Rule, States, declared, depends_on
from fits.features.parts import warm
from fits.materials.elastomers import Elastomer
from fits.materials.metals import Metal
from fits.tables import Source

# What each input of a metal is looked up as, in its list of what is from memory, and as typed.
_OF_METAL = {
    "modulus": ("youngs_modulus", "poisson"),
    "strain": ("expansion",),
    "yield": ("yield", "yield_strength"),
    "ultimate": ("ultimate", "ultimate_strength"),
    "density": ("density",),
    "service": ("service",),
}
Found = Iterator[tuple[str, Source]]


def weak(source: Source) -> bool:
    """Whether a number is known from memory only, or something speaks against it."""
    return source.evidence == "memory" or bool(source.doubt)


def resting_on(feature: Feature, rule: Rule, states: States) -> tuple[Source, ...]:
    """The weak sources that a rule's verdict rests on: of its equations and of what is put in."""
    kind = type(feature)
    names = depends_on(kind, rule.value)
    if isinstance(rule.limit, str):
        names = names | depends_on(kind, rule.limit)
    found = [rule.source, *(value.source for value in kind.values if value.name in names)]
    found += [source for name, source in evidence(feature, states) if name in names]
    # A row of a table is headed by what it gives.
    heads = (rule.name, rule.value.replace("_", " "))
    found += [one for one in feature.used_sources(states) if one.text.partition(":")[0] in heads]
    return tuple(dict.fromkeys(source for source in found if weak(source)))


def evidence(feature: Feature, states: States) -> Found:
    """Each looked-up number of a feature: the name of the input it gives, and its source."""
    for name, field in declared(type(feature)).items():
        value = getattr(feature, name)
        if isinstance(value, Metal):
            stem = f"{name.removesuffix('material').rstrip('_')}_".lstrip("_")
            yield from of_metal(stem, value, states)
        elif isinstance(value, Elastomer):
            yield from _of_elastomer(name, value)
        elif isinstance(field, Composite):
            for part in field.parts:
                yield from _of_number(f"{name}.{part}", field.number(value, part))
        else:
            yield from _of_number(name, value)
    yield from feature.looked_up(states)


def _of_number(name: str, value: Any) -> Found:
    yield from ((name, source) for source in getattr(value, "sources", ()))


def of_metal(stem: str, metal: Metal, states: States) -> Found:
    """The numbers of a metal, under the stem of its inputs (``hub_``); curves where it is warm."""
    curves = {"modulus": metal.modulus_curve, "yield": metal.yield_curve}
    for name, columns in _OF_METAL.items():
        if (name == "strain" and not warm(states)) or metal.typed & set(columns):
            continue
        if "all" in metal.memory or metal.memory & set(columns):
            yield stem + name, Source(f"{name} of {metal.name}", "memory")
        elif metal.source.table:
            yield stem + name, metal.source
        of = [curves.get(name)] if name != "strain" else [metal.expansion_curve, metal.cold]
        yield from ((stem + name, one.source) for one in of if one is not None and warm(states))


def _of_elastomer(name: str, rubber: Elastomer) -> Found:
    for known, places in (
        (rubber.expansion, (name,)),
        (rubber.highest, ("rubber_hottest", "fluid_up_to")),
        (rubber.lowest, ("rubber_coldest",)),
        (rubber.tr10, ("rubber_coldest",)),
    ):
        if known is not None:
            yield from ((place, known.source) for place in places)
