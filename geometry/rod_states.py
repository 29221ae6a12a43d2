"""How a brake stands with one pushrod: released, at contact and applied, in each condition."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.applied import solve_applied
from geometry.arrays import Array
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.kinematics import free_stroke
from geometry.linkage import arm_state, stroke_at_right_angle
from geometry.loads import loads_at_pressure
from geometry.reasons import Reason


@dataclass(frozen=True)
class RodStates:
    """One pushrod in one hole of the arm: lengths mm, angles rad, force N, torque N*mm.

    The released angle and the stroke at which the arm stands square do not depend on the brake's condition; the rest
    has the condition's shape and is NaN, with a `Reason`, where there is no such application.
    """

    arm_length: float
    pin_reach: float
    released_angle: float
    square_stroke: float
    free_stroke: Array
    stroke: Array
    arm_angle: Array
    chamber_force: Array
    brake_torque: Array
    reason: NDArray[np.int8]


def rod_states(brake: Brake, condition: Condition, pressure: ArrayLike) -> RodStates:
    """Return how the brake's own pushrod and arm stand in each condition, applied at a pressure (MPa)."""
    linkage, applied = brake.linkage, solve_applied(brake, condition, pressure)
    loads = loads_at_pressure(brake, condition, pressure)
    good = loads.reason == Reason.EXISTS
    angle = arm_state(linkage, applied.stroke).arm_angle
    columns = (applied.stroke, angle, loads.chamber_force, loads.brake_torque)
    stroke, angle, force, torque = (np.where(good, column, np.nan) for column in columns)
    return RodStates(
        linkage.arm_length,
        linkage.pin_reach,
        float(arm_state(linkage, 0.0).arm_angle),
        stroke_at_right_angle(linkage),
        free_stroke(brake, condition),
        stroke,
        angle,
        force,
        torque,
        loads.reason,
    )
