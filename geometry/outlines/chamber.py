"""The service chamber, cut away: both halves, clamp ring, port, studs, and the plate that moves.

Shapes are made in *depth* (mm behind the mounting face) and height from the centreline, and placed in the arm plane
with depth running to -x.
"""

import numpy as np
import shapely

from geometry.brake import Brake
from geometry.outlines.chamber_form import ChamberForm, chamber_form
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, box, common, cut, grown, joined, polygon, rounded

PART = "chamber.rated_stroke"


def in_arm_plane(brake: Brake, shape: Area) -> Area:
    """Return a shape given in depth and height, in the arm plane."""
    face = np.array([-brake.linkage.face_distance, brake.linkage.axis_offset])
    result: Area = shapely.transform(shape, lambda points: face + points * np.array([-1.0, 1.0]))
    return result


def pot(depth: float, narrow: float, rim: float, wide: float, shell: float, detail: float) -> tuple[Area, Area]:
    """Return the inside and the outside of a pressed pot: flat bottom at ``depth``, open at ``rim`` (a depth too).

    ``narrow`` is half the flat's height, ``wide`` half the rim's; the shell lies outside both. All mm.
    """
    away = 1.0 if rim > depth else -1.0
    bend = 0.35 * min(narrow, abs(rim - depth))
    far = rim + away * (4 * shell + 3 * bend)
    inside = polygon([(depth, -narrow), (rim, -wide), (far, -wide), (far, wide), (rim, wide), (depth, narrow)])
    inside = rounded(PART, inside, bend, detail)
    keep = box(min(depth - away * 2 * shell, rim), -2 * wide, max(depth - away * 2 * shell, rim), 2 * wide)
    return inside, common(PART, grown(inside, shell, detail), keep)


def flange(form: ChamberForm, clamp: float, side: float) -> Area:
    """Return the rim that holds a sheet clamped at a depth: above and below, on one side of it (+1 the deeper)."""
    near = clamp + side * form.diaphragm / 2
    far = near + side * form.shell
    low, high, top = min(near, far), max(near, far), 0.965 * form.outer
    inner = form.sheet - 0.2 * form.shell
    return joined(PART, box(low, inner, high, top), box(low, -top, high, -inner))


def non_pressure_half(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the half that is bolted to the bracket; the rod comes out of its floor. Arm plane."""
    form = chamber_form(brake, proportions)
    rim = form.clamp_depth - form.diaphragm / 2
    inside, outside = pot(form.shell, form.floor, rim, form.sheet, form.shell, detail)
    shell = joined(PART, cut(PART, outside, inside), flange(form, form.clamp_depth, -1.0))
    shell = cut(PART, shell, box(-form.outer, -form.opening, 2 * form.shell, form.opening))
    does = "Is bolted to the bracket and holds the return spring; the pushrod comes out of it."
    title = "Non-pressure half of the chamber"
    return Outline("chamber_non_pressure", "arm", "hold", title, does, "ground_arm", in_arm_plane(brake, shell))


def pressure_half(
    brake: Brake, detail: float, parking: bool = False, proportions: Proportions = PROPORTIONS
) -> Outline:
    """Return the half that the air comes into, with its port; with a parking section its back is that one's floor."""
    form = chamber_form(brake, proportions)
    rim = form.clamp_depth + form.diaphragm / 2
    inside, outside = pot(form.cap_depth, 0.96 * form.floor, rim, form.sheet, form.shell, detail)
    port = box(*_port_walls(form, parking))
    shell = joined(PART, cut(PART, joined(PART, outside, port), inside), flange(form, form.clamp_depth, 1.0))
    holes = [_inset(_port_walls(form, parking), 0.03 * form.outer, form.shell, parking)]
    if parking:
        stem = stem_radius(form)
        holes.append(box(form.cap_depth - form.shell, -stem, form.cap_depth + 3 * form.shell, stem))
    does = "Air let into it pushes the diaphragm and the pushrod out."
    shape = in_arm_plane(brake, cut(PART, shell, *holes))
    return Outline("chamber_pressure", "arm", "hold", "Pressure half of the chamber", does, "ground_arm", shape)


def stem_radius(form: ChamberForm) -> float:
    """Return half the thickness (mm) of the parking section's push stem."""
    return 0.075 * form.outer


Corners = tuple[float, float, float, float]


def port_boss(brake: Brake, parking: bool = False, proportions: Proportions = PROPORTIONS) -> Area:
    """Return the boss of the service port on the pressure half, arm plane: a box, its hole left out."""
    return in_arm_plane(brake, box(*_port_walls(chamber_form(brake, proportions), parking)))


def _port_walls(form: ChamberForm, parking: bool) -> Corners:
    """The port's boss: on the back of the pressure half, or below where a parking section is in the way."""
    half = 0.075 * form.outer
    if parking:
        middle = 0.35 * form.clamp_depth + 0.65 * form.cap_depth
        return middle - half, -1.0 * form.outer, middle + half, -0.86 * form.sheet
    height = -0.36 * form.outer
    return form.cap_depth + 0.5 * form.shell, height - half, form.cap_depth + 0.11 * form.outer, height + half


def _inset(walls: Corners, wall: float, over: float, upright: bool) -> Area:
    """A box thinner than ``walls`` by ``wall`` on both sides, and longer by a good ``over`` at both ends."""
    left, low, right, high = walls
    if upright:
        return box(left + wall, low - over, right - wall, high + 4 * over)
    return box(left - 2 * over, low + wall, right + over, high - wall)


def clamp_ring(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the clamp ring's section, above and below, arm plane."""
    form = chamber_form(brake, proportions)
    half = form.diaphragm / 2 + form.shell
    inner, outer = 0.925 * form.outer, form.outer
    lip, wall = 0.6 * form.shell, 0.9 * form.shell
    c, top = form.clamp_depth, 0.968 * form.outer
    channel = polygon([
        (c - half - wall - lip, inner), (c - half, inner), (c - half, top), (c + half, top), (c + half, inner),
        (c + half + wall + lip, inner), (c + half + wall, outer), (c - half - wall, outer),
    ])  # fmt: skip
    below = shapely.transform(channel, lambda points: points * np.array([1.0, -1.0]))
    ring = joined(
        PART, rounded(PART, channel, 0.1 * form.shell, detail), rounded(PART, below, 0.1 * form.shell, detail)
    )
    does = "Holds the two halves and the diaphragm together; its outside diameter tells the chamber's size."
    return Outline("clamp_ring", "arm", "hold", "Clamp ring", does, "ground_arm", in_arm_plane(brake, ring))


def air_port(brake: Brake, parking: bool = False, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the hose end in the service port, arm plane."""
    form = chamber_form(brake, proportions)
    left, low, right, high = _port_walls(form, parking)
    more, nut, hose = 0.025 * form.outer, 0.06 * form.outer, 0.16 * form.outer
    pieces = (
        (box(left - more, low - nut, right + more, low), box(left + more, low - hose, right - more, low - 0.5 * nut))
        if parking
        else (
            box(right, low - more, right + nut, high + more),
            box(right + 0.5 * nut, low + more, right + hose, high - more),
        )
    )
    does = "Lets the air from the brake pedal's valve in and out."
    shape = in_arm_plane(brake, joined(PART, *pieces))
    return Outline("air_port", "arm", "push", "Service air port", does, "ground_arm", shape)


def studs(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the two studs and nuts that hold the chamber to its bracket, arm plane."""
    form = chamber_form(brake, proportions)
    plate = proportions.bracket_plate * brake.linkage.arm_length
    half, pieces = 0.038 * form.outer, list[Area]()
    for side in (1.0, -1.0):
        y = side * proportions.stud_spread * form.outer
        stem = box(-plate - 4.2 * half, y - half, form.shell, y + half)
        nut = box(-plate - 2.2 * half, y - 2.0 * half, -plate, y + 2.0 * half)
        pieces.append(rounded(PART, joined(PART, stem, nut), 0.2 * half, detail))
    does = "Hold the chamber's mounting face to its bracket."
    return Outline(
        "studs", "arm", "hold", "Mounting studs", does, "ground_arm", in_arm_plane(brake, joined(PART, *pieces))
    )


def push_plate(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the plate under the diaphragm with its stem, own frame: origin the pushrod's pivot, the rod at +x."""
    form = chamber_form(brake, proportions)
    rod = proportions.rod * brake.linkage.arm_length
    back, front = -form.stem, -form.stem + form.plate_wall
    disc_ = box(back, -form.plate, front, form.plate)
    collar = box(front - 0.1 * form.plate_wall, -2.2 * rod, front + 0.9 * form.plate_wall, 2.2 * rod)
    parts = [disc_, collar] if form.stem < 1.5 * form.plate_wall else [disc_, collar, box(front, -rod, 0.0, rod)]
    shape = rounded(PART, joined(PART, *parts), 0.3 * form.plate_wall, detail, hollow=0.3 * form.plate_wall)
    does = "Is pushed by the diaphragm and pushes the rod."
    return Outline("push_plate", "arm", "push", "Push plate", does, "plate", shape)
