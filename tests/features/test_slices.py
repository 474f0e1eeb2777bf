"""A hub of several outsides: each slice as two rings, forces summed, the worst slice judged."""

from __future__ import annotations

from math import pi
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from joints import metal, numbers, press_part
from references.element_models import lines, solve
from references.test_element_models import HALF, INTERFERENCE, PAIR, STEP, STEPS, slice_pressure, stepped

from fits.errors import InputError
from fits.features.feature import State
from fits.features.fields import Context
from fits.features.press import Press
from fits.features.press.slices import Slices
from fits.files import loader
from fits.files.part import read_part
from fits.questions.check import check
from fits.questions.evaluate import evaluate
from fits.questions.targets import target_of
from fits.questions.window import window
from fits.sizes.limits import Limits

HUB = metal(PAIR.e_o, PAIR.nu_o, expansion=23e-6, density=2700.0, least=240.0, name="hub")
LINER = metal(PAIR.e_i, PAIR.nu_i, expansion=11e-6, density=7850.0, least=400.0, name="liner")
SUMS = ("axial_capacity", "torque_capacity", "press_force", "push_out_force")
# Warm, under pressure, turning: everything that differs from slice to slice.
RUN = (State("shop"), State("run", 60.0, 50.0, 6.0, 300.0))


def exact(value: float) -> Limits:
    return Limits(value, value)


def sliced(*slices: tuple[str, str]) -> list[dict[str, str]]:
    return [{"length": length, "outside": outside} for length, outside in slices]


def part(*slices: tuple[str, str], states: tuple[State, ...] = (State("shop"),), **fields: Any):
    given_ = {"hole": exact(60.0), "shaft": exact(60.0 + 2.0 * INTERFERENCE), "shaft_bore": exact(50.0),
              "hub_material": HUB, "shaft_material": LINER, "ends": "open", "length": None, **fields}
    return press_part(states, **given_, **({"slices": sliced(*slices)} if slices else {}))


def one_of(column: int = 0, **fields: Any) -> dict[str, float]:
    return numbers(part(**{"hub_outside": exact(80.0), "length": exact(60.0), **fields}), column)


def in_slices(of: Any, column: int, slice_: float) -> dict[str, float]:
    """The numbers of one slice at full pressure and speed."""
    one = np.array([[[1.0]]])
    given_ = {"part.pressure": one, "part.speed": one, "joint.friction_share": 0.0 * one,
              "joint.roughness_share": one, "joint.slice": slice_ * one}
    found = evaluate(of, "joint", given=given_)
    wide = {name: np.broadcast_to(array, np.broadcast_shapes(array.shape, (1, len(found.states.names))))
            for name, array in found.numbers.items()}
    return {name: float(array.reshape(-1, array.shape[-1])[0, column]) for name, array in wide.items()}


# Sums and slices ---------------------------------------------------------------------------


@pytest.mark.parametrize("ends", ["open", "liner", "body", "stuck"])
def test_equal_slices_are_one_joint(ends: str):
    more = {"states": RUN, "ends": ends, "assembly": "pressed"}
    cut = part(("15", "80"), ("25", "80"), ("20", "80"), **more)
    for column in range(3):
        whole = one_of(column, **more)
        for slice_ in range(3):
            got = in_slices(cut, column, slice_)
            assert {name: got[name] for name in whole} == pytest.approx(whole, rel=1e-12, abs=1e-12, nan_ok=True)


@settings(max_examples=20)
@given(st.lists(st.tuples(st.integers(5, 40), st.integers(66, 120)), min_size=1, max_size=5), st.randoms())
def test_the_order_does_not_matter_for_the_sum(lengths: list[tuple[int, int]], random: Any):
    texts = [(str(length), str(outside)) for length, outside in lengths]
    one = numbers(part(*texts, states=RUN), 1)
    random.shuffle(texts)
    other = numbers(part(*texts, states=RUN), 1)
    assert [one[name] for name in SUMS] == pytest.approx([other[name] for name in SUMS], rel=1e-12)


def test_a_sum_is_that_of_the_joints_alone():
    """In a turning, warm joint under pressure: each slice has its own loss to speed and its own pressure."""
    cut = part(("20", "70"), ("10", "120"), ("30", "80"), states=RUN)
    for column in (0, 1):
        alone = [one_of(column, states=RUN, hub_outside=exact(b), length=exact(length))
                 for length, b in ((20.0, 70.0), (10.0, 120.0), (30.0, 80.0))]
        for slice_, single in enumerate(alone):
            got = in_slices(cut, column, float(slice_))
            for name in ("contact_pressure", "hub_von_mises", "shaft_von_mises", "speed_loss", "bore_closure",
                         "outside_growth", "lift_pressure"):
                assert got[name] == pytest.approx(single[name], rel=1e-12, abs=1e-12), name
            for name in SUMS:
                assert got[name] == pytest.approx(sum(each[name] for each in alone), rel=1e-12, abs=1e-12), name


@pytest.mark.parametrize(("first", "last", "pressures", "whole"), STEPS)
def test_stepped_hubs_against_elements(first: float, last: float, pressures: tuple[float, ...], whole: float):
    """Half of each model: 30 mm of each outside. The sum is low by at most 1.5 %."""
    cut = part((f"{STEP:g}", f"{2 * first:g}"), (f"{HALF - STEP:g}", f"{2 * last:g}"))
    got = [in_slices(cut, 0, slice_) for slice_ in (0.0, 1.0)]
    assert [one["contact_pressure"] for one in got] == pytest.approx([slice_pressure(first), slice_pressure(last)])
    # mu of joints.py: 0.1 to hold; the elements' mean pressure over the whole face
    by_elements = 0.1 * stepped(first, last).mean * pi * 60.0 * HALF
    assert got[0]["axial_capacity"] == got[1]["axial_capacity"]
    assert 1.0 < by_elements / got[0]["axial_capacity"] < 1.015 + 1e-4
    # At mid-length of the model the step is three transition lengths away.
    assert got[0]["contact_pressure"] == pytest.approx(pressures[0], rel=0.016)


@pytest.mark.parametrize(("first", "last", "step"), [
    (60.0, 35.0, 5.0), (60.0, 35.0, 10.0), (60.0, 40.0, 1.25), (35.0, 60.0, 55.0), (35.0, 60.0, 57.5)])
def test_flanges_and_short_ends_against_elements(first: float, last: float, step: float):
    """A flange on a thin hub, a flange at its end: the whole is never below the sum and at most 2.5 % above it.

    Beside the step the pressure passes that of the greatest slice (1.18 of it for 5 mm at the end).
    """
    low, high = sorted((first, last))
    rings = PAIR._replace(b=last)
    got = solve(
        rings.inner(HALF), rings.hub(HALF, step=(step, first)), interference=INTERFERENCE,
        r_inner=lines((rings.a, rings.c, 1.25)), r_hub=lines((rings.c, low, 1.25), (low, high, 2.5)),
        z=lines((0.0, step, min(0.625, step / 2.0)), (step, HALF, 0.625)))
    cut = part((f"{step:g}", f"{2 * first:g}"), (f"{HALF - step:g}", f"{2 * last:g}"))
    holds = in_slices(cut, 0, 0.0)["axial_capacity"]
    assert 1.0 < 0.1 * got.mean * pi * 60.0 * HALF / holds < 1.025
    assert got.p.max() < 1.2 * max(slice_pressure(first), slice_pressure(last))


def test_tolerances_of_all_slices_move_together():
    """Two dimensions for any number of slices, and every limit reached."""
    cut = part(("20 ±0.5", "70 ±0.2"), ("10 ±0.5", "120 ±0.2"), ("30 ±0.5", "80 ±0.2"))
    found = evaluate(cut, "joint")
    assert set(found.corners) == {"joint.slice", "joint.slice_outside_share", "joint.slice_length_share",
                                  "joint.friction_share"}
    ends = [
        sum(one_of(hub_outside=exact(b + sign * 0.2), length=exact(length + sign * 0.5))["press_force"]
            for length, b in ((20.0, 70.0), (10.0, 120.0), (30.0, 80.0)))
        for sign in (-1.0, 1.0)
    ]
    force = found.numbers["press_force"]
    assert (force.min(), force.max()) == pytest.approx(tuple(ends))


def test_pressing_takes_the_other_slices_at_their_worst():
    """The hub's thin slice is worst at its least outside while the others push with their most."""
    cut = part(("20", "66 ±0.5"), ("60", "120 ±5"))
    push = sum(one_of(hub_outside=exact(b), length=exact(length))["press_force"] for length, b in ((20.0, 65.5), (60.0, 125.0)))
    p = one_of(hub_outside=exact(65.5))["contact_pressure"]
    spread = (65.5**2 + 60.0**2) / (65.5**2 - 60.0**2)
    axial = -push / (pi / 4.0 * (65.5**2 - 60.0**2))
    hoop = p * spread
    mises = np.sqrt(((-p - hoop) ** 2 + (hoop - axial) ** 2 + (axial + p) ** 2) / 2.0)
    assert evaluate(cut, "joint").numbers["pressing_hub"].max() == pytest.approx(mises)


def test_a_few_corners_give_the_same_numbers_as_all():
    """Corners of the slices that differ in something else are computed one by one."""
    cut = part(("20", "70 ±0.2"), ("10", "120 ±0.2"), states=RUN, shaft_bore="50 ±0.1", ends=None)
    every = evaluate(cut, "joint")
    chosen = [0, 3, 4, 9, 17, len(every.corners["joint.slice"]) - 1]
    few = evaluate(cut, "joint", corners={key: one[chosen] for key, one in every.corners.items()})
    for name, array in every.numbers.items():
        if array.ndim > 1:
            wide = np.broadcast_to(array, (len(every.corners["joint.slice"]), array.shape[-1]))
            assert np.array_equal(np.broadcast_to(few.numbers[name], wide[chosen].shape), wide[chosen], equal_nan=True), name


# Rules -------------------------------------------------------------------------------------


def rule(of: Any, name: str):
    return next(one for one in check(of).features[0].checks if one.rule == name)


def test_the_worst_slice_governs():
    hard = {"shaft": exact(60.4), "friction_press": None}
    found = rule(part(("20", "66"), ("20", "120"), ("20", "80"), **hard), "hub stays elastic")
    alone = {b: one_of(hub_outside=exact(b), **hard)["hub_von_mises"] for b in (66.0, 120.0, 80.0)}
    assert found.worst == pytest.approx(max(alone.values()))
    assert found.verdict == "fail"
    assert found.where == f"slice {list(alone).index(max(alone, key=alone.get)) + 1} of 3"
    # one thick hub all along would have passed the rule that the thin slice fails
    lifted = part(("20", "120"), ("20", "66"), states=(State("work", pressure=8.0),), ends="body")
    assert rule(lifted, "fluid can't lift it").where == "slice 2 of 2"
    assert rule(lifted, "fluid can't lift it").verdict == "fail"
    assert rule(part(hub_outside=exact(120.0), states=(State("work", pressure=8.0),), ends="body"),
                "fluid can't lift it").verdict == "pass"


def test_a_sum_has_no_slice():
    assert rule(part(("20", "66"), ("20", "120"), axial_load="90 kN"), "holds its load").where == ""


def test_yielding_in_one_slice_counts_for_the_sum():
    """The thin slice yields: what is left is its own, and the other slice's elastic grip."""
    soft = metal(PAIR.e_o, PAIR.nu_o, least=100.0, name="soft")
    fields = {"hub_material": soft, "shaft_bore": None}
    cut = part(("20", "80"), ("20", "180"), shaft=exact(60.09), **fields)
    yields, stays = (in_slices(cut, 0, slice_) for slice_ in (0.0, 1.0))
    thin, thick = (one_of(hub_outside=exact(b), length=exact(20.0), shaft=exact(60.09), **fields) for b in (80.0, 180.0))
    assert yields["permanent_loss"] == pytest.approx(thin["permanent_loss"])
    assert yields["permanent_loss"] > 0.0
    grip = (thin["capacity_after_yield"], thick.get("capacity_after_yield", thick["axial_capacity"]))
    assert yields["capacity_after_yield"] == stays["capacity_after_yield"] == pytest.approx(sum(grip))


def test_what_one_slice_lacks_is_lacking():
    """The thin slice yields through, so nothing is promised for the sum, at whichever slice it is asked."""
    soft = metal(PAIR.e_o, PAIR.nu_o, least=60.0, name="soft")
    cut = part(("20", "62"), ("20", "180"), hub_material=soft, shaft=exact(60.06), shaft_bore=None)
    found = check(cut).features[0]
    assert any("hub all through" in text for text in found.not_covered)
    assert "capacity_after_yield" not in {value.name for value in found.values}


def test_the_clock_is_that_of_the_slice_that_grips_first():
    hot = {"heat_to": "160 degC", "hub_material": "6061-T6", "shaft_material": "304", "friction_press": None}
    cut = check(part(("20", "66"), ("20", "120"), **hot)).features[0]
    both = [check(part(hub_outside=exact(b), length=exact(20.0), **hot)).features[0] for b in (66.0, 120.0)]
    seconds = [next(v for v in one.values if v.name == "seconds_in_air").states["assembly"] for one in (cut, *both)]
    assert seconds[0].least == pytest.approx(min(seconds[1].least, seconds[2].least))
    assert seconds[0].greatest == pytest.approx(max(seconds[1].greatest, seconds[2].greatest))
    assert any("oven, with a thermometer" in step.tool and "90 min" in step.range for step in cut.plan)


def test_the_plan_names_the_force_at_the_end_of_each_slice():
    step = next(one for one in check(part(("10", "80"), ("30", "120"))).features[0].plan if "slice 1 on" in one.do)
    first, whole = (one_of(hub_outside=exact(b), length=exact(length))["press_force"] for length, b in ((10.0, 80.0), (30.0, 120.0)))
    assert f"{first:.0f} N at 10 mm (end of slice 1)" in step.range
    assert f"{first + whole:.0f} N at 40 mm (end of slice 2)" in step.range


def test_the_step_has_its_caution():
    texts = check(part(("10", "80"), ("30", "120"))).features[0].cautions
    assert any("Beside a step" in text for text in texts)
    assert not any("Beside a step" in text for text in check(part(hub_outside="80")).features[0].cautions)


# Windows -----------------------------------------------------------------------------------


def test_a_window_of_another_field():
    """The least shaft that holds is that at which the sum of the slices does."""
    found = window(part(("20 ±0.5", "70 ±0.2"), ("40 ±0.5", "120 ±0.2"), axial_load="9 kN"), "joint.shaft")
    (one,) = found.intervals
    assert one.low.rule == "holds its load"
    held = part(("20 ±0.5", "70 ±0.2"), ("40 ±0.5", "120 ±0.2"), axial_load="9 kN", shaft=exact(one.low.at))
    loose = part(("20 ±0.5", "70 ±0.2"), ("40 ±0.5", "120 ±0.2"), axial_load="9 kN", shaft=exact(one.low.at - 2e-4))
    assert rule(held, "holds its load").verdict == "pass"
    assert rule(loose, "holds its load").verdict == "fail"


@pytest.mark.parametrize("quantity", ["temperature", "hub_temperature", "shaft_temperature", "pressure", "speed"])
def test_a_window_of_a_state(quantity: str):
    """Just inside the highest value every rule holds, just beyond it one does not."""
    cut = {"ends": "open", "axial_load": "4 kN", "friction_press": None}
    slices, states = (("20", "70"), ("40", "120")), (RUN[0], RUN[1]._replace(pressure=3.0))
    found = window(part(*slices, states=states, **cut), f"run.{quantity}")
    high = found.intervals[-1].high
    assert high.rule
    keys = {"temperature": ("hub_temperature", "shaft_temperature")}.get(quantity, (quantity,))
    inside, beyond = (
        check(part(*slices, states=(states[0], states[1]._replace(**dict.fromkeys(keys, high.at * share))), **cut)).features[0]
        for share in (1.0 - 1e-5, 1.0 + 1e-3))
    assert all(one.verdict == "pass" for one in inside.checks)
    assert any(one.verdict != "pass" for one in beyond.checks)


def test_a_sweep_of_the_hole_ends_at_the_thinnest_slice():
    target = target_of(part(("20", "62 ±0.5"), ("40", "120")), "joint.shaft")
    assert target.high == pytest.approx(61.5, abs=1e-3)
    assert target.high_why == "must stay below slices.thinnest"


@pytest.mark.parametrize("field", ["hub_outside", "length", "slices.thinnest"])
def test_what_the_slices_stand_for_is_not_swept(field: str):
    of = part(("20", "70"), ("40", "120"), length=exact(60.0))
    with pytest.raises(InputError, match=f"{field} does not count in joint as it is declared"):
        window(of, f"joint.{field}")


def test_ways_out_pass_over_the_length():
    of = part(("20", "70"), ("40", "120"), length=exact(60.0), axial_load="400 kN")
    assert not window(of, "joint.shaft_bore").intervals


# Bad input ---------------------------------------------------------------------------------

GOOD = {"hole": "60", "shaft": "60.06", "hub_material": "6061-T6", "shaft_material": "304"}


@pytest.mark.parametrize(("fields", "key", "says"), [
    ({"length": "50"}, "slices", "the slices overlap by 10 mm; they add up to 60 mm; length is 50 mm"),
    ({"length": "70.5"}, "slices", "the slices leave a gap of 10.5 mm"),
    ({"length": "60 ±0.5"}, "length", "the slices add up to 60 to 60 mm, length is 59.5 to 60.5 mm"),
    ({"slices": sliced(("20", "80"), ("40", "59"))}, "hole", "must stay below slices.thinnest (59 mm at its least)"),
    ({"slices": []}, "slices", "1 to 12 slices are due"),
    ({"slices": sliced(*[("1", "80")] * 13)}, "slices", "1 to 12 slices are due"),
    ({"slices": "20 x 80"}, "slices", "a list of tables is due"),
    ({"slices": ["20 x 80"]}, "slices.1", "a table of length and outside is due"),
    ({"slices": [*sliced(("20", "80")), {"length": "40", "outsid": "90"}]}, "slices.2.outsid", 'did you mean "outside"?'),
    ({"slices": [{"length": "40"}]}, "slices.1.outside", "missing: outside of the hub there"),
    ({"slices": sliced(("0", "80"))}, "slices.1.length", "a size is above 0"),
    ({"slices": sliced(("0.1 ±0.1", "80"))}, "slices.1.length", "a slice has a length above 0"),
    ({"slices": sliced(("20", "?"))}, "slices.1.outside", "a slice can't be left open"),
    ({"slices": sliced(("20", "nan"))}, "slices.1.outside", "nan"),
    ({"slices": sliced(("20", "80 N"))}, "slices.1.outside", "80 N"),
    ({"hub_outside": "80"}, "hub_outside", "either hub_outside or slices: each slice has its own outside"),
    ({"slices": None}, "hub_outside", "missing: outside of the hub; or slices, where it has several"),
])
def test_bad_slices_are_refused_with_their_key(fields: dict[str, Any], key: str, says: str):
    with pytest.raises(InputError) as caught:
        loader.feature(Press, {**GOOD, "slices": sliced(("20", "80"), ("40", "90")), **fields}, Context())
    assert key in [fault.key for fault in caught.value.faults]
    assert says in str(caught.value)
    assert all("\n" not in str(fault) for fault in caught.value.faults)


def test_a_length_that_is_the_sum_is_welcome():
    fields = {**GOOD, "slices": sliced(("20 ±0.3", "80"), ("40 ±0.3", "90")), "length": "60 ±0.5"}
    found = loader.feature(Press, fields, Context())
    assert isinstance(found.slices, Slices)
    assert (found.slices.length.lower, found.slices.length.upper) == pytest.approx((59.4, 60.6))


@pytest.mark.parametrize("fields", [{}, {"hub_outside": "80", "slices": sliced(("20", "80"))}])
def test_the_library_asks_for_one_of_both_too(fields: dict[str, Any]):
    with pytest.raises(ValueError, match="hub_outside"):
        Press(**GOOD, **fields)


# The command line and the part file ----------------------------------------------------------

COMMAND = ["press", "--hole", "60", "--shaft", "60.06", "--hub-material", "6061-T6", "--shaft-material", "304",
           "--friction-hold", "0.1", "--friction-press", "0.1", "--roughness-hole", "0 um", "--roughness-shaft", "0 um"]


def test_the_command_line(fits):
    ran = fits(*COMMAND, "--slices", '[{length = "20", outside = "80 ±0.1"}, {length = "1 in", outside = "120"}]',
               "--units", "mm", "--axial-load", "1 kN", "--json")
    assert ran.status == 0, ran.err
    values = ran.json["features"]["press"]["values"]
    found = Press(hole="60", shaft="60.06", hub_material="6061-T6", shaft_material="304", friction_hold=0.1,
                  friction_press=0.1, roughness_hole=0.0, roughness_shaft=0.0,
                  slices=sliced(("20", "80 ±0.1"), ("25.4", "120")))
    force = evaluate(press_part(**{name: getattr(found, name) for name in found.model_fields_set}, length=None), "joint").numbers["press_force"]
    assert values["press_force"]["states"]["assembly"]["max"] == pytest.approx(force.max())
    shown = " ".join(fits(*COMMAND, "--slices", '[{length = "20", outside = "80"}]', "--workings").out.split())
    assert "hub_outside 80.00000 mm, slice 1, slice_outside_share 0" in shown


def test_a_failing_slice_is_named(fits):
    thin = [*COMMAND, "--slices", '[{length = "20", outside = "64"}, {length = "20", outside = "120"}]', "--shaft", "60.2"]
    ran = fits(*thin)
    assert ran.status == 1
    # the thick slice has the greater pressure, the thin one the thinner wall to push through
    assert "pressing can't crush the hub" in ran.out
    assert "(assembly, slice 1 of 2), at most 241.0 MPa" in " ".join(ran.out.split())
    checks = {one["rule"]: one for one in fits(*thin, "--json").json["features"]["press"]["checks"]}
    assert checks["hub stays elastic"]["where"] == "slice 2 of 2"
    assert checks["pressing can't crush the hub"]["where"] == "slice 1 of 2"


@pytest.mark.parametrize(("text", "says"), [
    ("[{length = ", '--slices: "[{length = ": not a TOML list of tables; write [{length'),
    ('[{length = "20", outside = "59"}]', "--hole: \"60 mm\": must stay below slices.thinnest"),
    ('[{length = "20"}]', "--slices.1.outside: missing"),
    ('{length = "20", outside = "80"}', "--slices: \"{'length'"),
    ("[]", "--slices: \"0 slices\": 1 to 12 slices are due"),
    ("?", "--slices: \"?\": not decided yet"),
])
def test_bad_slices_on_the_shell(fits, text: str, says: str):
    ran = fits(*COMMAND, "--slices", text)
    assert ran.status == 2
    assert says in ran.err
    assert "Traceback" not in ran.err


PART = """
[states.hot]
temperature = "70 degC"
[press.hub]
hole = "60"
shaft = "60.06"
shaft_bore = "50"
length = "60"
slices = [
  {length = "20", outside = "80"},
  {length = "40", outside = "120"},
]
hub_material = "6061-T6"
shaft_material = "304"
roughness_hole = "0 um"
roughness_shaft = "0 um"
[running.plunger]
hole = "hub.shaft_bore"
shaft = "49.9"
shaft_material = "304"
clearance_at_least = "0.02"
"""


def test_a_part_file(tmp_path):
    path = tmp_path / "part.toml"
    path.write_text(PART)
    hub, plunger = check(read_part(str(path))).features
    assert hub.name == "hub"
    # the bore is not the same in both slices: the plunger runs in the narrower
    closed = next(one for one in hub.values if one.name == "bore_closure").states["as_made"]
    worst = next(one for one in plunger.checks if one.rule.startswith("clearance") or one.value == "clearance")
    assert closed.greatest > 1.3 * closed.least
    assert worst.where == "slice 2 of 2"


@pytest.mark.parametrize(("old", "new", "says"), [
    ('length = "60"', 'length = "61"', "part.toml:9: press.hub.slices: the slices leave a gap of 1 mm"),
    ('outside = "120"', 'outside = "120", colour = "red"', "press.hub.slices.2.colour: unknown key"),
    ('shaft_bore = "50"', 'hub_outside = "90"', "press.hub.hub_outside: either hub_outside or slices"),
    ('"hub.shaft_bore"\nshaft = "49.9"', '"120.1"\nshaft = "hub.hub_outside"', "hub has no hub_outside: its slices have their own"),
    ("slices = [", 'slices = "?"\nother = [', "press.hub.other: unknown key"),
])
def test_bad_part_files(tmp_path, old: str, new: str, says: str):
    path = tmp_path / "part.toml"
    assert old in PART
    path.write_text(PART.replace(old, new))
    with pytest.raises(InputError) as caught:
        read_part(str(path))
    assert says in str(caught.value)


def test_a_shared_size_is_no_slice(tmp_path):
    path = tmp_path / "part.toml"
    path.write_text('[sizes]\nrim = "120 ±0.1"\n' + PART.replace('outside = "120"', 'outside = "rim"'))
    with pytest.raises(InputError, match=r"press.hub.slices.2.outside: \"rim\": a shared size can't stand in a slice"):
        read_part(str(path))


def test_open_slices_are_refused(tmp_path):
    path = tmp_path / "part.toml"
    head, _, tail = PART.partition("slices = [")
    path.write_text(f'{head}slices = "?"\n{tail[tail.index("hub_material"):]}')
    with pytest.raises(InputError, match=r"press.hub.slices: \"\?\": not decided yet"):
        check(read_part(str(path)))
    with pytest.raises(InputError, match="slices is no number"):
        window(read_part(str(path)), "hub.slices")


def test_what_is_to_be_cut_is_listed_slice_by_slice():
    """As typed in :func:`sliced`, with the limits a drawing of each slice has."""
    (one,) = check(part(("20 ±0.1", "80 -0.05/-0.1"), ("15", "90"))).features
    assert [(size.name, size.label, size.lower, size.upper, size.side) for size in one.sizes if size.name.startswith("slices")] == [
        ("slices.1.length", "slices 1 length", 19.9, 20.1, ""), ("slices.1.outside", "slices 1 outside", 79.9, 79.95, "shaft"),
        ("slices.2.length", "slices 2 length", 15.0, 15.0, ""), ("slices.2.outside", "slices 2 outside", 90.0, 90.0, "shaft"),
    ]  # fmt: skip
