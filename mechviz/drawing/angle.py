"""The arm's angle: an arc at the clevis pin between rod and arm, beside a true square corner."""

from math import atan2, pi

from shapely.geometry.base import BaseGeometry

from mechviz.drawing.layout import Layout
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import Point, arc, element, line, on_circle
from mechviz.drawing.note import stroke_room
from mechviz.drawing.scene import Scene
from mechviz.drawing.words import figure, to_square

RADIUS = 66.0
CORNER = 30.0
REACH = 100.0


class ArmAngle:
    """Where the clevis pin and the two directions from it lie in the picture (rad, counter-clockwise, from right)."""

    def __init__(self, scene: Scene, where: Layout) -> None:
        poses = scene.poses
        self.scene = scene
        self.angle = float(poses.arm_angle[0])
        self.pin: Point = where.at("arm", float(poses.clevis_x[0]), float(poses.clevis_y[0]))
        self.rod = -float(poses.pushrod_tilt[0])
        self.arm = atan2(self.pin[1] - where.arm[1], where.arm[0] - self.pin[0])

    @property
    def square(self) -> float:
        """The direction square to the rod, on the arm's side."""
        return self.rod - pi / 2

    def marks(self) -> str:
        """Return the square corner, dashed, and the arc from the rod to the arm."""
        side, down = on_circle((0, 0), 1, self.rod), on_circle((0, 0), 1, self.square)
        x, y = self.pin

        def at(along: float, across: float) -> Point:
            return x + along * side[0] + across * down[0], y + along * side[1] + across * down[1]

        corner = line([at(CORNER, 0), at(CORNER, CORNER), at(0, CORNER)], "mv-square")
        corner += line([at(0, 0), at(0, REACH)], "mv-square")
        start, end = sorted((self.rod, self.rod - self.angle), reverse=True)
        return corner + element("path", class_="mv-angle", d=arc(self.pin, RADIUS, start, end))

    def texts(self) -> tuple[Text, Text]:
        """Return the angle and where the arm stands, still without a place."""
        return (
            Text(figure(self.angle, "angle", self.scene.system), size="figure", rank="turn", name="value-arm-angle"),
            Text(to_square(self.angle), rank="turn"),
        )

    def rooms(self) -> tuple[BaseGeometry, ...]:
        """Return the room of the arc and of the square corner."""
        places = [on_circle(self.pin, RADIUS, self.rod - i * self.angle / 16) for i in range(17)]
        down = on_circle(self.pin, REACH, self.square)
        return stroke_room(places, 6.0), stroke_room([self.pin, down], 6.0)

    def middle(self, radius: float) -> Point:
        """Return the point on the angle's bisector so far from the pin."""
        return on_circle(self.pin, radius, self.rod - self.angle / 2)
