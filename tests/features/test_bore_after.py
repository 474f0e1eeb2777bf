"""A bore wanted after fitting: an open one is looked for where the bore comes to lie."""

from __future__ import annotations

import numpy as np
import pytest

from fits.features.compound import Compound
from fits.features.fields import Undecided
from fits.features.part import Part, settled
from fits.features.press import Press
from fits.questions.evaluate import evaluate
from fits.questions.window import excluding, window
from fits.sizes.limits import Limits

ONE = Press(hole="26 H6", shaft="26.045/26.039", shaft_bore="20 ±0.02", hub_outside="60", hub_material="1045 normalised",
            shaft_material="17-4PH H1150", bore_after=Undecided(), roughness_hole=3.0, roughness_shaft=2.0)
TWO = Compound(layers="20 ±0.02, 26.045/26.039, 17-4PH H1150; 26 H6, 36.050/36.044, 1045 normalised; 36 H6, 60, 1045 normalised",
               bore_after=Undecided(), roughness_hole=3.0, roughness_shaft=2.0)


@pytest.mark.parametrize("feature", [ONE, TWO], ids=["press", "compound"])
def test_the_window_of_an_open_bore_after_fitting_tells_what_it_comes_to(feature):
    """No one size is both limits: the two rules exclude each other, at the sizes the bore comes to."""
    part = Part("liner", {"liner": feature})
    found = window(part, "liner.bore_after")
    assert not found.intervals
    lower, upper = excluding(found)
    closed = Part("liner", {"liner": settled(feature)})
    bore = evaluate(closed, "liner", values=["fitted_bore"]).numbers["fitted_bore"]
    assert (lower.rule, upper.rule) == ("bore after fitting, most", "bore after fitting, least")
    assert lower.intervals[0][0] == pytest.approx(bore.max(), abs=2e-4)
    assert upper.intervals[-1][1] == pytest.approx(bore.min(), abs=2e-4)
    assert lower.intervals[0][0] >= bore.max()
    assert upper.intervals[-1][1] <= bore.min()
    # 20 ±0.02 closes by some hundredths: nowhere near a search around 1 mm.
    assert 19.8 < bore.min() < bore.max() < 20.02


def test_a_rule_that_fails_everywhere_names_the_time_as_made_in_words():
    part = Part("liner", {"liner": ONE.model_copy(update={"bore_after": Limits(50.0, 50.1)})})
    found = window(part, "liner.bore_after", ways_out=False)
    assert found.no_window == "bore after fitting, least (liner, as made) fails whatever liner.bore_after is"


@pytest.mark.parametrize("feature", [ONE, TWO], ids=["press", "compound"])
def test_each_row_of_a_table_has_its_own_least_and_most(feature):
    """Limits along the lead, a row each, are not one size that stands for both ends."""
    part = Part("liner", {"liner": feature.model_copy(update={"bore_after": Limits(19.9, 20.0)})})
    rows = np.array([[[19.91], [19.97]], [[19.93], [19.95]]])
    of = ["bore_after_least", "bore_after_most"]
    found = evaluate(part, "liner", values=of, given={"liner.bore_after": rows}).numbers
    assert found["bore_after_least"].reshape(-1).tolist() == [19.91, 19.93]
    assert found["bore_after_most"].reshape(-1).tolist() == [19.97, 19.95]
    typed = evaluate(part, "liner", values=of).numbers
    assert [typed[name].reshape(-1).tolist() for name in of] == [[19.9], [20.0]]
