"""The foot of a picture: the caution, and a bar that tells the scale."""

from math import pi

from geometry.quantity import System
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import Point, element, line, on_circle
from mechviz.drawing.note import Note

ROOM, LINE = 40.0, 889.0
"""What the foot takes of a picture's height, and where its words stand."""
CAUTION = "Caution: chock the wheels; open no spring brake; raise no dust. Local codes and licensed practice decide."
BARS: dict[System, tuple[tuple[float, str], ...]] = {
    "inch": ((50.8, "2 in"), (101.6, "4 in"), (203.2, "8 in")),
    "metric": ((50.0, "50 mm"), (100.0, "100 mm"), (200.0, "200 mm")),
}
"""Lengths (mm) that a bar may stand for, and what is written beside it."""
LONG = 80.0
"""A bar is about so long."""
SIGN = 11.0
"""The caution's triangle: from its middle to its corners."""


def foot(left: float, right: float, scale: float, system: System) -> Note:
    """Return the foot of a picture whose mechanism is drawn at ``scale`` (units per mm)."""
    words = Text(CAUTION, left + 2 * SIGN + 6, LINE, name="caution")
    length, name = min(BARS[system], key=lambda bar: abs(bar[0] * scale - LONG))
    start = right - length * scale
    label = Text(name, start - 12, LINE, anchor="end", name="scale")
    return Note("foot", "Caution and scale", _sign((left + SIGN, LINE - 5)) + _bar(start, right), (words, label))


def _bar(start: float, end: float) -> str:
    ends = "".join(line([(x, LINE - 15), (x, LINE - 1)], "mv-scale") for x in (start, end))
    return line([(start, LINE - 8), (end, LINE - 8)], "mv-scale", id="scale-bar") + ends


def _sign(centre: Point) -> str:
    corners = [on_circle(centre, SIGN, pi / 2 + i * 2 * pi / 3) for i in range(3)]
    x, y = centre
    stroke = line([(x, y - 5), (x, y + 1)], "mv-scale")
    return line(corners, "mv-scale", closed=True) + stroke + element("circle", class_="mv-dot", cx=x, cy=y + 4, r=1.4)
