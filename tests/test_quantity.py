"""Text to numbers and back."""

from __future__ import annotations

import math
import warnings

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits import quantity
from fits.errors import InputError
from fits.quantity import convert, read, show
from fits.units import KINDS, OWN


@pytest.mark.parametrize(("text", "kind", "value"), [
    ("12 mm", "length", 12.0), ("0.4724 in", "length", 11.99896), ("1 1/4 in", "length", 31.75),
    ("3/8 in", "length", 9.525), ('0.5"', "length", 12.7), ("2 thou", "length", 0.0508),
    ("0.8 µm", "length", 0.0008), ("0.8 um", "roughness", 0.8), ("32 uin", "roughness", 0.8128),
    ("-25 degC", "temperature", -25.0), ("68 °F", "temperature", 20.0), ("77 K", "temperature", -196.15),
    ("16 MPa", "pressure", 16.0), ("2300 psi", "pressure", 2300 * 0.006894757293168361),
    ("207 GPa", "pressure", 207000.0), ("3 bar", "pressure", 0.3), ("5 K", "temperature difference", 5.0),
    ("9 delta_degF", "temperature difference", 5.0), ("40 lbf*in", "torque", 40 * 4.4482216152605 * 25.4),
    ("2 N m", "torque", 2000.0), ("60 rpm", "speed", 2 * math.pi), ("7.8 g/cm^3", "density", 7800.0),
    ("12e-6 1/K", "expansion", 12e-6), ("11.7 um/(m*K)", "expansion", 11.7e-6), ("0.12", "number", 0.12),
    ("2 kN", "force", 2000.0), ("1 kgf", "force", 9.80665), ("1 MN", "force", 1e6),
])
def test_read(text: str, kind: str, value: float):
    assert read(text, kind) == pytest.approx(value, rel=1e-12)


def test_a_bare_length_takes_the_units_of_the_file():
    assert read("1", "length", units="in") == 25.4
    assert read("1", "length") == 1.0
    assert read("1/2", "length", units="in") == 12.7


@pytest.mark.parametrize(("text", "kind", "says"), [
    ("1,5 mm", "length", 'decimal comma; write "1.5 mm"'),
    ("1 000 mm", "length", "two numbers where one is due"),
    ("nan mm", "length", "not a finite number"), ("-inf MPa", "pressure", "not a finite number"),
    ("1e400 mm", "length", "too large"), ("", "length", "nothing stands here"), ("mm", "length", "no number"),
    ("25", "pressure", "a pressure needs a unit"), ("25 MM", "length", 'did you mean "mm"?'),
    ("25 degC", "length", "a length is due, degC is a temperature"), ("5 furlong", "length", "unknown unit furlong"),
    ("25 mn", "length", "unknown unit mn; units of a length: mm"), ("13e-6 1/F", "expansion", "unknown unit 1/F; units of an expansion: 1/K, um/(m*K), 1/degF"),
    ("16 H7", "length", "unknown unit H7; units of a length: mm, um, in, thou"),
    ("80 degC", "temperature difference", "K or delta_degC"), ("1/2", "length", "a fraction is for inches"),
    ("3/7 in", "length", "2, 4, 8, 16, 32, 64 or 128"), ("1/0 in", "length", "2, 4, 8, 16, 32, 64 or 128"),
    ("5 (", "length", "unknown unit"), ("5 mm**2", "length", "unit of another kind"),
    ("5 K", "length", "unit of another kind"), ("0.1 mm", "number", "without a unit"),
    ("5 N", "pressure", "a pressure is due, N is a force"), ("9" * 5000 + "/2 in", "length", "too long"), ("9" * 101, "length", "too long"),
    ("1e308 in", "length", "too large"), ("1e306 mm", "roughness", "too large"),
    ("20 nan", "length", "unknown unit nan"), ("٣ mm", "length", "no number"),
])
def test_refused(text: str, kind: str, says: str):
    with pytest.raises(InputError) as error:
        read(text, kind)
    assert says in str(error.value)
    assert "\n" not in str(error.value)


def test_own_units_are_those_of_pint():
    registry = pint.UnitRegistry()
    for unit, (kind, _, _) in OWN.items():
        inside = {"": "dimensionless", "1/K": "1/kelvin"}.get(KINDS[kind].inside, KINDS[kind].inside)
        if kind == "temperature difference":
            continue
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            expected = registry.Quantity(7.0, unit).to(inside).magnitude
        assert convert(7.0, unit, kind) == pytest.approx(expected, rel=1e-14)


def test_units_of_our_own_file_are_those_of_pint():
    registry, ours = pint.UnitRegistry(), quantity._registry()
    for unit, base in [("ksi", "Pa"), ("atm", "Pa"), ("kgf", "N"), ("ozf", "N"), ("lb", "kg"), ("inch", "m"),
                       ("bar", "Pa"), ("ft", "m"), ("rpm", "rad/s"), ("hour", "s")]:
        own = {"hour": "h"}.get(unit, unit)
        expected = registry.Quantity(3.0, {"ozf": "force_ounce"}.get(unit, unit)).to(base).magnitude
        assert ours.Quantity(3.0, own).to(base).magnitude == pytest.approx(expected, rel=1e-14)


def test_no_unit_outside_the_list_gets_in():
    for unit in ("furlong", "Mmm", "megamm", "dam", "cubit", "mu", "light_year"):
        with pytest.raises(InputError):
            convert(1.0, unit, "length")


@given(st.floats(-1e9, 1e9), st.sampled_from(sorted(KINDS)))
def test_the_report_unit_reads_back(value: float, kind: str):
    unit = quantity.report_unit(kind)
    text = f"{quantity.report_value(value, kind)!r} {'' if kind == 'number' else unit}".strip()
    assert read(text, kind) == pytest.approx(value, rel=1e-12, abs=1e-12)


@given(st.floats(-1e4, 1e4), st.sampled_from(["length", "pressure", "temperature", "force", "torque"]))
def test_what_is_shown_reads_back(value: float, kind: str):
    for units in ("mm", "in"):
        step = abs(quantity.on_sheet(1.0, kind, units=units) - quantity.on_sheet(0.0, kind, units=units))
        shown = show(value, kind, 6, units=units)
        assert read(shown, kind) == pytest.approx(value, abs=1e-4 / step + 1e-6)
        assert not shown.startswith("-0 ")


def test_a_difference_of_temperature_is_no_temperature():
    assert show(10.0, "temperature difference", 0, units="in") == "18 degF"
    assert show(10.0, "temperature", 0, units="in") == "50 degF"


@given(st.text(max_size=30), st.sampled_from(sorted(KINDS)))
def test_any_text_is_a_number_or_a_refusal(text: str, kind: str):
    try:
        value = read(text, kind)
    except InputError as error:
        assert error.faults
    else:
        assert math.isfinite(value)
