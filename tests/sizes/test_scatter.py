"""How sizes scatter: the grammar, and the part file and shell that carry it."""

from __future__ import annotations

import pytest

from fits.errors import InputError
from fits.files.part import build
from fits.sizes.scatter import Between, over_limits, parse_scatter

HOLE = Between(16.0, 16.012)


@pytest.mark.parametrize(("text", "form", "numbers"), [
    ("uniform", "uniform", {"low": 16.0, "high": 16.012}),
    ("uniform 16.010/16.004", "uniform", {"low": 16.004, "high": 16.010}),
    ("uniform 16.004 to 16.010 mm", "uniform", {"low": 16.004, "high": 16.010}),
    ("normal Cp 1.0", "normal", {"middle": 16.006, "sigma": 0.002}),
    ("normal  cp 2 at 16.004 mm", "normal", {"middle": 16.004, "sigma": 0.001}),
    ("normal sigma 0.002 mm at 16.004", "normal", {"middle": 16.004, "sigma": 0.002}),
    ("normal sigma 2 um", "normal", {"middle": 16.006, "sigma": 0.002}),
    ("normal Cp 0.5, inspected", "normal", {"sigma": 0.004, "low": 16.0, "high": 16.012}),
    ("measured 16.003 16.005 16.001", "measured", {"low": 16.001, "high": 16.005}),
    ("measured 16.003, 16.005; 16.001 mm", "measured", {"low": 16.001, "high": 16.005}),
    ("measured 0.63 in, 0.6301 in", "measured", {"low": 16.002, "high": 16.00454}),
])
def test_every_form(text: str, form: str, numbers: dict[str, float]):
    found = parse_scatter(text, HOLE)
    assert found.form == form
    for name, number in numbers.items():
        assert getattr(found, name) == pytest.approx(number, abs=1e-12)
    assert found.ends is (form != "normal" or "inspected" in text)


def test_inches_of_the_part():
    found = parse_scatter("normal sigma 0.0001 at 0.63", Between(15.9, 16.1, "length", "in"))
    assert (found.middle, found.sigma) == pytest.approx((16.002, 0.00254))


def test_a_range_that_is_no_length():
    assert parse_scatter("uniform 0.1 to 0.2", Between(0.1, 0.3, "number")).high == 0.2


@pytest.mark.parametrize(("text", "says"), [
    ("gauss", 'no such way to scatter; write "uniform"'), ("norml Cp 1", 'did you mean "normal"?'), ("normal", "needs Cp or sigma"),
    ("normal Cp 0", "Cp must be above 0"), ("normal Cp -1", "Cp must be above 0"), ("normal Cp 1,33", "decimal comma"),
    ("normal sigma 0", "sigma must be above 0"), ("normal sigma 2 N", "a length is due"), ("normal Cp nan", "not a finite number"),
    ("normal Cp 1.33 at", "needs Cp or sigma"), ("normal Cp 1 at x", "no number"), ("uniform 16.004/16.010", "swapped"), ("uniform 16.01 to 16.0", "lower end comes first"),
    ("measured", "at least two"), ("measured 16.003", "at least two"), ("measured 16,003 16,004", "decimal comma"), ("measured 16.0 16.0", "no spread"),
    ("normal Cp 1.33 at 20", "20.000 mm is nowhere near its limits, 16.000 mm to 16.012 mm"), ("uniform 18.1/18", "nowhere near"), ("measured 16.003 0.63", "0.630 mm is nowhere near"),
    ("measured 16.0 x", "x"), ("", "no such way"),
])
def test_bad_text_is_refused_with_what_is_right(text: str, says: str):
    with pytest.raises(InputError) as error:
        parse_scatter(text, HOLE)
    assert says in str(error.value)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("text", ["normal Cp 1.33", "uniform", "normal sigma 0.001, inspected"])
def test_an_exact_size_has_no_tolerance_to_count_from(text: str):
    with pytest.raises(InputError, match=r"no (tolerance|limits)"):
        parse_scatter(text, Between(16.0, 16.0))
    assert parse_scatter("normal sigma 0.001", Between(16.0, 16.0)).middle == 16.0


def test_nothing_said():
    assert over_limits(HOLE).text == "uniform over its limits"


PART = {
    "sizes": {"bore": "16 H7"},
    "running": {
        "one": {"hole": "bore", "shaft": "15.98/15.97", "clearance_at_least": "0.001"},
        "two": {"hole": "bore", "shaft": "15.96/15.95", "clearance_at_least": "0.001"},
    },
}


@pytest.mark.parametrize("spreads", [{"one.hole": "normal Cp 1"}, {"one": {"hole": "normal Cp 1"}}, {"sizes": {"bore": "normal Cp 1"}}])
def test_a_shared_size_has_one_spread(spreads: dict):
    assert list(build({**PART, "spreads": spreads}).spreads) == ["sizes.bore"]


@pytest.mark.parametrize(("spreads", "says"), [
    ({"one.hole": "normal Cp 1", "two.hole": "uniform"}, "spreads.two.hole: the spread of this dimension stands twice"),
    ({"three.hole": "uniform"}, 'spreads.three.hole: "three.hole": no such dimension'),
    ({"one.hoel": "uniform"}, 'one has no dimension hoel; did you mean "hole"?'), ({"one.hub_material": "uniform"}, "one has no dimension hub_material"),
    ({"one.length": "uniform"}, "this dimension is not given in the part"), ({"one.hole": 3}, "text is due"), ({"one.hole": "gauss"}, 'spreads.one.hole: "gauss": no such way'),
])
def test_bad_spreads_of_a_part_say_where(spreads: dict, says: str):
    with pytest.raises(InputError) as error:
        build({**PART, "spreads": spreads})
    assert says in str(error.value)


def test_what_is_no_length_needs_both_ends():
    with pytest.raises(InputError, match="two ends are due"):
        parse_scatter("uniform 20 degC", Between(10.0, 30.0, kind="temperature"))
