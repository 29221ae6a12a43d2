"""From what was found on the vehicle to the condition that the solver takes: the adjuster's setting from the slack."""

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition, angle_for_clearance, angle_for_free_stroke, contact
from geometry.setup import Setup


def condition_of(setup: Setup) -> Condition:
    """Return the brake as found; the released cam angle follows from the free stroke or the lining clearance."""
    found = setup.as_found
    worn = floats(found.lining_thickness), floats(found.drum_diameter)
    slack = floats(found.free_stroke), floats(found.lining_clearance)
    released = released_angle(setup.brake, *worn, floats(found.slack_temperature), *slack)
    return Condition(*worn, floats(found.drum_temperature), float(released))


def released_angle(
    brake: Brake, thickness: Array, diameter: Array, temperature: ArrayLike, free_stroke: Array, clearance: Array
) -> Array:
    """Return the released cam angle (rad) of each slack found; shapes broadcast.

    Lining thickness, drum diameter, free stroke and lining clearance in mm, the drum's temperature meanwhile in K. The
    clearance is what counts where there is one, the free stroke where it is NaN.
    """
    at = contact(brake, thickness, diameter, floats(temperature))
    if np.isnan(clearance).all():
        return angle_for_free_stroke(brake, at, free_stroke)
    by_clearance = angle_for_clearance(brake, at, clearance)
    return np.where(np.isnan(clearance), angle_for_free_stroke(brake, at, free_stroke), by_clearance)
