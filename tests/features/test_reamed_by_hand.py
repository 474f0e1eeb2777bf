"""A reamed hole by hand: every number, every rule on its limit and beside it, and what can't be."""

from __future__ import annotations

import math
from typing import Any

import pytest
from reamed_holes import SHOP, judged, made, numbers

from fits.errors import InputError

IN = 25.4


def on_and_beside(rule: str, on: dict[str, Any], beside: dict[str, Any], *, fails: str = "fail", **more: Any) -> None:
    assert judged(**{**more, **on})[rule].verdict == "pass", on
    assert judged(**{**more, **beside})[rule].verdict == fails, beside


# --- rules on their limits --------------------------------------------------------------------------


@pytest.mark.parametrize(("rule", "on", "beside", "more"), [
    # What its trials promise: 10.0076 less 0.0076 is the lower limit, 10.0076 and 0.0074 the upper one.
    ("hole isn't too small", {"cuts_over": "-0.0076 to 0"}, {"cuts_over": "-0.00761 to 0"}, {}), ("hole isn't too large", {"cuts_over": "0 to 0.0074"}, {"cuts_over": "0 to 0.00741"}, {}),
    # At least 0.05 mm of stock (common practice): 10.0076 - 9.7 - 0.2576.
    ("drilled hole cleans up", {"drill_oversize": "0.2576"}, {"drill_oversize": "0.25761"}, {}),
    ("drilled hole cleans up", {"bored_to": "9.95 +0.0076/0"}, {"bored_to": "9.95 +0.0077/0"}, {"drill_oversize": None, "drill": None}),
    # At most 1/32 in: 10.0076 - 0.79375 = 9.21385.
    ("not too much stock", {"bored_to": "9.2139"}, {"bored_to": "9.2138"}, {"drill_oversize": None, "drill": None}),
    # A lead of 2 mm needs a room of 2 mm, at the least there is.
    ("lead clears the bottom", {"reamer_lead": "1 to 2", "runout_room": "2 to 3"}, {"reamer_lead": "1 to 2.001", "runout_room": "2 to 3"}, {"through": "false"}),
    # A coat of 4 um of which a quarter to a half builds up, on both faces: 10.0086 - 0.004 is 10.0046, less 0.0046 by pressing the limit.
    ("final hole isn't too small", {"closes": "0.001 to 0.0046"}, {"closes": "0.001 to 0.00461"}, {"coating_hole": "0.004", "coating_share": "0.25 to 0.5", "order": "reamed first"}),
    ("final hole isn't too large", {"cuts_over": "0.008 to 0.0114"}, {"cuts_over": "0.008 to 0.01141"}, {"coating_hole": "0.004", "coating_share": "0.25 to 0.5", "closes": "0.002 to 0.003", "order": "reamed first"}),
    # A gauge on its limit, plus and minus: a class X pin is 0.00004 in, 1.016 um, wide.
    ("GO passes no small hole", {"go_pin": "10 mm X plus"}, {"go_pin": "9.9999 mm X plus"}, {"no_go_pin": "10.015 mm X minus"}),
    ("NO-GO passes no large hole", {"no_go_pin": "10.015 mm X minus"}, {"no_go_pin": "10.0151 mm X minus"}, {"go_pin": "10 mm X plus"}),
    ("some holes are sure to pass", {"go_pin": "10.005 mm X plus"}, {"go_pin": "10.005001 mm X plus"}, {"no_go_pin": "10.007033 mm X minus"}),
    # Twice the uncertainty as wide as the tolerance proves nothing.
    ("instrument can prove it", {"gauge_uncertainty": "0.007499"}, {"gauge_uncertainty": "0.0075"}, {}),
])
def test_a_rule_on_its_limit_and_beside_it(rule: str, on: dict[str, Any], beside: dict[str, Any], more: dict[str, Any]):
    on_and_beside(rule, on, beside, **more)


def test_each_gauge_eats_a_tenth_at_most():
    """Class ZZ is 0.00020 in, 5.08 um, wide: a tenth of 0.0508 mm (common practice)."""
    sizes = {"reamer": None, "cuts_over": None, "drill": None, "drill_oversize": None, "gauge_class": "ZZ"}
    for rule in ("GO eats a tenth at most", "NO-GO eats a tenth at most"):
        on_and_beside(rule, {"hole": "10.0508/10"}, {"hole": "10.0507/10"}, **sizes)
        assert judged(hole="10.0508/10", **sizes)[rule].limit == 0.10
    # A GO pin above its limit eats what lies below it too: 1.016 + 0.5 um of 15.
    one = judged(go_pin="10.0005 mm X plus", no_go_pin="10.0148 mm X minus")
    assert one["GO eats a tenth at most"].worst == pytest.approx((0.0005 + 0.001016) / 0.015)
    assert one["NO-GO eats a tenth at most"].worst == pytest.approx((0.0002 + 0.001016) / 0.015)


def test_a_reamer_without_trials_lies_in_its_band():
    """ISO 522, as worded by a tool maker: 10.015 - 0.15 x 0.015 rounded up to 3 um is 10.012, less 0.35 x 0.015 to 6 um is 10.006."""
    marked = judged(reamer="measured 10.006 mm", cuts_over=None), judged(reamer="measured 10.0059 mm", cuts_over=None)
    assert [one["reamer isn't too small"].verdict for one in marked] == ["pass", "fail"]
    large = judged(reamer="measured 10.012 mm", cuts_over=None), judged(reamer="measured 10.0121 mm", cuts_over=None)
    assert [one["reamer isn't too large"].verdict for one in large] == ["pass", "fail"]
    assert "reamer isn't too large" not in judged()


def test_beyond_five_diameters_and_below_a_tenth_nothing_is_known():
    """Common practice; of a hole of 10 mm at its least 50 mm and 1 mm."""
    on_and_beside("depth is within reach", {"depth": "50"}, {"depth": "50.0001"}, fails="not covered")
    on_and_beside("wall is stiff enough", {"wall": "1"}, {"wall": "0.9999"}, fails="not covered")
    one = judged(depth="40", wall="2 ±0.5")
    assert (one["depth is within reach"].worst, one["depth is within reach"].limit) == (pytest.approx(4.0), 5.0)
    assert (one["wall is stiff enough"].worst, one["wall is stiff enough"].limit) == (pytest.approx(0.15), 0.1)


def test_the_last_binary_digit_makes_no_difference():
    """A billionth more than 5 diameters, or less than a tenth, is still known; two are not."""
    for times, known in ((1.0, True), (2.0, False)):
        deep, thin = 5.0 * (1.0 + times * 1e-9), 0.1 * (1.0 - times * 1e-9)
        got = numbers(made(wall="1"), depth=deep * 10.0, wall=thin * 10.0)
        assert got["depth_in_diameters"] == (pytest.approx(deep, rel=1e-15) if known else pytest.approx(math.nan, nan_ok=True))
        assert got["wall_in_diameters"] == (pytest.approx(thin, rel=1e-15) if known else pytest.approx(math.nan, nan_ok=True))


@pytest.mark.parametrize("size", [8, 10, 12, 15])
def test_the_finest_hole_after_coat_and_pressing(size: int):
    """0.004 mm is left of 0.015 by 0.011, whatever the last binary digit is."""
    sizes = {"hole": f"{size} +0.015/0", "order": "reamed first", "reamer": None, "cuts_over": None, "drill": None}
    made(**sizes, closes="0 to 0.011")
    with pytest.raises(InputError, match="varies by as much as the hole's tolerance"):
        made(**sizes, closes="0 to 0.0111")


@pytest.mark.parametrize(("rule", "changes", "asked"), [
    ("wall is stiff enough", {}, False), ("lead clears the bottom", {}, False), ("lead clears the bottom", {"through": None}, True), ("lead clears the bottom", {"through": "false"}, True),
    ("final hole isn't too small", {}, False), ("final hole isn't too large", {"closes": "0.001", "order": "reamed first"}, True),
    ("final hole isn't too small", {"coating_hole": "0.001", "coating_share": "0.5", "order": "reamed last"}, True),
    ("GO eats a tenth at most", {}, False), ("some holes are sure to pass", {"gauge_class": "X"}, True), ("GO passes no small hole", {"go_pin": "10 mm X plus"}, True),
    ("NO-GO eats a tenth at most", {"no_go_pin": "10.015 mm X minus"}, True), ("instrument can prove it", {}, False),
])
def test_a_rule_is_asked_of(rule: str, changes: dict[str, Any], asked: bool):
    assert (rule in judged(**changes)) == asked


# --- numbers ---------------------------------------------------------------------------------------------


def test_every_number_by_hand():
    of = made(wall="3 ±0.1", through="false", reamer_lead="2.5", runout_room="4", coating_hole="0.010 to 0.012", coating_share="0.4 to 0.5", closes="0.001 to 0.0015", order="reamed first",
              gauge_uncertainty="0.001")
    # Closes by 2 x 0.010 x 0.4 + 0.001 at least, 2 x 0.012 x 0.5 + 0.0015 at most.
    assert of.later == pytest.approx((0.009, 0.0135))
    assert (of.as_reamed.lower, of.as_reamed.upper) == pytest.approx((10.0135, 10.024))
    got = numbers(of, cuts_over=0.003, drill_oversize=0.07, coating_hole=0.011, coating_share=0.45, closes=0.0012, gauge_share=0.3, gauge_uncertainty=0.001)
    expected = {
        "reamer": 10.0076, "hole": 10.0106, "cut_hole": 10.0106, "hole_from": 10.0, "hole_to": 10.015, "ream_from": 10.0135, "ream_to": 10.024, "drill": 9.7,
        "clean_up": 0.2376, "reaming_stock": 0.2376, "stock_limit": 0.79375, "depth_in_diameters": 20 / 10.0135, "wall_in_diameters": 2.9 / 10.0135, "lead": 2.5, "room": 4.0,
        "final_hole": 10.0106 - 2 * 0.011 * 0.45 - 0.0012, "provable": 0.0105 - 0.002,
        # The 10 % rule: a twentieth of 0.0105 each.
        "go": 10.0135 + 0.3 * 0.000525, "no_go": 10.024 - 0.7 * 0.000525, "sure_pass": 0.0105 - 2 * 0.000525, "go_share": 0.05, "no_go_share": 0.05,
    }
    for name, value in expected.items():
        assert got[name] == pytest.approx(value, abs=2e-9), name


def test_a_reamer_of_unknown_gain_and_a_drill_of_unknown_oversize():
    """0 to 0.012 mm until a trial hole is measured (practice); AND10387: a drill of .251 to .500 in cuts -0.001 to +0.006 in."""
    got = [numbers(made(cuts_over=None, drill_oversize=None), gain_share=share, drilled_share=share) for share in (0.0, 0.25)]
    assert [one["hole"] for one in got] == pytest.approx([10.0076, 10.0076 + 0.25 * 0.012])
    assert [one["reaming_stock"] for one in got] == pytest.approx([0.3076 + 0.001 * IN, 0.3076 - (-0.001 + 0.25 * 0.007) * IN])
    assert math.isnan(got[0]["cut_hole"])
    assert math.isnan(got[0]["clean_up"])
    # Read by trials, no share is left.
    assert numbers(made(), cuts_over=0.004, gain_share=1.0, drilled_share=1.0, drill_oversize=0.05)["hole"] == pytest.approx(10.0116)
    bored = numbers(made(bored_to="9.8", drill_oversize=None))
    assert (bored["reaming_stock"], bored["clean_up"]) == (pytest.approx(0.2076),) * 2


def test_plugs_of_the_standard():
    """ISO/R 1938 for IT7 over 6 to 10 mm: z 2, y 1.5 and H (IT3) 2.5 um: GO K + z ± H/2, NO-GO G ± H/2, worn K - y."""
    row = {"z": 0.002, "y": 0.0015, "H": 0.0025}
    got = [numbers(made(), gauge_share=share) for share in (0.0, 1.0, 0.25)]
    for one, at in zip(got, (-0.5, 0.5, -0.25)):
        assert one["iso_go"] == pytest.approx(10.0 + row["z"] + at * row["H"])
        assert one["iso_no_go"] == pytest.approx(10.015 + at * row["H"])
        assert one["iso_go_worn"] == pytest.approx(10.0 - row["y"])


@pytest.mark.parametrize(("changes", "least", "most"), [
    ({}, 10.0, 10.015), ({"closes": "0.002 to 0.004"}, 10.0, 10.015), ({"closes": "0.002 to 0.004", "order": "reamed last"}, 10.0, 10.015),
    ({"closes": "0.002 to 0.004", "order": "reamed first"}, 10.004, 10.017),
    ({"coating_hole": "0.003 to 0.004", "coating_share": "0.5", "order": "reamed first"}, 10.004, 10.018),
])
def test_limits_when_the_reamer_leaves_it(changes: dict[str, Any], least: float, most: float):
    found = made(**changes).as_reamed
    assert (found.lower, found.upper) == pytest.approx((least, most))
    assert found.text.endswith("as reamed") == (least > 10.0)


@pytest.mark.parametrize(("order", "closes", "final"), [("reamed first", "0.003", 10.0056), ("reamed last", "0.003", 10.0086), (None, "0.003", math.nan)])
def test_the_hole_in_the_end(order: str | None, closes: str, final: float):
    got = numbers(made(order=order, closes=closes))
    assert got["final_hole"] == pytest.approx(final, nan_ok=True)
    assert "final_hole" not in numbers(made())


# --- what is looked for ----------------------------------------------------------------------------------


def test_what_isn_t_given_is_looked_for_around_the_hole():
    """A tenth either way of the reamer, 20 diameters of depth, twice the diameter of lead and four times of room; trials from -0.05 mm."""
    bare = made(**dict.fromkeys(("depth", "material", "through", "reamer", "cuts_over", "drill", "drill_oversize")))
    found = {one.name: one for one in bare.dimensions(SHOP)}
    size = 10.015
    searches = {"reamer": (0.9 * size, 1.1 * size), "cuts_over": (-0.05, 0.2), "drill": (0.5 * size, size), "drill_oversize": (-0.05, 2.0), "depth": (0.0, 20 * size),
                "reamer_lead": (0.0, 2 * size), "runout_room": (0.0, 4 * size)}
    for name, search in searches.items():
        assert found[name].search == pytest.approx(search), name
        # A drill is proposed, the others are missing.
        assert found[name].missing == (name != "drill"), name
        assert math.isnan(found[name].levels[0]) == (name not in ("drill", "reamer"))
    assert found["reamer"].levels == (10.006, 10.012)
    assert found["drill"].levels == (9.7,)
    assert [found[one].levels for one in ("gauge_share", "gain_share", "drilled_share")] == [(0.0, 1.0)] * 3
    typed = {one.name: one for one in made().dimensions(SHOP)}
    assert [typed[one].levels for one in ("gauge_share", "gain_share", "drilled_share")] == [(0.0, 1.0), (0.0,), (0.0,)]
    assert typed["reamer"].levels == (10.0076,)
    assert not any(one.missing for name, one in typed.items() if name not in ("reamer_lead", "runout_room"))
    bored = {one.name: one for one in made(bored_to="9.8", drill_oversize=None).dimensions(SHOP)}
    assert bored["drilled_share"].levels == (0.0,)
    assert "drill_oversize" not in bored
    # A marking is only where to begin; one whose size has no tolerance has one level.
    assert {one.name: one for one in made(reamer="10 H7").dimensions(SHOP)}["reamer"].levels == (10.006, 10.012)
    assert {one.name: one for one in made(reamer="10 mm").dimensions(SHOP)}["reamer"].levels == (10.0,)


@pytest.mark.parametrize(("field", "good", "bad"), [
    ("cuts_over", "-0.2", "-0.201"), ("drill_oversize", "-0.2", "-0.201"), ("reamer_lead", "0", "-0.001"), ("runout_room", "0", "-0.001"), ("closes", "0", "-0.001"),
])
def test_a_field_takes_its_end(field: str, good: str, bad: str):
    made(**{field: good})
    with pytest.raises(InputError, match="at least"):
        made(**{field: bad})


def test_a_coat_s_share_is_none_to_all_of_it():
    coat = {"coating_hole": "0", "order": "reamed last"}
    for share in ("0", "1"):
        made(**coat, coating_share=share)
    for share in ("-0.01", "1.01"):
        with pytest.raises(InputError, match="at least 0 and at most 1"):
            made(**coat, coating_share=share)
    with pytest.raises(InputError, match="at least 0"):
        made(coating_hole="-0.001", coating_share="0.5")


# --- what can't be ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("good", "bad", "says"), [
    # The upper limit of the hole, 10.015, and nine tenths of the lower one.
    ({"reamer": "measured 10.015 mm"}, {"reamer": "measured 10.0151 mm"}, "bigger than the hole's upper limit, 10.0150 mm"),
    ({"reamer": "measured 9 mm", "drill": "8.5 mm"}, {"reamer": "measured 8.9999 mm", "drill": "8.5 mm"}, "far below the hole, 10.0000 mm at its least"),
    ({"reamer": "measured 8.5 mm +0.51/0", "drill": "8 mm"}, {"reamer": "measured 8.5 mm +0.49/0", "drill": "8 mm"}, "far below the hole"),
    # Drill or bored hole as large as the reamer; without one as the hole at its most.
    ({"drill": "10.0075 mm"}, {"drill": "10.0076 mm"}, "as large as the reamer, 10.0076 mm, or larger"), ({"bored_to": "10.0075"}, {"bored_to": "10.0076"}, "as large as the reamer"),
    ({"bored_to": "10.0149", "reamer": None, "cuts_over": None}, {"bored_to": "10.015", "reamer": None, "cuts_over": None}, "as large as the reamer, 10.0150 mm"),
    ({"wall": "0.1 +0/-0.05"}, {"wall": "0.1/0"}, "a wall is above 0"),
    ({"through": "false", "reamer_lead": "3 to 5", "runout_room": "2 to 3"}, {"through": "false", "reamer_lead": "3.001 to 5", "runout_room": "2 to 3"}, "the reamer's lead is longer than the room"),
    ({"through": "true", "reamer_lead": "4", "runout_room": "3"}, {"through": "false", "reamer_lead": "4", "runout_room": "3"}, "the reamer's lead is longer than the room"),
    ({"coating_hole": "0.003", "coating_share": "0.5", "order": "reamed last"}, {"coating_hole": "0.003"}, "a coat needs its thickness and its share"),
    ({}, {"coating_share": "0.5"}, "a coat needs its thickness and its share"),
    # 0.004 mm is the finest hole a reamer is sold for: 0.015 less 0.011.
    ({"closes": "0 to 0.011", "order": "reamed first", "reamer": None, "cuts_over": None}, {"closes": "0 to 0.0111", "order": "reamed first"}, "varies by as much as the hole's tolerance"),
    ({"gauge_class": "X"}, {"gauge_class": "X", "no_go_pin": "10.015 mm X minus"}, "either a class for both gauges, or pins"),
    ({"go_pin": "10 mm X plus"}, {"gauge_class": "X", "go_pin": "10 mm X plus"}, "either a class for both gauges, or pins"),
])
def test_what_cannot_be_begins_exactly_here(good: dict[str, Any], bad: dict[str, Any], says: str):
    made(**good)
    with pytest.raises(InputError) as caught:
        made(**bad)
    (fault,) = caught.value.faults
    assert says in fault.must


def test_the_half_of_a_coat_that_is_missing_is_named():
    for typed, missing in (({"coating_hole": "0.003"}, "coating_share"), ({"coating_share": "0.5"}, "coating_hole")):
        with pytest.raises(InputError) as caught:
            made(**typed)
        assert caught.value.faults[0].key == missing
