"""The life that is looked at: one brake, how it was adjusted when new, how it is pressed, and how hot it gets."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Contact, contact
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.guards import Guard
from geometry.lining import Surface
from geometry.linkage import arm_turn


@dataclass(frozen=True)
class Service:
    """A brake in service.

    Parameters
    ----------
    brake : Brake
        The brake; its adjuster says how its setting follows wear.
    free_stroke : float
        To which it is adjusted: stroke to first touch, cold, mm.
    pressure : float
        Chamber pressure of an application, MPa.
    hot : float
        Drum temperature of a hot application, K.
    drum_diameter : float
        Inner diameter, mm at 70 degF, the same all through.

    """

    brake: Brake
    free_stroke: float
    pressure: float
    hot: float
    drum_diameter: float

    def __post_init__(self) -> None:
        guard = Guard("life").positive("length", free_stroke=self.free_stroke, drum_diameter=self.drum_diameter)
        guard.positive("pressure", pressure=self.pressure).positive("temperature", hot=self.hot).done()

    def thickness(self, wear: ArrayLike) -> Array:
        """Return the lining's thickness at mid arc (mm) at each wear (mm)."""
        return self.brake.lining.thickness - floats(wear)

    def contact(
        self, wear: ArrayLike, temperature: float = REFERENCE_TEMPERATURE, surface: Surface | None = None
    ) -> Contact:
        """Return where the linings meet the drum at each wear (mm), at a drum temperature (K).

        ``surface`` is the linings' at these wears, where it is known from another temperature.
        """
        thickness = self.thickness(wear)
        diameter, kelvin = floats(self.drum_diameter), floats(temperature)
        with np.errstate(invalid="ignore"):
            return contact(self.brake, thickness, diameter, kelvin, surface=surface)

    @property
    def free_turn(self) -> float:
        """The arm's turn from released to first touch as adjusted, rad."""
        return float(arm_turn(self.brake.linkage, self.free_stroke))


def service(
    brake: Brake, free_stroke: float, pressure: float, hot: float, drum_diameter: float | None = None
) -> Service:
    """Return a brake's service; the drum is a new one unless told otherwise. Raises `PartError`."""
    return Service(brake, free_stroke, pressure, hot, brake.drum.diameter if drum_diameter is None else drum_diameter)
