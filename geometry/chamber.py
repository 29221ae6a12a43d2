"""The chamber: air pressure in, pushrod force out, until the diaphragm runs out of stroke."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.errors import Fault, PartError
from geometry.guards import Guard

FULL_FORCE_TO = 0.5
FALL_POWER = 4.8


@dataclass(frozen=True)
class ThrustTable:
    """A measured thrust: the share of pressure times area that reaches the pushrod, at each share of rated stroke.

    ``strokes`` rise from 0 to 1 (share of the rated stroke), ``shares`` are 0 or more and end at 0. Straight lines
    join the points.
    """

    strokes: tuple[float, ...]
    shares: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.strokes) != len(self.shares) or len(self.strokes) < 2:
            raise PartError(_table_fault("needs one force for each stroke and at least two rows"))
        if self.strokes[0] != 0.0 or self.strokes[-1] != 1.0 or not all(np.diff(self.strokes) > 0):
            raise PartError(_table_fault("must rise from a stroke of 0 to the rated stroke"))
        if not all(np.isfinite(self.shares)) or min(self.shares) < 0 or self.shares[-1] != 0.0:
            raise PartError(_table_fault("must have forces of zero or more, and none left at the rated stroke"))


def _table_fault(problem: str) -> Fault:
    return Fault("chamber.thrust", problem, "write stroke and force as two lists of equal length", kind="number")


@dataclass(frozen=True)
class Chamber:
    """A service chamber.

    Parameters
    ----------
    style, size : str
        As in the published stroke tables, for example ``clamp`` and ``30``.
    rated_stroke : float
        Full stroke of the diaphragm, mm.
    effective_area : float
        Pressure times this is the nominal force, mm2.
    return_spring_preload, return_spring_rate : float
        Spring that holds the pushrod back, N and N/mm.
    thrust : ThrustTable, optional
        A measured thrust; None is the closed form of `thrust_share`.

    """

    style: str
    size: str
    rated_stroke: float
    effective_area: float
    return_spring_preload: float
    return_spring_rate: float
    thrust: ThrustTable | None = None

    def __post_init__(self) -> None:
        guard = Guard("chamber").positive("length", rated_stroke=self.rated_stroke)
        guard.positive("area", effective_area=self.effective_area)
        guard.not_negative("force", return_spring_preload=self.return_spring_preload)
        guard.not_negative("rate", return_spring_rate=self.return_spring_rate).done()


def thrust_share(chamber: Chamber, stroke: ArrayLike) -> tuple[Array, Array]:
    """Return the share g of the nominal force left at a stroke, and its slope dg/ds in 1/mm.

    g = 1 up to half the rated stroke, then sqrt(1 - u**4.8) with u running from 0 there to 1 at the rated stroke,
    where g = 0 with nothing beyond. The form is the project's own: flat, then elliptical, as a diaphragm that rolls
    over and stretches. It follows what the trade reports of a type 30 chamber, rated 2 1/2 in: force still whole at
    1 3/4 in, lost beyond 2 in, none left when bottomed; and lies within 5 % of nominal of rough figures quoted from
    memory (1.5 in 2 950, 2.0 in 2 750, 2.25 in 2 300 lbf of 3 000). A measured `ThrustTable` replaces it.
    """
    x = floats(stroke) / chamber.rated_stroke
    if chamber.thrust is not None:
        return _tabled_share(chamber.thrust, x, chamber.rated_stroke)
    u = np.minimum(np.maximum((x - FULL_FORCE_TO) / (1 - FULL_FORCE_TO), 0.0), 1.0)
    power = u ** (FALL_POWER - 1)
    share = np.sqrt(1.0 - power * u)
    with np.errstate(divide="ignore"):
        slope = -FALL_POWER * power / (2 * share * (1 - FULL_FORCE_TO) * chamber.rated_stroke)
    return share, np.where(x < 1, slope, 0.0)


def _tabled_share(table: ThrustTable, x: Array, rated_stroke: float) -> tuple[Array, Array]:
    strokes, shares = np.array(table.strokes), np.array(table.shares)
    row = np.clip(np.searchsorted(strokes, x, side="right") - 1, 0, len(strokes) - 2)
    slope = (np.diff(shares) / np.diff(strokes))[row] / rated_stroke
    return np.interp(x, strokes, shares), np.where((x >= 0) & (x < 1), slope, 0.0)


def diaphragm_area(diaphragm_diameter: float, plate_diameter: float) -> float:
    """Return the effective area (mm2) of a diaphragm held at one diameter that carries a plate of another (mm).

    A/1 = pi/12 (D**2 + D d + d**2): the frustum between clamped rim and plate, per unit of stroke (formula from
    memory). It stands in for a chamber that no table lists.

    >>> round(diaphragm_area(8.0, 6.0), 4)
    38.7463
    """
    return np.pi / 12 * (diaphragm_diameter**2 + diaphragm_diameter * plate_diameter + plate_diameter**2)


def chamber_force(chamber: Chamber, stroke: ArrayLike, pressure: ArrayLike) -> Array:
    """Return the pushrod force in N: pressure (MPa) x area x share at the stroke (mm), less the return spring."""
    return force_and_slope(chamber, stroke, pressure)[0]


def share_lost(chamber: Chamber, pressure: float, force: float) -> float:
    """Return the share of pressure (MPa) times area that does not reach the rod as ``force`` (N); 0 without pressure.

    The diaphragm, which holds itself the more the nearer its end, and the return spring keep it.
    """
    pushed = pressure * chamber.effective_area
    return max(0.0, 1 - force / pushed) if pushed else 0.0


def force_and_slope(chamber: Chamber, stroke: ArrayLike, pressure: ArrayLike) -> tuple[Array, Array]:
    """Return `chamber_force` in N, and d(force)/d(stroke) in N/mm, at a stroke (mm) and pressure (MPa)."""
    share, slope = thrust_share(chamber, stroke)
    nominal = floats(pressure) * chamber.effective_area
    return nominal * share - spring_force(chamber, stroke), nominal * slope - chamber.return_spring_rate


def spring_force(chamber: Chamber, stroke: ArrayLike) -> Array:
    """Return the force of the chamber's return spring in N at a stroke in mm."""
    return chamber.return_spring_preload + chamber.return_spring_rate * floats(stroke)


def pressure_for_force(chamber: Chamber, stroke: ArrayLike, force: ArrayLike) -> Array:
    """Return the pressure in MPa that gives a pushrod force (N) at a stroke (mm); inf where no force is left."""
    share, _ = thrust_share(chamber, stroke)
    with np.errstate(divide="ignore"):
        return (floats(force) + spring_force(chamber, stroke)) / (chamber.effective_area * share)
