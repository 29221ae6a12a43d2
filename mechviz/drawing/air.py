"""The air in the chamber: the room between the diaphragm and the pressure half's inner wall."""

import numpy as np
from shapely import get_parts
from shapely.geometry import Point, Polygon, box
from shapely.geometry.polygon import orient

from geometry.brake import Brake
from geometry.outlines import Outline, parking_floor
from mechviz.drawing.marks import element, through

FULL = 0.85
"""MPa at which the air wears its full colour."""
LEAST = 0.3
"""Share of the colour that any air has that pushes."""


def air_back(half: Outline, rim: float, axis: float) -> list[list[float]]:
    """Return the inner wall of the pressure half, from the diaphragm's lower rim round the back to its upper rim.

    Points (mm) of the arm plane; none where the half has no room in it.
    """
    shell = half.geometry
    x0, y0, _, y1 = shell.bounds
    inside = shell.convex_hull.intersection(box(x0, y0, rim, y1)).difference(shell)
    middle = Point(0.5 * (x0 + rim), axis)
    room = next((piece for piece in get_parts(inside) if piece.contains(middle)), None)
    if not isinstance(room, Polygon):
        return []
    ring = np.array(orient(room, -1.0).exterior.coords[:-1])  # clockwise: from the lower rim to the back
    at_rim = ring[:, 0] > ring[:, 0].max() - 1e-6
    lower = int(np.argmin(np.where(at_rim, ring[:, 1], np.inf)))
    walk = np.roll(ring, -lower, axis=0)
    upper = int(np.argmax(np.where(np.roll(at_rim, -lower), walk[:, 1], -np.inf)))
    return np.round(walk[: upper + 1], 2).tolist()


def rim_of(outlines: tuple[Outline, ...]) -> tuple[Outline, float]:
    """Return the pressure half, and where the diaphragm is clamped (x, mm)."""
    by_name = {outline.name: outline for outline in outlines}
    return by_name["chamber_pressure"], float(by_name["diaphragm"].geometry.coords[0][0])


def air(outlines: tuple[Outline, ...], axis: float, pressure: float | None) -> str:
    """Return the air as a path of the arm plane, the fuller the higher its pressure (MPa); ``axis`` in mm.

    No pressure that is known, as on the way to first contact, is the least that pushes.
    """
    sheet = next(outline for outline in outlines if outline.name == "diaphragm").geometry
    points = [(x, y) for x, y in (*sheet.coords, *air_back(*rim_of(outlines), axis))]
    share = min(max((pressure or 0.0) / FULL, LEAST), 1.0)
    return element("path", d=through(points, closed=True), class_="air", opacity=round(share, 3), aria_hidden="true")


def parking_air(brake: Brake, outlines: tuple[Outline, ...]) -> str:
    """Return the air that holds the power spring back, in its full colour; nothing where there is no such spring."""
    sheet = next((outline for outline in outlines if outline.name == "parking_diaphragm"), None)
    if sheet is None:
        return ""
    points = [*sheet.geometry.coords, *parking_floor(brake).tolist()]
    data = through([(x, y) for x, y in points], closed=True)
    return element("path", d=data, class_="air air-parking", aria_hidden="true")
