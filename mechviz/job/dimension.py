"""A dimension on a close-up: the window of a plane that is shown, the line with its arrows, and the word at it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from mechviz.drawing.marks import Point, element, line
from mechviz.look import fractions, text_width

WIDTH, HEIGHT = 320.0, 240.0
SIZE = 20.0
"""Of the words, in units of the picture."""
EDGE = 6.0
"""How near words may come to the picture's edge."""


@dataclass(frozen=True)
class Frame:
    """From a plane (mm, +y up) to the picture: where its origin stands, units a mm, and whether x is mirrored."""

    x: float
    y: float
    scale: float
    mirrored: bool

    @classmethod
    def over(cls, plane: str, window: Sequence[float]) -> "Frame":
        """Return the frame in which a window of a plane (left, low, right, high; mm) fills the picture."""
        left, low, right, high = window
        mirrored = plane == "arm"
        scale = min(WIDTH / (right - left), HEIGHT / (high - low))
        across, up = (left + right) / 2, (low + high) / 2
        sense = -1.0 if mirrored else 1.0
        return cls(WIDTH / 2 - sense * across * scale, HEIGHT / 2 + up * scale, scale, mirrored)

    def at(self, x: float, y: float) -> Point:
        """Carry a place of the plane to the picture."""
        return self.x + (-x if self.mirrored else x) * self.scale, self.y - y * self.scale


def dimension(
    frame: Frame,
    ends: Sequence[Point],
    words: str,
    reach: Sequence[Sequence[Point]],
    side: float = 1.0,
    away: float = 0.0,
    *,
    ties: bool = False,
) -> str:
    """Return a dimension between two places of the plane (mm), its word beside it, and lines that ``reach`` to it.

    ``side`` is on which side of the line its word stands; ``away`` moves the whole dimension aside from the places it
    measures, in units of the picture, thin lines tying it to them.
    """
    first, last = (frame.at(*end) for end in ends)
    normal = _normal(first, last, side)
    tied = ""
    if away:
        moved = [(x + normal[0] * away, y + normal[1] * away) for x, y in (first, last)]
        tied = "".join(line([old, new], "reach") for old, new in zip((first, last), moved, strict=True))
        first, last = moved
    lines = "".join(line([frame.at(*point) for point in one], "reach") for one in reach)
    arrows = line([first, last], "take") + _head(first, last) + _head(last, first)
    middle = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
    far = 16.0 + (0.5 * text_width(words, SIZE, bold=True) if abs(normal[0]) > abs(normal[1]) else 0.0)
    place = (middle[0] + normal[0] * far, middle[1] + normal[1] * far + 6)
    dots = "".join(element("circle", cx=x, cy=y, r=3.5, class_="mv-dot") for x, y in (first, last)) if ties else ""
    return tied + lines + arrows + dots + (words_at(place, words) if words else "")


HEAD_LONG, HEAD_WIDE = 13.0, 4.5
"""Of an arrow head, units; on a line shorter than three of them it is drawn smaller."""


def _head(tip: Point, back: Point) -> str:
    """An arrow head with its tip on the end of the line, larger than a drawing's: it is seen from a creeper."""
    dx, dy = back[0] - tip[0], back[1] - tip[1]
    size = hypot(dx, dy) or 1.0
    share = min(1.0, size / (3 * HEAD_LONG))
    (x, y), long, wide = (dx / size, dy / size), HEAD_LONG * share, HEAD_WIDE * share
    foot = (tip[0] + x * long, tip[1] + y * long)
    ends = [(foot[0] - y * wide, foot[1] + x * wide), (foot[0] + y * wide, foot[1] - x * wide)]
    return line([tip, *ends], "mv-block", closed=True)


def _normal(first: Point, last: Point, side: float) -> Point:
    """The direction square to a line, of length 1, upwards (or to the right) for a positive ``side``."""
    dx, dy = last[0] - first[0], last[1] - first[1]
    size = hypot(dx, dy) or 1.0
    normal = (dy / size, -dx / size)
    upward = normal[1] < -1e-6 or (abs(normal[1]) <= 1e-6 and normal[0] > 0)
    sense = side if upward else -side
    return normal[0] * sense, normal[1] * sense


def after(place: Point, words: str) -> str:
    """Return words that begin just right of a place of the picture."""
    return words_at((place[0] + text_width(fractions(words), SIZE, bold=True) / 2 + 9, place[1] + SIZE / 3), words)


def words_at(place: Point, words: str) -> str:
    """Return words with their middle at a place of the picture, moved in from its edges, on a plate of paper."""
    words = fractions(words)
    wide = text_width(words, SIZE, bold=True)
    x = min(max(place[0], EDGE + wide / 2), WIDTH - EDGE - wide / 2)
    y = min(max(place[1], EDGE + SIZE), HEIGHT - EDGE)
    plate = element(
        "rect", x=x - wide / 2 - 3, y=y - 0.82 * SIZE, width=wide + 6, height=SIZE * 1.12, rx=3, class_="plate"
    )
    return plate + element("text", words, x=round(x, 1), y=round(y, 1), text_anchor="middle", class_="take-words")


def pointer(frame: Frame, spot: Point, words: str, away: Point, ring: float) -> str:
    """Return a ring round a spot of the plane (mm) with a word ``away`` from it, in units of the picture."""
    x, y = frame.at(*spot)
    end = (x + away[0], y + away[1])
    size = hypot(*away) or 1.0
    start = (x + away[0] / size * ring, y + away[1] / size * ring)
    circle = element("circle", cx=round(x, 1), cy=round(y, 1), r=ring, class_="ring")
    return circle + line([start, end], "reach") + words_at((end[0], end[1] + (14 if away[1] > 0 else -4)), words)
