"""The figure at which something stops holding: how far one may go from what is good towards what is not."""

from collections.abc import Callable

HALVINGS = 50


def edge(holds: Callable[[float], bool], good: float, bad: float) -> float:
    """Return the figure nearest to ``bad`` for which ``holds`` is still true, by halving; ``good`` must hold.

    >>> round(edge(lambda x: x * x < 2.0, 1.0, 2.0), 9)
    1.414213562
    """
    for _ in range(HALVINGS):
        middle = 0.5 * (good + bad)
        if holds(middle):
            good = middle
        else:
            bad = middle
    return good
