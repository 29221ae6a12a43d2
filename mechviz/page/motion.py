"""What the page needs beside the table to move the picture: how far the rollers roll, and the shapes that deform.

A roller's turn and the shoe return spring follow from the cam's angle alone, the diaphragm and the chamber's spring
from the stroke. Each is sampled here by the same functions that every other picture is made with.
"""

from base64 import b64encode
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from geometry.arrays import Array, floats
from geometry.brake import SIDES, Brake, Side
from geometry.cam_train import parameter_at_angle, ride
from geometry.condition import heel_angle, tip_angle
from geometry.kinematics import Poses, ShoePoses
from geometry.outlines.deforming import chamber_spring_points, diaphragm_points, shoe_spring_points
from geometry.outlines.proportions import PROPORTIONS
from geometry.pose_table import pitch_length
from geometry.shoe import turn_of
from mechviz.page.grid import Columns, sampled

EVERY = 2
"""Of a coil's points, which the page draws small, every second one is enough."""

FRAMES = 49
"""Samples of a deforming shape; between them its points move in straight lines."""


@dataclass(frozen=True)
class Frames:
    """A deforming shape: ``points`` (frames, n, 2), mm in its plane, evenly spaced from ``low`` to ``high``."""

    low: float
    high: float
    points: Array

    def packed(self) -> dict[str, object]:
        """Return it as the page holds it: base64 of little-endian float32."""
        data = np.ascontiguousarray(self.points, dtype="<f4").tobytes()
        frames, count, _ = self.points.shape
        return {
            "low": self.low,
            "high": self.high,
            "frames": frames,
            "count": count,
            "points": b64encode(data).decode("ascii"),
        }


def motion_data(brake: Brake, count: int = FRAMES) -> dict[str, dict[str, Any]]:
    """Return the rollers' turns (rad) against the cam angle and ``count`` frames of every deforming shape."""
    roll = sampled(lambda angle: _rolls(brake, angle), heel_angle(brake), tip_angle(brake), "cam")
    return {
        "roll": roll.packed(),
        "byStroke": {name: frames.packed() for name, frames in by_stroke(brake, count).items()},
        "byCam": {"shoe-return-spring": by_cam(brake, count).packed()},
    }


def _rolls(brake: Brake, angle: Array) -> Columns:
    """How far each roller stands turned, rolling on the cam without slip."""
    radius = brake.shoe.roller_radius
    return {
        side: angle
        - pitch_length(brake.profile, radius, parameter_at_angle(brake.profile, brake.shoe, side, angle)) / radius
        for side in SIDES
    }


def by_stroke(brake: Brake, count: int = FRAMES) -> Mapping[str, Frames]:
    """Return the shapes that follow the pushrod, from released to the rated stroke."""
    rated = brake.chamber.rated_stroke
    poses = _poses(floats(np.linspace(0.0, rated, count)))
    return {
        "diaphragm": Frames(0.0, rated, diaphragm_points(brake, poses, PROPORTIONS)),
        "chamber-return-spring": Frames(0.0, rated, chamber_spring_points(brake, poses, PROPORTIONS)[:, ::EVERY]),
    }


def by_cam(brake: Brake, count: int = FRAMES) -> Frames:
    """Return the shoe return spring, from the cam's heel to its tip."""
    low, high = heel_angle(brake), tip_angle(brake)
    angle = floats(np.linspace(low, high, count))
    poses = _poses(np.zeros_like(angle), angle, _shoe(brake, "left", angle), _shoe(brake, "right", angle))
    points = shoe_spring_points(brake, poses, PROPORTIONS)
    last = points.shape[1] - 1
    kept = [0, *range(1, last, EVERY), last]  # the hooks at both ends stay
    return Frames(low, high, points[:, kept])


def _shoe(brake: Brake, side: Side, angle: Array) -> ShoePoses:
    """A shoe with its roller on the cam; its gaps are not asked for."""
    place = ride(brake.profile, brake.shoe, side, parameter_at_angle(brake.profile, brake.shoe, side, angle)).place
    gap = np.full_like(angle, np.nan)
    return ShoePoses(turn_of(brake.shoe, place), place.x, place.y + brake.shoe.cam_distance, gap, gap, gap, gap)


def still_poses(stroke: float) -> Poses:
    """Return poses of which only what follows from the stroke (mm) is known."""
    return _poses(floats([stroke]))


def _poses(
    stroke: Array, cam_angle: Array | None = None, left: ShoePoses | None = None, right: ShoePoses | None = None
) -> Poses:
    """Poses of which only what shapes a deforming part is known."""
    none = np.full_like(stroke, np.nan)
    still = ShoePoses(none, none, none, none, none, none, none)
    reason = np.zeros(stroke.shape, dtype=np.int8)
    angle = none if cam_angle is None else cam_angle
    return Poses(stroke, none, none, none, none, none, none, none, angle, left or still, right or still, reason)
