"""Tools offered from a drawer, and the shared pieces of the kinds: edges by hand."""

from __future__ import annotations

from math import isnan, nan
from types import SimpleNamespace

import numpy as np
import pytest
from joints import metal
from pydantic import ValidationError

from fits.errors import InputError
from fits.features import parts, tools
from fits.features.feature import Dimension, NotCovered, State, States, depends_on, field_type, required
from fits.features.fields import (
    Context,
    Length,
    Measure,
    Size,
    Spread,
    Undecided,
)
from fits.features.kinds import forms, kind, tables
from fits.features.part import Part, settled
from fits.features.press import Press
from fits.features.when import at_level
from fits.materials.metals import Curve, Metal
from fits.shop import gauges
from fits.shop.drawer import Drawer, Instrument, OwnedDrill, OwnedReamer, Span
from fits.shop.drills import parse as drill
from fits.shop.reamers import parse as reamer
from fits.sizes.limits import Limits
from fits.tables import Source

FILE, LIBRARY = Context(), Context(bare_numbers=True)


# Tools

def owned(size: float, over: tuple[float, float] | None = (0.001, 0.004), lead: float | None = None, text: str = "") -> OwnedReamer:
    return OwnedReamer(f"R {size}", reamer(text or f"measured {size}"), None if over is None else Span(*over), lead)


REAMED = SimpleNamespace(hole=Limits(9.99, 10.01, 10.0), reamer=None, light=False)
REAMER = tools.ReamerField("reamer", hole="hole", trials="cuts_over", lead="reamer_lead")


def test_reamers_are_offered_by_how_near_they_cut_and_eight_at_most():
    """Nearest by the least hole each should cut; within 2 % of 10 mm, that is 0.2 mm."""
    sizes = (10.1989, 10.1991, 9.7991, 9.7989, 9.99, 10.02, 9.95, 10.08, 9.9, 10.15, 9.85)
    found = REAMER.offers("reamer", REAMED, Drawer(reamers=tuple(owned(one) for one in sizes)))
    apart = sorted((one for one in sizes if abs(one + 0.001 - 10.0) <= 0.2), key=lambda one: abs(one + 0.001 - 10.0))
    assert [one.name for one in found] == [f"R {one}" for one in apart[:8]]
    assert len(apart) == 9
    edges = REAMER.offers("reamer", REAMED, Drawer(reamers=tuple(owned(one) for one in sizes[:4])))
    assert {one.name for one in edges} == {"R 10.1989", "R 9.7991"}


def test_what_an_owned_reamer_brings_along():
    known, marked = owned(10.0, (0.002, 0.005), 4.0), owned(10.0, None, None, "10 H7")
    first, second = REAMER.offers("reamer", REAMED, Drawer(reamers=(known, marked)))
    assert first.fields == {"reamer": known.size, "cuts_over": Spread(0.002, 0.005), "reamer_lead": Spread(4.0, 4.0)}
    assert (first.low, first.high) == pytest.approx((10.002, 10.005))
    assert (first.remark, first.proven) == ("measured, by its own trials", True)
    assert second.fields == {"reamer": marked.size}
    assert (second.remark, second.proven) == ("marked only: measure it, cut a trial hole", False)
    trials = owned(10.0, (0.0, 0.001), None, "10 H7")
    assert tools.holes_of("hole", REAMED.hole, Drawer(reamers=(trials,)))[0].remark == "marked only: measure it"
    alone = tools.holes_of("hole", REAMED.hole, Drawer(reamers=(owned(10.0, None),)))[0]
    assert (alone.remark, alone.proven) == ("measured; cut a trial hole", False)
    (hole,) = tools.holes_of("hole", REAMED.hole, Drawer(reamers=(known,)))
    assert (hole.fields["hole"].lower, hole.fields["hole"].upper, hole.fields["hole"].side) == (10.002, 10.005, "hole")


@pytest.mark.parametrize(("low", "high", "says"), [
    # ISO 522: 15 % of the tolerance below its upper end, 35 % wide, whole um.
    (10.0, 10.02, "a reamer that measures 10.0100 mm (0.39410 in) to 10.0170 mm (0.39437 in), by the rule of ISO 522; or bore it to 10.0000 mm (0.39371 in) to 10.0200 mm (0.39448 in)"),
    (10.0, 10.0001, "no reamer holds so little: bore, hone or grind it"),
])  # fmt: skip
def test_a_reamer_to_buy(low: float, high: float, says: str):
    assert tools.reamer_to_buy(low, high) == says


DRILL = tools.DrillField("drill", hole="hole", reamer="reamer", light="light", oversize="drill_oversize")


def test_drills_of_a_drawer_with_their_trials():
    some = tuple(OwnedDrill(drill(f"{one} mm"), over) for one, over in ((9.7, Span(0.02, 0.06)), (9.75, None), (9.0, None)))
    found = {one.name: one for one in DRILL.offers("drill", SimpleNamespace(**{**vars(REAMED), "reamer": Limits(10.0, 10.01)}), Drawer(drills=some))}
    tried = next(one for name, one in found.items() if "9.7 " in f"{name} ")
    assert (tried.low, tried.high, tried.remark, tried.proven) == (pytest.approx(9.72), pytest.approx(9.76), "its own trials", True)
    assert tried.fields["drill_oversize"] == Spread(0.02, 0.06)
    other = next(one for name, one in found.items() if "9.75" in name)
    assert other.low == 9.75
    assert (other.remark, other.proven, set(other.fields)) == ("drill a trial hole", False, {"drill"})
    assert not [name for name in found if "9 mm" in name]
    assert DRILL.near(REAMED) == pytest.approx(9.99 * 0.98)
    assert REAMER.near(REAMED) == pytest.approx(10.0)


PINS = SimpleNamespace(hole=Limits(9.99, 10.01, 10.0))


def pin(size: float, sense: str, grade: str = "ZZ") -> gauges.Pin:
    return gauges.Pin(size, grade, sense, f"{size:g} {sense}")


def test_pins_that_cannot_pass_a_bad_hole_come_first():
    """A GO pin of class ZZ (0.0002 in, 5.08 um) that may be below the least hole is unsafe; one that eats most comes last."""
    go = tools.PinField("go pin", hole="hole", go=True)
    some = (pin(9.991, "plus"), pin(9.99, "plus"), pin(9.99, "minus"), pin(9.993, ""), pin(10.0049, "plus"), pin(10.0050, "plus"), pin(9.98, "plus"))
    found = [one.name for one in go.offers("go_pin", PINS, Drawer(pins=some))]
    # Eats: 6.08, 5.08, 0, 8.08 (may be below by 2.08: 9.98792), 19.98 um, over 20 and 4.92 below.
    assert found == ["pin 9.99 plus", "pin 9.991 plus", "pin 10.0049 plus", "pin 9.99 minus", "pin 9.98 plus", "pin 9.993 "]
    no_go = tools.PinField("no-go pin", hole="hole", go=False)
    some = (pin(10.01, "minus"), pin(10.009, "minus"), pin(10.01, "plus"), pin(10.0, ""))
    found = no_go.offers("no_go_pin", PINS, Drawer(pins=some))
    assert [one.name for one in found] == ["pin 10.01 minus", "pin 10.009 minus", "pin 10 ", "pin 10.01 plus"]
    assert [one.proven for one in found] == [True, True, False, True]
    assert (found[0].low, found[0].high) == (pytest.approx(10.00492), 10.01)


def test_a_pin_that_eats_all_of_the_tolerance_is_still_offered():
    """GO: the pin's greatest less the least hole, 20 um of 20; NO-GO: the greatest hole less the pin's least."""
    hole = SimpleNamespace(hole=Limits(16.0, 16.5, 16.0))
    go, no_go = (tools.PinField("pin", hole="hole", go=one) for one in (True, False))
    assert [one.name for one in go.offers("go_pin", hole, Drawer(pins=(pin(16.5, "minus"), pin(16.501, "minus"))))] == ["pin 16.5 minus"]
    assert [one.name for one in no_go.offers("no_go_pin", hole, Drawer(pins=(pin(16.0, "plus"), pin(15.999, "plus"))))] == ["pin 16 plus"]


def test_a_pin_to_buy_by_a_twentieth_and_else_a_tenth():
    """Classes up to 0.825 in: XXX 10, XX 20, X 40, Y 70, Z 100, ZZ 200 millionths (ASME B89.1.5): a twentieth of 20 um is 1 um, class X 1.016."""
    go, no_go = (tools.PinField("pin", hole="hole", go=one) for one in (True, False))
    assert go.to_buy("go_pin", PINS, 0.0, 0.0).endswith("class XX, plus")
    assert no_go.to_buy("no_go_pin", PINS, 0.0, 0.0) == "a pin of 10.0100 mm (0.39409 in), class XX, minus"
    fine = SimpleNamespace(hole=Limits(9.998, 10.002))
    # 4 um: a twentieth is below XXX (10 millionths, 0.254 um), a tenth is not.
    assert go.to_buy("go_pin", fine, 0.0, 0.0) == "a pin of 9.9980 mm (0.39362 in), class XXX, plus"
    tiny = SimpleNamespace(hole=Limits(10.0, 10.0004))
    assert go.to_buy("go_pin", tiny, 0.0, 0.0) == "no class of pin is fine enough and made so large: take a bore gauge or air gauge"


def test_bore_gauges_that_reach_the_hole_the_surest_first():
    some = (Instrument("a", 9.99, 20.0, 0.004), Instrument("b", 5.0, 10.01, 0.002), Instrument("c", 9.9901, 20.0, 0.001), Instrument("d", 5.0, 10.0099, 0.001))
    field = tools.Uncertainty("uncertainty", hole="hole")
    found = field.offers("gauge_uncertainty", PINS, Drawer(bore_gauges=some))
    assert [one.name for one in found] == ["b", "a"]
    assert found[0].fields == {"gauge_uncertainty": Spread(0.002, 0.002)}
    assert (found[0].low, found[0].high, found[0].proven) == (0.0, 0.002, True)
    # A ring within half a millimetre of the middle sets it; the nearest one.
    for sizes, said in (((10.5,), "ring 10.5 "), ((9.5, 10.2), "ring 10.2 "), ((10.51,), "ring or gauge blocks"), ((), "ring or gauge blocks"), ((9.49,), "ring or gauge blocks")):
        rings = tuple(gauges.Pin(one, "XX", "", f"{one:g}") for one in sizes)
        (offer, *_) = field.offers("gauge_uncertainty", PINS, Drawer(bore_gauges=some, rings=rings))
        assert said in offer.remark
    assert field.to_buy("x", PINS, 0.0, 0.0) == "a bore gauge for 9.9900 mm (0.39331 in) with an uncertainty of at most 0.0020 mm (0.00008 in)"


def test_only_a_hole_is_offered_reamers():
    feature, drawer = SimpleNamespace(bore=REAMED.hole), Drawer(reamers=(owned(10.0),))
    for side, count in (("hole", 1), ("shaft", 0), ("", 0)):
        field = Size("x", side=side)
        assert len(field.offers("bore", feature, drawer)) == count
        assert field.to_buy("bore", feature, 10.0, 10.02).startswith("a reamer that measures") is bool(count)
    assert Length("x").offers("bore", feature, drawer) == ()
    assert Length("x").to_buy("bore", feature, 10.0, 10.02) == ""


def test_what_is_a_tool_and_what_a_number():
    assert [one.tool for one in (REAMER, DRILL, tools.PinField("p", hole="hole", go=True), tools.Uncertainty("u", hole="hole"))] == [True] * 4
    assert [one.tool for one in (Size("s"), Length("l"), Measure("m"), tools.WantedHole("w"))] == [False] * 4
    assert (tools.Uncertainty("u", hole="hole").least, tools.Uncertainty("u", hole="hole").digits) == (0.0, 4)
    for field in (REAMER, DRILL, tools.PinField("p", hole="hole", go=True)):
        with pytest.raises(InputError, match="text is due"):
            field.parse(True, FILE)
        with pytest.raises(InputError, match="text is due"):
            field.parse([1], FILE)
    assert REAMER.parse(10.007, FILE).lower == 10.007
    assert not REAMER.parse(10, FILE).marked
    assert DRILL.parse(9.8, FILE).lower == 9.8


# Shared pieces

STATES = States.of((State("a", 20.0, 20.0, 0.0), State("b", 90.0, 20.0, 2.0, 0.0, True, "nitrogen"), State("c", 20.0, -5.0, 5.0, 0.0, False, "water")))


def test_states_as_columns():
    assert STATES.names == ("a", "b", "c", "as_made")
    assert [list(one) for one in (STATES.hub_temperature, STATES.shaft_temperature, STATES.pressure, STATES.speed, STATES.time)] == [
        [20.0, 90.0, 20.0, 20.0], [20.0, 20.0, -5.0, 20.0], [0.0, 2.0, 5.0, 0.0], [0.0] * 4, [0.0] * 4]  # fmt: skip
    assert list(STATES.proof) == [False, True, False, False]
    assert STATES.has_gas
    assert not States.of((State("a", medium="water"),)).has_gas
    columns = {when: list(STATES.columns(when)) for when in (("every state",), ("as_made",), ("every state", "as_made"), ("assembly",))}
    assert columns == {("every state",): [True, True, True, False], ("as_made",): [False, False, False, True],
                       ("every state", "as_made"): [True] * 4, ("assembly",): [False, False, False, True]}  # fmt: skip


def test_refusals_look_at_every_state():
    gas, oxygen = parts.REFUSALS
    assert gas.applies(None, STATES)
    # Proof with a liquid, or gas that isn't a proof, is none.
    assert not gas.applies(None, States.of((State("p", proof=True, medium="water"), State("g", pressure=9.0, medium="air"))))
    assert not oxygen.applies(None, STATES)
    assert oxygen.applies(None, States.of((State("x"), State("o", medium="oxygen"))))
    # Isothermal gas against water: p (ln p/p0 - 1 + p0/p) and p^2/2K of a litre at the 2 MPa of the gas.
    from fits.mechanics import energy

    said = gas.reason(None, STATES)
    gas_, water = energy.of_gas(2.0, 1.0) / 1000.0, energy.of_water(2.0, 1.0) / 1000.0
    assert said == f"at 2.0 MPa a litre of gas lets go {gas_:.1f} kJ when it bursts, of water {water:.2f} kJ"


@pytest.mark.parametrize("pressure", [2.0, 7.5, 19.3, 33.3, 68.7, 101.1, 149.9])
def test_the_energy_of_a_litre_is_told_to_its_last_digit(pressure: float):
    """The text is the number rounded, in kJ of the joules that N mm/1000 are; a thousandth off would show in some."""
    from fits.mechanics import energy

    reason = parts.REFUSALS[0].reason(None, States.of((State("p", pressure=pressure, proof=True, medium="air"),)))
    gas_, water = (float(one.split(" kJ")[0].rpartition(" ")[2]) for one in (reason, reason.partition("of water")[2]))
    assert gas_ == pytest.approx(energy.of_gas(pressure, 1.0) / 1000.0, abs=0.0501)
    assert water == pytest.approx(energy.of_water(pressure, 1.0) / 1000.0, abs=0.00501)


def test_walls_take_two_thirds_of_the_yield_but_at_proof():
    assert list(parts.wall_factor(STATES)) == [1.5, 1.0, 1.5, 1.5]


@pytest.mark.parametrize(("hub", "shaft", "warm"), [(20.0, 20.0, False), (20.5, 20.0, True), (20.0, 19.5, True)])
def test_warm_is_away_from_20(hub: float, shaft: float, warm: bool):
    assert parts.warm(States.of((State("x", hub, shaft),))) is warm


BASE = Metal("m", (70000.0, 74000.0), 0.3, 240.0, None, None, 2700.0, (20e-6, 24e-6), (-40.0, 300.0), typed=frozenset({"youngs_modulus"}), max_service=100.0,
             yield_curve=Curve((20.0, 100.0), (1.0, 0.8), 20.0, Source("c")))  # fmt: skip


def test_a_metal_in_every_state():
    d = {"hub_modulus_share": np.array([[0.25]]), "hub_expansion_share": np.array([[0.5]])}
    found = parts.material("hub", BASE, np.array([20.0, 60.0, 100.0, 100.5, 301.0, -41.0]), d, np.array([[1.25]]))
    assert np.ravel(found.modulus) == pytest.approx([71000.0] * 6)
    assert np.ravel(found.strain) == pytest.approx([0.0, 22e-6 * 40.0, 22e-6 * 80.0, 22e-6 * 80.5, nan, nan], nan_ok=True)
    # A hot yield that isn't known may fail as the cold one does, and passes nothing.
    assert np.ravel(found.allowed) == pytest.approx([192.0, 192.0 * 0.9, 192.0 * 0.8, 192.0, 192.0, 192.0])
    masks = {gap.about: list(np.ravel(gap.mask)) for gap in found.gaps}
    assert masks == {"hub_strain": [False] * 4 + [True] * 2, "hub_service": [False] * 3 + [True] * 2 + [False], "hub_yield": [False] * 3 + [True] * 2 + [False]}


def test_a_typical_yield_and_no_metal_at_all():
    d = {"hub_modulus_share": np.array([[0.0]]), "hub_expansion_share": np.array([[0.0]])}
    at = np.array([20.0, 60.0])
    from dataclasses import replace

    typical = parts.material("hub", replace(BASE, yield_minimum=None, yield_typical=200.0), at, d, np.ones(1))
    assert [list(gap.mask) for gap in typical.gaps if gap.about == "hub_yield" and "typical" in gap.reason] == [[True, True]]
    none = parts.material("shaft", None, at, {}, np.ones(1))
    assert {gap.about: list(gap.mask) for gap in none.gaps} == {"shaft_modulus": [True, True], "shaft_strain": [False, True], "shaft_yield": [True, True]}
    assert all(isnan(one) for one in none.modulus)
    loaded = parts.where_loaded(none, np.array([True, False]))
    assert {gap.about: list(gap.mask) for gap in loaded} == {"shaft_modulus": [True, False], "shaft_strain": [False, True], "shaft_yield": [True, True]}


@pytest.mark.parametrize(("share", "want"), [(0.0, 70.0), (0.5, 70.0), (0.51, 20.0 + 1e-3 / 24e-6), (1.0, 20.0 + 1e-3 / 24e-6)])
def test_a_temperature_by_either_source(share: float, want: float):
    from dataclasses import replace

    typed = replace(BASE, typed=frozenset({"expansion"}))
    assert float(parts.temperature_of(np.array([share]), typed, np.array([1e-3]))[0]) == pytest.approx(want)
    single = replace(typed, expansion=(20e-6, 20e-6))
    assert float(parts.temperature_of(np.array([1.0]), single, np.array([1e-3]))[0]) == pytest.approx(70.0)


def test_typed_metals_are_named_once():
    hub, plain = metal(7e4, 0.3, name="bar"), Metal("table", (7e4, 7e4), 0.3, 240.0, None, None, None, None)
    assert parts.typed_metals(hub, None, plain, hub) == ["bar: typed values taken as the same in every state"]


def test_a_part_without_states_is_refused_and_left_fields_are_as_not_given():
    press = Press(hole="30", shaft="30.05", hub_outside="52", hub_material="304", shaft_material="304", length=Undecided())
    with pytest.raises(InputError, match="at least one state is due"):
        Part("p", {"one": press}, ())
    with pytest.raises(InputError, match="at least one state is due"):
        Part("p", {"one": press}, (State("x"),), {"one": ()})
    assert settled(press).length is None
    open_ = press.model_copy(update={"hole": Undecided()})
    assert isinstance(settled(open_).hole, Undecided)
    part = Part("p", {"one": settled(press), "two": settled(press)}, (State("x"),), {"two": (State("y"), State("z"))})
    assert [part.columns(name).names for name in ("one", "two")] == [("x", "as_made"), ("y", "z", "as_made")]


def test_levels_in_words_and_what_depends_on_what():
    words = Dimension("ends", "ends", "number", (0.0, 2.0), (0.0, 3.0), words=("open", "body"))
    assert [words.said(level) for level in (0.0, 2.0, 1.0)] == ["open", "body", ""]
    assert Dimension("x", "x", "number", (0.0, 1.0), (0.0, 1.0)).said(1.0) == ""
    assert (words.shared, words.missing) == ("", False)
    assert required(Press, "hole")
    assert not required(Press, "length")
    assert field_type(Press, "slices.thinnest").quantity == "length"
    assert field_type(Press, "assembly").shown() == "pressed|heated|chilled|pressed on oil"
    assert {"torque_capacity", "axial_capacity", "holding_pressure", "contact_pressure", "hole"} <= depends_on(Press, "torque_capacity")
    assert depends_on(Press, "hole") == {"hole"}


def test_a_feature_does_not_change():
    press = Press(hole="30", shaft="30.05", hub_outside="52", hub_material="304", shaft_material="304")
    with pytest.raises(ValidationError, match="frozen"):
        press.hole = Limits(1.0, 1.0)  # type: ignore[misc]
    with pytest.raises(ValidationError, match="Extra inputs"):
        Press(hole="30", shaft="30.05", hub_outside="52", hub_material="304", shaft_material="304", qqqq=1)


def test_one_shared_size_is_no_hole_and_its_shaft():
    shared = Limits(30.0, 30.02, 30.0, name="bore")
    (fault,) = Press(hole=shared, shaft=shared, hub_outside="52", hub_material="304", shaft_material="304").faults()
    assert (fault.key, fault.got, fault.must) == ("shaft", "bore", "hole and shaft are two parts: each needs its own size")


def test_an_expected_hole_is_kept_to_a_millionth_of_a_micrometre():
    (hole,) = tools.holes_of("hole", REAMED.hole, Drawer(reamers=(owned(10.0, (0.0000123456, 0.0000765434)),)))
    assert (hole.fields["hole"].lower, hole.fields["hole"].upper) == (10.000012346, 10.000076543)


def test_kinds_by_name():
    assert tables() == ("press", "compound", "running", "reamed", "dowel", "gland", "bonded")
    assert forms("gland") == ("face", "piston", "rod", "dovetail", "triangular")
    assert forms("press") == ()
    assert kind("press") is Press
    with pytest.raises(InputError, match="unknown kind of feature"):
        kind("pres")
    assert at_level("p", "layers 1-2") == "p.layers_1-2"
    assert NotCovered("a", "b", np.array([True])).sweep == ""
