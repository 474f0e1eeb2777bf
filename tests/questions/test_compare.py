"""Two reports held against each other: what changed in the inputs, and what that did."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from conftest import ROOT

from fits.files.part import read_part
from fits.questions.check import check
from fits.questions.compare import AS_BEFORE, BETTER, GONE, LESS, MORE, NEW, WORSE, compare
from fits.questions.reported import reported
from fits.report import comparison, data

PUMP = "examples/hand_pump.toml"
TEXT = (ROOT / PUMP).read_text(encoding="utf-8")


def changed(tmp_path: Path, *changes: tuple[str, str], name: str = "b.toml") -> str:
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return str(path)


def held(tmp_path: Path, *changes: tuple[str, str]):
    """The pump against the pump with changes."""
    sides = [reported(data.to_dict(check(read_part(path))), path) for path in (str(ROOT / PUMP), changed(tmp_path, *changes))]
    return compare(*sides)


def effects(found) -> dict[tuple[str, str], str]:
    return {(one.feature, one.rule): one.effect for one in found.rules}


def test_a_part_against_itself_and_its_stored_report(fits, tmp_path: Path):
    stored = tmp_path / "last_year.json"
    assert fits("check", PUMP, "--json", "-o", str(stored)).status == 0
    for a, b in ((PUMP, PUMP), (str(stored), PUMP), (PUMP, str(stored)), (str(stored), str(stored))):
        ran = fits("compare", a, b, "--json")
        assert ran.status == 0
        assert (ran.json["inputs"], ran.json["inputs_differ_unlisted"], ran.json["holds"]) == ([], False, True)
        assert {one["effect"] for one in ran.json["checks"]} == {"as before"}
        assert {one["margin_grew_by"] for one in ran.json["checks"]} == {0.0}
    assert "\n  nothing\n" in fits("compare", PUMP, str(stored)).out


def test_margins_are_those_of_both_checks(fits, tmp_path: Path):
    """What is said of each side is what fits check says of it."""
    other = changed(tmp_path, ("16.060/16.050", "16.062/16.055"))
    ran = fits("compare", PUMP, other, "--json")
    for side, path in (("before", PUMP), ("after", other)):
        whole = fits("check", path, "--json").json
        for one in ran.json["checks"]:
            (own,) = [check for check in whole["features"][one["feature"]]["checks"] if check["rule"] == one["rule"]]
            assert one[side]["margin"] == own["margin"]
            assert one[side]["verdict"] == own["verdict"]
    for one in ran.json["checks"]:
        assert one["margin_grew_by"] == pytest.approx(one["after"]["margin"] - one["before"]["margin"], rel=1e-9, abs=1e-9)
        if one["effect"] in ("less margin", "more margin"):
            assert (one["margin_grew_by"] < 0.0) is (one["effect"] == "less margin")


def test_more_interference_grips_more_and_strains_more(tmp_path: Path):
    """Lamé: pressure grows with interference, so grip gains and stresses lose."""
    found = effects(held(tmp_path, ("16.060/16.050", "16.061/16.052")))
    assert found["liner", "interference is kept"] == MORE
    assert found["liner", "holds its load"] == MORE
    assert found["liner", "hub stays elastic"] == LESS
    assert found["liner", "inner part stays elastic"] == LESS


@pytest.mark.parametrize(("changes", "where", "name", "ends"), [
    ([("16.060/16.050", "16.061/16.052")], "liner", "shaft", ("16.060/16.050 mm", "16.061/16.052 mm")),
    ([('"16 H6"', '"16 H7"')], "liner", "hole", ("16 H6 (16.011/16.000 mm)", "16 H7 (16.018/16.000 mm)")),
    ([('axial_load      = "800 N"\n', "")], "liner", "axial_load", ("800 N", "not given")),
    ([('"2 um"', '"2.5 um"')], "liner", "roughness_shaft", ("2 um Rz", "2.5 um Rz")),
    ([('"70 degC"', '"75 degC"')], "state working", "temperature", ("70 degC", "75 degC")),
    ([("proof       = true", "proof       = false")], "state proof", "proof", ("yes", "not given")),
    ([('pressure    = "8 MPa"', 'pressure    = "8 MPa"\nmedium = "water"')], "state working", "medium", ("not given", "water")),
    ([("[states.cold]", "[states.frost]")], "state cold", "state", ("given", "not given")),
    ([('revision = "B"', 'revision = "C"')], "part", "revision", ("B", "C")),
    ([('"1000 MPa"', '"990 MPa"')], "liner", "shaft_material", None),
    ([('family            = "steel"\n', "")], "liner", "shaft_material", None),
])
def test_each_input_that_changed_is_named(tmp_path: Path, changes, where, name, ends):
    found = held(tmp_path, *changes)
    (one,) = [change for change in found.inputs if (change.where, change.name) == (where, name)]
    assert not found.unseen
    if ends is not None:
        assert (comparison.shown(one.before, "mm"), comparison.shown(one.after, "mm")) == ends
    assert {change.where for change in found.inputs} <= {where, "plunger", "state frost"}


def test_of_a_typed_metal_only_what_changed_is_shown(fits, tmp_path: Path):
    ran = fits("compare", PUMP, changed(tmp_path, ('"1000 MPa"', '"990 MPa"')))
    said = " ".join(ran.out.split())
    assert "liner_bar (yield_strength 1000 MPa) -> liner_bar (yield_strength 990 MPa)" in said
    assert "density" not in said


def test_the_same_limits_written_otherwise_are_no_change(tmp_path: Path):
    found = held(tmp_path, ('"16 H6"', '"16.011/16.000"'), ('"12 ±0.02"', '"12 +0.02/-0.02"'), ('"8 MPa"', '"80 bar"'))
    assert found.inputs == ()
    assert set(effects(found).values()) == {AS_BEFORE}


def test_a_difference_that_no_list_shows_is_said(fits, tmp_path: Path):
    """The digest moves with everything that was given; a list may not."""
    whole = fits("check", PUMP, "--json").json
    other = {**whole, "inputs_sha256": "0" * 64}
    path = tmp_path / "other.json"
    path.write_text(json.dumps(other), encoding="utf-8")
    ran = fits("compare", PUMP, str(path), "--json")
    assert ran.json["inputs_differ_unlisted"] is True
    assert "doesn't list" in " ".join(fits("compare", PUMP, str(path)).out.split())


def test_a_table_whose_numbers_changed_is_named(fits, tmp_path: Path):
    whole = fits("check", PUMP, "--json").json
    table = next(iter(whole["tables"]))
    path = tmp_path / "other.json"
    path.write_text(json.dumps({**whole, "tables": {**whole["tables"], table: "0" * 12}}), encoding="utf-8")
    assert f"table {table}: its numbers are others" in fits("compare", str(path), PUMP).out


def test_what_gets_worse_says_why_and_what_to_do(fits, tmp_path: Path):
    other = changed(tmp_path, ("16.060/16.050", "16.080/16.070"))
    ran = fits("compare", PUMP, other)
    assert ran.status == 1
    assert ran.out.startswith("COMPARE: PASS -> FAIL\n")
    assert "liner: PASS -> FAIL" in ran.out
    assert "do:  less interference" in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())
    found = held(tmp_path, ("16.060/16.050", "16.080/16.070"))
    assert effects(found)["liner", "hub stays elastic"] == WORSE
    assert found.rules[0].effect == WORSE
    # What isn't covered has nothing to spare, whatever its number is.
    uncovered = [one for one in found.rules if one.after and one.after.verdict == "not covered"]
    assert uncovered
    assert all(one.difference is None for one in uncovered)


def test_the_way_back_is_better(fits, tmp_path: Path):
    worse = changed(tmp_path, ("16.060/16.050", "16.080/16.070"))
    ran = fits("compare", worse, PUMP, "--json")
    assert ran.status == 0
    assert {one["effect"] for one in ran.json["checks"]} <= {"better", "more margin", "less margin", "as before"}
    assert any(one["effect"] == "better" for one in ran.json["checks"])
    assert BETTER == "better"


def test_status_is_never_0_when_a_rule_is_lost(fits, tmp_path: Path):
    """A load that is left out makes everything hold: that is no better part."""
    ran = fits("compare", PUMP, changed(tmp_path, ('clearance_at_most  = "0.120"', "")), "--json")
    assert ran.json["verdict"] == "pass"
    assert (ran.status, ran.json["holds"]) == (1, False)
    assert ran.json["not_judged_any_more"] == ["plunger: most clearance"]
    ran = fits("compare", PUMP, changed(tmp_path, (TEXT[TEXT.index("[running.plunger]"):], "")), "--json")
    assert ran.json["not_judged_any_more"] == ["plunger"]
    assert ran.status == 1
    # The other way round rules are new, and hold.
    ran = fits("compare", changed(tmp_path, ('clearance_at_most  = "0.120"', "")), PUMP, "--json")
    assert ran.status == 0
    assert [one["rule"] for one in ran.json["checks"] if one["effect"] == NEW] == ["most clearance"]


def test_a_state_that_is_left_out_is_no_better_part(fits, tmp_path: Path):
    cold = '[states.cold]\ntemperature = "-20 degC"\n'
    assert cold in TEXT
    ran = fits("compare", PUMP, changed(tmp_path, (cold, "")))
    assert ran.status == 1
    assert "holds after the change, but not asked any more: state cold; of" in " ".join(ran.out.split())
    found = fits("compare", PUMP, changed(tmp_path, (cold, "")), "--json").json
    assert (found["not_judged_any_more"], found["holds"]) == (["state cold"], False)
    # Under another name it is asked; one more is no loss.
    renamed = changed(tmp_path, (cold, cold.replace("cold", "winter")))
    assert fits("compare", PUMP, renamed, "--json").json["not_judged_any_more"] == []
    more = changed(tmp_path, (cold, cold + cold.replace("cold", "winter").replace("-20", "-10")))
    assert fits("compare", PUMP, more).status == 0


def test_a_state_of_one_feature_that_is_left_out(fits, tmp_path: Path):
    own = '[states.working.plunger]\ntemperature = "75 degC"\n'
    with_own = changed(tmp_path, ("[materials.liner_bar]", f"{own}[materials.liner_bar]"))
    lost = fits("compare", with_own, PUMP, "--json").json["not_judged_any_more"]
    assert lost == []
    kept = Path(with_own).rename(tmp_path / "own.toml")
    dropped = changed(tmp_path, ('[states.cold]\ntemperature = "-20 degC"\n', ""), ("[materials.liner_bar]", f"{own}[materials.liner_bar]"))
    assert fits("compare", str(kept), dropped, "--json").json["not_judged_any_more"] == ["state cold", "plunger, state cold"]


def test_a_state_of_one_feature_under_another_name(fits, tmp_path: Path):
    """What the plunger alone has to survive counts by its own numbers on both sides."""
    own = '[states.working.plunger]\ntemperature = "75 degC"\n'
    text = TEXT.replace("[materials.liner_bar]", f"{own}[materials.liner_bar]")
    before, after, milder = (tmp_path / f"{one}.toml" for one in ("before", "after", "milder"))
    before.write_text(text, encoding="utf-8")
    after.write_text(text.replace("states.working", "states.busy"), encoding="utf-8")
    milder.write_text(text.replace("states.working", "states.busy").replace("75 degC", "74 degC"), encoding="utf-8")
    assert fits("compare", str(before), str(after), "--json").json["not_judged_any_more"] == []
    assert fits("compare", str(before), str(milder), "--json").json["not_judged_any_more"] == ["plunger, state working"]


def test_what_is_near_nothing_is_compared_by_itself():
    """A margin that grows from 0 to a millionth of a millionth has grown: the numbers tell how fine is alike, not a 1 that none of them is."""
    from fits.questions.compare import OTHER, RuleChange, _effect
    from fits.questions.reported import Check

    def rule(worst: float, limit: float | None = 0.0) -> Check:
        return Check(rule="r", state="s", sense="at least", unit="mm", verdict="pass", worst=worst, limit=limit, margin=None if limit is None else worst - limit)

    def effect(before: Check, after: Check) -> str:
        return _effect(RuleChange("f", "r", before, after, ""))

    assert effect(rule(0.0), rule(1e-12)) == MORE
    assert effect(rule(1e-12), rule(0.0)) == LESS
    assert effect(rule(1.0), rule(1.0 + 0.5e-9)) == AS_BEFORE
    assert effect(rule(1.0), rule(1.0 + 2e-9)) == MORE
    assert effect(rule(0.0, None), rule(0.0, None)) in (AS_BEFORE, OTHER)


def test_inputs_are_shown_in_the_units_of_the_part(fits, tmp_path: Path):
    ran = fits("compare", PUMP, changed(tmp_path, ('"800 N"', '"900 N"'), ('"3 um"', '"2 um Ra"')), "--units", "in")
    assert "liner, axial load: 179.847 lbf -> 202.328 lbf" in ran.out
    assert "liner, roughness hole: 118.11 uin Rz -> 78.7402 uin Ra" in ran.out


def test_status_1_when_nothing_got_worse_but_it_fails(fits):
    ran = fits("compare", "examples/water_sampler.toml", "examples/water_sampler.toml", "--json")
    assert {one["effect"] for one in ran.json["checks"]} == {"as before"}
    assert (ran.status, ran.json["verdict"]) == (1, "fail")


def test_refused_after_a_change(fits, tmp_path: Path):
    ran = fits("compare", PUMP, changed(tmp_path, ("proof       = true", 'proof       = true\nmedium = "air"')))
    assert ran.status == 1
    assert "liner: PASS -> REFUSED" in ran.out
    assert "proof test with gas" in ran.out
    assert GONE in ran.out
    assert re.search(r"-> -  PASS -> not asked$", ran.out, re.MULTILINE)


def test_all_writers_say_the_same(fits, tmp_path: Path):
    other = changed(tmp_path, ("16.060/16.050", "16.080/16.070"), ('"800 N"', '"900 N"'))
    screen, plain = fits("compare", PUMP, other).out, fits("compare", PUMP, other, "--json").json
    table = list(csv.DictReader(io.StringIO(fits("compare", PUMP, other, "--csv").out)))
    checks = [row for row in table if row["row"] == "check"]
    assert [(row["feature"], row["name"], row["effect"]) for row in checks] == [(one["feature"], one["rule"], one["effect"]) for one in plain["checks"]]
    assert [row["name"] for row in table if row["row"] == "input"] == [one["name"] for one in plain["inputs"]]
    for one in plain["checks"]:
        if one["effect"] != "as before":
            assert one["rule"] in screen
    words = " ".join(screen.split())
    for caution in plain["cautions"]:
        assert caution in words
        assert any(row["text"] == caution for row in table)


def test_inches_on_the_screen_and_the_same_data(fits, tmp_path: Path):
    other = changed(tmp_path, ('"70 degC"', '"75 degC"'))
    assert "158 degF -> 167 degF" in fits("compare", PUMP, other, "--units", "in").out
    assert fits("compare", PUMP, other, "--units", "in", "--json").json == fits("compare", PUMP, other, "--json").json


REPORT = '{"schema": "fits-report/1", "part": "p", "verdict": "pass", "states": {}, "features": %s}'
FEATURE = '{"a": {"kind": "press", "verdict": "pass", "checks": [%s], "refusals": [], "cautions": [], "not_covered": []}}'


@pytest.mark.parametrize(("text", "says"), [
    ("{", "b.json:1: not JSON"), ('{"a": NaN}', "NaN stands in it"), ("{}", "a report that fits check --json wrote is due"),
    ('{"schema": "fits-compare/1"}', "schema: a report that fits check --json wrote is due"), (REPORT % "{}", "nothing was judged in this one"),
    (REPORT % FEATURE % "", "nothing was judged"), (REPORT % FEATURE % "3", "features.a.checks.0"), (REPORT.replace('"pass"', '"good"') % FEATURE % "", "verdict: a report"),
    (REPORT % FEATURE % '{"rule": "r", "state": "s", "sense": "at least", "unit": "mm", "verdict": "pass", "margin": "1"}', "features.a.checks.0.margin"),
    (REPORT % FEATURE % '{"rule": "r", "state": "s", "sense": "at least", "unit": "mm", "verdict": "pass", "margin": 1e999}', "features.a.checks.0.margin"),
    ('{"a": ' + "[" * 100_000, "nested too deeply"), ('{"a": ' + "9" * 5000 + "}", "too long"), ("[1]", "a report that fits check --json wrote is due"), ("", "b.json:1: not JSON"), ("null", "a report that fits"),
])
def test_a_report_that_is_none(fits, tmp_path: Path, text: str, says: str):
    path = tmp_path / "b.json"
    path.write_text(text, encoding="utf-8")
    ran = fits("compare", PUMP, str(path))
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err, ran.err
    assert len(ran.err.splitlines()) == 1


def test_faults_of_both_sides_at_once(fits):
    ran = fits("compare", "none.toml", "nothing.json")
    assert (ran.status, len(ran.err.splitlines())) == (2, 2)
    assert "only one of the two can be standard input" in fits("compare", "-", "-").err
    assert "--json or --csv, not both" in fits("compare", PUMP, PUMP, "--json", "--csv").err


def test_through_the_real_entry_point_from_standard_input(process):
    ran = process("compare", PUMP, "-", input=TEXT.replace("16.060/16.050", "16.061/16.052"))
    assert (ran.status, ran.err) == (0, "")
    assert "16.060/16.050 mm -> 16.061/16.052 mm" in ran.out


def test_a_verdict_is_never_better_than_what_stands_in_the_report():
    """A report whose head says pass over a rule that fails is a fail."""
    check_text = '{"rule": "r", "state": "s", "sense": "at least", "unit": "mm", "verdict": "fail", "margin": -1.0}'
    found = reported(json.loads(REPORT % FEATURE % check_text), "b.json")
    assert found.worst == "fail"
    assert not compare(found, found).holds
