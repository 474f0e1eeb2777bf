"""Reamed holes: the drill, the reamer, the hole it should cut, the gauges that prove it."""

from fits.features.reamed.declaration import Reamed

__all__ = ["Reamed"]
