"""R. Limpert, Brake Design and Safety, S-cam brakes: the brake factor of a fixed cam, from the two shoe factors.

    total drag / mean cam force = 4 B1 B2 / (B1 + B2)

A cam that cannot move sideways spreads both rollers alike, both shoes wear alike and so drag alike; the trailing shoe
takes the larger force. Status: from memory.
"""

import numpy as np
import pytest

from geometry.applied import spring_torque
from geometry.condition import contact
from geometry.drum import drum_radius
from geometry.loads import loads_at_pressure
from tests.brakes import BRAKE, IN, PSI, found, part

PRESSURES = np.array([30.0, 60.0, 95.0, 120.0]) * PSI


@pytest.mark.parametrize("friction", [0.25, 0.35, 0.45])
def test_drag_over_mean_cam_force(friction):
    brake = part(BRAKE, "lining", friction=friction)
    condition = found(brake)
    loads = loads_at_pressure(brake, condition, PRESSURES)
    held_back = spring_torque(brake, contact(brake, *condition.arrays[:3]).first)
    # both arms of the involute meet the base circle's radius as moment arm, so the two forces add up to this
    both = brake.efficiency * (loads.camshaft_torque - held_back) / (0.5 * IN)
    drag = loads.brake_torque / drum_radius(brake.drum, *condition.arrays[1:3])
    first, second = loads.factor_left, loads.factor_right
    np.testing.assert_allclose(drag / (both / 2), 4 * first * second / (first + second), rtol=1e-12)


def test_the_trailing_shoe_takes_the_larger_force_and_both_drag_alike():
    loads = loads_at_pressure(BRAKE, found(), PRESSURES)
    assert np.all(loads.roller_right > 2 * loads.roller_left)  # the drum turns counter-clockwise: left leads
    np.testing.assert_allclose(loads.roller_left * loads.factor_left, loads.roller_right * loads.factor_right)
