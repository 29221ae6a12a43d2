"""One close-up: which plane and parts, in which state, which window of it, and what is drawn over it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from geometry.outlines import Outline
from geometry.pose_table import placed
from mechviz.drawing.marks import Point
from mechviz.drawing.scene import Scene
from mechviz.job.dimension import Frame, dimension

Scenes = Mapping[str, Scene]
"""Released, contact and applied of one brake."""


@dataclass(frozen=True)
class Shot:
    """One picture: the plane and the parts of it, the state, the part of the plane (mm), and what is drawn over it."""

    plane: str
    parts: tuple[str, ...]
    at: str
    window: tuple[float, float, float, float]
    over: Callable[[Scene, Frame], str]
    alt: str
    ghost: tuple[str, ...] = ()


Maker = Callable[[Scenes], Shot]
"""What makes a close-up of a brake's scenes."""


def outline(scene: Scene, name: str) -> Outline:
    """Return a part's outline."""
    return next(one for one in scene.outlines if one.name == name)


def bounds(scene: Scene, name: str) -> tuple[float, float, float, float]:
    """Return where a part stands in its plane, mm."""
    return placed(outline(scene, name), scene.table, 0).bounds


def pin_of(scene: Scene) -> Point:
    """Return where the clevis pin's centre stands, mm."""
    return float(scene.poses.clevis_x[0]), float(scene.poses.clevis_y[0])


def face_of(scene: Scene) -> Point:
    """Return where the pushrod passes the chamber's mounting face."""
    return -scene.brake.linkage.face_distance, scene.brake.linkage.axis_offset


def along(frame: Frame, start: Point, end: Point, words: str, height: float) -> str:
    """Return a dimension along the pushrod, above it, from one place to another."""
    ends = [(start[0], height), (end[0], height)]
    reach = [[(x, y), (x, height + 6 * (1 if height > y else -1))] for x, y in (start, end)]
    return dimension(frame, ends, words, reach, side=1)


ALT: Mapping[str, str] = {
    "hub": "The brake with the wheel off, seen from the chamber's side.",
    "adjuster": "The slack adjuster on the camshaft, between pushrod and shaft.",
    "spring": "The spring brake's can behind the service chamber.",
    "air": "The air port of the chamber, where the reservoirs' pressure arrives.",
    "heat": "The outside of the drum, near which a hand is held.",
    "ring": "Across the outside of the chamber's clamp ring.",
    "marks": "Where the marks of a long-stroke chamber are: at the air port, on the cap, and on a tag at the ring.",
    "arm": "From the middle of the camshaft to the middle of the clevis pin.",
    "reach": "From the chamber's face to the middle of the clevis pin, along the pushrod.",
    "angle-released": "The angle between arm and pushrod at the clevis pin, brake released.",
    "angle-applied": "The angle between arm and pushrod at the clevis pin, brake applied; released, dashed.",
    "free": "How far the clevis pin moves from released, dashed, until the linings touch.",
    "stroke": "From the chamber's face to the chalk mark on the pushrod, brake applied.",
    "lining": "The thickness of the lining at its middle, between its table and the drum.",
    "drum": "Across the inside of the drum, and once more at right angles.",
    "drum-mark": "Where the largest diameter is cast on the drum's outside.",
    "face": "From the middle of the camshaft to the chamber's face, along the pushrod.",
    "offset": "From the middle of the camshaft up to the pushrod's line, square to it.",
    "clevis": "From the inside of the clevis to the middle of its pin.",
    "rod": "From the chamber's face to the end of the rod, clevis off.",
    "thread": "The threaded length at the rod's end.",
    "cam": "The base circle of the S-cam and its radius.",
}
"""What is read out in place of each picture."""
