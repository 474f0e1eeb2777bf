"""A section drawn to scale from the plain shapes that a kind supplies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fits.features.figures import Figure
from fits.report import rows
from fits.report.drawing import LINE, WIDTH, Drawing, spread, wrap

Point = tuple[float, float]
LAYERS = {
    "part": "dense",
    "outline": "line",
    "line": "line",
    "ring": "light",
    "squeezed": "light",
    "circle": "line",
    "size": "line",
}
# Where the shapes lie, and the columns of labels on either side of them, px.
LEFT, RIGHT, SIDE = 110.0, WIDTH - 110.0, 96.0
TALLEST = 220.0


def section(figure: Figure, units: str) -> Drawing:
    """A figure's shapes to one scale, its labels in two columns that no line of text leaves."""
    drawing = Drawing(figure.title)
    points = [point for word, numbers, _ in figure.shapes for point in _corners(word, numbers)]
    low, high = (
        (min(x for x, _ in points), min(y for _, y in points)),
        (max(x for x, _ in points), max(y for _, y in points)),
    )
    wide, tall = max(high[0] - low[0], 1e-9), max(high[1] - low[1], 1e-9)
    scale = min((RIGHT - LEFT) / wide, TALLEST / tall)
    shift = ((RIGHT - LEFT) - wide * scale) / 2.0

    def at(point: Point) -> Point:
        return LEFT + shift + (point[0] - low[0]) * scale, 6.0 + (high[1] - point[1]) * scale

    labels = []
    for word, numbers, label in figure.shapes:
        _shape(drawing, word, [at(point) for point in _points(word, numbers)], numbers, scale)
        if label or word == "size":
            labels.append((_told(word, numbers, label, units), at(_anchor(word, numbers))))
    middle = (LEFT + RIGHT) / 2.0
    for side in (-1.0, 1.0):
        here = [(text, (x, y)) for text, (x, y) in labels if (x < middle) is (side < 0.0)]
        _column(drawing, here, side, tall * scale + 12.0)
    drawing.height = max(drawing.height, tall * scale + 14.0)
    drawing.note("to scale")
    return drawing


def _points(word: str, numbers: Sequence[float]) -> list[Point]:
    """The points of a shape; a ring or circle has its centre alone."""
    if word in ("ring", "circle"):
        return [(numbers[0], numbers[1])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _corners(word: str, numbers: Sequence[float]) -> Iterator[Point]:
    if word in ("ring", "circle"):
        x, y, rx, ry = numbers
        yield from ((x - rx, y - ry), (x + rx, y + ry))
    else:
        yield from _points(word, numbers)


def _anchor(word: str, numbers: Sequence[float]) -> Point:
    """Where the leader of a label ends: on a round shape's rim, at a polygon's first corner, amid a line."""
    if word in ("ring", "circle"):
        x, y, rx, ry = numbers
        return x - 0.7 * rx, y + (0.7 if word == "circle" else -0.7) * ry
    points = _points(word, numbers)
    middle = sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
    inward = 0.1 if word in ("part", "outline", "squeezed") else 1.0
    return tuple(  # type: ignore[return-value]
        corner + inward * (centre - corner) for corner, centre in zip(points[0], middle, strict=True)
    )


def _shape(
    drawing: Drawing, word: str, points: Sequence[Point], numbers: Sequence[float], scale: float
) -> None:
    layer = LAYERS[word]
    if word in ("ring", "circle"):
        drawing.ellipse(layer, *points[0], numbers[2] * scale, numbers[3] * scale)
    elif word == "size":
        drawing.arrow(layer, *points[0], *points[1])
    else:
        drawing.path(layer, points, closed=word != "line")


def _told(word: str, numbers: Sequence[float], label: str, units: str) -> str:
    """A label, with the length of a dimension line."""
    if word != "size":
        return label
    x1, y1, x2, y2 = numbers
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    return f"{label} {rows.length_text(length, units)} {units}".strip()


def _column(drawing: Drawing, labels: Sequence[tuple[str, Point]], side: float, tall: float) -> None:
    """One side's labels below each other, each led to its shape."""
    lines = [wrap(text, SIDE) for text, _ in labels]
    sizes = [LINE * len(one) + 4.0 for one in lines]
    starts = spread([y for _, (_, y) in labels], sizes, 0.0, tall)
    x, anchor = (4.0, "start") if side < 0.0 else (WIDTH - 4.0, "end")
    for (_, (to_x, to_y)), text, start in zip(labels, lines, starts, strict=True):
        boxes = [
            drawing.text(x, start + LINE * (index + 0.5), line, anchor) for index, line in enumerate(text)
        ]
        edge = max(b.x + b.width for b in boxes) if side < 0.0 else min(b.x for b in boxes)
        drawing.path("thin", [(edge - 3.0 * side, start + LINE / 2.0), (to_x, to_y)])
