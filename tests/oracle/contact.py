"""Roller on cam: the distance from the roller's centre to the working curve, and the roots of that distance."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from .brake import OracleBrake
from .numeric import root
from .profile import Profile
from .refusal import RefusedError
from .shoe import anchor, place_many, roller_centre, roller_reference

HALF_TURN = {"left": math.pi, "right": 0.0}
TOUCH = 1e-10


@dataclass(frozen=True)
class Contact:
    """A roller that just touches its arm of the cam; points and normal (cam to roller) in the brake plane."""

    turn: float
    cam_angle: float
    parameter: float
    centre: tuple[float, float]
    point: tuple[float, float]
    normal: tuple[float, float]
    moment_arm: float


def to_cam_frame(brake: OracleBrake, side: str, cam_angle: float, x: float, y: float) -> tuple[float, float]:
    """A point of the brake plane as the arm that serves this side sees it."""
    c, s = math.cos(cam_angle + HALF_TURN[side]), math.sin(cam_angle + HALF_TURN[side])
    dx, dy = x, y - brake.cam_distance
    return c * dx + s * dy, -s * dx + c * dy


def nearest(profile: Profile, x: float, y: float) -> tuple[float, float, str]:
    """Nearest parameter, distance (negative on the cam's side of the curve) and which end it is, if it is one.

    The best of the samples, then the root of the slope of the distance between its neighbours.
    """
    index = int(np.argmin((profile.points[:, 0] - x) ** 2 + (profile.points[:, 1] - y) ** 2))
    low = float(profile.parameters[max(index - 1, 0)])
    high = float(profile.parameters[min(index + 1, len(profile.parameters) - 1)])

    def along(t: float) -> float:
        cx, cy, dx, dy = profile.curve(t)
        return (x - cx) * dx + (y - cy) * dy

    end, parameter = "", 0.0
    if along(low) <= 0.0:
        parameter, end = low, "heel"
    elif along(high) >= 0.0:
        parameter, end = high, "tip"
    else:
        parameter = root(along, low, high, "cam", "no nearest point")
    cx, cy, _, _ = profile.curve(parameter)
    nx, ny = profile.normal(parameter)
    outside = end != "" or (x - cx) * nx + (y - cy) * ny >= 0.0
    return parameter, math.copysign(math.hypot(x - cx, y - cy), 1.0 if outside else -1.0), end


def clearance(brake: OracleBrake, profile: Profile, side: str, cam_angle: float, turn: float) -> float:
    """Distance between roller and working curve, negative when they overlap."""
    x, y = to_cam_frame(brake, side, cam_angle, *roller_centre(brake, side, turn))
    return nearest(profile, x, y)[1] - brake.roller_radius


def coarse_clearance(brake: OracleBrake, profile: Profile, places: np.ndarray) -> np.ndarray:
    """Clearance of many roller centres in the cam's frame (n, 2) from the sampled curve."""
    square = (profile.points[:, 0] - places[:, :1]) ** 2 + (profile.points[:, 1] - places[:, 1:]) ** 2
    index = np.argmin(square, axis=1)
    distance = np.sqrt(square[np.arange(len(index)), index])
    offset = np.sum((places - profile.points[index]) * profile.normals[index], axis=1)
    inside = (offset < 0.0) & (index > 0) & (index < len(profile.parameters) - 1)
    return np.where(inside, -distance, distance) - brake.roller_radius


def first_overlap(values: np.ndarray) -> tuple[int, int]:
    """Indices around the first change from clear to overlapping, with a cell to spare on each side."""
    if values[0] <= 0.0:
        raise RefusedError("cam", "the roller does not come clear of the cam")
    overlaps = np.flatnonzero(values <= 0.0)
    if overlaps.size == 0:
        raise RefusedError("cam.tip", "the roller misses the working profile")
    return max(int(overlaps[0]) - 2, 0), min(int(overlaps[0]) + 1, len(values) - 1)


def make_contact(brake: OracleBrake, profile: Profile, side: str, cam_angle: float, turn: float) -> Contact:
    """Contact point and normal at a pose that touches; refused when the touching point is an end of the curve."""
    centre = roller_centre(brake, side, turn)
    parameter, distance, end = nearest(profile, *to_cam_frame(brake, side, cam_angle, *centre))
    if end:
        raise RefusedError(f"cam.{end}", f"the {side} roller would leave the working profile over its {end}")
    if abs(distance - brake.roller_radius) > TOUCH:
        raise RefusedError("cam.tip", f"the {side} roller misses the working profile")
    c, s = math.cos(cam_angle + HALF_TURN[side]), math.sin(cam_angle + HALF_TURN[side])
    px, py, _, _ = profile.curve(parameter)
    nx, ny = profile.normal(parameter)
    arm_x, arm_y = c * px - s * py, s * px + c * py
    normal = (c * nx - s * ny, s * nx + c * ny)
    moment_arm = arm_x * normal[1] - arm_y * normal[0]
    point = (arm_x, arm_y + brake.cam_distance)
    return Contact(turn, cam_angle, parameter, centre, point, normal, moment_arm)


def contact_at_cam(brake: OracleBrake, profile: Profile, side: str, cam_angle: float) -> Contact:
    """Turn of the shoe at which its roller touches the cam: the shoe closes from far out until it meets the cam."""
    x, y = roller_reference(brake, side)
    ax, ay = anchor(brake, side)
    far = 1.2 * (brake.tip_radius + brake.roller_radius) / math.hypot(x - ax, y - ay)
    turns = np.linspace(far, -far, 129)
    centres = place_many(brake, side, np.array([x, y]), turns) - np.array([0.0, brake.cam_distance])
    angle = cam_angle + HALF_TURN[side]
    c, s = math.cos(angle), math.sin(angle)
    places = np.stack([c * centres[:, 0] + s * centres[:, 1], -s * centres[:, 0] + c * centres[:, 1]], axis=1)
    low, high = first_overlap(coarse_clearance(brake, profile, places))

    def overlap(turn: float) -> float:
        return clearance(brake, profile, side, cam_angle, turn)

    turn = root(overlap, float(turns[low]), float(turns[high]), "cam.tip", "the roller misses the working profile")
    return make_contact(brake, profile, side, cam_angle, turn)


def contact_at_turn(brake: OracleBrake, profile: Profile, side: str, turn: float) -> Contact:
    """Cam angle at which the cam reaches the roller of a shoe held at a turn: the cam turns on until they meet."""
    x, y = to_cam_frame(brake, side, 0.0, *roller_centre(brake, side, turn))
    bearing = math.atan2(y, x)
    heel, tip = profile.points[0], profile.points[-1]
    lead, trail = -math.atan2(heel[1], heel[0]), -math.atan2(tip[1], tip[0]) % (2.0 * math.pi)
    angles = np.linspace(bearing + lead - 1.5, bearing + trail + 1.0, 161)
    c, s = np.cos(angles), np.sin(angles)
    low, high = first_overlap(coarse_clearance(brake, profile, np.stack([c * x + s * y, c * y - s * x], axis=1)))

    def overlap(angle: float) -> float:
        return clearance(brake, profile, side, angle, turn)

    angle = root(overlap, float(angles[low]), float(angles[high]), "cam.tip", "the roller misses the working profile")
    return make_contact(brake, profile, side, angle, turn)
