"""fits metals and fits tables: what the answers rest on."""

from __future__ import annotations

import inspect
from collections import Counter
from collections.abc import Callable
from typing import Annotated

import typer

from fits import tables
from fits.cli.options import Result, answered, generated, output_options, units_of
from fits.materials import metals
from fits.questions.answer import PASS, Answer, FeatureAnswer, Range, ValueAnswer
from fits.tables import EVIDENCE, Source

_METALS = """Metals of the table: minimum and typical yield, modulus, expansion, source.

\b
Examples:
  fits metals
  fits metals 316L 6061-T6
"""
_TABLES = """Every table with its publication and how well its rows are known.

\b
Examples:
  fits tables
  fits tables --json
"""


def command(name: str) -> Callable[..., Result]:
    """The command function of either command."""
    if name == "tables":
        return generated(_tables, output_options(), _TABLES)
    wanted = inspect.Parameter(
        "names",
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
        default=None,
        annotation=Annotated[list[str] | None, typer.Argument(metavar="METAL...", help="metals to show")],
    )
    return generated(_metals, [wanted, *output_options()], _METALS)


def _metals(
    names: list[str] | None,
    *,
    as_json: bool,
    as_csv: bool,
    units: str | None,
    workings: bool,
    output: str | None,
) -> Result:
    shown = units_of(units)
    features = tuple(_metal(metals.metal(name)) for name in names or metals.names())
    sources = tuple(
        dict.fromkeys(
            source for name in names or () for source in metals.metal(name).sources(temperature_matters=True)
        )
    )
    answer = Answer("metals", PASS, features, sources=sources, units=shown)
    return answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)


def _metal(metal: metals.Metal) -> FeatureAnswer:
    mark = metal.source
    e_low, e_high = metal.youngs_modulus
    found = [
        _one("youngs_modulus", "modulus at 20 degC", "pressure", 0, (e_low, e_high), mark),
        _one("poisson", "Poisson's ratio", "number", 3, (metal.poisson, metal.poisson), mark),
    ]
    for name, label, kind, digits, value in (
        ("yield_minimum", "least yield", "pressure", 0, metal.yield_minimum),
        ("yield_typical", "typical yield (never passes)", "pressure", 0, metal.yield_typical),
        ("ultimate", "ultimate", "pressure", 0, metal.ultimate),
        ("density", "density", "density", 0, metal.density),
        ("heating_limit", "heat to assemble, at most", "temperature", 0, metal.heating_limit),
    ):
        if value is not None:
            found.append(_one(name, label, kind, digits, (value, value), mark))
    if metal.expansion is not None:  # pragma: no branch (every metal of the table has one)
        found.append(_one("expansion", "mean expansion", "expansion", 1, metal.expansion, mark))
    low, high = metal.heating_range()
    found.append(_one("expansion_known", "expansion is known", "temperature", 0, (low, high), mark))
    notes = [text for text in (metal.condition, metal.note) if text]
    if metal.memory:
        notes.append(f"from memory: {', '.join(sorted(metal.memory))}")
    return FeatureAnswer(metal.name, "metal", PASS, tuple(found), notes=tuple(notes))


def _one(
    name: str, label: str, kind: str, digits: int, ends: tuple[float, float], source: Source
) -> ValueAnswer:
    return ValueAnswer(name, label, kind, digits, "", source, {"as_made": Range(*ends)})


def _tables(*, as_json: bool, as_csv: bool, units: str | None, workings: bool, output: str | None) -> Result:
    shown = units_of(units)
    features = []
    for name in tables.names():
        table = tables.load(name)
        grades = Counter(row["evidence"] for row in table.rows)
        doubtful = sum(1 for row in table.rows if row.get("doubt"))
        counts = {"rows": len(table.rows), **{g: grades[g] for g in EVIDENCE if grades[g]}}
        if doubtful:
            counts["doubtful"] = doubtful
        source = Source(table.publication)
        values = tuple(
            _one(label, label, "number", 0, (float(count), float(count)), source)
            for label, count in counts.items()
        )
        notes = (table.title, table.publication, f"digest {table.digest}")
        features.append(FeatureAnswer(name, "table", PASS, values, notes=notes))
    answer = Answer("tables", PASS, tuple(features), units=shown)
    return answered(answer, as_json=as_json, as_csv=as_csv, units=shown, output=output)
