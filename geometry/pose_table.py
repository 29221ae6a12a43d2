"""One pose table: a rigid transform for every moving body in every state, from the solver alone.

Everything that moves anywhere in the project is driven by it. A transform is six numbers in the order of SVG's
``matrix(a b c d e f)``: x' = a x + c y + e, y' = b x + d y + f, in mm, +y up, from the body's own frame to the frame
of its plane (the brake plane has its origin at the drum centre, the arm plane at the camshaft).

| body | own frame |
|---|---|
| ground_wheel, ground_arm | the plane itself |
| cam | origin the camshaft, the first arm's profile starts on +x |
| shoe_left, shoe_right | the brake plane, as the shoe stands in the reference pose |
| roller_left, roller_right | origin the roller's centre |
| arm | origin the camshaft, +y along the arm to the clevis pin |
| clevis, clevis_pin | origin the clevis pin, +x along the pushrod |
| pushrod | origin the pivot, +x along the pushrod to the clevis pin |
| plate | origin the pivot, not turned |

Past contact the arm turns on while the cam's head stops where both linings are seated: that wind-up is between the
bodies ``arm`` and ``cam``. The rollers roll on the cam without slip.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.arrays import Array
from geometry.brake import SIDES, Brake, Side, turn_sense
from geometry.cam import Profile
from geometry.kinematics import Poses, ShoePoses

if TYPE_CHECKING:
    from geometry.outlines.outline import Outline
    from geometry.outlines.shapes import Shape

QUADRATURE = 24
"""Nodes of the Gauss-Legendre rule for the length of the pitch curve; exact to rounding for the involute."""


@dataclass(frozen=True)
class PoseTable:
    """``matrices`` has for each body an array (n, 6), one row a state in the flat order of the poses.

    Rows of a state that cannot exist are NaN, but for the two grounds, which always stand.
    """

    matrices: Mapping[str, Array]

    @property
    def states(self) -> int:
        """How many states the table holds."""
        return len(self.matrices["ground_wheel"])


def pose_table(brake: Brake, poses: Poses) -> PoseTable:
    """Return the transforms of every body in every one of the poses (any shape, taken flat)."""
    still = np.tile([1.0, 0.0, 0.0, 1.0, 0.0, 0.0], (poses.stroke.size, 1))
    matrices = {"ground_wheel": still, "ground_arm": still} | wheel_bodies(brake, poses)
    matrices |= arm_bodies(brake, poses.stroke.ravel(), poses.clevis_x.ravel(), poses.clevis_y.ravel())
    for matrix in matrices.values():
        matrix.flags.writeable = False
    return PoseTable(matrices)


def _rigid(cosine: Array, sine: Array, x: Array | float, y: Array | float) -> Array:
    """Rows that turn counter-clockwise by an angle about the body's origin and carry that to (x, y)."""
    columns = np.broadcast_arrays(cosine, sine, -sine, cosine, x, y)
    return np.stack(columns, axis=-1)


def wheel_bodies(brake: Brake, poses: Poses) -> dict[str, Array]:
    """Return the transforms (n, 6) of the cam, the shoes and the rollers."""
    angle = poses.cam_angle.ravel()
    bodies = {"cam": _rigid(np.cos(angle), np.sin(angle), 0.0, brake.shoe.cam_distance)}
    for side in SIDES:
        shoe = poses.left if side == "left" else poses.right
        bodies[f"shoe_{side}"] = _shoe(brake, side, shoe.turn.ravel())
        bodies[f"roller_{side}"] = _roller(brake, side, shoe, angle)
    return bodies


def _shoe(brake: Brake, side: Side, turn: Array) -> Array:
    """A turn about the anchor pin: clockwise for the right shoe, which opens to +x, the other way for the left one."""
    sense = turn_sense(side)
    x, y = sense * brake.shoe.anchor[0], brake.shoe.anchor[1]
    cosine, sine = np.cos(turn), -sense * np.sin(turn)
    return _rigid(cosine, sine, x - (x * cosine - y * sine), y - (x * sine + y * cosine))


def _roller(brake: Brake, side: Side, shoe: ShoePoses, cam_angle: Array) -> Array:
    x, y = shoe.roller_x.ravel(), shoe.roller_y.ravel()
    radius = brake.shoe.roller_radius
    parameter = _parameter(brake.profile, radius, np.hypot(x, y - brake.shoe.cam_distance))
    angle = cam_angle - pitch_length(brake.profile, radius, parameter) / radius
    return _rigid(np.cos(angle), np.sin(angle), turn_sense(side) * x, y)


def _parameter(profile: Profile, roller_radius: float, distance: Array) -> Array:
    """The profile's parameter under each roller; an end of it where rounding puts the roller just past that end."""
    ends = profile.pitch(np.array(profile.working), roller_radius).distance
    inside = profile.parameter_at(np.clip(distance, *ends), roller_radius)
    nearest = np.where(distance <= ends[0], profile.working[0], profile.working[1])
    return np.where(np.isnan(inside) & np.isfinite(distance), nearest, inside)


def pitch_length(profile: Profile, roller_radius: float, parameter: Array) -> Array:
    """Return how far (mm) the roller's centre has come along the pitch curve from the heel to each parameter.

    A roller that does not slip turns by this over its radius against the cam, clockwise.
    """
    node, weight = np.polynomial.legendre.leggauss(QUADRATURE)
    heel = profile.working[0]
    half = 0.5 * (parameter[..., np.newaxis] - heel)
    at = profile.pitch(heel + half * (1 + node), roller_radius)
    return np.sum(weight * half * np.hypot(at.distance_slope, at.distance * at.angle_slope), axis=-1)


def arm_bodies(brake: Brake, stroke: Array, pin_x: Array, pin_y: Array) -> dict[str, Array]:
    """Return the transforms (n, 6) of what moves in the arm plane, from stroke and clevis pin (n,), mm."""
    linkage = brake.linkage
    reach = np.hypot(pin_x, pin_y)
    pivot_x, pivot_y = linkage.pivot_start + stroke, np.full_like(stroke, linkage.axis_offset)
    length = np.hypot(pin_x - pivot_x, pin_y - pivot_y)
    cosine, sine = (pin_x - pivot_x) / length, (pin_y - pivot_y) / length
    pin = _rigid(cosine, sine, pin_x, pin_y)
    exists = np.where(np.isfinite(length), 1.0, np.nan)
    return {
        "arm": _rigid(pin_y / reach, -pin_x / reach, 0.0, 0.0),
        "clevis_pin": pin,
        "clevis": pin.copy(),
        "pushrod": _rigid(cosine, sine, pivot_x, pivot_y),
        "plate": _rigid(exists, 0.0 * exists, pivot_x * exists, pivot_y),
    }


def placed(outline: "Outline", table: PoseTable, index: int) -> "Shape":
    """Return an outline's shape (shapely) in its plane's frame, in one state of the table.

    A shape that deforms is already in its plane's frame and is returned as it is: `geometry.deforming` gives it in
    other states. Raises ValueError where the state cannot exist.
    """
    from shapely.affinity import affine_transform

    if outline.body in ("deforms", "ground_wheel", "ground_arm"):
        return outline.geometry
    a, b, c, d, e, f = (float(v) for v in table.matrices[outline.body][index])
    if not np.isfinite([a, b, c, d, e, f]).all():
        raise ValueError(f"state {index} of the table cannot exist")
    return affine_transform(outline.geometry, [a, c, b, d, e, f])
