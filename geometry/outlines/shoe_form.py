"""The shoe's own sizes that several of its pieces share. Outward frame, reference pose, mm."""

from math import hypot

import numpy as np

from geometry.brake import Brake
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Point
from geometry.outlines.spider import pin_radius


def platform_radii(brake: Brake, proportions: Proportions = PROPORTIONS) -> tuple[float, float]:
    """Return the inner and outer radius (mm) of the shoe's platform; the lining lies on the outer one."""
    outer = brake.new_radius - brake.lining.thickness
    return outer - proportions.platform * brake.new_radius, outer


def platform_ends(brake: Brake, proportions: Proportions = PROPORTIONS) -> tuple[float, float]:
    """Return where (psi, rad) the platform begins and ends: a little beyond the lining."""
    over = proportions.platform_overhang
    return brake.lining.start - over, brake.lining.end + over


def boss_radius(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return the radius (mm) of the web round the anchor pin: it keeps clear of the drum."""
    room = 0.98 * brake.new_radius - hypot(*brake.shoe.anchor)
    return max(min(proportions.anchor_boss * brake.new_radius, room), 1.15 * pin_radius(brake, proportions))


def roller_place(brake: Brake) -> Point:
    """Return the roller's centre in the reference pose, outward frame."""
    return brake.shoe.roller_spread / 2, brake.shoe.roller_distance


def spring_eye(brake: Brake, proportions: Proportions = PROPORTIONS) -> Point:
    """Return where the return spring hooks into the web, outward frame, reference pose: just below the cam's reach."""
    depth, (inner, _) = proportions.web_depth * brake.new_radius, platform_radii(brake, proportions)
    radius = inner - 0.72 * depth
    below = brake.shoe.cam_distance - brake.profile.tip_radius - 0.062 * brake.new_radius
    y = min(below, 0.85 * radius)
    return float(np.sqrt(radius**2 - y**2)), y
