"""The classes offered where one is looked for."""

from __future__ import annotations

import pytest

from fits.errors import InputError
from fits.sizes import classes
from fits.sizes.limits import Limits
from fits.sizes.notation import parse_pair, parse_size


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("basic", [12.7, 25.4 * 19 / 64, 16.0, 25.4 * 8.5])
def test_what_is_offered_can_be_written_on_the_drawing(basic: float, units: str):
    """Each name, read again, has the limits that were offered."""
    offered = list(classes.pairs(basic, units))
    assert len(offered) > 100
    for hole, shaft in offered:
        for one, other in zip((hole, shaft), parse_pair(classes.pair_name(hole, shaft)), strict=True):
            assert (one.lower, one.upper, one.side) == (other.lower, other.upper, other.side)
    for side in ("hole", "shaft"):
        for zone in classes.zones(basic, side, units):
            again = parse_size(zone.text, side=side, units=units)
            assert (again.lower, again.upper) == (zone.lower, zone.upper)


def test_inch_classes_are_for_parts_in_inches():
    metric = [classes.pair_name(*pair) for pair in classes.pairs(25.4, "mm")]
    inch = [classes.pair_name(*pair) for pair in classes.pairs(25.4, "in")]
    assert not any(" in " in name for name in metric)
    assert metric == [name.replace(" mm", "") for name in inch if " in " not in name]
    assert {"1.0000 in RC4", "1.0000 in RC4S", "1.0000 in LC2", "1.0000 in FN3"} <= set(inch)
    # h shafts have their greatest at the basic size already.
    assert "1.0000 in LC2S" not in inch


def test_one_hole_is_offered_once():
    zones = [(zone.lower, zone.upper) for zone in classes.zones(25.4, "hole", "in") if " in " in zone.text]
    assert len(zones) == len(set(zones))


def test_beyond_the_inch_table_the_iso_classes_are_left():
    names = [zone.text for zone in classes.zones(600.0, "shaft", "in")]
    assert names
    assert all(" mm " in name for name in names)


@pytest.mark.parametrize(("lower", "upper", "units", "basic"), [
    (16.040, 16.060, "mm", 16.0), (12.7, 12.7254, "in", 12.7), (25.4 * 0.3740, 25.4 * 0.3745, "in", 25.4 * 0.375),
    (25.4 * 0.6299, 25.4 * 0.6301, "in", 25.4 * 0.630),
])
def test_the_basic_size_of_typed_limits(lower: float, upper: float, units: str, basic: float):
    assert classes.basic_size(Limits(lower, upper), units) == pytest.approx(basic, abs=1e-9)


def test_a_class_without_its_size():
    assert classes.at_size(9.525, "rc4") == "0.3750 in rc4"
    with pytest.raises(InputError, match="no inch class RC44"):
        parse_size(classes.at_size(9.525, "RC44"), side="hole")
