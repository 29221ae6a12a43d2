"""A still of the solid brake: the render with what is drawn, its stroke and verdict, and the names of its parts.

The words are laid over the render as SVG, in the look and by the rules of the drawing: a label never stands on a part
or on another label, and is never cut.
"""

from base64 import b64encode
from dataclasses import dataclass
from io import BytesIO

from shapely.geometry.base import BaseGeometry

from mechviz.drawing.foot import CAUTION, foot
from mechviz.drawing.gauge import gauge
from mechviz.drawing.layout import MARGIN, WIDTH
from mechviz.drawing.lettering import Text, fitted
from mechviz.drawing.marks import element
from mechviz.drawing.names import Labels
from mechviz.drawing.note import Note
from mechviz.drawing.picture import document, found_words
from mechviz.drawing.placing import Room, union
from mechviz.drawing.scene import Scene
from mechviz.drawing.verdict import judged
from mechviz.drawing.words import figure, state_words
from mechviz.solid.labels import label_note, placed
from mechviz.solid.names import names
from mechviz.solid.shot import Shot
from mechviz.solid.stage import Pixels, Stage
from mechviz.solid.visible import visible_shapes

LEFT, TOP, RIGHT, FOOT = 430.0, 88.0, 1584.0, 848.0
"""The render's place: beside the figures, under the title, above the foot."""
PIXELS = 1.2
"""Pixels of the render a picture unit: the whole is 1920 pixels wide."""
SEEN = 0.0005
"""A turn below this (rad) reads 0.0 degrees."""
GAUGE, ROWS = 130.0, 330.0
"""Where the stroke's scale and the angles stand."""
BOUNDS = (MARGIN, MARGIN, WIDTH - MARGIN, FOOT - 2)


@dataclass(frozen=True)
class Still:
    """A picture of the solid brake: its SVG, what is written in it, and what is seen of each part."""

    svg: str
    notes: tuple[Note, ...]
    shapes: dict[str, BaseGeometry]

    @property
    def texts(self) -> tuple[Text, ...]:
        """Every text of the picture."""
        return tuple(text for note in self.notes for text in note.texts)


def still(scene: Scene, shot: Shot, labels: Labels = "few", title: str = "", words: str = "") -> Still:
    """Return a still of a scene, 1600 x 900.

    ``title`` and ``words`` stand at its top, the setup's title and the state if not given. Draws with VTK: see
    `mechviz.solid.gl` first. Raises `AssemblyError` where a part cannot be made.
    """
    size = round((RIGHT - LEFT) * PIXELS), round((FOOT - TOP) * PIXELS)
    with Stage(scene.brake, scene.condition, shot, size, parking=scene.setup.parking is not None) as stage:
        stage.pose(scene.poses)
        stage.look()
        image = stage.image()
        shapes = visible_shapes(*stage.seen(), 1 / PIXELS, (LEFT, TOP))
    notes = _notes(scene, shapes, labels, title, words)
    render = element("image", href=_data(image), x=LEFT, y=TOP, width=RIGHT - LEFT, height=FOOT - TOP)
    inside = render + "".join(note.svg() for note in notes)
    svg = document(inside, title or scene.setup.title, _described(scene, shot), WIDTH, 1.0, shot.theme)
    return Still(svg, notes, shapes)


def _notes(scene: Scene, shapes: dict[str, BaseGeometry], labels: Labels, title: str, words: str) -> tuple[Note, ...]:
    standing = [_title(scene, title, words), *figures(scene), foot_of()]
    room = Room(BOUNDS, union(list(shapes.values())))
    for note in standing:
        room.keep_clear(note.texts, note.solid)
    return (*standing, label_note(placed(shapes, room, names(labels))))


def foot_of() -> Note:
    """Return the caution at the foot; a picture in perspective has no scale."""
    whole = foot(MARGIN, WIDTH - MARGIN, 1.0, "metric")
    sign = whole.marks.split("/>", 3)
    return Note("foot", "Caution", "/>".join(sign[:3]) + "/>", tuple(t for t in whole.texts if t.words == CAUTION))


def _title(scene: Scene, title: str, words: str) -> Note:
    state = state_words(scene.state, scene.asked, scene.system)
    first = fitted(Text(title or scene.setup.title, MARGIN, 54.0), WIDTH - 2 * MARGIN, ("title", "heading", "figure"))
    second = fitted(Text(words or f"{state}; {found_words(scene)}", MARGIN, 88.0), WIDTH - 2 * MARGIN, ("label",))
    return Note("title", "What is shown", texts=(first, second))


def figures(scene: Scene) -> tuple[Note, ...]:
    """Return the stroke on its scale with its verdict, the arm's angle and the cam's turn, beside the render."""
    state, system = scene.state, scene.system
    rows = [("arm at ", "arm-angle", state.arm_angle), ("arm turned ", "arm-turn", state.arm_turn),
            ("cam turned ", "cam-turn", state.cam_turn)]  # fmt: skip
    windup = 0.0 if state.arm_turn is None or state.cam_turn is None else state.arm_turn - state.cam_turn
    if windup > SEEN:
        rows.append(("wind-up between them ", "windup", windup))
    heat = figure(float(scene.condition.arrays[2]), "temperature", system)
    drum = [
        Text(
            heat,
            MARGIN,
            ROWS + 40.0 * len(rows),
            "figure",
            rank="rub",
            name="value-drum",
            lead="drum at ",
            lead_rank="ink",
        )
    ]
    texts = tuple(
        Text(figure(value, "angle", system), MARGIN, ROWS + 40.0 * place, "figure", rank="turn", name=f"value-{name}",
             lead=lead, lead_rank="ink")
        for place, (lead, name, value) in enumerate(rows)
    )  # fmt: skip
    return gauge(scene, (MARGIN, GAUGE, LEFT - MARGIN - 6, 150.0)), Note(
        "angles", "Arm and cam", texts=(*texts, *(drum if scene.hot else ()))
    )


def _described(scene: Scene, shot: Shot) -> str:
    verdict = judged(scene)
    return f"The brake as a solid, seen {shot.view.words}. {verdict.words}."


def _data(image: Pixels) -> str:
    from PIL import Image

    out = BytesIO()
    Image.fromarray(image).save(out, "PNG", optimize=False)
    return "data:image/png;base64," + b64encode(out.getvalue()).decode("ascii")
