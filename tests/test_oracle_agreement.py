"""The solver against the slow, independent oracle of tests/oracle, on random brakes of every kind.

The oracle finds everything by scans, bisection and numerical differentiation and shares no code with geometry/.
"""

import math
from dataclasses import dataclass

import numpy as np
import pytest

from geometry.adjuster import Adjuster
from geometry.applied import solve_applied
from geometry.brake import SIDES, Brake
from geometry.chamber import Chamber
from geometry.condition import Condition, angle_for_clearance, angle_for_free_stroke, contact
from geometry.drum import Drum
from geometry.involute import InvoluteProfile
from geometry.kinematics import Poses, free_stroke, solve_poses
from geometry.lining import Lining
from geometry.linkage import Linkage, stroke_at_right_angle
from geometry.loads import loads_at_pressure, loads_at_turn, push
from geometry.polar_cam import ConstantRiseProfile, TableProfile
from geometry.shoe import Shoe
from tests.oracle import OracleBrake, OracleResult, applied_at, prepare, random_brakes, solve
from tests.sweeps import sweep

RELATIVE = 1e-9
LENGTH = 1e-9
"""Absolute, mm: gaps pass through 0."""


def profile_of(brake: OracleBrake) -> InvoluteProfile | ConstantRiseProfile | TableProfile:
    if brake.profile == "involute":
        return InvoluteProfile(brake.base_radius, brake.heel_radius, brake.tip_radius)
    if brake.profile == "constant-rise":
        assert brake.rise is not None
        return ConstantRiseProfile(brake.rise, brake.heel_radius, brake.tip_radius)
    assert brake.table_angle is not None
    assert brake.table_radius is not None
    return TableProfile(brake.table_angle, brake.table_radius)


def brake_of(o: OracleBrake) -> Brake:
    return Brake(
        chamber=Chamber("clamp", "30", o.rated_stroke, o.chamber_area, o.chamber_spring_preload, o.chamber_spring_rate),
        linkage=Linkage(o.arm_length, o.axis_offset, o.face_distance, o.pivot_depth, o.pin_reach),
        profile=profile_of(o),
        shoe=Shoe(
            o.cam_distance,
            o.anchor_distance,
            o.anchor_spacing,
            o.roller_diameter,
            o.roller_spread,
            o.roller_distance,
            o.shoe_spring_force,
            o.shoe_spring_rate,
        ),
        lining=Lining(
            o.lining_thickness_new, o.lining_start, o.lining_end, o.lining_width, o.friction, o.lining_radius
        ),
        drum=Drum(o.drum_diameter_new),
        adjuster=Adjuster("manual"),
        efficiency=o.efficiency,
        windup_stiffness=o.windup_stiffness,
        drum_rotation="counter-clockwise" if o.drum_turns > 0 else "clockwise",
    )


@dataclass(frozen=True)
class Pair:
    oracle: OracleBrake
    expected: OracleResult
    brake: Brake
    condition: Condition


def pair_of(oracle: OracleBrake, expected: OracleResult) -> Pair:
    brake = brake_of(oracle)
    state = (
        np.array(oracle.lining_thickness),
        np.array(oracle.drum_diameter),
        np.array(oracle.drum_temperature),
    )
    at = contact(brake, *state)
    if oracle.released_cam_angle is not None:
        released = np.array(oracle.released_cam_angle)
    elif oracle.lining_clearance is not None:
        released = angle_for_clearance(brake, at, oracle.lining_clearance)
    else:
        released = angle_for_free_stroke(brake, at, oracle.free_stroke)
    return Pair(oracle, expected, brake, Condition(*state, released))


def close(mine: object, theirs: float, absolute: float = 1e-12) -> None:
    assert float(np.asarray(mine)) == pytest.approx(theirs, rel=RELATIVE, abs=absolute)


def same_poses(mine: Poses, theirs: object) -> None:
    close(mine.arm_angle, theirs.arm_angle)
    close(mine.arm_turn, theirs.arm_turn)
    close(mine.pushrod_tilt, theirs.pushrod_tilt)
    close(mine.lever, theirs.lever)
    close(mine.clevis_x, theirs.clevis_pin[0], LENGTH)
    close(mine.clevis_y, theirs.clevis_pin[1], LENGTH)
    close(mine.cam_turn, theirs.cam_turn)
    close(mine.cam_angle, theirs.cam_angle)
    for side in SIDES:
        shoe, expected = getattr(mine, side), theirs.shoes[side]
        close(shoe.turn, expected.turn)
        close(shoe.gap_anchor_end, expected.gap_anchor_end, LENGTH)
        close(shoe.gap_middle, expected.gap_middle, LENGTH)
        close(shoe.gap_cam_end, expected.gap_cam_end, LENGTH)
        close(shoe.gap_least, expected.gap_least, LENGTH)


@pytest.mark.parametrize("seed", sweep(range(8), always=4))
def test_solver_agrees_with_the_oracle_on_random_brakes(seed: int) -> None:
    kinds: set[tuple[str, bool, bool]] = set()
    for oracle, expected in random_brakes(1000 + seed, 26):
        pair = pair_of(oracle, expected)
        kinds.add((oracle.profile, oracle.anchor_spacing == 0, oracle.lining_radius is None))
        check_setting(pair)
        check_states(pair)
        check_loads(pair)
    assert len(kinds) >= 6, "the random brakes no longer cover the kinds of cam, anchor and lining"


def check_setting(pair: Pair) -> None:
    expected, brake = pair.expected, pair.brake
    at = contact(brake, *pair.condition.arrays[:3])
    for side in SIDES:
        close(at.turn, expected.touch_turn[side])
        close(getattr(at, side), expected.touch_cam[side])
    close(pair.condition.released_angle, expected.cam_released)
    close(free_stroke(brake, pair.condition), expected.free_stroke)
    if expected.right_angle_stroke is not None:
        close(stroke_at_right_angle(brake.linkage), expected.right_angle_stroke)


def check_states(pair: Pair) -> None:
    expected = pair.expected
    strokes = [0.0, expected.free_stroke, expected.applied.state.stroke]
    for stroke, state in zip(strokes, (expected.released, expected.contact, expected.applied.state), strict=True):
        same_poses(solve_poses(pair.brake, pair.condition, stroke), state)


def check_loads(pair: Pair) -> None:
    applied, brake = pair.expected.applied, pair.brake
    state = solve_applied(brake, pair.condition, pair.oracle.pressure)
    close(state.stroke, applied.state.stroke)
    loads = loads_at_pressure(brake, pair.condition, pair.oracle.pressure)
    close(loads.chamber_force, applied.chamber_force)
    close(loads.brake_torque, applied.brake_torque)
    held = loads_at_turn(brake, pair.condition, state.turn, state.reason)
    close(held.pressure, pair.oracle.pressure)
    at = contact(brake, *pair.condition.arrays[:3])
    cam_angle = np.asarray(applied.state.cam_angle)
    for side in SIDES:
        factor = float(getattr(loads, f"factor_{side}"))
        close(factor, applied.shoe_factor[side])
        close(getattr(loads, f"roller_{side}"), applied.roller_force[side])
        close(push(brake, at, side, cam_angle).moment_arm, applied.state.shoes[side].contact.moment_arm)


@pytest.mark.parametrize("pressure", [0.005, 0.0195, 0.0205, 0.0215])
def test_low_pressures_that_hardly_lift_the_springs_agree(pressure: float) -> None:
    oracle = OracleBrake()
    pair = pair_of(oracle, solve(oracle))
    expected = applied_at(prepare(oracle), pressure)
    close(solve_applied(pair.brake, pair.condition, pressure).stroke, expected.state.stroke, LENGTH)
    assert expected.presses == (float(loads_at_pressure(pair.brake, pair.condition, pressure).brake_torque) > 0)


def test_array_solve_equals_one_at_a_time() -> None:
    oracle, expected = next(iter(random_brakes(7, 1)))
    pair = pair_of(oracle, expected)
    strokes = np.linspace(0.0, oracle.rated_stroke, 101).reshape(1, 101)
    together = solve_poses(pair.brake, pair.condition, strokes)
    single = [float(solve_poses(pair.brake, pair.condition, s).left.gap_least) for s in strokes[0]]
    assert together.left.gap_least.shape == (1, 101)
    np.testing.assert_allclose(together.left.gap_least[0], single, rtol=0, atol=1e-12)
    assert math.isfinite(single[-1])
