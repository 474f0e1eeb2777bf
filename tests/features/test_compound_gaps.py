"""What a compound lacks: at which layer or interface, and in which states; what its fields refuse."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from joints import metal

from fits.errors import InputError
from fits.features.compound import Compound
from fits.features.compound.layers_field import Layer, Layers, LayersField
from fits.features.compound.rules import assumptions
from fits.features.feature import State, States
from fits.features.fields import Context
from fits.features.part import Part
from fits.features.press.slices import SlicesField
from fits.materials.metals import Curve, Metal
from fits.questions.evaluate import evaluate
from fits.sizes.limits import Limits
from fits.tables import Source

ONE = metal(200000.0, 0.3, expansion=12e-6, density=7800.0, least=900.0, name="one")
SIZES = ((17.0, 26.03), (26.0, 35.03), (35.0, 46.02), (46.0, 66.0))
COLUMNS = (State("0", 0.0, 0.0), State("-0.5", -0.5, -0.5), State("100", 100.0, 100.0), State("100.5", 100.5, 100.5), State("turns", speed=0.5), State("wet", pressure=0.5))


def compound(*metals: Metal, states: tuple[State, ...] = COLUMNS, first: float = 17.0, **more: Any) -> Part:
    sizes = ((first, 26.03), *SIZES[1:])
    rings = tuple(Layer(Limits(i, i), Limits(o, o), of) for (i, o), of in zip(sizes, metals, strict=False))
    given = {"length": 40.0, "friction_hold": 0.1, "roughness_hole": 0.0, "roughness_shaft": 0.0, "ends": "open", **more}
    return Part("test", {"joint": Compound(layers=Layers(rings), **given)}, states)


def places(part: Part, about: str, says: str = "") -> dict[int, str]:
    """By place (layer or interface from 0): in which columns something is lacking, as 0 and 1."""
    found = {}
    count = len(part.columns("joint").names)
    for place in range(4):
        one = np.array([[[float(place)]]])
        gaps = evaluate(part, "joint", given={"compound.place": one, "part.pressure": one**0, "part.speed": one**0}).gaps
        masks = [np.broadcast_to(gap.mask, np.broadcast_shapes(gap.mask.shape, (1, count))).reshape(-1, count).any(axis=0) for gap in gaps if gap.about == about and says in gap.reason]
        found[place] = "".join(str(int(one)) for one in np.any(masks, axis=0)) if masks else ""
    return found


NONE = ""


@pytest.mark.parametrize("layer", [0, 1, 2])
def test_a_yield_that_is_not_known_is_that_of_its_layer(layer: int):
    metals = [ONE, ONE, ONE]
    metals[layer] = replace(ONE, name="soft", yield_minimum=None, yield_typical=300.0)
    found = places(compound(*metals), "yield", f"layer {layer + 1}: soft: only a typical yield")
    # The last layer answers for any place beyond.
    assert found == {place: "1111111" if place == layer or (layer == 2 and place == 3) else NONE for place in range(4)}


@pytest.mark.parametrize("layer", [0, 1, 2])
def test_a_service_limit_is_of_the_whole(layer: int):
    metals = [ONE, ONE, ONE]
    metals[layer] = replace(ONE, max_service=100.0)
    assert places(compound(*metals), "service") == dict.fromkeys(range(4), "0001000")


CAST = replace(ONE, name="cast", brittle=True, ultimate=240.0, yield_minimum=None)


@pytest.mark.parametrize(("changes", "columns", "reason"), [
    ({}, "0101000", "layer 2: cast: no ultimate strength there"), ({"max_service": 60.0}, "0111000", "layer 2: cast: no ultimate strength there"), ({"max_service": 100.2}, "0101000", "there"),
    ({"typed": frozenset({*ONE.typed, "ultimate_strength"})}, "0000000", ""), ({"ultimate": None}, "1111111", "layer 2: cast: no ultimate strength"),
    ({"ultimate": None, "typed": frozenset({*ONE.typed, "ultimate_strength"})}, "1111111", "layer 2: cast: no ultimate strength"),
])  # fmt: skip
def test_a_brittle_layer_is_known_near_room_temperature(changes: dict[str, Any], columns: str, reason: str):
    part = compound(ONE, replace(CAST, **changes), ONE)
    here = places(part, "ultimate", reason)
    assert here[1] == ("" if columns == "0000000" else columns)
    assert (here[0], here[2]) == (NONE, NONE)
    # It is held against no yield.
    assert places(part, "yield") == dict.fromkeys(range(4), NONE)


def test_density_matters_where_it_turns():
    for layer in range(3):
        metals = [ONE, ONE, ONE]
        metals[layer] = replace(ONE, density=None, name="light")
        assert places(compound(*metals), "density", f"layer {layer + 1}: light: no density") == dict.fromkeys(range(4), "0000100")


APART = (State("a", 60.0, 40.0), State("b", 40.0, 60.0), State("c", 50.0, 50.0))


def test_a_layer_between_two_temperatures_has_none_of_its_own():
    part = compound(ONE, ONE, ONE, ONE, states=APART)
    for layer in (2, 3):
        assert places(part, "strain", f"layer {layer}: its temperature")[0] == "1100"
    for layer in (1, 4):
        assert places(part, "strain", f"layer {layer}: its temperature")[0] == NONE
    assert places(compound(ONE, ONE, states=APART), "strain")[0] == NONE


def test_which_temperature_a_layer_is_judged_at():
    """The first has the shaft's, the last the hub's, one between the hotter: by a service limit of 50 degC."""
    limited = replace(ONE, max_service=50.0)
    for layer, columns in ((0, "0100"), (1, "1100"), (2, "1000")):
        metals = [ONE, ONE, ONE]
        metals[layer] = limited
        assert places(compound(*metals, states=APART), "service")[0] == columns


@pytest.mark.parametrize(("ends", "first", "columns", "says"), [
    ("open", 17.0, "", ""), (None, 17.0, "0000010", "ends not given"), ("liner", 17.0, "0000010", "ends liner"), ("body", 17.0, "0000010", "ends body"),
    ("stuck", 17.0, "1111111", "ends stuck"), ("open", 0.0, "0000010", "a solid first layer has no bore"), ("body", 0.0, "0000010", "a solid first layer"),
])  # fmt: skip
def test_only_open_ends_are_computed(ends: str | None, first: float, columns: str, says: str):
    part = compound(ONE, ONE, ends=ends, first=first)
    assert places(part, "ends", says)[0] == columns
    one = np.array([[[1.0]]])
    contact = np.ravel(evaluate(part, "joint", given={"part.pressure": one, "part.speed": one, "compound.place": 0.0 * one}).numbers["contact_pressure"])
    # Ends that take the thrust make a number of open ends wrong; ends that weren't given may be open.
    unknown = columns if ends in ("liner", "body", "stuck") and first else "0000000"
    assert "".join(str(int(one)) for one in np.isnan(contact)) == unknown


@pytest.mark.parametrize(("lacks", "about"), [("length", "length"), ("friction_hold", "friction_hold"), ("roughness_hole", "roughness_loss"), ("roughness_shaft", "roughness_loss")])
def test_what_was_not_given_lacks_everywhere(lacks: str, about: str):
    assert places(compound(ONE, ONE, **{lacks: None}), about)[0] == "1111111"
    assert places(compound(ONE, ONE), about)[0] == NONE


def test_a_layer_that_yields_in_one_state_spoils_the_contact_in_all():
    """Hollow, 26 x 17: under 40 MPa the liner's bore yields; a factor on yield is for the rules only."""
    states = (State("off"), State("high", pressure=40.0))
    for least, yields in ((60.0, True), (900.0, False)):
        for safety in (1.0, 1.5):
            soft = replace(ONE, yield_minimum=least)
            part = compound(soft, ONE, states=states, safety_yield=safety)
            assert places(part, "contact_with_fluid")[0] == ("111" if yields else NONE)
    # Just beside the yield, with a factor of 1.5: by what the sheet itself gives as stress.
    part = compound(ONE, ONE, states=states)
    one = np.array([[[1.0]]])
    stress = float(np.max([np.max(evaluate(part, "joint", given={"part.pressure": one, "compound.place": place * one}).numbers["stress"]) for place in (0.0, 1.0)]))
    for share, yields in ((1.001, False), (0.999, True)):
        edge = replace(ONE, yield_minimum=stress * share)
        assert bool(places(compound(edge, edge, states=states, safety_yield=1.5), "contact_with_fluid")[0]) is yields


def test_which_stage_is_not_opened_by_heat():
    """A metal followed to 90 degC only: at its own interface, and with the end beyond which it would lie."""
    short = replace(ONE, typed=frozenset({"youngs_modulus", "poisson", "yield_strength"}), expansion_range=(-40.0, 60.0))
    for layer, about, interface in ((1, "heat_outer_to", 0), (2, "heat_outer_to", 1), (0, "chill_inner_to", 0), (1, "chill_inner_to", 1)):
        metals = [ONE, ONE, ONE]
        metals[layer] = short
        part = compound(*metals, states=(State("x"),))
        for place in range(3):
            one = np.array([[[float(place)]]])
            gaps = [gap for gap in evaluate(part, "joint", given={"compound.place": one}).gaps if gap.about == about and "does not open the fit" in gap.reason and "one: expansion is known from -40 to 60" in gap.reason]
            here = place == interface or (interface == 1 and place == 2)
            single = (about == "heat_outer_to" and layer == 2) or (about == "chill_inner_to" and layer == 0) or about == "heat_outer_to"
            assert bool(gaps) is (here and single)
            assert all(gap.beyond == ("greatest" if about == "heat_outer_to" else "least") for gap in gaps)


def test_a_part_of_two_metals_is_not_heated_as_one():
    other = replace(ONE, name="other", expansion=(20e-6, 20e-6))
    part = compound(ONE, other, ONE, states=(State("x"),))
    said = {(gap.about, gap.reason, gap.beyond) for gap in evaluate(part, "joint").gaps if "different metals" in gap.reason}
    assert said == {("chill_inner_to", "layers 2-3: chilling the inner part, joined already of different metals, is not covered", "")}
    alike = compound(ONE, ONE, ONE, states=(State("x"),))
    assert not [gap for gap in evaluate(alike, "joint").gaps if "different metals" in gap.reason]


@pytest.mark.parametrize(("changes", "states", "more", "less"), [
    ({}, (State("x"),), set(), set()), ({"order": "outside in"}, (State("x"),), set(), {"joined from the inside out"}),
    ({"torque": 1.0}, (State("x"),), {"safety_slip 1.5 (common practice, 1.2 to 2)"}, set()), ({"torque": 1.0, "safety_slip": 1.5}, (State("x"),), set(), set()),
    ({"safety_slip": 1.6}, (State("x"),), set(), set()), ({"safety_yield": 1.0}, (State("x"),), set(), {"safety_yield 1: the least yield itself is the limit"}),
    ({"roughness_hole": None}, (State("x"),), set(), {"0 to 0.8 (Rz_hole + Rz_shaft) lost to smoothing at each interface, whichever is worse"}),
    ({"joining_clearance": 0.02}, (State("x"),), set(), {"joining clearance 0.001 of the diameter"}),
    ({}, (State("x", 60.0, 60.0),), {"all layers at one temperature in every state: a fast warm-up is not covered"}, set()), ({}, (State("x", 60.0, 59.0),), set(), set()),
])  # fmt: skip
def test_what_a_compound_assumes(changes: dict[str, Any], states: tuple[State, ...], more: set[str], less: set[str]):
    base = {
        "sizes are free sizes at 20 degC, those of finished faces as fitted; all on the diameter", "joined from the inside out",
        "safety_yield 1: the least yield itself is the limit", "0 to 0.8 (Rz_hole + Rz_shaft) lost to smoothing at each interface, whichever is worse",
        "joining clearance 0.001 of the diameter", "one: typed values taken as the same in every state",
    }  # fmt: skip
    of = compound(ONE, ONE, ONE, states=states, **changes).features["joint"]
    assert set(assumptions(of, States.of(states))) == (base | more) - less


def test_two_layers_have_one_order():
    of = compound(ONE, ONE).features["joint"]
    assert "joined from the inside out" not in assumptions(of, States.of((State("x"),)))


@pytest.mark.parametrize(("states", "asked"), [((State("x", 100.0, 100.0),), False), ((State("x", 100.5, 20.0),), True), ((State("x", 20.0, 100.5),), True)])
def test_the_hours_of_an_aged_layer_are_asked_above_100(states: tuple[State, ...], asked: bool):
    aged = replace(ONE, family="aluminium", condition="T6")
    of = compound(ONE, aged, ONE, states=states).features["joint"]
    (rule,) = (one for one in of.rules if one.name == "aged aluminium keeps its temper")
    assert rule.asked(of, States.of(states)) is asked


# The fields

GOOD = [{"inside": "17", "outside": "26.05/26.04", "material": "304"}, {"inside": "26 H7", "outside": "40", "material": "304"}]


@pytest.mark.parametrize(("text", "first"), [
    ("17, 26.05/26.04, 304; 26 H7, 40, 304", 17.0), ("17, 26.05/26.04, 304, outside; 26 H7, 40, 304", 17.0), ([{"outside": "26.05/26.04", "material": "304"}, GOOD[1]], 0.0),
])  # fmt: skip
def test_layers_as_text(text: Any, first: float):
    found = LayersField("layers").parse(text, Context())
    assert [one.inside.upper for one in found.rings] == [first, 26.021]
    assert found.rings[1].finished == ()


@pytest.mark.parametrize(("finished", "want"), [("inside", ("inside",)), ("outside", ("outside",)), ("both", ("inside", "outside"))])
def test_finished_faces(finished: str, want: tuple[str, ...]):
    found = LayersField("layers").parse([{**GOOD[0], "finished": finished}, GOOD[1]], Context())
    assert found.rings[0].finished == want


@pytest.mark.parametrize(("value", "key", "says"), [
    ("17, 26.05; 26 H7, 40, 304", "1", "a layer is due"), ("17, 26.05, 304, outside, more; 26 H7, 40, 304", "1", "a layer is due"), (7, "", "a list of layers is due"), ([7, GOOD[1]], "1", "a layer is due"),
    ([GOOD[0], {"outside": "40", "material": "304"}], "2.inside", "missing: inside of the layer"), ([{"inside": "17", "outside": "26.05"}, GOOD[1]], "1.material", "missing: metal of the layer"),
    ([GOOD[0], {**GOOD[1], "inside": "?"}], "2.inside", "can't be left open"), ([GOOD[0], {**GOOD[1], "insid": "3"}], "2.insid", 'did you mean "inside"'),
    ([GOOD[0], {**GOOD[1], "material": {"poisson": 0.3}}], "2.material.youngs_modulus", "missing"), ([GOOD[0], {**GOOD[1], "outside": "26.021/26"}], "2.inside", "a layer needs a wall"),
])  # fmt: skip
def test_layers_that_are_none(value: Any, key: str, says: str):
    with pytest.raises(InputError) as caught:
        LayersField("layers").parse(value, Context())
    assert caught.value.faults[0].key == key
    assert says in str(caught.value.faults[0])


@pytest.mark.parametrize(("value", "key", "says"), [
    (7, "", "a list of tables is due"), ([], "", "1 to 12 slices are due"), ([{"length": "5", "outside": "40"}] * 13, "", "1 to 12 slices are due"), ([7], "1", "a table of length and outside is due"),
    ([{"length": "5", "outside": "40"}, {"length": "5"}], "2.outside", "missing: outside of the hub there"), ([{"length": "0.5 ±0.5", "outside": "40"}], "1.length", "a slice has a length above 0"),
    ([{"length": "?", "outside": "40"}], "1.length", "a slice can't be left open"), ([{"length": "5", "outside": "40", "wide": "1"}], "1.wide", "unknown key"),
    ([{"length": "5", "outside": "x"}], "1.outside", "no number"),
])  # fmt: skip
def test_slices_that_are_none(value: Any, key: str, says: str):
    with pytest.raises(InputError) as caught:
        SlicesField("slices").parse(value, Context())
    assert caught.value.faults[0].key == key
    assert says in str(caught.value.faults[0])


def test_slices_add_up_and_know_their_ends():
    some = [{"length": "5 +0.2/-0.1", "outside": "40.0/39"}, {"length": "7.5", "outside": "38.5/38"}, {"length": "3", "outside": "41.0/37.9"}]
    found = SlicesField("slices").parse(some, Context())
    assert (found.length.lower, found.length.upper, found.length.nominal) == pytest.approx((15.4, 15.7, 15.5))
    assert (found.thinnest.lower, found.thickest.upper) == (37.9, 41.0)
    assert len(SlicesField("slices").parse([some[0]] * 12, Context())) == 12
    with pytest.raises(InputError, match="a shared size can't stand in a slice"):
        SlicesField("slices").parse([{"length": "5", "outside": "main"}], Context(sizes={"main": Limits(40.0, 40.0)}))


def test_a_curve_is_read_where_it_is():
    assert Curve((20.0, 40.0), (1.0, 2.0), 20.0, Source("x")).at(np.array([30.0])) == pytest.approx([1.5])


@pytest.mark.parametrize(("hole", "interference"), [(25.99, 0.01), (26.0, 0.0), (26.01, 0.0)])
def test_a_loose_layer_is_heated_for_the_whole_clearance_all_the_same(hole: float, interference: float):
    """12e-6 1/K opens the hole by interference and 0.03 mm."""
    rings = tuple(Layer(Limits(i, i), Limits(o, o), ONE) for i, o in ((17.0, 26.0), (hole, 40.0)))
    of = Compound(layers=Layers(rings), length=40.0, friction_hold=0.1, roughness_hole=0.0, roughness_shaft=0.0, ends="open", joining_clearance="0.03")
    hot = evaluate(Part("test", {"joint": of}, (State("shop"),)), "joint").numbers["heat_outer_to"]
    assert np.unique(hot) == pytest.approx([20.0 + (interference + 0.03) / hole / 12e-6])
