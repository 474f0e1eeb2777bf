"""Joining against the clock, a liner with fluid behind it, surroundings, tempers, ports: plain floats.

Typed metals carry the names of metals of the table, whose specific heat and conductivity they take:
6061-T6 943 J/(kg K) (752 in the cold) and 154.4 W/(m K), 304 470.5 (386) and 15.13, 316 468 (390) and
13.4, C11000 385 (335) and 391 (tables/metals/heat).
"""

from __future__ import annotations

from dataclasses import replace
from math import exp, isnan, log, nan, pi
from typing import Any

import numpy as np
import pytest
from joints import metal, numbers, press_part

from fits.features import lasting
from fits.features.feature import State
from fits.features.press import Press, bearing
from fits.materials.metals import Metal
from fits.materials.metals import metal as of_table
from fits.questions.evaluate import evaluate

BODY = metal(69000.0, 0.33, expansion=23e-6, density=2700.0, least=260.0, name="6061-T6")
LINER = metal(193000.0, 0.29, expansion=16e-6, density=7900.0, least=210.0, name="316")
COPPER = replace(LINER, name="C11000")
ALPHA_BODY, ALPHA_LINER = 23e-6, 16e-6
# Thin walls, so that one temperature describes them.
GIVEN: dict[str, Any] = {
    "hole": 12.7, "shaft": 12.72, "shaft_bore": 11.9, "hub_outside": 15.3, "hub_material": BODY, "shaft_material": LINER,
    "ends": "open", "cracking_stress": 100.0,
}  # fmt: skip
FIT = 0.02


def made(**changes: Any) -> dict[str, float]:
    return numbers(press_part((State("shop"),), **{**GIVEN, **changes}), 0)


def constant(density: float, heat: float, depth: float) -> float:
    """Rho c (V/A)/h with the film of 20 W/(m2 K); depth in mm, s."""
    return density * heat * depth / 1000.0 / 20.0


TAU_BODY = constant(2700.0, 943.0, (15.3 - 12.7) / 4.0)
TAU_LINER = constant(7900.0, 468.0, (12.7 - 11.9) / 4.0)


def gap(hub: float, inner: float, fit: float = FIT) -> float:
    return 12.7 * (ALPHA_BODY * (hub - 20.0) - ALPHA_LINER * (inner - 20.0)) - fit


# The clock

@pytest.mark.parametrize("hot", [110.0, 180.0])
def test_a_heated_hub_grips_in_air_when_it_has_cooled_to_its_interference(hot: float):
    got = made(heat_to=hot)
    assert got["joining_gap"] == pytest.approx(gap(hot, 20.0), rel=1e-9)
    # exp(-t/tau) of the rise is what the interference needs.
    assert got["seconds_in_air"] == pytest.approx(TAU_BODY * log(12.7 * ALPHA_BODY * (hot - 20.0) / FIT), rel=1e-6)
    assert got["hub_heated_to"] == hot


def test_a_chilled_part_grips_in_air_when_it_has_warmed():
    got = made(chill_to=-95.0, shaft=12.715)
    assert got["joining_gap"] == pytest.approx(gap(20.0, -95.0, 0.015), rel=1e-9)
    # In the cold the mean specific heat down to -196 degC counts: 390.
    cold = constant(7900.0, 390.0, (12.7 - 11.9) / 4.0)
    assert got["seconds_in_air"] == pytest.approx(cold * log(12.7 * ALPHA_LINER * 115.0 / 0.015), rel=1e-6)


def test_hot_and_cold_at_once_by_bisection():
    got = made(heat_to=140.0, chill_to=-60.0)
    cold = constant(7900.0, 390.0, (12.7 - 11.9) / 4.0)
    low, high = 0.0, 1e5
    for _ in range(200):
        middle = (low + high) / 2.0
        still = gap(20.0 + 120.0 * exp(-middle / TAU_BODY), 20.0 - 80.0 * exp(-middle / cold)) > 0.0
        low, high = (middle, high) if still else (low, middle)
    assert got["seconds_in_air"] == pytest.approx(low, rel=1e-6)


@pytest.mark.parametrize(("hot", "cold"), [(150.0, None), (120.0, -70.0), (None, -95.0)])
def test_in_the_hole_the_air_between_carries_the_heat(hot: float | None, cold: float | None):
    """Dx/dt = -x k A/(C g/2), g = p + q x: t = C/(2 k A) [p ln(x0/xg) + q (x0 - xg)], g(xg) = 0, k 0.03 W/(m K)."""
    fit = 0.012
    changes = {key: value for key, value in (("heat_to", hot), ("chill_to", cold)) if value is not None}
    got = made(shaft=12.7 + fit, shaft_material=COPPER, **changes)
    start_hub, start_inner = (20.0 if hot is None else hot), (20.0 if cold is None else cold)
    specific = 385.0 if cold is None else 335.0
    of_hub = 2700.0 * 943.0 * pi * (7.65**2 - 6.35**2) * 1e-6
    of_inner = 7900.0 * specific * pi * (6.35**2 - 5.95**2) * 1e-6
    both = of_hub + of_inner
    mean = (of_hub * start_hub + of_inner * start_inner) / both
    p = gap(mean, mean, fit)
    q = 12.7 * (ALPHA_BODY * of_inner + ALPHA_LINER * of_hub) / both
    x0 = start_hub - start_inner
    xg = -p / q
    if not 0.0 < xg < x0:
        assert isnan(got["seconds_in_hole"])
        return
    seconds = of_hub * of_inner / both / (2.0 * 0.03 * 2.0 * pi * 6.35e-3) * (p * log(x0 / xg) + q * (x0 - xg)) * 1e-3
    # The program adds up 32 strips of log x.
    assert got["seconds_in_hole"] == pytest.approx(seconds, rel=5e-3)


def gaps(about: str, **changes: Any) -> set[str]:
    part = press_part((State("shop"),), **{**GIVEN, **changes})
    return {one.reason for one in evaluate(part, "joint").gaps if one.about == about}


def biot(first_gap: float, outside: float) -> float:
    """Film k/(g/4) at the half of the radial gap, depth V/A of the hub at its hole, over 154.4 W/(m K)."""
    depth = (outside**2 - 12.7**2) / 4.0 / 12.7
    return 0.03 / (first_gap / 4.0 * 1e-3) * depth * 1e-3 / 154.4


def test_a_wall_too_thick_for_one_temperature_is_not_timed_in_the_hole():
    """Biot number 0.1 is the most (Incropera et al., sect. 5.2); just below and above it by the outside of the hub."""
    first = gap(150.0, 20.0)
    # The outside at which the number is 0.1.
    edge = (12.7**2 + 0.1 * 154.4 / 0.03 * first / 4.0 * 4.0 * 12.7) ** 0.5
    assert biot(first, edge) == pytest.approx(0.1)
    thick = "in the hole: a wall too thick for one temperature (Biot number above 0.1); put it home at once"
    of = {"heat_to": 150.0, "shaft_material": COPPER}
    assert thick not in gaps("seconds_in_hole", **of, hub_outside=edge * 0.995)
    assert thick in gaps("seconds_in_hole", **of, hub_outside=edge * 1.005)
    # So is a liner of a metal that conducts badly: 0.39 mm of 316 at 6.7 kW/(m2 K) is 0.19.
    assert thick in gaps("seconds_in_hole", heat_to=150.0)


def test_what_stays_open_at_one_temperature_says_so():
    """A hub that grows more than its liner, both warm: 12.7 x 7e-6 x the mean's rise is more than the interference."""
    even = "in the hole: still open when both are at one temperature"
    thick = "in the hole: a wall too thick for one temperature (Biot number above 0.1); put it home at once"
    loose = "a clearance fit: it does not grip"
    of = {"heat_to": 390.0, "shaft_material": COPPER}
    assert gaps("seconds_in_hole", **of, shaft=12.708) == {even}
    assert gaps("seconds_in_hole", **of, shaft=12.76) == set()
    assert gaps("seconds_in_hole", **of, shaft=12.7) == {loose}
    assert gaps("seconds_in_hole", **of, shaft=12.708, hub_outside=400.0) == {thick}
    assert isnan(made(**of, shaft=12.708)["seconds_in_hole"])


def test_a_clearance_is_loose_from_the_start():
    got = made(shaft=12.69)
    assert got["release_temperature"] == pytest.approx(20.0)
    assert got["release_speed"] == got["push_out_force"] == got["press_force"] == 0.0


def test_a_part_that_yields_in_one_state_has_yielded_in_all():
    soft = {**GIVEN, "shaft_material": replace(LINER, yield_minimum=60.0), "roughness_hole": 1.0}
    states = (State("off"), State("high", pressure=9.0))
    for shaft, yields in ((12.7001, True), (12.7001, False)):
        of = states if yields else states[:1] + (State("low", pressure=0.01),)
        found = evaluate(press_part(of, **{**soft, "shaft": shaft}), "joint", given={"part.pressure": np.array([[[1.0]]])})
        masks = [one.mask for one in found.gaps if one.about == "contact_with_fluid"]
        assert bool(masks) is yields
        assert all(mask.all() for mask in masks)


@pytest.mark.parametrize("part", ["hub", "shaft"])
def test_a_part_stressed_to_just_its_yield_has_not_yielded(part: str):
    """The hub's and the inner part's greatest von Mises as their least yield; a last place less, and it yields."""
    given = {"part.pressure": np.array([[[1.0]]])}
    states = (State("high", pressure=9.0),)
    fields = {**GIVEN, "hub_material": replace(BODY, yield_minimum=5000.0), "shaft_material": replace(LINER, yield_minimum=5000.0)}
    metal_of = fields[f"{part}_material"]
    stress = float(evaluate(press_part(states, **fields), "joint", given=given).numbers[f"{part}_von_mises"].max())
    for least, yields in ((stress, False), (np.nextafter(stress, 0.0), True)):
        changed = {**fields, f"{part}_material": replace(metal_of, yield_minimum=float(least))}
        gaps = evaluate(press_part(states, **changed), "joint", given=given).gaps
        assert any(one.about == "contact_with_fluid" for one in gaps) is yields


def test_what_closes_from_the_start_has_no_time_in_the_hole():
    got = made(heat_to=60.0)
    assert got["joining_gap"] < 0.0
    assert got["seconds_in_air"] == pytest.approx(0.0, abs=1e-6)
    assert got["seconds_in_hole"] == 0.0


def test_a_clearance_never_grips():
    for shaft in (12.7, 12.69):
        got = made(heat_to=60.0, shaft=shaft)
        assert isnan(got["seconds_in_air"])
        assert isnan(got["seconds_in_hole"])
        assert "a clearance fit: it does not grip" in gaps("seconds_in_hole", heat_to=60.0, shaft=shaft)
    assert not isnan(made(heat_to=60.0, shaft=12.7001)["seconds_in_air"])


@pytest.mark.parametrize(("changes", "reason"), [
    ({"hub_material": replace(BODY, name="none")}, "clock: no specific heat, conductivity or density of none in the table"),
    ({"shaft_material": replace(LINER, density=None)}, "clock: no specific heat, conductivity or density of 316 in the table"),
    ({"shaft_material": replace(LINER, name="347"), "chill_to": -60.0}, "clock: no specific heat of 347 in the cold"),
    ({"shaft_material": replace(LINER, name="347")}, ""), ({"hub_material": replace(BODY, name="347"), "chill_to": -60.0}, ""),
])  # fmt: skip
def test_the_clock_says_which_figure_is_missing(changes: dict[str, Any], reason: str):
    for name in ("seconds_in_air", "seconds_in_hole"):
        said = {one for one in gaps(name, heat_to=140.0, **changes) if one.startswith("clock")}
        assert said == ({reason} if reason else set())


def test_the_gap_is_not_known_beyond_the_expansion_of_either_part():
    body = replace(BODY, typed=frozenset(), expansion_range=(-20.0, 90.0), modulus_curve=None)
    liner = replace(LINER, typed=frozenset(), expansion_range=(-20.0, 90.0), modulus_curve=None)
    for about, changes in (("6061-T6", {"hub_material": body, "heat_to": 91.0}), ("316", {"shaft_material": liner, "chill_to": -21.0})):
        assert gaps("joining_gap", **changes) == {f"{about}: expansion is known from -20 to 90 degC"}
    assert gaps("joining_gap", hub_material=body, heat_to=90.0, shaft_material=liner, chill_to=-20.0) == set()


def test_wanted_gap_and_heating_needed():
    got = made()
    assert got["wanted_gap"] == pytest.approx(0.0127)
    assert got["heat_hub_to"] == got["hub_heated_to"] == pytest.approx(20.0 + (FIT + 0.0127) / 12.7 / ALPHA_BODY)


# Coming loose in the cold, and metals that sources differ about

def test_a_hub_that_shrinks_less_lets_go_in_the_cold():
    got = made(hub_material=replace(BODY, expansion=(9e-6, 9e-6)), shaft=12.705)
    assert got["release_temperature"] == pytest.approx(20.0 - 0.005 / 12.7 / 7e-6, rel=1e-9)


@pytest.mark.parametrize(("hub_share", "shaft_share"), [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)])
def test_coming_loose_by_either_source_of_either_metal(hub_share: float, shaft_share: float):
    body = replace(BODY, expansion=(22e-6, 25e-6))
    liner = replace(LINER, expansion=(15e-6, 17e-6))
    one = np.array([[[1.0]]])
    part = press_part((State("shop"),), **{**GIVEN, "shaft": 12.705, "hub_material": body, "shaft_material": liner})
    given = {"joint.hub_expansion_share": hub_share * one, "joint.shaft_expansion_share": shaft_share * one, "joint.roughness_share": one}
    found = float(np.ravel(evaluate(part, "joint", given=given).numbers["release_temperature"])[0])
    apart = (22e-6 + hub_share * 3e-6) - (15e-6 + shaft_share * 2e-6)
    assert found == pytest.approx(20.0 + 0.005 / 12.7 / apart, rel=1e-9)
    hot = float(np.ravel(evaluate(part, "joint", given=given).numbers["heat_hub_to"])[0])
    assert hot == pytest.approx(20.0 + (0.005 + 0.0127) / 12.7 / (22e-6 + hub_share * 3e-6), rel=1e-9)


# Fluid behind the liner

PRESSED = (State("low", pressure=1.0), State("high", pressure=9.0), State("off"))


def behind(column: int, **changes: Any) -> dict[str, float]:
    return numbers(press_part(PRESSED, **{**GIVEN, "shaft": 12.705, "roughness_hole": 2.0, "roughness_shaft": 1.0, **changes}), column)


@pytest.mark.parametrize("column", [0, 1, 2])
def test_what_a_liner_stands_alone(column: int):
    got = behind(column)
    a, c = 11.9 / 2.0, 12.705 / 2.0
    # 9 MPa pass the contact pressure in one state, and are trapped in all.
    assert got["behind_pressure"] == (0.0, 9.0, 0.0)[column]
    assert got["trapped_pressure"] == 9.0
    assert got["liner_elastic_limit"] == pytest.approx(210.0 * (1.0 - a**2 / c**2) / 2.0)
    assert got["contact_ceiling"] == pytest.approx(210.0 * (1.0 - a / c))
    free = 193000.0 * (c - a) ** 3 / (4.0 * (1.0 - 0.29**2) * ((c + a) / 2.0) ** 3)
    assert got["free_collapse"] == pytest.approx(free)
    encased = 193000.0 / (1.0 - 0.29**2) * ((c - a) / (2.0 * c)) ** 2.2
    assert encased > free
    # Half of it, for a wall out of round: tight as long as some interference is left.
    assert got["effective_interference"] > 0.0
    assert got["liner_round_limit"] == pytest.approx(0.5 * encased)


def test_a_loose_liner_collapses_as_if_free():
    got = behind(0, shaft=12.7)
    assert got["effective_interference"] < 0.0
    c = 6.35
    free = 193000.0 * (c - 5.95) ** 3 / (4.0 * (1.0 - 0.29**2) * ((c + 5.95) / 2.0) ** 3)
    assert got["liner_round_limit"] == pytest.approx(0.5 * free)
    # Without roughness it is taken to be loose, and the fluid to be behind it.
    for lacks in ("roughness_hole", "roughness_shaft"):
        unknown = behind(0, **{lacks: None})
        assert unknown["behind_pressure"] == 1.0
        assert unknown["liner_round_limit"] == pytest.approx(0.5 * unknown["free_collapse"])


def test_a_thick_liner_stands_no_less_in_its_hole_than_free():
    got = behind(0, shaft_bore=4.0, shaft=12.72)
    assert got["liner_round_limit"] == pytest.approx(0.5 * got["free_collapse"])


def test_a_hub_that_gives_more_than_its_liner_does_not_keep_it_round():
    """The growth of the hub's hole per pressure against the closing of the liner: just beside their equal."""
    soft = "the hub gives more than the liner: when the liner buckles is not covered"
    c, a = 6.35, 5.95
    liner = c / 193000.0 * ((c**2 + a**2) / (c**2 - a**2) - 0.29)
    # E (s + nu)/... of a hub: s = E liner/c - nu, b^2 = c^2 (s + 1)/(s - 1).
    s = 69000.0 * liner / c - 0.33
    b = c * ((s + 1.0) / (s - 1.0)) ** 0.5
    for outside, said in ((2.0 * b * 0.999, {soft}), (2.0 * b * 1.001, set())):
        part = press_part(PRESSED, **{**GIVEN, "shaft": 12.703, "hub_outside": outside})
        found = evaluate(part, "joint", given={"part.pressure": np.array([[[1.0]]])})
        assert {one.reason for one in found.gaps if one.about == "liner_round_limit"} == said


# Surroundings and time

@pytest.mark.parametrize(("name", "cracks"), [
    ("7075-T6", True), ("7075-T651", True), ("7075-T73", False), ("2024-T3", True), ("2024-T4", True), ("2024-T6", False),
    ("6061-T6", False), ("2024-O", False), ("7075-T4", False),
])  # fmt: skip
def test_which_alloys_crack_with_time(name: str, cracks: bool):
    aluminium = replace(BODY, name=name, family="aluminium")
    assert lasting.cracks(aluminium) is cracks
    assert not lasting.cracks(replace(aluminium, family="steel"))
    assert lasting.cracks(replace(aluminium, family="magnesium"))


@pytest.mark.parametrize(("hot", "seconds", "limit"), [
    (90.0, 0.0, 100.0), (100.0, 0.5, 100.0), (100.5, 0.5, 150.0), (120.0, 3600.0, 150.0), (120.0, 3601.0, 100.0), (99.0, 3601.0, 100.0), (150.5, 0.0, 150.0),
])
def test_an_aged_temper_has_its_limit_beyond_an_hour(hot: float, seconds: float, limit: float):
    aged = replace(BODY, family="aluminium", condition="T6", heating_limit=150.0)
    states = (State("hot", hot, hot, time=seconds),)
    got = numbers(press_part(states, **{**GIVEN, "hub_material": aged}), 0)
    assert got["hub_temperature"] == hot
    assert got["hub_temper_limit"] == limit
    other = numbers(press_part(states, **{**GIVEN, "hub_material": replace(aged, condition="O"), "shaft_material": replace(aged, name="316")}), 0)
    assert (other["hub_temper_limit"], other["shaft_temper_limit"]) == (np.inf, limit)


# Outside diameters of taper pipe threads, in (ASME B1.20.1, table 2): from memory, as the program's.
NPT = {"1/16 NPT": 0.3125, "1/8 NPT": 0.405, "1/4 NPT": 0.54, "3/8 NPT": 0.675, "1/2 NPT": 0.84}


@pytest.mark.parametrize("port", NPT)
def test_the_wall_a_port_leaves_is_the_lesser_of_both(port: str):
    half = NPT[port] * 25.4 / 2.0
    for distance, outside in ((31.0, 120.0), (31.0, 85.0)):
        got = made(port=port, port_distance=distance, hub_outside=outside)
        inner, outer = distance - 6.35 - half, outside / 2.0 - distance - half
        assert got["port_wall"] == pytest.approx(min(inner, outer), rel=1e-12)


def test_a_port_nearer_than_the_hole_is_wide_spoils_the_ring():
    half = 0.405 * 25.4 / 2.0
    near = "so near to a port the hub is no even ring: its stress and grip are not covered"
    for wall, said in ((12.69, {near}), (12.71, set())):
        assert gaps("port_wall", port="1/8 NPT", port_distance=wall + 6.35 + half, hub_outside=200.0) == said


@pytest.mark.parametrize(("surroundings", "limit"), [("outdoor", 0.15), ("indoor", 0.25), ("controlled", 0.5)])
def test_indices_apart_whichever_part_is_the_higher(surroundings: str, limit: float):
    """Anodic index of 6061 0.90, of 316 0.50 V; 0.15, 0.25, 0.50 V by surroundings (vk6ysf.com/galvanic_table.htm)."""
    for hub, inner in ((BODY, LINER), (LINER, BODY)):
        got = made(hub_material=hub, shaft_material=inner, surroundings=surroundings)
        assert got["galvanic_difference"] == pytest.approx(0.4)
        assert got["galvanic_allowed"] == limit
    for changes in ({"hub_material": replace(BODY, name="x")}, {"shaft_material": replace(LINER, name="x")}):
        assert gaps("galvanic_difference", surroundings="indoor", **changes) == {"no anodic index of x in the table"}
        assert isnan(made(surroundings="indoor", **changes)["galvanic_difference"])


# Bearings

@pytest.mark.parametrize(("hole", "shaft", "of_metal", "ceiling"), [
    ("bearing 12", "12.02", None, 120.0), ("bearing 12", "12.02", 110.0, 110.0), ("bearing 12", "12.02", 150.0, 120.0),
    ("12", "12.02", 150.0, 150.0), ("12", "12.02", None, nan),
])  # fmt: skip
def test_how_hot_a_bearing_is_heated(hole: str, shaft: str, of_metal: float | None, ceiling: float):
    press = Press(hole=hole, shaft=shaft, hub_outside="17", hub_material=BODY, shaft_material=LINER)
    assert bearing.ceiling(press, of_metal) == pytest.approx(ceiling, nan_ok=True)


def test_the_ring_that_is_a_part_moves_its_raceway():
    state = (State("hot", 70.0, 50.0),)
    outer = numbers(press_part(state, **{**GIVEN, "shaft": "bearing 12.7", "internal_clearance": 0.013}), 0)
    inner = numbers(press_part(state, **{**GIVEN, "hole": "bearing 12.7", "internal_clearance": 0.013}), 0)
    assert (outer["ring_temperature"], inner["ring_temperature"]) == (50.0, 70.0)
    assert outer["raceway_change"] == outer["bore_closure"]
    assert inner["raceway_change"] == inner["outside_growth"]
    for got in (outer, inner):
        assert got["clearance_left"] == pytest.approx(0.013 - got["raceway_change"], rel=1e-12)
    assert "raceway_change" not in made()


@pytest.mark.parametrize(("shaft", "bore", "says"), [
    ("bearing 12", None, "a bearing's outer ring is a hollow part: give the diameter of its raceway"), ("bearing 12", "10", ""),
    ("bush 12", None, "a bush is a hollow part: give its bore"), ("tube 12", None, "a tube is a hollow part: give its bore"),
    ("12.02", None, ""), ("dowel 12 m6", None, ""),
])  # fmt: skip
def test_what_is_bought_hollow_has_a_bore(shaft: str, bore: str | None, says: str):
    of = {"hole": "12", "hub_outside": "17", "hub_material": BODY, "shaft_material": LINER}
    assert bearing.no_raceway(Press(shaft=shaft, shaft_bore=bore, **of)) == says


def test_metals_of_the_table_have_these_heats():
    """The figures this file counts with are those of the table."""
    from fits.materials.thermal import heat_of

    assert [tuple(heat_of(name) or ())[:3] for name in ("6061-T6", "316")] == [(943.0, 752.0, 154.4), (468.0, 390.0, 13.4)]
    assert isinstance(of_table("316"), Metal)
