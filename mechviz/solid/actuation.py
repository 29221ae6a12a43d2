"""What turns the cam, as solids: slack adjuster, clevis and pushrod, the camshaft in its tube, the bracket.

Bodies of the arm plane have their own frame in the outlines' plane; z = 0 is the middle of that plane.
"""

import shapely
from manifold3d import Manifold

from geometry.brake import Brake
from geometry.outlines import Outline
from geometry.outlines.cam import camshaft_radius
from geometry.outlines.chamber_form import chamber_form
from geometry.outlines.proportions import PROPORTIONS
from geometry.outlines.pushrod import clevis_reach, rod_radius
from geometry.outlines.shapes import Area, bar, box, cut, disc, joined, rounded
from mechviz.solid.making import prism, round_bar, turned, united
from mechviz.solid.places import WIDTHS, Places

PART = "linkage.arm_length"


def slack_adjuster(outline: Outline, brake: Brake, where: Places) -> Manifold:
    """Return the slack adjuster: a blade with the clevis holes, thicker at the boss with the worm in it."""
    thick = thicker(outline, brake)
    return prism(outline.geometry, (-where.blade, where.blade)) + prism(thick, (-where.boss, where.boss))


def thicker(outline: Outline, brake: Brake) -> Area:
    """Return that part of the adjuster's outline which is as thick as its boss."""
    length = brake.linkage.arm_length
    top = 1.28 * PROPORTIONS.adjuster_boss * length
    part = shapely.intersection(outline.geometry, shapely.box(-length, -length, length, top))
    return max((p for p in shapely.get_parts(part)), key=lambda p: p.area)


def camshaft_end(outline: Outline, where: Places) -> Manifold:
    """Return the camshaft's splined end, arm's own frame: it stands out of the boss, away from the wheel.

    The arm's frame looks along the shaft the other way (`mechviz.solid.frames`): away from the wheel is -z.
    """
    low, high = where.shaft_end
    return prism(outline.geometry, (where.arm - high, where.arm - low))


def clevis(outline: Outline, brake: Brake, where: Places, detail: float) -> Manifold:
    """Return the clevis: two ears round the arm's end, a neck, and the jam nut on the rod."""
    reach, half = clevis_reach(brake), rod_radius(brake)
    slot = box(-0.50 * reach, -reach, reach, reach)
    ears = prism(outline.geometry, (-where.fork, where.fork)) - prism(slot, (-where.blade * 1.12, where.blade * 1.12))
    behind = box(-2 * reach, -reach, -0.79 * reach, reach)
    nut = box(-1.0 * reach, 0.0, -0.78 * reach, 1.75 * half)
    ears = ears - prism(behind, (-2 * where.fork, 2 * where.fork))
    return united(ears, turned(nut, max(detail, 1.2)))


def clevis_pin(brake: Brake, where: Places, detail: float) -> Manifold:
    """Return the clevis pin with its head."""
    radius = PROPORTIONS.clevis_pin * brake.linkage.arm_length
    head = where.fork, where.fork + 0.5 * radius
    shank = -where.fork - 0.8 * radius, head[1]
    return round_bar(radius, shank, detail) + round_bar(1.35 * radius, head, detail)


def pushrod(outline: Outline, detail: float) -> Manifold:
    """Return the pushrod, round, own frame: origin its pivot, +x along it."""
    return turned(outline.geometry, detail)


def shaft_tube(brake: Brake, where: Places, detail: float) -> Manifold:
    """Return the tube that the camshaft runs in, from the spider nearly to the adjuster. Brake's frame."""
    inner = 1.08 * camshaft_radius(brake)
    centre = (0.0, brake.shoe.cam_distance)
    ring = cut(PART, disc(centre, 1.45 * inner, detail), disc(centre, inner, detail))
    low, high = where.tube
    hanger = high - 0.10 * (high - low) - 0.06 * brake.lining.width, high - 0.10 * (high - low)
    return prism(ring, where.tube) + prism(_hanger(brake, detail), hanger)


def _hanger(brake: Brake, detail: float) -> Area:
    """The strap that holds the tube's inner end to the axle, brake plane."""
    outer, centre = PROPORTIONS.spindle * brake.new_radius, (0.0, brake.shoe.cam_distance)
    shaft = camshaft_radius(brake)
    whole = joined(
        PART,
        bar((0.0, 0.0), centre, 2.2 * outer, 3.4 * shaft),
        disc(centre, 2.1 * shaft, detail),
        disc((0.0, 0.0), 1.12 * outer, detail),
    )
    whole = rounded(PART, whole, 0.0, detail, hollow=0.4 * outer)
    return cut(PART, whole, disc((0.0, 0.0), outer, detail), disc(centre, 1.2 * shaft, detail))


def bracket(outline: Outline, brake: Brake, detail: float) -> Manifold:
    """Return the bracket, arm plane: a plate square to the rod with an opening for it, on a leg from the axle.

    The leg is the outline below the plate's lower edge. Seen from the side the plate is that of the outline.
    """
    return united(
        prism(leg(outline, brake), (-0.30 * plate_half(brake), 0.30 * plate_half(brake))),
        bracket_plate(brake, detail),
    )


def plate_half(brake: Brake) -> float:
    """Return half the width of the bracket's plate along the shaft, mm."""
    return WIDTHS.bracket * chamber_form(brake).outer


def leg(outline: Outline, brake: Brake) -> Area:
    """Return the bracket's leg up to just inside its plate, arm plane."""
    _, low, _, _ = outline.geometry.bounds
    form = chamber_form(brake)
    under = brake.linkage.axis_offset - 1.1 * form.opening
    shape = shapely.intersection(outline.geometry, shapely.box(-9e3, low - 1.0, 9e3, under))
    return max((p for p in shapely.get_parts(shape)), key=lambda p: p.area)


def bracket_plate(brake: Brake, detail: float) -> Manifold:
    """Return the bracket's plate, arm plane: as thick and as high as in the outline, with a round opening."""
    form, half = chamber_form(brake), plate_half(brake)
    axis, face = brake.linkage.axis_offset, -brake.linkage.face_distance
    thick = PROPORTIONS.bracket_plate * brake.linkage.arm_length
    high = 0.78 * form.outer
    plate = rounded(PART, box(-half, -high, half, high), 0.3 * half, detail)
    opened = cut(PART, plate, disc((0.0, 0.0), 1.1 * form.opening, detail))
    # the section's x and y become the arm plane's -z and y, its extrusion the arm plane's x
    return prism(opened, (0.0, thick)).rotate((0.0, 90.0, 0.0)).translate((face, axis, 0.0))


def studs(outline: Outline, brake: Brake, detail: float) -> Manifold:
    """Return the studs and nuts that hold the chamber, each one turned about its own axis. Arm plane."""
    axis = brake.linkage.axis_offset
    pieces = [shapely.transform(p, lambda q: q - [0.0, axis]) for p in shapely.get_parts(outline.geometry)]
    return united(*(_round(piece, detail).translate((0.0, axis, 0.0)) for piece in pieces))


def _round(piece: Area, detail: float) -> Manifold:
    _, low, _, high = piece.bounds
    middle = 0.5 * (low + high)
    return turned(shapely.transform(piece, lambda q: q - [0.0, middle]), detail).translate((0.0, middle, 0.0))
