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
    lengths : mapping
        1 sd of each of `LENGTHS`, mm.
    pressure_off : float
        1 sd as a share; the chamber's area is in it.
    hot_off, slack_hot_off : float
        1 sd, K.
    chamber_known : bool
        Whether the file itself says which chamber it is.

    """

    brake: Brake
    pressure: float
    hot: float
    slack_hot: float
    lengths: Mapping[str, float]
    pressure_off: float
    hot_off: float
    slack_hot_off: float
    chamber_known: bool

    @property
    def same_heat(self) -> bool:
        """Whether stroke and slack were read at one temperature."""
        return self.hot == self.slack_hot


def meant_by(setup: Setup) -> Meant:
    """Return the brake that a setup means."""
    chamber = {"chamber.style", "chamber.size"} <= setup.stated
    heat_known = "condition.drum_temperature" in setup.stated
    slack_known = heat_known or "condition.slack_temperature" in setup.stated
    return Meant(
        brake=replace(setup.brake, linkage=replace(setup.brake.linkage, **_meant_lengths(setup))),
        pressure=setup.test.pressure,
        hot=setup.as_found.drum_temperature,
        slack_hot=setup.as_found.slack_temperature,
        lengths={name: off[f"linkage.{name}" not in setup.stated] for name, off in LENGTHS.items()},
        pressure_off=_pressure_off(setup, chamber),
        hot_off=_heat_off(setup.as_found.drum_temperature, heat_known),
        slack_hot_off=_heat_off(setup.as_found.slack_temperature, slack_known),
        chamber_known=chamber,
    )


def guessed(setup: Setup) -> tuple[str, ...]:
    """Return the keys that the diagnosis rests on and that the file does not state."""
    lengths = [f"linkage.{name}" for name in LENGTHS if f"linkage.{name}" not in setup.stated]
    rest = [("chamber.style", "chamber.size"), ("test.pressure", "test.reservoir_pressure")]
    missing = [one[-1] for one in rest[:1] if not set(one) <= setup.stated]
    missing += [one[-1] for one in rest[1:] if setup.stated.isdisjoint(one)]
    cold = [] if "condition.drum_temperature" in setup.stated else ["condition.drum_temperature"]
    return (*missing, *lengths, *cold)


def _meant_lengths(setup: Setup) -> dict[str, float]:
    """Arm and pushrod as they should be: as stated, else as in the base, else as measured."""
    base = {} if setup.base is None else builtin_values(setup.base)[0]
    keys = [f"linkage.{name}" for name in ("arm_length", "pin_reach")]
    return {key.partition(".")[2]: value for key in keys if (value := setup.nominal.get(key, base.get(key)))}


def _pressure_off(setup: Setup, chamber: bool) -> float:
    known = not setup.stated.isdisjoint({"test.pressure", "test.reservoir_pressure"})
    return hypot(PRESSURE[not known], 0.0 if chamber else CHAMBER_UNKNOWN)


def _heat_off(temperature: float, known: bool) -> float:
    return hypot(HEAT if known else GUESSED_HEAT, SHARE_OF_HEAT * (temperature - REFERENCE_TEMPERATURE))
