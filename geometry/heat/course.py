"""The drum's temperature over a drive, in closed form.

With heat capacity C and conductance h steady in a stretch and the power in falling in a straight line, the excess
theta over the air obeys C theta' = p0 + p1 t - h theta. With k = h / C, x = k t and f(x) = (1 - exp(-x)) / x

    theta = theta_0 exp(-x) + (p0 / C) t f(x) + (p1 / C) t**2 (1 - f(x)) / x

and each stretch begins where the last ended. Source: the ordinary linear equation; no approximation beyond the lump.
"""

from dataclasses import dataclass
from math import inf, log

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.heat.drive import Drive
from geometry.heat.sink import Sink

SMALL = 1e-3


@dataclass(frozen=True)
class Course:
    """Temperatures over a drive: each stretch's ``start``, ``duration`` (s), and the figures of its closed form.

    ``excess`` is theta_0 (K), ``warming`` p0 / C (K/s), ``growth`` p1 / C (K/s2), ``rate`` k (1/s); ``ambient`` in K.
    """

    start: Array
    duration: Array
    excess: Array
    warming: Array
    growth: Array
    rate: Array
    ambient: float

    @property
    def end(self) -> float:
        """When the drive is over, s."""
        return float(self.start[-1] + self.duration[-1])


def course(drive: Drive, sink: Sink, temperature: float) -> Course:
    """Return the temperatures of a drive that begins with the drum at ``temperature`` (K)."""
    rows, now, theta = list[tuple[float, ...]](), 0.0, temperature - sink.ambient
    for stretch in drive.stretches:
        first, last = (sink.into_drum * power / sink.capacity for power in stretch.power)
        figures = theta, first, (last - first) / stretch.duration, sink.conductance(stretch.speed) / sink.capacity
        rows.append((now, stretch.duration, *figures))
        theta = float(_excess(floats(stretch.duration), *(floats(figure) for figure in figures)))
        now += stretch.duration
    return Course(*floats(rows).T, ambient=sink.ambient)


def _excess(since: Array, excess: Array, warming: Array, growth: Array, rate: Array) -> Array:
    """Theta so many s into a stretch, K."""
    x = np.maximum(rate * since, np.finfo(float).tiny)
    f = -np.expm1(-x) / x
    # (1 - f) / x by its series where the difference would have no digits left; the next term is below 1e-14
    half = np.where(x < SMALL, 0.5 - x / 6 + x**2 / 24 - x**3 / 120, (1 - f) / x)
    return excess * np.exp(-x) + warming * since * f + growth * since**2 * half


def temperatures(course: Course, time: ArrayLike) -> Array:
    """Return the drum's temperature (K) at each time (s, any shape) of the drive."""
    t = floats(time)
    row = np.clip(np.searchsorted(course.start, t, side="right") - 1, 0, course.start.size - 1)
    figures = (figure[row] for figure in (course.excess, course.warming, course.growth, course.rate))
    return course.ambient + _excess(t - course.start[row], *figures)


def turns(course: Course) -> Array:
    """Return times (s) between which the temperature only rises or only falls: stretches' ends and turning points."""
    peaks = [start + t for start, t in zip(course.start, _peaks(course), strict=True) if t < inf]
    return np.unique(np.concatenate([course.start, [course.end], peaks]))


def _peaks(course: Course) -> list[float]:
    """Where inside each stretch the slope is 0; inf where nowhere."""
    rows = zip(course.excess, course.warming, course.growth, course.rate, course.duration, strict=True)
    return [_peak(*(float(figure) for figure in row)) for row in rows]


def _peak(excess: float, warming: float, growth: float, rate: float, duration: float) -> float:
    """Where growth (1 - exp(-x)) / k + (warming - k theta_0) exp(-x) is 0."""
    other = growth - rate * (warming - rate * excess)
    share = growth / other if other else 0.0
    at = -log(share) / rate if share > 0 else inf
    return at if 0 < at < duration else inf
