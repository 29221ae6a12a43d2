"""The best points of a study: all of them on the front of its objectives, spread along it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mechviz.study.front import Front, front
from mechviz.study.running import Result, Study


@dataclass(frozen=True)
class Best:
    """A result's ``front`` in the outcomes ``by``, and some ``points`` of it (places in the result)."""

    by: tuple[str, ...]
    front: Front
    points: NDArray[np.intp]


def best_by(study: Study) -> tuple[str, ...]:
    """Return the outcomes (by key) that a study's best points are best in: its own, else its first two."""
    return study.best_by or tuple(outcome.key for outcome in study.outcomes[:2])


def best(result: Result, count: int) -> Best:
    """Return up to so many of the best points that are inside every limit.

    With one objective they are the best ones of all, in order; with more, points of the front from its best in the
    first objective to its best in the last, as evenly apart as they come.
    """
    by = best_by(result.study)
    found = front(result, by)
    if len(by) == 1:
        worth = result.study.outcome(by[0]).objective(result.outcomes[by[0]])
        inside = np.flatnonzero(result.inside)
        return Best(by, found, inside[np.argsort(worth[inside], kind="stable")][:count])
    return Best(by, found, found.points[_spread(found.points.size, count)])


def _spread(size: int, count: int) -> NDArray[np.intp]:
    return np.unique(np.linspace(0, size - 1, min(count, size)).round().astype(np.intp))
