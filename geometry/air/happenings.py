"""What happens when, in the order in which it comes: what is done to the air, and what the brake makes of it.

Each thing that is watched is a quantity that crosses its mark. Crossings are looked for between `CUTS` times in each
stretch, closer together where it begins, and then found as roots; one that comes and goes between two cuts is missed.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geometry.air.course import Course
from geometry.air.states import AirStates, air_states
from geometry.arrays import Array, Mask, floats
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.edge import edges
from geometry.parking import Parking, hold_off_pressure
from geometry.states import SPENT
from geometry.tables import air_mark
from geometry.tables.air import EMPTIED, REACHED

CUTS = 256
FELT = 0.05
"""Of full air: with less in the chamber nobody asks whether air or spring pushes harder."""


@dataclass(frozen=True)
class Happening:
    """Something that happens at a ``time`` (s), in ``words`` and in ``short`` ones for a chart (none: not worth one).

    ``done`` where somebody or something does it to the air.
    """

    time: float
    name: str
    words: str
    short: str = ""
    done: bool = False


@dataclass(frozen=True)
class Watch:
    """A quantity that is above 0 past its mark, and the words for passing it upwards and downwards (none: silent).

    ``short`` says passing it upwards in a chart, ``at_once`` that it is past from the beginning.
    """

    name: str
    past: Callable[[AirStates], Array]
    up: str
    down: str = ""
    short: str = ""
    at_once: str = ""


def watches(brake: Brake, parking: Parking | None, course: Course) -> list[Watch]:
    """Return what is watched over a course."""
    full = float(course.stretches[0].reservoir.at(0.0))
    warning = air_mark("low-pressure-warning")
    found = [
        Watch(
            "warning",
            lambda x: warning.high - x.reservoir,
            "the low-pressure warning comes on",
            "",
            "low-pressure warning",
            "the low-pressure warning is on",
        ),
        Watch("filled", lambda x: x.service - float(REACHED) * full, "the service chamber has filled to 60 %"),
        Watch("emptied", lambda x: float(EMPTIED) * full - x.service, "the service chamber has emptied to 5 %"),
        Watch(
            "moves",
            lambda x: x.brake.stroke - SPENT,
            "the pushrod begins to move",
            "the pushrod is back at its rest",
        ),
        Watch(
            "touches",
            lambda x: x.brake.stroke - x.brake.contact_stroke,
            "the linings touch the drum",
            "the linings leave the drum",
            "linings touch",
            "the linings are on the drum",
        ),
        Watch("bottoms", lambda x: SPENT - x.brake.reserve, "the pushrod is at the end of its stroke", "", "bottomed"),
    ]
    return found if parking is None else [*found, *_of_the_spring(brake, parking, full)]


def _of_the_spring(brake: Brake, parking: Parking, full: float) -> list[Watch]:
    alone = max(brake.chamber.effective_area * full, parking.spring_force)
    released = float(hold_off_pressure(parking))
    return [
        Watch("held-off", lambda x: x.hold_off - released, "the power spring is held all the way back"),
        Watch(
            "spring-pushes",
            lambda x: x.brake.spring_force,
            "the power spring begins to push the pushrod",
            at_once="the power spring pushes the pushrod",
        ),
        Watch(
            "spring-leads",
            lambda x: np.where(x.service > FELT * full, x.brake.spring_force - x.brake.service_force, np.nan),
            "the power spring pushes harder than the air",
            "",
            "spring leads",
        ),
        Watch(
            "compounds",
            lambda x: np.where(_both_push(x, full), x.brake.pushrod_force - alone, -1.0),
            "compounding: spring and air together push harder than either ever could alone",
            "spring and air no longer push harder than either could alone",
            "compounding",
        ),
    ]


def _both_push(states: AirStates, full: float) -> Mask:
    return (states.service > FELT * full) & (states.brake.spring_force > 0)


def happenings(brake: Brake, parking: Parking | None, condition: Condition, course: Course) -> tuple[Happening, ...]:
    """Return everything that happens over a course, in order; at one time what is done comes first."""
    done = [Happening(s.start, "done", s.phase.words, s.phase.short, done=True) for s in course.stretches]
    watched = watches(brake, parking, course)
    times = _cuts(course)

    def past(time: Array) -> Array:
        states = air_states(brake, parking, condition, course, time)
        return floats([watch.past(states) for watch in watched])

    start = past(times[:1])[:, 0] > 0
    at_once = [Happening(0.0, w.name, w.at_once) for w, here in zip(watched, start, strict=True) if here and w.at_once]
    found = [
        Happening(time, watched[row].name, words, watched[row].short if up else "")
        for row, time, up in _crossings(past, times)
        if (words := watched[row].up if up else watched[row].down)
    ]
    return tuple(sorted([*done, *at_once, *found], key=lambda one: (one.time, not one.done)))


def _cuts(course: Course) -> Array:
    share = np.linspace(0.0, 1.0, CUTS + 1) ** 2
    parts = [s.start + s.phase.duration * share for s in course.stretches]
    return np.unique(np.concatenate(parts))


def _crossings(past: Callable[[Array], Array], times: Array) -> list[tuple[int, float, bool]]:
    """Row, time and direction of every crossing between two cuts, each the last moment before it."""
    there = past(times)
    beyond, known = there > 0, np.isfinite(there)
    rows, columns = np.nonzero((beyond[:, 1:] != beyond[:, :-1]) & known[:, 1:] & known[:, :-1])
    if rows.size == 0:
        return []
    was, order = beyond[rows, columns], np.arange(rows.size)

    def unchanged(time: Array) -> Mask:
        return (past(time)[rows, order] > 0) == was[:, None]

    at = edges(unchanged, times[columns], times[columns + 1])
    return [(int(row), float(time), not bool(before)) for row, time, before in zip(rows, at, was, strict=True)]
