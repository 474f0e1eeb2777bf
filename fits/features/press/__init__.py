"""Press and shrink fits: an inner part held in a hub by its interference."""

from fits.features.press.declaration import Press

__all__ = ["Press"]
