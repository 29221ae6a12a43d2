"""How much of a chamber's stroke pushes with nearly its full thrust: the effective stroke of UN Regulation No. 13."""

import numpy as np

from geometry.arrays import floats
from geometry.chamber import Chamber, chamber_force
from geometry.edge import edge

POINTS = 4001
SHARE = 0.9
"""UN R13: of the mean thrust."""
LEAST_SHARE, MOST_SHARE = 1 / 3, 2 / 3
"""UN R13: of the full stroke, between which the mean is taken."""


def mean_thrust(chamber: Chamber, pressure: float) -> float:
    """Return the thrust (N) averaged between one and two thirds of the full stroke, at a pressure (MPa)."""
    strokes = np.linspace(LEAST_SHARE, MOST_SHARE, POINTS) * chamber.rated_stroke
    force = chamber_force(chamber, strokes, pressure)
    return float(np.trapezoid(force, strokes) / (strokes[-1] - strokes[0]))


def effective_stroke(chamber: Chamber, pressure: float) -> float:
    """Return the greatest stroke (mm) at which the thrust is still 90 % of its mean, at a pressure (MPa).

    UN R13 with Directive 71/320/EEC: sp, the stroke at which the thrust is 90 % of the mean between one and two thirds
    of the full stroke; a stroke in use is not to be over 0.9 sp. The thrust is that of this model's chamber.
    """
    least = SHARE * mean_thrust(chamber, pressure)

    def pushes(stroke: float) -> bool:
        return bool(chamber_force(chamber, floats(stroke), pressure) >= least)

    return edge(pushes, 0.5 * chamber.rated_stroke, chamber.rated_stroke)
