"""What no shop has is refused where it is typed, not judged: each would pass by a number that is a slip."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from glands import exact, part
from pydantic import ValidationError

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Context
from fits.features.running import Running
from fits.features.typed_metal import typed_metal
from fits.files import loader
from fits.files.part import read_part
from fits.questions.check import check
from fits.questions.window import window

IRON = {"youngs_modulus": "101 GPa", "poisson": 0.26, "yield_strength": "200 MPa", "ultimate_strength": "207 MPa"}


@pytest.mark.parametrize(("changes", "says"), [
    ({"yield_strength": "1500 MPa", "ultimate_strength": "150 MPa"}, "above the ultimate strength, 150 MPa"),
    ({"yield_strength": "207.1 MPa"}, "above the ultimate strength, 207 MPa"),
    ({"family": "cast iron"}, "brittle|does it break where others yield"),
])
def test_a_metal_that_cant_be(changes: dict[str, Any], says: str):
    with pytest.raises(InputError, match=says):
        typed_metal("bar", {**IRON, **changes}, Context())


def test_a_metal_that_may_be():
    assert typed_metal("bar", {**IRON, "yield_strength": "207 MPa"}, Context()).ultimate == 207.0
    for brittle in (True, False):
        assert typed_metal("bar", {**IRON, "family": "cast iron", "brittle": brittle}, Context()).brittle is brittle
    # 6061-T6: least yield 35 ksi.
    with pytest.raises(InputError, match=r"241.* above the ultimate strength, 240 MPa"):
        typed_metal("bar", {"based_on": "6061-T6", "ultimate_strength": "240 MPa"}, Context())
    assert typed_metal("bar", {"based_on": "6061-T6", "ultimate_strength": "242 MPa"}, Context()).ultimate == 242.0
    assert typed_metal("bar", {"based_on": "Grey iron class 30", "family": "cast iron"}, Context()).brittle


def test_a_least_clearance_above_the_most():
    keys = {"hole": "12 H7", "shaft": "12 f7", "clearance_at_least": "0.0201", "clearance_at_most": "0.02"}
    with pytest.raises(InputError, match=r"0.0201 mm.*more than the most.*clearance_at_most is 0.02 mm"):
        loader.feature(Running, keys, Context())
    loader.feature(Running, {**keys, "clearance_at_least": "0.02"}, Context())


@pytest.mark.parametrize(("form", "key", "beyond", "inside"), [
    ("face", "bolt_preload", "10.1 MN", "9.9 MN"), ("dovetail", "permeability", "2e-3 cm^2/(s*bar)", "9e-4 cm^2/(s*bar)"),
    ("piston", "finish", "0 um", "0.01 um"),
])
def test_what_no_gland_has(form: str, key: str, beyond: str, inside: str):
    with pytest.raises(ValidationError, match=key):
        part(form, (State("shop"),), **{key: beyond})
    part(form, (State("shop"),), **{key: inside})


def test_a_ring_that_strokes_in_a_state_that_turns_is_not_judged():
    turns = State("turns", speed=1.0)
    found = {one.rule: one for one in check(part("rod", (turns,), duty="reciprocating", elastomer="NBR 70")).features[0].checks}
    assert found["rubber stands rubbing"].verdict == "not covered"
    assert "strokes alone are judged" in found["rubber stands rubbing"].why_not
    still = check(part("rod", (turns._replace(speed=0.0),), duty="reciprocating", elastomer="NBR 70")).features[0]
    assert "strokes alone" not in str(still.checks)
    told = check(part("rod", (turns,))).features[0].assumptions
    assert any("nothing rubs by turning" in text for text in told)


def test_no_window_says_what_is_lacking_beside_the_point_that_holds(tmp_path: Path):
    """At 20 degC no metal matters; beside it its growth isn't known."""
    path = tmp_path / "part.toml"
    path.write_text('[states.shop]\ntemperature = "20 degC"\n[running.rod]\nhole = "12 H7"\nshaft = "12 f7"\nclearance_at_least = "0.01"\n')
    found = window(read_part(str(path)), "shop.temperature")
    assert not found.intervals
    assert "is not covered whatever shop.temperature is" in found.no_window
    assert "not given" in found.no_window
    assert found.no_window.endswith("; it holds at what is typed alone")


@pytest.mark.parametrize(("outside", "out"), [("78.1", True), ("78.3", False)])
def test_an_undercut_that_breaks_out_of_the_part(outside: str, out: bool):
    """72.5 + 3.1 + 2 x 2.9 tan 24 degrees = 78.18 mm at its bottom."""
    of = exact("dovetail", hub_outside=outside, land=None, undercut_angle="24").features["seal"]
    assert any("breaks through the part's outside" in one.must for one in of.faults()) is out
