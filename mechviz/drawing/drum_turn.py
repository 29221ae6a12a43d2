"""Which way the drum turns: an arrow in the axle's opening. It settles which shoe leads."""

from math import pi

from geometry.outlines import PROPORTIONS
from mechviz.drawing.layout import Layout
from mechviz.drawing.lettering import Text
from mechviz.drawing.note import Note
from mechviz.drawing.pushes import turning
from mechviz.drawing.scene import Scene

SHARE = 0.74
"""The arrow's radius, of the opening's."""
ENDS = (0.12 * pi, 0.78 * pi)


def drum_turn(scene: Scene, where: Layout) -> Note:
    """Return the arrow and its words; nothing where the opening has no room for them."""
    opening = (PROPORTIONS.spindle - PROPORTIONS.spindle_wall) * scene.brake.new_radius * where.scale
    x, y = where.at("wheel", 0.0, 0.0)
    texts = (
        Text("drum", x, y + 4, anchor="middle", rank="hold"),
        Text("turns", x, y + 29, anchor="middle", rank="hold"),
    )
    if max(text.width for text in texts) > 1.5 * opening:
        return Note("drum", "The way the drum turns")
    start, end = ENDS if scene.brake.drum_rotation == "counter-clockwise" else (pi - ENDS[0], pi - ENDS[1])
    arrow = turning((x, y), SHARE * opening, start, end, "hold")
    return Note("drum", "The way the drum turns", arrow.svg, texts, (arrow.room,))
