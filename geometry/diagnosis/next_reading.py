"""What each cause would predict for a reading not yet taken, and how much that reading would tell.

What it would tell is the expected fall of the causes' entropy, in bits: the entropy of the reading as it is expected
now, less that of the reading under each cause, weighed by the causes' probabilities.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.special import ndtr

from geometry.arrays import Array, Mask, floats, shared_rows
from geometry.diagnosis.posterior import MOVING, NEGLIGIBLE, Belief
from geometry.diagnosis.readings import BLOCK, READINGS, Reading

POINTS = 241
"""Where a reading's density is looked at."""

RODS = ("stroke", "free_stroke")
"""Readings of the rod, which the chamber bounds."""

LOW, HIGH = 0.05, 0.95
"""A prediction is given as the stretch between these quantiles."""


@dataclass(frozen=True)
class Worth:
    """What a reading would tell.

    Parameters
    ----------
    reading : Reading
        Which.
    bits : float
        Expected fall of the doubt.
    at : array (G,)
        Values of the reading, mm or rad; for marks 0 and 1.
    share : array (H, G)
        Probability of each, under each cause.
    told : array (H, G)
        The same; of what moves, only of a brake that works, under each cause that may leave it working.
    most : array (H,)
        More than this cannot be read under each cause: the rated stroke of its chamber, for a stroke by air or hand.

    """

    reading: Reading
    bits: float
    at: Array
    share: Array
    told: Array
    most: Array

    @cached_property
    def ranges(self) -> Array:
        """The middle nine tenths of the reading under each cause, (H, 2), no farther than a rod goes."""
        below = np.cumsum(self.told, axis=1) - 0.5 * self.told
        found: list[Array] = [np.interp((LOW, HIGH), row, self.at) for row in below]
        return np.minimum(floats(found), self.most[:, None])

    @cached_property
    def means(self) -> Array:
        """The mean of the reading under each cause, (H,)."""
        return floats(self.share @ self.at)


def worths(belief: Belief) -> list[Worth]:
    """Return every reading that could still be taken, the one that would tell most first."""
    taken = belief.readings.values
    left = [one for one in READINGS if one.name not in taken]
    found = [worth for one in left if (worth := _worth(belief, one)) is not None]
    return sorted(found, key=lambda one: -one.bits)


def _worth(belief: Belief, one: Reading) -> Worth | None:
    if one.kind == "number":
        return _of_marks(belief, one)
    if one.name == "clamp_diameter" and not np.any(belief.predictions.mean[:, BLOCK.index(one.name)]):
        return None
    at, share, told = _even(belief, one) if one.name not in BLOCK else _normal(belief, one)
    told = told if one.name in MOVING else share
    return Worth(one, information(belief.probability, share), at, share, told, _most(belief, one))


def _most(belief: Belief, one: Reading) -> Array:
    """The most that can be read under each cause."""
    p = belief.predictions
    found = np.full(len(p.names), np.inf if one.name not in RODS else 0.0)
    np.maximum.at(found, p.cause, p.rated)
    return floats(found)


def _of_marks(belief: Belief, one: Reading) -> Worth | None:
    if np.isnan(belief.predictions.marks).any():
        return None
    marks = belief.within * belief.predictions.marks
    seen = floats(np.bincount(belief.predictions.cause, marks, len(belief.predictions.names)))
    share = floats(np.stack([1 - seen, seen], axis=1))
    most = _most(belief, one)
    return Worth(one, information(belief.probability, share), floats([0.0, 1.0]), share, share, most)


def _normal(belief: Belief, one: Reading) -> tuple[Array, Array, Array]:
    """A reading of the block: a mixture of normals."""
    place, off = BLOCK.index(one.name), belief.readings.off[one.name]
    mean, covariance = belief.block
    kept = belief.within > NEGLIGIBLE
    middle = mean[kept, place, None]
    spread = np.sqrt(np.maximum(covariance[kept, place, place, None], 0.0) + off**2)
    edges = _edges(middle - 4 * spread, middle + 4 * spread)
    return _binned(belief, kept, edges, floats(ndtr((edges - middle) / spread)))


def _even(belief: Belief, one: Reading) -> tuple[Array, Array, Array]:
    """Lining or drum: even stretches, blurred."""
    p, off, kept = belief.predictions, belief.readings.off[one.name], belief.within > NEGLIGIBLE
    if one.name == "lining_thickness":
        stretch, blur = p.lining[kept], np.hypot(off, p.lining_sd[kept])
        weight = np.exp(belief.cells[kept] - belief.cells[kept].max(axis=1, keepdims=True))
    else:
        stretch, blur, weight = p.drum[kept][:, None, :], np.hypot(off, p.drum_sd[kept]), np.ones((kept.sum(), 1))
    rows, which = shared_rows(np.column_stack([stretch.reshape(len(stretch), -1), blur]))
    stretch, blur = rows[:, :-1].reshape(len(rows), -1, 2), rows[:, -1, None, None]
    edges = _edges(stretch[..., :1] - 4 * blur, stretch[..., 1:] + 4 * blur)
    below, share = evenly_below(edges, stretch, blur), weight / weight.sum(axis=1, keepdims=True)
    mixed = np.stack([w @ below[n] for w, n in zip(share, which, strict=True)])
    return _binned(belief, kept, edges, mixed)


def evenly_below(y: Array, stretch: Array, blur: Array) -> Array:
    """Return the probability that what lies evenly on a ``stretch`` (.., 2), blurred by so much, is below ``y``."""
    low, high = stretch[..., :1], stretch[..., 1:]
    return (_ramp(y - low, blur) - _ramp(y - high, blur)) / np.maximum(high - low, 1e-9)


def _ramp(over: Array, blur: Array) -> Array:
    """Integral of the normal distribution function: by how much a blurred figure is passed on average."""
    x = over / blur
    return over * ndtr(x) + blur * np.exp(-0.5 * x**2) / np.sqrt(2 * np.pi)


def _edges(low: Array, high: Array) -> Array:
    return floats(np.linspace(float(low.min()), float(high.max()), POINTS + 1))


def _binned(belief: Belief, kept: Mask, edges: Array, below: Array) -> tuple[Array, Array, Array]:
    """Middles of the bins, and the probability of each under each cause (rows sum to 1): of all, of what works."""
    p, bins = belief.predictions, np.diff(below, axis=1)
    cause, within, works = p.cause[kept], belief.within[kept], p.works[kept]
    share, told = (np.zeros((len(p.names), bins.shape[1])) for _ in range(2))
    for n in np.unique(cause):  # a cell belongs to one cause: a product of all with all would be zeros nearly
        mine = cause == n
        weight, own = within[mine], bins[mine]
        working = weight * works[mine]
        share[n] = weight @ own
        told[n] = (working if working.any() else weight) @ own
    return 0.5 * (edges[1:] + edges[:-1]), _rows(floats(share)), _rows(floats(told))


def _rows(found: Array) -> Array:
    """Each row so that its sum is 1."""
    return floats(found / np.maximum(found.sum(axis=1, keepdims=True), 1e-300))


def information(probability: Array, share: Array) -> float:
    """Return the mutual information (bits) of cause and reading: causes (H,), the reading's distributions (H, G)."""
    together = probability[:, None] * share
    alone = probability[:, None] * together.sum(axis=0)
    there: Mask = alone > 0
    ratio = np.divide(together, alone, out=np.ones_like(together), where=there)
    return max(0.0, float(np.sum(together * np.log2(np.maximum(ratio, 1e-300)))))
