"""Friction of joints: lowest for holding, highest for pressing."""

from __future__ import annotations

from fits.materials.friction import joint


def test_the_order_of_the_pair_does_not_matter():
    assert joint("steel", "aluminium", assembly="heated", lubrication="dry")[:2] == joint(
        "aluminium", "steel", assembly="heated", lubrication="dry")[:2]


def test_lowest_and_highest_of_all_rows_that_fit():
    found = joint("steel", "steel", assembly="pressed", lubrication="dry")
    assert found is not None
    assert (found.low, found.high) == (0.08, 0.11)
    assert {source.evidence for source in found.sources} == {"seen", "memory"}


def test_a_chilled_part_is_joined_as_a_heated_hub():
    assert joint("steel", "steel", assembly="chilled", lubrication="dry")[:2] == (0.14, 0.14)


def test_no_row_is_no_number():
    assert joint("titanium", "copper", assembly="pressed", lubrication="dry") is None
