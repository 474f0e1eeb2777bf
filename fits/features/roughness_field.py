"""The roughness of a face, as Rz or as Ra."""

from __future__ import annotations

from typing import Any

from fits.features.fields import Context, Measure, Spread

# Rz over Ra at which 0.8 Rz is 3 Ra, the trade's loss for faces known by their Ra.
RZ_OVER_RA = 3.75


class Roughness(Measure):
    """The roughness of a face: Rz, or Ra where the text says so (``0.8 um Ra``); kept as Rz in um."""

    scale = f"Rz, {RZ_OVER_RA:g} times Ra"

    def __init__(self, help: str) -> None:
        super().__init__(help, quantity="roughness", digits=1, least=0.0)

    def written(self, value: Spread) -> tuple[Spread, str]:
        """An Ra as Ra, so that nobody takes its Rz for one."""
        if value.text.endswith("Ra"):
            return Spread(value.low / RZ_OVER_RA, value.high / RZ_OVER_RA), " Ra"
        return value, " Rz"

    def parse(self, value: Any, context: Context) -> Spread:
        """Rz and its range; an Ra counts 3.75 times."""
        if not isinstance(value, str):
            return super().parse(value, context)
        text = value.strip()
        words = text.split()
        if words[-1:] in (["Ra"], ["Rz"]):
            found = super().parse(" ".join(words[:-1]), context)
            factor = RZ_OVER_RA if words[-1] == "Ra" else 1.0
            return Spread(found.low * factor, found.high * factor, text)
        return super().parse(text, context)
