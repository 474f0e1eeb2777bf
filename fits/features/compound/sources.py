"""Where the equations of a compound come from."""

from __future__ import annotations

from fits.tables import Source

LAME = Source(
    "Lamé's displacements of every ring joined at the interfaces (Budynas & Nisbett, Shigley's "
    "Mechanical Engineering Design, 9th ed., ch. 3)",
    "derived",
)
STRESS = Source("Lamé; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eq. 3-49")
MISES = Source("von Mises; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 5")
HOLD = Source("Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed., eqs. 7-48, 7-49")
HEAT = Source("thermal strain from 20 degC of both neighbours on the hole's diameter", "derived")
SPIN = Source("Ugural & Fenster, Advanced Strength and Applied Elasticity, ch. 8, Example 8.4")
JOIN = Source("Zwickau Maschinenelemente formula sheet 6/6 (2013), eq. 14")
SMOOTH = Source(
    "0.8 (Rz_hole + Rz_shaft), DIN 7190:2001; equal to 3 (Ra_1 + Ra_2), "
    "Nguyen & Lam, EUREKA: Physics and Engineering 2022 no. 5",
    "memory",
)
BRITTLE = Source("Zwickau Maschinenelemente formula sheet 6/6 (2013): brittle parts, ultimate/2")
EQUILIBRIUM = Source("equilibrium at the interface", "derived")
HOOKE = Source("Hooke on Lamé's stresses at the face", "derived")
YIELD = Source("yield at temperature over the safety factor; brittle: ultimate/2", "derived")
