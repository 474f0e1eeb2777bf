"""fits rings through the command line."""

from __future__ import annotations

import csv
import io

import pytest


def test_a_ring_by_its_code_with_what_it_is_taken_for(fits):
    ran = fits("rings", "AS568-214")
    assert (ran.status, ran.err) == (0, "")
    assert "24.99 mm x 3.53 mm, 0.984 in x 0.139 in" in ran.out
    assert "easily taken for 3.50 mm" in ran.out
    assert "JIS B 2401 P25 (24.70 mm x 3.50 mm)" in " ".join(ran.out.split())
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_a_ring_as_data(fits):
    ran = fits("rings", "AS568-214", "--json").json
    values = ran["features"]["AS568-214"]["values"]
    # .984 +-.010 and .139 +-.004 in
    assert values["inside"]["states"]["as_made"] == {"min": 24.7396, "max": 25.2476}
    assert values["section"]["states"]["as_made"] == {"min": 3.429, "max": 3.6322}
    assert ran["sources"][0].startswith("AS568-214")
    rows = list(csv.DictReader(io.StringIO(fits("rings", "AS568-214", "--csv").out)))
    assert {row["name"] for row in rows if row["row"] == "value"} == {"inside", "section"}


def test_rings_by_measure(fits):
    ran = fits("rings", "--inside", "25.0 ±0.2", "--section", "3.52 ±0.03")
    assert ran.status == 0
    assert "one ring can't tell" in " ".join(ran.out.split())
    lines = [line for line in ran.out.splitlines() if line.startswith(("AS568", "JIS"))]
    assert lines[0].startswith("AS568-214")
    assert lines[1].endswith("memory")


def test_an_inch_name_is_no_size(fits):
    ran = fits("rings", "--section", "3.175 ±0.02")
    assert "a ring called 1/8 in measures 3.53 mm" in ran.out


def test_nothing_of_that_size_is_status_1_with_the_nearest(fits):
    ran = fits("rings", "--inside", "300 ±0.1", "--section", "3.53 ±0.03")
    assert ran.status == 1
    assert "nearest: AS568-278" in ran.out
    assert fits("rings", "--bore", "3800", "--duty", "static").status == 1
    assert fits("rings", "--bore", "3800", "--duty", "static", "--json").json["verdict"] == "not covered"


def test_rings_for_a_bore_in_inches(fits):
    ran = fits("rings", "--bore", "1.500", "--duty", "static", "--units", "in")
    assert ran.status == 0
    assert "rings for a bore of 1.500 in, static" in ran.out
    assert "AS568-218" in ran.out
    assert "first choice" in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_rings_for_a_shaft_are_compressed(fits):
    found = fits("rings", "--shaft", "38.1 f7", "--duty", "moving", "--json").json["features"]
    assert set(found["AS568-222"]["values"]) == {"section", "groove_diameter", "compression"}


def test_every_ring_is_listed_once_with_one_line(fits):
    ran = fits("rings")
    lines = [line for line in ran.out.splitlines() if line.startswith(("AS568", "JIS"))]
    assert len(lines) == 537
    assert len({line.split("  ")[0] for line in lines}) == 537
    assert "from memory" in ran.out


@pytest.mark.parametrize(("args", "says"), [
    (["214"], 'did you mean "AS568-214"?'), (["AS568-285", "banana"], 'did you mean "AS568-284"?'), (["--section", "3.53"], "--section: \"3.53\": how far may the measurement be off?"),
    (["--inside", "25,0 ±0.1"], "--inside: \"25,0 ±0.1\": decimal comma"), (["--bore", "25"], "--duty: missing: static or moving?"),
    (["--bore", "25", "--duty", "rotary"], "must be static or moving"), (["--duty", "static"], "duty belongs to a bore or a shaft"),
    (["AS568-214", "--bore", "25", "--duty", "static"], "one question at a time"), (["--bore", "x", "--duty", "static"], "--bore"), (["JIS B 2401 V15"], "no tolerance of its inside diameter"),
    (["--inside", "25 ±0.1", "--units", "cm"], "must be mm or in"),
])
def test_bad_questions_are_one_line_each(fits, args: list[str], says: str):
    ran = fits("rings", *args)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert "Traceback" not in ran.err


def test_all_wrong_codes_at_once(fits):
    assert len(fits("rings", "AS568-285", "banana").err.splitlines()) == 2


def test_the_real_entry_point(process):
    ran = process("rings", "ISO 3601-1 B 25x3.5")
    assert (ran.status, ran.err) == (0, "")
    assert "24.700" in ran.out


def test_a_section_like_no_other_says_nothing_of_others(fits):
    """5.70 ±0.13 mm lies clear of 5.33 ±0.13 mm and of 6.99 ±0.15 mm."""
    ran = fits("rings", "JIS B 2401 P52")
    assert ran.status == 0
    assert "easily taken for" not in ran.out


def test_an_inside_diameter_alone_says_nothing_of_the_section(fits):
    ran = fits("rings", "--inside", "24.99 ±0.05")
    assert ran.out.splitlines()[1].startswith("AS568-214")
    assert "section may be" not in ran.out
    assert "is easily" not in ran.out
