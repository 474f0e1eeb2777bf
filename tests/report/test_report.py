"""Writers: the same rows on the screen, in JSON and in CSV."""

from __future__ import annotations

import csv
import io
import json
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fits import quantity
from fits.files.part import read_part
from fits.questions.check import check
from fits.report import data, rows, terminal

PARTS = ["examples/hand_pump.toml", "examples/water_sampler.toml"]


@pytest.fixture(params=PARTS)
def answer(request, monkeypatch):
    from conftest import ROOT

    monkeypatch.chdir(ROOT)
    return check(read_part(request.param), workings=True)


def test_json_has_the_schema(answer):
    found = json.loads(data.to_json(answer))
    assert found["schema"] == "fits-report/1"
    assert list(found)[-5:] == ["verdict", "states", "features", "sources"][-5:] or "verdict" in found
    for feature in found["features"].values():
        assert {"kind", "verdict", "values", "checks", "refusals", "cautions", "plan", "published", "not_covered"} <= set(feature)
        for value in feature["values"].values():
            assert value["unit"] in {"mm", "MPa", "N", "N*m", "degC", "K", "1/K", "s", "rpm", "kg/m^3", "um", "1"}
            for span in value["states"].values():
                assert all(math.isfinite(number) for number in span.values())
                if len(span) == 2:
                    assert span["min"] <= span["max"]
        for one in feature["checks"]:
            assert {"rule", "value", "state", "unit", "verdict", "reason", "action", "source"} <= set(one)
            if "margin" in one:
                difference = one["worst"] - one["limit"]
                assert one["margin"] == pytest.approx(
                    difference if one["sense"] == "at least" else -difference, rel=1e-11, abs=1e-9)


def test_json_is_the_same_bytes_twice(answer):
    assert data.to_json(answer) == data.to_json(answer)
    assert "NaN" not in data.to_json(answer)
    assert "Infinity" not in data.to_json(answer)


def test_numbers_have_twelve_digits(answer):
    for number in re.findall(r"-?\d+\.\d+(?:e-?\d+)?", data.to_json(answer).split('"sources"')[0]):
        digits = re.sub(r"e.*", "", number).replace("-", "").replace(".", "").lstrip("0")
        assert len(digits) <= 12 or "°" in number


def said(answer) -> list[str]:
    """Every text that no writer may leave out."""
    texts = []
    for feature in answer.features:
        texts += [*feature.cautions, *feature.not_covered, *feature.not_asked, *feature.assumptions, *feature.refusals]
        texts += [check.rule for check in feature.checks]
        texts += [check.action for check in feature.checks if check.verdict == "fail"]
        texts += [text for check in feature.checks for text in (check.why_not, check.break_even) if text]
        texts += [text for step in feature.plan for text in (step.do, step.range, step.stop_if, step.caution) if text]
        texts += [size.text for size in feature.sizes]
    return texts + [str(source) for source in answer.sources]


def on_a_page(answer) -> str:
    """The text of the sheet."""
    from html import unescape

    from fits.report import sheet

    return unescape(re.sub(r"<[^>]+>", " ", sheet.render(answer)))


def in_a_notebook(answer) -> str:
    """The text of what a notebook shows."""
    from html import unescape

    return unescape(re.sub(r"<[^>]+>", " ", answer._replace(units="mm")._repr_html_()))


WRITERS = {
    "terminal": terminal.render,
    "json": lambda answer: json.dumps(json.loads(data.to_json(answer)), ensure_ascii=False).replace('\\"', '"'),
    "csv": lambda answer: " ".join(cell for row in csv.reader(io.StringIO(data.to_csv(answer))) for cell in row),
    "sheet": on_a_page,
    "notebook": in_a_notebook,
}


@pytest.mark.parametrize("writer", WRITERS)
def test_every_check_caution_and_source_is_in_each_writer(answer, writer):
    shown = " ".join(WRITERS[writer](answer).split())
    for text in said(answer):
        assert " ".join(text.split()) in shown


@pytest.mark.parametrize("writer", WRITERS)
def test_every_check_has_its_numbers_in_each_writer(answer, writer):
    """Worst, limit and margin: as the screen rounds them, or in full in the data.

    A row of the sheet has its unit once: behind the worst, where limit and margin have the same.
    """
    shown = " ".join(WRITERS[writer](answer).split())
    for feature in answer.features:
        for one in feature.checks:
            if writer in ("json", "csv"):
                wanted = [data.rounded(quantity.report_value(number, one.kind)) for number in (one.worst, one.limit, one.margin) if number is not None]
            else:
                row = rows.check_row(one, "mm")
                wanted = [row.worst, row.limit] + [row.to_spare] * (writer == "notebook")
                if writer == "sheet":
                    unit = "".join(row.worst.partition(" ")[1:])
                    cells = [row.worst, row.relation, *(text.removesuffix(unit) for text in (row.limit, row.to_spare))]
                    wanted = [" ".join(filter(None, cells))]
            assert all(str(text) in shown for text in wanted), one.rule


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_screen_fits_80_columns_and_cuts_no_number(answer, units):
    text = terminal.render(answer, units=units)
    for line in text.splitlines():
        assert len(line) <= 80 or " " not in line.strip() or "http" in line, line
    assert "…" not in text
    assert "\x1b" not in text


def test_the_verdict_leads(answer):
    first = terminal.render(answer).splitlines()[0]
    assert first.startswith({"pass": "PASS: ", "fail": "FAIL: "}[answer.verdict])


def test_colour_marks_verdict_words_only(answer):
    plain, coloured = terminal.render(answer), terminal.render(answer, colour=True)
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain
    assert set(re.findall(r"\x1b\[1;\d+m([A-Z ]+)\x1b", coloured)) <= {"PASS", "FAIL", "NOT COVERED", "REFUSED"}


class Stream:
    def __init__(self, tty: bool) -> None:
        self.tty = tty

    def isatty(self) -> bool:
        return self.tty


@pytest.mark.parametrize(("environment", "tty", "wanted"), [
    ({}, True, True), ({}, False, False), ({"NO_COLOR": "1"}, True, False), ({"FORCE_COLOR": "1"}, False, True),
    ({"TERM": "dumb"}, True, False), ({"NO_COLOR": "1", "FORCE_COLOR": "1"}, True, False),
])
def test_when_colour_is_wanted(monkeypatch, environment, tty, wanted):
    for name in ("NO_COLOR", "FORCE_COLOR", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert terminal.wants_colour(Stream(tty)) is wanted


@settings(max_examples=80)
@given(st.lists(st.lists(st.text("ab1 .", max_size=40), min_size=3, max_size=3), min_size=1, max_size=4))
def test_columns_keep_every_cell(rows):
    text = "\n".join(terminal.columns(rows, "lrl"))
    for row in rows:
        for cell in row:
            assert " ".join(cell.split()) in " ".join(text.split())


def test_units_of_the_screen_do_not_change_the_data(fits):
    metric = fits("check", PARTS[1], "--json", "--units", "mm")
    inch = fits("check", PARTS[1], "--json", "--units", "in")
    assert metric.json["features"] == inch.json["features"] or metric.json["features"]["tube"]["values"] == inch.json["features"]["tube"]["values"]
