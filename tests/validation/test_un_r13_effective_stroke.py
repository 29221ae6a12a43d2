"""UN Regulation No. 13 with Directive 71/320/EEC as amended by 98/12/EC: the effective stroke sp of a chamber.

sp is the stroke at which the thrust is 90 % of its mean between one and two thirds of the full stroke; the stroke in
use is not to be over 0.9 sp (read in a copy). The thrust is the model's own curve, or a measured table.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from geometry.chamber import ThrustTable, chamber_force
from geometry.effective_stroke import effective_stroke, mean_thrust
from tests.brakes import BRAKE, IN, PSI

CHAMBER = BRAKE.chamber


@pytest.mark.parametrize("pressure", [60 * PSI, 95 * PSI])
def test_it_is_where_the_thrust_is_90_percent_of_its_mean(pressure: float) -> None:
    def thrust(stroke: float) -> float:
        return float(chamber_force(CHAMBER, stroke, pressure))

    third = CHAMBER.rated_stroke / 3
    mean = quad(thrust, third, 2 * third, epsrel=1e-12, limit=400)[0] / third
    assert mean_thrust(CHAMBER, pressure) == pytest.approx(mean, rel=1e-7)
    expected = brentq(lambda s: thrust(s) - 0.9 * mean, 2 * third, CHAMBER.rated_stroke, xtol=1e-12)
    assert effective_stroke(CHAMBER, pressure) == pytest.approx(expected, abs=1e-5)


def test_a_straight_line_of_thrust_has_it_in_closed_form() -> None:
    """Thrust falling evenly from full to none: the mean is a half, and 90 % of it is left at 55 % of the stroke."""
    plain = replace(CHAMBER, return_spring_preload=0.0, return_spring_rate=0.0)
    falling = replace(plain, thrust=ThrustTable((0.0, 1.0), (1.0, 0.0)))
    assert effective_stroke(falling, 95 * PSI) == pytest.approx(0.55 * CHAMBER.rated_stroke, rel=1e-9)


def test_a_type_30_pushes_fully_past_1_3_4_in_and_not_at_its_end() -> None:
    """The trade reports full force at 1 3/4 in and loss beyond 2 in (trade press, read)."""
    sp = effective_stroke(CHAMBER, 100 * PSI) / IN
    assert 1.75 < sp < 2.25
    assert np.isfinite(sp)
