"""Several layers fitted into each other: a sleeve in a sleeve in a body."""

from fits.features.compound.declaration import Compound

__all__ = ["Compound"]
