"""From the drawer to a proven hole, through the command line: questions a shop asks."""

from __future__ import annotations

from pathlib import Path

import pytest

DRAWER = "examples/drawer.toml"
TUBE = """name = "tube in a block"
units = "in"
[press.tube]
hole = "?"
shaft = "0.500 ±0.005"
shaft_bore = "0.430 ±0.005"
hub_outside = "1.5 ±0.01"
length = "1"
hub_material = "6061-T6"
shaft_material = "316"
roughness_hole = "0 um"
roughness_shaft = "0 um"
"""
DOWEL = """name = "dowel in a plate"
[press.dowel]
hole = "6 H7"
shaft = "dowel 6 m6"
hub_outside = "20"
length = "12"
hub_material = "6061-T6"
shaft_material = "pin steel"
roughness_hole = "0 um"
roughness_shaft = "0 um"
[materials."pin steel"]
youngs_modulus = "207 GPa"
poisson = 0.29
yield_strength = "1200 MPa"
"""


def reamer(marked: str) -> str:
    """A drawer of one inch reamer that cuts 5 to 10 um over by its trials."""
    return f'[[reamer]]\nmarked = "{marked}"\nmeasured = "{marked}"\ncuts_over = "5 um to 10 um"\n'


def written(tmp_path: Path, name: str, text: str) -> str:
    path = tmp_path / name
    path.write_text(text)
    return str(path)


def test_no_reamer_for_a_tube_by_its_nominal_size(fits, tmp_path: Path):
    """A mill's ±0.005 in spans 0.005 in tight to 0.0055 loose in a half-inch hole: measure first."""
    ran = fits("choose", written(tmp_path, "tube.toml", TUBE), "tube", "--drawer", DRAWER)
    assert ran.status == 1
    assert ran.out.startswith("NOTHING TO CHOOSE FROM THE DRAWER")
    said = " ".join(ran.out.split())
    assert "the shaft's own tolerance closes the window: no size can be given from its nominal. Measure the part" in said
    assert "0.00485 in tight to 0.00535 in loose" in said


def test_a_measured_tube_gets_its_reamer(fits, tmp_path: Path):
    part = written(tmp_path, "tube.toml", TUBE.replace("0.500 ±0.005", "0.5012/0.5011").replace("0.430 ±0.005", "0.430 ±0.001"))
    ran = fits("choose", part, "tube", "--drawer", DRAWER, "--json")
    offers = ran.json["drawers"][0]["fields"][0]["offers"]
    assert ran.status == (0 if any(one["verdict"] == "pass" for one in offers) else 1)
    assert all(one["room"] for one in offers)


@pytest.mark.parametrize(("marked", "low", "high", "tight", "loose"), [
    # 0.2362 in is 5.9995 mm: 6.004 to 6.010 against a pin of 6.004 to 6.012: 8 tight to 6 loose.
    ("0.2362 in", 6.0045, 6.0095, 0.0075, -0.0055),
    # 0.2360 in is 5.994 mm: about 0 to 13 um tight.
    ("0.2360 in", 5.9994, 6.0044, 0.0126, -0.0004),
])
def test_an_inch_reamer_for_a_metric_dowel(fits, tmp_path: Path, marked: str, low: float, high: float, tight: float, loose: float):
    part, drawer = written(tmp_path, "dowel.toml", DOWEL), written(tmp_path, "drawer.toml", reamer(marked))
    ran = fits("choose", part, "dowel", "--drawer", drawer, "--json")
    assert ran.status == 1
    found = ran.json["drawers"][0]
    offer = found["fields"][0]["offers"][0]
    assert (offer["verdict"], offer["min"], offer["max"]) == ("fail", pytest.approx(low, abs=5e-5), pytest.approx(high, abs=5e-5))
    assert offer["interference"] == pytest.approx([loose, tight], abs=5e-5)
    assert "a reamer that measures" in found["fields"][0]["buy"]


def test_what_to_buy_would_hold(fits, tmp_path: Path):
    """The reamer that is recommended, cutting nothing over, lies inside the window."""
    part, drawer = written(tmp_path, "dowel.toml", DOWEL), written(tmp_path, "drawer.toml", reamer("0.2362 in"))
    found = fits("choose", part, "dowel", "--drawer", drawer, "--json").json["drawers"][0]
    size = found["fields"][0]["buy"].split("measures ")[1].split(" mm")[0]
    better = written(tmp_path, "bought.toml", f'[[reamer]]\nmeasured = "{size} mm"\ncuts_over = "0 mm to 0.001 mm"\n')
    ran = fits("choose", part, "dowel", "--drawer", better)
    assert ran.status == 0
    assert ran.out.startswith("FROM THE DRAWER")


@pytest.mark.parametrize("how", [
    ["--gauge-class", "ZZ"], ["--go-pin", "0.5000 in ZZ plus", "--no-go-pin", "0.5005 in ZZ minus"],
])
def test_a_half_thou_with_zz_pins(fits, how: list[str]):
    """GO could be 0.5002, NO-GO 0.5003: only a band of 0.0001 in is sure to pass; class X keeps the tenth."""
    ran = fits("reamed", "--hole", "0.5005/0.5000 in", *how, "--json")
    assert ran.status == 1
    of = ran.json["features"]["reamed"]
    values = {name: one["states"]["as_made"] for name, one in of["values"].items()}
    assert values["go"]["max"] / 25.4 == pytest.approx(0.5002)
    assert values["no_go"]["min"] / 25.4 == pytest.approx(0.5003)
    assert values["sure_pass"]["min"] / 25.4 == pytest.approx(0.0001)
    assert values["go_share"]["max"] == pytest.approx(0.4)
    verdicts = {one["rule"]: one["verdict"] for one in of["checks"]}
    assert verdicts["GO passes no small hole"] == verdicts["NO-GO passes no large hole"] == verdicts["some holes are sure to pass"] == "pass"
    assert verdicts["GO eats a tenth at most"] == "fail"
    assert any("class X at most 10 % with each" in one for one in of["notes"])
    assert any("ovality" in one for one in of["cautions"])
    ran = fits("reamed", "--hole", "0.5005/0.5000 in", "--gauge-class", "X", "--json")
    assert {one["rule"]: one["verdict"] for one in ran.json["features"]["reamed"]["checks"]}["GO eats a tenth at most"] == "pass"


def test_a_bore_read_at_95_degf(fits):
    """4.000 in in 6061 at 95 degF: 0.0014 smaller with a cold gauge, 0.0007 with a steel one as warm; ask which."""
    ask = ["warm", "4.000 in", "--material", "6061-T6", "--part-temperature", "95 degF", "--json"]
    ran = fits(*ask)
    assert ran.status == 1
    values = {name: one["states"]["as_made"]["min"] / 25.4 for name, one in ran.json["features"]["reading"]["values"].items()}
    assert values["size_gauge_at_20_off"] == pytest.approx(0.0014, abs=5e-5)
    assert values["size_gauge_warm_off"] == pytest.approx(0.0007, abs=5e-5)
    assert "cold, or as warm as the part" in ran.json["features"]["reading"]["not_covered"][0]
    for gauge, off in (("68 degF", 0.0014), ("95 degF", 0.0007)):
        ran = fits(*ask, "--gauge-temperature", gauge)
        assert ran.status == 0
        assert ran.json["features"]["reading"]["values"]["size"]["states"]["as_made"]["min"] / 25.4 == pytest.approx(4.0 - off, abs=5e-5)
    # An inch reading is answered in inches, a bare one in what it is said to be.
    assert " 4.00000  4.00000  in\n" in fits(*ask[:-1]).out
    assert " 4.00000  4.00000  in\n" in fits("warm", "4.000", *ask[2:-1], "--units", "in").out
    assert " 4.0000  4.0000  mm\n" in fits("warm", "4.000", *ask[2:-1], "--units", "mm").out


@pytest.mark.parametrize(("args", "says"), [
    (["warm", "4.000 in"], ["--material: missing", "--part-temperature: missing"]),
    (["warm", "4.000 N", "--material", "6061-T7", "--part-temperature", "95"],
     ['READING: "4.000 N": a length is due, N is a force', '--material: "6061-T7"', "a temperature needs a unit"]),
    (["warm", "1.2503", "--material", "6061-T6", "--part-temperature", "95 degF"], ['--units: "1.2503": missing beside 95 degF: is it mm or inches?']),
    (["warm", "100", "--material", "6061-T6", "--part-temperature", "900 degC"], ["expansion is known from"]),
    (["warm", "0", "--material", "6061-T6", "--part-temperature", "30 degC"], ["a size is above 0"]),
])
def test_bad_readings(fits, args: list[str], says: list[str]):
    ran = fits(*args)
    assert (ran.status, ran.out) == (2, "")
    lines = ran.err.splitlines()
    assert len(lines) == len(says)
    assert all(word in line for word, line in zip(says, lines)), ran.err


def test_a_hole_from_the_drawer(fits):
    """0.3940 in is 10.0076 mm and may do for 10 H7, 0.3937 in may not; the one with trials is first."""
    ran = fits("reamed", "--hole", "10 H7", "--depth", "20", "--through", "true", "--material", "6061-T6", "--drawer", DRAWER, "--json")
    fields = {one["field"]: one for one in ran.json["drawers"][0]["fields"]}
    assert [(one["name"], one["verdict"]) for one in fields["reamer"]["offers"]] == [
        ("10 H7 (measured 10.0080 mm)", "pass"), ("0.3940 in (measured 10.0076 mm)", "not covered"), ("0.3937 in", "fail"),
    ]
    assert "class XX, plus" in fields["go_pin"]["buy"]
    assert fields["drill"]["offers"][0]["name"] == "drill 9.6 mm"
    assert ran.json["features"]["reamed"]["verdict"] == "pass"
    assert ran.status == 0


def test_a_drawer_answers_only_from_itself(fits, tmp_path: Path):
    drawer = written(tmp_path, "d.toml", '[[reamer]]\nmarked = "25 H7"\n[[drill]]\nsize = "3 mm"\n')
    ran = fits("reamed", "--hole", "10 H7", "--drawer", drawer)
    assert ran.status == 1
    assert "NOTHING TO CHOOSE FROM THE DRAWER" in ran.out or "FROM THE DRAWER" in ran.out
    said = " ".join(ran.out.split())
    assert "reamer: the drawer has none that is near" in said
    assert "buy: a reamer that measures 10.0060 mm (0.39394 in) to 10.0120 mm (0.39417 in)" in said
    assert "25 H7" not in said.split("reamed (reamed)")[0]


def test_the_same_from_a_part_file_and_in_every_form(fits, tmp_path: Path):
    part = written(tmp_path, "p.toml", '[reamed.bore]\nhole = "10 H7"\ndepth = "20"\nthrough = true\nmaterial = "6061-T6"\n')
    ran = fits("choose", part, "bore", "--drawer", DRAWER)
    assert ran.status == 0
    assert "FROM THE DRAWER for bore" in ran.out
    # The part is called by its path, which is never broken.
    assert all(len(line) <= 80 or part in line for line in ran.out.splitlines())
    table = fits("choose", part, "bore", "--drawer", DRAWER, "--csv").out
    assert "drawer reamer" in table
    assert "buy" in table
    assert fits("check", part).status == 1
    ran = fits("window", part, "bore.hole")
    assert (ran.status, "hole is no number" in ran.err) == (2, True)


def test_a_liner_from_the_drawer(fits):
    ran = fits("choose", "examples/hand_pump.toml", "liner", "--drawer", DRAWER, "--json")
    assert ran.status == 0
    offers = ran.json["drawers"][0]["fields"][0]["offers"]
    assert [one["verdict"] for one in offers] == ["pass", "pass", "not covered"]
    window = ran.json["drawers"][0]["window"]["intervals"][0]
    for one in offers[:2]:
        assert window["min"] <= one["min"] <= one["max"] <= window["max"]
        assert one["room"] == pytest.approx([one["min"] - window["min"], window["max"] - one["max"]])


def test_what_a_drawer_offers_for_a_pair_holds_when_checked(fits, tmp_path: Path):
    """The expected hole of every reamer that passes, put into the file, passes the check."""
    text = Path("examples/hand_pump.toml").read_text()
    offers = fits("choose", "examples/hand_pump.toml", "liner", "--drawer", DRAWER, "--json").json["drawers"][0]["fields"][0]["offers"]
    for one in offers[:2]:
        changed = text.replace('"16 H6"', f'"{one["max"]:.4f}/{one["min"]:.4f}"')
        assert changed != text
        assert fits("check", written(tmp_path, "p.toml", changed)).status == 0


@pytest.mark.parametrize(("args", "says"), [
    (["choose", "examples/hand_pump.toml", "plunger", "--drawer", DRAWER], "its hole stands on liner.shaft_bore"),
    (["choose", "examples/hand_pump.toml", "liner", "--drawer", "none.toml"], "none.toml: can't read the file"),
    (["choose", "examples/hand_pump.toml", "liner", "--drawer", DRAWER, "--hole", "H7"], "the drawer chooses the hole"),
    (["choose", "examples/hand_pump.toml", "linre", "--drawer", DRAWER], 'did you mean "liner"'),
    (["reamed", "--hole", "10 H7", "--reamer", "measured 10.02"], "--reamer: \"measured 10.02\": bigger than the hole's upper limit"),
    (["reamed", "--hole", "10 H7", "--go-pin", "10 mm"], "--go-pin: \"10 mm\": a pin needs its class"),
    (["reamed", "--hole", "10 H7", "--through", "false", "--reamer-lead", "4", "--runout-room", "3"],
     "--reamer-lead: \"4.0000 mm\": the reamer's lead is longer than the room"),
    (["reamed"], "--hole: missing"),
    (["reamed", "--hole", "10 H7", "--drawer", "examples"], "this is a folder"),
])
def test_bad_questions(fits, args: list[str], says: str):
    ran = fits(*args)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1


def test_a_drawer_row_without_a_unit(fits, tmp_path: Path):
    drawer = written(tmp_path, "d.toml", '[[reamer]]\nmarked = "0.3940"\n')
    ran = fits("reamed", "--hole", "10 H7", "--drawer", drawer)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == f'{drawer}:1: marked: "0.3940": a drawer mixes inch and metric: every size needs its unit\n'
