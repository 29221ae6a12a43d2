"""Which causes no reading can tell apart: how much their predictions for all readings together overlap.

Readings of every kind are drawn from each cause (a fixed draw, so that the answer is always the same), all at once
and as finely as they are read. Between two causes, 1 - the mean of min(1, other / own) is the total variation distance:
0 where whatever can be read is equally probable under both, 1 where one glance decides.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from geometry.arrays import Array, Mask, floats, shared_rows
from geometry.diagnosis.posterior import evenly_log, log_sum
from geometry.diagnosis.predict import Predictions
from geometry.diagnosis.readings import BLOCK, Readings

DRAWS = 32
"""Sets of readings drawn from each cause."""

SEED = 1
TOLD = 0.1
"""Causes nearer than this are not told apart: the best guess between the two would be right 55 times of 100."""


@dataclass(frozen=True)
class _Draw:
    """Sets of readings: the block (D, 8), lining, drum (D,) and marks (D,)."""

    block: Array
    lining: Array
    drum: Array
    marks: Mask


def telling_apart(predictions: Predictions, readings: Readings) -> Array:
    """Return how well all readings together would tell two causes apart, 0 to 1: (H, H), with zeros between equals.

    Of ``readings`` only counts by how much each may be off: both free stroke and clearance can be read.
    """
    return _told_apart(predictions, tuple(readings.off.items()))


@lru_cache(maxsize=8)
def _told_apart(predictions: Predictions, off: tuple[tuple[str, float], ...]) -> Array:
    readings = Readings({}, dict(off))
    generator, causes = np.random.default_rng(SEED), len(predictions.names)
    drawn = [_drawn(generator, predictions, readings, cause) for cause in range(causes)]
    every = _Draw(*(np.concatenate(column) for column in zip(*(vars(one).values() for one in drawn), strict=True)))
    density = floats([_log_density(predictions, readings, cause, every) for cause in range(causes)])
    by_truth = np.moveaxis(density.reshape(causes, causes, DRAWS), 0, 2)
    own = by_truth[np.arange(causes), :, np.arange(causes)]
    one_way = 1 - np.exp(np.minimum(by_truth - own[:, :, None], 0.0)).mean(axis=1)
    apart = floats(0.5 * (one_way + one_way.T))
    apart.flags.writeable = False
    return apart


def groups_of(distance: Array) -> list[list[int]]:
    """Return places of causes in groups: each is nearer than `TOLD` to some other of its group, in their order."""
    left, found = list(range(len(distance))), list[list[int]]()
    while left:
        group, fresh = [left[0]], [left[0]]
        while fresh:
            near = [n for n in left if n not in group and any(distance[n, m] < TOLD for m in fresh)]
            group, fresh = group + near, near
        left = [n for n in left if n not in group]
        found.append(sorted(group))
    return found


def _drawn(generator: np.random.Generator, predictions: Predictions, readings: Readings, cause: int) -> _Draw:
    """Sets of readings of one cause, each off by what the tape is off."""
    p, mine = predictions, np.flatnonzero(predictions.cause == cause)
    weight = p.lining_weight[mine]
    pick = generator.choice(weight.size, DRAWS, p=weight.ravel() / weight.sum())
    cell, stretch = mine[pick // weight.shape[1]], pick % weight.shape[1]
    root = np.linalg.cholesky(_with_tape(p.covariance[cell], readings))
    block = p.mean[cell] + np.einsum("nij,nj->ni", root, generator.standard_normal((DRAWS, len(BLOCK))))
    lining = _even(generator, p.lining[cell, stretch], _off(readings, "lining_thickness", p.lining_sd[cell]))
    drum = _even(generator, p.drum[cell], _off(readings, "drum_diameter", p.drum_sd[cell]))
    return _Draw(block, lining, drum, generator.random(DRAWS) < p.marks[cell])


def _even(generator: np.random.Generator, stretch: Array, off: Array) -> Array:
    place = stretch[:, 0] + np.diff(stretch)[:, 0] * generator.random(DRAWS)
    return place + off * generator.standard_normal(DRAWS)


def _with_tape(covariance: Array, readings: Readings) -> Array:
    """The covariance with what the tape adds."""
    return covariance + np.diag(floats([readings.off[name] for name in BLOCK]) ** 2)


def _off(readings: Readings, name: str, blur: Array) -> Array:
    return floats(np.hypot(readings.off[name], blur))


def _log_density(predictions: Predictions, readings: Readings, cause: int, draw: _Draw) -> Array:
    """Logarithm of the density of each set of readings under one cause, (D,)."""
    p, mine = predictions, predictions.cause == cause
    root = np.linalg.cholesky(_with_tape(p.covariance[mine], readings))
    inverse = np.linalg.inv(root)
    apart = (inverse.reshape(-1, len(BLOCK)) @ draw.block.T).reshape(*p.mean[mine].shape, -1)
    apart -= np.einsum("nij,nj->ni", inverse, p.mean[mine])[..., None]
    size = np.log(np.einsum("nii->ni", root)).sum(axis=1)[:, None]
    lining = _lining_density(p, readings, mine, draw.lining)
    off = _off(readings, "drum_diameter", p.drum_sd[mine])
    stretch, which = shared_rows(np.column_stack([p.drum[mine], off]))
    drum = evenly_log(draw.drum[None, :], stretch[:, None, :2], stretch[:, None, 2])[which]
    seen = np.nan_to_num(p.marks[mine], nan=0.5)[:, None]
    marks = np.log(np.where(draw.marks, seen, 1 - seen))
    return log_sum(lining + drum + marks - size - 0.5 * (apart * apart).sum(axis=1), 0)


def _lining_density(p: Predictions, readings: Readings, mine: Mask, lining: Array) -> Array:
    """Logarithm of weight times density of each lining in each cell, (N, D); stretches that cells share once."""
    off = _off(readings, "lining_thickness", p.lining_sd[mine])
    rows, which = shared_rows(np.column_stack([p.lining[mine].reshape(mine.sum(), -1), off]))
    stretch, blur = rows[:, :-1].reshape(len(rows), -1, 2), rows[:, -1]
    density = np.exp(evenly_log(lining[None, None, :], stretch[:, :, None, :], blur[:, None, None]))
    found = np.stack([w @ density[n] for w, n in zip(p.lining_weight[mine], which, strict=True)])
    return floats(np.log(np.maximum(found, 1e-300)))
