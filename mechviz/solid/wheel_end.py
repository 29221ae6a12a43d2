"""What comes off before the brake is seen: wheel and drum; and the axle with its hub, for the surroundings."""

from math import cos, pi, sin

from manifold3d import Manifold
from shapely import Polygon, get_parts

from geometry.brake import Brake
from geometry.outlines import Outline
from geometry.outlines.proportions import PROPORTIONS
from geometry.outlines.shapes import Area, box, cut, disc, joined, polygon, rounded
from mechviz.solid.making import prism, round_bar, turned, united
from mechviz.solid.places import Places

PART = "foundation.drum_diameter"
STUDS = 10
BORE, CIRCLE, FLANGE = 0.50, 0.66, 0.80
"""Radii of the drum flange's bore, of its bolt circle and of the hub's flange, as shares of the drum's radius."""
HOLE, STUD = 0.030, 0.024
RIM, TYRE = 1.36, 2.42
"""Radii of the wheel's rim and of the tyre, as shares of the drum's radius: it has to clear the drum."""


def bolts(brake: Brake) -> list[tuple[float, float]]:
    """Return the centres of the wheel studs, brake plane, mm."""
    radius = CIRCLE * brake.new_radius
    return [(radius * cos(a), radius * sin(a)) for a in (2 * pi * (k + 0.5) / STUDS for k in range(STUDS))]


def drum_flange(brake: Brake, ring: Outline, detail: float) -> Area:
    """Return the drum's end plate with its bore and the holes for the wheel's studs, brake plane."""
    outer = joined(PART, *(Polygon(piece.exterior) for piece in get_parts(ring.geometry)))
    bore = disc((0.0, 0.0), BORE * brake.new_radius, detail)
    holes = [disc(place, HOLE * brake.new_radius, detail) for place in bolts(brake)]
    return cut(PART, outer, bore, *holes)


def drum(brake: Brake, ring: Outline, where: Places, detail: float) -> Manifold:
    """Return the drum: the ring with the friction surface, and the plate that is bolted to the hub."""
    return prism(ring.geometry, where.drum) + prism(drum_flange(brake, ring, detail), where.drum_flange)


def hub(brake: Brake, where: Places, detail: float) -> Manifold:
    """Return the hub: a flange with the wheel's studs, and the barrel that runs on the spindle."""
    r, w = brake.new_radius, where.lining[1] - where.lining[0]
    low, high = where.hub_flange
    barrel, cap = (low - 0.42 * w, high + 0.30 * w), (low - 0.48 * w, low - 0.30 * w)
    solid = united(
        round_bar(FLANGE * r, where.hub_flange, detail),
        round_bar(0.36 * r, (low, barrel[1]), detail),
        round_bar(0.94 * BORE * r, (where.drum_flange[0] - 0.02 * w, low), detail),
        round_bar(0.30 * r, (barrel[0], low), detail),
        round_bar(0.24 * r, cap, detail),
        *(round_bar(STUD * r, (where.drum_flange[0] - 0.22 * w, high), detail, place) for place in bolts(brake)),
    )
    return solid - round_bar(1.02 * PROPORTIONS.spindle * r, (high - 0.05 * w, barrel[1] + 1.0), detail)


def spindle(brake: Brake, where: Places, detail: float) -> Manifold:
    """Return the end of the axle that the hub runs on: a step thinner than the axle tube."""
    radius = PROPORTIONS.spindle * brake.new_radius
    return round_bar(0.97 * radius, (where.hub_flange[1] + 0.02 * brake.lining.width, where.spider[0]), detail)


def axle(outline: Outline, brake: Brake, where: Places) -> Manifold:
    """Return the axle's tube from the spider inwards, its outline that of the arm plane moved to the drum's centre."""
    return prism(outline.geometry, where.axle).translate((0.0, brake.shoe.cam_distance, 0.0))


def wheel(brake: Brake, where: Places, detail: float) -> Manifold:
    """Return rim and tyre, turned: what stands before everything when the brake is not taken apart."""
    rim, tyre = wheel_section(brake, where, 8 * detail)
    return turned(joined(PART, rim, tyre), 4 * detail).rotate((0.0, -90.0, 0.0))


def wheel_section(brake: Brake, where: Places, detail: float) -> tuple[Area, Area]:
    """Return the sections of rim with disc, and of the tyre: x runs along the shaft to the chamber, y is the radius."""
    r, w = brake.new_radius, brake.lining.width
    face = where.drum_flange[0]
    middle, half, wall = face + 0.45 * w, 0.62 * w, 0.022 * r
    plate = polygon([
        (face - 0.09 * w, 0.5 * r), (face - 0.09 * w, 1.20 * r), (middle - 0.55 * half, RIM * r),
        (middle - 0.42 * half, RIM * r), (face, 1.14 * r), (face, 0.5 * r),
    ])  # fmt: skip
    well = box(middle - half, (RIM - 0.02) * r, middle + half, (RIM + 0.03) * r)
    lips = [box(middle + s * half - wall, RIM * r, middle + s * half + wall, (RIM + 0.11) * r) for s in (-1, 1)]
    rim = joined(PART, well, plate, *lips)
    tyre = polygon([
        (middle - 0.90 * half, (RIM + 0.02) * r), (middle - 1.12 * half, 1.72 * r), (middle - 1.06 * half, TYRE * r),
        (middle + 1.06 * half, TYRE * r), (middle + 1.12 * half, 1.72 * r), (middle + 0.90 * half, (RIM + 0.02) * r),
    ])  # fmt: skip
    return rim, rounded(PART, tyre, 0.12 * r, detail)
