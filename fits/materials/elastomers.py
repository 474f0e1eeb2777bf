"""Elastomers of rings: temperatures, expansion, TR10, set, swell, modulus, and fluids.

An elastomer is material and hardness, ``NBR 70``. Every number carries its own source and
evidence; what no row gives is None, and the caller says that it isn't covered. Set and swell
belong to their own test and are never moved to another temperature.
"""

from __future__ import annotations

from functools import cache
from typing import Literal, NamedTuple

from fits import tables
from fits.arrays import Array
from fits.errors import Fault, InputError, meant, nearest
from fits.tables import Source

ROOM = 20.0
# Shore A between which the relation of hardness and modulus was seen to hold, and its scatter.
MODULUS_RANGE = (30.0, 80.0)
MODULUS_SCATTER = 0.30
_HARDNESS = (20.0, 95.0)
GENT = Source("Gent 1958, modulus from hardness, as quoted with a finite-element study; scatter 30 %")
_OXYGEN = Source("common practice", "practice")

Verdict = Literal["refuse", "ok", "unknown"]


class Known(NamedTuple):
    """A number or a range with its source; ``test`` says of which test or compound."""

    low: float
    high: float
    source: Source
    test: str = ""


class Elastomer(NamedTuple):
    """A ring's rubber: degC, 1/K, Shore A. None is what no source gives.

    ``typed`` names what the user gave in the place of the table.
    """

    name: str
    material: str
    hardness: float
    lowest: Known | None
    highest: Known | None
    tr10: Known | None
    expansion: Known | None
    typed: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Its name, and what was typed in the place of the table."""
        told = []
        for name in self.typed:
            known: Known = getattr(self, name)
            ends = " to ".join(dict.fromkeys(f"{end:.12g}" for end in (known.low, known.high)))
            told.append(f"{name} {ends} {'1/K' if name == 'expansion' else 'degC'}")
        return f"{self.name} ({', '.join(told)})" if told else self.name

    @property
    def scatters(self) -> bool:
        """Whether sources differ about its expansion."""
        return self.expansion is not None and self.expansion.low < self.expansion.high

    def strain_at(self, temperature: Array, share: Array | float = 0.0) -> Array:
        """Free thermal strain from 20 degC; ``share`` 0 to 1 from the low to the high source.

        One mean coefficient, whatever the temperature: whether the elastomer stands it is
        judged by ``lowest`` and ``highest``. NaN away from 20 degC where no expansion is known.
        """
        import numpy as np

        if self.expansion is None:
            return np.where(np.asarray(temperature) == ROOM, 0.0, np.nan)
        low, high, *_ = self.expansion
        return np.asarray((low + share * (high - low)) * (np.asarray(temperature) - ROOM))

    def cold_limit(self, *, moving: bool) -> Known | None:
        """The lowest temperature at which it still seals, by TR10; None where that isn't known.

        The warm end of TR10's range counts: static rings seal to 8 K below it, moving ones to it.
        """
        if self.tr10 is None:
            return None
        of = tables.load("elastomers/cold_limits")
        row = of.row("duty", "moving" if moving else "static")
        assert row is not None
        below = float(row["below"])
        limit = self.tr10.high - below
        where = f"{below:g} K below" if below else "at"
        text = f"{where} TR10 of {self.tr10.high:g} degC ({self.tr10.source}): "
        source = Source(text + of.sources[row["source"]], self.tr10.source.evidence, self.tr10.source.doubt)
        return Known(limit, limit, source)

    def wear(self) -> Known | None:
        """Grade of resistance to rubbing, 1 excellent to 5 poor; None where it isn't known."""
        return _ranged("elastomers/abrasion", self.material, "abrasion")

    def sets(self) -> tuple[Known, ...]:
        """Compression sets (fractions), each of its own test."""
        of = tables.load("elastomers/compression_set")
        return tuple(
            Known(
                float(row["low"]) / 100.0,
                float(row["high"]) / 100.0,
                of.source(row, f"compression set of {self.material}"),
                _between(row["test_from"], row["test_to"]),
            )
            for row in of.rows
            if row["material"] == self.material
        )

    def swell(self, fluid: str) -> Known | None:
        """Volume swell (fraction) in a fluid, of its own test; None where none is known."""
        of = tables.load("elastomers/swell")
        for row in of.rows:
            if (row["material"], row["fluid"]) == (self.material, fluid):
                source = of.source(row, f"swell of {self.material} in {fluid}")
                return Known(float(row["low"]) / 100.0, float(row["high"]) / 100.0, source, row["test"])
        return None

    def grades(self) -> tuple[float, ...]:
        """The hardnesses that rings of this material are sold in; empty where not known."""
        rows = tables.load("elastomers/hardness").rows
        return tuple(float(row["hardness"]) for row in rows if row["material"] == self.material)

    def modulus(self) -> Known | None:
        """Young's modulus in MPa, scatter included; None outside 30 to 80 Shore A."""
        if not MODULUS_RANGE[0] <= self.hardness <= MODULUS_RANGE[1]:
            return None
        middle = modulus_of(self.hardness)
        return Known(middle * (1.0 - MODULUS_SCATTER), middle * (1.0 + MODULUS_SCATTER), GENT)

    def sources(self) -> tuple[Source, ...]:
        """Where the temperatures, TR10 and the expansion come from."""
        known = (self.lowest, self.highest, self.tr10, self.expansion)
        return tuple(dict.fromkeys(one.source for one in known if one is not None))


class Clash(NamedTuple):
    """Whether an elastomer goes with a fluid; ``up_to`` is the hottest the fluid may be, degC."""

    verdict: Verdict
    reason: str
    source: Source | None = None
    up_to: float | None = None


def modulus_of(hardness: float) -> float:
    """Young's modulus (MPa) from Shore A, by Gent's relation with the constants as quoted.

    >>> round(modulus_of(70.0), 2)
    5.52
    """
    return 0.0981 * (56.0 + 7.62336 * hardness) / (0.137505 * (254.0 - 2.54 * hardness))


def _between(low: str, high: str) -> str:
    return f"at {low} degC" if low == high else f"at {low} to {high} degC"


def names() -> list[str]:
    """The materials of the table, in its order.

    >>> "NBR" in names()
    True
    """
    return [row["material"] for row in tables.load("elastomers/materials").rows]


def words(material: str) -> str:
    """A material's name in words.

    >>> words("NBR")
    'nitrile'
    """
    row = tables.load("elastomers/materials").row("material", material)
    return row["words"] if row is not None else ""


def fluids() -> list[str]:
    """The fluids of which something is known.

    >>> "mineral oil" in fluids()
    True
    """
    return list(dict.fromkeys([*(row["fluid"] for row in tables.load("elastomers/fluids").rows), "oxygen"]))


@cache
def elastomer(text: str) -> Elastomer:
    """An elastomer by material and hardness.

    Raises:
        InputError: no hardness, an unknown material (the fault suggests the nearest), or a
            hardness that no ring has.

    >>> elastomer("NBR 70").highest.low
    100.0
    """
    material, _, number = " ".join(text.split()).rpartition(" ")
    number = number.removesuffix("A")
    if not number.isdecimal() or not material:
        raise InputError(Fault("material and hardness are due", got=text, hint=_written(text)))
    row = tables.load("elastomers/materials").row("material", material)
    if row is None:
        hint = _by_words(material, number) or f"materials: {', '.join(names())}"
        raise InputError(Fault("unknown elastomer", got=text, hint=hint))
    if not _HARDNESS[0] <= float(number) <= _HARDNESS[1]:
        must = f"hardness runs from {_HARDNESS[0]:g} to {_HARDNESS[1]:g} Shore A"
        raise InputError(Fault(must, got=text, hint=f'write "{material} 70"'))
    return _from_row(row, float(number))


def _written(text: str) -> str:
    material = " ".join(text.split())
    found = material if material in names() else _of_words(material)
    return f'write "{found or "NBR"} 70", with the hardness that is on the packet'


def _by_words(material: str, number: str) -> str:
    near = _of_words(material) or nearest(material, names())
    return f'did you mean "{near} {number}"?' if near else ""


def _of_words(material: str) -> str:
    """The material that a name in words stands for, such as nitrile."""
    rows = tables.load("elastomers/materials").rows
    same = {row["words"].split(",")[0]: row["material"] for row in reversed(rows)}
    return same.get(material.lower(), "")


def _from_row(row: dict[str, str], hardness: float) -> Elastomer:
    of = tables.load("elastomers/materials")
    material = row["material"]
    source = of.source(row, f"temperatures of {material}")
    lowest, highest = (_known(row[end], source) for end in ("lowest", "highest"))
    return Elastomer(
        f"{material} {hardness:g}",
        material,
        hardness,
        lowest,
        highest,
        _ranged("elastomers/cold", material, "TR10"),
        _ranged("elastomers/expansion", material, "expansion", 1e-6),
    )


def _known(text: str, source: Source) -> Known | None:
    return Known(float(text), float(text), source) if text else None


def _ranged(table: str, material: str, what: str, factor: float = 1.0) -> Known | None:
    of = tables.load(table)
    for row in of.rows:
        if row["material"] == material and row.get("property", what) == what:
            source = of.source(row, f"{what} of {material}")
            return Known(float(row["low"]) * factor, float(row["high"]) * factor, source)
    return None


def clash(of: Elastomer, fluid: str) -> Clash:
    """Whether an elastomer goes with a fluid: the worst row of the pair counts.

    A fluid or a pair without a row is "unknown": it is asked, never guessed.

    >>> clash(elastomer("EPDM 70"), "mineral oil").verdict
    'refuse'
    >>> clash(elastomer("EPDM 70"), "water").verdict
    'ok'
    """
    if fluid == "oxygen":
        return Clash("refuse", "rubber ignites in oxygen: ask an oxygen specialist", _OXYGEN)
    known = fluids()
    if fluid not in known:
        hint = meant(fluid, known) or f"known: {', '.join(known)}"
        return Clash("unknown", f'which fluid is "{fluid}"? {hint}')
    table = tables.load("elastomers/fluids")
    rows = [row for row in table.rows if (row["material"], row["fluid"]) == (of.material, fluid)]
    if not rows:
        reason = f"nothing is known of {of.material} in {fluid}: ask the maker of the ring"
        return Clash("unknown", reason)
    worst = min(rows, key=lambda row: ("refuse", "ask", "ok").index(row["verdict"]))
    source = table.source(worst, f"{of.material} in {fluid}")
    said = f"{of.material} in {fluid}: {worst['remark'] or _MEANS[worst['verdict']]}"
    if worst["verdict"] == "ask":
        return Clash("unknown", f"{said}; ask the maker of the ring about its compound", source)
    if worst["verdict"] == "refuse":
        return Clash("refuse", f"{said}{_instead(fluid)}", source)
    ends = [float(row["up_to"]) for row in rows if row["up_to"]]
    return Clash("ok", said, source, min(ends, default=None))


_MEANS = {"ok": "goes with it", "refuse": "does not stand it", "ask": "it depends on the compound"}


def _instead(fluid: str) -> str:
    """The materials that are known to stand a fluid."""
    table = tables.load("elastomers/fluids")
    of_fluid = [row for row in table.rows if row["fluid"] == fluid]
    bad = {row["material"] for row in of_fluid if row["verdict"] != "ok"}
    good = dict.fromkeys(row["material"] for row in of_fluid if row["material"] not in bad)
    return f"; known to stand it: {', '.join(good)}" if good else ""
