"""How much of a chamber's stroke pushes with nearly its full thrust: the effective stroke of UN Regulation No. 13."""

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.chamber import Chamber, ThrustTable, chamber_force, force_and_slope, spring_force, thrust_share
from geometry.edge import edge
from geometry.root import bracketed_newton

POINTS = 4001
SHARE = 0.9
"""UN R13: of the mean thrust."""
LEAST_SHARE, MOST_SHARE = 1 / 3, 2 / 3
"""UN R13: of the full stroke, between which the mean is taken."""


def mean_thrust(chamber: Chamber, pressure: ArrayLike) -> Array:
    """Return the thrust (N) averaged between one and two thirds of the full stroke, at each pressure (MPa).

    The return spring's force, which grows evenly, is on average that at half the stroke.
    """
    pushed = floats(pressure) * chamber.effective_area * _mean_share(chamber.thrust)
    return pushed - spring_force(chamber, 0.5 * chamber.rated_stroke)


@lru_cache(maxsize=256)
def _mean_share(thrust: ThrustTable | None) -> float:
    """The share of pressure times area that is thrust, averaged likewise: that of any stroke and area."""
    strokes = np.linspace(LEAST_SHARE, MOST_SHARE, POINTS)
    shares, _ = thrust_share(Chamber("", "", 1.0, 1.0, 0.0, 0.0, thrust), strokes)
    return float(np.trapezoid(shares, strokes) / (MOST_SHARE - LEAST_SHARE))


def effective_stroke(chamber: Chamber, pressure: float) -> float:
    """Return the greatest stroke (mm) at which the thrust is still 90 % of its mean, at a pressure (MPa).

    UN R13 with Directive 71/320/EEC: sp, the stroke at which the thrust is 90 % of the mean between one and two thirds
    of the full stroke; a stroke in use is not to be over 0.9 sp. The thrust is that of this model's chamber.
    """
    least = SHARE * mean_thrust(chamber, pressure)

    def pushes(stroke: float) -> bool:
        return bool(chamber_force(chamber, floats(stroke), pressure) >= least)

    return edge(pushes, 0.5 * chamber.rated_stroke, chamber.rated_stroke)


TOLERANCE = 1e-9
"""The last step, mm."""


def effective_strokes(chamber: Chamber, pressure: Array) -> Array:
    """Return the same for many chambers or pressures (MPa) at once; NaN where the thrust does not fall so far."""
    least = SHARE * mean_thrust(chamber, pressure)

    def lost(stroke: Array) -> tuple[Array, Array]:
        force, slope = force_and_slope(chamber, stroke, pressure)
        return least - force, -slope

    high = chamber.rated_stroke + np.zeros_like(least)
    return bracketed_newton(lost, 0.5 * high, high, 0.9 * high, TOLERANCE)
