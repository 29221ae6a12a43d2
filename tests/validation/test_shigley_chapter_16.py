"""J. E. Shigley and others, Mechanical Engineering Design (10th edition), chapter 16: internal expanding rim brakes.

Example 16-2 (long shoes, each with the same actuating force), problem 16-1 and problem 16-4. Status: the 734 kPa of
problem 16-1 and the data of problem 16-4 were read in copies of the book and of its solutions; the rest is from
memory, recomputed from the book's own formulas.

The book finds the actuating force from moments about the hinge pin: F c = M_N -+ M_f, c being its lever. Here the
same balance is in the shoe factor, drag at the drum over F.
"""

from dataclasses import dataclass
from math import cos, hypot, radians

import pytest

from geometry.shoe_factor import LongShoe, drag_at_pressure, long_shoe, peak_pressure, shoe_factor


@dataclass(frozen=True)
class Case:
    """Lengths mm, pressure MPa, angles deg."""

    radius: float
    anchor: float
    lever: float
    width: float
    friction: float
    start: float
    end: float

    @property
    def shoe(self) -> LongShoe:
        return long_shoe(self.radius, self.anchor, radians(self.start), radians(self.end))

    def force(self, pressure: float) -> float:
        """Actuating force, N, that brings the leading shoe to a pressure."""
        drag = drag_at_pressure(self.shoe, self.friction, self.width, pressure)
        return float(drag / shoe_factor(self.shoe, self.friction, self.lever, leading=True))

    def drag(self, force: float, leading: bool) -> float:
        return force * float(shoe_factor(self.shoe, self.friction, self.lever, leading))

    def torque(self, force: float, leading: bool) -> float:
        """N m."""
        return self.drag(force, leading) * self.radius / 1e3

    def pressure(self, force: float, leading: bool) -> float:
        """Greatest pressure on the lining, kPa."""
        return 1e3 * float(peak_pressure(self.shoe, self.friction, self.width, self.drag(force, leading)))


EXAMPLE_16_2 = Case(150.0, hypot(112.0, 50.0), 212.0, 32.0, 0.32, 0.0, 126.0)
PROBLEM_16_1 = Case(150.0, 125.0, 2 * 125.0 * cos(radians(30.0)), 40.0, 0.28, 0.0, 120.0)
PROBLEM_16_4 = Case(200.0, 150.0, 165.0, 75.0, 0.24, 10.0, 75.0)


def test_example_16_2_actuating_force_for_1000_kpa():
    assert EXAMPLE_16_2.force(1.0) == pytest.approx(2.28e3, abs=5.0)
    assert EXAMPLE_16_2.force(1.0) == pytest.approx(2279.1, abs=0.05)  # recomputed


@pytest.mark.parametrize(("leading", "printed", "recomputed"), [(True, 366.0, 365.83), (False, 162.0, 161.93)])
def test_example_16_2_torques(leading, printed, recomputed):
    torque = EXAMPLE_16_2.torque(EXAMPLE_16_2.force(1.0), leading)
    assert torque == pytest.approx(printed, abs=0.5)
    assert torque == pytest.approx(recomputed, abs=0.005)


def test_example_16_2_pressure_on_the_trailing_shoe():
    pressure = EXAMPLE_16_2.pressure(EXAMPLE_16_2.force(1.0), leading=False)
    assert pressure == pytest.approx(443.0, abs=0.5)
    assert pressure == pytest.approx(442.66, abs=0.005)  # recomputed


def test_problem_16_1_greatest_pressure_is_on_the_leading_shoe():
    assert PROBLEM_16_1.pressure(2200.0, leading=True) == pytest.approx(734.0, abs=0.5)
    assert PROBLEM_16_1.pressure(2200.0, leading=True) == pytest.approx(734.454, abs=0.0005)  # recomputed


def test_problem_16_1_pressure_on_the_trailing_shoe():
    pressure = PROBLEM_16_1.pressure(2200.0, leading=False)
    assert pressure == pytest.approx(381.9, abs=0.1)  # as handed down: off by more than half its last digit
    assert pressure == pytest.approx(381.959, abs=0.0005)  # recomputed


@pytest.mark.parametrize(("leading", "printed", "recomputed"), [(True, 277.6, 277.624), (False, 144.4, 144.381)])
def test_problem_16_1_torques(leading, printed, recomputed):
    torque = PROBLEM_16_1.torque(2200.0, leading)
    assert torque == pytest.approx(printed, abs=0.05)
    assert torque == pytest.approx(recomputed, abs=0.0005)


def test_problem_16_4_actuating_force_for_1000_kpa():
    assert PROBLEM_16_4.force(1.0) == pytest.approx(5.70e3, abs=5.0)


@pytest.mark.parametrize(("leading", "printed"), [(True, 541.0), (False, 335.0)])
def test_problem_16_4_torques(leading, printed):
    assert PROBLEM_16_4.torque(PROBLEM_16_4.force(1.0), leading) == pytest.approx(printed, abs=0.5)


def test_problem_16_4_lining_ends_short_of_the_crest():
    assert float(PROBLEM_16_4.shoe.peak_sine) < 1.0  # p_a stands at 75 deg, not at 90 as in the other two cases
    assert float(EXAMPLE_16_2.shoe.peak_sine) == 1.0
