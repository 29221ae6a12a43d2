"""What comes of a wheel with whatever is wrong with it, when it is applied and let go."""

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from geometry.applied import solve_applied
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition, contact
from geometry.defects.held import held_poses
from geometry.defects.wheel import Wheel, felt
from geometry.kinematics import released_poses
from geometry.linkage import arm_state, stroke_at_turn
from geometry.loads import loads_of
from geometry.reasons import Reason

SHOE_WEIGHT = 80.0
"""Of a lined shoe, N: what lies on the drum when no spring holds it off (the project's own figure)."""


@dataclass(frozen=True)
class Outcome:
    """What a wheel does; lengths mm, angles rad, N and N*mm; NaN with a `Reason` where it cannot exist.

    ``stroke`` and ``free_stroke`` are what a tape on the pushrod reads; ``released_angle``, ``applied_angle`` are the
    arm's; ``gap_left``, ``gap_right`` the least gaps released; ``drag`` is the torque that is left when the brake is
    let go; ``swing`` by how much stroke changes as an oval drum turns.
    """

    stroke: Array
    free_stroke: Array
    released_angle: Array
    applied_angle: Array
    gap_left: Array
    gap_right: Array
    chamber_force: Array
    brake_torque: Array
    drag: Array
    swing: Array
    reason: NDArray[np.int8]


OUTCOMES = tuple(field.name for field in fields(Outcome) if field.name != "reason")


def solve_wheel(wheel: Wheel) -> Outcome:
    """Return what a wheel does at its pressure, whatever is wrong with it. Never raises for a state that cannot be."""
    brake, _ = felt(wheel)
    released = pressed_condition(wheel)
    applied = solve_applied(brake, released, wheel.pressure)
    loads = loads_of(brake, released, wheel.pressure, applied)
    poses = held_poses(replace(wheel, play=0.0), released_poses(wheel.brake, wheel.condition))
    free = _tape(brake, applied.contact_turn, wheel)
    torque = 0.0 * loads.brake_torque if wheel.blocked else loads.brake_torque
    fine = applied.reason == Reason.EXISTS
    return Outcome(
        stroke=applied.stroke,
        free_stroke=np.where(fine, free, np.nan),
        released_angle=floats(arm_state(wheel.brake.linkage, 0.0).arm_angle) + 0.0 * applied.stroke,
        applied_angle=arm_state(brake.linkage, applied.stroke).arm_angle,
        gap_left=poses.left.gap_least + 0.0 * applied.stroke,
        gap_right=poses.right.gap_least + 0.0 * applied.stroke,
        chamber_force=loads.chamber_force,
        brake_torque=torque,
        drag=_drag(wheel, torque),
        swing=_swing(wheel, brake, released, applied.stroke),
        reason=applied.reason,
    )


def pressed_condition(wheel: Wheel) -> Condition:
    """Return the condition in which a wheel's brake (as it is `felt`) is pressed.

    A cam that cannot turn stands as one whose linings touch at once: the rest is wind-up.
    """
    brake, condition = felt(wheel)
    if not wheel.blocked:
        return condition
    thickness, diameter, temperature, released = condition.arrays
    first = contact(brake, thickness, diameter, temperature).first
    return Condition(thickness, diameter, temperature, first + 0.0 * released)


def _tape(brake: Brake, turn: Array, wheel: Wheel) -> Array:
    """The stroke at which the linings first touch; where the cam is blocked, the play alone."""
    return floats(wheel.play) + 0.0 * turn if wheel.blocked else stroke_at_turn(brake.linkage, turn)


def _drag(wheel: Wheel, torque: Array) -> Array:
    """Torque left when the brake is let go: what one shoe keeps of its half, or a shoe's weight on the drum."""
    kept = 0.5 * wheel.residual * np.nan_to_num(torque)
    weight = wheel.brake.lining.friction * SHOE_WEIGHT * wheel.brake.new_radius if wheel.fallen else 0.0
    return floats(kept + weight)


def _swing(wheel: Wheel, brake: Brake, released: Condition, stroke: Array) -> Array:
    """How much the stroke changes as an oval drum turns under the shoes."""
    if wheel.ovality == 0:
        return 0.0 * stroke
    thickness, diameter, temperature, angle = released.arrays
    ends = [Condition(thickness, diameter + s * wheel.ovality / 2, temperature, angle) for s in (1, -1)]
    wide, narrow = (solve_applied(brake, end, wheel.pressure).stroke for end in ends)
    return wide - narrow
