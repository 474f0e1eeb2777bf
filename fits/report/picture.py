"""All drawings of an answer as one picture, SVG or PNG."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fits.errors import DeliveryError, Fault, InputError
from fits.questions.answer import Answer
from fits.report import charts
from fits.report.drawing import Drawing, on_one_sheet

FORMATS = (".svg", ".png")
# Pixels of a PNG for each pixel of the drawing.
SCALE = 2.0


def check_name(path: str) -> None:
    """Refuse a picture of another format before anything is computed for it.

    Raises:
        InputError: the name ends neither in .svg nor in .png.
    """
    if not path.lower().endswith(FORMATS):
        raise InputError(Fault("the name must end in .svg or .png", path, "--picture"))


def render(answer: Answer, path: str) -> str | bytes:
    """The picture in the format of its name, in the answer's units.

    Raises:
        InputError: the answer has nothing to draw.
        DeliveryError: PNG without the library that draws it.
    """
    return rendered(charts.drawings(answer, "in" if answer.units == "in" else "mm"), path)


def rendered(drawings: Iterable[tuple[str, Sequence[Drawing]]], path: str) -> str | bytes:
    """Groups of drawings as one picture in the format of its name.

    Raises:
        InputError: another format, or nothing to draw.
        DeliveryError: PNG without the library that draws it.
    """
    check_name(path)
    groups = list(drawings)
    if not groups:
        raise InputError(Fault("there is nothing to draw in this answer", path, "--picture"))
    svg = on_one_sheet(groups)
    return svg if path.lower().endswith(".svg") else _png(svg)


def _png(svg: str) -> bytes:
    try:
        from cairosvg import svg2png
    except (ImportError, OSError):
        hint = 'pip install "fits[png]" (it needs cairo), or ask for FILE.svg'
        raise DeliveryError(Fault("a PNG needs CairoSVG", hint=hint)) from None
    drawn: bytes = svg2png(bytestring=svg.encode(), scale=SCALE)
    return drawn
