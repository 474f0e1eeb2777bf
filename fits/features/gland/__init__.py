"""Seal glands: a ring of round section in a groove, one declaration a form."""

from fits.features.gland.faces import DovetailGland, FaceGland, TriangularGland
from fits.features.gland.radial import PistonGland, RodGland

__all__ = ["DovetailGland", "FaceGland", "PistonGland", "RodGland", "TriangularGland"]
