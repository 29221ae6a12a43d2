"""What the solver says of many states, under the names that the page's script gives its figures."""

from collections.abc import Mapping

import numpy as np

from geometry.applied import solve_applied
from geometry.arrays import Array
from geometry.brake import SIDES, Brake
from geometry.condition import Condition, Contact, contact
from geometry.kinematics import Poses, ShoePoses, solve_poses
from geometry.lining import gap_at
from geometry.linkage import stroke_at_turn
from geometry.loads import Loads, loads_at_pressure, loads_at_turn
from mechviz.page.table import POSITIONS

Points = Mapping[str, Array]
"""Columns ``lining``, ``temperature``, ``setting``, and ``pressure`` or ``stroke``."""


def condition_at(points: Points, diameter: float) -> Condition:
    return Condition(points["lining"], diameter, points["temperature"], points["setting"])


def at_pressures(brake: Brake, diameter: float, points: Points) -> dict[str, Array]:
    """The states that pressures hold: all of a state or none of it, no force before there is one."""
    condition = condition_at(points, diameter)
    applied = solve_applied(brake, condition, points["pressure"])
    poses = solve_poses(brake, condition, applied.stroke)
    loads = loads_at_pressure(brake, condition, points["pressure"])
    reason = np.select([applied.reason != 0, loads.reason != 0], [applied.reason, loads.reason], poses.reason)
    moved, pressing = applied.turn > 0, applied.turn > applied.contact_turn
    columns = _posed(brake, condition, poses) | _forces(loads, moved, pressing)
    return _told(brake, condition, columns, reason) | {"pressure": points["pressure"]}


def at_strokes(brake: Brake, diameter: float, points: Points) -> dict[str, Array]:
    """The states at strokes, with the pressures and forces that hold them once the pushrod has moved."""
    condition = condition_at(points, diameter)
    poses = solve_poses(brake, condition, points["stroke"])
    loads = loads_at_turn(brake, condition, poses.arm_turn, poses.reason)
    pressing = poses.arm_turn > contact(brake, *condition.arrays[:3]).first - condition.arrays[3]
    reason = np.where(pressing, loads.reason, poses.reason)
    moved = (poses.arm_turn > 0) & np.isfinite(loads.pressure)
    forces = _forces(loads, moved, moved & pressing) | {"pressure": np.where(moved, loads.pressure, np.nan)}
    return _told(brake, condition, _posed(brake, condition, poses) | forces, reason)


def _told(brake: Brake, condition: Condition, columns: dict[str, Array], reason: Array) -> dict[str, Array]:
    at = contact(brake, *condition.arrays[:3])
    turn = at.first - condition.arrays[3]
    told = {name: np.where(reason == 0, column, np.nan) for name, column in columns.items()}
    where = {"contactTurn": turn, "contactStroke": stroke_at_turn(brake.linkage, turn), "drumRadius": at.radius}
    return told | where | {"reason": reason}


def _posed(brake: Brake, condition: Condition, poses: Poses) -> dict[str, Array]:
    at = contact(brake, *condition.arrays[:3])
    columns = {
        "stroke": poses.stroke,
        "armTurn": poses.arm_turn,
        "armAngle": poses.arm_angle,
        "tilt": poses.pushrod_tilt,
        "lever": poses.lever,
        "pin.x": poses.clevis_x,
        "pin.y": poses.clevis_y,
        "camAngle": poses.cam_angle,
        "camTurn": poses.cam_turn,
    }
    for side in SIDES:
        columns |= _shoe(brake, at, side, getattr(poses, side))
    return columns


def _shoe(brake: Brake, at: Contact, side: str, shoe: ShoePoses) -> dict[str, Array]:
    cosine, sine = np.cos(shoe.turn), np.sin(shoe.turn)
    places = enumerate(np.linspace(brake.lining.start, brake.lining.end, POSITIONS))
    profile = {
        f"gapProfile.{side}.{i}": gap_at(brake.shoe, at.surface, at.radius, cosine, sine, float(psi))
        for i, psi in places
    }
    return profile | {
        f"shoeTurn.{side}": shoe.turn,
        f"roller.{side}.x": shoe.roller_x,
        f"roller.{side}.y": shoe.roller_y,
        f"gaps.{side}.anchorEnd": shoe.gap_anchor_end,
        f"gaps.{side}.middle": shoe.gap_middle,
        f"gaps.{side}.camEnd": shoe.gap_cam_end,
        f"gaps.{side}.least": shoe.gap_least,
    }


def _forces(loads: Loads, moved: Array, pressing: Array) -> dict[str, Array]:
    return {
        "chamberForce": np.where(moved, loads.chamber_force, np.nan),
        "camshaftTorque": np.where(moved, loads.camshaft_torque, np.nan),
        "brakeTorque": np.where(pressing, loads.brake_torque, np.nan),
        "rollerForce.left": np.where(pressing, loads.roller_left, np.nan),
        "rollerForce.right": np.where(pressing, loads.roller_right, np.nan),
    }
