"""The parking section behind the service chamber, where one is fitted: air holds its power spring back.

It is drawn with the parking brake released: the spring caged by the air, the stem drawn in. Plate and stem move with
the spring; what deforms with them is given as points at any place of theirs.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike
from shapely.geometry import LineString

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.outlines.chamber import PART, flange, in_arm_plane, pot, stem_radius
from geometry.outlines.chamber_form import ChamberForm, chamber_form
from geometry.outlines.coil import coil
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import box, cut, joined, rounded

POWER_TURNS = 5


def _depths(brake: Brake, form: ChamberForm) -> tuple[float, float, float, float]:
    """Depths of the section's floor, its clamped sheet, its plate with the spring caged, and the inside of its end."""
    floor = form.cap_depth + 1.6 * form.shell
    clamp = floor + 0.30 * form.outer
    end = floor + 1.05 * form.outer + 0.4 * brake.chamber.rated_stroke
    return floor, clamp, end - 0.5 * form.outer, end


def parking_section(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> list[Outline]:
    """Return the parking section's power spring, plate with stem, diaphragm and housing, back to front. Arm plane."""
    form = chamber_form(brake, proportions)
    return [_spring(brake, form), _plate(brake, form, detail), _diaphragm(brake, form), _housing(brake, form, detail)]


def _housing(brake: Brake, form: ChamberForm, detail: float) -> Outline:
    floor, clamp, _, end = _depths(brake, form)
    half = form.diaphragm / 2
    back_in, back_out = pot(end, 0.74 * form.outer, clamp + half, form.sheet, form.shell, detail)
    front_in, front_out = pot(floor, 0.82 * form.outer, clamp - half, form.sheet, form.shell, detail)
    back = joined(PART, cut(PART, back_out, back_in), flange(form, clamp, 1.0))
    front = joined(PART, cut(PART, front_out, front_in), flange(form, clamp, -1.0))
    stem = stem_radius(form)
    ways = [box(end - form.shell, -stem, end + 3 * form.shell, stem)]
    ways.append(box(floor - 3 * form.shell, -stem, floor + form.shell, stem))
    shell = cut(PART, joined(PART, back, front), *ways)
    does = "Holds a very strong spring: never open, strike or cut it."
    return Outline("parking_housing", "arm", "hold", "Parking section", does, "ground_arm", in_arm_plane(brake, shell))


def _plate(brake: Brake, form: ChamberForm, detail: float) -> Outline:
    _, _, at, _ = _depths(brake, form)
    stem = 0.9 * stem_radius(form)
    plate = box(at, -0.72 * form.sheet, at + form.plate_wall, 0.72 * form.sheet)
    rod = box(form.plate_depth + form.diaphragm, -stem, at + 0.5 * form.plate_wall, stem)
    shape = rounded(PART, joined(PART, plate, rod), 0.2 * form.plate_wall, detail)
    does = "Is pushed out by the power spring when the parking brake's air is let off, and applies the brake."
    return Outline(
        "parking_plate", "arm", "push", "Parking plate and stem", does, "ground_arm", in_arm_plane(brake, shape)
    )


def _placed(brake: Brake, points: Array) -> Array:
    """Points (..., 2) given in depth and height, in the arm plane."""
    face = np.array([-brake.linkage.face_distance, brake.linkage.axis_offset])
    return face + points * np.array([-1.0, 1.0])


def _diaphragm(brake: Brake, form: ChamberForm) -> Outline:
    does = "The parking brake's air presses on it and holds the power spring back."
    line = LineString(_placed(brake, _sheet(brake, form, floats(0.0))))
    return Outline("parking_diaphragm", "arm", "push", "Parking diaphragm", does, "ground_arm", line)


def _sheet(brake: Brake, form: ChamberForm, out: Array) -> Array:
    """The diaphragm's middle line (..., points, 2) in depth and height, its plate so far ``out`` (..., mm)."""
    _, clamp, caged, _ = _depths(brake, form)
    u = np.linspace(0.0, 1.0, 15)
    rise, edge = u * u * (3 - 2 * u), 0.72 * form.sheet
    depth = clamp + (caged - out[..., np.newaxis] - form.diaphragm / 2 - clamp) * u
    fold = np.stack([depth, np.broadcast_to(form.sheet + (edge - form.sheet) * rise, depth.shape)], axis=-1)
    rim = np.broadcast_to(np.array([clamp, 0.965 * form.outer]), (*fold.shape[:-2], 1, 2))
    half = np.concatenate([rim, fold], axis=-2)
    return np.concatenate([half, half[..., ::-1, :] * np.array([1.0, -1.0])], axis=-2)


def _spring(brake: Brake, form: ChamberForm) -> Outline:
    does = "Applies the brake when the parking air is lost. It stores enough energy to kill."
    line = LineString(_placed(brake, _turns(brake, form, floats(0.0))))
    return Outline("power_spring", "arm", "hold", "Power spring", does, "ground_arm", line)


def _turns(brake: Brake, form: ChamberForm, out: Array) -> Array:
    """The power spring's points (..., points, 2) in depth and height, its plate so far ``out`` (..., mm)."""
    start, stop = _seats(brake, form, out)
    return coil(start, stop, *power_spring_radii(form), turns=POWER_TURNS)


def _seats(brake: Brake, form: ChamberForm, out: Array) -> tuple[Array, Array]:
    """Where the power spring sits, on its plate and on the section's end (..., 2), in depth and height."""
    _, _, caged, end = _depths(brake, form)
    start = np.stack([caged + form.plate_wall - out, np.zeros_like(out)], axis=-1)
    return start, np.broadcast_to(np.array([end - 0.1 * form.shell, 0.0]), start.shape)


def power_spring_radii(form: ChamberForm) -> tuple[float, float]:
    """Return the radii (mm) of the power spring at its plate and at the section's end."""
    return 0.40 * form.sheet, 0.60 * form.sheet


def power_spring_seats(brake: Brake, out: ArrayLike, proportions: Proportions = PROPORTIONS) -> tuple[Array, Array]:
    """Return where the power spring sits, on its plate and on the section's end, arm plane (..., 2), mm.

    ``out`` is how far (...) the plate has come out of its cage.
    """
    start, stop = _seats(brake, chamber_form(brake, proportions), floats(out))
    return _placed(brake, start), _placed(brake, stop)


def parking_frames(brake: Brake, out: ArrayLike, proportions: Proportions = PROPORTIONS) -> Mapping[str, Array]:
    """Return the points (..., n, 2) of what deforms, arm plane, with the plate so far ``out`` of its cage (..., mm)."""
    form, moved = chamber_form(brake, proportions), floats(out)
    shapes = {"power_spring": _turns(brake, form, moved), "parking_diaphragm": _sheet(brake, form, moved)}
    return {name: _placed(brake, points) for name, points in shapes.items()}


def parking_floor(brake: Brake, proportions: Proportions = PROPORTIONS) -> Array:
    """Return the corners (2, 2), lower first, of the wall that the parking brake's air stands on, arm plane, mm."""
    form = chamber_form(brake, proportions)
    floor, *_ = _depths(brake, form)
    return _placed(brake, np.array([[floor, -0.82 * form.outer], [floor, 0.82 * form.outer]]))
