"""Making shapes: arcs to a chord tolerance, curves, and set operations that are checked after every use.

``detail`` everywhere is the greatest distance (mm) between a true curve and the chord that stands for it.
"""

from collections.abc import Callable
from math import acos, ceil, cos, pi

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely.geometry import LineString, MultiPolygon, Polygon

from geometry.arrays import Array, floats
from geometry.errors import AssemblyError, Fault

Area = Polygon | MultiPolygon
Shape = Area | LineString
Point = tuple[float, float]
Complex = NDArray[np.complex128]
"""Points as x + iy, mm."""


def chords(radius: float, sweep: float, detail: float) -> int:
    """Return how many chords an arc of ``radius`` (mm) over ``sweep`` (rad) needs: at least 2."""
    step = 2 * acos(max(1 - detail / radius, 0.5))
    return max(ceil(abs(sweep) / step), 2)


def arc(centre: Point, radius: float, start: float, sweep: float, detail: float) -> Array:
    """Return the points (n, 2) of an arc from the angle ``start`` over ``sweep`` (rad, positive counter-clockwise)."""
    angle = np.linspace(start, start + sweep, chords(radius, sweep, detail) + 1)
    return np.column_stack([centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)])


def disc(centre: Point, radius: float, detail: float, hole: bool = False) -> Polygon:
    """Return a round disc, its corners on the circle; for a ``hole``, its sides on it, so that a pin always fits."""
    count = max(chords(radius, 2 * pi, detail), 12)
    angle = np.arange(count) * (2 * pi / count)
    r = radius / cos(pi / count) if hole else radius
    return Polygon(np.column_stack([centre[0] + r * np.cos(angle), centre[1] + r * np.sin(angle)]))


def polygon(*pieces: ArrayLike) -> Polygon:
    """Return the polygon whose boundary runs through the points (n, 2) of each piece in turn."""
    return Polygon(np.concatenate([floats(piece).reshape(-1, 2) for piece in pieces]))


def box(left: float, low: float, right: float, high: float) -> Polygon:
    """Return the upright rectangle between two corners."""
    return polygon([(left, low), (right, low), (right, high), (left, high)])


def bar(start: Point, end: Point, width: float, end_width: float | None = None) -> Polygon:
    """Return a straight bar from ``start`` to ``end``, ``width`` (mm) across, tapering to ``end_width``."""
    along = np.subtract(end, start)
    across = np.array([-along[1], along[0]]) / np.hypot(*along) / 2
    far = across * (width if end_width is None else end_width)
    near = across * width
    return polygon([start + near, start - near, end - far, end + far])


def sector(inner: float, outer: float, start: float, end: float, detail: float) -> Polygon:
    """Return the part of a ring about the origin, from psi = ``start`` to ``end`` (from -y towards +x)."""
    out = arc((0.0, 0.0), outer, start - pi / 2, end - start, detail)
    back = arc((0.0, 0.0), inner, end - pi / 2, start - end, detail)
    return polygon(out, back)


def sampled(curve: Callable[[Array], tuple[Array, Array]], low: float, high: float, detail: float) -> Array:
    """Return points (n, 2) of a smooth curve from parameter ``low`` to ``high``, evenly spaced in the parameter.

    A chord over a step h strays by at most h**2 / 8 times the second derivative, which is read off a coarse sampling.
    """
    coarse = np.column_stack(curve(np.linspace(low, high, 129)))
    bend = np.linalg.norm(np.diff(coarse, 2, axis=0), axis=1).max() * (128 / (high - low)) ** 2
    count = max(ceil((high - low) * np.sqrt(bend / (8 * detail))), 2)
    return np.column_stack(curve(np.linspace(low, high, count + 1)))


def sound(shape: object, part: str) -> Area:
    """Return a shape if it is one or more valid polygons of some area. Raises `AssemblyError` if it is not."""
    if isinstance(shape, Polygon | MultiPolygon) and shape.is_valid and shape.area > 0:
        return shape
    fault = Fault(part, "its figures leave no shape that could be made", "check the figures of the parts next to it")
    raise AssemblyError(fault)


def _adds_up(part: str, whole: float, *pieces: float) -> None:
    """After a set operation the areas must add up, to rounding."""
    if abs(whole - sum(pieces)) > 1e-9 * (abs(whole) + sum(abs(p) for p in pieces)):
        raise AssemblyError(Fault(part, "its outline could not be worked out", "report this brake to us"))


def joined(part: str, *shapes: Area) -> Area:
    """Return the union of shapes. Raises `AssemblyError` (naming ``part``) where it is not sound."""
    result = shapes[0]
    for shape in shapes[1:]:
        union = sound(shapely.union(result, shape), part)
        _adds_up(part, union.area, result.area, shape.area, -shapely.intersection(result, shape).area)
        result = union
    return result


def cut(part: str, shape: Area, *tools: Area) -> Area:
    """Return a shape less every tool. Raises `AssemblyError` (naming ``part``) where nothing sound is left."""
    for tool in tools:
        left = sound(shapely.difference(shape, tool), part)
        _adds_up(part, shape.area, left.area, shapely.intersection(shape, tool).area)
        shape = left
    return shape


def common(part: str, shape: Area, *others: Area) -> Area:
    """Return what shapes have in common. Raises `AssemblyError` (naming ``part``) where that is nothing."""
    for other in others:
        shape = sound(shapely.intersection(shape, other), part)
    return shape


def grown(shape: Area, distance: float, detail: float) -> Area:
    """Return a shape grown (or, negative, shrunk) by a distance (mm) all round, its corners rounded."""
    segments = ceil(chords(abs(distance), pi / 2, detail))
    result: Area = shape.buffer(distance, quad_segs=segments)
    return result


def rounded(part: str, shape: Area, radius: float, detail: float, hollow: float | None = None) -> Area:
    """Return a shape, its corners rounded to ``radius`` and its hollows filled to ``hollow`` (mm, else the same)."""
    fillet = radius if hollow is None else hollow
    filled = grown(grown(shape, fillet, detail), -fillet, detail) if fillet else shape
    eased = grown(grown(filled, -radius, detail), radius, detail) if radius else filled
    return sound(shapely.simplify(eased, 0.5 * detail), part)


def as_complex(shape: Area) -> Complex:
    """Return the points of a shape as complex numbers."""
    points = floats(shapely.get_coordinates(shape))
    return points[:, 0] + 1j * points[:, 1]


def as_polygon(points: Complex) -> Polygon:
    """Return the polygon through points given as complex numbers."""
    return Polygon(np.column_stack([points.real, points.imag]))


def mirrored(shape: Area) -> Area:
    """Return a shape mirrored in the y axis: the left part made from the right one."""
    result: Area = shapely.transform(shape, lambda points: points * np.array([-1.0, 1.0]))
    return result


def piece_at(part: str, shape: Area, point: Point) -> Polygon:
    """Return the one polygon of a shape that is nearest to a point, the others dropped."""
    pieces = [p for p in shapely.get_parts(sound(shape, part)) if isinstance(p, Polygon)]
    return min(pieces, key=lambda p: p.distance(shapely.Point(point)))


def points_in(shape: Shape) -> int:
    """Return how many points describe a shape."""
    return int(shapely.get_num_coordinates(shape))
