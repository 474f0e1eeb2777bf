"""What a kind may have drawn of it, as data; the writers know no kind."""

from __future__ import annotations

from typing import NamedTuple


class Figure(NamedTuple):
    """A drawing as plain shapes in mm with labels, for a writer to render.

    A shape is (word, numbers, label), y upward. Words: ``part`` (a cut part, filled),
    ``squeezed`` (a ring out of round, filled) and ``outline``, all a closed polygon
    x1, y1, x2, y2, ...; ``line`` (an open one);
    ``ring`` and ``circle``, an ellipse of centre x, y and half axes rx, ry, filled or not;
    ``size`` (a dimension line x1, y1, x2, y2, to be labelled with its size). The label of a
    polygon is led to its first corner.
    """

    title: str
    shapes: tuple[tuple[str, tuple[float, ...], str], ...] = ()


class Wall(NamedTuple):
    """A round wall with a hoop stress at both faces, elastic in between (Lamé).

    ``inside`` and ``outside`` name the diameters, ``at_inside`` and ``at_outside`` the
    values that are the hoop stress there, MPa.
    """

    label: str
    inside: str
    outside: str
    at_inside: str
    at_outside: str
