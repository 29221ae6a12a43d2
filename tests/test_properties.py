"""What must hold for every brake of this kind, on brakes that hypothesis draws about the built-in one.

Nothing here knows a figure. There is no test that turns the whole brake: its frame is defined by its own drum centre
and camshaft, so no figure would change. Mirroring is the drum's direction; a mirrored cam would be another part.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from geometry.applied import last_turn, solve_applied, spring_torque
from geometry.brake import SIDES, Brake
from geometry.chamber import chamber_force
from geometry.condition import Condition, angle_for_clearance, angle_for_free_stroke, contact
from geometry.kinematics import free_stroke, solve_poses
from geometry.lining import gap_at
from geometry.linkage import arm_turn, turn_state
from geometry.loads import loads_at_pressure, push
from geometry.polar_cam import ConstantRiseProfile
from geometry.reasons import Reason
from geometry.shoe_factor import shoe_factor
from geometry.units import parse
from tests.brakes import BRAKE, DRUM, IN, LINING, found, part

FEW = settings(max_examples=25, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
MIDDLE, WEIGHTS = np.polynomial.legendre.leggauss(24)
PARTS = ("linkage", "profile", "shoe", "lining", "drum", "chamber")

# how each figure grows when every length grows by k at the same pressure: its power of k, 0 for all the others
POWERS = {
    "chamber": {"rated_stroke": 1, "effective_area": 2, "return_spring_preload": 2, "return_spring_rate": 1},
    "linkage": dict.fromkeys(("arm_length", "axis_offset", "face_distance", "pivot_depth", "pin_reach"), 1),
    "profile": dict.fromkeys(("base_radius", "heel_radius", "tip_radius", "rise"), 1),
    "shoe": {
        **dict.fromkeys(("cam_distance", "anchor_distance", "anchor_spacing"), 1),
        **dict.fromkeys(("roller_diameter", "roller_spread", "roller_distance"), 1),
        "return_spring_force": 2,
        "return_spring_rate": 1,
    },
    "lining": {"thickness": 1, "width": 1, "arc_radius": 1},
    "drum": {"diameter": 1},
}


@dataclass(frozen=True)
class Case:
    """A brake and how it was found; lengths mm, temperature K."""

    brake: Brake
    thickness: float
    diameter: float
    temperature: float
    free: float

    @property
    def condition(self) -> Condition:
        return found(self.brake, self.free, self.thickness, self.diameter, self.temperature)

    def turns(self, share: float = 1.0) -> np.ndarray:
        """Arm turns from released to contact (or a share of the way) at the nodes of a quadrature."""
        end = float(arm_turn(self.brake.linkage, self.free)) * share
        return 0.5 * end * (1 + MIDDLE)


def integral(values: np.ndarray, length: float) -> float:
    """Of values at the quadrature's nodes over an interval of a length."""
    return float(0.5 * length * np.sum(WEIGHTS * values))


def near(figure: float, spread: float = 0.05) -> st.SearchStrategy[float]:
    return st.floats(figure * (1 - spread), figure * (1 + spread))


@st.composite
def cases(draw: Callable[..., Any]) -> Case:
    spread = {
        "linkage": ("arm_length", "axis_offset", "face_distance", "pivot_depth", "pin_reach"),
        "shoe": ("cam_distance", "anchor_distance", "roller_diameter", "roller_spread", "return_spring_force"),
        "chamber": ("effective_area", "return_spring_preload"),
    }
    brake = BRAKE
    for name, figures in spread.items():
        of = getattr(BRAKE, name)
        brake = part(brake, name, **{f: draw(near(getattr(of, f))) for f in figures})
    height = brake.shoe.cam_distance + draw(st.floats(-4.0, 4.0))
    brake = part(brake, "shoe", roller_distance=height, anchor_spacing=draw(st.sampled_from([0.0, 40.0, 2.5 * IN])))
    brake = part(brake, "lining", friction=draw(st.floats(0.2, 0.4)), arc_radius=draw(arc_radii()))
    brake = replace(brake, profile=draw(profiles()), windup_stiffness=draw(near(BRAKE.windup_stiffness, 0.2)))
    brake = replace(brake, drum_rotation=draw(st.sampled_from(["clockwise", "counter-clockwise"])))
    worn = draw(st.floats(0.4, 1.0)) * brake.lining.thickness, brake.drum.diameter + draw(st.floats(0.0, 3.0))
    case = Case(brake, *worn, draw(st.floats(250.0, 600.0)), draw(st.floats(6.0, 25.0)))
    assume(np.isfinite(loads_at_pressure(brake, case.condition, 0.6).brake_torque))
    return case


def arc_radii() -> st.SearchStrategy[float | None]:
    return st.none() | near(BRAKE.new_radius, 0.01)


def profiles() -> st.SearchStrategy[Any]:
    involute = near(12.7).map(lambda base: replace(BRAKE.profile, base_radius=base))
    return involute | near(12.7).map(lambda rise: ConstantRiseProfile(rise, 0.60 * IN, 1.85 * IN))


def scaled(brake: Brake, k: float) -> Brake:
    for name, powers in POWERS.items():
        of = getattr(brake, name)
        known = {f.name: getattr(of, f.name) for f in fields(of) if getattr(of, f.name) is not None}
        brake = part(brake, name, **{f: known[f] * k**p for f, p in powers.items() if f in known})
    return replace(brake, windup_stiffness=brake.windup_stiffness * k**3)


def columns(result: Any, prefix: str = "") -> dict[str, np.ndarray]:
    """Every array of a result by its dotted name."""
    found: dict[str, np.ndarray] = {}
    for field in fields(result):
        value = getattr(result, field.name)
        name = prefix + field.name
        found |= columns(value, name + ".") if is_dataclass(value) else {name: value}
    return found


def same(one: Any, other: Any, powers: Callable[[str], int], k: float) -> None:
    """Hold every column of a result against the other, which was solved at ``k`` times the size."""
    for name, value in columns(one).items():
        scale = k ** powers(name)
        np.testing.assert_allclose(columns(other)[name], value * scale, rtol=1e-9, atol=1e-10 * scale, err_msg=name)


def pose_power(name: str) -> int:
    return 1 if any(w in name for w in ("stroke", "gap", "roller", "lever", "clevis")) else 0


def load_power(name: str) -> int:
    return 3 if "torque" in name else 2 if "force" in name or "roller" in name else 0


# --- the same brake, otherwise


@FEW
@given(cases(), st.floats(0.2, 5.0))
def test_a_brake_of_another_size_has_the_same_angles(case: Case, k: float) -> None:
    size = scaled(case.brake, k)
    larger = Case(size, case.thickness * k, case.diameter * k, case.temperature, case.free * k)
    strokes = np.linspace(0.0, 1.5 * case.free, 7)
    poses = solve_poses(case.brake, case.condition, strokes)
    assert np.all(poses.reason == Reason.EXISTS)
    same(poses, solve_poses(size, larger.condition, strokes * k), pose_power, k)
    pressures = np.array([0.02, 0.3, 0.6])
    loads = loads_at_pressure(case.brake, case.condition, pressures)
    same(loads, loads_at_pressure(size, larger.condition, pressures), load_power, k)


@FEW
@given(cases())
def test_turning_the_drum_the_other_way_swaps_which_shoe_leads_and_moves_nothing(case: Case) -> None:
    clockwise = replace(case.brake, drum_rotation="clockwise")
    counter = replace(case.brake, drum_rotation="counter-clockwise")
    one, other = (loads_at_pressure(b, case.condition, 0.6) for b in (clockwise, counter))
    assert one.factor_right > one.factor_left
    assert other.factor_left > other.factor_right
    assert one.camshaft_torque == other.camshaft_torque
    at = contact(case.brake, *case.condition.arrays[:3])
    pushed = push(clockwise, at, "left", at.seat)
    friction = case.brake.lining.friction
    leading, trailing = (float(shoe_factor(pushed.long_shoe, friction, pushed.lever, way)) for way in (True, False))
    assert float(push(counter, at, "left", at.seat).factor) == leading
    assert float(pushed.factor) == trailing


@FEW
@given(cases())
def test_seated_as_new_the_shoes_are_mirror_images_and_their_factors_swap(case: Case) -> None:
    level = {"roller_distance": case.brake.shoe.cam_distance, "roller_spread": 2.8 * IN, "roller_diameter": 1.6 * IN}
    brake = part(case.brake, "shoe", **level)
    brake = part(brake, "lining", arc_radius=None)
    new = (np.array(brake.lining.thickness), np.array(brake.drum.diameter), np.array(found().drum_temperature))
    at = contact(brake, *new)
    assert float(at.turn) == pytest.approx(0.0, abs=1e-12)
    assert float(at.left) == pytest.approx(float(at.right), abs=1e-12)
    ways = [replace(brake, drum_rotation=way) for way in ("clockwise", "counter-clockwise")]
    pushes = {(b.leading_side, side): push(b, at, side, at.seat) for b in ways for side in SIDES}
    shares = {key: float(p.factor / p.lever) for key, p in pushes.items()}  # the cam leans out of one shoe, into one
    assert shares["left", "left"] == pytest.approx(shares["right", "right"], rel=1e-12)
    assert shares["left", "right"] == pytest.approx(shares["right", "left"], rel=1e-12)


@FEW
@given(st.dictionaries(st.sampled_from(["arm_length", "axis_offset", "pin_reach"]), st.integers(-4, 4)), st.booleans())
def test_a_brake_typed_in_millimetres_and_in_inches_is_the_same_brake(sixteenths: dict, decimal: bool) -> None:
    inches = {"arm_length": 88, "axis_offset": 86, "face_distance": 120, "pivot_depth": 16, "pin_reach": 96}
    typed = {name: figure + sixteenths.get(name, 0) for name, figure in inches.items()}
    in_inches = {n: f"{f / 16} in" if decimal else f"{f // 16} {f % 16}/16 in" for n, f in typed.items()}
    in_metric = {n: f"{f * 15875}e-4 mm" for n, f in typed.items()}
    brakes = [
        part(BRAKE, "linkage", **{n: parse(t, "length", f"linkage.{n}") for n, t in texts.items()})
        for texts in (in_inches, in_metric)
    ]
    strokes = np.linspace(0.0, 2.0 * IN, 9)
    inch, metric = (solve_poses(b, found(b), strokes) for b in brakes)
    assert np.all(inch.reason == Reason.EXISTS)
    for name, value in columns(inch).items():
        np.testing.assert_array_equal(value, columns(metric)[name], name)


# --- small steps, work


@FEW
@given(cases())
def test_small_steps_of_the_pushrod_add_up_to_the_stroke(case: Case) -> None:
    end = last_turn(case.brake)
    lever = turn_state(case.brake.linkage, 0.5 * end * (1 + MIDDLE))[1]
    assert integral(lever, end) == pytest.approx(case.brake.chamber.rated_stroke, rel=1e-10)
    poses = solve_poses(case.brake, case.condition, turn_state(case.brake.linkage, case.turns())[0])
    assert integral(poses.lever, float(arm_turn(case.brake.linkage, case.free))) == pytest.approx(case.free, rel=1e-10)


@FEW
@given(cases(), st.sampled_from(SIDES))
def test_small_steps_of_the_cam_add_up_to_the_shoe_turn(case: Case, side: str) -> None:
    at = contact(case.brake, *case.condition.arrays[:3])
    pushed = push(case.brake, at, side, case.condition.released_angle + case.turns())
    ends = getattr(solve_poses(case.brake, case.condition, [0.0, case.free]), side).turn
    turned = integral(pushed.moment_arm / pushed.lever, float(arm_turn(case.brake.linkage, case.free)))
    assert turned == pytest.approx(float(ends[1] - ends[0]), rel=1e-9)


@FEW
@given(cases(), st.floats(0.2, 0.8))
def test_without_friction_the_chambers_work_reaches_the_camshaft(case: Case, pressure: float) -> None:
    strokes = 0.5 * case.free * (1 + MIDDLE)
    pushed = integral(chamber_force(case.brake.chamber, strokes, pressure), case.free)
    stroke, lever, _ = turn_state(case.brake.linkage, case.turns())
    torque = chamber_force(case.brake.chamber, stroke, pressure) * lever
    assert integral(torque, float(arm_turn(case.brake.linkage, case.free))) == pytest.approx(pushed, rel=1e-9)


@FEW
@given(cases())
def test_during_free_motion_the_camshafts_work_is_the_return_springs_energy(case: Case) -> None:
    shoe = case.brake.shoe
    ends = solve_poses(case.brake, case.condition, [0.0, case.free])
    first, last = ends.left.roller_x + ends.right.roller_x - shoe.roller_spread
    energy = shoe.return_spring_force * (last - first) + 0.5 * shoe.return_spring_rate * (last**2 - first**2)
    torque = spring_torque(case.brake, case.condition.released_angle + case.turns())
    assert integral(torque, float(arm_turn(case.brake.linkage, case.free))) == pytest.approx(float(energy), rel=1e-9)


@FEW
@given(cases())
def test_without_friction_and_springs_the_rollers_take_all_of_the_chambers_torque(case: Case) -> None:
    brake = part(case.brake, "chamber", return_spring_preload=0.0, return_spring_rate=0.0)
    brake = part(brake, "shoe", return_spring_force=0.0, return_spring_rate=0.0)
    brake = replace(brake, efficiency=1.0)
    condition = replace(case, brake=brake).condition
    state, loads = solve_applied(brake, condition, 0.6), loads_at_pressure(brake, condition, 0.6)
    at = contact(brake, *condition.arrays[:3])
    head = np.minimum(condition.released_angle + state.turn, at.seat)
    arms = [push(brake, at, side, head).moment_arm for side in SIDES]
    taken = loads.roller_left * arms[0] + loads.roller_right * arms[1]
    lever = turn_state(brake.linkage, state.turn)[1]
    assert float(taken) == pytest.approx(float(chamber_force(brake.chamber, state.stroke, 0.6) * lever), rel=1e-9)


# --- linings and drum


@FEW
@given(cases())
def test_gaps_close_all_the_way_to_contact_and_the_first_lining_touches_there(case: Case) -> None:
    poses = solve_poses(case.brake, case.condition, np.linspace(0.0, case.free, 40))
    for side in SIDES:
        shoe = getattr(poses, side)
        for gap in (shoe.gap_anchor_end, shoe.gap_middle, shoe.gap_cam_end, shoe.gap_least):
            assert np.all(np.diff(gap) < 0.0)
        assert np.all(shoe.gap_least[:-1] > 0.0)
    assert min(poses.left.gap_least[-1], poses.right.gap_least[-1]) == pytest.approx(0.0, abs=1e-9)
    assert max(poses.left.gap_least[-1], poses.right.gap_least[-1]) > -1e-9


@FEW
@given(cases())
def test_no_point_of_a_lining_is_outside_the_drum_and_the_least_gap_is_the_least(case: Case) -> None:
    at = contact(case.brake, *case.condition.arrays[:3])
    poses = solve_poses(case.brake, case.condition, np.linspace(0.0, case.free, 5))
    lining = case.brake.lining
    for side in SIDES:
        shoe = getattr(poses, side)
        pose = (np.cos(shoe.turn), np.sin(shoe.turn))
        along = [gap_at(case.brake.shoe, at.surface, at.radius, *pose, psi)
                 for psi in np.linspace(lining.start, lining.end, 301)]  # fmt: skip
        assert np.min(along) > -1e-9
        np.testing.assert_array_less(shoe.gap_least, np.min(along, axis=0) + 1e-9)
        np.testing.assert_allclose(shoe.gap_least, np.min(along, axis=0), atol=2e-4)  # the bulge between two points


@FEW
@given(cases(), st.floats(0.2, 0.8))
def test_heat_and_wear_never_shorten_the_stroke(case: Case, pressure: float) -> None:
    released = case.condition.released_angle
    thinner = Condition(case.thickness * np.linspace(1.0, 0.9, 9), case.diameter, case.temperature, released)
    larger = Condition(case.thickness, case.diameter + np.linspace(0.0, 2.0, 9), case.temperature, released)
    hotter = Condition(case.thickness, case.diameter, case.temperature + np.linspace(0.0, 200.0, 9), released)
    for condition in (thinner, larger, hotter):
        free = free_stroke(case.brake, condition)
        applied = solve_applied(case.brake, condition, pressure).stroke
        for strokes in (free, applied):
            there = strokes[np.isfinite(strokes)]
            assert there.size > 1
            assert np.all(np.diff(there) > 0.0)


@FEW
@given(cases(), st.lists(st.floats(0.0, 1.2), min_size=2, max_size=12, unique=True))
def test_more_pressure_never_shortens_the_applied_stroke(case: Case, pressures: list[float]) -> None:
    state = solve_applied(case.brake, case.condition, np.sort(pressures))
    there = state.reason == Reason.EXISTS
    assert np.all(np.diff(state.stroke[there]) >= 0.0)
    assert np.all(state.stroke[there] < case.brake.chamber.rated_stroke)
    assert np.all(np.diff(there.astype(int)) <= 0), "a state beyond one that cannot exist"


@FEW
@given(cases(), st.floats(0.3, 1.2))
def test_an_adjustment_stated_as_clearance_or_as_free_stroke_is_found_again(case: Case, clearance: float) -> None:
    at = contact(case.brake, *case.condition.arrays[:3])
    free = float(free_stroke(case.brake, case.condition))
    assert free == pytest.approx(case.free, rel=1e-11)
    assert float(angle_for_free_stroke(case.brake, at, free)) == pytest.approx(float(case.condition.released_angle))
    released = angle_for_clearance(case.brake, at, clearance)
    assume(released <= at.first)  # a machined arc may touch at its ends before its middle comes so close
    poses = solve_poses(case.brake, replace(case.condition, released_angle=released), 0.0)
    assume(poses.reason == Reason.EXISTS)
    assert min(poses.left.gap_middle, poses.right.gap_middle) == pytest.approx(clearance, abs=1e-9)


# --- arrays in, arrays out

Solve = Callable[[Condition, Any], Any]
SOLVES: dict[str, tuple[Solve, float]] = {
    "poses": (lambda c, s: solve_poses(BRAKE, c, s), 20.0),
    "applied": (lambda c, p: solve_applied(BRAKE, c, p), 0.6),
    "loads": (lambda c, p: loads_at_pressure(BRAKE, c, p), 0.6),
}
RELEASED = float(found().released_angle)
INPUTS = (LINING, DRUM, 300.0, RELEASED)


@pytest.mark.parametrize("name", SOLVES)
@pytest.mark.parametrize(
    "shapes",
    [((), (), (), (), ()), ((3, 1), (), (4,), (), (1, 4)), ((2, 1, 1), (3, 1), (), (1,), (5,)), ((0,), (), (), (), ()),
     ((), (), (), (3, 1), (1, 0)), ((1,), (1, 1), (), (), ()), ((20_000,), (), (), (), ())],
    ids=str,
)  # fmt: skip
def test_shapes_broadcast(name: str, shapes: tuple) -> None:
    solve, last = SOLVES[name]
    inputs = [np.full(shape, figure) for shape, figure in zip(shapes, (*INPUTS, last), strict=True)]
    result = columns(solve(Condition(*inputs[:4]), inputs[4]))
    single = columns(solve(Condition(*INPUTS), last))
    for column, values in result.items():
        assert values.shape == np.broadcast_shapes(*shapes), column
        np.testing.assert_allclose(values, single[column], rtol=1e-12, atol=1e-12, err_msg=column)


@pytest.mark.parametrize("name", SOLVES)
def test_order_in_memory_whole_numbers_and_lists_change_nothing(name: str) -> None:
    solve, _ = SOLVES[name]
    last = [[1, 2, 3], [20, 30, 40]] if name == "poses" else [[0, 1, 0], [1, 0, 1]]
    whole = Condition(16, 420, 300, 0.3)
    expected = columns(solve(Condition(16.0, 420.0, 300.0, 0.3), np.array(last, float)))
    assert np.all(expected["reason"] == Reason.EXISTS)
    for given_as in (last, np.array(last), np.asfortranarray(last), np.array(last, float)[::-1][::-1]):
        for column, values in columns(solve(whole, given_as)).items():
            np.testing.assert_array_equal(values, expected[column], column)


@pytest.mark.parametrize("name", SOLVES)
def test_inputs_are_not_changed_and_answers_are_the_callers_own(name: str) -> None:
    solve, last = SOLVES[name]
    inputs = [np.linspace(0.99, 1.0, 5) * figure for figure in (*INPUTS, last)]
    before = [a.copy() for a in inputs]
    for array in inputs:
        array.flags.writeable = False
    result = solve(Condition(*inputs[:4]), inputs[4])
    for array, copy in zip(inputs, before, strict=True):
        np.testing.assert_array_equal(array, copy)
    for column, values in columns(result).items():
        assert values.flags.writeable, column
        assert not any(np.shares_memory(values, a) for a in inputs), column


@pytest.mark.parametrize("name", SOLVES)
@pytest.mark.parametrize("place", range(5))
@pytest.mark.parametrize("figure", [np.nan, np.inf, -np.inf])
def test_a_figure_that_is_missing_gives_nan_and_a_reason_and_leaves_its_neighbours_alone(name, place, figure) -> None:
    solve, last = SOLVES[name]
    inputs = [np.full(3, f) for f in (*INPUTS, last)]
    inputs[place][1] = figure
    result = columns(solve(Condition(*inputs[:4]), inputs[4]))
    single = columns(solve(Condition(*INPUTS), last))
    assert result.pop("reason").tolist() == [Reason.EXISTS, Reason.INPUT_MISSING, Reason.EXISTS]
    for column, values in result.items():
        if (name, column) != ("applied", "contact_turn"):  # where contact is does not depend on the pressure
            assert np.isnan(values[1]), column
        np.testing.assert_allclose(values[[0, 2]], single[column], rtol=1e-12, atol=1e-12, err_msg=column)


@pytest.mark.parametrize("figure", [np.nan, np.inf, -np.inf])
@pytest.mark.parametrize("place", range(4))
def test_free_stroke_where_a_figure_is_missing(place: int, figure: float) -> None:
    inputs = [np.array([f, f]) for f in INPUTS]
    inputs[place][1] = figure
    strokes = free_stroke(BRAKE, Condition(*inputs))
    assert np.isfinite(strokes[0])
    assert np.isnan(strokes[1])


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.lists(st.floats(-1e9, 1e9), min_size=5, max_size=5), st.sampled_from(list(SOLVES)))
def test_any_figures_give_a_state_or_a_reason_and_never_a_warning(figures: list[float], name: str) -> None:
    scale = np.array([30.0, 500.0, 600.0, 3.0, 60.0 if name == "poses" else 1.0])
    solve, _ = SOLVES[name]
    for inputs in (np.array(figures), np.abs(np.array(figures) / 1e9) * scale):
        result = columns(solve(Condition(*inputs[:4]), inputs[4]))
        if result.pop("reason") != Reason.EXISTS:
            result.pop("contact_turn", None)
            assert np.all(np.isnan(list(result.values())))


def test_the_quadrature_would_see_a_wrong_lever() -> None:
    end = last_turn(BRAKE)
    lever = turn_state(BRAKE.linkage, 0.5 * end * (1 + MIDDLE))[1]
    assert integral(lever * (1 + 1e-6), end) != pytest.approx(BRAKE.chamber.rated_stroke, rel=1e-10)


def test_every_length_of_every_part_is_scaled() -> None:
    plain = {"start", "end", "friction", "expansion", "thrust", "style", "size", "limit"}
    for name in PARTS:
        left = {f.name for f in fields(getattr(BRAKE, name))} - POWERS[name].keys() - plain
        assert not left, f"{name}: does a larger brake have more of {left}?"


def test_poses_name_every_length() -> None:
    angles = {"arm_turn", "arm_angle", "pushrod_tilt", "cam_turn", "cam_angle", "left.turn", "right.turn", "reason"}
    assert {name for name in columns(solve_poses(BRAKE, found(), 0.0)) if not pose_power(name)} == angles
