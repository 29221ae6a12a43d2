"""What each cause predicts for every reading, with everything unknown about the brake averaged out.

A cause is solved on a grid: its amount, the slack, the wind-up, the lining. Around each node the readings are taken
for straight in amount, slack, wind-up, pressure, heat, and the four lengths of the linkage, each with the sd that it
has there; so each node becomes a normal distribution over the readings, and a cause a mixture of some hundred of
them. A node where the brake does not work at all (past the cam's tip, too tight) predicts any stroke between nothing
and the rated one, with the arm where that puts it; such nodes are marked, for what may be read anyhow explains no
reading. Linings and drums are not normal but even between limits, and stand by themselves.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import Array, Mask, floats, shared_rows
from geometry.defects import Wheel
from geometry.diagnosis.causes import Cause, causes_of, grid_of
from geometry.diagnosis.cells import Cells, cells_of
from geometry.diagnosis.meant import Meant, meant_by
from geometry.diagnosis.priors import WEIGHTS, prior_of
from geometry.diagnosis.tape import cleared, taped
from geometry.setup import Setup


@dataclass(frozen=True, eq=False)
class Predictions:
    """Every cause as a mixture of cells; equal only to itself.

    Parameters
    ----------
    names : tuple of str
        Of the H causes.
    prior : array (H,)
        Before anything is measured; sum 1.
    cause : array (N,)
        Which cause each of the N cells belongs to.
    mean, covariance : array (N, 8) and (N, 8, 8)
        Of the readings in `BLOCK`, without what the tape adds.
    lining_weight : array (N, L)
        Weight of a cell with each stretch of lining thickness; the sum over a cause is 1.
    lining, lining_sd : array (N, L, 2) and (N,)
        The stretches, mm, and how blurred their ends are.
    drum, drum_sd : array (N, 2) and (N,)
        The same for the drum.
    marks : array (N,)
        Probability that marks of a long-stroke chamber are seen; NaN where such chambers have none.
    rated : array (N,)
        Rated stroke of the chamber, mm: no rod goes farther.
    works : array (N,)
        Whether the brake works in this cell; where it does not, stroke, slack and angle may be anything.

    """

    names: tuple[str, ...]
    prior: Array
    cause: NDArray[np.intp]
    mean: Array
    covariance: Array
    lining_weight: Array
    lining: Array
    lining_sd: Array
    drum: Array
    drum_sd: Array
    marks: Array
    rated: Array
    works: Mask

    @cached_property
    def linings(self) -> "Shared":
        """The few different linings of the many cells."""
        return Shared.of(self.lining, self.lining_sd)

    @cached_property
    def drums(self) -> "Shared":
        """The few different drums of the many cells."""
        return Shared.of(self.drum[:, None, :], self.drum_sd)


@dataclass(frozen=True, eq=False)
class Shared:
    """What many cells share: stretches (U, L, 2) and how blurred their ends are (U,), and which a cell has: (N,)."""

    stretch: Array
    blur: Array
    which: NDArray[np.intp]

    @classmethod
    def of(cls, stretch: Array, blur: Array) -> "Shared":
        """Return the different ones among those of all cells, (N, L, 2) and (N,)."""
        rows, which = shared_rows(np.column_stack([stretch.reshape(len(stretch), -1), blur]))
        return cls(rows[:, :-1].reshape(len(rows), -1, 2), rows[:, -1], which)


def predict(setup: Setup) -> Predictions:
    """Return what each cause predicts for a setup, whatever was measured of it; solved once for each brake meant."""
    return _predicted(meant_by(setup))


@lru_cache(maxsize=8)
def _predicted(meant: Meant) -> Predictions:
    grid = grid_of(meant)
    causes = causes_of(meant, grid)
    wheels = [wheel for cause in causes for wheel in _all(cause)]
    tapes = iter(taped(wheels, grid.shape))
    gaps = iter(cleared([row[0] for cause in causes for row in cause.wheels], grid.shape))
    parts = [
        cells_of(meant, grid, cause, [next(tapes) for _ in _all(cause)], [next(gaps) for _ in cause.wheels])
        for cause in causes
    ]
    return _joined([(cause.name, part) for cause, part in zip(causes, parts, strict=True) if part is not None])


def _all(cause: Cause) -> list[Wheel]:
    return [*(wheel for row in cause.wheels for wheel in row), *cause.stretched]


def _joined(parts: Sequence[tuple[str, Cells]]) -> Predictions:
    names = tuple(name for name, _ in parts)
    others = sum(WEIGHTS.get(name, 0.0) for name in names)
    prior = floats([prior_of(name, others) for name in names])
    cause = np.repeat(np.arange(len(parts)), [len(part.mean) for _, part in parts])
    columns = [np.concatenate(column) for column in zip(*(vars(part).values() for _, part in parts), strict=True)]
    for column in columns:
        column.flags.writeable = False
    return Predictions(names, prior / prior.sum(), cause, *columns)
