"""How the stroke grows as the drum gets hot.

R. Radlinski's brake-temperature tests, as reported in the trade press: at 85 psi, adjusted to 1 1/2 in at 70 degF,
2 1/8 in at 600 degF, a growth of 5/8 in. The same by calculation (derived): drum radius 8.25 in x 6.5e-6 per degF x
530 degF x 2 (the lever of a shoe, drum to cam) x 5.5 in / 0.5 in = 0.625 in.

What the default brake does: the free stroke grows by 0.592 in, 5 % less; at 85 psi the applied stroke grows by
0.566 in, 9 % less, because past 1 3/4 in the chamber pushes less hard. Adjusted to 1 1/2 in as in the tests, it
reaches 2.04 in, not 2 1/8: its growth of 0.538 in is 14 % short, for the same reason.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.applied import solve_applied
from geometry.condition import Condition
from geometry.drum import drum_radius
from geometry.kinematics import free_stroke
from tests.brakes import BRAKE, IN, PSI, fahrenheit, found

COLD, HOT = fahrenheit(70.0), fahrenheit(600.0)
GROWTH = 0.625


def at_85_psi(condition: Condition, temperature: float) -> float:
    hot = replace(condition, drum_temperature=temperature)
    return float(solve_applied(BRAKE, hot, 85.0 * PSI).stroke) / IN


def test_the_drum_grows_by_the_first_two_factors():
    cold, hot = drum_radius(BRAKE.drum, 16.5 * IN, np.array([COLD, HOT])) / IN
    assert hot - cold == pytest.approx(8.25 * 6.5e-6 * 530.0, rel=1e-9)


def test_the_other_factors_make_it_five_eighths_of_an_inch():
    cold, hot = drum_radius(BRAKE.drum, 16.5 * IN, np.array([COLD, HOT])) / IN
    lever = 2 * BRAKE.linkage.arm_length / BRAKE.profile.base_radius
    assert (hot - cold) * lever == pytest.approx(GROWTH, abs=0.0005)


def test_free_stroke_grows_as_calculated_within_a_tenth():
    condition = found()
    cold, hot = (float(free_stroke(BRAKE, replace(condition, drum_temperature=t))) / IN for t in (COLD, HOT))
    assert hot - cold == pytest.approx(GROWTH, rel=0.10)
    assert hot - cold == pytest.approx(0.592, abs=0.0005)  # the figure told above


def test_applied_stroke_grows_as_calculated_within_a_tenth():
    condition = found()
    growth = at_85_psi(condition, HOT) - at_85_psi(condition, COLD)
    assert growth == pytest.approx(GROWTH, rel=0.10)
    assert growth == pytest.approx(0.566, abs=0.0005)


def test_adjusted_as_in_the_tests_the_brake_stays_a_seventh_short_of_the_measured_growth():
    setting = brentq(lambda free: at_85_psi(found(free_stroke=free * IN), COLD) - 1.5, 0.3, 1.2)
    hot = at_85_psi(found(free_stroke=setting * IN), HOT)
    assert hot == pytest.approx(2.125, abs=0.1)
    assert hot - 1.5 == pytest.approx(0.86 * GROWTH, rel=0.01)
    assert hot == pytest.approx(2.04, abs=0.005)
