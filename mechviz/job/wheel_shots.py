"""Close-ups of the wheel plane: drum, lining and cam."""

from collections.abc import Mapping
from math import cos, radians, sin

from shapely.geometry import LineString

from geometry.involute import InvoluteProfile
from geometry.pose_table import placed
from mechviz.drawing.marks import element, line
from mechviz.drawing.scene import Scene
from mechviz.job.dimension import Frame, dimension, pointer, words_at
from mechviz.job.shot import ALT, Maker, Scenes, Shot, bounds, outline


def _shot_lining(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    x0, x1 = _across(scene, "lining_right")
    window = (x0 - 55, -42, x1 + 62, 46)

    def over(_: Scene, frame: Frame) -> str:
        return dimension(frame, [(x0, 0.0), (x1, 0.0)], "lining only", (), side=1, away=24, ties=True)

    parts = ("shoe_right_web", "shoe_right_platform", "lining_right", "drum")
    return Shot("wheel", parts, "released", window, over, ALT["lining"])


def _across(scene: Scene, name: str) -> tuple[float, float]:
    """From where to where a part reaches on the line through the drum's middle, mm."""
    shape = placed(outline(scene, name), scene.table, 0)
    cut = shape.intersection(LineString([(-1e4, 0.0), (1e4, 0.0)]))
    return cut.bounds[0], cut.bounds[2]


def _shot_drum(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    radius, outer = float(scene.contact.radius[0]), bounds(scene, "drum")[2]
    window = (-outer - 20, -outer - 16, outer + 20, outer + 16)

    def over(_: Scene, frame: Frame) -> str:
        first = dimension(frame, [(-radius, 0.0), (radius, 0.0)], "inside", (), side=1)
        second = line([frame.at(0.0, -radius), frame.at(0.0, radius)], "reach", stroke_dasharray="6 5")
        return second + first

    return Shot("wheel", ("drum",), "released", window, over, ALT["drum"])


def _drum_pointer(name: str, words: str) -> Maker:
    def shot(scenes: Scenes) -> Shot:
        outer = bounds(scenes["released"], "drum")[2]
        window = (-outer - 30, -outer - 30, outer + 30, outer + 30)

        def over(_: Scene, frame: Frame) -> str:
            spot = (outer * 0.72, outer * 0.68)
            return pointer(frame, spot, words, (-46, 34), ring=18)

        return Shot("wheel", ("drum", "spider", "spindle"), "released", window, over, ALT[name])

    return shot


def _shot_hub(scenes: Scenes) -> Shot:
    outer = bounds(scenes["released"], "drum")[2]
    window = (-outer - 14, -outer - 14, outer + 14, outer + 14)
    parts = tuple(o.name for o in scenes["released"].outlines if o.plane == "wheel")
    return Shot("wheel", parts, "released", window, lambda _, __: "", ALT["hub"])


def _shot_cam(scenes: Scenes) -> Shot:
    scene = scenes["released"]
    cam, profile = scene.brake.shoe.cam_distance, scene.brake.profile
    assert isinstance(profile, InvoluteProfile)  # the built-in brakes' cams are
    radius = profile.base_radius
    window = (-75, cam - 55, 75, cam + 55)

    def over(_: Scene, frame: Frame) -> str:
        centre = frame.at(0.0, cam)
        circle = element("circle", cx=centre[0], cy=centre[1], r=radius * frame.scale, class_="ring")
        turned = radians(50)
        end = (radius * cos(turned), cam + radius * sin(turned))
        return circle + dimension(frame, [(0.0, cam), end], "", (), side=1) + words_at((centre[0], 26), "base circle")

    return Shot("wheel", ("s_cam", "roller_left", "roller_right", "camshaft"), "released", window, over, ALT["cam"])


WHEEL_SHOTS: Mapping[str, Maker] = {
    "hub": _shot_hub,
    "heat": _drum_pointer("heat", "near, not on"),
    "lining": _shot_lining,
    "drum": _shot_drum,
    "drum-mark": _drum_pointer("drum-mark", "cast here"),
    "cam": _shot_cam,
}
