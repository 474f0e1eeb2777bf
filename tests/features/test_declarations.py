"""What every kind declares must be true: uses are complete, names exist, texts are there."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest

from fits.features.feature import Feature, State, States, declared, depends_on, numbers
from fits.features.fields import Numeric
from fits.features.kinds import KINDS, kind
from fits.features.part import Part
from fits.questions.evaluate import evaluate, key_of, relevant
from fits.questions.inputs import inputs_of

GLAND: dict[str, Any] = {
    "elastomer": "NBR 70", "duty": "static", "medium": "gas", "fluid": "air", "swell": "0 to 0.05", "permeability": "1e-8 cm^2/(s*bar)", "release_rated": "true",
    "compression_set": "0.2", "finish": "0.8 um", "hub_material": "304", "safety_yield": "1.2",
}
CUT: dict[str, Any] = {"land": "3 ±0.1", "side_angle": "2", "backup_rings": "1", "backup_thickness": "1.2"}
BORE: dict[str, Any] = {
    "runout": "0.02", "guide_clearance": "0.05", "length": "30", "lead_in": "5", "lead_in_angle": "20",
    "shaft_material": "304", "hub_outside": "45 ±0.2", "shaft_bore": "5 ±0.1",
}
COVER: dict[str, Any] = {"cover_gap": "0.02", "bolt_preload": "60 kN", "bolt_factor": "1.6"}
FULL: dict[str, dict[str, Any]] = {
    "press": {
        "hole": "bearing 16", "shaft": "16.060/16.050", "shaft_bore": "12 ±0.05", "hub_outside": "32 ±0.1",
        "length": "40 ±0.5", "hub_material": "304", "shaft_material": "304", "friction_hold": "0.10 to 0.12",
        "friction_press": "0.15 to 0.20", "roughness_hole": "3 um", "roughness_shaft": "2 um", "axial_load": "800 N",
        "torque": "3 N*m", "interference_at_least": "0.001", "thrust_diameter": "15", "bore_after": "12 ±0.2",
        "press_rating": "30 kN", "oven": "230 degC", "joining_clearance": "0.02", "safety_yield": "1.2", "safety_slip": "1.4",
        "overspeed_factor": "1.1", "form_hole": "0.002", "form_shaft": "0.001", "gauge_uncertainty": "0.001",
        "heat_to": "150 degC", "chill_to": "-150 degC", "carry_time": "10 s", "coating_hole": "0.01", "coating_share": "0.5", "surroundings": "indoor",
        "cracking_stress": "200 MPa", "alternating": "true", "port": "1/4 NPT", "port_distance": "40", "internal_clearance": "0.01",
    },
    "compound": {
        "layers": [
            {"inside": "20 ±0.02", "outside": "26.045/26.035", "material": "304"},
            {"inside": "26.005", "outside": "36.07", "material": "1045 HR", "finished": "outside"},
            {"inside": "36.005", "outside": "50.06", "material": "6061-T6"},
            {"inside": "50.01", "outside": "80", "material": "304"},
        ],
        "order": "1-2, 3-4, 2-3", "length": "40 ±0.5", "friction_hold": "0.10 to 0.12", "roughness_hole": "3 um",
        "roughness_shaft": "2 um", "axial_load": "800 N", "torque": "3 N*m", "interference_at_least": "0.001",
        "ends": "open", "bore_after": "20 ±0.2", "joining_clearance": "0.02", "safety_yield": "1.2", "safety_slip": "1.4",
    },
    "running": {
        "hole": "12 H7", "shaft": "12 f7", "shaft_bore": "6 ±0.1", "hub_outside": "20 ±0.1", "length": "30",
        "hub_material": "304", "shaft_material": "303", "clearance_at_least": "0.001", "clearance_at_most": "0.1",
        "safety_yield": "1.1", "form_hole": "0.002", "form_shaft": "0.001", "gauge_uncertainty": "0.001",
    },
    "reamed": {
        "hole": "10 H7", "depth": "20 ±0.2", "material": "304", "through": "false", "reamer": "measured 10.0125 ±0.0005",
        "cuts_over": "0.001 to 0.004", "drill": "9.7 mm", "drill_oversize": "0.02 to 0.10", "bored_to": "9.8 ±0.02", "wall": "5 ±0.2",
        "reamer_lead": "1 to 2", "runout_room": "4 to 5", "coating_hole": "0.001 to 0.002", "coating_share": "0.5 to 0.6", "closes": "0.001 to 0.002",
        "order": "reamed first", "gauge_class": "XX", "gauge_uncertainty": "0.001 to 0.002",
    },
    "dowel": {
        "pin": "6 m6", "tight_hole": "5.998/5.990", "free_hole": "6.030/6.018", "wall": "6 ±0.2", "tight_depth": "9 ±0.2", "tight_through": "false",
        "vent": "true", "second": "round", "spacing": "80 ±0.1", "spacing_error": "0.001 to 0.002", "pin_material": "303", "tight_material": "304",
        "free_material": "304",
    },
    "gland piston": {
        **GLAND, "ring": "AS568-214", "bore": "31 H8", "piston_diameter": "31 f7", "groove_diameter": "25.4 h9",
        "groove_width": "4.8 +0.2/0", "corner_radius": "0.4 ±0.1", **CUT, **BORE,
    },
    "gland rod": {
        **GLAND, "ring": "AS568-112", "rod": "12.7 f7", "housing_bore": "12.7 H8", "groove_diameter": "17.27 +0.03/0",
        "groove_width": "3.7 ±0.1", "corner_radius": "0.3 ±0.1", **CUT, **BORE,
    },
    "gland face": {
        **GLAND, "ring": "AS568-232", "pressure_side": "outside", "groove_inside": "70.2 -0.2/-0.4", "groove_width": "4.95 ±0.13",
        "gland_depth": "2.64 ±0.05", "corner_radius": "0.4 ±0.1", "hub_outside": "100 ±0.2", "hub_bore": "50 ±0.2", **CUT, **COVER,
    },
    "gland dovetail": {
        **GLAND, "ring": "AS568-232", "groove_middle": "73.1 ±0.1", "gland_depth": "2.845 ±0.025", "mouth_width": "2.92 ±0.05",
        "undercut_angle": "24", "corner_radius": "0.8 ±0.1", "edge_radius": "0.15 ±0.02", "land": "3 ±0.1", "hub_outside": "100 ±0.2", "pressure_side": "inside", **COVER,
    },
    "gland triangular": {
        **GLAND, "ring": "AS568-220", "spigot": "34.9 h8", "leg": "4.80 ±0.05", "pressure_side": "inside", **COVER,
    },
}
FULL["bonded"] = {
    "hole": "16 H7", "shaft": "15.960/15.940", "shaft_bore": "12 ±0.05", "hub_outside": "32 ±0.1", "length": "40 ±0.5",
    "hub_material": "304", "shaft_material": "304", "axial_load": "800 N", "torque": "3 N*m",
    "gap_least": "0.02", "gap_most": "0.12", "bond_shear": "8 MPa", "bond_heat": "150 degC",
    "bond_strain": "0.2", "thrust_diameter": "15", "alternating": "true", "form_hole": "0.002", "form_shaft": "0.001",
    "gauge_uncertainty": "0.001", "safety_yield": "1.1", "safety_bond": "2.5",
}
STATES = (State("shop"), State("hot", 80.0, 70.0, 8.0, 50.0), State("proof", 20.0, 20.0, 12.0, 0.0, True))


# A hub has one outside or several. Most sizes are exact: every limit doubles the corners.
FULL["press in slices"] = {name: value for name, value in FULL["press"].items() if name != "hub_outside"} | {
    "slices": [{"length": "15 ±0.5", "outside": "32 ±0.1"}, {"length": "25 ±0.5", "outside": "44 ±0.1"}],
    "shaft": "16.055", "shaft_bore": "12", "friction_hold": "0.10", "friction_press": "0.15",
    "port_distance": "40", "internal_clearance": "0.003",
}


def of_kind(name: str) -> type[Feature]:
    """A kind by its name, or the kind of a case such as "press in slices"."""
    return kind(name if name in KINDS else name.partition(" ")[0])


def full(name: str) -> Part:
    return Part("full", {"one": of_kind(name)(**FULL[name])}, STATES)


@pytest.mark.parametrize("name", KINDS)
def test_every_field_is_given_here(name: str):
    given = {field for case, fields in FULL.items() if of_kind(case) is kind(name) for field in fields}
    rest = set(declared(kind(name))) - given
    # Choices, and other ways to say the same size.
    assert rest <= {"assembly", "lubrication", "ends", "go_pin", "no_go_pin", "gland_depth", "groove_depth", "groove_outside"}


@pytest.mark.parametrize("name", FULL)
def test_every_name_that_data_mentions_exists(name: str):
    of = of_kind(name)
    states = States.of(STATES)
    feature = full(name).features["one"]
    computed = evaluate(full(name), "one").numbers
    values = {value.name for value in of.values}
    dimensions = {one.name for one in feature.dimensions(states)}
    properties = ("modulus", "strain", "yield", "density", "ultimate", "service")
    inputs = {*properties, *(f"{part}_{what}" for part in ("hub", "shaft", "pin", "tight", "free") for what in properties)}
    for value in of.values:
        assert value.name in computed, value.name
        assert set(value.uses) <= values | dimensions | inputs | set(declared(of)) | {"speed"}, value.name
        assert set(value.inside) <= dimensions
        assert value.by in {"", *(one.name for one in feature.dimensions(states) if one.words)}
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
        assert surface.dimension in set(declared(of)) | set(numbers(of))
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


@pytest.mark.parametrize("name", FULL)
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


@pytest.mark.parametrize("name", FULL)
def test_what_was_given_reads_as_it_was_given(name: str):
    """On the sheet and in JSON stand words and numbers, never how Python holds them."""
    said = inputs_of(full(name).features["one"])
    assert set(said) == set(FULL[name])
    for field, text in said.items():
        assert not re.search(r"\w=|[\[\]{}<>]|\w\(", text), (field, text)
        if isinstance(FULL[name][field], list):
            assert all(str(one) in text for each in FULL[name][field] for one in each.values())
    if "ring" in said:
        assert (said["ring"], said["elastomer"]) == (FULL[name]["ring"], FULL[name]["elastomer"])


def test_typed_rings_and_rubbers_show_what_was_typed():
    given = FULL["gland piston"] | {
        "ring": {"inside": "24.99 ±0.25", "section": "3.53 ±0.1"},
        "elastomer": {"based_on": "NBR 70", "tr10": "-38 degC", "expansion": "1.5e-4 to 1.6e-4 1/K"},
    }
    said = inputs_of(kind("gland piston")(**given))
    assert said["ring"] == "24.99 ±0.25 x 3.53 ±0.1"
    assert said["elastomer"] == "NBR 70 (expansion 0.00015 to 0.00016 1/K, tr10 -38 degC)"


def metals_of(feature: Feature) -> dict[str, Any]:
    """Hub and shaft, or the last and the first of some layers."""
    if "layers" in declared(type(feature)):
        return {"hub": feature.rings[-1].material, "shaft": feature.rings[0].material}
    return {part: getattr(feature, f"{part}_material", None) for part in ("hub", "shaft")}


def with_metal(feature: Feature, part_of: str, metal: Any) -> Feature:
    if "layers" not in declared(type(feature)):
        return feature.model_copy(update={f"{part_of}_material": metal})
    rings = list(feature.rings)
    at = {"hub": -1, "shaft": 0}[part_of]
    rings[at] = rings[at]._replace(material=metal)
    return feature.model_copy(update={"layers": feature.layers._replace(rings=tuple(rings))})


@pytest.mark.parametrize("name", FULL)
@pytest.mark.parametrize("part_of", ["hub", "shaft"])
@pytest.mark.parametrize("what", ["modulus", "strain", "yield", "density"])
def test_a_missing_property_reaches_only_what_says_so(name: str, part_of: str, what: str):
    """Take one property of one metal away: every NaN has a reason, every reason a user."""
    from dataclasses import replace

    part = full(name)
    feature = part.features["one"]
    of = type(feature)
    metal = metals_of(feature)[part_of]
    if metal is None:
        assert f"{part_of}_material" not in declared(of)
        return
    changes: dict[str, Any] = {
        "modulus": {"modulus_curve": None}, "strain": {"expansion": None},
        "yield": {"yield_minimum": None, "yield_typical": None}, "density": {"density": None},
    }[what]
    changed = with_metal(feature, part_of, replace(metal, **changes))
    # evaluate itself raises when a NaN has no reason
    after = evaluate(Part("less", {"one": changed}, STATES), "one")
    before = evaluate(part, "one")
    for value in of.values:
        lost = np.isnan(after.numbers[value.name]).any() and not np.isnan(before.numbers[value.name]).any()
        own_reason = any(gap.about == value.name for gap in after.gaps)
        if lost and not own_reason:
            assert {f"{part_of}_{what}", what} & depends_on(of, value.name)


@pytest.mark.parametrize("name", KINDS)
def test_options_are_the_fields(name: str, fits):
    ran = fits(*name.split(), "-h")
    assert ran.status == 0
    for field in declared(kind(name)):
        assert f"--{field.replace('_', '-')} " in ran.out


@pytest.mark.parametrize("name", FULL)
def test_numeric_fields_have_a_search_range(name: str):
    feature = full(name).features["one"]
    for dimension in feature.dimensions(States.of(STATES)):
        low, high = dimension.search
        assert low <= high
        assert key_of("one", dimension)
    assert all(isinstance(kind_, Numeric) for _, kind_, _ in feature.numeric_fields())
