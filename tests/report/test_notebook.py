"""Every kind of result in a notebook: a table of whole HTML, and the same for pandas."""

from __future__ import annotations

import html5lib
import pytest
from conftest import ROOT
from pages import PUMP, Balance, rows_of

import fits
from fits.files.part import read_part
from fits.questions.compare import compare
from fits.questions.reported import reported
from fits.report import data

READINGS = str(ROOT / "examples" / "hand_pump.measured.csv")


@pytest.fixture(scope="module")
def results():
    part = read_part(PUMP)
    readings = fits.read_readings(READINGS)
    report = reported(data.to_dict(fits.check(part)), PUMP)
    plug = read_part(str(ROOT / "examples" / "pump_plug.toml"))
    return {
        "check": fits.check(part),
        "limits": fits.limits(["25 H7/g6", "40 P7"]),
        "warm": fits.warm_reading(101.6, fits.metal("6061-T6"), 35.0),
        "window": fits.window(part, "liner.shaft"),
        "fit window": fits.fit_window(part, "liner"),
        "choose": fits.choose(part, "plunger"),
        "options": fits.choose(plug, "seal"),
        "judge": fits.judge(part, readings),
        "pair": fits.pair(part, readings, feature="liner"),
        "odds": fits.odds(part, samples=1024),
        "compare": compare(report, report),
    }


NAMES = ["check", "limits", "warm", "window", "fit window", "choose", "options", "judge", "pair", "odds", "compare"]


@pytest.mark.parametrize("name", NAMES)
def test_every_result_is_a_table_of_whole_html(results, name):
    shown = results[name]._repr_html_()
    page = f"<!doctype html><html><head><title>x</title></head><body>{shown}</body></html>"
    html5lib.HTMLParser(strict=True).parse(page)
    assert Balance(page).faults == []
    assert "<table" in shown
    assert "<pre" not in shown
    assert any(row for row in rows_of(shown))
    for text in ("nan", "None", "inf<"):
        assert f">{text}" not in shown


@pytest.mark.parametrize("name", NAMES)
def test_every_result_is_a_frame(results, name):
    pytest.importorskip("pandas")
    frame = results[name].frame()
    assert len(frame) > 0
    assert len(frame.columns) > 1


def test_the_odds_say_that_they_are_no_proof(results):
    shown = results["odds"]._repr_html_()
    assert "no proof" in shown or "not a proof" in shown
    rules = {one.rule for one in results["odds"].rules}
    assert rules <= {cell for row in rows_of(shown) for cell in row}
    assert "every rule" in shown


def test_measured_parts_and_pairs_stand_with_their_verdicts(results):
    judged = rows_of(results["judge"]._repr_html_())
    for one in results["judge"].parts:
        assert any(one.part in row and one.verdict in row for row in judged)
    for one in results["pair"].pairs:
        assert f"{one.hole} with {one.shaft}" in results["pair"]._repr_html_()
    frame = results["judge"].frame()
    assert set(frame[frame["row"] == "judged"]["name"]) == {one.part for one in results["judge"].parts}


def test_an_answer_of_the_command_line_shows_the_same_table(results):
    answer = results["check"]._replace(judged=results["judge"])
    assert answer._repr_html_() == results["judge"]._repr_html_()
