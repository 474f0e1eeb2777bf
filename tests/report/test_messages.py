"""Lines as a machinist reads them: no number that "in" makes inches of, units behind numbers, steps in the units asked for."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from conftest import ROOT

from fits import Part, Running, quantity
from fits.files.part import read_part
from fits.questions.answer import FAIL, PASS, CheckAnswer, FeatureAnswer
from fits.questions.check import check
from fits.report import rows, terminal
from fits.tables import Source

EXAMPLES = ["hand_pump", "water_sampler", "pump_plug", "lid"]


def failing(**more: object) -> CheckAnswer:
    one = CheckAnswer(
        "a rule", "v", "squeeze", "at most", "as made", 0.307, 0.3, "number", 3, -0.007, FAIL, "why it is", "what to do", Source("a test"),
    )
    return one._replace(**more)


def told(check_: CheckAnswer, units: str = "mm") -> str:
    ((headline, _),) = rows.to_do(FeatureAnswer("f", "gland", FAIL, checks=(check_,)), units)
    return headline


def test_the_state_of_a_plain_number_does_not_read_as_inches():
    assert told(failing()) == "a rule: squeeze 0.307 (as made), at most 0.300: 0.007 too much"
    said = told(failing(kind="length", worst=0.02, limit=0.0254, margin=-0.0054, sense="at least", digits=4, state="hot"), "in")
    assert said == "a rule: squeeze 0.00079 in (hot), at least 0.00100 in: 0.00021 in too little"


def test_a_number_that_fails_is_never_shown_as_its_limit():
    said = told(failing(label="depth in diameters", worst=5.9 / 5.912, limit=1.0, margin=5.9 / 5.912 - 1.0, sense="at least", digits=2))
    assert said == "a rule: depth in diameters 0.998 (as made), at least 1.000: 0.002 too little"
    hot = told(failing(kind="temperature", worst=80.04, limit=80.0, margin=-0.04, digits=0, state="hot"), "in")
    assert hot == "a rule: squeeze 176.1 degF (hot), at most 176.0 degF: 0.1 degF too much"
    # What holds, and what can't be told apart, keeps its digits.
    assert rows.check_row(failing(worst=0.2999999, margin=1e-7, verdict=PASS), "mm").worst == "0.300"
    assert rows.check_row(failing(worst=0.3, margin=-1e-12), "mm").worst == "0.300"


def test_a_value_on_a_limit_that_it_must_be_above_is_told_so():
    """A clearance of 0 binds: "0.0000 mm, at least 0.0000 mm: 0.0000 mm too little" tells nobody why."""
    on_it = failing(label="clearance", kind="length", worst=0.0, limit=0.0, margin=0.0, sense="at least", digits=4)
    assert told(on_it) == "a rule: clearance 0.0000 mm (as made), must be above 0.0000 mm"
    assert [rows.check_row(on_it._replace(margin=margin), "mm").relation for margin in (1e-10, -1e-10, -2e-9)] == ["above", "above", "at least"]
    assert rows.check_row(on_it._replace(verdict=PASS), "mm").relation == "at least"
    assert rows.check_row(on_it._replace(limit=0.1, margin=-0.1), "mm").relation == "at least"
    guide = Part("guide", {"guide": Running(hole="20 H7", shaft="20 h6")})
    screen = terminal.render(check(guide), units="mm", colour=False)
    assert "FAIL  never binds  0.0000 mm  >  0.0000 mm  shop" in screen


def test_a_label_that_ends_with_its_unit_gives_it_to_its_numbers():
    fast = failing(label="rubbing speed, m/s", worst=1.2, limit=1.016, margin=-0.184, digits=2)
    assert told(fast) == "a rule: rubbing speed 1.20 m/s (as made), at most 1.02 m/s: 0.18 m/s too much"
    row = rows.check_row(fast, "mm")
    assert (row.worst, row.limit, row.to_spare) == ("1.20 m/s", "1.02 m/s", "-0.18 m/s")
    # Only a plain number has its unit in its label.
    assert rows.check_row(failing(label="bore, m/s", kind="length"), "mm").worst == "0.307 mm"


def test_of_a_count_that_must_be_0_none_is_allowed():
    vented = failing(label="closed ends without a way out", worst=0.0, limit=0.0, margin=0.0, digits=0, verdict=PASS)
    row = rows.check_row(vented, "mm")
    assert (row.worst, row.relation, row.limit) == ("none", "", "none allowed")
    shut = vented._replace(worst=1.0, margin=-1.0, verdict=FAIL)
    assert told(shut) == "a rule: closed ends without a way out 1 (as made), none allowed"


def test_no_line_of_a_report_has_a_state_behind_in():
    """Nowhere "0.207 in as made": behind "in" stands nothing, a sign, or the end of a column."""
    for name in EXAMPLES:
        part = read_part(str(ROOT / "examples" / f"{name}.toml"))
        for units in ("mm", "in"):
            answer = check(replace(part, units=units))
            states = "|".join([*(re.escape(one.name) for one in answer.states), "as made", "assembly"])
            for feature in answer.features:
                for headline, _ in rows.to_do(feature, units):
                    assert not re.search(rf"\bin ({states})\b", headline), headline


@pytest.mark.parametrize("name", EXAMPLES)
def test_steps_stand_in_the_units_asked_for(name):
    part = read_part(str(ROOT / "examples" / f"{name}.toml"))
    metric, inch = (check(replace(part, units=units)) for units in ("mm", "in"))
    steps = {key: [step for one in of.features for step in one.plan] for key, of in (("mm", metric), ("in", inch))}
    assert len(steps["mm"]) == len(steps["in"])
    for one in steps["mm"]:
        assert not re.search(r"\d (psi|lbf|degF)\b", rows.step_text(one)), one
    for one in steps["in"]:
        # A drill is called by its size, a size in both units is the drawing's; 20 degC is where sizes hold.
        text = re.sub(r"drill [\d.]+ mm|[\d.]+ mm \(|20 degC", "", rows.step_text(one))
        assert not re.search(r"\d (mm|N|MPa|degC|um)\b", text), one


def test_a_step_has_the_same_force_in_both_units():
    part = read_part(str(ROOT / "examples" / "hand_pump.toml"))
    forces = {}
    for units, unit in (("mm", "N"), ("in", "lbf")):
        (step,) = (one for one in check(replace(part, units=units)).features[0].plan if one.do.startswith("press in"))
        forces[units] = [float(one) for one in re.findall(rf"to (\d+) {unit} at", step.range)]
    # 4.4482216152605 N are 1 lbf (NIST SP 811, exact).
    assert [one * 4.4482216152605 for one in forces["in"]] == pytest.approx(forces["mm"], abs=2.5)


def test_units_shown_end_with_the_block_that_asked_for_them():
    with quantity.shown_in("in"):
        assert quantity.show(25.4, "length", 3) == "1.0000 in"
        assert quantity.show(25.4, "length", 3, units="mm") == "25.400 mm"

    def fails() -> None:
        with quantity.shown_in("in"):
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fails()
    assert quantity.show(25.4, "length", 3) == "25.400 mm"


def test_what_was_given_is_shown_in_the_units_asked_for():
    newtons = 20 * 4.4482216152605
    assert rows.given_text(f"{newtons:.12g} N", "in") == "20 lbf"
    assert rows.given_text(f"{newtons:.12g} N", "mm") == "88.9644 N"
    assert rows.given_text("20 to 70 degC", "in") == "68 to 158 degF"
    assert rows.given_text("16.05/16.04 mm", "in") == "16.05/16.04 mm"
    assert rows.given_text("oiled", "in") == "oiled"


LONG = "a state of a very long name that no table of eighty columns has room for in one line"


@pytest.mark.parametrize("state", [LONG, "hot", "working hot under pressure"])
@pytest.mark.parametrize("verdict", ["fail", "not covered"])
def test_rules_fit_80_columns_whatever_a_state_is_called(state, verdict):
    checks = tuple(failing(rule=f"pressing can't crush the hub {index}", state=state, verdict=verdict, kind="pressure") for index in range(3))
    shown = terminal._checks(FeatureAnswer("f", "press", verdict, checks=checks), "mm")
    assert all(len(line) <= 80 for line in shown)
    text = " ".join(" ".join(shown).split())
    assert text.count(" ".join(state.split())) == 3
    assert text.count("0.307 MPa") == 3


def test_a_last_column_of_text_is_wrapped_below_itself():
    shown = terminal.columns([["liner", "rule", "word " * 20], ["plunger", "another", "short"], ["x", "y", ""]], "lll")
    assert [line.index("word") for line in shown if "word" in line] == [20, 20]
    assert shown[-2] == "  plunger  another  short"
    assert shown[-1].strip() == "x        y"


def test_a_first_column_too_long_for_the_screen_is_wrapped_and_the_numbers_stay_in_line():
    shown = terminal.columns([["", "least", "in"], ["a name " * 5, "1" * 20, "state"], ["short", "2" * 20, "another state " * 2]], "lrl")
    assert len(shown) == 4
    assert all(len(line) <= 80 for line in shown)
    assert shown[1].index("1" * 20) == shown[3].index("2" * 20)
    assert " ".join([shown[1].partition(" 1")[0].rstrip(), *shown[2].split()]) == "  " + " ".join(["a name"] * 5)
