"""One of several states side by side: a smaller mechanism, and under it the stroke, the gap and the figures."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from shapely.affinity import affine_transform
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from geometry.quantity import KindName
from mechviz.drawing.angle import ArmAngle
from mechviz.drawing.gauge import Scale
from mechviz.drawing.layout import Layout
from mechviz.drawing.lettering import Rank, Text, fitted
from mechviz.drawing.magnifier import magnifier
from mechviz.drawing.marks import Point, element, group, line
from mechviz.drawing.note import Note
from mechviz.drawing.parts import planes
from mechviz.drawing.placed import part_shapes
from mechviz.drawing.placing import Room, Wanted, union
from mechviz.drawing.pushes import pushes
from mechviz.drawing.ring import ring
from mechviz.drawing.rule import stroke_rule
from mechviz.drawing.scene import Scene
from mechviz.drawing.turn import cam_turn
from mechviz.drawing.verdict import Verdict, judged
from mechviz.drawing.words import figure, length, to_square

WIDTH, TOP = 498.0, 76.0
MECHANISM, HIGH = 58.0, 391.0
"""Where the mechanism begins, below a panel's top, and how high its band is in a panel of this width."""
LOWER = 28.0
"""How much lower it stands where the words over the drum take one more line."""
MAGNIFIER, FIGURES = 68.0, 240.0
"""Where these bands begin, below the stroke's scale."""
LINE = 24.0
ANGLE_AT = 66.0


@dataclass(frozen=True)
class Row:
    """A figure under a panel: what it is called, its id, and where it comes from."""

    name: str
    key: str
    kind: KindName
    rank: Rank
    of: Callable[[Scene], float | None]


PRESSURE = Row("pressure", "value-pressure", "pressure", "push", lambda s: s.state.pressure)
LEFT = Row("left before it bottoms", "value-left", "length", "push", lambda s: s.left_to_bottom)
ROWS = (
    Row("force on the rod", "value-chamber-force", "force", "push", lambda s: s.state.chamber_force),
    Row("arm stands", "value-arm-stands", "angle", "turn", lambda s: s.state.arm_angle),
    Row("cam turned", "value-cam-turn", "angle", "turn", lambda s: s.state.cam_turn),
    Row("brake torque", "value-brake-torque", "torque", "rub", lambda s: s.state.brake_torque),
)


@dataclass(frozen=True)
class Panel:
    """A scene, its name, the words under that, the scene that its magnifier looks at, and the figures below.

    ``ringed`` names a part with a line round it.
    """

    scene: Scene
    name: str
    words: str
    window: Scene
    rows: tuple[Row, ...] = (PRESSURE, *ROWS)
    ringed: str = ""


@dataclass(frozen=True)
class Column:
    """Where a panel stands: its left edge and its width, with which its mechanism grows.

    ``told`` says whether there are more words over the drum than stroke and verdict, in any panel of the picture.
    """

    left: float
    width: float = WIDTH
    told: bool = False

    @property
    def lower(self) -> float:
        """How much lower than usual the mechanism stands."""
        return LOWER if self.told else 0.0

    @property
    def gauge(self) -> float:
        """Where the stroke's scale begins."""
        return TOP + MECHANISM + HIGH * self.width / WIDTH

    def share(self, where: Layout) -> float:
        """Return the width, of that of the mechanism in a whole picture."""
        return self.width / (where.edge - 24.0)

    def scale(self, where: Layout) -> float:
        """Return the scale of the mechanism, picture units per mm."""
        return where.scale * self.share(where)


@dataclass(frozen=True)
class Drawn:
    """A panel as SVG, and its notes for a test."""

    svg: str
    notes: tuple[Note, ...]


def drawn(panel: Panel, column: Column, prefix: str, times: int, where: Layout) -> Drawn:
    """Return a panel in its column; ``times`` is the magnifier's scale.

    ``where`` is the layout of the mechanism in a whole picture; both are the same for all panels.
    """
    scene = panel.scene
    share = column.share(where)
    shift = (column.left - 18.0 * share, TOP + MECHANISM + column.lower - 24.0 * share)
    notes = [_heading(panel, column), _stroke(scene, column), _gauge(scene, column), _figures(panel, column)]
    if scene.stands:
        standing = [text for note in notes for text in note.texts]
        notes += [_angle(scene, where, column, shift, standing)] if scene.exists else []
        notes.append(_window(panel, where, column, times))
    mechanism = _mechanism(panel, where, prefix) if scene.stands else ""
    placed = f"translate({shift[0]:.3f} {shift[1]:.3f}) scale({share:.6f})"
    faded = None if scene.exists else "0.38"
    inside = element("g", mechanism, transform=placed, opacity=faded) if mechanism else ""
    words = "".join(note.svg(prefix) for note in notes)
    svg = group([inside, words], panel.name, panel.words, id=f"{prefix}panel")
    return Drawn(svg, tuple(notes))


def _mechanism(panel: Panel, where: Layout, prefix: str) -> str:
    """Both planes with their arrows, in the units of a whole picture; words stand outside of it."""
    scene = panel.scene
    angle = ArmAngle(scene, where)
    notes = [cam_turn(scene, where), stroke_rule(scene, where), pushes(scene, where)]
    marks = "".join(note.marks for note in notes) + angle.marks()
    shaft = line([(where.wheel[0] - 60, where.wheel[1]), (where.arm[0] + 70, where.arm[1])], "mv-centre")
    return planes(scene, where, prefix, still=True) + shaft + marks + ring(scene, where, panel.ringed)


def _heading(panel: Panel, column: Column) -> Note:
    name = fitted(Text(panel.name, column.left, TOP + 24), column.width, ("heading", "figure"))
    words = fitted(Text(panel.words, column.left, TOP + 52), column.width, ("label",))
    return Note("title", "What is drawn", texts=(name, words))


def _stroke(scene: Scene, column: Column) -> Note:
    """The stroke in figures, in the room above the drum."""
    verdict, left = judged(scene), column.left
    if not scene.exists:
        reason = wrapped(scene.state.reason.words, 0.56 * column.width)
        lines = [Text(words, left, TOP + 116 + 26 * i) for i, words in enumerate(reason)]
        return Note(
            "verdict", "Why there is no such state", texts=(Text("no such state", left, TOP + 88, "big"), *lines)
        )
    value = Text(length(scene.stroke, scene.system), left, TOP + 92, "big", rank="push", name="value-stroke")
    lead = "" if verdict.why else "stroke: "  # a reason says for itself what it is about, and there is no room for more
    words = Text(verdict.name, left, TOP + 124, "figure", name="value-verdict", lead=lead)
    why = Text(verdict.why, left, TOP + 150, name="value-why")
    texts = (value, words, why) if verdict.why else (value, words)
    return Note("verdict", "Stroke against the readjustment limit", texts=texts)


def _gauge(scene: Scene, column: Column) -> Note:
    scale, verdict = Scale(scene, column.left + 8, column.gauge + 26, column.width - 44), judged(scene)
    texts = list(scale.texts(scene.system, free=False))
    if verdict.margin:
        texts.append(_margin(verdict, texts[0].box[2] + 12, texts[1]))
    marks = scale.line() + scale.ticks() + scale.mark(verdict)
    return Note("gauge", "Stroke on its scale", marks, tuple(texts), (scale.room(),))


def _margin(verdict: Verdict, left: float, limit: Text) -> Text:
    """The margin in words, between the scale's 0 and its limit."""
    room = limit.box[0] - 12 - left
    return fitted(
        Text(verdict.margin, left + room / 2, limit.y, anchor="middle", name="value-margin"), room, ("label",)
    )


def _angle(scene: Scene, where: Layout, column: Column, shift: Point, standing: Sequence[Text]) -> Note:
    """The arm's angle in letters of the picture's size, beside an arc that is smaller."""
    angle, share = ArmAngle(scene, where), column.share(where)
    matrix = [share, 0.0, 0.0, share, *shift]

    def smaller(shape: BaseGeometry) -> BaseGeometry:
        return affine_transform(shape, matrix)

    parts = union([smaller(shape) for shape in part_shapes(scene, where).values()])
    room = Room((shift[0], TOP, shift[0] + column.width, column.gauge), parts)
    room.keep_clear(standing, [smaller(shape) for shape in (*angle.rooms(), *stroke_rule(scene, where).solid)])
    placed = room.place(Wanted(angle.texts()[:1], smaller(Spot(angle.middle(ANGLE_AT)).buffer(6)), led=False))
    return Note("angle", "Arm angle at the clevis pin", texts=placed.texts if placed else ())


def _window(panel: Panel, where: Layout, column: Column, times: int) -> Note:
    """The magnifier, without lines to its place: it stands under its own mechanism."""
    box = (column.left, column.gauge + MAGNIFIER, column.width, 150.0)
    place = replace(where, magnifier=box, scale=column.scale(where))
    note = magnifier(panel.window, place, times, tied=False)
    if panel.window is panel.scene:
        return note
    words = Text("when released", note.texts[2].x, note.texts[0].y)
    return replace(note, texts=(*note.texts, words))


def _figures(panel: Panel, column: Column) -> Note:
    """Name and figure, one a row; a dash where there is none."""
    texts: list[Text] = []
    end = column.left + column.width - 36
    for place, row in enumerate(panel.rows):
        y = column.gauge + FIGURES + LINE * place
        texts.append(Text(row.name, column.left, y))
        texts.append(Text(_known(row, panel.scene), end, y, anchor="end", rank=row.rank, name=row.key))
    return Note("figures", "Figures", texts=tuple(texts))


def _known(row: Row, scene: Scene) -> str:
    """A figure; the arm's is where it stands to a square corner, its angle being in the picture."""
    value = row.of(scene)
    if row.key == "value-arm-stands" and value is not None:
        return to_square(value)
    return figure(value, row.kind, scene.system)


def wrapped(words: str, room: float) -> list[str]:
    """Return a sentence in lines no wider than a room, in letters of a label's size."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and Text(longer).width <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
