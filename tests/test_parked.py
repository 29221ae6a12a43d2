"""Air and power spring together: nothing changes with the spring held back, and it takes over steadily as air goes."""

from dataclasses import replace
from math import inf, isnan

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from geometry.air import SCENARIOS, Course, air_states, course, happenings, pressures
from geometry.air.line import Line, following
from geometry.air.scenario import Phase, Scenario
from geometry.applied import solve_applied, spring_torque
from geometry.chamber import chamber_force
from geometry.condition import contact
from geometry.errors import PartError
from geometry.linkage import arm_state, turn_state
from geometry.loads import loads_at_pressure
from geometry.parked import solve_parked
from geometry.parking import Parking, parking_force
from geometry.reasons import Reason
from tests.brakes import BRAKE, IN, LBF, PSI, found

PARKING = Parking()
HELD = 61 * PSI
"""More than holds the spring all the way back."""

SERVICE = np.linspace(0.0, 120.0, 61) * PSI


def test_with_the_spring_held_back_it_is_the_brake_without_a_parking_section_to_the_last_bit() -> None:
    alone, loads = solve_applied(BRAKE, found(), SERVICE), loads_at_pressure(BRAKE, found(), SERVICE)
    for section in (PARKING, None):
        both = solve_parked(BRAKE, section, found(), SERVICE, HELD)
        np.testing.assert_array_equal(both.stroke, alone.stroke)
        np.testing.assert_array_equal(both.brake_torque, loads.brake_torque)
        np.testing.assert_array_equal(both.pushrod_force, np.maximum(loads.chamber_force, 0.0))
        np.testing.assert_array_equal(both.spring_force, 0.0)


@pytest.mark.parametrize(
    ("service", "line"), [(40, 15), (0, 0), (100, 0), (5, 45), (0, 50), (0, 55), (1, 57), (20, 58), (80, 90)]
)
def test_the_state_is_where_a_root_finder_puts_it(service: float, line: float) -> None:
    """Applied, and before the linings touch: the spring alone, air alone, and both."""
    condition, pressure, hold_off = found(), service * PSI, line * PSI
    released = float(condition.arrays[3])
    first = float(contact(BRAKE, *(np.asarray(a) for a in condition.arrays[:3])).first)
    start = first - released

    def balance(turn: float) -> float:
        stroke, lever, _ = (float(x) for x in turn_state(BRAKE.linkage, turn))
        spring = max(PARKING.spring_force - PARKING.spring_rate * stroke - hold_off * PARKING.spring_area, 0.0)
        pushed = float(chamber_force(BRAKE.chamber, stroke, pressure)) + spring
        held = float(spring_torque(BRAKE, np.asarray(min(released + turn, first))))
        return BRAKE.windup_stiffness * max(turn - start, 0.0) + held - pushed * lever

    turn = float(brentq(balance, 0.0, 0.4, xtol=1e-14))
    solved = solve_parked(BRAKE, PARKING, condition, pressure, hold_off)
    assert float(solved.stroke) == pytest.approx(float(turn_state(BRAKE.linkage, turn)[0]), abs=1e-9)


@settings(max_examples=25)
@example(service=0.0, hold_off=53.0, less=1.0, free=1.0)
@given(
    service=st.floats(0.0, 120.0), hold_off=st.floats(0.0, 120.0), less=st.floats(0.0, 60.0), free=st.floats(0.3, 1.2)
)
def test_as_its_air_falls_the_spring_takes_over_and_never_lets_go(
    service: float, hold_off: float, less: float, free: float
) -> None:
    """What the arm takes is a torque: before contact the return springs' hardly changes, and its lever grows."""
    held = np.array([hold_off, max(hold_off - less, 0.0)]) * PSI
    states = solve_parked(BRAKE, PARKING, found(free_stroke=free * IN), service * PSI, held)
    more, fallen = states.stroke
    assert fallen >= more - 1e-9
    assert states.brake_torque[1] >= states.brake_torque[0] - 1e-3
    torque = states.pushrod_force * arm_state(BRAKE.linkage, states.stroke).lever
    pressing = states.brake_torque[0] > 0
    assert not pressing or torque[1] >= torque[0] - 1e-3 or states.reserve[1] < 1e-3
    assert np.all(states.spring_force >= 0)
    assert np.all(states.pushrod_force >= 0)


def test_the_spring_never_pulls() -> None:
    strokes, held = np.linspace(0.0, 8.0, 200)[:, None] * IN, np.linspace(0.0, 150.0, 50) * PSI
    force = parking_force(PARKING, strokes, held)
    assert force.min() == 0
    assert np.all(np.diff(force, axis=0) <= 0)
    assert np.all(np.diff(force, axis=1) <= 0)


def test_slack_beyond_the_spring_leaves_it_at_its_stop_and_then_without_any_hold() -> None:
    slack = solve_parked(BRAKE, PARKING, found(free_stroke=np.array([1.0, 2.4, 2.6]) * IN), 0.0, 0.0)
    held, stopped, lost = slack.brake_torque
    assert stopped < 0.5 * held
    assert float(slack.reserve[1]) == pytest.approx(0, abs=1e-9)
    assert float(slack.pushrod_force[1]) < float(slack.spring_force[1])
    assert isnan(lost)
    assert slack.reason[2] == Reason.BOTTOMED


def test_pressures_of_any_shape_broadcast_and_what_cannot_be_is_said() -> None:
    states = solve_parked(BRAKE, PARKING, found(), SERVICE[:, None], np.array([0.0, 30.0, HELD]))
    assert states.stroke.shape == (61, 3)
    alone = solve_parked(BRAKE, PARKING, found(), SERVICE[7], 30.0)
    assert states.stroke[7, 1] == alone.stroke
    assert solve_parked(BRAKE, PARKING, found(), 0.5, -0.1).reason == Reason.NOT_POSITIVE
    assert solve_parked(BRAKE, PARKING, found(), 0.5, np.nan).reason == Reason.INPUT_MISSING


@pytest.mark.parametrize("bad", [{"spring_force": 0.0}, {"spring_area": -1.0}, {"spring_rate": -1.0}, {"vehicle": "x"}])
def test_a_parking_section_refuses_what_cannot_be(bad: dict[str, float]) -> None:
    with pytest.raises(PartError, match=f"parking.{next(iter(bad))}"):
        replace(PARKING, **bad)


# --- air over time


def test_a_line_that_follows_another_is_what_integration_gives() -> None:
    source = following(Line(0.0, ((0.7, 2.0),)), 0.5, 0.4)
    line = following(source, 0.1, 0.4)  # the same constant once more: no t exp(-t) in the form
    rates = solve_ivp(
        lambda t, c: [(0.7 * np.exp(-t / 2.0) - c[0]) / 0.4, (c[0] - c[1]) / 0.4],
        (0.0, 3.0),
        [0.5, 0.1],
        rtol=1e-10,
        atol=1e-12,
        t_eval=[0.1, 1.0, 3.0],
    )
    np.testing.assert_allclose(source.at(rates.t), rates.y[0], atol=1e-8)
    np.testing.assert_allclose(line.at(rates.t), rates.y[1], atol=1e-6)


@pytest.mark.parametrize("name", SCENARIOS)
@pytest.mark.parametrize("parking", [PARKING, Parking(vehicle="trailer"), None])
def test_pressures_never_jump_nor_leave_what_there_is(name: str, parking: Parking | None) -> None:
    run = course(SCENARIOS[name], parking, 100 * PSI)
    assert run.end == pytest.approx(sum(phase.duration for phase in SCENARIOS[name].phases))
    for seam in run.starts[1:]:
        before, after = (np.array(pressures(run, t)) for t in (seam - 1e-9, seam))
        np.testing.assert_allclose(before, after, atol=1e-7)
    lines = np.array(pressures(run, np.linspace(0.0, run.end, 4001)))
    assert lines.min() >= 0
    assert lines.max() <= 100 * PSI * (1 + 1e-12)


def happens(run: Course, parking: Parking | None = PARKING) -> list[str]:
    return [h.name for h in happenings(BRAKE, parking, found(), run)]


def test_a_burst_while_driving_brings_the_springs_on_in_order() -> None:
    run = course(SCENARIOS["sudden-loss"], PARKING, 100 * PSI)
    assert happens(run) == ["done", "done", "warning", "spring-pushes", "moves", "touches", "done"]
    last = air_states(BRAKE, PARKING, found(), run, run.end).brake
    assert float(last.pushrod_force) > 1500 * LBF


def test_without_a_parking_section_a_burst_leaves_no_brake() -> None:
    run = course(SCENARIOS["loss-while-braking"], None, 100 * PSI)
    assert happens(run, None)[-2:] == ["touches", "moves"]
    last = air_states(BRAKE, None, found(), run, run.end).brake
    assert (float(last.stroke), float(last.brake_torque)) == (0, 0)


def test_while_braking_the_spring_takes_over_from_the_air_before_the_brake_is_lost() -> None:
    run = course(SCENARIOS["loss-while-braking"], PARKING, 100 * PSI)
    assert "spring-leads" in happens(run)
    t = np.linspace(run.starts[2], run.end, 2001)
    force = air_states(BRAKE, PARKING, found(), run, t).brake.pushrod_force
    assert force.min() > 1400 * LBF


def test_compounding_is_said_only_where_both_push() -> None:
    said = {name: "compounds" in happens(course(SCENARIOS[name], PARKING, 100 * PSI)) for name in SCENARIOS}
    assert [name for name, compounds in said.items() if compounds] == ["compound"]


def test_a_happening_is_where_its_quantity_crosses() -> None:
    run = course(SCENARIOS["story"], PARKING, 100 * PSI)
    for one in happenings(BRAKE, PARKING, found(), run):
        if one.name != "touches":
            continue
        states = air_states(BRAKE, PARKING, found(), run, one.time + np.array([-1e-6, 0.0, 1e-6])).brake
        beyond = states.stroke - states.contact_stroke
        assert beyond[0] * beyond[2] < 0
        assert abs(beyond[1]) < 1e-3


def test_a_towed_vehicle_loses_its_pedal_when_tractor_protection_closes() -> None:
    trailer = Parking(vehicle="trailer")
    run = course(SCENARIOS["loss-while-braking"], trailer, 100 * PSI)
    assert run.stretches[-1].phase.parked
    assert run.stretches[-1].phase.pedal == 0
    assert course(SCENARIOS["loss-while-braking"], PARKING, 100 * PSI).stretches[-1].phase.pedal == 1


def test_a_reservoir_that_is_low_from_the_start_has_its_springs_on() -> None:
    run = course(Scenario("low", "", (Phase("low", "", 5.0), Phase("leak", "", 5.0, loss=3.0))), PARKING, 20 * PSI)
    assert all(s.phase.parked for s in run.stretches)
    assert all(s.phase.loss in (inf, 3.0) for s in run.stretches)


def test_a_course_refuses_a_pressure_that_is_none() -> None:
    with pytest.raises(PartError, match=r"air\.reservoir"):
        course(SCENARIOS["press"], PARKING, 0.0)
