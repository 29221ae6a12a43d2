"""The story as a film: what shows from outside, what is behind it, and how an adjuster that stops leads to the limit.

Everything that moves is solved for the brake at hand; where its life has no such turn (a chamber that never reaches its
limit, a hot drum that leaves nothing to press on) the captions say what there is instead.
"""

from dataclasses import dataclass, replace

import numpy as np

from geometry.applied import solve_applied
from geometry.arrays import Array, floats
from geometry.condition import Condition
from geometry.errors import AssemblyError, Fault
from geometry.found import released_angle
from geometry.kinematics import free_stroke
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.states import at_pressure
from mechviz.checks.case import COLD, HOT, Case
from mechviz.drawing.scene import Scene
from mechviz.drawing.verdict import judged
from mechviz.drawing.words import figure, length
from mechviz.look.colours import ThemeName
from mechviz.solid import names
from mechviz.solid.shot import OUTSIDE, WHEEL_END, Shot
from mechviz.solid.take import Take, held, ramp
from mechviz.solid.views import VIEWS

FPS = 24
HEALTHY = 12.7
"""Free stroke (mm) of the brake that the story begins with, where that leaves it well inside its limit."""
PAST = 25.4 / 8
"""How far (mm) past the limit the story goes, at the least."""
SAMPLES = 241


@dataclass(frozen=True)
class Ages:
    """The conditions that the story goes through: as adjusted, nearly at the limit (mm), past it as far as it goes.

    ``reaches`` says whether the stroke comes over the limit at all.
    """

    healthy: Condition
    near: Condition
    past: Condition
    limit: float
    reaches: bool


def ages(setup: Setup) -> Ages:
    """Return the conditions of the story. With a brake that never reaches its limit they end where its life does."""
    brake, found, pressure = setup.brake, setup.as_found, setup.test.pressure
    case = Case(setup, setup.test.rules)
    limit, new = case.limit.limit_mm, brake.lining.thickness
    free = min(HEALTHY, 0.32 * limit)
    worn = floats(new), floats(found.drum_diameter)
    released = float(released_angle(brake, *worn, COLD, floats(free), floats(np.nan)))
    healthy = Condition(*worn, COLD, released)
    thickness = np.linspace(new, 0.02 * new, SAMPLES)
    stroke = solve_applied(brake, replace(healthy, lining_thickness=thickness), pressure).stroke
    there = np.isfinite(stroke)
    last = int(np.argmin(there)) if not there.all() else SAMPLES
    if last == 0:
        raise _not_applied("new, with that adjustment, it")
    thickness, stroke = thickness[:last], stroke[:last]

    def at(wanted: float) -> Condition:
        return replace(healthy, lining_thickness=float(np.interp(wanted, stroke, thickness)))

    beyond = min(limit + PAST, 0.97 * brake.chamber.rated_stroke)
    past = at(beyond)
    return Ages(
        healthy=healthy,
        near=at(min(0.96 * limit, float(stroke[-1]))),
        past=past,
        limit=limit,
        reaches=bool(stroke[-1] > limit),
    )


def full_story(setup: Setup, theme: ThemeName = "light") -> list[Take]:
    """Return the takes of the whole story, about a minute."""
    told = ages(setup)
    return [*_outside(setup, told, theme), *_inside(setup, told, theme), *_worn(setup, told, theme)]


def press_film(setup: Setup, condition: Condition, shot: Shot) -> list[Take]:
    """Return one application of a brake in a condition, seen as in a shot: pressed, held, let go."""
    applied, touch = _stroke(setup, condition), float(free_stroke(setup.brake, condition))
    touch = min(touch, applied)
    there = np.concatenate([held(0.0, FPS // 2), ramp(0.0, touch, 2 * FPS), ramp(touch, applied, 2 * FPS)])
    return [
        Take("Pressed", PUSHES, shot, condition, there),
        Take("Applied", _of_stroke(setup, condition), shot, condition, held(applied, 2 * FPS), setup.test.pressure),
        Take("Let go", SPRINGS, shot, condition, ramp(applied, 0.0, 2 * FPS)),
    ]


def apart_film(condition: Condition, shot: Shot) -> list[Take]:
    """Return a brake that is taken apart, left so for a while, and put together again."""
    words = "Wheel end first, then shoes and cam, the chamber last. A parking section stays whole."
    away = ramp(0.0, 1.0, 5 * FPS)
    apart = held(1.0, 3 * FPS)
    return [
        Take("Taken apart", words, shot, condition, held(0.0, len(move)), apart=move, widest=1.0)
        for move in (np.concatenate([held(0.0, FPS // 2), away]), apart, away[::-1])
    ]


PUSHES = "Air pushes the rod. The rod turns the arm, the shaft carries the turn inside, the cam spreads the shoes."
ON = "Nothing takes up what wears away: a little more wear, a little more stroke."
HEATS = "The drum heats, grows, and moves away from the linings. The same air takes more stroke to reach it."
SPRINGS = "The air is let out. The springs pull the shoes in and push the rod back."


def _outside(setup: Setup, told: Ages, theme: ThemeName) -> list[Take]:
    whole = Shot(hidden=frozenset(), ghost=frozenset(), theme=theme)
    applied = _stroke(setup, told.healthy)
    there = ramp(0.0, applied, 2 * FPS)
    words = "With the wheel on, two things tell how it is adjusted: how far the pushrod moves, and how the arm stands."
    off = "Behind them is what brakes. Take the wheel off, then hub and drum."
    return [
        Take("What an inspector sees", words, whole, told.healthy,
             np.concatenate([held(0.0, FPS), there, held(applied, FPS), there[::-1]]), names=names.OUTSIDE),
        Take("Wheel and drum come off", off, whole, told.healthy, held(0.0, 4 * FPS),
             end=VIEWS["wheel-side"], apart=ramp(0.0, LOOSE, 4 * FPS), leaves=WHEEL_END | OUTSIDE),
    ]  # fmt: skip


LOOSE = 0.6
"""How far apart the brake is taken when wheel, hub and drum have gone all their way."""


def _inside(setup: Setup, told: Ages, theme: ThemeName) -> list[Take]:
    open_ = Shot(VIEWS["wheel-side"], hidden=OUTSIDE | WHEEL_END, ghost=frozenset(), theme=theme)
    chamber = Shot(VIEWS["three-quarter"], cut=True, ghost=frozenset({"drum"}), hidden=OUTSIDE | {"hub"}, theme=theme)
    applied, touch = _stroke(setup, told.healthy), float(free_stroke(setup.brake, told.healthy))
    slow = np.concatenate(
        [held(0.0, FPS), ramp(0.0, touch, 4 * FPS), held(touch, FPS // 2), ramp(touch, applied, 2 * FPS)]
    )
    pressure = setup.test.pressure
    inside = "Cut open: the air bulges the diaphragm, the plate pushes the rod."
    return [
        Take("What pushes what", PUSHES, open_, told.healthy, slow),
        Take("Applied", _of_stroke(setup, told.healthy), open_, told.healthy, held(applied, 2 * FPS), pressure),
        Take("Let go", SPRINGS, open_, told.healthy, ramp(applied, 0.0, 2 * FPS), end=VIEWS["three-quarter"]),
        Take("Inside the chamber", inside, chamber, told.healthy,
             np.concatenate([held(0.0, FPS), ramp(0.0, applied, 4 * FPS), held(applied, FPS)])),
    ]  # fmt: skip


def _worn(setup: Setup, told: Ages, theme: ThemeName) -> list[Take]:
    ghosted = Shot(VIEWS["three-quarter"], ghost=frozenset({"drum"}), theme=theme)
    wearing = _wearing(told.healthy, told.near, 5 * FPS)
    further = _wearing(told.near, told.past, 3 * FPS)
    stops = f"{_who(setup)} Every stop takes a little lining, and the same pedal takes more stroke."
    over = Scene(setup, told.past, at_pressure(setup.brake, told.past, setup.test.pressure, "applied"))
    ending = f"{sentence(judged(over).words)} Find the cause; local codes and licensed practice decide."
    end, pressure = "Past the limit" if told.reaches else "As far as it goes", setup.test.pressure
    return [
        Take("The linings wear", stops, ghosted, *_applied_over(setup, wearing), pressure),
        Take("The linings wear on", ON, ghosted, *_applied_over(setup, further), pressure),
        Take(end, _of_stroke(setup, told.past), ghosted, told.past, held(over.stroke, 3 * FPS), pressure),
        *_heated(setup, told, ghosted),
        Take("The tape, cold again", ending, ghosted, told.past, held(over.stroke, 4 * FPS), pressure),
    ]  # fmt: skip


def _who(setup: Setup) -> str:
    if setup.brake.adjuster.kind == "automatic":
        return "The slack adjuster should take up wear; this one has stopped."
    return "A manual slack adjuster takes up nothing by itself."


def _wearing(start: Condition, end: Condition, frames: int) -> Condition:
    """The lining from one condition to another."""
    first, last = (float(condition.arrays[0]) for condition in (start, end))
    return replace(start, lining_thickness=ramp(first, last, frames))


def _applied_over(setup: Setup, condition: Condition) -> tuple[Condition, Array]:
    """Conditions, and the stroke that the test pressure takes in each; from where there is none, the chamber's end."""
    stroke = solve_applied(setup.brake, condition, setup.test.pressure).stroke
    return condition, np.where(np.isfinite(stroke), stroke, np.nan)


def _heated(setup: Setup, told: Ages, shot: Shot) -> list[Take]:
    """The drum heats with the brake held on, as far as there is a state."""
    temperature = ramp(COLD, HOT, 5 * FPS)
    condition, stroke = _applied_over(setup, replace(told.past, drum_temperature=temperature))
    there = np.isfinite(stroke)
    count = int(np.argmin(there)) if not there.all() else len(stroke)
    kept = replace(condition, drum_temperature=temperature[:count])
    heat = figure(float(temperature[count - 1]), "temperature", setup.system)
    if count == len(stroke):
        now, most = (length(value, setup.system) for value in (float(stroke[-1]), setup.brake.chamber.rated_stroke))
        said = f"At {heat} the drum has grown away from the linings: {now} of the {most} that the chamber has."
    else:
        said = f"At {heat} the chamber is at its end: no braking force is left, whatever the pressure."
    last = replace(told.past, drum_temperature=float(temperature[count - 1]))
    return [
        Take("A long hill: the drum heats", HEATS, shot, kept, stroke[:count], setup.test.pressure),
        Take("Hot", said, shot, last, held(float(stroke[count - 1]), 3 * FPS), setup.test.pressure),
    ]


def sentence(words: str) -> str:
    """Return words as a sentence."""
    return f"{words[0].upper()}{words[1:]}."


def _stroke(setup: Setup, condition: Condition) -> float:
    """The stroke that the test pressure holds, mm. Raises `AssemblyError` where there is none."""
    applied = solve_applied(setup.brake, condition, setup.test.pressure)
    if not np.isfinite(applied.stroke):
        raise _not_applied(f"as it is, {Reason(int(applied.reason)).words}: it")
    return float(applied.stroke)


def _not_applied(how: str) -> AssemblyError:
    fix = "see what mechviz check says of it; --film apart and --solid do without"
    return AssemblyError(
        Fault("film", f"{how} cannot be applied, so that there is nothing to film", fix, kind="number")
    )


def _of_stroke(setup: Setup, condition: Condition) -> str:
    scene = Scene(setup, condition, at_pressure(setup.brake, condition, setup.test.pressure, "applied"))
    pressure = figure(setup.test.pressure, "pressure", setup.system)
    return f"At {pressure} the rod has moved {length(scene.stroke, setup.system)}. {sentence(judged(scene).words)}"
