"""What can be read on a brake from outside, what a file says was read, and how far off an honest reading may be."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot, sqrt

from geometry.quantity import KindName
from geometry.setup import Setup

HANDLING = 0.4
"""Standard deviation of a reading before it is rounded, in steps of its resolution (the project's own figure)."""

OFF = hypot(HANDLING, 1 / sqrt(12))
"""The same after rounding to the step, whose error is even over a step: half a step, nearly."""

RING = 3.0
"""Standard deviation, mm, with which a clamp ring is measured, its bolt ears in the way (the project's own figure)."""


@dataclass(frozen=True)
class Reading:
    """One thing to read.

    Parameters
    ----------
    name : str
        As predictions are kept under.
    key : str
        Where a setup file states it.
    title : str
        In a mechanic's words.
    kind : str
        Of quantity; a plain number is 1 for yes and 0 for no.
    how : str
        How it is taken.

    """

    name: str
    key: str
    title: str
    kind: KindName
    how: str


READINGS: tuple[Reading, ...] = (
    Reading(
        "stroke",
        "measured.stroke",
        "applied stroke",
        "length",
        "Engine off, reservoirs at 90 to 100 psi, spring brakes released: mark the pushrod at the chamber's face, hold "
        "the brake fully on, and measure how far the mark has moved.",
    ),
    Reading(
        "free_stroke",
        "condition.free_stroke",
        "free stroke",
        "length",
        "Brake released: pull the arm by hand until the linings touch, and measure how far the pushrod moves.",
    ),
    Reading(
        "lining_clearance",
        "condition.lining_clearance",
        "lining clearance",
        "length",
        "Brake released: feeler gauge between lining and drum at mid arc, both shoes; the smaller one counts.",
    ),
    Reading(
        "arm_angle_released",
        "measured.arm_angle_released",
        "arm angle released",
        "angle",
        "Brake released: angle gauge at the clevis pin, between arm and pushrod.",
    ),
    Reading(
        "arm_angle_applied",
        "measured.arm_angle_applied",
        "arm angle applied",
        "angle",
        "Brake held fully on: angle gauge at the clevis pin, between arm and pushrod.",
    ),
    Reading(
        "arm_length",
        "measured.arm_length",
        "arm length",
        "length",
        "From the camshaft's centre to the clevis pin's, along the arm.",
    ),
    Reading(
        "pin_reach",
        "measured.pin_reach",
        "pin reach",
        "length",
        "Brake released: from the chamber's mounting face to the clevis pin's centre, along the pushrod.",
    ),
    Reading(
        "clamp_diameter",
        "measured.clamp_diameter",
        "clamp ring diameter",
        "length",
        "Outside diameter of the chamber's clamp ring, away from its ears.",
    ),
    Reading(
        "lining_thickness",
        "condition.lining_thickness",
        "lining thickness",
        "length",
        "Through the inspection hole, at the shoe's middle.",
    ),
    Reading(
        "drum_diameter",
        "condition.drum_diameter",
        "drum diameter",
        "length",
        "Drum off and cold: inside, in two directions at right angles.",
    ),
    Reading(
        "long_stroke_marks",
        "measured.long_stroke_marks",
        "long-stroke marks",
        "number",
        "Look for square ports, an embossed cap or a trapezoid tag on the chamber.",
    ),
)
"""In the order in which the hands come to them."""

BLOCK = tuple(one.name for one in READINGS[:8])
"""Those that hang together through stroke and angles; lining, drum and marks are each on their own."""


OTHER_SLACK: Mapping[str, str] = {"free_stroke": "lining_clearance", "lining_clearance": "free_stroke"}
"""A file states one of the two, as either sets the slack: the other is read and given beside it."""


@dataclass(frozen=True)
class Readings:
    """What was read: values by reading (mm, rad; 1 or 0), and by how much each may be off (1 sd), read or not."""

    values: Mapping[str, float]
    off: Mapping[str, float]

    def without(self, *names: str) -> "Readings":
        """Return the readings without some of them."""
        return Readings({k: v for k, v in self.values.items() if k not in names}, self.off)

    def only(self, *names: str) -> "Readings":
        """Return some of the readings."""
        return Readings({k: v for k, v in self.values.items() if k in names}, self.off)

    def beside(self, values: Mapping[str, float]) -> "Readings":
        """Return these readings and more, which must not have been taken yet."""
        return Readings({**self.values, **values}, self.off)


def readings_of(setup: Setup) -> Readings:
    """Return what the file itself says was read; nothing that stands in its base is a reading."""
    found = {one.name: _value(setup, one) for one in READINGS if one.key in setup.stated}
    return Readings({name: value for name, value in found.items() if value is not None}, offs(setup))


def _value(setup: Setup, one: Reading) -> float | None:
    section, _, name = one.key.partition(".")
    value = getattr(setup.measured if section == "measured" else setup.as_found, name)
    return None if value is None else float(value)


def offs(setup: Setup) -> Mapping[str, float]:
    """Return by how much each reading may be off, 1 sd in mm or rad: `OFF` times how finely it is read."""
    measured, found = setup.measured, setup.as_found
    tape, angle = OFF * measured.resolution, OFF * measured.angle_resolution
    own = {
        "lining_clearance": OFF * FEELER,
        "clamp_diameter": hypot(tape, RING),
        "lining_thickness": OFF * found.lining_resolution,
        "drum_diameter": OFF * found.drum_resolution,
        "long_stroke_marks": 0.0,
    }
    return {one.name: own.get(one.name, angle if one.kind == "angle" else tape) for one in READINGS}


FEELER = 0.0508
"""How finely a feeler gauge reads, mm: its leaves go by 0.002 in."""
