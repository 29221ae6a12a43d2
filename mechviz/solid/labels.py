"""Names on the solid brake: each has one place for a whole stretch of motion, and a leader that follows its part."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import element, line
from mechviz.drawing.names import Name
from mechviz.drawing.note import Note
from mechviz.drawing.placing import DEEP, LEADER, Room, Wanted
from mechviz.solid.visible import seen_of

DEPTHS = (14.0, 9.0, DEEP)
"""How far inside its part a leader ends, picture units; the first that leaves any of it."""
Shapes = Mapping[str, BaseGeometry]


@dataclass(frozen=True)
class Placed:
    """A name that has its place: its text, the part that it names, and where (in the picture) its leader ends there.

    ``end`` is None where the name stands beside its part and needs no leader.
    """

    text: Text
    part: str
    end: tuple[float, float] | None


def placed(shapes: Shapes, room: Room, wanted: Sequence[Name]) -> tuple[Placed, ...]:
    """Return the names that find a place in a room beside what is seen of the parts."""
    found: list[Placed] = []
    for name in wanted:
        part, target = seen_of(shapes, name.parts)
        spot = None if target.is_empty else room.place(Wanted((Text(name.words, rank=name.rank),), target))
        if spot:
            found.append(Placed(spot.texts[0], part, _end(spot.texts[0], target) if spot.leader else None))
    return tuple(found)


def _end(text: Text, target: BaseGeometry) -> tuple[float, float]:
    """Where the shortest line from a name to its part ends, a little inside the part."""
    inner = next(shape for shape in (*(target.buffer(-deep) for deep in DEPTHS), target) if not shape.is_empty)
    way = shapely.shortest_line(shapely.box(*text.box), inner)
    x, y = way.coords[-1]
    return float(x), float(y)


def label_note(found: Sequence[Placed]) -> Note:
    """Return the names with their leaders."""
    marks = "".join(_leader(one.text, one.end) for one in found if one.end is not None)
    return Note("labels", "Names of the parts", marks, tuple(one.text for one in found))


def _leader(text: Text, end: tuple[float, float]) -> str:
    way = shapely.shortest_line(shapely.box(*text.box), Point(end))
    if way.length < LEADER / 2:
        return ""
    dot = element("circle", class_="mv-dot", cx=round(end[0], 1), cy=round(end[1], 1), r=2.6)
    return line([(x, y) for x, y in way.coords], "mv-leader") + dot
