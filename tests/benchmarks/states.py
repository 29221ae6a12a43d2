"""How many states the solver gives per second, and how much that is over one state at a time.

Run it with ``python -m tests.benchmarks.states``. All figures come from one run on one core; take the ratio, not the
absolute numbers, since machines are noisy. The same states are solved one at a time with a general root finder
(scipy.optimize.brentq on the loop closure of the arm and on each roller's contact), and must come out the same.
"""

import math
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import fields

import numpy as np
from scipy.optimize import brentq

from geometry.applied import solve_applied
from geometry.arrays import Array
from geometry.brake import SIDES, Brake, Side, turn_sense
from geometry.cam_train import ride_table
from geometry.condition import Condition, contact
from geometry.found import condition_of
from geometry.involute import InvoluteProfile
from geometry.kinematics import Poses, solve_poses
from geometry.setup import read_setup

STATES = 1_000_000
SINGLY = 2_000
PSI = 4.4482216152605 / 25.4**2


def best_of(runs: int, call: Callable[[], object]) -> float:
    """Return the least time of several runs, in seconds."""
    times: list[float] = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


def arm_at(brake: Brake, stroke: float) -> list[float]:
    """Close the loop of arm and pushrod by root finding: direction, arm angle, tilt, lever and clevis pin."""
    link = brake.linkage
    pivot = link.pivot_start + stroke

    def miss(direction: float) -> float:
        x, y = link.arm_length * math.cos(direction), link.arm_length * math.sin(direction)
        return math.hypot(x - pivot, y - link.axis_offset) - link.pushrod_length

    direction = float(brentq(miss, 0.2, math.pi - 0.3, xtol=1e-14))
    x, y = link.arm_length * math.cos(direction), link.arm_length * math.sin(direction)
    reach, rise = x - pivot, y - link.axis_offset
    between = math.acos((x * reach + y * rise) / (link.arm_length * link.pushrod_length))
    return [direction, between, math.atan2(rise, reach), y - x * rise / reach, x, y]


def gaps_at(brake: Brake, surface: tuple[float, float, float], radius: float, turn: float) -> list[float]:
    """Return the gaps of one shoe at its arc's ends, its middle, and where it is least."""
    (qx, qy, bedded), (ax, ay) = surface, brake.shoe.anchor
    cos, sin = math.cos(turn), math.sin(turn)

    def distance(x: float, y: float) -> float:
        dx, dy = x - ax, y - ay
        return math.hypot(ax + dx * cos + dy * sin, ay - dx * sin + dy * cos)

    found: list[float] = []
    for psi in (brake.lining.start, brake.lining.middle, brake.lining.end):
        out, down = math.sin(psi), -math.cos(psi)
        along, across = qx * out + qy * down, qx * down - qy * out
        reach = along + math.sqrt(bedded**2 - across**2)
        found.append(radius - distance(reach * out, reach * down))
    cx = ax + (qx - ax) * cos + (qy - ay) * sin
    cy = ay - (qx - ax) * sin + (qy - ay) * cos
    psi = math.atan2(cx, -cy) - turn
    inside = [radius - bedded - math.hypot(cx, cy)] if brake.lining.start < psi < brake.lining.end else []
    return [*found, min(found + inside)]


def shoe_at(brake: Brake, side: Side, cam_angle: float) -> tuple[float, float, float]:
    """Find one shoe's place at a cam angle by root finding on the profile's parameter."""
    profile, shoe, sense = brake.profile, brake.shoe, turn_sense(side)
    assert isinstance(profile, InvoluteProfile)

    def place(parameter: float) -> tuple[float, float, float]:
        string = profile.base_radius * parameter + shoe.roller_radius
        squared = string**2 + profile.base_radius**2
        cosine = (shoe.radius**2 + shoe.span**2 - squared) / (2 * shoe.radius * shoe.span)
        bearing = shoe.cam_bearing + math.acos(cosine)
        x = shoe.anchor[0] + shoe.radius * math.sin(bearing)
        y = shoe.anchor[1] + shoe.radius * math.cos(bearing)
        return bearing - shoe.roller_bearing, x, y

    def miss(parameter: float) -> float:
        _, x, y = place(parameter)
        string = profile.base_radius * parameter + shoe.roller_radius
        pitch_angle = math.atan2(string, profile.base_radius) - parameter
        return sense * math.atan2(y - shoe.cam_distance, x) - pitch_angle - cam_angle

    return place(float(brentq(miss, *profile.working, xtol=1e-14)))


def one_at_a_time(brake: Brake, condition: Condition, strokes: Array) -> Array:
    """Solve each stroke by itself; a row holds what `rows_of` takes from the array solver."""
    thickness, diameter, temperature, released = condition.arrays
    at = contact(brake, thickness, diameter, temperature)
    seat, radius = float(at.seat), float(at.radius)
    surface = (float(at.surface.centre_x), float(at.surface.centre_y), float(at.surface.radius))
    start = arm_at(brake, 0.0)[0]
    rows: list[list[float]] = []
    for stroke in strokes:
        arm = arm_at(brake, float(stroke))
        head = min(float(released) + start - arm[0], seat)
        row = [start - arm[0], *arm[1:], head - float(released), head]
        for side in SIDES:
            turn, x, y = shoe_at(brake, side, head)
            row += [turn, x, y, *gaps_at(brake, surface, radius, turn)]
        rows.append(row)
    return np.array(rows)


def rows_of(poses: Poses) -> Array:
    """Return the array solver's poses in the same order."""
    arm = [poses.arm_turn, poses.arm_angle, poses.pushrod_tilt, poses.lever, poses.clevis_x, poses.clevis_y]
    shoes = [getattr(s, f.name) for s in (poses.left, poses.right) for f in fields(s)]
    return np.column_stack([*arm, poses.cam_turn, poses.cam_angle, *shoes])


def bytes_of(poses: Poses) -> int:
    """Return the size of a result."""
    arrays = [getattr(poses, f.name) for f in fields(poses)]
    shoes = [getattr(s, f.name) for s in (poses.left, poses.right) for f in fields(s)]
    return sum(a.nbytes for a in [*arrays, *shoes] if isinstance(a, np.ndarray))


def main() -> None:
    """Measure and print."""
    setup = read_setup("drive-16.5x7")
    brake, condition = setup.brake, condition_of(setup)
    rng = np.random.default_rng(1)
    strokes = rng.uniform(0.0, 1.4 * 25.4, STATES)
    pressures = rng.uniform(5.0, 120.0, STATES) * PSI
    ride_table(brake.profile, brake.shoe, "left")

    together = best_of(5, lambda: solve_poses(brake, condition, strokes))
    few = strokes[:SINGLY]
    singly = best_of(3, lambda: one_at_a_time(brake, condition, few))
    worst = float(np.max(np.abs(rows_of(solve_poses(brake, condition, few)) - one_at_a_time(brake, condition, few))))
    applied = best_of(5, lambda: solve_applied(brake, condition, pressures))

    tracemalloc.start()
    result = solve_poses(brake, condition, strokes)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    rate, slow = STATES / together, SINGLY / singly
    print(f"full kinematic states, arrays     {rate:14,.0f} a second")
    print(f"the same, one at a time           {slow:14,.0f} a second (largest difference {worst:.1e} rad or mm)")
    print(f"ratio                             {rate / slow:14,.0f}")
    print(f"bytes a state, result / peak      {bytes_of(result) / STATES:10.0f} / {peak / STATES:.0f}")
    print(f"applied states (pressure root)    {STATES / applied:14,.0f} a second")


if __name__ == "__main__":
    main()
