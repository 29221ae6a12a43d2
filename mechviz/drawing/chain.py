"""The chain of motion in four sentences, each with its figures in its verb's colour."""

from dataclasses import dataclass, replace
from math import degrees

from shapely.geometry import box

from geometry.brake import SIDES
from geometry.chamber import share_lost, thrust_share
from geometry.quantity import KindName
from mechviz.drawing.layout import Box
from mechviz.drawing.lettering import Text
from mechviz.drawing.note import Note
from mechviz.drawing.scene import Scene
from mechviz.drawing.turn import SEEN
from mechviz.drawing.words import NONE, figure, length, small
from mechviz.look.colours import VerbName

SENTENCE, LINE, APART = 34.0, 27.0, 18.0
LOST = 0.05
"""A chamber's push that has fallen by less than this share is whole."""


@dataclass(frozen=True)
class Link:
    """One sentence and the lines under it."""

    verb: VerbName
    sentence: str
    lines: tuple[Text, ...]


def chain(scene: Scene, place: Box) -> Note:
    """Return the four sentences, one under the other."""
    x, y, width, height = place
    room = box(x - 20, y, x + width, y + height)
    texts: list[Text] = []
    for link in links(scene):
        y += SENTENCE
        texts.append(Text(link.sentence, x, y, "figure", rank=link.verb))
        for text in link.lines:
            y += LINE
            texts.append(replace(text.at(x, y), rank=link.verb if text.lead else "ink", lead_rank="ink"))
        y += APART
    return Note("chain", "The chain of motion", texts=tuple(texts), solid=(room,))


def links(scene: Scene) -> list[Link]:
    """Return the links of a state, from the air to the drum."""
    return [_push(scene), _turn(scene), _spread(scene), _rub(scene)]


def _figure(scene: Scene, value: float | None, kind: KindName, name: str, lead: str = "") -> Text:
    return Text(figure(value, kind, scene.system), name=name, lead=lead)


def _push(scene: Scene) -> Link:
    state = scene.state
    if not scene.moved:
        return Link("push", "No air pushes", (Text("the rod rests"),))
    if scene.hand:
        return Link("push", "The hand pulls the arm", (Text("no air in the chamber"),))
    if state.pressure is None:
        way = Text(f"{length(scene.stroke, scene.system)}: the free stroke")
        return Link("push", "Air pushes the rod", (way,))
    pressure = _figure(scene, state.pressure, "pressure", "value-pressure", "in the chamber ")
    force = _figure(scene, state.chamber_force, "force", "value-chamber-force", "on the rod ")
    left = _figure(scene, scene.left_to_bottom, "length", "value-left", "left before it bottoms ")
    return Link("push", "Air pushes the rod", (pressure, force, left, *_lost(scene)))


def _lost(scene: Scene) -> tuple[Text, ...]:
    """How much of pressure times area does not reach the rod, where the stretched diaphragm makes it worth a word."""
    chamber, state = scene.brake.chamber, scene.state
    if state.chamber_force is None or not state.pressure or thrust_share(chamber, scene.stroke)[0] > 1 - LOST:
        return ()
    kept = share_lost(chamber, state.pressure, state.chamber_force)
    return (Text(f"{100 * kept:.0f} %", lead="lost to diaphragm and spring: "),)


def _turn(scene: Scene) -> Link:
    if not scene.moved:
        return Link("turn", "Arm and cam rest", ())
    sentence = "Arm and cam turn" if scene.hand else "The rod turns arm and cam"
    return Link("turn", sentence, (Text(_turned(scene), name="value-arm-turn", lead="the arm by "),))


def _turned(scene: Scene) -> str:
    """How far the arm has turned, and how much of that the cam has not: shafts and brackets give."""
    arm, cam = float(scene.poses.arm_turn[0]), float(scene.poses.cam_turn[0])
    told = figure(arm, "angle", scene.system)
    if degrees(arm - cam) < SEEN:
        return told
    return f"{told}, {figure(arm - cam, 'angle', scene.system)} wind-up"


def _spread(scene: Scene) -> Link:
    left, right = scene.state.left, scene.state.right
    if not scene.moved:
        return Link("spread", "Springs pull the shoes in", ())
    if scene.hand or left.roller_force is None or right.roller_force is None:
        return Link("spread", "The cam spreads the shoes", ())
    forces = (figure(shoe.roller_force, "force", scene.system) for shoe in (left, right))
    lines = (Text(force, lead=f"{side} roller ") for side, force in zip(SIDES, forces, strict=True))
    return Link("spread", "The cam spreads the shoes", tuple(lines))


def _rub(scene: Scene) -> Link:
    state = scene.state
    least = [gap for gap in (state.left.gap_least, state.right.gap_least) if gap is not None]
    gap = Text(small(min(least), scene.system) if least else NONE, name="value-gap-least", lead="least gap: ")
    if scene.pressing:
        torque = _figure(scene, state.brake_torque, "torque", "value-brake-torque", "brake torque ")
        return Link("rub", scene.linings("rub the drum", "rubs"), (gap, torque))
    if not scene.touching:
        return Link("rub", "The linings clear the drum", (gap,))
    return Link("rub", scene.linings("touch the drum", "touches"), (gap,))
