"""Making solids from outlines: extruded, turned and swept, closed by construction.

The set operations are those of manifold3d, whose results are always closed. All lengths are mm. ``detail`` is the
greatest distance between a true round and the chord that stands for it, as it is for outlines.
"""

from math import pi

import numpy as np
import shapely
from manifold3d import CrossSection, FillRule, Manifold
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from geometry.arrays import Array, floats
from geometry.outlines.shapes import chords

Span = tuple[float, float]

CREASE = 32.0
"""Edges that bend by more than this (degrees) are seen as edges."""


def section(shape: BaseGeometry) -> CrossSection:
    """Return polygons as a cross section. Raises ValueError for a shape without area."""
    rings = [
        np.asarray(shapely.get_coordinates(ring)[:-1], dtype=np.float64)
        for piece in shapely.get_parts(shape)
        if isinstance(piece, Polygon)
        for ring in (piece.exterior, *piece.interiors)
    ]
    if not rings:
        raise ValueError("a solid needs a shape with an area")
    return CrossSection(rings, FillRule.EvenOdd)


def prism(shape: BaseGeometry, span: Span) -> Manifold:
    """Return a shape of the x-y plane, extruded from the lower to the higher z."""
    low, high = span
    return Manifold.extrude(section(shape), high - low).translate((0.0, 0.0, low))


def round_bar(radius: float, span: Span, detail: float, centre: tuple[float, float] = (0.0, 0.0)) -> Manifold:
    """Return a round bar along z."""
    low, high = span
    bar = Manifold.cylinder(high - low, radius, radius, chords(radius, 2 * pi, detail))
    return bar.translate((*centre, low))


def turned(shape: BaseGeometry, detail: float) -> Manifold:
    """Return what comes of turning the half of a section above the x axis round that axis: a lathe's work along x."""
    low, _, high, above = shape.bounds
    half = shapely.intersection(shape, shapely.box(low - 1.0, 0.0, high + 1.0, above + 1.0))
    upright = shapely.transform(half, lambda points: points[:, ::-1])
    standing = Manifold.revolve(section(upright), chords(above, 2 * pi, detail))
    return standing.transform(np.array([[0.0, 0.0, 1.0, 0.0], [1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0]]))


def swept(centre_line: Array, radius: float, sides: int) -> Manifold:
    """Return a round wire along the points (n, 3) of a curve, its ends flat."""
    points = np.asarray(centre_line, dtype=np.float64)
    side, up = _along(points)
    last = len(points) - 1

    def placed(corners: Array) -> Array:
        at = np.rint(corners[:, 2] * last).astype(np.intp)
        return points[at] + corners[:, :1] * side[at] + corners[:, 1:2] * up[at]

    wire = Manifold.extrude(CrossSection.circle(radius, sides), 1.0, last - 1)
    return wire.warp_batch(placed)


def _along(points: Array) -> tuple[Array, Array]:
    """Two directions (n, 3) square to a curve in every point, carried along it without a twist."""
    way = np.gradient(points, axis=0)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    side = np.empty_like(points)
    side[0] = np.cross(way[0], np.eye(3)[np.argmin(np.abs(way[0]))])
    for k in range(1, len(points)):
        side[k] = side[k - 1] - way[k] * (side[k - 1] @ way[k])
    side /= np.linalg.norm(side, axis=1, keepdims=True)
    return side, floats(np.cross(way, side))


def united(*solids: Manifold) -> Manifold:
    """Return solids as one."""
    result = solids[0]
    for solid in solids[1:]:
        result = result + solid
    return result
