"""Where in a life something is first reached, found as a root between two adjustments, never by sampling.

Between two moves of the adjuster every quantity here changes steadily with wear, and a move only brings it back. So the
first stretch at whose end the quantity is past its mark holds the root.
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
from geometry.reasons import Reason
from geometry.states import SPENT

STRETCHES = 64
"""Into how many pieces the time from one adjustment to the next is cut at least over the whole life."""


@dataclass(frozen=True)
class Event:
    """Something that is first reached at a ``wear`` (mm), in words; NaN where it is not reached in the whole life."""

    name: str
    words: str
    wear: float

    @property
    def happens(self) -> bool:
        """Whether it is reached at all."""
        return isfinite(self.wear)


Past = Callable[[Life], Array]
"""How far a quantity is past its mark: above 0 when the event has come; NaN counts as not yet."""


def _stroke_past(limit: float) -> Past:
    return lambda life: life.cold.stroke - limit


EVENTS = ("stroke-limit", "right-angle-lost", "lining-minimum", "cam-profile-used", "hot-bottoms")


def life_events(service: Service, upkeep: Upkeep, stroke_limit: float, least_lining: float) -> tuple[Event, ...]:
    """Return the five events in the order of `EVENTS`.

    ``stroke_limit`` is the readjustment limit (mm) that the cold stroke is held against: the event is the greatest wear
    at which it is still legal. ``least_lining`` is the thickness (mm) at which a lining has to be replaced.
    """
    watched: dict[str, tuple[str, Past]] = {
        "stroke-limit": ("the cold stroke reaches the readjustment limit", _stroke_past(stroke_limit)),
        "right-angle-lost": (
            "the arm passes square before the linings touch",
            lambda life: pi / 2 - life.contact_angle,
        ),
        "lining-minimum": ("the lining is at its least thickness", lambda life: least_lining - life.thickness),
        "cam-profile-used": ("the cam runs out of profile", _of_reason(Reason.CAM_PAST_TIP, "cold")),
        "hot-bottoms": ("a hot application bottoms the chamber", _hot_bottoms),
    }
    pasts = [past for _, past in watched.values()]
    wears = _first(service, upkeep, pasts, stretches(service, upkeep))
    return tuple(Event(name, words, wear) for (name, (words, _)), wear in zip(watched.items(), wears, strict=True))


def _of_reason(reason: Reason, which: str) -> Past:
    return lambda life: np.where(getattr(life, which).reason == reason, 1.0, -1.0)


def _hot_bottoms(life: Life) -> Array:
    """A hot application has bottomed where the linings touch only beyond the chamber's stroke, or none is left."""
    gone = np.isin(life.hot.reason, [Reason.BOTTOMED, Reason.BEYOND_RATED_STROKE])
    return np.where(gone, 1.0, np.nan_to_num(SPENT - life.hot.reserve, nan=-1.0))


def stretches(service: Service, upkeep: Upkeep) -> Array:
    """Return wears (mm) that cut the life so that no stretch holds a move: each move's last moment and itself."""
    end = service.brake.lining.thickness * (1 - 1e-9)
    moves = upkeep.moves[1:][upkeep.moves[1:] < end]
    before = [nextafter(move, -inf) for move in moves]
    return np.unique(np.concatenate([np.linspace(0.0, end, STRETCHES + 1), moves, before]))


def _first(service: Service, upkeep: Upkeep, pasts: Sequence[Past], marks: Array) -> list[float]:
    """For each quantity the last wear before it is past its mark for the first time; NaN where it never is."""
    life = life_states(service, upkeep, marks)
    beyond = np.array([np.append(past(life) > 0, True) for past in pasts])
    first = np.argmax(beyond, axis=1)
    never, at_once = first == marks.size, first == 0
    low, high = marks[np.maximum(first - 1, 0)], marks[np.minimum(first, marks.size - 1)]

    def not_yet(wear: Array) -> Mask:
        states = life_states(service, upkeep, wear)
        return np.array([~(past(states)[row] > 0) for row, past in enumerate(pasts)])

    return np.where(never, nan, np.where(at_once, marks[0], edges(not_yet, low, high))).tolist()


def reached(events: Sequence[Event]) -> list[Event]:
    """Return those that happen, in the order in which they come."""
    return sorted((event for event in events if event.happens), key=lambda event: event.wear)
