"""What a groove is held against as it was cut: lands, widths, mouths, and rubbing."""

from __future__ import annotations

import math
import re

import pytest

from fits.features.gland import tabled
from fits.questions.check import check
from tests.glands import gland, numbers, part


def rule(form: str, name: str, **changes):
    (feature,) = check(part(form, **changes)).features
    return next(one for one in feature.checks if one.rule == name)


@pytest.mark.parametrize("form", ["piston", "rod", "face", "dovetail"])
def test_a_thin_land_fails_and_an_unknown_one_is_not_covered(form: str):
    assert rule(form, "land stands the pressure").verdict == "pass"
    assert rule(form, "land stands the pressure", land="0.1 ±0.01").verdict == "fail"
    unknown = rule(form, "land stands the pressure", land=None)
    assert unknown.verdict == "not covered"
    assert "land not given" in unknown.why_not
    assert unknown.break_even is not None


def test_a_land_of_a_typical_strength_never_passes():
    assert rule("piston", "land stands the pressure", shaft_material="C36000").verdict == "not covered"


def test_the_break_even_of_a_land_holds_and_less_does_not():
    unknown = rule("piston", "land stands the pressure", land=None)
    edge = float(re.search(r"([\d.]+) mm", unknown.break_even)[1])
    assert rule("piston", "land stands the pressure", land=f"{edge * 1.02:.4f}").verdict == "pass"
    assert rule("piston", "land stands the pressure", land=f"{edge * 0.98:.4f}").verdict == "fail"


def test_the_land_of_a_face_follows_from_its_edge():
    """Groove to 75.5 at most, face from 77.5: a land of 1 mm at least."""
    typed = numbers(part("face", land="1"), "hot")["land_stress"]
    shown = numbers(part("face", land=None, hub_outside="77.4"), "hot")["land_stress"]
    # Middle of the groove's limits: 75.4.
    assert shown == pytest.approx(typed, rel=1e-9)
    inner = part("face", land=None, pressure_side="outside", groove_outside=None, groove_inside="70 -0.2/-0.4", hub_bore="60")
    stress = numbers(inner, "hot")["land_stress"]
    assert stress == pytest.approx(numbers(part("face", pressure_side="outside", groove_outside=None, groove_inside="70 -0.2/-0.4", land="4.85"), "hot")["land_stress"])
    assert rule("face", "land stands the pressure", land=None, hub_bore="60").verdict == "not covered"


def test_no_land_is_asked_without_pressure():
    from fits.features.gland.rules import rules_of  # noqa: F401
    from tests.glands import SHOP

    (feature,) = check(part("piston", (SHOP,), land=None)).features
    assert feature.verdict == "pass"


@pytest.mark.parametrize(("form", "wide"), [("piston", "30"), ("rod", "7"), ("face", "6")])
def test_a_groove_several_times_as_wide_as_its_ring_fails(form: str, wide: str):
    assert rule(form, "groove isn't too wide", groove_width=wide).verdict == "fail"


def test_backup_rings_have_the_wider_grooves_of_their_own():
    """.139 in: 0.195, 0.217 and 0.296 in at most beside the design guide's .187, .208 and .275 in at least
    (Apple Rubber Products, Seal Design Guide, table A)."""
    one, two = tabled.largest_width("radial", 1, 3.5306), tabled.largest_width("radial", 2, 3.5306)
    assert 0.217 * 25.4 <= one <= 0.24 * 25.4
    assert 0.296 * 25.4 <= two <= 0.33 * 25.4
    assert rule("piston", "groove isn't too wide", groove_width="5.6", backup_rings="1", backup_thickness="1.2").verdict == "pass"
    assert rule("piston", "groove isn't too wide", groove_width="5.6").verdict == "fail"


def test_no_published_groove_is_too_wide():
    from fits import tables

    for row in tables.load("glands/glands").rows:
        if row["form"] == "dovetail":
            continue
        for backups, column in enumerate(("width_most", "width1_most", "width2_most")):
            if row[column]:
                assert float(row[column]) <= tabled.largest_width(row["form"], backups, float(row["section"])) * (1 + 1e-12)


def test_a_mouth_too_narrow_to_roll_the_ring_in_fails():
    """.139 in: the published mouth is .113 to .117 in (Seal & Design, dovetail table)."""
    assert tabled.narrowest_mouth(3.5306) == pytest.approx(0.113 * 25.4)
    assert rule("dovetail", "mouth lets the ring in", mouth_width="2.0 ±0.02").verdict == "fail"
    assert rule("dovetail", "mouth lets the ring in", mouth_width="2.9 ±0.02").verdict == "pass"


def test_rounded_edges_open_the_mouth():
    """A round of r on an edge of 66 degrees: its leftmost point lies r (cot 33 - 1) = 0.540 r behind the corner."""
    shown = numbers(part("dovetail", edge_radius="0.2"))
    corner = math.radians(33.0)
    centre = 0.2 / math.sin(corner) * math.cos(corner)
    assert shown["mouth_open"] - shown["mouth"] == pytest.approx(2.0 * (centre - 0.2))
    assert rule("dovetail", "mouth holds the ring", edge_radius="0.3").verdict == "fail"
    unknown = rule("dovetail", "mouth holds the ring", edge_radius=None)
    assert unknown.verdict == "not covered"
    assert "edge_radius" in unknown.why_not


MOVING = {"duty": "reciprocating", "guide_clearance": "0.02"}


@pytest.mark.parametrize(("rubber", "verdict"), [("NBR 70", "pass"), ("VMQ 70", "fail"), ("FEPM 80", "not covered")])
def test_rubber_that_rubs_has_to_stand_it(rubber: str, verdict: str):
    """Abrasion: nitrile B, silicone D (Bode Seal, property table of elastomers); no row, no pass."""
    assert rule("rod", "rubber stands rubbing", elastomer=rubber, fluid="water", **MOVING).verdict == verdict


def test_a_static_ring_is_not_asked_to_stand_rubbing():
    (feature,) = check(part("rod", elastomer="VMQ 70", fluid="water", states=())).features
    assert all(one.rule not in ("rubber stands rubbing", "faces keep a film") for one in feature.checks)


def test_too_smooth_a_rod_fails():
    """Moving rings: 8 to 16 uin (Marco Rubber, groove design considerations)."""
    assert rule("rod", "faces keep a film", finish="0.01 um", **MOVING).verdict == "fail"
    assert rule("rod", "faces keep a film", finish="0.2 um to 0.4 um", **MOVING).verdict == "pass"
    assert gland("rod").moving is False


def test_gas_through_the_rubber_by_the_slab_and_by_the_handbook():
    """Handbook estimate 0.7 F D P Q (1 - S)^2, D in inches, P in psi, Q = 1 (from memory): within 1 %."""
    import numpy as np

    from fits.mechanics import ring

    slab = float(ring.permeation(np.asarray(1e-5), np.asarray(25.4), np.asarray(0.2), np.asarray(3.0)))
    # 1e-5 mm^2/(s MPa) is 1e-8 cm^2/(s bar); 25.4 mm is 1 in; 3 MPa is 435.1 psi.
    assert slab == pytest.approx(0.7 * 1e-8 * 1.0 * 435.1 * 0.8**2 * 1000.0, rel=0.01)


def test_permeation_needs_a_permeability_and_counts_the_air_around_a_vacuum():
    gas = {"medium": "gas", "fluid": "air", "permeability": "1e-8 cm^2/(s*bar)"}
    assert numbers(part("face", **gas), "hot")["permeation"] > 0.0
    assert numbers(part("face", **gas), "shop")["permeation"] == 0.0
    assert numbers(part("face", **{**gas, "medium": "vacuum"}), "shop")["permeation"] > 0.0
    assert "permeation" not in numbers(part("face"), "hot")
    (feature,) = check(part("face", **{**gas, "permeability": None})).features
    assert any("permeability" in one for one in feature.not_covered)
    assert feature.verdict == "pass"


def cautions(form: str, **changes) -> str:
    return " ".join(check(part(form, **changes)).features[0].cautions)


def test_a_dry_ring_and_bare_aluminium_are_said():
    assert "runs dry" in cautions("rod", **{**MOVING, "medium": "gas", "fluid": "air"})
    assert "runs dry" not in cautions("rod", **MOVING)
    assert "hard anodise" in cautions("piston", **MOVING)
    assert "hard anodise" not in cautions("piston", **{**MOVING, "hub_material": "316"})
    assert "hard anodise" not in cautions("piston")
