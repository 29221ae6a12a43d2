"""Where the words of a map's lines stand: on their line, inside the map, clear of each other. Draws nothing."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from apps.web.designer.field import Field, Line, Ring
from mechviz.look import text_width

DESK, PHONE = (390.0, 400.0), (270.0, 400.0)
"""Pixels of the smallest map that words are to fit; on a larger one they stand the clearer."""
LETTER, LINE, PAD = 14.0, 22.0, 10.0
MARK = (0.1, 0.06)
"""Room of a mark with its letter, as shares of the map."""
STEPS = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.03, 0.97)
"""How far along a line its words may stand, best first."""
Box = tuple[float, float, float, float]


def labelled(
    field: Field,
    limits: Sequence[Line],
    notes: Sequence[Line],
    levels: Sequence[Line],
    marked: Sequence[tuple[float, float]] = (),
    pixels: tuple[float, float] = DESK,
) -> list[list[Line]]:
    """Return the lines whose words find a place, clear of what is ``marked``: limits, notes and levels.

    Limits stand in any case, the last way if need be over another; a level without a place goes without words.
    """
    taken: list[Box] = [(*_inside(field, place, (0.0, 0.0)), *MARK) for place in marked]
    return [
        _placed(field, limits, taken, pixels, must=True),
        _placed(field, notes, taken, pixels, must=True),
        _placed(field, levels, taken, pixels, must=False),
    ]


def _placed(
    field: Field, lines: Sequence[Line], taken: list[Box], pixels: tuple[float, float], *, must: bool
) -> list[Line]:
    found: list[Line] = []
    for line in lines:
        size = room(line.words, pixels)
        spots = [_inside(field, spot, size) for spot in _spots(line)]
        free = next((spot for spot in spots if not any(_meet((*spot, *size), other) for other in taken)), None)
        if free is None and not must:
            continue
        spot = free or spots[0]
        taken.append((*spot, *size))
        found.append(replace(line, at=_shown(field, spot)))
    return found


def room(words: str, pixels: tuple[float, float] = DESK) -> tuple[float, float]:
    """Return the room of words as shares of the map.

    >>> [round(share, 2) for share in room("90.0 deg")]
    [0.18, 0.07]
    """
    lines = words.splitlines() or [""]
    width = max(text_width(line, LETTER, True) for line in lines)
    return min((width + PAD) / pixels[0], 1.0), min((LINE * len(lines) + PAD / 2) / pixels[1], 1.0)


def _spots(line: Line) -> Iterator[tuple[float, float]]:
    if not line.pieces:
        yield line.at
    for piece in sorted(line.pieces, key=_points, reverse=True)[:3]:
        for share in STEPS:
            n = round(share * (len(piece[0]) - 1))
            yield piece[0][n], piece[1][n]


def _points(piece: Ring) -> int:
    return len(piece[0])


def _inside(field: Field, spot: tuple[float, float], size: tuple[float, float]) -> tuple[float, float]:
    """A spot in shares of the map, so far from its edges that the words are not cut."""
    (left, right), (bottom, top) = _ends(field)
    x, y = (spot[0] - left) / (right - left), (spot[1] - bottom) / (top - bottom)
    return min(max(x, size[0] / 2), 1 - size[0] / 2), min(max(y, size[1] / 2), 1 - size[1] / 2)


def _shown(field: Field, spot: tuple[float, float]) -> tuple[float, float]:
    (left, right), (bottom, top) = _ends(field)
    return left + spot[0] * (right - left), bottom + spot[1] * (top - bottom)


def _ends(field: Field) -> tuple[tuple[float, float], tuple[float, float]]:
    x, y = field.across.shown, field.up.shown
    return (float(x.min()), float(x.max())), (float(y.min()), float(y.max()))


def _meet(one: Box, other: Box) -> bool:
    return abs(one[0] - other[0]) < (one[2] + other[2]) / 2 and abs(one[1] - other[1]) < (one[3] + other[3]) / 2
