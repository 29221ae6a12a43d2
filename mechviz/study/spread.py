"""How one figure is spread over a study's points: evenly, over a list, or as parts come out of production.

Each spread turns a share (0 to 1, the same all over) into a figure, so that one plan of shares serves them all.
"""

from dataclasses import dataclass
from math import sqrt
from typing import Protocol

import numpy as np

from geometry.arrays import Array, floats
from geometry.errors import Fault, PartError


class Spread(Protocol):
    """The interface of a spread; figures are in the unit used inside."""

    @property
    def words(self) -> str:
        """What it is called: ``uniform``."""
        ...

    @property
    def ends(self) -> tuple[float, float]:
        """Least and greatest figure that a picture or a grid shows."""
        ...

    @property
    def middle(self) -> float:
        """The figure in the middle."""
        ...

    def at(self, share: Array) -> Array:
        """Return the figure below which a share of all lies: the quantile."""
        ...

    def grid(self, count: int) -> Array:
        """Return so many figures from end to end, or all there are."""
        ...

    def halved(self) -> "Spread":
        """Return the same about its middle with half the tolerance."""
        ...


class _Even:
    """What spreads with two ends share."""

    @property
    def ends(self) -> tuple[float, float]:
        raise NotImplementedError

    @property
    def middle(self) -> float:
        """Half-way between the ends."""
        return 0.5 * sum(self.ends)

    def grid(self, count: int) -> Array:
        """Return so many figures from end to end."""
        return floats(np.linspace(*self.ends, count)) if count > 1 else np.array([self.middle])


@dataclass(frozen=True)
class Uniform(_Even):
    """Every figure from ``low`` to ``high`` as often as any other."""

    low: float
    high: float
    words = "uniform"

    def __post_init__(self) -> None:
        _ordered(self.low, self.high)

    @property
    def ends(self) -> tuple[float, float]:
        """Its two ends."""
        return self.low, self.high

    def at(self, share: Array) -> Array:
        """Return the figure that so far up is."""
        return self.low + share * (self.high - self.low)

    def halved(self) -> "Uniform":
        """Return half the width about the middle."""
        quarter = 0.25 * (self.high - self.low)
        return Uniform(self.middle - quarter, self.middle + quarter)


DEVIATIONS = 3.0
"""Standard deviations that a tolerance stands for: 99.7 % of a normal distribution lie within."""


@dataclass(frozen=True)
class Normal(_Even):
    """Normally distributed about ``mean`` with a standard ``deviation``."""

    mean: float
    deviation: float
    words = "normal"

    def __post_init__(self) -> None:
        if not self.deviation > 0 or not np.isfinite([self.mean, self.deviation]).all():
            raise PartError(Fault("deviation", "must be more than zero", "write the spread of the figure"))

    @classmethod
    def within(cls, nominal: float, tolerance: float) -> "Normal":
        """Return the one that a drawing's ``nominal`` +- ``tolerance`` stands for: three deviations either way."""
        return cls(nominal, tolerance / DEVIATIONS)

    @property
    def ends(self) -> tuple[float, float]:
        """Three deviations either way."""
        return self.mean - DEVIATIONS * self.deviation, self.mean + DEVIATIONS * self.deviation

    def at(self, share: Array) -> Array:
        """Return the quantile."""
        from scipy.special import ndtri

        return self.mean + self.deviation * floats(ndtri(share))

    def halved(self) -> "Normal":
        """Return half the deviation."""
        return Normal(self.mean, 0.5 * self.deviation)


@dataclass(frozen=True)
class Triangular(_Even):
    """From ``low`` to ``high``, the more often the nearer to ``mode``."""

    low: float
    mode: float
    high: float
    words = "triangular"

    def __post_init__(self) -> None:
        _ordered(self.low, self.high)
        if not self.low <= self.mode <= self.high:
            raise PartError(Fault("mode", "is not between the two ends", "write the figure that is met most often"))

    @property
    def ends(self) -> tuple[float, float]:
        """Its two ends."""
        return self.low, self.high

    @property
    def middle(self) -> float:
        """The figure that is met most often."""
        return self.mode

    def at(self, share: Array) -> Array:
        """Return the quantile."""
        width, below = self.high - self.low, (self.mode - self.low) / (self.high - self.low)
        rising = self.low + width * np.sqrt(below * share)
        return np.where(share < below, rising, self.high - width * np.sqrt((1 - below) * (1 - share)))

    def halved(self) -> "Triangular":
        """Return half of either side of the mode."""
        return Triangular(0.5 * (self.low + self.mode), self.mode, 0.5 * (self.high + self.mode))


@dataclass(frozen=True)
class Listed:
    """A few figures, each as often as the others."""

    values: tuple[float, ...]
    words = "list"

    def __post_init__(self) -> None:
        if not self.values or not np.isfinite(self.values).all():
            raise PartError(Fault("values", "is no list of numbers", "write at least one figure"))

    @property
    def ends(self) -> tuple[float, float]:
        """The least and the greatest."""
        return min(self.values), max(self.values)

    @property
    def middle(self) -> float:
        """The one in the middle of the sorted list."""
        return sorted(self.values)[len(self.values) // 2]

    def at(self, share: Array) -> Array:
        """Return the figure whose turn it is."""
        place = np.minimum((share * len(self.values)).astype(np.intp), len(self.values) - 1)
        return floats(self.values)[place]

    def grid(self, count: int) -> Array:  # noqa: ARG002 - a list has as many as it has
        """Return all of them."""
        return floats(self.values)

    def halved(self) -> "Listed":
        """Return the same: a choice has no tolerance."""
        return self


def deviation_of(spread: Spread) -> float:
    """Return the standard deviation of a spread, in its own unit.

    >>> round(deviation_of(Uniform(0.0, 1.0)), 6), round(deviation_of(Triangular(0.0, 0.5, 1.0)), 6)
    (0.288675, 0.204124)
    """
    match spread:
        case Normal():
            return spread.deviation
        case Triangular(low=a, mode=c, high=b):
            return sqrt((a * a + b * b + c * c - a * b - a * c - b * c) / 18)
        case Listed():
            return float(np.std(spread.values))
        case _:
            low, high = spread.ends
            return (high - low) / sqrt(12)


def _ordered(low: float, high: float) -> None:
    if not low < high or not np.isfinite([low, high]).all():
        raise PartError(Fault("to", "is not more than the beginning", "write the smaller figure first"))
