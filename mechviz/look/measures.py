"""Line weights and text sizes as shares of the picture's height, and the dashes that go with a line.

A picture of any size looks alike: the figures below are for a height of 1000.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

LineName = Literal["heavy", "outline", "edge", "dimension", "centre", "leader"]
TextName = Literal["title", "heading", "figure", "label", "note"]

HEIGHT = 1000.0
"""Picture height that the figures below are for."""


@dataclass(frozen=True)
class Line:
    """A line's weight, its dashes (on, off, ...), and what it is for."""

    weight: float
    dashes: tuple[float, ...]
    use: str


LINES: Mapping[LineName, Line] = {
    "heavy": Line(3.2, (), "what pushes; a limit"),
    "outline": Line(2.2, (), "the outline of a part"),
    "edge": Line(1.4, (), "an edge inside a part"),
    "dimension": Line(0.9, (), "a dimension and its arrows"),
    "leader": Line(0.9, (), "from a label to its part"),
    "centre": Line(0.7, (14, 4, 2, 4), "a centre line"),
}

TEXT: Mapping[TextName, float] = {
    "title": 1000 / 24,
    "heading": 1000 / 30,
    "figure": 1000 / 32,
    "label": 1000 / 40,
    "note": 1000 / 54,
}
"""Text that matters is 1/40 of the height at the least: the smallest that is read at ten metres. ``note`` is smaller:
for a source or a scale, never for what a class has to see."""

LEAST_PIXELS = 14
"""Close up, no text is smaller than this many pixels."""


def line_weight(name: LineName, height: float = HEIGHT) -> float:
    """Return a line's width in a picture ``height`` high."""
    return LINES[name].weight * height / HEIGHT


def dashes(name: LineName, height: float = HEIGHT) -> tuple[float, ...]:
    """Return a line's dashes in a picture ``height`` high; none for a full line."""
    return tuple(part * height / HEIGHT for part in LINES[name].dashes)


def text_size(name: TextName, height: float = HEIGHT) -> float:
    """Return a text's size in a picture ``height`` high."""
    return TEXT[name] * height / HEIGHT


def path_points(coordinates: ArrayLike) -> str:
    """Write points (n, 2) for a path: each number to a hundredth, a line from one point to the next.

    >>> path_points([(0.0, -0.001), (12.5, 3.14159)])
    '0 0L12.5 3.14'
    """
    rounded = np.round(np.asarray(coordinates, dtype=np.float64), 2) + 0.0  # so that there is no minus zero
    return "L".join([f"{x:.10g} {y:.10g}" for x, y in rounded.tolist()])


def plain(value: float) -> str:
    """Write a number for SVG or CSS: four digits after the point at the most, none that are not needed.

    >>> plain(2.20000001), plain(14.0), plain(-0.00001)
    ('2.2', '14', '0')
    """
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
