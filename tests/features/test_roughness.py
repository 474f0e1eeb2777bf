"""Roughness by Rz or Ra, and what it costs."""

from __future__ import annotations

import pytest
from joints import metal, numbers, press_part

from fits.errors import InputError
from fits.features.fields import Context
from fits.features.roughness_field import Roughness
from fits.questions.check import check
from fits.sizes.limits import Limits

FIELD = Roughness("of a face")
STEEL = metal(207000.0, 0.29, expansion=11.5e-6, name="steel", least=400.0)


def part(hole: str, shaft: str):
    given = {"hole": Limits(50.0, 50.0), "shaft": Limits(50.03, 50.03), "hub_outside": Limits(80.0, 80.0),
             "hub_material": STEEL, "shaft_material": STEEL}
    return press_part(**given, roughness_hole=hole, roughness_shaft=shaft)


@pytest.mark.parametrize(("hole", "shaft", "loss"), [
    # 3 (Ra_1 + Ra_2): Nguyen & Lam, EUREKA: Physics and Engineering 2022 no. 5; 0.8 (Rz_1 + Rz_2): DIN 7190:2001.
    ("0.8 um Ra", "0.4 um Ra", 3.0 * 1.2), ("3 um", "2 um Rz", 0.8 * 5.0), ("0.8 um Ra", "2 um", 3.0 * 0.8 + 0.8 * 2.0),
    ("32 uin Ra", "16 uin Ra", 3.0 * 48.0 * 0.0254),
])
def test_the_loss(hole: str, shaft: str, loss: float):
    assert numbers(part(hole, shaft))["roughness_loss"] * 1000.0 == pytest.approx(loss, rel=1e-12)


def test_a_range_of_ra():
    found = FIELD.parse("0.4 to 0.8 um Ra", Context())
    assert (found.low, found.high) == pytest.approx((1.5, 3.0))
    assert found.text == "0.4 to 0.8 um Ra"


@pytest.mark.parametrize(("text", "says"), [
    ("0.8 Ra", "needs a unit"), ("0.8 um Rq", "unknown unit"), ("Ra", "nothing stands here"), ("-1 um Ra", "at least 0 um"),
    ("0.8 MPa Ra", "a roughness is due"),
])
def test_what_is_no_roughness(text: str, says: str):
    with pytest.raises(InputError, match=says):
        FIELD.parse(text, Context())


@pytest.mark.parametrize(("hole", "shaft", "says"), [
    ("0.8 um Ra", "0.4 um Ra", "3 (Ra_hole + Ra_shaft)"), ("3 um", "2 um", "0.8 (Rz_hole + Rz_shaft)"),
    ("3 um", "0.4 um Ra", "an Ra as 3.75 times as much Rz"),
])
def test_the_edition_stands_in_the_report(hole: str, shaft: str, says: str):
    (said,) = [one for one in check(part(hole, shaft)).features[0].assumptions if "smoothing" in one]
    assert says in said
    assert "DIN 7190:2001" in said
