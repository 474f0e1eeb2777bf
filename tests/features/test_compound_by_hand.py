"""Every number of three layers against a matrix of Lamé's rings solved once more.

Pressures come from a full linear system of the growth of every face, not from the program's
recurrence; layers differ in metal, wall and interference, and the states in heat, pressure and speed.
"""

from __future__ import annotations

from dataclasses import replace
from math import isnan, nan, pi, sqrt
from typing import Any

import numpy as np
import pytest
from by_hand import Ring, spun, worst
from joints import metal

from fits.features.compound import Compound
from fits.features.compound.layers_field import Layer, Layers
from fits.features.feature import State
from fits.features.part import Part
from fits.questions.evaluate import Evaluation, evaluate
from fits.sizes.limits import Limits

ALPHAS = (16e-6, 12e-6, 23e-6)
METALS = (
    metal(193000.0, 0.27, expansion=16e-6, density=7900.0, least=310.0, name="liner"),
    replace(metal(207000.0, 0.29, expansion=12e-6, density=7850.0, least=420.0, name="sleeve"), ultimate=600.0),
    metal(69000.0, 0.33, expansion=23e-6, density=2700.0, least=245.0, name="body"),
)
STATES = (State("hot", 47.0, 47.0, 6.0, 350.0), State("spun", 27.0, 27.0, 0.0, 520.0), State("proof", 8.0, 8.0, 11.0, 0.0, True))
TEMPERATURES, PRESSURES, SPEEDS = (47.0, 27.0, 8.0, 20.0), (6.0, 0.0, 11.0, 0.0), (350.0, 520.0, 0.0, 0.0)
INSIDES, OUTSIDES = (17.0, 26.0, 35.0), (26.047, 35.061, 58.0)
GIVEN: dict[str, Any] = {
    "length": 43.0, "friction_hold": 0.13, "roughness_hole": 4.0, "roughness_shaft": 2.5, "axial_load": 1500.0,
    "torque": 32000.0, "safety_yield": 1.2, "safety_slip": 1.45, "joining_clearance": 0.017, "ends": "open",
}  # fmt: skip
ROUGH = 0.8 * (4.0 + 2.5) / 1000.0
PLACES = 3


def part(first: float = INSIDES[0], order: str = "inside out", **changes: Any) -> Part:
    sizes = zip((first, *INSIDES[1:]), OUTSIDES, METALS, strict=True)
    layers = Layers(tuple(Layer(Limits(i, i), Limits(o, o), of) for i, o, of in sizes))
    return Part("test", {"joint": Compound(layers=layers, order=order, **{**GIVEN, **changes})}, STATES)


def at(found: Evaluation, name: str, column: int) -> float:
    """A number of one corner in a column; one that is the same in all of them stands alone."""
    wide = np.ravel(found.numbers[name])
    return float(wide[column if len(wide) > 1 else 0])


def computed(of: Part, place: int) -> Evaluation:
    one = np.array([[[1.0]]])
    keys = {"part.pressure": one, "part.speed": one, "compound.place": place * one}
    return evaluate(of, "joint", given={**keys, **{f"joint.roughness_share_{k}": one for k in (1, 2)}})


def grown(k: int, radii: tuple[float, ...], p_in: float, p_out: float, face: int) -> float:
    """Radial growth of a layer's inside (0) or outside (1), ends free."""
    r = radii[k + face]
    if r == 0.0:
        return 0.0
    pressure = (p_in, p_out)[face]
    hoop = Ring(radii[k], radii[k + 1], p_in, p_out).hoop(r)
    of = METALS[k]
    return r / of.youngs_modulus[0] * (hoop + of.poisson * pressure)


def gap(radii: tuple[float, ...], pressures: tuple[float, ...], bore: float, j: int) -> float:
    """How far pressures move the two faces of an interface apart, radial."""
    inside = (bore, *pressures)
    outside = (*pressures, 0.0)
    return grown(j + 1, radii, inside[j + 1], outside[j + 1], 0) - grown(j, radii, inside[j], outside[j], 1)


def solved(radii: tuple[float, ...], fits: tuple[float, float], bore: float, made: tuple[int, ...] = (0, 1)) -> tuple[float, float]:
    """Interface pressures of diametral interferences; those not made have none."""
    start = [gap(radii, (0.0, 0.0), bore, j) for j in (0, 1)]
    matrix = np.array([[gap(radii, (1.0, 0.0) if i == 0 else (0.0, 1.0), 0.0, j) for i in made] for j in made])
    right = np.array([fits[j] / 2.0 - start[j] for j in made])
    found = [0.0, 0.0]
    for j, p in zip(made, np.linalg.solve(matrix, right), strict=True):
        found[j] = float(p)
    assert min(found) >= 0.0
    return found[0], found[1]


def acting(radii: tuple[float, ...], fits: tuple[float, float], bore: float, j: int) -> float:
    """The interference of one interface were it the last to be made, diametral."""
    others = solved(radii, fits, bore, (1 - j,))
    return fits[j] - 2.0 * gap(radii, others, bore, j)


def hand_fits(first: float, column: int) -> dict[str, tuple[float, float]]:
    """Heat, speed and the interferences they leave, diametral, of both interfaces."""
    rise, speed = TEMPERATURES[column] - 20.0, SPEEDS[column]
    radii = (first / 2.0, 13.0, 17.5, 29.0)
    heat = tuple(2.0 * radii[j + 1] * (ALPHAS[j] - ALPHAS[j + 1]) * rise for j in (0, 1))
    lost = []
    for j in (0, 1):
        outer = spun(METALS[j + 1], radii[j + 1], radii[j + 2], speed)[0] / METALS[j + 1].youngs_modulus[0]
        inner = spun(METALS[j], radii[j], radii[j + 1], speed)[1] / METALS[j].youngs_modulus[0]
        lost.append(2.0 * radii[j + 1] * (outer - inner))
    free = (OUTSIDES[0] - INSIDES[1], OUTSIDES[1] - INSIDES[2])
    fits = tuple(free[j] + heat[j] - lost[j] - ROUGH for j in (0, 1))
    return {"heat_gain": heat, "speed_loss": (lost[0], lost[1]), "free": free, "fits": fits}  # type: ignore[dict-item]


@pytest.mark.parametrize("column", range(4))
@pytest.mark.parametrize("first", [INSIDES[0], 0.0])
def test_every_interface_by_hand(first: float, column: int):
    radii = (first / 2.0, 13.0, 17.5, 29.0)
    bore = PRESSURES[column] if first else 0.0
    hand = hand_fits(first, column)
    wet, dry = solved(radii, hand["fits"], bore), solved(radii, hand["fits"], 0.0)
    for j in (0, 1):
        found = computed(part(first), j)
        want = {name: hand[name][j] for name in ("heat_gain", "speed_loss")}
        want |= {"effective_interference": acting(radii, hand["fits"], 0.0, j), "contact_pressure": wet[j],
                 "contact_with_fluid": wet[j], "fluid_pressure": PRESSURES[column]}  # fmt: skip
        hole = 2.0 * radii[j + 1]
        capacity = 0.13 * min(wet[j], dry[j]) * pi * hole * 43.0
        want |= {"axial_capacity": capacity, "torque_capacity": capacity * hole / 2.0,
                 "slip_demand": 1.45 * sqrt(1500.0**2 + (2.0 * 32000.0 / hole) ** 2)}  # fmt: skip
        for name, number in want.items():
            assert at(found, name, column) == pytest.approx(number, rel=1e-9, abs=1e-10), name
        assert at(found, "interference", 3) == pytest.approx(hand["free"][j], rel=1e-9)
        assert at(found, "roughness_loss", 3) == pytest.approx(ROUGH, rel=1e-12)


@pytest.mark.parametrize("column", range(4))
@pytest.mark.parametrize("first", [INSIDES[0], 0.0])
def test_every_layer_by_hand(first: float, column: int):
    radii = (first / 2.0, 13.0, 17.5, 29.0)
    bore, speed = PRESSURES[column] if first else 0.0, SPEEDS[column]
    pressures = solved(radii, hand_fits(first, column)["fits"], bore)
    inside, outside = (bore, *pressures), (*pressures, 0.0)
    for k in range(PLACES):
        ring = Ring(radii[k], radii[k + 1], inside[k], outside[k])
        at_bore, at_outside = spun(METALS[k], radii[k], radii[k + 1], speed)
        if radii[k] == 0.0:
            # A spinning bar: radial and hoop alike in its middle.
            at_bore = (3.0 + METALS[k].poisson) / 8.0 * 7900.0e-12 * speed**2 * radii[1] ** 2
            hoops = ring.hoop(1.0) + at_bore, ring.hoop(radii[1]) + at_outside
            radial = hoops[0]
        else:
            hoops = ring.hoop(radii[k]) + at_bore, ring.hoop(radii[k + 1]) + at_outside
            radial = -inside[k]
        pull = 1500.0 / ring.area()
        shear = [ring.shear(32000.0, r) for r in radii[k : k + 2]]
        stress = max(worst(radial, hoops[0], 0.0, pull, shear[0]), worst(-outside[k], hoops[1], 0.0, pull, shear[1]))
        found = computed(part(first), k)
        want = {"hoop_inside": hoops[0], "hoop_outside": hoops[1], "von_mises": stress, "stress": stress,
                "allowed": (310.0, 420.0, 245.0)[k] / 1.2}  # fmt: skip
        for name, number in want.items():
            assert at(found, name, column) == pytest.approx(number, rel=1e-9), name


@pytest.mark.parametrize("column", range(4))
def test_bore_and_outside_by_hand(column: int):
    radii = (8.5, 13.0, 17.5, 29.0)
    bore, speed, rise = PRESSURES[column], SPEEDS[column], TEMPERATURES[column] - 20.0
    pressures = solved(radii, hand_fits(17.0, column)["fits"], bore)
    found = computed(part(bore_after="17 +0.01/-0.02"), 0)
    out = 29.0 / 69000.0 * spun(METALS[2], 17.5, 29.0, speed)[1] + grown(2, radii, pressures[1], 0.0, 1)
    closes = 8.5 / 193000.0 * spun(METALS[0], 8.5, 13.0, speed)[0] + grown(0, radii, bore, pressures[0], 0)
    want = {"outside_growth": 2.0 * out, "bore_closure": -2.0 * closes, "bore_in_state": 17.0 * (1.0 + 16e-6 * rise) + 2.0 * closes}
    for name, number in want.items():
        assert at(found, name, column) == pytest.approx(number, rel=1e-9), name
    if column == 3:
        assert found.numbers["fitted_bore"].shape[-1] == 1
        assert at(found, "fitted_bore", 3) == pytest.approx(want["bore_in_state"], rel=1e-12)
        assert (at(found, "bore_after_least", 3), at(found, "bore_after_most", 3)) == pytest.approx((16.98, 17.01), rel=1e-12)


@pytest.mark.parametrize(("order", "first_made"), [("inside out", 0), ("outside in", 1), ("2-3, 1-2", 1)])
def test_what_each_stage_meets_when_it_is_joined(order: str, first_made: int):
    """The second stage meets what the first has swollen or squeezed."""
    radii = (8.5, 13.0, 17.5, 29.0)
    free = hand_fits(17.0, 3)["free"]
    second = 1 - first_made
    met = [0.0, 0.0]
    met[first_made] = free[first_made]
    met[second] = acting(radii, free, 0.0, second)
    for j in (0, 1):
        found = computed(part(order=order), j)
        assert at(found, "joining_interference", 3) == pytest.approx(met[j], rel=1e-9)
        assert at(found, "wanted_gap", 3) == pytest.approx(0.017, rel=1e-12)
        strain = (met[j] + 0.017) / (2.0 * radii[j + 1])
        hot, cold = 20.0 + strain / ALPHAS[j + 1], 20.0 - strain / ALPHAS[j]
        # The part of two different metals isn't heated or chilled by one expansion.
        if j != first_made:
            hot, cold = (nan, cold) if j == 0 else (hot, nan)
        for name, number in (("heat_outer_to", hot), ("chill_inner_to", cold)):
            beyond = isnan(number) or not -100.0 <= number <= 400.0
            assert at(found, name, 3) == pytest.approx(nan if beyond else number, rel=1e-9, nan_ok=True), name


def test_the_joining_clearance_of_each_interface_is_a_thousandth_of_it():
    for j, hole in enumerate((26.0, 35.0)):
        assert at(computed(part(joining_clearance=None), j), "wanted_gap", 3) == pytest.approx(0.001 * hole, rel=1e-12)


def test_roughness_is_lost_at_each_interface_by_its_own_share():
    one = np.array([[[1.0]]])
    shares = {"joint.roughness_share_1": 0.25 * one, "joint.roughness_share_2": 0.75 * one}
    for j, share in enumerate((0.25, 0.75)):
        found = evaluate(part(), "joint", given={"compound.place": j * one, **shares})
        assert float(np.ravel(found.numbers["roughness_loss"])[0]) == pytest.approx(share * ROUGH, rel=1e-12)


def test_a_brittle_layer_is_its_largest_tension():
    """The sleeve as cast: hoop at its faces or load over area, against half of its ultimate."""
    cast = replace(METALS[1], brittle=True, typed=frozenset({"ultimate_strength", "expansion", "youngs_modulus"}))
    sizes = zip(INSIDES, OUTSIDES, (METALS[0], cast, METALS[2]), strict=True)
    layers = Layers(tuple(Layer(Limits(i, i), Limits(o, o), of) for i, o, of in sizes))
    brittle = Part("test", {"joint": Compound(layers=layers, **GIVEN)}, STATES)
    whole = computed(part(), 1)
    found = computed(brittle, 1)
    for column in range(4):
        hoops = max(at(whole, "hoop_inside", column), at(whole, "hoop_outside", column))
        pull = 1500.0 / (pi * (17.5**2 - 13.0**2))
        assert at(found, "stress", column) == pytest.approx(max(hoops, pull), rel=1e-9)
        assert at(found, "von_mises", column) == pytest.approx(at(whole, "von_mises", column), rel=1e-12)
        assert at(found, "allowed", column) == 300.0


def test_which_interface_a_face_belongs_to():
    """Of three layers (0 to 2) the first interface is layer 0's outside and layer 1's inside, the second 1's outside and 2's inside."""
    from fits.features.compound.plan import _own

    of = part().features["joint"]
    assert [_own(of, k, face) for k in range(3) for face in ("inside", "outside")] == [None, 0, 0, 1, 1, None]
