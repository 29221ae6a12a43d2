"""One brake's named states for people: released, contact, applied, and any stroke or pressure asked for.

A quantity that does not exist in a state is None, never 0: there is no chamber force where no pressure was asked for,
and no roller force before the linings touch.
"""

from dataclasses import dataclass
from math import isfinite
from typing import Any

import numpy as np

from geometry.applied import solve_applied
from geometry.brake import Brake, Side
from geometry.condition import Condition
from geometry.kinematics import Poses, free_stroke, solve_poses
from geometry.loads import Loads, loads_at_pressure, loads_at_turn
from geometry.reasons import Reason


@dataclass(frozen=True)
class ShoeState:
    """One shoe: turn beta and the cam's angle (rad), gaps (mm), and what presses (N, MPa; None where nothing does)."""

    turn: float | None
    cam_angle: float | None
    gap_anchor_end: float | None
    gap_middle: float | None
    gap_cam_end: float | None
    gap_least: float | None
    roller_force: float | None = None
    shoe_factor: float | None = None
    lining_pressure: float | None = None


@dataclass(frozen=True)
class State:
    """A named state: lengths mm, angles rad, forces N, torques N*mm, pressure MPa.

    Where the state cannot exist everything but the ``name`` and the ``asked`` stroke or pressure is None, and
    ``reason`` says why.
    """

    name: str
    stroke: float | None
    pressure: float | None
    arm_angle: float | None
    arm_turn: float | None
    cam_turn: float | None
    pushrod_tilt: float | None
    chamber_force: float | None
    camshaft_torque: float | None
    brake_torque: float | None
    left: ShoeState
    right: ShoeState
    reason: Reason


def events(brake: Brake, condition: Condition, pressure: float) -> list[State]:
    """Return the three events of an application: released, contact (first lining touches), applied at ``pressure``."""
    touch = float(free_stroke(brake, condition))
    return [
        at_stroke(brake, condition, 0.0, "released"),
        at_stroke(brake, condition, touch, "contact", pressed=False),
        at_pressure(brake, condition, pressure, "applied"),
    ]


def at_stroke(brake: Brake, condition: Condition, stroke: float, name: str, pressed: bool = True) -> State:
    """Return the state at a stroke (mm). Past contact it carries the pressure and forces that hold it there."""
    poses = solve_poses(brake, condition, stroke)
    touch = float(free_stroke(brake, condition))
    if not (pressed and isfinite(touch) and stroke > touch):
        return _state(name, poses, None)
    loads = loads_at_turn(brake, condition, poses.arm_turn, poses.reason)
    held = loads if isfinite(float(loads.pressure)) else None
    return _state(name, poses, held)


def at_pressure(brake: Brake, condition: Condition, pressure: float, name: str) -> State:
    """Return the state that a chamber pressure (MPa) holds."""
    applied = solve_applied(brake, condition, pressure)
    poses = solve_poses(brake, condition, applied.stroke)
    reason = Reason(int(applied.reason)) or Reason(int(poses.reason))
    loads = loads_at_pressure(brake, condition, pressure)
    return _state(name, poses, loads, reason or Reason(int(loads.reason)))


def _state(name: str, poses: Poses, loads: Loads | None, reason: Reason | None = None) -> State:
    shoes = {side: _shoe(poses, loads, side) for side in ("left", "right")}
    return State(
        name=name,
        stroke=_number(poses.stroke),
        pressure=_of(loads, "pressure"),
        arm_angle=_number(poses.arm_angle),
        arm_turn=_number(poses.arm_turn),
        cam_turn=_number(poses.cam_turn),
        pushrod_tilt=_number(poses.pushrod_tilt),
        chamber_force=_of(loads, "chamber_force"),
        camshaft_torque=_of(loads, "camshaft_torque"),
        brake_torque=_of(loads, "brake_torque"),
        left=shoes["left"],
        right=shoes["right"],
        reason=Reason(int(poses.reason)) if reason is None else reason,
    )


def _shoe(poses: Poses, loads: Loads | None, side: Side) -> ShoeState:
    shoe = poses.left if side == "left" else poses.right
    return ShoeState(
        turn=_number(shoe.turn),
        cam_angle=_number(poses.cam_angle),
        gap_anchor_end=_number(shoe.gap_anchor_end),
        gap_middle=_number(shoe.gap_middle),
        gap_cam_end=_number(shoe.gap_cam_end),
        gap_least=_number(shoe.gap_least),
        roller_force=_of(loads, f"roller_{side}"),
        shoe_factor=_of(loads, f"factor_{side}"),
        lining_pressure=_of(loads, f"lining_pressure_{side}"),
    )


def _of(loads: Loads | None, name: str) -> float | None:
    return None if loads is None else _number(getattr(loads, name))


def _number(value: Any) -> float | None:
    number = float(np.asarray(value))
    return number if isfinite(number) else None
