"""Smooth functions of two variables on an even mesh, read by straight lines both ways."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array, floats
from geometry.errors import AssemblyError
from mechviz.page.grid import Columns, packed, too_rough

MOST_CELLS = 64
CLOSE = 2e-5
"""Wanted: greatest error at the middle of a cell over the greatest size of all columns, which are of one kind."""

Range = tuple[float, float]


@dataclass(frozen=True)
class Sheet:
    """Columns of samples, rows along the first variable; each variable from its low to its high end."""

    first: Range
    second: Range
    columns: Columns

    @property
    def shape(self) -> tuple[int, int]:
        """How many nodes each variable has."""
        rows, across = next(iter(self.columns.values())).shape
        return rows, across

    def packed(self) -> dict[str, object]:
        """Return the sheet as the page's table holds it."""
        columns = {name: packed(column) for name, column in self.columns.items()}
        return {"first": self.first, "second": self.second, "count": self.shape, "columns": columns}


def sampled_sheet(function: Callable[[Array, Array], Columns], first: Range, second: Range, where: str) -> Sheet:
    """Return a function of two variables as a sheet, its mesh halved until straight lines are close enough.

    ``function`` takes a column and a row of values that broadcast, and must be smooth over the whole rectangle.
    ``where`` names the part that shapes it. Raises `AssemblyError` where it is not a number somewhere.
    """
    cells = 8
    while True:
        down = floats(np.linspace(*first, 2 * cells + 1))[:, np.newaxis]
        fine = function(down, floats(np.linspace(*second, 2 * cells + 1)))
        size = float(np.max([np.max(np.abs(column)) for column in fine.values()]))
        if not np.isfinite(size):
            raise AssemblyError(too_rough(where))
        if cells == MOST_CELLS or max(_error(column) for column in fine.values()) <= CLOSE * size:
            return Sheet(first, second, {name: column[::2, ::2] for name, column in fine.items()})
        cells *= 2


def _error(fine: Array) -> float:
    """How far the middle of a cell lies from the mean of its corners."""
    corners = fine[:-2:2, :-2:2] + fine[2::2, :-2:2] + fine[:-2:2, 2::2] + fine[2::2, 2::2]
    return float(np.max(np.abs(0.25 * corners - fine[1::2, 1::2])))
