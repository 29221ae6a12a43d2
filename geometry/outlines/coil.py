"""A coil spring seen from the side, a little askew: a line with always the same number of points."""

import numpy as np

from geometry.arrays import Array, floats
from geometry.outlines.shapes import Point

POINTS_A_TURN = 22
LEAN = 0.28
"""How far the turns lean forward and back, as a share of the radius: as if seen a little from one end."""
LEAN_OF_PITCH = 0.5
"""The same, at most, as a share of the way from turn to turn, so that a pressed spring stays between its seats."""


def coil(start: Point | Array, end: Point | Array, radius: float, end_radius: float, turns: int) -> Array:
    """Return the points (..., n, 2) of a spring from ``start`` to ``end`` (..., 2), mm.

    Its radius grows evenly from ``radius`` to ``end_radius``; n is ``turns`` x 22 + 1.
    """
    u = np.linspace(0.0, 1.0, turns * POINTS_A_TURN + 1)
    first, along = floats(start)[..., np.newaxis, :], (floats(end) - floats(start))[..., np.newaxis, :]
    length = np.linalg.norm(along, axis=-1, keepdims=True)
    across = np.stack([-along[..., 1], along[..., 0]], axis=-1) / length
    size, angle = radius + (end_radius - radius) * u, 2 * np.pi * turns * u
    lean = np.minimum(LEAN * size, LEAN_OF_PITCH / turns * length[..., 0]) * np.sin(angle) * np.sqrt(np.sin(np.pi * u))
    wave = across * (size * np.cos(angle))[:, np.newaxis] + along / length * lean[..., np.newaxis]
    return first + along * u[:, np.newaxis] + wave
