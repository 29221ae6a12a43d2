"""The arm plane: where the pushrod puts the arm, by roots along the arm's circle."""

from __future__ import annotations

import math

from .brake import OracleBrake
from .numeric import bisect, derivative, root
from .refusal import RefusedError

FAR = 1.0e5


def pivot(brake: OracleBrake, stroke: float) -> tuple[float, float]:
    """Pushrod pivot, origin at the camshaft centre, +x the way the pushrod extends."""
    return -(brake.face_distance + brake.pivot_depth) + stroke, brake.axis_offset


def closing_range(brake: OracleBrake) -> tuple[float, float]:
    """Least and greatest stroke at which the linkage closes with the pivot at x < 0; either may lie outside 0..rated.

    The pivot's nearest and furthest points of the arm's circle bracket the pushrod's length.
    """
    rod = brake.pivot_depth + brake.pin_reach
    level = brake.face_distance + brake.pivot_depth

    def reach(stroke: float) -> float:
        return brake.arm_length + rod - math.hypot(*pivot(brake, stroke))

    def room(stroke: float) -> float:
        return math.hypot(*pivot(brake, stroke)) - abs(brake.arm_length - rod)

    if reach(level) < 0.0:
        raise RefusedError("linkage", "the pushrod cannot meet the arm at any stroke")
    return bisect(reach, -FAR, level), level if room(level) >= 0.0 else bisect(room, -FAR, level)


def pin_bearing(brake: OracleBrake, stroke: float) -> float:
    """Polar angle of the clevis pin about the camshaft, continuous in the stroke.

    From the bearing of the pivot the pin is sought clockwise: with the pivot at x < 0 that is the meeting point
    with the greater y. The distance pin to pivot grows all the way round to the far side.
    """
    x, y = pivot(brake, stroke)
    if x >= 0.0:
        raise RefusedError("linkage", "the pushrod pivot has passed the camshaft")
    towards = math.atan2(y, x) % (2.0 * math.pi)
    rod = brake.pivot_depth + brake.pin_reach

    def excess(back: float) -> float:
        bearing = towards - back
        return math.hypot(brake.arm_length * math.cos(bearing) - x, brake.arm_length * math.sin(bearing) - y) - rod

    return towards - root(excess, 0.0, math.pi, "linkage", "the pushrod cannot meet the arm")


def clevis_pin(brake: OracleBrake, stroke: float) -> tuple[float, float]:
    """Clevis-pin centre."""
    bearing = pin_bearing(brake, stroke)
    return brake.arm_length * math.cos(bearing), brake.arm_length * math.sin(bearing)


def arm_angle(brake: OracleBrake, stroke: float) -> float:
    """Angle at the clevis pin between the arm and the pushrod."""
    px, py = clevis_pin(brake, stroke)
    x, y = pivot(brake, stroke)
    rod_x, rod_y = x - px, y - py
    return math.atan2(abs(-px * rod_y + py * rod_x), -px * rod_x - py * rod_y)


def arm_turn(brake: OracleBrake, stroke: float) -> float:
    """Turn of the arm from released, positive as the pushrod extends."""
    return pin_bearing(brake, 0.0) - pin_bearing(brake, stroke)


def pushrod_tilt(brake: OracleBrake, stroke: float) -> float:
    """Angle of the pushrod to the chamber's centreline, positive when the pin stands further from the camshaft."""
    px, py = clevis_pin(brake, stroke)
    return math.atan2(py - brake.axis_offset, px - pivot(brake, stroke)[0])


def lever(brake: OracleBrake, stroke: float) -> float:
    """Stroke per turn of the arm, mm/rad, by differencing the turn."""
    low, high = closing_range(brake)
    step = min(0.06, (stroke - low) / 4.0, (high - stroke) / 4.0)
    if step <= 0.0:
        raise RefusedError("linkage", "at its limit: the lever does not exist")
    return -1.0 / derivative(lambda s: pin_bearing(brake, s), stroke, step)


def stroke_at_right_angle(brake: OracleBrake) -> float | None:
    """Stroke at which arm and pushrod stand square, or None; may lie outside 0..rated stroke."""
    low, high = closing_range(brake)
    margin = 1e-9 * (high - low)
    low, high = low + margin, high - margin
    if arm_angle(brake, high) > math.pi / 2.0:
        return None
    return bisect(lambda s: arm_angle(brake, s) - math.pi / 2.0, low, high)


def stroke_at_turn(brake: OracleBrake, turn: float) -> float:
    """Stroke at which the arm has turned so far, between 0 and the rated stroke."""
    reason = "the turn asked for is outside the rated stroke"
    return root(lambda s: arm_turn(brake, s) - turn, 0.0, brake.rated_stroke, "linkage", reason, slack=1e-14)
