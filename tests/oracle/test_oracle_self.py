"""The oracle against facts that can be checked by hand, and against itself by a second way."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString, Point

from . import OracleBrake, RefusedError, applied_at, from_sections, prepare, random_brakes, solve, state_at
from .arm import arm_angle, arm_turn, pin_bearing, pushrod_tilt, stroke_at_right_angle
from .brake import DEG, IN, SIDES, SIGN
from .contact import to_cam_frame
from .lining import on_circle
from .loads import chamber_force, chamber_torque, return_spring_torque
from .long_shoe import shoe_moments
from .numeric import bisect, derivative, gauss_nodes
from .profile import involute, make_profile
from .setting import both_contacts
from .shoe import anchor

DEFAULT = OracleBrake()
TABLE = replace(
    DEFAULT, profile="table", table_angle=(0.0, 0.6, 1.2, 1.8, 2.4), table_radius=(14.0, 23.0, 32.0, 41.0, 49.0)
)
PROFILES = {"involute": DEFAULT, "constant-rise": replace(DEFAULT, profile="constant-rise", rise=12.7), "table": TABLE}


def test_involute_point_one_string_radian_from_a_unit_circle():
    x, y, _, _ = involute(1.0)(1.0)
    assert (x, y) == pytest.approx((1.3817732907, -0.3011686789), abs=5e-11)


@pytest.mark.parametrize("name", PROFILES)
def test_the_direction_of_a_profile_is_that_of_its_chords(name):
    profile = make_profile(PROFILES[name])
    for t in np.linspace(profile.start + 0.01, profile.stop - 0.01, 7):
        x, y = (derivative(lambda u, i=i: profile.curve(u)[i], float(t), 1e-4) for i in (0, 1))
        _, _, dx, dy = profile.curve(float(t))
        assert math.atan2(dx * y - dy * x, dx * x + dy * y) == pytest.approx(0.0, abs=1e-7)
        nx, ny = profile.normal(float(t))
        assert np.dot(profile.curve(float(t))[:2], (nx, ny)) > 0.0


def test_in_line_slider_crank_of_10_and_20_at_45_deg_leans_159_295_deg():
    brake = replace(DEFAULT, arm_length=10.0, axis_offset=0.0, face_distance=28.0, pivot_depth=1.0, pin_reach=19.0)
    stroke = bisect(lambda s: pin_bearing(brake, s) - 135.0 * DEG, 0.0, 20.0)
    assert 180.0 - pushrod_tilt(brake, stroke) / DEG == pytest.approx(159.295, abs=5e-4)


def test_arm_and_pushrod_stand_square_where_pythagoras_says():
    stroke = stroke_at_right_angle(DEFAULT)
    hypotenuse = math.hypot(5.5, 7.0) * IN
    assert stroke == pytest.approx(8.5 * IN - math.sqrt(hypotenuse**2 - DEFAULT.axis_offset**2), rel=1e-13)
    assert arm_angle(DEFAULT, stroke) == pytest.approx(math.pi / 2.0, rel=1e-14)


def test_the_roller_meets_an_involute_at_a_moment_arm_of_the_base_radius():
    for stroke in (0.0, 5.0, 13.97):
        for shoe in state_at(prepare(DEFAULT), stroke).shoes.values():
            assert shoe.contact.moment_arm == pytest.approx(DEFAULT.base_radius, rel=1e-14)


@pytest.mark.parametrize("name", PROFILES)
def test_a_dense_polyline_of_the_cam_is_a_roller_radius_from_the_roller(name):
    brake, profile = PROFILES[name], make_profile(PROFILES[name])
    line = LineString([profile.curve(t)[:2] for t in np.linspace(profile.start, profile.stop, 20001).tolist()])
    for side, contact in both_contacts(brake, profile, 0.4).items():
        centre = Point(to_cam_frame(brake, side, 0.4, *contact.centre))
        assert line.distance(centre) == pytest.approx(brake.roller_radius, abs=1e-6)


@pytest.mark.parametrize("name", PROFILES)
def test_return_spring_torque_differenced_equals_that_of_the_contact_normals(name):
    prepared = prepare(PROFILES[name])
    contacts = both_contacts(prepared.brake, prepared.profile, prepared.first)
    rate = 0.0
    for side, contact in contacts.items():
        ax, ay = anchor(prepared.brake, side)
        about_anchor = (contact.point[0] - ax) * contact.normal[1] - (contact.point[1] - ay) * contact.normal[0]
        rate -= SIGN[side] * contact.moment_arm / about_anchor * (contact.centre[1] - ay)
    spread = contacts["right"].centre[0] - contacts["left"].centre[0]
    spring = 1100.0 + 10.0 * (spread - prepared.brake.roller_spread)
    assert return_spring_torque(prepared, prepared.first) == pytest.approx(spring * rate, rel=1e-9)


@pytest.mark.parametrize("name", PROFILES)
def test_work_of_the_chamber_equals_work_at_the_arm_and_at_the_rollers(name):
    prepared = prepare(PROFILES[name])
    brake = prepared.brake
    strokes, weights = gauss_nodes(0.5, brake.free_stroke - 0.5, 16)

    def roller_work_rate(stroke: float) -> float:
        torque = chamber_torque(brake, stroke, 0.6)
        total = 0.0
        for side, shoe in state_at(prepared, stroke).shoes.items():
            force = 0.5 * torque / shoe.contact.moment_arm
            for axis in (0, 1):
                moved = derivative(
                    lambda s, k=side, i=axis: state_at(prepared, s).shoes[k].contact.centre[i], stroke, 0.2
                )
                total += force * shoe.contact.normal[axis] * moved
        return total

    chamber = sum(w * chamber_force(brake, s, 0.6) for s, w in zip(strokes.tolist(), weights.tolist(), strict=True))
    at_rollers = sum(w * roller_work_rate(s) for s, w in zip(strokes.tolist(), weights.tolist(), strict=True))
    assert at_rollers == pytest.approx(chamber, rel=1e-8)


def test_shigley_example_16_2():
    radius, width, friction, peak, hinge, reach = 150.0, 32.0, 0.32, 1.0, math.hypot(112.0, 50.0), 212.0
    leading = shoe_moments(radius, (0.0, -hinge), 0.0, -126.0 * DEG, friction, 1.0)  # left of a drum turning so
    trailing = shoe_moments(radius, (0.0, -hinge), 0.0, 126.0 * DEG, friction, 1.0)
    force = abs(leading.normal + leading.friction) * peak * width / reach
    trailing_peak = force * reach / (abs(trailing.normal + trailing.friction) * width)
    assert force / 1e3 == pytest.approx(2.28, abs=5e-3)
    assert leading.drag * peak * width * radius / 1e3 == pytest.approx(366.0, abs=0.5)
    assert trailing_peak * 1e3 == pytest.approx(443.0, abs=0.5)
    assert trailing.drag * trailing_peak * width * radius / 1e3 == pytest.approx(162.0, abs=0.5)


def test_a_bedded_lining_lies_on_a_cold_drum_all_along_when_it_touches():
    result = solve(DEFAULT)
    first = result.contact.shoes[result.first_side]
    assert [first.gap_anchor_end, first.gap_middle, first.gap_cam_end] == pytest.approx([0.0] * 3, abs=1e-12)
    assert result.touch_turn == pytest.approx(result.seat_turn, rel=1e-12)


def test_a_new_lining_in_a_new_drum_is_seated_in_the_reference_pose():
    new = replace(DEFAULT, lining_thickness=DEFAULT.lining_thickness_new, drum_diameter=DEFAULT.drum_diameter_new)
    assert solve(new).seat_turn == pytest.approx({"left": 0.0, "right": 0.0}, abs=1e-15)


def test_light_wear_goes_with_the_sine_of_the_angle_at_the_anchor():
    worn = 1e-3
    brake = replace(
        DEFAULT, drum_diameter=DEFAULT.drum_diameter_new, lining_thickness=DEFAULT.lining_thickness_new - worn
    )
    for side, surface in prepare(brake).surfaces.items():
        pin = np.array(anchor(brake, side))
        points = [
            on_circle(side, surface.centre, surface.radius, a) for a in np.linspace(surface.start, surface.end, 9)
        ]
        sines = [abs(np.cross([*pin, 0.0], [*p, 0.0])[2]) / np.hypot(*pin) / np.hypot(*p) for p in points]
        wear = [brake.drum_diameter_new / 2.0 - math.hypot(*p) for p in points]
        ratio = np.array(wear) / np.array(sines)
        assert ratio == pytest.approx(ratio[4], rel=1e-4)


def test_shoes_share_so_that_the_drag_is_the_same_and_the_moments_add_up():
    applied = solve(DEFAULT).applied
    drag = [applied.shoe_factor[side] * applied.roller_force[side] for side in SIDES]
    moments = [applied.roller_force[side] * applied.state.shoes[side].contact.moment_arm for side in SIDES]
    assert drag[0] == pytest.approx(drag[1], rel=1e-14)
    assert sum(moments) == pytest.approx(applied.useful_torque, rel=1e-14)
    assert applied.shoe_factor["left"] > applied.shoe_factor["right"]
    other_way = solve(replace(DEFAULT, drum_turns=-1.0)).applied.shoe_factor
    assert other_way["left"] < other_way["right"]


def test_too_little_air_balances_the_springs_before_contact_and_brakes_nothing():
    weak = applied_at(prepare(DEFAULT), 0.020)
    assert not weak.presses
    assert 0.0 < weak.state.stroke < DEFAULT.free_stroke
    assert weak.camshaft_torque == pytest.approx(weak.return_spring_torque, rel=1e-9)
    assert weak.brake_torque == 0.0


def test_a_setting_by_clearance_and_its_free_stroke_say_the_same():
    by_clearance = solve(replace(DEFAULT, free_stroke=None, lining_clearance=0.5))
    gaps = [shoe.gap_middle for shoe in by_clearance.released.shoes.values()]
    assert min(gaps) == pytest.approx(0.5, rel=1e-11)
    again = solve(replace(DEFAULT, free_stroke=by_clearance.free_stroke))
    assert again.cam_released == pytest.approx(by_clearance.cam_released, rel=1e-12)
    third = solve(replace(DEFAULT, free_stroke=None, released_cam_angle=again.cam_released))
    assert third.free_stroke == pytest.approx(again.free_stroke, rel=1e-12)


@pytest.mark.parametrize(
    ("change", "part"),
    [
        ({"pin_reach": 30.0}, "linkage"),
        ({"lining_thickness": 10.0, "tip_radius": 25.0}, "cam.tip"),
        ({"lining_thickness": 25.0}, "cam.heel"),
        ({"free_stroke": 70.0}, "adjuster"),
        ({"friction": 1.5}, "shoe"),
    ],
)
def test_what_cannot_be_is_refused(change, part):
    with pytest.raises(RefusedError) as caught:
        solve(replace(DEFAULT, **change))
    assert caught.value.part == part


def test_sections_of_a_setup_file_become_a_brake():
    brake = from_sections({"foundation": {"lining_thickness": 19.0}, "condition": {"lining_thickness": 12.0}})
    assert (brake.lining_thickness_new, brake.lining_thickness) == (19.0, 12.0)
    with pytest.raises(KeyError):
        from_sections({"cam": {"base_radios": 12.0}})


def test_random_brakes_come_again_with_the_seed_and_hold_together():
    first, again = list(random_brakes(7, 6)), list(random_brakes(7, 6))
    assert [brake for brake, _ in first] == [brake for brake, _ in again]
    for brake, result in first:
        side = result.contact.shoes[result.first_side]
        assert side.gap_least == pytest.approx(0.0, abs=1e-11)
        turn = arm_turn(brake, result.free_stroke)
        assert result.cam_first - result.cam_released == pytest.approx(turn, rel=1e-12)
        assert result.free_stroke <= result.applied.state.stroke < brake.rated_stroke
