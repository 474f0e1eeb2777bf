"""Running fits: a shaft, plunger or journal moving in a bore."""

from fits.features.running.declaration import Running

__all__ = ["Running"]
