"""Every part as a shape in the picture, and what of it is seen: what stands before it cut away."""

from collections.abc import Mapping

import shapely
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from geometry.pose_table import placed
from mechviz.drawing.layout import Layout
from mechviz.drawing.scene import Scene

COARSE = 0.4
"""Picture units by which a shape may stray: labels need no more."""
THREAD = 2.0
"""Width that a line (a spring, the diaphragm) counts as, picture units."""


def part_shapes(scene: Scene, where: Layout) -> dict[str, BaseGeometry]:
    """Return every part's shape in picture units, by name, back to front."""
    shapes: dict[str, BaseGeometry] = {}
    for outline in scene.outlines:
        a, b, c, d, e, f = where.matrix(outline.plane)
        shape = affine_transform(placed(outline, scene.table, 0), [a, c, b, d, e, f])
        shape = shape if shape.area else shape.buffer(THREAD / 2)
        shapes[outline.name] = shapely.simplify(shape, COARSE)
    return shapes


def seen(scene: Scene, shapes: Mapping[str, BaseGeometry], names: tuple[str, ...]) -> BaseGeometry:
    """Return what is seen of some parts together; empty where everything is hidden or there are none of them."""
    visible: list[BaseGeometry] = []
    order = [(outline.name, outline.plane) for outline in scene.outlines]
    for place, (name, plane) in enumerate(order):
        if name in names:
            own = shapes[name]
            before = [shapes[other] for other, its in order[place + 1 :] if its == plane]
            visible.append(own.difference(shapely.union_all([other for other in before if other.intersects(own)])))
    return shapely.union_all(visible)
