"""One brake's named states for people: released, contact, applied, and any stroke or pressure asked for.

A quantity that does not exist in a state is None, never 0: there is no chamber force where no pressure was asked for,
and no roller force before the linings touch.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from math import isfinite
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from geometry.applied import Applied, solve_applied
from geometry.arrays import one_of
from geometry.brake import SIDES, Brake, Side
from geometry.condition import Condition
from geometry.kinematics import Poses, free_stroke, solve_poses
from geometry.loads import Loads, loads_at_turn, loads_of
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

    Where the state cannot exist everything but the ``name`` is None, and ``reason`` says why.
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


SPENT = 1e-3
"""A stroke this near the rated one (mm) is bottomed."""


def events(brake: Brake, condition: Condition, pressure: float) -> list[State]:
    """Return the three events of an application: released, contact (first lining touches), applied at ``pressure``."""
    return [event(brake, condition, pressure, name) for name in ("released", "contact", "applied")]


def event(brake: Brake, condition: Condition, pressure: float, name: str) -> State:
    """Return one of the three events by its name. Raises `ValueError` for another name."""
    if name == "released":
        return at_stroke(brake, condition, 0.0, name)
    if name == "contact":
        return at_contact(brake, condition)
    if name == "applied":
        return at_pressure(brake, condition, pressure, name)
    raise ValueError(f"{name!r} is no event of an application")


def unpressed(brake: Brake, condition: Condition) -> list[State]:
    """Return the two events in which nothing presses yet: released and contact."""
    return [event(brake, condition, 0.0, name) for name in ("released", "contact")]


def at_contact(brake: Brake, condition: Condition) -> State:
    """Return the state in which the first lining touches: nothing presses yet, so it has no pressure and no force."""
    applied = solve_applied(brake, condition, 0.0)
    touch = free_stroke(brake, condition)
    return _state("contact", solve_poses(brake, condition, touch), None, Reason(int(applied.reason)))


def at_stroke(brake: Brake, condition: Condition, stroke: float, name: str) -> State:
    """Return the state at a stroke (mm). Past contact it carries the pressure and forces that hold it there."""
    poses = solve_poses(brake, condition, stroke)
    if not stroke > float(free_stroke(brake, condition)):
        return _state(name, poses, None, Reason.EXISTS)
    loads = loads_at_turn(brake, condition, poses.arm_turn, poses.reason)
    # within rounding of the rated stroke no force is left, whatever the division says
    spent = stroke >= brake.chamber.rated_stroke - SPENT or not isfinite(float(loads.pressure))
    return _state(name, poses, None if spent else _figures(loads, _ALL), Reason(int(loads.reason)))


def held_at_stroke(brake: Brake, condition: Condition, stroke: float, name: str, most_pressure: float) -> State:
    """Return the state at a stroke (mm), which past contact exists only where ``most_pressure`` (MPa) can hold it."""
    state = at_stroke(brake, condition, stroke, name)
    if state.reason or not stroke > float(free_stroke(brake, condition)):
        return state
    if state.pressure is not None and state.pressure <= most_pressure:
        return state
    return _state(name, solve_poses(brake, condition, stroke), None, Reason.OUT_OF_REACH)


def at_pressure(brake: Brake, condition: Condition, pressure: float, name: str) -> State:
    """Return the state that a chamber pressure (MPa) holds; before contact it has no roller forces."""
    return at_pressures(brake, condition, [pressure], [name])[0]


def at_pressures(brake: Brake, condition: Condition, pressures: ArrayLike, names: Sequence[str]) -> list[State]:
    """Return the states that chamber pressures (MPa) hold, solved together: both they and the condition may be (n,)."""
    applied = solve_applied(brake, condition, pressures)
    loads = loads_of(brake, condition, pressures, applied)
    poses = solve_poses(brake, condition, applied.stroke)
    return [_pressed(name, one_of(applied, n), one_of(loads, n), one_of(poses, n)) for n, name in enumerate(names)]


def _pressed(name: str, applied: Applied, loads: Loads, poses: Poses) -> State:
    moved, pressing = applied.turn > 0, applied.turn > applied.contact_turn
    names = _ALL if pressing else _MOVING if moved else ("pressure",)
    return _state(name, poses, _figures(loads, names), Reason(int(applied.reason)) or Reason(int(loads.reason)))


_MOVING = ("pressure", "chamber_force", "camshaft_torque")
_ALL = tuple(f.name for f in fields(Loads) if f.name != "reason")
_Figures = dict[str, float | None]


def _figures(loads: Loads, names: tuple[str, ...]) -> _Figures:
    """The loads that exist in a state: none on the camshaft before it moves, none on the shoes before contact."""
    return {name: _number(getattr(loads, name)) for name in names}


def _state(name: str, poses: Poses, loads: _Figures | None, reason: Reason) -> State:
    """Put a state together; where it cannot exist, all of it is None."""
    why = reason or Reason(int(poses.reason))
    held = {} if why or loads is None else loads
    pose = {key: None if why else _number(getattr(poses, key)) for key in _POSE}
    forces = {key: held.get(key) for key in ("pressure", "chamber_force", "camshaft_torque", "brake_torque")}
    shoes = {side: _shoe(poses, held, side, exists=not why) for side in SIDES}
    return State(name=name, **pose, **forces, left=shoes["left"], right=shoes["right"], reason=why)


_POSE = ("stroke", "arm_angle", "arm_turn", "cam_turn", "pushrod_tilt")
_SHOE = ("turn", "gap_anchor_end", "gap_middle", "gap_cam_end", "gap_least")


def _shoe(poses: Poses, held: _Figures, side: Side, exists: bool) -> ShoeState:
    shoe = poses.left if side == "left" else poses.right
    pose = {key: _number(getattr(shoe, key)) if exists else None for key in _SHOE}
    return ShoeState(
        **pose,
        cam_angle=_number(poses.cam_angle) if exists else None,
        roller_force=held.get(f"roller_{side}"),
        shoe_factor=held.get(f"factor_{side}"),
        lining_pressure=held.get(f"lining_pressure_{side}"),
    )


def _number(value: Any) -> float | None:
    number = float(np.asarray(value))
    return number if isfinite(number) else None
