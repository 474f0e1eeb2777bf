"""Elastomers: printed values, refusals, what is not known stays not known."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits import tables
from fits.errors import InputError
from fits.materials.elastomers import clash, elastomer, fluids, modulus_of, names

EVERY = [f"{name} 70" for name in names()]


# Shear modulus (a third of Young's), MPa, printed beside Gent's relation for 40, 60 and 80 Shore A
# in the documentation of a public finite-element study that quotes Gent 1958.
@pytest.mark.parametrize(("hardness", "shear"), [(40, 0.56), (60, 1.20), (80, 3.12)])
def test_modulus_from_hardness(hardness: float, shear: float):
    assert round(modulus_of(hardness) / 3.0, 2) == shear


def test_modulus_has_its_scatter_and_its_range():
    found = elastomer("NBR 70").modulus()
    assert found is not None
    assert found.low < modulus_of(70.0) < found.high
    assert found.high / found.low == pytest.approx(1.3 / 0.7)
    assert elastomer("NBR 90").modulus() is None
    assert elastomer("NBR 30").modulus() is not None


@given(st.floats(30, 79))
def test_harder_is_stiffer(hardness: float):
    assert 0.0 < modulus_of(hardness) < modulus_of(hardness + 1.0)


# Second sources of the temperatures (the table rests on another maker's list): degC.
SECOND = [
    ("VMQ 70", -55, 200),  # SAE AMS7268C, scope, 65-75 Shore A, air
    ("FVMQ 70", -55, 175),  # SAE AMS7273D, scope, in fuels
]


@pytest.mark.parametrize(("name", "lowest", "highest"), SECOND)
def test_temperatures_against_a_second_source(name: str, lowest: float, highest: float):
    found = elastomer(name)
    assert (found.lowest.low, found.highest.low) == (lowest, highest)


# Sealstar, O-ring materials (github.com/yongssgi-ops/sealstar-homepage, js/products.js): another maker's ranges.
@pytest.mark.parametrize(("name", "lowest", "highest"), [
    ("NBR 70", -30, 100), ("HNBR 75", -30, 150), ("EPDM 70", -45, 150), ("VMQ 70", -60, 200), ("CR 70", -40, 100),
    ("FKM 75", -15, 200), ("FEPM 75", -20, 230), ("FFKM 75", -25, 270), ("AU 90", -40, 100), ("EU 90", -40, 100),
])
def test_no_range_is_wider_than_another_maker_s(name: str, lowest: float, highest: float):
    found = elastomer(name)
    assert lowest <= found.lowest.low < found.highest.low <= highest


# Highest temperature for about 1000 h (30-50 % loss of properties), pspglobal.com, seal thermal stability.
@pytest.mark.parametrize(("name", "limit"), [("FKM 75", 200), ("NBR 70", 120), ("VMQ 70", 230), ("FFKM 75", 300), ("EPDM peroxide 70", 150)])
def test_no_limit_lies_above_that_of_1000_hours(name: str, limit: float):
    assert elastomer(name).highest.low <= limit


def test_expansion_where_sources_differ_is_a_range():
    found = elastomer("NBR 70")
    assert found.scatters
    # 62e-6 per degF (pspglobal.com, second column) is 112e-6 per K; its first column gives 23e-5
    assert found.expansion.low == pytest.approx(62e-6 * 1.8, rel=0.005)
    assert found.expansion.high == pytest.approx(230e-6)
    strains = found.strain_at(np.array([20.0, 120.0]), np.array([[0.0], [1.0]]))
    assert strains == pytest.approx(np.array([[0.0, 0.0112], [0.0, 0.0230]]))


def test_unknown_expansion_is_nan_but_at_20_degrees():
    strain = elastomer("HNBR 75").strain_at(np.array([20.0, 60.0]))
    assert strain[0] == 0.0
    assert np.isnan(strain[1])


def test_cold_limit_takes_the_warm_end_of_tr10():
    """Static about 8 K (15 degF) below TR10, moving at TR10 (pspglobal.com; Parker eHandbook)."""
    found = elastomer("NBR 70")
    assert found.tr10[:2] == (-25.0, -20.0)
    assert found.cold_limit(moving=False).low == -28.0
    assert found.cold_limit(moving=True).low == -20.0
    assert found.cold_limit(moving=False).source.evidence == "memory"
    assert elastomer("VMQ 70").cold_limit(moving=False) is None


def test_a_moving_ring_never_has_the_colder_limit():
    for name in EVERY:
        of = elastomer(name)
        if of.tr10 is not None:
            assert of.cold_limit(moving=True).low > of.cold_limit(moving=False).low


def test_tr10_lies_above_the_glass_transition():
    """5 to 15 K above it; never below (Handbook of Plastics Technologies, Table 4.2, for the transition)."""
    rows = tables.load("elastomers/cold").rows
    checked = 0
    for row in rows:
        tr10 = elastomer(f"{row['material']} 70").tr10
        if row["property"] == "glass transition" and tr10 is not None:
            assert tr10.high > float(row["low"])
            checked += 1
    assert checked == 3


def test_set_belongs_to_its_own_test():
    found = elastomer("NBR 70").sets()
    assert [(one.low, one.high, one.test, one.source.evidence) for one in found] == [
        (0.10, 0.25, "at 100 degC", "memory"), (0.50, 0.50, "at 120 degC", "seen"),
    ]
    assert elastomer("AU 90").sets() == ()


def test_swell_is_of_its_test_and_never_invented():
    assert elastomer("FKM 75").swell("phosphate ester")[:2] == (0.30, 0.80)
    assert elastomer("NBR 70").swell("mineral oil").test.startswith("class limit")
    assert elastomer("NBR 70").swell("water") is None


# EPDM with mineral oil is refused whatever the cure (oringsupplyco.com, aerospace materials: never petroleum oil).
@pytest.mark.parametrize("name", ["EPDM 70", "EPDM peroxide 80"])
def test_epdm_in_mineral_oil_is_refused(name: str):
    found = clash(elastomer(name), "mineral oil")
    assert found.verdict == "refuse"
    assert found.source is not None
    assert "NBR" in found.reason
    assert "EPDM" not in found.reason.split("known to stand it")[1]


@pytest.mark.parametrize(("name", "fluid", "verdict"), [
    ("NBR 70", "mineral oil", "ok"), ("FKM 75", "mineral oil", "ok"), ("FKM 75", "phosphate ester", "refuse"), ("EPDM 70", "phosphate ester", "ok"),
    ("VMQ 70", "mineral oil", "refuse"), ("NBR 70", "fuel", "unknown"), ("CR 70", "mineral oil", "unknown"), ("NBR 70", "steam", "refuse"),
    ("FEPM 75", "steam", "ok"), ("NBR 70", "oxygen", "refuse"), ("IIR 70", "air", "unknown"), ("EPDM 70", "brake fluid", "ok"), ("NBR 70", "brake fluid", "refuse"), ("FKM 75", "brake fluid", "unknown"), ("AU 90", "water", "unknown"), ("NBR 70", "carbon dioxide", "unknown"),
])
def test_elastomer_against_fluid(name: str, fluid: str, verdict: str):
    assert clash(elastomer(name), fluid).verdict == verdict


@pytest.mark.parametrize("fluid", ["oil", "hydraulic oil", "gas", "", "Mineral oil", "mineraloil"])
def test_an_unknown_fluid_is_asked_never_guessed(fluid: str):
    found = clash(elastomer("NBR 70"), fluid)
    assert found.verdict == "unknown"
    assert "mineral oil" in found.reason
    assert found.source is None


@given(st.sampled_from(EVERY), st.one_of(st.text(max_size=12), st.sampled_from(fluids())))
def test_ok_always_has_a_row_and_a_source(name: str, fluid: str):
    found = clash(elastomer(name), fluid)
    rows = [r for r in tables.load("elastomers/fluids").rows if (r["material"], r["fluid"]) == (elastomer(name).material, fluid)]
    if found.verdict == "ok":
        assert found.source is not None
        assert {row["verdict"] for row in rows} == {"ok"}
        assert found.up_to == min((float(r["up_to"]) for r in rows if r["up_to"]), default=None)
    if not rows and fluid != "oxygen":
        assert found.verdict == "unknown"


def test_the_hottest_fluid_is_the_lowest_of_its_rows():
    assert clash(elastomer("FVMQ 70"), "fuel").up_to == 175.0
    assert clash(elastomer("NBR 70"), "water").up_to == 80.0


@pytest.mark.parametrize("name", EVERY)
def test_every_number_has_its_source(name: str):
    of = elastomer(name)
    for known in (of.lowest, of.highest, of.tr10, of.expansion, *of.sets(), of.modulus()):
        if known is not None:
            assert known.low <= known.high
            assert known.source.text
            assert known.source.evidence in tables.EVIDENCE
    assert of.highest is not None


def test_materials_of_every_table_are_known():
    for table in ("expansion", "cold", "compression_set", "swell", "hardness", "fluids"):
        rows = tables.load(f"elastomers/{table}").rows
        assert {row["material"] for row in rows} <= set(names()), table
    assert {row["verdict"] for row in tables.load("elastomers/fluids").rows} == {"ok", "ask", "refuse"}


@pytest.mark.parametrize(("text", "says"), [
    ("NBR", 'write "NBR 70"'), ("nitrile", 'write "NBR 70"'), ("nitrile 90", 'did you mean "NBR 90"?'), ("70", "material and hardness are due"),
    ("nbr 70", 'did you mean "NBR 70"?'), ("HNRB 75", 'did you mean "HNBR 75"?'), ("xyz 70", "materials: NBR"), ("NBR 5", "hardness runs from 20 to 95"), ("NBR 99", "hardness runs"),
    ("NBR 70.5", "material and hardness are due"), ("", "material and hardness are due"), ("silicone 70", 'did you mean "VMQ 70"?'),
])
def test_wrong_elastomers_are_one_line(text: str, says: str):
    with pytest.raises(InputError) as caught:
        elastomer(text)
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_hardness_on_the_packet():
    assert elastomer("NBR 70A").hardness == 70.0
    assert elastomer("NBR  90").name == "NBR 90"
    # ISO 3601-5 grades of NBR: 70 and 90 (sulphur), 75 and 90 (peroxide)
    assert elastomer("NBR 70").grades() == (70.0, 75.0, 90.0)
    assert elastomer("AU 90").grades() == ()
