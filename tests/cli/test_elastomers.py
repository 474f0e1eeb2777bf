"""fits elastomers through the command line."""

from __future__ import annotations

import pytest

from fits.materials.elastomers import names


def test_every_material_in_one_line(fits):
    ran = fits("elastomers")
    assert ran.status == 0
    assert [line.split("  ")[0] for line in ran.out.splitlines()[1:]] == names()
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_one_elastomer_says_what_is_known_and_what_is_not(fits):
    ran = fits("elastomers", "NBR 70", "AU 92")
    assert ran.status == 0
    assert "compression set 10% to 25% at 100 degC: of that test alone" in ran.out
    assert "not known here: TR10, modulus" in ran.out
    assert "from memory" in ran.out
    values = fits("elastomers", "NBR 70", "--json").json["features"]["NBR 70"]["values"]
    assert values["expansion"]["states"]["as_made"] == {"min": 112e-6, "max": 230e-6}
    assert values["cold_limit_static"]["states"]["as_made"] == {"min": -28, "max": -28}


@pytest.mark.parametrize(("name", "fluid", "status", "verdict"), [
    ("NBR 70", "mineral oil", 0, "pass"), ("EPDM 70", "mineral oil", 1, "refused"), ("CR 70", "mineral oil", 1, "not covered"), ("IIR 70", "water", 1, "not covered"),
])
def test_an_elastomer_in_a_fluid(fits, name: str, fluid: str, status: int, verdict: str):
    ran = fits("elastomers", name, "--fluid", fluid, "--json")
    assert (ran.status, ran.json["verdict"]) == (status, verdict)


def test_which_stand_a_fluid(fits):
    lines = {line.split("  ")[0]: line for line in fits("elastomers", "--fluid", "mineral oil").out.splitlines()}
    assert lines["NBR"].endswith("stands it")
    assert lines["EPDM"].endswith("refused")
    assert lines["CR"].endswith("ask the maker of the ring")


@pytest.mark.parametrize(("args", "says"), [
    (["NBR"], 'write "NBR 70"'), (["nbr 70"], 'did you mean "NBR 70"?'), (["--fluid", "oil"], '--fluid: which fluid is "oil"? known: air'),
    (["EPDM 70", "--fluid", "minerl oil"], 'did you mean "mineral oil"?'),
])
def test_bad_questions_are_one_line(fits, args: list[str], says: str):
    ran = fits("elastomers", *args)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1


def test_a_hardness_that_no_ring_is_sold_in_is_said(fits):
    says = "rings of NBR are sold in 70, 75, 90 Shore A"
    assert says in fits("elastomers", "NBR 71").out
    assert says not in fits("elastomers", "NBR 75").out
