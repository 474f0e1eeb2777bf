"""Readings taken to a part: which size, at 20 degC, what they show of form, what can't be; by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from joints import metal, press_part
from plain import plain

from fits.errors import Fault, InputError
from fits.features.feature import State
from fits.features.fields import SurfaceRef
from fits.features.part import Part
from fits.questions import measured as reading
from fits.questions.measured import (
    Dimension,
    as_read,
    cautions_of,
    cut_as,
    dimension_of,
    measured,
    sources_of,
    unseen,
    with_sizes,
)
from fits.sizes.limits import Limits
from fits.sizes.reading import Reading

ALUMINIUM, STEEL = metal(7e4, 0.33, expansion=23e-6, least=240.0, name="soft"), metal(2e5, 0.3, expansion=12e-6, least=600.0)
WARM = replace(ALUMINIUM, expansion=(22e-6, 24e-6))


def read(value: float, doubt: float = 0.001, *, label: str = "seat.hole", who: str = "a", **more) -> Reading:
    return Reading(who, label, value, doubt, "gauge", more.pop("temperature", 20.0), **more)


def press(**fields) -> Part:
    given = {"hole": "20.021/20.000", "shaft": "20.060/20.047", "hub_outside": "40 ±0.1", "hub_material": ALUMINIUM, "shaft_material": STEEL, **fields}
    return press_part((State("shop"),), **given)


def size(part: Part, *readings: Reading):
    ((found,),) = (sizes.values() for sizes in measured(part, readings).values())
    return found


def test_least_and_greatest_of_several_readings():
    found = size(plain(), read(20.012, 0.001, place="t:2"), read(20.008, 0.003, place="t:3"), read(20.015, 0.002, place="t:4"))
    assert (found.least, found.greatest, found.uncertainty, found.readings) == (20.008, 20.015, 0.003, 3)
    assert (found.charged, found.correction, found.place) == (0.0, 0.0, "t:2")


def test_taper_and_ovality_by_station_and_direction():
    """Top 20.004 and 20.005, end 20.010 and 20.008: along x 6 um, along y 3; around 1 and 2 um."""
    found = size(plain(), *(read(value, station=station, direction=direction) for station, direction, value in (
        ("top", "x", 20.004), ("top", "y", 20.005), ("end", "x", 20.010), ("end", "y", 20.008))))
    assert (found.taper, found.ovality) == (pytest.approx(0.006), pytest.approx(0.002))
    one = size(plain(), read(20.004))
    assert (one.taper, one.ovality) == (None, None)


def test_form_is_charged_to_a_single_reading_only():
    part = plain(form_hole="0.003")
    one = size(part, read(20.010))
    assert (one.least, one.greatest, one.charged) == (pytest.approx(20.007), pytest.approx(20.013), 0.003)
    two = size(part, read(20.010, station="a"), read(20.012, station="b"))
    assert (two.least, two.greatest, two.charged, two.readings) == (20.010, 20.012, 0.0, 2)


@pytest.mark.parametrize(("value", "doubt", "says"), [
    (20.0, 1.0, ""), (20.0, 1.0001, "an uncertainty of more than a twentieth of the size"),
    (19.0, 0.001, ""), (18.999, 0.001, "nowhere near its drawing, 20.000 mm to 20.030 mm"), (21.0315, 0.001, ""), (21.032, 0.001, "nowhere near its drawing"),
])
def test_a_slip_is_more_than_a_twentieth(value: float, doubt: float, says: str):
    if not says:
        assert size(plain(), read(value, doubt)).least == value
        return
    with pytest.raises(InputError) as raised:
        measured(plain(), [read(value, doubt, place="t:7")])
    (fault,) = raised.value.faults
    assert fault.must.startswith(says)
    assert (fault.key, fault.place) == ("seat.hole", "t:7")
    scrap = " else it is scrap without judging: leave its rows out"
    assert fault.hint == "a slip of unit or digit?" + (scrap if "drawing" in says else "")
    shown = fault.got
    assert shown == ("1.000 mm" if "uncertainty" in says else f"{value:.3f} mm")


@pytest.mark.parametrize(("value", "doubt", "says"), [
    (0.3, 0.05, ""), (0.3, 0.2, ""), (0.3, 0.2001, "a twentieth"), (0.001, 0.01, ""), (0.6, 0.01, ""), (0.6001, 0.01, "nowhere near"),
])
def test_a_small_size_of_a_wide_tolerance_may_be_as_far_off_as_that(value: float, doubt: float, says: str):
    """A radius of 0.3 ±0.1 by a radius gauge."""
    part = plain(hole="0.3 ±0.1", shaft="0.3 ±0.1")
    if says:
        with pytest.raises(InputError, match=says):
            measured(part, [read(value, doubt)])
    else:
        assert size(part, read(value, doubt)).least == value


def test_a_slip_on_an_inch_part_is_said_in_inches():
    with pytest.raises(InputError, match=r'"0\.9449 in": nowhere near its drawing, 0\.7874 in to 0\.7886 in'):
        measured(plain(units="in"), [read(24.0)])


# Away from 20 degC

@pytest.mark.parametrize(("temperature", "gauge", "expansion", "expected"), [
    # size = reading (1 + a_gauge (Tg - 20)) / (1 + 23e-6 (T - 20)); 24 K warm, 6 K cold.
    (44.0, 20.0, None, 20.0 / (1.0 + 23e-6 * 24.0)), (14.0, 20.0, None, 20.0 / (1.0 - 23e-6 * 6.0)),
    (44.0, 44.0, 11.5e-6, 20.0 * (1.0 + 11.5e-6 * 24.0) / (1.0 + 23e-6 * 24.0)), (44.0, 30.0, 10e-6, 20.0 * (1.0 + 10e-6 * 10.0) / (1.0 + 23e-6 * 24.0)),
    (20.0, 30.0, 10e-6, 20.0 * (1.0 + 10e-6 * 10.0)), (20.0, 20.0, None, 20.0), (20.0, None, None, 20.0), (20.0 + 0.9e-6, None, None, 20.0),
])
def test_a_reading_is_brought_to_20_degc(temperature: float, gauge: float | None, expansion: float | None, expected: float):
    found = size(press(), read(20.0, label="joint.hole", temperature=temperature, gauge_temperature=gauge, gauge_expansion=expansion))
    assert found.least == found.greatest == pytest.approx(expected, abs=1e-11)
    assert found.correction == pytest.approx(expected - 20.0, abs=1e-11)
    assert found.uncertainty == pytest.approx(0.001, abs=1e-12)


def test_a_hair_from_20_degc_asks_for_the_gauge():
    with pytest.raises(InputError, match="at what temperature was the gauge"):
        size(press(), read(20.0, label="joint.hole", temperature=20.0 + 1.1e-6))
    with pytest.raises(InputError, match=r"the gauge was not at 20 degC.* about 11\.5e-6 1/K"):
        size(press(), read(20.0, label="joint.hole", temperature=20.0, gauge_temperature=20.0 - 1.1e-6))
    assert size(press(), read(20.0, label="joint.hole", temperature=20.0, gauge_temperature=20.0 - 0.9e-6)).least == 20.0


def test_both_ends_of_an_expansion_widen_the_doubt():
    """22 and 24e-6 over 30 K of 20 mm: the middle of both sizes, and half of what is between them more doubt."""
    found = size(press(hub_material=WARM), read(20.0, 0.002, label="joint.hole", temperature=50.0, gauge_temperature=20.0))
    ends = 20.0 / (1.0 + 22e-6 * 30.0), 20.0 / (1.0 + 24e-6 * 30.0)
    assert found.least == pytest.approx(sum(ends) / 2.0, abs=1e-11)
    assert found.uncertainty == pytest.approx(0.002 + (ends[0] - ends[1]) / 2.0, abs=1e-11)


def test_the_question_for_the_gauge_shows_both_answers():
    """30 K at 23e-6 of 20.5 mm are 0.0141; a steel gauge takes back 11.5e-6 x 30 x 20.5 = 0.0071."""
    with pytest.raises(InputError) as raised:
        size(press(hub_material=WARM, hole="20.5 ±0.02"), read(20.5, label="joint.hole", temperature=50.0))
    (fault,) = raised.value.faults
    assert (fault.must, fault.got) == ("read at 50 degC: at what temperature was the gauge?", "20.5000 mm")
    assert fault.hint.startswith("it is 20.4859 mm if the gauge was at 20 degC, 20.4929 mm if a steel gauge was as warm; give gauge_temperature")
    with pytest.raises(InputError, match=r"steel grows by about 11\.5e-6 1/K; give it as gauge_expansion"):
        size(press(), read(20.0, label="joint.hole", temperature=50.0, gauge_temperature=40.0))


def test_what_can_not_be_corrected():
    with pytest.raises(InputError, match=r"can't be corrected to 20 degC, its metal isn't known; let it soak"):
        size(plain(), read(20.0, temperature=30.0, gauge_temperature=20.0))
    with pytest.raises(InputError, match="6061-T6: no expansion there"):
        size(press(hub_material="6061-T6"), read(20.0, label="joint.hole", temperature=2000.0, gauge_temperature=20.0))


# Which size

def test_a_dimension_by_its_name():
    part = press(form_hole=0.004)
    assert dimension_of(part, "joint.hole") == Dimension("joint.hole", "joint.hole", "joint", "hole", "hole", part.features["joint"].hole, 0.004, ALUMINIUM)
    shaft = dimension_of(part, "joint.shaft")
    assert (shaft.side, shaft.form, shaft.metal) == ("shaft", 0.0, STEEL)
    length = dimension_of(part, "joint.length")
    assert (length.side, length.metal, length.limits.lower) == ("", None, 100.0)
    shared = plain(hole=Limits(20.0, 20.03, None, "hole", name="bore"))
    assert dimension_of(shared, "seat.hole").key == "sizes.bore"


@pytest.mark.parametrize(("label", "says"), [
    ("sat.hole", 'no such feature in this part; did you mean "seat"?'), ("zzz.hole", "no such feature in this part; features: seat"),
    ("seat.hoel", 'seat has no size hoel; did you mean "hole"?'), ("seat.zzz", "seat has no size zzz; sizes of seat: hole, shaft"),
    ("seat.grade", "seat has no size grade"), ("seat.outside", "the part file gives no outside for seat; add it there"), ("seat.core", "the part file gives no core for seat"),
])
def test_what_is_no_size_of_the_part(label: str, says: str):
    part = plain()
    with pytest.raises(InputError) as raised:
        dimension_of(part, label)
    assert says in str(raised.value)


def test_a_size_of_0_is_none_to_be_read():
    with pytest.raises(InputError, match="the part file gives no core for seat"):
        dimension_of(plain(core=Limits(0.0, 0.0, 0.0)), "seat.core")
    assert dimension_of(plain(core=Limits(0.4, 0.5)), "seat.core").limits.upper == 0.5


def test_a_surface_is_read_as_what_it_is_cut_as():
    part = Part("test", {"below": plain().features["seat"], "above": plain(hole=SurfaceRef("below", "bore")).features["seat"]})
    assert cut_as(part, SurfaceRef("below", "bore")) == "below.hole"
    with pytest.raises(InputError, match=r"hole stands on below\.bore; give below\.hole as it was read before assembly"):
        dimension_of(part, "above.hole")


def test_only_what_is_read_changes():
    part = plain(outside="41 ±1")
    changed = with_sizes(part, {"seat.hole": (20.004, 20.007), "other.hole": (1.0, 2.0)})
    seat = changed.features["seat"]
    assert (seat.hole.lower, seat.hole.upper, seat.hole.side) == (20.004, 20.007, "hole")
    assert (seat.shaft, seat.outside) == (part.features["seat"].shaft, part.features["seat"].outside)
    bore = Limits(20.0, 20.03, None, "hole", name="bore")
    both = Part("test", {"a": plain(hole=bore).features["seat"], "b": plain(hole=bore).features["seat"]})
    assert [one.hole.upper for one in with_sizes(both, {"sizes.bore": (20.01, 20.02)}).features.values()] == [20.02, 20.02]
    assert as_read(part, ["seat.hole", "nothing.at_all"]) == part


# Which parts can't be

def test_sizes_that_touch_are_of_no_part():
    """A core of 19.9375 less 2/1024, both +-1/1024, touches; a hair less does not."""
    part, doubt = plain(core="19.7 ±0.1"), 1.0 / 1024.0
    for core, touches in ((19.935546875, True), (19.9355, False), (19.937, True)):
        for first, second in (("core", "shaft"), ("shaft", "core")):
            values = {"core": core, "shaft": 19.9375}
            readings = [read(values[first], doubt, label=f"seat.{first}"), read(values[second], doubt, label=f"seat.{second}", place="t:9")]
            if touches:
                with pytest.raises(InputError) as raised:
                    measured(part, readings)
                (fault,) = raised.value.faults
                assert (fault.must, fault.got, fault.key) == ("core must stay below shaft: it needs a wall", f"{values[second]:.4f} mm", f"seat.{second}")
            else:
                assert len(measured(part, readings)["a"]) == 2


def test_what_was_not_read_counts_as_it_is_drawn():
    """A core of 19.939 +-0.001 in the drawing's shaft of at least 19.940."""
    part = plain(core="19.7 ±0.1")
    with pytest.raises(InputError, match="core must stay below shaft"):
        measured(part, [read(19.939, 0.0011, label="seat.core")])
    assert measured(part, [read(19.939, 0.0009, label="seat.core")])
    # Where the other isn't given there is nothing to stay below.
    assert measured(plain(), [read(20.4, 0.001)])
    with pytest.raises(InputError, match="hole must stay below outside"):
        measured(plain(outside="20.5 ±0.1"), [read(20.4, 0.001)])


def test_the_same_shared_size_under_two_names():
    bore = Limits(20.0, 20.03, None, "hole", name="bore")
    part = Part("test", {"a": plain(hole=bore).features["seat"], "b": plain(hole=bore).features["seat"]})
    with pytest.raises(InputError, match=r"a\.hole is the same shared size and was read as well"):
        measured(part, [read(20.01, label="a.hole"), read(20.01, label="b.hole")])


def test_faults_are_kept_by_part_where_they_are_asked_for():
    bad: dict[str, list[Fault]] = {}
    found = measured(plain(), [read(20.01, who="a"), read(30.0, who="b", place="t:3"), read(19.945, who="b", label="seat.shaft"), read(20.01, who="c", label="seat.hoel", place="t:5"),
                               read(20.02, who="d", label="seat.hoel", place="t:6")], bad)
    assert list(found) == ["a"]
    assert {who: [(one.key, one.place) for one in faults] for who, faults in bad.items()} == {"b": [("seat.hole", "t:3")], "c": [("", "t:5")], "d": [("", "t:6")]}
    assert list(measured(plain(), [read(20.01)], {})) == ["a"]
    # Without that place each is said, a dimension that isn't there once.
    with pytest.raises(InputError) as raised:
        measured(plain(), [read(20.01, who="c", label="seat.hoel", place="t:5"), read(20.02, who="d", label="seat.hoel", place="t:6"), read(30.0, who="b", place="t:7")])
    assert [(one.got, one.place) for one in raised.value.faults] == [("seat.hoel", "t:5"), ("30.000 mm", "t:7")]


def test_so_many_faults_are_enough(monkeypatch):
    monkeypatch.setattr(reading, "FAULTS", 2)
    for count, said in ((2, 2), (3, 3), (5, 3)):
        with pytest.raises(InputError) as raised:
            measured(plain(), [read(30.0, who=f"p{index}") for index in range(count)])
        assert len(raised.value.faults) == said


def test_twenty_faults_and_one_are_enough():
    with pytest.raises(InputError) as raised:
        measured(plain(), [read(30.0, who=f"p{index}") for index in range(30)])
    assert len(raised.value.faults) == 21


# What goes with it

def test_what_instruments_cannot_see_is_said_once():
    two, three = "two points miss odd lobes; look with three points, in a V-block or with a ring", "three points miss ovality; read across two points as well"
    assert unseen(["micrometer", "ring gauge", "three-point bore gauge", "micrometer"]) == [f"micrometer: {two}", f"three-point bore gauge: {three}"]


def test_cautions_and_sources_of_the_features_that_were_read():
    hot = press_part((State("hot", 150.0, 150.0, 5.0),), hole="20 H7", shaft="20 p6", hub_outside="40", hub_material="6061-T6", shaft_material="316")
    part = Part("test", {**hot.features, "seat": plain().features["seat"]}, hot.states)
    assert cautions_of(part, ["seat"]) == ()
    assert len(cautions_of(part, ["joint"])) == len(set(cautions_of(part, ["joint", "joint"]))) > 0
    given = plain().features["seat"].rules[0].source
    assert sources_of(part, ["seat"]) == (given,)
    assert given not in sources_of(part, ["joint"])
    assert len(sources_of(part, ["joint", "seat"])) == len(sources_of(part, ["joint"])) + 1
