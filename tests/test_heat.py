"""The drum over a drive: the closed form against integration, and the application that follows its temperature."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import PartError
from geometry.heat import (
    HEAT_EVENTS,
    Drive,
    Sink,
    brake_mass,
    course,
    descent,
    heat_events,
    heat_states,
    sink,
    stops,
    temperatures,
)
from geometry.heat.course import turns
from geometry.reasons import Reason
from geometry.states import at_pressure
from tests.brakes import BRAKE, IN, PSI, fahrenheit, found

MPH = 1609344 / 3600
POUND = 0.45359237e-3
MASS = brake_mass(BRAKE)
SINK = sink(BRAKE)
COLD = REFERENCE_TEMPERATURE
STOPS = stops(MASS, 6, 60 * MPH, 120.0, wait=300.0)
DESCENT = descent(MASS, 0.06, 30 * MPH, 600.0, wait=600.0)
PRESSURE, LIMIT = 95 * PSI, 2.0 * IN


def integrated(drive: Drive, store: Sink, start: float) -> float:
    """The temperature at the end, by a general integrator, stretch by stretch."""
    kelvin = start
    for s in drive.stretches:
        h, (first, last) = store.conductance(s.speed), s.power

        def rate(t: float, y: list[float], s=s, h=h, first=first, last=last) -> list[float]:
            power = first + (last - first) * t / s.duration
            return [(store.into_drum * power - h * (y[0] - store.ambient)) / store.capacity]

        kelvin = float(solve_ivp(rate, (0.0, s.duration), [kelvin], rtol=1e-10, atol=1e-9).y[0, -1])
    return kelvin


@pytest.mark.parametrize("drive", [STOPS, DESCENT], ids=["stops", "descent"])
def test_the_closed_form_is_what_integration_gives(drive: Drive) -> None:
    run = course(drive, SINK, COLD)
    assert float(temperatures(run, run.end)) == pytest.approx(integrated(drive, SINK, COLD), abs=1e-5)


def test_one_stop_warms_the_drum_by_its_energy() -> None:
    still = replace(SINK, cooling=1e-9, cooling_by_speed=0.0)
    run = course(stops(MASS, 1, 60 * MPH, 120.0), still, COLD)
    energy = 0.5 * MASS * (60 * MPH) ** 2
    rise = float(temperatures(run, run.end)) - COLD
    assert rise == pytest.approx(0.95 * energy / still.capacity, rel=1e-9)
    assert stops(MASS, 1, 60 * MPH, 120.0).energy == pytest.approx(energy)


def test_a_long_descent_comes_to_rest_where_the_air_takes_all_of_it() -> None:
    run = course(descent(MASS, 0.06, 30 * MPH, 1e6), SINK, COLD)
    power = 0.95 * run_power(descent(MASS, 0.06, 30 * MPH, 1.0))
    assert float(temperatures(run, run.end)) - SINK.ambient == pytest.approx(power / SINK.conductance(30 * MPH))


def run_power(drive: Drive) -> float:
    return drive.energy / drive.stretches[0].duration


def test_braking_power_on_a_descent_is_weight_down_the_grade_less_rolling_times_speed() -> None:
    """8 500 lb down 6 % at 30 mph: 8 500 lbf x (0.0599 - 0.01) x 44 ft/s = 18 660 ft lbf/s, 33.9 hp, by hand."""
    horsepower = run_power(descent(8500 * POUND, 0.06, 30 * MPH, 600.0)) / (745.69987 * 1e3)
    assert horsepower == pytest.approx(33.9, abs=0.05)
    half = run_power(descent(8500 * POUND, 0.06, 30 * MPH, 600.0, held=0.5))
    assert half == pytest.approx(0.5 * run_power(descent(8500 * POUND, 0.06, 30 * MPH, 600.0)))
    assert descent(MASS, 0.005, 30 * MPH, 600.0).energy == 0


def test_the_cooling_is_that_of_the_published_rating() -> None:
    """Ten brakes give off 0.100 + 0.00208 v hp/degF, v in mph (from memory): 0.1624 at 30 mph."""
    per_brake = Sink().conductance(30 * MPH) / 1e3 / 745.69987 * 5 / 9
    assert 10 * per_brake == pytest.approx(0.1624, abs=5e-5)


def test_iron_and_cooling_follow_the_drum() -> None:
    small = replace(BRAKE, drum=replace(BRAKE.drum, diameter=8.25 * IN))
    assert sink(small).capacity == pytest.approx(SINK.capacity / 2)
    assert sink(small).conductance(10.0) == pytest.approx(SINK.conductance(10.0) / 2)
    assert sink(BRAKE, mass=0.05, ambient=300.0) == replace(SINK, mass=0.05, ambient=300.0)
    assert brake_mass(replace(BRAKE, axle="steering")) < MASS


def test_an_application_at_a_time_is_the_one_at_that_temperature() -> None:
    run = course(DESCENT, SINK, COLD)
    states = heat_states(BRAKE, found(), PRESSURE, run, [[0.0, 200.0], [600.0, 1200.0]])
    assert states.stroke.shape == (2, 2)
    for row in np.ndindex(2, 2):
        condition = replace(found(), drum_temperature=float(states.temperature[row]))
        one = at_pressure(BRAKE, condition, PRESSURE, "")
        for key in ("stroke", "arm_angle", "chamber_force", "brake_torque"):
            assert getattr(states, key)[row] == pytest.approx(getattr(one, key), rel=1e-12), key


@settings(max_examples=25)
@given(mass=st.floats(0.5, 6.0), more=st.floats(0.0, 3.0), grade=st.floats(0.02, 0.1), share=st.floats(0.0, 1.0))
def test_a_heavier_vehicle_is_never_cooler_and_a_hotter_drum_never_has_a_shorter_stroke(
    mass: float, more: float, grade: float, share: float
) -> None:
    t = share * 900.0
    light, heavy = (course(descent(m, grade, 30 * MPH, 600.0, wait=300.0), SINK, COLD) for m in (mass, mass + more))
    less, hotter = (heat_states(BRAKE, found(free_stroke=0.3 * IN), 60 * PSI, run, t) for run in (light, heavy))
    assert hotter.temperature >= less.temperature - 1e-9
    if np.isfinite(hotter.stroke):
        assert hotter.stroke >= less.stroke - 1e-9


def test_between_its_turning_points_the_temperature_only_rises_or_only_falls() -> None:
    for drive in (STOPS, DESCENT):
        run = course(drive, SINK, fahrenheit(200))
        marks = turns(run)
        assert marks[0] == 0
        assert marks[-1] == run.end
        for low, high in pairwise(marks):
            steps = np.diff(temperatures(run, np.linspace(low, high - 1e-9 * run.end, 400)))
            assert np.all(steps >= -1e-9) or np.all(steps <= 1e-9)


def test_events_are_where_a_root_finder_puts_them() -> None:
    run = course(DESCENT, SINK, COLD)
    events = {e.name: e for e in heat_events(BRAKE, found(), PRESSURE, run, LIMIT)}
    assert tuple(events) == HEAT_EVENTS

    def stroke(t: float) -> float:
        return float(heat_states(BRAKE, found(), PRESSURE, run, t).stroke) - LIMIT

    assert events["stroke-limit"].time == pytest.approx(brentq(stroke, 1.0, 600.0, xtol=1e-12), abs=1e-6)
    known = events["expansion-known"]
    assert float(temperatures(run, known.time)) == pytest.approx(fahrenheit(600), abs=1e-6)
    assert known.temperature == pytest.approx(fahrenheit(600), abs=1e-6)
    assert not events["bottoms"].happens


def test_a_worn_brake_bottoms_on_the_way_down_and_has_its_limit_behind_it_from_the_start() -> None:
    run = course(DESCENT, SINK, COLD)
    events = {e.name: e for e in heat_events(BRAKE, found(free_stroke=1.7 * IN), PRESSURE, run, LIMIT)}
    assert events["stroke-limit"].time == 0
    assert events["bottoms"].happens
    at = heat_states(BRAKE, found(free_stroke=1.7 * IN), PRESSURE, run, events["bottoms"].time + np.array([-5.0, 1.0]))
    assert at.reserve[0] > 1e-3
    assert not at.reserve[1] > 1e-3


def near_the_tip() -> Condition:
    """A worn lining in a worn drum: cold the cam is just within its profile."""
    return found(free_stroke=0.625 * IN, thickness=0.265 * IN, diameter=16.66 * IN)


def test_the_cam_passes_its_tip_where_the_states_say_so_and_what_that_hides_is_not_denied() -> None:
    run = course(DESCENT, SINK, COLD)
    events = {e.name: e for e in heat_events(BRAKE, near_the_tip(), PRESSURE, run, LIMIT)}
    tip = events["cam-past-tip"]
    reasons = heat_states(BRAKE, near_the_tip(), PRESSURE, run, tip.time + np.array([-1e-3, 0.0, 1e-3])).reason
    assert reasons.tolist() == [Reason.EXISTS, Reason.EXISTS, Reason.CAM_PAST_TIP]
    assert tip.temperature < fahrenheit(600)
    for name in ("stroke-limit", "bottoms"):
        assert not events[name].happens
        assert events[name].unknown_from == pytest.approx(tip.time, abs=1e-3)
    assert np.isnan(events["square-passed-applied"].unknown_from)


def test_a_brake_that_never_reached_its_drum_is_past_every_limit_from_the_start() -> None:
    run = course(DESCENT, SINK, COLD)
    slack = found(free_stroke=2.45 * IN, thickness=0.3 * IN)
    hot = replace(slack, drum_temperature=COLD)
    events = {e.name: e for e in heat_events(BRAKE, hot, PRESSURE, course(DESCENT, SINK, fahrenheit(700)), LIMIT)}
    assert heat_states(BRAKE, hot, PRESSURE, course(DESCENT, SINK, fahrenheit(700)), 0.0).reason == Reason.BOTTOMED
    assert (events["stroke-limit"].time, events["bottoms"].time) == (0, 0)
    assert events["square-passed-applied"].unknown_from == 0
    assert heat_states(BRAKE, slack, PRESSURE, run, 0.0).reason == Reason.EXISTS


def test_where_the_linings_do_not_press_there_is_no_torque() -> None:
    run = course(DESCENT, SINK, COLD)
    faint = heat_states(BRAKE, found(), 3 * PSI, run, [0.0, 600.0])
    one = at_pressure(BRAKE, found(), 3 * PSI, "")
    assert one.brake_torque is None
    assert np.isnan(faint.brake_torque).all()


def test_a_drive_too_light_to_matter_meets_no_limit() -> None:
    run = course(stops(MASS / 20, 2, 20 * MPH, 300.0), SINK, COLD)
    events = {e.name: e.happens for e in heat_events(BRAKE, found(free_stroke=0.3 * IN), 50 * PSI, run, LIMIT)}
    assert not events["stroke-limit"]
    assert not events["bottoms"]


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: stops(MASS, 5, 60 * MPH, 5.0), "heat.every = 5.0 s: is less than one stop takes; use at least 9.0 s"),
        (lambda: stops(MASS, 5, 20 * MPH, 60.0, until=30 * MPH), "heat.until"),
        (lambda: stops(0.0, 5, 60 * MPH, 60.0), "heat.mass"),
        (lambda: descent(MASS, -0.06, 30 * MPH, 60.0), "heat.grade"),
        (lambda: descent(MASS, 0.06, 30 * MPH, 60.0, held=1.5), "heat.held"),
        (lambda: replace(SINK, mass=0.0), "heat.drum_mass"),
        (lambda: sink(BRAKE, mass=0.0), "heat.drum_mass"),
        (lambda: replace(SINK, into_drum=1.2), "heat.into_drum"),
    ],
)
def test_what_cannot_be_driven_is_refused(make, says: str) -> None:
    with pytest.raises(PartError, match=says):
        make()
