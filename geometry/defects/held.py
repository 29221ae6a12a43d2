"""What a defect holds still: the wheel's parts behind a frozen anchor pin, or one shoe that stays on the drum."""

from dataclasses import fields, replace

import numpy as np

from geometry.arrays import Array, floats
from geometry.condition import contact
from geometry.defects.wheel import Wheel, felt
from geometry.kinematics import Poses, ShoePoses, released_poses, solve_poses
from geometry.linkage import stroke_at_turn


def held_poses(wheel: Wheel, poses: Poses) -> Poses:
    """Return poses of a wheel's brake with its parts where its defects hold them.

    ``poses`` are of the brake and condition of `felt`. Behind a frozen anchor pin cam and shoes stand as released,
    however far the arm turns; a shoe that is not pulled off the drum (the right one) stands at least where it touches.
    """
    brake, condition = felt(wheel)
    if wheel.blocked:
        still = released_poses(brake, condition)
        cam = still.cam_angle + 0.0 * poses.cam_angle
        left, right = (_at_least(shoe, shoe, cam) for shoe in (still.left, still.right))
        poses = replace(poses, cam_turn=0.0 * cam, cam_angle=cam, left=left, right=right)
    if wheel.residual > 0 or wheel.fallen:
        thickness, diameter, temperature, released = condition.arrays
        turn = contact(brake, thickness, diameter, temperature).right - released
        touching = solve_poses(brake, condition, stroke_at_turn(brake.linkage, turn)).right
        poses = replace(poses, right=_at_least(poses.right, touching, poses.cam_angle))
    return poses


def _at_least(shoe: ShoePoses, held: ShoePoses, like: Array) -> ShoePoses:
    """The one of two poses of a shoe that is turned out farther, element by element, in the shape of ``like``."""
    less = floats(shoe.turn) < held.turn
    columns = [(floats(getattr(held, f.name)), floats(getattr(shoe, f.name))) for f in fields(shoe)]
    return ShoePoses(*(np.where(less, out, own) + 0.0 * like for out, own in columns))
