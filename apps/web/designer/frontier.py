"""Two outcomes against each other, and the choices that nothing beats in both. Draws nothing."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from apps.web.designer.field import label, to_shown
from geometry.arrays import Array
from mechviz.report.written import quantity, unit_word
from mechviz.study import Outcome, Result
from mechviz.study.front import front

MOST = 3000
"""Points that are drawn: beyond that they are one blot, and take their time."""
ROWS = 8
"""Choices of the front that are listed."""
Points = tuple[list[float], list[float]]
Box = tuple[float, float, float, float]
Words = dict[str, list[object]]
MARGIN = 0.05


@dataclass(frozen=True)
class Edge:
    """A limit as a line: whether the outcome runs ``across``, where it stands, and what is not allowed."""

    across: bool
    at: float
    upper: bool
    words: str

    def corners(self, ends: tuple[tuple[float, float], tuple[float, float]]) -> tuple[Box, Box]:
        """Return left, right, bottom, top of what is not allowed, and of the line itself, within a plot's ends."""
        (left, right), (bottom, top) = ends
        if self.across:
            beyond = (self.at, right, bottom, top) if self.upper else (left, self.at, bottom, top)
            return beyond, (self.at, self.at, bottom, top)
        beyond = (left, right, self.at, top) if self.upper else (left, right, bottom, self.at)
        return beyond, (left, right, self.at, self.at)


@dataclass(frozen=True)
class Frontier:
    """Points as they are shown: outside limits, inside, and the front in its order, with places in the result.

    ``drawn`` are the places of all points that are drawn, ``size`` how many there are to be drawn.
    """

    names: tuple[str, str]
    ends: tuple[tuple[float, float], tuple[float, float]]
    outside: Points
    inside: Points
    front: Points
    places: NDArray[np.intp]
    drawn: NDArray[np.intp]
    drawn_at: Points
    size: int
    limits: tuple[Edge, ...] = ()
    limit_words: Words = field(default_factory=dict[str, list[object]])

    def nearest(self, x: float, y: float) -> int | None:
        """Return the place in the result of the point that is drawn nearest to a place of the plot."""
        if not self.drawn.size:
            return None
        (left, right), (bottom, top) = self.ends
        away = np.hypot(
            (np.array(self.drawn_at[0]) - x) / (right - left), (np.array(self.drawn_at[1]) - y) / (top - bottom)
        )
        return int(self.drawn[int(np.argmin(away))])


def frontier(result: Result, goals: tuple[str, str]) -> Frontier:
    """Return two outcomes of a result against each other; the same one twice is a front of its best."""
    outcomes = [result.study.outcome(key) for key in goals]
    columns = [_shown(result, outcome) for outcome in outcomes]
    exist = np.flatnonzero(np.isfinite(columns[0]) & np.isfinite(columns[1]))
    best = front(result, tuple(dict.fromkeys(goals))).points
    some = sample(exist, MOST)
    good = result.inside[some]
    drawn = np.concatenate([best, some])
    ends = tuple(_ends(column[exist]) for column in columns)
    edges = tuple(edge for n, outcome in enumerate(outcomes) for edge in _edges(result, outcome, n == 0, ends[n]))
    return Frontier(
        names=(_name(outcomes[0], result), _name(outcomes[1], result)),
        ends=(ends[0], ends[1]),
        outside=_at(columns, some[~good]),
        inside=_at(columns, some[good]),
        front=_at(columns, best),
        places=best,
        drawn=drawn,
        drawn_at=_at(columns, drawn),
        size=int(exist.size),
        limits=edges,
        limit_words=_edge_words(edges, (ends[0], ends[1]), _at(columns, drawn)),
    )


def sample(places: NDArray[np.intp], most: int) -> NDArray[np.intp]:
    """Return so many of the places, each as likely as any other, and the same each time; all where there are fewer."""
    if places.size <= most:
        return places
    return np.sort(np.random.default_rng(1).choice(places, most, replace=False))


def listed(found: Frontier, most: int = ROWS) -> list[int]:
    """Return places of the front, at most so many, evenly along it with both ends."""
    count = min(most, found.places.size)
    return [int(found.places[n]) for n in np.unique(np.linspace(0, found.places.size - 1, count).round().astype(int))]


def _name(outcome: Outcome, result: Result) -> str:
    better = {"less": "less is better", "more": "more is better"}.get(outcome.quantity.better)
    system, kind = result.study.base.system, outcome.quantity.kind
    aim = better or f"nearer to {quantity(outcome.quantity.aim, kind, system)} is better"
    unit = unit_word(kind, system)
    return f"{outcome.words}{', ' + unit if unit else ''} ({aim})"


def _shown(result: Result, outcome: Outcome) -> Array:
    return to_shown(result.outcomes[outcome.key], outcome.quantity.kind, result.study.base.system)


def _at(columns: Sequence[Array], places: NDArray[np.intp]) -> Points:
    return columns[0][places].tolist(), columns[1][places].tolist()


def _ends(values: Array) -> tuple[float, float]:
    """A little more than the values take."""
    if not values.size:
        return 0.0, 1.0
    low, high = float(values.min()), float(values.max())
    room = MARGIN * (high - low) or 0.01 * max(abs(low), 1.0)
    return low - room, high + room


def _edges(result: Result, outcome: Outcome, across: bool, ends: tuple[float, float]) -> list[Edge]:
    """The limits of an outcome that stand within the plot, where they are the same for all points."""
    limit = result.limits[outcome.key]
    if limit is None:
        return []
    found: list[Edge] = []
    system, kind = result.study.base.system, outcome.quantity.kind
    words = label(limit, outcome, system)
    for end, upper in ((limit.least, False), (limit.most, True)):
        each = np.unique(np.ravel(end))
        at = float(to_shown(each[0], kind, system)) if each.size == 1 and np.isfinite(each).all() else np.nan
        if ends[0] < at < ends[1]:
            found.append(Edge(across, at, upper, words))
    return found


def _edge_words(edges: Sequence[Edge], ends: tuple[tuple[float, float], tuple[float, float]], drawn: Points) -> Words:
    """Where the limits' words stand: at the end of their line where fewer points are drawn."""
    (left, right), (bottom, top) = ends
    data: Words = {"x": [], "y": [], "words": []}
    across, up = np.asarray(drawn[0]), np.asarray(drawn[1])
    for edge in edges:
        if edge.across:
            x = min(edge.at, left + 0.6 * (right - left))
            ys = [bottom + share * (top - bottom) for share in (0.88, 0.12)]
            spots = [(x, y) for y in ys]
        else:
            spots = [(left + share * (right - left), edge.at) for share in (0.03, 0.6)]
        x, y = min(spots, key=lambda spot: _covered(spot, across, up, right - left, top - bottom))
        data["x"].append(x)
        data["y"].append(y)
        data["words"].append(edge.words)
    return data


def _covered(spot: tuple[float, float], across: Array, up: Array, width: float, height: float) -> int:
    """How many points words at a spot would cover."""
    inside = (across >= spot[0]) & (across <= spot[0] + 0.4 * width) & (np.abs(up - spot[1]) <= 0.11 * height)
    return int(inside.sum())
