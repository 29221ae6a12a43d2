"""Close-ups of the arm plane: chamber, rod, arm and adjuster."""

from collections.abc import Mapping
from math import atan2, cos, pi, sin

from mechviz.drawing.marks import Point, arc, element, line
from mechviz.drawing.scene import Scene
from mechviz.job.dimension import Frame, dimension, pointer, words_at
from mechviz.job.shot import ALT, Maker, Scenes, Shot, along, bounds, face_of, pin_of

ROD = (
    "push_plate",
    "pushrod",
    "clevis",
    "clevis_pin",
    "slack_adjuster",
    "camshaft_end",
    "chamber_non_pressure",
    "clamp_ring",
)
CHAMBER = ("chamber_non_pressure", "chamber_pressure", "clamp_ring", "air_port", "pushrod", "studs")
LINK = ("slack_adjuster", "camshaft_end", "clevis", "clevis_pin", "pushrod", "chamber_non_pressure")
BARE_ROD = ("push_plate", "pushrod", "chamber_non_pressure", "studs")


def _shot_ring(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    x0, y0, x1, y1 = bounds(scene, "clamp_ring")
    at = bounds(scene, "chamber_pressure")[0] - 22
    window = (at - 75, y0 - 14, x1 + 60, y1 + 14)

    def over(_: Scene, frame: Frame) -> str:
        reach = [[(x0, y), (at - 8, y)] for y in (y0, y1)]
        return dimension(frame, [(at, y0), (at, y1)], "outside", reach, side=1)

    return Shot("arm", CHAMBER, "released", window, over, ALT["ring"])


def _shot_marks(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    x0, y0, _, y1 = bounds(scene, "chamber_pressure")
    port = bounds(scene, "air_port")
    window = (x0 - 60, y0 - 30, x0 + 200, y1 + 12)

    def over(_: Scene, frame: Frame) -> str:
        spot = ((port[0] + port[2]) / 2, (port[1] + port[3]) / 2)
        marks = pointer(frame, spot, "port", (40, 14), ring=16) + pointer(
            frame, (x0, y1 - 46), "cap", (-40, 30), ring=20
        )
        tag = ((bounds(scene, "clamp_ring")[0] + bounds(scene, "clamp_ring")[2]) / 2, y1 - 6)
        return marks + pointer(frame, tag, "tag", (60, 0), ring=16)

    return Shot("arm", CHAMBER, "released", window, over, ALT["marks"])


def _shot_arm(scenes: Scenes) -> Shot:
    pin = pin_of(scenes["released"])
    window = (pin[0] - 70, -45, 95, pin[1] + 40)

    def over(scene: Scene, frame: Frame) -> str:
        return dimension(frame, [(0, 0), pin_of(scene)], "arm", (), side=1, away=52)

    return Shot("arm", LINK, "released", window, over, ALT["arm"])


def _shot_reach(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    pin, face = pin_of(scene), face_of(scene)
    window = (face[0] - 45, face[1] - 100, pin[0] + 50, face[1] + 92)

    def over(_: Scene, frame: Frame) -> str:
        return along(frame, face, pin, "to the pin", face[1] + 55)

    return Shot("arm", ROD, "released", window, over, ALT["reach"])


def _angle_shot(at: str, name: str) -> Maker:
    def shot(scenes: Scenes) -> Shot:
        pin = pin_of(scenes[at])
        window = (pin[0] - 125, pin[1] - 165, pin[0] + 75, pin[1] + 45)

        def over(scene: Scene, frame: Frame) -> str:
            sweep, middle = angle_sweep(scene, frame, 62)
            return sweep + words_at(middle, "this angle")

        return Shot("arm", LINK, at, window, over, ALT[name], ghost=() if at == "released" else ("slack_adjuster",))

    return shot


def angle_sweep(scene: Scene, frame: Frame, radius: float) -> tuple[str, Point]:
    """Return the arc between arm and pushrod at the clevis pin, and a place for its words, half as far out again."""
    pin = pin_of(scene)
    centre = frame.at(*pin)
    start, end = sorted([_towards(frame, pin, (0.0, 0.0)), _towards(frame, pin, _pivot(scene))])
    if end - start > pi:
        start, end = end, start + 2 * pi
    middle = (start + end) / 2
    place = (centre[0] + 1.5 * radius * cos(middle), centre[1] - 1.5 * radius * sin(middle))
    return element("path", d=arc(centre, radius, start, end), class_="sweep"), place


def _towards(frame: Frame, start: Point, end: Point) -> float:
    """The direction from one place to another as it is seen, rad."""
    (x1, y1), (x2, y2) = frame.at(*start), frame.at(*end)
    return atan2(y1 - y2, x2 - x1) % (2 * pi)


def _pivot(scene: Scene) -> Point:
    link = scene.brake.linkage
    return -(link.face_distance + link.pivot_depth) + scene.stroke, link.axis_offset


def _moved_shot(at: str, name: str, words: str) -> Maker:
    """How far the clevis pin has moved from where it stood released, dashed."""

    def shot(scenes: Scenes) -> Shot:
        before, now = pin_of(scenes["released"]), pin_of(scenes[at])
        window = (before[0] - 120, before[1] - 105, now[0] + 70, before[1] + 75)

        def over(_: Scene, frame: Frame) -> str:
            return along(frame, before, now, words, before[1] + 40)

        return Shot("arm", LINK, at, window, over, ALT[name], ghost=("slack_adjuster", "clevis", "clevis_pin"))

    return shot


def _shot_stroke(scenes: Scenes) -> Shot:
    scene = scenes["applied"]
    face = face_of(scene)
    window = (face[0] - 62, face[1] - 92, face[0] + 170, face[1] + 82)

    def over(scene: Scene, frame: Frame) -> str:
        mark = (face[0] + scene.stroke, face[1])
        chalk = line([frame.at(mark[0], face[1] - 11), frame.at(mark[0], face[1] + 11)], "mark")
        words = words_at(_under(frame, mark, 44), "chalk mark")
        return chalk + along(frame, face, mark, "stroke", face[1] + 40) + words

    return Shot("arm", ROD, "applied", window, over, ALT["stroke"], ghost=("clevis", "clevis_pin"))


def _under(frame: Frame, place: Point, by: float) -> Point:
    """A place under another one, and a little to the left, clear of the chamber."""
    x, y = frame.at(*place)
    return x - 24, y + by


def _shot_face(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    face = face_of(scene)
    window = (face[0] - 55, -75, 60, face[1] + 60)

    def over(_: Scene, frame: Frame) -> str:
        return along(frame, (face[0], 20), (0.0, 0.0), "to the camshaft", -48)

    return Shot("arm", (*ROD, "bracket"), "released", window, over, ALT["face"])


def _shot_offset(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    face = face_of(scene)
    window = (face[0] - 30, -45, 110, face[1] + 45)

    def over(_: Scene, frame: Frame) -> str:
        at = 62.0
        reach = [[(0.0, 0.0), (at + 8, 0.0)], [pin_of(scene), (at + 8, face[1])]]
        return dimension(frame, [(at, 0.0), (at, face[1])], "square up", reach, side=-1)

    return Shot("arm", ROD, "released", window, over, ALT["offset"])


def _shot_clevis(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    pin, inside = pin_of(scene), scene.setup.clevis.pin_to_inside
    window = (pin[0] - 105, pin[1] - 62, pin[0] + 45, pin[1] + 52)

    def over(_: Scene, frame: Frame) -> str:
        return along(frame, (pin[0] - inside, pin[1]), pin, "inside to pin", pin[1] + 32)

    return Shot("arm", ("pushrod", "clevis", "clevis_pin"), "released", window, over, ALT["clevis"])


def _shot_rod(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    face, end = face_of(scene), _rod_end(scene)
    window = (face[0] - 55, face[1] - 82, end[0] + 65, face[1] + 82)

    def over(_: Scene, frame: Frame) -> str:
        return along(frame, face, end, "to the rod's end", face[1] + 45)

    return Shot("arm", BARE_ROD, "released", window, over, ALT["rod"])


def _rod_end(scene: Scene) -> Point:
    """Where the drawn rod ends."""
    x0, y0, x1, y1 = bounds(scene, "pushrod")
    return x1, (y0 + y1) / 2 if x0 else y1


def _shot_thread(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    end, thread = _rod_end(scene), scene.setup.clevis.rod_thread
    window = (end[0] - thread - 55, end[1] - 55, end[0] + 35, end[1] + 45)

    def over(_: Scene, frame: Frame) -> str:
        ridges = [end[0] - thread + 3.2 * n for n in range(int(thread / 3.2) + 1)]
        marks = (line([frame.at(x, end[1] - 8), frame.at(x + 1.4, end[1] + 8)], "reach") for x in ridges)
        return "".join(marks) + along(frame, (end[0] - thread, end[1]), end, "thread", end[1] + 26)

    return Shot("arm", ("pushrod",), "released", window, over, ALT["thread"])


def _arm_pointer(name: str, target: str, words: str, away: Point) -> Maker:
    def shot(scenes: Scenes) -> Shot:
        scene = scenes["released"]
        x0, y0, x1, y1 = bounds(scene, target)
        ring = bounds(scene, "clamp_ring")
        window = (min(x0, ring[0]) - 30, -70, 70, ring[3] + 45)
        parts = tuple(o.name for o in scene.outlines if o.plane == "arm")

        def over(_: Scene, frame: Frame) -> str:
            return pointer(frame, ((x0 + x1) / 2, (y0 + y1) / 2), words, away, ring=30)

        return Shot("arm", parts, "released", window, over, ALT[name])

    return shot


ARM_SHOTS: Mapping[str, Maker] = {
    "adjuster": _arm_pointer("adjuster", "slack_adjuster", "adjuster", (-52, -62)),
    "spring": _arm_pointer("spring", "parking_housing", "spring brake", (-60, 84)),
    "air": _arm_pointer("air", "air_port", "air", (30, 34)),
    "ring": _shot_ring,
    "marks": _shot_marks,
    "arm": _shot_arm,
    "reach": _shot_reach,
    "angle-released": _angle_shot("released", "angle-released"),
    "angle-applied": _angle_shot("applied", "angle-applied"),
    "free": _moved_shot("contact", "free", "moved"),
    "stroke": _shot_stroke,
    "face": _shot_face,
    "offset": _shot_offset,
    "clevis": _shot_clevis,
    "rod": _shot_rod,
    "thread": _shot_thread,
}
