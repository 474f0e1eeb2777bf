"""The reamed hole: what passes, what fails, what isn't covered and with which break-even."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.fields import Context
from fits.features.part import Part
from fits.features.reamed import Reamed
from fits.files import loader
from fits.questions.answer import FeatureAnswer
from fits.questions.check import check

GOOD: dict[str, Any] = {
    "hole": "10 H7", "depth": "20", "material": "6061-T6", "through": "true", "reamer": "measured 10.0076 mm",
    "cuts_over": "0.001 to 0.005", "drill": "9.7 mm", "drill_oversize": "0.02 to 0.10",
}


def of(**changes: Any) -> FeatureAnswer:
    keys = {key: value for key, value in {**GOOD, **changes}.items() if value is not None}
    feature = loader.feature(Reamed, keys, Context())
    return check(Part("one", {"hole": feature})).features[0]


def rule(answer: FeatureAnswer, name: str):
    return next(one for one in answer.checks if one.rule == name)


def span(answer: FeatureAnswer, name: str) -> tuple[float, float]:
    found = next(one for one in answer.values if one.name == name).states["as_made"]
    return found.least, found.greatest


def test_a_hole_by_its_trials_passes():
    answer = of()
    assert answer.verdict == "pass"
    assert span(answer, "hole") == pytest.approx((10.0086, 10.0126))
    assert span(answer, "reaming_stock") == pytest.approx((10.0076 - 9.8, 10.0076 - 9.72))
    assert span(answer, "drill") == (9.7, 9.7)


def test_the_band_without_a_reamer():
    """10 H7: 10.006 to 10.012 (rule of ISO 522, in the printed tables)."""
    answer = of(reamer=None, cuts_over=None)
    assert span(answer, "reamer") == (10.006, 10.012)
    assert answer.verdict == "not covered"


@pytest.mark.parametrize(("reamer", "verdict"), [
    # 0.3940 in is 10.0076 mm: inside the band; 0.3937 in is 9.99998: below it.
    ("measured 0.3940 in", "not covered"), ("measured 0.3937 in", "fail"), ("measured 10.0121 mm", "fail"), ("10 H7", "not covered"),
])
def test_a_reamer_without_trials_never_passes(reamer: str, verdict: str):
    answer = of(reamer=reamer, cuts_over=None)
    assert answer.verdict == verdict


def test_the_break_even_of_an_unknown_cut():
    answer = of(reamer="measured 10.0076 mm", cuts_over=None)
    large = rule(answer, "hole isn't too large")
    assert large.verdict == "not covered"
    assert large.break_even == "holds if it cuts over by at most 0.00740 mm"
    assert span(answer, "hole") == pytest.approx((10.0076, 10.0196))
    assert rule(of(cuts_over=None, reamer="10 H7"), "reamer isn't too large").break_even == "holds if reamer is at most 10.0120 mm"


@pytest.mark.parametrize(("changes", "name", "even"), [
    ({"drill_oversize": None}, "drilled hole cleans up", "holds if the drill cuts over by at most 0.257"),
    ({"depth": None}, "depth is within reach", "holds if depth is at most 49.9999 mm"),
    ({"through": "false", "reamer_lead": "2"}, "lead clears the bottom", "holds if the room below is at least 2.0000 mm"),
    ({"through": "false", "runout_room": "3"}, "lead clears the bottom", "holds if the reamer's lead is at most 3.0000 mm"),
])
def test_a_missing_input_is_not_covered_with_its_break_even(changes: dict[str, Any], name: str, even: str):
    answer = of(**changes)
    assert answer.verdict == "not covered"
    found = rule(answer, name)
    assert found.verdict == "not covered"
    assert found.break_even.startswith(even)


@pytest.mark.parametrize(("changes", "name"), [
    ({"depth": "50.1"}, "depth is within reach"), ({"wall": "0.9"}, "wall is stiff enough"), ({"through": None}, "lead clears the bottom"),
])
def test_beyond_what_is_known(changes: dict[str, Any], name: str):
    answer = of(**changes)
    assert answer.verdict == "not covered"
    assert rule(answer, name).verdict == "not covered"
    assert rule(answer, name).why_not


def test_on_the_edge_of_what_is_known():
    assert of(depth="50", wall="1").verdict == "pass"


@pytest.mark.parametrize(("changes", "name"), [
    ({"cuts_over": "0.001 to 0.0075"}, "hole isn't too large"),
    ({"cuts_over": "-0.009 to 0.001"}, "hole isn't too small"),
    ({"drill_oversize": "0.02 to 0.31"}, "drilled hole cleans up"),
    ({"drill": "9 mm"}, "not too much stock"),
    ({"gauge_class": "ZZ"}, "GO eats a tenth at most"),
    ({"gauge_uncertainty": "0.008"}, "instrument can prove it"),
    ({"go_pin": "10.000 mm ZZ minus", "no_go_pin": "10.015 mm X minus"}, "GO passes no small hole"),
    ({"go_pin": "10.000 mm X plus", "no_go_pin": "10.015 mm X plus"}, "NO-GO passes no large hole"),
    ({"go_pin": "10.010 mm X plus", "no_go_pin": "10.0108 mm X minus"}, "some holes are sure to pass"),
])
def test_what_fails(changes: dict[str, Any], name: str):
    answer = of(**changes)
    assert rule(answer, name).verdict == "fail"
    assert answer.verdict == "fail"


def test_pins_of_unknown_sense_or_missing_are_not_covered():
    assert of(go_pin="10.000 mm X", no_go_pin="10.015 mm X minus").verdict == "not covered"
    answer = of(go_pin="10.000 mm X plus")
    assert answer.verdict == "not covered"
    assert "no NO-GO pin is given" in answer.not_covered


def test_good_pins_pass():
    # X takes 0.00102 mm: 6.8 % of 0.015 mm each.
    answer = of(go_pin="10.000 mm X plus", no_go_pin="10.015 mm X minus", gauge_uncertainty="0.001")
    assert answer.verdict == "pass"
    assert span(answer, "sure_pass")[0] == pytest.approx(0.015 - 2 * 0.001016)
    assert span(answer, "provable")[0] == pytest.approx(0.013)


def test_order_of_coating_and_pressing():
    """A hard coat of 0.002 in, half built up, closes a hole of 0.5000 in to 0.4980 in (two faces)."""
    coat = {"hole": "0.5005/0.5000 in", "coating_hole": "0.002 in", "coating_share": "0.5", "drill": "12.3 mm", "reamer": "measured 0.5001 in",
            "cuts_over": "0 to 0.0002 in"}
    unknown = of(**coat)
    assert rule(unknown, "final hole isn't too small").verdict == "not covered"
    first = of(**coat, order="reamed first")
    small = rule(first, "final hole isn't too small")
    assert first.verdict == "fail"
    assert small.worst == pytest.approx((0.5001 - 0.002) * 25.4)
    # The reamed hole must be larger by what the coat takes.
    assert rule(first, "hole isn't too small").limit == pytest.approx(0.502 * 25.4)
    assert of(**coat, order="reamed last").verdict == "pass"
    larger = {**coat, "reamer": "measured 0.5021 in"}
    assert of(**larger, order="reamed first").verdict == "pass"


def test_pressing_closes_the_hole():
    # Closed by 0.009 to 0.010 the hole of 10.0086 to 10.0126 becomes 9.9986 to 10.0036.
    small = of(closes="0.009 to 0.010", order="reamed first")
    assert rule(small, "final hole isn't too small").worst == pytest.approx(9.9986)
    assert small.verdict == "fail"
    assert of(closes="0.009 to 0.010", order="reamed first", reamer="measured 10.0122 mm").verdict == "pass"


@pytest.mark.parametrize(("changes", "says"), [
    ({"reamer": "measured 10.02 mm"}, "bigger than the hole's upper limit, 10.0150 mm: it can't cut this hole"),
    ({"through": "false", "reamer_lead": "4", "runout_room": "3"}, "lead is longer than the room below the reamed depth, 3.0000 mm"),
    ({"go_pin": "10 mm"}, "a pin needs its class"),
    ({"drill": "10.1 mm"}, "it leaves nothing to ream"), ({"bored_to": "10.05"}, "it leaves nothing to ream"),
    ({"hole": "10"}, "a tolerance of at least 0.004 mm"), ({"hole": "10 g6"}, "a hole is due"), ({"reamer": "measured 8"}, "far below the hole"),
    ({"coating_hole": "0.01"}, "its share that builds up"), ({"gauge_class": "ZZ", "go_pin": "10 mm X plus"}, "either a class for both gauges, or pins"),
    ({"gauge_class": "Q"}, "must be one of XXX"), ({"closes": "0 to 0.012", "order": "reamed first"}, "varies by as much as the hole's tolerance"),
    ({"wall": "1.5/0"}, "a wall is above 0"), ({"hole": "400 H7", "reamer": None, "drill": None, "gauge_class": "X"}, "gauge_class"),
    ({"reamer": ["10 H7"]}, 'text is due, such as "10 H7" or "measured 10.007 mm"'), ({"drill": ["9.7 mm"]}, 'text is due, such as "9.8 mm" or "letter X"'),
    ({"go_pin": 10}, 'text is due, such as "0.5000 in ZZ minus"'),
    ({"cuts_over": "nan mm"}, "not a finite number"), ({"order": "whenever"}, "must be one of reamed first"),
])
def test_what_cannot_be(changes: dict[str, Any], says: str):
    with pytest.raises(InputError) as caught:
        of(**changes)
    assert says in str(caught.value)
    assert len(caught.value.faults) == 1


def test_the_plan_goes_in_the_order_of_work():
    steps = [one.do for one in of(cuts_over=None).plan]
    words = ["drill 9.7", "bore it true", "trial hole", "ream in one pass", "break the edges", "let it come to 20 degC", "gauge it"]
    assert len(steps) == len(words)
    assert all(word in step for word, step in zip(words, steps))
    assert len(of(bored_to="9.8 ±0.02").plan) == 5


def test_a_pin_of_the_library_is_taken_as_it_is():
    from fits.shop.gauges import parse_pin

    pin = parse_pin("10 mm X plus", units="mm")
    assert Reamed(hole="10 H7", go_pin=pin).go_pin == pin


def test_a_hole_smaller_than_every_drill_is_bored_and_its_stock_not_covered():
    """The smallest drills of the series are about 0.34 mm (No. 80 is 0.0135 in): none goes before a reamer for 0.3."""
    small = of(hole="0.3 H8", depth="0.6", reamer=None, drill=None, drill_oversize=None, cuts_over=None)
    assert small.verdict == "not covered"
    assert "no drill of the standard series is near" in rule(small, "not too much stock").why_not
    assert not any(step.do.startswith("drill ") for step in small.plan)
    assert small.plan[0].do.startswith("bore it true")


@pytest.mark.parametrize("drill", ["0.33 mm", "299.5 mm"])
def test_where_no_drilled_hole_is_tabled_the_drill_itself_leaves_the_most_stock(drill: str):
    """A drill cuts at its size or over it: all of reamer less drill is the most that is left."""
    size = float(drill.split()[0])
    large = size + (0.07 if size < 1.0 else 0.5)
    answer = of(hole=f"{large} +0.02/0", depth="0.6", reamer=f"measured {large + 0.01} mm", cuts_over=None, drill=drill, drill_oversize=None)
    assert span(answer, "reaming_stock") == pytest.approx((large + 0.01 - size,) * 2)
    assert rule(answer, "not too much stock").verdict == "pass"
    assert rule(answer, "drilled hole cleans up").verdict == "not covered"


def test_finer_than_grade_6_has_no_plugs_of_the_standard():
    """ISO/R 1938 starts at IT6, 0.009 mm on 10 mm."""
    names = {one.name for one in of(hole="10 +0.008/0", reamer="measured 10.005 mm", cuts_over="0 to 0.002").values}
    assert not {"iso_go", "iso_no_go", "iso_go_worn"} & names
    assert {"go", "no_go"} <= names
    assert {"iso_go", "iso_no_go", "iso_go_worn"} <= {one.name for one in of(hole="10 H6", reamer="measured 10.005 mm").values}


def test_a_metal_without_expansion_is_measured_without_a_word_of_heat():
    plain, warm = (next(step.do for step in of(material=metal).plan if "let it come to" in step.do)
                   for metal in ({"youngs_modulus": "70 GPa", "poisson": 0.3}, "6061-T6"))
    assert "10 K warm" not in plain
    # 23.6e-6 1/K by 10 K by 10.015 mm.
    assert "10 K warm it reads 0.0024 mm large" in warm


def test_what_the_report_warns_of():
    said = " ".join(of().cautions)
    for word in ("Runout", "Coolant", "hard coat", "wall", "lobes", "Stop the spindle"):
        assert word in said
    assert "hard coat" not in " ".join(of(material="304").cautions).lower()


@given(
    st.floats(9.99, 10.015), st.floats(-0.005, 0.02), st.floats(0.0, 0.01), st.floats(0.0, 0.35),
)
def test_a_pass_means_that_the_hole_is_good(size: float, over: float, more: float, oversize: float):
    """Whatever passes: every hole its trials allow lies inside, and no drilled mark stays."""
    size, over, more, oversize = (round(one, 4) for one in (size, over, more, oversize))
    answer = of(reamer=f"measured {size} mm", cuts_over=f"{over} mm to {over + more:.4f} mm", drill_oversize=f"{oversize} mm")
    good = size + over >= 10.0 - 1e-9 and size + over + more <= 10.015 + 2e-9 and size - 9.7 - oversize > 0.0
    assert (answer.verdict == "pass") == good


def part_file(tmp_path, **changes: Any) -> Part:
    from fits.files.part import read_part

    keys = {key: value for key, value in {**GOOD, **changes}.items() if value is not None}
    path = tmp_path / "part.toml"
    path.write_text("[reamed.bore]\n" + "".join(f'{key} = "{value}"\n' for key, value in keys.items()))
    return read_part(str(path))


@pytest.mark.parametrize(("field", "low", "high"), [
    # hole 10.000 to 10.015 less what it cuts over (0.001 to 0.005)
    ("reamer", 9.999, 10.010), ("cuts_over", None, 0.0074), ("drill_oversize", None, 0.2576), ("depth", None, 50.0), ("drill", None, 9.8576),
])
def test_windows_of_a_field_left_open(tmp_path, field: str, low: float | None, high: float):
    from fits.questions.window import window

    found = window(part_file(tmp_path, **{field: "?"}), f"bore.{field}").intervals
    assert found
    if low is not None:
        assert found[0].low.at == pytest.approx(low, abs=2e-4)
    assert found[-1].high.at == pytest.approx(high, abs=2e-4)


def test_the_wanted_hole_can_not_be_left_open(tmp_path):
    with pytest.raises(InputError, match="can't be left open"):
        part_file(tmp_path, hole="?")


def test_a_reamer_with_next_to_nothing_to_cut_fails():
    """Common practice: less than 0.05 mm on the diameter is rubbed, not cut; 10.0076 - 9.99 = 0.0176 mm at most."""
    assert rule(of(drill="9.99 mm", drill_oversize="0.0 to 0.005"), "drilled hole cleans up").verdict == "fail"
    assert rule(of(drill="9.9 mm", drill_oversize="0.0 to 0.005"), "drilled hole cleans up").verdict == "pass"


@pytest.mark.parametrize(("hole", "says"), [
    ("10.0005/10", "no class is fine enough for 10 %: prove it with a bore gauge or air gauge"),
    # 0.1 mm at 10 mm: class ZZ (0.00020 in = 5.08 um, the coarsest) takes 5 % of it at most; and so it does 10 %.
    ("10.2/10", "class ZZ or finer takes at most 5 % of the tolerance with each gauge"),
])
def test_which_class_of_gauge_is_fine_enough_is_said_once(hole: str, says: str):
    from fits.features.reamed.plan import classes

    assert classes(Reamed(hole=hole)) == says
