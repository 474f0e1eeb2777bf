"""Dowel joints: a pin tight in one part and free in the other."""

from fits.features.dowel.declaration import Dowel

__all__ = ["Dowel"]
