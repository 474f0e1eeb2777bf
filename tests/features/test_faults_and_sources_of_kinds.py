"""What can't be between the fields of a kind, what it stands on, and which sources it says it used."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from joints import metal

from fits.errors import InputError
from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.compound.layers_field import FACES, Layer, Layers, LayersField, Order, OrderField
from fits.features.compound.rules import RULES
from fits.features.compound.values import VALUES
from fits.features.dowel import Dowel
from fits.features.evidence import evidence, of_metal, resting_on, weak
from fits.features.feature import Feature, State, States, Value, depends_on
from fits.features.fields import Context, Spread
from fits.features.press import Press
from fits.features.running import Running
from fits.materials.metals import Curve
from fits.materials.metals import metal as of_table
from fits.sizes.limits import Limits
from fits.tables import Source

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=260.0, name="hub")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=410.0, name="inner")
REST, WARM, COLD_HUB = State("rest"), State("warm", 20.0, 21.0), State("cold", 19.0, 20.0)
PRESS: dict[str, Any] = {"hole": "30", "shaft": "30.05", "shaft_bore": "17", "hub_outside": "52", "hub_material": HUB, "shaft_material": INNER}
SLICED = {key: value for key, value in PRESS.items() if key != "hub_outside"} | {"slices": [{"length": "15", "outside": "44"}, {"length": "25", "outside": "52"}]}


def faults(kind: type[Feature], **given: Any) -> list[tuple[str, str]]:
    return [(one.key, one.must) for one in kind(**given).faults()]


BORE = "a bore with limits is above 0; a solid part has none"


@pytest.mark.parametrize(("changes", "want"), [
    ({}, []), ({"shaft_bore": "0"}, []), ({"shaft_bore": None}, []), ({"shaft_bore": "0.5/0"}, [("shaft_bore", BORE)]), ({"shaft_bore": "0.5/0.001"}, []),
    ({"bore_after": "17"}, []), ({"bore_after": "17", "shaft_bore": None}, [("bore_after", "the inner part is solid: it has no bore after fitting")]),
    ({"internal_clearance": 0.0}, [("internal_clearance", "no part here is a bearing ring")]), ({"internal_clearance": 0.01, "shaft": "bearing 30"}, []),
    ({"internal_clearance": 0.01, "hole": "bearing 30"}, []),
    ({"coating_hole": 0.01}, [("coating_share", "a coat needs its thickness and its share that builds up")]),
    ({"coating_share": 0.5}, [("coating_hole", "a coat needs its thickness and its share that builds up")]), ({"coating_hole": 0.01, "coating_share": 0.5}, []),
    ({"port": "1/8 NPT"}, [("port_distance", "a port needs its thread and its distance")]), ({"port_distance": "30"}, [("port", "a port needs its thread and its distance")]),
    ({"port": "1/8 NPT", "port_distance": "30"}, []),
    ({"carry_time": 5.0}, [("carry_time", "a time to carry needs heat_to or chill_to")]), ({"carry_time": 5.0, "heat_to": 90.0}, []), ({"carry_time": 5.0, "chill_to": -9.0}, []),
    ({"assembly": "pressed", "heat_to": 90.0}, [("heat_to", "pressed parts go in at room temperature")]),
    ({"assembly": "pressed on oil", "chill_to": -9.0}, [("chill_to", "pressed on oil parts go in at room temperature")]),
    ({"assembly": "pressed", "heat_to": 90.0, "chill_to": -9.0}, [(key, "pressed parts go in at room temperature") for key in ("heat_to", "chill_to")]),
    ({"assembly": "heated", "heat_to": 90.0}, []), ({"assembly": "chilled", "chill_to": -9.0}, []),
    # How a metal grows beyond what is known of it is not covered, and no slip; nor is a bearing that is chilled: that is refused.
    ({"heat_to": 401.0}, []), ({"chill_to": Spread(-101.0, -60.0, "a")}, []), ({"chill_to": -150.0, "shaft": "bearing 30"}, []),
    ({"shaft_bore": None, "shaft": "bush 30"}, [("shaft_bore", "a bush is a hollow part: give its bore")]),
])  # fmt: skip
def test_what_cannot_be_of_a_press_fit(changes: dict[str, Any], want: list[tuple[str, str]]):
    assert faults(Press, **{**PRESS, **changes}) == want


@pytest.mark.parametrize(("length", "want"), [
    ("40", None), ("40.000001", None), ("40.00001", "leave a gap of"), ("39.99999", "overlap by"), ("41.5", "leave a gap of"), ("37", "overlap by"), ("40 ±3", "the slices add up to 40 to 40 mm, length is 37 to 43 mm"),
    ("40 +0.1/0", "the slices add up to"), ("40 0/-0.1", "the slices add up to"),
])  # fmt: skip
def test_slices_are_as_long_as_the_joint(length: str, want: str | None):
    found = faults(Press, **SLICED, length=length)
    if want is None:
        assert found == []
    else:
        ((_, must),) = found
        assert any(one in must for one in want.split("|"))


@pytest.mark.parametrize(("length", "fault"), [("40 ±0.5", False), ("40 ±0.5000005", False), ("40 ±0.50001", True), ("40 ±0.2", False), ("40 +0.2/-0.6", True), ("40 +0.6/-0.2", True)])
def test_slices_vary_at_least_as_much_as_the_joint(length: str, fault: bool):
    loose = {**SLICED, "slices": [{"length": "15 ±0.5", "outside": "44"}, {"length": "25", "outside": "52"}]}
    assert bool(faults(Press, **loose, length=length)) is fault


def test_one_outside_or_slices():
    for given, says in ((SLICED | {"hub_outside": "52"}, "either hub_outside or slices"), ({**PRESS, "hub_outside": None}, "missing: outside of the hub")):
        with pytest.raises(ValueError, match=says):
            Press(**given)


@pytest.mark.parametrize(("given", "bore", "outside"), [(PRESS, True, True), ({**PRESS, "shaft_bore": None}, False, True), ({**PRESS, "shaft_bore": "0"}, False, True), (SLICED, True, False)])
def test_what_another_feature_may_stand_on(given: dict[str, Any], bore: bool, outside: bool):
    press = Press(**given)
    assert (press.has_surface("shaft_bore"), press.has_surface("hub_outside"), press.has_surface("hole")) == (bore, outside, False)
    names = {name for name, _, _ in press.numeric_fields()}
    assert ("hub_outside" in names, "slices.thinnest" in names) == (outside, False)


@pytest.mark.parametrize(("changes", "refused"), [
    ({}, False), ({"shaft": "bearing 30"}, False), ({"shaft": "bearing 30", "assembly": "chilled"}, True), ({"shaft": "bearing 30", "chill_to": -60.0}, True),
    ({"shaft": "bearing 30", "assembly": "heated"}, False), ({"hole": "bearing 30", "assembly": "chilled"}, False), ({"assembly": "chilled", "chill_to": -60.0}, False),
])  # fmt: skip
def test_only_a_chilled_outer_ring_is_refused(changes: dict[str, Any], refused: bool):
    press = Press(**{**PRESS, **changes})
    assert ["chilled bearing"] * refused == [one.name for one in press.refusals if one.applies(press, States.of((REST,)))]


@pytest.mark.parametrize(("changes", "elsewhere"), [
    ({}, [False, False, False]), ({"ends": "stuck"}, [True, False, True]), ({"assembly": "pressed"}, [False] * 3), ({"assembly": "pressed on oil", "ends": "stuck"}, [False] * 3),
    ({"assembly": "heated"}, [True] * 3), ({"assembly": "chilled", "ends": "open"}, [True] * 3),
])  # fmt: skip
def test_where_stuck_parts_gripped_away_from_20_degc(changes: dict[str, Any], elsewhere: list[bool]):
    import numpy as np

    assert list(Press(**{**PRESS, **changes}).grips_elsewhere(np.array([1e-5, 0.0, -1e-5]))) == elsewhere


def test_the_pair_in_words():
    assert Press(**PRESS).pair_text == "inner in hub (assembly and lubrication not given)"
    given = {**PRESS, "hub_material": "6061-T6", "shaft_material": "304", "assembly": "pressed", "lubrication": lubrications()[0]}
    families = of_table("304").family, of_table("6061-T6").family
    assert Press(**given).pair_text == f"{families[0]} in {families[1]} (pressed, {lubrications()[0]})"


def test_friction_is_looked_up_where_both_are_said():
    table = {**PRESS, "hub_material": "6061-T6", "shaft_material": "304"}
    for given in ({}, {"assembly": "pressed"}, {"lubrication": lubrications()[0]}):
        assert Press(**table, **given)._friction() is None
    # A typed metal has no family.
    assert Press(**PRESS, assembly="pressed", lubrication=lubrications()[0])._friction() is None


def lubrications() -> tuple[str, ...]:
    from fits.materials import friction

    return friction.LUBRICATIONS


@pytest.mark.parametrize(("changes", "want"), [
    ({}, []), ({"shaft_bore": "0"}, []), ({"shaft_bore": "1.0/0"}, [("shaft_bore", BORE)]),
    ({"gap_least": 0.1, "gap_most": 0.1}, []), ({"gap_least": 0.1001, "gap_most": 0.1}, [("gap_least", "the least gap of the compound is above its most")]),
    ({"gap_least": Spread(0.05, 0.12, ""), "gap_most": Spread(0.1, 0.2, "")}, [("gap_least", "the least gap of the compound is above its most")]), ({"gap_least": 9.0}, []),
])  # fmt: skip
def test_what_cannot_be_of_a_bond(changes: dict[str, Any], want: list[tuple[str, str]]):
    assert faults(Bonded, **{**PRESS, "shaft": "29.95", **changes}) == want


@pytest.mark.parametrize(("changes", "want"), [
    ({}, []), ({"shaft_bore": "0"}, []), ({"shaft_bore": "3"}, []), ({"shaft_bore": "1.0/0"}, [("shaft_bore", BORE)]), ({"shaft_bore": "1.0/0.001"}, []),
])  # fmt: skip
def test_what_cannot_be_of_a_running_fit(changes: dict[str, Any], want: list[tuple[str, str]]):
    assert faults(Running, hole="30.1", shaft="30", **changes) == want


def test_a_free_hole_belongs_to_its_pin():
    assert faults(Dowel, pin="8", free_hole="8.03") == []
    assert faults(Dowel, pin="8", free_hole="8.5") == [("free_hole", "hole 8.5 mm and shaft 8 mm can't belong together")]
    assert faults(Dowel, pin="8") == []


def layers(*finished: tuple[str, ...], first: float = 17.0, bought: str = "") -> Layers:
    sizes = ((first, 26.05), (26.0, 35.09), (35.0, 58.0))
    rings = [Layer(Limits(i, i, i), Limits(o, o), HUB, cut) for (i, o), cut in zip(sizes, finished or ((), (), ()), strict=True)]
    rings[0] = rings[0]._replace(outside=replace(rings[0].outside, bought=bought))
    return Layers(tuple(rings))


HOLLOW = "is a hollow part: give its bore"


@pytest.mark.parametrize(("given", "want"), [
    ({"layers": layers()}, []), ({"layers": layers(first=0.0)}, []),
    ({"layers": layers(first=0.0, bought="bush")}, [("layers.1.inside", f"a bush {HOLLOW}")]), ({"layers": layers(bought="tube")}, []), ({"layers": layers(first=0.0, bought="dowel")}, []),
    ({"layers": layers(first=0.0), "bore_after": "17"}, [("bore_after", "the first layer is solid: it has no bore after fitting")]), ({"layers": layers(), "bore_after": "17"}, []),
    ({"layers": layers(), "order": Order("x", ((1, 2),))}, [("order", "the stages of 3 layers are 1-2 and 2-3, each once")]),
    ({"layers": layers(), "order": Order("x", ((2, 3), (1, 2)))}, []), ({"layers": layers(), "order": Order("x", ((1, 2), (2, 3), (1, 2)))}, [("order", "the stages of 3 layers are 1-2 and 2-3, each once")]),
    # Joined 1-2 first: the outside of layer 2 and the inside of layer 2 ... only what is in something already is cut as fitted.
    ({"layers": layers((), ("outside",), ())}, []), ({"layers": layers((), ("inside",), ())}, [("layers.2.finished", "layer 2 is still a free part when its inside is joined: leave finished out")]),
    ({"layers": layers(("outside",), (), ())}, [("layers.1.finished", "layer 1 is still a free part when its outside is joined: leave finished out")]),
    ({"layers": layers((), (), ("inside",))}, [("layers.3.finished", "layer 3 is still a free part when its inside is joined: leave finished out")]),
    ({"layers": layers(("inside",), (), ("outside",))}, []), ({"layers": layers(("inside",), (), (), first=0.0)}, [("layers.1.finished", "a solid layer has no inside")]),
    ({"layers": layers((), ("inside",), ()), "order": Order("outside in")}, []), ({"layers": layers((), ("outside",), ()), "order": Order("outside in")},
     [("layers.2.finished", "layer 2 is still a free part when its outside is joined: leave finished out")]),
], ids=range(18))  # fmt: skip
def test_what_cannot_be_of_a_compound(given: dict[str, Any], want: list[tuple[str, str]]):
    assert faults(Compound, **given) == want


def test_a_bore_with_limits_from_0_is_none():
    rings = layers().rings
    open_ = Layers((rings[0]._replace(inside=Limits(0.0, 1.0)), *rings[1:]))
    assert faults(Compound, layers=open_) == [("layers.1.inside", BORE)]


def test_a_compound_speaks_of_four_layers_and_three_interfaces():
    names = [f"{k}.{face}" for k in (1, 2, 3, 4) for face in ("inside", "outside")]
    assert [*LayersField.parts] == names
    wall = {(f"layers.{k}.inside", f"layers.{k}.outside") for k in (1, 2, 3, 4)}
    around = {(f"layers.{k}.{face}", f"layers.{k + 1}.{face}") for k in (1, 2, 3) for face in FACES}
    assert {(one.smaller, one.larger) for one in Compound.relations} == wall | around
    sizes = {f"layers.{name}" for name in names}
    of_metals = [rule.name for rule in RULES if rule.remedies == ("layers",)]
    assert of_metals == ["aged aluminium keeps its temper", "nothing cracks with time"]
    for rule in RULES:
        assert sizes <= set(rule.remedies) or rule.name in of_metals, rule.name
        assert not {one for one in rule.remedies if one.startswith("layers.")} - sizes
    all_of: Value = next(one for one in VALUES if one.name == "contact_pressure")
    want = {*sizes, *(f"layer_{k}_{what}_share" for k in (1, 2, 3, 4) for what in ("modulus", "expansion")), *(f"roughness_share_{k}" for k in (1, 2, 3))}
    assert {one for one in all_of.uses if one.startswith(("layers.", "layer_", "roughness_share"))} == want
    assert {one for one in depends_on(Compound, "effective_interference") if one.startswith(("layers.", "layer_", "roughness_share"))} == want


@pytest.mark.parametrize(("text", "layers_", "want"), [
    ("inside out", 4, (0, 1, 2)), ("outside in", 4, (2, 1, 0)), ("2-3, 1-2", 3, (1, 0)), ("3-4,1-2 , 2-3", 4, (2, 0, 1)),
])  # fmt: skip
def test_the_order_of_joining(text: str, layers_: int, want: tuple[int, ...]):
    order = OrderField("order").parse(text, Context())
    assert order.interfaces(layers_) == want
    assert str(order) == text


@pytest.mark.parametrize("text", ["2-1", "1-3", "1", "1-", "-2", "a-b", "1-2; 2-3", "1-2,", "1.0-2"])
def test_what_is_no_order(text: str):
    with pytest.raises(InputError, match="a stage joins two neighbours"):
        OrderField("order").parse(text, Context())


def test_numbers_of_layers_by_name_and_their_change():
    field, value = LayersField("layers"), layers()
    assert field.number(value, "2.outside").upper == 35.09
    assert field.number(value, "3.inside").upper == 35.0
    assert field.number(value, "4.inside") is None
    assert field.number(None, "1.inside") is None
    changed = field.changed(value, "2.outside", Limits(35.2, 35.2))
    assert [one.outside.upper for one in changed.rings] == [26.05, 35.2, 58.0]
    with pytest.raises(InputError, match="a layer needs a wall"):
        field.changed(value, "2.outside", Limits(26.0, 26.1))


@pytest.mark.parametrize(("rings", "key"), [
    # A wall of nothing is none; layers as large as the one before are not around it.
    ([(17.0, 26.05), (26.0, 26.0)], "2.inside"), ([(17.0, 26.05), (26.0, 26.001)], "2.outside"), ([(17.0, 26.05), (0.0, 40.0)], "2.inside"), ([(17.0, 26.05), (28.0, 40.0)], "2.inside"),
])  # fmt: skip
def test_layers_that_are_not_around_each_other(rings: list[tuple[float, float]], key: str):
    text = "; ".join(f"{inside}, {outside}, 304" for inside, outside in rings)
    with pytest.raises(InputError) as caught:
        LayersField("layers").parse(text, Context())
    assert [one.key for one in caught.value.faults] == [key]


@pytest.mark.parametrize(("text", "must", "hint"), [
    ("17, 26.05, 304; 26, 40, 304; 38, 39.9, 304", "layers go from the inside out: layer 3 (38 to 39.9 mm) isn't around layer 2 (26 to 40 mm)", ""),
    ("17, 26.05, 304; 0, 40, 304", "only the first layer can be solid: layer 2 (0 to 40 mm) is around layer 1 (17 to 26.05 mm)", ""),
    ("17, 26.05, 304; 26, 40, 304; 45, 60, 304", "hole 45 mm and shaft 40 mm can't belong together", "layer 3 (45 to 60 mm) is to hold layer 2 (26 to 40 mm)"),
    ("26.05, 26.05, 304; 27, 40, 304", "a layer needs a wall: inside 26.05 mm, outside 26.05 mm", ""),
])  # fmt: skip
def test_which_layers_are_not_around_each_other_in_words(text: str, must: str, hint: str):
    with pytest.raises(InputError) as caught:
        LayersField("layers").parse(text, Context())
    (fault,) = caught.value.faults
    assert (fault.must, fault.hint) == (must, hint)


@pytest.mark.parametrize(("count", "says"), [(1, "at least two layers, not 1"), (5, "at most 4 layers, not 5")])
def test_how_many_layers(count: int, says: str):
    some = [{"inside": str(10 + 5 * k), "outside": f"{15 + 5 * k}.02", "material": "304"} for k in range(count)]
    with pytest.raises(InputError, match=says):
        LayersField("layers").parse(some, Context())
    assert len(LayersField("layers").parse([{"inside": str(10 + 5 * k), "outside": f"{15 + 5 * k}.02", "material": "304"} for k in range(4)], Context()).rings) == 4


# Sources

def texts(feature: Feature, *states: State) -> list[str]:
    return [one.text for one in feature.used_sources(States.of(states or (REST,)))]


def test_curves_are_sources_of_a_part_that_is_warm():
    """Away from 20 degC, whichever part it is."""
    table = {**PRESS, "hub_material": "6061-T6", "shaft_material": "304"}
    for one in (Press(**table), Bonded(**{**table, "shaft": "29.95"}), Running(hole="30.1", shaft="30", hub_material="6061-T6", shaft_material="304")):
        rest, warm, cold = texts(one), texts(one, WARM), texts(one, COLD_HUB)
        assert not [text for text in rest if "expansion" in text]
        assert [text for text in warm if text.startswith("cold expansion of 6061-T6")]
        assert [text for text in cold if text.startswith("cold expansion of 304")]
        assert len(warm) == len(set(warm))
    of = Dowel(pin="8 m6", tight_hole="7.99", free_hole="8.02", pin_material="304", tight_material="6061-T6")
    assert not [text for text in texts(of) if "304" in text]
    assert [text.startswith("ISO 286") for text in texts(of)] == [True, True]
    for given in ({"pin": "8.01/8", "tight_hole": "8 H7"}, {"pin": "8.01/8", "free_hole": "8 F8"}):
        assert any(text.startswith("ISO 286") for text in texts(Dowel(**given)))
    assert not any(text.startswith("ISO 286") for text in texts(Dowel(pin="8.01/8", tight_hole="8.001")))
    assert [text for text in texts(of, WARM) if text.startswith("cold expansion of 304")]


def test_metals_and_classes_of_layers_are_sources():
    rings = (Layer(Limits(17.0, 17.0), Limits(26.05, 26.05), of_table("304")), Layer(Limits(26.0, 26.0), Limits(40.0, 40.0), of_table("6061-T6")))
    of = Compound(layers=Layers(rings))
    assert [text.partition(":")[0] for text in texts(of)] == ["304", "6061-T6"]
    warm = [text.partition(":")[0] for text in texts(of, WARM)]
    assert {"cold expansion of 304", "cold expansion of 6061-T6"} <= set(warm)
    assert len(warm) == len(set(warm))
    classed = LayersField("layers").parse("17, 26 s6, 304; 26 H7, 40, 6061-T6", Context())
    assert {text.partition(":")[0] for text in texts(Compound(layers=classed))} == {"304", "6061-T6", "ISO 286 tolerance grade", "ISO 286 fundamental deviation"}
    holes = LayersField("layers").parse("17, 26.05, 304; 26 H7, 40, 6061-T6", Context())
    assert "ISO 286 tolerance grade" in {text.partition(":")[0] for text in texts(Compound(layers=holes))}
    assert {name for name, _ in of.looked_up(States.of((REST,)))} == {"modulus", "yield", "ultimate", "density", "service"}


def test_classes_frictions_surroundings_and_heats_are_sources_where_they_are_used():
    given = {**PRESS, "hole": "30 H7", "hub_material": "6061-T6", "shaft_material": "316"}
    assert any("ISO 286" in text for text in texts(Press(**given)))
    assert not any("anodic" in text or "galvanic" in text for text in texts(Press(**given)))
    wet = texts(Press(**given, surroundings="indoor"))
    assert {text.partition(":")[0] for text in wet} >= {"anodic index of 6061-T6", "anodic index of 316"}
    assert any(text.startswith("galvanic limit") for text in wet)
    for key, value in (("heat_to", 90.0), ("chill_to", -60.0)):
        assert {text.partition(":")[0] for text in texts(Press(**given, **{key: value}))} >= {f"specific heat and conductivity of {name}" for name in ("6061-T6", "316")}
    assert not any("specific heat" in text for text in texts(Press(**given)))
    rubbed = {**given, "assembly": "pressed", "lubrication": lubrications()[0]}
    table = Press(**rubbed)._friction()
    if table is not None:
        named = [one.text for one in table.sources]
        assert set(named) <= set(texts(Press(**rubbed)))
        assert set(named) <= set(texts(Press(**rubbed, friction_hold=0.1)))
        assert set(named) <= set(texts(Press(**rubbed, friction_press=0.1)))
        assert not set(named) & set(texts(Press(**rubbed, friction_hold=0.1, friction_press=0.1)))
        looked = [name for name, _ in Press(**rubbed, friction_hold=0.1).looked_up(States.of((REST,)))]
        assert set(looked) == {"friction_press"}
        assert {name for name, _ in Press(**rubbed).looked_up(States.of((REST,)))} == {"friction_hold", "friction_press"}
    assert {name for name, _ in Press(**given, surroundings="indoor").looked_up(States.of((REST,)))} == {"galvanic_difference", "galvanic_allowed"}
    assert list(Press(**given).looked_up(States.of((REST,)))) == []


def test_reports_of_bonds_are_sources_where_the_sheet_is_missing():
    given = {**PRESS, "shaft": "29.95"}
    reported = {"least gap of retaining compounds", "best gap of retaining compounds", "heat limit of retaining compounds"}
    assert {text.partition(":")[0] for text in texts(Bonded(**given))} == reported
    assert {text.partition(":")[0] for text in texts(Bonded(**given, gap_least=0.02, gap_most=0.1))} == {"heat limit of retaining compounds"}
    assert texts(Bonded(**given, gap_least=0.02, gap_most=0.1, bond_heat=150.0)) == []


# Evidence

MEMORY, SEEN, DOUBT = Source("m", "memory"), Source("s", "seen"), Source("d", "seen", "speaks against")
CURVED = replace(
    HUB, typed=frozenset(), source=Source("row", "seen", "", "metals/metals"), memory=frozenset({"poisson", "yield"}),
    yield_curve=Curve((20.0, 100.0), (1.0, 0.9), 20.0, MEMORY), expansion_curve=Curve((20.0, 100.0), (22.0, 23.0), 20.0, DOUBT),
    cold=Curve((-100.0, 0.0), (-2000.0, -400.0), 20.0, SEEN),
)  # fmt: skip


def test_what_is_weak():
    assert [weak(one) for one in (MEMORY, SEEN, DOUBT, Source("p", "practice"))] == [True, False, True, False]


def test_the_evidence_of_a_metal_by_what_it_gives():
    rest = list(of_metal("hub_", CURVED, States.of((REST,))))
    assert [name for name, _ in rest] == ["hub_modulus", "hub_yield", "hub_ultimate", "hub_density", "hub_service"]
    assert {name: one.text for name, one in rest if one.evidence == "memory"} == {"hub_modulus": "modulus of hub", "hub_yield": "yield of hub"}
    warm = list(of_metal("hub_", CURVED, States.of((WARM,))))
    assert {(name, one.text) for name, one in warm} == {
        ("hub_modulus", "modulus of hub"), ("hub_strain", "row"), ("hub_strain", "d"), ("hub_strain", "s"), ("hub_yield", "yield of hub"), ("hub_yield", "m"),
        ("hub_ultimate", "row"), ("hub_density", "row"), ("hub_service", "row"),
    }  # fmt: skip
    typed = list(of_metal("", replace(CURVED, typed=frozenset({"yield_strength", "youngs_modulus"})), States.of((WARM,))))
    assert not {"yield", "modulus"} & {name for name, _ in typed}
    every = list(of_metal("", replace(CURVED, memory=frozenset({"all"})), States.of((REST,))))
    assert {one.evidence for _, one in every} == {"memory"}
    # A metal of no table has no source to speak of.
    assert list(of_metal("", HUB, States.of((REST,)))) == []


def test_a_rule_rests_on_the_weak_sources_it_depends_on():
    press = Press(**{**PRESS, "hub_material": CURVED})
    rules = {rule.name: rule for rule in press.rules}
    rest = {one.text for one in resting_on(press, rules["hub stays elastic"], States.of((REST,)))}
    assert {"modulus of hub", "yield of hub"} <= rest
    assert "d" not in rest
    assert "d" in {one.text for one in resting_on(press, rules["interference is kept"], States.of((WARM,)))}
    assert "yield of hub" not in {one.text for one in resting_on(press, rules["interference is kept"], States.of((WARM,)))}
    assert {one.evidence for name, one in evidence(press, States.of((REST,))) if name == "hole"} == {"typed"}
    classed = Press(**{**PRESS, "hole": "30 H7"})
    assert {one.evidence for name, one in evidence(classed, States.of((REST,))) if name == "hole"} == {"seen"}


def test_a_metal_of_the_table_is_the_one_that_is_named():
    assert of_table("6061-T6").source.table == "metals/metals"
