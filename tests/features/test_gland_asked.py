"""Of which gland and state a rule is asked, what is warned of, and why something is not covered."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import joints
import pytest
from glands import SHOP, exact, exact_ring, gland, judged, numbers

from fits.features.feature import State, States
from fits.features.gland.cautions import CAUTIONS
from fits.questions.check import check

PRESSED = State("pressed", pressure=2.0)
LITTLE = State("little", pressure=0.5)
GAS = {"medium": "gas", "fluid": "nitrogen"}


@pytest.mark.parametrize(("form", "rule", "states", "changes", "asked"), [
    ("piston", "wall stands the pressure", (SHOP,), {}, False), ("piston", "wall stands the pressure", (LITTLE,), {}, True),
    ("piston", "inner wall stands the pressure", (PRESSED,), {"shaft_bore": "0"}, False), ("piston", "inner wall stands the pressure", (PRESSED,), {"shaft_bore": "0.8"}, True),
    ("piston", "inner wall stays round", (PRESSED,), {}, False), ("piston", "inner wall stays round", (SHOP,), {"shaft_bore": "12"}, False),
    ("piston", "gas can be let out", (PRESSED,), {**GAS}, True), ("piston", "gas can be let out", (SHOP,), {**GAS}, False),
    ("piston", "gas can be let out", (PRESSED,), {**GAS, "release_rated": True}, False), ("piston", "gas can be let out", (PRESSED,), {}, False),
    ("piston", "gas can be let out", (PRESSED._replace(medium="air"),), {}, True), ("piston", "gas can be let out", (PRESSED._replace(medium="water"),), {}, False),
    ("piston", "faces keep a film", (SHOP,), {}, False), ("piston", "faces keep a film", (SHOP,), {"duty": "reciprocating"}, True),
    ("face", "no backup ring is needed", (LITTLE,), {}, True), ("dovetail", "no backup ring is needed", (LITTLE,), {}, True), ("dovetail", "no backup ring is needed", (SHOP,), {}, False),
    ("piston", "no backup ring is needed", (LITTLE,), {"backup_rings": "1", "backup_thickness": "0.1"}, False),
    ("face", "bolts hold the cover", (LITTLE,), {}, True), ("face", "bolts hold the cover", (SHOP,), {}, False),
    ("face", "land stands the pressure", (SHOP,), {}, False), ("face", "land stands the pressure", (LITTLE,), {}, True),
    ("face", "reaches its wall", (SHOP,), {"pressure_side": "outside"}, False), ("face", "ring sits on its seat", (SHOP,), {}, False),
    ("dovetail", "ring sits on its seat", (SHOP,), {}, True), ("rod", "not crowded by its wall", (SHOP,), {"duty": "rotary"}, True),
    ("rod", "rotary pressure", (SHOP,), {"duty": "rotary"}, True), ("rod", "rotary pressure", (SHOP,), {}, False),
])
def test_a_rule_is_asked_of(form: str, rule: str, states: tuple[State, ...], changes: dict[str, Any], asked: bool):
    assert (rule in judged(exact(form, states, **changes))) == asked


def test_a_gap_without_pressure_is_no_way_to_creep():
    """Warm its gap is 0.28 mm, above the chart's 0.254, but only cold is there pressure; half a megapascal is pressure."""
    stiff = joints.metal(1e12, 0.3, expansion=40e-6, least=300.0)
    own = {"hub_material": stiff, "shaft_material": replace(stiff, expansion=(1e-9, 1e-9)), "piston_diameter": "30.78"}
    idle = exact("piston", (State("warm", 70.0, 70.0), LITTLE), **own)
    assert judged(idle)["no creep into the gap"].verdict == "pass"
    pressed = exact("piston", (State("warm", 70.0, 70.0, 0.5), SHOP), **own)
    one = judged(pressed)["no creep into the gap"]
    assert (one.verdict, one.worst) == ("fail", pytest.approx(31.0 * (1 + 40e-6 * 50) - 30.78, abs=1e-5))


def test_what_parts_may_do_in_any_state_is_asked_in_all_of_them():
    """No gap in a state without pressure is no gap."""
    stiff = joints.metal(1e12, 0.3, expansion=40e-6, least=300.0)
    cold = exact("piston", (State("cold", -25.0, -25.0),), hub_material=stiff, shaft_material=replace(stiff, expansion=(1e-9, 1e-9)), piston_diameter="30.95")
    # 31 (1 - 40e-6 x 45) is 30.944.
    assert judged(cold)["parts go together"].verdict == "fail"


def warned(words: str, form: str, *states: State, **changes: Any) -> bool:
    (one,) = (one for one in CAUTIONS if words in one.text)
    return bool(one.applies(gland(form, **changes), States.of(states or (SHOP,))))


@pytest.mark.parametrize(("words", "form", "states", "changes", "said"), [
    # Below 80 Shore A, and above 3 MPa of gas.
    ("Gas above 3 MPa", "piston", (State("s", pressure=3.001),), {**GAS, "elastomer": "NBR 79"}, True), ("Gas above 3 MPa", "piston", (State("s", pressure=3.0),), {**GAS, "elastomer": "NBR 79"}, False),
    ("Gas above 3 MPa", "piston", (State("s", pressure=9.0),), {**GAS, "elastomer": "NBR 80"}, False), ("Gas above 3 MPa", "piston", (State("s", pressure=9.0),), {}, False),
    ("Gas above 3 MPa", "piston", (State("s", pressure=9.0, medium="air"),), {}, True), ("Gas above 3 MPa", "piston", (SHOP, State("s", pressure=9.0)), {**GAS}, True),
    ("Gas and vacuum", "face", (), {**GAS}, True), ("Gas and vacuum", "face", (), {"medium": "vacuum", "fluid": "air"}, True), ("Gas and vacuum", "face", (), {}, False),
    ("runs dry", "rod", (), {"duty": "reciprocating", **GAS}, True), ("runs dry", "rod", (), {"duty": "reciprocating", "fluid": "water"}, True),
    ("runs dry", "rod", (), {"duty": "reciprocating"}, False), ("runs dry", "rod", (), {"fluid": "water"}, False), ("runs dry", "rod", (), {**GAS}, False),
    # The bore around a piston, the rod in a housing.
    ("Bare aluminium", "piston", (), {"duty": "reciprocating", "shaft_material": "316"}, True), ("Bare aluminium", "piston", (), {"duty": "reciprocating", "hub_material": "316"}, False),
    ("Bare aluminium", "rod", (), {"duty": "reciprocating", "hub_material": "316"}, True), ("Bare aluminium", "rod", (), {"duty": "reciprocating", "shaft_material": "316"}, False),
    ("Bare aluminium", "rod", (), {"duty": "reciprocating", "shaft_material": None}, False), ("Bare aluminium", "rod", (), {}, False),
    ("65 to 80 Shore A", "face", (), {"medium": "vacuum", "fluid": "air"}, True), ("65 to 80 Shore A", "face", (), {**GAS}, False),
    ("Crushed into its corner", "triangular", (), {}, True), ("Crushed into its corner", "face", (), {}, False),
    ("A dovetail leaves little room", "dovetail", (), {}, True), ("A dovetail leaves little room", "triangular", (), {}, False),
    ("Range, set and swell", "rod", (), {}, True),
])
def test_what_is_warned_of(words: str, form: str, states: tuple[State, ...], changes: dict[str, Any], said: bool):
    assert warned(words, form, *states, **changes) == said


@pytest.mark.parametrize(("changes", "state", "name", "says"), [
    ({"medium": "oxygen"}, SHOP, "oxygen", "ignite"), ({"fluid": "oxygen"}, SHOP, "oxygen", "ignite"), ({}, State("s", pressure=1.0, medium="oxygen"), "oxygen", "ignite"),
    ({"medium": "gas"}, State("p", pressure=3.0, proof=True, medium="nitrogen"), "proof test with gas", "at 3.0 MPa"),
    ({"elastomer": "EPDM 70"}, SHOP, "rubber and fluid clash", "EPDM in mineral oil"),
    ({"elastomer": "EPDM 70", "fluid": "water"}, State("s", pressure=1.0, medium="water"), "", ""),
])
def test_what_is_refused(changes: dict[str, Any], state: State, name: str, says: str):
    refused = check(exact("piston", (state,), **changes)).features[0].refusals
    assert [one.partition(":")[0] for one in refused] == ([name] if name else [])
    assert all(says in one for one in refused)


def test_every_fluid_that_clashes_is_named():
    """Brake fluid is refused of nitrile; oil, which a state names, is no family of which a table speaks."""
    of = exact("piston", (State("s", pressure=1.0, medium="oil"),), fluid="brake fluid")
    (one,) = check(of).features[0].refusals
    assert "NBR in brake fluid" in one
    assert "mineral oil" not in one.partition("known to stand it")[0]


def reasons(of: Any) -> dict[str, str]:
    return {one.rule: one.why_not for one in check(of).features[0].checks if one.verdict == "not covered"}


@pytest.mark.parametrize(("form", "states", "changes", "rules", "says"), [
    ("piston", (SHOP,), {"swell": None}, {"squeeze left", "gland isn't overfilled"}, "swell not given (NBR: 0 to 60 %, class limit"),
    ("piston", (SHOP,), {"swell": None, "fluid": None}, {"gland isn't overfilled"}, "swell not given"),
    ("piston", (SHOP,), {"swell": None, "fluid": "water"}, {"gland isn't overfilled"}, "swell not given"),
    ("piston", (SHOP,), {"compression_set": None}, {"squeeze left"}, "compression_set not given (NBR in tests: 10 to 25 % at 100 degC; 50 % at 120 degC)"),
    ("piston", (SHOP,), {"compression_set": None, "elastomer": "AU 90"}, {"squeeze left"}, "compression_set not given"),
    ("piston", (SHOP,), {"finish": None}, {"faces are fine enough"}, "finish not given"),
    ("piston", (SHOP,), {"lead_in": None}, {"lead-in is long enough"}, "lead_in not given"),
    ("piston", (SHOP,), {"backup_rings": "1"}, {"gland isn't overfilled"}, "backup_thickness not given"),
    ("piston", (LITTLE,), {"land": None}, {"land stands the pressure"}, "land not given"),
    ("piston", (LITTLE,), {"hub_outside": None}, {"wall stands the pressure", "no creep into the gap"}, "hub_outside not given: growth and stress of the wall under pressure unknown"),
    ("dovetail", (SHOP,), {"edge_radius": None}, {"mouth holds the ring"}, "edge_radius not given"),
    ("face", (LITTLE,), {"bolt_preload": None}, {"bolts hold the cover"}, "bolt_preload not given"),
    ("rod", (SHOP,), {"duty": "rotary"}, {"rubbing speed"}, "no state says how fast it turns (500 rpm)"),
    ("rod", (SHOP,), {"duty": "reciprocating", "elastomer": "FEPM 80"}, {"rubber stands rubbing"}, "FEPM 80: no resistance to rubbing is known"),
    ("piston", (SHOP,), {"fluid": None}, {"rubber stands the fluid"}, "fluid not given"),
    ("piston", (State("s", pressure=1.0, medium="carbon dioxide"),), {}, {"rubber stands the fluid"}, "nothing is known of NBR in carbon dioxide: ask the maker of the ring"),
    ("piston", (SHOP,), {"fluid": "fuel"}, {"rubber stands the fluid"}, "NBR in fuel: rated poor; ask the maker"),
])
def test_why_a_rule_is_not_covered(form: str, states: tuple[State, ...], changes: dict[str, Any], rules: set[str], says: str):
    found = reasons(exact(form, states, **changes))
    assert rules <= set(found)
    assert all(says in found[rule] for rule in rules)


def test_a_modulus_matters_only_under_pressure():
    """Of no metal known the gap is known at rest and 20 degC, and not under pressure nor warm."""
    idle = judged(exact("piston", (SHOP,), shaft_material=None))
    assert idle["parts go together"].verdict == "pass"
    pressed = judged(exact("piston", (LITTLE,), shaft_material=None))
    assert pressed["no creep into the gap"].verdict == "not covered"
    assert "shaft_material not given" in pressed["no creep into the gap"].why_not
    warm = judged(exact("rod", (State("warm", 40.0, 40.0),), shaft_material=None))
    assert warm["parts go together"].verdict == "not covered"
    # Only the grooved part of a face is asked for.
    face = judged(exact("face", (LITTLE,), hub_material=None))
    assert face["land stands the pressure"].verdict == "not covered"


def test_a_shaft_turns_if_any_state_says_so():
    turns = exact("rod", (SHOP, State("run", speed=10.0)), duty="rotary")
    assert judged(turns)["rubbing speed"].verdict == "pass"
    assert judged(turns)["rubbing speed"].worst == pytest.approx(10.0 * 25.0 / 2000.0)


def test_a_ring_beyond_its_curves_is_not_covered():
    """25 % of stretch, 30 % of squeeze, 30 to 80 Shore A."""
    wide = {"groove_diameter": None, "gland_depth": "2.9", "piston_diameter": "37.1", "ring": exact_ring(25.0, 3.5)}
    for bore, known in (("37.05", True), ("37.06", False)):
        # Its seat is the bore less 5.8: 31.25 is a quarter more than 25.
        found = reasons(exact("piston", (SHOP,), **{**wide, "bore": bore, "piston_diameter": "37"}))
        assert ("squeeze left" in found) != known, bore
        assert known or "stretched by more than 25 %: beyond the curve of section loss" in found["squeeze left"]
    for depth, known in (("2.45", True), ("2.44", False)):
        found = reasons(exact("face", (LITTLE,), gland_depth=depth, groove_width="6"))
        assert ("bolts hold the cover" in found) != known
        assert known or "squeezed by more than 30 %: Lindley's load ends there" in found["bolts hold the cover"]
    for rubber, known in (("NBR 80", True), ("NBR 81", False), ("NBR 30", True), ("NBR 29", False)):
        found = reasons(exact("face", (LITTLE,), elastomer=rubber))
        assert ("bolts hold the cover" in found) != known, rubber
        assert known or f"{rubber}: hardness is turned to a modulus from 30 to 80 Shore A only" in found["bolts hold the cover"]


def test_rubber_without_expansion_is_not_covered_away_from_20_degrees():
    found = reasons(exact("piston", (State("warm", 40.0, 40.0),), elastomer="HNBR 75"))
    for rule in ("squeeze left", "gland isn't overfilled"):
        assert "HNBR 75: no expansion is known" in found[rule]
    assert "squeeze left" not in reasons(exact("piston", (SHOP,), elastomer="HNBR 75"))


def test_set_of_an_unknown_deepest_squeeze_is_not_covered_in_any_state():
    """Hot, where no expansion is known, the set is earned: what is left at 20 degC isn't known either."""
    of = exact("piston", (SHOP, State("warm", 40.0, 40.0)), elastomer="HNBR 75", compression_set="0.2")
    assert all(value.name != "squeeze_left" for value in check(of).features[0].values)
    assert "the deepest squeeze of all states isn't known" in reasons(of)["squeeze left"]


def test_a_groove_deeper_than_its_part_leaves_no_seat():
    of = exact("triangular", ring=exact_ring(34.9, 3.5))
    assert judged(of)["ring sits on its seat"].verdict == "pass"
    gone = exact("dovetail", groove_middle="3.0", ring=exact_ring(1.0, 3.5), hub_outside=None)
    found = reasons(gone)
    assert "so deep a groove leaves nothing for the ring to sit on" in found["ring sits on its seat"]


def test_a_seat_of_half_a_millimetre_is_one():
    """4 less the ring's 3.5 mm; walls of a face that meet in its middle leave no room at all, which anything overfills."""
    none = exact("dovetail", groove_middle="3.5", ring=exact_ring(0.5, 3.5), hub_outside=None)
    assert judged(none)["ring sits on its seat"].verdict == "not covered"
    small = exact("dovetail", groove_middle="4.0", ring=exact_ring(0.5, 3.5), hub_outside=None)
    assert judged(small)["ring sits on its seat"].verdict == "pass"
    met = numbers(exact("face", groove_width="38"))
    assert met["fill"] == pytest.approx(math.pi**2 / 4.0 * 3.5**2 * 72.5 / 1e-3)
    barely = numbers(exact("face", groove_width="37.9", corner_radius="0"))
    assert barely["fill"] == pytest.approx(math.pi**2 / 4.0 * 3.5**2 * 72.5 / (math.pi * 38.1 * 37.9 * 2.8))


def test_a_dovetail_creeps_as_any_ring():
    """.010 in at 500 psi for .139 in, and no backup ring to think of."""
    for gap, verdict in (("0.2539", "pass"), ("0.2541", "fail")):
        assert judged(exact("dovetail", (LITTLE,), cover_gap=gap))["no creep into the gap"].verdict == verdict


def test_permeability_is_asked_only_where_gas_goes_through():
    gas = check(exact("face", **GAS)).features[0].not_covered
    assert any("permeability of the rubber for the gas not given: loss by permeation unknown" in one for one in gas)
    assert not any("permeability" in one for one in check(exact("face")).features[0].not_covered)
