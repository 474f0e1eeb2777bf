"""Tools of a drawer against a window: only what is proven and wholly inside passes."""

from __future__ import annotations

import glands
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.fields import Context
from fits.features.offer import Offer
from fits.features.part import Part
from fits.features.press import Press
from fits.features.reamed import Reamed
from fits.features.running import Running
from fits.files import loader
from fits.questions.check import check
from fits.questions.from_drawer import Held, _against, _tried, from_drawer
from fits.questions.targets import with_field
from fits.questions.window import window
from fits.shop.drawer import Drawer, Row, drawer
from fits.sizes.limits import Limits

KEYS = {"hole": "10 H7", "shaft": "9.98/9.97", "clearance_at_least": "0.02", "clearance_at_most": "0.05"}


def part(**changes: str) -> Part:
    return Part("guide", {"guide": loader.feature(Running, {**KEYS, **changes}, Context())})


def of(*rows: dict[str, str]) -> Drawer:
    return drawer([Row("reamer", keys, f"row {index}") for index, keys in enumerate(rows)], "drawer")


@given(st.integers(9960, 10060), st.integers(-5, 10), st.integers(0, 20))
def test_what_passes_would_hold_at_both_ends(size: int, over: int, more: int):
    """The window is 10.000 to 10.020: shaft 9.970 to 9.980 with 0.02 to 0.05 clearance."""
    owned = of({"measured": f"{size / 1000.0} mm", "cuts_over": f"{over} um to {over + more} um"})
    found = from_drawer(part(), "guide", owned).fields[0].held
    inside = size + over >= 10000 and size + over + more <= 10020
    assert (bool(found) and found[0].verdict == "pass") == inside
    if inside:
        ends = Limits(found[0].low, found[0].high, side="hole")
        assert check(with_field(part(), "guide", "hole", ends)).verdict == "pass"


@pytest.mark.parametrize(("keys", "verdict"), [
    ({"measured": "10.004 mm"}, "not covered"),                              # 10.004 to 10.016, no trials
    ({"measured": "10.015 mm"}, "not covered"),                              # reaches out, may still come inside
    ({"measured": "10.021 mm"}, "fail"),                                     # outside whatever it cuts over
    ({"marked": "10 H7"}, "not covered"),                                    # never measured
    ({"marked": "10 H7", "cuts_over": "0 um to 1 um"}, "not covered"),       # trials, but of which size?
    ({"measured": "10.019 mm", "cuts_over": "0 um to 2 um"}, "fail"),        # its own trials reach outside
    ({"measured": "10.019 mm", "cuts_over": "0 um to 1 um"}, "pass"),
])
def test_how_well_a_reamer_is_known_decides(keys: dict[str, str], verdict: str):
    found = from_drawer(part(), "guide", of(keys))
    assert found.fields[0].held[0].verdict == verdict
    assert found.verdict == verdict
    assert bool(found.fields[0].to_buy) == (verdict == "fail")


def test_the_best_comes_first():
    found = from_drawer(part(), "guide", of(
        {"marked": "10 H7"}, {"measured": "10.03 mm"}, {"measured": "10.001 mm", "cuts_over": "0 um to 1 um"},
        {"measured": "10.009 mm", "cuts_over": "0 um to 1 um"},
    ))
    assert [one.verdict for one in found.fields[0].held] == ["pass", "pass", "not covered", "fail"]
    assert found.fields[0].held[0].low == 10.009


def test_reamers_far_off_are_not_listed():
    assert from_drawer(part(), "guide", of({"marked": "12 H7"})).fields[0].held == ()


def test_the_shaft_may_be_fixed():
    owned = of({"measured": "10.019 mm", "cuts_over": "0 um to 1 um"})
    assert from_drawer(part(), "guide", owned, shaft="9.95/9.94").verdict == "fail"


def test_the_press_of_the_drawer_is_asked_where_it_can_be():
    """A press that is too weak closes the window; one that can't be judged is left out, and said."""
    keys = {"hole": "16 H7", "shaft": "16.060/16.050", "hub_outside": "40", "length": "30", "hub_material": "6061-T6",
            "shaft_material": "1045 HR", "roughness_hole": "0 um", "roughness_shaft": "0 um"}
    rows = [Row("reamer", {"measured": "16.01 mm", "cuts_over": "0 um to 3 um"}, "1"), Row("press", {"rating": "1 kN"}, "2")]
    metal = {"youngs_modulus": "207 GPa", "poisson": 0.29, "yield_strength": "900 MPa"}
    unknown = Part("p", {"pin": loader.feature(Press, {**keys, "shaft_material": metal}, Context())})
    found = from_drawer(unknown, "pin", drawer(rows, "d"))
    assert found.verdict == "pass"
    assert any("press is strong enough is left out" in one for one in found.notes)
    known = Part("p", {"pin": loader.feature(Press, {**keys, "shaft_material": metal, "friction_press": "0.15"}, Context())})
    found = from_drawer(known, "pin", drawer(rows, "d"))
    assert found.verdict == "fail"
    assert from_drawer(known, "pin", drawer([rows[0], Row("press", {"rating": "90 kN"}, "2")], "d")).verdict == "pass"


def test_a_window_no_reamer_holds_is_bored_or_ground():
    """0.020 to 0.022 of clearance leave 2 um: reamers are not made for so little."""
    tight = part(shaft="9.98", clearance_at_most="0.022")
    (hole,) = from_drawer(tight, "guide", of({"measured": "10.03 mm", "cuts_over": "0 um to 1 um"})).fields
    assert hole.to_buy == "no reamer holds so little: bore, hone or grind it"


def test_pins_are_made_to_305_mm():
    def to_buy(size: str) -> dict[str, str]:
        bore = Part("one", {"bore": loader.feature(Reamed, {"hole": f"{size} H7"}, Context())})
        return {one.field: one.to_buy for one in from_drawer(bore, "bore", of()).fields}

    assert to_buy("10")["go_pin"].startswith("a pin of 10.0000 mm (0.39370 in), class ")
    assert to_buy("400")["go_pin"] == "no class of pin is fine enough and made so large: take a bore gauge or air gauge"


def test_nothing_of_it_comes_from_a_drawer():
    with pytest.raises(InputError, match="no such feature"):
        from_drawer(part(), "gude", of({"marked": "10 H7"}))


def test_a_press_that_cannot_be_judged_is_not_left_out_where_more_is_open():
    """The load asks for friction too: leaving the press out would hide that."""
    metal = {"youngs_modulus": "207 GPa", "poisson": 0.29, "yield_strength": "900 MPa"}
    keys = {"hole": "16 H7", "shaft": "16.060/16.050", "hub_outside": "40", "length": "30", "hub_material": "6061-T6",
            "shaft_material": metal, "roughness_hole": "0 um", "roughness_shaft": "0 um", "axial_load": "100 N"}
    rows = [Row("reamer", {"measured": "16.01 mm", "cuts_over": "0 um to 3 um"}, "1"), Row("press", {"rating": "1 kN"}, "2")]
    found = from_drawer(Part("p", {"pin": loader.feature(Press, keys, Context())}), "pin", drawer(rows, "d"))
    assert found.verdict != "pass"
    assert not any("is left out" in note for note in found.notes)


def test_of_two_windows_the_one_with_more_room_counts():
    found = window(part(), "guide.hole")
    (one,) = found.intervals
    far = one._replace(low=one.low._replace(at=11.0), high=one.high._replace(at=11.02))
    offer = Offer("reamer", {}, 10.005, 10.006, proven=True)
    for intervals in ((one, far), (far, one)):
        held = _against(found._replace(intervals=intervals), offer, None)
        assert (held.verdict, held.room) == ("pass", pytest.approx((0.005, 0.014), abs=2e-4))
    assert _against(found._replace(intervals=(far,)), offer, None).verdict == "fail"
    assert _against(found._replace(intervals=()), offer, None) == Held("reamer", "fail", 10.005, 10.006, "", None, None)


@pytest.mark.parametrize(("over", "verdict"), [("0 um to 1 um", "pass"), ("-0.05 um to 1 um", "fail"), ("-0.2 um to 1 um", "fail")])
def test_at_the_edge_the_check_decides(over: str, verdict: str):
    """With the shaft at 9.980 and 0.020 of clearance a hole of 10.000 holds and one of 9.99995 does not."""
    (held,) = from_drawer(part(), "guide", of({"measured": "10 mm", "cuts_over": over})).fields[0].held
    assert held.verdict == verdict
    assert (held.low, held.high) == pytest.approx((10.0 + float(over.split()[0]) / 1000.0, 10.001))
    if verdict == "pass":
        assert min(held.room) >= 0.0


def test_a_tool_that_no_one_sells_is_not_listed():
    """No drill of the series is made for a reamer of 400 mm."""
    bore = Part("one", {"bore": loader.feature(Reamed, {"hole": "400 H7"}, Context())})
    assert "drill" not in [one.field for one in from_drawer(bore, "bore", of()).fields]
    small = Part("one", {"bore": loader.feature(Reamed, {"hole": "10 H7"}, Context())})
    assert "drill" in [one.field for one in from_drawer(small, "bore", of()).fields]


def test_a_feature_without_tools_is_not_looked_for():
    with pytest.raises(InputError, match="nothing of this feature comes from a drawer"):
        from_drawer(glands.part("face"), "seal", of())


def test_a_tool_that_the_feature_cannot_take_says_what_must_be():
    """A drill larger than the reamer."""
    bore = Part("one", {"bore": loader.feature(Reamed, {"hole": "10 H7", "reamer": "measured 10.008"}, Context())})
    held = _tried(bore, "bore", "drill", Offer("drill 11", {"drill": Limits(11.0, 11.0, 11.0)}, 11.0, 11.0, proven=True))
    assert held.verdict == "fail"
    assert held.remark.endswith("it leaves nothing to ream")


WEAK = {"hole": "16 H7", "shaft": "16.060/16.050", "hub_outside": "40", "length": "30", "hub_material": "6061-T6",
        "shaft_material": {"youngs_modulus": "207 GPa", "poisson": 0.29, "yield_strength": "900 MPa"},
        "roughness_hole": "0 um", "roughness_shaft": "0 um", "axial_load": "1 kN"}


@pytest.mark.parametrize(("size", "over", "verdict"), [
    ("16.010", "0 um to 3 um", "not covered"),    # holds all that is known: what friction holds isn't
    ("16.058", "0 um to 4 um", "fail"),           # a shaft of 16.050 is loose in 16.062, whatever the friction
    ("16.045", "", "not covered"),                # never tried: some of what it may cut is tight
])
def test_a_hole_that_only_a_missing_input_keeps_from_holding_is_not_covered(size: str, over: str, verdict: str):
    """The drawer's press asks for one more rule, but the load isn't covered without it either."""
    keys = {"measured": f"{size} mm", **({"cuts_over": over} if over else {})}
    rows = [Row("reamer", keys, "1"), Row("press", {"rating": "1 kN"}, "2")]
    pin = Part("p", {"pin": loader.feature(Press, WEAK, Context())})
    found = from_drawer(pin, "pin", drawer(rows, "d"))
    assert found.window.intervals == ()
    assert [one.verdict for one in found.fields[0].held] == [verdict]
    assert found.verdict == verdict
    assert found.window.no_window.startswith("holds its load (pin, shop) is not covered")
