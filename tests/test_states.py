"""Named states for people: what does not exist is None, and a stroke and the pressure that holds it are one state."""

from dataclasses import asdict, fields
from math import isfinite, nan
from typing import Any

import numpy as np
import pytest

from geometry.brake import SIDES, Brake
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.kinematics import solve_poses
from geometry.loads import loads_at_pressure
from geometry.reasons import Reason
from geometry.states import ShoeState, State, at_pressure, at_stroke, event, events, held_at_stroke
from tests.brakes import BRAKE, DRUM, FREE_STROKE, IN, LINING, PSI, found, part

PRESSURE = 95.0 * PSI
FORCES = ("pressure", "chamber_force", "camshaft_torque", "brake_torque")
SHOE_FORCES = ("roller_force", "shoe_factor", "lining_pressure")
MOTION = ("stroke", "arm_angle", "arm_turn", "cam_turn", "pushrod_tilt")
SHOE_MOTION = tuple(f.name for f in fields(ShoeState) if f.name not in SHOE_FORCES)
STRANGE = {
    "a lining too thick": Condition(60.0, DRUM, REFERENCE_TEMPERATURE, 0.2),
    "linings worn away": Condition(1.0, DRUM, REFERENCE_TEMPERATURE, 0.5),
    "set too tight": Condition(LINING, DRUM, REFERENCE_TEMPERATURE, 0.5),
    "a figure missing": Condition(nan, DRUM, REFERENCE_TEMPERATURE, 0.2),
    "below the heel": Condition(LINING, DRUM, REFERENCE_TEMPERATURE, -3.0),
    "colder than cold": Condition(LINING, DRUM, -1.0, 0.2),
}


def shoes(state: State) -> list[ShoeState]:
    return [state.left, state.right]


def figures(state: State) -> dict[str, Any]:
    """Every figure by its dotted name."""
    whole = asdict(state)
    left, right = whole.pop("left"), whole.pop("right")
    flat = {k: v for k, v in whole.items() if k not in ("name", "reason")}
    return flat | {f"left.{k}": v for k, v in left.items()} | {f"right.{k}": v for k, v in right.items()}


def has(state: State, motion: bool, forces: bool) -> None:
    """Hold which figures are there."""
    for name in MOTION:
        assert (getattr(state, name) is not None) == motion, name
    for name in FORCES:
        assert (getattr(state, name) is not None) == forces, name
    for shoe in shoes(state):
        for name in SHOE_MOTION:
            assert (getattr(shoe, name) is not None) == motion, name
        for name in SHOE_FORCES:
            assert (getattr(shoe, name) is not None) == forces, name


def same(one: State, other: State, accuracy: float = 1e-9) -> None:
    expected = figures(other)
    for name, value in figures(one).items():
        assert value == pytest.approx(expected[name], rel=accuracy, abs=1e-9), name


def test_the_three_events() -> None:
    released, contact, applied = events(BRAKE, found(), PRESSURE)
    assert [s.name for s in (released, contact, applied)] == ["released", "contact", "applied"]
    assert {s.reason for s in (released, contact, applied)} == {Reason.EXISTS}
    has(released, motion=True, forces=False)
    has(contact, motion=True, forces=False)
    has(applied, motion=True, forces=True)
    assert released.stroke == released.arm_turn == released.cam_turn == 0.0
    assert contact.stroke == pytest.approx(FREE_STROKE, rel=1e-12)
    assert min(s.gap_least for s in shoes(contact)) == pytest.approx(0.0, abs=1e-9)
    assert applied.pressure == PRESSURE
    assert contact.stroke < applied.stroke < BRAKE.chamber.rated_stroke


def test_both_shoes_meet_one_cam() -> None:
    for state in events(BRAKE, found(), PRESSURE):
        assert state.left.cam_angle == state.right.cam_angle
        assert state.left.cam_angle == pytest.approx(float(found().released_angle) + state.cam_turn, rel=1e-12)


def test_the_figures_are_those_of_the_array_solve() -> None:
    condition = found()
    state = at_pressure(BRAKE, condition, PRESSURE, "applied")
    poses, loads = solve_poses(BRAKE, condition, state.stroke), loads_at_pressure(BRAKE, condition, PRESSURE)
    for name in MOTION:
        assert getattr(state, name) == float(getattr(poses, name)), name
    for name in FORCES:
        assert getattr(state, name) == float(getattr(loads, name)), name
    for side in SIDES:
        shoe = getattr(state, side)
        for name in set(SHOE_MOTION) - {"cam_angle"}:
            assert getattr(shoe, name) == float(getattr(getattr(poses, side), name)), name
        assert shoe.roller_force == float(getattr(loads, f"roller_{side}"))
        assert shoe.shoe_factor == float(getattr(loads, f"factor_{side}"))
        assert shoe.lining_pressure == float(getattr(loads, f"lining_pressure_{side}"))


@pytest.mark.parametrize("stroke_in", [0.56, 0.7, 1.0, 1.5, 2.0, 2.3, 2.49])
def test_a_stroke_past_contact_carries_the_pressure_that_gives_it_back(stroke_in: float) -> None:
    held = at_stroke(BRAKE, found(), stroke_in * IN, "held")
    has(held, motion=True, forces=True)
    same(held, at_pressure(BRAKE, found(), held.pressure, "given back"))


@pytest.mark.parametrize("psi", [5, 20, 60, 95, 150])
def test_a_pressure_that_presses_carries_the_stroke_that_gives_it_back(psi: float) -> None:
    pressed = at_pressure(BRAKE, found(), psi * PSI, "pressed")
    has(pressed, motion=True, forces=True)
    same(pressed, at_stroke(BRAKE, found(), pressed.stroke, "given back"))


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_a_stroke_up_to_contact_has_no_pressure_and_no_forces(share: float) -> None:
    touch = events(BRAKE, found(), PRESSURE)[1].stroke
    state = at_stroke(BRAKE, found(), share * touch, "before")
    has(state, motion=True, forces=False)
    assert state.stroke == share * touch


def test_forces_begin_just_past_contact() -> None:
    touch = events(BRAKE, found(), PRESSURE)[1].stroke
    state = at_stroke(BRAKE, found(), touch + 1e-6, "past")
    has(state, motion=True, forces=True)
    assert 0.0 < state.left.roller_force < 0.01
    assert state.pressure > 0.01  # the return springs' share


def test_at_the_rated_stroke_no_pressure_holds_the_brake() -> None:
    has(at_stroke(BRAKE, found(), BRAKE.chamber.rated_stroke, "bottomed"), motion=True, forces=False)


@pytest.mark.parametrize("stroke", [-1.0, 100.0, nan])
def test_a_stroke_that_cannot_be(stroke: float) -> None:
    state = at_stroke(BRAKE, found(), stroke, "no such")
    expected = {-1.0: Reason.BEHIND_RELEASED, 100.0: Reason.BEYOND_RATED_STROKE}
    assert state.reason == expected.get(stroke, Reason.INPUT_MISSING)
    assert set(figures(state).values()) == {None}
    assert state.name == "no such"


@pytest.mark.parametrize("pressure", [-0.1, nan])
def test_a_pressure_that_cannot_be(pressure: float) -> None:
    state = at_pressure(BRAKE, found(), pressure, "no such")
    assert state.reason == (Reason.NOT_POSITIVE if pressure < 0 else Reason.INPUT_MISSING)
    assert set(figures(state).values()) == {None}


@pytest.mark.parametrize("name", STRANGE)
def test_no_figure_is_ever_nan_and_no_state_without_figures_is_without_a_reason(name: str) -> None:
    for state in [*events(BRAKE, STRANGE[name], PRESSURE), at_stroke(BRAKE, STRANGE[name], 20.0, "asked")]:
        values = figures(state).values()
        assert all(v is None or (type(v) is float and isfinite(v)) for v in values)
        assert (state.reason != Reason.EXISTS) == (set(values) == {None})


def test_why_a_brake_cannot_be_applied() -> None:
    reasons = {name: events(BRAKE, condition, PRESSURE)[2].reason for name, condition in STRANGE.items()}
    assert reasons == {
        "a lining too thick": Reason.LINING_TOO_THICK,
        "linings worn away": Reason.BOTTOMED,
        "set too tight": Reason.ADJUSTED_TOO_TIGHT,
        "a figure missing": Reason.INPUT_MISSING,
        "below the heel": Reason.CAM_BELOW_HEEL,
        "colder than cold": Reason.BELOW_ABSOLUTE_ZERO,
    }


def test_worn_linings_still_have_a_released_state() -> None:
    has(events(BRAKE, STRANGE["linings worn away"], PRESSURE)[0], motion=True, forces=False)


def test_a_chamber_that_bottoms_first_has_neither_contact_nor_application() -> None:
    released, contact, applied = events(BRAKE, found(free_stroke=2.6 * IN), PRESSURE)
    assert released.reason == Reason.EXISTS
    assert (contact.reason, applied.reason) == (Reason.BOTTOMED, Reason.BOTTOMED)


def test_states_do_not_change_the_condition() -> None:
    arrays = [np.array(float(a)) for a in found().arrays]
    for array in arrays:
        array.flags.writeable = False
    assert len(events(BRAKE, Condition(*arrays), PRESSURE)) == 3


@pytest.mark.parametrize("pressure", [0.0, 0.02])
def test_a_pressure_too_low_to_press_has_no_roller_forces(pressure: float) -> None:
    state = at_pressure(BRAKE, found(), pressure, "light")
    assert state.stroke < FREE_STROKE
    assert {getattr(shoe, name) for shoe in shoes(state) for name in SHOE_FORCES} == {None}


@pytest.mark.parametrize("name", [n for n in STRANGE if n not in ("a figure missing", "below the heel")])
def test_a_contact_that_is_not_reached_says_why(name: str) -> None:
    _, contact, applied = events(BRAKE, STRANGE[name], PRESSURE)
    assert contact.reason == applied.reason


def locking() -> Brake:
    return part(BRAKE, "lining", friction=1.4)


def test_a_shoe_that_locks_has_no_forces_at_a_pressure() -> None:
    state = at_pressure(locking(), found(locking()), PRESSURE, "locked")
    assert state.reason == Reason.SHOE_LOCKS
    assert {getattr(state, name) for name in FORCES} == {None}
    assert {getattr(shoe, name) for shoe in shoes(state) for name in SHOE_FORCES} == {None}


def test_a_shoe_that_locks_says_so_at_a_stroke() -> None:
    assert at_stroke(locking(), found(locking()), 30.0, "locked").reason == Reason.SHOE_LOCKS


@pytest.mark.parametrize("reach_in", [6.0, 6.2, 6.5, 6.8, 6.9, 7.0])
def test_a_spent_chamber_has_no_pressure_however_the_division_rounds(reach_in: float) -> None:
    brake = part(BRAKE, "linkage", pin_reach=reach_in * IN)
    state = at_stroke(brake, found(), brake.chamber.rated_stroke, "bottomed")
    assert (state.pressure, state.chamber_force, state.brake_torque) == (None, None, None)


def test_a_name_that_is_no_event_is_refused() -> None:
    with pytest.raises(ValueError, match="'parked' is no event of an application"):
        event(BRAKE, found(), 95 * PSI, "parked")


MOST = 2.0
"""MPa: more than any vehicle brake has."""


@pytest.mark.parametrize(("stroke_in", "reason"), [(0.3, 0), (1.5, 0), (2.3, 0), (2.45, 13), (2.5, 13), (2.6, 5)])
def test_a_stroke_is_held_only_by_a_pressure_that_a_vehicle_has(stroke_in: float, reason: int) -> None:
    state = held_at_stroke(BRAKE, found(), stroke_in * IN, "held", MOST)
    assert state.reason == reason
    assert (state.stroke is None) == bool(reason)


def test_the_longest_stroke_that_is_held_is_that_of_the_highest_pressure() -> None:
    longest = at_pressure(BRAKE, found(), MOST, "most").stroke
    assert longest is not None
    states = [held_at_stroke(BRAKE, found(), longest + off, "held", MOST) for off in (-1e-6, 1e-6)]
    assert [state.reason for state in states] == [Reason.EXISTS, Reason.OUT_OF_REACH]
