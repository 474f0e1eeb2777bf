"""Two metals in touch: aluminium and stainless, and what surroundings allow."""

from __future__ import annotations

import pytest

from fits.materials import galvanic
from fits.materials.metals import names

# Groups of the anodic index table, vk6ysf.com/galvanic_table.htm: typed in again by group, so that
# a metal put into the wrong group shows.
GROUPS = {"316": 0.50, "416": 0.60, "4140 QT": 0.85, "C36000": 0.45, "C11000": 0.35, "Titanium CP-2": 0.30}
SHELL = ("press", "--hole", "20", "--shaft", "20.02", "--hub-outside", "40", "--length", "20", "--shaft-material", "316")


@pytest.mark.parametrize(("name", "volts"), GROUPS.items())
def test_indices(name: str, volts: float):
    found = galvanic.index_of(name)
    assert found is not None
    assert found.volts == volts


def test_most_metals_of_the_table_have_one():
    assert {name for name in names() if galvanic.index_of(name) is None} == {"Hastelloy X", "Invar 36"}


@pytest.mark.parametrize(("hub", "surroundings", "verdict"), [
    ("6061-T6", "outdoor", "fail"), ("6061-T6", "indoor", "fail"), ("6061-T6", "controlled", "pass"),
    ("304", "outdoor", "pass"), ("Invar 36", "outdoor", "not covered")])
def test_the_rule(fits, hub: str, surroundings: str, verdict: str):
    data = fits(*SHELL, "--hub-material", hub, "--surroundings", surroundings, "--json").json
    (rule,) = (one for one in data["features"]["press"]["checks"] if one["rule"] == "metals stand each other")
    assert rule["verdict"] == verdict


def test_unknown_surroundings_are_refused(fits):
    ran = fits(*SHELL, "--hub-material", "304", "--surroundings", "wet")
    assert ran.status == 2
    assert "outdoor" in ran.err


def test_surroundings_without_a_limit_are_no_number():
    from fits.materials.galvanic import allowed

    with pytest.raises(KeyError, match="seaside"):
        allowed("seaside")
