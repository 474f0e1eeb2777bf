"""What a groove is held against as it was cut: lands, widths, mouths, and rubbing."""

from __future__ import annotations

import math
import re

import pytest

from fits.features.gland import tabled
from fits.questions.check import check
from tests.glands import SHOP, gland, numbers, part


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
    (feature,) = check(part("rod", elastomer="VMQ 70", fluid="water", states=(SHOP,))).features
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


def test_a_hollow_piston_is_judged_under_its_groove():
    """Lamé, pressed from outside: 2 p b^2/(b^2 - a^2) at its bore; by hand 1790 MPa at a web of 0.064 mm and 9 MPa."""
    from fits.features.feature import State

    states = (State("work", 20.0, 20.0, 9.0),)
    (feature,) = check(part("piston", states, shaft_bore="25.2 ±0.02", shaft_material="316")).features
    stress = next(one for one in feature.checks if one.rule == "inner wall stands the pressure")
    a, b = 25.22 / 2.0, 25.348 / 2.0
    assert stress.worst == pytest.approx(2.0 * 9.0 * b * b / (b * b - a * a), rel=1e-6)
    assert stress.verdict == "fail"
    # E t^3/[4 (1 - nu^2) R^3] against three times the pressure
    round_ = next(one for one in feature.checks if one.rule == "inner wall stays round")
    assert round_.limit == pytest.approx(27.0)
    assert round_.verdict == "fail"
    (thick,) = check(part("piston", states, shaft_bore="10", shaft_material="6061-T6")).features
    assert all(one.verdict == "pass" for one in thick.checks if one.rule.startswith("inner wall"))
    assert all(not one.rule.startswith("inner wall") for one in check(part("piston", states)).features[0].checks)


def test_a_typed_land_is_no_wider_than_what_the_part_leaves():
    assert rule("face", "land stands the pressure", land="5", hub_outside="76").verdict == "fail"
    assert rule("face", "land stands the pressure", land="5", hub_outside="90").verdict == "pass"
    assert rule("dovetail", "land stands the pressure", land="4", hub_outside="77.5").verdict == "fail"
    assert rule("dovetail", "land stands the pressure", land="4", hub_outside="90").verdict == "pass"


def test_a_groove_and_its_land_fit_into_the_part(fits):
    from tests.cli.test_gland import options

    ran = fits(*options("piston", length="7"))
    assert ran.status == 2
    assert "longer than the part" in ran.err


def test_the_cover_is_loaded_to_the_outermost_that_pressure_reaches():
    """pi/4 D^2 p: a chamfer to its end (34.9 + 2 x 4.8 mm), a dovetail to its lip (73.8 + 3.1 mm); 3 MPa."""
    shown = numbers(part("triangular", spigot="34.9", leg="4.8", hub_material="6061-T6"), "hot", pressure_share=1.0)["separating_force"]
    assert shown == pytest.approx(math.pi / 4.0 * 44.5**2 * 3.0, rel=5e-3)
    shown = numbers(part("dovetail", groove_middle="73.8", mouth_width="3.1"), "hot", pressure_share=1.0)["separating_force"]
    assert shown == pytest.approx(math.pi / 4.0 * 76.9**2 * 3.0, rel=5e-3)


def test_a_gas_is_no_liquid(fits):
    from tests.cli.test_gland import options

    ran = fits(*options("piston", fluid="air"))
    assert ran.status == 2
    assert "air is a gas" in ran.err


def test_every_fluid_that_a_state_names_is_asked_about():
    from fits.features.feature import State

    def verdict(medium: str, **changes) -> str:
        state = State("work", 20.0, 20.0, 1.0, medium=medium)
        (feature,) = check(part("face", (state,), **changes)).features
        return feature.verdict if not feature.checks else next(one for one in feature.checks if one.rule == "rubber stands the fluid").verdict

    assert verdict("oil") == "pass"
    assert verdict("water") == "pass"
    assert verdict("carbon dioxide") == "not covered"
    assert verdict("water", elastomer="AU 70") != "pass"


def test_gas_of_some_pressure_is_let_out_slowly_or_not_covered():
    from fits.features.feature import State

    gas = {"medium": "gas", "fluid": "nitrogen", "permeability": "1e-8 cm^2/(s*bar)"}

    def found(pressure: float, **changes):
        (feature,) = check(part("face", (State("work", 20.0, 20.0, pressure),), **{**gas, **changes})).features
        return next((one for one in feature.checks if one.rule == "gas can be let out"), None)

    assert found(2.9).verdict == "pass"
    assert found(5.0).verdict == "not covered"
    assert found(5.0, release_rated=True) is None
    assert found(5.0, medium="liquid", fluid="mineral oil", permeability=None) is None


def test_a_low_proof_and_ice_are_said():
    from fits.features.feature import State

    low = (State("work", 20.0, 20.0, 5.0), State("proof", 20.0, 20.0, 4.0, proof=True))
    high = (State("work", 20.0, 20.0, 5.0), State("proof", 20.0, 20.0, 7.0, proof=True))
    said = "proves nothing of it"
    assert said in " ".join(check(part("face", low)).features[0].cautions)
    assert said not in " ".join(check(part("face", high)).features[0].cautions)
    ice = (State("ice", -10.0, -10.0),)
    assert "freezes" in " ".join(check(part("face", ice, fluid="water")).features[0].cautions)
    assert "freezes" not in " ".join(check(part("face", ice)).features[0].cautions)


@pytest.mark.parametrize(("finish", "medium", "more", "verdict"), [
    ("32 uin", "liquid", {}, "pass"), ("33 uin", "liquid", {}, "fail"), ("16 uin", "gas", {}, "pass"), ("17 uin", "gas", {}, "fail"),
    ("16 uin", "liquid", MOVING, "pass"), ("17 uin", "liquid", MOVING, "fail"),
])
def test_a_finish_called_out_as_it_is_printed_is_fine_enough(finish: str, medium: str, more: dict[str, str], verdict: str):
    """32 uin static, 16 uin for gas and moving rings (article quoting ORD 5700, table 1)."""
    assert rule("piston", "faces are fine enough", finish=finish, medium=medium, **more).verdict == verdict
