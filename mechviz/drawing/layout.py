"""Where everything stands in the picture: one scale for both planes, one camshaft centre line across them.

The picture is 1600 x 900 units. The wheel plane stands on the left, seen from the chamber's side. The arm plane stands
to its right and is mirrored in x, so that from the same side the arm turns the way the cam does: counter-clockwise to
apply, the chamber on the far right. Notes have the room that the two planes leave.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass

from geometry.brake import Brake
from geometry.outlines import Outline

WIDTH, HEIGHT = 1600.0, 900.0
MARGIN = 24.0
COLUMN = 430.0
"""Width of the column of figures on the right."""
HEAD = 200.0
"""Room above the drum for the title and the stroke."""
FRONT = 0.32
"""What the slack adjuster needs on the side away from the chamber, as a share of the arm's length."""
MAGNIFIER_TOP = 650.0

Box = tuple[float, float, float, float]
Point = tuple[float, float]


@dataclass(frozen=True)
class Layout:
    """The scale (units per mm), the two camshaft centres, and the boxes (x, y, width, height) of the notes."""

    scale: float
    wheel: Point
    arm: Point
    cam_distance: float
    title: Box
    stroke: Box
    figures: Box
    gaps: Box
    magnifier: Box

    @property
    def wheel_matrix(self) -> tuple[float, ...]:
        """From the wheel plane (mm, +y up, drum centre) to the picture."""
        return self.scale, 0.0, 0.0, -self.scale, self.wheel[0], self.wheel[1] + self.cam_distance * self.scale

    @property
    def arm_matrix(self) -> tuple[float, ...]:
        """From the arm plane (mm, +y up, camshaft centre) to the picture: mirrored in x."""
        return -self.scale, 0.0, 0.0, -self.scale, self.arm[0], self.arm[1]

    def at(self, plane: str, x: float, y: float) -> Point:
        """Carry a point of a plane (mm) to the picture."""
        a, _, _, d, e, f = self.wheel_matrix if plane == "wheel" else self.arm_matrix
        return a * x + e, d * y + f

    def data(self) -> dict[str, object]:
        """Return everything as plain values, for a page that goes on drawing."""
        return {**asdict(self), "width": WIDTH, "height": HEIGHT}


def layout(brake: Brake, outlines: Sequence[Outline]) -> Layout:
    """Return the layout that lets the brake's outlines fill the picture at one scale."""
    cam = brake.shoe.cam_distance
    radius = max(o.geometry.bounds[3] for o in outlines if o.name == "drum")
    arm = [o.geometry.bounds for o in outlines if o.plane == "arm" and o.body == "ground_arm"]
    behind, above = -min(b[0] for b in arm), max(b[3] for b in arm)
    front = FRONT * brake.linkage.arm_length
    scale = min(
        (WIDTH - COLUMN - 4 * MARGIN) / (2 * radius + front + behind),
        (HEIGHT - 2 * MARGIN) / (above + cam + radius),
        (HEIGHT - HEAD - MARGIN) / (2 * radius),
    )
    line = HEIGHT - MARGIN - (cam + radius) * scale
    left, right = MARGIN + 2 * radius * scale, WIDTH - MARGIN - COLUMN
    return Layout(
        scale=scale,
        wheel=(MARGIN + radius * scale, line),
        arm=(left + MARGIN + front * scale, line),
        cam_distance=cam,
        title=(MARGIN, MARGIN, left - MARGIN, 64.0),
        stroke=(MARGIN, 96.0, left - MARGIN, HEIGHT - MARGIN - 2 * radius * scale - 96.0),
        figures=(right, MARGIN, COLUMN, 420.0),
        gaps=(right, 470.0, COLUMN, HEIGHT - 470.0 - MARGIN),
        magnifier=(left + MARGIN, MAGNIFIER_TOP, right - left - 2 * MARGIN, HEIGHT - MAGNIFIER_TOP - MARGIN),
    )
