"""A wheel of a job as it was read: chamber, rod and arm at the stroke that was read, its limit as a stop line."""

from dataclasses import replace
from functools import lru_cache
from math import degrees

from geometry.found import condition_of
from geometry.linkage_from_angle import linkage_with_angle
from geometry.quantity import System
from geometry.setup import Setup, read_setup_text
from mechviz.drawing.marks import Point, line
from mechviz.drawing.scene import Scene, found_scene, scene_at
from mechviz.drawing.words import bound, figure
from mechviz.job.arm_shots import angle_sweep
from mechviz.job.dimension import Frame, after, dimension, words_at
from mechviz.job.look import Look
from mechviz.job.pictures import close_up
from mechviz.job.shot import Shot, bounds, pin_of
from mechviz.look.colours import ThemeName

ABOVE, OVER, EDGE, BEFORE = 46.0, 56.0, 8.0, 120.0
"""How far above the clevis pin the stroke and its limit stand, and how far the picture goes over them,
over the ring and before the arm, mm."""


RAISED = 30.0
"""How far over the stroke's line its limit is written, mm: clear of the arrow and of its figure."""


def wheel_drawing(look: Look, theme: ThemeName = "light") -> str:
    """Return a wheel as it was read, as an SVG; empty where nothing can be drawn of it."""
    if look.setup is None or not look.begun:
        return ""
    return _drawn(look.understood.text, look.title, look.job.system, theme)


@lru_cache(maxsize=64)
def _drawn(text: str, title: str, system: System, theme: ThemeName) -> str:
    setup = replace(read_setup_text(text, title, judging=True), system=system)
    scene = _scene(_as_read(setup, "applied"))
    before = scene_at(_as_read(setup, "released"), condition_of(setup), "released")
    if not scene.stands or not before.stands:
        return ""
    released, now = pin_of(before), pin_of(scene)
    ring = bounds(scene, "clamp_ring")
    high = max(ring[3] + EDGE, released[1] + ABOVE + OVER)
    window = (ring[0] - 42, -52, max(released[0], now[0]) + BEFORE, high)
    parts = tuple(o.name for o in scene.outlines if o.plane == "arm" and o.name not in UNSEEN)

    def over(scene: Scene, frame: Frame) -> str:
        return _stroke(scene, frame, released) + _angle(scene, frame)

    shot = Shot("arm", parts, "applied", window, over, _said(scene), ghost=("slack_adjuster", "clevis", "clevis_pin"))
    return close_up(shot, scene, before, theme)


UNSEEN = ("axle_tube", "power_spring", "parking_plate", "parking_diaphragm", "parking_housing", "bracket")


def _as_read(setup: Setup, when: str) -> Setup:
    """The brake with its chamber where an angle that was read puts the arm; the other angle tells where there is one.

    A drawn arm stands as the gauge said: what the built-in brake's mounting would make of it is no picture of it.
    """
    measured, stroke = setup.measured, setup.measured.stroke
    released, applied = measured.arm_angle_released, measured.arm_angle_applied
    by_released = None if released is None else linkage_with_angle(setup.brake.linkage, released)
    by_applied = None if applied is None or stroke is None else linkage_with_angle(setup.brake.linkage, applied, stroke)
    found = by_applied or by_released if when == "applied" else by_released or by_applied
    return setup if found is None else replace(setup, brake=replace(setup.brake, linkage=found))


def _scene(setup: Setup) -> Scene:
    """The stroke that was read, where this brake can have it; else the brake as it works out."""
    read = setup.measured.stroke
    if read is not None:
        scene = scene_at(setup, condition_of(setup), read, "stroke", bound(read, setup.system))
        if scene.exists:
            return scene
    return found_scene(setup)


def _said(scene: Scene) -> str:
    read = scene.setup.measured.stroke
    what = "as read" if read is not None else "worked out"
    return f"Chamber, pushrod and arm at a stroke of {bound(scene.stroke, scene.system)}, {what}; released, dashed."


def _stroke(scene: Scene, frame: Frame, released: Point) -> str:
    """The stroke from where the pin stood, its figure, and the limit as a stop line across."""
    height, limit = released[1] + ABOVE, scene.case.limit.limit_mm
    ends = [(released[0], height), (released[0] + scene.stroke, height)]
    reach = [[(x, released[1]), (x, height + 5)] for x, _ in ends]
    read = scene.setup.measured.stroke
    words = bound(read, scene.system) if read is not None else f"{figure(scene.stroke, 'length', scene.system)}?"
    stop = [frame.at(released[0] + limit, height + dy) for dy in (-11, RAISED)]
    known = scene.case.knows_chamber
    mark = line(stop, "mv-stop") if known else ""
    name = words_at(frame.at(released[0] + limit, height + RAISED + 4), f"limit {bound(limit, scene.system)}")
    said = after(frame.at(released[0], height), words)
    return dimension(frame, ends, "", reach, side=1) + said + (mark + name if known else "")


def _angle(scene: Scene, frame: Frame) -> str:
    """The arm's angle as read, else as worked out for this brake; none where it would be the built-in brake's."""
    measured = scene.setup.measured
    read = measured.arm_angle_applied
    own = measured.arm_angle_released is not None or not scene.case.unknown_for_angles
    there = own and (measured.stroke is not None or not scene.case.unknown_slack)
    shown = read if read is not None else scene.state.arm_angle if there else None
    if shown is None:
        return ""
    sweep, middle = angle_sweep(scene, frame, 40)
    words = f"{degrees(shown):.0f}°" + ("" if read is not None else "?")
    return sweep + words_at((middle[0], middle[1] + 6), words)
