"""How a type 30 brake comes to bottom: slack, application, heat and a little wear, one on top of the other.

Source: Saskatchewan air brake handbook (read in a copy). From 3/4 in of slack an application of 80 psi, with the drum
hot and the linings a little worn, makes 1 3/4 in; 1/2 in more and 1/4 in more, and the chamber has bottomed at 2 1/2
in. Also from there: a 55 000 lb truck stops from 60 mph in 342 ft adjusted and 458 ft with all brakes at the limit at
150 degF, 351 and 519 ft at 200 degF.

The handbook does not say which of heat and wear makes how much. Held here: the application with the wind-up that the
published stroke budget asks for (147.5 N m/deg instead of the built-in 180), the growth of 530 degF, and wear.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.applied import solve_applied
from geometry.arrays import floats
from geometry.condition import Condition, angle_for_free_stroke, contact
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.loads import loads_at_pressure
from geometry.reasons import Reason
from tests.brakes import BRAKE, DEG, DRUM, IN, LINING, PSI

SOFT = replace(BRAKE, windup_stiffness=147.5e3 / DEG)
SLACK, HOT = 0.75, (600.0 + 459.67) * 5 / 9


def setting(free: float) -> float:
    at = contact(SOFT, floats(LINING), floats(DRUM), floats(REFERENCE_TEMPERATURE))
    return float(angle_for_free_stroke(SOFT, at, free * IN))


def condition(wear: float = 0.0, temperature: float = REFERENCE_TEMPERATURE, free: float = SLACK) -> Condition:
    return Condition(LINING - wear, DRUM, temperature, setting(free))


def stroke(state: Condition, pressure: float = 80.0) -> float:
    return float(solve_applied(SOFT, state, pressure * PSI).stroke) / IN


def test_80_psi_from_three_quarters_of_slack_makes_nearly_1_3_4_in():
    assert stroke(condition()) == pytest.approx(1.75, rel=0.05)
    assert stroke(condition()) == pytest.approx(1.672, abs=0.0005)


def test_a_hot_drum_adds_about_half_an_inch():
    assert stroke(condition(temperature=HOT)) - stroke(condition()) == pytest.approx(0.5, rel=0.1)


def test_with_a_little_wear_on_top_the_force_goes_and_then_the_chamber_has_bottomed():
    wear = np.array([0.0, 0.5, 1.0])
    strokes = [stroke(condition(w, HOT)) for w in wear]
    assert np.all(np.diff(strokes) > 0)
    assert strokes[-1] == pytest.approx(2.5, abs=0.05)
    force = [float(loads_at_pressure(SOFT, condition(w, HOT), 80 * PSI).chamber_force) for w in wear]
    assert force[-1] < 0.4 * force[0]
    assert solve_applied(SOFT, condition(1.4, HOT), 80 * PSI).reason == Reason.BOTTOMED


@pytest.mark.parametrize(("temperature", "adjusted", "at_limit"), [(150.0, 342.0, 458.0), (200.0, 351.0, 519.0)])
def test_brakes_at_their_limit_lose_torque_but_no_more_than_the_reported_stops(temperature, adjusted, at_limit):
    """A plausibility band: a stop takes longer by lost torque, and by fade and heat during it, which are not solved."""
    kelvin = (temperature + 459.67) * 5 / 9
    limit = brentq(lambda free: stroke(condition(free=free), 100.0) - 2.0, 0.5, 1.5)
    torque = [
        float(loads_at_pressure(SOFT, condition(temperature=kelvin, free=free), 100 * PSI).brake_torque)
        for free in (0.6, limit)
    ]
    assert 1.0 < torque[0] / torque[1] < at_limit / adjusted
