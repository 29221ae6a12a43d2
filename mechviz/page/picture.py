"""The picture that the page moves: the drawing's parts, the notes that stay, and empty layers for those that change."""

from typing import Any

import numpy as np
from shapely.geometry import Polygon
from shapely.ops import unary_union

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.drum import drum_radius
from geometry.outlines import Outline
from mechviz.drawing.air import air_back, rim_of
from mechviz.drawing.drum_turn import drum_turn
from mechviz.drawing.layout import PARKING, Layout
from mechviz.drawing.note import Note
from mechviz.drawing.parts import planes
from mechviz.drawing.picture import shaft
from mechviz.drawing.scene import Scene
from mechviz.look import svg_defs
from mechviz.look.measures import plain
from mechviz.page.noted import note_sizes

CHAMBER = ("chamber_pressure", "chamber_non_pressure", "clamp_ring", "parking_housing")

NOTES = ("magnifier", "cam", "verdict", "stroke", "push", "gap", "chain", "angle")
"""Layers that the script draws into, back to front."""


def page_picture(scene: Scene, where: Layout, named: Note) -> str:
    """Return the SVG of a brake as found, released, with its parts ``named``, that the script is to move."""
    title = "The brake: wheel plane and arm plane on one camshaft"
    still = shaft(where).svg() + drum_turn(scene, where).svg() + named.svg()
    notes = "".join(f'<g id="note-{name}"></g>' for name in NOTES)
    return (
        f'<svg class="mv" viewBox="0 0 {plain(where.width)} {plain(where.height)}" role="group" aria-label="{title}"'
        f' style="--scale:{plain(where.scale)}">'
        f"<defs>{svg_defs(where.height)}</defs>{planes(scene, where)}{still}{notes}</svg>"
    )


def drawn_facts(brake: Brake, condition: Condition, outlines: tuple[Outline, ...], where: Layout) -> dict[str, Any]:
    """Return what the script must know of how a brake is drawn."""
    _, diameter, temperature, _ = condition.arrays
    bounds = {outline.name: outline.geometry.bounds for outline in outlines}
    return {
        "layout": where.data(),
        "drumDrawn": float(drum_radius(brake.drum, diameter, temperature)),
        "drumOuter": bounds["drum"][3],
        "notes": note_sizes(brake, outlines, where),
        "chamberHull": hull_of([o for o in outlines if o.name in CHAMBER]),
        "airBack": air_back(*rim_of(outlines), brake.linkage.axis_offset),
    }


def hull_of(outlines: list[Outline]) -> list[list[float]]:
    """Return what is seen of the cut parts from outside: the hull of the chamber and that of a parking section, mm."""
    pieces = [o for o in outlines if o.name not in PARKING], [o for o in outlines if o.name in PARKING]
    hull = unary_union([unary_union([o.geometry for o in piece]).convex_hull for piece in pieces if piece])
    hull = hull if isinstance(hull, Polygon) else hull.convex_hull
    assert isinstance(hull, Polygon)
    return np.round(np.array(hull.exterior.coords[:-1]), 2).tolist()
