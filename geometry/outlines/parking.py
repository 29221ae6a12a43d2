"""The parking section behind the service chamber, where one is fitted: air holds its power spring back.

It is drawn with the parking brake released: the spring caged by the air, the stem drawn in. It does not move here.
"""

import numpy as np
from shapely.geometry import LineString

from geometry.brake import Brake
from geometry.outlines.chamber import PART, in_arm_plane, pot, stem_radius
from geometry.outlines.chamber_form import ChamberForm, chamber_form
from geometry.outlines.coil import coil
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import box, cut, joined, rounded


def _depths(brake: Brake, form: ChamberForm) -> tuple[float, float, float]:
    """Depths of the section's floor, its clamped sheet and the inside of its end."""
    floor = form.cap_depth + form.shell
    return floor, floor + 0.16 * form.outer, floor + 1.18 * form.outer + 0.3 * brake.chamber.rated_stroke


def parking_section(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> list[Outline]:
    """Return the parking section's housing, plate with stem, diaphragm and power spring. Arm plane."""
    form = chamber_form(brake, proportions)
    return [
        _spring(brake, form),
        _plate(brake, form, detail),
        _diaphragm(brake, form),
        _housing(brake, form, detail),
    ]


def _housing(brake: Brake, form: ChamberForm, detail: float) -> Outline:
    floor, clamp, end = _depths(brake, form)
    inside, outside = pot(end, 0.74 * form.outer, clamp, form.sheet, form.shell, detail)
    rim = [box(clamp - form.shell, y - 0.045 * form.outer, clamp + form.shell, y + 0.045 * form.outer) for y in (form.sheet, -form.sheet)]
    neck = [_neck(form, floor, clamp, side) for side in (1.0, -1.0)]
    shell = joined(PART, cut(PART, outside, inside), *rim, *neck)
    shell = cut(PART, shell, box(end - form.shell, -stem_radius(form), end + 3 * form.shell, stem_radius(form)))
    does = "Holds a very strong spring: never open, strike or cut it."
    return Outline("parking_housing", "arm", "hold", "Parking section", does, "ground_arm", in_arm_plane(brake, shell))


def _neck(form: ChamberForm, floor: float, clamp: float, side: float):
    low, high = sorted((side * 0.62 * form.floor, side * (form.sheet + 0.03 * form.outer)))
    wall = box(floor - 0.3 * form.shell, low, floor + 0.7 * form.shell, high)
    low, high = sorted((side * (form.sheet - 0.5 * form.shell), side * (form.sheet + 0.5 * form.shell)))
    return joined(PART, wall, box(floor, low, clamp, high))


def _plate(brake: Brake, form: ChamberForm, detail: float) -> Outline:
    floor, clamp, end = _depths(brake, form)
    back = _caged(form, end)
    stem = stem_radius(form)
    plate = box(back, -0.72 * form.sheet, back + form.plate_wall, 0.72 * form.sheet)
    rod = box(form.cap_depth - 0.2 * form.shell, -0.9 * stem, back + 0.5 * form.plate_wall, 0.9 * stem)
    shape = rounded(PART, joined(PART, plate, rod), 0.2 * form.plate_wall, detail)
    does = "Is pushed out by the power spring when the parking brake's air is let off, and applies the brake."
    return Outline("parking_plate", "arm", "push", "Parking plate and stem", does, "ground_arm", in_arm_plane(brake, shape))


def _caged(form: ChamberForm, end: float) -> float:
    """Depth of the plate's near side with the spring held back."""
    return end - 0.50 * form.outer


def _line(brake: Brake, points: np.ndarray) -> LineString:
    return LineString(np.array([-brake.linkage.face_distance, brake.linkage.axis_offset]) + points * np.array([-1.0, 1.0]))


def _diaphragm(brake: Brake, form: ChamberForm) -> Outline:
    _, clamp, end = _depths(brake, form)
    at = _caged(form, end) - form.diaphragm / 2
    half = [(clamp, 0.96 * form.outer), (clamp, form.sheet - form.shell), (at - 0.1 * form.outer, 0.78 * form.sheet), (at, 0.70 * form.sheet)]
    points = np.array(half + [(x, -y) for x, y in reversed(half)])
    does = "The parking brake's air presses on it and holds the power spring back."
    return Outline("parking_diaphragm", "arm", "push", "Parking diaphragm", does, "ground_arm", _line(brake, points))


def _spring(brake: Brake, form: ChamberForm) -> Outline:
    _, _, end = _depths(brake, form)
    near = _caged(form, end) + form.plate_wall
    points = coil((near, 0.0), (end - 0.1 * form.shell, 0.0), 0.36 * form.sheet, 0.62 * form.sheet, turns=4)
    does = "Applies the brake when the parking air is lost. It stores enough energy to kill."
    return Outline("power_spring", "arm", "hold", "Power spring", does, "ground_arm", _line(brake, points))
