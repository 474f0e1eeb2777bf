"""Rules with a number as their limit, judged on it and just beside it; what the values are shown as.

Sources of the numbers: a bearing is neither used nor heated above 120 degC (SKF, hot mounting of
bearings); a pin is held over at least its diameter (common practice); all others are 0, where a gap,
a wall or an interference ends.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from fits import quantity
from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.dowel import Dowel
from fits.features.feature import Feature, Rule, State, States
from fits.features.press import Press
from fits.features.running import Running
from fits.questions.evaluate import Evaluation
from fits.questions.judging import margins

KINDS: dict[str, type[Feature]] = {
    "press": Press, "compound": Compound, "bonded": Bonded, "running": Running, "dowel": Dowel,
}  # fmt: skip
STATES = (State("shop"), State("hot", 80.0, 70.0, 8.0, 50.0))
STEELS = {"hub_material": "304", "shaft_material": "304"}
LAYER = {"inside": "26 H7", "outside": "36", "material": "304"}
GIVEN: dict[str, dict[str, Any]] = {
    "press": {"hole": "16 H7", "shaft": "16 s6", "hub_outside": "32", **STEELS},
    "compound": {"layers": [{"outside": "26 s6", "material": "304"}, LAYER]},
    "bonded": {"hole": "16 H7", "shaft": "16 e7", "hub_outside": "32", **STEELS},
    "running": {"hole": "16 H7", "shaft": "16 f7"},
    "dowel": {"pin": "6 m6"},
}
# Kind, rule: value, sense, limit, whether a value on it is not enough.
NUMBERED = {
    ("press", "speed can't lift the hub"): ("overspeed_interference", "at least", 0.0, True),
    ("press", "port leaves a wall"): ("port_wall", "at least", 0.0, True),
    ("press", "bearing keeps clearance"): ("clearance_left", "at least", 0.0, False),
    ("press", "bearing is not overheated"): ("ring_temperature", "at most", 120.0, False),
    ("bonded", "never binds"): ("gap", "at least", 0.0, True),
    ("bonded", "load does not alternate"): ("alternating_demand", "at most", 0.0, False),
    ("running", "never binds"): ("clearance", "at least", 0.0, True),
    ("dowel", "pin stays tight"): ("interference", "at least", 0.0, True),
    ("dowel", "pin stays free"): ("clearance", "at least", 0.0, True),
    ("dowel", "both pins go in"): ("spare", "at least", 0.0, False),
    ("dowel", "air gets out"): ("trapped", "at most", 0.0, False),
    ("dowel", "pin is held deep enough"): ("engagement", "at least", 1.0, False),
    ("dowel", "nothing cracks with time"): ("cracking", "at most", 0.0, False),
    ("compound", "nothing cracks with time"): ("cracking", "at most", 0.0, False),
}
# A named limit that is 0 unless typed: parts that touch without pressing don't hold each other.
STRICT_AT_0 = {("press", "interference is kept"), ("compound", "interference is kept")}


def feature(kind: str) -> Feature:
    return KINDS[kind](**GIVEN[kind])


def judged(kind: str, rule: Rule, value: float, **limit: float) -> bool:
    """Whether a rule holds at a value (and a named limit), everything else aside."""
    states = States.of(STATES)
    column = np.full((1, len(states.names)), value)
    numbers = {rule.value: column, **{name: np.array([[one]]) for name, one in limit.items()}}
    of = margins(feature(kind), rule, Evaluation(feature(kind), states, numbers, (), {}, {}))
    assert of.failing.all() or of.holding.all()
    return bool(of.holding.all())


def rule_of(kind: str, name: str) -> Rule:
    return next(one for one in KINDS[kind].rules if one.name == name)


@pytest.mark.parametrize(("kind", "name"), NUMBERED)
def test_a_rule_turns_at_its_number(kind: str, name: str):
    value, sense, limit, above = NUMBERED[kind, name]
    rule = rule_of(kind, name)
    assert (rule.value, rule.sense) == (value, sense)
    good = 1.0 if sense == "at least" else -1.0
    assert judged(kind, rule, limit) is not above
    # A last binary digit (1e-9) is no failure; a hundredth of a micrometre is.
    assert judged(kind, rule, limit + good * 1e-5)
    assert not judged(kind, rule, limit - good * 1e-5)


def test_no_numbered_rule_is_left_out_here():
    found = {(kind, rule.name) for kind, of in KINDS.items() for rule in of.rules if isinstance(rule.limit, float)}
    assert found == set(NUMBERED)


@pytest.mark.parametrize(("kind", "name"), sorted(STRICT_AT_0))
def test_no_interference_is_none_to_keep(kind: str, name: str):
    rule = rule_of(kind, name)
    assert not judged(kind, rule, 0.0, interference_at_least=0.0)
    assert judged(kind, rule, 1e-5, interference_at_least=0.0)
    # One that was asked for is met on the limit itself.
    assert judged(kind, rule, 0.004, interference_at_least=0.004)
    assert not judged(kind, rule, 0.00399, interference_at_least=0.004)


def test_only_limits_of_0_are_strict():
    strict = {(kind, rule.name) for kind, of in KINDS.items() for rule in of.rules if rule.above}
    assert strict == STRICT_AT_0 | {key for key, one in NUMBERED.items() if one[3]}


# What stands on the sheet; all other values only carry a rule or its limit.
SHOWN = {
    "press": {
        "coating_closes", "interference", "effective_interference", "contact_pressure", "lift_pressure",
        "hub_hoop_at_hole", "hub_hoop_outside", "shaft_hoop_at_bore", "shaft_hoop_at_surface", "hub_von_mises",
        "shaft_von_mises", "contact_ceiling", "free_collapse", "axial_capacity", "torque_capacity", "slip_demand",
        "press_force", "push_out_force", "heat_hub_to", "chill_shaft_to", "joining_gap", "seconds_in_air",
        "seconds_in_hole", "permanent_loss", "plastic_depth", "plastic_share", "capacity_after_yield",
        "grip_after_yield", "bore_closure", "bore_in_state", "outside_growth", "outside_in_state",
        "release_temperature", "release_speed", "galvanic_difference", "port_wall", "raceway_change",
        "clearance_left",
    },
    "compound": {
        "interference", "joining_interference", "effective_interference", "contact_pressure", "axial_capacity",
        "torque_capacity", "hoop_inside", "hoop_outside", "von_mises", "bore_closure", "bore_in_state",
        "outside_growth", "heat_outer_to", "chill_inner_to",
    },
    "bonded": {
        "gap_as_made", "opens_by", "swells_by", "gap", "bond_pull", "bond_slide", "axial_capacity",
        "torque_capacity", "bond_demand", "bond_temperature", "hub_von_mises", "shaft_von_mises",
    },
    "running": {"clearance", "wall_growth", "wall_von_mises", "tube_von_mises", "collapse_allowed"},
    "dowel": {
        "pin", "tight_hole", "free_hole", "interference", "clearance", "plate_von_mises", "tight_reamer",
        "free_reamer", "mismatch", "spare",
    },
}  # fmt: skip
# Digits behind the point that aren't the usual ones of the kind of quantity.
DIGITS = {
    "press": {"hub_modulus": 0, "shaft_modulus": 0, "hub_strain": 6, "shaft_strain": 6, "seconds_in_hole": 1,
              "plastic_depth": 3, "grip_after_yield": 2, "galvanic_difference": 2, "galvanic_allowed": 2,
              "port_wall": 2},
    "compound": {},
    "bonded": {"alternating_demand": 0},
    "running": {},
    "dowel": {"trapped": 0, "engagement": 2},
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_what_stands_on_the_sheet_and_how_finely(kind: str):
    values = KINDS[kind].values
    assert {value.name for value in values if value.shown} == SHOWN[kind]
    for value in values:
        assert value.digits == DIGITS[kind].get(value.name, quantity.KINDS[value.kind].decimals), value.name


@pytest.mark.parametrize(("quantity_", "digits"), [
    ("length", 4), ("roughness", 2), ("temperature", 0), ("pressure", 1), ("force", 0), ("torque", 2),
    ("speed", 0), ("time", 0), ("number", 3),
])  # fmt: skip
def test_the_usual_digits(quantity_: str, digits: int):
    """A tenth of a micrometre, a tenth of a MPa, whole newtons and degrees."""
    assert quantity.usual(quantity_, None) == digits


def test_a_value_told_apart_by_a_layer_depends_on_which():
    assert {value.by for value in Compound.values} == {"", "interface", "layer"}
    for value in Compound.values:
        assert (value.by in value.uses) == bool(value.by)


def test_what_a_kind_says_of_itself():
    """Press and running fits are computed by columns; only a compound looks at what was left open."""
    assert {kind for kind, of in KINDS.items() if of.by_columns} == {"press", "running"}
    assert {kind for kind, of in KINDS.items() if of.faults_see_open} == {"compound"}
    assert {kind for kind, of in KINDS.items() if of.fit == "interference"} == {"press", "dowel"}
    assert {kind for kind, of in KINDS.items() if of.thumb is not None} == {"press"}
    # The trade's rule of thumb for a press fit: a thousandth of the diameter.
    assert Press.thumb is not None
    assert Press.thumb.per_diameter == 0.001


def test_what_of_a_dowel_is_measured_at_the_bench():
    made = {value.name for value in Dowel.values if value.when == ("as_made",)}
    assert made == {"pin", "tight_hole", "free_hole", "tight_reamer", "free_reamer", "trapped", "engagement"}
    aged = {"aged_temperature", "aged_temper_limit"}
    assert {value.when for value in Dowel.values if value.name in aged} == {("every state",)}
    assert {value.when for value in Dowel.values if value.name not in made | aged} == {("every state", "as_made")}


@pytest.mark.parametrize(("kind", "zero"), [("press", {"shaft_bore"}), ("bonded", {"shaft_bore"}), ("running", {"shaft_bore"}), ("dowel", set()), ("compound", set())])
def test_which_sizes_may_be_none(kind: str, zero: set[str]):
    from fits.features.feature import declared
    from fits.features.fields import Size

    sizes = {name: field for name, field in declared(KINDS[kind]).items() if isinstance(field, Size)}
    assert {name for name, field in sizes.items() if field.zero} == zero
    surfaces = {name for name, field in sizes.items() if field.on_surface}
    assert surfaces == ({"hole", "shaft"} if kind == "running" else set())
    # A size is shown to a tenth of a micrometre, a length to a micrometre.
    assert {field.digits for field in sizes.values()} <= {4}


def test_what_nobody_typed_is_taken_as():
    """Nothing to hold, no form error, no uncertainty; factors of common practice."""
    want = {
        "press": {"axial_load": 0.0, "torque": 0.0, "interference_at_least": 0.0, "form_hole": 0.0, "form_shaft": 0.0, "gauge_uncertainty": 0.0,
                  "safety_yield": 1.0, "safety_slip": 1.5, "overspeed_factor": 1.0},
        "compound": {"axial_load": 0.0, "torque": 0.0, "interference_at_least": 0.0, "safety_yield": 1.0, "safety_slip": 1.5},
        "bonded": {"axial_load": 0.0, "torque": 0.0, "form_hole": 0.0, "form_shaft": 0.0, "gauge_uncertainty": 0.0, "safety_yield": 1.0, "safety_bond": 2.0},
        "running": {"form_hole": 0.0, "form_shaft": 0.0, "gauge_uncertainty": 0.0, "safety_yield": 1.0},
        "dowel": {},
    }  # fmt: skip
    for kind, fields in want.items():
        found = {name: (one.low, one.high) for name in KINDS[kind].model_fields if hasattr(one := getattr(feature(kind), name), "high") and not hasattr(one, "tolerance")}
        assert found == {name: (number, number) for name, number in fields.items()}, kind
    assert not feature("press").alternating
    assert not feature("bonded").alternating
