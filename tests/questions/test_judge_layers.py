"""Layers fitted into each other are read, judged and corrected for heat one by one."""

from __future__ import annotations

import glands
import pytest

from fits.errors import InputError
from fits.features.compound import Compound
from fits.features.part import Part
from fits.questions.judge import judge
from fits.questions.measured import dimension_of, measured, with_sizes
from fits.sizes.reading import Reading

LAYERS = "20 ±0.02, 26.045/26.039, 17-4PH H1150; 26 H6, 36.050/36.044, 1045 normalised; 36 H6, 60 ±0.1, 6061-T6"


def part() -> Part:
    return Part("pump", {"liner": Compound(layers=LAYERS, roughness_hole=3.0, roughness_shaft=2.0)})


def read(label: str, value: float, **more) -> Reading:
    return Reading("1", f"liner.layers.{label}", value, 0.001, "micrometer", more.pop("temperature", 20.0), place="", **more)


def test_a_layer_outside_its_drawing_is_turned_down_and_a_bore_bored_out():
    found = judge(part(), [read("1.outside", 26.055), read("2.inside", 25.995), read("2.outside", 36.047)])
    sizes = {one.size.dimension.label.removeprefix("liner.layers."): one for one in found.parts[0].sizes}
    assert sizes["2.outside"].cut is None
    # A tenth of a hundredth inside each limit proves it: 26.045 - 0.001 and 26.039 + 0.001.
    assert (sizes["1.outside"].cut.low, sizes["1.outside"].cut.high) == pytest.approx((26.040, 26.044))
    assert (sizes["2.inside"].cut.low, sizes["2.inside"].cut.high) == pytest.approx((26.001, 26.012))


def test_measured_layers_take_the_place_of_the_drawing():
    changed = with_sizes(part(), {"liner.layers.2.inside": (26.004, 26.005), "liner.layers.1.outside": (26.041, 26.042)})
    rings = changed.features["liner"].rings
    assert (rings[1].inside.lower, rings[1].inside.upper) == (26.004, 26.005)
    assert (rings[0].outside.lower, rings[0].outside.upper) == (26.041, 26.042)
    assert (rings[1].outside.lower, rings[2].outside.upper) == (36.044, 60.1)


def test_a_warm_layer_is_corrected_by_its_own_metal():
    """6061 grows by some 23.4e-6 1/K about room, steel by some 11e-6: 10 K on 36 mm are 8 and 4 um."""
    warm = {"temperature": 30.0, "gauge_temperature": 20.0}
    found = measured(part(), [read("3.inside", 36.010, **warm), read("2.outside", 36.047, **warm)])["1"]
    aluminium, steel = (found[f"liner.layers.{one}"] for one in ("3.inside", "2.outside"))
    assert aluminium.correction == pytest.approx(-36.0 * 23.4e-6 * 10.0, rel=0.05)
    assert steel.correction == pytest.approx(-36.0 * 11.3e-6 * 10.0, rel=0.08)
    assert dimension_of(part(), "liner.layers.1.outside").metal.name == "17-4PH H1150"


@pytest.mark.parametrize("label", ["4.inside", "1.middle", "0.inside"])
def test_a_layer_that_is_not_there_has_no_size(label: str):
    with pytest.raises(InputError, match=r"sizes of liner: .*layers\.3\.outside|did you mean"):
        dimension_of(part(), f"liner.layers.{label}")


def test_a_bought_rings_own_sizes_are_not_read():
    seal = Part("pump", {"seal": glands.gland("rod")})
    with pytest.raises(InputError, match=r"has no size ring\.section"):
        dimension_of(seal, "seal.ring.section")
