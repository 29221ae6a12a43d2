"""The clearance, truthfully and large: a window on the middle of the right lining, tied to its place."""

from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from geometry.states import at_stroke
from mechviz.drawing.layout import Layout
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import Point, element, line
from mechviz.drawing.note import Note
from mechviz.drawing.scene import TOUCH, Scene
from mechviz.drawing.words import small
from mechviz.report.written import other

TIMES = (100, 50, 40, 20, 10, 5, 2)
DRUM = 64.0
SHARE = 0.5
"""How much of the window's width the drum takes (picture units), and the widest gap at the most (share)."""
SPOT = 7.0
NARROW = 300.0
WIDE, WIDEST = 0.62, 320.0
"""How much of its box the window takes, the words having the rest."""


def magnified(gap: float, scale: float, width: float) -> int:
    """Return how many times larger a window shows a gap (mm) that would be ``gap * scale`` in the picture."""
    return next((times for times in TIMES if gap * scale * times <= SHARE * width), TIMES[-1])


def widest_gap(scene: Scene) -> float:
    """Return the gap (mm) at the middle of the right lining, released: the window keeps one scale for all states."""
    gap = at_stroke(scene.brake, scene.condition, 0.0, "released").right.gap_middle
    return 1.0 if gap is None else max(gap, 0.2)


def magnifier(scene: Scene, where: Layout, times: int | None = None, *, tied: bool = True) -> Note:
    """Return the window with lining, gap and drum, ``tied`` by two lines to its place.

    ``times`` sets its scale, else it is what the widest gap allows.
    """
    frame = frame_of(where)
    times = times or magnified(widest_gap(scene), where.scale, frame[2])
    spot = where.at("wheel", float(scene.contact.radius[0]), 0.0)
    gap = max(float(scene.poses.right.gap_middle[0]), 0.0)
    marks = (_tied(spot, frame) if tied else "") + _window(gap, times * where.scale, frame)
    texts = (*_names(frame), *_words(scene, gap, times, frame, where))
    return Note("magnifier", "Magnifier on the gap at the middle of the right lining", marks, texts, (_room(frame),))


Frame = tuple[float, float, float, float]


def frame_of(where: Layout) -> Frame:
    """Return the window: its words go beside it, or below it where the box is narrow."""
    x, y, width, height = where.magnifier
    if width < NARROW:
        return x, y + 10, width - 8, height - 130
    return x, y + 10, min(WIDE * width, WIDEST), height - 46


def _room(frame: Frame) -> BaseGeometry:
    x, y, width, height = frame
    return box(x, y, x + width, y + height)


def _tied(spot: Point, frame: Frame) -> str:
    x, y, _, height = frame
    marks = line([(x, y), spot, (x, y + height)], "mv-leader")
    return marks + element("circle", class_="mv-spot", cx=round(spot[0], 2), cy=round(spot[1], 2), r=SPOT)


def _window(gap: float, scale: float, frame: Frame) -> str:
    """The lining on the left, the drum on the right, and between them what is really there."""
    x, y, width, height = frame
    drum = x + width - DRUM
    edge = max(drum - gap * scale, x + 6)
    texture = "mv-rub-touch" if gap <= TOUCH else "mv-rub"
    marks = element("rect", class_=texture, x=x, y=y, width=round(edge - x, 2), height=height)
    marks += element("rect", class_="mv-section", x=drum, y=y, width=DRUM, height=height)
    if edge < drum - 3:
        middle, (start, end) = y + 0.5 * height, _heads(drum - edge)
        marks += line([(edge, middle), (drum, middle)], "mv-dimension", marker_start=start, marker_end=end)
    return marks + element("rect", class_="mv-frame", x=x, y=y, width=width, height=height)


def _heads(length: float) -> tuple[str | None, str | None]:
    """Arrow heads at both ends where there is room for them."""
    return ("url(#mv-dim-ink)", "url(#mv-dim-ink)") if length > 30 else (None, None)


def _names(frame: Frame) -> tuple[Text, ...]:
    x, y, width, height = frame
    low = y + height + 26
    return Text("lining", x + 2, low, rank="rub"), Text("drum", x + width - 2, low, anchor="end", rank="hold")


def words_at(frame: Frame, where: Layout) -> Point:
    """Return where the words begin, beside the window or below it."""
    x, y, width, height = frame
    return (x + 2, y + height + 53) if where.magnifier[2] < NARROW else (x + width + 14, y + 0.5 * height - 24)


def _words(scene: Scene, gap: float, times: int, frame: Frame, where: Layout) -> tuple[Text, ...]:
    """Its scale, and the gap in both units."""
    x, y = words_at(frame, where)
    scale = Text(f"{times}× larger", x, y)
    if not scene.exists:
        return (scale,)
    first, second = small(gap, scene.system), small(gap, other(scene.system))
    texts = (scale, Text(first, x, y + 36, "figure", rank="rub"))
    return texts if first == second else (*texts, Text(second, x, y + 64, rank="rub"))
