"""The sheet: valid, self-contained, the same bytes twice, whole on paper, honest in every verdict."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from hashlib import sha256
from html import unescape
from itertools import pairwise
from pathlib import Path

import html5lib
import pytest
from conftest import ROOT
from pages import OPEN_POINTS, PUMP, REFUSED, SAMPLER, Balance, drawn, rows_of, squeezed, ten, whole_rows

from fits.files.part import read_part
from fits.questions.check import check
from fits.report import data, rows, sheet


@pytest.fixture(scope="module")
def answers(tmp_path_factory):
    folder = tmp_path_factory.mktemp("parts")
    paths = {"pass": PUMP, "fail": SAMPLER, "ten": ten(folder)}
    for name, text in (("not covered", OPEN_POINTS), ("refused", REFUSED)):
        path = folder / f"{name}.toml"
        path.write_text(text, encoding="utf-8")
        paths[name] = str(path)
    return {name: drawn(path) for name, path in paths.items()}


NAMES = ["pass", "fail", "ten", "not covered", "refused"]


@pytest.fixture(params=NAMES)
def answer(request, answers):
    return answers[request.param]


@pytest.fixture
def page(answer):
    return sheet.render(answer, units=answer.units)


def words(page: str) -> str:
    """What a reader sees, on one line."""
    body = re.sub(r"<(style|title|desc)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def test_it_is_valid_html(page):
    html5lib.HTMLParser(strict=True).parse(page)
    found = Balance(page)
    assert found.faults == []
    assert found.open == []
    assert len(found.ids) == len(set(found.ids))


def test_every_reference_is_on_the_page(page):
    found = Balance(page)
    wanted = [given["href"][1:] for _, given in found.tags if given.get("href", "").startswith("#")]
    assert wanted
    assert set(wanted) <= set(found.ids)


def test_it_loads_nothing_and_runs_nothing(page):
    for tag, given in Balance(page).tags:
        assert tag not in {"script", "link", "img", "iframe", "object", "embed", "base", "form", "use", "image"}
        assert not [name for name in given if name.startswith("on") or name in ("src", "srcset", "style")]
        assert given.get("href", "#").startswith("#")
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)[1]
    assert "url(" not in style
    assert "@import" not in style


def test_the_verdict_is_the_first_word(answer, page):
    assert words(page.partition("<body>")[2]).startswith(rows.VERDICT_WORDS[answer.verdict])


def test_a_verdict_is_always_a_word(answer, page):
    """Colour and frame only stand beside one."""
    for mark, word in re.findall(r'<b class="v ([a-z-]+)">([^<]*)</b>', page):
        assert word.lower().replace(" ", "-") == mark
    shown = words(page)
    assert all(f"{one.name} ({one.kind}) {rows.VERDICT_WORDS[one.verdict]}" in shown for one in answer.features)


def test_what_was_typed_stays_text(answers):
    page = sheet.render(answers["not covered"])
    assert "<b>&</b>" not in page
    assert 'cell <b>&</b> "rod" of 3 < 4 mm' in words(page)


def test_open_points_and_break_even_values_are_on_the_sheet(answers):
    shown = words(sheet.render(answers["not covered"]))
    open_ = [one for feature in answers["not covered"].features for one in feature.checks if one.why_not]
    assert open_
    for one in open_:
        assert one.why_not in shown
        assert one.break_even in shown


def test_a_refused_feature_shows_no_number_and_no_drawing(answers):
    page = sheet.render(answers["refused"])
    assert "<svg" not in page
    assert "<table" not in page
    assert "proof test with gas" in words(page)


def test_the_sizes_carry_limits_in_both_units_and_empty_boxes(answers):
    page = sheet.render(answers["pass"])
    # 16 H6: ISO 286 grade 6 over 10 to 18 mm is 11 um; 16.011 mm is 0.630354 in, 16 mm 0.629921 in.
    row = next(one for one in rows_of(page) if one[0] == "hole")
    assert row == ["hole", "16 H6", "16.011/16.000", "0.63035/0.62993", "", ""]
    for place in ("cut by", "measured by", "passed by", "signature", "gauges"):
        assert place in words(page)


def test_limits_are_rounded_into_the_zone(answers):
    for answer in answers.values():
        for feature in answer.features:
            for size, row in zip(feature.sizes, rows.size_rows(feature), strict=True):
                for text, factor in ((row.mm, 1.0), (row.inch, 25.4)):
                    ends = [float(end) * factor for end in text.split("/")]
                    if len(ends) == 2:
                        assert size.lower - 1e-9 <= ends[1] <= ends[0] <= size.upper + 1e-9


def test_the_same_bytes_twice_and_in_another_process(answers, process):
    assert sheet.render(answers["pass"]) == sheet.render(drawn(PUMP))
    import os

    runs = [process("sheet", "examples/hand_pump.toml", env={**os.environ, "PYTHONHASHSEED": seed}).out for seed in "12"]
    assert runs[0] == runs[1] == sheet.render(answers["pass"])


def test_its_digests_prove_the_answer(answers, fits):
    proof = dict(sheet.proof(answers["pass"], "mm"))
    printed = fits("check", "examples/hand_pump.toml", "--units", "mm", "--json").out
    (answer,) = (text for key, text in proof.items() if key.startswith("answer"))
    assert answer == sha256(printed.encode()).hexdigest()
    assert proof["inputs, SHA-256"] == json.loads(printed)["inputs_sha256"]
    table = (ROOT / "tables" / "iso286" / "tolerance_grades.csv").read_bytes()
    assert proof["table iso286/tolerance_grades"] == sha256(table).hexdigest()[:12]


@pytest.mark.parametrize(("old", "new"), [
    ('"16 H6"', '"16 H7"'), ('"800 N"', '"801 N"'), ('"70 degC"', '"71 degC"'), ('"1000 MPa"', '"1001 MPa"'), ('"B"', '"C"'),
    ('"6061-T6"', '"6082-T6"'), ("proof       = true", "proof       = false"),
])
def test_the_digest_of_the_inputs_moves_with_every_input(tmp_path, old, new):
    from pathlib import Path

    text = Path(PUMP).read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "changed.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    assert check(read_part(str(path))).inputs != check(read_part(PUMP)).inputs


def test_the_digest_of_the_inputs_does_not_move_with_what_is_shown(fits):
    digests = {fits("check", "examples/hand_pump.toml", "--json", "--units", units).json["inputs_sha256"] for units in ("mm", "in")}
    assert len(digests) == 1


# Each has the drawing of its sizes; one of each kind has charts (two of a press, one of the others).
@pytest.mark.parametrize(("mix", "charts"), [
    ((2, 8, 0), 2 + 1), ((5, 5, 0), 2 + 1), ((10, 0, 0), 2), ((0, 0, 10), 1), ((3, 3, 4), 2 + 1 + 1), ((4, 3, 3), 2 + 1 + 1),
])
def test_ten_features_of_no_two_sizes_are_at_most_60_kb(tmp_path, mix, charts):
    answer = drawn(ten(tmp_path, *mix))
    page = sheet.render(answer)
    assert len(answer.features) == 10
    assert page.count("<svg") == 10 + charts
    assert len(page.encode()) <= 60_000
    for feature in answer.features:
        assert all(row[1].startswith(one.rule) for row, one in zip(checks_of(page, feature.name), feature.checks, strict=True))


# A liner of 18 mm holds at least 2394 N: 1590 N times 1.5 leaves next to nothing, 1700 N nothing.
@pytest.mark.parametrize(("changes", "nearest"), [
    ({3: ("800 N", "1590 N")}, 3), ({3: ("800 N", "1590 N"), 5: ('roughness_hole = "3 um"\n', "")}, 5),
    ({3: ("800 N", "1700 N"), 5: ('roughness_hole = "3 um"\n', "")}, 3), ({8: ("800 N", "8000 N"), 2: ("800 N", "1590 N")}, 8),
])
def test_a_long_page_has_the_charts_of_the_one_nearest_a_limit(tmp_path, changes, nearest):
    path = Path(ten(tmp_path, 8, 0, 0))
    head, *liners = path.read_text(encoding="utf-8").split("[press.")
    for number, (old, new) in changes.items():
        assert old in liners[number - 1]
        liners[number - 1] = liners[number - 1].replace(old, new)
    path.write_text("[press.".join([head, *liners]), encoding="utf-8")
    page = sheet.render(drawn(str(path)))
    for number in range(1, 9):
        section = page.partition(f"<section id=f{number}>")[2].partition("</section>")[0]
        told = f"<p>Charts: see <a href=#f{nearest}>liner_{nearest}</a>, the one nearest a limit."
        assert (told in section) is (number != nearest)
        assert section.count("<svg") == (3 if number == nearest else 1)


def test_a_page_of_few_has_charts_of_each_and_kinds_have_their_own(tmp_path):
    page = sheet.render(drawn(ten(tmp_path, 4, 3, 0)))
    assert page.count("<svg") == 4 * 3 + 3 * 2
    assert "Charts: see" not in page
    page = sheet.render(drawn(ten(tmp_path, 4, 4, 0)))
    assert page.count(", the one nearest a limit.") == 3 + 3


def test_features_that_have_no_charts_point_nowhere(tmp_path):
    holes = "".join(f'[reamed.pin_{number}]\nhole = "6 H7"\nmaterial = "6061-T6"\n' for number in range(8))
    path = tmp_path / "holes.toml"
    path.write_text(holes, encoding="utf-8")
    assert "Charts: see" not in sheet.render(drawn(str(path)))


@pytest.mark.parametrize("mix", [(2, 8, 0), (5, 5, 0), (10, 0, 0), (0, 0, 10)])
def test_ten_features_that_are_alike_are_at_most_60_kb_and_keep_every_row(tmp_path, mix):
    """Drawings and words of steps stand once; verdicts, numbers, rows and boxes stand for each."""
    answer = drawn(ten(tmp_path, *mix, alike=True))
    page = sheet.render(answer)
    assert len(page.encode()) <= 60_000
    assert "Drawn as for" in page
    shown = words(page)
    for feature in answer.features:
        found = checks_of(page, feature.name)
        assert [row[0] for row in found] == [rows.VERDICT_WORDS[one.verdict] for one in feature.checks]
        for step in feature.plan:
            assert step.caution in shown
    assert len(rows_of(page)) == sum(
        len(one.sizes) + len(one.checks) + len(rows.bench_values(one)) for one in answer.features
    )
    assert page.count("<ol>") == sum(bool(one.plan) for one in answer.features) + 1


def checks_of(page: str, feature: str) -> list[list[str]]:
    """The rows of the rules of one feature, as the page has them."""
    section = next(one for one in page.split("<section")[1:] if f"<h2>{feature} <small>" in one)
    return rows_of(section.partition('<table class=c>')[2].partition("</table>")[0] + "</table>")


def test_a_step_in_short_says_where_its_words_are_and_keeps_its_own_numbers(tmp_path):
    page = words(sheet.render(drawn(ten(tmp_path))))
    assert "deburr: all as step 1 of liner_1" in page
    second = page.partition("liner_2 (press)")[2]
    assert re.search(r"press in square, as step 3 of liner_1: \d+ to \d+ N at 1/4", second)
    assert re.search(r"Stop if the force passes \d+ N", second)


def test_workings_come_when_asked(answers):
    plain = words(sheet.render(answers["pass"]))
    assert "Numbers for the bench" in plain
    assert "force to press in 5330 to 8261 N" in plain
    assert "Values, over all states" not in plain
    shown = words(sheet.render(drawn(PUMP, workings=True)))
    assert "Values, over all states" in shown
    assert "hub hoop outside" in shown


def colours(style: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z]+):(#[0-9a-f]{3,6})", style))


def luminance(colour: str) -> float:
    """Relative luminance of a colour (W3C, WCAG 2.2, 'relative luminance')."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * one for one in colour[1:])
    parts = [int(digits[i : i + 2], 16) / 255.0 for i in (0, 2, 4)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_in_light_and_dark(answers):
    """WCAG 2.2, success criterion 1.4.3: text at least 4.5 : 1; 1.4.11: lines at least 3 : 1."""
    style = re.search(r"<style>(.*?)</style>", sheet.render(answers["pass"]), re.DOTALL)[1]
    light = colours(style.split("@media")[0])
    dark = {**light, **colours(re.search(r"prefers-color-scheme:dark\)\{(.*?)\}\}", style)[1])}
    assert contrast("#fff", "#000") == pytest.approx(21.0)
    assert light != dark
    for theme in (light, dark):
        for name in ("ink", "pass", "fail", "open", "refuse"):
            assert contrast(theme[name], theme["paper"]) >= 4.5, name
            assert contrast(theme[name], theme["soft"]) >= 4.5, name
        assert contrast(theme["line"], theme["paper"]) >= 3.0


def test_headings_go_down_one_step_at_a_time(page):
    levels = [int(tag[1]) for tag, _ in Balance(page).tags if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_drawings_have_names_for_screen_readers(page):
    drawings = re.findall(r"<svg [^>]*>.{40}", page)
    for drawing in drawings:
        assert " role=img>" in drawing
    assert len(re.findall(r"<svg [^>]*><title>[^<]+</title><desc>[^<]+</desc>", page)) == len(drawings)


@pytest.mark.parametrize(("paper", "width", "height"), [("a4", 595, 842), ("letter", 612, 792)])
@pytest.mark.parametrize("name", ["pass", "fail", "not covered"])
def test_the_pdf_has_every_row_whole(answers, name, paper, width, height):
    from pypdf import PdfReader

    pytest.importorskip("weasyprint", exc_type=OSError, reason="WeasyPrint can't find Pango here")
    page = sheet.render(answers[name])
    pdf = sheet.to_pdf(page, paper)
    assert whole_rows(page, pdf) >= 5
    papers = PdfReader(io.BytesIO(pdf)).pages
    assert [round(float(end)) for end in papers[0].mediabox[2:]] == [width, height]
    text = squeezed("".join(paper.extract_text() for paper in papers))
    for source in answers[name].sources:
        assert squeezed(str(source)) in text
    plain = "".join(paper.extract_text() for paper in papers).split()
    assert {word for state in answers[name].states for word in state.name.split()} <= set(plain)
    assert f"page{len(papers)}of{len(papers)}" in text
    assert sheet.to_pdf(page, paper) == pdf


def test_without_the_library_a_pdf_is_one_clear_line(fits, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    target = tmp_path / "pump.pdf"
    ran = fits("sheet", "examples/hand_pump.toml", "--pdf", "-o", str(target))
    assert (ran.status, ran.out) == (2, "")
    assert len(ran.err.splitlines()) == 1
    assert 'pip install "fits[pdf]"' in ran.err
    assert not target.exists()


@pytest.mark.parametrize(("args", "says"), [
    (["--pdf"], "add -o FILE.pdf"), (["--pdf", "--paper", "a5", "-o", "x"], "must be a4 or letter"), (["--paper", "a4"], "add --pdf"),
    (["--units", "cm"], "must be mm or in"), (["-o", "a.PDF"], '-o: "a.PDF": the page is HTML; add --pdf, or name it .html'),
])
def test_bad_questions(fits, args, says):
    ran = fits("sheet", "examples/hand_pump.toml", *args)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err


def test_statuses_and_files(fits, tmp_path):
    page, pdf = tmp_path / "a.html", tmp_path / "a.pdf"
    assert fits("sheet", "examples/hand_pump.toml", "-o", str(page)).status == 0
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert fits("sheet", "examples/water_sampler.toml", "--pdf", "-o", str(pdf)).status == 1
    assert pdf.read_bytes().startswith(b"%PDF")


def test_a_page_is_utf_8_whatever_the_terminal_is():
    import os

    outs = [
        subprocess.run([sys.executable, "-m", "fits", "sheet", "examples/hand_pump.toml"], capture_output=True, check=True,
                       cwd=ROOT, env={**os.environ, "PYTHONIOENCODING": coding}).stdout
        for coding in ("utf-8", "cp1252", "ascii")
    ]
    assert outs[0] == outs[1] == outs[2]
    assert "12 ±0.02" in outs[0].decode("utf-8")


def test_data_of_all_writers_is_the_same_list(answers):
    """The rows of the JSON are those of the page: a size, an input and a rule more would show in both."""
    answer = answers["pass"]
    found = json.loads(data.to_json(answer))
    page = words(sheet.render(answer))
    for feature in found["features"].values():
        for size in feature["sizes"]:
            assert size["text"] in page
        for name, text in feature["inputs"].items():
            assert name.replace("_", " ") in page
            assert text in page
