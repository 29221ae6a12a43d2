"""The arm plane: pushrod and slack adjuster arm, from stroke to turn, in closed form.

Origin at the camshaft centre, +x the way the pushrod extends, +y from the camshaft to the chamber's centreline.
The pushrod's pivot slides along y = axis_offset; the clevis pin is where the circle of the arm about the camshaft
meets the circle of the pushrod about its pivot, on the chamber's side of the camshaft.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, Mask, floats
from geometry.guards import Guard
from geometry.many import plain, remembered


@dataclass(frozen=True)
class Linkage:
    """Pushrod, arm and where the chamber stands. All lengths in mm.

    Parameters
    ----------
    arm_length : float
        Camshaft centre to clevis-pin centre.
    axis_offset : float
        Camshaft centre to the chamber's centreline.
    face_distance : float
        Camshaft centre to the chamber's mounting face, along the pushrod.
    pivot_depth : float
        Mounting face to the pushrod's pivot inside the chamber, released.
    pin_reach : float
        Mounting face to clevis-pin centre with the pushrod standing square to the face, released.

    """

    arm_length: float
    axis_offset: float
    face_distance: float
    pivot_depth: float
    pin_reach: float

    def __post_init__(self) -> None:
        guard = Guard("linkage").positive("length", arm_length=self.arm_length, face_distance=self.face_distance)
        guard.positive("length", pin_reach=self.pin_reach)
        guard.not_negative("length", axis_offset=self.axis_offset, pivot_depth=self.pivot_depth).done()

    @property
    def pushrod_length(self) -> float:
        """Pivot to clevis-pin centre, mm."""
        return self.pivot_depth + self.pin_reach

    @property
    def pivot_start(self) -> float:
        """The released pivot's x, mm (negative)."""
        return -(self.face_distance + self.pivot_depth)


@dataclass(frozen=True)
class ArmState:
    """The linkage at each stroke; NaN where it does not close. Lengths mm, angles rad.

    ``direction`` is the arm's angle from +x; ``arm_angle`` stands at the clevis pin between arm and pushrod;
    ``tilt`` is the pushrod's lean away from the camshaft; ``lever`` is d(stroke)/d(turn).
    """

    pivot_x: Array
    pin_x: Array
    pin_y: Array
    direction: Array
    arm_angle: Array
    tilt: Array
    lever: Array


def arm_state(linkage: Linkage, stroke: ArrayLike) -> ArmState:
    """Return the linkage's pose at each stroke (mm, any shape)."""
    a, length, offset = linkage.arm_length, linkage.pushrod_length, linkage.axis_offset
    pivot_x = linkage.pivot_start + floats(stroke)
    along, twice_area = _triangle(linkage, pivot_x)
    squared = pivot_x**2 + offset**2
    pin_x = (along * pivot_x + twice_area * offset) / squared
    pin_y = (along * offset - twice_area * pivot_x) / squared
    reach, rise = pin_x - pivot_x, pin_y - offset
    with np.errstate(divide="ignore", invalid="ignore"):
        lever = pin_y - pin_x * (rise / reach)
    return ArmState(
        pivot_x,
        pin_x,
        pin_y,
        np.arctan2(pin_y, pin_x),
        np.arctan2(twice_area, 0.5 * (a * a + length * length - squared)),
        np.arctan2(rise, reach),
        lever,
    )


def _triangle(linkage: Linkage, pivot_x: Array) -> tuple[Array, Array]:
    """Pin . pivot, and twice the area of the triangle camshaft, pin, pivot (Heron's formula, stable as it flattens)."""
    a, length = linkage.arm_length, linkage.pushrod_length
    squared = pivot_x**2 + linkage.axis_offset**2
    distance = np.sqrt(squared)
    product = (
        ((a + length) - distance) * ((a + length) + distance) * (distance - (a - length)) * (distance + (a - length))
    )
    with np.errstate(invalid="ignore"):
        twice_area = 0.5 * np.sqrt(np.where(pivot_x < 0, product, np.nan))
    return 0.5 * (a * a - length * length + squared), twice_area


def arm_turn(linkage: Linkage, stroke: ArrayLike) -> Array:
    """Return the arm's turn from released, rad, growing as the pushrod (stroke in mm) extends."""
    return released_direction(linkage) - arm_state(linkage, stroke).direction


@remembered
def released_direction(linkage: Linkage) -> float:
    """Return the released arm's angle from +x, rad; NaN where the linkage does not close there."""
    return plain(arm_state(linkage, 0.0).direction)


def turn_state(linkage: Linkage, turn: ArrayLike) -> tuple[Array, Array, Array]:
    """Return stroke (mm), lever d(stroke)/d(turn) (mm) and d(lever)/d(turn) (mm) at each turn (rad); NaN where open."""
    a, length, offset = linkage.arm_length, linkage.pushrod_length, linkage.axis_offset
    direction = released_direction(linkage) - floats(turn)
    x, y = a * np.cos(direction), a * np.sin(direction)
    with np.errstate(invalid="ignore", divide="ignore"):
        reach = np.sqrt(length * length - (y - offset) ** 2)
        slope = (y - offset) / reach
        lever = y - x * slope
        change = -x - y * slope + x * x * (length * length) / (reach * reach * reach)  # a power of 3 is slow
    return x - reach - linkage.pivot_start, lever, change


def stroke_at_turn(linkage: Linkage, turn: ArrayLike) -> Array:
    """Return the stroke in mm at which the arm has turned by ``turn`` (rad) from released."""
    return turn_state(linkage, turn)[0]


def stroke_at_right_angle(linkage: Linkage) -> float:
    """Return the stroke in mm at which arm and pushrod stand square; negative if already past it when released.

    Square at the pin: pivot distance**2 = arm**2 + pushrod**2. NaN if the linkage never stands square.
    """
    squared = linkage.arm_length**2 + linkage.pushrod_length**2 - linkage.axis_offset**2
    with np.errstate(invalid="ignore"):
        return plain(-np.sqrt(np.where(squared > 0, squared, np.nan)) - linkage.pivot_start)


def closing_strokes(linkage: Linkage) -> tuple[float, float]:
    """Return the least and greatest stroke (mm) at which the pushrod and the arm can meet (least may be negative)."""
    longest = linkage.arm_length + linkage.pushrod_length
    shortest = abs(linkage.arm_length - linkage.pushrod_length)
    far = _x_at_distance(longest, linkage.axis_offset)
    near = _x_at_distance(shortest, linkage.axis_offset)
    return far - linkage.pivot_start, near - linkage.pivot_start


def _x_at_distance(distance: float, offset: float) -> float:
    return plain(-np.sqrt(np.maximum(distance**2 - offset**2, 0.0)))


def closing_reaches(linkage: Linkage) -> tuple[float, float]:
    """Return the least and greatest pin_reach (mm) with which the released linkage would close."""
    distance = np.hypot(linkage.pivot_start, linkage.axis_offset)
    least, most = abs(distance - linkage.arm_length), distance + linkage.arm_length
    return plain(np.maximum(least - linkage.pivot_depth, 0.0)), plain(most - linkage.pivot_depth)


def closes(linkage: Linkage, stroke: ArrayLike) -> Mask:
    """Tell at each stroke (mm) whether the pushrod and the arm meet."""
    return np.isfinite(arm_state(linkage, stroke).direction)
