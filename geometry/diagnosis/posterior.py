"""Bayes' rule: from what each cause predicts and what was read to how probable each cause is.

All in logarithms, the largest taken out before anything is raised, so that a reading far from every prediction
neither underflows nor favours anything but the nearest.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import inf

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr, ndtr

from geometry.arrays import Array, floats
from geometry.diagnosis.predict import Predictions
from geometry.diagnosis.readings import BLOCK, Readings

MOVING = ("stroke", "free_stroke", "lining_clearance", "arm_angle_applied")
"""Readings that a brake which does not work leaves open."""

NEGLIGIBLE = 1e-7
"""Cells that are less probable than this within their cause are left out of predictions."""

LEAST = -1e290
"""Stands for a probability of 0 in logarithms: far below anything, and still a number."""


@dataclass(frozen=True)
class Belief:
    """What is believed once some readings are taken.

    Parameters
    ----------
    predictions : Predictions
        What each cause predicts.
    readings : Readings
        What was read.
    cells : array (N, L)
        Logarithm of the probability of each cell with each stretch of lining; they sum to 1.

    """

    predictions: Predictions
    readings: Readings
    cells: Array

    @cached_property
    def probability(self) -> Array:
        """Of each cause, (H,); sum 1."""
        found = np.bincount(self.predictions.cause, np.exp(self.cells).sum(-1), len(self.predictions.names))
        return floats(found / found.sum())

    @cached_property
    def within(self) -> Array:
        """Probability of each cell within its cause, (N,): how the cause would have come about."""
        log_cell = log_sum(self.cells, -1)
        top = np.full(len(self.predictions.names), -np.inf)
        np.maximum.at(top, self.predictions.cause, log_cell)
        share = np.exp(log_cell - top[self.predictions.cause])
        total = np.bincount(self.predictions.cause, share, len(self.predictions.names))
        return floats(share / total[self.predictions.cause])

    @property
    def order(self) -> NDArray[np.intp]:
        """Places of the causes, the most probable first; equals stay as they are listed."""
        return np.argsort(-self.probability, kind="stable")

    @cached_property
    def doubt(self) -> float:
        """Entropy of the causes, bits."""
        return entropy(self.probability)

    @cached_property
    def block(self) -> tuple[Array, Array]:
        """Means (N, 8) and covariances (N, 8, 8) of the readings in `BLOCK` once those that were taken are known."""
        return _narrowed(self.predictions.mean, self.predictions.covariance, self.readings)

    @cached_property
    def lost(self) -> float:
        """How probable it is that the brake does not work at all: such a brake may be read anyhow."""
        return float(np.exp(self.cells[~self.predictions.works]).sum())

    def broken(self, place: int) -> bool:
        """Tell whether a cause is only believed of a brake that does not work: what moves may be anything."""
        p = self.predictions
        return not np.any(p.works & (p.cause == place) & (self.within > NEGLIGIBLE))

    @cached_property
    def misfit(self) -> float:
        """Square of how far the readings in `BLOCK` are from the nearest cell of the most probable cause, in sd.

        Of cells in which the brake works: what may be read anyhow explains nothing. Endless where there is none.
        """
        return misfit_of(self.predictions, self.readings, int(self.order[0]))

    @property
    def fits(self) -> bool:
        """Whether the most probable cause explains the readings: once in a thousand such brakes it would not."""
        return self.misfit <= once_in_a_thousand(len(block_of(self.readings)))


def believed(predictions: Predictions, readings: Readings, *, working: bool = False) -> Belief:
    """Return how probable each cause is, given some readings (any of them, none to all).

    With ``working`` it is known that the brake works, somehow: cells in which it does not are left out.
    """
    prior = np.log(predictions.prior)[predictions.cause][:, None]
    with np.errstate(divide="ignore"):
        cells = np.log(predictions.lining_weight) + prior
    alone = _block_log(predictions, readings) + _room_log(predictions, readings)
    alone = alone + _drum_log(predictions, readings) + _marks_log(predictions, readings)
    cells = cells + alone[:, None] + _lining_log(predictions, readings)
    cells = np.where(predictions.works[:, None] | (not working), cells, LEAST)
    return Belief(predictions, readings, cells - log_sum(cells.reshape(-1), -1))


def misfit_of(predictions: Predictions, readings: Readings, place: int) -> float:
    """Return the square of how far the readings in `BLOCK` are from the nearest working cell of a cause, in sd."""
    read, mine = block_of(readings), (predictions.cause == place) & predictions.works
    if not read or not mine.any():
        return inf if read else 0.0
    return float(_squares(predictions.mean[mine], predictions.covariance[mine], readings, read)[0].min())


def once_in_a_thousand(count: int) -> float:
    """Return chi squared that is passed once in a thousand, for so many readings (Wilson and Hilferty)."""
    if count == 0:
        return 0.0
    part = 2 / (9 * count)
    return count * (1 - part + 3.09 * part**0.5) ** 3


def block_of(readings: Readings) -> list[int]:
    """Return the places in `BLOCK` of what was read."""
    return [n for n, name in enumerate(BLOCK) if name in readings.values]


def _off(readings: Readings, read: list[int]) -> Array:
    return np.diag(floats([readings.off[BLOCK[n]] ** 2 for n in read]))


def _values(readings: Readings, read: list[int]) -> Array:
    return floats([readings.values[BLOCK[n]] for n in read])


def _squares(mean: Array, covariance: Array, readings: Readings, read: list[int]) -> tuple[Array, Array]:
    """Mahalanobis distance squared of the readings from each cell, and the logarithm of the determinant."""
    seen = covariance[:, read][:, :, read] + _off(readings, read)
    miss = _values(readings, read) - mean[:, read]
    squares = np.einsum("ni,ni->n", miss, np.linalg.solve(seen, miss[..., None])[..., 0])
    return squares, np.linalg.slogdet(seen)[1]


def _block_log(predictions: Predictions, readings: Readings) -> Array:
    read = block_of(readings)
    if not read:
        return floats(np.zeros(len(predictions.mean)))
    squares, log_determinant = _squares(predictions.mean, predictions.covariance, readings, read)
    return -0.5 * (squares + log_determinant + len(read) * np.log(2 * np.pi))


def _narrowed(mean: Array, covariance: Array, readings: Readings) -> tuple[Array, Array]:
    """Means and covariances of cells once the readings that were taken are known."""
    read = block_of(readings)
    if not read:
        return mean, covariance
    seen = covariance[:, read][:, :, read] + _off(readings, read)
    cross = covariance[:, :, read]
    gain = np.swapaxes(np.linalg.solve(seen, np.swapaxes(cross, 1, 2)), 1, 2)
    miss = _values(readings, read) - mean[:, read]
    narrowed = covariance - gain @ np.swapaxes(cross, 1, 2)
    return mean + np.einsum("nij,nj->ni", gain, miss), narrowed


STROKE = BLOCK.index("stroke")


def _room_log(predictions: Predictions, readings: Readings) -> Array:
    """What is left of a broad cell once its rod stays between nothing and the rated stroke, as a logarithm.

    Where the brake does not work the stroke may be any that the chamber has, and no other: an angle that would take
    more of it is no sign of such a brake.
    """
    found, dead = floats(np.zeros(len(predictions.mean))), ~predictions.works
    if not block_of(readings) or not dead.any():
        return found
    mean, covariance, rated = predictions.mean[dead], predictions.covariance[dead], predictions.rated[dead]
    before, after = (_inside(*each, rated) for each in ((mean, covariance), _narrowed(mean, covariance, readings)))
    found[dead] = np.log(np.maximum(after, 1e-300)) - np.log(before)
    return found


def _inside(mean: Array, covariance: Array, rated: Array) -> Array:
    """Probability that the stroke of each cell lies between nothing and the rated one."""
    middle, spread = mean[:, STROKE], np.sqrt(np.maximum(covariance[:, STROKE, STROKE], 1e-12))
    return floats(ndtr((rated - middle) / spread) - ndtr(-middle / spread))


def _lining_log(predictions: Predictions, readings: Readings) -> Array:
    value = readings.values.get("lining_thickness")
    if value is None:
        return floats(0.0)
    shared = predictions.linings
    off = np.hypot(readings.off["lining_thickness"], shared.blur)[:, None]
    return evenly_log(floats(value), shared.stretch, off)[shared.which]


def _drum_log(predictions: Predictions, readings: Readings) -> Array:
    value = readings.values.get("drum_diameter")
    if value is None:
        return floats(0.0)
    shared = predictions.drums
    off = np.hypot(readings.off["drum_diameter"], shared.blur)
    return evenly_log(floats(value), shared.stretch[:, 0], off)[shared.which]


def _marks_log(predictions: Predictions, readings: Readings) -> Array:
    value = readings.values.get("long_stroke_marks")
    if value is None:
        return floats(0.0)
    seen = np.where(np.isnan(predictions.marks), 0.5, predictions.marks)
    return np.log(seen if value else 1 - seen)


def evenly_log(value: Array, stretch: Array, off: Array) -> Array:
    """Return the logarithm of the density of a reading of what lies evenly on a ``stretch`` (.., 2), off by so much.

    Phi((high - y) / off) - Phi((low - y) / off), over the stretch's length; the side on which both are small is used.
    """
    low, high = (stretch[..., 0] - value) / off, (stretch[..., 1] - value) / off
    flip = low + high > 0
    far, near = np.where(flip, -high, low), np.where(flip, -low, high)
    length = np.maximum(stretch[..., 1] - stretch[..., 0], 1e-9)
    a, b = log_ndtr(near), log_ndtr(far)
    with np.errstate(divide="ignore"):
        found = a + np.log(-np.expm1(np.minimum(b - a, 0.0))) - np.log(length)
    return np.maximum(np.nan_to_num(found, nan=LEAST, neginf=LEAST), LEAST)


def log_sum(values: Array, axis: int) -> Array:
    """Return the logarithm of the sum of what ``values`` are the logarithms of, along an axis; -inf of nothing."""
    top = values.max(axis=axis, keepdims=True)
    safe = np.where(np.isfinite(top), top, 0.0)
    with np.errstate(divide="ignore"):
        return floats(np.squeeze(safe, axis) + np.log(np.exp(values - safe).sum(axis=axis)))


def entropy(probability: Iterable[float]) -> float:
    """Return the entropy of a distribution, bits.

    >>> entropy([0.5, 0.25, 0.25])
    1.5
    """
    return float(sum(-p * np.log2(p) for p in probability if p > 0))
