"""What is refused before anything is computed: proof with gas, oxygen."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
PUMP = (ROOT / "examples" / "hand_pump.toml").read_text(encoding="utf-8")
RUNNING = ("running", "--hole", "20.05", "--shaft", "20", "--hub-outside", "40", "--hub-material", "6061-T6",
           "--shaft-material", "6061-T6", "--clearance-at-least", "0.01")


def test_a_proof_test_with_gas_shows_what_it_stores(fits):
    ran = fits(*RUNNING, "--state", "proof: 20 degC, 4500 psi, proof, nitrogen")
    assert ran.status == 1
    assert ran.out.startswith("REFUSED")
    assert "62.8 kJ" in ran.out.replace("\n      ", " ") or "62.7 kJ" in ran.out
    assert "of water 0.22 kJ" in " ".join(ran.out.split())
    assert "clearance" not in ran.out.split("Sources")[0].replace("clearance_at_least", "")
    assert fits(*RUNNING, "--state", "proof: 20 degC, 4500 psi, proof, water").status in (0, 1)
    assert "REFUSED" not in fits(*RUNNING, "--state", "proof: 20 degC, 4500 psi, proof, water").out
    assert "REFUSED" not in fits(*RUNNING, "--state", "work: 20 degC, 1 MPa, nitrogen").out


def test_oxygen_is_refused_whatever_the_pressure(fits):
    ran = fits(*RUNNING, "--state", "work: 20 degC, 2000 psi, oxygen")
    assert ran.status == 1
    assert "oxygen specialist" in " ".join(ran.out.split())


@pytest.mark.parametrize(("command", "target"), [("window", "liner.shaft"), ("window", "plunger.shaft"),
                                                 ("window", "liner"), ("choose", "plunger")])
def test_nothing_is_solved_backwards_of_a_refused_part(fits, tmp_path, command: str, target: str):
    path = tmp_path / "gas.toml"
    text = PUMP.replace("[states.proof]\n", '[states.proof]\nmedium = "air"\n')
    assert text != PUMP
    path.write_text(text, encoding="utf-8")
    ran = fits(command, str(path), target)
    assert ran.status == 1
    assert "proof test with gas" in " ".join(ran.out.split())
    data = fits("check", str(path), "--json").json
    assert data["verdict"] == "refused"
    assert data["states"]["proof"]["medium"] == "air"
    assert not data["features"]["liner"]["values"]


def test_an_unknown_medium_is_a_fault(fits):
    ran = fits(*RUNNING, "--state", "work: 20 degC, 1 MPa, steam")
    assert ran.status == 2
    assert "steam" in ran.err
