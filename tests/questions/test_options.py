"""Which ring: what is refused, what can't be put in, limits that leave no room."""

from __future__ import annotations

import pytest
from glands import gland, part

from fits.errors import InputError
from fits.features.feature import State
from fits.features.part import Part
from fits.features.running import Running
from fits.questions import options as questions
from fits.questions.check import check
from fits.questions.choose import choose
from fits.questions.options import options


def test_what_has_nothing_to_choose_and_what_is_refused():
    guide = Part("p", {"guide": Running(hole="12 H7", shaft="12 f7", clearance_at_least="0.01")})
    with pytest.raises(InputError, match="nothing to choose"):
        options(guide, "guide")
    refused = options(part("piston", ring="?", medium="gas", fluid="oxygen"), "seal")
    assert (refused.tried, refused.fitting, refused.found, refused.window) == (0, 0, (), None)
    assert refused.notes[0].startswith("oxygen: ")
    whole = part("face", medium="oxygen", fluid=None)
    assert options(whole, "seal").notes == check(whole).features[0].refusals


def test_rings_without_room_are_passed_over():
    """In a bore of 2 mm the thick rings of the table leave no groove; that is no fault of the question."""
    tiny = choose(part("piston", ring="?", bore="2 H8", piston_diameter="2 f7", groove_diameter="?", hub_outside="16 ±0.1"), "seal")
    assert tiny.tried > 500
    assert tiny.found == ()
    huge = options(part("face", ring="?", groove_outside="2000 +0.2/0", gland_depth="?"), "seal")
    assert (huge.fitting, huge.found, huge.window) == (0, (), None)
    assert huge.notes == ("none of the table can be put in at all",)


def test_limits_that_can_not_be_written_are_none(monkeypatch):
    """Every window is less than 1 mm wide: no two whole millimetres lie in one."""
    seal = part("piston", ring="?")
    found = options(seal, "seal")
    assert found.found
    assert all(one.sizes[0].room < 1.0 for one in found.found)
    monkeypatch.setattr(questions, "STEP", 1.0)
    none = options(seal, "seal")
    assert (none.fitting, none.found) == (found.fitting, ())
    assert none.window is not None
    assert none.notes[0].startswith("the nearest is ")


def test_limits_to_go_on_with_where_no_rule_sets_an_end():
    """A tolerance of 4 % beside the end that is set, and never beyond the search."""
    assert questions._closed(10.0, 100.0, [10.0, None]) == pytest.approx((10.0, 10.4))
    assert questions._closed(10.0, 10.1, [10.0, None]) == (10.0, 10.1)
    assert questions._closed(10.0, 100.0, [None, 100.0]) == pytest.approx((96.0, 100.0))
    assert questions._closed(10.0, 100.0, [10.0, 100.0]) == (10.0, 100.0)


@pytest.mark.parametrize("field", ["groove_depth", "gland_depth"])
def test_a_ring_too_thick_for_a_piston_of_typed_depth_is_passed_over(field: str):
    """The depth that a thick ring would like leaves nothing of a piston of 31 mm."""
    found = options(part("piston", ring="?", groove_diameter=None, **{field: "3.1"}), "seal")
    assert found.tried > 500
    assert found.fitting > 0
    (fault,) = gland("piston", groove_diameter=None, **{field: "15.6"}).faults()
    assert (fault.key, fault.got) == (field, "15.6 mm")
    assert fault.must.startswith("so deep a groove leaves nothing of the piston, ")
    assert gland("piston", groove_diameter=None, **{field: "3.1"}).faults() == []


def test_a_depth_that_holds_lies_in_the_limits_found_for_it():
    sized = questions._sized(part("face", (State("shop"),)), "seal", "as it is", ("gland_depth",))
    assert sized is not None
    assert sized.sizes[0].low < 2.68 < sized.sizes[0].high
