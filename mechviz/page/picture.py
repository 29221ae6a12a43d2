"""The picture that the page moves: the drawing's parts at the brake as found, and empty layers for the notes."""

from typing import Any

import numpy as np
from shapely import get_parts
from shapely.geometry import Point, Polygon, box
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.drum import drum_radius
from geometry.found import condition_of
from geometry.outlines import Outline
from geometry.setup import Setup
from mechviz.drawing.layout import Layout, layout
from mechviz.drawing.parts import planes
from mechviz.drawing.scene import scene_at
from mechviz.look import svg_defs
from mechviz.look.measures import plain

CHAMBER = ("chamber_pressure", "chamber_non_pressure", "clamp_ring")

NOTES = ("shaft", "magnifier", "labels", "push", "cam", "stroke", "angle", "verdict", "figures", "gap")
"""Layers that the script draws into, back to front."""


def page_picture(setup: Setup) -> tuple[str, dict[str, Any]]:
    """Return the SVG, released, and what the script must know of how it is drawn."""
    condition = condition_of(setup)
    scene = scene_at(setup, condition, "released")
    where = layout(setup.brake, scene.outlines)
    title = "The brake: wheel plane and arm plane on one camshaft"
    notes = "".join(f'<g id="note-{name}"></g>' for name in NOTES)
    svg = (
        f'<svg class="mv" viewBox="0 0 {plain(1600)} {plain(900)}" role="group" aria-label="{title}">'
        f"<defs>{svg_defs(900)}</defs>{planes(scene, where)}{notes}</svg>"
    )
    return svg, _drawn(setup.brake, condition, scene.outlines, where)


def _drawn(brake: Brake, condition: Condition, outlines: tuple[Outline, ...], where: Layout) -> dict[str, Any]:
    _, diameter, temperature, _ = condition.arrays
    bounds = {outline.name: outline.geometry.bounds for outline in outlines}
    chambers = [b for name, b in bounds.items() if name in CHAMBER]
    return {
        "layout": where.data(),
        "drumDrawn": float(drum_radius(brake.drum, diameter, temperature)),
        "drumOuter": bounds["drum"][3],
        "rollerSpread": brake.shoe.roller_spread,
        "chamberBottom": min(b[1] for b in chambers),
        "chamberHull": _hull([o for o in outlines if o.name in CHAMBER]),
        "airBack": air_back(*_rim(outlines), brake.linkage.axis_offset),
    }


def _hull(outlines: list[Outline]) -> list[list[float]]:
    """Return what is seen of a cut part from outside: its hull, mm."""
    hull = unary_union([outline.geometry for outline in outlines]).convex_hull
    assert isinstance(hull, Polygon)
    return np.round(np.array(hull.exterior.coords[:-1]), 2).tolist()


def _rim(outlines: tuple[Outline, ...]) -> tuple[Outline, float]:
    """The pressure half, and where the diaphragm is clamped (x, mm)."""
    by_name = {outline.name: outline for outline in outlines}
    return by_name["chamber_pressure"], float(by_name["diaphragm"].geometry.coords[0][0])


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
