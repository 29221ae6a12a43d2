"""When in a drive something is first reached, found in two steps, never by sampling.

Everything here changes steadily with the drum's temperature, so each event has one temperature of its own; and between
two turning points the temperature itself only rises or only falls, so the first time it gets there is a root too.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, isfinite, nan, pi

import numpy as np

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.edge import edges
from geometry.heat.course import Course, temperatures, turns
from geometry.heat.states import HeatStates, at_temperatures
from geometry.past import NO_STROKE, bottoms, cam_past_tip, past
from geometry.tables import band

HEAT_EVENTS = ("stroke-limit", "square-passed-applied", "expansion-known", "bottoms", "cam-past-tip")

KNOWN_TO = (600.0 + 459.67) * 5 / 9
"""K: up to here gray iron's mean expansion is stated; beyond, the growth shown is the same straight line."""

_CUTS = 512

_JUST = 1e-6
"""K beyond an edge at which is seen what lies there: farther than rounding at the cam's ends reaches."""


@dataclass(frozen=True)
class HeatEvent:
    """Something first reached at a ``time`` (s) and drum ``temperature`` (K); NaN where it is not, as far as is known.

    ``unknown_from`` is the time (s) from which on nobody can tell, for want of the state that would show it; NaN where
    it is known all through, or reached before.
    """

    name: str
    words: str
    time: float
    temperature: float
    unknown_from: float = nan

    @property
    def happens(self) -> bool:
        """Whether it is reached at all."""
        return isfinite(self.time)


Past = Callable[[HeatStates], Array]


def heat_events(
    brake: Brake, condition: Condition, pressure: float, course: Course, stroke_limit: float
) -> tuple[HeatEvent, ...]:
    """Return the events in the order of `HEAT_EVENTS`.

    ``stroke_limit`` is the readjustment limit (mm). It is one for a cold drum: a hot stroke at it is no violation.
    """
    accepted = band("arm-angle-applied").low
    watched: dict[str, tuple[str, Past]] = {
        "stroke-limit": (
            "the stroke meets the readjustment limit, which is one for a cold drum",
            lambda x: past(x.stroke - stroke_limit, x.reason, NO_STROKE),
        ),
        "square-passed-applied": (
            f"the arm passes square when fully applied, no defect by itself down to {accepted} deg",
            lambda x: past(pi / 2 - x.arm_angle, x.reason),
        ),
        "expansion-known": ("the drum is hotter than its growth is known for", lambda x: x.temperature - KNOWN_TO),
        "bottoms": ("the application bottoms the chamber", lambda x: bottoms(x.reserve, x.reason)),
        "cam-past-tip": ("the cam passes its tip and can wedge or turn over", lambda x: cam_past_tip(x.reason)),
    }
    return tuple(
        HeatEvent(name, words, *_first(brake, condition, pressure, course, is_past))
        for name, (words, is_past) in watched.items()
    )


def _first(
    brake: Brake, condition: Condition, pressure: float, course: Course, is_past: Past
) -> tuple[float, float, float]:
    """Time and temperature at which it is first past its mark, and the time from which on it is unknown; else NaN."""

    def at_temperature(kelvin: Array) -> Array:
        return is_past(at_temperatures(brake, condition, pressure, kelvin))

    marks = turns(course)
    at = temperatures(course, marks)
    critical = _critical(at_temperature, float(at.min()), float(at.max()))
    time = _exceeded(course, marks, at, critical)
    if not isfinite(time):
        return nan, nan, nan
    kelvin = max(critical, float(at[0]))
    beyond = at_temperature(np.array([kelvin, kelvin + _JUST]))
    return (time, kelvin, nan) if np.any(beyond > 0) else (nan, nan, time)


def _exceeded(course: Course, marks: Array, at: Array, critical: float) -> float:
    """When the drum is first hotter than a temperature (K); NaN where never. ``at`` are those at the ``marks``."""
    beyond = np.flatnonzero(at > critical)
    if not beyond.size:
        return nan
    last = int(beyond[0])
    if last == 0:
        return float(marks[0])
    low, high = marks[[last - 1]], marks[[last]]
    return float(edges(lambda t: temperatures(course, t) <= critical, low, high)[0])


def _critical(is_past: Callable[[Array], Array], low: float, high: float) -> float:
    """The greatest temperature (K) in a range that is known not to be past the mark; above it where all of it is."""
    grid = np.linspace(low, high, _CUTS)
    first = np.flatnonzero(~(is_past(grid) <= 0))
    if not first.size:
        return high
    row = int(first[0])
    if row == 0:
        return -inf
    return float(edges(lambda k: is_past(k) <= 0, grid[[row - 1]], grid[[row]])[0])
