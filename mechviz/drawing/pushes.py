"""What pushes what: an arrow at each link of the chain, in its verb's colour, only where something pushes."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin, tan

from shapely.geometry.base import BaseGeometry

from geometry.lining import Lining
from geometry.outlines.chamber_form import chamber_form
from geometry.states import ShoeState
from mechviz.drawing.layout import Layout
from mechviz.drawing.marks import Point, arc, element, line, on_circle
from mechviz.drawing.note import Note, stroke_room
from mechviz.drawing.scene import Scene, touches
from mechviz.look.colours import VerbName
from mechviz.look.defs import force_reach

WIDE = 26.0
"""Room across an arrow's head."""
TIP = force_reach(900.0)
AIR_AT = (-0.55, 0.0, 0.55)
"""Heights of the air's arrows, in shares of the plate's half height."""
LONG = 56.0
"""Length of the air's arrows: where there is less room behind the plate, they reach through it."""
ROD_FROM, ROD_LONG = 0.4, 84.0
"""The rod's arrow: how far from the clevis pin its tip is (arm lengths), and how long it is."""
HUB, HUB_ENDS = 0.36, (-0.5, 0.5)
"""The arm's arrow: its radius (arm lengths) and its ends (rad, counter-clockwise from the right)."""
CAM_BELOW, CAM_ENDS = 8.0, (-1.95, -1.35)
"""The cam's arrow: how far (mm) beyond the cam's tip it goes round, and its ends."""
SPREAD_LONG = 84.0
RUB_SHARES, RUB_FROM = (-0.573, -0.052, 0.469), 26.0
"""The arrows on a lining: where they stand on its arc, from -1 at the anchor end to 1 at the cam end, and how far (mm)
inside a new lining they begin."""


@dataclass(frozen=True)
class Push:
    """One arrow: what it looks like and the room that it takes."""

    svg: str
    room: BaseGeometry


def pushes(scene: Scene, where: Layout) -> Note:
    """Return the arrows of a state: air and rod, arm and cam, rollers, and linings where they press."""
    found: list[Push] = []
    if scene.moved:
        found += [] if scene.hand else [*_air(scene, where), _rod(scene, where)]
        found += [*_turns(scene, where), *_rollers(scene, where)]
    if scene.pressing:
        found += _linings(scene, where)
    marks = "".join(push.svg for push in found)
    return Note("push", "What pushes what", marks, solid=tuple(push.room for push in found))


def straight(tail: Point, tip: Point, verb: VerbName) -> Push:
    """Return an arrow from its tail to its tip."""
    length = hypot(tip[0] - tail[0], tip[1] - tail[1])
    share = max(0.0, 1 - TIP / length)
    end = tail[0] + share * (tip[0] - tail[0]), tail[1] + share * (tip[1] - tail[1])
    svg = line([tail, end], f"mv-force mv-line-{verb}", marker_end=f"url(#mv-force-{verb})")
    return Push(svg, stroke_room([tail, tip], WIDE))


def turning(centre: Point, radius: float, start: float, end: float, verb: VerbName) -> Push:
    """Return an arrow round a centre, from one angle to another (rad, counter-clockwise as seen)."""
    svg = element(
        "path",
        class_=f"mv-force mv-line-{verb}",
        d=arc(centre, radius, start, end),
        marker_end=f"url(#mv-force-{verb})",
    )
    last = end + TIP / radius * (1 if end > start else -1)
    places = [on_circle(centre, radius, start + i * (last - start) / 8) for i in range(9)]
    return Push(svg, stroke_room(places, WIDE))


def _air(scene: Scene, where: Layout) -> list[Push]:
    """On the plate, from the air behind the diaphragm."""
    plate = next(o for o in scene.outlines if o.name == "push_plate").geometry.bounds
    x = where.at("arm", scene.brake.linkage.pivot_start + scene.stroke + plate[0], 0.0)[0]
    axis, half = scene.brake.linkage.axis_offset, 0.5 * (plate[3] - plate[1])
    back = where.at("arm", -scene.brake.linkage.face_distance - chamber_form(scene.brake).cap_depth, 0.0)[0]
    tail = min(x + LONG + 6, back - 4)
    places = [where.at("arm", 0.0, axis + share * half)[1] for share in AIR_AT]
    return [straight((tail, y), (tail - LONG, y), "push") for y in places]


def _rod(scene: Scene, where: Layout) -> Push:
    """Along the rod, between clevis and chamber."""
    poses = scene.poses
    x, y = where.at("arm", float(poses.clevis_x[0]), float(poses.clevis_y[0]))
    slope = -tan(float(poses.pushrod_tilt[0]))
    near = x + ROD_FROM * scene.brake.linkage.arm_length * where.scale

    def at(along: float) -> Point:
        return along, y - slope * (along - x)

    return straight(at(near + ROD_LONG), at(near), "push")


def _turns(scene: Scene, where: Layout) -> list[Push]:
    """Round the slack adjuster's boss, and below the cam."""
    hub = HUB * scene.brake.linkage.arm_length * where.scale
    below = (scene.brake.profile.tip_radius + CAM_BELOW) * where.scale
    return [turning(where.arm, hub, *HUB_ENDS, "turn"), turning(where.wheel, below, *CAM_ENDS, "turn")]


def _rollers(scene: Scene, where: Layout) -> list[Push]:
    """From each roller's centre along its shoe's way out."""
    found: list[Push] = []
    anchor = scene.brake.shoe.anchor
    for sense, shoe in ((-1, scene.poses.left), (1, scene.poses.right)):
        x, y = float(shoe.roller_x[0]), float(shoe.roller_y[0])
        out = atan2(y - anchor[1], x - anchor[0]) - pi / 2
        start = where.at("wheel", sense * x, y)
        found.append(
            straight(start, (start[0] + sense * SPREAD_LONG * cos(out), start[1] - SPREAD_LONG * sin(out)), "spread")
        )
    return found


def _linings(scene: Scene, where: Layout) -> list[Push]:
    """Across each lining, out on to the drum, where it touches."""
    drum = float(scene.contact.radius[0])
    inner = scene.brake.new_radius - scene.brake.lining.thickness - RUB_FROM
    found: list[Push] = []
    for sense, shoe in ((-1, scene.state.left), (1, scene.state.right)):
        ends: Sequence[tuple[Point, Point]] = [
            (
                where.at("wheel", sense * inner * cos(angle), inner * sin(angle)),
                where.at("wheel", sense * drum * cos(angle), drum * sin(angle)),
            )
            for angle in rubbing(shoe, rub_at(scene.brake.lining))
        ]
        found += [straight(tail, tip, "rub") for tail, tip in ends]
    return found


def rub_at(lining: Lining) -> tuple[float, ...]:
    """Return the directions (rad, from the level through the drum's centre upwards) of the arrows on a lining."""
    middle, half = 0.5 * (lining.start + lining.end - pi), 0.5 * (lining.end - lining.start)
    return tuple(middle + share * half for share in RUB_SHARES)


def rubbing(shoe: ShoeState, directions: Sequence[float]) -> list[float]:
    """Return the directions (rad) of a lining's arrows: its end, its middle, its other end, as far as each touches.

    A lining worn to a cold drum touches a hot, larger one in one place only; one that is still off the drum, however
    little, has none.
    """
    if not touches(shoe):
        return []
    gaps = (shoe.gap_anchor_end, shoe.gap_middle, shoe.gap_cam_end)
    known = [(gap, angle) for gap, angle in zip(gaps, directions, strict=True) if gap is not None]
    return [angle for gap, angle in known if gap <= NEAR] or [min(known)[1]]


NEAR = 0.05
"""A gap (mm) that pressing closes."""
