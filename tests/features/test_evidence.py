"""A verdict that rests on a number from memory says so at its rule, in every writer."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

import pytest
from features.test_declarations import FULL, STATES, full

from fits import tables
from fits.features.evidence import weak
from fits.features.feature import State, States
from fits.features.part import Part
from fits.features.press import Press
from fits.features.running import Running
from fits.materials.metals import metal
from fits.questions.answer import Answer, CheckAnswer
from fits.questions.check import check
from fits.report.data import to_csv, to_json
from fits.report.notebook import html
from fits.report.sheet import render
from fits.report.terminal import render as screen

# Shown for the bench, judged by no rule.
NO_RULE = {"plug gauges for IT6"}
CLEAN = {"youngs_modulus": "207 GPa", "poisson": 0.292, "yield_strength": "350 MPa"}


def rule(answer: Answer, name: str) -> CheckAnswer:
    return next(one for one in answer.features[0].checks if one.rule == name)


def running(**more: Any) -> Answer:
    feature = Running(**{"hole": "12 H7", "shaft": "12 f7", "hub_outside": "30", "hub_material": CLEAN, "shaft_material": CLEAN, "clearance_at_least": "0.001", **more})
    return check(Part("one", {"one": feature}, (State("proof", 20.0, 20.0, 5.0, proof=True),)))


def test_metals_whose_yield_is_from_memory_say_so_and_others_do_not():
    names: dict[bool, list[str]] = {True: [], False: []}
    for row in tables.load("metals/metals").rows:
        if row["yield_minimum"]:
            remembered = bool({"yield", "all"} & set(row["memory"].split(";")))
            names[remembered].append(row["name"])
    assert names[True]
    assert names[False]
    for remembered, some in names.items():
        for name in some:
            found = rule(running(hub_material=name), "wall stands the pressure")
            assert any(one.text == f"yield of {name}" for one in found.memory) is remembered, name
            assert metal(name).yield_minimum is not None


def test_what_is_typed_or_seen_has_no_mark():
    answer = running()
    assert all(not one.memory for one in answer.features[0].checks)
    assert "from_memory" not in to_json(answer)
    assert "* rests" not in screen(answer)


def test_a_friction_from_memory_is_said_where_it_holds_and_not_where_it_was_typed():
    rows = [row for row in tables.load("friction").rows if row["evidence"] == "memory" and {row["first"], row["second"]} == {"aluminium", "steel"}]
    assert rows
    keys: dict[str, Any] = {
        "hole": "16 H7", "shaft": "16.04/16.03", "hub_outside": "40", "length": "20", "hub_material": {**CLEAN, "family": "aluminium"},
        "shaft_material": {**CLEAN, "family": "steel"}, "roughness_hole": "0 um", "roughness_shaft": "0 um", "axial_load": "10 N",
    }
    looked_up = check(Part("one", {"one": Press(**keys, assembly=rows[0]["assembly"], lubrication=rows[0]["lubrication"])}))
    typed = check(Part("one", {"one": Press(**keys, friction_hold="0.1", friction_press="0.1")}))
    assert any("friction" in one.text for one in rule(looked_up, "holds its load").memory)
    assert not any("friction" in one.text for one in rule(typed, "holds its load").memory)


@pytest.mark.parametrize("name", FULL)
def test_every_weak_source_of_a_report_stands_at_some_rule(name: str):
    part = full(name)
    answer = check(part)
    said = {source for one in answer.features[0].checks for source in one.memory}
    used = part.features["one"].used_sources(States.of(STATES))
    assert [str(one) for one in used if weak(one) and one not in said and one.text.partition(":")[0] not in NO_RULE] == []


@pytest.mark.parametrize("name", ["press", "gland piston", "running"])
def test_every_writer_says_it(name: str):
    answer = check(full(name))
    (feature,) = answer.features
    marked = [one for one in feature.checks if one.memory]
    assert marked
    data = json.loads(to_json(answer))["features"]["one"]["checks"]
    assert {one["rule"]: len(one["from_memory"]) for one in data if "from_memory" in one} == {one.rule: len(one.memory) for one in marked}
    table = [row for row in csv.DictReader(io.StringIO(to_csv(answer))) if row["row"] == "check"]
    assert {row["name"] for row in table if "from memory: " in row["text"]} == {one.rule for one in marked}
    shown = screen(answer)
    assert "* rests on what is from memory or doubtful" in shown
    page, notebook = render(answer), html(answer)
    for text in (page, notebook):
        assert "from memory" in text
        assert text.count("*</td>") + text.count("*<small>") >= len(marked)


def test_it_is_said_of_a_surface_that_a_feature_stands_on():
    liner = Press(hole="16 H7", shaft="16.04/16.03", shaft_bore="12 ±0.01", hub_outside="40", hub_material="6061-T6", shaft_material=CLEAN, roughness_hole="3 um", roughness_shaft="2 um")
    from fits.features.fields import SurfaceRef

    plunger = Running(hole=SurfaceRef("liner", "shaft_bore"), shaft="11.9", shaft_material=CLEAN, clearance_at_least="0.001")
    answer = check(Part("one", {"liner": liner, "plunger": plunger}, (State("shop"),)))
    found = next(one for one in answer.features[1].checks if one.rule == "least clearance")
    assert any("DIN 7190" in one.text for one in found.memory)


@pytest.mark.parametrize("question", [
    ("window", "{part}", "liner.shaft"), ("window", "{part}", "liner"), ("choose", "{part}", "liner"),
    ("judge", "{part}", "{table}"), ("pair", "{part}", "{table}", "--feature", "liner"), ("odds", "{part}", "--samples", "2000"),
])
def test_every_other_question_about_a_part_says_it_too(fits, question):
    """Rule for rule what the check of the part says, on the screen, as JSON and as CSV."""
    command = [one.format(part="examples/hand_pump.toml", table="examples/hand_pump.measured.csv") for one in question]
    whole = fits("check", "examples/hand_pump.toml", "--json").json["features"]
    marked = {
        (feature, one["rule"]): one["from_memory"] for feature, of in whole.items() for one in of["checks"] if "from_memory" in one
    }
    assert len(marked) > 10
    found = fits(*command, "--json").json
    if question[0] == "odds":
        said = {(feature, one["rule"]): one["from_memory"] for feature, of in found["features"].items() for one in of["checks"] if "from_memory" in one}
    else:
        said = {(one["feature"], one["rule"]): one["sources"] for one in found["from_memory"]}
    assert said == marked
    rows = list(csv.DictReader(io.StringIO(fits(*command, "--csv").out)))
    if question[0] == "odds":
        told = {(row["feature"], row["rule"]): row["from_memory"].split(" | ") for row in rows if row["from_memory"]}
    else:
        told = {}
        for row in rows:
            if row["row"] == "from memory":
                told.setdefault((row["feature"], row["name"]), []).append(row["source"])
    assert told == marked
    shown = " ".join(fits(*command).out.split())
    assert "ests on what is from memory or doubtful" in shown
    assert "DIN 7190:2001 ... (from memory)" in shown
