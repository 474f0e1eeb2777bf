"""Plug gauges by class."""

from __future__ import annotations

from fits.shop.gauges import coarsest_class
from fits.sizes.limits import Limits


def test_no_class_of_gauge_beyond_the_table():
    assert coarsest_class(Limits(5000.0, 5001.0), 0.1) == ""
