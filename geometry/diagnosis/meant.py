"""The brake that a file means, before anything is wrong with it, and how well its figures are known.

What was measured on the vehicle is evidence, so the brake meant is built from what should be fitted: the lengths
under [linkage] where the file states them, the base's where it does not, which are then only a guess.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import hypot

from geometry.brake import Brake
from geometry.diagnosis.priors import CHAMBER_UNKNOWN, INCH
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.setup import Setup
from geometry.setup.read import builtin_values

LENGTHS: Mapping[str, tuple[float, float]] = {
    "arm_length": (INCH / 32, INCH / 4),
    "pin_reach": (INCH / 16, INCH / 4),
    "face_distance": (INCH / 16, INCH / 4),
    "axis_offset": (INCH / 16, INCH / 8),
}
"""How far each length may be off, 1 sd in mm, where the file states it and where it is only the base's."""

PRESSURE = (0.03, 0.10)
"""The same for the pressure, as a share: a gauge at the reservoir, and no pressure stated."""

HEAT, GUESSED_HEAT, SHARE_OF_HEAT = 8.0, 15.0, 0.08
"""K: a temperature stated, one that is not (the drum is taken for cold), and what is added for each K above cold."""


@dataclass(frozen=True)
class Meant:
    """The sound brake, how it is tested, and by how much its figures may be off.

    Parameters
    ----------
    brake : Brake
        With the lengths that should be fitted.
    pressure : float
        Of the test, MPa.
    hot, slack_hot : float
        Drum temperature when stroke and when slack were read, K.
    lengths : tuple of float
        1 sd of each of `LENGTHS`, in their order, mm.
    pressure_off : float
        1 sd as a share.
    hot_off, slack_hot_off : float
        1 sd, K.
    chamber_off : float
        1 sd of the chamber's area, as a share: 0 where the file itself says which chamber it is.

    """

    brake: Brake
    pressure: float
    hot: float
    slack_hot: float
    lengths: tuple[float, ...]
    pressure_off: float
    hot_off: float
    slack_hot_off: float
    chamber_off: float

    @property
    def same_heat(self) -> bool:
        """Whether stroke and slack were read at one temperature."""
        return self.hot == self.slack_hot


def meant_by(setup: Setup) -> Meant:
    """Return the brake that a setup means."""
    chamber = {"chamber.style", "chamber.size"} <= setup.stated
    heat_known = "condition.drum_temperature" in setup.stated
    slack_known = heat_known or "condition.slack_temperature" in setup.stated
    slack_hot = slack_temperature(setup)
    return Meant(
        brake=replace(setup.brake, linkage=replace(setup.brake.linkage, **_meant_lengths(setup))),
        pressure=setup.test.pressure,
        hot=setup.as_found.drum_temperature,
        slack_hot=slack_hot,
        lengths=tuple(off[f"linkage.{name}" not in setup.stated] for name, off in LENGTHS.items()),
        pressure_off=_pressure_off(setup),
        hot_off=_heat_off(setup.as_found.drum_temperature, heat_known),
        slack_hot_off=_heat_off(slack_hot, slack_known),
        chamber_off=0.0 if chamber else CHAMBER_UNKNOWN,
    )


def slack_temperature(setup: Setup) -> float:
    """Return the drum temperature, K, at which slack was read; not read yet, the one at which it would count as read.

    Slack that a file takes over from its base was found at the base's temperature: it is no reading.
    """
    found, keys = setup.as_found, ("free_stroke", "lining_clearance", "slack_temperature")
    own = not setup.stated.isdisjoint(f"condition.{key}" for key in keys)
    return found.slack_temperature if own else found.drum_temperature


def guessed(setup: Setup) -> tuple[str, ...]:
    """Return the keys that the diagnosis rests on and that the file does not state."""
    chamber = [key for key in ("chamber.style", "chamber.size") if key not in setup.stated]
    pressure = setup.stated.isdisjoint({"test.pressure", "test.reservoir_pressure"})
    lengths = [f"linkage.{name}" for name in LENGTHS if f"linkage.{name}" not in setup.stated]
    heat = [key for key in ("condition.drum_temperature",) if key not in setup.stated]
    return (*chamber, *(["test.reservoir_pressure"] if pressure else []), *lengths, *heat)


def _meant_lengths(setup: Setup) -> dict[str, float]:
    """Arm and pushrod as they should be: as stated, else as in the base, else as measured."""
    base = {} if setup.base is None else builtin_values(setup.base)[0]
    keys = [f"linkage.{name}" for name in ("arm_length", "pin_reach")]
    return {key.partition(".")[2]: value for key in keys if (value := setup.nominal.get(key, base.get(key)))}


def _pressure_off(setup: Setup) -> float:
    return PRESSURE[setup.stated.isdisjoint({"test.pressure", "test.reservoir_pressure"})]


def _heat_off(temperature: float, known: bool) -> float:
    return hypot(HEAT if known else GUESSED_HEAT, SHARE_OF_HEAT * (temperature - REFERENCE_TEMPERATURE))
