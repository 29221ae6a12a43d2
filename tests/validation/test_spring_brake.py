"""The parking section: what handbooks and manuals say of a spring brake, and air brake rules of its lines.

Force 1 500 to 2 000 lbf: British Columbia air brake handbook (read). Compounding, 2 000 lbf of spring and 3 000 lbf of
air, up to 5 000 lbf: the same and a commercial driver's manual (both read). Releases fully at about 60 psi, begins at
30 to 40 psi: from memory. Warning below 60 psi: 49 CFR 571.121 S5.1.5 (read). Tractor protection between 20 and 45 psi:
49 CFR 393.43 (read). 100 psi in the reservoirs: 60 psi in the chamber within 0.45, 0.50, 0.55, 0.60 s, and from 95 down
to 5 psi within 0.55, 1.00, 1.10, 1.20 s (truck, towing, dolly, trailer): 49 CFR 571.121 S5.3.3, S5.3.4 (read).
Spring rate and area are the project's own figures, chosen to meet these.
"""

from dataclasses import replace

import numpy as np
import pytest

from geometry.air import SCENARIOS, course, happenings, pressures
from geometry.parked import solve_parked
from geometry.parking import VEHICLES, Parking, hold_off_pressure, power_spring_force
from geometry.tables import air_mark, air_times
from tests.brakes import BRAKE, IN, LBF, PSI, found

PARKING = Parking()
TIMES = {"truck": (0.45, 0.55), "towing": (0.50, 1.00), "dolly": (0.55, 1.10), "trailer": (0.60, 1.20)}


def test_the_spring_pushes_1500_to_2000_lbf_wherever_it_parks_a_brake_in_adjustment() -> None:
    parked = solve_parked(BRAKE, PARKING, found(free_stroke=np.array([0.5, 0.625, 0.75]) * IN), 0.0, 0.0)
    assert np.all((parked.spring_force >= 1500 * LBF) & (parked.spring_force <= 2000 * LBF))
    assert float(power_spring_force(PARKING, 0.0)) == pytest.approx(2000 * LBF)


def test_it_is_held_all_the_way_back_at_about_60_psi() -> None:
    assert float(hold_off_pressure(PARKING)) / PSI == pytest.approx(60, abs=1)


@pytest.mark.parametrize("rated", [2.5, 3.0])
def test_from_its_full_stroke_it_begins_to_be_pushed_back_between_30_and_40_psi(rated: float) -> None:
    assert 30 <= float(hold_off_pressure(PARKING, rated * IN)) / PSI <= 40


def test_compounding_comes_to_more_than_full_air_and_to_no_more_than_5000_lbf() -> None:
    at_rest = 100 * PSI * BRAKE.chamber.effective_area + PARKING.spring_force
    assert at_rest / LBF == pytest.approx(5000, abs=0.5)
    both = solve_parked(BRAKE, PARKING, found(), 100 * PSI, 0.0)
    assert 4000 < float(both.pushrod_force) / LBF < 5000


def test_the_warning_and_the_bands_are_those_of_the_rules() -> None:
    warning, protection = air_mark("low-pressure-warning"), air_mark("tractor-protection")
    assert (warning.low / PSI, warning.high / PSI) == pytest.approx((60, 60))
    assert (protection.low / PSI, protection.high / PSI) == pytest.approx((20, 45))
    assert (warning.status, protection.status) == ("V", "V")


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_chamber_fills_and_empties_in_the_times_allowed(vehicle: str) -> None:
    times = air_times(vehicle)
    assert (times.apply, times.release, times.status) == (*TIMES[vehicle], "V")
    parking = replace(PARKING, vehicle=vehicle)
    pressed = course(SCENARIOS["press"], parking, 100 * PSI)
    start, release = pressed.starts[1], pressed.starts[2]
    assert pressures(pressed, start + times.apply)[2] / PSI == pytest.approx(60)
    full = float(pressures(pressed, release)[2])
    assert float(pressures(pressed, release + times.release)[2]) / full == pytest.approx(5 / 95)
    named = {h.name: h.time for h in happenings(BRAKE, parking, found(), pressed)}
    assert named["filled"] == pytest.approx(start + times.apply, abs=1e-6)


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("scenario", ["slow-leak", "sudden-loss"])
def test_the_valve_shuts_by_itself_inside_the_band_of_the_rule(vehicle: str, scenario: str) -> None:
    leaking = course(SCENARIOS[scenario], replace(PARKING, vehicle=vehicle), 100 * PSI)
    shut = next(s for s in leaking.stretches if s.phase.parked)
    protection = air_mark("tractor-protection")
    assert protection.low <= float(shut.reservoir.at(0.0)) <= protection.high


def test_the_warning_comes_at_60_psi_before_the_brake_drags() -> None:
    leaking = course(SCENARIOS["slow-leak"], PARKING, 100 * PSI)
    at = {h.name: h.time for h in happenings(BRAKE, PARKING, found(), leaking)}
    assert float(pressures(leaking, at["warning"])[0]) / PSI == pytest.approx(60, abs=1e-6)
    assert at["warning"] < at["moves"] < at["touches"]
