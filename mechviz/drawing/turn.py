"""How far arm and cam have turned from released: rays from the camshaft and the arcs between them."""

from math import atan2, degrees, hypot, pi

from shapely.geometry.base import BaseGeometry

from geometry.linkage import arm_state
from mechviz.drawing.layout import Layout
from mechviz.drawing.marks import arc, element, line, on_circle
from mechviz.drawing.note import Note, stroke_room
from mechviz.drawing.scene import Scene

SEEN = 0.05
"""Degrees: a smaller turn is not drawn."""
ARM_ARC = 0.66
"""Where the arm's arc stands, in arm lengths."""


def cam_turn(scene: Scene, where: Layout) -> Note:
    """Return both arcs; the cam's figure stands in its label."""
    marks = _cam(scene, where) + _arm(scene, where)
    return Note("cam", "Turn of arm and cam from released", marks, solid=_before(scene, where))


def _before(scene: Scene, where: Layout) -> tuple[BaseGeometry, ...]:
    """The room of the line on which the arm stood."""
    released = arm_state(scene.brake.linkage, 0.0)
    return (stroke_room([where.arm, where.at("arm", float(released.pin_x), float(released.pin_y))], 5.0),)


def _cam(scene: Scene, where: Layout) -> str:
    reach = (scene.brake.profile.tip_radius - 1) * where.scale
    turn = float(scene.poses.cam_turn[0])
    if degrees(turn) < SEEN:
        return line([where.wheel, on_circle(where.wheel, reach, pi / 2)], "mv-ray")
    rays = (line([where.wheel, on_circle(where.wheel, reach, pi / 2 + angle)], "mv-ray") for angle in (0.0, turn))
    return "".join(rays) + element("path", class_="mv-angle", d=arc(where.wheel, 0.86 * reach, pi / 2, pi / 2 + turn))


def _arm(scene: Scene, where: Layout) -> str:
    """The arm's middle line as it stood released, and the arc from there to where it stands."""
    if degrees(float(scene.poses.arm_turn[0])) < SEEN:
        return ""
    released = arm_state(scene.brake.linkage, 0.0)
    before = where.at("arm", float(released.pin_x), float(released.pin_y))
    now = where.at("arm", float(scene.poses.clevis_x[0]), float(scene.poses.clevis_y[0]))
    start, end = (atan2(where.arm[1] - y, x - where.arm[0]) for x, y in (before, now))
    long = hypot(before[0] - where.arm[0], before[1] - where.arm[1])
    marks = line([where.arm, on_circle(where.arm, 1.1 * long, start)], "mv-before")
    radius = ARM_ARC * long
    return marks + element("path", class_="mv-angle", d=arc(where.arm, radius, start, end))
