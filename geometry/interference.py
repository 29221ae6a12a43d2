"""Parts that would run into each other: pushrod, clevis and arm against the chamber and its bracket; cam and roller.

The shapes are those of `geometry.outlines`, which rest on the project's own proportions wherever no setup states a
size: a finding says where to look on the vehicle, it does not prove that metal touches metal.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import hypot

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.errors import Fault
from geometry.linkage import arm_state
from geometry.outlines import adjuster, bracket, chamber, pushrod
from geometry.outlines.cam import cam_form
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Shape
from geometry.polar_cam import TableProfile
from geometry.pose_table import PoseTable, arm_bodies, placed

STEPS = 51
"""Strokes that are tried, evenly from released to rated."""
DETAIL = 0.2
TOUCH = 1e-6
"""Overlaps of less area than this (mm2) are rounding."""
FAR = 8.0
"""How many arm lengths the chamber is moved away, at most, in search of a place that is clear."""


@dataclass(frozen=True)
class Interference:
    """One part running into another.

    ``moving`` and ``fixed`` are names of outlines; ``stroke`` is the first stroke (mm) tried at which they overlap,
    ``depth`` the greatest thickness (mm) of the overlap; ``fault`` says it in words.
    """

    moving: str
    fixed: str
    stroke: float
    depth: float
    fault: Fault


def interferences(brake: Brake, proportions: Proportions = PROPORTIONS) -> list[Interference]:
    """Return what would run into what between released and the rated stroke; empty where all is clear.

    Strokes at which the linkage does not close are left out: that is a finding of its own.
    """
    return [*arm_interferences(brake, proportions), *cam_interferences(brake, proportions)]


def arm_interferences(brake: Brake, proportions: Proportions = PROPORTIONS) -> list[Interference]:
    """Return the findings in the arm plane, one for each pair of parts."""
    overlaps = _overlaps(brake, proportions)
    if not overlaps:
        return []
    least = _clear_face_distance(brake, proportions)
    return [Interference(m.name, f.name, s, d, _arm_fault(brake, m, f, s, d, least)) for m, f, s, d in overlaps]


def _arm_fault(
    brake: Brake, moving: Outline, fixed: Outline, stroke: float, depth: float, least: float | None
) -> Fault:
    linkage = brake.linkage
    share = stroke / brake.chamber.rated_stroke
    when = "when released" if share == 0 else f"from {share:.0%} of the rated stroke on"
    problem = f"the {moving.title.lower()} would reach {{amount}} into the {fixed.title.lower()} {when}"
    fix = "check axis_offset, arm_length and where the chamber stands (unstated sizes are the project's own)"
    if least is None:
        return Fault("linkage.axis_offset", problem, fix, linkage.axis_offset, amount=depth)
    fix = "another axis_offset, pin_reach longer by as much as face_distance (unstated sizes are the project's own)"
    return Fault("linkage.face_distance", problem, fix, linkage.face_distance, least=least, amount=depth)


Overlap = tuple[Outline, Outline, float, float]


@lru_cache(maxsize=64)
def _overlaps(brake: Brake, proportions: Proportions) -> tuple[Overlap, ...]:
    """Each pair of parts that overlap at some stroke: moving, fixed, first stroke, greatest thickness.

    Neither wear nor slack changes that: whoever judges one brake in many conditions asks once.
    """
    return tuple(_swung(brake, proportions))


def _swung(brake: Brake, proportions: Proportions) -> Iterator[Overlap]:
    stroke = np.linspace(0.0, brake.chamber.rated_stroke, STEPS)
    arm = arm_state(brake.linkage, stroke)
    closed = np.isfinite(arm.pin_x)
    stroke = stroke[closed]
    table = PoseTable({**arm_bodies(brake, stroke, arm.pin_x[closed], arm.pin_y[closed])})
    standing = _fixed(brake, proportions)
    for moving in _moving(brake, proportions):
        path = [placed(moving, table, k) for k in range(len(stroke))]
        for fixed in standing:
            areas = _common_areas(path, fixed.geometry)
            if areas.max(initial=0.0) > TOUCH:
                deepest = shapely.intersection(path[int(np.argmax(areas))], fixed.geometry)
                yield moving, fixed, float(stroke[int(np.argmax(areas > TOUCH))]), _thickness(deepest)


def _moving(brake: Brake, proportions: Proportions) -> list[Outline]:
    return [
        pushrod.pushrod(brake, DETAIL, proportions),
        pushrod.clevis(brake, DETAIL, proportions),
        adjuster.slack_adjuster(brake, DETAIL, proportions),
    ]


def _fixed(brake: Brake, proportions: Proportions) -> list[Outline]:
    return [
        chamber.non_pressure_half(brake, DETAIL, proportions=proportions),
        chamber.pressure_half(brake, DETAIL, proportions=proportions),
        chamber.clamp_ring(brake, DETAIL, proportions),
        chamber.studs(brake, DETAIL, proportions),
        bracket.bracket(brake, DETAIL, proportions),
        bracket.axle_tube(brake, DETAIL, proportions),
    ]


def _common_areas(path: Sequence[Shape], fixed: Shape) -> Array:
    """The area in common with each shape of a path; most do not meet at all, which is asked first."""
    shapes, areas = np.array(path, dtype=object), np.zeros(len(path))
    shapely.prepare(fixed)
    met = shapely.intersects(fixed, shapes)
    areas[met] = shapely.area(shapely.intersection(shapes[met], fixed))
    return areas


def _thickness(overlap: BaseGeometry) -> float:
    """The width of the narrowest rectangle round the overlap, mm."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(overlap))
    sides = [hypot(*side) for side in np.diff(corners[:3], axis=0)]
    return min(sides, default=0.0)


def _clear_face_distance(brake: Brake, proportions: Proportions) -> float | None:
    """The least face distance that is clear, chamber and bracket moved back and the rod grown by as much; or None."""

    def clear(back: float) -> bool:
        linkage = brake.linkage
        moved = replace(linkage, face_distance=linkage.face_distance + back, pin_reach=linkage.pin_reach + back)
        return not any(True for _ in _swung(replace(brake, linkage=moved), proportions))

    far = FAR * brake.linkage.arm_length
    return None if not clear(far) else brake.linkage.face_distance + _least(clear, 0.0, far)


def _least(true_from: Callable[[float], bool], low: float, high: float) -> float:
    """The least figure for which a test that is false at ``low`` and true at ``high`` is true, to 0.1 mm."""
    while high - low > 0.1:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if true_from(middle) else (middle, high)
    return high


def cam_interferences(brake: Brake, proportions: Proportions = PROPORTIONS) -> list[Interference]:
    """Say where the cam's nose would lie in the other arm's roller with the rollers at the heel."""
    profile = brake.profile
    form = cam_form(profile, brake.shoe.roller_radius, proportions)
    if form.missing == 0:
        return []
    most = float(np.hypot(*profile.point(np.array(form.tip_at))))
    problem = "the tip has too little room beside the other arm's roller with the rollers at the heel, by {amount}"
    fix = "a larger heel_radius, or a smaller roller_diameter"
    where = "cam.table" if isinstance(profile, TableProfile) else "cam.tip_radius"
    fault = Fault(where, problem, fix, profile.tip_radius, most=most, amount=form.missing)
    return [Interference("s_cam", "roller_right", 0.0, form.missing, fault)]
