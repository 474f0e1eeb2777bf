"""What the machinist is told of a gland: which tool, which sizes, and published grooves beside."""

from __future__ import annotations

from typing import Any

import pytest
from glands import HOT, SHOP, exact, exact_ring, gland, part

from fits.features.feature import State, States
from fits.features.gland import plan
from fits.features.kinds import kind
from fits.questions.check import check


def steps(form: str, **changes: Any) -> list[tuple[str, str, str, str]]:
    of = exact(form, **changes).features["seal"]
    bottom = of.size("groove_diameter")
    ends = {} if bottom is None else {"groove_diameter": (bottom.lower, bottom.upper)}
    return [(one.do, one.tool, one.range, one.stop_if) for one in of.plan(ends, States.of((SHOP,)))]


@pytest.mark.parametrize(("width", "cutter"), [
    # Whole and half millimetres that leave a tenth for both walls; too narrow for any: the width itself.
    (4.75, 4.5), (4.61, 4.5), (4.59, 4.0), (5.11, 5.0), (5.09, 4.5), (5.0, 4.5), (1.11, 1.0), (1.09, 0.5), (0.61, 0.5), (0.59, 0.59), (0.4, 0.4), (10.2, 10.0),
])
def test_the_cutter_before_the_walls(width: float, cutter: float):
    assert plan._below(width) == pytest.approx(cutter)


def test_the_steps_of_a_piston():
    made = steps("piston", groove_width="4.8 +0.2/0", corner_radius="0.4 ±0.1", groove_diameter="25.4 0/-0.1")
    assert [one[0][:24] for one in made] == ["cut with a tool narrower", "take a grooving tool of ", "measure the diameter lef", "break every edge the rin", "polish what the ring tou",
                                             "give the part the ring s", "oil the ring with what t"]
    assert "for example 4.5 mm" in made[0][0]
    assert made[0][2] == "width at the bottom 4.800 mm to 5.000 mm, proved by slip gauges or pins between the walls"
    assert made[1][2] == "radius 0.300 mm to 0.500 mm"
    assert made[2][2] == "groove diameter 25.300 mm to 25.400 mm"
    # .005 in and a little.
    assert made[3][2] == "0.13 mm at least"
    assert made[4][2] == "Ra 0.8 um at most; no scratch, seam or mark across the ring's line"
    assert made[5][2] == "at 15 degrees, 4.5 mm long at least"
    exact_ = steps("piston", lead_in_angle="20", duty="rotary", groove_diameter="25.4")
    assert exact_[2][2] == "groove diameter 25.400 mm"
    assert exact_[1][2] == "radius 0.400 mm"
    assert exact_[4][2].startswith("Ra 0.4 um at most")
    assert exact_[5][2] == "at 20 degrees, 3.5 mm long at least"


def test_the_steps_of_a_rod_and_of_covers():
    rod = steps("rod", groove_diameter="31 +0.1/0")
    assert rod[0][1] == "internal grooving tool, plunged square to the axis"
    assert rod[2][2] == "groove diameter 31.000 mm to 31.100 mm"
    within, without = steps("face"), steps("face", pressure_side="outside")
    assert "for example 4.5 mm" in within[0][0]
    assert within[0][2] == "width 5.000 mm; the outer wall carries the ring: bring that one to size first"
    assert without[0][2] == "width 5.000 mm; the inner wall carries the ring: bring that one to size first"
    assert within[1][0].startswith("take an end mill of the bottom's radius")
    assert within[2][2] == "depth 2.800 mm"
    assert not any("lead-in" in one[0] for one in within)
    dovetail = steps("dovetail", undercut_angle="23.5", mouth_width="3.1 ±0.03")
    assert dovetail[0][2] == "below 3.070 mm wide"
    assert dovetail[1][1] == "dovetail cutter of 23.5 degrees from its axis"
    assert dovetail[1][2].startswith("mouth 3.070 mm to 3.130 mm at its sharp corners")
    assert dovetail[3][2] == "depth 2.900 mm"
    assert steps("triangular", leg="4.8 ±0.05")[0][2] == "leg 4.750 mm to 4.850 mm, measured along the face and along the bore"


@pytest.mark.parametrize(("rings", "said"), [
    ("0", None), ("1", "put the backup ring on the low-pressure side"), ("2", "put the backup rings one on each side of the ring"),
])
def test_where_backup_rings_go(rings: str, said: str | None):
    made = [one[0] for one in steps("piston", backup_rings=rings, backup_thickness="0.2") if "backup" in one[0]]
    assert made == ([said] if said else [])


FORMS = ("piston", "rod", "face", "dovetail", "triangular")


@pytest.mark.parametrize("form", FORMS)
def test_the_rules_of_a_form(form: str):
    every = {"fresh squeeze, least", "fresh squeeze, most", "squeeze in length", "squeeze left", "most squeeze", "stretch", "gland isn't overfilled", "no creep into the gap",
             "no backup ring is needed", "rubber stands the heat", "rubber stands the cold", "rubber stands the fluid", "gas can be let out", "faces are fine enough"}
    bore = {"wall stands the pressure", "inner wall stands the pressure", "inner wall stays round", "lead-in is long enough", "faces keep a film", "rubber stands rubbing",
            "rubbing speed", "rotary pressure", "never stretched", "parts go together", "aged aluminium keeps its temper"}
    cut = {"groove sides are steep", "bottom radius leaves room", "groove isn't too wide", "land stands the pressure"}
    own = {
        "piston": bore | cut | {"ring sits on its seat"}, "rod": bore | cut | {"not crowded by its wall"},
        "face": cut | {"ring sits on its seat", "reaches its wall", "not crowded by its wall", "bolts hold the cover"},
        "dovetail": {"ring sits on its seat", "bolts hold the cover", "mouth holds the ring", "mouth lets the ring in", "land stands the pressure"},
        "triangular": {"ring sits on its seat", "bolts hold the cover"},
    }[form]
    rules = kind(f"gland {form}").rules
    assert {one.name for one in rules} == every | own
    assert len(rules) == len(every | own)
    # A limit of 0 that must be above itself: what is left, and room for the member.
    assert {one.name for one in rules if one.above} == {"squeeze left", "parts go together"} & (every | own)


@pytest.mark.parametrize(("form", "rule", "first"), [
    ("piston", "stretch", ("ring", "groove_diameter")), ("rod", "stretch", ("ring", "rod")), ("piston", "rubbing speed", ("bore",)), ("rod", "rubbing speed", ("rod",)),
    ("face", "reaches its wall", ("ring", "groove_inside")), ("rod", "not crowded by its wall", ("ring", "groove_diameter")), ("dovetail", "ring sits on its seat", ("ring", "groove_middle")),
    ("piston", "gland isn't overfilled", ("groove_width", "ring")), ("triangular", "gland isn't overfilled", ("ring", "leg")),
    ("piston", "no creep into the gap", ("bore", "piston_diameter")), ("rod", "no creep into the gap", ("rod", "housing_bore", "hub_outside")),
])
def test_what_could_be_changed(form: str, rule: str, first: tuple[str, ...]):
    (one,) = (one for one in kind(f"gland {form}").rules if one.name == rule)
    assert one.remedies == first


@pytest.mark.parametrize(("form", "rubbed"), [("piston", "bore"), ("rod", "rod")])
def test_rubbing_depends_on_what_is_rubbed_alone(form: str, rubbed: str):
    (one,) = (one for one in kind(f"gland {form}").values if one.name == "rubbing_speed")
    assert one.uses == (rubbed, "speed_share")


# --- published grooves ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("form", "changes", "rows"), [
    # Ponn Machine, .139 in static: depth .110 to .114, width .192 to .198, radius .031, clearance .010 in.
    ("piston", {}, {"gland_depth": (0.110, 0.114), "groove_width": (0.192, 0.198), "corner_radius": (0.031, 0.031), "clearance": (0.010, 0.010)}),
    # The same with backup rings: .207 to .213 and .274 to .280 in.
    ("piston", {"backup_rings": "1", "backup_thickness": "0.2"}, {"gland_depth": (0.110, 0.114), "groove_width": (0.207, 0.213), "corner_radius": (0.031, 0.031), "clearance": (0.010, 0.010)}),
    ("rod", {"backup_rings": "2", "backup_thickness": "0.2"}, {"gland_depth": (0.110, 0.114), "groove_width": (0.274, 0.280), "corner_radius": (0.031, 0.031), "clearance": (0.010, 0.010)}),
    # Supplier's chart, faces for liquids: .101 to .107, .177 to .187, radius .010 to .025 in.
    ("face", {}, {"gland_depth": (0.101, 0.107), "groove_width": (0.177, 0.187), "corner_radius": (0.010, 0.025)}),
    # Seal & Design: depth .111 to .113, mouth .113 to .117 in.
    ("dovetail", {}, {"gland_depth": (0.111, 0.113), "mouth_width": (0.113, 0.117)}),
    ("triangular", {}, {}),
])
def test_the_published_groove_beside(form: str, changes: dict[str, Any], rows: dict[str, tuple[float, float]]):
    found = gland(form, **changes).published()
    assert [one.value for one in found] == list(rows)
    for one in found:
        assert (one.low / 25.4, one.high / 25.4) == pytest.approx(rows[one.value])
        # The row by its name, then who printed it, without its address.
        name, who = one.source.text.split(": ", 1)
        assert ".139 in" in name
        assert len(who) > 15
        assert "http" not in who


def sources(form: str, *states: State, **changes: Any) -> str:
    return "; ".join(one.text for one in gland(form, **changes).used_sources(States.of(states or (SHOP,))))


def test_sources_are_those_that_speak():
    idle, pressed = sources("piston"), sources("piston", HOT)
    assert "Seal & Design, extrusion limits" in pressed
    assert "extrusion limits" not in idle
    assert "Ponn Machine" in pressed
    assert "typed" not in [one.evidence for one in gland("piston").used_sources(States.of((SHOP,)))]
    for words in ("AS568", "Bode Seal", "Marco Rubber", "surface finish"):
        assert words in idle, words
    # Of both metals, and of one where there is one.
    with_, without = (gland("rod", shaft_material=metal, hub_material=None).used_sources(States.of((SHOP,))) for metal in ("316", None))
    assert any("316" in one.text for one in set(with_) - set(without))
    assert set(gland("face").used_sources(States.of((SHOP,)))) - set(gland("face", hub_material=None).used_sources(States.of((SHOP,))))
    # ISO 286 of the bore, 31 H8.
    assert "286" in idle
    assert "286" not in sources("piston", bore="31", piston_diameter="30.95", groove_diameter="25.4")
    plain = gland("piston").used_sources(States.of((SHOP,)))
    assert len(set(plain)) == len(plain)


def test_what_was_taken():
    def said(*states: State) -> str:
        return " ".join(gland("piston").assumptions(States.of(states)))

    one = "each state has one temperature for both parts and the ring"
    assert one in said(State("warm", 40.0, 40.0))
    assert one not in said(SHOP)
    assert one not in said(State("apart", 40.0, 60.0))
    assert "the parts may lie to one side by their whole clearance" in said(SHOP)
    guided = " ".join(gland("piston", guide_clearance="0.01").assumptions(States.of((SHOP,))))
    assert "whole clearance" not in guided


def test_hot_seals_are_told_with_their_ends():
    notes = check(part("piston", (State("oven", 300.0, 300.0),), elastomer="FKM 75")).features[0].notes
    (said,) = (one for one in notes if "too hot for FKM 75" in one)
    for words in ("perfluorinated rubber ring to 316 degC", "metal ring to 750 degC", "flexible graphite to 566 degC"):
        assert words in said
    assert "silicone" not in said
    (above,) = (one for one in check(part("piston", (State("furnace", 20.0, 751.0),))).features[0].notes if "not covered" in one)
    assert above.startswith("751 degC is above every seal of the table")


# --- form and fit of what is declared --------------------------------------------------------------------


@pytest.mark.parametrize("form", FORMS)
def test_what_a_form_is(form: str):
    of = gland(form)
    assert of.radial == (form in ("piston", "rod"))
    assert type(of).faults_see_open
    assert type(of).form == form
    assert (gland(form, medium="gas", fluid="air").leaks_gas, gland(form, medium="vacuum", fluid="air").leaks_gas, of.leaks_gas) == (True, True, False)
    assert of.thick(2.0) == pytest.approx(2.0 * of.ring.section.middle)
    assert gland(form, ring="?").thick(2.0) is None


def test_a_bore_of_another_feature_has_no_wall_of_its_own():
    from fits.features.fields import SurfaceRef

    of = gland("piston", bore=SurfaceRef("liner", "shaft_bore"), hub_outside=None)
    assert not of.own_wall
    assert gland("piston").own_wall
    assert gland("rod").own_wall
    # Its wall isn't looked for around that bore; a hole is taken as large as the piston.
    assert of.hole == pytest.approx(of.piston_diameter.upper)
    assert not next(one for one in of.dimensions(States.of((HOT,))) if one.name == "hub_outside").missing
    said = [one.must for one in gland("piston", bore=SurfaceRef("liner", "shaft_bore")).faults()]
    assert any("its wall is that feature's" in one for one in said)
    assert gland("piston", ring=exact_ring(25.0, 3.5), bore="?").hole == pytest.approx(of.piston_diameter.upper)
    assert gland("piston", bore="?", piston_diameter="?").hole == gland("rod", groove_diameter="?", housing_bore="?").hole == 1.0
    assert gland("rod", groove_diameter="?").hole == pytest.approx(gland("rod").housing_bore.upper)
