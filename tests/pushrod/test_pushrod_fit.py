"""The pushrod to fit: held to the forward solver, to the oracle, to a scan over rods and to closed forms."""

from dataclasses import replace
from math import asin, degrees, pi, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.adjuster import Adjuster
from geometry.applied import solve_applied, spring_torque
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.chamber import chamber_force
from geometry.condition import Condition, angle_for_clearance, contact, heel_angle
from geometry.kinematics import free_stroke, released_poses
from geometry.linkage import Linkage, arm_state, closing_reaches, stroke_at_turn
from geometry.pushrod_fit import fit_pin_reach, with_pushrod
from geometry.pushrod_slack import Bench, clearance_for_free_stroke
from geometry.reasons import Reason
from geometry.rod_states import rod_states
from geometry.worm import worm_turns_of
from tests.brakes import BRAKE, DRUM, IN, LINING, PSI, REFERENCE_TEMPERATURE, part
from tests.oracle import applied_at, prepare, random_brakes
from tests.sweeps import sweep
from tests.test_oracle_agreement import pair_of

TEST = 95 * PSI


def cleared(brake: Brake = BRAKE, clearance: float = 0.020 * IN, thickness: float = LINING) -> Condition:
    """A brake with a lining clearance, mm."""
    state = tuple(np.array(value) for value in (thickness, DRUM, REFERENCE_TEMPERATURE))
    return Condition(*state, angle_for_clearance(brake, contact(brake, *state), clearance))


def applied_angle(brake: Brake, condition: Condition, pressure: float = TEST) -> float:
    return float(arm_state(brake.linkage, solve_applied(brake, condition, pressure).stroke).arm_angle)


def fitted(brake: Brake, condition: Condition, angle: float = pi / 2, arm: float | None = None) -> float:
    return float(fit_pin_reach(brake, condition, TEST, angle, arm).pin_reach)


# the rod does what was asked


@settings(max_examples=150, deadline=None)
@given(
    angle=st.floats(70, 125),
    arm=st.floats(4.0, 6.5),
    clearance=st.floats(0.0, 0.05),
    lining=st.floats(0.2, 0.75),
    pressure=st.floats(30, 120),
)
def test_cut_as_told_and_solved_again_the_arm_stands_as_wanted(
    angle: float, arm: float, clearance: float, lining: float, pressure: float
) -> None:
    condition = cleared(clearance=clearance * IN, thickness=lining * IN)
    fit = fit_pin_reach(BRAKE, condition, pressure * PSI, radians(angle), arm * IN)
    assert (Reason(int(fit.reason)), bool(fit.pressed)) == (Reason.EXISTS, True)
    again = with_pushrod(BRAKE, float(fit.pin_reach), arm * IN)
    applied = solve_applied(again, condition, pressure * PSI)
    assert float(arm_state(again.linkage, applied.stroke).arm_angle) == pytest.approx(radians(angle), abs=1e-9)
    assert float(applied.stroke) == pytest.approx(float(fit.stroke), abs=1e-8)


@pytest.mark.parametrize("seed", range(3))
def test_the_oracle_puts_the_arm_there_too(seed: int) -> None:
    """Brakes of every kind of cam, anchor and lining; the oracle shares no code with the fit."""
    tried = 0
    for oracle, expected in random_brakes(500 + seed, 8):
        pair = pair_of(oracle, expected)
        fit = fit_pin_reach(pair.brake, pair.condition, oracle.pressure)
        if fit.reason != Reason.EXISTS:
            continue
        setting = {"free_stroke": None, "lining_clearance": None, "released_cam_angle": expected.cam_released}
        again = applied_at(prepare(replace(oracle, pin_reach=float(fit.pin_reach), **setting)), oracle.pressure)
        assert again.state.arm_angle == pytest.approx(pi / 2, abs=1e-8)
        tried += 1
    assert tried >= 5


def test_a_parallel_rod_stands_as_far_back_as_its_stroke_to_square_says() -> None:
    """Arm 5 1/2 in, square at a stroke of 2 in: 111.32 deg released (derived). A kilometre stands for parallel."""
    rod, stroke = 1e6, 2 * IN
    linkage = Linkage(5.5 * IN, axis_offset=5.5 * IN, face_distance=rod, pivot_depth=0.0, pin_reach=rod)
    brake = replace(BRAKE, linkage=linkage)
    at = contact(brake, *(floats(v) for v in (LINING, DRUM, REFERENCE_TEMPERATURE)))
    useful = float(chamber_force(brake.chamber, stroke, TEST) * 5.5 * IN - spring_torque(brake, at.first))
    start = asin(2 / 5.5) - useful / brake.windup_stiffness
    condition = Condition(LINING, DRUM, REFERENCE_TEMPERATURE, at.first - start)
    fit = fit_pin_reach(brake, condition, TEST)
    assert float(fit.stroke) == pytest.approx(stroke, abs=0.01)
    again = with_pushrod(brake, float(fit.pin_reach))
    assert degrees(float(arm_state(again.linkage, 0.0).arm_angle)) == pytest.approx(111.32, abs=0.005)


# against a scan over every rod that closes


def scanned(brake: Brake, condition: Condition, angle: float) -> list[float]:
    """Every pin reach at which the arm stands at the angle, found by trying rods and halving between two of them."""
    least, most = closing_reaches(brake.linkage)
    reaches = np.linspace(max(least, 1.0) + 1e-6, most - 1e-6, 150)
    off = np.array([applied_angle(with_pushrod(brake, float(r)), condition) - angle for r in reaches])
    both = np.isfinite(off[:-1]) & np.isfinite(off[1:])
    roots = np.flatnonzero(both & (np.sign(off[:-1]) != np.sign(off[1:])) & (abs(off[1:] - off[:-1]) < 0.5))
    return [_halved(brake, condition, angle, reaches[k], reaches[k + 1]) for k in roots]


def _halved(brake: Brake, condition: Condition, angle: float, low: float, high: float) -> float:
    for _ in range(50):
        middle = 0.5 * (low + high)
        short = applied_angle(with_pushrod(brake, middle), condition) > angle
        low, high = (middle, high) if short else (low, middle)
    return low


@pytest.mark.parametrize("arm", sweep([5.5, 8.0, 4.0, 6.5], always=2))
@pytest.mark.parametrize("angle", [75, 90, 110, 130])
def test_a_scan_over_rods_finds_the_same_and_no_other(arm: float, angle: float) -> None:
    brake = with_pushrod(BRAKE, BRAKE.linkage.pin_reach, arm * IN)
    condition = cleared(brake)
    fit = fit_pin_reach(brake, condition, TEST, radians(angle))
    found = scanned(brake, condition, radians(angle))
    wanted = [] if np.isnan(fit.pin_reach) else [float(fit.pin_reach)]
    assert found == pytest.approx(wanted, abs=1e-6)
    assert (fit.reason == Reason.EXISTS) == bool(wanted)


# properties


def test_a_longer_rod_makes_a_smaller_angle_and_an_earlier_square() -> None:
    condition = cleared()
    rods = [rod_states(with_pushrod(BRAKE, r * IN), condition, TEST) for r in np.linspace(4.5, 7.5, 31)]
    for of in ("arm_angle", "released_angle", "square_stroke"):
        assert (np.diff([float(getattr(rod, of)) for rod in rods]) < 0).all(), of


def test_a_smaller_angle_asks_for_a_longer_rod() -> None:
    angles = np.radians(np.linspace(70, 130, 25))
    assert (np.diff(fit_pin_reach(BRAKE, cleared(), TEST, angles).pin_reach) < 0).all()


def test_clearance_is_the_adjusters_and_so_the_same_for_every_rod() -> None:
    """The cam turns as far to contact whatever the rod; the stroke that takes does depend on it."""
    condition = cleared()
    turns = []
    for reach in (5.0, 6.0, 7.0):
        brake = with_pushrod(BRAKE, reach * IN)
        rod = rod_states(brake, condition, TEST)
        turns.append(float(solve_applied(brake, condition, TEST).contact_turn))
        assert float(stroke_at_turn(brake.linkage, turns[-1])) == pytest.approx(float(rod.free_stroke), abs=1e-9)
    assert turns == pytest.approx([turns[0]] * 3, abs=1e-12)


def test_arrays_in_arrays_out_and_nothing_changed() -> None:
    thickness = np.array([[0.75], [0.62], [0.25]]) * IN
    full = np.full((3, 1), DRUM), np.full((3, 1), REFERENCE_TEMPERATURE)
    condition = Condition(thickness, *full, angle_for_clearance(BRAKE, contact(BRAKE, thickness, *full), 0.5))
    arms: Array = np.array([5.0, 5.5, 6.0]) * IN
    before = thickness.copy(), arms.copy()
    fit = fit_pin_reach(BRAKE, condition, TEST, pi / 2, arms)
    assert fit.pin_reach.shape == fit.reason.shape == (3, 3)
    assert (thickness == before[0]).all()
    assert (arms == before[1]).all()
    one = Condition(*(floats(a)[1, 0] for a in condition.arrays))
    assert fitted(BRAKE, one, arm=5.5 * IN) == pytest.approx(fit.pin_reach[1, 1], rel=1e-13)


# where there is none


def why(brake: Brake = BRAKE, angle: float = pi / 2, pressure: float = TEST, **changes: float) -> Reason:
    condition = replace(cleared(BRAKE), **changes)
    fit = fit_pin_reach(brake, condition, pressure, angle)
    assert np.isnan(fit.pin_reach)
    assert np.isnan(fit.stroke)
    return Reason(int(fit.reason))


def test_what_cannot_be_says_why() -> None:
    at = contact(BRAKE, *(floats(v) for v in (LINING, DRUM, REFERENCE_TEMPERATURE)))
    assert why(angle=radians(150), brake=with_pushrod(BRAKE, 60.0, 8 * IN)) == Reason.LINKAGE_OPEN
    assert why(brake=part(BRAKE, "chamber", rated_stroke=0.3 * IN)) == Reason.BOTTOMED
    assert why(released_angle=float(at.first) + 0.01) == Reason.ADJUSTED_TOO_TIGHT
    assert why(released_angle=heel_angle(BRAKE) - 0.01) == Reason.CAM_BELOW_HEEL
    assert why(released_angle=float("nan")) == Reason.INPUT_MISSING
    assert why(lining_thickness=2 * IN) == Reason.LINING_TOO_THICK
    assert why(lining_thickness=0.01) == Reason.CAM_PAST_TIP
    assert why(angle=float("nan")) == Reason.INPUT_MISSING
    assert why(angle=0.0) == why(angle=pi) == why(pressure=-1.0) == Reason.NOT_POSITIVE


def test_air_too_weak_to_press_the_linings_fits_no_rod() -> None:
    """The pressure at which the linings are just pressed, found by halving, parts the two."""
    condition, low, high = cleared(), 0.0, TEST
    for _ in range(60):
        middle = 0.5 * (low + high)
        fit = fit_pin_reach(BRAKE, condition, middle)
        low, high = (low, middle) if fit.pressed else (middle, high)
    assert np.isnan(fit_pin_reach(BRAKE, condition, low).pin_reach)
    fit = fit_pin_reach(BRAKE, condition, high * (1 + 1e-9))
    assert fit.pressed
    brake = with_pushrod(BRAKE, float(fit.pin_reach))
    applied = solve_applied(brake, condition, high * (1 + 1e-9))
    assert float(applied.turn) == pytest.approx(float(applied.contact_turn), abs=1e-6)


# the worm


def test_the_worm_turns_twenty_two_times_for_once_round() -> None:
    """US Army technical manuals: 22 turns = one turn of the gear (one adjuster)."""
    assert float(worm_turns_of(Adjuster("automatic", "clearance"), 2 * pi)) == 22.0
    assert float(worm_turns_of(Adjuster("manual", worm_turns=11.0), pi / 2)) == 11 / 4


def test_turned_back_as_told_the_lining_clears_as_wanted() -> None:
    condition = cleared(clearance=0.5)
    at = contact(BRAKE, *condition.arrays[:3])
    turns = float(worm_turns_of(BRAKE.adjuster, at.first - condition.released_angle))
    back = replace(condition, released_angle=float(at.first) - turns / 22 * 2 * pi)
    poses = released_poses(BRAKE, back)
    assert float(np.minimum(poses.left.gap_middle, poses.right.gap_middle)) == pytest.approx(0.5, abs=1e-9)


# the clearance for a free stroke


@settings(max_examples=40, deadline=None)
@given(wanted=st.floats(0.3, 0.9), arm=st.floats(4.5, 6.5), lining=st.floats(0.25, 0.75), angle=st.floats(80, 100))
def test_the_clearance_found_leaves_the_free_stroke_wanted(
    wanted: float, arm: float, lining: float, angle: float
) -> None:
    bench = Bench(BRAKE, lining * IN, DRUM, REFERENCE_TEMPERATURE, TEST)
    clearance = clearance_for_free_stroke(bench, wanted * IN, radians(angle), arm * IN)
    condition = cleared(clearance=clearance, thickness=lining * IN)
    rod = with_pushrod(BRAKE, fitted(BRAKE, condition, radians(angle), arm * IN), arm * IN)
    assert float(free_stroke(rod, condition)) == pytest.approx(wanted * IN, abs=1e-5)


def test_no_clearance_gives_more_free_stroke_than_the_cam_has_room_for() -> None:
    bench = Bench(BRAKE, 0.75 * IN, DRUM, REFERENCE_TEMPERATURE, TEST)
    assert np.isnan(clearance_for_free_stroke(bench, 2.4 * IN))
    assert np.isnan(clearance_for_free_stroke(replace(bench, pressure=PSI), 0.625 * IN))
