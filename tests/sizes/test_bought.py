"""Bought parts: the usual tolerance of the trade as a size."""

from __future__ import annotations

import pytest

from fits import tables
from fits.errors import InputError
from fits.sizes import bought, iso286


def test_a_pin_of_a_class_is_iso_286():
    found = bought.limits("dowel 6 m6", side="shaft")
    # ISO 286-2: 6 m6 is +12/+4 um
    assert (found.lower, found.upper, found.bought) == (6.004, 6.012, "dowel")


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [  # ASME B18.8.2: nominal +0.0002 in +-0.0001; oversize series 0.0009 to 0.0011 at 1/4 (the chart)
        ("dowel 1/4 in", 0.2501, 0.2503), ("dowel 1/4 in oversize", 0.2509, 0.2511), ("dowel 1/2 in", 0.5001, 0.5003),
    ],
)
def test_inch_pins(text: str, low: float, high: float):
    found = bought.limits(text)
    assert (found.lower / 25.4, found.upper / 25.4) == pytest.approx((low, high))


def test_every_inch_pin_is_two_ten_thousandths_over_its_size():
    """Alloy steel dowel pins, ASME B18.8.2-2000: standard series basic + 0.0002 +-0.0001 in; hole +0/-0.0005."""
    for row in tables.load("bought/dowels_inch").rows:
        if row["series"] == "standard":
            middle = (float(row["pin_min"]) + float(row["pin_max"])) / 2.0
            assert middle == pytest.approx(float(row["nominal"]) + 0.0002, abs=6e-5)
            assert float(row["pin_max"]) - float(row["pin_min"]) == pytest.approx(0.0002)
            if row["hole_min"]:
                assert float(row["hole_max"]) - float(row["hole_min"]) == pytest.approx(0.0005)


def test_metric_pins_of_the_american_standard():
    """ASME B18.8.5M supplier page: 6 mm standard series 6.003 to 6.009."""
    found = bought.limits("dowel 6 B18.8.5M")
    assert (found.lower, found.upper) == (6.003, 6.009)


def test_bearing_rings_against_a_second_printing():
    """consbrgs.com, metric radial bearings, standard class, in inches: outside 30 to 50 mm 0/-0.0004, 50 to 80 0/-0.0005,
    80 to 120 0/-0.0006, 120 to 150 0/-0.0007, 150 to 180 0/-0.0010, 180 to 250 0/-0.0012, 18 to 30 0/-0.00035."""
    inches = {25.0: 0.00035, 40.0: 0.0004, 72.0: 0.0005, 100.0: 0.0006, 130.0: 0.0007, 160.0: 0.0010, 200.0: 0.0012}
    for size, off in inches.items():
        found = bought.limits(f"bearing {size}", side="shaft")
        assert found.upper == size
        assert (size - found.lower) / 25.4 == pytest.approx(off, abs=6e-5)


def test_the_side_of_the_field_chooses_the_ring():
    assert bought.limits("bearing 40", side="shaft").lower == pytest.approx(39.989)
    assert bought.limits("bearing 40", side="hole").lower == pytest.approx(39.988)


def test_a_bearing_is_asked_by_its_ring_and_not_by_its_number():
    with pytest.raises(InputError, match="write the size of the ring, such as bearing 40, not the bearing's number"):
        bought.limits("bearing 6204", side="hole")


def test_a_tube_has_two_diameters():
    """ASTM A269: 0.005 in on the outside, 10 % of the wall from 1/2 in."""
    outside = bought.limits("tube 1/2 in x 0.035 in", side="shaft")
    assert (outside.lower, outside.upper) == pytest.approx((12.57, 12.83))
    bore = bought.limits("tube 1/2 in x 0.035 in", side="hole")
    assert bore.upper == pytest.approx(12.83 - 2 * 0.889 * 0.9)
    assert bore.lower == pytest.approx(12.57 - 2 * 0.889 * 1.1)


def test_a_bush_is_delivered_s6_and_e6():
    assert bought.limits("bush 24", side="shaft").lower == iso286.limits(24.0, "s", "6").lower
    assert bought.limits("bush 20", side="hole").upper == iso286.limits(20.0, "E", "6").upper


@pytest.mark.parametrize(
    ("text", "side", "says"),
    [
        ("dowel 6", "shaft", "which standard's dowel?"),
        ("dowel 6 m6", "hole", "a dowel is a shaft"),
        ("dowel 0.3 in", "shaft", "no such dowel"),
        ("dowel 7 B18.8.5M", "shaft", "no such dowel"),
        ("dowel 6 m99", "shaft", "no grade"),
        ("dowel 1..2 m6", "shaft", "no number|two numbers|unknown unit"),
        ("dowel . B18.8.5M", "shaft", "no number|unknown unit"),
        ("bearing 40", "", "which ring?"),
        ("bearing 400", "shaft", "not covered: outer rings of the table run over 6 to 250 mm"),
        ("bearing", "shaft", "nothing stands here"),
        ("tube 1/2 in", "hole", "needs its wall"),
        ("tube 10 x 6", "hole", "leaves no bore"),
        ("tube 300", "shaft", "not covered"),
        ("bush ten", "shaft", "no number"),
    ],
)
def test_what_is_no_bought_size(text: str, side: str, says: str):
    with pytest.raises(InputError, match=says):
        bought.limits(text, side=side)


def test_limits_of_bought_parts_on_the_command_line(fits):
    ran = fits("limits", "dowel 6 m6", "tube 1/2 in")
    assert ran.status == 0
    assert "6.0040  6.0120  mm" in ran.out
    assert fits("limits", "bearing 6204").status == 2


@pytest.mark.parametrize("text", ["tube 10 mm x 6 mm", "tube 10 mm x 0 mm", "tube 10 mm x -1 mm"])
@pytest.mark.parametrize("side", ["shaft", "hole", ""])
def test_a_tube_has_a_wall_and_a_bore_whichever_is_asked(text: str, side: str):
    with pytest.raises(InputError, match="wall"):
        bought.limits(text, side=side)
