"""The front of non-dominated choices: those to which no other is better in one objective and as good in the rest."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import Array, Mask
from mechviz.study.running import Result

BLOCK = 2048
"""Points compared at once with the front found so far."""
FIRST = 256
"""The most promising points, which rule out most of the others at once."""


@dataclass(frozen=True)
class Front:
    """The front of a result: the ``points``' places in it, best in the first objective first, by outcomes' keys."""

    keys: tuple[str, ...]
    points: NDArray[np.intp]


def front(result: Result, keys: Sequence[str], inside: bool = True) -> Front:
    """Return the non-dominated points of a result in two to four of its outcomes (any number will do).

    What is better is the outcome's own. ``inside`` leaves out points that are outside a limit; those where an outcome
    does not exist are left out always.
    """
    columns = np.stack([result.study.outcome(key).objective(result.outcomes[key]) for key in keys], axis=1)
    among = np.flatnonzero((result.inside if inside else result.valid) & np.isfinite(columns).all(axis=1))
    found = among[non_dominated(columns[among])]
    return Front(tuple(keys), found[np.argsort(columns[found, 0], kind="stable")])


def non_dominated(objectives: Array) -> NDArray[np.intp]:
    """Return the places, in order, of the rows of (points, objectives) that no other row dominates; less is better.

    A row dominates another if it is nowhere greater and somewhere less: equal rows do not dominate each other. Two
    objectives take one sorted pass. With more, rows are taken in the order of their sum: then only an earlier one can
    dominate a later one, and blocks of them are held against the front found so far.

    >>> non_dominated(np.array([[1.0, 4.0], [2.0, 2.0], [3.0, 3.0], [4.0, 1.0]])).tolist()
    [0, 1, 3]
    """
    if objectives.shape[0] == 0:
        return np.empty(0, dtype=np.intp)
    if objectives.shape[1] == 1:
        return np.flatnonzero(objectives[:, 0] == objectives[:, 0].min())
    if objectives.shape[1] == 2:
        return np.sort(_of_two(objectives))
    return np.sort(_of_more(objectives))


def _of_two(rows: Array) -> NDArray[np.intp]:
    """Sorted by the first and then the second: a row is dominated unless it is below all that are before it."""
    order = np.lexsort((rows[:, 1], rows[:, 0]))
    first, second = rows[order, 0], rows[order, 1]
    before = np.minimum.accumulate(np.concatenate([[np.inf], second[:-1]]))
    keep = second < before
    # an equal of a row that is kept is kept as well
    same = np.concatenate([[False], (first[1:] == first[:-1]) & (second[1:] == second[:-1])])
    start = np.flatnonzero(~same)
    return order[np.repeat(keep[start], np.diff(np.append(start, same.size)))]


def _of_more(rows: Array) -> NDArray[np.intp]:
    order = np.argsort(_scaled(rows).sum(axis=1), kind="stable")
    left = order[~_dominated(rows[order], rows[order[:FIRST]])]
    found = np.empty(0, dtype=np.intp)
    while left.size:
        block, left = left[:BLOCK], left[BLOCK:]
        block = block[~_dominated(rows[block], rows[block])]
        found = np.concatenate([found, block])
        if left.size:
            left = left[~_dominated(rows[left], rows[block[_most_telling(rows[block])]])]
            # those that are left of the next block are held against the whole front
            head = left[:BLOCK]
            left = np.concatenate([head[~_dominated(rows[head], rows[found])], left[BLOCK:]])
    return found


def _most_telling(rows: Array) -> NDArray[np.intp]:
    """A few rows of a block that are likely to dominate much: the least sums, and the least of each objective."""
    return np.unique(np.concatenate([np.arange(min(64, len(rows))), np.argmin(rows, axis=0)]))


def _scaled(rows: Array) -> Array:
    """Each objective from 0 to 1, so that the sum favours none; an order by sums of any weights would do."""
    low, high = rows.min(axis=0), rows.max(axis=0)
    return (rows - low) / np.where(high > low, high - low, 1.0)


def _dominated(rows: Array, by: Array) -> Mask:
    """Which rows are dominated by any of some others."""
    out = np.zeros(len(rows), dtype=bool)
    columns = [np.ascontiguousarray(column) for column in rows.T]
    for start in range(0, len(rows), BLOCK):
        part = slice(start, start + BLOCK)
        out[part] = _any_dominates([column[part] for column in columns], by)
    return out


def _any_dominates(columns: list[Array], by: Array) -> Mask:
    """Whether any of (others, objectives) dominates each row, given by columns: one at a time, until none is left."""
    size = columns[0].size
    out, alive = np.zeros(size, dtype=bool), np.arange(size)
    for start in range(0, len(by), 64):
        some = by[start : start + 64]
        no_more = np.ones((len(some), alive.size), dtype=bool)
        less = np.zeros((len(some), alive.size), dtype=bool)
        for n, column in enumerate(columns):
            here = column[alive]
            no_more &= some[:, n, np.newaxis] <= here
            less |= some[:, n, np.newaxis] < here
        hit = (no_more & less).any(axis=0)
        out[alive[hit]] = True
        alive = alive[~hit]
        if not alive.size:
            break
    return out
