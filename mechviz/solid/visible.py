"""What is seen of each part in a picture of the solid brake, as shapes in picture units."""

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

CELL = 4
"""Pixels a cell; what is seen is told cell by cell."""
LEAST = 6
"""Of fewer cells nothing is pointed at."""


def visible_shapes(
    numbers: NDArray[np.uint8], names: Mapping[int, str], scale: float, corner: tuple[float, float]
) -> dict[str, BaseGeometry]:
    """Return the shape of every part that is seen.

    ``numbers`` (height, width) says which part is in each pixel; ``scale`` is picture units a pixel, ``corner`` where
    the first pixel stands in the picture.
    """
    cells = numbers[CELL // 2 :: CELL, CELL // 2 :: CELL]
    found: dict[str, BaseGeometry] = {}
    for number, name in names.items():
        mask = cells == number
        if int(mask.sum()) >= LEAST:
            found[name] = _shape(mask, scale * CELL, corner)
    return found


def _shape(mask: NDArray[np.bool_], cell: float, corner: tuple[float, float]) -> BaseGeometry:
    """The cells of a mask as one shape, made of its rows' runs."""
    edges = np.diff(np.pad(mask.astype(np.int8), ((0, 0), (1, 1))), axis=1)
    rows, starts = np.nonzero(edges == 1)
    _, ends = np.nonzero(edges == -1)
    x, y = corner
    runs = shapely.box(x + starts * cell, y + rows * cell, x + ends * cell, y + (rows + 1) * cell)
    return shapely.union_all(runs)


def seen_of(shapes: Mapping[str, BaseGeometry], parts: Sequence[str]) -> tuple[str, BaseGeometry]:
    """Return which of some parts is seen most in one piece, and that piece; else an empty shape."""
    pieces = [(part, piece) for part in parts if part in shapes for piece in shapely.get_parts(shapes[part])]
    return max(pieces, key=lambda found: found[1].area, default=("", shapely.Point()))
