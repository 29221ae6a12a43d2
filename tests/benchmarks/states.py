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
from geometry.brake import Brake, Side, turn_sense
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


def arm_direction(brake: Brake, stroke: float) -> float:
    """Close the loop of arm and pushrod by root finding: the arm's direction at one stroke."""
    link = brake.linkage
    pivot = link.pivot_start + stroke

    def miss(direction: float) -> float:
        x, y = link.arm_length * math.cos(direction), link.arm_length * math.sin(direction)
        return math.hypot(x - pivot, y - link.axis_offset) - link.pushrod_length

    return float(brentq(miss, 0.2, math.pi - 0.3, xtol=1e-14))


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
    """Solve each stroke by itself; returns left turn, right turn and both middle gaps."""
    thickness, diameter, temperature, released = condition.arrays
    at = contact(brake, thickness, diameter, temperature)
    seat, radius = float(at.seat), float(at.radius)
    sin, cos = math.sin(brake.lining.middle), math.cos(brake.lining.middle)
    middle = brake.new_radius - brake.lining.thickness + float(thickness)
    start = arm_direction(brake, 0.0)
    rows: list[list[float]] = []
    for stroke in strokes:
        head = min(float(released) + start - arm_direction(brake, float(stroke)), seat)
        row: list[float] = []
        for side in ("left", "right"):
            turn, _, _ = shoe_at(brake, side, head)
            dx, dy = middle * sin - brake.shoe.anchor[0], -middle * cos - brake.shoe.anchor[1]
            x = brake.shoe.anchor[0] + dx * math.cos(turn) + dy * math.sin(turn)
            y = brake.shoe.anchor[1] - dx * math.sin(turn) + dy * math.cos(turn)
            row += [turn, radius - math.hypot(x, y)]
        rows.append(row)
    return np.array(rows)


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
    poses = solve_poses(brake, condition, few)
    mine = np.column_stack([poses.left.turn, poses.left.gap_middle, poses.right.turn, poses.right.gap_middle])
    worst = float(np.max(np.abs(mine - one_at_a_time(brake, condition, few))))
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
