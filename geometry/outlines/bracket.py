"""What is fixed in the arm plane outside the chamber: the axle tube and the bracket from it to the mounting face.

No setup says which way the axle lies from the camshaft. It is drawn straight below, as in the brake plane, so that
both planes side by side share the axle's centre line as well as the camshaft's.
"""

from math import hypot

from geometry.brake import Brake
from geometry.outlines.chamber_form import chamber_form
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, Point, bar, box, cut, disc, joined, rounded

PART = "linkage.face_distance"


def axle_centre(brake: Brake) -> Point:
    """Return the axle's centre in the arm plane, mm."""
    return 0.0, -brake.shoe.cam_distance


def axle_tube(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the axle tube, the same size as the spindle in the brake plane."""
    outer = proportions.spindle * brake.new_radius
    centre = axle_centre(brake)
    ring = cut(
        PART, disc(centre, outer, detail), disc(centre, outer - proportions.spindle_wall * brake.new_radius, detail)
    )
    does = "Carries the wheel's load; the chamber's bracket is welded to it."
    return Outline("axle_tube", "arm", "hold", "Axle tube", does, "ground_arm", ring)


def bracket(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the chamber's bracket, cut away where the rod passes through it. Arm plane."""
    form, length = chamber_form(brake, proportions), brake.linkage.arm_length
    plate = proportions.bracket_plate * length
    left, axis = -brake.linkage.face_distance, brake.linkage.axis_offset
    high, low = axis + 0.78 * form.outer, axis - 0.78 * form.outer
    foot = _foot(brake, proportions)
    knee = (left + 0.75 * plate, low - 0.2 * plate)
    leg = bar(foot, knee, 3.6 * plate, 1.7 * plate)
    upright: Area = box(left, low, left + plate, high)
    whole = joined(PART, leg, box(left, low - plate, left + plate, low), disc(foot, 1.8 * plate, detail))
    whole = cut(PART, whole, disc(axle_centre(brake), proportions.spindle * brake.new_radius, detail))
    whole = cut(PART, whole, box(left - 9 * length, -9 * length, left, 9 * length))
    whole = rounded(PART, joined(PART, whole, upright), 0.1 * plate, detail, hollow=0.9 * plate)
    whole = cut(PART, whole, box(left - 9 * length, -9 * length, left, 9 * length))
    opening = box(left - length, axis - 1.1 * form.opening, left + 2 * plate, axis + 1.1 * form.opening)
    does = "Holds the chamber to the axle, square to the camshaft."
    return Outline("bracket", "arm", "hold", "Chamber bracket", does, "ground_arm", cut(PART, whole, opening))


def _foot(brake: Brake, proportions: Proportions) -> Point:
    """Where the bracket's leg meets the axle tube: on its wall, on the side towards the mounting face."""
    x, y = axle_centre(brake)
    towards = (-brake.linkage.face_distance - x, brake.linkage.axis_offset - 2.2 * brake.linkage.arm_length / 2 - y)
    radius = proportions.spindle * brake.new_radius / hypot(*towards)
    return x + radius * towards[0], y + radius * towards[1]
