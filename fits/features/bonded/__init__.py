"""Bonded slip fits: an inner part glued in a hub with a retaining compound."""

from fits.features.bonded.declaration import Bonded

__all__ = ["Bonded"]
