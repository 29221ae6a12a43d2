"""What comes of a wheel with whatever is wrong with it, when it is applied and let go."""

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from geometry.applied import solve_applied
from geometry.arrays import Array, Mask, floats
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
    let go, unknown where the cam has left its profile; ``swing`` and ``torque_swing`` by how much stroke and torque
    change as an oval drum turns.
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
    torque_swing: Array
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
    gaps = poses.left.gap_least, poses.right.gap_least
    swing, torque_swing = _swings(wheel, brake, released, applied.stroke, torque)
    return Outcome(
        stroke=applied.stroke,
        free_stroke=np.where(fine, free, np.nan),
        released_angle=floats(arm_state(wheel.brake.linkage, 0.0).arm_angle) + 0.0 * applied.stroke,
        applied_angle=arm_state(brake.linkage, applied.stroke).arm_angle,
        gap_left=gaps[0] + 0.0 * applied.stroke,
        gap_right=gaps[1] + 0.0 * applied.stroke,
        chamber_force=loads.chamber_force,
        brake_torque=torque,
        drag=_drag(wheel, torque, stands=np.isfinite(sum(gaps)) & (applied.reason != Reason.CAM_PAST_TIP)),
        swing=swing,
        torque_swing=torque_swing,
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


def _drag(wheel: Wheel, torque: Array, stands: Mask) -> Array:
    """Torque left when the brake is let go: what one shoe keeps of its half, or a shoe's weight on the drum.

    Unknown where nothing ``stands`` released, and of a shoe that keeps a share of a torque that is not known.
    """
    kept = 0.5 * wheel.residual * torque if wheel.residual > 0 else 0.0 * torque
    kept = np.where(np.isfinite(torque) | (wheel.residual > 0), kept, 0.0)
    weight = wheel.brake.lining.friction * SHOE_WEIGHT * wheel.brake.new_radius if wheel.fallen else 0.0
    return np.where(stands, kept + weight, np.nan)


def _swings(wheel: Wheel, brake: Brake, released: Condition, stroke: Array, torque: Array) -> tuple[Array, Array]:
    """How much stroke and torque change as an oval drum turns under the shoes; behind a blocked cam neither does.

    Where the narrow side of the drum lies on the linings before the brake is applied, they touch from the first.
    """
    if wheel.ovality == 0 or wheel.blocked:
        return 0.0 * stroke, 0.0 * torque
    thickness, diameter, temperature, angle = released.arrays
    strokes, torques = [stroke], [torque]
    for side in (1, -1):
        there = diameter + side * wheel.ovality / 2
        touching = contact(brake, thickness, there, temperature).first
        condition = Condition(thickness, there, temperature, np.minimum(angle, touching))
        applied = solve_applied(brake, condition, wheel.pressure)
        strokes.append(applied.stroke)
        torques.append(loads_of(brake, condition, wheel.pressure, applied).brake_torque)
    return strokes[1] - strokes[2], np.max(torques, axis=0) - np.min(torques, axis=0)
