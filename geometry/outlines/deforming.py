"""The shapes that change with the state: the diaphragm and two return springs, as lines with a fixed number of points.

An animation can go from one state to the next by moving each point in a straight line.

The diaphragm's free part, from the clamp to the plate's edge, is a sheet of constant length. Both its ends point out
of the chamber, the way the air pushes the slack: a cubic with both handles along the centreline, the handles' length
found so that the sheet's length stays.
"""

from collections.abc import Callable

import numpy as np
from shapely.geometry import LineString

from geometry.arrays import Array
from geometry.brake import SIDES, Brake
from geometry.kinematics import Poses
from geometry.outlines.chamber_form import ChamberForm, chamber_form
from geometry.outlines.coil import coil
from geometry.outlines.outline import Outline, Plane, Verb
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shoe_form import spring_eye
from geometry.pose_table import wheel_bodies

FOLD_POINTS = 17
CHAMBER_TURNS, SHOE_TURNS = 5, 11
SHOE_HOOK = 0.26
"""How much of the shoe return spring is a straight hook, at either end."""
SPARE_LENGTH = 1.02
"""The sheet's length over the straight line it is stretched to at either end of the stroke."""


def diaphragm_points(brake: Brake, poses: Poses, proportions: Proportions = PROPORTIONS) -> Array:
    """Return the diaphragm's middle line (states, points, 2) in the arm plane, from the upper rim to the lower."""
    form, stroke = chamber_form(brake, proportions), poses.stroke.ravel()
    ahead = stroke - 0.5 * brake.chamber.rated_stroke
    fold = _fold(ahead, form.free - form.plate, _sheet_length(brake, form))
    rim = np.stack([np.zeros_like(stroke), np.full_like(stroke, 0.965 * form.outer)], axis=-1)[:, np.newaxis]
    half = np.concatenate([rim + 0.0 * fold[:, :1], fold + np.array([0.0, form.plate])], axis=1)
    whole = np.concatenate([half, half[:, ::-1] * np.array([1.0, -1.0])], axis=1)
    clamp_x = -brake.linkage.face_distance - form.clamp_depth
    return whole + np.array([clamp_x, brake.linkage.axis_offset])


def _sheet_length(brake: Brake, form: ChamberForm) -> float:
    return SPARE_LENGTH * float(np.hypot(form.free - form.plate, 0.5 * brake.chamber.rated_stroke))


def _cubic(ahead: Array, gap: float, handle: Array) -> Array:
    """Points from (0, gap) to (ahead, 0), leaving and arriving with handles of one length towards +x."""
    u = np.linspace(0.0, 1.0, FOLD_POINTS)
    rise, bow = u * u * (3 - 2 * u), 3 * u * (1 - u)
    x = ahead[:, np.newaxis] * rise + handle[:, np.newaxis] * bow
    return np.stack([x, np.broadcast_to(gap * (1 - rise), x.shape)], axis=-1)


def _fold(ahead: Array, gap: float, length: float) -> Array:
    """The cubic whose handles make it ``length`` mm long, by halving: its length grows with them."""
    low, high = np.zeros_like(ahead), np.full_like(ahead, 2 * length)
    for _ in range(48):
        middle = 0.5 * (low + high)
        steps = np.diff(_cubic(ahead, gap, middle), axis=1)
        short = np.hypot(steps[..., 0], steps[..., 1]).sum(axis=1) < length
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return _cubic(ahead, gap, 0.5 * (low + high))


def chamber_spring_seats(brake: Brake, poses: Poses, proportions: Proportions = PROPORTIONS) -> tuple[Array, Array]:
    """Return where the chamber return spring sits in the arm plane: on the plate and on the floor, (states, 2) each."""
    form, stroke = chamber_form(brake, proportions), poses.stroke.ravel()
    axis = np.full_like(stroke, brake.linkage.axis_offset)
    face = -brake.linkage.face_distance
    start = np.stack([face - form.plate_depth + form.plate_wall + stroke, axis], axis=-1)
    return start, np.stack([np.full_like(stroke, face - form.shell), axis], axis=-1)


def chamber_spring_radii(brake: Brake, proportions: Proportions = PROPORTIONS) -> tuple[float, float]:
    """Return the radii (mm) of the chamber return spring at the plate and at the floor."""
    form = chamber_form(brake, proportions)
    return 0.42 * form.plate, min(0.86 * form.plate, 0.9 * form.floor)


def chamber_spring_points(brake: Brake, poses: Poses, proportions: Proportions = PROPORTIONS) -> Array:
    """Return the chamber return spring (states, points, 2) in the arm plane, from the plate to the floor."""
    start, end = chamber_spring_seats(brake, poses, proportions)
    return coil(start, end, *chamber_spring_radii(brake, proportions), turns=CHAMBER_TURNS)


def shoe_spring_eyes(brake: Brake, poses: Poses, proportions: Proportions = PROPORTIONS) -> tuple[Array, Array]:
    """Return where the shoe return spring hooks into the left and the right web, brake plane, (states, 2) each."""
    x, y = spring_eye(brake, proportions)
    bodies = wheel_bodies(brake, poses)
    left, right = (_carried(bodies[f"shoe_{side}"], x if side == "right" else -x, y) for side in SIDES)
    return left, right


def shoe_spring_radius(brake: Brake) -> float:
    """Return the radius (mm) of the shoe return spring's turns."""
    return 0.034 * brake.new_radius


def shoe_spring_points(brake: Brake, poses: Poses, proportions: Proportions = PROPORTIONS) -> Array:
    """Return the shoe return spring (states, points, 2) in the brake plane, hooked into the left and the right web."""
    left, right = shoe_spring_eyes(brake, poses, proportions)
    first, last = left + SHOE_HOOK * (right - left), right + SHOE_HOOK * (left - right)
    radius = shoe_spring_radius(brake)
    wave = coil(first, last, radius, radius, turns=SHOE_TURNS)
    return np.concatenate([left[:, np.newaxis], wave, right[:, np.newaxis]], axis=1)


def _carried(matrix: Array, x: float, y: float) -> Array:
    return matrix[:, 0:2] * x + matrix[:, 2:4] * y + matrix[:, 4:6]


Maker = Callable[[Brake, Poses, Proportions], Array]
SHAPES: dict[str, tuple[Maker, Plane, Verb, str, str]] = {
    "diaphragm": (
        diaphragm_points,
        "arm",
        "push",
        "Diaphragm",
        "Air on one side of it pushes the plate; near the end of its stroke it is stretched and the push falls away.",
    ),
    "chamber_return_spring": (
        chamber_spring_points,
        "arm",
        "hold",
        "Chamber return spring",
        "Pushes the plate and the rod back when the air is let out.",
    ),
    "shoe_return_spring": (
        shoe_spring_points,
        "wheel",
        "hold",
        "Shoe return spring",
        "Pulls both shoes in, so that the rollers stay on the cam.",
    ),
}
"""Name: what makes it, its plane, verb, title and what it does."""


def deforming_points(brake: Brake, poses: Poses, proportions: Proportions = PROPORTIONS) -> dict[str, Array]:
    """Return each deforming shape in every state: (states, points, 2), mm, in its plane's frame.

    NaN in states that cannot exist. The number of points of a shape is the same for every brake.
    """
    return {name: entry[0](brake, poses, proportions) for name, entry in SHAPES.items()}


def deforming(brake: Brake, poses: Poses, index: int = 0, proportions: Proportions = PROPORTIONS) -> dict[str, Outline]:
    """Return the outlines of the deforming shapes in one of the poses (flat index)."""
    points = deforming_points(brake, poses, proportions)
    return {
        name: Outline(name, plane, verb, title, does, "deforms", LineString(points[name][index]))
        for name, (_, plane, verb, title, does) in SHAPES.items()
    }
