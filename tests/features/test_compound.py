"""A compound: two layers are a press fit, a dummy interface is none, stages, gaps, bad input."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from joints import metal
from references import exact_layers as exact

from fits.errors import InputError
from fits.features.compound import Compound
from fits.features.compound.layers_field import Layer, Layers
from fits.features.feature import State
from fits.features.fields import Context, SurfaceRef
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.files import loader
from fits.questions.check import check
from fits.questions.evaluate import evaluate, relevant
from fits.questions.ranges import ranges_of, spread_out, told_apart
from fits.questions.window import window
from fits.sizes.limits import Limits

STEEL = metal(207000.0, 0.29, expansion=11.5e-6, density=7850.0, name="steel")
ALUMINIUM = metal(69000.0, 0.33, expansion=23.6e-6, density=2700.0, name="aluminium")
BRONZE = metal(100000.0, 0.34, expansion=18.0e-6, density=8900.0, name="bronze")
STATES = (State("shop"), State("cold", -20.0, -20.0), State("hot", 90.0, 90.0, 8.0), State("fast", 20.0, 20.0, 0.0, 300.0))
SMOOTH = {"roughness_hole": 0.0, "roughness_shaft": 0.0, "friction_hold": 0.1, "length": 50.0, "ends": "open"}


def layer(inside: float, outside: float, of: Any, *finished: str) -> Layer:
    return Layer(Limits(inside, inside), Limits(outside, outside), of, finished)


def compound(*layers: Layer, states: tuple[State, ...] = STATES, **changes: Any) -> Part:
    return Part("test", {"joint": Compound(layers=Layers(layers), **{**SMOOTH, **changes})}, states)


def numbers(part: Part, place: int, column: str) -> dict[str, float]:
    """Every number of exact layers at full pressure and speed, at one layer or interface."""
    one = np.array([[[1.0]]])
    found = evaluate(part, "joint", given={"part.pressure": one, "part.speed": one, "compound.place": place * one})
    at = [*found.states.names].index(column)
    return {name: float(spread_out(array, found.states).reshape(-1, len(found.states.names))[0, at if array.shape[-1] > 1 else -1])
            for name, array in found.numbers.items()}


THREE = (layer(20.0, 30.03, STEEL), layer(30.0, 40.05, ALUMINIUM), layer(40.0, 70.0, STEEL))


# Against the press fit and the oracle

@pytest.mark.parametrize("column", ["shop", "cold", "hot", "fast", "as_made"])
@pytest.mark.parametrize("bore", [0.0, 20.0])
def test_two_layers_are_a_press_fit(column: str, bore: float):
    states = STATES if bore else tuple(one._replace(pressure=0.0) for one in STATES)
    two = compound(layer(bore, 30.03, STEEL), layer(30.0, 60.0, ALUMINIUM), axial_load=2000.0, torque=5000.0, states=states)
    press = Part("test", {"joint": Press(
        hole=Limits(30.0, 30.0), shaft=Limits(30.03, 30.03), shaft_bore=Limits(bore, bore) if bore else None,
        hub_outside=Limits(60.0, 60.0), hub_material=ALUMINIUM, shaft_material=STEEL, axial_load=2000.0, torque=5000.0,
        **{**SMOOTH, "friction_press": 0.1})}, states)
    one = np.array([[[1.0]]])
    found = evaluate(press, "joint", given={"part.pressure": one, "part.speed": one})
    names = [*found.states.names]

    def theirs(name: str) -> float:
        return float(spread_out(found.numbers[name], found.states).reshape(-1, len(names))[0, names.index(column)])

    inner, outer = numbers(two, 0, column), numbers(two, 1, column)
    pairs = [("effective_interference", inner, "effective_interference"), ("contact_pressure", inner, "contact_pressure"),
             ("axial_capacity", inner, "axial_capacity"), ("torque_capacity", inner, "torque_capacity"),
             ("von_mises", inner, "shaft_von_mises"), ("von_mises", outer, "hub_von_mises"), ("hoop_outside", inner, "shaft_hoop_at_surface"),
             ("hoop_inside", outer, "hub_hoop_at_hole"), ("hoop_outside", outer, "hub_hoop_outside"), ("outside_growth", outer, "outside_growth")]
    if bore:
        pairs += [("bore_closure", inner, "bore_closure"), ("bore_in_state", inner, "bore_in_state"), ("hoop_inside", inner, "shaft_hoop_at_bore")]
    # A solid core under pressure holds its thrust in a press fit and isn't covered here.
    if bore:
        pairs.append(("slip_demand", inner, "slip_demand"))
    for mine, of, name in pairs:
        assert of[mine] == pytest.approx(theirs(name), rel=1e-9, abs=1e-9), (mine, name)
    for mine, name in (("heat_outer_to", "heat_hub_to"), ("chill_inner_to", "chill_shaft_to")):
        # Typed expansion is not followed below -100 degC: chilling alone opens neither.
        assert inner[mine] == pytest.approx(float(np.ravel(found.numbers[name])[0]), nan_ok=mine == "chill_inner_to")


@pytest.mark.parametrize("column", ["shop", "cold", "hot"])
def test_a_hub_cut_in_two_without_interference_is_one_hub(column: str):
    whole = compound(layer(20.0, 30.03, STEEL), layer(30.0, 60.0, ALUMINIUM))
    cut = compound(layer(20.0, 30.03, STEEL), layer(30.0, 45.0, ALUMINIUM), layer(45.0, 60.0, ALUMINIUM))
    one, other = numbers(whole, 0, column), numbers(cut, 0, column)
    for name in ("contact_pressure", "effective_interference", "von_mises", "bore_closure", "outside_growth"):
        assert other[name] == pytest.approx(one[name], rel=1e-9)
    assert numbers(cut, 1, column)["contact_pressure"] > 1.0
    assert numbers(cut, 1, column)["von_mises"] == pytest.approx(numbers(whole, 1, column)["von_mises"], rel=1e-9)


def test_cut_at_the_size_as_fitted_the_outer_ring_carries_nothing_at_rest():
    """The outside turned with the liner in it, a ring of that very size slid on: no pressure until the bore has some."""
    states = (State("shop"), State("proof", pressure=12.0))
    slid = compound(layer(20.0, 30.03, STEEL), layer(30.0, 45.0, ALUMINIUM, "outside"), layer(45.0, 60.0, ALUMINIUM), states=states)
    alone = compound(layer(20.0, 30.03, STEEL), layer(30.0, 45.0, ALUMINIUM), states=states)
    assert numbers(slid, 1, "shop")["contact_pressure"] == pytest.approx(0.0, abs=1e-9)
    assert numbers(slid, 1, "shop")["joining_interference"] == pytest.approx(0.0, abs=1e-12)
    assert numbers(slid, 0, "shop")["contact_pressure"] == pytest.approx(numbers(alone, 0, "shop")["contact_pressure"], rel=1e-9)
    # Under pressure the whole wall takes what is added (Lamé on the whole, oracle).
    more = exact.glued([10.0, 15.0, 22.5, 30.0], [207000.0, 69000.0, 69000.0], [0.29, 0.33, 0.33], [0.0, 0.0], bore=12.0)
    assert numbers(slid, 1, "proof")["contact_pressure"] == pytest.approx(float(more["p"][1]), rel=1e-9)


@pytest.mark.parametrize(("column", "temperature", "bore"), [("shop", 20.0, 0.0), ("cold", -20.0, 0.0), ("hot", 90.0, 8.0)])
def test_three_layers_hot_cold_and_pressed_at_50_digits(column: str, temperature: float, bore: float):
    part = compound(layer(20.0, 30.03, STEEL), layer(30.0, 40.05, ALUMINIUM), layer(40.0, 70.0, BRONZE))
    strains = [alpha * (temperature - 20.0) for alpha in (11.5e-6, 23.6e-6, 18.0e-6)]
    fits = [0.015 + 15.0 * (strains[0] - strains[1]), 0.025 + 20.0 * (strains[1] - strains[2])]
    found = exact.rings([10.0, 15.0, 20.0, 35.0], [207000.0, 69000.0, 100000.0], [0.29, 0.33, 0.34], fits, bore=bore)
    for j in range(2):
        assert numbers(part, j, column)["contact_pressure"] == pytest.approx(float(found["p"][j]), rel=1e-9)
    for k in range(3):
        assert numbers(part, k, column)["hoop_inside"] == pytest.approx(float(found["hoop_in"][k]), rel=1e-9)
        assert numbers(part, k, column)["hoop_outside"] == pytest.approx(float(found["hoop_out"][k]), rel=1e-9)
    assert numbers(part, 0, column)["bore_closure"] == pytest.approx(-2.0 * float(found["u_in"][0]), rel=1e-9)
    assert numbers(part, 0, column)["outside_growth"] == pytest.approx(2.0 * float(found["u_out"][2]), rel=1e-9)


# Stages

@pytest.mark.parametrize("order", ["inside out", "outside in", "2-3, 1-2"])
def test_free_parts_end_up_alike_whatever_the_order(order: str):
    usual = numbers(compound(*THREE), 0, "shop")
    other = numbers(compound(*THREE, order=order), 0, "shop")
    for name in ("contact_pressure", "von_mises", "bore_closure", "interference"):
        assert other[name] == pytest.approx(usual[name], rel=1e-12)


def test_finished_faces_make_the_order_count():
    inner = compound(THREE[0], layer(30.0, 40.05, ALUMINIUM, "outside"), THREE[2])
    outer = compound(THREE[0], layer(30.0, 40.05, ALUMINIUM, "inside"), THREE[2], order="outside in")
    plain, first, last = (numbers(one, 1, "shop")["contact_pressure"] for one in (compound(*THREE), inner, outer))
    assert first < plain
    assert abs(last - first) > 1.0
    assert numbers(inner, 1, "shop")["joining_interference"] == pytest.approx(0.05, rel=1e-9)
    assert numbers(outer, 0, "shop")["joining_interference"] == pytest.approx(0.03, rel=1e-9)


def test_a_bore_finished_at_the_end_has_its_size_as_fitted():
    done = compound(layer(20.0, 30.03, STEEL, "inside"), *THREE[1:], bore_after="20 ±0.0001")
    assert numbers(done, 0, "as_made")["bore_in_state"] == pytest.approx(20.0, abs=1e-12)
    (rule,) = (one for one in check(done).features[0].checks if one.rule == "bore after fitting, least")
    assert rule.verdict == "pass"
    free = compound(*THREE, bore_after="20 ±0.0001")
    (rule,) = (one for one in check(free).features[0].checks if one.rule == "bore after fitting, least")
    assert rule.verdict == "fail"
    assert rule.worst == pytest.approx(20.0 - numbers(free, 0, "as_made")["bore_closure"])


def test_the_plan_joins_and_cuts_in_order():
    part = compound(layer(20.0, 30.03, STEEL, "inside"), layer(30.0, 40.05, STEEL, "outside"), layer(40.0, 70.0, STEEL))
    steps = [step.do for step in check(part).features[0].plan]
    told = ["heat layer 2, or chill layer 1", "finish the outside of layer 2", "heat layer 3, or chill layers 1 to 2", "finish the inside of layer 1"]
    places = [next(at for at, step in enumerate(steps) if words in step) for words in told]
    assert places == sorted(places)
    # 0.001 of 40 mm beyond 0.05 mm on 40 mm by 11.5e-6 per K, from 20 degC; 0.09/(40 x 11.5e-6) is 196 K.
    assert any("layer 3 at 216 degC" in step.range for step in check(part).features[0].plan)


def test_a_part_of_different_metals_is_not_heated_by_the_table():
    found = check(compound(THREE[0], THREE[1], THREE[2], order="outside in"))
    assert any("heating the outer part, joined already of different metals, is not covered" in one for one in found.features[0].not_covered)
    assert "heat_outer_to.layers_2-3" in {value.name for value in found.features[0].values}
    assert "heat_outer_to.layers_1-2" not in {value.name for value in found.features[0].values}


def test_heat_beyond_what_the_metal_stands_is_said_and_no_way_to_join():
    """0.03 mm and a clearance of 0.09 mm on 30 mm of 6061-T6, about 24e-6 1/K: some 167 K above 20 degC."""
    hub = _metal("6061-T6")

    def told(**more: Any) -> str:
        part = compound(layer(20.0, 30.03, STEEL), layer(30.0, 60.0, hub), states=STATES[:1], **more)
        (step,) = (one for one in check(part).features[0].plan if one.do.startswith("stage 1"))
        return step.range

    need = re.fullmatch(r"by heat alone it would need (\d+) degC, and its metal stands 175 degC", told(joining_clearance=0.09))
    assert need is not None
    assert float(need[1]) == pytest.approx(187.0, abs=4.0)
    # The usual 0.001 of the diameter: 0.06 mm, some 85 K.
    mild = re.fullmatch(r"layer 2 at (\d+) degC", told())
    assert mild is not None
    assert float(mild[1]) == pytest.approx(105.0, abs=2.0)


def test_what_was_typed_is_not_said_to_be_assumed():
    taken = check(compound(*THREE)).features[0].assumptions
    typed = check(compound(*THREE, safety_yield=1.2, joining_clearance=0.05)).features[0].assumptions
    own = ("safety_yield 1: the least yield itself is the limit", "joining clearance 0.001 of the diameter")
    assert set(own) <= set(taken)
    assert not set(own) & set(typed)


# Rules

def rule(part: Part, name: str):
    return next(one for one in check(part).features[0].checks if one.rule == name)


def test_the_worst_interface_and_layer_are_named(fits):
    part = compound(layer(20.0, 30.03, STEEL), layer(30.0, 40.0, ALUMINIUM), layer(40.03, 70.0, STEEL))
    found = rule(part, "interference is kept")
    assert (found.verdict, found.where, found.state) == ("fail", "layers 2-3", "cold")
    # Open when cold: the gap is what is left of 0.03 mm after the liner has spread the ring (oracle).
    strains = [alpha * -40.0 for alpha in (11.5e-6, 23.6e-6, 11.5e-6)]
    fits_ = [0.015 + 15.0 * (strains[0] - strains[1]), -0.015 + 20.015 * (strains[1] - strains[2])]
    oracle = exact.rings([10.0, 15.0, 20.015, 35.0], [207000.0, 69000.0, 207000.0], [0.29, 0.33, 0.29], fits_)
    assert oracle["touching"] == (True, False)
    assert found.worst == pytest.approx(-2.0 * float(oracle["gap"][1]), rel=1e-9)


def test_every_layer_is_held_against_its_own_yield():
    soft = metal(69000.0, 0.33, expansion=23.6e-6, density=2700.0, name="soft", least=50.0)
    found = rule(compound(layer(20.0, 30.03, STEEL), layer(30.0, 40.05, soft), layer(40.0, 70.0, STEEL)), "layers stay elastic")
    assert (found.verdict, found.where, found.limit) == ("fail", "layer 2", 50.0)


def test_a_typical_yield_never_passes():
    part = compound(layer(20.0, 30.005, metal(2e5, 0.3, name="a")), layer(30.0, 40.005, _metal("1045 HR")),
                    layer(40.0, 70.0, metal(2e5, 0.3, name="b")), states=(State("shop"),))
    found = rule(part, "layers stay elastic")
    assert found.verdict == "not covered"
    assert "layer 2: 1045 HR: only a typical yield" in found.why_not


def _metal(name: str):
    from fits.materials.metals import metal as table

    return table(name)


def test_a_brittle_layer_is_held_against_half_its_ultimate():
    from dataclasses import replace

    iron = replace(metal(1e5, 0.26, expansion=1e-5, density=7200.0, name="iron"), brittle=True, ultimate=100.0)
    part = compound(layer(20.0, 30.03, STEEL), layer(30.0, 70.0, iron), states=(State("shop"),))
    found = rule(part, "layers stay elastic")
    assert (found.verdict, found.where, found.limit) == ("fail", "layer 2", 50.0)
    # Lamé: the largest tension is the hoop at the inside.
    assert found.worst == pytest.approx(numbers(part, 1, "shop")["hoop_inside"])
    unknown = compound(layer(20.0, 30.003, STEEL), layer(30.0, 70.0, replace(iron, ultimate=None)), states=(State("shop"),))
    assert rule(unknown, "layers stay elastic").verdict == "not covered"
    cold = compound(layer(20.0, 30.003, STEEL), layer(30.0, 70.0, iron), states=(State("cold", -40.0, -40.0),))
    assert rule(cold, "layers stay elastic").verdict == "not covered"


def test_grey_iron_is_held_against_half_its_ultimate_and_no_yield():
    """A brittle metal has no yield to be missed: class 30 iron, 207 MPa (30 ksi) least tensile strength."""
    light = compound(layer(20.0, 30.003, STEEL), layer(30.0, 70.0, _metal("Grey iron class 30")), states=(State("shop"),))
    found = rule(light, "layers stay elastic")
    assert found.verdict == "pass"
    crack = compound(layer(20.0, 30.08, STEEL), layer(30.0, 70.0, _metal("Grey iron class 30")), states=(State("shop"),))
    found = rule(crack, "layers stay elastic")
    assert (found.verdict, found.where, found.limit) == ("fail", "layer 2", 103.5)


def test_a_typed_ultimate_of_a_brittle_layer_holds_in_every_state():
    from dataclasses import replace

    iron = replace(metal(1e5, 0.26, expansion=1e-5, density=7200.0, name="iron"), brittle=True, ultimate=200.0)
    cold = (State("cold", -40.0, -40.0),)

    def elastic(of: Any):
        return rule(compound(layer(20.0, 30.003, STEEL), layer(30.0, 70.0, of), states=cold), "layers stay elastic")

    assert elastic(iron).verdict == "not covered"
    known = elastic(replace(iron, typed=iron.typed | {"ultimate_strength"}))
    assert (known.verdict, known.why_not) == ("pass", "")


def test_missing_length_is_not_covered_with_its_break_even():
    part = compound(*THREE, length=None, axial_load=20000.0, states=STATES[:1])
    found = rule(part, "holds its load")
    assert found.verdict == "not covered"
    assert "length not given" in found.why_not
    # mu p pi d L >= safety_slip F at the weaker of both interfaces.
    per_mm = min(0.1 * numbers(part, j, "shop")["contact_pressure"] * np.pi * hole for j, hole in ((0, 30.0), (1, 40.0)))
    need = 1.5 * 20000.0 / per_mm
    assert found.break_even.startswith("holds if length is at least ")
    assert float(found.break_even.split(" ")[-2]) == pytest.approx(need, rel=6e-3)
    holds, slips = (rule(compound(*THREE, length=need * by, axial_load=20000.0, states=STATES[:1]), "holds its load") for by in (1.01, 0.99))
    assert (holds.verdict, slips.verdict) == ("pass", "fail")


def test_missing_friction_is_not_covered_with_its_break_even():
    part = compound(*THREE, friction_hold=None, axial_load=20000.0)
    found = rule(part, "holds its load")
    assert found.verdict == "not covered"
    # The weakest interface, held without pressure in the bore.
    least = min(numbers(part_, j, column)["contact_pressure"] * np.pi * hole * 50.0
                for part_ in (compound(*THREE, states=tuple(one._replace(pressure=0.0) for one in STATES)),)
                for j, hole in ((0, 30.0), (1, 40.0)) for column in ("shop", "cold", "hot", "fast"))
    need = 1.5 * 20000.0 / least
    assert found.break_even.startswith("holds if friction hold is at least ")
    assert float(found.break_even.rsplit(" ", 1)[1]) == pytest.approx(need, rel=6e-3)
    holds = rule(compound(*THREE, friction_hold=need * 1.01, axial_load=20000.0), "holds its load")
    slips = rule(compound(*THREE, friction_hold=need * 0.99, axial_load=20000.0), "holds its load")
    assert (holds.verdict, slips.verdict) == ("pass", "fail")


@pytest.mark.parametrize("missing", ["roughness_hole", "roughness_shaft"])
def test_missing_roughness_is_not_covered(missing: str):
    part = compound(*THREE, **{missing: None})
    for name in ("interference is kept", "fluid can't lift it", "layers stay elastic"):
        found = rule(part, name)
        assert found.verdict == "not covered"
        assert f"{missing} not given" in found.why_not


@pytest.mark.parametrize("ends", [None, "liner", "body", "stuck"])
def test_only_open_ends_are_covered(ends: str | None):
    part = compound(*THREE, ends=ends)
    for name in ("fluid can't lift it", "layers stay elastic"):
        found = rule(part, name)
        assert found.verdict == "not covered"
        assert "open ends only" in found.why_not
    assert check(part).verdict == "not covered"
    rest = compound(*THREE, ends=ends, states=STATES[:2])
    # Stuck ends raise the stresses without pressure too.
    assert check(rest).verdict == ("not covered" if ends == "stuck" else "pass")


def test_pressure_without_a_bore_and_two_temperatures_are_not_covered():
    solid = compound(layer(0.0, 30.03, STEEL), *THREE[1:])
    assert "where the pressure acts is not covered" in rule(solid, "fluid can't lift it").why_not
    apart = compound(*THREE, states=(State("start", 60.0, 40.0),))
    assert rule(apart, "interference is kept").verdict == "not covered"
    assert "layer 2: its temperature" in rule(apart, "interference is kept").why_not
    assert check(compound(layer(20.0, 30.03, STEEL), layer(30.0, 60.0, ALUMINIUM), states=(State("start", 60.0, 40.0),))).verdict == "pass"


def test_gas_proof_is_refused():
    assert check(compound(*THREE, states=(State("proof", pressure=9.0, proof=True, medium="air"),))).verdict == "refused"


# Worst case

@st.composite
def compounds(draw):
    hole = draw(st.floats(10.0, 50.0))
    layers = []
    inside = f"{draw(st.floats(0.4, 0.9)) * hole:.3f} ±0.01"
    for _ in range(draw(st.integers(1, 2))):
        fit, tight = draw(st.floats(2e-4, 2e-3)) * hole, draw(st.floats(1e-5, 3e-4)) * hole
        layers.append({"inside": inside, "outside": f"{hole + fit + tight:.4f}/{hole + fit:.4f}",
                       "material": draw(st.sampled_from(["304", "316", "6061-T6", "1045 HR"]))})
        inside = f"{hole + tight:.4f}/{hole:.4f}"
        hole *= draw(st.floats(1.15, 2.0))
    layers.append({"inside": inside, "outside": f"{hole:.2f} ±0.02", "material": draw(st.sampled_from(["304", "6061-T6", "1045 HR"]))})
    if len(layers) == 3 and draw(st.booleans()):
        layers[1]["finished"] = "outside"
    return Compound(layers=layers, length="30 ±0.2", roughness_hole="2 um", roughness_shaft="2 um",
                    friction_hold="0.08 to 0.12", ends="open", axial_load="1 kN")


def sampled(part: Part, place: float | None, count: int, seed: int):
    random = np.random.default_rng(seed)
    given_ = {}
    for key, dimension in relevant(part, "joint").items():
        if len(dimension.levels) > 1:
            levels = dimension.levels
            if dimension.words:
                given_[key] = random.choice(levels, size=(count, 1, 1)) if place is None else np.array([[[place]]])
            else:
                given_[key] = random.uniform(min(levels), max(levels), size=(count, 1, 1))
    return evaluate(part, "joint", given=given_)


@settings(max_examples=25)
@given(compounds(), st.integers(0, 2**31))
def test_no_sample_beats_the_corners(one: Compound, seed: int):
    part = Part("test", {"joint": one}, STATES)
    corners = evaluate(part, "joint")
    spans = [(value, None, found) for name, found in ranges_of(part, "joint", corners).items()
             for value in Compound.values if value.name == name and not name.endswith("_share")]
    words = {f"layer {k + 1}": k for k in range(4)} | {f"layers {k + 1}-{k + 2}": k for k in range(3)}
    spans += [(value, words[there], found) for value, there, found in told_apart(part, "joint", corners)]
    names = corners.states.names
    samples = {place: sampled(part, place, 300, seed) for place in {place for _, place, _ in spans}}
    for value, place, found in spans:
        wide = spread_out(samples[place].numbers[value.name], corners.states).reshape(-1, len(names))
        for state, span in found.items():
            column = names.index(state) if state in names[:-1] else len(names) - 1
            inside = wide[:, column][np.isfinite(wide[:, column])]
            slack = 1e-9 * max(abs(span.least or 0.0), abs(span.greatest or 0.0), 1e-6)
            # As with the press fit: the least comparison stress and closure may lie inside, and no rule uses them.
            below = slack + (2e-2 * abs((span.greatest or 0.0) - (span.least or 0.0)) if value.inside else 0.0)
            if inside.size and span.least is not None:
                assert inside.min() >= span.least - below, (value.name, place, state)
            if inside.size and span.greatest is not None:
                assert inside.max() <= span.greatest + slack, (value.name, place, state)


@settings(max_examples=15)
@given(compounds(), st.integers(0, 2**31))
def test_no_sample_breaks_a_rule_that_passed(one: Compound, seed: int):
    from fits.questions.judging import margins

    part = Part("test", {"joint": one}, STATES)
    samples = sampled(part, None, 300, seed)
    for said in check(part).features[0].checks:
        if said.verdict == "pass":
            of = margins(one, next(rule for rule in Compound.rules if rule.name == said.rule), samples)
            assert (of.margin[..., of.columns] >= -1e-9).all(), said.rule


def test_many_corners_are_searched_between_at_their_ends(monkeypatch):
    """A few corners find the ends of the comparison stress as all of them do."""
    from fits.questions import ranges

    one = Compound(layers="24 ±0.02, 26.045/26.039, 304; 26 H6, 60 ±0.1, 304", **SMOOTH)
    part = Part("test", {"joint": one}, (State("hot", 60.0, 60.0, 90.0),))
    evaluation = evaluate(part, "joint")
    whole = ranges_of(part, "joint", evaluation)["von_mises"]["hot"]
    monkeypatch.setattr(ranges, "MOST_CORNERS", 16)
    few = ranges_of(part, "joint", evaluation)["von_mises"]["hot"]
    assert whole.least > 0.0
    assert few.least == pytest.approx(whole.least, abs=1e-2 * (whole.greatest - whole.least))
    assert few.greatest == whole.greatest


# Questions

def test_the_window_of_a_layers_outside():
    part = compound(THREE[0], THREE[1], layer(40.0, 70.0, STEEL), interference_at_least=0.01, states=STATES[:1])
    found = window(part, "joint.layers.2.outside")
    (low, high) = (found.intervals[0].low, found.intervals[0].high)
    assert low.rule == "interference is kept"
    assert low.at < 40.05 < high.at
    # At the low edge 0.01 mm acts at one interface (oracle: own compliance times pressure).
    edge = compound(THREE[0], layer(30.0, low.at, ALUMINIUM), THREE[2], states=STATES[:1])
    acting = [numbers(edge, j, "shop")["effective_interference"] for j in range(2)]
    assert min(acting) == pytest.approx(0.01, abs=2e-4)
    assert high.why
    assert window(part, "joint.layers.3.outside").intervals
    with pytest.raises(InputError, match=r"layers is no number; numbers of joint: layers\.1\.inside"):
        window(part, "joint.layers")
    with pytest.raises(InputError, match=r"layers has no 4\.outside"):
        window(part, "joint.layers.4.outside")


def test_a_plunger_runs_in_the_bore_of_a_compound():
    built = compound(*THREE)
    part = Part("pump", {**built.features, "plunger": Running(
        hole=SurfaceRef("joint", "bore"), shaft="19.90 -0.005/-0.015", shaft_material="304", clearance_at_least=0.005)}, STATES)
    got = evaluate(part, "plunger").numbers["clearance"]
    bore = numbers(built, 0, "shop")["bore_in_state"]
    assert got[:, 0].min() == pytest.approx(bore - 19.895, abs=1e-9)
    assert got[:, 0].max() == pytest.approx(bore - 19.885, abs=1e-9)


# Bad input

GOOD = {"inside": "20", "outside": "30.03", "material": "304"}, {"inside": "30", "outside": "40.05", "material": "304"}, {"inside": "40", "outside": "70", "material": "304"}


@pytest.mark.parametrize(("changes", "key", "says"), [
    ({"layers": [GOOD[0]]}, "layers", "at least two layers, not 1"),
    ({"layers": [*GOOD] * 2}, "layers", "at most 4 layers"),
    ({"layers": 304}, "layers", "a list of layers is due"), ({"layers": "20, 30.03, 304"}, "layers", "at least two layers, not 1"),
    ({"layers": "20, 30.03, 304; 30 H7"}, "layers.2", "a layer is due"), ({"layers": "20, 30.03, 304; 30 H77, 40, 304"}, "layers.2.inside", "no grade 77"),
    ({"layers": [GOOD[0], "304"]}, "layers.2", "a layer is due"),
    ({"layers": GOOD[::-1]}, "layers.2.outside", "layers go from the inside out: layer 2 (30 to 40.05 mm) isn't around layer 1 (40 to 70 mm)"),
    ({"layers": [GOOD[0], GOOD[2]]}, "layers.2.inside", "can't belong together"),
    ({"layers": [GOOD[0], {"inside": "30", "outside": "40"}]}, "layers.2.material", "missing: metal of the layer"),
    ({"layers": [GOOD[0], {"outside": "40", "material": "304"}]}, "layers.2.inside", "missing: inside of the layer"),
    ({"layers": [GOOD[0], {**GOOD[1], "inside": "0"}]}, "layers.2.inside", "only the first layer can be solid"),
    ({"layers": [GOOD[0], {**GOOD[1], "outside": "?"}]}, "layers.2.outside", "can't be left open"),
    ({"layers": [GOOD[0], {**GOOD[1], "outsid": "40"}]}, "layers.2.outsid", 'did you mean "outside"'),
    ({"layers": [GOOD[0], {**GOOD[1], "material": "304X"}]}, "layers.2.material", "unknown metal"),
    ({"layers": [{**GOOD[0], "inside": "31"}, GOOD[1]]}, "layers.1.inside", "a layer needs a wall"),
    ({"layers": [{**GOOD[0], "inside": "1 ±2"}, GOOD[1]]}, "layers.1.inside", "a size is above 0"),
    ({"layers": [{**GOOD[0], "inside": "1.5/0"}, GOOD[1]]}, "layers.1.inside", "a bore with limits is above 0; a solid part has none"),
    ({"layers": [GOOD[0], {**GOOD[1], "finished": "bore"}]}, "layers.2.finished", "must be one of inside, outside, both"),
    ({"layers": [{**GOOD[0], "finished": "outside"}, *GOOD[1:]]}, "layers.1.finished", "still a free part"),
    ({"layers": [*GOOD[:2], {**GOOD[2], "finished": "inside"}]}, "layers.3.finished", "still a free part"),
    ({"layers": [GOOD[0], {**GOOD[1], "finished": "inside"}, GOOD[2]]}, "layers.2.finished", "order says what is joined first"),
    ({"layers": [{**GOOD[0], "inside": "0", "finished": "inside"}, *GOOD[1:]]}, "layers.1.finished", "a solid layer has no inside"),
    ({"layers": "?"}, "layers", "can't be left open"), ({"order": "?"}, "order", "can't be left open"),
    ({"order": "1-3"}, "order", "a stage joins two neighbours"), ({"order": "1-2"}, "order", "the stages of 3 layers are 1-2 and 2-3"),
    ({"order": "1-2, 1-2"}, "order", "each once"), ({"order": "inwards"}, "order", 'write "inside out"'),
    ({"layers": [{**GOOD[0], "inside": "0"}, *GOOD[1:]], "bore_after": "20"}, "bore_after", "the first layer is solid"),
])
def test_bad_layers_are_refused_with_one_line(changes: dict[str, Any], key: str, says: str):
    with pytest.raises(InputError) as caught:
        loader.feature(Compound, {"layers": list(GOOD), **changes}, Context())
    assert [fault.key for fault in caught.value.faults] == [key]
    assert says in str(caught.value)


FILE = """name = "bench pump"
[states.working]
temperature = "20 degC"
pressure = "8 MPa"
[sizes]
sleeve = "30 H6"
[compound.wall]
ends = "open"
length = "50"
roughness_hole = "2 um"
roughness_shaft = "2 um"
[[compound.wall.layers]]
inside = "20 ±0.02"
outside = "30.050/30.044"
material = "17-4PH H1150"
[[compound.wall.layers]]
inside = "sleeve"
outside = "40.060/40.054"
material = "17-4PH H1150"
[[compound.wall.layers]]
inside = "40 H6"
outside = "70 ±0.1"
material = "17-4PH H1150"
"""


def test_a_first_layer_without_inside_is_solid_and_has_no_bore(tmp_path: Path, fits):
    tables = loader.feature(Compound, {"layers": [{"outside": "30.03", "material": "304"}, *GOOD[1:]]}, Context())
    zero = loader.feature(Compound, {"layers": [{**GOOD[0], "inside": "0"}, *GOOD[1:]]}, Context())
    assert tables.layers == zero.layers
    assert not tables.hollow
    path = tmp_path / "wall.toml"
    plunger = '[running.plunger]\nhole = "wall.bore"\nshaft = "19.9 -0.005/-0.015"\n'
    path.write_text(FILE + plunger)
    assert fits("check", str(path)).status != 2
    path.write_text(FILE.replace('inside = "20 ±0.02"\n', "") + plunger)
    ran = fits("check", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert "running.plunger.hole" in ran.err
    assert "wall has no bore" in ran.err


def test_the_bore_and_the_outside_of_the_whole_may_be_finished_last():
    whole = loader.feature(Compound, {"layers": "20, 30.03, 304, inside; 30, 70, 304, outside"}, Context())
    steps = [one.do for one in check(Part("test", {"joint": whole}, STATES[:1])).features[0].plan]
    joined = next(at for at, do in enumerate(steps) if do.startswith("stage 1"))
    cut = [at for at, do in enumerate(steps) if "as fitted" in do]
    assert len(cut) == 2
    assert min(cut) > joined


def test_layers_of_the_library_are_taken_as_they_are():
    assert Compound(layers=list(THREE)).layers == Layers(THREE)


def test_one_shared_size_is_no_hole_and_its_shaft(fits, tmp_path: Path):
    path = tmp_path / "wall.toml"
    path.write_text(FILE.replace('"30 H6"', '"30.05/30.044"').replace('outside = "30.050/30.044"', 'outside = "sleeve"'))
    ran = fits("check", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert 'compound.wall.layers.2.inside: "sleeve": hole and shaft are two parts: each needs its own size' in ran.err


def test_a_way_out_never_is_a_layer_that_goes_with_no_other():
    """Layer 2 is loose in layer 3 by 0.1 mm: no fifth more or less of one face mends that."""
    loose = compound(THREE[0], layer(30.0, 39.9, ALUMINIUM), THREE[2], interference_at_least=0.001, states=STATES[:1])
    found = window(loose, "joint.layers.1.inside")
    assert (found.intervals, found.ways_out) == ((), ())
    assert "interference is kept (joint, shop) fails whatever joint.layers.1.inside is" in found.no_window
    # A thicker wall outside goes with all others, and so does less pressure.
    soft = metal(69000.0, 0.33, expansion=23.6e-6, density=2700.0, name="soft", least=150.0)
    thin = compound(layer(20.0, 30.02, STEEL), layer(30.0, 34.0, soft), states=(State("work", pressure=60.0),))
    ways = [one.what for one in window(thin, "joint.layers.1.outside").ways_out]
    assert len(ways) == 2
    thicker, milder = (float(re.findall(r"[\d.]+", one.partition(" ")[2])[-1]) for one in ways)
    assert ways[0].startswith("joint.layers.2.outside ")
    assert ways[1].startswith("work.pressure no further than ")
    assert thicker > 34.0
    assert milder < 60.0
    # Both are true: with either change there is a layer 1 that holds.
    for part in (compound(THREE[0], layer(30.0, thicker, soft), states=(State("work", pressure=60.0),)),
                 compound(THREE[0], layer(30.0, 34.0, soft), states=(State("work", pressure=milder),))):
        assert window(part, "joint.layers.1.outside").intervals


def test_text_and_tables_are_the_same():
    text = loader.feature(Compound, {"layers": "20, 30.03, 304; 30, 40.05, 304, outside; 40, 70, 304"}, Context())
    tables = loader.feature(Compound, {"layers": [GOOD[0], {**GOOD[1], "finished": "outside"}, GOOD[2]]}, Context())
    assert text.layers == tables.layers
    assert text.finished == {(1, "outside")}


def test_a_part_file_and_its_faults(fits, tmp_path: Path):
    path = tmp_path / "wall.toml"
    path.write_text(FILE)
    ran = fits("check", str(path), "--json")
    (wall,) = ran.json["features"].values()
    assert (ran.status, wall["verdict"]) == (0, "pass"), wall["checks"]
    assert {"contact_pressure.layers_1-2", "contact_pressure.layers_2-3", "von_mises.layer_3"} <= set(wall["values"])
    assert all("where" in one for one in wall["checks"])
    assert "sizes.sleeve" in relevant(_read(path), "wall")
    path.write_text(FILE.replace('outside = "40.060/40.054"', 'outside = "40.060/40.o54"'))
    ran = fits("check", str(path))
    assert (ran.status, ran.out) == (2, "")
    assert f"{path}:18: compound.wall.layers.2.outside:" in ran.err
    path.write_text(FILE.replace('material = "17-4PH H1150"\n[[compound.wall.layers]]\ninside = "sleeve"', '[[compound.wall.layers]]\ninside = "sleeve"'))
    ran = fits("check", str(path))
    assert ran.status == 2
    assert "compound.wall.layers.1.material: missing: metal of the layer" in ran.err
    assert len(ran.err.splitlines()) == 1


def _read(path: Path) -> Part:
    from fits.files.part import read_part

    return read_part(str(path))


def test_the_command_line(process):
    layers = '[{inside = "20 ±0.02", outside = "30.050/30.044", material = "17-4PH H1150"}, {inside = "30 H6", outside = "60", material = "17-4PH H1150"}]'
    more = ["--roughness-hole", "2 um", "--roughness-shaft", "2 um", "--ends", "open", "--state", "working: 20 degC, 8 MPa"]
    ran = process("compound", "--layers", layers, *more)
    assert (ran.status, ran.err) == (0, "")
    assert "PASS  layers stay elastic" in ran.out
    assert "working, layer 1" in ran.out
    assert max(len(line) for line in ran.out.splitlines() if "http" not in line and ".com" not in line) <= 80
    ran = process("compound", "--layers", '[{inside = "20"', *more)
    assert (ran.status, ran.out) == (2, "")
    assert "--layers" in ran.err
    assert "write [{inside" in ran.err
    ran = process("compound", "--layers", layers.replace('"60"', '"25"'), *more)
    assert ran.status == 2
    assert "--layers.2.inside: a layer needs a wall: inside 30.013 mm, outside 25 mm" in ran.err
    assert len(ran.err.splitlines()) == 1
    ran = process("compound")
    assert ran.status == 2
    assert "--layers: missing: layers from the inside out" in ran.err


def test_the_example_of_the_help_runs(fits):
    import shlex

    ran = fits(*shlex.split(Compound.example.replace("\\\n", " "))[1:])
    assert ran.status == 0, ran.out
    assert "PASS" in ran.out


def test_the_sizes_of_every_layer_are_on_the_report(fits):
    """The plan says to measure each layer inside its limits: they stand above it, as they were typed."""
    layers = "20 ±0.02, 26.045/26.039, 1045 HR; 26 H6, 60 ±0.1, 1045 HR"
    ran = fits("compound", "--length", "60", "--layers", layers, "--json")
    sizes = {one["name"]: (one["min"], one["max"]) for one in ran.json["features"]["compound"]["sizes"]}
    assert sizes == {"length": (60.0, 60.0), "layers.1.inside": (19.98, 20.02), "layers.1.outside": (26.039, 26.045),
                     "layers.2.inside": (26.0, 26.013), "layers.2.outside": (59.9, 60.1)}
    said = fits("compound", "--length", "60", "--layers", layers).out
    assert "layers 2 inside   26.013/26.000  mm" in said
    # The first of a solid part has no inside to measure.
    solid = fits("compound", "--length", "60", "--layers", "0, 26.045/26.039, 1045 HR; 26 H6, 60, 1045 HR").out
    assert "layers 1 inside" not in solid


def test_layers_from_python_take_metals_and_limits_as_they_are():
    steel, limits = metal(2.1e5, 0.3, expansion=11e-6), Limits(16.05, 16.06)
    of = Compound(layers=[{"inside": "12", "outside": limits, "material": steel}, {"inside": "16 H6", "outside": "40", "material": "1045 HR"}])
    assert of.rings[0].material is steel
    assert of.rings[0].outside is limits
