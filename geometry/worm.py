"""Setting a slack adjuster by its worm: up to where the linings touch, and back for the clearance that is wanted."""

from math import tau

from numpy.typing import ArrayLike

from geometry.adjuster import Adjuster
from geometry.arrays import Array, floats


def worm_turns_of(adjuster: Adjuster, cam_turn: ArrayLike) -> Array:
    """Return the turns of the worm that turn the cam by ``cam_turn`` (rad), either way.

    >>> from geometry.adjuster import Adjuster
    >>> float(worm_turns_of(Adjuster("manual"), tau))
    22.0
    """
    return floats(cam_turn) / tau * adjuster.worm_turns
