"""The arm's angle to the pushrod: 90 deg or slightly more applied, more than 90 released (US Army TM 5-3820-256-24-4).

Common practice: about 90 deg at full application, within 10 deg either way (from memory).
"""

import numpy as np
import pytest

from geometry.applied import solve_applied
from geometry.kinematics import solve_poses
from tests.brakes import BRAKE, DEG, IN, PSI, found

FREE = np.linspace(0.4, 0.9, 11) * IN


def test_more_than_square_released():
    assert float(solve_poses(BRAKE, found(), 0.0).arm_angle) > 90.0 * DEG


def test_about_square_at_full_application():
    condition = found()
    stroke = solve_applied(BRAKE, condition, 100.0 * PSI).stroke
    assert float(solve_poses(BRAKE, condition, stroke).arm_angle) / DEG == pytest.approx(90.0, abs=2.0)


def test_within_ten_degrees_over_the_range_of_adjustment():
    condition = found(free_stroke=FREE)
    angles = solve_poses(BRAKE, condition, solve_applied(BRAKE, condition, 100.0 * PSI).stroke).arm_angle / DEG
    assert np.all(np.abs(angles - 90.0) < 10.0)
    assert np.all(np.diff(angles) < 0.0)  # the more slack, the further past square
