"""Which rows no other dominates, for two, three and four objectives and a million rows, however many are left.

Rows are sorted, so that only an earlier one can dominate a later one. Two objectives then take one pass. With three and
four the rows are halved again and again: in each pair of halves, whether any row of the earlier one dominates a row of
the later one is a question with one objective less (H. T. Kung, F. Luccio, F. P. Preparata, On finding the maxima of a
set of vectors, Journal of the ACM 22, 1975; the idea from memory). All pairs of one size are looked at together: sorted
by the last but one objective, the least of the last one so far in each pair says it. What is dominated is left out at
once, since what dominates it dominates whatever it does.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import Array, Mask

Places = NDArray[np.int64]

SMALL = 6
"""Pairs of halves up to this power of two are compared row by row, which is faster there."""
SMALLER = 4
AT_ONCE = 2_000_000
"""Comparisons of two rows made at once."""
FIRST = 32
"""The most promising rows, which rule out most of the others before anything is halved."""


def non_dominated(objectives: Array) -> NDArray[np.intp]:
    """Return the places, in order, of the rows of (points, objectives) that no other row dominates; less is better.

    A row dominates another if it is nowhere greater and somewhere less: equal rows do not dominate each other. One to
    four objectives; with more, rows are compared one by one, which takes long where many are left.

    >>> non_dominated(np.array([[1.0, 4.0], [2.0, 2.0], [3.0, 3.0], [4.0, 1.0]])).tolist()
    [0, 1, 3]
    """
    if objectives.shape[0] == 0:
        return np.empty(0, dtype=np.intp)
    order = np.lexsort(objectives.T[::-1])
    rows = objectives[order]
    new = np.concatenate([[True], (rows[1:] != rows[:-1]).any(axis=1)])
    starts = np.flatnonzero(new)
    alive = np.zeros(starts.size, dtype=bool)
    alive[_of_different(rows[starts])] = True
    return np.sort(order[np.repeat(alive, np.diff(np.append(starts, rows.shape[0])))])  # equals go with each other


def _of_different(rows: Array) -> Places:
    """The same of sorted rows that all differ: then an earlier one that is nowhere greater dominates."""
    count = rows.shape[1]
    if count == 1:
        return np.zeros(1, dtype=np.int64)
    if count == 2:
        before = np.minimum.accumulate(np.concatenate([[np.inf], rows[:-1, 1]]))
        return np.flatnonzero(rows[:, 1] < before)
    left = _after_the_first(rows)
    if count > 4:
        return _one_by_one(rows, left)
    alone, levels = ~_in_small_blocks(rows[left]), range(SMALL, int(left.size - 1).bit_length())
    left, place = left[alone], np.flatnonzero(alone)  # the place stays, so that halves stay the same
    ranks = [_ranks(rows[left, n]) for n in range(1, count)]
    for level in levels:
        later = (place >> level & 1).astype(bool)
        out = _beaten3(place >> level + 1, later, *ranks) if count == 3 else _beaten4(place >> level + 1, later, *ranks)
        left, place, ranks = left[~out], place[~out], [rank[~out] for rank in ranks]
    return left


def _ranks(values: Array) -> Places:
    """Return numbers from 0 on in the order of some values, equal ones alike."""
    return np.unique(values, return_inverse=True)[1].astype(np.int64)


def _beaten3(pair: Places, later: Mask, middle: Places, last: Places) -> Mask:
    """Which rows of the later half of each pair are dominated by one of the earlier, in two objectives."""
    order = np.argsort((pair * (int(middle.max()) + 1) + middle) * 2 + later)  # at a tie the earlier half comes first
    none = int(last.max()) + 1
    down = pair[order] * (none + 1)  # so that the least so far begins anew with each pair
    least = np.minimum.accumulate(np.where(later[order], none, last[order]) - down) + down
    out = np.zeros(pair.size, dtype=bool)
    out[order] = later[order] & (least <= last[order])
    return out


def _beaten4(pair: Places, later: Mask, first: Places, middle: Places, last: Places) -> Mask:
    """The same in three objectives: sorted by the first of these, each pair is halved again and again."""
    order = np.argsort((pair * (int(first.max()) + 1) + first) * 2 + later)
    pair, later, middle, last = pair[order], later[order], middle[order], last[order]
    new = np.concatenate([[True], pair[1:] != pair[:-1]])
    starts = np.flatnonzero(new)
    number = np.cumsum(new) - 1
    place = np.arange(pair.size) - starts[number]  # within the pair
    most = int(np.diff(np.append(starts, pair.size)).max())
    out = _in_small_groups(number, place, later, middle, last)
    for level in range(SMALLER, int(most - 1).bit_length()):
        second = (place >> level & 1).astype(bool)
        # the earlier rows of the first half against the later ones of the second
        asked = np.flatnonzero((later == second) & ~(later & out))
        if not asked.size:
            continue
        group = (number[asked] * (most >> level + 1) + number[asked]) + (place[asked] >> level + 1)
        out[asked] |= _beaten3(group, later[asked], middle[asked], last[asked])
    found = np.zeros(order.size, dtype=bool)
    found[order] = out
    return found


def _in_small_groups(number: Places, place: Places, later: Mask, middle: Places, last: Places) -> Mask:
    """Which later rows are dominated by an earlier one among the next few of their pair, compared row by row."""
    size = 1 << SMALLER
    new = np.concatenate([[True], (number[1:] != number[:-1]) | (place[1:] >> SMALLER != place[:-1] >> SMALLER)])
    slot = (np.cumsum(new) - 1) * size + (place & size - 1)
    shape = (int(new.sum()), size)
    nothing = int(max(middle.max(), last.max())) + 1
    c, d = (np.full(shape, nothing).reshape(-1) for _ in range(2))
    earlier, asked = (np.zeros(shape, dtype=bool).reshape(-1) for _ in range(2))
    c[slot], d[slot], earlier[slot], asked[slot] = middle, last, ~later, later
    found = np.zeros(shape, dtype=bool)
    for part in _parts(shape[0], size):
        cs, ds, es, qs = (a.reshape(shape)[part] for a in (c, d, earlier, asked))
        hit = (cs[:, :, None] <= cs[:, None, :]) & (ds[:, :, None] <= ds[:, None, :])
        hit &= es[:, :, None] & np.tri(size, k=-1, dtype=bool).T
        found[part] = qs & hit.any(axis=1)
    return found.reshape(-1)[slot]


def _in_small_blocks(rows: Array) -> Mask:
    """Which sorted rows are dominated by an earlier one of their block, compared row by row."""
    size = 1 << SMALL
    count = -(-rows.shape[0] // size)
    padded = np.full((count * size, rows.shape[1]), np.inf)
    padded[: rows.shape[0]] = rows
    blocks = padded.reshape(count, size, -1)
    found = np.zeros((count, size), dtype=bool)
    before = np.tri(size, k=-1, dtype=bool).T
    for part in _parts(count, size):
        hit = np.broadcast_to(before, (part.stop - part.start, size, size)).copy()
        for n in range(1, rows.shape[1]):
            column = blocks[part, :, n]
            hit &= column[:, :, None] <= column[:, None, :]
        found[part] = hit.any(axis=1)
    return found.reshape(-1)[: rows.shape[0]]


def _parts(count: int, size: int) -> Iterator[slice]:
    step = max(1, AT_ONCE // size**2)
    return (slice(start, min(start + step, count)) for start in range(0, count, step))


def _after_the_first(rows: Array) -> Places:
    """The rows that none of the most promising ones dominates."""
    low, high = rows.min(axis=0), rows.max(axis=0)
    worth = ((rows - low) / np.where(high > low, high - low, 1.0)).sum(axis=1)
    left: Places = np.arange(rows.shape[0], dtype=np.int64)
    best = np.argpartition(worth, min(FIRST, worth.size - 1))[:FIRST]
    for one in rows[best[np.argsort(worth[best])]]:
        some = rows[left]
        left = left[~((one <= some).all(axis=1) & (one < some).any(axis=1))]
    return left


def _one_by_one(rows: Array, left: Places) -> Places:
    """The rows that are left when each is held against all that are found before it."""
    found = np.empty(0, dtype=np.int64)
    for row in left:
        if not (rows[found] <= rows[row]).all(axis=1).any():
            found = np.append(found, row)
    return found
