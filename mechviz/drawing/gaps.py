"""The gap all round both linings: the brake straightened, cam end above, the drum left and right as in the picture.

Both linings stand upright beside their drum, enlarged across and not along; what is white between them is the gap.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry import box

from geometry.arrays import Array
from geometry.brake import SIDES, Side
from geometry.lining import gap_at
from geometry.quantity import System
from geometry.states import ShoeState, at_stroke
from mechviz.drawing.layout import Box
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import Point, element, line
from mechviz.drawing.note import Note
from mechviz.drawing.scene import TOUCH, Scene
from mechviz.drawing.words import small
from mechviz.report.written import other

COUNT = 41
"""Places round the arc at which the gap is worked out."""
DRUM = 16.0
WORDS = 110.0
"""Of each half: its strip of drum, and the room of its figures, picture units. Lining and gap share the rest."""
LINING = 0.27
ROOMY = 400.0
TIMES = (200, 100, 50, 40, 20, 10, 5, 2, 1)
HEAD, FOOT = 66.0, 40.0


@dataclass(frozen=True)
class Diagram:
    """Where the diagram stands: its box, and how many picture units a millimetre of gap is (``per``)."""

    left: float
    right: float
    top: float
    bottom: float
    per: float

    @property
    def spare(self) -> float:
        """What a lining and its widest gap take together, picture units."""
        return 0.5 * (self.right - self.left) - DRUM - WORDS

    @property
    def roomy(self) -> bool:
        """Whether there is room for all words."""
        return self.right - self.left > ROOMY

    @property
    def lining(self) -> float:
        """A lining's thickness in it; not to scale."""
        return LINING * self.spare

    @property
    def levels(self) -> tuple[float, float, float]:
        """Lines of the rows' names: cam end, middle, anchor end."""
        return self.top + 18, 0.5 * (self.top + self.bottom) - 12, self.bottom - 42

    def wall(self, side: Side) -> float:
        """Return where the friction surface is."""
        return self.left + DRUM if side == "left" else self.right - DRUM

    def across(self, side: Side, gap: float) -> float:
        """Return where a lining's surface is at a gap (mm)."""
        return self.wall(side) + (1 if side == "left" else -1) * max(gap, 0.0) * self.per


def gap_diagram(scene: Scene, place: Box, scale: float, widest: float | None = None) -> Note:
    """Return the diagram of a state; ``widest`` (mm) sets its scale, else the brake released does."""
    x, y, width, _ = place
    gap = widest_released(scene) if widest is None else widest
    plain = diagram_in(place, scale)
    times = next((t for t in TIMES if gap * t * scale <= plain.spare - plain.lining), TIMES[-1])
    diagram = replace(plain, per=times * scale)
    marks = "".join(_side(scene, diagram, side) for side in SIDES)
    head = (
        Text("gap round the linings", x, y + 22, rank="rub"),
        Text(f"{times}× larger across", x, y + 48),
    )
    room = box(x, diagram.top, x + width, diagram.bottom)
    texts = (*head, *(text for side in SIDES for text in _words(scene, diagram, side)), *_rows(diagram))
    return Note("gap", "Gap round both linings, from the anchor end to the cam end", marks, texts, (room,))


def diagram_in(place: Box, scale: float) -> Diagram:
    """Return the diagram that fills a box, nothing enlarged yet; ``scale`` is the picture's, units per mm."""
    x, y, width, height = place
    return Diagram(x, x + width, y + HEAD, y + height - FOOT, scale)


def widest_released(scene: Scene) -> float:
    """Return the widest gap (mm) of the brake released, in the scene's condition."""
    state = at_stroke(scene.brake, scene.condition, 0.0, "released")
    shoes = (state.left, state.right)
    gaps = [gap for shoe in shoes for gap in _gaps(shoe) if gap is not None]
    return max([0.2, *gaps])


def gap_profile(scene: Scene, side: Side) -> Array:
    """Return the gap (mm) at evenly spaced places from the anchor end to the cam end of a lining."""
    brake, at = scene.brake, scene.contact
    shoe = scene.poses.left if side == "left" else scene.poses.right
    cosine, sine = np.cos(shoe.turn), np.sin(shoe.turn)
    places = np.linspace(brake.lining.start, brake.lining.end, COUNT)
    return np.array([gap_at(brake.shoe, at.surface, at.radius, cosine, sine, float(psi))[0] for psi in places])


def _side(scene: Scene, diagram: Diagram, side: Side) -> str:
    """The drum's wall and the lining beside it."""
    gaps = gap_profile(scene, side)
    levels = np.linspace(diagram.bottom, diagram.top, COUNT)
    inwards = diagram.lining if side == "left" else -diagram.lining
    surface = [(diagram.across(side, float(gap)), float(level)) for gap, level in zip(gaps, levels, strict=True)]
    back: Sequence[Point] = [(x + inwards, y) for x, y in reversed(surface)]
    wall = diagram.left if side == "left" else diagram.right - DRUM
    height = diagram.bottom - diagram.top
    marks = element("rect", class_="mv-section", x=wall, y=diagram.top, width=DRUM, height=height)
    texture = "mv-rub-touch" if float(np.min(gaps)) <= TOUCH else "mv-rub"
    return marks + line([*surface, *back], texture, closed=True) + line(surface, "mv-profile")


def _rows(diagram: Diagram) -> tuple[Text, ...]:
    middle = 0.5 * (diagram.left + diagram.right)
    names = ("cam end", "middle", "anchor end")
    return tuple(
        Text(name, middle, level, anchor="middle", rank="soft")
        for name, level in zip(names, diagram.levels, strict=True)
    )


def _words(scene: Scene, diagram: Diagram, side: Side) -> list[Text]:
    """The true gap at the ends and the middle, in both units, and which shoe it is."""
    shoe = scene.state.left if side == "left" else scene.state.right
    inwards = 1 if side == "left" else -1
    x = diagram.wall(side) + inwards * (diagram.spare + 8)
    anchor = "start" if side == "left" else "end"
    texts = [Text(_shoe(scene, side, diagram), _foot(diagram, side), diagram.bottom + 30, anchor=anchor, rank="rub")]
    for gap, level in zip(_gaps(shoe), diagram.levels, strict=True):
        texts += [text.at(x, text.y, anchor) for text in _pair(gap, level, scene.system)]
    return texts


def _pair(gap: float | None, level: float, system: System) -> list[Text]:
    """A gap in both units; nothing where it does not exist."""
    if gap is None:
        return []
    first, second = small(gap, system), small(gap, other(system))
    texts = [Text(first, 0, level + 24, rank="rub")]
    return texts if first == second else [*texts, Text(second, 0, level + 43, "note", rank="soft")]


def _gaps(shoe: ShoeState) -> tuple[float | None, float | None, float | None]:
    return shoe.gap_cam_end, shoe.gap_middle, shoe.gap_anchor_end


def _foot(diagram: Diagram, side: Side) -> float:
    return diagram.left if side == "left" else diagram.right


def _shoe(scene: Scene, side: Side, diagram: Diagram) -> str:
    """Which shoe it is, and whether the drum drags it on; in fewer words where there is less room."""
    leads = "leading" if side == scene.brake.leading_side else "trailing"
    return f"{side} shoe, {leads}" if diagram.roomy else f"{side}, {leads}"
