"""Every limit of a gland is what its source says: each rule judged on its limit and just beside it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import joints
import pytest
from glands import SHOP, exact, exact_ring, judged

from fits.features.feature import State
from fits.features.gland import tabled
from fits.materials.elastomers import elastomer

PSI = 0.006894757293168


def verdict(form: str, rule: str, states: tuple[State, ...] = (SHOP,), **changes: Any) -> str:
    return judged(exact(form, states, **changes))[rule].verdict


def on_and_beside(form: str, rule: str, on: dict[str, Any], beside: dict[str, Any], states: tuple[State, ...] = (SHOP,), **more: Any) -> None:
    assert verdict(form, rule, states, **{**more, **on}) == "pass", on
    assert verdict(form, rule, states, **{**more, **beside}) == "fail", beside


DEPTHS = {"piston": "gland_depth", "rod": "gland_depth", "face": "gland_depth", "dovetail": "gland_depth", "triangular": "leg"}


def depth(form: str, share: float, section: float) -> dict[str, Any]:
    """The size that squeezes a section by a share; a leg b has a circle of b (2 - sqrt 2) in it."""
    deep = section * (1.0 - share) / (1.0 if form != "triangular" else 2.0 - math.sqrt(2.0))
    taken = {"groove_diameter": None} if form in ("piston", "rod") else {}
    return {**taken, DEPTHS[form]: f"{deep:.12f}"}


STILL = {"duty": "static"}
TO_AND_FRO = {"duty": "reciprocating"}
TURNING = {"duty": "rotary"}
VACUUM = {"medium": "vacuum", "fluid": "air", "permeability": "1e-8 cm^2/(s*bar)"}


@pytest.mark.parametrize(("form", "duty", "section", "least", "most"), [
    # Canyon Components tables as quoted in an engineer's notes: faces 10 to 35 %, radial 5 to 30 % static.
    ("piston", STILL, 3.5, 0.05, 0.30), ("rod", STILL, 3.5, 0.05, 0.30), ("face", STILL, 3.5, 0.10, 0.35), ("dovetail", STILL, 3.5, 0.10, 0.35),
    # ISO 3601-2:1987 as quoted by Engineers Edge: 15 to 30 % static, 6 to 20 % moving; up to 1.9 mm the Mechanical Engineers' Handbook has 25 % at most.
    ("triangular", STILL, 3.5, 0.15, 0.30), ("piston", TO_AND_FRO, 3.5, 0.06, 0.20), ("rod", TO_AND_FRO, 1.8, 0.06, 0.25), ("rod", TO_AND_FRO, 1.9, 0.06, 0.25),
    ("rod", TO_AND_FRO, 1.91, 0.06, 0.20),
    # Marco Rubber, groove design considerations: 0 to 10 % on a shaft that turns.
    ("rod", TURNING, 3.5, 0.0, 0.10),
    # Vacuum, whatever the form: 25 to 30 % (from memory).
    ("piston", VACUUM, 3.5, 0.25, 0.30), ("face", VACUUM, 3.5, 0.25, 0.30),
])
def test_fresh_squeeze_by_duty(form: str, duty: dict[str, str], section: float, least: float, most: float):
    ring = exact_ring(25.0 if form in ("piston", "rod") else 69.0 if form != "triangular" else 34.9, section)
    more = {"ring": ring, "mouth_width": "1.5" if section < 2 else "3.1"} if form == "dovetail" else {"ring": ring}
    if form == "rod":
        more |= {"housing_bore": "25.01"}
    if form == "piston":
        more |= {"piston_diameter": f"{25.0 + 1.2 * section}", "bore": f"{25.0 + 1.3 * section}"}
    for rule, on, beside in (("fresh squeeze, least", least, least - 2e-4), ("fresh squeeze, most", most, most + 2e-4)):
        on_and_beside(form, rule, depth(form, on, section), depth(form, beside, section), **duty, **more)


@pytest.mark.parametrize(("form", "duty", "section", "most"), [
    # Mechanical Engineers' Handbook, vol. 3, p. 290: 30 % static, 16 % moving, 25 % up to 1.9 mm; Marco Rubber: 10 % turning.
    ("rod", STILL, 3.5, 0.30), ("rod", TO_AND_FRO, 3.5, 0.16), ("rod", TO_AND_FRO, 1.9, 0.25), ("rod", TO_AND_FRO, 1.91, 0.16), ("rod", TURNING, 3.5, 0.10),
])
def test_most_squeeze_by_duty(form: str, duty: dict[str, str], section: float, most: float):
    """Pressed into its wall a ring is thicker than free: d1^2 (wall - d1) = d^2 (inside + d). A guide leaves no clearance."""
    wall = 25.0 + 2.0 * section * (1.0 - most)
    one = judged(exact(form, **duty, groove_diameter=f"{wall:.12f}", ring=exact_ring(25.0, section), housing_bore="25.01"))["most squeeze"]
    thick = section
    for _ in range(60):
        thick = math.sqrt(section**2 * (25.0 + section) / (wall - thick))
    assert one.worst == pytest.approx((thick - (wall - 25.0) / 2.0) / section, rel=1e-9)
    assert (one.limit, one.verdict) == (most, "fail")


@pytest.mark.parametrize(("duty", "section", "most"), [(STILL, 3.5, 0.30), (TO_AND_FRO, 3.5, 0.16), (TO_AND_FRO, 1.9, 0.25), (TO_AND_FRO, 1.91, 0.16), (TURNING, 3.5, 0.10)])
def test_most_squeeze_of_a_piston_on_its_limit(duty: dict[str, str], section: float, most: float):
    """On a seat of its own inside and centred by a guide without clearance it is as thick as free: squeeze is fresh squeeze."""
    sizes = {"ring": exact_ring(25.0, section), "piston_diameter": f"{25.0 + 1.2 * section}"}
    bores = [{"bore": f"{25.0 + 2.0 * section * (1.0 - share):.12f}"} for share in (most, most + 2e-4)]
    on_and_beside("piston", "most squeeze", *bores, **duty, **sizes)


def test_squeeze_in_length_and_what_must_be_left():
    """0.2 mm (older editions .005 in, from memory), but for a shaft that turns; what is left must be above 0."""
    on_and_beside("piston", "squeeze in length", {"bore": "31.6"}, {"bore": "31.6002"})
    assert "squeeze in length" not in judged(exact("rod", duty="rotary"))
    assert "squeeze in length" in judged(exact("rod"))
    # Depth 3.4999 leaves 0.0001; 3.5 leaves nothing, which is no seal.
    on_and_beside("piston", "squeeze left", {"bore": "31.9998"}, {"bore": "32"})


@pytest.mark.parametrize(("form", "duty", "most"), [
    # Marco Rubber: 5 % static; All O-Rings, dynamic seal: 3 % moving.
    ("piston", STILL, 0.05), ("piston", TO_AND_FRO, 0.03), ("rod", STILL, 0.05), ("rod", TO_AND_FRO, 0.03),
])
def test_stretch_by_duty(form: str, duty: dict[str, str], most: float):
    seat = "groove_diameter" if form == "piston" else "rod"
    more = {} if form == "piston" else {"housing_bore": "27", "groove_diameter": "31"}
    on_and_beside(form, "stretch", {seat: f"{25 * (1 + most):.9f}"}, {seat: f"{25 * (1 + most) + 0.004:.9f}"}, **duty, **more)


def test_a_ring_is_no_larger_than_its_seat_nor_stretched_on_a_shaft_that_turns():
    on_and_beside("piston", "ring sits on its seat", {"groove_diameter": "25"}, {"groove_diameter": "24.999"})
    outer = {"pressure_side": "outside", "groove_outside": None}
    on_and_beside("face", "ring sits on its seat", {"groove_inside": "69"}, {"groove_inside": "68.998"}, **outer)
    on_and_beside("triangular", "ring sits on its seat", {"spigot": "34.9"}, {"spigot": "34.899"}, pressure_side="outside")
    on_and_beside("rod", "never stretched", {"rod": "25"}, {"rod": "25.001"}, duty="rotary")
    assert "never stretched" not in judged(exact("rod"))
    assert "stretch" not in judged(exact("rod", duty="rotary"))


def test_outside_compression():
    """0 to 3 % in a face (Canyon Components as quoted), 3 % in a housing (from memory); its outside is 69 + 7 = 76, 25 + 7 = 32."""
    on_and_beside("face", "reaches its wall", {"groove_outside": "76"}, {"groove_outside": "76.001"})
    on_and_beside("face", "not crowded by its wall", {"groove_outside": f"{76 * 0.97}"}, {"groove_outside": f"{76 * 0.97 - 0.001}"})
    on_and_beside("rod", "not crowded by its wall", {"groove_diameter": f"{32 * 0.97}"}, {"groove_diameter": f"{32 * 0.97 - 0.001}"})
    assert "reaches its wall" not in judged(exact("rod"))


@pytest.mark.parametrize(("duty", "most"), [(STILL, 0.90), (TO_AND_FRO, 0.85), (TURNING, 0.85)])
def test_fill_by_duty(duty: dict[str, str], most: float):
    """All O-Rings, dynamic seal: 90 % static, 85 % moving. Square corners and sides: a hollow cylinder from 25 to 31."""
    ring = math.pi**2 / 4.0 * 3.5**2 * 28.5
    wide = ring / (most * math.pi / 4.0 * (31.0**2 - 25.0**2))
    on_and_beside("piston", "gland isn't overfilled", {"groove_width": f"{wide:.12f}"}, {"groove_width": f"{wide - 0.001:.12f}"}, corner_radius="0", **duty)


def test_fill_of_a_corner():
    """nh-oring.de: nearly 100 %, 99 % is taken. Pappus: pi (D + 2 b/3) b^2/2."""
    ring = math.pi**2 / 4.0 * 3.5**2 * 38.4
    leg = 4.8
    for _ in range(60):
        leg = math.sqrt(ring / 0.99 * 2.0 / math.pi / (34.9 + 2.0 * leg / 3.0))
    on_and_beside("triangular", "gland isn't overfilled", {"leg": f"{leg:.12f}"}, {"leg": f"{leg - 0.001:.12f}"})


@pytest.mark.parametrize(("medium", "duty", "most"), [
    # Parker on surface finish, quoting ORD 5700, table 1: 32 uin for liquids, 16 uin for gas and vacuum, 16 uin where it rubs.
    ({}, STILL, 32), ({"medium": "gas", "fluid": "air"}, STILL, 16), (VACUUM, STILL, 16), ({}, TO_AND_FRO, 16), ({}, TURNING, 16),
])
def test_finish_by_medium_and_duty(medium: dict[str, str], duty: dict[str, str], most: int):
    on_and_beside("rod", "faces are fine enough", {"finish": f"{most} uin"}, {"finish": f"{most}.01 uin"}, **{**medium, **duty})


def test_gas_in_a_state_asks_for_the_finish_of_gas():
    gas = (State("s", pressure=0.1, medium="nitrogen"),)
    on_and_beside("rod", "faces are fine enough", {"finish": "16 uin"}, {"finish": "16.01 uin"}, gas)
    on_and_beside("rod", "faces are fine enough", {"finish": "32 uin"}, {"finish": "32.01 uin"}, (State("s", pressure=0.1, medium="water"),))
    # What is no liquid stays what it is: of vacuum at least 25 % of squeeze (from memory).
    assert judged(exact("face", gas, **VACUUM))["fresh squeeze, least"].limit == 0.25


def test_the_coolest_of_the_fluids_that_it_meets_counts():
    """NBR stands mineral oil as long as it stands the heat, 100 degC, and water to 80 (Bode Seal)."""
    for medium, limit in (("", 100.0), ("oil", 100.0), ("water", 80.0)):
        assert judged(exact("rod", (State("s", pressure=0.1, medium=medium),)))["rubber stands the fluid"].limit == limit
    unknown = elastomer("NBR 70")._replace(highest=None)
    assert verdict("rod", "rubber stands the fluid", elastomer=unknown, fluid="water") == "pass"
    assert verdict("rod", "rubber stands the fluid", elastomer=unknown) == "not covered"
    assert verdict("rod", "rubber stands the heat", elastomer=unknown) == "not covered"


@pytest.mark.parametrize("duty", ["reciprocating", "rotary"])
def test_a_moving_face_is_no_finer_than_its_film_wants(duty: str):
    """Marco Rubber: 8 to 16 uin, 0.2 to 0.4 um."""
    on_and_beside("rod", "faces keep a film", {"finish": "0.2 um"}, {"finish": "0.199 um"}, duty=duty)


@pytest.mark.parametrize(("rubber", "fluid", "verdict_"), [
    # Bode Seal, property table: A excellent 1 to E not recommended 5; average (3) may rub, poor (4) may not.
    ("AU 90", "mineral oil", "pass"), ("NBR 70", "mineral oil", "pass"), ("FVMQ 70", "mineral oil", "pass"), ("FKM 75", "mineral oil", "pass"), ("VMQ 70", "water", "fail"),
])
def test_rubber_of_average_grade_may_rub(rubber: str, fluid: str, verdict_: str):
    one = judged(exact("rod", elastomer=rubber, fluid=fluid, duty="reciprocating"))["rubber stands rubbing"]
    assert (one.verdict, one.limit) == (verdict_, 3.0)


def test_a_shaft_that_turns_by_the_navy_s_limits():
    """NAVEDTRA 14105, p. 117: 200 ft/min (200 x 0.3048 m in 60 s), 50 to 800 psi; w d/2 of a rod of 25 mm."""
    most = 200 * 0.3048 / 60
    for factor, expected in ((1.0, "pass"), (1.0005, "fail")):
        turns = State("run", speed=factor * most / (25e-3 / 2))
        assert verdict("rod", "rubbing speed", (turns,), duty="rotary") == expected
        pressed = State("run", pressure=factor * 800 * PSI, speed=10.0)
        assert verdict("rod", "rotary pressure", (pressed,), duty="rotary") == expected
    # On a piston it is the bore that is rubbed: 31 mm.
    on = State("run", speed=most / (31e-3 / 2))
    assert verdict("piston", "rubbing speed", (on,), duty="rotary") == "pass"
    assert verdict("piston", "rubbing speed", (on._replace(speed=on.speed * 1.0005),), duty="rotary") == "fail"
    assert "rubbing speed" not in judged(exact("rod", (on,), duty="reciprocating"))


@pytest.mark.parametrize("form", ["piston", "rod", "face"])
def test_pressure_above_which_a_backup_ring_is_given(form: str):
    """Parker O-Ring Handbook, section IV: 1500 psi, as typed."""
    for psi, expected in ((1500.0, "pass"), (1500.1, "fail")):
        assert verdict(form, "no backup ring is needed", (State("s", pressure=psi * PSI),)) == expected
    state = State("s", pressure=1600 * PSI)
    assert "no backup ring is needed" not in judged(exact(form, (state,), backup_rings="1", backup_thickness="1.2"))
    assert "no backup ring is needed" not in judged(exact(form, (SHOP,)))


def test_gas_that_any_rubber_lets_out():
    """Above 3 MPa it depends on compound and venting (common practice); at 3 MPa and below it doesn't."""
    gas = {"medium": "gas", "fluid": "nitrogen", "permeability": "1e-8 cm^2/(s*bar)"}
    for pressure, expected in ((3.0, "pass"), (3.0001, "not covered")):
        assert verdict("face", "gas can be let out", (State("s", pressure=pressure),), **gas) == expected
    two = (State("low", pressure=2.0), State("high", pressure=4.0))
    assert verdict("face", "gas can be let out", two, **gas) == "not covered"


@pytest.mark.parametrize(("rubber", "fluid", "duty", "coldest", "hottest", "in_fluid"), [
    # Bode Seal, property table: NBR -30 to 100, water to 80; a ring seals to 8 K below TR10 of -20 at rest, to TR10 moving.
    ("NBR 70", "water", "static", -28.0, 100.0, 80.0), ("NBR 70", "water", "reciprocating", -20.0, 100.0, 80.0), ("NBR 70", "mineral oil", "static", -28.0, 100.0, 100.0),
    # No TR10 of silicone is known: its own range.
    ("VMQ 70", "steam", "static", -55.0, 200.0, 120.0),
    # FKM: range from -15, TR10 of -17 less 8: the warmer of both counts.
    ("FKM 75", "water", "static", -15.0, 200.0, 80.0),
])
def test_temperatures_of_the_rubber(rubber: str, fluid: str, duty: str, coldest: float, hottest: float, in_fluid: float):
    own = {"elastomer": rubber, "fluid": fluid, "duty": duty, "medium": "gas" if fluid == "steam" else "liquid", "release_rated": True}
    for rule, limit, step in (("rubber stands the heat", hottest, 0.001), ("rubber stands the cold", coldest, -0.001), ("rubber stands the fluid", in_fluid, 0.001)):
        for at, expected in ((limit, "pass"), (limit + step, "fail")):
            assert verdict("rod", rule, (State("s", at, at),), **own) == expected, (rule, at)


@pytest.mark.parametrize(("angle", "lengths"), [
    # ISO 3601-2:1987, table 1, as quoted by Engineers Edge: sections up to 1.8, 2.65, 3.55, 5.33, 7 mm.
    ("15", (2.5, 3.5, 4.5, 5.0, 6.0)), ("20", (2.0, 2.5, 3.5, 4.0, 4.5)),
])
def test_lead_in_by_section_and_angle(angle: str, lengths: tuple[float, ...]):
    sections = (1.80, 2.65, 3.55, 5.33, 7.00)
    for before, section, after, length in zip((0.5, *sections[:-1]), sections, (*sections[1:], math.nan), lengths, strict=True):
        # A size between two lists of 0.04 mm belongs to the row.
        for one in (before + 0.05, section, section + 0.04):
            assert tabled.lead_in(angle, one) == length
        assert tabled.lead_in(angle, section + 0.05) != length
        assert math.isnan(after) or tabled.lead_in(angle, after) > length
    assert math.isnan(tabled.lead_in(angle, 7.05))
    length = lengths[2]
    on_and_beside("piston", "lead-in is long enough", {"lead_in": f"{length}"}, {"lead_in": f"{length - 0.01}"}, lead_in_angle=angle)


def test_sides_radius_and_width_of_a_groove():
    """MIL-G-5514G, 3.2.6: 5 degrees. Shop tables of 3.53 mm: a radius of .031 in at most.

    Widest static grooves of .139 in: radial 5.08 mm (.200 in, Apple Rubber), of 3.53 mm in a face 5.2 mm: in proportion for 3.5 mm the wider
    of 3.4 and 3.53 beside it.
    """
    on_and_beside("piston", "groove sides are steep", {"side_angle": "5"}, {"side_angle": "5.01"})
    on_and_beside("face", "groove sides are steep", {"side_angle": "5"}, {"side_angle": "5.01"})
    most = 0.031 * 25.4
    own = {"ring": exact_ring(25.0, 3.53)}
    on_and_beside("piston", "bottom radius leaves room", {"corner_radius": f"{most:.9f}"}, {"corner_radius": f"{most + 0.001:.9f}"}, **own)
    # .139 in (3.5306) and the metric 3.53 are one size: 5.08/3.5306 against 5.05/3.53.
    wide = 3.53 * max(5.08 / 3.5306, 5.05 / 3.53)
    on_and_beside("piston", "groove isn't too wide", {"groove_width": f"{wide:.9f}"}, {"groove_width": f"{wide + 0.001:.9f}"}, **own)


def test_the_mouth_of_a_dovetail():
    """Seal & Design, dovetail table: .113 in for .139 in, at least; no wider, rounded, than the ring: m + 2 r (cot 33 deg - 1)."""
    least = 0.113 * 25.4
    own = {"ring": exact_ring(69.0, 3.53)}
    on_and_beside("dovetail", "mouth lets the ring in", {"mouth_width": f"{least:.9f}"}, {"mouth_width": f"{least - 0.001:.9f}"}, **own)
    round_ = (3.53 - 3.1) / 2.0 / (1.0 / math.tan(math.radians(33.0)) - 1.0)
    # In the middle of its seat the ring is neither stretched nor thinned: inside 69 on 72.53 - 3.53.
    seat = {"groove_middle": "72.53"}
    on_and_beside("dovetail", "mouth holds the ring", {"edge_radius": f"{round_ - 1e-6:.9f}"}, {"edge_radius": f"{round_ + 0.001:.9f}"}, **own, **seat)


def test_parts_go_together_and_creep_into_the_gap():
    """The chart's .010 in at 500 psi for 70 Shore A and .139 in (Ponn Machine); a metal that is rigid keeps its gap."""
    stiff = joints.metal(1e12, 0.3, expansion=1e-6, least=300.0)
    own = {"hub_material": stiff, "shaft_material": stiff}
    at = (State("s", pressure=500 * PSI - 1e-9),)
    on_and_beside("piston", "no creep into the gap", {"piston_diameter": f"{31 - 0.254}"}, {"piston_diameter": f"{31 - 0.2541}"}, at, **own)
    beyond = (State("s", pressure=500.01 * PSI),)
    assert verdict("piston", "no creep into the gap", beyond, piston_diameter=f"{31 - 0.1524}", **own) == "pass"
    assert verdict("piston", "no creep into the gap", beyond, piston_diameter=f"{31 - 0.1526}", **own) == "fail"
    # Heat closes it: 30e-6 more a kelvin over 100 K on 30.9 takes 0.0927 of 0.1 mm, 36e-6 more 0.111.
    for expansion, expected in ((31e-6, "pass"), (37e-6, "fail")):
        warm = (State("s", 120.0, 120.0),)
        metal = replace(stiff, expansion=(expansion, expansion))
        assert verdict("piston", "parts go together", warm, hub_material=stiff, shaft_material=metal) == expected


@pytest.mark.parametrize(("proof", "factor"), [(False, 1.5), (True, 1.0)])
@pytest.mark.parametrize("safety", ["1", "1.2"])
def test_a_wall_stands_its_least_yield_over_the_factor(proof: bool, factor: float, safety: str):
    """Lamé at the bore, ends open: hoop p (b^2 + a^2)/(b^2 - a^2), radial -p; least yield 300 MPa over 1.5 working, 1.0 proof."""
    metal = {"youngs_modulus": "70 GPa", "poisson": "0.3", "expansion": "20e-6 1/K", "yield_strength": "300 MPa"}
    a, b, p = 31.0, 34.0, 9.0
    hoop = p * (b * b + a * a) / (b * b - a * a)
    mises = math.sqrt(hoop**2 + hoop * p + p**2)
    needed = mises * factor * float(safety)
    for share, expected in ((1.0 + 1e-6, "pass"), (0.999, "fail")):
        own = {**metal, "yield_strength": f"{needed * share:.9f} MPa"}
        state = State("s", pressure=p, proof=proof)
        assert verdict("piston", "wall stands the pressure", (state,), hub_outside="34", hub_material=own, shaft_material=metal, safety_yield=safety) == expected
    # The land of a piston: p on the depth h + e of 3 mm, thickness 3, a root of 12.5 mm radius.
    h, t, c = 3.0, 3.0, 1 / 12.5
    bending = 6.0 * p * (h * h / 2.0 + c * h**3 / 3.0) / t**2
    shear = p * (h + c * h * h / 2.0) / t
    needed = math.sqrt(bending**2 + 3.0 * shear**2) * factor * float(safety)
    rigid = joints.metal(1e12, 0.3, expansion=20e-6, least=300.0)
    for share, expected in ((1.0 + 1e-6, "pass"), (0.999, "fail")):
        own = replace(rigid, yield_minimum=needed * share)
        state = State("s", pressure=p, proof=proof)
        assert verdict("piston", "land stands the pressure", (state,), hub_material=rigid, shaft_material=own, safety_yield=safety) == expected


def test_a_hollow_part_stands_and_keeps_round():
    """2 p b^2/(b^2 - a^2) at its bore; E t^3/[4 (1 - nu^2) R^3] at least three times the pressure (Moser, p. 111; practice)."""
    metal = {"youngs_modulus": "70 GPa", "poisson": "0.33", "expansion": "20e-6 1/K", "yield_strength": "300 MPa"}
    p, a, b = 9.0, 20.0, 25.0
    needed = 2.0 * p * b * b / (b * b - a * a) * 1.5
    for share, expected in ((1.0 + 1e-6, "pass"), (0.999, "fail")):
        own = {**metal, "yield_strength": f"{needed * share:.9f} MPa"}
        assert verdict("piston", "inner wall stands the pressure", (State("s", pressure=p),), shaft_bore="20", shaft_material=own) == expected
    # A rod of 25 around a bore of 23.4: wall 0.8, mean radius 12.1.
    stands = 70e3 * 0.8**3 / (4.0 * (1.0 - 0.33**2) * 12.1**3)
    for share, expected in ((1.0 - 1e-6, "pass"), (1.001, "fail")):
        state = State("s", pressure=stands / 3.0 * share)
        assert verdict("rod", "inner wall stays round", (state,), shaft_bore="23.4", shaft_material=metal) == expected


def test_bolts_hold_what_parts_the_cover_and_closes_the_gland():
    """1.5 (practice) times pi/4 76^2 p and the ring's load by Lindley, its modulus 30 % up (Gent)."""
    p, d, share = 3.0, 3.5, 0.2
    modulus = 1.3 * 0.0981 * (56.0 + 7.62336 * 70.0) / (0.137505 * (254.0 - 2.54 * 70.0))
    load = math.pi * 71.0 * modulus * d * (1.25 * share**1.5 + 50.0 * share**6)
    needed = 1.5 * (math.pi / 4.0 * 76.0**2 * p + load)
    for factor, expected in ((1.0 + 1e-9, "pass"), (0.9999, "fail")):
        assert verdict("face", "bolts hold the cover", (State("s", pressure=p),), bolt_preload=f"{needed * factor:.9f} N") == expected
    for factor, expected in ((2.0 + 1e-9, "pass"), (1.9998, "fail")):
        changes = {"bolt_preload": f"{needed / 1.5 * factor:.9f} N", "bolt_factor": "2"}
        assert verdict("face", "bolts hold the cover", (State("s", pressure=p),), **changes) == expected
    # Pressure from outside holds the cover on.
    outer = {"pressure_side": "outside", "groove_outside": None, "groove_inside": "69"}
    assert "bolts hold the cover" not in judged(exact("face", (State("s", pressure=p),), **outer))
    assert "bolts hold the cover" not in judged(exact("face", (SHOP,)))
