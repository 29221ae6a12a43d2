"""The arm angle of a pushrod that stays parallel to itself (derived: 90 deg + asin(stroke to square / arm length)).

Arm 5 1/2 in, square at a stroke of 2 in: 111.32 deg released. A pushrod of a kilometre stands for a parallel one.
"""

from math import degrees

import pytest

from geometry.linkage import Linkage, arm_state, stroke_at_right_angle
from tests.brakes import IN

ROD = 1e6
PARALLEL = Linkage(5.5 * IN, axis_offset=5.5 * IN, face_distance=ROD + 2 * IN, pivot_depth=0.0, pin_reach=ROD)


def test_released_angle():
    assert degrees(float(arm_state(PARALLEL, 0.0).arm_angle)) == pytest.approx(111.32, abs=0.005)


def test_square_at_two_inches():
    assert degrees(float(arm_state(PARALLEL, 2 * IN).arm_angle)) == pytest.approx(90.0, abs=0.005)
    assert stroke_at_right_angle(PARALLEL) == pytest.approx(2 * IN, abs=1e-6)


def test_square_and_untilted_the_arm_is_the_lever():
    assert float(arm_state(PARALLEL, 2 * IN).lever) == pytest.approx(5.5 * IN, abs=1e-6)
