"""How to join the layers: one stage after the other, with what is cut in between."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from fits import quantity
from fits.features.compound.joining import parts_of
from fits.features.compound.sources import JOIN
from fits.features.feature import Step
from fits.features.when import at_level
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.compound.declaration import Compound

    Ranges = Mapping[str, tuple[float, float]]

SHOP = Source("common practice", "practice")


def plan(of: Compound, numbers: Ranges) -> tuple[Step, ...]:
    """Measure, join stage by stage, cut what is finished as fitted, measure the bore."""
    steps = [
        Step(
            "deburr, clean, let all layers reach one temperature, measure along and around",
            "micrometer and bore gauge",
            "inside the limits above at 20 degC",
            "a size is outside: ask again with the measured sizes",
            source=SHOP,
        )
    ]
    for stage, interface in enumerate(of.joints, 1):
        steps += [_cut(of, k, face) for k, face in _before(of, interface)]
        steps.append(_join(of, numbers, stage, interface))
    steps += [_cut(of, k, face) for k, face in sorted(of.finished) if _own(of, k, face) is None]
    if "bore_closure" in numbers and (0, "inside") not in of.finished:
        low, high = numbers["bore_closure"]
        steps.append(
            Step(
                "let it come to 20 degC and measure the bore; ream or hone it now if it must be closer",
                "bore gauge",
                f"it closes by {quantity.span(low, high, 'length')} in all",
                "it closed by more than this: look for a layer out of round or out of its limits",
                source=SHOP,
            )
        )
    return tuple(steps)


def _own(of: Compound, k: int, face: str) -> int | None:
    """The interface that a face belongs to; None for the bore and the outside of the whole."""
    j = k - 1 if face == "inside" else k
    return j if 0 <= j < len(of.rings) - 1 else None


def _before(of: Compound, interface: int) -> list[tuple[int, str]]:
    return [(k, face) for k, face in sorted(of.finished) if _own(of, k, face) == interface]


def _cut(of: Compound, k: int, face: str) -> Step:
    size = getattr(of.rings[k], face)
    return Step(
        f"let it come to 20 degC, then finish the {face} of layer {k + 1} as fitted",
        "lathe, hone or grinder",
        quantity.span(size.lower, size.upper, "length"),
        source=SHOP,
    )


def _join(of: Compound, numbers: Ranges, stage: int, interface: int) -> Step:
    words = f"layers {interface + 1}-{interface + 2}"

    def span(name: str) -> tuple[float, float] | None:
        return numbers.get(at_level(name, words), numbers.get(name))

    inner, outer = parts_of(of, interface)
    said = []
    if (heat := span("heat_outer_to")) is not None:
        ceiling = min(of.rings[k].material.heating_limit or float("inf") for k in outer)
        if heat[1] > ceiling:
            metal = f"its metal stands {quantity.show(ceiling, 'temperature')}"
            said.append(f"by heat alone it would need {quantity.show(heat[1], 'temperature')}, and {metal}")
        else:
            unknown = any(of.rings[k].material.heating_limit is None for k in outer)
            ask = " (ask whether its metal and temper stand that)" if unknown else ""
            said.append(f"{_named(outer)} at {quantity.show(heat[1], 'temperature')}{ask}")
    if (cold := span("chill_inner_to")) is not None:
        said.append(f"{_named(inner)} at {quantity.show(cold[0], 'temperature')}")
    return Step(
        f"stage {stage}: heat {_named(outer)}, or chill {_named(inner)}, all through, and put "
        f"{_named(inner)} in at once",
        "oven or cold bath",
        ", or ".join(said) if said else "not by heat or cold alone",
        "it grips before it is home",
        "gloves; ventilate; never chill a sealed volume",
        source=JOIN,
    )


def _named(layers: range) -> str:
    if len(layers) == 1:
        return f"layer {layers[0] + 1}"
    return f"layers {layers[0] + 1} to {layers[-1] + 1}"
