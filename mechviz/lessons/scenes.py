"""A step's states as scenes to be drawn: where it begins, where it ends, and on the way."""

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from geometry.air import SCENARIOS, air_states, course
from geometry.arrays import floats
from geometry.kinematics import free_stroke
from geometry.setup import Setup
from mechviz.air.study import RESERVOIR
from mechviz.drawing.note import Note
from mechviz.drawing.scene import Scene, scene_at
from mechviz.drawing.words import length
from mechviz.faults.scene import held_scene
from mechviz.lessons.build import BuiltStep
from mechviz.lessons.names import RANDOM
from mechviz.lessons.parts import part_called
from mechviz.lessons.stand import At, Stand

POINTED = 6.0
"""Width of the line round a part that is talked about, picture units."""
BEHIND = ("plane-wheel", "note-push", "part-diaphragm")
UNSEEN = ("magnifier", "gap", "cam", "drum")
"""What nobody sees from outside: faint, and where it is of words and figures, gone."""
NAMED = re.compile(r"lining|drum|turns|anchor|cam end|middle|leading|trailing", re.IGNORECASE)
"""Words that give the names of parts away."""


CHOSEN = "On the page a fault is chosen here, another one each time."
"""Instead of a picture of a fault that only the page chooses."""


def step_scene(built: BuiltStep, share: float = 1.0) -> Scene | None:
    """Return the scene a ``share`` of the way through a step's move; None where no such state can be.

    Of a fault that the page chooses there is no picture either: `CHOSEN` says so.
    """
    keys, share = built.keys, min(max(share, 0.0), 1.0)
    if keys.fault == RANDOM:
        return None
    if keys.page == "air":
        return _air_scene(built, share)
    if built.row is not None:
        at = built.begins if share < 1 else built.at
        scene = held_scene(built.setup, built.row.wheel, "released" if at.typed == "released" else "applied")
        return scene if scene.exists else None
    stand = _between(built, share)
    scene = replace(_placed(built, stand, share), hand=keys.by == "hand")
    return scene if scene.exists else None


def drawn_scene(built: BuiltStep) -> Scene | None:
    """Return the scene that stands for a step in print: its end, or where that cannot be, its beginning."""
    return step_scene(built, 1.0) or step_scene(built, 0.0)


def _between(built: BuiltStep, share: float) -> Stand:
    """Where the brake stands on the way; over a life its adjuster sets it as that life says."""
    motion = built.motion
    if motion is not None and motion["kind"] == "wear":
        return built.lived(float(motion["from"] + share * (motion["to"] - motion["from"])))
    first, last = built.start.values(), built.end.values()
    return Stand(**{name: first[name] + share * (last[name] - first[name]) for name in first})


def _placed(built: BuiltStep, stand: Stand, share: float) -> Scene:
    """The brake at a step's place in the application, or on the way there."""
    setup = replace(built.setup, test=replace(built.setup.test, pressure=stand.pressure))
    if built.motion is None or built.motion["kind"] != "travel" or share in (0.0, 1.0):
        return _at(setup, stand, built.at if share == 1.0 else built.begins)
    first, last = (_stroke(setup, stand, at) for at in (built.begins, built.at))
    stroke = float(first + share * (last - first))
    return scene_at(setup, stand.condition(setup), stroke, "stroke", length(stroke, setup.system))


def _at(setup: Setup, stand: Stand, at: At) -> Scene:
    condition = stand.condition(setup)
    if at.kind == "event":
        return scene_at(setup, condition, at.typed)
    return scene_at(setup, condition, at.value, at.kind, at.typed)


def _stroke(setup: Setup, stand: Stand, at: At) -> float:
    """The stroke (mm) of a place in the application; that of first contact where the place itself cannot be."""
    stroke = at.state(setup, stand).stroke
    return float(free_stroke(setup.brake, stand.condition(setup))) if stroke is None else stroke


def _air_scene(built: BuiltStep, share: float) -> Scene | None:
    """The brake as the air holds it at a time of the scenario."""
    setup, motion = built.setup, built.motion
    first = float(built.place["time"])
    last = float(motion["to"]) if motion else first
    run = course(SCENARIOS[str(built.place["scenario"])], setup.parking, RESERVOIR)
    condition = built.end.condition(setup)
    states = air_states(setup.brake, setup.parking, condition, run, floats([first + share * (last - first)]))
    stroke = float(np.asarray(states.brake.stroke)[0])
    if not np.isfinite(stroke):
        return None
    stroke = max(stroke, 0.0)
    if stroke == 0.0:
        return scene_at(setup, condition, "released")
    return scene_at(setup, condition, stroke, "stroke", length(stroke, setup.system))


def kept(built: BuiltStep, *, quiz: bool) -> Callable[[Note], Note | None]:
    """Return what of a picture's notes a step shows: from outside no figure of the inside, in a ``quiz`` no name."""

    def keep(note: Note) -> Note | None:
        if built.keys.view == "outside" and note.name in UNSEEN:
            return None
        if not quiz:
            return note
        return replace(note, texts=tuple(text for text in note.texts if not NAMED.search(text.words)))

    return keep


def pointed(svg: str, built: BuiltStep, scale: float) -> str:
    """Return a picture with the parts that a step talks about drawn with a strong line round them.

    What the wheel hides is faint where a step looks from outside.
    """
    parts = [part_called(words) for words in built.keys.light]
    outlines = [name for part in parts if part is not None for name in part.outlines]
    marked = [(f"part-{name.replace('_', '-')}", "pointed") for name in outlines]
    if built.keys.view == "outside":
        marked += [(name, "behind") for name in BEHIND]
    for name, mark in marked:
        svg = svg.replace(f'id="{name}" class="', f'id="{name}" class="{mark} ')
    line = f".plane .pointed path{{stroke:var(--mv-ink);stroke-width:{POINTED / scale:.3f}}}"
    return svg.replace("</style>", f"{line}.behind{{opacity:0.09}}</style>", 1) if marked else svg
