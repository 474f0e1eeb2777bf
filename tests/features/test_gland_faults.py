"""What can't be of a gland, exactly at the size where it begins; what is looked for where nothing was typed."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from glands import COLD, HOT, SHOP, WHOLE, exact_ring, gland, part

from fits.errors import InputError
from fits.features.feature import Feature, State, States
from fits.features.fields import Context, levels
from fits.features.kinds import kind
from fits.files import loader
from fits.questions.check import check

# Inside 24.8 to 25.2, section 3.4 to 3.6: outside 31.6 to 32.4.
LOOSE = {"inside": "25 ±0.2", "section": "3.5 ±0.1"}


def built(form: str, **changes: Any) -> Feature:
    keys = {key: value for key, value in {**WHOLE[form], **changes}.items() if value is not None}
    found = loader.feature(kind(f"gland {form}"), keys, Context())
    assert isinstance(found, Feature)
    return found


def faults(form: str, **changes: Any) -> list[str]:
    """The keys that are at fault, each with what is said."""
    try:
        built(form, **changes)
    except InputError as error:
        return [f"{one.key}: {one.must}" if one.key else one.must for one in error.faults]
    return []


PISTON = {"ring": LOOSE, "bore": "31", "piston_diameter": "30.9", "groove_diameter": "25.2", "lead_in": "6"}
ROD = {"ring": LOOSE, "rod": "25.2", "housing_bore": "25.3", "groove_diameter": "31.2"}
FACE = {"ring": LOOSE, "groove_outside": "32", "groove_width": "5 ±0.1"}
INNER = {**FACE, "groove_outside": None}
DOVETAIL = {"ring": LOOSE, "groove_middle": "28.5", "mouth_width": "3.1"}
CORNER = {"ring": LOOSE, "spigot": "25", "leg": "4.8"}


@pytest.mark.parametrize(("form", "base", "good", "bad", "says"), [
    # Two radii as wide as the groove at its least.
    ("piston", PISTON, {"groove_width": "5 ±0.2", "corner_radius": "2.3 ±0.09"}, {"groove_width": "5 ±0.2", "corner_radius": "2.3 ±0.1"}, "two of them are as wide as the groove (4.8 mm at its least)"),
    ("piston", PISTON, {"backup_rings": "2", "backup_thickness": "0.3"}, {"backup_rings": "0.5", "backup_thickness": "0.3"}, "0, 1 or 2 is due"),
    ("piston", PISTON, {"backup_rings": "1", "backup_thickness": "0.3"}, {"backup_rings": "1 to 2", "backup_thickness": "0.3"}, "0, 1 or 2 is due"),
    # Groove and land in the part: 5 + 3 in at least 8.01, not in 8.
    ("piston", PISTON, {"groove_width": "4.9 ±0.1", "land": "2.9 ±0.1", "length": "8.11 ±0.1"}, {"groove_width": "4.9 ±0.1", "land": "2.9 ±0.1", "length": "8.1 ±0.1"}, "groove and land are longer than the part (8 mm at its least)"),
    # A ring at least as large as the piston at its most; one that goes over it by half.
    ("piston", PISTON, {"piston_diameter": "24.85 ±0.05", "groove_diameter": "20", "bore": "25"}, {"piston_diameter": "24.75 ±0.05", "groove_diameter": "20", "bore": "25"}, "its inside (24.8 mm) is larger than the piston"),
    ("piston", PISTON, {"piston_diameter": "37.75 ±0.05", "bore": "38"}, {"piston_diameter": "37.75 ±0.06", "bore": "38"}, "stretched by 50 % over the piston"),
    # Twice the depth takes the whole piston, or the whole bore, at their least.
    ("piston", {**PISTON, "groove_diameter": None}, {"groove_depth": "15.3 ±0.05", "piston_diameter": "30.85 ±0.05"}, {"groove_depth": "15.3 ±0.1", "piston_diameter": "30.85 ±0.05"}, "leaves nothing of the piston, 30.8 mm at its least"),
    ("piston", {**PISTON, "groove_diameter": None, "piston_diameter": "30.5"}, {"gland_depth": "15.4 ±0.04", "bore": "31 ±0.1"}, {"gland_depth": "15.4 ±0.05", "bore": "31 ±0.1"}, "leaves nothing of the piston, 30.9 mm at its least"),
    ("piston", PISTON, {"shaft_bore": "0"}, {"shaft_bore": "0.1/0"}, "a bore with limits is above 0; a solid part has none"),
    ("piston", PISTON, {"shaft_bore": "0.1"}, {"shaft_bore": "1.5/0"}, "a bore with limits is above 0; a solid part has none"),
    # A ring no larger at its outside than the bore, or clear of the rod by its own section.
    ("rod", ROD, {"housing_bore": "32.4 +0.2/-0.01", "groove_diameter": "36"}, {"housing_bore": "32.5 +0.2/-0.1", "groove_diameter": "36"}, "its outside (32.4 mm) is smaller than the bore"),
    ("rod", ROD, {"rod": "37.25 ±0.25", "housing_bore": "37.9", "groove_diameter": "44", "ring": {"inside": "24.75 ±0.25", "section": "9 ±0.1"}},
     {"rod": "37.25 ±0.26", "housing_bore": "37.9", "groove_diameter": "44", "ring": {"inside": "24.75 ±0.25", "section": "9 ±0.1"}}, "more than 50 % over the rod"),
    ("rod", ROD, {"rod": "17.55 ±0.06", "housing_bore": "17.7"}, {"rod": "17.55 ±0.05", "housing_bore": "17.7"}, "the ring lies clear of the rod"),
    # A face: walls that meet, an edge or a bore that is reached, at their worst limits.
    ("face", FACE, {"groove_width": "15.8 ±0.1", "groove_outside": "32 ±0.1", "corner_radius": "0.2"}, {"groove_width": "15.85 ±0.1", "groove_outside": "32 ±0.1"}, "both sides meet inside the outer wall (31.9 mm)"),
    ("face", INNER, {"groove_inside": "25 ±0.1", "hub_outside": "35.5 ±0.1"}, {"groove_inside": "25 ±0.1", "hub_outside": "35.4 ±0.1"}, "the groove reaches its outside (35.3 mm)"),
    ("face", FACE, {"groove_outside": "35 ±0.1", "hub_bore": "24.5 ±0.1"}, {"groove_outside": "35 ±0.1", "hub_bore": "24.6 ±0.1"}, "the groove reaches its bore (24.7 mm)"),
    # A ring that lies outside of the outer wall, or inside of the inner one, typed or by the width.
    ("face", FACE, {"groove_outside": "24.8 +0.01/-0.1"}, {"groove_outside": "24.7 +0.1/-0.1"}, "its inside (24.8 mm) is larger than the groove's outer wall"),
    ("face", INNER, {"groove_inside": "14.75 ±0.1"}, {"groove_inside": "14.5 ±0.1"}, "its inside (24.8 mm) is larger than the groove's outer wall"),
    ("face", INNER, {"groove_inside": "32.4 +0/-0.01"}, {"groove_inside": "32.5 ±0.1"}, "its outside (32.4 mm) is smaller than the inner wall"),
    ("face", FACE, {"groove_outside": "42.6 ±0.1"}, {"groove_outside": "42.7 ±0.1"}, "its outside (32.4 mm) is smaller than the inner wall"),
    ("face", {**FACE, "groove_width": None}, {"groove_outside": "24.9 +0/-0.2", "groove_inside": "20 ±0.3"}, {"groove_outside": "24.8 +0/-0.2", "groove_inside": "20 ±0.3"}, "its inside (24.8 mm) is larger than the groove's outer wall"),
    ("face", {**FACE, "groove_width": None}, {"groove_outside": "40", "groove_inside": "32.4 +0.3/-0.01"}, {"groove_outside": "40", "groove_inside": "32.5 +0.3/-0.1"}, "its outside (32.4 mm) is smaller than the inner wall"),
    # A mouth no wider than the ring at its thinnest; a middle the ring reaches.
    ("dovetail", DOVETAIL, {"mouth_width": "3.3 ±0.09"}, {"mouth_width": "3.3 ±0.1"}, "it won't be held"),
    ("dovetail", DOVETAIL, {"groove_middle": "24.75 ±0.06"}, {"groove_middle": "24.75 ±0.05"}, "the ring can't reach the groove's middle (24.75 mm)"),
    ("dovetail", DOVETAIL, {"groove_middle": "32.3 ±0.09"}, {"groove_middle": "32.3 ±0.1"}, "the ring can't reach the groove's middle (32.3 mm)"),
    ("triangular", CORNER, {"spigot": "37.75 ±0.05"}, {"spigot": "37.75 ±0.06"}, "stretched by more than 50 % over the spigot"),
    # Fluids that are gases, and what never moves.
    ("piston", PISTON, {"medium": "gas", "fluid": "nitrogen"}, {"fluid": "nitrogen"}, "nitrogen is a gas: its medium is gas"),
    ("piston", PISTON, {"medium": "vacuum", "fluid": "air"}, {"fluid": "steam"}, "steam is a gas: its medium is gas"),
    ("face", FACE, {}, {"duty": "reciprocating"}, "a gland in a face is static"),
    ("triangular", CORNER, {}, {"duty": "rotary"}, "a gland in a face is static"),
])
def test_what_cannot_be_begins_exactly_here(form: str, base: dict[str, Any], good: dict[str, Any], bad: dict[str, Any], says: str):
    assert faults(form, **{**base, **good}) == []
    (only,) = faults(form, **{**base, **bad})
    assert says in only


def test_a_ring_well_over_half_stretched_says_by_how_much():
    (said,) = faults("piston", **{**PISTON, "piston_diameter": "40.32", "bore": "41"})
    # 40.32 over 25.2 at its largest.
    assert "stretched by 60 % over the piston" in said


@pytest.mark.parametrize(("form", "ways", "says"), [
    ("piston", {"groove_diameter": None}, "groove_diameter: one of groove_diameter, gland_depth, groove_depth is due"),
    ("piston", {"gland_depth": "2.9"}, "gland_depth: one of groove_diameter, gland_depth, groove_depth is due"),
    ("rod", {"groove_depth": "2.9"}, "groove_depth: one of groove_diameter, gland_depth, groove_depth is due"),
    ("face", {"groove_outside": None, "groove_width": None}, "groove_outside: two of groove_outside, groove_inside, groove_width are due; none is given"),
    ("face", {"groove_width": None}, "groove_outside: two of groove_outside, groove_inside, groove_width are due; one more is missing"),
    ("face", {"groove_inside": "22"}, "groove_width: two of groove_outside, groove_inside, groove_width are due; all three are too many"),
])
def test_sizes_that_are_too_many_or_too_few(form: str, ways: dict[str, Any], says: str):
    base = {"piston": PISTON, "rod": ROD, "face": FACE}[form]
    assert says in faults(form, **{**base, **ways})[0]


@pytest.mark.parametrize(("form", "field", "good", "bad"), [
    ("piston", "swell", ("-0.3", "1"), ("-0.301", "1.001")), ("piston", "compression_set", ("0", "1"), ("-0.001", "1.001")),
    ("piston", "finish", ("0.001 um",), ("0 um", "-0.1 um")), ("face", "permeability", ("0 cm^2/(s*bar)",), ("-1e-9 cm^2/(s*bar)",)), ("piston", "safety_yield", ("1",), ("0.999",)),
    ("piston", "side_angle", ("0", "30"), ("-0.1", "30.1")), ("piston", "backup_rings", ("0", "2"), ("-1", "3")), ("piston", "backup_thickness", ("0",), ("-0.1",)),
    ("piston", "runout", ("0",), ("-0.01",)), ("rod", "guide_clearance", ("0",), ("-0.01",)), ("rod", "lead_in", ("0",), ("-0.01",)), ("rod", "lead_in_angle", ("15", "20"), ("25",)),
    ("face", "cover_gap", ("0",), ("-0.01",)), ("face", "bolt_preload", ("0 N",), ("-1 N",)), ("face", "bolt_factor", ("1",), ("0.99",)),
    ("dovetail", "undercut_angle", ("0", "45"), ("-0.1", "45.1")), ("dovetail", "corner_radius", ("0",), ("-0.1",)), ("dovetail", "edge_radius", ("0",), ("-0.1",)),
    ("piston", "corner_radius", ("0",), ("-0.1",)),
])
def test_a_field_takes_its_ends_and_no_more(form: str, field: str, good: tuple[str, ...], bad: tuple[str, ...]):
    for text in good:
        assert faults(form, **{field: text}) == [], text
    for text in bad:
        assert any(field in one for one in faults(form, **{field: text})), text


def test_what_isn_t_typed_is_taken_so():
    of = gland("piston")
    assert [levels(getattr(of, name)) for name in ("side_angle", "backup_rings", "runout", "safety_yield")] == [(0.0,), (0.0,), (0.0,), (1.0,)]
    assert (of.release_rated, of.lead_in_angle) == (False, "15")
    assert [getattr(of, name) for name in ("backup_thickness", "guide_clearance", "length", "shaft_bore")] == [None] * 4
    # 1.5 over what parts the cover, by practice.
    assert levels(gland("face").bolt_factor) == (1.5,)


# --- what is looked for ---------------------------------------------------------------------------


def dimensions(of: Feature, *states: State) -> dict[str, Any]:
    return {one.name: one for one in of.dimensions(States.of(states or (SHOP,)))}


NOTHING: dict[str, Any] = dict.fromkeys(("swell", "compression_set", "finish", "lead_in", "land", "hub_outside"))


def test_an_input_not_given_is_looked_for_as_far_as_one_can_be_typed():
    """Swell and set up to all of it, Ra 0.01 to 10 um, lengths as long as a shop cuts them."""
    gas = {"medium": "gas", "fluid": "air"}
    found = dimensions(gland("piston", **NOTHING, **gas, backup_rings="1"), HOT) | {
        "edge_radius": dimensions(gland("dovetail", edge_radius=None))["edge_radius"]}
    ends = {"swell": (0.0, 1.0), "compression_set": (0.0, 1.0), "finish": (0.01, 10.0), "backup_thickness": (0.01, 10.0), "lead_in": (0.01, 20.0), "land": (0.05, 50.0),
            "edge_radius": (0.0, 1.0), "permeability": (0.0, 1.0)}
    for name, search in ends.items():
        one = found[name]
        assert one.missing, name
        assert math.isnan(one.levels[0])
        assert (one.search, one.label) == (search, name.replace("_", " "))
    # A wall from a thousandth more than the bore, 31 H8, to twenty times it.
    assert found["hub_outside"].search == pytest.approx((31.039 * 1.001, 31.039 * 20.0))
    assert found["hub_outside"].missing
    assert not dimensions(gland("piston", **NOTHING), SHOP)["hub_outside"].missing
    assert "permeability" not in dimensions(gland("piston"))
    # A rod's is looked for around its groove, 31.54 +0.05/0.
    assert dimensions(gland("rod", hub_outside=None), HOT)["hub_outside"].search == pytest.approx((31.59 * 1.001, 31.59 * 20.0))
    assert dimensions(gland("rod", hub_outside=None, groove_diameter=None, gland_depth="3.17"), HOT)["hub_outside"].search[0] == pytest.approx(25.233 * 1.001)


def test_what_stands_for_nothing_is_no_gap():
    found = dimensions(gland("piston"), SHOP)
    assert (found["backup_thickness"].levels, found["backup_thickness"].missing) == ((0.0,), False)
    assert (found["shaft_bore"].levels, found["shaft_bore"].search, found["shaft_bore"].missing) == ((0.0,), (0.0, 0.0), False)
    assert found["ring_end"].levels == found["ring_end"].search == (0.0, 1.0)
    assert found["ring_end"].said(0.0) == "pushed away, thinned by the curve"
    assert found["ring_end"].said(1.0) == "pushed close, thinned at equal volume"
    assert not dimensions(gland("piston", backup_rings="?"))["backup_thickness"].missing


@pytest.mark.parametrize(("swell", "levels_", "share"), [
    ("0", (0.0,), (0.0,)), ("0.08", (0.08,), (0.0, 1.0)), ("0.04 to 0.1", (0.1,), (0.0, 1.0)), ("0 to 0.1", (0.1,), (0.0, 1.0)), ("-0.05 to 0", (-0.05,), (0.0, 1.0)),
    ("-0.05 to 0.1", (-0.05, 0.1), (0.0, 1.0)), ("-0.05 to -0.02", (-0.05, -0.02), (0.0, 1.0)),
])
def test_swell_is_known_by_its_ends(swell: str, levels_: tuple[float, ...], share: tuple[float, ...]):
    """Of one that only swells the most counts, since it begins without any; of one that may shrink both."""
    found = dimensions(gland("piston", swell=swell))
    assert (found["swell"].levels, found["swell_share"].levels) == (levels_, share)
    assert found["swell"].search == (-0.3, 1.0)


def test_the_highest_set_counts():
    found = dimensions(gland("piston", compression_set="0.1 to 0.25"))
    assert (found["compression_set"].levels, found["compression_set"].search) == ((0.25,), (0.0, 1.0))


def test_shares_vary_only_where_something_varies():
    spread = (0.0, 1.0)
    apart = State("apart", 40.0, 60.0)
    for state, names in ((SHOP, set()), (COLD, {"ring_expansion_share"}), (apart, {"ring_expansion_share", "ring_temperature_share"}), (State("p", pressure=1.0), {"pressure_share"}),
                         (State("fast", speed=5.0), {"speed_share"})):
        found = dimensions(gland("piston"), state)
        on = {name for name in ("ring_expansion_share", "ring_temperature_share", "pressure_share", "speed_share") if found[name].levels == spread}
        assert on == names
    # One source of FEPM's expansion is none at all: no scatter; FKM has two.
    assert dimensions(gland("piston", elastomer="EPDM 70", fluid="water"), COLD)["ring_expansion_share"].levels == (0.0,)


def test_a_cover_is_stiff_up_to_one_megapascal():
    below, above = (dimensions(gland("face", cover_gap=None, bolt_preload=None), State("s", pressure=p)) for p in (1.0, 1.001))
    assert (below["cover_gap"].levels, below["cover_gap"].missing) == ((0.0,), False)
    assert above["cover_gap"].missing
    assert above["cover_gap"].search == (0.0, 1.0)
    assert (above["bolt_preload"].missing, above["bolt_preload"].search) == (True, (1.0, 1e7))
    said = [" ".join(gland("face", **one).assumptions(States.of((SHOP,)))) for one in ({"cover_gap": None}, {"cover_gap": "0"})]
    assert "the cover lies flat on the face; above 1 MPa it isn't known and is asked" in said[0]
    assert "the cover" not in said[1]


def test_a_cover_of_unknown_bow_is_asked_above_that():
    for p, verdict in ((1.0, "pass"), (1.01, "not covered")):
        one = next(c for c in check(part("face", (State("s", pressure=p),), cover_gap=None)).features[0].checks if c.rule == "no creep into the gap")
        assert one.verdict == verdict
        assert not one.why_not or "how far the cover bows" in one.why_not


@pytest.mark.parametrize(("form", "field"), [("piston", "gland_depth"), ("piston", "groove_diameter"), ("piston", "groove_depth"), ("rod", "gland_depth"), ("rod", "groove_diameter"),
                                             ("rod", "groove_depth"), ("face", "gland_depth"), ("dovetail", "gland_depth"), ("triangular", "leg")])
@pytest.mark.parametrize("duty", ["static", "reciprocating"])
def test_a_size_is_looked_for_where_its_squeeze_is_allowed(form: str, field: str, duty: str):
    """What is near for an open size keeps the rules of squeeze by itself: in the middle of the duty's band."""
    if duty != "static" and form not in ("piston", "rod"):
        return
    changes: dict[str, Any] = {"duty": duty}
    if form in ("piston", "rod"):
        changes |= {"groove_diameter": None, "guide_clearance": "0"}
    of = part(form, (SHOP,), **{**changes, field: f"{gland(form, **({**changes, field: '3'} if field != 'groove_diameter' else {'duty': duty})).near(field):.6f}"})
    judged = {one.rule: one for one in check(of).features[0].checks}
    # Static 5 to 30 % (radial), 10 to 35 % (faces), moving 6 to 20 % and at most 16 % as made: within a fifth of the middle.
    low, high = judged["fresh squeeze, least"].limit, min(judged["fresh squeeze, most"].limit, judged["most squeeze"].limit + 0.03)
    assert abs(judged["fresh squeeze, least"].worst - (low + high) / 2.0) <= 0.2 * (high - low) + 0.02
    assert judged["fresh squeeze, least"].verdict == judged["fresh squeeze, most"].verdict == "pass"


def test_a_turning_shaft_is_looked_for_at_five_percent():
    """0 to 10 % allowed: depth 0.95 of 3.5 mm around a rod of 25."""
    of = gland("rod", ring=exact_ring(25.0, 3.5), rod="25", housing_bore="25.2", duty="rotary")
    assert of.near("gland_depth") == pytest.approx(3.325)
    assert of.near("groove_diameter") == pytest.approx(31.65)
    # Less half of what the housing stands off.
    assert of.near("groove_depth") == pytest.approx(3.225)
    assert of.near("bore") is None
    inner = gland("piston", ring=exact_ring(25.0, 3.5), bore="31 +0.04/0", piston_diameter="30.8 ±0.1", duty="rotary", groove_diameter="25")
    # The bore at its most.
    assert inner.near("groove_diameter") == pytest.approx(31.04 - 6.65)
    assert inner.near("groove_depth") == pytest.approx(3.325 - (31.04 - 30.8) / 2.0)


@pytest.mark.parametrize("form", ["piston", "rod", "face"])
def test_a_width_is_looked_for_at_forty_percent_more_than_the_ring(form: str):
    """As the published tables have it, and its backup rings besides."""
    ring = exact_ring(25.0 if form != "face" else 69.0, 3.5)
    assert gland(form, ring=ring).near("groove_width") == pytest.approx(4.9)
    assert gland(form, ring=ring, backup_rings="2", backup_thickness="1.1 to 1.2", groove_width="7").near("groove_width") == pytest.approx(7.3)
    assert gland(form, ring=ring, backup_rings="1", groove_width="7").near("groove_width") == pytest.approx(4.9)
    assert gland(form, ring=ring, backup_rings="?", backup_thickness="1.2", groove_width="7").near("groove_width") == pytest.approx(4.9)


def test_nothing_is_near_while_the_ring_is_open():
    for form in ("piston", "rod", "face", "dovetail", "triangular"):
        of = gland(form, ring="?")
        for field in ("gland_depth", "groove_diameter", "groove_width", "leg"):
            assert of.near(field) is None
    for form in ("piston", "rod"):
        assert gland(form, duty="?").near("groove_diameter") is None


# --- turning points of small rings -------------------------------------------------------------------


SMALL: dict[str, Any] = {"ring": {"inside": "2.90 ±0.13", "section": "1.78 ±0.08"}, "bore": "6.0 +0.02/0", "piston_diameter": "5.9 ±0.01", "groove_width": "2.6 ±0.1",
                         "corner_radius": "0.2 ±0.05", "hub_outside": "12", "lead_in": "3"}


@pytest.mark.parametrize(("field", "text"), [("groove_diameter", "2.98 ±0.08"), ("gland_depth", "1.51 ±0.04"), ("groove_depth", "1.46 ±0.04")])
def test_a_small_ring_s_turning_point_is_among_the_levels(field: str, text: str):
    """d Y'(x)/ID = 1/2 with Y' = 1.06 - 0.2 x: at 2.90 and 1.78 mm the seat 2.90 (1 + 0.01 (1.06 - 2.90/3.56)/0.2)."""
    of = gland("piston", **SMALL, **{"groove_diameter": None, field: text})
    found = dimensions(of)[field]
    low, high = levels(getattr(of, field))
    assert (found.levels[0], found.levels[-1]) == (low, high)
    assert list(found.levels) == sorted(set(found.levels))
    # Never more than some two dozen; what lies between two levels is below any rounding.
    assert 3 < len(found.levels) <= 2 * 16 + 2
    seat = 2.90 * (1.0 + 0.01 * (1.06 - 2.90 / 3.56) / 0.2)
    at = {"groove_diameter": [seat], "gland_depth": [(bore - seat) / 2.0 for bore in (6.0, 6.02)], "groove_depth": [(size - seat) / 2.0 for size in (5.89, 5.91)]}[field]
    for one in at:
        if low < one < high:
            assert min(abs(one - level) for level in found.levels) < 0.06 * (high - low)
    assert found.search == pytest.approx((0.5 * low, 2.0 * high))
    assert found.label == field.replace("_", " ")


def test_turning_points_of_all_rings_that_it_may_be():
    """For both ends of inside and section, cold to swollen (-3 to +8 %): x = (1.06 - ID/2d)/0.2 up to 3 %, (0.59 - ID/2d)/0.0092 above; every third of them, or so."""
    of = gland("piston", **SMALL, groove_diameter="3.05 ±0.35")
    seats = set()
    for inside in (2.77, 3.03):
        for section in (1.70, 1.86):
            slope = inside / (2.0 * section)
            for factor in np.linspace(0.97, 1.08, 12):
                for x, least, most in (((1.06 - slope) / 0.2, 0.0, 3.0), ((0.59 - slope) / 0.0092, 3.0, 25.0)):
                    if least <= x <= most:
                        seats.add(float(inside * factor) * (1.0 + 0.01 * x))
    inner = sorted(one for one in seats if 2.70 < one < 3.40)
    assert 48 <= len(inner) < 51
    assert dimensions(of)["groove_diameter"].levels == pytest.approx((2.70, *inner[::3], 3.40))


def test_a_large_ring_and_an_exact_groove_have_no_turning_point():
    assert dimensions(gland("piston"))["groove_diameter"].levels == levels(gland("piston").groove_diameter)
    assert dimensions(gland("piston", **SMALL, groove_diameter="2.98"))["groove_diameter"].levels == (2.98,)
    assert len(dimensions(gland("rod", ring=SMALL["ring"], rod="2.98 ±0.08", housing_bore="3.1", groove_diameter="6.1"))["rod"].levels) > 3
    open_ = gland("piston", **{**SMALL, "ring": "?"}, groove_diameter="2.98 ±0.08")
    assert dimensions(open_)["groove_diameter"].levels == levels(open_.groove_diameter)


def test_levels_of_a_shared_size_keep_its_key():
    from fits.sizes.notation import parse_size

    shared = replace(parse_size("2.98 ±0.08"), name="seat")
    assert dimensions(gland("piston", **SMALL, groove_diameter=shared))["groove_diameter"].shared == "sizes.seat"
    assert dimensions(gland("piston", **SMALL, groove_diameter="2.98 ±0.08"))["groove_diameter"].shared == ""


# --- sides and lands of a face ------------------------------------------------------------------------


def test_sides_and_lands_as_typed():
    """Two of: inside 61, outside 71.6, width 5.3."""
    d = {"groove_inside": np.array([[61.0]]), "groove_outside": np.array([[71.6]]), "groove_width": np.array([[5.3]]), "hub_outside": np.array([[80.0]]),
         "hub_bore": np.array([[58.0]]), "land": np.array([[9.0]])}
    sizes = {"groove_inside": "61", "groove_outside": "71.6", "groove_width": "5.3"}
    for left in sizes:
        of = gland("face", ring=exact_ring(64.0, 3.5), **{**sizes, left: None})
        assert [float(one[0, 0]) for one in of.sides(d)] == pytest.approx([61.0, 71.6, 5.3])
        assert float(of.width(d)[0, 0]) == pytest.approx(5.3)
    within = gland("face", ring=exact_ring(64.0, 3.5), groove_outside="71.6", hub_outside="80")
    assert float(within.land_width(d)[0, 0]) == pytest.approx(4.2)
    outer = gland("face", ring=exact_ring(64.0, 3.5), groove_outside="71.6", groove_width="5.3", pressure_side="outside", hub_bore="58")
    assert float(outer.land_width(d)[0, 0]) == pytest.approx(1.5)
    assert float(gland("face").land_width(d)[0, 0]) == 9.0
    walls = gland("face", groove_outside="71.6 +0.1/-0.3", groove_inside="61 +0.2/-0.5", groove_width=None).walls_apart
    assert (walls.lower, walls.upper) == pytest.approx(((71.3 - 61.2) / 2.0, (71.7 - 60.5) / 2.0))
    assert gland("face").walls_apart == gland("face").groove_width
