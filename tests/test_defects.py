"""Defects: none is nothing at all, each does what it says, any of them together can be solved."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.arrays import floats
from geometry.condition import Condition
from geometry.defects import (
    DEFECTS,
    OUTCOMES,
    Defect,
    Outcome,
    Wheel,
    apply_all,
    defect,
    felt,
    held_poses,
    pressed_condition,
    solve_wheel,
)
from geometry.errors import PartError
from geometry.found import condition_of
from geometry.kinematics import solve_poses
from geometry.loads import loads_at_pressure
from geometry.outlines import brake_outlines
from geometry.reasons import Reason
from geometry.setup import builtin_names, read_setup
from geometry.states import at_contact, at_pressure
from geometry.tables import drum_limits, lining_limits

DRIVE = read_setup("drive-16.5x7")
SOUND = Wheel(DRIVE.brake, condition_of(DRIVE), DRIVE.test.pressure)
HEALTHY = solve_wheel(SOUND)
BY_NAME = {one.name: one for one in DEFECTS}


def of(name: str, amount: float | None = None) -> Outcome:
    return solve_wheel(BY_NAME[name].on(SOUND, amount))


def wheel_of(name: str) -> Wheel:
    setup = read_setup(name, judging=True)
    return Wheel(setup.brake, condition_of(setup), setup.test.pressure)


def same(one: Outcome, other: Outcome) -> bool:
    return all(np.array_equal(getattr(one, key), getattr(other, key), equal_nan=True) for key in OUTCOMES)


def test_a_sound_wheel_is_the_brake_that_the_solver_gives() -> None:
    applied = at_pressure(SOUND.brake, SOUND.condition, DRIVE.test.pressure, "")
    touch = at_contact(SOUND.brake, SOUND.condition)
    assert float(HEALTHY.stroke) == applied.stroke
    assert float(HEALTHY.brake_torque) == applied.brake_torque
    assert float(HEALTHY.free_stroke) == pytest.approx(touch.stroke, rel=1e-12)
    assert float(HEALTHY.applied_angle) == pytest.approx(applied.arm_angle, rel=1e-12)
    assert (float(HEALTHY.drag), float(HEALTHY.swing)) == (0.0, 0.0)


@pytest.mark.parametrize("one", DEFECTS, ids=lambda d: d.name)
def test_none_of_a_defect_is_the_very_same_wheel(one: Defect) -> None:
    assert one.on(SOUND, 0.0) is SOUND


@pytest.mark.parametrize("one", DEFECTS, ids=lambda d: d.name)
def test_a_usual_case_changes_something_that_can_be_told(one: Defect) -> None:
    assert not same(solve_wheel(one.on(SOUND)), HEALTHY) or one.name == "stroke-class"
    assert solve_wheel(SOUND).stroke == HEALTHY.stroke


@pytest.mark.parametrize("one", DEFECTS, ids=lambda d: d.name)
def test_a_defect_says_what_it_is_on_a_part_that_is_drawn(one: Defect) -> None:
    drawn = {outline.name for outline in brake_outlines(SOUND.brake, SOUND.condition)}
    assert one.part in drawn
    assert one.inside.endswith(".")
    assert one.outside.endswith(".")
    assert 0 < one.usual <= one.most


@pytest.mark.parametrize("one", DEFECTS, ids=lambda d: d.name)
def test_more_than_a_defect_can_be_is_refused(one: Defect) -> None:
    for bad in (-0.01, 1.01 * one.most, np.nan):
        with pytest.raises(PartError, match="outside what this defect can be"):
            one.on(SOUND, bad)


def test_each_does_what_it_says() -> None:
    assert of("diaphragm-leak").stroke < HEALTHY.stroke
    assert of("chamber-too-small").chamber_force < HEALTHY.chamber_force < of("chamber-too-large").chamber_force
    assert of("pushrod-too-long").applied_angle < HEALTHY.applied_angle < of("pushrod-too-short").applied_angle
    assert of("arm-too-long").stroke > HEALTHY.stroke > of("arm-too-short").stroke
    assert of("adjuster-stuck").free_stroke > HEALTHY.free_stroke
    assert of("rollers-worn").free_stroke > HEALTHY.free_stroke
    assert of("cam-past-profile").reason == Reason.CAM_PAST_TIP
    assert of("anchor-frozen-released").brake_torque == 0
    assert of("anchor-frozen-released").stroke < HEALTHY.stroke
    assert of("anchor-frozen-applied").drag == pytest.approx(0.15 * HEALTHY.brake_torque)
    assert of("return-spring-broken").drag > 0
    assert of("return-spring-broken").brake_torque > HEALTHY.brake_torque
    assert of("lining-glazed").brake_torque > of("lining-oil-soaked").brake_torque
    assert of("lining-glazed").stroke == HEALTHY.stroke
    assert of("drum-out-of-round").swing > 0
    for name in ("loose-bracket", "drum-cracked"):
        assert of(name).stroke > HEALTHY.stroke
        assert of(name).free_stroke == HEALTHY.free_stroke
    for name in ("lining-thin", "drum-oversize", "lining-cracked"):
        assert of(name).free_stroke == pytest.approx(float(HEALTHY.free_stroke), rel=1e-9)


def test_a_long_stroke_chamber_keeps_its_force_where_a_standard_one_loses_it() -> None:
    slack = apply_all(SOUND, {"adjuster-stuck": 0.9})
    both = apply_all(SOUND, {"adjuster-stuck": 0.9, "stroke-class": 1.0})
    assert solve_wheel(both).chamber_force > 1.02 * solve_wheel(slack).chamber_force


@pytest.mark.parametrize("play", [0.5, 3.0, 10.0])
def test_play_is_stroke_before_the_arm_moves_and_nothing_else(play: float) -> None:
    """Past the play every part stands where the sound brake's stands with so much less stroke."""
    loose = of("play", play)
    assert loose.free_stroke == pytest.approx(float(HEALTHY.free_stroke) + play, abs=1e-9)
    sound = solve_poses(SOUND.brake, SOUND.condition, loose.stroke - play)
    assert loose.applied_angle == pytest.approx(float(sound.arm_angle), abs=1e-9)
    assert loose.released_angle == HEALTHY.released_angle


def test_the_swing_of_an_oval_drum_is_the_stroke_at_its_two_diameters() -> None:
    thickness, diameter, temperature, released = SOUND.condition.arrays
    ends = [
        at_pressure(SOUND.brake, Condition(thickness, diameter + s, temperature, released), DRIVE.test.pressure, "")
        for s in (0.4, -0.4)
    ]
    wide, narrow = (end.stroke for end in ends)
    assert wide is not None
    assert narrow is not None
    assert of("drum-out-of-round", 0.8).swing == pytest.approx(wide - narrow, rel=1e-12)


def test_the_torque_of_an_oval_drum_swings_between_that_of_its_diameters() -> None:
    thickness, diameter, temperature, released = SOUND.condition.arrays
    torques = [
        at_pressure(SOUND.brake, Condition(thickness, diameter + s, temperature, released), DRIVE.test.pressure, "")
        for s in (0.4, 0.0, -0.4)
    ]
    each = [state.brake_torque or np.nan for state in torques]
    swing = float(of("drum-out-of-round", 0.8).torque_swing)
    assert swing == pytest.approx(max(each) - min(each), rel=1e-12)
    assert swing > 0
    assert float(HEALTHY.torque_swing) == 0.0


@pytest.mark.parametrize("name", builtin_names())
def test_behind_a_frozen_anchor_an_oval_drum_moves_no_rod(name: str) -> None:
    outcome = solve_wheel(apply_all(wheel_of(name), {"drum-out-of-round": None, "anchor-frozen-released": None}))
    assert outcome.reason == Reason.EXISTS
    assert (float(outcome.swing), float(outcome.torque_swing)) == (0.0, 0.0)


def test_a_drum_whose_narrow_side_lies_on_the_linings_swings_all_the_same() -> None:
    outcome = of("drum-out-of-round", 3.0)
    assert 0 < float(of("drum-out-of-round", 1.0).swing) < float(outcome.swing)
    assert np.isfinite(outcome.torque_swing)


@pytest.mark.parametrize("name", builtin_names())
@pytest.mark.parametrize("one", DEFECTS, ids=lambda d: d.name)
def test_a_usual_case_is_one_that_this_brake_can_have(name: str, one: Defect) -> None:
    wheel = one.on(wheel_of(name))
    assert float(wheel.condition.arrays[0]) > 0
    assert solve_wheel(wheel).reason != Reason.NOT_POSITIVE


@pytest.mark.parametrize("name", builtin_names())
def test_a_lining_that_is_called_too_thin_is_below_its_axles_limits_and_still_works(name: str) -> None:
    wheel = BY_NAME["lining-thin"].on(wheel_of(name))
    limits = [rule.limit_mm for rule in lining_limits(wheel.brake.axle) if rule.rule_set == "us"]
    assert float(wheel.condition.arrays[0]) < min(limits)
    assert round(float(wheel.condition.arrays[0]) / 25.4, 2) < round(min(limits) / 25.4, 2), "as it is read"
    assert solve_wheel(wheel).reason == Reason.EXISTS


@pytest.mark.parametrize("thickness", [6.0, 2.5, 0.5])
def test_a_lining_below_its_limit_is_worn_a_little_further(thickness: float) -> None:
    condition = replace(SOUND.condition, lining_thickness=thickness)
    left = float(BY_NAME["lining-thin"].on(replace(SOUND, condition=condition)).condition.arrays[0])
    assert 0 < left < thickness


def test_a_thick_lining_too_is_worn_below_its_limit_though_that_is_more_than_is_looked_at() -> None:
    thin = BY_NAME["lining-thin"]
    thick = replace(SOUND, condition=replace(SOUND.condition, lining_thickness=22.0))
    needed = thin.plain(thick)
    assert needed > thin.most
    assert thin.on(thick, needed).condition.arrays[0] == thin.on(thick).condition.arrays[0] < 6.35
    with pytest.raises(PartError, match="outside what this defect can be"):
        thin.on(thick, needed + 0.01)


@pytest.mark.parametrize("cast", [None, 6.0])
@pytest.mark.parametrize("name", builtin_names())
def test_a_drum_that_is_called_oversize_is_over_its_limit(name: str, cast: float | None) -> None:
    wheel = wheel_of(name)
    limit = None if cast is None else wheel.brake.drum.diameter + cast
    wheel = replace(wheel, brake=replace(wheel.brake, drum=replace(wheel.brake.drum, limit=limit)))
    wide = float(BY_NAME["drum-oversize"].on(wheel).condition.arrays[1])
    assert wide > max(rule.limit_mm for rule in drum_limits(wheel.brake.drum.diameter / 25.4))
    assert wide > (limit or 0.0)


@pytest.mark.parametrize("name", builtin_names())
def test_what_is_said_of_arm_and_stroke_is_so_on_each_brake(name: str) -> None:
    wheel = wheel_of(name)
    sound = solve_wheel(wheel)
    square = np.radians(90)
    short, long = (BY_NAME[f"pushrod-too-{way}"] for way in ("short", "long"))
    out, over = (solve_wheel(one.on(wheel)) for one in (short, long))
    assert square < sound.released_angle < out.released_angle, short.inside
    assert out.applied_angle > sound.applied_angle, short.outside
    assert (out.applied_angle > square) == (sound.applied_angle > np.radians(85)), "short of square with a right stroke"
    assert square < over.released_angle < sound.released_angle, long.outside
    assert over.applied_angle < square, long.outside
    stuck = solve_wheel(BY_NAME["adjuster-stuck"].on(wheel))
    assert stuck.applied_angle < square
    assert stuck.free_stroke > 0.75 * 25.4
    frozen = BY_NAME["anchor-frozen-applied"]
    assert solve_wheel(frozen.on(wheel)).stroke == sound.stroke
    assert "as they were" in frozen.outside


def test_usual_cases_together_wear_no_lining_to_less_than_nothing() -> None:
    every = dict.fromkeys(["adjuster-stuck", "cam-past-profile", "lining-thin"])
    for name in builtin_names():
        wheel = apply_all(wheel_of(name), every)
        assert float(wheel.condition.arrays[0]) > 0
        assert solve_wheel(wheel).reason == Reason.CAM_PAST_TIP


@pytest.mark.parametrize("name", ["cam-past-profile", "lining-thin"])
def test_more_lining_than_there_is_left_is_refused(name: str) -> None:
    worn = wheel_of("worn-drive-16.5x7")
    left = float(worn.condition.arrays[0])
    assert BY_NAME[name].on(worn, np.nextafter(left, 0.0)) is not worn
    with pytest.raises(PartError, match="is more than there is left") as raised:
        BY_NAME[name].on(worn, left)
    assert raised.value.faults[0].most == left


@pytest.mark.parametrize("degrees", [30.0, 60.0, 70.0])
@pytest.mark.parametrize("name", builtin_names())
def test_what_is_said_of_a_shorter_lining_is_what_the_model_gives(name: str, degrees: float) -> None:
    """It presses harder; its torque hardly changes, and after a large piece it is more."""
    sound = wheel_of(name)
    short = BY_NAME["lining-cracked"].on(sound, np.radians(degrees))
    before, after = (loads_at_pressure(w.brake, w.condition, w.pressure) for w in (sound, short))
    for side in ("left", "right"):
        assert getattr(after, f"lining_pressure_{side}") > 1.1 * getattr(before, f"lining_pressure_{side}")
    change = float(after.brake_torque / before.brake_torque) - 1
    assert abs(change) < 0.03 if degrees == 30 else change > 0.1
    assert "less" not in BY_NAME["lining-cracked"].inside


def test_drag_is_unknown_where_the_cam_has_left_its_profile() -> None:
    assert np.isnan(of("cam-past-profile").drag)
    both = {"cam-past-profile": None, "return-spring-broken": None}
    assert np.isnan(solve_wheel(apply_all(SOUND, both)).drag)
    kept = {"cam-past-profile": None, "anchor-frozen-applied": None}
    assert np.isnan(solve_wheel(apply_all(SOUND, kept)).drag)
    assert of("adjuster-stuck").drag == 0


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(builtin_names()),
    st.dictionaries(st.sampled_from([d.name for d in DEFECTS]), st.floats(0.0, 1.0), max_size=6),
)
def test_any_combination_solves_or_says_why(name: str, shares: dict[str, float]) -> None:
    wheel = wheel_of(name)
    amounts: dict[str, float | None] = {key: share * BY_NAME[key].most for key, share in shares.items()}
    try:
        outcome = solve_wheel(apply_all(wheel, amounts))
    except PartError:  # a rod cut to nothing is no rod
        return
    if outcome.reason == Reason.EXISTS:
        assert np.isfinite([getattr(outcome, key) for key in ("stroke", "chamber_force", "drag")]).all()
        assert np.isfinite(outcome.swing) or wheel.ovality > 0
    else:
        assert np.isnan(outcome.stroke)


def test_the_order_in_which_defects_are_named_does_not_matter() -> None:
    one = solve_wheel(apply_all(SOUND, {"adjuster-stuck": 0.4, "diaphragm-leak": 0.2, "play": 2.0}))
    other = solve_wheel(apply_all(SOUND, {"play": 2.0, "diaphragm-leak": 0.2, "adjuster-stuck": 0.4}))
    assert same(one, other)


def test_arrays_of_conditions_solve_at_once() -> None:
    free = replace(SOUND.condition, released_angle=floats(SOUND.condition.released_angle) - np.linspace(0, 0.05, 7))
    many = solve_wheel(BY_NAME["play"].on(replace(SOUND, condition=free)))
    assert many.stroke.shape == (7,)
    assert np.all(np.diff(many.stroke) > 0)


def test_an_unknown_name_says_the_nearest() -> None:
    with pytest.raises(PartError, match="write adjuster-stuck"):
        defect("adjuster-stick")


def test_behind_a_frozen_anchor_the_arm_turns_and_the_wheel_stands_still() -> None:
    wheel = BY_NAME["anchor-frozen-released"].on(SOUND)
    applied = solve_poses(SOUND.brake, pressed_condition(wheel), float(solve_wheel(wheel).stroke))
    still, sound = held_poses(wheel, applied), solve_poses(SOUND.brake, SOUND.condition, 0.0)
    assert float(still.arm_turn) > 0.05
    assert float(still.cam_turn) == 0.0
    for side in ("left", "right"):
        assert float(getattr(still, side).turn) == float(getattr(sound, side).turn)
        assert float(getattr(still, side).gap_least) > 0.1


@pytest.mark.parametrize("name", ["anchor-frozen-applied", "return-spring-broken"])
def test_a_shoe_that_is_not_pulled_off_stays_on_the_drum_and_leaves_no_gap(name: str) -> None:
    wheel = BY_NAME[name].on(SOUND)
    strokes = np.array([0.0, 8.0, float(HEALTHY.stroke)])
    brake, condition = felt(wheel)
    free = solve_poses(brake, condition, strokes)
    held = held_poses(wheel, free)
    assert held.right.gap_least[:2] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert np.all(held.left.turn == free.left.turn)
    assert held.right.turn[2] == free.right.turn[2], "applied, it stands where it always does"
    told = solve_wheel(wheel)
    assert float(told.gap_right) == pytest.approx(0.0, abs=1e-9)
    assert float(told.gap_left) == float(HEALTHY.gap_left)


def test_worn_joints_are_taken_up_by_the_rod_before_anything_else_moves() -> None:
    """The springs hold cam and arm where they are; the rod's end wanders in the play until it finds the pin."""
    wheel = BY_NAME["play"].on(SOUND)
    brake, condition = felt(wheel)
    strokes = wheel.play * np.array([0.0, 0.5, 1.0]) + np.array([0.0, 0.0, 5.0])
    free, sound = solve_poses(brake, condition, strokes), solve_poses(SOUND.brake, SOUND.condition, [0.0, 0.0, 5.0])
    held = held_poses(wheel, free)
    assert list(held.stroke) == list(strokes)
    for name in ("arm_angle", "arm_turn", "cam_turn", "cam_angle"):
        np.testing.assert_allclose(getattr(held, name)[:2], getattr(sound, name)[:2], atol=1e-9, err_msg=name)
    np.testing.assert_allclose(held.arm_turn[2], sound.arm_turn[2], atol=2e-4)
    for side in ("left", "right"):
        gaps = [getattr(poses, side).gap_least[:2] for poses in (held, sound)]
        np.testing.assert_allclose(*gaps, atol=1e-9)
    assert float(solve_wheel(wheel).gap_right) == pytest.approx(held.right.gap_least[0])


def test_a_sound_wheel_holds_nothing_still() -> None:
    free = solve_poses(SOUND.brake, SOUND.condition, [0.0, 5.0])
    assert held_poses(SOUND, free) is free
