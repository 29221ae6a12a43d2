"""The pose table: rigid transforms that put every part where the solver says."""

import numpy as np
import pytest

from geometry.arrays import Array
from geometry.brake import SIDES, turn_sense
from geometry.condition import Condition, contact
from geometry.kinematics import solve_poses
from geometry.linkage import arm_state
from geometry.outlines import brake_outlines
from geometry.outlines.outline import Body
from geometry.pose_table import PoseTable, pitch_length, placed, pose_table
from geometry.shoe import posed
from tests.brakes import BRAKE, DRUM, FREE_STROKE, fahrenheit, found, part
from tests.test_outlines import CAMS, CASES, all_travel, states

BODIES = set(Body.__args__) - {"deforms"}


def carried(table: PoseTable, body: str, x: float, y: float) -> Array:
    m = table.matrices[body]
    return np.stack([m[:, 0] * x + m[:, 2] * y + m[:, 4], m[:, 1] * x + m[:, 3] * y + m[:, 5]], axis=-1)


@pytest.mark.parametrize("case", CASES)
def test_every_transform_is_rigid(case: str) -> None:
    brake, condition = CASES[case]
    poses = states(brake, condition)
    table = pose_table(brake, poses)
    exists = poses.reason.ravel() == 0
    assert exists.sum() >= 3
    assert set(table.matrices) == BODIES
    for body, matrix in table.matrices.items():
        a, b, c, d, e, f = matrix[exists].T
        np.testing.assert_allclose(a * d - b * c, 1.0, atol=1e-12, err_msg=body)
        np.testing.assert_allclose(a * c + b * d, 0.0, atol=1e-12)
        np.testing.assert_allclose(a * a + b * b, 1.0, atol=1e-12)
        assert np.isfinite([e, f]).all()


@pytest.mark.parametrize("case", CASES)
def test_the_clevis_pin_is_on_the_arm_and_on_the_pushrod(case: str) -> None:
    brake, condition = CASES[case]
    poses = states(brake, condition)
    exists = poses.reason == 0
    table = pose_table(brake, poses)
    pin = table.matrices["clevis_pin"][:, 4:][exists]
    np.testing.assert_allclose(carried(table, "arm", 0.0, brake.linkage.arm_length)[exists], pin, atol=1e-9)
    np.testing.assert_allclose(carried(table, "pushrod", brake.linkage.pushrod_length, 0.0)[exists], pin, atol=1e-9)
    np.testing.assert_allclose(table.matrices["clevis"][:, 4:][exists], pin, atol=0)
    plate = table.matrices["plate"][exists]
    np.testing.assert_allclose(plate[:, 4:], table.matrices["pushrod"][exists][:, 4:], atol=1e-12)
    np.testing.assert_allclose(plate[:, 4] - plate[0, 4], poses.stroke[exists] - poses.stroke[exists][0], atol=1e-12)


def test_rod_and_arm_stand_at_the_solved_angles() -> None:
    poses = states(BRAKE, found())
    table = pose_table(BRAKE, poses)
    m = table.matrices["pushrod"]
    np.testing.assert_allclose(np.arctan2(m[:, 1], m[:, 0]), poses.pushrod_tilt, atol=1e-12)
    arm = table.matrices["arm"]
    direction = arm_state(BRAKE.linkage, poses.stroke).direction
    np.testing.assert_allclose(np.arctan2(arm[:, 3], arm[:, 2]), direction, atol=1e-12)


@pytest.mark.parametrize("case", CASES)
def test_shoes_carry_their_rollers_and_stay_on_their_anchors(case: str) -> None:
    brake, condition = CASES[case]
    poses = states(brake, condition)
    exists = poses.reason == 0
    table = pose_table(brake, poses)
    for side in SIDES:
        sense, body = turn_sense(side), f"shoe_{side}"
        x, y = brake.shoe.anchor
        anchor = carried(table, body, sense * x, y)[exists]
        np.testing.assert_allclose(anchor - [sense * x, y], 0.0, atol=1e-9)
        roller = carried(table, body, sense * brake.shoe.roller_spread / 2, brake.shoe.roller_distance)[exists]
        np.testing.assert_allclose(roller, table.matrices[f"roller_{side}"][exists][:, 4:], atol=1e-9)


def test_the_left_shoe_is_the_mirrored_outward_frame() -> None:
    poses = states(BRAKE, found())
    table = pose_table(BRAKE, poses)
    for side, shoe in (("left", poses.left), ("right", poses.right)):
        sense = 1 if side == "right" else -1
        x, y = posed(BRAKE.shoe, np.cos(shoe.turn), np.sin(shoe.turn), np.array(150.0), np.array(20.0))
        np.testing.assert_allclose(carried(table, f"shoe_{side}", sense * 150.0, 20.0), np.stack([sense * x, y], -1))


def test_the_cam_turns_counter_clockwise_and_stops_where_the_arm_winds_up() -> None:
    poses = states(BRAKE, found(), 31)
    table = pose_table(BRAKE, poses)
    cam, arm = (table.matrices[b] for b in ("cam", "arm"))
    head = np.unwrap(np.arctan2(cam[:, 1], cam[:, 0]))
    lever = np.unwrap(np.arctan2(arm[:, 1], arm[:, 0]))
    seat = float(contact(BRAKE, *found().arrays[:3]).seat)
    assert (np.diff(head) >= -1e-12).all()
    assert (np.diff(lever) < 0).all()
    assert head[-1] == pytest.approx(seat, abs=1e-12)
    past = poses.stroke > 1.5 * FREE_STROKE
    assert np.ptp(head[past]) < 1e-12
    assert np.ptp(lever[past]) > 0.1
    before = poses.stroke <= FREE_STROKE
    np.testing.assert_allclose(head[before] - head[0], lever[0] - lever[before], atol=1e-12)


@pytest.mark.parametrize("kind", CAMS)
@pytest.mark.parametrize("side", SIDES)
def test_the_rollers_roll_on_the_cam_without_slip(kind: str, side: str) -> None:
    brake = CAMS[kind]
    poses = all_travel(brake, 4001)
    table = pose_table(brake, poses)
    good = poses.reason == 0
    cam, roller = table.matrices["cam"][good], table.matrices[f"roller_{side}"][good]
    centre = roller[:, 4:] - cam[:, 4:]
    local = np.stack([(centre * cam[:, :2]).sum(1), (centre * cam[:, 2:4]).sum(1)], -1)
    slip = np.diff(local, axis=0)
    path = np.hypot(*slip.T)
    turn = np.diff(np.unwrap(np.arctan2(roller[:, 1], roller[:, 0]) - np.arctan2(cam[:, 1], cam[:, 0])))
    np.testing.assert_allclose(
        path, -turn * brake.shoe.roller_radius, rtol=1e-5, atol=1e-4 if kind == "table" else 1e-9
    )


def test_the_pitch_curve_of_an_involute_has_its_closed_length() -> None:
    profile, radius = BRAKE.profile, BRAKE.shoe.roller_radius
    t = np.linspace(*profile.working, 7)
    heel, base = t[0], profile.base_radius  # type: ignore[attr-defined]
    np.testing.assert_allclose(
        pitch_length(profile, radius, t), base * (t**2 - heel**2) / 2 + radius * (t - heel), rtol=1e-13, atol=1e-12
    )


def test_states_that_cannot_exist_are_nan_and_refuse_to_be_placed() -> None:
    poses = solve_poses(BRAKE, found(), [0.0, 1000.0])
    table = pose_table(BRAKE, poses)
    outlines = {o.name: o for o in brake_outlines(BRAKE, found(), detail=0.5)}
    for body, matrix in table.matrices.items():
        assert np.isfinite(matrix[0]).all()
        assert np.isnan(matrix[1]).any() != body.startswith("ground"), body
    for name in ("push_plate", "pushrod", "s_cam", "roller_left"):
        assert placed(outlines[name], table, 0).area > 0
        with pytest.raises(ValueError, match="state 1"):
            placed(outlines[name], table, 1)
    assert placed(outlines["drum"], table, 1) == outlines["drum"].geometry


def test_arrays_of_any_shape_are_taken_flat() -> None:
    thickness = np.array([[10.0], [12.0], [15.0]])
    condition = found(thickness=thickness)
    poses = solve_poses(BRAKE, condition, np.linspace(0.0, 30.0, 4))
    table = pose_table(BRAKE, poses)
    assert table.states == 12
    one = Condition(12.0, DRUM, fahrenheit(70.0), np.asarray(condition.released_angle)[1, 0])
    single = pose_table(BRAKE, solve_poses(BRAKE, one, 20.0))
    for body, matrix in single.matrices.items():
        np.testing.assert_allclose(table.matrices[body][6], matrix[0], atol=1e-12)


def test_the_table_cannot_be_written_to() -> None:
    table = pose_table(BRAKE, states(BRAKE, found()))
    with pytest.raises(ValueError, match="read-only"):
        table.matrices["cam"][0, 0] = 2.0


def test_small_steps_make_small_moves() -> None:
    poses = solve_poses(BRAKE, found(), np.linspace(0.0, 50.0, 2001))
    table = pose_table(BRAKE, poses)
    for body in BODIES:
        assert np.abs(np.diff(table.matrices[body], axis=0)).max() < 0.1, body


def test_part_moves_only_when_the_brake_differs() -> None:
    other = part(BRAKE, "chamber", effective_area=1.2 * BRAKE.chamber.effective_area)
    first, second = (pose_table(b, states(b, found())) for b in (BRAKE, other))
    for body in BODIES:
        np.testing.assert_array_equal(first.matrices[body], second.matrices[body])
