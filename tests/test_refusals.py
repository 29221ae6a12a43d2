"""What must be refused and not clamped: each at its limit and just past it.

In an array a refused state is NaN with its reason and leaves its neighbours alone; a part that cannot be is a
`PartError` that says where, what was given, what would be possible and what to change.
"""

from collections.abc import Callable
from dataclasses import fields, replace
from math import inf, nan, nextafter
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.adjuster import Adjuster
from geometry.applied import solve_applied
from geometry.brake import Brake
from geometry.cam_train import ride_table
from geometry.chamber import ThrustTable
from geometry.condition import Condition, contact, heel_angle, tip_angle, turn_range
from geometry.drum import REFERENCE_TEMPERATURE, Drum
from geometry.errors import AssemblyError, PartError
from geometry.involute import InvoluteProfile
from geometry.kinematics import Poses, free_stroke, solve_poses
from geometry.linkage import arm_turn, closes, closing_reaches, closing_strokes
from geometry.loads import loads_at_pressure, push
from geometry.polar_cam import ConstantRiseProfile, TableProfile
from geometry.reasons import Reason
from geometry.units import parse
from tests.brakes import BRAKE, DRUM, IN, LINING, found, part

JUST = 1e-7
"""mm or rad: past the solver's own allowance for rounding, far below anything measured."""
RATED = BRAKE.chamber.rated_stroke
RELEASED = float(found().released_angle)


def numbers(result: Any) -> np.ndarray:
    """All columns of a result but its reasons, one row each."""
    rows = []
    for field in fields(result):
        value = getattr(result, field.name)
        if field.name in ("left", "right"):
            rows += list(numbers(value))
        elif field.name not in ("reason", "contact_turn"):  # where contact is does not depend on the pressure
            rows.append(value)
    return np.array(rows)


def refuses(result: Any, reasons: list[Reason]) -> None:
    """Each element exists with all its figures or has the expected reason and none of them."""
    assert [Reason(int(r)) for r in result.reason] == reasons
    there = np.array(reasons) == Reason.EXISTS
    assert np.all(np.isfinite(numbers(result)) == there)


def poses(stroke: Any, brake: Brake = BRAKE, **changed: Any) -> Poses:
    return solve_poses(brake, replace(found(brake), **changed), stroke)


# --- stroke and linkage


def test_a_stroke_beyond_the_rated_stroke() -> None:
    refuses(poses(np.array([RATED, RATED + JUST, 20.0])), [Reason.EXISTS, Reason.BEYOND_RATED_STROKE, Reason.EXISTS])


def test_a_stroke_behind_released() -> None:
    refuses(poses(np.array([0.0, -JUST, 20.0])), [Reason.EXISTS, Reason.BEHIND_RELEASED, Reason.EXISTS])


def test_a_linkage_that_opens_on_the_way() -> None:
    brake = part(BRAKE, "linkage", axis_offset=0.0, pin_reach=12 * IN)  # the pushrod is longer than its way to the pin
    opens = closing_strokes(brake.linkage)[1]
    assert 0.0 < opens < RATED
    strokes = np.array([0.0, opens - JUST, opens + JUST, opens - 1.0])
    refuses(poses(strokes, brake), [Reason.EXISTS, Reason.EXISTS, Reason.LINKAGE_OPEN, Reason.EXISTS])
    assert closes(brake.linkage, strokes).tolist() == [True, True, False, True]


@pytest.mark.parametrize(("limit", "inwards"), [(0, 1.0), (1, -1.0)])
def test_a_pushrod_that_cannot_meet_the_released_arm(limit: int, inwards: float) -> None:
    reach = closing_reaches(BRAKE.linkage)[limit]
    closed = part(BRAKE, "linkage", pin_reach=reach + inwards * JUST)
    refuses(solve_poses(closed, found(), np.array([0.0])), [Reason.EXISTS])
    opened = part(BRAKE, "linkage", pin_reach=reach - inwards * JUST)
    strokes = np.array([0.0, 20.0, RATED])  # the two meet further on, but there is no released arm to count from
    refuses(solve_poses(opened, found(), strokes), [Reason.LINKAGE_OPEN] * 3)
    refuses(solve_applied(opened, found(), np.array([0.0, 0.6])), [Reason.LINKAGE_OPEN] * 2)
    refuses(loads_at_pressure(opened, found(), np.array([0.0, 0.6])), [Reason.LINKAGE_OPEN] * 2)


def test_a_chamber_that_bottoms_before_contact() -> None:
    condition = found(free_stroke=np.array([RATED - JUST, RATED + 1e-3, 20.0]))
    refuses(solve_applied(BRAKE, condition, 0.6), [Reason.EXISTS, Reason.BOTTOMED, Reason.EXISTS])
    loads = loads_at_pressure(BRAKE, condition, 0.6)
    refuses(loads, [Reason.EXISTS, Reason.BOTTOMED, Reason.EXISTS])
    assert loads.brake_torque[0] == 0.0  # not enough thrust is left there to lift the return springs
    assert loads.brake_torque[2] > 0.0


# --- cam


def worn_out(stroke: float, past: float) -> Condition:
    """Linings too thin to touch; at the stroke the cam stands at its tip, or past it by an angle."""
    released = tip_angle(BRAKE) - float(arm_turn(BRAKE.linkage, stroke)) + past
    return Condition(1.0, DRUM, REFERENCE_TEMPERATURE, np.array([released - 0.1, released, released - 0.1]))


@pytest.mark.parametrize("stroke", [20.0, 40.0])
def test_a_cam_turned_past_its_tip(stroke: float) -> None:
    at_tip = solve_poses(BRAKE, worn_out(stroke, 0.0), stroke)
    refuses(at_tip, [Reason.EXISTS] * 3)
    assert at_tip.cam_angle[1] == pytest.approx(tip_angle(BRAKE), abs=1e-12)
    past = solve_poses(BRAKE, worn_out(stroke, JUST), stroke)
    refuses(past, [Reason.EXISTS, Reason.CAM_PAST_TIP, Reason.EXISTS])


def test_the_tip_is_where_the_first_of_the_two_rollers_would_leave_the_profile() -> None:
    ends = [ride_table(BRAKE.profile, BRAKE.shoe, side).tip_angle for side in ("left", "right")]
    assert abs(ends[0] - ends[1]) > 1e-3
    assert tip_angle(BRAKE) == min(ends)


def test_a_brake_applied_past_the_tip_of_its_cam() -> None:
    """Unless the chamber's stroke ends before the tip: then it has bottomed, however far away the drum is."""
    condition = worn_out(20.0, -0.3)
    turn = float(arm_turn(BRAKE.linkage, BRAKE.chamber.rated_stroke))
    before = [float(angle) + turn < tip_angle(BRAKE) for angle in np.broadcast_to(condition.released_angle, 3)]
    assert set(before) == {True, False}
    refuses(solve_applied(BRAKE, condition, 0.6), [Reason.BOTTOMED if one else Reason.CAM_PAST_TIP for one in before])
    assert np.all(np.isnan(loads_at_pressure(BRAKE, condition, 0.6).brake_torque))
    assert np.all(np.isnan(free_stroke(BRAKE, condition)))


def test_the_thinnest_lining_that_the_cam_can_still_bring_to_the_drum() -> None:
    def past(thickness: float) -> float:
        """How far (rad) the shoe must turn past where its roller stands on the tip."""
        turn = contact(BRAKE, np.array(thickness), np.array(DRUM), np.array(REFERENCE_TEMPERATURE)).turn
        return float(turn) - turn_range(BRAKE)[1]

    least = brentq(past, 0.5, LINING, xtol=1e-13)
    thickness = np.array([least + JUST, least - JUST])
    at = contact(BRAKE, thickness, np.array(DRUM), np.array(REFERENCE_TEMPERATURE))
    assert at.reason.tolist() == [Reason.EXISTS, Reason.CAM_PAST_TIP]
    condition = Condition(thickness, DRUM, REFERENCE_TEMPERATURE, tip_angle(BRAKE) - 0.2)
    assert solve_applied(BRAKE, condition, 0.6).reason[1] == Reason.CAM_PAST_TIP


def test_a_cam_below_its_heel() -> None:
    heel = heel_angle(BRAKE)
    refuses(
        poses(10.0, released_angle=np.array([heel, heel - JUST, RELEASED])),
        [Reason.EXISTS, Reason.CAM_BELOW_HEEL, Reason.EXISTS],
    )
    condition = Condition(LINING, DRUM, REFERENCE_TEMPERATURE, np.array([heel - JUST, RELEASED]))
    refuses(solve_applied(BRAKE, condition, 0.6), [Reason.CAM_BELOW_HEEL, Reason.EXISTS])


def test_a_cam_that_cannot_spread_the_shoes_at_all() -> None:
    brake = part(BRAKE, "shoe", roller_distance=20.0, roller_spread=400.0)
    with pytest.raises(AssemblyError, match=r"foundation\.roller_distance = 20\.0 mm: .*cannot spread the shoes; use "):
        solve_poses(brake, found(), 0.0)


# --- lining and drum


def test_a_lining_thicker_than_its_room() -> None:
    def room(thickness: float) -> float:
        turn = contact(BRAKE, np.array(thickness), np.array(DRUM), np.array(REFERENCE_TEMPERATURE)).turn
        return float(turn) - turn_range(BRAKE)[0]

    most = brentq(room, LINING, 1.5 * IN, xtol=1e-13)
    thickness = np.array([most - JUST, most + JUST, LINING])
    expected = [Reason.EXISTS, Reason.LINING_TOO_THICK, Reason.EXISTS]
    at = contact(BRAKE, thickness, np.array(DRUM), np.array(REFERENCE_TEMPERATURE))
    assert at.reason.tolist() == expected
    # the two shoes do not meet the same cam angle: with the cam on one heel the other lining presses already
    tight = [Reason.ADJUSTED_TOO_TIGHT, *expected[1:]]
    refuses(poses(0.0, lining_thickness=thickness, released_angle=heel_angle(BRAKE)), tight)
    applied = solve_applied(BRAKE, Condition(thickness, DRUM, REFERENCE_TEMPERATURE, RELEASED), 0.6)
    assert applied.reason[1:].tolist() == expected[1:]


def test_a_brake_whose_linings_press_on_the_drum_when_released() -> None:
    at = contact(BRAKE, np.array(LINING), np.array(DRUM), np.array(REFERENCE_TEMPERATURE))
    released = np.array([float(at.first), float(at.seat) + JUST, RELEASED])
    assert np.all(np.isnan(poses(0.0, released_angle=released).stroke) == [False, True, False])


def test_the_applied_state_of_a_brake_whose_linings_press_on_the_drum_when_released() -> None:
    first = float(contact(BRAKE, np.array(LINING), np.array(DRUM), np.array(REFERENCE_TEMPERATURE)).first)
    condition = Condition(LINING, DRUM, REFERENCE_TEMPERATURE, np.array([first, first + JUST, RELEASED]))
    refuses(solve_applied(BRAKE, condition, 0.6), [Reason.EXISTS, Reason.ADJUSTED_TOO_TIGHT, Reason.EXISTS])


def test_a_temperature_below_absolute_zero() -> None:
    condition = replace(found(temperature=0.0), drum_temperature=np.array([0.0, nextafter(0.0, -1.0), 0.0]))
    expected = [Reason.EXISTS, Reason.BELOW_ABSOLUTE_ZERO, Reason.EXISTS]
    refuses(solve_poses(BRAKE, condition, 10.0), expected)
    refuses(solve_applied(BRAKE, condition, 0.6), expected)
    refuses(loads_at_pressure(BRAKE, condition, 0.6), expected)


@pytest.mark.parametrize("name", ["lining_thickness", "drum_diameter"])
@pytest.mark.parametrize("figure", [0.0, -1.0])
def test_a_length_that_is_not_above_zero(name: str, figure: float) -> None:
    right = {"lining_thickness": LINING, "drum_diameter": DRUM}[name]
    condition = replace(found(), **{name: np.array([right, figure, right])})
    expected = [Reason.EXISTS, Reason.NOT_POSITIVE, Reason.EXISTS]
    refuses(solve_poses(BRAKE, condition, 10.0), expected)
    refuses(solve_applied(BRAKE, condition, 0.6), expected)
    refuses(loads_at_pressure(BRAKE, condition, 0.6), expected)


def test_a_pressure_below_zero() -> None:
    pressures = np.array([0.0, nextafter(0.0, -1.0), 0.6])
    refuses(solve_applied(BRAKE, found(), pressures), [Reason.EXISTS, Reason.NOT_POSITIVE, Reason.EXISTS])
    refuses(loads_at_pressure(BRAKE, found(), pressures), [Reason.EXISTS, Reason.NOT_POSITIVE, Reason.EXISTS])


def test_a_shoe_that_locks_on_the_drum() -> None:
    condition = found()
    at = contact(BRAKE, *condition.arrays[:3])
    shape = push(BRAKE, at, "left", at.seat).long_shoe
    locks = float(shape.normal / shape.rubbing)
    for friction, expected in ((locks * (1 - 1e-6), Reason.EXISTS), (locks * (1 + 1e-6), Reason.SHOE_LOCKS)):
        brake = part(BRAKE, "lining", friction=friction)
        refuses(loads_at_pressure(brake, condition, np.array([0.6, 0.8])), [expected] * 2)


def test_where_several_apply_the_first_in_the_chain_of_motion_is_told() -> None:
    condition = Condition([nan, 100.0, 100.0, 100.0], DRUM, [-1.0, -1.0, 300.0, 300.0], -9.0)
    told = solve_poses(BRAKE, condition, [99.0, 99.0, 99.0, 10.0]).reason
    expected = ["INPUT_MISSING", "BELOW_ABSOLUTE_ZERO", "BEYOND_RATED_STROKE", "LINING_TOO_THICK"]
    assert [Reason(int(r)).name for r in told] == expected


def test_every_reason_has_words_of_its_own() -> None:
    assert len({reason.words for reason in Reason}) == len(Reason)


# --- parts

POSITIVE = {
    "chamber": ["rated_stroke", "effective_area"],
    "linkage": ["arm_length", "face_distance", "pin_reach"],
    "cam": ["base_radius", "heel_radius", "tip_radius"],
    "foundation": [
        *("cam_distance", "anchor_distance", "roller_diameter", "roller_spread", "roller_distance"),
        *("lining_thickness", "lining_width", "lining_arc_radius", "drum_diameter", "windup_stiffness", "efficiency"),
    ],
    "adjuster": ["worm_turns"],
}
NOT_NEGATIVE = {
    "chamber": ["return_spring_preload", "return_spring_rate"],
    "linkage": ["axis_offset", "pivot_depth"],
    "foundation": ["anchor_spacing", "return_spring_force", "return_spring_rate", "drum_expansion"],
}
WHERE_IN_PART = {
    "drum_diameter": ("drum", "diameter"),
    "drum_expansion": ("drum", "expansion"),
    "lining_thickness": ("lining", "thickness"),
    "lining_width": ("lining", "width"),
    "lining_arc_radius": ("lining", "arc_radius"),
}


def with_figure(section: str, name: str, figure: float) -> Brake:
    if name in ("windup_stiffness", "efficiency"):
        return replace(BRAKE, **{name: figure})
    attribute = {"cam": "profile", "foundation": "shoe"}.get(section, section)
    attribute, name = WHERE_IN_PART.get(name, (attribute, name))
    return part(BRAKE, attribute, **{name: figure})


def listed(table: dict[str, list[str]]) -> list[tuple[str, str]]:
    return [(section, name) for section, names in table.items() for name in names]


def refusal(make: Callable[[], Any]) -> PartError:
    with pytest.raises(PartError) as caught:
        make()
    return caught.value


def says(error: PartError, where: str, given: float, problem: str, fix: str) -> str:
    """The fault of that parameter carries what was given, and its text says the rest."""
    fault = next(f for f in error.faults if f.where == where and problem in f.problem)
    assert fault.given is given or fault.given == given
    assert fix in fault.fix
    assert str(error).count(fault.text()) == 1
    assert fault.text().startswith(f"{where} = ")
    return fault.text()


@pytest.mark.parametrize("figure", [0.0, -1.0, nan, inf, -inf])
@pytest.mark.parametrize(("section", "name"), listed(POSITIVE))
def test_a_part_whose_size_is_not_above_zero(section: str, name: str, figure: float) -> None:
    error = refusal(lambda: with_figure(section, name, figure))
    says(error, f"{section}.{name}", figure, "must be more than zero", "positive figure")


@pytest.mark.parametrize("figure", [nextafter(0.0, -1.0), -1.0, nan, inf])
@pytest.mark.parametrize(("section", "name"), listed(NOT_NEGATIVE))
def test_a_part_with_a_figure_below_zero(section: str, name: str, figure: float) -> None:
    error = refusal(lambda: with_figure(section, name, figure))
    says(error, f"{section}.{name}", figure, "must not be negative", "zero or a positive figure")
    with_figure(section, name, 0.0)


def test_every_figure_of_every_part_is_refused_when_it_is_not_a_number() -> None:
    for name in ("chamber", "linkage", "profile", "shoe", "lining", "drum", "adjuster"):
        of = getattr(BRAKE, name)
        figures = [f.name for f in fields(of) if isinstance(getattr(of, f.name), float)]
        assert figures
        for figure in figures:
            refusal(lambda name=name, figure=figure: part(BRAKE, name, **{figure: nan}))


def test_a_negative_diameter_is_told_with_its_unit() -> None:
    text = str(refusal(lambda: Drum(-16.5 * IN)))
    told = "foundation.drum_diameter = -419.1 mm: must be more than zero; write the size as a positive figure"
    assert text == told
    fault = refusal(lambda: Drum(-16.5 * IN)).faults[0]
    assert fault.text("inch").startswith("foundation.drum_diameter = -16.500 in: ")


def test_all_that_is_wrong_with_a_part_is_told_at_once() -> None:
    error = refusal(lambda: part(BRAKE, "linkage", arm_length=-1.0, pin_reach=nan, axis_offset=-2.0))
    assert [f.where for f in error.faults] == ["linkage.arm_length", "linkage.pin_reach", "linkage.axis_offset"]
    assert len(str(error).splitlines()) == 3


ORDERED: list[tuple[Callable[[float], Any], str, float, str, str]] = [
    (lambda v: part(BRAKE, "lining", start=v), "foundation.lining_start", BRAKE.lining.end, "lining_end", "145.0 deg"),
    (lambda v: Drum(v, limit=420.0), "foundation.drum_diameter", 420.0, "drum_limit", "420.0 mm"),
    (lambda v: InvoluteProfile(12.7, v, 40.0), "cam.heel_radius", 40.0, "tip_radius", "40.0 mm"),
    (lambda v: ConstantRiseProfile(12.7, v, 40.0), "cam.heel_radius", 40.0, "tip_radius", "40.0 mm"),
    (
        lambda v: part(BRAKE, "lining", thickness=v),
        "foundation.lining_thickness",
        BRAKE.new_radius,
        "half the drum_diameter",
        "209.5 mm",
    ),
]


@pytest.mark.parametrize(("make", "where", "limit", "other", "possible"), ORDERED)
def test_figures_that_must_stand_in_order(make, where, limit, other, possible) -> None:
    make(nextafter(limit, 0.0))
    for figure in (limit, 1.01 * limit):
        text = says(refusal(lambda figure=figure: make(figure)), where, figure, f"must be less than {other}", "larger")
        assert f"which is {possible}; write a smaller" in text


def test_a_cam_may_start_on_its_base_circle_and_not_inside_it() -> None:
    InvoluteProfile(12.7, 12.7, 40.0)
    error = refusal(lambda: InvoluteProfile(nextafter(12.7, 13.0), 12.7, 40.0))
    assert "which is 12.7 mm; write a smaller base_radius or a larger heel_radius" in str(error)


RANGES: list[tuple[Callable[[float], Any], str, list[float], list[float], str]] = [
    (lambda v: replace(BRAKE, efficiency=v), "efficiency", [1e-9, 1.0], [nextafter(1.0, 2.0), nan], "at most 1.00"),
    (
        lambda v: part(BRAKE, "lining", friction=v),
        "friction",
        [0.0, 1.5],
        [nextafter(0.0, -1.0), nextafter(1.5, 2.0), nan],
        "0.00 to 1.50",
    ),
    (
        lambda v: part(BRAKE, "lining", start=v),
        "lining_start",
        [0.0],
        [nextafter(0.0, -1.0), nan, inf],
        "0.0 deg to 180.0 deg",
    ),
    (
        lambda v: part(BRAKE, "lining", end=v),
        "lining_end",
        [np.pi],
        [nextafter(np.pi, 4.0), nan, inf],
        "0.0 deg to 180.0 deg",
    ),
]


@pytest.mark.parametrize(("make", "name", "inside", "outside", "possible"), RANGES, ids=[r[1] for r in RANGES])
def test_figures_that_must_stay_in_a_range(make, name, inside, outside, possible) -> None:
    for figure in inside:
        make(figure)
    for figure in outside:
        error = refusal(lambda figure=figure: make(figure))
        text = says(error, f"foundation.{name}", figure, "this part can have", "check the figure")
        assert f"use {possible}, or " in text


TABLES: list[tuple[Callable[[], Any], str]] = [
    (lambda: ThrustTable((0.0, 1.0), (1.0,)), "one force for each stroke"),
    (lambda: ThrustTable((0.0,), (0.0,)), "at least two rows"),
    (lambda: ThrustTable((0.1, 1.0), (1.0, 0.0)), "from a stroke of 0"),
    (lambda: ThrustTable((0.0, 0.9), (1.0, 0.0)), "to the rated stroke"),
    (lambda: ThrustTable((0.0, 0.5, 0.5, 1.0), (1.0, 0.9, 0.8, 0.0)), "must rise"),
    (lambda: ThrustTable((0.0, nan, 1.0), (1.0, 0.9, 0.0)), "must rise"),
    (lambda: ThrustTable((0.0, 1.0), (1.0, 0.1)), "none left at the rated stroke"),
    (lambda: ThrustTable((0.0, 0.5, 1.0), (1.0, -0.1, 0.0)), "zero or more"),
    (lambda: ThrustTable((0.0, 0.5, 1.0), (1.0, nan, 0.0)), "zero or more"),
    (lambda: TableProfile((0.0, 1.0), (15.0, 20.0)), "at least three rows"),
    (lambda: TableProfile((0.0, 1.0, 2.0), (15.0, 20.0)), "one radius for each angle"),
    (lambda: TableProfile((0.0, 1.0, 2.0), (-15.0, 20.0, 25.0)), "above zero"),
    (lambda: TableProfile((0.0, 1.0, 2.0), (15.0, inf, 25.0)), "not a number"),
    (lambda: TableProfile((0.0, 1.0, 1.0), (15.0, 20.0, 25.0)), "rise from row to row"),
    (lambda: TableProfile((0.0, 1.0, 2.0), (15.0, 25.0, 20.0)), "rise from row to row"),
    (lambda: TableProfile((0.0, 1.0, 2.0, 3.0), (15.0, 15.01, 30.0, 30.01)), "dipping"),
]


@pytest.mark.parametrize(("make", "problem"), TABLES, ids=[t[1] for t in TABLES])
def test_tables_that_cannot_be(make: Callable[[], Any], problem: str) -> None:
    fault = refusal(make).faults[0]
    assert fault.where in ("chamber.thrust", "cam.table")
    assert problem in fault.problem
    assert fault.fix.startswith("write ")


def test_an_adjuster_whose_worm_does_not_turn() -> None:
    says(refusal(lambda: Adjuster("manual", worm_turns=0.0)), "adjuster.worm_turns", 0.0, "more than zero", "positive")


# --- text


@pytest.mark.parametrize("typed", ["1.75", 1.75, 2, "1 3/4"])
def test_a_length_without_a_unit(typed: object) -> None:
    error = refusal(lambda: parse(typed, "length", "measured.stroke"))
    assert str(error).startswith(f"measured.stroke = {typed}: has no unit, and a length needs one; write ")
    assert f'"{typed} in" or "{typed} mm"' in str(error)
    assert parse(f"{typed} in", "length", "measured.stroke") > 0.0


def test_a_unit_of_another_kind() -> None:
    error = refusal(lambda: parse("95 psi", "length", "measured.stroke"))
    assert 'measured.stroke = 95 psi: "psi" is a pressure, and a length belongs here; write "95 in"' in str(error)


@pytest.mark.parametrize(("coldest", "colder"), [("-459.67 degF", "-459.68 degF"), ("-273.15 degC", "-273.16 degC")])
def test_a_temperature_typed_below_absolute_zero(coldest: str, colder: str) -> None:
    assert parse(coldest, "temperature", "condition.drum_temperature") == 0.0
    error = refusal(lambda: parse(colder, "temperature", "condition.drum_temperature"))
    assert f"condition.drum_temperature = {colder}: is below absolute zero; use at least -273 degC, or " in str(error)
