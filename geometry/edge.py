"""The figure at which something stops holding: how far one may go from what is good towards what is not."""

from collections.abc import Callable

import numpy as np

from geometry.arrays import Array, Mask

HALVINGS = 50
PIECES, ROUNDS = 64, 9


def edge(holds: Callable[[float], bool], good: float, bad: float, halvings: int = HALVINGS) -> float:
    """Return the figure nearest to ``bad`` for which ``holds`` is still true, by halving; ``good`` must hold.

    For what is slow to ask: each of the ``halvings`` asks once. What takes arrays is faster by `edges`.

    >>> round(edge(lambda x: x * x < 2.0, 1.0, 2.0), 9)
    1.414213562
    """
    for _ in range(halvings):
        middle = 0.5 * (good + bad)
        if holds(middle):
            good = middle
        else:
            bad = middle
    return good


def edges(holds: Callable[[Array], Mask], good: Array, bad: Array) -> Array:
    """Return the same for many at once: ``good`` and ``bad`` have shape (n,), ``holds`` takes and returns (n, 65).

    Each round cuts every range into 64 and keeps the piece at whose far end ``holds`` is first untrue.

    >>> edges(lambda x: x * x < np.array([[2.0], [3.0]]), np.array([1.0, 1.0]), np.array([2.0, 2.0])).round(9)
    array([1.41421356, 1.73205081])
    """
    share = np.linspace(0.0, 1.0, PIECES + 1)
    for _ in range(ROUNDS):
        grid = good[:, None] + (bad - good)[:, None] * share
        grid[:, -1] = bad
        held = holds(grid)
        held[:, 0], held[:, -1] = True, False
        last = np.argmin(held, axis=1) - 1
        rows = np.arange(good.size)
        good, bad = grid[rows, last], grid[rows, last + 1]
        if np.array_equal(np.nextafter(good, bad), bad):
            break  # there is no figure in between any more
    return good
