"""Long-shoe theory: from the roller's push to pressure on the lining and drag on the drum.

The lining's pressure grows with the sine of the angle at the anchor, p = p_a sin(theta) / sin(theta_a): a rigid shoe
turning about a fixed anchor wears that way. Angles are taken at the drum's centre from the line to the anchor.
Reference: Shigley's Mechanical Engineering Design, chapter 16, internal expanding rim brakes (formulas from memory).
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats


@dataclass(frozen=True)
class LongShoe:
    """A shoe as the theory sees it: drum ``radius``, drum centre to ``anchor`` (mm), arc ``start`` to ``end`` (rad)."""

    radius: Array
    anchor: Array
    start: Array
    end: Array

    @cached_property
    def _sines(self) -> tuple[Array, Array]:
        return np.sin(self.start), np.sin(self.end)

    @cached_property
    def _cosines(self) -> tuple[Array, Array]:
        return np.cos(self.start), np.cos(self.end)

    @property
    def normal(self) -> Array:
        """Moment of the pressure about the anchor over p_a b r / sin(theta_a), mm."""
        (sine, last_sine), (cosine, last_cosine) = self._sines, self._cosines
        return self.anchor * 0.5 * (self.end - self.start - (last_sine * last_cosine - sine * cosine))

    @property
    def rubbing(self) -> Array:
        """Moment of the friction about the anchor over f p_a b r / sin(theta_a), mm."""
        sine, last_sine = self._sines
        return self.radius * self.drag - 0.5 * self.anchor * (last_sine**2 - sine**2)

    @cached_property
    def drag(self) -> Array:
        """Friction torque on the drum over f p_a b r**2 / sin(theta_a)."""
        cosine, last_cosine = self._cosines
        return cosine - last_cosine

    @property
    def peak_sine(self) -> Array:
        """sin(theta_a): the greatest sine on the arc, where the pressure is p_a."""
        ends = np.maximum(*self._sines)
        return np.where((self.start <= np.pi / 2) & (self.end >= np.pi / 2), 1.0, ends)


def long_shoe(radius: ArrayLike, anchor: ArrayLike, start: ArrayLike, end: ArrayLike) -> LongShoe:
    """Make a `LongShoe` from numbers or arrays (mm, rad)."""
    return LongShoe(floats(radius), floats(anchor), floats(start), floats(end))


def shoe_factor(shoe: LongShoe, friction: ArrayLike, lever: ArrayLike, leading: bool) -> Array:
    """Return drag at the drum's radius over the actuating force, whose lever about the anchor is ``lever`` mm.

    A leading shoe is helped by its own friction, a trailing one hindered. NaN where a leading shoe's friction alone
    would hold it on the drum: it locks.
    """
    f = floats(friction)
    moment = shoe.normal - f * shoe.rubbing if leading else shoe.normal + f * shoe.rubbing
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(moment > 0, f * shoe.radius * shoe.drag * floats(lever) / (shoe.radius * moment), np.nan)


def peak_pressure(shoe: LongShoe, friction: ArrayLike, width: ArrayLike, drag_force: ArrayLike) -> Array:
    """Return p_a (MPa) for a drag force (N, at the drum's radius) on a lining ``width`` mm wide."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return floats(drag_force) * shoe.peak_sine / (floats(friction) * floats(width) * shoe.radius * shoe.drag)


def drag_at_pressure(shoe: LongShoe, friction: ArrayLike, width: ArrayLike, pressure: ArrayLike) -> Array:
    """Return the drag force (N, at the drum's radius) where the peak pressure is ``pressure`` MPa."""
    return floats(friction) * floats(pressure) * floats(width) * shoe.radius * shoe.drag / shoe.peak_sine
