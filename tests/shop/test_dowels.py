"""Holes that are suggested for dowel pins."""

from __future__ import annotations

import pytest

from fits.shop.dowels import free_hole, tight_hole
from fits.sizes.limits import Limits


def test_free_and_tight_holes_of_dowels():
    """Above the nominal: 0.0005 to 0.0012 in, 6 mm + 0.0127 to 0.03048 mm; a pin that is no dowel has none."""
    free = free_hole(Limits(6.0, 6.01, 6.0))
    assert free is not None
    assert (free.low, free.high) == pytest.approx((6.0127, 6.03048), abs=1e-9)
    assert free_hole(Limits(6.0, 6.01)) is None
    assert tight_hole(Limits(6.0, 6.01, 6.0)) is None
    # A dowel of a standard whose press holes aren't held.
    assert tight_hole(Limits(6.0, 6.01, 6.0, text="dowel 6 m6")) is None
    assert tight_hole(Limits(6.3, 6.31, 6.3, text="dowel 6.3 B18.8.5M")) is None
