"""Curves, contraction fits and ends of data of a metal, worked out in plain floats on made-up curves."""

from __future__ import annotations

import csv
from dataclasses import replace
from math import inf, isnan, log10, nan
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fits.materials import metals
from fits.materials.metals import Cold, Curve, Metal
from fits.tables import Source

SEEN = Source("made up", "seen")
ROOT = Path(__file__).parents[2]


def curve(points: dict[float, float], base: float = 20.0) -> Curve:
    return Curve(tuple(points), tuple(points.values()), base, SEEN)


def at(found: Any) -> float:
    return float(np.ravel(found)[0])


BASE = Metal("made up", (70000.0, 76000.0), 0.3, 240.0, 290.0, None, 2700.0, (21e-6, 24e-6), (-40.0, 120.0), source=SEEN)


# Curves

@pytest.mark.parametrize(("first", "at_20"), [(20.0, 8.0), (20.5, 8.0), (25.0, 8.0), (25.5, nan), (19.0, 7.975)])
def test_a_curve_from_20_to_25_degc_holds_from_20(first: float, at_20: float):
    """Room temperature is 20 degC in one book and 25 in the next; beyond that a curve is not stretched."""
    found = curve({first: 8.0, 59.0: 7.0})
    assert at(found.at(np.array(20.0))) == pytest.approx(at_20, abs=1e-12, nan_ok=True)
    assert isnan(at(found.at(np.array(18.9))))
    assert isnan(at(found.at(np.array(59.1))))
    assert at(found.at(np.array(59.0))) == 7.0
    # Straight between: a quarter of the way from its first point, which stands at 20 where it is stretched.
    start = 20.0 if first <= 25.0 and first > 20.0 else first
    assert at(found.at(np.array(start + (59.0 - start) / 4.0))) == pytest.approx(7.75)


@pytest.mark.parametrize(("widest", "between"), [(100.0, True), (99.9, False), (60.0, False), (inf, True)])
def test_nothing_is_read_across_a_gap_that_is_too_wide(widest: float, between: bool):
    found = curve({20.0: 200.0, 120.0: 150.0, 180.0: 90.0})
    value = found.at(np.array([20.0, 20.1, 70.0, 119.9, 120.0, 150.0, 180.0]), widest_gap=widest)
    # 0.5 MPa per K down to 120, 1 MPa per K from there.
    want = [200.0, 199.95, 175.0, 150.05, 150.0, 120.0, 90.0]
    for number, (here, right) in enumerate(zip(value, want, strict=True)):
        known = between or number in (0, 4, 6) or (widest == 99.9 and number == 5) or (widest == 60.0 and number == 5)
        assert here == pytest.approx(right if known else nan, nan_ok=True)


# Contraction

def polynomial(**changes: Any) -> Cold:
    return Cold(**{"form": "polynomial", "coefficients": (-300.0, -0.4, 9e-3, -2e-5, 1.7e-8, 5.0, 7.0), "t_low": 23.0,
                   "plateau": -304.0, "t_min": 4.0, "source": SEEN, **changes})


def by_hand(kelvin: float) -> float:
    """A + b T + c T^2 + d T^3 + e T^4 in 1e-5 (the form of NIST's pages), a plateau below 23 K."""
    if kelvin < 23.0:
        return -304.0
    return -300.0 - 0.4 * kelvin + 9e-3 * kelvin**2 - 2e-5 * kelvin**3 + 1.7e-8 * kelvin**4


@pytest.mark.parametrize("kelvin", [4.0, 5.5, 22.9, 23.0, 24.0, 77.0, 150.0, 260.0, 293.15])
def test_a_polynomial_of_contraction(kelvin: float):
    # An edge of the range is known by its float in degC.
    want = (by_hand(kelvin + 1e-9) - by_hand(293.15)) * 1e-5
    assert at(polynomial().strain(np.array([kelvin + 1e-9 - 273.15]))) == pytest.approx(want, rel=1e-9, abs=1e-12)


def test_below_its_fit_contraction_is_not_known():
    found = polynomial().strain(np.array([3.9 - 273.15, 4.0 - 273.15, 4.1 - 273.15]))
    assert np.isnan(found).tolist() == [True, False, False]
    # Above 20 degC the fit stands still; the warm side has its own numbers.
    assert at(polynomial().strain(np.array([60.0]))) == 0.0


@pytest.mark.parametrize("kelvin", [30.0, 77.0, 200.0, 290.0])
def test_a_logarithmic_coefficient_is_integrated(kelvin: float):
    """Log10 of the coefficient = a + b log10 T is 10^a T^b: its integral from T to 293.15 K is known."""
    fit = polynomial(form="log coefficient", coefficients=(-1.3, 1.1, 0.0, 0.0, 0.0, 0.0, 0.0))
    whole = 10.0**-1.3 / 2.1 * (293.15**2.1 - kelvin**2.1) * 1e-6
    assert at(fit.strain(np.array([kelvin - 273.15]))) == pytest.approx(-whole, rel=1e-9)
    # A third term on top, by many narrow strips.
    three = polynomial(form="log coefficient", coefficients=(-1.3, 1.1, 0.07, -0.02, 0.0, 0.0, 0.001))
    edges = np.linspace(kelvin, 293.15, 20001)
    middles = (edges[1:] + edges[:-1]) / 2.0
    logs = [log10(one) for one in middles]
    strips = sum(10.0 ** (-1.3 + 1.1 * x + 0.07 * x**2 - 0.02 * x**3 + 0.001 * x**6) for x in logs) * (edges[1] - edges[0])
    assert at(three.strain(np.array([kelvin - 273.15]))) == pytest.approx(-strips * 1e-6, rel=1e-6)


# Strain

def test_a_mean_expansion_holds_in_its_range_only():
    value = BASE.strain_at(np.array([-40.1, -40.0, 0.0, 20.0, 120.0, 120.1]), 0.25)
    # 21.75e-6 is a quarter of the way from the low source to the high one.
    assert value == pytest.approx([nan, 21.75e-6 * -60.0, 21.75e-6 * -20.0, 0.0, 21.75e-6 * 100.0, nan], rel=1e-12, nan_ok=True)


def test_a_mean_expansion_known_from_above_20_is_followed_down_to_20():
    found = replace(BASE, expansion_range=(27.0, 120.0)).strain_at(np.array([19.9, 20.0, 23.0, 27.0]), 0.0)
    assert np.isnan(found).tolist() == [True, False, False, False]
    assert found[2] == pytest.approx(21e-6 * 3.0)


def test_a_typed_expansion_has_no_ends():
    typed = replace(BASE, typed=frozenset({"expansion"}))
    assert typed.strain_at(np.array([-200.0, 900.0]), 1.0) == pytest.approx([24e-6 * -220.0, 24e-6 * 880.0])
    assert np.isnan(replace(BASE, expansion=None).strain_at(np.array([19.9, 20.0]))).tolist() == [True, False]


@pytest.mark.parametrize(("base", "share"), [(20.0, 0.0), (0.0, 0.0), (0.0, 0.4), (-50.0, 1.0)])
def test_a_secant_counts_from_its_base(base: float, share: float):
    """Mean expansion from ``base``: 16 at 100, 17.5 at 200, 19 at 500 (1e-6/K); held at its first value below."""
    of = replace(BASE, expansion_curve=curve({100.0: 16.0, 200.0: 17.5, 500.0: 19.0}, base))
    at_room = 16.0e-6 * (20.0 - base)
    more = 1.0 + share * (24.0 / 21.0 - 1.0)
    for temperature, alpha in ((20.0, 16.0), (60.0, 16.0), (100.0, 16.0), (150.0, 16.75), (200.0, 17.5), (320.0, 18.1), (500.0, 19.0)):
        want = (alpha * 1e-6 * (temperature - base) - at_room) * more
        assert at(of.strain_at(np.array([temperature]), share)) == pytest.approx(want, rel=1e-12, abs=1e-18)
    assert np.isnan(of.strain_at(np.array([19.9, 500.1]), share)).all()


def test_a_secant_known_below_20_holds_down_to_there():
    of = replace(BASE, expansion_curve=curve({0.0: 15.0, 100.0: 16.0}))
    assert at(of.strain_at(np.array([0.0]))) == pytest.approx(15.0e-6 * -20.0)
    assert at(of.strain_at(np.array([10.0]))) == pytest.approx(15.1e-6 * -10.0)
    assert isnan(at(of.strain_at(np.array([-0.1]))))
    assert of.heating_range() == (0.0, 100.0)


def test_points_of_contraction_are_joined_to_20_degc():
    of = replace(BASE, cold=curve({-196.0: -3900.0, -80.0: -2000.0}))
    # Microstrain; a straight line from -80 degC to 0 at 20 degC.
    found = of.strain_at(np.array([-196.1, -196.0, -138.0, -80.0, -30.0, 20.0, 45.0]), 0.0)
    assert found == pytest.approx([nan, -3900e-6, -2950e-6, -2000e-6, -1000e-6, 0.0, 21e-6 * 25.0], nan_ok=True, abs=1e-15)


@pytest.mark.parametrize(("changes", "want"), [
    ({}, (-40.0, 120.0)), ({"expansion_range": (27.0, 120.0)}, (20.0, 120.0)), ({"expansion": None}, (20.0, 20.0)),
    ({"typed": frozenset({"expansion"})}, (-100.0, 400.0)), ({"typed": frozenset({"poisson"})}, (-40.0, 120.0)),
    ({"expansion_curve": curve({100.0: 16.0, 200.0: 17.5})}, (20.0, 200.0)),
    ({"cold": polynomial(t_min=7.0)}, (7.0 - 273.15, 120.0)), ({"cold": curve({-196.0: -3900.0, -80.0: -2000.0})}, (-196.0, 120.0)),
    ({"cold": polynomial(), "expansion_curve": curve({30.0: 16.0, 210.0: 17.5})}, (4.0 - 273.15, 210.0)),
])  # fmt: skip
def test_how_far_expansion_is_followed(changes: dict[str, Any], want: tuple[float, float]):
    assert replace(BASE, **changes).heating_range() == pytest.approx(want, rel=1e-12)


def test_the_table_of_strain_has_every_degree_and_20_among_them():
    temperatures, strains = replace(BASE, expansion_range=(-1.5, 23.5)).strain_table(1.0)
    # Whole degrees counted from 20, and both ends.
    assert temperatures.tolist() == [-1.5, *(float(one) for one in range(-1, 24)), 23.5]
    assert strains == pytest.approx([24e-6 * (one - 20.0) for one in temperatures], abs=1e-15)
    # Without a share it is that of the low source.
    assert replace(BASE, expansion_range=(-1.5, 23.5)).strain_table()[1] == pytest.approx([21e-6 * (one - 20.0) for one in temperatures], abs=1e-15)
    typed = replace(BASE, typed=frozenset({"expansion"})).strain_table(0.0)
    assert typed[0].tolist() == [-100.0, 20.0, 400.0]
    assert typed[1] == pytest.approx([21e-6 * -120.0, 0.0, 21e-6 * 380.0])


def test_the_table_of_strain_never_falls():
    """The plateau of a fit lies below its neighbours: temperatures are sought on a rising table."""
    temperatures, strains = replace(BASE, cold=polynomial(plateau=-295.0)).strain_table(0.0)
    assert (np.diff(strains) >= 0.0).all()
    assert temperatures[0] == pytest.approx(4.0 - 273.15)
    assert 20.0 in temperatures


# Modulus and yield

def test_modulus_is_its_share_times_the_ratio_of_the_curve():
    of = replace(BASE, modulus_curve=curve({20.0: 80.0, 220.0: 60.0}))
    # 71500 is a quarter of the way; 70/80 of it half way down the curve.
    assert of.modulus_at(np.array([20.0, 120.0, 221.0]), 0.25) == pytest.approx([71500.0, 71500.0 * 70.0 / 80.0, nan], nan_ok=True)
    # Without a curve it is known at 20 degC only.
    assert BASE.modulus_at(np.array([19.9, 20.0, 20.1])) == pytest.approx([nan, 70000.0, nan], nan_ok=True)
    assert at(BASE.yield_at(np.array([20.0]))) == 240.0
    typed = replace(BASE, typed=frozenset({"youngs_modulus"}))
    assert typed.modulus_at(np.array([-90.0, 300.0]), 1.0).tolist() == [76000.0, 76000.0]


def test_yield_is_the_least_times_the_ratio_and_no_stronger_in_the_cold():
    of = replace(BASE, yield_curve=curve({20.0: 300.0, 100.0: 270.0, 300.0: 90.0}))
    found = of.yield_at(np.array([-150.0, 20.0, 60.0, 100.0, 150.0, 300.0, 301.0]))
    # Between 100 and 300 degC lie 200 K: wider than the 100 K that are read across.
    assert found == pytest.approx([240.0, 240.0, 240.0 * 285.0 / 300.0, 240.0 * 0.9, nan, 240.0 * 0.3, nan], nan_ok=True)
    assert at(replace(of, yield_minimum=None).yield_at(np.array([100.0]))) == pytest.approx(290.0 * 0.9)
    assert np.isnan(replace(of, yield_minimum=None, yield_typical=None).yield_at(np.array([20.0]))).all()
    assert np.isnan(BASE.yield_at(np.array([-30.0, 20.0, 20.1]))).tolist() == [False, False, True]
    assert replace(BASE, typed=frozenset({"yield_strength"})).yield_at(np.array([20.0, 500.0])).tolist() == [240.0, 240.0]


@pytest.mark.parametrize(("expansion", "modulus", "want"), [
    ((21e-6, 24e-6), (7e4, 7e4), (True, False)), ((21e-6, 21e-6), (7e4, 7.1e4), (False, True)), (None, (7e4, 7e4), (False, False)),
])  # fmt: skip
def test_what_scatters(expansion: tuple[float, float] | None, modulus: tuple[float, float], want: tuple[bool, bool]):
    of = replace(BASE, expansion=expansion, youngs_modulus=modulus)
    assert (of.scatters, of.modulus_scatters) == want


@pytest.mark.parametrize(("family", "condition", "aged"), [
    ("aluminium", "T6", True), ("aluminium", "T651/H32", True), ("aluminium", "H32/T6", False), ("aluminium", "O", False), ("steel", "T6", False),
])  # fmt: skip
def test_which_tempers_age(family: str, condition: str, aged: bool):
    assert replace(BASE, family=family, condition=condition).aged_aluminium is aged


def test_sources_are_those_of_what_was_used():
    warm = replace(BASE, modulus_curve=curve({20.0: 1.0})._replace(source=Source("curve", "seen")), memory=frozenset({"poisson", "density"}))
    cold = warm.sources(temperature_matters=False)
    assert [one.text for one in cold] == ["made up; from memory: density, poisson"]
    assert [one.text for one in warm.sources(temperature_matters=True)] == ["made up; from memory: density, poisson", "curve"]
    assert [one.text for one in BASE.sources(temperature_matters=True)] == ["made up"]
    # A row from memory as a whole says so itself.
    memory = replace(warm, source=Source("made up", "memory"))
    assert [one.text for one in memory.sources(temperature_matters=False)] == ["made up"]


# The table

def rows(name: str) -> list[dict[str, str]]:
    lines = (ROOT / f"tables/metals/{name}.csv").read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if line and not line.startswith("#")]
    return [row for row in csv.DictReader(kept) if row[next(iter(row))]]


def number(text: str) -> float | None:
    return float(text) if text else None


@pytest.mark.parametrize("row", rows("metals"), ids=lambda row: row["name"])
def test_a_metal_is_its_row(row: dict[str, str]):
    """GPa and 1e-6/K on the page, MPa and 1/K inside."""
    of = metals.metal(row["name"])
    assert of.youngs_modulus == pytest.approx((float(row["youngs_modulus"]) * 1e3,) * 2)
    assert of.expansion == pytest.approx((float(row["expansion_low"]) / 1e6, float(row["expansion_high"]) / 1e6))
    assert of.expansion_range == (float(row["expansion_from"]), float(row["expansion_to"]))
    for name in ("poisson", "yield_minimum", "yield_typical", "ultimate", "density", "heating_limit", "max_service"):
        assert getattr(of, name) == number(row[name]), name
    assert (of.family, of.brittle, of.note, of.condition) == (row["family"], row["brittle"] == "1", row["note"], row["condition"])
    assert of.memory == {one for one in row["memory"].split(";") if one}
    for name, what, found in (("modulus_curve", "modulus", of.modulus_curve), ("yield_curve", "yield", of.yield_curve), ("expansion_curve", "mean expansion", of.expansion_curve)):
        points = [one for one in rows("curves") if (one["curve"], one["property"]) == (row[name], what)]
        assert (found is None) is (not points)
        if found is not None:
            assert found.temperatures == tuple(float(one["temperature"]) for one in points)
            assert found.values == tuple(float(one["value"]) for one in points)
            assert found.base == float(points[0]["base"] or 20.0)
            # One point from memory makes the whole curve one.
            assert (found.source.evidence == "memory") == any(one["evidence"] == "memory" for one in points)


@pytest.mark.parametrize("row", rows("cold_expansion"), ids=lambda row: row["name"])
def test_a_contraction_is_its_row(row: dict[str, str]):
    found = next(of.cold for of in map(metals.metal, metals.names()) if isinstance(of.cold, Cold) and row["name"] in of.cold.source.text)
    assert found.form == row["form"]
    assert found.coefficients == tuple(float(row[letter]) for letter in "abcdefg")
    assert (found.t_low, found.plateau, found.t_min) == tuple(float(row[key]) for key in ("t_low", "plateau", "t_min"))
