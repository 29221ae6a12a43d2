"""One state of a brake as a picture: both planes, what pushes what, and every figure where it belongs."""

from collections.abc import Callable
from dataclasses import dataclass
from xml.sax.saxutils import escape

from shapely.geometry import Point, box
from shapely.geometry.base import BaseGeometry

from mechviz.drawing.angle import ArmAngle
from mechviz.drawing.chain import chain
from mechviz.drawing.drum_turn import drum_turn
from mechviz.drawing.foot import ROOM, foot
from mechviz.drawing.gaps import gap_diagram
from mechviz.drawing.gauge import gauge
from mechviz.drawing.layout import HEIGHT, MARGIN, Layout, layout, without_column
from mechviz.drawing.lettering import Text, fitted
from mechviz.drawing.magnifier import magnifier
from mechviz.drawing.marks import line
from mechviz.drawing.names import Labels, lettered, names
from mechviz.drawing.note import Note
from mechviz.drawing.parked import parked
from mechviz.drawing.parts import planes
from mechviz.drawing.placed import part_shapes, seen
from mechviz.drawing.placing import REACH, Room, Wanted, union
from mechviz.drawing.pushes import pushes
from mechviz.drawing.rule import stroke_rule
from mechviz.drawing.scene import Scene
from mechviz.drawing.style import picture_css
from mechviz.drawing.turn import cam_turn
from mechviz.drawing.verdict import judged
from mechviz.drawing.words import figure, length, state_words
from mechviz.look import css_variables, font_face_css, svg_defs
from mechviz.look.colours import ThemeName

AT_ARC = 100.0
"""How far from the clevis pin the arm angle's figure looks for its place."""
CLOSE = 2.0
"""Room round it: it belongs inside the angle, and may come near the arc."""


Keep = Callable[[Note], Note | None]


@dataclass(frozen=True)
class Picture:
    """An SVG and what stands in it: notes back to front, so that a test can ask where everything is."""

    svg: str
    where: Layout
    notes: tuple[Note, ...]

    @property
    def texts(self) -> tuple[Text, ...]:
        """Every text of the picture."""
        return tuple(text for note in self.notes for text in note.texts)


def picture(
    scene: Scene, theme: ThemeName = "light", labels: Labels = "few", *, column: bool = True, keep: Keep = Note.itself
) -> Picture:
    """Return a state's picture, 1600 x 900; without the ``column`` of figures it is less wide, for a printed sheet.

    ``keep`` says what of each note is drawn; None is nothing of it.
    """
    where = layout(scene.brake, scene.outlines, ROOM if column else MARGIN)
    where = where if column else without_column(where)
    kept = [keep(note) for note in _notes(scene, where, labels, column)]
    notes = tuple(note for note in kept if note is not None)
    inside = planes(scene, where, still=True) + "".join(note.svg() for note in notes)
    svg = document(inside, heading(scene), described(scene), where.width, where.scale, theme)
    return Picture(svg, where, notes)


def document(
    inside: str, title: str, words: str, width: float, scale: float, theme: ThemeName, *, ground: bool = True
) -> str:
    """Return a whole SVG: the look's colours, type and textures, and ``inside`` on paper, or on no ``ground``."""
    css = "\n".join([font_face_css(), css_variables(theme, ".mv"), picture_css(scale)])
    paper = f'<rect class="mv-paper" width="{width:g}" height="{HEIGHT:g}"/>' if ground else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="mv" viewBox="0 0 {width:g} {HEIGHT:g}" role="img">'
        f"<title>{escape(title)}</title><desc>{escape(words)}</desc><style>{css}</style>"
        f"<defs>{svg_defs(HEIGHT)}</defs>{paper}{inside}</svg>\n"
    )


def heading(scene: Scene) -> str:
    """Return the picture's title in one line: the brake and the state."""
    return f"{scene.setup.title}: {state_words(scene.state, scene.asked, scene.system).lower()}"


def described(scene: Scene) -> str:
    """Return what is read out in place of the picture."""
    state, system = scene.state, scene.system
    stroke = "no such state" if state.stroke is None else f"stroke {length(state.stroke, system)}"
    verdict = judged(scene)
    angle = figure(state.arm_angle, "angle", system)
    return f"Drum brake, wheel plane and arm plane: {stroke}, {verdict.words}; arm angle {angle}."


def found_words(scene: Scene) -> str:
    """Return the condition in a few words."""
    thickness, _, temperature, _ = (float(value) for value in scene.condition.arrays)
    heat = figure(temperature, "temperature", scene.system)
    return f"lining {length(thickness, scene.system)}, drum at {heat}"


def _notes(scene: Scene, where: Layout, labels: Labels, column: bool) -> tuple[Note, ...]:
    rule = stroke_rule(scene, where)
    standing = [
        _title(scene, where, rule.texts[0].box[0] - 16, named=column),
        shaft(where),
        magnifier(scene, where),
        cam_turn(scene, where),
        gauge(scene, where.stroke),
        rule,
        pushes(scene, where),
        drum_turn(scene, where),
        gap_diagram(scene, where.gaps, where.scale),
        *parked(where, labels),
        *([chain(scene, where.figures), _foot(scene, where)] if column else []),
    ]
    shapes = part_shapes(scene, where)
    bottom = HEIGHT - (ROOM - 12.0 if column else MARGIN / 2)
    edges = (MARGIN / 2, MARGIN / 2, where.width - MARGIN / 2, bottom)
    room = Room(edges, union(list(shapes.values())))
    room.keep_clear((), [box(x, y, x + width, y + height) for x, y, width, height in where.behind])
    for note in standing:
        room.keep_clear(note.texts, note.solid)
    return (*standing, _angle(scene, where, room), _labels(scene, shapes, room, labels))


def _foot(scene: Scene, where: Layout) -> Note:
    return foot(MARGIN, where.width - MARGIN, where.scale, scene.system)


def _title(scene: Scene, where: Layout, right: float, named: bool) -> Note:
    """What is drawn; on a sheet, which says it above the picture, the brake is not ``named`` once more."""
    x, y, _, _ = where.title
    state = state_words(scene.state, scene.asked, scene.system)
    first, second = (scene.setup.title, f"{state}; {found_words(scene)}") if named else (state, found_words(scene))
    title = fitted(Text(first, x, y + 30), right - x, ("title", "heading", "figure"))
    words = fitted(Text(second, x, y + 62), right - x, ("label", "note"))
    return Note("title", "What is drawn", texts=(title, words))


def shaft(where: Layout) -> Note:
    """Return the camshaft's centre line across both planes: one shaft."""
    (left, y), (right, _) = where.wheel, where.arm
    marks = line([(left - 60, y), (right + 70, y)], "mv-centre")
    room = box(left, y - 3, right, y + 3)
    return Note("shaft", "Centre line of the camshaft, across both planes", marks, solid=(room,))


def _angle(scene: Scene, where: Layout, room: Room) -> Note:
    angle = ArmAngle(scene, where)
    room.keep_clear((), angle.rooms())
    spot = Point(angle.middle(AT_ARC)).buffer(6)
    placed = room.place(Wanted(angle.texts(), spot, led=False, pad=CLOSE))
    return Note("angle", "Arm angle at the clevis pin", angle.marks(), placed.texts if placed else ())


def _labels(scene: Scene, shapes: dict[str, BaseGeometry], room: Room, labels: Labels) -> Note:
    marks, texts = "", list[Text]()
    for name in names(labels):
        target = seen(scene, shapes, name.parts)
        led, within = name.within is None, name.within or REACH
        placed = None if target.is_empty else room.place(Wanted((lettered(name, scene),), target, led, within))
        if placed:
            marks += placed.leader
            texts += placed.texts
    return Note("labels", "Names of the parts", marks, tuple(texts))
