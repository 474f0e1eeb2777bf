"""Plans of press, compound, bonded and dowel fits, and what else would hold: from made-up ranges of values.

Limits are asymmetric, so that each number shows which of both ends it was counted from.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt
from typing import Any

import pytest
from joints import metal

from fits.features.beside import Alternative, Need, Step
from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.compound.layers_field import Layer, Layers, Order
from fits.features.dowel import Dowel
from fits.features.feature import State, States
from fits.features.press import Press
from fits.features.press.alternatives import alternatives
from fits.features.press.plan import plan
from fits.features.press.soaking import by_rule, soak
from fits.materials.metals import Metal
from fits.materials.metals import metal as of_table
from fits.sizes.limits import Limits

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=260.0, name="hub metal")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=410.0, name="inner metal")
STATES = States.of((State("hot", 74.0, 51.0), State("hotter", 60.0, 83.0)))
GIVEN: dict[str, Any] = {
    "hole": "30.04/30.01", "shaft": "30.09/30.07", "shaft_bore": "19.06/19.02", "hub_outside": "53.3/52.9", "length": "37.4/36.8",
    "hub_material": HUB, "shaft_material": INNER, "safety_slip": 1.3,
}  # fmt: skip
SPANS = {
    "slip_demand": (1300.0, 2600.0), "heat_gain": (-0.031, 0.012), "end_thrust": (50.0, 700.0), "hub_allowed": (240.0, 255.0),
    "shaft_allowed": (380.0, 400.0),
}  # fmt: skip


def others(spans: dict[str, tuple[float, float]] = SPANS, gaps: tuple[str, ...] = (), **changes: Any) -> dict[str, Alternative]:
    return {one.name: one for one in alternatives(Press(**{**GIVEN, **changes}), spans, frozenset(gaps), STATES)}


def needs(one: Alternative) -> dict[str, tuple[float, str, int, str]]:
    return {need.label: tuple(need)[1:] for need in one.needs}


def less(*names: str) -> dict[str, tuple[float, float]]:
    return {name: span for name, span in SPANS.items() if name not in names}


# Alternatives

def test_what_a_bond_would_need():
    bond = others()["bonded slip fit"]
    # Least hole and least length carry it; the demand without the safety against slipping, twice.
    assert needs(bond) == {
        "shear strength when hottest, with factor 2,": (pytest.approx(2.0 * 2000.0 / (pi * 30.01 * 36.8)), "pressure", 2, "at least"),
        "heat limit of the compound": (83.0, "temperature", 0, "at least"),
        "heat opens its gap by": (0.031, "length", 4, ""),
        # Of the middle of the hole, over half of the greatest length.
        "heat makes its ends slide by": (pytest.approx(0.031 / 30.025 * 37.4 / 2.0), "length", 4, ""),
    }
    assert [need.label for need in bond.needs][:2] == ["shear strength when hottest, with factor 2,", "heat limit of the compound"]
    assert bond.unknown == (
        "gap window, strength hot and cure of the compound: its data sheet (people report gaps of 0.05 to 0.13 mm (0.002 to 0.005 in), "
        "heat limits of 150 to 180 degC)",
    )
    assert bond.ask == "fits bonded -h"


@pytest.mark.parametrize(("spans", "changes", "labels", "first"), [
    (less("slip_demand"), {}, {"heat limit of the compound", "heat opens its gap by", "heat makes its ends slide by"}, "its strength: no load, torque or pressure is given"),
    ({**SPANS, "slip_demand": (0.0, 0.0)}, {}, {"heat limit of the compound", "heat opens its gap by", "heat makes its ends slide by"}, "its strength: no load, torque or pressure is given"),
    (SPANS, {"length": None}, {"heat limit of the compound", "heat opens its gap by"}, "its strength: length not given"),
    # What gains by heat closes the gap: nothing opens, but the ends slide.
    ({**SPANS, "heat_gain": (0.004, 0.012)}, {}, {"shear strength when hottest, with factor 2,", "heat limit of the compound", "heat makes its ends slide by"}, "gap window"),
    ({**SPANS, "heat_gain": (0.0, 0.0)}, {}, {"shear strength when hottest, with factor 2,", "heat limit of the compound"}, "gap window"),
])  # fmt: skip
def test_what_of_a_bond_is_not_known(spans: dict[str, tuple[float, float]], changes: dict[str, Any], labels: set[str], first: str):
    bond = others(spans, **changes)["bonded slip fit"]
    assert set(needs(bond)) == labels
    assert bond.unknown[0].startswith(first)


def test_heat_that_is_not_known_is_said():
    bond = others(less("heat_gain"))["bonded slip fit"]
    assert bond.unknown[-1] == "how far heat opens the gap"
    assert set(needs(bond)) == {"shear strength when hottest, with factor 2,", "heat limit of the compound"}
    assert "sleeve that grows like the inner part" not in others(less("heat_gain"))


def test_what_a_shoulder_and_a_flange_would_need():
    found = others(axial_load="1100 N to 21300 N")
    force = 21300.0 + 700.0
    bears = 240.0 / 1.5
    left = sqrt(30.01**2 - 4.0 * force / (pi * bears))
    assert needs(found["shoulder"]) == {
        "it takes along the axis": (force, "force", 0, ""),
        "height beyond chamfer and corner radius": (pytest.approx((30.01 - left) / 2.0), "length", 2, "at least"),
    }
    assert found["shoulder"].unknown == ("bending and corner stress of its root",)
    flange = found["flanged inner part"]
    assert needs(flange) == {
        "it takes along the axis": (force, "force", 0, ""),
        # Out from the greatest hole; sheared off the least outside, at 1/sqrt(3) of what it bears.
        "outside of the flange, beyond the chamfer": (pytest.approx(sqrt(30.04**2 + 4.0 * force / (pi * bears))), "length", 2, "at least"),
        "its thickness, by shear alone": (pytest.approx(force * sqrt(3.0) / (pi * 30.07 * bears)), "length", 2, "at least"),
    }
    assert flange.unknown == ("bending and corner stress of the flange",)
    clamp = found["bolted flange or split clamp"]
    assert needs(clamp) == {"it takes along the axis": (force, "force", 0, ""), "preload of all bolts together": (1.5 * force, "force", 0, "at least")}
    assert clamp.unknown == ("bolts, threads in the body and bending of the flange",)


def test_the_end_of_a_tube_is_all_there_is_to_stand_on():
    """The ring left inside the shoulder may not reach the greatest bore: just beside that."""
    most = (30.01**2 - 19.06**2) * pi / 4.0 * 240.0 / 1.5
    for force, enough in ((most * 0.9999, True), (most * 1.0001, False)):
        step = others({**SPANS, "end_thrust": (0.0, 0.0)}, axial_load=force)["shoulder"]
        assert ("height beyond chamfer and corner radius" in needs(step)) is enough
        said = "no height is enough: the end of the inner part is too small for this force"
        assert (said in step.unknown) is not enough
        assert step.unknown[-1] == "bending and corner stress of its root"
    # A solid one has all of its end.
    whole = others({**SPANS, "end_thrust": (0.0, 0.0)}, axial_load=most * 1.0001, shaft_bore=None)["shoulder"]
    assert "height beyond chamfer and corner radius" in needs(whole)


@pytest.mark.parametrize(("changes", "spans", "gaps", "unknown"), [
    ({"hub_material": replace(HUB, yield_minimum=None)}, SPANS, (), ["least yield of hub metal"]),
    ({"shaft_material": replace(INNER, yield_minimum=None)}, SPANS, (), ["least yield of inner metal"]),
    ({}, less("shaft_allowed"), (), ["yield of inner metal in some state"]),
    ({}, SPANS, ("hub_allowed",), ["yield of hub metal in some state"]),
    ({}, SPANS, ("hub_allowed", "shaft_allowed"), ["yield of hub metal in some state", "yield of inner metal in some state"]),
    ({}, SPANS, ("end_thrust",), []),
])  # fmt: skip
def test_a_yield_that_is_not_known_bears_nothing(changes: dict[str, Any], spans: dict[str, tuple[float, float]], gaps: tuple[str, ...], unknown: list[str]):
    for name, root in (("shoulder", "its root"), ("flanged inner part", "the flange")):
        one = others(spans, gaps, axial_load=900.0, **changes)[name]
        assert list(one.unknown) == [*unknown, f"bending and corner stress of {root}"]
        assert (list(needs(one)) == ["it takes along the axis"]) is bool(unknown)


def test_the_softer_part_bears():
    soft = others({**SPANS, "hub_allowed": (390.0, 395.0)}, axial_load=900.0)["flanged inner part"]
    assert needs(soft)["its thickness, by shear alone"][0] == pytest.approx(1600.0 * sqrt(3.0) / (pi * 30.07 * 380.0 / 1.5))


def test_which_alternatives_there_are():
    always = ["bonded slip fit", "bolted flange or split clamp"]
    assert list(others(less("end_thrust", "heat_gain"))) == always
    assert list(others({**less("heat_gain"), "end_thrust": (0.0, 0.5)})) == ["bonded slip fit", "shoulder", "flanged inner part", "bolted flange or split clamp"]
    clamp = others(less("end_thrust"))["bolted flange or split clamp"]
    assert (clamp.needs, clamp.unknown) == ((), ("no force along the axis is given",))
    assert list(others({**less("end_thrust"), "heat_gain": (-1e-9, 0.0)})) == [*always, "sleeve that grows like the inner part"]
    assert "key or dowel in the joint" not in others(torque="0 N*m")


def test_what_torque_adds():
    found = others(torque="3 N*m to 17 N*m")
    # On the least hole, at the greatest torque.
    assert found["key or dowel in the joint"].needs == (Need("force around at the hole", 2.0 * 17000.0 / 30.01, "force", 0),)
    assert found["shoulder"].unknown == ("bending and corner stress of its root; it holds no torque",)
    assert found["flanged inner part"].unknown == ("bending and corner stress of the flange; it holds no torque",)
    assert found["bolted flange or split clamp"].unknown[0].endswith("; friction of the flange is not counted for torque")


def test_a_sleeve_takes_the_loss_away():
    sleeve = others()["sleeve that grows like the inner part"]
    assert sleeve.needs == (Need("it takes away a loss to heat of", 0.031, "length", 4),)
    assert sleeve.unknown[0] == "how a sleeve of inner metal or the like is itself held in hub metal (flange, thread, shoulder)"


# Plans of a press fit

RANGES = {
    "press_force": (1210.0, 4830.0), "push_out_force": (640.0, 3300.0), "heat_hub_to": (91.0, 143.0), "chill_shaft_to": (-87.0, -41.0),
    "bore_closure": (0.0132, 0.0281), "bore_in_state": (19.0117, 19.0448),
}  # fmt: skip


def steps(ranges: dict[str, tuple[float, float]] = RANGES, **changes: Any) -> tuple[Step, ...]:
    return plan(Press(**{**GIVEN, **changes}), ranges)


def first_words(of: tuple[Step, ...]) -> list[str]:
    return [" ".join(one.do.split()[:2]).rstrip(",") for one in of]


@pytest.mark.parametrize(("changes", "lacks", "words"), [
    ({}, (), ["deburr, clean", "give the", "press in", "heat the", "chill the", "let it"]),
    ({"assembly": "pressed"}, (), ["deburr, clean", "give the", "press in", "let it"]),
    ({"assembly": "pressed on oil"}, (), ["deburr, clean", "give the", "press in", "let it"]),
    ({"assembly": "pressed"}, ("press_force",), ["deburr, clean", "let it"]),
    ({"assembly": "heated"}, (), ["deburr, clean", "heat the", "let it"]),
    ({"assembly": "heated"}, ("heat_hub_to",), ["deburr, clean", "let it"]),
    ({"assembly": "chilled"}, (), ["deburr, clean", "chill the", "let it"]),
    ({"assembly": "chilled"}, ("chill_shaft_to",), ["deburr, clean", "let it"]),
    ({"heat_to": 120.0}, (), ["deburr, clean", "heat the", "let it"]),
    ({"chill_to": -70.0}, (), ["deburr, clean", "chill the", "let it"]),
    ({"heat_to": 120.0, "chill_to": -70.0}, (), ["deburr, clean", "heat the", "chill the", "let it"]),
    ({"shaft_bore": None, "assembly": "pressed"}, (), ["deburr, clean", "give the", "press in"]),
    ({"assembly": "pressed"}, ("bore_closure",), ["deburr, clean", "give the", "press in"]),
])  # fmt: skip
def test_which_steps_a_press_fit_has(changes: dict[str, Any], lacks: tuple[str, ...], words: list[str]):
    assert first_words(steps({name: of for name, of in RANGES.items() if name not in lacks}, **changes)) == words


def test_the_forces_on_the_way_in():
    lead, press = steps(assembly="pressed")[1:3]
    # The cube root of 30.025 is 3.1; what presses in, a quarter and a half of it.
    assert lead.range == "at most 5 degrees, about 3.1 mm long"
    assert press.do == "press in square, in one stroke, about 2 mm/s, and watch the force"
    assert press.range == "302 to 1208 N at 1/4; 605 to 2415 N at 1/2; 1210 to 4830 N at full depth (37 mm)"
    # Less than must push it out again is too loose, or less than the sums have it go in with.
    assert press.stop_if == "the force passes 4830 N, jumps, or the part tilts; less than 640 N at full depth: too loose, press out and measure"
    alone = {name: of for name, of in RANGES.items() if name != "push_out_force"}
    unknown = steps(alone, assembly="pressed", length=None)[2]
    assert unknown.range == "302 to 1208 N at 1/4; 605 to 2415 N at 1/2; 1210 to 4830 N at full depth (full depth)"
    for ranges in (alone, {**RANGES, "push_out_force": (1300.0, 5000.0)}):
        assert "less than 1210 N at full depth" in steps(ranges, assembly="pressed")[2].stop_if


def test_the_force_at_the_end_of_each_slice():
    """By Lamé at the middles of all sizes: p = delta/D of each outside, times its length."""
    slices = [{"length": "12.4/11.6", "outside": "41.4/41"}, {"length": "25.2/25", "outside": "53.3/52.9"}, {"length": "6", "outside": "70"}]
    given = {"hub_outside": None, "length": None, "slices": slices, "assembly": "pressed"}

    def stiff(outside: float) -> float:
        c, a, b = 30.025 / 2.0, 19.04 / 2.0, outside / 2.0
        hub = c / 71000.0 * ((b * b + c * c) / (b * b - c * c) + 0.33)
        return hub + c / 197000.0 * ((c * c + a * a) / (c * c - a * a) - 0.29)

    forces = [length / stiff(outside) for length, outside in ((12.0, 41.2), (25.1, 53.1), (6.0, 70.0))]
    shares = [sum(forces[: one + 1]) / sum(forces) for one in range(3)]
    press = steps(**given)[2]
    assert press.do.startswith("press in square from slice 1 on, in one stroke")
    want = [f"{round(1210.0 * share)} to {round(4830.0 * share)} N at {depth} mm (end of slice {one})"
            for one, (share, depth) in enumerate(zip(shares, (12, 37, 43), strict=True), 1)]
    assert press.range == "; ".join(want)


def test_heating_and_chilling_alone():
    heat = steps(assembly="heated")[1]
    # The most that any hub needs; the least that any inner part is chilled to. Walls: 1.5 x (53.3 - 30.01).
    assert heat.range == (
        "hub at 143 degC, at least 35 min (3 min for each mm of wall: 35 min; no specific heat of hub metal to reckon it by), "
        "for the joining clearance (ask whether its metal and temper stand that)"
    )
    assert steps(assembly="chilled")[1].range == "inner part at -87 degC"
    known = steps(assembly="heated", hub_material=replace(HUB, heating_limit=143.0))[1]
    assert known.range.endswith("for the joining clearance")
    spoilt = steps(assembly="heated", hub_material=replace(HUB, heating_limit=142.9))[1]
    assert spoilt.range == "it would need 143 degC, and hub metal stands 143 degC"
    assert spoilt.do.startswith("do not join by heating alone")


def test_hot_and_cold_by_typed_temperatures():
    ranges = {**RANGES, "joining_gap": (0.0213, 0.0519), "seconds_in_air": (33.0, 61.0), "seconds_in_hole": (1.26, 2.9)}
    found = steps(ranges, heat_to="118 degC to 126 degC", chill_to="-74 degC to -66 degC")
    assert found[1].range.startswith("118 degC, at least 35 min")
    assert found[2].range == "inner part at -66 degC"
    assert found[3].range == "gap at least 0.021 mm, 33 s in still air, then 1.3 s in the hole if it runs true"
    del ranges["seconds_in_air"]
    assert steps(ranges, heat_to=120.0)[2].range == "gap at least 0.021 mm, then 1.3 s in the hole if it runs true"
    del ranges["seconds_in_hole"]
    assert steps(ranges, heat_to=120.0)[2].range == "gap at least 0.021 mm"


def test_what_an_aged_temper_is_told_at_its_hottest():
    aged = of_table("6061-T6")
    for heat, said in (("95 degC to 105 degC", True), ("95 degC to 100 degC", False)):
        heating = steps(heat_to=heat, hub_material=aged)[1]
        assert ("every hour above 100 degC counts" in heating.range) is said
    assert "every hour above 100 degC counts" in steps(assembly="heated", hub_material=aged)[1].range


def test_the_bore_afterwards():
    assert steps(assembly="pressed")[-1].range == "it closes by 0.0132 to 0.0281 mm, to 19.012 to 19.045 mm"
    alone = {name: of for name, of in RANGES.items() if name != "bore_in_state"}
    assert steps(alone, assembly="pressed")[-1].range == "it closes by 0.0132 to 0.0281 mm"


@pytest.mark.parametrize(("changes", "minutes"), [
    ({}, 1.5 * (53.3 - 30.01)), ({"hub_outside": "30.5"}, 1.0),  # never under a minute
    ({"hub_outside": None, "length": None, "slices": [{"length": "9", "outside": "44"}, {"length": "9", "outside": "61.2/61"}]}, 1.5 * (61.2 - 30.01)),
])  # fmt: skip
def test_minutes_by_the_rule(changes: dict[str, Any], minutes: float):
    assert by_rule(Press(**{**GIVEN, **changes})) == pytest.approx(minutes)


def test_the_longer_of_rule_and_balance():
    """A hub of 1 mm is warm through by the balance later than by the rule: rho c (V/A)/10 ln 20."""
    from math import log

    hub = of_table("6061-T6")
    thin = soak(Press(**{**GIVEN, "hole": "30", "hub_outside": "32", "hub_material": hub}), 21.0)
    assert thin.minutes == pytest.approx(hub.density * 943.0 * 0.0005 / 10.0 * log(20.0) / 60.0)
    assert by_rule(Press(**{**GIVEN, "hole": "30", "hub_outside": "32", "hub_material": hub})) == 3.0
    assert soak(Press(**{**GIVEN, "hub_material": replace(hub, density=None)}), 90.0).how.endswith("no specific heat of 6061-T6 to reckon it by")
    # Biot number 0.1 with a film of 10 and 154.4 W/(m K): a depth of 1544 mm, a wall of twice that.
    for wall, thick in ((2.0 * 1544.0 - 1.0, False), (2.0 * 1544.0 + 1.0, True)):
        found = soak(Press(**{**GIVEN, "hole": "30", "hub_outside": str(30.0 + 2.0 * wall), "hub_material": hub}), 90.0)
        assert found.how.endswith("too thick to reckon with one temperature") is thick


# Plans of the others

def layers(*metals: Metal, finished: tuple[tuple[str, ...], ...] = ((), (), ())) -> Layers:
    sizes = ((17.0, 26.05), (26.0, 35.09), (35.0, 58.0))
    return Layers(tuple(Layer(Limits(i, i + 0.01, i), Limits(o - 0.01, o), of, cut) for (i, o), of, cut in zip(sizes, metals, finished, strict=True)))


def test_the_stages_of_a_compound():
    hard = replace(HUB, heating_limit=150.0)
    of = Compound(layers=layers(INNER, hard, HUB, finished=((), ("outside",), ())), order=Order("inside out"))
    ranges = {"heat_outer_to.layers_1-2": (80.0, 151.0), "heat_outer_to.layers_2-3": (70.0, 122.0), "chill_inner_to.layers_1-2": (-63.0, -22.0),
              "bore_closure": (0.011, 0.023)}  # fmt: skip
    found = of.plan(ranges, STATES)
    assert [one.do[:24] for one in found] == [
        "deburr, clean, let all l", "stage 1: heat layer 2, o", "let it come to 20 degC, ", "stage 2: heat layer 3, o", "let it come to 20 degC a",
    ]  # fmt: skip
    assert found[1].do.startswith("stage 1: heat layer 2, or chill layer 1, all through, and put layer 1 in")
    assert found[2].do.endswith("then finish the outside of layer 2 as fitted")
    assert found[3].do.startswith("stage 2: heat layer 3, or chill layers 1 to 2, all through, and put layers 1 to 2 in")
    assert found[1].range == "by heat alone it would need 151 degC, and its metal stands 150 degC, or layer 1 at -63 degC"
    assert found[2].range == "35.0800 to 35.0900 mm"
    assert found[3].range == "layer 3 at 122 degC (ask whether its metal and temper stand that)"
    assert found[4].range == "it closes by 0.0110 to 0.0230 mm in all"
    assert of.plan({}, STATES)[1].range == "not by heat or cold alone"
    assert len(of.plan({}, STATES)) == 4
    outside_in = Compound(layers=layers(INNER, hard, hard), order=Order("outside in"))
    stage = [one for one in outside_in.plan({**ranges, "heat_outer_to.layers_1-2": (80.0, 150.0)}, STATES) if one.do.startswith("stage")]
    assert stage[0].do.startswith("stage 1: heat layer 3, or chill layer 2, all through")
    assert stage[1].do.startswith("stage 2: heat layers 2 to 3, or chill layer 1, all through")
    # As hot as the metal stands is as hot as it may be.
    assert stage[1].range == "layers 2 to 3 at 150 degC, or layer 1 at -63 degC"


def test_faces_of_the_whole_are_cut_last():
    of = Compound(layers=layers(INNER, HUB, HUB, finished=(("inside",), (), ("outside",))), order=Order("inside out"))
    found = of.plan({"bore_closure": (0.01, 0.02)}, STATES)
    assert [one.do.partition(", then ")[2] for one in found[-2:]] == ["finish the inside of layer 1 as fitted", "finish the outside of layer 3 as fitted"]
    # A bore that is finished as fitted isn't measured for what it closed by.
    assert not any(one.tool == "bore gauge" for one in found)


@pytest.mark.parametrize(("changes", "said"), [
    ({}, "the load it must hold"), ({"axial_load": "300 N to 810 N"}, "810 N"), ({"ends": "body", "axial_load": 810.0}, "810 N"),
    # 30.04 mm at 6 MPa is 4252 N; a sealed diameter of up to 33.5 mm 5289 N.
    ({"pressed": 6.0}, f"{pi / 4.0 * 30.04**2 * 6.0:.0f} N"), ({"pressed": 6.0, "axial_load": 810.0}, f"{810.0 + pi / 4.0 * 30.04**2 * 6.0:.0f} N"),
    ({"pressed": 6.0, "thrust_diameter": "33.5/33"}, f"{pi / 4.0 * 33.5**2 * 6.0:.0f} N"), ({"pressed": 6.0, "ends": "body"}, "the load it must hold"),
])  # fmt: skip
def test_a_bond_is_proved_by_pushing(changes: dict[str, Any], said: str):
    states = States.of((State("low", pressure=changes.pop("pressed", 0.0)), State("off")))
    bond = Bonded(**{**{key: value for key, value in GIVEN.items() if key != "safety_slip"}, "shaft": "29.95/29.9", **changes})
    assert bond.plan({}, states)[-1].range == f"the part is to stand still at {said}"


@pytest.mark.parametrize(("changes", "words"), [
    ({}, ["ream the", "ream the", "let the", "press the", "put the"]), ({"tight_through": True}, ["ream the", "ream the", "press the", "put the"]),
    ({"second": "slot"}, ["ream the", "ream the", "mill the", "let the", "press the", "put the"]),
    ({"tight_hole": None}, ["ream the", "let the", "put the"]), ({"free_hole": None, "pin": "8.012/8.004"}, ["ream the", "let the", "press the", "put the"]),
    ({"tight_through": False}, ["ream the", "ream the", "let the", "press the", "put the"]),
])  # fmt: skip
def test_which_steps_a_dowel_has(changes: dict[str, Any], words: list[str]):
    of = Dowel(**{"pin": "8.012/8.004", "tight_hole": "8.001/7.993", "free_hole": "8.031/8.02", **changes})
    assert first_words(of.plan({}, STATES)) == words


def test_how_tight_a_dowel_is_pressed():
    found = Dowel(pin="8.012/8.004", tight_hole="8.001/7.993", free_hole="8.031/8.02").plan({}, STATES)
    # Least pin in the greatest hole, greatest pin in the least.
    assert found[3].range == "tight by 0.0030 mm to 0.0190 mm"
    assert found[0].do.startswith("ream the tight hole (undersize reamer that measures 7.99")
    assert found[1].do.startswith("ream the free hole (oversize reamer that measures 8.0")
    tiny = Dowel(pin="8.012/8.004", tight_hole="8.001/8.0009", free_hole="8.031/8.02").plan({}, STATES)
    assert tiny[0].do == "ream the tight hole (bore or hone it, no reamer holds so little; fits reamed plans it)"
