"""A coil spring seen from the side: a wave along its axis, always with the same number of points."""

import numpy as np

from geometry.arrays import Array, floats
from geometry.outlines.shapes import Point

POINTS_A_TURN = 12


def coil(start: Point | Array, end: Point | Array, radius: float, end_radius: float, turns: int) -> Array:
    """Return the points (..., n, 2) of a spring from ``start`` to ``end`` (..., 2), mm.

    Its radius grows evenly from ``radius`` to ``end_radius``; n is ``turns`` x 12 + 1.
    """
    u = np.linspace(0.0, 1.0, turns * POINTS_A_TURN + 1)
    first, along = floats(start)[..., np.newaxis, :], (floats(end) - floats(start))[..., np.newaxis, :]
    length = np.linalg.norm(along, axis=-1, keepdims=True)
    across = np.stack([-along[..., 1], along[..., 0]], axis=-1) / length
    swing = (radius + (end_radius - radius) * u) * np.cos(2 * np.pi * turns * u)
    return first + along * u[:, np.newaxis] + across * swing[:, np.newaxis]
