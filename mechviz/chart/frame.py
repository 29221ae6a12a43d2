"""Where everything of a chart stands, and round figures for its axes. Picture units; the chart is 1600 x 900."""

import numpy as np

WIDTH, HEIGHT = 1600.0, 900.0
LEFT, RIGHT = 118.0, 1040.0
SIDE = 1166.0
"""Where the column of words begins."""
TOP = 104.0
APART = 34.0
BOTTOM = TOP + 670 + 2 * APART
ROOM = WIDTH - SIDE - 40


def round_step(rough: float) -> float:
    """Return the nearest larger of 1, 2, 5 times a power of ten.

    >>> round_step(0.3), round_step(7.0)
    (0.5, 10.0)
    """
    power = 10.0 ** np.floor(np.log10(rough))
    return float(next(n * power for n in (1, 2, 5, 10) if n * power >= rough * (1 - 1e-12)))


def decimals(step: float) -> int:
    """Return how many decimals the multiples of a step need.

    >>> decimals(0.5), decimals(20.0)
    (1, 0)
    """
    return int(max(0, -np.floor(np.log10(step) + 1e-9)))


LOWER = 24.0
"""How much lower the first plot begins where numbers would stand on its title."""


def stacked(*heights: float, top: float = TOP) -> list[tuple[float, float]]:
    """Return top and bottom of plots of such heights, one below the other, the first at ``top``."""
    tops = [top + sum(heights[:n]) + n * APART for n in range(len(heights))]
    return [(top, top + height) for top, height in zip(tops, heights, strict=True)]
