"""The involute function inv(phi) = tan(phi) - phi of gear tables, and one point of an involute.

inv 20 deg = 0.014 904 383 9 and inv 30 deg = 0.053 751 493 6, as printed in gear tables (Shigley and others,
Mechanical Engineering Design, and machinists' handbooks). The point at r_b = 1, t = 1 is derived.

Unwound by t, the curve stands at the polar angle t - atan t, clockwise here, at the distance r_b sqrt(1 + t**2): with
t = tan(phi) that is inv(phi) and r_b / cos(phi).
"""

from math import atan2, cos, hypot, radians, tan

import numpy as np
import pytest

from geometry.involute import InvoluteProfile

UNIT = InvoluteProfile(base_radius=1.0, heel_radius=1.01, tip_radius=4.0)
PRINTED = [(20.0, 0.0149043839), (30.0, 0.0537514936)]


@pytest.mark.parametrize(("phi", "printed"), PRINTED)
def test_polar_angle_of_the_profile(phi, printed):
    x, y = UNIT.point(np.array(tan(radians(phi))))
    assert -atan2(y, x) == pytest.approx(printed, abs=0.5e-10)
    assert hypot(x, y) == pytest.approx(1.0 / cos(radians(phi)), rel=1e-14)


@pytest.mark.parametrize(("phi", "printed"), PRINTED)
def test_polar_angle_of_the_path_of_a_roller_without_size(phi, printed):
    pitch = UNIT.pitch(np.array(tan(radians(phi))), 0.0)
    assert -float(pitch.angle) == pytest.approx(printed, abs=0.5e-10)


def test_point_at_a_string_of_one_base_radius():
    x, y = UNIT.point(np.array(1.0))
    assert float(x) == pytest.approx(1.3817732907, abs=0.5e-10)
    assert float(y) == pytest.approx(-0.3011686789, abs=0.5e-10)  # clockwise, as the first arm runs
