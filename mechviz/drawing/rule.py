"""The stroke where it happens: a rule along the pushrod, at the picture's own scale, over the clevis pin."""

from geometry.quantity import System
from mechviz.drawing.gauge import limit_name
from mechviz.drawing.layout import Layout
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import element, line
from mechviz.drawing.note import Note, stroke_room
from mechviz.drawing.scene import Scene
from mechviz.drawing.words import bound

EIGHTH = 25.4 / 8
FIVE = 5.0


def stroke_rule(scene: Scene, where: Layout) -> Note:
    """Return the rule: ticks, the limit across it, free and applied stroke, and where the clevis pin stands now."""
    x, y = where.rule
    end = x - scene.brake.chamber.rated_stroke * where.scale
    marks = line([(x, y), (end, y)], "mv-scale") + _ticks(scene, where) + _pointer(scene, where)
    for name in ("contact", "applied"):
        stroke = scene.events[name].stroke
        if stroke is not None:
            marks += line([(x - stroke * where.scale, y + 3), (x - stroke * where.scale, y - 20)], "mv-free")
    limit = scene.case.limit.limit_mm
    stop = x - limit * where.scale
    marks += line([(stop, y + 10), (stop, y - 28)], "mv-stop")
    words = Text(f"{limit_name(scene)} {bound(limit, scene.system)}", stop, y - 36, anchor="middle")
    room = stroke_room([(x + 8, y - 6), (end - 8, y - 6)], 44)
    return Note("stroke", "Rule along the pushrod", marks, (words,), (room,))


def ticks_of(system: System) -> tuple[float, int]:
    """Return the millimetres from tick to tick, and how many make a long one."""
    return (EIGHTH, 4) if system == "inch" else (FIVE, 2)


def _ticks(scene: Scene, where: Layout) -> str:
    (step, long), (x, y) = ticks_of(scene.system), where.rule
    count = int(scene.brake.chamber.rated_stroke / step + 1e-6)
    places = ((x - i * step * where.scale, 12 if i % long == 0 else 7) for i in range(count + 1))
    return "".join(line([(at, y), (at, y - tall)], "mv-tick") for at, tall in places)


def _pointer(scene: Scene, where: Layout) -> str:
    """A pointer under the rule, and a thin line from it down to the clevis pin."""
    poses, (x, y) = scene.poses, where.rule
    at = x - scene.stroke * where.scale
    pin = where.at("arm", float(poses.clevis_x[0]), float(poses.clevis_y[0]))
    pointer = element("path", class_="mv-pointer", d=f"M{at:.2f} {y + 2:.2f}l-8 14h16z")
    return pointer + line([(at, y + 16), pin], "mv-leader")
