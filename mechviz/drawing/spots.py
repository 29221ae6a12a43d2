"""Spots on a shape, counted: many boxes are asked at once whether one lies in them."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from geometry.arrays import Array, Mask
from mechviz.drawing.lettering import Bounds

APART = 8.0
"""Picture units from one spot to the next, both ways: less than the height of any label."""
INSIDE = 1e-6
"""How far inside a box a spot has to lie, in steps."""


@dataclass(frozen=True)
class Spots:
    """An even mesh of spots from ``left`` and ``top``.

    Of the first m rows and n columns ``count[m, n]`` are on a shape: what any box holds follows from four counts.
    """

    left: float
    top: float
    count: NDArray[np.int64]

    def met(self, edges: Array) -> Mask:
        """Say which of some boxes (left, top, right, bottom; each an array) hold a spot on the shape.

        Those meet the shape. The others may meet it too, between two spots.
        """
        first, last = _between(edges[0] - self.left, edges[2] - self.left, self.count.shape[1] - 1)
        upper, lower = _between(edges[1] - self.top, edges[3] - self.top, self.count.shape[0] - 1)
        count = self.count
        return count[lower, last] - count[upper, last] - count[lower, first] + count[upper, first] > 0


def spots(bounds: Bounds, shape: BaseGeometry) -> Spots:
    """Return the spots of a shape inside some bounds; quick where the shape is prepared."""
    left, top, right, bottom = bounds
    x, y = np.meshgrid(np.arange(left, right, APART), np.arange(top, bottom, APART))
    on = np.asarray(shapely.intersects_xy(shape, x, y), dtype=np.int64)
    return Spots(left, top, np.pad(on.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0))))


def _between(low: Array, high: Array, most: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The first of the spots between two places on a line, and the first one after them."""
    first = np.ceil(low / APART + INSIDE).clip(0, most).astype(np.intp)
    return first, np.maximum(first, (np.floor(high / APART - INSIDE) + 1).clip(0, most).astype(np.intp))
