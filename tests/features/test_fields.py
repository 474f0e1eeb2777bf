"""Field types: what they take and refuse, in a file and from Python."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from fits.errors import InputError
from fits.features.fields import (
    Choice,
    Context,
    Flag,
    Length,
    Measure,
    MetalField,
    Size,
    SurfaceRef,
    levels,
)
from fits.features.press import Press
from fits.features.running import Running
from fits.features.typed_metal import typed_metal

FILE = Context()
LIBRARY = Context(bare_numbers=True)


def test_a_size_from_text_pair_and_number():
    size = Size("a hole", side="hole")
    assert size.parse("25 H7", FILE).upper == 25.021
    assert size.parse(25.0, FILE).lower == 25.0
    assert size.parse((1.0, "in"), LIBRARY).lower == 25.4
    with pytest.raises(InputError, match="text is due"):
        size.parse([1, 2, 3], FILE)
    with pytest.raises(InputError, match="can't stand on another feature's surface"):
        size.parse("liner.shaft_bore", FILE)


def test_a_size_on_a_surface():
    size = Size("a hole", side="hole", on_surface=True)
    context = Context(surfaces={"liner": {"shaft_bore": "hole", "hub_outside": "shaft"}})
    assert size.parse("liner.shaft_bore", context) == SurfaceRef("liner", "shaft_bore")
    for text, says in (("linr.shaft_bore", 'did you mean "liner"'), ("liner.bore", "it has: shaft_bore"), ("liner.hub_outside", "is a shaft, a hole is due")):
        with pytest.raises(InputError, match=says):
            size.parse(text, context)


def test_shared_sizes():
    shared = Context(sizes={"main": Size("x").parse("25 H7", FILE)})
    assert Size("a hole", side="hole").parse("main", shared).name == "main"
    with pytest.raises(InputError, match="the shared size is a hole, a shaft is due"):
        Size("a shaft", side="shaft").parse("main", shared)
    with pytest.raises(InputError, match="no shared size of this name"):
        Size("a hole", side="hole").parse("mian", shared)


@pytest.mark.parametrize(("text", "low", "high"), [("800 N", 800.0, 800.0), ("1 kN to 2 kN", 1000.0, 2000.0), ("1 to 2 kN", 1000.0, 2000.0)])
def test_a_measure_or_a_range(text: str, low: float, high: float):
    found = Measure("a force", quantity="force").parse(text, FILE)
    assert (found.low, found.high) == (low, high)


@pytest.mark.parametrize(("value", "says"), [
    (800, "a force needs a unit"), ("800", "a force needs a unit"), ("-1 N", "must be at least 0 N"),
    ("2 N to 1 N", "swapped"), ("8 MPa", "a force is due"), (True, "text is due"), (None, "text is due"),
])
def test_a_measure_refuses(value, says: str):
    with pytest.raises(InputError, match=says):
        Measure("a force", quantity="force", least=0.0).parse(value, FILE)


def test_bare_numbers_are_for_python():
    assert Measure("a force", quantity="force").parse(800, LIBRARY).low == 800.0
    assert Length("a length").parse(40, Context(units="in")).lower == 1016.0
    assert Measure("a gap", quantity="length").parse(1, Context(units="in")).low == 25.4
    with pytest.raises(InputError, match="finite"):
        Measure("a force", quantity="force").parse(float("nan"), LIBRARY)


def test_metals_by_name_by_file_and_typed():
    own = typed_metal("bar", {"based_on": "6061-T6", "yield_strength": "250 MPa"}, FILE)
    assert own.yield_minimum == 250.0
    assert own.youngs_modulus == (68900.0, 68900.0)
    field = MetalField("a metal")
    assert field.parse("bar", Context(metals={"bar": own})) is own
    assert field.parse("316L", FILE).yield_minimum == 170.0
    with pytest.raises(InputError, match='did you mean "6061-T6"'):
        field.parse("6061", FILE)
    with pytest.raises(InputError, match="name of a metal is due"):
        field.parse(7, FILE)
    typed = field.parse({"youngs_modulus": "207 GPa", "poisson": 0.292}, FILE)
    assert typed.yield_minimum is None


@pytest.mark.parametrize(("keys", "says"), [
    ({"poisson": 0.3}, "youngs_modulus: missing"), ({"youngs_modulus": "207 GPa"}, "poisson: missing"),
    ({"youngs_modulus": "207", "poisson": 0.3}, "needs a unit"), ({"youngs_modulus": "207 GPa", "poisson": 0.6}, "at most 0.5"),
    ({"youngs_modulus": "207 GPa", "poisson": 0.3, "yeild_strength": "1 MPa"}, 'did you mean "yield_strength"'),
    ({"youngs_modulus": "207 GPa", "poisson": 0.3, "expansion": "12 1/K"}, "must be at least -100 1e-6/K and at most 1000 1e-6/K"),
    ({"youngs_modulus": "207 MPa", "poisson": 0.3}, "youngs_modulus: .* at least 300 MPa"), ({"youngs_modulus": "207 GPa", "poisson": 0.3, "yield_strength": "350 GPa"}, "yield_strength: .* at most 6000 MPa"),
    ({"youngs_modulus": "207 GPa", "poisson": 0.3, "ultimate_strength": "350 GPa"}, "ultimate_strength: .* at most"), ({"youngs_modulus": "207 GPa", "poisson": 0.3, "density": "7.85 kg/m^3"}, "density: .* at least 100"),
])
def test_a_typed_metal_refuses(keys, says: str):
    with pytest.raises(InputError, match=says):
        typed_metal("bar", keys, FILE)


def test_a_typed_range_of_expansion_scatters():
    bar = typed_metal("bar", {"youngs_modulus": "1 GPa", "poisson": 0.3, "expansion": "11e-6 to 12e-6 1/K"}, FILE)
    assert bar.scatters


def test_choices_and_flags():
    assert Choice("x", options=("open", "liner")).parse("open", FILE) == "open"
    with pytest.raises(InputError, match='must be one of open, liner; did you mean "open"'):
        Choice("x", options=("open", "liner")).parse("opne", FILE)
    assert Flag("x").parse("true", FILE) is True
    with pytest.raises(InputError, match="true or false"):
        Flag("x").parse("yes", FILE)


def test_levels():
    assert levels(Size("x").parse("25.1/25.0", FILE)) == (25.0, 25.1)
    assert levels(Size("x").parse("25.0", FILE)) == (25.0,)
    assert levels("text") == ()


def test_a_declaration_refuses_all_at_once():
    with pytest.raises(ValidationError) as error:
        Press(hole="16 h7", shaft="16 H7", hub_outside="x", hub_material="6061", shaft_material="316", lenght=4)
    assert len(error.value.errors()) == 5


def test_a_running_fit_may_stand_on_surfaces_from_python():
    found = Running(hole=SurfaceRef("liner", "shaft_bore"), shaft="12 f7")
    assert found.standing_on() == {"hole": SurfaceRef("liner", "shaft_bore")}
