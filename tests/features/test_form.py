"""Form error: inside limits, charged in full at both ends of an exact or measured size."""

from __future__ import annotations

import pytest
from joints import metal, press_part

from fits.features.feature import State
from fits.features.part import Part
from fits.features.running import Running
from fits.questions.check import check
from fits.questions.fit_window import fit_window
from fits.sizes.limits import Limits

STEEL = metal(207000.0, 0.29, expansion=11.5e-6, name="steel", least=400.0)


def span(part: Part, name: str) -> tuple[float, float]:
    got = next(one for one in check(part).features[0].values if one.name == name)
    (only,) = got.states.values()
    return only.least, only.greatest


def press(hole: Limits, **more: float) -> Part:
    return press_part(hole=hole, shaft=Limits(50.03, 50.03), hub_outside=Limits(80.0, 80.0),
                      hub_material=STEEL, shaft_material=STEEL, **more)


def test_measured_sizes_carry_their_form_at_both_ends():
    measured = press(Limits(50.0, 50.0), form_hole=0.004, form_shaft=0.002)
    assert span(measured, "interference") == pytest.approx((0.03 - 0.006, 0.03 + 0.006))


def test_limits_contain_their_form():
    limits = press(Limits(49.99, 50.0), form_hole=0.004)
    assert span(limits, "interference") == pytest.approx((0.03, 0.04))


def test_a_running_fit_can_bind_by_form_alone():
    fields = {"hole": 20.0, "shaft": 19.995, "clearance_at_least": 0.0}
    good = Part("guide", {"guide": Running(**fields)}, (State("shop"),))
    bent = Part("guide", {"guide": Running(**fields, form_shaft=0.006)}, (State("shop"),))
    assert check(good).verdict == "pass"
    assert check(bent).verdict == "fail"


def test_the_window_of_a_fit_charges_it_once():
    exact, plain = press(Limits(50.0, 50.0), form_hole=0.004, axial_load=100.0), press(Limits(50.0, 50.0), axial_load=100.0)
    eaten, whole = fit_window(exact, "joint"), fit_window(plain, "joint")
    assert (eaten.low, eaten.high) == pytest.approx((whole.low, whole.high))
    assert eaten.left == pytest.approx(whole.left - 2 * 0.004)
