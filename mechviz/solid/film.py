"""A film of the solid brake: takes become frames, each a render with its words laid over it.

Frames are made one after another and handed on at once, so that no film has to fit in memory. Draws with VTK: run it in
a process of its own (`mechviz.solid.alone`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from io import BytesIO

import numpy as np
from shapely.geometry import box

from geometry.arrays import Array
from geometry.kinematics import Poses, solve_poses
from geometry.setup import Setup
from geometry.states import at_pressure, at_stroke
from mechviz.drawing.layout import MARGIN, WIDTH
from mechviz.drawing.lettering import Text, fitted, folded
from mechviz.drawing.note import Note
from mechviz.drawing.picture import document, found_words
from mechviz.drawing.placing import Room, union
from mechviz.drawing.scene import Scene
from mechviz.export import svg_to_png
from mechviz.look.colours import channels, colours
from mechviz.solid.fineness import FILM
from mechviz.solid.labels import Placed, Shapes, label_note, placed
from mechviz.solid.stage import Pixels, Stage
from mechviz.solid.still import LEFT, figures, foot_of
from mechviz.solid.take import Take, eased
from mechviz.solid.visible import visible_shapes

TOP, RIGHT, FOOT = 24.0, 1584.0, 768.0
"""The render's place, from `still.LEFT` on: the caption stands under it."""
CAPTION, LINE = 806.0, 36.0
BOUNDS = (MARGIN, MARGIN, WIDTH - MARGIN, FOOT)
FIGURES = 400.0
"""The title and the figures stand above this, left of the render."""
GONE, FADING = 0.50, 0.34
"""What leaves the picture has gone after this share of the way, and fades for so much of it."""
SHAPES_AGAIN = 8
"""Worn linings are shaped anew after so many frames."""


@dataclass(frozen=True)
class Screen:
    """The size of a film in pixels."""

    width: int = 1920
    height: int = 1080

    @property
    def scale(self) -> float:
        """Pixels a picture unit."""
        return self.width / WIDTH

    @property
    def render(self) -> tuple[int, int]:
        """The render's width and height, pixels."""
        return round((RIGHT - LEFT) * self.scale), round((FOOT - TOP) * self.scale)


def film_frames(setup: Setup, takes: Sequence[Take], screen: Screen | None = None) -> Iterator[Pixels]:
    """Return the frames (height, width, 3) of takes, one after another."""
    for take in takes:
        yield from _take(setup, take, screen or Screen())


def _take(setup: Setup, take: Take, screen: Screen) -> Iterator[Pixels]:
    """The frames of one take; while linings wear, their solids are made anew from time to time."""
    poses = solve_poses(setup.brake, take.condition, take.strokes)
    step = SHAPES_AGAIN if take.wears else take.frames
    names: tuple[Tied, ...] | None = None
    for start in range(0, take.frames, step):
        with _stage(setup, take, start, screen) as stage:
            camera = Camera.of(stage, take, poses)
            names = _names(stage, take, poses, camera, screen) if names is None else names
            shown: Pixels | None = None
            for frame in range(start, min(start + step, take.frames)):
                if shown is None or not take.rests(frame):
                    shown = _frame(setup, take, poses, frame, stage, camera, names, screen)
                yield shown


def _stage(setup: Setup, take: Take, frame: int, screen: Screen) -> Stage:
    condition, parked = take.condition_at(frame), setup.parking is not None
    return Stage(setup.brake, condition, take.shot, screen.render, parking=parked, fineness=FILM)


@dataclass(frozen=True)
class Camera:
    """What is in the picture at a take's beginning and at its end: points (n, 3) each."""

    first: Array
    last: Array

    @classmethod
    def of(cls, stage: Stage, take: Take, poses: Poses) -> "Camera":
        """Return the camera of a take: it takes in whatever the take moves, and at the end only what stays."""
        boxes: list[Array] = []
        for frame in (0, take.frames // 2, take.frames - 1):
            for apart in {take.apart_at(0), take.widest}:
                stage.pose(poses, frame, apart=apart)
                boxes.append(stage.corners())
        stage.pose(poses, take.frames - 1, apart=take.apart_at(0))
        return cls(np.concatenate(boxes), stage.corners(take.leaves))

    def aim(self, stage: Stage, take: Take, frame: int) -> None:
        """Point the stage's camera as in a frame of the take."""
        view, way = take.view(frame), take.way(frame) if take.leaves else 0.0
        (near, there), (away, beyond) = stage.eye(view, self.first), stage.eye(view, self.last)
        stage.aim((1 - way) * near + way * away, (1 - way) * there + way * beyond)


def _frame(
    setup: Setup,
    take: Take,
    poses: Poses,
    frame: int,
    stage: Stage,
    camera: Camera,
    names: Sequence["Tied"],
    screen: Screen,
) -> Pixels:
    stage.pose(poses, frame, apart=take.apart_at(frame), loose=take.leaves)
    camera.aim(stage, take, frame)
    if take.leaves:
        stage.fade(take.leaves, float(eased(np.array((GONE - take.way(frame)) / FADING))))
    scene = _scene(setup, take, frame)
    render = stage.image()
    words = overlay(scene, take, label_note([_followed(name, stage, screen) for name in names]), screen)
    return laid(render, words, screen, channels(colours(take.shot.theme)["paper"]))


@dataclass(frozen=True)
class Tied:
    """A name in its place, and the point (3,) of its part's own frame that its leader follows; None without one."""

    name: Placed
    point: Array | None


def _followed(tied: Tied, stage: Stage, screen: Screen) -> Placed:
    """The name, its leader ending where its part is now."""
    if tied.point is None:
        return tied.name
    x, y = stage.pixel_of(tied.name.part, tied.point)
    return replace(tied.name, end=(LEFT + x / screen.scale, TOP + y / screen.scale))


def _names(stage: Stage, take: Take, poses: Poses, camera: Camera, screen: Screen) -> tuple[Tied, ...]:
    """Names that no part runs into in the whole take; none where the eye moves."""
    if not take.still:
        return ()
    seen: list[Shapes] = []
    for frame in (0, take.frames - 1, take.frames // 2):
        stage.pose(poses, frame, apart=take.apart_at(frame))
        camera.aim(stage, take, frame)
        seen.append(_shapes(stage, screen))
    room = Room(BOUNDS, union([shape for shapes in seen for shape in shapes.values()]))
    room.keep_clear((), [box(MARGIN, MARGIN, LEFT - MARGIN, FIGURES)])
    return tuple(_tied(name, stage, screen) for name in placed(seen[-1], room, take.names))


def _tied(name: Placed, stage: Stage, screen: Screen) -> Tied:
    if name.end is None:
        return Tied(name, None)
    x, y = ((name.end[0] - LEFT) * screen.scale, (name.end[1] - TOP) * screen.scale)
    return Tied(name, stage.point_at(name.part, x, y))


def _shapes(stage: Stage, screen: Screen) -> Shapes:
    return visible_shapes(*stage.seen(), 1 / screen.scale, (LEFT, TOP))


def _scene(setup: Setup, take: Take, frame: int) -> Scene:
    """The frame as a scene: a state that the pressure holds, or one on the way."""
    condition, stroke = take.condition_at(frame), float(take.strokes[frame])
    if take.pressure is not None:
        return Scene(setup, condition, at_pressure(setup.brake, condition, take.pressure, "applied"))
    return Scene(setup, condition, at_stroke(setup.brake, condition, stroke, "stroke"))


def overlay(scene: Scene, take: Take, labels: Note, screen: Screen) -> Pixels:
    """Return the words of a frame (height, width, 4) on nothing."""
    title = fitted(Text(take.title, MARGIN, 54.0), LEFT - 2 * MARGIN, ("title", "heading", "figure"))
    brake = fitted(Text(found_words(scene), MARGIN, 88.0, rank="soft"), LEFT - 2 * MARGIN, ("label",))
    lines = folded(take.words, WIDTH - 2 * MARGIN, "figure")[:2]
    caption = tuple(Text(words, MARGIN, CAPTION + LINE * n, "figure") for n, words in enumerate(lines))
    notes = (Note("title", "What is shown", texts=(title, brake, *caption)), *figures(scene), labels, foot_of())
    inside = "".join(note.svg() for note in notes)
    svg = document(inside, take.title, take.words, WIDTH, 1.0, take.shot.theme, ground=False)
    return _pixels(svg_to_png(svg, screen.width, take.shot.theme, ground=False))


def _pixels(png: bytes) -> Pixels:
    from PIL import Image

    return np.asarray(Image.open(BytesIO(png)).convert("RGBA"))


def laid(render: Pixels, words: Pixels, screen: Screen, paper: tuple[int, int, int]) -> Pixels:
    """Return a frame: the render in its place on paper, the words over both."""
    frame = np.empty((screen.height, screen.width, 3), dtype=np.uint8)
    frame[:] = paper
    left, top = round(LEFT * screen.scale), round(TOP * screen.scale)
    frame[top : top + render.shape[0], left : left + render.shape[1]] = render
    share = words[..., 3:].astype(np.uint16)
    mixed = (words[..., :3] * share + frame * (255 - share) + 127) // 255
    return mixed.astype(np.uint8)
