"""What every kind declares must be true: uses are complete, names exist, texts are there."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from fits.features.feature import Feature, State, States, declared, depends_on, numbers
from fits.features.fields import Numeric
from fits.features.kinds import KINDS, kind
from fits.features.part import Part
from fits.questions.evaluate import evaluate, key_of, relevant

FULL: dict[str, dict[str, Any]] = {
    "press": {
        "hole": "bearing 16", "shaft": "16.060/16.050", "shaft_bore": "12 ±0.05", "hub_outside": "32 ±0.1",
        "length": "40 ±0.5", "hub_material": "304", "shaft_material": "304", "friction_hold": "0.10 to 0.12",
        "friction_press": "0.15 to 0.20", "roughness_hole": "3 um", "roughness_shaft": "2 um", "axial_load": "800 N",
        "torque": "3 N*m", "interference_at_least": "0.001", "thrust_diameter": "15", "bore_after": "12 ±0.2",
        "press_rating": "30 kN", "joining_clearance": "0.02", "safety_yield": "1.2", "safety_slip": "1.4",
        "overspeed_factor": "1.1", "form_hole": "0.002", "form_shaft": "0.001", "gauge_uncertainty": "0.001",
        "heat_to": "150 degC", "chill_to": "-150 degC", "carry_time": "10 s", "coating_hole": "0.01", "coating_share": "0.5", "surroundings": "indoor",
        "cracking_stress": "200 MPa", "alternating": True, "port": "1/4 NPT", "port_distance": "40 ±0.1", "internal_clearance": "0.003 to 0.018",
    },
    "running": {
        "hole": "12 H7", "shaft": "12 f7", "shaft_bore": "6 ±0.1", "hub_outside": "20 ±0.1", "length": "30",
        "hub_material": "304", "shaft_material": "303", "clearance_at_least": "0.001", "clearance_at_most": "0.1",
        "safety_yield": "1.1", "form_hole": "0.002", "form_shaft": "0.001", "gauge_uncertainty": "0.001",
    },
}
FULL["bonded"] = {
    "hole": "16 H7", "shaft": "15.960/15.940", "shaft_bore": "12 ±0.05", "hub_outside": "32 ±0.1", "length": "40 ±0.5",
    "hub_material": "304", "shaft_material": "304", "axial_load": "800 N", "torque": "3 N*m",
    "gap_least": "0.02", "gap_most": "0.12", "bond_shear": "8 MPa", "bond_heat": "150 degC",
    "bond_strain": "0.2", "thrust_diameter": "15", "alternating": True, "form_hole": "0.002", "form_shaft": "0.001",
    "gauge_uncertainty": "0.001", "safety_yield": "1.1", "safety_bond": "2.5",
}
STATES = (State("shop"), State("hot", 80.0, 70.0, 8.0, 50.0), State("proof", 20.0, 20.0, 12.0, 0.0, True))


def full(name: str) -> Part:
    return Part("full", {"one": kind(name)(**FULL[name])}, STATES)


@pytest.mark.parametrize("name", KINDS)
def test_every_field_is_given_here(name: str):
    rest = set(declared(kind(name))) - set(FULL[name])
    assert rest <= {"assembly", "lubrication", "ends"}


@pytest.mark.parametrize("name", KINDS)
def test_every_name_that_data_mentions_exists(name: str):
    of = kind(name)
    states = States.of(STATES)
    feature = full(name).features["one"]
    computed = evaluate(full(name), "one").numbers
    values = {value.name for value in of.values}
    dimensions = {one.name for one in feature.dimensions(states)}
    inputs = {f"{part}_{what}" for part in ("hub", "shaft") for what in ("modulus", "strain", "yield", "density", "ultimate", "service")}
    for value in of.values:
        assert value.name in computed, value.name
        assert set(value.uses) <= values | dimensions | inputs | set(declared(of)) | {"speed"}, value.name
        assert set(value.inside) <= dimensions
    for rule in of.rules:
        assert rule.value in values
        assert rule.limit in values | set(declared(of)) or isinstance(rule.limit, float)
        assert set(rule.remedies) <= set(declared(of)) | set(numbers(of))
        assert rule.reason
        assert rule.action
        assert rule.source.text
    for relation in of.relations:
        assert {relation.smaller, relation.larger} <= set(numbers(of))
    for surface in of.surfaces:
        assert surface.dimension in declared(of)
        assert surface.value in values


@pytest.mark.parametrize("name", KINDS)
def test_texts_are_there(name: str):
    of = kind(name)
    for field in declared(of).values():
        assert field.help
        assert field.shown()
    for value in of.values:
        assert value.label
        assert value.equation
        assert value.source.text
    assert of.title
    assert of.example


@pytest.mark.parametrize("name", KINDS)
def test_values_depend_on_what_they_say(name: str):
    """Move each dimension by a little: only values that declare it may change."""
    part = full(name)
    of: type[Feature] = type(part.features["one"])
    before = evaluate(part, "one")
    for key, dimension in relevant(part, "one").items():
        low, high = min(dimension.levels), max(dimension.levels)
        moved = high + max(abs(high - low), abs(high), 1e-3) * 1e-3
        here = before.corners.get(key, np.array([[low]]))
        after = evaluate(part, "one", given={key: np.where(here == high, moved, here)}, corners=before.corners)
        for value in of.values:
            old, new = before.numbers[value.name], after.numbers[value.name]
            if not np.array_equal(np.broadcast_to(old, np.broadcast_shapes(old.shape, new.shape)), new, equal_nan=True):
                assert dimension.name in depends_on(of, value.name), f"{value.name} uses {dimension.name}"


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("part_of", ["hub", "shaft"])
@pytest.mark.parametrize("what", ["modulus", "strain", "yield", "density"])
def test_a_missing_property_reaches_only_what_says_so(name: str, part_of: str, what: str):
    """Take one property of one metal away: every NaN has a reason, every reason a user."""
    from dataclasses import replace

    part = full(name)
    feature = part.features["one"]
    of = type(feature)
    metal = getattr(feature, f"{part_of}_material")
    changes: dict[str, Any] = {
        "modulus": {"modulus_curve": None}, "strain": {"expansion": None},
        "yield": {"yield_minimum": None, "yield_typical": None}, "density": {"density": None},
    }[what]
    changed = feature.model_copy(update={f"{part_of}_material": replace(metal, **changes)})
    # evaluate itself raises when a NaN has no reason
    after = evaluate(Part("less", {"one": changed}, STATES), "one")
    before = evaluate(part, "one")
    for value in of.values:
        lost = np.isnan(after.numbers[value.name]).any() and not np.isnan(before.numbers[value.name]).any()
        own_reason = any(gap.about == value.name for gap in after.gaps)
        if lost and not own_reason:
            assert f"{part_of}_{what}" in depends_on(of, value.name)


@pytest.mark.parametrize("name", KINDS)
def test_options_are_the_fields(name: str, fits):
    ran = fits(name, "-h")
    assert ran.status == 0
    for field in declared(kind(name)):
        assert f"--{field.replace('_', '-')} " in ran.out


@pytest.mark.parametrize("name", KINDS)
def test_numeric_fields_have_a_search_range(name: str):
    feature = full(name).features["one"]
    for dimension in feature.dimensions(States.of(STATES)):
        low, high = dimension.search
        assert low <= high
        assert key_of("one", dimension)
    assert all(isinstance(kind_, Numeric) for _, kind_, _ in feature.numeric_fields())
