"""A brake that does not work may be read anyhow: what it does not foretell is kept from speaking for it."""

import numpy as np

from geometry.arrays import Array, floats
from geometry.diagnosis.posterior import LEAST, MOVING, Belief, believed, log_sum
from geometry.diagnosis.predict import Predictions


def sobered(belief: Belief) -> Belief:
    """Return the belief in which brakes that do not work gain nothing from readings that they do not foretell.

    Such a brake may be read anyhow in all that moves, so that a reading which few working brakes give would speak for
    it by its breadth alone. Under each cause it stays as probable at most as by the other readings.
    """
    p = belief.predictions
    standing = believed(p, belief.readings.without(*MOVING))
    now, most = (_broken(p, one.cells) for one in (belief, standing))
    share = np.minimum(now, most)
    if now.sum() >= 1 or share.sum() >= 1:
        return belief
    with np.errstate(divide="ignore", invalid="ignore"):
        shift = np.where(share < now, np.log(share) - np.log(now), 0.0)[p.cause]
    works = np.log1p(-share.sum()) - np.log1p(-now.sum())
    cells = np.maximum(belief.cells + np.where(p.works, works, shift)[:, None], LEAST)
    return Belief(p, belief.readings, cells - log_sum(cells.reshape(-1), -1))


def _broken(predictions: Predictions, cells: Array) -> Array:
    """Probability of each cause with a brake that does not work, (H,)."""
    weight = np.where(predictions.works, 0.0, np.exp(cells).sum(-1))
    return floats(np.bincount(predictions.cause, weight, len(predictions.names)))
