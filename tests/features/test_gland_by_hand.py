"""Every number of a gland by hand: warm, swollen, under pressure, its two parts of different metal and temperature."""

from __future__ import annotations

import itertools
import math
from typing import Any

import joints
import pytest
from glands import SHOP, exact, exact_ring, numbers

from fits.features.feature import State

HUB = {"youngs_modulus": "70 GPa", "poisson": "0.33", "expansion": "23e-6 1/K", "yield_strength": "270 MPa"}
SHAFT = {"youngs_modulus": "200 GPa", "poisson": "0.29", "expansion": "11e-6 1/K", "yield_strength": "330 MPa"}
STIFF = joints.metal(1e12, 0.3, expansion=1e-6, least=300.0)
RUBBER = {"based_on": "NBR 70", "expansion": "150e-6 1/K"}
P = 6.0
WORK = State("work", 65.0, 90.0, P)
COLD = State("cold", -10.0, -10.0)
STATES = (COLD, WORK, State("mild", 30.0, 30.0))
HOT_HUB, HOT_SHAFT = 1.0 + 23e-6 * 45.0, 1.0 + 11e-6 * 70.0
INSIDE, SECTION = 24.5, 3.5
SWELL = 0.06
MADE: dict[str, Any] = {
    "ring": exact_ring(INSIDE, SECTION), "elastomer": RUBBER, "swell": f"{SWELL}", "compression_set": "0.3", "hub_material": HUB, "shaft_material": SHAFT,
    "side_angle": "3", "corner_radius": "0.4", "groove_width": "5.2", "guide_clearance": None, "runout": "0.03", "shaft_bore": "12", "backup_rings": "1",
    "backup_thickness": "0.3", "hub_outside": "45",
}
ALL_ON = {"pressure_share": 1.0, "swell_share": 1.0}


def growth(bore: float, outside: float) -> float:
    """Lamé, ends open: p d/E [(b^2 + a^2)/(b^2 - a^2) + nu]."""
    return P * bore / 70e3 * ((outside**2 + bore**2) / (outside**2 - bore**2) + 0.33)


def shrinkage(size: float, bore: float) -> float:
    return P * size / 200e3 * ((size**2 + bore**2) / (size**2 - bore**2) - 0.29)


def ring_at(temperature: float, swell: float) -> tuple[float, float]:
    grown = (1.0 + 150e-6 * (temperature - 20.0)) * (1.0 + swell) ** (1.0 / 3.0)
    return INSIDE * grown, SECTION * grown


def lost(stretch: float) -> float:
    """SAE ARP1232 (from memory), percent of percent."""
    x = 100.0 * stretch
    return 0.0 if x <= 0.0 else (0.01 + 1.06 * x - 0.1 * x * x if x < 3.0 else 0.56 + 0.59 * x - 0.0046 * x * x) / 100.0


def thinned(inside: float, section: float, seat: float) -> float:
    """d1^2 (seat + d1) = d^2 (ID + d)."""
    d = section
    for _ in range(200):
        d = math.sqrt(section**2 * (inside + section) / (seat + d))
    return d


def thickened(inside: float, section: float, wall: float) -> float:
    """d1^2 (wall - d1) = d^2 (ID + d)."""
    d = section
    for _ in range(300):
        d = math.sqrt(section**2 * (inside + section) / (wall - d))
    return d


def around(width: float, at: float, other: float, slope: float, radius: float, mouth: float, *, outward: bool) -> float:
    """Volume between a bottom and a mating surface: slices of 2 pi r w(r) by Simpson's rule, piece by piece."""
    angle = math.atan(slope)

    def wide(deep: float) -> float:
        # The round between bottom and side, tangent to both: its middle is r (1/cos - tan) from the corner.
        if deep < radius * (1.0 + math.sin(angle)):
            return width - 2.0 * (radius / math.cos(angle) - radius * slope - math.sqrt(radius**2 - (radius - deep) ** 2))
        # The gap above the groove counts as wide as its bottom.
        return width + 2.0 * slope * deep if deep < mouth else width

    total, cuts = 0.0, [0.0, radius * (1.0 + math.sin(angle)), mouth, abs(other - at) / 2.0]
    for low, high in itertools.pairwise(cuts):
        n = 500
        # x = low + (high - low) t^2: the round begins with a vertical tangent.
        for step in range(n):
            t0, t1 = step / n, (step + 1) / n
            for t, weight in ((t0, 1), ((t0 + t1) / 2, 4), (t1, 1)):
                deep = low + (high - low) * t * t
                deep = min(max(deep, low + 1e-12), high - 1e-12)
                r = at / 2.0 + (deep if outward else -deep)
                total += weight * 2.0 * math.pi * r * wide(deep) * (high - low) * 2.0 * t * (t1 - t0) / 6.0
    return total


BORE, PISTON, BOTTOM = 31.0, 30.9, 25.4
PISTON_SIZES = {"bore": "31", "piston_diameter": "30.9", "groove_diameter": "25.4"}


@pytest.mark.parametrize("ways", [{}, {"groove_diameter": None, "gland_depth": "2.8"}, {"groove_diameter": None, "groove_depth": "2.75"}])
@pytest.mark.parametrize("end", [0.0, 1.0])
def test_a_piston_warm_and_under_pressure(ways: dict[str, Any], end: float):
    of = exact("piston", STATES, **{**MADE, **PISTON_SIZES, **ways})
    got = numbers(of, "work", ring_end=end, ring_temperature_share=1.0, **ALL_ON)
    bore = BORE * HOT_HUB + growth(BORE, 45.0)
    piston = PISTON * HOT_SHAFT - shrinkage(PISTON, 12.0)
    bottom = BOTTOM * HOT_SHAFT - shrinkage(BOTTOM, 12.0)
    depth, gap = (bore - bottom) / 2.0, bore - piston
    assert got["gland_depth"] == pytest.approx(depth, rel=1e-12)
    assert got["extrusion_gap"] == pytest.approx(gap, rel=1e-9)
    assert got["bore_growth"] == pytest.approx(growth(BORE, 45.0), rel=1e-9)
    inside, section = ring_at(90.0, SWELL)
    stretch = (bottom - inside) / inside
    assert got["stretch"] == pytest.approx(stretch, rel=1e-9)
    on = thinned(inside, section, bottom) if end else section * (1.0 - lost(stretch))
    assert got["ring_section"] == pytest.approx(on, rel=1e-9)
    # Half the clearance and half the runout to one side: added on the far side, taken on the near one.
    shift = gap / 2.0 + 0.03 / 2.0
    squeeze = on - depth + (shift if end else -shift)
    assert got["squeeze_depth"] == pytest.approx(squeeze, rel=1e-9)
    assert got["squeeze"] == pytest.approx(squeeze / section, rel=1e-9)
    volume = around((5.2 - 0.3) * HOT_SHAFT, bottom, bore, math.tan(math.radians(3.0)), 0.4 * HOT_SHAFT, (piston - bottom) / 2.0, outward=True)
    # The middle of a round is taken as that of a square corner: some millionths at 3 degrees.
    assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * section**2 * (inside + section) / volume, rel=1e-5)
    assert got["ring_temperature"] == 90.0
    assert got["groove_diameter"] == pytest.approx(BOTTOM)
    # The wall under p at its bore, the hollow piston under p around its groove.
    hoop = P * (45.0**2 + 31.0**2) / (45.0**2 - 31.0**2)
    assert got["wall_von_mises"] == pytest.approx(math.sqrt(hoop**2 + hoop * P + P**2), rel=1e-9)
    assert got["wall_allowed"] == pytest.approx(270.0 / 1.5)
    assert got["inner_von_mises"] == pytest.approx(2.0 * P * 25.4**2 / (25.4**2 - 12.0**2), rel=1e-9)
    assert got["inner_allowed"] == pytest.approx(330.0 / 1.5)
    assert got["inner_collapse"] == pytest.approx(200e3 * 6.7**3 / (4.0 * (1.0 - 0.29**2) * 9.35**3), rel=1e-9)
    assert got["inner_needed"] == pytest.approx(3.0 * P)
    # The land, 3 thick, reaches out from a root of half the bottom and is pressed up to the bore on the far side.
    high, c = depth + shift, 2.0 / bottom
    bending, shear = 6.0 * P * (high**2 / 2.0 + c * high**3 / 3.0) / 9.0, P * (high + c * high**2 / 2.0) / 3.0
    assert got["land_stress"] == pytest.approx(math.sqrt(bending**2 + 3.0 * shear**2), rel=1e-9)
    assert got["land_allowed"] == pytest.approx(330.0 / 1.5)
    # As made: neither heat nor pressure, and the stress of nothing.
    made = numbers(of, "as_made", ring_end=end, **ALL_ON)
    assert made["gland_depth"] == pytest.approx(2.8)
    assert made["fresh_squeeze_depth"] == pytest.approx(0.7)
    assert made["fresh_squeeze"] == pytest.approx(0.2)
    for name in ("wall_von_mises", "inner_von_mises", "land_stress", "bore_growth", "fluid_pressure"):
        assert made[name] == 0.0, name
    assert made["inner_collapse"] == math.inf


ROD, HOUSING, WALL = 25.2, 25.3, 31.1
ROD_SIZES = {"rod": "25.2", "housing_bore": "25.3", "groove_diameter": "31.1"}


@pytest.mark.parametrize("ways", [{}, {"groove_diameter": None, "gland_depth": "2.95"}, {"groove_diameter": None, "groove_depth": "2.9"}])
@pytest.mark.parametrize("end", [0.0, 1.0])
def test_a_rod_warm_and_under_pressure(ways: dict[str, Any], end: float):
    of = exact("rod", STATES, **{**MADE, **ROD_SIZES, **ways})
    got = numbers(of, "work", ring_end=end, ring_temperature_share=0.0, **ALL_ON)
    housing = HOUSING * HOT_HUB + growth(HOUSING, 45.0)
    wall = WALL * HOT_HUB + growth(WALL, 45.0)
    rod = ROD * HOT_SHAFT - shrinkage(ROD, 12.0)
    depth, gap = (wall - rod) / 2.0, housing - rod
    inside, section = ring_at(65.0, SWELL)
    stretch = (rod - inside) / inside
    outside = inside + 2.0 * section
    assert got["gland_depth"] == pytest.approx(depth, rel=1e-12)
    assert got["extrusion_gap"] == pytest.approx(gap, rel=1e-9)
    assert got["stretch"] == pytest.approx(stretch, rel=1e-9)
    assert got["outside_compression"] == pytest.approx((outside - wall) / outside, rel=1e-9)
    on = thickened(inside, section, wall) if end else section * (1.0 - lost(stretch))
    assert got["ring_section"] == pytest.approx(on, rel=1e-9)
    shift = gap / 2.0 + 0.03 / 2.0
    squeeze = on - depth + (shift if end else -shift)
    assert got["squeeze_depth"] == pytest.approx(squeeze, rel=1e-9)
    volume = around((5.2 - 0.3) * HOT_HUB, wall, rod, math.tan(math.radians(3.0)), 0.4 * HOT_HUB, (wall - housing) / 2.0, outward=False)
    # The middle of a round is taken as that of a square corner: some millionths at 3 degrees.
    assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * section**2 * (inside + section) / volume, rel=1e-5)
    assert got["ring_temperature"] == 65.0
    assert got["groove_diameter"] == pytest.approx(WALL)
    assert got["bore_growth"] == pytest.approx(growth(WALL, 45.0), rel=1e-9)
    hoop = P * (45.0**2 + WALL**2) / (45.0**2 - WALL**2)
    assert got["wall_von_mises"] == pytest.approx(math.sqrt(hoop**2 + hoop * P + P**2), rel=1e-9)
    assert got["inner_von_mises"] == pytest.approx(2.0 * P * ROD**2 / (ROD**2 - 12.0**2), rel=1e-9)
    # Inside a housing the land is taken as straight, and it is the housing's.
    high = depth + shift
    bending, shear = 6.0 * P * high**2 / 2.0 / 9.0, P * high / 3.0
    assert got["land_stress"] == pytest.approx(math.sqrt(bending**2 + 3.0 * shear**2), rel=1e-9)
    assert got["land_allowed"] == pytest.approx(270.0 / 1.5)


@pytest.mark.parametrize(("form", "sizes", "out"), [("piston", PISTON_SIZES, 1.0), ("rod", ROD_SIZES, -1.0)])
def test_fill_between_square_sides_and_round_corners(form: str, sizes: dict[str, str], out: float):
    """Pappus: a rectangle to the mating surface less two corners, each r^2 (1 - pi/4), its middle r (5/6 - pi/4)/(1 - pi/4) off the bottom."""
    changes = {**MADE, **sizes, "side_angle": "0", "corner_radius": "1.4", "backup_rings": "2"}
    got = numbers(exact(form, STATES, **changes), "work", ring_temperature_share=0.0, **ALL_ON)
    hot = HOT_SHAFT if form == "piston" else HOT_HUB
    if form == "piston":
        bottom, other = BOTTOM * HOT_SHAFT - shrinkage(BOTTOM, 12.0), BORE * HOT_HUB + growth(BORE, 45.0)
    else:
        bottom, other = WALL * HOT_HUB + growth(WALL, 45.0), ROD * HOT_SHAFT - shrinkage(ROD, 12.0)
    wide, r = (5.2 - 2 * 0.3) * hot, 1.4 * hot
    rectangle = wide * abs(other - bottom) / 2.0 * math.pi * (bottom + other) / 2.0
    corner = r * r * (1.0 - math.pi / 4.0)
    off = r * (5.0 / 6.0 - math.pi / 4.0) / (1.0 - math.pi / 4.0)
    volume = rectangle - 2.0 * corner * math.pi * (bottom + out * 2.0 * off)
    inside, section = ring_at(65.0, SWELL)
    assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * section**2 * (inside + section) / volume, rel=1e-9)


@pytest.mark.parametrize(("form", "sizes", "middle", "share"), [
    # Halfway between groove and mating surface: (25.4 + 31)/2, (31.1 + 25.2)/2; squeezed by 0.7 and by 0.55 of 3.5 mm.
    ("piston", PISTON_SIZES, 28.2, 0.2), ("rod", ROD_SIZES, 28.15, 0.55 / 3.5),
])
def test_the_load_that_closes_a_bore(form: str, sizes: dict[str, str], middle: float, share: float):
    """Lindley around the groove's middle as made, modulus 30 % up (Gent); gas goes through the same ring in service."""
    gas = {"medium": "gas", "fluid": "air", "permeability": "1e-8 cm^2/(s*bar)"}
    of = exact(form, STATES, **{**MADE, **sizes, **gas})
    modulus = 1.3 * 0.0981 * (56.0 + 7.62336 * 70.0) / (0.137505 * (254.0 - 2.54 * 70.0))
    load = math.pi * middle * modulus * SECTION * (1.25 * share**1.5 + 50.0 * share**6)
    assert numbers(of, "as_made")["closing_load"] == pytest.approx(load, rel=1e-9)
    idle = State("idle", pressure=2.0)
    got = numbers(exact(form, (idle,), **{**MADE, **sizes, **gas, "hub_outside": "1e5", "shaft_bore": None, "hub_material": STIFF, "shaft_material": STIFF}), "idle", pressure_share=1.0)
    assert got["permeation"] == pytest.approx(4.0 * 1e-5 * middle * (1.0 - got["squeeze"]) ** 2 * 2.0, rel=1e-7)


@pytest.mark.parametrize("bore", [0.8, 1.7])
def test_a_small_bore_doubles_the_stress_of_the_inner_part(bore: float):
    """2 p b^2/(b^2 - a^2) as soon as there is a bore; E t^3/[4 (1 - nu^2) R^3]."""
    got = numbers(exact("piston", STATES, **{**MADE, **PISTON_SIZES, "shaft_bore": f"{bore}"}), "work", **ALL_ON)
    assert got["inner_von_mises"] == pytest.approx(2.0 * P * BOTTOM**2 / (BOTTOM**2 - bore**2), rel=1e-9)
    wall, mean = (BOTTOM - bore) / 2.0, (BOTTOM + bore) / 4.0
    assert got["inner_collapse"] == pytest.approx(200e3 * wall**3 / (4.0 * (1.0 - 0.29**2) * mean**3), rel=1e-9)
    # A solid one bears p all around, which no rule holds against it.
    solid = numbers(exact("piston", STATES, **{**MADE, **PISTON_SIZES, "shaft_bore": None}), "work", **ALL_ON)
    assert (solid["inner_von_mises"], solid["inner_collapse"]) == (0.0, math.inf)
    # A bore as large as the groove leaves a tenth of a um, no more.
    gone = numbers(exact("piston", STATES, **{**MADE, **PISTON_SIZES, "shaft_bore": "26"}), "work", **ALL_ON)
    assert gone["inner_von_mises"] == pytest.approx(P * BOTTOM / 1e-4, rel=1e-4)


FACE = {**{k: v for k, v in MADE.items() if k not in ("shaft_material", "guide_clearance", "runout", "shaft_bore", "hub_outside")}, "ring": exact_ring(69.0, SECTION), "cover_gap": "0.07"}


def ring_in_a_face(swell: float = SWELL) -> tuple[float, float]:
    grown = (1.0 + 150e-6 * 45.0) * (1.0 + swell) ** (1.0 / 3.0)
    return 69.0 * grown, SECTION * grown


@pytest.mark.parametrize("end", [0.0, 1.0])
@pytest.mark.parametrize("within", [True, False])
def test_a_face_warm_and_under_pressure(within: bool, end: float):
    """The cover stands off by 0.07 mm; the ring lies at the wall that the pressure pushes it to."""
    sides = {"groove_outside": "75.9"} if within else {"pressure_side": "outside", "groove_outside": None, "groove_inside": "70.3"}
    of = exact("face", (COLD, State("work", 65.0, 65.0, P)), **{**FACE, **sides})
    got = numbers(of, "work", ring_end=end, **ALL_ON)
    inside, section = ring_in_a_face()
    outside = inside + 2.0 * section
    inner, outer = (75.9 - 10.4, 75.9) if within else (70.3, 70.3 + 10.4)
    depth = 2.8 * HOT_HUB + 0.07
    assert got["gland_depth"] == pytest.approx(depth, rel=1e-12)
    assert got["extrusion_gap"] == pytest.approx(0.07)
    if within:
        wall = outer * HOT_HUB
        assert got["outside_compression"] == pytest.approx((outside - wall) / outside, rel=1e-9)
        on = thickened(inside, section, wall) if end else section
        assert got["stretch"] == 0.0
    else:
        seat = inner * HOT_HUB
        stretch = (seat - inside) / inside
        assert got["stretch"] == pytest.approx(stretch, rel=1e-9)
        assert got["outside_compression"] == 0.0
        on = thinned(inside, section, seat) if end else section * (1.0 - lost(stretch))
    assert got["ring_section"] == pytest.approx(on, rel=1e-9)
    # Nothing lies to one side of a face.
    assert got["squeeze_depth"] == pytest.approx(on - depth, rel=1e-9)
    middle = (inner + outer) / 2.0 * HOT_HUB
    hollow = 2.8 * HOT_HUB
    wide, slope, r = (5.2 - 0.3) * HOT_HUB, math.tan(math.radians(3.0)), 0.4 * HOT_HUB
    # Each corner of 93 degrees rounded by r loses r^2 (cot(46.5 deg) - (87 deg in rad)/2).
    corner = r * r * (1.0 / math.tan(math.radians(46.5)) - math.radians(87.0) / 2.0)
    volume = math.pi * middle * (hollow * (wide + hollow * slope) - 2.0 * corner)
    assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * section**2 * (inside + section) / volume, rel=1e-9)
    assert got["separating_force"] == pytest.approx(math.pi / 4.0 * (75.9 * HOT_HUB) ** 2 * P if within else 0.0, rel=1e-9)
    assert got["land_stress"] == pytest.approx(math.sqrt((3.0 * P * depth**2 / 9.0) ** 2 + 3.0 * (P * depth / 3.0) ** 2), rel=1e-9)
    assert got["land_allowed"] == pytest.approx(270.0 / 1.5)
    assert numbers(of, "cold", **ALL_ON)["extrusion_gap"] == 0.0


def test_a_ring_short_of_its_wall_is_stretched_to_it():
    """Outside 69 + 7 = 76 in a wall of 78 is blown out by 2/76: so much thinner by the curve, its thickest free."""
    of = exact("face", ring=exact_ring(69.0, SECTION), groove_outside="78")
    low, high = (numbers(of, "shop", ring_end=end) for end in (0.0, 1.0))
    assert low["outside_compression"] == pytest.approx(-2.0 / 76.0)
    assert low["stretch"] == pytest.approx(2.0 / 76.0)
    assert low["ring_section"] == pytest.approx(SECTION * (1.0 - lost(2.0 / 76.0)))
    assert high["ring_section"] == pytest.approx(SECTION)


@pytest.mark.parametrize("end", [0.0, 1.0])
def test_a_dovetail_warm_and_under_pressure(end: float):
    changes = {"elastomer": RUBBER, "swell": "0.03", "hub_material": HUB, "ring": exact_ring(69.0, SECTION), "cover_gap": "0.05", "groove_middle": "73.1",
               "gland_depth": "2.9", "mouth_width": "3.1", "undercut_angle": "24", "corner_radius": "0.4", "edge_radius": "0.2", "land": "2.5"}
    of = exact("dovetail", (State("work", 65.0, 65.0, P),), **changes)
    got = numbers(of, "work", ring_end=end, **ALL_ON)
    inside, section = ring_in_a_face(0.03)
    middle, slope = 73.1 * HOT_HUB, math.tan(math.radians(24.0))
    depth = 2.9 * HOT_HUB + 0.05
    # The ring's middle keeps to the groove's: its seat is that less its section.
    seat = middle - section
    stretch = (seat - inside) / inside
    on = thinned(inside, section, seat) if end else section * (1.0 - lost(stretch))
    assert got["stretch"] == pytest.approx(stretch, rel=1e-9)
    assert got["ring_section"] == pytest.approx(on, rel=1e-9)
    assert got["squeeze_depth"] == pytest.approx(on - depth, rel=1e-9)
    cut, mouth, r = 2.9 * HOT_HUB, 3.1 * HOT_HUB, 0.4 * HOT_HUB
    # Corners of 66 degrees at the bottom.
    corner = r * r * (1.0 / math.tan(math.radians(33.0)) - math.radians(114.0) / 2.0)
    volume = math.pi * middle * (cut * (mouth + cut * slope) - 2.0 * corner)
    assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * section**2 * (inside + section) / volume, rel=1e-9)
    assert got["separating_force"] == pytest.approx(math.pi / 4.0 * (middle + mouth) ** 2 * P, rel=1e-9)
    assert got["mouth"] == 3.1
    assert got["mouth_open"] == pytest.approx(3.1 + 0.4 * (1.0 / math.tan(math.radians(33.0)) - 1.0), rel=1e-9)
    assert "outside_compression" not in got
    # As made its mouth is held against the ring as it sits there, at 20 degC.
    made = numbers(of, "as_made", ring_end=end)
    assert made["mouth_most"] == pytest.approx(made["ring_section"])
    assert got["mouth_most"] == made["mouth_most"]
    assert made["ring_section"] != pytest.approx(got["ring_section"], rel=1e-4)


@pytest.mark.parametrize("end", [0.0, 1.0])
def test_a_corner_warm_and_under_pressure(end: float):
    changes = {"elastomer": RUBBER, "swell": "0.03", "hub_material": HUB, "ring": exact_ring(34.2, SECTION), "cover_gap": "0.05", "spigot": "34.9", "leg": "4.8"}
    of = exact("triangular", (State("work", 65.0, 65.0, P),), **changes)
    got = numbers(of, "work", ring_end=end, **ALL_ON)
    grown = (1.0 + 150e-6 * 45.0) * 1.03 ** (1.0 / 3.0)
    inside, section = 34.2 * grown, SECTION * grown
    spigot, leg = 34.9 * HOT_HUB, 4.8 * HOT_HUB
    depth = leg * (2.0 - math.sqrt(2.0)) + 0.05
    stretch = (spigot - inside) / inside
    on = thinned(inside, section, spigot) if end else section * (1.0 - lost(stretch))
    assert got["gland_depth"] == pytest.approx(depth, rel=1e-12)
    assert got["extrusion_gap"] == pytest.approx(0.05)
    assert got["squeeze_depth"] == pytest.approx(on - depth, rel=1e-9)
    assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * section**2 * (inside + section) / (math.pi * (spigot + 2.0 / 3.0 * leg) * leg**2 / 2.0), rel=1e-9)
    assert got["separating_force"] == pytest.approx(math.pi / 4.0 * (spigot + 2.0 * leg) ** 2 * P, rel=1e-9)
    # Lindley as made: the middle of the ring's place is spigot + 2/3 leg.
    modulus = 0.0981 * (56.0 + 7.62336 * 70.0) / (0.137505 * (254.0 - 2.54 * 70.0))
    share = (SECTION - 4.8 * (2.0 - math.sqrt(2.0))) / SECTION
    line = 1.25 * share**1.5 + 50.0 * share**6
    assert got["closing_load"] == pytest.approx(math.pi * (34.9 + 2.0 / 3.0 * 4.8) * 1.3 * modulus * SECTION * line, rel=1e-9)
    # Hertz: b = d sqrt(6 phi/pi), p0 = 4 F'/(pi b), modulus at its low end.
    low = 0.7 * modulus
    assert got["peak_contact_stress"] == pytest.approx(4.0 * low * SECTION * line / (math.pi * SECTION * math.sqrt(6.0 * line / math.pi)), rel=1e-9)


# --- set, and gas ----------------------------------------------------------------------------------


@pytest.mark.parametrize("order", [(0, 1, 2), (1, 0, 2), (2, 0, 1)])
@pytest.mark.parametrize(("form", "sizes"), [("piston", PISTON_SIZES), ("rod", ROD_SIZES)])
def test_set_is_of_the_deepest_squeeze_wherever_its_state_stands(form: str, sizes: dict[str, str], order: tuple[int, ...]):
    """Hot, swollen, idle and on the near side: deepest without pressure, which opens the gland; set takes 0.3 of it from all states."""
    states = [(COLD, State("work", 80.0, 80.0, P), State("mild", 30.0, 30.0))[one] for one in order]
    of = exact(form, tuple(states), **{**MADE, **sizes})

    def at(state: str, end: float, pressure: float, swell: float) -> dict[str, float]:
        return numbers(of, state, ring_end=end, pressure_share=pressure, swell_share=swell)

    idle = at("work", 1.0, 0.0, 1.0)["squeeze_depth"]
    for state in ("cold", "mild"):
        least = at(state, 0.0, 0.0, 1.0)
        assert least["squeeze_left"] == pytest.approx(least["squeeze_depth"] - 0.3 * idle, rel=1e-9)
        # Before it swells, and under pressure, it may have earned its set swollen and idle: at most (1 + swell)^(1/3 x 3/2) of the section, no wall opened.
        dry, thick = at(state, 0.0, 1.0, 0.0), at("work", 1.0, 1.0, 0.0)
        opened = thick["gland_depth"] - at("work", 1.0, 0.0, 0.0)["gland_depth"]
        deepest = thick["squeeze_depth"] + thick["ring_section"] * ((1.0 + SWELL) ** 0.5 - 1.0) + opened
        assert dry["squeeze_left"] == pytest.approx(dry["squeeze_depth"] - 0.3 * deepest, rel=1e-9)
    assert at("work", 1.0, 0.0, 1.0)["squeeze_left"] == pytest.approx(0.7 * idle, rel=1e-9)


def test_a_ring_that_is_always_cold_takes_the_set_of_the_cold():
    """At 20 degC it is squeezed deeper, but not in service."""
    of = exact("piston", (COLD,), **{**MADE, **PISTON_SIZES, "swell": "0"})
    deepest = numbers(of, "cold", ring_end=1.0)["squeeze_depth"]
    assert deepest < numbers(of, "as_made", ring_end=1.0)["squeeze_depth"]
    assert numbers(of, "cold", ring_end=1.0)["squeeze_left"] == pytest.approx(0.7 * deepest, rel=1e-9)
    # A ring that touches nowhere earns no set, and misses none.
    loose = exact("piston", (SHOP,), **{**MADE, **PISTON_SIZES, "swell": "0", "groove_diameter": "23.5"})
    least = numbers(loose, "shop", ring_end=0.0)
    assert least["squeeze_depth"] < 0.0
    assert least["squeeze_left"] == pytest.approx(least["squeeze_depth"], rel=1e-9)


def test_a_ring_that_shrinks_earned_its_set_before():
    """Of -5 % to 0 the deepest squeeze is that without shrinkage, 0.2 x its squeeze, and it is missed by the shrunk ring."""
    of = exact("piston", (State("idle"),), **{**MADE, **PISTON_SIZES, "swell": "-0.05 to 0", "compression_set": "0.1 to 0.2"})
    shrunk = numbers(of, "idle", ring_end=0.0, swell=-0.05, swell_share=1.0)
    # 20 degC, no pressure; grown by 0.95^(1/3).
    section = SECTION * 0.95 ** (1.0 / 3.0)
    thick = thinned(INSIDE * 0.95 ** (1.0 / 3.0), section, BOTTOM)
    near = 2.8 - 0.05 - 0.015
    # As thick as shrunk by the power 3/2 of its growth back.
    deepest = thick * (1.0 / 0.95 ** (1.0 / 3.0)) ** 1.5 - near
    assert shrunk["squeeze_left"] == pytest.approx(shrunk["squeeze_depth"] - 0.2 * deepest, rel=1e-9)


def test_gas_through_the_rubber_by_hand():
    """4 K D (1 - S)^2 p; into a vacuum one atmosphere, 0.101325 MPa, drives it. 1e-8 cm^2/(s bar) is 1e-5 mm^2/(s MPa)."""
    gas = {"medium": "gas", "fluid": "air", "permeability": "1e-8 cm^2/(s*bar)"}
    for medium, extra in (("gas", 0.0), ("vacuum", 0.101325)):
        of = exact("face", (State("work", pressure=0.4),), **{**gas, "medium": medium})
        got = numbers(of, "work", pressure_share=1.0)
        assert got["permeation"] == pytest.approx(4.0 * 1e-5 * 71.0 * (1.0 - got["squeeze"]) ** 2 * (0.4 + extra), rel=1e-9)
    assert "permeation" not in numbers(exact("face"), "shop")


def test_one_side_angle_backup_rings_and_their_widths():
    """Widest of 3.53 mm: 5.08/3.5306 of it without, .227/.139 with one, .306/.139 with two backup rings (Apple Rubber, table A)."""
    widest = {"0": 5.08 / 3.5306, "1": 0.227 / 0.139, "2": 0.306 / 0.139}
    for rings, share in widest.items():
        got = numbers(exact("piston", ring=exact_ring(25.0, 3.53), backup_rings=rings, backup_thickness="0.2", side_angle="2.5"))
        assert got["width_most"] == pytest.approx(3.53 * share)
        assert (got["side_slope"], got["bottom_radius"], got["width_made"], got["lead_in_length"]) == (2.5, 0.4, 5.0, 6.0)
    assert numbers(exact("rod"))["finish_least"] == 0.0
    assert numbers(exact("rod", duty="rotary"))["finish_least"] == 0.2


@pytest.mark.parametrize("land", [0.5, 2.0])
def test_a_thin_land_is_no_thicker_than_it_is(land: float):
    """And one that the edge of the face leaves nothing of is a tenth of a um."""
    broken = numbers(exact("face", (State("work", pressure=P),), land=None, hub_outside="75"), "work", pressure_share=1.0)
    assert broken["land_stress"] == pytest.approx(3.0 * P * 2.8**2 / 1e-8, rel=1e-6)
    got = numbers(exact("face", (State("work", pressure=P),), land=f"{land}"), "work", pressure_share=1.0)
    bending, shear = 3.0 * P * 2.8**2 / land**2, P * 2.8 / land
    assert got["land_stress"] == pytest.approx(math.sqrt(bending**2 + 3.0 * shear**2), rel=1e-9)


def test_the_land_of_a_face_by_its_edges():
    """(edge - wall)/2 on the side the pressure pushes to, or as typed where that is less."""
    state = (State("work", pressure=P),)

    def land(**changes: Any) -> float:
        stress = numbers(exact("face", state, **changes), "work", pressure_share=1.0)["land_stress"]
        # Stress falls with thickness: the thickness by halving.
        low, high = 0.01, 50.0
        for _ in range(80):
            t = (low + high) / 2.0
            at = math.sqrt((3.0 * P * 2.8**2 / t**2) ** 2 + 3.0 * (P * 2.8 / t) ** 2)
            low, high = (t, high) if at > stress else (low, t)
        return low

    assert land(land=None, hub_outside="83") == pytest.approx(3.5)
    assert land(land="1.5", hub_outside="83") == pytest.approx(1.5)
    assert land(land="9", hub_outside="83") == pytest.approx(3.5)
    # 76 outside and 5 wide: 66 inside, a bore of 61 leaves 2.5.
    outer = {"pressure_side": "outside", "hub_bore": "61"}
    assert land(land=None, **outer) == pytest.approx(2.5)
    assert land(land=None, **outer, groove_outside=None, groove_inside="65") == pytest.approx(2.0)
    # The bore inside doesn't carry what is pushed outward.
    assert land(land="1.7", hub_bore="61") == pytest.approx(1.7)


def test_the_land_of_a_dovetail_begins_at_the_bottom_of_its_undercut():
    """(85 - 72.5 - 3.1 - 2 x 2.9 tan 24)/2."""
    state = (State("work", pressure=P),)
    free = (85.0 - 72.5 - 3.1 - 2.0 * 2.9 * math.tan(math.radians(24.0))) / 2.0
    shown, typed = (numbers(exact("dovetail", state, **one), "work", pressure_share=1.0)["land_stress"]
                    for one in ({"land": None, "hub_outside": "85"}, {"land": f"{free:.12f}"}))
    assert shown == pytest.approx(typed, rel=1e-9)


def test_a_gap_below_nothing_is_none():
    """A piston larger than its bore can't stand to one side: as one whose guide has no clearance."""
    sizes = {**MADE, **PISTON_SIZES, "piston_diameter": f"{BORE + 0.4:g}", "runout": "0"}
    for end in (0.0, 1.0):
        loose, guided = (numbers(exact("piston", (SHOP,), **{**sizes, "guide_clearance": one}), ring_end=end)["squeeze_depth"] for one in (None, "0"))
        assert loose == guided


@pytest.mark.parametrize(("outside", "room"), [("10.0", False), ("10.4", False), ("10.6", True)])
def test_walls_that_meet_in_the_middle_leave_no_groove(outside: str, room: bool):
    """A groove 5.2 wide: out to 10.4 its inner wall is a point, out to 10.6 a pin of 0.2 stands in it."""
    small = {**FACE, "ring": exact_ring(3.6, 3.4), "backup_rings": "0", "corner_radius": "0.1", "side_angle": "0", "groove_outside": outside}
    got = numbers(exact("face", (SHOP,), **small))
    assert (got["fill"] < 2.0) is room
    if not room:
        # No groove counts as one of 0.001 mm^3.
        assert got["fill"] == pytest.approx(math.pi**2 / 4.0 * 3.4**2 * 7.0 / 1e-3, rel=0.1)
