"""Where in a life something is first reached, found as a root between two adjustments, never by sampling.

Between two moves of the adjuster every quantity here changes steadily with wear, and a move only brings it back. So the
first stretch at whose end the quantity is past its mark, or unknown, holds the root.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf, isfinite, nan, nextafter, pi

import numpy as np

from geometry.arrays import Array, Mask
from geometry.edge import edges
from geometry.life.service import Service
from geometry.life.states import Life, life_states
from geometry.life.upkeep import Upkeep
from geometry.past import NO_STROKE, bottoms, cam_past_tip, past
from geometry.reasons import Reason

STRETCHES = 64
"""Into how many pieces the time from one adjustment to the next is cut at least over the whole life."""

JUST = 1e-6
"""Wear (mm) after an edge at which is seen what lies beyond it: farther than rounding at the cam's ends reaches."""


@dataclass(frozen=True)
class Event:
    """Something that is first reached at a ``wear`` (mm), in words; NaN where it is not reached, as far as is known.

    ``unknown_from`` is the wear from which on nobody can tell, for want of the state that would show it; NaN where it
    is known all through, or reached before.
    """

    name: str
    words: str
    wear: float
    unknown_from: float = nan

    @property
    def happens(self) -> bool:
        """Whether it is reached at all."""
        return isfinite(self.wear)


@dataclass(frozen=True)
class End:
    """The last ``wear`` (mm) at which the cold brake can be applied, and why it cannot beyond; `Reason.EXISTS`: it can.

    Linings that no longer reach the drum wear no further: what would come later does not.
    """

    wear: float
    reason: Reason


Past = Callable[[Life], Array]
"""How far a quantity is past its mark: above 0 when the event has come; NaN where that cannot be told."""


EVENTS = (
    "stroke-limit",
    "right-angle-lost",
    "lining-minimum",
    "cam-profile-used",
    "hot-cam-past-tip",
    "hot-bottoms",
    "cold-bottoms",
)


def life_events(service: Service, upkeep: Upkeep, stroke_limit: float, least_lining: float) -> tuple[Event, ...]:
    """Return the events in the order of `EVENTS`, over all of the lining, whether or not the life gets so far.

    ``stroke_limit`` is the readjustment limit (mm) that the cold stroke is held against: the event is the greatest wear
    at which it is still legal. ``least_lining`` is the thickness (mm) at which a lining has to be replaced.
    """
    return life_course(service, upkeep, stroke_limit, least_lining)[0]


def life_course(
    service: Service, upkeep: Upkeep, stroke_limit: float, least_lining: float
) -> tuple[tuple[Event, ...], End]:
    """Return what `life_events` and `life_end` return, from one search for all of it."""
    watched: dict[str, tuple[str, Past]] = {
        "stroke-limit": (
            "the cold stroke reaches the readjustment limit",
            lambda life: past(life.cold.stroke - stroke_limit, life.cold.reason, NO_STROKE),
        ),
        "right-angle-lost": (
            "the arm passes square before the linings touch",
            lambda life: past(pi / 2 - life.contact_angle, life.cold.reason),
        ),
        "lining-minimum": ("the lining is at its least thickness", lambda life: least_lining - life.thickness),
        "cam-profile-used": ("the cam runs out of profile", lambda life: cam_past_tip(life.cold.reason)),
        "hot-cam-past-tip": (
            "hot, the cam passes its tip and can wedge or turn over",
            lambda life: cam_past_tip(life.hot.reason),
        ),
        "hot-bottoms": (
            "a hot application bottoms the chamber",
            lambda life: bottoms(life.hot.reserve, life.hot.reason),
        ),
        "cold-bottoms": (
            "a cold application bottoms the chamber",
            lambda life: bottoms(life.cold.reserve, life.cold.reason),
        ),
    }
    *firsts, (last, _) = _first(service, upkeep, [*(is_past for _, is_past in watched.values()), _not_applied])
    told = zip(watched.items(), firsts, strict=True)
    events = tuple(Event(name, words, *first) for (name, (words, _)), first in told)
    return events, _end(service, upkeep, last)


def life_end(service: Service, upkeep: Upkeep) -> End:
    """Return where the life ends for want of a cold application."""
    ((wear, _),) = _first(service, upkeep, [_not_applied])
    return _end(service, upkeep, wear)


def _not_applied(life: Life) -> Array:
    """Above 0 where there is no cold application."""
    return np.where(life.cold.reason == Reason.EXISTS, -1.0, 1.0)


def _end(service: Service, upkeep: Upkeep, wear: float) -> End:
    """The end of a life whose last cold application is at a ``wear`` (mm); NaN where there is one all through."""
    if not isfinite(wear):
        return End(service.brake.lining.thickness, Reason.EXISTS)
    reasons = life_states(service, upkeep, [wear, wear + JUST]).cold.reason
    return End(wear, next(Reason(code) for code in reasons.tolist() if code != Reason.EXISTS))


def stretches(service: Service, upkeep: Upkeep) -> Array:
    """Return wears (mm) that cut the life so that no stretch holds a move: each move's last moment and itself."""
    end = service.brake.lining.thickness * (1 - 1e-9)
    moves = upkeep.moves[1:][upkeep.moves[1:] < end]
    before = [nextafter(move, -inf) for move in moves]
    return np.unique(np.concatenate([np.linspace(0.0, end, STRETCHES + 1), moves, before]))


def _first(service: Service, upkeep: Upkeep, pasts: Sequence[Past]) -> list[tuple[float, float]]:
    """For each quantity the last wear before it is past its mark for the first time, and that before it is unknown.

    NaN where there is none; the second only where it comes before the first.
    """
    marks = stretches(service, upkeep)
    life = life_states(service, upkeep, marks)
    left = np.array([np.append(~(is_past(life) <= 0), True) for is_past in pasts])
    first = np.argmax(left, axis=1)
    low, high = marks[np.maximum(first - 1, 0)], marks[np.minimum(first, marks.size - 1)]

    def not_yet(wear: Array) -> Mask:
        states = life_states(service, upkeep, wear)
        return np.array([is_past(states)[row] <= 0 for row, is_past in enumerate(pasts)])

    at = np.where(first == marks.size, nan, np.where(first == 0, marks[0], edges(not_yet, low, high)))
    beyond = life_states(service, upkeep, np.where(first == 0, marks[0], at + JUST))
    told = np.array([is_past(beyond)[row] > 0 for row, is_past in enumerate(pasts)])
    return [(w, nan) if known else (nan, w) for w, known in zip(at.tolist(), told.tolist(), strict=True)]


def reached(events: Sequence[Event]) -> list[Event]:
    """Return those that happen, in the order in which they come."""
    return sorted((event for event in events if event.happens), key=lambda event: event.wear)
