"""A drawing as inline SVG: layers of lines in the page's own text colour, and text in boxes.

Coordinates are whole pixels of a sheet 360 wide, y downward. Every label is put down
through :meth:`Drawing.text`, which keeps its box, so that no two overlap is a fact that
can be tested. Notes stand below: as text of the page on a sheet, as labels in a picture.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

WIDTH = 360.0
SIZE = 11.0
# A line of text with the room around it.
LINE = 14.0

_PAPER = '<rect width="100%" height="100%" fill="#fff"/>'
_SVG = (
    '<svg {place}viewBox="0 0 {width} {height}" role="img">'
    "<title>{title}</title><desc>{told}</desc>"
    "{graphic}</svg>"
)
_GRAPHIC = '{labels}<g stroke="currentColor">{filled}<g fill="none">{lines}</g></g>'
_PATH = '<path d="{d}"{style}/>'
_TEXT = '<text x="{x}" y="{y}">{text}</text>'
_ANCHORED = '<g text-anchor="{anchor}">{labels}</g>'
# Layers from the bottom up; those with a pattern of dashes differ without any colour.
FILLED = {"light": ' fill-opacity=".1"', "dense": ' fill-opacity=".3"'}
LINES = {
    "thin": ' stroke-width=".5"',
    "line": "",
    "dash": ' stroke-dasharray="5 3"',
    "dots": ' stroke-dasharray="1 2.5"',
    "heavy": ' stroke-width="3"',
}
# What stands for a layer where its sample is text.
SAMPLES = {
    "light": "\u2591",
    "dense": "\u2593",
    "line": "\u2014",
    "dash": "- -",
    "dots": "\u00b7 \u00b7",
    "": "",
}
# How far a line may be moved to be told with fewer points, px.
CLOSE = 0.25
# Boxes that share less than this only touch, px.
TOUCHING = 1e-6
# Widths of letters in the widest usual sans faces, in share of the size.
_NARROW, _SLIM, _BROAD = set("iIjl.,:;'|!"), set(' ()[]{}/frt-"'), set("mwMWQ@%—…")


class Box(NamedTuple):
    """Where a label stands: left, top, width, height."""

    x: float
    y: float
    width: float
    height: float

    def overlaps(self, other: Box) -> bool:
        """Whether two boxes share any area, more than a sum's last binary digit."""
        return (
            self.x < other.x + other.width - TOUCHING
            and other.x < self.x + self.width - TOUCHING
            and self.y < other.y + other.height - TOUCHING
            and other.y < self.y + self.height - TOUCHING
        )


def width_of(text: str) -> float:
    """How wide a label may be on any machine, px; on the safe side."""
    return SIZE * sum(
        0.36
        if one in _NARROW
        else 0.42
        if one in _SLIM
        else 1.0
        if one in _BROAD or ord(one) > 0x2000
        else 0.75
        if one.isupper()
        else 0.645
        for one in text
    )


def wrap(text: str, width: float) -> list[str]:
    """A text in lines that each fit a width; a longer word is broken."""
    for count in range(int(width / (SIZE * 0.36)), 0, -1):
        lines = textwrap.wrap(text, count) or [""]
        if all(width_of(line) <= width for line in lines):
            return lines
    return list(text)


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Starts of intervals of some sizes, each near the middle wanted, none overlapping.

    They stay between ``low`` and ``high`` where they fit there, else reach beyond ``high``.

    >>> spread([5.0, 5.0], [4.0, 4.0], 0.0, 20.0)
    [1.0, 5.0]
    """
    room = sum(sizes)
    order = sorted(range(len(wanted)), key=lambda one: wanted[one])
    # Less what stands before each, the starts need only not fall: neighbours that do are
    # pooled at their mean (isotonic regression), which moves all of them as little as can be.
    pools: list[tuple[float, int]] = []
    before = 0.0
    for one in order:
        pools.append((wanted[one] - sizes[one] / 2.0 - before, 1))
        before += sizes[one]
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (above, many), (below, few) = pools[-2:]
            pools[-2:] = [((above * many + below * few) / (many + few), many + few)]
    starts = [0.0] * len(wanted)
    before, waiting = 0.0, iter(order)
    for start, count in pools:
        for _ in range(count):
            one = next(waiting)
            starts[one] = max(min(start, high - room), low) + before
            before += sizes[one]
    return starts


def escaped(text: str) -> str:
    """Text for XML, without what XML can't hold."""
    kept = "".join(one for one in text if one >= " " and one not in "\x7f\ufffe\uffff")
    return kept.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def px(value: float) -> str:
    """A coordinate as a whole pixel.

    >>> px(12.04), px(-0.1)
    ('12', '0')
    """
    return f"{round(value)}"


def simplified(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """A polyline with only the points that move it by more than :data:`CLOSE` (Douglas-Peucker).

    >>> simplified([(0.0, 0.0), (1.0, 0.1), (2.0, 0.0)])
    [(0.0, 0.0), (2.0, 0.0)]
    """
    (x1, y1), (x2, y2) = points[0], points[-1]
    dx, dy = x2 - x1, y2 - y1
    square = dx * dx + dy * dy
    away = []
    for x, y in points:
        share = ((x - x1) * dx + (y - y1) * dy) / square if square else 0.0
        share = min(max(share, 0.0), 1.0)
        away.append(math.hypot(x - x1 - share * dx, y - y1 - share * dy))
    far = max(range(len(points)), key=away.__getitem__)
    if away[far] <= CLOSE:
        return [points[0], points[-1]]
    return [*simplified(points[: far + 1])[:-1], *simplified(points[far:])]


def _told(points: Sequence[tuple[float, float]], *, closed: bool) -> str:
    """The commands of a path, each from the sheet's corner or the point before, whichever is shorter."""
    at = [(round(x), round(y)) for x, y in points]
    said = f"M{at[0][0]} {at[0][1]}"
    for (x1, y1), (x2, y2) in pairwise(at):
        x, y = x2 - x1, y2 - y1
        if x1 == x2:
            said += min(f"V{y2}", f"v{y}", key=len)
        elif y1 == y2:
            said += min(f"H{x2}", f"h{x}", key=len)
        else:
            said += min(f"L{x2} {y2}", f"l{x}{y}" if y < 0 else f"l{x} {y}", key=len)
    return said + ("z" if closed else "")


class Drawing:
    """One drawing: a title, layers of paths, labels with their boxes."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.height = 0.0
        self.boxes: list[Box] = []
        self._paths: dict[str, list[str]] = {layer: [] for layer in (*FILLED, *LINES)}
        self._labels: dict[str, list[str]] = {}
        self.notes: list[tuple[str, str]] = []
        self._told = "notes below"
        self._inside: list[tuple[Drawing, float]] = []

    def path(self, layer: str, points: Sequence[tuple[float, float]], *, closed: bool = False) -> None:
        """A polyline or a closed polygon on a layer."""
        self._paths[layer].append(_told(simplified(points) if not closed else points, closed=closed))
        self.height = max(self.height, *(y + 2.0 for _, y in points))

    def ellipse(self, layer: str, x: float, y: float, rx: float, ry: float) -> None:
        """An ellipse on a layer."""
        # Halves of whole pixels: a chord that isn't twice the radius would move the middle.
        wide, high = round(rx), round(ry)
        arc = f"a{wide} {high} 0 1 0"
        self._paths[layer].append(f"M{px(x - wide)} {px(y)}{arc} {2 * wide} 0{arc} {-2 * wide} 0z")
        self.height = max(self.height, y + ry + 2.0)

    def arrow(self, layer: str, x1: float, y1: float, x2: float, y2: float) -> None:
        """A line with a head at both ends; short ones have none."""
        self.path(layer, [(x1, y1), (x2, y2)])
        length = math.hypot(x2 - x1, y2 - y1)
        if length < 9.0:
            return
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        for x, y, sign in ((x1, y1, 1.0), (x2, y2, -1.0)):
            back = (x + sign * 5.0 * ux, y + sign * 5.0 * uy)
            wings = [(back[0] - 2.2 * side * uy, back[1] + 2.2 * side * ux) for side in (1.0, -1.0)]
            self.path("line", [wings[0], (x, y), wings[1]])

    def text(self, x: float, y: float, text: str, anchor: str = "start") -> Box:
        """One line of text whose box has its middle at ``y``; anchor start, middle or end."""
        width = width_of(text)
        left = {"start": x, "middle": x - width / 2.0, "end": x - width}[anchor]
        box = Box(left, y - LINE / 2.0, width, LINE)
        self.boxes.append(box)
        said = _TEXT.format(x=f"{x:.0f}", y=f"{y + 4.0:.0f}", text=escaped(text))
        self._labels.setdefault(anchor, []).append(said)
        self.height = max(self.height, box.y + box.height)
        return box

    def note(self, text: str, *, sample: str = "") -> None:
        """What is said below the drawing, with a sample of a layer before it."""
        self.notes.append((sample, text))

    def with_notes(self) -> Drawing:
        """The drawing with its title above and its notes below as labels, to stand alone."""
        alone = Drawing(self.title)
        head = wrap(self.title, WIDTH - 8.0)
        down = LINE * len(head) + 6.0
        alone.boxes = [box._replace(y=box.y + down) for box in self.boxes]
        alone._inside = [(self, down)]
        for index, line in enumerate(head):
            alone.text(4.0, LINE * (index + 0.5), line)
        alone.height = max(alone.height, self.height + down)
        for sample, text in self.notes:
            alone._noted(sample, text)
        alone._told = "; ".join(text for _, text in self.notes)
        return alone

    def _noted(self, sample: str, text: str) -> None:
        left = 34.0 if sample else 4.0
        top = self.height + 3.0
        if sample in FILLED:
            box = [(6.0, top + 3.0), (28.0, top + 3.0), (28.0, top + 11.0), (6.0, top + 11.0)]
            self.path(sample, box, closed=True)
        elif sample:
            self.path(sample, [(6.0, top + LINE / 2.0), (28.0, top + LINE / 2.0)])
        for index, line in enumerate(wrap(text, WIDTH - left - 4.0)):
            self.text(left, top + LINE * (index + 0.5), line)

    def svg(self, *, at: tuple[float, float] | None = None) -> str:
        """The drawing as an element, placed ``at`` (x, y) in another drawing."""
        place = ""
        if at is not None:
            place = f'x="{px(at[0])}" y="{px(at[1])}" width="{px(WIDTH)}" height="{px(self.height)}" '
        graphic = self._graphic()
        for drawing, down in self._inside:
            graphic += f'<g transform="translate(0 {px(down)})">{drawing._graphic()}</g>'
        return _SVG.format(
            place=place,
            width=px(WIDTH),
            height=f"{math.ceil(self.height)}",
            title=escaped(self.title),
            told=escaped(self._told),
            graphic=graphic,
        )

    def _graphic(self) -> str:
        """Labels and paths, without the element around them."""
        filled, lines = (
            "".join(
                _PATH.format(d="".join(self._paths[layer]), style=style)
                for layer, style in layers.items()
                if self._paths[layer]
            )
            for layers in (FILLED, LINES)
        )
        labels = (
            "".join(texts) if anchor == "start" else _ANCHORED.format(anchor=anchor, labels="".join(texts))
            for anchor, texts in self._labels.items()
        )
        return _GRAPHIC.format(labels="".join(labels), filled=filled, lines=lines)


GAP = 16.0
# Drawings side by side on one sheet.
IN_A_ROW = 4


def on_one_sheet(groups: Sequence[tuple[str, Sequence[Drawing]]]) -> str:
    """Drawings as one SVG file: a group below the other, headed by its name, drawings side by side."""
    body, y, most = [], GAP, 1
    for name, drawings in groups:
        for line in wrap(name, WIDTH):
            body.append(f'<text x="{px(GAP)}" y="{px(y + 11)}" font-weight="bold">{escaped(line)}</text>')
            y += LINE
        y += 6.0
        for start in range(0, len(drawings), IN_A_ROW):
            alone = [one.with_notes() for one in drawings[start : start + IN_A_ROW]]
            for index, drawing in enumerate(alone):
                body.append(drawing.svg(at=(GAP + index * (WIDTH + GAP), y)))
            y += max(one.height for one in alone) + GAP
            most = max(most, len(alone))
    width = GAP + most * (WIDTH + GAP)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{px(width)}" height="{px(y)}" '
        f'viewBox="0 0 {px(width)} {px(y)}" color="#111" fill="#111" font-family="sans-serif" font-size="11">'
    )
    return f"{head}{_PAPER}{''.join(body)}</svg>\n"
