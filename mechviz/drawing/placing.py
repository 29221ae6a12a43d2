"""Where a label goes: as near its part as there is room, never on a part or on another label, never cut.

Every place round the part is tried, on a grid. Of those that are free the nearest is taken, a leader that crosses other
parts counting as farther; a leader never crosses a text or another leader.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from geometry.arrays import Array
from mechviz.drawing.lettering import FALL, RISE, Bounds, Text
from mechviz.drawing.marks import element, line

PAD = 6.0
"""Free room round a label's box."""
ASIDE = 10.0
"""Room left and right of a text that stands already, so that no label seems to go on from it."""
STEP = 6.0
"""Of the grid."""
REACHES = (40.0, 110.0, 260.0)
REACH = REACHES[-1]
"""How far from its part a label is looked for."""
NEAREST = 60
"""Free places that are looked at closely."""
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


Found = tuple[float, BaseGeometry, LineString]
"""A place: what it costs, its box, and the leader from there."""


@dataclass(frozen=True)
class Placed:
    """A label that has found its place, and its leader (empty where it needs none)."""

    texts: tuple[Text, ...]
    leader: str


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

    def place(self, wanted: Wanted) -> Placed | None:
        """Return a label in the best place and take its room; None where there is no free place at all."""
        found = self._found(wanted)
        if found is None:
            return None
        _, spot, leader = found
        texts = _set(wanted, spot.bounds)
        self.boxes.append(spot.bounds)
        if leader.length <= LEADER or not wanted.led:
            return Placed(texts, "")
        self.leaders.append(leader)
        end = leader.coords[-1]
        dot = element("circle", class_="mv-dot", cx=round(end[0], 1), cy=round(end[1], 1), r=2.6)
        return Placed(texts, line([(x, y) for x, y in leader.coords], "mv-leader") + dot)

    def _found(self, wanted: Wanted) -> Found | None:
        """The best place. What costs no more than it is far could not be bettered from farther away."""
        target, found = _pulled_in(wanted.target), None
        for reach in REACHES:
            found = self._best(self._free(wanted, reach), target, wanted) or found
            if found is not None and found[0] <= reach:
                break
        return found

    def _free(self, wanted: Wanted, reach: float) -> NDArray[np.object_]:
        """Boxes round the target that stand on nothing."""
        left, top, right, bottom = wanted.target.bounds
        half, high = wanted.width / 2 + wanted.pad, wanted.height / 2 + wanted.pad
        far, deep = reach + half, reach + high
        x = np.arange(max(left - far, self.bounds[0] + half), min(right + far, self.bounds[2] - half), STEP)
        y = np.arange(max(top - deep, self.bounds[1] + high), min(bottom + deep, self.bounds[3] - high), STEP)
        across, down = (grid.ravel() for grid in np.meshgrid(x, y))
        edges = np.stack([across - half, down - high, across + half, down + high])
        edges = edges[:, ~self._on_text(edges)]
        boxes = np.asarray(shapely.box(edges[0], edges[1], edges[2], edges[3]), dtype=np.object_)
        for taken in (self.parts, *self.shapes, *self.leaders):
            boxes = boxes[~shapely.intersects(taken, boxes)]
        return boxes

    def _on_text(self, edges: Array) -> NDArray[np.bool_]:
        """Which of some boxes (left, top, right, bottom; each an array) stand on a text."""
        met = np.zeros(edges.shape[1], dtype=np.bool_)
        for left, top, right, bottom in self.boxes:
            met |= (edges[0] < right) & (edges[2] > left) & (edges[1] < bottom) & (edges[3] > top)
        return met

    def _best(self, places: NDArray[np.object_], target: BaseGeometry, wanted: Wanted) -> Found | None:
        """The place whose leader is the cheapest, with that leader; the nearest place where no leader is drawn."""
        order = np.argsort(shapely.distance(target, places), kind="stable")[:NEAREST]
        best: Found | None = None
        others = self.parts.difference(target.buffer(DEEP + 1))
        standing = shapely.union_all([*(box(*taken) for taken in self.boxes), *self.shapes, *self.leaders])
        shapely.prepare(standing)
        for spot in places[order]:
            leader = _leader(spot, target)
            if not wanted.led:
                return (leader.length, spot, leader) if leader.length <= wanted.within else None
            if shapely.intersects(standing, leader):
                continue
            cost = leader.length + CROSSING * leader.intersection(others).length
            if best is None or cost < best[0] - 1e-9:
                best = (cost, spot, leader)
        return best


def _pulled_in(target: BaseGeometry) -> BaseGeometry:
    """The target without its rim, so that a leader ends inside it; a narrow one is left as it is."""
    inner = target.buffer(-DEEP)
    return target if inner.is_empty else inner


def _leader(spot: BaseGeometry, target: BaseGeometry) -> LineString:
    """The shortest line from a label to its part."""
    inner = spot.buffer(-PAD + 1)
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
