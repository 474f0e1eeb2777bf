"""Which rules a press fit is asked, which cautions and assumptions it carries, and what it lacks where.

One field or state after the other is changed from a joint that asks for nothing more.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from joints import metal

from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.feature import Feature, State, States
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.materials.metals import metal as of_table
from fits.questions.evaluate import evaluate

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=260.0, name="hub")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=410.0, name="inner")
CAST = replace(HUB, name="cast", brittle=True, ultimate=200.0)
REST, HOT, WET = State("rest"), State("hot", 80.0, 80.0), State("wet", pressure=0.5)
TURNS, BACKWARDS = State("turns", speed=0.5), State("backwards", speed=-0.5)
PRESS: dict[str, Any] = {"hole": 30.0, "shaft": 30.05, "shaft_bore": 17.0, "hub_outside": 52.0, "hub_material": HUB, "shaft_material": INNER}

ALWAYS = {"interference is kept", "hub stays elastic", "inner part stays elastic"}
LIFTS = {"fluid can't lift it", "hub stands fluid at the hole"}
LINER = {"liner stands trapped fluid", "liner stays round"}
PRESSED = {"pressing can't crush it", "pressing can't crush the hub"}
AGED = of_table("6061-T6")


def asked(feature: Feature, *states: State) -> set[str]:
    of = States.of(states or (REST,))
    return {rule.name for rule in type(feature).rules if rule.asked(feature, of)}


@pytest.mark.parametrize(("changes", "states", "more", "less"), [
    ({}, (REST,), set(), set()),
    ({}, (HOT,), set(), set()),
    ({}, (REST, WET), LIFTS | LINER | {"holds its load"}, set()),
    ({"shaft_bore": None}, (WET,), LIFTS | {"holds its load"}, set()),
    ({"shaft_bore": 0.0}, (WET,), LIFTS | {"holds its load"}, set()),
    # The body or nothing takes the thrust: no load is asked of the joint.
    ({"ends": "open"}, (WET,), LIFTS | LINER, set()), ({"ends": "body"}, (WET,), LIFTS | LINER, set()),
    ({"ends": "liner"}, (WET,), LIFTS | LINER | {"holds its load"}, set()),
    ({"ends": "stuck"}, (WET,), LIFTS | LINER | {"holds its load"}, set()),
    ({"ends": "open", "shaft_bore": None}, (WET,), LIFTS | {"holds its load"}, set()),
    ({"ends": "liner"}, (REST,), set(), set()),
    ({"axial_load": 0.0}, (REST,), {"holds its load"}, set()), ({"torque": 5.0}, (REST,), {"holds its load"}, set()),
    ({"coating_hole": 0.0, "coating_share": 0.5}, (REST,), {"coat is thinner than the fit"}, set()),
    ({"hub_material": CAST}, (REST,), {"brittle hub is not torn"}, {"hub stays elastic"}),
    ({"hub_material": CAST}, (WET,), {"brittle hub is not torn", "brittle hub stands fluid at the hole", "fluid can't lift it", "holds its load", *LINER}, {"hub stays elastic"}),
    ({"shaft_material": CAST}, (REST,), {"brittle inner part holds"}, {"inner part stays elastic"}),
    ({"press_rating": 9.0}, (REST,), {"press is strong enough"}, set()),
    ({"assembly": "heated"}, (REST,), {"hub stands the heating"}, set()),
    ({"assembly": "heated", "oven": 200.0}, (REST,), {"hub stands the heating", "oven is hot enough"}, set()),
    ({"oven": 200.0}, (REST,), set(), set()), ({"assembly": "chilled", "oven": 200.0}, (REST,), set(), set()),
    ({"heat_to": 90.0}, (REST,), {"hub stands the heating", "goes in hot and cold"}, set()),
    ({"chill_to": -60.0}, (REST,), {"goes in hot and cold"}, set()),
    ({"chill_to": -60.0, "carry_time": 3.0}, (REST,), {"goes in hot and cold", "time to put it home"}, set()),
    ({"assembly": "pressed"}, (REST,), PRESSED, set()), ({"assembly": "pressed on oil"}, (REST,), PRESSED, set()),
    ({"friction_press": 0.1}, (REST,), set(), set()), ({"length": 40.0}, (REST,), set(), set()),
    ({"friction_press": 0.1, "length": 40.0}, (REST,), PRESSED, set()),
    ({"friction_press": 0.1, "length": 40.0, "heat_to": 90.0}, (REST,), {"hub stands the heating", "goes in hot and cold"}, set()),
    ({"friction_press": 0.1, "length": 40.0, "chill_to": -60.0}, (REST,), {"goes in hot and cold"}, set()),
    ({"friction_press": 0.1, "length": 40.0, "assembly": "chilled"}, (REST,), set(), set()),
    ({"assembly": "pressed", "hub_material": CAST}, (REST,), {"pressing can't crush it", "brittle hub is not torn"}, {"hub stays elastic"}),
    ({"assembly": "pressed", "shaft_material": CAST}, (REST,), {"pressing can't crush the hub", "brittle inner part holds"}, {"inner part stays elastic"}),
    ({}, (TURNS,), {"speed can't lift the hub"}, set()), ({}, (REST, BACKWARDS), {"speed can't lift the hub"}, set()),
    ({"bore_after": "17 ±0.1"}, (REST,), {"bore after fitting, least", "bore after fitting, most"}, set()),
    ({"surroundings": "indoor"}, (REST,), {"metals stand each other"}, set()),
    ({"cracking_stress": 90.0}, (REST,), {"hub does not crack with time"}, set()),
    ({"hub_material": AGED}, (State("long", 90.0, 90.0, time=1.0),), {"hub keeps its temper"}, set()),
    ({"shaft_material": AGED}, (State("long", 90.0, 90.0, time=1.0),), {"inner part keeps its temper"}, set()),
    ({"hub_material": AGED}, (State("at", 100.0, 100.0),), set(), set()),
    ({"hub_material": AGED}, (State("above", 100.5, 20.0),), {"hub keeps its temper"}, set()),
    ({"shaft_material": AGED}, (State("above", 20.0, 100.5),), {"inner part keeps its temper"}, set()),
    ({"hub_material": AGED}, (State("above", 20.0, 100.5),), {"hub keeps its temper"}, set()),
    ({"alternating": True}, (REST,), {"stands alternating load"}, set()),
    ({"port": "1/8 NPT", "port_distance": 30.0}, (REST,), {"port leaves a wall"}, set()),
    ({"shaft": "bearing 30"}, (REST,), {"bearing is not overheated"}, set()),
    ({"hole": "bearing 30"}, (REST,), {"bearing is not overheated"}, set()),
    ({"hole": "bearing 30", "internal_clearance": 0.01}, (REST,), {"bearing is not overheated", "bearing keeps clearance"}, set()),
])  # fmt: skip
def test_which_rules_a_press_fit_is_asked(changes: dict[str, Any], states: tuple[State, ...], more: set[str], less: set[str]):
    assert asked(Press(**{**PRESS, **changes}), *states) == (ALWAYS | more) - less


SLICED = {key: value for key, value in PRESS.items() if key != "hub_outside"} | {
    "slices": [{"length": "15", "outside": "44"}, {"length": "25", "outside": "52"}]}  # fmt: skip


def test_slices_bring_their_length_along():
    assert asked(Press(**SLICED, friction_press=0.1)) == ALWAYS | PRESSED


# Those of every joint at rest: pressing, hot and cold parts (the assembly may be any), fretting.
SAID = ("Pressing:", "Hot parts:", "Dry ice", "Alternating load")


def cautions(feature: Feature, *states: State) -> set[str]:
    of = States.of(states or (REST,))
    return {" ".join(one.text.split()[:2]) for one in type(feature).cautions if one.applies(feature, of)}


@pytest.mark.parametrize(("changes", "states", "want"), [
    ({}, (REST,), {"Pressing: guard", "Hot parts:", "Dry ice"}),
    ({"assembly": "pressed"}, (REST,), {"Pressing: guard"}), ({"assembly": "pressed on oil"}, (REST,), {"Pressing: guard"}),
    ({"assembly": "heated"}, (REST,), {"Hot parts:"}), ({"assembly": "chilled"}, (REST,), {"Dry ice"}),
    ({"assembly": "heated", "chill_to": -60.0}, (REST,), {"Hot parts:", "Dry ice"}),
    ({"assembly": "chilled", "heat_to": 90.0}, (REST,), {"Hot parts:", "Dry ice"}),
    ({"assembly": "pressed"}, (WET,), {"Pressing: guard", "Pressure: prove", "A press"}),
    ({"assembly": "pressed"}, (TURNS,), {"Pressing: guard", "Rotating parts:"}),
    ({"assembly": "pressed"}, (BACKWARDS,), {"Pressing: guard", "Rotating parts:"}),
    ({"assembly": "pressed", "coating_hole": 0.01, "coating_share": 0.5}, (REST,), {"Pressing: guard", "A coat"}),
    ({"assembly": "pressed", "port": "1/8 NPT", "port_distance": 30.0}, (REST,), {"Pressing: guard", "A taper"}),
    ({"assembly": "pressed", "shaft": "bearing 30"}, (REST,), {"Pressing: guard", "A bearing"}),
    # A proof below the working pressure; as much as it says nothing.
    ({"assembly": "pressed"}, (State("run", pressure=5.0), State("proof", pressure=4.9, proof=True)), {"Pressing: guard", "Pressure: prove", "A press", "A proof"}),
    ({"assembly": "pressed"}, (State("run", pressure=5.0), State("proof", pressure=5.0, proof=True)), {"Pressing: guard", "Pressure: prove", "A press"}),
    ({"assembly": "pressed"}, (State("run", pressure=5.0), State("idle", proof=True)), {"Pressing: guard", "Pressure: prove", "A press"}),
    ({"assembly": "pressed"}, (State("ice", -0.5, 5.0, 1.0, medium="water"),), {"Pressing: guard", "Pressure: prove", "A press", "Water freezes"}),
    ({"assembly": "pressed"}, (State("ice", 5.0, -0.5, 1.0, medium="water"),), {"Pressing: guard", "Pressure: prove", "A press", "Water freezes"}),
    ({"assembly": "pressed"}, (State("ice", 0.0, 0.0, 1.0, medium="water"),), {"Pressing: guard", "Pressure: prove", "A press"}),
    ({"assembly": "pressed"}, (State("ice", -5.0, -5.0, 1.0, medium="oil"), State("warm", medium="water")), {"Pressing: guard", "Pressure: prove", "A press"}),
])  # fmt: skip
def test_which_cautions_a_press_fit_carries(changes: dict[str, Any], states: tuple[State, ...], want: set[str]):
    assert cautions(Press(**{**PRESS, **changes}), *states) == want | {"Alternating load,"}


def test_a_step_of_the_hub_is_a_caution_of_two_slices():
    assert "Beside a" in cautions(Press(**SLICED))
    assert "Beside a" not in cautions(Press(**{**SLICED, "slices": SLICED["slices"][:1]}))


BASE = "sizes are free sizes at 20 degC; interference, closure and growth are on the diameter"
YIELD = "safety_yield 1: the least yield itself is the limit"
CLEARANCE = "joining clearance 0.001 of the diameter"
SLIPS = "safety_slip 1.5 (common practice, 1.2 to 2)"
TRIED = "ends not given: open, liner, body and stuck tried, the worst counts"
GRIPPED = "assembly not given: where ends are stuck, the parts gripped at 20 degC"
ONE_TEMPERATURE = "both parts at one temperature in every state: a fast warm-up is not covered"
CLOCK = "clock: still air of 20 degC, film 20 W/(m2 K), the part in the middle of the hole"
HUB_TYPED, INNER_TYPED = (f"{name}: typed values taken as the same in every state" for name in ("hub", "inner"))
FLUID = (
    "hub stays elastic: pressure counts by safety_yield alone, fluid at the hole by 1.5",
    "pressure is inside; from outside it is not covered",
)
EDITION = " (DIN 7190:2001, from memory; other editions may take another factor), nothing for strength"


@pytest.mark.parametrize(("changes", "states", "more", "less"), [
    ({}, (REST,), set(), set()),
    ({"safety_yield": 1.2}, (REST,), set(), {YIELD}), ({"joining_clearance": 0.02}, (REST,), set(), {CLEARANCE}),
    ({"axial_load": 9.0}, (REST,), {SLIPS}, set()), ({"axial_load": 9.0, "safety_slip": 1.5}, (REST,), set(), set()),
    ({"safety_slip": 1.6}, (REST,), set(), set()),
    ({}, (WET,), {SLIPS, TRIED, GRIPPED, *FLUID}, set()), ({"ends": "open"}, (WET,), {*FLUID}, set()),
    ({"assembly": "heated"}, (WET,), {SLIPS, TRIED, *FLUID}, set()),
    ({}, (HOT,), {ONE_TEMPERATURE}, set()), ({}, (State("two", 80.0, 79.0),), set(), set()),
    ({"heat_to": 90.0}, (REST,), {CLOCK}, set()), ({"chill_to": -60.0}, (REST,), {CLOCK}, set()),
    ({"roughness_hole": "3 um"}, (REST,), set(), set()),
    ({"roughness_hole": "3 um", "roughness_shaft": "2 um"}, (REST,), {f"0.8 (Rz_hole + Rz_shaft) lost to smoothing for holding{EDITION}"}, set()),
    ({"roughness_hole": "1 um Ra", "roughness_shaft": "2 um"}, (REST,),
     {f"0.8 (Rz_hole + Rz_shaft) lost to smoothing for holding, an Ra as 3.75 times as much Rz{EDITION}"}, set()),
    ({"roughness_hole": "1 um Ra", "roughness_shaft": "0.5 um Ra"}, (REST,),
     {f"3 (Ra_hole + Ra_shaft) lost to smoothing for holding{EDITION}"}, set()),
    ({"hub_material": "304"}, (REST,), set(), {HUB_TYPED}),
])  # fmt: skip
def test_what_a_press_fit_assumes(changes: dict[str, Any], states: tuple[State, ...], more: set[str], less: set[str]):
    said = Press(**{**PRESS, **changes}).assumptions(States.of(states))
    assert said[0] == BASE
    assert set(said) == ({BASE, YIELD, CLEARANCE, HUB_TYPED, INNER_TYPED} | more) - less
    assert len(said) == len(set(said))


def test_slices_are_said_to_stand_by_themselves():
    assert any(one.startswith("slices: each one by itself") for one in Press(**SLICED).assumptions(States.of((REST,))))


# What is lacking, by input and column: the states, then as made.
MILD = (State("0", 0.0, 0.0), State("-0.5", -0.5, 5.0), State("100", 100.0, 100.0), State("100.5", 100.5, 100.5), State("turns", speed=0.5), State("back", speed=-2.0))
ROOM_ONLY = replace(HUB, ultimate=250.0)
SERVICE = replace(HUB, ultimate=250.0, max_service=90.0)
TYPED = replace(HUB, ultimate=250.0, typed=frozenset({*HUB.typed, "ultimate_strength"}))


@pytest.mark.parametrize(("changes", "about", "columns"), [
    ({}, "hub_ultimate", "1111111"), ({}, "shaft_ultimate", "1111111"),
    ({"hub_material": ROOM_ONLY}, "hub_ultimate", "0101000"), ({"shaft_material": ROOM_ONLY}, "shaft_ultimate", "0001000"),
    ({"hub_material": SERVICE}, "hub_ultimate", "0111000"), ({"hub_material": TYPED}, "hub_ultimate", "0000000"),
    ({"hub_material": replace(HUB, density=None)}, "hub_density", "0000110"),
    ({"shaft_material": replace(INNER, density=None)}, "shaft_density", "0000110"),
    ({}, "hub_heating_limit", "1111111"), ({"hub_material": replace(HUB, heating_limit=150.0)}, "hub_heating_limit", "0000000"),
    ({}, "length", "1111111"), ({"length": 40.0}, "length", "0000000"),
    ({}, "roughness_loss", "1111111"), ({"roughness_hole": 1.0}, "roughness_loss", "1111111"),
    ({"roughness_hole": 1.0, "roughness_shaft": 1.0}, "roughness_loss", "0000000"),
    ({"friction_hold": 0.1}, "friction_hold", "0000000"), ({"friction_hold": 0.1}, "friction_press", "1111111"),
    ({"alternating": True}, "alternating_demand", "1111111"), ({}, "alternating_demand", "0000000"),
    ({"hub_material": SERVICE}, "hub_service", "0011000"),
    ({"hub_material": replace(HUB, yield_minimum=None, yield_typical=200.0)}, "hub_yield", "1111111"),
    # So near to the hole the hub is no even ring: 38 - 15 - 5.14 is above 17 and below 30 mm.
    ({"port": "1/8 NPT", "port_distance": 38.0, "hub_outside": 200.0}, "port_wall", "1"),
    ({"port": "1/8 NPT", "port_distance": 51.0, "hub_outside": 200.0}, "port_wall", "0"),
])  # fmt: skip
def test_what_a_press_fit_lacks_and_in_which_states(changes: dict[str, Any], about: str, columns: str):
    found = evaluate(Part("test", {"joint": Press(**{**PRESS, **changes})}, MILD), "joint")
    masks = [np.atleast_2d(one.mask) for one in found.gaps if one.about == about]
    said = np.any([mask.reshape(-1, mask.shape[-1]).any(axis=0) for mask in masks], axis=0) if masks else np.zeros(len(columns), dtype=bool)
    assert "".join(str(int(one)) for one in np.broadcast_to(said, (len(columns),))) == columns


@pytest.mark.parametrize(("states", "there"), [((REST,), False), ((TURNS,), False), ((WET,), True), ((WET, REST), True), ((State("little", pressure=1e-6),), True)])
def test_fluid_between_is_computed_where_there_is_any(states: tuple[State, ...], there: bool):
    found = evaluate(Part("test", {"joint": Press(**PRESS)}, states), "joint")
    assert ("behind_pressure" in found.numbers) is there
    less = evaluate(Part("test", {"joint": Press(**PRESS)}, states), "joint", values=["press_force"])
    assert "behind_pressure" not in less.numbers
    assert "press_force" in less.numbers
    assert not {"heat_hub_to", "release_temperature", "release_speed"} & set(less.numbers)


@pytest.mark.parametrize("name", ["press_force", "push_out_force", "pressing_shaft", "pressing_hub", "heat_hub_to", "release_temperature", "release_speed", "fitted_bore"])
def test_a_number_of_the_bench_knows_no_state(name: str):
    """Metals of the table, weaker when warm: what is done at 20 degC is the same whatever comes after."""
    given = {**PRESS, "hub_material": "6061-T6", "shaft_material": "304", "friction_hold": 0.1, "friction_press": 0.12, "length": 40.0}
    of = [evaluate(Part("test", {"joint": Press(**given)}, states), "joint").numbers[name] for states in ((REST,), (State("hot", 90.0, 70.0), State("cold", -40.0, -40.0)))]
    assert [one.shape[-1] for one in of] == [1, 1]
    assert np.isfinite(of[0]).all()
    assert of[0] == pytest.approx(of[1], rel=1e-12)


def test_parts_that_never_part_at_speed_say_so():
    """A hub without mass doesn't grow; one with the mass of its bar grows more, since it is hollow."""
    light = replace(HUB, density=0.0)
    for hub, inner, reason in (
        (light, replace(INNER, density=0.0), "the hub does not grow away at speed"), (light, INNER, "the hub does not grow away at speed"),
        (replace(HUB, density=None), INNER, "speed at which it comes loose: no density"), (HUB, INNER, ""), (replace(HUB, density=1e-9), replace(INNER, density=1e-12), ""),
    ):  # fmt: skip
        found = evaluate(Part("test", {"joint": Press(**{**PRESS, "hub_material": hub, "shaft_material": inner})}, (REST,)), "joint")
        said = [one.reason for one in found.gaps if one.about == "release_speed"]
        assert said == ([reason] if reason else [])
        assert np.isnan(found.numbers["release_speed"]).all() == bool(reason)


FITS: list[tuple[type[Feature], dict[str, Any]]] = [
    (Compound, {"layers": [{"inside": "17", "outside": "26.05", "material": "304"}, {"inside": "26", "outside": "36", "material": "304"}]}),
    (Bonded, {**PRESS, "shaft": 29.95}),
    (Running, {key: PRESS[key] for key in ("hole", "shaft_bore")} | {"shaft": 29.9}),
]


@pytest.mark.parametrize(("kind", "given"), FITS)
def test_speed_and_pressure_bring_their_cautions(kind: type[Feature], given: dict[str, Any]):
    one = kind(**given)
    assert "Pressure: prove" not in cautions(one, REST, TURNS)
    assert "Pressure: prove" in cautions(one, REST, WET)
    if kind is not Running:
        assert "Rotating parts:" not in cautions(one, REST, WET)
        assert "Rotating parts:" in cautions(one, REST, TURNS)
        assert "Rotating parts:" in cautions(one, BACKWARDS)


@pytest.mark.parametrize(("states", "said"), [
    ((REST,), False), ((HOT,), True), ((REST, HOT), True), ((State("two", 80.0, 79.0),), False), ((HOT, State("two", 80.0, 79.0)), False),
])  # fmt: skip
def test_one_temperature_for_both_is_a_caution_of_a_running_fit(states: tuple[State, ...], said: bool):
    assert ("All states" in cautions(Running(**FITS[2][1]), *states)) is said


@pytest.mark.parametrize(("kind", "changes", "states", "want"), [
    (Compound, {}, (REST,), {"interference is kept", "layers stay elastic"}),
    (Compound, {}, (WET,), {"interference is kept", "layers stay elastic", "fluid can't lift it"}),
    (Compound, {"torque": 0.0}, (REST,), {"interference is kept", "layers stay elastic", "holds its load"}),
    (Compound, {"bore_after": "17 ±0.1"}, (REST,), {"interference is kept", "layers stay elastic", "bore after fitting, least", "bore after fitting, most"}),
    (Running, {}, (REST,), {"never binds"}), (Running, {"clearance_at_least": 0.0}, (REST,), {"never binds", "least clearance"}),
    (Running, {"clearance_at_most": 0.0}, (REST,), {"never binds", "most clearance"}),
    (Running, {}, (WET,), {"never binds", "wall stands the pressure", "hollow shaft stands the pressure", "hollow shaft can't collapse"}),
    (Running, {"shaft_bore": 0.0}, (WET,), {"never binds", "wall stands the pressure"}),
])  # fmt: skip
def test_which_rules_the_others_are_asked(kind: type[Feature], changes: dict[str, Any], states: tuple[State, ...], want: set[str]):
    given = dict(FITS)[kind]
    assert asked(kind(**{**given, **changes}), *states) == want


ALL_BONDED = {"gap at least", "gap at most, as made", "gap at most, in every state", "never binds", "bond follows the gap",
              "bond follows along the axis", "stands the heat"}  # fmt: skip
STRAINED = {"hub stands the fluid", "inner part stands alone"}


@pytest.mark.parametrize(("changes", "states", "more"), [
    ({}, (REST,), set()), ({}, (WET,), {"holds its load", *STRAINED}), ({"ends": "open"}, (WET,), STRAINED), ({"ends": "body"}, (WET,), STRAINED),
    ({"ends": "liner"}, (WET,), {"holds its load", *STRAINED}), ({"ends": "open", "shaft_bore": None}, (WET,), {"holds its load", "hub stands the fluid"}),
    ({"axial_load": 0.0}, (REST,), {"holds its load", *STRAINED}), ({"torque": 0.0}, (REST,), {"holds its load", *STRAINED}),
    ({}, (TURNS,), STRAINED), ({}, (BACKWARDS,), STRAINED), ({"alternating": True}, (REST,), {"load does not alternate"}),
])  # fmt: skip
def test_which_rules_a_bond_is_asked(changes: dict[str, Any], states: tuple[State, ...], more: set[str]):
    assert asked(Bonded(**{**PRESS, "shaft": 29.95, **changes}), *states) == ALL_BONDED | more
