"""What is told of a reamed hole: steps, gauges, notes, sources, digits, and its rules once it was read."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from reamed_holes import SHOP, answer, made, numbers

from fits.errors import InputError
from fits.features.reamed import Reamed
from fits.features.reamed.cut import CutHole, cut


def plan(**changes: Any) -> dict[str, Any]:
    return {step.do.split()[0] + " " + step.do.split()[1]: step for step in made(**changes).plan({}, SHOP)}


def test_the_steps_with_their_sizes():
    """Steel over 5 to 20 mm: 0.2 to 0.3 mm of stock; half as much again in aluminium (trade-training table). Half the least is too little to clean up."""
    steel = plan(material="304", drill=None)
    drill = steel["drill 9.7"]
    # 10.0076 - 0.05 - 0.25 = 9.7076 is aimed at; fractions and letters near it are named too.
    assert drill.do.startswith("drill 9.7 mm (9.7000 mm)")
    assert drill.range == "usual stock 0.20 to 0.30 mm on the diameter"
    assert drill.stop_if.startswith("the drilled hole measures more than 9.908 mm")
    assert steel["bore it"].range == "9.71 mm to 9.81 mm"
    light = plan()
    assert light["drill 9.7"].do == "drill 9.7 mm (9.7000 mm)"
    assert light["drill 9.7"].range == "usual stock 0.30 to 0.45 mm on the diameter"
    assert light["drill 9.7"].stop_if.startswith("the drilled hole measures more than 9.858 mm")
    assert light["bore it"].range == "9.56 mm to 9.71 mm"
    assert light["ream in"].range == "runout at its lead at most 0.010 mm, or floating"
    assert light["let it"].range == "10.0000 mm to 10.0150 mm"
    # 23.6e-6 1/K x 10 K x 10.015 mm.
    assert light["let it"].do.endswith("10 K warm it reads 0.0024 mm large")
    # Aluminium wants 0.3 to 0.45: the middle, 9.5826, is nearest to V, .377 in; of the other series 9.6 mm and 3/8 in lie within.
    chosen = next(iter(plan(drill=None).values()))
    assert chosen.do == "drill letter V (9.5758 mm) or 9.6 mm, 3/8 in"
    bare = plan(reamer=None, cuts_over=None, drill=None, material="304")
    assert bare["drill 9.7"].stop_if.startswith("the drilled hole measures more than 9.906 mm")
    assert "a reamer that measures 10.0060 mm (0.39394 in) to 10.0120 mm (0.39417 in)" in bare["ream in"].do
    assert bare["cut a"].range == "every reading 10.0000 mm to 10.0150 mm"
    assert plan(bored_to="9.8 ±0.02", drill=None, drill_oversize=None)["drill under"].range == "9.780 mm to 9.820 mm"


@pytest.mark.parametrize(("depth", "deep"), [("30", False), ("30.01", True), ("29.9 ±0.2", True), (None, False)])
def test_deeper_than_three_diameters_it_is_bored_straight(depth: str | None, deep: bool):
    """Common practice, of the hole at its least."""
    assert ("it is deep" in plan(depth=depth)["bore it"].do) == deep


def test_a_warm_hole_reads_large_by_its_greatest_expansion():
    """Of 20 to 30e-6 1/K the greater counts: 30e-6 x 10 K x 10.015 mm; one without expansion says nothing."""
    metal = {"youngs_modulus": "70 GPa", "poisson": 0.3}
    ranged = made(material={**metal, "expansion": "20e-6 1/K"})
    ranged = ranged.model_copy(update={"material": replace(ranged.material, expansion=(20e-6, 30e-6))})
    (step,) = (one for one in ranged.plan({}, SHOP) if one.do.startswith("let it"))
    assert step.do.endswith("10 K warm it reads 0.0030 mm large")
    assert "warm" not in plan(material=metal)["let it"].do
    assert "warm" not in plan(material=None)["let it"].do


def test_what_a_blind_or_coated_hole_adds():
    assert plan(through="false")["ream in"].do.endswith("keep its lead off the bottom")
    assert "lead off" not in plan()["ream in"].do
    assert "lead off" not in plan(through=None)["ream in"].do
    assert "then coat and press" in plan(closes="0.001", order="reamed first")["break the"].do
    assert "coat" not in plan(closes="0.001", order="reamed last")["break the"].do


@pytest.mark.parametrize(("gauges", "says"), [
    ({}, "GO plug from 10.0000 mm (0.39371 in) up, NO-GO from 10.0150 mm (0.39429 in) down"),
    ({"gauge_class": "X"}, "GO 10.0000 to 10.0010 mm, NO-GO 10.0140 to 10.0150 mm"),
    ({"go_pin": "10.001 mm X plus", "no_go_pin": "10.014 mm X minus"}, "GO 10.0010 to 10.0020 mm, NO-GO 10.0130 to 10.0140 mm"),
    ({"go_pin": "10.001 mm X plus"}, "GO plug from 10.0000 mm"), ({"no_go_pin": "10.014 mm X minus"}, "GO plug from 10.0000 mm"), ({"go_pin": "10 mm X", "no_go_pin": "10.014 mm X minus"}, "GO plug from"),
])
def test_which_gauges_prove_it(gauges: dict[str, str], says: str):
    assert says in plan(**gauges)["gauge it"].do


def test_which_classes_and_instruments_would_do():
    """Class XX 20 uin, 0.508 um; X 40 uin, 1.016; ZZ 200 uin, 5.08: a twentieth and a tenth of 0.015 mm are 0.75 and 1.5 um. From memory: bore gauges 4 um, air 1 um, pins 5 um."""
    from fits.features.reamed.plan import classes, instruments

    assert classes(made()) == "class XX or finer takes at most 5 % of the tolerance with each gauge; class X at most 10 % with each"
    assert instruments(made()) == (
        "of the tolerance of 0.0150 mm, by usual uncertainties (from memory): air gauge (U 0.001 mm) leaves 0.0130 mm to cut in; three-point bore gauge (inside micrometer) (U 0.004 mm) "
        "leaves 0.0070 mm to cut in; pin gauges, class ZZ, go and no-go pair (U 0.005 mm) leaves 0.0050 mm to cut in"
    )
    # Twice 4 um is all of 8: nothing is left, whatever the last binary digit is.
    for size in (8, 10, 12, 15):
        fine = instruments(made(hole=f"{size} +0.008/0", reamer=None, cuts_over=None, drill=None))
        assert "three-point bore gauge (inside micrometer) (U 0.004 mm) can't prove it" in fine
        assert "air gauge (U 0.001 mm) leaves 0.0060 mm" in fine
    assert instruments(made(hole="160 H7", reamer=None, cuts_over=None, drill=None, depth="20")).endswith("no usual instrument is tabled for this size")


@pytest.mark.parametrize(("changes", "classes", "instruments"), [
    ({}, False, True), ({"gauge_class": "X"}, True, True), ({"go_pin": "10 mm X plus"}, True, True), ({"no_go_pin": "10.015 mm X minus", "gauge_uncertainty": "0.001"}, True, False),
    ({"gauge_uncertainty": "0.001"}, False, False),
])
def test_notes_of_gauges(changes: dict[str, str], classes: bool, instruments: bool):
    notes = made(**changes).notes(SHOP)
    assert [one.startswith("10 % rule: class XX or finer") for one in notes] == [True] * classes + [False] * instruments
    assert [one.startswith("of the tolerance of 0.0150 mm") for one in notes] == [False] * classes + [True] * instruments


@pytest.mark.parametrize(("changes", "says", "said"), [
    ({"cuts_over": None}, "the reamer and 0 to 0.012 mm, until a trial hole is measured", True), ({}, "until a trial hole is measured", False),
    ({}, "the reamer is as measured; in doubt give its range", True), ({"reamer": "measured 10.0076 ±0.001"}, "the reamer is as measured", False), ({"reamer": "10 H7"}, "the reamer is as measured", False),
    ({"reamer": "10 mm"}, "the reamer is as measured", False),
    ({"material": None}, "material not given: stock as for steel", True), ({}, "material not given", False),
    ({"closes": "0 to 0.002", "order": "reamed first"}, "reamed first: the reamed hole is larger than the drawing's by 0 to 0.002 mm", True),
    ({"closes": "0", "order": "reamed first"}, "reamed first", False), ({"closes": "0.002", "order": "reamed last"}, "reamed first", False),
])
def test_what_was_taken(changes: dict[str, Any], says: str, said: bool):
    assert (says in " ".join(made(**changes).assumptions(SHOP))) == said


def test_why_it_is_not_covered():
    def why(**changes: Any) -> str:
        return " | ".join(answer(**changes).not_covered)

    assert "no reamer is named: the band to choose from is shown" in why(reamer=None)
    assert "only the marking is known, 10 H7: measure it over its margins" in why(reamer="10 H7")
    assert "no GO pin is given" in why(no_go_pin="10.015 mm X minus")
    assert "no NO-GO pin is given" in why(go_pin="10 mm X plus")
    assert "the sense of the GO pin 10 mm X isn't known, plus or minus" in why(go_pin="10 mm X", no_go_pin="10.015 mm X minus")
    assert why() == ""


def test_sources_of_what_was_looked_up():
    def said(**changes: Any) -> str:
        return " ".join(one.text for one in made(**changes).used_sources(SHOP))

    assert "how much a reamer cuts over" in said(cuts_over=None)
    assert "how much a reamer cuts over" not in said()
    assert "stock for reaming" in said()
    assert "plug gauges for IT7" in said()
    assert "plug gauges" not in said(hole="10 +0.008/0", reamer=None, cuts_over=None)
    assert "gauge class" in said(gauge_class="X")
    assert all(one.evidence != "typed" for one in made().used_sources(SHOP))


# Every hole, tool and gauge to 0.1 um as the trade reads it, stock and lengths alike; shares to 0.1 %, depth in diameters to a tenth.
SHOWN = {"reamer": 4, "hole": 4, "drill": 4, "reaming_stock": 4, "go": 4, "no_go": 4, "sure_pass": 4, "go_share": 3, "no_go_share": 3, "iso_go": 4, "iso_no_go": 4, "iso_go_worn": 4, "provable": 4}
HELD = {"cut_hole": 4, "ream_from": 4, "ream_to": 4, "reamer_from": 4, "reamer_to": 4, "clean_up": 4, "stock_limit": 4, "depth_in_diameters": 1, "wall_in_diameters": 3, "lead": 4, "room": 4,
        "final_hole": 4, "hole_from": 4, "hole_to": 4}


def test_values_shown_and_their_digits():
    assert {one.name: one.digits for one in Reamed.values if one.shown} == SHOWN
    assert {one.name: one.digits for one in Reamed.values if not one.shown} == HELD
    assert {one.name for one in Reamed.rules if one.above} == {"some holes are sure to pass", "instrument can prove it"}
    assert {one.name for one in CutHole.values if one.shown} == {"cut_hole"}


# --- once it was read ------------------------------------------------------------------------------------


def test_a_hole_that_was_read_has_its_own_rules():
    rules = {one.name: one for one in CutHole.rules}
    assert {name: (one.value, one.sense, one.limit) for name, one in rules.items()} == {
        "hole isn't too small": ("cut_hole", "at least", "hole_from"), "hole isn't too large": ("cut_hole", "at most", "hole_to"),
        "final hole isn't too small": ("final_hole", "at least", "hole_from"), "final hole isn't too large": ("final_hole", "at most", "hole_to"),
    }
    assert rules["hole isn't too small"].action == "ream, hone or bore it to size"
    assert rules["hole isn't too large"].action == "a larger mate, or a bush"
    assert rules["hole isn't too small"].reason == "the hole is below the lower limit"
    plain, coated = made(), made(closes="0.003", order="reamed first")
    assert (plain.to_be_read, coated.to_be_read) == (("hole",), ("hole", "as_reamed", "finished"))
    assert made(coating_hole="0.01", coating_share="0.5").to_be_read == ("hole", "as_reamed", "finished")
    assert made(closes="0.003", order="reamed last").to_be_read == ("hole",)
    with pytest.raises(InputError, match="before or after that"):
        coated.once_read("hole")
    before, after = coated.once_read("as_reamed"), coated.once_read("finished")
    assert isinstance(before, CutHole)
    # Read before pressing the reamed limits are those of before, the wanted ones stay.
    assert (before.as_reamed.lower, before.as_reamed.upper) == pytest.approx((10.003, 10.018))
    assert (before.wanted.lower, before.wanted.upper, before.hole, before.finished) == (10.0, 10.015, None, None)
    assert (after.finished.lower, after.finished.upper) == pytest.approx((10.0, 10.015))
    assert (numbers(before)["cut_hole"], numbers(before)["final_hole"]) == pytest.approx((10.003, 10.0))
    assert numbers(after)["cut_hole"] == pytest.approx(10.0)
    assert "final_hole" not in numbers(after)
    asked = {one.name: [bool(one.asked(of, SHOP)) for of in (before, after)] for one in CutHole.rules}
    assert asked == {"hole isn't too small": [False, True], "hole isn't too large": [False, True], "final hole isn't too small": [True, False], "final hole isn't too large": [True, False]}
    cautions = " ".join(one.text for one in CutHole.cautions)
    assert "Pins and two-point gauges" in cautions
    assert "A hard coat closes" in cautions
    assert "Coolant" not in cautions
    assert (cut(plain, "hole").light, cut(made(material="304"), "hole").light, cut(made(material=None), "hole").light) == (True, False, False)
    assert all(one.evidence != "typed" for one in cut(plain, "hole").used_sources(SHOP))
    assert "286" in " ".join(one.text for one in cut(plain, "hole").used_sources(SHOP))


@pytest.mark.parametrize(("words", "changes", "said"), [
    ("A hard coat closes", {}, True), ("A hard coat closes", {"material": "304"}, False), ("A hard coat closes", {"coating_hole": "0.001", "coating_share": "0.5", "order": "reamed last"}, False),
    ("The wall around the hole isn't given", {}, True), ("The wall around the hole isn't given", {"wall": "3"}, False), ("Stop the spindle", {"material": "304", "wall": "3"}, True),
])
def test_what_is_warned_of(words: str, changes: dict[str, Any], said: bool):
    assert any(words in one for one in answer(**changes).cautions) == said
