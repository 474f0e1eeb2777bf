"""Fields at their edges: numbers and pairs of the library, flags, roughness, typed rings, rubbers and metals."""

from __future__ import annotations

from typing import Any

import pytest

from fits.errors import InputError
from fits.features.elastomer_field import ElastomerField
from fits.features.fields import (
    Choice,
    Context,
    Flag,
    Length,
    Measure,
    MetalField,
    Size,
    Spread,
    levels,
    shared_key,
)
from fits.features.ring_field import RingField
from fits.features.roughness_field import Roughness
from fits.features.typed_metal import typed_metal
from fits.sizes.limits import Limits

FILE, LIBRARY = Context(), Context(bare_numbers=True)


@pytest.mark.parametrize(("zero", "text", "ok"), [(True, "0", True), (True, "0.0", True), (True, "0 mm", True), (True, "0 in", True), (False, "0", False), (True, "0.00", False)])
def test_a_bore_of_0_where_it_may_be_none(zero: bool, text: str, ok: bool):
    field = Size("bore", side="hole", zero=zero)
    if ok:
        found = field.parse(text, FILE)
        assert (found.lower, found.upper, found.basic, found.side) == (0.0, 0.0, 0.0, "hole")
    else:
        with pytest.raises(InputError, match="above 0"):
            field.parse(text, FILE)


def test_numbers_and_pairs_of_the_library():
    assert Measure("load", quantity="force").parse((3, "kN"), FILE).low == 3000.0
    assert Measure("load", quantity="force").parse([3, "kN"], FILE).low == 3000.0
    for bad in ((3,), (3, 4), (3, "kN", 1), None, True):
        with pytest.raises(InputError, match="text is due"):
            Measure("load", quantity="force").parse(bad, FILE)
    assert Measure("gap", quantity="length").parse(2, Context(units="in", bare_numbers=True)).low == 2.0
    assert Measure("share").parse(0.5, FILE).low == 0.5
    with pytest.raises(InputError, match="a force needs a unit"):
        Measure("load", quantity="force").parse(3.0, FILE)
    assert Measure("load", quantity="force").parse("2 to 3 kN", FILE)[:2] == (2000.0, 3000.0)
    assert Measure("load", quantity="force").parse("2 N to 3 kN", FILE)[:2] == (2.0, 3000.0)


@pytest.mark.parametrize(("value", "want"), [
    (Limits(1.0, 2.0), (1.0, 2.0)), (Limits(1.0, 1.0), (1.0,)), (Spread(1.0, 2.0), (1.0, 2.0)), (Spread(2.0, 2.0), (2.0,)), ("x", ()), (None, ()),
])  # fmt: skip
def test_levels_of_a_value(value: Any, want: tuple[float, ...]):
    assert levels(value) == want


def test_keys_of_shared_sizes():
    assert [shared_key(one) for one in (Limits(1.0, 2.0, name="bore"), Limits(1.0, 2.0), Spread(1.0, 2.0))] == ["sizes.bore", "", ""]


@pytest.mark.parametrize(("value", "want"), [(True, True), (False, False), ("true", True), ("false", False), ("yes", None), (1, None), ("True", None)])
def test_a_flag(value: Any, want: bool | None):
    if want is None:
        with pytest.raises(InputError, match="must be true or false"):
            Flag("f").parse(value, FILE)
    else:
        assert Flag("f").parse(value, FILE) is want


def test_what_the_help_shows():
    assert [one.shown() for one in (Size("s"), Length("l"), Measure("m", quantity="temperature difference"), MetalField("m"), Choice("c", options=("a", "b")), Flag("f"), Roughness("r"))] == [
        "SIZE", "LENGTH", "TEMPERATURE_DIFFERENCE", "METAL", "a|b", "true|false", "ROUGHNESS"]  # fmt: skip


def test_a_shared_size_has_the_side_of_its_field():
    context = Context(sizes={"bore": Limits(25.0, 25.021, 25.0, "hole"), "free": Limits(25.0, 25.1)})
    assert Size("h", side="hole").parse("free", context).side == "hole"
    assert Size("any").parse("bore", context).side == "hole"
    with pytest.raises(InputError, match="is a hole, a shaft is due"):
        Size("s", side="shaft").parse("bore", context)


@pytest.mark.parametrize(("text", "low", "high"), [
    ("0.8 um Ra", 3.0, 3.0), ("0.8 to 1.6 um Ra", 3.0, 6.0), ("3 um Rz", 3.0, 3.0), ("3 um", 3.0, 3.0), ("32 uin Ra", 32 * 0.0254 * 3.75, 32 * 0.0254 * 3.75), (" 0.8 um  Ra ", 3.0, 3.0),
])  # fmt: skip
def test_a_roughness_as_rz(text: str, low: float, high: float):
    """0.8 Rz is 3 Ra at Rz = 3.75 Ra."""
    found = Roughness("r").parse(text, FILE)
    assert found[:2] == pytest.approx((low, high))
    assert found.text == text.strip()
    assert Roughness("r").parse(2.5, LIBRARY)[:2] == (2.5, 2.5)


@pytest.mark.parametrize(("keys", "says"), [
    ({"inside": "25 ±0.2"}, "section: missing"), ({"inside": "25", "section": "3.5 ±0.1"}, "inside: .*a nominal is none"), ({"inside": "?", "section": "3.5 ±0.1"}, "can't be left open"),
    ({"inside": "25 ±0.2", "section": "3.5 ±0.1", "sektion": "1"}, 'did you mean "section"'),
])  # fmt: skip
def test_a_typed_ring_refuses(keys: dict[str, str], says: str):
    with pytest.raises(InputError, match=says):
        RingField("ring").parse(keys, FILE)
    found = RingField("ring").parse({"inside": "25 ±0.2", "section": "3.5 ±0.1"}, FILE)
    assert (found.inside.lower, found.section.upper) == pytest.approx((24.8, 3.6))


@pytest.mark.parametrize(("keys", "says"), [
    ({"based_on": "NBR 70", "lowest": "-40 degC to -30 degC"}, "lowest: .*one temperature is due"), ({"based_on": "NBR 70", "highest": "90 degC to 91 degC"}, "highest: .*one temperature"),
    ({"based_on": "NBR 70", "tr10": "?"}, "tr10: .*can't be left open"), ({"based_on": "?"}, "based_on: .*can't be left open"), ({}, "based_on: missing"),
])  # fmt: skip
def test_a_typed_rubber_refuses(keys: dict[str, str], says: str):
    with pytest.raises(InputError, match=says):
        ElastomerField("rubber").parse(keys, FILE)


def test_a_typed_rubber_keeps_what_was_not_typed():
    base = ElastomerField("rubber").parse("NBR 70", FILE)
    found = ElastomerField("rubber").parse({"based_on": "NBR 70", "tr10": "-41 degC to -38 degC", "highest": "111 degC"}, FILE)
    assert (found.tr10.low, found.tr10.high, found.highest.low) == (-41.0, -38.0, 111.0)
    assert found.lowest == base.lowest
    assert found.typed == ("highest", "tr10")


TYPED = {"youngs_modulus": "70 GPa to 72 GPa", "poisson": 0.31, "yield_strength": "210 MPa to 250 MPa", "ultimate_strength": "300 MPa to 330 MPa",
         "expansion": "21e-6 to 24e-6 1/K", "density": "2710 kg/m^3"}  # fmt: skip


def test_a_typed_metal_takes_the_least_strength_and_both_ends_of_the_rest():
    found = typed_metal("bar", {**TYPED, "brittle": "true", "family": "bronze"}, FILE)
    assert (found.name, found.youngs_modulus, found.poisson, found.expansion) == ("bar", (70000.0, 72000.0), 0.31, (21e-6, 24e-6))
    assert (found.yield_minimum, found.ultimate, found.density, found.brittle, found.family) == (210.0, 300.0, 2710.0, True, "bronze")
    assert found.typed == {*TYPED, "brittle", "family"}
    assert (found.source.text, found.source.evidence) == ("bar: typed in the part", "typed")
    assert (found.yield_typical, found.max_service, found.heating_limit) == (None, None, None)
    base = MetalField("m").parse("6061-T6", FILE)
    changed = typed_metal("bar", {"based_on": "6061-T6", "density": "2600 kg/m^3"}, FILE)
    assert (changed.density, changed.typed, changed.brittle, changed.family) == (2600.0, {"density"}, base.brittle, base.family)
    assert (changed.source, changed.yield_minimum, changed.expansion) == (base.source, base.yield_minimum, base.expansion)


@pytest.mark.parametrize(("keys", "says"), [
    ({**TYPED, "poisson": "0.3 to 0.31"}, "poisson: .*one number is due, not a range"), ({**TYPED, "density": "2700 to 2710 kg/m^3"}, "density: .*one number"),
    ({**TYPED, "expansion": "?"}, "expansion: .*can't be left open"), ({**TYPED, "poisson": "0.3 to 0.3"}, ""), ({"density": "2700 kg/m^3"}, "youngs_modulus: missing"),
])  # fmt: skip
def test_what_a_typed_metal_needs(keys: dict[str, Any], says: str):
    if not says:
        assert typed_metal("bar", keys, FILE).poisson == 0.3
        return
    with pytest.raises(InputError, match=says):
        typed_metal("bar", keys, FILE)


def test_a_bound_is_said_in_the_unit_of_the_sheet():
    for quantity, least, says in (("torque", 2500.0, "must be at least 2.5 N*m"), ("speed", 10.471975512, "must be at least 100 rpm"), ("length", 2.5, "must be at least 2.5 mm")):
        with pytest.raises(InputError) as caught:
            Measure("x", quantity=quantity, least=least).parse(0.0, LIBRARY)
        assert caught.value.faults[0].must == says


def test_an_unknown_key_names_the_keys_there_are():
    with pytest.raises(InputError) as caught:
        typed_metal("bar", {"based_on": "6061-T6", "qqqq": 1}, FILE)
    assert caught.value.faults[0].hint == "keys: based_on, youngs_modulus, poisson, yield_strength, ultimate_strength, expansion, density, brittle, family, alloy"


@pytest.mark.parametrize(("at", "search"), [((0.5,), (5e-4, 5e2)), ((2.0, 4.0), (3e-3, 3e3)), ((0.0,), (0.0, 0.0)), ((-1.0,), (0.0, 0.0)), ((-0.5,), (0.0, 0.0)), ((-2.0, 2.0), (0.0, 0.0))])
def test_where_a_number_is_looked_for(at: tuple[float, ...], search: tuple[float, float]):
    assert Measure("a number").search(at) == pytest.approx(search, rel=1e-12)
