"""A coat in the hole: a hard-coated hole shrinks."""

from __future__ import annotations

import pytest
from joints import metal, numbers, press_part

from fits.sizes.limits import Limits

INCH = 25.4
SHELL = ("press", "--hole", "0.5000", "--shaft", "0.5008", "--hub-outside", "1.5", "--length", "1.25", "--units", "in",
         "--hub-material", "6061-T6", "--shaft-material", "316")


def exact(value: float) -> Limits:
    return Limits(value, value)


def test_a_hard_coat_after_reaming_makes_another_fit_of_it(fits):
    """0.002 in of hard coat, half in half out: the hole becomes 0.4980, the fit 0.0028 in."""
    ran = fits(*SHELL, "--coating-hole", "0.002", "--coating-share", "0.5", "--json")
    assert ran.status == 1
    found = ran.json["features"]["press"]
    (rule,) = (one for one in found["checks"] if one["rule"] == "coat is thinner than the fit")
    assert rule["verdict"] == "fail"
    assert rule["worst"] / INCH == pytest.approx(0.0020)
    assert found["values"]["interference"]["states"]["as_made"]["max"] / INCH == pytest.approx(0.0028)
    assert "ream it after coating" in rule["action"]
    assert any("chips" in one for one in found["cautions"])


def test_a_coat_is_a_smaller_hole_in_every_number():
    given = {"shaft": exact(20.03), "hub_outside": exact(40.0), "hub_material": metal(69000.0, 0.33),
             "shaft_material": metal(200000.0, 0.29), "ends": "open"}
    coated = numbers(press_part(hole=exact(20.0), coating_hole=0.010, coating_share=0.5, **given))
    smaller = numbers(press_part(hole=exact(19.99), **given))
    assert coated.pop("coating_closes") == pytest.approx(0.010)
    assert coated.pop("bare_interference") == pytest.approx(0.03)
    smaller.pop("bare_interference")
    assert coated.keys() == smaller.keys()
    for name, value in smaller.items():
        assert coated[name] == pytest.approx(value, rel=1e-9, nan_ok=True), name


@pytest.mark.parametrize("more", [("--coating-hole", "0.001"), ("--coating-share", "0.5"),
                                  ("--coating-hole", "0.001", "--coating-share", "1.5")])
def test_half_of_the_story_is_refused(fits, more: tuple[str, ...]):
    ran = fits(*SHELL, *more)
    assert ran.status == 2
    assert "coating" in ran.err
