"""The drum as a store of heat: how much it takes up, and how fast it gives it to the air.

Units inside are mm, N, s and K; heat is N*mm, and a mass the tonne, so that kJ/(kg K) is 1e9 N*mm/(t*K).
"""

from dataclasses import dataclass, replace

from geometry.brake import Brake
from geometry.guards import Guard

SPECIFIC_HEAT = 490.0 * 1e6
"""N*mm/(t*K) of gray iron: 490 J/(kg K), 0.12 Btu/(lb degF) (a materials table, seen in an
excerpt); it grows with temperature."""

DRUM_MASS = 110.0 * 0.45359237e-3
"""t, of a 16.5 x 7 in drum: the project's own figure, of the order of what such drums weigh."""
DRUM_SIZE = 16.5 * 25.4 * 7.0 * 25.4
"""mm2: diameter times lining width of the drum that `DRUM_MASS` and the cooling figures are for."""

_WATT_PER_HP_F = 745.6998715822702 * 9 / 5
COOLING = 0.0100 * _WATT_PER_HP_F * 1e3
"""N*mm/(s*K) at a standstill, of one brake: 13.4 W/K.

From a published rating of downgrades for trucks (1982; formula from memory): ten brakes of a five-axle combination give
off 0.100 + 0.00208 v horsepower for each degree Fahrenheit, v in mph."""
COOLING_BY_SPEED = 0.000208 * _WATT_PER_HP_F * 1e3 / (1609344 / 3600)
"""N*mm/(s*K) for each mm/s of road speed, from the same formula."""

INTO_DRUM = 0.95
"""Share of the heat that the drum takes up, the linings taking the rest: the order given in textbooks, from memory."""

AMBIENT = (90.0 + 459.67) * 5 / 9
"""K: the 90 degF of the same rating (from memory)."""

MELTING = (2100.0 + 459.67) * 5 / 9
"""K: about where gray iron begins to melt (from memory). No drum is ever that hot: what was driven, or with what,
cannot be."""

MASS = {"steering": 6000.0 * 0.45359237e-3, "non-steering": 8500.0 * 0.45359237e-3}
"""t of the vehicle on one brake: half of 12 000 lb on a steering and of 17 000 lb on another axle, the usual legal
loads of an 80 000 lb combination (from memory)."""


@dataclass(frozen=True)
class Sink:
    """A drum and the air round it.

    Parameters
    ----------
    mass : float
        Of the drum's iron, t.
    cooling, cooling_by_speed : float
        Heat given off at a standstill, N*mm/(s*K), and what each mm/s of road speed adds.
    ambient : float
        Temperature of the air, K.
    specific_heat : float
        N*mm/(t*K).
    into_drum : float
        Share of the braking's heat that the drum takes up.

    """

    mass: float = DRUM_MASS
    cooling: float = COOLING
    cooling_by_speed: float = COOLING_BY_SPEED
    ambient: float = AMBIENT
    specific_heat: float = SPECIFIC_HEAT
    into_drum: float = INTO_DRUM

    def __post_init__(self) -> None:
        guard = Guard("heat").positive("mass", drum_mass=self.mass).positive("temperature", ambient=self.ambient)
        guard.positive("number", cooling=self.cooling, specific_heat=self.specific_heat, into_drum=self.into_drum)
        guard.not_negative("number", cooling_by_speed=self.cooling_by_speed)
        guard.not_more("number", 1.0, into_drum=self.into_drum).done()

    @property
    def capacity(self) -> float:
        """Heat that warms the drum by one kelvin, N*mm/K."""
        return self.mass * self.specific_heat

    def conductance(self, speed: float) -> float:
        """Return the heat given off for each kelvin above the air, N*mm/(s*K), at a road speed (mm/s)."""
        return self.cooling + self.cooling_by_speed * speed


def sink(brake: Brake, mass: float | None = None, ambient: float | None = None) -> Sink:
    """Return a brake's drum as a store of heat; mass (t) and air (K) are the project's figures unless given.

    Iron and cooling surface are those of a 16.5 x 7 in drum in proportion to diameter times lining width.
    """
    share = brake.drum.diameter * brake.lining.width / DRUM_SIZE
    usual = Sink(DRUM_MASS * share, COOLING * share, COOLING_BY_SPEED * share)
    weighs, air = usual.mass if mass is None else mass, usual.ambient if ambient is None else ambient
    return replace(usual, mass=weighs, ambient=air)


def brake_mass(brake: Brake) -> float:
    """Return what of the vehicle one brake has to hold, t, as the project takes it for a loaded vehicle."""
    return MASS[brake.axle]
