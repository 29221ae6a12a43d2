"""What happens on the way: a line down through all plots at each, with its number on top."""

from collections.abc import Sequence

from mechviz.chart.frame import BOTTOM, LEFT, RIGHT, TOP
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import element, line

RADIUS = 13.0
GAP = 34.0
"""Between the centres of two numbers at least."""


def numbered(places: Sequence[float]) -> str:
    """Return the lines at places across the chart, numbered from 1; numbers that would touch are drawn apart."""
    marks = ""
    for number, (x, over) in enumerate(zip(places, spread(places), strict=True), start=1):
        marks += line([(over, TOP - 22 + RADIUS), (x, TOP - 2), (x, BOTTOM)], "mv-before")
        marks += element("circle", cx=round(over, 1), cy=TOP - 22, r=RADIUS, class_="mv-number")
        marks += Text(str(number), over, TOP - 16, "note", "middle").svg()
    return marks


def spread(places: Sequence[float]) -> list[float]:
    """Return places in rising order moved apart to `GAP`, each as near to its own as the others leave it.

    >>> spread([200.0, 200.0, 400.0])
    [183.0, 217.0, 400.0]
    """
    groups: list[tuple[float, int]] = []  # mean of the members' wishes, less their place in the group, and how many
    for n, place in enumerate(places):
        wish, count = place - n * GAP, 1
        while groups and groups[-1][0] > wish:
            before, many = groups.pop()
            wish, count = (before * many + wish * count) / (many + count), count + many
        groups.append((wish, count))
    wishes = [wish for wish, count in groups for _ in range(count)]
    apart = [wish + n * GAP for n, wish in enumerate(wishes)]
    return _inside(apart)


def _inside(places: list[float]) -> list[float]:
    """The same, none before the first plot's edge or beyond its last."""
    last = len(places) - 1
    low, high = LEFT, RIGHT
    return [min(max(x, low + n * GAP), high - (last - n) * GAP) for n, x in enumerate(places)]
