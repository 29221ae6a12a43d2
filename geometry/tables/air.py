"""The air system: how fast a chamber must fill and empty, and at which pressures something is set off."""

from dataclasses import dataclass
from fractions import Fraction
from math import log

from geometry.tables.pressures import MPA_PER_PSI
from geometry.tables.reader import known, rows

REACHED, EMPTIED = Fraction(60, 100), Fraction(5, 95)
"""What the two times are measured to: 60 of 100 psi on the way up, 5 of 95 psi on the way down."""


@dataclass(frozen=True)
class AirTimes:
    """The longest times (s) in which a vehicle's chamber may fill to 60 of 100 psi and empty from 95 to 5 psi."""

    vehicle: str
    apply: float
    release: float
    status: str
    source: str

    @property
    def filling(self) -> float:
        """Time constant (s) of a first-order fill that takes just that long.

        >>> round(air_times("truck").filling, 4)
        0.4911
        """
        return -self.apply / log(1 - REACHED)

    @property
    def emptying(self) -> float:
        """Time constant (s) of a first-order emptying that takes just that long.

        >>> round(air_times("truck").emptying, 4)
        0.1868
        """
        return -self.release / log(EMPTIED)


def air_times(vehicle: str) -> AirTimes:
    """Return the times of a kind of vehicle. Raises `PartError` for an unknown one."""
    listed = rows("air_times")
    name = known("parking.vehicle", vehicle, [row["vehicle"] for row in listed])
    row = next(row for row in listed if row["vehicle"] == name)
    return AirTimes(name, float(row["apply_s"]), float(row["release_s"]), row["status"], row["source"])


@dataclass(frozen=True)
class AirMark:
    """A band of pressures (MPa) in which something is set off; ``low`` is ``high`` for a single pressure."""

    name: str
    low: float
    high: float
    status: str
    source: str


def air_mark(name: str) -> AirMark:
    """Return the band ``low-pressure-warning`` or ``tractor-protection``. Raises `PartError` for another name."""
    listed = rows("air_pressures")
    row = next(row for row in listed if row["mark"] == known("mark", name, [row["mark"] for row in listed]))
    low, high = (float(Fraction(row[end]) * MPA_PER_PSI) for end in ("low_psi", "high_psi"))
    return AirMark(name, low, high, row["status"], row["source"])
