"""How a reading is judged: over the limit fails; inside it passes only if its resolution still fits in between."""

from dataclasses import dataclass
from math import inf, isfinite

from mechviz.checks.row import Result

ROUNDING = 1e-9
"""Float noise of a sum such as 1 15/16 in + 1/16 in; the reading itself is compared with the limit without it."""


@dataclass(frozen=True)
class Band:
    """What is allowed: from ``least`` to ``most``, both included unless told otherwise; in the unit used inside."""

    least: float = -inf
    most: float = inf
    least_included: bool = True
    most_included: bool = True

    def holds(self, value: float) -> bool:
        """Tell whether a value is allowed."""
        low = value > self.least or (self.least_included and value == self.least)
        high = value < self.most or (self.most_included and value == self.most)
        return low and high

    def nearest(self, value: float) -> float:
        """Return the end of the band that the value is over, or nearest to."""
        return self.most if abs(value - self.most) <= abs(value - self.least) else self.least

    def margin(self, value: float) -> float:
        """Return how far inside the band a value lies; negative is how far outside."""
        return min(value - self.least, self.most - value)


def judge(value: float, band: Band, resolution: float = 0.0) -> Result:
    """Return ``fail`` outside the band, ``pass`` if the value and its resolution both ways lie inside, else ``close``.

    A value that is no number passes nothing: it is ``not-evaluated``.
    """
    if not isfinite(value):
        return "not-evaluated"
    if not band.holds(value):
        return "fail"
    if resolution == 0.0:
        return "pass"
    strict = ROUNDING if band.most_included else -ROUNDING
    high = value + resolution <= band.most + strict
    strict = ROUNDING if band.least_included else -ROUNDING
    low = value - resolution >= band.least - strict
    return "pass" if high and low else "close"


def judge_solved(value: float, band: Band, spread: float, back: float) -> Result:
    """Judge a worked-out figure: it fails only where it is outside by more than readings and model leave open.

    Outside by less than that is ``close``: nobody can tell. ``back`` is how much is open towards the better side. It
    has a bound where ``spread`` has none, so that no figure is absolved because a worse brake has no such state.
    """
    result = judge(value, band, spread)
    return "close" if result == "fail" and -band.margin(value) <= back + ROUNDING else result


def shown_spread(spread: float, margin: float, back: float) -> float:
    """Return a spread that can be drawn: one without bound is told as just more than what is left.

    Of a figure that is outside by more than ``back``, what is open towards the better side is told.
    """
    if isfinite(spread):
        return spread
    return back if -margin > back + ROUNDING else 1.01 * abs(margin) + ROUNDING
