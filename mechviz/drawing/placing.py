"""Where a label goes: as near its part as there is room, never on a part or on another label, never cut.

Every place round the part may be tried, on a grid. Of those that are free the nearest is taken, a leader that crosses
other parts counting as farther; a leader never crosses a text or another leader. Places are looked at from the nearest
on, and no more of them than it takes.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from heapq import heappop, heappush
from itertools import islice

import numpy as np
import shapely
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from geometry.arrays import Array, Mask
from mechviz.drawing.lettering import FALL, RISE, Bounds, Text
from mechviz.drawing.marks import element, line
from mechviz.drawing.spots import Spots, spots

PAD = 6.0
"""Free room round a label's box."""
INDENT = PAD - 1.0
"""How far inside a label's box its leader may begin."""
ASIDE = 10.0
"""Room left and right of a text that stands already, so that no label seems to go on from it."""
STEP = 6.0
"""Of the grid."""
REACHES = (40.0, 110.0, 260.0)
REACH = REACHES[-1]
"""How far from its part a label is looked for."""
NEAREST = 60
"""Free places that are looked at closely."""
FIRST = 200
"""Places that are tried at first; then twice as many at a time."""
HAIR = 1e-9
"""Distances and costs that differ by less are the same."""
DEEP = 4.0
"""How far a leader reaches into its part."""
LEADER = 13.0
"""A label nearer than this to its part needs no leader."""
CROSSING = 2.5
"""What a unit of leader across another part costs, in units of distance."""
LEADING = 1.12
"""From one line of a label to the next, in sizes."""


@dataclass(frozen=True)
class Wanted:
    """A label that looks for a place: its lines, all of one anchor, and the shape (in the picture) that it names.

    ``led`` says whether a leader ties it to that; else it goes without, and no farther away than ``within``.
    ``pad`` is the free room round it.
    """

    lines: tuple[Text, ...]
    target: BaseGeometry
    led: bool = True
    within: float = REACH
    pad: float = PAD

    @property
    def width(self) -> float:
        """Of the widest line."""
        return max(text.width for text in self.lines)

    @property
    def height(self) -> float:
        """Of all lines, from the top of the first to the foot of the last."""
        return sum(text.height * LEADING for text in self.lines[:-1]) + self.lines[-1].height * (RISE + FALL)


Place = tuple[float, BaseGeometry]
"""How far from its part a label would stand there, and its box."""
Found = tuple[float, BaseGeometry, LineString]
"""A place: what it costs, its box, and the leader from there."""


@dataclass(frozen=True)
class Placed:
    """A label that has found its place, and its leader (empty where it needs none)."""

    texts: tuple[Text, ...]
    leader: str
    line: LineString | None = None


@dataclass
class Room:
    """The picture, what is in it, and what has been placed so far.

    ``bounds`` is what no label may leave, ``parts`` what stands in it already.
    """

    bounds: Bounds
    parts: BaseGeometry
    boxes: list[Bounds] = field(default_factory=list[Bounds])
    shapes: list[BaseGeometry] = field(default_factory=list[BaseGeometry])
    leaders: list[BaseGeometry] = field(default_factory=list[BaseGeometry])

    def __post_init__(self) -> None:
        shapely.prepare(self.parts)

    def keep_clear(self, texts: Iterable[Text], shapes: Iterable[BaseGeometry] = ()) -> None:
        """Take the room of texts and shapes that stand already."""
        boxes = (text.box for text in texts)
        self.boxes += [(left - ASIDE, top, right + ASIDE, bottom) for left, top, right, bottom in boxes]
        self.shapes += list(shapes)

    def keep(self, wanted: Wanted, before: Placed) -> Placed | None:
        """Return a label where it stood ``before`` and take that room; None where it would not stand well there now.

        Where its letters have grown its leader begins farther out.
        """
        boxes = [text.box for text in before.texts]
        spot = shapely.union_all([shapely.box(*edges) for edges in boxes])
        standing = [*self.shapes, *self.leaders]
        if self._on_text(np.array(boxes).T).any() or shapely.intersects(self.parts, spot):
            return None
        if any(shape.intersects(spot) for shape in standing):
            return None
        end, reach = (spot, LEADER) if before.line is None else (Point(before.line.coords[-1]), DEEP)
        if end.distance(wanted.target) > (reach if wanted.led else wanted.within):
            return None
        led = None if before.line is None else before.line.difference(spot.buffer(1.0))
        return self._taken(before.texts, boxes, led if isinstance(led, LineString) and not led.is_empty else None)

    def place(self, wanted: Wanted) -> Placed | None:
        """Return a label in the best place and take its room; None where there is no free place at all."""
        found = self._found(wanted)
        if found is None:
            return None
        _, spot, leader = found
        texts = _set(wanted, spot.bounds)
        return self._taken(texts, [spot.bounds], leader if wanted.led and leader.length > LEADER else None)

    def _taken(self, texts: tuple[Text, ...], boxes: list[Bounds], leader: LineString | None) -> Placed:
        """Take a label's room, and draw its leader where it has one."""
        self.boxes += boxes
        if leader is None:
            return Placed(texts, "")
        self.leaders.append(leader)
        end = leader.coords[-1]
        dot = element("circle", class_="mv-dot", cx=round(end[0], 1), cy=round(end[1], 1), r=2.6)
        return Placed(texts, line([(x, y) for x, y in leader.coords], "mv-leader") + dot, leader)

    def _found(self, wanted: Wanted) -> Found | None:
        """The best place. What costs no more than it is far could not be bettered from farther away."""
        target, found = _pulled_in(wanted.target), None
        for reach in REACHES:
            places = islice(self._free(self._grid(wanted, reach), target), NEAREST)
            found = self._best(places, target, wanted) or found
            if found is not None and found[0] <= reach:
                break
        return found

    def _grid(self, wanted: Wanted, reach: float) -> Array:
        """Boxes round the target, inside the picture: left, top, right and bottom, each an array."""
        left, top, right, bottom = wanted.target.bounds
        half, high = wanted.width / 2 + wanted.pad, wanted.height / 2 + wanted.pad
        far, deep = reach + half, reach + high
        x = np.arange(max(left - far, self.bounds[0] + half), min(right + far, self.bounds[2] - half), STEP)
        y = np.arange(max(top - deep, self.bounds[1] + high), min(bottom + deep, self.bounds[3] - high), STEP)
        across, down = (grid.ravel() for grid in np.meshgrid(x, y))
        return np.stack([across - half, down - high, across + half, down + high])

    def _free(self, edges: Array, target: BaseGeometry) -> Iterator[Place]:
        """Places among some boxes that stand on nothing, the nearest first; of two as near the first one.

        A place is no nearer than the box round the target, which is quick to find: so they are measured and tried in
        that order, a few at a time, and handed on as soon as none that was not tried could be nearer.
        """
        least = _apart(edges, target.bounds)
        order = np.argsort(least, kind="stable")
        waiting: list[tuple[float, int, BaseGeometry]] = []
        standing = STRtree([*self.shapes, *self.leaders])
        start, stop = 0, FIRST
        while start < len(order):
            tried = order[start:stop]
            tried = tried[~(self._on_text(edges[:, tried]) | self._on_parts.met(edges[:, tried]))]
            boxes = np.asarray(shapely.box(*edges[:, tried]), dtype=np.object_)
            free = ~shapely.intersects(self.parts, boxes)
            free[standing.query(boxes, predicate="intersects")[0]] = False
            for one in zip(shapely.distance(target, boxes[free]), tried[free], boxes[free], strict=True):
                heappush(waiting, one)
            sure = least[order[stop]] - HAIR if stop < len(order) else np.inf
            while waiting and waiting[0][0] < sure:
                distance, _, spot = heappop(waiting)
                yield distance, spot
            start, stop = stop, 2 * stop

    @cached_property
    def _on_parts(self) -> Spots:
        """Spots that lie on the parts: a quick way to tell most of the places that are in the way."""
        return spots(self.bounds, self.parts)

    def _on_text(self, edges: Array) -> Mask:
        """Which of some boxes stand on a text."""
        left, top, right, bottom = np.reshape(self.boxes, (-1, 4)).T[:, :, np.newaxis]
        met = (edges[0] < right) & (edges[2] > left) & (edges[1] < bottom) & (edges[3] > top)
        return met.any(axis=0)

    def _best(self, places: Iterable[Place], target: BaseGeometry, wanted: Wanted) -> Found | None:
        """The place whose leader is the cheapest, with that leader; the nearest place where no leader is drawn.

        A leader costs at least its length, and that is at least the distance of its place.
        """
        best: Found | None = None
        around = target.buffer(DEEP + 1)
        left, top, right, bottom = np.reshape(self.boxes, (-1, 4)).T
        boxes = np.asarray(shapely.box(left, top, right, bottom), dtype=np.object_)
        standing = STRtree([*boxes, *self.shapes, *self.leaders])
        for distance, spot in places:
            if best is not None and distance >= best[0]:
                break
            leader = _leader(spot, target)
            if not wanted.led:
                return (leader.length, spot, leader) if leader.length <= wanted.within else None
            if (best is not None and leader.length >= best[0]) or standing.query(leader, "intersects").size:
                continue
            cost = leader.length + CROSSING * leader.difference(around).intersection(self.parts).length
            if best is None or cost < best[0] - HAIR:
                best = (cost, spot, leader)
        return best


def _apart(edges: Array, bounds: Bounds) -> Array:
    """How far boxes are from one box."""
    left, top, right, bottom = bounds
    across = np.maximum(left - edges[2], edges[0] - right)
    down = np.maximum(top - edges[3], edges[1] - bottom)
    return np.hypot(np.maximum(across, 0.0), np.maximum(down, 0.0))


def _pulled_in(target: BaseGeometry) -> BaseGeometry:
    """The target without its rim, so that a leader ends inside it; a narrow one is left as it is."""
    inner = target.buffer(-DEEP)
    return target if inner.is_empty else inner


def _leader(spot: BaseGeometry, target: BaseGeometry) -> LineString:
    """The shortest line from a label to its part."""
    left, top, right, bottom = spot.bounds
    left, top, right, bottom = left + INDENT, top + INDENT, right - INDENT, bottom - INDENT
    inner = Polygon([(right, top), (left, top), (left, bottom), (right, bottom)])
    return shapely.shortest_line(inner, target)


def _set(wanted: Wanted, bounds: Bounds) -> tuple[Text, ...]:
    """The lines in their box, in the middle of it."""
    left, top, right, _ = bounds
    y, texts = top + wanted.pad, list[Text]()
    for text in wanted.lines:
        texts.append(text.at(0.5 * (left + right), y + RISE * text.height, "middle"))
        y += LEADING * text.height
    return tuple(texts)


def union(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Return the union of shapes; an empty one of none."""
    return shapely.union_all(list(shapes)) if shapes else Point()
