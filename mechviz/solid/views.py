"""Where the brake is seen from: a few named views, and any other by two angles."""

from dataclasses import dataclass
from math import cos, pi, radians, sin

import numpy as np

from geometry.arrays import Array, floats


@dataclass(frozen=True)
class View:
    """A direction to look from.

    ``turn`` is the angle (rad) round the y axis from +z, the chamber's side, towards +x, the chamber; ``tilt`` how
    far (rad) above the shaft's height. ``words`` say where the reader stands.
    """

    name: str
    words: str
    turn: float
    tilt: float

    @property
    def direction(self) -> Array:
        """From the brake to the eye: (3,), of length 1."""
        return floats([sin(self.turn) * cos(self.tilt), sin(self.tilt), cos(self.turn) * cos(self.tilt)])

    def towards(self, other: "View", share: float) -> "View":
        """Return the view a share of the way to another, the shorter way round."""
        around = (other.turn - self.turn + pi) % (2 * pi) - pi
        return View(other.name, other.words, self.turn + share * around, self.tilt + share * (other.tilt - self.tilt))


def _view(name: str, words: str, turn: float, tilt: float) -> View:
    return View(name, words, radians(turn), radians(tilt))


VIEWS = {
    view.name: view
    for view in (
        _view("three-quarter", "from the chamber's side, above", -34.0, 24.0),
        _view("wheel-side", "from the wheel's side, above", -152.0, 12.0),
        _view("along-shaft", "along the shaft, from the chamber's side", 0.0, 0.0),
        _view("into-drum", "along the shaft, from the wheel's side", 180.0, 0.0),
        _view("from-above", "from above", 0.0, 76.0),
    )
}
"""By name, the first the one that is taken where none is asked for."""

ANGLE = 18.0
"""How much the camera takes in, degrees from top to bottom: a long lens, which keeps parts in proportion."""


def eye(view: View, corners: Array, aspect: float, room: float = 1.08) -> tuple[Array, Array]:
    """Return where the eye stands and what it looks at (3,), so that all ``corners`` (n, 3) are just in the picture.

    ``aspect`` is the picture's width over its height, ``room`` how much more than the corners it takes in.
    """
    ahead = -view.direction
    right = np.cross(ahead, [0.0, 1.0, 0.0])
    right /= np.linalg.norm(right)
    up = np.cross(right, ahead)
    seen = np.column_stack([corners @ right, corners @ up, corners @ ahead])
    half = np.tan(radians(ANGLE / 2)) / room
    middle = 0.5 * (seen.min(axis=0) + seen.max(axis=0))
    distance = 0.0
    for _ in range(12):  # perspective moves the middle: a few steps settle it
        distance = max(
            float(np.max(np.abs(seen[:, 1] - middle[1]) / half - seen[:, 2])),
            float(np.max(np.abs(seen[:, 0] - middle[0]) / (half * aspect) - seen[:, 2])),
        )
        depth = seen[:, 2] + distance
        for axis, reach in ((0, half * aspect), (1, half)):
            low, high = (
                float(np.min(seen[:, axis] + depth * reach)),
                float(np.max(seen[:, axis] - depth * reach)),
            )
            middle[axis] = 0.5 * (low + high)
    target = right * middle[0] + up * middle[1] + ahead * middle[2]
    place = right * middle[0] + up * middle[1] - ahead * distance
    return place, target
