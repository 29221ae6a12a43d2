"""What air and heat change of a stroke that was read, taken from where the arm then stands.

By how much further the arm has to turn is a matter of drum, linings and cam, and how much stroke that takes one of
where the arm was: the slack that was felt beside it has no part in it, so that no stroke leaves more because more slack
was felt. Nothing is taken off for the push that is lost on the way, and the wind-up with it: what is reported is no
less even so (5/8 in from 1 1/2 in by brake-temperature tests; a handbook adds heat and wear up to a bottomed chamber).
"""

import numpy as np

from geometry.applied import chamber_torque
from geometry.arrays import Array, floats
from geometry.condition import contact
from geometry.linkage import arm_turn, stroke_at_turn
from geometry.setup import Setup


def grown_stroke(setup: Setup, temperature: float, full: float) -> float:
    """Return the stroke read (mm) as it is at ``full`` pressure (MPa) on a drum so hot (K).

    It is no more than the chamber has. NaN where nothing was read, or where the linings touch nowhere.
    """
    read, brake = setup.measured.stroke, setup.brake
    if read is None:
        return np.nan
    more = _first(setup, temperature) - _first(setup, setup.as_found.drum_temperature) + _wound(setup, read, full)
    if np.isnan(more):
        return np.nan
    turned = float(stroke_at_turn(brake.linkage, arm_turn(brake.linkage, read) + more))
    most = max(brake.chamber.rated_stroke, read)
    return most if np.isnan(turned) else min(max(turned, 0.0), most)  # no stroke: pushrod and arm part before


def _first(setup: Setup, temperature: float) -> Array:
    """The cam's angle, rad, at which the first lining touches a drum so hot (K)."""
    found = setup.as_found
    worn = floats(found.lining_thickness), floats(found.drum_diameter)
    return contact(setup.brake, *worn, floats(temperature)).first


def _wound(setup: Setup, read: float, full: float) -> Array:
    """By how much more the brake winds up, rad, at another pressure than the test's."""
    turn = arm_turn(setup.brake.linkage, read)
    then, now = (chamber_torque(setup.brake, turn, floats(one))[0] for one in (setup.test.pressure, full))
    return (now - then) / setup.brake.windup_stiffness
