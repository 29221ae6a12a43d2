"""The brake force line of a published accident-investigation form for an axle with 16 1/2 in S-cam drum brakes.

    2 x 2500 lbf x 6 in x 0.35 x 8.25 in x 0.6 / (0.5 in x 19.5 in) = 5 330.77 lbf

thrust, arm, friction, drum radius, mechanical efficiency, the cam's involute base radius, tyre radius. Status: read.

The form knows no shoe factors: it takes the drag as friction x roller force, twice. So only its first half is the
mechanism's: thrust x arm is the camshaft's torque with the arm square, and that torque over the base radius is the
force of both rollers, by virtual work. The other half, from the rollers to the road, is arithmetic: it cross-checks
the units and nothing else.
"""

import numpy as np
import pytest

from geometry.involute import InvoluteProfile
from geometry.linkage import Linkage, arm_state, stroke_at_right_angle
from tests.brakes import IN, LBF

ARM = Linkage(6.0 * IN, axis_offset=6.0 * IN, face_distance=9.0 * IN, pivot_depth=0.0, pin_reach=7.5 * IN)
CAM = InvoluteProfile(0.5 * IN, 0.60 * IN, 1.85 * IN)


def roller_force(thrust: float, roller_radius: float) -> np.ndarray:
    """Both rollers together, N, all along the cam."""
    square = arm_state(ARM, stroke_at_right_angle(ARM))
    assert float(square.tilt) == pytest.approx(0.0, abs=1e-12)
    return thrust * float(square.lever) / CAM.pitch(np.linspace(*CAM.working, 50), roller_radius).moment_arm


@pytest.mark.parametrize("roller_radius", [0.0, 0.5 * IN, 0.8 * IN, 1.1 * IN])
def test_both_rollers_press_with_thrust_times_arm_over_the_base_radius(roller_radius):
    np.testing.assert_allclose(roller_force(2500.0 * LBF, roller_radius), 30_000.0 * LBF, rtol=1e-12)


@pytest.mark.parametrize("roller_radius", [0.0, 0.5 * IN, 0.8 * IN, 1.1 * IN])
def test_base_radius_is_the_moment_arm_at_any_roller_size(roller_radius):
    arms = CAM.pitch(np.linspace(*CAM.working, 50), roller_radius).moment_arm
    np.testing.assert_allclose(arms / IN, 0.5, rtol=1e-12)


def test_brake_force_at_the_road_as_printed():
    rollers = roller_force(2500.0 * LBF, 0.8 * IN)[0]
    at_road = 2 * rollers * 0.35 * 0.6 * (8.25 * IN) / (19.5 * IN)
    assert at_road / LBF == pytest.approx(5330.77, abs=0.005)
