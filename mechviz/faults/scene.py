"""A brake with defects as a scene: its parts stand where the defects hold them."""

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np

from geometry.arrays import floats
from geometry.condition import tip_angle
from geometry.defects import Wheel, felt, held_poses, pressed_condition, solve_wheel
from geometry.kinematics import Poses, ShoePoses
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.states import ShoeState, State
from mechviz.drawing.scene import Scene, scene_at
from mechviz.faults.study import drawn_setup

Event = Literal["released", "applied"]


@dataclass(frozen=True, kw_only=True)
class HeldScene(Scene):
    """A scene of a wheel that may be defective; ``state`` says what its parts do where they are held."""

    wheel: Wheel

    @cached_property
    def poses(self) -> Poses:
        """The pose that is drawn: of the brake, but for what a defect holds still."""
        return held_poses(self.wheel, super().poses)

    @property
    def beyond_tip(self) -> bool:
        """Whether the linings meet the drum only with the cam turned past its profile."""
        return int(self.contact.reason[0]) == Reason.CAM_PAST_TIP


def held_scene(setup: Setup, wheel: Wheel, at: Event) -> HeldScene:
    """Return the scene of a wheel released or applied; the setup gives what the wheel does not.

    Where an adjuster has no setting that brings the linings to the drum, the cam is drawn where its profile ends.
    """
    brake, let_go = felt(wheel)
    own = replace(drawn_setup(setup, wheel), brake=brake)
    condition = pressed_condition(wheel) if at == "applied" else let_go
    if np.isnan(floats(condition.released_angle)):
        condition = replace(condition, released_angle=tip_angle(brake))
    free = scene_at(own, condition, at)
    scene = HeldScene(free.setup, free.condition, free.state, wheel=wheel)
    return replace(scene, state=_held(scene)) if scene.exists else scene


def _held(scene: HeldScene) -> State:
    """The state with shoes and torque as the defects leave them."""
    state, wheel, poses = scene.state, scene.wheel, scene.poses
    torque = None if wheel.blocked else state.brake_torque
    if state.name == "released":
        drag = float(solve_wheel(wheel).drag)
        torque = drag if drag > 0 else None
    left, right = _shoe(state.left, poses.left), _shoe(state.right, poses.right)
    arm = {name: float(getattr(poses, name)[0]) for name in ("arm_angle", "arm_turn", "cam_turn", "pushrod_tilt")}
    return replace(state, brake_torque=torque, **arm, left=left, right=right)


def _shoe(state: ShoeState, pose: ShoePoses) -> ShoeState:
    gaps = {
        name: float(getattr(pose, name)[0]) for name in ("gap_anchor_end", "gap_middle", "gap_cam_end", "gap_least")
    }
    return replace(state, turn=float(pose.turn[0]), **gaps)
