"""What is said of things to choose with limits for their sizes: screen, JSON and CSV."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fits import quantity
from fits.questions.options import Options, Sized
from fits.report.data import rounded


def lines(found: Options, units: str) -> list[str]:
    """The choices with their limits, or that there is none."""
    from fits.report.terminal import columns, wrapped

    said = []
    if found.found:
        said.append(f"CHOOSE {found.field} for {found.feature}, most room first")
        said += ["", f"  limits that hold in every state, worst case ({found.tried} tried)"]
        heads = [f"{size.field.replace('_', ' ')}, {units}" for size in found.found[0].sizes]
        cells = [[one.name, *(text(size, units) for size in one.sizes)] for one in found.found]
        said += columns([[found.field, *heads], *cells], "l" * len(cells[0]), "  ")
    else:
        said.append(f"NOTHING TO CHOOSE: no {found.field} of {found.tried} holds for {found.feature}")
    for note in found.notes:
        said += wrapped(note, "    ", "  ! ")
    return said


def text(size: Sized, units: str) -> str:
    """The limits of one size without its unit, rounded into the window."""
    low, high = (
        "" if end is None else quantity.show_end(end, "length", 3, up=up, units=units).partition(" ")[0]
        for end, up in ((size.low, True), (size.high, False))
    )
    if not low:
        return f"at most {high}"
    return f"{low} to {high}" if high else f"at least {low}"


def data(found: Options) -> dict[str, Any]:
    """Choices as plain data, mm."""
    from fits.report import windows

    return {
        "of": f"{found.feature}.{found.field}",
        "tried": found.tried,
        "found": [
            {
                "name": one.name,
                "unit": "mm",
                "sizes": {size.field: _ends(size) for size in one.sizes},
            }
            for one in found.found
        ],
        "notes": list(found.notes),
        **({"window": windows.window_data(found.window)} if found.window is not None else {}),
    }


def _ends(size: Sized) -> dict[str, float]:
    ends = {"min": size.low, "max": size.high}
    return {end: rounded(value) for end, value in ends.items() if value is not None}


def csv_rows(found: Options) -> Iterator[dict[str, Any]]:
    """One row a choice and size, and the notes."""
    for one in found.found:
        for size in one.sizes:
            yield {
                "feature": found.feature,
                "row": "choice",
                "name": one.name,
                "text": size.field,
                "least": "" if size.low is None else rounded(size.low),
                "greatest": "" if size.high is None else rounded(size.high),
                "unit": "mm",
            }
    for note in found.notes:
        yield {"feature": found.feature, "row": "notes", "text": note}
