"""What a defect holds still: an arm with play before it, parts behind a frozen anchor pin, a shoe that stays out."""

from dataclasses import fields, replace
from typing import Any

import numpy as np

from geometry.arrays import Array, floats
from geometry.condition import contact
from geometry.defects.wheel import Wheel, felt
from geometry.kinematics import Poses, ShoePoses, released_poses, solve_poses
from geometry.linkage import stroke_at_turn


def held_poses(wheel: Wheel, poses: Poses) -> Poses:
    """Return poses of a wheel's brake with its parts where its defects hold them.

    ``poses`` are of the brake and condition of `felt`. Until the rod has taken up the play of worn joints arm, cam and
    shoes stand where the springs hold them, and from there their turns count. Behind a frozen anchor pin cam and shoes
    stand as released, however far the arm turns; a shoe that is not pulled off the drum (the right one) stands at least
    where it touches.
    """
    brake, condition = felt(wheel)
    if wheel.play > 0:
        poses = _loose(wheel.play, poses, solve_poses(brake, condition, wheel.play))
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


def _loose(play: float, poses: Poses, resting: Poses) -> Poses:
    """Poses of which none is short of the play (mm) but for the pushrod, which the spring pulls back by it."""
    slack = floats(poses.stroke) < play

    def kept(own: Any, rest: Any, name: str) -> Array:
        return np.where(slack, floats(getattr(rest, name)), floats(getattr(own, name)))

    shoes = ((poses.left, resting.left), (poses.right, resting.right))
    left, right = (ShoePoses(*(kept(own, rest, f.name) for f in fields(own))) for own, rest in shoes)
    names = ("arm_turn", "arm_angle", "pushrod_tilt", "lever", "clevis_x", "clevis_y", "cam_turn", "cam_angle")
    arms = {name: kept(poses, resting, name) for name in names}
    arms |= {name: arms[name] - resting.arm_turn for name in ("arm_turn", "cam_turn")}
    return replace(poses, **arms, left=left, right=right)


def _at_least(shoe: ShoePoses, held: ShoePoses, like: Array) -> ShoePoses:
    """The one of two poses of a shoe that is turned out farther, element by element, in the shape of ``like``."""
    less = floats(shoe.turn) < held.turn
    columns = [(floats(getattr(held, f.name)), floats(getattr(shoe, f.name))) for f in fields(shoe)]
    return ShoePoses(*(np.where(less, out, own) + 0.0 * like for out, own in columns))
