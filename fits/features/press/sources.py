"""Where the equations of the press fit come from."""

from __future__ import annotations

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
SMOOTH = Source(
    "0.8 (Rz_hole + Rz_shaft), DIN 7190:2001 (other editions may differ); equal to 3 (Ra_1 + Ra_2), "
    "Nguyen & Lam, EUREKA: Physics and Engineering 2022 no. 5",
    "memory",
)
EQUILIBRIUM = Source("equilibrium at the interface", "derived")
CLOCK = Source("lumped heat balance, Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5")
PLASTIC = Source("yielding ring, Tresca: Lundberg (1944), Kollmann; checked by integration", "memory")
BUCKLE = Source(
    "Glock (1977), half of it; loose: Moser, Buried Pipe Design, p. 111",
    "memory",
)
BRITTLE = Source("Zwickau Maschinenelemente formula sheet 6/6 (2013): brittle parts, ultimate/2")
CRACKING = Source(
    "at most half of the threshold under sustained hoop: answer on press fits of bushings, "
    "eng-tips.com/threads/max-interference-for-press-fit-bushing.40858"
)
PORT = Source("geometry; thread diameters of ASME B1.20.1, table 2", "memory")
BEARING = Source("SKF, hot mounting of bearings: open bearings 120 degC, sealed ones 80 degC at most")
GALVANIC = Source("anodic index against gold, vk6ysf.com/galvanic_table.htm")
HOOKE = Source("Hooke on Lamé's stresses at the face", "derived")
YIELD = Source("yield at temperature over the safety factor", "derived")
METAL = Source("the metal at the state's temperature", "derived")
