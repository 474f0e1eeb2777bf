"""Inch classes in a part: as its sizes, shared, and offered where one is looked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from fits.errors import InputError
from fits.files.part import read_part
from fits.questions.check import check
from fits.questions.choose import choose
from fits.questions.targets import with_field
from fits.report.windows import limits_text
from fits.sizes.ansi_b4 import fit
from fits.sizes.limits import Limits

# A cover plate pivoting on a pin; the numbers are invented.
PART = """
name = "lake-bed water sampler, cover pivot"
units = "in"
[running.pivot]
hole = "{hole}"
shaft = "{shaft}"
clearance_at_least = "0.0003"
clearance_at_most = "{most}"
"""


def written(folder: Path, hole: str = "0.3750 RC4", shaft: str = "3/8 in RC4", most: str = "0.003", units: str = "in") -> str:
    path = folder / "pivot.toml"
    path.write_text(PART.format(hole=hole, shaft=shaft, most=most).replace('units = "in"', f'units = "{units}"'), encoding="utf-8")
    return str(path)


def test_a_part_with_inch_classes(fits, tmp_path: Path):
    ran = fits("check", written(tmp_path), "--json")
    assert ran.status == 0
    # ANSI B4.1, RC4 over 0.24 to 0.40 in: clearance 0.5 to 2.0 thou
    shop = ran.json["features"]["pivot"]["values"]["clearance"]["states"]["shop"]
    assert (shop["min"] / 25.4, shop["max"] / 25.4) == pytest.approx((0.0005, 0.0020), abs=1e-9)
    assert any("ANSI B4.1 RC4" in source for source in ran.json["sources"])


def test_the_same_on_the_shell(fits):
    ran = fits("running", "--hole", "0.3750 in RC4", "--shaft", "0.3750 in RC4", "--clearance-at-least", "0.01", "--clearance-at-most", "0.06", "--units", "mm")
    assert ran.status == 0
    ran = fits("running", "--hole", "0.3750 RC4", "--shaft", "0.3750 in RC4 hole")
    assert ran.status == 2
    assert '--hole: "0.3750 RC4": no unit, and RC4 is a class for inches; write 0.3750 in RC4' in ran.err
    assert '--shaft: "0.3750 in RC4 hole": this is the hole of RC4, a shaft is due' in ran.err


def test_a_bare_inch_class_in_a_metric_part_is_refused_at_its_line(fits, tmp_path: Path):
    ran = fits("check", written(tmp_path, units="mm"))
    assert ran.status == 2
    assert ran.err.endswith('pivot.toml:5: running.pivot.hole: "0.3750 RC4": no unit, and RC4 is a class for inches; write 0.3750 in RC4 if inches are meant, else a class for mm such as 0.375 H7\n')
    assert fits("check", written(tmp_path, hole="0.3750 in RC4", units="mm", most="0.06")).status == 0


def test_a_shared_inch_class_says_its_side(fits, tmp_path: Path):
    path = Path(written(tmp_path, hole="bore", shaft="pin"))
    head = '[sizes]\nbore = "0.3750 in RC4 hole"\npin = "0.3750 in RC4 shaft"\n'
    text = path.read_text(encoding="utf-8").replace("[running.pivot]", head + "[running.pivot]")
    path.write_text(text, encoding="utf-8")
    assert fits("check", str(path)).status == 0
    path.write_text(text.replace("RC4 hole", "RC4"), encoding="utf-8")
    assert 'sizes.bore: "0.3750 in RC4": RC4 is a hole and a shaft, and nothing here says which' in fits("check", str(path)).err
    path.write_text(text.replace("RC4 hole", "RC4 shaft"), encoding="utf-8")
    assert "the shared size is a shaft, a hole is due" in fits("check", str(path)).err


def test_inch_classes_are_chosen_first_and_hold(tmp_path: Path):
    part = read_part(written(tmp_path))
    found = choose(part, "pivot")
    names = [one.name for one in found.found]
    inch = [name for name in names if " in " in name]
    assert {"0.3750 in RC4", "0.3750 in RC4S", "0.3750 in RC3"} <= set(inch)
    assert names[: len(inch)] == inch
    for group in (found.found[: len(inch)], found.found[len(inch) :]):
        widths = [one.hole.tolerance + one.shaft.tolerance for one in group]
        assert widths == pytest.approx(sorted(widths, reverse=True))
    for one in found.found:
        changed = with_field(with_field(part, "pivot", "hole", one.hole), "pivot", "shaft", one.shaft)
        assert check(changed).verdict == "pass"


@pytest.mark.parametrize(("side", "text"), [("hole", "RC4"), ("hole", "H7"), ("shaft", "0.3745/0.3739"), ("shaft", "RC4S")])
def test_one_side_fixed(tmp_path: Path, side: str, text: str):
    part = read_part(written(tmp_path))
    found = choose(part, "pivot", **{side: text})
    assert any(" in " in one.name for one in found.found)
    for one in found.found:
        changed = with_field(with_field(part, "pivot", "hole", one.hole), "pivot", "shaft", one.shaft)
        assert check(changed).verdict == "pass"


def test_a_class_chosen_from_memory_says_so(tmp_path: Path):
    found = choose(read_part(written(tmp_path, hole="8.0 RC4", shaft="8 RC4", most="0.012")), "pivot")
    assert "8.0000 in LC6" in [one.name for one in found.found]
    assert "8.0000 in LC6: doubtful: all limits from memory" in found.notes
    assert not any("RC4:" in note for note in found.notes)


def test_no_inch_class_in_a_metric_part(tmp_path: Path):
    part = read_part(written(tmp_path, hole="10 H8", shaft="10 f7", most="0.08", units="mm"))
    found = choose(part, "pivot")
    assert found.found
    assert not any(" in " in one.name for one in found.found)
    with pytest.raises(InputError, match="no inch class RC0"):
        choose(part, "pivot", hole="RC0")


def test_what_is_shown_does_not_change_what_is_offered(fits, tmp_path: Path):
    """A drawing in mm has no 0.6299 in reamer because it is looked at in inches."""
    for path, feature in (("examples/hand_pump.toml", "liner"), (written(tmp_path), "pivot")):
        offered = [
            [one["name"] for one in fits("choose", path, feature, "--units", units, "--json").json["choices"][0]["found"]]
            for units in ("mm", "in")
        ]
        assert offered[0] == offered[1]
        assert offered[0]


def test_what_is_chosen_fits_the_screen(fits, tmp_path: Path):
    ran = fits("choose", written(tmp_path), "pivot")
    assert ran.status == 0
    assert ran.out.startswith("CHOOSE for pivot, inch classes before ISO, widest first\n")
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_half_tenths_are_shown_as_they_are():
    # RC2 over 0.40 to 0.71 in: hole +0.4/0, shaft -0.25/-0.55 thou (ANSI B4.1)
    hole, shaft = fit(0.5, "RC2")
    assert limits_text(shaft, "in") == "0.49975/0.49945"
    assert limits_text(hole, "in") == "0.5004/0.5000"
    assert limits_text(Limits(12.70003, 12.71234), "in") == "0.5004/0.5001"
