"""Tools of a drawer against a window: only what is proven and wholly inside passes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.fields import Context
from fits.features.part import Part
from fits.features.press import Press
from fits.features.reamed import Reamed
from fits.features.running import Running
from fits.files import loader
from fits.questions.check import check
from fits.questions.from_drawer import from_drawer
from fits.questions.targets import with_field
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
