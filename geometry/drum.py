"""The drum: a circle that wears larger and grows when it is hot."""

from dataclasses import dataclass

from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.guards import Guard

REFERENCE_TEMPERATURE = (70.0 + 459.67) * 5 / 9
"""70 degF in K: the temperature at which drum diameters are stated."""

GRAY_IRON_EXPANSION = 6.5e-6 * 9 / 5
"""Mean expansion of gray iron to 600 degF, 1/K (6.5e-6 per degF; materials tables, from memory)."""

MOST_GROWTH = 25.4 / 4
"""The largest limit over the new diameter that is read, mm (the project's figure): published ones are 0.12 to 0.15 in,
and a limit mistyped by an inch would let any drum pass."""


@dataclass(frozen=True)
class Drum:
    """A brake drum as new: inner ``diameter`` in mm at 70 degF, ``expansion`` in 1/K, wear ``limit`` cast on it, mm."""

    diameter: float
    expansion: float = GRAY_IRON_EXPANSION
    limit: float | None = None

    def __post_init__(self) -> None:
        guard = Guard("foundation").positive("length", drum_diameter=self.diameter)
        guard.not_negative("number", drum_expansion=self.expansion)
        if self.limit is not None:
            guard.less("length", ("drum_diameter", self.diameter), ("drum_limit", self.limit))
            guard.not_more("length", self.diameter + MOST_GROWTH, drum_limit=self.limit)
        guard.done()


def drum_radius(drum: Drum, diameter: ArrayLike, temperature: ArrayLike) -> Array:
    """Return the radius (mm) at a temperature (K) of a drum that measures ``diameter`` (mm) at 70 degF."""
    grown = 1.0 + drum.expansion * (floats(temperature) - REFERENCE_TEMPERATURE)
    return 0.5 * floats(diameter) * grown
