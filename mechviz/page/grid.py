"""Functions sampled on evenly spaced nodes, as fine as they need, and packed for a script to read.

Between two nodes a cubic runs through both with the slopes that a five-point difference gives there; the script's
`Grid` in interpolate.js is its twin. A grid is made finer until that cubic meets the function midway between all nodes.
"""

from base64 import b64encode
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import Array, floats
from geometry.errors import AssemblyError, Fault

FEWEST = 33
MOST = 1025
CLOSE = 1e-7
"""Wanted: greatest error over a column's greatest size."""

ENOUGH = 2e-5
"""Accepted of a grid with the most nodes; more than this could show on the page."""

Columns = Mapping[str, Array]


@dataclass(frozen=True)
class Grid:
    """Columns of samples at evenly spaced nodes from ``low`` to ``high``."""

    low: float
    high: float
    columns: Columns

    @property
    def count(self) -> int:
        """How many nodes there are."""
        return len(next(iter(self.columns.values())))

    def packed(self) -> dict[str, object]:
        """Return the grid as the page's table holds it."""
        columns = {name: packed(column) for name, column in self.columns.items()}
        return {"low": self.low, "high": self.high, "count": self.count, "columns": columns}


def packed(values: Array) -> str:
    """Return numbers as base64 of little-endian float64."""
    return b64encode(np.ascontiguousarray(values, dtype="<f8").tobytes()).decode("ascii")


def packed_short(values: Array) -> str:
    """Return numbers as base64 of little-endian float32: seven digits."""
    return b64encode(np.ascontiguousarray(values, dtype="<f4").tobytes()).decode("ascii")


def sampled(
    function: Callable[[Array], Columns], low: float, high: float, where: str, loose: Sequence[str] = ()
) -> Grid:
    """Return a function of one variable as a grid; ``where`` names the part that shapes it.

    ``loose`` columns may end a hundred times as far off: forces need fewer digits than poses, and are the rougher ones
    where a profile was measured. Raises `AssemblyError` where the function is too rough for `MOST` nodes, or is not a
    number somewhere.
    """
    count = FEWEST
    while True:
        fine = {name: floats(c) for name, c in function(floats(np.linspace(low, high, 2 * count - 1))).items()}
        errors = {name: midway_error(column) for name, column in fine.items()}
        if all(error <= CLOSE for error in errors.values()) or count == MOST:
            break
        count = 2 * count - 1
    if not all(error <= ENOUGH * (100 if name in loose else 1) for name, error in errors.items()):
        raise AssemblyError(too_rough(where))
    return Grid(low, high, {name: column[::2] for name, column in fine.items()})


def midway_error(fine: Array) -> float:
    """Return how far every second sample lies from the cubic through the others, over the greatest; NaN for any NaN."""
    coarse = fine[::2]
    size = float(np.max(np.abs(fine)))
    return float(np.max(np.abs(midway(coarse) - fine[1::2]))) / size if size != 0 else 0.0


def midway(nodes: Array) -> Array:
    """Return the cubic half way between each two nodes."""
    slope = slopes(nodes)
    return 0.5 * (nodes[:-1] + nodes[1:]) + 0.125 * (slope[:-1] - slope[1:])


_STENCILS: NDArray[np.float64] = np.array([[-25, 48, -36, 16, -3], [-3, -10, 18, -6, 1], [1, -8, 0, 8, -1]]) / 12.0
"""Five-point differences at the first, second and third of five nodes: exact for a quartic."""


def slopes(nodes: Array) -> Array:
    """Return the slope at each node, per node."""
    slope = np.empty_like(nodes)
    slope[:2] = _STENCILS[:2] @ nodes[:5]
    slope[-2:] = -(_STENCILS[:2] @ nodes[:-6:-1])[::-1]
    slope[2:-2] = np.convolve(nodes, _STENCILS[2][::-1], "valid")
    return slope


def too_rough(where: str) -> Fault:
    """Make the fault of a part that cannot be tabulated."""
    problem = "its motion is too rough to be drawn from a table"
    return Fault(where, problem, "fewer or smoother points in a measured profile", kind="number")
