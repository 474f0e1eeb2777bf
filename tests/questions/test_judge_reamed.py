"""A reamed hole that was read: judged as a size, whatever its tools promised."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.errors import InputError
from fits.features.fields import Context
from fits.features.part import Part
from fits.features.reamed import Reamed
from fits.files import loader
from fits.questions.evaluate import evaluate
from fits.questions.judge import judge
from fits.questions.judgement import ACCEPT, REJECT, REWORK, UNDECIDED, PartJudgement
from fits.questions.measured import as_read
from fits.sizes.reading import Reading

HOLE: dict[str, Any] = {"hole": "10.015/10.000", "material": "6061-T6", "through": "true"}
COAT: dict[str, Any] = {"coating_hole": "0.010 to 0.012", "coating_share": "0.5", "order": "reamed first"}


def part(**more: Any) -> Part:
    return Part("test", {"pivot": loader.feature(Reamed, {**HOLE, **more}, Context())})


def read(value: float, doubt: float = 0.002, *, label: str = "pivot.hole", who: str = "a", **more: Any) -> Reading:
    return Reading(who, label, value, doubt, "bore gauge", more.pop("temperature", 20.0), **more)


def one(of: Part, *readings: Reading) -> PartJudgement:
    (found,) = judge(of, readings).parts
    return found


@given(st.floats(9.99, 10.025), st.floats(1e-4, 4e-3))
def test_verdicts_by_hand(size: float, doubt: float):
    found = one(part(), read(size, doubt))
    low, high = size - 10.0, 10.015 - size
    if min(low, high) >= doubt + 1e-8:
        assert (found.verdict, found.function) == (ACCEPT, "pass")
    elif high < -doubt - 1e-8:
        assert (found.verdict, found.function) == (REJECT, "fail")
    elif low < -doubt - 1e-8:
        # 2 x 0.004 leave room to cut and prove within 0.015.
        assert (found.verdict, found.function) == (REWORK, "fail")
    elif min(low, high) < doubt - 1e-8 and min(abs(low + doubt), abs(high + doubt)) > 1e-8:
        assert (found.verdict, found.function) == (UNDECIDED, UNDECIDED)


def test_it_rests_on_the_reading_and_on_no_tool():
    """The same with a reamer, trials and drill that would fail: they were used, and the hole is as it is."""
    bad = part(reamer="measured 10.012 mm", cuts_over="0.05", drill="9 mm", depth="200", wall="0.2")
    for size in (9.99, 10.007, 10.014, 10.02):
        assert one(bad, read(size))._replace(sizes=()) == one(part(), read(size))._replace(sizes=())
    notes = judge(bad, [read(10.007)]).notes
    assert "pivot: judged as it was cut; its tools, stock and gauges are for fits check" in notes


def test_warm_aluminium_is_corrected_with_its_metal():
    # 10 mm of 6061 (23.6e-6 1/K) 10 K warm, gauge at 20 degC: 2.4 um.
    found = one(part(), read(10.007, temperature=30.0, gauge_temperature=20.0))
    assert found.sizes[0].size.correction == pytest.approx(-0.00236, abs=5e-5)


def test_a_coat_that_comes_later_is_asked_for():
    with pytest.raises(InputError, match=r'"pivot.hole": coat or pressing changes this hole after the reamer: before or after that\?; write as_reamed or finished for hole'):
        judge(part(**COAT), [read(10.007)])
    assert one(part(**{**COAT, "order": "reamed last"}), read(10.007)).verdict == ACCEPT
    assert one(part(**COAT), read(10.007, label="pivot.finished")).verdict == ACCEPT


@given(st.floats(10.0, 10.04))
def test_a_coat_by_hand(size: float):
    # 2 x 0.5 x 0.010 to 0.012 closes it by 0.010 to 0.012: as reamed 10.012 to 10.025.
    found = one(part(**COAT), read(size, 0.001, label="pivot.as_reamed"))
    low, high = size - 10.012, 10.025 - size
    assert found.sizes[0].size.dimension.limits.lower == pytest.approx(10.012)
    assert found.sizes[0].size.dimension.limits.upper == pytest.approx(10.025)
    if min(low, high) > 0.001 + 1e-8:
        assert found.verdict == ACCEPT
    elif min(low, high) < 0.001 - 1e-8:
        assert found.verdict != ACCEPT


def test_an_order_not_said_is_not_covered():
    found = one(part(coating_hole="0.01", coating_share="0.5"), read(10.012, label="pivot.as_reamed"))
    assert (found.verdict, found.function) == (UNDECIDED, "not covered")
    assert any("final hole" in text for text in found.not_covered)


def test_hole_and_reamer_of_one_table():
    whole = part(reamer="measured 10.0076 ±0.002 mm")
    found = judge(whole, [read(10.007), read(10.009, label="pivot.reamer", who="r"), read(10.008, who="b"), read(10.009, label="pivot.reamer", who="b")])
    assert [(one.part, one.drawing) for one in found.parts] == [("a", "inside"), ("r", "undecided"), ("b", "undecided")]


@pytest.mark.parametrize(("label", "says"), [("pivot.hol", 'did you mean "hole"?'), ("pivot.xyz", "sizes of pivot: hole")])
def test_names_that_are_meant(label: str, says: str):
    with pytest.raises(InputError) as error:
        judge(part(), [read(10.0, label=label)])
    assert says in str(error.value)


@pytest.mark.parametrize("label", ["pivot.as_reamed", "pivot.finished"])
def test_every_number_says_what_it_uses(label: str):
    """Move each input: a value that changes must depend on it."""
    from fits.features.feature import depends_on

    of = as_read(part(**COAT, closes="0.001 to 0.002"), [label])
    kind, states = type(of.features["pivot"]), None
    plain = evaluate(of, "pivot").numbers
    for dimension in of.features["pivot"].dimensions(states):
        moved = evaluate(of, "pivot", given={f"pivot.{dimension.name}": np.array([[dimension.levels[0] + 0.1]])}).numbers
        for value in kind.values:
            if value.name in plain and not np.isclose(moved[value.name].max(), plain[value.name].max(), atol=1e-12):
                assert dimension.name in depends_on(kind, value.name), (value.name, dimension.name)


def test_a_body_with_a_reamed_hole_is_paired_by_both():
    """A body goes with a shaft only if its other hole, read too, holds."""
    from fits.features.running import Running
    from fits.questions.pair import pair

    guide = Running(hole="20.021/20.000", shaft="19.980/19.967", clearance_at_least=0.020, clearance_at_most=0.060)
    whole = Part("test", {**part().features, "guide": guide})
    shaft = Reading("s", "guide.shaft", 19.975, 0.001, "gauge", 20.0)
    for bore, pairs in ((10.007, 1), (10.03, 0)):
        found = pair(whole, [read(20.010, label="guide.hole"), read(bore), shaft])
        assert len(found.pairs) == pairs
    assert found.left[0].wants == ()


def test_on_the_command_line(fits, tmp_path):
    (tmp_path / "p.toml").write_text('name = "p"\n[reamed.pivot]\nhole = "10 H7"\nmaterial = "6061-T6"\n', encoding="utf-8")
    head = "part,feature.dimension,value,unit,uncertainty,instrument,temperature\n"
    (tmp_path / "m.csv").write_text(head + "a,pivot.hole,10.007,mm,0.002,bore gauge,20 degC\nb,pivot.hole,10.018,mm,0.002,bore gauge,20 degC\n", encoding="utf-8")
    ran = fits("judge", str(tmp_path / "p.toml"), str(tmp_path / "m.csv"))
    assert ran.status == 1
    assert "1 accept, 1 reject of 2: p" in ran.out
    assert "hole isn't too large" in ran.out
    paired = fits("pair", str(tmp_path / "p.toml"), str(tmp_path / "m.csv"))
    assert (paired.status, paired.out) == (2, "")
    assert paired.err == "no feature of this part is a hole and a shaft to be paired; fits judge takes its readings, size by size\n"
