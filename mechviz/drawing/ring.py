"""A line round one part, to say that it is the one that is spoken of."""

import shapely
from shapely.geometry.base import BaseGeometry

from mechviz.drawing.layout import Layout
from mechviz.drawing.marks import line
from mechviz.drawing.placed import part_shapes
from mechviz.drawing.scene import Scene

CLEAR = 7.0
"""From the part to the line round it, picture units."""


def ring(scene: Scene, where: Layout, name: str) -> str:
    """Return the line round a part, by its outline's name, in picture units; nothing where it is not drawn."""
    shape = part_shapes(scene, where).get(name) if name else None
    return "" if shape is None else "".join(_round(one) for one in _bodies(shape))


def _bodies(shape: BaseGeometry) -> list[BaseGeometry]:
    round_it = shape.buffer(CLEAR)
    return [one for one in shapely.get_parts(round_it) if one.geom_type == "Polygon"]


def _round(body: BaseGeometry) -> str:
    return line(list(shapely.get_coordinates(shapely.get_exterior_ring(body)))[:-1], "mv-named", closed=True)
