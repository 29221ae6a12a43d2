"""The names of the parts on the page: placed once, where nothing comes by whatever the brake does."""

from collections.abc import Sequence

import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from geometry.condition import Condition
from geometry.setup import Setup
from mechviz.drawing.angle import ArmAngle
from mechviz.drawing.drum_turn import drum_turn
from mechviz.drawing.layout import HEIGHT, MARGIN, NAMED, Box, Layout
from mechviz.drawing.lettering import Text
from mechviz.drawing.magnifier import magnifier
from mechviz.drawing.names import Name, names
from mechviz.drawing.note import Note
from mechviz.drawing.placed import part_shapes, seen
from mechviz.drawing.placing import REACH, Room, Wanted, union
from mechviz.drawing.pushes import pushes
from mechviz.drawing.rule import stroke_rule
from mechviz.drawing.scene import Scene, scene_at
from mechviz.drawing.turn import cam_turn

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Strokes that stand for the whole motion, of the chamber's rated stroke."""

WIDEST = {
    "S-cam": Text("00.0°", rank="turn", name="value-cam-turn", lead="S-cam turned "),
    "drum": Text("000 °F", rank="rub", name="value-drum", lead="drum at "),
}
"""Names with a figure in them, as wide as they become."""

GAUGE = 158.0
"""Height of the stroke's scale with its words."""
BEFORE = 20.0
"""Room left of the column of figures."""
BESIDE, TALL = 112.0, 54.0
"""The arm angle's words: how far from the clevis pin they begin, and their height."""


def page_names(setup: Setup, condition: Condition, where: Layout) -> Note:
    """Return the names with their leaders, for a brake that moves."""
    scenes = _moving(setup, condition)
    shapes = [part_shapes(scene, where) for scene in scenes]
    edges = (MARGIN / 2, MARGIN / 2, where.width - MARGIN / 2, HEIGHT - MARGIN / 2)
    room = Room(edges, union([shape for each in shapes for shape in each.values()]))
    x, y, width, _ = where.stroke
    column = (where.figures[0] - BEFORE, where.figures[1], where.figures[2] + BEFORE, HEIGHT)
    kept = [where.title, (x, y, width, GAUGE), column, where.gaps, *_parked(where)]
    room.keep_clear((), [_box(place) for place in kept])
    for note in (*_still(scenes[0], where), *(note for scene in scenes for note in _moved(scene, where))):
        room.keep_clear(note.texts, note.solid)
    marks, texts = "", list[Text]()
    for name in names("few"):
        placed = room.place(_wanted(name, scenes, shapes))
        if placed:
            marks += placed.leader
            texts += placed.texts
    return Note("labels", "Names of the parts", marks, tuple(texts))


def _parked(where: Layout) -> list[Box]:
    """The room of a parking section, of what the script writes under it, and of the caution beside it."""
    return [(x, y, where.width - x, height + NAMED) for x, y, _, height in where.behind]


def _moving(setup: Setup, condition: Condition) -> list[Scene]:
    """Scenes all through the motion; a stroke that cannot be is drawn where the motion ends."""
    rated = setup.brake.chamber.rated_stroke
    return [scene_at(setup, condition, share * rated, "stroke") for share in SHARES]


def _still(scene: Scene, where: Layout) -> Sequence[Note]:
    return magnifier(scene, where), drum_turn(scene, where)


def _moved(scene: Scene, where: Layout) -> Sequence[Note]:
    angle = ArmAngle(scene, where)
    x, y = angle.middle(BESIDE)
    rooms = (*angle.rooms(), box(x, y - TALL / 2, x + angle.texts()[1].width, y + TALL / 2))
    return cam_turn(scene, where), stroke_rule(scene, where), pushes(scene, where), Note("angle", "", solid=rooms)


def _wanted(name: Name, scenes: Sequence[Scene], shapes: Sequence[dict[str, BaseGeometry]]) -> Wanted:
    """A name and what is seen of its part all the time; where that is nothing, what is seen released."""
    visible = [seen(scene, each, name.parts) for scene, each in zip(scenes, shapes, strict=True)]
    always = shapely.intersection_all(visible)
    target = visible[0] if always.is_empty else always
    text = WIDEST.get(name.words, Text(name.words, rank=name.rank))
    return Wanted((text,), target, name.within is None, name.within or REACH)


def _box(place: Box) -> BaseGeometry:
    x, y, width, height = place
    return box(x, y, x + width, y + height)
