"""What may vary beside the typed sizes: shares of what is known only as a range, and inputs left out.

A share goes from 0 to 1 where something is uncertain, and stands still where nothing is; an input
left out is NaN at first, and its break-even value is looked for where a shop would have it.
"""

from __future__ import annotations

from math import isnan
from typing import Any

import pytest
from joints import metal

from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.compound.layers_field import Layer, Layers
from fits.features.dowel import Dowel
from fits.features.feature import Dimension, Feature, State, States
from fits.features.press import Press
from fits.features.running import Running
from fits.materials.metals import Metal
from fits.sizes.limits import Limits

HUB = metal(71000.0, 0.33, expansion=23e-6, density=2710.0, least=260.0, name="hub")
INNER = metal(197000.0, 0.29, expansion=12e-6, density=7900.0, least=410.0, name="inner")
# Sources differ about this one.
SPREAD = Metal("spread", (90000.0, 100000.0), 0.3, 200.0, None, None, 8000.0, (1.1e-5, 1.2e-5), typed=frozenset({"expansion"}))
REST, PRESSED, TURNING = State("rest"), State("pressed", pressure=0.001), State("turning", speed=0.01)
BACKWARDS = State("backwards", speed=-5.0)

PRESS: dict[str, Any] = {"hole": "30 H7", "shaft": "30.09/30.06", "hub_outside": 52.0, "hub_material": HUB, "shaft_material": INNER}
BONDED: dict[str, Any] = {"hole": "31.08/31.02", "shaft": "30.92", "hub_outside": "57", "hub_material": HUB, "shaft_material": INNER}
RUNNING: dict[str, Any] = {"hole": "31.08/31.02", "shaft": "31"}


def layer(inside: tuple[float, float], outside: tuple[float, float], of: Metal) -> Layer:
    return Layer(Limits(*inside, inside[0]), Limits(*outside), of)


LAYERS: dict[str, Any] = {"layers": Layers((
    layer((17.0, 17.0), (26.03, 26.05), HUB), layer((26.0, 26.021), (35.08, 35.09), INNER),
    layer((35.0, 35.01), (58.0, 58.0), SPREAD),
))}  # fmt: skip


def found(kind: type[Feature], given: dict[str, Any], *states: State) -> dict[str, Dimension]:
    return {one.name: one for one in kind(**given).dimensions(States.of(states or (REST,)))}


MISSING = [
    pytest.param(Press, PRESS, {
        # Twice the greatest interference; a hundredth to a hundred diameters of length.
        "roughness_loss": (0.0, 0.18), "length": (0.3, 3000.0), "friction_hold": (1e-3, 1.0), "friction_press": (1e-3, 1.0),
        "cracking_stress": (1.0, 1e4)}, id="press"),
    pytest.param(Press, {**PRESS, "shaft": "30"}, {
        "roughness_loss": (0.0, 0.002), "length": (0.3, 3000.0), "friction_hold": (1e-3, 1.0), "friction_press": (1e-3, 1.0),
        "cracking_stress": (1.0, 1e4)}, id="press that is loose"),
    pytest.param(Press, {**PRESS, "roughness_hole": 1.0, "roughness_shaft": 0.0, "length": 40.0, "friction_hold": 0.1,
                         "friction_press": 0.1, "cracking_stress": 90.0}, {}, id="press, all typed"),
    pytest.param(Press, {**PRESS, "roughness_shaft": 1.0, "length": 40.0, "friction_press": 0.1, "cracking_stress": 90.0},
                 {"roughness_loss": (0.0, 0.18), "friction_hold": (1e-3, 1.0)}, id="press, half typed"),
    pytest.param(Compound, LAYERS, {
        # The greatest of both interferences is 0.09; the outermost interface is of 35 mm.
        "roughness_loss": (0.0, 0.18), "length": (0.35, 3500.0), "friction_hold": (1e-3, 1.0)}, id="compound"),
    # Layers that are all loose are searched as if they were tight by a micrometre.
    pytest.param(Compound, {"layers": Layers((layer((17.0, 17.0), (25.98, 25.99), HUB), layer((26.0, 26.021), (40.0, 40.0), INNER))), "length": 40.0, "roughness_hole": 2.0},
                 {"roughness_loss": (0.0, 0.002), "friction_hold": (1e-3, 1.0)}, id="compound that is loose"),
    pytest.param(Compound, {**LAYERS, "length": 40.0, "friction_hold": 0.1, "roughness_hole": 1.0, "roughness_shaft": 2.0}, {}, id="compound, all typed"),
    pytest.param(Bonded, BONDED, {
        "gap_least": (1e-4, 10.0), "gap_most": (1e-4, 10.0), "bond_shear": (1e-4, 1e4), "bond_heat": (-273.15, 1000.0),
        "bond_strain": (1e-6, 10.0), "length": (0.3105, 3105.0)}, id="bonded"),
    pytest.param(Bonded, {**BONDED, "gap_least": 0.02, "gap_most": 0.2, "bond_shear": 9.0, "bond_heat": 150.0, "bond_strain": 0.2, "length": 40.0},
                 {}, id="bonded, all typed"),
    pytest.param(Running, RUNNING, {"hub_outside": (31.08 * 1.001, 31.08 * 20.0)}, id="running"),
    pytest.param(Running, {**RUNNING, "hub_outside": "57"}, {}, id="running with its wall"),
    # No suggestion for a measured pin: 2 % about it, a hundredth to twenty times it for the wall.
    pytest.param(Dowel, {"pin": "7.91/7.89"}, {
        "tight_hole": (0.98 * 7.91, 1.02 * 7.91), "free_hole": (0.98 * 7.91, 1.02 * 7.91), "wall": (0.0791, 158.2),
        "spacing": (0.0, 1000.0), "spacing_error": (0.0, 0.5)}, id="dowel"),
    pytest.param(Dowel, {"pin": "7.9", "tight_hole": "7.89", "free_hole": "7.93", "wall": "5", "spacing": "60", "spacing_error": "0.01"},
                 {}, id="dowel, all typed"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "given", "want"), MISSING)
def test_where_what_was_not_typed_is_looked_for(kind: type[Feature], given: dict[str, Any], want: dict[str, tuple[float, float]]):
    missing = {name: one for name, one in found(kind, given, REST, PRESSED).items() if one.missing}
    assert set(missing) == set(want)
    for name, one in missing.items():
        assert one.search == pytest.approx(want[name], rel=1e-12), name
        # Nothing is taken off for a roughness that isn't known: the report says so.
        assert one.levels == (0.0,) if name == "roughness_loss" else isnan(one.levels[0]), name


def test_a_running_hole_at_rest_needs_no_wall():
    assert "hub_outside" not in found(Running, RUNNING, REST)


# The outermost layer is of the metal that sources differ about.
OF_LAYERS = {"layer_3_expansion_share", "layer_3_modulus_share"}
SHARES = [
    (Press, PRESS, {"friction_share"}),
    (Press, {**PRESS, "friction_hold": 0.1, "friction_press": 0.1}, set()),
    (Press, {**PRESS, "friction_hold": 0.1}, {"friction_share"}),
    (Press, {**PRESS, "friction_press": 0.1}, {"friction_share"}),
    (Press, {**PRESS, "friction_hold": 0.1, "friction_press": 0.12}, {"friction_share"}),
    (Press, {**PRESS, "roughness_hole": 0.1, "roughness_shaft": 0.0}, {"friction_share", "roughness_share"}),
    (Press, {**PRESS, "roughness_hole": 0.0, "roughness_shaft": 0.1}, {"friction_share", "roughness_share"}),
    (Press, {**PRESS, "roughness_hole": 0.0, "roughness_shaft": 0.0}, {"friction_share"}),
    (Press, {**PRESS, "roughness_hole": 1.0}, {"friction_share"}),
    (Press, {**PRESS, "hub_material": SPREAD}, {"friction_share", "hub_expansion_share", "hub_modulus_share"}),
    (Press, {**PRESS, "shaft_material": SPREAD}, {"friction_share", "shaft_expansion_share", "shaft_modulus_share"}),
    (Compound, LAYERS, OF_LAYERS),
    (Compound, {**LAYERS, "roughness_hole": 0.1, "roughness_shaft": 0.0}, {*OF_LAYERS, "roughness_share_1", "roughness_share_2"}),
    (Compound, {**LAYERS, "roughness_hole": 0.0, "roughness_shaft": 0.1}, {*OF_LAYERS, "roughness_share_1", "roughness_share_2"}),
    (Compound, {**LAYERS, "roughness_hole": 0.0, "roughness_shaft": 0.0}, OF_LAYERS),
    (Bonded, BONDED, set()),
    (Bonded, {**BONDED, "shaft_material": SPREAD}, {"shaft_expansion_share", "shaft_modulus_share"}),
    (Running, {**RUNNING, "hub_material": SPREAD}, {"hub_expansion_share", "hub_modulus_share"}),
    (Dowel, {"pin": "8 m6"}, {"band_share"}),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "given", "want"), SHARES, ids=range(len(SHARES)))
def test_a_share_varies_where_something_is_uncertain(kind: type[Feature], given: dict[str, Any], want: set[str]):
    shares = {name: one for name, one in found(kind, given).items() if "share" in name}
    assert {name for name, one in shares.items() if len(one.levels) > 1} == want
    for name, one in shares.items():
        assert one.levels == ((0.0, 1.0) if name in want else (0.0,)), name
        assert one.search == (0.0, 1.0)
        assert not one.missing


@pytest.mark.parametrize(("kind", "given"), [(Press, PRESS), (Compound, LAYERS), (Bonded, BONDED), (Running, RUNNING)])
def test_pressure_and_speed_are_of_the_whole_part_and_from_nothing_to_all(kind: type[Feature], given: dict[str, Any]):
    for states, want in (
        ((REST,), set()), ((REST, PRESSED), {"pressure_share"}), ((TURNING, REST), {"speed_share"}),
        ((BACKWARDS,), {"speed_share"}), ((TURNING, PRESSED), {"pressure_share", "speed_share"}),
    ):  # fmt: skip
        of = found(kind, given, *states)
        assert {name for name in ("pressure_share", "speed_share") if len(of[name].levels) > 1} == want
        assert (of["pressure_share"].shared, of["speed_share"].shared) == ("part.pressure", "part.speed")


@pytest.mark.parametrize(("given", "states", "levels"), [
    ({}, (REST,), (0.0,)),  # without pressure the ends take nothing
    ({}, (REST, PRESSED), (0.0, 1.0, 2.0, 3.0)),  # every one is tried
    ({"ends": "body"}, (REST,), (2.0,)), ({"ends": "liner"}, (PRESSED,), (1.0,)), ({"ends": "stuck"}, (REST,), (3.0,)),
])  # fmt: skip
def test_ends_that_may_be(given: dict[str, Any], states: tuple[State, ...], levels: tuple[float, ...]):
    ends = found(Press, {**PRESS, **given}, *states)["ends"]
    assert ends.levels == levels
    assert ends.search == (0.0, 3.0)
    assert [ends.said(level) for level in levels] == [("open", "liner", "body", "stuck")[int(level)] for level in levels]


def test_places_of_a_compound_are_told_apart_in_words():
    of = found(Compound, LAYERS)
    assert (of["interface"].levels, of["interface"].search, of["interface"].words) == ((0.0, 1.0), (0.0, 1.0), ("1-2", "2-3"))
    assert (of["layer"].levels, of["layer"].search, of["layer"].words) == ((0.0, 1.0, 2.0), (0.0, 2.0), ("1", "2", "3"))
    assert of["interface"].shared == of["layer"].shared == "compound.place"


@pytest.mark.parametrize(("kind", "given"), [(Press, {**PRESS, "shaft_bore": "17"}), (Compound, LAYERS)])
def test_the_bore_wanted_stands_in_the_middle_of_its_limits(kind: type[Feature], given: dict[str, Any]):
    wanted = found(kind, {**given, "bore_after": "17 +0.02/-0.06"})["bore_after"]
    assert sum(wanted.levels) / len(wanted.levels) == pytest.approx(16.98)
    assert wanted.search == pytest.approx((8.49, 33.96))


def test_slices_are_numbered_from_one_and_move_together():
    one = {"length": "15 ±0.5", "outside": "44"}
    of = found(Press, {**{k: v for k, v in PRESS.items() if k != "hub_outside"}, "slices": [one, {"length": "25", "outside": "52 ±0.1"}, one]})
    assert (of["slice"].levels, of["slice"].search) == ((0.0, 1.0, 2.0), (0.0, 2.0))
    assert of["slice"].words == ("1 of 3", "2 of 3", "3 of 3")
    assert of["slice_outside_share"].levels == of["slice_length_share"].levels == (0.0, 1.0)
    alone = found(Press, PRESS)
    assert (alone["slice"].levels, alone["slice"].search, alone["slice"].words) == ((0.0,), (0.0, 0.0), ("1 of 1",))
    assert alone["slice_outside_share"].levels == alone["slice_length_share"].levels == (0.0,)


@pytest.mark.parametrize(("exact", "form", "levels"), [
    ("30", "0.004", (29.996, 30.004)), ("30", "0", (30.0,)), ("30", "0.002 to 0.004", (29.996, 30.004)),
    ("30.02/30", "0.004", (30.0, 30.02)),  # limits contain their form error
])  # fmt: skip
def test_the_form_of_an_exact_size_counts_at_both_ends(exact: str, form: str, levels: tuple[float, ...]):
    assert found(Press, {**PRESS, "hole": exact, "form_hole": form})["hole"].levels == pytest.approx(levels)


@pytest.mark.parametrize(("form", "fault"), [("0.02", ""), ("0.0201", "limits contain the form error: at most 0.0200 mm here"), ("0.01 to 0.03", "")])
def test_form_beyond_the_limits_is_a_fault(form: str, fault: str):
    faults = Press(**{**PRESS, "hole": "30.02/30", "form_hole": form}).faults()
    assert [one.must for one in faults] == ([fault] if fault else [])
    assert Press(**{**PRESS, "hole": "30", "form_hole": form}).faults() == []


def test_a_state_of_which_nothing_is_said_is_the_shop():
    assert tuple(State("x")) == ("x", 20.0, 20.0, 0.0, 0.0, False, "", 0.0)


def test_an_offer_proves_nothing_by_itself():
    from fits.features.offer import Offer

    assert tuple(Offer("a", {}, 1.0, 2.0)) == ("a", {}, 1.0, 2.0, "", False)
