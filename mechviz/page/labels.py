"""The names of the parts on the page: placed where nothing comes by whatever the brake does.

Where the picture is small its letters are set larger, so that each name has a place for either size. A brake with a
defect keeps the places in which its names still stand well.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from geometry.condition import Condition
from geometry.defects.changes import taken_up
from geometry.outlines import Outline, deforming
from geometry.setup import Setup
from mechviz.drawing.angle import ArmAngle
from mechviz.drawing.drum_turn import drum_turn
from mechviz.drawing.layout import HEIGHT, MARGIN, NAMED, WIDTH, Box, Layout
from mechviz.drawing.lettering import SIZES, Text
from mechviz.drawing.magnifier import magnifier
from mechviz.drawing.marks import element
from mechviz.drawing.names import Name, names
from mechviz.drawing.note import Note
from mechviz.drawing.placed import part_shapes, seen
from mechviz.drawing.placing import REACH, Placed, Room, Wanted, union
from mechviz.drawing.pushes import pushes
from mechviz.drawing.rule import stroke_rule
from mechviz.drawing.scene import Scene, scene_at
from mechviz.drawing.turn import cam_turn
from mechviz.faults.study import sound_wheel

LARGEST = 27.5
"""The largest letters of a label in the style sheet, picture units."""
SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Strokes that stand for the whole motion, of the chamber's rated stroke."""
WORN = 0.4
"""What is left of new linings, as a share, where a working life comes to its end."""
FEWER = (0.0, 0.5, 1.0)
"""The same, where most names only have to be looked over."""

Letters = Literal["plain", "large"]
GROWN = LARGEST / SIZES["label"]
"""How many times larger the letters of a label may be set."""
SIZED: Mapping[Letters, float] = {"plain": 1.0, "large": GROWN}
BETWEEN = 0.5 * (SIZES["label"] + 24.0)
"""Letters larger than this (picture units) take the places for large ones; the style sheet has none from here to 24."""

CLOSE = 2.0
"""Room round a name that finds no place with more."""

WIDEST = {
    "S-cam": Text("00.0°", rank="turn", name="value-cam-turn", lead="S-cam turned "),
    "drum": Text("000 °F", rank="rub", name="value-drum", lead="drum at "),
}
"""Names with a figure in them, as wide as they become."""
LIMIT = "cold limit 00.0 mm"
"""The words over the limit on the rule, as wide as they become."""

GAUGE = 158.0
"""Height of the stroke's scale with its words."""
BEFORE = 20.0
"""Room left of the column of figures."""
CANNOT = (0.405 * WIDTH, 0.735 * HEIGHT, 0.305 * WIDTH, 0.265 * HEIGHT)
"""Where the style sheet puts the box that says why a state cannot be."""
BESIDE, TALL = 112.0, 54.0
"""The arm angle's words: how far from the clevis pin they begin, and their height."""


@dataclass(frozen=True)
class Names:
    """The names of a brake's parts as they are placed, by the size of the letters.

    ``wheel`` is the room of the wheel plane's parts, whatever the brake does.
    """

    placed: Mapping[Letters, Mapping[Name, Placed]]
    wheel: BaseGeometry

    def note(self, letters: Letters = "plain") -> Note:
        """Return the names with their leaders."""
        placed = self.placed[letters].values()
        texts = tuple(text for one in placed for text in one.texts)
        return Note("labels", "Names of the parts", "".join(one.leader for one in placed), texts)

    def data(self) -> dict[str, float | str]:
        """Return what stands in the note's group, and from which letters on it is that for large ones."""
        return {"between": BETWEEN} | {letters: self._grouped(letters) for letters in self.placed}

    def _grouped(self, letters: Letters) -> str:
        """The names, each in a group with its leader, so that a script may show one without the others."""
        groups = [
            element("g", one.leader + "".join(text.svg() for text in one.texts), data_named=name.words)
            for name, one in self.placed[letters].items()
        ]
        return f"<title>{self.note(letters).title}</title>" + "".join(groups)


@dataclass(frozen=True, kw_only=True)
class _Moving(Scene):
    """A scene of which only what deforms is made anew."""

    parts: tuple[Outline, ...]

    @cached_property
    def outlines(self) -> tuple[Outline, ...]:
        changed = deforming(self.brake, self.poses)
        return tuple(changed.get(outline.name, outline) for outline in self.parts)


def page_names(scene: Scene, where: Layout) -> Names:
    """Return the names of the parts, for a brake that moves as the ``scene``'s does."""
    scenes = _moving(scene.setup, scene.condition, scene.outlines, SHARES)
    shapes = [part_shapes(one, where) for one in scenes]
    wheels = {outline.name for outline in scene.outlines if outline.plane == "wheel"}
    wheel = union([shape for each in shapes for name, shape in each.items() if name in wheels])
    worn = [shape for one in _worn(scene) for name, shape in part_shapes(one, where).items() if name in wheels]
    wheel = union([wheel, *worn])
    parts = union([wheel, *(shape for each in shapes for name, shape in each.items() if name not in wheels)])
    targets = {name: _target(name, scenes, shapes) for name in names("few")}
    notes = _notes(scenes, where)
    plain = _placed(targets, _room(where, parts, notes), {})
    larger = {name: _set_larger(one) for name, one in plain.items()}
    large = _placed(targets, _room(where, parts, notes, GROWN), larger, GROWN)
    return Names({"plain": plain, "large": large}, wheel)


def names_anew(setup: Setup, condition: Condition, parts: tuple[Outline, ...], where: Layout, sound: Names) -> Names:
    """Return the names of a brake of which ``parts``, all of the arm plane among them, are others than the sound ones.

    Those that still stand well where they stood stay there.
    """
    scenes = _moving(setup, condition, parts, FEWER)
    shapes = [part_shapes(one, where) for one in scenes]
    own = {outline.name for outline in parts}
    wheel = () if "drum" in own else (sound.wheel,)
    room = union([*wheel, *(shape for each in shapes for shape in each.values())])
    targets = {name: _target(name, scenes, shapes) for name in names("few") if own.intersection(name.parts)}
    notes = _notes(scenes, where)
    placed: Mapping[Letters, Mapping[Name, Placed]] = {
        letters: _placed(targets, _room(where, room, notes, grown), sound.placed[letters], grown)
        for letters, grown in SIZED.items()
    }
    return Names(placed, sound.wheel)


def _placed(
    targets: Mapping[Name, BaseGeometry], room: Room, stood: Mapping[Name, Placed], grown: float = 1.0
) -> Mapping[Name, Placed]:
    """The names in their order; those without a target keep the place where they stood."""
    wanted = {name: _wanted(name, target, grown) for name, target in targets.items()}
    still = {name: one for name, one in stood.items() if name not in wanted}
    room.keep_clear([text for one in still.values() for text in one.texts])
    found = {name: room.keep(wanted[name], one) for name, one in stood.items() if name in wanted}
    for name, one in wanted.items():
        if found.get(name) is None:
            close = replace(one, pad=CLOSE)
            found[name] = room.place(one) or room.place(close) or room.place(_shorter(close))
    every = still | found
    return {name: one for name in names("few") if (one := every.get(name)) is not None}


def _room(where: Layout, parts: BaseGeometry, notes: Sequence[Note], grown: float = 1.0) -> Room:
    """What stands in the picture beside the names."""
    edges = (MARGIN / 2, MARGIN / 2, where.width - MARGIN / 2, HEIGHT - MARGIN / 2)
    room = Room(edges, parts)
    x, y, width, _ = where.stroke
    column = (where.figures[0] - BEFORE, where.figures[1], where.figures[2] + BEFORE, HEIGHT)
    kept = [where.title, (x, y, width, GAUGE), column, where.gaps, CANNOT, *_parked(where)]
    room.keep_clear((), [_box(place) for place in kept])
    for note in notes:
        room.keep_clear([_grown(text, grown) for text in note.texts], note.solid)
    return room


def _set_larger(one: Placed) -> Placed:
    """A name in larger letters where it stands."""
    return replace(one, texts=tuple(replace(text, grown=GROWN) for text in one.texts))


def _grown(text: Text, grown: float) -> Text:
    return replace(text, grown=grown) if text.size == "label" else text


def _parked(where: Layout) -> list[Box]:
    """The room of a parking section, of what the script writes under it, and of the caution beside it."""
    return [(x, y, where.width - x, height + NAMED) for x, y, _, height in where.behind]


def _moving(setup: Setup, condition: Condition, parts: tuple[Outline, ...], shares: Sequence[float]) -> Sequence[Scene]:
    """Scenes all through the motion; a stroke that cannot be is drawn where the motion ends."""
    rated = setup.brake.chamber.rated_stroke
    scenes = (scene_at(setup, condition, share * rated, "stroke") for share in shares)
    return [_Moving(one.setup, one.condition, one.state, parts=parts) for one in scenes]


def _worn(scene: Scene) -> Sequence[Scene]:
    """The brake with new and with worn linings, its adjuster having followed: released and applied, where it can be."""
    wheel, lining = sound_wheel(scene.setup), scene.brake.lining.thickness
    left = float(scene.condition.arrays[0])
    followed = [taken_up(wheel, wear=left - share * lining).condition for share in (1.0, WORN)]
    scenes = [scene_at(scene.setup, one, at) for one in followed for at in ("released", "applied")]
    return [_Moving(one.setup, one.condition, one.state, parts=scene.outlines) for one in scenes if one.exists]


def _notes(scenes: Sequence[Scene], where: Layout) -> Sequence[Note]:
    """What else stands in the picture, all through the motion."""
    return (*_still(scenes[0], where), *(note for scene in scenes for note in _moved(scene, where)))


def _still(scene: Scene, where: Layout) -> Sequence[Note]:
    rule = stroke_rule(scene, where)
    limit = Note("limit", "", texts=tuple(replace(text, words=LIMIT) for text in rule.texts))
    return magnifier(scene, where), drum_turn(scene, where), limit


def _moved(scene: Scene, where: Layout) -> Sequence[Note]:
    angle = ArmAngle(scene, where)
    x, y = angle.middle(BESIDE)
    width = _grown(angle.texts()[1], GROWN).width
    rooms = (*angle.rooms(), box(x, y - TALL / 2, x + width, y + TALL / 2))
    return cam_turn(scene, where), stroke_rule(scene, where), pushes(scene, where), Note("angle", "", solid=rooms)


def _target(name: Name, scenes: Sequence[Scene], shapes: Sequence[dict[str, BaseGeometry]]) -> BaseGeometry:
    """What is seen of a name's part all the time; where that is nothing, what is seen released."""
    visible = [seen(scene, each, name.parts) for scene, each in zip(scenes, shapes, strict=True)]
    always = shapely.intersection_all(visible)
    return visible[0] if always.is_empty else always


def _wanted(name: Name, target: BaseGeometry, grown: float) -> Wanted:
    text = WIDEST.get(name.words, Text(name.words, rank=name.rank))
    return Wanted((replace(text, grown=grown),), target, name.within is None, name.within or REACH)


def _shorter(wanted: Wanted) -> Wanted:
    """A name with a figure without the words between them."""
    return replace(wanted, lines=tuple(replace(text, lead=text.lead.replace(" turned", "")) for text in wanted.lines))


def _box(place: Box) -> BaseGeometry:
    x, y, width, height = place
    return box(x, y, x + width, y + height)
