"""One air line's pressure over time in closed form: a level, and exponentials that die away.

A line that fills or empties through a first-order restriction from another such line is again of this form.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats

APART = 1e-6
"""Two time constants that agree better than this share are taken that much apart: the form has no t exp(-t)."""


@dataclass(frozen=True)
class Line:
    """Pressure (MPa) at time t (s): ``level`` plus a * exp(-t / T) for each pair (a, T) of ``terms``."""

    level: float
    terms: tuple[tuple[float, float], ...] = ()

    def at(self, time: ArrayLike) -> Array:
        """Return the pressure (MPa) at each time (s) since the line's beginning."""
        t = floats(time)
        return self.level + sum((a * np.exp(-t / constant) for a, constant in self.terms), 0.0 * t)

    def share(self, part: float) -> "Line":
        """Return the line at ``part`` of its pressure."""
        return Line(part * self.level, tuple((part * a, constant) for a, constant in self.terms))


def following(source: Line, start: float, constant: float) -> Line:
    """Return a line that begins at ``start`` (MPa) and follows ``source`` with a time ``constant`` (s).

    Solves C' = (S(t) - C) / constant exactly.

    >>> following(Line(1.0), 0.0, 2.0).at(2.0).round(4).item()
    0.6321
    """
    apart = [(a, _apart(other, constant)) for a, other in source.terms]
    terms = [(a / (1 - constant / other), other) for a, other in apart]
    rest = start - source.level - sum(a for a, _ in terms)
    return Line(source.level, (*terms, (rest, constant)))


def _apart(other: float, constant: float) -> float:
    return other if abs(other - constant) > APART * constant else constant * (1 + APART)
