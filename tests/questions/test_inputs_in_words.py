"""What was given, in words that read the same whatever notation was typed, and its digest."""

from __future__ import annotations

from typing import Any, NamedTuple

import glands
import pytest
from plain import plain

from fits.features.feature import State
from fits.features.fields import Choice, Measure, Spread
from fits.features.press import Press
from fits.questions.inputs import _plain, _said, digest, inputs_of
from fits.sizes.limits import Limits

METAL: dict[str, Any] = {"youngs_modulus": "200 to 207 GPa", "poisson": 0.29, "yield_strength": "43.5 ksi", "ultimate_strength": "450 MPa",
                         "expansion": "10e-6 to 12e-6 1/K", "density": "7.85 g/cm^3", "family": "steel", "brittle": True}


class Pair(NamedTuple):
    """Two things that go together by name."""

    width: Any
    depth: Any


class One(NamedTuple):
    """One thing."""

    width: Any


def press(**more: Any) -> Press:
    return Press(**{"hole": "20 H7", "shaft": "20 p6", "hub_outside": "40", "length": 50, "hub_material": METAL, "shaft_material": "316", **more})


def test_a_typed_metal_is_all_its_numbers():
    """43.5 ksi x 6.894757 MPa."""
    said = inputs_of(press())["hub_material"]
    before, strength, after = said.partition("yield_strength ")
    assert before == "typed metal (youngs_modulus 200000 to 207000 MPa, poisson 0.29, "
    number, _, rest = after.partition(" MPa, ")
    assert (strength, float(number)) == ("yield_strength ", pytest.approx(43.5 * 6.894757293168361))
    assert rest == "ultimate_strength 450 MPa, expansion 1e-05 to 1.2e-05 1/K, density 7850 kg/m^3, steel, brittle)"
    few = press(hub_material={"youngs_modulus": "207 GPa", "poisson": 0.292, "yield_strength": "300 MPa"})
    assert inputs_of(few)["hub_material"] == "typed metal (youngs_modulus 207000 MPa, poisson 0.292, yield_strength 300 MPa)"
    assert inputs_of(few)["shaft_material"] == "316"


def test_what_was_not_given_is_not_said():
    assert list(inputs_of(press())) == ["hole", "shaft", "hub_outside", "length", "hub_material", "shaft_material"]
    assert inputs_of(press(roughness_hole="0.002 mm"))["roughness_hole"] == "2 um Rz"
    # Said back as it was given: its Rz of 3 um would be read as Ra.
    assert inputs_of(press(roughness_hole="0.8 um Ra"))["roughness_hole"] == "0.8 um Ra"
    assert inputs_of(press(roughness_hole="0.8 to 1.6 um Ra"))["roughness_hole"] == "0.8 to 1.6 um Ra"
    assert inputs_of(press(axial_load=None)) == inputs_of(press())
    assert inputs_of(press(axial_load="1.5 kN"))["axial_load"] == "1500 N"


@pytest.mark.parametrize(("value", "says"), [
    (Limits(1.5, 2.25), "2.25/1.5 mm"), (Limits(1.5, 2.25, text="2 +0.25/-0.5"), "2 +0.25/-0.5"), (True, "true"), (False, "false"), ("oil", "oil"),
    (("oil", "water"), "oil and water"), (Pair(3, 4.5), "width 3, depth 4.5"), (Pair("a", ""), "a and "), (Pair(3, ""), "width 3"), (One(7), "7"), ((3, 4), "1: 3; 2: 4"),
])
def test_values_in_words(value: Any, says: str):
    assert _said(value, Choice("x", options=())) == says


def test_numbers_in_the_units_of_a_report():
    length, plain_number, torque = Measure("x", quantity="length"), Measure("x"), Measure("x", quantity="torque")
    assert _said(Spread(0.01, 0.03), length) == "0.01 to 0.03 mm"
    assert _said(Spread(0.01, 0.01), length) == "0.01 mm"
    assert _said(Spread(0.5, 2.0), plain_number) == "0.5 to 2"
    # N*mm inside, N*m in a report; twelve digits.
    assert _said(Spread(1500.0, 1500.0), torque) == "1.5 N*m"
    assert _said(Spread(1.0 / 3.0, 1.0 / 3.0), plain_number) == "0.333333333333"


def test_a_composite_is_its_text():
    given = glands.gland("face", ring={"inside": "25 ±0.2", "section": "3.5 ±0.1"})
    assert inputs_of(given)["ring"] == "25 ±0.2 x 3.5 ±0.1"
    assert inputs_of(glands.gland("face"))["ring"] == "AS568-232"


def test_plain_data_for_the_digest():
    """Numbers of twelve digits, no sources, sets in order, a table's metal by its name."""
    part = press()
    metal, known = part.hub_material, part.shaft_material
    assert _plain(known) == "316"
    typed = _plain(metal)
    assert typed["name"] == "typed metal"
    assert typed["poisson"] == "0.29"
    assert typed["source"] == ""
    assert typed["typed"] == sorted(metal.typed)
    assert _plain(1.0 / 3.0) == "0.333333333333"
    assert _plain([Spread(0.5, 2.0), 3, None]) == [{"low": "0.5", "high": "2", "text": ""}, 3, None]
    assert _plain(Limits(1.0, 2.0))["lower"] == "1"


def test_the_digest_is_that_of_what_was_given():
    import json
    from hashlib import sha256

    part = plain(State("shop"), gap_at_least="0.02")
    seat = part.features["seat"]
    given = {"part": "test", "info": {}, "states": {"seat": [_plain(State("shop"))]},
             "features": {"seat": {"kind": "plain", **{name: _plain(getattr(seat, name)) for name in type(seat).model_fields}}}}
    assert digest(part) == sha256(json.dumps(given, sort_keys=True).encode()).hexdigest()
