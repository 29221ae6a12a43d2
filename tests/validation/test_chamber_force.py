"""The force of a type 30 chamber: British Columbia air brake handbook and North American out-of-service practice.

3 000 lbf nominal at 100 psi, steady over most of the stroke, falling near its end, nothing left when the diaphragm
bottoms. Trade press: a long-stroke type 30 pushes nearly as hard at 1 3/4 in; the standard one loses force beyond
2 in. Rated strokes: 2 1/2 in standard (Saskatchewan air brake handbook), 3 in long stroke (from memory).

Our return spring (130 N + 2.6 N/mm) takes about 1 % of the nominal force, and is in every figure but the nominal one.
"""

from dataclasses import replace

import numpy as np
import pytest

from geometry.chamber import chamber_force, diaphragm_area, spring_force, thrust_share
from geometry.setup import read_setup_text
from tests.brakes import BRAKE, IN, LBF, PSI

STANDARD = BRAKE.chamber
LONG = replace(STANDARD, style="clamp-long-stroke", rated_stroke=3.0 * IN)


def push(chamber, stroke_in):
    """lbf at 100 psi."""
    return chamber_force(chamber, np.asarray(stroke_in) * IN, 100.0 * PSI) / LBF


def test_nominal_force():
    nominal = push(STANDARD, 0.0) + spring_force(STANDARD, 0.0) / LBF
    assert float(nominal) == pytest.approx(3000.0, abs=0.5)


def test_steady_over_most_of_the_stroke():
    forces = push(STANDARD, np.linspace(0.0, 0.7 * 2.5, 50))
    assert forces.min() > 0.97 * 3000.0
    assert forces.max() <= 3000.0


def test_never_grows_and_falls_faster_and_faster_near_the_end():
    steps = np.diff(push(STANDARD, np.linspace(0.0, 2.5, 101)))
    assert np.all(steps < 0.0)
    assert np.all(np.diff(steps[-30:]) < 0.0)


def test_nothing_left_when_bottomed():
    assert float(thrust_share(STANDARD, 2.5 * IN)[0]) == 0.0
    assert float(push(STANDARD, 2.5)) == pytest.approx(-float(spring_force(STANDARD, 2.5 * IN)) / LBF, rel=1e-12)


def test_long_and_standard_stroke_push_alike_at_one_and_three_quarters():
    assert float(push(STANDARD, 1.75)) == pytest.approx(float(push(LONG, 1.75)), rel=0.02)


def test_the_standard_one_loses_force_beyond_two_inches_where_the_long_one_keeps_it():
    assert float(push(STANDARD, 2.25)) < 0.85 * 3000.0
    assert float(push(LONG, 2.25)) > 0.95 * 3000.0


def test_the_diaphragm_cone() -> None:
    """Effective area pi/12 (D^2 + D d + d^2); the example's figures are from memory."""
    assert diaphragm_area(8.0, 6.0) == pytest.approx(38.7463, abs=5e-5)
    assert diaphragm_area(6.0, 6.0) == pytest.approx(np.pi / 4 * 36)


def test_a_chamber_in_no_table_gets_its_area_from_the_diaphragm() -> None:
    chamber = '[chamber]\nsize = "33"\nrated_stroke = "2.5 in"\n'
    setup = read_setup_text(
        f'schema = 1\nbase = "drive-16.5x7"\n{chamber}diaphragm_diameter = "8 in"\nplate_diameter = "6 in"', "t"
    )
    assert setup.brake.chamber.effective_area / 25.4**2 == pytest.approx(38.7463, abs=5e-5)
