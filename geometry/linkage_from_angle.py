"""The arm plane from an angle that was read: where the chamber has to sit for it, and the angle further along the rod.

The angle at the clevis pin, the arm and the pushrod make a triangle with the pushrod's pivot. Its third side is how far
the pivot stands from the camshaft, which with the chamber's height gives the mounting face.
"""

from dataclasses import replace
from math import acos, cos, inf, isfinite, nan, sqrt

from geometry.linkage import Linkage, arm_state


def linkage_with_angle(linkage: Linkage, angle: float, stroke: float = 0.0) -> Linkage | None:
    """Return the linkage with the mounting face where the arm stands at ``angle`` (rad) at ``stroke`` (mm).

    None where no place of the chamber does it with this arm, pushrod and height.
    """
    a, length, height = linkage.arm_length, linkage.pushrod_length, linkage.axis_offset
    along = a * a + length * length - 2 * a * length * cos(angle) - height * height
    face = sqrt(along) + stroke - linkage.pivot_depth if along > 0 else 0.0
    if face <= 0:
        return None
    found = replace(linkage, face_distance=face)
    there = float(arm_state(found, stroke).arm_angle)
    return found if isfinite(there) and abs(there - angle) < TOLD else None


TOLD = 1e-6
"""rad: an angle that comes back as it was put in."""


def angle_after(linkage: Linkage, released: float, stroke: float) -> float:
    """Return the arm's angle (rad) at ``stroke`` (mm) where it stands at ``released`` (rad) at none; NaN for none."""
    there = linkage_with_angle(linkage, released)
    return nan if there is None else float(arm_state(there, stroke).arm_angle)


def angle_after_parallel(arm: float, released: float, stroke: float) -> float:
    """Return the same (rad) for a pushrod so long that it stays parallel to itself; ``arm`` and ``stroke`` in mm.

    >>> from math import degrees, radians
    >>> round(degrees(angle_after_parallel(139.7, radians(111.3239), 50.8)), 2)
    90.0
    """
    there = cos(released) + stroke / arm if arm > 0 else inf
    return acos(there) if abs(there) <= 1 else nan
