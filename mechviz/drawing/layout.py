"""Where everything stands in the picture: one scale for both planes, one camshaft centre line across them.

The picture is 900 units high. The wheel plane stands on the left, seen from the chamber's side. The arm plane stands to
its right and is mirrored in x, so that from the same side the arm turns the way the cam does: counter-clockwise to
apply, the chamber on the far right. Notes have the room that the two planes leave.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace

from geometry.brake import Brake
from geometry.linkage import arm_state
from geometry.outlines import Outline
from mechviz.drawing.marks import Point

WIDTH, HEIGHT = 1600.0, 900.0
MARGIN = 24.0
COLUMN = 430.0
"""Width of the column of figures on the right."""
HEAD = 200.0
"""Room above the drum for the title and the stroke."""
FRONT = 0.32
"""What the slack adjuster needs on the side away from the chamber, as a share of the arm's length."""
RULE = 1.2
"""Height of the stroke's rule over the camshaft, in arm lengths; then `RULE_ABOVE` units more."""
RULE_ABOVE = 14.0
RULE_HEAD = 60.0
"""Room over that for the rule's marks and words, mm."""
COLUMN_IN = 14.0
"""From the mechanism to the column's words."""
STROKE_TOP, MAGNIFIER_TOP, GAPS_TOP = 91.0, 650.0, 482.0
NARROW, LOWER = 322.0, 8.0
"""Width of the gap diagram beside the magnifier, and how much lower it begins, clear of the bracket."""
NAMED, APART = 32.0, 26.0
"""Room under the parking section for its name, and from the gap diagram beside the magnifier to the column."""
PARKING = frozenset({"power_spring", "parking_plate", "parking_diaphragm", "parking_housing"})
"""Parts of a parking section. It stands behind the chamber, over the column of figures."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Layout:
    """The scale (units per mm), the two camshaft centres, and the boxes (x, y, width, height) of the notes.

    ``rule`` is where the stroke's rule has its 0; it runs to the left at ``scale``. ``edge`` is how far to the right
    the mechanism reaches; ``parked`` is the parking section's box, None where none is fitted.
    """

    scale: float
    wheel: Point
    arm: Point
    cam_distance: float
    title: Box
    stroke: Box
    figures: Box
    gaps: Box
    magnifier: Box
    rule: Point
    edge: float
    parked: Box | None = None
    width: float = WIDTH
    height: float = HEIGHT

    @property
    def wheel_matrix(self) -> tuple[float, ...]:
        """From the wheel plane (mm, +y up, drum centre) to the picture."""
        return self.scale, 0.0, 0.0, -self.scale, self.wheel[0], self.wheel[1] + self.cam_distance * self.scale

    @property
    def arm_matrix(self) -> tuple[float, ...]:
        """From the arm plane (mm, +y up, camshaft centre) to the picture: mirrored in x."""
        return -self.scale, 0.0, 0.0, -self.scale, self.arm[0], self.arm[1]

    @property
    def behind(self) -> tuple[Box, ...]:
        """The parking section's box, in which nothing is written; none where none is fitted."""
        return () if self.parked is None else (self.parked,)

    def matrix(self, plane: str) -> tuple[float, ...]:
        """Return the matrix of a plane."""
        return self.wheel_matrix if plane == "wheel" else self.arm_matrix

    def at(self, plane: str, x: float, y: float) -> Point:
        """Carry a point of a plane (mm) to the picture."""
        a, _, _, d, e, f = self.matrix(plane)
        return a * x + e, d * y + f

    def data(self) -> dict[str, object]:
        """Return everything as plain values, for a page that goes on drawing."""
        return asdict(self)


@dataclass(frozen=True)
class Extent:
    """How far the two planes reach, mm: the drum's outer radius, and the arm plane's front, back and top."""

    radius: float
    front: float
    behind: float
    above: float

    @property
    def width(self) -> float:
        """Of both planes side by side."""
        return 2 * self.radius + self.front + self.behind


def extent(brake: Brake, outlines: Sequence[Outline]) -> Extent:
    """Return how far a brake's outlines reach, a parking section left out."""
    long = brake.linkage.arm_length
    arm = [o.geometry.bounds for o in outlines if o.body == "ground_arm" and o.name not in PARKING]
    return Extent(
        radius=max(o.geometry.bounds[3] for o in outlines if o.name == "drum"),
        front=FRONT * long,
        behind=-min(b[0] for b in arm),
        above=max(*(b[3] for b in arm), RULE * long + RULE_HEAD),
    )


def rule_height(brake: Brake, scale: float) -> float:
    """Return how far (picture units) the stroke's rule stands above the camshaft."""
    return RULE * brake.linkage.arm_length * scale + RULE_ABOVE


def rule_start(brake: Brake, scale: float, arm: Point) -> Point:
    """Return where the stroke's rule has its 0: over the clevis pin of the released brake, its camshaft at ``arm``."""
    return arm[0] - float(arm_state(brake.linkage, 0.0).pin_x) * scale, arm[1] - rule_height(brake, scale)


def layout(brake: Brake, outlines: Sequence[Outline], foot: float = MARGIN) -> Layout:
    """Return the layout in which the brake fills the picture at one scale, above a ``foot`` that is left free."""
    cam, reach = brake.shoe.cam_distance, extent(brake, outlines)
    radius, bottom = reach.radius, HEIGHT - foot
    scale = min(
        (WIDTH - COLUMN - 4 * MARGIN) / reach.width,
        (bottom - MARGIN) / (reach.above + cam + radius),
        (bottom - HEAD) / (2 * radius),
    )
    line = bottom - (cam + radius) * scale
    left, right = MARGIN + 2 * radius * scale, WIDTH - MARGIN - COLUMN
    arm = (left + MARGIN + reach.front * scale, line)
    where = Layout(
        scale=scale,
        wheel=(MARGIN + radius * scale, line),
        arm=arm,
        cam_distance=cam,
        title=(MARGIN, MARGIN, left - MARGIN, 64.0),
        stroke=(MARGIN, STROKE_TOP, left - MARGIN, bottom - 2 * radius * scale - STROKE_TOP),
        figures=(right + COLUMN_IN, MARGIN, COLUMN - COLUMN_IN, 434.0),
        gaps=(right + COLUMN_IN, GAPS_TOP, COLUMN - COLUMN_IN, bottom - GAPS_TOP),
        magnifier=(left + MARGIN, MAGNIFIER_TOP, right - left - 2 * MARGIN, bottom - MAGNIFIER_TOP),
        rule=rule_start(brake, scale, arm),
        edge=right,
    )
    housing = next((o for o in outlines if o.name == "parking_housing"), None)
    return where if housing is None else with_parking(_gaps_aside(where), housing)


def with_parking(where: Layout, housing: Outline) -> Layout:
    """Return a layout with a parking section, its gap diagram aside: the column of figures begins under the section."""
    behind, low, before, high = housing.geometry.bounds
    (left, top), (right, bottom) = where.at("arm", before, high), where.at("arm", behind, low)
    below = bottom + NAMED
    x, y, width, height = where.gaps
    column = x + width + APART
    return replace(
        where,
        edge=right,
        parked=(left, top, right - left, bottom - top),
        figures=(column, below, WIDTH - column, y + height - below),
    )


def _gaps_aside(where: Layout) -> Layout:
    """Put the gap diagram beside the magnifier, at the right end of its box."""
    x, y, width, height = where.magnifier
    end = y + height
    left = x + width + 1.5 * MARGIN - NARROW
    return replace(
        where,
        magnifier=(x, y, left - x - MARGIN, height),
        gaps=(left, GAPS_TOP + LOWER, NARROW, end - GAPS_TOP - LOWER),
    )


def without_column(where: Layout) -> Layout:
    """Return the layout of a picture that ends where the mechanism does, its gap diagram beside the magnifier."""
    aside = where if where.parked else _gaps_aside(where)
    return replace(aside, width=where.edge + MARGIN)
