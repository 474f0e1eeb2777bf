"""Which values an answer shows, and with how many decimals: what a bench can read or set, no more.

All choices of ours, written here a second time so that none changes unseen.
"""

from __future__ import annotations

import pytest

from fits import quantity
from fits.features.feature import numbers
from fits.features.kinds import KINDS, kind

# The others are limits that stand beside their rule already, or steps on the way to a value shown.
SHOWN = {
    "press": """
        coating_closes interference effective_interference contact_pressure lift_pressure hub_hoop_at_hole
        hub_hoop_outside shaft_hoop_at_bore shaft_hoop_at_surface hub_von_mises shaft_von_mises contact_ceiling
        free_collapse axial_capacity torque_capacity slip_demand press_force push_out_force heat_hub_to
        chill_shaft_to joining_gap seconds_in_air seconds_in_hole permanent_loss plastic_depth plastic_share
        capacity_after_yield grip_after_yield bore_closure bore_in_state outside_growth outside_in_state
        release_temperature release_speed galvanic_difference port_wall raceway_change clearance_left""",
    "compound": """
        interference joining_interference effective_interference contact_pressure axial_capacity torque_capacity
        hoop_inside hoop_outside von_mises bore_closure bore_in_state outside_growth heat_outer_to chill_inner_to""",
    "running": "clearance wall_growth wall_von_mises tube_von_mises collapse_allowed",
    "reamed": """
        reamer hole drill reaming_stock go no_go sure_pass go_share no_go_share iso_go iso_no_go iso_go_worn
        provable""",
    "dowel": """
        pin tight_hole free_hole interference clearance plate_von_mises tight_reamer free_reamer mismatch spare""",
    "bonded": """
        gap_as_made opens_by swells_by gap bond_pull bond_slide axial_capacity torque_capacity bond_demand
        bond_temperature hub_von_mises shaft_von_mises""",
}  # fmt: skip
GLAND = """
    gland_depth fresh_squeeze fresh_squeeze_depth squeeze squeeze_depth squeeze_left ring_section fill stretch
    extrusion_gap gap_allowed peak_contact_stress closing_load permeation"""
FACE = GLAND + " separating_force preload_needed"
BORE = GLAND + " groove_diameter bore_growth wall_von_mises land_stress"
SHOWN |= {
    "gland piston": BORE,
    "gland rod": BORE + " outside_compression",
    "gland face": FACE + " land_stress outside_compression",
    "gland dovetail": FACE + " land_stress mouth_open",
    "gland triangular": FACE,
}
# Decimals other than the usual ones of the quantity (metric).
DECIMALS = {
    # Glands are cut and rings sold to a hundredth; the thousandth shows what was rounded.
    **dict.fromkeys(
        ["bottom_radius", "fresh_squeeze_depth", "gland_depth", "groove_diameter", "mouth", "mouth_least", "mouth_most", "mouth_open", "radius_most", "ring_section", "squeeze_depth", "squeeze_left", "width_made", "width_most"], 3),
    "plastic_depth": 3,
    # Measured with a calliper or a rule.
    "lead_in_least": 2, "lead_in_length": 2, "port_wall": 2,
    # Small against the usual pressures of a wall.
    "fluid_pressure": 2, "grip_after_yield": 2, "peak_contact_stress": 2,
    # A modulus is known to three places at best.
    "hub_modulus": 0, "shaft_modulus": 0,
    # Millionths matter in a strain, ten-thousandths in a stretch.
    "hub_strain": 6, "shaft_strain": 6, "stretch": 4, "outside_compression": 4,
    # A grip comes within seconds.
    "seconds_in_hole": 1,
    # Counts, grades, yes or no.
    "trapped": 0, "wear_grade": 0, "alternating_demand": 0,
    # Published to as many.
    "galvanic_allowed": 2, "galvanic_difference": 2, "rubbing_speed": 2, "engagement": 2,
    "depth_in_diameters": 1, "side_slope": 1,
}  # fmt: skip
# The fluid of a press is the state's own pressure.
PRESS_DECIMALS = DECIMALS | {"fluid_pressure": 1}
FIELDS = {
    # Lengths that need no micrometer.
    **dict.fromkeys(
        ["length", "thrust_diameter", "spacing", "tight_depth", "wall", "depth", "gland_depth", "groove_depth", "groove_width", "land", "mouth_width", "leg", "port_distance"], 3),
    "roughness_hole": 1, "roughness_shaft": 1,
    "undercut_angle": 1, "side_angle": 1,
    "backup_rings": 0,
}  # fmt: skip


@pytest.mark.parametrize("name", KINDS)
def test_values_shown_are_those_a_bench_reads(name: str):
    values = kind(name).values
    assert len({one.name for one in values}) == len(values)
    assert sorted(one.name for one in values if one.shown) == sorted(SHOWN[name].split())


@pytest.mark.parametrize("name", KINDS)
def test_values_show_the_usual_decimals_or_their_own(name: str):
    own = PRESS_DECIMALS if name in ("press", "compound") else DECIMALS
    for value in kind(name).values:
        assert value.digits == own.get(value.name, quantity.KINDS[value.kind].decimals), value.name


@pytest.mark.parametrize("name", KINDS)
def test_fields_show_the_usual_decimals_or_their_own(name: str):
    for field, of in numbers(kind(name)).items():
        assert of.digits == FIELDS.get(field, quantity.KINDS[of.quantity].decimals), field


def test_usual_decimals_are_those_of_the_bench():
    """0.1 um of a fit, 0.01 um of a finish, 0.1 MPa, whole degrees, newtons, turns a minute and seconds."""
    assert {name: of.decimals for name, of in quantity.KINDS.items()} == {
        "length": 4, "roughness": 2, "temperature": 0, "temperature difference": 0, "pressure": 1, "force": 0,
        "torque": 2, "speed": 0, "density": 0, "expansion": 2, "time": 0, "permeability": 3, "flow": 2, "number": 3,
    }  # fmt: skip
