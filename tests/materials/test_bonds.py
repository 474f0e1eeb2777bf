"""Retaining compounds: names of what is reported."""

from __future__ import annotations

import pytest

from fits.materials.bonds import reported


def test_what_nobody_reports_is_no_number():
    with pytest.raises(KeyError, match="widest gap"):
        reported("widest gap")
