"""When in a drive something is first reached, found in two steps, never by sampling.

Everything here changes steadily with the drum's temperature, so each event has one temperature of its own; and between
two turning points the temperature itself only rises or only falls, so the first time it gets there is a root too.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, nan, pi

import numpy as np

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.edge import edges
from geometry.heat.course import Course, temperatures, turns
from geometry.heat.states import HeatStates, at_temperatures
from geometry.reasons import Reason
from geometry.states import SPENT

HEAT_EVENTS = ("stroke-limit", "right-angle-lost", "expansion-known", "bottoms")

KNOWN_TO = (600.0 + 459.67) * 5 / 9
"""K: up to here gray iron's mean expansion is stated; beyond, the growth shown is the same straight line."""

_CUTS = 512


@dataclass(frozen=True)
class HeatEvent:
    """Something first reached at a ``time`` (s) and drum ``temperature`` (K); both NaN where it never is."""

    name: str
    words: str
    time: float
    temperature: float

    @property
    def happens(self) -> bool:
        """Whether it is reached at all."""
        return isfinite(self.time)


Past = Callable[[HeatStates], Array]


def heat_events(
    brake: Brake, condition: Condition, pressure: float, course: Course, stroke_limit: float
) -> tuple[HeatEvent, ...]:
    """Return the four events in the order of `HEAT_EVENTS`.

    ``stroke_limit`` is the readjustment limit (mm). It is one for a cold drum: a hot stroke at it is no violation.
    """
    watched: dict[str, tuple[str, Past]] = {
        "stroke-limit": (
            "the stroke meets the readjustment limit, which is one for a cold drum",
            lambda x: x.stroke - stroke_limit,
        ),
        "right-angle-lost": ("the arm passes square when applied", lambda x: pi / 2 - x.arm_angle),
        "expansion-known": ("the drum is hotter than its growth is known for", lambda x: x.temperature - KNOWN_TO),
        "bottoms": ("the application bottoms the chamber", _bottoms),
    }
    return tuple(
        HeatEvent(name, words, *_first(brake, condition, pressure, course, past))
        for name, (words, past) in watched.items()
    )


def _bottoms(states: HeatStates) -> Array:
    """Bottomed: no stroke left, or the linings touch only beyond the chamber's stroke."""
    gone = np.isin(states.reason, [Reason.BOTTOMED, Reason.BEYOND_RATED_STROKE])
    return np.where(gone, 1.0, np.nan_to_num(SPENT - states.reserve, nan=-1.0))


def _first(brake: Brake, condition: Condition, pressure: float, course: Course, past: Past) -> tuple[float, float]:
    """Time and temperature at which it is first past its mark; NaN where it never is."""
    marks = turns(course)
    at = temperatures(course, marks)
    critical = _critical(
        lambda k: past(at_temperatures(brake, condition, pressure, k)), float(at.min()), float(at.max())
    )
    beyond = np.flatnonzero(at > critical)
    if not beyond.size:
        return nan, nan
    last = int(beyond[0])
    if last == 0:
        return float(marks[0]), float(at[0])
    low, high = float(marks[last - 1]), float(marks[last])
    time = edges(lambda t: temperatures(course, t) <= critical, np.array([low]), np.array([high]))
    return float(time[0]), critical


def _critical(past: Callable[[Array], Array], low: float, high: float) -> float:
    """The greatest temperature (K) in a range that is not yet past the mark; above the range where none is past it."""
    grid = np.linspace(low, high, _CUTS)
    first = np.flatnonzero(past(grid) > 0)
    if not first.size:
        return high
    row = int(first[0])
    if row == 0:
        return -1.0
    return float(edges(lambda k: ~(past(k) > 0), grid[[row - 1]], grid[[row]])[0])
