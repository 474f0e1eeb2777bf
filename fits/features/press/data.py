"""The values of a press fit: labels, equations, sources, and what each depends on."""

from __future__ import annotations

from fits.features.feature import AS_MADE, ASSEMBLY, EVERY, Value
from fits.features.parts import GEOMETRY
from fits.tables import Source

LAME = Source("Lamé; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eq. 7-39")
STRESS = Source(
    "Lamé with axial stress; Budynas & Nisbett, Shigley's Mechanical Engineering Design, "
    "9th ed., eqs. 3-49 and 7-44 to 7-47"
)
MISES = Source("von Mises; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 5")
HOLD = Source("Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eqs. 7-48, 7-49")
HEAT = Source("thermal strain from 20 degC of both parts on the hole's diameter", "derived")
SPIN = Source("Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, Example 8.4")
JOIN = Source("Zwickau Maschinenelemente formula sheet 6/6 (2013), eq. 14")
PRESS = Source("Zwickau Maschinenelemente formula sheet 6/6 (2013), eq. 15")
SMOOTH = Source("0.8 (Rz_hole + Rz_shaft), DIN 7190:2001; equal to 3 (Ra_1 + Ra_2), "
                "Nguyen & Lam, EUREKA: Physics and Engineering 2022 no. 5", "memory")
EQUILIBRIUM = Source("equilibrium at the interface", "derived")
HOOKE = Source("Hooke on Lamé's stresses at the face", "derived")
YIELD = Source("yield at temperature over the safety factor", "derived")

_RADII = ("hole", "shaft_bore", "hub_outside")
_ELASTIC = (*_RADII, "hub_modulus", "shaft_modulus", "ends", "hub_strain", "shaft_strain")
_HUB_STRAIN = ("hub_strain",)
_SHAFT_STRAIN = ("shaft_strain",)
_SHARES = ("hub_expansion_share", "shaft_expansion_share")
_SPIN = ("speed_share", "hub_density", "shaft_density")


def _v(name: str, label: str, kind: str, digits: int, equation: str, source: Source,
       uses: tuple[str, ...], *more: str, shown: bool = True,
       inside: tuple[str, ...] = ()) -> Value:
    when = more or (EVERY,)
    return Value(name, label, kind, digits, equation, source, uses, when, shown, inside)


METAL = Source("the metal at the state's temperature", "derived")

VALUES: tuple[Value, ...] = (
    _v("hub_modulus", "modulus of the hub", "pressure", 0, "of the metal", METAL, (), EVERY, AS_MADE, shown=False),
    _v("shaft_modulus", "modulus of the inner part", "pressure", 0, "of the metal", METAL, (), EVERY, AS_MADE,
       shown=False),
    _v("hub_strain", "thermal strain of the hub", "number", 6, "of the metal", METAL,
       ("hub_expansion_share",), EVERY, AS_MADE, shown=False),
    _v("shaft_strain", "thermal strain of the inner part", "number", 6, "of the metal", METAL,
       ("shaft_expansion_share",), EVERY, AS_MADE, shown=False),
    _v("interference", "interference", "length", 4, "shaft - hole", GEOMETRY, ("hole", "shaft"), AS_MADE),
    _v("heat_gain", "gained by heat", "length", 4, "hole (strain_shaft - strain_hub)", HEAT,
       ("hole", *_HUB_STRAIN, *_SHAFT_STRAIN), shown=False),
    _v("speed_loss", "lost to speed", "length", 4, "2 (growth of hub - growth of inner part)", SPIN,
       (*_RADII, "hub_modulus", "shaft_modulus", *_SPIN), shown=False),
    _v("roughness_loss", "lost to roughness", "length", 4, "0.8 (Rz_hole + Rz_shaft)", SMOOTH,
       ("roughness_hole", "roughness_shaft", "roughness_share"), AS_MADE, shown=False),
    _v("effective_interference", "effective interference", "length", 4,
       "interference + gained by heat - lost to speed - lost to roughness", HEAT,
       ("interference", "heat_gain", "speed_loss", "roughness_loss"), EVERY, AS_MADE),
    _v("contact_pressure", "contact pressure", "pressure", 1,
       "p = [d + 2 p_i a^2 c/(E_i (c^2-a^2)) + axial terms]/D, d = effective interference/2, "
       "D = (c/E_o)[(b^2+c^2)/(b^2-c^2) + nu_o] + (c/E_i)[(c^2+a^2)/(c^2-a^2) - nu_i]",
       LAME, ("effective_interference", "fluid_pressure", *_ELASTIC), EVERY, AS_MADE),
    _v("fluid_pressure", "fluid pressure", "pressure", 1, "pressure of the state, 0 to full", GEOMETRY,
       ("pressure_share",), shown=False),
    _v("lift_pressure", "lifted by fluid at", "pressure", 1,
       "p at which contact pressure equals it", EQUILIBRIUM,
       ("effective_interference", *_ELASTIC)),
    _v("hub_hoop_at_hole", "hub hoop at the hole", "pressure", 1,
       "p (b^2+c^2)/(b^2-c^2)", STRESS, ("contact_pressure", *_RADII, *_SPIN), EVERY, AS_MADE),
    _v("hub_hoop_outside", "hub hoop outside", "pressure", 1,
       "2 p c^2/(b^2-c^2)", STRESS, ("contact_pressure", *_RADII, *_SPIN), EVERY, AS_MADE),
    _v("shaft_hoop_at_bore", "inner hoop at its bore", "pressure", 1,
       "[p_i (c^2+a^2) - 2 p c^2]/(c^2-a^2)", STRESS,
       ("contact_pressure", "fluid_pressure", *_RADII, *_SPIN), EVERY, AS_MADE),
    _v("shaft_hoop_at_surface", "inner hoop at its outside", "pressure", 1,
       "[2 p_i a^2 - p (c^2+a^2)]/(c^2-a^2)", STRESS,
       ("contact_pressure", "fluid_pressure", *_RADII, *_SPIN), EVERY, AS_MADE),
    _v("axial_i", "axial stress of the inner part", "pressure", 1, "by the ends", STRESS,
       ("contact_pressure", "fluid_pressure", *_ELASTIC), shown=False),
    _v("axial_o", "axial stress of the hub", "pressure", 1, "by the ends", STRESS,
       ("contact_pressure", "fluid_pressure", *_ELASTIC), shown=False),
    _v("hub_von_mises", "hub von Mises", "pressure", 1,
       "sqrt{[(s_r-s_t)^2 + (s_t-s_z)^2 + (s_z-s_r)^2]/2} at the hole", MISES,
       ("contact_pressure", "hub_hoop_at_hole", "axial_o"), EVERY, AS_MADE, inside=("pressure_share",)),
    _v("shaft_von_mises", "inner von Mises", "pressure", 1,
       "sqrt{[(s_r-s_t)^2 + (s_t-s_z)^2 + (s_z-s_r)^2]/2}, worse of bore and outside", MISES,
       ("contact_pressure", "shaft_hoop_at_bore", "shaft_hoop_at_surface", "axial_i",
        "fluid_pressure", "shaft_bore"), EVERY, AS_MADE, inside=("pressure_share",)),
    _v("hub_allowed", "allowed stress of the hub", "pressure", 1, "yield/safety_yield", YIELD,
       ("hub_yield", "safety_yield"), shown=False),
    _v("shaft_allowed", "allowed stress of the inner part", "pressure", 1, "yield/safety_yield", YIELD,
       ("shaft_yield", "safety_yield"), shown=False),
    _v("hub_brittle_allowed", "allowed tension of the hub", "pressure", 1, "ultimate/2", PRESS,
       ("hub_ultimate",), shown=False),
    _v("hub_heating_limit", "highest temperature for heating the hub", "temperature", 0, "of the metal",
       PRESS, (), ASSEMBLY, shown=False),
    _v("highest_speed", "highest speed, with overspeed", "speed", 0, "overspeed_factor n", SPIN,
       ("overspeed_factor", "speed"), ASSEMBLY, shown=False),
    _v("bore_after_least", "least bore wanted", "length", 4, "typed", GEOMETRY, ("bore_after",), AS_MADE,
       shown=False),
    _v("bore_after_most", "largest bore wanted", "length", 4, "typed", GEOMETRY, ("bore_after",), AS_MADE,
       shown=False),
    _v("axial_capacity", "holds along the axis", "force", 0, "mu p pi d L", HOLD,
       ("contact_pressure", "friction_hold", "hole", "length")),
    _v("torque_capacity", "holds in torque", "torque", 2, "mu p pi d^2 L/2", HOLD,
       ("axial_capacity", "hole")),
    _v("end_thrust", "end thrust of the fluid", "force", 0, "p_i pi d^2/4", EQUILIBRIUM,
       ("hole", "thrust_diameter", "fluid_pressure", "ends"), shown=False),
    _v("slip_demand", "must hold, with safety", "force", 0,
       "safety_slip sqrt[(load + thrust)^2 + (2 torque/d)^2]", HOLD,
       ("axial_load", "torque", "hole", "end_thrust", "safety_slip")),
    _v("press_force", "force to press in", "force", 0, "mu p pi d L, no smoothing", PRESS,
       ("interference", "friction_press", "length", *_RADII, "hub_modulus", "shaft_modulus"), ASSEMBLY),
    _v("push_out_force", "force to push out", "force", 0, "mu p pi d L, mu from holding to pressing", HOLD,
       ("interference", "roughness_loss", "friction_hold", "friction_press", "friction_share", "length",
        *_RADII, "hub_modulus", "shaft_modulus"), ASSEMBLY),
    _v("heat_hub_to", "heat the hub to", "temperature", 0,
       "strain_hub(T) d = interference + joining clearance", JOIN,
       ("interference", "hole", "joining_clearance", "hub_expansion_share"), ASSEMBLY),
    _v("chill_shaft_to", "or chill inner part to", "temperature", 0,
       "-strain_shaft(T) d = interference + joining clearance", JOIN,
       ("interference", "hole", "joining_clearance", "shaft_expansion_share"), ASSEMBLY),
    _v("bore_closure", "the bore closes by", "length", 4, "-d_bore (s_t - nu s_r - nu s_z)/E_i", HOOKE,
       ("shaft_bore", "shaft_hoop_at_bore", "axial_i", "fluid_pressure", "shaft_modulus"),
       EVERY, AS_MADE, inside=("shaft_bore",)),
    _v("bore_in_state", "bore in this state", "length", 4, "d_bore (1 + strain) - closure", HOOKE,
       ("shaft_bore", "bore_closure", *_SHAFT_STRAIN), EVERY, AS_MADE),
    _v("fitted_bore", "bore after fitting, 20 degC", "length", 4, "d_bore - closure", HOOKE,
       ("bore_in_state",), AS_MADE, shown=False),
    _v("outside_growth", "the outside grows by", "length", 4, "d_out (s_t - nu s_z)/E_o", HOOKE,
       ("hub_outside", "hub_hoop_outside", "axial_o", "hub_modulus"), EVERY, AS_MADE),
    _v("outside_in_state", "outside in this state", "length", 4, "d_out (1 + strain) + growth", HOOKE,
       ("hub_outside", "outside_growth", *_HUB_STRAIN), EVERY, AS_MADE),
    _v("release_temperature", "comes loose when both are at", "temperature", 0,
       "interference left = d (strain_hub - strain_shaft)", HEAT,
       ("interference", "roughness_loss", "hole"), ASSEMBLY),
    _v("release_speed", "comes loose at speed", "speed", 0,
       "interference left/2 = growth of hub - growth of inner part", SPIN,
       ("interference", "roughness_loss", *_RADII, "hub_modulus", "shaft_modulus", "hub_density",
        "shaft_density"), ASSEMBLY),
)
