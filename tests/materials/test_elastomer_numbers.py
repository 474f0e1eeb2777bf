"""Elastomers by their printed numbers: ends, tests, sources, what is said of a fluid, and how one is named."""

from __future__ import annotations

import numpy as np
import pytest

from fits import tables
from fits.errors import InputError
from fits.materials import elastomers
from fits.materials.elastomers import clash, elastomer, fluids, names, words


@pytest.mark.parametrize(("name", "lowest", "highest", "tr10", "expansion"), [
    # Bode Seal, property table: service range; TR10 typical (from memory); expansion in 1e-6/K (pspglobal.com and others).
    ("NBR 70", -30, 100, (-25, -20), (112, 230)), ("NBR low-temperature 70", -50, 100, (-45, -40), (112, 230)), ("CR 70", -40, 100, None, (137, 137)),
    ("FKM 75", -15, 200, (-17, -17), (160, 162)), ("FFKM 75", -15, 260, None, (230, 230)), ("NR 60", None, 100, None, (66, 69)), ("HNBR 75", -30, 150, (-30, -20), None),
])
def test_what_is_known_of_a_material(name: str, lowest: float | None, highest: float, tr10: tuple[float, float] | None, expansion: tuple[float, float] | None):
    of = elastomer(name)
    assert (of.lowest and of.lowest[:2]) == (None if lowest is None else (lowest, lowest))
    assert of.highest[:2] == (highest, highest)
    assert (of.tr10 and of.tr10[:2]) == tr10
    assert (of.expansion and of.expansion[:2]) == (None if expansion is None else pytest.approx(tuple(1e-6 * one for one in expansion)))
    assert of.scatters == (expansion is not None and expansion[0] < expansion[1])
    assert of.name == str(of) == name
    known = [one for one in (of.lowest, of.highest, of.tr10, of.expansion) if one is not None]
    assert set(of.sources()) == {one.source for one in known}
    assert len(of.sources()) == len(set(of.sources()))


def test_strain_between_two_sources():
    """112 to 230 x 1e-6/K, 60 K above and 35 K below 20 degC; a quarter of the way is 141.5."""
    of = elastomer("NBR 70")
    assert of.strain_at(np.array([80.0, -15.0, 20.0]), 0.25) == pytest.approx([141.5e-6 * 60.0, -141.5e-6 * 35.0, 0.0])
    assert of.strain_at(np.array([80.0])) == pytest.approx([112e-6 * 60.0])
    assert of.strain_at(np.array([80.0]), 1.0) == pytest.approx([230e-6 * 60.0])
    unknown = elastomer("HNBR 75").strain_at(np.array([20.0, 19.999, 20.001]))
    assert unknown[0] == 0.0
    assert np.isnan(unknown[1:]).all()


@pytest.mark.parametrize(("name", "static", "moving"), [("NBR 70", -28, -20), ("FKM 75", -25, -17), ("EPDM 70", -53, -45), ("FVMQ 70", -63, -55)])
def test_cold_limit_with_its_words(name: str, static: float, moving: float):
    """8 K below the warm end of TR10 at rest, at it moving (pspglobal.com)."""
    of = elastomer(name)
    still, rubbing = of.cold_limit(moving=False), of.cold_limit(moving=True)
    assert (still.low, still.high, rubbing.low, rubbing.high) == (static, static, moving, moving)
    assert still.source.text.startswith(f"8 K below TR10 of {moving} degC (")
    assert rubbing.source.text.startswith(f"at TR10 of {moving} degC (")
    assert rubbing.source.evidence == still.source.evidence == "memory"


@pytest.mark.parametrize(("name", "grade"), [("AU 90", (1, 1)), ("NBR 70", (2, 2)), ("FKM 75", (2, 3)), ("FVMQ 70", (3, 3)), ("VMQ 70", (4, 4)), ("FEPM 80", None), ("NR 60", None)])
def test_grades_against_rubbing(name: str, grade: tuple[int, int] | None):
    """Bode Seal: A excellent (1) to E not recommended (5)."""
    found = elastomer(name).wear()
    assert (found and found[:2]) == grade
    assert found is None or found.source.text.startswith(f"abrasion of {elastomer(name).material}")


@pytest.mark.parametrize(("name", "sets"), [
    # From memory, and at 120 degC from the Handbook of Plastics Technologies.
    ("EPDM 70", [(0.10, 0.25, "at 125 to 150 degC"), (0.50, 0.50, "at 120 degC")]), ("VMQ 70", [(0.15, 0.30, "at 175 to 200 degC")]),
    ("CR 70", [(0.15, 0.35, "at 100 degC"), (0.30, 0.30, "at 120 degC")]), ("EU 90", []),
])
def test_sets_of_their_tests(name: str, sets: list[tuple[float, float, str]]):
    found = elastomer(name).sets()
    assert [(one.low, one.high, one.test) for one in found] == [(pytest.approx(low), pytest.approx(high), test) for low, high, test in sets]
    assert all("compression set of" in one.source.text for one in found)


@pytest.mark.parametrize(("name", "fluid", "swell"), [
    ("EPDM 70", "mineral oil", (0.30, 0.80)), ("HNBR 75", "mineral oil", (0.0, 0.30)), ("CR 70", "mineral oil", (0.0, 1.20)), ("FKM 75", "mineral oil", (0.0, 0.10)), ("FKM 75", "water", None),
])
def test_swell_in_its_fluid(name: str, fluid: str, swell: tuple[float, float] | None):
    found = elastomer(name).swell(fluid)
    assert (found and found[:2]) == (swell and pytest.approx(swell))


def test_modulus_with_its_scatter():
    """Gent 1958: E = 0.0981 (56 + 7.62336 S)/(0.137505 (254 - 2.54 S)), 30 % either way, 30 to 80 Shore A."""
    for hardness in (30.0, 55.0, 80.0):
        found = elastomer(f"NBR {hardness:g}").modulus()
        middle = 0.0981 * (56.0 + 7.62336 * hardness) / (0.137505 * (254.0 - 2.54 * hardness))
        assert (found.low, found.high) == pytest.approx((0.7 * middle, 1.3 * middle))
    assert elastomer("NBR 29").modulus() is None
    assert elastomer("NBR 81").modulus() is None


@pytest.mark.parametrize(("name", "grades"), [("FVMQ 60", (60, 70, 75, 80)), ("FKM 75", (70, 75, 80, 90)), ("PVMQ 50", (50,)), ("EU 90", ())])
def test_hardnesses_that_are_sold(name: str, grades: tuple[float, ...]):
    assert elastomer(name).grades() == grades


def test_names_and_words():
    assert names()[0] == "NBR"
    assert len(names()) == len(set(names())) == 19
    assert words("VMQ") == "silicone"
    assert words("none") == ""
    assert fluids()[-1] == "oxygen"
    assert len(fluids()) == len(set(fluids()))


@pytest.mark.parametrize(("hardness", "good"), [(20, True), (95, True), (19, False), (96, False)])
def test_hardnesses_that_a_ring_has(hardness: int, good: bool):
    if good:
        assert elastomer(f"NBR {hardness}").hardness == hardness
        return
    with pytest.raises(InputError, match="hardness runs from 20 to 95 Shore A"):
        elastomer(f"NBR {hardness}")


@pytest.mark.parametrize(("text", "must", "hint"), [
    ("NBR", "material and hardness are due", 'write "NBR 70", with the hardness that is on the packet'), ("VMQ", "material and hardness are due", 'write "VMQ 70", with'),
    ("silicone", "material and hardness are due", 'write "VMQ 70", with'), ("natural rubber", "material and hardness are due", 'write "NR 70", with'),
    ("rubber", "material and hardness are due", 'write "NBR 70", with'), ("75", "material and hardness are due", 'write "NBR 70"'), ("NBR -70", "material and hardness are due", 'write "NBR 70"'),
    # Two cures of one name in words: the first of the table.
    ("Ethylene Propylene 80", "unknown elastomer", 'did you mean "EPDM 80"?'), ("fkm 80A", "unknown elastomer", 'did you mean "FKM 80"?'),
    ("something 70", "unknown elastomer", "materials: NBR, NBR low-temperature, HNBR"), ("NBR 99", "hardness runs", 'write "NBR 70"'), ("EPDM peroxide 5", "hardness runs", 'write "EPDM peroxide 70"'),
])
def test_what_is_no_elastomer(text: str, must: str, hint: str):
    with pytest.raises(InputError) as caught:
        elastomer(text)
    (fault,) = caught.value.faults
    assert must in fault.must
    assert fault.got == text
    assert fault.hint.startswith(hint)


def test_how_one_is_written():
    assert elastomer("  EPDM   peroxide 80A ").name == "EPDM peroxide 80"
    assert elastomer("EPDM peroxide 80").material == "EPDM peroxide"


def test_what_was_typed_is_told():
    """Both ends where they differ, and the unit."""
    of = elastomer("NBR 70")
    known = elastomers.Known(-40.0, -40.0, of.lowest.source)
    typed = of._replace(lowest=known, expansion=elastomers.Known(1.5e-4, 2e-4, known.source), typed=("lowest", "expansion"))
    assert str(typed) == "NBR 70 (lowest -40 degC, expansion 0.00015 to 0.0002 1/K)"


@pytest.mark.parametrize(("name", "fluid", "verdict", "up_to", "says"), [
    # The coolest of several rows, the worst verdict of several.
    ("FVMQ 70", "mineral oil", "ok", 150.0, "FVMQ in mineral oil: rated good"), ("EPDM peroxide 70", "steam", "ok", 175.0, "EPDM peroxide in steam: goes with it"),
    ("NBR 70", "mineral oil", "ok", None, "NBR in mineral oil: rated good"), ("AU 90", "water", "unknown", None, "AU in water: rated poor in hot water; ask the maker of the ring about its compound"),
    ("VMQ 70", "mineral oil", "refuse", None, "VMQ in mineral oil: not for petroleum products; known to stand it: NBR, NBR low-temperature, HNBR, FVMQ, FKM, FKM low-temperature, FFKM, FEPM, AU, EU"),
    ("NBR 70", "ketones", "refuse", None, "NBR in ketones: does not stand it; known to stand it: EPDM, EPDM peroxide"),
    ("FVMQ 70", "synthetic turbine oil", "refuse", None, "FVMQ in synthetic turbine oil: not for most of them"),
    ("FEPM 80", "fuel", "unknown", None, "nothing is known of FEPM in fuel: ask the maker of the ring"),
    ("NBR 70", "oxygen", "refuse", None, "rubber ignites in oxygen: ask an oxygen specialist"), ("NBR 70", "mineral oli", "unknown", None, 'which fluid is "mineral oli"? did you mean "mineral oil"?'),
    ("NBR 70", "zzz", "unknown", None, 'which fluid is "zzz"? known: air, water'),
])
def test_what_is_said_of_a_fluid(name: str, fluid: str, verdict: str, up_to: float | None, says: str):
    found = clash(elastomer(name), fluid)
    assert (found.verdict, found.up_to) == (verdict, up_to)
    assert found.reason == says if verdict != "unknown" else found.reason.startswith(says)
    assert (found.source is None) == ("nothing is known" in says or "which fluid" in says)


def test_whatever_is_named_as_standing_a_fluid_has_no_bad_row():
    rows = tables.load("elastomers/fluids").rows
    named = 0
    for row in rows:
        if row["verdict"] != "refuse":
            continue
        said = clash(elastomer(f"{row['material']} 70"), row["fluid"]).reason.partition("known to stand it: ")[2]
        for one in said.split(", ") if said else ():
            named += 1
            assert {other["verdict"] for other in rows if (other["material"], other["fluid"]) == (one, row["fluid"])} == {"ok"}
    assert named > 20
