"""Metals: modulus, Poisson, yield, expansion by temperature.

The value at 20 degC stands in ``tables/metals/metals``; curves give the ratio to it.
Nothing is extrapolated: outside its data a property is NaN, and the caller says why.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import NamedTuple

from fits import tables
from fits.arrays import Array, distinct
from fits.errors import Fault, InputError, meant
from fits.tables import Source

ROOM = 20.0
# Yield is not interpolated across a wider gap than this (K).
WIDEST_YIELD_GAP = 100.0
KELVIN = 273.15
# A typed coefficient is not followed further than this when joining temperatures are
# sought: contraction slows down in deep cold (NIST fits: 15 to 31 % less at 77 K).
TYPED = Source("typed", "typed")
TYPED_RANGE = (-100.0, 400.0)


class Curve(NamedTuple):
    """A property against temperature: points, base of a secant, source."""

    temperatures: tuple[float, ...]
    values: tuple[float, ...]
    base: float
    source: Source

    def at(self, temperature: Array, *, widest_gap: float = float("inf")) -> Array:
        """Straight-line value at each temperature (degC), NaN outside the points.

        NaN too between points that lie further apart than ``widest_gap`` (K). A curve
        that starts at room temperature (20 to 25 degC) holds from 20 degC.
        """
        import numpy as np

        known = np.asarray(self.temperatures)
        if ROOM < known[0] <= 25.0:
            known = np.concatenate(([ROOM], known[1:]))
        value = np.interp(temperature, known, self.values, left=np.nan, right=np.nan)
        for low, high in pairwise(known):
            if high - low > widest_gap:
                inside = (temperature > low) & (temperature < high)
                value = np.where(inside, np.nan, value)
        return np.asarray(value)


class Cold(NamedTuple):
    """A fit of contraction below room temperature: coefficients and range (kelvin)."""

    form: str
    coefficients: tuple[float, ...]
    t_low: float
    plateau: float
    t_min: float
    source: Source

    def strain(self, temperature: Array) -> Array:
        """Thermal strain from 20 degC at temperatures in degC, NaN below the fit."""
        import numpy as np

        kelvin = np.asarray(temperature, dtype=np.float64) + KELVIN
        inside = np.clip(kelvin, self.t_min, ROOM + KELVIN)
        if self.form == "polynomial":
            strain = (self._polynomial(inside) - self._polynomial(np.array(ROOM + KELVIN))) * 1e-5
        else:
            strain = self._integrated(inside)
        return np.where(kelvin < self.t_min, np.nan, strain)

    def _polynomial(self, kelvin: Array) -> Array:
        import numpy as np

        a, b, c, d, e = self.coefficients[:5]
        value = a + kelvin * (b + kelvin * (c + kelvin * (d + kelvin * e)))
        return np.where(kelvin < self.t_low, self.plateau, value)

    def _integrated(self, kelvin: Array) -> Array:
        # Gauss-Legendre over 20 degC to T: the fit gives the instantaneous coefficient.
        import numpy as np

        nodes, weights = np.polynomial.legendre.leggauss(32)
        top = ROOM + KELVIN
        half = (top - kelvin)[..., None] / 2.0
        log = np.log10(kelvin[..., None] + half * (nodes + 1.0))
        value = np.zeros_like(log)
        for coefficient in reversed(self.coefficients):
            value = value * log + coefficient
        total: Array = -np.sum(10.0**value * weights * half, axis=-1) * 1e-6
        return total


@dataclass(frozen=True, eq=False)
class Metal:
    """A metal at 20 degC with its curves. MPa, kg/m^3, 1/K, degC.

    ``yield_minimum`` or ``yield_typical`` may be None; a typical value never carries a
    pass. ``expansion`` is (low, high) of the mean coefficient over ``expansion_range``.
    ``typed`` metals come from a part file and hold at every temperature of the part.
    """

    name: str
    youngs_modulus: tuple[float, float]
    poisson: float
    yield_minimum: float | None
    yield_typical: float | None
    ultimate: float | None
    density: float | None
    expansion: tuple[float, float] | None
    expansion_range: tuple[float, float] = (-float("inf"), float("inf"))
    heating_limit: float | None = None
    max_service: float | None = None
    family: str = ""
    brittle: bool = False
    typed: frozenset[str] = frozenset()
    modulus_curve: Curve | None = None
    yield_curve: Curve | None = None
    expansion_curve: Curve | None = None
    cold: Cold | Curve | None = None
    source: Source = TYPED
    memory: frozenset[str] = frozenset()
    note: str = ""
    condition: str = ""
    alloy: str = ""

    @property
    def called(self) -> str:
        """The name under which tables know it: the alloy's, or its own."""
        return self.alloy or self.name

    @property
    def scatters(self) -> bool:
        """Whether sources differ about its expansion."""
        return self.expansion is not None and self.expansion[0] < self.expansion[1]

    @property
    def modulus_scatters(self) -> bool:
        """Whether its modulus was given as a range."""
        return self.youngs_modulus[0] < self.youngs_modulus[1]

    def modulus_at(self, temperature: Array, share: Array | float = 0.0) -> Array:
        """Young's modulus in MPa; ``share`` 0 to 1 from its low to its high value."""
        import numpy as np

        low, high = self.youngs_modulus
        modulus = low + share * (high - low)
        if "youngs_modulus" in self.typed:
            return np.asarray(modulus + 0.0 * temperature)
        return np.asarray(modulus * self._ratio(self.modulus_curve, temperature))

    def yield_at(self, temperature: Array) -> Array:
        """Yield in MPa at temperature, minimum if there is one, else typical; NaN unknown.

        The value at 20 degC times the curve's ratio; cold strengthening is not credited.
        """
        import numpy as np

        base = self.yield_minimum if self.yield_minimum is not None else self.yield_typical
        if base is None:
            return np.full(np.shape(temperature), np.nan)
        if "yield_strength" in self.typed:
            return np.full(np.shape(temperature), base)
        warm = np.maximum(temperature, ROOM)
        return np.asarray(base * self._ratio(self.yield_curve, warm, WIDEST_YIELD_GAP))

    def _ratio(self, curve: Curve | None, temperature: Array, widest_gap: float = float("inf")) -> Array:
        import numpy as np

        if curve is None:
            return np.where(np.asarray(temperature) == ROOM, 1.0, np.nan)
        room = curve.at(np.array(ROOM))
        return np.asarray(curve.at(temperature, widest_gap=widest_gap) / room)

    def strain_at(self, temperature: Array, share: Array | float = 0.0) -> Array:
        """Thermal strain from 20 degC; ``share`` 0 to 1 from the low to the high source.

        Above 20 degC by secant values: strain = alpha(T) (T - base) - alpha(20) (20 - base);
        below by the integrated fits. NaN outside the data.
        """
        import numpy as np

        temperature = np.asarray(temperature, dtype=np.float64)
        if self.expansion is None:
            return np.where(temperature == ROOM, 0.0, np.nan)
        low, high = self.expansion
        mean = (low + share * (high - low)) * (temperature - ROOM)
        if "expansion" in self.typed:
            return np.asarray(mean)
        first, last = self.expansion_range
        warm = np.where((temperature >= min(first, ROOM)) & (temperature <= last), mean, np.nan)
        if self.expansion_curve is not None:
            warm = self._secant(temperature) * (1.0 + share * (high / low - 1.0))
        if self.cold is None:
            return np.where(temperature == ROOM, 0.0, warm)
        return np.where(temperature < ROOM, self._cold_strain(temperature), warm)

    def _secant(self, temperature: Array) -> Array:
        import numpy as np

        curve = self.expansion_curve
        assert curve is not None
        lowest, highest = curve.temperatures[0], curve.temperatures[-1]
        # The first secant value is the mean from its base, so it holds down to there.
        floor = min(lowest, ROOM)
        alpha = np.interp(temperature, curve.temperatures, curve.values) * 1e-6
        room = float(np.interp(ROOM, curve.temperatures, curve.values)) * 1e-6
        strain = alpha * (temperature - curve.base) - room * (ROOM - curve.base)
        outside = (temperature < floor) | (temperature > highest)
        return np.where(outside, np.nan, strain)

    def _cold_strain(self, temperature: Array) -> Array:
        import numpy as np

        if isinstance(self.cold, Cold):
            return self.cold.strain(temperature)
        assert self.cold is not None
        points = (*self.cold.temperatures, ROOM)
        values = (*self.cold.values, 0.0)
        return np.asarray(np.interp(temperature, points, values, left=np.nan) * 1e-6)

    @property
    def aged_aluminium(self) -> bool:
        """Whether it is, or may be, an aged aluminium temper, which weakens in long use above 100 degC."""
        return self.family == "aluminium" and (self.unsaid or "T" in self.condition.split("/")[0])

    @property
    def unsaid(self) -> bool:
        """Whether it is an aluminium of which neither alloy nor temper was said."""
        return self.family == "aluminium" and not self.condition

    def heating_range(self) -> tuple[float, float]:
        """Lowest and highest temperature (degC) to which expansion is followed."""
        if self.expansion is None:
            return ROOM, ROOM
        if "expansion" in self.typed:
            return TYPED_RANGE
        low, high = min(self.expansion_range[0], ROOM), self.expansion_range[1]
        if self.expansion_curve is not None:
            low, high = ROOM, self.expansion_curve.temperatures[-1]
            low = min(low, self.expansion_curve.temperatures[0])
        if isinstance(self.cold, Cold):
            low = self.cold.t_min - KELVIN
        elif self.cold is not None:
            low = self.cold.temperatures[0]
        return low, high

    @cache  # noqa: B019 (metals are few and live as long as the process)
    def strain_table(self, share: float = 0.0) -> tuple[Array, Array]:
        """Temperatures from the lowest to the highest with data, and the strain at each.

        Steps of 1 K with 20 degC among them; two points where expansion is one number.
        """
        import numpy as np

        low, high = self.heating_range()
        if "expansion" in self.typed:
            temperatures = np.array([low, ROOM, high])
        else:
            below, above = np.arange(ROOM, low, -1.0), np.arange(ROOM, high, 1.0)
            temperatures = distinct(np.concatenate(([low], below, above, [high])))
        strains = self.strain_at(temperatures, share)
        finite = np.isfinite(strains)
        # Fits end in a plateau at a few kelvin; the table is made to rise there.
        return temperatures[finite], np.maximum.accumulate(strains[finite])

    def sources(self, *, temperature_matters: bool) -> tuple[Source, ...]:
        """Where this metal's numbers come from; the curves only where they are used."""
        own = self.source
        if self.memory and own.evidence == "seen":
            own = own._replace(text=f"{own.text}; from memory: {', '.join(sorted(self.memory))}")
        curves = (self.modulus_curve, self.yield_curve, self.expansion_curve, self.cold)
        found = [own]
        if temperature_matters:
            found += [curve.source for curve in curves if curve is not None]
        return tuple(dict.fromkeys(found))


def _number(text: str) -> float | None:
    return float(text) if text else None


@cache
def _curves() -> dict[tuple[str, str], Curve]:
    of = tables.load("metals/curves")
    points: dict[tuple[str, str], list[dict[str, str]]] = {}
    for row in of.rows:
        points.setdefault((row["curve"], row["property"]), []).append(row)
    found = {}
    for (name, what), rows in points.items():
        grades = {row["evidence"] for row in rows}
        source = of.source(rows[-1], f"{what} of {name}")
        if "memory" in grades:
            source = source._replace(evidence="memory")
        found[name, what] = Curve(
            tuple(float(row["temperature"]) for row in rows),
            tuple(float(row["value"]) for row in rows),
            float(rows[0]["base"] or ROOM),
            source,
        )
    return found


def _cold(name: str) -> Cold | Curve | None:
    of = tables.load("metals/cold_expansion")
    row = of.row("name", name)
    if row is None:
        return _curves().get((name, "cold strain"))
    return Cold(
        row["form"],
        tuple(float(row[letter]) for letter in "abcdefg"),
        float(row["t_low"]),
        float(row["plateau"]),
        float(row["t_min"]),
        of.source(row, f"cold expansion of {name}"),
    )


def names() -> list[str]:
    """The metals of the table, in its order.

    >>> "6061-T6" in names()
    True
    """
    return [row["name"] for row in tables.load("metals/metals").rows]


@cache
def metal(name: str) -> Metal:
    """A metal of the table by name; the temper is part of the name.

    Raises:
        InputError: no such metal; the fault suggests the nearest name.

    >>> metal("6061-T6").yield_minimum
    241.0
    """
    of = tables.load("metals/metals")
    row = of.row("name", name)
    if row is not None:
        return _from_row(of, row)
    known = names()
    near = meant(name, known) or "fits metals lists them"
    raise InputError(Fault("unknown metal", got=name, hint=near))


def _from_row(of: tables.Table, row: dict[str, str]) -> Metal:
    modulus = float(row["youngs_modulus"]) * 1000.0
    return Metal(
        name=row["name"],
        youngs_modulus=(modulus, modulus),
        poisson=float(row["poisson"]),
        yield_minimum=_number(row["yield_minimum"]),
        yield_typical=_number(row["yield_typical"]),
        ultimate=_number(row["ultimate"]),
        density=_number(row["density"]),
        expansion=(float(row["expansion_low"]) * 1e-6, float(row["expansion_high"]) * 1e-6),
        expansion_range=(float(row["expansion_from"]), float(row["expansion_to"])),
        heating_limit=_number(row["heating_limit"]),
        max_service=_number(row["max_service"]),
        family=row["family"],
        brittle=row["brittle"] == "1",
        modulus_curve=_curves().get((row["modulus_curve"], "modulus")),
        yield_curve=_curves().get((row["yield_curve"], "yield")),
        expansion_curve=_curves().get((row["expansion_curve"], "mean expansion")),
        cold=_cold(row["cold_curve"]),
        source=of.source(row, row["name"]),
        memory=frozenset(row["memory"].split(";")) - {""},
        note=row["note"],
        condition=row["condition"],
        alloy=row["name"],
    )
