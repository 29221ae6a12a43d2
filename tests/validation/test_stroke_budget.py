"""Where a pushrod's stroke goes, type 30 standard stroke: free 0.66 + wind-up 1.15 + reserve 0.19 = 2.00 in.

Source: trade press; the 2 in is the readjustment limit of 49 CFR 393.47(e). At 100 psi, a well adjusted brake moves
its pushrod about 1 1/2 in; the good range is 1 to 1 1/2 in, and it is adjusted above 1 3/4 in (trade press and the
British Columbia air brake handbook). Slack felt by hand is 1/2 to 3/4 in (Saskatchewan air brake handbook).

What the default brake does: from a free stroke of 0.66 in it winds up by 0.955 in at 100 psi, 17 % less than the
published 1.15 in, which would take a stiffness of 147.5 N m/deg instead of its 180.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry import tables
from geometry.applied import solve_applied
from geometry.brake import Brake
from tests.brakes import BRAKE, DEG, IN, PSI, found

FREE, WINDUP, RESERVE = 0.66, 1.15, 0.19


def windup_in(brake: Brake) -> float:
    stroke = solve_applied(brake, found(brake, free_stroke=FREE * IN), 100.0 * PSI).stroke
    return float(stroke) / IN - FREE


def of_stiffness(per_degree: float) -> Brake:
    """The default brake with another wind-up stiffness, N*m/deg."""
    return replace(BRAKE, windup_stiffness=per_degree * 1e3 / DEG)


def test_a_softer_brake_spends_the_stroke_as_published():
    stiffness = brentq(lambda k: windup_in(of_stiffness(k)) - WINDUP, 50.0, 400.0)
    limit = tables.stroke_limit("clamp", "30")
    assert limit is not None
    reserve = float(limit.limit_in) - FREE - windup_in(of_stiffness(stiffness))
    assert reserve == pytest.approx(RESERVE, abs=0.005)
    assert stiffness == pytest.approx(147.5, abs=0.05)


def test_default_windup_is_within_a_fifth_of_the_published_one():
    assert windup_in(BRAKE) == pytest.approx(WINDUP, rel=0.20)
    assert windup_in(BRAKE) == pytest.approx(0.955, abs=0.0005)


def test_the_default_brake_is_well_adjusted():
    stroke = float(solve_applied(BRAKE, found(), 100.0 * PSI).stroke) / IN
    assert stroke == pytest.approx(1.5, abs=1 / 32)


def test_slack_in_the_range_felt_by_hand_needs_no_adjusting_yet_and_more_does():
    free = np.array([0.5, 0.75, 0.9]) * IN
    least, most, more = solve_applied(BRAKE, found(free_stroke=free), 100.0 * PSI).stroke / IN
    assert 1.0 <= least <= 1.5
    assert 1.5 < most < 1.75
    assert more > 1.75
