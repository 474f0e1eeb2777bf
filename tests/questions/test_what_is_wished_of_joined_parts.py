"""A bore wished of the joined parts is held against: no part is cut or read as it, and it doesn't scatter."""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import ROOT

HEAD = "part,feature.dimension,value,unit,uncertainty,instrument,temperature\n"
COMPOUND = """
[states.shop]
temperature = "20 degC"
[compound.barrel]
layers = [{inside = "12 ±0.01", outside = "16.05/16.04", material = "316"}, {inside = "16 H7", outside = "32", material = "1045 HR"}]
length = "40"
roughness_hole = "3 um"
roughness_shaft = "2 um"
bore_after = "11.98 ±0.05"
"""


@pytest.fixture(params=["press", "compound"])
def wishing(request, tmp_path: Path) -> tuple[str, str]:
    """A part with such a bore, and its feature."""
    path = tmp_path / "part.toml"
    if request.param == "press":
        pump = (ROOT / "examples" / "hand_pump.toml").read_text(encoding="utf-8")
        # The bore closes by 0.013 to 0.023 mm, to 11.957 at least.
        path.write_text(pump.replace('length          = "40"', 'length = "40"\nbore_after = "11.99 ±0.05"'), encoding="utf-8")
        return str(path), "liner"
    path.write_text(COMPOUND, encoding="utf-8")
    return str(path), "barrel"


def test_it_is_asked_and_holds(wishing, fits):
    path, name = wishing
    checks = {one["rule"]: one for one in fits("check", path, "--json").json["features"][name]["checks"]}
    assert checks["bore after fitting, least"]["verdict"] == checks["bore after fitting, most"]["verdict"] == "pass"


def test_no_reading_is_of_it(wishing, fits, tmp_path: Path):
    path, name = wishing
    table = tmp_path / "m.csv"
    table.write_text(f"{HEAD}p1,{name}.bore_after,11.99,mm,0.001,bore gauge,20 degC\n", encoding="utf-8")
    for command in ("judge", "pair"):
        ran = fits(command, path, str(table))
        assert (ran.status, ran.out) == (2, "")
        assert f'"{name}.bore_after": bore_after is wished of the joined parts, nothing is cut to it; give sizes read before' in ran.err
    table.write_text(f"{HEAD}p1,{name}.bor,11.99,mm,0.001,bore gauge,20 degC\n", encoding="utf-8")
    assert "bore_after" not in fits("judge", path, str(table)).err


def test_it_is_not_drawn_at_random(wishing, fits):
    path, name = wishing
    found = fits("odds", path, "--samples", "4096", "--json").json["odds"]
    assert [one for one in found["drawn"] if "bore_after" in one["dimension"]] == []
    rules = {one["rule"]: one["passing"]["share"] for one in found["rules"] if one["feature"] == name}
    assert rules["bore after fitting, least"] == rules["bore after fitting, most"] == 1.0
    ran = fits("odds", path, "--spread", f"{name}.bore_after: normal Cp 1.33")
    assert ran.status == 2
    assert f'"{name}.bore_after": bore_after is wished of the joined parts: it does not scatter' in ran.err
